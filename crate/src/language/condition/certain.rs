//! Whether a patient has what is named: denied, queried, long ago, someone else's. By the words around the name, over the
//! tokens of one text.

use crate::language::anatomy;
use crate::language::token::{Cursor, Sort, Token};

/// A stretch of a text between commas and stops.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    pub(super) from: usize,
    pub(super) to: usize,
    /// Of the whole sentence around it.
    pub(super) sentence: (usize, usize),
}

/// The pieces of a text in order, without the signs between them.
pub(super) fn pieces(all: &[Token<'_>]) -> Vec<Piece> {
    let stop = |at: usize| {
        let spaced = all.get(at + 1).is_none_or(|t| t.spaced);
        match all.get(at).map(|t| t.sort) {
            Some(Sort::Sign('.')) => spaced,
            Some(Sort::Sign(';' | '|')) => true,
            Some(Sort::Word("but" | "however" | "reports" | "has" | "having")) => true,
            _ => false,
        }
    };
    let mut out: Vec<Piece> = Vec::new();
    let mut begun = 0;
    while begun < all.len() {
        let to = (begun..all.len()).find(|at| stop(*at)).unwrap_or(all.len());
        let mut from = begun;
        while from <= to {
            let comma = |at: &usize| matches!(all.get(*at).map(|t| t.sort), Some(Sort::Sign(',')));
            let end = (from..to).find(comma).unwrap_or(to);
            if from < end {
                out.push(Piece { from, to: end, sentence: (begun, to) });
            }
            from = end + 1;
        }
        begun = to + 1;
    }
    out
}

fn word<'a>(all: &[Token<'a>], at: usize) -> Option<&'a str> {
    match all.get(at)?.sort {
        Sort::Word(w) => Some(w),
        Sort::Number(_) | Sort::Sign(_) => None,
    }
}

fn is_sign(all: &[Token<'_>], at: usize, sign: char) -> bool {
    all.get(at).is_some_and(|t| t.sort == Sort::Sign(sign))
}

/// `a/b` at a token: `h/o`, `r/o`.
fn letters(all: &[Token<'_>], at: usize, a: &str, b: &str) -> bool {
    word(all, at) == Some(a) && is_sign(all, at + 1, '/') && word(all, at + 2) == Some(b)
}

/// Words of which a denial reaches what stands behind them: `no history of DVT`, `no known OA`.
const BETWEEN: [&str; 39] = [
    "known",
    "hx",
    "history",
    "of",
    "h",
    "o",
    "sign",
    "signs",
    "evidence",
    "recent",
    "other",
    "any",
    "current",
    "new",
    "clinical",
    "obvious",
    "acute",
    "significant",
    "prev",
    "previous",
    "past",
    "personal",
    "risk",
    "features",
    "the",
    "a",
    "an",
    "longer",
    "on",
    "had",
    "have",
    "having",
    "been",
    "not",
    "for",
    "reported",
    "ever",
    "active",
    "or",
];

/// Whether the name from `from` to `to` is denied.
pub(super) fn is_denied(all: &[Token<'_>], piece: Piece, from: usize, to: usize) -> bool {
    let (begun, end) = piece.sentence;
    // Behind it: `DVT excluded`, `falls: nil`, `MI ruled out`.
    let behind = |at: usize| match word(all, at) {
        Some("nad" | "neg" | "negative" | "nil" | "none" | "excluded" | "absent" | "denied" | "never") => {
            true
        }
        Some("ruled") => word(all, at + 1) == Some("out"),
        Some("ve") => is_sign(all, at.wrapping_sub(1), '-'),
        Some("r") => letters(all, at, "r", "o'd"),
        _ => false,
    };
    if (to..piece.to).any(behind) {
        return true;
    }
    (begun..from).rev().any(|at| {
        let reaches_all = matches!(word(all, at), Some("denies" | "denied" | "denying" | "deny"));
        let length = match word(all, at) {
            Some("no" | "nil" | "not" | "without" | "never") => 1,
            Some("neg" | "negative") if word(all, at + 1) == Some("for") => 2,
            Some("ruled") if word(all, at + 1) == Some("out") => 2,
            Some("r") if letters(all, at, "r", "o'd") => 3,
            _ if reaches_all => 1,
            _ => return false,
        };
        if reaches_all {
            return true;
        }
        // To the next comma, and through a list that ends with "or".
        let listed = piece.from <= at
            || (at..end).any(|i| matches!(word(all, i), Some("or" | "nor")) && from <= i + 2);
        listed && reaches(all, at + length, from)
    })
}

/// Whether nothing between a denial and a name takes it to itself: `no pain since R THR` denies no THR.
fn reaches(all: &[Token<'_>], from: usize, to: usize) -> bool {
    let parts = |at: usize| {
        matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign(',' | '/' | '+' | '&')))
            || matches!(word(all, at), Some("or" | "nor"))
    };
    let begun = (from..to).rev().find(|at| parts(*at)).map_or(from, |at| at + 1);
    // What stands in the item itself.
    let mut at = begun;
    while at < to {
        let mut c = Cursor { all, at };
        if anatomy::both_sides(&mut c) || anatomy::side(&mut c).is_some() || anatomy::joint(&mut c).is_some()
        {
            at = c.at;
        } else if word(all, at).is_some_and(|w| BETWEEN.contains(&w))
            || matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign(_)))
        {
            at += 1;
        } else {
            return false;
        }
    }
    // `no falls and osteoporosis` denies the first.
    !(from..to).any(|at| matches!(word(all, at), Some("and" | "with" | "since" | "after" | "following")))
}

