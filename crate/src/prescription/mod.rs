//! The typed text as written, and its canonical forms. Does not know whether it makes sense.
//!
//! Reading never fails: any text gives a prescription and notices. What was not understood stays in the
//! text word for word, and where it might have been about safety it also stands in
//! [`Prescription::unread`], so that sheet and record can show it as not checked.
//!
#![doc = include_str!("grammar.md")]

pub mod about;
pub mod angles;
pub mod bearing;
pub mod day;
mod condition;
pub mod details;
pub mod exercise;
pub mod kept;
pub mod keys;
pub mod later;
pub mod limit;
pub mod net;
pub mod noted;
mod operated;
pub mod order;
mod plain;
pub mod problem;
mod reader;
pub mod say;
mod span;
mod time;
pub mod tolerated;
mod wean;
pub mod words;

pub use plain::permits;

pub use reader::MOST_LINES;

use std::collections::BTreeSet;

use crate::body::names::Side;
use crate::dose::parts::Part;
use crate::dose::{Dose, End, Sided, Start};
use crate::language::condition::Named;
use crate::language::restraint::Plain;
use crate::measure::{Counts, Date, Weekdays};
use crate::text::Place;
use limit::{Bearing, Limit};

/// Words as the clinician typed them (trimmed), and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    pub text: String,
    pub place: Place,
}

impl Said {
    pub fn of(typed: &crate::language::typed::Typed<'_>) -> Said {
        Said { text: typed.text.to_string(), place: typed.place }
    }
}

/// A prescription as written. Every list is in the order typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Prescription {
    pub title: Option<Said>,
    pub by: Option<Said>,
    pub patient: Option<Patient>,
    /// A score of pain as it was taken at the visit: `NPRS 4/10`.
    pub scored_pain: Option<Pain>,
    /// From a line of its own; see [`Prescription::age`].
    pub age: Option<u8>,
    pub pregnancy: Option<noted::Pregnancy>,
    pub pressure: Option<noted::Pressure>,
    pub start: Option<Date>,
    pub weeks: Option<u8>,
    pub review: Option<Date>,
    pub surgery: Option<Happening>,
    pub injury: Option<Happening>,
    /// When a baby is due.
    pub due: Option<Date>,
    pub aims: Vec<Said>,
    /// `limit:` and `range:` lines that were understood, one entry for each joint motion.
    pub limits: Vec<Limit>,
    pub bearing: Vec<Bearing>,
    pub avoid: Vec<Said>,
    pub cannot: Vec<Said>,
    pub cautions: Vec<Said>,
    /// Conditions, operations, injuries and states that the title, cautions, findings and such lines name, private ones
    /// among them: for the clinician and the checks.
    pub conditions: Vec<Named>,
    /// Plain lines that restrict, permit or order, in words that are no angle and no weight.
    pub stated: Vec<Stated>,
    pub body: Option<Build>,
    /// None: not said. Empty: `kit: none`.
    pub kit: Option<Vec<Said>>,
    pub times: Vec<Minutes>,
    /// What stands in the patient's week already, and days of rest.
    pub fixed: Vec<Fixed>,
    /// What the sheet says besides on when to get help; None: not said.
    pub net: Option<Net>,
    /// What the patient is asked to score.
    pub ask: Option<Said>,
    pub usual_pain: Option<Pain>,
    /// How much pain the whole plan allows.
    pub okay_pain: Option<tolerated::Tolerated>,
    pub irritability: Option<Said>,
    pub findings: Vec<Said>,
    pub measures: Vec<Said>,
    pub screened: Option<Screened>,
    pub taught: Vec<Said>,
    pub bad_day: Vec<Said>,
    pub flare: Vec<Said>,
    /// The number for help at once, where the patient lives.
    pub emergency: Vec<Said>,
    /// Whom to call when the clinic is closed.
    pub out_of_hours: Vec<Said>,
    pub discharge: Vec<Said>,
    pub sections: Vec<Section>,
    pub exercises: Vec<Exercise>,
    /// Own exercises written in the text, in the catalog's format.
    pub own: Vec<Own>,
    /// Private remarks: never handed over.
    pub remarks: Vec<Said>,
    /// Lines that were not understood, word for word.
    pub unread: Vec<Unread>,
    /// What is too much to be read: on no sheet and in no link.
    pub beyond: Beyond,
    /// Every line of the text, in order: what `print` writes.
    pub lines: Vec<Written>,
}

