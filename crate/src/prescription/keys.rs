//! What the values of line words hold.

use super::{Build, Happening, Pain, Patient, Said, Screened};
use crate::dose::find::often::weekday;
use crate::language::token::{Cursor, Sort, tokens};
use crate::language::unit::{self, Kind, Unit};
use crate::measure::Date;
use crate::text::Place;
use crate::text::fold::fold;

/// A value with its place and tokens.
pub struct Value<'a> {
    pub text: &'a str,
    pub place: Place,
}

impl<'a> Value<'a> {
    pub fn said(&self) -> Said {
        Said { text: self.text.to_string(), place: self.place }
    }

    pub fn sub(&self, from: usize, to: usize) -> Place {
        Place { line: self.place.line, start: self.place.start + from, end: self.place.start + to }
    }

    /// The pieces between commas and semicolons outside brackets, trimmed; empty ones left out.
    pub fn list(&self) -> Vec<Said> {
        let mut out = Vec::new();
        let mut depth = 0usize;
        let mut from = 0;
        let mut take = |from: usize, to: usize| {
            let piece = self.text.get(from..to).unwrap_or("");
            let text = crate::text::trim(piece);
            if !text.is_empty() {
                let skip = piece.len() - crate::text::trim_start(piece).len();
                out.push(Said {
                    text: text.to_string(),
                    place: self.sub(from + skip, from + skip + text.len()),
                });
            }
        };
        for (at, c) in self.text.char_indices() {
            match c {
                '(' => depth += 1,
                ')' => depth = depth.saturating_sub(1),
                ',' | ';' if depth == 0 => {
                    take(from, at);
                    from = at + 1;
                }
                _ => {}
            }
        }
        take(from, self.text.len());
        out
    }
}

/// Why a date was not understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Undated {
    /// Day and month may be meant either way.
    Unsure,
    None,
}

/// A date that is the whole value.
pub fn date(value: &Value<'_>) -> Result<Date, Undated> {
    match dated(value) {
        Ok((Some(date), words)) if words.is_empty() => Ok(date),
        Ok(_) => Err(Undated::None),
        Err(undated) => Err(undated),
    }
}

/// A date at the start or the end of a value, and the words beside it.
pub fn dated(value: &Value<'_>) -> Result<(Option<Date>, String), Undated> {
    let folded = fold(value.text);
    let all = tokens(&folded);
    for i in 0..all.len() {
        let mut c = Cursor { all: &all, at: i };
        if 0 < i {
            // Inside a date or a word nothing starts.
            let before = all.get(i - 1).map(|t| t.sort);
            let stuck =
                all.get(i).is_some_and(|t| !t.spaced) && !matches!(before, Some(Sort::Sign(',' | '(')));
            if stuck {
                continue;
            }
        }
        // A weekday before the date says nothing more.
        if c.peek_word().and_then(weekday).is_some() {
            c.at += 1;
            c.sign(',');
        }
        let Some(found) = c.date() else { continue };
        if !(i == 0 || c.is_done()) {
            continue;
        }
        let Ok(date) = found else { return Err(Undated::Unsure) };
        let head = all.get(i).map_or("", |t| value.text.get(..t.start).unwrap_or(""));
        let tail = c.peek().map_or("", |t| value.text.get(t.start..).unwrap_or(""));
        let loose = |c: char| crate::text::is_space(c) || matches!(c, ',' | ';' | ':');
        let words = if i == 0 { tail } else { head };
        return Ok((Some(date), words.trim_matches(loose).to_string()));
    }
    Ok(dated_within(value.text, &all).unwrap_or_else(|| (None, value.text.to_string())))
}

