//! How a dose grows from day to day.
//!
//! A ramp counts from the first day of its exercise, or of the step that says it: `+ 2 min every 3 days` adds for the
//! first time on the fourth day. Percent are of the dose that stood before, so they compound, as runners count their
//! weeks (common practice, no source). What comes of it is rounded down, so that it never grows faster than is typed:
//! to whole minutes where the dose is typed in whole minutes, else to whole seconds; to whole repetitions and amounts.

use super::arithmetic::Timed;
use super::{Amount, Exercise, Programme, effective};
use crate::dose::parts::{Ramp, Step};
use crate::dose::{Dose, Kind, Tally, Work};
use crate::measure::{Counts, Date, Span};
use std::borrow::Cow;

/// Parts of a second or a repetition that are carried from one growth by percent to the next.
const PARTS: u64 = 1_000_000;
/// After so many growths a dose is as large as any can be.
const MOST_TIMES: u32 = 10_000;
/// Growths by percent that may round to the same figure before one shows.
const MOST_HIDDEN: u32 = 100;

/// A dose that grows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Growth {
    /// Before anything was added, with its ramp.
    base: Dose,
    ramp: Ramp,
    kind: Kind,
    /// The day of the course from which it counts, 0 the first.
    from: u32,
}

impl Growth {
    /// None: the dose does not grow.
    pub fn of(base: &Dose, kind: Kind, from: u32) -> Option<Growth> {
        Some(Growth { base: base.clone(), ramp: base.ramp.clone()?, kind, from })
    }

    pub fn ramp(&self) -> &Ramp {
        &self.ramp
    }

    /// Whether its figures can be worked out: a landmark has none, steps are nothing to add to minutes, and percent
    /// beside a load may be meant of the load.
    pub fn is_counted(&self) -> bool {
        grown(&self.base, &self.ramp, 1).is_some()
    }

    /// Whether it carries a load, which could grow as well.
    pub fn is_loaded(&self) -> bool {
        !self.base.loads.is_empty()
    }

    /// The dose on a day of the course.
    pub fn at(&self, day: u32) -> Dose {
        let times = day.saturating_sub(self.from) / u32::from(self.ramp.every_days.max(1));
        self.after(times)
    }

    fn after(&self, times: u32) -> Dose {
        grown(&self.base, &self.ramp, times.min(MOST_TIMES)).unwrap_or_else(|| self.base.clone())
    }

    /// The next day of the course on which it differs from that day's; None: it has grown as far as it does.
    pub fn next(&self, day: u32) -> Option<u32> {
        let every = u32::from(self.ramp.every_days.max(1));
        let times = day.saturating_sub(self.from) / every;
        let now = self.after(times);
        let next = (times + 1..=times + MOST_HIDDEN).find(|times| self.after(*times) != now)?;
        Some(self.from + next * every)
    }
}

/// The dose with what its ramp has added so many times; None: there is nothing in it that this could be added to.
fn grown(base: &Dose, ramp: &Ramp, times: u32) -> Option<Dose> {
    let mut dose = base.clone();
    // Of which of the two the percent are is not known.
    if matches!(ramp.add, Step::Percent(_)) && !dose.loads.is_empty() {
        return None;
    }
    let mut found = false;
    for portion in &mut dose.work {
        found |= grow(&mut portion.work, ramp, times);
    }
    if !found && let (Some(hold), Step::Time(add)) = (dose.hold, &ramp.add) {
        dose.hold = Some(longer(hold, *add, ramp, times));
        found = true;
    }
    found.then_some(dose)
}

