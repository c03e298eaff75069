//! The search for the best days, item by item, depth first.

use crate::week::alone::Alone;
use crate::week::memo::Memo;
use crate::week::model::{Levels, Limit, PartSet};
use crate::week::pack::{DayLevels, Packer};
use crate::week::ready::Ready;
use crate::week::solve::Depth;
use crate::week::turn::Turn;

pub(crate) struct Hunt<'a> {
    pub ready: &'a Ready,
    pub packer: Packer<'a>,
    pub depth: Depth,
    pub limit: u64,
    /// Items done, by day.
    pub lists: Vec<u64>,
    /// Seconds, by day.
    pub load: Vec<u32>,
    /// Days loaded, by group.
    pub loaded: Vec<u16>,
    pub days: Vec<u16>,
    /// Items whose days are not chosen yet.
    pub undecided: u64,
    /// Of the undecided items: by number of days, the seconds that they take on each.
    pub coming: [u32; MOST_DAYS + 1],
    /// Seconds of all items.
    pub total: u32,
    pub best: Option<(Levels, Vec<u16>)>,
    /// Least bound of what was not looked into because of the limit.
    pub unseen: Option<Levels>,
    pub exact: bool,
    pub nodes: u64,
    /// Once the levels are known: the first week by rank that has them.
    pub target: Option<Levels>,
    /// Any week at least as good as this will do.
    pub enough: Option<Levels>,
    /// The first three levels, once they are proven: no week with greater ones is of use.
    pub floor: Option<Levels>,
    /// So many lists of the day at most.
    pub cap: Option<u32>,
    /// By item: how often it was left without days; what fails often is decided early.
    weight: Vec<u32>,
    /// By group, the items that load it.
    pub loaders: Vec<u64>,
    /// By item and kind of day.
    pub alone: Vec<Vec<Alone>>,
    /// Of the undecided items and the sets of days that are left to them.
    pub coming_alone: Alone,
    /// Items with two goes a day or more, and with three.
    pub several: [u64; 2],
    /// By group, and of all groups: fewest neighbouring loaded days in the end.
    pub least_by_group: Vec<u32>,
    pub least_of_groups: u32,
    /// Remembered: fewest neighbouring days of a group, by group, undecided items that load it, days loaded.
    pub least_recovery: Memo<(usize, u64, u16), u32>,
    /// Remembered: fewest further lists, by sizes of lists (four bits each), free days, numbers of days that are still
    /// to be chosen.
    pub least_lists: Memo<(u64, u32, u32), u32>,
}

/// Days of the longest cycle.
pub(crate) const MOST_DAYS: usize = 14;

/// Seconds still free by day: in its parts, and of the day as a whole. [`u32::MAX`] where there is no limit.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Free {
    pub parts: [u32; MOST_DAYS],
    pub whole: [u32; MOST_DAYS],
}

/// What is summed over days, kept by node so that a choice only changes the days that it takes.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Sums {
    pub by_day: [DayLevels; MOST_DAYS],
    pub sum: DayLevels,
    pub free: Free,
}

/// An undecided item, and its sets of days that are still open: bits are places in [`Choice::sets`].
#[derive(Clone, Copy, Debug)]
pub(crate) struct Domain {
    pub item: usize,
    pub open: u64,
}

