//! What a detail could have been for, had it been read.

use crate::language::anatomy;
use crate::language::comparator;
use crate::language::restraint;
use crate::language::token::{Cursor, Token};
use crate::language::typed::Typed;
use crate::language::unit;
use crate::notice::Notice;
use crate::notice::kinds::prescription::Held;
use crate::prescription::say;
use crate::text::Place;

/// What is told of a detail: that it prints, and each word of it that a check could have been for.
pub fn notices(detail: &Typed<'_>) -> Vec<Notice> {
    let Typed { text, place, ref all } = *detail;
    let mut out = vec![say::own_words(place)];
    let mut at = 0;
    while let Some(token) = all.get(at) {
        let Some((what, next)) = held(all, at) else {
            at += 1;
            continue;
        };
        let end = next.checked_sub(1).and_then(|i| all.get(i)).map_or(token.end, |t| t.end);
        let typed = text.get(token.start..end).unwrap_or("");
        let place = Place { line: place.line, start: place.start + token.start, end: place.start + end };
        out.push(say::own_words_hold(place, typed, what));
        at = next.max(at + 1);
    }
    out
}

/// What stands at a token that could be about more than how it looks, and where it ends.
pub(super) fn held(all: &[Token<'_>], at: usize) -> Option<(Held, usize)> {
    let begun = Cursor { all, at };
    let mut c = begun;
    if restraint::denial(&mut c) || restraint::denial_behind(&mut c) {
        return Some((Held::Denial, c.at));
    }
    c = begun;
    if comparator::comparator(&mut c).is_some() || comparator::behind(&mut c).is_some() {
        return Some((Held::Bound, c.at));
    }
    c = begun;
    if c.span().is_some() {
        return Some((Held::Time, c.at));
    }
    c = begun;
    if c.hundredths().is_some() {
        unit::of(&mut c, &unit::MEASURES);
        return Some((Held::Number, c.at));
    }
    if anatomy::side(&mut c).is_some() || anatomy::both_sides(&mut c) {
        return Some((Held::Side, c.at));
    }
    c = begun;
    if anatomy::motion(&mut c).is_some() {
        return Some((Held::Motion, c.at));
    }
    c = begun;
    anatomy::joint(&mut c).is_some().then_some((Held::Joint, c.at))
}
