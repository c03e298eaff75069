//! Segments, joints, ranges, masses, mirror and forward kinematics. Knows no exercises.
//!
//! Frame: x forward, y up, z to the right (ISB); metres and radians inside, degrees at the edges.
//! Rotation sequences, each distal frame in its proximal one, right side (the left is its mirror):
//! hip, ankle, spine joints and neck Z-X-Y (flexion, then ab/adduction, inversion or side bend, then
//! rotation); knee, elbow, toes and head Z; forearm Y; wrist X-Z; shoulder blade Y-X about the
//! sternoclavicular joint. The shoulder is swing and twist: `exp(swing) · twist about the upper arm`,
//! where the swing vector's two parts are flexion (about Z) and abduction (about X). It is singular
//! only at an elevation of 180°, which the cap of 175° keeps out. The hip's sequence is singular at
//! 90° of abduction, out of its range. How far an arm is turned out is counted as clinicians do where the arm is
//! ([`turned_out`]). [`readout`] reads all angles back, and the shoulder's also as the ISB has them.

pub mod dof;
pub mod flesh;
pub mod names;
pub mod range;
pub mod readout;
pub mod statics;
mod variant;

use crate::measure::math;
use crate::space::{Rotation, Vec3, turning_axis, v3};
use dof::{COUNT, Dof, Limb, paired};
use flesh::{BallId, TABLE};
use names::{Region, Segment, Side};
use variant::Proportions;
pub use variant::Variant;

/// Number of segments; [`segment_index`] numbers them.
pub const SEGMENTS: usize = 21;

/// A body of a given stature and kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Metres.
    stature: f64,
    variant: Variant,
}

impl Body {
    /// The body that tolerances are stated for.
    pub const USUAL_STATURE: f64 = 1.70;

    /// An adult body of that stature in metres, held to 0.8 to 2.3.
    pub fn of_stature(metres: f64) -> Body {
        let stature = if metres.is_finite() { metres.clamp(0.8, 2.3) } else { Body::USUAL_STATURE };
        Body { stature, variant: Variant::Adult }
    }

    pub fn usual() -> Body {
        Body::of(Variant::Adult)
    }

    /// A body of that kind and its usual stature.
    pub fn of(variant: Variant) -> Body {
        Body { stature: variant.usual_stature(), variant }
    }

    /// The same stature as a body of another kind.
    pub fn with(self, variant: Variant) -> Body {
        Body { variant, ..self }
    }

    /// Metres.
    pub fn stature(&self) -> f64 {
        self.stature
    }

    pub fn variant(&self) -> Variant {
        self.variant
    }

    /// Height of the hip joints in standing, fraction of stature.
    pub fn hip_height(&self) -> f64 {
        self.variant.proportions().offset[0].y
    }

    /// From the parent's joint to the segment's own in the parent's frame, metres; zero for the pelvis.
    pub fn offset(&self, segment: Segment) -> Vec3 {
        match parent_of(segment) {
            Some(_) => self.variant.proportions().offset[segment_index(segment)] * self.stature,
            None => Vec3::ZERO,
        }
    }

    /// Share of the body's mass, and the segment's centre of mass from its joint in its own frame, metres.
    pub fn mass(&self, segment: Segment) -> (f64, Vec3) {
        let (p, i) = (self.variant.proportions(), segment_index(segment));
        (p.mass[i], p.com[i] * self.stature)
    }

    /// A skin point from its segment's joint in the segment's frame, metres.
    pub fn skin_at(&self, skin: Skin) -> Vec3 {
        self.variant.proportions().skin[skin.ball][skin.side as usize] * self.stature
    }

    /// Radius of a skin point, metres.
    pub fn radius(&self, skin: Skin) -> f64 {
        self.variant.proportions().radius[skin.ball] * self.stature
    }
}

/// Where a body is and how it is bent: the pelvis' place and turn in the room, and all joint coordinates.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Midpoint of the hip joints, metres.
    pub root: Vec3,
    pub turn: Rotation,
    /// Radians, clinical sign, by [`Dof`].
    pub angles: [f64; COUNT],
}

impl State {
    /// Standing upright over the origin, arms at the sides, all angles zero (an older body is not stooped here).
    pub fn standing(body: &Body) -> State {
        State {
            root: v3(0.0, body.hip_height() * body.stature, 0.0),
            turn: Rotation::NONE,
            angles: [0.0; COUNT],
        }
    }

