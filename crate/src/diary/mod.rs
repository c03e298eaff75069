//! What the patient ticked and scored, by day and part of the day. Does not know pages.
//!
//! As little as possible is asked: done. Where the clinician's `ask:` wants it, one worst pain and "settled by
//! morning?" for a session, never for an exercise. Nothing is ever filled in for a day to come.

pub mod stored;

use crate::measure::Date;
use crate::week::model::Part;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// Where in a day something is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    Morning,
    Midday,
    Evening,
    /// What has no place on the calendar: worn, as needed, little and often.
    AllDay,
}

impl When {
    pub const ALL: [When; 4] = [When::Morning, When::Midday, When::Evening, When::AllDay];

    /// As it is stored.
    pub fn name(self) -> &'static str {
        match self {
            When::Morning => "morning",
            When::Midday => "midday",
            When::Evening => "evening",
            When::AllDay => "day",
        }
    }

    pub fn named(name: &str) -> Option<When> {
        When::ALL.into_iter().find(|when| when.name() == name)
    }
}

impl From<Part> for When {
    fn from(part: Part) -> When {
        match part {
            Part::Morning => When::Morning,
            Part::Midday => When::Midday,
            Part::Evening => When::Evening,
        }
    }
}

/// The worst pain of a session: 0, none, to 10, the worst there is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Score(u8);

impl Score {
    pub const MOST: u8 = 10;

    /// None above [`Score::MOST`].
    pub fn new(score: u8) -> Option<Score> {
        (score <= Score::MOST).then_some(Score(score))
    }

    pub fn get(self) -> u8 {
        self.0
    }
}

/// Why a session was not done, by one tap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WhyNot {
    Pain,
    Time,
    Forgot,
    Unsure,
    Ill,
}

impl WhyNot {
    pub const ALL: [WhyNot; 5] = [WhyNot::Pain, WhyNot::Time, WhyNot::Forgot, WhyNot::Unsure, WhyNot::Ill];

    /// As it is stored.
    pub fn name(self) -> &'static str {
        match self {
            WhyNot::Pain => "pain",
            WhyNot::Time => "time",
            WhyNot::Forgot => "forgot",
            WhyNot::Unsure => "unsure",
            WhyNot::Ill => "ill",
        }
    }

    pub fn named(name: &str) -> Option<WhyNot> {
        WhyNot::ALL.into_iter().find(|why| why.name() == name)
    }
}

/// How urgent a sign is that the patient met, the gravest last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Urgency {
    /// That exercise is stopped for the day, and the clinic called before it is done again.
    Exercise,
    /// Everything is stopped, and the clinic called.
    Call,
    /// Everything is stopped, and help found before the day is over.
    SameDay,
    /// Help is called at once.
    Help,
}

impl Urgency {
    pub const ALL: [Urgency; 4] = [Urgency::Exercise, Urgency::Call, Urgency::SameDay, Urgency::Help];

    /// As it is stored.
    pub fn name(self) -> &'static str {
        match self {
            Urgency::Exercise => "exercise",
            Urgency::Call => "call",
            Urgency::SameDay => "same-day",
            Urgency::Help => "help",
        }
    }

    pub fn named(name: &str) -> Option<Urgency> {
        Urgency::ALL.into_iter().find(|urgency| urgency.name() == name)
    }
}

/// A sign to stop that the patient met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Met {
    pub urgency: Urgency,
    words: String,
    /// Whether the patient has called since and may go on.
    pub cleared: bool,
}

impl Met {
    /// In the sheet's words, on one line and without what parts the pieces of a stored line.
    pub fn new(urgency: Urgency, words: &str) -> Met {
        let words: Vec<&str> = words.split(|c: char| c.is_whitespace() || c == ';').collect();
        let words = words.into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
        Met { urgency, words, cleared: false }
    }

    /// The sheet's line that it met.
    pub fn words(&self) -> &str {
        &self.words
    }
}

/// An exercise by its place in the plan, counted from 1 in the order of the text. Which plan that is says
/// [`key`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Number(u16);

impl Number {
    /// None for 0 and above 9999.
    pub fn new(number: u16) -> Option<Number> {
        (1..=9999).contains(&number).then_some(Number(number))
    }

    /// From an index, counted from 0.
    pub fn at(index: usize) -> Option<Number> {
        u16::try_from(index).ok().and_then(|i| i.checked_add(1)).and_then(Number::new)
    }

    pub fn get(self) -> u16 {
        self.0
    }
}

/// One part of one day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Session {
    pub done: BTreeSet<Number>,
    /// Exercises that were stopped for the day.
    pub left: BTreeSet<Number>,
    /// The gravest sign to stop that was met.
    pub met: Option<Met>,
    pub pain: Option<Score>,
    /// Whether it had settled by the next morning.
    pub settled: Option<bool>,
    pub why_not: Option<WhyNot>,
    /// What was stored and is not understood, word for word.
    others: Vec<String>,
}

