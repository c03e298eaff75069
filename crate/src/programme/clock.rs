//! Weeks, last days, and which limits hold in a week.

use super::{Ask, Standing};
use crate::body::names::Angle;
use crate::body::range::Limits;
use crate::dose::{Dose, End, Start};
use crate::language::restraint::Plain;
use crate::measure::Date;
use crate::prescription::limit::{Bearing, Limit, Purpose};
use crate::prescription::{Prescription, Stated, first_day, last_day};

/// The week shown and its first day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clock {
    pub week: u32,
    pub starts: Option<Date>,
    pub review: Option<Date>,
}

/// The most weeks that are shown; a year, with some to spare.
pub const MOST_WEEKS: u32 = 104;

impl Clock {
    /// The week asked for; else the one that today falls in, from the first to the last.
    pub fn of(prescription: &Prescription, ask: &Ask) -> Clock {
        let most = prescription.weeks.map_or(MOST_WEEKS, u32::from).clamp(1, MOST_WEEKS);
        let by_date = match (prescription.start, ask.today) {
            (Some(start), Some(today)) => {
                let days = u32::try_from(today.days_since(start)).unwrap_or(0);
                (days / 7 + 1).min(most)
            }
            _ => 1,
        };
        let week = ask.week.unwrap_or(by_date).clamp(1, MOST_WEEKS);
        let days = i32::try_from(7 * (week - 1)).unwrap_or(0);
        Clock { week, starts: prescription.start.map(|s| s.plus_days(days)), review: prescription.review }
    }

    /// Whether something with this start has begun by the last day of the week. What can't be dated has begun.
    pub fn begun(&self, from: Option<&Start>, first: Option<Date>) -> bool {
        match (first, self.starts, from) {
            (Some(first), Some(starts), _) => first < starts.plus_days(7),
            (_, _, Some(Start::Week(n))) => u32::from(*n) <= self.week,
            _ => true,
        }
    }

    /// Whether something with this end still holds on the first day of the week. What can't be dated holds.
    pub fn holds(&self, end: Option<&End>, last: Option<Date>) -> bool {
        match (last, self.starts, end) {
            (Some(last), Some(starts), _) => starts <= last,
            (_, _, Some(End::Week(n))) => self.week <= u32::from(*n),
            _ => true,
        }
    }

    fn standing<T: Clone>(&self, what: &T, end: Option<&End>, last: Option<Date>) -> Standing<T> {
        let before = matches!((last, self.review), (Some(last), Some(review)) if last < review);
        Standing {
            what: what.clone(),
            in_force: self.holds(end, last),
            last_day: last,
            ends_before_review: before,
        }
    }

    pub fn limits(&self, p: &Prescription) -> Vec<Standing<Limit>> {
        let each = |l: &Limit| {
            let last = l.last_day.or_else(|| l.end.as_ref().and_then(|e| last_held(p, e)));
            self.standing(l, l.end.as_ref(), last)
        };
        p.limits.iter().map(each).collect()
    }

    pub fn bearing(&self, p: &Prescription) -> Vec<Standing<Bearing>> {
        let each = |b: &Bearing| {
            let end = b.end.as_ref().filter(|_| !b.follows);
            let last = b.last_day.or_else(|| end.and_then(|e| last_held(p, e)));
            // What follows holds from the day on which the one before it ends; undated, it waits.
            let begun = |(first, starts): (Date, Date)| first < starts.plus_days(7);
            let begun = !b.follows || b.first_day.zip(self.starts).is_some_and(begun);
            let standing = self.standing(b, b.end.as_ref(), last);
            Standing { in_force: standing.in_force && begun, ..standing }
        };
        p.bearing.iter().map(each).collect()
    }

    /// The plain lines of a kind that hold in this week, each with its last day.
    pub fn stated<'a>(
        &self,
        p: &'a Prescription,
        kind: Plain,
    ) -> impl Iterator<Item = (&'a Stated, Option<Date>)> {
        let clock = *self;
        p.stated.iter().filter(move |s| s.kind == kind).filter_map(move |s| {
            let last = s.last_day.or_else(|| s.end.as_ref().and_then(|e| last_held(p, e)));
            clock.holds(s.end.as_ref(), last).then_some((s, last))
        })
    }
}

/// The last day of an end, by the prescription's own dates.
pub fn last_of(p: &Prescription, end: &End) -> Option<Date> {
    let of = |h: &Option<crate::prescription::Happening>| h.as_ref().and_then(|h| h.date);
    last_day(end, p.start, of(&p.surgery), of(&p.injury), p.review)
}

/// The last day of a limit, a weight or a rule, by the prescription's own dates.
fn last_held(p: &Prescription, end: &End) -> Option<Date> {
    let of = |h: &Option<crate::prescription::Happening>| h.as_ref().and_then(|h| h.date);
    crate::prescription::last_held(end, p.start, of(&p.surgery), of(&p.injury), p.review)
}

/// The first day of a start, by the prescription's own dates.
pub fn first_of(p: &Prescription, from: &Start) -> Option<Date> {
    let of = |h: &Option<crate::prescription::Happening>| h.as_ref().and_then(|h| h.date);
    first_day(from, p.start, of(&p.surgery), of(&p.injury))
}

/// The last day of a dose: `for 10 days` counts from its own first day, `for 2 weeks` of a step from the step's.
pub fn last_of_dose(p: &Prescription, dose: &Dose, stepped: Option<Date>) -> Option<Date> {
    let end = dose.until.as_ref()?;
    let begins = stepped.or_else(|| dose.from.as_ref().and_then(|from| first_of(p, from)));
    match (end, begins) {
        (End::For { .. } | End::Months(_), Some(first)) => end.days().map(|days| first.plus_days(days - 1)),
        _ => last_of(p, end),
    }
}

/// The first week of the course that begins on a start or after it; None: no clock for it was given.
pub fn week_from(p: &Prescription, from: &Start) -> Option<u32> {
    if let Start::Week(n) = from {
        return Some(u32::from(*n));
    }
    let days = first_of(p, from)?.days_since(p.start?);
    Some(u32::try_from(days.max(0)).unwrap_or(0).div_ceil(7) + 1)
}

/// The bounds that a limit sets, each as a motion and the most it may reach, degrees.
/// A lower end of 0 is where the motion starts and bounds nothing: `flexion 0-90` does not forbid the
/// opposite motion.
pub fn bounds(limit: &Limit) -> Vec<(Angle, f64)> {
    let mut found = Vec::new();
    if let Some(high) = limit.high {
        found.push((limit.angle, f64::from(high)));
    }
    if let (Some(low), Some(opposite)) = (limit.low.filter(|l| *l != 0), limit.angle.motion.opposite()) {
        found.push((Angle { motion: opposite, ..limit.angle }, f64::from(-low)));
    }
    found
}

/// The limits of the week for settling. Those of `limit:` stand `margin` degrees short of their
/// number, as far as there is room above straight; those of `range:` are worked to their edge.
pub fn for_settling(limits: &[Standing<Limit>], margin: u8) -> Limits {
    let mut all = Limits::none();
    for limit in limits.iter().filter(|l| l.in_force) {
        for (angle, most) in bounds(&limit.what) {
            let short = match limit.what.purpose {
                // Near zero a margin would forbid lying with a straight leg.
                Purpose::Limit if 2.0 * f64::from(margin) < most => f64::from(margin),
                Purpose::Limit | Purpose::Range => 0.0,
            };
            all.hold(angle, most - short);
        }
    }
    all
}
