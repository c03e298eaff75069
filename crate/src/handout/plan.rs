//! The days of the sheet: from which date to which, what is due on each, and where a dose changes.

use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

use super::dose;
use crate::catalog::Catalog;
use crate::dose::Start;
use crate::measure::{Date, WEEKDAY_NAMES};
use crate::prescription::Prescription;
use crate::programme::growth::Growth;
use crate::programme::settled::Cache;
use crate::programme::{Amount, Ask, Exercise, Programme, assemble};
use crate::week::course::{self, Count, Stretch};
use crate::week::is_beside;
use crate::week::model::{self, Fault, Limit, Part};

/// What the sheet needs to know of the course: the programme of each of its weeks, and how their days are laid.
#[derive(Clone, Debug)]
pub struct Course {
    /// The week shown.
    first: Arc<Programme>,
    /// The weeks after it, up to the sheet's last day.
    later: Vec<Arc<Programme>>,
    stretches: Vec<Stretch>,
    days: Vec<Day>,
}

/// One day of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day {
    /// Monday is 0.
    pub weekday: u8,
    /// The week of the course.
    pub week: u32,
    /// Which week of two it is in, 1 or 2.
    half: u8,
    pub date: Option<Date>,
    pub is_review: bool,
}

/// An exercise for as long as it stays the same one: a step to another begins a line of its own.
#[derive(Clone, Debug)]
pub struct Line<'a> {
    /// Its number, the same on desk, sheet and phone.
    pub number: usize,
    /// Its index in the programme.
    pub index: usize,
    pub exercise: &'a Exercise,
    /// By place in [`Course::days`].
    pub days: Range<usize>,
    /// Where it is done otherwise than on the day before.
    pub changes: Vec<Change>,
    /// Whether it has days; else it stands beside them.
    pub is_laid: bool,
    /// The body that it is drawn with.
    pub programme: &'a Programme,
}

/// From a day on, an exercise is done otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    pub day: usize,
    /// `From Mon 14 Dec: 3 sets of 12.`
    pub words: String,
}

/// A line that is being gone along, day by day.
struct Run<'a> {
    line: Line<'a>,
    last: &'a Exercise,
    /// Its dose on the last day.
    amount: Cow<'a, Amount>,
    /// For each change, what grew of itself; None: a step.
    grown: Vec<Option<&'a Growth>>,
}

impl<'a> Run<'a> {
    /// The line, with long growth told by its first figures and its rule.
    fn told(self) -> Line<'a> {
        let mut line = self.line;
        let mut changes: Vec<Change> = Vec::new();
        let mut told = line.changes.into_iter().zip(self.grown).peekable();
        while let Some((change, grown)) = told.next() {
            changes.push(change);
            let Some(growth) = grown else { continue };
            let mut group = Vec::new();
            while let Some((change, _)) = told.next_if(|(_, next)| *next == Some(growth)) {
                group.push(change);
            }
            let rule = || dose::and_so_on(growth.ramp());
            changes.extend(dose::first_of(group, 1, |change: Change| Change { words: rule(), ..change }));
        }
        line.changes = changes;
        line
    }
}

/// The most days that a sheet shows: twelve weeks.
const MOST: i32 = 84;

impl Course {
    /// The course of a prescription from the week asked for on. A fault is only possible for a programme of more than
    /// 60 exercises or 64 muscle groups.
    pub fn of(
        p: &Prescription,
        catalog: &Catalog,
        ask: &Ask,
        limit: Limit,
        cache: &mut Cache,
    ) -> Result<Course, Fault> {
        let mut weeks: Vec<Arc<Programme>> = Vec::new();
        let first = Arc::new(assemble::at(p, catalog, ask, cache));
        let from = first.week_number;
        let last = days(&first).last().map_or(from, |day| day.week.max(from));
        let stretches = course::course(from..=last, limit, |week| {
            let made = if week == from {
                Arc::clone(&first)
            } else {
                Arc::new(assemble::at(p, catalog, &Ask { week: Some(week), ..*ask }, cache))
            };
            weeks.push(Arc::clone(&made));
            made
        })?;
        weeks.retain(|programme| from < programme.week_number);
        Ok(Course::new(first, weeks, stretches))
    }

    /// From programmes and weeks that were laid before. `later` has the weeks behind the one shown, in their order.
    pub fn new(first: Arc<Programme>, later: Vec<Arc<Programme>>, stretches: Vec<Stretch>) -> Course {
        let days = days(&first);
        Course { first, later, stretches, days }
    }

