//! Things in the room and things on the body, drawn in the same hand.

use super::paint::{Extra, Geo, Lens, Solid, Stroke, Tone};
use super::shape::{Part, Round};
use crate::body::names::{Segment, Side};
use crate::body::{Placed, Skin};
use crate::pose::ask::{PropKind, Spot};
use crate::pose::movement::{End, Shape as Form, Thing};
use crate::space::{Vec3, v3};

/// The middle of a skin region, its thickness, and the segment that carries it.
pub(super) fn spot(placed: &Placed, spot: Spot) -> (Round, Segment) {
    let balls = Skin::of(spot.region, spot.side);
    let n = balls.len().max(1) as f64;
    let centre = balls.iter().fold(Vec3::ZERO, |s, b| s + placed.skin(*b)) * (1.0 / n);
    let radius = balls.iter().map(|b| placed.radius(*b)).fold(0.0, f64::max);
    let segment = balls.first().map_or(Segment::Pelvis, |b| b.segment());
    ((centre, radius), segment)
}

/// A standing thing; `top` is as high as a wall is drawn, metres. A chair is two: its back may be before or behind
/// whoever sits.
pub(super) fn standing(thing: &Thing, lens: Lens, top: f64) -> Vec<Solid> {
    let stroke = |tone, geos| Stroke { tone, geos };
    let solid = |low: Vec3, high: Vec3, strokes| Solid { strokes, span: Some((low, high)) };
    match &thing.shape {
        Form::Block { low, high } => vec![match thing.kind {
            PropKind::Table | PropKind::Worktop | PropKind::Bed => {
                solid(*low, *high, tabled(*low, *high, lens))
            }
            _ => solid(*low, *high, block(*low, *high, lens)),
        }],
        Form::Chair { low, high, back } => {
            let mut out = vec![solid(*low, *high, tabled(*low, *high, lens))];
            if let Some(side) = back {
                // Its upright stands along the seat's edge on that side, about as high again as the seat.
                let mid = low.lerp(*high, 0.5);
                let half = (*high - *low) * 0.5;
                let top = high.y + high.y.clamp(0.3, 0.5);
                let to = v3(side.x * half.x, 0.0, side.z * half.z);
                let across = v3(half.x * side.z.abs().round(), 0.0, half.z * side.x.abs().round());
                let foot = v3(mid.x, high.y, mid.z) + to;
                let up = v3(0.0, top - high.y, 0.0) + side.unit_or(Vec3::X) * 0.03;
                let p = |v: Vec3| lens.point(v);
                let slab = [foot - across, foot + across, foot + across + up, foot - across + up];
                let discs = slab.map(|v| super::outline::Disc { x: p(v).0, y: p(v).1, r: 4.0 });
                let piece = stroke(Tone::Thing, vec![Geo::Hull(discs.to_vec())]);
                let least = |f: fn(&Vec3) -> f64| slab.iter().map(f).fold(f64::MAX, f64::min);
                let most = |f: fn(&Vec3) -> f64| slab.iter().map(f).fold(f64::MIN, f64::max);
                let span = (
                    v3(least(|v| v.x), least(|v| v.y), least(|v| v.z)),
                    v3(most(|v| v.x), most(|v| v.y), most(|v| v.z)),
                );
                out.insert(0, solid(span.0, span.1, vec![piece]));
            }
            out
        }
        Form::Wall { at, faces } => {
            vec![Solid { strokes: wall(thing.kind, *at, *faces, lens, top), span: None }]
        }
        Form::Bar { from, to } => {
            let mut out = Vec::new();
            let (a, b) = (lens.point(*from), lens.point(*to));
            // Posts to the floor.
            for end in [*from, *to] {
                let (top, foot) = (lens.point(end), lens.point(v3(end.x, 0.0, end.z)));
                out.push(stroke(Tone::Band, vec![Geo::Line(vec![(top.0, top.1), (foot.0, foot.1)])]));
            }
            let r = 0.017 * lens.scale;
            let disc = |p: (f64, f64, f64)| super::outline::Disc { x: p.0, y: p.1, r };
            out.push(stroke(Tone::Thing, vec![Geo::Hull(vec![disc(a), disc(b)])]));
            let low = v3(from.x.min(to.x), 0.0, from.z.min(to.z));
            vec![solid(low, v3(from.x.max(to.x), from.y.max(to.y), from.z.max(to.z)), out)]
        }
        Form::Ball { centre, radius } => {
            let d = lens.disc((*centre, *radius));
            let half = v3(*radius, *radius, *radius);
            let strokes = vec![
                stroke(Tone::Thing, vec![Geo::Hull(vec![d])]),
                stroke(
                    Tone::ThingLight,
                    vec![Geo::Hull(vec![super::outline::Disc {
                        r: d.r * 0.30,
                        x: d.x - d.r * 0.4,
                        y: d.y - d.r * 0.4,
                    }])],
                ),
            ];
            vec![solid(*centre - half, *centre + half, strokes)]
        }
        Form::Roller { from, to, radius } => {
            let (a, b) = (lens.disc((*from, *radius)), lens.disc((*to, *radius)));
            let mut out = vec![stroke(Tone::Thing, vec![Geo::Hull(vec![a, b])])];
            // The end that looks at the reader.
            let near = if lens.point(*from).2 < lens.point(*to).2 { b } else { a };
            out.push(stroke(
                Tone::ThingLight,
                vec![Geo::Hull(vec![super::outline::Disc { r: near.r * 0.6, ..near }])],
            ));
            let half = v3(*radius, *radius, *radius);
            let low = v3(from.x.min(to.x), from.y.min(to.y), from.z.min(to.z)) - half;
            vec![solid(low, v3(from.x.max(to.x), from.y.max(to.y), from.z.max(to.z)) + half, out)]
        }
        _ => Vec::new(),
    }
}

