#![doc = include_str!("model.md")]

use serde::{Deserialize, Serialize};

/// A day of the week, Monday first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Day {
    Mon,
    Tue,
    Wed,
    Thu,
    Fri,
    Sat,
    Sun,
}

impl Day {
    pub const ALL: [Day; 7] = [Day::Mon, Day::Tue, Day::Wed, Day::Thu, Day::Fri, Day::Sat, Day::Sun];

    /// The day's full name, as written in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Day::Mon => "Monday",
            Day::Tue => "Tuesday",
            Day::Wed => "Wednesday",
            Day::Thu => "Thursday",
            Day::Fri => "Friday",
            Day::Sat => "Saturday",
            Day::Sun => "Sunday",
        }
    }

    /// The short name that a `time:` line uses.
    pub fn short(self) -> &'static str {
        match self {
            Day::Mon => "Mon",
            Day::Tue => "Tue",
            Day::Wed => "Wed",
            Day::Thu => "Thu",
            Day::Fri => "Fri",
            Day::Sat => "Sat",
            Day::Sun => "Sun",
        }
    }

    pub(crate) fn of(index: usize) -> Day {
        match index % 7 {
            0 => Day::Mon,
            1 => Day::Tue,
            2 => Day::Wed,
            3 => Day::Thu,
            4 => Day::Fri,
            5 => Day::Sat,
            _ => Day::Sun,
        }
    }
}

/// A part of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Part {
    Morning,
    Midday,
    Evening,
}

impl Part {
    pub const ALL: [Part; 3] = [Part::Morning, Part::Midday, Part::Evening];

    pub fn name(self) -> &'static str {
        match self {
            Part::Morning => "morning",
            Part::Midday => "midday",
            Part::Evening => "evening",
        }
    }
}

/// A set of days; written in JSON as a list of their short names.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(from = "Vec<Day>", into = "Vec<Day>")]
pub struct DaySet(u8);

impl DaySet {
    pub const ALL: DaySet = DaySet(0x7f);

    pub fn has(self, day: Day) -> bool {
        self.0 & (1 << day as u8) != 0
    }

    pub fn len(self) -> u32 {
        self.0.count_ones()
    }

    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    pub fn days(self) -> impl Iterator<Item = Day> {
        Day::ALL.into_iter().filter(move |&day| self.has(day))
    }

    /// The days of this set that are not in `other`.
    pub fn without(self, other: DaySet) -> DaySet {
        DaySet(self.0 & !other.0)
    }

    pub(crate) fn bits(self) -> u16 {
        u16::from(self.0)
    }
}

impl FromIterator<Day> for DaySet {
    fn from_iter<T: IntoIterator<Item = Day>>(days: T) -> DaySet {
        DaySet(days.into_iter().fold(0, |bits, day| bits | 1 << day as u8))
    }
}

impl From<Vec<Day>> for DaySet {
    fn from(days: Vec<Day>) -> DaySet {
        days.into_iter().collect()
    }
}

impl From<DaySet> for Vec<Day> {
    fn from(set: DaySet) -> Vec<Day> {
        set.days().collect()
    }
}

/// A set of parts of the day; written in JSON as a list of their names.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(from = "Vec<Part>", into = "Vec<Part>")]
pub struct PartSet(u8);

impl PartSet {
    pub const ALL: PartSet = PartSet(7);

    pub fn has(self, part: Part) -> bool {
        self.0 & (1 << part as u8) != 0
    }

    pub fn len(self) -> u32 {
        self.0.count_ones()
    }

    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    pub fn parts(self) -> impl Iterator<Item = Part> {
        Part::ALL.into_iter().filter(move |&part| self.has(part))
    }

    /// The parts of this set that are not in `other`.
    pub fn without(self, other: PartSet) -> PartSet {
        PartSet(self.0 & !other.0)
    }

    pub(crate) fn bits(self) -> u8 {
        self.0
    }

    pub(crate) fn from_bits(bits: u8) -> PartSet {
        PartSet(bits & 7)
    }
}

