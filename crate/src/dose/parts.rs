//! The smaller parts of a dose: how often, loads, tempo, moments of the day.

use crate::measure::{Counts, Span, Weekdays};

/// When a set ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ending {
    /// At the number.
    #[default]
    Number,
    /// Where the patient chooses, up to the number.
    AsAble,
    /// When form goes; the number, where given, is the cap.
    Fatigue,
    /// As many as possible; the number, where given, is the cap.
    AsMany,
}

/// Units of work that is neither repetitions nor time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unit {
    Steps,
    Metres,
    Kilometres,
    Lengths,
    Flights,
    Breaths,
    Miles,
}

/// The days on which a dose falls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Days {
    Daily,
    /// So many days a week, 1 to 7.
    PerWeek(Counts),
    /// Every so many days, 2 to 31; 2 is alternate days.
    Every(u8),
    /// On these weekdays.
    On(Weekdays),
}

/// How often a dose is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Often {
    /// On the calendar: on these days, so many times on each (1 to 24).
    Calendar { days: Days, per_day: Counts },
    /// Every so many waking hours, 1 to 12; never on the calendar.
    Hours(u8),
    /// Four to six short goes a day; never on the calendar.
    LittleAndOften,
    /// When needed, with a daily cap where one is given; never on the calendar.
    AsNeeded { at_most: Option<u8> },
}

/// Parts of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    Morning,
    Midday,
    Afternoon,
    Evening,
    Night,
}

/// A moment of the day that a dose is tied to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Moment {
    At(Part),
    /// Before the session of that part of the day.
    Before(Part),
    /// After the session of that part of the day.
    After(Part),
    /// An anchor in the writer's words: `after brushing teeth`.
    Words(String),
}

/// What a weight is each of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Each {
    Hand,
    Leg,
    Side,
}

/// What carries the weight, where it was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Carrier {
    AnkleWeight,
    Dumbbell,
    Kettlebell,
    Barbell,
    Bottle,
    Tin,
    Pack,
}

/// Units of mass as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MassUnit {
    Kilogram,
    Pound,
}

/// A load as written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Load {
    /// `2 kg each hand`, `ankle weight 1 kg`. Hundredths of the unit, 1 to 50,000, low not above high.
    Mass { low: u32, high: u32, unit: MassUnit, carrier: Option<Carrier>, each: Option<Each> },
    /// A band by the patient's own label: `band: red one`. A label has no scale behind it.
    Band(String),
    /// Percent of what can be lifted once, 1 to 150, low not above high.
    OfMaximum { low: u8, high: u8 },
}

/// Seconds of lowering, pause, lifting, pause: `tempo 3-1-1-0`, each 0 to 60, not all zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tempo {
    seconds: [u8; 4],
}

impl Tempo {
    /// None where all are zero or one is above 60.
    pub fn new(seconds: [u8; 4]) -> Option<Tempo> {
        let good = seconds.iter().all(|s| *s <= 60) && seconds.iter().any(|s| 0 < *s);
        good.then_some(Tempo { seconds })
    }
    /// Lowering, pause at its end, lifting, pause at its end.
    pub fn seconds(self) -> [u8; 4] {
        self.seconds
    }
    /// Seconds of one repetition.
    pub fn total(self) -> u32 {
        self.seconds.iter().map(|s| u32::from(*s)).sum()
    }
}

/// What a ramp adds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    Time(Span),
    Sets(Counts),
    Repetitions(Counts),
    Amount(Counts, Unit),
    /// Percent of the dose as it stands, 1 to 100: each time of what was grown to before.
    Percent(u8),
    /// What no number tells, in the writer's words: `a lamp-post`.
    Words(String),
}

/// A dose that grows: `+ 2 min every 3 days up to 20 min`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ramp {
    pub add: Step,
    /// Every so many days, 1 to 31.
    pub every_days: u8,
    /// What it does not grow past: a time, a count or an amount, never a range.
    pub up_to: Option<Step>,
}
