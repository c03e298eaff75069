//! What the patient's page says to an answer that something is wrong: its own urgency, its own number, the
//! clinician's order before ours, and nothing cheerful after it.

use layfigure::catalog::Catalog;
use layfigure::diary::{Diary, When};
use layfigure::handout::safety;
use layfigure::home::act::Act;
use layfigure::home::view::View;
use layfigure::home::{Around, Effect, Home, Region};
use layfigure::link::{Shared, Stretch};
use layfigure::measure::Date;
use layfigure::programme::settled::Cache;
use layfigure::programme::{self, Ask, Programme, assemble};
use layfigure::{prescription, text, week};
use proptest::prelude::*;

const TODAY: &str = "2026-12-02";

fn day(iso: &str) -> Date {
    Date::iso(iso).expect("a date")
}

fn programme(text: &str) -> Programme {
    let ask = Ask { today: Some(day("2026-11-28")), week: Some(1), margin: programme::USUAL_MARGIN };
    assemble::at(&prescription::read(text).0, Catalog::embedded(), &ask, &mut Cache::default())
}

/// The page of a plan, opened today.
fn home(text: &str) -> Home {
    let programme = programme(text);
    let laid = week::lay(&programme, week::model::Limit::USUAL).expect("a week");
    let shared = Shared {
        text: text.into(),
        issued: Some(day("2026-11-28")),
        version: programme.version,
        course: vec![Stretch { from: 1, pattern: laid.pattern() }],
        prints: Vec::new(),
    };
    let around = Around { served: true, in_app: false, can_buzz: true, still: false };
    let mut home = Home::new(around, Some(day(TODAY)));
    home.show(shared, Diary::default());
    home
}

const PLAN: &str = "by: R. O., 01632 960 123
start: 2026-11-30
weeks: 6
ask: worst pain, settled by morning

bridge: 3 x 10, 2/day
sit to stand: 3 x 8, daily, morning
";

fn with(lines: &str) -> String {
    PLAN.replace("ask:", &format!("{lines}\nask:"))
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

fn told(home: &mut Home) -> String {
    let told = home.answer().into_iter().filter(|(region, _)| *region == Region::Told);
    read(&told.flat_map(|(_, slots)| slots).map(|slot| slot.html).collect::<String>())
}

fn buttons(html: &str) -> Vec<String> {
    let cut = |rest: &str| rest.split('"').next().map(str::to_string);
    html.split("data-do=\"").skip(1).filter_map(cut).collect()
}

/// The button that asks for this act, by its words.
fn button(html: &str, words: &str) -> String {
    let before = html.split_once(&format!(">{words}<")).unwrap_or_else(|| panic!("no “{words}” in {html}")).0;
    buttons(before).pop().unwrap_or_else(|| panic!("“{words}” is no button"))
}

fn numbers(html: &str) -> Vec<String> {
    html.split("href=\"tel:").skip(1).filter_map(|rest| rest.split('"').next()).map(str::to_string).collect()
}

/// What is read, without the marks.
fn read(html: &str) -> String {
    let mut out = String::new();
    for piece in html.split('<') {
        let (tag, text) = piece.split_once('>').unwrap_or(("", piece));
        if !["span", "/span", "b", "/b", "bdi", "/bdi"].iter().any(|t| tag.starts_with(t)) {
            out.push('\n');
        }
        out.push_str(text);
    }
    let lines: Vec<&str> = out.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let out = lines.join("\n");
    out.replace("&quot;", "\"").replace("&gt;", ">").replace("&lt;", "<").replace("&amp;", "&")
}

/// What pleases after work well done, and must not be said after a bad answer.
const CHEERFUL: [&str; 9] = [
    "Well done",
    "What you did is enough",
    "All done",
    "That is all of it",
    "when you are happy",
    "That is fine",
    "Carry on",
    "Go on",
    "Start",
];

fn cheerful(html: &str) -> Vec<&'static str> {
    let said = read(html);
    let line = |line: &str, words: &str| line.trim().starts_with(words);
    CHEERFUL.into_iter().filter(|words| said.lines().any(|l| line(l, words))).collect()
}

const VIEWS: [&str; 8] = [
    "today",
    "do morning 0",
    "do morning 1",
    "do evening 0",
    "end morning",
    "end evening",
    "week 0",
    "day 2026-12-02",
];

