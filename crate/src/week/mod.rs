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

use crate::measure::Date;
use crate::programme::{Exercise, Programme};
use model::{AllDay, Appointment, Day, DaySet, Fault, Limit, Part, Problem, Week};
use shortage::{Change, Shortage};

/// The week that is shown: its days by weekday, which stand in the order of their dates only where it begins on Monday.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct View {
    /// Monday first; None: not dated.
    pub dates: [Option<Date>; 7],
    halves: [u8; 7],
    /// Exercises that are no longer done on some of the days, though they are on others.
    gone: Vec<(usize, DaySet)>,
}

impl View {
    pub fn of(programme: &Programme) -> View {
        let count = course::Count::of(programme);
        // Without a start only a sheet with a review date has dates, from the day of issue on.
        let first = programme.week_starts.or(programme.today.filter(|_| programme.review.is_some()));
        let date =
            |day: usize| first.map(|f| f.plus_days((day as i32 - i32::from(f.weekday())).rem_euclid(7)));
        let dates = std::array::from_fn(date);
        // Undated weeks begin on Monday: odd ones are the first of two.
        let undated = if programme.week_number.is_multiple_of(2) { 2 } else { 1 };
        let halves = dates.map(|date| date.map_or(undated, |date| count.half(date)));
        let is_gone = |e: &Exercise, day: Day| {
            dates.get(day as usize).copied().flatten().is_some_and(|date| e.active && !e.is_due(date))
        };
        let numbered = programme.exercises.iter().enumerate();
        let gone = numbered
            .map(|(at, e)| (at, Day::ALL.into_iter().filter(|day| is_gone(e, *day)).collect::<DaySet>()));
        View { dates, halves, gone: gone.filter(|(_, days)| !days.is_empty()).collect() }
    }

    fn half(&self, day: Day) -> u8 {
        self.halves.get(day as usize).copied().unwrap_or(1)
    }

    /// Whether an exercise is still done on that day.
    pub fn has(&self, exercise: usize, day: Day) -> bool {
        !self.gone.iter().any(|(gone, days)| *gone == exercise && days.has(day))
    }

    /// The days in the order of their dates.
    pub fn order(&self) -> [Day; 7] {
        let first = (0..7usize).min_by_key(|day| self.dates.get(*day).copied().flatten()).unwrap_or(0);
        std::array::from_fn(|at| Day::of(first + at))
    }
}

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
    /// The week that is shown, day by day.
    pub view: View,
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
    laid(lay::adapt(programme), programme, limit)
}

/// Whether an exercise stands beside the days: as needed, hourly, worn, advised, walked, or more often than a day has parts.
pub fn is_beside(exercise: &Exercise) -> bool {
    lay::all_day(exercise).is_some()
}

/// The programme as the week's plain problem: what [`lay`] solves.
pub fn problem(programme: &Programme) -> Problem {
    lay::adapt(programme).problem
}

fn laid(adapted: lay::Adapted, programme: &Programme, limit: Limit) -> Result<Laid, Fault> {
    let laid = laid_only(adapted, programme, limit)?;
    let shortage = shortage::shortage(&laid.problem, &laid.week, limit);
    Ok(Laid { shortage, ..laid })
}

/// The week without a look at why the minutes do not suffice, which may take longer than the week itself.
fn laid_only(adapted: lay::Adapted, programme: &Programme, limit: Limit) -> Result<Laid, Fault> {
    let week = solve::solve(&adapted.problem, limit)?;
    let all_day = adapted.strip.into_iter().zip(adapted.problem.all_day.iter().cloned()).collect();
    let view = View::of(programme);
    let (problem, items, rounded, rest) = (adapted.problem, adapted.items, adapted.rounded, adapted.rest);
    Ok(Laid { problem, week, items, all_day, rounded, rest, shortage: None, view })
}

impl Laid {
    /// The index in the programme of an item's exercise.
    pub fn exercise(&self, item: usize) -> Option<usize> {
        self.items.get(item).copied()
    }

    /// Which week of the pattern a day of the week shown is in.
    pub fn half(&self, day: Day) -> u8 {
        if self.week.weeks == 2 { self.view.half(day) } else { 1 }
    }

    /// The shown week, by the exercises' indices.
    pub fn shown(&self) -> Shown {
        let exercise = |item: &usize| self.exercise(*item);
        let days = Day::ALL
            .into_iter()
            .map(|day| {
                let half = self.half(day);
                let here = self.week.sessions.iter().filter(|s| s.week == half && s.day == day);
                let sessions = here.filter_map(|session| {
                    let items = || {
                        session
                            .items
                            .iter()
                            .filter(|item| exercise(item).is_some_and(|e| self.view.has(e, day)))
                    };
                    let seconds =
                        items().filter_map(|item| self.problem.items.get(*item)).map(|item| item.seconds);
                    let exercises: Vec<usize> = items().filter_map(exercise).collect();
                    let minutes = seconds.fold(0, u32::saturating_add).div_ceil(60);
                    (!exercises.is_empty()).then_some(ShownSession { part: session.part, minutes, exercises })
                });
                let sessions = sessions.collect();
                ShownDay { day, sessions }
            })
            .collect();
        let overtime = self
            .week
            .overtime
            .iter()
            .filter(|over| over.week == self.half(over.day))
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
