//! From what a pose asks and touches to the rows of a least-squares problem.
//!
//! Tolerances are those of `method.md` 1 unless a comment says otherwise: contact 1 mm, balance 5 mm,
//! an asked angle or relation 3°, a joint not mentioned 20°, a free joint 60°.

use super::ask::{Ask, Bit, Direction, FeetApart, Fit, Pose, PropKind, Spot, Surface};
use super::posture::Base;
use super::problem::{
    At, Face, LEAST_SHARE, Point, Row, Settling, Way, always, palm_way, stay_near, usual_tolerance,
};
use super::room::{Room, direction};
use super::settle::{Touching, carries, middle, with_angles};
use crate::body::dof::{self, COUNT, Dof, Limb, paired};
use crate::body::flesh;
use crate::body::names::{Angle, Joint, Motion, Region, Segment, Side, Sides};
use crate::body::range::Limits;
use crate::body::{self, Body, Skin, State};
use crate::measure::{math, radians};
use crate::space::{Vec3, v3};

const CONTACT: f64 = 0.001;
const BALANCE: f64 = 0.005;
const RELATION: f64 = 3.0;
const ANGLE: f64 = 2.0;
const FREE: f64 = 60.0;

/// A pose made into a problem, with where to start and what was asked.
pub struct Compiled {
    pub settling: Settling,
    /// The pose before with the asked angles put in at once.
    pub start: At,
    /// The pose before as it was.
    pub gentle: At,
    /// From the middle of the joints' ranges.
    pub middle: At,
    /// Asked angles, degrees.
    pub asked: Vec<(Angle, f64)>,
    /// Skin points that carry.
    pub support: Vec<Skin>,
    /// A wall carries too, sideways.
    pub walled: bool,
    pub base: Base,
    faces: Vec<(Spot, Surface, Face)>,
    /// The one skin point by which a part touches another part of the body.
    meeting: Vec<(Spot, Skin)>,
}

impl Compiled {
    /// The outward direction of what a part rests on.
    pub fn outward(&self, surface: Surface, part: Spot, at: &At) -> Option<Vec3> {
        let face = self.faces.iter().find(|(p, s, _)| *p == part && *s == surface).map(|f| f.2)?;
        match face {
            Face::Plane { out, .. } => Some(out),
            Face::Round { rolling, axis, .. } => {
                let p = self.settling.body.place(&at.state);
                let skin = Skin::of(part.region, part.side).into_iter().next()?;
                let v = p.skin(skin) - *at.rolling.get(rolling)?;
                let v = axis.map_or(v, |a| v - a * a.dot(v));
                Some(v.unit_or(Vec3::Y))
            }
            Face::Skin(other) => {
                let p = self.settling.body.place(&at.state);
                let skin = Skin::of(part.region, part.side).into_iter().next()?;
                Some((p.skin(skin) - p.skin(other)).unit_or(Vec3::Y))
            }
        }
    }
}