    pub fn angle(&self, dof: Dof) -> f64 {
        self.angles[dof.0]
    }

    /// The state seen in the mirror: right becomes left.
    pub fn mirrored(&self) -> State {
        let mut angles = [0.0; COUNT];
        for (i, a) in angles.iter_mut().enumerate() {
            let d = Dof(i);
            let value = self.angles[d.mirrored().0];
            *a = if d.mirror_sign() < 0.0 { 0.0 - value } else { value };
        }
        State { root: self.root.mirrored(), turn: self.turn.mirrored(), angles }
    }
}

/// Heights of joints in the standing body, as fractions of stature
/// (`references/anthropometry.md` section 1 unless said otherwise).
pub const HIP_HEIGHT: f64 = 0.530;
pub const KNEE_HEIGHT: f64 = 0.285;
pub const ANKLE_HEIGHT: f64 = 0.039;
pub const SHOULDER_HEIGHT: f64 = 0.818;
pub const EYE_HEIGHT: f64 = 0.936;
pub const UPPER_ARM: f64 = 0.186;
pub const FOREARM: f64 = 0.146;
pub const HAND: f64 = 0.108;
pub const THIGH: f64 = 0.245;
pub const SHANK: f64 = 0.246;
pub const SHOULDER_HALF_BREADTH: f64 = 0.129;
/// Hip joint centre from the midline: from memory.
pub const HIP_HALF_BREADTH: f64 = 0.050;

/// Joint positions in the standing body, fractions of stature, right side. The spine's are from
/// memory: L5-S1, T12-L1, C7-T1 and the head's joint on the neck; the rest follow the lengths above.
fn joint_at(segment: Segment) -> Vec3 {
    match segment {
        Segment::Pelvis => v3(0.0, HIP_HEIGHT, 0.0),
        Segment::Waist => v3(-0.012, 0.582, 0.0),
        Segment::Chest => v3(-0.018, 0.676, 0.0),
        Segment::Neck => v3(-0.018, 0.840, 0.0),
        Segment::Head => v3(-0.002, 0.910, 0.0),
        Segment::Girdle(_) => v3(0.006, SHOULDER_HEIGHT, 0.015),
        Segment::UpperArm(_) => v3(0.0, SHOULDER_HEIGHT, SHOULDER_HALF_BREADTH),
        Segment::Forearm(_) => v3(0.0, SHOULDER_HEIGHT - UPPER_ARM, SHOULDER_HALF_BREADTH),
        Segment::Hand(_) => v3(0.0, SHOULDER_HEIGHT - UPPER_ARM - FOREARM, SHOULDER_HALF_BREADTH),
        Segment::Thigh(_) => v3(0.0, HIP_HEIGHT, HIP_HALF_BREADTH),
        Segment::Shank(_) => v3(0.0, KNEE_HEIGHT, HIP_HALF_BREADTH),
        Segment::Foot(_) => v3(0.0, ANKLE_HEIGHT, HIP_HALF_BREADTH),
        Segment::Toes(_) => v3(0.076, 0.012, HIP_HALF_BREADTH),
    }
}

/// Share of the body's mass, and centre of mass in the standing body (fractions of stature, right side).
/// Winter's table (`references/anthropometry.md` section 2): limbs by its proximal fractions; head and
/// neck at ear level; the three trunk masses placed so that together they lie half way from hip to
/// shoulder, as the table's whole trunk does.
fn mass_of(segment: Segment) -> (f64, Vec3) {
    let arm = SHOULDER_HALF_BREADTH;
    let leg = HIP_HALF_BREADTH;
    let down = |from: f64, length: f64, share: f64| from - length * share;
    match segment {
        Segment::Pelvis => (0.142, v3(-0.006, 0.548, 0.0)),
        Segment::Waist => (0.139, v3(-0.004, 0.640, 0.0)),
        Segment::Chest => (0.216, v3(-0.006, 0.7787, 0.0)),
        Segment::Neck | Segment::Girdle(_) | Segment::Toes(_) => (0.0, Vec3::ZERO),
        Segment::Head => (0.081, v3(0.0, EYE_HEIGHT, 0.0)),
        Segment::UpperArm(_) => (0.028, v3(0.0, down(SHOULDER_HEIGHT, UPPER_ARM, 0.436), arm)),
        Segment::Forearm(_) => (0.016, v3(0.0, down(SHOULDER_HEIGHT - UPPER_ARM, FOREARM, 0.430), arm)),
        Segment::Hand(_) => (0.006, v3(0.0, SHOULDER_HEIGHT - UPPER_ARM - FOREARM - 0.5 * 0.506 * HAND, arm)),
        Segment::Thigh(_) => (0.100, v3(0.0, down(HIP_HEIGHT, THIGH, 0.433), leg)),
        Segment::Shank(_) => (0.0465, v3(0.0, down(KNEE_HEIGHT, SHANK, 0.433), leg)),
        Segment::Foot(_) => (0.0145, v3(0.0375, 0.0195, leg)),
    }
}

