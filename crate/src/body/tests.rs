use super::*;
use crate::measure::{degrees, radians};
use dof::LIMB_ALL;

fn bent(pairs: &[(Limb, f64)]) -> State {
    let mut s = State::standing(&Body::of_stature(1.0));
    for &(l, deg) in pairs {
        s.angles[paired(l, Side::Right).0] = radians(deg);
    }
    s
}

fn close(a: Vec3, b: Vec3, tolerance: f64) {
    assert!((a - b).norm() <= tolerance, "{a:?} is not {b:?}");
}

/// references/anthropometry.md, worked checks 1 and 2.
#[test]
fn heights_and_lengths_are_the_published_ones() {
    let body = Body::of_stature(1.70);
    let p = body.place(&State::standing(&body));
    let r = Side::Right;
    let eye = p.point(Segment::Head, v3(0.05, EYE_HEIGHT, 0.0)).y;
    let heights = [
        (eye, 1.5912),
        (p.joint(Segment::UpperArm(r)).y, 1.3906),
        (p.joint(Segment::Thigh(r)).y, 0.9010),
        (p.joint(Segment::Shank(r)).y, 0.4845),
        (p.joint(Segment::Foot(r)).y, 0.0663),
    ];
    for (got, want) in heights {
        assert!((got - want).abs() < 1e-4, "{got} {want}");
    }
    // The elbow closes 0.002 of stature lower by lengths than by heights (the reference's closure table).
    assert!((p.joint(Segment::Forearm(r)).y - 1.0710).abs() <= 0.002 * 1.70 + 1e-4);
    for (segment, want) in [
        (Segment::UpperArm(r), 0.3162),
        (Segment::Forearm(r), 0.2482),
        (Segment::Hand(r), 0.1836),
        (Segment::Thigh(r), 0.4165),
        (Segment::Shank(r), 0.4182),
    ] {
        let got = (p.far_end(segment) - p.joint(segment)).norm();
        assert!((got - want).abs() < 1e-4, "{segment:?} {got} {want}");
    }
}

/// Worked checks 3 and 7.
#[test]
fn masses_are_winters() {
    let sum: f64 = ALL_SEGMENTS.iter().map(|s| mass_of(*s).0).sum();
    assert!((sum - 1.0).abs() < 1e-9);
    let r = Side::Right;
    let kg = |s: Segment| 70.0 * mass_of(s).0;
    assert!((kg(Segment::Thigh(r)) - 7.00).abs() < 0.005);
    assert!((kg(Segment::Shank(r)) - 3.255).abs() < 0.005);
    assert!((kg(Segment::Foot(r)) - 1.015).abs() < 0.005);
    let leg = kg(Segment::Thigh(r)) + kg(Segment::Shank(r)) + kg(Segment::Foot(r));
    assert!((leg - 11.27).abs() < 0.005);
}

/// Worked checks 8 to 11.
#[test]
fn the_worked_limb_positions_come_out() {
    let body = Body::of_stature(1.0);
    let r = Side::Right;
    let leg = |hip: f64, knee: f64| {
        let p = body.place(&bent(&[(Limb::HipFlexion, hip), (Limb::KneeFlexion, knee)]));
        let o = p.joint(Segment::Thigh(r));
        (p.joint(Segment::Shank(r)) - o, p.joint(Segment::Foot(r)) - o)
    };
    let (knee, ankle) = leg(90.0, 90.0);
    close(knee, v3(0.245, 0.0, 0.0), 1e-6);
    close(ankle, v3(0.245, -0.246, 0.0), 1e-6);
    let (knee, ankle) = leg(45.0, 60.0);
    close(knee, v3(0.1732, -0.1732, 0.0), 1e-4);
    close(ankle, v3(0.1096, -0.4109, 0.0), 1e-4);
    let arm = |shoulder: f64, elbow: f64| {
        let p = body.place(&bent(&[(Limb::ShoulderFlexion, shoulder), (Limb::ElbowFlexion, elbow)]));
        let o = p.joint(Segment::UpperArm(r));
        (p.joint(Segment::Forearm(r)) - o, p.joint(Segment::Hand(r)) - o)
    };
    let (elbow, wrist) = arm(45.0, 45.0);
    close(elbow, v3(0.1315, -0.1315, 0.0), 1e-4);
    close(wrist, v3(0.2775, -0.1315, 0.0), 1e-4);
    let (elbow, wrist) = arm(180.0, 0.0);
    close(elbow, v3(0.0, 0.186, 0.0), 1e-6);
    close(wrist, v3(0.0, 0.332, 0.0), 1e-6);
}

