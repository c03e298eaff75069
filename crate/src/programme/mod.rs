//! The prescription made sense of at a given week: exercises resolved, doses in seconds, movements
//! settled within the patient's limits, and the checks. Does not know how a week is laid.
//!
//! Everything that week, sheet and pages need stands in [`Programme`], in plain values: nobody above
//! this floor asks the catalog or reads a dose again.

pub mod arithmetic;
pub mod assemble;
mod build;
pub mod cautions;
pub mod check;
pub mod clock;
pub mod effective;
pub mod full;
pub mod growth;
pub mod help;
pub mod offer;
mod own;
pub mod resolve;
pub mod say;
pub mod settled;
pub mod sides;
pub mod ties;
pub mod tolerance;
mod usual;
use std::collections::BTreeMap;
use std::sync::Arc;

use crate::body::Body;
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::catalog::terms::Purpose;
use crate::dose::parts::{Ending, Load, Moment, Often, Tempo, Unit};
use crate::dose::{Dose, Kind, Manner, Stretch};
use crate::language::condition::Condition;
use crate::measure::{Counts, Date, Span};
use crate::notice::Notice;
use crate::pose::movement::{Movement, Need};
use crate::prescription::limit::{Bearing, Limit};
use crate::prescription::tolerated::Tolerated;
use crate::prescription::{Beyond, Fixed, Minutes, Pain};
use crate::text::Place;

/// What is asked of the programme besides the text. Today's date comes from the caller.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ask {
    pub today: Option<Date>,
    /// The week to show, counted from 1; None: the week that today's date falls in.
    pub week: Option<u32>,
    /// A limit is drawn so many degrees short of its number (see [`USUAL_MARGIN`]).
    pub margin: u8,
}

/// A limit is drawn about so many degrees short: visual judgement of a knee is off by that much
/// (goniometry literature, from memory).
pub const USUAL_MARGIN: u8 = 10;

impl Ask {
    /// For that day, everything else as usual.
    pub fn today(today: Option<Date>) -> Ask {
        Ask { today, week: None, margin: USUAL_MARGIN }
    }
}

/// A prescription understood, at one week of its course.
#[derive(Clone, Debug, PartialEq)]
pub struct Programme {
    /// Counted from 1; week 1 begins on the start date.
    pub week_number: u32,
    /// The first day of this week, where a start date is given.
    pub week_starts: Option<Date>,
    pub weeks: Option<u8>,
    /// The day on which this is read, as the caller says.
    pub today: Option<Date>,
    /// Four letters and digits that tell two versions of the sheet apart; they depend on the full text alone.
    pub version: String,
    pub who: Who,
    pub start: Option<Date>,
    pub review: Option<Date>,
    pub aims: Vec<String>,
    pub body: Body,
    /// Words of the body that were said: `pregnant`, `older`.
    pub build: Vec<String>,
    pub cautions: Vec<Caution>,
    pub usual_pain: Option<Pain>,
    /// How much pain the whole plan allows, where it is typed.
    pub okay_pain: Option<Tolerated>,
    /// What the patient is asked to score, as typed.
    pub ask: Option<String>,
    /// Headings of the sheet, in order; exercises point into it.
    pub sections: Vec<Section>,
    pub exercises: Vec<Exercise>,
    /// What was too much to be read, so that no sheet passes for the whole.
    pub beyond: Beyond,
    pub limits: Vec<Standing<Limit>>,
    pub bearing: Vec<Standing<Bearing>>,
    /// Limits of this week as settling knows them, without the margin.
    pub in_force: Limits,
    /// What the patient must not do, for the sheet: limits in words, `avoid:` and unread safety text.
    pub do_not: Vec<DoNot>,
    /// What the patient may do: weight that is allowed, and unread text that permits.
    pub may_do: Vec<Rule>,
    /// What the patient has to keep to: a sling at night, a dry wound.
    pub keep_to: Vec<Rule>,
    /// What could be about safety, was not understood and plainly neither forbids nor permits: word for word.
    pub as_written: Vec<Rule>,
    /// Minutes the patient has, as typed.
    pub times: Vec<Minutes>,
    /// What stands in the patient's week already, and days of rest, as typed.
    pub fixed: Vec<Fixed>,
    pub bad_day: Vec<String>,
    pub flare: Vec<String>,
    pub discharge: Vec<String>,
    /// What was typed that no rule can judge: with it no other exercise is offered.
    pub no_offers: Option<String>,
    /// What the sheet says on when to get help.
    pub help: help::Help,
    /// Of the checks over the programme; those of the reader are not in it.
    pub notices: Vec<Notice>,
    /// Plain sentences, for the clinician.
    pub checked: Vec<String>,
    /// Plain sentences, for the clinician.
    pub unchecked: Vec<String>,
    /// Main names, every default written out; reading it again gives the same programme.
    pub full: String,
}