fn corners(low: Vec3, high: Vec3) -> [Vec3; 8] {
    let mut out = [low; 8];
    for (i, c) in out.iter_mut().enumerate() {
        if i & 1 != 0 {
            c.x = high.x;
        }
        if i & 2 != 0 {
            c.y = high.y;
        }
        if i & 4 != 0 {
            c.z = high.z;
        }
    }
    out
}

fn slab(low: Vec3, high: Vec3, lens: Lens, r: f64) -> Geo {
    Geo::Hull(
        corners(low, high)
            .into_iter()
            .map(|c| {
                let (x, y, _) = lens.point(c);
                super::outline::Disc { x, y, r }
            })
            .collect(),
    )
}

/// A box: its outline, and its top where that is seen.
fn block(low: Vec3, high: Vec3, lens: Lens) -> Vec<Stroke> {
    let mut out = vec![Stroke { tone: Tone::Thing, geos: vec![slab(low, high, lens, 2.0)] }];
    if 0.08 < lens.camera.towards.y {
        let top = v3(low.x, high.y, low.z);
        out.push(Stroke { tone: Tone::ThingLight, geos: vec![slab(top, high, lens, 2.0)] });
    }
    out
}

/// A top on four legs.
fn tabled(low: Vec3, high: Vec3, lens: Lens) -> Vec<Stroke> {
    let thick = (high.y * 0.14).clamp(0.03, 0.07);
    let inset = 0.03;
    let legs = [
        (low.x + inset, low.z + inset),
        (low.x + inset, high.z - inset),
        (high.x - inset, low.z + inset),
        (high.x - inset, high.z - inset),
    ];
    let r = 0.014 * lens.scale;
    let mut geos: Vec<Geo> = Vec::new();
    for (x, z) in legs {
        let (a, b) = (lens.point(v3(x, high.y - thick, z)), lens.point(v3(x, 0.0, z)));
        let disc = |p: (f64, f64, f64), up: f64| super::outline::Disc { x: p.0, y: p.1 - up, r };
        let geo = Geo::Hull(vec![disc(a, 0.0), disc(b, r)]);
        // Legs one behind the other are one.
        let b = geo.bounds();
        if !geos.iter().any(|o| (o.bounds()[0] - b[0]).abs() < 6.0 && (o.bounds()[3] - b[3]).abs() < 6.0) {
            geos.push(geo);
        }
    }
    let mut out = vec![Stroke { tone: Tone::Thing, geos }];
    out.append(&mut block(v3(low.x, high.y - thick, low.z), high, lens));
    out
}