/// All segments, parents before children.
pub const ALL_SEGMENTS: [Segment; SEGMENTS] = {
    use Segment::*;
    use Side::{Left as L, Right as R};
    [
        Pelvis,
        Waist,
        Chest,
        Neck,
        Head,
        Girdle(R),
        UpperArm(R),
        Forearm(R),
        Hand(R),
        Thigh(R),
        Shank(R),
        Foot(R),
        Toes(R),
        Girdle(L),
        UpperArm(L),
        Forearm(L),
        Hand(L),
        Thigh(L),
        Shank(L),
        Foot(L),
        Toes(L),
    ]
};

pub const fn segment_index(segment: Segment) -> usize {
    const fn off(s: Side) -> usize {
        match s {
            Side::Right => 0,
            Side::Left => 8,
        }
    }
    match segment {
        Segment::Pelvis => 0,
        Segment::Waist => 1,
        Segment::Chest => 2,
        Segment::Neck => 3,
        Segment::Head => 4,
        Segment::Girdle(s) => 5 + off(s),
        Segment::UpperArm(s) => 6 + off(s),
        Segment::Forearm(s) => 7 + off(s),
        Segment::Hand(s) => 8 + off(s),
        Segment::Thigh(s) => 9 + off(s),
        Segment::Shank(s) => 10 + off(s),
        Segment::Foot(s) => 11 + off(s),
        Segment::Toes(s) => 12 + off(s),
    }
}

/// The side of a paired segment.
pub fn side_of(segment: Segment) -> Option<Side> {
    match segment {
        Segment::Girdle(s)
        | Segment::UpperArm(s)
        | Segment::Forearm(s)
        | Segment::Hand(s)
        | Segment::Thigh(s)
        | Segment::Shank(s)
        | Segment::Foot(s)
        | Segment::Toes(s) => Some(s),
        _ => None,
    }
}

/// The segment it hangs on; `None` for the pelvis.
pub fn parent_of(segment: Segment) -> Option<Segment> {
    Some(match segment {
        Segment::Pelvis => return None,
        Segment::Waist | Segment::Thigh(_) => Segment::Pelvis,
        Segment::Chest => Segment::Waist,
        Segment::Neck | Segment::Girdle(_) => Segment::Chest,
        Segment::Head => Segment::Neck,
        Segment::UpperArm(s) => Segment::Girdle(s),
        Segment::Forearm(s) => Segment::UpperArm(s),
        Segment::Hand(s) => Segment::Forearm(s),
        Segment::Shank(s) => Segment::Thigh(s),
        Segment::Foot(s) => Segment::Shank(s),
        Segment::Toes(s) => Segment::Foot(s),
    })
}

/// The same segment of the other side.
pub fn mirrored(segment: Segment) -> Segment {
    match segment {
        Segment::Girdle(s) => Segment::Girdle(s.other()),
        Segment::UpperArm(s) => Segment::UpperArm(s.other()),
        Segment::Forearm(s) => Segment::Forearm(s.other()),
        Segment::Hand(s) => Segment::Hand(s.other()),
        Segment::Thigh(s) => Segment::Thigh(s.other()),
        Segment::Shank(s) => Segment::Shank(s.other()),
        Segment::Foot(s) => Segment::Foot(s.other()),
        Segment::Toes(s) => Segment::Toes(s.other()),
        s => s,
    }
}

/// A sphere of the flesh table on one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Skin {
    pub ball: BallId,
    /// `Right` for unpaired spheres.
    pub side: Side,
}

