//! The proven best week: days chosen item by item, each day packed on its own (`model.md`, "How it is solved").

use std::collections::BTreeMap;

use crate::week::model::{Day, Fault, Gap, Levels, Limit, Overtime, Part, PartSet, Problem, Session, Week};
use crate::week::pack::{DayLevels, Packer};
use crate::week::ready::{Pair, Ready};

/// The best week for this problem.
///
/// The same problem gives the same week everywhere; at the limit the best week found so far is given, and
/// [`Week::proved`] is false.
pub fn solve(problem: &Problem, limit: Limit) -> Result<Week, Fault> {
    let ready = Ready::of(problem)?;
    let found = search(&ready, limit, Depth::Whole, None);
    Ok(written(problem, &ready, &found))
}

/// How far down the aims a search goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Depth {
    /// All nine levels and the total order.
    Whole,
    /// Broken rules, overtime and recovery only; what comes after is not made small.
    Minutes,
    /// Recovery before minutes: broken rules and recovery in one sum, then overtime.
    Rested,
}

impl Depth {
    fn cut(self, levels: Levels) -> Levels {
        match self {
            Depth::Whole => levels,
            Depth::Minutes => Levels {
                broken: levels.broken,
                overtime: levels.overtime,
                recovery: levels.recovery,
                ..Levels::default()
            },
            Depth::Rested => Levels {
                broken: levels.broken * 1000 + levels.recovery,
                overtime: levels.overtime,
                ..Levels::default()
            },
        }
    }
}

/// Days by item, and what is known of them.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    pub levels: Levels,
    pub proved: bool,
    pub bound: Levels,
    pub nodes: u64,
    /// By day: the items done, and their parts in the order of items.
    pub packed: Vec<(u64, Vec<PartSet>)>,
}

struct Hunt<'a> {
    ready: &'a Ready,
    packer: Packer<'a>,
    depth: Depth,
    limit: u64,
    /// Items done, by day.
    lists: Vec<u64>,
    /// Seconds, by day.
    load: Vec<u32>,
    /// Days loaded, by group.
    loaded: Vec<u16>,
    days: Vec<u16>,
    /// Items whose days are not chosen yet.
    undecided: u64,
    /// Seconds of the undecided items.
    rest: u32,
    /// Seconds of all items.
    total: u32,
    best: Option<(Levels, Vec<u16>)>,
    /// Least bound of what was not looked into because of the limit.
    unseen: Option<Levels>,
    exact: bool,
    nodes: u64,
    /// Once the levels are known: the first week by rank that has them.
    target: Option<Levels>,
    /// Any week at least as good as this will do.
    enough: Option<Levels>,
    /// The first three levels, once they are proven: no week with greater ones is of use.
    floor: Option<Levels>,
    /// So many lists of the day at most.
    cap: Option<u32>,
    /// By item: how often it was left without days; what fails often is decided early.
    weight: Vec<u32>,
    /// By group, the items that load it.
    loaders: Vec<u64>,
    some_overtime: bool,
    /// By item: seconds of overtime that it costs even alone.
    least_overtime: Vec<u32>,
    /// Remembered: fewest neighbouring days of a group, by group, undecided items that load it, days loaded.
    least_recovery: BTreeMap<(usize, u64, u16), u32>,
    /// Remembered: fewest further lists, by sizes of lists, free days, numbers of days that are still to be chosen.
    least_lists: BTreeMap<(Vec<u32>, u32, u32), u32>,
}

/// What is summed over days, kept by node so that a choice only changes the days that it takes.
struct Sums {
    by_day: Vec<DayLevels>,
    sum: DayLevels,
    /// Seconds still free, if all slots have a limit.
    free: Option<u32>,
}

/// The days moved on by `shift`, mirrored before that or not, round the end.
#[derive(Clone, Copy, Debug)]
struct Turn {
    shift: usize,
    mirrored: bool,
    horizon: usize,
}

impl Turn {
    fn day(self, day: usize) -> usize {
        let day = if self.mirrored { self.horizon - day } else { day };
        (day + self.shift) % self.horizon
    }

    fn set(self, days: u16) -> u16 {
        (0..self.horizon).filter(|day| days & (1 << day) != 0).fold(0, |set, day| set | 1 << self.day(day))
    }
}

/// Days that an undecided item may still take.
type Domains = Vec<(usize, Vec<u16>)>;