fn nothing_cheerful(home: &mut Home) {
    for view in VIEWS {
        let html = seen(home, view);
        assert_eq!(cheerful(&html), Vec::<&str>::new(), "{view}: {}", read(&html));
    }
}

// ---- pain ----

#[test]
fn a_pain_bound_of_one_exercise_is_its_own() {
    let mut plan = home(&PLAN.replace("bridge: 3 x 10, 2/day", "bridge: 3 x 10, 2/day, pain <= 4"));
    let sheet = read(&plan.handout().expect("a sheet").into_string());
    assert!(
        sheet.contains("Pain up to 3 out of 10") && sheet.contains("More where an exercise says so."),
        "{sheet}"
    );
    press(&mut plan, &format!("pain {TODAY} morning 4"));
    let said = told(&mut plan);
    assert!(said.contains("Pain 4 is too much for: Sit to stand."), "{said}");
    press(&mut plan, &format!("pain {TODAY} morning 5"));
    let said = told(&mut plan);
    assert!(said.contains("Pain 5 is") && !said.contains("too much for: Sit to stand."), "{said}");
}

#[test]
fn pain_above_the_printed_threshold_stops_the_exercise_for_today() {
    for (lines, most) in
        [("", 3), ("usual pain: 2 of 10", 4), ("usual pain: 6 of 10", 6), ("okay pain: up to 4 of 10", 4)]
    {
        // The number is the one on the sheet.
        let mut plan = home(&with(lines));
        let sheet = read(&plan.handout().expect("a sheet").into_string());
        assert!(sheet.contains(&format!("Pain up to {most} out of 10")), "{lines}: {sheet}");
        assert!(sheet.contains(&format!("Pain above {most}? Stop that exercise for today.")), "{sheet}");
        press(&mut plan, &format!("pain {TODAY} morning {most}"));
        for view in VIEWS {
            assert!(!seen(&mut plan, view).contains("for today"), "{lines}: pain {most} is okay, {view}");
        }
        for score in most + 1..=10 {
            seen(&mut plan, "end morning");
            assert_eq!(press(&mut plan, &format!("pain {TODAY} morning {score}")), [Effect::Diary]);
            let said = told(&mut plan);
            assert!(said.contains(&format!("Pain {score} is above {most}.")), "{said}");
            assert!(said.contains("Stop that exercise for today."), "{said}");
            for view in ["end morning", "today", "day 2026-12-02"] {
                let said = read(&seen(&mut plan, view));
                assert!(said.contains(&format!("Pain {score} is above {most}.")), "{lines} {view}: {said}");
                assert!(said.contains("Stop that exercise for today."), "{lines} {view}: {said}");
            }
            nothing_cheerful(&mut plan);
        }
    }
}

#[test]
fn an_exercise_of_its_own_threshold_is_named() {
    let mut plan =
        home(&PLAN.replace("2/day", "2/day, pain <= 2").replace("morning\n", "morning, pain <= 5\n"));
    press(&mut plan, "pain 2026-12-02 morning 4");
    let said = read(&seen(&mut plan, "end morning"));
    assert!(said.contains("Pain 4 is too much for: Bridge."), "{said}");
    assert!(said.contains("Stop this exercise for today."), "{said}");
    assert!(!said.contains("Sit to stand"), "{said}");
    nothing_cheerful(&mut plan);
}

