//! What is told of the starts and ends of exercises, once start, weeks, surgery and review are known.

use super::day::Day;
use super::{Prescription, Step, When, first_day, last_day, say};
use crate::dose::{Dose, End, Start};
use crate::measure::Date;
use crate::notice::Notice;
use crate::notice::kinds::prescription::OfPrescription as Of;
use crate::text::Place;

/// `places` has where an exercise's start or end stands, by the exercise's index.
pub(super) fn notices(p: &Prescription, places: &[(usize, Place)]) -> Vec<Notice> {
    let mut told = Vec::new();
    for (at, x) in p.exercises.iter().enumerate() {
        let place = places.iter().rev().find(|(of, _)| *of == at).map_or(x.dose_place, |(_, place)| *place);
        told.extend(dose(p, &x.dose, place));
        told.extend(x.steps.iter().filter_map(|step| of_step(p, step)));
    }
    told
}

fn tell(what: Of, place: Place) -> Option<Notice> {
    Some(Notice::new(what, place))
}

fn happened(p: &Prescription) -> (Option<Date>, Option<Date>) {
    let date = |h: &Option<super::Happening>| h.as_ref().and_then(|h| h.date);
    (date(&p.surgery), date(&p.injury))
}

/// The day from which something is said to hold, and the byte behind the words that say so.
pub(super) fn begins(
    text: &str,
    start: Option<Date>,
    surgery: Option<Date>,
    injury: Option<Date>,
) -> Option<(usize, Date)> {
    let folded = crate::text::fold::fold(text);
    let all = crate::language::token::tokens(&folded);
    let (at, from) = crate::dose::find::span::begins(&all)?;
    let from = match from {
        Start::Yearless(day) => Start::Date(Day::yearless(day).from(Some(start?)).ok()?),
        other => other,
    };
    // A date that is typed needs no other.
    (!matches!(from, Start::Date(_))).then_some(())?;
    Some((at, first_day(&from, start, surgery, injury)?))
}

fn first(p: &Prescription, from: &Start) -> Option<Date> {
    let (surgery, injury) = happened(p);
    first_day(from, p.start, surgery, injury)
}

/// What has no clock to count from.
fn without_clock(p: &Prescription, from: &Start, place: Place) -> Option<Notice> {
    match from {
        Start::Yearless(day) => {
            let fault = Day::yearless(*day).from(p.start).err()?;
            Some(say::undated_day(place, "from", fault))
        }
        Start::Week(_) if p.start.is_none() => tell(Of::StartWithoutDates { from: from.to_string() }, place),
        Start::After { event, .. } if first(p, from).is_none() => {
            tell(Of::StartWithoutClock { from: from.to_string(), event: event.to_string() }, place)
        }
        Start::Week(_) | Start::Date(_) | Start::After { .. } => None,
    }
}

fn dose(p: &Prescription, dose: &Dose, place: Place) -> Option<Notice> {
    let (surgery, injury) = happened(p);
    let begins = dose.from.as_ref().and_then(|from| first(p, from));
    if let Some(notice) = dose.from.as_ref().and_then(|from| without_clock(p, from, place)) {
        return Some(notice);
    }
    if let Some(End::Yearless(day)) = &dose.until {
        let fault = Day::yearless(*day).from(p.start).err()?;
        return Some(say::undated_day(place, "until", fault));
    }
    if let (Some(end @ End::After { event, .. }), None) =
        (&dose.until, dose.until.as_ref().and_then(|end| last_day(end, p.start, surgery, injury, p.review)))
    {
        return tell(Of::EndWithoutClock { end: end.to_string(), event: event.to_string() }, place);
    }
    let ends = match (&dose.until, begins) {
        (Some(end @ (End::For { .. } | End::Months(_))), Some(first)) => {
            end.days().map(|days| first.plus_days(days - 1))
        }
        (Some(end), _) => last_day(end, p.start, surgery, injury, p.review),
        (None, _) => None,
    };
    let weeks = (dose.from.as_ref(), dose.until.as_ref());
    let backwards = match (begins, ends, weeks) {
        (Some(first), Some(last), _) => last < first,
        (_, _, (Some(Start::Week(first)), Some(End::Week(last)))) => last < first,
        _ => false,
    };
    if backwards {
        return tell(Of::EndsBeforeItBegins, place);
    }
    if ends.zip(p.start).is_some_and(|(last, start)| last < start) {
        return tell(Of::EndsBeforeThePlan, place);
    }
    beyond(p, dose.from.as_ref(), begins, place)
}

/// What begins after the last week of the plan.
fn beyond(p: &Prescription, from: Option<&Start>, begins: Option<Date>, place: Place) -> Option<Notice> {
    let weeks = p.weeks?;
    let after = match (from?, begins.zip(p.start)) {
        (Start::Week(n), _) => weeks < *n,
        (_, Some((first, start))) => 7 * i32::from(weeks) <= first.days_since(start),
        (_, None) => false,
    };
    after.then(|| Notice::new(Of::BeginsBehindThePlan { weeks }, place))
}

fn of_step(p: &Prescription, step: &Step) -> Option<Notice> {
    let When::From(from) = &step.when else { return None };
    let place = step.place;
    match from {
        Start::Week(_) => None,
        _ => without_clock(p, from, place).or_else(|| {
            let (first, start) = (first(p, from)?, p.start);
            let Some(start) = start else {
                return tell(Of::StepWithoutStart, place);
            };
            let days = first.days_since(start);
            let taken = start.plus_days(7 * (days.max(0).saturating_add(6) / 7));
            (days.rem_euclid(7) != 0 || days < 0).then(|| Notice::new(Of::StepByWeek { taken }, place))
        }),
    }
}
