//! `layfigure body [--body KIND] [--stature CM] [--poses N] [--seed K] [--catalog] [--time]`: the body as numbers, and
//! poses of it with what we say of them, for checking from outside. Metres; angles in degrees by their clinical sign;
//! forces and moments as in [`crate::body::statics`].

use super::{Fault, Given};
use crate::body::dof::{COUNT, Dof, Limb, paired};
use crate::body::names::{Segment, Side};
use crate::body::range::{self, Limits};
use crate::body::statics::{self, Force};
use crate::body::{ALL_SEGMENTS, Body, Placed, Skin, State, Turning, joint_of, parent_of};
use crate::catalog::Catalog;
use crate::measure::{degrees, math, radians};
use crate::pose::settle;
use crate::pose::support::{self, Support};
use crate::space::{Rotation, Vec3, v3};
use serde_json::{Value, json};

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["body", "stature", "poses", "seed", "catalog", "time"])?;
    let body = given.body();
    let mut dice = Dice::of(given.seed.unwrap_or(1));
    let count = given.poses.unwrap_or(0);
    let thrown: Vec<(State, Vec<Force>)> = (0..count).map(|_| pose(&body, &mut dice)).collect();
    let mut poses: Vec<Value> = thrown
        .iter()
        .enumerate()
        .map(|(i, (state, forces))| said(&body, &i.to_string(), state, forces))
        .collect();
    if given.catalog {
        for exercise in Catalog::embedded().exercises() {
            let movement = settle::exercise(&body, &exercise.poses, Side::Right, &Limits::none());
            for key in &movement.keys {
                let s = support::statics(&body, key, &[]);
                let pushed = key.supports.iter().zip(&s.pushes);
                let force = |(at, force): (&Support, &Vec3)| Force {
                    segment: at.skin.segment(),
                    at: at.at,
                    force: *force,
                };
                let forces: Vec<Force> = pushed.map(force).collect();
                let mut pose = said(&body, &format!("{} {}", exercise.id, key.name), &key.state, &forces);
                let pushes = support::could_push(key, &[]);
                pose["pushes"] = pushes
                    .iter()
                    .map(|(_, p)| {
                        json!({"segment": p.segment.name(), "at": xyz(p.at), "along": xyz(p.along), "price": p.price})
                    })
                    .collect();
                pose["unbalanced"] = json!([s.unbalanced.0, s.unbalanced.1]);
                pose["margin"] = json!(s.margin);
                pose["base"] = s.base.iter().map(|c| xyz(*c)).collect();
                poses.push(pose);
            }
        }
    }
    let mut out = json!({
        "kind": body.variant().word(),
        "stature": body.stature(),
        "coordinates": (0..COUNT).map(|i| Dof(i).angles().0.name()).collect::<Vec<_>>(),
        "segments": ALL_SEGMENTS.map(|s| segment(&body, s)),
        "landmarks": landmarks(&body).iter().map(|(name, s, at)| {
            json!({"name": name, "segment": s.name(), "at": xyz(*at)})
        }).collect::<Vec<_>>(),
        "poses": poses,
    });
    if given.time {
        out["seconds_for_poses"] = json!(timed(&body, &thrown));
    }
    Ok(out.to_string() + "\n")
}

fn xyz(v: Vec3) -> Value {
    json!([v.x, v.y, v.z])
}

fn segment(body: &Body, segment: Segment) -> Value {
    let (mass, com) = body.mass(segment);
    let hinge = |(d, axis): (Dof, Vec3)| json!({"coordinate": d.0, "axis": xyz(axis)});
    let joint = match joint_of(segment) {
        Turning::Hinges(hinges) => {
            json!({"hinges": hinges.into_iter().flatten().map(hinge).collect::<Vec<_>>()})
        }
        Turning::Swing { against, swing, twist } => {
            json!({"against": against.name(), "swing": swing.map(hinge), "twist": hinge(twist)})
        }
    };
    json!({
        "name": segment.name(),
        "parent": parent_of(segment).map(Segment::name),
        "offset": xyz(body.offset(segment)),
        "joint": joint,
        "mass": mass,
        "com": xyz(com),
    })
}

