//! The settling of one pose as a bounded least-squares problem: its unknowns and its rows.
//!
//! Unknowns: the pelvis' place and turn (steps: metres, and radians about the room's axes), all joint
//! coordinates (radians), the place of each thing that the body settles (metres), and the share of the weight
//! that each support point carries. Rows are in units of tolerance: a row of 1 is off by just as much
//! as is tolerable. Lengths of tolerances are for a 1.70 m body and grow with stature.

use crate::body::dof::{self, COUNT, Dof, Limb, paired};
use crate::body::names::{Segment, Side};
use crate::body::range::{COUPLED, Limits};
use crate::body::{Body, Placed, Skin, State, moving, side_of, turned_out};
use crate::measure::{math, radians};
use crate::solve::{Problem, Rows};
use crate::space::{Rotation, Vec3};

/// Where the unknowns of the root, the joints and the rest start.
pub const TURN: usize = 3;
pub const JOINTS: usize = 6;
pub const REST: usize = JOINTS + COUNT;

/// The values of all unknowns.
#[derive(Clone, Debug)]
pub struct At {
    pub state: State,
    /// Places of the things that are settled with the body: the middle of a ball or roller, the foot of an edge.
    pub rolling: Vec<Vec3>,
    /// Share of the weight per support point.
    pub shares: Vec<f64>,
}

/// A point that moves with the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Point {
    Skin(Skin),
    /// The near joint of a segment.
    Joint(Segment),
    /// The middle between two joints of both sides: hips, shoulders.
    Middle(Segment, Segment),
    /// The middle of the palm.
    Palm(Side),
}

/// A direction that moves with the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// Fixed in a segment, given in the standing body.
    In(Segment, Vec3),
    /// From one point to another.
    Between(Point, Point),
}

/// A surface in the room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Face {
    /// A plane: a point on it and its outward direction.
    Plane { at: Vec3, out: Vec3 },
    /// A ball, a roller or the rounded edge of a block, by its number among the settled things: `axis` is that
    /// of a roller or edge, `up` how far its middle is above the thing's place.
    Round { rolling: usize, radius: f64, axis: Option<Vec3>, up: f64 },
    /// An upright plane through the place of a settled thing, and its outward direction.
    Side { rolling: usize, out: Vec3 },
    /// Another skin point.
    Skin(Skin),
}

/// A box that stands in the room, seen from its place, which is below the middle of its near edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Level, from the near edge into the box.
    pub ahead: Vec3,
    pub deep: f64,
    pub wide: f64,
    pub low: f64,
    pub top: f64,
}

/// The radius of a block's edges: a padded bench's, from memory.
pub const EDGE: f64 = 0.020;

