//! Things whose place is settled with the body: balls, rollers, edges and backs of seats; and what is held.

use super::{Compiled, Writer};
use crate::body::dof::{Limb, paired};
use crate::body::flesh;
use crate::body::names::{Region, Segment, Side};
use crate::body::{self, Body, Skin};
use crate::measure::radians;
use crate::pose::ask::{Direction, Fit, PropKind, Spot, Surface};
use crate::pose::posture::Base;
use crate::pose::problem::{At, Face, Point, Row, Way, palm_way};
use crate::pose::room::{How, Placed, RUN, Room, on_the_ground};
use crate::pose::settle::{Touching, end_of};
use crate::space::{Vec3, v3};

/// A place that is known, metres.
const KNOWN: f64 = 0.0005;
/// How far aside a ball at the wall may roll, metres: from memory.
const ASIDE: f64 = 0.020;
/// What the skin beside a contact may sink into a ball or edge, metres: less than what is seen.
const SINK: f64 = 0.004;

/// What touches one settled thing.
fn on<'a>(room: &'a Room, i: usize, list: &'a [Touching]) -> impl Iterator<Item = &'a Touching> {
    list.iter().filter(move |t| room.number(t.surface, t.part) == Some(i))
}

/// Where the settled things are to begin with: where they were, if anything touched them; otherwise where
/// what touches them is.
pub(super) fn places(
    room: &Room,
    from: &At,
    touching: &[Touching],
    was: &[Touching],
    body: &Body,
    base: &Base,
) -> Vec<Vec3> {
    let p = body.place(&from.state);
    let place = |(i, placed): (usize, &Placed)| {
        if let Some(was_at) = from.rolling.get(i)
            && stands(room, i, from, was)
        {
            return *was_at;
        }
        let skins: Vec<Vec3> =
            on(room, i, touching).flat_map(|t| t.skins.iter().map(|s| p.skin(*s))).collect();
        let share = 1.0 / skins.len().max(1) as f64;
        let mut middle = skins.iter().fold(Vec3::ZERO, |sum, v| sum + *v * share);
        if skins.is_empty() {
            middle = from.state.root + on_the_ground(Direction::Forward, base) * 0.5;
        }
        let radius = 0.5 * room.height(placed.kind);
        match placed.how {
            How::Rolls => v3(middle.x, room.ground(base) + radius, middle.z),
            How::Pressed => match room.wall(base) {
                Some((at, out)) => middle + out * (radius - (middle - at).dot(out)),
                None => middle,
            },
            How::Edge | How::Back => v3(middle.x, 0.0, middle.z),
        }
    };
    room.placed.iter().enumerate().map(place).collect()
}

/// Whether a settled thing has its place from the pose before.
fn stands(room: &Room, i: usize, from: &At, was: &[Touching]) -> bool {
    from.rolling.len() == room.placed.len() && on(room, i, was).next().is_some()
}

/// Which settled things have their place once this pose is settled.
pub(super) fn standing(room: &Room, from: &At, touching: &[Touching], was: &[Touching]) -> Vec<bool> {
    (0..room.placed.len())
        .map(|i| stands(room, i, from, was) || on(room, i, touching).next().is_some())
        .collect()
}

/// The rows of settled things on the way between two poses, which have their places.
pub(super) fn on_the_way(to: &Compiled, places: &[Vec3]) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for row in &to.settling.rows {
        if let Row::ClearRound { .. } | Row::ClearBlock { .. } = row {
            rows.push(row.clone());
        }
    }
    for (i, target) in places.iter().enumerate() {
        let stiff = to.settling.rows.iter().any(|r| {
            matches!(r, Row::RollingNear { rolling, tolerance, .. } if *rolling == i && tolerance[0] <= KNOWN)
        });
        let flat = if stiff { KNOWN } else { 0.05 };
        rows.push(Row::RollingNear { rolling: i, target: *target, tolerance: [flat, KNOWN, flat] });
    }
    rows
}

