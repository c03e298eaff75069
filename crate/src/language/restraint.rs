//! Words that deny or forbid.

use super::token::{Cursor, Sort};

const DENIALS: &[&str] = &[
    "no",
    "nil",
    "not",
    "not to",
    "never",
    "avoid",
    "avoiding",
    "don't",
    "dont",
    "do not",
    "must not",
    "mustn't",
    "mustnt",
    "should not",
    "shouldn't",
    "may not",
    "can not",
    "cannot",
    "can't",
    "cant",
    "is not to",
    "without",
    "refrain from",
    "stay off",
    "keep off",
    "stay away from",
    "keep away from",
    "stay out of",
    "nor",
];

/// What can stand behind what is denied: `flexion nil`, `flexion not allowed`.
const DENIALS_BEHIND: &[&str] = &[
    "nil",
    "none",
    "not allowed",
    "not permitted",
    "forbidden",
    "prohibited",
    "contraindicated",
    "to be avoided",
];

/// The longest of the phrases that stands at the cursor is taken.
fn one_of(c: &mut Cursor<'_>, phrases: &[&str]) -> bool {
    let mut best = c.at;
    for phrase in phrases {
        let mut m = *c;
        if phrase.split(' ').all(|word| m.word(&[word]).is_some()) && best < m.at {
            best = m.at;
        }
    }
    let found = c.at < best;
    c.at = best;
    found
}

/// A denial at the cursor: `no`, `avoid`, `must not`. Not the `no` of a number such as `No. 3`, nor `not only`.
pub fn denial(c: &mut Cursor<'_>) -> bool {
    let begun = *c;
    if !one_of(c, DENIALS) {
        return false;
    }
    let number = begun.peek_word() == Some("no")
        && matches!(c.peek().map(|t| (t.sort, t.spaced)), Some((Sort::Sign('.'), false)))
        && matches!(c.all.get(c.at + 1).map(|t| t.sort), Some(Sort::Number(_)));
    let says_nothing = number || matches!(c.peek_word(), Some("only" | "just" | "necessarily"));
    if says_nothing {
        *c = begun;
    }
    !says_nothing
}

/// A denial that stands behind what it denies.
pub fn denial_behind(c: &mut Cursor<'_>) -> bool {
    one_of(c, DENIALS_BEHIND)
}
