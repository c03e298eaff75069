//! What a pose asks of angles, directions and distances, as rows.

use super::{ANGLE, FREE, RELATION, Writer, first};
use crate::body::dof::{self, COUNT, Limb, paired};
use crate::body::names::{Angle, Joint, Motion, Segment, Side, Sides};
use crate::body::range::Limits;
use crate::body::{self, Skin, flesh};
use crate::measure::{math, radians};
use crate::pose::ask::{Ask, Bit, Direction, FeetApart, Spot, Surface};
use crate::pose::problem::{Face, Point, Row, Way, palm_way};
use crate::pose::room::direction;
use crate::space::Vec3;

impl Writer<'_> {
    pub(super) fn ask(&mut self, ask: &Ask) {
        let asked = radians(RELATION);
        if let Ask::Level(Bit::Trunk) | Ask::Upright(Bit::Trunk) | Ask::Leaning { what: Bit::Trunk, .. } = ask
        {
            // A trunk that is asked to lean or stand does so from the hips, with a straight back, as a
            // physiotherapist means it: from memory.
            for d in [dof::LUMBAR_FLEXION, dof::THORAX_FLEXION, dof::LUMBAR_BEND, dof::THORAX_BEND] {
                self.tolerance[d.0] = self.tolerance[d.0].min(radians(4.0));
            }
        }
        match ask {
            Ask::Angle { sides, joint, motion, degrees } => {
                for side in sides_of(*sides, *joint) {
                    self.angle(Angle { side, joint: *joint, motion: *motion }, *degrees);
                }
            }
            Ask::Free { sides, joint } => {
                for side in sides_of(*sides, *joint) {
                    for motion in [Motion::Flexion, Motion::Abduction, Motion::ExternalRotation]
                        .into_iter()
                        .chain([Motion::Dorsiflexion, Motion::Inversion, Motion::Supination])
                        .chain([Motion::Elevation, Motion::Protraction, Motion::UlnarDeviation])
                        .chain([Motion::SideBend(Side::Right), Motion::Rotation(Side::Right)])
                        .chain([Motion::Extension])
                    {
                        for (d, _) in dof::parts(Angle { side, joint: *joint, motion }) {
                            self.tolerance[d.0] = radians(FREE);
                        }
                    }
                }
            }
            Ask::Level(bit) => {
                let way = self.way(*bit);
                self.rows.push(Row::PartAlong { way, target: Vec3::Y, part: 0.0, tolerance: asked });
            }
            Ask::Upright(bit) => {
                let way = self.way(*bit);
                for target in [Vec3::X, Vec3::Z] {
                    self.rows.push(Row::PartAlong { way, target, part: 0.0, tolerance: asked });
                }
            }
            Ask::InLine { what, with } => {
                let sign = if is_leg(*what) == is_leg(*with) { 1.0 } else { -1.0 };
                let (a, b) = (self.way(*what), self.way(*with));
                self.rows.push(Row::Same { a, b, sign, tolerance: asked });
            }
            Ask::Parallel { what, to } => {
                let (a, b) = (self.way(*what), self.way(*to));
                self.rows.push(Row::Parallel { a, b, tolerance: asked });
            }
            Ask::Leaning { what, direction: d, degrees } => {
                let up = if is_leg(*what) || is_arm(*what) { -1.0 } else { 1.0 };
                let to = direction(*d, self.base);
                let to = (to - Vec3::Y * to.y).unit_or(Vec3::X);
                let a = radians(*degrees);
                let target = (Vec3::Y * math::cos(a) + to * math::sin(a)) * up;
                let way = self.way(*what);
                self.rows.push(Row::Along { way, target, tolerance: asked });
            }
            Ask::FeetApart(apart) => {
                let h = self.body.stature();
                let distance = match apart {
                    FeetApart::Together => 0.060 * h,
                    FeetApart::Hips => 2.0 * body::HIP_HALF_BREADTH * h,
                    FeetApart::Shoulders => 2.0 * body::SHOULDER_HALF_BREADTH * h,
                    FeetApart::Cm(cm) => cm / 100.0,
                };
                self.rows.push(Row::Apart {
                    a: Point::Joint(Segment::Foot(Side::Left)),
                    b: Point::Joint(Segment::Foot(Side::Right)),
                    along: self.base.right,
                    distance,
                    tolerance: 0.010,
                });
            }
            Ask::Staggered { front, cm } => {
                let heel = |side| Point::Skin(Skin { ball: flesh::HEEL, side });
                self.rows.push(Row::Apart {
                    a: heel(front.other()),
                    b: heel(*front),
                    along: self.base.forward,
                    distance: cm / 100.0,
                    tolerance: 0.010,
                });
            }
            Ask::ToesOut { sides, degrees } => {
                for side in sides.each() {
                    let s = if side == Side::Right { 1.0 } else { -1.0 };
                    let a = radians(*degrees);
                    // Across the wanted direction, on the ground plan of the posture.
                    let across = self.base.right * math::cos(a) - self.base.forward * (s * math::sin(a));
                    self.rows.push(Row::PartAlong {
                        way: Way::In(Segment::Foot(side), Vec3::X),
                        target: across,
                        part: 0.0,
                        tolerance: asked,
                    });
                }
            }
            Ask::Distance { part, from, cm } => self.distance(*part, *from, cm / 100.0),
            // Where the thing ends follows from where the part is; nothing is asked of the body.
            Ask::Beyond { .. } => {}
            Ask::Looking(d) => {
                let target = direction(*d, self.base);
                self.rows.push(Row::Along {
                    way: Way::In(Segment::Head, Vec3::X),
                    target,
                    tolerance: radians(8.0),
                });
                for d in [dof::NECK_FLEXION, dof::NECK_TURN, dof::HEAD_FLEXION, dof::NECK_BEND] {
                    self.tolerance[d.0] = radians(FREE);
                }
            }
            Ask::PalmFacing { sides, direction: d } => {
                for side in sides.each() {
                    let s = if side == Side::Right { 1.0 } else { -1.0 };
                    let target = match d {
                        Direction::In => self.base.right * -s,
                        Direction::Out => self.base.right * s,
                        d => direction(*d, self.base),
                    };
                    self.rows.push(Row::Along { way: palm_way(side), target, tolerance: radians(8.0) });
                    self.tolerance[paired(Limb::Supination, side).0] = radians(FREE);
                }
            }
        }
    }

    fn angle(&mut self, angle: Angle, degrees: f64) {
        let target = radians(degrees);
        let tolerance = radians(ANGLE);
        self.angles.push((angle, degrees));
        if angle.joint == Joint::Shoulder && angle.motion == Motion::Elevation {
            // In the plane of the shoulder blade, 30° before the frontal: from memory.
            let side = angle.side.unwrap_or(Side::Right);
            let plane = radians(30.0);
            for (limb, share) in
                [(Limb::ShoulderFlexion, math::sin(plane)), (Limb::ShoulderAbduction, math::cos(plane))]
            {
                let d = paired(limb, side);
                self.rows.push(Row::Near { dof: d, target: target * share, tolerance });
                self.asked[d.0] = true;
                self.set.push((d, target * share));
            }
            return;
        }
        self.keep_planes(angle);
        if let (Joint::Shoulder, Motion::ExternalRotation | Motion::InternalRotation) =
            (angle.joint, angle.motion)
        {
            let side = angle.side.unwrap_or(Side::Right);
            let target = if angle.motion == Motion::ExternalRotation { target } else { 0.0 - target };
            self.rows.push(Row::TurnedOut { side, target, tolerance });
            self.asked[paired(Limb::ShoulderRotation, side).0] = true;
            self.turns.push((side, target));
            return;
        }
        let parts = dof::parts(angle);
        let whole = body::range::highest(angle).unwrap_or(1.0);
        if let [(d, sign)] = parts[..] {
            self.rows.push(Row::Near { dof: d, target: target * sign, tolerance });
            self.asked[d.0] = true;
            self.set.push((d, target * sign));
            return;
        }
        for (d, sign) in &parts {
            // The parts of a sum share it as their ranges do.
            let r = body::range::of(*d);
            let share = if *sign < 0.0 { -r.low } else { r.high } / whole;
            self.targets.angles[d.0] = target * share * sign;
            self.set.push((*d, target * share * sign));
        }
        self.rows.push(Row::Sum { parts, target, tolerance });
    }

    /// The other planes of a hip or shoulder that is asked to move stay nearer to where they were: from memory, as a
    /// physiotherapist would correct them. Not where the limb's end touches something: then it finds its own way.
    fn keep_planes(&mut self, angle: Angle) {
        let side = angle.side.unwrap_or(Side::Right);
        let (limbs, near): (&[Limb], f64) = match angle.joint {
            Joint::Hip => (&[Limb::HipFlexion, Limb::HipAbduction, Limb::HipRotation], 5.0),
            Joint::Shoulder => {
                (&[Limb::ShoulderFlexion, Limb::ShoulderAbduction, Limb::ShoulderRotation], 8.0)
            }
            _ => return,
        };
        let end = if angle.joint == Joint::Hip { 0 } else { 1 };
        if self.bound.contains(&(side, end)) {
            return;
        }
        let own = dof::parts(angle);
        for limb in limbs {
            let d = paired(*limb, side);
            if !own.iter().any(|(have, _)| *have == d) {
                self.tolerance[d.0] = self.tolerance[d.0].min(radians(near));
            }
        }
    }

    /// Puts the asked turn of an arm in at the start, by the swing that is asked there.
    pub(super) fn turn_arms(&mut self) {
        for (side, target) in core::mem::take(&mut self.turns) {
            let start = crate::pose::settle::with_angles(self.from, &self.set, &Limits::none());
            let d = paired(Limb::ShoulderRotation, side);
            let share = body::turned_out(&start, side).value - start.angle(d);
            self.set.push((d, target - share));
        }
    }

    fn distance(&mut self, part: Spot, from: Surface, metres: f64) {
        let Some(a) = first(part) else { return };
        match from {
            Surface::Body(spot) => {
                if let Some(b) = first(spot) {
                    let flesh = self.body.radius(a) + self.body.radius(b);
                    let (a, b) = (Point::Skin(a), Point::Skin(b));
                    self.rows.push(Row::Distance { a, b, distance: metres + flesh, tolerance: 0.010 });
                }
            }
            surface => {
                if let Some(Face::Plane { at, out }) =
                    self.room.face(surface, part, self.base, self.body.stature())
                {
                    self.rows.push(Row::Off { skin: a, at, out, distance: metres, tolerance: 0.010 });
                }
            }
        }
    }

    /// A planted limb or trunk keeps its angles and, for the trunk, its place.
    pub(super) fn hold_bit(&mut self, bit: Bit) {
        let segments: Vec<Segment> = match bit {
            Bit::Segment(s) => vec![s],
            Bit::Leg(s) => vec![Segment::Thigh(s), Segment::Shank(s), Segment::Foot(s)],
            Bit::Arm(s) => vec![Segment::UpperArm(s), Segment::Forearm(s), Segment::Hand(s)],
            Bit::Trunk => vec![Segment::Waist, Segment::Chest],
            Bit::PelvisAcross => vec![Segment::Pelvis],
            Bit::ShouldersAcross => vec![Segment::Chest],
        };
        let placed = self.body.place(self.from);
        for segment in segments {
            for i in 0..COUNT {
                let first = body::moving(segment).last().is_some_and(|d| d.0 == i);
                let own = body::moving(segment).any(|d| d.0 == i)
                    && body::parent_of(segment).is_none_or(|p| !body::moving(p).any(|d| d.0 == i));
                if (own || first) && !self.asked[i] {
                    self.tolerance[i] = radians(2.0);
                }
            }
            if matches!(segment, Segment::Pelvis | Segment::Chest) {
                for axis in [Vec3::X, Vec3::Y] {
                    self.rows.push(Row::Along {
                        way: Way::In(segment, axis),
                        target: placed.turn(segment) * axis,
                        tolerance: radians(2.0),
                    });
                }
                let point = Point::Joint(segment);
                self.rows.push(Row::Fixed { point, target: placed.joint(segment), tolerance: 0.004 });
            }
        }
    }

    fn way(&self, bit: Bit) -> Way {
        match bit {
            Bit::Segment(s) => Way::In(s, axis_of(s)),
            Bit::Trunk => Way::Between(
                Point::Middle(Segment::Thigh(Side::Right), Segment::Thigh(Side::Left)),
                Point::Middle(Segment::UpperArm(Side::Right), Segment::UpperArm(Side::Left)),
            ),
            Bit::Leg(s) => Way::Between(Point::Joint(Segment::Thigh(s)), Point::Joint(Segment::Foot(s))),
            Bit::Arm(s) => Way::Between(Point::Joint(Segment::UpperArm(s)), Point::Joint(Segment::Hand(s))),
            Bit::PelvisAcross => Way::In(Segment::Pelvis, Vec3::Z),
            Bit::ShouldersAcross => Way::Between(
                Point::Joint(Segment::UpperArm(Side::Left)),
                Point::Joint(Segment::UpperArm(Side::Right)),
            ),
        }
    }
}

/// The long axis of a segment from its near to its far end, in the standing body.
fn axis_of(s: Segment) -> Vec3 {
    match s {
        Segment::Pelvis | Segment::Waist | Segment::Chest | Segment::Neck | Segment::Head => Vec3::Y,
        Segment::Girdle(_) => Vec3::Z,
        Segment::Foot(_) | Segment::Toes(_) => Vec3::X,
        _ => -Vec3::Y,
    }
}

fn is_leg(bit: Bit) -> bool {
    matches!(bit, Bit::Leg(_) | Bit::Segment(Segment::Thigh(_) | Segment::Shank(_)))
}

fn is_arm(bit: Bit) -> bool {
    matches!(bit, Bit::Arm(_) | Bit::Segment(Segment::UpperArm(_) | Segment::Forearm(_) | Segment::Hand(_)))
}

/// The sides an ask speaks of; one `None` for joints of the middle.
fn sides_of(sides: Sides, joint: Joint) -> Vec<Option<Side>> {
    if joint.is_paired() { sides.each().map(Some).collect() } else { vec![None] }
}
