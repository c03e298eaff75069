//! Start and end of one exercise: read, and obeyed by programme, days, sheet, phone and checks alike.

use layfigure::catalog::Catalog;
use layfigure::diary::Diary;
use layfigure::handout::plan::Course;
use layfigure::handout::{Sheet, html};
use layfigure::home::view::View;
use layfigure::home::{Around, Home};
use layfigure::link::share::{Named, Wanted, share};
use layfigure::measure::Date;
use layfigure::notice::Severity;
use layfigure::prescription::{self, print};
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, Programme, assemble};
use layfigure::week::model::Limit;
use layfigure::week::phases;

const START: &str = "2026-11-30";

fn day(iso: &str) -> Date {
    Date::iso(iso).expect("a date")
}

fn at(text: &str, week: u32) -> Programme {
    let (p, _) = prescription::read(text);
    let ask = Ask { week: Some(week), ..Ask::today(Some(day(START))) };
    assemble::at(&p, Catalog::embedded(), &ask, &mut Cache::default())
}

fn course(text: &str) -> Course {
    let (p, _) = prescription::read(text);
    let ask = Ask::today(Some(day(START)));
    Course::of(&p, Catalog::embedded(), &ask, Limit::USUAL, &mut Cache::default()).expect("a week")
}

/// The last line of a text in canonical writing, which is read as the same again.
fn tidy(text: &str) -> String {
    let tidy = print(&prescription::read(text).0);
    assert_eq!(print(&prescription::read(&tidy).0), tidy, "of {text:?}");
    tidy.lines().last().unwrap_or_default().to_string()
}

#[test]
fn starts_and_ends_are_read_wherever_they_stand() {
    for (typed, meant) in [
        (
            "ankle pumps L 20 reps hourly (first week only)",
            "ankle pumps, left: 20 reps, hourly, until week 1",
        ),
        ("from 7 Dec: neck turn x10 tds", "neck turn: 10 reps, 3/day, from 2026-12-07"),
        (
            "nerve glide R 10 reps bd 14/12 - 3/1",
            "nerve glide, right: 10 reps, 2/day, from 2026-12-14, until 2027-01-03",
        ),
        ("wrist curl L 3x12 7-20 Dec", "wrist curl, left: 3 x 12, from 2026-12-07, until 2026-12-20"),
        ("wrist curl L 3x12 from Mon 14 Dec", "wrist curl, left: 3 x 12, from 2026-12-14"),
        ("from week 3 wrist curl L 3x12", "wrist curl, left: 3 x 12, from week 3"),
        ("wrist curl L 3x12 from week 2 for 10 days", "wrist curl, left: 3 x 12, from week 2, for 10 days"),
        ("wrist curl L 3x12 week 3 only", "wrist curl, left: 3 x 12, week 3 only"),
        ("shoulder shrug 2x8 not before 6/52 post op", "shoulder shrug: 2 x 8, from 6 weeks after surgery"),
        ("## Later (wk 3-6)\nshoulder shrug 2x8", "shoulder shrug: 2 x 8, weeks 3-6"),
    ] {
        assert_eq!(tidy(&format!("start: {START}\n{typed}")), meant, "{typed}");
    }
    for below in ["from week 4", "  from week 4", "  starting wk 4"] {
        let (p, _) = prescription::read(&format!("start: {START}\nshoulder shrug 2x8\n{below}"));
        assert_eq!(p.exercises[0].written(), "shoulder shrug: 2 x 8, from week 4", "{below}");
    }
    // Words that begin alike say where from, not from when.
    for (name, kept) in [
        ("walk from house to shop", "walk from house to shop"),
        ("sit to stand from low chair", "sit to stand, from low chair"),
    ] {
        assert_eq!(tidy(&format!("start: {START}\n{name} 3x8")), format!("{kept}: 3 x 8"));
    }
}

#[test]
fn what_can_be_meant_two_ways_is_asked() {
    for (typed, kind) in [
        ("until 3/4", "ask-date"),
        ("from 5/11", "ask-date"),
        ("week 3", "ask-week"),
        ("stop week 3", "ask-week"),
        ("weeks 5-3", "ask-week"),
        ("from Monday", "ask-day"),
        ("from Tue 14 Dec", "ask-day"),
        ("weeks 4-5, until week 2", "dose-twice"),
        ("from week 4, until 2026-12-10", "span-empty"),
    ] {
        let text = format!("start: {START}\nwrist curl L 3x12 {typed}");
        let (_, told) = prescription::read(&text);
        let asked = told.iter().find(|n| n.kind() == kind).unwrap_or_else(|| panic!("{typed}: {told:?}"));
        assert_eq!((asked.severity(), asked.place.line), (Severity::Error, 2), "{typed}");
    }
}

