//! What is told of the lines of a prescription, as they are read.

use super::kinds;
use crate::body::names::{Joint, Motion, Side};
use crate::measure::Date;

/// What should stand behind a line word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Expected {
    /// What is taken whatever it is, or told of by notices of its own.
    Words,
    Weeks,
    Limit,
    Range,
    Weight,
    Time,
    UsualPain,
    Body,
    Net,
}

/// What stands in a detail and could be about more than how it looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    Denial,
    Bound,
    Time,
    Number,
    Side,
    Motion,
    Joint,
}

/// What an end lacks to have a last day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lacks {
    /// A start or a surgery to count from.
    Clock,
    Start,
    Surgery,
    /// The day of the operation is typed, but may be meant either way.
    SureSurgery,
    Injury,
    Review,
    Year,
    /// Its day may be meant either way, or is so many months.
    SureDay,
    /// From when the weeks count.
    From,
}

kinds! {
/// What is told of a line. `key` is a line word.
pub enum OfPrescription {
    "line-too-long" => {
        LineTooLong { most: usize }: Error,
    }
    "too-many-exercises" => {
        TooManyExercises { most: usize }: Error,
    }
    "too-many-lines" => {
        TooManyLines { most: usize }: Error,
    }
    "too-many-notices" => {
        TooManyNotices { more: usize }: Error,
    }
    "mistyped-key" => {
        MistypedKey { typed: String, near: Vec<&'static str> }: Error,
    }
    "missing-colon" => {
        MissingColon { key: String }: Error,
        /// A step's condition is followed by its dose.
        MissingStepColon: Error,
        WeightWithoutKey: Error,
    }
    "read-as-detail" => {
        ReadAsDetail { key: String }: Advice,
    }
    "other-key" => {
        /// Who the patient is.
        KeyOfPatient { typed: String }: Error,
        /// It is called `key` here.
        KeyNamed { typed: String, key: &'static str }: Error,
        /// Nothing that a prescription needs.
        KeyOfRecord { typed: String }: Error,
        /// A date of something.
        KeyOfDate { typed: String }: Error,
        /// What must not be done, in words that are not read.
        KeyOfDanger { typed: String }: Error,
    }
    "read-as-noted" => {
        /// A plain line was read as the value of a line word.
        Noted { key: String }: Advice,
    }
    "read-as-guard" => {
        /// A line below an exercise forbids something: it is said there, and no rule looks at it.
        ReadAsGuard: Advice,
    }
    "red-flag-kept" => {
        RedFlagKept: Precaution,
    }
    "kept-private" => {
        KeptPrivate: Advice,
    }
    "restriction-kept" => {
        /// A line that is kept for the clinician forbids something, and no sheet says so.
        RestrictionKept: Precaution,
    }
    "line-unread" => {
        NotUnderstood: Error,
    }
    "dose-alone" => {
        DoseAlone: Error,
    }
    "detail-alone" => {
        DetailAlone { key: String }: Error,
    }
    "read-as-cue" => {
        ReadAsCue: Advice,
    }
    "read-as-later" => {
        ReadAsLater { text: String }: Advice,
    }
    "key-empty" => {
        KeyEmpty { key: String }: Advice,
    }
    "key-twice" => {
        KeyTwice { key: &'static str }: Error,
    }
    "date-unread" => {
        DateUnread { key: String }: Error,
    }
    "value-unread" => {
        /// `is_printed`: what holds the patient back prints all the same.
        ValueUnread { key: &'static str, expected: Expected, example: &'static str, is_printed: bool }: Error,
    }
    "limit-unread" => {
        LimitNoJoint { key: String }: Error,
        LimitNoMotion { key: String, joint: Joint }: Error,
        LimitCannotMove { key: String, joint: Joint, motion: Motion }: Error,
        LimitNoBound { key: String, joint: Joint }: Error,
        LimitNumbers { key: String }: Error,
        LimitEnd { key: String }: Error,
        LimitArc { key: String }: Error,
        LimitTurnedRound { key: String }: Error,
    }
    "ask-limit-comparator" => {
        LimitEitherWay { key: String, n: i16 }: Error,
    }
    "ask-limit-straight" => {
        LimitPastStraight { key: String, n: i16 }: Error,
    }
    "limit-side" => {
        LimitNoSide { joint: Joint }: Precaution,
    }
    "limit-bare-number" => {
        LimitBareNumber { n: i16 }: Advice,
    }
    "limit-forbidden" => {
        LimitForbidden { motion: Motion }: Advice,
    }
    "limit-precautions" => {
        LimitPrecautions: Precaution,
    }
    "limit-end-for-all" => {
        LimitEndForAll: Precaution,
    }
    "limit-words" => {
        LimitWords { words: String }: Precaution,
    }
    "end-without-clock" => {
        LimitWithoutClock { end: String, lacks: Lacks }: Precaution,
        /// The end of an exercise, and what it counts from.
        EndWithoutClock { end: String, event: String }: Precaution,
    }
    "counted-from-start" => {
        CountedFromStart { end: String, day: Date, from_surgery: Date }: Precaution,
        /// No start is given.
        CountedFromSurgery { end: String, day: Date }: Precaution,
    }
    "weight-stages" => {
        WeightStages: Advice,
    }
    "several-ends" => {
        SeveralEnds: Precaution,
    }
    "ends-before-review" => {
        EndsBeforeReview { day: Date }: Advice,
    }
    "step-unread" => {
        StepWithEnd: Error,
        StepSaysNothing: Error,
    }
    "rounds-unread" => {
        RoundsOnOneLine: Error,
    }
    "plain-limit" => {
        PlainLimit { written: String }: Advice,
    }
    "plain-weight" => {
        PlainWeight { written: String }: Advice,
    }
    "held-before" => {
        /// What held before what holds now.
        HeldBefore: Advice,
    }
    "plain-restriction" => {
        PlainRestriction: Precaution,
    }
    "plain-permission" => {
        PlainPermission: Advice,
    }
    "plain-advice" => {
        PlainAdvice: Advice,
    }
    "plain-order" => {
        PlainOrder: Advice,
    }
    "affected-side" => {
        AffectedSide { typed: String, side: Side }: Advice,
    }
    "ask-affected-side" => {
        WhichAffectedSide { typed: String }: Error,
    }
    "ask-denied-exercise" => {
        DeniedExercise { name: String }: Error,
    }
    "ask-short-form" => {
        /// What it may mean, in plain words.
        SeveralMeanings { typed: String, means: Vec<&'static str> }: Error,
    }
    "ask-measured" => {
        /// A range of motion without a word of what it is.
        MeasuredOrOrdered: Error,
    }
    "no-exercise" => {
        NoExercise { is_printed: bool }: Error,
    }
    "ask-weight-side" => {
        WeightWithoutSide: Error,
    }
    "start-without-clock" => {
        /// Counted in weeks of the plan: it holds, without dates.
        StartWithoutDates { from: String }: Advice,
        StartWithoutClock { from: String, event: String }: Precaution,
        /// A step by date.
        StepWithoutStart: Precaution,
    }
    "span-empty" => {
        EndsBeforeItBegins: Error,
        EndsBeforeThePlan: Precaution,
    }
    "span-beyond" => {
        BeginsBehindThePlan { weeks: u8 }: Precaution,
    }
    "step-by-week" => {
        StepByWeek { taken: Date }: Advice,
    }
    "side-twice" => {
        /// Both on one line.
        SideTwice { first: String, said: String }: Error,
        /// The first on a line above.
        SideAgainst { first: String, said: String }: Error,
    }
    "own-words" => {
        OwnWords: Advice,
    }
    "own-words-hold" => {
        OwnWordsHold { typed: String, held: Held }: Advice,
    }
}
}