/// One residual, or a few that belong together. `tolerance` is in metres or radians, or plain for directions.
#[derive(Clone, Debug)]
pub enum Row {
    /// A weighted sum of coordinates is `target`.
    Sum { parts: Vec<(Dof, f64)>, target: f64, tolerance: f64 },
    /// One coordinate stays near `target`.
    Near { dof: Dof, target: f64, tolerance: f64 },
    /// A weighted sum is not above `most`.
    SumAtMost { parts: Vec<(Dof, f64)>, most: f64, tolerance: f64 },
    /// Raising the arm in front of the frontal plane is not above `most`.
    ElevationAtMost { side: Side, most: f64, tolerance: f64 },
    /// The pelvis' midpoint stays near a place, each room axis with its own tolerance.
    RootNear { target: Vec3, tolerance: [f64; 3] },
    /// A direction of the body is that direction of the room.
    Along { way: Way, target: Vec3, tolerance: f64 },
    /// A direction of the body has no part along that direction of the room, but `part`.
    PartAlong { way: Way, target: Vec3, part: f64, tolerance: f64 },
    /// A direction of the body has at least that part along a direction of the room.
    Towards { way: Way, target: Vec3, least: f64, tolerance: f64 },
    /// Two directions of the body are the same (sign 1) or opposite (−1).
    Same { a: Way, b: Way, sign: f64, tolerance: f64 },
    /// Two directions of the body lie in one line, either way round.
    Parallel { a: Way, b: Way, tolerance: f64 },
    /// A skin point touches a face; soft skin may give.
    Touch { skin: Skin, face: Face, tolerance: f64 },
    /// A palm's middle lies on the skin of a part, a finger's thickness off.
    Grip { side: Side, skin: Skin, off: f64, tolerance: f64 },
    /// From one point to another, as a direction, roughly that direction of a segment.
    Facing { from: Point, to: Point, segment: Segment, local: Vec3, tolerance: f64 },
    /// A palm faces the point it holds.
    PalmTo { side: Side, point: Point, tolerance: f64 },
    /// A skin point keeps its place along a face.
    Anchor { skin: Skin, target: Vec3, out: Vec3, tolerance: f64 },
    /// A point keeps its place.
    Fixed { point: Point, target: Vec3, tolerance: f64 },
    /// The distance of two points along a direction of the room.
    Apart { a: Point, b: Point, along: Vec3, distance: f64, tolerance: f64 },
    /// The distance of two points, whatever the direction.
    Distance { a: Point, b: Point, distance: f64, tolerance: f64 },
    /// The distance of a skin point from a plane.
    Off { skin: Skin, at: Vec3, out: Vec3, distance: f64, tolerance: f64 },
    /// A skin point is at least so far from a plane.
    Clear { skin: Skin, at: Vec3, out: Vec3, least: f64, tolerance: f64 },
    /// An upper arm is turned out by `target`, as clinicians count it there.
    TurnedOut { side: Side, target: f64, tolerance: f64 },
    /// An upper arm is not turned in further than a shoulder turns, as clinicians count it there.
    TurnedAtLeast { side: Side, least: f64, tolerance: f64 },
    /// All skin stays out of a plane, but for what soft skin gives.
    ClearPlane { at: Vec3, out: Vec3, tolerance: f64 },
    /// All skin stays out of a ball, roller or edge.
    ClearRound { face: Face, sink: f64, tolerance: f64 },
    /// All skin stays out of a block.
    ClearBlock { rolling: usize, block: Block, sink: f64, tolerance: f64 },
    /// A skin point stays out of a plane.
    KeepOff { skin: Skin, at: Vec3, out: Vec3, tolerance: f64 },
    /// Two points are at least so far apart along a direction of the room.
    AtLeastApart { a: Point, b: Point, along: Vec3, least: f64, tolerance: f64 },
    /// A skin point touches a round face on the side that looks that way, the outward direction having at least that
    /// part along it.
    OnSide { skin: Skin, face: Face, to: Vec3, least: f64, tolerance: f64 },
    /// Two skin points don't sink into each other by more than `sink`.
    ClearSkin { a: Skin, b: Skin, sink: f64, tolerance: f64 },
    /// The centre of mass stands over the support points, each carrying its share.
    Balance { points: Vec<Skin>, tolerance: f64 },
    /// A settled thing stays near a place, each room axis with its own tolerance.
    RollingNear { rolling: usize, target: Vec3, tolerance: [f64; 3] },
}

/// The least share of the weight that a support point carries.
pub const LEAST_SHARE: f64 = 0.02;

/// A pose to settle.
#[derive(Clone, Debug)]
pub struct Settling {
    pub body: Body,
    pub limits: Limits,
    pub rows: Vec<Row>,
    pub rolling: usize,
    pub shares: usize,
    /// Weight of contacts: 1 in the end, less at the start from far away.
    pub contact_weight: f64,
}

impl Way {
    fn of(self, s: &Settling, p: &Placed, at: &At) -> Vec3 {
        match self {
            Way::In(segment, local) => {
                let local = if side_of(segment) == Some(Side::Left) { local.mirrored() } else { local };
                p.turn(segment) * local
            }
            Way::Between(a, b) => (s.point(p, at, b) - s.point(p, at, a)).unit_or(Vec3::X),
        }
    }
}

impl Settling {
    fn point(&self, p: &Placed, _at: &At, point: Point) -> Vec3 {
        match point {
            Point::Skin(skin) => p.skin(skin),
            Point::Joint(segment) => p.joint(segment),
            Point::Middle(a, b) => (p.joint(a) + p.joint(b)) * 0.5,
            Point::Palm(side) => palm(p, side),
        }
    }

    /// Adds `scale · along · ∂point/∂unknown` to a row of slopes.
    fn point_slope(&self, p: &Placed, point: Point, along: Vec3, slopes: &mut [f64]) {
        match point {
            Point::Skin(skin) => attached(p, skin.segment(), p.skin(skin), along, slopes),
            Point::Joint(segment) => attached(p, segment, p.joint(segment), along, slopes),
            Point::Middle(a, b) => {
                attached(p, a, p.joint(a), along * 0.5, slopes);
                attached(p, b, p.joint(b), along * 0.5, slopes);
            }
            Point::Palm(side) => attached(p, Segment::Hand(side), palm(p, side), along, slopes),
        }
    }

