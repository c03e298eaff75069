//! Units, once for every reader of doses, limits, weights and notes.

use super::token::{Cursor, Sort};

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Mass,
    Time,
    Length,
    Angle,
    Share,
    Count,
}

/// What a number with such a unit is not: a count.
pub const MEASURES: [Kind; 5] = [Kind::Mass, Kind::Time, Kind::Length, Kind::Angle, Kind::Share];

/// A unit as it is typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Gram,
    Kilogram,
    Pound,
    Stone,
    Second,
    Minute,
    Hour,
    Millimetre,
    Centimetre,
    Metre,
    Kilometre,
    Inch,
    Degree,
    Percent,
    Repetition,
    Set,
    Step,
}

impl Unit {
    pub fn kind(self) -> Kind {
        match self {
            Unit::Gram | Unit::Kilogram | Unit::Pound | Unit::Stone => Kind::Mass,
            Unit::Second | Unit::Minute | Unit::Hour => Kind::Time,
            Unit::Millimetre | Unit::Centimetre | Unit::Metre | Unit::Kilometre | Unit::Inch => Kind::Length,
            Unit::Degree => Kind::Angle,
            Unit::Percent => Kind::Share,
            Unit::Repetition | Unit::Set | Unit::Step => Kind::Count,
        }
    }
}

/// The unit that a folded word names. `in`, `foot` and `feet` are other words first, and so are none.
pub fn named(word: &str) -> Option<Unit> {
    Some(match word {
        "g" | "gram" | "grams" => Unit::Gram,
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Unit::Kilogram,
        "lb" | "lbs" | "pound" | "pounds" => Unit::Pound,
        "st" | "stone" => Unit::Stone,
        "s" | "sec" | "secs" | "second" | "seconds" => Unit::Second,
        "min" | "mins" | "minute" | "minutes" => Unit::Minute,
        "h" | "hr" | "hrs" | "hour" | "hours" => Unit::Hour,
        "mm" => Unit::Millimetre,
        "cm" | "cms" => Unit::Centimetre,
        "m" | "metre" | "metres" | "meter" | "meters" => Unit::Metre,
        "km" | "kms" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => Unit::Kilometre,
        "inch" | "inches" => Unit::Inch,
        "deg" | "degs" | "degree" | "degrees" => Unit::Degree,
        "percent" | "pc" | "pct" => Unit::Percent,
        "rep" | "reps" | "times" | "repetition" | "repetitions" => Unit::Repetition,
        "set" | "sets" => Unit::Set,
        "step" | "steps" => Unit::Step,
        _ => return None,
    })
}

/// The unit at the cursor, as a word or as `%` or `°`.
pub fn unit(c: &mut Cursor<'_>) -> Option<Unit> {
    let found = match c.peek()?.sort {
        Sort::Word(word) => named(word)?,
        Sort::Sign('%') => Unit::Percent,
        Sort::Sign('°') => Unit::Degree,
        Sort::Sign(_) | Sort::Number(_) => return None,
    };
    c.at += 1;
    Some(found)
}

/// A unit of these kinds at the cursor.
pub fn of(c: &mut Cursor<'_>, kinds: &[Kind]) -> Option<Unit> {
    let mut m = *c;
    let found = unit(&mut m).filter(|unit| kinds.contains(&unit.kind()))?;
    *c = m;
    Some(found)
}

/// `week`, `wk` and their plurals.
pub fn weeks(c: &mut Cursor<'_>) -> bool {
    c.word(&["week", "weeks", "wk", "wks"]).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::token::tokens;
    use crate::text::fold::fold;

    fn read(text: &str) -> Option<Unit> {
        let folded = fold(text);
        let all = tokens(&folded);
        unit(&mut Cursor { all: &all, at: 0 })
    }

    #[test]
    fn a_unit_is_known_however_it_is_spelt() {
        for (text, meant) in [
            ("lbs each hand", Unit::Pound),
            ("Kilos", Unit::Kilogram),
            ("%", Unit::Percent),
            ("° of flexion", Unit::Degree),
            ("Mins", Unit::Minute),
        ] {
            assert_eq!(read(text), Some(meant), "{text}");
        }
        assert_eq!([read("in"), read("foot"), read("10")], [None; 3]);
    }

    #[test]
    fn only_the_kinds_asked_for_are_taken() {
        let folded = fold("kg");
        let all = tokens(&folded);
        let mut c = Cursor { all: &all, at: 0 };
        assert_eq!(of(&mut c, &[Kind::Length, Kind::Share]), None);
        assert_eq!(c.at, 0);
        assert_eq!(of(&mut c, &[Kind::Mass]), Some(Unit::Kilogram));
        assert!(c.is_done());
    }
}
