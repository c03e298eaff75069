//! From where a movement is best seen.

use super::outline::Disc;
use super::paint::Lens;
use super::shape::{Part, Shape, aspect_direction};
use crate::body::names::{Segment, Side};
use crate::body::{Body, Placed};
use crate::measure::math;
use crate::pose::ask::{Aspect, ViewFrom, Worked};
use crate::pose::movement::Movement;
use crate::space::{Camera, Vec3};

/// A place to look from, by the patient's own directions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sight {
    Side(Side),
    Front,
    Back,
    Above,
    /// From the feet, along someone lying or kneeling on all fours.
    FootEnd,
    /// From the front and that side; of someone lying, from that side, the feet and above.
    FrontQuarter(Side),
    BackQuarter(Side),
}

const SIGHTS: [Sight; 10] = [
    Sight::Side(Side::Right),
    Sight::Side(Side::Left),
    Sight::Back,
    Sight::Front,
    Sight::FrontQuarter(Side::Right),
    Sight::FrontQuarter(Side::Left),
    Sight::BackQuarter(Side::Right),
    Sight::BackQuarter(Side::Left),
    Sight::Above,
    Sight::FootEnd,
];

/// How a body lies in the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stance {
    pub upright: bool,
    /// Lying on a side: the side that is down.
    pub lies_on: Option<Side>,
    /// Level: where the front looks (upright or side-lying), else towards the head.
    forward: Vec3,
    /// Level: the patient's right; for side-lying, towards the feet.
    right: Vec3,
}

fn level(v: Vec3) -> Vec3 {
    crate::space::v3(v.x, 0.0, v.z)
}

impl Stance {
    pub fn of(placed: &Placed) -> Stance {
        let pelvis = placed.turn(Segment::Pelvis);
        let spine = (placed.joint(Segment::Neck) - placed.joint(Segment::Pelvis)).unit_or(Vec3::Y);
        if 0.45 < spine.y {
            // Bent far forward the pelvis' front looks down; its right side still tells.
            let right = level(pelvis.z).unit_or(Vec3::Z);
            return Stance { upright: true, lies_on: None, forward: Vec3::Y.cross(right), right };
        }
        let head = level(spine).unit_or(-Vec3::X);
        if 0.7 < pelvis.z.y.abs() {
            let lies_on = if pelvis.z.y < 0.0 { Side::Right } else { Side::Left };
            let front = (level(pelvis.x) - head * head.dot(level(pelvis.x))).unit_or(head.cross(Vec3::Y));
            return Stance { upright: false, lies_on: Some(lies_on), forward: front, right: -head };
        }
        let across = level(pelvis.z) - head * head.dot(level(pelvis.z));
        Stance { upright: false, lies_on: None, forward: head, right: across.unit_or(Vec3::Z) }
    }

    pub fn camera(&self, sight: Sight) -> Camera {
        let (f, r) = (self.forward, self.right);
        let sign = |s: Side| if s == Side::Right { 1.0 } else { -1.0 };
        if self.upright {
            let from = match sight {
                Sight::Side(s) => r * sign(s),
                Sight::Front | Sight::FootEnd => f,
                Sight::Back => -f,
                Sight::Above => Vec3::Y,
                Sight::FrontQuarter(s) => f * 0.70 + r * (0.70 * sign(s)) + Vec3::Y * 0.22,
                Sight::BackQuarter(s) => -f * 0.70 + r * (0.70 * sign(s)) + Vec3::Y * 0.22,
            };
            return Camera::from(from, f);
        }
        if self.lies_on.is_some() {
            // `right` runs towards the feet.
            let from = match sight {
                Sight::Side(_) | Sight::Above => Vec3::Y,
                Sight::Front => f,
                Sight::Back => -f,
                Sight::FootEnd => r,
                Sight::FrontQuarter(s) => f * 0.72 + r * (0.45 * sign(s)) + Vec3::Y * 0.52,
                Sight::BackQuarter(s) => -f * 0.72 + r * (0.45 * sign(s)) + Vec3::Y * 0.52,
            };
            return Camera::from(from, -f);
        }
        let from = match sight {
            Sight::Side(s) => r * sign(s),
            Sight::Above | Sight::Front | Sight::Back => Vec3::Y,
            Sight::FootEnd => -f,
            Sight::FrontQuarter(s) => r * (0.75 * sign(s)) - f * 0.42 + Vec3::Y * 0.52,
            Sight::BackQuarter(s) => r * (0.75 * sign(s)) + f * 0.42 + Vec3::Y * 0.52,
        };
        Camera::from(from, -r)
    }

