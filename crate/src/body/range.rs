//! How far joints go: one table, in degrees, each row with its source.
//!
//! "VA", "AAOS", "Boone", "Macedo" are the columns of `references/joint-ranges.md`. These bound what
//! can be drawn of a healthy adult; a patient's own limits come first.

use super::dof::{self, COUNT, Dof, Limb};
use super::names::{Angle, Motion, Side};

/// Range of one coordinate: lowest and highest value, degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    pub low: f64,
    pub high: f64,
}

const fn r(low: f64, high: f64) -> Range {
    Range { low, high }
}

/// The range of a coordinate.
pub fn of(dof: Dof) -> Range {
    match dof {
        // Thoracolumbar 90 / 30 (VA), split over the two spine joints: from memory.
        dof::LUMBAR_FLEXION => r(-20.0, 55.0),
        dof::THORAX_FLEXION => r(-10.0, 35.0),
        // Thoracolumbar side bend 35 (AAOS 1965), split: from memory.
        dof::LUMBAR_BEND => r(-17.0, 17.0),
        dof::THORAX_BEND => r(-18.0, 18.0),
        // Thoracolumbar rotation 45 (AAOS 1965), nearly all thoracic: from memory.
        dof::LUMBAR_TURN => r(-8.0, 8.0),
        dof::THORAX_TURN => r(-37.0, 37.0),
        // Cervical 45 / 45 (VA), split over lower and upper neck: from memory.
        dof::NECK_FLEXION => r(-30.0, 30.0),
        dof::HEAD_FLEXION => r(-15.0, 15.0),
        // Cervical side bend 45, rotation 80 (VA).
        dof::NECK_BEND => r(-45.0, 45.0),
        dof::NECK_TURN => r(-80.0, 80.0),
        _ => match dof.limb().map(|(_, l)| l) {
            // Clavicle on the sternum: from memory.
            Some(Limb::BladeElevation) => r(-8.0, 30.0),
            Some(Limb::BladeProtraction) => r(-22.0, 20.0),
            // 180 (VA) less the singular last degrees; extension 60 (AAOS).
            Some(Limb::ShoulderFlexion) => r(-60.0, 175.0),
            // 180 (VA) likewise; across the body 45: from memory.
            Some(Limb::ShoulderAbduction) => r(-45.0, 175.0),
            // 90 / 90 (VA, 38 CFR), as clinicians count it where the arm is ([`super::turned_out`]): in front of
            // the body the twist itself goes further in.
            Some(Limb::ShoulderRotation) => r(-170.0, 90.0),
            // 150 (AAOS); hyperextension not drawn.
            Some(Limb::ElbowFlexion) => r(0.0, 150.0),
            // Pronation 80, supination 85 (VA, 38 CFR).
            Some(Limb::Supination) => r(-80.0, 85.0),
            // Flexion 80 (VA); extension 86 as on a loaded hand (Macedo).
            Some(Limb::WristFlexion) => r(-86.0, 80.0),
            // Ulnar 45, radial 20 (VA, 38 CFR).
            Some(Limb::WristDeviation) => r(-20.0, 45.0),
            // Flexion 125 (VA); extension 20 (AAOS 1994).
            Some(Limb::HipFlexion) => r(-20.0, 125.0),
            // Abduction 45, adduction 30 (AAOS).
            Some(Limb::HipAbduction) => r(-30.0, 45.0),
            // 45 / 45 (AAOS).
            Some(Limb::HipRotation) => r(-45.0, 45.0),
            // Flexion 142: CDC mean of women of 20 to 44, 141.9, lying. Under the body's weight, sitting on the heels,
            // it goes to 155: from memory; as for wrist and ankle, the loaded value. Hyperextension not drawn.
            Some(Limb::KneeFlexion) => r(0.0, 155.0),
            // Plantar flexion 50 (AAOS). Dorsiflexion is 20 on the couch (AAOS), but a foot that is stood
            // on bends up further, in a lunge to 30 or more: from memory; as for the wrist, the loaded value.
            Some(Limb::Dorsiflexion) => r(-50.0, 30.0),
            // Inversion 35 (AAOS); eversion 20 (AAOS in some copies; Boone 21).
            Some(Limb::Inversion) => r(-20.0, 35.0),
            // First metatarsophalangeal joint 70 / 45 (AAOS).
            Some(Limb::ToeExtension) | None => r(-45.0, 70.0),
        },
    }
}

/// The highest value of a clinical angle (`trunk flexion` 90), degrees; `None` if the joint can't make it.
pub fn highest(angle: Angle) -> Option<f64> {
    if angle.motion == Motion::Elevation && angle.joint == super::names::Joint::Shoulder {
        return Some(HIGHEST_ELEVATION);
    }
    if angle.motion == Motion::InternalRotation && angle.joint == super::names::Joint::Shoulder {
        return Some(HIGHEST_TURN_IN);
    }
    let parts = dof::parts(angle);
    if parts.is_empty() {
        return None;
    }
    Some(parts.iter().map(|(d, sign)| if *sign < 0.0 { -of(*d).low } else { of(*d).high }).sum())
}

/// Raising the arm in any plane: 180 (VA) less the singular last degrees.
pub const HIGHEST_ELEVATION: f64 = 175.0;

/// Turning the arm in: 90 (VA, 38 CFR).
pub const HIGHEST_TURN_IN: f64 = 90.0;

