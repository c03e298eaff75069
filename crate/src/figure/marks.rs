//! Arrows, angle arcs, labels and the small marks of effort.

use super::outline::Disc;
use super::paint::{Geo, Stroke, Tone};
use crate::measure::math;

pub(super) type Point = (f64, f64);

fn minus(a: Point, b: Point) -> Point {
    (a.0 - b.0, a.1 - b.1)
}
fn plus(a: Point, b: Point, k: f64) -> Point {
    (a.0 + b.0 * k, a.1 + b.1 * k)
}
fn length(a: Point) -> f64 {
    math::hypot(a.0, a.1)
}
fn unit(a: Point) -> Point {
    let l = length(a);
    if l < 1e-9 { (1.0, 0.0) } else { (a.0 / l, a.1 / l) }
}

/// Length along a line of points.
pub(super) fn run(points: &[Point]) -> f64 {
    points.windows(2).map(|p| if let [a, b] = p { length(minus(*b, *a)) } else { 0.0 }).sum()
}

/// `n` points evenly spaced along a line from share `from` to share `to` of its length.
pub(super) fn resampled(points: &[Point], n: usize, from: f64, to: f64) -> Vec<Point> {
    let whole = run(points);
    let mut out = Vec::with_capacity(n);
    for i in 0..n {
        let want = whole * (from + (to - from) * i as f64 / (n.max(2) - 1) as f64);
        let mut gone = 0.0;
        let mut at = points.last().copied().unwrap_or((0.0, 0.0));
        for pair in points.windows(2) {
            let [a, b] = pair else { continue };
            let l = length(minus(*b, *a));
            if want <= gone + l + 1e-9 {
                at = plus(*a, minus(*b, *a), if l < 1e-9 { 0.0 } else { (want - gone) / l });
                break;
            }
            gone += l;
        }
        out.push(at);
    }
    out
}

const HEAD: f64 = 17.0;
/// What a page unit of distance from its way costs, where one of depth in the body costs 4; tried on the catalog.
const NEAR: f64 = 0.5;
/// The clear space kept round an arrow.
const CLEAR: f64 = 6.0;
/// An arrow shorter than this is lengthened: its direction is what counts.
const SHORTEST: f64 = 42.0;

/// How deep a line with room round it runs into discs.
fn blocked(points: &[Point], discs: &[Disc]) -> f64 {
    let mut sum = 0.0;
    for p in points {
        let mut deepest: f64 = 0.0;
        for d in discs {
            let room = d.r + CLEAR - deepest;
            let (dx, dy) = (p.0 - d.x, p.1 - d.y);
            // The root is only asked of discs that run deeper than those before.
            if 0.0 < room && dx * dx + dy * dy < room * room {
                deepest = deepest.max(d.r + CLEAR - length((dx, dy)));
            }
        }
        sum += deepest;
    }
    sum / points.len().max(1) as f64
}

/// An arrow along the way of a point, moved aside until it is clear of the body.
#[derive(Clone, Debug)]
pub(super) struct Arrow {
    pub points: Vec<Point>,
    /// How deep it still runs into the body, page units.
    pub blocked: f64,
}

/// Whether a way comes back to where it began.
pub(super) fn goes_round(way: &[Point]) -> bool {
    match (way.first(), way.last()) {
        (Some(a), Some(b)) => length(minus(*a, *b)) < 0.25 * run(way),
        _ => false,
    }
}

/// What an arrow keeps clear of, page units.
#[derive(Clone, Copy)]
pub(super) struct Around<'a> {
    pub body: &'a [Disc],
    pub ghost: &'a [Disc],
    pub head: &'a [Disc],
    /// It stays inside: left, top, right, bottom.
    pub frame: [f64; 4],
}

