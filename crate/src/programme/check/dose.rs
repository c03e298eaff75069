//! Doses that look like a slip, or lie far from what is published.

use super::{Scene, about};
use crate::catalog::terms::Purpose;
use crate::dose::parts::{Days, Ending, Often};
use crate::dose::{Effort, Kind, Work};
use crate::measure::{Span, Weekdays};
use crate::notice::kinds::programme::OfProgramme;
use crate::notice::{Edit, Notice};
use crate::programme::arithmetic::goes;
use crate::programme::{Exercise, Portion};

/// Numbers that are most likely a slip of the fingers: `30 x 10`, `hold 60 min`. Common practice, no source.
pub fn slip(scene: Scene<'_>) -> Vec<Notice> {
    let told = |e: &Exercise, what: OfProgramme, edit: Option<String>| {
        Notice::new(what, e.dose_place).with(edit.map(|with| Edit { place: e.dose_place, with }))
    };
    scene.exercises().filter_map(|e| slip_of(e).map(|(what, edit)| told(e, what, edit))).collect()
}

fn slip_of(e: &Exercise) -> Option<(OfProgramme, Option<String>)> {
    let still = matches!(e.kind, Kind::Worn | Kind::Continuous | Kind::Advice | Kind::Timed);
    for p in &e.amount.portions {
        let counted = p.reps.map(|r| (p.sets.low(), r.high()));
        if let Some((sets, reps)) = counted.filter(|(sets, _)| 10 <= *sets) {
            let likely = if sets % 10 == 0 && sets < 100 { sets / 10 } else { 3 };
            let what = OfProgramme::SlipSets { sets, reps, likely };
            return Some((what, rewritten(e, |w| sets_to(w, likely))));
        }
        if let Some((_, reps)) = counted.filter(|(_, reps)| 100 < *reps) {
            return Some((OfProgramme::SlipReps { reps }, None));
        }
        let hold = p.hold.or(if still { None } else { p.bout });
        if let Some(hold) = hold.filter(|h| !still && 300 <= h.high()) {
            let likely = Span::one(hold.high() / 60);
            return Some((OfProgramme::SlipHold { hold, likely }, rewritten(e, |d| hold_to(d, likely))));
        }
    }
    if let Some(rest) = e.amount.rest.filter(|r| 900 < r.high()) {
        return Some((OfProgramme::SlipRest { rest }, None));
    }
    let times = goes(e.amount.often);
    if 12 < times {
        return Some((OfProgramme::SlipOften { times }, None));
    }
    // An hour a day of one thing that is neither walked nor worn.
    if !still && 3600 < e.seconds.day {
        return Some((OfProgramme::SlipMinutes { minutes: e.seconds.day.div_ceil(60) }, None));
    }
    if matches!(e.kind, Kind::Timed | Kind::Continuous) && 4 * 3600 < e.seconds.day {
        return Some((OfProgramme::SlipHours { hours: e.seconds.day / 3600 }, None));
    }
    None
}

/// The typed dose written anew after a change; None where the change does nothing.
fn rewritten(e: &Exercise, change: impl FnOnce(&mut crate::dose::Dose)) -> Option<String> {
    let mut dose = e.typed.clone();
    change(&mut dose);
    (dose != e.typed).then(|| dose.to_string())
}

fn sets_to(dose: &mut crate::dose::Dose, n: u32) {
    if let Some(part) = dose.work.first_mut() {
        match &mut part.work {
            Work::Repetitions { sets, .. } | Work::Bouts { sets: sets @ Some(_), .. } => {
                *sets = crate::measure::Counts::one(n);
            }
            Work::Bouts { .. } | Work::Time(_) | Work::Intervals { .. } | Work::Amount { .. } => {}
        }
    }
}

fn hold_to(dose: &mut crate::dose::Dose, to: Option<Span>) {
    let Some(to) = to else { return };
    if let Some(hold) = &mut dose.hold {
        *hold = to;
    } else if let Some(part) = dose.work.first_mut() {
        match &mut part.work {
            Work::Bouts { span, .. } | Work::Time(span) => *span = to,
            Work::Repetitions { .. } | Work::Intervals { .. } | Work::Amount { .. } => {}
        }
    }
}

/// Far from the published range; near misses are the clinician's business.
pub fn unusual(scene: Scene<'_>) -> Vec<Notice> {
    scene.exercises().filter(|e| slip_of(e).is_none()).filter_map(unusual_of).collect()
}

fn unusual_of(e: &Exercise) -> Option<Notice> {
    let p = e.amount.portions.first()?;
    let say = |what: OfProgramme| Some(about(e, what));
    match e.purpose {
        // Published: 8 to 25 repetitions, 1 to 4 sets. Half as much again is "far".
        Purpose::Strengthen if e.loaded => {
            if let Some(reps) = p.reps.filter(|r| 37 < r.low()) {
                return say(OfProgramme::UnusualReps { reps });
            }
            if 6 < p.sets.low() {
                return say(OfProgramme::UnusualSets { sets: p.sets });
            }
            None
        }
        // Published: 10 to 30 s, to 60 s for older people; 60 s is as good as any.
        Purpose::Stretch => {
            let hold = p.hold.or(p.bout)?;
            if hold.high() < 10 {
                return say(OfProgramme::ShortHold { hold });
            }
            if 90 < hold.low() {
                return say(OfProgramme::LongStretch { hold });
            }
            None
        }
        _ => None,
    }
}

/// Seconds of stretch in a day on each side.
pub fn stretched(portions: &[Portion], per_day: u32) -> u32 {
    let one = |p: &Portion| {
        let held = p.hold.or(p.bout).map_or(0, Span::high);
        p.sets.high().saturating_mul(p.reps.map_or(1, crate::measure::Counts::high)).saturating_mul(held)
    };
    portions.iter().map(one).fold(0u32, u32::saturating_add).saturating_mul(per_day)
}

