//! The room of one exercise: what stands in it, and the faces that parts can rest on.

use super::ask::{Contact, Direction, Fit, From, Held, Pose, Posture, Prop, PropKind, Spot, Surface};
use super::posture::Base;
use super::problem::{Block, EDGE, Face};
use crate::body::Body;
use crate::body::names::Region;
use crate::space::Vec3;

/// The things of all poses together: a thing named once stands there throughout.
#[derive(Clone, Debug)]
pub struct Room {
    pub props: Vec<Prop>,
    /// The things whose place is settled with the body, in the order of their unknowns.
    pub placed: Vec<Placed>,
    /// Height of what lying and sitting on the floor happens on: 0, or a bed's.
    pub level: f64,
    /// Things that are sat on.
    sat_on: Vec<PropKind>,
    seat: f64,
    scale: f64,
    wall: Option<Direction>,
}

/// A thing whose place is settled with the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placed {
    pub kind: PropKind,
    pub how: How,
}

/// How such a thing stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// A ball or roller on the ground.
    Rolls,
    /// A ball held against the wall.
    Pressed,
    /// A block that is touched at its near edge.
    Edge,
    /// A seat whose back is leant against.
    Back,
}

impl Room {
    pub fn of(poses: &[Pose], body: &Body) -> Room {
        let mut props: Vec<Prop> = Vec::new();
        for p in poses.iter().flat_map(|p| &p.props) {
            match props.iter_mut().find(|have| have.kind == p.what.kind && have.fit == p.what.fit) {
                Some(have) => have.cm = have.cm.or(p.what.cm),
                None => props.push(p.what.clone()),
            }
        }
        // A thing that is only spoken of in a contact is there as well.
        let mut touched: Vec<(PropKind, Option<Spot>)> = Vec::new();
        for c in poses.iter().flat_map(|p| &p.contacts) {
            match &c.what {
                Contact::On { part, place: Surface::Prop(kind), .. } => touched.push((*kind, Some(*part))),
                Contact::On { place: Surface::Edge(kind), .. } => touched.push((*kind, None)),
                Contact::On { place: Surface::Tread(_), .. } => touched.push((PropKind::Stairs, None)),
                Contact::Hold { what: Held::Prop(kind), .. } => touched.push((*kind, None)),
                _ => {}
            }
        }
        for (kind, _) in &touched {
            if !props.iter().any(|p| p.kind == *kind) {
                props.push(Prop { kind: *kind, cm: None, fit: Fit::Stands });
            }
        }
        let sits = poses.iter().any(|p| p.from == From::Posture(Posture::Sitting));
        if sits && !props.iter().any(|p| SEATS.contains(&p.kind)) {
            props.push(Prop { kind: PropKind::Chair, cm: None, fit: Fit::Stands });
        }
        let wall = props.iter().any(|p| matches!(p.kind, PropKind::Wall | PropKind::Doorway)).then(|| {
            let said = props.iter().find_map(|p| match (p.kind, &p.fit) {
                (PropKind::Wall | PropKind::Doorway, Fit::At(d)) => Some(*d),
                _ => None,
            });
            let behind = touched.iter().any(|(kind, part)| {
                *kind == PropKind::Wall && part.is_some_and(|p| is_back(p.region) || p.region == Region::Seat)
            });
            said.unwrap_or(if behind { Direction::Back } else { Direction::Forward })
        });
        let mut room = Room {
            props,
            placed: Vec::new(),
            sat_on: SEATS.into_iter().filter(|k| sits || is_sat_on(&touched, *k)).collect(),
            level: 0.0,
            seat: 0.0,
            scale: body.stature() / Body::USUAL_STATURE,
            wall,
        };
        room.sat_on.retain(|k| room.props.iter().any(|p| p.kind == *k));
        // Sitting happens on one thing; a bench behind someone who sits on a chair is another.
        if sits {
            room.sat_on.truncate(1);
        }
        let surfaces = poses.iter().flat_map(|p| &p.contacts).filter_map(|c| match &c.what {
            Contact::On { part, place, .. } => Some((*place, *part)),
            Contact::Hold { .. } => None,
        });
        for (surface, part) in surfaces {
            if let Some(placed) = room.placing(surface, part)
                && !room.placed.contains(&placed)
            {
                room.placed.push(placed);
            }
        }
        let lies = poses.iter().any(|p| {
            matches!(
                p.from,
                From::Posture(
                    Posture::Supine
                        | Posture::CrookLying
                        | Posture::Prone
                        | Posture::SideLying(_)
                        | Posture::LongSitting
                )
            )
        });
        if lies && room.has(PropKind::Bed) {
            room.level = room.height(PropKind::Bed);
        }
        room.seat = SEATS.into_iter().find(|k| room.has(*k)).map_or(0.43, |k| room.height(k));
        room
    }