/// Makes the problem of one key pose.
#[expect(clippy::too_many_arguments, reason = "a pose, what it is settled for, and what touched and touches")]
pub(super) fn compile(
    body: &Body,
    pose: &Pose,
    room: &Room,
    limits: &Limits,
    from: &At,
    touching: &[Touching],
    was_touching: &[Touching],
    base: &Base,
) -> Compiled {
    let mut c = Writer {
        body,
        room,
        base,
        from: &from.state,
        rows: always(limits),
        asked: [false; COUNT],
        tolerance: core::array::from_fn(|i| usual_tolerance(Dof(i))),
        targets: from.state.clone(),
        set: Vec::new(),
        angles: Vec::new(),
        faces: Vec::new(),
        meeting: Vec::new(),
        support: Vec::new(),
        walled: false,
    };
    for ask in &pose.asks {
        c.ask(&ask.what);
    }
    for planted in &pose.planted {
        if let super::ask::Planted::Bit(bit) = planted.what {
            c.hold_bit(bit);
        }
    }
    for t in touching {
        c.touch(t);
    }
    c.relax(touching, was_touching);
    for prop in &room.props {
        if let Fit::Between(a, b) = &prop.fit {
            let thick = room.height(prop.kind);
            if let (Some(a), Some(b)) = (first(*a), first(*b)) {
                let apart = thick + body.radius(a) + body.radius(b);
                let (a, b) = (Point::Skin(a), Point::Skin(b));
                c.rows.push(Row::Distance { a, b, distance: apart, tolerance: 0.005 });
            }
        }
    }
    c.hold_stick(touching);
    c.carry_the_blades();
    let ground = room.ground(base);
    let floor = if base.low { ground } else { 0.0 };
    c.rows.push(Row::ClearPlane { at: Vec3::Y * floor, out: Vec3::Y, sink: 0.010, tolerance: 0.001 });
    if let Some((at, out)) = room.wall(base) {
        c.rows.push(Row::ClearPlane { at, out, sink: 0.010, tolerance: 0.001 });
    }
    // Bodies flat on back or front don't topple, and a wall carries sideways, which shares of the weight can't say.
    let balances = !c.support.is_empty() && base.topples && !c.walled;
    if balances {
        c.rows.push(Row::Balance { points: c.support.clone(), tolerance: BALANCE });
    }
    c.root();
    let free_root = room.wall(base).is_some() || !room.rolling.is_empty();
    let reach = if free_root { 1.0 } else { 0.3 };
    c.rows.push(Row::RootNear { target: from.state.root, tolerance: [reach, 3.0, reach] });
    c.rows.extend(stay_near(&c.targets, &c.asked, &c.tolerance));
    let rolling_start: Vec<Vec3> = rolling_start(room, from, touching, body, base);
    for (i, target) in rolling_start.iter().enumerate() {
        c.rows.push(Row::RollingNear { rolling: i, target: *target, tolerance: 0.5 });
    }
    let shares = if balances { c.support.len() } else { 0 };
    let even = vec![(1.0 / shares.max(1) as f64).max(LEAST_SHARE); shares];
    let at = |state: State| At { state, rolling: rolling_start.clone(), shares: even.clone() };
    let stood = |state: State| stood_on(body, state, touching, floor);
    Compiled {
        start: at(stood(with_angles(&from.state, &c.set, limits))),
        gentle: at(with_angles(&from.state, &[], limits)),
        middle: at(stood(middle(&from.state, &c.set, limits))),
        asked: c.angles,
        support: c.support,
        walled: c.walled,
        base: base.clone(),
        faces: c.faces,
        meeting: c.meeting,
        settling: Settling {
            body: *body,
            limits: limits.clone(),
            rows: c.rows,
            rolling: rolling_start.len(),
            shares,
            contact_weight: 1.0,
        },
    }
}

/// Makes the problem of one instant between two settled key poses.
pub(super) fn between(
    body: &Body,
    limits: &Limits,
    wanted: &State,
    lasting: Vec<&Touching>,
    to: &Compiled,
) -> Settling {
    let mut rows = always(limits);
    let placed = body.place(wanted);
    for t in lasting {
        let Some(face) = to.faces.iter().find(|(p, s, _)| *p == t.part && *s == t.surface).map(|f| f.2)
        else {
            continue;
        };
        if let (true, Face::Skin(_)) = (t.holds, face) {
            continue;
        }
        if let (Face::Skin(_), Some((_, mine))) = (face, to.meeting.iter().find(|(p, _)| *p == t.part)) {
            rows.push(Row::Touch { skin: *mine, face, tolerance: CONTACT });
            continue;
        }
        for (i, skin) in t.skins.iter().enumerate() {
            rows.push(Row::Touch { skin: *skin, face, tolerance: CONTACT });
            let anchor = t.anchors.as_ref().and_then(|a| a.get(i));
            if let (Some(target), Face::Plane { out, .. }, false) = (anchor, face, t.slides) {
                // Where it stood in the settled pose it came from; a soft back may have crept.
                let target = if t.planted || is_end(t.part.region) { *target } else { placed.skin(*skin) };
                rows.push(Row::Anchor { skin: *skin, target, out, tolerance: CONTACT });
            }
        }
    }
    for row in &to.settling.rows {
        if let Row::ClearPlane { .. } = row {
            rows.push(row.clone());
        }
    }
    rows.push(Row::RootNear { target: wanted.root, tolerance: [0.03; 3] });
    for axis in [Vec3::X, Vec3::Y] {
        rows.push(Row::Along {
            way: Way::In(Segment::Pelvis, axis),
            target: wanted.turn * axis,
            tolerance: radians(5.0),
        });
    }
    rows.extend(stay_near(wanted, &[false; COUNT], &[radians(5.0); COUNT]));
    Settling {
        body: *body,
        limits: limits.clone(),
        rows,
        rolling: to.settling.rolling,
        shares: 0,
        contact_weight: 1.0,
    }
}