/// Searches for the best days. With `enough`, any week at least as good will do.
pub(crate) fn search(ready: &Ready, limit: Limit, depth: Depth, enough: Option<Levels>) -> Found {
    let mut hunt = Hunt::new(ready, limit, depth, enough);
    let domains: Domains = (0..ready.choices.len())
        .filter(|item| hunt.undecided & (1 << item) != 0)
        .map(|item| (item, ready.choices.get(item).map(|choice| choice.sets.clone()).unwrap_or_default()))
        .collect();
    let sums = hunt.sums();
    let turns = hunt.turns(&domains);
    let whole = depth == Depth::Whole && enough.is_none();
    let least = if whole { hunt.by_lists(&domains, &turns, &sums) } else { None };
    let root = hunt.bound(&sums);
    if hunt.best.is_none() {
        // What is left of the purse, and enough to find some good week in any case.
        hunt.limit = hunt.limit.max(hunt.nodes + hunt.packer.nodes + limit.nodes / 4);
        hunt.descend(&domains, &turns, root);
    }
    let cut = hunt.unseen;
    let (levels, mut days) = hunt.best.take().unwrap_or_else(|| (root, hunt.days.clone()));
    let mut proved = cut.is_none() && hunt.exact;
    let bound = cut.map_or(levels, |unseen| unseen.max(least.unwrap_or_default()).min(levels));
    let bound = if hunt.exact { bound } else { bound.min(hunt.loose_root()) };
    if whole {
        hunt.target = Some(levels);
        hunt.cap = Some(levels.lists);
        hunt.unseen = None;
        // The order of ranks is looked for with a purse of its own, so that a limit spent on the levels does not
        // leave the days in whatever order they were found.
        hunt.limit = hunt.nodes + hunt.packer.nodes + limit.nodes;
        // Ranks tell equal days apart, so here no day is like another.
        hunt.descend(&domains, &[], root);
        proved &= hunt.unseen.is_none() && hunt.exact;
        if let Some((_, first)) = hunt.best.take() {
            days = first;
        }
    }
    let packed = hunt.packed(&days);
    Found { levels, proved, bound, nodes: hunt.nodes + hunt.packer.nodes, packed }
}