    /// Adds `along · ∂way/∂unknown` to a row of slopes.
    fn way_slope(&self, p: &Placed, at: &At, way: Way, along: Vec3, slopes: &mut [f64]) {
        match way {
            Way::In(segment, _) => {
                let v = way.of(self, p, at);
                for (k, e) in [Vec3::X, Vec3::Y, Vec3::Z].into_iter().enumerate() {
                    slopes[TURN + k] += along.dot(e.cross(v));
                }
                for d in moving(segment) {
                    slopes[JOINTS + d.0] += along.dot(p.turning(segment, d).cross(v));
                }
            }
            Way::Between(a, b) => {
                let v = self.point(p, at, b) - self.point(p, at, a);
                let length = v.norm().max(1e-6);
                let u = v * (1.0 / length);
                let across = (along - u * along.dot(u)) * (1.0 / length);
                self.point_slope(p, b, across, slopes);
                self.point_slope(p, a, -across, slopes);
            }
        }
    }

    /// Signed distance of a skin point's surface from a face, the direction that increases it, and
    /// what else moves with it.
    fn distance(&self, p: &Placed, at: &At, skin: Skin, face: Face) -> (f64, Vec3) {
        let c = p.skin(skin);
        let r = p.radius(skin);
        match face {
            Face::Plane { at: o, out } => ((c - o).dot(out) - r, out),
            Face::Round { rolling, radius, axis, up } => {
                let mut v = c - at.rolling[rolling] - Vec3::Y * up;
                if let Some(a) = axis {
                    v = v - a * a.dot(v);
                }
                (v.norm() - r - radius, v.unit_or(Vec3::Y))
            }
            Face::Side { rolling, out } => ((c - at.rolling[rolling]).dot(out) - r, out),
            Face::Skin(other) => {
                let v = c - p.skin(other);
                (v.norm() - r - p.radius(other), v.unit_or(Vec3::Y))
            }
        }
    }

    /// How far off some of the rows are, in tolerances.
    pub fn off(&self, at: &At, rows: core::ops::Range<usize>) -> f64 {
        let p = self.body.place(&at.state);
        let mut found = Rows::new(self.unknowns());
        for row in self.rows.get(rows).unwrap_or_default() {
            self.row(row, at, &p, self.scale(), false, &mut found);
        }
        (2.0 * found.cost()).sqrt()
    }

    /// The gap of every touching row, metres (positive apart, negative sunk), with its skin point.
    pub fn gaps(&self, at: &At) -> Vec<(Skin, f64)> {
        let p = self.body.place(&at.state);
        let mut found = Vec::new();
        for row in &self.rows {
            match row {
                Row::Touch { skin, face, .. } => {
                    let d = self.distance(&p, at, *skin, *face).0;
                    found.push((*skin, self.given(&p, *skin, d)));
                }
                Row::Grip { side, skin, off, .. } => {
                    let d = (palm(&p, *side) - p.skin(*skin)).norm() - p.radius(*skin) - off;
                    found.push((Skin { ball: crate::body::flesh::PALM_THUMB, side: *side }, d));
                }
                _ => {}
            }
        }
        found
    }

    /// Skin that is pressed into floor, wall or another thing further than it gives, metres (negative), deepest
    /// first for each plane.
    pub fn pressed(&self, at: &At) -> Vec<(Skin, f64)> {
        let p = self.body.place(&at.state);
        let mut found = Vec::new();
        for row in &self.rows {
            if let Row::ClearPlane { at: o, out, .. } = row {
                for skin in Skin::all() {
                    let d = (p.skin(skin) - *o).dot(*out) - p.radius(skin) + p.gives(skin);
                    if d < 0.0 {
                        found.push((skin, d));
                    }
                }
            }
        }
        crate::sorting::sort_by(&mut found, |a, b| a.1.total_cmp(&b.1));
        found
    }

    /// A distance with what soft skin gives taken off.
    fn given(&self, p: &Placed, skin: Skin, distance: f64) -> f64 {
        if distance < 0.0 { (distance + p.gives(skin)).min(0.0) } else { distance }
    }

    fn scale(&self) -> f64 {
        self.body.stature() / Body::USUAL_STATURE
    }
}

/// The middle of the palm: between the heel of the hand and the knuckles.
pub fn palm(p: &Placed, side: Side) -> Vec3 {
    use crate::body::flesh::{HAND_HEEL, PALM_SMALL, PALM_THUMB};
    let at = |ball| p.skin(Skin { ball, side });
    at(HAND_HEEL) * 0.4 + (at(PALM_THUMB) + at(PALM_SMALL)) * 0.3
}

/// The direction a palm faces.
pub fn palm_way(side: Side) -> Way {
    Way::In(Segment::Hand(side), -Vec3::Z)
}

