//! Seconds of a dose, in whole numbers.
//!
//! Ranges count at their higher end, so that minutes kept are minutes enough. With
//!
//! * *repetition* = tempo's digits, else [`MOVE`]; plus the hold where one is written,
//! * *set* = repetitions × repetition; or holds × hold + (holds − 1) × pause; or one bout,
//! * *side* = sets × set + (sets − 1) × rest,
//! * *go* = getting into place + sides × side + (sides − 1) × [`CHANGE_SIDES`], the middle part times the
//!   rounds of its section,
//! * *day* = go × goes a day,
//! * *week* = day × days a week, rounded up.
//!
//! One repetition each way alternating counts both sides' repetitions in one set, unless the number is
//! written for both sides in all.

use super::{OnSide, Portion, Seconds};
use crate::dose::Kind;
use crate::dose::parts::{Days, Often, Tempo, Unit};
use crate::measure::{Counts, Span};

/// Seconds of one repetition: two to move, two to return. 1 to 2 s each way is the moderate speed of
/// ACSM (2009), `references/dosing.md` section 2; the higher end is taken.
pub const MOVE: u32 = 4;
/// Seconds between two holds of one set where no rest is written: common practice, no source.
pub const PAUSE: u32 = 5;
/// Seconds between two sets of loaded work where no rest is written: common practice, no source.
pub const REST_LOADED: u32 = 60;
/// Seconds between two sets of other work where no rest is written: common practice, no source.
pub const REST: u32 = 15;
/// Seconds to change sides: common practice, no source.
pub const CHANGE_SIDES: u32 = 10;
/// Seconds to get into place: common practice, no source.
pub const PLACE: u32 = 15;
/// Repetitions of a set that is to go on as long as possible and has no cap: common practice, no source.
pub const MANY: u32 = 15;
/// Seconds a day is held to: nothing lasts longer.
const DAY: u32 = 86_400;

/// Tenths of a second of one unit of work that is neither counted nor timed.
fn tenths(unit: Unit) -> u32 {
    match unit {
        // 100 steps a minute, moderate walking: from memory.
        Unit::Steps => 6,
        // 1 m/s, an easy walk: common practice, no source.
        Unit::Metres => 10,
        Unit::Kilometres => 10_000,
        // 1,609.344 m by definition.
        Unit::Miles => 16_093,
        // 25 m at an easy swim, one flight of stairs, one slow breath: common practice, no source.
        Unit::Lengths => 400,
        Unit::Flights => 150,
        Unit::Breaths => 50,
    }
}

/// What the seconds of an exercise depend on.
#[derive(Clone, Copy, Debug)]
pub struct Timed<'a> {
    pub portions: &'a [Portion],
    pub kind: Kind,
    pub side: OnSide,
    /// The repetitions are written for both sides in all.
    pub in_all: bool,
    pub tempo: Option<Tempo>,
    pub rest: Option<Span>,
    pub loaded: bool,
    pub rounds: u32,
    pub often: Often,
}

impl Timed<'_> {
    pub fn seconds(&self) -> Seconds {
        if matches!(self.kind, Kind::Worn | Kind::Advice) && self.portions.iter().all(|p| p.bout.is_none()) {
            return Seconds::default();
        }
        let sides: u32 = if self.side == OnSide::EachSide { 2 } else { 1 };
        let mut set = 0u32;
        let mut work = 0u32;
        for portion in self.portions {
            let one = self.set(portion);
            let sets = portion.sets.high();
            let rests = (sets - 1).saturating_mul(self.rest_between(portion));
            set = set.max(one);
            work = work.saturating_add(sets.saturating_mul(one).saturating_add(rests));
        }
        if self.portions.is_empty() {
            return Seconds::default();
        }
        let both = work.saturating_mul(sides).saturating_add((sides - 1) * CHANGE_SIDES);
        let go = both.saturating_mul(self.rounds.max(1)).saturating_add(PLACE).min(DAY);
        let day = go.saturating_mul(goes(self.often)).min(DAY);
        let (numerator, denominator) = days_in(self.often);
        Seconds { set: set.min(DAY), go, day, week: day.saturating_mul(numerator).div_ceil(denominator) }
    }

    /// One set of one portion on one side.
    fn set(&self, portion: &Portion) -> u32 {
        if let Some((amount, unit)) = portion.amount {
            return (u64::from(amount.high()) * u64::from(tenths(unit))).div_ceil(10).min(u64::from(DAY))
                as u32;
        }
        if let (Some(bout), None) = (portion.bout, portion.reps) {
            return bout.high();
        }
        let halves = match (self.side, self.in_all) {
            (OnSide::Alternating, false) => 4,
            (OnSide::EachSide, true) => 1,
            _ => 2,
        };
        let reps = portion.reps.map_or(MANY, Counts::high).saturating_mul(halves).div_ceil(2);
        match (self.kind, portion.hold) {
            (Kind::Held, Some(hold)) => {
                let pause =
                    if portion.sets == Counts::ONE { self.rest.map_or(PAUSE, Span::high) } else { PAUSE };
                reps.saturating_mul(hold.high()).saturating_add((reps.max(1) - 1).saturating_mul(pause))
            }
            (_, hold) => {
                let moving = self.tempo.map_or(MOVE, Tempo::total);
                reps.saturating_mul(moving.saturating_add(hold.map_or(0, Span::high)))
            }
        }
    }

    fn rest_between(&self, portion: &Portion) -> u32 {
        // The stretches of an interval hold their own rests.
        if !portion.stretches.is_empty() {
            return 0;
        }
        self.rest.map_or(if self.loaded { REST_LOADED } else { REST }, Span::high)
    }
}

