//! The order of one session: by purpose, with the fewest changes of position and then of kit, exactly.

use std::collections::BTreeMap;

/// What the order has to know of an item.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Thing {
    pub purpose: u8,
    pub position: usize,
    pub kit: u32,
    pub floor: bool,
}

#[derive(Clone, Debug)]
pub(crate) struct Orderer {
    pub things: Vec<Thing>,
    /// The first comes after the second when they share a session.
    pub after: Vec<(usize, usize)>,
    pub floor_once: bool,
}

/// The best order of one session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Ordered {
    pub items: Vec<usize>,
    pub positions: u32,
    pub kit: u32,
    /// False when one purpose has more different places and kits than are tried out.
    pub exact: bool,
    /// What it took to find, in steps of the search for the best week (measured: about a tenth of a microsecond).
    pub steps: u64,
}

/// Different pairs of position and kit within one purpose up to which every order is tried (2^10 states).
const MOST_CELLS: usize = 10;

/// Items of one position and one kit, done one after the other.
#[derive(Clone, Debug)]
struct Cell {
    position: usize,
    kit: u32,
    items: Vec<usize>,
}

/// Changes of position count before changes of kit.
type Cost = (u32, u32);

/// A way through all groups so far: what it costs, and the cells in order.
type Way<'a> = (Cost, Vec<&'a Cell>);

impl Orderer {
    /// Whether fewer items never need more changes. Taking one out leaves an order that is no worse, but with rules the
    /// rest may then have to stand in another one.
    pub fn is_monotone(&self) -> bool {
        !self.floor_once && self.after.is_empty()
    }