impl Block {
    /// Signed distance of a point from the box with rounded edges, and the direction that increases it; the
    /// point is given from the box's place.
    pub fn distance(&self, v: Vec3) -> (f64, Vec3) {
        let across = self.ahead.cross(Vec3::Y);
        let parts = [
            (self.ahead, v.dot(self.ahead) - 0.5 * self.deep, 0.5 * self.deep),
            (Vec3::Y, v.y - 0.5 * (self.low + self.top), 0.5 * (self.top - self.low)),
            (across, v.dot(across), 0.5 * self.wide),
        ];
        let edge = EDGE.min(0.5 * (self.top - self.low));
        let mut outside = Vec3::ZERO;
        let mut deepest = (f64::NEG_INFINITY, Vec3::Y);
        for (axis, off, half) in parts {
            let out = if off < 0.0 { -axis } else { axis };
            let beyond = off.abs() - (half - edge);
            if 0.0 < beyond {
                outside += out * beyond;
            }
            if deepest.0 < beyond {
                deepest = (beyond, out);
            }
        }
        if deepest.0 <= 0.0 {
            return (deepest.0 - edge, deepest.1);
        }
        (outside.norm() - edge, outside.unit_or(deepest.1))
    }
}

/// Adds `along · ∂place/∂unknown` of a settled thing to a row of slopes.
fn place_slope(rolling: usize, along: Vec3, slopes: &mut [f64]) {
    for axis in 0..3 {
        slopes[REST + 3 * rolling + axis] += along.at(axis);
    }
}

fn attached(p: &Placed, segment: Segment, at: Vec3, along: Vec3, slopes: &mut [f64]) {
    let arm = at - p.root();
    for (k, e) in [Vec3::X, Vec3::Y, Vec3::Z].into_iter().enumerate() {
        slopes[k] += along.dot(e);
        slopes[TURN + k] += along.dot(e.cross(arm));
    }
    for d in moving(segment) {
        slopes[JOINTS + d.0] += along.dot(p.speed(segment, at, d));
    }
}

impl Problem for Settling {
    type At = At;

    fn unknowns(&self) -> usize {
        REST + 3 * self.rolling + self.shares
    }

    fn moved(&self, at: &At, step: &[f64]) -> At {
        let mut next = at.clone();
        next.state.root = at.state.root + Vec3 { x: step[0], y: step[1], z: step[2] };
        let turn = Vec3 { x: step[3], y: step[4], z: step[5] };
        next.state.turn = (Rotation::exp(turn) * at.state.turn).cleaned();
        for i in 0..COUNT {
            // Held to the bounds exactly: adding the whole room could overshoot by a rounding.
            let b = self.limits.bounds(Dof(i));
            let moved = at.state.angles[i] + step[JOINTS + i];
            next.state.angles[i] = moved.clamp(radians(b.low), radians(b.high));
        }
        for side in Side::BOTH {
            // A raised arm is held to its limit in every plane in front of the frontal one.
            let (f, a) = (paired(Limb::ShoulderFlexion, side).0, paired(Limb::ShoulderAbduction, side).0);
            let angles = &mut next.state.angles;
            let (raised, most) = (math::hypot(angles[f], angles[a]), radians(self.limits.elevation(side)));
            if 0.0 < angles[f] && most < raised {
                angles[f] *= most / raised;
                angles[a] *= most / raised;
            }
        }
        for (k, r) in next.rolling.iter_mut().enumerate() {
            r.x += step[REST + 3 * k];
            r.y += step[REST + 3 * k + 1];
            r.z += step[REST + 3 * k + 2];
        }
        let shares = REST + 3 * self.rolling;
        for (k, s) in next.shares.iter_mut().enumerate() {
            *s = (*s + step[shares + k]).clamp(LEAST_SHARE, 1.0);
        }
        next
    }

    fn room(&self, at: &At, i: usize) -> (f64, f64) {
        if i < JOINTS {
            return (f64::INFINITY, f64::INFINITY);
        }
        if i < REST {
            let b = self.limits.bounds(Dof(i - JOINTS));
            let a = at.state.angles[i - JOINTS];
            return (a - radians(b.low), radians(b.high) - a);
        }
        let k = i - REST;
        if k < 3 * self.rolling {
            return (f64::INFINITY, f64::INFINITY);
        }
        let s = at.shares[k - 3 * self.rolling];
        (s - LEAST_SHARE, 1.0 - s)
    }

    fn rows(&self, at: &At, slopes: bool, rows: &mut Rows) {
        rows.clear();
        let p = self.body.place(&at.state);
        let scale = self.scale();
        for row in &self.rows {
            self.row(row, at, &p, scale, slopes, rows);
        }
    }
}

