//! Plain lines about the patient, without a line word: what must not be done, what may, what must, and what was found.
//! Such a line is never an exercise.

mod stated;

use super::about;
use super::angles::{self, Fault};
use super::exercise::TypedLine;
use super::keys::Value;
use super::limit::{Bearing, Limit, Purpose};
use super::{Said, Stated, bearing, say};
use crate::dose::{Dose, Work};
use crate::language::comparator::comparator;
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, Sort, Token, tokens};
use crate::language::unit::{self, Kind};
use crate::notice::Notice;
use crate::text::Place;
use crate::text::fold::fold;
use stated::stated;
pub use stated::{has_stages, is_moment};

/// A longer line, in bytes, is neither angles nor weights.
const LONGEST: usize = 600;

/// What a plain line was read as.
#[derive(Clone, Debug)]
pub enum Read {
    /// Bounds on angles, `no right hip flexion > 90`, and what is to be said of them.
    Limits {
        limits: Vec<Limit>,
        faults: Vec<Fault>,
        /// Some of it is said to have no limit.
        free: bool,
    },
    /// `right knee flexion 0-90`, with nothing beside it: measured, or ordered? As a limit it would be this.
    Measured(String),
    /// `NWB left leg 6/52`.
    Weights(Vec<Bearing>),
    /// Words, kept as typed, part by part.
    Stated(Vec<Stated>),
    /// `ROM brace L knee 30-90`: something to wear that holds a joint within angles.
    Braced { limits: Vec<Limit>, faults: Vec<Fault>, stated: Vec<Stated> },
    /// What holds now, behind what held before: `was NWB, now FWB`.
    Now { before: Place, now: Box<Read> },
    /// For the clinician alone.
    Finding,
    /// It may be an exercise that is taken back: `no bridge 3 x 10`.
    Asked(String),
}

impl Read {
    /// What the clinician is told, so that nothing is taken for a restriction unseen.
    pub fn notices(&self, place: Place) -> Vec<Notice> {
        match self {
            Read::Limits { limits, faults, .. } => {
                let mut all = vec![say::plain_limit(place, &angles::written(limits))];
                all.extend(faults.iter().map(|fault| say::limit(place, "limit", *fault)));
                all
            }
            Read::Weights(found) => {
                let mut all = vec![say::plain_weight(place, &bearing::written_all(found))];
                all.extend(found.iter().any(lacks_side).then(|| say::weight_without_side(place)));
                all
            }
            Read::Braced { limits, faults, stated } => {
                let mut all = vec![say::plain_limit(place, &angles::written(limits))];
                all.extend(faults.iter().map(|fault| say::limit(place, "limit", *fault)));
                all.extend(stated.iter().map(|s| say::stated(s.said.place, s.kind)));
                all
            }
            Read::Stated(stated) => {
                let all = stated.iter().map(|s| say::stated(s.said.place, s.kind));
                all.chain(stated.iter().filter_map(|s| unclear_date(&s.said))).collect()
            }
            Read::Now { before, now } => {
                let mut all = vec![say::held_before(*before)];
                all.extend(now.notices(place));
                all
            }
            Read::Finding => vec![say::kept_private(place)],
            Read::Asked(name) => vec![say::denied_exercise(place, name)],
            Read::Measured(limit) => vec![say::measured_or_ordered(place, limit)],
        }
    }

    /// The line under a word of its own, where it is read again as just this.
    pub fn tidy(&self) -> Option<String> {
        match self {
            Read::Limits { free: true, .. } => None,
            Read::Limits { limits, .. } => {
                let text = angles::written(limits);
                let place = limits.first()?.place;
                let again = angles::read(&text, Purpose::Limit, place);
                (again.limits == *limits && again.beside.is_empty()).then(|| format!("limit: {text}"))
            }
            Read::Weights(found) => {
                let text = bearing::written_all(found);
                let again = bearing::all(&Value { text: &text, place: found.first()?.place })?;
                (again == *found).then(|| format!("weight: {text}"))
            }
            Read::Now { .. }
            | Read::Braced { .. }
            | Read::Stated(_)
            | Read::Finding
            | Read::Asked(_)
            | Read::Measured(_) => None,
        }
    }
}

