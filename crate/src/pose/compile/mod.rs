//! From what a pose asks and touches to the rows of a least-squares problem.
//!
//! Tolerances are those of `method.md` 1 unless a comment says otherwise: contact 1 mm, balance 5 mm,
//! an asked angle or relation 3°, a joint not mentioned 20°, a free joint 60°.

mod asks;
mod things;
mod touch;
mod wishes;

use self::touch::{is_end, touching_skins};
use super::ask::{Ask, Planted, Pose, PropKind, Spot, Surface};
use super::posture::Base;
use super::problem::{At, Face, LEAST_SHARE, Row, Settling, Way, always, stay_near, usual_tolerance};
use super::room::Room;
use crate::body::dof::{COUNT, Dof, Limb, paired};
use crate::body::names::{Angle, Segment, Side};
use crate::body::range::Limits;
use crate::body::{Body, Skin, State};
use crate::measure::{math, radians};
use crate::pose::settle::{Touching, end_of, middle, with_angles};
use crate::space::Vec3;

const CONTACT: f64 = 0.001;
const BALANCE: f64 = 0.005;
const RELATION: f64 = 3.0;
const ANGLE: f64 = 2.0;
const FREE: f64 = 60.0;

/// A pose made into a problem, with where to start and what was asked.
#[derive(Clone)]
pub struct Compiled {
    pub settling: Settling,
    /// The pose before with the asked angles put in at once.
    pub start: At,
    /// The pose before as it was.
    pub gentle: At,
    /// From the middle of the joints' ranges.
    pub middle: At,
    /// Asked angles, degrees.
    pub asked: Vec<(Angle, f64)>,
    /// Asked relations by their number among the asks, with their rows.
    pub relations: Vec<(usize, core::ops::Range<usize>)>,
    /// Skin points that carry.
    pub support: Vec<Skin>,
    /// A wall carries too, sideways.
    pub walled: bool,
    pub base: Base,
    /// Which of the settled things have their place by now.
    pub stands: Vec<bool>,
    faces: Vec<(Spot, Surface, Face)>,
    /// The one skin point by which a part touches another part of the body.
    meeting: Vec<(Spot, Skin)>,
}

impl Compiled {
    /// The outward direction of what a part rests on.
    pub fn outward(&self, surface: Surface, part: Spot, at: &At) -> Option<Vec3> {
        let face = self.faces.iter().find(|(p, s, _)| *p == part && *s == surface).map(|f| f.2)?;
        let p = self.settling.body.place(&at.state);
        let skin = Skin::of(part.region, part.side).into_iter().next()?;
        match face {
            Face::Skin(other) => Some((p.skin(skin) - p.skin(other)).unit_or(Vec3::Y)),
            face => things::outward(face, p.skin(skin), at),
        }
    }
}

/// Makes the problem of one key pose.
#[expect(clippy::too_many_arguments, reason = "a pose, what it is settled for, and what touched and touches")]
pub(super) fn compile(
    body: &Body,
    pose: &Pose,
    room: &Room,
    limits: &Limits,
    from: &At,
    touching: &[Touching],
    was_touching: &[Touching],
    was_lying: &[(Spot, Surface)],
    base: &Base,
) -> Compiled {
    let mut c = Writer {
        body,
        room,
        base,
        from: &from.state,
        rows: always(limits),
        asked: [false; COUNT],
        tolerance: core::array::from_fn(|i| usual_tolerance(Dof(i))),
        targets: from.state.clone(),
        set: Vec::new(),
        angles: Vec::new(),
        turns: Vec::new(),
        bound: touching
            .iter()
            .filter(|t| !t.loosely)
            .filter_map(|t| Some((t.part.side?, end_of(t.part.region)?)))
            .collect(),
        faces: Vec::new(),
        meeting: Vec::new(),
        support: Vec::new(),
        walled: false,
    };
    let mut relations = Vec::new();
    for (i, ask) in pose.asks.iter().enumerate() {
        let start = c.rows.len();
        c.ask(&ask.what);
        if !matches!(ask.what, Ask::Angle { .. } | Ask::Free { .. }) && start < c.rows.len() {
            relations.push((i, start..c.rows.len()));
        }
    }
    c.turn_arms();
    c.keep_width(pose, touching);
    for planted in &pose.planted {
        if let Planted::Bit(bit) = planted.what {
            c.hold_bit(bit);
        }
    }
    for t in touching {
        c.touch(t);
    }
    c.lift(pose, touching, was_lying);
    if wishes::is_symmetrical(pose, &from.state, touching, room) {
        c.alike();
    }
    c.relax(touching, was_touching);
    c.keep_apart();
    c.hold_stick(touching);
    c.hold_strap(touching);
    c.hold_ball(touching);
    c.climb(touching);
    let places = things::places(room, from, touching, was_touching, body, base);
    c.settle_things(touching, was_touching, from, &places);
    c.carry_the_blades();
    let ground = room.ground(base);
    let floor = if base.low { ground } else { 0.0 };
    c.rows.push(Row::ClearPlane { at: Vec3::Y * floor, out: Vec3::Y, tolerance: 0.001 });
    if let Some((at, out)) = room.wall(base).filter(|_| room.has(PropKind::Wall)) {
        c.rows.push(Row::ClearPlane { at, out, tolerance: 0.001 });
    }
    // Bodies flat on back or front don't topple, and a wall carries sideways, which shares of the weight can't say.
    // What has left the ground with all of the trunk has to stand on the rest.
    let on_trunk = c.support.iter().any(|s| is_trunk(s.segment()));
    let balances = !c.support.is_empty() && (base.topples || !on_trunk) && !c.walled;
    if balances {
        c.rows.push(Row::Balance { points: c.support.clone(), tolerance: BALANCE });
    }
    c.root();
    let free_root = room.wall(base).is_some() || !room.placed.is_empty();
    let reach = if free_root { 1.0 } else { 0.3 };
    c.rows.push(Row::RootNear { target: from.state.root, tolerance: [reach, 3.0, reach] });
    c.rows.extend(stay_near(&c.targets, &c.asked, &c.tolerance));
    let shares = if balances { c.support.len() } else { 0 };
    let even = vec![(1.0 / shares.max(1) as f64).max(LEAST_SHARE); shares];
    let at = |state: State| At { state, rolling: places.clone(), shares: even.clone() };
    let stood = |state: State| stood_on(body, state, touching, floor);
    Compiled {
        start: at(stood(with_angles(&from.state, &c.set, limits))),
        gentle: at(with_angles(&from.state, &[], limits)),
        middle: at(stood(middle(&from.state, &c.set, limits))),
        asked: c.angles,
        relations,
        support: c.support,
        walled: c.walled,
        base: base.clone(),
        stands: things::standing(room, from, touching, was_touching),
        faces: c.faces,
        meeting: c.meeting,
        settling: Settling {
            body: *body,
            limits: limits.clone(),
            rows: c.rows,
            rolling: places.len(),
            shares,
            contact_weight: 1.0,
        },
    }
}

