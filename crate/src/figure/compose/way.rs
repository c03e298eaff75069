//! What moves, how far, and the arrow along its way.

use super::*;
use crate::pose::movement::Touch;

impl Maker<'_> {
    /// Which pieces moved on the page between two keys, and how far the farthest point went.
    pub(super) fn moved(&self, from: usize, to: usize, lens: Lens) -> (Vec<Part>, f64) {
        let mut moved = Vec::new();
        let mut most: f64 = 0.0;
        let (Some(a), Some(b)) = (self.placed.get(from), self.placed.get(to)) else { return (moved, most) };
        for part in Part::ALL {
            let far = view::tracked(a, part)
                .into_iter()
                .chain([a.joint(part.segment())])
                .zip(view::tracked(b, part).into_iter().chain([b.joint(part.segment())]))
                .map(|(p, q)| {
                    let (p, q) = (lens.point(p), lens.point(q));
                    math::hypot(q.0 - p.0, q.1 - p.1)
                })
                .fold(0.0, f64::max);
            most = most.max(far);
            if 7.0 < far {
                moved.push(part);
            }
        }
        // Small movements: whatever moved most is what moves.
        if moved.is_empty() {
            moved.extend(Part::ALL.into_iter().filter(|p| {
                view::tracked(a, *p)
                    .iter()
                    .zip(view::tracked(b, *p))
                    .any(|(x, y)| 0.002 * self.stature < (*x - y).norm())
            }));
        }
        (moved, most)
    }

    /// Whether the start can be a ghost behind the end: mainly limbs moved, and most of it can be seen.
    pub(super) fn ghost_is_clear(&self, start: usize, end: usize, moved: &[Part], lens: Lens) -> bool {
        if moved.contains(&Part::LowTrunk) && moved.contains(&Part::HighTrunk) {
            return false;
        }
        let ghost = self.discs(start, moved, lens);
        let body = self.discs(end, &Part::ALL, lens);
        let seen = ghost
            .iter()
            .filter(|g| !body.iter().any(|b| math::hypot(b.x - g.x, b.y - g.y) < b.r * 0.8 + g.r * 0.2))
            .count();
        // More than two limbs at once, or a start that is mostly covered, reads better side by side.
        let mut limbs: Vec<Limb> = moved.iter().map(|p| p.limb()).collect();
        crate::sorting::sort(&mut limbs);
        limbs.dedup();
        limbs.len() <= 3 && 0.45 * ghost.len() as f64 <= seen as f64
    }

    /// Arrows from key `from` to the frame's key, along the way of the point that tells most, and of a second limb
    /// that goes its own way.
    pub(super) fn arrows(
        &self,
        from: usize,
        ask: &Ask,
        keys: &[usize],
        (body, ghost): (&[Disc], &[Disc]),
    ) -> Vec<marks::Arrow> {
        let round = ask.label && self.goes_round(keys);
        // Inside a detail, and above a floor that is seen as a line.
        let floor = if ask.level() { ask.lens.point(Vec3::ZERO).1 } else { f64::MAX };
        let mut room = ask.crop.unwrap_or([f64::MIN, f64::MIN, f64::MAX, f64::MAX]);
        room[3] = room[3].min(floor);
        let states: Vec<&State> = if round {
            self.movement.ways.iter().flatten().collect()
        } else if from + 1 == ask.key {
            self.movement.ways.get(from).map(|w| w.iter().collect()).unwrap_or_default()
        } else {
            Vec::new()
        };
        let placed: Vec<Placed> = if states.len() < 2 {
            [from, ask.key].iter().filter_map(|k| self.placed.get(*k).cloned()).collect()
        } else {
            states.iter().map(|s| self.body.place(s)).collect()
        };
        let (Some(a), Some(b)) = (placed.first(), placed.last()) else { return Vec::new() };
        let (Some(was), Some(is)) = (self.movement.keys.get(from), self.movement.keys.get(ask.key)) else {
            return Vec::new();
        };
        let free = Freedom::of(was, is, a, b);
        // For each piece its telling way, and how much it tells.
        let mut ways: Vec<(f64, Part, Vec<Point>)> = Vec::new();
        for part in ask.shown.iter().copied() {
            let tells = free.tells(part, &self.works);
            let tracks: Vec<Vec<Vec3>> = placed.iter().map(|p| points(p, part, &self.works)).collect();
            for i in 0..tracks.first().map_or(0, Vec::len) {
                let way: Vec<Vec3> = tracks.iter().filter_map(|t| t.get(i).copied()).collect();
                let way = on_page(&way, ask.lens);
                // Going about in a circle counts by its length, a tremble does not.
                let told = marks::run(&way) * tells * if i == 0 { 1.1 } else { 1.0 };
                ways.push((told, part, way));
            }
        }
        let mut best: Option<&(f64, Part, Vec<Point>)> = None;
        for w in &ways {
            if best.is_none_or(|b| b.0 + 1e-6 < w.0) {
                best = Some(w);
            }
        }
        let Some((told, part, way)) = best else { return Vec::new() };
        // The mark of a squeeze says more than an arrow along what little it moves.
        if is.efforts.iter().any(|e| matches!(e, Effort::Squeeze(_))) && marks::run(way) < SMALL {
            return Vec::new();
        }
        let head = &self.discs(ask.key, &[Part::Head], ask.lens);
        let around = marks::Around { body, ghost, head, frame: room };
        let Some(first) = marks::arrow(way, &around) else { return Vec::new() };
        let mut out = vec![first];
        if free.limb(part.limb()) && !round {
            let mut second: Option<&(f64, Part, Vec<Point>)> = None;
            for w in &ways {
                let own = w.1.limb() != part.limb() && free.limb(w.1.limb());
                if own
                    && ALSO * told < w.0
                    && ALSO_LONG.max(0.5 * marks::run(way)) < marks::run(&w.2)
                    && APART < apart(&w.2, way)
                    && !alike(&w.2, way)
                    && second.is_none_or(|s| s.0 + 1e-6 < w.0)
                {
                    second = Some(w);
                }
            }
            let mut taken = body.to_vec();
            taken.extend(out.iter().flat_map(|a| &a.points).map(|(x, y)| Disc { x: *x, y: *y, r: 9.0 }));
            out.extend(
                second.and_then(|(_, _, way)| marks::arrow(way, &marks::Around { body: &taken, ..around })),
            );
        }
        out
    }

    /// Whether the key poses lead round in a circle rather than there and back: three or more of them, and home again.
    fn goes_round(&self, keys: &[usize]) -> bool {
        let (Some(first), Some(last)) = (self.placed.first(), self.placed.last()) else { return false };
        let home = |p: Part| {
            let pairs = view::tracked(first, p).into_iter().zip(view::tracked(last, p));
            pairs.into_iter().all(|(a, b)| (a - b).norm() < HOME * self.stature)
        };
        2 < keys.len() && keys.len() < self.placed.len() && Part::ALL.into_iter().all(home)
    }
}