impl Settling {
    fn row(&self, row: &Row, at: &At, p: &Placed, scale: f64, slopes: bool, rows: &mut Rows) {
        let angle = |d: Dof| at.state.angles[d.0];
        match row {
            Row::Near { dof, target, tolerance } => {
                rows.single.push((JOINTS + dof.0, (angle(*dof) - target) / tolerance, 1.0 / tolerance));
            }
            Row::Sum { parts, target, tolerance } => {
                let sum: f64 = parts.iter().map(|(d, k)| k * angle(*d)).sum();
                let s = rows.add((sum - target) / tolerance);
                for (d, k) in parts {
                    s[JOINTS + d.0] += k / tolerance;
                }
            }
            Row::SumAtMost { parts, most, tolerance } => {
                let sum: f64 = parts.iter().map(|(d, k)| k * angle(*d)).sum();
                if *most < sum {
                    let s = rows.add((sum - most) / tolerance);
                    for (d, k) in parts {
                        s[JOINTS + d.0] += k / tolerance;
                    }
                }
            }
            Row::ElevationAtMost { side, most, tolerance } => {
                let f = paired(Limb::ShoulderFlexion, *side);
                let a = paired(Limb::ShoulderAbduction, *side);
                let e = math::hypot(angle(f), angle(a));
                if 0.0 < angle(f) && *most < e {
                    let s = rows.add((e - most) / tolerance);
                    s[JOINTS + f.0] += angle(f) / e / tolerance;
                    s[JOINTS + a.0] += angle(a) / e / tolerance;
                }
            }
            Row::RootNear { target, tolerance } => {
                let off = at.state.root - *target;
                for (axis, t) in tolerance.iter().enumerate() {
                    rows.single.push((axis, off.at(axis) / (t * scale), 1.0 / (t * scale)));
                }
            }
            Row::Along { way, target, tolerance } => {
                let off = way.of(self, p, at) - *target;
                self.each_axis(off, 1.0 / tolerance, rows, slopes, |e, s| {
                    self.way_slope(p, at, *way, e, s);
                });
            }
            Row::PartAlong { way, target, part, tolerance } => {
                let s = rows.add((way.of(self, p, at).dot(*target) - part) / tolerance);
                if slopes {
                    self.way_slope(p, at, *way, *target * (1.0 / tolerance), s);
                }
            }
            Row::Towards { way, target, least, tolerance } => {
                let part = way.of(self, p, at).dot(*target);
                if part < *least {
                    let s = rows.add((least - part) / tolerance);
                    if slopes {
                        self.way_slope(p, at, *way, *target * (-1.0 / tolerance), s);
                    }
                }
            }
            Row::Same { a, b, sign, tolerance } => {
                let off = way_pair(self, p, at, *a, *b, *sign);
                self.each_axis(off, 1.0 / tolerance, rows, slopes, |e, s| {
                    self.way_slope(p, at, *a, e, s);
                    self.way_slope(p, at, *b, e * -*sign, s);
                });
            }
            Row::Parallel { a, b, tolerance } => {
                let (u, w) = (a.of(self, p, at), b.of(self, p, at));
                self.each_axis(u.cross(w), 1.0 / tolerance, rows, slopes, |e, s| {
                    // e · (du × w + u × dw)
                    self.way_slope(p, at, *a, w.cross(e), s);
                    self.way_slope(p, at, *b, e.cross(u), s);
                });
            }
            Row::Touch { skin, face, tolerance } => {
                let (d, out) = self.distance(p, at, *skin, *face);
                let d = self.given(p, *skin, d);
                if d == 0.0 && 0.0 < p.gives(*skin) {
                    return;
                }
                let k = self.contact_weight / (tolerance * scale);
                let s = rows.add(d * k);
                if slopes {
                    self.point_slope(p, Point::Skin(*skin), out * k, s);
                    match face {
                        Face::Plane { .. } => {}
                        Face::Round { rolling, .. } | Face::Side { rolling, .. } => {
                            place_slope(*rolling, out * -k, s)
                        }
                        Face::Skin(other) => self.point_slope(p, Point::Skin(*other), out * -k, s),
                    }
                }
            }
            Row::Grip { side, skin, off, tolerance } => {
                let v = palm(p, *side) - p.skin(*skin);
                let u = v.unit_or(Vec3::Y);
                let k = self.contact_weight / (tolerance * scale);
                let s = rows.add((v.norm() - p.radius(*skin) - off) * k);
                if slopes {
                    self.point_slope(p, Point::Palm(*side), u * k, s);
                    self.point_slope(p, Point::Skin(*skin), u * -k, s);
                }
            }
            Row::Facing { from, to, segment, local, tolerance } => {
                let (a, b) = (Way::Between(*from, *to), Way::In(*segment, *local));
                let off = way_pair(self, p, at, a, b, 1.0);
                self.each_axis(off, 1.0 / tolerance, rows, slopes, |e, s| {
                    self.way_slope(p, at, a, e, s);
                    self.way_slope(p, at, b, -e, s);
                });
            }
            Row::PalmTo { side, point, tolerance } => {
                let (a, b) = (palm_way(*side), Way::Between(Point::Palm(*side), *point));
                let (u, w) = (a.of(self, p, at), b.of(self, p, at));
                let part = u.dot(w);
                if part < 0.6 {
                    let s = rows.add((0.6 - part) / tolerance);
                    if slopes {
                        self.way_slope(p, at, a, w * (-1.0 / tolerance), s);
                        self.way_slope(p, at, b, u * (-1.0 / tolerance), s);
                    }
                }
            }
            Row::Anchor { skin, target, out, tolerance } => {
                let off = p.skin(*skin) - *target;
                let k = self.contact_weight / (tolerance * scale);
                let (a, b) = tangents(*out);
                for t in [a, b] {
                    let s = rows.add(off.dot(t) * k);
                    if slopes {
                        self.point_slope(p, Point::Skin(*skin), t * k, s);
                    }
                }
            }
            Row::Fixed { point, target, tolerance } => {
                let off = self.point(p, at, *point) - *target;
                self.each_axis(off, 1.0 / (tolerance * scale), rows, slopes, |e, s| {
                    self.point_slope(p, *point, e, s);
                });
            }
            Row::Apart { a, b, along, distance, tolerance } => {
                let d = (self.point(p, at, *b) - self.point(p, at, *a)).dot(*along);
                let k = 1.0 / (tolerance * scale);
                let s = rows.add((d - distance) * k);
                if slopes {
                    self.point_slope(p, *b, *along * k, s);
                    self.point_slope(p, *a, *along * -k, s);
                }
            }
            Row::Distance { a, b, distance, tolerance } => {
                let v = self.point(p, at, *b) - self.point(p, at, *a);
                let u = v.unit_or(Vec3::X);
                let k = 1.0 / (tolerance * scale);
                let s = rows.add((v.norm() - distance) * k);
                if slopes {
                    self.point_slope(p, *b, u * k, s);
                    self.point_slope(p, *a, u * -k, s);
                }
            }
            Row::Off { skin, at: o, out, distance, tolerance } => {
                let d = (p.skin(*skin) - *o).dot(*out) - p.radius(*skin);
                let k = 1.0 / (tolerance * scale);
                let s = rows.add((d - distance) * k);
                if slopes {
                    self.point_slope(p, Point::Skin(*skin), *out * k, s);
                }
            }
            Row::Clear { skin, at: o, out, least, tolerance } => {
                let d = (p.skin(*skin) - *o).dot(*out) - p.radius(*skin);
                if d < *least {
                    let k = 1.0 / (tolerance * scale);
                    let s = rows.add((d - least) * k);
                    if slopes {
                        self.point_slope(p, Point::Skin(*skin), *out * k, s);
                    }
                }
            }
            Row::TurnedOut { side, target, tolerance } => {
                turned_row(at, *side, *target, *tolerance, rows);
            }
            Row::TurnedAtLeast { side, least, tolerance } => {
                if turned_out(&at.state, *side).value < *least {
                    turned_row(at, *side, *least, *tolerance, rows);
                }
            }
            Row::ClearPlane { at: o, out, tolerance } => {
                let k = 1.0 / (tolerance * scale);
                for skin in Skin::all() {
                    let d = (p.skin(skin) - *o).dot(*out) - p.radius(skin) + p.gives(skin);
                    if d < 0.0 {
                        let s = rows.add(d * k);
                        if slopes {
                            self.point_slope(p, Point::Skin(skin), *out * k, s);
                        }
                    }
                }
            }
            Row::KeepOff { skin, at: o, out, tolerance } => {
                let k = 1.0 / (tolerance * scale);
                let d = (p.skin(*skin) - *o).dot(*out) - p.radius(*skin);
                if d < 0.0 {
                    let s = rows.add(d * k);
                    if slopes {
                        self.point_slope(p, Point::Skin(*skin), *out * k, s);
                    }
                }
            }
            Row::AtLeastApart { a, b, along, least, tolerance } => {
                let k = 1.0 / (tolerance * scale);
                let d = (self.point(p, at, *b) - self.point(p, at, *a)).dot(*along) - least;
                if d < 0.0 {
                    let s = rows.add(d * k);
                    if slopes {
                        self.point_slope(p, *b, *along * k, s);
                        self.point_slope(p, *a, *along * -k, s);
                    }
                }
            }
            Row::ClearRound { face, sink, tolerance } => {
                let Face::Round { rolling, .. } = face else { return };
                // From far away the body may pass through it, as contacts come in by stages.
                let k = self.contact_weight / (tolerance * scale);
                for skin in Skin::all() {
                    let give = p.gives(skin).max(sink * scale);
                    let (d, out) = self.distance(p, at, skin, *face);
                    if d + give < 0.0 {
                        let s = rows.add((d + give) * k);
                        if slopes {
                            self.point_slope(p, Point::Skin(skin), out * k, s);
                            place_slope(*rolling, out * -k, s);
                        }
                    }
                }
            }
            Row::ClearBlock { rolling, block, sink, tolerance } => {
                let k = self.contact_weight / (tolerance * scale);
                for skin in Skin::all() {
                    let give = p.gives(skin).max(sink * scale);
                    let (d, out) = block.distance(p.skin(skin) - at.rolling[*rolling]);
                    let d = d - p.radius(skin) + give;
                    if d < 0.0 {
                        let s = rows.add(d * k);
                        if slopes {
                            self.point_slope(p, Point::Skin(skin), out * k, s);
                            place_slope(*rolling, out * -k, s);
                        }
                    }
                }
            }
            Row::OnSide { skin, face, to, least, tolerance } => {
                let Face::Round { rolling, radius, axis, .. } = face else { return };
                let (d, out) = self.distance(p, at, *skin, *face);
                let part = out.dot(*to);
                if part < *least {
                    let s = rows.add((least - part) / tolerance);
                    if slopes {
                        let length = (d + p.radius(*skin) + radius).max(1e-6);
                        // A roller has no direction along its axis.
                        let flat = axis.map_or(*to, |a| *to - a * a.dot(*to));
                        let across = (flat - out * part) * (1.0 / (length * tolerance));
                        self.point_slope(p, Point::Skin(*skin), -across, s);
                        place_slope(*rolling, across, s);
                    }
                }
            }
            Row::ClearSkin { a, b, sink, tolerance } => {
                let v = p.skin(*a) - p.skin(*b);
                let d = v.norm() - (p.radius(*a) + p.radius(*b)) + sink * scale;
                if d < 0.0 {
                    let k = 1.0 / (tolerance * scale);
                    let u = v.unit_or(Vec3::Z);
                    let s = rows.add(d * k);
                    if slopes {
                        self.point_slope(p, Point::Skin(*a), u * k, s);
                        self.point_slope(p, Point::Skin(*b), u * -k, s);
                    }
                }
            }
            Row::Balance { points, tolerance } => {
                self.balance(points, *tolerance, at, p, scale, slopes, rows)
            }
            Row::RollingNear { rolling, target, tolerance } => {
                let off = at.rolling[*rolling] - *target;
                for (axis, t) in tolerance.iter().enumerate() {
                    let k = 1.0 / (t * scale);
                    rows.single.push((REST + 3 * rolling + axis, off.at(axis) * k, k));
                }
            }
        }
    }

