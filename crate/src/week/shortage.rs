//! Why the minutes do not suffice, in words a clinician would use, and the smallest repairs.
//!
//! The minutes do not suffice when the best week runs over them, or when keeping them costs recovery that would be
//! kept with all the time in the world.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::week::model::{Day, Days, Item, Levels, Limit, Part, Problem, Rule, Week};
use crate::week::ready::Ready;
use crate::week::solve::{Depth, Found, search};

/// What stands in the way, and what would help.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Shortage {
    /// One sentence.
    pub reason: String,
    /// Items that cannot all be laid within the minutes and with recovery kept, while without any one of them the rest
    /// can: found by leaving out one after the other, in the order of the text.
    pub conflict: Vec<usize>,
    /// At most three: fewest minutes added, fewest goes dropped, fewest slots added.
    pub repairs: Vec<Repair>,
}

/// One way to make the week fit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Repair {
    pub what: Change,
    /// One sentence.
    pub words: String,
    /// False if a search was cut off, so that a smaller repair of this sort may exist.
    pub proved: bool,
}

/// What a repair changes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Change {
    /// Slots, or days as a whole, and the seconds they would have (whole minutes).
    Minutes(Vec<(Day, Option<Part>, u32)>),
    /// Items, the days they would be done on, and goes a day.
    Goes(Vec<(usize, Days, u8)>),
    /// Slots, or days as a whole, that have no minutes now, and the seconds each would have.
    Slots(Vec<(Day, Option<Part>)>, u32),
}

/// Steps for one of the many small searches.
const STEPS: Limit = Limit { nodes: 20_000 };
/// Programmes with goes dropped that are looked at.
const MOST_DROPS: usize = 60;
/// Sets of new slots that are looked at.
const MOST_SLOTS: usize = 150;

/// None when the minutes suffice.
pub fn shortage(problem: &Problem, week: &Week, limit: Limit) -> Option<Shortage> {
    let steps = Limit { nodes: STEPS.nodes.min(limit.nodes) };
    let look = Look { steps };
    let at_hand = (week.levels.overtime, week.levels.recovery);
    if at_hand == (0, 0) || (at_hand.0 == 0 && at_hand.1 <= look.free_recovery(problem)) {
        return None;
    }
    let conflict = look.conflict(problem);
    let repairs =
        [look.minutes(problem), look.goes(problem), look.slots(problem)].into_iter().flatten().collect();
    Some(Shortage { reason: reason(problem, &conflict), conflict, repairs })
}

struct Look {
    steps: Limit,
}

impl Look {
    fn found(&self, problem: &Problem, depth: Depth) -> Option<Found> {
        Ready::of(problem).ok().map(|ready| search(&ready, self.steps, depth, None))
    }

    fn levels(&self, problem: &Problem, depth: Depth) -> (Levels, bool) {
        self.found(problem, depth).map_or((Levels::default(), true), |found| (found.levels, found.proved))
    }

    /// Neighbouring loaded days that no amount of time would avoid.
    fn free_recovery(&self, problem: &Problem) -> u32 {
        let mut free = problem.clone();
        free.available = [[None; 3]; 7];
        free.by_day = [None; 7];
        self.levels(&free, Depth::Minutes).0.recovery
    }

    /// Whether the minutes do not suffice, and whether that is certain.
    fn short(&self, problem: &Problem) -> (bool, bool) {
        let (levels, proved) = self.levels(problem, Depth::Minutes);
        let short =
            0 < levels.overtime || (0 < levels.recovery && self.free_recovery(problem) < levels.recovery);
        // What was found to fit does fit, whether or not the search went to its end.
        (short, proved || !short)
    }

    fn conflict(&self, problem: &Problem) -> Vec<usize> {
        let mut kept: Vec<usize> = (0..problem.items.len()).collect();
        for item in 0..problem.items.len() {
            let without: Vec<usize> = kept.iter().copied().filter(|&other| other != item).collect();
            if self.short(&only(problem, &without)).0 {
                kept = without;
            }
        }
        kept
    }