/// Makes the problem of one instant between two settled key poses.
pub(super) fn between(
    body: &Body,
    limits: &Limits,
    wanted: &State,
    places: &[Vec3],
    lasting: Vec<&Touching>,
    to: &Compiled,
) -> Settling {
    let mut rows = always(limits);
    let placed = body.place(wanted);
    for t in lasting {
        let Some(face) = to.faces.iter().find(|(p, s, _)| *p == t.part && *s == t.surface).map(|f| f.2)
        else {
            continue;
        };
        if let (true, Face::Skin(_)) = (t.holds, face) {
            continue;
        }
        if let (Face::Skin(_), Some((_, mine))) = (face, to.meeting.iter().find(|(p, _)| *p == t.part)) {
            rows.push(Row::Touch { skin: *mine, face, tolerance: CONTACT });
            continue;
        }
        for (i, skin) in touching_skins(t, face).iter().enumerate() {
            rows.push(Row::Touch { skin: *skin, face, tolerance: CONTACT });
            let anchor = t.anchors.as_ref().and_then(|a| a.get(i));
            if let (Some(target), Face::Plane { out, .. }, false) = (anchor, face, t.slides) {
                // Where it stood in the settled pose it came from; a soft back may have crept.
                let target = if t.planted || is_end(t.part.region) { *target } else { placed.skin(*skin) };
                rows.push(Row::Anchor { skin: *skin, target, out, tolerance: CONTACT });
            }
        }
    }
    rows.extend(things::on_the_way(to, places));
    for row in &to.settling.rows {
        if let Row::ClearPlane { .. } = row {
            rows.push(row.clone());
        }
    }
    rows.push(Row::RootNear { target: wanted.root, tolerance: [0.03; 3] });
    for axis in [Vec3::X, Vec3::Y] {
        rows.push(Row::Along {
            way: Way::In(Segment::Pelvis, axis),
            target: wanted.turn * axis,
            tolerance: radians(5.0),
        });
    }
    // The shoulder girdle, which moves little, stays nearer.
    let near = core::array::from_fn(|i| match Dof(i).limb() {
        Some((_, Limb::BladeElevation | Limb::BladeProtraction)) => radians(2.0),
        _ => radians(4.0),
    });
    rows.extend(stay_near(wanted, &[false; COUNT], &near));
    Settling {
        body: *body,
        limits: limits.clone(),
        rows,
        rolling: to.settling.rolling,
        shares: 0,
        contact_weight: 1.0,
    }
}

/// Shifts a state so that what is planted is where it was, on the whole; with nothing planted, so that
/// its lowest skin is at the floor.
fn stood_on(body: &Body, mut state: State, touching: &[Touching], floor: f64) -> State {
    let p = body.place(&state);
    let mut shift = Vec3::ZERO;
    let mut count = 0.0;
    let firm = touching.iter().any(|t| t.firm && t.anchors.is_some());
    for t in touching.iter().filter(|t| t.firm || !firm) {
        for (skin, target) in t.skins.iter().zip(t.anchors.iter().flatten()) {
            shift += *target - p.skin(*skin);
            count += 1.0;
        }
    }
    if 0.0 < count {
        state.root += shift * (1.0 / count);
        return state;
    }
    let lowest = Skin::all().map(|s| p.skin(s).y - body.radius(s)).fold(f64::INFINITY, f64::min);
    state.root.y += floor - lowest;
    state
}