impl Prescription {
    /// The patient's age in years, from `patient:` or a line of its own.
    pub fn age(&self) -> Option<u8> {
        self.patient.as_ref().and_then(|who| who.age).or(self.age)
    }
}

/// What stands behind the last exercise or the last line that is read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Beyond {
    /// Name and side of each exercise, in the order typed.
    pub exercises: Vec<String>,
    /// Lines that were not looked at, blank ones not counted.
    pub lines: usize,
}

/// So many names are said; of more, how many they are.
const MOST_NAMED: usize = 20;

impl Beyond {
    pub fn is_empty(&self) -> bool {
        self.exercises.is_empty() && self.lines == 0
    }

    /// `2 more: bridge; heel slide, left`: what a sheet lacks; None where it has all.
    pub fn words(&self) -> Option<String> {
        let named: Vec<&str> = self.exercises.iter().take(MOST_NAMED).map(String::as_str).collect();
        let unnamed = self.exercises.len().saturating_sub(MOST_NAMED);
        let others = if unnamed == 0 { String::new() } else { format!("; and {unnamed} others") };
        let exercises = format!("{} more: {}{others}", self.exercises.len(), named.join("; "));
        let lines = format!("{} more {}", self.lines, if self.lines == 1 { "line" } else { "lines" });
        match (self.exercises.is_empty(), self.lines) {
            (true, 0) => None,
            (true, _) => Some(lines),
            (false, 0) => Some(exercises),
            (false, _) => Some(format!("{exercises}; and {lines}")),
        }
    }
}

/// A plain line about the patient: `No lifting > 2 kg`, `sling at night 4/52`, `may shower`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stated {
    pub kind: Plain,
    /// The whole line.
    pub said: Said,
    /// Without the words that deny, forbid or permit: `lifting > 2 kg`.
    pub what: Said,
    /// For the sheet: word for word, but for shorthand in its end: `sling for 2 weeks`.
    pub shown: String,
    pub end: Option<End>,
    pub last_day: Option<Date>,
}

impl Stated {
    /// What of its words the patient may read. When to call whom is theirs, whatever it is for.
    pub fn for_patient(&self, words: &str) -> Option<String> {
        use crate::language::{restraint, token::tokens};
        let calls =
            self.kind != Plain::Restriction && restraint::calls(&tokens(&crate::text::fold::fold(words)));
        if calls { Some(words.to_string()) } else { problem::without_red_flags(words) }
    }
}

/// One line of the text and how it is written tidily.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Counted from 1.
    pub number: usize,
    pub tidy: String,
    /// A private remark behind it.
    pub remark: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patient {
    /// The whole value, as typed.
    pub said: Said,
    /// Name or initials: what stands before the first comma.
    pub name: String,
    pub age: Option<u8>,
}

/// An operation or injury: when, and in the writer's words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Happening {
    pub date: Option<Date>,
    pub words: String,
    pub place: Place,
}

/// The patient's body, as far as said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Build {
    /// Millimetres, 500 to 2,500.
    pub stature_mm: Option<u32>,
    /// Kilograms, 10 to 400.
    pub mass_kg: Option<u32>,
    /// Everything else, word by word between commas: `pregnant`, `older`, `broad`.
    pub words: Vec<Said>,
}

/// Minutes that the patient has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Minutes {
    pub days: Weekdays,
    /// None: for the day as a whole.
    pub part: Option<Part>,
    /// 0: not on those days (`no Thursdays`). At most 1,440.
    pub minutes: u16,
    pub place: Place,
}