    /// Without any days: doses alone.
    pub fn without_days(programme: Programme) -> Course {
        Course::new(Arc::new(programme), Vec::new(), Vec::new())
    }

    /// The week shown.
    pub fn programme(&self) -> &Programme {
        &self.first
    }

    pub fn days(&self) -> &[Day] {
        &self.days
    }

    /// The weeks that the sheet needs behind the one shown.
    pub fn weeks_behind(programme: &Programme) -> std::ops::RangeInclusive<u32> {
        let last = days(programme).last().map_or(0, |day| day.week);
        programme.week_number + 1..=last
    }

    fn week(&self, week: u32) -> &Programme {
        let begun = self.later.iter().take_while(|programme| programme.week_number <= week);
        begun.last().unwrap_or(&self.first)
    }

    /// What is due on a day, part by part.
    pub fn due(&self, day: &Day) -> Vec<(Part, Vec<usize>)> {
        if let Some(date) = day.date {
            return course::due(&self.stretches, self.week(day.week), date);
        }
        let Some(pattern) = course::pattern(&self.stretches, day.week) else { return Vec::new() };
        let programme = self.week(day.week);
        let is_active = |index: &usize| programme.exercises.get(*index).is_some_and(|e| e.active);
        let weekday = model::Day::ALL.get(usize::from(day.weekday)).copied().unwrap_or(model::Day::Mon);
        let sittings = pattern.on(day.half, weekday);
        let due =
            sittings.map(|s| (s.part, s.exercises.iter().copied().filter(is_active).collect::<Vec<_>>()));
        due.filter(|(_, exercises)| !exercises.is_empty()).collect()
    }

    /// The exercises of the sheet's days, by number.
    pub fn lines(&self) -> Vec<Line<'_>> {
        (0..self.first.exercises.len()).flat_map(|index| self.runs(index)).collect()
    }

    /// What begins only after the days of the sheet, in the order of the text.
    pub fn coming(&self) -> Vec<Line<'_>> {
        let end = self.days.len();
        let last = self.days.last().map_or(self.first.week_number, |day| day.week);
        let programme = self.week(last);
        let begins_later =
            |e: &Exercise| match (self.days.last().and_then(|day| day.date), e.amount.first_day) {
                (Some(last), Some(first)) => last < first,
                _ => e.is_coming,
            };
        let numbered = programme.exercises.iter().enumerate();
        let coming = numbered.filter(|(_, e)| begins_later(e) && (e.active || e.is_coming));
        coming
            .map(|(index, exercise)| Line {
                number: index + 1,
                index,
                exercise,
                days: end..end,
                changes: Vec::new(),
                is_laid: false,
                programme,
            })
            .collect()
    }

    /// One exercise of the text over the days: a line for as long as it stays the same exercise.
    fn runs(&self, index: usize) -> Vec<Line<'_>> {
        let mut runs: Vec<Run<'_>> = Vec::new();
        for (at, day) in self.days.iter().enumerate() {
            let programme = self.week(day.week);
            let Some(e) = programme.exercises.get(index) else { continue };
            if !day.date.map_or(e.active, |date| e.is_due(date)) {
                continue;
            }
            let amount = e.amount_on(day.date.and_then(|date| self.first.day_of_course(date)));
            if let Some(run) = runs.last_mut()
                && run.line.days.end == at
                && is_same(run.last, e)
            {
                run.line.days.end = at + 1;
                if let Some(words) = otherwise(run.last, &run.amount, e, &amount) {
                    let words = format!("{}: {words}", self.from(at));
                    run.line.changes.push(Change { day: at, words });
                    // A step says its own figures; only what grows of itself is told by its rule.
                    run.grown.push(e.grows.as_ref().filter(|_| run.last.grows == e.grows));
                }
                (run.last, run.amount) = (e, amount);
                continue;
            }
            // Where nothing was laid at all, only its own nature says what it is.
            let is_laid = if self.stretches.is_empty() {
                !is_beside(e)
            } else {
                let sittings = self.stretches.iter().flat_map(|stretch| &stretch.pattern.sittings);
                sittings.into_iter().any(|sitting| sitting.exercises.contains(&index))
            };
            let changes = Vec::new();
            let line =
                Line { number: index + 1, index, exercise: e, days: at..at + 1, changes, is_laid, programme };
            runs.push(Run { line, last: e, amount, grown: Vec::new() });
        }
        runs.into_iter().map(Run::told).collect()
    }

    /// `From Mon 14 Dec`, `From week 3`.
    pub fn from(&self, at: usize) -> String {
        match self.days.get(at) {
            Some(Day { date: Some(date), .. }) => format!("From {}", short(*date)),
            Some(day) => format!("From week {}", day.week),
            None => String::new(),
        }
    }

    /// When a line begins and ends, where that isn't with the sheet: `From Mon 14 Dec. Last day: Sun 20 Dec.`
    pub fn span(&self, line: &Line<'_>) -> Vec<String> {
        let mut said = Vec::new();
        let amount = &line.exercise.amount;
        if line.days.is_empty() {
            return dose::when(amount);
        }
        if 0 < line.days.start {
            said.push(format!("{}.", self.from(line.days.start)));
        } else if amount.first_day.is_none()
            && let Some(from @ (Start::After { .. } | Start::Yearless(_))) = amount.dose.from
        {
            said.push(super::dose::sentence(&from.to_string()));
        }
        let ended = self
            .days
            .get(line.days.end)
            .is_some()
            .then(|| self.days.get(line.days.end.saturating_sub(1)))
            .flatten();
        // Without dates its rule says on which days it grows.
        if self.first.start.is_none()
            && let Some(growth) = line.exercise.grows.as_ref().filter(|growth| growth.is_counted())
        {
            said.push(dose::sentence(&dose::growth(growth.ramp())));
        }
        match (ended, amount.last_day, &amount.dose.until) {
            (Some(Day { date: Some(date), .. }), _, _) => said.push(format!("Last day: {}.", short(*date))),
            (Some(day), _, _) => said.push(format!("Until the end of week {}.", day.week)),
            (None, Some(last), _) => said.push(format!("Last day: {}.", short(last))),
            (None, None, Some(end)) => said.push(super::dose::sentence(&end.to_string())),
            (None, None, None) => {}
        }
        said
    }
}