/// A second limb gets an arrow if it tells at least this share of what the first tells, if its way is that long, and
/// if it runs that far from the first, page units; tried on the catalog.
const ALSO: f64 = 0.2;
const ALSO_LONG: f64 = 50.0;
const APART: f64 = 50.0;

/// How far two ways are from each other, page units.
fn apart(a: &[Point], b: &[Point]) -> f64 {
    let (a, b) = (marks::resampled(a, 5, 0.0, 1.0), marks::resampled(b, 5, 0.0, 1.0));
    a.iter().zip(&b).map(|(p, q)| math::hypot(p.0 - q.0, p.1 - q.1)).sum::<f64>() / a.len().max(1) as f64
}

/// Whether two ways go about the same way: one arrow says it.
fn alike(a: &[Point], b: &[Point]) -> bool {
    let chord = |w: &[Point]| match (w.first(), w.last()) {
        (Some(p), Some(q)) => [q.0 - p.0, q.1 - p.1],
        _ => [0.0; 2],
    };
    bent(Some((chord(a), chord(b)))) < 0.6
}

/// How much of a turn between its first and last step a way has, radians.
fn bent<const N: usize>(steps: Option<([f64; N], [f64; N])>) -> f64 {
    let Some((a, b)) = steps else { return 0.0 };
    let dot = |a: &[f64; N], b: &[f64; N]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
    let size = (dot(&a, &a) * dot(&b, &b)).sqrt();
    if size < 1e-9 { 0.0 } else { math::acos((dot(&a, &b) / size).clamp(-1.0, 1.0)) }
}

/// A way on the page. A bend that is seen edge on, such as a turn about the body's long axis from the front, is seen a
/// little from above instead, or its arrow would be a straight line.
fn on_page(way: &[Vec3], lens: Lens) -> Vec<Point> {
    let seen: Vec<(f64, f64, f64)> = way.iter().map(|p| lens.point(*p)).collect();
    let ends = |f: &dyn Fn(usize, usize) -> [f64; 3]| {
        let n = seen.len();
        (3 <= n).then(|| (f(0, n / 3), f(n - 1 - n / 3, n - 1)))
    };
    let step = |a: usize, b: usize| match (seen.get(a), seen.get(b)) {
        (Some(p), Some(q)) => [q.0 - p.0, q.1 - p.1, q.2 - p.2],
        _ => [0.0; 3],
    };
    let flat = |a: usize, b: usize| {
        let [x, y, _] = step(a, b);
        [x, y, 0.0]
    };
    let tilt = if BENT < bent(ends(&step)) && bent(ends(&flat)) < 0.4 * BENT { 0.45 } else { 0.0 };
    seen.into_iter().map(|(x, y, z)| (x, y + tilt * z)).collect()
}