/// A muscle over two joints: `Σ kᵢ · angleᵢ` in degrees may not be above `most`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coupled {
    pub muscle: &'static str,
    pub parts: [(Limb, f64); 2],
    pub most: f64,
}

/// Two-joint muscles of one leg. All slopes from memory, fitted to the end points named.
pub const COUPLED: [Coupled; 3] = [
    // A straight-leg raise ends at about 80 (70 to 90), flexion with the knee bent to 90 at 125.
    Coupled { muscle: "hamstrings", parts: [(Limb::HipFlexion, 1.0), (Limb::KneeFlexion, -0.5)], most: 80.0 },
    // The knee bends to about 125 with the hip straight, to the joint's end with it bent 20.
    Coupled {
        muscle: "front of the thigh",
        parts: [(Limb::KneeFlexion, 1.0), (Limb::HipFlexion, -0.85)],
        most: 125.0,
    },
    // The ankle bends up about 8 less (5 to 10) with the knee straight than with it bent 40.
    Coupled { muscle: "calf", parts: [(Limb::Dorsiflexion, 1.0), (Limb::KneeFlexion, -0.2)], most: 22.0 },
];

/// Limits a patient has: bounds in degrees on every coordinate, and on raising the arm.
/// Never wider than the joint ranges.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    bounds: [Range; COUNT],
    elevation: [f64; 2],
}

impl Limits {
    /// The joint ranges alone.
    pub fn none() -> Limits {
        let mut bounds = [r(0.0, 0.0); COUNT];
        for (i, b) in bounds.iter_mut().enumerate() {
            *b = of(Dof(i));
        }
        Limits { bounds, elevation: [HIGHEST_ELEVATION; 2] }
    }

    /// Also holds `angle` at or below `most` degrees. A limit on a sum (trunk, neck) is shared in
    /// proportion to the ranges. A limit on shoulder flexion or abduction also bounds raising the arm
    /// in every plane in front of the frontal one. `most` may be negative: `knee extension` at most
    /// −10 is a deficit of 10.
    pub fn hold(&mut self, angle: Angle, most: f64) {
        let side = angle.side.unwrap_or(Side::Right);
        if angle.joint == super::names::Joint::Shoulder
            && matches!(angle.motion, Motion::Elevation | Motion::Flexion)
        {
            let e = &mut self.elevation[side as usize];
            *e = e.min(most.max(0.0));
            if angle.motion == Motion::Elevation {
                for limb in [Limb::ShoulderFlexion, Limb::ShoulderAbduction] {
                    let b = &mut self.bounds[dof::paired(limb, side).0];
                    b.high = b.high.min(most.max(0.0));
                }
                return;
            }
        }
        let Some(whole) = highest(angle) else { return };
        for (d, sign) in dof::parts(angle) {
            let b = &mut self.bounds[d.0];
            let range = of(d);
            let share = if sign < 0.0 { -range.low } else { range.high };
            let most = if 0.0 < whole && 1 < dof::parts(angle).len() { most * share / whole } else { most };
            if sign < 0.0 {
                b.low = b.low.max(-most).min(b.high);
            } else {
                b.high = b.high.min(most).max(b.low);
            }
        }
    }

    pub fn bounds(&self, dof: Dof) -> Range {
        self.bounds[dof.0]
    }

    /// How far the arm may be raised in a plane before the frontal one, degrees.
    pub fn elevation(&self, side: Side) -> f64 {
        self.elevation[side as usize]
    }

    /// Whether nothing but the joint ranges holds.
    pub fn is_none(&self) -> bool {
        *self == Limits::none()
    }

    /// The limits of the mirrored patient.
    pub fn mirrored(&self) -> Limits {
        let mut m = self.clone();
        for i in 0..COUNT {
            let d = Dof(i);
            let b = self.bounds[d.mirrored().0];
            m.bounds[i] = if d.mirror_sign() < 0.0 { r(-b.high, -b.low) } else { b };
        }
        m.elevation = [self.elevation[1], self.elevation[0]];
        m
    }
}

#[cfg(test)]
mod tests {
    use super::super::names::Joint;
    use super::*;

    #[test]
    fn sums_reach_the_published_ends() {
        let a = |joint, motion| Angle { side: None, joint, motion };
        // VA normal end points, references/joint-ranges.md section 3.
        assert_eq!(highest(a(Joint::Trunk, Motion::Flexion)), Some(90.0));
        assert_eq!(highest(a(Joint::Trunk, Motion::Extension)), Some(30.0));
        assert_eq!(highest(a(Joint::Neck, Motion::Flexion)), Some(45.0));
        assert_eq!(highest(a(Joint::Neck, Motion::Extension)), Some(45.0));
    }

    #[test]
    fn a_limit_narrows_one_side_and_mirrors() {
        let mut l = Limits::none();
        let knee = Angle { side: Some(Side::Right), joint: Joint::Knee, motion: Motion::Flexion };
        l.hold(knee, 60.0);
        let right = dof::paired(Limb::KneeFlexion, Side::Right);
        assert_eq!(l.bounds(right).high, 60.0);
        assert_eq!(l.bounds(right.mirrored()).high, 155.0);
        assert_eq!(l.mirrored().bounds(right.mirrored()).high, 60.0);
        assert_eq!(l.mirrored().mirrored(), l);
    }
}
