//! The full text: main names, sides and every default written out. Reading it again gives the same programme.

use super::resolve::{Scope, entry_of};
use super::{OnSide, sides, usual};
use crate::dose::{Dose, Kind, Sided};
use crate::language::typed::lexed;
use crate::prescription::exercise::{TypedLine, is_dose as is_dose_of};
use crate::prescription::{Exercise, Prescription, read};
use crate::text::Place;

/// The whole text, line by line; what is no exercise line stays tidy.
pub fn text(scope: &Scope<'_>) -> String {
    let p = scope.prescription;
    let mut out = String::new();
    let mut below = false;
    for line in &p.lines {
        let exercise = p.exercises.iter().find(|x| x.line == line.number);
        let whole = exercise.and_then(|x| written(scope, x));
        below = match exercise {
            // A line that stays as typed keeps the doses below it as well.
            Some(_) => whole.is_some(),
            // A line for the whole prescription may stand between; a section ends what is above it.
            None => below && !line.tidy.starts_with('#'),
        };
        // A dose on a line of its own is written on the exercise's line.
        if exercise.is_none() && below && line.tidy.starts_with(' ') && is_dose(&line.tidy) {
            continue;
        }
        out.push_str(whole.as_ref().unwrap_or(&line.tidy));
        out.push('\n');
        // What changes it later and was typed on its line; a line that stays as typed has it.
        for behind in exercise.filter(|_| whole.is_some()).into_iter().flat_map(Exercise::behind) {
            out.push_str(&format!("  {behind}\n"));
        }
    }
    out
}

fn is_dose(tidy: &str) -> bool {
    let content = tidy.trim();
    let place = Place { line: 1, start: 0, end: content.len() };
    lexed(content, place, |typed| TypedLine::new(typed).may_be_dose() && is_dose_of(typed).is_some())
}

/// One exercise line; None where it would not be read as the same.
fn written(scope: &Scope<'_>, x: &Exercise) -> Option<String> {
    let entry = entry_of(scope, &x.name.text);
    let name = entry.map_or_else(|| x.name.text.clone(), |e| super::resolve::lower_first(&e.name));
    let mut dose = match entry {
        Some(e) => {
            let meant = usual::as_seconds(&x.dose, e.kind);
            usual::over(meant.as_ref().unwrap_or(&x.dose), x.side.or(x.dose.sides), &e.dose)
        }
        None => x.dose.clone(),
    };
    if !usual::often_typed(&x.dose, x.beside().map(|said| said.text.as_str())).is_empty() {
        // Its words say it, and no number is made up beside them.
        dose.often = None;
    } else if dose.often.is_none() && entry.is_none_or(|e| e.kind != Kind::Advice) {
        dose.often = Some(super::resolve::ONCE_DAILY);
    }
    let typed = x.side.or(dose.sides);
    dose.sides = None;
    let placed = x.region.is_some() || entry.is_some_and(super::resolve::is_placed);
    let (resolved, odd) = sides::resolved(typed, entry.map(|e| e.sides));
    let side = match resolved {
        OnSide::None if placed => typed,
        // A side of what both do stands on the sheet as typed.
        OnSide::Together if odd.is_some() => typed,
        OnSide::None => None,
        OnSide::Left => Some(Sided::Left),
        OnSide::Right => Some(Sided::Right),
        OnSide::EachSide => Some(Sided::EachSide),
        OnSide::Alternating => Some(Sided::Alternating),
        OnSide::Together => Some(Sided::Together),
    };
    let mut line = name.clone();
    if let Some(side) = side {
        line.push_str(&format!(", {side}"));
        if let Some(region) = &x.region {
            line.push_str(&format!(" {}", region.text));
        }
    }
    let details: Vec<&str> = x.beside().map(|said| said.text.as_str()).collect();
    for detail in &details {
        line.push_str(&format!(", {detail}"));
    }
    let said = dose.to_string();
    if !said.is_empty() {
        line.push_str(&format!(": {said}"));
    }
    // A line that stands there as it is was read as this already.
    let tidy = scope.prescription.lines.iter().find(|l| l.number == x.line);
    let known =
        tidy.is_some_and(|l| l.tidy == line) && x.name.text == name && x.side == side && x.dose == dose;
    (known || means(&line, &name, side, x, &dose)).then_some(line)
}

/// Whether the line is read as just this.
fn means(line: &str, name: &str, side: Option<Sided>, x: &Exercise, dose: &Dose) -> bool {
    let (again, _): (Prescription, _) = read(line);
    let [one] = again.exercises.as_slice() else { return false };
    let region = |r: &Option<crate::prescription::Said>| r.as_ref().map(|r| r.text.clone());
    one.name.text == name
        && one.side == side
        && one.dose == *dose
        && one.beside().map(|s| &s.text).eq(x.beside().map(|s| &s.text))
        && (side.is_none() || region(&one.region) == region(&x.region))
}
