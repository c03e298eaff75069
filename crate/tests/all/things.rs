//! Things in the room: each text is what a physiotherapist would write, and the body and the thing are where it says.

use layfigure::body::dof::{Limb, paired};
use layfigure::body::flesh;
use layfigure::body::names::{Region, Segment, Side};
use layfigure::body::range::Limits;
use layfigure::body::{Body, Placed, Skin};
use layfigure::catalog::Catalog;
use layfigure::measure::degrees;
use layfigure::notice::Severity;
use layfigure::pose::ask::{PropKind, Surface};
use layfigure::pose::movement::{Key, Movement, Shape};
use layfigure::pose::settle;
use layfigure::space::Vec3;

const RAIL: &str =
    "pose: start, from standing\nrail on the right, light touch of right hand on rail, trunk upright";
const TABLE_AT_SIDE: &str =
    "pose: start, from sitting\nchair 45 cm, table 72 cm on the left, left forearm on table";
const OVER_THE_EDGE: &str = "pose: start, from sitting\n\
    chair 45 cm, table 72 cm in front, right forearm on table, right hand over edge of table";
const STRAP: &str =
    "pose: start, from long sitting\nright knee straight, strap round right foot, hands hold strap";
const STRAP_ON_BACK: &str = "pose: start, from lying on back\n\
    right hip flexion 70, right knee straight, strap round right foot, hands hold strap";
const HEELS_OFF: &str = "pose: start, from standing\n\
    step 15 cm, balls of feet on step, feet hip-width apart, worktop in front, fingertips lightly on worktop\n\
    pose: down, from start\nankles dorsiflexion 15, knees straight\nplanted: balls of feet";
const BALL_AT_WALL: &str = "pose: start, from standing\n\
    wall behind, ball 55 cm between lower back and wall, feet hip-width apart";
const HAND_ON_BALL: &str =
    "pose: start, from standing\nwall in front, ball 25 cm between right hand and wall";
const DOORWAY: &str = "pose: start, from standing\n\
    doorway in front, right forearm on doorway, right shoulder abduction 90, right elbow bent 90\n\
    pose: stretched, from start\nright foot in front 30 cm\nplanted: right forearm";
const BRIDGE_ON_BALL: &str = "pose: start, from lying on back\nball 65 cm, calves on ball, legs straight\n\
    pose: up, from start\nbottom off floor, thighs in line with trunk, legs straight, calves on ball";
const BENCH: &str = "pose: start, from sitting on floor\n\
    bench 45 cm behind, upper back against edge of bench, knees bent 90, soles on floor, seat on floor\n\
    pose: up, from start\nbottom off floor, upper back on bench, thighs level, shins upright, trunk level";
const CHAIR_BACK: &str = "pose: start, from sitting\nchair 45 cm, back against chair back";
const SOFA: &str = "pose: start, from sitting\nsofa 45 cm, sit back in sofa";
const PILLOW_UNDER_KNEES: &str = "pose: start, from lying on back\npillow 15 cm under knees";
const PILLOW_UNDER_TUMMY: &str = "pose: start, from lying on front\npillow 8 cm under tummy";
const ROLLER: &str = "pose: start, from crook lying\nroller 15 cm, upper back on roller, bottom on floor";
const FOREARMS_ON_BALL: &str = "pose: start, from high kneeling\nball 65 cm in front, forearms on ball";
const STAIRS: &str = "pose: start, from standing\nright foot on second stair, left foot on first stair";
const BALL_IN_HANDS: &str = "pose: start, from sitting\nhands hold ball 25 cm";

const ALL: [&str; 19] = [
    RAIL,
    TABLE_AT_SIDE,
    OVER_THE_EDGE,
    STRAP,
    STRAP_ON_BACK,
    HEELS_OFF,
    BALL_AT_WALL,
    HAND_ON_BALL,
    DOORWAY,
    BRIDGE_ON_BALL,
    BENCH,
    CHAIR_BACK,
    SOFA,
    PILLOW_UNDER_KNEES,
    PILLOW_UNDER_TUMMY,
    ROLLER,
    FOREARMS_ON_BALL,
    STAIRS,
    BALL_IN_HANDS,
];

