//! Skin points with thickness: spheres fixed to the segments. Contact, rest height and the drawn
//! outline all read this one table.
//!
//! Positions are given in the standing body, as fractions of stature: x forwards of the hip joints'
//! line, y above the floor, z to the right of the midline; paired spheres are given for the right.
//! Breadths follow `references/anthropometry.md` where it has them (hip 0.191, chest 0.174, foot
//! 0.152 long, 0.055 broad); depths and thicknesses are from memory.

use super::names::{Region, Segment, Side};
use crate::space::{Vec3, v3};

/// A sphere of the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ball {
    /// The segment it is fixed to; for paired spheres the right one.
    pub segment: Segment,
    /// In the standing body, fractions of stature.
    pub at: Vec3,
    /// Fraction of stature.
    pub radius: f64,
    /// Has a twin on the left.
    pub paired: bool,
    /// May sink a centimetre before it counts as touching too deep.
    pub soft: bool,
}

/// Index into [`TABLE`].
pub type BallId = usize;

const fn one(segment: Segment, x: f64, y: f64, z: f64, radius: f64) -> Ball {
    Ball { segment, at: v3(x, y, z), radius, paired: false, soft: false }
}
const fn two(segment: Segment, x: f64, y: f64, z: f64, radius: f64) -> Ball {
    Ball { segment, at: v3(x, y, z), radius, paired: true, soft: false }
}
const fn soft(b: Ball) -> Ball {
    Ball { soft: true, ..b }
}

const R: Side = Side::Right;

pub const OCCIPUT: BallId = 0;
pub const FOREHEAD: BallId = 1;
pub const CHIN: BallId = 2;
pub const HEAD_SIDE: BallId = 3;
pub const BLADE: BallId = 4;
pub const LOW_RIBS: BallId = 5;
pub const BREAST: BallId = 6;
pub const RIB_SIDE: BallId = 7;
pub const HOLLOW: BallId = 8;
pub const BELLY: BallId = 9;
pub const FLANK: BallId = 10;
pub const SACRUM: BallId = 11;
pub const BUTTOCK: BallId = 12;
pub const HIP_SIDE: BallId = 13;
pub const PELVIS_FRONT: BallId = 14;
pub const DELTOID: BallId = 15;
pub const ARM_MID: BallId = 16;
pub const ELBOW: BallId = 17;
pub const FOREARM_MID: BallId = 18;
pub const WRIST: BallId = 19;
pub const HAND_HEEL: BallId = 20;
pub const PALM_THUMB: BallId = 21;
pub const PALM_SMALL: BallId = 22;
pub const FINGERTIPS: BallId = 23;
pub const THIGH_TOP: BallId = 24;
pub const THIGH_MID: BallId = 25;
pub const THIGH_LOW: BallId = 26;
pub const KNEE: BallId = 27;
pub const CALF: BallId = 28;
pub const SHIN: BallId = 29;
pub const SHIN_LOW: BallId = 30;
pub const ANKLE: BallId = 31;
pub const HEEL: BallId = 32;
pub const HEEL_BACK: BallId = 33;
pub const BIG_TOE_BALL: BallId = 34;
pub const SMALL_TOE_BALL: BallId = 35;
pub const INSTEP: BallId = 36;
pub const TOE_TIP: BallId = 37;

