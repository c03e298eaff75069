//! On which side an exercise is done: what was typed, against what the exercise allows.

use super::OnSide;
use crate::catalog::terms::Sides;
use crate::dose::Sided;

/// What is odd about the side typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Odd {
    /// One side at a time, and none was said.
    Missing,
    /// A side was said, and both work at once.
    OnlyTogether,
    /// "Together" was said, and it is done one side at a time.
    NeverTogether,
    /// A side was said, and it has none.
    NoSides,
}

/// The side it is taken to be done on meanwhile, and what is odd. `allows` is None for an exercise of which
/// nothing is known.
pub fn resolved(typed: Option<Sided>, allows: Option<Sides>) -> (OnSide, Option<Odd>) {
    use Sided as S;
    let one = |s: Sided| if s == S::Left { OnSide::Left } else { OnSide::Right };
    match (allows, typed) {
        (Some(Sides::Each), None) => (OnSide::EachSide, Some(Odd::Missing)),
        (Some(Sides::Each) | Some(Sides::Alternate) | None, Some(s @ (S::Left | S::Right))) => (one(s), None),
        (Some(Sides::Each), Some(S::EachSide | S::Both)) => (OnSide::EachSide, None),
        (Some(Sides::Each), Some(S::Together)) => (OnSide::EachSide, Some(Odd::NeverTogether)),
        (Some(Sides::Each) | Some(Sides::Alternate) | None, Some(S::Alternating)) => {
            (OnSide::Alternating, None)
        }
        (Some(Sides::Alternate), None | Some(S::EachSide | S::Both)) => (OnSide::Alternating, None),
        (Some(Sides::Alternate), Some(S::Together)) => (OnSide::Alternating, Some(Odd::NeverTogether)),
        (Some(Sides::Together), None | Some(S::Together | S::Both)) => (OnSide::Together, None),
        (Some(Sides::Together), Some(S::Left | S::Right | S::EachSide | S::Alternating)) => {
            (OnSide::Together, Some(Odd::OnlyTogether))
        }
        (Some(Sides::None), None) => (OnSide::None, None),
        (Some(Sides::None), Some(_)) => (OnSide::None, Some(Odd::NoSides)),
        (None, None) => (OnSide::None, None),
        (None, Some(S::EachSide | S::Both)) => (OnSide::EachSide, None),
        (None, Some(S::Together)) => (OnSide::Together, None),
    }
}