#[test]
fn what_the_clinician_ordered_for_that_pain_is_said_instead() {
    // On a step, in the dose, below the line: wherever it was typed.
    for (typed, shown) in [
        ("bridge: 3 x 10, 2/day\n  if pain > 4: 2 x 8", "If pain > 4: 2 x 8"),
        ("bridge: 3 x 10, 2/day\n  when pain is 5 or more: 2 x 8", "When pain is 5 or more: 2 x 8"),
        ("bridge: 3 x 10, 2/day\n  note: If it hurts, do two sets.", "If it hurts, do two sets."),
        ("bridge: 3 x 10, 2/day\n  stop if: pain above 5", "Stop if: Pain above 5."),
    ] {
        let text = PLAN.replace("bridge: 3 x 10, 2/day", typed);
        let mut plan = home(&text);
        // In the evening there is the bridge alone.
        press(&mut plan, "pain 2026-12-02 evening 8");
        let said = read(&seen(&mut plan, "end evening"));
        assert!(said.contains("Your clinician wrote:") && said.contains(shown), "{typed}: {said}");
        assert!(!said.contains("for today"), "{typed}: {said}");
        nothing_cheerful(&mut plan);
        // In the morning there is another that has no order.
        press(&mut plan, "pain 2026-12-02 evening none");
        press(&mut plan, "pain 2026-12-02 morning 8");
        let said = read(&seen(&mut plan, "end morning"));
        assert!(said.contains(shown) && said.contains("Did another one hurt? Stop that exercise for today."));
    }
    // For another pain, or for none that is too much: ours.
    for typed in ["  if pain > 8: 2 x 8", "  if pain <= 2: 3 x 12", "  when easy: 3 x 12"] {
        let mut plan = home(&PLAN.replace("2/day\n", &format!("2/day\n{typed}\n")));
        press(&mut plan, "pain 2026-12-02 evening 6");
        let said = read(&seen(&mut plan, "end evening"));
        assert!(said.contains("Stop this exercise for today."), "{typed}: {said}");
        assert!(!said.contains("Your clinician wrote"), "{typed}: {said}");
    }
    // A kind of pain that the patient has to judge stands beside ours.
    let mut plan = home(&PLAN.replace("2/day\n", "2/day\n  if sharp pain: 1 x 5\n"));
    press(&mut plan, "pain 2026-12-02 evening 6");
    let said = read(&seen(&mut plan, "end evening"));
    assert!(said.contains("If sharp pain: 1 x 5"), "{said}");
    assert!(said.contains("Stop this exercise for today."), "{said}");
}

#[test]
fn pain_of_an_earlier_day_is_answered_for_today() {
    let mut plan = home(PLAN);
    press(&mut plan, "pain 2026-12-01 morning 9");
    let said = read(&seen(&mut plan, "day 2026-12-01"));
    assert!(said.contains("Pain 9 is above 3."), "{said}");
    assert!(said.contains("Does it still hurt? Stop that exercise for today."), "{said}");
}

// ---- the next morning ----

/// Done that day, and not settled by the next morning.
fn unsettled(plan: &mut Home, iso: &str) {
    press(plan, &format!("all {iso} morning yes"));
    press(plan, &format!("settled {iso} morning no"));
}

#[test]
fn what_had_not_settled_is_halved_and_twice_running_the_clinic_is_called() {
    let mut plan = home(&with("out of hours: 111"));
    unsettled(&mut plan, "2026-12-01");
    assert!(told(&mut plan).contains("Do half next time."), "{}", told(&mut plan));
    let html = seen(&mut plan, "today");
    assert!(read(&html).contains("Do half next time."), "{}", read(&html));
    assert!(!read(&html).contains("Call us when we are open."));
    assert!(read(&seen(&mut plan, "do morning 0")).contains("Do half of it today."));
    nothing_cheerful(&mut plan);
    // The day before as well.
    unsettled(&mut plan, "2026-11-30");
    let html = seen(&mut plan, "today");
    assert!(read(&html).contains("Call us when we are open."), "{}", read(&html));
    assert!(numbers(&html).contains(&"01632960123".to_string()), "{html}");
    nothing_cheerful(&mut plan);
    // One that settled between them parts the two.
    press(&mut plan, "settled 2026-11-30 morning yes");
    assert!(!read(&seen(&mut plan, "today")).contains("Call us when we are open."));
    // Two sessions of one day have one next morning.
    press(&mut plan, "settled 2026-11-30 morning none");
    press(&mut plan, "all 2026-12-01 evening yes");
    press(&mut plan, "settled 2026-12-01 evening no");
    let said = read(&seen(&mut plan, "today"));
    assert!(said.contains("Do half next time.") && !said.contains("Call us when we are open."), "{said}");
    // Settled after all: the page is as it was.
    press(&mut plan, "settled 2026-12-01 morning yes");
    press(&mut plan, "settled 2026-12-01 evening yes");
    assert!(seen(&mut plan, "today").contains(">Start<"));
}

