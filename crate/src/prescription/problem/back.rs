//! Whether the word `back` is the part of the body: `sore back`, `back and leg`, not `to the gate and back`.

use super::{Token, ends_piece, is, longest};

/// What is wrong with it, before it or behind it.
const COMPLAINTS: [&str; 30] = [
    "pain",
    "pains",
    "painful",
    "ache",
    "aches",
    "aching",
    "achy",
    "sore",
    "soreness",
    "stiff",
    "stiffness",
    "tight",
    "tightness",
    "spasm",
    "spasms",
    "hurt",
    "hurts",
    "injury",
    "injured",
    "strain",
    "strained",
    "sprain",
    "sprained",
    "trouble",
    "problem",
    "problems",
    "symptoms",
    "weak",
    "weakness",
    "discomfort",
];
/// Before it alone.
const BEFORE: [&str; 9] = ["low", "lower", "bad", "dodgy", "old", "chronic", "acute", "mechanical", "simple"];
/// Behind it alone.
const BEHIND: [&str; 18] = [
    "surgery",
    "op",
    "operation",
    "went",
    "gone",
    "seized",
    "locked",
    "locks",
    "flare",
    "rehab",
    "care",
    "programme",
    "program",
    "plan",
    "class",
    "school",
    "patient",
    "referral",
];
const OWNERS: [&str; 4] = ["my", "his", "her", "their"];
/// Behind these words of how to hold it nothing is told of it.
const HELD: [&str; 9] =
    ["against", "straight", "flat", "supported", "upright", "neutral", "still", "towards", "arched"];

/// Words between it and what is wrong with it.
const REACH: usize = 4;

pub(super) fn is_of_body(tokens: &[Token], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|i| tokens.get(i));
    let behind = tokens.get(at + 1);
    let before_is = |words: &[&str]| before.is_some_and(|t| is(t, words));
    let behind_is = |words: &[&str]| behind.is_some_and(|t| is(t, words));
    if behind_is(&HELD) {
        return false;
    }
    if before_is(&COMPLAINTS) || before_is(&BEFORE) || before_is(&OWNERS) {
        return true;
    }
    let verb = usize::from(behind_is(&["is", "feels", "still", "has"]));
    let complains = |t: &Token| is(t, &COMPLAINTS) || is(t, &BEHIND);
    if tokens.get(at + 1 + verb).is_some_and(complains) || stands_alone(tokens, at) {
        return true;
    }
    // `pain across the back`
    let piece = tokens.get(..at).unwrap_or(&[]).iter().rev().take_while(|t| !ends_piece(t)).take(REACH);
    piece.into_iter().any(|t| is(t, &COMPLAINTS)) || is_joined(tokens, at)
}

/// Whether it is all that stands between two signs: `back`, `neck / back`.
pub(super) fn stands_alone(tokens: &[Token], at: usize) -> bool {
    let sign = |t: &Token| !t.word.starts_with(char::is_alphanumeric);
    let before = at.checked_sub(1).and_then(|i| tokens.get(i));
    before.is_none_or(sign) && tokens.get(at + 1).is_none_or(sign)
}

/// Whether another part of the body is named with it: `back and knee`.
fn is_joined(tokens: &[Token], at: usize) -> bool {
    const JOINS: [&str; 4] = ["and", "&", "+", "/"];
    let join = |at: Option<usize>| at.and_then(|i| tokens.get(i)).is_some_and(|t| is(t, &JOINS));
    let part =
        |at: usize| longest(tokens, at).is_some_and(|(_, facts)| facts.iter().any(|fact| fact.is_part()));
    let before = join(at.checked_sub(1)) && at.checked_sub(2).is_some_and(part);
    before || join(Some(at + 1)) && part(at + 2)
}
