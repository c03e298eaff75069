//! Words for parts of the body, and what each means as a joint, a place on the skin, a piece with a long
//! axis, and a working part.
//!
//! Some words depend on how the body lies. What rests where, by posture:
//!
//! | word | standing, sitting | on the back | on the front | on the side: lower, upper | on hands and knees |
//! | --- | --- | --- | --- | --- | --- |
//! | head | back of the head | back of the head | forehead | side of the head | forehead |
//! | pelvis | sacrum | sacrum | front of the pelvis | side of the hip | front of the pelvis |
//! | shoulders (no side) | upper back | upper back | side of the shoulder | side of the shoulder | upper back |
//! | thigh | back | back | front | back | front |
//! | knee | front | back | front | outer, inner | front |
//! | lower leg, leg, shin | calf | calf | shin | outer ankle, inner ankle | shin |
//! | ankle | outer | outer on the body, heel on things | top of the foot | outer, inner | top of the foot |
//! | foot | sole | sole | top of the foot, sole on a wall | outer edge, inner edge | top of the foot, sole on a wall |
//! | hand | palm | palm | palm | palm | palm |
//! | arm | forearm | forearm | forearm | forearm | forearm |
//!
//! As a place that something else touches (`ankle on left knee`): knee is its front (lying on the side:
//! the side that faces the other knee), thigh its front, lower leg the shin, foot its top. Held by
//! the hands: thigh is its back, knee its front, lower leg the shin.

use super::vocabulary::Where::{Here, Nowhere};
use super::vocabulary::{Piece, TERMS, Term, Where};
use super::words::{Cursor, singular};
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{Bit, Posture, Spot, Worked};
use crate::text::Place;

impl Term {
    pub fn is_paired(&self) -> bool {
        use Piece::*;
        let limb = matches!(
            self.piece,
            Girdle | UpperArm | Forearm | Hand | Arm | Thigh | Shank | Foot | Toes | Leg
        );
        limb || match self.skin {
            Here(region) => region.is_paired() && region != Region::SideOfHead,
            Where::Head | Where::Pelvis => false,
            Nowhere => false,
            _ => true,
        }
    }

    /// The first spelling, for sentences.
    pub fn word(&self) -> &'static str {
        self.words.first().copied().unwrap_or("part")
    }

    pub fn is_leg(&self) -> bool {
        use Piece::*;
        matches!(self.piece, Thigh | Shank | Foot | Toes | Leg)
    }
}

/// The side that the words gave.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Given {
    One(Side),
    Both,
    Unsaid,
}

/// A part as said.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    pub term: &'static Term,
    pub given: Given,
    pub place: Place,
}

/// What the words that hang on posture mean at this point of the text.
#[derive(Clone, Copy, Debug)]
pub struct Stance {
    pub posture: Posture,
    /// The foot that stands in front, where one does.
    pub front: Option<Side>,
}

impl Stance {
    /// The side that lies uppermost, lying on the side.
    pub fn top(self) -> Option<Side> {
        match self.posture {
            Posture::SideLying(under) => Some(under.other()),
            _ => None,
        }
    }
    pub fn in_front(self) -> Option<Side> {
        match self.posture {
            Posture::HalfKneeling(down) => Some(down.other()),
            _ => self.front,
        }
    }
    /// A side word that everyone reads alike: exercises are written for the right as the working side.
    fn plain_side(word: &str) -> Option<Given> {
        Some(match word {
            "right" | "r" | "rt" | "working" | "affected" | "moving" => Given::One(Side::Right),
            "left" | "l" | "lt" | "other" | "opposite" | "unaffected" | "resting" | "supporting"
            | "stance" => Given::One(Side::Left),
            "both" | "each" | "either" => Given::Both,
            _ => return None,
        })
    }
    /// A side word that hangs on the posture.
    fn posture_side(self, word: &str) -> Option<Given> {
        let side = match word {
            "top" | "upper" | "uppermost" => self.top(),
            "bottom" | "lower" | "lowermost" | "under" | "underneath" => self.top().map(Side::other),
            "front" | "leading" => self.in_front(),
            "back" | "rear" | "trailing" => self.in_front().map(Side::other),
            "standing" => Some(Side::Left),
            _ => None,
        };
        side.map(Given::One)
    }
}

