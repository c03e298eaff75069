//! What there is to ask or mention about a dose, a date or a day.

use super::kinds;
use crate::measure::{Counts, Date};

/// What a dose says at most once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Once {
    Hold,
    Rest,
    Tempo,
    Effort,
    Reserve,
    Pain,
    Ramp,
    Start,
    End,
    Tally,
    Side,
    Often,
    PerDay,
    Work,
}

kinds! {
/// Something to ask or mention about a dose, a date or a day.
pub enum Doubt {
    "ask-two-weights" => {
        /// `2 x 4 kg`.
        TwoWeights { count: Counts }: Error,
    }
    "ask-three-numbers" => {
        /// `2 x 5 x 10`.
        ThreeNumbers { sets: Counts, reps: Counts }: Error,
    }
    "dose-swapped" => {
        /// `10 x 3`, read as three sets of ten.
        Swapped { sets: Counts, reps: Counts }: Advice,
    }
    "dose-times-daily" => {
        /// `10 x 3 daily`.
        TimesDaily { reps: Counts, other: Counts }: Precaution,
    }
    "ask-effort-scale" => {
        /// `RPE 6`; in hundredths.
        WhichScale { low: u64, high: u64 }: Error,
    }
    "ask-percent" => {
        /// `50 %` of what.
        PercentOfWhat { low: u8, high: u8 }: Error,
    }
    "ask-minute-metre" => {
        /// `10 m`.
        MinuteOrMetre: Error,
    }
    "ask-decimal-comma" => {
        /// `2,5 kg`.
        DecimalComma: Error,
    }
    "dose-sevenths" => {
        /// `5/7`.
        Sevenths { n: u32 }: Advice,
    }
    "ask-eod" => {
        EveryOtherOrEndOfDay: Error,
    }
    "ask-per-week" => {
        /// `10/week`.
        MoreThanDaily { n: Counts }: Error,
    }
    "ask-pm" => {
        AfternoonOrEvening: Error,
    }
    "ask-date" => {
        WhichDate: Error,
        /// A date behind a line word.
        DateEitherWay: Error,
    }
    "ask-time-beside-reps" => {
        /// `3 x 10, 5 s`: a hold or a rest.
        TimeBesideReps { time: String }: Error,
    }
    "ask-tally" => {
        /// `20 alternating`.
        InAllOrEach { n: Counts }: Error,
    }
    "dose-no-daily-cap" => {
        NoDailyCap: Precaution,
    }
    "dose-no-cap" => {
        NoCap: Advice,
    }
    "dose-twice" => {
        /// A second value for what was said already.
        Twice { what: Once, first: String }: Error,
    }
    "dose-unread" => {
        /// Text with numbers that was not understood.
        Unread { text: String }: Error,
    }
    "ask-times-daily" => {
        /// `10x daily`.
        TimesOrReps { n: Counts }: Error,
    }
    "ask-slash" => {
        /// `8/10`, `3 x 8/10`.
        RangeOrEffort { sets: Option<Counts>, low: u32, high: u32 }: Error,
    }
    "ask-hours" => {
        /// `every 2-3 hours`, `2/24`.
        Hours { low: u32 }: Error,
    }
    "dose-span" => {
        /// `6/52` alone, read as a time to go on for.
        Span { text: String }: Advice,
    }
    "ask-on-and-off" => {
        /// `4 on 1 off`.
        OnAndOff: Error,
    }
    "ask-biweekly" => {
        Biweekly: Error,
    }
    "dose-sets-a-day" => {
        /// `3 sets/day`.
        SetsADay { sets: Counts }: Precaution,
    }
    "ask-pyramid" => {
        /// `12/10/8`.
        Pyramid: Error,
    }
    "ask-most-days" => {
        /// `most days`.
        MostDays: Precaution,
    }
    "ask-every-minutes" => {
        /// `every 30 mins`.
        EveryMinutes: Error,
    }
    "dose-many" => {
        /// `3 x 100`.
        Many { reps: Counts }: Precaution,
    }
    "ask-until-weeks" => {
        /// `until 4 weeks`.
        UntilWeeks { weeks: u32 }: Error,
    }
    "start-after" => {
        /// `after week 2`: from the next one on.
        AfterWeek { from: u8 }: Advice,
    }
    "ask-week" => {
        /// `week 3` alone: from then on, or in that week only.
        WeekAlone { week: u8 }: Error,
        /// `stop week 3`: with that week, or before it.
        StopAt { week: u8 }: Error,
        /// `weeks 4-2`.
        Backwards: Error,
    }
    "ask-day" => {
        /// `from tomorrow`.
        WhichDay: Error,
        /// It counts from the start, which isn't given; behind this word.
        DayWithoutStart { key: &'static str }: Error,
        /// The date falls on another day of the week than was typed.
        OtherWeekday { date: Date }: Error,
        /// `31 Nov`.
        NoSuchDay: Error,
    }
    "ask-more-side" => {
        /// `L > R`.
        MoreOnOneSide: Error,
    }
    "ask-next" => {
        /// `-> 3 x 12`.
        Next: Error,
    }
    "ask-load-grows" => {
        /// `+ 1 kg a week`.
        LoadGrows: Error,
    }
    "bounded-load" => {
        /// `up to 8 kg`.
        BoundedLoad: Advice,
    }
    "ask-another-exercise" => {
        /// `bridge 3x10, clam R 3x10`.
        Another: Error,
    }
    "ramp-in-words" => {
        /// `add a lamp-post a week`: no figure can be worked out.
        Landmark: Advice,
    }
    "ask-repetition-maximum" => {
        /// `3 x 10RM`.
        MostReps { sets: Counts, reps: Counts }: Error,
    }
    "ask-tempo" => {
        /// `tempo 30X1`.
        TempoLetter: Error,
    }
    "dose-inches" => {
        /// `6" step`.
        Inches { cm: u32, prop: String, foot: bool }: Advice,
    }
    "dose-too-long" => {
        TooLong: Error,
    }
    "dose-misspelt" => {
        /// A near word of the dose language.
        Misspelt { typed: String, near: Vec<&'static str> }: Error,
    }
}
}

/// What stands behind the first sign of times: `2 x 4 kg`.
pub fn behind_times(typed: &str) -> &str {
    typed.split_once(TIMES).map_or(typed, |(_, behind)| behind).trim()
}

/// What stands behind the last sign of times: `2 x 5 x 10`.
pub fn last_number(typed: &str) -> &str {
    typed.rsplit(TIMES).next().unwrap_or("").trim()
}

/// The number before an m.
pub fn without_metre(typed: &str) -> &str {
    typed.trim_end_matches(['m', 'M', ' '])
}

const TIMES: [char; 4] = ['x', 'X', '×', '*'];
