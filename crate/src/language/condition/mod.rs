//! Conditions, operations, injuries and states as clinicians type them, as types. One table of spellings ([`table`]),
//! found over a line's words; with each what stands beside it: whether the patient has it, may have it, had it or has it
//! not, which side, since when, which grade. It names; it decides nothing.

mod asked;
mod beside;
mod certain;
mod find;
mod sorts;
mod table;
mod when;

pub use find::{Asked, Line, Read, knows, read};
pub use sorts::{Approach, Bone, Condition, Diabetes, Fixation, Graft, Implant, Meniscus, Size, Stabilised};
pub use when::When;

use crate::body::names::Sides;
use crate::text::Place;

/// Whether the patient has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Certainty {
    Now,
    /// `?DVT`, `suspected`, `to exclude`.
    Queried,
    /// `prev`, `old`, or a year long ago.
    Before,
    /// `no falls`, `DVT excluded`.
    Denied,
    /// `FH`, `mother had`.
    OtherPerson,
}

/// A condition that is named in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    pub condition: Condition,
    pub certainty: Certainty,
    pub side: Option<Sides>,
    /// Of a sprain, a tear or a slip; the stage of a stiff shoulder.
    pub grade: Option<u8>,
    pub when: Option<When>,
    /// Its name.
    pub place: Place,
    /// What else says which it is, where it stands apart: `posterior approach`, `20 weeks`.
    pub beside: Vec<Place>,
}

impl Named {
    /// Whether it is the patient's and not over.
    pub fn is_current(&self) -> bool {
        matches!(self.certainty, Certainty::Now | Certainty::Queried)
    }

    /// Whether the patient has, may have or had it.
    pub fn is_of_patient(&self) -> bool {
        self.is_current() || self.certainty == Certainty::Before
    }

    /// Whether it is named or told more closely within that place.
    pub fn touches(&self, place: Place) -> bool {
        let within = |p: &Place| p.line == place.line && place.start <= p.start && p.end <= place.end;
        within(&self.place) || self.beside.iter().any(within)
    }

    /// Weeks of a pregnancy.
    pub fn weeks_pregnant(&self) -> Option<u8> {
        match self.when {
            Some(When::Pregnant { weeks, .. }) => Some(weeks),
            _ => None,
        }
    }
}

/// `hip replacement, posterior approach, right, 10 days`.
impl core::fmt::Display for Named {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.condition.word())?;
        if let Some(detail) = self.condition.detail() {
            write!(f, ", {detail}")?;
        }
        if let Some(grade) = self.grade {
            let word = if self.condition == Condition::FrozenShoulder { "stage" } else { "grade" };
            write!(f, ", {word} {grade}")?;
        }
        match self.side {
            Some(Sides::One(side)) => write!(f, ", {}", side.word())?,
            Some(Sides::Both) => f.write_str(", both")?,
            None => {}
        }
        if let Some(when) = self.when {
            write!(f, ", {when}")?;
        }
        f.write_str(match self.certainty {
            Certainty::Now => "",
            Certainty::Queried => ", queried",
            Certainty::Before => ", before",
            Certainty::Denied => ", denied",
            Certainty::OtherPerson => ", another person",
        })
    }
}

#[cfg(test)]
mod tests;
