//! Which frames are drawn, from where, and what stands in them.

mod closeup;
mod effort;
mod frame;
mod label;
mod layout;
mod way;

use effort::effort_part;
pub(super) use layout::apart;
use layout::{arranged, bounds};

use crate::body::names::{Angle, Joint, Motion, Region, Segment, Side};
use crate::body::{Body, Placed, State};
use crate::figure::marks::{self, Point};
use crate::figure::outline::Disc;
use crate::figure::paint::{Geo, Lens, Painted, Stroke, Tone};
use crate::figure::shape::{Limb, Part, Shape};
use crate::figure::view::{self, Sight, Stance};
use crate::figure::{Look, Reader, things};
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
    /// How deep marks, arrows and words run into the head.
    pub on_head: f64,
    /// A detail: nothing outside this box is shown, and it has an edge.
    pub crop: Option<[f64; 4]>,
    /// Page units a metre, and whether the floor is seen as a line: frames alike share one ground.
    ground: Option<(f64, bool)>,
}

#[derive(Clone, Debug)]
pub(super) struct Scene {
    pub width: f64,
    pub height: f64,
    pub frames: Vec<Frame>,
    pub sight: Sight,
    pub seen: f64,
    pub arrow_on_body: f64,
    pub on_head: f64,
}

/// Page units a stature.
pub(super) const UNITS: f64 = 400.0;
const MARGIN: f64 = 12.0;
/// Height of letters' boxes in one frame, and in frames side by side, which are printed smaller.
const TEXT: f64 = 26.0;
const TEXT_BESIDE: f64 = 30.0;
/// What moves less than this on the page is a small movement, and is shown close up.
const SMALL: f64 = 26.0;

/// How long the longest side of a close-up and of an inset is, page units.
const CLOSE_UP: f64 = 260.0;
const INSET: f64 = 180.0;

/// What one frame shows.
#[derive(Clone)]
pub(super) struct Ask {
    pub key: usize,
    /// The key whose outline is the ghost, and what of it moved.
    ghost: Option<(usize, Vec<Part>)>,
    /// The pieces it is about.
    shown: Vec<Part>,
    /// The box of a detail, page units.
    pub crop: Option<[f64; 4]>,
    pub lens: Lens,
    /// The key whose efforts are drawn too where they aren't of these pieces: a detail next to it can't show them.
    also: Option<(usize, Vec<Part>)>,
    /// The arrow from the key before is drawn.
    arrow: bool,
    pub label: bool,
}

impl Ask {
    /// Whether the floor is seen as a line.
    pub fn level(&self) -> bool {
        self.lens.camera.towards.y.abs() < 0.12
    }
}

pub(super) struct Maker<'a> {
    /// The limbs that are drawn lighter, in all frames that are seen from one place: those on the far side of the start.
    far: Vec<Limb>,
    seen_from: Vec3,
    works: Vec<Worked>,
    movement: &'a Movement,
    look: &'a Look,
    placed: Vec<Placed>,
    stature: f64,
    body: &'a Body,
}

/// Who comes so near to the start is back there, fraction of stature.
const HOME: f64 = 0.02;

/// Key poses worth a frame: neighbours that look the same are one, at most four in all.
pub(super) fn frames_of(movement: &Movement, placed: &[Placed]) -> Vec<usize> {
    let differs = |a: &Placed, b: &Placed, by: f64| {
        Part::ALL.iter().any(|p| {
            view::tracked(a, *p)
                .iter()
                .zip(view::tracked(b, *p))
                .any(|(x, y)| by * a.stature() < (*x - y).norm())
        })
    };
    let mut kept: Vec<usize> = Vec::new();
    for (i, p) in placed.iter().enumerate() {
        let new = kept.last().and_then(|k| placed.get(*k)).is_none_or(|last| {
            let efforts = |i: usize| movement.keys.get(i).map_or(0, |k| k.efforts.len());
            differs(last, p, 0.004) || efforts(i) != kept.last().map_or(0, |k| efforts(*k))
        });
        if new {
            kept.push(i);
        }
    }
    // Back to the start adds no picture.
    if let [first, .., last] = kept.as_slice()
        && 2 < kept.len()
        && let (Some(a), Some(b)) = (placed.get(*first), placed.get(*last))
        && !differs(a, b, HOME)
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

/// Which frames are drawn, and from where.
pub(super) struct Plan<'a> {
    pub maker: Maker<'a>,
    pub asks: Vec<Ask>,
    /// The key poses that get a frame.
    pub keys: Vec<usize>,
    pub sight: Sight,
    pub lens: Lens,
}

