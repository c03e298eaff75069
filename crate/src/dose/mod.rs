//! A dose as typed and as written: sets, repetitions, holds, loads, how often. Knows no exercises.
//!
//! Trade shorthand is read ([`read`]), one canonical form is written ([`Dose`]'s `Display`), and
//! what was not understood stays in [`Dose::words`] as typed. The types hold no nonsense: no zero sets,
//! low never above high, everything bounded.
//!
//! A dose is free of the exercise's kind: `3 x 30 s` keeps its shape, and [`Dose::resolved`] says
//! whether it means three holds or three bouts.

pub mod find;
pub mod parts;
pub mod reader;
pub mod say;
pub mod write;

use crate::measure::{Counts, Date, Span};
use parts::{Ending, Load, Moment, Often, Ramp, Tempo, Unit};

/// What sort of doing an exercise is; decides how `3 x 30 s` is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Repeated,
    Held,
    Timed,
    Continuous,
    Worn,
    Advice,
}

/// The side or sides worked, as written. `Both` is what was typed; the exercise says whether that is
/// one side after the other or together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sided {
    Left,
    Right,
    EachSide,
    Both,
    Together,
    Alternating,
}

/// Whether a number of repetitions is for both sides in all, or for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tally {
    InAll,
    EachSide,
}

/// One stretch of intervals: how long, and how in the writer's words (`brisk`).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    pub span: Span,
    pub how: String,
}

/// The work of a dose: how much, before how often.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Work {
    /// `3 x 10`, `10 reps`, `3 x as many as possible`. No repetitions: sets alone, as in `2 sets`.
    Repetitions { sets: Option<Counts>, reps: Option<Counts>, ending: Ending },
    /// `3 x 30 s` (no sets), `2 x 5 x 10 s` (two sets of five): holds or bouts, by the exercise's kind.
    Bouts { sets: Option<Counts>, bouts: Counts, span: Span },
    /// `8 min`, `30 s` alone.
    Time(Span),
    /// `6 x (1 min brisk, 2 min easy)`.
    Intervals { times: Counts, stretches: Vec<Stretch> },
    /// `6000 steps`, `3 x 20 m`.
    Amount { sets: Option<Counts>, amount: Counts, unit: Unit },
}

/// How a part of the work is done, where a dose has a slow and a quick one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Manner {
    Slow,
    Quick,
}

/// One part of the work; nearly every dose has one (`slow 10 x 10 s; quick x 10` has two).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Portion {
    pub manner: Option<Manner>,
    pub work: Work,
}

/// A date whose year was not typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Yearless {
    /// 1 to 12.
    pub month: u8,
    /// 1 to 31.
    pub day: u8,
    /// The day of the week beside it, Monday 0.
    pub weekday: Option<u8>,
}

/// From when something is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Start {
    /// `from week 4`: the first day of that week, counted from the start date.
    Week(u8),
    /// `from 2026-12-14`.
    Date(Date),
    /// `from 14 Dec`, as long as the start that tells the year is not known.
    Yearless(Yearless),
    /// `from 6 weeks after surgery`: once so many weeks are over.
    After { weeks: u8, event: Event },
}

/// Until when something holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum End {
    /// `until week 4`: up to and including that week, counted from the start date.
    Week(u8),
    /// `until 2026-12-13`: up to and including that day.
    Date(Date),
    /// `until 20 Dec`, as long as the start that tells the year is not known.
    Yearless(Yearless),
    /// `until 6 weeks after surgery`: that many whole weeks.
    After { weeks: u8, event: Event },
    /// `for 2 weeks`, in days, from the first day on.
    For { days: u16 },
    /// `for 3 months`, 1 to 48 twelfths of a year.
    Months(u8),
    /// `until review`.
    Review,
    /// Anything else, as typed: `until the swelling has gone`.
    Words(String),
}

