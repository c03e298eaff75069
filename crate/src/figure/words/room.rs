//! The first sentence: the posture, with what carries it and what stands around it.

use super::english::{Line, a, must};
use super::seen::{Posture, Seen, is_foot, level};
use crate::body::names::{Region, Segment, Side};
use crate::figure::things;
use crate::pose::ask::{PropKind, Surface};
use crate::pose::movement::{Shape, Thing};
use crate::space::Vec3;

/// Where a thing is from the patient.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    Front,
    Behind,
    Beside(Side),
    /// Below or above the patient.
    Here,
}

impl Place {
    pub fn words(self) -> String {
        match self {
            Place::Front => "in front of you".to_string(),
            Place::Behind => "behind you".to_string(),
            Place::Beside(s) => format!("on your {}", s.word()),
            Place::Here => "close by".to_string(),
        }
    }
}

/// Where a point is from the patient's hips, by the way the patient faces.
pub(super) fn place_of(seen: &Seen, point: Vec3) -> Place {
    let way = level(point - seen.at.joint(Segment::Pelvis));
    if way.norm() < 0.03 * seen.h() {
        return Place::Here;
    }
    let ahead = seen.ahead();
    let (x, z) = (way.dot(ahead), way.dot(ahead.cross(Vec3::Y)));
    if z.abs() < 1.2 * x.abs() {
        if 0.0 < x { Place::Front } else { Place::Behind }
    } else {
        Place::Beside(if 0.0 < z { Side::Right } else { Side::Left })
    }
}

/// The place of a thing that stands in the room.
pub(super) fn standing_place(seen: &Seen, thing: &Thing) -> Option<Place> {
    let hips = seen.at.joint(Segment::Pelvis);
    let nearest = match &thing.shape {
        Shape::Block { low, high } | Shape::Chair { low, high, .. } => Vec3 {
            x: hips.x.clamp(low.x.min(high.x), low.x.max(high.x)),
            z: hips.z.clamp(low.z.min(high.z), low.z.max(high.z)),
            ..hips
        },
        Shape::Wall { at, faces } => hips + *faces * (*at - hips).dot(*faces),
        Shape::Bar { from, to } => {
            let along = *to - *from;
            let share = (hips - *from).dot(along) / along.dot(along).max(1e-9);
            from.lerp(*to, share.clamp(0.0, 1.0))
        }
        Shape::Ball { centre, .. } => *centre,
        Shape::Roller { from, to, .. } => from.lerp(*to, 0.5),
        _ => return None,
    };
    Some(place_of(seen, nearest))
}

/// Height of a fixed end, in words.
pub(super) fn height(point: Vec3) -> &'static str {
    things::height_word(point)
}

fn prop(surface: Surface) -> Option<PropKind> {
    match surface {
        Surface::Prop(k) | Surface::Edge(k) => Some(k),
        Surface::Tread(_) => Some(PropKind::Stairs),
        _ => None,
    }
}

/// What a patient lies, sits or kneels on, where it isn't the floor.
fn under(seen: &Seen) -> Option<PropKind> {
    use Region::*;
    let soft = |k: &PropKind| {
        !matches!(
            k,
            PropKind::Wall | PropKind::Roller | PropKind::Towel | PropKind::Pillow | PropKind::Doorway
        )
    };
    let regions: &[Region] = match seen.posture {
        Posture::Sitting | Posture::LongSitting => &[Seat, ThighBack, Sacrum],
        Posture::Back => &[Sacrum, WholeBack, Seat],
        Posture::Front => &[PelvisFront, Belly, ThighFront],
        Posture::Lying(_) => &[HipSide],
        _ => &[KneeFront, Shin],
    };
    regions.iter().filter_map(|r| seen.touch(*r)).filter_map(|t| prop(t.surface)).find(soft)
}

fn back_rests_on(seen: &Seen) -> Option<(Region, PropKind)> {
    use Region::*;
    [WholeBack, LowerBack, UpperBack, Sacrum, Seat]
        .into_iter()
        .find_map(|r| Some((r, prop(seen.touch(r)?.surface)?)))
}

/// What both feet stand on, where it isn't the floor, and whether the heels are off it.
fn stands_on(seen: &Seen) -> Option<(PropKind, bool)> {
    let on = |s: Side| {
        let feet = || seen.touches_of(s).filter(|t| is_foot(t.part.region));
        let kind = feet().find_map(|t| prop(t.surface))?;
        let stands = !matches!(kind, PropKind::Towel | PropKind::Pillow | PropKind::Wall);
        let front = feet().all(|t| matches!(t.part.region, Region::Forefoot | Region::Toes));
        stands.then_some((kind, front))
    };
    let (right, left) = (on(Side::Right)?, on(Side::Left)?);
    (right == left).then_some(right)
}

