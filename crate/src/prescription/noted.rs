//! Plain lines that note something of the patient, as clinicians put them among the exercises: age, weeks of pregnancy,
//! results of tests, operations, how it went. They are for the clinician and the checks: none is an exercise, and no sheet
//! shows them. Names of tests and abbreviations: common practice, from memory.

use super::exercise::TypedLine;
use super::operated::{OPERATIONS, is_dated, is_injury_dated, is_operated, is_operation};
use super::plain;
use super::words::Key;
use super::{Pain, Said};
use crate::body::names::Side;
use crate::language::anatomy;
use crate::language::restraint::{self, Plain, denial};
use crate::language::token::{Cursor, Sort, Token, tokens};
use crate::language::unit::{self, Kind, Unit};
use crate::text::fold::fold;

/// How far a pregnancy is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pregnancy {
    pub weeks: u8,
    pub days: u8,
}

/// Blood pressure, mmHg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pressure {
    pub systolic: u16,
    pub diastolic: u16,
}

/// What a plain line notes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noted {
    /// The line is the value of this line word.
    Key(Key),
    /// How old the patient is, and what else the line tells.
    Age(u8),
    /// For the clinician alone.
    Finding,
}

/// What a line notes; `counted`: it has sets or repetitions. None: nothing of the patient by these words.
///
/// ```
/// use layfigure::prescription::{words::Key, noted::{self, Noted}};
/// use layfigure::language::typed::lexed;
/// use layfigure::prescription::exercise::TypedLine;
/// use layfigure::text::Place;
/// let read = |line: &str, counted| {
///     let place = Place { line: 1, start: 0, end: line.len() };
///     lexed(line, place, |typed| noted::read(&TypedLine::new(typed), counted))
/// };
/// assert_eq!(read("TUG 14 s", false), Some(Noted::Key(Key::Measure)));
/// assert_eq!(read("58 y/o M, office worker", false), Some(Noted::Age(58)));
/// assert_eq!(read("missed 2 sessions last week", false), Some(Noted::Finding));
/// assert_eq!(read("bridge 3x10", true), None);
/// ```
pub fn read(typed: &TypedLine<'_>, counted: bool) -> Option<Noted> {
    let TypedLine { content, all, .. } = *typed;
    let c = Cursor { all, at: 0 };
    if let Some(age) = age(&mut c.clone()).or_else(|| man(typed, c).filter(|_| !counted)) {
        return Some(Noted::Age(age));
    }
    if let Some(age) = aged_within(typed).filter(|_| !counted) {
        return Some(Noted::Age(age));
    }
    // `Epley done today x2`
    let done = |at: usize| {
        let mut m = Cursor { all, at };
        m.word(&["done", "performed", "given"]).is_some()
            && m.word(&["today", "yesterday", "tues", "mon", "wed", "last", "here", "in"]).is_some()
    };
    if (1..all.len().min(4)).any(done) {
        return Some(Noted::Finding);
    }
    // `only has 10 min before work`
    let mut has = c;
    has.word(&["only", "just"]);
    if has.word(&["has", "got"]).is_some() && has.clone().span().is_some() {
        return Some(Noted::Finding);
    }
    // `grip 18 kg R vs 34 L`: two numbers set against each other are measured.
    let numbers = all.iter().filter(|t| matches!(t.sort, Sort::Number(_))).count();
    let against = (1..all.len()).any(|at| {
        let mut m = Cursor { all, at };
        m.word(&["vs", "versus"]).is_some() && matches!(m.peek().map(|t| t.sort), Some(Sort::Number(_)))
    });
    if against && 1 < numbers && !counted {
        return Some(Noted::Key(Key::Measure));
    }
    // `MOS 3/5, holds 5 s`, `BPPV - resolved post Epley x2`
    let mut grade = c;
    let graded_first = grade.word(&["mos", "mox", "oxford", "mrc", "pfm", "power"]).is_some()
        && grade.whole().is_some()
        && grade.sign('/')
        && grade.whole() == Some(5);
    if graded_first {
        return Some(Noted::Key(Key::Measure));
    }
    let over =
        all.iter().any(|t| matches!(t.sort, Sort::Word("resolved" | "residual" | "recurrent" | "resolving")));
    if over && !crate::language::condition::knows(content).is_empty() {
        return Some(Noted::Finding);
    }
    // `BPPV, Epley x2 today`: what was done for what the patient has.
    let today = all.windows(2).any(|t| {
        matches!(
            t,
            [Token { sort: Sort::Number(_), .. }, Token { sort: Sort::Word("today" | "yesterday"), .. }]
        )
    });
    if today && !crate::language::condition::knows(content.split(',').next().unwrap_or("")).is_empty() {
        return Some(Noted::Finding);
    }
    // `D/C w HEP`
    if begins(c, &["discharged"]) || discharges(c) && !super::about::leaves_off(typed.typed) {
        return Some(Noted::Finding);
    }
    // `r/v 6/52 post op` is the next visit.
    if begins_visit(&mut c.clone()) {
        return None;
    }
    if went(c) {
        return Some(Noted::Finding);
    }
    // The number in the name of a test counts nothing: `5xSTS`.
    let numbered = matches!(all.first().map(|t| t.sort), Some(Sort::Number(_)));
    let bounded = plain::says_bound(all) || all.iter().any(|t| matches!(t.sort, Sort::Word("only")));
    if is_test(c) && has_result(all) && !bounded && (numbered || !counted) {
        return Some(Noted::Key(Key::Measure));
    }
    // `falls x2` counts no repetitions; `pt has 15 min am` is what the patient has.
    if fell(c) || tells_of_patient(c) {
        return Some(Noted::Finding);
    }
    // `measure TUG 18 s`, `retest hop next visit`
    let numbered_behind = matches!(all.get(1).map(|t| t.sort), Some(Sort::Word(_)))
        && all.iter().any(|t| matches!(t.sort, Sort::Number(_)));
    if numbered_behind && begins(c, &["measure", "measured", "retest", "re-test", "reassess", "remeasure"]) {
        return Some(Noted::Finding);
    }
    if counted {
        return None;
    }
    let kind = restraint::plain(all);
    if kind.is_none_or(|kind| kind == Plain::Finding)
        && (identity(c) || pain(c) || is_lag(all) || scores_pain(all))
    {
        return Some(Noted::Finding);
    }
    // `NWB 6/52 post op` says until when something holds.
    let ahead = || {
        let words = all.iter().filter_map(|t| match t.sort {
            Sort::Word(w) => Some(w),
            Sort::Number(_) | Sort::Sign(_) => None,
        });
        is_operation(all) && super::problem::is_ahead(words)
    };
    if ahead() {
        return Some(Noted::Finding);
    }
    let holds = kind.is_some()
        || plain::says_weight(all)
        || plain::says_bound(all)
        || restraint::bounds_a_motion(all);
    let undosed = typed.parted().dose.work.is_empty();
    if !holds && undosed && is_injury_dated(all) {
        return Some(Noted::Key(Key::Injury));
    }
    if !holds && (is_operated(all) || undosed && is_dated(all)) && !is_of_exercise(typed) {
        return Some(Noted::Key(Key::Surgery));
    }
    if let Some(key) = ago(all).filter(|_| !holds) {
        return Some(Noted::Key(key));
    }
    if pressure(content).is_some() || graded(all) || !holds && is_measured(all) {
        return Some(Noted::Key(Key::Measure));
    }
    pregnancy(content).map(|_| Noted::Key(Key::Caution))
}

