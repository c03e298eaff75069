//! Which frames are drawn, from where, and what stands in them.

use super::marks::{self, Point};
use super::outline::Disc;
use super::paint::{Geo, Lens, Painted, Stroke, Tone};
use super::shape::{Limb, Part, Shape};
use super::view::{self, Sight, Stance};
use super::{Look, Reader, things};
use crate::body::names::{Angle, Joint, Motion, Region, Segment, Side};
use crate::body::{Body, Placed, State};
use crate::measure::{math, shown};
use crate::pose::ask::{Effort, Spot, Surface, View, ViewFrom, Worked};
use crate::pose::movement::{Key, Movement, Shape as Form};
use crate::space::{Vec3, v3};

/// A text on the page: the middle of its base line.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Label {
    pub text: String,
    pub x: f64,
    pub y: f64,
    pub size: f64,
}

/// One frame's strokes, to be moved by (dx, dy).
#[derive(Clone, Debug, Default)]
pub(super) struct Frame {
    pub strokes: Vec<Stroke>,
    pub labels: Vec<Label>,
    pub dx: f64,
    pub dy: f64,
    pub arrow_on_body: f64,
}

#[derive(Clone, Debug)]
pub(super) struct Scene {
    pub width: f64,
    pub height: f64,
    pub frames: Vec<Frame>,
    pub sight: Sight,
    pub seen: f64,
    pub arrow_on_body: f64,
}

/// Page units a stature.
pub(super) const UNITS: f64 = 400.0;
const MARGIN: f64 = 12.0;
/// Height of letters' boxes in one frame, and in frames side by side, which are printed smaller.
const TEXT: f64 = 27.0;
const TEXT_BESIDE: f64 = 34.0;
/// What moves less than this on the page is a small movement, and is shown close up.
const SMALL: f64 = 26.0;

/// What one frame shows.
struct Ask<'a> {
    key: usize,
    /// The key whose outline is the ghost, and what of it moved.
    ghost: Option<(usize, Vec<Part>)>,
    shown: Vec<Part>,
    lens: Lens,
    level: bool,
    /// The arrow from the key before is drawn.
    arrow: bool,
    label: bool,
    things: bool,
    works: &'a [Worked],
}

struct Maker<'a> {
    movement: &'a Movement,
    look: &'a Look,
    placed: Vec<Placed>,
    stature: f64,
    body: &'a Body,
}

/// Key poses worth a frame: neighbours that look the same are one, at most four in all.
pub(super) fn frames_of(movement: &Movement, placed: &[Placed]) -> Vec<usize> {
    let differs = |a: &Placed, b: &Placed| {
        Part::ALL.iter().any(|p| {
            view::tracked(a, *p)
                .iter()
                .zip(view::tracked(b, *p))
                .any(|(x, y)| 0.004 * a.stature() < (*x - y).norm())
        })
    };
    let mut kept: Vec<usize> = Vec::new();
    for (i, p) in placed.iter().enumerate() {
        let new = kept.last().and_then(|k| placed.get(*k)).is_none_or(|last| {
            let efforts = |i: usize| movement.keys.get(i).map_or(0, |k| k.efforts.len());
            differs(last, p) || efforts(i) != kept.last().map_or(0, |k| efforts(*k))
        });
        if new {
            kept.push(i);
        }
    }
    // Back to the start adds no picture.
    if let [first, .., last] = kept.as_slice()
        && 2 < kept.len()
        && let (Some(a), Some(b)) = (placed.get(*first), placed.get(*last))
        && !differs(a, b)
    {
        kept.pop();
    }
    while 4 < kept.len() {
        kept.remove(kept.len() / 2);
    }
    kept
}

pub(super) fn all_works(movement: &Movement) -> Vec<Worked> {
    let mut works: Vec<Worked> = movement.keys.iter().flat_map(|k| k.works.iter().copied()).collect();
    crate::sorting::sort(&mut works);
    works.dedup();
    works
}