/// Plans the frames; `None` where there is nothing to draw.
pub(super) fn plan<'a>(body: &'a Body, movement: &'a Movement, look: &'a Look) -> Option<Plan<'a>> {
    let placed = view::place_keys(body, movement);
    let works = all_works(movement);
    let side = movement.side;
    let first = placed.first().cloned()?;
    let stance = Stance::of(&first);
    let asked = asked(movement, look);
    let sight = asked
        .and_then(|v| stance.asked(v.from, side))
        .unwrap_or_else(|| view::choose(movement, &placed, &works, &effort::pushes(movement, &placed)));
    let scale = UNITS / body.stature();
    let lens = Lens { camera: stance.camera(sight), scale };
    let sided = matches!(sight, Sight::Side(_) | Sight::FrontQuarter(_) | Sight::BackQuarter(_));
    let limbs = Side::BOTH.into_iter().flat_map(|s| [Limb::Arm(s), Limb::Leg(s)]);
    let start = Painted::bare(Shape { placed: &first, grips: [false; 2] }, lens, &|_| true);
    let far = limbs.filter(|l| sided && start.is_far(*l)).collect();
    let seen_from = lens.camera.towards;
    let maker = Maker { far, seen_from, works, movement, look, stature: body.stature(), body, placed };
    let keys = frames_of(movement, &maker.placed);
    let plain = |key: usize| Ask {
        key,
        ghost: None,
        shown: Part::ALL.to_vec(),
        crop: None,
        lens,
        also: None,
        arrow: true,
        label: true,
    };
    let mut asks: Vec<Ask> = Vec::new();
    // A close-up may have a view of its own.
    let near = |lens: Lens, from: ViewFrom| match stance.asked(from, side) {
        Some(sight) => Lens { camera: stance.camera(sight), ..lens },
        None => lens,
    };
    let close_up = asked.and_then(|v| v.close_up);
    let nearer = |ask: Ask, (spot, from): (Spot, ViewFrom)| {
        maker.close_up(Ask { lens: near(lens, from), ..ask }, closeup::around(spot, &first), CLOSE_UP)
    };
    match keys.as_slice() {
        [] => {}
        [one] => match close_up {
            Some(close_up) => {
                asks.push(Ask { arrow: false, label: false, ..plain(*one) });
                asks.push(nearer(plain(*one), close_up));
            }
            None => asks.push(plain(*one)),
        },
        [start, end] => {
            let (moved, most) = maker.moved(*start, *end, lens);
            let effort = maker.pressed(*end);
            let moved: Vec<Part> = moved.into_iter().chain(effort).collect();
            let small = look.from.is_none() && most < SMALL && moved.len() <= 6;
            if close_up.is_some() || small {
                // Posture first, then the detail.
                let focus =
                    close_up.map_or_else(|| closeup::neighbours(&moved), |(s, _)| closeup::around(s, &first));
                let also = Some((*end, focus));
                asks.push(Ask { also, arrow: false, label: false, ..plain(*start) });
                let detail = |parts: Vec<Part>| Ask { ghost: Some((*start, parts)), ..plain(*end) };
                asks.push(match close_up {
                    Some((spot, from)) => {
                        let (there, _) = maker.moved(*start, *end, near(lens, from));
                        let focus = closeup::around(spot, &first);
                        nearer(
                            detail(there.into_iter().filter(|p| focus.contains(p)).collect()),
                            (spot, from),
                        )
                    }
                    None => maker.close_up(detail(moved.clone()), closeup::neighbours(&moved), CLOSE_UP),
                });
            } else if maker.ghost_is_clear(*start, *end, &moved, lens) {
                asks.push(Ask { ghost: Some((*start, moved)), ..plain(*end) });
            } else {
                asks.push(Ask { arrow: false, label: false, ..plain(*start) });
                asks.push(plain(*end));
            }
        }
        many => {
            for (i, k) in many.iter().enumerate() {
                let a = Ask { arrow: 0 < i, label: i + 1 == many.len(), ..plain(*k) };
                asks.push(match close_up {
                    Some(close_up) if 0 < i => nearer(a, close_up),
                    _ => a,
                });
            }
        }
    }
    if let (Some((spot, from)), Some(last)) = (asked.and_then(|v| v.inset), keys.last()) {
        let before = keys.len().checked_sub(2).and_then(|i| keys.get(i));
        let whole = lens;
        let lens = near(lens, from);
        let near = closeup::around(spot, &first);
        // What moved there, as far as it does not fill the detail.
        let moved = before.map(|k| (*k, maker.moved(*k, *last, lens).0));
        let ghost =
            moved.map(|(k, parts)| (k, parts.into_iter().filter(|p| near.contains(p)).collect::<Vec<_>>()));
        // Seen well enough already, it would be said twice.
        let hardly = before.is_some_and(|k| maker.moved(*k, *last, whole).1 < 2.0 * SMALL);
        let ghost = ghost.filter(|(_, parts)| hardly && !parts.is_empty() && parts.len() <= 3);
        let ask = Ask { lens, arrow: ghost.is_some(), label: false, ghost, ..plain(*last) };
        asks.push(maker.close_up(ask, near, INSET));
    }
    Some(Plan { maker, asks, keys, sight, lens })
}