/// `Mon 14 Dec`.
pub fn short(date: Date) -> String {
    let words = date.words();
    let day = words.rsplit_once(' ').map_or(words.as_str(), |(day, _)| day);
    let weekday = WEEKDAY_NAMES.get(usize::from(date.weekday())).copied().unwrap_or("");
    format!("{weekday} {day}")
}

fn is_same(before: &Exercise, now: &Exercise) -> bool {
    (&before.name, before.side, &before.at) == (&now.name, now.side, &now.at)
}

/// What is said of the dose now and wasn't before; None: it is said in the same words.
fn otherwise(old: &Exercise, before: &Amount, new: &Exercise, now: &Amount) -> Option<String> {
    if before == now {
        return None;
    }
    let work = |e: &Exercise, amount: &Amount| {
        dose::work_of(e, amount).iter().map(|line| dose::plain(line)).collect::<Vec<_>>()
    };
    let often = |amount: &Amount| dose::plain(&dose::often(amount));
    let mut said = Vec::new();
    if work(old, before) != work(new, now) {
        said.extend(work(new, now));
    }
    if often(before) != often(now) {
        said.push(often(now));
    }
    let mut said: Vec<String> = said.into_iter().map(|words| format!("{words}.")).collect();
    let (old, new) = (dose::extras(before), dose::extras(now));
    if old != new {
        said.extend(new);
    }
    (!said.is_empty()).then(|| said.join(" "))
}

/// From the first day of the week shown (or today) up to and including the review date; two weeks where no
/// date says more.
fn days(programme: &Programme) -> Vec<Day> {
    let count = Count::of(programme);
    let Some(from) =
        programme.week_starts.or(programme.start).or(programme.today.filter(|_| programme.review.is_some()))
    else {
        // Without dates: two weeks to write dates into.
        return (0..14u8)
            .map(|d| {
                let week = programme.week_number + u32::from(d / 7);
                let half = if week.is_multiple_of(2) { 2 } else { 1 };
                Day { weekday: d % 7, week, half, date: None, is_review: false }
            })
            .collect();
    };
    let span = programme.review.map_or(13, |review| review.days_since(from));
    let span = if span < 0 { 13 } else { span.min(MOST - 1) };
    (0..=span)
        .map(|n| {
            let date = from.plus_days(n);
            // Without a start the week asked for stays the one shown.
            let shown = programme.week_number;
            let week = if programme.start.is_some() { count.week_of(date).max(shown) } else { shown };
            let is_review = programme.review == Some(date);
            Day { weekday: date.weekday(), week, half: count.half(date), date: Some(date), is_review }
        })
        .collect()
}
