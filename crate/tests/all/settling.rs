//! Laws of settling, over the whole catalog: limits hold, sides mirror, planted parts stay, nothing goes
//! through the floor.

use crate::known;
use layfigure::body::dof::{COUNT, Dof};
use layfigure::body::names::{Angle, Joint, Motion, Region, Side};
use layfigure::body::range::Limits;
use layfigure::body::{Body, Skin, State, Variant};
use layfigure::catalog::Catalog;
use layfigure::measure::{degrees, radians};
use layfigure::pose::ask::{Pose, Surface};
use layfigure::pose::movement::Movement;
use layfigure::pose::nudge::{self, Nudge};
use layfigure::pose::settle;

fn drawn() -> Vec<(&'static str, &'static [Pose])> {
    known::exercises().map(|e| (e.id.as_str(), e.poses.as_slice())).collect()
}

/// Each with what it settles to for the usual body.
fn settled() -> impl Iterator<Item = (&'static str, &'static Movement)> {
    known::drawn(Side::Right).iter().map(|d| (d.id(), &d.movement))
}

fn states(m: &Movement) -> impl Iterator<Item = &State> {
    m.keys.iter().map(|k| &k.state).chain(m.ways.iter().flatten())
}

fn limited(side: Side, joint: Joint, motion: Motion, most: f64) -> Limits {
    let mut limits = Limits::none();
    limits.hold(Angle { side: Some(side), joint, motion }, most);
    limits
}

#[test]
fn every_key_pose_touches_what_it_says_and_reaches_what_it_asks() {
    for ((id, poses), (_, m)) in drawn().into_iter().zip(settled()) {
        assert_eq!(m.keys.len(), poses.len(), "{id}");
        for key in &m.keys {
            assert!(key.gap_mm < settle::GAP_MM, "{id} {}: {} mm", key.name, key.gap_mm);
            assert!(key.missed.is_empty(), "{id} {}: {:?}", key.name, key.missed);
        }
    }
}

#[test]
fn no_angle_leaves_its_limit() {
    let cases = [
        limited(Side::Right, Joint::Knee, Motion::Flexion, 47.0),
        limited(Side::Left, Joint::Hip, Motion::Flexion, 63.0),
        limited(Side::Right, Joint::Shoulder, Motion::Flexion, 71.0),
        limited(Side::Right, Joint::Ankle, Motion::Dorsiflexion, 0.0),
        limited(Side::Right, Joint::Knee, Motion::Extension, -12.0),
    ];
    for (id, poses) in drawn() {
        for limits in &cases {
            for side in Side::BOTH {
                let m = settle::exercise(&Body::usual(), poses, side, limits);
                for state in states(&m) {
                    assert!(state.angles.iter().all(|a| a.is_finite()) && state.root.norm().is_finite());
                    for i in 0..COUNT {
                        let b = limits.bounds(Dof(i));
                        let a = state.angles[i];
                        // Exactly: bounds are bounds, not wishes.
                        assert!(radians(b.low) <= a && a <= radians(b.high), "{id} {i} {}", degrees(a));
                    }
                    for s in Side::BOTH {
                        let f = state.angle(layfigure::body::dof::paired(
                            layfigure::body::dof::Limb::ShoulderFlexion,
                            s,
                        ));
                        let e = degrees(layfigure::body::elevation(state, s));
                        assert!(f <= 0.0 || e <= limits.elevation(s) + 0.05, "{id} raised {e}");
                    }
                }
            }
        }
    }
}

#[test]
fn the_left_is_the_mirror_of_the_right_exactly() {
    let limits = limited(Side::Left, Joint::Knee, Motion::Flexion, 80.0);
    for (id, poses) in drawn() {
        let left = settle::exercise(&Body::usual(), poses, Side::Left, &limits);
        let right = settle::exercise(&Body::usual(), poses, Side::Right, &limits.mirrored());
        assert!(left == right.mirrored(), "{id}");
    }
}

/// A planted hand or foot is where it was, in every instant (2 mm), and nothing sinks into the floor
/// further than soft skin gives (10 mm).
#[test]
fn planted_parts_stay_and_nothing_goes_through_the_floor() {
    let body = Body::usual();
    for (id, m) in settled() {
        for (i, way) in m.ways.iter().enumerate() {
            let ends = [&m.keys[i], &m.keys[i + 1]];
            let stays = ends[1].touches.iter().filter(|t| {
                let limb =
                    matches!(t.part.region, Region::Sole | Region::Heel | Region::Forefoot | Region::Palm);
                t.planted
                    && !t.slides
                    && limb
                    && !matches!(t.surface, Surface::Body(_))
                    && ends[0].touches.iter().any(|o| o.part == t.part && o.surface == t.surface)
            });
            for t in stays {
                for skin in Skin::of(t.part.region, t.part.side) {
                    let home = body.place(&way[0]).skin(skin);
                    for state in way {
                        let off = (body.place(state).skin(skin) - home).norm();
                        assert!(off < 0.002, "{id}: {:?} wanders {:.1} mm", t.part, off * 1000.0);
                    }
                }
            }
            for state in way {
                let p = body.place(state);
                for skin in Skin::all() {
                    let give = p.gives(skin) + 0.003;
                    let low = p.skin(skin).y - body.radius(skin);
                    assert!(-give < low, "{id}: {skin:?} is {:.1} mm under the floor", low * 1000.0);
                }
            }
        }
    }
}

#[test]
fn ways_are_continuous() {
    for (id, m) in settled() {
        for way in &m.ways {
            let n = way.len();
            for k in 1..n {
                for i in 0..COUNT {
                    let step = degrees((way[k].angles[i] - way[k - 1].angles[i]).abs());
                    let whole = degrees((way[n - 1].angles[i] - way[0].angles[i]).abs());
                    // A minimum-jerk step of 1/15 is at most an eighth of the whole; beyond it 8° (method).
                    assert!(step <= whole * 0.13 + 8.0, "{id} {i}: a jump of {step:.1}° at {k}");
                }
            }
        }
    }
}