impl End {
    /// What lasts so many days; `unit`: the days of the unit that it was typed in, 30 for months.
    pub fn lasting(days: u32, unit: u32) -> Option<End> {
        match unit {
            30 => Some(End::Months(u8::try_from(days.checked_mul(12)? / 365).ok().filter(|n| *n <= 48)?)),
            _ => Some(End::For { days: u16::try_from(days).ok()? }),
        }
    }

    /// How many days it lasts, where it says so. A month is a twelfth of a year: 6 months are 183 days.
    pub fn days(&self) -> Option<i32> {
        match self {
            End::For { days } => Some(i32::from(*days)),
            End::Months(months) => Some((i32::from(*months) * 365 + 11) / 12),
            _ => None,
        }
    }
}

/// What a clock may count from besides the start date.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Event {
    Surgery,
    Injury,
}

/// How hard, as written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// `effort 6 of 10`; low and high in half points, 0 to 20.
    OfTen { low_halves: u8, high_halves: u8 },
    /// `effort 13 of 20`: the 6 to 20 scale.
    OfTwenty { low: u8, high: u8 },
    /// `50 % effort`, 1 to 100.
    Percent { low: u8, high: u8 },
}

/// A dose as written. Empty fields were not said; [`Dose::over`] takes them from a default.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dose {
    pub work: Vec<Portion>,
    /// `hold 5 s`.
    pub hold: Option<Span>,
    pub tempo: Option<Tempo>,
    pub loads: Vec<Load>,
    pub effort: Option<Effort>,
    /// `2 in reserve`: repetitions left in the tank, low and high.
    pub reserve: Option<(u8, u8)>,
    /// `rest 60 s`, between sets.
    pub rest: Option<Span>,
    /// `pain at most 3`, of 10.
    pub pain: Option<u8>,
    pub sides: Option<Sided>,
    pub tally: Option<Tally>,
    pub often: Option<Often>,
    /// Parts of the day and anchors: `morning`, `after evening`, `after brushing teeth`.
    pub moments: Vec<Moment>,
    /// `+ 2 min every 3 days`.
    pub ramp: Option<Ramp>,
    pub from: Option<Start>,
    pub until: Option<End>,
    /// What was not understood, or is plain words (`to first stretch`), as typed, in order.
    pub words: Vec<String>,
}

/// A dose made sense of for an exercise's kind. Counts keep their range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resolved {
    pub sets: Counts,
    /// Repetitions in a set; for a held kind the number of holds in a set. None: not a counted thing
    /// (a duration), or as many as possible without a cap.
    pub reps: Option<Counts>,
    /// Seconds held in each repetition.
    pub hold: Option<Span>,
    /// Seconds of each bout (timed work) where no repetitions are counted.
    pub bout: Option<Span>,
    pub ending: Ending,
}

impl Dose {
    /// This dose where it says something, `default` where it doesn't.
    pub fn over(&self, default: &Dose) -> Dose {
        let said = self.clone();
        let pick =
            |mine: Vec<String>, theirs: &[String]| if mine.is_empty() { theirs.to_vec() } else { mine };
        // A default hold or tempo belongs to the default's shape: it stands only where no bouts or time were said.
        let timed = said
            .work
            .iter()
            .any(|p| matches!(p.work, Work::Bouts { .. } | Work::Time(_) | Work::Intervals { .. }));
        // A time that was typed and not understood may be the hold: `3x10 5s`.
        let unclear = said.words.iter().any(|words| {
            let folded = crate::text::fold::fold(words);
            let all = crate::language::token::tokens(&folded);
            let mut c = crate::language::token::Cursor { all: &all, at: 0 };
            c.span().is_some() && c.is_done()
        });
        let timed = timed || unclear;
        Dose {
            hold: said.hold.or(if timed { None } else { default.hold }),
            tempo: said.tempo.or(if timed { None } else { default.tempo }),
            work: if said.work.is_empty() { default.work.clone() } else { said.work },
            loads: if said.loads.is_empty() { default.loads.clone() } else { said.loads },
            effort: said.effort.or(default.effort),
            reserve: said.reserve.or(default.reserve),
            rest: said.rest.or(default.rest),
            pain: said.pain.or(default.pain),
            sides: said.sides.or(default.sides),
            tally: said.tally.or(default.tally),
            often: said.often.or(default.often),
            moments: if said.moments.is_empty() { default.moments.clone() } else { said.moments },
            ramp: said.ramp.or_else(|| default.ramp.clone()),
            from: said.from.or(default.from),
            until: said.until.or(default.until.clone()),
            words: pick(said.words, &default.words),
        }
    }