    /// Fewest seconds added with recovery kept.
    fn minutes(&self, problem: &Problem) -> Option<Repair> {
        let ready = Ready::of(problem).ok()?;
        let found = search(&ready, self.steps, Depth::Rested, None);
        let mut slots: Vec<(Day, Option<Part>, u32)> = Vec::new();
        let mut added = 0;
        for (day, part) in places() {
            let mut over = 0;
            for (at, (list, parts)) in
                found.packed.iter().enumerate().filter(|(at, _)| at % 7 == day as usize)
            {
                let kind = ready.kind_of.get(at).and_then(|&kind| ready.kinds.get(kind)).copied()?;
                let seconds = part.map_or(kind.day, |part| kind.parts.get(part as usize).copied().flatten());
                let items = ready.choices.iter().enumerate().filter(|(item, _)| list & (1 << item) != 0);
                let load: u32 = items
                    .zip(parts)
                    .map(|((_, choice), set)| {
                        choice.seconds * part.map_or(set.len(), |part| u32::from(set.has(part)))
                    })
                    .sum();
                over = over.max(seconds.map_or(0, |seconds| load.saturating_sub(seconds)));
            }
            if let Some(given) = given(problem, day, part).filter(|_| 0 < over) {
                let wanted = (given + over).div_ceil(60) * 60;
                added += wanted - given;
                slots.push((day, part, wanted));
            }
        }
        if slots.is_empty() {
            return None;
        }
        let list = slots
            .iter()
            .map(|(day, part, seconds)| format!("{} {} min", place(*day, *part), seconds / 60))
            .collect::<Vec<_>>();
        let words =
            format!("It fits with {} min more in the week: {}.", added.div_ceil(60), listed(&list, "and"));
        Some(Repair { what: Change::Minutes(slots), words, proved: found.proved })
    }

    /// Fewest goes dropped: programmes in the order of goes dropped; only what conflicts is worth dropping.
    fn goes(&self, problem: &Problem) -> Option<Repair> {
        let mut waiting: BTreeSet<(u32, Vec<(u8, u8)>)> = BTreeSet::new();
        waiting.insert((0, vec![(0, 0); problem.items.len()]));
        let mut certain = true;
        for _ in 0..MOST_DROPS {
            let (dropped, drops) = waiting.pop_first()?;
            let fewer = eased(problem, &drops);
            let (short, sure) = self.short(&fewer);
            certain &= sure;
            if !short {
                let changed: Vec<(usize, Days, u8)> = fewer
                    .items
                    .iter()
                    .enumerate()
                    .filter(|(item, new)| problem.items.get(*item) != Some(new))
                    .map(|(item, new)| (item, new.days, new.per_day))
                    .collect();
                let list: Vec<String> = changed
                    .iter()
                    .filter_map(|(item, days, goes)| Some(often(problem.items.get(*item)?, *days, *goes)))
                    .collect();
                let words = format!(
                    "It fits with {dropped} {} fewer in the week: {}.",
                    if dropped == 1 { "go" } else { "goes" },
                    listed(&list, "and")
                );
                return Some(Repair { what: Change::Goes(changed), words, proved: certain });
            }
            for item in self.conflict(&fewer) {
                let (Some(now), Some(&(days, goes))) = (fewer.items.get(item), drops.get(item)) else {
                    continue;
                };
                let on = count(now);
                let next = [
                    (1 < on && matches!(now.days, Days::Daily | Days::PerWeek(_)))
                        .then_some((u32::from(now.per_day), (days + 1, goes))),
                    (1 < now.per_day).then_some((on, (days, goes + 1))),
                ];
                for (cost, step) in next.into_iter().flatten() {
                    let mut more = drops.clone();
                    if let Some(slot) = more.get_mut(item) {
                        *slot = step;
                    }
                    waiting.insert((dropped + cost, more));
                }
            }
        }
        None
    }

    /// Fewest slots added among those with no minutes, each as long as the longest one given.
    fn slots(&self, problem: &Problem) -> Option<Repair> {
        let length = places().filter_map(|(day, part)| given(problem, day, part)).max().filter(|s| 0 < *s)?;
        let missing = self.levels(problem, Depth::Rested).0.overtime;
        let closed: Vec<(Day, Option<Part>)> = places()
            .filter(|&(day, part)| given(problem, day, part) == Some(0) && !taken(problem, day, part))
            .collect();
        let mut certain = true;
        let mut looked = 0;
        for size in 1..=3_usize {
            if length.saturating_mul(size as u32) < missing {
                continue;
            }
            for chosen in subsets(&closed, size) {
                looked += 1;
                if MOST_SLOTS < looked {
                    return None;
                }
                let mut opened = problem.clone();
                for (day, part) in &chosen {
                    open(&mut opened, *day, *part, length);
                }
                let (short, sure) = self.short(&opened);
                certain &= sure;
                if !short {
                    let list: Vec<String> = chosen.iter().map(|(day, part)| place(*day, *part)).collect();
                    let words =
                        format!("It fits with {} min on {} as well.", length / 60, listed(&list, "and"));
                    return Some(Repair { what: Change::Slots(chosen, length), words, proved: certain });
                }
            }
        }
        None
    }
}

