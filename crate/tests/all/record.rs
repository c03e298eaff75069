//! The text for the notes: nothing typed is missing, everything stands where it belongs, no remark is in it.

use crate::said;
use layfigure::catalog::Catalog;
use layfigure::desk::{Ask, Desk};
use layfigure::export::record;
use layfigure::measure::Date;
use layfigure::prescription::{self, angles};
use layfigure::programme;
use layfigure::programme::settled::Cache;

fn made(text: &str, week: Option<u32>, cache: &mut Cache) -> String {
    let ask = programme::Ask { week, ..programme::Ask::today(Date::iso("2026-11-30")) };
    record::text(text, Catalog::embedded(), &ask, cache)
}

fn of(text: &str) -> String {
    made(text, None, &mut Cache::default())
}

/// What stands under a heading, without its indent; empty where there is no such heading.
fn under(heading: &str, record: &str) -> Vec<String> {
    let mut lines = record.lines().skip_while(|line| *line != heading).skip(1);
    let mut found = Vec::new();
    for line in lines.by_ref().take_while(|line| !line.is_empty()) {
        found.push(line.trim().to_string());
    }
    found
}

fn spaced(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A line without the remark behind it, told by the test's own rule: two strokes at its start or behind a space.
fn bare(line: &str) -> &str {
    let ends = line.match_indices("//").map(|(at, _)| at).find(|at| {
        let before = &line[..*at];
        before.trim_matches(|c: char| c.is_whitespace() || "-*•".contains(c)).is_empty()
            || before.ends_with(char::is_whitespace)
    });
    line[..ends.unwrap_or(line.len())].trim()
}

/// Every line of `tests/said`, in an order by a seed.
fn shuffled(mut seed: u64) -> Vec<String> {
    let mut lines: Vec<String> =
        said::texts().iter().flat_map(|text| text.lines().map(str::to_string).collect::<Vec<_>>()).collect();
    for at in (1..lines.len()).rev() {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        lines.swap(at, (seed >> 33) as usize % (at + 1));
    }
    lines
}

#[test]
fn every_typed_line_leaves_its_words_and_no_remark_does() {
    let mut cache = Cache::default();
    let lines = shuffled(7);
    assert!(600 < lines.len(), "the cases are found");
    let (mut missing, mut told, mut limits) = (Vec::new(), Vec::new(), 0);
    for (at, some) in lines.chunks(14).enumerate() {
        let remarked: Vec<String> = some
            .iter()
            .enumerate()
            .map(|(i, line)| match (at + i) % 5 {
                0 => format!("{line} // zqx her brother rang"),
                1 => format!("{line}\n// zqx by itself"),
                _ => line.clone(),
            })
            .collect();
        let text = remarked.join("\n");
        let record = made(&text, None, &mut cache);
        let shown = spaced(&record);
        for line in
            some.iter().map(|line| spaced(bare(line))).filter(|l| l.chars().any(char::is_alphanumeric))
        {
            if !shown.contains(line.trim_start_matches(['#', ' '])) {
                missing.push(line);
            }
        }
        if record.contains("zqx") {
            told.push(text.clone());
        }
        // What was understood of them stands there too, where it was typed otherwise.
        for limit in &prescription::read(&text).0.limits {
            let angle = limit.angle.name();
            let written = angles::written(std::slice::from_ref(limit));
            let whole = record.to_lowercase();
            let both = format!("both {}", angle.split_once(' ').map_or("", |(_, rest)| rest));
            let turned = angle.rsplit_once(' ').map_or("", |(head, _)| head);
            assert!(
                [angle.as_str(), both.trim_end(), turned].iter().any(|name| whole.contains(name)),
                "{written} of {text:?} is not in {record}"
            );
            limits += 1;
        }
    }
    assert!(missing.is_empty(), "not in the record: {missing:#?}");
    assert!(told.is_empty(), "a remark is in the record of: {told:#?}");
    assert!(40 < limits, "only {limits} limits");
}

#[test]
fn no_remark_is_told_where_none_is_read() {
    let beyond: String = (0..601).map(|n| format!("finding: stiff {n}\n")).collect();
    for text in [
        format!("limit: {} // zqx", "a word ".repeat(400)),
        format!("{beyond}limit: right toe somewhat // zqx\nhello // zqx\n// zqx"),
        (0..63).map(|n| format!("own thing {n}: 3 x 10 // zqx\n")).collect(),
        "exercise: my thing\n  // zqx\n  dose: 3 x 10 // zqx\n  blah // zqx\nmy thing: 3 x 10".to_string(),
        "## Do not // zqx\nlifting // zqx\n  // zqx\n# Title // zqx\n- [ ] // zqx".to_string(),
        "bridge: 3 x 10 // zqx\n  anyway: in the brace // zqx\n  from week 3: 3 x 12 // zqx".to_string(),
    ] {
        let record = of(&text);
        let told: Vec<&str> = record.lines().filter(|line| line.contains("zqx")).collect();
        assert!(told.is_empty(), "{told:?}");
        let bare_words = text.lines().map(bare).rfind(|line| line.chars().any(char::is_alphanumeric));
        assert!(spaced(&record).contains(bare_words.expect("a line").trim_start_matches(['#', ' '])));
    }
}

#[test]
fn a_line_that_is_taken_away_leaves_the_record() {
    // So the check above can fail.
    assert!(!of("bridge: 3 x 10").contains("calf tender"));
    assert!(of("calf tender L\nbridge: 3 x 10").contains("calf tender"));
}

/// Typed lines, each with the heading that it stands under.
const PLACED: [(&str, &str); 24] = [
    ("start: 2026-11-30", "DATES"),
    ("by: R. O., physiotherapist", "WHO"),
    ("patient: T. B., 58", "WHO"),
    ("saddle numbness since Tuesday", "NOTED OF THE PATIENT"),
    ("denies numbness, weakness, b/b change", "NOTED OF THE PATIENT"),
    ("finding: calf tender", "NOTED OF THE PATIENT"),
    ("measure: KOOS 45", "NOTED OF THE PATIENT"),
    ("58 y/o F", "NOTED OF THE PATIENT"),
    ("6/52 post op R TKR", "NOTED OF THE PATIENT"),
    ("range: left knee flexion 0-70", "NOTED OF THE PATIENT"),
    ("aim: up the stairs", "GOALS"),
    ("NWB left leg", "LIMITS, AND WHAT MUST NOT BE DONE"),
    ("no driving", "LIMITS, AND WHAT MUST NOT BE DONE"),
    ("avoid: kneeling", "LIMITS, AND WHAT MUST NOT BE DONE"),
    ("cannot: get up from the floor", "WHAT THE PATIENT CANNOT DO"),
    ("may shower", "WHAT THE PATIENT MAY DO"),
    ("FWB left leg", "WHAT THE PATIENT MAY DO"),
    ("sling at night", "RULES TO KEEP TO"),
    ("screened: 2026-11-25", "SCREENING"),
    ("kit: chair, towel", "PLAN"),
    ("time: Mon morning 20 min", "PLAN"),
    ("review: 2026-12-14", "REVIEW"),
    ("out of hours: 01632 960 377", "WHOM TO CALL, AND WHEN"),
    ("limt: right knee 0-60", "NOT UNDERSTOOD, KEPT WORD FOR WORD"),
];

#[test]
fn each_line_stands_under_its_heading() {
    let text: String = PLACED.iter().map(|(line, _)| format!("{line}\n")).collect();
    let record = of(&text);
    for (line, heading) in PLACED {
        let lines = under(heading, &record);
        assert!(lines.contains(&line.to_string()), "{line:?} is not under {heading}: {record}");
    }
    // Whom nobody asked for has no heading; what the record always says stands there.
    let little = of("bridge: 3 x 10, 3/week");
    assert_eq!(under("SCREENING", &little), ["not stated"]);
    for heading in ["GOALS", "REVIEW", "NOTED OF THE PATIENT", "OVERRIDDEN BY THE CLINICIAN", "ALSO TYPED"] {
        assert!(!little.contains(heading), "{heading}");
    }
}

#[test]
fn what_it_was_read_as_and_how_long_it_holds_stand_beside_the_words() {
    let record = of("start: 2026-11-30\nsurgery: 2026-11-02, right hip\n\
                     no R hip flex >90 until 6 weeks after surgery\nNWB L leg 2/52\nno lifting until the swelling has gone\n");
    let lines = under("LIMITS, AND WHAT MUST NOT BE DONE", &record);
    // Six whole weeks from 2 Nov; two whole weeks from 30 Nov.
    for wanted in [
        "no R hip flex >90 until 6 weeks after surgery",
        "Read as limit: right hip flexion at most 90 until 6 weeks after surgery",
        "Last day: 13 Dec 2026",
        "NWB L leg 2/52",
        "Last day: 13 Dec 2026",
        "no lifting until the swelling has gone",
    ] {
        assert!(lines.iter().any(|line| line == wanted), "{wanted:?} is not in {lines:#?}");
    }
    assert!(of("58F, 19/40").contains("age 58"));
}

#[test]
fn an_exercise_stands_with_its_dose_and_what_was_not_typed_is_marked() {
    let text = "start: 2026-11-30\nbridge 3x10 // a remark\n  cue: Breathe out.\n  from week 3: 3x12\n\
                our own thing R: 2x8, daily, until week 2\nheel slide: 2 x 10, daily";
    let lines = under("EXERCISES", &of(text));
    let at = |words: &str| {
        lines
            .iter()
            .position(|line| line == words)
            .unwrap_or_else(|| panic!("{words:?} is not in {lines:#?}"))
    };
    assert!(at("1. bridge 3x10") < at("Dose typed: 3 x 10"));
    assert!(at("Dose typed: 3 x 10") < at("cue: Breathe out."));
    assert!(at("from week 3: 3x12") < at("2. our own thing R: 2x8, daily, until week 2"));
    at("Read as from week 3: 3 x 12");
    at("In week 1: our own thing, right, own words, in no catalog, without a figure");
    at("Last day: 13 Dec 2026");
    // What the catalog's usual dose adds is told from the typed one, and so is a side that nobody typed.
    let usual: Vec<&String> = lines.iter().filter(|line| line.starts_with("Not typed, as usual: ")).collect();
    assert!(usual[0].contains("/week") && !usual[0].contains("x 10"), "{usual:?}");
    assert!(usual.iter().all(|line| !line.contains("daily")), "{usual:?}");
    assert!(lines.iter().any(|line| line.contains("(side not typed)")), "{lines:#?}");
    // A step that was taken shows in its week, and an end that has passed.
    let third = under("EXERCISES", &made(text, Some(3), &mut Cache::default()));
    assert!(third.iter().any(|line| line.starts_with("Dose in week 3: 3 x 12")), "{third:#?}");
    assert!(third.iter().any(|line| line.starts_with("In week 3: not done; our own thing")), "{third:#?}");
}

#[test]
fn checks_notices_and_decisions_are_told_apart() {
    let text = "limit: right knee flexion 0-90\nno driving\nbridge: 3 x 10, 3/week\n";
    let record = of(text);
    let checked = under("CHECKED BY COMPUTATION, WEEK 1", &record);
    assert!(checked.iter().any(|line| line.starts_with("The limit right knee flexion to 90")), "{checked:?}");
    let not = under("NOT CHECKED, WEEK 1", &record);
    assert!(not.iter().any(|line| line.contains("no driving")), "{not:?}");
    let notices = under("NOTICES", &record);
    assert!(notices[0].starts_with("Contraindication (limit-exceeded): "), "{notices:?}");
    assert_eq!(notices[1], "At: bridge: 3 x 10, 3/week");
    assert!(under("OVERRIDDEN BY THE CLINICIAN", &record).is_empty());

    let kept = of(&format!("{text}  anyway: in the brace, beside me\n"));
    let notices = under("NOTICES", &kept);
    assert!(notices.iter().all(|line| !line.starts_with("Contraindication")), "{notices:?}");
    let decided = under("OVERRIDDEN BY THE CLINICIAN", &kept);
    assert_eq!(decided[0], "bridge, with the reason: in the brace, beside me");
    assert!(decided[1].contains("right knee flexion to 90"), "{decided:?}");

    let unsaid = of(&format!("{text}  anyway:\n"));
    assert!(under("NOTICES", &unsaid)[0].starts_with("Contraindication"));
    assert!(under("OVERRIDDEN BY THE CLINICIAN", &unsaid)[0].contains("no reason is typed"));
}

const TEMPLATE: &str = "CONSENSUS ON EXERCISE REPORTING TEMPLATE (SLADE ET AL. 2016)";

/// Each item, and a text of which it is stated.
const ITEMS: [(&str, &str); 19] = [
    ("1", "kit: chair"),
    ("2", "by: R. O., physiotherapist"),
    ("3", "patient: T. B."),
    ("4", "taught: shown twice, supervised"),
    ("5", "ask: worst pain"),
    ("6", "aim: up the stairs"),
    ("7a", "own thing: 3 x 8\n  when easy: 3 x 12"),
    ("7b", "own thing: 3 x 8\n  from week 3: 3 x 12"),
    ("8", "bridge: 3 x 10"),
    ("9", "own thing: 3 x 8"),
    ("10", "sling at night"),
    ("11", "own thing: 3 x 8\n  stop if: your calf cramps"),
    ("12", "own thing in the pool: 3 x 8"),
    ("13", "own thing: 3 x 8, daily"),
    ("14a", "avoid: kneeling"),
    ("14b", "avoid: kneeling"),
    ("15", "irritability: high"),
    ("16a", "ask: worst pain"),
    ("16b", "done about half, settled by am"),
];

#[test]
fn each_item_of_the_template_is_stated_or_said_not_to_be() {
    let items = |text: &str| -> Vec<(String, bool)> {
        let lines = under(TEMPLATE, &of(text));
        let item = |line: &String| {
            let (head, said) = line.split_once(": ").expect("an item and what is stated");
            assert!(said == "not stated" || said.starts_with("stated: "), "{line:?}");
            (head.split(' ').next().unwrap_or("").to_string(), said != "not stated")
        };
        lines.iter().map(item).collect()
    };
    let nothing = items("");
    let names: Vec<&str> = nothing.iter().map(|(item, _)| item.as_str()).collect();
    assert_eq!(names, ITEMS.map(|(item, _)| item), "sixteen items, three of them in two parts");
    assert!(nothing.iter().all(|(_, stated)| !stated), "{nothing:?}");
    for (item, text) in ITEMS {
        let stated = items(text).into_iter().any(|(name, stated)| name == item && stated);
        assert!(stated, "{item} is not stated by {text:?}");
    }
    // A key without a value, and a name that nobody knows, state nothing.
    for (item, text) in [("1", "kit:"), ("6", "aim:"), ("8", "own thing: 3 x 8"), ("15", "irritability:")] {
        let stated = items(text).into_iter().any(|(name, stated)| name == item && stated);
        assert!(!stated, "{item} is stated by {text:?}");
    }
}

#[test]
fn what_is_pasted_is_plain() {
    let record =
        of("# Title\n## Loosen\n\t-\u{a0}bridge\u{1b} 3x10\nlimit: right knee 0-60, <b>in brace</b>\r\nx");
    assert!(record.is_ascii() || record.chars().all(|c| !c.is_control() || c == '\n'), "{record:?}");
    for line in record.lines() {
        assert!(!line.starts_with('#') && !line.ends_with(' '), "{line:?}");
        let heading = !line.is_empty() && !line.starts_with(' ');
        assert!(!heading || line.is_ascii(), "{line:?}");
    }
    assert!(record.contains("<b>in brace</b>"), "words as typed");
}

#[test]
fn the_desk_copies_the_very_same_text() {
    let text = "start: 2026-11-30\nbridge: 3 x 10, 3/week\n  from week 3: 3 x 12";
    for week in [None, Some(3)] {
        let ask = Ask { today: Date::iso("2026-11-30"), week, ..Ask::of(text) };
        assert_eq!(Desk::default().record(&ask), made(text, week, &mut Cache::default()));
    }
    // What the door looks for on the page.
    let page = include_str!("../../../www/desk.html");
    for place in ["id=\"copy-record\"", "id=\"record-place\" hidden", "id=\"record\" readonly"] {
        assert!(page.contains(place), "{place}");
    }
}