pub(super) fn compose(body: &Body, movement: &Movement, look: &Look) -> Scene {
    let placed = view::place_keys(body, movement);
    let works = all_works(movement);
    let side = movement.side;
    let Some(first) = placed.first().cloned() else {
        return Scene {
            width: 40.0,
            height: 40.0,
            frames: Vec::new(),
            sight: Sight::Side(side),
            seen: 1.0,
            arrow_on_body: 0.0,
        };
    };
    let stance = Stance::of(&first);
    let asked = match look.from {
        Some(from) => Some(View { from, close_up: None, inset: None }),
        None => movement.keys.iter().rev().find_map(|k| k.view),
    };
    let sight = asked
        .and_then(|v| stance.asked(v.from, side))
        .unwrap_or_else(|| view::choose(movement, &placed, &works, &pushes(movement, &placed)));
    let maker = Maker { movement, look, stature: body.stature(), body, placed };
    let scale = UNITS / body.stature();
    let lens = Lens { camera: stance.camera(sight), scale };
    let level = lens.camera.towards.y.abs() < 0.12;
    let keys = frames_of(movement, &maker.placed);
    let all = Part::ALL.to_vec();
    let ask = |key: usize| Ask {
        key,
        ghost: None,
        shown: all.clone(),
        lens,
        level,
        arrow: true,
        label: true,
        things: true,
        works: &works,
    };
    let close = |spot: Option<Spot>, parts: &[Part], lens: Lens| {
        let shown = spot.map_or_else(|| neighbours(parts), |s| around(s, &first));
        let zoom = if shown.len() <= 4 { 2.4 } else { 1.7 };
        (shown, Lens { scale: lens.scale * zoom, ..lens })
    };
    let mut asks: Vec<Ask> = Vec::new();
    let close_up = asked.and_then(|v| v.close_up);
    match keys.as_slice() {
        [] => {}
        [one] => {
            let mut a = ask(*one);
            if let Some(spot) = close_up {
                (a.shown, a.lens) = close(Some(spot), &[], lens);
            }
            asks.push(a);
        }
        [start, end] => {
            let (moved, most) = maker.moved(*start, *end, lens);
            let mut a = ask(*end);
            let effort = maker.pressed(*end);
            let moved: Vec<Part> = moved.into_iter().chain(effort).collect();
            if close_up.is_some() || (look.from.is_none() && most < SMALL && moved.len() <= 6) {
                // Posture first, then the detail.
                asks.push(Ask { arrow: false, label: false, ..ask(*start) });
                (a.shown, a.lens) = close(close_up, &moved, lens);
                let ghost: Vec<Part> = moved.iter().copied().filter(|p| a.shown.contains(p)).collect();
                a.ghost = Some((*start, ghost));
                a.things = false;
            } else if maker.ghost_is_clear(*start, *end, &moved, lens) {
                a.ghost = Some((*start, moved));
            } else {
                asks.push(Ask { arrow: false, label: false, ..ask(*start) });
            }
            asks.push(a);
        }
        many => {
            for (i, k) in many.iter().enumerate() {
                let mut a = Ask { arrow: 0 < i, label: i + 1 == many.len(), ..ask(*k) };
                if let Some(spot) = close_up {
                    (a.shown, a.lens) = close(Some(spot), &[], lens);
                }
                asks.push(a);
            }
        }
    }
    if let (Some((spot, from)), Some(last)) = (asked.and_then(|v| v.inset), keys.last()) {
        let sight =
            stance.asked(from, side).unwrap_or(if from == ViewFrom::Auto { sight } else { Sight::Front });
        let camera = stance.camera(sight);
        let shown = around(spot, &first);
        let zoom = if shown.len() <= 4 { 1.8 } else { 1.1 };
        asks.push(Ask {
            shown,
            lens: Lens { camera, scale: scale * zoom },
            level: camera.towards.y.abs() < 0.12,
            arrow: false,
            label: false,
            things: false,
            ..ask(*last)
        });
    }
    let sequence = 2 < keys.len();
    let text = if asks.len() == 1 { TEXT } else { TEXT_BESIDE };
    let mut frames: Vec<Frame> = asks.iter().map(|a| maker.frame(a, &keys, text)).collect();
    // In a row, with the same ground where they have one.
    let boxes: Vec<[f64; 4]> = frames.iter().map(bounds).collect();
    let same = |i: usize| {
        asks.get(i)
            .zip(asks.first())
            .is_some_and(|(a, b)| a.lens.scale == b.lens.scale && a.lens.camera == b.lens.camera)
    };
    let low = boxes.iter().enumerate().filter(|(i, _)| same(*i)).map(|(_, b)| b[3]).fold(f64::MIN, f64::max);
    let high = boxes.iter().enumerate().filter(|(i, _)| same(*i)).map(|(_, b)| b[1]).fold(f64::MAX, f64::min);
    let tallest = boxes.iter().map(|b| b[3] - b[1]).fold(low - high, f64::max);
    let height = (tallest + 2.0 * MARGIN).max(120.0).ceil();
    let mut x = MARGIN;
    for (i, (f, b)) in frames.iter_mut().zip(&boxes).enumerate() {
        f.dx = x - b[0];
        f.dy = if same(i) { height - MARGIN - low } else { (height - (b[3] - b[1])) * 0.5 - b[1] };
        x += b[2] - b[0];
        if sequence && same(i) {
            // Its number, in the top left corner of its frame.
            let y = MARGIN + TEXT_BESIDE * 0.74 - f.dy;
            f.labels.push(Label {
                text: shown((i + 1) as f64, 0),
                x: b[0] + TEXT_BESIDE * 0.35,
                y,
                size: TEXT_BESIDE,
            });
        }
        x += 26.0;
    }
    let width = (x - 26.0 + MARGIN).max(120.0).ceil();
    let seen = keys
        .last()
        .and_then(|k| maker.placed.get(*k))
        .map_or(1.0, |p| 1.0 - view::hidden(p, lens, &works, side));
    let arrow_on_body = frames.iter().map(|f| f.arrow_on_body).fold(0.0, f64::max);
    Scene { width, height, frames, sight, seen, arrow_on_body }
}

