//! Whether two pictures show the same.
//!
//! Two engines never give the same dots along an edge: one counts how much of a dot is covered exactly, the other by
//! a grid of samples, and curves are cut into pieces differently. So a dot counts as different only if it is neither
//! what the other picture has in it or in one of the eight dots around it, nor anything between these: an edge may
//! lie up to a dot (0.085 mm on paper) elsewhere, a part, a line or a colour may not.

use crate::paint::Picture;

/// How far a dot's red, green or blue may lie outside what the other picture has around it, of 255. Where a line is
/// thinner than a dot, no dot around has its full colour, and the engines' ways of counting show: measured, 17 dots of
/// a figure lie outside by more than 24, and 1 by more than 40. The nearest two tones of a figure, the start as a ghost
/// and paper, are told apart by the ghost's line, 136 of 255 in red.
pub const TOLERANCE: u8 = 40;

/// What two pictures have not in common.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Difference {
    /// Dots that lie outside by more than [`TOLERANCE`].
    pub dots: usize,
    /// The farthest that a dot lies outside.
    pub worst: u8,
    /// Where that is.
    pub at: (usize, usize),
    /// The largest difference of the same dot in both, edges included.
    pub plain: u8,
}

pub fn compare(a: &Picture, b: &Picture) -> Difference {
    let mut found = Difference::default();
    for y in 0..a.height.max(b.height) {
        for x in 0..a.width.max(b.width) {
            let (p, q) = (a.at(x, y), b.at(x, y));
            if p == q {
                continue;
            }
            let plain = (0..3).map(|i| p[i].abs_diff(q[i])).max().unwrap_or(0);
            found.plain = found.plain.max(plain);
            let off = outside(p, b, x, y).max(outside(q, a, x, y));
            found.dots += usize::from(TOLERANCE < off);
            if found.worst < off {
                (found.worst, found.at) = (off, (x, y));
            }
        }
    }
    found
}

/// How far a dot lies outside what a picture has there and around.
fn outside(dot: [u8; 3], picture: &Picture, x: usize, y: usize) -> u8 {
    let (mut low, mut high) = ([255; 3], [0; 3]);
    for dy in y.saturating_sub(1)..=(y + 1).min(picture.height.saturating_sub(1)) {
        for dx in x.saturating_sub(1)..=(x + 1).min(picture.width.saturating_sub(1)) {
            let other = picture.at(dx, dy);
            for i in 0..3 {
                low[i] = other[i].min(low[i]);
                high[i] = other[i].max(high[i]);
            }
        }
    }
    (0..3).map(|i| low[i].saturating_sub(dot[i]).max(dot[i].saturating_sub(high[i]))).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn disc(x: f64, r: f64, dark: u8) -> Picture {
        let cover = |px: usize, py: usize| {
            let (dx, dy) = (px as f64 - x, py as f64 - 20.0);
            (r - (dx * dx + dy * dy).sqrt()).clamp(0.0, 1.0)
        };
        let grey = |c: f64| (255.0 - c * f64::from(255 - dark)).round() as u8;
        let dots = (0..40).flat_map(|py| (0..60).map(move |px| [grey(cover(px, py)); 3])).collect();
        Picture { width: 60, height: 40, dots }
    }

    #[test]
    fn an_edge_may_lie_a_little_elsewhere_and_nothing_more() {
        let usual = disc(30.0, 12.0, 40);
        assert_eq!(compare(&usual, &usual), Difference::default());
        assert_eq!(compare(&usual, &disc(30.6, 12.0, 40)).dots, 0, "half a dot aside");
        assert_ne!(compare(&usual, &disc(33.0, 12.0, 40)).dots, 0, "three dots aside");
        assert_ne!(compare(&usual, &disc(30.0, 15.0, 40)).dots, 0, "larger");
        assert_ne!(compare(&usual, &disc(30.0, 12.0, 90)).dots, 0, "another tone");
        assert_ne!(compare(&usual, &disc(200.0, 12.0, 40)).dots, 0, "gone");
    }
}
