//! The packed bytes of a shared prescription, and back.
//!
//! * four bytes: CRC-32 of all that follows once it is unpacked,
//! * one byte: how many bytes the whole has, modulo 256, so that a lost end is told from other damage,
//! * bits, highest first: how the text is packed, day of issue, version, length of the text, exercises of the
//!   catalog and what they looked like, the days of each stretch of weeks,
//! * the text.
//!
//! Only the one form that [`pack`] writes is accepted.

use super::bits::{Reader, Writer, width};
use super::fault::{Fault, Kind};
use super::text::{Unnamed, with_names, without_names};
use super::{Shared, Stretch, squeeze};
use crate::catalog::Catalog;
use crate::measure::Date;
use crate::programme::assemble::VERSION_LETTERS;
use crate::week::model::{Day, Part};
use crate::week::pattern::{Pattern, Sitting};

/// A text of more bytes is not handed over.
pub const MOST_TEXT: usize = 32 * 1024;
/// More packed bytes are not looked at.
pub const MOST_PACKED: usize = 48 * 1024;
/// Exercises that a text may have.
const MOST_EXERCISES: u32 = 60;
/// Weeks that a course may have.
const MOST_WEEKS: u32 = 104;
/// Different sessions that a course may have: enough for 60 exercises in three parts of 14 days, five times over.
const MOST_LISTS: u32 = 210;
/// Names in a text.
const MOST_NAMES: u32 = 660;

/// All that is packed, with names as numbers.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Raw {
    issued: Option<u32>,
    version: [u32; 4],
    names: Vec<u32>,
    /// Of every name once, and of others that the text names in other words; ascending.
    prints: Vec<(u32, u16)>,
    course: Vec<Stretch>,
    text: Vec<u8>,
}

/// The packed bytes. An error is a sentence for the clinician.
pub fn pack(shared: &Shared, catalog: &Catalog) -> Result<Vec<u8>, String> {
    if MOST_TEXT < shared.text.len() {
        return Err(format!(
            "This prescription is too long for a link: {} bytes where {MOST_TEXT} are the most. Shorten it, or \
             hand over the sheet on paper.",
            shared.text.len()
        ));
    }
    let (text, names) = without_names(&shared.text, catalog);
    let raw = Raw {
        issued: shared.issued.and_then(days),
        version: letters(&shared.version).unwrap_or_default(),
        names,
        prints: shared.prints.clone(),
        course: shared.course.clone(),
        text,
    };
    let bytes = raw.pack();
    // What can't be had back must not be handed over.
    match unpack(&bytes, catalog) {
        Ok(again) if again == *shared => Ok(bytes),
        _ => Err(
            "There is no link for this prescription: it would not open as the same. Hand over the sheet on \
                  paper."
                .to_owned(),
        ),
    }
}

/// Whether the length that packed bytes tell is their own.
pub(super) fn is_whole(bytes: &[u8]) -> bool {
    bytes.get(4) == Some(&(bytes.len() as u8))
}

/// Opens packed bytes; any bytes give a shared prescription or a fault.
pub fn unpack(bytes: &[u8], catalog: &Catalog) -> Result<Shared, Fault> {
    if bytes.is_empty() {
        return Err(Fault::of(Kind::Empty));
    }
    if MOST_PACKED < bytes.len() {
        return Err(Fault::of(Kind::TooLong));
    }
    // A byte short is 1, a byte more 255; little is ever added, and much lost.
    let missing = bytes.get(4).map_or(1, |told| told.wrapping_sub(bytes.len() as u8));
    let broken = || Fault::of(if (1..240).contains(&missing) { Kind::Truncated } else { Kind::Damaged });
    if missing != 0 {
        return Err(broken());
    }
    let (raw, plain) = Raw::unpack(bytes).ok_or_else(broken)?;
    if raw.again(plain) != bytes {
        return Err(Fault::of(Kind::NotCanonical));
    }
    let text = with_names(&raw.text, &raw.names, catalog, MOST_TEXT).map_err(|why| match why {
        Unnamed::Newer => Fault::of(Kind::Newer),
        Unnamed::Damaged => Fault::of(Kind::Damaged),
    })?;
    let version = raw.version.iter().filter_map(|l| VERSION_LETTERS.get(*l as usize));
    Ok(Shared {
        text,
        issued: raw.issued.and_then(date),
        version: version.map(|l| char::from(*l)).collect(),
        course: raw.course,
        prints: raw.prints,
    })
}

