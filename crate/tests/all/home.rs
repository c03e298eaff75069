//! The patient's page: what it shows of a plan, what can be pressed, and what comes of it.

use layfigure::catalog::Catalog;
use layfigure::count::timer::{Does, Sign, Timer};
use layfigure::diary::{Diary, Number, When};
use layfigure::home::act::Act;
use layfigure::home::view::View;
use layfigure::home::{Around, Effect, Gone, Home, Keeping, Opening, Other, Region};
use layfigure::link::fault::{Fault, Kind};
use layfigure::link::{Shared, Stretch};
use layfigure::measure::Date;
use layfigure::programme::arithmetic::{MOVE, PLACE};
use layfigure::programme::settled::Cache;
use layfigure::programme::{self, Ask, Programme, assemble};
use layfigure::{prescription, text, week};
use proptest::prelude::*;

fn day(iso: &str) -> Date {
    Date::iso(iso).expect("a date")
}

fn programme(text: &str, week: u32) -> Programme {
    let ask = Ask { today: Some(day("2026-11-28")), week: Some(week), margin: programme::USUAL_MARGIN };
    assemble::at(&prescription::read(text).0, Catalog::embedded(), &ask, &mut Cache::default())
}

fn shared(text: &str) -> Shared {
    let programme = programme(text, 1);
    let laid = week::lay(&programme, week::model::Limit::USUAL).expect("a week");
    Shared {
        text: text.into(),
        issued: Some(day("2026-11-28")),
        version: programme.version,
        course: vec![Stretch { from: 1, pattern: laid.pattern() }],
        prints: Vec::new(),
    }
}

const PLAN: &str = "by: R. O., 01632 960 123
patient: T. B.
start: 2026-11-30
weeks: 6
review: 2026-12-14
ask: worst pain, settled by morning
avoid: kneeling

heel slide, right: 2 x 10, hold 5 s, 2/day
bridge: 3 x 10, 3/week, rest 60 s
calf stretch, both: 3 x 30 s, daily
walk: 10 min, as needed, at most 3/day
";

fn home(text: &str, today: &str) -> Home {
    let around = Around { served: true, in_app: false, can_buzz: true, still: false };
    let mut home = Home::new(around, Some(day(today)));
    home.show(shared(text), Diary::default());
    home
}

fn html(home: &mut Home) -> String {
    let slots = home.answer().into_iter().flat_map(|(_, slots)| slots);
    slots.map(|slot| slot.html).collect::<Vec<_>>().join("\n")
}

fn seen(home: &mut Home, view: &str) -> String {
    home.go(View::named(view).unwrap_or_else(|| panic!("no view {view}")));
    html(home)
}

fn press(home: &mut Home, words: &str) -> Vec<Effect> {
    home.act(Act::named(words).unwrap_or_else(|| panic!("no act {words}")))
}

/// What every button of the page asks for.
fn buttons(html: &str) -> Vec<String> {
    let cut = |rest: &str| rest.split('"').next().map(str::to_string);
    html.split("data-do=\"").skip(1).filter_map(cut).collect()
}

/// What is read, without the marks; an element that stands by itself ends a sentence.
fn read(html: &str) -> String {
    let mut out = String::new();
    for piece in html.split('<') {
        let (tag, text) = piece.split_once('>').unwrap_or(("", piece));
        if !["span", "/span", "b", "/b", "bdi", "/bdi"].iter().any(|t| tag.starts_with(t)) {
            out.push('\n');
        }
        out.push_str(text);
    }
    out.replace("&quot;", "\"").replace("&amp;", "&")
}

