//! The catalog and the vocabulary of conditions name the same things.

use layfigure::catalog::Catalog;
use layfigure::language::condition::knows;
use layfigure::prescription::read;

#[test]
fn every_caution_of_the_catalog_is_a_known_condition() {
    let mut unknown: Vec<String> = Vec::new();
    for e in Catalog::embedded().exercises() {
        let strange = e.cautions.iter().filter(|words| knows(words).is_empty());
        unknown.extend(strange.map(|words| format!("{}: {words}", e.id)));
    }
    assert!(unknown.is_empty(), "{unknown:#?}");
}

#[test]
fn a_history_is_known_and_goes_nowhere() {
    let (p, _) = read("PMH: osteoporosis, T2DM, prev DVT 2019\nbridge 3x10");
    let shown: Vec<String> = p.conditions.iter().map(|n| n.to_string()).collect();
    assert_eq!(shown, ["osteoporosis", "diabetes, type 2", "blood clot, 2019, before"]);
}

/// Every place points to the words that name it.
#[test]
fn a_condition_has_its_place() {
    let text = "# L TKR 6/52\ncaution: right hip replacement, posterior approach\nPMH: T2DM";
    let (p, _) = read(text);
    let words: Vec<&str> = p
        .conditions
        .iter()
        .map(|n| &text.lines().nth(n.place.line - 1).expect("a line")[n.place.start..n.place.end])
        .collect();
    assert_eq!(words, ["TKR", "hip replacement", "T2DM"]);
}
