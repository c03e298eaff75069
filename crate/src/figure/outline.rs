//! Outlines: the convex hull of discs as lines and arcs.

use crate::markup::path::Path;
use crate::measure::math;

/// A disc on the page; page units, y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Disc {
    pub x: f64,
    pub y: f64,
    pub r: f64,
}

/// How far discs reach in each of a round of directions.
pub(super) type Reach = [f64; 24];

pub(super) fn reach(discs: &[Disc]) -> Reach {
    // Sines of every 15 degrees, so that this asks no trigonometry.
    const SIN: [f64; 7] = [0.0, 0.258_819, 0.5, core::f64::consts::FRAC_1_SQRT_2, 0.866_025, 0.965_926, 1.0];
    let sin = |step: usize| match step % 24 {
        k @ 0..=6 => SIN[k],
        k @ 7..=12 => SIN[12 - k],
        k @ 13..=18 => -SIN[k - 12],
        k => -SIN[24 - k],
    };
    let mut out = [f64::MIN; 24];
    for (step, o) in out.iter_mut().enumerate() {
        let (c, s) = (sin(step + 6), sin(step));
        *o = discs.iter().map(|d| d.x * c + d.y * s + d.r).fold(f64::MIN, f64::max);
    }
    out
}

/// Whether one hull lies inside another, give or take `slack`.
pub(super) fn lies_inside(inner: &Reach, outer: &Reach, slack: f64) -> bool {
    inner.iter().zip(outer).all(|(i, o)| *i <= *o + slack)
}

/// The discs that make the hull of `discs`, in the order in which their arcs follow each other as the
/// outward direction turns from `from`; with each the direction (radians) at which its arc begins.
fn rim(discs: &[Disc]) -> Vec<(Disc, f64)> {
    // A disc wholly inside another has no arc, and would upset the tangents.
    let mut kept: Vec<Disc> = Vec::with_capacity(discs.len());
    for (i, d) in discs.iter().enumerate() {
        let covered = discs.iter().enumerate().any(|(j, o)| {
            let inside = math::hypot(o.x - d.x, o.y - d.y) + d.r <= o.r + 0.05;
            i != j && inside && (d.r < o.r - 1e-9 || j < i)
        });
        if !covered {
            kept.push(*d);
        }
    }
    let Some(first) = (0..kept.len()).reduce(|a, b| {
        let reach = |d: &Disc| d.x + d.r;
        if reach(&kept[a]) < reach(&kept[b]) { b } else { a }
    }) else {
        return Vec::new();
    };
    let turn = 2.0 * core::f64::consts::PI;
    let mut found = vec![(kept[first], 0.0)];
    let (mut now, mut angle) = (first, 0.0);
    // Each disc's arc ends where the next disc reaches as far.
    for _ in 0..2 * kept.len() {
        let mut next: Option<(usize, f64)> = None;
        for (j, o) in kept.iter().enumerate() {
            let d = kept[now];
            let (dx, dy) = (o.x - d.x, o.y - d.y);
            let apart = math::hypot(dx, dy);
            if j == now || apart <= (o.r - d.r).abs() {
                continue;
            }
            let mut at = math::atan2(dy, dx) - math::acos((d.r - o.r) / apart);
            while at < angle - 1e-9 {
                at += turn;
            }
            while angle - 1e-9 + turn <= at {
                at -= turn;
            }
            if next.is_none_or(|(_, best)| at < best) {
                next = Some((j, at));
            }
        }
        let Some((j, at)) = next else { break };
        if turn <= at {
            break;
        }
        found.push((kept[j], at));
        (now, angle) = (j, at);
    }
    found
}

/// Whether points lie inside a hull, at least `deep` below its edge.
pub(super) fn covers(outer: &Reach, points: &[(f64, f64)], deep: f64) -> bool {
    points.iter().all(|&(x, y)| lies_inside(&reach(&[Disc { x, y, r: deep }]), outer, 0.0))
}

/// The discs without those that make hardly a difference to their hull: less than 1.2 page units, 0.13 mm on a sheet.
fn telling(discs: &[Disc]) -> Vec<Disc> {
    let whole = reach(discs);
    let mut kept = discs.to_vec();
    let mut i = kept.len();
    while let Some(at) = i.checked_sub(1) {
        i = at;
        if kept.len() < 3 {
            break;
        }
        let mut fewer = kept.clone();
        fewer.remove(at);
        if lies_inside(&whole, &reach(&fewer), 1.2) {
            kept = fewer;
        }
    }
    kept
}

/// Arcs up to this are drawn as curves, radians: at most 2.7 % of the radius off.
const CURVE: f64 = 1.31;

/// Whether nobody sees points on the page.
pub(super) type Hidden<'a> = dyn FnMut(&[(f64, f64)]) -> bool + 'a;

