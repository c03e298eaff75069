//! One day packed: which of the day's items in which part, best by the levels that a day decides by itself.

use crate::week::dig::{Aim, Dig};
use crate::week::hunt::ones;
use crate::week::memo::Memo;
use crate::week::model::PartSet;
use crate::week::ready::Ready;

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

/// What is known of the best packing of one day.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Packed {
    pub levels: DayLevels,
    /// Whether these are proven best; otherwise nothing better than `bound` exists.
    pub exact: bool,
    pub bound: DayLevels,
}

/// Packs days and remembers what it packed.
pub(crate) struct Packer<'a> {
    pub ready: &'a Ready,
    days: Memo<(usize, u64), Packed>,
    coarse: Memo<(usize, u64), Packed>,
    /// By kind of day and list: the parts, in the order of items, of the packing that was found.
    parts: Memo<(usize, u64), Vec<u8>>,
    /// What [`Packer::minutes`] found.
    minutes: Memo<(usize, u64), (DayLevels, bool)>,
    orders: Memo<u64, (u32, u32, bool)>,
    pub nodes: u64,
    pub limit: u64,
}

/// Sets of parts that a day may use: fewest first.
const USES: [u8; 7] = [0b001, 0b100, 0b010, 0b101, 0b011, 0b110, 0b111];

