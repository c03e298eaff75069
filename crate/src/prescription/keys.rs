//! The reserved keys, and what their values hold.

use super::{Build, Happening, Pain, Patient, Said, Screened};
use crate::dose::find::often::weekday;
use crate::language::token::{Cursor, Sort, tokens};
use crate::measure::Date;
use crate::text::Place;
use crate::text::fold::fold;
use crate::text::near;

macro_rules! keys {
    ($($name:ident $word:literal),* $(,)?) => {
        /// A reserved key.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Key { $($name),* }

        impl Key {
            pub const ALL: &[Key] = &[$(Key::$name),*];

            /// The key as written.
            pub fn word(self) -> &'static str {
                match self { $(Key::$name => $word),* }
            }
        }
    };
}

keys! {
    By "by", Patient "patient", Start "start", Weeks "weeks", Review "review", Surgery "surgery", Injury "injury",
    Due "due", Aim "aim", Limit "limit", Range "range", Weight "weight", Avoid "avoid", Cannot "cannot",
    Caution "caution", DoNot "do not", May "may", Rule "rule", Advice "advice", Body "body", Kit "kit", Time "time", Ask "ask", UsualPain "usual pain",
    Irritability "irritability", Finding "finding", Measure "measure", Screened "screened", Taught "taught",
    BadDay "bad day", Flare "flare", Emergency "emergency", OutOfHours "out of hours", Discharge "discharge",
    Exercise "exercise", Net "safety net",
}

impl Key {
    /// Whether what stands under it is about safety: never lost, and said to be unchecked where unread.
    pub fn is_safety(self) -> bool {
        matches!(
            self,
            Key::Limit
                | Key::Range
                | Key::Weight
                | Key::Avoid
                | Key::Cannot
                | Key::Caution
                | Key::DoNot
                | Key::May
                | Key::Rule
                | Key::Advice
                | Key::Surgery
                | Key::Injury
                | Key::Due
        )
    }

    /// The key that folded words are, with a few spellings of the trade.
    pub fn of(words: &str) -> Option<Key> {
        let plain = match words {
            "limits" | "rom limit" | "rom limits" => "limit",
            "ranges" => "range",
            "cautions" | "precaution" | "precautions" => "caution",
            "aims" | "goal" | "goals" => "aim",
            "findings" | "c/o" | "o/e" => "finding",
            "measures" => "measure",
            "r/v" | "rv" | "next review" => "review",
            "weight bearing" | "weight-bearing" | "wb" => "weight",
            "op" | "operation" => "surgery",
            "height" | "stature" => "body",
            "don't" | "dont" | "must not" => "do not",
            "may do" | "allowed" | "permitted" => "may",
            "rules" | "wear" => "rule",
            "usual-pain" => "usual pain",
            "bad days" => "bad day",
            "flare-up" | "flare up" => "flare",
            "emergency number" | "emergency numbers" | "emergency no" | "emergency phone"
            | "emergency tel" | "emergencies" | "in an emergency" => "emergency",
            "out-of-hours" | "out of hours number" | "out of hours phone" | "ooh" | "after hours" => {
                "out of hours"
            }
            "times" => "time",
            "equip" | "equipment" => "kit",
            "duration" => "weeks",
            "safety-net" | "safety netting" | "safetynet" => "safety net",
            w => w,
        };
        Key::ALL.iter().copied().find(|k| k.word() == plain)
    }
}

/// What a word before a colon means in other records, where it is no key here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Elsewhere {
    /// Who the patient is.
    Patient,
    /// It has another name here.
    Key(Key),
    /// Nothing that a prescription needs: numbers, addresses.
    Record,
    /// A date of something.
    Date,
    /// What must not be done, in words that are not read.
    Danger,
    /// What was found, asked or measured: for the clinician alone.
    Private,
}

impl Elsewhere {
    pub fn is_safety(self) -> bool {
        match self {
            Elsewhere::Danger => true,
            Elsewhere::Key(key) => key.is_safety(),
            Elsewhere::Patient | Elsewhere::Record | Elsewhere::Date | Elsewhere::Private => false,
        }
    }
}

