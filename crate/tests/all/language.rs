//! Pairs of texts in `tests/vectors/`: what is typed and what it is read as. They are included at build
//! time, so that the same run works where there are no files. Add a pair to a file to add a test.

use layfigure::dose;
use layfigure::prescription::{print, read};
use layfigure::text::Place;

/// The pairs `typed => expected ! kinds` of a file, with the number of the line.
fn pairs(file: &'static str) -> impl Iterator<Item = (usize, &'static str, String)> {
    file.lines().enumerate().filter(|(_, l)| !l.starts_with("# ") && !l.is_empty()).map(|(i, l)| {
        let (typed, expected) =
            l.split_once(" => ").unwrap_or_else(|| panic!("line {}: no => in {l:?}", i + 1));
        (i + 1, typed, expected.trim().to_string())
    })
}

/// Runs `reader` over the pairs; it gives the written form, that form read again, and the kinds of notices.
fn check(file: &'static str, reader: impl Fn(&str) -> (String, String, Vec<&'static str>)) {
    let mut faults = Vec::new();
    let mut count = 0;
    for (line, typed, expected) in pairs(file) {
        count += 1;
        let (mut got, again, mut kinds) = reader(typed);
        if again != got {
            faults.push(format!("line {line}: {typed:?}: {got:?} is read again as {again:?}"));
        }
        kinds.sort_unstable();
        kinds.dedup();
        if !kinds.is_empty() {
            got = format!("{got} ! {}", kinds.join(" "));
        }
        if got.trim() != expected {
            faults.push(format!("line {line}: {typed:?}\n     want {expected:?}\n      got {got:?}"));
        }
    }
    assert!(0 < count);
    assert!(faults.is_empty(), "{} of {count}:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn doses() {
    check(include_str!("../../../tests/vectors/doses.pairs"), |typed| {
        let whole = |text: &str| Place { line: 1, start: 0, end: text.len() };
        let (dose, notices) = dose::read(typed, whole(typed));
        let written = dose.to_string();
        let again = dose::read(&written, whole(&written)).0.to_string();
        (written, again, notices.iter().map(|n| n.kind()).collect())
    });
}

#[test]
fn lines() {
    check(include_str!("../../../tests/vectors/lines.pairs"), |typed| {
        let (p, notices) = read(typed);
        let written = print(&p).trim_end_matches('\n').to_string();
        let again = print(&read(&written).0).trim_end_matches('\n').to_string();
        (written, again, notices.iter().map(|n| n.kind()).collect())
    });
}

fn unescaped(text: &str) -> String {
    let mut out = text.replace("\\r", "\r").replace("\\t", "\t");
    while let Some(at) = out.find("\\u{") {
        let end = at + out[at..].find('}').expect("a closed escape");
        let code = u32::from_str_radix(&out[at + 3..end], 16).expect("a hexadecimal number");
        out.replace_range(at..=end, &char::from_u32(code).expect("a character").to_string());
    }
    out.replace("\\n", "\n")
}

#[test]
fn whole_texts() {
    let file = include_str!("../../../tests/vectors/whole.blocks");
    let mut count = 0;
    for block in file.split("\n== ").skip(1) {
        count += 1;
        let (name, rest) = block.split_once('\n').expect("a name");
        let (typed, rest) = rest.split_once("-- tidy\n").expect("-- tidy");
        let (tidy, kinds) = rest.split_once("-- notices").expect("-- notices");
        let typed = unescaped(typed);
        let (p, notices) = read(&typed);
        assert_eq!(print(&p), tidy, "{name}");
        let got: Vec<String> = notices.iter().map(|n| format!("{} {}", n.place.line, n.kind())).collect();
        let expected: Vec<&str> = kinds.trim().lines().collect();
        assert_eq!(got, expected, "{name}");
        assert_eq!(print(&read(tidy).0), tidy, "{name}, read again");
        assert!(!layfigure::notice::told(&typed, &notices).contains('\r'), "{name}");
    }
    assert!(0 < count);
}

#[test]
fn every_edit_can_be_made() {
    // Taking the suggested edit of a single mistake leaves no notice of its kind.
    for (typed, kind) in [
        ("limt: right knee 0-60", "mistyped-key"),
        ("limit right knee 0-60", "missing-colon"),
        ("bridge 3x10 RPE 6", "ask-effort-scale"),
        ("bridge 10 x 3 daily", "dose-times-daily"),
        ("bridge 3x10 5/7", "dose-sevenths"),
        ("bridge 3x10 EOD", "ask-eod"),
        ("bridge 2 x 4 kg", "ask-two-weights"),
        ("bridge 2 x 5 x 10", "ask-three-numbers"),
        ("bridge 3x10 2,5 kg", "ask-decimal-comma"),
        ("bridge 3x10 dialy", "dose-misspelt"),
        ("walk 10 m", "ask-minute-metre"),
        ("NWB right leg", "plain-weight"),
    ] {
        let (_, notices) = read(typed);
        let notice =
            notices.iter().find(|n| n.kind() == kind).unwrap_or_else(|| panic!("{typed}: no {kind}"));
        let edit = notice.edit.as_ref().unwrap_or_else(|| panic!("{typed}: no edit"));
        let mut mended = typed.to_string();
        mended.replace_range(edit.place.start..edit.place.end, &edit.with);
        let (_, after) = read(&mended);
        assert!(after.iter().all(|n| n.kind() != kind), "{typed} became {mended}: {after:?}");
    }
}

#[test]
fn a_missing_week_is_asked_for_not_guessed() {
    let (_, notices) = read("bridge 3x10\nfrom week:");
    let notice = notices.first().expect("a notice");
    assert_eq!((notice.kind(), &notice.edit), ("mistyped-key", &None));
    assert!(notice.sentence().contains("“from week 3:”"), "{}", notice.sentence());
}