#[test]
fn every_button_asks_for_something_that_is_understood() {
    let mut all = 0;
    let mut home = home(PLAN, "2026-12-02");
    home.keeping = Keeping::NotChosen;
    home.others = vec![Other { key: "abc".into(), issued: None }];
    for view in [
        "today",
        "do morning 0",
        "do day 0",
        "end morning",
        "wrong",
        "wrong morning 0",
        "stop",
        "week 0",
        "week 1",
        "day 2026-12-01",
        "sheet",
        "help",
        "phone",
    ] {
        for act in buttons(&seen(&mut home, view)) {
            all += 1;
            assert!(Act::named(&act).is_some(), "{view}: {act}");
        }
    }
    assert!(60 < all, "{all}");
    for opening in [
        Opening::Nothing,
        Opening::Refused(Fault::of(Kind::Newer)),
        Opening::Sealed { wrong: true, busy: false },
        Opening::Which(Box::new(shared(PLAN))),
    ] {
        home.opening = opening;
        let found = buttons(&html(&mut home));
        assert!(!found.is_empty());
        assert!(found.iter().all(|act| Act::named(act).is_some()), "{found:?}");
    }
}

#[test]
fn names_of_views_are_understood_and_say_nothing_of_the_plan() {
    for view in [
        View::Today,
        View::Do { when: When::Evening, at: 3 },
        View::End { when: When::AllDay },
        View::Wrong { at: None },
        View::Wrong { at: Some((When::Evening, 3)) },
        View::Stop,
        View::Week { back: -1 },
        View::Day { day: day("2026-12-01") },
        View::Sheet,
        View::Help,
        View::Phone,
    ] {
        assert_eq!(View::named(&view.name()), Some(view));
    }
    for bad in
        ["", "do", "do noon 1", "do morning -1", "week x", "week 99999999", "day 2026-13-01", "sheet now"]
    {
        assert_eq!(View::named(bad), None, "{bad}");
    }
}

/// The page's own words. The plan of this test has none of its own that count.
#[test]
fn the_page_reads_at_grade_6_or_lower() {
    let mut worst: Vec<(f64, String)> = Vec::new();
    let mut check = |name: String, html: &str| {
        let count = text::reading::count(&read(html));
        let grade = count.grade().unwrap_or(0.0);
        worst.push((grade, name));
    };
    let mut home = home(PLAN, "2026-12-02");
    home.act(Act::All { day: day("2026-12-01"), when: When::Evening, done: true });
    for keeping in [Keeping::Kept, Keeping::Full, Keeping::Forbidden, Keeping::NotChosen] {
        home.keeping = keeping;
        home.set_aside = keeping == Keeping::Kept;
        home.around.in_app = keeping == Keeping::Full;
        for view in
            ["today", "do morning 0", "end morning", "week 0", "day 2026-12-01", "sheet", "help", "phone"]
        {
            check(format!("{view} {keeping:?}"), &seen(&mut home, view));
        }
    }
    press(&mut home, "forget");
    check("forgetting".into(), &html(&mut home));
    for today in ["2026-11-20", "2026-12-30"] {
        home.today = Some(day(today));
        check(format!("today {today}"), &seen(&mut home, "today"));
    }
    home.today = None;
    check("no date".into(), &html(&mut home));
    home.today = Some(day("2026-12-02"));
    for kind in [Kind::Empty, Kind::Damaged, Kind::Truncated, Kind::Newer, Kind::NotCanonical, Kind::TooLong]
    {
        home.opening = Opening::Refused(Fault { kind, sentence: String::new() });
        check(format!("{kind:?}"), &html(&mut home));
    }
    for opening in [
        Opening::Nothing,
        Opening::Sealed { wrong: true, busy: false },
        Opening::Sealed { wrong: false, busy: true },
        Opening::Which(Box::new(shared("bridge: 3 x 10"))),
    ] {
        home.opening = opening;
        check(format!("{:?}", std::mem::discriminant(&home.opening)), &html(&mut home));
    }
    for gone in [Gone::Forgotten, Gone::Elsewhere] {
        home.put_away(gone);
        check(format!("{gone:?}"), &html(&mut home));
    }
    worst.retain(|(grade, _)| 6.0 < *grade);
    assert!(worst.is_empty(), "{worst:?}");
}

