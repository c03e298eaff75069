//! Joint coordinates: one number each, in the clinical sense and sign.

use super::names::{Angle, Joint, Motion, Side};

/// How many joint coordinates a body has: [`SPINE`] unpaired ones, then [`LIMB`] for the right
/// side, then the same for the left.
pub const COUNT: usize = SPINE + 2 * LIMB;
pub const SPINE: usize = 10;
pub const LIMB: usize = 16;

/// A joint coordinate, by its position in [`State::angles`](super::State).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dof(pub usize);

/// Unpaired coordinates.
pub const LUMBAR_FLEXION: Dof = Dof(0);
/// Positive to the right.
pub const LUMBAR_BEND: Dof = Dof(1);
/// Positive to the right.
pub const LUMBAR_TURN: Dof = Dof(2);
pub const THORAX_FLEXION: Dof = Dof(3);
pub const THORAX_BEND: Dof = Dof(4);
pub const THORAX_TURN: Dof = Dof(5);
pub const NECK_FLEXION: Dof = Dof(6);
pub const NECK_BEND: Dof = Dof(7);
pub const NECK_TURN: Dof = Dof(8);
/// Nodding of the head on the neck.
pub const HEAD_FLEXION: Dof = Dof(9);

/// Paired coordinates, counted within their side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Limb {
    BladeElevation = 0,
    BladeProtraction,
    /// Swing of the upper arm: the part of the elevation that goes forwards.
    ShoulderFlexion,
    /// Swing of the upper arm: the part of the elevation that goes outwards.
    ShoulderAbduction,
    /// External rotation positive: twist of the upper arm about its own axis.
    ShoulderRotation,
    ElbowFlexion,
    /// Supination positive, from thumb-forward.
    Supination,
    WristFlexion,
    /// Ulnar deviation positive.
    WristDeviation,
    HipFlexion,
    HipAbduction,
    /// External rotation positive.
    HipRotation,
    KneeFlexion,
    Dorsiflexion,
    Inversion,
    ToeExtension,
}

pub const LIMB_ALL: [Limb; LIMB] = [
    Limb::BladeElevation,
    Limb::BladeProtraction,
    Limb::ShoulderFlexion,
    Limb::ShoulderAbduction,
    Limb::ShoulderRotation,
    Limb::ElbowFlexion,
    Limb::Supination,
    Limb::WristFlexion,
    Limb::WristDeviation,
    Limb::HipFlexion,
    Limb::HipAbduction,
    Limb::HipRotation,
    Limb::KneeFlexion,
    Limb::Dorsiflexion,
    Limb::Inversion,
    Limb::ToeExtension,
];

/// The coordinate `limb` of that side.
pub const fn paired(limb: Limb, side: Side) -> Dof {
    let start = match side {
        Side::Right => SPINE,
        Side::Left => SPINE + LIMB,
    };
    Dof(start + limb as usize)
}

impl Dof {
    /// The side and the paired coordinate, or `None` for a spine coordinate.
    pub fn limb(self) -> Option<(Side, Limb)> {
        let i = self.0.checked_sub(SPINE)?;
        let side = if i < LIMB { Side::Right } else { Side::Left };
        Some((side, LIMB_ALL[i % LIMB]))
    }

    /// The same coordinate of the other side; spine coordinates stay.
    pub fn mirrored(self) -> Dof {
        match self.limb() {
            Some((side, limb)) => paired(limb, side.other()),
            None => self,
        }
    }

    /// −1 for the spine coordinates that change sign in the mirror (side bend, rotation), else 1.
    pub fn mirror_sign(self) -> f64 {
        match self {
            LUMBAR_BEND | LUMBAR_TURN | THORAX_BEND | THORAX_TURN | NECK_BEND | NECK_TURN => -1.0,
            _ => 1.0,
        }
    }