/// Whether a line begins with an exercise of the catalog, of which it tells since which operation: `hamstring curls, prone, 0-60
/// first 4 wks post op`.
fn is_of_exercise(typed: &TypedLine<'_>) -> bool {
    let comma = typed.all.iter().find(|t| matches!(t.sort, Sort::Sign(',' | '(')));
    let head = comma.and_then(|t| typed.content.get(..t.start));
    head.is_some_and(|head| crate::catalog::Catalog::embedded().is_named(head.trim_end()))
}

/// `58 y/o`, `58yo`, `58F`, `aged 58`, `58 years old` at the cursor.
pub fn age(c: &mut Cursor<'_>) -> Option<u8> {
    let mut m = *c;
    let said = m.word(&["aged", "age"]).is_some();
    let number = m.peek().map(|t| t.end);
    let age = u8::try_from(m.whole()?).ok().filter(|a| (1..=120).contains(a))?;
    let glued = m.peek().is_some_and(|t| !t.spaced && Some(t.start) == number);
    let mut old = m;
    let unit = old.word(&["y", "yr", "yrs", "yo", "years", "year"]);
    if unit.is_some() {
        old.sign('.');
        old.sign('/');
        old.sign('-');
        let behind = old.word(&["o", "old", "of"]).is_some() | old.word(&["age"]).is_some();
        if said || behind || unit == Some("yo") {
            old.word(&["f", "m", "female", "male"]);
            *c = old;
            return Some(age);
        }
    }
    // `58F`; but `50m` before anything else is a distance.
    let mut sex = m;
    let letter = sex.word(&["f", "m"]);
    let ends = sex.is_done() || sex.peek().is_some_and(|t| t.sort == Sort::Sign(','));
    if glued && letter.is_some() && (letter == Some("f") || ends) {
        *c = sex;
        return Some(age);
    }
    let ends = m.is_done() || m.peek().is_some_and(|t| matches!(t.sort, Sort::Sign(',')));
    (said && ends).then(|| {
        *c = m;
        age
    })
}