impl Session {
    pub fn is_empty(&self) -> bool {
        *self == Session::default()
    }
}

/// A day to come can't be filled in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotYet;

/// All that was ticked and scored for one plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Diary {
    sessions: BTreeMap<(Date, When), Session>,
    /// Lines that were stored and are not understood, word for word.
    others: Vec<String>,
    /// The version of the text that it was read from, where that is newer than ours.
    newer: Option<u32>,
}

impl Diary {
    pub fn session(&self, day: Date, when: When) -> Option<&Session> {
        self.sessions.get(&(day, when))
    }

    /// Every part of a day in which something is noted, in order.
    pub fn sessions(&self) -> impl Iterator<Item = (Date, When, &Session)> {
        self.sessions.iter().map(|((day, when), session)| (*day, *when, session))
    }

    pub fn is_empty(&self) -> bool {
        *self == Diary::default()
    }

    pub fn is_done(&self, day: Date, when: When, exercise: Number) -> bool {
        self.session(day, when).is_some_and(|s| s.done.contains(&exercise))
    }

    /// Ticks an exercise, or takes the tick back. What is done needs no excuse: the reason goes.
    pub fn tick(
        &mut self,
        day: Date,
        when: When,
        exercise: Number,
        done: bool,
        today: Date,
    ) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            if done {
                session.done.insert(exercise);
                session.why_not = None;
            } else {
                session.done.remove(&exercise);
            }
        })
    }

    pub fn score(&mut self, day: Date, when: When, pain: Option<Score>, today: Date) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            session.pain = pain;
            session.others.retain(|o| !o.starts_with("pain "));
        })
    }

    pub fn settle(
        &mut self,
        day: Date,
        when: When,
        settled: Option<bool>,
        today: Date,
    ) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            session.settled = settled;
            session.others.retain(|o| !o.starts_with("settled "));
        })
    }

    pub fn excuse(
        &mut self,
        day: Date,
        when: When,
        why_not: Option<WhyNot>,
        today: Date,
    ) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            session.why_not = why_not;
            session.others.retain(|o| !o.starts_with("why "));
        })
    }

    /// Notes a sign to stop. One that is less urgent than what is noted already changes nothing.
    pub fn meet(&mut self, day: Date, when: When, met: Met, today: Date) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            if session.met.as_ref().is_none_or(|known| known.cleared || known.urgency <= met.urgency) {
                session.met = Some(met);
            }
        })
    }

    /// Takes a sign back that was pressed by mistake.
    pub fn unmeet(&mut self, day: Date, when: When, today: Date) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            session.met = None;
            session.others.retain(|o| !o.starts_with("met ") && !o.starts_with("cleared "));
        })
    }

    /// The patient has called, and may go on. What was met stays noted.
    pub fn clear(&mut self, day: Date, when: When, today: Date) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            if let Some(met) = &mut session.met {
                met.cleared = true;
            }
        })
    }

    /// An exercise is stopped for the day, or that is taken back.
    pub fn leave(
        &mut self,
        day: Date,
        when: When,
        exercise: Number,
        left: bool,
        today: Date,
    ) -> Result<(), NotYet> {
        self.note(day, when, today, |session| {
            if left {
                session.left.insert(exercise);
            } else {
                session.left.remove(&exercise);
            }
        })
    }

    fn note(
        &mut self,
        day: Date,
        when: When,
        today: Date,
        change: impl FnOnce(&mut Session),
    ) -> Result<(), NotYet> {
        if today < day {
            return Err(NotYet);
        }
        let session = self.sessions.entry((day, when)).or_default();
        change(session);
        if session.is_empty() {
            self.sessions.remove(&(day, when));
        }
        Ok(())
    }
}

/// What the clinician wants to know of a session beyond "done".
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Asked {
    pub pain: bool,
    /// Whether it had settled by the next morning.
    pub settled: bool,
}

impl Asked {
    /// From the words of `ask:`. Done alone is the rule, since every question more is one more reason to stop
    /// answering (common practice, no source).
    ///
    /// ```
    /// use layfigure::diary::Asked;
    /// assert_eq!(Asked::of(None), Asked { pain: false, settled: false });
    /// assert_eq!(Asked::of(Some("worst pain, settled by morning")), Asked { pain: true, settled: true });
    /// ```
    pub fn of(words: Option<&str>) -> Asked {
        let words = words.unwrap_or("").to_lowercase();
        let has = |word: &str| words.contains(word);
        Asked { pain: has("pain"), settled: has("settle") || has("morning") || has("24") }
    }
}

/// Names the plan with this text: the diary of a plan is kept under its key, and a changed plan has another. SHA-256
/// in hexadecimal, so that nobody can write two plans with one key.
pub fn key(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The key by which earlier pages named it: 64 bits of FNV-1a in hexadecimal. Two texts may share one, so whoever finds
/// something under it compares the texts.
pub fn earlier_key(text: &str) -> String {
    let hash = text
        .bytes()
        .fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3));
    format!("{hash:016x}")
}
