//! Each exercise for the record: as typed, as it stands in the week shown, and what belongs to it.

use super::Of;
use super::typed::{Sorted, Typed};
use crate::dose::Dose;
use crate::prescription;
use crate::programme::{Exercise, Known, OnSide};
use crate::text::fold::folded;

/// What is said below a line.
pub const DEEPER: &str = "    ";

/// The exercises in the order of the text, under their headings, then own exercises as typed.
pub fn lines(of: &Of<'_>, typed: &Typed<'_>, sorted: &Sorted) -> Vec<String> {
    let mut out = Vec::new();
    let mut section = None;
    let both = of.prescription.exercises.iter().zip(&of.programme.exercises);
    for (at, (x, e)) in both.enumerate() {
        if x.section != section {
            section = x.section;
            let heading = section.and_then(|section| of.prescription.sections.get(section));
            out.extend(heading.map(|section| {
                format!("Under: {}", typed.words(section.said.place.line).trim_start_matches(['#', ' ']))
            }));
        }
        out.push(format!("{}. {}", at + 1, typed.words(x.line)));
        out.extend(standing(of, x, e).into_iter().map(|words| format!("{DEEPER}{words}")));
        for line in sorted.blocks.below.get(&at).into_iter().flatten() {
            out.push(format!("{DEEPER}{}", typed.words(*line)));
            out.extend(typed.read_as(*line).map(|words| format!("{DEEPER}{DEEPER}Read as {words}")));
        }
    }
    let own = sorted.blocks.own.iter().map(|line| typed.words(*line)).filter(|words| !words.is_empty());
    let own: Vec<String> = own.map(|words| format!("{DEEPER}{words}")).collect();
    if !own.is_empty() {
        out.push("Own exercises, as typed:".to_string());
        out.extend(own);
    }
    out
}

/// What the typed line comes to.
fn standing(of: &Of<'_>, x: &prescription::Exercise, e: &Exercise) -> Vec<String> {
    let week = of.programme.week_number;
    let mut out = Vec::new();
    let typed = x.dose.to_string();
    if !typed.is_empty() {
        out.push(format!("Dose typed: {typed}"));
    }
    let source = match &e.known {
        Known::Catalog { .. } => "from the catalog",
        Known::Own => "written in this text",
        Known::Unknown => "own words, in no catalog",
    };
    if e.active {
        let drawn = if e.drawn.is_empty() { "without a figure" } else { "drawn" };
        out.push(format!("In week {week}: {}, {source}, {drawn}", named(x, e)));
    } else {
        let when = if e.is_coming { "not yet begun" } else { "not done" };
        out.push(format!("In week {week}: {when}; {}, {source}", named(x, e)));
    }
    let usual = e.usual.to_string();
    if !usual.is_empty() {
        out.push(format!("Not typed, as usual: {usual}"));
    }
    let base = Dose { sides: None, ..x.dose.clone() }.over(&e.usual);
    if base != e.amount.dose {
        out.push(format!("Dose in week {week}: {}", e.amount.dose));
    }
    out.extend(e.amount.first_day.map(|day| format!("First day: {}", day.words())));
    out.extend(e.amount.last_day.map(|day| format!("Last day: {}", day.words())));
    out
}

/// Name, side and place on the body; a side that was not typed is said to be so.
fn named(x: &prescription::Exercise, e: &Exercise) -> String {
    let mut words = e.name.clone();
    if e.side != OnSide::None {
        words.push_str(&format!(", {}", e.side.words()));
        let is_typed = x.side.or(x.dose.sides).is_some() || x.steps.iter().any(|step| step.side.is_some());
        if !is_typed && e.side != OnSide::Together {
            words.push_str(" (side not typed)");
        }
    }
    if let Some(at) = &e.at {
        words.push_str(&format!(", {at}"));
    }
    words
}

/// What was against the clinician's words and is kept by decision: each exercise with its reason.
pub fn decisions(of: &Of<'_>) -> Vec<String> {
    let mut out = Vec::new();
    for (x, e) in of.prescription.exercises.iter().zip(&of.programme.exercises) {
        let Some(reason) = &x.anyway else { continue };
        if folded(&reason.text).is_empty() {
            out.push(format!("{}: no reason is typed, so nothing is overridden", x.name.text));
            continue;
        }
        out.push(format!("{}, with the reason: {}", x.name.text, reason.text));
        let about = of.programme.notices.iter().filter(|n| n.kind() == DECIDED && n.place == e.name_place);
        let mut told: Vec<String> = about.map(|n| format!("{DEEPER}{}", n.sentence())).collect();
        if told.is_empty() {
            let week = of.programme.week_number;
            told.push(format!("{DEEPER}Nothing of week {week} had to be overridden"));
        }
        out.append(&mut told);
    }
    out
}

/// The kind of the notices that an `anyway:` with its reason answers.
pub const DECIDED: &str = "decision-recorded";
