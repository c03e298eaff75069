//! What a line forbids behind its first clause, and where it sends the patient.

use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, Sort, Token};
use crate::language::{anatomy, comparator};
use crate::prescription::details;
use crate::prescription::exercise::TypedLine;
use crate::text::Place;

/// Where the clauses behind the first begin.
pub(super) fn clauses<'a>(all: &'a [Token<'a>]) -> impl Iterator<Item = usize> + 'a {
    (1..all.len()).filter(|at| {
        let before = at.checked_sub(1).and_then(|i| all.get(i));
        let spaced = all.get(*at).is_some_and(|t| t.spaced);
        before.is_some_and(|t| match t.sort {
            Sort::Sign(',' | ';' | ':' | '.') => spaced,
            Sort::Sign('-') => t.spaced && spaced,
            _ => false,
        })
    })
}

/// How plainly words forbid something of the patient.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Forbids {
    /// In so many words: `avoid`, `don't`.
    Surely,
    /// By a bare `no`, of something that one does.
    Doing,
}

/// Whether words forbid something that one does, and tell no finding.
fn forbids(all: &[Token<'_>]) -> Option<Forbids> {
    let c = Cursor { all, at: 0 };
    if restraint::plain(all) != Some(Plain::Restriction)
        || c.clone().word(&["can't", "cannot", "cant"]).is_some()
    {
        return None;
    }
    const SURELY: &[&str] = &[
        "avoid",
        "don't",
        "dont",
        "do not",
        "must not",
        "mustn't",
        "should not",
        "shouldn't",
        "may not",
        "not to",
        "never",
        "stop",
    ];
    if c.clone().one_of(SURELY) {
        return Some(Forbids::Surely);
    }
    const DONE: [&str; 20] = [
        "ex",
        "exs",
        "exercise",
        "exercises",
        "isometrics",
        "weights",
        "load",
        "loads",
        "impact",
        "stairs",
        "sport",
        "sports",
        "gym",
        "contact",
        "bp",
        "overhead",
        "heavy",
        "supine",
        "prone",
        "valsalva",
    ];
    // What is felt or found ends like what is done.
    const FELT: [&str; 22] = [
        "limping", "catching", "clicking", "locking", "popping", "grinding", "snoring", "bruising",
        "swelling", "tingling", "weeping", "oozing", "bleeding", "wasting", "guarding", "clunking",
        "pitting", "burning", "wheezing", "vomiting", "morning", "evening",
    ];
    let done = all.iter().skip(1).any(|t| {
        matches!(t.sort, Sort::Word(w)
            if DONE.contains(&w) || details::is_doing(w) || 5 < w.len() && w.ends_with("ing") && !FELT.contains(&w))
    });
    let bounded = || {
        (1..all.len()).any(|at| {
            let mut c = Cursor { all, at };
            comparator::comparator(&mut c).is_some() || anatomy::motion(&mut c).is_some()
        })
    };
    (done || bounded()).then_some(Forbids::Doing)
}

/// Where the first clause begins, behind others, that forbids something.
pub fn ban<'a>(all: &'a [Token<'a>]) -> Option<(usize, Forbids)> {
    clauses(all).find_map(|at| Some((at, forbids(all.get(at..)?)?)))
}

/// Whether what is forbidden is to speak of something or to call somebody: that binds who reads the notes.
pub fn is_of_contact(all: &[Token<'_>]) -> bool {
    const SPEAKS: [&str; 14] = [
        "ring",
        "phone",
        "call",
        "contact",
        "text",
        "email",
        "tell",
        "mention",
        "discuss",
        "message",
        "messages",
        "visit",
        "letters",
        "voicemail",
    ];
    all.iter().take(4).any(|t| matches!(t.sort, Sort::Word(w) if SPEAKS.contains(&w)))
}

/// Where a line that is kept forbids something that the patient will not read.
pub fn hidden_ban(typed: &TypedLine<'_>) -> Option<Place> {
    let (at, _) = ban(typed.all)?;
    let from = typed.all.get(at)?.start;
    Some(Place { start: typed.place.start + from, ..typed.place })
}

/// Whether what stands behind `red flags:` tells the patient where to go, and not what was found or done.
pub fn tells_where_to_go(all: &[Token<'_>]) -> bool {
    const TOLD: [&str; 29] = [
        "informed",
        "aware",
        "sent",
        "referred",
        "rang",
        "called",
        "phoned",
        "spoke",
        "discussed",
        "advised",
        "notified",
        "letter",
        "seen",
        "attended",
        "reviewed",
        "told",
        "contacted",
        "given",
        "nil",
        "none",
        "nad",
        "clear",
        "denied",
        "denies",
        "negative",
        "neg",
        "excluded",
        "today",
        "yesterday",
    ];
    restraint::calls(all) && !all.iter().any(|t| matches!(t.sort, Sort::Word(w) if TOLD.contains(&w)))
}