fn wall(kind: PropKind, at: Vec3, faces: Vec3, lens: Lens, top: f64) -> Vec<Stroke> {
    let n = faces.unit_or(Vec3::X);
    let across = n.cross(Vec3::Y);
    let look = lens.camera.towards.dot(n);
    if look.abs() < 0.3 && lens.camera.up.y.abs() > 0.9 {
        // Seen along its face: a slab.
        let foot = v3(at.x, 0.0, at.z);
        let up = v3(0.0, top, 0.0);
        let (a, b) = (foot, foot - n * 0.05);
        let corner = |v: Vec3| {
            let (x, y, _) = lens.point(v);
            super::outline::Disc { x, y, r: 1.0 }
        };
        let discs = vec![corner(a), corner(b), corner(a + up), corner(b + up)];
        return vec![Stroke { tone: Tone::Thing, geos: vec![Geo::Hull(discs)] }];
    }
    if look < -0.3 {
        // From behind the wall there would be nothing else to see: only its foot.
        let half = across * 0.45;
        let p = |v: Vec3| {
            let (x, y, _) = lens.point(v);
            (x, y)
        };
        let foot = v3(at.x, 0.0, at.z);
        return vec![Stroke {
            tone: Tone::GroundLine,
            geos: vec![Geo::Line(vec![p(foot - half), p(foot + half)])],
        }];
    }
    let half = across * if kind == PropKind::Doorway { 0.45 } else { 0.55 };
    let foot = v3(at.x, 0.0, at.z);
    let up = v3(0.0, top, 0.0);
    let p = |v: Vec3| {
        let (x, y, _) = lens.point(v);
        (x, y)
    };
    let area = Geo::Area(vec![p(foot - half), p(foot + half), p(foot + half + up), p(foot - half + up)]);
    vec![Stroke { tone: Tone::Ground, geos: vec![area] }]
}

