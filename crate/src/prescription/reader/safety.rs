//! What a line could be about that must not be lost.

use super::exercises::is_body_part;
use crate::dose::Dose;
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, Sort, Token};
use crate::language::typed::Typed;
use crate::language::unit::{self, Kind};
use crate::prescription::exercise::{TypedLine, colon};
use crate::prescription::noted::MOST_REPETITIONS;
use crate::prescription::{details, plain, words};
use crate::text::fold::folded;

/// Whether an unread line begins like one about safety.
pub(super) fn mentions_safety(text: &str) -> bool {
    // Most lines of a long text have no colon near their start.
    if !text.bytes().take(160).any(|b| matches!(b, b':' | 0xef)) {
        return false;
    }
    let head = text.char_indices().nth(40).map_or(text, |(at, _)| text.get(..at).unwrap_or(""));
    // A line word is letters and what joins them.
    let plain = |word: &str| {
        word.chars().all(|c| c.is_alphabetic() || matches!(c, ' ' | '-' | '/' | '&' | '\'' | '’'))
    };
    colon(head)
        .and_then(|(at, _)| head.get(..at))
        .is_some_and(|word| plain(word) && words::is_safety(&folded(word)))
}

/// Whether a line that was not understood is told the patient, or could be about more than the clinician's own notes: what
/// stands behind a colon, a bound, a denial, a load, or how long something goes on.
pub(super) fn could_matter(typed: &Typed<'_>) -> bool {
    let Typed { text: content, ref all, .. } = *typed;
    let told = colon(content).is_some_and(|(at, after)| {
        let behind = content.get(after..).is_some_and(|text| text.chars().any(char::is_alphabetic));
        behind && !is_body_part(&typed.cut(0, at))
    });
    let loaded = (0..all.len()).any(|at| {
        let mut load = Cursor { all, at };
        load.hundredths().is_some() && unit::of(&mut load, &[Kind::Mass]).is_some()
    });
    let denies = (0..all.len()).any(|at| restraint::denial(&mut Cursor { all, at }));
    // `if pain > 3 go back a week` is told the patient.
    let conditional =
        2 < all.len() && matches!(all.first().map(|t| t.sort), Some(Sort::Word("if" | "when" | "stop")));
    let until = || all.iter().any(|t| matches!(t.sort, Sort::Word("until" | "till" | "til")));
    let bounds = (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        crate::language::comparator::comparator(&mut c).is_some() && c.whole().is_some()
    });
    conditional
        || until()
        || bounds
        || told
        || loaded
        || denies
        || has_restricting_clause(all)
        || restraint::restricts(all)
        || tells_patient(typed)
        || is_lasting(typed)
}

/// Whether a line tells the patient what to do, how often, or what to leave off.
pub(super) fn tells_patient(typed: &Typed<'_>) -> bool {
    restraint::instructs(&typed.all) || says_how_often(typed) || leaves_off(&typed.all)
}

/// Whether a line says how often something is done: `daily, can split am/pm`, `hand up on a pillow as needed`.
fn says_how_often(typed: &Typed<'_>) -> bool {
    use crate::dose::find::often::{as_needed, often};
    (0..typed.all.len()).any(|at| {
        let c = Cursor { all: &typed.all, at };
        let spaced = typed.all.get(at).is_some_and(|t| at == 0 || t.spaced);
        spaced
            && 2 < typed.all.len()
            && often(c).or_else(|| as_needed(c)).is_some_and(|hit| hit.doubt.is_none())
    })
}

/// Whether a line says to leave something off or to call: `red > 10 min -> leave off, ring`.
fn leaves_off(all: &[Token<'_>]) -> bool {
    (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        c.one_of(&[
            "leave off",
            "leave it off",
            "take off",
            "take it off",
            "restart",
            "stop at",
            "wt as tol",
            "weight as tol",
            "rest 1 hr",
            "rest if",
            "deload",
            "taper",
            "ceiling",
            "red flag",
            "flags",
        ])
    })
}

