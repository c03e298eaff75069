//! One part of a limit, token by token: what it names, and what of it is unread.

use super::Fault;
use crate::body::names::{Joint, Side};
use crate::dose::End;
use crate::dose::find::Item;
use crate::dose::find::moments::ends;
use crate::language::anatomy::{self, Limb, Moving, joint, motion};
use crate::language::comparator::{Comparator, behind, comparator};
use crate::language::restraint::{denial, denial_behind};
use crate::language::token::{Cursor, Sort, Token};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    One(Side),
    Both,
}

/// Numbers as typed, before a denial says what they mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Numbers {
    /// `0-90`.
    Between(i16, i16),
    Compared(Comparator, i16),
    /// `90` and nothing beside it.
    Alone(i16),
    /// How far from straight: `lacks 10`.
    Short(i16),
    Bad,
}

/// What stands before a segment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Joined {
    /// A comma, a semicolon, a full stop, or nothing.
    #[default]
    Comma,
    And,
    Or,
}

#[derive(Clone, Debug, Default)]
pub struct Segment {
    pub whose: Option<Whose>,
    pub joint: Option<Joint>,
    pub plural: bool,
    pub motions: Vec<Moving>,
    pub numbers: Option<Numbers>,
    pub denied: bool,
    pub joined: Joined,
    pub end: Option<End>,
    /// From which week to which, both counted in: `wk 3-6`.
    pub stage: Option<(u8, u8)>,
    /// Runs of unread tokens, as typed.
    pub words: Vec<String>,
    pub fault: Option<Fault>,
    pub posterior: bool,
    /// `no limit`, `full range`: nothing bounds it.
    pub free: bool,
    /// `max flexion 90`: what compares a number that stands further on.
    pending: Option<Comparator>,
    /// The joint was only said as `arm`, which a nearer joint may make more exact.
    arm: bool,
}

impl Segment {
    /// Whether it says nothing of an angle, and so belongs to what stands before it.
    pub fn says_no_angle(&self) -> bool {
        self.joint.is_none()
            && self.motions.is_empty()
            && self.numbers.is_none()
            && !self.posterior
            && !self.free
    }

    /// Whether it only says whose joint is meant: `L shoulder`.
    pub fn says_joint_alone(&self) -> bool {
        self.joint.is_some()
            && self.motions.is_empty()
            && self.numbers.is_none()
            && self.words.is_empty()
            && !(self.posterior || self.free || self.denied)
    }

    pub fn is_empty(&self) -> bool {
        self.says_no_angle()
            && self.end.is_none()
            && self.stage.is_none()
            && self.words.is_empty()
            && self.whose.is_none()
            && !self.denied
            && self.fault.is_none()
    }
}