#[test]
fn ticks_are_made_taken_back_and_filled_in_for_the_past_alone() {
    let mut home = home(PLAN, "2026-12-02");
    assert_eq!(press(&mut home, "tick 2026-12-02 morning 1 yes"), [Effect::Diary]);
    assert_eq!(press(&mut home, "tick 2026-12-01 evening 1 yes"), [Effect::Diary]);
    assert_eq!(press(&mut home, "tick 2026-12-03 morning 1 yes"), []);
    let first = Number::new(1).expect("a number");
    let diary = home.diary().expect("a diary");
    assert!(diary.is_done(day("2026-12-02"), When::Morning, first));
    assert!(diary.is_done(day("2026-12-01"), When::Evening, first));
    assert!(!diary.is_done(day("2026-12-03"), When::Morning, first));
    let all = home.due(day("2026-12-01"));
    let (when, list) = all.first().cloned().expect("a session");
    press(&mut home, &format!("all 2026-12-01 {} yes", when.name()));
    let diary = home.diary().expect("a diary");
    assert_eq!(diary.session(day("2026-12-01"), when).map(|s| s.done.len()), Some(list.len()));
    press(&mut home, "tick 2026-12-02 morning 1 no");
    assert!(!home.diary().expect("a diary").is_done(day("2026-12-02"), When::Morning, first));
    // Days to come are shown and can't be opened; nor can those before the plan began.
    let week = buttons(&seen(&mut home, "week 0"));
    for (date, open) in
        [("2026-11-30", true), ("2026-12-02", true), ("2026-12-03", false), ("2026-12-06", false)]
    {
        assert_eq!(week.contains(&format!("go day {date}")), open, "{date}");
    }
    assert!(!buttons(&seen(&mut home, "week 1")).iter().any(|act| act.starts_with("go day")));
    assert!(!buttons(&seen(&mut home, "day 2026-12-04")).iter().any(|act| act.starts_with("tick")));
}

#[test]
fn pain_is_asked_only_where_the_clinician_asks() {
    let asks =
        |html: &str| buttons(html).iter().any(|act| act.starts_with("pain ") || act.starts_with("settled "));
    let mut wanted = home(PLAN, "2026-12-02");
    assert!(asks(&seen(&mut wanted, "end morning")));
    let mut plain = home(&PLAN.replace("ask: worst pain, settled by morning\n", ""), "2026-12-02");
    for view in ["today", "end morning", "day 2026-12-01"] {
        press(&mut plain, "all 2026-12-01 morning yes");
        assert!(!asks(&seen(&mut plain, view)), "{view}");
    }
    // The morning after, once; answered, it goes.
    press(&mut wanted, "all 2026-12-01 evening yes");
    assert!(buttons(&seen(&mut wanted, "today")).contains(&"settled 2026-12-01 evening yes".to_string()));
    press(&mut wanted, "settled 2026-12-01 evening no");
    assert!(!asks(&seen(&mut wanted, "today")));
}

#[test]
fn dates_that_matter_are_said() {
    for (today, says) in [
        ("2026-11-28", "starts on Monday 30 Nov"),
        ("2026-12-02", "Next visit: Monday 14 Dec"),
        ("2026-12-15", "past its review date, 14 Dec 2026. Ask your clinician before you go on"),
        ("2026-11-20", "check the date of the phone"),
    ] {
        let html = seen(&mut home(PLAN, today), "today");
        assert!(html.contains(says), "{today}: {html}");
    }
    // The day of the review itself is not past it, and the plan is still shown after.
    assert!(!seen(&mut home(PLAN, "2026-12-14"), "today").contains("past its review"));
    assert!(seen(&mut home(PLAN, "2026-12-15"), "today").contains("go do morning 0"));
    let unreviewed = PLAN.replace("review: 2026-12-14\n", "");
    assert!(seen(&mut home(&unreviewed, "2027-01-20"), "today").contains("weeks of this plan are over"));
    let sheet = seen(&mut home(PLAN, "2026-12-02"), "sheet");
    assert!(sheet.contains("Made on 28 Nov 2026. Version ") && sheet.contains("Bin older sheets."));
}

#[test]
fn a_picture_that_has_changed_since_is_named() {
    let mut shared = shared(PLAN);
    let mut home = home(PLAN, "2026-12-02");
    let print = |number| Catalog::embedded().by_number(number).expect("an entry").print;
    let numbers = programme(PLAN, 1).exercises.into_iter().filter_map(|e| match e.known {
        programme::Known::Catalog { number, .. } => Some(number),
        programme::Known::Own | programme::Known::Unknown => None,
    });
    shared.prints = numbers.map(|number| (number, print(number))).collect();
    assert!(!shared.prints.is_empty());
    home.show(shared.clone(), Diary::default());
    assert!(!seen(&mut home, "sheet").contains("have changed since"));
    shared.prints[0].1 = shared.prints[0].1.wrapping_add(1);
    home.show(shared, Diary::default());
    assert!(seen(&mut home, "sheet").contains("have changed since"));
}