/// `67M T2DM`: the capital letter tells a man from metres, unless something is done over them.
fn man(typed: &TypedLine<'_>, mut c: Cursor<'_>) -> Option<u8> {
    let age = u8::try_from(c.whole()?).ok().filter(|a| (16..=110).contains(a))?;
    let letter = c.peek().filter(|t| !t.spaced && t.end - t.start == 1)?;
    let capital = typed.content.get(letter.start..letter.end) == Some("M");
    c.at += 1;
    let next = c.peek_word()?;
    let moves = super::details::is_doing(next)
        || matches!(
            next,
            "walk" | "walking" | "run" | "swim" | "sprint" | "sprints" | "jog" | "test" | "shuttle" | "carry"
        );
    // What is dosed is done over so many metres.
    let dosed = || typed.parted().dose != crate::dose::Dose::default();
    (capital && c.peek()?.spaced && !moves && !dosed()).then_some(age)
}

/// `axSpA 33M`, `bus driver, 57F`: age and sex behind what they are said of, in a capital that sticks.
fn aged_within(typed: &TypedLine<'_>) -> Option<u8> {
    let at = (1..typed.all.len()).find(|at| {
        let letter = typed.all.get(at + 1);
        let sex = letter.and_then(|t| typed.content.get(t.start..t.end));
        let ends =
            typed.all.get(at + 2).is_none_or(|t| t.spaced || matches!(t.sort, Sort::Sign(',' | '.' | ';')));
        let before = at.checked_sub(1).and_then(|at| typed.all.get(at)).map(|t| t.sort);
        let counted = matches!(before, Some(Sort::Word("x") | Sort::Sign('×' | '*' | '/' | '-' | '@')));
        letter.is_some_and(|t| !t.spaced) && matches!(sex, Some("M" | "F")) && ends && !counted
    })?;
    let age = u8::try_from(Cursor { all: typed.all, at }.whole()?).ok().filter(|a| (2..=110).contains(a))?;
    let moves = |t: &Token<'_>| {
        matches!(t.sort, Sort::Word(w) if super::details::is_doing(w)
        || matches!(w, "walk" | "walking" | "run" | "running" | "swim" | "sprint" | "sprints" | "jog" | "shuttle" | "carry"))
    };
    (!typed.all.iter().any(moves)).then_some(age)
}

