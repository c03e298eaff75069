//! Doses that grow and change: lines that nobody listed, and what paper, phone and link make of them.

use crate::said::made::Made;
use layfigure::catalog::Catalog;
use layfigure::diary::Diary;
use layfigure::handout::plan::Course;
use layfigure::handout::{Sheet, html};
use layfigure::home::view::View;
use layfigure::home::{Around, Home};
use layfigure::link::share::{Named, Wanted, share};
use layfigure::link::{self, Shared};
use layfigure::measure::Date;
use layfigure::prescription::{self, print};
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, assemble};
use layfigure::week::model::Limit;

const START: &str = "2026-11-30";

fn day(iso: &str) -> Date {
    Date::iso(iso).expect("a date")
}

/// The lines from the exercise on in canonical writing, which is read as the same again.
fn tidy(typed: &str) -> Vec<String> {
    let text = format!("start: {START}\n{typed}\n");
    let tidy = print(&prescription::read(&text).0);
    assert_eq!(print(&prescription::read(&tidy).0), tidy, "of {typed:?}");
    let lines: Vec<String> = tidy.lines().skip(1).map(|l| l.trim().to_string()).collect();
    let (first, again) = (prescription::read(&text).0, prescription::read(&tidy).0);
    let said = |p: &prescription::Prescription| -> Vec<String> {
        let of = |x: &prescription::Exercise| {
            let steps = x.steps.iter().map(prescription::Step::written);
            let told = x.details.iter().map(|d| format!("{:?} {}", d.about, d.said.text));
            core::iter::once(x.dose.to_string()).chain(steps).chain(told).collect::<Vec<_>>()
        };
        p.exercises.iter().flat_map(of).collect()
    };
    assert_eq!(said(&first), said(&again), "of {typed:?}");
    lines
}

