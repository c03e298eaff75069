//! Takes what stands behind a reserved key.

use super::Reading;
use super::classify::LONGEST_LIMIT;
use super::dates::slot;
use super::line::is_too_long;
use crate::language::restraint::{self, Plain};
use crate::language::token::tokens;
use crate::notice::{Notice, Severity};
use crate::prescription::day;
use crate::prescription::keys::{self, Undated, Value};
use crate::prescription::limit::{Bearing, Purpose};
use crate::prescription::problem;
use crate::prescription::words::{Count, Key};
use crate::prescription::{Said, Unread, say, time};
use crate::prescription::{angles, bearing, plain, tolerated};
use crate::text::fold::{fold, folded};
use crate::text::{Line, Place, trim};

impl Reading {
    pub(super) fn key(&mut self, line: &Line<'_>, key: Key, said: Said) {
        if said.text.is_empty() {
            self.notices.push(say::empty_key(line.place(), key.word()));
            return self.write(line, false, &format!("{}:", key.word()));
        }
        let tidy = format!("{}: {}", key.word(), said.text);
        if key.row().count == Count::Once && self.seen.contains(&key) {
            self.notices.push(say::key_twice(line.place(), key));
            self.unread(line, line.content(), key.is_safety(), Some(key.word()));
            return self.write(line, false, line.content());
        }
        let value = Value { text: &said.text, place: said.place };
        let taken = self.value(key, &value);
        if taken.is_ok() {
            self.seen.push(key);
        }
        match taken {
            Ok(None) => self.write(line, false, &tidy),
            Ok(Some(text)) => {
                let better = format!("{}: {text}", key.word());
                self.write(line, false, if is_too_long(&better) { &tidy } else { &better });
            }
            Err(notices) => {
                self.notices.extend(notices);
                // What was operated on or hurt is for the clinician, whatever its date.
                let history = matches!(key, Key::Surgery | Key::Injury);
                self.p.unread.push(Unread {
                    said: said.clone(),
                    safety: key.is_safety() && !history,
                    key: Some(key.word()),
                });
                self.write(line, false, &tidy);
            }
        }
    }