/// Draws the hull of `discs`, moved by `by`, as one closed part of `path`, clockwise on the page.
///
/// Arcs up to `short` long, page units, are drawn as corners; arcs whose points nobody sees, as `hidden` says, as
/// straight lines.
pub(super) fn hull(path: &mut Path, discs: &[Disc], by: (f64, f64), short: f64, hidden: &mut Hidden) {
    let rim = rim(&telling(discs));
    if let [(d, _)] = rim.as_slice() {
        path.circle(d.x + by.0, d.y + by.1, d.r);
        return;
    }
    let Some((last, _)) = rim.last() else { return };
    let closes = rim.first().is_some_and(|(f, _)| f == last);
    let seen = |d: &Disc, a: f64| (d.x + d.r * math::cos(a), d.y + d.r * math::sin(a));
    let at = |d: &Disc, a: f64| (d.x + by.0 + d.r * math::cos(a), d.y + by.1 + d.r * math::sin(a));
    let turn = 2.0 * core::f64::consts::PI;
    // The first disc's arc begins where the last tangent ends; where the walk came back to the first
    // disc, its last entry says where.
    let entries: &[(Disc, f64)] = if closes { &rim[1..] } else { &rim };
    for (i, (d, begins)) in entries.iter().enumerate() {
        let ends = match entries.get(i + 1) {
            Some((_, next)) => *next,
            None => entries.first().map_or(0.0, |(_, a)| *a) + turn,
        };
        // An arc too short to be seen as one is a corner.
        // A round end stays round however short it is: without it a limb would be a line.
        if d.r * (ends - begins) < short && ends - begins < 1.6 {
            let (x, y) = at(d, (begins + ends) * 0.5);
            if i == 0 {
                path.start(x, y);
            } else {
                path.line(x, y);
            }
            continue;
        }
        let (x, y) = at(d, *begins);
        if i == 0 {
            path.start(x, y);
        } else {
            path.line(x, y);
        }
        let (x, y) = at(d, ends);
        let on = |t: f64| seen(d, begins + t * (ends - begins));
        if hidden(&[on(0.0), on(0.5), on(1.0)]) {
            path.line(x, y);
            continue;
        }
        // A short arc is hardly anything but the curve between its tangents, which takes fewer numbers.
        let sweep = ends - begins;
        if sweep < CURVE {
            let far = d.r / math::cos(sweep * 0.5);
            let middle = (begins + ends) * 0.5;
            let handle = (d.x + by.0 + far * math::cos(middle), d.y + by.1 + far * math::sin(middle));
            path.curve(handle, x, y);
            continue;
        }
        path.arc(d.r, core::f64::consts::PI < ends - begins, true, x, y);
    }
    path.close();
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(discs: &[(f64, f64, f64)]) -> String {
        let discs: Vec<Disc> = discs.iter().map(|&(x, y, r)| Disc { x, y, r }).collect();
        let mut p = Path::new();
        hull(&mut p, &discs, (0.0, 0.0), 4.0, &mut |_| false);
        p.data().to_string()
    }

    #[test]
    fn one_disc_is_a_circle_and_a_covered_disc_leaves_no_trace() {
        assert_eq!(drawn(&[(10.0, 10.0, 5.0)]), drawn(&[(10.0, 10.0, 5.0), (11.0, 10.0, 2.0)]));
        assert_eq!(drawn(&[(10.0, 10.0, 5.0)]), drawn(&[(10.0, 10.0, 5.0), (10.0, 10.0, 5.0)]));
    }

    #[test]
    fn two_equal_discs_make_a_stadium() {
        assert_eq!(drawn(&[(0.0, 0.0, 5.0), (20.0, 0.0, 5.0)]), "M0 5a5 5 0 010-10h20a5 5 0 010 10z");
    }

    #[test]
    fn an_end_that_another_hull_covers_is_a_straight_line() {
        let disc = |x: f64| Disc { x, y: 0.0, r: 5.0 };
        let (limb, next) = ([disc(0.0), disc(20.0)], [disc(20.0), disc(40.0)]);
        let over = reach(&next);
        let mut p = Path::new();
        hull(&mut p, &limb, (0.0, 0.0), 4.0, &mut |points| covers(&over, points, 0.0));
        assert_eq!(p.data(), "M0 5a5 5 0 010-10h20v10z");
    }

    #[test]
    fn every_disc_lies_inside_its_hull() {
        // Support of the hull's corner discs equals the support of all of them, in every direction.
        let discs: Vec<Disc> =
            [(0.0, 0.0, 9.0), (30.0, 4.0, 3.0), (12.0, 25.0, 6.0), (14.0, 8.0, 7.0), (-8.0, 3.0, 4.0)]
                .map(|(x, y, r)| Disc { x, y, r })
                .to_vec();
        let corners = rim(&discs);
        for step in 0..360 {
            let a = f64::from(step) * core::f64::consts::PI / 180.0;
            let reach = |d: &Disc| d.x * math::cos(a) + d.y * math::sin(a) + d.r;
            let all = discs.iter().map(reach).fold(f64::MIN, f64::max);
            let some = corners.iter().map(|(d, _)| reach(d)).fold(f64::MIN, f64::max);
            assert!((all - some).abs() < 1e-9, "{step}");
        }
    }
}