/// A total of 60 s for each stretch is the published amount.
pub fn short_stretch(seconds: u32) -> bool {
    0 < seconds && seconds < 60
}

pub fn stretch(scene: Scene<'_>) -> Vec<Notice> {
    scene
        .exercises()
        .filter(|e| e.purpose == Purpose::Stretch)
        .filter_map(|e| {
            let seconds = stretched(&e.amount.portions, goes(e.amount.often));
            short_stretch(seconds).then(|| about(e, OfProgramme::StretchShort { seconds }))
        })
        .collect()
}

/// "As needed", "to fatigue" and "as many as possible" need a most.
pub fn uncapped(scene: Scene<'_>) -> Vec<Notice> {
    scene
        .exercises()
        .filter_map(|e| {
            let open = |p: &Portion| matches!(p.ending, Ending::Fatigue | Ending::AsMany) && p.reps.is_none();
            let what = if let Often::AsNeeded { at_most: None } = e.amount.often {
                OfProgramme::NoMostADay
            } else if e.amount.portions.iter().any(open) {
                OfProgramme::NoMostInASet
            } else {
                return None;
            };
            let edit = matches!(e.amount.often, Often::AsNeeded { .. })
                .then(|| super::behind(e.dose_place, ", at most 4/day".to_string()));
            Some(about(e, what).with(edit))
        })
        .collect()
}

/// Hard effort as stated: 7 of 10, 15 of 20, 70 %, 3 or fewer in reserve.
fn hard(e: &Exercise) -> bool {
    let effort = match e.amount.dose.effort {
        Some(Effort::OfTen { low_halves, .. }) => 14 <= low_halves,
        Some(Effort::OfTwenty { low, .. }) => 15 <= low,
        Some(Effort::Percent { low, .. }) => 70 <= low,
        None => false,
    };
    effort || e.amount.dose.reserve.is_some_and(|(_, high)| high <= 3)
}

/// Whether two weekdays (Monday is 0) leave less than a calendar day between them. Monday and Wednesday are
/// enough for each other.
pub fn too_near(a: u8, b: u8) -> bool {
    let apart = (7 + a % 7 - b % 7) % 7;
    apart <= 1 || apart == 6
}

/// The same muscles loaded on neighbouring days. "Daily" is the clinician's decision, unless the effort is hard.
pub fn recovery(scene: Scene<'_>) -> Vec<Notice> {
    let mut found = Vec::new();
    let loaded: Vec<&Exercise> = scene.exercises().filter(|e| e.loaded).collect();
    let days = |e: &Exercise| match e.amount.often {
        Often::Calendar { days, .. } => Some(days),
        _ => None,
    };
    for (i, e) in loaded.iter().enumerate() {
        match days(e) {
            Some(Days::Daily) if hard(e) => {
                found.push(about(e, OfProgramme::HardEveryDay));
            }
            Some(Days::PerWeek(n)) if 4 <= n.high() && n.high() < 7 => {
                found.push(about(e, OfProgramme::LoadedDays { days: n }));
            }
            Some(Days::On(mine)) => {
                // With itself and with those before it, so that each pair is told once.
                for other in loaded.iter().take(i + 1) {
                    let Some(Days::On(theirs)) = days(other) else { continue };
                    let same = core::ptr::eq(*other, *e);
                    let shared: Vec<&String> = e.works.iter().filter(|w| other.works.contains(w)).collect();
                    let Some((first, second)) = near_days(mine, theirs, same).filter(|_| !shared.is_empty())
                    else {
                        continue;
                    };
                    let muscles = shared.iter().map(|s| s.to_string()).collect();
                    let other = (!same).then(|| other.name.clone());
                    found.push(about(e, OfProgramme::NeighbouringDays { other, muscles, first, second }));
                }
            }
            _ => {}
        }
    }
    found
}

/// The first neighbouring days of two sets. The same day is one session, not a neighbour.
fn near_days(mine: Weekdays, theirs: Weekdays, same: bool) -> Option<(u8, u8)> {
    mine.days()
        .flat_map(|a| theirs.days().map(move |b| (a, b)))
        .find(|(a, b)| a != b && too_near(*a, *b) && (!same || a < b))
        .map(|(a, b)| (a.min(b), a.max(b)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `references/dosing.md`, worked check 10, by calendar day.
    #[test]
    fn monday_is_too_near_tuesday_and_far_enough_from_wednesday() {
        assert!(too_near(0, 1) && too_near(1, 0) && too_near(6, 0));
        assert!(!too_near(0, 2) && !too_near(2, 0) && !too_near(5, 0));
    }

    /// `references/dosing.md`, worked check 11.
    #[test]
    fn three_stretches_of_twenty_seconds_meet_the_total_and_one_of_thirty_does_not() {
        use crate::dose::{Dose, Manner, Portion as Part};
        use crate::measure::Counts;
        let held = |times: u32, seconds: u32| {
            let bouts = Counts::one(times).unwrap_or(Counts::ONE);
            let span = Span::one(seconds).unwrap_or(Span::new(1, 1).unwrap_or_else(|| unreachable!()));
            let work = Work::Bouts { sets: None, bouts, span };
            let none: Option<Manner> = None;
            let dose = Dose { work: vec![Part { manner: none, work }], ..Dose::default() };
            stretched(&crate::programme::effective::portions(&dose, Kind::Held), 1)
        };
        assert_eq!((held(3, 20), held(1, 30)), (60, 30));
        assert!(!short_stretch(60) && short_stretch(30));
    }
}
