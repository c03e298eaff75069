//! One day packed: which of the day's items in which part, best by the levels that a day decides by itself.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::week::model::PartSet;
use crate::week::ready::{Pair, Ready};

/// The levels of one day, in the order of aims. Days are added up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct DayLevels {
    pub broken: u32,
    pub overtime: u32,
    pub sessions: u32,
    pub away: u32,
    pub positions: u32,
    pub kit: u32,
}

impl DayLevels {
    pub fn plus(self, other: DayLevels) -> DayLevels {
        DayLevels {
            broken: self.broken + other.broken,
            overtime: self.overtime + other.overtime,
            sessions: self.sessions + other.sessions,
            away: self.away + other.away,
            positions: self.positions + other.positions,
            kit: self.kit + other.kit,
        }
    }

    /// What is left of a sum when one of its parts is taken out.
    pub fn minus(self, part: DayLevels) -> DayLevels {
        DayLevels {
            broken: self.broken.saturating_sub(part.broken),
            overtime: self.overtime.saturating_sub(part.overtime),
            sessions: self.sessions.saturating_sub(part.sessions),
            away: self.away.saturating_sub(part.away),
            positions: self.positions.saturating_sub(part.positions),
            kit: self.kit.saturating_sub(part.kit),
        }
    }
}

/// The best packing of one day.
#[derive(Clone, Debug)]
pub(crate) struct Packed {
    pub levels: DayLevels,
    /// Parts by item of the list, in the order of items.
    pub parts: Vec<PartSet>,
    /// Whether it is proven best; otherwise nothing better than `bound` exists.
    pub exact: bool,
    pub bound: DayLevels,
}

/// Packs days and remembers what it packed.
pub(crate) struct Packer<'a> {
    ready: &'a Ready,
    days: BTreeMap<(usize, u64), Rc<Packed>>,
    /// What [`Packer::minutes`] found, by kind of day and list.
    minutes: BTreeMap<(usize, u64), (DayLevels, bool)>,
    orders: BTreeMap<u64, (u32, u32, bool)>,
    pub nodes: u64,
    pub limit: u64,
}

/// Steps for one day; a day that needs more is not proven.
const DAY_LIMIT: u64 = 200_000;
/// Steps that a day is given even when the whole purse is spent: enough to find some packing.
const LAST_STEPS: u64 = 200;

/// Sets of parts that a day may use: fewest first.
const USES: [u8; 7] = [0b001, 0b100, 0b010, 0b101, 0b011, 0b110, 0b111];

/// The search of one day with the parts of `used`, no others.
struct Dig<'p, 'a> {
    packer: &'p mut Packer<'a>,
    avail: [Option<u32>; 3],
    used: u8,
    /// Free items, in the order in which they are decided.
    order: Vec<usize>,
    /// Choices by depth: parts, and goes away from the usual part.
    choices: Vec<Vec<(u8, u32)>>,
    /// By depth: seconds of that item and all later ones, all goes.
    rest: Vec<u32>,
    /// By depth: least goes away of that item and all later ones.
    rest_away: Vec<u32>,
    /// By depth and part: seconds of the later items that would usually be there, largest first.
    rest_usual: Vec<[Vec<u32>; 3]>,
    /// Parts by item; 0 while undecided.
    parts: Vec<u8>,
    load: [u32; 3],
    list: [u64; 3],
    place: [Vec<usize>; 3],
    broken: u32,
    away: u32,
    best: Option<(DayLevels, Vec<u8>)>,
    /// Stop at the first packing that has exactly these levels.
    target: Option<DayLevels>,
    /// Broken rules and overtime alone.
    is_light: bool,
    spent: u64,
    cap: u64,
}