/// The term of these singular words, if any, and whether a longer term starts with them.
fn find(words: &[&str]) -> (Option<&'static Term>, bool) {
    let mut found = None;
    let mut more = false;
    for term in TERMS {
        for spelling in term.words {
            let mut theirs = spelling.split(' ');
            if !words.iter().all(|w| theirs.next() == Some(w)) {
                continue;
            }
            match theirs.next() {
                None => found = Some(term),
                Some(_) => more = true,
            }
        }
    }
    (found, more)
}

/// Reads one part at the cursor; leaves the cursor where there is none.
pub fn part(cursor: &mut Cursor, stance: Stance) -> Option<Part> {
    let start = cursor.at;
    let named = phrase(cursor, None);
    let single = named.as_ref().is_some_and(|_| cursor.at == start + 1);
    if named.is_some() && !single {
        return named;
    }
    // A word such as `back` or `top` is a side word before a paired part.
    let after = cursor.at;
    let given = match stance.posture_side(cursor.tokens.get(start).map_or("", word_of)) {
        Some(given) => Some(given),
        None => return named,
    };
    cursor.at = start + 1;
    match phrase(cursor, given) {
        Some(part) if part.term.is_paired() => Some(Part { place: cursor.place_since(start), ..part }),
        _ => {
            cursor.at = if named.is_some() { after } else { start };
            named
        }
    }
}

fn word_of(token: &super::words::Token) -> &str {
    match &token.kind {
        super::words::Kind::Word(w) => w,
        _ => "",
    }
}

/// The longest known phrase at the cursor, plain side words allowed anywhere within it.
fn phrase(cursor: &mut Cursor, given: Option<Given>) -> Option<Part> {
    let start = cursor.at;
    let mut given = given;
    let mut words: Vec<&str> = Vec::new();
    let mut plural = false;
    let mut best: Option<(usize, &'static Term, Option<Given>, bool)> = None;
    let mut i = start;
    while let Some(token) = cursor.tokens.get(i) {
        let word = word_of(token);
        if word.is_empty() || 6 < words.len() {
            break;
        }
        if let Some(side) = Stance::plain_side(word) {
            // `both` may be followed by `the right and left`, never by another side within one part.
            if given.is_some() {
                break;
            }
            given = Some(side);
            i += 1;
            continue;
        }
        let one = singular(word);
        plural = plural || one != word;
        words.push(one);
        i += 1;
        let (found, more) = find(&words);
        if let Some(term) = found {
            best = Some((i, term, given, plural));
        }
        if !more {
            break;
        }
    }
    let Some((end, term, given, plural)) = best else {
        cursor.at = start;
        return None;
    };
    cursor.at = end;
    // `knee (R)`, `hand left` at the end of a clause.
    let mut given = given;
    if given.is_none()
        && term.is_paired()
        && let Some(side) = Stance::plain_side(cursor.word(0))
        && ends_after_side(cursor)
    {
        given = Some(side);
        cursor.at += 1;
    }
    let given = given.unwrap_or(if plural || term.both { Given::Both } else { Given::Unsaid });
    Some(Part { term, given, place: cursor.place_since(start) })
}

fn ends_after_side(cursor: &Cursor) -> bool {
    match cursor.peek(1).map(|t| &t.kind) {
        None | Some(super::words::Kind::Stop) => true,
        _ => matches!(cursor.word(1), "on" | "off" | "slides" | "straight" | "and"),
    }
}

/// How a part touches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// It rests on the floor or a lying surface.
    OnFloor,
    /// It rests on, or presses against, some other thing.
    OnThing,
    /// It rests on the body.
    OnBody,
    /// Something rests on it.
    Under,
    /// The hands hold it.
    Held,
}