/// What is asked of a date in words that are kept whole, where day and month may be meant either way: `no kneeling until
/// 4/1/27`.
fn unclear_date(said: &Said) -> Option<Notice> {
    use crate::dose::say::{Doubt, notice};
    let folded = fold(&said.text);
    let all = tokens(&folded);
    (0..all.len()).find_map(|at| {
        let first = all.get(at).filter(|t| at == 0 || t.spaced)?.start;
        let mut c = Cursor { all: &all, at };
        let unclear = c.date()?.is_err();
        let last = c.at.checked_sub(1).and_then(|i| all.get(i))?.end;
        let place = Place { start: said.place.start + first, end: said.place.start + last, ..said.place };
        unclear.then(|| notice(Doubt::WhichDate, said.text.get(first..last).unwrap_or(""), place))
    })
}

/// Reads a line; `forbids`: it stands under a heading such as "Do not"; `counted`: it has repetitions. None: it begins like
/// none of these.
pub fn read(typed: &TypedLine<'_>, forbids: bool, counted: bool) -> Option<Read> {
    let TypedLine { content, place, all, .. } = *typed;
    if let Some(from) = since(all) {
        let now = read(&TypedLine::new(&typed.typed.cut(from, content.len())), forbids, counted)?;
        let before = Place { end: place.start + from, ..place };
        return Some(Read::Now { before, now: Box::new(now) });
    }
    let kind = restraint::plain(all)
        .or_else(|| (!counted && about::leaves_off(typed.typed)).then_some(Plain::Order))
        .or_else(|| about::changes(typed.typed).then_some(Plain::Advice))
        .or_else(|| (restraint::bounds_load(all) && !is_dosed(typed)).then_some(Plain::Restriction));
    // `walk 10 min daily, call us if it swells` is an exercise first.
    let kind = kind.filter(|kind| *kind != Plain::Order || !typed.calls() || !is_dosed(typed));
    if LONGEST < content.len() {
        // So much on one line is kept in its words.
        let words = || Said { text: content.to_string(), place };
        return kind.filter(|_| !counted).map(|kind| {
            let (said, what, shown) = (words(), words(), content.to_string());
            Read::Stated(vec![Stated { kind, said, what, shown, end: None, last_day: None }])
        });
    }
    if !counted && says_weight(all) {
        // A number beside the weight may be a limit of its own: `NWB, ROM 0-90`.
        let whole = |b: &Bearing| !bearing::beside::counts_other(&b.words);
        if let Some(found) = bearing::all(&Value { text: content, place }).filter(|all| all.iter().all(whole))
        {
            return Some(Read::Weights(found));
        }
    }
    if kind == Some(Plain::Finding) {
        return Some(Read::Finding);
    }
    if !counted && (kind == Some(Plain::Restriction) || says_bound(all)) {
        let found = angles::read(content, Purpose::Limit, place);
        if !found.limits.is_empty() && found.beside.is_empty() {
            return Some(Read::Limits { limits: found.limits, faults: found.faults, free: found.free });
        }
    }
    if !counted
        && kind.is_none()
        && !forbids
        && let Some(limit) = measured(typed)
    {
        // `R knee flex 0-90 only x 4/52` orders.
        let ordered = restraint::bounds_a_motion(all);
        let found = angles::read(content, Purpose::Limit, place);
        return Some(if ordered {
            Read::Limits { limits: found.limits, faults: found.faults, free: found.free }
        } else {
            Read::Measured(limit)
        });
    }
    // `knee flex 0-90 until week 6, brace locked for walking`
    if !counted
        && kind.is_none()
        && !forbids
        && let Some(at) = all.iter().position(|t| matches!(t.sort, Sort::Sign(',' | ';')))
        && let (Some(comma), Some(next)) = (all.get(at), all.get(at + 1))
        && let (head, rest) =
            (typed.typed.trimmed(0, comma.start), typed.typed.trimmed(next.start, content.len()))
        && restraint::bounds_a_motion(&head.all)
        && let Some(other) = restraint::plain(&rest.all).filter(|kind| *kind != Plain::Finding)
    {
        let found = angles::read(head.text, Purpose::Limit, place);
        if !found.limits.is_empty() && found.beside.is_empty() && !found.free {
            let stated = parts(rest.text, rest.place, other);
            return Some(Read::Braced { limits: found.limits, faults: found.faults, stated });
        }
    }
    // `hip flex at least 90 before sitting`: how far a joint goes is no number of repetitions.
    if !counted && kind.is_none() && !forbids && says_how_far(typed) {
        return Some(Read::Stated(vec![stated(Plain::Advice, content, place)]));
    }
    match kind {
        Some(Plain::Restriction) => {
            // An exercise that is taken back, or one that must not be done?
            if let Some(name) = typed.parted().name.as_ref().filter(|_| counted) {
                return Some(Read::Asked(name.text.clone()));
            }
        }
        // `change clam to 2 x 15` has the work of the other one.
        Some(Plain::Advice) => {}
        // `stick 3 x 10` is an exercise with a stick.
        Some(_) if counted => return None,
        Some(_) => {}
        None if !counted && says_weight(all) && !bearing::is_named(content) => {
            return Some(Read::Stated(vec![stated(Plain::Order, content, place)]));
        }
        None if forbids && !counted => {
            return Some(Read::Stated(vec![stated(Plain::Restriction, content, place)]));
        }
        None => return None,
    }
    let stated = parts(content, place, kind?);
    if let Some(limits) = braced(typed).filter(|_| kind == Some(Plain::Order)) {
        return Some(Read::Braced { limits, faults: Vec::new(), stated });
    }
    Some(Read::Stated(stated))
}