/// Worked check 12.
#[test]
fn the_standing_centre_of_mass_is_at_the_published_height() {
    let body = Body::of_stature(1.0);
    let c = body.place(&State::standing(&body)).centre_of_mass();
    assert!((c.y - 0.578).abs() < 0.003, "{c:?}");
    assert!(c.z.abs() < 1e-12);
}

/// references/joint-ranges.md, worked check 9: the hip's Z-X-Y sequence, and reading it back.
#[test]
fn the_hip_turns_as_the_isb_sequence_says() {
    let body = Body::of_stature(1.0);
    let s = bent(&[(Limb::HipFlexion, 30.0), (Limb::HipAbduction, -10.0), (Limb::HipRotation, -5.0)]);
    let r = body.place(&s).turn(Segment::Thigh(Side::Right));
    close(r * v3(0.0, -1.0, 0.0), v3(0.4924, -0.8529, -0.1736), 1e-4);
    // R[row][column]: columns are the turned axes.
    assert!((degrees(math::asin(r.y.z)) - 10.0).abs() < 1e-9);
    assert!((degrees(math::atan2(-r.y.x, r.y.y)) - 30.0).abs() < 1e-9);
    assert!((degrees(math::atan2(-r.x.z, r.z.z)) - 5.0).abs() < 1e-9);
}

/// Worked check 10: abduction takes the arm sideways, flexion forwards.
#[test]
fn the_arm_goes_where_the_isb_planes_say() {
    let body = Body::of_stature(1.0);
    let down = v3(0.0, -1.0, 0.0);
    let a = body.place(&bent(&[(Limb::ShoulderAbduction, 90.0)])).turn(Segment::UpperArm(Side::Right));
    close(a * down, Vec3::Z, 1e-9);
    let f = body.place(&bent(&[(Limb::ShoulderFlexion, 90.0)])).turn(Segment::UpperArm(Side::Right));
    close(f * down, Vec3::X, 1e-9);
    // Zero-starting position: arm abducted 90, rotation zero has the forearm pointing forwards.
    let p = body.place(&bent(&[(Limb::ShoulderAbduction, 90.0), (Limb::ElbowFlexion, 90.0)]));
    let forearm = p.joint(Segment::Hand(Side::Right)) - p.joint(Segment::Forearm(Side::Right));
    close(forearm.unit_or(Vec3::Y), Vec3::X, 1e-9);
}

