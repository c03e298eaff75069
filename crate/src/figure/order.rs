//! Painter's order: what is farther is painted first, decided pair by pair where pieces overlap on
//! the page.

use super::outline::Disc;
use super::paint::Stroke;

/// Something to be painted at one go.
#[derive(Default)]
pub(super) struct Item {
    /// Discs along it with their nearness to the reader, page units.
    pub samples: Vec<(Disc, f64)>,
    /// Items of the same group follow each other where order allows.
    pub group: u8,
    /// The item it hangs on, painted before it unless it lies clearly behind.
    pub hangs_on: Option<usize>,
    /// Its box on the page, where it has no samples: it is before or behind others only as told.
    pub frame: Option<[f64; 4]>,
}

impl Item {
    /// An item that is ordered only as told.
    pub fn boxed(strokes: &[Stroke]) -> Item {
        let frame = strokes.iter().flat_map(|s| &s.geos).fold(EMPTY, |b, g| {
            let o = g.bounds();
            [b[0].min(o[0]), b[1].min(o[1]), b[2].max(o[2]), b[3].max(o[3])]
        });
        Item { group: 101, frame: Some(frame), ..Item::default() }
    }

    /// Whether their boxes on the page overlap.
    pub fn meets(&self, other: &Item) -> bool {
        let (a, b) = (bounds(self), bounds(other));
        a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3]
    }
}

const EMPTY: [f64; 4] = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];

/// How strongly an order that was told is wanted; more than any that depths suggest.
const TOLD: f64 = 1e6;

/// The order in which to paint. Of each pair of `told` the first is painted before the second if they meet.
pub(super) fn order(items: &[Item], told: &[(usize, usize)]) -> Vec<usize> {
    let n = items.len();
    let boxes: Vec<[f64; 4]> = items.iter().map(bounds).collect();
    // before[i][j]: how strongly i wants to be painted before j.
    let mut before = vec![0.0; n * n];
    for i in 0..n {
        for j in i + 1..n {
            let (a, b) = (&boxes[i], &boxes[j]);
            if a[2] < b[0] || b[2] < a[0] || a[3] < b[1] || b[3] < a[1] {
                continue;
            }
            let mut sum = 0.0;
            let mut weight = 0.0;
            for (p, zp) in &items[i].samples {
                for (q, zq) in &items[j].samples {
                    let (dx, dy, r) = (q.x - p.x, q.y - p.y, p.r + q.r);
                    let d2 = dx * dx + dy * dy;
                    if d2 < r * r {
                        let overlap = r - d2.sqrt();
                        sum += overlap * (zq - zp);
                        weight += overlap;
                    }
                }
            }
            if weight <= 0.0 {
                continue;
            }
            let mut nearer = sum / weight;
            // A limb lies on the trunk that it hangs on unless it is clearly behind.
            if items[j].hangs_on == Some(i) {
                nearer += 6.0;
            } else if items[i].hangs_on == Some(j) {
                nearer -= 6.0;
            }
            let strength = nearer * weight.min(20.0);
            if 0.0 < strength {
                before[i * n + j] = strength;
            } else {
                before[j * n + i] = -strength;
            }
        }
    }
    for &(i, j) in told {
        if let (Some(a), Some(b)) = (items.get(i), items.get(j))
            && a.meets(b)
        {
            before[i * n + j] = TOLD;
            before[j * n + i] = 0.0;
        }
    }
    let mut placed = vec![false; n];
    let mut out = Vec::with_capacity(n);
    let mut last: Option<u8> = None;
    for _ in 0..n {
        // The waiting item with the least left before it; of those, the same group, then the farthest.
        let mut best: Option<(f64, bool, f64, usize)> = None;
        for i in (0..n).filter(|i| !placed[*i]) {
            let debt: f64 = (0..n).filter(|j| !placed[*j]).map(|j| before[j * n + i]).sum();
            let other = last != Some(items[i].group);
            let depth =
                items[i].samples.iter().map(|s| s.1).sum::<f64>() / items[i].samples.len().max(1) as f64;
            let better = match best {
                None => true,
                Some((d, o, z, _)) => {
                    if (debt - d).abs() < 1e-9 {
                        (other, depth) < (o, z)
                    } else {
                        debt < d
                    }
                }
            };
            if better {
                best = Some((debt, other, depth, i));
            }
        }
        let Some((_, _, _, i)) = best else { break };
        placed[i] = true;
        last = Some(items[i].group);
        out.push(i);
    }
    out
}

fn bounds(item: &Item) -> [f64; 4] {
    if let Some(frame) = item.frame {
        return frame;
    }
    item.samples.iter().fold(EMPTY, |b, (d, _)| {
        [b[0].min(d.x - d.r), b[1].min(d.y - d.r), b[2].max(d.x + d.r), b[3].max(d.y + d.r)]
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(x: f64, z: f64, group: u8) -> Item {
        Item { samples: vec![(Disc { x, y: 0.0, r: 10.0 }, z)], group, ..Item::default() }
    }

    #[test]
    fn the_farther_is_painted_first() {
        assert_eq!(order(&[item(0.0, 5.0, 0), item(3.0, 1.0, 1), item(6.0, 9.0, 2)], &[]), [1, 0, 2]);
    }

    #[test]
    fn a_limb_stays_together_where_nothing_forbids_it() {
        assert_eq!(order(&[item(0.0, 1.0, 0), item(100.0, 2.0, 1), item(200.0, 3.0, 0)], &[]), [0, 2, 1]);
    }

    #[test]
    fn what_is_told_outweighs_depth_where_they_meet() {
        let items = [item(0.0, 9.0, 0), item(3.0, 1.0, 1)];
        assert_eq!(order(&items, &[]), [1, 0]);
        assert_eq!(order(&items, &[(0, 1)]), [0, 1]);
        assert_eq!(order(&[item(0.0, 9.0, 0), item(90.0, 1.0, 1)], &[(0, 1)]), [1, 0]);
    }

    #[test]
    fn a_circle_of_overlaps_still_paints_everything_once() {
        let mut items = vec![item(0.0, 0.0, 0), item(0.0, 0.0, 1), item(0.0, 0.0, 2)];
        items[0].samples =
            vec![(Disc { x: 0.0, y: 0.0, r: 5.0 }, 1.0), (Disc { x: 50.0, y: 0.0, r: 5.0 }, 0.0)];
        items[1].samples =
            vec![(Disc { x: 0.0, y: 0.0, r: 5.0 }, 0.0), (Disc { x: 99.0, y: 0.0, r: 5.0 }, 1.0)];
        items[2].samples =
            vec![(Disc { x: 99.0, y: 0.0, r: 5.0 }, 0.0), (Disc { x: 50.0, y: 0.0, r: 5.0 }, 1.0)];
        let mut o = order(&items, &[]);
        o.sort();
        assert_eq!(o, [0, 1, 2]);
    }
}