fn discharges(mut c: Cursor<'_>) -> bool {
    c.word(&["d"]).is_some() && c.sign('/') && c.word(&["c"]).is_some() && c.peek().is_none_or(|t| t.spaced)
}

/// How the next visit is, where that is said first.
pub const HOW: &[&str] = &[
    "telehealth",
    "phone",
    "telephone",
    "video",
    "online",
    "virtual",
    "clinic",
    "physio",
    "consultant",
    "surgeon",
    "ortho",
    "face to face",
];

/// Takes the words with which a line tells the next visit: `r/v`, `f/u`, `see again`, `telehealth review`.
pub fn begins_visit(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    m.one_of(HOW);
    let next = m.word(&["next"]).is_some();
    let letters = |c: &mut Cursor<'_>, a, b| {
        let mut m = *c;
        let found = m.word(&[a]).is_some() && m.sign('/') && m.word(&[b]).is_some();
        if found {
            *c = m;
        }
        found
    };
    const VISITS: &[&str] = &[
        "see back",
        "see again",
        "back to see me",
        "come back",
        "return visit",
        "recheck",
        "reassess",
        "reassessment",
        "follow up",
        "return to clinic",
        "review",
        "rv",
        "fu",
        "rtc",
        "followup",
    ];
    // `visit 2` is none of ours, `next visit` is.
    let named = letters(&mut m, "r", "v")
        || letters(&mut m, "f", "u")
        || m.one_of(VISITS)
        || next && m.word(&["appt", "appointment", "visit"]).is_some();
    if named {
        *c = m;
    }
    named
}

/// `30/40`, `32+4/40`, `30 weeks pregnant`, `pregnant, 30 weeks`.
pub fn pregnancy(text: &str) -> Option<Pregnancy> {
    let folded = fold(text);
    let all = tokens(&folded);
    // The word stands beside the number: `pregnant, back pain for 6 weeks` says nothing of how far.
    let told = |at: Option<usize>| {
        let word = at.and_then(|at| all.get(at)).map(|t| t.sort);
        matches!(word, Some(Sort::Word("pregnant" | "pregnancy" | "gestation")))
    };
    let sign =
        |at: Option<usize>| matches!(at.and_then(|at| all.get(at)).map(|t| t.sort), Some(Sort::Sign(_)));
    (0..all.len()).find_map(|at| {
        let mut c = Cursor { all: &all, at };
        let weeks = u8::try_from(c.whole()?).ok().filter(|w| (4..=42).contains(w))?;
        let mut days = 0;
        let mut more = c;
        if more.sign('+')
            && let Some(found) = more.whole().and_then(|d| u8::try_from(d).ok()).filter(|d| *d < 7)
        {
            (days, c) = (found, more);
        }
        let forty = c.sign('/') && c.whole() == Some(40);
        let before = at.checked_sub(1);
        let behind = told(before) || sign(before) && told(at.checked_sub(2));
        let in_words = c.word(&["weeks", "week", "wks", "wk"]).is_some() && (behind || told(Some(c.at)));
        (forty || in_words).then_some(Pregnancy { weeks, days })
    })
}

/// `BP 150/95`, `blood pressure 150/95`.
pub fn pressure(text: &str) -> Option<Pressure> {
    let folded = fold(text);
    let all = tokens(&folded);
    (0..all.len()).find_map(|at| {
        let mut c = Cursor { all: &all, at };
        if c.word(&["bp"]).is_none() && !c.words(&["blood", "pressure"]) {
            return None;
        }
        c.sign(':');
        c.word(&["is", "was", "of"]);
        let systolic = u16::try_from(c.whole()?).ok().filter(|n| (50..=300).contains(n))?;
        let diastolic = c.sign('/').then(|| c.whole()).flatten();
        let diastolic = u16::try_from(diastolic?).ok().filter(|n| (20..systolic).contains(n))?;
        Some(Pressure { systolic, diastolic })
    })
}