#[test]
fn another_plan_is_asked_about_and_the_same_is_not() {
    let mut home = home(PLAN, "2026-12-02");
    press(&mut home, "tick 2026-12-01 morning 1 yes");
    let again = Shared { issued: Some(day("2026-12-01")), ..shared(PLAN) };
    assert!(home.offer(&again));
    let other = shared(&PLAN.replace("3 x 10", "3 x 12"));
    assert!(!home.offer(&other));
    assert!(html(&mut home).contains("Which plan?"));
    press(&mut home, "use kept");
    assert_eq!(home.diary().map(Diary::is_empty), Some(false));
    assert!(!home.offer(&other));
    assert_eq!(press(&mut home, "use new"), [Effect::Use(Box::new(other)), Effect::Moved]);
}

#[test]
fn forgetting_is_asked_twice_and_leaves_nothing() {
    let mut home = home(PLAN, "2026-12-02");
    press(&mut home, "tick 2026-12-01 morning 1 yes");
    seen(&mut home, "phone");
    assert_eq!(press(&mut home, "forget"), []);
    assert!(home.diary().is_some());
    assert_eq!(press(&mut home, "forget yes"), [Effect::Forget, Effect::Moved]);
    assert_eq!(home.diary(), None);
    assert_eq!(home.handout(), None);
    let left = html(&mut home);
    assert!(left.contains("Tap the link") && !left.contains("T. B."), "{left}");
    // What no page can take away is said, until another plan is shown.
    assert!(left.contains("in its history") && left.contains("Bin it there"), "{left}");
    home.show(shared(PLAN), Diary::default());
    home.act(Act::Go(View::Today));
    home.opening = Opening::Nothing;
    assert!(!html(&mut home).contains("in its history"));
}

#[test]
fn what_another_window_forgot_is_closed_here() {
    let mut home = home(PLAN, "2026-12-02");
    press(&mut home, "tick 2026-12-01 morning 1 yes");
    press(&mut home, "go do morning 0");
    press(&mut home, "timer start");
    home.put_away(Gone::Elsewhere);
    assert_eq!((home.key(), home.diary()), (None, None));
    assert!(home.timer.is_none() && home.handout().is_none());
    let left = html(&mut home);
    assert!(left.contains("not kept on this phone any more") && !left.contains("T. B."), "{left}");
    // Whatever was under the finger does nothing now.
    for words in ["tick 2026-12-01 morning 1 yes", "all 2026-12-01 morning yes", "pain 2026-12-01 morning 3"]
    {
        assert_eq!(press(&mut home, words), []);
        assert_eq!(home.diary(), None);
    }
}

#[test]
fn text_from_a_link_stays_text() {
    let plan = "patient: <img src=x>\nby: <b>\nstart: 2026-11-30\naim: \"><script>x</script>\nbridge: 3 x 10\n  cue: <i>up</i>\n<u>own</u>: 2 x 5\n";
    let mut home = home(plan, "2026-12-02");
    for view in ["today", "do morning 0", "sheet", "help", "phone", "day 2026-12-01"] {
        let html = seen(&mut home, view);
        for bad in ["<img", "<script", "<i>", "<u>"] {
            assert!(!html.contains(bad), "{view}: {bad} in {html}");
        }
    }
}

#[test]
fn it_prints_the_same_sheet() {
    let mut home = home(PLAN, "2026-12-02");
    let printed = home.handout().expect("a sheet").into_string();
    assert!(printed.contains("Sheet of 28 Nov 2026"), "the day of issue, not of printing");
    press(&mut home, "paper letter");
    press(&mut home, "large yes");
    assert!(home.handout().expect("a sheet").into_string().contains("handout letter large"));
}