/// The arrow of `way`, beside it where the body is in the way.
pub(super) fn arrow(way: &[Point], around: &Around) -> Option<Arrow> {
    let Around { body, ghost, head, frame } = *around;
    let whole = run(way);
    if whole < 4.0 {
        return None;
    }
    // A circle is left open where it begins, so that its head shows which way round.
    let mut base = if goes_round(way) { resampled(way, 17, 0.0, 0.88) } else { resampled(way, 9, 0.0, 1.0) };
    if whole < SHORTEST {
        let mid = *base.get(base.len() / 2)?;
        for p in &mut base {
            *p = plus(mid, minus(*p, mid), SHORTEST / whole);
        }
    }
    // Directions across the way, point by point, so that an arc moved aside stays an arc.
    let n = base.len();
    let mut sides: Vec<Point> = Vec::with_capacity(n);
    for i in 0..n {
        let (a, b) = (base.get(i.saturating_sub(1))?, base.get((i + 1).min(n - 1))?);
        let t = unit(minus(*b, *a));
        sides.push((-t.1, t.0));
    }
    let chord = unit(minus(*base.last()?, *base.first()?));
    let outside = |p: &Point| {
        let over = |v: f64, low: f64, high: f64| (low + 10.0 - v).max(v - high + 10.0).max(0.0);
        over(p.0, frame[0], frame[2]) + over(p.1, frame[1], frame[3])
    };
    let shortest = 0.55 * run(&base).max(SHORTEST * 0.9);
    let mut best: Option<(f64, Arrow)> = None;
    // Beside its way, or before or behind it.
    for aside in (0..16).map(|k| f64::from(k) * 9.0) {
        for along in [0.0_f64, -20.0, 20.0, -40.0, 40.0, -60.0, 60.0] {
            // Far from what it is about it would speak of something else.
            let least = (aside + 0.9 * along.abs()) * NEAR;
            if best.as_ref().is_some_and(|(c, _)| *c <= least) {
                continue;
            }
            for sign in [1.0, -1.0] {
                if aside == 0.0 && sign < 0.0 {
                    continue;
                }
                let moved: Vec<Point> = base
                    .iter()
                    .zip(&sides)
                    .map(|(p, s)| plus(plus(*p, *s, sign * aside), chord, along))
                    .collect();
                // Moved to the inside of a bend an arc shrinks, and may turn over.
                if run(&moved) < shortest {
                    continue;
                }
                let line = resampled(&moved, 15, 0.0, 1.0);
                // The head is broader than the shaft.
                let tip = line.last().map_or(0.0, |p| blocked(&[*p], body));
                let deep = blocked(&line, body) + 0.5 * tip;
                let out = line.iter().map(outside).sum::<f64>();
                // Nothing shall stand before a face, not even for a bit of its way.
                let face = line.iter().map(|p| blocked(&[*p], head)).fold(0.0, f64::max);
                let cost = deep * 4.0 + blocked(&line, ghost) * 0.8 + face * 3.0 + out + least;
                if best.as_ref().is_none_or(|(c, _)| cost < *c) {
                    best = Some((cost, Arrow { points: line, blocked: deep }));
                }
            }
        }
    }
    best.map(|b| b.1)
}

/// The light line round a shaft that has to cross the body.
pub(super) fn halo(arrow: &Arrow) -> Stroke {
    Stroke { tone: Tone::Halo, geos: vec![Geo::Curve(resampled(&arrow.points, 5, 0.0, 1.0))] }
}

/// How far a point lies beside the line through two others.
fn aside(p: Point, a: Point, b: Point) -> f64 {
    let (t, v) = (unit(minus(b, a)), minus(p, a));
    (t.0 * v.1 - t.1 * v.0).abs()
}

/// Shaft and head, or heads.
pub(super) fn drawn_arrow(arrow: &Arrow, two_headed: bool) -> Vec<Stroke> {
    let whole = run(&arrow.points).max(1.0);
    let trim = (HEAD * 0.8 / whole).min(0.4);
    let handles = if goes_round(&arrow.points) { 11 } else { 5 };
    let shaft = resampled(&arrow.points, handles, if two_headed { trim } else { 0.0 }, 1.0 - trim);
    let mut heads = Vec::new();
    let head = |tip: Point, back: Point| {
        let t = unit(minus(tip, back));
        let base = plus(tip, t, -HEAD);
        let side = (-t.1, t.0);
        Geo::Area(vec![tip, plus(base, side, HEAD * 0.5), plus(base, side, -HEAD * 0.5)])
    };
    let near_end = resampled(&arrow.points, 2, 1.0 - (HEAD / whole).min(0.5), 1.0);
    if let [back, tip] = near_end.as_slice() {
        heads.push(head(*tip, *back));
    }
    if two_headed {
        let near_start = resampled(&arrow.points, 2, 0.0, (HEAD / whole).min(0.5));
        if let [tip, back] = near_start.as_slice() {
            heads.push(head(*tip, *back));
        }
    }
    // Nearly straight is straight: it takes fewer numbers.
    let line = match (shaft.first(), shaft.last()) {
        (Some(a), Some(b)) if shaft.iter().all(|p| aside(*p, *a, *b) < 2.0) => Geo::Line(vec![*a, *b]),
        _ => Geo::Curve(shaft),
    };
    // The head's own line of paper must not cut the shaft: the shaft is painted over it again.
    vec![Stroke { tone: Tone::Mark, geos: heads }, Stroke { tone: Tone::Arrow, geos: vec![line] }]
}

