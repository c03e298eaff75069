//! The views of the page, each with a name for the browser's history. A name says nothing of the plan.

use crate::diary::When;
use crate::measure::Date;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum View {
    #[default]
    Today,
    /// One exercise of today, by its place among those of that part of the day, counted from 0.
    Do {
        when: When,
        at: usize,
    },
    /// After the last of them.
    End {
        when: When,
    },
    /// Something is wrong: what may be. `at`: the exercise that was being done.
    Wrong {
        at: Option<(When, usize)>,
    },
    /// A sign to stop that was met, and what to do.
    Stop,
    /// So many weeks back; negative: to come.
    Week {
        back: i32,
    },
    Day {
        day: Date,
    },
    Sheet,
    Help,
    Phone,
}

impl View {
    pub fn name(self) -> String {
        match self {
            View::Today => "today".into(),
            View::Do { when, at } => format!("do {} {at}", when.name()),
            View::End { when } => format!("end {}", when.name()),
            View::Wrong { at: None } => "wrong".into(),
            View::Wrong { at: Some((when, at)) } => format!("wrong {} {at}", when.name()),
            View::Stop => "stop".into(),
            View::Week { back } => format!("week {back}"),
            View::Day { day } => format!("day {day}"),
            View::Sheet => "sheet".into(),
            View::Help => "help".into(),
            View::Phone => "phone".into(),
        }
    }

    pub fn named(name: &str) -> Option<View> {
        let words: Vec<&str> = name.split(' ').collect();
        Some(match words.as_slice() {
            ["today"] => View::Today,
            ["do", when, at] => View::Do { when: When::named(when)?, at: at.parse().ok()? },
            ["end", when] => View::End { when: When::named(when)? },
            ["wrong"] => View::Wrong { at: None },
            ["wrong", when, at] => View::Wrong { at: Some((When::named(when)?, at.parse().ok()?)) },
            ["stop"] => View::Stop,
            ["week", back] => View::Week { back: back.parse().ok().filter(|b| (-60..=120).contains(b))? },
            ["day", day] => View::Day { day: Date::iso(day)? },
            ["sheet"] => View::Sheet,
            ["help"] => View::Help,
            ["phone"] => View::Phone,
            _ => return None,
        })
    }
}