/// The parts between commas, semicolons, full stops, `and`, `&` and, where something is denied, `or`; not the `and` of
/// `between 10 and 90`.
pub fn segments(all: &[Token<'_>], source: &str) -> Vec<Segment> {
    let number = |t: Option<&Token<'_>>| matches!(t.map(|t| t.sort), Some(Sort::Number(_)));
    let short = |t: Option<&Token<'_>>| match t.map(|t| t.sort) {
        Some(Sort::Word(w)) => w.len() <= 4,
        _ => false,
    };
    let mut out = Vec::new();
    let (mut from, mut joined, mut denied) = (0, Joined::Comma, false);
    // What joins two sides parts nothing: `L+R knee`.
    let mut sides_end = 0;
    for (i, t) in all.iter().enumerate() {
        let mut sides = Cursor { all, at: i };
        if anatomy::both_sides(&mut sides) {
            sides_end = sides.at;
        }
        if i < sides_end {
            continue;
        }
        denied |= denial(&mut Cursor { all, at: i });
        let (before, after) = (i.checked_sub(1).and_then(|b| all.get(b)), all.get(i + 1));
        let between = number(before) && number(after);
        let next = match t.sort {
            Sort::Sign(',' | ';') => Joined::Comma,
            // Behind a short word it marks an abbreviation.
            Sort::Sign('.') if after.is_some_and(|t| t.spaced) && !short(before) => Joined::Comma,
            // `flex max 90 / ext max 0`; not the slash of `6/52`.
            Sort::Sign('/') if number(before) && after.is_some_and(|t| matches!(t.sort, Sort::Word(_))) => {
                Joined::Comma
            }
            Sort::Sign('&' | '+') => Joined::And,
            Sort::Word("and") if !between => Joined::And,
            // `90 or less` is one bound.
            Sort::Word("or" | "nor") if denied && !number(before) => Joined::Or,
            Sort::Sign(_) | Sort::Word(_) | Sort::Number(_) => continue,
        };
        out.push((joined, all.get(from..i).unwrap_or(&[])));
        (from, joined) = (i + 1, next);
    }
    out.push((joined, all.get(from..).unwrap_or(&[])));
    let pieces = out.into_iter().filter(|(_, piece)| !piece.is_empty());
    pieces.map(|(joined, piece)| Segment { joined, ..segment(piece, source) }).collect()
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
    // `no limit to 10`: both can't be.
    if s.free && s.numbers.is_some() {
        s.fault = Some(Fault::TurnedRound);
    }
    match (s.pending, s.numbers) {
        (Some(found), Some(Numbers::Alone(n))) => s.numbers = Some(Numbers::Compared(found, n)),
        // A comparator that compares nothing, or twice.
        (Some(_), _) => s.fault = Some(Fault::TurnedRound),
        (None, _) => {}
    }
    s
}

/// `wk 1-2`, `weeks 3 to 6`, in brackets or not.
fn stage(mut c: Cursor<'_>) -> Option<((u8, u8), Cursor<'_>)> {
    let bracket = c.sign('(');
    c.word(&["week", "weeks", "wk", "wks"])?;
    let from = u8::try_from(c.whole()?).ok().filter(|n| 1 <= *n)?;
    if !c.sign('-') {
        c.word(&["to"])?;
    }
    let to = u8::try_from(c.whole()?).ok().filter(|n| from <= *n)?;
    (!bracket || c.sign(')')).then_some(((from, to), c))
}