/// Instants of a movement that are shown at most; enough to see it pass.
const MOST_INSTANTS: usize = 24;

/// The way through the movement, instant by instant, as scenes of one size. Empty where the figure is a close-up:
/// there the whole body hardly moves.
pub(super) fn moving(body: &Body, movement: &Movement, look: &Look) -> Vec<Scene> {
    let whole = compose(body, movement, look);
    let placed = view::place_keys(body, movement);
    let (Some(first), Some(last)) = (placed.first(), placed.len().checked_sub(1)) else { return Vec::new() };
    let lens = Lens { camera: Stance::of(first).camera(whole.sight), scale: UNITS / body.stature() };
    let maker = Maker { movement, look, stature: body.stature(), body, placed: placed.clone() };
    let close_up = movement.keys.iter().any(|k| k.view.is_some_and(|v| v.close_up.is_some()));
    let most = (1..=last).map(|k| maker.moved(k - 1, k, lens).1).fold(0.0, f64::max);
    if close_up || most < SMALL {
        return Vec::new();
    }
    let ways = movement.ways.iter().zip(movement.keys.iter().skip(1));
    let instants = ways.flat_map(|(way, key)| {
        way.iter().map(|state| Key { state: state.clone(), efforts: Vec::new(), ..key.clone() })
    });
    let mut keys: Vec<Key> = instants.collect();
    let step = keys.len().div_ceil(MOST_INSTANTS).max(1);
    let end = keys.len().saturating_sub(1);
    let mut at = 0..;
    keys.retain(|_| at.next().is_some_and(|i: usize| i.is_multiple_of(step) || i == end));
    let movement = Movement { keys, ways: Vec::new(), ..movement.clone() };
    let placed = view::place_keys(body, &movement);
    let works = all_works(&movement);
    let maker = Maker { movement: &movement, placed, ..maker };
    let level = lens.camera.towards.y.abs() < 0.12;
    let frames = (0..movement.keys.len()).map(|key| {
        let shown = Part::ALL.to_vec();
        let works = works.as_slice();
        let (ghost, arrow, label, things) = (None, false, false, true);
        maker.frame(&Ask { key, ghost, shown, lens, level, arrow, label, things, works }, &[], TEXT)
    });
    let frames: Vec<Frame> = frames.collect();
    let all = frames.iter().map(bounds).fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, o| {
        [b[0].min(o[0]), b[1].min(o[1]), b[2].max(o[2]), b[3].max(o[3])]
    });
    let alone = |frame: Frame| Scene {
        width: (all[2] - all[0] + 2.0 * MARGIN).max(120.0).ceil(),
        height: (all[3] - all[1] + 2.0 * MARGIN).max(120.0).ceil(),
        frames: vec![Frame { dx: MARGIN - all[0], dy: MARGIN - all[1], ..frame }],
        ..whole.clone()
    };
    frames.into_iter().map(alone).collect()
}

