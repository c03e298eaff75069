//! One body in one state, painted: pieces in painter's order with their tones.

use super::order::{Item, order};
use super::outline::{Disc, Hidden, hull, lies_inside, reach};
use super::shape::{Limb, Part, Round, Shape, aspect_direction};
use super::view::Covers;
use crate::body::Placed;
use crate::body::names::{Segment, Side};
use crate::markup::path::Path;
use crate::measure::math;
use crate::pose::ask::{Aspect, Worked};
use crate::space::{Camera, Vec3, v3};

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
    /// Hands.
    Skin,
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
    /// A standing thing before the body, which shows through.
    ThingBefore,
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

    pub fn moved(&self, dx: f64, dy: f64) -> Geo {
        let points = |p: &[(f64, f64)]| p.iter().map(|(x, y)| (x + dx, y + dy)).collect();
        match self {
            Geo::Hull(d) => Geo::Hull(d.iter().map(|d| Disc { x: d.x + dx, y: d.y + dy, r: d.r }).collect()),
            Geo::Line(p) => Geo::Line(points(p)),
            Geo::Area(p) => Geo::Area(points(p)),
            Geo::Curve(p) => Geo::Curve(points(p)),
        }
    }

    /// Discs along it, by which texts keep clear of it.
    pub fn along(&self) -> Vec<Disc> {
        let dots = |points: &[(f64, f64)], r: f64| -> Vec<Disc> {
            let n = (super::marks::run(points) / 20.0).clamp(2.0, 12.0) as usize;
            let line = super::marks::resampled(points, n, 0.0, 1.0);
            line.into_iter().map(|(x, y)| Disc { x, y, r }).collect()
        };
        match self {
            // Things are thin, or blocks whose edges count.
            Geo::Hull(discs) => match discs.as_slice() {
                [a, rest @ ..] => rest.iter().flat_map(|d| dots(&[(a.x, a.y), (d.x, d.y)], d.r)).collect(),
                [] => Vec::new(),
            },
            Geo::Line(points) | Geo::Area(points) | Geo::Curve(points) => dots(points, 2.0),
        }
    }

    /// Writes it, moved by (dx, dy); arcs up to `short` long become corners, arcs that are `hidden` lines.
    pub fn write(&self, path: &mut Path, (dx, dy): (f64, f64), short: f64, hidden: &mut Hidden) {
        match self {
            Geo::Hull(discs) => hull(path, discs, (dx, dy), short, hidden),
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
                    return Geo::Line(points.clone()).write(path, (dx, dy), short, hidden);
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

/// Something that stands in the room, its box along the room's axes.
pub(super) struct Solid {
    pub strokes: Vec<Stroke>,
    /// Without one it is always behind.
    pub span: Option<(Vec3, Vec3)>,
}

/// What shall be painted, and how.
pub(super) struct Painted<'a> {
    pub shape: Shape<'a>,
    pub lens: Lens,
    pub works: &'a [Worked],
    pub extras: Vec<Extra>,
    pub solids: Vec<Solid>,
    /// The working muscles of a limb instead of the whole limb.
    pub muscles: bool,
    /// The limbs that are drawn lighter.
    pub far: &'a [Limb],
    /// Which pieces; the rest of the body is outside the frame.
    pub shown: &'a dyn Fn(Part) -> bool,
}

/// The share of a hand behind other pieces from which on it is left out (tried on the catalog).
const SCRAP: f64 = 0.66;

/// How much slimmer working parts are drawn, since their dark line lies outside: page units.
const SLIMMER: f64 = 1.5;

impl<'a> Painted<'a> {
    /// Nothing but pieces of the body.
    pub fn bare(shape: Shape<'a>, lens: Lens, shown: &'a dyn Fn(Part) -> bool) -> Painted<'a> {
        Painted {
            shape,
            lens,
            works: &[],
            extras: Vec::new(),
            solids: Vec::new(),
            muscles: false,
            far: &[],
            shown,
        }
    }

    fn placed(&self) -> &Placed {
        self.shape.placed
    }

    /// Whether a limb lies on the far side of the body, so that it is drawn lighter.
    pub fn is_far(&self, limb: Limb) -> bool {
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
            let limb = part.side().is_some() && !self.muscles;
            let whole = w.aspect == Aspect::Whole && w.side.is_none() && self.shape.patch(w).is_none();
            Part::of(w.segment) == part && (limb || whole) && w.segment != Segment::Head
        })
    }

    /// Whether a working group of the trunk is on the side that the reader does not see.
    fn looks_away(&self, w: &Worked) -> bool {
        let towards = self.lens.camera.towards;
        if Part::of(w.segment).side().is_some() {
            return false;
        }
        let side = w.side.unwrap_or(Side::Right);
        match w.aspect {
            // Its back is hidden by its front, but for the rim: within 32° (tried on the catalog).
            Aspect::Front | Aspect::Back => {
                aspect_direction(self.placed(), w.segment, w.aspect, side).dot(towards) < -0.85
            }
            // One half of the trunk is hidden by the other from 30° behind it on (tried on the catalog).
            _ => {
                let out = self.placed().turn(w.segment).z * if side == Side::Right { 1.0 } else { -1.0 };
                w.side.is_some() && out.dot(towards) < -0.5
            }
        }
    }

    /// The area of a working group inside its piece; none where the whole piece has the accent.
    fn patch(&self, w: &Worked) -> Option<Vec<Round>> {
        let part = Part::of(w.segment);
        if part.side().is_some() && !self.muscles {
            return None;
        }
        // What looks away is left out, unless nothing would be left.
        let rest = || self.works.iter().all(|w| Part::of(w.segment).side().is_none() && self.looks_away(w));
        if self.looks_away(w) && !rest() {
            return None;
        }
        self.shape.patch(w).filter(|p| !p.is_empty())
    }

    fn tone(&self, part: Part) -> Tone {
        if self.works_wholly(part) {
            Tone::Works
        } else if matches!(part, Part::Hand(_) | Part::Neck) {
            Tone::Skin
        } else if self.far.contains(&part.limb()) {
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

    /// Standing things that are behind the body wherever they meet it, farthest first.
    pub fn behind(&self) -> Vec<Stroke> {
        let solids: Vec<&Solid> = self.solids.iter().filter(|s| !self.is_before(s)).collect();
        let boxed: Vec<Item> = solids.iter().map(|s| Item::boxed(&s.strokes)).collect();
        let spans: Vec<Option<(Vec3, Vec3)>> = solids.iter().map(|s| s.span).collect();
        let forced = self.forced(&spans);
        order(&boxed, &forced)
            .into_iter()
            .filter_map(|i| solids.get(i))
            .flat_map(|s| s.strokes.clone())
            .collect()
    }

    /// Whether a standing thing covers some of the body.
    fn is_before(&self, solid: &Solid) -> bool {
        let Some(span) = solid.span else { return false };
        let item = Item::boxed(&solid.strokes);
        Part::ALL.into_iter().filter(|p| (self.shown)(*p)).any(|p| {
            let balls = self.shape.samples(p);
            let meets = Item { samples: self.sampled(&balls), ..Item::default() }.meets(&item);
            meets && nearer(spanned(&balls), span, self.lens.camera.towards) == Some(false)
        })
    }

    /// Pairs of which the first has to be painted before the second, since a plane parts them.
    fn forced(&self, spans: &[Option<(Vec3, Vec3)>]) -> Vec<(usize, usize)> {
        let mut out = Vec::new();
        for (i, a) in spans.iter().enumerate() {
            for (j, b) in spans.iter().enumerate().skip(i + 1) {
                let (Some(a), Some(b)) = (a, b) else { continue };
                match nearer(*a, *b, self.lens.camera.towards) {
                    Some(true) => out.push((j, i)),
                    Some(false) => out.push((i, j)),
                    None => {}
                }
            }
        }
        out
    }

    /// Whether so little of a hand is seen that nobody would take it for one.
    fn is_scrap(&self, part: Part, covers: &Covers) -> bool {
        matches!(part, Part::Hand(_)) && SCRAP < covers.of_part(part)
    }

    /// The strokes of the body and of what it carries, and of standing things before it; farthest first.
    pub fn strokes(&self) -> Vec<Stroke> {
        let covers = Covers::of(self.placed(), self.lens);
        let seen = |p: &Part| (self.shown)(*p) && !self.is_scrap(*p, &covers);
        let parts: Vec<Part> = Part::ALL.into_iter().filter(seen).collect();
        let place = |p: Part| parts.iter().position(|q| *q == p);
        let mut items: Vec<Item> = parts
            .iter()
            .map(|p| Item {
                samples: self.sampled(&self.shape.samples(*p)),
                group: group(p.limb()),
                hangs_on: p.parent().and_then(place),
                frame: None,
            })
            .collect();
        for e in &self.extras {
            items.push(Item {
                samples: self.sampled(&e.samples),
                group: 100,
                hangs_on: e.on.and_then(place),
                frame: None,
            });
        }
        let before: Vec<&Solid> = self.solids.iter().filter(|s| self.is_before(s)).collect();
        items.extend(before.iter().map(|s| Item::boxed(&s.strokes)));
        let mut forced = Vec::new();
        if !before.is_empty() {
            // Only a standing thing needs a plane: pieces of the body are told apart by their depth.
            let body = parts.iter().map(|p| Some(spanned(&self.shape.samples(*p))));
            let carried = self.extras.iter().map(|e| Some(spanned(&e.samples)));
            let spans: Vec<_> = body.chain(carried).chain(before.iter().map(|s| s.span)).collect();
            let first = parts.len() + self.extras.len();
            forced = self.forced(&spans);
            forced.retain(|(a, b)| first <= *a.max(b));
        }
        let mut out: Vec<Stroke> = Vec::new();
        // From behind, hair hangs over the neck.
        let behind = (self.placed().turn(Segment::Head) * Vec3::X).dot(self.lens.camera.towards) < -0.35;
        if let (true, Some(neck), Some(head)) = (behind, place(Part::Neck), place(Part::Head)) {
            forced.push((neck, head));
        }
        // For each piece painted: in which stroke, with which tone.
        let mut done: [Option<(usize, Tone)>; 16] = [None; 16];
        let index = |p: Part| Part::ALL.iter().position(|q| *q == p).unwrap_or(0);
        // The limb painted last, and in which stroke; what joins it to others may follow that stroke.
        let mut last: Option<(Limb, Tone, usize)> = None;
        for i in order(&items, &forced) {
            let Some(&part) = parts.get(i) else {
                let i = i - parts.len();
                if let Some(e) = self.extras.get(i) {
                    out.extend(e.strokes.iter().cloned());
                } else if let Some(s) = before.get(i - self.extras.len()) {
                    let see_through = |s: &Stroke| Stroke { tone: Tone::ThingBefore, geos: s.geos.clone() };
                    out.extend(s.strokes.iter().map(see_through));
                }
                last = None;
                continue;
            };
            let tone = self.tone(part);
            let folded =
                self.folded(part) || parts.iter().any(|c| c.parent() == Some(part) && self.folded(*c));
            let mut geos = self.hulls(part, tone);
            let face = if part == Part::Head { self.face() } else { None };
            if face.is_some() {
                // The nose belongs to the face.
                geos.truncate(1);
            }
            let at = match last {
                Some((limb, t, at)) if (limb, t) == (part.limb(), tone) && !folded => at,
                _ => {
                    out.push(Stroke { tone, geos: Vec::new() });
                    out.len() - 1
                }
            };
            if let Some(stroke) = out.get_mut(at) {
                stroke.geos.append(&mut geos);
            }
            if let Some(slot) = done.get_mut(index(part)) {
                *slot = Some((at, tone));
            }
            last = Some((part.limb(), tone, at));
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
                    if stroke != at
                        && other_tone == tone
                        && !matches!(tone, Tone::Works | Tone::Skin)
                        && !link.is_empty()
                    {
                        joins.push(Geo::Hull(self.lens.discs(&link)));
                    }
                }
            }
            if !joins.is_empty() {
                let tone = if tone == Tone::Far { Tone::JoinFar } else { Tone::JoinNear };
                out.push(Stroke { tone, geos: joins });
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
                    && let Some(patch) = self.patch(w)
                {
                    out.push(Stroke { tone: Tone::Patch, geos: vec![Geo::Hull(self.lens.discs(&patch))] });
                    last = None;
                }
            }
            if let Some(face) = face {
                out.push(face);
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

    /// The face as far as the reader sees it: the skull inside the hairline, and the nose.
    fn face(&self) -> Option<Stroke> {
        let turn = self.placed().turn(Segment::Head);
        let towards = self.lens.camera.towards;
        // Seen from behind there is hair.
        if (turn * Vec3::X).dot(towards) < -0.35 {
            return None;
        }
        let skull = self.shape.skull();
        let touch = |n: Vec3| -> Vec3 {
            let reach = |b: &Round| b.0.dot(n) + b.1;
            let far = skull.iter().fold(None, |best: Option<&Round>, b| match best {
                Some(o) if reach(b) <= reach(o) => best,
                _ => Some(b),
            });
            far.map_or(Vec3::ZERO, |(c, r)| *c + n * *r)
        };
        const STEPS: usize = 12;
        let mut points = Vec::with_capacity(STEPS);
        for i in 0..STEPS {
            let a = i as f64 * 2.0 * core::f64::consts::PI / STEPS as f64;
            let (up, across) = (math::cos(a), math::sin(a));
            // The hairline: high over the brow, in front of the ears, and under the chin.
            let wide = if 0.0 < up { 66.0 - 32.0 * up } else { 66.0 + 26.0 * up * up };
            let w = crate::measure::radians(wide);
            let n = turn * (Vec3::X * math::cos(w) + (Vec3::Y * up + Vec3::Z * across) * math::sin(w));
            let facing = n.dot(towards);
            let n = if facing < 0.0 { (n - towards * facing).unit_or(turn * Vec3::X) } else { n };
            let (x, y, _) = self.lens.point(touch(n));
            // Half of them fall together in a side view.
            let near = |p: &(f64, f64)| math::hypot(p.0 - x, p.1 - y) < 2.5;
            if !points.last().is_some_and(near) && !points.first().is_some_and(near) {
                points.push((x, y));
            }
        }
        // Clockwise like all hulls, or the two would cut a hole into each other.
        let turns: f64 =
            points.iter().zip(points.iter().cycle().skip(1)).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
        if turns < 0.0 {
            points.reverse();
        }
        let nose = Geo::Hull(self.lens.discs(&self.shape.nose()));
        Some(Stroke { tone: Tone::Face, geos: vec![Geo::Area(points), nose] })
    }
}

/// The box round balls, along the room's axes; a little smaller, since flesh gives where it touches.
fn spanned(balls: &[Round]) -> (Vec3, Vec3) {
    let far = f64::MAX;
    balls.iter().fold((v3(far, far, far), v3(-far, -far, -far)), |(low, high), (c, r)| {
        let r = 0.6 * r;
        (
            v3(low.x.min(c.x - r), low.y.min(c.y - r), low.z.min(c.z - r)),
            v3(high.x.max(c.x + r), high.y.max(c.y + r), high.z.max(c.z + r)),
        )
    })
}

/// Whether box `a` lies nearer to the reader than box `b`; `None` where no plane between them tells.
fn nearer(a: (Vec3, Vec3), b: (Vec3, Vec3), towards: Vec3) -> Option<bool> {
    let mut most = 0.05;
    let mut found = None;
    for (a0, a1, b0, b1, t) in [
        (a.0.x, a.1.x, b.0.x, b.1.x, towards.x),
        (a.0.y, a.1.y, b.0.y, b.1.y, towards.y),
        (a.0.z, a.1.z, b.0.z, b.1.z, towards.z),
    ] {
        if most < t.abs() && (b1 <= a0 || a1 <= b0) {
            most = t.abs();
            found = Some((b1 <= a0) == (0.0 < t));
        }
    }
    found
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
            Tone::Near
                | Tone::Far
                | Tone::Works
                | Tone::Skin
                | Tone::JoinNear
                | Tone::JoinFar
                | Tone::Thing
                | Tone::Ghost
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
