//! Whether words begin with what is wrong, and whether it is still to be done.

use super::{is, longest, tokens};

/// So many words may stand before what is wrong.
const MOST_LEADS: usize = 8;
const LEADS: [&str; 34] = [
    "r",
    "l",
    "rt",
    "lt",
    "right",
    "left",
    "both",
    "bilat",
    "bilateral",
    "b",
    "/",
    "new",
    "old",
    "recent",
    "acute",
    "chronic",
    "mild",
    "moderate",
    "severe",
    "known",
    "likely",
    "early",
    "late",
    "post",
    "prev",
    "previous",
    "confirmed",
    "suspected",
    "mt",
    "mc",
    "medial",
    "lateral",
    "distal",
    "proximal",
];

/// Whether words tell of something that is still to be done: `TCI`, `awaiting`, `listed for`.
pub fn is_ahead<'a>(words: impl Iterator<Item = &'a str>) -> bool {
    const AHEAD: [&str; 10] =
        ["tci", "awaiting", "awaits", "listed", "booked", "preop", "prehab", "upcoming", "planned", "w/l"];
    const BEFORE: [(&str, &str); 5] =
        [("pre", "op"), ("to", "come"), ("waiting", "list"), ("waiting", "for"), ("due", "for")];
    let words: Vec<&str> = words.collect();
    words.iter().any(|w| AHEAD.contains(w))
        || words.windows(2).any(|pair| matches!(pair, [a, b] if BEFORE.contains(&(a, b))))
}

/// Whether words begin with a condition, an injury or an operation, behind its side, its part of the body and such words
/// as `old` and `new`.
pub fn begins_with_condition(text: &str) -> bool {
    let tokens = tokens(text);
    let mut at = 0;
    while at < tokens.len().min(MOST_LEADS) {
        let Some(token) = tokens.get(at) else { return false };
        if let Some((length, facts)) = longest(&tokens, at) {
            if facts.iter().any(|fact| fact.is_condition()) {
                return true;
            }
            if facts.is_empty() || !facts.iter().all(|fact| fact.is_part()) {
                return false;
            }
            at += length;
        } else if is(token, &LEADS) || token.word.starts_with(|c: char| c.is_ascii_digit()) {
            at += 1;
        } else {
            return false;
        }
    }
    false
}