    /// How the thing is settled that this contact speaks of, if it is.
    pub fn placing(&self, surface: Surface, part: Spot) -> Option<Placed> {
        let placed = |kind, how| Some(Placed { kind, how });
        match surface {
            Surface::Edge(kind) => placed(kind, How::Edge),
            Surface::Prop(kind @ PropKind::Roller) => placed(kind, How::Rolls),
            Surface::Prop(kind @ PropKind::Ball) => {
                let legs = matches!(
                    part.region,
                    Region::Heel | Region::Forefoot | Region::Sole | Region::Calf | Region::Belly
                );
                let pressed = self.wall.is_some() && !legs;
                placed(kind, if pressed { How::Pressed } else { How::Rolls })
            }
            Surface::Prop(kind) if is_back(part.region) => {
                let seat = match kind {
                    // A chair's back belongs to the chair that is sat on.
                    PropKind::ChairBack => PropKind::Chair,
                    k => k,
                };
                if !SEATS.contains(&seat) || seat == PropKind::Bed {
                    None
                } else if self.sat_on.contains(&seat) {
                    (seat != PropKind::Bench).then_some(Placed { kind: seat, how: How::Back })
                } else {
                    // Who lies with the upper back on a bench lies on its edge.
                    matches!(part.region, Region::UpperBack | Region::BackOfHead)
                        .then_some(Placed { kind: seat, how: How::Edge })
                }
            }
            _ => None,
        }
    }

    /// The number of the settled thing that this contact speaks of.
    pub fn number(&self, surface: Surface, part: Spot) -> Option<usize> {
        let placed = self.placing(surface, part)?;
        self.placed.iter().position(|p| *p == placed)
    }

    /// Which way a thing is from the patient, where the text says so.
    pub fn said_way(&self, kind: PropKind) -> Option<Direction> {
        self.props.iter().find_map(|p| match p.fit {
            Fit::At(d) if p.kind == kind => Some(d),
            _ => None,
        })
    }

    /// Level, from the near edge of a settled block into it, for someone in that posture: as said, or behind.
    pub fn into(&self, kind: PropKind, base: &Base) -> Vec3 {
        on_the_ground(self.said_way(kind).unwrap_or(Direction::Back), base)
    }

    /// A block with an edge; its size besides the height is common practice, no source.
    pub fn block(&self, kind: PropKind, base: &Base) -> Block {
        let (deep, wide) = plan(kind);
        let top = self.height(kind);
        let low = if thin(kind) { top - 0.05 } else { 0.0 };
        Block { ahead: self.into(kind, base), deep, wide, low, top }
    }

    pub fn has(&self, kind: PropKind) -> bool {
        self.props.iter().any(|p| p.kind == kind)
    }

    /// Height of the top, diameter or thickness, metres. As stated, whatever the stature.
    pub fn height(&self, kind: PropKind) -> f64 {
        let stated = self.props.iter().filter(|p| p.kind == kind).find_map(|p| p.cm);
        stated.or(kind.usual_cm()).unwrap_or(0.0) / 100.0
    }

    pub fn seat(&self) -> f64 {
        self.seat
    }