    /// The clinical angles that this coordinate's positive and negative values are called.
    pub fn angles(self) -> (Angle, Angle) {
        use Motion::*;
        let (joint, plus) = match self {
            LUMBAR_FLEXION => (Joint::LowerBack, Flexion),
            LUMBAR_BEND => (Joint::LowerBack, SideBend(Side::Right)),
            LUMBAR_TURN => (Joint::LowerBack, Rotation(Side::Right)),
            THORAX_FLEXION => (Joint::UpperBack, Flexion),
            THORAX_BEND => (Joint::UpperBack, SideBend(Side::Right)),
            THORAX_TURN => (Joint::UpperBack, Rotation(Side::Right)),
            NECK_FLEXION => (Joint::LowerNeck, Flexion),
            NECK_BEND => (Joint::Neck, SideBend(Side::Right)),
            NECK_TURN => (Joint::Neck, Rotation(Side::Right)),
            HEAD_FLEXION => (Joint::UpperNeck, Flexion),
            _ => match self.limb().map(|(_, l)| l) {
                Some(Limb::BladeElevation) => (Joint::ShoulderBlade, Elevation),
                Some(Limb::BladeProtraction) => (Joint::ShoulderBlade, Protraction),
                Some(Limb::ShoulderFlexion) => (Joint::Shoulder, Flexion),
                Some(Limb::ShoulderAbduction) => (Joint::Shoulder, Abduction),
                Some(Limb::ShoulderRotation) => (Joint::Shoulder, ExternalRotation),
                Some(Limb::ElbowFlexion) => (Joint::Elbow, Flexion),
                Some(Limb::Supination) => (Joint::Forearm, Supination),
                Some(Limb::WristFlexion) => (Joint::Wrist, Flexion),
                Some(Limb::WristDeviation) => (Joint::Wrist, UlnarDeviation),
                Some(Limb::HipFlexion) => (Joint::Hip, Flexion),
                Some(Limb::HipAbduction) => (Joint::Hip, Abduction),
                Some(Limb::HipRotation) => (Joint::Hip, ExternalRotation),
                Some(Limb::KneeFlexion) => (Joint::Knee, Flexion),
                Some(Limb::Dorsiflexion) => (Joint::Ankle, Dorsiflexion),
                Some(Limb::Inversion) => (Joint::Ankle, Inversion),
                Some(Limb::ToeExtension) | None => (Joint::Toes, Extension),
            },
        };
        let side = self.limb().map(|(s, _)| s);
        let minus = plus.opposite().unwrap_or(plus);
        (Angle { side, joint, motion: plus }, Angle { side, joint, motion: minus })
    }
}