#[test]
fn a_short_and_a_tall_body_settle_as_well() {
    for metres in [1.50, 1.95] {
        let body = Body::of_stature(metres);
        for (id, poses) in drawn() {
            let m = settle::exercise(&body, poses, Side::Right, &Limits::none());
            for key in &m.keys {
                assert!(key.gap_mm < settle::GAP_MM, "{id} at {metres} m, {}: {} mm", key.name, key.gap_mm);
            }
        }
    }
}

/// Whole movements in plain words that no catalog file has: both feet of a heel raise stay where they
/// stood, a lunging foot lands on the floor, a kneeling hip goes forward over a knee that stays.
#[test]
fn feet_that_are_asked_to_stay_or_step_do() {
    let text = "\
exercise: Raise
  pose: start, from standing
  feet hip-width apart
  pose: up, from start
  heels off floor, ankles plantar flexion 30
exercise: Lunge
  pose: start, from standing
  pose: down, from start
  left foot in front 65 cm, left knee bent 85, right knee bent 85, trunk upright
exercise: Kneel
  pose: start, from half-kneeling on the right knee
  trunk upright
  pose: shift, from start
  right hip extension 15, trunk upright
  planted: left foot, right knee";
    let (prescription, _) = layfigure::prescription::read(text);
    let (own, notices) = layfigure::programme::resolve::own(&prescription, Catalog::embedded());
    assert!(notices.is_empty(), "{notices:?}");
    let body = Body::usual();
    let moved = |n: usize| settle::exercise(&body, &own[n].poses, Side::Right, &Limits::none());
    let foot =
        |m: &Movement, key: usize, ball, side| body.place(&m.keys[key].state).skin(Skin { ball, side });
    use layfigure::body::flesh::{BIG_TOE_BALL, HEEL};

    let raise = moved(0);
    for side in Side::BOTH {
        let (before, after) = (foot(&raise, 0, BIG_TOE_BALL, side), foot(&raise, 1, BIG_TOE_BALL, side));
        assert!((after - before).norm() < 0.005, "{side:?} {before:?} {after:?}");
        assert!(0.05 < foot(&raise, 1, HEEL, side).y - foot(&raise, 0, HEEL, side).y);
    }
    let lunge = moved(1);
    let front = &lunge.keys[1].touches;
    assert!(front.iter().any(|t| t.part.side == Some(Side::Left) && t.part.region == Region::Sole));
    let apart = foot(&lunge, 1, HEEL, Side::Left).x - foot(&lunge, 1, HEEL, Side::Right).x;
    assert!(0.5 < apart, "{apart}");
    let kneel = moved(2);
    let forward = kneel.keys[1].state.root.x - kneel.keys[0].state.root.x;
    assert!(0.04 < forward, "{forward}");
    for m in [&raise, &lunge, &kneel] {
        assert!(m.keys.iter().all(|k| k.gap_mm < settle::GAP_MM && k.missed.is_empty() && k.converged));
    }
}

/// Nothing in the catalog was nudged until it touched: with all asked angles 5° off, with things a tenth larger or
/// smaller, and for every kind of body, each key pose still touches what it should. A body that can't take a pose has
/// something pressed in the way, which the programme tells.
#[test]
fn poses_hold_with_other_numbers_and_other_bodies() {
    let mut faults = Vec::new();
    for (id, poses) in drawn() {
        let mut one = |name: String, body: &Body, poses: &[Pose]| {
            let m = settle::exercise(body, poses, Side::Right, &Limits::none());
            for key in &m.keys {
                if settle::GAP_MM <= key.gap_mm && key.pressed.is_empty() {
                    faults.push(format!("{id} {} {name}: {:.1} mm", key.name, key.gap_mm));
                }
            }
        };
        for by in Nudge::ALL {
            one(format!("{by:?}"), &Body::usual(), &nudge::nudged(poses, by));
        }
        for variant in Variant::ALL.into_iter().skip(1) {
            one(variant.word().to_string(), &Body::of(variant), poses);
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Of the usual adult nothing is in the way anywhere; of a pregnant body lying on the front the belly is.
#[test]
fn what_is_in_the_way_is_told() {
    for (id, m) in settled() {
        assert!(m.keys.iter().all(|k| k.pressed.is_empty()), "{id}");
    }
    let text =
        "exercise: Rest\n  pose: start, from lying on front\n  pose: bent, from start\n  right knee bent 90";
    let (prescription, _) = layfigure::prescription::read(text);
    let (own, _) = layfigure::programme::resolve::own(&prescription, Catalog::embedded());
    let m = settle::exercise(&Body::of(Variant::Pregnant), &own[0].poses, Side::Right, &Limits::none());
    assert_eq!(m.keys[0].pressed.first().and_then(|s| s.region()), Some(Region::Belly));
}

/// Doing no harm: settled once more from its answer, a key pose takes no step and changes nothing.
#[test]
fn what_is_settled_stays_as_it_is() {
    let mut asked = 0;
    for (id, poses) in drawn() {
        for posed in settle::problems(&Body::usual(), poses, &Limits::none()) {
            let mut at = posed.answer().clone();
            if !posed.converged() {
                continue;
            }
            asked += 1;
            let ended = layfigure::solve::minimise(posed.settling(), &mut at, settle::POLISH);
            assert_eq!(ended.steps, 0, "{id} {}", posed.name);
            assert!(at.state == posed.answer().state, "{id} {}", posed.name);
        }
    }
    assert!(50 < asked, "{asked}");
}