/// `NPRS 4/10`, `VAS 6/10 -> 3/10`: the last of them, of 10.
pub fn pain_score(said: &Said) -> Option<Pain> {
    let folded = fold(&said.text);
    let all = tokens(&folded);
    let of_ten = |c: &mut Cursor<'_>| {
        let score = u8::try_from(c.whole()?).ok().filter(|n| *n <= 10)?;
        (c.sign('/') && c.whole() == Some(10)).then_some(score)
    };
    (0..all.len()).find_map(|at| {
        let mut c = Cursor { all: &all, at };
        if !c.one_of(&["nprs", "nrs", "vas", "pain score", "npr"]) {
            return None;
        }
        let _ = c.sign(':') || c.sign('=') || c.sign('-');
        c.word(&["is", "was", "now"]);
        let mut score = of_ten(&mut c)?;
        let mut more = c;
        if more.signs("->") || more.word(&["to", "now"]).is_some() {
            score = of_ten(&mut more).unwrap_or(score);
        }
        Some(Pain { low: score, high: score, words: String::new(), place: said.place })
    })
}

fn begins(mut c: Cursor<'_>, phrases: &[&str]) -> bool {
    c.one_of(phrases)
}

/// Whether a line tells how it went since last time: `missed 2 sessions`, `done about half`.
///
/// ```
/// use layfigure::prescription::noted::tells_how_it_went;
/// assert!(tells_how_it_went("Done about half, pain 4"));
/// assert!(!tells_how_it_went("pain 6/10 -> 3/10"));
/// ```
pub fn tells_how_it_went(content: &str) -> bool {
    let folded = fold(content);
    went(Cursor { all: &tokens(&folded), at: 0 })
}

/// Whether a line begins by telling how it went.
fn went(c: Cursor<'_>) -> bool {
    const WENT: &[&str] = &[
        "managing",
        "managed",
        "compliant",
        "compliance",
        "adherent",
        "adherence",
        "missed",
        "tol",
        "tolerated",
        "tolerating",
        "denies",
        "denied",
        "reports",
        "reported",
        "reporting",
        "states",
        "says",
        "struggled",
        "struggling",
        "improving",
        "improved",
        "coping",
        "flared",
        "done about",
        "done most",
        "done half",
        "done none",
        "did about",
        "did most",
        "did half",
        "did not do",
        "didn't do",
        "going well",
        "doing well",
        "feels better",
        "feels worse",
        "feeling better",
        "feeling worse",
        "sleeping better",
        "sleeping worse",
        "sleeping well",
        "low mood",
    ];
    begins(c, WENT)
}

/// Whether a line tells what the patient has, does or says: `pt does 20 min yoga`. What the patient may or must do is none.
fn tells_of_patient(mut c: Cursor<'_>) -> bool {
    c.word(&["the"]);
    const WHO: [&str; 7] = ["pt", "px", "patient", "client", "he", "she", "they"];
    const DOES: [&str; 34] = [
        "has", "have", "had", "is", "are", "was", "does", "do", "did", "likes", "like", "wants", "want",
        "works", "work", "walks", "runs", "swims", "cycles", "plays", "lives", "gets", "takes", "uses",
        "sleeps", "says", "reports", "states", "feels", "thinks", "hopes", "manages", "goes", "already",
    ];
    let who = c.word(&WHO).is_some();
    if !who || c.word(&DOES).is_none() || c.is_done() {
        return false;
    }
    // `pt is to rest`, `pt has to wear the sling` are orders, `pt is not to lift` a ban, `pt is NWB R` a restriction.
    let rest = c.all.get(c.at..).unwrap_or(&[]);
    let binds = restraint::plain(rest).is_some_and(|kind| kind != Plain::Finding);
    !binds && !plain::says_weight(rest) && !denial(&mut c.clone()) && c.word(&["to", "allowed"]).is_none()
}

