//! Prescriptions in, notices out: `tests/vectors/checks/*.txt`, and laws of the whole programme on any text.
//!
//! In a vector, a line `-- week 3, 2026-12-14` says which week is read and on which day; below a line `==` stand the
//! notices that are expected, `LINE SEVERITY KIND`, one a line, in order. `-- only KIND KIND` looks at these kinds alone.

use layfigure::catalog::Catalog;
use layfigure::door::reading::{Reading, read};
use layfigure::measure::Date;
use layfigure::programme::settled::Cache;
use proptest::prelude::*;

const VECTORS: [(&str, &str); 6] = [
    ("cautions", include_str!("../../../tests/vectors/checks/cautions.txt")),
    ("dose", include_str!("../../../tests/vectors/checks/dose.txt")),
    ("limits", include_str!("../../../tests/vectors/checks/limits.txt")),
    ("list", include_str!("../../../tests/vectors/checks/list.txt")),
    ("names", include_str!("../../../tests/vectors/checks/names.txt")),
    ("sides", include_str!("../../../tests/vectors/checks/sides.txt")),
];

fn told(reading: &Reading, only: &[&str]) -> Vec<String> {
    let severity = |s| format!("{s:?}").to_lowercase();
    // What the help goes by has pairs of its own (tests/words/nets.pairs): few of these cases say what is wrong.
    // What a usual dose adds is told of many doses here, and has cases of its own.
    const BESIDE: [&str; 2] = ["problem-unknown", "dose-usual"];
    let wanted = |kind: &str| if only.is_empty() { !BESIDE.contains(&kind) } else { only.contains(&kind) };
    let all = reading.notices.iter().filter(|n| wanted(n.kind()));
    all.map(|n| format!("{} {} {}", n.place.line, severity(n.severity()), n.kind())).collect()
}

