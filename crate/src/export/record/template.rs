//! The items of the Consensus on Exercise Reporting Template (Slade et al. 2016, Br J Sports Med 50:1428; numbers and
//! meaning from memory, paraphrased): each is stated from what was typed, or said not to be.

use super::Of;
use super::typed::{Part, Sorted, Typed};
use crate::catalog::terms::Purpose;
use crate::dose::{Dose, Kind};
use crate::prescription::noted::tells_how_it_went;
use crate::prescription::words::Key;
use crate::prescription::{About, When};
use crate::programme::Known;
use crate::text::fold::folded;

/// Words on the setting, who is there, and how many do it together; looked for where the programme is described.
const TOGETHER: [&str; 7] = [
    "in a group",
    "group class",
    "group session",
    "exercise class",
    "one to one",
    "individually",
    "with a partner",
];
const WATCHED: [&str; 7] =
    ["supervised", "unsupervised", "supervision", "by video", "video call", "by telephone", "in the clinic"];
const PLACES: [&str; 9] = [
    "at home",
    "in the gym",
    "at the gym",
    "in the pool",
    "at work",
    "outdoors",
    "in the garden",
    "in the clinic",
    "on the ward",
];

/// Each item as a line.
pub fn lines(of: &Of<'_>, typed: &Typed<'_>, sorted: &Sorted) -> Vec<String> {
    let items = Items { of, typed, sorted };
    let all = [
        ("1 Equipment", items.equipment()),
        ("2 Who provides it", items.keyed(Part::Who, Key::By)),
        ("3 Individual or group", items.individual()),
        ("4 Supervision and delivery", items.delivery()),
        ("5 How adherence is measured", items.keyed(Part::Plan, Key::Ask)),
        ("6 Motivation", items.motivation()),
        ("7a Rule for progression", items.rules()),
        ("7b How it progresses", items.progression()),
        ("8 Each exercise, to be repeated by others", items.described()),
        ("9 Home programme", items.home()),
        ("10 Beside exercise", items.beside()),
        ("11 Adverse events", items.adverse()),
        ("12 Setting", items.words_on(&PLACES)),
        ("13 Dose", items.dose()),
        ("14a Generic or tailored", items.tailored().iter().map(|_| TAILORED.to_string()).take(1).collect()),
        ("14b How it is tailored", items.tailored()),
        ("15 Rule for the starting level", items.keyed(Part::Patient, Key::Irritability)),
        ("16a How fidelity is assessed", items.fidelity()),
        ("16b Delivered as planned", items.went()),
    ];
    all.into_iter().map(|(item, said)| format!("{item}: {}", stated(&said))).collect()
}

const TAILORED: &str = "tailored to this patient";

fn stated(said: &[String]) -> String {
    if said.is_empty() { "not stated".to_string() } else { format!("stated: {}", said.join("; ")) }
}

struct Items<'a> {
    of: &'a Of<'a>,
    typed: &'a Typed<'a>,
    sorted: &'a Sorted,
}