/// An arc at `centre` from direction `from` to direction `to`, with the guiding line that it is counted from.
pub(super) fn angle_arc(centre: Point, from: Point, to: Point, radius: f64) -> (Vec<Stroke>, Point) {
    let (a, b) = (math::atan2(from.1, from.0), math::atan2(to.1, to.0));
    let pi = core::f64::consts::PI;
    let mut sweep = b - a;
    while pi < sweep {
        sweep -= 2.0 * pi;
    }
    while sweep < -pi {
        sweep += 2.0 * pi;
    }
    let at =
        |t: f64, r: f64| (centre.0 + r * math::cos(a + sweep * t), centre.1 + r * math::sin(a + sweep * t));
    let arc: Vec<Point> = (0..=6).map(|i| at(f64::from(i) / 6.0, radius)).collect();
    let far = at(0.0, radius * 1.25);
    let strokes = vec![
        Stroke { tone: Tone::Guide, geos: vec![Geo::Line(vec![centre, far])] },
        Stroke { tone: Tone::Arc, geos: vec![Geo::Curve(arc)] },
    ];
    (strokes, at(0.5, radius + 14.0))
}

/// Two heads towards each other: squeeze. Their tips stand at two points.
pub(super) fn squeeze(a: Point, b: Point) -> Stroke {
    let head = |tip: Point, other: Point| {
        let t = unit(minus(tip, other));
        let side = (-t.1, t.0);
        let base = plus(tip, t, 16.0);
        Geo::Area(vec![tip, plus(base, side, 9.0), plus(base, side, -9.0)])
    };
    Stroke { tone: Tone::Mark, geos: vec![head(a, b), head(b, a)] }
}

/// A short thick arrow against a bar: push without moving.
pub(super) fn push(tip: Point, way: Point) -> Vec<Stroke> {
    let t = unit(way);
    let side = (-t.1, t.0);
    let base = plus(tip, t, -16.0);
    let tail = plus(tip, t, -34.0);
    let bar = plus(tip, t, 5.0);
    vec![
        Stroke {
            tone: Tone::Mark,
            geos: vec![Geo::Area(vec![
                tip,
                plus(base, side, 12.0),
                plus(base, side, 5.0),
                plus(tail, side, 5.0),
                plus(tail, side, -5.0),
                plus(base, side, -5.0),
                plus(base, side, -12.0),
            ])],
        },
        Stroke {
            tone: Tone::Arrow,
            geos: vec![Geo::Line(vec![plus(bar, side, 13.0), plus(bar, side, -13.0)])],
        },
    ]
}

/// Three strokes that spread from the mouth: breathe out.
pub(super) fn breath(mouth: Point, way: Point) -> Stroke {
    let t = unit(way);
    let side = (-t.1, t.0);
    let puff = |k: f64| {
        let from = plus(plus(mouth, t, 8.0), side, k * 5.0);
        let to = plus(plus(mouth, t, 30.0), side, k * 13.0);
        let mid = plus(plus(from, minus(to, from), 0.5), side, 3.5);
        Geo::Curve(vec![from, mid, to])
    };
    Stroke { tone: Tone::Arrow, geos: vec![puff(-1.0), puff(0.0), puff(1.0)] }
}

/// A small padlock: this stays still.
pub(super) fn lock(c: Point) -> Vec<Stroke> {
    let (x, y) = c;
    let bow = vec![(x - 6.0, y - 3.0), (x - 7.0, y - 17.0), (x + 7.0, y - 17.0), (x + 6.0, y - 3.0)];
    vec![
        Stroke { tone: Tone::Arrow, geos: vec![Geo::Curve(bow)] },
        Stroke {
            tone: Tone::Mark,
            geos: vec![Geo::Area(vec![
                (x - 10.0, y - 4.0),
                (x + 10.0, y - 4.0),
                (x + 10.0, y + 11.0),
                (x - 10.0, y + 11.0),
            ])],
        },
    ]
}