/// The coordinates that a clinical angle is the (weighted) sum of: `trunk flexion` is lumbar plus
/// thoracic flexion, `elbow extension` is elbow flexion times −1. Empty if the joint can't make the
/// motion. For the shoulder these are the swing components; elevation is asked in the plane of the
/// shoulder blade and has no linear form (see [`super::elevation`]).
pub fn parts(angle: Angle) -> Vec<(Dof, f64)> {
    use Motion::*;
    let side = angle.side.unwrap_or(Side::Right);
    let one = |l: Limb, sign: f64| vec![(paired(l, side), sign)];
    let turn = |s: Side| if s == Side::Right { 1.0 } else { -1.0 };
    let spine = |flexion: &[Dof], bend: &[Dof], rotation: &[Dof]| -> Vec<(Dof, f64)> {
        let (dofs, sign) = match angle.motion {
            Flexion => (flexion, 1.0),
            Extension => (flexion, -1.0),
            SideBend(s) => (bend, turn(s)),
            Rotation(s) => (rotation, turn(s)),
            _ => (&[][..], 0.0),
        };
        dofs.iter().map(|d| (*d, sign)).collect()
    };
    match (angle.joint, angle.motion) {
        (Joint::Trunk, _) => {
            spine(&[LUMBAR_FLEXION, THORAX_FLEXION], &[LUMBAR_BEND, THORAX_BEND], &[LUMBAR_TURN, THORAX_TURN])
        }
        (Joint::LowerBack, _) => spine(&[LUMBAR_FLEXION], &[LUMBAR_BEND], &[LUMBAR_TURN]),
        (Joint::UpperBack, _) => spine(&[THORAX_FLEXION], &[THORAX_BEND], &[THORAX_TURN]),
        (Joint::Neck, _) => spine(&[NECK_FLEXION, HEAD_FLEXION], &[NECK_BEND], &[NECK_TURN]),
        (Joint::LowerNeck, _) => spine(&[NECK_FLEXION], &[NECK_BEND], &[NECK_TURN]),
        (Joint::UpperNeck, _) => spine(&[HEAD_FLEXION], &[], &[]),
        (Joint::ShoulderBlade, Elevation) => one(Limb::BladeElevation, 1.0),
        (Joint::ShoulderBlade, Depression) => one(Limb::BladeElevation, -1.0),
        (Joint::ShoulderBlade, Protraction) => one(Limb::BladeProtraction, 1.0),
        (Joint::ShoulderBlade, Retraction) => one(Limb::BladeProtraction, -1.0),
        (Joint::Shoulder, Flexion) => one(Limb::ShoulderFlexion, 1.0),
        (Joint::Shoulder, Extension) => one(Limb::ShoulderFlexion, -1.0),
        (Joint::Shoulder, Abduction) => one(Limb::ShoulderAbduction, 1.0),
        (Joint::Shoulder, Adduction) => one(Limb::ShoulderAbduction, -1.0),
        (Joint::Shoulder, ExternalRotation) => one(Limb::ShoulderRotation, 1.0),
        (Joint::Shoulder, InternalRotation) => one(Limb::ShoulderRotation, -1.0),
        (Joint::Elbow, Flexion) => one(Limb::ElbowFlexion, 1.0),
        (Joint::Elbow, Extension) => one(Limb::ElbowFlexion, -1.0),
        (Joint::Forearm, Supination) => one(Limb::Supination, 1.0),
        (Joint::Forearm, Pronation) => one(Limb::Supination, -1.0),
        (Joint::Wrist, Flexion) => one(Limb::WristFlexion, 1.0),
        (Joint::Wrist, Extension) => one(Limb::WristFlexion, -1.0),
        (Joint::Wrist, UlnarDeviation) => one(Limb::WristDeviation, 1.0),
        (Joint::Wrist, RadialDeviation) => one(Limb::WristDeviation, -1.0),
        (Joint::Hip, Flexion) => one(Limb::HipFlexion, 1.0),
        (Joint::Hip, Extension) => one(Limb::HipFlexion, -1.0),
        (Joint::Hip, Abduction) => one(Limb::HipAbduction, 1.0),
        (Joint::Hip, Adduction) => one(Limb::HipAbduction, -1.0),
        (Joint::Hip, ExternalRotation) => one(Limb::HipRotation, 1.0),
        (Joint::Hip, InternalRotation) => one(Limb::HipRotation, -1.0),
        (Joint::Knee, Flexion) => one(Limb::KneeFlexion, 1.0),
        (Joint::Knee, Extension) => one(Limb::KneeFlexion, -1.0),
        (Joint::Ankle, Dorsiflexion) => one(Limb::Dorsiflexion, 1.0),
        (Joint::Ankle, PlantarFlexion) => one(Limb::Dorsiflexion, -1.0),
        (Joint::Ankle, Inversion) => one(Limb::Inversion, 1.0),
        (Joint::Ankle, Eversion) => one(Limb::Inversion, -1.0),
        (Joint::Toes, Extension) => one(Limb::ToeExtension, 1.0),
        (Joint::Toes, Flexion) => one(Limb::ToeExtension, -1.0),
        _ => Vec::new(),
    }
}