/// Days since 1 January 2000, below 2^16.
fn days(date: Date) -> Option<u32> {
    let days = date.days_since(Date::new(2000, 1, 1)?);
    u32::try_from(days).ok().filter(|days| *days < 1 << 16)
}

fn date(days: u32) -> Option<Date> {
    Some(Date::new(2000, 1, 1)?.plus_days(i32::try_from(days).ok()?))
}

fn letters(version: &str) -> Option<[u32; 4]> {
    let place = |letter: u8| VERSION_LETTERS.iter().position(|l| *l == letter).map(|at| at as u32);
    let all: Vec<u32> = version.bytes().filter_map(place).collect();
    all.try_into().ok()
}

impl Raw {
    fn pack(&self) -> Vec<u8> {
        self.written(squeeze::squeeze(&self.text))
    }

    /// What [`Raw::pack`] would have written to give these bytes. The text was just unpacked from them, so that it can be had back
    /// is proved.
    fn again(&self, plain: bool) -> Vec<u8> {
        if plain { self.pack() } else { self.written(squeeze::squeezed(&self.text)) }
    }

    fn written(&self, squeezed: Option<Vec<u8>>) -> Vec<u8> {
        let mut w = Writer::default();
        w.put(u32::from(squeezed.is_none()), 1);
        w.put(u32::from(self.issued.is_some()), 1);
        w.put(self.issued.unwrap_or(0), if self.issued.is_some() { 16 } else { 0 });
        self.version.iter().for_each(|letter| w.put(*letter, 5));
        w.number(self.text.len() as u32);
        let wide = width(self.names.iter().max().map_or(0, |n| n.saturating_add(1)));
        w.number(self.names.len() as u32);
        w.put(wide, if self.names.is_empty() { 0 } else { 5 });
        self.names.iter().for_each(|name| w.put(*name, wide));
        let others: Vec<u32> = self.prints.iter().map(|p| p.0).filter(|n| !self.names.contains(n)).collect();
        w.number(others.len() as u32);
        others.iter().for_each(|n| w.number(*n));
        self.prints.iter().for_each(|p| w.put(u32::from(p.1), 16));
        write_course(&mut w, &self.course);
        let bits = w.finish();
        let mut crc = crc32fast::Hasher::new();
        crc.update(&bits);
        crc.update(&self.text);
        let text = squeezed.as_ref().unwrap_or(&self.text);
        let length = 5 + bits.len() + text.len();
        let mut bytes = crc.finalize().to_be_bytes().to_vec();
        bytes.push(length as u8);
        bytes.extend_from_slice(&bits);
        bytes.extend_from_slice(text);
        bytes
    }

    /// Whether the text was plain beside it. None: damaged. What is returned may still not be what [`Raw::pack`] would
    /// write.
    fn unpack(bytes: &[u8]) -> Option<(Raw, bool)> {
        let (told, rest) = bytes.split_first_chunk::<4>()?;
        let mut r = Reader::new(rest.get(1..)?);
        let plain = r.take(1)? == 1;
        let issued = if r.take(1)? == 1 { Some(r.take(16)?) } else { None };
        let version = [r.take(5)?, r.take(5)?, r.take(5)?, r.take(5)?];
        let length = r.number().map(|n| n as usize).filter(|n| *n <= MOST_TEXT)?;
        let count = r.number().filter(|n| *n <= MOST_NAMES)?;
        let wide = if count == 0 { 0 } else { r.take(5)? };
        let names: Vec<u32> = (0..count).map(|_| r.take(wide)).collect::<Option<_>>()?;
        let more = r.number().filter(|n| *n <= MOST_NAMES)?;
        let mut numbers: Vec<u32> = (0..more).map(|_| r.number()).collect::<Option<_>>()?;
        numbers.extend(&names);
        crate::sorting::sort(&mut numbers);
        numbers.dedup();
        let prints = numbers.iter().map(|n| Some((*n, r.take(16)? as u16))).collect::<Option<_>>()?;
        let course = read_course(&mut r)?;
        let (bits, packed) = r.rest();
        let text = if plain {
            packed.get(..length).filter(|_| packed.len() == length)?.to_vec()
        } else {
            squeeze::open(packed, length)?
        };
        let mut crc = crc32fast::Hasher::new();
        crc.update(bits);
        crc.update(&text);
        (crc.finalize() == u32::from_be_bytes(*told)).then_some(())?;
        Some((Raw { issued, version, names, prints, course, text }, plain))
    }
}

