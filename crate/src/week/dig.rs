//! The search of one day: item by item into parts of the day.

use crate::week::hunt::ones;
use crate::week::pack::{DayLevels, Packer};
use crate::week::ready::{Choice, Given, Pair};

/// Steps for one day; a day that needs more is not proven.
const DAY_LIMIT: u64 = 200_000;
/// Steps that a day is given even when the whole purse is spent: enough to find some packing.
const LAST_STEPS: u64 = 200;

/// What a day is packed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Aim {
    /// All levels of the day.
    Levels,
    /// The levels that come before changes of position and kit.
    Coarse,
    /// Broken rules and overtime alone.
    Minutes,
    /// The first packing by ranks, in the order of items, that has exactly these levels.
    Ranks(DayLevels),
}

/// The search of one day with the parts of `used`, no others.
pub(crate) struct Dig<'p, 'a> {
    packer: &'p mut Packer<'a>,
    given: Given,
    used: u8,
    aim: Aim,
    /// Items in the order in which they are decided.
    order: Vec<usize>,
    /// Items that are usually in one of these parts and can be in others, longest first.
    movable: Vec<usize>,
    /// Of the undecided items: seconds of all goes, least goes away, and by part the seconds of those usually there.
    rest: u32,
    rest_away: u32,
    rest_usual: [u32; 3],
    /// Parts by item; 0 while undecided.
    parts: Vec<u8>,
    load: [u32; 3],
    list: [u64; 3],
    /// By part, the positions that are in it.
    positions: [u64; 3],
    broken: u32,
    away: u32,
    /// The best levels yet, and the parts in the order of items; without parts it is what is to be beaten.
    pub best: Option<(DayLevels, Vec<u8>)>,
    /// Whether the fewest changes of all sessions that were looked at are proven.
    pub is_ordered: bool,
    /// Steps of the packer at which it stops.
    until: u64,
    cut: bool,
}

impl<'p, 'a> Dig<'p, 'a> {
    /// None if an item of the day has no choice within `used`.
    pub fn new(
        packer: &'p mut Packer<'a>,
        kind: usize,
        list: u64,
        used: u8,
        aim: Aim,
    ) -> Option<Dig<'p, 'a>> {
        let ready = packer.ready;
        let within = |sets: &[u64; 8]| sets.get(usize::from(used)).copied().unwrap_or_default();
        if list & !within(&ready.possible) != 0 {
            return None;
        }
        let free = list & within(&ready.several);
        let of = |set: u64| ready.by_size.iter().copied().filter(move |item| set & (1 << item) != 0);
        let mut movable = Vec::with_capacity(free.count_ones() as usize);
        movable.extend(of(free));
        let mut order = Vec::with_capacity(list.count_ones() as usize);
        match aim {
            Aim::Ranks(_) => order.extend(ones(list)),
            // What has no choice comes first, so that the bounds know of it.
            _ => order.extend(of(list & !free).chain(movable.iter().copied())),
        }
        let broken = ready
            .pairs
            .iter()
            .filter(|&&(pair, a, b)| pair == Pair::NotOnDay && list & (1 << a) != 0 && list & (1 << b) != 0)
            .count() as u32;
        let mut dig = Dig {
            parts: vec![0; ready.choices.len()],
            given: ready.kinds.get(kind).copied().unwrap_or_default(),
            until: packer.nodes + packer.limit.saturating_sub(packer.nodes).clamp(LAST_STEPS, DAY_LIMIT),
            packer,
            used,
            aim,
            order,
            movable,
            rest: 0,
            rest_away: 0,
            rest_usual: [0; 3],
            load: [0; 3],
            list: [0; 3],
            positions: [0; 3],
            broken,
            away: 0,
            best: None,
            is_ordered: true,
            cut: false,
        };
        for choice in ones(list).filter_map(|item| ready.choices.get(item)) {
            dig.count_rest(choice, true);
        }
        Some(dig)
    }

    /// Whether it stopped before its end.
    pub fn is_cut(&self) -> bool {
        self.cut
    }

    /// Counts an item among the undecided ones, or no more.
    fn count_rest(&mut self, choice: &Choice, is_rest: bool) {
        let change = |sum: &mut u32, by: u32| *sum = if is_rest { *sum + by } else { *sum - by };
        let within = choice.within(self.used);
        change(&mut self.rest, choice.seconds * choice.per_day);
        change(&mut self.rest_away, within.away);
        if within.away == 0 {
            for (part, sum) in self.rest_usual.iter_mut().enumerate() {
                if choice.usual().bits() & (1 << part) != 0 {
                    change(sum, choice.seconds);
                }
            }
        }
    }

