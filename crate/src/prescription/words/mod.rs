//! The words that begin a line: one table of line words, one of details, one of words of other records.
//!
//! Whatever knows a list of those words takes it from here: the reader, the tidy form, notices, what is offered at the
//! cursor, and the grammar's page (`tests/all/line_words.rs` holds it). A new line word or detail is one row, and the code that
//! takes its value: the enums are made of the rows, so nothing compiles until the value is taken.

pub mod detail;
mod elsewhere;
pub mod line;

pub use detail::{Below, DETAILS, DetailWord, Takes, Wording};
pub use elsewhere::{ELSEWHERE, Elsewhere, elsewhere};
pub use line::{Key, LINE_WORDS, LineWord};

use super::About;
use crate::text::near;

/// How often a word may stand: in the whole text, or below one exercise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Count {
    Once,
    Many,
}

/// Whether what stands behind a word is about safety.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Safety {
    No,
    /// Never lost, and said to be unchecked where it was not read.
    Kept,
    /// The same, and it restricts by itself: where it was not read it stands under “Do not”.
    Restricts,
}

impl Safety {
    pub fn is_kept(self) -> bool {
        self != Safety::No
    }
}

/// Whether a folded word before a colon is about safety, in any of the tables.
pub fn is_safety(word: &str) -> bool {
    Key::of(word).is_some_and(Key::is_safety)
        || Below::of(word).is_some_and(|below| below.row().safety.is_kept())
        || elsewhere(word).is_some_and(Elsewhere::is_safety)
}

/// Near line words for words before a colon that are none. Stricter than for names: `bridge` is not
/// near `range`.
pub fn near_keys(words: &str) -> Vec<&'static str> {
    let length = words.chars().count();
    let bound = match length {
        0..=1 => return Vec::new(),
        2..=5 => 1,
        _ => 2,
    };
    let all = Key::ALL.iter().map(|k| k.word()).filter(|w| 3 <= w.len());
    let mut found = near::within(words, all, bound);
    let first = |s: &str, i: usize| s.chars().nth(i);
    found.retain(|key| {
        let same = first(key, 0) == first(words, 0);
        let moved = first(key, 1) == first(words, 0) || first(key, 0) == first(words, 1);
        let close = near::distance(words, key, 1).is_some();
        // A short key is near only where its first letter stands; a long one may have lost it.
        if 5 <= key.len() {
            (same || moved) || (close && 5 <= length)
        } else {
            same || (moved && close && 4 <= key.len())
        }
    });
    found
}

/// A shorter word is near too many others.
const SHORTEST_NEAR: usize = 4;

/// Near details for words before a colon below an exercise. What is nearly a piece of a dose may be a name (`bend`).
pub fn near_details(words: &str) -> Vec<&'static str> {
    if words.chars().count() < SHORTEST_NEAR {
        return Vec::new();
    }
    let all = DETAILS.iter().filter(|row| !matches!(row.takes, Takes::Dose(_))).map(|row| row.word);
    let bound = if words.len() < 6 { 1 } else { 2 };
    near::within(words, all.filter(|word| SHORTEST_NEAR <= word.len()), bound)
}

impl About {
    /// Its row in [`DETAILS`].
    pub fn below(self) -> Below {
        match self {
            About::Cue => Below::Cue,
            About::Feel => Below::Feel,
            About::IfNotFelt => Below::IfNotFelt,
            About::Easier => Below::Easier,
            About::Harder => Below::Harder,
            About::Why => Below::Why,
            About::Note => Below::Note,
            About::StopIf => Below::StopIf,
            About::Taught => Below::Taught,
        }
    }

    /// The key of the detail line.
    pub fn word(self) -> &'static str {
        self.below().row().word
    }
}