#[test]
fn what_the_clinician_ordered_for_a_flare_up_is_said_instead() {
    for (text, shown, ours) in [
        (with("flare: halve it for three days"), "halve it for three days", false),
        (
            PLAN.replace("2/day\n", "2/day\n  if not settled by morning: 1 x 5\n"),
            "Bridge. If not settled by morning: 1 x 5",
            true,
        ),
        (
            PLAN.replace("2/day\n", "2/day\n  if 24 h pain > usual + 2: 2 sets\n"),
            "Bridge. If 24 h pain > usual + 2: 2 sets",
            true,
        ),
    ] {
        let mut plan = home(&text);
        unsettled(&mut plan, "2026-12-01");
        let said = read(&seen(&mut plan, "today"));
        assert!(said.contains("Your clinician wrote:") && said.contains(shown), "{said}");
        assert!(!said.contains("Do half next time."), "{said}");
        // The other exercise of that session has no order.
        assert_eq!(said.contains("Do half of the others next time."), ours, "{said}");
        unsettled(&mut plan, "2026-11-30");
        let said = read(&seen(&mut plan, "today"));
        assert!(said.contains(shown) && said.contains("Call us when we are open."), "{said}");
        nothing_cheerful(&mut plan);
    }
}

// ---- stop signs ----

const SIGNED: &str = "by: R. O., 01632 960 123
emergency: 999
out of hours: 111
start: 2026-11-30
caution: pregnancy
bridge: 3 x 10, 2/day
  stop if: your leg goes numb
sit to stand: 3 x 8, daily, morning
";

#[test]
fn a_sign_is_said_by_one_press_and_offered_by_urgency_in_the_sheets_own_lines() {
    let mut plan = home(SIGNED);
    let sheet = read(&plan.handout().expect("a sheet").into_string());
    for (view, act) in [("today", "go wrong"), ("do morning 0", "go wrong morning 0")] {
        let html = seen(&mut plan, view);
        assert_eq!(button(&html, "Something is wrong?"), act, "{view}");
        assert_eq!(press(&mut plan, act), [Effect::Moved]);
        let html = html_of(&mut plan);
        let said = read(&html);
        let (call, help) = (said.find("Stop, and call us"), said.find("Get help now"));
        assert!(help < call && help.is_some(), "the most urgent first: {said}");
        assert!(said.contains("Nobody sees your answers until you show them."), "{said}");
        let mut count = 0;
        for sign in safety::signs(&programme(SIGNED)) {
            assert!(sheet.contains(sign.line), "{} is on the sheet", sign.line);
            let act = button(&html, sign.line);
            assert!(act.contains(&format!(" {} ", sign.urgency.name())), "{act}");
            count += 1;
        }
        assert!(7 < count);
    }
    // At the exercise its own too.
    let html = seen(&mut plan, "wrong morning 0");
    let own = ["Your leg goes numb.", "Pain above 3."].map(|line| html.contains(&format!(">{line}<")));
    let other = seen(&mut plan, "wrong morning 1");
    assert!(own == [true; 2] || other.contains(">Your leg goes numb.<"), "{}", read(&html));
}

fn html_of(home: &mut Home) -> String {
    html(home)
}

#[test]
fn help_now_is_answered_with_the_emergency_number() {
    let mut plan = home(SIGNED);
    let html = seen(&mut plan, "wrong");
    let line = "You have chest pain or cannot get your breath.";
    let act = button(&html, line);
    assert_eq!(press(&mut plan, &act), [Effect::Diary, Effect::Moved]);
    let html = html_of(&mut plan);
    assert!(read(&html).contains("Get help now") && read(&html).contains(line), "{}", read(&html));
    assert_eq!(numbers(&html), ["999"], "the emergency number and no other");
    assert!(html.contains(">Call 999<"), "{html}");
    // Wherever the patient goes, it stands before all else.
    for view in VIEWS {
        let html = seen(&mut plan, view);
        assert_eq!(numbers(&html).first().map(String::as_str), Some("999"), "{view}");
        let acts = buttons(&html);
        let begins =
            |act: &&String| act.starts_with("timer ") || act.starts_with("go do ") && view == "today";
        assert_eq!(acts.iter().find(begins), None, "{view}");
    }
    nothing_cheerful(&mut plan);
    // It stays through the night, until the patient says that they have called.
    plan.today = Some(day("2026-12-03"));
    assert_eq!(numbers(&seen(&mut plan, "today")).first().map(String::as_str), Some("999"));
    let html = seen(&mut plan, "stop");
    press(&mut plan, &button(&html, "I have been seen. I may go on."));
    assert!(seen(&mut plan, "today").contains(">Start<"));
    let diary = plan.diary().expect("a diary");
    let met = diary.session(day(TODAY), When::AllDay).and_then(|s| s.met.clone()).expect("it stays noted");
    assert!(met.cleared && met.words() == line);
}