impl<'a> Hunt<'a> {
    fn new(ready: &'a Ready, limit: Limit, depth: Depth, enough: Option<Levels>) -> Hunt<'a> {
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
            rest: total,
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
            some_overtime: false,
            least_overtime: vec![0; ready.choices.len()],
            least_recovery: BTreeMap::new(),
            least_lists: BTreeMap::new(),
        };
        for (item, choice) in ready.choices.iter().enumerate() {
            if let [set] = choice.sets[..] {
                hunt.place(item, set);
                continue;
            }
            let alone: Vec<u32> = (0..ready.horizon)
                .map(|day| {
                    let kind = ready.kind_of.get(day).copied().unwrap_or_default();
                    hunt.packer.pack(kind, 1 << item).levels.overtime
                })
                .collect();
            let over = |set: &u16| -> u32 {
                alone.iter().enumerate().filter(|(day, _)| set & (1 << day) != 0).map(|(_, over)| over).sum()
            };
            if let Some(least) = hunt.least_overtime.get_mut(item) {
                *least = choice.sets.iter().map(over).min().unwrap_or_default();
                hunt.some_overtime |= 0 < *least;
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
        for (group, days) in self.loaded.iter_mut().enumerate() {
            if choice.loads & (1 << group) != 0 {
                *days |= set;
            }
        }
        if let Some(days) = self.days.get_mut(item) {
            *days = set;
        }
        self.undecided &= !(1 << item);
        self.rest -= choice.seconds * choice.per_day * choice.days;
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
        self.rest += choice.seconds * choice.per_day * choice.days;
    }

    /// The levels of one day as it now is, and its free seconds.
    fn day(&mut self, day: usize) -> (DayLevels, Option<u32>) {
        let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
        let list = self.lists.get(day).copied().unwrap_or_default();
        let (levels, exact) = if self.depth == Depth::Whole {
            let packed = self.packer.pack(kind, list);
            (packed.levels, packed.exact)
        } else {
            self.packer.minutes(kind, list)
        };
        self.exact &= exact;
        let given = self.ready.kinds.get(kind).and_then(|given| given.total());
        let load = self.load.get(day).copied().unwrap_or_default();
        let free = given.map(|given| given.saturating_add(levels.overtime).saturating_sub(load));
        (levels, free)
    }

    fn sums(&mut self) -> Sums {
        let mut sums = Sums { by_day: Vec::new(), sum: DayLevels::default(), free: Some(0) };
        for day in 0..self.ready.horizon {
            let (levels, free) = self.day(day);
            sums.sum = sums.sum.plus(levels);
            sums.free = sums.free.zip(free).map(|(a, b)| a.saturating_add(b));
            sums.by_day.push(levels);
        }
        sums
    }

    /// The bound once `item`, which is being placed on `set`, is there.
    fn look(&mut self, sums: &Sums, item: usize, set: u16, loaded: &[u16]) -> Levels {
        self.nodes += 1;
        self.place(item, set);
        let mut after = Sums { by_day: Vec::new(), sum: sums.sum, free: sums.free };
        let added =
            self.ready.choices.get(item).map_or(0, |choice| choice.seconds * choice.per_day * choice.days);
        let mut more_overtime = 0;
        for day in 0..self.ready.horizon {
            if set & (1 << day) == 0 {
                continue;
            }
            let (levels, _) = self.day(day);
            let old = sums.by_day.get(day).copied().unwrap_or_default();
            more_overtime += levels.overtime - old.overtime.min(levels.overtime);
            after.sum = after.sum.plus(levels).minus(old);
        }
        after.free = sums.free.map(|free| free.saturating_add(more_overtime).saturating_sub(added));
        let bound = self.bound(&after);
        self.lift(item, loaded);
        bound
    }

    /// No week that goes on from here has smaller levels; once everything is decided, its levels.
    fn bound(&mut self, sums: &Sums) -> Levels {
        let ready = self.ready;
        let sum = sums.sum;
        let alone: u32 = if self.some_overtime {
            ones(self.undecided).map(|item| self.least_overtime.get(item).copied().unwrap_or_default()).sum()
        } else {
            0
        };
        let fluid = sums.free.map_or(0, |free| self.rest.saturating_sub(free));
        let mut levels =
            Levels { broken: sum.broken, overtime: sum.overtime + alone.max(fluid), ..Levels::default() };
        levels.recovery = self.least_recovery_of_all();
        levels = self.depth.cut(levels);
        // What is too bad already needs no finer look: the zeros that follow are a bound as well.
        if self.depth != Depth::Whole || self.hopeless(levels) {
            return levels;
        }
        levels.lists = self.least_lists();
        levels.sessions = sum.sessions;
        levels.away = sum.away;
        if self.hopeless(levels) {
            return levels;
        }
        let mut longest = self.load.iter().copied().max().unwrap_or_default();
        if self.undecided != 0 {
            longest = longest.max(self.total.div_ceil(ready.horizon as u32));
            let mut sorted = [0_u32; 14];
            let sorted = sorted.get_mut(..ready.horizon).unwrap_or_default();
            sorted.copy_from_slice(&self.load);
            crate::sorting::sort(sorted);
            for choice in ones(self.undecided).filter_map(|item| ready.choices.get(item)) {
                let least = sorted.get((choice.days as usize).saturating_sub(1)).copied().unwrap_or_default();
                longest = longest.max(least + choice.seconds * choice.per_day);
            }
        }
        Levels { longest, positions: sum.positions, kit: sum.kit, ..levels }
    }

    /// Fewest neighbouring loaded days, over all groups.
    fn least_recovery_of_all(&mut self) -> u32 {
        let mut least = 0;
        for group in 0..self.loaded.len() {
            let days = self.loaded.get(group).copied().unwrap_or_default();
            let coming = self.undecided & self.loaders.get(group).copied().unwrap_or_default();
            least += self.recovery(group, coming, days);
        }
        least
    }

    /// Fewest neighbouring loaded days of a group once the items in `coming` have taken their days, each group by
    /// itself.
    fn recovery(&mut self, group: usize, coming: u64, days: u16) -> u32 {
        if coming == 0 {
            return neighbours(days, self.ready.horizon as u32);
        }
        if let Some(&known) = self.least_recovery.get(&(group, coming, days)) {
            return known;
        }
        let item = coming.trailing_zeros() as usize;
        let rest = coming & (coming - 1);
        let floor = neighbours(days, self.ready.horizon as u32);
        let mut least = u32::MAX;
        let ready = self.ready;
        for &set in ready.choices.get(item).map(|choice| choice.sets.as_slice()).unwrap_or_default() {
            least = least.min(self.recovery(group, rest, days | set));
            if least == floor {
                break;
            }
        }
        self.least_recovery.insert((group, coming, days), least);
        least
    }

    /// Fewest lists of the day in the end: every number of days still to be chosen must be a sum of sizes of lists, so
    /// lists are split, or begun on free days, until it is.
    fn least_lists(&mut self) -> u32 {
        let mut known = [(0_u64, 0_u32); 14];
        let mut count = 0;
        let mut free = 0;
        for &list in &self.lists {
            if list == 0 {
                free += 1;
            } else if let Some((_, size)) =
                known.get_mut(..count).unwrap_or_default().iter_mut().find(|(other, _)| *other == list)
            {
                *size += 1;
            } else if let Some(slot) = known.get_mut(count) {
                *slot = (list, 1);
                count += 1;
            }
        }
        let known = known.get(..count).unwrap_or_default();
        let mut wanted = 0_u32;
        let mut left = self.undecided;
        while left != 0 {
            let item = left.trailing_zeros() as usize;
            left &= left - 1;
            wanted |= self.ready.choices.get(item).map_or(0, |choice| 1 << choice.days);
        }
        let sums = known.iter().fold(1_u32, |sums, &(_, size)| sums | sums << size);
        if wanted & !sums == 0 {
            return count as u32;
        }
        let mut sizes: Vec<u32> = known.iter().map(|&(_, size)| size).collect();
        crate::sorting::sort(&mut sizes);
        let key = (sizes, free, wanted);
        if let Some(&more) = self.least_lists.get(&key) {
            return count as u32 + more;
        }
        let more = (1..3).find(|&splits| reachable(&key.0, free, wanted, splits)).unwrap_or(3);
        self.least_lists.insert(key, more);
        count as u32 + more
    }

    /// First the three levels that come before the lists of the day, then the fewest lists with which they can be
    /// reached, tried from one on: few lists leave few sets of days. What is found is in `best`; the answer is what no
    /// week can be better than. Nothing is found where the purse did not reach so far.
    fn by_lists(&mut self, domains: &Domains, turns: &[Turn], sums: &Sums) -> Option<Levels> {
        let purse = self.limit;
        self.depth = Depth::Minutes;
        self.limit = purse / 4;
        let root = self.bound(sums);
        self.descend(domains, turns, root);
        let first = self.best.take();
        let sure = self.unseen.take().is_none() && self.exact;
        (self.depth, self.limit) = (Depth::Whole, purse);
        let floor = first.filter(|_| sure).map(|(levels, _)| levels)?;
        self.floor = Some(floor);
        let fewest = self.bound(sums).lists;
        for cap in fewest..=self.ready.horizon as u32 {
            self.cap = Some(cap);
            let root = self.bound(sums);
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
    fn hopeless(&self, bound: Levels) -> bool {
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

    /// The ways to turn or mirror the week that change nothing: the same minutes, the same fixed items and appointments,
    /// the same choices. Every level is the same for a week and the week so turned, so only one of them is looked at.
    fn turns(&self, domains: &Domains) -> Vec<Turn> {
        let horizon = self.ready.horizon;
        let all =
            (0..horizon).flat_map(|shift| [false, true].map(|mirrored| Turn { shift, mirrored, horizon }));
        all.filter(|turn| turn.shift != 0 || turn.mirrored)
            .filter(|turn| {
                (0..horizon).all(|day| {
                    let there = turn.day(day);
                    self.ready.kind_of.get(day) == self.ready.kind_of.get(there)
                        && self.lists.get(day) == self.lists.get(there)
                }) && self.loaded.iter().all(|&days| turn.set(days) == days)
                    && domains.iter().all(|(_, sets)| sets.iter().all(|&set| sets.contains(&turn.set(set))))
            })
            .collect()
    }

    fn descend(&mut self, domains: &Domains, turns: &[Turn], bound: Levels) {
        if self.hopeless(bound) {
            return;
        }
        if domains.is_empty() {
            if self.target.is_none_or(|target| bound == target) {
                self.best = Some((bound, self.days.clone()));
            }
            return;
        }
        let sums = self.sums();
        let loaded = self.loaded.clone();
        // Every undecided item is looked at: what would already be too bad is struck off for good below this node,
        // and the item that must cost most is decided first (when only ranks are left, the first in the text).
        let mut looked: Vec<(usize, Vec<(Levels, u16)>)> = Vec::new();
        let classes = if self.cap.is_some() { self.classes() } else { Vec::new() };
        for (item, sets) in domains {
            // At the limit only the first way down is gone on with, so that there is a week to give.
            if self.spent() && !looked.is_empty() {
                looked.push((*item, sets.iter().map(|&set| (bound, set)).collect()));
                continue;
            }
            let mut open = Vec::with_capacity(sets.len());
            for &set in sets {
                if self.cap.is_some_and(|cap| cap < Self::apart(&classes, set)) {
                    continue;
                }
                let child = self.look(&sums, *item, set, &loaded);
                if !self.hopeless(child) {
                    open.push((child, set));
                }
            }
            if open.is_empty() {
                if let Some(weight) = self.weight.get_mut(*item) {
                    *weight += 1;
                }
                return;
            }
            looked.push((*item, open));
        }
        let least = |open: &[(Levels, u16)]| open.iter().map(|(child, _)| *child).min().unwrap_or(bound);
        let next = if self.target.is_some() {
            0
        } else {
            (0..looked.len())
                .max_by_key(|&at| {
                    looked.get(at).map(|(item, open)| {
                        let weight = self.weight.get(*item).copied().unwrap_or_default();
                        (least(open), weight, usize::MAX - open.len(), usize::MAX - at)
                    })
                })
                .unwrap_or_default()
        };
        if next < looked.len() {
            let (item, mut open) = looked.remove(next);
            let below: Domains = looked
                .into_iter()
                .map(|(item, open)| (item, open.into_iter().map(|(_, set)| set).collect()))
                .collect();
            if self.target.is_none() {
                if self.depth == Depth::Whole {
                    // The sort is stable, so equal bounds stay in the order of ranks.
                    crate::sorting::sort_by_key(&mut open, |(child, _)| *child);
                } else {
                    // Ranks don't matter here: what leaves the fullest day the most room comes first.
                    crate::sorting::sort_by_key(&mut open, |(child, set)| (*child, self.fullest(*set)));
                }
            }
            let sets: Vec<u16> = open.iter().map(|(_, set)| *set).collect();
            for (at, (child, set)) in open.into_iter().enumerate() {
                let earlier = sets.get(..at).unwrap_or_default();
                if turns.iter().any(|turn| earlier.contains(&turn.set(set))) {
                    continue;
                }
                if self.hopeless(child) {
                    continue;
                }
                if self.spent() && (self.best.is_some() || self.target.is_some()) {
                    self.unseen = Some(self.unseen.map_or(child, |unseen| unseen.min(child)));
                    continue;
                }
                self.place(item, set);
                let still: Vec<Turn> = turns.iter().copied().filter(|turn| turn.set(set) == set).collect();
                self.descend(&below, &still, child);
                self.lift(item, &loaded);
            }
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
    fn loose_root(&mut self) -> Levels {
        let mut bound = Levels::default();
        for day in 0..self.ready.horizon {
            let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
            let list = self.lists.get(day).copied().unwrap_or_default();
            let packed = self.packer.pack(kind, list);
            bound.broken += packed.bound.broken;
            bound.overtime += packed.bound.overtime;
        }
        bound
    }

    fn packed(&mut self, days: &[u16]) -> Vec<(u64, Vec<PartSet>)> {
        (0..self.ready.horizon)
            .map(|day| {
                let list = days
                    .iter()
                    .enumerate()
                    .filter(|(_, set)| **set & (1 << day) != 0)
                    .fold(0_u64, |list, (item, _)| list | 1 << item);
                let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
                (list, self.packer.pack(kind, list).parts.clone())
            })
            .collect()
    }
}

/// Whether every number in the bits of `wanted` is a sum of sizes of lists after so many splits.
fn reachable(sizes: &[u32], free: u32, wanted: u32, splits: u32) -> bool {
    let sums = sizes.iter().fold(1_u32, |sums, &size| sums | sums << size);
    if wanted & !sums == 0 {
        return true;
    }
    if splits == 0 {
        return false;
    }
    let mut tried = 0;
    for (at, &size) in sizes.iter().enumerate() {
        if tried == size {
            continue;
        }
        tried = size;
        for cut in 1..=size / 2 {
            let mut smaller = sizes.to_vec();
            if let Some(slot) = smaller.get_mut(at) {
                *slot = size - cut;
            }
            smaller.push(cut);
            crate::sorting::sort(&mut smaller);
            if reachable(&smaller, free, wanted, splits - 1) {
                return true;
            }
        }
    }
    (1..=free).any(|begun| {
        let mut more = sizes.to_vec();
        more.push(begun);
        crate::sorting::sort(&mut more);
        reachable(&more, free - begun, wanted, splits - 1)
    })
}

/// The places of the bits that are set.
fn ones(mut bits: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let place = bits.trailing_zeros() as usize;
        bits &= bits.checked_sub(1)?;
        Some(place)
    })
}

/// Days whose next day, round the end, is in the set as well.
fn neighbours(days: u16, horizon: u32) -> u32 {
    let next = (days >> 1) | ((days & 1) << (horizon - 1));
    (days & next).count_ones()
}

/// The answer in the words of the problem.
fn written(problem: &Problem, ready: &Ready, found: &Found) -> Week {
    let mut laid = vec![vec![PartSet::default(); ready.horizon]; problem.items.len()];
    let mut sessions = Vec::new();
    let mut overtime = Vec::new();
    let mut broken = Vec::new();
    for (day, (list, parts)) in found.packed.iter().enumerate() {
        let week = if day < 7 { 1 } else { 2 };
        let items: Vec<usize> = (0..ready.choices.len()).filter(|item| list & (1 << item) != 0).collect();
        for (&item, &set) in items.iter().zip(parts) {
            let old = ready.choices.get(item).map_or(0, |choice| choice.index);
            if let Some(slot) = laid.get_mut(old).and_then(|days| days.get_mut(day)) {
                *slot = set;
            }
        }
        let given =
            ready.kind_of.get(day).and_then(|&kind| ready.kinds.get(kind)).copied().unwrap_or_default();
        let load: u32 =
            items.iter().filter_map(|&item| ready.choices.get(item)).map(|c| c.seconds * c.per_day).sum();
        if let Some(given) = given.day.filter(|given| *given < load) {
            overtime.push(Overtime { week, day: Day::of(day), part: None, seconds: load - given });
        }
        let of =
            |item: usize| items.iter().position(|&other| other == item).and_then(|at| parts.get(at).copied());
        for part in Part::ALL {
            let session = items
                .iter()
                .zip(parts)
                .filter(|(_, set)| set.has(part))
                .fold(0_u64, |session, (item, _)| session | 1 << item);
            if session == 0 {
                continue;
            }
            let ordered = ready.orderer.order(session);
            let seconds: u32 = ordered
                .items
                .iter()
                .filter_map(|&item| ready.choices.get(item))
                .map(|choice| choice.seconds)
                .sum();
            if let Some(given) =
                given.parts.get(part as usize).copied().flatten().filter(|given| *given < seconds)
            {
                overtime.push(Overtime {
                    week,
                    day: Day::of(day),
                    part: Some(part),
                    seconds: seconds - given,
                });
            }
            let old = |item: &usize| ready.choices.get(*item).map_or(0, |choice| choice.index);
            sessions.push(Session {
                week,
                day: Day::of(day),
                part,
                items: ordered.items.iter().map(old).collect(),
                seconds: seconds.saturating_add(problem.change_seconds.saturating_mul(ordered.positions)),
                position_changes: ordered.positions,
                kit_changes: ordered.kit,
            });
        }
        for &(pair, a, b) in &ready.pairs {
            let (Some(at_a), Some(at_b)) = (of(a), of(b)) else { continue };
            let bad = match pair {
                Pair::NotOnDay => true,
                Pair::NotInSession => at_a.bits() & at_b.bits() != 0,
                Pair::After => at_a.bits().trailing_zeros() < at_b.bits().trailing_zeros(),
            };
            if bad {
                let name = |item: usize| {
                    ready
                        .choices
                        .get(item)
                        .and_then(|choice| problem.items.get(choice.index))
                        .map_or("", |i| &i.name)
                };
                let day = Day::of(day).name();
                broken.push(match pair {
                    Pair::NotOnDay => format!("{} and {} are both on {day}.", name(a), name(b)),
                    Pair::NotInSession => format!("{} and {} share a session on {day}.", name(a), name(b)),
                    Pair::After => format!("{} comes before {} on {day}.", name(a), name(b)),
                });
            }
        }
    }
    Week {
        proved: found.proved,
        gap: (!found.proved).then_some(Gap { bound: found.bound }),
        levels: found.levels,
        weeks: if ready.horizon == 14 { 2 } else { 1 },
        laid,
        sessions,
        overtime,
        unplaced: ready.unplaced.clone(),
        broken,
        nodes: found.nodes,
    }
}
