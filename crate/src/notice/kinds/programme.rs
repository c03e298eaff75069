//! What is told of a programme: names, sides, usual doses, and what the checks find.
//!
//! Measured numbers come as text, rounded as they are to be read, so that equal notices are equal.

use super::kinds;
use crate::body::names::{Angle, Region, Side};
use crate::measure::{Counts, Date, Span};

/// An angle that an exercise needs, past what was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Past {
    pub angle: Angle,
    /// Degrees, as are all below.
    pub limit: String,
    pub needs: String,
}

/// A movement that is drawn shorter for a limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shorter {
    /// The angle's name.
    pub angle: String,
    pub limit: String,
    pub usual: String,
    pub now: String,
}

/// What carries weight that was limited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bears {
    pub side: Side,
    pub is_arm: bool,
    /// It carries alone.
    pub is_alone: bool,
}

/// What an exercise is against, for which a reason can be recorded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Against {
    Past(Vec<Past>),
    /// Less than half of the movement is left.
    Shorter(Vec<Shorter>),
    Way {
        position: String,
        part: Option<Region>,
    },
    Weight(Bears),
    Avoided {
        is_cannot: bool,
        words: String,
    },
}

/// What may stand in an exercise's place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Offer {
    Instead(Vec<String>),
    /// No rule can judge these words.
    HeldBack(String),
    None,
}

/// What of an own exercise is meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lead {
    Pose(String),
    Typed(String),
    /// The place says it.
    Unsaid,
}

kinds! {
/// What is told of a programme.
pub enum OfProgramme {
    "unknown-exercise" => {
        /// `is_against`: the one near name would be against what is written, so it is no edit.
        NearName { typed: String, near: Vec<String>, is_against: bool }: Error,
        UnknownName { typed: String }: Error,
    }
    "ramp-uncounted" => {
        /// Percent may be of the load or of the repetitions; else nothing of it is in the dose.
        RampUncounted { ramp: String, is_either: bool }: Error,
    }
    "side-missing" => {
        /// What a side means in this exercise, where it says so.
        SideMissing { means: String }: Precaution,
    }
    "side-unfit" => {
        OnlyTogether { exercise: String }: Precaution,
        NeverTogether { exercise: String }: Precaution,
        NoSides { exercise: String }: Advice,
    }
    "often-usual" => {
        OftenUsual { written: String }: Advice,
        OftenUnsaid: Advice,
        OftenTyped { words: String }: Advice,
    }
    "dose-read-as-seconds" => {
        ReadAsSeconds { shown: String }: Precaution,
    }
    "dose-usual" => {
        UsualDose { added: String }: Advice,
    }
    "own-not-reached" => {
        AngleNotReached { lead: Lead, angle: Angle, asked: String, came: String }: Precaution,
        RelationOff { lead: Lead, degrees: String }: Precaution,
    }
    "own-gap" => {
        Gap { lead: Lead, mm: String }: Precaution,
    }
    "own-falls" => {
        Falls { lead: Lead }: Precaution,
    }
    "own-unseen" => {
        Unseen { typed: Option<String>, percent: String }: Precaution,
    }
    "not-in-prescription" => {
        /// `is_apart`: the two are to be kept apart, which matters more than their order.
        TieNearName { words: String, near: String, is_apart: bool }: apart(*is_apart),
        /// The catalog has it, this prescription hasn't.
        TieElsewhere { name: String, is_apart: bool }: apart(*is_apart),
        TieUnknown { name: String, is_apart: bool }: apart(*is_apart),
    }
    "days-with-whom" => {
        DaysWithWhom { words: String }: Advice,
    }
    "decision-recorded" => {
        Decided { against: Against, reason: String }: Advice,
    }
    "limit-exceeded" => {
        LimitExceeded { past: Vec<Past>, offer: Offer }: Contraindication,
        HardlyLeft { drawn: Vec<Shorter>, offer: Offer }: Contraindication,
    }
    "limit-drawn" => {
        LimitDrawn { drawn: Vec<Shorter> }: Precaution,
    }
    "body-in-the-way" => {
        BodyInTheWay { position: String, part: Option<Region> }: Precaution,
    }
    "weight" => {
        Weight { bears: Bears }: Contraindication,
    }
    "avoided" => {
        /// `is_cannot`: written as what the patient cannot do.
        Avoided { is_cannot: bool, words: String }: Contraindication,
    }
    "pregnancy-lying-flat" => {
        LyingFlat { weeks: Option<i32> }: Precaution,
    }
    "osteoporosis-bending" => {
        BendsBack { degrees: String }: Precaution,
        TurnsBack { degrees: String }: Precaution,
    }
    "hip-precautions" => {
        /// Each angle's name with its degrees.
        PosteriorHip { past: Vec<String> }: Precaution,
        AnteriorHip { extension: String, turned: String }: Precaution,
    }
    "cuff-repair-early" => {
        CuffEarly { weeks: i32 }: Precaution,
    }
    "cruciate-open-chain" => {
        OpenChain { weeks: i32 }: Precaution,
    }
    "pressure-long-hold" => {
        LongHold { seconds: u32 }: Precaution,
    }
    "falls" => {
        Unsupported: Precaution,
        OnFloor: Precaution,
    }
    "dose-slip" => {
        /// `likely`: so many sets may have been meant.
        SlipSets { sets: u32, reps: u32, likely: u32 }: Precaution,
        SlipReps { reps: u32 }: Precaution,
        /// `likely`: in seconds.
        SlipHold { hold: Span, likely: Option<Span> }: Precaution,
        SlipRest { rest: Span }: Precaution,
        SlipOften { times: u32 }: Precaution,
        SlipMinutes { minutes: u32 }: Precaution,
        SlipHours { hours: u32 }: Precaution,
    }
    "dose-unusual" => {
        UnusualReps { reps: Counts }: Advice,
        UnusualSets { sets: Counts }: Advice,
        ShortHold { hold: Span }: Advice,
        LongStretch { hold: Span }: Advice,
    }
    "stretch-short" => {
        StretchShort { seconds: u32 }: Advice,
    }
    "no-maximum" => {
        NoMostADay: Precaution,
        NoMostInASet: Precaution,
    }
    "recovery" => {
        HardEveryDay: Precaution,
        LoadedDays { days: Counts }: Advice,
        /// With itself, or with another; on these days of the week, Monday 0.
        NeighbouringDays { other: Option<String>, muscles: Vec<String>, first: u8, second: u8 }: Precaution,
    }
    "minutes" => {
        Minutes { day: u8, given: u32, needs: u32 }: Precaution,
    }
    "kit" => {
        Kit { lacks: Vec<String> }: Precaution,
    }
    "other-side" => {
        OtherSide { side: Side }: Advice,
    }
    "many-exercises" => {
        ManyExercises { count: usize }: Advice,
    }
    "dates" => {
        ReviewBeforeStart { review: Date, start: Date }: Precaution,
    }
    "problem-unknown" => {
        ProblemUnknown { is_titled: bool }: Advice,
    }
}
}

fn apart(is_apart: bool) -> crate::notice::Severity {
    if is_apart { crate::notice::Severity::Precaution } else { crate::notice::Severity::Advice }
}