/// Who wrote it and who it is for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Who {
    pub title: Option<String>,
    pub by: Option<String>,
    /// Name or initials.
    pub patient: Option<String>,
    pub age: Option<u8>,
    /// The number for help at once, where the patient lives, as typed.
    pub emergency: Option<String>,
    /// Whom to call when the clinic is closed, as typed.
    pub out_of_hours: Option<String>,
}

/// A caution that the clinician wrote, and the condition that it names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    pub words: String,
    /// None: no condition is known by these words, or the patient has it not or no longer.
    pub known: Option<Condition>,
    pub side: Option<crate::body::names::Sides>,
    pub weeks_pregnant: Option<u8>,
    /// It is named in the title, a finding or a history: it decides nothing that is printed.
    pub elsewhere: bool,
    pub place: Place,
}

impl Programme {
    /// What stands beside “Do not”, under the sheet's headings.
    pub fn rules(&self) -> [(&'static str, &[Rule]); 3] {
        [
            ("What you may do", &self.may_do),
            ("Keep to this", &self.keep_to),
            ("As your clinician wrote", &self.as_written),
        ]
    }

    /// Whether anything stands there.
    pub fn has_rules(&self) -> bool {
        self.rules().iter().any(|(_, rules)| !rules.is_empty())
    }
}

/// A part of the sheet under its own heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    pub title: String,
    pub rounds: Option<Counts>,
}

/// A limit with its last day, and whether it holds in this week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing<T> {
    pub what: T,
    pub in_force: bool,
    pub last_day: Option<Date>,
    /// It ends before the review date, when nobody will have looked.
    pub ends_before_review: bool,
}

/// One thing under "Do not".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoNot {
    /// In words for the patient; word for word where it was not understood.
    pub words: String,
    pub last_day: Option<Date>,
    pub computed: bool,
}

/// One thing under "What you may do" or "Keep to this".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rule {
    /// In words for the patient; word for word where it was not understood.
    pub words: String,
    pub last_day: Option<Date>,
}

/// Where an exercise's words and poses come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Known {
    /// A catalog entry: its file name and its number.
    Catalog { id: String, number: u32 },
    /// Written in the prescription itself.
    Own,
    /// No such name: dose without figure.
    Unknown,
}

/// On which side or sides an exercise is done, resolved against the exercise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OnSide {
    Left,
    Right,
    /// All of the dose on one side, then on the other.
    EachSide,
    /// One repetition on one side, the next on the other.
    Alternating,
    /// Both sides at once.
    Together,
    /// The exercise has no sides.
    None,
}

impl OnSide {
    /// As the command line's JSON and the full text say it.
    pub fn words(self) -> &'static str {
        match self {
            OnSide::Left => "left",
            OnSide::Right => "right",
            OnSide::EachSide => "each side",
            OnSide::Alternating => "alternating",
            OnSide::Together => "together",
            OnSide::None => "none",
        }
    }

    /// The sides that work, one after the other; for exercises without sides the right one, as drawn.
    pub fn drawn(self) -> &'static [Side] {
        match self {
            OnSide::Left => &[Side::Left],
            OnSide::Right | OnSide::Together | OnSide::None => &[Side::Right],
            OnSide::EachSide | OnSide::Alternating => &[Side::Right, Side::Left],
        }
    }
}

