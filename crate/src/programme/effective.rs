//! The dose that stands in a given week: the line's dose with the steps and the ramp taken so far.

use super::Portion;
use super::clock;
use crate::dose::parts::{Ramp, Step as Grow};
use crate::dose::{Dose, Kind, Work};
use crate::measure::{Counts, Span};
use crate::prescription::{Exercise, Prescription, Said, Step, When};

/// What stands in a week, before the exercise's own default is laid under it.
#[derive(Clone, Debug)]
pub struct Standing<'a> {
    /// The exercise named by the latest step, where one names another.
    pub name: &'a Said,
    pub side: Option<crate::dose::Sided>,
    pub dose: Dose,
    /// The week from which the ramp counts.
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
    let first = exercise.dose.from.as_ref().and_then(|from| clock::week_from(p, from));
    let mut now = Standing {
        name: &exercise.name,
        side: exercise.side,
        dose: exercise.dose.clone(),
        ramp_from: first.unwrap_or(1),
        stepped: None,
        other: None,
    };
    for (from, step) in by_date(p, exercise) {
        if week < from {
            break;
        }
        if step.dose.ramp.is_some() {
            now.ramp_from = from;
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

/// The dose with what its ramp has added by the first day of `week`.
pub fn grown(dose: &Dose, ramp_from: u32, week: u32) -> Dose {
    let Some(ramp) = dose.ramp else { return dose.clone() };
    let times = 7 * week.saturating_sub(ramp_from.max(1)).min(10_000) / u32::from(ramp.every_days.max(1));
    let mut grown = dose.clone();
    for portion in &mut grown.work {
        grow(&mut portion.work, ramp, times);
    }
    grown
}

fn grow(work: &mut Work, ramp: Ramp, times: u32) {
    let count = |c: Counts, add: Counts| {
        let most = |low: u32, step: u32| low.saturating_add(step.saturating_mul(times)).min(Counts::MOST);
        Counts::new(most(c.low(), add.low()), most(c.high(), add.high())).unwrap_or(c)
    };
    let time = |s: Span, add: Span| {
        let most = |low: u32, step: u32| low.saturating_add(step.saturating_mul(times)).min(Span::MOST);
        let grown = Span::new(most(s.low(), add.low()), most(s.high(), add.high()));
        grown.and_then(|grown| grown.bounded(s.bound())).unwrap_or(s)
    };
    match (work, ramp.add) {
        (Work::Repetitions { reps: Some(reps), .. }, Grow::Repetitions(add))
        | (Work::Bouts { bouts: reps, .. }, Grow::Repetitions(add)) => *reps = count(*reps, add),
        (Work::Time(span) | Work::Bouts { span, .. }, Grow::Time(add)) => *span = time(*span, add),
        (Work::Amount { amount, unit, .. }, Grow::Amount(add, of)) if *unit == of => {
            *amount = count(*amount, add);
        }
        _ => {}
    }
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
