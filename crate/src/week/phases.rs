//! The course as the clinician sees it: what changes from week to week, minutes and sets, steps of load, and what the
//! checks find later on.
//!
//! *Sets a week* of a muscle group: sets × goes a day × days a week of every loaded exercise that works it, each side by
//! itself, the higher end of ranges, rounded to whole sets. Of `3 x 20 s` held each hold is a set.

use crate::catalog::Catalog;
use crate::dose::Kind;
use crate::dose::parts::{Load, MassUnit};
use crate::measure::{Counts, Date};
use crate::notice::Notice;
use crate::prescription::{self, Prescription, When};
use crate::programme::settled::Cache;
use crate::programme::{Amount, Ask, Exercise, Programme, USUAL_MARGIN, arithmetic, assemble, clock, say};

/// A course: its weeks, and what is found over all of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// From week 1 on, at least one.
    pub weeks: Vec<CourseWeek>,
    /// Muscle groups that are loaded in some week, in the order in which they first are.
    pub groups: Vec<String>,
    /// Notices that week 1 doesn't have, with the week from which each holds.
    pub later: Vec<(u32, Notice)>,
    /// Steps of load that are larger than the published ones.
    pub large_steps: Vec<LargeStep>,
}

/// One week of the course.
#[derive(Clone, Debug, PartialEq)]
pub struct CourseWeek {
    /// Counted from 1.
    pub number: u32,
    pub starts: Option<Date>,
    /// Whole minutes of the week, rounded up, without what has no fixed number of goes.
    pub minutes: u32,
    /// Sets a week by group of [`Course::groups`].
    pub sets: Vec<u32>,
    /// What differs from the week before; a phase begins where there is anything.
    pub changes: Vec<Change>,
}

/// What differs from the week before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Index into [`Programme::exercises`]; None: a limit.
    pub exercise: Option<usize>,
    pub what: What,
    /// For the clinician: `bridge: 3 x 12, 3/week (was 3 x 10, 3/week)`.
    pub words: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    New,
    Stopped,
    /// Another exercise in its place.
    Instead,
    Side,
    /// No part of the dose is less, and one is more.
    More,
    Less,
    /// More of one and less of another, or otherwise different.
    Different,
    LimitEnded,
    LimitBegins,
}

impl What {
    pub fn word(self) -> &'static str {
        match self {
            What::New => "new",
            What::Stopped => "stopped",
            What::Instead => "instead",
            What::Side => "side",
            What::More => "more",
            What::Less => "less",
            What::Different => "different",
            What::LimitEnded => "limit ended",
            What::LimitBegins => "limit begins",
        }
    }
}

/// A load that grows by more than is published.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LargeStep {
    pub week: u32,
    pub exercise: usize,
    /// One sentence.
    pub words: String,
}

/// Largest published step of a load, percent: ACSM 2009 (`references/dosing.md` 2).
const MOST_PERCENT: u32 = 10;
/// Largest published step for the less trained, hundredths of a kilogram: NSCA 2008, from memory
/// (`references/dosing.md` 3). A light weight can't grow by a tenth, so either bound is enough.
const MOST_STEP_UPPER: u32 = 200;
const MOST_STEP_LOWER: u32 = 400;

