//! What a pose touches, holds and rests on, as rows.

use super::{CONTACT, FREE, Writer, first};
use crate::body::dof::{Limb, paired};
use crate::body::names::{Region, Segment, Side};
use crate::body::{Skin, flesh};
use crate::measure::radians;
use crate::pose::ask::{PropKind, Spot, Surface};
use crate::pose::problem::{Face, Point, Row, Way, palm_way};
use crate::pose::settle::{Touching, carries};
use crate::space::Vec3;

impl Writer<'_> {
    pub(super) fn touch(&mut self, t: &Touching) {
        if let Surface::Body(spot) = t.surface {
            self.touch_body(t, spot);
            return;
        }
        let surface = match t.surface {
            // A base posture says chair; what is sat on may be a bench or a bed.
            Surface::Prop(PropKind::Chair) if !self.room.has(PropKind::Chair) => {
                Surface::Prop(self.room.seat_kind())
            }
            s => s,
        };
        let stature = self.body.stature();
        let Some(face) = self.room.face(surface, t.part, self.base, stature) else { return };
        self.faces.push((t.part, t.surface, face));
        let tolerance = if t.loosely { 0.030 } else { CONTACT };
        for (i, skin) in touching_skins(t, face).iter().enumerate() {
            self.rows.push(Row::Touch { skin: *skin, face, tolerance });
            if let (Some(target), Face::Plane { out, .. }) = (t.anchors.as_ref().and_then(|a| a.get(i)), face)
                && !t.slides
                // A back on a wall slides with the body unless it is planted there.
                && (t.planted || is_end(t.part.region) || 0.5 < out.y)
            {
                let tolerance = match (t.planted, is_end(t.part.region)) {
                    (true, true) => CONTACT,
                    (true, false) => 0.004,
                    (false, true) => 0.002,
                    // The skin of the trunk and head creeps a little over what it lies on.
                    (false, false) => 0.015,
                };
                self.rows.push(Row::Anchor { skin: *skin, target: *target, out, tolerance });
            }
            // Toes that merely lie behind a knee still keep someone kneeling upright from falling back.
            let steadies = t.part.region == Region::Toes && self.base.forward.y.abs() < 0.5;
            if !t.light && (!t.loosely || steadies) {
                if let Surface::Prop(PropKind::Wall | PropKind::Doorway) = t.surface {
                    self.walled = true;
                } else if carrying(surface) && !self.support.contains(skin) {
                    self.support.push(*skin);
                }
            }
        }
        self.reach_for(t, surface, face);
        self.lift_ends(t, face);
        if let (Region::Forearm | Region::Elbow, Some(side)) = (t.part.region, t.part.side)
            && !t.loosely
            && self.base.forward.y < -0.5
            && t.anchors.is_none()
        {
            // Face down the arm finds no way forward under the chest: it starts there.
            for (limb, degrees) in
                [(Limb::ShoulderFlexion, 75.0), (Limb::ElbowFlexion, 90.0), (Limb::Supination, -60.0)]
            {
                let d = paired(limb, side);
                if !self.set.iter().any(|(have, _)| *have == d) {
                    self.set.push((d, radians(degrees)));
                }
            }
        }
        // Palms and soles lie with their own side down.
        let facing = match t.part.region {
            Region::Palm => t.part.side.map(palm_way),
            Region::Heel | Region::Forefoot => {
                t.part.side.map(|s| Way::In(Segment::Foot(s), -Vec3::Y)).filter(|_| !self.base.low)
            }
            Region::BackOfHand => t.part.side.map(|s| Way::In(Segment::Hand(s), Vec3::Z)),
            _ => None,
        };
        if let (Region::Palm | Region::Fist | Region::Fingertips, Some(side), Face::Plane { out, .. }) =
            (t.part.region, t.part.side, face)
            && !t.loosely
        {
            // Fingers point up a wall, and on the floor the way the head is: from memory.
            let ahead = self.base.state.turn
                * if self.base.low || self.base.forward.y < -0.5 { Vec3::Y } else { Vec3::X };
            let target = if out.y.abs() < 0.5 { Vec3::Y } else { ahead };
            let way = Way::In(Segment::Hand(side), -Vec3::Y);
            if t.part.region == Region::Palm {
                self.rows.push(Row::Along { way, target, tolerance: radians(25.0) });
            }
            let beside = self.beside(t.surface).is_some();
            if t.anchors.is_none() && !t.slides && !beside && self.base.right.y.abs() < 0.5 {
                // Where nothing says where, hands go a shoulder's breadth apart, on a wall at the
                // shoulders' height; the arm finds its own way there. Common practice, no source.
                if out.y.abs() < 0.5 {
                    self.hand_up(side);
                } else {
                    self.rows.push(Row::Apart {
                        a: Point::Joint(Segment::UpperArm(side)),
                        b: Point::Palm(side),
                        along: self.base.right,
                        distance: 0.0,
                        tolerance: if self.base.low { 0.20 } else { 0.06 },
                    });
                }
                // The palm's side towards the thing from the start: from a hand turned up the wrist would bend
                // the wrong way.
                for (limb, degrees) in [(Limb::Supination, -70.0), (Limb::WristFlexion, -60.0)] {
                    let d = paired(limb, side);
                    if t.part.region == Region::Palm && !self.set.iter().any(|(have, _)| *have == d) {
                        self.set.push((d, radians(degrees)));
                    }
                }
                for limb in [Limb::ShoulderFlexion, Limb::ElbowFlexion, Limb::Supination, Limb::WristFlexion]
                {
                    let d = paired(limb, side);
                    self.tolerance[d.0] = radians(FREE);
                }
            }
        }
        if let (Some(way), Face::Plane { out, .. }) = (facing, face)
            && t.part.region != Region::Forefoot
        {
            self.rows.push(Row::Towards { way, target: -out, least: 0.55, tolerance: 0.2 });
        }
    }

    fn touch_body(&mut self, t: &Touching, spot: Spot) {
        let side = t.part.side.unwrap_or(Side::Right);
        if t.holds {
            let Some(skin) = holding(spot) else { return };
            self.faces.push((t.part, t.surface, Face::Skin(skin)));
            self.rows.push(Row::Grip { side, skin, off: 0.016, tolerance: CONTACT });
            // Each hand comes from its own side, fingers round the named face.
            let out = faces_out(spot.region);
            let local = (out + Vec3::Z * (0.8 * own_half(side, spot))).unit_or(out);
            self.rows.push(Row::Facing {
                from: Point::Skin(skin),
                to: Point::Palm(side),
                segment: skin.segment(),
                local,
                tolerance: radians(25.0),
            });
            self.rows.push(Row::PalmTo { side, point: Point::Skin(skin), tolerance: 0.25 });
            for limb in [Limb::Supination, Limb::WristFlexion, Limb::ElbowFlexion] {
                let d = paired(limb, side);
                if !self.asked[d.0] {
                    self.tolerance[d.0] = radians(40.0);
                }
            }
            return;
        }
        if t.part.region == Region::Palm {
            self.lay_palm(t, spot);
            return;
        }
        self.cross(t, spot);
        let (Some(mine), Some(theirs)) = (t.skins.first().copied(), first(spot)) else { return };
        // Foot on foot and knee on knee meet with their inner sides.
        let twins = spot.side.is_some()
            && t.part.side != spot.side
            && is_leg_part(spot.region)
            && is_leg_part(t.part.region);
        let foot = |k: Skin| {
            if k.segment() == Segment::Foot(k.side) { Skin { ball: flesh::ANKLE, side: k.side } } else { k }
        };
        let same = twins
            && crate::pose::settle::end_of(spot.region) == crate::pose::settle::end_of(t.part.region)
            && rank(spot.region) == rank(t.part.region);
        let (mine, theirs) = if same { (foot(mine), foot(theirs)) } else { (mine, theirs) };
        let face = Face::Skin(theirs);
        self.faces.push((t.part, t.surface, face));
        self.meeting.push((t.part, mine));
        let tolerance = if t.loosely { 0.030 } else { CONTACT };
        self.rows.push(Row::Touch { skin: mine, face, tolerance });
        let weight = if t.loosely { 60.0 } else { 25.0 };
        self.rows.push(Row::Facing {
            from: Point::Skin(theirs),
            to: Point::Skin(mine),
            segment: theirs.segment(),
            local: if same { -Vec3::Z } else { faces_out(spot.region) },
            tolerance: radians(weight),
        });
    }

    /// A palm that lies on a part: flat, each hand on its own half.
    fn lay_palm(&mut self, t: &Touching, spot: Spot) {
        let side = t.part.side.unwrap_or(Side::Right);
        let Some(skin) = lain_on(spot, side) else { return };
        self.faces.push((t.part, t.surface, Face::Skin(skin)));
        self.meeting.push((t.part, Skin { ball: flesh::PALM_THUMB, side }));
        let (contact, degrees) = if t.loosely { (0.030, 60.0) } else { (CONTACT, 20.0) };
        self.rows.push(Row::Grip { side, skin, off: 0.012, tolerance: contact });
        let out = faces_out(spot.region);
        let local = (out + Vec3::Z * (0.5 * own_half(side, spot))).unit_or(out);
        self.rows.push(Row::Facing {
            from: Point::Skin(skin),
            to: Point::Palm(side),
            segment: skin.segment(),
            local,
            tolerance: radians(degrees),
        });
        self.rows.push(Row::Same {
            a: palm_way(side),
            b: Way::In(skin.segment(), local),
            sign: -1.0,
            tolerance: radians(degrees + 5.0),
        });
        if t.loosely {
            return;
        }
        for limb in [Limb::Supination, Limb::ElbowFlexion, Limb::ShoulderRotation] {
            let d = paired(limb, side);
            if !self.asked[d.0] {
                self.tolerance[d.0] = radians(FREE);
            }
        }
        if spot.region == Region::HipSide {
            // Elbows out to the sides, as hands on hips are held: from memory.
            for (limb, degrees) in [
                (Limb::ShoulderAbduction, 42.0),
                (Limb::ShoulderFlexion, -12.0),
                (Limb::ShoulderRotation, -40.0),
                (Limb::ElbowFlexion, 100.0),
                (Limb::Supination, -30.0),
            ] {
                let d = paired(limb, side);
                if !self.asked[d.0] {
                    self.targets.angles[d.0] = radians(degrees);
                    self.set.push((d, radians(degrees)));
                }
            }
        }
    }

    /// A foot that goes to the far side of the other leg starts there: it can't find its way through.
    fn cross(&mut self, t: &Touching, spot: Spot) {
        let (Some(side), true) = (t.part.side, crate::pose::settle::end_of(t.part.region) == Some(0)) else {
            return;
        };
        if spot.side == Some(side.other()) && is_leg_part(spot.region) && 0.5 < faces_out(spot.region).z {
            for (limb, degrees) in [(Limb::HipFlexion, 70.0), (Limb::HipAbduction, -25.0)] {
                let d = paired(limb, side);
                if !self.asked[d.0] {
                    self.set.push((d, radians(degrees)));
                }
            }
        }
    }
}