/// See [`Elsewhere`]; the words are folded.
pub fn elsewhere(words: &str) -> Option<Elsewhere> {
    let plain: String = words.chars().filter(|c| *c != '.').collect();
    Some(match plain.as_str() {
        "name" | "pt" | "px" | "pt name" | "patient name" | "patients name" | "patient's name" | "client"
        | "client name" | "full name" | "surname" | "first name" | "initials" => Elsewhere::Patient,
        "clinician" | "therapist" | "physio" | "physiotherapist" | "physical therapist" | "provider"
        | "clinic" | "from" | "prescriber" | "prescribed by" => Elsewhere::Key(Key::By),
        "next appt" | "next appointment" | "next visit" | "follow up" | "follow-up" | "f/u" | "fu" => {
            Elsewhere::Key(Key::Review)
        }
        "dx" | "diagnosis" | "hx" | "history" | "pmh" | "pmhx" | "subjective" | "objective"
        | "assessment" | "soap" | "impression" | "problem" | "problems" | "s" | "o" | "a" | "hpc" | "pc"
        | "o/e findings" => Elsewhere::Key(Key::Finding),
        "dos" | "date of surgery" | "surgery date" | "op date" | "dosx" => Elsewhere::Key(Key::Surgery),
        "doi" | "date of injury" | "injury date" => Elsewhere::Key(Key::Injury),
        "start date" | "begin" => Elsewhere::Key(Key::Start),
        "review date" => Elsewhere::Key(Key::Review),
        "edd" | "due date" => Elsewhere::Key(Key::Due),
        "wb status" | "weight bearing status" | "weight-bearing status" | "wbs" => {
            Elsewhere::Key(Key::Weight)
        }
        "rom" | "rom restriction" | "rom restrictions" | "restriction" | "restrictions" => {
            Elsewhere::Key(Key::Limit)
        }
        "date" => Elsewhere::Date,
        "dob" | "date of birth" | "age" | "sex" | "gender" | "phone" | "tel" | "telephone" | "mobile"
        | "cell" | "email" | "e-mail" | "address" | "nhs" | "nhs no" | "nhs number" | "mrn" | "urn"
        | "hospital number" | "hospital no" | "id" | "ref" | "gp" | "insurance" | "occupation"
        | "next of kin" | "emergency contact" | "emergency contacts" | "dh" | "medication"
        | "medications" | "meds" | "allergies" | "sh" | "consent" => Elsewhere::Record,
        "contraindication" | "contraindications" | "ci" => Elsewhere::Danger,
        "red flag" | "red flags" | "redflags" | "rf" | "rfs" | "flags" | "yellow flag" | "yellow flags"
        | "orange flags" | "blue flags" | "black flags" | "psychosocial" | "result" | "results"
        | "test results" | "investigation" | "investigations" | "ix" | "imaging" | "scan" | "scans"
        | "mri" | "x-ray" | "x ray" | "xray" | "xr" | "ct" | "uss" | "ultrasound" | "bloods"
        | "blood tests" | "labs" | "neuro" | "neurology" | "neuro exam" | "special questions"
        | "special qs" | "sq" | "sqs" | "obs" | "observations" | "vitals" | "vital signs" | "bp"
        | "outcome measures" | "proms" | "prom" | "outcomes" | "power" | "reflexes" | "sensation"
        | "myotomes" | "dermatomes" | "palpation" | "special tests" | "tests" | "safeguarding" | "mood"
        | "mental health" | "symptoms" | "aggs" | "aggravating" | "easing" | "eases" | "24 h pattern"
        | "24h pattern" | "exam" | "examination" | "on examination" | "complaining of" | "pain"
        | "pain score" | "vas" | "nprs" | "phq-9" | "phq9" | "gad-7" | "gad7" => Elsewhere::Private,
        _ => return None,
    })
}

/// Near reserved keys for words before a colon that are none. Stricter than for names: `bridge` is not
/// near `range`.
pub fn near_keys(words: &str) -> Vec<&'static str> {
    let length = words.chars().count();
    let bound = match length {
        0..=1 => return Vec::new(),
        2..=5 => 1,
        _ => 2,
    };
    let all = Key::ALL.iter().map(|k| k.word()).filter(|w| 3 <= w.len());
    let mut found = near::within(words, all, bound);
    let first = |s: &str, i: usize| s.chars().nth(i);
    found.retain(|key| {
        let same = first(key, 0) == first(words, 0);
        let moved = first(key, 1) == first(words, 0) || first(key, 0) == first(words, 1);
        let close = near::distance(words, key, 1).is_some();
        // A short key is near only where its first letter stands; a long one may have lost it.
        if 5 <= key.len() {
            (same || moved) || (close && 5 <= length)
        } else {
            same || (moved && close && 4 <= key.len())
        }
    });
    found
}

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
    Ok((None, value.text.to_string()))
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
        c.word(&["week", "weeks", "wk", "wks"]);
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
            let unit = c.word(&["m", "cm", "mm", "kg", "metres", "metre"])?;
            c.word(&["tall"]);
            c.is_done().then_some((n, unit))
        });
        let millimetres = |mm: u64| u32::try_from(mm).ok().filter(|mm| (500..=2500).contains(mm));
        let stature = match found {
            Some((n, "m" | "metre" | "metres")) => millimetres(n * 10),
            Some((n, "cm")) => millimetres(n / 10),
            Some((n, "mm")) => millimetres(n / 100),
            _ => None,
        };
        let mass = match found {
            Some((n, "kg")) => u32::try_from((n + 50) / 100).ok().filter(|kg| (10..=400).contains(kg)),
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
