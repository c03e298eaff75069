//! Plain words as they stand on the sheet: word for word, with shorthand for times, sides and limbs written out, and until
//! when they hold.

use crate::body::names::Side;
use crate::dose::End;
use crate::dose::find::Item;
use crate::dose::find::moments::{bare_stretch, ends};
use crate::dose::find::span::day_in;
use crate::language::anatomy::{self, Limb};
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, Sort, tokens};
use crate::prescription::{Said, Stated};
use crate::text::Place;
use crate::text::fold::fold;

/// Whether the word or sign at the cursor makes so many weeks behind it a moment: `at 6/52`, `from 6/52`.
pub fn is_moment(c: Cursor<'_>) -> bool {
    match c.peek().map(|t| t.sort) {
        Some(Sort::Word(w)) => matches!(
            w,
            "at" | "from"
                | "after"
                | "by"
                | "in"
                | "within"
                | "around"
                | "starting"
                | "start"
                | "starts"
                | "beginning"
        ),
        Some(Sort::Sign(s)) => s == '@',
        Some(Sort::Number(_)) | None => false,
    }
}

/// Whether the word before so many weeks says by itself that they last, or which they are: `over 2/52`, `first 10/7`. Then no
/// `for` is put before them.
fn governs(c: Cursor<'_>) -> bool {
    const WORDS: [&str; 16] = [
        "over", "first", "next", "last", "past", "final", "another", "further", "during", "every", "about",
        "approx", "or", "and", "least", "most",
    ];
    matches!(c.peek_word(), Some(word) if WORDS.contains(&word))
}

/// Whether so many weeks behind the word at the cursor are an end: `no stretching first 10/7`.
fn lasts_from_now(c: Cursor<'_>) -> bool {
    matches!(c.peek_word(), Some("first" | "next"))
}

fn is_until(word: Option<&str>) -> bool {
    matches!(word, Some("until" | "till" | "til" | "untill"))
}

/// What an abbreviation at the cursor is in full, and the token behind it.
fn written_out(mut c: Cursor<'_>) -> Option<(String, usize)> {
    let loud = |side: Side| match side {
        Side::Left => "LEFT",
        Side::Right => "RIGHT",
    };
    if let Some((side, limb)) = anatomy::sided_limb(&mut c) {
        let limb = if limb == Limb::Arm { "arm" } else { "leg" };
        let words = side.map_or(format!("both {limb}s"), |side| format!("{} {limb}", loud(side)));
        return Some((words, c.at));
    }
    let words = match c.peek_word()? {
        "nocte" => "at night",
        "mane" => "in the morning",
        "prn" => {
            const REASONS: [&str; 16] = [
                "pain",
                "pains",
                "swelling",
                "stiffness",
                "comfort",
                "ache",
                "aches",
                "aching",
                "soreness",
                "spasm",
                "spasms",
                "discomfort",
                "dizziness",
                "sleep",
                "symptoms",
                "flares",
            ];
            let mut next = c;
            next.at += 1;
            let reason = matches!(next.peek_word(), Some(word) if REASONS.contains(&word));
            if reason { "as needed for" } else { "as needed" }
        }
        word if 2 < word.len() => return None,
        _ => loud(anatomy::side(&mut c.clone())?),
    };
    Some((words.to_string(), c.at + 1))
}

/// `4-6/52`, written out: `4-6 weeks`.
fn weeks_between(c: Cursor<'_>) -> Option<(String, usize)> {
    let mut m = c;
    let low = m.whole()?;
    if !m.sign('-') || m.peek().is_none_or(|t| t.spaced) {
        return None;
    }
    let high = m.whole()?;
    if !m.sign('/') {
        return None;
    }
    let unit = match m.whole()? {
        7 => "days",
        52 => "weeks",
        12 => "months",
        _ => return None,
    };
    Some((format!("{low}-{high} {unit}"), m.at))
}

/// What is written out, by bytes, and the ends that are told.
struct Times {
    plain: Vec<(usize, usize, String)>,
    ends: Vec<End>,
}

