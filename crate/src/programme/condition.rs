//! Which of the clinician's cautions a rule knows. Words only; nothing here decides anything.

use super::{Caution, Condition};
use crate::prescription::Prescription;

/// Words that speak of a condition; all words of one list must occur. Earlier rows win.
const SPOKEN: [(Condition, &[&[&str]]); 12] = [
    (Condition::Pregnancy, &[&["pregnan"], &["antenatal"], &["weeks gestation"]]),
    (
        Condition::Osteoporosis,
        &[&["osteoporo"], &["osteopen"], &["fragility fracture"], &["vertebral fracture"], &["bone density"]],
    ),
    (Condition::RaisedBloodPressure, &[&["blood pressure"], &["hypertensi"], &["raised bp"], &["high bp"]]),
    (Condition::AnteriorHip, &[&["anterior", "hip"]]),
    (Condition::PosteriorHip, &[&["posterior", "hip"], &["hip precaution"], &["posterior approach"]]),
    (Condition::CuffRepair, &[&["cuff repair"], &["repair", "cuff"]]),
    (Condition::CruciateReconstruction, &[&["acl"], &["cruciate"]]),
    (Condition::MeniscusRepair, &[&["menisc", "repair"]]),
    (Condition::Falls, &[&["falls"], &["faller"], &["fell "], &["a fall "], &["falling"]]),
    (Condition::Hypermobility, &[&["hypermobil"], &["beighton"], &["ehlers"]]),
    (Condition::Brace, &[&["brace"], &["sling"], &["walking boot"], &["splint"]]),
    (
        Condition::Surgery,
        &[&["replacement"], &["arthroplasty"], &["after surgery"], &["post-op"], &["operation"]],
    ),
];

/// Words that turn a caution around: `no falls`.
const NOT: [&str; 6] = ["no ", "not ", "never ", "without ", "denies ", "nil "];

/// The conditions that words speak of, in the table's order; none where they are denied.
pub fn spoken(words: &str) -> Vec<Condition> {
    let words = format!("{} ", words.to_lowercase());
    if NOT.iter().any(|n| words.starts_with(n)) {
        return Vec::new();
    }
    let said = |any: &[&[&str]]| any.iter().any(|all| all.iter().all(|part| at_word_start(&words, part)));
    SPOKEN.iter().filter(|(_, any)| said(any)).map(|(c, _)| *c).collect()
}

/// `part` begins a word of `words`: `acl` is not in `miracle`.
fn at_word_start(words: &str, part: &str) -> bool {
    words.match_indices(part).any(|(i, _)| {
        words.get(..i).and_then(|before| before.chars().next_back()).is_none_or(|c| !c.is_alphanumeric())
    })
}

/// Every caution, operation and word of the body that a rule may know, in the order of the text.
pub fn cautions(p: &Prescription) -> Vec<Caution> {
    let mut found = Vec::new();
    let mut add = |words: &str, place, always: Option<Condition>| {
        let known = spoken(words);
        if known.is_empty() {
            found.push(Caution { words: words.to_string(), known: always, place });
        }
        for known in known {
            found.push(Caution { words: words.to_string(), known: Some(known), place });
        }
    };
    for said in &p.cautions {
        add(&said.text, said.place, None);
    }
    if let Some(surgery) = &p.surgery {
        add(&surgery.words, surgery.place, Some(Condition::Surgery));
    }
    for bearing in &p.bearing {
        if spoken(&bearing.words).contains(&Condition::Brace) {
            add(&bearing.words, bearing.place, None);
        }
    }
    for said in p.body.iter().flat_map(|b| &b.words) {
        if !spoken(&said.text).is_empty() {
            add(&said.text, said.place, None);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_known_at_their_start_and_denial_is_heard() {
        assert_eq!(spoken("ACL reconstruction"), [Condition::CruciateReconstruction]);
        assert_eq!(spoken("a miracle"), []);
        assert_eq!(spoken("no osteoporosis"), []);
        assert_eq!(
            spoken("Right total hip replacement, posterior approach"),
            [Condition::PosteriorHip, Condition::Surgery]
        );
        assert_eq!(spoken("two falls this year"), [Condition::Falls]);
    }
}
