//! The room of one exercise: what stands in it, and the faces that parts can rest on.

use super::ask::{Contact, Direction, Fit, From, Held, Pose, Posture, Prop, PropKind, Spot, Surface};
use super::posture::Base;
use super::problem::Face;
use crate::body::Body;
use crate::body::names::Region;
use crate::space::Vec3;

/// The things of all poses together: a thing named once stands there throughout.
#[derive(Clone, Debug)]
pub struct Room {
    pub props: Vec<Prop>,
    /// Balls and rollers by kind, in the order of their unknowns.
    pub rolling: Vec<PropKind>,
    /// Height of what lying and sitting on the floor happens on: 0, or a bed's.
    pub level: f64,
    seat: f64,
    scale: f64,
    wall: Option<Direction>,
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
        let seats = [PropKind::Chair, PropKind::Bench, PropKind::Bed];
        if sits && !props.iter().any(|p| seats.contains(&p.kind)) {
            props.push(Prop { kind: PropKind::Chair, cm: None, fit: Fit::Stands });
        }
        let rolling = [PropKind::Ball, PropKind::Roller]
            .into_iter()
            .filter(|k| props.iter().any(|p| p.kind == *k))
            .collect();
        let wall = props.iter().any(|p| matches!(p.kind, PropKind::Wall | PropKind::Doorway)).then(|| {
            let said = props.iter().find_map(|p| match (p.kind, &p.fit) {
                (PropKind::Wall | PropKind::Doorway, Fit::At(d)) => Some(*d),
                _ => None,
            });
            let behind = touched.iter().any(|(kind, part)| {
                *kind == PropKind::Wall
                    && part.is_some_and(|p| {
                        matches!(
                            p.region,
                            Region::BackOfHead
                                | Region::UpperBack
                                | Region::LowerBack
                                | Region::WholeBack
                                | Region::Sacrum
                                | Region::Seat
                        )
                    })
            });
            said.unwrap_or(if behind { Direction::Back } else { Direction::Forward })
        });
        let mut room =
            Room { props, rolling, level: 0.0, seat: 0.0, scale: body.stature() / Body::USUAL_STATURE, wall };
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
        room.seat = seats.into_iter().find(|k| room.has(*k)).map_or(0.43, |k| room.height(k));
        room
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
        [PropKind::Chair, PropKind::Bench, PropKind::Bed]
            .into_iter()
            .find(|k| self.has(*k))
            .unwrap_or(PropKind::Chair)
    }

    /// The wall: a point on it and the way it faces, from where the posture puts the pelvis.
    pub fn wall(&self, base: &Base) -> Option<(Vec3, Vec3)> {
        let to = direction(self.wall?, base);
        let to = (to - Vec3::Y * to.y).unit_or(Vec3::X);
        // Near enough to start from; standing may shift towards it or away.
        let off = if self.wall == Some(Direction::Back) { 0.12 } else { 0.60 } * self.scale;
        let pelvis = base.state.root;
        Some((Vec3 { x: pelvis.x, y: 0.0, z: pelvis.z } + to * off, -to))
    }

    /// Thickness of a pillow or towel under that part, metres.
    pub fn cushion(&self, part: Spot, base: &Base, stature: f64) -> f64 {
        let said = self.props.iter().find_map(|p| match &p.fit {
            Fit::Under(spots) if spots.iter().any(|s| lies_over(*s, part)) => {
                Some(p.cm.or(p.kind.usual_cm()).unwrap_or(0.0) / 100.0)
            }
            _ => None,
        });
        let head = matches!(part.region, Region::SideOfHead | Region::BackOfHead);
        said.unwrap_or(if head { base.pillow.unwrap_or(0.0) * stature } else { 0.0 })
    }

    /// The face of a surface that a part can rest on; `None` for things that carry nothing.
    pub fn face(&self, surface: Surface, part: Spot, base: &Base, stature: f64) -> Option<Face> {
        let level = |y: f64| Some(Face::Plane { at: Vec3::Y * y, out: Vec3::Y });
        match surface {
            Surface::Floor => level(self.ground(base) + self.cushion(part, base, stature)),
            Surface::Prop(kind) => match kind {
                PropKind::Wall | PropKind::Doorway => {
                    let (at, out) = self.wall(base)?;
                    // A ball pressed against the wall stands between.
                    Some(Face::Plane { at, out })
                }
                PropKind::Ball | PropKind::Roller => {
                    if kind == PropKind::Ball
                        && self.wall.is_some()
                        && !matches!(
                            part.region,
                            Region::Heel | Region::Forefoot | Region::Calf | Region::Belly
                        )
                    {
                        let (at, out) = self.wall(base)?;
                        return Some(Face::Plane { at: at + out * self.height(kind), out });
                    }
                    let rolling = self.rolling.iter().position(|k| *k == kind)?;
                    let axis = (kind == PropKind::Roller).then_some(base.right);
                    Some(Face::Round { rolling, radius: 0.5 * self.height(kind), axis })
                }
                PropKind::Chair if self.has(PropKind::Chair) || !self.has(PropKind::Bench) => {
                    level(if self.has(PropKind::Chair) { self.height(PropKind::Chair) } else { self.seat })
                }
                PropKind::Chair => level(self.seat),
                PropKind::Mat => level(self.ground(base)),
                PropKind::Pillow | PropKind::Towel => level(self.ground(base) + self.height(kind)),
                k if super::settle::carries(k) => level(self.height(k)),
                _ => None,
            },
            Surface::Body(_) => None,
        }
    }

    /// The height of what one lies on: the floor's, or the bed's for a posture that lies on it.
    pub fn ground(&self, base: &Base) -> f64 {
        if base.low { self.level } else { 0.0 }
    }
}

fn lies_over(cushion: Spot, part: Spot) -> bool {
    let heads = [Region::BackOfHead, Region::SideOfHead, Region::Forehead];
    let knees = [Region::KneeBack, Region::KneeFront, Region::KneeOuter, Region::KneeInner];
    let same = |group: &[Region]| group.contains(&cushion.region) && group.contains(&part.region);
    (cushion.region == part.region || same(&heads) || same(&knees))
        && (cushion.side.is_none() || part.side.is_none() || cushion.side == part.side)
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