#[test]
fn without_a_number_no_number_is_guessed() {
    let mut plan = home(PLAN);
    let html = seen(&mut plan, "wrong");
    let act = button(&html, "You have chest pain or cannot get your breath.");
    press(&mut plan, &act);
    let html = html_of(&mut plan);
    assert!(read(&html).contains("Call your local emergency number."), "{}", read(&html));
    assert_eq!(numbers(&html), Vec::<String>::new());
    let help = seen(&mut home(PLAN), "help");
    assert!(read(&help).contains("Call your local emergency number."), "{}", read(&help));
    assert_eq!(numbers(&help), ["01632960123"]);
    let sheet = read(&home(PLAN).handout().expect("a sheet").into_string());
    assert!(sheet.contains("Call your local emergency number."), "{sheet}");
    // Words without a number are shown as they are.
    let mut plan = home(&with("emergency: the red button in the hall"));
    press(&mut plan, &act);
    let html = html_of(&mut plan);
    assert!(read(&html).contains("the red button in the hall") && numbers(&html).is_empty());
}

#[test]
fn stop_and_call_is_answered_with_the_clinics_numbers() {
    let mut plan = home(SIGNED);
    let html = seen(&mut plan, "wrong");
    let line = "A joint that swells, locks or gives way.";
    let act = button(&html, line);
    assert_eq!(press(&mut plan, &act), [Effect::Diary, Effect::Moved]);
    let html = html_of(&mut plan);
    let said = read(&html);
    assert!(said.contains("Stop, and call us") && said.contains(line), "{said}");
    assert!(said.contains("Do no more exercises until you have called."), "{said}");
    assert!(said.contains("When we are closed"), "{said}");
    assert_eq!(numbers(&html), ["01632960123", "111"]);
    nothing_cheerful(&mut plan);
    // Pressed by mistake, it leaves no trace.
    let html = seen(&mut plan, "stop");
    press(&mut plan, &button(&html, "I chose that by mistake"));
    assert!(plan.diary().expect("a diary").is_empty());
    assert!(seen(&mut plan, "today").contains(">Start<"));
    // Each number of the line is offered, and no wrong one.
    let two = SIGNED.replace("01632 960 123", "01632 960 123 ext 45678 or 07700 900 123, HCPC PH1234567");
    let mut plan = home(&two);
    press(&mut plan, &act);
    let html = html_of(&mut plan);
    assert_eq!(numbers(&html), ["01632960123", "07700900123", "111"]);
    assert!(html.contains(">Call 01632 960 123, extension 45678<"), "{html}");
    // Nobody to call: it is said in words.
    let mut plan = home(&SIGNED.replace("by: R. O., 01632 960 123\n", ""));
    press(&mut plan, &act);
    let html = html_of(&mut plan);
    assert!(read(&html).contains("Call your clinician.") && numbers(&html) == ["111"], "{}", read(&html));
}

#[test]
fn a_sign_at_an_exercise_stops_that_exercise_and_leaves_the_others() {
    let mut plan = home(SIGNED);
    let at = (0..2)
        .find(|at| seen(&mut plan, &format!("wrong morning {at}")).contains(">Your leg goes numb.<"))
        .expect("the bridge");
    let html = seen(&mut plan, &format!("wrong morning {at}"));
    press(&mut plan, &button(&html, "Your leg goes numb."));
    assert_eq!(plan.view, View::Do { when: When::Morning, at });
    let html = html_of(&mut plan);
    let said = read(&html);
    assert!(said.contains("Stop this exercise for today."), "{said}");
    assert!(said.contains("Call us before you do it again."), "{said}");
    assert_eq!(numbers(&html).first().map(String::as_str), Some("01632960123"));
    assert!(!buttons(&html).iter().any(|act| act.starts_with("timer ")), "{html}");
    nothing_cheerful(&mut plan);
    assert!(buttons(&seen(&mut plan, "today")).iter().any(|act| act.starts_with("go do ")), "the others");
    // Pain above the threshold stops it too, and needs no call.
    let mut plan = home(SIGNED);
    let html = seen(&mut plan, &format!("wrong morning {at}"));
    press(&mut plan, &button(&html, "Pain above 3."));
    let said = read(&html_of(&mut plan));
    assert!(said.contains("Stop this exercise for today."), "{said}");
    assert!(!said.contains("Call us before"), "{said}");
    nothing_cheerful(&mut plan);
    let html = seen(&mut plan, &format!("do morning {at}"));
    press(&mut plan, &button(&html, "I chose that by mistake"));
    assert!(plan.diary().expect("a diary").is_empty());
}