/// Things that go with the body, each painted at its own depth.
pub(super) fn carried(thing: &Thing, placed: &Placed, lens: Lens) -> Vec<Extra> {
    let h = placed.stature();
    let hull = |tone, balls: &[Round]| Stroke { tone, geos: vec![Geo::Hull(lens.discs(balls))] };
    match &thing.shape {
        Form::Under { spots, thickness } => spots
            .iter()
            .map(|s| {
                let ((c, r), _) = spot(placed, *s);
                let half = 0.5 * thickness;
                // On the floor at the lowest: a cloth under a foot is not sunk in it.
                let mid = c - Vec3::Y * (r + half);
                let mid = v3(mid.x, mid.y.max(half), mid.z);
                let long = if thing.kind == PropKind::Pillow { 0.11 * h } else { 0.03 * h };
                let balls: Vec<Round> = [-1.0, 1.0]
                    .into_iter()
                    .flat_map(|a| [v3(a * long, 0.0, 0.0), v3(0.0, 0.0, a * 1.4 * long)])
                    .map(|d| (mid + d, half.max(0.015)))
                    .collect();
                Extra {
                    strokes: vec![hull(Tone::Held, &balls)],
                    samples: balls.iter().map(|b| (b.0 - lens.camera.towards * 0.1, b.1)).collect(),
                    on: None,
                }
            })
            .collect(),
        Form::Between { spots: [a, b], thickness } => {
            let ((p, _), _) = spot(placed, *a);
            let ((q, _), _) = spot(placed, *b);
            let mid = p.lerp(q, 0.5);
            let way = (q - p).unit_or(Vec3::Z);
            let long = if thing.kind == PropKind::Ball { 0.0 } else { 0.05 * h };
            // In the gap between an arm and the trunk it lies front to back; between two limbs, along what is seen.
            let trunk = |s: &Spot| Part::of(spot(placed, *s).1).side().is_none();
            let side = if trunk(a) != trunk(b) {
                let front = placed.turn(Segment::Chest).x;
                (front - way * way.dot(front)).unit_or(Vec3::X)
            } else {
                way.cross(lens.camera.towards).unit_or(Vec3::Y)
            };
            let balls = vec![(mid + side * long, 0.5 * thickness), (mid - side * long, 0.5 * thickness)];
            vec![Extra { strokes: vec![hull(Tone::Held, &balls)], samples: balls, on: None }]
        }
        Form::Round { spots } => round(thing, spots, placed, lens),
        Form::In { hands, length } => {
            let palm = |s: Side| placed.point(Segment::Hand(s), grip_point());
            match hands.as_slice() {
                [a, b] if thing.kind != PropKind::Dumbbell => {
                    // One long thing in both hands.
                    let (p, q) = (palm(*a), palm(*b));
                    let way = (q - p).unit_or(Vec3::Z);
                    let over = ((length - (q - p).norm()) * 0.5).clamp(0.03, 0.3);
                    let (from, to) = (p - way * over, q + way * over);
                    // Seen end on, its near end is over the near hand, and large enough to be seen.
                    let facing = way.dot(lens.camera.towards);
                    let end_on = 0.85 < facing.abs();
                    let r = if end_on { 0.018 } else { 0.011 };
                    let near = if 0.0 < facing { *b } else { *a };
                    let lift = if end_on { lens.camera.towards * 0.3 } else { Vec3::ZERO };
                    let along = [from, p, p.lerp(q, 0.5), q, to];
                    vec![Extra {
                        strokes: vec![hull(Tone::Held, &[(from, r), (to, r)])],
                        samples: along.iter().map(|v| (*v + lift, r)).collect(),
                        on: end_on.then_some(Part::Hand(near)),
                    }]
                }
                _ => hands
                    .iter()
                    .map(|s| {
                        // Across the palm.
                        let way = placed.turn(Segment::Hand(*s)).x;
                        let p = palm(*s);
                        let half = if thing.kind == PropKind::Dumbbell {
                            0.065
                        } else {
                            (0.5 * length).clamp(0.05, 0.6)
                        };
                        // A little askew, or end on it would be a ball.
                        let askew = (way + placed.turn(Segment::Hand(*s)).y * 0.35).unit_or(way);
                        let way = if thing.kind == PropKind::Dumbbell { askew } else { way };
                        let (a, b) = (p - way * half, p + way * half);
                        // Seen end on, the near end is over the hand.
                        let end_on = 0.85 < way.dot(lens.camera.towards).abs();
                        let lift = if end_on { lens.camera.towards * 0.08 } else { Vec3::ZERO };
                        let mut strokes = vec![hull(Tone::Held, &[(a, 0.012), (b, 0.012)])];
                        if thing.kind == PropKind::Dumbbell {
                            for (end, inner) in [(a, 0.7), (b, 0.7)] {
                                strokes.push(hull(Tone::Held, &[(end, 0.034), (p.lerp(end, inner), 0.034)]));
                            }
                        }
                        let samples = vec![(a + lift, 0.03), (p + lift, 0.012), (b + lift, 0.03)];
                        Extra { strokes, samples, on: end_on.then_some(Part::Hand(*s)) }
                    })
                    .collect(),
            }
        }
        Form::Line { from, to } => {
            let ((b, _), _) = spot(placed, *to);
            let a = match from {
                End::Room(p) => *p,
                End::Body(s) => spot(placed, *s).0.0,
            };
            let line = |p: Vec3| {
                let (x, y, _) = lens.point(p);
                (x, y)
            };
            let mut strokes =
                vec![Stroke { tone: Tone::Band, geos: vec![Geo::Line(vec![line(a), line(b)])] }];
            if let End::Room(p) = from {
                strokes.push(hull(Tone::Held, &[(*p, 0.016)]));
            }
            let samples = (0..=6).map(|i| (a.lerp(b, f64::from(i) / 6.0), 0.012)).collect();
            vec![Extra { strokes, samples, on: None }]
        }
        _ => Vec::new(),
    }
}

