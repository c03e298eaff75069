//! Lines without work to count that name what the patient has, had or was tested for: conditions, operations, tests and
//! visits. What they are comes from the words of [`problem`](super::problem). And bounds on effort, which are told the
//! patient. Names: common practice, from memory.

use super::exercise::TypedLine;
use super::words::Key;
use super::{details, noted, operated, plain, problem};
use crate::dose::Work;
use crate::language::restraint;
use crate::language::token::{Cursor, Sort, Token};
use crate::language::{comparator, token};

/// What such a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AboutPatient {
    /// The value of this line word.
    Key(Key),
    /// For the clinician alone.
    Finding,
    /// It orders as well, and is told the patient.
    Order,
}

/// Whether nothing is counted, held or done so often.
fn is_undosed(typed: &TypedLine<'_>) -> bool {
    let dose = &typed.parted().dose;
    let bare = |p: &crate::dose::Portion| matches!(p.work, Work::Repetitions { .. });
    !plain::counted(typed.all, dose)
        && dose.work.iter().all(bare)
        && dose.hold.is_none()
        && dose.often.is_none()
        && dose.tempo.is_none()
}

/// Whether nothing is counted, held or done so often, though a time may be a result.
fn is_counted_by_none(typed: &TypedLine<'_>) -> bool {
    let dose = &typed.parted().dose;
    !plain::counted(typed.all, dose) && dose.hold.is_none() && dose.often.is_none()
}

