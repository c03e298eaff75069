//! Where in a line its dose begins.

use crate::dose::find::sides::one_side;
use crate::dose::find::{Item, at, is_filler};
use crate::dose::parts::{Days, Load, Often};
use crate::dose::{End, Work};
use crate::language::token::{Cursor, PROPS, Sort, Token};
use crate::language::typed::Typed;

/// The end of the piece (up to the next comma outside brackets) that starts at token `i`.
pub(super) fn piece_end(all: &[Token<'_>], i: usize) -> usize {
    let mut depth = 0usize;
    for (at, t) in all.iter().enumerate().skip(i) {
        match t.sort {
            Sort::Sign('(') => depth += 1,
            Sort::Sign(')') => depth = depth.saturating_sub(1),
            Sort::Sign(',' | ';') if depth == 0 => return at,
            Sort::Number(_) | Sort::Word(_) | Sort::Sign(_) => {}
        }
    }
    all.len()
}

/// Whether an item by itself shows that a dose has begun.
pub(super) fn is_strong(item: &Item) -> bool {
    match item {
        Item::Work(_)
        | Item::Hold(_)
        | Item::Rest(_)
        | Item::Tempo(_)
        | Item::Effort(_)
        | Item::Reserve(..)
        | Item::Pain(_)
        | Item::PerDay(_)
        | Item::AllDay(_)
        | Item::DayCap(_)
        | Item::Ramp(_)
        | Item::Load(Load::Mass { .. } | Load::OfMaximum { .. })
        | Item::Days(Days::Daily | Days::PerWeek(_) | Days::Every(_))
        | Item::DaysOff(_)
        | Item::From(_)
        | Item::Ask => true,
        Item::Load(Load::Band(_))
        | Item::Days(Days::On(_))
        | Item::Sided(_)
        | Item::Tally(_)
        | Item::Ending(_)
        | Item::Cap(_)
        | Item::Moment(_)
        | Item::Until(_)
        | Item::Nothing => false,
    }
}

/// The byte where the dose begins in a line without a colon; never at the line's start.
pub fn strong(typed: &Typed<'_>) -> Option<usize> {
    let Typed { text, ref all, .. } = *typed;
    let mut over = 0;
    for (i, token) in all.iter().enumerate().skip(1) {
        // Within a time of day no dose begins.
        if i < over {
            continue;
        }
        let before = all.get(i - 1);
        let comma = matches!(before.map(|t| t.sort), Some(Sort::Sign(',' | ';')));
        let opened = token.sort == Sort::Sign('(');
        if !(token.spaced || comma) {
            continue;
        }
        let inside = if opened { i + 1 } else { i };
        let c = Cursor { all: all.get(..piece_end(all, inside)).unwrap_or(&[]), at: inside };
        let c = if opened { Cursor { all: until_close(c.all, inside), ..c } } else { c };
        let Some(hit) = at(c, text) else { continue };
        if crate::dose::find::moments::clock(c, text).is_some() {
            over = hit.next;
        }
        let prn = hit.items.iter().any(|i| matches!(i, Item::AllDay(Often::AsNeeded { .. })));
        // `add a lamp-post a week`: a rate without a number begins no dose.
        let article = matches!(token.sort, Sort::Word("a" | "per"));
        // `step up 6" 3x10`: a height, where the work comes later.
        let height = matches!(all.get(i + 1).map(|t| t.sort), Some(Sort::Sign('"' | '\'')))
            && !matches!(
                all.get(i + 2).map(|t| t.sort),
                Some(Sort::Word("hold" | "holds" | "held" | "rest"))
            )
            && named_height(all, i, hit.next)
            && later_work(all, hit.next, text);
        if article || height {
            continue;
        }
        // `flexion to 90 x 10`: how far, not how many.
        let far = matches!(before.map(|t| t.sort), Some(Sort::Word("to" | "past" | "beyond")))
            && !matches!(
                i.checked_sub(2).and_then(|i| all.get(i)).map(|t| t.sort),
                Some(Sort::Word("up") | Sort::Number(_))
            )
            && matches!(token.sort, Sort::Number(_))
            && matches!(all.get(i + 1).map(|t| t.sort), Some(Sort::Word("x") | Sort::Sign('°' | '×' | '*')))
            && all.get(i + 1).is_some_and(|t| t.spaced || t.sort == Sort::Sign('°'));
        if far {
            continue;
        }
        let latin = matches!(token.sort, Sort::Word("mane" | "nocte" | "noct"));
        let lasting = matches!(token.sort, Sort::Word("for" | "until" | "till" | "x"))
            && hit.items.iter().any(|i| matches!(i, Item::Until(e) if !matches!(e, End::Words(_))));
        let starts = (latin || lasting || hit.items.iter().any(is_strong))
            && !(prn && !comma && i == 1 && token.sort != Sort::Word("prn"));
        let after_comma = comma
            && hit.items.iter().any(|i| {
                matches!(
                    i,
                    Item::Days(_)
                        | Item::Moment(_)
                        | Item::Until(_)
                        | Item::Ending(_)
                        | Item::Load(_)
                        | Item::Cap(_)
                )
            });
        if !starts && !after_comma {
            continue;
        }
        // `bridge not daily`: what denies a dose is no part of the name.
        let mut from = i;
        let mut denied = Cursor { all, at: i - 1 };
        if 1 < i && crate::language::restraint::denial(&mut denied) && denied.at == i {
            from = i - 1;
        }
        // Joining words before the dose belong to neither.
        while 1 < from && is_filler(Cursor { all, at: from - 1 }) {
            from -= 1;
        }
        return all.get(from).map(|t| t.start);
    }
    None
}

/// Whether a thing that has a height or a distance is named before or behind.
fn named_height(all: &[Token<'_>], at: usize, next: usize) -> bool {
    let prop = |t: &Token<'_>| matches!(t.sort, Sort::Word(w) if PROPS.contains(&w));
    all.get(..at).unwrap_or(&[]).iter().any(|t| prop(t) || matches!(t.sort, Sort::Word("ups" | "downs")))
        || Cursor { all, at: next }.prop()
}

/// Whether work stands at `from` or behind it.
fn later_work(all: &[Token<'_>], from: usize, text: &str) -> bool {
    (from..all.len().min(from + 12)).any(|at_token| {
        at(Cursor { all, at: at_token }, text)
            .is_some_and(|hit| hit.items.iter().any(|i| matches!(i, Item::Work(_))))
    })
}

fn until_close<'t, 'a>(all: &'t [Token<'a>], from: usize) -> &'t [Token<'a>] {
    let close = all.iter().enumerate().skip(from).find(|(_, t)| t.sort == Sort::Sign(')')).map(|(i, _)| i);
    all.get(..close.unwrap_or(all.len())).unwrap_or(&[])
}

/// A dose before the name (`3 x 10 bridge`): where the name begins, and where that dose ends.
pub(super) fn leading(typed: &Typed<'_>) -> Option<(usize, usize)> {
    let Typed { text, ref all, .. } = *typed;
    let spanned = |c: Cursor<'_>| {
        at(c, text).is_some_and(|hit| {
            hit.items.iter().any(|i| matches!(i, Item::From(_)))
                && hit.items.iter().all(|i| matches!(i, Item::From(_) | Item::Until(_)))
        })
    };
    let begun = Cursor { all: all.get(..piece_end(all, 0))?, at: 0 };
    // `hold 5 sec x 10 pelvic tilt`
    let held = |c: Cursor<'_>| {
        c.peek_word() == Some("hold")
            && at(c, text).is_some_and(|hit| {
                let next = at(Cursor { at: hit.next, ..c }, text).map(|next| next.items);
                let works = |i: &Item| matches!(i, Item::Work(_));
                hit.items.iter().chain(next.iter().flatten()).any(works)
            })
    };
    if !matches!(all.first()?.sort, Sort::Number(_) | Sort::Word("x")) && !spanned(begun) && !held(begun) {
        return None;
    }
    let mut c = Cursor { all: all.get(..piece_end(all, 0))?, at: 0 };
    let plain = c;
    let next = match lead(c, text) {
        Some((good, next)) => good.then_some(next)?,
        // `10 x bridge`
        None => {
            c.counts()?;
            if !c.times() || c.peek_word().is_none() {
                return None;
            }
            c = Cursor { at: c.at - 1, ..c };
            c.at
        }
    };
    let mut name = Cursor { at: next, ..plain };
    let lead_end = all.get(next.checked_sub(1)?)?.end;
    if c.at == next && c.at != 0 {
        name.times();
    }
    // `keep the hips level` begins with a word of its own.
    let joins =
        |c: Cursor<'_>| is_filler(c) && !matches!(c.peek_word(), Some("keep" | "do" | "repeat" | "at"));
    while joins(name) || name.sign(',') {
        name.at += usize::from(joins(name));
    }
    // `3 x 20 s R side plank`: the side may lead the name.
    let named =
        |c: Cursor<'_>| matches!(c.peek().map(|t| t.sort), Some(Sort::Word(_))) && at(c, text).is_none();
    let whole = Cursor { all, ..name };
    if !name.is_done() && (named(whole) || behind_side(whole).is_some_and(named)) {
        return Some((name.peek()?.start, lead_end));
    }
    // Behind a comma stands a name only where it is known: `3 x 10, slowly` has none.
    let known = |c: Cursor<'_>| {
        let end = piece_end(all, c.at);
        let words = c.peek().zip(all.get(end.wrapping_sub(1))).and_then(|(a, b)| text.get(a.start..b.end));
        words.is_some_and(|words| crate::catalog::Catalog::embedded().is_named(words))
    };
    let mut comma = piece_end(all, 0);
    while let (Some(before), Some(token)) = (all.get(comma.checked_sub(1)?), all.get(comma + 1)) {
        let piece = Cursor { all, at: comma + 1 };
        if known(piece) || behind_side(piece).is_some_and(known) {
            return Some((token.start, before.end));
        }
        comma = piece_end(all, comma + 1);
    }
    None
}