#[test]
fn checks_tell_what_the_vectors_say() {
    let mut faults = Vec::new();
    let mut cache = Cache::default();
    for (file, text) in VECTORS {
        // Cases are parted by a line of tildes.
        for case in text.split("\n~~~\n") {
            let (input, expected) =
                case.split_once("\n==").unwrap_or_else(|| panic!("{file}: no == in {case}"));
            let mut week = None;
            let mut today = None;
            let mut only: Vec<&str> = Vec::new();
            let mut typed = String::new();
            for line in input.lines() {
                if let Some(words) = line.strip_prefix("-- only ") {
                    only = words.split(' ').collect();
                } else if let Some(when) = line.strip_prefix("-- week ") {
                    let (n, day) = when.split_once(", ").unwrap_or((when, ""));
                    week = n.parse().ok();
                    today = Date::iso(day);
                } else {
                    typed.push_str(line);
                    typed.push('\n');
                }
            }
            let got = told(&read(&typed, week, today, &mut cache), &only);
            let want: Vec<String> = expected.lines().filter(|l| !l.is_empty()).map(String::from).collect();
            if got != want {
                faults.push(format!("{file}:\n{typed}want {want:#?}\n got {got:#?}"));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn a_limit_bounds_every_peak_and_is_labelled_with_its_number() {
    let text = "limit: left knee flexion 0-70\nheel slide, left: 2 x 10, 2/day";
    let reading = read(text, None, None, &mut Cache::default());
    let e = &reading.programme.exercises[0];
    assert!(e.limited);
    assert!(e.peaks["left knee flexion"] <= 70.0 && 55.0 <= e.peaks["left knee flexion"]);
    assert!(100.0 < e.usual_peaks["left knee flexion"]);
    assert_eq!(e.drawn[0].movement.held[0].1, 70.0);
    assert_eq!(reading.programme.do_not[0].words, "Do not bend your LEFT knee past 70 degrees.");
}

#[test]
fn an_edit_that_touches_no_limit_draws_the_same_movement() {
    let mut cache = Cache::default();
    let text = "limit: left knee flexion 0-70\nheel slide, left: 2 x 10, 2/day";
    let first = read(text, None, None, &mut cache);
    let again = read(&text.replace("2 x 10", "3 x 12"), None, None, &mut cache);
    let movement = |r: &Reading| r.programme.exercises[0].drawn[0].movement.clone();
    assert!(std::sync::Arc::ptr_eq(&movement(&first), &movement(&again)));
}

/// Reading the full text again gives the same programme: nothing that is laid, drawn or printed differs.
fn assert_full_law(text: &str, cache: &mut Cache) {
    let once = read(text, Some(2), Date::iso("2026-12-08"), cache).programme;
    let twice = read(&once.full, Some(2), Date::iso("2026-12-08"), cache).programme;
    assert_eq!(once.full, twice.full, "{text}");
    assert_eq!(once.exercises.len(), twice.exercises.len(), "{text}");
    for (a, b) in once.exercises.iter().zip(&twice.exercises) {
        assert_eq!(
            (&a.name, a.side, &a.amount, a.seconds),
            (&b.name, b.side, &b.amount, b.seconds),
            "{text}"
        );
        assert_eq!((&a.words, &a.peaks, a.limited), (&b.words, &b.peaks, b.limited), "{text}");
    }
    assert_eq!(once.do_not, twice.do_not, "{text}");
}

#[test]
fn the_full_text_means_the_same() {
    let mut cache = Cache::default();
    for (_, text) in VECTORS {
        for case in text.split("\n~~~\n") {
            let input = case.split("\n==").next().unwrap_or("");
            let typed: Vec<&str> = input.lines().filter(|l| !l.starts_with("-- ")).collect();
            assert_full_law(&typed.join("\n"), &mut cache);
        }
    }
    assert_full_law(
        "Prone press-up, each side: 6 x (1 min brisk, 2 min easy)\n , together: 6 x (1 min brisk, 2 min easy)",
        &mut cache,
    );
    assert_full_law("Calf stretch, left\nlimit: right knee flexion 0-40\n  R", &mut cache);
    assert_full_law(
        "heel slide R\n  2 x 10 hold 5s\n  from week 2: 3 x 12\ncold pack, right knee 10 min",
        &mut cache,
    );
}

/// Lines that a prescription might have, whole and half.
fn line() -> impl Strategy<Value = String> {
    let names: Vec<String> = Catalog::embedded().exercises().iter().map(|e| e.name.clone()).collect();
    let name = prop_oneof![proptest::sample::select(names), "[a-z ]{1,12}".prop_map(String::from)];
    let side =
        proptest::sample::select(vec!["", " R", ", left", ", each side", ", together", " alternating"]);
    let dose = proptest::sample::select(vec![
        "",
        ": 3 x 10",
        " 2x8 hold 5s",
        ": 3 x 30 s, daily",
        ": as needed",
        ": 6 x (1 min brisk, 2 min easy)",
        ": 30 x 10, 20/day",
        ": hold 60 min",
        ": 8 min, + 2 min every 3 days",
        ": 3 x",
        ", until week 1",
    ]);
    let key = proptest::sample::select(vec![
        "limit: right knee flexion 0-40",
        "limit: shoulder flexion 90 until 6 weeks after surgery",
        "weight: left NWB",
        "avoid: kneeling, lying flat",
        "caution: posterior hip replacement",
        "due: 2027-03-01",
        "kit: none",
        "start: 2026-11-30",
        "review: 2026-11-01",
        "time: Mon-Fri morning 5 min",
        "## Part",
        "// private",
        "  from week 2: 4 x 4",
        "  anyway: we talked",
        "surgery: 2026-11-02, cuff repair",
        "body: 1.5 m, pregnant",
        "limt: knee 3",
        "exercise: mine",
        "  like: bridge",
        "pose: start, from lying on back",
    ]);
    prop_oneof![
        (name, side, dose).prop_map(|(n, s, d)| format!("{n}{s}{d}")),
        key.prop_map(String::from),
        "\\PC{0,40}".prop_map(String::from),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn any_text_gives_valid_json(lines in proptest::collection::vec(line(), 0..8), week in 1u32..30) {
        let mut cache = Cache::default();
        let reading = read(&lines.join("\n"), Some(week), Date::iso("2026-12-08"), &mut cache);
        let json: serde_json::Value = serde_json::from_str(&reading.json()).expect("valid JSON");
        prop_assert_eq!(json["exercises"].as_array().map(Vec::len), Some(reading.programme.exercises.len()));
        for e in &reading.programme.exercises {
            prop_assert!(e.seconds.go <= 86_400 && e.peaks.values().all(|p| p.is_finite()));
            // No angle of what is drawn passes a limit of the week.
            for limit in reading.programme.limits.iter().filter(|l| l.in_force) {
                for (angle, most) in layfigure::programme::clock::bounds(&limit.what) {
                    let peak = e.peaks.get(&angle.name()).copied().unwrap_or(f64::MIN);
                    prop_assert!(peak <= most.max(0.0) + 0.5, "{} {} of {most}", angle.name(), peak);
                }
            }
        }
    }

    #[test]
    fn the_full_text_means_the_same_on_any_text(lines in proptest::collection::vec(line(), 0..6)) {
        assert_full_law(&lines.join("\n"), &mut Cache::default());
    }
}

/// The kinds of notices of a text with their lines.
fn told_of(text: &str) -> Vec<(usize, &'static str)> {
    let (p, _) = layfigure::prescription::read(text);
    let ask = layfigure::programme::Ask::today(None);
    let mut cache = layfigure::programme::settled::Cache::default();
    let catalog = layfigure::catalog::Catalog::embedded();
    let programme = layfigure::programme::assemble::at(&p, catalog, &ask, &mut cache);
    programme.notices.iter().map(|n| (n.place.line, n.kind())).collect()
}

#[test]
fn an_own_exercise_is_told_what_it_asks_in_vain() {
    let text = "exercise: Own bend\n  must show: right wrist flexion\n  pose: start, from lying on back\n    soles on floor, knees flexion 90\n    view: close-up right hand from\n  pose: up, from start\n    right hip flexion 120\n    right sole on floor\n    right frob 20, left knee flexoin 30\n\nown bend: 3 x 10, daily";
    let told = told_of(text);
    for expected in [(2, "own-unseen"), (5, "unknown-view"), (7, "own-not-reached")] {
        assert!(told.contains(&expected), "{expected:?} in {told:?}");
    }
    assert_eq!(told.iter().filter(|(line, _)| *line == 9).count(), 2, "{told:?}");
    // What can be met is not spoken of.
    let fine = "exercise: Own bend\n  pose: start, from lying on back\n    soles on floor, knees flexion 90\n  pose: up, from start\n    right hip flexion 90\n\nown bend: 3 x 10, daily";
    assert!(told_of(fine).iter().all(|(_, kind)| !kind.starts_with("own-")), "{:?}", told_of(fine));
}
