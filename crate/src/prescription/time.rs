//! The `time:` line: minutes that the patient has, what stands in the week already, and days of rest.

use super::keys::Value;
use super::{Fixed, Minutes, Occasion, Time};
use crate::catalog::terms::{Muscle, Term};
use crate::dose::find::moments::part;
use crate::dose::find::often::weekday_set;
use crate::dose::parts::Part;
use crate::language::token::{Cursor, Sort, Token, tokens};
use crate::measure::Weekdays;
use crate::text::fold::fold;

/// Words at the head of what is no appointment but minutes that were not understood.
const UNSURE: [&str; 15] = [
    "about",
    "approx",
    "roughly",
    "around",
    "if",
    "when",
    "whenever",
    "unless",
    "maybe",
    "sometimes",
    "free",
    "available",
    "any",
    "ok",
    "min",
];

/// Whether a line is days and that nothing is done on them: `Thurs off`, `Sun rest day`.
pub fn rests(all: &[Token<'_>]) -> bool {
    let mut c = Cursor { all, at: 0 };
    weekday_set(&mut c).is_some() && !c.sign(':') && rest(&mut c) && c.is_done()
}

/// None where some of it was not understood.
pub fn read(value: &Value<'_>) -> Option<Vec<Time>> {
    let folded = fold(value.text);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    let mut days: Option<Weekdays> = None;
    let mut out: Vec<Time> = Vec::new();
    while !c.is_done() {
        let from = c.peek().map_or(0, |t| t.start);
        let none = c.word(&["no", "not", "never"]).is_some();
        c.word(&["on", "in", "the", "every", "each"]);
        let named = weekday_set(&mut c);
        if named.is_none() && none {
            return None;
        }
        days = named.or(days);
        c.sign(':');
        let parts = parts(&mut c);
        c.sign(':');
        let place = |c: &Cursor<'_>| {
            let to = c.at.checked_sub(1).and_then(|i| all.get(i)).map_or(from, |t: &Token<'_>| t.end);
            value.sub(from, to)
        };
        let on = |days: Option<Weekdays>| days.unwrap_or(Weekdays::ALL);
        if let (Some(on), true) = (named, parts.is_empty() && !none && rest(&mut c)) {
            out.push(Time::Fixed(Fixed { days: on, what: Occasion::Rest, place: place(&c) }));
        } else if let (Some(on), false, Some(visit)) =
            (named, parts.is_empty() || none, appointment(&mut c, value.text))
        {
            let place = place(&c);
            out.extend(parts.into_iter().map(|part| {
                let (name, works) = (visit.name.clone(), visit.works.clone());
                let what = Occasion::Appointment { part, name, minutes: visit.minutes, works };
                Time::Fixed(Fixed { days: on, what, place })
            }));
        } else {
            let minutes = if none { 0 } else { count(&mut c)? };
            // What stands before the minutes may stand behind them: `15 min mornings`.
            let mut parts = parts;
            if parts.is_empty() && !none {
                parts = self::parts(&mut c);
            }
            if parts.is_empty() && (c.words(&["twice", "a", "day"]) || c.words(&["twice", "daily"])) {
                parts = vec![Part::Morning, Part::Evening];
            }
            if c.words(&["a", "day"])
                || c.words(&["per", "day"])
                || c.words(&["each", "day"])
                || c.word(&["daily"]).is_some()
            {
                days.get_or_insert(Weekdays::ALL);
            }
            let place = place(&c);
            let one = |part| Time::Minutes(Minutes { days: on(days), part, minutes, place });
            if parts.is_empty() {
                out.push(one(None));
            }
            out.extend(parts.into_iter().map(|part| one(Some(part))));
        }
        let mut parted = c.is_done();
        while c.sign(',') || c.sign(';') || c.word(&["and"]).is_some() {
            parted = true;
        }
        if !parted {
            return None;
        }
    }
    (!out.is_empty()).then_some(out)
}

fn parts(c: &mut Cursor<'_>) -> Vec<Part> {
    let mut parts: Vec<Part> = Vec::new();
    loop {
        let mut m = *c;
        m.word(&["in", "at"]);
        m.word(&["the"]);
        // Minutes in the afternoon are few and so are minutes at night: `pm` is the evening's, and the tidy line says so.
        let named = if m.word(&["lunch"]).is_some() {
            Some((Part::Midday, m))
        } else if m.word(&["pm"]).is_some() {
            Some((Part::Evening, m))
        } else {
            part(m)
        };
        let Some((found, next)) = named else { break };
        parts.push(found);
        *c = next;
        let _ = c.word(&["and"]).is_some() || c.sign('&') || c.sign('+') || c.sign('/');
    }
    parts
}

/// `15 min`, `15`, 1 to 1,440.
fn count(c: &mut Cursor<'_>) -> Option<u16> {
    let _ = c.words(&["up", "to"]) || c.words(&["at", "most"]) || c.word(&["max", "maximum"]).is_some();
    let m = match c.span() {
        Some(span) if span.low() == span.high() => span.high() / 60,
        Some(_) => return None,
        None => {
            let m = c.whole()?;
            c.word(&["m"]);
            m
        }
    };
    u16::try_from(m).ok().filter(|m| (1..=1440).contains(m))
}

fn rest(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let said = m.word(&["rest", "resting", "off"]).is_some();
    m.word(&["day", "days"]);
    let ends = m.is_done() || matches!(m.peek().map(|t| t.sort), Some(Sort::Sign(',' | ';')));
    if said && ends {
        *c = m;
    }
    said && ends
}

struct Visit {
    name: String,
    minutes: Option<u16>,
    works: Vec<String>,
}

/// Words up to the next comma: `swimming`, `swimming 60 min`, `gym 60 min works quads and calf`.
fn appointment(c: &mut Cursor<'_>, source: &str) -> Option<Visit> {
    let mut m = *c;
    let ends =
        |m: &Cursor<'_>| m.is_done() || matches!(m.peek().map(|t| t.sort), Some(Sort::Sign(',' | ';')));
    let first = m.peek()?;
    if !matches!(first.sort, Sort::Word(word) if !UNSURE.contains(&word)) {
        return None;
    }
    let mut last = first.end;
    let mut visit = Visit { name: String::new(), minutes: None, works: Vec::new() };
    while !ends(&m) {
        if m.word(&["works", "loads"]).is_some() {
            while !ends(&m) {
                visit.works.push(muscle(&mut m, source)?);
            }
            break;
        }
        let mut timed = m;
        if let Some(minutes) =
            count(&mut timed).filter(|_| first.end < timed.peek().map_or(usize::MAX, |t| t.end))
        {
            visit.minutes = Some(minutes);
            m = timed;
            continue;
        }
        let token = m.peek()?;
        // A number or a unit that stands in the name is minutes which were not understood.
        if visit.minutes.is_some()
            || matches!(token.sort, Sort::Number(_) | Sort::Word("min" | "mins" | "minute" | "minutes"))
        {
            return None;
        }
        last = token.end;
        m.at += 1;
    }
    visit.name = source.get(first.start..last)?.trim().to_string();
    *c = m;
    Some(visit)
}

/// One muscle group by any of its names, the longest first; `and` before it is passed over.
fn muscle(c: &mut Cursor<'_>, source: &str) -> Option<String> {
    let _ = c.word(&["and"]).is_some() || c.sign('&') || c.sign('+') || c.sign('/');
    let start = c.peek()?.start;
    let most = c.all.len().min(c.at + 4);
    let (at, found) = (c.at + 1..=most).rev().find_map(|to| {
        let end = c.all.get(to - 1)?.end;
        Some((to, Muscle::of(source.get(start..end)?)?))
    })?;
    c.at = at;
    Some(found.word().to_string())
}

/// `Mon-Fri morning 15 min, evening 20 min`; `Thu evening swimming 60 min works shoulders`; `Sun rest`.
pub fn text(all: &[Time]) -> String {
    let mut out: Vec<String> = Vec::new();
    let mut last: Option<Weekdays> = None;
    for time in all {
        let set = match time {
            Time::Minutes(m) => m.days,
            Time::Fixed(f) => f.days,
        };
        let days = match set {
            Weekdays::ALL => "daily".to_string(),
            days => days.to_string(),
        };
        match time {
            Time::Minutes(m) => {
                let part = m.part.map_or(String::new(), |p| format!(" {p}"));
                if m.minutes == 0 {
                    out.push(format!("no {days}{part}"));
                } else if last == Some(m.days) && m.part.is_some() {
                    out.push(format!("{} {} min", part.trim_start(), m.minutes));
                } else {
                    out.push(format!("{days}{part} {} min", m.minutes));
                }
            }
            Time::Fixed(Fixed { what: Occasion::Rest, .. }) => out.push(format!("{days} rest")),
            Time::Fixed(Fixed { what: Occasion::Appointment { part, name, minutes, works }, .. }) => {
                let minutes = minutes.map_or(String::new(), |m| format!(" {m} min"));
                let works =
                    if works.is_empty() { String::new() } else { format!(" works {}", works.join(" and ")) };
                out.push(format!("{days} {part} {name}{minutes}{works}"));
            }
        }
        last = Some(set);
    }
    out.join(", ")
}

/// Whether both say the same, wherever they stand.
pub fn same(a: &[Time], b: &[Time]) -> bool {
    let plain = |time: &Time| match time {
        Time::Minutes(m) => (m.days, Ok((m.part, m.minutes))),
        Time::Fixed(f) => (f.days, Err(f.what.clone())),
    };
    a.iter().map(plain).eq(b.iter().map(plain))
}