/// Whether a part of a line between commas, stops and dashes restricts or orders by itself: `…, no full arc until 12 wks`.
pub(super) fn has_restricting_clause(all: &[Token<'_>]) -> bool {
    let parts = |t: &Token<'_>| matches!(t.sort, Sort::Sign(',' | ';' | '.' | '-' | ':'));
    all.split(parts).any(|clause| matches!(restraint::plain(clause), Some(Plain::Restriction | Plain::Order)))
}

/// Whether a line says to stop for what is felt: `any shin pain = stop, drop back a wk`.
pub(super) fn says_stop(all: &[Token<'_>]) -> bool {
    const FELT: [&str; 16] = [
        "pain",
        "hurts",
        "sore",
        "swelling",
        "swells",
        "numb",
        "numbness",
        "tingling",
        "dizzy",
        "dizziness",
        "giddy",
        "breathless",
        "locking",
        "locks",
        "limp",
        "limping",
    ];
    let has = |words: &[&str]| all.iter().any(|t| matches!(t.sort, Sort::Word(w) if words.contains(&w)));
    has(&["stop"]) && has(&FELT)
}

/// Whether a line begins with a stop for what is of the whole patient: `stop if SpO2 < 85 or chest pain`.
pub(super) fn says_systemic_stop(all: &[Token<'_>]) -> bool {
    const FELT: [&str; 26] = [
        "dizzy",
        "dizziness",
        "faint",
        "lightheaded",
        "giddy",
        "vision",
        "diplopia",
        "swallowing",
        "speaking",
        "speech",
        "chest",
        "breathless",
        "breathlessness",
        "sob",
        "spo2",
        "sats",
        "hr",
        "palpitations",
        "bladder",
        "bowel",
        "saddle",
        "unwell",
        "sick",
        "nausea",
        "fever",
        "attacks",
    ];
    let mut c = Cursor { all, at: 0 };
    let stops = c.one_of(&["stop if", "stop when", "stop and rest if", "stop for"]);
    stops && all.iter().any(|t| matches!(t.sort, Sort::Word(w) if FELT.contains(&w)))
}

/// Whether a line says how long something goes on, or from when to when: `6/52`, `until 20 Dec`.
pub(super) fn is_lasting(typed: &Typed<'_>) -> bool {
    let all = &typed.all;
    // `3/12`: weeks, months and days as the trade writes them.
    let sevenths = all.windows(3).any(|t| {
        matches!(
            t,
            [
                Token { sort: Sort::Number(_), .. },
                Token { sort: Sort::Sign('/'), .. },
                Token { sort: Sort::Number(5200 | 1200), .. }
            ]
        )
    });
    sevenths || crate::dose::find::span::place(all, typed.text).is_some()
}

/// Whether a line without a key tells a finding or a red flag: no exercise, and for no sheet. What is dosed is an
/// exercise, whatever its name; a red flag that lasted some minutes or days is none.
pub(super) fn tells_finding(typed: &TypedLine<'_>, dose: &Dose) -> bool {
    // What is forbidden until something is found is forbidden: `no active SLR until quads lag < 10`.
    let until = || typed.all.iter().any(|t| matches!(t.sort, Sort::Word("until" | "till" | "til")));
    // `stop if dizzy or chest pain` is the patient's.
    let mut c = typed.typed.start();
    let first = c.word(&["stop", "pause", "rest"]).is_some();
    let stops = first && typed.all.iter().any(|t| matches!(t.sort, Sort::Word("if" | "when")));
    // `RV 2/52 or sooner if calf swollen`
    if stops
        || crate::prescription::noted::begins_visit(&mut typed.typed.start())
        || typed.calls()
        || until() && restraint::plain(typed.all) == Some(Plain::Restriction)
    {
        return false;
    }
    use crate::dose::Work;
    if typed.is_red_flag() {
        let counted =
            |w: &crate::dose::Portion| matches!(w.work, Work::Repetitions { .. } | Work::Bouts { .. });
        return !dose.work.iter().any(counted);
    }
    typed.is_finding() && !is_worked(typed, dose)
}

/// Whether a dose is one of something done: counted in words or sets, or of what is named like an exercise. `PHQ 17`,
/// `claudication 200 m` have numbers alone.
fn is_worked(typed: &TypedLine<'_>, dose: &Dose) -> bool {
    if plain::counted(typed.all, dose) || dose.hold.is_some() {
        return true;
    }
    let named = || typed.parted().name.as_ref().map(|name| folded(&name.text)).unwrap_or_default();
    // `SLR 50 R` is how far the leg went.
    let few = |p: &crate::dose::Portion| match &p.work {
        crate::dose::Work::Repetitions { reps: Some(n), .. } => u64::from(n.high()) <= MOST_REPETITIONS,
        _ => true,
    };
    !dose.work.is_empty()
        && dose.work.iter().all(few)
        && (crate::catalog::Catalog::embedded().is_named(&named())
            || named().split(' ').any(details::is_doing))
}