/// The course of a prescription over its weeks: as many as it says, else up to the last one in which something changes
/// by date, and at least one. The cache holds nothing that can change the answer.
pub fn course(p: &Prescription, catalog: &Catalog, today: Option<Date>, cache: &mut Cache) -> Course {
    let programmes: Vec<Programme> = (1..=last_week(p))
        .map(|week| {
            let ask = Ask { today, week: Some(week), margin: USUAL_MARGIN };
            assemble::without_offers(p, catalog, &ask, cache)
        })
        .collect();
    let mut groups: Vec<String> = Vec::new();
    for work in programmes.iter().flat_map(|p| &p.exercises).filter(|e| counts(e)).flat_map(|e| &e.works) {
        if !groups.contains(work) {
            groups.push(work.clone());
        }
    }
    let mut weeks: Vec<CourseWeek> = Vec::new();
    let mut later: Vec<(u32, Notice)> = Vec::new();
    let mut large_steps = Vec::new();
    let mut seen: Vec<(&str, usize, usize)> = Vec::new();
    for (at, now) in programmes.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|at| programmes.get(at));
        for notice in &now.notices {
            let key = (notice.kind(), notice.place.line, notice.place.start);
            if !seen.contains(&key) {
                seen.push(key);
                if before.is_some() {
                    later.push((now.week_number, notice.clone()));
                }
            }
        }
        if let Some(before) = before {
            large_steps.extend(large(before, now));
        }
        weeks.push(CourseWeek {
            number: now.week_number,
            starts: now.week_starts,
            minutes: active(now).map(|e| e.seconds.week).fold(0, u32::saturating_add).div_ceil(60),
            sets: groups.iter().map(|group| sets(now, group)).collect(),
            changes: before.map_or_else(Vec::new, |before| changes(before, now)),
        });
    }
    for (typed, exercise) in p.exercises.iter().flat_map(|typed| first_active(&programmes, typed)) {
        large_steps.extend(large_by_criterion(typed, exercise));
    }
    Course { weeks, groups, later, large_steps }
}

/// The last week of the course.
fn last_week(p: &Prescription) -> u32 {
    let steps =
        p.exercises.iter().flat_map(|x| crate::programme::effective::by_date(p, x)).map(|(week, _)| week);
    let stops = p.exercises.iter().filter_map(|x| match x.dose.until {
        Some(crate::dose::End::Week(n)) => Some(u32::from(n) + 1),
        _ => None,
    });
    let begins = p.exercises.iter().filter_map(|x| clock::week_from(p, x.dose.from.as_ref()?));
    let said = p.weeks.map(u32::from);
    let grown = super::course::weeks_of_growth(p);
    said.unwrap_or_else(|| steps.chain(stops).chain(begins).max().unwrap_or(1).max(grown))
        .clamp(1, clock::MOST_WEEKS)
}

fn active(p: &Programme) -> impl Iterator<Item = &Exercise> {
    p.exercises.iter().filter(|e| e.active)
}

fn counts(e: &Exercise) -> bool {
    e.active && e.loaded
}

fn sets(p: &Programme, group: &str) -> u32 {
    let tenths: u32 = active(p)
        .filter(|e| counts(e) && e.works.iter().any(|work| work == group))
        .map(|e| {
            let rounds = e.section.and_then(|s| p.sections.get(s)).and_then(|s| s.rounds);
            let one = e.amount.portions.iter().map(|portion| match portion.reps {
                Some(holds) if e.kind == Kind::Held && portion.sets == Counts::ONE => holds.high(),
                _ => portion.sets.high(),
            });
            let one = one.fold(0, u32::saturating_add);
            let (days, of) = arithmetic::days_in(e.amount.often);
            let goes = arithmetic::goes(e.amount.often).saturating_mul(rounds.map_or(1, |r| r.high()));
            one.saturating_mul(goes).saturating_mul(days).saturating_mul(10) / of.max(1)
        })
        .fold(0, u32::saturating_add);
    tenths.saturating_add(5) / 10
}