pub(super) fn compose(body: &Body, movement: &Movement, look: &Look) -> Scene {
    let Some(plan) = plan(body, movement, look) else {
        let sight = Sight::Side(movement.side);
        return Scene {
            width: 40.0,
            height: 40.0,
            frames: Vec::new(),
            sight,
            seen: 1.0,
            arrow_on_body: 0.0,
            on_head: 0.0,
        };
    };
    let Plan { maker, asks, keys, sight, lens } = plan;
    let text = if asks.len() == 1 { TEXT } else { TEXT_BESIDE };
    let mut frames: Vec<Frame> = asks.iter().map(|a| maker.frame(a, &keys, text)).collect();
    let (width, height) = arranged(&mut frames, 2 < keys.len());
    let seen = keys
        .last()
        .and_then(|k| maker.placed.get(*k))
        .map_or(1.0, |p| 1.0 - view::hidden(p, lens, &maker.works, movement.side));
    let arrow_on_body = frames.iter().map(|f| f.arrow_on_body).fold(0.0, f64::max);
    let on_head = frames.iter().map(|f| f.on_head).fold(0.0, f64::max);
    Scene { width, height, frames, sight, seen, arrow_on_body, on_head }
}

/// The view that the poses, or whoever looks, ask for.
fn asked(movement: &Movement, look: &Look) -> Option<View> {
    match look.from {
        Some(from) => Some(View { from, close_up: None, inset: None }),
        None => movement.keys.iter().rev().find_map(|k| k.view),
    }
}

/// Instants of a movement that are shown at most; enough to see it pass.
const MOST_INSTANTS: usize = 24;

/// The way through the movement, instant by instant, as scenes of one size. Empty where the figure is a close-up:
/// there the whole body hardly moves.
pub(super) fn moving(body: &Body, movement: &Movement, look: &Look) -> Vec<Scene> {
    let Some(Plan { maker, sight, lens, .. }) = plan(body, movement, look) else { return Vec::new() };
    let last = maker.placed.len().saturating_sub(1);
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
    let maker = Maker { movement: &movement, placed, ..maker };
    let frames = (0..movement.keys.len()).map(|key| {
        let shown = Part::ALL.to_vec();
        let ask = Ask { key, ghost: None, shown, crop: None, lens, also: None, arrow: false, label: false };
        maker.frame(&ask, &[], TEXT)
    });
    let frames: Vec<Frame> = frames.collect();
    let all = frames.iter().map(bounds).fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, o| {
        [b[0].min(o[0]), b[1].min(o[1]), b[2].max(o[2]), b[3].max(o[3])]
    });
    let alone = |frame: Frame| Scene {
        width: (all[2] - all[0] + 2.0 * MARGIN).max(120.0).ceil(),
        height: (all[3] - all[1] + 2.0 * MARGIN).max(120.0).ceil(),
        frames: vec![Frame { dx: MARGIN - all[0], dy: MARGIN - all[1], ..frame }],
        sight,
        seen: 1.0,
        arrow_on_body: 0.0,
        on_head: 0.0,
    };
    frames.into_iter().map(alone).collect()
}