    /// What one sits on.
    pub fn seat_kind(&self) -> PropKind {
        SEATS.into_iter().find(|k| self.has(*k)).unwrap_or(PropKind::Chair)
    }

    /// The wall: a point on it and the way it faces, from where the posture puts the pelvis.
    pub fn wall(&self, base: &Base) -> Option<(Vec3, Vec3)> {
        let to = direction(self.wall?, base);
        let to = (to - Vec3::Y * to.y).unit_or(Vec3::X);
        // Near enough to start from; standing may shift towards it or away.
        let off = if self.wall == Some(Direction::Back) { 0.12 } else { 0.60 } * self.scale;
        let pressed = self.placed.iter().find(|p| p.how == How::Pressed).map_or(0.0, |p| self.height(p.kind));
        let off = if self.has(PropKind::Wall) { off + pressed } else { IN_A_DOORWAY * self.scale };
        let pelvis = base.state.root;
        Some((Vec3 { x: pelvis.x, y: 0.0, z: pelvis.z } + to * off, -to))
    }

    /// Thickness of a pillow or towel under that part, metres.
    pub fn cushion(&self, part: Spot, base: &Base, stature: f64) -> f64 {
        let said = self.props.iter().find_map(|p| match &p.fit {
            Fit::Under(spots) if spots.iter().any(|s| lies_over(*s, part)) => {
                Some(p.cm.or(p.kind.usual_cm()).unwrap_or(0.0) / 100.0 * pressed(p.kind, part))
            }
            _ => None,
        });
        let head = matches!(part.region, Region::SideOfHead | Region::BackOfHead);
        said.unwrap_or(if head { base.pillow.unwrap_or(0.0) * stature } else { 0.0 })
    }

    /// The face of a surface that a part can rest on; `None` for things that carry nothing.
    pub fn face(&self, surface: Surface, part: Spot, base: &Base, stature: f64) -> Option<Face> {
        let level = |y: f64| Some(Face::Plane { at: Vec3::Y * y, out: Vec3::Y });
        if let Some(rolling) = self.number(surface, part) {
            return self.placed.get(rolling).map(|p| self.placed_face(rolling, *p, base));
        }
        match surface {
            Surface::Floor => level(self.ground(base) + self.cushion(part, base, stature)),
            Surface::Prop(kind) => match kind {
                PropKind::Wall | PropKind::Doorway => {
                    let (at, out) = self.wall(base)?;
                    Some(Face::Plane { at, out })
                }
                PropKind::Chair if self.has(PropKind::Chair) || !self.has(PropKind::Bench) => {
                    level(if self.has(PropKind::Chair) { self.height(PropKind::Chair) } else { self.seat })
                }
                PropKind::Chair => level(self.seat),
                PropKind::Mat => level(self.ground(base)),
                PropKind::Pillow | PropKind::Towel => {
                    level(self.ground(base) + self.height(kind) * pressed(kind, part))
                }
                // One that is only held carries nothing.
                PropKind::Ball | PropKind::Roller => None,
                k if super::settle::carries(k) => level(self.height(k)),
                _ => None,
            },
            Surface::Tread(n) => level(f64::from(n) * self.height(PropKind::Stairs)),
            Surface::Edge(_) | Surface::Body(_) => None,
        }
    }

    /// The face of a settled thing.
    pub fn placed_face(&self, rolling: usize, placed: Placed, base: &Base) -> Face {
        let height = self.height(placed.kind);
        match placed.how {
            How::Rolls | How::Pressed => {
                let axis = (placed.kind == PropKind::Roller).then_some(base.right);
                Face::Round { rolling, radius: 0.5 * height, axis, up: 0.0 }
            }
            How::Edge => {
                let axis = Some(self.into(placed.kind, base).cross(Vec3::Y));
                Face::Round { rolling, radius: EDGE, axis, up: height - EDGE }
            }
            How::Back => Face::Side { rolling, out: on_the_ground(Direction::Forward, base) },
        }
    }

