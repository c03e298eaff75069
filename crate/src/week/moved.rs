//! Moving an exercise to another day of the week: what is then written, and what would break.

use super::model::{Day, DaySet, Days, Limit, Problem, Week};
use super::{Laid, Write, lay, solve};
use crate::programme::Programme;

/// An exercise moved to another day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// The edit of the text: its days, fixed.
    pub write: Write,
    /// Sentences on what would break that doesn't break now; none: nothing would.
    pub breaks: Vec<String>,
    /// Whether the week so changed is proven best; otherwise less may break than is told.
    pub proved: bool,
}

/// Steps for the changed week: a few milliseconds.
const STEPS: Limit = Limit { nodes: 12_000 };

/// What moving an exercise from one day to another would do, by laying the changed programme. `exercise` is an index into
/// [`Programme::exercises`]. None where it isn't laid on `from`, or is on `to` already.
pub fn moved(programme: &Programme, laid: &Laid, exercise: usize, from: Day, to: Day) -> Option<Moved> {
    let item = laid.items.iter().position(|&own| own == exercise)?;
    let at = |day: Day| 7 * usize::from(laid.half(day) == 2) + day as usize;
    let days = laid.week.laid.get(item)?;
    let now: DaySet = Day::ALL
        .into_iter()
        .filter(|day| days.get(at(*day)).is_some_and(|parts| !parts.is_empty()))
        .collect();
    if !now.has(from) || now.has(to) {
        return None;
    }
    let chosen: DaySet = now.without([from].into_iter().collect()).days().chain([to]).collect();
    let adapted = lay::adapt(programme);
    let mut problem = adapted.problem;
    let goes = {
        let own = problem.items.get_mut(item)?;
        own.days = Days::Chosen(chosen);
        own.per_day
    };
    let week = solve::solve(&problem, STEPS).ok()?;
    let list = chosen.days().map(Day::short).collect::<Vec<_>>().join(" ");
    let dose = if goes == 1 { list } else { format!("{goes}/day, {list}") };
    let breaks = breaks(&laid.problem, &laid.week, &problem, &week);
    Some(Moved { write: Write::Often { exercise, dose }, breaks, proved: week.proved })
}

/// What is worse in the new week, in sentences: minutes, recovery, rules, what has no place.
fn breaks(was: &Problem, before: &Week, problem: &Problem, week: &Week) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for out in week.unplaced.iter().filter(|out| before.unplaced.iter().all(|old| old.item != out.item)) {
        let name = problem.items.get(out.item).map_or("", |item| item.name.as_str());
        all.push(format!("{name} would have no place. {}", out.reason));
    }
    for over in &week.overtime {
        let old = before
            .overtime
            .iter()
            .find(|old| (old.week, old.day, old.part) == (over.week, over.day, over.part))
            .map_or(0, |old| old.seconds);
        if old < over.seconds && before.levels.overtime < week.levels.overtime {
            let part = over.part.map_or(String::new(), |part| format!(" {}", part.name()));
            let minutes = over.seconds.div_ceil(60);
            all.push(format!("{}{part} would be {minutes} min over.", over.day.name()));
        }
    }
    if before.levels.recovery < week.levels.recovery {
        let old = tired(was, before);
        let fresh: Vec<(usize, Day)> =
            tired(problem, week).into_iter().filter(|pair| !old.contains(pair)).collect();
        for day in Day::ALL {
            let names: Vec<&str> = fresh
                .iter()
                .filter(|(_, of)| *of == day)
                .filter_map(|(group, _)| problem.groups.get(*group).map(String::as_str))
                .collect();
            if !names.is_empty() {
                let next = Day::of(day as usize + 1);
                all.push(format!(
                    "The same muscles ({}) would be loaded on {} and {}, without a day between.",
                    names.join(", "),
                    day.name(),
                    next.name()
                ));
            }
        }
    }
    all.extend(week.broken.iter().filter(|words| !before.broken.contains(words)).cloned());
    all
}

/// Groups that are loaded on a day and on the next one, as `model.md` counts it; each weekday once.
fn tired(problem: &Problem, week: &Week) -> Vec<(usize, Day)> {
    let horizon = 7 * usize::from(week.weeks);
    let mut found: Vec<(usize, Day)> = Vec::new();
    for group in 0..problem.groups.len() {
        let loaded = |at: usize| {
            let works = problem
                .items
                .iter()
                .zip(&week.laid)
                .filter(|(item, _)| item.days != Days::Daily && item.loads.contains(&group))
                .any(|(_, days)| days.get(at).is_some_and(|parts| !parts.is_empty()));
            let day = Day::of(at);
            works || problem.appointments.iter().any(|v| v.day == day && v.loads.contains(&group))
        };
        for at in 0..horizon {
            let pair = (group, Day::of(at));
            if loaded(at) && loaded((at + 1) % horizon) && !found.contains(&pair) {
                found.push(pair);
            }
        }
    }
    found
}
