//! Reads `limit:` and `range:` values into bounds on clinical angles.

use super::limit::{Limit, Purpose};
use crate::body::names::{Angle, Joint, Motion, Side, can_move};
use crate::dose::End;
use crate::dose::find::Item;
use crate::dose::find::effort::at_most;
use crate::dose::find::moments::until;
use crate::dose::tokens::{Cursor, Sort, Token, tokens};
use crate::text::Place;
use crate::text::fold::fold;

/// What was made of a value.
pub struct Angles {
    pub limits: Vec<Limit>,
    /// Words that were not understood beside an angle that was; as typed.
    pub beside: Vec<String>,
    pub faults: Vec<Fault>,
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
enum Whose {
    One(Side),
    Both,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Bound {
    low: Option<i16>,
    high: Option<i16>,
}

/// A motion as typed, before the joint says which it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Moving {
    Plain(Motion),
    Rotation,
    SideBend,
}

#[derive(Clone, Debug, Default)]
struct Segment {
    whose: Option<Whose>,
    joint: Option<Joint>,
    plural: bool,
    motions: Vec<Moving>,
    bound: Option<Bound>,
    forbidden: bool,
    bare: bool,
    end: Option<End>,
    words: Vec<String>,
    fault: Option<Fault>,
    posterior: bool,
}

/// Reads a value. Where a fault isn't mild nothing is understood: `limits` is empty.
pub fn read(value: &str, purpose: Purpose, place: Place) -> Angles {
    let folded = fold(value);
    let all = tokens(&folded);
    let mut segments: Vec<Segment> = Vec::new();
    for part in split(&all) {
        segments.push(segment(part, value));
    }
    segments.retain(|s| {
        s.joint.is_some()
            || !s.motions.is_empty()
            || s.bound.is_some()
            || s.end.is_some()
            || !s.words.is_empty()
            || s.posterior
            || s.whose.is_some()
    });
    let mut angles = Angles { limits: Vec::new(), beside: Vec::new(), faults: Vec::new() };
    if segments.is_empty() {
        angles.faults.push(Fault::NoJoint);
        return angles;
    }
    inherit(&mut segments, &mut angles.faults);
    for s in &segments {
        angles.faults.extend(s.fault);
        resolve(s, purpose, place, &mut angles);
        angles.beside.extend(s.words.iter().cloned());
    }
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
    let turned = angles.beside.iter().any(|w| {
        crate::text::fold::folded(w).split(|c: char| !c.is_alphanumeric()).any(|w| TURNS.contains(&w))
    });
    if turned {
        angles.faults.push(Fault::TurnedRound);
    }
    angles.faults.dedup();
    if angles.faults.iter().any(|f| !f.is_mild()) {
        angles.limits.clear();
    } else if angles.limits.is_empty() {
        angles.faults.push(Fault::NoJoint);
    }
    angles
}

/// Parts between commas, semicolons, `and`, `&`; not the `and` of `between 10 and 90`.
fn split<'t, 'a>(all: &'t [Token<'a>]) -> Vec<&'t [Token<'a>]> {
    let number = |t: Option<&Token<'_>>| matches!(t.map(|t| t.sort), Some(Sort::Number(_)));
    let mut out = Vec::new();
    let mut from = 0;
    for (i, t) in all.iter().enumerate() {
        let between = number(i.checked_sub(1).and_then(|b| all.get(b))) && number(all.get(i + 1));
        let parts = match t.sort {
            Sort::Sign(',' | ';' | '&') => true,
            Sort::Word("and") => !between,
            Sort::Sign(_) | Sort::Word(_) | Sort::Number(_) => false,
        };
        if parts {
            out.push(all.get(from..i).unwrap_or(&[]));
            from = i + 1;
        }
    }
    out.push(all.get(from..).unwrap_or(&[]));
    out.retain(|p| !p.is_empty());
    out
}

