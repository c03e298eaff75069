use super::table::phrases;
use super::*;
use crate::language::token::{Sort, tokens};
use crate::text::fold::fold;

/// A line's conditions, as they are shown.
fn shown(text: &str) -> Vec<String> {
    let place = Place { line: 1, start: 0, end: text.len() };
    crate::language::typed::lexed(text, place, |typed| {
        let has = |word: &str| typed.all.iter().any(|t| t.sort == Sort::Word(word));
        let line = Line { typed, happened: false, asks: true };
        read(line, Some(2026), &has).named.iter().map(|n| n.to_string()).collect()
    })
}

#[test]
fn every_phrase_is_written_as_it_is_lexed() {
    let mut wrong = Vec::new();
    for phrase in phrases() {
        let written = phrase.words().collect::<Vec<_>>().join(" ");
        let folded = fold(&written);
        let lexed: Vec<String> = tokens(&folded)
            .iter()
            .map(|t| match t.sort {
                Sort::Word(w) => w.to_string(),
                Sort::Number(n) => (n / 100).to_string(),
                Sort::Sign(s) => s.to_string(),
            })
            .collect();
        if lexed.join(" ") != written.to_lowercase() {
            wrong.push(format!("{written:?} is lexed as {lexed:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_phrase_means_two_conditions() {
    use std::collections::BTreeMap;
    let mut known: BTreeMap<String, Condition> = BTreeMap::new();
    let mut wrong = Vec::new();
    for phrase in phrases() {
        let super::table::Means::Condition(condition) = phrase.means else { continue };
        let written = phrase.words().collect::<Vec<_>>().join(" ");
        if let Some(other) = known.insert(written.clone(), condition)
            && other != condition
        {
            wrong.push(format!("{written:?}: {other:?} and {condition:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn names_are_found_at_any_capitals_side_and_order() {
    assert_eq!(shown("Fracture of the L distal radius"), ["wrist fracture, left"]);
    assert_eq!(shown("distal radius (R) fx"), ["wrist fracture, right"]);
    assert_eq!(shown("two falls this year"), ["falls"]);
    assert_eq!(shown("a miracle"), [""; 0]);
    assert_eq!(shown("R THR and L TKR"), ["hip replacement, right", "knee replacement, left"]);
    assert_eq!(shown("pregnant, 20 weeks"), ["pregnancy, 20 weeks"]);
}

#[test]
fn a_denial_reaches_as_far_as_it_is_meant() {
    assert_eq!(shown("no osteoporosis"), ["osteoporosis, denied"]);
    assert_eq!(shown("no problems since R THR"), ["hip replacement, right"]);
    assert_eq!(shown("no falls, osteoporosis"), ["falls, denied", "osteoporosis"]);
    assert_eq!(shown("no hx of DVT or PE"), ["blood clot, denied"]);
    assert_eq!(shown("denies asthma, epilepsy"), ["asthma, denied", "epilepsy, denied"]);
}
