//! Which side is named, and the arcs of angles.

use super::way::works_limb;
use super::*;
use crate::pose::settle;

/// Where texts may stand.
pub(super) struct Page {
    /// Body, arrows, marks: nothing may cover them.
    pub taken: Vec<Disc>,
    /// Things in the room: better not covered.
    pub soft: Vec<Disc>,
    pub reach: [f64; 4],
    /// What the next text names, and its twin of the other side.
    pub own: Vec<Disc>,
    pub other: Vec<Disc>,
    /// Nothing outside it would be seen.
    pub inside: bool,
    pub size: f64,
}

impl Page {
    /// A text near `anchor`, where it covers nothing.
    pub fn put(&mut self, anchor: Point, away: f64, text: &str) -> Label {
        let (x, y) = marks::place_text(
            anchor,
            away,
            (widest(text), self.size),
            &self.taken,
            &self.soft,
            (self.reach, self.inside),
            (&self.own, &self.other),
        );
        self.took(x, y, marks::text_width(text, self.size));
        Label { text: text.to_string(), x, y, size: self.size }
    }

    /// The mark and the seconds of a hold.
    pub fn hold(&mut self, seconds: u32) -> (Vec<Stroke>, Label) {
        let text = format!("{seconds} s");
        let size = self.size * 0.8;
        let glass = size * 0.9;
        // Room for the glass before the text, kept by a letter of about its breadth.
        let room = format!("O{text}");
        let top = ((self.reach[0] + self.reach[2]) * 0.5, self.reach[1]);
        let (x, y) = marks::place_text(
            top,
            0.0,
            (&room, size),
            &self.taken,
            &self.soft,
            (self.reach, self.inside),
            (&[], &[]),
        );
        let width = marks::text_width(&room, size);
        self.took(x, y, width);
        let strokes = marks::hourglass((x - width * 0.5 + glass * 0.3, y - size * 0.37), glass);
        let x = x + width * 0.5 - marks::text_width(&text, size) * 0.5;
        (strokes, Label { text, x, y, size })
    }

    fn took(&mut self, x: f64, y: f64, width: f64) {
        for k in [-0.35, 0.0, 0.35] {
            self.taken.push(Disc { x: x + k * width, y: y - 10.0, r: 12.0 });
        }
    }
}