impl FromIterator<Part> for PartSet {
    fn from_iter<T: IntoIterator<Item = Part>>(parts: T) -> PartSet {
        PartSet(parts.into_iter().fold(0, |bits, part| bits | 1 << part as u8))
    }
}

impl From<Vec<Part>> for PartSet {
    fn from(parts: Vec<Part>) -> PartSet {
        parts.into_iter().collect()
    }
}

impl From<PartSet> for Vec<Part> {
    fn from(set: PartSet) -> Vec<Part> {
        set.parts().collect()
    }
}

/// On which days an exercise is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Days {
    /// Every day that is not in [`Item::never`].
    Daily,
    /// So many days a week, chosen by the solver among those not in [`Item::never`].
    PerWeek(u8),
    /// These days and no others.
    Chosen(DaySet),
    /// Every second day of a cycle of two weeks: Monday, Wednesday, Friday, Sunday of one week and Tuesday,
    /// Thursday, Saturday of the other.
    Alternate,
}

/// One exercise to lay.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Item {
    /// Used in sentences only.
    pub name: String,
    /// Seconds of one go, getting into place included.
    pub seconds: u32,
    /// Goes a day, on the days when it is done: 1 to 3, each in a part of the day of its own.
    pub per_day: u8,
    pub days: Days,
    /// Days on which it must not be laid.
    #[serde(default)]
    pub never: DaySet,
    /// Parts of the day in which it may be laid.
    pub parts: PartSet,
    /// Fewest minutes between two goes of a day, by [`Problem::clock`].
    #[serde(default)]
    pub apart_minutes: u16,
    /// Muscle groups that it loads, as indices into [`Problem::groups`]; empty when it is not loaded work.
    #[serde(default)]
    pub loads: Vec<usize>,
    /// Rank of its purpose within a session, lowest first.
    pub purpose: u8,
    /// Index into [`Problem::positions`].
    pub position: usize,
    /// Number of the kit it needs; 0 for none. Equal numbers mean the same kit.
    #[serde(default)]
    pub kit: u32,
}

/// A rule between two exercises, as indices into [`Problem::items`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// Not in the same session.
    NotInSession(usize, usize),
    /// Not on the same day.
    NotOnDay(usize, usize),
    /// On a day with both, the first named comes after the second: not in an earlier part of the day, and later
    /// in a shared session.
    After(usize, usize),
}

/// Something that stands in the week already: work that loads the same muscles, or that takes minutes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Appointment {
    pub name: String,
    pub day: Day,
    pub part: Part,
    /// Taken from the minutes of its slot and of its day, where these are given.
    pub seconds: u32,
    #[serde(default)]
    pub loads: Vec<usize>,
}

/// A position to be in, such as sitting on a chair.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Position {
    pub name: String,
    /// Whether one has to get down to the floor for it and up again after.
    pub floor: bool,
}

/// What is not laid out: as needed, hourly, walked, worn. It stands beside the grid.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct AllDay {
    pub name: String,
    /// In words, such as `each waking hour`.
    pub when: String,
    /// At most so many a day.
    pub cap: Option<u32>,
}

/// The whole problem. Any value is legal: what makes no sense comes back as a [`Fault`] or as
/// [`Week::unplaced`].
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Problem {
    /// At most 60, in the order of the text, which is also the order in which ties are decided.
    pub items: Vec<Item>,
    #[serde(default)]
    pub rules: Vec<Rule>,
    /// Seconds that the patient has, by day and part; `None` where nothing was said, so no limit.
    #[serde(default)]
    pub available: [[Option<u32>; 3]; 7],
    /// Seconds that the patient has on a day as a whole, Monday first; beside or instead of those by part.
    #[serde(default)]
    pub by_day: [Option<u32>; 7],
    #[serde(default)]
    pub appointments: Vec<Appointment>,
    /// When morning, midday and evening are, in minutes after midnight.
    #[serde(default = "usual_clock")]
    pub clock: [u16; 3],
    /// Names of the muscle groups, at most 64.
    #[serde(default)]
    pub groups: Vec<String>,
    #[serde(default)]
    pub positions: Vec<Position>,
    /// Seconds that a change of position takes; added to the shown length of a session.
    #[serde(default)]
    pub change_seconds: u32,
    /// Down to the floor once a session at most, even where that breaks the order of purposes.
    #[serde(default)]
    pub floor_once: bool,
    #[serde(default)]
    pub all_day: Vec<AllDay>,
}

