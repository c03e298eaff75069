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
    /// The foot flat on the floor, with hardly any weight.
    FlatFoot,
    /// So much, at most; `low` where a range was typed: `20-30 kg`.
    Amount {
        low: Option<u8>,
        high: u8,
        unit: Unit,
    },
    /// Partial, without a number.
    Partial,
    /// As tolerated: neither full nor "as able".
    AsTolerated,
    Full,
}

/// What a weight is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Of body weight, 1 to 99.
    Percent,
    /// 1 to 200.
    Kilograms,
    /// 1 to 250.
    Pounds,
}

impl Unit {
    pub fn sign(self) -> &'static str {
        match self {
            Unit::Percent => "%",
            Unit::Kilograms => "kg",
            Unit::Pounds => "lb",
        }
    }
}

impl Weight {
    /// Whether it forbids bearing weight, rather than allow some of it.
    pub fn forbids(self) -> bool {
        matches!(self, Weight::None | Weight::Touch)
    }

    /// Whether it bounds what may be borne.
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
    /// Whether it begins where the one before it ends: `NWB 2/52 then PWB`. Side and limb are that one's.
    pub follows: bool,
    /// The first day of one that follows, where it can be told.
    pub first_day: Option<Date>,
    pub end: Option<End>,
    pub last_day: Option<Date>,
    pub place: Place,
}
