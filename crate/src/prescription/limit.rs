//! The patient's limits: joint angles that must not be passed, and weight-bearing.

use crate::body::names::{Angle, Side};
use crate::dose::End;
use crate::language::anatomy::Limb;
use crate::measure::Date;
use crate::text::Place;

/// What an angle limit is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// `limit:` must not be passed.
    Limit,
    /// `range:` what the patient can reach: work to its edge.
    Range,
}

/// A bound on one clinical angle; `both knees` and `knees` give two of these.
/// Degrees are positive to the named motion; `extension at most -10` keeps ten degrees from straight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    pub purpose: Purpose,
    pub angle: Angle,
    /// Degrees, -180 to 180; not above `high`. At least one of the two is there.
    pub low: Option<i16>,
    pub high: Option<i16>,
    pub end: Option<End>,
    /// The last day it holds, where the clock for `end` was given.
    pub last_day: Option<Date>,
    pub place: Place,
}

/// How much weight a limb may take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Non-weight-bearing.
    None,
    /// Toe-touch.
    Touch,
    /// Percent of body weight, 1 to 99.
    Percent(u8),
    /// Kilograms, 1 to 200.
    Kilograms(u8),
    /// Partial, without a number.
    Partial,
    /// As tolerated: neither full nor "as able".
    AsTolerated,
    Full,
}

impl Weight {
    /// Whether it forbids something.
    pub fn is_restricted(self) -> bool {
        !matches!(self, Weight::Full | Weight::AsTolerated)
    }
}

/// One limb's weight-bearing. No side: both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bearing {
    pub side: Option<Side>,
    /// Whether both were said, where no side is.
    pub both: bool,
    /// The leg where none is named, as the trade has it.
    pub limb: Limb,
    pub weight: Weight,
    /// What else was said: `in brace`, `with two sticks`.
    pub words: String,
    pub end: Option<End>,
    pub last_day: Option<Date>,
    pub place: Place,
}
