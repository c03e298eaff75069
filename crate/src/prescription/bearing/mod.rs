//! Reads how much weight a limb may take: `right, PWB 20 kg in brace until week 6`, `left wrist NWB`,
//! `NWB R 2/52 then PWB`.

mod amount;
pub mod beside;
mod stages;
mod weeks;

use super::keys::Value;
use super::limit::{Bearing, Weight};
use crate::body::names::Side;
use crate::dose::End;
use crate::dose::find::Item;
use crate::dose::find::moments::ends;
use crate::language::anatomy::{self, Limb};
use crate::language::token::{Cursor, Sort, tokens};
use crate::text::fold::{fold, folded};
pub use amount::NAMES;
use amount::weight;
pub use stages::{all, groups, written_all};
use weeks::Weeks;

/// Whether a line holds an abbreviation of weight-bearing.
pub fn is_named(text: &str) -> bool {
    let folded = fold(text);
    tokens(&folded).iter().any(|t| matches!(t.sort, Sort::Word(word) if NAMES.contains(&word)))
}

/// Reads a value. None where amount, side, limb or end are not clear.
pub fn read(value: &Value<'_>) -> Option<Bearing> {
    let (bearing, weeks) = staged(value)?;
    // What begins later and what never ends need what stands before.
    weeks.is_none_or(|w| w.from <= 1 && w.to.is_some()).then_some(bearing)
}