/// Each clinical word moves the far end the way the trade means it (right limb).
#[test]
fn motions_go_the_way_they_are_named() {
    let body = Body::of_stature(1.0);
    let at = |pairs: &[(Limb, f64)], segment: Segment| {
        body.place(&bent(pairs)).far_end(segment) - body.place(&bent(&[])).far_end(segment)
    };
    let r = Side::Right;
    assert!(0.0 < at(&[(Limb::HipAbduction, 20.0)], Segment::Thigh(r)).z);
    assert!(0.0 < at(&[(Limb::HipRotation, 20.0)], Segment::Toes(r)).z);
    assert!(at(&[(Limb::KneeFlexion, 20.0)], Segment::Shank(r)).x < 0.0);
    assert!(0.0 < at(&[(Limb::Dorsiflexion, 20.0)], Segment::Toes(r)).y);
    assert!(0.0 < at(&[(Limb::ToeExtension, 20.0)], Segment::Toes(r)).y);
    let turned = |l: Limb, v: Vec3, s: Segment| body.place(&bent(&[(l, 30.0)])).turn(s) * v;
    // Inversion turns the sole inwards; supination turns the palm (facing in) forwards.
    assert!(turned(Limb::Inversion, -Vec3::Y, Segment::Foot(r)).z < 0.0);
    assert!(0.0 < turned(Limb::Supination, -Vec3::Z, Segment::Hand(r)).x);
    assert!(at(&[(Limb::WristFlexion, 30.0)], Segment::Hand(r)).z < 0.0);
    assert!(at(&[(Limb::WristDeviation, 30.0)], Segment::Hand(r)).x < 0.0);
    assert!(0.0 < at(&[(Limb::BladeElevation, 20.0)], Segment::UpperArm(r)).y);
    assert!(0.0 < at(&[(Limb::BladeProtraction, 20.0)], Segment::UpperArm(r)).x);
    // External rotation with the elbow bent takes the hand outwards.
    let inner = body.place(&bent(&[(Limb::ElbowFlexion, 90.0)])).far_end(Segment::Hand(r));
    let outer = body
        .place(&bent(&[(Limb::ElbowFlexion, 90.0), (Limb::ShoulderRotation, 30.0)]))
        .far_end(Segment::Hand(r));
    assert!(inner.z < outer.z);
    let spine = |d: Dof| {
        let mut s = State::standing(&body);
        s.angles[d.0] = radians(20.0);
        s
    };
    let head = |d: Dof| body.place(&spine(d)).far_end(Segment::Head);
    assert!(0.0 < head(dof::LUMBAR_FLEXION).x && 0.0 < head(dof::THORAX_BEND).z);
    assert!(0.0 < (body.place(&spine(dof::NECK_TURN)).turn(Segment::Head) * Vec3::X).z);
}

fn scrambled(seed: u64) -> State {
    let mut x = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut next = || {
        x ^= x << 13;
        x ^= x >> 7;
        x ^= x << 17;
        (x >> 11) as f64 / (1u64 << 53) as f64
    };
    let body = Body::of_stature(1.7);
    let mut s = State::standing(&body);
    s.root = v3(next(), next(), next());
    s.turn = Rotation::exp(v3(next() * 4.0 - 2.0, next() * 2.0, next() - 0.5));
    for i in 0..COUNT {
        let r = range::of(Dof(i));
        s.angles[i] = radians(r.low + (r.high - r.low) * next());
    }
    s
}

#[test]
fn speeds_are_the_derivatives_of_places() {
    let body = Body::of_stature(1.7);
    let h = 1e-6;
    for seed in 1..6 {
        let s = scrambled(seed);
        let p = body.place(&s);
        let com = p.centre_of_mass_speeds();
        for i in 0..COUNT {
            let (mut up, mut down) = (s.clone(), s.clone());
            up.angles[i] += h;
            down.angles[i] -= h;
            let (up, down) = (body.place(&up), body.place(&down));
            for skin in Skin::all() {
                let want = (up.skin(skin) - down.skin(skin)) * (0.5 / h);
                let got = p.speed(skin.segment(), p.skin(skin), Dof(i));
                assert!((got - want).norm() < 1e-7, "{skin:?} {i} {got:?} {want:?}");
                let axis = (up.turn(skin.segment()) * down.turn(skin.segment()).inverse()).log() * (0.5 / h);
                assert!((p.turning(skin.segment(), Dof(i)) - axis).norm() < 1e-6);
            }
            let want = (up.centre_of_mass() - down.centre_of_mass()) * (0.5 / h);
            assert!((com[i] - want).norm() < 1e-7);
        }
    }
}

