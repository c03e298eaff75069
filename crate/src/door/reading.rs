//! One text in, everything that was made of it out, as JSON: what `layfigure read --json` prints and what
//! vectors compare natively and in wasm. No text fails.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::dose::parts::Often;
use crate::measure::{Date, shown};
use crate::notice::{Notice, Severity};
use crate::programme::arithmetic::{days_in, goes};
use crate::programme::settled::Cache;
use crate::programme::{Ask, Exercise, Known, Programme, USUAL_MARGIN};
use crate::week;
use serde::Serialize;

/// A text understood.
pub struct Reading {
    pub tidy: String,
    /// Of reader and checks, by line.
    pub notices: Vec<Notice>,
    pub programme: Programme,
    /// None where it can't be posed (too many exercises or muscle groups).
    pub week: Option<week::Laid>,
}

/// Reads any text at the week asked for.
pub fn read(text: &str, week: Option<u32>, today: Option<Date>, cache: &mut Cache) -> Reading {
    let (prescription, mut notices) = crate::prescription::read(text);
    let ask = Ask { today, week, margin: USUAL_MARGIN };
    let programme = crate::programme::assemble::at(&prescription, Catalog::embedded(), &ask, cache);
    notices.extend(programme.notices.iter().cloned());
    crate::sorting::sort_by_key(&mut notices, |n| (n.place.line, n.severity()));
    let week = week::lay(&programme, week::model::Limit::USUAL).ok();
    Reading { tidy: crate::prescription::print(&prescription), notices, programme, week }
}

#[derive(Serialize)]
struct Object<'a> {
    week_number: u32,
    tidy: &'a str,
    full: &'a str,
    notices: Vec<Told<'a>>,
    exercises: Vec<Line<'a>>,
    checked: &'a [String],
    unchecked: &'a [String],
    week: Option<week::Shown>,
}

#[derive(Serialize)]
struct Told<'a> {
    severity: Severity,
    kind: &'a str,
    line: usize,
    sentence: String,
    /// What the notice's place becomes.
    edit: Option<&'a str>,
}

#[derive(Serialize)]
struct Line<'a> {
    line: usize,
    /// The catalog's name for it; null for an own or an unknown exercise.
    id: Option<&'a str>,
    name: &'a str,
    side: &'a str,
    sets: Option<u32>,
    /// Lowest and highest; null where nothing is counted.
    reps: Option<[u32; 2]>,
    hold_s: Option<u32>,
    /// Null for what has no fixed number: as needed, hourly.
    per_day: Option<u32>,
    days_per_week: Option<Number>,
    /// Once through.
    seconds: u32,
    /// Degrees, to a tenth.
    peaks: BTreeMap<&'a str, Number>,
    limited: bool,
    /// Whether it is done in the week shown.
    active: bool,
    dose: String,
}

/// A number rounded and written without a tail.
struct Number(f64, u32);

impl Serialize for Number {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let text = shown(self.0, self.1);
        match (text.parse::<i64>(), text.parse::<f64>()) {
            (Ok(whole), _) => to.serialize_i64(whole),
            (_, Ok(number)) => to.serialize_f64(number),
            _ => to.serialize_i64(0),
        }
    }
}

impl Reading {
    /// One object; its fields keep their names and order.
    pub fn json(&self) -> String {
        let p = &self.programme;
        let object = Object {
            week_number: p.week_number,
            tidy: &self.tidy,
            full: &p.full,
            notices: self
                .notices
                .iter()
                .map(|n| Told {
                    severity: n.severity(),
                    kind: n.kind(),
                    line: n.place.line,
                    sentence: n.sentence(),
                    edit: n.edit.as_ref().map(|e| e.with.as_str()),
                })
                .collect(),
            exercises: p.exercises.iter().map(line).collect(),
            checked: &p.checked,
            unchecked: &p.unchecked,
            week: self.week.as_ref().map(week::Laid::shown),
        };
        // Nothing in it can fail to be written: plain text and finite numbers.
        serde_json::to_string_pretty(&object).unwrap_or_default()
    }
}

fn line(e: &Exercise) -> Line<'_> {
    let first = e.amount.portions.first();
    let fixed = e.amount.as_typed.is_empty() && matches!(e.amount.often, Often::Calendar { .. });
    let (days, per) = days_in(e.amount.often);
    Line {
        line: e.line,
        id: match &e.known {
            Known::Catalog { id, .. } => Some(id),
            Known::Own | Known::Unknown => None,
        },
        name: &e.name,
        side: e.side.words(),
        sets: first.map(|p| p.sets.high()),
        reps: first.and_then(|p| p.reps).map(|r| [r.low(), r.high()]),
        hold_s: first.and_then(|p| p.hold.or(p.bout)).map(crate::measure::Span::high),
        per_day: fixed.then(|| goes(e.amount.often)),
        days_per_week: fixed.then(|| Number(f64::from(days) / f64::from(per), 2)),
        seconds: e.seconds.go,
        peaks: e.peaks.iter().map(|(name, peak)| (name.as_str(), Number(*peak, 1))).collect(),
        limited: e.limited,
        active: e.active,
        dose: e.amount.dose.to_string(),
    }
}