impl Skin {
    /// All spheres of the body.
    pub fn all() -> impl Iterator<Item = Skin> {
        (0..TABLE.len()).flat_map(|ball| {
            Side::BOTH
                .into_iter()
                .filter(move |s| TABLE[ball].paired || *s == Side::Right)
                .map(move |side| Skin { ball, side })
        })
    }

    pub fn segment(self) -> Segment {
        let s = TABLE[self.ball].segment;
        if TABLE[self.ball].paired && self.side == Side::Left { mirrored(s) } else { s }
    }

    /// A region that touches by this point, if any does.
    pub fn region(self) -> Option<Region> {
        Region::ALL.into_iter().find(|r| flesh::touching(*r).contains(&self.ball))
    }

    /// The same point on the other side.
    pub fn mirrored(self) -> Skin {
        if TABLE[self.ball].paired { Skin { side: self.side.other(), ..self } } else { self }
    }

    /// The spheres by which `region` touches, on that side where it is paired.
    pub fn of(region: Region, side: Option<Side>) -> Vec<Skin> {
        let mut found = Vec::new();
        for &ball in flesh::touching(region) {
            for s in Side::BOTH {
                let wanted = if !TABLE[ball].paired {
                    s == Side::Right
                } else if region.is_paired() {
                    side.unwrap_or(Side::Right) == s
                } else {
                    true
                };
                if wanted {
                    found.push(Skin { ball, side: s });
                }
            }
        }
        found
    }
}

/// A body in a state: every segment's place and turn in the room, and every coordinate's axis.
#[derive(Clone, Debug)]
pub struct Placed {
    stature: f64,
    proportions: &'static Proportions,
    origins: [Vec3; SEGMENTS],
    turns: [Rotation; SEGMENTS],
    axes: [Vec3; COUNT],
    root: Vec3,
}

impl Body {
    /// Forward kinematics.
    pub fn place(&self, state: &State) -> Placed {
        let h = self.stature;
        let offset = &self.variant.proportions().offset;
        let mut p = Placed {
            stature: h,
            proportions: self.variant.proportions(),
            origins: [Vec3::ZERO; SEGMENTS],
            turns: [Rotation::NONE; SEGMENTS],
            axes: [Vec3::ZERO; COUNT],
            root: state.root,
        };
        p.origins[0] = state.root;
        p.turns[0] = state.turn;
        let a = |d: Dof| state.angles[d.0];
        for segment in ALL_SEGMENTS {
            let Some(up) = parent_of(segment) else { continue };
            let (me, up) = (segment_index(segment), segment_index(up));
            p.origins[me] = p.origins[up] + p.turns[up] * (offset[me] * h);
            match joint_of(segment) {
                // The coordinates' own axes one after the other, from the parent's frame.
                Turning::Hinges(hinges) => {
                    let mut turn = p.turns[up];
                    for (d, axis) in hinges.into_iter().flatten() {
                        p.axes[d.0] = turn * axis;
                        turn = turn * about(axis, a(d));
                    }
                    p.turns[me] = turn;
                }
                Turning::Swing { against, swing: [(f, forward), (b, outward)], twist: (t, axis) } => {
                    let chest = p.turns[segment_index(against)];
                    let swing = forward * a(f) + outward * a(b);
                    p.axes[f.0] = chest * turning_axis(swing, forward);
                    p.axes[b.0] = chest * turning_axis(swing, outward);
                    let swung = chest * Rotation::exp(swing);
                    p.axes[t.0] = swung * axis;
                    p.turns[me] = swung * about(axis, a(t));
                }
            }
        }
        p
    }
}

/// How a segment turns at its joint. Axes are in the standing body, of the segment's own side; a coordinate's growing
/// turns the segment about its axis by the right-hand rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turning {
    /// About one axis after the other, each in the frame that the ones before it leave, the first in the parent's.
    Hinges([Option<(Dof, Vec3)>; 3]),
    /// The shoulder: by the length of `Σ coordinate · swing` about its direction in the frame of `against`, then
    /// about the segment's own axis. The segment hangs on its parent, but is turned against `against`.
    Swing { against: Segment, swing: [(Dof, Vec3); 2], twist: (Dof, Vec3) },
}