/// Each frame as a scene of its own.
pub(super) fn apart(scene: &Scene) -> Vec<Scene> {
    let alone = |frame: &Frame| {
        let b = bounds(frame);
        let frame = Frame { dx: MARGIN - b[0], dy: MARGIN - b[1], ..frame.clone() };
        Scene {
            width: (b[2] - b[0] + 2.0 * MARGIN).max(120.0).ceil(),
            height: (b[3] - b[1] + 2.0 * MARGIN).max(120.0).ceil(),
            frames: vec![frame],
            ..scene.clone()
        }
    };
    scene.frames.iter().map(alone).collect()
}

fn bounds(frame: &Frame) -> [f64; 4] {
    let mut b = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
    for g in frame.strokes.iter().flat_map(|s| &s.geos) {
        let o = g.bounds();
        b = [b[0].min(o[0]), b[1].min(o[1]), b[2].max(o[2]), b[3].max(o[3])];
    }
    for l in &frame.labels {
        let w = marks::text_width(&l.text, l.size) * 0.5;
        b = [
            b[0].min(l.x - w),
            b[1].min(l.y - l.size * 0.8),
            b[2].max(l.x + w),
            b[3].max(l.y + l.size * 0.2),
        ];
    }
    if b[0] < b[2] { b } else { [0.0, 0.0, 1.0, 1.0] }
}

/// The directions of all pushes without movement.
fn pushes(movement: &Movement, placed: &[Placed]) -> Vec<Vec3> {
    let mut out = Vec::new();
    for (key, placed) in movement.keys.iter().zip(placed) {
        for e in &key.efforts {
            if let Effort::Push { part, into } = e {
                out.push(push_way(movement, placed, *part, *into));
            }
        }
    }
    out
}

/// Which way a part pushes into a surface.
fn push_way(movement: &Movement, placed: &Placed, part: Spot, into: Surface) -> Vec3 {
    let ((at, _), _) = things::spot(placed, part);
    let way = match into {
        Surface::Floor => -Vec3::Y,
        Surface::Body(other) => things::spot(placed, other).0.0 - at,
        Surface::Tread(_) => -Vec3::Y,
        Surface::Prop(kind) | Surface::Edge(kind) => movement
            .things
            .iter()
            .find(|t| t.kind == kind)
            .map_or(-Vec3::Y, |t| towards_thing(at, &t.shape, placed)),
    };
    way.unit_or(-Vec3::Y)
}

/// What stands in a close-up of a place.
fn around(spot: Spot, placed: &Placed) -> Vec<Part> {
    let (_, segment) = things::spot(placed, spot);
    let part = Part::of(segment);
    match part {
        Part::Head | Part::Neck => neighbours(&[Part::Head, Part::Neck]),
        // The pelvis shows its tilt and roll by the thighs.
        Part::LowTrunk => {
            Part::ALL.into_iter().filter(|p| matches!(p.limb(), Limb::Trunk | Limb::Leg(_))).collect()
        }
        _ => neighbours(&[part]),
    }
}

/// These pieces and those next to them.
fn neighbours(parts: &[Part]) -> Vec<Part> {
    let mut out: Vec<Part> = Part::ALL
        .into_iter()
        .filter(|p| {
            parts.contains(p)
                || p.parent().is_some_and(|q| parts.contains(&q))
                || parts.iter().any(|q| q.parent() == Some(*p))
        })
        .collect();
    // A hand or foot without what carries it floats.
    for s in Side::BOTH {
        for (end, middle) in [(Part::Hand(s), Part::Forearm(s)), (Part::Foot(s), Part::Shank(s))] {
            if out.contains(&end) && !out.contains(&middle) {
                out.push(middle);
            }
        }
    }
    if out.iter().any(|p| p.limb() == Limb::Head) && !out.contains(&Part::HighTrunk) {
        out.push(Part::HighTrunk);
    }
    if out.contains(&Part::HighTrunk) {
        out.extend(Side::BOTH.map(Part::UpperArm).into_iter().filter(|p| !parts.contains(p)));
        crate::sorting::sort(&mut out);
        out.dedup();
    }
    out
}