/// What a `time:` line says that is no minutes: `Thu evening swimming`, `Sun rest`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fixed {
    pub days: Weekdays,
    pub what: Occasion,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Occasion {
    /// A day without exercises, daily ones included.
    Rest,
    /// Something that takes a part of the day, in the writer's words.
    Appointment {
        part: Part,
        name: String,
        /// Taken from the minutes of that part; None: all of it.
        minutes: Option<u16>,
        /// Muscle groups that it loads, by their main word: `quadriceps` is `front of thigh`.
        works: Vec<String>,
    },
}

/// One piece of a `time:` line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Time {
    Minutes(Minutes),
    Fixed(Fixed),
}

/// What else the patient is to look out for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Net {
    pub topics: BTreeSet<net::Topic>,
    pub place: Place,
}

/// Usual pain, of 10.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pain {
    pub low: u8,
    pub high: u8,
    pub words: String,
    pub place: Place,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Screened {
    pub date: Option<Date>,
    pub words: String,
    pub place: Place,
}

/// A part of the sheet under its own heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    pub said: Said,
    /// `3 rounds of:` everything in this section is done so many times in turn.
    pub rounds: Option<Counts>,
}

/// An exercise line with all that belongs to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exercise {
    /// The line, counted from 1.
    pub line: usize,
    /// The whole line without its bullet.
    pub place: Place,
    /// Index into [`Prescription::sections`].
    pub section: Option<usize>,
    /// The words as typed, without side and dose.
    pub name: Said,
    pub side: Option<Sided>,
    /// Where on the body, where it was said after the side: `cold pack, right knee` has `knee`.
    pub region: Option<Said>,
    /// As written on the line and on dose lines below it (its side words are moved to `side`).
    pub dose: Dose,
    /// The dose on the exercise line.
    pub dose_place: Place,
    pub details: Vec<Detail>,
    pub steps: Vec<Step>,
    /// The reason given for overriding a notice.
    pub anyway: Option<Said>,
}

/// What a detail line says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    Cue,
    Feel,
    IfNotFelt,
    Easier,
    Harder,
    /// Why this exercise, for the patient: `so you can do stairs`.
    Why,
    Note,
    StopIf,
    /// How it was taught; private.
    Taught,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Detail {
    pub about: About,
    pub said: Said,
}

/// When a step is taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum When {
    /// `from week 3`, `from 2026-12-14`: by date.
    From(Start),
    /// `when easy`, `when pain settles by morning`: by criterion, in words.
    When(String),
    /// `if 24 h pain > usual + 2`, in words.
    If(String),
}

impl core::fmt::Display for When {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            When::From(start) => write!(f, "{start}"),
            When::When(words) => write!(f, "when {words}"),
            When::If(words) => write!(f, "if {words}"),
        }
    }
}

/// A change of the exercise above: `from week 3: 3 x 12`, or of the exercise itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    pub when: When,
    /// Another exercise, where one is named.
    pub name: Option<Said>,
    pub side: Option<Sided>,
    /// What changes; what isn't said stays.
    pub dose: Dose,
    pub place: Place,
}

/// An own exercise, in the catalog's format.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Own {
    pub name: Said,
    /// The lines of the block without their common indent, blank ones left out, as typed.
    pub lines: Vec<Said>,
}

/// A line or value that was not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    pub said: Said,
    /// Whether it may be about safety (a limit, a weight, a mistyped key): print it word for word under
    /// "Do not" and list it as not checked.
    pub safety: bool,
    /// The key it stood under, where one was understood: `limit`.
    pub key: Option<&'static str>,
}

/// The last day on which something holds, where the clock for it was given.
pub fn last_day(
    end: &End,
    start: Option<Date>,
    surgery: Option<Date>,
    injury: Option<Date>,
    review: Option<Date>,
) -> Option<Date> {
    use crate::dose::Event;
    match end {
        End::Week(week) => start.map(|s| s.plus_days(7 * i32::from(*week) - 1)),
        End::Date(date) => Some(*date),
        End::After { weeks, event } => match event {
            Event::Surgery => surgery,
            Event::Injury => injury,
        }
        .map(|d| d.plus_days(7 * i32::from(*weeks) - 1)),
        End::For { .. } | End::Months(_) => start.zip(end.days()).map(|(s, days)| s.plus_days(days - 1)),
        End::Review => review,
        End::Yearless(_) | End::Words(_) => None,
    }
}