impl Maker<'_> {
    /// The angles that get an arc: limits that were reached, and for the clinician the joint that moves most.
    pub(super) fn told_angles(&self, ask: &Ask, keys: &[usize]) -> Vec<(Angle, f64)> {
        if !ask.label {
            return Vec::new();
        }
        if !self.movement.held.is_empty() || self.look.reader == Reader::Patient {
            return self.movement.held.clone();
        }
        let state = |k: Option<&usize>| k.and_then(|k| self.movement.keys.get(*k)).map(|k| &k.state);
        let (Some(first), Some(last)) = (state(keys.first()), state(keys.last())) else { return Vec::new() };
        let joints = [
            (Joint::Knee, Motion::Flexion),
            (Joint::Elbow, Motion::Flexion),
            (Joint::Hip, Motion::Flexion),
            (Joint::Hip, Motion::Abduction),
            (Joint::Shoulder, Motion::Elevation),
            (Joint::Ankle, Motion::Dorsiflexion),
        ];
        let works = |side: Side, joint: Joint| {
            self.works.iter().any(|w| {
                let near = match joint {
                    Joint::Knee => works_limb(w, Part::Thigh(side)) || works_limb(w, Part::Shank(side)),
                    Joint::Hip => works_limb(w, Part::Thigh(side)),
                    Joint::Ankle => works_limb(w, Part::Shank(side)),
                    Joint::Elbow => works_limb(w, Part::Forearm(side)),
                    _ => works_limb(w, Part::UpperArm(side)),
                };
                near && (w.side.is_none() || w.side == Some(side))
            })
        };
        let mut best: Option<(f64, Angle, f64)> = None;
        for side in [self.movement.side, self.movement.side.other()] {
            for (joint, motion) in joints.into_iter().filter(|(joint, _)| works(side, *joint)) {
                let angle = Angle { side: Some(side), joint, motion };
                let (was, is) = (settle::value_of(first, angle), settle::value_of(last, angle));
                if TOLD < (is - was).abs() && best.is_none_or(|b| b.0 + 1e-6 < (is - was).abs()) {
                    best = Some(((is - was).abs(), angle, is));
                }
            }
        }
        best.map(|(_, angle, is)| (angle, is)).into_iter().collect()
    }

    /// The side and piece to be labelled, where the two sides don't do the same.
    pub(super) fn one_sided(&self, shown: &[Part]) -> Option<(Side, Part)> {
        let side = self.movement.side;
        let (first, last) = (self.placed.first()?, self.placed.last()?);
        let way = |p: Part| -> f64 {
            view::tracked(first, p)
                .iter()
                .zip(view::tracked(last, p))
                .map(|(a, b)| (*a - b).norm())
                .fold(0.0, f64::max)
        };
        let works = &self.works;
        let effort = |p: Part| {
            works
                .iter()
                .filter(|w| w.side == p.side() || works_limb(w, p))
                .filter(|w| Part::of(w.segment).side() == p.side() || w.side == p.side())
                .count() as f64
                * 0.2
        };
        // Do both sides do about the same? A limit on one of them, or arms crossed one over the other,
        // makes no side the working one; where nothing moves, how the body lies decides.
        let keys = &self.movement.keys;
        let change = |of: &dyn Fn(&Key) -> f64| match (keys.first(), keys.last()) {
            (Some(a), Some(b)) if 1 < keys.len() => of(b) - of(a),
            (Some(a), _) => of(a),
            _ => 0.0,
        };
        let even = (crate::body::dof::SPINE..crate::body::dof::COUNT).all(|i| {
            let right = change(&|k| k.state.angles[i]);
            let left = change(&|k| k.state.mirrored().angles[i]);
            (right - left).abs() < EVEN
        });
        let one = |s: Side| works.iter().any(|w| w.side.or(Part::of(w.segment).side()) == Some(s));
        if (even || !self.movement.held.is_empty()) && one(side) == one(side.other()) {
            return None;
        }
        let mut best: Option<(f64, Part)> = None;
        for part in Part::ALL.into_iter().filter(|p| p.side() == Some(side)) {
            let score = way(part) / self.stature
                + effort(part) * if matches!(part, Part::Hand(_) | Part::Foot(_)) { 0.5 } else { 1.0 };
            if best.is_none_or(|(b, _)| b < score) {
                best = Some((score, part));
            }
        }
        if best.is_some_and(|(_, p)| !shown.contains(&p)) {
            best = shown.iter().fold(None, |best: Option<(f64, Part)>, p| match best {
                Some((b, _)) if way(*p) <= b => best,
                _ => Some((way(*p), *p)),
            });
            return best.map(|(_, p)| (side, p));
        }
        // Where no limb of that side does anything, as in a turn of the head, the word stands by what moves.
        if best.is_some_and(|(most, _)| most < STILL) {
            let middle = [Part::Head, Part::HighTrunk, Part::LowTrunk];
            let most = middle.into_iter().fold(None, |best: Option<(f64, Part)>, p| match best {
                Some((b, _)) if way(p) <= b => best,
                _ => Some((way(p), p)),
            });
            return most.filter(|(w, _)| STILL * self.stature < *w).or(best).map(|(_, p)| (side, p));
        }
        best.map(|(_, p)| (side, p))
    }

    /// The arc of an angle, where its plane is seen.
    pub(super) fn arc(&self, angle: Angle, placed: &Placed, lens: Lens) -> Option<(Vec<Stroke>, Point)> {
        let side = angle.side.unwrap_or(Side::Right);
        let dir = |s: Segment| (placed.far_end(s) - placed.joint(s)).unit_or(Vec3::Y);
        let (centre, from, to) = match (angle.joint, angle.motion) {
            (Joint::Knee, _) => {
                (placed.joint(Segment::Shank(side)), dir(Segment::Thigh(side)), dir(Segment::Shank(side)))
            }
            (Joint::Elbow, _) => (
                placed.joint(Segment::Forearm(side)),
                dir(Segment::UpperArm(side)),
                dir(Segment::Forearm(side)),
            ),
            (Joint::Hip, Motion::Flexion | Motion::Extension | Motion::Abduction | Motion::Adduction) => (
                placed.joint(Segment::Thigh(side)),
                -placed.turn(Segment::Pelvis).y,
                dir(Segment::Thigh(side)),
            ),
            (
                Joint::Shoulder,
                Motion::Flexion
                | Motion::Extension
                | Motion::Abduction
                | Motion::Adduction
                | Motion::Elevation,
            ) => (
                placed.joint(Segment::UpperArm(side)),
                -placed.turn(Segment::Chest).y,
                dir(Segment::UpperArm(side)),
            ),
            (Joint::Ankle, Motion::Dorsiflexion | Motion::PlantarFlexion) => (
                placed.joint(Segment::Foot(side)),
                placed.turn(Segment::Shank(side)).x,
                placed.turn(Segment::Foot(side)).x,
            ),
            _ => return None,
        };
        let axis = from.cross(to);
        if axis.norm() < 0.05 || axis.unit_or(Vec3::Z).dot(lens.camera.towards).abs() < 0.5 {
            return None;
        }
        let flat = |v: Vec3| {
            let (x, y, _) = lens.point(v);
            (x, y)
        };
        Some(marks::angle_arc(flat(centre), flat(from), flat(to), 0.14 * self.stature * lens.scale))
    }
}

/// Both side words take the same room, so that the left's drawing is the mirror of the right's.
pub(in crate::figure) fn widest(text: &str) -> &str {
    if text == "LEFT" { "RIGHT" } else { text }
}

/// What goes less far stays where it is, fraction of stature.
const STILL: f64 = 0.02;

/// A joint that moves less gets no arc, degrees (common practice, no source).
const TOLD: f64 = 10.0;

/// Two sides that differ by less do the same, radians (23°).
pub(in crate::figure) const EVEN: f64 = 0.4;
