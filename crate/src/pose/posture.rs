//! Base postures: how a body lies, sits or stands before a pose says anything.
//!
//! Angles are what the posture's name implies (hips and knees at right angles in sitting) or, for arms
//! at rest, from memory. They are kept softly: contacts and asks come first.

use super::ask::{Posture, PropKind, Spot, Surface};
use crate::body::dof::{self, Dof, Limb, paired};
use crate::body::names::{Region, Side};
use crate::body::{Body, State, Variant};
use crate::measure::radians;
use crate::space::{Rotation, Vec3, v3};

/// A contact that a posture brings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rests {
    pub part: Spot,
    pub surface: Surface,
    /// A limb that merely lies there: it follows the surface loosely and carries nothing.
    pub loosely: bool,
}

/// A posture spelt out.
#[derive(Clone, Debug)]
pub struct Base {
    pub state: State,
    pub rests: Vec<Rests>,
    /// Lies on the back, front or side, or sits on the floor: a bed may take the floor's place.
    pub low: bool,
    /// Has to be kept from falling over.
    pub topples: bool,
    /// The pelvis' own forward and right in the room.
    pub forward: Vec3,
    pub right: Vec3,
    /// A pillow under the head belongs to it, so thick (fraction of stature).
    pub pillow: Option<f64>,
}

/// How a body of a kind holds itself, on top of the posture; less when it lies. From memory.
fn held_by(variant: Variant, lies: bool) -> &'static [(Dof, f64)] {
    match (variant, lies) {
        (Variant::Older, false) => &[
            (dof::LUMBAR_FLEXION, 4.0),
            (dof::THORAX_FLEXION, 18.0),
            (dof::NECK_FLEXION, -7.0),
            (dof::HEAD_FLEXION, -15.0),
        ],
        (Variant::Older, true) => &[(dof::THORAX_FLEXION, 8.0), (dof::HEAD_FLEXION, -4.0)],
        (Variant::Pregnant, false) => &[(dof::LUMBAR_FLEXION, -6.0)],
        _ => &[],
    }
}

fn spot(region: Region, side: Option<Side>) -> Spot {
    Spot { side, region }
}

