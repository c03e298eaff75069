//! One body in one state, painted: pieces in painter's order with their tones.

use super::order::{Item, order};
use super::outline::{Disc, hull, lies_inside, reach};
use super::shape::{Limb, Part, Round, Shape};
use crate::body::Placed;
use crate::body::names::{Segment, Side};
use crate::markup::path::Path;
use crate::measure::math;
use crate::pose::ask::{Aspect, Worked};
use crate::space::{Camera, Vec3};

/// How a stroke is filled and outlined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    /// The near side of the body, with a light line round it.
    Near,
    /// The far side.
    Far,
    /// Working parts, with a dark line round them.
    Works,
    /// A working muscle group inside a piece.
    Patch,
    /// Joins two pieces of the near side without a line.
    JoinNear,
    JoinFar,
    Face,
    /// The start position.
    Ghost,
    /// Floor in a view from above.
    Ground,
    /// Lines of floor and walls.
    GroundLine,
    /// Standing things.
    Thing,
    /// Lighter faces of standing things.
    ThingLight,
    /// Things that are held or worn.
    Held,
    /// Bands and straps: a thick line.
    Band,
    /// A light line below an arrow.
    Halo,
    /// The arrow's shaft.
    Arrow,
    /// Arrow heads and solid marks.
    Mark,
    /// The arc of an angle.
    Arc,
    /// Thin guiding lines.
    Guide,
}

/// Geometry on the page, page units, y down.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Geo {
    Hull(Vec<Disc>),
    /// An open line.
    Line(Vec<(f64, f64)>),
    /// A closed outline with straight sides.
    Area(Vec<(f64, f64)>),
    /// An open smooth line through these points.
    Curve(Vec<(f64, f64)>),
}

impl Geo {
    pub fn bounds(&self) -> [f64; 4] {
        let start = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
        match self {
            Geo::Hull(discs) => discs.iter().fold(start, |b, d| {
                [b[0].min(d.x - d.r), b[1].min(d.y - d.r), b[2].max(d.x + d.r), b[3].max(d.y + d.r)]
            }),
            Geo::Line(p) | Geo::Area(p) | Geo::Curve(p) => {
                p.iter().fold(start, |b, (x, y)| [b[0].min(*x), b[1].min(*y), b[2].max(*x), b[3].max(*y)])
            }
        }
    }

    /// Writes it, moved by (dx, dy); arcs up to `short` long become corners.
    pub fn write(&self, path: &mut Path, dx: f64, dy: f64, short: f64) {
        match self {
            Geo::Hull(discs) => {
                let moved: Vec<Disc> =
                    discs.iter().map(|d| Disc { x: d.x + dx, y: d.y + dy, r: d.r }).collect();
                hull(path, &moved, short);
            }
            Geo::Line(points) | Geo::Area(points) => {
                for (i, (x, y)) in points.iter().enumerate() {
                    if i == 0 {
                        path.start(x + dx, y + dy);
                    } else {
                        path.line(x + dx, y + dy);
                    }
                }
                if matches!(self, Geo::Area(_)) {
                    path.close();
                }
            }
            Geo::Curve(points) => {
                let p = |i: usize| points.get(i).map_or((dx, dy), |(x, y)| (x + dx, y + dy));
                let n = points.len();
                if n < 3 {
                    return Geo::Line(points.clone()).write(path, dx, dy, short);
                }
                path.start(p(0).0, p(0).1);
                // Handles are the inner points, and the curve passes half way between them.
                for i in 1..n - 1 {
                    let end = if i + 2 == n {
                        p(n - 1)
                    } else {
                        ((p(i).0 + p(i + 1).0) * 0.5, (p(i).1 + p(i + 1).1) * 0.5)
                    };
                    path.curve(p(i), end.0, end.1);
                }
            }
        }
    }
}

/// One thing to paint: everything in it gets the same tone and one outline.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stroke {
    pub tone: Tone,
    pub geos: Vec<Geo>,
}

/// From the room to the page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lens {
    pub camera: Camera,
    /// Page units a metre.
    pub scale: f64,
}

impl Lens {
    /// The page point of `p`, y down, and its nearness to the reader in page units.
    pub fn point(&self, p: Vec3) -> (f64, f64, f64) {
        let (x, y, z) = self.camera.project(p);
        (x * self.scale, -y * self.scale, z * self.scale)
    }