fn times(content: &str, kind: Plain) -> Times {
    let folded = fold(content);
    let all = tokens(&folded);
    let mut found = Times { plain: Vec::new(), ends: Vec::new() };
    let mut at = 0;
    let mut behind_until = false;
    while let Some(token) = all.get(at) {
        let here = Cursor { all: &all, at };
        let last = |next: usize| next.checked_sub(1).and_then(|i| all.get(i)).map_or(token.end, |t| t.end);
        if matches!(token.sort, Sort::Sign(',' | ';')) {
            behind_until = false;
        }
        // `4-6/52` is no end that could be told.
        if let Some((words, next)) = weeks_between(here) {
            found.plain.push((token.start, last(next), words));
            at = next;
            continue;
        }
        // `from 12/12/26`: a day is no months, and stays whole.
        let mut day = here;
        if token.spaced
            && let Some(date) = day.date()
        {
            // A date that the rest of the text has settled is written for everyone.
            let typed = content.get(token.start..last(day.at)).unwrap_or("");
            if let (Ok(date), true) = (date, typed.contains(char::is_alphabetic) && !typed.contains("th")) {
                found.plain.push((token.start, last(day.at), date.words()));
            }
            at = day.at.max(at + 1);
            continue;
        }
        // `back to sport 3/12` may be for three months or in three: advice stays as it is written.
        if kind == Plain::Advice {
            let next = written_out(here);
            found.plain.extend(next.clone().map(|(words, next)| (token.start, last(next), words)));
            at = next.map_or(at + 1, |(_, next)| next);
            continue;
        }
        let before = at.checked_sub(1).map(|at| Cursor { all: &all, at });
        let led = behind_until || before.is_some_and(|c| is_moment(c) || governs(c));
        if let Some(hit) = bare_stretch(here).filter(|_| led)
            && let Some(Item::Until(end @ (End::For { .. } | End::Months(_)))) = hit.items.first()
        {
            let words = end.to_string();
            let words = words.strip_prefix("for ").unwrap_or(&words).to_string();
            found.plain.push((token.start, last(hit.next), words));
            if before.is_some_and(lasts_from_now) {
                found.ends.push(end.clone());
            }
            at = hit.next.max(at + 1);
            continue;
        }
        behind_until |= is_until(here.peek_word());
        let hit = ends(here, content);
        if let Some(hit) = hit
            && let Some(Item::Until(end)) = hit.items.first()
        {
            match end {
                // `until clinic 14/12` is a day within words; `til 6/52` counts from something that isn't said.
                End::Words(words) => {
                    let mut behind = Cursor { all: &all, at: at + 1 };
                    let weeks = bare_stretch(behind).filter(|weeks| weeks.next == hit.next);
                    if day_in(words).is_some() {
                        found.ends.push(end.clone());
                        at = hit.next.max(at + 1);
                        continue;
                    }
                    if let Some(weeks) = weeks
                        && let Some(Item::Until(long)) = weeks.items.first()
                    {
                        let words = long.to_string();
                        let words = words.strip_prefix("for ").unwrap_or(&words);
                        let starts = behind.peek().map_or(token.end, |t| t.start);
                        found.plain.push((starts, last(weeks.next), words.to_string()));
                        found.ends.push(End::Words(words.to_string()));
                        behind.at = weeks.next;
                        at = behind.at;
                        continue;
                    }
                }
                _ => {
                    found.plain.push((token.start, last(hit.next), end.to_string()));
                    found.ends.push(end.clone());
                    at = hit.next.max(at + 1);
                    behind_until = false;
                    continue;
                }
            }
        }
        let next = written_out(here);
        found.plain.extend(next.clone().map(|(words, next)| (token.start, last(next), words)));
        at = next.map_or(at + 1, |(_, next)| next);
    }
    found
}

/// Whether several ends stand in words that are kept whole: which of them ends what is not guessed, so all of it holds. Equal
/// ones may be stages too: `0-30 2/52, 0-60 2/52`.
pub fn has_stages(stated: &Stated) -> bool {
    1 < times(&stated.said.text, stated.kind).ends.len()
}

pub fn stated(kind: Plain, content: &str, place: Place) -> Stated {
    let folded = fold(content);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    c.word(&["please"]);
    restraint::denial(&mut c);
    let from = c.peek().map_or(0, |t| t.start);
    // Shorthand is written out for who reads the sheet: where, and as what.
    let Times { plain, mut ends } = times(content, kind);
    let end = ends.pop().filter(|_| ends.is_empty());
    let mut shown = content.to_string();
    for (begins, ends, words) in plain.into_iter().rev() {
        if content.is_char_boundary(begins) && content.is_char_boundary(ends) {
            shown.replace_range(begins..ends, &words);
        }
    }
    let what = Said {
        text: content.get(from..).unwrap_or(content).to_string(),
        place: Place { start: place.start + from, ..place },
    };
    Stated { kind, said: Said { text: content.to_string(), place }, what, shown, end, last_day: None }
}