    /// Three rows, one an axis of the room.
    fn each_axis(
        &self,
        off: Vec3,
        k: f64,
        rows: &mut Rows,
        slopes: bool,
        mut fill: impl FnMut(Vec3, &mut [f64]),
    ) {
        for e in [Vec3::X, Vec3::Y, Vec3::Z] {
            let s = rows.add(off.dot(e) * k);
            if slopes {
                fill(e * k, s);
            }
        }
    }

    #[expect(clippy::too_many_arguments, reason = "one row kind of many, cut out for length")]
    fn balance(
        &self,
        points: &[Skin],
        tolerance: f64,
        at: &At,
        p: &Placed,
        scale: f64,
        slopes: bool,
        rows: &mut Rows,
    ) {
        let start = REST + 3 * self.rolling;
        let com = p.centre_of_mass();
        let k = 1.0 / (tolerance * scale);
        let mut off = com;
        let mut whole = -1.0;
        for (i, skin) in points.iter().enumerate() {
            off = off - p.skin(*skin) * at.shares[i];
            whole += at.shares[i];
            // Equal shares unless something asks otherwise, so that the answer is one.
            let even = 1.0 / points.len() as f64;
            rows.single.push((start + i, at.shares[i] - even, 1.0));
        }
        let speeds = if slopes { p.centre_of_mass_speeds() } else { [Vec3::ZERO; COUNT] };
        for e in [Vec3::X, Vec3::Z] {
            let s = rows.add(off.dot(e) * k);
            if !slopes {
                continue;
            }
            let along = e * k;
            // The centre of mass moves whole with the root; the support points take their shares off.
            let arm = com - p.root();
            for (i, axis) in [Vec3::X, Vec3::Y, Vec3::Z].into_iter().enumerate() {
                s[i] += along.dot(axis);
                s[TURN + i] += along.dot(axis.cross(arm));
            }
            for (d, speed) in speeds.iter().enumerate() {
                s[JOINTS + d] += along.dot(*speed);
            }
            for (i, skin) in points.iter().enumerate() {
                self.point_slope(p, Point::Skin(*skin), along * -at.shares[i], s);
                s[start + i] -= along.dot(p.skin(*skin));
            }
        }
        let s = rows.add(whole * 1000.0);
        for i in 0..points.len() {
            s[start + i] = 1000.0;
        }
    }
}

