//! Forces and moments of a body at rest.
//!
//! Forces are fractions of body weight, moments fractions of body weight × stature, places metres in the room's frame.
//! A moment belongs to a joint coordinate and has its sign: **positive, the muscles (with ligaments, and the other
//! half of the body where it helps) must work towards the coordinate's named positive motion to hold the pose**.
//! A leg held up in front has a positive moment at hip flexion; a bridge a negative one, since the hip's extensors hold it.
//!
//! A joint has one moment for all that crosses it: which muscle bears it, what a muscle over two joints does at the
//! other, and what ligaments at the end of a range take over is not modelled. Nor is what opposing muscles do to each
//! other, nor what parts of the body do to each other where they touch.

use super::dof::COUNT;
use super::names::Segment;
use super::{Placed, moving};
use crate::body::{Body, Variant};
use crate::solve::share;
use crate::space::Vec3;

/// A force from outside on a point that is fixed to a segment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Force {
    pub segment: Segment,
    pub at: Vec3,
    /// Fractions of body weight.
    pub force: Vec3,
}

/// A point at which something outside can push the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    pub segment: Segment,
    pub at: Vec3,
    /// The direction in which it can push, of length 1.
    pub along: Vec3,
    /// What pushing costs: so much times the square of the force counts like the square of a moment.
    pub price: f64,
}

/// Mass where none is stated, kg: a body mass index of 24.2 as of the reference man of ICRP 23 (70 kg at 1.70 m, from
/// memory); a child's of seven years 15.5, a broad body's 34: from memory; pregnant, 9 % more than an adult.
pub fn usual_mass(body: &Body) -> f64 {
    let index = match body.variant() {
        Variant::Adult | Variant::Older => 24.2,
        Variant::Child => 15.5,
        Variant::Broad => 34.0,
        Variant::Pregnant => 24.2 * 1.09,
    };
    index * body.stature() * body.stature()
}

/// The moment at each joint coordinate that holds the body against its weight and `outer` forces, by the principle of
/// virtual work: the derivative of the potential energy, less what the outer forces do.
///
/// ```
/// use layfigure::body::{Body, State, statics, dof::{paired, Limb}, names::Side};
/// let body = Body::usual();
/// let hip = paired(Limb::HipFlexion, Side::Right);
/// let mut state = State::standing(&body);
/// state.angles[hip.0] = std::f64::consts::FRAC_PI_2;
/// // A level straight leg: 0.161 of the body's mass, most of it nearer the hip than the knee is.
/// let moment = statics::moments(&body.place(&state), &[])[hip.0];
/// assert!(0.03 < moment && moment < 0.05);
/// ```
pub fn moments(placed: &Placed, outer: &[Force]) -> [f64; COUNT] {
    let size = 1.0 / placed.stature();
    let mut moments = placed.centre_of_mass_speeds().map(|speed| speed.y * size);
    for f in outer {
        for d in moving(f.segment) {
            moments[d.0] += 0.0 - placed.speed(f.segment, f.at, d).dot(f.force) * size;
        }
    }
    moments
}

/// What is left when weight and outer forces are summed: the force, and the moment about the centre of mass. Both are
/// zero for a body at rest.
pub fn unbalanced(placed: &Placed, outer: &[Force]) -> (Vec3, Vec3) {
    let centre = placed.centre_of_mass();
    outer.iter().fold((-Vec3::Y, Vec3::ZERO), |(force, moment), f| {
        (force + f.force, moment + (f.at - centre).cross(f.force) * (1.0 / placed.stature()))
    })
}

/// How hard each of `pushes` pushes, fractions of body weight, so that the body with its `loads` is at rest.
///
/// Several supports leave that open. Of all non-negative pushes that balance weight and loads these are the ones under
/// which the muscles do least: the sum of the squared moments and of each push squared times its price is lowest. So a
/// limb that lies on the floor rests on it, and what pushes at no one's expense is shared evenly. Where nothing can balance
/// the body, what is left over is as small as can be ([`unbalanced`] says how much).
pub fn pushes(placed: &Placed, pushes: &[Push], loads: &[Force]) -> Vec<f64> {
    let n = pushes.len();
    let size = 1.0 / placed.stature();
    let centre = placed.centre_of_mass();
    let without = moments(placed, loads);
    let mut works = vec![[0.0; COUNT]; n];
    for (work, push) in works.iter_mut().zip(pushes) {
        for d in moving(push.segment) {
            work[d.0] = 0.0 - placed.speed(push.segment, push.at, d).dot(push.along) * size;
        }
    }
    let mut effort = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..=i {
            let both: f64 = works[i].iter().zip(&works[j]).map(|(a, b)| a * b).sum();
            effort[i * n + j] = both;
            effort[j * n + i] = both;
        }
        effort[i * n + i] += pushes[i].price;
    }
    let pull: Vec<f64> =
        works.iter().map(|work| work.iter().zip(&without).map(|(a, b)| a * b).sum()).collect();
    let six = |force: Vec3, moment: Vec3| [force.x, force.y, force.z, moment.x, moment.y, moment.z];
    let balance: Vec<[f64; 6]> =
        pushes.iter().map(|p| six(p.along, (p.at - centre).cross(p.along) * size)).collect();
    let (force, moment) = unbalanced(placed, loads);
    share::least(&effort, &pull, &balance, &six(-force, -moment))
}
