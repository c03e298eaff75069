//! Laws of forces and moments, and known pairs of easier and harder variants.

use crate::known;
use layfigure::body::dof::{COUNT, Dof, Limb, paired};
use layfigure::body::names::{Angle, Joint, Motion, Region, Segment, Side};
use layfigure::body::range::{self, Limits};
use layfigure::body::statics::{self, Force, Push};
use layfigure::body::{Body, Skin, State, Variant};
use layfigure::catalog::Catalog;
use layfigure::measure::radians;
use layfigure::pose::ask::{PropKind, Spot};
use layfigure::pose::hull;
use layfigure::pose::movement::{Key, Movement};
use layfigure::pose::settle;
use layfigure::pose::support::{self, Load, Statics};
use layfigure::space::{Rotation, Vec3, v3};
use proptest::prelude::*;

/// A body of any kind, anywhere, each joint within its range.
fn bodies() -> impl Strategy<Value = (Body, State)> {
    let vector = || (-1.0..1.0, -1.0..1.0, -1.0..1.0).prop_map(|(x, y, z)| v3(x, y, z));
    let shares = proptest::collection::vec(0.0..1.0, COUNT);
    (0..5usize, 1.0..2.0, vector(), vector(), shares).prop_map(|(kind, stature, root, turn, shares)| {
        let body = Body::of_stature(stature).with(Variant::ALL[kind]);
        let mut state = State::standing(&body);
        state.root = root;
        state.turn = Rotation::exp(turn * 3.0);
        for (i, share) in shares.iter().enumerate() {
            let r = range::of(Dof(i));
            state.angles[i] = radians(r.low + (r.high - r.low) * share);
        }
        (body, state)
    })
}

/// Points of the skin, each with a direction and a strength.
fn points() -> impl Strategy<Value = Vec<(usize, Vec3)>> {
    let vector = (-1.0..1.0, -1.0..1.0, -1.0..1.0).prop_map(|(x, y, z)| v3(x, y, z));
    proptest::collection::vec((0..60usize, vector), 0..6)
}

