//! What a week that is not decided yet must cost at least.

use crate::week::hunt::{Domain, Free, Hunt, MOST_DAYS, Sums, ones};
use crate::week::model::Levels;
use crate::week::pack::DayLevels;
use crate::week::solve::Depth;

impl Hunt<'_> {
    /// The bound of what is placed now.
    pub fn root(&mut self, domains: &[Domain], sums: &Sums) -> Levels {
        self.count_coming(domains);
        self.recovery_by_group();
        self.bound(sums.sum, &sums.free, self.least_of_groups)
    }

    /// No week that goes on from here has smaller levels; once everything is decided, its levels. Of the days: their
    /// levels in one sum, the seconds that are still free, fewest neighbouring loaded days.
    pub fn bound(&mut self, sum: DayLevels, free: &Free, recovery: u32) -> Levels {
        let ready = self.ready;
        // Parts and whole days are over their minutes each for itself.
        let parts = self.coming_alone.overtime.max(self.forced(&free.parts));
        let coming_overtime = parts + self.forced(&free.whole);
        let overtime = sum.overtime + coming_overtime;
        let levels = self.depth.cut(Levels { broken: sum.broken, overtime, recovery, ..Levels::default() });
        // What is too bad already needs no finer look: the zeros that follow are a bound as well.
        if self.depth != Depth::Whole || self.hopeless(levels) {
            return levels;
        }
        // With the overtime of this bound, what is still to come adds none: so it must lie where it fits, and what is
        // placed stays as it was packed. Where some must be added, a day that takes it may be packed otherwise.
        let is_packed = coming_overtime == 0;
        let (sessions, away) = if is_packed {
            (sum.sessions, sum.away + self.coming_alone.away)
        } else {
            (self.fewest_sessions(), 0)
        };
        let levels = Levels { lists: self.least_lists(), sessions, away, ..levels };
        if self.hopeless(levels) {
            return levels;
        }
        // Where what comes before decides already, nothing after it does.
        let rival = self.target.or(self.best.as_ref().map(|(best, _)| *best));
        let before = |levels: Levels| Levels { longest: 0, positions: 0, kit: 0, ..levels };
        if self.undecided != 0 && rival.is_some_and(|rival| levels < before(rival)) {
            return levels;
        }
        let mut longest = self.load.iter().copied().max().unwrap_or_default();
        if self.undecided != 0 {
            longest = longest.max(self.total.div_ceil(ready.horizon as u32));
            let mut sorted = [0_u32; MOST_DAYS];
            let sorted = sorted.get_mut(..ready.horizon).unwrap_or_default();
            sorted.copy_from_slice(&self.load);
            sort_few(sorted);
            for choice in ones(self.undecided).filter_map(|item| ready.choices.get(item)) {
                let least = sorted.get((choice.days as usize).saturating_sub(1)).copied().unwrap_or_default();
                longest = longest.max(least + choice.seconds * choice.per_day);
            }
        }
        let levels = Levels { longest, ..levels };
        // Changes of position and kit take long to count, so they are counted only where nothing before them decides.
        let is_tied = rival.is_some_and(|rival| levels == Levels { positions: 0, kit: 0, ..rival });
        if self.undecided != 0 && !(is_packed && is_tied && ready.orderer.is_monotone()) {
            return levels;
        }
        let fine = self.fine();
        Levels { positions: fine.positions, kit: fine.kit, ..levels }
    }

    /// As many sessions as there are goes a day, however the days are packed.
    fn fewest_sessions(&self) -> u32 {
        let of = |list: u64| {
            u32::from(list != 0) + self.several.iter().map(|items| u32::from(list & items != 0)).sum::<u32>()
        };
        self.lists.iter().map(|&list| of(list)).sum()
    }

    /// All levels of the days as they are, in one sum.
    fn fine(&mut self) -> DayLevels {
        let mut sum = DayLevels::default();
        for day in 0..self.ready.horizon {
            let kind = self.ready.kind_of.get(day).copied().unwrap_or_default();
            let list = self.lists.get(day).copied().unwrap_or_default();
            let packed = self.packer.pack(kind, list);
            self.exact &= packed.exact;
            sum = sum.plus(packed.levels);
        }
        sum
    }

    /// Seconds that the undecided items must take beyond what is free: they can avoid the fullest days only as far as
    /// there are other ones.
    fn forced(&self, free: &[u32; MOST_DAYS]) -> u32 {
        if free.iter().take(self.ready.horizon).all(|free| *free == u32::MAX) {
            return 0;
        }
        let mut sorted = *free;
        let Some(sorted) = sorted.get_mut(..self.ready.horizon) else { return 0 };
        sort_few(sorted);
        let (mut within, mut need, mut each, mut most) = (0_u32, 0, 0, 0);
        let more_days = self.coming.get(1..=self.ready.horizon).unwrap_or_default().iter().rev();
        for (&free, coming) in sorted.iter().zip(more_days) {
            if free == u32::MAX {
                break;
            }
            within = within.saturating_add(free);
            each += coming;
            need += each;
            most = most.max(need.saturating_sub(within));
        }
        most
    }

    /// Fewest neighbouring loaded days of all groups as things stand.
    pub fn recovery_by_group(&mut self) {
        for group in 0..self.loaded.len() {
            let least = self.recovery_of(group);
            if let Some(slot) = self.least_by_group.get_mut(group) {
                *slot = least;
            }
        }
        self.least_of_groups = self.least_by_group.iter().sum();
    }

    /// The same of one group.
    pub fn recovery_of(&mut self, group: usize) -> u32 {
        let days = self.loaded.get(group).copied().unwrap_or_default();
        let coming = self.undecided & self.loaders.get(group).copied().unwrap_or_default();
        self.recovery(group, coming, days)
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
        self.least_recovery.put((group, coming, days), least);
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
        let coded = sizes.iter().fold(0_u64, |coded, &size| coded << 4 | u64::from(size));
        let key = (coded, free, wanted);
        if let Some(&more) = self.least_lists.get(&key) {
            return count as u32 + more;
        }
        let more = (1..3).find(|&splits| reachable(&sizes, free, wanted, splits)).unwrap_or(3);
        self.least_lists.put(key, more);
        count as u32 + more
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

/// Days whose next day, round the end, is in the set as well.
fn neighbours(days: u16, horizon: u32) -> u32 {
    let next = (days >> 1) | ((days & 1) << (horizon - 1));
    (days & next).count_ones()
}

/// Sorts a handful of numbers where they stand: the shared sort would ask for memory at each look.
fn sort_few(numbers: &mut [u32]) {
    for end in 1..numbers.len() {
        let mut at = end;
        while let Some([before, after]) = at.checked_sub(1).and_then(|below| numbers.get_mut(below..=at))
            && *after < *before
        {
            std::mem::swap(before, after);
            at -= 1;
        }
    }
}