/// The joint by which a segment hangs on its parent; the pelvis has none.
pub fn joint_of(segment: Segment) -> Turning {
    let spine = |f: Dof, b: Dof, t: Dof| {
        Turning::Hinges([Some((f, -Vec3::Z)), Some((b, Vec3::X)), Some((t, -Vec3::Y))])
    };
    let two = |side: Side, a: (Limb, Vec3), b: (Limb, Vec3)| {
        Turning::Hinges([Some((paired(a.0, side), a.1)), Some((paired(b.0, side), b.1)), None])
    };
    let one = |d: Dof, axis: Vec3| Turning::Hinges([Some((d, axis)), None, None]);
    let side = side_of(segment).unwrap_or(Side::Right);
    // Axes forward and up change sense in the mirror, the one across does not.
    let s = if side == Side::Right { 1.0 } else { -1.0 };
    let (x, y, z) = (Vec3::X * s, Vec3::Y * s, Vec3::Z);
    match segment {
        Segment::Pelvis => Turning::Hinges([None; 3]),
        Segment::Waist => spine(dof::LUMBAR_FLEXION, dof::LUMBAR_BEND, dof::LUMBAR_TURN),
        Segment::Chest => spine(dof::THORAX_FLEXION, dof::THORAX_BEND, dof::THORAX_TURN),
        Segment::Neck => spine(dof::NECK_FLEXION, dof::NECK_BEND, dof::NECK_TURN),
        Segment::Head => one(dof::HEAD_FLEXION, -z),
        Segment::Girdle(_) => two(side, (Limb::BladeProtraction, y), (Limb::BladeElevation, -x)),
        Segment::UpperArm(_) => Turning::Swing {
            against: Segment::Chest,
            swing: [(paired(Limb::ShoulderFlexion, side), z), (paired(Limb::ShoulderAbduction, side), -x)],
            twist: (paired(Limb::ShoulderRotation, side), -y),
        },
        Segment::Forearm(_) => two(side, (Limb::ElbowFlexion, z), (Limb::Supination, -y)),
        Segment::Hand(_) => two(side, (Limb::WristFlexion, x), (Limb::WristDeviation, -z)),
        Segment::Thigh(_) => Turning::Hinges([
            Some((paired(Limb::HipFlexion, side), z)),
            Some((paired(Limb::HipAbduction, side), -x)),
            Some((paired(Limb::HipRotation, side), -y)),
        ]),
        Segment::Shank(_) => one(paired(Limb::KneeFlexion, side), -z),
        Segment::Foot(_) => two(side, (Limb::Dorsiflexion, z), (Limb::Inversion, x)),
        Segment::Toes(_) => one(paired(Limb::ToeExtension, side), z),
    }
}

fn about(axis: Vec3, angle: f64) -> Rotation {
    if axis.x != 0.0 {
        Rotation::about_x(axis.x * angle)
    } else if axis.y != 0.0 {
        Rotation::about_y(axis.y * angle)
    } else {
        Rotation::about_z(axis.z * angle)
    }
}

/// The segment that a coordinate moves first, and the segment whose origin its axis goes through.
fn moved_by(d: Dof) -> (Segment, Segment) {
    let same = |s: Segment| (s, s);
    match d {
        dof::LUMBAR_FLEXION | dof::LUMBAR_BEND | dof::LUMBAR_TURN => same(Segment::Waist),
        dof::THORAX_FLEXION | dof::THORAX_BEND | dof::THORAX_TURN => same(Segment::Chest),
        dof::NECK_FLEXION | dof::NECK_BEND | dof::NECK_TURN => same(Segment::Neck),
        dof::HEAD_FLEXION => same(Segment::Head),
        _ => match d.limb() {
            Some((s, Limb::BladeElevation | Limb::BladeProtraction)) => same(Segment::Girdle(s)),
            Some((s, Limb::ShoulderFlexion | Limb::ShoulderAbduction | Limb::ShoulderRotation)) => {
                same(Segment::UpperArm(s))
            }
            Some((s, Limb::ElbowFlexion | Limb::Supination)) => same(Segment::Forearm(s)),
            Some((s, Limb::WristFlexion | Limb::WristDeviation)) => same(Segment::Hand(s)),
            Some((s, Limb::HipFlexion | Limb::HipAbduction | Limb::HipRotation)) => same(Segment::Thigh(s)),
            Some((s, Limb::KneeFlexion)) => same(Segment::Shank(s)),
            Some((s, Limb::Dorsiflexion | Limb::Inversion)) => same(Segment::Foot(s)),
            Some((s, Limb::ToeExtension)) => same(Segment::Toes(s)),
            None => same(Segment::Pelvis),
        },
    }
}

