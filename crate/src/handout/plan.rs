//! The days of the sheet: from which date to which, and what is due on each.

use crate::dose::parts::{Often, Part};
use crate::measure::Date;
use crate::programme::{Exercise, Programme};
use crate::week;
use crate::week::pattern::Pattern;

/// What the sheet needs to know of the week: when each exercise is due. Days count from Monday 0 to 6, or to
/// 13 where the plan runs over two weeks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Due {
    /// 7 or 14.
    pub days: usize,
    /// By exercise, by day: the parts of the day, in order. Empty for an exercise that is not laid.
    pub due: Vec<Vec<Vec<Part>>>,
}

impl Due {
    /// From the solved week.
    pub fn of(laid: &week::Laid, exercises: usize) -> Due {
        Due::from_pattern(&laid.pattern(), exercises)
    }

    /// From a week that was laid before.
    pub fn from_pattern(pattern: &Pattern, exercises: usize) -> Due {
        let days = if pattern.weeks == 2 { 14 } else { 7 };
        let mut due = vec![vec![Vec::new(); days]; exercises];
        for sitting in &pattern.sittings {
            let day = usize::from(sitting.week == 2) * 7 + sitting.day as usize;
            for exercise in &sitting.exercises {
                if let Some(slot) = due.get_mut(*exercise).and_then(|by_day| by_day.get_mut(day)) {
                    slot.push(match sitting.part {
                        week::model::Part::Morning => Part::Morning,
                        week::model::Part::Midday => Part::Midday,
                        week::model::Part::Evening => Part::Evening,
                    });
                }
            }
        }
        Due { days, due }
    }

    /// The parts of the day in which the exercise is due; several for several goes.
    pub fn parts(&self, exercise: usize, day: usize) -> &[Part] {
        let days = if self.days == 14 { 14 } else { 7 };
        self.due.get(exercise).and_then(|e| e.get(day % days)).map_or(&[], Vec::as_slice)
    }
}

/// One column of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day {
    /// Monday is 0.
    pub weekday: u8,
    /// Day of the plan's cycle, 0 to 13.
    pub cycle: usize,
    pub date: Option<Date>,
    pub is_review: bool,
}

/// The most days that a sheet shows: twelve weeks.
const MOST: i32 = 84;

/// From the first day of the week shown (or today) up to and including the review date; two weeks where no
/// date says more.
pub fn days(programme: &Programme) -> Vec<Day> {
    let Some(from) =
        programme.week_starts.or(programme.start).or(programme.today.filter(|_| programme.review.is_some()))
    else {
        // Without dates: two weeks to write dates into.
        return (0..14u8)
            .map(|d| Day { weekday: d % 7, cycle: usize::from(d), date: None, is_review: false })
            .collect();
    };
    let span = programme.review.map_or(13, |review| review.days_since(from));
    let span = if span < 0 { 13 } else { span.min(MOST - 1) };
    let monday = from.plus_days(-i32::from(from.weekday()));
    (0..=span)
        .map(|n| {
            let date = from.plus_days(n);
            // Odd and even weeks count from the first week of the course, so that a reprint agrees.
            let anchor = programme.start.map_or(monday, |s| s.plus_days(-i32::from(s.weekday())));
            let cycle = usize::try_from(date.days_since(anchor).rem_euclid(14)).unwrap_or(0);
            Day {
                weekday: date.weekday(),
                cycle,
                date: Some(date),
                is_review: programme.review == Some(date),
            }
        })
        .collect()
}

/// How many boxes an exercise has on a day: its goes, none after its last day.
pub fn boxes(e: &Exercise, index: usize, laid: &Due, day: &Day) -> usize {
    if !e.active || matches!((e.amount.last_day, day.date), (Some(last), Some(date)) if last < date) {
        return 0;
    }
    laid.parts(index, day.cycle).len()
}

/// Whether an exercise stands in the all-day strip instead of the grid.
pub fn is_all_day(e: &Exercise) -> bool {
    use crate::dose::Kind;
    !matches!(e.amount.often, Often::Calendar { .. }) || matches!(e.kind, Kind::Worn | Kind::Advice)
}