impl Maker<'_> {
    fn key(&self, i: usize) -> Option<(&Key, &Placed)> {
        Some((self.movement.keys.get(i)?, self.placed.get(i)?))
    }

    /// Which pieces moved on the page between two keys, and how far the farthest point went.
    fn moved(&self, from: usize, to: usize, lens: Lens) -> (Vec<Part>, f64) {
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

    fn discs(&self, key: usize, parts: &[Part], lens: Lens) -> Vec<Disc> {
        let Some(placed) = self.placed.get(key) else { return Vec::new() };
        let shape = Shape { placed, grips: [false; 2] };
        parts.iter().flat_map(|p| lens.discs(&shape.samples(*p))).collect()
    }

    /// Whether the start can be a ghost behind the end: mainly limbs moved, and most of it can be seen.
    fn ghost_is_clear(&self, start: usize, end: usize, moved: &[Part], lens: Lens) -> bool {
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

    fn grips(&self, key: &Key) -> [bool; 2] {
        let mut grips = [false; 2];
        for t in &key.touches {
            if let (true, Some(s)) = (t.holds, t.part.side)
                && let Some(g) = grips.get_mut(usize::from(s == Side::Left))
            {
                *g = true;
            }
        }
        for thing in &key.things {
            let held: Vec<Side> = match &thing.shape {
                Form::In { hands, .. } => hands.clone(),
                Form::Line { to, .. } if hand_region(to.region) => to.side.into_iter().collect(),
                _ => Vec::new(),
            };
            for s in held {
                if let Some(g) = grips.get_mut(usize::from(s == Side::Left)) {
                    *g = true;
                }
            }
        }
        grips
    }

    fn frame(&self, ask: &Ask, keys: &[usize], size: f64) -> Frame {
        let mut frame = Frame::default();
        let Some((key, placed)) = self.key(ask.key) else { return frame };
        let lens = ask.lens;
        let shape = Shape { placed, grips: self.grips(key) };
        let extras = if ask.things {
            key.things.iter().flat_map(|t| things::carried(t, placed, lens)).collect()
        } else {
            Vec::new()
        };
        let inside = |p: Part| ask.shown.contains(&p);
        let painted = Painted { shape, lens, works: ask.works, extras, shown: &inside };
        let mut body = super::paint::without_hidden(painted.strokes());
        let own: Vec<Disc> = self.discs(ask.key, &ask.shown, lens);
        let mut ghost_discs = Vec::new();
        let mut ghost = None;
        if let Some((k, parts)) = &ask.ghost
            && let Some((key, placed)) = self.key(*k)
        {
            let only = |p: Part| parts.contains(&p);
            let shape = Shape { placed, grips: self.grips(key) };
            let painted = Painted { shape, lens, works: &[], extras: Vec::new(), shown: &only };
            ghost = super::paint::without_hidden(vec![painted.silhouette()]).pop();
            ghost_discs = self.discs(*k, parts, lens);
        }
        // Standing things and the floor, then the ghost, then the body.
        let mut reach = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
        for g in body.iter().chain(&ghost).flat_map(|s| &s.geos) {
            let o = g.bounds();
            reach = [reach[0].min(o[0]), reach[1].min(o[1]), reach[2].max(o[2]), reach[3].max(o[3])];
        }
        if ask.things {
            let top = self.placed.iter().map(highest).fold(0.0, f64::max) + 0.12;
            let mut back = Vec::new();
            for t in &key.things {
                back.extend(things::standing(t, lens, (0.0, top)));
            }
            for g in back.iter().flat_map(|s| &s.geos) {
                let o = g.bounds();
                reach = [reach[0].min(o[0]), reach[1].min(o[1]), reach[2].max(o[2]), reach[3].max(o[3])];
            }
            frame.strokes.extend(self.ground(ask, reach));
            frame.strokes.append(&mut super::paint::without_hidden(back));
        }
        frame.strokes.extend(ghost);
        frame.strokes.append(&mut body);
        let mut taken = own.clone();
        if ask.label {
            for e in &key.efforts {
                let mut strokes = self.effort(e, placed, lens, ask);
                for g in strokes.iter().flat_map(|s| &s.geos) {
                    let o = g.bounds();
                    taken.push(Disc {
                        x: (o[0] + o[2]) * 0.5,
                        y: (o[1] + o[3]) * 0.5,
                        r: (o[2] - o[0]).max(o[3] - o[1]) * 0.5,
                    });
                }
                frame.strokes.append(&mut strokes);
            }
        }
        // Arcs of limits, so that arrow and labels keep clear of them.
        let mut limits: Vec<(String, Point)> = Vec::new();
        for (angle, limit) in self.movement.held.iter().filter(|_| ask.label) {
            let Some((mut strokes, at)) = self.limit(*angle, placed, lens) else { continue };
            for g in strokes.iter().flat_map(|s| &s.geos) {
                if let Geo::Curve(points) | Geo::Line(points) = g {
                    let line = marks::resampled(points, 8, 0.0, 1.0);
                    taken.extend(line.iter().map(|(x, y)| Disc { x: *x, y: *y, r: 6.0 }));
                }
            }
            frame.strokes.append(&mut strokes);
            let words = match self.look.reader {
                Reader::Clinician => format!("{}°", shown(*limit, 0)),
                Reader::Patient => "stop".to_string(),
            };
            limits.push((words, at));
        }
        if ask.arrow {
            let before = keys
                .iter()
                .position(|k| *k == ask.key)
                .and_then(|i| i.checked_sub(1))
                .and_then(|i| keys.get(i));
            if let Some(arrow) = before.and_then(|b| self.arrow(*b, ask, &taken, &ghost_discs)) {
                taken.extend(arrow.points.iter().map(|(x, y)| Disc { x: *x, y: *y, r: 9.0 }));
                frame.arrow_on_body = arrow.blocked;
                if 1.0 < arrow.blocked {
                    // Over the body it needs a light line round it.
                    frame.strokes.push(marks::halo(&arrow));
                }
                frame.strokes.append(&mut marks::drawn_arrow(&arrow, self.look.back_and_forth));
            }
        }
        if ask.label {
            let text = |anchor: Point, reach_: f64, text: &str, taken: &mut Vec<Disc>, frame: &mut Frame| {
                let (x, y) = marks::place_text(anchor, reach_, widest(text), size, taken, reach);
                let half = marks::text_width(text, size) * 0.5;
                for k in [-0.7, 0.0, 0.7] {
                    taken.push(Disc { x: x + k * half, y: y - 10.0, r: 12.0 });
                }
                frame.labels.push(Label { text: text.to_string(), x, y, size });
            };
            for (words, at) in limits {
                text(at, 0.0, &words, &mut taken, &mut frame);
            }
            if let Some((side, part)) = self.one_sided()
                && ask.shown.contains(&part)
            {
                let s = part.segment();
                let mid = lens.point(placed.joint(s).lerp(placed.far_end(s), 0.6));
                let word = if side == Side::Right { "RIGHT" } else { "LEFT" };
                taken.extend(ghost_discs.iter().copied());
                text((mid.0, mid.1), 14.0, word, &mut taken, &mut frame);
            }
        }
        frame
    }

    /// The floor: a line in level views, a plane seen from above.
    fn ground(&self, ask: &Ask, reach: [f64; 4]) -> Vec<Stroke> {
        let Some(placed) = self.placed.get(ask.key) else { return Vec::new() };
        if ask.level {
            let y = ask.lens.point(Vec3::ZERO).1;
            // A body that is nowhere near the floor is on a bed or table; a close-up may end above it.
            if reach[3] + 12.0 < y || ask.shown.len() < Part::ALL.len() {
                return Vec::new();
            }
            return vec![Stroke {
                tone: Tone::GroundLine,
                geos: vec![Geo::Line(vec![(reach[0] - 8.0, y + 1.0), (reach[2] + 8.0, y + 1.0)])],
            }];
        }
        if ask.shown.len() < Part::ALL.len() {
            return Vec::new();
        }
        let shape = Shape { placed, grips: [false; 2] };
        let mut low = v3(f64::MAX, 0.0, f64::MAX);
        let mut high = v3(f64::MIN, 0.0, f64::MIN);
        for (c, r) in Part::ALL.iter().flat_map(|p| shape.samples(*p)) {
            if c.y < 0.35 * self.stature {
                low = v3(low.x.min(c.x - r), 0.0, low.z.min(c.z - r));
                high = v3(high.x.max(c.x + r), 0.0, high.z.max(c.z + r));
            }
        }
        if high.x < low.x {
            return Vec::new();
        }
        let m = 0.07;
        let corners = [
            (low.x - m, low.z - m),
            (low.x - m, high.z + m),
            (high.x + m, low.z - m),
            (high.x + m, high.z + m),
        ];
        let discs = corners
            .map(|(x, z)| {
                let (x, y, _) = ask.lens.point(v3(x, 0.0, z));
                Disc { x, y, r: 10.0 }
            })
            .to_vec();
        vec![Stroke { tone: Tone::Ground, geos: vec![Geo::Hull(discs)] }]
    }

    /// The arrow from key `from` to the frame's key, along the way of the point that moves most.
    fn arrow(&self, from: usize, ask: &Ask, body: &[Disc], ghost: &[Disc]) -> Option<marks::Arrow> {
        let states: Vec<&State> = if from + 1 == ask.key {
            self.movement.ways.get(from).map(|w| w.iter().collect()).unwrap_or_default()
        } else {
            Vec::new()
        };
        let placed: Vec<Placed> = if states.len() < 2 {
            [from, ask.key].iter().filter_map(|k| self.placed.get(*k).cloned()).collect()
        } else {
            states.iter().map(|s| self.body.place(s)).collect()
        };
        let here = self.placed.get(ask.key)?;
        let slides: Vec<Part> = self
            .movement
            .keys
            .get(ask.key)
            .map(|k| k.touches.iter().filter(|t| t.slides))
            .into_iter()
            .flatten()
            .map(|t| Part::of(things::spot(here, t.part).1))
            .collect();
        let mut best: Option<(f64, Vec<Point>)> = None;
        for part in ask.shown.iter().copied() {
            let count = points(placed.first()?, part, ask.works).len();
            for i in 0..count {
                let way: Vec<Point> = placed
                    .iter()
                    .filter_map(|p| {
                        let at = *points(p, part, ask.works).get(i)?;
                        let (x, y, _) = ask.lens.point(at);
                        Some((x, y))
                    })
                    .collect();
                let own = ask.works.iter().any(|w| works_limb(w, part));
                // What slides along a surface is what the patient moves.
                let slides = slides.contains(&part);
                // Going about in a circle counts by its length, a tremble does not.
                let length = marks::run(&way)
                    * if slides {
                        8.0
                    } else if own {
                        2.5
                    } else {
                        1.0
                    }
                    * if i == 0 { 1.1 } else { 1.0 };
                if best.as_ref().is_none_or(|(l, _)| *l + 1e-6 < length) {
                    best = Some((length, way));
                }
            }
        }
        let (_, way) = best?;
        marks::arrow(&way, body, ghost)
    }

    /// Pieces that make an effort in a key pose.
    fn pressed(&self, key: usize) -> Vec<Part> {
        let Some((key, placed)) = self.key(key) else { return Vec::new() };
        let part = |e: &Effort| match e {
            Effort::Squeeze(w) => Some(Part::of(w.segment)),
            Effort::Push { part, .. } => Some(Part::of(things::spot(placed, *part).1)),
            Effort::BreatheOut | Effort::StayStill(_) => None,
        };
        key.efforts.iter().filter_map(part).collect()
    }

    /// The side and piece to be labelled, where the two sides don't do the same.
    fn one_sided(&self) -> Option<(Side, Part)> {
        let side = self.movement.side;
        let (first, last) = (self.placed.first()?, self.placed.last()?);
        let way = |p: Part| -> f64 {
            view::tracked(first, p)
                .iter()
                .zip(view::tracked(last, p))
                .map(|(a, b)| (*a - b).norm())
                .fold(0.0, f64::max)
        };
        let works = all_works(self.movement);
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
        best.map(|(_, p)| (side, p))
    }

    /// The marks of an effort that shows no movement.
    fn effort(&self, effort: &Effort, placed: &Placed, lens: Lens, ask: &Ask) -> Vec<Stroke> {
        let flat = |p: Vec3| {
            let (x, y, _) = lens.point(p);
            (x, y)
        };
        match effort {
            Effort::Squeeze(w) => {
                let part = Part::of(w.segment);
                if !ask.shown.contains(&part) {
                    return Vec::new();
                }
                let shape = Shape { placed, grips: [false; 2] };
                let area = shape.patch(w).unwrap_or_else(|| shape.samples(part));
                let discs = lens.discs(&area);
                let n = discs.len().max(1) as f64;
                let c =
                    (discs.iter().map(|d| d.x).sum::<f64>() / n, discs.iter().map(|d| d.y).sum::<f64>() / n);
                let (a, b) = (flat(placed.joint(w.segment)), flat(placed.far_end(w.segment)));
                let along = (b.1 - a.1, a.0 - b.0);
                let l = math::hypot(along.0, along.1);
                let t = if l < 1.0 { (1.0, 0.0) } else { (along.0 / l, along.1 / l) };
                let half = discs
                    .iter()
                    .map(|d| ((d.x - c.0) * t.0 + (d.y - c.1) * t.1).abs() + d.r)
                    .fold(0.0, f64::max);
                vec![marks::squeeze(c, half, t)]
            }
            Effort::Push { part, into } => {
                let ((at, r), segment) = things::spot(placed, *part);
                if !ask.shown.contains(&Part::of(segment)) {
                    return Vec::new();
                }
                let w = push_way(self.movement, placed, *part, *into);
                let (a, b) = (flat(at), flat(at + w * r));
                let mut t = (b.0 - a.0, b.1 - a.1);
                if math::hypot(t.0, t.1) < 2.0 {
                    t = (0.0, 1.0);
                }
                marks::push(b, t)
            }
            Effort::BreatheOut => {
                if !ask.shown.contains(&Part::Head) {
                    return Vec::new();
                }
                let turn = placed.turn(Segment::Head);
                let mouth = placed.joint(Segment::Head)
                    + turn.x * (0.055 * self.stature)
                    + turn.y * (-0.008 * self.stature);
                let (a, b) = (flat(mouth), flat(mouth + turn.x * 0.05));
                let mut t = (b.0 - a.0, b.1 - a.1);
                if math::hypot(t.0, t.1) < 2.0 {
                    t = (0.7, 0.7);
                }
                vec![marks::breath(a, t)]
            }
            Effort::StayStill(bit) => {
                use crate::pose::ask::Bit;
                let at = match bit {
                    Bit::Segment(s) => placed.joint(*s).lerp(placed.far_end(*s), 0.5),
                    Bit::Trunk => placed.joint(Segment::Pelvis).lerp(placed.joint(Segment::Neck), 0.5),
                    Bit::Leg(s) => placed.joint(Segment::Shank(*s)),
                    Bit::Arm(s) => placed.joint(Segment::Forearm(*s)),
                    Bit::PelvisAcross => placed.joint(Segment::Pelvis),
                    Bit::ShouldersAcross => placed.joint(Segment::Neck),
                };
                marks::lock(flat(at))
            }
        }
    }

    /// The arc of a limited angle, where its plane is seen.
    fn limit(&self, angle: Angle, placed: &Placed, lens: Lens) -> Option<(Vec<Stroke>, Point)> {
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

fn highest(placed: &Placed) -> f64 {
    placed
        .far_end(Segment::Head)
        .y
        .max(placed.far_end(Segment::Hand(Side::Right)).y)
        .max(placed.far_end(Segment::Hand(Side::Left)).y)
}

fn hand_region(r: Region) -> bool {
    matches!(r, Region::Palm | Region::Fist | Region::Fingertips | Region::BackOfHand)
}

/// Points of a piece that an arrow may follow; the near end too where the piece works.
fn points(placed: &Placed, part: Part, works: &[Worked]) -> Vec<Vec3> {
    let mut out = view::tracked(placed, part);
    if works.iter().any(|w| Part::of(w.segment) == part) && part.side().is_some() {
        out.push(placed.joint(part.segment()));
    }
    out
}

/// Whether a piece belongs to the limb of a working segment, that segment or beyond it; the muscles of one
/// half of the pelvis or chest move that side's limb.
fn works_limb(worked: &Worked, part: Part) -> bool {
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

/// From a point on the body towards a standing thing.
fn towards_thing(at: Vec3, shape: &Form, placed: &Placed) -> Vec3 {
    match shape {
        Form::Wall { faces, .. } => -*faces,
        Form::Block { low, high } | Form::Chair { low, high, .. } => {
            if high.y - 0.03 < at.y {
                -Vec3::Y
            } else {
                low.lerp(*high, 0.5) - at
            }
        }
        Form::Ball { centre, .. } => *centre - at,
        Form::Bar { from, to } | Form::Roller { from, to, .. } => from.lerp(*to, 0.5) - at,
        Form::Under { .. } => -Vec3::Y,
        // A loop is pushed outwards.
        Form::Round { spots } if 1 < spots.len() => {
            let middle = spots.iter().fold(Vec3::ZERO, |sum, s| sum + things::spot(placed, *s).0.0);
            at - middle * (1.0 / spots.len() as f64)
        }
        Form::Between { spots: [a, b], .. } => {
            let (p, q) = (things::spot(placed, *a).0.0, things::spot(placed, *b).0.0);
            p.lerp(q, 0.5) - at
        }
        _ => -Vec3::Y,
    }
}

/// Both side words take the same room, so that the left's drawing is the mirror of the right's.
fn widest(text: &str) -> &str {
    if text == "LEFT" { "RIGHT" } else { text }
}

/// Two sides that differ by less do the same, radians (23°).
const EVEN: f64 = 0.4;
