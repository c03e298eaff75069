use super::ask::*;
use super::posture::base;
use super::problem::*;
use super::room::Room;
use crate::body::dof::{COUNT, Dof, Limb, paired};
use crate::body::names::*;
use crate::body::range::{self, Limits};
use crate::body::{Body, flesh};
use crate::measure::radians;
use crate::solve::{Problem, Rows};
use crate::space::{Rotation, Vec3, v3};

/// A small generator of numbers in 0..1, the same everywhere.
fn numbers(seed: u64) -> impl FnMut() -> f64 {
    let mut x = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    move || {
        x ^= x << 13;
        x ^= x >> 7;
        x ^= x << 17;
        (x >> 11) as f64 / (1u64 << 53) as f64
    }
}

fn skin(ball: flesh::BallId, side: Side) -> crate::body::Skin {
    crate::body::Skin { ball, side }
}

/// Every kind of row at random states: slopes against central differences.
#[test]
fn slopes_are_the_derivatives_of_rows() {
    use Side::{Left, Right};
    let s = |r| Point::Skin(skin(r, Right));
    let knee = paired(Limb::KneeFlexion, Right);
    let plane = Face::Plane { at: v3(0.1, 0.2, 0.0), out: Vec3::Y };
    let ball = Face::Round { rolling: 0, radius: 0.3, axis: None, up: 0.0 };
    let roller = Face::Round { rolling: 0, radius: 0.1, axis: Some(Vec3::Z), up: 0.2 };
    // Large and deep in the body, so that every skin point has something to say.
    let block = Block { ahead: Vec3::X, deep: 3.0, wide: 3.0, low: -1.5, top: 2.0 };
    let thigh = Way::In(Segment::Thigh(Left), -Vec3::Y);
    let trunk = Way::Between(
        Point::Middle(Segment::Thigh(Right), Segment::Thigh(Left)),
        Point::Middle(Segment::UpperArm(Right), Segment::UpperArm(Left)),
    );
    let touch = |face| Row::Touch { skin: skin(flesh::HEEL, Left), face, tolerance: 0.01 };
    let rows = vec![
        Row::Sum { parts: vec![(Dof(0), 1.0), (Dof(3), -1.0)], target: 0.2, tolerance: 0.3 },
        Row::Near { dof: knee, target: 0.4, tolerance: 0.2 },
        Row::SumAtMost { parts: vec![(knee, 1.0), (Dof(20), -0.5)], most: -3.0, tolerance: 0.5 },
        Row::ElevationAtMost { side: Right, most: 0.0, tolerance: 0.2 },
        Row::RootNear { target: Vec3::ZERO, tolerance: [0.3, 3.0, 0.2] },
        Row::Along { way: thigh, target: Vec3::X, tolerance: 0.1 },
        Row::Along { way: trunk, target: Vec3::Y, tolerance: 0.1 },
        Row::PartAlong { way: palm_way(Right), target: Vec3::Y, part: 0.3, tolerance: 0.2 },
        Row::Towards { way: thigh, target: Vec3::Y, least: 2.0, tolerance: 0.2 },
        Row::Same { a: thigh, b: trunk, sign: -1.0, tolerance: 0.2 },
        Row::Parallel { a: thigh, b: trunk, tolerance: 0.2 },
        touch(plane),
        touch(ball),
        touch(roller),
        touch(Face::Side { rolling: 0, out: -Vec3::X }),
        Row::ClearRound {
            face: Face::Round { rolling: 0, radius: 4.0, axis: None, up: 0.1 },
            sink: 0.0,
            tolerance: 0.1,
        },
        Row::ClearBlock { rolling: 0, block, sink: 0.0, tolerance: 0.1 },
        Row::OnSide { skin: skin(flesh::HEEL, Left), face: ball, to: Vec3::X, least: 2.0, tolerance: 0.1 },
        Row::OnSide { skin: skin(flesh::HEEL, Left), face: roller, to: Vec3::Y, least: 2.0, tolerance: 0.1 },
        touch(Face::Skin(skin(flesh::KNEE, Right))),
        Row::Grip { side: Left, skin: skin(flesh::SHIN, Right), off: 0.01, tolerance: 0.01 },
        Row::Facing {
            from: s(flesh::SHIN),
            to: Point::Palm(Left),
            segment: Segment::Shank(Right),
            local: Vec3::X,
            tolerance: 0.3,
        },
        Row::PalmTo { side: Right, point: s(flesh::SHIN), tolerance: 0.3 },
        Row::Anchor { skin: skin(flesh::HEEL, Right), target: Vec3::X, out: Vec3::Y, tolerance: 0.01 },
        Row::Fixed { point: Point::Palm(Right), target: Vec3::X, tolerance: 0.1 },
        Row::Apart { a: s(flesh::HEEL), b: s(flesh::CHIN), along: Vec3::X, distance: 0.1, tolerance: 0.1 },
        Row::Distance { a: s(flesh::HEEL), b: s(flesh::CHIN), distance: 0.1, tolerance: 0.1 },
        Row::Off {
            skin: skin(flesh::CHIN, Right),
            at: Vec3::ZERO,
            out: Vec3::X,
            distance: 0.1,
            tolerance: 0.1,
        },
        Row::KeepOff { skin: skin(flesh::CHIN, Right), at: Vec3::Y * 9.0, out: Vec3::Y, tolerance: 0.1 },
        Row::AtLeastApart {
            a: s(flesh::HEEL),
            b: s(flesh::CHIN),
            along: Vec3::X,
            least: 9.0,
            tolerance: 0.1,
        },
        Row::ClearPlane { at: v3(0.0, 9.0, 0.0), out: Vec3::Y, tolerance: 0.1 },
        Row::ClearSkin {
            a: skin(flesh::CHIN, Right),
            b: skin(flesh::HEEL, Left),
            sink: -9.0,
            tolerance: 0.1,
        },
        Row::Balance { points: vec![skin(flesh::HEEL, Right), skin(flesh::KNEE, Left)], tolerance: 0.1 },
        Row::RollingNear { rolling: 0, target: Vec3::X, tolerance: [0.5, 0.2, 0.1] },
    ];
    let mut next = numbers(7);
    for row in rows {
        let settling = Settling {
            body: Body::usual(),
            limits: Limits::none(),
            rows: vec![row.clone()],
            rolling: 1,
            shares: 2,
            contact_weight: 0.7,
        };
        let n = settling.unknowns();
        for _ in 0..3 {
            let mut state = crate::body::State::standing(&Body::usual());
            state.root = v3(next(), next(), next());
            state.turn = Rotation::exp(v3(next() * 4.0 - 2.0, next() * 2.0, next()));
            for i in 0..COUNT {
                let r = range::of(Dof(i));
                state.angles[i] = radians(r.low + (r.high - r.low) * (0.1 + 0.8 * next()));
            }
            // Clear of the limit on raising the arm, at which a step is cut short.
            for side in Side::BOTH {
                for limb in [Limb::ShoulderFlexion, Limb::ShoulderAbduction] {
                    state.angles[paired(limb, side).0] *= 0.6;
                }
            }
            let at = At { state, rolling: vec![v3(next(), 0.3, next())], shares: vec![0.3, 0.6] };
            let dense = |rows: &Rows| {
                let mut all: Vec<(f64, Vec<f64>)> =
                    rows.values.iter().zip(rows.slopes.chunks(n)).map(|(v, s)| (*v, s.to_vec())).collect();
                for (i, v, d) in &rows.single {
                    let mut s = vec![0.0; n];
                    s[*i] = *d;
                    all.push((*v, s));
                }
                all
            };
            let at_step = |h: f64, i: usize| {
                let mut step = vec![0.0; n];
                step[i] = h;
                let mut rows = Rows::new(n);
                settling.rows(&settling.moved(&at, &step), true, &mut rows);
                dense(&rows)
            };
            let mut rows = Rows::new(n);
            settling.rows(&at, true, &mut rows);
            let here = dense(&rows);
            let h = 1e-6;
            for i in 0..n {
                let (up, down) = (at_step(h, i), at_step(-h, i));
                assert_eq!(up.len(), here.len(), "{row:?}");
                for (k, (_, slopes)) in here.iter().enumerate() {
                    let want = (up[k].0 - down[k].0) / (2.0 * h);
                    let size = slopes.iter().fold(1.0, |a: f64, b| a.max(b.abs()));
                    assert!(
                        (want - slopes[i]).abs() < 1e-6 * size,
                        "{row:?} unknown {i}: {want} {}",
                        slopes[i]
                    );
                }
            }
        }
    }
}