/// All slots and all days as a whole, in order.
fn places() -> impl Iterator<Item = (Day, Option<Part>)> {
    let parts = || std::iter::once(None).chain(Part::ALL.into_iter().map(Some));
    Day::ALL.into_iter().flat_map(move |day| parts().map(move |part| (day, part)))
}

/// Seconds that the patient gave.
fn given(problem: &Problem, day: Day, part: Option<Part>) -> Option<u32> {
    match part {
        None => problem.by_day.get(day as usize).copied().flatten(),
        Some(part) => {
            problem.available.get(day as usize).and_then(|parts| parts.get(part as usize)).copied().flatten()
        }
    }
}

/// Whether something stands there already, so that it is no place to suggest.
fn taken(problem: &Problem, day: Day, part: Option<Part>) -> bool {
    problem.appointments.iter().any(|visit| visit.day == day && Some(visit.part) == part)
}

fn open(problem: &mut Problem, day: Day, part: Option<Part>, seconds: u32) {
    let slot = match part {
        None => problem.by_day.get_mut(day as usize),
        Some(part) => problem.available.get_mut(day as usize).and_then(|parts| parts.get_mut(part as usize)),
    };
    if let Some(slot) = slot {
        *slot = Some(seconds);
    }
}

fn place(day: Day, part: Option<Part>) -> String {
    part.map_or_else(|| day.name().to_owned(), |part| format!("{} {}", day.name(), part.name()))
}

/// All subsets of this size, in the order of the list.
fn subsets(all: &[(Day, Option<Part>)], size: usize) -> Vec<Vec<(Day, Option<Part>)>> {
    if size == 0 {
        return vec![Vec::new()];
    }
    let mut found = Vec::new();
    for (at, &first) in all.iter().enumerate() {
        for mut rest in subsets(all.get(at + 1..).unwrap_or_default(), size - 1) {
            rest.insert(0, first);
            found.push(rest);
        }
    }
    found
}

/// The problem with these items only.
fn only(problem: &Problem, kept: &[usize]) -> Problem {
    let place = |old: usize| kept.iter().position(|&item| item == old);
    let mut less = problem.clone();
    less.items = kept.iter().filter_map(|&item| problem.items.get(item).cloned()).collect();
    less.rules = problem
        .rules
        .iter()
        .filter_map(|rule| {
            Some(match *rule {
                Rule::NotInSession(a, b) => Rule::NotInSession(place(a)?, place(b)?),
                Rule::NotOnDay(a, b) => Rule::NotOnDay(place(a)?, place(b)?),
                Rule::After(a, b) => Rule::After(place(a)?, place(b)?),
            })
        })
        .collect();
    less
}

/// The problem with so many days a week and goes a day fewer, by item.
fn eased(problem: &Problem, drops: &[(u8, u8)]) -> Problem {
    let mut less = problem.clone();
    for (item, &(days, goes)) in less.items.iter_mut().zip(drops) {
        if 0 < days {
            item.days = Days::PerWeek((count(item) as u8).saturating_sub(days));
        }
        item.per_day -= goes.min(item.per_day);
    }
    less
}

/// Days a week, at most.
fn count(item: &Item) -> u32 {
    match item.days {
        Days::Daily => 7 - item.never.len(),
        Days::PerWeek(n) => u32::from(n),
        Days::Chosen(days) => days.len(),
        Days::Alternate => 4,
    }
}

fn often(item: &Item, days: Days, goes: u8) -> String {
    let week = match days {
        Days::PerWeek(n) => format!("{n}/week"),
        _ => "as now".to_owned(),
    };
    match (days == item.days, goes == item.per_day) {
        (true, _) => format!("{} {goes}/day", item.name),
        (false, true) => format!("{} {week}", item.name),
        (false, false) => format!("{} {goes}/day, {week}", item.name),
    }
}

fn listed(words: &[String], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [all @ .., end] => format!("{} {last} {end}", all.join(", ")),
    }
}