#[test]
fn the_mirror_swaps_sides_exactly() {
    let body = Body::of_stature(1.7);
    for seed in 1..20 {
        let s = scrambled(seed);
        assert_eq!(s.mirrored().mirrored(), s);
        let (p, m) = (body.place(&s), body.place(&s.mirrored()));
        for skin in Skin::all() {
            let twin = if TABLE[skin.ball].paired { Skin { side: skin.side.other(), ..skin } } else { skin };
            assert!((p.skin(skin).mirrored() - m.skin(twin)).norm() < 1e-12, "{skin:?}");
        }
    }
}

#[test]
fn every_coordinate_has_a_name_that_leads_back_to_it() {
    for i in 0..COUNT {
        let (plus, minus) = Dof(i).angles();
        assert!(dof::parts(plus).contains(&(Dof(i), 1.0)), "{}", plus.name());
        assert!(dof::parts(minus).contains(&(Dof(i), -1.0)), "{}", minus.name());
    }
    assert_eq!(LIMB_ALL.len(), dof::LIMB);
}

#[test]
fn the_flesh_stands_on_the_floor_and_never_below() {
    let body = Body::usual();
    let p = body.place(&State::standing(&body));
    let lowest = Skin::all().map(|s| p.skin(s).y - body.radius(s)).fold(f64::INFINITY, f64::min);
    assert!(lowest.abs() < 1e-9, "{lowest}");
}

#[test]
fn every_kind_of_body_is_as_tall_as_it_is_said_to_be_and_weighs_one() {
    for variant in Variant::ALL {
        let body = Body::of_stature(1.0).with(variant);
        let p = body.place(&State::standing(&body));
        assert!((p.far_end(Segment::Head).y - 1.0).abs() < 1e-9, "{variant:?}");
        let lowest = Skin::all().map(|s| p.skin(s).y - p.radius(s)).fold(f64::INFINITY, f64::min);
        assert!(lowest.abs() < 1e-9, "{variant:?} {lowest}");
        let mass: f64 = ALL_SEGMENTS.iter().map(|s| body.mass(*s).0).sum();
        assert!((mass - 1.0).abs() < 1e-12, "{variant:?} {mass}");
    }
}

#[test]
fn kinds_of_body_differ_where_they_are_said_to() {
    let of = |v| {
        let body = Body::of_stature(1.0).with(v);
        (body, body.place(&State::standing(&body)))
    };
    let (adult, a) = of(Variant::Adult);
    let (child, c) = of(Variant::Child);
    let (broad, b) = of(Variant::Broad);
    let (_, p) = of(Variant::Pregnant);
    let front = |p: &Placed| {
        let belly = Skin { ball: flesh::BELLY, side: Side::Right };
        p.skin(belly).x + p.radius(belly)
    };
    assert!(child.hip_height() < adult.hip_height() - 0.02);
    let head = |p: &Placed| p.far_end(Segment::Head).y - p.joint(Segment::Head).y;
    assert!(1.2 * head(&a) < head(&c));
    assert!(0.05 < front(&p) - front(&a) && 0.03 < front(&b) - front(&a));
    let girth = |body: &Body| body.radius(Skin { ball: flesh::THIGH_MID, side: Side::Left });
    assert!(1.1 * girth(&adult) < girth(&broad));
    // The belly's mass lies in front.
    assert!(0.002 < p.centre_of_mass().x - a.centre_of_mass().x);
}

/// What is read back from the segments' turns is what was put in, over all ranges and kinds of body.
#[test]
fn angles_read_back_are_those_put_in() {
    for seed in 1..200 {
        let mut s = scrambled(seed);
        // Raised to the singular 180° an arm's plane can't be told: ranges of flexion and abduction together reach it.
        for side in Side::BOTH {
            let (f, a) = (paired(Limb::ShoulderFlexion, side).0, paired(Limb::ShoulderAbduction, side).0);
            let raised = math::hypot(s.angles[f], s.angles[a]);
            let most = radians(range::HIGHEST_ELEVATION);
            if most < raised {
                s.angles[f] *= most / raised;
                s.angles[a] *= most / raised;
            }
        }
        let body = Body::of(Variant::ALL[seed as usize % 5]);
        let (dof, off) = readout::worst(&s.angles, &readout::angles(&body.place(&s)));
        assert!(off < 1e-9, "{seed} {dof:?} {off}");
    }
}

