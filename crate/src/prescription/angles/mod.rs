//! Reads what is said of joint angles, in `limit:` and `range:` values and in plain restrictions, into bounds on
//! clinical angles.
//!
//! A text falls into segments between commas, `and` and `or`; each token of a segment is a side, a joint, a motion, a
//! denial, a bound, an end, a word that says nothing by itself, or unread. Only when all tokens of all segments are
//! known does it become clear what a number means: `past 90` alone is asked, `no … past 90` is at most 90.

mod segment;

use super::limit::{Limit, Purpose};
use crate::body::names::{Angle, Joint, Motion, Side, can_move};
use crate::dose::End;
use crate::language::anatomy::Moving;
use crate::language::comparator::{Bounds, Comparator};
use crate::language::token::tokens;
use crate::text::Place;
use crate::text::fold::fold;
use segment::{Joined, Numbers, Segment, Whose};

/// What was made of a value.
pub struct Angles {
    pub limits: Vec<Limit>,
    /// Words that were not understood beside an angle that was; as typed.
    pub beside: Vec<String>,
    pub faults: Vec<Fault>,
    /// Some of it is said to have no limit.
    pub free: bool,
}

/// Why a value was not, or not wholly, understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Nothing in it names a joint.
    NoJoint,
    /// A joint that needs its motion said.
    NoMotion(Joint),
    /// This joint doesn't make that motion.
    CannotMove(Joint, Motion),
    /// No number.
    NoBound(Joint),
    /// The numbers are out of range or the wrong way round.
    BadNumbers,
    /// The end was not understood.
    BadEnd,
    /// Words that may turn the meaning round.
    TurnedRound,
    /// `> 90`: past it, or up to it?
    EitherWay(i16),
    /// `elbow extension at most 30`: thirty past straight, or thirty short of it?
    PastStraight(i16),
    /// `no flexion 60-120`: an arc that is forbidden between two that aren't.
    Arc,
    /// A sided joint without its side: read as both.
    NoSide(Joint),
    /// One number alone: read as at most.
    BareNumber(i16),
    /// A motion forbidden without a number: read as at most 0.
    Forbidden(Motion),
    /// Posterior hip precautions: read as three bounds.
    Posterior,
    /// One end on a line of several limits: read for all.
    EndForAll,
}

