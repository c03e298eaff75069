//! One version of a kept prescription, as it stands in the store: a line with a checksum, then JSON.
//!
//! The key names identity, revision and the window that wrote it. No key is ever written twice.

use crate::measure::Date;
use serde::{Deserialize, Serialize};

/// Every version stands under this, then identity, revision and writer.
pub const PREFIX: &str = "layfigure desk prescription ";

/// The first word of a value, and the version of its format.
const MARK: &str = "layfigure 1";

/// More keys than anybody strikes in one text: a revision beyond is not ours.
const MOST_REVISIONS: u32 = 1_000_000_000;

/// A day and its millisecond, as the clock says where the clinician sits: so fine that a list has its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stamp {
    pub date: Date,
    /// Of the day, 0 to 86 399 999.
    pub milli: u32,
}

impl Stamp {
    pub fn iso(text: &str) -> Option<Stamp> {
        let (date, time) = text.split_once('T')?;
        let parts: Vec<u32> = time.split([':', '.']).map(|part| part.parse().ok()).collect::<Option<_>>()?;
        let [hour, minute, second, milli] = parts.try_into().ok()?;
        let is_time = hour < 24 && minute < 60 && second < 60 && milli < 1000;
        let milli = is_time.then_some(((hour * 60 + minute) * 60 + second) * 1000 + milli)?;
        Some(Stamp { date: Date::iso(date)?, milli })
    }

    /// `14:05`
    pub fn clock(self) -> String {
        format!("{}:{:02}", self.milli / 3_600_000, self.milli / 60_000 % 60)
    }
}

impl std::fmt::Display for Stamp {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (s, milli) = (self.milli / 1000, self.milli % 1000);
        write!(f, "{}T{:02}:{:02}:{:02}.{milli:03}", self.date, s / 3600, s / 60 % 60, s % 60)
    }
}

/// Which version: of two, the later revision is the newer.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Version {
    /// Counted from 1.
    pub revision: u32,
    /// The window that wrote it, by a word of its own.
    pub writer: String,
}

/// A kept prescription at one version.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leaf {
    pub id: String,
    pub version: Version,
    /// The version that this one goes on from.
    pub after: Option<Version>,
    /// The clinician's own name for it.
    pub name: Option<String>,
    pub text: String,
    /// The text of the last visit, which this one goes on from.
    pub before: Option<String>,
    pub changed: Option<Stamp>,
}

#[derive(Deserialize, Serialize)]
struct Stored {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    after: Option<(u32, String)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    text: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    before: Option<String>,
    #[serde(default)]
    changed: String,
}

/// A word that may stand in a key.
fn is_word(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|b| b.is_ascii_alphanumeric())
}

pub fn key(id: &str, version: &Version) -> String {
    format!("{PREFIX}{id} {} {}", version.revision, version.writer)
}

/// What a key names; None where it is none of ours.
pub fn named(key: &str) -> Option<(&str, Version)> {
    let mut words = key.strip_prefix(PREFIX)?.split(' ');
    let (id, revision, writer) = (words.next()?, words.next()?.parse().ok()?, words.next()?);
    let counted = (1..=MOST_REVISIONS).contains(&revision);
    let known = words.next().is_none() && is_word(id) && is_word(writer) && counted;
    known.then(|| (id, Version { revision, writer: writer.into() }))
}

/// Whether a value that can't be read began as one of this format: torn, not another page's.
pub fn is_torn(value: &str) -> bool {
    value.starts_with(MARK) || MARK.starts_with(value)
}

fn sum(id: &str, version: &Version, json: &str) -> u32 {
    crc32fast::hash(format!("{}\n{json}", key(id, version)).as_bytes())
}

impl Leaf {
    pub fn write(&self) -> String {
        let stored = Stored {
            after: self.after.clone().map(|v| (v.revision, v.writer)),
            name: self.name.clone(),
            text: self.text.clone(),
            before: self.before.clone(),
            changed: self.changed.map(|c| c.to_string()).unwrap_or_default(),
        };
        let json = serde_json::to_string(&stored).unwrap_or_default();
        format!("{MARK} {:08x}\n{json}", sum(&self.id, &self.version, &json))
    }

    /// None unless it is whole, and was written for this very key.
    pub fn read(id: &str, version: &Version, value: &str) -> Option<Leaf> {
        let (head, json) = value.strip_prefix(MARK)?.strip_prefix(' ')?.split_once('\n')?;
        if head != format!("{:08x}", sum(id, version, json)) {
            return None;
        }
        let s: Stored = serde_json::from_str(json).ok()?;
        Some(Leaf {
            id: id.into(),
            version: version.clone(),
            after: s.after.map(|(revision, writer)| Version { revision, writer }),
            name: s.name,
            text: s.text,
            before: s.before,
            changed: Stamp::iso(&s.changed),
        })
    }

    pub fn key(&self) -> String {
        key(&self.id, &self.version)
    }

    /// What it is called: its own name, else the title in its text, else by its day.
    pub fn called(&self) -> String {
        called(self.name.as_deref(), &self.text, self.changed.map(|c| c.date))
    }
}

/// See [`Leaf::called`].
///
/// ```
/// use layfigure::desk::shelf::leaf::called;
/// assert_eq!(called(None, "by: M. A.\n# Right knee\n", None), "Right knee");
/// assert_eq!(called(Some("T. B."), "# Right knee\n", None), "T. B.");
/// assert_eq!(called(None, "bridge: 3 x 10", layfigure::measure::Date::iso("2026-11-27")), "Untitled 27 Nov 2026");
/// ```
pub fn called(name: Option<&str>, text: &str, day: Option<Date>) -> String {
    let title = || {
        let lines = text.lines().filter_map(|line| line.trim().strip_prefix('#'));
        let mut titles = lines.filter(|rest| !rest.starts_with('#')).map(str::trim);
        titles.find(|title| !title.is_empty())
    };
    match name.map(str::trim).filter(|name| !name.is_empty()).or_else(title) {
        Some(name) => name.to_string(),
        None => day.map_or_else(|| "Untitled".into(), |day| format!("Untitled {}", day.words())),
    }
}