#[test]
fn what_is_wrong_is_kept() {
    let mut plan = home(SIGNED);
    let html = seen(&mut plan, "wrong");
    press(&mut plan, &button(&html, "You feel faint, sick or dizzy."));
    let stored = layfigure::diary::stored::write(plan.diary().expect("a diary"));
    assert_eq!(stored, "layfigure diary 1\n2026-12-02 day met call You feel faint, sick or dizzy.\n");
    // A day to come can't be filled in, whatever is pressed.
    assert_eq!(press(&mut plan, "sign 2026-12-03 day help 0"), []);
    assert_eq!(press(&mut plan, "leave 2026-12-03 morning 1 pain"), []);
    // Nor can a sign that is none.
    assert_eq!(press(&mut plan, "sign 2026-12-02 day help 99"), []);
}

// ---- questions ----

#[test]
fn all_done_asks_what_the_clinician_asks() {
    for view in ["today", "end morning", "day 2026-12-02"] {
        let mut plan = home(PLAN);
        seen(&mut plan, view);
        press(&mut plan, "all 2026-12-02 morning yes");
        let html = html_of(&mut plan);
        assert!(buttons(&html).contains(&"pain 2026-12-02 morning 8".to_string()), "{view}: {}", read(&html));
        assert!(read(&html).contains("Nobody sees your answers until you show them."), "{view}");
        assert!(told(&mut plan).contains("What was your worst pain?"), "{view}");
    }
    let mut plan = home(PLAN);
    press(&mut plan, "all 2026-12-02 morning yes");
    assert!(read(&seen(&mut plan, "today")).contains("Tomorrow this page asks"));
    // Where nothing is asked, nothing is.
    let mut plain = home(&PLAN.replace("ask: worst pain, settled by morning\n", ""));
    press(&mut plain, "all 2026-12-02 morning yes");
    let html = seen(&mut plain, "today");
    assert!(!buttons(&html).iter().any(|act| act.starts_with("pain ")));
    assert!(!told(&mut plain).contains("pain"));
    // The question of the morning after says so too.
    let mut plan = home(PLAN);
    press(&mut plan, "all 2026-12-01 evening yes");
    let said = read(&seen(&mut plan, "today"));
    let question = said.find("settled by the next morning?").expect("the question");
    assert!(said[question..].contains("Nobody sees your answers until you show them."), "{said}");
}

#[test]
fn pain_and_illness_as_a_reason_lead_to_the_signs() {
    for why in ["pain", "ill"] {
        let mut plan = home(PLAN);
        press(&mut plan, &format!("why 2026-12-02 morning {why}"));
        let html = seen(&mut plan, "today");
        let of_why = html.split("Could not do it?").nth(1).expect("the question");
        assert!(buttons(of_why).contains(&"go wrong".to_string()), "{why}");
        assert!(!read(of_why.split("</details>").next().expect("its end")).contains("That is fine"), "{why}");
    }
}

// ---- all of it ----

#[test]
fn every_answer_reads_at_grade_6_or_lower() {
    let mut worst: Vec<(f64, String)> = Vec::new();
    let mut check = |name: &str, home: &mut Home| {
        for view in VIEWS.into_iter().chain(["stop", "wrong", "wrong morning 0", "help"]) {
            let grade = text::reading::count(&read(&seen(home, view))).grade().unwrap_or(0.0);
            worst.push((grade, format!("{name}: {view}")));
        }
    };
    for text in
        [PLAN.to_string(), with("emergency: 999\nout of hours: 111"), with("flare: do half for two days")]
    {
        for (name, acts) in [
            ("pain", &["pain 2026-12-02 morning 8"][..]),
            ("unsettled", &["all 2026-12-01 morning yes", "settled 2026-12-01 morning no"]),
            (
                "twice",
                &[
                    "all 2026-12-01 morning yes",
                    "settled 2026-12-01 morning no",
                    "all 2026-11-30 morning yes",
                    "settled 2026-11-30 morning no",
                ],
            ),
            ("call", &["sign 2026-12-02 day call 0"]),
            ("help", &["sign 2026-12-02 day help 0"]),
            ("exercise", &["leave 2026-12-02 morning 1 pain"]),
            ("own", &["leave 2026-12-02 morning 1 0"]),
            ("why", &["why 2026-12-02 morning pain"]),
        ] {
            let mut plan = home(&text);
            acts.iter().for_each(|act| {
                press(&mut plan, act);
            });
            check(name, &mut plan);
        }
    }
    worst.retain(|(grade, _)| 6.0 < *grade);
    assert!(worst.is_empty(), "{worst:?}");
}

