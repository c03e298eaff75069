//! The problem made ready to be searched: choices listed in rank order, what has none set apart.

use crate::week::model::{
    Day, DaySet, Days, Fault, Item, MOST_GROUPS, MOST_ITEMS, Part, PartSet, Problem, Rule, Unplaced,
};
use crate::week::order::{Orderer, Thing};

/// An item that has at least one choice of days and of parts.
#[derive(Clone, Debug)]
pub(crate) struct Choice {
    /// Its index in the problem.
    pub index: usize,
    pub seconds: u32,
    pub per_day: u32,
    /// Sets of parts it may take on a day, best first.
    pub options: Vec<PartSet>,
    /// Sets of days (bit 0 is the first Monday) it may take, best first.
    pub sets: Vec<u16>,
    /// Days that each of its sets has.
    pub days: u32,
    /// Bits of the groups whose recovery it counts for.
    pub loads: u64,
    /// Number of its position among those that occur, below [`MOST_ITEMS`].
    pub place: usize,
    /// By set of parts, as bits: what is left of the options when the day uses no others.
    within: [Within; 8],
}

/// What is left of an item's options within a set of parts.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Within {
    pub count: u32,
    /// Fewest goes outside the usual parts.
    pub away: u32,
}

impl Choice {
    pub fn usual(&self) -> PartSet {
        self.options.first().copied().unwrap_or_default()
    }

    /// What is left of the options within the parts of `used`.
    pub fn within(&self, used: u8) -> Within {
        self.within.get(usize::from(used)).copied().unwrap_or_default()
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Pair {
    NotInSession,
    NotOnDay,
    /// The first comes after the second.
    After,
}

/// The minutes of a day: by part, and as a whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Given {
    pub parts: [Option<u32>; 3],
    pub day: Option<u32>,
}

impl Given {
    /// Seconds of all parts; None where one has no limit.
    pub fn in_parts(&self) -> Option<u32> {
        self.parts.iter().try_fold(0_u32, |sum, part| part.map(|part| sum.saturating_add(part)))
    }