/// One exercise line made sense of.
#[derive(Clone, Debug, PartialEq)]
pub struct Exercise {
    /// Its line in the text, counted from 1.
    pub line: usize,
    pub place: Place,
    pub name_place: Place,
    pub dose_place: Place,
    /// Whether it is done in this week; one that has not begun or has ended stays in the list, so that indices last.
    pub active: bool,
    /// Whether it has not begun by the end of this week, and will.
    pub is_coming: bool,
    /// Index into [`Programme::sections`].
    pub section: Option<usize>,
    pub known: Known,
    /// The main name, or the words as typed where it is unknown.
    pub name: String,
    pub side: OnSide,
    /// Body region, as the catalog files it: `knee`. Empty where unknown.
    pub region: String,
    /// Where on the body a support goes, as typed: `right knee`.
    pub at: Option<String>,
    pub kind: Kind,
    pub purpose: Purpose,
    /// The catalog's position word: `lying on back`. Empty where unknown.
    pub position: String,
    /// Whether one has to get down to the floor for it.
    pub floor: bool,
    /// Things needed, by their words.
    pub kit: Vec<String>,
    /// Muscle groups that work.
    pub works: Vec<String>,
    /// Whether recovery is due after it.
    pub loaded: bool,
    /// The catalog's own words of caution: `impact`, `lying flat`.
    pub precautions: Vec<String>,
    /// The dose as typed on its line.
    pub typed: Dose,
    /// What of this week's dose was not typed and stands as usual.
    pub usual: Dose,
    pub amount: Amount,
    /// How its dose grows from day to day, where it does; `amount` is that of the week's first day.
    pub grows: Option<growth::Growth>,
    pub seconds: Seconds,
    pub words: Words,
    /// What comes later, in words and by date where one is known: for "what's next".
    pub steps: Vec<Later>,
    /// What the clinician wrote for too much pain, and for pain that does not settle.
    pub orders: Vec<tolerance::Order>,
    /// The settled movement for each side drawn; empty where there is no pose.
    pub drawn: Vec<Drawn>,
    /// Whether a limit of the patient changed what is drawn.
    pub limited: bool,
    /// Highest value of each clinical angle over the whole movement and all sides drawn, degrees.
    pub peaks: BTreeMap<String, f64>,
    /// The share of the movement that the limits leave, 0 to 1, on the side that loses most.
    pub kept: f64,
    /// Joints that need more than the patient's limits allow, on the side that needs most.
    pub needs: Vec<Need>,
    /// Names of exercises for the same end that pass all checks in its place; looked for where `needs` is not empty or a
    /// limit takes more than half of the movement.
    pub instead: Vec<String>,
    /// Where `limited`: what the same angles reach without the patient's limits.
    pub usual_peaks: BTreeMap<String, f64>,
    /// The reason the clinician gave for keeping it against a notice.
    pub anyway: Option<String>,
    /// What other exercises it comes after or before, or keeps apart from.
    pub ties: Vec<Tie>,
}

/// How one exercise stands to another within a day or a session.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bond {
    /// On a day with both, it comes later: `after heel slide`.
    After,
    /// On a day with both, it comes earlier: `before heel slide`.
    Before,
    /// `not with heel slide`.
    NotInSession,
    /// `not on the same day as heel slide`.
    NotOnDay,
}

/// A rule between two exercises, as the dose says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tie {
    pub bond: Bond,
    /// Index into [`Programme::exercises`].
    pub to: usize,
}

impl Exercise {
    /// Whether it is done on a day of the week that it stands in.
    pub fn is_due(&self, day: Date) -> bool {
        self.active
            && self.amount.first_day.is_none_or(|first| first <= day)
            && self.amount.last_day.is_none_or(|last| day <= last)
    }

