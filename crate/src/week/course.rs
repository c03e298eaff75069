//! The course on its days: which programme stands on a date, and what is due on it. Desk, sheet and home page ask here,
//! so that they can't differ.
//!
//! Weeks of a course count from its first day, whatever weekday that is. The two weeks of a pattern that takes two are
//! calendar weeks: the first is the one in which the course begins, from its Monday on.

use std::borrow::Borrow;

use super::lay::{self, Adapted};
use super::model::{Day, Fault, Limit, Part};
use super::pattern::{Pattern, Sitting};
use super::{Laid, laid_only};
use crate::dose::End;
use crate::measure::Date;
use crate::prescription::{Prescription, Step, When};
use crate::programme::Programme;
use crate::programme::clock::{self, MOST_WEEKS};

/// Steps that all weeks of a course may take together: every week of half a year, each different and each as hard as
/// [`Limit::USUAL`] allows, has room. Common practice, no source.
const MOST_STEPS: u64 = 26 * 2 * Limit::USUAL.nodes;

/// Weeks shown to a patient whose growing dose has no last week: a sheet's twelve.
const WEEKS_OF_GROWTH: u32 = 12;

/// Weeks in which the days are laid out in the same way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// Its first week, counted from 1.
    pub from: u32,
    pub pattern: Pattern,
}

/// How the days of a course are counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Count {
    /// The first day: the start as written, else the day on which the programme is read.
    pub first: Option<Date>,
    start: Option<Date>,
    most: u32,
}

impl Count {
    pub fn of(programme: &Programme) -> Count {
        Count {
            first: programme.start.or(programme.today),
            start: programme.start,
            most: programme.weeks.map_or(MOST_WEEKS, u32::from).clamp(1, MOST_WEEKS),
        }
    }

    /// The week of the course that a day falls in, counted from 1; after the last it stays the last. Without a start
    /// no week is over.
    pub fn week_of(&self, day: Date) -> u32 {
        let days = self.start.map_or(0, |start| u32::try_from(day.days_since(start)).unwrap_or(0));
        (days / 7 + 1).clamp(1, self.most.max(1))
    }

    /// Which week of two a day is in, 1 or 2.
    pub fn half(&self, day: Date) -> u8 {
        let first = self.first.unwrap_or(day);
        let monday = first.plus_days(-i32::from(first.weekday()));
        if 7 <= day.days_since(monday).rem_euclid(14) { 2 } else { 1 }
    }
}

/// How the days of a week of the course are laid out.
pub fn pattern(course: &[Stretch], week: u32) -> Option<&Pattern> {
    let begun = course.iter().take_while(|stretch| stretch.from <= week.max(1));
    begun.last().map(|stretch| &stretch.pattern)
}

/// What is due on a day, part by part, each in the order in which it is done. `programme` is the one of that day's week.
pub fn due(course: &[Stretch], programme: &Programme, day: Date) -> Vec<(Part, Vec<usize>)> {
    let count = Count::of(programme);
    let Some(pattern) = pattern(course, programme.week_number) else { return Vec::new() };
    let weekday = usize::from(day.weekday());
    let sittings = pattern.on(count.half(day), Day::of(weekday));
    let is_due = |index: &usize| programme.exercises.get(*index).is_some_and(|e| e.is_due(day));
    let due = sittings.map(|s| (s.part, s.exercises.iter().copied().filter(is_due).collect::<Vec<usize>>()));
    let mut due: Vec<_> = due.filter(|(_, exercises)| !exercises.is_empty()).collect();
    crate::sorting::sort_by_key(&mut due, |(part, _)| *part);
    due
}

impl Pattern {
    /// The sittings of a day; of a pattern of one week, `half` says nothing.
    pub fn on(&self, half: u8, day: Day) -> impl Iterator<Item = &Sitting> {
        let week = if self.weeks == 2 { half } else { 1 };
        self.sittings.iter().filter(move |s| s.week == week && s.day == day)
    }
}

/// The stretches of some weeks of a course, the first of them from its first week on; the last goes on without end.
/// `at` gives the programme of a week, counted from 1; equal problems are solved once. A fault where that would take more
/// than [`MOST_STEPS`].
pub fn course<P: Borrow<Programme>>(
    weeks: std::ops::RangeInclusive<u32>,
    limit: Limit,
    at: impl FnMut(u32) -> P,
) -> Result<Vec<Stretch>, Fault> {
    course_within(weeks, limit, MOST_STEPS, at)
}