impl Writer<'_> {
    /// Keeps settled things in their places and the body out of them.
    pub(super) fn settle_things(
        &mut self,
        touching: &[Touching],
        was: &[Touching],
        from: &At,
        places: &[Vec3],
    ) {
        for (i, (placed, place)) in self.room.placed.iter().zip(places).enumerate() {
            let stood = stands(self.room, i, from, was);
            let fixed = stood && matches!(placed.how, How::Edge | How::Back);
            let tolerance = match placed.how {
                _ if fixed => [KNOWN; 3],
                How::Rolls => [0.5, KNOWN, 0.5],
                How::Edge | How::Back => [1.0, KNOWN, 1.0],
                How::Pressed => match self.room.wall(self.base) {
                    // The wall is square to one of the room's axes.
                    Some((_, out)) if 0.5 < out.x.abs() => [KNOWN, 0.3, ASIDE],
                    _ => [ASIDE, 0.3, KNOWN],
                },
            };
            self.rows.push(Row::RollingNear { rolling: i, target: *place, tolerance });
            if !stood && on(self.room, i, touching).next().is_none() {
                continue;
            }
            let face = self.room.placed_face(i, *placed, self.base);
            match placed.how {
                How::Rolls | How::Pressed => {
                    self.rows.push(Row::ClearRound { face, sink: SINK, tolerance: 0.002 });
                }
                How::Edge => {
                    let block = self.room.block(placed.kind, self.base);
                    self.rows.push(Row::ClearBlock { rolling: i, block, sink: SINK, tolerance: 0.002 });
                }
                How::Back => {}
            }
            for t in on(self.room, i, touching) {
                // On a ball is on its upper half; against one at the wall, on the side away from the wall.
                let (to, least) = match (placed.how, self.room.wall(self.base)) {
                    (How::Rolls, _) => (Vec3::Y, 0.5),
                    (How::Pressed, Some((_, out))) => (out, 0.8),
                    _ => continue,
                };
                if let (Region::Palm, Some(side)) = (t.part.region, t.part.side) {
                    let way = palm_way(side);
                    self.rows.push(Row::Towards { way, target: -to, least: 0.55, tolerance: 0.2 });
                }
                if let (How::Pressed, [back]) = (placed.how, &t.skins[..]) {
                    // The middle of the back stays before the middle of the ball.
                    let (skin, distance) = (*back, -self.body.radius(*back));
                    let out = to.cross(Vec3::Y);
                    self.rows.push(Row::Off { skin, at: *place, out, distance, tolerance: ASIDE });
                }
                for skin in &super::touch::touching_skins(t, face) {
                    self.rows.push(Row::OnSide { skin: *skin, face, to, least, tolerance: 0.1 });
                }
            }
        }
    }

    /// Which way a thing stands that is at the patient's side.
    pub(super) fn beside(&self, surface: Surface) -> Option<Vec3> {
        let Surface::Prop(kind) = surface else { return None };
        let way = self.room.said_way(kind)?;
        matches!(way, Direction::Right | Direction::Left)
            .then(|| on_the_ground(way, self.base))
            .filter(|_| stands_still(kind))
    }

    /// Where a hand or forearm reaches for a thing that stands: beside the hips, or in front of the belly, which
    /// keeps out of it. Distances are from memory.
    pub(super) fn reach_for(&mut self, t: &Touching, surface: Surface, face: Face) {
        let Surface::Prop(kind) = surface else { return };
        let (Some(side), Some(1)) = (t.part.side, end_of(t.part.region)) else { return };
        let pressed = self.room.placing(surface, t.part).is_some_and(|p| p.how == How::Pressed);
        if pressed && t.part.region == Region::Palm && t.anchors.is_none() {
            self.hand_up(side);
        }
        let Face::Plane { out, .. } = face else { return };
        let Some(skin) = t.skins.first().copied() else { return };
        if !stands_still(kind) || self.base.low {
            return;
        }
        if out.y < 0.5 {
            self.forearm_up(t, side);
            return;
        }
        let hips = Point::Middle(Segment::Thigh(Side::Right), Segment::Thigh(Side::Left));
        let ahead = on_the_ground(Direction::Forward, self.base);
        if let Some(way) = self.beside(surface) {
            if t.anchors.is_none() && !t.slides {
                let (a, b) = (hips, Point::Skin(skin));
                self.rows.push(Row::Apart { a, b, along: way, distance: 0.30, tolerance: 0.05 });
                let a = Point::Joint(Segment::UpperArm(side));
                self.rows.push(Row::Apart { a, b, along: ahead, distance: 0.12, tolerance: 0.10 });
            }
            return;
        }
        if matches!(self.room.said_way(kind), None | Some(Direction::Forward)) {
            let belly = Skin { ball: flesh::BELLY, side: Side::Right };
            self.rows.push(Row::AtLeastApart {
                a: Point::Skin(belly),
                b: Point::Skin(skin),
                along: ahead,
                least: self.body.radius(belly) + 0.06,
                tolerance: 0.01,
            });
        }
    }

    /// A hand on a wall, or on what is held against it, is level with the shoulder where nothing says where.
    pub(super) fn hand_up(&mut self, side: Side) {
        let shoulder = Point::Joint(Segment::UpperArm(side));
        let palm = Point::Palm(side);
        let along = self.base.right;
        self.rows.push(Row::Apart { a: shoulder, b: palm, along, distance: 0.0, tolerance: 0.06 });
        self.rows.push(Row::Apart { a: shoulder, b: palm, along: Vec3::Y, distance: 0.0, tolerance: 0.12 });
        // A start with the arm up: from hanging, the fingers would turn up by a bent elbow.
        for (limb, degrees) in [
            (Limb::ShoulderFlexion, 80.0),
            (Limb::ElbowFlexion, 15.0),
            (Limb::Supination, -75.0),
            (Limb::WristFlexion, -75.0),
        ] {
            let d = paired(limb, side);
            if !self.set.iter().any(|(have, _)| *have == d) {
                self.set.push((d, radians(degrees)));
            }
            self.tolerance[d.0] = radians(super::FREE);
        }
    }

    /// A forearm on an upright face points up, as on the frame of a door.
    fn forearm_up(&mut self, t: &Touching, side: Side) {
        if t.part.region != Region::Forearm {
            return;
        }
        let way = Way::In(Segment::Forearm(side), Vec3::Y);
        self.rows.push(Row::Towards { way, target: -Vec3::Y, least: 0.7, tolerance: 0.2 });
        let d = paired(Limb::ShoulderRotation, side);
        if !self.asked[d.0] {
            self.tolerance[d.0] = radians(super::FREE);
            self.set.push((d, radians(80.0)));
        }
    }

    /// Toes and fingers don't go through what the ball of the foot or the palm rests on.
    pub(super) fn lift_ends(&mut self, t: &Touching, face: Face) {
        let (Some(side), Face::Plane { at, out }) = (t.part.side, face) else { return };
        let balls: &[flesh::BallId] = match t.part.region {
            Region::Forefoot => &[flesh::TOE_TIP],
            Region::Palm if !t.loosely => &[flesh::FINGERTIPS],
            _ => return,
        };
        for ball in balls {
            self.rows.push(Row::KeepOff { skin: Skin { ball: *ball, side }, at, out, tolerance: 0.002 });
        }
    }

    /// What lies between two parts keeps them apart.
    pub(super) fn keep_apart(&mut self) {
        for prop in &self.room.props {
            if let Fit::Between(a, b) = &prop.fit {
                let thick = self.room.height(prop.kind);
                if let (Some(a), Some(b)) = (super::first(*a), super::first(*b)) {
                    let apart = thick + self.body.radius(a) + self.body.radius(b);
                    let (a, b) = (Point::Skin(a), Point::Skin(b));
                    self.rows.push(Row::Distance { a, b, distance: apart, tolerance: 0.005 });
                }
            }
        }
    }

    /// A stick in both hands keeps them apart as they are, a shoulder's breadth from the start.
    pub(super) fn hold_stick(&mut self, touching: &[Touching]) {
        if Side::BOTH.into_iter().all(|s| holds(touching, PropKind::Stick, s)) {
            let distance = 2.2 * body::SHOULDER_HALF_BREADTH * self.body.stature();
            self.rows.push(Row::Distance {
                a: Point::Palm(Side::Left),
                b: Point::Palm(Side::Right),
                distance,
                tolerance: 0.010,
            });
        }
    }

    /// A ball in both hands is between the palms.
    pub(super) fn hold_ball(&mut self, touching: &[Touching]) {
        if Side::BOTH.into_iter().all(|s| holds(touching, PropKind::Ball, s)) {
            let [right, left] = Side::BOTH.map(Point::Palm);
            let distance = self.room.height(PropKind::Ball) + 0.02 * self.body.stature();
            self.rows.push(Row::Distance { a: left, b: right, distance, tolerance: 0.005 });
            for (side, point) in [(Side::Right, left), (Side::Left, right)] {
                self.rows.push(Row::PalmTo { side, point, tolerance: 0.25 });
                for limb in [Limb::ShoulderRotation, Limb::Supination, Limb::ElbowFlexion] {
                    let d = paired(limb, side);
                    self.tolerance[d.0] = self.tolerance[d.0].max(radians(40.0));
                }
            }
            // In front of the chest, as far to the right as to the left: common practice, no source.
            for side in Side::BOTH {
                let chest = Point::Skin(Skin { ball: flesh::BREAST, side });
                let (a, b) = (chest, Point::Palm(side));
                let ahead = on_the_ground(Direction::Forward, self.base);
                self.rows.push(Row::AtLeastApart { a, b, along: ahead, least: 0.10, tolerance: 0.02 });
            }
        }
    }

    /// Feet on different stairs are as far apart as the treads.
    pub(super) fn climb(&mut self, touching: &[Touching]) {
        let tread = |side: Side| {
            touching.iter().find_map(|t| match t.surface {
                Surface::Tread(n) if t.part.side == Some(side) && end_of(t.part.region) == Some(0) => Some(n),
                _ => None,
            })
        };
        let (Some(right), Some(left)) = (tread(Side::Right), tread(Side::Left)) else { return };
        let way = self.room.said_way(PropKind::Stairs).unwrap_or(Direction::Forward);
        let heel = |side| Point::Skin(Skin { ball: flesh::HEEL, side });
        self.rows.push(Row::Apart {
            a: heel(Side::Left),
            b: heel(Side::Right),
            along: on_the_ground(way, self.base),
            distance: (f64::from(right) - f64::from(left)) * RUN,
            tolerance: 0.020,
        });
    }

    /// A strap round a foot runs straight from the sole through the hands that hold it towards the chest.
    pub(super) fn hold_strap(&mut self, touching: &[Touching]) {
        for (kind, foot) in straps(self.room) {
            let Some(foot) = Skin::of(foot.region, foot.side).last().copied() else { continue };
            for side in Side::BOTH.into_iter().filter(|s| holds(touching, kind, *s)) {
                let chest = Point::Skin(Skin { ball: flesh::BREAST, side });
                let foot = Point::Skin(foot);
                self.rows.push(Row::Same {
                    a: Way::Between(foot, Point::Palm(side)),
                    b: Way::Between(foot, chest),
                    sign: 1.0,
                    tolerance: radians(4.0),
                });
                // Elbows a little bent, so that there is something to pull with: common practice, no source.
                for (limb, degrees, tolerance) in [
                    (Limb::ElbowFlexion, 30.0, 15.0),
                    (Limb::ShoulderFlexion, 60.0, 40.0),
                    (Limb::ShoulderAbduction, 5.0, 20.0),
                    (Limb::Supination, -40.0, 40.0),
                    (Limb::WristFlexion, 0.0, 15.0),
                ] {
                    let d = paired(limb, side);
                    if !self.asked[d.0] {
                        self.targets.angles[d.0] = radians(degrees);
                        self.tolerance[d.0] = radians(tolerance);
                        self.set.push((d, radians(degrees)));
                    }
                }
            }
        }
    }
}