/// Slots of a week of the pattern, in order.
fn slots() -> impl Iterator<Item = (Day, Part)> {
    Day::ALL.into_iter().flat_map(|day| Part::ALL.into_iter().map(move |part| (day, part)))
}

fn write_course(w: &mut Writer, course: &[Stretch]) {
    // Sessions that are alike stand once, in the order of their first day.
    let mut lists: Vec<&[usize]> = Vec::new();
    for sitting in course.iter().flat_map(|stretch| &stretch.pattern.sittings) {
        if !lists.contains(&sitting.exercises.as_slice()) {
            lists.push(&sitting.exercises);
        }
    }
    let exercises = lists.iter().flat_map(|l| l.iter()).max().map_or(0, |most| most + 1);
    let wide = width(exercises as u32);
    w.put(exercises as u32, 6);
    w.number(lists.len() as u32);
    for list in &lists {
        w.put((list.len() as u32).saturating_sub(1), wide);
        list.iter().for_each(|e| w.put(*e as u32, wide));
    }
    w.number(course.len() as u32);
    let mut before = 0;
    for stretch in course {
        w.number(stretch.from.saturating_sub(before));
        before = stretch.from;
        let pattern = &stretch.pattern;
        w.put(u32::from(pattern.weeks == 2), 1);
        w.put(u32::from(pattern.proved), 1);
        for week in 1..=pattern.weeks.clamp(1, 2) {
            for (day, part) in slots() {
                let here = pattern.sittings.iter().find(|s| (s.week, s.day, s.part) == (week, day, part));
                let list = here.and_then(|s| lists.iter().position(|list| *list == s.exercises));
                w.put(list.map_or(0, |at| at as u32 + 1), width(lists.len() as u32 + 1));
            }
        }
    }
}

fn read_course(r: &mut Reader<'_>) -> Option<Vec<Stretch>> {
    let exercises = r.take(6).filter(|n| *n <= MOST_EXERCISES)?;
    let wide = width(exercises);
    let count = r.number().filter(|n| *n <= MOST_LISTS)?;
    let mut lists: Vec<Vec<usize>> = Vec::new();
    for _ in 0..count {
        let length = r.take(wide)? + 1;
        let list: Vec<usize> = (0..length).map(|_| Some(r.take(wide)? as usize)).collect::<Option<_>>()?;
        let twice = list.iter().enumerate().any(|(at, e)| list.iter().take(at).any(|o| o == e));
        if twice || list.iter().any(|e| exercises as usize <= *e) {
            return None;
        }
        lists.push(list);
    }
    let stretches = r.number().filter(|n| *n <= MOST_WEEKS)?;
    let mut course = Vec::new();
    let mut from = 0_u32;
    for at in 0..stretches {
        let step = r.number()?;
        // The first begins with week 1, and each later one after it.
        if step == 0 || (at == 0 && step != 1) || MOST_WEEKS < step {
            return None;
        }
        from += step;
        let weeks = r.take(1)? as u8 + 1;
        let proved = r.take(1)? == 1;
        let mut sittings = Vec::new();
        for week in 1..=weeks {
            for (day, part) in slots() {
                let list = r.take(width(count + 1))? as usize;
                if let Some(list) = list.checked_sub(1) {
                    let exercises = lists.get(list)?.clone();
                    sittings.push(Sitting { week, day, part, exercises });
                }
            }
        }
        course.push(Stretch { from, pattern: Pattern { weeks, proved, sittings } });
    }
    Some(course)
}