/// Where a hand closes round a thing: in the palm; fractions of stature in the standing body.
fn grip_point() -> Vec3 {
    use crate::body::{FOREARM, HAND, SHOULDER_HALF_BREADTH, SHOULDER_HEIGHT, UPPER_ARM};
    v3(0.0, SHOULDER_HEIGHT - UPPER_ARM - FOREARM - 0.5 * HAND, SHOULDER_HALF_BREADTH - 0.014)
}

/// A band round two limbs, a weight or belt round one part.
fn round(thing: &Thing, spots: &[Spot], placed: &Placed, lens: Lens) -> Vec<Extra> {
    let mut rings: Vec<(Vec<Round>, Part)> = Vec::new();
    let girth = |s: &Spot| {
        let ((c, r), segment) = spot(placed, *s);
        // Round the whole limb, not only the skin point that names the place.
        let part = Part::of(segment);
        let (a, b) = (placed.joint(segment), placed.far_end(segment));
        let way = (b - a).unit_or(Vec3::Y);
        let t = (c - a).dot(way);
        let on_axis = if part.side().is_some() { a + way * t } else { c };
        ((on_axis, r), part)
    };
    let one = |s: &Spot| {
        let (ball, part) = girth(s);
        (vec![ball], part)
    };
    let sides = |s: &[Spot]| {
        s.iter().any(|x| x.side == Some(Side::Right)) && s.iter().any(|x| x.side == Some(Side::Left))
    };
    let pelvis = |s: &Spot| spot(placed, *s).1 == Segment::Pelvis;
    if thing.kind == PropKind::Belt && spots.iter().all(pelvis) {
        return vec![belt(placed, lens)];
    }
    if thing.kind == PropKind::LoopBand && sides(spots) {
        let balls: Vec<(Round, Part)> = spots.iter().map(girth).collect();
        let nearest = balls.iter().fold(None, |best: Option<&(Round, Part)>, b| match best {
            Some(o) if lens.point(b.0.0).2 <= lens.point(o.0.0).2 => best,
            _ => Some(b),
        });
        let part = nearest.map_or(Part::LowTrunk, |b| b.1);
        rings.push((balls.iter().map(|b| b.0).collect(), part));
    } else {
        rings.extend(spots.iter().map(one));
    }
    rings
        .into_iter()
        .map(|(balls, part)| {
            let half = if thing.kind == PropKind::AnkleWeight || thing.kind == PropKind::Belt {
                0.030
            } else {
                0.017
            };
            // A band about the limb's axis, as wide as it is seen.
            let segment = part.segment();
            let axis = (placed.far_end(segment) - placed.joint(segment)).unit_or(Vec3::Y);
            let tone = Tone::Held;
            let geo = if let [(c, r)] = balls.as_slice() {
                cuff(*c, *r * 1.08, axis, half, lens)
            } else {
                let mut discs = Vec::new();
                for (c, r) in &balls {
                    for k in [-1.0, 1.0] {
                        let mut d = lens.disc((*c + axis * (half * k), *r * 0.35));
                        // Outermost skin of each limb, seen across.
                        let to_mid =
                            balls.iter().fold(Vec3::ZERO, |s, b| s + b.0) * (1.0 / balls.len() as f64) - *c;
                        let out = *c - to_mid.unit_or(Vec3::Z) * (*r * 0.7) + axis * (half * k);
                        let (x, y, _) = lens.point(out);
                        (d.x, d.y) = (x, y);
                        d.r = d.r.max(2.0);
                        discs.push(d);
                    }
                }
                Geo::Hull(discs)
            };
            let samples = balls.iter().map(|(c, r)| (*c + lens.camera.towards * *r, *r)).collect();
            Extra { strokes: vec![Stroke { tone, geos: vec![geo] }], samples, on: Some(part) }
        })
        .collect()
}