/// Later parts take side and joint from earlier ones, a motion without a number takes the next part's.
fn inherit(segments: &mut Vec<Segment>, faults: &mut Vec<Fault>) {
    // A part that only says until when belongs to the one before it.
    let mut i = 0;
    while i < segments.len() {
        let alone = segments.get(i).is_some_and(|s| {
            s.joint.is_none() && s.motions.is_empty() && s.bound.is_none() && !s.posterior && 0 < i
        });
        if alone {
            let s = segments.remove(i);
            if let Some(before) = i.checked_sub(1).and_then(|b| segments.get_mut(b)) {
                before.end = before.end.take().or(s.end);
                before.words.extend(s.words);
                before.whose = before.whose.or(s.whose);
                before.fault = before.fault.or(s.fault);
            }
        } else {
            i += 1;
        }
    }
    let (mut whose, mut joint, mut plural) = (None, None, false);
    for s in segments.iter_mut() {
        if s.joint.is_none() {
            s.joint = joint;
            s.plural = plural;
            s.whose = s.whose.or(whose);
        } else if s.whose.is_none() && s.joint == joint {
            s.whose = whose;
        }
        (whose, joint, plural) = (s.whose, s.joint, s.plural);
    }
    let mut next: Option<(Bound, bool)> = None;
    for s in segments.iter_mut().rev() {
        match s.bound {
            Some(b) => next = Some((b, s.bare)),
            None if !s.forbidden && !s.posterior => {
                if let Some((b, bare)) = next {
                    s.bound = Some(b);
                    s.bare = bare;
                }
            }
            None => {}
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
            Joint::Knee | Joint::Elbow => motions.push(Moving::Plain(Motion::Flexion)),
            _ => {
                out.faults.push(Fault::NoMotion(joint));
                return;
            }
        }
    }
    let bound = match (s.bound, s.forbidden) {
        (Some(b), _) => b,
        (None, true) => {
            for m in &motions {
                if let Moving::Plain(m) = m {
                    out.faults.push(Fault::Forbidden(*m));
                }
            }
            Bound { low: None, high: Some(0) }
        }
        (None, false) => {
            out.faults.push(Fault::NoBound(joint));
            return;
        }
    };
    if let (true, Some(n)) = (s.bare, bound.high) {
        out.faults.push(Fault::BareNumber(n));
    }
    if joint.is_paired() && s.whose.is_none() && !s.plural {
        out.faults.push(Fault::NoSide(joint));
    }
    for moving in motions {
        let turning: Vec<Motion> = match (moving, joint.is_paired()) {
            (Moving::Plain(m), _) => vec![m],
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

fn segment(all: &[Token<'_>], source: &str) -> Segment {
    let mut s = Segment::default();
    let mut c = Cursor { all, at: 0 };
    let mut unknown: Option<(usize, usize)> = None;
    while let Some(token) = c.peek() {
        let begun = c.at;
        let understood = element(&mut c, &mut s, source);
        if understood && begun < c.at {
            if let Some((from, to)) = unknown.take() {
                s.words.push(source.get(from..to).unwrap_or("").to_string());
            }
            continue;
        }
        c.at = begun + 1;
        let from = unknown.map_or(token.start, |u| u.0);
        unknown = Some((from, token.end));
    }
    if let Some((from, to)) = unknown {
        s.words.push(source.get(from..to).unwrap_or("").to_string());
    }
    s
}

/// One element of a limit at the cursor.
fn element(c: &mut Cursor<'_>, s: &mut Segment, source: &str) -> bool {
    if let Some(hit) = until(*c, source) {
        for item in hit.items {
            match item {
                Item::Until(End::Words(_)) | Item::Ask => s.fault = Some(Fault::BadEnd),
                Item::Until(end) if s.end.is_none() => s.end = Some(end),
                _ => s.fault = Some(Fault::BadEnd),
            }
        }
        c.at = hit.next;
        return true;
    }
    let mut m = *c;
    if m.word(&["posterior"]).is_some() {
        let side = whose(&mut m);
        if m.word(&["hip"]).is_some() && m.word(&["precautions", "precaution"]).is_some() {
            s.posterior = true;
            s.whose = s.whose.or(side);
            *c = m;
            return true;
        }
    }
    if c.word(&["no", "avoid"]).is_some() {
        s.forbidden = true;
        return true;
    }
    if s.bound.is_none()
        && let Some((bound, bare)) = bound(c, s)
    {
        match bound {
            Ok(b) => s.bound = Some(b),
            Err(fault) => s.fault = Some(fault),
        }
        s.bare = bare;
        return true;
    }
    if let Some(found) = whose(c) {
        match s.whose {
            None => s.whose = Some(found),
            Some(first) if first == found => {}
            Some(_) => s.whose = Some(Whose::Both),
        }
        return true;
    }
    if let Some(moving) = motion(c) {
        if !s.motions.contains(&moving) {
            s.motions.push(moving);
        }
        return true;
    }
    if let Some((joint, plural)) = joint(c) {
        if s.joint.is_some_and(|j| j != joint) {
            s.fault = Some(Fault::TurnedRound);
        }
        s.joint = Some(joint);
        s.plural |= plural;
        return true;
    }
    c.sign('°')
        || c.sign(':')
        || c.sign('/')
        || c.sign('.')
        || c.word(&[
            "degrees", "degree", "deg", "degs", "of", "the", "is", "rom", "range", "keep", "joint", "only",
            "movement",
        ])
        .is_some()
}

fn whose(c: &mut Cursor<'_>) -> Option<Whose> {
    let mut bracket = *c;
    if bracket.sign('(') {
        let found = whose(&mut bracket)?;
        if !bracket.sign(')') {
            return None;
        }
        *c = bracket;
        return Some(found);
    }
    if c.word(&["both", "bilateral"]).is_some() {
        return Some(Whose::Both);
    }
    match crate::dose::find::sides::one_side(c)? {
        crate::dose::Sided::Left => Some(Whose::One(Side::Left)),
        _ => Some(Whose::One(Side::Right)),
    }
}

/// A joint's word at the cursor, and whether it was in the plural.
pub fn joint(c: &mut Cursor<'_>) -> Option<(Joint, bool)> {
    let two: [(&[&str], Joint, bool); 14] = [
        (&["lower", "back"], Joint::LowerBack, false),
        (&["low", "back"], Joint::LowerBack, false),
        (&["upper", "back"], Joint::UpperBack, false),
        (&["lower", "neck"], Joint::LowerNeck, false),
        (&["upper", "neck"], Joint::UpperNeck, false),
        (&["shoulder", "blade"], Joint::ShoulderBlade, false),
        (&["shoulder", "blades"], Joint::ShoulderBlade, true),
        (&["shoulder", "girdle"], Joint::ShoulderBlade, false),
        (&["big", "toe"], Joint::Toes, false),
        (&["lumbar", "spine"], Joint::LowerBack, false),
        (&["thoracic", "spine"], Joint::UpperBack, false),
        (&["cervical", "spine"], Joint::Neck, false),
        (&["c", "spine"], Joint::Neck, false),
        (&["hip", "joint"], Joint::Hip, false),
    ];
    for (words, joint, plural) in two {
        if c.words(words) {
            return Some((joint, plural));
        }
    }
    let (joint, plural) = match c.peek_word()? {
        "trunk" | "spine" | "back" | "torso" => (Joint::Trunk, false),
        "lumbar" => (Joint::LowerBack, false),
        "thoracic" => (Joint::UpperBack, false),
        "neck" | "cervical" | "head" => (Joint::Neck, false),
        "scapula" => (Joint::ShoulderBlade, false),
        "scapulae" => (Joint::ShoulderBlade, true),
        "shoulder" | "arm" => (Joint::Shoulder, false),
        "shoulders" | "arms" => (Joint::Shoulder, true),
        "elbow" => (Joint::Elbow, false),
        "elbows" => (Joint::Elbow, true),
        "forearm" => (Joint::Forearm, false),
        "forearms" => (Joint::Forearm, true),
        "wrist" => (Joint::Wrist, false),
        "wrists" => (Joint::Wrist, true),
        "hip" => (Joint::Hip, false),
        "hips" => (Joint::Hip, true),
        "knee" => (Joint::Knee, false),
        "knees" => (Joint::Knee, true),
        "ankle" => (Joint::Ankle, false),
        "ankles" => (Joint::Ankle, true),
        "toe" => (Joint::Toes, false),
        "toes" => (Joint::Toes, true),
        _ => return None,
    };
    c.at += 1;
    Some((joint, plural))
}

fn motion(c: &mut Cursor<'_>) -> Option<Moving> {
    use Motion::*;
    let two: [(&[&str], Moving); 22] = [
        (&["external", "rotation"], Moving::Plain(ExternalRotation)),
        (&["ext", "rotation"], Moving::Plain(ExternalRotation)),
        (&["ext", "rot"], Moving::Plain(ExternalRotation)),
        (&["lateral", "rotation"], Moving::Plain(ExternalRotation)),
        (&["outward", "rotation"], Moving::Plain(ExternalRotation)),
        (&["turning", "out"], Moving::Plain(ExternalRotation)),
        (&["internal", "rotation"], Moving::Plain(InternalRotation)),
        (&["int", "rotation"], Moving::Plain(InternalRotation)),
        (&["int", "rot"], Moving::Plain(InternalRotation)),
        (&["medial", "rotation"], Moving::Plain(InternalRotation)),
        (&["inward", "rotation"], Moving::Plain(InternalRotation)),
        (&["turning", "in"], Moving::Plain(InternalRotation)),
        (&["plantar", "flexion"], Moving::Plain(PlantarFlexion)),
        (&["dorsi", "flexion"], Moving::Plain(Dorsiflexion)),
        (&["ulnar", "deviation"], Moving::Plain(UlnarDeviation)),
        (&["radial", "deviation"], Moving::Plain(RadialDeviation)),
        (&["side", "bend"], Moving::SideBend),
        (&["side", "bending"], Moving::SideBend),
        (&["side", "flexion"], Moving::SideBend),
        (&["lateral", "flexion"], Moving::SideBend),
        (&["forward", "bend"], Moving::Plain(Flexion)),
        (&["forward", "bending"], Moving::Plain(Flexion)),
    ];
    for (words, moving) in two {
        if c.words(words) {
            return Some(moving);
        }
    }
    let moving = match c.peek_word()? {
        "flexion" | "flex" | "bend" | "bending" | "flexing" => Moving::Plain(Flexion),
        "extension" | "ext" | "straightening" | "extending" => Moving::Plain(Extension),
        "abduction" | "abd" => Moving::Plain(Abduction),
        "adduction" | "add" => Moving::Plain(Adduction),
        "er" => Moving::Plain(ExternalRotation),
        "ir" => Moving::Plain(InternalRotation),
        "elevation" => Moving::Plain(Elevation),
        "depression" => Moving::Plain(Depression),
        "protraction" => Moving::Plain(Protraction),
        "retraction" => Moving::Plain(Retraction),
        "pronation" => Moving::Plain(Pronation),
        "supination" => Moving::Plain(Supination),
        "dorsiflexion" | "df" => Moving::Plain(Dorsiflexion),
        "plantarflexion" | "pf" => Moving::Plain(PlantarFlexion),
        "inversion" => Moving::Plain(Inversion),
        "eversion" => Moving::Plain(Eversion),
        "rotation" | "rotating" | "twisting" | "twist" => Moving::Rotation,
        "sidebend" | "sidebending" => Moving::SideBend,
        _ => return None,
    };
    c.at += 1;
    Some(moving)
}

/// A whole number of degrees with its sign; `neutral`, `midline`, `straight` are 0.
fn degrees(c: &mut Cursor<'_>) -> Option<i16> {
    let mut m = *c;
    m.word(&["the"]);
    if m.word(&["neutral", "midline", "straight", "zero", "middle"]).is_some() {
        *c = m;
        return Some(0);
    }
    let mut m = *c;
    let minus = m.sign('-') || m.word(&["minus"]).is_some();
    if !minus {
        m.sign('+');
    }
    let n = i16::try_from(m.whole()?).ok()?;
    m.sign('°');
    m.word(&["degrees", "degree", "deg", "degs"]);
    *c = m;
    Some(if minus { -n } else { n })
}

/// A bound at the cursor, and whether it is a number alone.
fn bound(c: &mut Cursor<'_>, s: &Segment) -> Option<(Result<Bound, Fault>, bool)> {
    let good = |low: Option<i16>, high: Option<i16>| {
        let inside = low.into_iter().chain(high).all(|n| (-180..=180).contains(&n));
        let ordered = low.zip(high).is_none_or(|(l, h)| l <= h);
        if inside && ordered { Ok(Bound { low, high }) } else { Err(Fault::BadNumbers) }
    };
    let begun = *c;
    let mut m = *c;
    // How far from straight: `lacks 10 of extension`, `10 short of straight`, `extension deficit 10`.
    if m.word(&["lacks", "lacking", "lack", "deficit", "lag", "short"]).is_some() {
        m.words(&["of"]);
        m.words(&["by"]);
        let n = degrees(&mut m)?;
        let is_extension = s.motions.contains(&Moving::Plain(Motion::Extension)) || {
            let mut more = m;
            more.word(&["of"]);
            motion(&mut more) == Some(Moving::Plain(Motion::Extension))
        };
        *c = m;
        return Some((if is_extension { good(None, Some(-n.abs())) } else { Err(Fault::BadNumbers) }, false));
    }
    if at_most(&mut m).is_some() {
        let n = degrees(&mut m)?;
        *c = m;
        return Some((good(None, Some(n)), false));
    }
    for words in [
        &["at", "least"][..],
        &["no", "less", "than"],
        &["not", "less", "than"],
        &["not", "below"],
        &["minimum"],
        &["min"],
    ] {
        let mut least = *c;
        if least.words(words) {
            let n = degrees(&mut least)?;
            *c = least;
            return Some((good(Some(n), None), false));
        }
    }
    let mut least = *c;
    if least.signs(">=") || least.sign('>') {
        let n = degrees(&mut least)?;
        *c = least;
        return Some((good(Some(n), None), false));
    }
    let mut past = *c;
    if past.word(&["past", "beyond", "over", "above", "exceeding"]).is_some()
        || past.words(&["more", "than"])
        || past.words(&["greater", "than"])
    {
        let n = degrees(&mut past)?;
        *c = past;
        // Only `no … past 90` is a bound; `past 90` alone is not.
        return Some((if s.forbidden { good(None, Some(n)) } else { Err(Fault::TurnedRound) }, false));
    }
    let mut to = *c;
    if to.word(&["to", "until"]).is_some() {
        let n = degrees(&mut to)?;
        if to.peek().is_some_and(|t| {
            matches!(t.sort, Sort::Sign('-' | '/') | Sort::Word("weeks" | "wk" | "wks" | "week"))
        }) {
            return None;
        }
        *c = to;
        return Some((good(None, Some(n)), false));
    }
    let mut m = begun;
    m.word(&["from", "between"]);
    let low = degrees(&mut m)?;
    let mut more = m;
    let joined = more.sign('-') || more.word(&["to", "and"]).is_some();
    if joined && let Some(high) = degrees(&mut more) {
        *c = more;
        // `5-0-95` is another notation: which number is which is not guessed.
        let third = more.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('-' | '/')));
        return Some((if third { Err(Fault::BadNumbers) } else { good(Some(low), Some(high)) }, false));
    }
    if more.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('/'))) {
        *c = m;
        return Some((Err(Fault::BadNumbers), false));
    }
    let mut past = m;
    if past.words(&["or", "less"]) || past.word(&["max", "maximum"]).is_some() {
        *c = past;
        return Some((good(None, Some(low)), false));
    }
    let mut short = m;
    if short.words(&["short", "of"])
        && (short.word(&["straight", "extension"]).is_some() || short.words(&["full", "extension"]))
    {
        *c = m;
        return Some((Err(Fault::BadNumbers), false));
    }
    *c = m;
    Some((good(None, Some(low)), true))
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
