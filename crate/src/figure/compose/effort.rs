//! Pushes, squeezes and what stays still.

use super::*;

/// The directions of all pushes without movement.
pub(in crate::figure) fn pushes(movement: &Movement, placed: &[Placed]) -> Vec<Vec3> {
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
pub(in crate::figure) fn push_way(movement: &Movement, placed: &Placed, part: Spot, into: Surface) -> Vec3 {
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

/// From a point on the body towards a standing thing.
pub(in crate::figure) fn towards_thing(at: Vec3, shape: &Form, placed: &Placed) -> Vec3 {
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

/// Between the tips of a squeeze, page units.
const GRIP: f64 = 12.0;

impl Maker<'_> {
    /// Pieces that make an effort in a key pose.
    pub(super) fn pressed(&self, key: usize) -> Vec<Part> {
        let Some((key, placed)) = self.key(key) else { return Vec::new() };
        let moves = |e: &&Effort| matches!(e, Effort::Squeeze(_) | Effort::Push { .. });
        key.efforts.iter().filter(moves).filter_map(|e| effort_part(e, placed)).collect()
    }

    /// The marks of an effort that shows no movement.
    pub(super) fn effort(&self, effort: &Effort, placed: &Placed, lens: Lens, ask: &Ask) -> Vec<Stroke> {
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
                let middle = |w: &Worked| {
                    let shape = Shape { placed, grips: [false; 2] };
                    let area = shape.patch(w).unwrap_or_else(|| shape.samples(Part::of(w.segment)));
                    let discs = lens.discs(&area);
                    let n = discs.len().max(1) as f64;
                    (discs.iter().map(|d| d.x).sum::<f64>() / n, discs.iter().map(|d| d.y).sum::<f64>() / n)
                };
                let c = middle(w);
                // Both shoulder blades go towards each other.
                if let Segment::Girdle(side) = w.segment {
                    let twin = Worked { segment: Segment::Girdle(side.other()), ..*w };
                    let other = middle(&twin);
                    let both = self.movement.keys.iter().any(|k| k.efforts.contains(&Effort::Squeeze(twin)));
                    if both && GRIP < math::hypot(other.0 - c.0, other.1 - c.1) {
                        return if side == Side::Right { vec![marks::squeeze(c, other)] } else { Vec::new() };
                    }
                }
                // On the muscle itself, across the limb.
                let (a, b) = (flat(placed.joint(w.segment)), flat(placed.far_end(w.segment)));
                let along = (b.1 - a.1, a.0 - b.0);
                let l = math::hypot(along.0, along.1);
                let t = if l < 1.0 { (1.0, 0.0) } else { (along.0 / l, along.1 / l) };
                let tip = |sign: f64| (c.0 + sign * GRIP * 0.5 * t.0, c.1 + sign * GRIP * 0.5 * t.1);
                vec![marks::squeeze(tip(1.0), tip(-1.0))]
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
}

/// The piece that an effort belongs to; none for the whole body's.
pub(super) fn effort_part(effort: &Effort, placed: &Placed) -> Option<Part> {
    use crate::pose::ask::Bit;
    match effort {
        Effort::Squeeze(w) => Some(Part::of(w.segment)),
        Effort::Push { part, .. } => Some(Part::of(things::spot(placed, *part).1)),
        Effort::BreatheOut => Some(Part::Head),
        Effort::StayStill(Bit::Segment(s)) => Some(Part::of(*s)),
        Effort::StayStill(Bit::PelvisAcross) => Some(Part::LowTrunk),
        Effort::StayStill(_) => None,
    }
}