fn settled(text: &str) -> (Body, Movement) {
    let (catalog, notices) = Catalog::read(&format!("@ own/exercise\nexercise: t\n{text}"));
    let wrong: Vec<_> =
        notices.iter().filter(|(_, n)| n.severity() == Severity::Error && is_of_poses(n.kind())).collect();
    assert!(wrong.is_empty(), "{text}: {wrong:?}");
    let body = Body::usual();
    let exercise = &catalog.exercises()[0];
    let movement = settle::exercise(&body, &exercise.poses, Side::Right, &Limits::none());
    (body, movement)
}

/// Not the catalog's own rules on what a whole exercise has.
fn is_of_poses(kind: &str) -> bool {
    [
        "unread-clause",
        "unknown-pose-word",
        "unknown-placing",
        "touches-nothing",
        "touches-twice",
        "edge-of-what",
    ]
    .contains(&kind)
}

fn first(text: &str) -> (Placed, Key) {
    let (body, movement) = settled(text);
    let key = movement.keys[0].clone();
    (body.place(&key.state), key)
}

fn skin(ball: flesh::BallId, side: Side) -> Skin {
    Skin { ball, side }
}

/// The corners of the box of that kind.
fn block(key: &Key, kind: PropKind) -> (Vec3, Vec3) {
    key.things
        .iter()
        .find_map(|t| match t.shape {
            Shape::Block { low, high } | Shape::Chair { low, high, .. } if t.kind == kind => {
                Some((low, high))
            }
            _ => None,
        })
        .unwrap_or_else(|| panic!("a {} in {:?}", kind.word(), key.things))
}

/// How deep a point with a radius is in a shape, metres; negative outside.
fn depth(shape: &Shape, at: Vec3, radius: f64) -> f64 {
    match shape {
        Shape::Block { low, high } | Shape::Chair { low, high, .. } => {
            let each = |k: usize| (at.at(k) - low.at(k)).min(high.at(k) - at.at(k));
            let inside = (0..3).map(each).fold(f64::INFINITY, f64::min);
            if 0.0 < inside {
                return inside + radius;
            }
            let outside: f64 = (0..3).map(|k| each(k).min(0.0)).map(|d| d * d).sum();
            radius - outside.sqrt()
        }
        Shape::Ball { centre, radius: r } => radius + r - (at - *centre).norm(),
        Shape::Roller { from, to, radius: r } => {
            let way = (*to - *from).unit_or(Vec3::Z);
            let v = at - *from;
            radius + r - (v - way * way.dot(v)).norm()
        }
        _ => f64::NEG_INFINITY,
    }
}

#[test]
fn what_is_said_is_touched_and_nothing_is_in_the_way() {
    for text in ALL {
        let (_, movement) = settled(text);
        for key in &movement.keys {
            assert!(key.gap_mm < settle::GAP_MM, "{text} {}: {} mm", key.name, key.gap_mm);
            assert_eq!(key.pressed, [], "{text} {}", key.name);
            assert_eq!(key.missed, [], "{text} {}", key.name);
        }
    }
}

/// Skin gives, and edges are drawn sharp that are round: 15 mm are not seen.
#[test]
fn no_skin_is_inside_a_thing_that_is_drawn() {
    for text in ALL {
        let (body, movement) = settled(text);
        for key in &movement.keys {
            let p = body.place(&key.state);
            for thing in &key.things {
                for k in Skin::all() {
                    let deep = depth(&thing.shape, p.skin(k), p.radius(k)) - p.gives(k);
                    assert!(deep < 0.015, "{text} {}: {k:?} {} mm in {thing:?}", key.name, deep * 1000.0);
                }
            }
        }
    }
}

#[test]
fn a_rail_at_the_side_runs_forwards_beside_the_hip() {
    let (p, key) = first(RAIL);
    let bar = key.things.iter().find_map(|t| match t.shape {
        Shape::Bar { from, to } => Some((from, to)),
        _ => None,
    });
    let (from, to) = bar.expect("a rail");
    assert!((to.z - from.z).abs() < 0.01 && 0.5 < (to.x - from.x).abs());
    let hip = p.skin(skin(flesh::HIP_SIDE, Side::Right));
    assert!(hip.z + p.radius(skin(flesh::HIP_SIDE, Side::Right)) < from.z);
    // A light touch leaves the trunk upright.
    let up = p.turn(Segment::Chest) * Vec3::Y;
    assert!(0.99 < up.y, "{up:?}");
}

