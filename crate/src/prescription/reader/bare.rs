//! A reserved key without its colon.

use super::Class;
use super::classify::LONGEST_BARE;
use crate::language::token::{Cursor, Sort};
use crate::notice::Notice;
use crate::prescription::bearing;
use crate::prescription::exercise::{TypedLine, has_work};
use crate::prescription::words::line::Bare;
use crate::prescription::words::{Key, LINE_WORDS};
use crate::prescription::{Said, say};
use crate::text::{Place, near, trim};

/// At most so many words are a key: `out of hours number`.
const LONGEST_KEY: usize = 4;
/// What holds a joint or a load back: near one of these, a line with a joint and a number is no exercise.
const BOUNDS: [Key; 6] = [Key::Limit, Key::Range, Key::Weight, Key::Avoid, Key::Cannot, Key::Caution];

/// The day of the next visit in a line of its own: `review in 2/52`, `F/U 14 Dec`, `RTC 4 wks`.
fn next_visit(typed: &TypedLine<'_>) -> Option<Said> {
    let TypedLine { content, place, all, .. } = *typed;
    let mut c = Cursor { all, at: 0 };
    if !crate::prescription::noted::begins_visit(&mut c) {
        return None;
    }
    c.sign(':');
    // `review technique` is no date.
    let dated = match c.peek()?.sort {
        Sort::Number(_) => true,
        Sort::Sign(_) => false,
        Sort::Word(w) => {
            (crate::dose::find::often::weekday(w).is_some() && c.at + 1 < all.len())
                || crate::language::token::month(w).is_some()
                || matches!(w, "in" | "on" | "at" | "next" | "after" | "tomorrow")
        }
    };
    if !dated {
        return None;
    }
    // `telehealth r/v in 10 days`: no word of it is lost.
    let how = Cursor { all, at: 0 }.one_of(crate::prescription::noted::HOW);
    let from = if how { 0 } else { c.peek()?.start };
    let text = trim(content.get(from..)?).to_string();
    let place = Place { line: place.line, start: place.start + from, end: place.start + from + text.len() };
    Some(Said { text, place })
}

/// Lines without a colon that must not be swallowed as exercises: a reserved key without its colon,
/// weight-bearing by itself, and the trade's abbreviations.
pub(super) fn without_colon(typed: &TypedLine<'_>) -> Option<Class> {
    let TypedLine { content, place, .. } = *typed;
    let end = content.char_indices().nth(LONGEST_BARE).map_or(content.len(), |(at, _)| at);
    let head = typed.typed.cut(0, end);
    let all = &head.all;
    let mut c = head.start();
    // `c/o`, `o/e`, `r/v`: the trade's abbreviations have no colon.
    let letters =
        LINE_WORDS.iter().flat_map(|row| row.also.iter().map(|word| (word.split_once('/'), row.key)));
    for (letters, key) in letters {
        let Some((a, b)) = letters else { continue };
        let mut m = c;
        if m.word(&[a]).is_some()
            && m.sign('/')
            && m.word(&[b]).is_some()
            && m.peek().is_none_or(|t| t.spaced)
        {
            let from = if key == Key::Review { m.peek().map_or(content.len(), |t| t.start) } else { 0 };
            let text = trim(content.get(from..).unwrap_or("")).to_string();
            let place =
                Place { line: place.line, start: place.start + from, end: place.start + from + text.len() };
            return Some(Class::Key(key, Said { text, place }));
        }
    }
    if let Some(value) = next_visit(typed) {
        return Some(Class::Key(Key::Review, value));
    }
    let first = c.peek()?;
    let unread =
        |notice: Notice, safety: bool| Some(Class::Unread { notice: Some(notice), safety, key: None });
    let word = match first.sort {
        Sort::Word(w) => w,
        Sort::Number(_) | Sort::Sign(_) => return None,
    };
    if bearing::NAMES.contains(&word) || (bearing::is_named(content) && !content.contains(" x ")) {
        let dosed = has_work(&typed.parted().dose);
        if !dosed || word.ends_with("wb") {
            return unread(say::weight_without_key(place), true);
        }
    }
    // The longest of the first words that is a key: `out of hours` before `out`.
    let words = all.iter().enumerate().map_while(|(i, t)| match t.sort {
        Sort::Word(w) if i == 0 || t.spaced => Some(w),
        Sort::Word(_) | Sort::Number(_) | Sort::Sign(_) => None,
    });
    let words: Vec<&str> = words.take(LONGEST_KEY).collect();
    let begins = |n: usize| words.get(..n).and_then(|first| Key::of(&first.join(" ")));
    let (key, taken) =
        (1..=words.len()).rev().find_map(|n| begins(n).map(|key| (Some(key), n))).unwrap_or((None, 1));
    let word_end = all.get(taken - 1).map_or(first.end, |t| t.end);
    c.at = taken;
    let joint =
        (c.at..all.len()).any(|at| crate::language::anatomy::joint(&mut Cursor { all, at }).is_some());
    let number = all.iter().skip(c.at).any(|t| matches!(t.sort, Sort::Number(_)));
    let Some(key) = key else {
        // `limt right knee 0-60`: no key, no colon.
        let all = BOUNDS.iter().flat_map(|key| key.row().spellings()).filter(|w| !w.contains(' '));
        let near = near::within(word, all, 1);
        if 4 <= word.len() && !near.is_empty() && joint && number && !has_work(&typed.parted().dose) {
            let typed =
                Place { line: place.line, start: place.start + first.start, end: place.start + first.end };
            return unread(say::mistyped_key(typed, word, &near), true);
        }
        return None;
    };
    if c.is_done() {
        // A key alone, half typed.
        return unread(
            say::missing_colon(place, Place { end: place.start + word_end, ..place }, key.word()),
            false,
        );
    }
    // `goal - back to gardening`: a dash that stands apart is a colon.
    let dash = c.peek().filter(|t| t.spaced && matches!(t.sort, Sort::Sign('-')));
    if let (Some(dash), Some(behind)) = (dash, all.get(c.at + 1))
        && behind.spaced
        && matches!(behind.sort, Sort::Word(_))
    {
        let text = trim(content.get(dash.end..).unwrap_or("")).to_string();
        let start = place.start + behind.start;
        return Some(Class::Key(
            key,
            Said { place: Place { start, end: start + text.len(), ..place }, text },
        ));
    }
    let dosed = has_work(&typed.parted().dose);
    let next = c.peek_word();
    let many = 3 <= all.len();
    let meant = match key.row().bare {
        Bare::Always => true,
        Bare::Undosed => !dosed,
        Bare::Sentence => !dosed && many,
        Bare::Number => number && !dosed,
        Bare::Date => number && !dosed || c.date().is_some(),
        Bare::Joint => joint && !dosed,
        Bare::Bearing => {
            matches!(
                next,
                Some(
                    "right"
                        | "left"
                        | "r"
                        | "l"
                        | "rt"
                        | "lt"
                        | "both"
                        | "as"
                        | "partial"
                        | "non"
                        | "toe"
                        | "full"
                        | "touch"
                )
            ) && (!dosed || bearing::is_named(content))
        }
        Bare::Day => next.is_some_and(|w| {
            crate::dose::find::often::weekday(w).is_some()
                || matches!(w, "morning" | "evening" | "mornings" | "evenings" | "weekdays")
        }),
        Bare::Never => false,
    };
    if !meant {
        return None;
    }
    unread(
        say::missing_colon(place, Place { end: place.start + word_end, ..place }, key.word()),
        key.is_safety(),
    )
}
