//! Laws of reading that hold for any text.

use layfigure::dose;
use layfigure::notice::Notice;
use layfigure::prescription::{Prescription, print, read};
use layfigure::text::{self, Place, fold};
use proptest::prelude::*;

/// Every notice and every word read stands where it says, on character boundaries.
fn places_are_sound(typed: &str, p: &Prescription, notices: &[Notice]) {
    let lines = text::lines(typed);
    let sound = |place: Place| {
        let line = lines.get(place.line.wrapping_sub(1)).unwrap_or_else(|| panic!("no line {place:?}"));
        assert!(line.raw.get(place.start..place.end).is_some(), "{place:?} in {:?}", line.raw);
    };
    for notice in notices {
        assert!(!notice.sentence().is_empty() && !notice.kind().is_empty());
        sound(notice.place);
        if let Some(edit) = &notice.edit {
            sound(edit.place);
        }
    }
    for exercise in &p.exercises {
        sound(exercise.place);
        sound(exercise.name.place);
        sound(exercise.dose_place);
    }
    for unread in &p.unread {
        sound(unread.said.place);
    }
    for limit in &p.limits {
        sound(limit.place);
        assert!(limit.low.is_some() || limit.high.is_some());
        assert!(limit.low.zip(limit.high).is_none_or(|(low, high)| low <= high));
    }
}

/// Reading the tidy form gives the tidy form again and means the same.
fn tidy_is_settled(typed: &str) -> Result<(), TestCaseError> {
    let (first, notices) = read(typed);
    places_are_sound(typed, &first, &notices);
    assert_eq!(first.lines.len(), text::lines(typed).len());
    let tidy = print(&first);
    let (again, _) = read(&tidy);
    prop_assert_eq!(&print(&again), &tidy, "typed {:?}", typed);
    let meaning = |p: &Prescription| {
        let exercises: Vec<_> = p
            .exercises
            .iter()
            .map(|e| {
                let steps: Vec<_> =
                    e.steps.iter().map(|s| (s.when.clone(), s.dose.clone(), s.side)).collect();
                let details: Vec<_> = e.details.iter().map(|d| (d.about, d.said.text.clone())).collect();
                (
                    e.name.text.clone(),
                    e.side,
                    e.region.clone().map(|r| r.text),
                    e.dose.clone(),
                    steps,
                    details,
                )
            })
            .collect();
        let limits: Vec<_> = p.limits.iter().map(|l| (l.angle, l.low, l.high, l.last_day)).collect();
        (exercises, limits, p.own.len(), p.start, p.unread.len())
    };
    prop_assert_eq!(meaning(&again), meaning(&first), "typed {:?}\ntidy {:?}", typed, tidy);
    Ok(())
}

/// Pieces that prescriptions are made of, right and wrong, to be joined in any order.
fn piece() -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "bridge",
        "heel slide",
        "straight leg raise",
        "R",
        "L",
        "(R)",
        "right",
        "left",
        "both",
        "each side",
        "E/S",
        "B/L",
        "alternating",
        "together",
        "knee",
        "hip",
        "flexion",
        "limit",
        "limit:",
        "limt:",
        "range:",
        "weight:",
        "start:",
        "2026-11-30",
        "until",
        "week",
        "week 4",
        "after surgery",
        "3x10",
        "3 x 10",
        "10 x 3",
        "2 x 5 x 10 s",
        "30 s",
        "5 min",
        "hold",
        "hold 5 s",
        "rest 60 s",
        "daily",
        "2/day",
        "3/week",
        "x3 daily",
        "5/7",
        "BD",
        "PRN",
        "EOD",
        "RPE 6",
        "2 kg",
        "2 x 4 kg",
        "red band",
        "band \"red\"",
        "pain <= 3",
        "tempo 3-1-1-0",
        "AMRAP",
        "to fatigue",
        "as able",
        "Mon Wed Fri",
        "morning",
        "after evening",
        ",",
        ", ",
        ":",
        ": ",
        ";",
        "(",
        ")",
        "-",
        "- ",
        "+",
        "/",
        "//",
        "#",
        "##",
        "\n",
        "\n  ",
        "\n    ",
        "\n\n",
        "\t",
        "\u{a0}",
        "\u{200f}",
        "”",
        "“",
        "×",
        "–",
        "cue:",
        "from week 3:",
        "when easy:",
        "if",
        "stop if:",
        "anyway:",
        "at:",
        "exercise:",
        "pose: start",
        "like: bridge",
        "no",
        "past 90",
        "0-90",
        "NWB",
        "c/o",
        "L4/5",
        "with",
        "and",
        "of",
        "slow",
        "quick",
        "20",
        "1.",
        "1)",
        "•",
        "½",
        "é\u{301}",
        "م",
        "<script>",
        "in all",
        "up to",
        "at most 4/day",
        "+ 2 min every 3 days",
        "+ 10 % every week up to 20 min",
        "add a set each week (max 3)",
        "add a lamp-post a week",
        ", if sore, halve it",
        ", when easy",
        ", then 3 x 15 from week 4",
        ", stop if",
        "progress to",
        "wean off crutches",
        "6 x (1 min brisk, 2 min easy)",
        "3 rounds of:",
        "time:",
        "Mon-Fri",
    ]);
    (words, prop::bool::weighted(0.7))
        .prop_map(|(word, space)| if space { format!("{word} ") } else { word.to_string() })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read_and_settles(typed in any::<String>()) {
        tidy_is_settled(&typed)?;
    }

    #[test]
    fn any_lines_are_read_and_settle(typed in "(?s)[ -~\n\r\t\u{a0}×é–]{0,120}") {
        tidy_is_settled(&typed)?;
    }

    #[test]
    fn grammar_shaped_noise_settles(pieces in prop::collection::vec(piece(), 0..24)) {
        tidy_is_settled(&pieces.concat())?;
    }

    #[test]
    fn doses_settle(pieces in prop::collection::vec(piece(), 0..8)) {
        let typed: String = pieces.concat().replace('\n', " ");
        let whole = |t: &str| Place { line: 1, start: 0, end: t.len() };
        let (first, _) = dose::read(&typed, whole(&typed));
        let canonical = first.to_string();
        // Noise may take one more reading to settle; a prescription keeps such a line as typed.
        let second = dose::read(&canonical, whole(&canonical)).0.to_string();
        let third = dose::read(&second, whole(&second)).0.to_string();
        prop_assert_eq!(third, second, "typed {:?}", typed);
    }

    #[test]
    fn folding_leads_back(typed in any::<String>(), a in 0usize..200, b in 0usize..200) {
        let folded = fold::fold(&typed);
        let source = folded.source(a.min(b)..a.max(b));
        prop_assert!(typed.get(source).is_some());
    }

    #[test]
    fn distance_is_a_distance(a in "[a-d]{0,8}", b in "[a-d]{0,8}") {
        let d = text::near::distance(&a, &b, 20);
        prop_assert_eq!(d, text::near::distance(&b, &a, 20));
        prop_assert_eq!(d == Some(0), a == b);
        prop_assert!(d.is_some_and(|d| a.len().abs_diff(b.len()) <= d && d <= a.len().max(b.len())));
        for bound in 0..8 {
            prop_assert_eq!(text::near::distance(&a, &b, bound), d.filter(|d| *d <= bound));
        }
    }
}