/// Phases as words: `ready 5, hold 30, let go 5`.
fn phases(text: &str) -> String {
    let programme = programme(text, 1);
    let Some(timer) = Timer::of(&programme.body, &programme.exercises[0]) else { return "none".into() };
    let word = |does: &Does| match does {
        Does::Ready => "ready".to_string(),
        Does::Hold => "hold".into(),
        Does::LetGo => "go".into(),
        Does::Work(how) => format!("work {how}").trim_end().into(),
        Does::Lower => "lower".into(),
        Does::Still => "still".into(),
        Does::Lift => "lift".into(),
        Does::Rest => "rest".into(),
        Does::ChangeSides => "sides".into(),
        Does::OwnPace => "own".into(),
    };
    let each =
        timer.phases().iter().map(|p| format!("{} {}", word(&p.does), p.seconds).replace("own 0", "own"));
    each.collect::<Vec<_>>().join(", ")
}

#[test]
fn a_timer_counts_what_the_dose_says() {
    for (line, expected) in [
        ("calf stretch, right: 3 x 30 s, daily", "ready 5, hold 30, go 5, hold 30, go 5, hold 30"),
        ("calf stretch, both: 1 x 20 s, daily", "ready 5, hold 20, sides 10, hold 20"),
        (
            "bridge: 2 x 2, hold 5 s, rest 60 s, 3/week",
            "ready 5, hold 5, go 4, hold 5, rest 60, hold 5, go 4, hold 5",
        ),
        ("sit to stand: 3 x 10, rest 45 s, 3/week", "ready 5, own, rest 45, own, rest 45, own"),
        (
            "sit to stand: 1 x 2, tempo 3-1-2-0, 3/week",
            "ready 5, lift 2, lower 3, still 1, lift 2, lower 3, still 1",
        ),
        // What begins with lifting is counted so, and held where it turns.
        (
            "straight leg raise, right: 1 x 2, tempo 3-0-2-1, daily",
            "ready 5, lift 2, still 1, lower 3, lift 2, still 1, lower 3",
        ),
        ("bridge: 1 x 1, tempo 3-0-2-0, hold 4 s, daily", "ready 5, lift 2, hold 4, lower 3"),
        ("wall squat: 1 x 1, tempo 3-1-2-0, hold 4 s, daily", "ready 5, lower 3, still 1, hold 4, lift 2"),
        ("walk: 8 min, daily", "ready 5, work 480"),
        (
            "walk: 2 x (1 min brisk, 2 min easy), daily",
            "ready 5, work brisk 60, work easy 120, work brisk 60, work easy 120",
        ),
        ("walk: 6000 steps, daily", "none"),
        ("bridge: 90000 x 90000, hold 5 s, daily", "none"),
    ] {
        assert_eq!(phases(line), expected, "{line}");
    }
}

#[test]
fn time_passes_evenly_however_it_is_cut() {
    let programme = programme("bridge: 2 x 2, hold 5 s, rest 10 s, daily", 1);
    let whole = Timer::of(&programme.body, &programme.exercises[0]).expect("a timer");
    let total: u32 = whole.phases().iter().map(|p| p.seconds * 1000).sum();
    for step in [1u32, 170, 200, 999, 4001, 60_000] {
        let mut timer = whole.clone();
        let mut signs = Vec::new();
        let mut passed = 0;
        while timer.phase().is_some() && passed <= total + step {
            signs.extend(timer.pass(step));
            passed += step;
        }
        assert!(timer.phase().is_none() && total <= passed && passed < total + step, "{step}");
        let count = |sign| signs.iter().filter(|s| **s == sign).count();
        assert_eq!((count(Sign::Begin), count(Sign::Ease), count(Sign::Finish)), (4, 3, 1), "{step}");
        if step < 1000 {
            // Three seconds before the end of each of eight phases.
            assert_eq!(count(Sign::Soon), 3 * whole.phases().len(), "{step}");
        }
    }
    let mut paused = whole.clone();
    paused.running = false;
    assert_eq!(paused.pass(100_000), []);
    assert_eq!(paused.left(), 5);
}