impl<'a> Hunt<'a> {
    pub fn new(ready: &'a Ready, limit: Limit, depth: Depth, enough: Option<Levels>) -> Hunt<'a> {
        let total = ready.choices.iter().map(|choice| choice.seconds * choice.per_day * choice.days).sum();
        let mut hunt = Hunt {
            ready,
            packer: Packer::new(ready, limit.nodes),
            depth,
            limit: limit.nodes,
            lists: vec![0; ready.horizon],
            load: vec![0; ready.horizon],
            loaded: ready.loaded.clone(),
            days: vec![0; ready.choices.len()],
            undecided: (0..ready.choices.len()).fold(0, |bits, item| bits | 1 << item),
            coming: [0; MOST_DAYS + 1],
            total,
            best: None,
            unseen: None,
            exact: true,
            nodes: 0,
            target: None,
            enough,
            floor: None,
            cap: None,
            weight: (0..ready.choices.len())
                .map(|item| ready.pairs.iter().filter(|&&(_, a, b)| a == item || b == item).count() as u32)
                .collect(),
            loaders: (0..ready.loaded.len())
                .map(|group| {
                    let items = ready.choices.iter().enumerate();
                    items
                        .filter(|(_, choice)| choice.loads & (1 << group) != 0)
                        .fold(0, |bits, (item, _)| bits | 1 << item)
                })
                .collect(),
            alone: ready
                .choices
                .iter()
                .map(|choice| ready.kinds.iter().map(|given| Alone::of(choice, given)).collect())
                .collect(),
            coming_alone: Alone::default(),
            several: [2, 3].map(|goes| {
                let items = ready.choices.iter().enumerate();
                items.filter(|(_, choice)| goes <= choice.per_day).fold(0, |bits, (item, _)| bits | 1 << item)
            }),
            least_by_group: vec![0; ready.loaded.len()],
            least_of_groups: 0,
            least_recovery: Memo::default(),
            least_lists: Memo::default(),
        };
        for choice in &ready.choices {
            if let Some(coming) = hunt.coming.get_mut(choice.days as usize) {
                *coming += choice.seconds * choice.per_day;
            }
        }
        for (item, choice) in ready.choices.iter().enumerate() {
            if let [set] = choice.sets[..] {
                hunt.place(item, set);
            }
        }
        hunt
    }

    fn place(&mut self, item: usize, set: u16) {
        let Some(choice) = self.ready.choices.get(item) else { return };
        for (day, (list, load)) in self.lists.iter_mut().zip(&mut self.load).enumerate() {
            if set & (1 << day) != 0 {
                *list |= 1 << item;
                *load += choice.seconds * choice.per_day;
            }
        }
        for group in ones(choice.loads) {
            if let Some(days) = self.loaded.get_mut(group) {
                *days |= set;
            }
        }
        if let Some(days) = self.days.get_mut(item) {
            *days = set;
        }
        self.undecided &= !(1 << item);
        if let Some(coming) = self.coming.get_mut(choice.days as usize) {
            *coming -= choice.seconds * choice.per_day;
        }
    }

    fn lift(&mut self, item: usize, loaded: &[u16]) {
        let set = self.days.get(item).copied().unwrap_or_default();
        let Some(choice) = self.ready.choices.get(item) else { return };
        for (day, (list, load)) in self.lists.iter_mut().zip(&mut self.load).enumerate() {
            if set & (1 << day) != 0 {
                *list &= !(1 << item);
                *load -= choice.seconds * choice.per_day;
            }
        }
        self.loaded.copy_from_slice(loaded);
        if let Some(days) = self.days.get_mut(item) {
            *days = 0;
        }
        self.undecided |= 1 << item;
        if let Some(coming) = self.coming.get_mut(choice.days as usize) {
            *coming += choice.seconds * choice.per_day;
        }
    }

    /// The levels of one day as it now is; tells what is still free on it.
    fn day(&mut self, day: usize, free: &mut Free) -> DayLevels {
        let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
        let list = self.lists.get(day).copied().unwrap_or_default();
        let (levels, exact) = if self.depth == Depth::Whole {
            let packed = self.packer.coarse(kind, list);
            (packed.levels, packed.exact)
        } else {
            self.packer.minutes(kind, list)
        };
        self.exact &= exact;
        let given = self.ready.kinds.get(kind).copied().unwrap_or_default();
        let load = self.load.get(day).copied().unwrap_or_default();
        let over_whole = given.day.map_or(0, |given| load.saturating_sub(given));
        let over_parts = levels.overtime.saturating_sub(over_whole);
        if let (Some(parts), Some(whole)) = (free.parts.get_mut(day), free.whole.get_mut(day)) {
            *parts = given
                .in_parts()
                .map_or(u32::MAX, |given| given.saturating_add(over_parts).saturating_sub(load));
            *whole = given.day.map_or(u32::MAX, |given| given.saturating_sub(load));
        }
        levels
    }

    pub fn sums(&mut self) -> Sums {
        let mut sums = Sums::default();
        for day in 0..self.ready.horizon {
            let levels = self.day(day, &mut sums.free);
            sums.sum = sums.sum.plus(levels);
            if let Some(slot) = sums.by_day.get_mut(day) {
                *slot = levels;
            }
        }
        sums
    }

    /// The bound once `item`, which is being placed on `set`, is there.
    fn look(&mut self, sums: &Sums, item: usize, set: u16, loaded: &[u16]) -> Levels {
        self.nodes += 1;
        self.place(item, set);
        let (mut sum, mut free) = (sums.sum, sums.free);
        for day in ones(u64::from(set)) {
            let levels = self.day(day, &mut free);
            sum = sum.plus(levels).minus(sums.by_day.get(day).copied().unwrap_or_default());
        }
        let choice = self.ready.choices.get(item);
        let loads = choice.map_or(0, |choice| choice.loads);
        let mut recovery = self.least_of_groups;
        for group in ones(loads) {
            recovery = recovery - self.least_by_group.get(group).copied().unwrap_or_default()
                + self.recovery_of(group);
        }
        let bound = self.bound(sum, &free, recovery);
        self.lift(item, loaded);
        bound
    }

    /// First the three levels that come before the lists of the day, then the fewest lists with which they can be
    /// reached, tried from one on: few lists leave few sets of days. What is found is in `best`; the answer is what no
    /// week can be better than. Nothing is found where the purse did not reach so far.
    pub fn by_lists(&mut self, domains: &[Domain], turns: &[Turn], sums: &Sums) -> Option<Levels> {
        let purse = self.limit;
        self.depth = Depth::Minutes;
        self.limit = purse / 4;
        let root = self.root(domains, sums);
        self.descend(domains, turns, root);
        let first = self.best.take();
        let sure = self.unseen.take().is_none() && self.exact;
        (self.depth, self.limit) = (Depth::Whole, purse);
        let floor = first.filter(|_| sure).map(|(levels, _)| levels)?;
        self.floor = Some(floor);
        let fewest = self.root(domains, sums).lists;
        for cap in fewest..=self.ready.horizon as u32 {
            self.cap = Some(cap);
            let root = self.root(domains, sums);
            self.descend(domains, turns, root);
            if self.best.is_some() || self.unseen.is_some() || self.spent() {
                break;
            }
        }
        let least = Levels { lists: self.cap.unwrap_or_default(), ..floor };
        self.cap = None;
        if self.best.is_none() {
            self.floor = None;
        }
        Some(least)
    }

    /// How many lists of the day there are at least once an item takes `set`: what is told apart by what is decided
    /// stays apart.
    fn apart(classes: &[(u64, u16)], set: u16) -> u32 {
        classes
            .iter()
            .map(|&(list, days)| {
                let some = days & set != 0;
                if list == 0 { u32::from(some) } else { 1 + u32::from(some && days & !set != 0) }
            })
            .sum()
    }

    /// Days by what is decided for them.
    fn classes(&self) -> Vec<(u64, u16)> {
        let mut classes: Vec<(u64, u16)> = Vec::new();
        for (day, &list) in self.lists.iter().enumerate() {
            match classes.iter_mut().find(|(other, _)| *other == list) {
                Some((_, days)) => *days |= 1 << day,
                None => classes.push((list, 1 << day)),
            }
        }
        classes
    }

    /// Whether what has this bound needs no looking into.
    pub fn hopeless(&self, bound: Levels) -> bool {
        let first = |levels: Levels| (levels.broken, levels.overtime, levels.recovery);
        if self.cap.is_some_and(|cap| cap < bound.lists)
            || self.floor.is_some_and(|floor| first(floor) < first(bound))
        {
            return true;
        }
        match (self.target, &self.best) {
            (Some(_), Some(_)) => true,
            (Some(target), None) => target < bound,
            (None, Some((best, _))) => *best <= bound || self.enough.is_some_and(|enough| *best <= enough),
            (None, None) => false,
        }
    }

    fn spent(&self) -> bool {
        self.limit <= self.nodes + self.packer.nodes
    }

    /// Whether nothing more is looked into. Without a week to give, the first way down is gone on with; it leads to one
    /// unless something is struck off on the way.
    fn is_over(&self) -> bool {
        self.spent() && (self.best.is_some() || self.target.is_some() || self.cap.is_some())
    }

    pub fn descend(&mut self, domains: &[Domain], turns: &[Turn], bound: Levels) {
        if self.hopeless(bound) {
            return;
        }
        if domains.is_empty() {
            if self.target.is_none_or(|target| bound == target) {
                self.best = Some((bound, self.days.clone()));
            }
            return;
        }
        let ready = self.ready;
        let sums = self.sums();
        let loaded = self.loaded.clone();
        self.recovery_by_group();
        let alone = self.count_coming(domains);
        let coming = self.coming_alone;
        // Every undecided item is looked at: what would already be too bad is struck off for good below this node,
        // and the item that must cost most is decided first: with few lists of the day the one with the fewest sets left,
        // when only ranks are left the first in the text.
        let classes = if self.cap.is_some() { self.classes() } else { Vec::new() };
        let mut below: Vec<Domain> = Vec::with_capacity(domains.len());
        let mut next: Option<((Levels, u32, u32, Levels), usize)> = None;
        let mut children: Vec<(Levels, u16)> = Vec::new();
        let mut looked: Vec<(Levels, u16)> = Vec::new();
        for (domain, alone) in domains.iter().zip(alone) {
            // At the limit only the first way down is gone on with, so that there is a week to give.
            if self.spent() && next.is_some() {
                below.push(*domain);
                continue;
            }
            self.coming_alone =
                Alone { overtime: coming.overtime - alone.overtime, away: coming.away - alone.away };
            looked.clear();
            let mut open = 0_u64;
            let sets =
                ready.choices.get(domain.item).map(|choice| choice.sets.as_slice()).unwrap_or_default();
            for at in ones(domain.open) {
                let Some(&set) = sets.get(at) else { continue };
                if self.cap.is_some_and(|cap| cap < Self::apart(&classes, set)) {
                    continue;
                }
                let child = self.look(&sums, domain.item, set, &loaded);
                if !self.hopeless(child) {
                    open |= 1 << at;
                    looked.push((child, set));
                }
            }
            let Some(least) = looked.iter().map(|(child, _)| *child).min() else {
                if let Some(weight) = self.weight.get_mut(domain.item) {
                    *weight += 1;
                }
                return;
            };
            let weight = self.weight.get(domain.item).copied().unwrap_or_default();
            let fewest = u32::MAX - looked.len() as u32;
            let key = if self.cap.is_some() {
                (Levels::default(), fewest, weight, least)
            } else {
                (least, weight, fewest, Levels::default())
            };
            if next.is_none_or(|(best, _)| self.target.is_none() && best < key) {
                next = Some((key, below.len()));
                std::mem::swap(&mut children, &mut looked);
            }
            below.push(Domain { item: domain.item, open });
        }
        let Some((_, at)) = next else { return };
        let item = below.remove(at).item;
        if self.target.is_none() {
            if self.depth == Depth::Whole {
                // The sort is stable, so equal bounds stay in the order of ranks.
                crate::sorting::sort_by_key(&mut children, |(child, _)| *child);
            } else {
                // Ranks don't matter here: what leaves the fullest day the most room comes first.
                crate::sorting::sort_by_key(&mut children, |(child, set)| (*child, self.fullest(*set)));
            }
        }
        for (at, &(child, set)) in children.iter().enumerate() {
            let earlier = children.get(..at).unwrap_or_default();
            if turns.iter().any(|turn| earlier.iter().any(|(_, other)| *other == turn.set(set))) {
                continue;
            }
            if self.hopeless(child) {
                continue;
            }
            if self.is_over() {
                self.unseen = Some(self.unseen.map_or(child, |unseen| unseen.min(child)));
                continue;
            }
            self.place(item, set);
            let still: Vec<Turn> = turns.iter().copied().filter(|turn| turn.set(set) == set).collect();
            self.descend(&below, &still, child);
            self.lift(item, &loaded);
        }
    }

    /// Of these days, the load of the one with the least room: seconds laid less seconds given.
    fn fullest(&self, set: u16) -> i64 {
        ones(u64::from(set))
            .map(|day| {
                let given = self.ready.kind_of.get(day).and_then(|&kind| self.ready.kinds.get(kind)?.total());
                let load = self.load.get(day).copied().unwrap_or_default();
                i64::from(load) - given.map_or(i64::from(u32::MAX), i64::from)
            })
            .max()
            .unwrap_or_default()
    }

    /// A bound that does not lean on packings that were cut off: nothing but the broken and overtime bounds of days
    /// with fixed items.
    pub fn loose_root(&mut self) -> Levels {
        let mut bound = Levels::default();
        for day in 0..self.ready.horizon {
            let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
            let list = self.lists.get(day).copied().unwrap_or_default();
            let packed = self.packer.coarse(kind, list);
            bound.broken += packed.bound.broken;
            bound.overtime += packed.bound.overtime;
        }
        bound
    }

    /// By day of a week with these days: the items done, and their parts.
    pub fn packed(&mut self, days: &[u16]) -> Vec<(u64, Vec<PartSet>)> {
        // A purse of its own, so that a spent one does not leave the parts in whatever order they were found.
        self.packer.limit = self.packer.limit.max(self.packer.nodes + self.limit / 4);
        (0..self.ready.horizon)
            .map(|day| {
                let list = days
                    .iter()
                    .enumerate()
                    .filter(|(_, set)| **set & (1 << day) != 0)
                    .fold(0_u64, |list, (item, _)| list | 1 << item);
                let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
                let (parts, exact) = self.packer.parts(kind, list);
                self.exact &= exact;
                (list, parts)
            })
            .collect()
    }
}

/// The places of the bits that are set.
pub(crate) fn ones(mut bits: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let place = bits.trailing_zeros() as usize;
        bits &= bits.checked_sub(1)?;
        Some(place)
    })
}