/// Every joint, the far end of every segment and the middle of every skin point: from its segment's joint, in the
/// segment's frame.
fn landmarks(body: &Body) -> Vec<(String, Segment, Vec3)> {
    // In the standing body all frames are the room's.
    let p = body.place(&State::standing(body));
    let mut all = Vec::new();
    for s in ALL_SEGMENTS {
        all.push((format!("joint of {}", s.name()), s, Vec3::ZERO));
        all.push((format!("end of {}", s.name()), s, p.far_end(s) - p.joint(s)));
    }
    for skin in Skin::all() {
        let name = format!("skin {} {}", skin.ball, skin.side.word());
        all.push((name, skin.segment(), body.skin_at(skin)));
    }
    all
}

/// The same points in the room.
fn placed(p: &Placed) -> Vec<Vec3> {
    let ends = ALL_SEGMENTS.into_iter().flat_map(|s| [p.joint(s), p.far_end(s)]);
    ends.chain(Skin::all().map(|skin| p.skin(skin))).collect()
}

/// A pose and what we say of it.
fn said(body: &Body, name: &str, state: &State, forces: &[Force]) -> Value {
    let p = body.place(state);
    let r = state.turn;
    json!({
        "name": name,
        "root": xyz(state.root),
        // Rows of the matrix.
        "turn": [[r.x.x, r.y.x, r.z.x], [r.x.y, r.y.y, r.z.y], [r.x.z, r.y.z, r.z.z]],
        "angles": state.angles.map(degrees).to_vec(),
        "landmarks": placed(&p).into_iter().map(xyz).collect::<Vec<_>>(),
        "centre_of_mass": xyz(p.centre_of_mass()),
        "gravity_moments": statics::moments(&p, &[]).to_vec(),
        "forces": forces.iter().map(|f| {
            json!({"segment": f.segment.name(), "at": xyz(f.at), "force": xyz(f.force)})
        }).collect::<Vec<_>>(),
        "moments": statics::moments(&p, forces).to_vec(),
    })
}

/// Any pose within the joints' ranges, anywhere, with up to four forces on its skin.
fn pose(body: &Body, dice: &mut Dice) -> (State, Vec<Force>) {
    let mut state = State::standing(body);
    state.root = dice.vector();
    state.turn = Rotation::exp(dice.vector() * 2.0);
    for i in 0..COUNT {
        let r = range::of(Dof(i));
        state.angles[i] = radians(r.low + (r.high - r.low) * dice.share());
    }
    // Elevation of the arm has an end in every plane, not only in the two that its parts lie in.
    for side in Side::BOTH {
        let [f, a] = [Limb::ShoulderFlexion, Limb::ShoulderAbduction].map(|l| paired(l, side).0);
        let over = math::hypot(state.angles[f], state.angles[a]) / radians(range::HIGHEST_ELEVATION);
        for i in [f, a] {
            state.angles[i] /= over.max(1.0);
        }
    }
    let p = body.place(&state);
    let skins: Vec<Skin> = Skin::all().collect();
    let mut forces = Vec::new();
    for _ in 0..dice.below(5) {
        let skin = skins[dice.below(skins.len())];
        forces.push(Force { segment: skin.segment(), at: p.skin(skin), force: dice.vector() * 0.5 });
    }
    (state, forces)
}

/// Seconds for placing the body and its centre of mass in all of these poses, the shortest of some rounds.
fn timed(body: &Body, poses: &[(State, Vec<Force>)]) -> f64 {
    let round = || {
        let start = std::time::Instant::now();
        for (state, _) in poses {
            std::hint::black_box(body.place(std::hint::black_box(state)).centre_of_mass());
        }
        start.elapsed().as_secs_f64()
    };
    (0..20).map(|_| round()).fold(f64::INFINITY, f64::min)
}

/// A stream of numbers that a seed fixes: Marsaglia's xorshift (2003), from memory.
struct Dice(u64);

impl Dice {
    fn of(seed: u64) -> Dice {
        Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// From 0 to 1.
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.share() * n as f64) as usize).min(n.saturating_sub(1))
    }

    /// Each part from −1 to 1.
    fn vector(&mut self) -> Vec3 {
        let mut part = || 2.0 * self.share() - 1.0;
        v3(part(), part(), part())
    }
}
