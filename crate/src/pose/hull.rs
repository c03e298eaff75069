//! The base of support: the convex hull of what carries, seen from above.

use crate::space::{Vec3, v3};

/// The corners of the base of support on the ground plan (height 0), metres: the smallest convex polygon round
/// `points`, each corner once, in the order that turns from x to z (clockwise seen from above). Two corners where all
/// points lie in a line, one where they lie in one place, none without points.
pub fn polygon(points: &[Vec3]) -> Vec<Vec3> {
    hull(points).into_iter().map(|(x, z)| v3(x, 0.0, z)).collect()
}

/// Skin that carries is flattened round its point: half a heel's breadth, less what is soft at its edge, from memory;
/// millimetres for a 1.70 m body.
pub const BREADTH_MM: f64 = 15.0;

/// How far inside the hull of `points` (on the ground plan) `centre` lies, metres; negative outside.
/// `None` with no points.
pub fn margin(points: &[Vec3], centre: Vec3) -> Option<f64> {
    if points.is_empty() {
        return None;
    }
    let hull = hull(points);
    let p = (centre.x, centre.z);
    if hull.len() < 3 {
        // A point or a line: only ever outside, by the distance from it.
        let a = hull[0];
        let b = *hull.last().unwrap_or(&a);
        return Some(0.0 - distance_to_line(p, a, b));
    }
    let mut inside = f64::INFINITY;
    for (i, &a) in hull.iter().enumerate() {
        let b = hull[(i + 1) % hull.len()];
        let (ex, ez) = (b.0 - a.0, b.1 - a.1);
        let length = (ex * ex + ez * ez).sqrt().max(1e-12);
        inside = inside.min((ex * (p.1 - a.1) - ez * (p.0 - a.0)) / length);
    }
    if 0.0 <= inside {
        return Some(inside);
    }
    let nearest = (0..hull.len())
        .map(|i| distance_to_line(p, hull[i], hull[(i + 1) % hull.len()]))
        .fold(f64::INFINITY, f64::min);
    Some(0.0 - nearest)
}

/// Andrew's monotone chain, counter-clockwise.
fn hull(points: &[Vec3]) -> Vec<(f64, f64)> {
    let mut p: Vec<(f64, f64)> = points.iter().map(|v| (v.x, v.z)).collect();
    crate::sorting::sort_by(&mut p, |a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    p.dedup_by(|a, b| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9);
    if p.len() < 3 {
        return p;
    }
    let cross =
        |o: (f64, f64), a: (f64, f64), b: (f64, f64)| (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0);
    let half = |points: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut h: Vec<(f64, f64)> = Vec::new();
        for q in points {
            while 2 <= h.len() && cross(h[h.len() - 2], h[h.len() - 1], q) <= 1e-12 {
                h.pop();
            }
            h.push(q);
        }
        h.pop();
        h
    };
    let mut lower = half(&mut p.iter().copied());
    lower.extend(half(&mut p.iter().rev().copied()));
    lower
}

fn distance_to_line(p: (f64, f64), a: (f64, f64), b: (f64, f64)) -> f64 {
    let (ex, ez) = (b.0 - a.0, b.1 - a.1);
    let whole = ex * ex + ez * ez;
    let t = if whole < 1e-18 { 0.0 } else { (((p.0 - a.0) * ex + (p.1 - a.1) * ez) / whole).clamp(0.0, 1.0) };
    let (dx, dz) = (p.0 - a.0 - t * ex, p.1 - a.1 - t * ez);
    (dx * dx + dz * dz).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::v3;

    #[test]
    fn measures_from_the_nearest_edge() {
        let square = [v3(0.0, 0.0, 0.0), v3(2.0, 0.0, 0.0), v3(2.0, 0.0, 2.0), v3(0.0, 0.0, 2.0)];
        let at = |x, z| margin(&square, v3(x, 5.0, z));
        assert_eq!(at(1.0, 1.0), Some(1.0));
        assert!((at(1.5, 1.0).unwrap_or(0.0) - 0.5).abs() < 1e-12);
        assert!((at(3.0, 3.0).unwrap_or(0.0) + 2.0f64.sqrt()).abs() < 1e-12);
        assert_eq!(margin(&[], v3(0.0, 0.0, 0.0)), None);
        assert!((margin(&square[..1], v3(3.0, 0.0, 4.0)).unwrap_or(0.0) + 5.0).abs() < 1e-12);
    }

    #[test]
    fn the_polygon_has_each_corner_once_and_nothing_within() {
        let points =
            [v3(0.0, 0.3, 0.0), v3(2.0, 0.0, 0.0), v3(1.0, 0.0, 1.0), v3(2.0, 0.0, 2.0), v3(1.0, 0.0, 0.0)];
        assert_eq!(polygon(&points), [v3(0.0, 0.0, 0.0), v3(2.0, 0.0, 0.0), v3(2.0, 0.0, 2.0)]);
        assert_eq!(polygon(&points[..2]).len(), 2);
        assert_eq!(polygon(&[points[0]; 3]).len(), 1);
        assert!(polygon(&[]).is_empty());
    }
}