/// Shifts a state so that what is planted is where it was, on the whole; with nothing planted, so that
/// its lowest skin is at the floor.
fn stood_on(body: &Body, mut state: State, touching: &[Touching], floor: f64) -> State {
    let p = body.place(&state);
    let mut shift = Vec3::ZERO;
    let mut count = 0.0;
    let firm = touching.iter().any(|t| t.firm && t.anchors.is_some());
    for t in touching.iter().filter(|t| t.firm || !firm) {
        for (skin, target) in t.skins.iter().zip(t.anchors.iter().flatten()) {
            shift += *target - p.skin(*skin);
            count += 1.0;
        }
    }
    if 0.0 < count {
        state.root += shift * (1.0 / count);
        return state;
    }
    let lowest = Skin::all().map(|s| p.skin(s).y - body.radius(s)).fold(f64::INFINITY, f64::min);
    state.root.y += floor - lowest;
    state
}

fn rolling_start(room: &Room, from: &At, touching: &[Touching], body: &Body, base: &Base) -> Vec<Vec3> {
    if from.rolling.len() == room.rolling.len() {
        return from.rolling.clone();
    }
    let p = body.place(&from.state);
    room.rolling
        .iter()
        .map(|kind| {
            let radius = 0.5 * room.height(*kind);
            let on: Vec<Vec3> = touching
                .iter()
                .filter(|t| t.surface == Surface::Prop(*kind))
                .flat_map(|t| t.skins.iter().map(|s| p.skin(*s)))
                .collect();
            let n = on.len().max(1) as f64;
            let mut middle = on.iter().fold(Vec3::ZERO, |sum, v| sum + *v * (1.0 / n));
            if on.is_empty() {
                middle = from.state.root + base.forward * 0.5;
            }
            v3(middle.x, room.ground(base) + radius, middle.z)
        })
        .collect()
}

fn first(spot: Spot) -> Option<Skin> {
    Skin::of(spot.region, spot.side).into_iter().next()
}

/// Ends of limbs stand where they stand; the trunk's skin creeps.
fn is_end(region: Region) -> bool {
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

struct Writer<'a> {
    body: &'a Body,
    room: &'a Room,
    base: &'a Base,
    from: &'a State,
    rows: Vec<Row>,
    /// Coordinates that an asked angle or a straight part speaks of.
    asked: [bool; COUNT],
    tolerance: [f64; COUNT],
    targets: State,
    /// Where to put coordinates at the start.
    set: Vec<(Dof, f64)>,
    angles: Vec<(Angle, f64)>,
    faces: Vec<(Spot, Surface, Face)>,
    /// The one skin point by which a part touches another part of the body.
    meeting: Vec<(Spot, Skin)>,
    support: Vec<Skin>,
    walled: bool,
}