fn turned_row(at: &At, side: Side, target: f64, tolerance: f64, rows: &mut Rows) {
    let turned = turned_out(&at.state, side);
    let s = rows.add((turned.value - target) / tolerance);
    s[JOINTS + paired(Limb::ShoulderRotation, side).0] += 1.0 / tolerance;
    s[JOINTS + paired(Limb::ShoulderFlexion, side).0] += turned.by_flexion / tolerance;
    s[JOINTS + paired(Limb::ShoulderAbduction, side).0] += turned.by_abduction / tolerance;
}

fn way_pair(s: &Settling, p: &Placed, at: &At, a: Way, b: Way, sign: f64) -> Vec3 {
    a.of(s, p, at) - b.of(s, p, at) * sign
}

/// Two directions across `out`.
pub fn tangents(out: Vec3) -> (Vec3, Vec3) {
    let a = if out.y.abs() < 0.9 { Vec3::Y } else { Vec3::X };
    let a = (a - out * out.dot(a)).unit_or(Vec3::X);
    (a, out.cross(a))
}

/// The rows that hold for every body: two-joint muscles, and limbs that don't pass through each other.
pub fn always(limits: &Limits) -> Vec<Row> {
    use crate::body::flesh::*;
    let mut rows = Vec::new();
    for side in Side::BOTH {
        for c in COUPLED {
            rows.push(Row::SumAtMost {
                parts: c.parts.iter().map(|(l, k)| (paired(*l, side), *k)).collect(),
                most: radians(c.most),
                tolerance: radians(1.0),
            });
        }
        // The margin keeps the raised arm strictly below its limit, which holds in every plane.
        rows.push(Row::ElevationAtMost {
            side,
            most: radians((limits.elevation(side) - 0.3).max(0.0)),
            tolerance: radians(0.05),
        });
        rows.push(Row::TurnedAtLeast { side, least: radians(-90.0), tolerance: radians(2.0) });
        let arm = |ball| Skin { ball, side };
        for other in [HIP_SIDE, FLANK, RIB_SIDE, THIGH_TOP, THIGH_MID] {
            for mine in [ELBOW, WRIST, PALM_THUMB] {
                rows.push(Row::ClearSkin { a: arm(mine), b: arm(other), sink: 0.0, tolerance: 0.004 });
            }
        }
    }
    // A thigh sinks into a belly, but not through it: from memory.
    for side in Side::BOTH {
        for ball in [THIGH_MID, THIGH_LOW] {
            let (a, b) = (Skin { ball, side }, Skin { ball: BELLY, side: Side::Right });
            rows.push(Row::ClearSkin { a, b, sink: 0.035, tolerance: 0.004 });
        }
    }
    for ball in [THIGH_MID, THIGH_LOW, KNEE, CALF, SHIN_LOW, ANKLE, HEEL] {
        for other in [THIGH_MID, THIGH_LOW, KNEE, CALF, SHIN_LOW, ANKLE, HEEL] {
            rows.push(Row::ClearSkin {
                a: Skin { ball, side: Side::Right },
                b: Skin { ball: other, side: Side::Left },
                sink: 0.006,
                tolerance: 0.003,
            });
        }
    }
    rows
}

