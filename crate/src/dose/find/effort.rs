//! Effort, reserve and pain.

use super::*;

pub(super) fn effort(c: Cursor<'_>) -> Option<Hit> {
    rated(c).or_else(|| percent(c)).or_else(|| reserve(c)).or_else(|| pain(c))
}

/// The scale after a number: `of 10`, `/10`, `out of 10`.
pub(super) fn scale(c: &mut Cursor<'_>) -> Option<u32> {
    let mut more = *c;
    more.word(&["out"]);
    if !more.sign('/') {
        more.word(&["of"])?;
    }
    let n = more.whole()?;
    *c = more;
    Some(n)
}

pub(super) fn of_ten(low: u64, high: u64) -> Option<Effort> {
    if !low.is_multiple_of(50) || !high.is_multiple_of(50) || high < low || 1000 < high {
        return None;
    }
    Some(Effort::OfTen {
        low_halves: u8::try_from(low / 50).ok()?,
        high_halves: u8::try_from(high / 50).ok()?,
    })
}

pub(super) fn rated(mut c: Cursor<'_>) -> Option<Hit> {
    let before = c.word(&["effort", "rpe", "borg", "exertion"]);
    if before.is_some() {
        c.sign(':');
        c.sign('@');
        c.word(&["of", "at", "about"]);
    }
    let of_cr_ten = before.is_some() && ratio_scale(&mut c);
    let (low, high) = c.range()?;
    let scale = scale(&mut c).or(of_cr_ten.then_some(10));
    if before.is_none() {
        scale?;
        c.word(&["effort", "rpe", "exertion"])?;
    }
    match scale {
        Some(10) => hit(c, Item::Effort(of_ten(low, high)?)),
        Some(20) => {
            let good = low <= high && 600 <= low && high <= 2000 && low % 100 == 0 && high % 100 == 0;
            let part = |n: u64| u8::try_from(n / 100).ok();
            good.then_some(())?;
            hit(c, Item::Effort(Effort::OfTwenty { low: part(low)?, high: part(high)? }))
        }
        Some(_) => None,
        None if c.sign('%') => {
            let part = |n: u64| u8::try_from(n / 100).ok().filter(|p| (1..=100).contains(p));
            hit(
                c,
                Item::Effort(Effort::Percent {
                    low: part(low)?,
                    high: part(high).filter(|h| low / 100 <= u64::from(*h))?,
                }),
            )
        }
        // Below 6 only one scale has the number; above 10 only the other.
        None if high < 600 => hit(c, Item::Effort(of_ten(low, high)?)),
        None if 1000 < low && low <= high && high <= 2000 && low % 100 == 0 && high % 100 == 0 => {
            let part = |n: u64| u8::try_from(n / 100).ok();
            hit(c, Item::Effort(Effort::OfTwenty { low: part(low)?, high: part(high)? }))
        }
        None if low <= high && high <= 2000 => ask(c, Doubt::WhichScale { low, high }),
        None => None,
    }
}

/// The name of the 0 to 10 scale before its number: `CR10`, `CR-10`.
fn ratio_scale(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let named = m.word(&["cr"]).is_some();
    m.sign('-');
    let hit = named && m.whole() == Some(10);
    if hit {
        m.sign(':');
        *c = m;
    }
    hit
}

pub(super) fn percent(mut c: Cursor<'_>) -> Option<Hit> {
    let (low, high) = c.range()?;
    if !c.sign('%') {
        c.word(&["percent", "pct"])?;
    }
    let (low, high) = (u8::try_from(low / 100).ok()?, u8::try_from(high / 100).ok()?);
    if low < 1 || high < low || 150 < high {
        return None;
    }
    let mut more = c;
    more.word(&["of"]);
    let mut rm = more;
    let one = rm.whole() == Some(1);
    rm.sign('-');
    if one && rm.word(&["rm"]).is_some() {
        return hit(rm, Item::Load(Load::OfMaximum { low, high }));
    }
    more.word(&["max", "maximum", "maximal"]);
    let said = more.word(&["effort", "mvc", "mvic", "intensity", "contraction", "squeeze"]).is_some();
    if said && high <= 100 {
        return hit(more, Item::Effort(Effort::Percent { low, high }));
    }
    ask(c, Doubt::PercentOfWhat { low, high })
}

pub(super) fn reserve(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["leave", "leaving"]);
    let before = c.word(&["rir"]).is_some();
    let (low, high) = c.range()?;
    if !before {
        let mut more = c;
        if more.word(&["rir"]).is_some() {
            c = more;
        } else {
            c.word(&["reps", "rep"]);
            let left = c.words(&["in", "reserve"])
                || c.words(&["left", "in", "the", "tank"])
                || c.words(&["in", "the", "tank"]);
            left.then_some(())?;
        }
    }
    if low % 100 != 0 || high % 100 != 0 || high < low || 2000 < high {
        return None;
    }
    hit(c, Item::Reserve(u8::try_from(low / 100).ok()?, u8::try_from(high / 100).ok()?))
}

/// Takes "at most" in any of its spellings; Some(true) where the number itself is left out (`below 4`).
pub fn at_most(c: &mut Cursor<'_>) -> Option<bool> {
    use crate::language::comparator::{Comparator, comparator};
    let mut m = *c;
    let open = match comparator(&mut m)? {
        Comparator::AtMost => false,
        Comparator::Under => true,
        Comparator::AtLeast | Comparator::From | Comparator::Over => return None,
    };
    *c = m;
    Some(open)
}

pub(super) fn pain(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["keep"]);
    c.word(&["pain", "vas", "nrs", "nprs"])?;
    c.sign(':');
    c.word(&["ok", "okay", "allowed", "acceptable", "fine"]);
    let open = match at_most(&mut c) {
        Some(open) => open,
        // `pain 0-3`
        None => {
            let mut range = c;
            if range.whole() != Some(0) || !(range.sign('-') || range.word(&["to"]).is_some()) {
                return None;
            }
            c = range;
            false
        }
    };
    let n = c.whole()?;
    if c.word(&["out"]).is_some() | c.sign('/') | c.word(&["of"]).is_some() && c.whole() != Some(10) {
        return None;
    }
    let n = if open { n.checked_sub(1)? } else { n };
    hit(c, Item::Pain(u8::try_from(n).ok().filter(|n| *n <= 10)?))
}