/// Where on the skin the part means, for one side.
pub fn region(term: &Term, side: Option<Side>, stance: Stance, role: Role) -> Option<Region> {
    use Posture::*;
    let posture = stance.posture;
    let upper = stance.top().is_some() && side == stance.top();
    let on_back = matches!(posture, Supine | CrookLying | LongSitting);
    let on_front = matches!(posture, Prone | FourPointKneeling | HighKneeling);
    let on_side = matches!(posture, SideLying(_));
    let kneels = matches!(posture, HalfKneeling(down) if Some(down) == side);
    let touched = matches!(role, Role::Under | Role::Held);
    Some(match term.skin {
        Nowhere => return None,
        Here(Region::Shin) if on_back && matches!(role, Role::OnFloor | Role::OnThing) => Region::Calf,
        Here(Region::UpperBack) if term.piece == Piece::Girdle && role == Role::Held => Region::ShoulderSide,
        Here(region) => region,
        Where::Head => match posture {
            Prone | FourPointKneeling => Region::Forehead,
            SideLying(_) => Region::SideOfHead,
            _ => Region::BackOfHead,
        },
        Where::Pelvis => match posture {
            Prone | FourPointKneeling => Region::PelvisFront,
            SideLying(_) => Region::HipSide,
            _ => Region::Sacrum,
        },
        Where::Shoulder => {
            if touched || on_side || posture == Prone || side.is_some() {
                Region::ShoulderSide
            } else {
                Region::UpperBack
            }
        }
        Where::Thigh => match role {
            Role::Held => Region::ThighBack,
            Role::Under => Region::ThighFront,
            _ if on_front || kneels => Region::ThighFront,
            _ => Region::ThighBack,
        },
        Where::Knee => match role {
            Role::Held => Region::KneeFront,
            Role::Under if on_side => {
                if upper {
                    Region::KneeOuter
                } else {
                    Region::KneeInner
                }
            }
            Role::Under => Region::KneeFront,
            _ if on_side => {
                if upper {
                    Region::KneeInner
                } else {
                    Region::KneeOuter
                }
            }
            _ if on_back => Region::KneeBack,
            _ => Region::KneeFront,
        },
        Where::LowerLeg => match role {
            Role::Under | Role::Held => Region::Shin,
            _ if on_front || kneels => Region::Shin,
            _ if on_side => {
                if upper {
                    Region::AnkleInner
                } else {
                    Region::AnkleOuter
                }
            }
            _ => Region::Calf,
        },
        Where::Ankle => match role {
            Role::OnFloor | Role::OnThing if on_back => Region::Heel,
            Role::OnFloor | Role::OnThing if on_front || kneels => Region::Instep,
            // Lying on the side the ankles face each other.
            Role::Under if on_side => {
                if upper {
                    Region::AnkleOuter
                } else {
                    Region::AnkleInner
                }
            }
            _ if on_side && upper => Region::AnkleInner,
            _ => Region::AnkleOuter,
        },
        Where::Foot => match role {
            Role::Under if on_side => {
                if upper {
                    Region::FootOuter
                } else {
                    Region::FootInner
                }
            }
            Role::OnBody if on_side => {
                if upper {
                    Region::FootInner
                } else {
                    Region::FootOuter
                }
            }
            Role::Under | Role::Held => Region::Instep,
            Role::OnFloor if on_front || kneels => Region::Instep,
            Role::OnFloor if on_side => {
                if upper {
                    Region::FootInner
                } else {
                    Region::FootOuter
                }
            }
            _ => Region::Sole,
        },
    })
}

