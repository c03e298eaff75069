//! Links from outside: the week as plain data, what is handed over and what is not, and that nothing breaks.

use layfigure::catalog::Catalog;
use layfigure::measure::Date;
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, Programme, assemble};
use layfigure::week::model::Limit;
use layfigure::week::{self, pattern};

fn programme(text: &str, week: Option<u32>) -> Programme {
    let (prescription, _) = layfigure::prescription::read(text);
    let ask = Ask { week, ..Ask::today(Date::new(2026, 12, 1)) };
    assemble::at(&prescription, Catalog::embedded(), &ask, &mut Cache::default())
}

/// Texts with what a week can have: alternate days, too little time, something ended, all-day items, no slot.
const WEEKS: [&str; 5] = [
    include_str!("../../www/demo.txt"),
    "start: 2026-11-30\nbridge: 3 x 10, alternate days\nheel slide, right: 2 x 10, 2/day\n",
    "time: Mon-Fri morning 3 min\ntime: no Sun\nbridge: 3 x 12, daily, rest 60 s\nheel slide, both: 3 x 10, 3/day\n",
    "start: 2026-11-30\nbridge: 3 x 10, daily, until week 1\nheel slide, left: 10 reps, hourly\ncold pack, left knee: 10 min, as needed, at most 4/day\n",
    "bridge: 3 x 10, 3/day, morning\nplank of ours: 3 x 30 s, 3/week\n",
];

#[test]
fn a_pattern_shows_the_week_that_was_solved() {
    let mut sittings = 0;
    for text in WEEKS {
        for number in 1..=3 {
            let programme = programme(text, Some(number));
            let laid = week::lay(&programme, Limit::USUAL).expect("a small week");
            let pattern = laid.pattern();
            assert_eq!(pattern.shown(&programme), laid.shown(), "week {number} of:\n{text}");
            assert_eq!(pattern::all_day(&programme), laid.all_day);
            sittings += pattern.sittings.len();
        }
    }
    assert!(50 < sittings);
}

#[test]
fn what_has_ended_takes_no_minutes() {
    let text = WEEKS[3];
    let active = |week| {
        let programme = programme(text, Some(week));
        week::lay(&programme, Limit::USUAL).expect("a small week").pattern().sittings.len()
    };
    assert_eq!((active(1), active(2)), (7, 0));
}
