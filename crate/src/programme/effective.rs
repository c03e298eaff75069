//! The dose that stands in a given week: the line's dose with the steps and the ramp taken so far.

use super::Portion;
use super::clock;
use crate::dose::{Dose, Kind, Work};
use crate::prescription::{Exercise, Prescription, Said, Step, When};

/// What stands in a week, before the exercise's own default is laid under it.
#[derive(Clone, Debug)]
pub struct Standing<'a> {
    /// The exercise named by the latest step, where one names another.
    pub name: &'a Said,
    pub side: Option<crate::dose::Sided>,
    pub dose: Dose,
    /// The day of the course from which the ramp counts, 0 the first.
    pub ramp_from: u32,
    /// The week of the step that said the end, where one did.
    pub stepped: Option<u32>,
    /// The step that brought another exercise.
    pub other: Option<Other<'a>>,
}

/// A step to another exercise.
#[derive(Clone, Copy, Debug)]
pub struct Other<'a> {
    pub step: &'a Step,
    /// Whether its side is that of the exercise before it, which counts only where it works one side.
    pub is_side_kept: bool,
}

/// Takes every step by date up to and including `week`; steps by criterion wait.
///
/// A step to another exercise starts clean: nothing of the dose before it, only its side where none is said.
/// `is_same` says whether two names are of one exercise.
pub fn standing<'a>(
    p: &Prescription,
    exercise: &'a Exercise,
    week: u32,
    is_same: impl Fn(&Said, &Said) -> bool,
) -> Standing<'a> {
    let from = exercise.dose.from.as_ref();
    let first_day = from.and_then(|from| clock::first_of(p, from)?.days_since(p.start?).try_into().ok());
    let first_week = || from.and_then(|from| clock::week_from(p, from)).map(first_day_of);
    let mut now = Standing {
        name: &exercise.name,
        side: exercise.side,
        dose: exercise.dose.clone(),
        ramp_from: first_day.or_else(first_week).unwrap_or(0),
        stepped: None,
        other: None,
    };
    for (from, step) in by_date(p, exercise) {
        if week < from {
            break;
        }
        // What is said of the work anew is what stands on that day.
        if step.dose.ramp.is_some() || !step.dose.work.is_empty() {
            now.ramp_from = first_day_of(from);
        }
        if let Some(name) = &step.name
            && !is_same(name, now.name)
        {
            now.dose = Dose { from: now.dose.from, ..step.dose.clone() };
            now.stepped = step.dose.until.is_some().then_some(from);
            now.name = name;
            now.other = Some(Other { step, is_side_kept: step.side.is_none() && now.side.is_some() });
            now.side = step.side.or(now.side);
            continue;
        }
        // A step's own end counts from the step; when the exercise begins is no matter of a step.
        if step.dose.until.is_some() {
            now.stepped = Some(from);
        }
        now.dose = Dose { from: now.dose.from, ..step.dose.over(&now.dose) };
        now.name = step.name.as_ref().unwrap_or(now.name);
        now.side = step.side.or(now.side);
    }
    now
}

fn first_day_of(week: u32) -> u32 {
    7 * week.saturating_sub(1)
}

/// Steps by date in the order of their weeks; two of the same week in the order of the text.
pub fn by_date<'a>(p: &Prescription, exercise: &'a Exercise) -> Vec<(u32, &'a Step)> {
    let mut steps: Vec<(u32, &Step)> = exercise
        .steps
        .iter()
        .filter_map(|s| match s.when {
            When::From(start) => clock::week_from(p, &start).map(|week| (week, s)),
            When::When(_) | When::If(_) => None,
        })
        .collect();
    crate::sorting::sort_by_key(&mut steps, |(week, _)| *week);
    steps
}

/// The portions of a dose as the exercise's kind means them.
pub fn portions(dose: &Dose, kind: Kind) -> Vec<Portion> {
    dose.work
        .iter()
        .filter_map(|part| {
            let alone = Dose { work: vec![part.clone()], hold: dose.hold, ..Dose::default() };
            let r = alone.resolved(kind)?;
            let (stretches, amount) = match &part.work {
                Work::Intervals { stretches, .. } => (stretches.clone(), None),
                Work::Amount { amount, unit, .. } => (Vec::new(), Some((*amount, *unit))),
                Work::Repetitions { .. } | Work::Bouts { .. } | Work::Time(_) => (Vec::new(), None),
            };
            Some(Portion {
                manner: part.manner,
                sets: r.sets,
                reps: r.reps,
                hold: r.hold,
                bout: r.bout,
                ending: r.ending,
                stretches,
                amount,
            })
        })
        .collect()
}