    /// The best order of the items whose bits are set in `list`.
    pub fn order(&self, list: u64) -> Ordered {
        let items: Vec<usize> = (0..self.things.len()).filter(|item| list & (1 << item) != 0).collect();
        let purpose = self.purposes(list, &items);
        let floors = items.iter().filter(|&&item| self.floor(item)).count();
        if !self.floor_once || floors == 0 || floors == items.len() {
            let keys = purpose.iter().map(|(&item, &rank)| (item, (0, rank))).collect();
            return self.chain(&items, &keys);
        }
        let mut cuts: Vec<u8> = purpose.values().copied().collect();
        cuts.push(u8::MAX);
        crate::sorting::sort(&mut cuts);
        cuts.dedup();
        let mut best: Option<((u32, Cost), Ordered)> = None;
        let mut steps = 0;
        for cut in cuts {
            let key = |item: usize, rank: u8| {
                let segment = if self.floor(item) {
                    1
                } else if rank < cut {
                    0
                } else {
                    2
                };
                (segment, rank)
            };
            let keys: BTreeMap<usize, (u8, u8)> =
                purpose.iter().map(|(&item, &rank)| (item, key(item, rank))).collect();
            let ordered = self.chain(&items, &keys);
            steps += ordered.steps + (items.len() * items.len()) as u64 / 8;
            let cost = (self.disorder(&keys), (ordered.positions, ordered.kit));
            if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                best = Some((cost, ordered));
            }
        }
        let best = best.map_or_else(|| self.chain(&items, &BTreeMap::new()), |(_, ordered)| ordered);
        Ordered { steps, ..best }
    }

    fn floor(&self, item: usize) -> bool {
        self.things.get(item).is_some_and(|thing| thing.floor)
    }

    /// Purpose by item; what comes after another counts at least the other's purpose.
    fn purposes(&self, list: u64, items: &[usize]) -> BTreeMap<usize, u8> {
        let mut rank: BTreeMap<usize, u8> = items
            .iter()
            .map(|&item| (item, self.things.get(item).map_or(0, |thing| thing.purpose)))
            .collect();
        for _ in 0..items.len() {
            let mut changed = false;
            for &(later, earlier) in &self.after {
                if list & (1 << later) == 0 || list & (1 << earlier) == 0 {
                    continue;
                }
                let least = rank.get(&earlier).copied().unwrap_or_default();
                if let Some(own) = rank.get_mut(&later).filter(|own| **own < least) {
                    *own = least;
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        rank
    }

    /// Pairs that leave the order of purposes because the floor comes once; a broken `after` weighs more than any
    /// number of these.
    fn disorder(&self, keys: &BTreeMap<usize, (u8, u8)>) -> u32 {
        let mut pairs = 0;
        for (a, key_a) in keys {
            for (b, key_b) in keys {
                if key_a.0 < key_b.0 && key_b.1 < key_a.1 {
                    pairs += 1;
                    if self.after.contains(&(*a, *b)) {
                        pairs += 10_000;
                    }
                } else if key_a.0 < key_b.0 && self.after.contains(&(*a, *b)) {
                    pairs += 10_000;
                }
            }
        }
        pairs
    }

    /// The best order in which keys never fall.
    fn chain(&self, items: &[usize], keys: &BTreeMap<usize, (u8, u8)>) -> Ordered {
        let mut groups: BTreeMap<(u8, u8), Vec<usize>> = BTreeMap::new();
        for &item in items {
            groups.entry(keys.get(&item).copied().unwrap_or_default()).or_default().push(item);
        }
        let cells: Vec<Vec<Cell>> = groups.values().map(|group| self.cells(group)).collect();
        let mut exact = true;
        let mut ways: Vec<Way> = Vec::new();
        let mut steps = items.len() as u64;
        for group in &cells {
            let tried = if group.len() <= MOST_CELLS { group.len() } else { 0 };
            steps += ((tried * tried) << tried) as u64 / 16;
            exact &= group.len() <= MOST_CELLS;
            ways = self.through(group, &ways);
        }
        let best = ways.into_iter().min_by_key(|way| way.0).unwrap_or_default();
        Ordered {
            items: best.1.iter().flat_map(|cell| cell.items.iter().copied()).collect(),
            positions: best.0.0,
            kit: best.0.1,
            exact,
            steps,
        }
    }

    /// Items of a group put together where nothing speaks against it.
    fn cells(&self, group: &[usize]) -> Vec<Cell> {
        let mut cells: Vec<Cell> = Vec::new();
        for &item in group {
            let Some(thing) = self.things.get(item) else { continue };
            let alone = self
                .after
                .iter()
                .any(|&(a, b)| (a == item && group.contains(&b)) || (b == item && group.contains(&a)));
            let same = cells.iter_mut().find(|cell| {
                let first = cell.items.first().copied().unwrap_or_default();
                !alone
                    && cell.position == thing.position
                    && cell.kit == thing.kit
                    && !self.after.iter().any(|&(a, b)| {
                        (a == first && group.contains(&b)) || (b == first && group.contains(&a))
                    })
            });
            match same {
                Some(cell) => cell.items.push(item),
                None => cells.push(Cell { position: thing.position, kit: thing.kit, items: vec![item] }),
            }
        }
        cells
    }

    /// The best ways through `before` and then all cells of `group`, one for each last cell.
    fn through<'a>(&self, group: &'a [Cell], before: &[Way<'a>]) -> Vec<Way<'a>> {
        let enter = |cell: &Cell| {
            before
                .iter()
                .enumerate()
                .map(|(way, (cost, path))| {
                    (add(*cost, path.last().map_or((0, 0), |last| step(last, cell))), way)
                })
                .min()
                .map_or(((0, 0), None), |(cost, way)| (cost, Some(way)))
        };
        let path = |way: Option<usize>| {
            way.and_then(|way| before.get(way)).map(|way| way.1.clone()).unwrap_or_default()
        };
        let count = group.len();
        if count == 1 || MOST_CELLS < count {
            // Too many to try: by position, then kit, then the order of the text.
            let mut sorted: Vec<&Cell> = group.iter().collect();
            crate::sorting::sort_by_key(&mut sorted, |cell| (cell.position, cell.kit));
            let Some(first) = sorted.first() else { return before.to_vec() };
            let (mut cost, way) = enter(first);
            for pair in sorted.windows(2) {
                if let [a, b] = pair {
                    cost = add(cost, step(a, b));
                }
            }
            let mut cells = path(way);
            cells.extend(sorted);
            return vec![(cost, cells)];
        }
        let before_me = self.precedence(group);
        let full = (1_usize << count) - 1;
        // By set of cells done and last cell: least cost, and the last but one (or how the group was entered).
        let mut table: Vec<Option<(Cost, usize)>> = vec![None; (full + 1) * count];
        let mut entered = vec![None; count];
        for (cell, me) in group.iter().enumerate() {
            let (cost, way) = enter(me);
            if let (Some(slot), Some(entry)) =
                (table.get_mut((1 << cell) * count + cell), entered.get_mut(cell))
                && before_me.get(cell).is_none_or(|need| *need == 0)
            {
                *slot = Some((cost, count));
                *entry = way;
            }
        }
        for done in 1..=full {
            for last in 0..count {
                let Some(Some((cost, _))) = table.get(done * count + last).copied() else { continue };
                for next in 0..count {
                    let need = before_me.get(next).copied().unwrap_or_default();
                    if done & (1 << next) != 0 || need & !done != 0 {
                        continue;
                    }
                    let (Some(a), Some(b)) = (group.get(last), group.get(next)) else { continue };
                    let total = add(cost, step(a, b));
                    if let Some(slot) = table.get_mut((done | 1 << next) * count + next)
                        && slot.is_none_or(|(least, _)| total < least)
                    {
                        *slot = Some((total, last));
                    }
                }
            }
        }
        let mut ways = Vec::new();
        for end in 0..count {
            let Some(Some((cost, _))) = table.get(full * count + end).copied() else { continue };
            let mut back = Vec::new();
            let (mut done, mut last) = (full, end);
            while let Some(Some((_, previous))) = table.get(done * count + last).copied() {
                back.extend(group.get(last));
                if count <= previous {
                    break;
                }
                done &= !(1 << last);
                last = previous;
            }
            let mut cells = path(entered.get(last).copied().flatten());
            cells.extend(back.into_iter().rev());
            ways.push((cost, cells));
        }
        ways
    }

    /// By cell, the bits of the cells that must come before; none at all where the rules go round in a circle.
    fn precedence(&self, group: &[Cell]) -> Vec<usize> {
        let holder = |item: usize| group.iter().position(|cell| cell.items.contains(&item));
        let mut need = vec![0_usize; group.len()];
        for &(later, earlier) in &self.after {
            if let (Some(a), Some(b)) = (holder(later), holder(earlier))
                && let Some(bits) = need.get_mut(a).filter(|_| a != b)
            {
                *bits |= 1 << b;
            }
        }
        let mut done = 0_usize;
        for _ in group {
            for (cell, bits) in need.iter().enumerate() {
                if bits & !done == 0 {
                    done |= 1 << cell;
                }
            }
        }
        if done + 1 == 1 << group.len() { need } else { vec![0; group.len()] }
    }
}

fn add(a: Cost, b: Cost) -> Cost {
    (a.0 + b.0, a.1 + b.1)
}

fn step(a: &Cell, b: &Cell) -> Cost {
    (u32::from(a.position != b.position), u32::from(a.kit != b.kit))
}

#[cfg(test)]
mod tests {
    use super::{Orderer, Thing};
    use proptest::prelude::*;

    fn any_thing() -> impl Strategy<Value = Thing> {
        (0_u8..3, 0_usize..4, 0_u32..3, any::<bool>()).prop_map(|(purpose, position, kit, floor)| Thing {
            purpose,
            position,
            kit,
            floor,
        })
    }

    proptest! {
        #[test]
        fn fewer_items_never_need_more_changes_where_that_is_promised(
            things in prop::collection::vec(any_thing(), 1..9),
            list in any::<u64>(),
            out in 0_u32..9,
        ) {
            let list = list & ((1 << things.len()) - 1);
            let orderer = Orderer { things, after: Vec::new(), floor_once: false };
            prop_assert!(orderer.is_monotone());
            let (all, fewer) = (orderer.order(list), orderer.order(list & !(1 << out)));
            prop_assert!((fewer.positions, fewer.kit) <= (all.positions, all.kit));
        }
    }

    /// What comes after an item of a later purpose waits for it, and then stands beside its like.
    #[test]
    fn with_rules_of_order_fewer_items_may_need_more_changes() {
        let thing = |purpose, position| Thing { purpose, position, kit: 0, floor: false };
        let things = vec![thing(1, 1), thing(0, 2), thing(2, 2), thing(2, 1)];
        let orderer = Orderer { things, after: vec![(0, 3)], floor_once: false };
        assert!(!orderer.is_monotone());
        assert_eq!(orderer.order(0b1111).positions, 1);
        assert_eq!(orderer.order(0b0111).positions, 2);
    }
}