/// Morning 08:00, midday 13:00, evening 19:00 (common practice, no source).
pub const USUAL_CLOCK: [u16; 3] = [8 * 60, 13 * 60, 19 * 60];

fn usual_clock() -> [u16; 3] {
    USUAL_CLOCK
}

/// Exercises that a problem may have, and so the bits of a session's list.
pub const MOST_ITEMS: usize = 60;
/// Muscle groups that a problem may have.
pub const MOST_GROUPS: usize = 64;

/// Why a problem cannot be read as one: a sentence that says what was expected.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fault(pub String);

/// How many steps the search may take; never a time, so that the same problem gives the same week everywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limit {
    pub nodes: u64,
}

impl Limit {
    /// At most about a fifth of a second natively; enough to prove nine of ten weeks of 12 exercises (`examples/week.rs`).
    pub const USUAL: Limit = Limit { nodes: 300_000 };
}

/// What is made as small as can be, the first before the second and so on. The derived order is the order of aims.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Levels {
    /// Rules between exercises that are broken, counted by day (by session for [`Rule::NotInSession`]).
    pub broken: u32,
    /// Seconds beyond the minutes that the patient gave.
    pub overtime: u32,
    /// Pairs of neighbouring days that both load one muscle group.
    pub recovery: u32,
    /// Distinct lists of the day.
    pub lists: u32,
    /// Sessions.
    pub sessions: u32,
    /// Goes outside the usual part of the day.
    pub away: u32,
    /// Seconds of the longest day.
    pub longest: u32,
    /// Changes of position within sessions.
    pub positions: u32,
    /// Changes of kit within sessions.
    pub kit: u32,
}

impl Levels {
    /// The names and values, in the order of aims.
    pub fn named(&self) -> [(&'static str, u32); 9] {
        [
            ("rules broken", self.broken),
            ("seconds of overtime", self.overtime),
            ("neighbouring days that load the same muscles", self.recovery),
            ("different lists of the day", self.lists),
            ("sessions", self.sessions),
            ("goes outside the usual part of the day", self.away),
            ("seconds on the longest day", self.longest),
            ("changes of position", self.positions),
            ("changes of kit", self.kit),
        ]
    }
}

/// One session: a day and a part of the day with something to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Session {
    /// 1, or 2 in the second week of a two-week cycle.
    pub week: u8,
    pub day: Day,
    pub part: Part,
    /// Items in the order in which they are done.
    pub items: Vec<usize>,
    /// Changes of position included.
    pub seconds: u32,
    pub position_changes: u32,
    pub kit_changes: u32,
}

/// A slot, or a day as a whole, that takes more than the patient has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Overtime {
    pub week: u8,
    pub day: Day,
    /// None: the day as a whole.
    pub part: Option<Part>,
    /// Seconds beyond what is given.
    pub seconds: u32,
}

/// An exercise whose own rules leave no slot.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unplaced {
    pub item: usize,
    pub reason: String,
}

/// How far the week may be from the best one, when the search was cut off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Gap {
    /// No week can do better than this.
    pub bound: Levels,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Week {
    /// Whether this is proven to be the one best week.
    pub proved: bool,
    pub gap: Option<Gap>,
    pub levels: Levels,
    /// 1, or 2 when something is done on alternate days.
    pub weeks: u8,
    /// By item, by day (7, or 14 for two weeks): the parts of the day in which it is done.
    pub laid: Vec<Vec<PartSet>>,
    /// By day and part.
    pub sessions: Vec<Session>,
    pub overtime: Vec<Overtime>,
    pub unplaced: Vec<Unplaced>,
    /// Broken rules, in words.
    pub broken: Vec<String>,
    /// Steps that the search took.
    pub nodes: u64,
}
