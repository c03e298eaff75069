//! Lines below an exercise: details, steps and pieces of its dose, with their colon and without it.

use super::Class;
use crate::dose::Start;
use crate::language::token::{Cursor, Sort};
use crate::language::typed::Typed;
use crate::prescription::angles;
use crate::prescription::exercise::{TypedLine, has_work, part_step};
use crate::prescription::limit::Purpose;
use crate::prescription::words::{self, Below, DETAILS, Key, Takes, Wording};
use crate::prescription::{Said, When, say};
use crate::text::{Place, trim};

/// The condition of a step, from the words before its colon.
pub(super) fn when(typed: &Typed<'_>) -> Option<When> {
    let Typed { text: head, ref all, .. } = *typed;
    let mut c = typed.start();
    let from = c.word(&["from"]).is_some();
    if c.word(&["week", "wk", "weeks"]).is_some() {
        let n = c.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| 1 <= *n);
        c.sign('+');
        if let (Some(n), true) = (n, c.is_done()) {
            return Some(When::From(Start::Week(n)));
        }
    }
    if let Some((Some(start), None)) = crate::dose::find::span::whole(all, head) {
        return Some(When::From(start));
    }
    if from {
        return None;
    }
    c.at = 0;
    let word = c.word(&["when", "if", "once"])?;
    let rest = c.peek().and_then(|t| head.get(t.start..))?;
    let rest = trim(rest).to_string();
    Some(if word == "if" { When::If(rest) } else { When::When(rest) })
}

/// A detail, step or dose line by its key.
pub(super) fn detail(
    key: &str,
    head: &Typed<'_>,
    value: &Typed<'_>,
    below: bool,
    place: Place,
) -> Option<Class> {
    let row = Below::of(key).map(Below::row);
    let alone = || Class::Unread {
        notice: Some(say::detail_alone(place, head.text)),
        safety: row.is_some_and(|row| row.safety.is_kept()),
        key: None,
    };
    let found = match row.map(|row| row.takes) {
        Some(Takes::About(about)) => Class::Detail(about, Said::of(value)),
        Some(Takes::Anyway) => Class::Anyway(Said::of(value)),
        Some(Takes::Dose(wording)) => {
            let text = match wording {
                Wording::Alone => value.text.to_string(),
                Wording::Before => format!("{key} {}", value.text),
                Wording::Behind => format!("{} {key}", value.text),
                Wording::Label => format!("{key} \"{}\"", value.text.trim_matches(['"', '“', '”'])),
            };
            let (dose, notices) = crate::dose::read(&text, value.place);
            Class::DoseLine(dose, notices)
        }
        Some(Takes::Step) | None => Class::Step(when(head)?, Box::new(part_step(value))),
    };
    Some(if below { found } else { alone() })
}

