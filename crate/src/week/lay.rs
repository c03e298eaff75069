//! From the programme to the week's problem: what is laid, what stands in the all-day strip, and by which rules.

use std::collections::BTreeMap;

use crate::catalog::terms::Purpose;
use crate::dose::Kind;
use crate::dose::parts::{self, Moment, Often};
use crate::language::condition::Condition;
use crate::measure::Weekdays;
use crate::prescription::{Fixed, Minutes, Occasion};
use crate::programme::check::caution::is_thin_bone;
use crate::programme::{Bond, Exercise, Programme};
use crate::week::anchor;
use crate::week::model::{
    AllDay, Appointment, Day, DaySet, Days, Item, Part, PartSet, Position, Problem, Rule, USUAL_CLOCK,
};

/// From this age on a session goes down to the floor once (common practice, no source).
const FLOOR_ONCE_FROM: u8 = 65;
/// Most goes a day that are laid out, one in each part; more are done little and often.
const MOST_GOES: u32 = 3;

/// The problem, the exercise of each of its items, and the exercise of each entry in its all-day strip.
pub(crate) struct Adapted {
    pub problem: Problem,
    pub items: Vec<usize>,
    pub strip: Vec<usize>,
    /// Exercises that are laid less often than every so many days would be.
    pub rounded: Vec<usize>,
    /// Days of rest.
    pub rest: DaySet,
}

pub(crate) fn adapt(programme: &Programme) -> Adapted {
    let mut adapted = Adapted {
        problem: Problem {
            items: Vec::new(),
            rules: Vec::new(),
            available: [[None; 3]; 7],
            by_day: [None; 7],
            appointments: Vec::new(),
            clock: USUAL_CLOCK,
            groups: Vec::new(),
            positions: Vec::new(),
            // An exercise's own seconds have getting into place in them.
            change_seconds: 0,
            floor_once: floor_once(programme),
            all_day: Vec::new(),
        },
        items: Vec::new(),
        strip: Vec::new(),
        rounded: Vec::new(),
        rest: rest(programme),
    };
    times(programme, &mut adapted.problem);
    let mut kits: BTreeMap<Vec<String>, u32> = BTreeMap::new();
    // One whose last day has passed takes nobody's minutes.
    for (index, exercise) in programme.exercises.iter().enumerate().filter(|(_, e)| e.active) {
        let problem = &mut adapted.problem;
        if let Some(all_day) = all_day(exercise) {
            problem.all_day.push(all_day);
            adapted.strip.push(index);
            continue;
        }
        let Often::Calendar { days, per_day } = exercise.amount.often else { continue };
        let (days, rounded) = laid_days(days);
        if rounded {
            adapted.rounded.push(index);
        }
        let next = kits.len() as u32 + 1;
        let kit = if exercise.kit.is_empty() {
            0
        } else {
            let mut things = exercise.kit.clone();
            crate::sorting::sort(&mut things);
            *kits.entry(things).or_insert(next)
        };
        let loads = if exercise.loaded {
            exercise.works.iter().map(|work| group(problem, work)).collect()
        } else {
            Vec::new()
        };
        let position = position(problem, exercise);
        problem.items.push(Item {
            name: exercise.name.clone(),
            seconds: exercise.seconds.go,
            per_day: per_day.low().min(MOST_GOES) as u8,
            days,
            never: adapted.rest,
            parts: allowed(&exercise.amount.moments, per_day.low().min(MOST_GOES)),
            apart_minutes: 0,
            loads,
            purpose: rank(exercise),
            position,
            kit,
        });
        adapted.items.push(index);
    }
    adapted.problem.rules = rules(programme, &adapted.items);
    adapted
}

/// The ties of the exercises that are laid, each rule once.
fn rules(programme: &Programme, items: &[usize]) -> Vec<Rule> {
    let item = |exercise: usize| items.iter().position(|&own| own == exercise);
    let mut rules: Vec<Rule> = Vec::new();
    for (me, &exercise) in items.iter().enumerate() {
        for tie in programme.exercises.get(exercise).map(|e| e.ties.as_slice()).unwrap_or_default() {
            let Some(other) = item(tie.to) else { continue };
            let rule = match tie.bond {
                Bond::After => Rule::After(me, other),
                Bond::Before => Rule::After(other, me),
                Bond::NotInSession => Rule::NotInSession(me.min(other), me.max(other)),
                Bond::NotOnDay => Rule::NotOnDay(me.min(other), me.max(other)),
            };
            if !rules.contains(&rule) {
                rules.push(rule);
            }
        }
    }
    rules
}