/// Whether there is something in the work that the ramp adds to.
fn grow(work: &mut Work, ramp: &Ramp, times: u32) -> bool {
    match (work, &ramp.add) {
        (Work::Repetitions { sets, .. } | Work::Amount { sets, .. }, Step::Sets(add)) => {
            let now = sets.unwrap_or(Counts::ONE);
            *sets = if times == 0 { *sets } else { Some(many(now, *add, ramp, times)) };
        }
        // Three holds are three sets of one: `3 x 30 s`.
        (Work::Bouts { sets: None, bouts: n, .. } | Work::Bouts { sets: Some(n), .. }, Step::Sets(add))
        | (Work::Repetitions { reps: Some(n), .. } | Work::Bouts { bouts: n, .. }, Step::Repetitions(add)) => {
            *n = many(*n, *add, ramp, times);
        }
        (Work::Time(span) | Work::Bouts { span, .. }, Step::Time(add)) => {
            *span = longer(*span, *add, ramp, times);
        }
        (Work::Amount { amount, unit, .. }, Step::Amount(add, of)) if unit == of => {
            *amount = many(*amount, *add, ramp, times);
        }
        (Work::Time(span) | Work::Bouts { span, .. }, Step::Percent(percent)) => {
            let unit = if span.low().is_multiple_of(60) && span.high().is_multiple_of(60) { 60 } else { 1 };
            let most = most_time(ramp);
            let one = |n: u32| {
                let more = compound(n, *percent, times, most.max(n));
                // The bound itself is reached, whatever it is rounded to.
                if more == most { more } else { (more / unit * unit).max(n) }
            };
            *span = Span::new(one(span.low()), one(span.high()))
                .and_then(|grown| grown.bounded(span.bound()))
                .unwrap_or(*span);
        }
        (
            Work::Repetitions { reps: Some(n), .. } | Work::Amount { amount: n, .. },
            Step::Percent(percent),
        ) => {
            let most = most_count(ramp);
            let one = |n: u32| compound(n, *percent, times, most.max(n));
            *n = Counts::new(one(n.low()), one(n.high())).unwrap_or(*n);
        }
        _ => return false,
    }
    true
}

fn most_time(ramp: &Ramp) -> u32 {
    match &ramp.up_to {
        Some(Step::Time(span)) => span.high(),
        _ => Span::MOST,
    }
}

fn most_count(ramp: &Ramp) -> u32 {
    match &ramp.up_to {
        Some(Step::Sets(n) | Step::Repetitions(n) | Step::Amount(n, _)) => n.high(),
        _ => Counts::MOST,
    }
}

fn many(now: Counts, add: Counts, ramp: &Ramp, times: u32) -> Counts {
    let most = most_count(ramp);
    let one = |n: u32, add: u32| n.saturating_add(add.saturating_mul(times)).min(most.max(n));
    Counts::new(one(now.low(), add.low()), one(now.high(), add.high())).unwrap_or(now)
}

fn longer(now: Span, add: Span, ramp: &Ramp, times: u32) -> Span {
    let most = most_time(ramp);
    let one = |n: u32, add: u32| n.saturating_add(add.saturating_mul(times)).min(most.max(n));
    let grown = Span::new(one(now.low(), add.low()), one(now.high(), add.high()));
    grown.and_then(|grown| grown.bounded(now.bound())).unwrap_or(now)
}

/// A number that grew by so many percent so many times, rounded down.
fn compound(n: u32, percent: u8, times: u32, most: u32) -> u32 {
    let bound = u64::from(most) * PARTS;
    let mut now = u64::from(n) * PARTS;
    for _ in 0..times {
        now += now * u64::from(percent) / 100;
        if bound <= now {
            return most;
        }
    }
    u32::try_from(now / PARTS).unwrap_or(most).min(most)
}

impl Exercise {
    /// The dose of a day of the course, 0 the first, where it grows; that of its week where it doesn't.
    pub fn amount_on(&self, day: Option<u32>) -> Cow<'_, Amount> {
        let (Some(growth), Some(day)) = (&self.grows, day) else { return Cow::Borrowed(&self.amount) };
        let dose = growth.at(day);
        let dose = Dose { work: dose.work, hold: dose.hold, ..self.amount.dose.clone() };
        let portions = effective::portions(&dose, growth.kind);
        Cow::Owned(Amount { portions, dose, ..self.amount.clone() })
    }
}

impl Programme {
    /// Which day of the course a date is, 0 the first; None without a start, or before it.
    pub fn day_of_course(&self, date: Date) -> Option<u32> {
        u32::try_from(date.days_since(self.start?)).ok()
    }

