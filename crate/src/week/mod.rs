//! Days, parts of the day and the course. Does not know paper.
//!
//! [`lay`] lays a programme on seven days. Beneath it [`model`] is the plain integer problem and its answer, [`solve`]
//! finds the proven best answer, and [`shortage`] says in words why the patient's minutes do not suffice and what would
//! be the smallest repairs.

mod alone;
pub mod anchor;
mod bounds;
pub mod course;
mod dig;
mod hunt;
mod lay;
mod memo;
pub mod model;
pub mod moved;
mod order;
mod pack;
pub mod pattern;
pub mod phases;
pub mod plot;
mod ready;
pub mod shortage;
pub mod solve;
mod turn;

use crate::programme::Programme;
use model::{AllDay, Appointment, Day, DaySet, Fault, Limit, Part, Problem, Week};
use shortage::{Change, Shortage};

/// A programme laid on days and parts of the day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Laid {
    /// The problem as it was posed.
    pub problem: Problem,
    pub week: Week,
    /// By item of [`Laid::week`]: the index of its exercise in the programme.
    pub items: Vec<usize>,
    /// What stands beside the grid, with the index of its exercise.
    pub all_day: Vec<(usize, AllDay)>,
    /// Exercises asked for every so many days, three or more, that are laid on the nearest number of days a week.
    pub rounded: Vec<usize>,
    /// Days on which nothing is laid.
    pub rest: DaySet,
    /// Why the patient's minutes do not suffice, and what would help.
    pub shortage: Option<Shortage>,
    /// Which week of a two-week cycle is shown, 1 or 2.
    pub shown_week: u8,
}

/// The week as it is shown: exercises by their index in the programme.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Shown {
    pub proved: bool,
    /// Seven, Monday first.
    pub days: Vec<ShownDay>,
    pub overtime: Vec<ShownOvertime>,
    pub unplaced: Vec<ShownUnplaced>,
    /// What stands in the week already, by day and part.
    pub fixed: Vec<ShownFixed>,
    /// Days of rest.
    pub rest: Vec<Day>,
}

/// Something that stands in the week already: `swimming` on Thursday evening.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ShownFixed {
    pub day: Day,
    pub part: Part,
    pub name: String,
}

impl ShownFixed {
    fn all(appointments: &[Appointment]) -> Vec<ShownFixed> {
        let mut all: Vec<ShownFixed> = appointments
            .iter()
            .map(|visit| ShownFixed { day: visit.day, part: visit.part, name: visit.name.clone() })
            .collect();
        crate::sorting::sort_by_key(&mut all, |fixed| (fixed.day, fixed.part));
        all
    }
}

#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ShownDay {
    pub day: Day,
    pub sessions: Vec<ShownSession>,
}

#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ShownSession {
    pub part: Part,
    /// Whole minutes, rounded up.
    pub minutes: u32,
    /// In the order in which they are done.
    pub exercises: Vec<usize>,
}

#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ShownOvertime {
    pub day: Day,
    /// None: the day as a whole.
    pub part: Option<Part>,
    /// Whole minutes, rounded up.
    pub minutes: u32,
}

#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct ShownUnplaced {
    pub exercise: usize,
    pub reason: String,
}

/// A repair as something to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Write {
    /// A new line among the keys: `time: Mon evening 25 min`.
    Line(String),
    /// How often this exercise is done instead: `2/week`.
    Often { exercise: usize, dose: String },
}

pub use moved::{Moved, moved};
pub use plot::plot;

/// The best week for this programme; the same programme gives the same week everywhere.
///
/// The search stops at `limit` steps, and then [`Week::proved`] is false. A fault is only possible for a programme of more
/// than 60 exercises or 64 muscle groups.
pub fn lay(programme: &Programme, limit: Limit) -> Result<Laid, Fault> {
    laid(lay::adapt(programme), programme.week_number, limit)
}

/// The programme as the week's plain problem: what [`lay`] solves.
pub fn problem(programme: &Programme) -> Problem {
    lay::adapt(programme).problem
}

fn laid(adapted: lay::Adapted, week_number: u32, limit: Limit) -> Result<Laid, Fault> {
    let week = solve::solve(&adapted.problem, limit)?;
    let shortage = shortage::shortage(&adapted.problem, &week, limit);
    let all_day = adapted.strip.into_iter().zip(adapted.problem.all_day.iter().cloned()).collect();
    // Weeks count from 1, so odd weeks are the first of the cycle.
    let shown_week = if week.weeks == 2 && week_number.is_multiple_of(2) { 2 } else { 1 };
    let (problem, items, rounded, rest) = (adapted.problem, adapted.items, adapted.rounded, adapted.rest);
    Ok(Laid { problem, week, items, all_day, rounded, rest, shortage, shown_week })
}

impl Laid {
    /// The index in the programme of an item's exercise.
    pub fn exercise(&self, item: usize) -> Option<usize> {
        self.items.get(item).copied()
    }

    /// The shown week, by the exercises' indices.
    pub fn shown(&self) -> Shown {
        let exercise = |item: &usize| self.exercise(*item);
        let days = Day::ALL
            .into_iter()
            .map(|day| {
                let here = self.week.sessions.iter().filter(|s| s.week == self.shown_week && s.day == day);
                let sessions = here
                    .map(|session| ShownSession {
                        part: session.part,
                        minutes: session.seconds.div_ceil(60),
                        exercises: session.items.iter().filter_map(exercise).collect(),
                    })
                    .collect();
                ShownDay { day, sessions }
            })
            .collect();
        let overtime = self
            .week
            .overtime
            .iter()
            .filter(|over| over.week == self.shown_week)
            .map(|over| ShownOvertime { day: over.day, part: over.part, minutes: over.seconds.div_ceil(60) })
            .collect();
        let unplaced = self
            .week
            .unplaced
            .iter()
            .filter_map(|out| {
                Some(ShownUnplaced { exercise: self.exercise(out.item)?, reason: out.reason.clone() })
            })
            .collect();
        let (fixed, rest) = (ShownFixed::all(&self.problem.appointments), self.rest.days().collect());
        Shown { proved: self.week.proved, days, overtime, unplaced, fixed, rest }
    }

    /// What to write for a repair of [`Laid::shortage`].
    pub fn written(&self, change: &Change) -> Vec<Write> {
        let line = |day: Day, part: Option<Part>, seconds: u32| {
            let part = part.map(|part| format!("{} ", part.name())).unwrap_or_default();
            Write::Line(format!("time: {} {part}{} min", day.short(), seconds / 60))
        };
        match change {
            Change::Minutes(slots) => {
                slots.iter().map(|&(day, part, seconds)| line(day, part, seconds)).collect()
            }
            Change::Slots(slots, seconds) => {
                slots.iter().map(|&(day, part)| line(day, part, *seconds)).collect()
            }
            Change::Goes(changes) => changes
                .iter()
                .filter_map(|&(item, days, goes)| {
                    let week = match days {
                        model::Days::PerWeek(n) => format!("{n}/week"),
                        model::Days::Daily => "daily".to_owned(),
                        model::Days::Alternate => "alternate days".to_owned(),
                        model::Days::Chosen(days) => {
                            days.days().map(Day::short).collect::<Vec<_>>().join(" ")
                        }
                    };
                    let dose = if goes == 1 { week } else { format!("{goes}/day, {week}") };
                    Some(Write::Often { exercise: self.exercise(item)?, dose })
                })
                .collect(),
        }
    }
}