/// For each segment the coordinates that move it, as bits.
fn movers() -> &'static [u64; SEGMENTS] {
    static TABLE: std::sync::OnceLock<[u64; SEGMENTS]> = std::sync::OnceLock::new();
    TABLE.get_or_init(|| {
        let mut table = [0u64; SEGMENTS];
        for segment in ALL_SEGMENTS {
            let me = segment_index(segment);
            let inherited = parent_of(segment).map_or(0, |p| table[segment_index(p)]);
            table[me] = inherited;
            for i in 0..COUNT {
                if moved_by(Dof(i)).0 == segment {
                    table[me] |= 1 << i;
                }
            }
        }
        table
    })
}

/// The coordinates that move `segment`, nearest the pelvis first.
pub fn moving(segment: Segment) -> impl Iterator<Item = Dof> {
    let bits = movers()[segment_index(segment)];
    (0..COUNT).filter(move |i| bits >> i & 1 == 1).map(Dof)
}

impl Placed {
    pub fn stature(&self) -> f64 {
        self.stature
    }

    /// The joint at the near end of the segment (for the pelvis, the midpoint of the hip joints).
    pub fn joint(&self, segment: Segment) -> Vec3 {
        self.origins[segment_index(segment)]
    }

    pub fn turn(&self, segment: Segment) -> Rotation {
        self.turns[segment_index(segment)]
    }

    /// A point fixed to the segment, given in the standing adult body as fractions of stature (right side;
    /// mirrored for a left segment): in a body of another kind the like point.
    pub fn point(&self, segment: Segment, standing: Vec3) -> Vec3 {
        let at = if side_of(segment) == Some(Side::Left) { standing.mirrored() } else { standing };
        self.fixed(segment, self.proportions.local(segment, at))
    }

    fn fixed(&self, segment: Segment, local: Vec3) -> Vec3 {
        let i = segment_index(segment);
        self.origins[i] + self.turns[i] * (local * self.stature)
    }

    /// The centre of a skin sphere.
    pub fn skin(&self, skin: Skin) -> Vec3 {
        self.fixed(skin.segment(), self.proportions.skin[skin.ball][skin.side as usize])
    }

    /// The radius of a skin sphere, metres.
    pub fn radius(&self, skin: Skin) -> f64 {
        self.proportions.radius[skin.ball] * self.stature
    }

    /// How far a skin point gives before it counts as touching too deep, metres; 0 where it is firm.
    pub fn gives(&self, skin: Skin) -> f64 {
        self.proportions.gives[skin.ball] * self.stature
    }

    /// How thick the segment's flesh is, as a share of an adult's.
    pub fn thickness(&self, segment: Segment) -> f64 {
        self.proportions.thickness[segment_index(segment)]
    }

    /// The far end of the segment: the next joint, the vertex, the fingertips, the toe tip.
    pub fn far_end(&self, segment: Segment) -> Vec3 {
        let arm = SHOULDER_HALF_BREADTH;
        match segment {
            Segment::Pelvis => self.joint(Segment::Waist),
            Segment::Waist => self.joint(Segment::Chest),
            Segment::Chest => self.joint(Segment::Neck),
            Segment::Neck => self.joint(Segment::Head),
            Segment::Head => self.point(segment, v3(-0.004, 1.0, 0.0)),
            Segment::Girdle(s) => self.joint(Segment::UpperArm(s)),
            Segment::UpperArm(s) => self.joint(Segment::Forearm(s)),
            Segment::Forearm(s) => self.joint(Segment::Hand(s)),
            Segment::Hand(_) => {
                self.point(segment, v3(0.0, SHOULDER_HEIGHT - UPPER_ARM - FOREARM - HAND, arm))
            }
            Segment::Thigh(s) => self.joint(Segment::Shank(s)),
            Segment::Shank(s) => self.joint(Segment::Foot(s)),
            Segment::Foot(s) => self.joint(Segment::Toes(s)),
            Segment::Toes(_) => self.point(segment, v3(0.113, 0.010, HIP_HALF_BREADTH)),
        }
    }