#[test]
fn a_timer_takes_as_long_as_the_minutes_of_the_week_say() {
    for line in [
        "calf stretch, both: 3 x 30 s, daily",
        "calf stretch, right: 2 x 3 x 20 s, rest 30 s, daily",
        "walk: 12 min, daily",
        "walk: 3 x (1 min brisk, 2 min easy), daily",
        "sit to stand: 3 x 8, tempo 3-1-1-0, rest 60 s, 3/week",
    ] {
        let programme = programme(line, 1);
        let e = &programme.exercises[0];
        let timer = Timer::of(&programme.body, e).expect("a timer");
        let total: u32 = timer.phases().iter().filter(|p| p.does != Does::Ready).map(|p| p.seconds).sum();
        assert_eq!(total + PLACE, e.seconds.go, "{line}");
    }
    // Held repetitions are counted from the first hold; the way into it is the getting ready.
    let programme = programme("bridge: 3 x 10, hold 3 s, rest 60 s, 3/week", 1);
    let e = &programme.exercises[0];
    let timer = Timer::of(&programme.body, e).expect("a timer");
    let total: u32 = timer.phases().iter().filter(|p| p.does != Does::Ready).map(|p| p.seconds).sum();
    assert_eq!(total + PLACE + 3 * MOVE, e.seconds.go);
}

#[test]
fn a_timer_ends_with_its_exercise() {
    let mut home = home(PLAN, "2026-12-02");
    seen(&mut home, "do morning 0");
    press(&mut home, "timer start");
    assert!(home.timer.is_some());
    home.pass(5000);
    assert!(html(&mut home).contains("data-do=\"timer pause\""));
    press(&mut home, "timer pause");
    let before = home.timer.clone();
    home.pass(60_000);
    assert_eq!(home.timer, before);
    press(&mut home, "go do morning 1");
    assert_eq!(home.timer, None);
}

/// The view alone, without what is told of the last press.
fn view_of(home: &mut Home) -> String {
    let regions = home.answer().into_iter().filter(|(region, _)| *region == Region::View);
    regions.flat_map(|(_, slots)| slots).map(|slot| slot.html).collect::<Vec<_>>().join("\n")
}

/// The pictures of the view, whole.
fn pictures(home: &mut Home) -> Vec<String> {
    let html = view_of(home);
    let end = |rest: &str| rest.split("</svg>").next().unwrap_or("").to_string();
    html.split("<svg").skip(1).map(end).collect()
}

#[test]
fn a_figure_moves_only_when_asked() {
    let mut home = home(PLAN, "2026-12-02");
    seen(&mut home, "do morning 0");
    let still = view_of(&mut home);
    home.pass(5000);
    assert_eq!(view_of(&mut home), still);
    // One button: where the focus is, it stays.
    let button = |home: &mut Home| {
        let html = view_of(home);
        let at = html.find("data-do=\"move").expect("the button");
        html[at..].split("</button>").next().expect("its end").to_string()
    };
    assert_eq!(button(&mut home), "data-do=\"move yes\" data-focus=\"move\">Show how it moves");
    press(&mut home, "move yes");
    assert_eq!(button(&mut home), "data-do=\"move no\" data-focus=\"move\">Stop the picture");
    assert!(html(&mut home).contains("The picture moves."));
    let (mut shown, mut held) = (std::collections::BTreeSet::new(), 0);
    for _ in 0..90 {
        home.pass(120);
        let now = pictures(&mut home);
        assert!(now.len() == 1 && now[0].len() < 8000);
        shown.extend(now);
        // The room of the words is kept while they are away.
        let html = view_of(&mut home);
        assert!(html.contains("class=\"holding"), "{html}");
        held += usize::from(html.contains("class=\"holding\"") && html.contains("Hold 5 s"));
    }
    assert!(8 < shown.len(), "{}", shown.len());
    // 5 s of hold in each cycle of about ten, counted in steps of 120 ms.
    assert!((35..=60).contains(&held), "{held}");
    press(&mut home, "move no");
    assert_eq!(view_of(&mut home), still);
    assert!(html(&mut home).contains("The picture stands still."));
}