/// Whether a restricted weight says of no side what limb it is about.
pub fn lacks_side(b: &Bearing) -> bool {
    b.side.is_none() && !b.both && !b.follows && b.weight.is_restricted()
}

/// The angles that a hinged brace holds a joint within: `ROM brace L knee 30-90`. One that is locked, or worn at times, is a
/// rule alone.
fn braced(typed: &TypedLine<'_>) -> Option<Vec<Limit>> {
    let all = typed.all;
    let mut c = Cursor { all, at: 0 };
    while c.word(&["hinged", "hinge", "rom", "range", "motion", "of"]).is_some() {}
    c.word(&["brace", "orthosis"])?;
    c.word(&["set", "hinges", "hinge", "open", "opened"]);
    c.word(&["at", "to"]);
    let mut joint = c;
    crate::language::anatomy::side(&mut joint);
    let hinge = crate::language::anatomy::joint(&mut joint)?.0;
    use crate::body::names::Joint;
    matches!(hinge, Joint::Knee | Joint::Elbow).then_some(())?;
    let ranged = joint.whole().is_some() && joint.sign('-') && joint.whole().is_some();
    let from = c.peek()?.start;
    let place = typed.place;
    let text = typed.content.get(from..)?;
    let found = angles::read(text, Purpose::Limit, Place { start: place.start + from, ..place });
    let whole = ranged && found.beside.is_empty() && !found.free && !found.limits.is_empty();
    whole.then(|| found.limits.into_iter().map(|l| Limit { place, ..l }).collect())
}

/// Whether a load belongs to an exercise: to work that is done with it, or to a name that is known.
fn is_dosed(typed: &TypedLine<'_>) -> bool {
    let parted = typed.parted();
    let named = |name: &Said| crate::catalog::Catalog::embedded().is_named(&name.text);
    // `as able` and a number with its load count nothing.
    let timed = |p: &crate::dose::Portion| !matches!(p.work, Work::Repetitions { .. });
    counted(typed.all, &parted.dose)
        || parted.dose.work.iter().any(timed)
        || parted.dose.hold.is_some()
        || parted.name.as_ref().is_some_and(named)
}

/// Whether a line below an exercise says what not to do there: `don't let the back sag`, `no further than 60`.
pub fn is_guard(typed: &TypedLine<'_>) -> bool {
    restraint::plain(typed.all) == Some(Plain::Restriction) && !counted(typed.all, &typed.parted().dose)
}

