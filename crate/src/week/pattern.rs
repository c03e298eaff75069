//! A laid week as plain data: what desk, sheet and home page show of it, without solving it again.

use super::ready::Ready;
use super::{Laid, Shown, ShownDay, ShownFixed, ShownOvertime, ShownSession, ShownUnplaced, View, lay};
use crate::programme::Programme;
use crate::week::model::{AllDay, Day, Fault, Part};

/// Which exercises are done on which day and in which part of it. Exercises are indices into
/// [`Programme::exercises`], which stay the same over the weeks of a course.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pattern {
    /// 1; or 2 where something is done on alternate days: then odd weeks of the course are the first.
    pub weeks: u8,
    /// Whether it is proven that there is no better week.
    pub proved: bool,
    /// By week, day and part.
    pub sittings: Vec<Sitting>,
}

/// A part of a day with something to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sitting {
    /// 1, or 2 in the second week of two.
    pub week: u8,
    pub day: Day,
    pub part: Part,
    /// In the order in which they are done; never empty, none twice.
    pub exercises: Vec<usize>,
}

impl Laid {
    pub fn pattern(&self) -> Pattern {
        let sitting = |session: &super::model::Session| {
            let exercises: Vec<usize> =
                session.items.iter().filter_map(|item| self.exercise(*item)).collect();
            Sitting { week: session.week, day: session.day, part: session.part, exercises }
        };
        let sittings = self.week.sessions.iter().map(sitting).filter(|s| !s.exercises.is_empty()).collect();
        Pattern { weeks: self.week.weeks, proved: self.week.proved, sittings }
    }
}

impl Pattern {
    /// The week as it is shown, for the programme at the week that it is made for. Minutes are by the same
    /// arithmetic as those of a solved week.
    pub fn shown(&self, programme: &Programme) -> Shown {
        let lay::Adapted { problem, rest, .. } = lay::adapt(programme);
        let view = View::of(programme);
        let seconds = |exercises: &[usize]| -> u32 {
            exercises.iter().filter_map(|e| programme.exercises.get(*e)).map(|e| e.seconds.go).sum()
        };
        let mut days = Vec::new();
        let mut overtime = Vec::new();
        let mut over = |day, part, given: Option<u32>, load: u32| {
            if let Some(seconds) = given.and_then(|given| load.checked_sub(given)).filter(|over| 0 < *over) {
                overtime.push(ShownOvertime { day, part, minutes: seconds.div_ceil(60) });
            }
        };
        for day in Day::ALL {
            let here: Vec<&Sitting> = self.on(view.half(day), day).collect();
            let whole = here.iter().map(|s| seconds(&s.exercises)).sum();
            over(day, None, problem.by_day.get(day as usize).copied().flatten(), whole);
            let mut sessions = Vec::new();
            for sitting in here {
                let load = seconds(&sitting.exercises);
                let parts = problem.available.get(day as usize);
                let given = parts.and_then(|parts| parts.get(sitting.part as usize)).copied().flatten();
                over(day, Some(sitting.part), given, load);
                let still = sitting.exercises.iter().copied().filter(|e| view.has(*e, day));
                let exercises: Vec<usize> = still.collect();
                if !exercises.is_empty() {
                    let minutes = seconds(&exercises).div_ceil(60);
                    sessions.push(ShownSession { part: sitting.part, minutes, exercises });
                }
            }
            days.push(ShownDay { day, sessions });
        }
        let (fixed, rest) = (ShownFixed::all(&problem.appointments), rest.days().collect());
        Shown { proved: self.proved, days, overtime, unplaced: unplaced(programme), fixed, rest }
    }
}

/// Exercises whose own rules leave no slot. Nothing is searched for it.
fn unplaced(programme: &Programme) -> Vec<ShownUnplaced> {
    let adapted = lay::adapt(programme);
    let told = |exercise: usize, reason: String| ShownUnplaced { exercise, reason };
    match Ready::of(&adapted.problem) {
        Ok(ready) => ready
            .unplaced
            .into_iter()
            .filter_map(|out| Some(told(adapted.items.get(out.item).copied()?, out.reason)))
            .collect(),
        Err(Fault(reason)) => adapted.items.iter().map(|e| told(*e, reason.clone())).collect(),
    }
}

/// What stands beside the days: as needed, hourly, worn, advised, walked; with the index of its exercise.
pub fn all_day(programme: &Programme) -> Vec<(usize, AllDay)> {
    let adapted = lay::adapt(programme);
    adapted.strip.into_iter().zip(adapted.problem.all_day).collect()
}
