//! Where the things of an exercise stand, once the body is settled on them.
//!
//! Sizes that no text states are common practice, no source.

mod block;

use super::ask::{Anchor, Direction, Fit, Height, Held, Pose, Prop, PropKind, Spot, Surface};
use super::movement::{End, Key, Shape, Thing, Touch};
use super::posture::Base;
use super::room::{How, Room, direction, on_the_ground, plan, pressed};
use super::settle::end_of;
use crate::body::names::{Region, Side};
use crate::body::{Body, Skin};
use crate::space::{Vec3, v3};

/// Gives each key pose its things, and all of them once for the whole movement. `places` are those of the
/// settled things, key pose by key pose.
pub fn stand(
    body: &Body,
    poses: &[Pose],
    room: &Room,
    keys: &mut [Key],
    places: &[Vec<Vec3>],
    base: Option<&Base>,
) -> Vec<Thing> {
    let Some(base) = base else { return Vec::new() };
    let scene = Scene { body, poses, room, keys, places, base };
    let each: Vec<Vec<Thing>> = (0..keys.len()).map(|k| scene.things(k)).collect();
    let mut all: Vec<Thing> = Vec::new();
    for thing in each.iter().flatten() {
        // A ball that rolls is one ball.
        let same = |t: &Thing| {
            t.kind == thing.kind
                && core::mem::discriminant(&t.shape) == core::mem::discriminant(&thing.shape)
                && (t.shape == thing.shape || rolls(&t.shape))
        };
        if !all.iter().any(same) {
            all.push(thing.clone());
        }
    }
    for (key, things) in keys.iter_mut().zip(each) {
        key.things = things;
    }
    all
}

fn rolls(shape: &Shape) -> bool {
    matches!(shape, Shape::Ball { .. } | Shape::Roller { .. })
}

fn is_head(region: Region) -> bool {
    matches!(region, Region::SideOfHead | Region::BackOfHead | Region::Forehead)
}

struct Scene<'a> {
    body: &'a Body,
    poses: &'a [Pose],
    room: &'a Room,
    keys: &'a [Key],
    places: &'a [Vec<Vec3>],
    base: &'a Base,
}

