//! The buttons of a strip on texts of many kinds.

use super::*;
use crate::catalog::terms;
use proptest::prelude::*;

const TEXT: &str = "# Right knee\nlimit: right knee flexion 0-90\n\n## Loosen\nslide a, right: 2 x 10, hold 5 s, 2/day\n  cue: Slowly.\n// seen\n\n## Strengthen\n- lift b (L) 3x8 3/wk\n  from week 3: 3 x 12\npush c: 30 s\n";

fn after(line: usize, name: &str) -> String {
    let change = Change::named(name).unwrap_or_else(|| panic!("{name}"));
    assert_eq!(change.name(), name);
    changed(TEXT, line, &change).unwrap_or_else(|e| panic!("{name}: {e}")).text
}

#[test]
fn sides_and_doses_are_written_into_their_line_alone() {
    for (line, name, from, to) in [
        (5, "side left", "slide a, right:", "slide a, left:"),
        (5, "more sets", "2 x 10, hold", "3 x 10, hold"),
        (5, "less reps", "2 x 10, hold", "2 x 9, hold"),
        (5, "more hold", "hold 5 s", "hold 10 s"),
        (5, "less hold", "hold 5 s", "hold 4 s"),
        (5, "more often", "2/day", "3/day"),
        (5, "less often", ", 2/day", ", daily"),
        (10, "side each", "lift b (L) 3x8 3/wk", "lift b, each side: 3 x 8, 3/week"),
        (10, "more often", "lift b (L) 3x8 3/wk", "lift b, left: 3 x 8, 4/week"),
        (12, "more time", "30 s", "35 s"),
    ] {
        assert_eq!(after(line, name), TEXT.replacen(from, to, 1), "{name}");
    }
}

#[test]
fn order_moves_all_that_belongs_to_an_exercise() {
    let up = after(10, "up");
    assert!(
        up.contains("// seen\n- lift b (L) 3x8 3/wk\n  from week 3: 3 x 12\n\n## Strengthen\npush c"),
        "{up}"
    );
    let down = after(5, "down");
    assert!(down.contains("## Loosen\n\n## Strengthen\nslide a, right: 2 x 10, hold 5 s, 2/day\n  cue: Slowly.\n// seen\n- lift b"), "{down}");
    let swapped = after(12, "up");
    assert!(
        swapped.contains("## Strengthen\npush c: 30 s\n- lift b (L) 3x8 3/wk\n  from week 3"),
        "{swapped}"
    );
    assert_eq!(changed(&swapped, 10, &Change::Down).map(|c| c.text), Ok(TEXT.to_string()));
    assert!(changed(TEXT, 12, &Change::Down).is_err());
    assert!(changed(TEXT, 5, &Change::Up).is_err());
}

#[test]
fn what_is_taken_out_goes_with_its_details() {
    assert!(!after(10, "remove").contains("week 3"));
    assert_eq!(after(5, "again").matches("cue: Slowly.").count(), 2);
    let kept = changed(TEXT, 5, &Change::Anyway).expect("room");
    assert_eq!(kept.text.split('\n').nth(kept.line - 1), Some("  anyway: "));
}

#[test]
fn every_neighbour_in_the_catalog_can_be_put_in_place() {
    let mut tried = 0;
    for entry in Catalog::embedded().exercises() {
        let text = inserted("# Left knee\n\n## A\n", 1, entry).text;
        let line = text.split('\n').position(|l| l.starts_with(&prescription_name(entry))).map(|at| at + 1);
        for other in [&entry.easier, &entry.harder, &entry.instead].into_iter().flatten() {
            let Some(id) = &other.id else { continue };
            let changed = changed(&text, line.unwrap_or(0), &Change::Swap(id.clone()));
            let changed = changed.unwrap_or_else(|e| panic!("{text}{id}: {e}"));
            let (read, _) = prescription::read(&changed.text);
            let found = super::entry(&read, &read.exercises[0].name.text).map(|e| e.id.as_str());
            assert_eq!(found, Some(id.as_str()));
            assert!(!read.exercises[0].dose.work.is_empty() || found.is_none(), "{}", changed.text);
            tried += 1;
        }
    }
    assert!(10 < tried, "{tried}");
}

#[test]
fn a_new_exercise_goes_where_one_is_writing() {
    let entry = Catalog::embedded().exercises().iter().find(|e| e.sides == terms::Sides::Each);
    let entry = entry.expect("one with sides");
    let name = prescription_name(entry);
    for (text, line, wanted) in [
        ("", 1, 1),
        ("# Right knee\naim: stairs", 2, 4),
        (TEXT, 6, 8),
        (TEXT, 9, 10),
        (TEXT, 12, 13),
        (TEXT, 2, 5),
    ] {
        let put = inserted(text, line, entry);
        assert_eq!(put.line, wanted, "{text}\n{line}: {}", put.text);
        let written = put.text.split('\n').nth(put.line - 1).unwrap_or("");
        assert!(written.starts_with(&name), "{written}");
        let (before, _) = prescription::read(text);
        let (after, _) = prescription::read(&put.text);
        assert_eq!(after.exercises.len(), before.exercises.len() + 1);
    }
}

proptest! {
    /// Any button on any line of any text either says why not, or changes that one exercise alone.
    #[test]
    fn buttons_change_one_exercise_alone(
        lines in prop::collection::vec(prop::sample::select(vec![
            "# Left knee", "", "## A", "- push up c 3x10", "slide a (R): 2 x 10, hold 5 s", "  cue: a", "  3 x 12",
            "// b", "walk: 8 min TDS flat, +2 min every 3 days", "limit: knee 90", "x, left: 3 x AMRAP",
            "  from week 2: 3 x 12", "plank 2 x 5 x 10 s; slowly", "exercise: q", "  do: r", "\u{a0}row\t3x8", "push c: 3 x 10\u{2028}  cue: b", "lift d\r  cue: c",
        ]), 0..12),
        line in 1usize..13,
        name in prop::sample::select(vec![
            "side left", "side each", "more sets", "less sets", "more reps", "less reps", "more hold", "less hold",
            "more time", "less often", "more often", "up", "down", "again", "remove", "anyway",
        ]),
    ) {
        let text = lines.join("\n");
        let (before, _) = prescription::read(&text);
        let change = Change::named(name).expect("a change");
        if let Ok(changed) = changed(&text, line, &change) {
            let (after, _) = prescription::read(&changed.text);
            let of = |p: &Prescription, but: usize| -> Vec<String> {
                let mut all: Vec<String> = p.exercises.iter().enumerate().filter(|(i, _)| *i != but)
                    .map(|(_, e)| format!("{} {:?} {}", e.name.text, e.side, e.dose)).collect();
                crate::sorting::sort(&mut all);
                all
            };
            let at = before.exercises.iter().position(|e| e.line == line).expect("it was one");
            match change {
                Change::Side(_) | Change::Dose(..) => prop_assert_eq!(of(&after, at), of(&before, at)),
                Change::Up | Change::Down | Change::Anyway => prop_assert_eq!(of(&after, usize::MAX), of(&before, usize::MAX)),
                Change::Remove => prop_assert_eq!(of(&after, usize::MAX), of(&before, at)),
                _ => prop_assert_eq!(after.exercises.len(), before.exercises.len() + 1),
            }
            prop_assert!(changed.line <= place::lines(&changed.text).count());
        }
    }
}