/// Goes on a day when it is done; 0 where no number is fixed.
pub fn goes(often: Often) -> u32 {
    match often {
        Often::Calendar { per_day, .. } => per_day.high(),
        Often::Hours(_) | Often::LittleAndOften | Often::AsNeeded { .. } => 0,
    }
}

/// Days a week as a fraction.
pub fn days_in(often: Often) -> (u32, u32) {
    match often {
        Often::Calendar { days, .. } => match days {
            Days::Daily => (7, 1),
            Days::PerWeek(n) => (n.high(), 1),
            Days::Every(n) => (7, u32::from(n.max(1))),
            Days::On(days) => (days.count(), 1),
        },
        Often::Hours(_) | Often::LittleAndOften | Often::AsNeeded { .. } => (7, 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dose::parts::Ending;

    fn portion(sets: u32, reps: u32, hold: Option<u32>) -> Portion {
        Portion {
            manner: None,
            sets: Counts::one(sets).unwrap_or(Counts::ONE),
            reps: Counts::one(reps),
            hold: hold.and_then(Span::one),
            bout: None,
            ending: Ending::Number,
            stretches: Vec::new(),
            amount: None,
        }
    }

    fn timed(portions: &[Portion]) -> Timed<'_> {
        Timed {
            portions,
            kind: Kind::Repeated,
            side: OnSide::Right,
            in_all: false,
            tempo: None,
            rest: None,
            loaded: false,
            rounds: 1,
            often: Often::Calendar {
                days: Days::PerWeek(Counts::one(3).unwrap_or(Counts::ONE)),
                per_day: Counts::ONE,
            },
        }
    }

    /// `references/dosing.md`, worked check 8.
    #[test]
    fn a_tempo_of_3_1_1_0_makes_ten_repetitions_fifty_seconds() {
        let p = [portion(1, 10, None)];
        let t = Timed { tempo: Tempo::new([3, 1, 1, 0]), ..timed(&p) };
        assert_eq!(t.seconds().set, 50);
    }

    #[test]
    fn sets_rests_sides_and_days_add_up() {
        let p = [portion(3, 10, Some(5))];
        let t = Timed { rest: Span::one(60), side: OnSide::EachSide, ..timed(&p) };
        // 10 x (4 + 5) = 90 a set; 3 x 90 + 2 x 60 = 390 a side; 2 x 390 + 10 + 15 = 805.
        assert_eq!(t.seconds(), Seconds { set: 90, go: 805, day: 805, week: 2415 });
        // Twenty in all, alternating, are half of twenty each.
        let p = [portion(1, 20, None)];
        let each = Timed { side: OnSide::Alternating, ..timed(&p) }.seconds().set;
        let all = Timed { side: OnSide::Alternating, in_all: true, ..timed(&p) }.seconds().set;
        assert_eq!((each, all), (160, 80));
    }

    #[test]
    fn holds_have_pauses_between_them() {
        let p = [portion(1, 3, Some(30))];
        let t = Timed { kind: Kind::Held, ..timed(&p) };
        assert_eq!(t.seconds().set, 100);
        assert_eq!(Timed { rest: Span::one(30), ..t }.seconds().set, 150);
    }

    #[test]
    fn alternate_days_are_three_and_a_half_a_week() {
        let p = [portion(1, 10, None)];
        let often = Often::Calendar { days: Days::Every(2), per_day: Counts::ONE };
        let s = Timed { often, ..timed(&p) }.seconds();
        assert_eq!((s.go, s.week), (55, 193));
    }

    #[test]
    fn no_number_overflows() {
        let p = [portion(100_000, 100_000, Some(86_400))];
        let often = Often::Calendar { days: Days::Daily, per_day: Counts::new(1, 24).unwrap_or(Counts::ONE) };
        let s = Timed { often, rounds: 100_000, ..timed(&p) }.seconds();
        assert_eq!((s.go, s.week), (86_400, 604_800));
    }
}