impl Writer<'_> {
    fn ask(&mut self, ask: &Ask) {
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
    fn hold_bit(&mut self, bit: Bit) {
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

    fn touch(&mut self, t: &Touching) {
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
        for (i, skin) in t.skins.iter().enumerate() {
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
        // Palms and soles lie with their own side down.
        let facing = match t.part.region {
            Region::Palm => t.part.side.map(palm_way),
            Region::Heel | Region::Forefoot => {
                t.part.side.map(|s| Way::In(Segment::Foot(s), -Vec3::Y)).filter(|_| !self.base.low)
            }
            Region::BackOfHand => t.part.side.map(|s| Way::In(Segment::Hand(s), Vec3::Z)),
            _ => None,
        };
        if let (Region::Palm, Some(side), Face::Plane { out, .. }) = (t.part.region, t.part.side, face)
            && !t.loosely
        {
            // Fingers point up a wall, and on the floor the way the head is: from memory.
            let ahead = self.base.state.turn
                * if self.base.low || self.base.forward.y < -0.5 { Vec3::Y } else { Vec3::X };
            let target = if out.y.abs() < 0.5 { Vec3::Y } else { ahead };
            let way = Way::In(Segment::Hand(side), -Vec3::Y);
            self.rows.push(Row::Along { way, target, tolerance: radians(25.0) });
            if t.anchors.is_none() && !t.slides && self.base.right.y.abs() < 0.5 {
                // Where nothing says where, hands go a shoulder's breadth apart, on a wall at the
                // shoulders' height; the arm finds its own way there. Common practice, no source.
                let shoulder = Point::Joint(Segment::UpperArm(side));
                let palm = Point::Palm(side);
                let mut near = |along: Vec3, tolerance: f64| {
                    self.rows.push(Row::Apart { a: shoulder, b: palm, along, distance: 0.0, tolerance });
                };
                near(self.base.right, if self.base.low { 0.20 } else { 0.06 });
                if out.y.abs() < 0.5 {
                    near(Vec3::Y, 0.12);
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
            let lateral = if Some(side) == spot.side || spot.side.is_none() { 1.0 } else { -1.0 };
            let local = (out + Vec3::Z * (0.8 * lateral)).unit_or(out);
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
            && super::settle::end_of(spot.region) == super::settle::end_of(t.part.region)
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
        if t.part.region == Region::Palm {
            self.rows.push(Row::PalmTo { side, point: Point::Skin(theirs), tolerance: 0.25 });
        }
    }

    /// A hand or foot that has left what it touched goes back to its resting angles.
    fn relax(&mut self, touching: &[Touching], was: &[Touching]) {
        for side in Side::BOTH {
            let touches = |list: &[Touching], end: u8| {
                list.iter()
                    .any(|t| t.part.side == Some(side) && super::settle::end_of(t.part.region) == Some(end))
            };
            let left = |end: u8| touches(was, end) && !touches(touching, end);
            let mut at_rest: Vec<(Limb, f64)> = Vec::new();
            if left(0) {
                at_rest.extend([
                    (Limb::Dorsiflexion, 0.0),
                    (Limb::Inversion, 0.0),
                    (Limb::ToeExtension, 0.0),
                ]);
            }
            if left(1) {
                at_rest.extend([(Limb::WristFlexion, 0.0), (Limb::WristDeviation, 0.0)]);
                let arm = [Limb::ShoulderFlexion, Limb::ShoulderAbduction, Limb::ElbowFlexion];
                let spoken = arm.iter().any(|l| self.asked[paired(*l, side).0]);
                let up = self.from.turn.y.y;
                if !spoken && 0.7 < up {
                    // Hanging, as in standing.
                    at_rest.extend([
                        (Limb::ShoulderFlexion, 4.0),
                        (Limb::ShoulderAbduction, 6.0),
                        (Limb::ShoulderRotation, 0.0),
                        (Limb::ElbowFlexion, 10.0),
                        (Limb::Supination, -10.0),
                    ]);
                }
            }
            for (limb, degrees) in at_rest {
                let d = paired(limb, side);
                if !self.asked[d.0] {
                    self.targets.angles[d.0] = radians(degrees);
                }
            }
        }
    }

    /// A stick in both hands keeps them apart as they are, a shoulder's breadth from the start.
    fn hold_stick(&mut self, touching: &[Touching]) {
        let holds = |s: Side| {
            touching
                .iter()
                .any(|t| t.holds && t.surface == Surface::Prop(PropKind::Stick) && t.part.side == Some(s))
        };
        if holds(Side::Right) && holds(Side::Left) {
            let distance = 2.2 * body::SHOULDER_HALF_BREADTH * self.body.stature();
            self.rows.push(Row::Distance {
                a: Point::Palm(Side::Left),
                b: Point::Palm(Side::Right),
                distance,
                tolerance: 0.010,
            });
        }
    }

    /// The blade rises with a raised arm, about a degree for eight beyond 30°: from memory.
    fn carry_the_blades(&mut self) {
        for side in Side::BOTH {
            let asked = |limb: Limb| {
                let d = paired(limb, side);
                self.set.iter().find(|(have, _)| *have == d).map_or(self.from.angle(d), |(_, t)| *t)
            };
            let e = math::hypot(asked(Limb::ShoulderFlexion), asked(Limb::ShoulderAbduction));
            let d = paired(Limb::BladeElevation, side);
            let spoken =
                self.set.iter().any(|(s, _)| s.limb().is_some_and(|(have, l)| have == side && is_swing(l)));
            if spoken && !self.asked[d.0] {
                self.targets.angles[d.0] = ((e - radians(30.0)) / 8.0).max(0.0);
            }
        }
    }

    /// The pelvis keeps roughly its turn, more loosely once a pose has left the posture.
    fn root(&mut self) {
        let tolerance = radians(30.0);
        for axis in [Vec3::X, Vec3::Y] {
            self.rows.push(Row::Along {
                way: Way::In(Segment::Pelvis, axis),
                target: self.from.turn * axis,
                tolerance,
            });
        }
        if self.base.topples && !self.base.low {
            // Hips face ahead and stand level unless something asks otherwise: from memory, as a
            // physiotherapist would correct them.
            let facing = Way::In(Segment::Pelvis, Vec3::X);
            let across = Way::In(Segment::Pelvis, Vec3::Z);
            let tolerance = radians(6.0);
            self.rows.push(Row::PartAlong { way: facing, target: self.base.right, part: 0.0, tolerance });
            self.rows.push(Row::PartAlong { way: across, target: Vec3::Y, part: 0.0, tolerance });
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

fn is_swing(l: Limb) -> bool {
    matches!(l, Limb::ShoulderFlexion | Limb::ShoulderAbduction)
}

fn carrying(surface: Surface) -> bool {
    match surface {
        Surface::Floor => true,
        Surface::Prop(kind) => carries(kind),
        Surface::Body(_) => false,
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