    /// Whole-body centre of mass.
    pub fn centre_of_mass(&self) -> Vec3 {
        let mut sum = Vec3::ZERO;
        for segment in ALL_SEGMENTS {
            let i = segment_index(segment);
            let m = self.proportions.mass[i];
            if 0.0 < m {
                sum += self.fixed(segment, self.proportions.com[i]) * m;
            }
        }
        sum
    }

    /// How a point `at` fixed to `segment` moves when coordinate `d` grows (metres per radian), if it does.
    pub fn speed(&self, segment: Segment, at: Vec3, d: Dof) -> Vec3 {
        if movers()[segment_index(segment)] >> d.0 & 1 == 0 {
            return Vec3::ZERO;
        }
        let axis = self.axes[d.0];
        let (first, pivot) = moved_by(d);
        match (first, segment) {
            // The girdle carries the arm without turning it.
            (Segment::Girdle(s), seg) if seg != first => {
                axis.cross(self.joint(Segment::UpperArm(s)) - self.joint(pivot))
            }
            _ => axis.cross(at - self.joint(pivot)),
        }
    }

    /// The axis about which `segment` turns when coordinate `d` grows; zero if it doesn't turn.
    pub fn turning(&self, segment: Segment, d: Dof) -> Vec3 {
        if movers()[segment_index(segment)] >> d.0 & 1 == 0 {
            return Vec3::ZERO;
        }
        match moved_by(d).0 {
            first @ Segment::Girdle(_) if segment != first => Vec3::ZERO,
            _ => self.axes[d.0],
        }
    }

    /// How the centre of mass moves with each coordinate, metres per radian.
    pub fn centre_of_mass_speeds(&self) -> [Vec3; COUNT] {
        let mut speeds = [Vec3::ZERO; COUNT];
        for segment in ALL_SEGMENTS {
            let i = segment_index(segment);
            let m = self.proportions.mass[i];
            if m == 0.0 {
                continue;
            }
            let at = self.fixed(segment, self.proportions.com[i]);
            for d in moving(segment) {
                speeds[d.0] += self.speed(segment, at, d) * m;
            }
        }
        speeds
    }

    /// The pivot of the pelvis' own turning.
    pub fn root(&self) -> Vec3 {
        self.root
    }
}

/// How far the arm is raised in any plane, radians.
pub fn elevation(state: &State, side: Side) -> f64 {
    math::hypot(
        state.angle(paired(Limb::ShoulderFlexion, side)),
        state.angle(paired(Limb::ShoulderAbduction, side)),
    )
}

/// How far an upper arm is turned out as clinicians count it where the arm is, radians, with its derivatives by the
/// swing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnedOut {
    pub value: f64,
    pub by_flexion: f64,
    pub by_abduction: f64,
}

/// Zero is, with the elbow bent, the forearm forward at the side and at 90° of abduction, and across to the midline at
/// 90° of flexion. The coordinate ([`Limb::ShoulderRotation`]) is the twist without that: an arm that swings straight
/// forward keeps its twist, and is turned out by 90° in the clinical sense once it is level in front.
pub fn turned_out(state: &State, side: Side) -> TurnedOut {
    let twist = state.angle(paired(Limb::ShoulderRotation, side));
    let (f, a) = (
        state.angle(paired(Limb::ShoulderFlexion, side)),
        state.angle(paired(Limb::ShoulderAbduction, side)),
    );
    let raised = math::hypot(f, a);
    if f <= 0.0 || raised < 1e-6 {
        return TurnedOut { value: twist, by_flexion: 0.0, by_abduction: 0.0 };
    }
    // The plane from the frontal one (0) to straight forward (90°), coming in as the arm is raised to level.
    let plane = math::atan2(f, a.max(0.0));
    let u = (raised / core::f64::consts::FRAC_PI_2).min(1.0);
    let share = u * u * (3.0 - 2.0 * u);
    let slope = if u < 1.0 { 6.0 * u * (1.0 - u) / core::f64::consts::FRAC_PI_2 } else { 0.0 };
    let (plane_f, plane_a) =
        if 0.0 < a { (a / (raised * raised), 0.0 - f / (raised * raised)) } else { (0.0, 0.0) };
    TurnedOut {
        value: twist + share * plane,
        by_flexion: share * plane_f + slope * (f / raised) * plane,
        by_abduction: share * plane_a + slope * (a / raised) * plane,
    }
}

#[cfg(test)]
mod tests;