impl Items<'_> {
    /// The lines of a part.
    fn part(&self, part: Part) -> impl Iterator<Item = String> {
        self.sorted.part(part).map(|(line, _)| self.typed.words(line).to_string())
    }

    /// The lines of a part whose canonical writing begins with this key and says something.
    fn keyed(&self, part: Part, key: Key) -> Vec<String> {
        let lines = self.of.prescription.lines.iter();
        let says = |tidy: &str| {
            let value = tidy.strip_prefix(key.word()).and_then(|rest| rest.strip_prefix(':'));
            value.is_some_and(|value| !value.trim().is_empty())
        };
        let keyed: Vec<usize> = lines.filter(|l| says(&l.tidy)).map(|l| l.number).collect();
        let here = self.sorted.part(part).filter(|(line, _)| keyed.contains(line));
        here.map(|(line, _)| self.typed.words(line).to_string()).collect()
    }

    /// The lines of exercises' details of one sort, each with the exercise's name.
    fn details(&self, about: About) -> Vec<String> {
        let exercises = self.of.prescription.exercises.iter();
        let of = |x: &crate::prescription::Exercise| {
            let said = x.details.iter().filter(move |d| d.about == about && !d.said.text.is_empty());
            said.map(|d| format!("{} ({})", d.said.text, x.name.text)).collect::<Vec<_>>()
        };
        exercises.flat_map(of).collect()
    }

    /// Lines that describe the programme (title, headings, exercises and what is below them) and hold one of these.
    fn words_on(&self, phrases: &[&str]) -> Vec<String> {
        let p = self.of.prescription;
        let exercises = p.exercises.iter().map(|x| x.line);
        let below = self.sorted.blocks.below.values().flatten().copied();
        let headings = p.sections.iter().map(|section| section.said.place.line);
        let mut lines: Vec<usize> = p.title.iter().map(|title| title.place.line).collect();
        lines.extend(headings.chain(exercises).chain(below));
        lines.extend(p.taught.iter().map(|said| said.place.line));
        crate::sorting::sort(&mut lines);
        lines.dedup();
        let has = |words: &str| {
            let words: String =
                folded(words).chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
            let words = format!(" {} ", words.split_whitespace().collect::<Vec<_>>().join(" "));
            phrases.iter().any(|phrase| words.contains(&format!(" {phrase} ")))
        };
        let said = lines.into_iter().map(|line| self.typed.words(line)).filter(|words| has(words));
        said.map(|words| words.trim_start_matches(['#', ' ']).to_string()).collect()
    }

    fn equipment(&self) -> Vec<String> {
        let mut said = self.keyed(Part::Plan, Key::Kit);
        for x in &self.of.prescription.exercises {
            let loads = Dose { loads: x.dose.loads.clone(), ..Dose::default() };
            if !loads.loads.is_empty() {
                said.push(format!("{loads} ({})", x.name.text));
            }
        }
        for e in self.of.programme.exercises.iter().filter(|e| !e.kit.is_empty()) {
            said.push(format!("{} ({}, by the catalog)", e.kit.join(", "), e.name));
        }
        said
    }

    fn individual(&self) -> Vec<String> {
        let said = self.words_on(&TOGETHER);
        let patient = self.of.prescription.patient.as_ref().filter(|who| !who.name.is_empty());
        let one = patient.map(|who| format!("written for one patient, {}", who.name));
        if said.is_empty() { one.into_iter().collect() } else { said }
    }

    fn delivery(&self) -> Vec<String> {
        let mut said = self.words_on(&WATCHED);
        let taught = self.keyed(Part::Plan, Key::Taught).into_iter().chain(self.details(About::Taught));
        said.extend(taught.filter(|words| !words.is_empty()));
        said.dedup();
        said
    }

    fn motivation(&self) -> Vec<String> {
        let mut said = self.keyed(Part::Goals, Key::Aim);
        said.extend(self.details(About::Why));
        said
    }

    /// Steps of one sort, each as typed.
    fn steps(&self, by_date: bool) -> Vec<String> {
        let exercises = self.of.prescription.exercises.iter();
        let of = |x: &crate::prescription::Exercise| {
            let steps = x.steps.iter().filter(|s| matches!(s.when, When::From(_)) == by_date);
            steps.map(|s| format!("{} ({})", self.typed.words(s.place.line), x.name.text)).collect::<Vec<_>>()
        };
        exercises.flat_map(of).collect()
    }

    fn rules(&self) -> Vec<String> {
        let mut said = self.steps(false);
        said.extend(self.keyed(Part::Goals, Key::Discharge));
        said
    }

    fn progression(&self) -> Vec<String> {
        let mut said = self.steps(true);
        for x in &self.of.prescription.exercises {
            let ramp = Dose { ramp: x.dose.ramp.clone(), ..Dose::default() };
            if ramp.ramp.is_some() {
                said.push(format!("{ramp} ({})", x.name.text));
            }
        }
        said
    }

    fn described(&self) -> Vec<String> {
        let all = &self.of.programme.exercises;
        let known = all.iter().filter(|e| e.known != Known::Unknown).count();
        if known == 0 {
            return Vec::new();
        }
        let mut said = vec![format!("{known} of {} with set-up and movement", all.len())];
        let unknown: Vec<&str> =
            all.iter().filter(|e| e.known == Known::Unknown).map(|e| e.name.as_str()).collect();
        if !unknown.is_empty() {
            said.push(format!("by name and typed words alone: {}", unknown.join(", ")));
        }
        said
    }

    fn home(&self) -> Vec<String> {
        match self.of.prescription.exercises.len() {
            0 => Vec::new(),
            1 => vec!["the exercise above".to_string()],
            n => vec![format!("the {n} exercises above")],
        }
    }

    fn beside(&self) -> Vec<String> {
        let mut said: Vec<String> = self.part(Part::KeepTo).collect();
        let beside = self.of.programme.exercises.iter().filter(|e| {
            e.known != Known::Unknown
                && (matches!(e.purpose, Purpose::Support | Purpose::Advise)
                    || matches!(e.kind, Kind::Advice | Kind::Worn))
        });
        said.extend(beside.map(|e| e.name.clone()));
        said
    }

    fn adverse(&self) -> Vec<String> {
        let stop = self.details(About::StopIf).into_iter().map(|words| format!("stop if {words}"));
        let mut said: Vec<String> = stop.collect();
        for x in &self.of.prescription.exercises {
            let pain = Dose { pain: x.dose.pain, ..Dose::default() };
            if pain.pain.is_some() {
                said.push(format!("{pain} ({})", x.name.text));
            }
        }
        said.extend(self.keyed(Part::Plan, Key::OkayPain));
        said.extend(self.keyed(Part::Plan, Key::Flare));
        said.extend(self.keyed(Part::Help, Key::Net));
        said
    }

    fn dose(&self) -> Vec<String> {
        let p = self.of.prescription;
        let (mut whole, mut usual, mut none) = (0_usize, Vec::new(), Vec::new());
        for (x, e) in p.exercises.iter().zip(&self.of.programme.exercises) {
            if !x.dose.work.is_empty() && x.dose.often.is_some() {
                whole += 1;
            } else if !e.amount.dose.work.is_empty() {
                usual.push(x.name.text.as_str());
            } else {
                none.push(x.name.text.as_str());
            }
        }
        if whole == 0 && usual.is_empty() {
            return Vec::new();
        }
        let mut said = vec![format!("typed in full for {whole} of {}", p.exercises.len())];
        if !usual.is_empty() {
            said.push(format!("in part as usual: {}", usual.join(", ")));
        }
        if !none.is_empty() {
            said.push(format!("none: {}", none.join(", ")));
        }
        match p.weeks {
            Some(1) => said.push("1 week".to_string()),
            Some(weeks) => said.push(format!("{weeks} weeks")),
            None => said.push("how many weeks is not stated".to_string()),
        }
        said
    }

    fn tailored(&self) -> Vec<String> {
        let mut said: Vec<String> = Vec::new();
        for part in [Part::MustNot, Part::Cannot, Part::May, Part::KeepTo] {
            said.extend(self.part(part));
        }
        said.extend(self.keyed(Part::Patient, Key::Caution));
        said.extend(self.keyed(Part::Patient, Key::Range));
        said
    }

    fn fidelity(&self) -> Vec<String> {
        let asked = self.keyed(Part::Plan, Key::Ask);
        let review = self.keyed(Part::Review, Key::Review);
        if asked.is_empty() { Vec::new() } else { asked.into_iter().chain(review).collect() }
    }

    fn went(&self) -> Vec<String> {
        self.part(Part::Patient).filter(|words| tells_how_it_went(words)).collect()
    }
}