/// The last day of a limit, a weight or a rule. Its weeks count from the start or, where none is given, from surgery; a day
/// within the words of its end is its end.
pub fn last_held(
    end: &End,
    start: Option<Date>,
    surgery: Option<Date>,
    injury: Option<Date>,
    review: Option<Date>,
) -> Option<Date> {
    use crate::dose::find::span::{Day as Found, day_in};
    match end {
        End::For { .. } | End::Months(_) => last_day(end, start.or(surgery), surgery, injury, review),
        End::Words(words) => match day_in(words)? {
            Found::Date(date) => Some(date),
            Found::Yearless(day) => day::Day::yearless(day).from(start).ok(),
            Found::EitherWay => None,
        },
        _ => last_day(end, start, surgery, injury, review),
    }
}

/// The first day on which something is done, where the clock for it was given.
pub fn first_day(
    from: &Start,
    start: Option<Date>,
    surgery: Option<Date>,
    injury: Option<Date>,
) -> Option<Date> {
    use crate::dose::Event;
    match from {
        Start::Week(week) => start.map(|s| s.plus_days(7 * (i32::from(*week) - 1))),
        Start::Date(date) => Some(*date),
        Start::After { weeks, event } => match event {
            Event::Surgery => surgery,
            Event::Injury => injury,
        }
        .map(|d| d.plus_days(7 * i32::from(*weeks))),
        Start::Yearless(_) => None,
    }
}

/// The sides that a word of sides names, for one who knows no exercise: none for `Together` and the rest.
pub fn one_side(sided: Sided) -> Option<Side> {
    match sided {
        Sided::Left => Some(Side::Left),
        Sided::Right => Some(Side::Right),
        Sided::EachSide | Sided::Both | Sided::Together | Sided::Alternating => None,
    }
}

/// Reads any text; it cannot fail.
///
/// ```
/// let (p, notices) = layfigure::prescription::read("limit: right knee flexion 0-90\nheel slide R 2x10");
/// assert_eq!(p.limits[0].angle.name(), "right knee flexion");
/// assert_eq!(p.exercises[0].name.text, "heel slide");
/// assert_eq!(layfigure::prescription::print(&p), "limit: right knee flexion 0-90\nheel slide, right: 2 x 10\n");
/// assert!(notices.is_empty());
/// ```
pub fn read(text: &str) -> (Prescription, Vec<crate::notice::Notice>) {
    reader::read(text)
}

/// Reads a text that was handed over in a link: canonical, so that nothing in it is a plain restriction. What the first
/// links took for an exercise stays one, since their days count by its place in the list.
pub fn read_shared(text: &str) -> (Prescription, Vec<crate::notice::Notice>) {
    reader::read_shared(text)
}

/// A line as typed, without the private remark behind it; None, where all of it is one.
///
/// ```
/// use layfigure::{prescription::without_remark, text::lines};
/// let all = lines("  - bridge 3x10 // hates these\n// ring her daughter");
/// assert_eq!(all.iter().map(without_remark).collect::<Vec<_>>(), [Some("  - bridge 3x10"), None]);
/// ```
pub fn without_remark<'a>(line: &crate::text::Line<'a>) -> Option<&'a str> {
    let (kept, _) = reader::without_remark(line);
    (!kept.content().starts_with("//")).then_some(kept.raw)
}

/// The tidy form: canonical spelling, and word for word what was not understood.
pub fn print(prescription: &Prescription) -> String {
    let mut out = String::new();
    for line in &prescription.lines {
        out.push_str(&line.tidy);
        if let Some(remark) = &line.remark {
            out.push_str(" // ");
            out.push_str(remark);
        }
        out.push('\n');
    }
    out
}
