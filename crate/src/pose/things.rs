//! Where the things of an exercise stand, once the body is settled on them.
//!
//! Sizes that no text states are common practice, no source.

use super::ask::{Anchor, Fit, Height, Held, Pose, Prop, PropKind, Spot, Surface};
use super::movement::{End, Key, Shape, Thing, Touch};
use super::posture::Base;
use super::room::{Room, direction};
use crate::body::names::{Region, Side};
use crate::body::{Body, Skin};
use crate::space::{Vec3, v3};

pub fn placed(body: &Body, poses: &[Pose], room: &Room, keys: &[Key], base: Option<&Base>) -> Vec<Thing> {
    let Some(base) = base else { return Vec::new() };
    let mut things = Vec::new();
    for prop in &room.props {
        if let Some(shape) = shape(body, poses, room, keys, base, prop) {
            things.push(Thing { kind: prop.kind, shape });
        }
    }
    if let Some(thick) = base.pillow {
        let heads = |p: &Prop| matches!(&p.fit, Fit::Under(spots) if spots.iter().any(|s| is_head(s.region)));
        if !room.props.iter().any(heads) {
            let head = base.rests.iter().find(|r| is_head(r.part.region));
            let spots = vec![head.map_or(Spot { side: None, region: Region::SideOfHead }, |r| r.part)];
            things.push(Thing {
                kind: PropKind::Pillow,
                shape: Shape::Under { spots, thickness: thick * body.stature() },
            });
        }
    }
    things
}

fn is_head(region: Region) -> bool {
    matches!(region, Region::SideOfHead | Region::BackOfHead | Region::Forehead)
}

fn shape(body: &Body, poses: &[Pose], room: &Room, keys: &[Key], base: &Base, prop: &Prop) -> Option<Shape> {
    let surface = Surface::Prop(prop.kind);
    let on: Vec<&Touch> = keys.iter().flat_map(|k| &k.touches).filter(|t| t.surface == surface).collect();
    let height = prop.cm.or(prop.kind.usual_cm()).map(|cm| cm / 100.0);
    let flat = |v: Vec3| (v - Vec3::Y * v.y).unit_or(Vec3::X);
    // Forward on the ground plan; for someone lying, from feet to head.
    let ahead = if base.forward.y.abs() < 0.7 { flat(base.forward) } else { flat(base.state.turn * Vec3::Y) };
    let across = flat(base.right - Vec3::Y * base.right.y);
    match &prop.fit {
        Fit::Round(spots) => return Some(Shape::Round { spots: spots.clone() }),
        Fit::Under(spots) => {
            return Some(Shape::Under { spots: spots.clone(), thickness: height.unwrap_or(0.06) });
        }
        Fit::Between(a, b) => {
            return Some(Shape::Between { spots: [*a, *b], thickness: height.unwrap_or(0.12) });
        }
        Fit::In(sides) => {
            return Some(Shape::In { hands: sides.each().collect(), length: height.unwrap_or(0.2) });
        }
        Fit::FromTo { anchor, to } => {
            let from = match anchor {
                Anchor::Body(spot) => End::Body(*spot),
                Anchor::Fixed { direction: d, height } => {
                    let key = keys.first()?;
                    let p = body.place(&key.state);
                    let way = flat(direction(*d, base));
                    let y = match height {
                        Height::Cm(cm) => cm / 100.0,
                        Height::Of(spot) => p.skin(Skin::of(spot.region, spot.side).into_iter().next()?).y,
                    };
                    let at = key.state.root + way * 0.85;
                    End::Room(v3(at.x, y, at.z))
                }
            };
            return Some(Shape::Line { from, to: *to });
        }
        Fit::Stands | Fit::At(_) => {}
    }
    match prop.kind {
        PropKind::Wall | PropKind::Doorway => {
            let (at, faces) = room.wall(base)?;
            Some(Shape::Wall { at, faces })
        }
        PropKind::Chair | PropKind::Bench | PropKind::Bed if sat_on(keys, prop.kind) => {
            let key = keys.iter().find(|k| k.touches.iter().any(|t| is_seat(t, prop.kind)))?;
            let p = body.place(&key.state);
            let seat = |side| p.skin(Skin { ball: crate::body::flesh::BUTTOCK, side });
            let middle = (seat(Side::Right) + seat(Side::Left)) * 0.5;
            let deep = if prop.kind == PropKind::Chair { 0.40 } else { 0.50 };
            let wide = if prop.kind == PropKind::Chair { 0.42 } else { 1.10 };
            // The seat's front edge stands clear of the hollow of the knee.
            let front = middle + ahead * 0.30;
            let back = front - ahead * deep;
            let top = height.unwrap_or(room.seat());
            let (low, high) = corners(front, back, across, wide, top - 0.04, top);
            if prop.kind == PropKind::Chair {
                Some(Shape::Chair { low, high, back: Some(-ahead) })
            } else {
                Some(Shape::Block { low: v3(low.x, 0.0, low.z), high })
            }
        }
        PropKind::Bed => {
            let top = height.unwrap_or(0.45);
            let middle = keys.first()?.state.root + ahead * (0.10 * body.stature());
            let long = 0.60 * body.stature();
            let (low, high) =
                corners(middle + ahead * long, middle - ahead * long, across, 0.9, top - 0.12, top);
            Some(Shape::Block { low, high })
        }
        PropKind::Mat => {
            let middle = keys.first()?.state.root;
            let (low, high) = corners(middle + ahead * 0.9, middle - ahead * 0.9, across, 0.6, 0.0, 0.008);
            Some(Shape::Block { low, high })
        }
        PropKind::ChairBack | PropKind::Rail | PropKind::Frame => {
            let middle = middle_of(&on)?;
            let wide = if prop.kind == PropKind::Rail { 0.9 } else { 0.42 };
            let y = height.unwrap_or(0.88);
            let m = v3(middle.x, y, middle.z);
            Some(Shape::Bar { from: m - across * (wide * 0.5), to: m + across * (wide * 0.5) })
        }
        PropKind::Table | PropKind::Worktop => {
            let middle = middle_of(&on)?;
            let top = height.unwrap_or(0.72);
            let near = middle - ahead * 0.10;
            let (low, high) = corners(near + ahead * 0.55, near, across, 1.0, top - 0.04, top);
            Some(Shape::Block { low, high })
        }
        PropKind::Step | PropKind::Stairs | PropKind::Bench | PropKind::Chair => {
            let middle = middle_of(&on)?;
            let top = height.unwrap_or(0.15);
            let (long, wide) = match prop.kind {
                PropKind::Step | PropKind::Stairs => (0.34, 0.50),
                PropKind::Chair => (0.40, 0.42),
                _ => (0.40, 1.10),
            };
            let (low, high) =
                corners(middle + ahead * (0.5 * long), middle - ahead * (0.5 * long), across, wide, 0.0, top);
            if prop.kind == PropKind::Chair {
                let low = v3(low.x, top - 0.04, low.z);
                return Some(Shape::Chair { low, high, back: None });
            }
            Some(Shape::Block { low, high })
        }
        PropKind::Ball | PropKind::Roller => {
            let radius = 0.5 * height.unwrap_or(0.65);
            let at = middle_of(&on)?;
            let centre = v3(at.x, room.ground(base) + radius, at.z);
            Some(if prop.kind == PropKind::Ball {
                Shape::Ball { centre, radius }
            } else {
                Shape::Roller { from: centre - across * 0.45, to: centre + across * 0.45, radius }
            })
        }
        PropKind::Pillow | PropKind::Towel => {
            let spots: Vec<Spot> = on.iter().map(|t| t.part).collect();
            let held = hands(poses, prop.kind);
            if !spots.is_empty() && held.is_empty() {
                Some(Shape::Under { spots, thickness: height.unwrap_or(0.08) })
            } else {
                Some(Shape::In { hands: held, length: 0.5 })
            }
        }
        PropKind::Stick | PropKind::Dumbbell | PropKind::Strap | PropKind::LongBand => {
            let hands = hands(poses, prop.kind);
            (!hands.is_empty()).then(|| Shape::In { hands, length: height.unwrap_or(1.0) })
        }
        PropKind::LoopBand | PropKind::AnkleWeight | PropKind::Belt => None,
    }
}