    /// The height of what one lies on: the floor's, or the bed's for a posture that lies on it.
    pub fn ground(&self, base: &Base) -> f64 {
        if base.low { self.level } else { 0.0 }
    }
}

/// How deep a tread of stairs is, metres: common practice, no source.
pub const RUN: f64 = 0.27;

/// How far ahead of the hips the posts of a doorway are at first, metres for a 1.70 m body: from memory.
const IN_A_DOORWAY: f64 = 0.15;

/// What one sits on.
const SEATS: [PropKind; 4] = [PropKind::Chair, PropKind::Sofa, PropKind::Bench, PropKind::Bed];

fn is_sat_on(touched: &[(PropKind, Option<Spot>)], kind: PropKind) -> bool {
    touched.iter().any(|(k, part)| {
        *k == kind && part.is_some_and(|p| matches!(p.region, Region::Seat | Region::ThighBack))
    })
}

fn is_back(region: Region) -> bool {
    use Region::*;
    matches!(region, BackOfHead | UpperBack | LowerBack | WholeBack | Sacrum)
}

/// How deep and wide a thing is, metres: common practice, no source.
pub fn plan(kind: PropKind) -> (f64, f64) {
    match kind {
        PropKind::Chair => (0.40, 0.42),
        PropKind::Sofa => (0.55, 1.50),
        PropKind::Bed => (0.90, 1.90),
        PropKind::Table | PropKind::Worktop => (0.60, 1.00),
        PropKind::Step | PropKind::Stairs => (0.34, 0.50),
        _ => (0.40, 1.10),
    }
}

/// Whether there is room for legs below its top.
fn thin(kind: PropKind) -> bool {
    matches!(kind, PropKind::Chair | PropKind::Table | PropKind::Worktop)
}

/// What is left of a pillow's thickness under a part: the trunk is heavy. From memory.
pub fn pressed(kind: PropKind, part: Spot) -> f64 {
    use Region::*;
    let trunk =
        matches!(part.region, Chest | Belly | PelvisFront | Sacrum | LowerBack | UpperBack | Seat | HipSide);
    if kind == PropKind::Pillow && trunk { 0.6 } else { 1.0 }
}

fn lies_over(cushion: Spot, part: Spot) -> bool {
    let heads = [Region::BackOfHead, Region::SideOfHead, Region::Forehead];
    let knees = [Region::KneeBack, Region::KneeFront, Region::KneeOuter, Region::KneeInner];
    let front = [Region::Belly, Region::PelvisFront];
    let foot = [Region::Sole, Region::Heel, Region::Forefoot, Region::Toes];
    let same = |group: &[Region]| group.contains(&cushion.region) && group.contains(&part.region);
    (cushion.region == part.region || same(&heads) || same(&knees) || same(&front) || same(&foot))
        && (cushion.side.is_none() || part.side.is_none() || cushion.side == part.side)
}

/// A direction word on the ground plan. For someone lying, in front is where the feet are on the back and where
/// the head is on the front; behind is the other end.
pub fn on_the_ground(d: Direction, base: &Base) -> Vec3 {
    let level = |v: Vec3| v - Vec3::Y * v.y;
    let v = level(direction(d, base));
    if 0.5 < v.norm() {
        return v.unit_or(Vec3::X);
    }
    let head = level(base.state.turn * Vec3::Y).unit_or(Vec3::X);
    let face_up = 0.0 < base.forward.y;
    let ahead = if face_up { -head } else { head };
    match d {
        Direction::Back | Direction::Down => -ahead,
        _ => ahead,
    }
}

/// A direction word in the room, by the posture's own forward and right.
pub fn direction(d: Direction, base: &Base) -> Vec3 {
    match d {
        Direction::Up => Vec3::Y,
        Direction::Down => -Vec3::Y,
        Direction::Forward => base.forward,
        Direction::Back => -base.forward,
        Direction::Right | Direction::Out => base.right,
        Direction::Left | Direction::In => -base.right,
    }
}
