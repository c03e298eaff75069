//! A line as typed, looked at by one recogniser after the other.

use super::{Parted, part};
use crate::dose::find::{at, is_filler};
use crate::language::token::{Cursor, Sort, Token};
use crate::language::typed::Typed;
use crate::text::Place;

/// A line as typed, looked at by one recogniser after the other: what several of them need is made once.
pub struct TypedLine<'a> {
    pub typed: &'a Typed<'a>,
    pub content: &'a str,
    pub place: Place,
    pub all: &'a [Token<'a>],
    parted: core::cell::OnceCell<Parted>,
    calls: core::cell::OnceCell<bool>,
    told: core::cell::OnceCell<(bool, bool)>,
}

impl<'a> TypedLine<'a> {
    pub fn new(typed: &'a Typed<'a>) -> TypedLine<'a> {
        let (parted, calls, told) = Default::default();
        TypedLine { typed, content: typed.text, place: typed.place, all: &typed.all, parted, calls, told }
    }

    /// The line parted, without details.
    pub fn parted(&self) -> &Parted {
        self.parted.get_or_init(|| part(self.typed))
    }

    /// Whether it could be a dose and nothing else: no dose begins with a word that is none of its own.
    pub fn may_be_dose(&self) -> bool {
        let c = Cursor { all: self.all, at: 0 };
        !matches!(c.peek().map(|t| t.sort), Some(Sort::Word(_)))
            || is_filler(c)
            || at(c, self.content).is_some()
    }

    /// Whether it says when to call whom.
    pub fn calls(&self) -> bool {
        *self.calls.get_or_init(|| crate::language::restraint::calls(self.all))
    }

    fn told(&self) -> (bool, bool) {
        *self.told.get_or_init(|| crate::prescription::problem::told(self.content))
    }

    /// Whether it tells a red flag.
    pub fn is_red_flag(&self) -> bool {
        self.told().0
    }

    /// Whether it tells a finding or a red flag.
    pub fn is_finding(&self) -> bool {
        self.told().1
    }
}
