//! The proven best week: days chosen item by item, each day packed on its own (`model.md`, "How it is solved").

use crate::week::model::{
    Day, Fault, Gap, Levels, Limit, Overtime, Part, PartSet, Problem, Session, Week,
};
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
        }
    }
}

/// Days by item, and what is known of them.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    pub levels: Levels,
    /// By item of [`Ready::choices`].
    pub days: Vec<u16>,
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
    /// Items with more than one set of days, in the order in which they are decided.
    order: Vec<usize>,
    /// Items done, by day.
    lists: Vec<u64>,
    /// Seconds, by day.
    load: Vec<u32>,
    /// Days loaded, by group.
    loaded: Vec<u16>,
    days: Vec<u16>,
    /// Seconds of a week with everything in it.
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
    least_overtime: Vec<u32>,
}

/// Searches for the best days. With `enough`, any week at least as good will do.
pub(crate) fn search(ready: &Ready, limit: Limit, depth: Depth, enough: Option<Levels>) -> Found {
    let mut hunt = Hunt::new(ready, limit, depth, enough);
    let flexible: Vec<usize> =
        (0..ready.choices.len()).filter(|&item| ready.choices.get(item).is_some_and(|c| 1 < c.sets.len())).collect();
    // Loaded and long items first: they decide most.
    hunt.order.clone_from(&flexible);
    hunt.order.sort_by_key(|&item| {
        ready.choices.get(item).map_or((0, 0, item), |choice| {
            (u32::from(choice.loads == 0), u32::MAX - choice.seconds * choice.per_day * choice.days, item)
        })
    });
    let root = hunt.bound(0);
    hunt.descend(0, root);
    let cut = hunt.unseen;
    let (levels, days) = hunt.best.take().unwrap_or_else(|| (root, hunt.days.clone()));
    let mut proved = cut.is_none() && hunt.exact;
    let bound = cut.map_or(levels, |unseen| unseen.min(levels));
    let bound = if hunt.exact { bound } else { bound.min(hunt.loose_root()) };
    let mut days = days;
    if depth == Depth::Whole && enough.is_none() {
        hunt.order = flexible;
        hunt.target = Some(levels);
        hunt.unseen = None;
        // The order of ranks is looked for with a purse of its own, so that a limit spent on the levels does not
        // leave the days in whatever order they were found.
        hunt.limit += limit.nodes;
        hunt.descend(0, root);
        proved &= hunt.unseen.is_none() && hunt.exact;
        if let Some((_, first)) = hunt.best.take() {
            days = first;
        }
    }
    let packed = hunt.packed(&days);
    Found { levels, days, proved, bound, nodes: hunt.nodes + hunt.packer.nodes, packed }
}