/// Whether a thing of that kind stands where it stands.
fn stands_still(kind: PropKind) -> bool {
    use PropKind::*;
    matches!(kind, Table | Worktop | Rail | ChairBack | Frame | Chair | Bench | Sofa | Wall | Doorway)
}

/// Straps and bands round a foot.
pub(super) fn straps(room: &Room) -> Vec<(PropKind, Spot)> {
    let mut found = Vec::new();
    for prop in &room.props {
        if let (PropKind::Strap | PropKind::LongBand | PropKind::Towel, Fit::Round(spots)) =
            (prop.kind, &prop.fit)
        {
            for spot in spots.iter().filter(|s| end_of(s.region) == Some(0)) {
                found.push((prop.kind, *spot));
            }
        }
    }
    found
}

fn holds(touching: &[Touching], kind: PropKind, side: Side) -> bool {
    touching.iter().any(|t| t.holds && t.surface == Surface::Prop(kind) && t.part.side == Some(side))
}

/// The outward direction of a face at a skin point.
pub(super) fn outward(face: Face, skin: Vec3, at: &At) -> Option<Vec3> {
    Some(match face {
        Face::Plane { out, .. } | Face::Side { out, .. } => out,
        Face::Round { rolling, axis, up, .. } => {
            let v = skin - *at.rolling.get(rolling)? - Vec3::Y * up;
            axis.map_or(v, |a| v - a * a.dot(v)).unit_or(Vec3::Y)
        }
        Face::Skin(_) => return None,
    })
}