impl<'a> Packer<'a> {
    pub fn new(ready: &'a Ready, limit: u64) -> Packer<'a> {
        Packer {
            ready,
            days: BTreeMap::new(),
            minutes: BTreeMap::new(),
            orders: BTreeMap::new(),
            nodes: 0,
            limit,
        }
    }

    /// Changes of position and kit of a session, and whether they are proven fewest.
    fn changes(&mut self, list: u64) -> (u32, u32, bool) {
        if list & list.wrapping_sub(1) == 0 {
            return (0, 0, true);
        }
        let orderer = &self.ready.orderer;
        *self.orders.entry(list).or_insert_with(|| {
            let ordered = orderer.order(list);
            (ordered.positions, ordered.kit, ordered.exact)
        })
    }

    /// The best packing of the items in `list` on a day of this kind.
    pub fn pack(&mut self, kind: usize, list: u64) -> Rc<Packed> {
        if let Some(packed) = self.days.get(&(kind, list)) {
            return Rc::clone(packed);
        }
        let packed = Rc::new(self.packed(kind, list));
        self.days.insert((kind, list), Rc::clone(&packed));
        packed
    }

    /// Broken rules and overtime of the best packing alone, and whether they are proven: what a search for minutes and
    /// recovery looks at. Most lists have a packing that is as good as the first bound says, so that one is looked
    /// for first.
    pub fn minutes(&mut self, kind: usize, list: u64) -> (DayLevels, bool) {
        if let Some(&known) = self.minutes.get(&(kind, list)) {
            return known;
        }
        let given = self.ready.kinds.get(kind).copied().unwrap_or_default();
        let items: Vec<usize> =
            (0..self.ready.choices.len()).filter(|item| list & (1 << item) != 0).collect();
        self.nodes += items.len() as u64;
        let mut found = (DayLevels::default(), true);
        if let Some(mut dig) = Dig::new(self, given.parts, 7, &items, true) {
            dig.is_light = true;
            let mut just_above = dig.bound(0);
            just_above.overtime += 1;
            dig.best = Some((just_above, Vec::new()));
            dig.dig(0);
            if dig.best.as_ref().is_none_or(|(_, parts)| parts.is_empty()) {
                dig.best = None;
                dig.dig(0);
            }
            let is_sure = dig.spent <= dig.cap;
            match dig.best.take() {
                Some((mut levels, _)) if is_sure => {
                    levels.overtime += self.over_the_day(kind, &items);
                    found.0 = levels;
                }
                _ => {
                    let packed = self.pack(kind, list);
                    found = (packed.levels, packed.exact);
                }
            }
        }
        self.minutes.insert((kind, list), found);
        found
    }

    /// Seconds over what is given for a whole day, the same however it is packed.
    fn over_the_day(&self, kind: usize, items: &[usize]) -> u32 {
        let Some(given) = self.ready.kinds.get(kind).and_then(|given| given.day) else { return 0 };
        let choices = items.iter().filter_map(|&item| self.ready.choices.get(item));
        choices.map(|choice| choice.seconds * choice.per_day).sum::<u32>().saturating_sub(given)
    }

    fn packed(&mut self, kind: usize, list: u64) -> Packed {
        let given = self.ready.kinds.get(kind).copied().unwrap_or_default();
        let avail = given.parts;
        let items: Vec<usize> =
            (0..self.ready.choices.len()).filter(|item| list & (1 << item) != 0).collect();
        if items.is_empty() {
            let levels = DayLevels::default();
            return Packed { levels, parts: Vec::new(), exact: true, bound: levels };
        }
        // Setting up a long list takes as long as some steps do.
        self.nodes += items.len() as u64;
        let mut best: Option<DayLevels> = None;
        let mut bound: Option<DayLevels> = None;
        let mut exact = true;
        let mut open = Vec::new();
        let mut fallback = Vec::new();
        for used in USES {
            let Some(mut dig) = Dig::new(self, avail, used, &items, true) else { continue };
            let root = dig.bound(0);
            if best.is_some_and(|best| best < root) {
                continue;
            }
            dig.best = best.map(|levels| (levels, Vec::new()));
            dig.dig(0);
            let cut = dig.cap < dig.spent;
            let found = dig.best.take();
            exact &= !cut;
            if let Some((levels, parts)) = found
                && !parts.is_empty()
            {
                fallback = parts;
                best = Some(levels);
            }
            if cut {
                bound = Some(bound.map_or(root, |bound| bound.min(root)));
            }
            open.push((root, used));
        }
        let levels = best.unwrap_or_default();
        // Among packings of these levels, the one whose parts rank first, item by item.
        let mut first: Option<(Vec<usize>, Vec<u8>)> = None;
        for (root, used) in open {
            if levels < root {
                continue;
            }
            let Some(mut dig) = Dig::new(self, avail, used, &items, false) else { continue };
            dig.target = Some(levels);
            dig.dig(0);
            exact &= dig.spent <= dig.cap;
            if let Some((_, parts)) = dig.best.take() {
                let ranks = self.ranks(&items, &parts);
                if first.as_ref().is_none_or(|(least, _)| ranks < *least) {
                    first = Some((ranks, parts));
                }
            }
        }
        let parts = first.map_or(fallback, |(_, parts)| parts);
        for part in 0..3 {
            let session = items
                .iter()
                .zip(&parts)
                .filter(|(_, bits)| **bits & (1 << part) != 0)
                .fold(0, |list, (item, _)| list | 1 << item);
            exact &= self.changes(session).2;
        }
        let mut packed = Packed {
            levels,
            parts: parts.into_iter().map(PartSet::from_bits).collect(),
            exact,
            bound: bound.map_or(levels, |bound| bound.min(levels)),
        };
        let over = self.over_the_day(kind, &items);
        packed.levels.overtime += over;
        packed.bound.overtime += over;
        packed
    }

    fn ranks(&self, items: &[usize], parts: &[u8]) -> Vec<usize> {
        items
            .iter()
            .zip(parts)
            .map(|(&item, &bits)| {
                let options = self.ready.choices.get(item).map(|choice| &choice.options);
                options.and_then(|all| all.iter().position(|set| set.bits() == bits)).unwrap_or(usize::MAX)
            })
            .collect()
    }
}

impl<'p, 'a> Dig<'p, 'a> {
    /// None if an item of the day has no choice within `used`.
    fn new(
        packer: &'p mut Packer<'a>,
        avail: [Option<u32>; 3],
        used: u8,
        items: &[usize],
        largest_first: bool,
    ) -> Option<Dig<'p, 'a>> {
        let ready = packer.ready;
        let mut order: Vec<usize> = items.to_vec();
        let total = |item: &usize| ready.choices.get(*item).map_or(0, |choice| choice.seconds);
        let options = |item: &usize| -> Vec<(u8, u32)> {
            let Some(choice) = ready.choices.get(*item) else { return Vec::new() };
            let usual = choice.usual();
            choice
                .options
                .iter()
                .filter(|set| set.bits() & !used == 0)
                .map(|set| (set.bits(), set.without(usual).len()))
                .collect()
        };
        if largest_first {
            // What has no choice comes first, so that the bounds know of it.
            crate::sorting::sort_by_key(&mut order, |item| {
                (1 < options(item).len(), u32::MAX - total(item), *item)
            });
        }
        let choices: Vec<Vec<(u8, u32)>> = order.iter().map(options).collect();
        if choices.iter().any(Vec::is_empty) {
            return None;
        }
        let depth = order.len();
        let mut rest = vec![0_u32; depth + 1];
        let mut rest_away = vec![0_u32; depth + 1];
        let mut rest_usual: Vec<[Vec<u32>; 3]> = vec![Default::default(); depth + 1];
        for at in (0..depth).rev() {
            let Some(choice) = order.get(at).and_then(|item| ready.choices.get(*item)) else { continue };
            let after = rest.get(at + 1).copied().unwrap_or_default();
            let away_after = rest_away.get(at + 1).copied().unwrap_or_default();
            let mut usual = rest_usual.get(at + 1).cloned().unwrap_or_default();
            let least =
                choices.get(at).and_then(|all| all.iter().map(|option| option.1).min()).unwrap_or_default();
            if least == 0 {
                for (part, seconds) in usual.iter_mut().enumerate() {
                    if choice.usual().bits() & (1 << part) != 0 {
                        let place = seconds.partition_point(|&other| choice.seconds < other);
                        seconds.insert(place, choice.seconds);
                    }
                }
            }
            if let (Some(sum), Some(away), Some(list)) =
                (rest.get_mut(at), rest_away.get_mut(at), rest_usual.get_mut(at))
            {
                *sum = after + choice.seconds * choice.per_day;
                *away = away_after + least;
                *list = usual;
            }
        }
        let listed = items.iter().fold(0_u64, |list, item| list | 1 << item);
        let broken = ready
            .pairs
            .iter()
            .filter(|&&(pair, a, b)| {
                pair == Pair::NotOnDay && listed & (1 << a) != 0 && listed & (1 << b) != 0
            })
            .count() as u32;
        let cap = packer.limit.saturating_sub(packer.nodes).clamp(LAST_STEPS, DAY_LIMIT);
        Some(Dig {
            parts: vec![0; ready.choices.len()],
            packer,
            avail,
            used,
            order,
            choices,
            rest,
            rest_away,
            rest_usual,
            load: [0; 3],
            list: [0; 3],
            place: Default::default(),
            broken,
            away: 0,
            best: None,
            target: None,
            is_light: false,
            spent: 0,
            cap,
        })
    }