    /// Itself with the doses of a day of its week; None: they are those of the week.
    pub fn on(&self, date: Date) -> Option<Programme> {
        let day = self.day_of_course(date)?;
        let grown =
            |e: &Exercise| (e.active && e.grows.is_some()).then(|| e.amount_on(Some(day)).into_owned());
        let amounts: Vec<Option<Amount>> = self.exercises.iter().map(grown).collect();
        let differs =
            self.exercises.iter().zip(&amounts).any(|(e, now)| now.as_ref().is_some_and(|n| *n != e.amount));
        if !differs {
            return None;
        }
        let mut on = self.clone();
        for (e, amount) in on.exercises.iter_mut().zip(amounts) {
            let Some(amount) = amount else { continue };
            let rounds = e.section.and_then(|s| self.sections.get(s)).and_then(|s| s.rounds);
            e.seconds = Timed {
                portions: &amount.portions,
                kind: e.kind,
                side: e.side,
                in_all: amount.dose.tally == Some(Tally::InAll),
                tempo: amount.tempo,
                rest: amount.rest,
                loaded: e.loaded,
                rounds: rounds.map_or(1, Counts::high),
                often: amount.often,
            }
            .seconds();
            e.amount = amount;
        }
        Some(on)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Place;

    fn growth(typed: &str) -> Growth {
        let (dose, told) = crate::dose::read(typed, Place { line: 1, start: 0, end: typed.len() });
        assert!(dose.words.is_empty(), "{typed}: {:?} {told:?}", dose.words);
        Growth::of(&dose, Kind::Repeated, 0).expect("a dose that grows")
    }

    fn on(growth: &Growth, day: u32) -> String {
        let dose = growth.at(day);
        Dose { ramp: None, ..dose }.to_string()
    }

    #[test]
    fn each_kind_of_growth_is_worked_out_by_day() {
        for (typed, days) in [
            ("8 min, + 2 min every 3 days", vec![(0, "8 min"), (2, "8 min"), (3, "10 min"), (9, "14 min")]),
            ("8 min, + 2 min every 3 days up to 11 min", vec![(3, "10 min"), (6, "11 min"), (300, "11 min")]),
            (
                "1 x 12, add a set a week (max 3)",
                vec![(6, "1 x 12"), (7, "2 x 12"), (14, "3 x 12"), (70, "3 x 12")],
            ),
            ("12 reps, add a set a week", vec![(0, "12 reps"), (7, "2 x 12")]),
            ("3 x 30 s, one more set each fortnight", vec![(13, "3 x 30 s"), (14, "4 x 30 s")]),
            ("2 x 8, hold 5 s, increase hold by 5 s weekly", vec![(7, "2 x 8, hold 10 s")]),
            ("400 steps, + 10 % daily up to 450 steps", vec![(1, "440 steps"), (2, "450 steps")]),
            // 20, 22, 24.2, 26.62 minutes.
            ("20 min, + 10 % a week", vec![(7, "22 min"), (14, "24 min"), (21, "26 min")]),
            // 5, 5.5, 6.05 minutes: what is rounded down is not lost.
            ("5 min, + 10 % a week", vec![(7, "5 min"), (14, "6 min")]),
            ("45 s, + 10 % a week", vec![(7, "49 s"), (14, "54 s")]),
            ("3 x 10, + 10 % a week", vec![(7, "3 x 11"), (14, "3 x 12"), (21, "3 x 13")]),
            ("10-20 min, + 50 % a week", vec![(7, "15-30 min")]),
        ] {
            let growth = growth(typed);
            for (day, wanted) in days {
                assert_eq!(on(&growth, day), wanted, "{typed} on day {day}");
            }
        }
    }

    #[test]
    fn it_ends_at_its_bound_and_never_shrinks_to_it() {
        assert_eq!(growth("8 min, + 2 min every 3 days up to 12 min").next(6), None);
        assert_eq!(growth("8 min, + 2 min every 3 days up to 12 min").next(4), Some(6));
        assert_eq!(growth("5 min, + 10 % a week").next(0), Some(14));
        assert_eq!(on(&growth("20 min, + 2 min every day up to 10 min"), 5), "20 min");
        assert_eq!(growth("23 h, + 1 h every day").next(9), None);
    }

    #[test]
    fn what_can_not_be_added_is_not() {
        for typed in [
            "10 min, + 500 steps a week",
            "3 x 10, + 5 min a week",
            "2 x 8, 5 kg, + 10 % a week",
            "10 min, add a bench a week",
        ] {
            let growth = growth(typed);
            assert!(!growth.is_counted(), "{typed}");
            assert_eq!(growth.at(70), growth.base, "{typed}");
        }
    }
}
