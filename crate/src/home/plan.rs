//! The plan that is open: its programme at any day, what is due then, and its pictures.

use crate::catalog::Catalog;
use crate::count::Moving;
use crate::diary::{self, Diary, When};
use crate::figure;
use crate::handout::known::Known;
use crate::handout::plan::Course;
use crate::handout::{self, Paper, Picture, Print, Sheet};
use crate::link::Shared;
use crate::markup::Markup;
use crate::measure::Date;
use crate::programme::settled::Cache;
use crate::programme::{Ask, Drawn, Exercise, Programme, USUAL_MARGIN};
use crate::week::course::{self, Count};
use std::sync::Arc;

/// Days of which the doses are kept: a month, to look back on.
const MOST_DAYS: usize = 31;

#[derive(Debug)]
pub struct Plan {
    pub shared: Shared,
    pub key: String,
    pub diary: Diary,
    pub start: Option<Date>,
    pub weeks: Option<u8>,
    pub review: Option<Date>,
    count: Count,
    cache: Cache,
    programmes: Vec<Arc<Programme>>,
    /// Days whose doses are not those of their week.
    days: Vec<(Date, Arc<Programme>)>,
    moving: Known<Option<Arc<Moving>>>,
    pictures: Known<Arc<Vec<Picture>>>,
}

impl Plan {
    pub fn new(shared: Shared, diary: Diary) -> Plan {
        let mut plan = Plan {
            key: diary::key(&shared.text),
            shared,
            diary,
            start: None,
            weeks: None,
            review: None,
            count: Count::default(),
            cache: Cache::default(),
            programmes: Vec::new(),
            days: Vec::new(),
            moving: Known::default(),
            pictures: Known::default(),
        };
        let first = plan.at_week(1);
        (plan.start, plan.weeks, plan.review) = (first.start, first.weeks, first.review);
        plan.count = Count::of(&first);
        plan
    }

    /// The programme as it stands on that day, with the doses of that day.
    pub fn programme(&mut self, day: Date) -> Arc<Programme> {
        if let Some((_, known)) = self.days.iter().find(|(of, _)| *of == day) {
            return Arc::clone(known);
        }
        let week = self.at_week(self.week_of(day));
        let Some(on) = week.on(day) else { return week };
        let on = Arc::new(on);
        if MOST_DAYS <= self.days.len() {
            self.days.clear();
        }
        self.days.push((day, Arc::clone(&on)));
        on
    }

    /// What comes of a dose that grows, by its dates: `From Thu 3 Dec: 10 minutes.`
    pub fn stages(&self, e: &Exercise, day: Date) -> Vec<String> {
        let Some(growth) = e.grows.as_ref().filter(|growth| growth.is_counted()) else { return Vec::new() };
        let Some(start) = self.start else {
            return vec![handout::dose::sentence(&handout::dose::growth(growth.ramp()))];
        };
        let of_course = |date: Date| u32::try_from(date.days_since(start)).unwrap_or(0);
        let ends = [self.review, self.ends(), e.amount.last_day];
        let last = ends.into_iter().flatten().min().map(of_course);
        let date = |day: u32| i32::try_from(day).map_or(start, |day| start.plus_days(day));
        let stages = handout::dose::stages(e, of_course(day), last).into_iter();
        let said = stages.map(|(day, words)| match day {
            Some(day) => format!("From {}: {words}", handout::plan::short(date(day))),
            None => words,
        });
        said.collect()
    }

    fn at_week(&mut self, week: u32) -> Arc<Programme> {
        if let Some(known) = self.programmes.iter().find(|p| p.week_number == week) {
            return Arc::clone(known);
        }
        // The sheet bears the day on which it was issued, not the day on which it is read.
        let ask = Ask { today: self.shared.issued, week: Some(week), margin: USUAL_MARGIN };
        let made = Arc::new(self.shared.programme(Catalog::embedded(), &ask, &mut self.cache));
        self.programmes.push(Arc::clone(&made));
        made
    }

    /// The week of the course that a day falls in, counted from 1; after the last it stays the last.
    fn week_of(&self, day: Date) -> u32 {
        self.count.week_of(day)
    }