    /// No packing that goes on from here has smaller levels.
    fn bound(&self, depth: usize) -> DayLevels {
        let mut over = 0_u32;
        let mut free = Some(0_u32);
        for part in 0..3 {
            if self.used & (1 << part) == 0 {
                continue;
            }
            let load = self.load.get(part).copied().unwrap_or_default();
            match self.avail.get(part).copied().flatten() {
                None => free = None,
                Some(avail) => {
                    over += load.saturating_sub(avail);
                    free = free.map(|free| free.saturating_add(avail.saturating_sub(load)));
                }
            }
        }
        let rest = self.rest.get(depth).copied().unwrap_or_default();
        let overtime = over + free.map_or(0, |free| rest.saturating_sub(free));
        if self.is_light {
            return DayLevels { broken: self.broken, overtime, ..DayLevels::default() };
        }
        let mut away = self.away + self.rest_away.get(depth).copied().unwrap_or_default();
        if let Some(usual) = self.rest_usual.get(depth) {
            // If overtime stays at its bound, the usual parts cannot take more than this; the rest must move,
            // and moving the longest first moves the fewest.
            for (part, seconds) in usual.iter().enumerate() {
                let Some(avail) = self.avail.get(part).copied().flatten() else { continue };
                let load = self.load.get(part).copied().unwrap_or_default();
                let mut excess =
                    (load + seconds.iter().sum::<u32>()).saturating_sub(avail.saturating_add(overtime));
                for &longest in seconds {
                    if excess == 0 {
                        break;
                    }
                    excess = excess.saturating_sub(longest);
                    away += 1;
                }
            }
        }
        let positions = self.place.iter().map(|seen| (seen.len() as u32).saturating_sub(1)).sum();
        DayLevels { broken: self.broken, overtime, sessions: self.used.count_ones(), away, positions, kit: 0 }
    }