impl Fault {
    /// Whether the limit is understood all the same.
    pub fn is_mild(self) -> bool {
        matches!(
            self,
            Fault::NoSide(_)
                | Fault::BareNumber(_)
                | Fault::Forbidden(_)
                | Fault::Posterior
                | Fault::EndForAll
        )
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Bound {
    low: Option<i16>,
    high: Option<i16>,
}

/// Reads a value. Where a fault isn't mild nothing is understood: `limits` is empty.
pub fn read(value: &str, purpose: Purpose, place: Place) -> Angles {
    read_after(value, purpose, place, false)
}

/// Reads what stands behind a word that denies all of it, such as `avoid:`.
pub fn read_denied(value: &str, purpose: Purpose, place: Place) -> Angles {
    read_after(value, purpose, place, true)
}

fn read_after(value: &str, purpose: Purpose, place: Place, denied: bool) -> Angles {
    let folded = fold(value);
    let mut segments = segment::segments(&tokens(&folded), value);
    if let Some(first) = segments.first_mut() {
        first.denied |= denied;
    }
    segments.retain(|s| !s.is_empty());
    let mut angles = Angles { limits: Vec::new(), beside: Vec::new(), faults: Vec::new(), free: false };
    if segments.is_empty() {
        angles.faults.push(Fault::NoJoint);
        return angles;
    }
    inherit(&mut segments, &mut angles.faults);
    for s in &segments {
        if s.free && s.numbers.is_none() {
            angles.free = true;
            angles.faults.extend(s.fault);
            angles.beside.extend(s.words.iter().cloned());
            continue;
        }
        angles.faults.extend(s.fault);
        resolve(s, purpose, place, &mut angles);
        angles.beside.extend(s.words.iter().cloned());
    }
    if angles.beside.iter().any(|words| may_turn(words)) {
        angles.faults.push(Fault::TurnedRound);
    }
    angles.faults.dedup();
    if angles.faults.iter().any(|f| !f.is_mild()) {
        angles.limits.clear();
    } else if angles.limits.is_empty() && !angles.free {
        angles.faults.push(Fault::NoJoint);
    }
    angles
}

/// Whether unread words may change what the rest means.
pub fn may_turn(words: &str) -> bool {
    const TURNS: [&str; 22] = [
        "not",
        "no",
        "never",
        "unless",
        "except",
        "without",
        "minus",
        "if",
        "when",
        "while",
        "then",
        "or",
        "but",
        "progress",
        "increase",
        "increasing",
        "allow",
        "allowed",
        "free",
        "unlimited",
        "after",
        "plus",
    ];
    let folded = crate::text::fold::folded(words);
    folded.split(|c: char| !c.is_alphanumeric()).any(|w| TURNS.contains(&w))
}

/// Later segments take side and joint from earlier ones, a motion without a number takes the next one's, and a denial
/// runs on.
fn inherit(segments: &mut Vec<Segment>, faults: &mut Vec<Fault>) {
    // `never, no flexion > 90`: denied twice, it may be allowed.
    if let [first, _, ..] = segments.as_mut_slice()
        && first.says_no_angle()
        && first.denied
    {
        first.fault = Some(Fault::TurnedRound);
    }
    // `0-60 wk 1-2, 0-90 wk 3-6`: a stage that begins where the one before it ends, or at the start, is told by its end,
    // since the narrower bound holds while both do.
    let (mut done, mut before) = (0, None);
    for s in segments.iter_mut() {
        let Some((from, to)) = s.stage else { continue };
        let widens = match (before, s.numbers) {
            (None, _) => true,
            (Some(Numbers::Between(low, high)), Some(Numbers::Between(l, h))) => l <= low && high <= h,
            (Some(Numbers::Compared(a, n)), Some(Numbers::Compared(b, m))) => {
                a == b && a.bounds(s.denied) == Bounds::Most && n <= m
            }
            (Some(_), _) => false,
        };
        before = s.numbers;
        if from == done + 1 && widens {
            s.end = Some(End::Week(to));
        } else {
            s.fault = Some(Fault::BadEnd);
        }
        done = to;
    }
    // A part that only says until when, or only denies, belongs to the one before it.
    let mut i = 0;
    while i < segments.len() {
        let alone = 0 < i && segments.get(i).is_some_and(Segment::says_no_angle);
        if alone {
            let s = segments.remove(i);
            if let Some(before) = i.checked_sub(1).and_then(|b| segments.get_mut(b)) {
                before.end = before.end.take().or(s.end);
                before.words.extend(s.words);
                before.whose = before.whose.or(s.whose);
                before.fault = before.fault.or(s.fault);
                if before.denied && s.denied {
                    before.fault = Some(Fault::TurnedRound);
                }
                before.denied |= s.denied;
            }
        } else {
            i += 1;
        }
    }
    // `no adduction, no turning in (R)`: the side behind the last part is all parts'.
    if let [first @ .., last] = segments.as_mut_slice()
        && first.iter().all(|s| {
            s.whose.is_none() && (last.joint.is_none() || s.joint == last.joint || s.joint.is_none())
        })
        && first.iter().filter_map(|s| s.joint).collect::<std::collections::BTreeSet<_>>().len() <= 1
    {
        first.iter_mut().for_each(|s| s.whose = last.whose);
        // As is the joint, where none is said before it.
        if first.iter().all(|s| s.joint.is_none()) {
            first.iter_mut().for_each(|s| (s.joint, s.plural) = (last.joint, last.plural));
        }
    }
    // `external rotation to neutral only, left shoulder`: what only says whose joint was meant has said it.
    if 1 < segments.len()
        && segments.last().is_some_and(|last| {
            last.says_joint_alone() && segments.iter().rev().skip(1).any(|s| s.joint == last.joint)
        })
        && segments
            .iter()
            .rev()
            .skip(1)
            .all(|s| s.joint.is_some() && s.whose.is_some() && !s.motions.is_empty())
    {
        let end = segments.pop().and_then(|s| s.end);
        if let (Some(end), Some(last)) = (end, segments.last_mut()) {
            last.end.get_or_insert(end);
        }
    }
    let (mut whose, mut joint, mut plural, mut denied) = (None, None, false, false);
    let mut motions: Vec<Moving> = Vec::new();
    for s in segments.iter_mut() {
        if s.stage.is_some() && s.joint.is_none() && s.motions.is_empty() {
            s.motions = motions.clone();
        }
        motions.clone_from(&s.motions);
        if s.joint.is_none() {
            s.joint = joint;
            s.plural = plural;
            s.whose = s.whose.or(whose);
        } else if s.whose.is_none() && s.joint == joint {
            s.whose = whose;
        }
        // `no flexion past 90, adduction past the midline or turning in`: what is denied first is denied throughout,
        // but a part that says by itself how far one may go is no part of it.
        let open = match s.numbers {
            None | Some(Numbers::Compared(Comparator::Over | Comparator::From, _)) => true,
            Some(_) => false,
        };
        s.denied |= denied && open;
        (whose, joint, plural, denied) = (s.whose, s.joint, s.plural, s.denied);
    }
    let mut next: Option<(Numbers, bool, Joined)> = None;
    for s in segments.iter_mut().rev() {
        match (s.numbers, next) {
            (Some(numbers), _) => next = Some((numbers, s.denied, s.joined)),
            (None, Some((numbers, denied, joined))) if !s.posterior => {
                match (s.denied, joined) {
                    (false, _) => {
                        s.numbers = Some(numbers);
                        s.denied |= denied;
                    }
                    // `no turning in, flexion past 90` denies all turning in.
                    (true, Joined::Comma) => {}
                    // `no turning in or flexion past 90`: to both, or to the last alone?
                    (true, Joined::And | Joined::Or) => s.fault = Some(Fault::TurnedRound),
                }
                next = Some((numbers, denied, s.joined));
            }
            (None, _) => {}
        }
    }
    if let Some(end) = segments.last().and_then(|s| s.end.clone()) {
        let without = segments.iter().filter(|s| s.end.is_none()).count();
        if 0 < without {
            faults.push(Fault::EndForAll);
            for s in segments.iter_mut() {
                s.end.get_or_insert_with(|| end.clone());
            }
        }
    }
}

fn resolve(s: &Segment, purpose: Purpose, place: Place, out: &mut Angles) {
    if s.posterior {
        // Usual precautions after a hip replacement from behind, common practice: no flexion past 90,
        // no turning in and no crossing past the middle. The wording of the team that operated decides.
        for (motion, high) in [(Motion::Flexion, 90), (Motion::Adduction, 0), (Motion::InternalRotation, 0)] {
            push(s, Joint::Hip, motion, Bound { low: None, high: Some(high) }, purpose, place, out);
        }
        if s.whose.is_none() {
            out.faults.push(Fault::NoSide(Joint::Hip));
        }
        out.faults.push(Fault::Posterior);
        return;
    }
    let Some(joint) = s.joint else {
        out.faults.push(Fault::NoJoint);
        return;
    };
    let mut motions = s.motions.clone();
    if motions.is_empty() {
        match joint {
            _ if matches!(s.numbers, Some(Numbers::Short(_))) => {
                motions.push(Moving::Plain(Motion::Extension))
            }
            Joint::Knee | Joint::Elbow => motions.push(Moving::Plain(Motion::Flexion)),
            _ => {
                out.faults.push(Fault::NoMotion(joint));
                return;
            }
        }
    }
    if joint.is_paired() && s.whose.is_none() && !s.plural {
        out.faults.push(Fault::NoSide(joint));
    }
    for moving in motions {
        let joint = moved(joint, moving);
        let bound = match bound(s, joint, moving, purpose, &mut out.faults) {
            Ok(bound) => bound,
            Err(fault) => {
                out.faults.push(fault);
                continue;
            }
        };
        let turning: Vec<Motion> = match (moving, joint.is_paired()) {
            (Moving::Plain(m), _) => vec![m],
            (Moving::Hyperextension, _) => vec![Motion::Extension],
            (Moving::Rotation | Moving::SideBend, true) => {
                out.faults.push(Fault::NoMotion(joint));
                continue;
            }
            (Moving::Rotation, false) => sides(s.whose).map(Motion::Rotation).collect(),
            (Moving::SideBend, false) => sides(s.whose).map(Motion::SideBend).collect(),
        };
        for motion in turning {
            push(s, joint, motion, bound, purpose, place, out);
        }
    }
}

/// The joint that makes a motion that is said of its neighbour: `elbow pronation` is the forearm's.
fn moved(joint: Joint, moving: Moving) -> Joint {
    use Motion::*;
    match (joint, moving) {
        (Joint::Elbow | Joint::Wrist, Moving::Plain(Pronation | Supination)) => Joint::Forearm,
        (Joint::Shoulder, Moving::Plain(Depression | Protraction | Retraction)) => Joint::ShoulderBlade,
        _ => joint,
    }
}

/// What the segment's numbers mean for a motion, its denial and all.
fn bound(
    s: &Segment,
    joint: Joint,
    moving: Moving,
    purpose: Purpose,
    told: &mut Vec<Fault>,
) -> Result<Bound, Fault> {
    let good = |low: Option<i16>, high: Option<i16>| {
        let inside = low.into_iter().chain(high).all(|n| (-180..=180).contains(&n));
        let ordered = low.zip(high).is_none_or(|(l, h)| l <= h);
        if inside && ordered { Ok(Bound { low, high }) } else { Err(Fault::BadNumbers) }
    };
    let extends = matches!(moving, Moving::Plain(Motion::Extension) | Moving::Hyperextension);
    // Fifteen degrees past straight is as far as lax knees and elbows go (Beighton 1973 counts from 10; from memory).
    let hinge = extends && matches!(joint, Joint::Knee | Joint::Elbow);
    let good = |low: Option<i16>, high: Option<i16>| match good(low, high) {
        Ok(Bound { high: Some(n), .. }) if hinge && 15 < n => Err(Fault::PastStraight(n)),
        other => other,
    };
    match s.numbers {
        Some(Numbers::Bad) => Err(Fault::BadNumbers),
        Some(Numbers::Between(..)) if s.denied => Err(Fault::Arc),
        Some(Numbers::Between(low, high)) => good(Some(low), Some(high)),
        Some(Numbers::Alone(n)) => {
            told.push(Fault::BareNumber(n));
            good(None, Some(n))
        }
        Some(Numbers::Short(n)) if extends && !s.denied => good(None, Some(-n.abs())),
        Some(Numbers::Short(_)) => Err(Fault::BadNumbers),
        Some(Numbers::Compared(Comparator::Over, n)) if !s.denied && purpose == Purpose::Range => {
            good(Some(n), None)
        }
        Some(Numbers::Compared(comparator, n)) => match comparator.bounds(s.denied) {
            Bounds::Most => good(None, Some(n)),
            Bounds::Least => good(Some(n), None),
            Bounds::Unsure => Err(Fault::EitherWay(n)),
        },
        // `no full flexion`, `no active flexion`: which part of it is forbidden is not known.
        None if !s.denied || !s.words.is_empty() => Err(Fault::NoBound(joint)),
        None => match moving {
            Moving::Hyperextension => good(None, Some(0)),
            // A straight knee is extended by 0: to forbid more is not what is meant.
            Moving::Plain(Motion::Extension) if matches!(joint, Joint::Knee | Joint::Elbow) => {
                Err(Fault::NoBound(joint))
            }
            Moving::Plain(motion) => {
                told.push(Fault::Forbidden(motion));
                good(None, Some(0))
            }
            Moving::Rotation | Moving::SideBend => good(None, Some(0)),
        },
    }
}

fn sides(whose: Option<Whose>) -> impl Iterator<Item = Side> {
    Side::BOTH.into_iter().filter(move |side| match whose {
        Some(Whose::One(s)) => s == *side,
        Some(Whose::Both) | None => true,
    })
}

fn push(
    s: &Segment,
    joint: Joint,
    motion: Motion,
    bound: Bound,
    purpose: Purpose,
    place: Place,
    out: &mut Angles,
) {
    if !can_move(joint, motion) {
        out.faults.push(Fault::CannotMove(joint, motion));
        return;
    }
    let mut add = |side| {
        out.limits.push(Limit {
            purpose,
            angle: Angle { side, joint, motion },
            low: bound.low,
            high: bound.high,
            end: s.end.clone(),
            last_day: None,
            place,
        });
    };
    if joint.is_paired() {
        sides(s.whose).for_each(|side| add(Some(side)));
    } else {
        add(None);
    }
}

/// The canonical writing of limits from one line: `right knee flexion 0-90, right hip flexion at most 60`.
pub fn written(limits: &[Limit]) -> String {
    let mut pieces: Vec<(String, Option<End>)> = Vec::new();
    let mut i = 0;
    while let Some(limit) = limits.get(i) {
        let twin = limits.get(i + 1).filter(|t| {
            let other = |a: Angle| match a.side {
                Some(side) => Angle { side: Some(side.other()), ..a },
                None => a.mirrored(),
            };
            t.angle == other(limit.angle)
                && t.angle != limit.angle
                && (t.low, t.high, &t.end) == (limit.low, limit.high, &limit.end)
        });
        let name = match twin {
            Some(_) if limit.angle.side.is_some() => {
                format!("both {} {}", plural(limit.angle.joint), limit.angle.motion.words())
            }
            Some(_) => {
                let words = limit.angle.motion.words();
                let both = words.rsplit_once(' ').map_or(words, |(head, _)| head);
                format!("{} {both}", limit.angle.joint.word())
            }
            None => limit.angle.name(),
        };
        let bound = match (limit.low, limit.high) {
            (Some(low), Some(high)) if low < 0 || high < 0 => format!("{low} to {high}"),
            (Some(low), Some(high)) => format!("{low}-{high}"),
            (None, Some(high)) => format!("at most {high}"),
            (Some(low), None) => format!("at least {low}"),
            (None, None) => String::new(),
        };
        pieces.push((format!("{name} {bound}"), limit.end.clone()));
        i += 1 + usize::from(twin.is_some());
    }
    let shared = pieces
        .first()
        .and_then(|p| p.1.clone())
        .filter(|end| pieces.iter().all(|p| p.1.as_ref() == Some(end)));
    let texts: Vec<String> = pieces
        .into_iter()
        .map(|(text, end)| match (&shared, end) {
            (None, Some(end)) => format!("{text} {end}"),
            _ => text,
        })
        .collect();
    let tail = shared.map_or(String::new(), |end| format!(" {end}"));
    format!("{}{tail}", texts.join(", "))
}

fn plural(joint: Joint) -> String {
    match joint {
        Joint::Toes => "toes".to_string(),
        j => format!("{}s", j.word()),
    }
}