#[test]
fn a_line_below_belongs_to_its_exercise_without_colon_or_indent() {
    let mut wrong = Vec::new();
    for (typed, meant) in [
        ("increase reps by 2 each week, max 16", "add 2 reps every week up to 16 reps"),
        ("each week: one more set up to 5", "add 1 set every week up to 5 sets"),
        ("every other day add 5 s to a max of 45s", "add 5 s every 2 days up to 45 s"),
        ("+ 3 min every 2 days", "add 3 min every 2 days"),
        ("+10%/week", "add 10 % every week"),
        ("add a stair each day", "add a stair every day"),
        ("two more reps every 4 days until 20", "add 2 reps every 4 days up to 20 reps"),
        ("if swelling goes up, halve it", "if swelling goes up: halve it"),
        ("if knee sore for more than 24h go back to 2 sets", "if knee sore for more than 24h: 2 sets"),
        ("when pain free for 3 days progress to 3x15", "when pain free for 3 days: 3 x 15"),
        (
            "when this is easy try single leg bridge R 3x6",
            "when this is easy: single leg bridge, right: 3 x 6",
        ),
        ("if dizzy stop", "stop if: dizzy"),
        ("drop to 2 sets if tired", "if tired: 2 sets"),
        ("increase to 3x12 once comfortable", "when comfortable: 3 x 12"),
        ("if pain > 5 skip a day", "if pain > 5: skip a day"),
        ("if pain >5/10 -> 2 sets", "if pain > 5/10: 2 sets"),
        ("add 1kg when 3x12 is easy", "when 3x12 is easy: add 1kg"),
        ("once walking without crutches 3x12", "when walking without crutches: 3 x 12"),
        ("build up slowly as comfort allows", "cue: build up slowly as comfort allows"),
        ("ease off if it aches at night", "cue: ease off if it aches at night"),
        ("then 3x20 from week 5", "from week 5: 3 x 20"),
        ("stop when the knee gives way", "stop if: the knee gives way"),
        ("if unable to finish use 1 kg", "if unable to finish: 1 kg"),
        ("if sore next day: halve it", "if sore next day: halve it"),
        ("if able to do 20 add a set", "if able to do 20: add a set"),
    ] {
        for indent in ["", "  ", "\t"] {
            let got = tidy(&format!("zebra lift L 3x10, daily\n{indent}{typed}"));
            if got != ["zebra lift, left: 3 x 10, daily", meant] {
                wrong.push(format!("{indent:?} {typed}: {got:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn what_stands_behind_a_comma_becomes_a_line_below() {
    for (typed, meant) in [
        (
            "zebra lift L 3x10, if easy add 1 kg, stop if it clicks",
            vec!["zebra lift, left: 3 x 10", "if easy: add 1 kg", "stop if: it clicks"],
        ),
        (
            "zebra lift L 3x10 daily, +1 rep/week up to 15, when pain free 4x10",
            vec![
                "zebra lift, left: 3 x 10, daily, + 1 rep every week up to 15 reps",
                "when pain free: 4 x 10",
            ],
        ),
        (
            "zebra lift L 3x10, progress to 3x12 when easy, daily",
            vec!["zebra lift, left: 3 x 10, daily", "when easy: 3 x 12"],
        ),
        ("yak press R 2x8 then 3x8 from week 3", vec!["yak press, right: 2 x 8", "from week 3: 3 x 8"]),
        (
            "yak press R 2x8, once able do 3x8 with red band",
            vec!["yak press, right: 2 x 8", "when able: 3 x 8, band \"red\""],
        ),
        (
            "yak press R 2x8, if it hurts at night, half the reps",
            vec!["yak press, right: 2 x 8", "if it hurts at night: half the reps"],
        ),
        (
            "yak press R: 2x8, from 14 Dec 3x8, from 28 Dec 3x12",
            vec!["yak press, right: 2 x 8", "from 2026-12-14: 3 x 8", "from 2026-12-28: 3 x 12"],
        ),
        (
            "yak press R 2x8, +2 reps/week up to 14, then 3x8 once easy, alternate days",
            // What stands last holds for the whole line: a step keeps how often.
            vec![
                "yak press, right: 2 x 8, alternate days, + 2 reps every week up to 14 reps",
                "when easy: 3 x 8",
            ],
        ),
        // These say how it is done, not what comes of it.
        (
            "yak press R 2x8, hold the rail if wobbly",
            vec!["yak press, right: 2 x 8, hold the rail if wobbly"],
        ),
        ("zebra lift when standing 3x10", vec!["zebra lift when standing: 3 x 10"]),
        ("yak press R 2x8 daily, from week 3", vec!["yak press, right: 2 x 8, daily, from week 3"]),
    ] {
        assert_eq!(tidy(typed), meant, "{typed}");
    }
}

#[test]
fn what_is_no_change_of_the_exercise_above_stays_what_it_is() {
    for below in [
        "increase in pain when walking",
        "increase in pain at night",
        "when sitting squeeze glutes 10x hourly",
        "once a day 3x10",
        "once daily zebra march 2x10",
        "do not lift if sore",
        "go to GP if numb",
        "yak press 3x10 when able",
    ] {
        let (p, _) = prescription::read(&format!("zebra lift L 3x10, daily\n{below}"));
        assert_eq!(p.exercises[0].written(), "zebra lift, left: 3 x 10, daily", "{below}");
        assert!(
            p.exercises[0].steps.is_empty() && p.exercises[0].details.is_empty(),
            "{below}: {:?}",
            p.exercises[0]
        );
    }
}

#[test]
fn what_comes_later_is_told_at_its_words() {
    let text = "zebra lift L 3x10, then owl stand 3x20s from week 2";
    let (p, told) = prescription::read(&format!("start: {START}\n{text}"));
    assert_eq!(p.exercises.len(), 1);
    let notice = told.iter().find(|n| n.kind() == "read-as-later").expect("told");
    assert_eq!(text.get(notice.place.start..notice.place.end), Some("then owl stand 3x20s from week 2"));
    assert!(notice.sentence().contains("from week 2: owl stand: 3 x 20 s"), "{}", notice.sentence());
}

fn course(text: &str, week: u32) -> Course {
    let (p, _) = prescription::read(text);
    let ask = Ask { week: Some(week), ..Ask::today(Some(day(START))) };
    Course::of(&p, Catalog::embedded(), &ask, Limit::USUAL, &mut Cache::default()).expect("a week")
}

fn words(html: &str) -> String {
    let body = html.split_once("<body>").map_or(html, |(_, body)| body);
    let text: String = body
        .split('<')
        .map(|piece| piece.split_once('>').map_or(piece, |(_, text)| text))
        .collect::<Vec<_>>()
        .join(" ");
    text.split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace("&gt;", ">")
        .replace(" .", ".")
        .replace(" ,", ",")
}

fn paper(text: &str, week: u32) -> String {
    words(&html(&course(text, week), &Sheet::default()))
}

/// The link itself, packed and opened again.
fn opened(text: &str) -> Shared {
    let (p, _) = prescription::read(text);
    let wanted =
        Wanted { named: Named::Written, emergency: None, today: Some(day(START)), limit: Limit::USUAL };
    let shared = share(&p, Catalog::embedded(), &wanted, &mut Cache::default()).expect("a link");
    let packed = link::pack::pack(&shared, Catalog::embedded()).expect("packed");
    let again = link::pack::unpack(&packed, Catalog::embedded()).expect("opened");
    assert_eq!(again, shared);
    again
}

fn phone(text: &str, today: &str, view: &str) -> String {
    let around = Around { served: true, in_app: false, can_buzz: true, still: false };
    let mut home = Home::new(around, Some(day(today)));
    home.show(opened(text), Diary::default());
    home.go(View::named(view).expect("a view"));
    let slots = home.answer().into_iter().flat_map(|(_, slots)| slots);
    words(&slots.map(|slot| slot.html).collect::<String>())
}

const WALK: &str = "start: 2026-11-30\nweeks: 4\nreview: 2026-12-14\nwander of ours: 8 min, daily, add 2 min every 3 days up to 14 min\n";

#[test]
fn a_dose_that_grows_has_its_dates_and_figures_on_paper() {
    let said = paper(WALK, 1);
    let line = "From Thu 3 Dec: 10 minutes. From Sun 6 Dec: 12 minutes. From Wed 9 Dec: 14 minutes.";
    assert!(said.contains(&format!("8 minutes. Every day. {line}")), "{said}");
    assert!(!said.contains("16 minutes") && !said.contains("Then 2 minutes"), "{said}");
    // The sheet of a later week begins with that week's dose.
    let later = paper(WALK, 2);
    assert!(later.contains("12 minutes. Every day. From Wed 9 Dec: 14 minutes."), "{later}");
    assert!(!later.contains("8 minutes"), "{later}");
}

#[test]
fn the_phone_gives_the_dose_of_the_day_that_paper_gives() {
    for (today, now, next) in [
        ("2026-11-30", "8 minutes", Some("From Thu 3 Dec: 10 minutes.")),
        ("2026-12-02", "8 minutes", Some("From Thu 3 Dec: 10 minutes.")),
        ("2026-12-03", "10 minutes", Some("From Sun 6 Dec: 12 minutes.")),
        ("2026-12-07", "12 minutes", Some("From Wed 9 Dec: 14 minutes.")),
        ("2026-12-12", "14 minutes", None),
    ] {
        for view in ["do morning 0", "sheet"] {
            let said = phone(WALK, today, view);
            let dose = said.find(now).unwrap_or_else(|| panic!("{today} {view}: {said}"));
            for other in ["8 minutes", "10 minutes", "12 minutes", "14 minutes"].iter().filter(|o| **o != now)
            {
                assert!(said.find(other).is_none_or(|at| dose < at), "{today} {view}: {said}");
            }
            match next {
                Some(next) => assert!(said.contains(next), "{today} {view}: {said}"),
                None => assert!(
                    ["From Thu", "From Sun", "From Wed"].iter().all(|from| !said.contains(from)),
                    "{today} {view}: {said}"
                ),
            }
        }
    }
    assert!(opened(WALK).text.contains("+ 2 min every 3 days up to 14 min"));
}

#[test]
fn counting_with_the_patient_goes_by_the_dose_of_the_day() {
    let text =
        "start: 2026-11-30\nweeks: 4\nowl stand of ours: 1 x 10, daily, add a set every 3 days (max 3)\n";
    let sets = |today: &str| {
        let around = Around { served: true, in_app: false, can_buzz: true, still: false };
        let mut home = Home::new(around, Some(day(today)));
        home.show(opened(text), Diary::default());
        home.go(View::named("do morning 0").expect("a view"));
        home.act(layfigure::home::act::Act::named("timer start").expect("an act"));
        home.timer.as_ref().and_then(|timer| timer.phases().iter().map(|phase| phase.sets).max())
    };
    assert_eq!(
        ["2026-11-30", "2026-12-03", "2026-12-06", "2026-12-20"].map(sets),
        [Some(1), Some(2), Some(3), Some(3)]
    );
}

#[test]
fn many_stages_are_the_first_and_the_rule() {
    let text = "start: 2026-11-30\nreview: 2026-12-20\nzebra lift: 5 reps, daily, add 1 rep a day up to 30\n";
    let said = paper(text, 1);
    let line = "From Tue 1 Dec: 6 times. From Wed 2 Dec: 7 times. From Thu 3 Dec: 8 times. From Fri 4 Dec: 9 times. \
                Then 1 more time every day, up to 30 times.";
    assert!(said.contains(line), "{said}");
    assert!(!said.contains("10 times"), "{said}");
    let phone = phone(text, START, "do morning 0");
    assert!(phone.contains(line), "{phone}");
}

#[test]
fn a_step_says_its_dose_and_what_grows_goes_on_from_there() {
    let text =
        "start: 2026-11-30\nweeks: 6\nzebra lift: 2 x 6, daily, add 1 rep a week\n  from week 3: 3 x 10\n";
    let (p, _) = prescription::read(text);
    let at = |week| {
        let ask = Ask { week: Some(week), ..Ask::today(Some(day(START))) };
        let programme = assemble::at(&p, Catalog::embedded(), &ask, &mut Cache::default());
        let portion = &programme.exercises[0].amount.portions[0];
        (portion.sets.high(), portion.reps.expect("counted").high())
    };
    assert_eq!([1, 2, 3, 4, 5].map(at), [(2, 6), (2, 7), (3, 10), (3, 11), (3, 12)]);
}

#[test]
fn what_has_no_figures_is_told_in_words_on_paper_and_phone() {
    for (typed, words) in [
        ("stroll of ours: daily, add a gate a week", "Add a gate a week."),
        ("stroll of ours: 10 min, daily, add 2 lamp-posts every 4 days", "Add 2 lamp-posts every 4 days."),
        ("zebra lift: 2 x 8, 5 kg, daily, increase 10% per week", "10 % more every week."),
    ] {
        let text = format!("start: 2026-11-30\nweeks: 3\n{typed}\n");
        let (paper, phone) = (paper(&text, 1), phone(&text, START, "sheet"));
        assert!(paper.contains(words), "{paper}");
        assert!(phone.contains(words), "{phone}");
        assert!(!paper.contains("From Mon 7 Dec"), "{paper}");
    }
    let mut cache = Cache::default();
    let mut made = Made::of("zebra lift: 2 x 8, 5 kg, daily, increase 10% per week", &mut cache);
    let told = made.reading().programme.notices.iter().any(|n| n.kind() == "ramp-uncounted");
    assert!(told, "of which of the two it is is asked");
}

#[test]
fn without_a_start_the_rule_stands_in_the_place_of_dates() {
    let text = "wander of ours: 8 min, daily, + 2 min every 3 days up to 14 min\n";
    let rule = "2 minutes more every 3 days, up to 14 minutes.";
    assert!(paper(text, 1).contains(rule), "{}", paper(text, 1));
    assert!(phone(text, START, "sheet").contains(rule));
}

#[test]
fn conditions_stand_at_their_exercise_on_paper_and_phone() {
    let text = "start: 2026-11-30\nweeks: 3\nzebra lift L 3x10 daily, if sore, halve it, stop if it clicks\nyak press 2x8 daily\n\
        if pain >6/10 drop to 1 set\n";
    let (paper, phone) = (paper(text, 1), phone(text, START, "sheet"));
    for said in ["If sore: halve it", "Stop if It clicks", "If pain > 6/10: 1 set"] {
        assert!(paper.contains(said), "{said}: {paper}");
        assert!(phone.contains(said), "{said}: {phone}");
    }
    let first = paper.rfind("If sore: halve it").expect("there");
    let second = paper.rfind("If pain > 6/10").expect("there");
    let name = paper.rfind("Yak press").expect("there");
    assert!(first < name && name < second, "{paper}");
    assert!(!paper.contains("3 Stop") && prescription::read(text).0.exercises.len() == 2);
}

#[test]
fn giving_up_an_aid_is_a_rule_with_its_date() {
    for (typed, words) in [
        ("collar off from week 2", "collar off from week 2 (7 Dec 2026)"),
        ("down to one elbow crutch from wk 3", "down to one elbow crutch from wk 3 (14 Dec 2026)"),
        ("wean off the frame", "wean off the frame"),
    ] {
        let text = format!("{typed}\nstart: 2026-11-30\nyak press 2x8 daily\n");
        let (p, _) = prescription::read(&text);
        assert_eq!(p.exercises.len(), 1, "{typed}");
        let (paper, phone) = (paper(&text, 1), phone(&text, START, "sheet"));
        let at = paper.find("Keep to this").unwrap_or_else(|| panic!("{paper}"));
        assert!(paper[at..].contains(words), "{paper}");
        assert!(phone.contains(words), "{phone}");
    }
}
