//! Desk, sheet and phone show one programme: the same exercises on the same days, under the same numbers.

use layfigure::catalog::Catalog;
use layfigure::desk::{Ask as Typed, Desk};
use layfigure::diary::{Diary, When};
use layfigure::handout::plan::Course;
use layfigure::handout::{self, Print, Sheet};
use layfigure::home::{Around, Home};
use layfigure::link::share::{Named, Wanted, share};
use layfigure::link::{pack, written};
use layfigure::measure::Date;
use layfigure::programme::Ask;
use layfigure::programme::settled::Cache;
use layfigure::week::model::Limit;
use proptest::prelude::*;
use std::collections::BTreeSet;

/// A day, a part of it, and the number of an exercise.
pub type Due = BTreeSet<(Date, String, usize)>;

const LIMIT: Limit = Limit::USUAL;

fn day(iso: &str) -> Date {
    Date::iso(iso).expect("a date")
}

/// As the printed table says it: rows by their heads, columns by their dates.
pub fn on_paper(text: &str, today: Date, print: Print, first: Date) -> Due {
    let (prescription, _) = layfigure::prescription::read(text);
    let mut cache = Cache::default();
    let ask = Ask::today(Some(today));
    let course =
        Course::of(&prescription, Catalog::embedded(), &ask, LIMIT, &mut cache).expect("a small week");
    let html = handout::html(&course, &Sheet { print, ..Sheet::default() });
    let mut due = Due::new();
    let mut date = first;
    for table in html.split("<table").skip(1) {
        let table = table.split("</table>").next().unwrap_or("");
        let (head, body) = table.split_once("</thead>").expect("a head");
        let heads: Vec<&str> = head.split("<th ").skip(1).collect();
        let dates: Vec<Date> = heads.iter().enumerate().map(|(n, _)| date.plus_days(n as i32)).collect();
        for (head, date) in heads.iter().zip(&dates) {
            assert!(head.contains(&format!("<b>{}</b>", date.day())), "{head} is for {date}");
        }
        let is_grid = table.starts_with(" class=\"grid");
        if !is_grid {
            date = dates.last().map_or(date, |last| last.plus_days(1));
        }
        for group in body.split("<tbody>").skip(1) {
            let numbers: Vec<usize> = group
                .split("class=\"number\">")
                .skip(1)
                .filter_map(|rest| rest.split('<').next()?.parse().ok())
                .collect();
            assert!(!numbers.is_empty(), "{group}");
            let mut part = String::new();
            for row in group.split("<tr>").skip(1) {
                if let Some(rest) = row.split("class=\"part\" scope=\"row\">").nth(1) {
                    part = rest.split('<').next().unwrap_or("").to_lowercase();
                } else if row.contains("class=\"session\"") {
                    part = row
                        .split("<b>")
                        .nth(1)
                        .and_then(|r| r.split(':').next())
                        .unwrap_or("")
                        .to_lowercase();
                    continue;
                } else if is_grid {
                    continue;
                }
                for (cell, date) in row.split("<td").skip(1).zip(&dates) {
                    if cell.contains("class=\"box\"") {
                        for number in &numbers {
                            assert!(due.insert((*date, part.clone(), *number)), "twice: {number} on {date}");
                        }
                    }
                }
            }
        }
    }
    due
}

/// As the phone has it, from the link, day by day.
fn on_phone(text: &str, today: Date, first: Date, last: Date) -> Due {
    let (prescription, _) = layfigure::prescription::read(text);
    let wanted = Wanted { named: Named::Written, emergency: None, today: Some(today), limit: LIMIT };
    let shared = share(&prescription, Catalog::embedded(), &wanted, &mut Cache::default()).expect("a link");
    let packed = pack::pack(&shared, Catalog::embedded()).expect("packed");
    let opened = written::open(&written::letters(&packed), Catalog::embedded()).expect("opened");
    let around = Around { served: true, in_app: false, can_buzz: true, still: false };
    let mut home = Home::new(around, Some(first));
    home.show(opened, Diary::default());
    let days = (0..=last.days_since(first)).map(|n| first.plus_days(n));
    days.flat_map(|date| {
        let due = home.due(date);
        due.into_iter().flat_map(move |(when, list)| {
            let part = match when {
                When::Morning => "morning",
                When::Midday => "midday",
                When::Evening => "evening",
                When::AllDay => "all day",
            };
            list.into_iter().map(move |index| (date, part.to_string(), index + 1))
        })
    })
    .collect()
}

/// As the desk's table shows it, week by week.
fn on_desk(text: &str, today: Date, first: Date, last: Date) -> Due {
    let hidden = BTreeSet::new();
    let mut due = Due::new();
    let mut desk = Desk::default();
    let weeks = u32::try_from(last.days_since(first)).expect("forwards") / 7 + 1;
    for week in 1..=weeks {
        desk.answer(&Typed { today: Some(today), week: Some(week), hidden: &hidden, ..Typed::of(text) });
        let slots = desk.week(text);
        let html: String = slots.iter().map(|slot| slot.html.as_str()).collect();
        let Some((head, body)) = html.split_once("</thead>") else { continue };
        let starts = first.plus_days(7 * (week as i32 - 1));
        let mut columns = Vec::new();
        for cell in head.split("<th ").skip(1) {
            let said = cell.split("<small>").nth(1).and_then(|r| r.split('<').next()).unwrap_or("");
            let date =
                (0..7).map(|n| starts.plus_days(n)).find(|d| d.words().starts_with(&format!("{said} ")));
            columns.push(date.unwrap_or_else(|| panic!("“{said}” is no day of the week from {starts}")));
        }
        assert!(columns.is_sorted() && columns.len() == 7, "{columns:?}");
        for row in body.split("<tr>").skip(1) {
            let part = row.split("scope=\"row\">").nth(1).and_then(|r| r.split('<').next()).unwrap_or("");
            for (cell, date) in row.split("<td").skip(1).zip(&columns) {
                for rest in cell.split("data-do=\"carry ").skip(1) {
                    // The number that is shown, not the index behind it.
                    let number =
                        rest.split("</button>").next().and_then(|r| r.rsplit('>').next()).unwrap_or("");
                    let number = number.parse().unwrap_or_else(|_| panic!("a number: {rest}"));
                    if *date <= last {
                        due.insert((*date, part.to_string(), number));
                    }
                }
            }
        }
    }
    due
}