/// Parts of a dose one behind the other (`2 kg each hand B/L 3 x 10`): whether a name may stand behind them, and where
/// they end. A side that no part stands behind may be the name's.
fn lead(begun: Cursor<'_>, text: &str) -> Option<(bool, usize)> {
    let (mut good, mut end, mut c) = (false, None, begun);
    while let Some(hit) = at(c, text) {
        good |= hit.items.iter().any(|i| match i {
            Item::Work(p) => match &p.work {
                // `30 s chair stand` is a name; `5 min walk` is a dose and a name.
                Work::Time(span) => 60 <= span.low() || end.is_some(),
                Work::Repetitions { .. }
                | Work::Bouts { .. }
                | Work::Intervals { .. }
                | Work::Amount { .. } => true,
            },
            Item::From(_) | Item::Load(Load::Mass { .. }) | Item::Hold(_) => true,
            _ => false,
        });
        c.at = hit.next;
        if end.is_none() || !hit.items.iter().all(|i| matches!(i, Item::Sided(_))) {
            end = Some(hit.next);
        }
        if hit.doubt.is_some() {
            break;
        }
        let mut over = c;
        while is_filler(over) && at(over, text).is_none() {
            over.at += 1;
        }
        if at(over, text).is_some() {
            c = over;
        }
    }
    Some((good, end?))
}

/// Whether a text is parts of a dose that stand before a name, and nothing else.
pub(super) fn is_lead(typed: &Typed<'_>) -> bool {
    let Typed { text, ref all, .. } = *typed;
    let end = all.iter().rposition(|t| !matches!(t.sort, Sort::Sign(',' | ';' | '-'))).map_or(0, |i| i + 1);
    let c = Cursor { all: all.get(..end).unwrap_or(&[]), at: 0 };
    lead(c, text).is_some_and(|(good, next)| good && next == end)
}

/// Behind a side, in brackets or not.
fn behind_side<'t>(mut c: Cursor<'t>) -> Option<Cursor<'t>> {
    let bracket = c.sign('(');
    (one_side(&mut c).is_some() && (!bracket || c.sign(')'))).then_some(c)
}