/// Whether a line begins with the name of a test or a measure.
pub(super) fn is_test(mut c: Cursor<'_>) -> bool {
    if c.sign('+') || c.sign('-') {
        c.word(&["ve"]);
    }
    const TESTS: &[&str] = &[
        "tug",
        "timed up and go",
        "berg",
        "nprs",
        "nrs",
        "vas",
        "phq",
        "gad",
        "odi",
        "ndi",
        "rmdq",
        "oks",
        "ohs",
        "koos",
        "hoos",
        "lefs",
        "womac",
        "dash",
        "quickdash",
        "spadi",
        "psfs",
        "faam",
        "hr",
        "resting hr",
        "bmi",
        "grip strength",
        "arom",
        "prom",
        "slump",
        "slump test",
        "lachman",
        "lachmans",
        "lachman's",
        "faber",
        "fadir",
        "thomas test",
        "spurling",
        "spurlings",
        "hawkins",
        "neer",
        "neers",
        "neer's",
        "drop arm",
        "moca",
        "mmse",
        "hba1c",
        "inr",
        "empty can",
        "mcmurray",
        "thessaly",
        "trendelenburg",
        "romberg",
        "squeeze test",
        "myotomes",
        "dermatomes",
        "reflexes",
    ];
    if begins(c, TESTS) {
        return true;
    }
    // The straight leg raise is an exercise and a test: a test where degrees or a sign are its result.
    if c.word(&["slr"]).is_some() {
        return c
            .all
            .iter()
            .any(|t| matches!(t.sort, Sort::Word("deg" | "degrees" | "ve") | Sort::Sign('°')));
    }
    // `5xSTS`, `30 s CST`, `6MWT`, `10 m walk test`
    if c.whole().is_none() {
        return false;
    }
    let timed = c.word(&["s", "sec", "secs", "second", "seconds", "min", "m", "metre", "meter"]).is_some();
    let times = c.times();
    c.sign('-');
    (timed || times) && begins(c, &["cst", "sts", "tsts", "walk test"])
        || begins(c, &["mwt", "tsts", "sts", "xsts", "xtsts"])
}

/// Whether a line holds a result: a number behind its first word, or one in words.
fn has_result(all: &[Token<'_>]) -> bool {
    let shown = |t: &Token<'_>| match t.sort {
        Sort::Number(_) => true,
        Sort::Word(w) => matches!(
            w,
            "ve" | "pos" | "neg" | "positive" | "negative" | "nad" | "normal" | "full" | "intact" | "equal"
        ),
        Sort::Sign(s) => matches!(s, '+'),
    };
    let signed = matches!(all.first().map(|t| t.sort), Some(Sort::Sign('+' | '-')));
    signed || all.iter().skip(1).any(shown)
}

/// More repetitions than these in a bare number are an angle (common practice, no source).
pub const MOST_REPETITIONS: u64 = 30;

/// One of several values of a result: hundredths, whether a unit or a sign shows that it counts nothing, and its side.
type Measured = (u64, Shown, Option<Side>);

/// What shows that a number counts nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Shown {
    Nothing,
    /// A sign, or a unit that a load has too.
    Perhaps,
    /// Degrees, a length, percent.
    Surely,
}

/// A number with its sign and its unit, if it is one of a measurement.
fn measured(c: &mut Cursor<'_>) -> Option<(u64, Shown)> {
    let mut m = *c;
    let signed = m.sign('-') | m.sign('+');
    let n = m.hundredths()?;
    let behind = m;
    let surely = match unit::of(&mut m, &[Kind::Angle, Kind::Share, Kind::Length]) {
        // `m` is also minutes.
        Some(Unit::Metre) => {
            m = behind;
            false
        }
        found => found.is_some(),
    };
    let perhaps = signed || unit::of(&mut m, &[Kind::Mass]).is_some();
    // `0-90` is a range and `3 x 10` a dose.
    let ends = m.peek().is_none_or(|t| match t.sort {
        Sort::Sign(s) => s != '-' && s != '×',
        Sort::Word(w) => w != "x",
        Sort::Number(_) => false,
    });
    *c = m;
    let shown = match (surely, perhaps) {
        (true, _) => Shown::Surely,
        (false, true) => Shown::Perhaps,
        (false, false) => Shown::Nothing,
    };
    ends.then_some((n, shown))
}