#[test]
fn a_table_at_the_side_is_there() {
    let (p, key) = first(TABLE_AT_SIDE);
    let (low, high) = block(&key, PropKind::Table);
    assert!(high.z < p.skin(skin(flesh::HIP_SIDE, Side::Left)).z && low.z < high.z);
}

#[test]
fn the_table_ends_below_the_wrist_of_a_hand_that_is_over_its_edge() {
    let (p, key) = first(OVER_THE_EDGE);
    let (low, high) = block(&key, PropKind::Table);
    let within = |v: Vec3| low.x <= v.x && v.x <= high.x && low.z <= v.z && v.z <= high.z;
    assert!(within(p.skin(skin(flesh::FOREARM_MID, Side::Right))));
    for ball in [flesh::PALM_THUMB, flesh::PALM_SMALL, flesh::FINGERTIPS] {
        assert!(!within(p.skin(skin(ball, Side::Right))), "{ball}");
    }
}

#[test]
fn a_strap_runs_straight_from_the_sole_to_both_hands() {
    for text in [STRAP, STRAP_ON_BACK] {
        let (p, key) = first(text);
        let lines = key.things.iter().filter(|t| matches!(t.shape, Shape::Line { .. })).count();
        assert_eq!(lines, 2, "{text}");
        let sole = p.skin(skin(flesh::SMALL_TOE_BALL, Side::Right));
        for side in Side::BOTH {
            let palm = p.skin(skin(flesh::HAND_HEEL, side));
            let chest = p.skin(skin(flesh::BREAST, side));
            let along = (palm - sole).unit_or(Vec3::X).dot((chest - sole).unit_or(Vec3::X));
            assert!(0.985 < along, "{text} {side:?} {along}");
            assert!((palm - sole).norm() + 0.15 < (chest - sole).norm(), "{text}: arms reach out");
        }
    }
}

#[test]
fn heels_hang_over_the_edge_of_a_step() {
    let (body, movement) = settled(HEELS_OFF);
    for key in &movement.keys {
        let p = body.place(&key.state);
        let (low, high) = block(key, PropKind::Step);
        for side in Side::BOTH {
            let (heel, ball) = (p.skin(skin(flesh::HEEL, side)), p.skin(skin(flesh::BIG_TOE_BALL, side)));
            assert!(heel.x < low.x && low.x < ball.x && ball.x < high.x, "{} {side:?}", key.name);
        }
    }
    let down = body.place(&movement.keys[1].state);
    let heel = skin(flesh::HEEL, Side::Right);
    assert!(down.skin(heel).y - down.radius(heel) < 0.15 - 0.005, "heels sink below the top");
}

#[test]
fn a_ball_at_the_wall_touches_wall_and_back() {
    for (text, part) in [
        (BALL_AT_WALL, skin(flesh::HOLLOW, Side::Right)),
        (HAND_ON_BALL, skin(flesh::HAND_HEEL, Side::Right)),
    ] {
        let (p, key) = first(text);
        let mut ball = None;
        let mut wall = None;
        for t in &key.things {
            match t.shape {
                Shape::Ball { centre, radius } => ball = Some((centre, radius)),
                Shape::Wall { at, faces } => wall = Some((at, faces)),
                _ => {}
            }
        }
        let ((centre, radius), (at, faces)) = (ball.expect("a ball"), wall.expect("a wall"));
        assert!(((centre - at).dot(faces) - radius).abs() < 0.005, "{text}");
        let off = (p.skin(part) - centre).norm() - radius - p.radius(part);
        assert!(off.abs() < 0.015, "{text} {off}");
        assert!((p.skin(part).y - centre.y).abs() < 0.6 * radius, "{text}: level with the ball");
    }
}