/// One element of a limit at the cursor.
fn element(c: &mut Cursor<'_>, s: &mut Segment, source: &str) -> bool {
    if let Some(hit) = ends(*c, source) {
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
    if let Some((stage, next)) = stage(*c) {
        match (s.stage, &s.end) {
            (None, None) => s.stage = Some(stage),
            _ => s.fault = Some(Fault::BadEnd),
        }
        *c = next;
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
    if let Some(numbers) = numbers(c, s) {
        // Two bounds on one motion: neither is thrown away for the other.
        match s.numbers {
            None => s.numbers = Some(numbers),
            Some(_) => s.fault = Some(Fault::TurnedRound),
        }
        return true;
    }
    if free(c) {
        s.free = true;
        return true;
    }
    if s.pending.is_none()
        && s.numbers.is_none()
        && let Some((found, next)) = compares_later(*c)
    {
        s.pending = Some(found);
        *c = next;
        return true;
    }
    if denial(c) || denial_behind(c) {
        // Denied twice, it may be allowed.
        if s.denied {
            s.fault = Some(Fault::TurnedRound);
        }
        s.denied = true;
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
    let arm = matches!(c.peek_word(), Some("arm" | "arms"));
    if let Some((joint, plural)) = joint(c).or_else(|| foot_or_hand(c)) {
        let nearer = s.arm && matches!(joint, Joint::Elbow | Joint::Forearm | Joint::Wrist);
        if s.joint.is_some_and(|j| j != joint) && !nearer {
            s.fault = Some(Fault::TurnedRound);
        }
        s.joint = Some(joint);
        s.plural |= plural;
        s.arm = arm;
        return true;
    }
    // `flex to max 90`
    let mut bounded = *c;
    if bounded.word(&["to"]).is_some() && comparator(&mut bounded.clone()).is_some() {
        *c = bounded;
        return true;
    }
    // `rotation to the right`
    let mut towards = *c;
    if towards.word(&["to", "towards"]).is_some() {
        towards.word(&["the"]);
        if anatomy::side(&mut towards.clone()).is_some() {
            *c = towards;
            return true;
        }
    }
    let dash = c.peek().is_some_and(|t| t.sort == Sort::Sign('-') && t.spaced)
        && c.all.get(c.at + 1).is_some_and(|t| t.spaced && matches!(t.sort, Sort::Word(_)));
    c.at += usize::from(dash);
    dash || c.sign('°')
        || c.sign(':')
        || c.sign('/')
        || c.sign('.')
        || c.sign('!')
        || c.signs("->")
        || c.sign('→')
        || c.word(&[
            "degrees", "degree", "deg", "degs", "of", "the", "is", "rom", "range", "keep", "joint", "only",
            "movement", "motion", "into", "in", "at", "go", "going", "be", "please", "any", "his", "her",
            "your", "their", "limb", "side", "let", "drop", "drops", "get", "must", "should", "stay",
            "stays", "remain", "remains",
        ])
        .is_some()
}

/// Of a foot or a hand the ankle or the wrist moves.
fn foot_or_hand(c: &mut Cursor<'_>) -> Option<(Joint, bool)> {
    let mut m = *c;
    let found = match anatomy::limb(&mut m)? {
        (Limb::Foot, plural) => (Joint::Ankle, plural),
        (Limb::Hand, plural) => (Joint::Wrist, plural),
        _ => return None,
    };
    *c = m;
    Some(found)
}

/// `no limit`, `unrestricted`, `full range allowed`, at the cursor.
fn free(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let denied = m.word(&["no", "without", "nil"]).is_some()
        && m.word(&["limit", "limits", "restriction", "restrictions", "limitation", "limitations"]).is_some();
    let mut full = *c;
    let full_range =
        full.word(&["full", "free"]).is_some() && full.word(&["rom", "range", "movement"]).is_some();
    let mut word = *c;
    let unbound = word.word(&["unrestricted", "unlimited"]).is_some();
    let next = if denied {
        m
    } else if full_range {
        full
    } else {
        word
    };
    let found = denied || full_range || unbound;
    if found {
        *c = next;
        c.word(&["rom", "range", "movement"]);
        c.word(&["allowed", "permitted"]);
    }
    found
}

/// A word that compares a number which stands behind a side, joint or motion: `max flexion 90`.
fn compares_later(c: Cursor<'_>) -> Option<(Comparator, Cursor<'_>)> {
    let mut m = c;
    let found = comparator(&mut m)?;
    let in_words = matches!(c.peek()?.sort, Sort::Word(_));
    m.word(&["of"]);
    m.word(&["the"]);
    let next = whose(&mut m.clone()).is_some()
        || motion(&mut m.clone()).is_some()
        || joint(&mut m.clone()).is_some();
    (in_words && next).then_some((found, m))
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
    if anatomy::both_sides(c) {
        return Some(Whose::Both);
    }
    let mut way = *c;
    if way.word(&["each", "either", "every"]).is_some() && way.word(&["way", "side", "direction"]).is_some() {
        *c = way;
        return Some(Whose::Both);
    }
    anatomy::side(c).map(Whose::One)
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
    if minus && c.peek().is_some_and(|t| t.sort == Sort::Sign('-')) && m.peek().is_some_and(|t| t.spaced) {
        // A dash that stands apart may join or may take away.
        return None;
    }
    if !minus {
        m.sign('+');
    }
    let n = i16::try_from(m.whole()?).ok()?;
    m.sign('°');
    m.word(&["degrees", "degree", "deg", "degs"]);
    *c = m;
    Some(if minus { -n } else { n })
}

/// Numbers with what they are compared by, at the cursor.
fn numbers(c: &mut Cursor<'_>, s: &Segment) -> Option<Numbers> {
    let extends = |moving: &Moving| *moving == Moving::Plain(crate::body::names::Motion::Extension);
    let begun = *c;
    let mut m = begun;
    // `extension block at 30`: thirty degrees from straight.
    if s.motions.iter().any(extends) && m.word(&["block", "blocked"]).is_some() {
        m.word(&["at", "of", "to"]);
        let n = degrees(&mut m)?;
        *c = m;
        return Some(Numbers::Short(n));
    }
    let mut m = begun;
    m.word(&["to"]);
    // How far from straight: `lacks 10 of extension`, `10 short of straight`, `extension deficit 10`.
    if m.word(&["lacks", "lacking", "lack", "deficit", "lag", "short"]).is_some() {
        m.words(&["of"]);
        m.words(&["by"]);
        let n = degrees(&mut m)?;
        let mut more = m;
        more.word(&["of"]);
        let is_extension = s.motions.iter().any(extends) || motion(&mut more).as_ref().is_some_and(extends);
        *c = m;
        return Some(if is_extension { Numbers::Short(n) } else { Numbers::Bad });
    }
    let mut m = begun;
    if let Some(found) = comparator(&mut m) {
        m.word(&["of"]);
        m.sign(':');
        // `within 0-90`, `limited to 0-90`.
        let mut range = m;
        if found == Comparator::AtMost
            && let Some(low) = degrees(&mut range)
            && (range.sign('-') || range.word(&["to", "and"]).is_some())
            && let Some(high) = degrees(&mut range)
        {
            *c = range;
            return Some(Numbers::Between(low, high));
        }
        let n = degrees(&mut m)?;
        *c = m;
        return Some(match short_of(c) {
            None => Numbers::Compared(found, n),
            Some(()) if s.motions.iter().any(extends) => against_straight(found, n),
            Some(()) => Numbers::Bad,
        });
    }
    let mut to = begun;
    if to.word(&["to", "until"]).is_some() {
        let n = degrees(&mut to)?;
        let later = to.peek().is_some_and(|t| {
            matches!(t.sort, Sort::Sign('-' | '/') | Sort::Word("weeks" | "wk" | "wks" | "week"))
        });
        if later {
            return None;
        }
        *c = to;
        return Some(Numbers::Compared(Comparator::AtMost, n));
    }
    let mut m = begun;
    let opened = m.word(&["from", "between"]);
    let low = degrees(&mut m)?;
    let mut more = m;
    let joined = more.sign('-') || more.word(&["to", "and"]).is_some();
    if joined && let Some(high) = degrees(&mut more) {
        *c = more;
        // `5-0-95` is another notation: which number is which is not guessed.
        let third = more.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('-' | '/')));
        return Some(if third { Numbers::Bad } else { Numbers::Between(low, high) });
    }
    *c = m;
    if m.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('/'))) {
        return Some(Numbers::Bad);
    }
    if let Some(found) = behind(c) {
        return Some(Numbers::Compared(found, low));
    }
    if short_of(c).is_some() {
        return Some(Numbers::Short(low));
    }
    Some(match opened {
        Some("from") => Numbers::Compared(Comparator::From, low),
        Some(_) => Numbers::Bad,
        None => Numbers::Alone(low),
    })
}

/// `short of straight`, behind a number.
fn short_of(c: &mut Cursor<'_>) -> Option<()> {
    let mut m = *c;
    let found = m.words(&["short", "of"]) || m.words(&["from"]);
    m.word(&["full"]);
    (found && m.word(&["straight", "extension", "neutral"]).is_some()).then(|| *c = m)
}

/// `not past 10 short of straight`: extension to -10.
fn against_straight(found: Comparator, n: i16) -> Numbers {
    match found {
        Comparator::Over | Comparator::AtMost => Numbers::Compared(found, -n.abs()),
        Comparator::Under | Comparator::AtLeast | Comparator::From => Numbers::Bad,
    }
}