#[test]
fn a_posture_by_itself_keeps_all_that_it_rests_on() {
    let body = Body::usual();
    for posture in [
        Posture::Standing,
        Posture::Sitting,
        Posture::LongSitting,
        Posture::Supine,
        Posture::CrookLying,
        Posture::Prone,
        Posture::SideLying(Side::Left),
        Posture::SideLying(Side::Right),
        Posture::FourPointKneeling,
        Posture::HighKneeling,
        Posture::HalfKneeling(Side::Right),
    ] {
        let pose = Pose {
            name: "start".to_string(),
            place: crate::text::Place { line: 1, start: 0, end: 0 },
            from: From::Posture(posture),
            asks: vec![],
            contacts: vec![],
            releases: vec![],
            props: vec![],
            planted: vec![],
            works: vec![],
            efforts: vec![],
            view: None,
            seconds: None,
        };
        let m = super::settle::exercise(&body, &[pose], Side::Right, &Limits::none());
        let room = Room::of(&[], &body);
        let rests = base(posture, &body, room.seat()).rests;
        let key = &m.keys[0];
        assert_eq!(key.missed, [], "{posture:?}");
        assert!(key.converged && key.gap_mm < 2.5, "{posture:?} {}", key.gap_mm);
        for r in rests.iter().filter(|r| !r.loosely) {
            // Heel and ball of a foot are told as its sole.
            let kept = key.touches.iter().any(|t| {
                t.part.side == r.part.side
                    && (t.part.region == r.part.region || t.part.region == Region::Sole)
                    && t.surface == r.surface
            });
            assert!(kept, "{posture:?} {:?}", r.part);
        }
    }
}