/// A range of a joint's motion with nothing beside it, as a limit would be written. A few of a motion may be repetitions:
/// `flexion 10-15`.
fn measured(typed: &TypedLine<'_>) -> Option<String> {
    let all = typed.all;
    // A range of motion is a range of a motion: `knee 0-90` may be anything.
    let moves = |at: usize| crate::language::anatomy::motion(&mut Cursor { all, at }).is_some();
    let numbered = all.iter().any(|t| matches!(t.sort, Sort::Number(_)));
    if !numbered || !(0..all.len()).any(moves) {
        return None;
    }
    let found = angles::read(typed.content, Purpose::Limit, typed.place);
    let between = |l: &Limit| l.low.zip(l.high).is_some_and(|(low, high)| low <= 0 || 30 < high);
    let whole = found.beside.is_empty() && !found.free && found.limits.iter().all(between);
    (whole && !found.limits.is_empty()).then(|| angles::written(&found.limits))
}

/// Whether the number of a line says how far a joint goes: behind a motion and a word that bounds, in degrees or bare. A
/// known exercise, and one that is dosed, are what they are.
fn says_how_far(typed: &TypedLine<'_>) -> bool {
    let all = typed.all;
    let moves = |at: usize| crate::language::anatomy::motion(&mut Cursor { all, at }).is_some();
    let Some(motion) = (0..all.len()).find(|at| moves(*at)) else { return false };
    let bounded = (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        let word = c.clone().word(&["to", "past", "beyond"]).is_some();
        if comparator(&mut c).is_none() {
            if !word {
                return false;
            }
            c.at += 1;
        }
        let joined = motion < at || (c.at..all.len().min(c.at + 3)).any(moves);
        c.sign('-');
        joined && c.whole().is_some() && {
            unit::of(&mut c, &[Kind::Angle]);
            // `to 90 x 10`, `to 10 reps`, `max 2 kg` count or weigh.
            !c.times() && unit::unit(&mut c).is_none()
        }
    });
    let parted = typed.parted();
    let one = |w: &crate::dose::Portion| matches!(w.work, Work::Repetitions { sets: None, .. });
    let dosed =
        !parted.dose.work.iter().all(one) || parted.dose.hold.is_some() || parted.dose.often.is_some();
    let known = |name: &Said| crate::catalog::Catalog::embedded().is_named(&name.text);
    bounded && !dosed && !parted.name.as_ref().is_some_and(known)
}

/// The parts of a line that each say something else: `no running, ok to cycle`.
fn parts(content: &str, place: Place, kind: Plain) -> Vec<Stated> {
    let folded = fold(content);
    let all = tokens(&folded);
    let mut cuts: Vec<(usize, Plain)> = vec![(0, kind)];
    for (i, t) in all.iter().enumerate() {
        let parted = matches!(t.sort, Sort::Sign(',' | ';' | '.') | Sort::Word("but" | "and"));
        let (Some(next), true) = (all.get(i + 1), parted) else { continue };
        let rest = all.get(i + 1..).unwrap_or(&[]);
        let end = rest.iter().position(|t| matches!(t.sort, Sort::Sign(',' | ';'))).unwrap_or(rest.len());
        // `… if numb between the legs, can't pee or both legs weak`: the list behind the condition goes on.
        let conditional =
            all.iter().take(i).any(|t| matches!(t.sort, Sort::Word("if" | "when" | "unless" | "should")));
        // `SIJ belt when up, not in bed`: of what the `not` is stands before it.
        let bare = next.sort == Sort::Word("not")
            && matches!(
                all.get(i + 2).map(|t| t.sort),
                Some(Sort::Word(
                    "in" | "at"
                        | "on"
                        | "for"
                        | "when"
                        | "while"
                        | "during"
                        | "alone"
                        | "without"
                        | "before"
                        | "after"
                ))
            );
        if bare && kind != Plain::Restriction {
            continue;
        }
        let unable = matches!(next.sort, Sort::Word("can't" | "cant" | "cannot" | "unable"));
        if conditional && unable {
            continue;
        }
        let clause = rest.get(..end).unwrap_or(&[]);
        let forbidden = cuts.last().is_some_and(|(_, last)| *last == Plain::Restriction);
        if forbidden && restraint::goes_on_forbidding(clause) {
            continue;
        }
        let instead = forbidden && restraint::begins_with_order(clause);
        let other = if instead { Some(Plain::Order) } else { restraint::plain(clause) };
        if let (Some(other), Some((_, last))) = (other, cuts.last())
            && other != *last
        {
            cuts.push((next.start, other));
        }
    }
    let ends = cuts.iter().skip(1).map(|(at, _)| *at).chain([content.len()]);
    cuts.iter()
        .zip(ends)
        .map(|((from, kind), to)| {
            let piece = content.get(*from..to).unwrap_or("");
            let text = piece.trim_end_matches(|c: char| crate::text::is_space(c) || matches!(c, ',' | ';'));
            let text = text.strip_suffix(" but").or(text.strip_suffix(" and")).unwrap_or(text);
            let text = text.trim_end_matches([',', ' ']);
            let place = Place { start: place.start + from, end: place.start + from + text.len(), ..place };
            stated(*kind, text, place)
        })
        .filter(|s| !s.said.text.is_empty())
        .collect()
}