const PLAN: &str = "start: 2026-11-30\nweeks: 5\nreview: 2027-01-04\n\
    zebra lift: 2 x 8, daily\n\
    yak press, left: 3 x 12, daily, from week 3\n\
    fox turn: 10 reps, 2/day, for 10 days\n\
    owl hold: 3 x 20 s, daily, from 2026-12-16, until 2026-12-18\n";

#[test]
fn an_exercise_has_days_only_between_its_start_and_its_end() {
    let course = course(PLAN);
    let due = |index: usize| -> Vec<i32> {
        let days =
            course.days().iter().filter(|day| course.due(day).iter().any(|(_, list)| list.contains(&index)));
        days.filter_map(|d| d.date).map(|d| d.days_since(day(START))).collect()
    };
    assert_eq!(due(0).first(), Some(&0));
    assert_eq!(due(1), (14..=35).collect::<Vec<i32>>());
    assert_eq!(due(2), (0..10).collect::<Vec<i32>>());
    assert_eq!(due(3), [16, 17, 18]);
    let numbers: Vec<usize> = course.lines().iter().map(|line| line.number).collect();
    assert_eq!(numbers, [1, 2, 3, 4]);
    let page = html(&course, &Sheet::default());
    for said in ["From Mon 14 Dec.", "Last day: Wed 9 Dec.", "From Wed 16 Dec.", "Last day: Fri 18 Dec."] {
        assert!(page.contains(said), "{said}");
    }
    for (week, done) in
        [(1, [true, false, true, false]), (3, [true, true, false, true]), (4, [true, true, false, false])]
    {
        let programme = at(PLAN, week);
        let active: Vec<bool> = programme.exercises.iter().map(|e| e.active).collect();
        assert_eq!(active, done, "week {week}");
        let items = layfigure::week::problem(&programme).items.len();
        assert_eq!(items, done.iter().filter(|d| **d).count(), "week {week}");
    }
}

#[test]
fn what_begins_after_the_sheet_is_listed_with_its_date_and_without_boxes() {
    let text = "start: 2026-11-30\nweeks: 8\nreview: 2026-12-14\nzebra lift: 2 x 8, daily\n\
        yak press, left: 3 x 12, daily, from week 4\n";
    let course = course(text);
    assert!(course.lines().iter().all(|line| line.number == 1));
    assert_eq!(course.coming().iter().map(|line| line.number).collect::<Vec<_>>(), [2]);
    let page = html(&course, &Sheet::default());
    assert!(page.contains("From week 4 (Mon 21 Dec)."), "{page}");
    let boxes = |text: &str| html(&self::course(text), &Sheet::default()).matches("class=\"box\"").count();
    let without = text.lines().filter(|l| !l.starts_with("yak")).collect::<Vec<_>>().join("\n");
    assert_eq!(boxes(text), boxes(&without));
}

#[test]
fn the_phone_shows_it_in_its_weeks_alone() {
    let (p, _) = prescription::read(PLAN);
    let wanted =
        Wanted { named: Named::Written, emergency: None, today: Some(day(START)), limit: Limit::USUAL };
    let shared = share(&p, Catalog::embedded(), &wanted, &mut Cache::default()).expect("a link");
    let shown = |date: &str, views: &[&str]| {
        let around = Around { served: true, in_app: false, can_buzz: true, still: false };
        let mut home = Home::new(around, Some(day(date)));
        home.show(shared.clone(), Diary::default());
        let mut html = String::new();
        for view in views {
            home.go(View::named(view).expect("a view"));
            html.extend(home.answer().into_iter().flat_map(|(_, slots)| slots).map(|s| s.html));
        }
        html
    };
    let doing =
        ["do morning 0", "do morning 1", "do morning 2", "do midday 0", "do evening 0", "do evening 1"];
    let (begun, later) = (shown("2026-12-01", &doing), shown("2026-12-15", &doing));
    assert!(
        begun.contains("Zebra lift") && begun.contains("Fox turn") && !begun.contains("Yak press"),
        "{begun}"
    );
    assert!(
        later.contains("Zebra lift") && !later.contains("Fox turn") && later.contains("Yak press"),
        "{later}"
    );
    let sheet = shown("2026-12-01", &["sheet"]);
    assert!(sheet.contains("Yak press") && sheet.contains("From week 3 (Mon 14 Dec)."), "{sheet}");
}