/// All regions of a part that may have been touching, for `off`.
pub fn family(term: &Term, side: Option<Side>, stance: Stance) -> Vec<Region> {
    use Region::*;
    let foot = [Sole, Heel, Forefoot, Toes, Instep, FootInner, FootOuter];
    match (term.skin, term.piece) {
        (Where::Head, _) => vec![BackOfHead, SideOfHead, Forehead, Chin],
        (Where::Foot, _) => foot.to_vec(),
        (Here(Sole), _) => vec![Sole, Heel, Forefoot],
        (Here(Heel), _) => vec![Heel, Sole],
        (Here(Forefoot), _) => vec![Forefoot, Sole],
        (_, Piece::Leg) => {
            let mut all = foot.to_vec();
            all.extend([ThighFront, ThighBack, KneeFront, KneeBack, KneeInner, KneeOuter, Shin, Calf]);
            all.extend([AnkleOuter, AnkleInner]);
            all
        }
        (Where::LowerLeg, _) | (Here(Shin | Calf), _) => vec![Shin, Calf, AnkleOuter, AnkleInner],
        (Where::Knee, _) => vec![KneeFront, KneeBack, KneeInner, KneeOuter],
        (Where::Thigh, _) => vec![ThighFront, ThighBack],
        (Where::Ankle, _) => vec![AnkleOuter, AnkleInner],
        (_, Piece::Arm) => vec![UpperArm, Elbow, Forearm, WristFront, Palm, BackOfHand, Fist, Fingertips],
        (Here(Palm), _) => vec![Palm, BackOfHand, Fist, Fingertips],
        (Here(Seat), _) => vec![Seat, Sacrum],
        (Where::Pelvis, _) => vec![Sacrum, PelvisFront, HipSide, Seat],
        (Here(HipSide), _) => vec![HipSide, Seat],
        (Here(WholeBack), _) => vec![WholeBack, UpperBack, LowerBack, Sacrum],
        (Where::Shoulder, _) => vec![ShoulderSide, UpperBack],
        _ => region(term, side, stance, Role::OnFloor).into_iter().collect(),
    }
}

/// A region with its side, or without where there is only one.
pub fn spot(region: Region, side: Option<Side>) -> Spot {
    Spot { side: if region.is_paired() { side } else { None }, region }
}

/// The piece with a long axis, for one side.
pub fn bit(piece: Piece, side: Side) -> Option<Bit> {
    Some(match piece {
        Piece::None => return None,
        Piece::Trunk => Bit::Trunk,
        Piece::Leg => Bit::Leg(side),
        Piece::Arm => Bit::Arm(side),
        other => Bit::Segment(segment(other, side)?),
    })
}

/// Whether the piece is one of two.
pub fn is_limb(piece: Piece) -> bool {
    use Piece::*;
    matches!(piece, Girdle | UpperArm | Forearm | Hand | Arm | Thigh | Shank | Foot | Toes | Leg)
}

pub fn segment(piece: Piece, side: Side) -> Option<Segment> {
    Some(match piece {
        Piece::Head => Segment::Head,
        Piece::Neck => Segment::Neck,
        Piece::Chest => Segment::Chest,
        Piece::Waist => Segment::Waist,
        Piece::Pelvis => Segment::Pelvis,
        Piece::Girdle => Segment::Girdle(side),
        Piece::UpperArm => Segment::UpperArm(side),
        Piece::Forearm => Segment::Forearm(side),
        Piece::Hand => Segment::Hand(side),
        Piece::Thigh => Segment::Thigh(side),
        Piece::Shank => Segment::Shank(side),
        Piece::Foot => Segment::Foot(side),
        Piece::Toes => Segment::Toes(side),
        Piece::None | Piece::Trunk | Piece::Arm | Piece::Leg => return None,
    })
}

/// The segments that a working part colours.
pub fn worked(part: Part) -> Vec<Worked> {
    let sides: &[Side] = match part.given {
        Given::One(Side::Right) => &[Side::Right],
        Given::One(Side::Left) => &[Side::Left],
        Given::Both | Given::Unsaid => &Side::BOTH,
    };
    let mut all = Vec::new();
    for (piece, aspect) in part.term.works {
        for side in sides {
            let Some(segment) = segment(*piece, *side) else { continue };
            let half = if is_limb(*piece) || part.given == Given::Both || part.given == Given::Unsaid {
                None
            } else {
                Some(*side)
            };
            let one = Worked { segment, side: half, aspect: *aspect };
            if !all.contains(&one) {
                all.push(one);
            }
        }
    }
    all
}