/// Whether a line is results: `grip 22 kg L, 38 kg R`, `SLR 60 R / 80 L`, `R knee flexion 95, ext -5`. What could be
/// repetitions is none.
fn is_measured(all: &[Token<'_>]) -> bool {
    let first = all.iter().position(|t| matches!(t.sort, Sort::Number(_)));
    let Some(first) = first.filter(|at| 0 < *at) else { return false };
    let mut c = Cursor { all, at: 0 };
    let (mut values, mut motions, mut others): (Vec<Measured>, usize, usize) = (Vec::new(), 0, 0);
    let mut side = None;
    while let Some(token) = c.peek() {
        if let Some(found) = anatomy::side(&mut c) {
            match values.last_mut() {
                // A side behind its number, unless every number has one before it.
                Some(last) if last.2.is_none() => last.2 = Some(found),
                _ => side = Some(found),
            }
        } else if anatomy::motion(&mut c).is_some() {
            motions += 1;
        } else if anatomy::joint(&mut c).is_some() || anatomy::limb(&mut c).is_some() {
        } else if let Some((n, clear)) = measured(&mut c) {
            values.push((n, clear, side.take()));
        } else {
            let joins = matches!(token.sort, Sort::Sign(',' | ';' | '/' | '|' | ':' | '(' | ')'))
                || matches!(token.sort, Sort::Word("vs" | "v" | "and" | "of"));
            // Words of a name stand before the first number only.
            if !joins && (first < c.at || !matches!(token.sort, Sort::Word(_))) {
                return false;
            }
            others += usize::from(!joins);
            c.at += 1;
        }
    }
    let is_clear = |value: &Measured| value.1 != Shown::Nothing || MOST_REPETITIONS * 100 < value.0;
    if others == 0 && 0 < motions && values.iter().any(is_clear) {
        return true;
    }
    let [(a, .., Some(left)), (b, .., Some(right))] = values.as_slice() else { return false };
    let doing = all.iter().any(|t| matches!(t.sort, Sort::Word(w) if super::details::is_doing(w)));
    let surely = values.iter().all(|value| value.1 == Shown::Surely);
    let unlike = others == 0 && a != b;
    // `SL heel raise R 12 L 28`: so many on each side are a test where one side does many.
    let tested = a != b && values.iter().all(|v| v.1 == Shown::Nothing) && 2000 < *a.max(b);
    left != right && others <= 4 && (unlike || surely || tested || !doing && values.iter().all(is_clear))
}

/// Who the patient is, for a record.
fn identity(c: Cursor<'_>) -> bool {
    let number = || c.all.iter().any(|t| matches!(t.sort, Sort::Number(_)));
    begins(c, &["dob", "date of birth", "nok", "next of kin"])
        || number()
            && begins(
                c,
                &[
                    "nhs no",
                    "nhs number",
                    "nhs",
                    "mrn",
                    "chi",
                    "hosp no",
                    "hospital no",
                    "hospital number",
                    "ur",
                ],
            )
}

/// `pain 4, settled by am`, `pain 6/10 -> 3/10`, `pain over the kneecap`; not a bound on pain, nor `pain-free`.
fn pain(mut c: Cursor<'_>) -> bool {
    if c.word(&["pain", "sore", "aching"]).is_none() {
        return false;
    }
    const BOUNDS: [&str; 9] =
        ["max", "maximum", "ok", "okay", "allowed", "acceptable", "most", "limit", "if"];
    let bounded = c.all.iter().any(|t| matches!(t.sort, Sort::Word(w) if BOUNDS.contains(&w)));
    let told = matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_)))
        || begins(c, &["over", "in", "at", "went", "from", "now", "worse", "better", "since", "after", "on"]);
    told && !bounded
}