/// Keeps every coordinate but `asked` near `targets`.
pub fn stay_near(targets: &State, asked: &[bool; COUNT], tolerance: &[f64; COUNT]) -> Vec<Row> {
    (0..COUNT)
        .filter(|i| !asked[*i])
        .map(|i| Row::Near { dof: Dof(i), target: targets.angles[i], tolerance: tolerance[i] })
        .collect()
}

/// How stiffly a coordinate keeps its place when nobody asks for it, radians.
/// From `method.md` 1 (20°); the spine, girdle and toes less freely: from memory.
pub fn usual_tolerance(d: Dof) -> f64 {
    radians(match d {
        dof::LUMBAR_FLEXION | dof::THORAX_FLEXION => 10.0,
        dof::LUMBAR_BEND | dof::THORAX_BEND | dof::LUMBAR_TURN | dof::THORAX_TURN => 4.0,
        dof::NECK_FLEXION | dof::NECK_BEND | dof::NECK_TURN => 12.0,
        dof::HEAD_FLEXION => 8.0,
        _ => match d.limb().map(|(_, l)| l) {
            Some(Limb::BladeElevation | Limb::BladeProtraction) => 6.0,
            Some(Limb::Inversion | Limb::WristDeviation) => 10.0,
            Some(Limb::ToeExtension) => 40.0,
            // Sideways is not how a body makes room for a movement forwards.
            Some(Limb::HipAbduction) => 6.0,
            Some(Limb::HipRotation) => 9.0,
            Some(Limb::ShoulderAbduction) => 12.0,
            _ => 20.0,
        },
    })
}