    /// What the patient is told to do, step by step, and where to stop; nothing twice, though two sides are drawn.
    pub fn told(&self) -> Vec<&String> {
        let words = &self.words;
        let mut told: Vec<&String> = words.side.iter().chain(&words.set_up).chain(&words.cues).collect();
        for landmark in self.drawn.iter().filter_map(|d| d.landmark.as_ref()) {
            if !told.contains(&landmark) {
                told.push(landmark);
            }
        }
        told
    }
}

/// One side's settled movement.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    pub side: Side,
    pub movement: Arc<Movement>,
    /// For a joint drawn at the patient's limit: where to stop, as the patient can see it.
    pub landmark: Option<String>,
}

/// The effective dose in this week, nothing left unsaid that can be said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amount {
    /// As read, over the catalog's default, with this week's steps and ramp.
    pub dose: Dose,
    /// Slow and quick parts where there are two; nearly always one. Empty where no work is said.
    pub portions: Vec<Portion>,
    pub tempo: Option<Tempo>,
    pub loads: Vec<Load>,
    /// Between sets.
    pub rest: Option<Span>,
    /// How often, for the checks; told only where no words stand in its place.
    pub often: Often,
    /// Typed words that say how often or when, and are no number: they stand where the frequency would, and the week lays
    /// no days.
    pub as_typed: Vec<String>,
    pub moments: Vec<Moment>,
    /// Pain that is acceptable, of 10.
    pub pain: Option<u8>,
    /// The first day, where one is typed and known.
    pub first_day: Option<Date>,
    /// The last day, where one is known.
    pub last_day: Option<Date>,
}

/// Seconds above which a hold is said in minutes: from two minutes up, as canonical writing has it.
const MOST_MARKED: u32 = 119;

impl Amount {
    /// The hold that all parts of the work share; None where there is none, or each has its own.
    pub fn hold(&self) -> Option<Span> {
        let first = self.portions.first()?.hold;
        first.filter(|_| self.portions.iter().all(|p| p.hold == first))
    }

    /// Seconds of the hold, for a mark that has room for one number: a range, and what is read in minutes, is left
    /// to the words.
    pub fn marked_hold(&self) -> Option<u32> {
        let one = |hold: &Span| hold.low() == hold.high() && hold.high() <= MOST_MARKED;
        self.hold().filter(one).map(Span::high)
    }
}

/// One part of the work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Portion {
    pub manner: Option<Manner>,
    pub sets: Counts,
    /// None: not a counted thing, or as many as possible without a cap.
    pub reps: Option<Counts>,
    pub hold: Option<Span>,
    pub bout: Option<Span>,
    pub ending: Ending,
    /// `1 min brisk, 2 min easy`, each so many times as `sets` says.
    pub stretches: Vec<Stretch>,
    pub amount: Option<(Counts, Unit)>,
}

/// Whole seconds of work, rest and changes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seconds {
    /// One set on one side.
    pub set: u32,
    /// Once through: all sets, rests and sides, and getting into place.
    pub go: u32,
    /// A day on which it is done. 0 for what has no fixed number of goes.
    pub day: u32,
    pub week: u32,
}

/// What is said to the patient about an exercise; each list in order, nothing clinical.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Words {
    /// `Lie on your LEFT side.`, written out where the side decides the set-up.
    pub side: Option<String>,
    pub set_up: Vec<String>,
    pub cues: Vec<String>,
    pub feel: Vec<String>,
    pub if_not_felt: Vec<String>,
    pub easier: Vec<String>,
    pub harder: Vec<String>,
    pub why: Vec<String>,
    pub note: Vec<String>,
    pub stop_if: Vec<String>,
}

/// A step that is not yet taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Later {
    /// The week of the course from which it holds; None: it waits for something else.
    pub from: Option<u32>,
    /// `from week 3 (14 Dec 2026)`, `when easy`.
    pub when: String,
    pub what: String,
}