    /// All seconds of the day; None where there is no limit.
    pub fn total(&self) -> Option<u32> {
        let parts = self.in_parts();
        match (parts, self.day) {
            (Some(parts), Some(day)) => Some(parts.min(day)),
            (one, other) => one.or(other),
        }
    }
}

/// What the search works on. Indices of items are those of `choices`.
#[derive(Clone, Debug)]
pub(crate) struct Ready {
    pub choices: Vec<Choice>,
    pub pairs: Vec<(Pair, usize, usize)>,
    /// 7 or 14.
    pub horizon: usize,
    /// Distinct minutes of a day, by part.
    pub kinds: Vec<Given>,
    /// By day of the horizon, an index into `kinds`.
    pub kind_of: Vec<usize>,
    /// By group, days of the horizon on which an appointment loads it.
    pub loaded: Vec<u16>,
    pub unplaced: Vec<Unplaced>,
    pub orderer: Orderer,
    /// Items by seconds of one go, longest first.
    pub by_size: Vec<usize>,
    /// By set of parts, as bits: items that have an option within it, and those that have several.
    pub possible: [u64; 8],
    pub several: [u64; 8],
}

impl Ready {
    pub fn of(problem: &Problem) -> Result<Ready, Fault> {
        check(problem)?;
        let mut unplaced = Vec::new();
        let mut choices = Vec::new();
        let two_weeks = problem.items.iter().any(|item| item.days == Days::Alternate);
        let horizon = if two_weeks { 14 } else { 7 };
        let mut new_index = vec![None; problem.items.len()];
        for (index, item) in problem.items.iter().enumerate() {
            match choice(index, item, problem, two_weeks) {
                Ok(choice) => {
                    if let Some(slot) = new_index.get_mut(index) {
                        *slot = Some(choices.len());
                    }
                    choices.push(choice);
                }
                Err(reason) => unplaced.push(Unplaced { item: index, reason }),
            }
        }
        let pairs = problem
            .rules
            .iter()
            .filter_map(|&rule| {
                let (pair, a, b) = match rule {
                    Rule::NotInSession(a, b) => (Pair::NotInSession, a, b),
                    Rule::NotOnDay(a, b) => (Pair::NotOnDay, a, b),
                    Rule::After(a, b) => (Pair::After, a, b),
                };
                let found = |old: usize| new_index.get(old).copied().flatten();
                Some((pair, found(a)?, found(b)?))
            })
            .filter(|&(_, a, b)| a != b)
            .collect::<Vec<_>>();

        let mut available = problem.available;
        let mut by_day = problem.by_day;
        let mut loaded = vec![0_u16; problem.groups.len()];
        for appointment in &problem.appointments {
            let slot = available
                .get_mut(appointment.day as usize)
                .and_then(|day| day.get_mut(appointment.part as usize));
            if let Some(Some(seconds)) = slot {
                *seconds = seconds.saturating_sub(appointment.seconds);
            }
            if let Some(Some(seconds)) = by_day.get_mut(appointment.day as usize) {
                *seconds = seconds.saturating_sub(appointment.seconds);
            }
            for &group in &appointment.loads {
                if let Some(days) = loaded.get_mut(group) {
                    let bit = 1 << appointment.day as u16;
                    *days |= if two_weeks { bit | bit << 7 } else { bit };
                }
            }
        }
        let mut kinds = Vec::new();
        let mut kind_of = Vec::new();
        for day in 0..horizon {
            let minutes = Given {
                parts: available.get(day % 7).copied().unwrap_or_default(),
                day: by_day.get(day % 7).copied().flatten(),
            };
            let known = kinds.iter().position(|&kind| kind == minutes);
            kind_of.push(known.unwrap_or(kinds.len()));
            if known.is_none() {
                kinds.push(minutes);
            }
        }
        let things = choices
            .iter()
            .map(|choice| {
                let item = problem.items.get(choice.index);
                let position = item.map_or(0, |item| item.position);
                Thing {
                    purpose: item.map_or(0, |item| item.purpose),
                    position,
                    kit: item.map_or(0, |item| item.kit),
                    floor: problem.positions.get(position).is_some_and(|position| position.floor),
                }
            })
            .collect();
        let mut places: Vec<usize> = Vec::new();
        for choice in &mut choices {
            let position = problem.items.get(choice.index).map_or(0, |item| item.position);
            choice.place = places.iter().position(|&other| other == position).unwrap_or(places.len());
            if choice.place == places.len() {
                places.push(position);
            }
        }
        let after = pairs.iter().filter(|pair| pair.0 == Pair::After).map(|&(_, a, b)| (a, b)).collect();
        let orderer = Orderer { things, after, floor_once: problem.floor_once };
        let mut by_size: Vec<usize> = (0..choices.len()).collect();
        crate::sorting::sort_by_key(&mut by_size, |&item| {
            u32::MAX - choices.get(item).map_or(0, |c| c.seconds)
        });
        let with_options = |least: u32| {
            let mut sets = [0_u64; 8];
            for (used, set) in (0_u8..).zip(&mut sets) {
                let items =
                    choices.iter().enumerate().filter(|(_, choice)| least <= choice.within(used).count);
                *set = items.fold(0, |set, (item, _)| set | 1 << item);
            }
            sets
        };
        let (possible, several) = (with_options(1), with_options(2));
        Ok(Ready {
            choices,
            pairs,
            horizon,
            kinds,
            kind_of,
            loaded,
            unplaced,
            orderer,
            by_size,
            possible,
            several,
        })
    }
}

fn check(problem: &Problem) -> Result<(), Fault> {
    let count = problem.items.len();
    if MOST_ITEMS < count {
        return Err(Fault(format!("A week has at most {MOST_ITEMS} exercises; this one has {count}.")));
    }
    if MOST_GROUPS < problem.groups.len() {
        return Err(Fault(format!("A week knows at most {MOST_GROUPS} muscle groups.")));
    }
    for rule in &problem.rules {
        let (Rule::NotInSession(a, b) | Rule::NotOnDay(a, b) | Rule::After(a, b)) = *rule;
        if count <= a || count <= b {
            return Err(Fault(format!(
                "A rule names exercises {a} and {b}, counted from 0, but there are {count}."
            )));
        }
    }
    let known = |loads: &[usize]| loads.iter().all(|&group| group < problem.groups.len());
    for item in &problem.items {
        if !known(&item.loads) {
            return Err(Fault(format!("\"{}\" loads a muscle group that is not listed.", item.name)));
        }
        // A day of the longest programme must still be counted in 32 bits.
        if 24 * 3600 < item.seconds {
            return Err(Fault(format!("One go of \"{}\" takes more than a day.", item.name)));
        }
    }
    for appointment in &problem.appointments {
        if !known(&appointment.loads) {
            return Err(Fault(format!("\"{}\" loads a muscle group that is not listed.", appointment.name)));
        }
    }
    Ok(())
}

/// An item's choices in rank order, or why it has none.
fn choice(index: usize, item: &Item, problem: &Problem, two_weeks: bool) -> Result<Choice, String> {
    let sets = day_sets(item, two_weeks)?;
    let options = part_sets(item, &problem.clock)?;
    let loads = if item.days == Days::Daily {
        0
    } else {
        item.loads.iter().fold(0_u64, |bits, &group| bits | 1 << (group as u32 % 64))
    };
    let usual = options.first().copied().unwrap_or_default();
    let mut within = [Within::default(); 8];
    for (used, within) in (0_u8..).zip(&mut within) {
        let left = || options.iter().filter(|set| set.bits() & !used == 0);
        within.count = left().count() as u32;
        within.away = left().map(|set| set.without(usual).len()).min().unwrap_or_default();
    }
    Ok(Choice {
        place: 0,
        within,
        index,
        seconds: item.seconds,
        per_day: u32::from(item.per_day),
        options,
        days: sets.first().map_or(0, |set| set.count_ones()),
        sets,
        loads,
    })
}

fn day_sets(item: &Item, two_weeks: bool) -> Result<Vec<u16>, String> {
    let allowed = DaySet::ALL.without(item.never);
    let both = |bits: u16| if two_weeks { bits | bits << 7 } else { bits };
    match item.days {
        Days::Daily if allowed.is_empty() => Err("Every day is ruled out.".to_owned()),
        Days::Daily => Ok(vec![both(allowed.bits())]),
        Days::Chosen(days) => {
            let clash = days.without(allowed);
            if days.is_empty() {
                Err("No day is chosen.".to_owned())
            } else if clash.is_empty() {
                Ok(vec![both(days.bits())])
            } else {
                Err(format!("It is asked for on {}, and the same is ruled out.", listed(clash)))
            }
        }
        Days::PerWeek(0) => Err("It is asked for on no day of the week.".to_owned()),
        Days::PerWeek(n) if allowed.len() < u32::from(n) => Err(match allowed.len() {
            7 => format!("{n} days are asked for; a week has 7."),
            0 => format!("{n} days a week are asked for; every day is ruled out."),
            _ => format!("{n} days a week are asked for; only {} may be used.", listed(allowed)),
        }),
        Days::PerWeek(n) => {
            let mut ranked: Vec<_> = (1..128_u16)
                .filter(|bits| bits.count_ones() == u32::from(n) && bits & !allowed.bits() == 0)
                .map(|bits| (day_rank(bits), bits))
                .collect();
            crate::sorting::sort(&mut ranked);
            Ok(ranked.into_iter().map(|(_, bits)| both(bits)).collect())
        }
        Days::Alternate if item.never.is_empty() => {
            let odd = 0b101_0101_u16;
            let even = 0b010_1010_u16;
            Ok(vec![odd | even << 7, even | odd << 7])
        }
        Days::Alternate => Err(format!(
            "Alternate days fall on every weekday within two weeks, but {} is ruled out.",
            listed(item.never)
        )),
    }
}

fn listed(days: DaySet) -> String {
    days.days().map(Day::name).collect::<Vec<_>>().join(", ")
}

/// The rank of a set of weekdays among those of its size, smallest best (`model.md`, ranks of days).
fn day_rank(bits: u16) -> (u32, u32, u32, Vec<u16>) {
    let days: Vec<u16> = (0..7).filter(|day| bits & (1 << day) != 0).collect();
    let gaps: Vec<u32> = days
        .iter()
        .zip(days.iter().cycle().skip(1))
        .map(|(&a, &b)| {
            let gap = u32::from((b + 7 - a) % 7);
            if gap == 0 { 7 } else { gap }
        })
        .collect();
    let squares = gaps.iter().map(|gap| gap * gap).sum();
    if days.len() <= 3 {
        let smallest = gaps.iter().copied().min().unwrap_or(7);
        (7 - smallest, squares, 0, days)
    } else {
        let weekend = (bits >> 5).count_ones();
        (weekend, longest_run(bits), squares, days)
    }
}

/// Consecutive days, round the end of the week.
fn longest_run(bits: u16) -> u32 {
    let mut longest = 0;
    for start in 0..7_u32 {
        let run = (0..7_u32).take_while(|step| bits & (1 << ((start + step) % 7)) != 0).count();
        longest = longest.max(run as u32);
    }
    longest
}

fn part_sets(item: &Item, clock: &[u16; 3]) -> Result<Vec<PartSet>, String> {
    let goes = u32::from(item.per_day);
    if goes == 0 {
        return Err("It is asked for no times a day.".to_owned());
    }
    if item.parts.len() < goes {
        let parts = item.parts.parts().map(Part::name).collect::<Vec<_>>().join(" and ");
        return Err(match item.parts.len() {
            0 => "Every part of the day is ruled out.".to_owned(),
            3 => format!("{goes} times a day are asked for; a day is laid in 3 parts."),
            _ => format!("{goes} times a day are asked for; only {parts} may be used."),
        });
    }
    let at = |part: Part| clock.get(part as usize).copied().unwrap_or_default();
    let gap = |set: PartSet| {
        let mut times: Vec<u16> = set.parts().map(at).collect();
        crate::sorting::sort(&mut times);
        times.windows(2).map(|pair| pair.iter().fold(0, |a, &b| b - a.min(b))).min().unwrap_or(u16::MAX)
    };
    let single = |set: PartSet| match set.parts().next() {
        Some(Part::Morning) => 0_u8,
        Some(Part::Evening) => 1,
        _ => 2,
    };
    let mut sets: Vec<PartSet> = (1..8_u8)
        .map(PartSet::from_bits)
        .filter(|set| set.len() == goes && set.without(item.parts).is_empty())
        .filter(|&set| item.apart_minutes <= gap(set))
        .collect();
    crate::sorting::sort_by_key(&mut sets, |&set| (u16::MAX - gap(set), single(set), set));
    if sets.is_empty() {
        return Err(format!(
            "{goes} times a day at least {} minutes apart are asked for; the parts of the day are closer.",
            item.apart_minutes
        ));
    }
    Ok(sets)
}