/// Whether something to wear or to go to is named: what to do with it is no finding.
fn names_a_thing(all: &[Token<'_>]) -> bool {
    const WORN: [&str; 19] = [
        "glove",
        "gloves",
        "belt",
        "insole",
        "insoles",
        "orthotic",
        "orthotics",
        "shoe",
        "shoes",
        "support",
        "supports",
        "stocking",
        "stockings",
        "tape",
        "strapping",
        "wedges",
        "pillow",
        "class",
        "classes",
    ];
    all.iter().any(|t| matches!(t.sort, Sort::Word(w) if WORN.contains(&w)))
}

/// Whether a later part of the line orders or permits: `R wrist # cast on till 14 Dec`. What is off is worn no longer.
fn orders(all: &[Token<'_>]) -> bool {
    (1..all.len()).any(|at| {
        let rest = all.get(at..).unwrap_or(&[]);
        let off = matches!(rest, [_, Token { sort: Sort::Word("off"), .. }]);
        let kind = restraint::plain(rest);
        !off && matches!(kind, Some(restraint::Plain::Order | restraint::Plain::Permission))
    })
}

/// What a line without a colon is, where it begins with a condition, an operation, a test or a visit. None: nothing of the
/// patient by these words, or it binds or does something.
pub fn read(typed: &TypedLine<'_>) -> Option<AboutPatient> {
    let TypedLine { content, all, .. } = *typed;
    let colon = super::exercise::colon(content).is_some();
    let binds = || {
        restraint::plain(all).is_some()
            || typed.calls()
            || plain::says_weight(all)
            || restraint::restricts(all)
            || restraint::bounds_a_motion(all)
    };
    let keyed = matches!(all.first().map(|t| t.sort), Some(Sort::Word(w)) if Key::of(w).is_some());
    if colon || keyed || binds() {
        return None;
    }
    if is_scored(all) && is_counted_by_none(typed) {
        return Some(AboutPatient::Key(Key::Measure));
    }
    if !is_undosed(typed) {
        return None;
    }
    // `SpO2 92 % RA`; `RPE 13` is how hard.
    let numbered = |c: &Cursor<'_>| c.clone().whole().is_some();
    if sign_of_effort(all).is_some_and(|(c, aimed)| !aimed && numbered(&c)) {
        return Some(AboutPatient::Key(Key::Measure));
    }
    if is_ahead(all) && operated::is_operation(all) {
        return Some(AboutPatient::Finding);
    }
    if is_visit(Cursor { all, at: 0 }) || has_lag(all) {
        return Some(AboutPatient::Finding);
    }
    let named = |name: &super::Said| crate::catalog::Catalog::embedded().is_named(&name.text);
    let known = typed.parted().name.as_ref().is_some_and(named);
    let does = all.iter().any(|t| matches!(t.sort, Sort::Word(w) if details::is_doing(w)));
    if known || does {
        return None;
    }
    const PLANS: [&str; 7] = ["protocol", "phase", "rehab", "programme", "program", "pathway", "stage"];
    let condition = || problem::begins_with_condition(content) || begins_with_disease(all);
    if orders(all) {
        return condition().then_some(AboutPatient::Order);
    }
    if names_a_thing(all) {
        return None;
    }
    let planned = all.iter().any(|t| matches!(t.sort, Sort::Word(w) if PLANS.contains(&w)));
    if operated::is_operation(all) && is_timed(all) && !planned {
        return Some(AboutPatient::Key(Key::Surgery));
    }
    condition().then_some(AboutPatient::Finding)
}

/// Whether an operation lies ahead: `TCI 12/01 for L TKR`, `awaiting THR`.
fn is_ahead(all: &[Token<'_>]) -> bool {
    problem::is_ahead(all.iter().filter_map(|t| match t.sort {
        Sort::Word(w) => Some(w),
        Sort::Number(_) | Sort::Sign(_) => None,
    }))
}

/// `hop test LSI 82%`, `Y balance test R 88 %`: a number behind the word for a test or a score.
fn is_scored(all: &[Token<'_>]) -> bool {
    const SCORES: [&str; 6] = ["test", "tests", "lsi", "symmetry", "score", "scores"];
    let at = all.iter().position(|t| matches!(t.sort, Sort::Word(w) if SCORES.contains(&w)));
    at.is_some_and(|at| all.iter().skip(at).any(|t| matches!(t.sort, Sort::Number(_))))
}

/// `Lag 5`, `ext lag 10 deg`.
fn has_lag(all: &[Token<'_>]) -> bool {
    (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        c.word(&["lag"]).is_some() && {
            c.word(&["of", "r", "l", "right", "left"]);
            c.hundredths().is_some()
        }
    })
}

/// `tele-health visit 11/30`: how the patient was seen.
fn is_visit(mut c: Cursor<'_>) -> bool {
    let how = c.words(&["tele", "health"])
        || c.one_of(noted::HOW)
        || c.word(&["home", "initial", "first"]).is_some();
    how && c.word(&["visit", "session", "consult", "consultation", "appt", "appointment"]).is_some()
}

/// Whether a line says when, by a day, a week or a date: `day 10`, `wk 3`, `2/11`, `5/52`.
fn is_timed(all: &[Token<'_>]) -> bool {
    (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        let unit = |c: &mut Cursor<'_>| {
            c.word(&["day", "days", "d", "week", "weeks", "wk", "wks", "month", "months"]).is_some()
        };
        let mut behind = c;
        if unit(&mut behind) && behind.whole().is_some() || c.clone().date().is_some() {
            return true;
        }
        c.whole().is_some() && (unit(&mut c.clone()) || c.sign('/') && c.whole().is_some() || is_month(c))
    })
}

fn is_month(c: Cursor<'_>) -> bool {
    c.peek_word().and_then(token::month).is_some()
}

/// Words that name a disease by their end, or by themselves: `plantar fasciitis R`, `frozen shoulder stage 2`.
fn begins_with_disease(all: &[Token<'_>]) -> bool {
    const ENDS: [&str; 9] =
        ["itis", "opathy", "opathies", "algia", "plasty", "ectomy", "otomy", "stenosis", "arthrosis"];
    const WORDS: [&str; 13] = [
        "frozen",
        "valgus",
        "varus",
        "syndrome",
        "impingement",
        "prolapse",
        "bulge",
        "hernia",
        "dysplasia",
        "instability",
        "bursitis",
        "palsy",
        "contracture",
    ];
    let leads = all.iter().take(4).map_while(|t| match t.sort {
        Sort::Word(w) => Some(w),
        Sort::Number(_) | Sort::Sign(_) => None,
    });
    let disease =
        |w: &str| WORDS.contains(&w) || ENDS.iter().any(|end| w.len() > end.len() && w.ends_with(end));
    // `stretch for the fasciitis` begins with something to do or a word that leads on.
    let words =
        leads.take_while(|w| !matches!(*w, "for" | "if" | "to" | "with" | "after" | "before" | "your"));
    words.into_iter().any(disease)
}

/// A sign of effort at the start of a line: the cursor behind it, and whether it is one that is aimed at (`RPE`, the pulse).
fn sign_of_effort<'a>(all: &'a [Token<'a>]) -> Option<(Cursor<'a>, bool)> {
    let mut c = Cursor { all, at: 0 };
    c.word(&["target", "aim", "max"]);
    let aimed = c.peek_word().is_some_and(|w| matches!(w, "rpe" | "borg" | "hr" | "pulse" | "heart"));
    const SIGNS: &[&str] = &[
        "rpe",
        "borg",
        "hr",
        "heart rate",
        "pulse",
        "spo2",
        "sats",
        "o2 sats",
        "oxygen sats",
        "bgl",
        "bsl",
        "bm",
        "bms",
        "blood glucose",
        "blood sugar",
        "blood sugars",
        "glucose",
        "bp",
    ];
    let mut oxygen = c;
    if oxygen.word(&["spo", "o"]).is_some() && oxygen.whole() == Some(2) {
        oxygen.word(&["sats"]);
        return Some((oxygen, aimed));
    }
    c.one_of(SIGNS).then_some((c, aimed))
}

/// Whether a line bounds the effort, the pulse, the oxygen or the sugar: `RPE 11-13, HR < 120`. It is told word for word.
pub fn bounds_effort(typed: &TypedLine<'_>) -> bool {
    let all = typed.all;
    let Some((c, aimed)) = sign_of_effort(all) else { return false };
    if super::exercise::colon(typed.content).is_some() || !is_undosed(typed) {
        return false;
    }
    let led = matches!(all.first().map(|t| t.sort), Some(Sort::Word("target" | "aim" | "max")));
    let mut range = c;
    let number = range.whole().is_some();
    let ranged = aimed && number && range.sign('-') && range.whole().is_some();
    // What is bounded further on is something else: `BP 165/95 today. No isometrics > 10 s`.
    let ends = |t: &Token<'_>| match t.sort {
        Sort::Sign(',' | ';' | '.') => true,
        Sort::Sign('-') => t.spaced,
        _ => false,
    };
    let first = all.iter().position(ends).unwrap_or(all.len());
    let bounded = || {
        (c.at..first).any(|at| {
            let mut bound = Cursor { all, at };
            let mut behind = bound;
            comparator::comparator(&mut bound).is_some() && bound.hundredths().is_some()
                || behind.hundredths().is_some() && comparator::behind(&mut behind).is_some()
        })
    };
    led && number || ranged || bounded()
}

/// Whether a line lists results by their signs, and so begins with one: `+ Hawkins-Kennedy, + Neer L, - drop arm`. A minus
/// alone may be a bullet.
pub fn begins_with_sign(all: &[Token<'_>]) -> bool {
    let sign = |at: usize| matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign('+' | '-')));
    let plus = matches!(all.first().map(|t| t.sort), Some(Sort::Sign('+')));
    let listed = || {
        (1..all.len())
            .any(|at| matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign(',' | ';'))) && sign(at + 1))
    };
    let numbered = all.iter().any(|t| matches!(t.sort, Sort::Number(_)));
    sign(0) && !numbered && (plus || listed()) && noted::is_test(Cursor { all, at: 1 })
}