/// The main thing that stands around a patient on the feet: what is touched before what is not.
fn around(seen: &Seen, not: Option<PropKind>) -> Option<(PropKind, Place)> {
    let stands = |t: &&Thing| {
        !matches!(t.shape, Shape::Ball { .. } | Shape::Roller { .. } | Shape::Block { .. })
            || matches!(
                t.kind,
                PropKind::Stairs
                    | PropKind::Doorway
                    | PropKind::Table
                    | PropKind::Worktop
                    | PropKind::Bench
                    | PropKind::Bed
                    | PropKind::Sofa
            )
    };
    let mut found: Vec<(bool, PropKind, Place)> = seen
        .key
        .things
        .iter()
        .filter(stands)
        .filter(|t| Some(t.kind) != not)
        .filter_map(|t| Some((t.kind, standing_place(seen, t)?)))
        .filter(|(k, p)| *p != Place::Here || *k == PropKind::Doorway)
        .map(|(k, p)| (!seen.key.touches.iter().any(|t| prop(t.surface) == Some(k)), k, p))
        .collect();
    crate::sorting::sort_by_key(&mut found, |(free, k, p)| (*free, *p != Place::Front, *k));
    found.first().map(|(_, k, p)| (*k, *p))
}

fn beside(kind: PropKind, place: Place) -> String {
    match place {
        Place::Front => format!(" facing {}", a(kind)),
        Place::Here => String::new(),
        p => format!(" with {} {}", a(kind), p.words()),
    }
}

pub(super) fn position(seen: &Seen) -> Line {
    let base = under(seen);
    let on = base.map_or(String::new(), |k| format!(" on {}", a(k)));
    must(match seen.posture {
        Posture::Standing => standing(seen),
        Posture::Sitting => {
            let on = if on.is_empty() { " on {chair}".to_string() } else { on };
            let by =
                around(seen, base.or(Some(PropKind::Chair))).map_or(String::new(), |(k, p)| beside(k, p));
            let bare = |s: &Side| {
                seen.flat(*s)
                    && !seen.touches_of(*s).any(|t| is_foot(t.part.region) && prop(t.surface).is_some())
            };
            let flat = Side::BOTH.iter().all(bare);
            if !by.is_empty() {
                format!("sit{on}{by}")
            } else if flat {
                format!("sit{on} with both feet flat on the floor")
            } else {
                format!("sit{on}")
            }
        }
        Posture::LongSitting => {
            let on = if on.is_empty() { " on the floor".to_string() } else { on };
            match back_rests_on(seen) {
                Some((Region::Seat | Region::Sacrum, _)) | None => format!("sit{on}"),
                Some((r, k)) => format!("sit{on} with your {} against {}", super::english::noun(r), a(k)),
            }
        }
        Posture::Kneeling => format!("kneel on both knees{on}{}", near(seen)),
        Posture::HalfKneeling(s) => {
            format!("kneel on your {} knee, with your {} foot in front of you", s.word(), s.other().word())
        }
        Posture::Back => format!("lie on your back{on}"),
        Posture::Front => format!("lie on your front{on}"),
        Posture::Lying(s) => format!("lie on your {} side{on}", s.word()),
        Posture::AllFours => {
            let arms = Side::BOTH.iter().all(|s| seen.floor(Region::Elbow, Some(*s)));
            format!("kneel on {} and knees{on}", if arms { "your forearms" } else { "your hands" })
        }
        Posture::Plank => {
            let arms = Side::BOTH.iter().all(|s| seen.floor(Region::Elbow, Some(*s)));
            let knees = Side::BOTH.iter().all(|s| seen.floor(Region::KneeFront, Some(*s)));
            format!(
                "face the floor, on your {} and {}",
                if arms { "forearms" } else { "hands" },
                if knees { "knees" } else { "toes" }
            )
        }
    })
}

fn near(seen: &Seen) -> String {
    around(seen, None).map_or(String::new(), |(k, p)| beside(k, p))
}

/// Only the front of the feet on what they stand on.
pub(super) fn front_of_feet(seen: &Seen) -> bool {
    stands_on(seen).is_some_and(|(k, front)| front && k == PropKind::Step)
}

/// A back that rests against a wall, or a ball at it.
pub(super) fn leans_back(seen: &Seen) -> bool {
    matches!(back_rests_on(seen), Some((_, PropKind::Wall | PropKind::Ball | PropKind::Doorway)))
}

fn standing(seen: &Seen) -> String {
    let base = stands_on(seen);
    let on = base.map_or(String::new(), |(k, _)| format!(" on {}", a(k)));
    let wall = seen.key.things.iter().any(|t| t.kind == PropKind::Wall);
    match back_rests_on(seen) {
        Some((_, PropKind::Wall)) => {
            let head =
                seen.touch(Region::BackOfHead).is_some_and(|t| prop(t.surface) == Some(PropKind::Wall));
            let part = if head { "head and back" } else { "back" };
            return format!("stand{on} with your {part} against {}", a(PropKind::Wall));
        }
        Some((r, PropKind::Ball)) if wall => {
            let (ball, wall) = (a(PropKind::Ball), a(PropKind::Wall));
            return format!("stand{on} with {ball} between your {} and {wall}", super::english::noun(r));
        }
        _ => {}
    }
    match around(seen, base.map(|(k, _)| k)) {
        Some((PropKind::Doorway, _)) => "stand in {doorway}".to_string(),
        Some((k, p @ Place::Front)) if base.is_some() => format!("stand{on},{}", beside(k, p)),
        Some((k, p)) => format!("stand{on}{}", beside(k, p)),
        None if on.is_empty() && 0.985 < seen.trunk().y => "stand tall".to_string(),
        None => format!("stand{on}"),
    }
}