fn is_leg_part(region: Region) -> bool {
    rank(region).is_some()
}

/// Which height of the leg a region is at: foot, shank, knee or thigh.
fn rank(region: Region) -> Option<u8> {
    use Region::*;
    match region {
        Sole | Heel | Forefoot | Toes | AnkleOuter | AnkleInner | Instep | FootInner | FootOuter => Some(0),
        Shin | Calf => Some(1),
        KneeFront | KneeBack | KneeInner | KneeOuter => Some(2),
        ThighFront | ThighBack => Some(3),
        _ => None,
    }
}

fn carrying(surface: Surface) -> bool {
    match surface {
        Surface::Floor => true,
        Surface::Tread(_) => true,
        Surface::Prop(kind) | Surface::Edge(kind) => carries(kind),
        Surface::Body(_) => false,
    }
}

/// The skin points by which a part touches: on something round a long part touches with its middle alone.
pub(super) fn touching_skins(t: &Touching, face: Face) -> Vec<Skin> {
    match (face, t.part.region, t.part.side) {
        (Face::Round { .. }, Region::Forearm, Some(side)) => vec![Skin { ball: flesh::FOREARM_MID, side }],
        (Face::Round { .. }, Region::Shin, Some(side)) => vec![Skin { ball: flesh::SHIN, side }],
        _ => t.skins.clone(),
    }
}