/// A belt round the hips, as broad as they are seen.
fn belt(placed: &Placed, lens: Lens) -> Extra {
    use crate::body::flesh::{BUTTOCK, HIP_SIDE, PELVIS_FRONT, SACRUM};
    let skins: Vec<Skin> = [HIP_SIDE, SACRUM, PELVIS_FRONT, BUTTOCK]
        .into_iter()
        .flat_map(|ball| Side::BOTH.map(|side| Skin { ball, side }))
        .collect();
    let hip = |side| placed.skin(Skin { ball: HIP_SIDE, side });
    let middle = hip(Side::Right).lerp(hip(Side::Left), 0.5);
    let axis = placed.turn(Segment::Pelvis) * Vec3::Y;
    let flat = axis - lens.camera.towards * lens.camera.towards.dot(axis);
    let way = flat.unit_or(lens.camera.up);
    let across = way.cross(lens.camera.towards);
    let reach = |sign: f64| {
        let far = |k: &Skin| (placed.skin(*k) - middle).dot(across) * sign + placed.radius(*k);
        skins.iter().map(far).fold(0.0, f64::max) * sign
    };
    // As high as two fingers to three are broad: common practice, no source.
    let half = 0.030 * flat.norm().max(0.3);
    let corner = |side: f64, up: f64| {
        let (x, y, _) = lens.point(middle + across * side + way * (half * up));
        super::outline::Disc { x, y, r: 1.5 }
    };
    let (left, right) = (reach(-1.0), reach(1.0));
    let discs = vec![corner(left, -1.0), corner(left, 1.0), corner(right, 1.0), corner(right, -1.0)];
    Extra {
        strokes: vec![Stroke { tone: Tone::Held, geos: vec![Geo::Hull(discs)] }],
        samples: skins.iter().map(|k| (placed.skin(*k) + lens.camera.towards * 0.06, 0.03)).collect(),
        on: Some(Part::of(Segment::Pelvis)),
    }
}

/// A short tube round `axis`, as it is seen from the reader.
fn cuff(c: Vec3, r: f64, axis: Vec3, half: f64, lens: Lens) -> Geo {
    let flat = axis - lens.camera.towards * lens.camera.towards.dot(axis);
    let along = flat.norm();
    let way = flat.unit_or(lens.camera.up);
    let across = way.cross(lens.camera.towards);
    let mut points = Vec::new();
    for (a, b) in [(-1.0, -1.0), (-1.0, 1.0), (1.0, 1.0), (1.0, -1.0)] {
        let p = c + way * (a * (half * along + r * 0.25 * (1.0 - along))) + across * (b * r);
        let (x, y, _) = lens.point(p);
        points.push(super::outline::Disc { x, y, r: 1.5 });
    }
    Geo::Hull(points)
}

/// How high a fixing point is, in words.
pub(super) fn height_word(p: Vec3) -> &'static str {
    if p.y < 0.35 {
        "near the floor"
    } else if p.y < 0.75 {
        "at knee height"
    } else if p.y < 1.15 {
        "at waist height"
    } else if p.y < 1.5 {
        "at shoulder height"
    } else {
        "above your head"
    }
}