/// The one date that stands among other words, and these without it: `R TKR 18/11/26 Mr O`.
fn dated_within(text: &str, all: &[crate::language::token::Token<'_>]) -> Option<(Option<Date>, String)> {
    let mut found = None;
    for i in 1..all.len() {
        let Some(first) = all.get(i).filter(|t| t.spaced) else { continue };
        let mut c = Cursor { all, at: i };
        if c.peek_word().and_then(weekday).is_some() {
            c.at += 1;
            c.sign(',');
        }
        let Some(Ok(date)) = c.date() else { continue };
        if found.is_some() {
            return None;
        }
        let behind = c.peek().filter(|t| t.spaced || matches!(t.sort, Sort::Sign(',' | ';')))?.start;
        found = Some((date, among(text.get(..first.start)?, text.get(behind..)?)));
    }
    found.map(|(date, words)| (Some(date), words))
}

/// Words before a day and behind it as one.
fn among(before: &str, behind: &str) -> String {
    let loose = |c: char| crate::text::is_space(c) || matches!(c, ',' | ';' | ':');
    let joint = if behind.starts_with([',', ';']) { ", " } else { " " };
    let (before, behind) = (before.trim_matches(loose), behind.trim_matches(loose));
    if behind.is_empty() { before.to_string() } else { format!("{before}{joint}{behind}") }
}

/// A day without its year at the start or the end of a value, and the words beside it: `16/11 L RCR`, `THR R, 20 Nov`.
pub fn yearless(value: &Value<'_>) -> Option<(crate::dose::Yearless, String)> {
    use crate::dose::find::span::{Day, day_at};
    let folded = fold(value.text);
    let all = tokens(&folded);
    (0..all.len()).find_map(|i| {
        let bracket = i.checked_sub(1).and_then(|i| all.get(i)).filter(|t| t.sort == Sort::Sign('('));
        let first = all.get(i).filter(|t| t.spaced || bracket.is_some())?;
        let mut c = Cursor { all: &all, at: i };
        let Some(Day::Yearless(day)) = day_at(&mut c) else { return None };
        let closed = bracket.is_some() && c.sign(')');
        if bracket.is_some() != closed {
            return None;
        }
        let from = bracket.map_or(first.start, |b| b.start);
        let words = match i {
            0 => value.text.get(c.peek()?.start..)?,
            _ if c.is_done() => value.text.get(..from)?,
            // `TSR L 20 Nov, cuff repaired`
            _ => return Some((day, among(value.text.get(..from)?, value.text.get(c.peek()?.start..)?))),
        };
        let loose = |c: char| crate::text::is_space(c) || matches!(c, ',' | ';' | ':');
        Some((day, words.trim_matches(loose).to_string()))
    })
}

pub fn happening(value: &Value<'_>) -> Result<Happening, Undated> {
    let (date, words) = dated(value)?;
    Ok(Happening { date, words, place: value.place })
}

/// `2026-11-02, right meniscus repair`.
pub fn dated_text(date: Option<Date>, words: &str) -> String {
    match date {
        Some(date) if words.is_empty() => date.to_string(),
        Some(date) => format!("{date}, {words}"),
        None => words.to_string(),
    }
}

pub fn screened(value: &Value<'_>) -> Result<Screened, Undated> {
    let (date, words) = dated(value)?;
    Ok(Screened { date, words, place: value.place })
}

pub fn patient(value: &Value<'_>) -> Patient {
    let pieces = value.list();
    let whole = |text: &str| {
        let folded = fold(text);
        let all = tokens(&folded);
        let mut c = Cursor { all: &all, at: 0 };
        // `F58` and `M 58`, or the bare number.
        let mut bare = c;
        bare.word(&["f", "m", "female", "male"]);
        let age = super::noted::age(&mut c).filter(|_| c.is_done());
        age.or_else(|| u8::try_from(bare.whole()?).ok().filter(|a| *a <= 120 && bare.is_done()))
    };
    let age = pieces.iter().skip(1).find_map(|piece| whole(&piece.text));
    let mut name = pieces.first().map_or(String::new(), |p| p.text.clone());
    // `J. S. aged 81`: no part of the name.
    let ends = name.match_indices(' ').find_map(|(at, _)| {
        let rest = name.get(at + 1..)?;
        let numbered = rest.starts_with(|c: char| c.is_ascii_digit() || c == 'a' || c == 'A');
        whole(rest).filter(|_| numbered && age.is_none()).map(|age| (at, age))
    });
    let age = age.or(ends.map(|(_, age)| age));
    if let Some((at, _)) = ends {
        name.truncate(at);
    }
    Patient { said: value.said(), name, age }
}

pub fn weeks(value: &Value<'_>) -> Option<u8> {
    let folded = fold(value.text);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    let n = u8::try_from(c.whole()?).ok().filter(|n| (1..=52).contains(n))?;
    let fifty_two = c.sign('/') && c.whole() == Some(52);
    if !fifty_two {
        unit::weeks(&mut c);
    }
    c.is_done().then_some(n)
}

pub fn body(value: &Value<'_>) -> Build {
    let mut build = Build::default();
    for piece in value.list() {
        let folded = fold(&piece.text);
        let all = tokens(&folded);
        let mut c = Cursor { all: &all, at: 0 };
        c.word(&["height", "stature", "weight", "mass"]);
        let found = c.hundredths().and_then(|n| {
            let unit = unit::of(&mut c, &[Kind::Length, Kind::Mass])?;
            c.word(&["tall"]);
            c.is_done().then_some((n, unit))
        });
        let millimetres = |mm: u64| u32::try_from(mm).ok().filter(|mm| (500..=2500).contains(mm));
        let stature = match found {
            Some((n, Unit::Metre)) => millimetres(n * 10),
            Some((n, Unit::Centimetre)) => millimetres(n / 10),
            Some((n, Unit::Millimetre)) => millimetres(n / 100),
            _ => None,
        };
        let mass = match found {
            Some((n, Unit::Kilogram)) => {
                u32::try_from((n + 50) / 100).ok().filter(|kg| (10..=400).contains(kg))
            }
            _ => None,
        };
        match (stature, mass) {
            (Some(mm), _) if build.stature_mm.is_none() => build.stature_mm = Some(mm),
            (_, Some(kg)) if build.mass_kg.is_none() => build.mass_kg = Some(kg),
            _ => build.words.push(piece),
        }
    }
    build
}

/// Topics by their words; None where one of them is none.
pub fn net(value: &Value<'_>) -> Option<super::Net> {
    let mut topics = std::collections::BTreeSet::new();
    for piece in value.list() {
        topics.extend(super::net::of(&piece.text)?);
    }
    Some(super::Net { topics, place: value.place })
}

pub fn usual_pain(value: &Value<'_>) -> Option<Pain> {
    let folded = fold(value.text);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    let (low, high) = c.range()?;
    let part =
        |n: u64| n.is_multiple_of(100).then(|| u8::try_from(n / 100).ok()).flatten().filter(|n| *n <= 10);
    let mut scale = c;
    scale.word(&["out"]);
    if (scale.sign('/') || scale.word(&["of"]).is_some()) && scale.whole() == Some(10) {
        c = scale;
    }
    let (low, high) = (part(low)?, part(high)?);
    let words = c.peek().map_or("", |t| value.text.get(t.start..).unwrap_or(""));
    let words = words.trim_start_matches([',', ';', ' ']).to_string();
    (low <= high).then_some(Pain { low, high, words, place: value.place })
}