fn rest(programme: &Programme) -> DaySet {
    let rests = programme.fixed.iter().filter(|fixed| fixed.what == Occasion::Rest);
    rests.flat_map(|fixed| set(fixed.days).days()).collect()
}

fn floor_once(programme: &Programme) -> bool {
    use Condition::{CruciateReconstruction, CuffRepair, Falls, MeniscusRepair, Pregnancy};
    // Those who were operated on at a joint that lets them get down have their own order.
    let able = |c: Condition| matches!(c, CuffRepair(_) | CruciateReconstruction(_) | MeniscusRepair(_));
    let careful =
        |c: Condition| matches!(c, Falls | Pregnancy) || is_thin_bone(c) || c.is_operation() && !able(c);
    programme.who.age.is_some_and(|age| FLOOR_ONCE_FROM <= age)
        || programme.build.iter().any(|word| word == "older" || word == "pregnant")
        || programme.cautions.iter().any(|caution| !caution.elsewhere && caution.known.is_some_and(careful))
}

/// What is not laid out: as needed, hourly, little and often, more often than a day has parts, worn, advised, walked.
pub(crate) fn all_day(exercise: &Exercise) -> Option<AllDay> {
    let entry = |when: &str, cap: Option<u32>| {
        Some(AllDay { name: exercise.name.clone(), when: when.to_owned(), cap })
    };
    if !exercise.amount.as_typed.is_empty() {
        return entry(&exercise.amount.as_typed.join(", "), None);
    }
    match exercise.amount.often {
        Often::AsNeeded { at_most } => entry("as needed", at_most.map(u32::from)),
        Often::Hours(1) => entry("each waking hour", None),
        Often::Hours(hours) => entry(&format!("every {hours} waking hours"), None),
        Often::LittleAndOften => entry("little and often", Some(6)),
        Often::Calendar { per_day, .. } if MOST_GOES < per_day.low() => {
            entry(&format!("{} times a day", per_day.low()), Some(per_day.high()))
        }
        Often::Calendar { .. } if exercise.kind == Kind::Worn => entry("worn", None),
        Often::Calendar { .. } if exercise.kind == Kind::Advice => entry("all day", None),
        Often::Calendar { per_day, .. }
            if exercise.kind == Kind::Continuous && exercise.position == "walking" =>
        {
            entry("walked", Some(per_day.high()))
        }
        Often::Calendar { .. } => None,
    }
}

/// The days as the week knows them, and whether they had to be rounded: a span of three days or more does not fit a
/// week, so it becomes the nearest whole number of days a week, at least one.
fn laid_days(days: parts::Days) -> (Days, bool) {
    match days {
        parts::Days::Daily => (Days::Daily, false),
        parts::Days::PerWeek(counts) if 7 <= counts.low() => (Days::Daily, false),
        parts::Days::PerWeek(counts) => (Days::PerWeek(counts.low() as u8), false),
        parts::Days::Every(0 | 1) => (Days::Daily, false),
        parts::Days::Every(2) => (Days::Alternate, false),
        parts::Days::Every(span) => (Days::PerWeek(((14 + span) / (2 * span)).max(1)), span != 7),
        parts::Days::On(days) => (Days::Chosen(set(days)), false),
    }
}

fn set(days: Weekdays) -> DaySet {
    days.days().map(|day| Day::of(usize::from(day))).collect()
}

fn part(part: parts::Part) -> Part {
    match part {
        parts::Part::Morning => Part::Morning,
        parts::Part::Midday | parts::Part::Afternoon => Part::Midday,
        parts::Part::Evening | parts::Part::Night => Part::Evening,
    }
}