/// What differs between two weeks of one course, by exercise, then limits.
///
/// ```
/// use layfigure::{catalog::Catalog, prescription, programme::{Ask, assemble}, week::phases::{What, changes}};
/// let (p, _) = prescription::read("weeks: 4\nbridge: 3 x 10, 3/week\n  from week 3: 3 x 12\n");
/// let mut at = |week| {
///     let ask = Ask { week: Some(week), ..Ask::today(None) };
///     assemble::without_offers(&p, Catalog::embedded(), &ask, &mut Default::default())
/// };
/// assert_eq!(changes(&at(2), &at(3))[0].what, What::More);
/// assert!(changes(&at(1), &at(2)).is_empty());
/// ```
pub fn changes(before: &Programme, now: &Programme) -> Vec<Change> {
    let mut found: Vec<Change> = Vec::new();
    for (at, (old, new)) in before.exercises.iter().zip(&now.exercises).enumerate() {
        let Some(what) = change(old, new) else { continue };
        let dose = |e: &Exercise| e.amount.dose.to_string();
        let words = match what {
            What::New => format!("{}: {}", new.name, dose(new)),
            What::Stopped => new.name.clone(),
            What::Instead => format!("{}: {} (was {})", new.name, dose(new), old.name),
            What::Side => format!("{}: {} (was {})", new.name, new.side.words(), old.side.words()),
            _ => format!("{}: {} (was {})", new.name, dose(new), dose(old)),
        };
        found.push(Change { exercise: Some(at), what, words });
    }
    for (old, new) in before.limits.iter().zip(&now.limits).filter(|(o, n)| o.in_force != n.in_force) {
        let bounds: Vec<String> =
            clock::bounds(&new.what).iter().map(|(angle, most)| say::bound(*angle, *most)).collect();
        let what = if old.in_force { What::LimitEnded } else { What::LimitBegins };
        found.push(Change { exercise: None, what, words: bounds.join(" and ") });
    }
    found
}

/// What differs in one exercise; the most telling thing where several do.
pub fn change(old: &Exercise, new: &Exercise) -> Option<What> {
    match (old.active, new.active) {
        (false, true) => return Some(What::New),
        (true, false) => return Some(What::Stopped),
        (false, false) => return None,
        (true, true) => {}
    }
    if old.name != new.name {
        return Some(What::Instead);
    }
    if old.side != new.side {
        return Some(What::Side);
    }
    let (a, b) = (&old.amount, &new.amount);
    if a.portions == b.portions && a.loads == b.loads && a.often == b.often && a.tempo == b.tempo {
        return None;
    }
    let (before, now) = (measures(a), measures(b));
    let pairs = || before.iter().zip(&now);
    let plain = before.len() == now.len() && pairs().any(|(x, y)| x != y);
    Some(if plain && pairs().all(|(x, y)| x <= y) {
        What::More
    } else if plain && pairs().all(|(x, y)| y <= x) {
        What::Less
    } else {
        What::Different
    })
}

/// The numbers of a dose that mean more when they are larger.
fn measures(amount: &Amount) -> Vec<u32> {
    let mut all: Vec<u32> = Vec::new();
    for portion in &amount.portions {
        all.extend([
            portion.sets.high(),
            portion.reps.map_or(0, |r| r.high()),
            portion.hold.map_or(0, |h| h.high()),
            portion.bout.map_or(0, |b| b.high()),
            portion.amount.map_or(0, |(n, _)| n.high()),
        ]);
    }
    all.push(mass(&amount.loads).unwrap_or_default());
    let (days, of) = arithmetic::days_in(amount.often);
    all.push(arithmetic::goes(amount.often).saturating_mul(days).saturating_mul(60) / of.max(1));
    all
}

/// Hundredths of a kilogram, where one weight is said.
fn mass(loads: &[Load]) -> Option<u32> {
    loads.iter().find_map(|load| match load {
        Load::Mass { high, unit: MassUnit::Kilogram, .. } => Some(*high),
        // 1 lb is 0.4536 kg by definition.
        Load::Mass { high, unit: MassUnit::Pound, .. } => Some(high.saturating_mul(4536) / 10_000),
        Load::Band(_) | Load::OfMaximum { .. } => None,
    })
}

fn large(before: &Programme, now: &Programme) -> Vec<LargeStep> {
    let pairs = before.exercises.iter().zip(&now.exercises).enumerate();
    pairs
        .filter(|(_, (old, new))| old.active && new.active && old.name == new.name)
        .filter_map(|(exercise, (old, new))| {
            let (from, to) = (mass(&old.amount.loads)?, mass(&new.amount.loads)?);
            let words = too_large(new, from, to, &format!("in week {}", now.week_number))?;
            Some(LargeStep { week: now.week_number, exercise, words })
        })
        .collect()
}

/// An exercise as it stands in the first week in which it is done: the week, and its place in the list.
type Standing<'a> = (u32, usize, &'a Exercise);