#[test]
fn the_weeks_in_which_it_is_done_are_checked() {
    let text = "start: 2026-11-30\nweeks: 4\navoid: kneeling\nbird dog, right: 2 x 8, daily, from week 3\n";
    let against = |week| {
        let notices = at(text, week).notices;
        notices.iter().any(|n| n.severity() == Severity::Contraindication && n.place.line == 4)
    };
    assert!(!against(1) && against(3), "told of the weeks in which it is done");
    let (p, _) = prescription::read(text);
    let course = phases::course(&p, Catalog::embedded(), Some(day(START)), &mut Cache::default());
    assert!(course.later.iter().any(|(week, n)| *week == 3 && n.severity() == Severity::Contraindication));
}

#[test]
fn a_step_to_another_exercise_starts_clean() {
    let text = "start: 2026-11-30\nweeks: 4\n\
        yak press, left: 3 x 8, hold 4 s, tempo 3-1-1-0, ankle weight 2 kg, 2/day\n  cue: Slow down.\n  \
        stop if: Your hand goes numb.\n  from week 2: zebra lift 3 x 12\n  from week 3: 4 x 12\n";
    let first = at(text, 1);
    assert_eq!(first.exercises[0].words.cues, ["Slow down."]);
    for (week, dose) in [(2, "3 x 12, daily"), (3, "4 x 12, daily")] {
        let now = at(text, week);
        let e = &now.exercises[0];
        assert_eq!(e.name, "zebra lift");
        assert_eq!(e.amount.dose.to_string(), dose);
        assert!(e.words.cues.is_empty(), "{:?}", e.words);
        // A sign to stop is the patient's.
        assert_eq!(e.words.stop_if, ["Your hand goes numb."]);
    }
}

#[test]
fn the_side_stays_only_where_one_side_works() {
    let text = "start: 2026-11-30\nheel slide, left: 2 x 10, daily\n  from week 2: straight leg raise 3 x 8, daily\n  \
        from week 3: bridge 3 x 8, daily\n";
    let side = |week| at(text, week).exercises[0].side.words();
    assert_eq!((side(1), side(2), side(3)), ("left", "left", "none"));
}

/// What holds until a day without its year holds until then, in limits, weights and rules alike.
#[test]
fn limits_weights_and_rules_end_on_a_day_without_its_year() {
    let text = format!(
        "start: {START}\nno left elbow flexion > 100 until 20 Dec\nlimit: right hip abduction max 30 until 4/1\n\
         NWB L wrist till 14th January\nsling until 13/12\nshoulder shrug: 2 x 8, daily"
    );
    let (p, _) = prescription::read(&text);
    let day = |iso: &str| layfigure::measure::Date::iso(iso);
    assert_eq!(p.limits.iter().map(|l| l.last_day).collect::<Vec<_>>()[..1], [day("2026-12-20")]);
    assert_eq!(p.bearing.first().and_then(|b| b.last_day), day("2027-01-14"));
    assert_eq!(p.stated.first().and_then(|s| s.last_day), day("2026-12-13"));
    // Two readings: asked, and printed as typed.
    assert_eq!(p.limits.len(), 1);
    assert!(p.unread.iter().any(|u| u.said.text.contains("4/1")), "{:?}", p.unread);
    let tidy = prescription::print(&p);
    let (again, _) = prescription::read(&tidy);
    assert_eq!(again.limits.iter().map(|l| l.last_day).collect::<Vec<_>>(), [day("2026-12-20")]);
    assert_eq!(prescription::print(&again), tidy);
}

/// A step to another exercise keeps the side that was typed for it, wherever it is read.
#[test]
fn a_step_says_its_side() {
    let text = format!(
        "start: {START}\nshoulder shrug: 2 x 8, daily\n  when easy: wall push-up R 2 x 6\n  from week 3: each side 3 x 8"
    );
    let (p, _) = prescription::read(&text);
    let mut cache = layfigure::programme::settled::Cache::default();
    let ask = layfigure::programme::Ask::today(layfigure::measure::Date::iso(START));
    let catalog = layfigure::catalog::Catalog::embedded();
    let programme = layfigure::programme::assemble::at(&p, catalog, &ask, &mut cache);
    let said: Vec<&str> = programme.exercises[0].steps.iter().map(|s| s.what.as_str()).collect();
    assert_eq!(said, ["each side, 3 x 8", "wall push-up, RIGHT, 2 x 6"]);
}
