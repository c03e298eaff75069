//! How a number bounds something: one table of words and signs for limits, doses and conditions alike.

use super::token::{Cursor, Sort, Starts, begins_with};

/// What words or a sign say of the number behind them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Comparator {
    /// `at most`, `<=`, `max`, `up to`, `no more than`, `not past`.
    AtMost,
    /// `<`, `under`, `below`: as far as the number, or less.
    Under,
    /// `at least`, `min`, `no less than`.
    AtLeast,
    /// `>=`, `from`: the number, or more.
    From,
    /// `>`, `past`, `beyond`, `over`, `more than`. What is more than the number is spoken of, not yet allowed or forbidden.
    Over,
}

/// What is to be made of a number, its comparator and a denial before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bounds {
    /// It may not be more.
    Most,
    /// It may not be less.
    Least,
    /// Both readings are met in the trade, or neither: to be asked.
    Unsure,
}

const PHRASES: &[(&str, Comparator)] = {
    use Comparator::*;
    &[
        ("at most", AtMost),
        ("at the most", AtMost),
        ("no more than", AtMost),
        ("not more than", AtMost),
        ("nothing more than", AtMost),
        ("no greater than", AtMost),
        ("not greater than", AtMost),
        ("no higher than", AtMost),
        ("not higher than", AtMost),
        ("no worse than", AtMost),
        ("no further than", AtMost),
        ("not further than", AtMost),
        ("no farther than", AtMost),
        ("not above", AtMost),
        ("not over", AtMost),
        ("not past", AtMost),
        ("not beyond", AtMost),
        ("not exceeding", AtMost),
        ("not exceed", AtMost),
        ("not to exceed", AtMost),
        ("not to go past", AtMost),
        ("not to go beyond", AtMost),
        ("maximum of", AtMost),
        ("max of", AtMost),
        ("maximum", AtMost),
        ("maximal", AtMost),
        ("max", AtMost),
        ("up to", AtMost),
        ("upto", AtMost),
        ("limited to", AtMost),
        ("limit to", AtMost),
        ("restricted to", AtMost),
        ("restrict to", AtMost),
        ("only to", AtMost),
        ("as far as", AtMost),
        ("within", AtMost),
        ("less than", Under),
        ("lower than", Under),
        ("below", Under),
        ("under", Under),
        ("at least", AtLeast),
        ("no less than", AtLeast),
        ("not less than", AtLeast),
        ("not below", AtLeast),
        ("not under", AtLeast),
        ("minimum of", AtLeast),
        ("minimum", AtLeast),
        ("min", AtLeast),
        ("more than", Over),
        ("greater than", Over),
        ("further than", Over),
        ("farther than", Over),
        ("higher than", Over),
        ("in excess of", Over),
        ("exceeding", Over),
        ("exceeds", Over),
        ("exceed", Over),
        ("past", Over),
        ("beyond", Over),
        ("over", Over),
        ("above", Over),
    ]
};

/// A comparator before a number at the cursor; the longest that stands there.
pub fn comparator(c: &mut Cursor<'_>) -> Option<Comparator> {
    const SIGNS: [(&str, Comparator); 6] = [
        ("<=", Comparator::AtMost),
        ("=<", Comparator::AtMost),
        (">=", Comparator::From),
        ("=>", Comparator::From),
        ("<", Comparator::Under),
        (">", Comparator::Over),
    ];
    match c.peek()?.sort {
        Sort::Word(_) | Sort::Sign('<' | '>' | '=') => {}
        Sort::Sign(_) | Sort::Number(_) => return None,
    }
    for (sign, meant) in SIGNS {
        if c.signs(sign) {
            return Some(meant);
        }
    }
    let mut best: Option<(usize, Comparator)> = None;
    const STARTS: Starts = Starts::of(PHRASES);
    let first = c.peek_word().filter(|word| STARTS.may_be(word))?;
    for (phrase, meant) in PHRASES.iter().filter(|(phrase, _)| begins_with(phrase, first)) {
        let mut m = *c;
        if phrase.split(' ').all(|word| m.word(&[word]).is_some()) && best.is_none_or(|(end, _)| end < m.at) {
            m.sign('.');
            best = Some((m.at, *meant));
        }
    }
    let (end, meant) = best?;
    c.at = end;
    Some(meant)
}

/// A comparator behind a number: `90 or less`, `90 max`, `90 or more`.
pub fn behind(c: &mut Cursor<'_>) -> Option<Comparator> {
    const AFTER: [(&[&str], Comparator); 10] = [
        (&["or", "less"], Comparator::AtMost),
        (&["or", "under"], Comparator::AtMost),
        (&["or", "below"], Comparator::AtMost),
        (&["at", "most"], Comparator::AtMost),
        (&["maximum"], Comparator::AtMost),
        (&["max"], Comparator::AtMost),
        (&["or", "more"], Comparator::From),
        (&["or", "over"], Comparator::From),
        (&["minimum"], Comparator::AtLeast),
        (&["min"], Comparator::AtLeast),
    ];
    AFTER.into_iter().find(|(words, _)| c.words(words)).map(|(_, meant)| meant)
}

impl Comparator {
    /// What it makes of its number, `denied` by a "no" or "avoid" before it. `no flexion > 90` means that flexion stays
    /// at most 90; `> 90` alone, as a limit, may be a slip for `<`.
    ///
    /// ```
    /// use layfigure::language::comparator::{Bounds, Comparator};
    /// assert_eq!(Comparator::Over.bounds(true), Bounds::Most);
    /// assert_eq!(Comparator::Over.bounds(false), Bounds::Unsure);
    /// assert_eq!(Comparator::Under.bounds(false), Bounds::Most);
    /// assert_eq!(Comparator::Under.bounds(true), Bounds::Least);
    /// ```
    pub fn bounds(self, denied: bool) -> Bounds {
        match (self, denied) {
            (Comparator::AtMost | Comparator::Under, false) => Bounds::Most,
            (Comparator::AtLeast | Comparator::From, false) => Bounds::Least,
            (Comparator::Over | Comparator::From, true) => Bounds::Most,
            (Comparator::Under, true) => Bounds::Least,
            (Comparator::Over, false) | (Comparator::AtMost | Comparator::AtLeast, true) => Bounds::Unsure,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::token::tokens;
    use crate::text::fold::fold;

    #[test]
    fn every_spelling_is_read_whole() {
        use Comparator::*;
        for (text, meant) in [
            ("<=", AtMost),
            ("≤", AtMost),
            ("<", Under),
            (">", Over),
            ("≥", From),
            ("max.", AtMost),
            ("no more than", AtMost),
            ("more than", Over),
            ("not past", AtMost),
            ("past", Over),
            ("not below", AtLeast),
            ("up to", AtMost),
        ] {
            let folded = fold(text);
            let all = tokens(&folded);
            let mut c = Cursor { all: &all, at: 0 };
            assert_eq!(comparator(&mut c), Some(meant), "{text}");
            assert!(c.is_done(), "{text}");
        }
    }
}