/// Which way sideways a hand's own half of a part is, in the frame of the part (z outwards on paired parts, to the right
/// in the middle).
fn own_half(hand: Side, spot: Spot) -> f64 {
    match spot.side {
        Some(side) if side == hand => 1.0,
        Some(_) => -1.0,
        None if hand == Side::Right => 1.0,
        None => -1.0,
    }
}

/// The skin point that a palm lies on: the crest for a hip.
fn lain_on(spot: Spot, hand: Side) -> Option<Skin> {
    match spot.region {
        Region::HipSide => Some(Skin { ball: flesh::FLANK, side: spot.side.unwrap_or(hand) }),
        _ => first(Spot { side: spot.side.or(Some(hand)), ..spot }).or_else(|| first(spot)),
    }
}

/// The skin point that a hand holds a part by.
fn holding(spot: Spot) -> Option<Skin> {
    let side = spot.side.unwrap_or(Side::Right);
    let ball = match spot.region {
        Region::Shin => flesh::SHIN,
        Region::ThighBack | Region::ThighFront | Region::KneeBack => flesh::THIGH_LOW,
        Region::Calf => flesh::CALF,
        Region::AnkleOuter | Region::AnkleInner => flesh::ANKLE,
        Region::Sole | Region::Heel | Region::Instep | Region::FootInner | Region::FootOuter => flesh::INSTEP,
        _ => return first(spot),
    };
    Some(Skin { ball, side })
}

/// Ends of limbs stand where they stand; the trunk's skin creeps.
pub(super) fn is_end(region: Region) -> bool {
    use Region::*;
    matches!(
        region,
        Heel | Forefoot
            | Sole
            | Toes
            | Palm
            | Fist
            | Fingertips
            | KneeFront
            | Shin
            | Elbow
            | Forearm
            | Instep
    )
}

/// The outward direction of a region in its segment, right side: which way its skin faces.
fn faces_out(region: Region) -> Vec3 {
    use Region::*;
    match region {
        BackOfHead | UpperBack | LowerBack | WholeBack | Sacrum | Seat | ThighBack | KneeBack | Calf => {
            -Vec3::X
        }
        SideOfHead | HipSide | ShoulderSide | KneeOuter | AnkleOuter | FootOuter | BackOfHand | UpperArm => {
            Vec3::Z
        }
        KneeInner | AnkleInner | FootInner | Palm | WristFront | Fingertips | Fist => -Vec3::Z,
        Forehead | Chin | Chest | Belly | PelvisFront | ThighFront | KneeFront | Shin | Forearm => Vec3::X,
        Elbow => -Vec3::X,
        Instep => Vec3::Y,
        Heel | Forefoot | Toes | Sole => -Vec3::Y,
    }
}