/// The table itself; the constants above index it.
pub const TABLE: [Ball; 38] = [
    one(Segment::Head, -0.024, 0.938, 0.0, 0.040),
    one(Segment::Head, 0.012, 0.952, 0.0, 0.040),
    one(Segment::Head, 0.036, 0.887, 0.0, 0.016),
    two(Segment::Head, -0.004, 0.940, 0.006, 0.041),
    two(Segment::Chest, -0.033, 0.775, 0.055, 0.032),
    two(Segment::Chest, -0.033, 0.705, 0.040, 0.028),
    soft(two(Segment::Chest, 0.024, 0.745, 0.045, 0.036)),
    two(Segment::Chest, -0.004, 0.735, 0.048, 0.039),
    soft(one(Segment::Waist, -0.030, 0.630, 0.0, 0.024)),
    soft(one(Segment::Waist, 0.018, 0.635, 0.0, 0.048)),
    soft(two(Segment::Waist, -0.006, 0.632, 0.042, 0.036)),
    two(Segment::Pelvis, -0.030, 0.562, 0.025, 0.032),
    soft(two(Segment::Pelvis, -0.022, 0.516, 0.046, 0.042)),
    two(Segment::Pelvis, 0.000, 0.530, 0.058, 0.038),
    soft(two(Segment::Pelvis, 0.026, 0.572, 0.042, 0.028)),
    two(Segment::UpperArm(R), 0.000, 0.812, 0.129, 0.026),
    two(Segment::UpperArm(R), 0.000, 0.720, 0.129, 0.024),
    two(Segment::UpperArm(R), 0.000, 0.632, 0.129, 0.019),
    soft(two(Segment::Forearm(R), 0.000, 0.570, 0.129, 0.020)),
    two(Segment::Forearm(R), 0.000, 0.486, 0.129, 0.014),
    two(Segment::Hand(R), 0.000, 0.468, 0.127, 0.011),
    two(Segment::Hand(R), 0.016, 0.432, 0.127, 0.009),
    two(Segment::Hand(R), -0.016, 0.432, 0.127, 0.009),
    two(Segment::Hand(R), 0.000, 0.385, 0.129, 0.007),
    soft(two(Segment::Thigh(R), -0.004, 0.500, 0.054, 0.048)),
    soft(two(Segment::Thigh(R), -0.002, 0.410, 0.051, 0.043)),
    soft(two(Segment::Thigh(R), 0.000, 0.335, 0.050, 0.035)),
    two(Segment::Thigh(R), 0.003, 0.285, 0.050, 0.032),
    soft(two(Segment::Shank(R), -0.010, 0.205, 0.050, 0.030)),
    two(Segment::Shank(R), 0.004, 0.235, 0.050, 0.027),
    two(Segment::Shank(R), 0.002, 0.110, 0.050, 0.021),
    two(Segment::Shank(R), 0.000, 0.042, 0.050, 0.021),
    two(Segment::Foot(R), -0.022, 0.018, 0.050, 0.018),
    two(Segment::Foot(R), -0.022, 0.022, 0.050, 0.018),
    two(Segment::Foot(R), 0.076, 0.012, 0.036, 0.012),
    two(Segment::Foot(R), 0.064, 0.012, 0.066, 0.012),
    two(Segment::Foot(R), 0.044, 0.026, 0.048, 0.014),
    two(Segment::Toes(R), 0.103, 0.010, 0.048, 0.010),
];

/// The spheres by which a region touches; two to five of them, so that roll is fixed where the region
/// is broad enough to fix it. Paired spheres are those of the region's own side, or both for a region
/// in the middle.
pub fn touching(region: Region) -> &'static [BallId] {
    match region {
        Region::BackOfHead => &[OCCIPUT],
        Region::SideOfHead => &[HEAD_SIDE],
        Region::Forehead => &[FOREHEAD],
        Region::Chin => &[CHIN],
        Region::UpperBack => &[BLADE],
        Region::LowerBack => &[HOLLOW],
        Region::WholeBack => &[OCCIPUT, BLADE, SACRUM],
        Region::Sacrum => &[SACRUM],
        Region::Chest => &[BREAST],
        Region::Belly => &[BELLY],
        Region::PelvisFront => &[PELVIS_FRONT],
        Region::HipSide => &[HIP_SIDE],
        Region::ShoulderSide => &[DELTOID],
        Region::Seat => &[BUTTOCK],
        Region::UpperArm => &[ARM_MID],
        Region::Elbow => &[ELBOW],
        Region::Forearm => &[ELBOW, WRIST],
        Region::WristFront => &[WRIST],
        Region::Palm => &[HAND_HEEL, PALM_THUMB, PALM_SMALL],
        Region::BackOfHand => &[PALM_THUMB, PALM_SMALL],
        Region::Fist => &[PALM_THUMB, PALM_SMALL],
        Region::Fingertips => &[FINGERTIPS],
        Region::ThighFront | Region::ThighBack => &[THIGH_MID],
        Region::KneeFront | Region::KneeBack | Region::KneeInner | Region::KneeOuter => &[KNEE],
        Region::Shin => &[KNEE, SHIN_LOW],
        Region::Calf => &[CALF],
        Region::AnkleOuter | Region::AnkleInner => &[ANKLE],
        Region::Instep => &[INSTEP],
        Region::Heel => &[HEEL],
        Region::Forefoot => &[BIG_TOE_BALL, SMALL_TOE_BALL],
        Region::Toes => &[TOE_TIP],
        Region::Sole => &[HEEL, BIG_TOE_BALL, SMALL_TOE_BALL],
        Region::FootInner => &[BIG_TOE_BALL],
        Region::FootOuter => &[SMALL_TOE_BALL],
    }
}