impl Scene<'_> {
    /// The things of one key pose.
    fn things(&self, k: usize) -> Vec<Thing> {
        let mut things = Vec::new();
        for prop in &self.room.props {
            for shape in self.shapes(k, prop) {
                things.push(Thing { kind: prop.kind, shape });
            }
        }
        if let Some(thick) = self.base.pillow {
            let heads =
                |p: &Prop| matches!(&p.fit, Fit::Under(spots) if spots.iter().any(|s| is_head(s.region)));
            // The posture's own pillow is there as long as the head lies on it.
            let rests = self.keys.get(k).is_some_and(|key| {
                key.touches.iter().any(|t| is_head(t.part.region) && t.surface == Surface::Floor)
            });
            if rests && !self.room.props.iter().any(heads) {
                let head = self.base.rests.iter().find(|r| is_head(r.part.region));
                let spots = vec![head.map_or(Spot { side: None, region: Region::SideOfHead }, |r| r.part)];
                things.push(Thing {
                    kind: PropKind::Pillow,
                    shape: Shape::Under { spots, thickness: thick * self.body.stature() },
                });
            }
        }
        things
    }

    /// Forward on the ground plan; for someone lying, from feet to head.
    fn ahead(&self) -> Vec3 {
        let flat = |v: Vec3| (v - Vec3::Y * v.y).unit_or(Vec3::X);
        if self.base.forward.y.abs() < 0.7 {
            flat(self.base.forward)
        } else {
            flat(self.base.state.turn * Vec3::Y)
        }
    }

    /// The place of a settled thing in a key pose.
    fn place(&self, k: usize, kind: PropKind) -> Option<(How, Vec3)> {
        let i = self.room.placed.iter().position(|p| p.kind == kind)?;
        Some((self.room.placed.get(i)?.how, *self.places.get(k)?.get(i)?))
    }

    /// The first key pose in which a settled thing is touched: from then on it stands.
    fn first_touch(&self, kind: PropKind) -> usize {
        let touches = |key: &Key| {
            key.touches.iter().any(|t| self.room.placing(t.surface, t.part).is_some_and(|p| p.kind == kind))
        };
        self.keys.iter().position(touches).unwrap_or(0)
    }

    fn shapes(&self, k: usize, prop: &Prop) -> Vec<Shape> {
        let height = prop.cm.or(prop.kind.usual_cm()).map(|cm| cm / 100.0);
        if let (PropKind::Ball, [a, b]) = (prop.kind, &self.hands_in(k, PropKind::Ball)[..]) {
            let palm = |side| Spot { side: Some(side), region: Region::Palm };
            let spots = [palm(*a), palm(*b)];
            return vec![Shape::Between { spots, thickness: height.unwrap_or(0.25) }];
        }
        match &prop.fit {
            Fit::Round(spots) => {
                let mut shapes = vec![Shape::Round { spots: spots.clone() }];
                // Held, it runs from what it is round to the hands.
                for hand in self.hands_in(k, prop.kind) {
                    if let Some(foot) = spots.iter().find(|s| end_of(s.region) == Some(0)) {
                        let to = Spot { side: Some(hand), region: Region::Palm };
                        shapes.push(Shape::Line { from: End::Body(*foot), to });
                    }
                }
                return shapes;
            }
            Fit::Under(spots) => {
                let left = spots.iter().map(|s| pressed(prop.kind, *s)).fold(1.0, f64::min);
                return vec![Shape::Under { spots: spots.clone(), thickness: height.unwrap_or(0.06) * left }];
            }
            Fit::Between(a, b) => {
                return vec![Shape::Between { spots: [*a, *b], thickness: height.unwrap_or(0.12) }];
            }
            Fit::In(sides) => {
                // A strap round a foot is drawn there.
                let round = |p: &Prop| p.kind == prop.kind && matches!(p.fit, Fit::Round(_));
                if self.room.props.iter().any(round) {
                    return Vec::new();
                }
                return vec![Shape::In { hands: sides.each().collect(), length: height.unwrap_or(0.2) }];
            }
            Fit::FromTo { anchor, to } => {
                return self
                    .fixed_end(*anchor)
                    .map(|from| Shape::Line { from, to: *to })
                    .into_iter()
                    .collect();
            }
            Fit::Stands | Fit::At(_) | Fit::Against(_) => {}
        }
        match prop.kind {
            PropKind::Doorway => self.posts(),
            PropKind::Stairs if self.keys.iter().flat_map(|k| &k.touches).any(|t| is_tread(t.surface)) => {
                self.treads()
            }
            _ => self.standing(k, prop, height).into_iter().collect(),
        }
    }

    fn fixed_end(&self, anchor: Anchor) -> Option<End> {
        match anchor {
            Anchor::Body(spot) => Some(End::Body(spot)),
            Anchor::Fixed { direction: d, height } => {
                let key = self.keys.first()?;
                let p = self.body.place(&key.state);
                let to = direction(d, self.base);
                let way = (to - Vec3::Y * to.y).unit_or(Vec3::X);
                let y = match height {
                    Height::Cm(cm) => cm / 100.0,
                    Height::Of(spot) => p.skin(Skin::of(spot.region, spot.side).into_iter().next()?).y,
                };
                let at = key.state.root + way * 0.85;
                Some(End::Room(v3(at.x, y, at.z)))
            }
        }
    }

    fn touches_of(&self, kind: PropKind) -> Vec<&Touch> {
        let on = |t: &&Touch| t.surface == Surface::Prop(kind) || t.surface == Surface::Edge(kind);
        self.keys.iter().flat_map(|k| &k.touches).filter(on).collect()
    }

    fn standing(&self, k: usize, prop: &Prop, height: Option<f64>) -> Option<Shape> {
        let (room, base) = (self.room, self.base);
        let ahead = self.ahead();
        let across = (base.right - Vec3::Y * base.right.y).unit_or(Vec3::Z);
        let on = self.touches_of(prop.kind);
        if let Some((How::Edge, _)) = self.place(k, prop.kind) {
            let (_, at) = self.place(self.first_touch(prop.kind), prop.kind)?;
            let block = room.block(prop.kind, base);
            let (low, high) = corners(
                at,
                at + block.ahead * block.deep,
                block.ahead.cross(Vec3::Y),
                block.wide,
                block.low,
                block.top,
            );
            return Some(match prop.kind {
                PropKind::Chair => Shape::Chair { low, high, back: None },
                _ => Shape::Block { low, high },
            });
        }
        match prop.kind {
            PropKind::Wall => {
                let (at, faces) = room.wall(base)?;
                Some(Shape::Wall { at, faces })
            }
            PropKind::Chair | PropKind::Sofa | PropKind::Bench | PropKind::Bed
                if sat_on(self.keys, prop.kind) =>
            {
                let key = self.keys.iter().find(|k| k.touches.iter().any(|t| is_seat(t, prop.kind)))?;
                let p = self.body.place(&key.state);
                let seat = |side| p.skin(Skin { ball: crate::body::flesh::BUTTOCK, side });
                let middle = (seat(Side::Right) + seat(Side::Left)) * 0.5;
                let (deep, wide) = match prop.kind {
                    PropKind::Bed => (0.50, 1.10),
                    kind => plan(kind),
                };
                // The seat's front edge stands clear of the hollow of the knee.
                let mut front = middle + ahead * 0.30;
                let back_at = self.place(self.first_touch(prop.kind), prop.kind).filter(|p| p.0 == How::Back);
                if let Some((_, at)) = back_at {
                    front = middle + ahead * ((at - middle).dot(ahead) + deep);
                }
                // Before the knees it ends in any case.
                let (end, back) = (front, front - ahead * deep);
                let before = |side| {
                    let knee = Skin { ball: crate::body::flesh::KNEE, side };
                    (p.skin(knee) - end).dot(ahead) - self.body.radius(knee) - 0.02
                };
                front += ahead * before(Side::Right).min(before(Side::Left)).clamp(-0.5 * deep, 0.0);
                let top = height.unwrap_or(room.seat());
                let (low, high) = corners(front, back, across, wide, top - 0.04, top);
                match prop.kind {
                    PropKind::Chair | PropKind::Sofa => Some(Shape::Chair { low, high, back: Some(-ahead) }),
                    _ => Some(Shape::Block { low: v3(low.x, 0.0, low.z), high }),
                }
            }
            PropKind::Bed => {
                let top = height.unwrap_or(0.45);
                let middle = self.keys.first()?.state.root + ahead * (0.10 * self.body.stature());
                let long = 0.60 * self.body.stature();
                let (low, high) =
                    corners(middle + ahead * long, middle - ahead * long, across, 0.9, top - 0.12, top);
                Some(Shape::Block { low, high })
            }
            PropKind::Mat => {
                let middle = self.keys.first()?.state.root;
                let (low, high) =
                    corners(middle + ahead * 0.9, middle - ahead * 0.9, across, 0.6, 0.0, 0.008);
                Some(Shape::Block { low, high })
            }
            PropKind::ChairBack | PropKind::Rail | PropKind::Frame => {
                // The back of a chair that is sat on and leant against is drawn with the chair.
                if prop.kind == PropKind::ChairBack && sat_on(self.keys, PropKind::Chair) {
                    return None;
                }
                let way = room.said_way(prop.kind);
                let middle = middle_of(&on).or_else(|| self.beside(way?, 0.45))?;
                let wide = if prop.kind == PropKind::Rail { 0.9 } else { 0.42 };
                let y = height.unwrap_or(0.88);
                let m = v3(middle.x, y, middle.z);
                // At one's side it runs forwards.
                let along = if is_beside(way) { ahead } else { across };
                Some(Shape::Bar { from: m - along * (wide * 0.5), to: m + along * (wide * 0.5) })
            }
            PropKind::Table
            | PropKind::Worktop
            | PropKind::Step
            | PropKind::Stairs
            | PropKind::Bench
            | PropKind::Sofa
            | PropKind::Chair => self.block(prop.kind, height.unwrap_or(0.15), &on),
            PropKind::Ball | PropKind::Roller => {
                let radius = 0.5 * height.unwrap_or(0.65);
                let centre = match self.place(k.max(self.first_touch(prop.kind)), prop.kind) {
                    Some((_, at)) => at,
                    None => {
                        let at = middle_of(&on)?;
                        v3(at.x, room.ground(base) + radius, at.z)
                    }
                };
                Some(if prop.kind == PropKind::Ball {
                    Shape::Ball { centre, radius }
                } else {
                    Shape::Roller { from: centre - across * 0.45, to: centre + across * 0.45, radius }
                })
            }
            PropKind::Pillow | PropKind::Towel => {
                let spots: Vec<Spot> = on.iter().map(|t| t.part).collect();
                let held = self.hands(prop.kind);
                if !spots.is_empty() && held.is_empty() {
                    Some(Shape::Under { spots, thickness: height.unwrap_or(0.08) })
                } else {
                    Some(Shape::In { hands: held, length: 0.5 })
                }
            }
            PropKind::Stick | PropKind::Dumbbell | PropKind::Strap | PropKind::LongBand => {
                let hands = self.hands(prop.kind);
                (!hands.is_empty()).then(|| Shape::In { hands, length: height.unwrap_or(1.0) })
            }
            PropKind::LoopBand | PropKind::AnkleWeight | PropKind::Belt | PropKind::Doorway => None,
        }
    }

    /// A place beside the patient's start, that way.
    fn beside(&self, way: Direction, far: f64) -> Option<Vec3> {
        Some(self.keys.first()?.state.root + on_the_ground(way, self.base) * far)
    }

    fn hands(&self, kind: PropKind) -> Vec<Side> {
        hands(self.poses, kind)
    }

    /// The hands that hold a thing in one key pose.
    fn hands_in(&self, k: usize, kind: PropKind) -> Vec<Side> {
        let touches = self.keys.get(k).map(|key| &key.touches[..]).unwrap_or_default();
        touches
            .iter()
            .filter(|t| t.holds && t.surface == Surface::Prop(kind))
            .filter_map(|t| t.part.side)
            .collect()
    }
}

fn is_tread(surface: Surface) -> bool {
    matches!(surface, Surface::Tread(_))
}

fn is_beside(way: Option<Direction>) -> bool {
    matches!(way, Some(Direction::Right | Direction::Left | Direction::Out | Direction::In))
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
    seated
        && (t.surface == Surface::Prop(kind)
            || t.surface == Surface::Edge(kind)
            || t.surface == Surface::Prop(PropKind::Chair))
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
