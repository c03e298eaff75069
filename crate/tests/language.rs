//! Runs the pairs of texts in `tests/vectors/`. They are included at build time, so that the same run
//! works where there are no files.

use layfigure::dose::read;
use layfigure::text::Place;

/// The pairs `typed => expected ! kinds` of a file, with the number of the line.
fn pairs(file: &'static str) -> impl Iterator<Item = (usize, &'static str, String)> {
    file.lines().enumerate().filter(|(_, l)| !l.starts_with('#') && !l.is_empty()).map(|(i, l)| {
        let (typed, expected) =
            l.split_once(" => ").unwrap_or_else(|| panic!("line {}: no => in {l:?}", i + 1));
        (i + 1, typed, expected.trim().to_string())
    })
}

#[test]
fn doses() {
    let mut faults = Vec::new();
    let mut count = 0;
    for (line, typed, expected) in pairs(include_str!("../../tests/vectors/doses.pairs")) {
        count += 1;
        let whole = |text: &str| Place { line: 1, start: 0, end: text.len() };
        let (dose, notices) = read(typed, whole(typed));
        let mut kinds: Vec<&str> = notices.iter().map(|n| n.kind).collect();
        kinds.sort_unstable();
        kinds.dedup();
        let mut got = dose.to_string();
        let (again, _) = read(&got, whole(&got));
        if again.to_string() != got {
            faults.push(format!("line {line}: {typed:?}: {got:?} is read again as {:?}", again.to_string()));
        }
        if !kinds.is_empty() {
            got = format!("{got} ! {}", kinds.join(" "));
        }
        if got.trim() != expected {
            faults.push(format!("line {line}: {typed:?}\n     want {expected:?}\n      got {got:?}"));
        }
    }
    assert!(faults.is_empty(), "{} of {count}:\n{}", faults.len(), faults.join("\n"));
}