/// Parts of the day in which an exercise may be done: those that are said; else those that its anchor speaks of,
/// where they leave room for all its goes.
fn allowed(moments: &[Moment], goes: u32) -> PartSet {
    let said: PartSet = moments
        .iter()
        .filter_map(|moment| match moment {
            Moment::At(at) | Moment::Before(at) | Moment::After(at) => Some(part(*at)),
            Moment::Words(_) => None,
        })
        .collect();
    if !said.is_empty() {
        return said;
    }
    let anchors = moments.iter().filter_map(|moment| match moment {
        Moment::Words(words) => anchor::parts(words),
        Moment::At(_) | Moment::Before(_) | Moment::After(_) => None,
    });
    let all = anchors.fold(PartSet::ALL, |all, parts| all.without(PartSet::ALL.without(parts)));
    if all.len() < goes.max(1) { PartSet::ALL } else { all }
}

/// Rank within a session: before everything, by purpose, after everything.
fn rank(exercise: &Exercise) -> u8 {
    let moments = &exercise.amount.moments;
    if moments.iter().any(|moment| matches!(moment, Moment::Before(_))) {
        return 0;
    }
    if moments.iter().any(|moment| matches!(moment, Moment::After(_))) {
        return 9;
    }
    match exercise.purpose {
        Purpose::Loosen => 1,
        Purpose::WakeUp => 2,
        Purpose::Strengthen => 3,
        Purpose::Steady => 4,
        Purpose::Stretch => 5,
        Purpose::Support => 6,
        Purpose::Advise => 7,
    }
}

fn group(problem: &mut Problem, work: &str) -> usize {
    let known = problem.groups.iter().position(|group| group == work);
    known.unwrap_or_else(|| {
        problem.groups.push(work.to_owned());
        problem.groups.len() - 1
    })
}

fn position(problem: &mut Problem, exercise: &Exercise) -> usize {
    let known = problem
        .positions
        .iter()
        .position(|position| position.name == exercise.position && position.floor == exercise.floor);
    known.unwrap_or_else(|| {
        problem.positions.push(Position { name: exercise.position.clone(), floor: exercise.floor });
        problem.positions.len() - 1
    })
}

/// The patient's minutes and what stands in the week already, in the order of the text: of two for the same slot the
/// later one stands.
fn times(programme: &Programme, problem: &mut Problem) {
    enum Time<'a> {
        Minutes(&'a Minutes),
        Fixed(&'a Fixed),
    }
    let mut all: Vec<((usize, usize), Time<'_>)> = Vec::new();
    all.extend(programme.times.iter().map(|m| ((m.place.line, m.place.start), Time::Minutes(m))));
    all.extend(programme.fixed.iter().map(|f| ((f.place.line, f.place.start), Time::Fixed(f))));
    crate::sorting::sort_by_key(&mut all, |(at, _)| *at);
    for (_, time) in all {
        match time {
            Time::Minutes(given) => minutes(given, problem),
            Time::Fixed(fixed) => appointment(fixed, problem),
        }
    }
}

/// On a day with minutes for some part, the other parts have none; a day of which nothing was said has no limit, and
/// no minutes for a part (`no Thu evening`) say nothing of the others.
fn minutes(time: &Minutes, problem: &mut Problem) {
    let seconds = Some(u32::from(time.minutes) * 60);
    for day in time.days.days().map(usize::from) {
        let (Some(parts), Some(whole)) = (problem.available.get_mut(day), problem.by_day.get_mut(day)) else {
            continue;
        };
        let Some(part) = time.part.map(part) else {
            *whole = seconds;
            continue;
        };
        if 0 < time.minutes {
            for slot in parts.iter_mut() {
                *slot = slot.or(Some(0));
            }
        }
        if let Some(slot) = parts.get_mut(part as usize) {
            *slot = seconds;
        }
    }
}

/// An appointment takes its minutes from its part of the day, or all of that part.
fn appointment(fixed: &Fixed, problem: &mut Problem) {
    let Occasion::Appointment { part: at, name, minutes, works } = &fixed.what else { return };
    let loads: Vec<usize> = works.iter().map(|work| group(problem, work)).collect();
    for day in set(fixed.days).days() {
        let part = part(*at);
        if minutes.is_none()
            && let Some(slot) =
                problem.available.get_mut(day as usize).and_then(|parts| parts.get_mut(part as usize))
        {
            *slot = Some(0);
        }
        problem.appointments.push(Appointment {
            name: name.clone(),
            day,
            part,
            seconds: minutes.map_or(0, |minutes| u32::from(minutes) * 60),
            loads: loads.clone(),
        });
    }
}