    /// The sight that a pose's text asks for; `None` for auto.
    pub fn asked(&self, view: ViewFrom, near: Side) -> Option<Sight> {
        Some(match view {
            ViewFrom::Auto => return None,
            ViewFrom::Side(s) if self.lies_on.is_none() => Sight::Side(s.unwrap_or(near)),
            ViewFrom::Side(_) => Sight::Front,
            ViewFrom::Front => Sight::Front,
            ViewFrom::Back => Sight::Back,
            ViewFrom::Above => Sight::Above,
            // Of someone who lies on a side: from the feet rather than over the head.
            ViewFrom::ThreeQuarter(_) if self.lies_on.is_some() => Sight::FrontQuarter(Side::Right),
            ViewFrom::ThreeQuarter(s) => Sight::FrontQuarter(s.unwrap_or(near)),
            ViewFrom::FootEnd => Sight::FootEnd,
        })
    }
}

/// Points whose way tells what a movement is: the ends of pieces, and where hands, feet and head turn.
pub(super) fn tracked(placed: &Placed, part: Part) -> Vec<Vec3> {
    let s = part.segment();
    let h = placed.stature();
    let turn = placed.turn(s);
    let end = placed.far_end(s);
    match part {
        Part::Hand(_) => vec![end, placed.joint(s) + turn.x * (0.04 * h)],
        // Toes, the foot's breadth, and the heel.
        Part::Foot(side) => vec![
            placed.far_end(Segment::Toes(side)),
            placed.joint(s) + turn.z * (0.03 * h),
            placed.joint(s) - turn.x * (0.03 * h) - turn.y * (0.03 * h),
        ],
        Part::Head => vec![end, placed.joint(s) + turn.x * (0.06 * h), placed.joint(s) + turn.z * (0.05 * h)],
        Part::LowTrunk | Part::HighTrunk => {
            let across = turn.z * (0.07 * h);
            let middle = if part == Part::LowTrunk { placed.joint(Segment::Chest) } else { end };
            vec![placed.joint(s) + turn.x * (0.04 * h), end + across, end - across, middle]
        }
        _ => vec![end],
    }
}

/// Whether a working group belongs to a piece.
fn works_in(works: &[Worked], part: Part) -> bool {
    works.iter().any(|w| Part::of(w.segment) == part)
}

/// Chooses from where to look at `movement`, seen as `placed` key poses.
pub(super) fn choose(movement: &Movement, placed: &[Placed], works: &[Worked], pushes: &[Vec3]) -> Sight {
    let Some(first) = placed.first() else { return Sight::Side(movement.side) };
    let stance = Stance::of(first);
    let mut best = (f64::MIN, Sight::Side(movement.side));
    for sight in SIGHTS {
        if !offered(stance, sight) {
            continue;
        }
        let score = score(&stance, sight, movement.side, placed, works, pushes);
        if best.0 + 1e-9 < score {
            best = (score, sight);
        }
    }
    best.1
}

fn offered(stance: Stance, sight: Sight) -> bool {
    match sight {
        Sight::Side(_) => stance.lies_on.is_none(),
        Sight::Front | Sight::Back => stance.upright || stance.lies_on.is_some(),
        Sight::FootEnd => !stance.upright,
        _ => true,
    }
}

