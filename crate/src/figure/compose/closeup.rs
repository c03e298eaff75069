//! What stands in a close-up, and how large.

use super::{Ask, Maker};
use crate::body::Placed;
use crate::body::names::Side;
use crate::figure::paint::Lens;
use crate::figure::shape::{Limb, Part};
use crate::figure::things;
use crate::pose::ask::Spot;

/// Room round the pieces of a close-up, page units at the usual scale.
const ROUND: f64 = 16.0;

impl Maker<'_> {
    /// The same frame, so near that `parts` fill a box whose longest side is `size`.
    pub(super) fn close_up(&self, ask: Ask, parts: Vec<Part>, size: f64) -> Ask {
        let discs = [Some(ask.key), ask.ghost.as_ref().map(|g| g.0)]
            .into_iter()
            .flatten()
            .flat_map(|k| self.discs(k, &parts, ask.lens));
        let b = discs.fold([f64::MAX, f64::MAX, f64::MIN, f64::MIN], |b, d| {
            [b[0].min(d.x - d.r), b[1].min(d.y - d.r), b[2].max(d.x + d.r), b[3].max(d.y + d.r)]
        });
        if b[2] <= b[0] {
            return ask;
        }
        let (w, h) = (b[2] - b[0] + 2.0 * ROUND, b[3] - b[1] + 2.0 * ROUND);
        let zoom = (size / w.max(h)).clamp(1.0, 3.0);
        // Not too narrow: what is next to it tells where it is.
        let half = |own: f64, other: f64| 0.5 * zoom * own.max(0.7 * other);
        let (cx, cy) = (0.5 * zoom * (b[0] + b[2]), 0.5 * zoom * (b[1] + b[3]));
        let (a, c) = (half(w, h), half(h, w));
        Ask {
            shown: parts,
            crop: Some([cx - a, cy - c, cx + a, cy + c]),
            lens: Lens { scale: ask.lens.scale * zoom, ..ask.lens },
            ..ask
        }
    }
}

/// What stands in a close-up of a place.
pub(super) fn around(spot: Spot, placed: &Placed) -> Vec<Part> {
    let (_, segment) = things::spot(placed, spot);
    let part = Part::of(segment);
    match part {
        Part::Head | Part::Neck => vec![Part::Head, Part::Neck],
        // The pelvis shows its tilt and roll by what hangs on it.
        Part::LowTrunk => vec![Part::LowTrunk, Part::Thigh(Side::Right), Part::Thigh(Side::Left)],
        Part::HighTrunk => vec![Part::HighTrunk, Part::UpperArm(Side::Right), Part::UpperArm(Side::Left)],
        // A limb from there outwards, and what carries it.
        _ => {
            let mut limb = neighbours(&[part]);
            limb.extend(Part::ALL.into_iter().filter(|p| beyond(*p, part)));
            crate::sorting::sort(&mut limb);
            limb.dedup();
            limb
        }
    }
}

/// Whether a piece hangs on another, or on what hangs on it.
fn beyond(part: Part, on: Part) -> bool {
    core::iter::successors(part.parent(), |p| p.parent()).any(|p| p == on)
}

/// These pieces and what carries them.
pub(super) fn neighbours(parts: &[Part]) -> Vec<Part> {
    let next = |p: &Part| {
        let carried = matches!(p.limb(), Limb::Arm(_) | Limb::Leg(_));
        parts.contains(p) || (carried && parts.iter().any(|q| q.parent() == Some(*p)))
    };
    Part::ALL.into_iter().filter(next).collect()
}