    /// Takes a value. Ok: its canonical writing, where it differs from what was typed. Err: not understood.
    fn value(&mut self, key: Key, value: &Value<'_>) -> Result<Option<String>, Vec<Notice>> {
        let undated = |u: Undated| match u {
            Undated::Unsure => vec![say::unsure_date(value.place)],
            Undated::None => vec![say::bad_date(value.place, key.word())],
        };
        let bad = || vec![say::bad_value(value.place, key)];
        let p = &mut self.p;
        match key {
            Key::By => p.by = Some(value.said()),
            Key::Patient => p.patient = Some(keys::patient(value)),
            Key::Start | Key::Review | Key::Due => {
                // `Mon 14/12, bring the diary`: what stands behind the day is told the patient.
                let behind = value
                    .text
                    .split_once(',')
                    .filter(|(_, words)| words.chars().any(char::is_alphabetic) && key == Key::Review);
                let first = behind.map(|(day, _)| Value { text: trim(day), place: value.place });
                let order = self.rules.order;
                let whole = day::read(value, order);
                let day = match (&whole, first.and_then(|first| day::read(&first, order).ok())) {
                    (Err(_), Some(day)) => {
                        let words = behind.map_or("", |(_, words)| trim(words));
                        let from = value.text.len() - words.len();
                        let place =
                            Place { start: value.place.start + from, end: value.place.end, ..value.place };
                        let told = plain::keyed(Plain::Advice, &Value { text: words, place });
                        self.notices.push(say::stated(place, told.kind));
                        p.stated.push(told);
                        if let Ok(date) = day.from(None) {
                            *slot(p, key) = Some(date);
                        } else {
                            self.days.push((key, day, value.said(), usize::MAX));
                        }
                        return Ok(None);
                    }
                    _ => whole.map_err(undated)?,
                };
                if !day.is_dated() {
                    // Told once all is read: the start may stand below.
                    self.days.push((key, day, value.said(), p.lines.len()));
                    return Ok(None);
                }
                let date = day.from(None).map_err(|f| vec![say::undated_day(value.place, key.word(), f)])?;
                *slot(p, key) = Some(date);
                return Ok(Some(date.to_string()));
            }
            Key::Weeks => {
                let n = keys::weeks(value).ok_or_else(bad)?;
                p.weeks = Some(n);
                return Ok(Some(n.to_string()));
            }
            Key::Surgery | Key::Injury => {
                let happening = keys::happening(value).map_err(undated)?;
                let text = keys::dated_text(happening.date, &happening.words);
                if happening.date.is_none()
                    && let Some((day, words)) = keys::yearless(value)
                {
                    // Told once the start is known.
                    self.happened.push((key, day, words, p.lines.len()));
                }
                let slot = if key == Key::Surgery { &mut p.surgery } else { &mut p.injury };
                *slot = Some(happening);
                return Ok(Some(text));
            }
            Key::Screened => {
                let screened = keys::screened(value).map_err(undated)?;
                let text = keys::dated_text(screened.date, &screened.words);
                p.screened = Some(screened);
                return Ok(Some(text));
            }
            Key::Limit | Key::Range => return self.limit(key, value),
            Key::Weight => {
                let found = bearing::all(value).ok_or_else(bad)?;
                let text = bearing::written_all(&found);
                let again = bearing::all(&Value { text: &text, place: value.place });
                let same = again.as_ref() == Some(&found);
                if found.iter().any(plain::lacks_side) {
                    self.notices.push(say::weight_without_side(value.place));
                }
                let found = self.going_on(found).ok_or_else(bad)?;
                self.p.bearing.extend(found);
                return Ok(same.then_some(text));
            }
            Key::Time => {
                let times = time::read(value).ok_or_else(bad)?;
                let text = time::text(&times);
                let again = time::read(&Value { text: &text, place: value.place });
                let same = again.is_some_and(|again| time::same(&again, &times));
                for time in times {
                    match time {
                        crate::prescription::Time::Minutes(minutes) => p.times.push(minutes),
                        crate::prescription::Time::Fixed(fixed) => p.fixed.push(fixed),
                    }
                }
                return Ok(same.then_some(text));
            }
            Key::UsualPain => p.usual_pain = Some(keys::usual_pain(value).ok_or_else(bad)?),
            Key::OkayPain => {
                let found = tolerated::keyed(value.text).ok_or_else(bad)?;
                let text = found.written();
                let same = tolerated::keyed(&text).as_ref() == Some(&found);
                p.okay_pain = Some(found);
                return Ok(same.then_some(text));
            }
            Key::Body => p.body = Some(keys::body(value)),
            Key::Kit => {
                let list = if folded(value.text) == "none" { Vec::new() } else { value.list() };
                p.kit.get_or_insert_default().extend(list);
            }
            Key::Avoid => {
                let (limits, words) = plain::avoided(value);
                p.limits.extend(limits);
                p.avoid.extend(words);
            }
            Key::Cannot => p.cannot.extend(value.list()),
            Key::Caution => {
                // `precautions: osteoporosis, no bridging`: what is forbidden is the patient's to know.
                for said in value.list() {
                    let folded = fold(&said.text);
                    let forbids = restraint::plain(&tokens(&folded)) == Some(Plain::Restriction);
                    if forbids && self.rules.plain {
                        p.stated.push(plain::keyed(
                            Plain::Restriction,
                            &Value { text: &said.text, place: said.place },
                        ));
                    }
                    p.cautions.push(said);
                }
            }
            Key::Aim => p.aims.push(value.said()),
            Key::Ask => p.ask = Some(value.said()),
            Key::Irritability => p.irritability = Some(value.said()),
            Key::Finding => p.findings.push(value.said()),
            Key::Measure => p.measures.push(value.said()),
            Key::Taught => p.taught.push(value.said()),
            Key::BadDay => p.bad_day.push(value.said()),
            Key::Flare => p.flare.push(value.said()),
            Key::Emergency => p.emergency.push(value.said()),
            Key::OutOfHours => p.out_of_hours.push(value.said()),
            Key::Discharge => p.discharge.push(value.said()),
            Key::Net => {
                let net = keys::net(value).ok_or_else(bad)?;
                let text = crate::prescription::net::words(&net.topics);
                p.net = Some(net);
                return Ok(Some(text));
            }
            Key::DoNot => self.stated(Plain::Restriction, value),
            Key::May => self.stated(Plain::Permission, value),
            Key::Rule => self.stated(Plain::Order, value),
            Key::Advice => self.stated(Plain::Advice, value),
            Key::Exercise => {}
        }
        Ok(None)
    }