impl<'a> Hunt<'a> {
    fn new(ready: &'a Ready, limit: Limit, depth: Depth, enough: Option<Levels>) -> Hunt<'a> {
        let mut hunt = Hunt {
            ready,
            packer: Packer::new(ready, limit.nodes),
            depth,
            limit: limit.nodes,
            order: Vec::new(),
            lists: vec![0; ready.horizon],
            load: vec![0; ready.horizon],
            loaded: ready.loaded.clone(),
            days: vec![0; ready.choices.len()],
            total: ready.choices.iter().map(|choice| choice.seconds * choice.per_day * choice.days).sum(),
            best: None,
            unseen: None,
            exact: true,
            nodes: 0,
            target: None,
            enough,
            least_overtime: vec![0; ready.choices.len()],
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
    }

    /// No week that goes on from here has smaller levels; once everything is decided, its levels.
    fn bound(&mut self, depth: usize) -> Levels {
        let mut sum = DayLevels::default();
        let mut free = Some(0_u32);
        for day in 0..self.ready.horizon {
            let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
            let list = self.lists.get(day).copied().unwrap_or_default();
            let packed = self.packer.pack(kind, list);
            self.exact &= packed.exact;
            let levels = packed.levels;
            sum.broken += levels.broken;
            sum.overtime += levels.overtime;
            sum.sessions += levels.sessions;
            sum.away += levels.away;
            sum.positions += levels.positions;
            sum.kit += levels.kit;
            let parts = self.ready.kinds.get(kind).copied().unwrap_or_default();
            let given = parts.iter().try_fold(0_u32, |given, part| part.map(|part| given.saturating_add(part)));
            let load = self.load.get(day).copied().unwrap_or_default();
            free = free.zip(given).map(|(free, given)| {
                free.saturating_add(given.saturating_add(levels.overtime).saturating_sub(load))
            });
        }
        let remaining = self.order.get(depth..).unwrap_or_default();
        let loads = &self.ready.choices;
        let rest: u32 = self.total - self.load.iter().sum::<u32>();
        let alone: u32 =
            remaining.iter().map(|&item| self.least_overtime.get(item).copied().unwrap_or_default()).sum();
        let fluid = free.map_or(0, |free| rest.saturating_sub(free));
        let overtime = sum.overtime + alone.max(fluid);

        let horizon = self.ready.horizon as u32;
        let mut recovery = 0;
        for (group, &days) in self.loaded.iter().enumerate() {
            let now = neighbours(days, horizon);
            let coming = remaining
                .iter()
                .filter_map(|&item| loads.get(item))
                .filter(|choice| choice.loads & (1 << group) != 0)
                .map(|choice| (2 * choice.days).saturating_sub(horizon))
                .max()
                .unwrap_or_default();
            recovery += now.max(coming);
        }

        let mut sizes: Vec<(u64, u32)> = Vec::new();
        for &list in &self.lists {
            match sizes.iter_mut().find(|(known, _)| *known == list) {
                Some((_, size)) => *size += 1,
                None => sizes.push((list, 1)),
            }
        }
        sizes.retain(|&(list, _)| list != 0);
        let sums = sizes.iter().fold(1_u32, |sums, &(_, size)| sums | sums << size);
        let splits = remaining
            .iter()
            .filter_map(|&item| loads.get(item))
            .any(|choice| sums & (1 << choice.days) == 0);
        let lists = sizes.len() as u32 + u32::from(splits);

        let mut longest = self.load.iter().copied().max().unwrap_or_default();
        if !remaining.is_empty() {
            longest = longest.max(self.total.div_ceil(horizon));
            let mut sorted = self.load.clone();
            sorted.sort_unstable();
            for choice in remaining.iter().filter_map(|&item| loads.get(item)) {
                let least = sorted.get((choice.days as usize).saturating_sub(1)).copied().unwrap_or_default();
                longest = longest.max(least + choice.seconds * choice.per_day);
            }
        }
        self.depth.cut(Levels {
            broken: sum.broken,
            overtime,
            recovery,
            lists,
            sessions: sum.sessions,
            away: sum.away,
            longest,
            positions: sum.positions,
            kit: sum.kit,
        })
    }

    /// Whether what has this bound needs no looking into.
    fn hopeless(&self, bound: Levels) -> bool {
        match (self.target, &self.best) {
            (Some(_), Some(_)) => true,
            (Some(target), None) => target < bound,
            (None, Some((best, _))) => *best <= bound || self.enough.is_some_and(|enough| *best <= enough),
            (None, None) => false,
        }
    }

    fn descend(&mut self, depth: usize, bound: Levels) {
        if self.hopeless(bound) {
            return;
        }
        let Some(&item) = self.order.get(depth) else {
            if self.target.is_none_or(|target| bound == target) {
                self.best = Some((bound, self.days.clone()));
            }
            return;
        };
        let Some(choice) = self.ready.choices.get(item) else { return };
        let loaded = self.loaded.clone();
        let mut children: Vec<(Levels, usize)> = Vec::new();
        for (rank, &set) in choice.sets.iter().enumerate() {
            self.nodes += 1;
            self.place(item, set);
            let child = self.bound(depth + 1);
            self.lift(item, &loaded);
            if !self.hopeless(child) {
                children.push((child, rank));
            }
        }
        if self.target.is_none() {
            children.sort_unstable();
        }
        for (child, rank) in children {
            // The first way down is always gone to its end, so that there is a week to give.
            if self.limit <= self.nodes + self.packer.nodes && (self.best.is_some() || self.target.is_some()) {
                if !self.hopeless(child) {
                    self.unseen = Some(self.unseen.map_or(child, |unseen| unseen.min(child)));
                }
                continue;
            }
            if let Some(&set) = choice.sets.get(rank) {
                self.place(item, set);
                self.descend(depth + 1, child);
                self.lift(item, &loaded);
            }
        }
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
        let of = |item: usize| items.iter().position(|&other| other == item).and_then(|at| parts.get(at).copied());
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
            let seconds: u32 =
                ordered.items.iter().filter_map(|&item| ready.choices.get(item)).map(|choice| choice.seconds).sum();
            let kind = ready.kind_of.get(day).and_then(|&kind| ready.kinds.get(kind)).copied().unwrap_or_default();
            if let Some(given) = kind.get(part as usize).copied().flatten().filter(|given| *given < seconds) {
                overtime.push(Overtime { week, day: Day::of(day), part, seconds: seconds - given });
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
                    ready.choices.get(item).and_then(|choice| problem.items.get(choice.index)).map_or("", |i| &i.name)
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