#[test]
fn a_figure_stops_by_itself() {
    let mut home = home(PLAN, "2026-12-02");
    seen(&mut home, "do morning 0");
    let still = view_of(&mut home);
    let moving = |home: &mut Home| {
        press(home, "move yes");
        home.pass(3000);
        assert_ne!(view_of(home), still);
    };
    moving(&mut home);
    home.out_of_sight();
    assert_eq!(home.moves, None);
    moving(&mut home);
    press(&mut home, "go do morning 1");
    assert_eq!(home.moves, None);
    press(&mut home, "go do morning 0");
    moving(&mut home);
    press(&mut home, "timer start");
    assert_eq!(home.moves, None);
}

#[test]
fn where_the_reader_wants_it_still_only_key_poses_are_shown_and_only_when_asked() {
    let mut home = home(PLAN, "2026-12-02");
    home.around.still = true;
    seen(&mut home, "do morning 0");
    let still = view_of(&mut home);
    home.pass(5000);
    assert_eq!(view_of(&mut home), still);
    press(&mut home, "move yes");
    assert!(html(&mut home).contains("The picture shows one step at a time."));
    let mut shown = std::collections::BTreeSet::new();
    for _ in 0..200 {
        home.pass(100);
        shown.extend(pictures(&mut home));
    }
    assert_eq!(shown.len(), 2, "a heel slide has two key poses");
    press(&mut home, "move no");
    assert_eq!(view_of(&mut home), still);
}

/// The same exercise with other holds: each picture bears its own; a range, and no hold, bear nothing.
#[test]
fn pictures_bear_the_hold_that_is_asked_for() {
    let text = "bridge: 3 x 10, hold 3 s, daily\nbridge: 2 x 10, hold 8 s, daily\n\
                bridge: 3 x 5, hold 5-10 s, daily\nsit to stand: 10 reps, daily";
    let mut home = home(text, "2026-12-02");
    let screen = seen(&mut home, "sheet");
    let paper = home.handout().expect("a sheet").into_string();
    for (html, times) in [(screen, 1), (paper, 2)] {
        for mark in [">3 s</text>", ">8 s</text>"] {
            assert_eq!(html.matches(mark).count(), times, "{mark}");
        }
        assert_eq!(html.matches(" s</text>").count(), 2 * times);
    }
}

#[test]
fn what_is_needed_stands_beside_the_exercise() {
    let mut home = home("sit to stand: 3 x 8, daily\nbridge: 3 x 10, daily", "2026-12-02");
    let view = home.due(day("2026-12-02")).first().map(|(when, _)| when.name()).expect("something due");
    // In whatever order they are done: beside the one that needs something, and beside no other.
    for at in 0..2 {
        let html = seen(&mut home, &format!("do {view} {at}"));
        assert_eq!(
            html.contains("Sit to stand"),
            html.contains("<p dir=\"auto\">You need: chair.</p>"),
            "{html}"
        );
    }
    assert_eq!(seen(&mut home, "sheet").matches("You need: chair.").count(), 1);
}

#[test]
fn every_region_has_its_place() {
    let html = include_str!("../../../www/home.html");
    for region in Region::ALL {
        assert!(html.contains(&format!("id=\"{}\"", region.id())), "{region:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// Whatever is pressed, in any order: nothing breaks, and nothing is noted for a day to come.
    #[test]
    fn any_buttons_in_any_order(choices in proptest::collection::vec(any::<u16>(), 1..40)) {
        let today = day("2026-12-02");
        let mut home = home(PLAN, "2026-12-02");
        for choice in choices {
            let all = buttons(&html(&mut home));
            if all.is_empty() { break; }
            let act = &all[usize::from(choice) % all.len()];
            press(&mut home, act);
            home.pass(u32::from(choice));
        }
        if let Some(diary) = home.diary() {
            prop_assert!(diary.sessions().all(|(at, _, _)| at <= today));
        }
    }

    #[test]
    fn no_words_break_an_act(words in "\\PC{0,30}|(tick|all|pain|why|settled|go) [a-z0-9 -]{0,30}") {
        let mut home = home("bridge: 3 x 10", "2026-12-02");
        if let Some(act) = Act::named(&words) {
            home.act(act);
            html(&mut home);
        }
    }
}