/// Lines that prescriptions are made of, to be mixed with garbage.
fn whole_line() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "bridge 3x10 BD",
        "heel slide, right: 2 x 10, hold 5 s",
        "walk 20 min daily",
        "start: 2026-11-30",
        "limit: right knee flexion 0-90 until week 4",
        "## Loosen",
        "// remark",
        "squat 3x8 RPE 6 EOD",
    ])
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    /// An error in one line spoils no other: the exercises of all other lines stay as they are.
    #[test]
    fn garbage_in_one_line_spoils_no_other(
        lines in prop::collection::vec(whole_line(), 1..8), at in 0usize..8, garbage in "[ -~]{0,40}",
    ) {
        let at = at % lines.len();
        let low = garbage.to_lowercase();
        // A heading, an own exercise and a detail reach beyond their line by design.
        prop_assume!(!low.trim_start().starts_with('#') && !low.contains("exercise") && !low.contains("round"));
        let mut spoilt: Vec<String> = lines.iter().map(|l| (*l).to_string()).collect();
        spoilt[at] = format!("§ {garbage}");
        let of = |text: &str| -> Vec<(usize, String, Option<dose::Sided>, dose::Dose)> {
            let (p, _) = read(text);
            p.exercises.iter().map(|e| (e.line, e.name.text.clone(), e.side, e.dose.clone())).collect()
        };
        let (clean, dirty) = (of(&lines.join("\n")), of(&spoilt.join("\n")));
        let others = |all: Vec<(usize, String, Option<dose::Sided>, dose::Dose)>| -> Vec<_> {
            all.into_iter().filter(|e| e.0 != at + 1).collect()
        };
        prop_assert_eq!(others(dirty), others(clean));
    }

    /// Every suggested edit can be made, changes the text, and a text that takes all of them comes to an end of its
    /// notices with edits, or at least to a bounded number of steps.
    #[test]
    fn suggested_edits_are_made_and_come_to_an_end(pieces in prop::collection::vec(piece(), 0..12)) {
        let mut text = pieces.concat();
        for _ in 0..40 {
            let (_, notices) = read(&text);
            let Some(notice) = notices.iter().find(|n| n.edit.is_some() && n.severity() != layfigure::notice::Severity::Advice)
            else { return Ok(()) };
            let edit = notice.edit.as_ref().expect("an edit");
            let all = text::lines(&text);
            let line = all[edit.place.line - 1].raw;
            let from = line.as_ptr() as usize - text.as_ptr() as usize;
            let mut changed = text.clone();
            changed.replace_range(from + edit.place.start..from + edit.place.end, &edit.with);
            prop_assert_ne!(&changed, &text, "{:?}", notice);
            text = changed;
        }
        prop_assert!(false, "edits go on and on: {text:?}");
    }
}