fn hands(poses: &[Pose], kind: PropKind) -> Vec<Side> {
    let mut found = Vec::new();
    for c in poses.iter().flat_map(|p| &p.contacts) {
        if let super::ask::Contact::Hold { hand, what: Held::Prop(k) } = &c.what
            && *k == kind
            && !found.contains(hand)
        {
            found.push(*hand);
        }
    }
    found
}

fn is_seat(t: &Touch, kind: PropKind) -> bool {
    let seated = matches!(t.part.region, Region::Seat | Region::ThighBack);
    seated && (t.surface == Surface::Prop(kind) || t.surface == Surface::Prop(PropKind::Chair))
}

fn sat_on(keys: &[Key], kind: PropKind) -> bool {
    keys.iter().flat_map(|k| &k.touches).any(|t| is_seat(t, kind))
}

fn middle_of(on: &[&Touch]) -> Option<Vec3> {
    if on.is_empty() {
        return None;
    }
    let share = 1.0 / on.len() as f64;
    Some(on.iter().fold(Vec3::ZERO, |sum, t| sum + t.at * share))
}

/// The corners of a block from a front to a back edge's middle, so wide across, from `bottom` to `top`.
fn corners(front: Vec3, back: Vec3, across: Vec3, wide: f64, bottom: f64, top: f64) -> (Vec3, Vec3) {
    let mut low = v3(f64::INFINITY, bottom, f64::INFINITY);
    let mut high = v3(f64::NEG_INFINITY, top, f64::NEG_INFINITY);
    for edge in [front, back] {
        for s in [-0.5, 0.5] {
            let p = edge + across * (wide * s);
            low.x = low.x.min(p.x);
            low.z = low.z.min(p.z);
            high.x = high.x.max(p.x);
            high.z = high.z.max(p.z);
        }
    }
    (low, high)
}