/// The same with the weeks it holds in, where they are typed: `wk 6-8 PWB 50%`.
fn staged(value: &Value<'_>) -> Option<(Bearing, Option<Weeks>)> {
    let line = fold(value.text);
    let all = tokens(&line);
    let mut c = Cursor { all: &all, at: 0 };
    let mut side: Option<Side> = None;
    let mut limb: Option<Limb> = None;
    let mut both = false;
    let mut amount: Option<Weight> = None;
    let mut end: Option<End> = None;
    let mut weeks: Option<Weeks> = None;
    // Tokens, from one to another.
    let mut words: Vec<(usize, usize)> = Vec::new();
    let mut flat = false;
    let mut gap = true;
    while let Some(token) = c.peek() {
        if let Some((found, next)) = Weeks::at(c) {
            if weeks.is_some() || end.is_some() {
                return None;
            }
            end = found.end();
            weeks = Some(found);
            c = next;
            gap = true;
            continue;
        }
        if let Some(hit) = ends(c, value.text) {
            // `FWB at 6/52` says from when.
            if c.at.checked_sub(1).is_some_and(|at| super::plain::is_moment(Cursor { all: &all, at })) {
                return None;
            }
            // `FWB, brace locked for walking x 2/52`: how long it is worn.
            let clause = words.last().filter(|_| !gap && amount.is_some());
            if clause.is_some_and(|(a, b)| beside::says_worn(&beside::shown(value.text, &all, *a, *b))) {
                c.at = hit.next;
                if let Some(last) = words.last_mut() {
                    last.1 = c.at;
                }
                continue;
            }
            let (Some(Item::Until(found)), None) = (hit.items.first(), &end) else { return None };
            end = Some(found.clone());
            c.at = hit.next;
            gap = true;
            continue;
        }
        // `20 lb, foot flat on the floor`
        if c.words(&["foot", "flat", "on", "the", "floor"]) {
            flat = true;
            gap = true;
            continue;
        }
        if amount.is_none() {
            if let Some(found) = weight(&mut c) {
                amount = Some(found);
                gap = true;
                continue;
            }
        } else if let Some(found) = weight(&mut c.clone()) {
            // `PWB L 25 kg`: how much of it. Of two other amounts which holds is not guessed.
            let exact = matches!(found, Weight::Amount { .. });
            let before = |n: usize| c.at.checked_sub(n).and_then(|i| all.get(i)).map(|t| t.sort);
            // Part of a longer row of numbers.
            let row = before(1) == Some(Sort::Sign('-')) && matches!(before(2), Some(Sort::Number(_)));
            if !matches!(amount, Some(Weight::Partial | Weight::FlatFoot)) || !exact || row {
                return None;
            }
            flat |= amount == Some(Weight::FlatFoot);
            weight(&mut c);
            amount = Some(found);
            gap = true;
            continue;
        }
        // `2 EC, then 1 EC in R hand`, `rail on L side`: where the aid is.
        let lead = c.at.checked_sub(1).and_then(|i| all.get(i)).map(|t| t.sort);
        let aided = words.last().filter(|_| !gap && matches!(lead, Some(Sort::Word("in" | "on"))));
        if let Some(last) = aided.copied()
            && beside::names_aid(&all, last)
            && anatomy::side(&mut c.clone()).is_some()
        {
            anatomy::side(&mut c);
            c.word(&["hand", "side", "arm"]);
            if let Some(last) = words.last_mut() {
                last.1 = c.at;
            }
            continue;
        }
        if let Some((found, of)) = anatomy::sided_limb(&mut c) {
            if side.is_some_and(|s| Some(s) != found) || limb.is_some_and(|l| l != of) {
                return None;
            }
            both |= found.is_none();
            side = found.or(side);
            limb = Some(of);
            gap = true;
            continue;
        }
        if anatomy::both_sides(&mut c) {
            both = true;
            gap = true;
            continue;
        }
        let bracket = c.sign('(');
        if let Some(found) = anatomy::side(&mut c) {
            if bracket {
                c.sign(')');
            }
            if side.is_some_and(|s| s != found) {
                return None;
            }
            side = Some(found);
            c.word(&["side"]);
            gap = true;
            continue;
        }
        if bracket {
            c.at -= 1;
        }
        // `elbow crutches` are no elbow.
        let aid = beside::makes_thing(c);
        if let Some((found, many)) = (!aid).then(|| anatomy::limb(&mut c)).flatten() {
            if limb.is_some_and(|l| l != found) {
                return None;
            }
            limb = Some(found);
            both |= many;
            gap = true;
            continue;
        }
        c.at += 1;
        if matches!(token.sort, Sort::Sign(',' | ';' | ':' | '.')) {
            gap = true;
        } else if let (false, Some(last)) = (gap, words.last_mut()) {
            last.1 = c.at;
        } else {
            words.push((c.at - 1, c.at));
            gap = false;
        }
    }
    let texts = words.iter().map(|(a, b)| beside::shown(value.text, &all, *a, *b));
    let says = |w: &String| w.contains(char::is_alphanumeric) && !beside::is_loose(w);
    let mut texts: Vec<String> = texts.filter(says).collect();
    if flat {
        texts.insert(0, "foot flat on the floor".to_string());
    }
    let words = texts.join(", ");
    const TURNS: [&str; 10] =
        ["not", "no", "never", "unless", "except", "then", "or", "progress", "increase", "if"];
    if folded(&words).split(|c: char| !c.is_alphanumeric()).any(|w| TURNS.contains(&w)) {
        return None;
    }
    if both && side.is_some() {
        return None;
    }
    let limb = limb.unwrap_or(Limb::Leg);
    let bearing = Bearing {
        side,
        both,
        limb,
        weight: amount?,
        words,
        follows: false,
        first_day: None,
        end,
        last_day: None,
        place: value.place,
    };
    Some((bearing, weeks))
}

/// `right, as tolerated, in brace, until 6 weeks after surgery`; `left wrist, non-weight-bearing`.
pub fn written(bearing: &Bearing) -> String {
    let mut pieces: Vec<String> = Vec::new();
    let head = match (bearing.side, bearing.limb) {
        (None, Limb::Leg) if bearing.both => Some("both".to_string()),
        (None, Limb::Leg) => None,
        (Some(side), Limb::Leg) => Some(side.word().to_string()),
        (Some(side), limb) => Some(format!("{} {}", side.word(), limb.word())),
        (None, limb) if bearing.both => Some(limb.words()),
        (None, limb) => Some(limb.word().to_string()),
    };
    pieces.extend(head);
    pieces.extend(what(bearing));
    pieces.join(", ")
}

/// The same without side and limb.
fn what(bearing: &Bearing) -> Vec<String> {
    let mut pieces = vec![amount::written(bearing.weight)];
    if !bearing.words.is_empty() {
        pieces.push(bearing.words.clone());
    }
    pieces.extend(bearing.end.as_ref().map(End::to_string));
    pieces
}