    /// The first portion of the work as the exercise's kind means it; None where no work is said.
    pub fn resolved(&self, kind: Kind) -> Option<Resolved> {
        self.work.first().map(|portion| resolved(&portion.work, self.hold, kind))
    }
}

const MINUTE: u32 = 60;

fn resolved(work: &Work, hold: Option<Span>, kind: Kind) -> Resolved {
    let one = Counts::ONE;
    let plain = |sets: Counts, reps: Option<Counts>, hold: Option<Span>, bout: Option<Span>| Resolved {
        sets,
        reps,
        hold,
        bout,
        ending: Ending::Number,
    };
    match work {
        Work::Repetitions { sets, reps, ending } => {
            let reps = if reps.is_none() && sets.is_none() { Some(one) } else { *reps };
            Resolved { ending: *ending, ..plain(sets.unwrap_or(one), reps, hold, None) }
        }
        Work::Bouts { sets: Some(sets), bouts, span } => plain(*sets, Some(*bouts), Some(*span), None),
        // Nobody holds for a minute what is done in repetitions: `sit to stand 1 min x 3` (common practice, no source).
        Work::Bouts { sets: None, bouts, span } if kind == Kind::Repeated && MINUTE <= span.low() => {
            plain(*bouts, None, hold, Some(*span))
        }
        Work::Bouts { sets: None, bouts, span } => match kind {
            Kind::Held | Kind::Repeated => plain(one, Some(*bouts), Some(*span), None),
            Kind::Timed | Kind::Continuous | Kind::Worn | Kind::Advice => {
                plain(*bouts, None, hold, Some(*span))
            }
        },
        Work::Time(span) => match kind {
            Kind::Held => plain(one, Some(one), Some(*span), None),
            Kind::Repeated | Kind::Timed | Kind::Continuous | Kind::Worn | Kind::Advice => {
                plain(one, None, hold, Some(*span))
            }
        },
        Work::Intervals { times, stretches } => {
            let sum =
                |f: fn(Span) -> u32| stretches.iter().map(|s| f(s.span)).fold(0u32, u32::saturating_add);
            let (low, high) = (sum(Span::low).min(Span::MOST), sum(Span::high).min(Span::MOST));
            plain(*times, None, hold, Span::new(low, high))
        }
        Work::Amount { sets, .. } => plain(sets.unwrap_or(one), None, hold, None),
    }
}

/// Reads a dose; `at` is where `text` stands in its line, so that notices can point at it.
///
/// ```
/// use layfigure::{dose, text::Place};
/// let typed = "3×10, 5\" hold BD";
/// let (dose, notices) = dose::read(typed, Place { line: 1, start: 0, end: typed.len() });
/// assert_eq!(dose.to_string(), "3 x 10, hold 5 s, 2/day");
/// assert!(notices.is_empty());
/// ```
pub fn read(text: &str, at: crate::text::Place) -> (Dose, Vec<crate::notice::Notice>) {
    crate::language::typed::lexed(text, at, reader::read)
}

/// The same of what is lexed already.
pub fn of(typed: &crate::language::typed::Typed<'_>) -> (Dose, Vec<crate::notice::Notice>) {
    reader::read(typed)
}