    fn dig(&mut self, depth: usize) {
        self.spent += 1;
        self.packer.nodes += 1;
        if self.cap < self.spent {
            return;
        }
        let bound = self.bound(depth);
        match (self.target, &self.best) {
            (Some(_), Some(_)) => return,
            (Some(target), None) if target < bound => return,
            (None, Some((best, _))) if *best <= bound => return,
            _ => {}
        }
        let Some(&item) = self.order.get(depth) else { return self.leaf(bound) };
        for option in self.choices.get(depth).cloned().unwrap_or_default() {
            let before = (self.broken, self.away);
            let mut entered = 0_u8;
            self.put(item, option, &mut entered);
            self.dig(depth + 1);
            self.take(item, option.0, entered);
            (self.broken, self.away) = before;
        }
    }

    fn put(&mut self, item: usize, (bits, away): (u8, u32), entered: &mut u8) {
        let seconds = self.packer.ready.choices.get(item).map_or(0, |choice| choice.seconds);
        let position = self.packer.ready.orderer.things.get(item).map_or(0, |thing| thing.position);
        for part in 0..3 {
            if bits & (1 << part) == 0 {
                continue;
            }
            if let (Some(load), Some(list), Some(place)) =
                (self.load.get_mut(part), self.list.get_mut(part), self.place.get_mut(part))
            {
                *load += seconds;
                *list |= 1 << item;
                if !place.contains(&position) {
                    place.push(position);
                    *entered |= 1 << part;
                }
            }
        }
        self.away += away;
        for &(pair, a, b) in &self.packer.ready.pairs {
            let other = if a == item {
                b
            } else if b == item {
                a
            } else {
                continue;
            };
            let theirs = self.parts.get(other).copied().unwrap_or_default();
            if theirs == 0 {
                continue;
            }
            self.broken += match pair {
                Pair::NotOnDay => 0,
                Pair::NotInSession => (bits & theirs).count_ones(),
                Pair::After => {
                    let (later, earlier) = if a == item { (bits, theirs) } else { (theirs, bits) };
                    u32::from(later.trailing_zeros() < earlier.trailing_zeros())
                }
            };
        }
        if let Some(own) = self.parts.get_mut(item) {
            *own = bits;
        }
    }

    fn take(&mut self, item: usize, bits: u8, entered: u8) {
        let seconds = self.packer.ready.choices.get(item).map_or(0, |choice| choice.seconds);
        for part in 0..3 {
            if bits & (1 << part) == 0 {
                continue;
            }
            if let (Some(load), Some(list), Some(place)) =
                (self.load.get_mut(part), self.list.get_mut(part), self.place.get_mut(part))
            {
                *load -= seconds;
                *list &= !(1 << item);
                if entered & (1 << part) != 0 {
                    place.pop();
                }
            }
        }
        if let Some(own) = self.parts.get_mut(item) {
            *own = 0;
        }
    }

    fn leaf(&mut self, mut levels: DayLevels) {
        if self.is_light {
            // Only whether there is one: its parts are not asked for.
            self.best = Some((levels, vec![0]));
            return;
        }
        if self.list.iter().zip(0..).any(|(list, part)| (*list == 0) == (self.used & (1 << part) != 0)) {
            return;
        }
        (levels.positions, levels.kit) = (0, 0);
        for list in self.list {
            let (positions, kit, _) = self.packer.changes(list);
            levels.positions += positions;
            levels.kit += kit;
        }
        let good = match (self.target, &self.best) {
            (Some(target), _) => levels == target,
            (None, Some((best, _))) => levels < *best,
            (None, None) => true,
        };
        if good {
            let mut items = self.order.clone();
            crate::sorting::sort(&mut items);
            let parts = items.iter().map(|&item| self.parts.get(item).copied().unwrap_or_default()).collect();
            self.best = Some((levels, parts));
        }
    }
}