fn first_active<'a, 'p>(
    programmes: &'a [Programme],
    typed: &'p prescription::Exercise,
) -> Option<(&'p prescription::Exercise, Standing<'a>)> {
    programmes.iter().find_map(|now| {
        let at = now.exercises.iter().position(|e| e.line == typed.line && e.active)?;
        Some((typed, (now.week_number, at, now.exercises.get(at)?)))
    })
}

/// Steps by criterion of the same exercise, each against what stands before it: they may be taken as soon as the
/// exercise is done at all, so the first is held against the load of its first week.
fn large_by_criterion(
    typed: &prescription::Exercise,
    (week, exercise, standing): Standing<'_>,
) -> Vec<LargeStep> {
    let mut out = Vec::new();
    let mut from = mass(&standing.amount.loads);
    for step in &typed.steps {
        let when = match &step.when {
            When::From(_) => continue,
            When::When(words) => format!("when {words}"),
            When::If(words) => format!("if {words}"),
        };
        if step.name.is_some() {
            break;
        }
        let Some(to) = mass(&step.dose.loads) else { continue };
        if let Some(words) = from.and_then(|from| too_large(standing, from, to, &when)) {
            out.push(LargeStep { week, exercise, words });
        }
        from = Some(to);
    }
    out
}

/// What to say of a load that goes from one to another, in hundredths of a kilogram, where that is more than the
/// published steps.
fn too_large(exercise: &Exercise, from: u32, to: u32, when: &str) -> Option<String> {
    let step = to.checked_sub(from).filter(|step| 0 < *step && 0 < from)?;
    let lower = matches!(exercise.region.as_str(), "hip" | "knee" | "ankle" | "pelvis");
    let most = if lower { MOST_STEP_LOWER } else { MOST_STEP_UPPER };
    let percent = step.saturating_mul(100).div_ceil(from);
    if percent <= MOST_PERCENT || step <= most {
        return None;
    }
    let kg = |n: u32| crate::measure::shown(f64::from(n) / 100.0, 2);
    Some(format!(
        "{} goes from {} to {} kg {when}, {percent} % more; published steps are 2 to {MOST_PERCENT} %, or up to {} kg.",
        exercise.name,
        kg(from),
        kg(to),
        kg(most),
    ))
}

impl Course {
    /// The first week of each phase: week 1, and every week in which something changes.
    pub fn phases(&self) -> Vec<u32> {
        let weeks = self.weeks.iter().enumerate();
        let begins = weeks.filter(|(at, week)| *at == 0 || !week.changes.is_empty());
        begins.map(|(_, week)| week.number).collect()
    }

    /// The course in plain text, a phase at a time, for the command line.
    pub fn text(&self) -> String {
        let mut out = String::new();
        let phases = self.phases();
        for (at, first) in phases.iter().enumerate() {
            let last = phases.get(at + 1).map_or(self.weeks.len() as u32, |next| next - 1);
            let Some(week) = self.weeks.iter().find(|week| week.number == *first) else { continue };
            let span = if *first == last { format!("Week {first}") } else { format!("Weeks {first}-{last}") };
            let from = week.starts.map_or(String::new(), |d| format!(" from {}", d.words()));
            out.push_str(&format!("{span}{from}: {} min a week\n", week.minutes));
            for change in &week.changes {
                out.push_str(&format!("  {}: {}\n", change.what.word(), change.words));
            }
            let sets: Vec<String> = self
                .groups
                .iter()
                .zip(&week.sets)
                .filter(|(_, sets)| 0 < **sets)
                .map(|(group, sets)| format!("{group} {sets}"))
                .collect();
            if !sets.is_empty() {
                out.push_str(&format!("  sets a week: {}\n", sets.join(", ")));
            }
            for step in self.large_steps.iter().filter(|s| (*first..=last).contains(&s.week)) {
                out.push_str(&format!("  {}\n", step.words));
            }
            for (from, notice) in self.later.iter().filter(|(w, _)| (*first..=last).contains(w)) {
                out.push_str(&format!(
                    "  from week {from}, line {}: {}\n",
                    notice.place.line,
                    notice.sentence()
                ));
            }
        }
        out
    }
}