fn alike(text: &str, start: Date, review: Date) -> usize {
    let phone = on_phone(text, start, start, review);
    // The desk shows the weeks of the course, of which the last goes on where the review is later.
    let weeks = layfigure::prescription::read(text).0.weeks;
    let shown = weeks.map_or(review, |weeks| review.min(start.plus_days(7 * i32::from(weeks) - 1)));
    let desk = on_desk(text, start, start, shown);
    let within: Due = phone.iter().filter(|(date, ..)| *date <= shown).cloned().collect();
    assert_eq!(within, desk, "phone and desk:\n{text}");
    for print in [Print::Normal, Print::Large] {
        let paper = on_paper(text, start, print, start);
        assert_eq!(paper, phone, "paper and phone, {print:?}:\n{text}");
    }
    phone.len()
}

const OFTEN: [&str; 13] = [
    "daily",
    "2/day",
    "3/day",
    "alternate days",
    "3/week",
    "2/week",
    "Mon Wed Fri",
    "Tue Sat, evening",
    "2/day, 3/week",
    "every 3 days",
    "4/day",
    "as needed, at most 3/day",
    "5/week, morning",
];

/// How often, from which week otherwise, and until when.
fn exercise() -> impl Strategy<Value = (usize, Option<(u8, usize)>, Option<u8>)> {
    let often = || 0..OFTEN.len();
    (often(), proptest::option::of((2u8..5, often())), proptest::option::of(3u8..26))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn desk_sheet_and_phone_have_the_same_days(
        weekday in 0i32..7,
        weeks in proptest::option::of(1u8..6),
        span in 6i32..34,
        exercises in proptest::collection::vec(exercise(), 1..5),
        minutes in any::<bool>(),
    ) {
        let start = day("2026-11-30").plus_days(weekday);
        let review = start.plus_days(span);
        let mut text = format!("start: {start}\nreview: {review}\n");
        if let Some(weeks) = weeks {
            text.push_str(&format!("weeks: {weeks}\n"));
        }
        if minutes {
            text.push_str("time: Mon-Fri morning 15 min, evening 10 min\n");
        }
        for (n, (often, step, until)) in exercises.iter().enumerate() {
            let until = until.map_or(String::new(), |days| format!(", until {}", start.plus_days(i32::from(days))));
            text.push_str(&format!("thing {} of ours: 3 x 10, {}{until}\n", ["one", "two", "three", "four"][n], OFTEN[*often]));
            if let Some((week, often)) = step {
                text.push_str(&format!("  from week {week}: 3 x 12, {}\n", OFTEN[*often]));
            }
        }
        alike(&text, start, review);
    }
}

#[test]
fn what_reviewers_met_is_the_same_everywhere() {
    // A start that is no Monday, with alternate days; a week from which the days are others; an end in mid-week.
    for (start, body) in [
        ("2026-11-29", "bridge: 3 x 10, alternate days\ncalf stretch, both: 3 x 30 s, daily, until week 2\n"),
        ("2026-12-02", "bridge: 3 x 10, 3/week\n  from week 3: 3 x 12, 5/week\nwall slide: 2 x 9, 2/day\n"),
        (
            "2026-12-04",
            "heel slide, left: 2 x 10, 3/day, until 2026-12-10\nbridge: 3 x 10, Tue Fri, evening\n",
        ),
    ] {
        let review = day(start).plus_days(24);
        let text = format!("start: {start}\nreview: {review}\nweeks: 4\n{body}");
        assert!(20 < alike(&text, day(start), review), "{text}");
    }
}

#[test]
fn numbers_are_those_of_the_text_everywhere() {
    let text = "start: 2026-11-30\nreview: 2026-12-14\nshake of ours: hourly\nbridge: 3 x 10, daily\n\
        squeeze of ours: as needed, at most 3/day\nwall slide: 2 x 9, daily\n";
    let (start, review) = (day("2026-11-30"), day("2026-12-14"));
    let numbers = |due: &Due| due.iter().map(|(_, _, number)| *number).collect::<BTreeSet<_>>();
    assert_eq!(numbers(&on_desk(text, start, start, review)), [2, 4].into());
    assert_eq!(numbers(&on_paper(text, start, Print::Normal, start)), [2, 4].into());
    assert_eq!(numbers(&on_phone(text, start, start, review)), [2, 4].into());
    let (prescription, _) = layfigure::prescription::read(text);
    let ask = Ask::today(Some(start));
    let course = Course::of(&prescription, Catalog::embedded(), &ask, LIMIT, &mut Cache::default());
    let html = handout::html(&course.expect("a small week"), &Sheet::default());
    for (number, name) in [(1, "Shake of ours"), (2, "Bridge"), (3, "Squeeze of ours"), (4, "Wall slide")] {
        let head = format!("class=\"number\">{number}</span> <bdi>");
        assert!(html.split(&head).skip(1).any(|rest| rest.starts_with(name)), "{number} {name}");
        assert!(html.split(&head).skip(1).all(|rest| rest.starts_with(name)), "{number} {name}");
    }
}
