//! Values to try the kinds with. The tables ask for one of each of their types, so none can be left out.

use super::dose::Once;
use super::prescription::{Expected, Held, Lacks};
use super::programme::{Against, Bears, Lead, Offer, Past, Shorter};
use crate::body::names::{Angle, Joint, Motion, Region, Side};
use crate::measure::{Counts, Date, Span};

/// So many values of a type are tried: at least as many as an enum of the data has.
pub const SPREAD: usize = 14;

/// What stands for words that were typed.
pub const TYPED: &str = "so and so";

/// The n-th value of a type, over and over.
pub trait Sample {
    fn sample(n: usize) -> Self;
}

fn one_of<T: Clone>(all: &[T], n: usize) -> T {
    all[n % all.len()].clone()
}

impl Sample for String {
    fn sample(_: usize) -> String {
        TYPED.to_string()
    }
}

impl Sample for &'static str {
    fn sample(_: usize) -> &'static str {
        TYPED
    }
}

impl Sample for bool {
    fn sample(n: usize) -> bool {
        n % 2 == 1
    }
}

macro_rules! numbers {
    ($($type:ty)*) => {$(
        impl Sample for $type {
            fn sample(n: usize) -> $type {
                <$type>::try_from(n).unwrap()
            }
        }
    )*};
}
numbers!(u32 u64 i16 i32 usize);

/// Small ones: some are days of a week, from Monday, 0.
impl Sample for u8 {
    fn sample(n: usize) -> u8 {
        u8::try_from(n % 7).unwrap()
    }
}

/// None first, so that `bool` beside it is false as well as true with either.
impl<T: Sample> Sample for Option<T> {
    fn sample(n: usize) -> Option<T> {
        (n / 2 % 2 == 1).then(|| T::sample(n))
    }
}

/// From one on: an empty list has nothing to tell.
impl<T: Sample> Sample for Vec<T> {
    fn sample(n: usize) -> Vec<T> {
        (0..=n % 3).map(T::sample).collect()
    }
}

impl Sample for Counts {
    fn sample(n: usize) -> Counts {
        let low = u32::try_from(n).unwrap() + 1;
        Counts::new(low, low + low % 2).unwrap()
    }
}

impl Sample for Span {
    fn sample(n: usize) -> Span {
        let low = u32::try_from(n).unwrap() + 1;
        Span::new(low, low + low % 2).unwrap()
    }
}

impl Sample for Date {
    fn sample(n: usize) -> Date {
        Date::iso("2026-11-30").unwrap().plus_days(i32::try_from(n).unwrap())
    }
}

impl Sample for Side {
    fn sample(n: usize) -> Side {
        one_of(&Side::BOTH, n)
    }
}

impl Sample for Joint {
    fn sample(n: usize) -> Joint {
        one_of(&[Joint::Knee, Joint::Neck], n)
    }
}

impl Sample for Motion {
    fn sample(n: usize) -> Motion {
        one_of(&[Motion::Flexion, Motion::SideBend(Side::Left)], n)
    }
}

impl Sample for Region {
    fn sample(n: usize) -> Region {
        one_of(&[Region::Heel, Region::Belly], n)
    }
}

impl Sample for Angle {
    fn sample(n: usize) -> Angle {
        Angle { side: Sample::sample(n), joint: Sample::sample(n), motion: Sample::sample(n) }
    }
}

impl Sample for Once {
    fn sample(n: usize) -> Once {
        use Once::*;
        one_of(
            &[Hold, Rest, Tempo, Effort, Reserve, Pain, Ramp, Start, End, Tally, Side, Often, PerDay, Work],
            n,
        )
    }
}

impl Sample for Expected {
    fn sample(n: usize) -> Expected {
        use Expected::*;
        one_of(&[Words, Weeks, Limit, Range, Weight, Time, UsualPain, Body, Net], n)
    }
}

impl Sample for Lacks {
    fn sample(n: usize) -> Lacks {
        use Lacks::*;
        one_of(&[Clock, Start, Surgery, SureSurgery, Injury, Review, Year, SureDay, From], n)
    }
}

impl Sample for Held {
    fn sample(n: usize) -> Held {
        use Held::*;
        one_of(&[Denial, Bound, Time, Number, Side, Motion, Joint], n)
    }
}

impl Sample for Past {
    fn sample(n: usize) -> Past {
        Past { angle: Sample::sample(n), limit: Sample::sample(n), needs: Sample::sample(n) }
    }
}

impl Sample for Shorter {
    fn sample(n: usize) -> Shorter {
        let (angle, limit) = (Sample::sample(n), Sample::sample(n));
        Shorter { angle, limit, usual: Sample::sample(n), now: Sample::sample(n) }
    }
}

impl Sample for Bears {
    fn sample(n: usize) -> Bears {
        Bears { side: Sample::sample(n), is_arm: n / 2 % 2 == 1, is_alone: n / 4 % 2 == 1 }
    }
}

impl Sample for Against {
    fn sample(n: usize) -> Against {
        let (past, drawn) = (Sample::sample(n), Sample::sample(n));
        let all = [
            Against::Past(past),
            Against::Shorter(drawn),
            Against::Way { position: TYPED.to_string(), part: Sample::sample(n) },
            Against::Weight(Sample::sample(n)),
            Against::Avoided { is_cannot: n / 5 % 2 == 1, words: TYPED.to_string() },
        ];
        one_of(&all, n)
    }
}

impl Sample for Offer {
    fn sample(n: usize) -> Offer {
        one_of(&[Offer::Instead(Sample::sample(n)), Offer::HeldBack(TYPED.to_string()), Offer::None], n)
    }
}

impl Sample for Lead {
    fn sample(n: usize) -> Lead {
        one_of(&[Lead::Pose(TYPED.to_string()), Lead::Typed(TYPED.to_string()), Lead::Unsaid], n)
    }
}
