//! Angles read back from a placed body: the inverse of [`Body::place`](super::Body::place).
//!
//! Every joint but the shoulder is read by its own sequence (module [`super`]); of those the Z-X-Y ones are singular where
//! the middle angle (abduction, side bend, inversion) is 90°, which no range reaches. The shoulder is read as swing and
//! twist, singular only at 180° of elevation. [`isb_shoulder`] is the Y-X-Y read-out of the ISB (Wu 2005), which is
//! singular at both ends: near 0° its plane and its axial rotation turn into each other, so below a degree the plane is
//! called 0 and the axial rotation is the whole turn; near 180° likewise.

use super::dof::{self, COUNT, Dof, Limb, paired};
use super::names::{Segment, Side};
use super::{Placed, parent_of};
use crate::measure::{math, radians};
use crate::space::{Rotation, Vec3};

/// All joint coordinates of a placed body, radians, clinical sign.
pub fn angles(placed: &Placed) -> [f64; COUNT] {
    let mut a = [0.0; COUNT];
    let between = |segment: Segment| {
        let parent = parent_of(segment).unwrap_or(Segment::Pelvis);
        placed.turn(parent).inverse() * placed.turn(segment)
    };
    let spine = [
        (Segment::Waist, [dof::LUMBAR_FLEXION, dof::LUMBAR_BEND, dof::LUMBAR_TURN]),
        (Segment::Chest, [dof::THORAX_FLEXION, dof::THORAX_BEND, dof::THORAX_TURN]),
        (Segment::Neck, [dof::NECK_FLEXION, dof::NECK_BEND, dof::NECK_TURN]),
    ];
    for (segment, [flexion, bend, turn]) in spine {
        let (z, x, y) = zxy(between(segment));
        (a[flexion.0], a[bend.0], a[turn.0]) = (-z, x, -y);
    }
    a[dof::HEAD_FLEXION.0] = -zxy(between(Segment::Head)).0;
    for side in Side::BOTH {
        let s = if side == Side::Right { 1.0 } else { -1.0 };
        let mut set = |limb: Limb, value: f64| a[paired(limb, side).0] = value;
        // Y-X.
        let r = between(Segment::Girdle(side));
        set(Limb::BladeProtraction, s * math::atan2(r.z.x, r.z.z));
        set(Limb::BladeElevation, s * math::asin(r.z.y.clamp(-1.0, 1.0)));
        let (flexion, abduction, twist) = shoulder(placed, side);
        set(Limb::ShoulderFlexion, flexion);
        set(Limb::ShoulderAbduction, abduction);
        set(Limb::ShoulderRotation, twist);
        let (z, _, y) = zxy(between(Segment::Forearm(side)));
        set(Limb::ElbowFlexion, z);
        set(Limb::Supination, -s * y);
        // X-Z.
        let r = between(Segment::Hand(side));
        set(Limb::WristFlexion, s * math::atan2(-r.z.y, r.z.z));
        set(Limb::WristDeviation, math::atan2(r.y.x, r.x.x));
        let (z, x, y) = zxy(between(Segment::Thigh(side)));
        set(Limb::HipFlexion, z);
        set(Limb::HipAbduction, -s * x);
        set(Limb::HipRotation, -s * y);
        set(Limb::KneeFlexion, -zxy(between(Segment::Shank(side))).0);
        let (z, x, _) = zxy(between(Segment::Foot(side)));
        set(Limb::Dorsiflexion, z);
        set(Limb::Inversion, s * x);
        set(Limb::ToeExtension, zxy(between(Segment::Toes(side))).0);
    }
    a
}

/// The Cardan angles of Rz·Rx·Ry.
fn zxy(r: Rotation) -> (f64, f64, f64) {
    (math::atan2(-r.y.x, r.y.y), math::asin(r.y.z.clamp(-1.0, 1.0)), math::atan2(-r.x.z, r.z.z))
}

/// Swing forwards, swing outwards, and twist outwards of the upper arm against the chest.
fn shoulder(placed: &Placed, side: Side) -> (f64, f64, f64) {
    let s = if side == Side::Right { 1.0 } else { -1.0 };
    let r = placed.turn(Segment::Chest).inverse() * placed.turn(Segment::UpperArm(side));
    let arm = r * -Vec3::Y;
    let across = (-Vec3::Y).cross(arm);
    let raised = math::atan2(across.norm(), (-Vec3::Y).dot(arm));
    let swing = across.unit_or(Vec3::Z) * raised;
    let twist = Rotation::exp(swing).inverse() * r;
    (swing.z, -s * swing.x, -s * math::atan2(twist.z.x, twist.z.z))
}

/// Upper arm against chest in the ISB's Y-X-Y angles, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IsbShoulder {
    /// 0 is abduction, 90° forward flexion.
    pub plane: f64,
    /// Never negative.
    pub elevation: f64,
    /// Inward rotation positive, as the ISB has it.
    pub axial: f64,
}

/// Reads the ISB's angles; a left arm is read in the mirror.
pub fn isb_shoulder(placed: &Placed, side: Side) -> IsbShoulder {
    let r = placed.turn(Segment::Chest).inverse() * placed.turn(Segment::UpperArm(side));
    let r = if side == Side::Left { r.mirrored() } else { r };
    let elevation = math::acos(r.y.y.clamp(-1.0, 1.0));
    let end = radians(1.0);
    if elevation < end || radians(180.0) - end < elevation {
        let sign = if elevation < end { 1.0 } else { -1.0 };
        return IsbShoulder { plane: 0.0, elevation, axial: math::atan2(sign * r.z.x, sign * r.z.z) };
    }
    // r.y = Ry(plane)·Rx(−elevation)·y.
    let plane = math::atan2(-r.y.x, -r.y.z);
    let rest = Rotation::about_x(elevation) * Rotation::about_y(-plane) * r;
    IsbShoulder { plane, elevation, axial: math::atan2(rest.z.x, rest.z.z) }
}

/// The largest difference between coordinates put in and read back, for tests and checks, radians.
pub fn worst(put: &[f64; COUNT], read: &[f64; COUNT]) -> (Dof, f64) {
    let mut worst = (Dof(0), 0.0);
    for i in 0..COUNT {
        let off = (put[i] - read[i]).abs();
        if worst.1 < off {
            worst = (Dof(i), off);
        }
    }
    worst
}