/// A bend of a way that has to be seen, radians (29°).
const BENT: f64 = 0.5;

/// What is free to move: a limb whose end stays on something only follows the trunk.
struct Freedom {
    held: Vec<Limb>,
    /// Legs that rest on the other.
    rests: Vec<Limb>,
    slides: Vec<Part>,
    /// The head turns on the trunk rather than going with it.
    head: bool,
}

impl Freedom {
    fn of(was: &Key, is: &Key, a: &Placed, b: &Placed) -> Freedom {
        let part = |t: &Touch| Part::of(things::spot(b, t.part).1);
        // A leg that rests on the other goes along with it; a hand on the body may lead or follow. Hands that take hold
        // only help.
        let stays = |t: &&Touch| {
            let hand = matches!(t.surface, Surface::Body(_)) && matches!(part(t).limb(), Limb::Arm(_));
            let both_body =
                |u: &Touch| matches!((u.surface, t.surface), (Surface::Body(_), Surface::Body(_)));
            let same = |u: &Touch| u.part == t.part && (u.surface == t.surface || both_body(u));
            !t.slides && !hand && was.touches.iter().any(same)
        };
        let head = |p: &Placed| p.turn(Segment::Chest).inverse() * p.turn(Segment::Head).x;
        Freedom {
            held: is.touches.iter().filter(|t| t.holds || stays(t)).map(|t| part(t).limb()).collect(),
            rests: is
                .touches
                .iter()
                .filter(stays)
                .filter(|t| matches!(t.surface, Surface::Body(_)))
                .map(|t| part(t).limb())
                .collect(),
            slides: is.touches.iter().filter(|t| t.slides).map(part).collect(),
            head: head(a).dot(head(b)) < math::cos(HEAD_TURNS),
        }
    }

    fn limb(&self, limb: Limb) -> bool {
        matches!(limb, Limb::Arm(_) | Limb::Leg(_)) && !self.held.contains(&limb)
    }

    /// How much a piece's way tells of what the patient does (tried on the catalog).
    fn tells(&self, part: Part, works: &[Worked]) -> f64 {
        let own = works.iter().any(|w| works_limb(w, part));
        let trunk = works.iter().any(|w| matches!(Part::of(w.segment), Part::LowTrunk | Part::HighTrunk));
        let end = matches!(part, Part::Hand(_) | Part::Foot(_));
        // What works at the waist moves the chest.
        let waist = |w: &Worked| w.segment == Segment::Waist && part == Part::HighTrunk;
        let itself = works.iter().any(|w| Part::of(w.segment) == part || waist(w));
        match part.limb() {
            Limb::Head if own => 2.5,
            Limb::Head if self.head && !trunk => 0.8,
            Limb::Head => 0.3,
            Limb::Trunk if itself => 2.5,
            Limb::Trunk if part == Part::LowTrunk => 1.3,
            Limb::Trunk => 1.0,
            // What slides along a surface is what the patient moves.
            _ if self.slides.contains(&part) => 6.0,
            limb if self.limb(limb) => {
                if own {
                    2.5
                } else {
                    0.8
                }
            }
            // A heel that rises on planted toes.
            limb if own && end && !self.rests.contains(&limb) => 2.5,
            _ => 0.7,
        }
    }
}

/// A head that turns more than this on the trunk moves by itself, radians (11°).
const HEAD_TURNS: f64 = 0.2;

/// Points of a piece that an arrow may follow; the near end too where the piece works.
pub(in crate::figure) fn points(placed: &Placed, part: Part, works: &[Worked]) -> Vec<Vec3> {
    let mut out = view::tracked(placed, part);
    if works.iter().any(|w| Part::of(w.segment) == part) && part.side().is_some() {
        out.push(placed.joint(part.segment()));
    }
    out
}

/// Whether a piece belongs to the limb of a working segment, that segment or beyond it; the muscles of one
/// half of the pelvis or chest move that side's limb.
pub(in crate::figure) fn works_limb(worked: &Worked, part: Part) -> bool {
    let limb = match (worked.segment, worked.side) {
        (Segment::Pelvis, Some(s)) => Some(Limb::Leg(s)),
        (Segment::Chest, Some(s)) | (Segment::Girdle(s), _) => Some(Limb::Arm(s)),
        _ => None,
    };
    if limb == Some(part.limb()) {
        return true;
    }
    let segment = worked.segment;
    let mut p = Some(part);
    while let Some(q) = p {
        if q == Part::of(segment) {
            return q.limb() == part.limb() || q == part;
        }
        p = q.parent();
    }
    false
}