/// A detail or a step without its colon, below an exercise.
pub(super) fn plain_detail(typed: &TypedLine<'_>, below: bool) -> Option<Class> {
    let TypedLine { content, place, all, typed, .. } = *typed;
    let first = all.first()?;
    // `2nd wk 4 x 10`
    let ordinal =
        || below && matches!(all.get(1).map(|t| t.sort), Some(Sort::Word("nd" | "rd" | "th" | "st")));
    if !matches!(first.sort, Sort::Word(_)) && !ordinal() {
        return None;
    }
    let c = Cursor { all, at: 0 };
    let rest = |from: &Cursor<'_>| {
        let token = from.peek().filter(|t| t.spaced)?;
        Some(typed.trimmed(token.start, content.len()))
    };
    let words = DETAILS.iter().filter(|row| row.bare != words::detail::Bare::Never);
    for (row, word) in words.flat_map(|row| row.spellings().map(move |word| (row, word))) {
        let mut m = c;
        let parts: Vec<&str> = word.split(' ').collect();
        if !m.words(&parts) {
            continue;
        }
        let Some(said) = rest(&m) else { continue };
        let head = Place { end: place.start + all.get(m.at - 1)?.end, ..place };
        if !below {
            // What is not about safety may be prose.
            let alone = row.safety.is_kept().then(|| Class::Unread {
                notice: Some(say::detail_alone(place, word)),
                safety: true,
                key: None,
            });
            return alone;
        }
        return Some(match (row.bare, row.takes) {
            (words::detail::Bare::Read, Takes::About(about)) => {
                Class::PlainDetail(about, Said::of(&said), say::read_as_detail(place, head, word))
            }
            _ => Class::Unread {
                notice: Some(say::missing_colon(place, head, word)),
                safety: row.safety.is_kept(),
                key: None,
            },
        });
    }
    if !below {
        return None;
    }
    let mut m = c;
    if m.word(&["from"]).is_some() && m.word(&["week", "wk"]).is_some() {
        let n = m.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| 1 <= *n)?;
        m.sign(',');
        if let Some(said) = rest(&m) {
            return Some(Class::Step(When::From(Start::Week(n)), Box::new(part_step(&said))));
        }
        return None;
    }
    // `progress to 3 x 12 when easy`, `then lunge R 2 x 8 from week 3`: what, and then when.
    if let Some(at) = crate::prescription::exercise::step_verb(typed) {
        return step_behind(typed, at);
    }
    // `week 3 - 3 x 12`, `from 14 Dec 3 x 12`: a start, then what changes.
    if let Some((start, at)) = crate::dose::find::span::start(all) {
        m.at = at;
        let dashed = m.sign('-') || m.sign(',');
        let said = rest(&m)?;
        let parted = part_step(&said);
        let dosed = has_work(&parted.dose) || !parted.dose.loads.is_empty();
        let verb = crate::prescription::exercise::step_verb(&said).is_some();
        if dosed && (dashed || verb || parted.name.is_none()) {
            return Some(Class::Step(When::From(start), Box::new(parted)));
        }
        return None;
    }
    // Where the condition ends is not guessed: the colon is asked for.
    m = c;
    m.word(&["when", "if", "once"])?;
    let work = |at: usize| {
        let hit = crate::dose::find::at(Cursor { all, at }, content);
        hit.is_some_and(|h| h.items.iter().any(|i| matches!(i, crate::dose::find::Item::Work(_))))
    };
    let dose = (m.at + 1..all.len()).find(|at| all.get(*at).is_some_and(|t| t.spaced) && work(*at))?;
    let head = Place { end: place.start + all.get(dose.checked_sub(1)?)?.end, ..place };
    let notice = say::missing_step_colon(place, head);
    Some(Class::Unread { notice: Some(notice), safety: false, key: None })
}

/// A step whose time stands behind it, from byte `at` on.
fn step_behind(typed: &Typed<'_>, at: usize) -> Option<Class> {
    let Typed { text: content, ref all, .. } = *typed;
    let begins = all.iter().position(|t| t.start == at)?;
    let condition = (begins + 1..all.len()).find(|i| {
        all.get(*i).is_some_and(|t| t.spaced && matches!(t.sort, Sort::Word("when" | "once" | "if")))
    });
    let piece = |from: usize, to: usize| {
        let raw = content.get(from..to).unwrap_or("");
        let text = raw.trim_end_matches(|c: char| crate::text::is_space(c) || c == ',');
        typed.cut(from, from + text.len())
    };
    if let Some(i) = condition {
        let when = all.get(i)?;
        let words = trim(content.get(all.get(i + 1)?.start..)?).to_string();
        let parted = part_step(&piece(at, when.start));
        let dosed = has_work(&parted.dose) || !parted.dose.loads.is_empty();
        let when = if when.sort == Sort::Word("if") { When::If(words) } else { When::When(words) };
        return dosed.then(|| Class::Step(when, Box::new(parted)));
    }
    let mut parted = part_step(&piece(at, content.len()));
    let start = parted.dose.from.take()?;
    let dosed = has_work(&parted.dose) || !parted.dose.loads.is_empty();
    dosed.then(|| Class::Step(When::From(start), Box::new(parted)))
}

/// A near-miss of a reserved key or a detail's key before a colon.
pub(super) fn mistyped(key: &str, head: &Typed<'_>, value: &Typed<'_>, below: bool) -> Option<Class> {
    // `stairs: good up, bad down` is a word of its own.
    if 3 < key.split(' ').count() || crate::language::restraint::is_activity(key) {
        return None;
    }
    let near = words::near_keys(key);
    let (dose, _) = crate::dose::of(value);
    let safety = near.iter().any(|word| words::is_safety(word));
    let bounds = |word: &&str| matches!(Key::of(word), Some(Key::Limit | Key::Range | Key::Weight));
    let limit =
        near.iter().any(bounds) && !angles::read(value.text, Purpose::Limit, value.place).limits.is_empty();
    if !near.is_empty() && (limit || !has_work(&dose)) {
        let notice = say::mistyped_key(head.place, head.text, &near);
        return Some(Class::Unread { notice: Some(notice), safety, key: None });
    }
    if below && !has_work(&dose) {
        let near = words::near_details(key);
        if !near.is_empty() {
            let safety = near.iter().any(|word| words::is_safety(word));
            let notice = say::mistyped_key(head.place, head.text, &near);
            return Some(Class::Unread { notice: Some(notice), safety, key: None });
        }
    }
    None
}
