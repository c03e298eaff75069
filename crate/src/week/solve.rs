//! The proven best week: days chosen item by item, each day packed on its own (`model.md`, "How it is solved").

use crate::week::hunt::{Domain, Hunt};
use crate::week::model::{Day, Fault, Gap, Levels, Limit, Overtime, Part, PartSet, Problem, Session, Week};
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
    pub fn cut(self, levels: Levels) -> Levels {
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

/// Searches for the best days. With `enough`, any week at least as good will do.
pub(crate) fn search(ready: &Ready, limit: Limit, depth: Depth, enough: Option<Levels>) -> Found {
    let mut hunt = Hunt::new(ready, limit, depth, enough);
    let domains: Vec<Domain> = (0..ready.choices.len())
        .filter(|item| hunt.undecided & (1 << item) != 0)
        .map(|item| {
            let sets = ready.choices.get(item).map_or(0, |choice| choice.sets.len());
            Domain { item, open: (1_u64 << sets) - 1 }
        })
        .collect();
    let sums = hunt.sums();
    let turns = hunt.turns(&domains);
    let whole = depth == Depth::Whole && enough.is_none();
    let least = if whole { hunt.by_lists(&domains, &turns, &sums) } else { None };
    let root = hunt.root(&domains, &sums);
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
    hunt.exact = true;
    let packed = hunt.packed(&days);
    proved &= hunt.exact || !whole;
    Found { levels, proved, bound, nodes: hunt.nodes + hunt.packer.nodes, packed }
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