    pub fn disc(&self, (p, r): Round) -> Disc {
        let (x, y, _) = self.point(p);
        Disc { x, y, r: r * self.scale }
    }

    pub fn discs(&self, balls: &[Round]) -> Vec<Disc> {
        balls.iter().map(|b| self.disc(*b)).collect()
    }
}

/// Something painted among the body's pieces at its own depth: a held or worn thing.
pub(super) struct Extra {
    pub strokes: Vec<Stroke>,
    pub samples: Vec<Round>,
    /// The piece that it lies on, and is painted after.
    pub on: Option<Part>,
}

/// What shall be painted, and how.
pub(super) struct Painted<'a> {
    pub shape: Shape<'a>,
    pub lens: Lens,
    pub works: &'a [Worked],
    pub extras: Vec<Extra>,
    /// Which pieces; the rest of the body is outside the frame.
    pub shown: &'a dyn Fn(Part) -> bool,
}

/// How much slimmer working parts are drawn, since their dark line lies outside: page units.
const SLIMMER: f64 = 1.5;

impl Painted<'_> {
    fn placed(&self) -> &Placed {
        self.shape.placed
    }

    /// Whether a limb lies on the far side of the body, so that it is drawn lighter.
    fn is_far(&self, limb: Limb) -> bool {
        let (near, far): (&[Segment], &[Segment]) = match limb {
            Limb::Arm(s) => (
                &[Segment::UpperArm(s), Segment::Forearm(s), Segment::Hand(s)],
                &[Segment::UpperArm(s.other()), Segment::Forearm(s.other()), Segment::Hand(s.other())],
            ),
            Limb::Leg(s) => (
                &[Segment::Thigh(s), Segment::Shank(s), Segment::Foot(s)],
                &[Segment::Thigh(s.other()), Segment::Shank(s.other()), Segment::Foot(s.other())],
            ),
            Limb::Trunk | Limb::Head => return false,
        };
        let depth = |segments: &[Segment]| -> f64 {
            let sum: f64 =
                segments.iter().map(|s| self.lens.camera.towards.dot(self.placed().joint(*s))).sum();
            sum / segments.len().max(1) as f64
        };
        let trunk = self
            .lens
            .camera
            .towards
            .dot(self.placed().joint(Segment::Pelvis).lerp(self.placed().joint(Segment::Neck), 0.5));
        depth(near) < depth(far) - 0.05 * self.placed().stature()
            && depth(near) < trunk + 0.02 * self.placed().stature()
    }

    fn works_wholly(&self, part: Part) -> bool {
        self.works.iter().any(|w| {
            Part::of(w.segment) == part
                && w.aspect == Aspect::Whole
                && w.side.is_none()
                && self.shape.patch(w).is_none()
                && w.segment != Segment::Head
        })
    }

    fn tone(&self, part: Part) -> Tone {
        if self.works_wholly(part) {
            Tone::Works
        } else if self.is_far(part.limb()) {
            Tone::Far
        } else {
            Tone::Near
        }
    }

    /// Whether a piece is folded so far on the one it hangs on that a line between them helps.
    fn folded(&self, part: Part) -> bool {
        if !matches!(part, Part::Forearm(_) | Part::Shank(_)) {
            return false;
        }
        let Some(parent) = part.parent() else { return false };
        let way = |p: Part| {
            let (a, b) = (self.placed().joint(p.segment()), self.placed().far_end(p.segment()));
            let ((ax, ay, _), (bx, by, _)) = (self.lens.point(a), self.lens.point(b));
            let l = math::hypot(bx - ax, by - ay).max(1e-9);
            ((bx - ax) / l, (by - ay) / l)
        };
        let (u, v) = (way(parent), way(part));
        u.0 * v.0 + u.1 * v.1 < -0.62
    }

    fn hulls(&self, part: Part, tone: Tone) -> Vec<Geo> {
        let thin = if tone == Tone::Works { SLIMMER } else { 0.0 };
        self.shape
            .hulls(part)
            .iter()
            .map(|balls| {
                let mut discs = self.lens.discs(balls);
                for d in &mut discs {
                    d.r = (d.r - thin).max(1.0);
                }
                Geo::Hull(discs)
            })
            .collect()
    }

    /// The strokes, farthest first.
    pub fn strokes(&self) -> Vec<Stroke> {
        let parts: Vec<Part> = Part::ALL.into_iter().filter(|p| (self.shown)(*p)).collect();
        let place = |p: Part| parts.iter().position(|q| *q == p);
        let mut items: Vec<Item> = parts
            .iter()
            .map(|p| Item {
                samples: self.sampled(&self.shape.samples(*p)),
                group: group(p.limb()),
                hangs_on: p.parent().and_then(place),
            })
            .collect();
        for e in &self.extras {
            items.push(Item {
                samples: self.sampled(&e.samples),
                group: 100,
                hangs_on: e.on.and_then(place),
            });
        }
        let mut out: Vec<Stroke> = Vec::new();
        // For each piece painted: in which stroke, with which tone.
        let mut done: [Option<(usize, Tone)>; 16] = [None; 16];
        let index = |p: Part| Part::ALL.iter().position(|q| *q == p).unwrap_or(0);
        let mut last: Option<(Limb, Tone)> = None;
        for i in order(&items) {
            let Some(&part) = parts.get(i) else {
                if let Some(e) = self.extras.get(i - parts.len()) {
                    out.extend(e.strokes.iter().cloned());
                }
                last = None;
                continue;
            };
            let tone = self.tone(part);
            let folded =
                self.folded(part) || parts.iter().any(|c| c.parent() == Some(part) && self.folded(*c));
            let mut geos = self.hulls(part, tone);
            match out.last_mut() {
                Some(stroke) if last == Some((part.limb(), tone)) && !folded => stroke.geos.append(&mut geos),
                _ => out.push(Stroke { tone, geos }),
            }
            let at = out.len() - 1;
            if let Some(slot) = done.get_mut(index(part)) {
                *slot = Some((at, tone));
            }
            last = Some((part.limb(), tone));
            // Join it to neighbours that were painted apart from it.
            let neighbours = part
                .parent()
                .map(|p| (part, p))
                .into_iter()
                .chain(parts.iter().filter(|c| c.parent() == Some(part)).map(|c| (*c, *c)));
            let mut joins = Vec::new();
            for (child, other) in neighbours {
                if let Some((stroke, other_tone)) = done.get(index(other)).copied().flatten() {
                    let link = self.shape.link(child);
                    if stroke != at && other_tone == tone && tone != Tone::Works && !link.is_empty() {
                        joins.push(Geo::Hull(self.lens.discs(&link)));
                    }
                }
            }
            if !joins.is_empty() {
                let tone = if tone == Tone::Far { Tone::JoinFar } else { Tone::JoinNear };
                out.push(Stroke { tone, geos: joins });
                last = None;
            }
            // A patch waits for all that it lies on: the whole trunk, and for the hip's muscles the thigh.
            let waits = |w: &Worked, p: Part| {
                let own = Part::of(w.segment);
                let trunk = own.limb() == Limb::Trunk && p.limb() == Limb::Trunk;
                let thigh = w.segment == Segment::Pelvis && w.side.is_some_and(|s| p == Part::Thigh(s));
                p == own || trunk || thigh
            };
            let is_done = |p: &Part| done.get(index(*p)).copied().flatten().is_some();
            for w in self.works {
                if waits(w, part)
                    && parts.iter().filter(|p| waits(w, **p)).all(is_done)
                    && let Some(patch) = self.shape.patch(w).filter(|p| !p.is_empty())
                {
                    out.push(Stroke { tone: Tone::Patch, geos: vec![Geo::Hull(self.lens.discs(&patch))] });
                    last = None;
                }
            }
            if part == Part::Head {
                if let Some(face) = self.face() {
                    out.push(face);
                }
                last = None;
            }
        }
        out
    }

    /// Everything shown as one outline, for the ghost of the start.
    pub fn silhouette(&self) -> Stroke {
        let mut geos = Vec::new();
        for part in Part::ALL.into_iter().filter(|p| (self.shown)(*p)) {
            geos.append(&mut self.hulls(part, Tone::Ghost));
        }
        Stroke { tone: Tone::Ghost, geos }
    }

    fn sampled(&self, balls: &[Round]) -> Vec<(Disc, f64)> {
        balls.iter().map(|b| (self.lens.disc(*b), self.lens.point(b.0).2)).collect()
    }

    /// The face as far as the reader sees it: the part of the skull inside the hairline, and the nose.
    fn face(&self) -> Option<Stroke> {
        let turn = self.placed().turn(Segment::Head);
        let towards = self.lens.camera.towards;
        let skull = self.shape.skull();
        let inset = 0.007 * self.placed().stature();
        let touch = |n: Vec3| -> Vec3 {
            let reach = |b: &Round| b.0.dot(n) + b.1;
            let far = skull.iter().fold(None, |best: Option<&Round>, b| match best {
                Some(o) if reach(b) <= reach(o) => best,
                _ => Some(b),
            });
            far.map_or(Vec3::ZERO, |(c, r)| *c + n * (r - inset))
        };
        const STEPS: usize = 14;
        let mut points = Vec::with_capacity(STEPS);
        let mut seen = 0;
        for i in 0..STEPS {
            let a = i as f64 * 2.0 * core::f64::consts::PI / STEPS as f64;
            let (up, across) = (math::cos(a), math::sin(a));
            // The hairline: high over the brow, in front of the ears, and under the chin.
            let wide = if 0.0 < up { 68.0 - 30.0 * up } else { 68.0 + 22.0 * up * up };
            let w = crate::measure::radians(wide);
            let n = turn * (Vec3::X * math::cos(w) + (Vec3::Y * up + Vec3::Z * across) * math::sin(w));
            let facing = n.dot(towards);
            let n = if facing < 0.0 {
                (n - towards * facing).unit_or(turn * Vec3::X)
            } else {
                seen += 1;
                n
            };
            let (x, y, _) = self.lens.point(touch(n));
            points.push((x, y));
        }
        if seen < 3 {
            return None;
        }
        Some(Stroke { tone: Tone::Face, geos: vec![Geo::Area(points)] })
    }
}

