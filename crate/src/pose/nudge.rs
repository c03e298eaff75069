//! Poses with every asked angle and size a little off, to see whether a pose text is sound: one that touches
//! only by a happy choice of numbers doesn't survive it.

use super::ask::{Ask, Pose};
use crate::body::names::Angle;
use crate::body::range;

/// What is changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nudge {
    /// Added to every asked angle, degrees.
    pub degrees: f64,
    /// The same with the other sign for every second one.
    pub alternating: bool,
    /// Every size and height of a thing times this.
    pub sizes: f64,
}

impl Nudge {
    /// The ones of `method.md` 1: angles 5° up, down and by turns, things a tenth larger and smaller.
    pub const ALL: [Nudge; 5] = [
        Nudge { degrees: 5.0, alternating: false, sizes: 1.0 },
        Nudge { degrees: -5.0, alternating: false, sizes: 1.0 },
        Nudge { degrees: 5.0, alternating: true, sizes: 1.0 },
        Nudge { degrees: 0.0, alternating: false, sizes: 1.1 },
        Nudge { degrees: 0.0, alternating: false, sizes: 0.9 },
    ];
}

/// The poses as nudged. Angles stay within the joints' ranges, and no motion turns into its opposite.
pub fn nudged(poses: &[Pose], by: Nudge) -> Vec<Pose> {
    let mut count = 0;
    let mut all = poses.to_vec();
    for pose in &mut all {
        for ask in &mut pose.asks {
            if let Ask::Angle { joint, motion, degrees, sides } = &mut ask.what {
                let side = sides.each().next().filter(|_| joint.is_paired());
                let most = range::highest(Angle { side, joint: *joint, motion: *motion }).unwrap_or(*degrees);
                let sign = if by.alternating && count % 2 == 1 { -1.0 } else { 1.0 };
                *degrees = (*degrees + sign * by.degrees).clamp(0.0, most.max(0.0));
                count += 1;
            }
        }
        for prop in &mut pose.props {
            prop.what.cm = prop.what.cm.or(prop.what.kind.usual_cm()).map(|cm| cm * by.sizes);
        }
    }
    all
}