#[test]
fn the_body_passes_between_the_posts_of_a_doorway() {
    let (body, movement) = settled(DOORWAY);
    for key in &movement.keys {
        let posts: Vec<(f64, f64)> = key
            .things
            .iter()
            .filter_map(|t| match t.shape {
                Shape::Block { low, high } if t.kind == PropKind::Doorway => Some((low.z, high.z)),
                _ => None,
            })
            .collect();
        assert_eq!(posts.len(), 2);
        let p = body.place(&key.state);
        let pelvis = p.joint(Segment::Pelvis).z;
        assert!(
            posts.iter().any(|(_, z)| *z < pelvis) && posts.iter().any(|(z, _)| pelvis < *z),
            "{posts:?}"
        );
        // The forearm points up the post.
        let (elbow, wrist) =
            (p.skin(skin(flesh::ELBOW, Side::Right)), p.skin(skin(flesh::WRIST, Side::Right)));
        assert!(0.10 < wrist.y - elbow.y, "{}", key.name);
    }
}

#[test]
fn legs_lie_on_top_of_a_ball() {
    let (body, movement) = settled(BRIDGE_ON_BALL);
    for key in &movement.keys {
        let p = body.place(&key.state);
        let centre = key.things.iter().find_map(|t| match t.shape {
            Shape::Ball { centre, .. } => Some(centre),
            _ => None,
        });
        let centre = centre.expect("a ball");
        for side in Side::BOTH {
            assert!(centre.y + 0.1 < p.skin(skin(flesh::CALF, side)).y, "{}", key.name);
        }
    }
    let up = body.place(&movement.keys[1].state);
    let seat = skin(flesh::BUTTOCK, Side::Right);
    assert!(0.05 < up.skin(seat).y - up.radius(seat), "the hips are lifted");
}

#[test]
fn a_bench_is_where_the_back_leans_and_stays_there() {
    let (body, movement) = settled(BENCH);
    let places: Vec<(Vec3, Vec3)> = movement.keys.iter().map(|k| block(k, PropKind::Bench)).collect();
    assert_eq!(places[0], places[1]);
    let p = body.place(&movement.keys[1].state);
    let (pelvis, head) = (p.joint(Segment::Pelvis), p.joint(Segment::Head));
    // The box reaches away from the feet, under the head.
    assert!(places[1].1.x < pelvis.x && head.x < places[1].1.x && 0.3 < pelvis.y);
}

#[test]
fn who_sits_back_sits_and_leans() {
    for (text, kind) in [(CHAIR_BACK, PropKind::Chair), (SOFA, PropKind::Sofa)] {
        let (p, key) = first(text);
        let (low, high) = block(&key, kind);
        let seat = skin(flesh::BUTTOCK, Side::Right);
        assert!((p.skin(seat).y - p.radius(seat) - high.y).abs() < 0.02, "{text}");
        let back = skin(flesh::BLADE, Side::Right);
        assert!((p.skin(back).x - p.radius(back) - low.x).abs() < 0.01, "{text}");
        let leans =
            key.touches.iter().any(|t| t.part.region == Region::UpperBack && t.surface != Surface::Floor);
        assert!(leans, "{text}");
    }
}

#[test]
fn cushions_lift_what_lies_on_them() {
    let (p, key) = first(PILLOW_UNDER_KNEES);
    assert!(15.0 < degrees(key.state.angle(paired(Limb::KneeFlexion, Side::Right))));
    let heel = skin(flesh::HEEL, Side::Right);
    assert!(p.skin(heel).y - p.radius(heel) < 0.03, "heels stay down");
    let (p, _) = first(PILLOW_UNDER_TUMMY);
    let belly = skin(flesh::BELLY, Side::Right);
    assert!(0.02 < p.skin(belly).y - p.radius(belly));
}

#[test]
fn each_foot_stands_on_its_own_stair() {
    let (p, key) = first(STAIRS);
    for (side, height) in [(Side::Right, 0.34), (Side::Left, 0.17)] {
        let heel = skin(flesh::HEEL, side);
        assert!((p.skin(heel).y - p.radius(heel) - height).abs() < 0.01, "{side:?}");
    }
    assert_eq!(key.things.iter().filter(|t| t.kind == PropKind::Stairs).count(), 3);
}

#[test]
fn a_ball_in_the_hands_is_between_them() {
    let (p, key) = first(BALL_IN_HANDS);
    assert!(key.things.iter().any(|t| t.kind == PropKind::Ball && matches!(t.shape, Shape::Between { .. })));
    let palm = |side| p.skin(skin(flesh::HAND_HEEL, side));
    let apart = (palm(Side::Right) - palm(Side::Left)).norm();
    assert!((0.2..0.35).contains(&apart), "{apart}");
}
