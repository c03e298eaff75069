//! How an exercise, a step and a parted line are written canonically.

use super::Parted;
use crate::dose::{Dose, Sided};
use crate::notice::Notice;
use crate::prescription::Said;
use crate::text::Place;

/// The canonical writing of a line: `name, side region, details: dose`.
pub(super) fn line(
    name: Option<&Said>,
    side: Option<Sided>,
    region: Option<&Said>,
    details: &[&Said],
    dose: &Dose,
) -> String {
    let mut head = name.map_or(String::new(), |n| n.text.clone());
    if let Some(side) = side {
        if !head.is_empty() {
            head.push_str(", ");
        }
        head.push_str(&side.to_string());
        if let Some(region) = region {
            head.push(' ');
            head.push_str(&region.text);
        }
    }
    for detail in details {
        head.push_str(", ");
        head.push_str(&detail.text);
    }
    let dose = dose.to_string();
    match (head.is_empty(), dose.is_empty()) {
        (true, _) => dose,
        (false, true) => head,
        (false, false) if name.is_none() => format!("{head}, {dose}"),
        (false, false) => format!("{head}: {dose}"),
    }
}

impl crate::prescription::Exercise {
    /// Its line in canonical writing, with the own words that stand on it.
    pub fn written(&self) -> String {
        let details: Vec<&Said> = self.beside().collect();
        line(Some(&self.name), self.side, self.region.as_ref(), &details, &self.dose)
    }

    /// Its line without own words.
    pub fn without_details(&self) -> String {
        line(Some(&self.name), self.side, self.region.as_ref(), &[], &self.dose)
    }

    /// Own words on the exercise's line.
    pub fn beside(&self) -> impl Iterator<Item = &Said> {
        let cues = self.details.iter().filter(|d| d.about == crate::prescription::About::Cue);
        cues.map(|d| &d.said).filter(|said| said.place.line == self.line)
    }

    /// What changes it later or stops it and stands on its line, each as its canonical line below.
    pub fn behind(&self) -> impl Iterator<Item = String> {
        let stops = self
            .details
            .iter()
            .filter(|d| d.about == crate::prescription::About::StopIf && d.said.place.line == self.line);
        let stops = stops.map(|d| format!("{}: {}", d.about.word(), d.said.text));
        let steps = self.steps.iter().filter(|step| step.place.line == self.line);
        steps.map(crate::prescription::Step::written).chain(stops)
    }
}

impl crate::prescription::Step {
    /// Its line in canonical writing: `from week 3: 3 x 12`.
    pub fn written(&self) -> String {
        format!("{}: {}", self.when, line(self.name.as_ref(), self.side, None, &[], &self.dose))
    }
}

impl Parted {
    /// A dose without a name.
    pub(super) fn nameless(
        side: Option<Sided>,
        dose: Dose,
        dose_place: Place,
        notices: Vec<Notice>,
    ) -> Parted {
        let (name, region, affected) = (None, None, None);
        let (details, later) = (Vec::new(), Vec::new());
        Parted { name, side, region, affected, details, dose, dose_place, later, notices }
    }

    /// The canonical writing: `name, side region, details: dose`.
    pub fn written(&self) -> String {
        let details: Vec<&Said> = self.affected.iter().chain(&self.details).collect();
        line(self.name.as_ref(), self.side, self.region.as_ref(), &details, &self.dose)
    }

    /// Whether two readings mean the same, wherever they stand.
    pub fn means(&self, other: &Parted) -> bool {
        let text = |s: &Option<Said>| s.as_ref().map(|s| s.text.clone());
        text(&self.name) == text(&other.name)
            && self.side == other.side
            && text(&self.region) == text(&other.region)
            && text(&self.affected) == text(&other.affected)
            && self.details.iter().map(|d| &d.text).eq(other.details.iter().map(|d| &d.text))
            && self.dose == other.dose
    }
}