/// Where a text of that size stands best near `anchor`: clear of `taken`, near, off the `soft` ones, and in the frame: always
/// where it has to be `inside`.
/// The answer is the middle of its base line.
pub(super) fn place_text(
    anchor: Point,
    reach: f64,
    (text, size): (&str, f64),
    taken: &[Disc],
    soft: &[Disc],
    (frame, inside): ([f64; 4], bool),
    (own, other): (&[Disc], &[Disc]),
) -> Point {
    let (w, h) = (text_width(text, size), size * 0.74);
    let mut best = (f64::MAX, anchor);
    for ring in 0..7 {
        for k in 0..16 {
            let a = f64::from(k) * core::f64::consts::PI / 8.0;
            let r = reach + f64::from(ring) * 10.0;
            let c = (anchor.0 + math::cos(a) * (r + w * 0.5), anchor.1 + math::sin(a) * (r + h * 0.5));
            let mut cost = f64::from(ring) * 7.0;
            let gap = |d: &Disc, c: Point| {
                let dx = ((d.x - c.0).abs() - w * 0.5).max(0.0);
                let dy = ((d.y - c.1).abs() - h * 0.5).max(0.0);
                math::hypot(dx, dy) - d.r
            };
            let over = |d: &Disc| {
                let dx = ((d.x - c.0).abs() - w * 0.5).max(0.0);
                let dy = ((d.y - c.1).abs() - h * 0.5).max(0.0);
                let reach = d.r + 5.0;
                if reach <= dx || reach <= dy { 0.0 } else { (reach - math::hypot(dx, dy)).max(0.0) }
            };
            cost += taken.iter().map(over).sum::<f64>() * 3.0 + soft.iter().map(over).sum::<f64>() * 1.2;
            // Nearer to what it names than to its twin.
            let near = |discs: &[Disc]| discs.iter().map(|d| gap(d, c)).fold(f64::MAX, f64::min);
            if !other.is_empty() {
                cost += (near(own) - near(other) + 8.0).clamp(0.0, 60.0) * 0.8;
            }
            let out = (frame[0] - (c.0 - w * 0.5)).max(0.0) + ((c.0 + w * 0.5) - frame[2]).max(0.0);
            let out = out + (frame[1] - (c.1 - h * 0.5)).max(0.0) + ((c.1 + h * 0.5) - frame[3]).max(0.0);
            cost += out * if inside { 30.0 } else { 0.3 };
            if cost < best.0 {
                best = (cost, c);
            }
        }
    }
    (best.1.0, best.1.1 + h * 0.5)
}

/// About how wide a bold sans-serif text is: 0.68 of the size a capital (from memory).
pub(super) fn text_width(text: &str, size: f64) -> f64 {
    text.chars().map(|c| if c.is_uppercase() { 0.72 } else { 0.60 }).sum::<f64>() * size
}

/// An hourglass `size` high: hold.
pub(super) fn hourglass(c: Point, size: f64) -> Vec<Stroke> {
    let (w, h) = (size * 0.32, size * 0.5);
    let at = |x: f64, y: f64| (c.0 + x * w, c.1 + y * h);
    let cone = |to: f64| Geo::Area(vec![at(-0.8, to), at(0.8, to), at(0.0, 0.0)]);
    let bar = |y: f64| Geo::Line(vec![at(-1.0, y), at(1.0, y)]);
    vec![
        Stroke { tone: Tone::Mark, geos: vec![cone(-1.0), cone(1.0)] },
        Stroke { tone: Tone::Arrow, geos: vec![bar(-1.0), bar(1.0)] },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: [f64; 4] = [-999.0, -999.0, 999.0, 999.0];

    fn bare(body: &[Disc]) -> Around<'_> {
        Around { body, ghost: &[], head: &[], frame: ROOM }
    }

    fn ring(n: u32) -> Vec<Point> {
        let at = |i: u32| f64::from(i) * 2.0 * core::f64::consts::PI / f64::from(n);
        (0..=n).map(|i| (60.0 * math::cos(at(i)), 60.0 * math::sin(at(i)))).collect()
    }

    #[test]
    fn a_way_round_keeps_its_roundness_and_shows_which_way() {
        let arrow = arrow(&ring(24), &bare(&[])).expect("there is a way");
        let area: f64 = arrow.points.windows(2).map(|p| p[0].0 * p[1].1 - p[1].0 * p[0].1).sum::<f64>() * 0.5;
        // Most of the circle's area, in its sense of turning (positive is clockwise on the page).
        assert!(0.8 * core::f64::consts::PI * 3600.0 < area, "{area}");
        let back: Vec<Point> = ring(24).into_iter().rev().collect();
        let other = super::arrow(&back, &bare(&[])).expect("there is a way");
        let turned: f64 = other.points.windows(2).map(|p| p[0].0 * p[1].1 - p[1].0 * p[0].1).sum();
        assert!(turned < 0.0);
    }

    #[test]
    fn an_arrow_moves_aside_until_it_is_clear() {
        let way = [(0.0, 0.0), (100.0, 0.0)];
        let limb: Vec<Disc> = (0..11).map(|i| Disc { x: f64::from(i) * 10.0, y: 0.0, r: 15.0 }).collect();
        let arrow = arrow(&way, &bare(&limb)).expect("there is a way");
        assert_eq!(arrow.blocked, 0.0);
        let nearest = arrow.points.iter().map(|p| p.1.abs()).fold(f64::MAX, f64::min);
        assert!((21.0..=45.0).contains(&nearest), "{nearest}");
    }
}
