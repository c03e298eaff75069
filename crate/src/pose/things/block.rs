//! Blocks in the room: tables, steps, benches, stairs, and the posts of a doorway.

use super::{Scene, corners};
use crate::body::Skin;
use crate::body::names::{Region, Segment};
use crate::pose::ask::{Ask, Direction, PropKind, Spot, Surface};
use crate::pose::movement::{Shape, Touch};
use crate::pose::room::{RUN, on_the_ground, plan};
use crate::pose::settle::end_of;
use crate::space::{Vec3, v3};

impl Scene<'_> {
    /// The two posts of a doorway: one where an arm is, the other across the opening.
    pub(super) fn posts(&self) -> Vec<Shape> {
        let Some((at, faces)) = self.room.wall(self.base) else { return Vec::new() };
        let across = faces.cross(Vec3::Y);
        let off = |t: &&Touch| (t.at - at).dot(across);
        let on = self.touches_of(PropKind::Doorway);
        let least = on.iter().map(off).fold(f64::INFINITY, f64::min);
        let most = on.iter().map(off).fold(f64::NEG_INFINITY, f64::max);
        // A clear opening of 80 cm or more, room for the arm on the other side: common practice, no source.
        let (left, right) = match (least < -0.1, 0.1 < most) {
            (true, true) => (least, most),
            (true, false) => (least, (least + 0.86).max(0.42)),
            (false, true) => ((most - 0.86).min(-0.42), most),
            (false, false) => (-0.43, 0.43),
        };
        let post = |off: f64| {
            let foot = at + across * off;
            let (front, back) = (v3(foot.x, 0.0, foot.z), v3(foot.x, 0.0, foot.z) - faces * 0.12);
            let (low, high) = corners(front, back, across, 0.10, 0.0, 2.0);
            Shape::Block { low, high }
        };
        vec![post(left), post(right)]
    }

    /// Stairs step by step, one more than is stood on.
    pub(super) fn treads(&self) -> Vec<Shape> {
        let rise = self.room.height(PropKind::Stairs);
        let way = self.room.said_way(PropKind::Stairs).unwrap_or(Direction::Forward);
        let into = on_the_ground(way, self.base);
        let across = into.cross(Vec3::Y);
        let number = |t: &Touch| match t.surface {
            Surface::Tread(n) => Some(f64::from(n)),
            Surface::Prop(PropKind::Stairs) => Some(1.0),
            _ => None,
        };
        let touches = || self.keys.iter().flat_map(|k| &k.touches).filter_map(|t| Some((t, number(t)?)));
        // The lowest tread's near edge is where the foot that is nearest to its own edge leaves room for it.
        let near =
            touches().map(|(t, n)| t.at.dot(into) - (n - 1.0) * RUN).fold(f64::INFINITY, f64::min) - 0.12;
        let (mut first, mut last) = (f64::INFINITY, f64::NEG_INFINITY);
        for (t, _) in touches() {
            first = first.min(t.at.dot(across));
            last = last.max(t.at.dot(across));
        }
        let middle = across * (0.5 * (first + last));
        let most = touches().map(|(_, n)| n).fold(1.0, f64::max).min(6.0) as u8 + 1;
        (1..=most)
            .rev()
            .map(|n| {
                let front = middle + into * (near + f64::from(n - 1) * RUN);
                let (low, high) = corners(front, front + into * RUN, across, 0.80, 0.0, f64::from(n) * rise);
                Shape::Block { low, high }
            })
            .collect()
    }

    /// A table, step, bench or the like, where what touches it puts it, out of the way of all other skin.
    pub(super) fn block(&self, kind: PropKind, top: f64, on: &[&Touch]) -> Option<Shape> {
        let way = self.room.said_way(kind).unwrap_or(Direction::Forward);
        let into = if self.base.low && self.room.said_way(kind).is_none() {
            self.ahead()
        } else {
            on_the_ground(way, self.base)
        };
        let across = into.cross(Vec3::Y);
        let (deep, wide) = plan(kind);
        let thin = matches!(kind, PropKind::Table | PropKind::Worktop | PropKind::Chair);
        let bottom = if thin { top - 0.04 } else { 0.0 };
        if on.is_empty() {
            // Only named: it stands there, ready.
            self.room.said_way(kind)?;
            let near = self.beside(way, if kind == PropKind::Step { 0.35 } else { 0.45 })?;
            let (low, high) = corners(near, near + into * deep, across, wide, bottom, top);
            return Some(self.formed(kind, low, high, into));
        }
        let axes = [into, across];
        // Along each axis: what has to be carried, and how far the block goes.
        let span = |axis: Vec3| {
            let off = on.iter().map(|t| t.at.dot(axis));
            (off.clone().fold(f64::INFINITY, f64::min), off.fold(f64::NEG_INFINITY, f64::max))
        };
        let carried = axes.map(span);
        let rim = if thin { 0.10 } else { 0.12 };
        let middle = 0.5 * (carried[1].0 + carried[1].1);
        let mut reach = [
            (carried[0].0 - rim, (carried[0].0 - rim + deep).max(carried[0].1 + rim)),
            ((middle - 0.5 * wide).min(carried[1].0 - rim), (middle + 0.5 * wide).max(carried[1].1 + rim)),
        ];
        self.end_at_edges(kind, on, axes, &mut reach);
        let mut cut = |at: Vec3, radius: f64| {
            let inside = axes.iter().zip(&reach).all(|(axis, (from, to))| {
                let off = at.dot(*axis);
                *from < off + radius && off - radius < *to
            });
            if !inside {
                return;
            }
            // The side that loses least gives way, if nothing stands there.
            let mut best: Option<(f64, usize, bool, f64)> = None;
            for (i, axis) in axes.iter().enumerate() {
                let off = at.dot(*axis);
                let (from, to) = reach[i];
                for (loss, is_near, edge, clear) in [
                    (off + radius - from, true, off + radius, off + radius < carried[i].0 - 0.01),
                    (to - off + radius, false, off - radius, carried[i].1 + 0.01 < off - radius),
                ] {
                    if clear && best.is_none_or(|b| loss < b.0) {
                        best = Some((loss, i, is_near, edge));
                    }
                }
            }
            if let Some((_, i, is_near, edge)) = best {
                if is_near { reach[i].0 = edge } else { reach[i].1 = edge }
            }
        };
        for key in self.keys {
            let p = self.body.place(&key.state);
            for skin in Skin::all() {
                let (at, radius) = (p.skin(skin), self.body.radius(skin));
                let carried = on.iter().any(|t| {
                    t.part.side == Some(skin.side)
                        && Skin::of(t.part.region, t.part.side)
                            .iter()
                            .any(|k| same_end(k.segment(), skin.segment()))
                });
                if at.y - radius < top - 0.015 && bottom < at.y + radius && !carried {
                    cut(at, radius);
                }
            }
        }
        let point = |u: f64, w: f64| into * u + across * w;
        let ends = [point(reach[0].0, reach[1].0), point(reach[0].1, reach[1].1)];
        let low = v3(ends[0].x.min(ends[1].x), bottom, ends[0].z.min(ends[1].z));
        let high = v3(ends[0].x.max(ends[1].x), top, ends[0].z.max(ends[1].z));
        Some(self.formed(kind, low, high, into))
    }

    fn formed(&self, kind: PropKind, low: Vec3, high: Vec3, into: Vec3) -> Shape {
        match kind {
            // A chair that is not sat on turns its back away, to be stood behind or knelt at.
            PropKind::Chair => Shape::Chair { low, high, back: None },
            PropKind::Sofa => Shape::Chair { low, high, back: Some(into) },
            _ => Shape::Block { low, high },
        }
    }

    /// Where a part is said to be beyond the edge, the block ends between it and what its limb rests on.
    fn end_at_edges(&self, kind: PropKind, on: &[&Touch], axes: [Vec3; 2], reach: &mut [(f64, f64); 2]) {
        for (key, pose) in self.keys.iter().zip(self.poses) {
            let p = self.body.place(&key.state);
            let said = pose.asks.iter().filter_map(|ask| match ask.what {
                Ask::Beyond { part, edge_of } => Some((part, edge_of)),
                _ => None,
            });
            // Of a foot that only stands on its ball the heel is beyond the edge.
            let balls = key.touches.iter().filter(|t| {
                let step = matches!(kind, PropKind::Step | PropKind::Stairs);
                step && t.part.region == Region::Forefoot && t.surface == Surface::Prop(kind)
            });
            let heels = balls.map(|t| (Spot { region: Region::Heel, ..t.part }, kind));
            for (part, edge_of) in said.chain(heels) {
                let limb: Vec<&&Touch> = on
                    .iter()
                    .filter(|t| t.part.side == part.side && end_of(t.part.region) == end_of(part.region))
                    .collect();
                let skins = Skin::of(part.region, part.side);
                if edge_of != kind || limb.is_empty() || skins.is_empty() {
                    continue;
                }
                // The carried limb's skin that is nearest to the part beyond.
                let beyond =
                    skins.iter().fold(Vec3::ZERO, |s, k| s + p.skin(*k)) * (1.0 / skins.len() as f64);
                let carried: Vec<Vec3> = limb
                    .iter()
                    .flat_map(|t| Skin::of(t.part.region, t.part.side))
                    .map(|k| p.skin(k))
                    .collect();
                let centre = carried.iter().fold(Vec3::ZERO, |s, v| s + *v) * (1.0 / carried.len() as f64);
                let (i, sign) = axes
                    .iter()
                    .enumerate()
                    .map(|(i, axis)| (i, (beyond - centre).dot(*axis)))
                    .fold((0, 0.0), |best: (usize, f64), x| if best.1.abs() < x.1.abs() { x } else { best });
                let off = |v: &Vec3| v.dot(axes[i]);
                let (from, to) = reach[i];
                let long = to - from;
                if 0.0 <= sign {
                    let last = carried.iter().map(off).fold(f64::NEG_INFINITY, f64::max);
                    let edge = last + (0.3 * (off(&beyond) - last)).clamp(0.0, 0.02);
                    reach[i] = (from.min(edge - long), edge);
                } else {
                    let first = carried.iter().map(off).fold(f64::INFINITY, f64::min);
                    let edge = first - (0.3 * (first - off(&beyond))).clamp(0.0, 0.02);
                    reach[i] = (edge, to.max(edge + long));
                }
            }
        }
    }
}

/// Whether two segments are one hand or one foot.
fn same_end(a: Segment, b: Segment) -> bool {
    let end = |s: Segment| match s {
        Segment::Foot(side) | Segment::Toes(side) => Some((0, side)),
        Segment::Hand(side) => Some((1, side)),
        _ => None,
    };
    a == b || (end(a).is_some() && end(a) == end(b))
}