/// Spells a posture out for a body; `seat` is the height of what is sat on, metres.
pub fn base(posture: Posture, body: &Body, seat: f64) -> Base {
    let h = body.stature();
    let mut state = State::standing(body);
    let mut rests = Vec::new();
    let mut set = |pairs: &[(Limb, f64)], sides: &[Side]| {
        for &side in sides {
            for &(limb, deg) in pairs {
                state.angles[paired(limb, side).0] = radians(deg);
            }
        }
    };
    let both = Side::BOTH;
    let arms_hanging = [(Limb::ShoulderAbduction, 6.0), (Limb::ElbowFlexion, 8.0), (Limb::Supination, -10.0)];
    let arms_lying = [
        (Limb::ShoulderAbduction, 18.0),
        (Limb::ShoulderFlexion, -10.0),
        (Limb::ElbowFlexion, 12.0),
        (Limb::Supination, -70.0),
    ];
    let mut touch = |part: Region, sides: &[Option<Side>], surface: Surface, loosely: bool| {
        for side in sides {
            rests.push(Rests { part: spot(part, *side), surface, loosely });
        }
    };
    const R_AND_L: [Option<Side>; 2] = [Some(Side::Right), Some(Side::Left)];
    const MIDDLE: [Option<Side>; 1] = [None];
    let floor = Surface::Floor;
    let up_supine = Rotation::about_z(radians(90.0));
    let face_down = Rotation::about_z(radians(-90.0));
    let mut low = false;
    let mut pillow = None;
    let mut turn = Rotation::NONE;
    let mut height = body.hip_height();
    match posture {
        Posture::Standing => {
            set(&arms_hanging, &both);
            touch(Region::Heel, &R_AND_L, floor, false);
            touch(Region::Forefoot, &R_AND_L, floor, false);
        }
        Posture::Sitting => {
            set(
                &[
                    (Limb::HipFlexion, 90.0),
                    (Limb::KneeFlexion, 90.0),
                    (Limb::ShoulderFlexion, 22.0),
                    (Limb::ShoulderAbduction, 4.0),
                    (Limb::ElbowFlexion, 62.0),
                    (Limb::Supination, -70.0),
                    (Limb::ShoulderRotation, -6.0),
                ],
                &both,
            );
            height = seat / h + 0.056;
            touch(Region::Seat, &R_AND_L, Surface::Prop(PropKind::Chair), false);
            touch(Region::Heel, &R_AND_L, floor, false);
            touch(Region::Forefoot, &R_AND_L, floor, false);
            for side in both {
                let thigh = Surface::Body(spot(Region::ThighFront, Some(side)));
                touch(Region::Palm, &[Some(side)], thigh, true);
            }
        }
        Posture::LongSitting => {
            low = true;
            set(
                &[
                    (Limb::HipFlexion, 84.0),
                    (Limb::ShoulderFlexion, 14.0),
                    (Limb::ElbowFlexion, 30.0),
                    (Limb::ShoulderAbduction, 6.0),
                    (Limb::Supination, -70.0),
                ],
                &both,
            );
            height = 0.056;
            touch(Region::Seat, &R_AND_L, floor, false);
            touch(Region::Heel, &R_AND_L, floor, false);
            for side in both {
                let thigh = Surface::Body(spot(Region::ThighFront, Some(side)));
                touch(Region::Palm, &[Some(side)], thigh, true);
            }
        }
        Posture::Supine | Posture::CrookLying => {
            low = true;
            turn = up_supine;
            height = 0.062;
            set(&arms_lying, &both);
            touch(Region::BackOfHead, &MIDDLE, floor, false);
            touch(Region::UpperBack, &MIDDLE, floor, false);
            touch(Region::Sacrum, &MIDDLE, floor, false);
            touch(Region::Elbow, &R_AND_L, floor, true);
            touch(Region::Palm, &R_AND_L, floor, true);
            touch(Region::Heel, &R_AND_L, floor, false);
            if posture == Posture::CrookLying {
                set(&[(Limb::HipFlexion, 50.0), (Limb::KneeFlexion, 90.0)], &both);
                touch(Region::Forefoot, &R_AND_L, floor, false);
            }
        }
        Posture::Prone => {
            low = true;
            turn = face_down;
            height = 0.060;
            set(&arms_lying, &both);
            set(&[(Limb::ShoulderFlexion, 8.0), (Limb::Supination, 40.0)], &both);
            // Feet pointed, the shins rise to the ankles by as much as the toes need.
            set(
                &[(Limb::KneeFlexion, 13.0), (Limb::Dorsiflexion, -48.0), (Limb::ToeExtension, -15.0)],
                &both,
            );
            touch(Region::Forehead, &MIDDLE, floor, false);
            touch(Region::Chest, &MIDDLE, floor, false);
            touch(Region::PelvisFront, &MIDDLE, floor, false);
            touch(Region::KneeFront, &R_AND_L, floor, false);
            touch(Region::Toes, &R_AND_L, floor, true);
            touch(Region::Elbow, &R_AND_L, floor, true);
            touch(Region::Palm, &R_AND_L, floor, true);
        }
        Posture::SideLying(side) => {
            low = true;
            pillow = Some(0.088);
            // Lying on the left: the right side up, the face towards +z.
            turn = Rotation { x: Vec3::Z, y: Vec3::X, z: Vec3::Y };
            if side == Side::Right {
                turn = turn.mirrored();
            }
            height = 0.096;
            let (down, up) = (side, side.other());
            set(&[(Limb::HipFlexion, 40.0), (Limb::KneeFlexion, 70.0)], &both);
            set(
                &[
                    (Limb::ShoulderFlexion, 75.0),
                    (Limb::ElbowFlexion, 80.0),
                    (Limb::BladeProtraction, 15.0),
                    (Limb::ShoulderRotation, 10.0),
                ],
                &[down],
            );
            set(
                &[
                    (Limb::ShoulderFlexion, 66.0),
                    (Limb::ShoulderAbduction, -40.0),
                    (Limb::BladeProtraction, 12.0),
                    (Limb::ShoulderRotation, -20.0),
                    (Limb::ElbowFlexion, 50.0),
                    (Limb::Supination, -60.0),
                ],
                &[up],
            );
            touch(Region::ShoulderSide, &[Some(down)], floor, false);
            touch(Region::HipSide, &[Some(down)], floor, false);
            touch(Region::KneeOuter, &[Some(down)], floor, false);
            touch(Region::AnkleOuter, &[Some(down)], floor, false);
            touch(Region::SideOfHead, &[Some(down)], floor, true);
            touch(Region::Elbow, &[Some(down)], floor, true);
            touch(Region::WristFront, &[Some(down)], floor, true);
            let knee = Surface::Body(spot(Region::KneeInner, Some(down)));
            let ankle = Surface::Body(spot(Region::AnkleInner, Some(down)));
            touch(Region::KneeInner, &[Some(up)], knee, false);
            touch(Region::AnkleInner, &[Some(up)], ankle, false);
            touch(Region::Palm, &[Some(up)], floor, true);
        }
        Posture::FourPointKneeling => {
            turn = face_down;
            height = 0.275;
            set(
                &[
                    (Limb::HipFlexion, 90.0),
                    (Limb::KneeFlexion, 90.0),
                    (Limb::Dorsiflexion, -42.0),
                    (Limb::ShoulderFlexion, 90.0),
                    (Limb::WristFlexion, -82.0),
                    (Limb::Supination, -80.0),
                ],
                &both,
            );
            state.angles[dof::NECK_FLEXION.0] = radians(-6.0);
            touch(Region::KneeFront, &R_AND_L, floor, false);
            touch(Region::Toes, &R_AND_L, floor, true);
            touch(Region::Palm, &R_AND_L, floor, false);
        }
        Posture::HighKneeling => {
            height = 0.277;
            set(&arms_hanging, &both);
            set(&[(Limb::KneeFlexion, 90.0), (Limb::Dorsiflexion, -42.0)], &both);
            touch(Region::KneeFront, &R_AND_L, floor, false);
            touch(Region::Toes, &R_AND_L, floor, true);
        }
        Posture::HalfKneeling(side) => {
            height = 0.285;
            set(&arms_hanging, &both);
            set(&[(Limb::KneeFlexion, 90.0), (Limb::Dorsiflexion, -42.0)], &[side]);
            set(&[(Limb::HipFlexion, 90.0), (Limb::KneeFlexion, 90.0)], &[side.other()]);
            touch(Region::KneeFront, &[Some(side)], floor, false);
            touch(Region::Toes, &[Some(side)], floor, true);
            touch(Region::Heel, &[Some(side.other())], floor, false);
            touch(Region::Forefoot, &[Some(side.other())], floor, false);
        }
    }
    let supine = matches!(posture, Posture::Supine | Posture::CrookLying);
    for (dof, degrees) in held_by(body.variant(), low && posture != Posture::LongSitting) {
        state.angles[dof.0] += radians(*degrees);
    }
    if body.variant() == Variant::Older && supine {
        // A rounded back keeps the head off the floor: a flat pillow goes under it. Common practice, no source.
        pillow = Some(0.030);
    }
    for i in 0..dof::COUNT {
        let r = crate::body::range::of(Dof(i));
        state.angles[i] = state.angles[i].clamp(radians(r.low), radians(r.high));
    }
    state.turn = turn;
    state.root = v3(0.0, height * h, 0.0);
    let topples = !low || matches!(posture, Posture::SideLying(_));
    Base { state, rests, low, topples, forward: turn * Vec3::X, right: turn * Vec3::Z, pillow }
}