    /// From this day on there is something to do: the start, else the day of issue.
    pub fn begins(&self) -> Option<Date> {
        self.start.or(self.shared.issued)
    }

    /// The last day of the course, where its weeks are numbered and dated.
    pub fn ends(&self) -> Option<Date> {
        let weeks = i32::from(self.weeks?);
        Some(self.start?.plus_days(7 * weeks - 1))
    }

    /// The parts of a day in which something is due, each with its exercises in the order in which they are
    /// done.
    pub fn due(&mut self, day: Date) -> Vec<(When, Vec<usize>)> {
        if self.begins().is_some_and(|first| day < first) {
            return Vec::new();
        }
        let programme = self.programme(day);
        let due = course::due(&self.shared.course, &programme, day);
        due.into_iter().map(|(part, list)| (When::from(part), list)).collect()
    }

    /// What has no place on the calendar: worn, as needed, little and often, and what no day had room for.
    pub fn all_day(&mut self, day: Date) -> Vec<usize> {
        if self.begins().is_some_and(|first| day < first) {
            return Vec::new();
        }
        let programme = self.programme(day);
        let pattern = self.shared.pattern(self.week_of(day));
        let laid =
            |index: &usize| pattern.is_some_and(|p| p.sittings.iter().any(|s| s.exercises.contains(index)));
        let numbered = programme.exercises.iter().enumerate();
        let beside = numbered.filter(|(i, e)| e.is_due(day) && !laid(i)).map(|(i, _)| i);
        beside.collect()
    }

    /// The exercises of a part of a day, in order.
    pub fn list(&mut self, day: Date, when: When) -> Vec<usize> {
        match when {
            When::AllDay => self.all_day(day),
            _ => self.due(day).into_iter().find(|(w, _)| *w == when).map(|(_, l)| l).unwrap_or_default(),
        }
    }

    /// The frames of the figure as the patient sees it, with the mark of a hold, drawn once.
    pub fn pictures(&mut self, programme: &Programme, e: &Exercise, drawn: &Drawn) -> Arc<Vec<Picture>> {
        let hold = e.amount.marked_hold();
        if let Some(known) = self.pictures.find(&drawn.movement, hold) {
            return Arc::clone(known);
        }
        let look = figure::Look { hold, ..figure::Look::default() };
        let figures = figure::apart(&programme.body, &drawn.movement, &look);
        let pictures = figures.into_iter().map(|f| Picture { svg: f.svg, words: f.words.join(" ") });
        let pictures = Arc::new(pictures.collect::<Vec<Picture>>());
        self.pictures.keep(&drawn.movement, hold, Arc::clone(&pictures));
        pictures
    }

    /// The movement instant by instant; None where hardly anything moves.
    pub fn moving(&mut self, programme: &Programme, drawn: &Drawn) -> Option<Arc<Moving>> {
        if let Some(known) = self.moving.find(&drawn.movement, None) {
            return known.clone();
        }
        let look = figure::Look::default();
        let made = Moving::of(&programme.body, &drawn.movement, &look).map(Arc::new);
        self.moving.keep(&drawn.movement, None, made.clone());
        made
    }

    /// Indices of exercises that look or read otherwise than when the plan was made.
    pub fn changed(&mut self, day: Date) -> Vec<usize> {
        let programme = self.programme(day);
        self.shared.changed(&programme, Catalog::embedded())
    }

    pub fn handout(&mut self, today: Option<Date>, paper: Paper, print: Print) -> Markup {
        let programme = match today {
            // The sheet begins with its week.
            Some(today) => self.at_week(self.week_of(today)),
            None => self.at_week(1),
        };
        let later = Course::weeks_behind(&programme).map(|week| self.at_week(week)).collect();
        let course = Course::new(Arc::clone(&programme), later, self.shared.course.clone());
        let sheet = Sheet { paper, print, ..Sheet::default() };
        handout::body(&course, &sheet, &mut handout::drawn(&programme))
    }
}

/// Minutes of these exercises once through, rounded up.
pub fn minutes(programme: &Programme, list: &[usize]) -> u32 {
    let seconds = list.iter().filter_map(|i| programme.exercises.get(*i)).map(|e| e.seconds.go);
    seconds.fold(0u32, u32::saturating_add).div_ceil(60)
}