fn score(
    stance: &Stance,
    sight: Sight,
    side: Side,
    placed: &[Placed],
    works: &[Worked],
    pushes: &[Vec3],
) -> f64 {
    let camera = stance.camera(sight);
    let lens = Lens { camera, scale: 1.0 };
    let flat = |v: Vec3| v - camera.towards * camera.towards.dot(v);
    let stature = placed.first().map_or(1.7, Placed::stature);
    let weight = |part: Part| {
        let own = if works_in(works, part) { 1.0 } else { 0.35 };
        if part.side() == Some(side.other()) { own * 0.7 } else { own }
    };
    // How much of the way is in the plane of the page.
    let (mut shown, mut whole) = (0.0, 0.0);
    for pair in placed.windows(2) {
        let [a, b] = pair else { continue };
        for part in Part::ALL {
            for (p, q) in tracked(a, part).into_iter().zip(tracked(b, part)) {
                let way = q - p;
                shown += weight(part) * flat(way).norm();
                whole += weight(part) * way.norm();
            }
        }
    }
    // A push without movement counts like a small one.
    for p in pushes {
        shown += 0.5 * stature * flat(*p).norm();
        whole += 0.5 * stature;
    }
    let moves = (whole / (0.6 * stature)).min(1.0);
    let motion = if 1e-6 < whole { shown / whole } else { 0.0 };
    // How long the limbs look.
    let (mut seen, mut full) = (0.0, 0.0);
    for p in placed {
        for part in Part::ALL {
            let v = p.far_end(part.segment()) - p.joint(part.segment());
            seen += weight(part) * flat(v).norm();
            full += weight(part) * v.norm();
        }
    }
    let length = seen / full.max(1e-9);
    // How much of the working and moving pieces is hidden behind others.
    let hidden =
        placed.iter().map(|p| hidden(p, lens, works, side)).sum::<f64>() / placed.len().max(1) as f64;
    // Muscle groups named by aspect should look at the reader.
    let (mut aspect, mut named) = (0.0, 0.0);
    for p in placed {
        for w in works.iter().filter(|w| w.aspect != Aspect::Whole) {
            let s = w.side.or(Part::of(w.segment).side()).unwrap_or(side);
            aspect += aspect_direction(p, w.segment, w.aspect, s).dot(camera.towards).min(0.3);
            named += 1.0;
        }
    }
    let aspect = if 0.0 < named { aspect / named } else { 0.0 };
    let face = placed.iter().map(|p| p.turn(Segment::Head).x.dot(camera.towards)).sum::<f64>()
        / placed.len().max(1) as f64;
    let away = if sight == Sight::Back { 0.0 } else { (-face).max(0.0) * 0.15 };
    let near = match sight {
        Sight::Side(s) | Sight::FrontQuarter(s) | Sight::BackQuarter(s)
            if s == side && stance.lies_on.is_none() =>
        {
            0.05
        }
        // Side-lying quarters look from the feet rather than over the head.
        Sight::FrontQuarter(Side::Right) | Sight::BackQuarter(Side::Right) if stance.lies_on.is_some() => {
            0.05
        }
        _ => 0.0,
    };
    let plain = match sight {
        Sight::Side(_) => 0.0,
        // A front view is copied as a mirror.
        Sight::Front => {
            if stance.upright {
                0.06
            } else {
                0.0
            }
        }
        Sight::Back => {
            if stance.upright {
                0.03
            } else {
                0.10
            }
        }
        Sight::FrontQuarter(_) => 0.10,
        Sight::BackQuarter(_) => 0.16,
        Sight::Above => {
            if stance.upright {
                0.40
            } else {
                0.12
            }
        }
        Sight::FootEnd => 0.14,
    };
    (0.4 + 0.8 * moves) * motion + 0.55 * length - 0.7 * hidden + 0.15 * aspect - away + near - plain
}

/// The share of the working pieces (of all pieces where none works) that lies behind others.
pub(super) fn hidden(placed: &Placed, lens: Lens, works: &[Worked], side: Side) -> f64 {
    let covers = Covers::of(placed, lens);
    let (mut covered, mut total) = (0.0, 0.0);
    for part in Part::ALL {
        let weight = if works_in(works, part) {
            1.0
        } else if part.side() == Some(side) {
            0.3
        } else {
            0.1
        };
        covered += weight * covers.of_part(part);
        total += weight;
    }
    covered / total
}

/// The pieces of a body on the page, to tell which covers which.
pub(super) struct Covers(Vec<(Part, Vec<(Disc, f64)>)>);

impl Covers {
    pub fn of(placed: &Placed, lens: Lens) -> Covers {
        let shape = Shape { placed, grips: [false; 2] };
        let seen =
            |p: Part| shape.samples(p).iter().map(|b| (lens.disc(*b), lens.point(b.0).2)).collect::<Vec<_>>();
        Covers(Part::ALL.into_iter().map(|p| (p, seen(p))).collect())
    }

    /// The share of a piece that lies behind other pieces.
    pub fn of_part(&self, part: Part) -> f64 {
        let samples = self.0.iter().find(|(p, _)| *p == part).map_or(&[][..], |(_, s)| s);
        self.share(samples, Some(part), false)
    }

    /// The share of discs at their nearness that lies behind pieces; `own` and its neighbours at the joints hide
    /// nothing of it that matters. `twins`: neither does the same piece of the other side, which does the same where it
    /// covers it.
    pub fn share(&self, samples: &[(Disc, f64)], own: Option<Part>, twins: bool) -> f64 {
        let next = |p: Part| {
            let twin = |o: Part| twins && o.side().is_some() && o.mirrored() == p;
            own.is_some_and(|o| o == p || p.parent() == Some(o) || o.parent() == Some(p) || twin(o))
        };
        let mut behind = 0.0;
        for (d, z) in samples {
            let mut most: f64 = 0.0;
            for (_, over) in self.0.iter().filter(|(p, _)| !next(*p)) {
                for (o, oz) in over {
                    if *z + 0.2 * d.r < *oz {
                        let apart = math::hypot(o.x - d.x, o.y - d.y);
                        most = most.max(((o.r + 0.5 * d.r - apart) / d.r.max(1e-9)).clamp(0.0, 1.0));
                    }
                }
            }
            behind += most;
        }
        behind / samples.len().max(1) as f64
    }
}

/// Places the key poses of a movement.
pub(super) fn place_keys(body: &Body, movement: &Movement) -> Vec<Placed> {
    movement.keys.iter().map(|k| body.place(&k.state)).collect()
}