fn group(limb: Limb) -> u8 {
    match limb {
        Limb::Trunk => 0,
        Limb::Head => 1,
        Limb::Arm(Side::Right) => 2,
        Limb::Arm(Side::Left) => 3,
        Limb::Leg(Side::Right) => 4,
        Limb::Leg(Side::Left) => 5,
    }
}

/// Leaves out hulls that lie inside one of the same stroke or of a later one: nothing of them is seen.
pub(super) fn without_hidden(strokes: Vec<Stroke>) -> Vec<Stroke> {
    let covers = |t: Tone| {
        matches!(
            t,
            Tone::Near | Tone::Far | Tone::Works | Tone::JoinNear | Tone::JoinFar | Tone::Thing | Tone::Ghost
        )
    };
    let mut over: Vec<super::outline::Reach> = Vec::new();
    let mut out: Vec<Stroke> = Vec::new();
    for mut stroke in strokes.into_iter().rev() {
        let mut kept: Vec<Geo> = Vec::new();
        let mut own: Vec<super::outline::Reach> = Vec::new();
        let mut reaches: Vec<Option<super::outline::Reach>> =
            stroke.geos.iter().map(|g| if let Geo::Hull(d) = g { Some(reach(d)) } else { None }).collect();
        for i in 0..stroke.geos.len() {
            let hidden = reaches.get(i).copied().flatten().is_some_and(|r| {
                let slack =
                    if stroke.tone == Tone::JoinNear || stroke.tone == Tone::JoinFar { 0.0 } else { 1.2 };
                over.iter().any(|o| lies_inside(&r, o, slack))
                    || reaches.iter().enumerate().any(|(j, o)| {
                        j != i
                            && o.is_some_and(|o| {
                                lies_inside(&r, &o, 1.0) && (!lies_inside(&o, &r, 1.0) || j < i)
                            })
                    })
            });
            if hidden {
                if let Some(r) = reaches.get_mut(i) {
                    *r = None;
                }
                continue;
            }
            if let Some(r) = reaches.get(i).copied().flatten() {
                own.push(r);
            }
            kept.extend(stroke.geos.get(i).cloned());
        }
        if covers(stroke.tone) {
            over.append(&mut own);
        }
        stroke.geos = kept;
        if !stroke.geos.is_empty() {
            out.push(stroke);
        }
    }
    out.reverse();
    out
}
