//! Words of side, and how sides are counted.

use super::*;
use crate::body::names::Side;

pub const LIMBS: [&str; 16] = [
    "side",
    "sides",
    "leg",
    "legs",
    "arm",
    "arms",
    "foot",
    "feet",
    "hand",
    "hands",
    "way",
    "ways",
    "direction",
    "directions",
    "limb",
    "limbs",
];

/// Words of side at the cursor. `L3`, `L4/5`, `R2` are not sides: nothing may stick to a single letter.
pub fn sided(c: Cursor<'_>) -> Option<Hit> {
    if let Some(found) = trade::more_on_one(c) {
        return Some(found);
    }
    let (side, next) = side_words(c)?;
    hit(next, side)
}

pub(super) fn side_words(mut c: Cursor<'_>) -> Option<(Item, Cursor<'_>)> {
    if let Some((item, next)) = trade::each_side(c) {
        return Some((item, next));
    }
    let mut bracket = c;
    if bracket.sign('(') {
        if let Some((item, mut after)) = side_words(bracket)
            && after.sign(')')
        {
            return Some((item, after));
        }
        return None;
    }
    if c.words(&["in", "all"]) || c.words(&["in", "total"]) || c.word(&["total", "altogether"]).is_some() {
        return Some((Item::Tally(Tally::InAll), c));
    }
    // E/S, B/L
    for (first, second) in [("e", "s"), ("b", "l")] {
        let mut more = c;
        if more.word(&[first]).is_some() && more.sign('/') && more.word(&[second]).is_some() && is_free(more)
        {
            return Some((Item::Sided(Sided::EachSide), more));
        }
    }
    let mut slash = c;
    // `opp arm/leg` names two limbs.
    let before = c.at.checked_sub(1).and_then(|at| c.all.get(at)).map(|t| t.sort);
    let limbs = matches!(before, Some(Sort::Word(w)) if LIMBS.contains(&w));
    if !limbs && slash.sign('/') && slash.word(&["side", "leg", "arm", "foot", "hand"]).is_some() {
        return Some((Item::Sided(Sided::EachSide), slash));
    }
    let mut each = c;
    if each.word(&["each", "per", "ea", "every", "either"]).is_some() && each.word(&LIMBS).is_some() {
        return Some((Item::Sided(Sided::EachSide), each));
    }
    if c.word(&["bilat", "bilateral", "bilaterally"]).is_some() {
        // The exercise says whether that is together or one after the other.
        c.sign('.');
        return Some((Item::Sided(Sided::Both), c));
    }
    if c.word(&["together"]).is_some() {
        return Some((Item::Sided(Sided::Together), c));
    }
    if c.word(&["alternating", "alternately", "alt", "alternate"]).is_some() {
        if c.word(&["days", "day"]).is_some() {
            return None;
        }
        c.sign('.');
        c.word(&LIMBS);
        return Some((Item::Sided(Sided::Alternating), c));
    }
    if c.word(&["both"]).is_some() {
        let mut more = c;
        more.word(&LIMBS);
        let mut joined = more;
        if joined.word(&["together"]).is_some() {
            return Some((Item::Sided(Sided::Together), joined));
        }
        return Some((Item::Sided(Sided::Both), more));
    }
    let first = one_side(&mut c)?;
    let mut more = c;
    let joined = more.sign('+')
        || more.sign('&')
        || more.sign('/')
        || more.sign('=')
        || more.word(&["and", "then"]).is_some();
    if joined
        && let Some(second) = one_side(&mut more)
        && first != second
    {
        return Some((Item::Sided(Sided::EachSide), more));
    }
    // Of several (`L feet turned out`) one has no side.
    let many =
        c.peek_word().is_some_and(|w| matches!(w, "feet" | "legs" | "arms" | "hands" | "limbs" | "sides"));
    if !many {
        c.word(&LIMBS);
    }
    // `step ups R lead`
    c.word(&["lead", "leading"]);
    // `step ups 3 x 10, R only`
    c.only();
    Some((Item::Sided(first), c))
}

/// One side: `R`, `Rt`, `right`, `L`, `Lt`, `left`. A single letter must stand free.
pub fn one_side(c: &mut Cursor<'_>) -> Option<Sided> {
    Some(match crate::language::anatomy::side(c)? {
        Side::Right => Sided::Right,
        Side::Left => Sided::Left,
    })
}

pub(super) fn is_free(c: Cursor<'_>) -> bool {
    c.peek().is_none_or(|t| t.spaced || matches!(t.sort, Sort::Sign(',' | ';' | ')' | '.' | ':')))
}