    /// No packing that goes on from here has smaller levels.
    pub fn bound(&self) -> DayLevels {
        let mut over = 0_u32;
        let mut free = Some(0_u32);
        for (part, (&load, given)) in self.load.iter().zip(self.given.parts).enumerate() {
            if self.used & (1 << part) == 0 {
                continue;
            }
            match given {
                None => free = None,
                Some(given) => {
                    over += load.saturating_sub(given);
                    free = free.map(|free| free.saturating_add(given.saturating_sub(load)));
                }
            }
        }
        let overtime = over + free.map_or(0, |free| self.rest.saturating_sub(free));
        if self.aim == Aim::Minutes {
            return DayLevels { broken: self.broken, overtime, ..DayLevels::default() };
        }
        let mut away = self.away + self.rest_away;
        // If overtime stays at its bound, the usual parts cannot take more than this; the rest must move, and moving
        // the longest first moves the fewest.
        for (part, (&load, given)) in self.load.iter().zip(self.given.parts).enumerate() {
            let Some(given) = given else { continue };
            let usual = self.rest_usual.get(part).copied().unwrap_or_default();
            let mut excess = (load + usual).saturating_sub(given.saturating_add(overtime));
            for &item in &self.movable {
                if excess == 0 {
                    break;
                }
                let Some(choice) = self.packer.ready.choices.get(item) else { continue };
                let is_there = choice.within(self.used).away == 0 && choice.usual().bits() & (1 << part) != 0;
                if is_there && self.parts.get(item) == Some(&0) {
                    excess = excess.saturating_sub(choice.seconds);
                    away += 1;
                }
            }
        }
        if self.aim == Aim::Coarse {
            let sessions = self.used.count_ones();
            return DayLevels { broken: self.broken, overtime, sessions, away, ..DayLevels::default() };
        }
        let positions = self.positions.iter().map(|seen| seen.count_ones().saturating_sub(1)).sum();
        DayLevels { broken: self.broken, overtime, sessions: self.used.count_ones(), away, positions, kit: 0 }
    }

    /// Decides the items from this place of the order on.
    pub fn dig(&mut self, depth: usize) {
        self.packer.nodes += 1;
        if self.until < self.packer.nodes {
            self.cut = true;
            return;
        }
        let bound = self.bound();
        match (self.aim, &self.best) {
            (Aim::Ranks(_), Some(_)) => return,
            (Aim::Ranks(target), None) if target < bound => return,
            (_, Some((best, _))) if *best <= bound => return,
            _ => {}
        }
        let Some(&item) = self.order.get(depth) else { return self.leaf(bound) };
        let Some(choice) = self.packer.ready.choices.get(item) else { return };
        for option in &choice.options {
            if option.bits() & !self.used != 0 {
                continue;
            }
            let before = (self.broken, self.away, self.positions);
            self.away += option.without(choice.usual()).len();
            self.put(item, choice, option.bits());
            self.dig(depth + 1);
            self.take(item, choice, option.bits());
            (self.broken, self.away, self.positions) = before;
        }
    }

    fn put(&mut self, item: usize, choice: &Choice, bits: u8) {
        self.count_rest(choice, false);
        let sums = self.load.iter_mut().zip(&mut self.list).zip(&mut self.positions);
        for (part, ((load, list), positions)) in sums.enumerate() {
            if bits & (1 << part) != 0 {
                *load += choice.seconds;
                *list |= 1 << item;
                *positions |= 1 << choice.place;
            }
        }
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

    /// Takes an item out again; what only grows is put back by the one who asks.
    fn take(&mut self, item: usize, choice: &Choice, bits: u8) {
        self.count_rest(choice, true);
        for (part, (load, list)) in self.load.iter_mut().zip(&mut self.list).enumerate() {
            if bits & (1 << part) != 0 {
                *load -= choice.seconds;
                *list &= !(1 << item);
            }
        }
        if let Some(own) = self.parts.get_mut(item) {
            *own = 0;
        }
    }

    fn leaf(&mut self, mut levels: DayLevels) {
        if self.aim == Aim::Minutes {
            // Only whether there is one: its parts are not asked for.
            self.best = Some((levels, vec![0]));
            return;
        }
        if self.list.iter().zip(0..).any(|(list, part)| (*list == 0) == (self.used & (1 << part) != 0)) {
            return;
        }
        if self.aim != Aim::Coarse {
            let (positions, kit, is_proven) = self.packer.all_changes(self.list);
            (levels.positions, levels.kit) = (positions, kit);
            self.is_ordered &= is_proven;
        }
        let good = match (self.aim, &self.best) {
            (Aim::Ranks(target), _) => levels == target,
            (_, Some((best, _))) => levels < *best,
            (_, None) => true,
        };
        if good {
            let items = ones(self.list.iter().fold(0, |all, list| all | list));
            let parts = items.map(|item| self.parts.get(item).copied().unwrap_or_default()).collect();
            self.best = Some((levels, parts));
        }
    }
}