fn is_trunk(s: Segment) -> bool {
    matches!(s, Segment::Pelvis | Segment::Waist | Segment::Chest)
}

fn first(spot: Spot) -> Option<Skin> {
    Skin::of(spot.region, spot.side).into_iter().next()
}

struct Writer<'a> {
    body: &'a Body,
    room: &'a Room,
    base: &'a Base,
    from: &'a State,
    rows: Vec<Row>,
    /// Coordinates that an asked angle or a straight part speaks of.
    asked: [bool; COUNT],
    tolerance: [f64; COUNT],
    targets: State,
    /// Where to put coordinates at the start.
    set: Vec<(Dof, f64)>,
    angles: Vec<(Angle, f64)>,
    /// Asked turns of the arms, out, radians.
    turns: Vec<(Side, f64)>,
    /// Limbs whose end touches something: legs 0, arms 1.
    bound: Vec<(Side, u8)>,
    faces: Vec<(Spot, Surface, Face)>,
    /// The one skin point by which a part touches another part of the body.
    meeting: Vec<(Spot, Skin)>,
    support: Vec<Skin>,
    walled: bool,
}

impl Writer<'_> {
    /// A hand or foot that has left what it touched goes back to its resting angles.
    fn relax(&mut self, touching: &[Touching], was: &[Touching]) {
        for side in Side::BOTH {
            let touches = |list: &[Touching], end: u8| {
                list.iter().any(|t| {
                    t.part.side == Some(side) && crate::pose::settle::end_of(t.part.region) == Some(end)
                })
            };
            let left = |end: u8| touches(was, end) && !touches(touching, end);
            let mut at_rest: Vec<(Limb, f64)> = Vec::new();
            if left(0) {
                at_rest.extend([
                    (Limb::Dorsiflexion, 0.0),
                    (Limb::Inversion, 0.0),
                    (Limb::ToeExtension, 0.0),
                ]);
            }
            if left(1) {
                at_rest.extend([(Limb::WristFlexion, 0.0), (Limb::WristDeviation, 0.0)]);
                let arm = [Limb::ShoulderFlexion, Limb::ShoulderAbduction, Limb::ElbowFlexion];
                let spoken = arm.iter().any(|l| self.asked[paired(*l, side).0]);
                let up = self.from.turn.y.y;
                if !spoken && 0.7 < up {
                    // Hanging, as in standing.
                    at_rest.extend([
                        (Limb::ShoulderFlexion, 4.0),
                        (Limb::ShoulderAbduction, 6.0),
                        (Limb::ShoulderRotation, 0.0),
                        (Limb::ElbowFlexion, 10.0),
                        (Limb::Supination, -10.0),
                    ]);
                }
            }
            for (limb, degrees) in at_rest {
                let d = paired(limb, side);
                if !self.asked[d.0] {
                    self.targets.angles[d.0] = radians(degrees);
                }
            }
        }
    }

    /// The blade rises with a raised arm, about a degree for eight beyond 30°: from memory.
    fn carry_the_blades(&mut self) {
        for side in Side::BOTH {
            let asked = |limb: Limb| {
                let d = paired(limb, side);
                self.set.iter().find(|(have, _)| *have == d).map_or(self.from.angle(d), |(_, t)| *t)
            };
            let e = math::hypot(asked(Limb::ShoulderFlexion), asked(Limb::ShoulderAbduction));
            let d = paired(Limb::BladeElevation, side);
            let spoken =
                self.set.iter().any(|(s, _)| s.limb().is_some_and(|(have, l)| have == side && is_swing(l)));
            if spoken && !self.asked[d.0] {
                self.targets.angles[d.0] = ((e - radians(30.0)) / 8.0).max(0.0);
            }
        }
    }

    /// The pelvis keeps roughly its turn, more loosely once a pose has left the posture.
    fn root(&mut self) {
        let tolerance = radians(30.0);
        for axis in [Vec3::X, Vec3::Y] {
            self.rows.push(Row::Along {
                way: Way::In(Segment::Pelvis, axis),
                target: self.from.turn * axis,
                tolerance,
            });
        }
        if self.base.topples && !self.base.low {
            // Hips face ahead and stand level unless something asks otherwise: from memory, as a
            // physiotherapist would correct them.
            let facing = Way::In(Segment::Pelvis, Vec3::X);
            let across = Way::In(Segment::Pelvis, Vec3::Z);
            let tolerance = radians(6.0);
            self.rows.push(Row::PartAlong { way: facing, target: self.base.right, part: 0.0, tolerance });
            self.rows.push(Row::PartAlong { way: across, target: Vec3::Y, part: 0.0, tolerance });
        }
    }
}

fn is_swing(l: Limb) -> bool {
    matches!(l, Limb::ShoulderFlexion | Limb::ShoulderAbduction)
}