/// Prescriptions with any limits of pain, orders, numbers and asks.
fn plans() -> impl Strategy<Value = String> {
    let pick = |list: &'static [&'static str]| proptest::sample::select(list);
    let head = (
        pick(&["", "by: R. O., 01632 960 123", "by: the ward"]),
        pick(&["", "emergency: 999", "emergency: 112 or 999"]),
        pick(&["", "usual pain: 2-3 of 10", "usual pain: 7 of 10"]),
        pick(&["", "flare: halve it", "ask: pain", "ask: worst pain, settled by morning"]),
    );
    let lines = proptest::collection::vec(
        (
            pick(&[
                "bridge",
                "sit to stand",
                "some way of our own",
                "calf stretch, both",
                "heel slide, right",
            ]),
            pick(&["3 x 10, daily", "2 x 5, 2/day, pain <= 2", "3 x 30 s, 3/week", "8 reps, as needed"]),
            pick(&["", "  if pain > 4: 2 x 8", "  stop if: your knee swells", "  if sore next day: 1 x 5"]),
        ),
        1..4,
    );
    (head, lines).prop_map(|((by, emergency, usual, more), lines)| {
        let lines: Vec<String> =
            lines.into_iter().map(|(name, dose, below)| format!("{name}: {dose}\n{below}")).collect();
        format!("{by}\n{emergency}\nstart: 2026-11-30\n{usual}\n{more}\n{}\n", lines.join("\n"))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// After any bad answer, whatever else was pressed: no view says anything cheerful, and what must be
    /// called is called by the right number.
    #[test]
    fn nothing_cheerful_follows_a_bad_answer(
        text in plans(),
        bad in 0usize..7,
        presses in proptest::collection::vec(any::<u16>(), 0..6),
        part in 0usize..3,
    ) {
        let mut plan = home(&text);
        let due = plan.due(day(TODAY));
        let when = due.get(part % due.len().max(1)).map_or(When::AllDay, |(when, _)| *when);
        // Harmless presses before it.
        for choice in presses {
            let all: Vec<String> = buttons(&html(&mut plan)).into_iter()
                .filter(|act| act.starts_with("tick") || act.starts_with("go ") || act.starts_with("all "))
                .collect();
            if let Some(act) = all.get(usize::from(choice) % all.len().max(1)) {
                press(&mut plan, act);
            }
        }
        let name = when.name();
        match bad {
            0 => { press(&mut plan, &format!("pain {TODAY} {name} 10")); }
            1 => {
                press(&mut plan, &format!("tick 2026-12-01 {} 1 yes", When::Morning.name()));
                press(&mut plan, "settled 2026-12-01 morning no");
            }
            2 => { press(&mut plan, &format!("sign {TODAY} day call 0")); }
            3 => { press(&mut plan, &format!("sign {TODAY} {name} help 0")); }
            4 => { press(&mut plan, &format!("leave {TODAY} {name} 1 pain")); }
            5 => { press(&mut plan, &format!("why {TODAY} {name} pain")); }
            _ => { press(&mut plan, &format!("why {TODAY} {name} ill")); }
        }
        let views: Vec<String> = ["today", "week 0", "day 2026-12-02"].into_iter().map(String::from)
            .chain(due.iter().flat_map(|(when, list)| {
                let name = when.name();
                (0..list.len()).map(move |at| format!("do {name} {at}")).chain([format!("end {name}")])
            })).collect();
        for view in views {
            let html = seen(&mut plan, &view);
            prop_assert_eq!(cheerful(&html), Vec::<&str>::new(), "{}: {}", view, read(&html));
            if bad == 3 {
                let wanted = numbers(&html).first().cloned();
                let known = ["999", "112"].iter().find(|n| text.contains(&format!("emergency: {n}")));
                prop_assert_eq!(wanted.as_deref(), known.copied(), "{}: {}", view, read(&html));
            }
        }
    }
}