fn course_within<P: Borrow<Programme>>(
    weeks: std::ops::RangeInclusive<u32>,
    limit: Limit,
    most: u64,
    mut at: impl FnMut(u32) -> P,
) -> Result<Vec<Stretch>, Fault> {
    let mut solved: Vec<Laid> = Vec::new();
    let mut stretches: Vec<Stretch> = Vec::new();
    let (last, mut left) = (*weeks.end(), most);
    for week in weeks {
        let programme = at(week);
        let programme = programme.borrow();
        let adapted: Adapted = lay::adapt(programme);
        let known = solved.iter().find(|l| l.problem == adapted.problem && l.items == adapted.items);
        let pattern = match known {
            Some(known) => known.pattern(),
            None => {
                let laid = laid_only(adapted, programme, limit)?;
                left = left.checked_sub(laid.week.nodes).ok_or_else(|| too_many(week, last))?;
                let pattern = laid.pattern();
                solved.push(laid);
                pattern
            }
        };
        if stretches.last().is_none_or(|last| last.pattern != pattern) {
            stretches.push(Stretch { from: week, pattern });
        }
    }
    Ok(stretches)
}

/// How many weeks of the course are laid: those that are said, else up to the last change.
pub fn weeks(p: &Prescription, programme: &Programme) -> u32 {
    if let Some(weeks) = p.weeks {
        return u32::from(weeks).min(MOST_WEEKS);
    }
    let week_of = |day: Date| match p.start {
        Some(start) => u32::try_from(day.days_since(start)).unwrap_or(0) / 7 + 1,
        None => 1,
    };
    let mut last = p.review.map_or(1, week_of);
    let mut until = |end: Option<&End>, day: Option<Date>| {
        // One more, in which it holds no longer.
        let week = match (day, end) {
            (Some(day), _) => week_of(day) + 1,
            (None, Some(End::Week(n))) => u32::from(*n) + 1,
            _ => 1,
        };
        last = last.max(week);
    };
    for limit in &programme.limits {
        until(limit.what.end.as_ref(), limit.last_day);
    }
    for (written, understood) in p.exercises.iter().zip(&programme.exercises) {
        until(written.dose.until.as_ref(), understood.amount.last_day);
    }
    for from in p.exercises.iter().filter_map(|x| x.dose.from.as_ref()) {
        last = last.max(clock::week_from(p, from).unwrap_or(1));
    }
    for step in p.exercises.iter().flat_map(|x| &x.steps) {
        if let When::From(start) = step.when
            && let Some(week) = clock::week_from(p, &start)
        {
            last = last.max(week);
            let day = clock::last_of_dose(p, &step.dose, clock::first_of(p, &start));
            last = last.max(day.map_or(1, |day| week_of(day) + 1));
        }
    }
    last.max(weeks_of_growth(p)).clamp(1, MOST_WEEKS)
}

/// The weeks in which a dose that has no last week grows; 1 where none does.
pub fn weeks_of_growth(p: &Prescription) -> u32 {
    let grows = |step: &Step| step.dose.ramp.is_some();
    let grown = p.exercises.iter().any(|x| x.dose.ramp.is_some() || x.steps.iter().any(grows));
    if grown { WEEKS_OF_GROWTH } else { 1 }
}

fn too_many(week: u32, weeks: u32) -> Fault {
    Fault(format!(
        "The weeks of this prescription differ so much that laying out all of them takes too long: it was given up in \
         week {week} of {weeks}. Write fewer weeks, fewer exercises or fewer doses that grow, or hand over the sheet on \
         paper."
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::programme::{Ask, assemble};

    /// Every week differs from the one before: each has to be laid by itself.
    #[test]
    fn weeks_that_take_too_long_are_given_up_with_a_sentence() {
        let text = "start: 2026-11-30\ntime: Mon-Sun 6 min\n\
            walking of ours: 5 min, 3/week, add 1 min every week\nthing of ours: 3 x 10, 4/week, add 1 every week\n";
        let (read, _) = crate::prescription::read(text);
        let within = |most| {
            let mut cache = Default::default();
            course_within(1..=12, Limit::USUAL, most, |week| {
                let ask = Ask { week: Some(week), ..Ask::today(None) };
                assemble::at(&read, Catalog::embedded(), &ask, &mut cache)
            })
        };
        assert_eq!(within(MOST_STEPS).map(|stretches| stretches.is_empty()), Ok(false));
        let fault = within(100).expect_err("given up");
        assert!(fault.0.contains("of 12") && fault.0.contains("Write fewer weeks"), "{}", fault.0);
    }
}