    /// Weights of a line; one that begins with `then` has side and limb of the one that ends on a line before it. None:
    /// there is none that ends.
    pub(super) fn going_on(&self, found: Vec<Bearing>) -> Option<Vec<Bearing>> {
        let Some(first) = found.first().filter(|first| first.follows) else { return Some(found) };
        let before = self.p.bearing.last()?;
        let other = first.side.is_some_and(|side| Some(side) != before.side);
        let line = before.place.line;
        let between = self.p.exercises.last().is_some_and(|x| line < x.line);
        if other || between || before.end.is_none() {
            return None;
        }
        let (side, both, limb) = (before.side, before.both, before.limb);
        Some(found.into_iter().map(|b| Bearing { side, both, limb, ..b }).collect())
    }

    fn stated(&mut self, kind: Plain, value: &Value<'_>) {
        if problem::is_red_flag(value.text) {
            self.notices.push(say::red_flag_kept(value.place));
        }
        self.p.stated.push(plain::keyed(kind, value));
    }

    fn limit(&mut self, key: Key, value: &Value<'_>) -> Result<Option<String>, Vec<Notice>> {
        if key == Key::Limit
            && bearing::is_named(value.text)
            && let Some(found) = bearing::all(value)
        {
            let found = self.going_on(found).ok_or_else(|| vec![say::bad_value(value.place, key)])?;
            self.p.bearing.extend(found);
            return Ok(None);
        }
        if matches!(
            folded(value.text).as_str(),
            "none" | "nil" | "no" | "no limit" | "no limits" | "nil limits"
        ) {
            return Ok(None);
        }
        if LONGEST_LIMIT < value.text.len() {
            return Err(vec![say::bad_value(value.place, key)]);
        }
        let purpose = if key == Key::Limit { Purpose::Limit } else { Purpose::Range };
        let found = angles::read(value.text, purpose, value.place);
        let notices = found.faults.iter().map(|f| say::limit(value.place, key.word(), *f));
        if found.limits.is_empty() && found.free && found.beside.is_empty() {
            // `limit: left knee, no limit` bounds nothing.
            self.notices.extend(notices.filter(|n| n.severity() == Severity::Error));
            return Ok(None);
        }
        if found.limits.is_empty() {
            return Err(notices.filter(|n| n.severity() == Severity::Error).collect());
        }
        self.notices.extend(notices);
        let mut tidy = None;
        if found.beside.is_empty()
            && !found.free
            && found.faults.iter().all(|f| *f == angles::Fault::EndForAll)
        {
            let text = angles::written(&found.limits);
            let again = angles::read(&text, purpose, value.place);
            tidy = (again.limits == found.limits && again.faults == found.faults && again.beside.is_empty())
                .then_some(text);
        }
        if !found.beside.is_empty() {
            self.notices.push(say::limit_words(value.place, &found.beside.join(", ")));
            self.p.unread.push(Unread { said: value.said(), safety: true, key: Some(key.word()) });
        }
        self.p.limits.extend(found.limits);
        Ok(tidy)
    }
}