/// ISB planes and elevation (Wu 2005; references/joint-ranges.md): abduction is plane 0, flexion plane 90, and both ends
/// are handled.
#[test]
fn the_shoulder_is_read_as_the_isb_has_it() {
    let body = Body::of_stature(1.0);
    let read = |f: f64, a: f64, t: f64, side: Side| {
        let mut s = State::standing(&body);
        s.angles[paired(Limb::ShoulderFlexion, side).0] = radians(f);
        s.angles[paired(Limb::ShoulderAbduction, side).0] = radians(a);
        s.angles[paired(Limb::ShoulderRotation, side).0] = radians(t);
        let i = readout::isb_shoulder(&body.place(&s), side);
        (degrees(i.plane), degrees(i.elevation), degrees(i.axial))
    };
    for side in Side::BOTH {
        let near = |got: (f64, f64, f64), want: (f64, f64, f64)| {
            let off = (got.0 - want.0).abs() + (got.1 - want.1).abs() + (got.2 - want.2).abs();
            assert!(off < 1e-6, "{side:?} {got:?} {want:?}");
        };
        near(read(0.0, 90.0, 0.0, side), (0.0, 90.0, 0.0));
        near(read(0.0, 90.0, 30.0, side), (0.0, 90.0, -30.0));
        // Swung straight forward the ISB counts a quarter turn outwards.
        near(read(90.0, 0.0, 0.0, side), (90.0, 90.0, -90.0));
        near(read(0.0, 0.0, 40.0, side), (0.0, 0.0, -40.0));
        assert!(read(0.0, 174.9, 0.0, side).1 < 175.0);
    }
}

/// Turning the arm out by the clinical count: the forearm of a bent elbow points forward at the side and at 90° of
/// abduction, and to the midline at 90° of flexion.
#[test]
fn a_turn_of_the_arm_is_counted_where_the_arm_is() {
    let body = Body::of_stature(1.0);
    for (f, a, twist, forearm) in
        [(0.0, 0.0, 0.0, Vec3::X), (0.0, 90.0, 0.0, Vec3::X), (90.0, 0.0, -90.0, -Vec3::Z)]
    {
        let s = bent(&[
            (Limb::ShoulderFlexion, f),
            (Limb::ShoulderAbduction, a),
            (Limb::ShoulderRotation, twist),
            (Limb::ElbowFlexion, 90.0),
        ]);
        let r = Side::Right;
        assert!(turned_out(&s, r).value.abs() < 1e-9, "{f} {a}");
        let p = body.place(&s);
        close((p.joint(Segment::Hand(r)) - p.joint(Segment::Forearm(r))).unit_or(Vec3::Y), forearm, 1e-9);
    }
    // Its derivatives are what the solver is told.
    let (h, r) = (1e-6, Side::Right);
    for seed in 1..50 {
        let s = scrambled(seed);
        for (limb, want) in [(Limb::ShoulderFlexion, 0), (Limb::ShoulderAbduction, 1)] {
            let d = paired(limb, r).0;
            let (mut up, mut down) = (s.clone(), s.clone());
            up.angles[d] += h;
            down.angles[d] -= h;
            let slope = (turned_out(&up, r).value - turned_out(&down, r).value) / (2.0 * h);
            let got = turned_out(&s, r);
            let got = if want == 0 { got.by_flexion } else { got.by_abduction };
            assert!((slope - got).abs() < 1e-5, "{seed} {limb:?} {slope} {got}");
        }
    }
}