const RELATIVES: [&str; 30] = [
    "mother",
    "mum",
    "mom",
    "father",
    "dad",
    "brother",
    "sister",
    "wife",
    "husband",
    "partner",
    "son",
    "daughter",
    "carer",
    "caregiver",
    "grandmother",
    "grandfather",
    "nan",
    "uncle",
    "aunt",
    "cousin",
    "family",
    "parent",
    "parents",
    "fh",
    "fhx",
    "mother's",
    "wife's",
    "husband's",
    "father's",
    "mum's",
];

/// Whether it is someone else's.
pub(super) fn is_of_another(all: &[Token<'_>], piece: Piece, from: usize) -> bool {
    let history = |at: usize| {
        matches!(word(all, at), Some("fh" | "fhx"))
            || word(all, at) == Some("family") && matches!(word(all, at + 1), Some("history" | "hx"))
            || letters(all, at, "f", "h")
            || letters(all, at, "f", "hx")
    };
    // `fear of falling, husband works`: only what stands before it owns it.
    let relative = |at: usize| word(all, at).is_some_and(|w| RELATIVES.contains(&w));
    let own = |at: usize| word(all, at).is_some_and(|w| w.starts_with("pmh"));
    let begun = (piece.sentence.0..from).rev().find(|at| own(*at)).unwrap_or(piece.sentence.0);
    (begun..from).any(history) || (piece.from..from).any(relative)
}

/// Whether it is only asked: `?DVT`, `suspected`.
pub(super) fn is_queried(all: &[Token<'_>], piece: Piece, from: usize, to: usize) -> bool {
    if all.get(to).is_some_and(|t| !t.spaced) && is_sign(all, to, '?') {
        return true;
    }
    let before = |at: usize| {
        // Sides and small words may stand between the question mark and the name.
        let near = (at + 1..from).all(|i| {
            anatomy::side(&mut Cursor { all, at: i }).is_some()
                || matches!(
                    word(all, i),
                    Some(
                        "new"
                            | "prev"
                            | "early"
                            | "acute"
                            | "the"
                            | "a"
                            | "underlying"
                            | "occult"
                            | "degen"
                            | "partial"
                            | "full"
                            | "thickness"
                    )
                )
                || matches!(all.get(i).map(|t| t.sort), Some(Sort::Sign('(' | ')' | '?')))
        });
        match word(all, at) {
            Some(
                "query" | "queried" | "possible" | "possibly" | "suspected" | "suspect" | "suspicion"
                | "suspicious" | "probable" | "probably" | "likely" | "exclude" | "differential" | "ddx",
            ) => true,
            Some("rule") => word(all, at + 1) == Some("out"),
            Some("r") => letters(all, at, "r", "o"),
            _ => is_sign(all, at, '?') && near,
        }
    };
    (piece.from..from).any(before)
}

/// What is said of when it was, by words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Past {
    No,
    /// In a history (`PMH`), or `h/o`: over, unless it lasts.
    History,
    /// `prev`, `old`, `resolved`: over.
    Over,
}

pub(super) fn past(all: &[Token<'_>], piece: Piece, from: usize, to: usize) -> Past {
    let over = |at: usize| match word(all, at) {
        Some("prev" | "previous" | "previously" | "old" | "past" | "childhood" | "hx'd" | "ex") => {
            // `y old`, and `past medical history`, tell no condition's end.
            !matches!(word(all, at.wrapping_sub(1)), Some("y" | "yr" | "yrs" | "year" | "years"))
                && !matches!(word(all, at + 1), Some("medical" | "history" | "surgical" | "hx"))
        }
        _ => false,
    };
    let behind = |at: usize| {
        matches!(
            word(all, at),
            Some(
                "resolved" | "recovered" | "childhood" | "cured" | "remission" | "discharged" | "previously"
            )
        )
    };
    if (piece.from..from).any(over) || (to..piece.to).any(behind) {
        return Past::Over;
    }
    let history = |at: usize| {
        matches!(word(all, at), Some("pmh" | "pmhx" | "phx" | "psh" | "pshx"))
            || matches!(word(all, at), Some("medical" | "surgical" | "past"))
                && matches!(word(all, at + 1), Some("history" | "hx"))
            || letters(all, at, "p", "h")
            || letters(all, at, "p", "mh")
    };
    let of = |at: usize| {
        // `k/c/o`, known case of, is now.
        letters(all, at, "h", "o")
            || matches!(word(all, at), Some("hx" | "history")) && word(all, at + 1) == Some("of")
    };
    if (piece.sentence.0..from).any(history) || (piece.from..from).any(of) {
        return Past::History;
    }
    Past::No
}

/// Words beside which a short form still stands by itself: `severe AS`, `?CAD`, `known PE`.
const LEADS: [&str; 27] = [
    "severe",
    "mild",
    "moderate",
    "known",
    "pmh",
    "pmhx",
    "phx",
    "psh",
    "hx",
    "history",
    "of",
    "h",
    "o",
    "k",
    "c",
    "on",
    "prev",
    "previous",
    "old",
    "recent",
    "ago",
    "new",
    "yes",
    "query",
    "possible",
    "suspected",
    "chronic",
];

/// Whether nothing else of weight stands in its piece.
pub(super) fn stands_alone(all: &[Token<'_>], piece: Piece, from: usize, to: usize) -> bool {
    let mut at = piece.from;
    while at < piece.to {
        if at == from {
            at = to;
            continue;
        }
        let mut c = Cursor { all, at };
        if let Some((end, _)) = super::when::at(all, at) {
            at = end;
        } else if anatomy::both_sides(&mut c) || anatomy::side(&mut c).is_some() {
            at = c.at;
        } else if matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign(_) | Sort::Number(_)))
            || word(all, at).is_some_and(|w| LEADS.contains(&w))
        {
            at += 1;
        } else {
            return false;
        }
    }
    true
}