fn skin(number: usize) -> Skin {
    let all: Vec<Skin> = Skin::all().collect();
    all[number % all.len()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The moment at a coordinate is how the potential energy of weight and dead forces grows with it.
    #[test]
    fn moments_are_the_slope_of_the_potential_energy((body, state) in bodies(), points in points()) {
        let size = 1.0 / body.stature();
        let energy = |state: &State| {
            let p = body.place(state);
            let forces: f64 = points.iter().map(|(n, f)| f.dot(p.skin(skin(*n)))).sum();
            (p.centre_of_mass().y - forces) * size
        };
        let p = body.place(&state);
        let outer: Vec<Force> = points
            .iter()
            .map(|(n, f)| Force { segment: skin(*n).segment(), at: p.skin(skin(*n)), force: *f })
            .collect();
        let moments = statics::moments(&p, &outer);
        for (i, moment) in moments.iter().enumerate() {
            let h = 1e-5;
            let (mut up, mut down) = (state.clone(), state.clone());
            up.angles[i] += h;
            down.angles[i] -= h;
            let slope = (energy(&up) - energy(&down)) * (0.5 / h);
            prop_assert!((moment - slope).abs() < 1e-8, "{} is not {slope} at {i}", moment);
        }
    }

    /// Pushes are never negative, and with enough of them the body is at rest.
    #[test]
    fn pushes_hold_the_body((body, state) in bodies(), points in points()) {
        let p = body.place(&state);
        let loads: Vec<Force> = points
            .iter()
            .map(|(n, f)| Force { segment: skin(*n).segment(), at: p.skin(skin(*n)), force: *f * 0.1 })
            .collect();
        let mut pushes = Vec::new();
        for (i, s) in Skin::all().enumerate().filter(|(i, _)| i % 4 == 0) {
            for along in [Vec3::X, -Vec3::X, Vec3::Y, -Vec3::Y, Vec3::Z, -Vec3::Z] {
                pushes.push(Push { segment: s.segment(), at: p.skin(s), along, price: 1e-3 * (1 + i) as f64 });
            }
        }
        let hard = statics::pushes(&p, &pushes, &loads);
        prop_assert!(hard.iter().all(|f| 0.0 <= *f && f.is_finite()));
        let mut outer = loads.clone();
        outer.extend(pushes.iter().zip(&hard).map(|(q, f)| Force { segment: q.segment, at: q.at, force: q.along * *f }));
        let (force, moment) = statics::unbalanced(&p, &outer);
        prop_assert!(force.norm() < 1e-6 && moment.norm() < 1e-6, "{force:?} {moment:?}");
        // No small shift between two opposite pushes, which changes no balance, makes it easier.
        let effort = |outer: &[Force], hard: &[f64]| -> f64 {
            let moments: f64 = statics::moments(&p, outer).iter().map(|m| m * m).sum();
            moments + pushes.iter().zip(hard).map(|(q, f)| q.price * f * f).sum::<f64>()
        };
        let least = effort(&outer, &hard);
        for k in (0..pushes.len()).step_by(2) {
            let mut more = hard.clone();
            more[k] += 1e-3;
            more[k + 1] += 1e-3;
            prop_assert!(least <= effort(&outer, &more) + 1e-12);
        }
    }
}

fn drawn() -> impl Iterator<Item = (&'static str, &'static Movement)> {
    known::drawn(Side::Right).iter().map(|d| (d.id(), &d.movement))
}

/// Whatever stands inside its base of support is at rest under the forces that are said.
#[test]
fn what_stands_is_at_rest() {
    let mut seen = 0;
    for (id, m) in drawn() {
        for key in &m.keys {
            let s = support::statics(&Body::usual(), key, &[]);
            assert!(!s.base.is_empty(), "{id} {}", key.name);
            for (push, at) in s.pushes.iter().zip(&key.supports) {
                assert!(0.0 <= push.dot(at.along), "{id} {}: {:?} pulls", key.name, at.part);
            }
            assert!(s.moments.iter().all(|m| m.is_finite()), "{id} {}", key.name);
            // Settling does not keep who leans on a wall from falling; what is held is held by sane forces.
            if s.unbalanced.0 < 1e-5 && s.unbalanced.1 < 1e-5 {
                assert!(s.moments.iter().all(|m| m.abs() < 0.5), "{id} {}", key.name);
            }
            // Forces act at the skin points, inside of which the breadth of what carries doesn't count.
            if s.margin.is_some_and(|m| hull::BREADTH_MM * 1e-3 < m) {
                assert!(
                    s.unbalanced.0 < 1e-5 && s.unbalanced.1 < 1e-5,
                    "{id} {}: {:?}",
                    key.name,
                    s.unbalanced
                );
                seen += 1;
            }
            if let (Some(a), Some(b)) = (s.margin, key.margin_mm) {
                assert!((a * 1000.0 - b).abs() < 1e-6, "{id} {}: {a} {b}", key.name);
            }
        }
    }
    assert!(10 < seen);
}

#[test]
fn the_left_has_the_moments_of_the_right() {
    for (id, m) in drawn() {
        let other = m.mirrored();
        for (a, b) in m.keys.iter().zip(&other.keys) {
            let (a, b) = (support::statics(&Body::usual(), a, &[]), support::statics(&Body::usual(), b, &[]));
            for i in 0..COUNT {
                let d = Dof(i);
                let twin = b.moments[d.mirrored().0] * d.mirror_sign();
                assert!((a.moments[i] - twin).abs() < 1e-7, "{id} {i}: {} {twin}", a.moments[i]);
            }
        }
    }
}

/// The exercises of a text, settled for an adult.
fn settled(text: &str) -> Vec<Movement> {
    let (prescription, _) = layfigure::prescription::read(text);
    let (own, notices) = layfigure::programme::resolve::own(&prescription, Catalog::embedded());
    assert!(notices.is_empty(), "{notices:?}");
    own.iter().map(|e| settle::exercise(&Body::usual(), &e.poses, Side::Right, &Limits::none())).collect()
}

fn last(m: &Movement) -> &Key {
    let key = m.keys.last().expect("a pose");
    assert!(key.gap_mm < settle::GAP_MM, "{} {}", key.name, key.gap_mm);
    key
}

fn held(m: &Movement) -> Statics {
    let s = support::statics(&Body::usual(), last(m), &[]);
    assert!(s.unbalanced.0 < 1e-5 && s.unbalanced.1 < 1e-5, "{:?}", s.unbalanced);
    s
}

fn right(joint: Joint, motion: Motion) -> Angle {
    Angle { side: Some(Side::Right), joint, motion }
}

fn of(s: &Statics, joint: Joint, motion: Motion) -> f64 {
    s.moment(right(joint, motion)).expect("a motion of that joint")
}

#[test]
fn a_bridge_on_one_leg_asks_more_of_the_hip() {
    let m = settled(
        "\
exercise: Both
  pose: start, from crook lying
  heels 30 cm from seat
  pose: up, from start
  bottom off floor, thighs in line with trunk
  planted: head, upper back, feet
exercise: One
  pose: start, from crook lying
  heels 30 cm from seat
  pose: up, from start
  bottom off floor, right thigh in line with trunk, left foot off floor, left knee straight
  left thigh parallel to right thigh
  planted: head, upper back, right foot
",
    );
    let (both, one) = (held(&m[0]), held(&m[1]));
    let (a, b) = (of(&both, Joint::Hip, Motion::Extension), of(&one, Joint::Hip, Motion::Extension));
    assert!(0.01 < a && 1.5 * a < b, "{a} {b}");
    // The free leg has to be held up.
    assert!(0.01 < one.moments[paired(Limb::HipFlexion, Side::Left).0]);
}

#[test]
fn a_straight_leg_is_heavier_than_a_bent_one() {
    let m = settled(
        "\
exercise: Straight
  pose: start, from supine
  pose: up, from start
  right heel off floor, right hip flexion 30, right knee straight
exercise: Bent
  pose: start, from supine
  pose: up, from start
  right heel off floor, right hip flexion 80, right knee flexion 130
",
    );
    let (straight, bent) = (held(&m[0]), held(&m[1]));
    let (a, b) = (of(&straight, Joint::Hip, Motion::Flexion), of(&bent, Joint::Hip, Motion::Flexion));
    assert!(0.0 < b && 1.2 * b < a, "{a} {b}");
    // Winter's segments (references/anthropometry.md sections 1 and 2) on a straight leg: mass times lever, level.
    let p = Body::usual().place(&last(&m[0]).state);
    let (hip, ankle) = (p.joint(Segment::Thigh(Side::Right)), p.joint(Segment::Foot(Side::Right)));
    let level = |v: Vec3| (v.x * v.x + v.z * v.z).sqrt();
    let lever = level(ankle - hip) / 1.70;
    let foot = p.point(Segment::Foot(Side::Right), v3(0.0375, 0.0195, 0.050));
    let leg = 0.100 * 0.433 * 0.245 + 0.0465 * (0.245 + 0.433 * 0.246);
    let want = leg / (0.245 + 0.246) * lever + 0.0145 * level(foot - hip) / 1.70;
    assert!((a - want).abs() < 0.005 * want, "{a} {want}");
    // Who lies flat rests; with one leg up, the other presses down to keep the pelvis from tipping.
    let flat = support::statics(&Body::usual(), &m[0].keys[0], &[]);
    assert!(flat.moments.iter().all(|m| m.abs() < 0.010), "{:?}", flat.moments);
    assert!(straight.moments[paired(Limb::HipFlexion, Side::Left).0] < -0.003);
    // A weight round the ankle: its share times the whole lever.
    let cuff = Spot { side: Some(Side::Right), region: Region::AnkleOuter };
    let heavy = support::statics(&Body::usual(), last(&m[0]), &[Load::Hung { on: cuff, weight: 0.02 }]);
    let more = of(&heavy, Joint::Hip, Motion::Flexion) - a;
    assert!((more - 0.02 * lever).abs() < 0.05 * 0.02, "{more}");
}

#[test]
fn a_push_up_at_a_table_loads_the_arms_less_than_on_the_floor() {
    let m = settled(
        "\
exercise: Table
  pose: start, from standing
  table 75 cm in front, hands on table, elbows straight
  trunk leaning forward 40, legs in line with trunk, heels off floor
  pose: down, from start
  elbows flexion 60, legs in line with trunk
  planted: hands, balls of feet
exercise: Floor
  pose: start, from four-point kneeling
  balls of feet on floor, knees off floor, knees straight, legs in line with trunk
  pose: down, from start
  elbows flexion 60, legs in line with trunk
  planted: hands, balls of feet
",
    );
    let hands = |m: &Movement| -> f64 {
        let s = support::statics(&Body::usual(), &m.keys[0], &[]);
        m.keys[0]
            .supports
            .iter()
            .zip(&s.pushes)
            .filter(|(k, _)| k.part.region == Region::Palm)
            .map(|(_, f)| f.y)
            .sum()
    };
    let (table, floor) = (hands(&m[0]), hands(&m[1]));
    assert!(0.1 < table && table + 0.1 < floor && floor < 0.8, "{table} {floor}");
    // How hard the shoulders work also depends on how far ahead the hands are, so only what they carry is ranked.
}

#[test]
fn a_wall_takes_what_the_feet_cannot() {
    let m = settled(
        "\
exercise: Wall sit
  pose: start, from standing
  wall behind, back on wall, feet hip-width apart, heels 45 cm from wall
  pose: down, from start
  hips flexion 90, knees flexion 90
  back slides on wall
  planted: feet
",
    );
    let s = held(&m[0]);
    let key = last(&m[0]);
    let wall: f64 =
        key.supports.iter().zip(&s.pushes).filter(|(k, _)| k.along.y < 0.5).map(|(_, f)| f.norm()).sum();
    let feet: f64 =
        key.supports.iter().zip(&s.pushes).filter(|(k, _)| 0.5 < k.along.y).map(|(_, f)| f.y).sum();
    assert!(0.05 < wall && (feet - 1.0).abs() < 1e-5, "{wall} {feet}");
    assert!(s.margin.is_none());
    assert!(0.02 < of(&s, Joint::Knee, Motion::Extension));
}

/// A hand weight is held by shoulder and elbow, whatever the body does with its own weight.
#[test]
fn a_weight_in_the_hand_adds_its_lever() {
    let m = settled(
        "\
exercise: Hold
  pose: start, from standing
  dumbbell in right hand, right elbow flexion 90, right arm by side
  pose: less, from start
  right elbow flexion 80
",
    );
    let key = &m[0].keys[0];
    let loads = Load::of_things(&m[0].things, PropKind::Dumbbell, 0.03);
    assert_eq!(loads, [Load::Held { hand: Side::Right, weight: 0.03 }]);
    let (light, heavy) =
        (support::statics(&Body::usual(), key, &[]), support::statics(&Body::usual(), key, &loads));
    let more = of(&heavy, Joint::Elbow, Motion::Flexion) - of(&light, Joint::Elbow, Motion::Flexion);
    // Forearm and a third of the hand, level: fractions of stature.
    assert!((more - 0.03 * (0.146 + 0.04)).abs() < 0.03 * 0.02, "{more}");
    let sum: f64 = heavy.pushes.iter().map(|f| f.y).sum();
    assert!((sum - 1.03).abs() < 1e-5);
}