/// Where that begins which holds now, in a line that says first what held before.
fn since(all: &[Token<'_>]) -> Option<usize> {
    let mut c = Cursor { all, at: 0 };
    c.word(&["was", "were", "previously", "initially", "before", "had"])?;
    let now = all.iter().position(|t| t.sort == Sort::Word("now"))?;
    all.get(now + 1).map(|t| t.start)
}

/// Whether it is about bearing weight.
pub fn says_weight(all: &[Token<'_>]) -> bool {
    (0..all.len()).any(|at| {
        let c = Cursor { all, at };
        let mut m = c;
        m.word(&bearing::NAMES).is_some()
            || m.word(&["wb"]).is_some()
            || [
                &["weight", "bearing"][..],
                &["weight", "bear"],
                &["wt", "bearing"],
                &["weight", "through"],
                &["weight", "on"],
                &["weight", "onto"],
                &["kg", "through"],
                &["toe", "touch"],
                &["half", "weight"],
                &["full", "weight"],
            ]
            .iter()
            .any(|words| c.clone().words(words))
    })
}

/// Whether a number is bounded in words that no exercise's name has: `max 30`, `<= 90`, `to neutral only`.
pub fn says_bound(all: &[Token<'_>]) -> bool {
    let number = |c: &Cursor<'_>| {
        matches!(
            c.peek().map(|t| t.sort),
            Some(Sort::Number(_) | Sort::Sign('-') | Sort::Word("neutral" | "midline"))
        )
    };
    let forbidden = |at: usize| {
        let mut c = Cursor { all, at };
        crate::language::anatomy::motion(&mut c).is_some() && restraint::denial_behind(&mut c)
    };
    let later = |at: usize| {
        let mut c = Cursor { all, at };
        comparator(&mut c).is_some() && crate::language::anatomy::motion(&mut c).is_some()
    };
    if (0..all.len()).any(|at| forbidden(at) || later(at)) {
        return true;
    }
    if all.iter().any(|t| matches!(t.sort, Sort::Word("ceiling"))) {
        return true;
    }
    let keeps = matches!(all.first().map(|t| t.sort), Some(Sort::Word("keep" | "limit" | "stay" | "rom")));
    keeps
        || (0..all.len()).any(|at| {
            let mut c = Cursor { all, at };
            let mut to = c;
            let neutral = to.word(&["to"]).is_some() && to.word(&["neutral", "midline"]).is_some();
            let mut behind = c;
            let behind =
                behind.whole().is_some() && crate::language::comparator::behind(&mut behind).is_some();
            neutral || behind || (comparator(&mut c).is_some() && number(&c))
        })
}

/// Whether a line has work that is counted in repetitions.
pub fn counted(all: &[Token<'_>], dose: &Dose) -> bool {
    dose.work.iter().any(|p| match &p.work {
        Work::Repetitions { sets, .. } => {
            // `max 30` and `> 90` are no repetitions, though a dose would take them for some.
            let times = all
                .iter()
                .any(|t| matches!(t.sort, Sort::Word("x" | "reps" | "rep" | "sets" | "set" | "times")));
            times || sets.is_some_and(|sets| crate::measure::Counts::ONE < sets)
        }
        Work::Bouts { .. } | Work::Intervals { .. } => true,
        Work::Time(_) | Work::Amount { .. } => false,
    })
}

/// What stands behind `do not:`, `may:` or `rule:`.
pub fn keyed(kind: Plain, value: &Value<'_>) -> Stated {
    stated(kind, value.text, value.place)
}

/// Words that permit, as they are folded.
const PERMIT: [&str; 13] = [
    "may",
    "can",
    "allowed",
    "ok",
    "okay",
    "fine",
    "free",
    "freely",
    "unrestricted",
    "wbat",
    "fwb",
    "tolerated",
    "comfortable",
];
/// Words that restrict, turn round or make a condition; beside one of them nothing is a permission.
const RESTRICT: [&str; 31] = [
    "no", "not", "non", "nil", "never", "cannot", "cant", "dont", "without", "avoid", "stop", "only",
    "unless", "until", "till", "if", "but", "except", "max", "most", "maximum", "up", "past", "beyond",
    "under", "below", "less", "than", "partial", "touch", "nwb",
];

/// Whether words plainly permit: they do so in a word, have no number, and nothing in them restricts.
pub fn permits(text: &str) -> bool {
    let plain = text.to_lowercase().replace(['\'', '’'], "");
    let words = || plain.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let numbered = plain.contains(|c: char| c.is_ascii_digit() || matches!(c, '<' | '>' | '≤' | '≥'));
    !numbered && words().any(|w| PERMIT.contains(&w)) && !words().any(|w| RESTRICT.contains(&w))
}

/// A line that is told the patient, by what it says of itself.
pub fn told(value: &Value<'_>) -> Stated {
    let kind = if permits(value.text) {
        Plain::Permission
    } else if restraint::restricts(&tokens(&fold(value.text))) {
        Plain::Restriction
    } else {
        Plain::Advice
    };
    stated(kind, value.text, value.place)
}

/// The same, part by part where clauses of it forbid, permit or order by themselves.
pub fn told_by_clause(value: &Value<'_>) -> Vec<Stated> {
    let folded = fold(value.text);
    let all = tokens(&folded);
    const CONDITIONAL: [&str; 5] = ["if", "when", "unless", "should", "until"];
    if all.iter().any(|t| matches!(t.sort, Sort::Word(w) if CONDITIONAL.contains(&w))) {
        return vec![told(value)];
    }
    // `daily, can split am/pm`
    if crate::dose::find::often::often(Cursor { all: &all, at: 0 }).is_some() {
        return vec![told(value)];
    }
    // What stands before a colon governs what is behind it.
    if all.iter().any(|t| t.sort == Sort::Sign(':')) {
        return vec![told(value)];
    }
    let first = all.split(|t| matches!(t.sort, Sort::Sign(',' | ';' | '.' | ':'))).next().unwrap_or(&[]);
    let kind = restraint::plain(first).filter(|kind| *kind != Plain::Finding);
    let found = parts(value.text, value.place, kind.unwrap_or(Plain::Advice));
    if 1 < found.len() { found } else { vec![told(value)] }
}

/// What stands behind `avoid:`: bounds on angles where a number says so, else words.
pub fn avoided(value: &Value<'_>) -> (Vec<Limit>, Vec<Said>) {
    let bounded = |text: &str, place: Place| {
        let found = angles::read_denied(text, Purpose::Limit, place);
        let numbered = found.faults.iter().all(|f| !matches!(f, Fault::Forbidden(_)));
        (numbered && found.beside.is_empty() && !found.limits.is_empty()).then_some(found.limits)
    };
    if let Some(limits) = bounded(value.text, value.place) {
        return (limits, Vec::new());
    }
    let (mut limits, mut words) = (Vec::new(), Vec::new());
    for said in value.list() {
        match bounded(&said.text, said.place) {
            Some(found) => limits.extend(found),
            None => words.push(said),
        }
    }
    (limits, words)
}