/// The items in words: what they have in common, or their names.
fn called(problem: &Problem, conflict: &[usize]) -> String {
    let items: Vec<&Item> = conflict.iter().filter_map(|&item| problem.items.get(item)).collect();
    let common = (0..problem.groups.len()).find(|group| items.iter().all(|item| item.loads.contains(group)));
    let number = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    if let (Some(group), Some(count)) =
        (common.and_then(|at| problem.groups.get(at)), number.get(items.len()))
        && 2 < items.len()
    {
        return format!("the {count} loaded {group} exercises");
    }
    listed(&items.iter().map(|item| item.name.clone()).collect::<Vec<_>>(), "and")
}

fn reason(problem: &Problem, conflict: &[usize]) -> String {
    let items: Vec<&Item> = conflict.iter().filter_map(|&item| problem.items.get(item)).collect();
    let names = called(problem, conflict);
    let need = if items.len() == 1 { "needs" } else { "need" };
    let day_seconds = |item: &Item| item.seconds * u32::from(item.per_day);
    // No limit is more than any programme needs.
    let slot = |day: Day, part: Option<Part>| -> u32 {
        let taken: u32 = problem
            .appointments
            .iter()
            .filter(|visit| visit.day == day && part.is_none_or(|part| visit.part == part))
            .map(|visit| visit.seconds)
            .fold(0, u32::saturating_add);
        given(problem, day, part).map_or(1 << 24, |given| given.saturating_sub(taken))
    };
    let given = |day: Day| {
        let parts: u32 = Part::ALL.into_iter().map(|part| slot(day, Some(part))).sum();
        parts.min(slot(day, None))
    };
    let sentence = |text: String| {
        let mut letters = text.chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    };
    if let [item] = items[..] {
        let longest = Day::ALL
            .into_iter()
            .filter(|&day| !item.never.has(day))
            .flat_map(|day| item.parts.parts().map(move |part| (day, part)))
            .map(|(day, part)| slot(day, Some(part)).min(slot(day, None)))
            .max()
            .unwrap_or_default();
        if longest < item.seconds {
            return sentence(format!(
                "{names} takes {} min at a time; the longest part of a day that it may be in has {}.",
                item.seconds.div_ceil(60),
                longest / 60
            ));
        }
    }
    let must = |item: &Item, day: Day| match item.days {
        Days::Daily => !item.never.has(day),
        Days::Chosen(days) => days.has(day),
        Days::PerWeek(n) => !item.never.has(day) && u32::from(n) == 7 - item.never.len(),
        Days::Alternate => false,
    };
    let on =
        |day: Day| items.iter().filter(|item| must(item, day)).map(|item| day_seconds(item)).sum::<u32>();
    let worst = Day::ALL
        .into_iter()
        .filter(|&day| items.iter().all(|item| must(item, day)))
        .max_by_key(|&day| (on(day).saturating_sub(given(day)), 7 - day as u8));
    if let Some(day) = worst.filter(|&day| given(day) < on(day)) {
        return sentence(format!(
            "{names} {need} {} min on {}; that day has {}.",
            on(day).div_ceil(60),
            day.name(),
            given(day) / 60
        ));
    }
    let longest_day = Day::ALL.into_iter().map(given).max().unwrap_or_default();
    let week: u32 = items.iter().map(|item| day_seconds(item) * count(item)).sum();
    let common = (0..problem.groups.len()).any(|group| items.iter().all(|item| item.loads.contains(&group)));
    let spaced = items.iter().all(|item| matches!(item.days, Days::PerWeek(_)));
    // With a day between, one muscle group has at most three training days in a week.
    if common && spaced && longest_day < week.div_ceil(3) {
        return sentence(format!(
            "{names} {need} {} min on training days, with a day between; the longest day has {}.",
            week.div_ceil(3).div_ceil(60),
            longest_day / 60
        ));
    }
    let all: u32 = Day::ALL.into_iter().map(given).sum();
    if all < week {
        return sentence(format!(
            "{names} {need} {} min a week; the week has {}.",
            week.div_ceil(60),
            all / 60
        ));
    }
    if common && spaced {
        return sentence(format!(
            "{names} {} not fit into the minutes given without loading the same muscles on neighbouring days.",
            if items.len() == 1 { "does" } else { "do" }
        ));
    }
    sentence(format!(
        "{names} {} not fit into the minutes given, however they are laid.",
        if items.len() == 1 { "does" } else { "do" }
    ))
}
