//! Plain lines about the patient, without a line word: what must not be done, what may, what must, and what was found.
//! Such a line is never an exercise.

use super::exercise::part;
use super::keys::Value;
use super::limit::{Bearing, Limit, Purpose};
use super::{Said, Stated, angles, bearing, say};
use crate::dose::End;
use crate::dose::Work;
use crate::dose::find::Item;
use crate::dose::find::moments::{bare_stretch, until};
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, tokens};
use crate::notice::Notice;
use crate::text::Place;
use crate::text::fold::fold;

/// What a plain line was read as.
#[derive(Clone, Debug)]
pub enum Read {
    /// A bound on angles: `no right hip flexion > 90`.
    Limits(Vec<Limit>),
    /// `NWB left leg 6/52`.
    Weight(Bearing),
    /// Words, kept as typed.
    Stated(Stated),
    /// For the clinician alone.
    Finding,
    /// It may be an exercise that is taken back: `no bridge 3 x 10`.
    Asked(String),
}

impl Read {
    /// What the clinician is told, so that nothing is taken for a restriction unseen.
    pub fn notices(&self, place: Place) -> Vec<Notice> {
        match self {
            Read::Limits(limits) => vec![say::plain_limit(place, &angles::written(limits))],
            Read::Weight(found) => vec![say::plain_weight(place, &bearing::written(found))],
            Read::Stated(stated) => vec![say::stated(place, stated.kind)],
            Read::Finding => vec![say::stated(place, Plain::Finding)],
            Read::Asked(name) => vec![say::denied_exercise(place, name)],
        }
    }
}

/// Reads a line. None: it begins like none of these.
pub fn read(content: &str, place: Place) -> Option<Read> {
    let folded = fold(content);
    let all = tokens(&folded);
    let weighs = bearing::is_named(content) || says_weight(&all);
    let kind = restraint::plain(&all);
    if (kind == Some(Plain::Restriction) || weighs)
        && let Some(found) = bearing::read(&Value { text: content, place }).filter(|_| weighs)
        && !counted(content, place)
    {
        return Some(Read::Weight(found));
    }
    match kind? {
        Plain::Finding => Some(Read::Finding),
        Plain::Restriction => {
            if let Some(name) = denied_dose(content, place) {
                return Some(Read::Asked(name));
            }
            let found = angles::read(content, Purpose::Limit, place);
            if !found.limits.is_empty() && found.beside.is_empty() {
                return Some(Read::Limits(found.limits));
            }
            Some(Read::Stated(stated(Plain::Restriction, content, place)))
        }
        // `stick 3 x 10` is an exercise with a stick.
        Plain::Permission | Plain::Order if counted(content, place) => None,
        kind @ (Plain::Permission | Plain::Order) => Some(Read::Stated(stated(kind, content, place))),
    }
}

fn says_weight(all: &[crate::language::token::Token<'_>]) -> bool {
    (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        c.words(&["weight", "bearing"]) || c.words(&["weight", "bear"]) || c.words(&["wb"])
    })
}

/// Whether a line has work that is counted in repetitions.
fn counted(content: &str, place: Place) -> bool {
    let dose = part(content, place).dose;
    dose.work.iter().any(|p| matches!(p.work, Work::Repetitions { .. }))
}

/// The name before a counted dose behind a denial: an exercise that is taken back, or one that must not be done?
fn denied_dose(content: &str, place: Place) -> Option<String> {
    let parted = part(content, place);
    let counts = parted.dose.work.iter().any(|p| matches!(p.work, Work::Repetitions { .. }));
    parted.name.filter(|_| counts).map(|name| name.text)
}

fn stated(kind: Plain, content: &str, place: Place) -> Stated {
    let folded = fold(content);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    restraint::denial(&mut c);
    let from = c.peek().map_or(0, |t| t.start);
    let mut end = None;
    for at in 0..all.len() {
        let here = Cursor { all: &all, at };
        let Some(hit) = until(here, content).or_else(|| bare_stretch(here)) else { continue };
        if let Some(Item::Until(found)) = hit.items.first()
            && !matches!(found, End::Words(_))
        {
            end = Some(found.clone());
            break;
        }
    }
    let said = |from: usize| Said {
        text: content.get(from..).unwrap_or(content).to_string(),
        place: Place { start: place.start + from, ..place },
    };
    Stated { kind, said: Said { text: content.to_string(), place }, what: said(from), end, last_day: None }
}

/// What stands behind `avoid:`: bounds on angles where a number says so, else words.
pub fn avoided(value: &Value<'_>) -> (Vec<Limit>, Vec<Said>) {
    let bounded = |text: &str, place: Place| {
        let found = angles::read_denied(text, Purpose::Limit, place);
        let numbered = found.faults.iter().all(|f| !matches!(f, angles::Fault::Forbidden(_)));
        (numbered && found.beside.is_empty() && !found.limits.is_empty()).then_some(found.limits)
    };
    if let Some(limits) = bounded(value.text, value.place) {
        return (limits, Vec::new());
    }
    let (mut limits, mut words) = (Vec::new(), Vec::new());
    for said in value.list() {
        match bounded(&said.text, said.place) {
            Some(found) => limits.extend(found),
            None => words.push(said),
        }
    }
    (limits, words)
}