/// `SPD pain 6/10 turning in bed`: a score of pain that nothing bounds.
fn scores_pain(all: &[Token<'_>]) -> bool {
    let scored = |at: usize| {
        let mut c = Cursor { all, at };
        c.word(&["pain", "ache", "vas", "nprs", "nrs"]).is_some()
            && c.range().is_some()
            && c.sign('/')
            && c.whole() == Some(10)
    };
    const BOUNDS: [&str; 17] = [
        "max",
        "maximum",
        "ok",
        "okay",
        "allowed",
        "acceptable",
        "most",
        "limit",
        "if",
        "until",
        "till",
        "when",
        "fine",
        "only",
        "stop",
        "to",
        "up",
    ];
    let bounded = all.iter().any(|t| match t.sort {
        Sort::Word(w) => BOUNDS.contains(&w),
        Sort::Sign(s) => matches!(s, '<' | '>' | '≤' | '≥'),
        Sort::Number(_) => false,
    });
    !bounded && (0..all.len()).any(scored)
}

/// `falls x2 last month`, `fell in March`.
fn fell(mut c: Cursor<'_>) -> bool {
    if c.word(&["falls", "fall", "fell"]).is_none() {
        return happened(c);
    }
    c.times();
    matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_)))
        || begins(c, &["in", "last", "this", "since", "at", "on", "down"])
}

/// `R patella disloc x3`: how often something has happened.
fn happened(c: Cursor<'_>) -> bool {
    const HAPPENED: [&str; 11] = [
        "disloc",
        "sublux",
        "sprain",
        "flare",
        "episode",
        "fall",
        "attack",
        "giving way",
        "gives way",
        "gave way",
        "relapse",
    ];
    let named = |at: usize| {
        let mut m = Cursor { at, ..c };
        let stem = m.peek_word().is_some_and(|w| HAPPENED.iter().any(|stem| w.starts_with(stem)));
        m.at += 1;
        (stem || Cursor { at, ..c }.one_of(&["giving way", "gives way", "gave way"])) && m.times() && {
            m.whole().is_some() && m.is_done_or_parted()
        }
    };
    (0..c.all.len()).any(named)
}

fn is_lag(all: &[Token<'_>]) -> bool {
    (0..all.len()).any(|at| {
        begins(Cursor { all, at }, &["extensor lag", "extension lag", "quads lag", "quad lag", "lag of"])
    })
}

/// `ankle sprain R 3/7 ago`: what happened, by what it was.
fn ago(all: &[Token<'_>]) -> Option<Key> {
    let past = all.iter().any(|t| t.sort == Sort::Word("ago"));
    let has = |words: &[&str]| all.iter().any(|t| matches!(t.sort, Sort::Word(w) if words.contains(&w)));
    const HURT: [&str; 15] = [
        "sprain",
        "sprained",
        "strain",
        "strained",
        "fracture",
        "fractured",
        "tear",
        "torn",
        "rupture",
        "ruptured",
        "dislocation",
        "dislocated",
        "whiplash",
        "contusion",
        "injury",
    ];
    past.then(|| {
        if has(&OPERATIONS) {
            Key::Surgery
        } else if has(&HURT) {
            Key::Injury
        } else {
            Key::Finding
        }
    })
}

/// Strength on the scale from 0 to 5: `quads 4/5 R`.
fn graded(all: &[Token<'_>]) -> bool {
    (1..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        // `L4/5` is a level of the spine.
        let free = c.peek().is_some_and(|t| t.spaced);
        let grade = free && c.hundredths().is_some_and(|n| n <= 500);
        grade && {
            let _ = c.sign('+') || c.sign('-');
            c.sign('/') && c.whole() == Some(5) && c.peek().is_none_or(|t| t.sort != Sort::Sign('/'))
        }
    })
}