impl<'a> Packer<'a> {
    pub fn new(ready: &'a Ready, limit: u64) -> Packer<'a> {
        Packer {
            ready,
            days: Memo::default(),
            coarse: Memo::default(),
            parts: Memo::default(),
            minutes: Memo::default(),
            orders: Memo::default(),
            nodes: 0,
            limit,
        }
    }

    /// Changes of position and kit of a session, and whether they are proven fewest.
    fn changes(&mut self, list: u64) -> (u32, u32, bool) {
        if list & list.wrapping_sub(1) == 0 {
            return (0, 0, true);
        }
        if let Some(&known) = self.orders.get(&list) {
            return known;
        }
        let ordered = self.ready.orderer.order(list);
        self.nodes += ordered.steps;
        let found = (ordered.positions, ordered.kit, ordered.exact);
        self.orders.put(list, found);
        found
    }

    /// The same of the sessions of one day.
    pub fn all_changes(&mut self, sessions: [u64; 3]) -> (u32, u32, bool) {
        sessions
            .into_iter()
            .map(|list| self.changes(list))
            .fold((0, 0, true), |sum, of| (sum.0 + of.0, sum.1 + of.1, sum.2 && of.2))
    }

    /// The levels that come before changes of position and kit, which are much quicker to find.
    pub fn coarse(&mut self, kind: usize, list: u64) -> Packed {
        if let Some(&packed) = self.coarse.get(&(kind, list)) {
            return packed;
        }
        let packed = self.packed(kind, list, Aim::Coarse, None);
        self.coarse.put((kind, list), packed);
        packed
    }

    /// The levels of the best packing of the items in `list` on a day of this kind.
    pub fn pack(&mut self, kind: usize, list: u64) -> Packed {
        if let Some(&packed) = self.days.get(&(kind, list)) {
            return packed;
        }
        let coarse = self.coarse(kind, list);
        let packed = self.packed(kind, list, Aim::Levels, Some(coarse));
        self.days.put((kind, list), packed);
        packed
    }

    /// Broken rules and overtime of the best packing alone, and whether they are proven: what a search for minutes and
    /// recovery looks at. Most lists have a packing that is as good as the first bound says, so that one is looked
    /// for first.
    pub fn minutes(&mut self, kind: usize, list: u64) -> (DayLevels, bool) {
        if let Some(&known) = self.minutes.get(&(kind, list)) {
            return known;
        }
        self.set_up(list);
        let mut found = (DayLevels::default(), true);
        if let Some(mut dig) = Dig::new(self, kind, list, 7, Aim::Minutes) {
            let mut just_above = dig.bound();
            just_above.overtime += 1;
            dig.best = Some((just_above, Vec::new()));
            dig.dig(0);
            if dig.best.as_ref().is_none_or(|(_, parts)| parts.is_empty()) {
                dig.best = None;
                dig.dig(0);
            }
            let is_sure = !dig.is_cut();
            match dig.best.take() {
                Some((mut levels, _)) if is_sure => {
                    levels.overtime += self.over_the_day(kind, list);
                    found.0 = levels;
                }
                _ => {
                    let packed = self.pack(kind, list);
                    found = (packed.levels, packed.exact);
                }
            }
        }
        self.minutes.put((kind, list), found);
        found
    }

    /// The parts of the best packing, in the order of items, and whether they are proven to be the ones whose ranks
    /// come first, item by item.
    pub fn parts(&mut self, kind: usize, list: u64) -> (Vec<PartSet>, bool) {
        let packed = self.pack(kind, list);
        let mut exact = packed.exact;
        let mut levels = packed.levels;
        self.set_up(list);
        levels.overtime -= self.over_the_day(kind, list).min(levels.overtime);
        let mut first: Option<(Vec<usize>, Vec<u8>)> = None;
        for used in USES {
            let Some(mut dig) = Dig::new(self, kind, list, used, Aim::Ranks(levels)) else { continue };
            dig.dig(0);
            exact &= !dig.is_cut();
            if let Some((_, parts)) = dig.best.take() {
                let ranks = self.ranks(list, &parts);
                if first.as_ref().is_none_or(|(least, _)| ranks < *least) {
                    first = Some((ranks, parts));
                }
            }
        }
        let found = first.map(|(_, parts)| parts).or_else(|| self.parts.get(&(kind, list)).cloned());
        (found.unwrap_or_default().into_iter().map(PartSet::from_bits).collect(), exact)
    }

    /// Setting up a long list takes as long as some steps do.
    fn set_up(&mut self, list: u64) {
        self.nodes += u64::from(list.count_ones());
    }

    /// Seconds over what is given for a whole day, the same however it is packed.
    fn over_the_day(&self, kind: usize, list: u64) -> u32 {
        let Some(given) = self.ready.kinds.get(kind).and_then(|given| given.day) else { return 0 };
        let choices = ones(list).filter_map(|item| self.ready.choices.get(item));
        choices.map(|choice| choice.seconds * choice.per_day).sum::<u32>().saturating_sub(given)
    }

    /// The sets of parts that a day may use, those with room enough first.
    fn uses(&self, kind: usize, list: u64) -> [u8; 7] {
        let given = self.ready.kinds.get(kind).copied().unwrap_or_default();
        let choices = ones(list).filter_map(|item| self.ready.choices.get(item));
        let load: u32 = choices.map(|choice| choice.seconds * choice.per_day).sum();
        let over = |used: u8| {
            let parts = given.parts.into_iter().enumerate().filter(|(part, _)| used & (1 << part) != 0);
            let room =
                parts.map(|(_, given)| given).try_fold(0_u32, |sum, given| Some(sum.saturating_add(given?)));
            room.map_or(0, |room| load.saturating_sub(room))
        };
        let mut uses = USES.map(|used| (over(used), used));
        crate::sorting::sort_by_key(&mut uses, |(over, _)| *over);
        uses.map(|(_, used)| used)
    }

    /// Goes through the sets of parts that a day may use. What is known of the coarse levels is where it starts from.
    fn packed(&mut self, kind: usize, list: u64, aim: Aim, coarse: Option<Packed>) -> Packed {
        if list == 0 {
            return Packed { exact: true, ..Packed::default() };
        }
        self.set_up(list);
        let over = self.over_the_day(kind, list);
        let mut best = coarse.map(|packed| self.whole_levels(kind, list, packed.levels, over));
        let mut bound =
            coarse.map(|packed| packed.bound).filter(|_| coarse.is_some_and(|packed| !packed.exact));
        if let Some(bound) = &mut bound {
            bound.overtime -= over.min(bound.overtime);
        }
        let mut exact = coarse.is_none_or(|packed| packed.exact);
        for used in self.uses(kind, list) {
            let Some(mut dig) = Dig::new(self, kind, list, used, aim) else { continue };
            let root = dig.bound();
            if best.is_some_and(|best| best <= root) {
                continue;
            }
            dig.best = best.map(|levels| (levels, Vec::new()));
            dig.dig(0);
            exact &= !dig.is_cut() && dig.is_ordered;
            if dig.is_cut() {
                bound = Some(bound.map_or(root, |bound| bound.min(root)));
            }
            if let Some((levels, parts)) = dig.best.take()
                && !parts.is_empty()
            {
                best = Some(levels);
                self.parts.put((kind, list), parts);
            }
        }
        let levels = best.unwrap_or_default();
        let mut packed = Packed { levels, exact, bound: bound.map_or(levels, |bound| bound.min(levels)) };
        packed.levels.overtime += over;
        packed.bound.overtime += over;
        packed
    }

    /// All levels of the packing that has these coarse ones, but for the seconds over the whole day.
    fn whole_levels(&mut self, kind: usize, list: u64, coarse: DayLevels, over: u32) -> DayLevels {
        let mut sessions = [0_u64; 3];
        for (item, &bits) in
            ones(list).zip(self.parts.get(&(kind, list)).map(Vec::as_slice).unwrap_or_default())
        {
            for (part, session) in sessions.iter_mut().enumerate() {
                *session |= u64::from(bits >> part & 1) << item;
            }
        }
        let (positions, kit, _) = self.all_changes(sessions);
        DayLevels { overtime: coarse.overtime - over.min(coarse.overtime), positions, kit, ..coarse }
    }

    fn ranks(&self, list: u64, parts: &[u8]) -> Vec<usize> {
        ones(list)
            .zip(parts)
            .map(|(item, &bits)| {
                let options = self.ready.choices.get(item).map(|choice| &choice.options);
                options.and_then(|all| all.iter().position(|set| set.bits() == bits)).unwrap_or(usize::MAX)
            })
            .collect()
    }
}
