//! A diary as text, for keeping.
//!
//! One line says what it is and in which version, then one line for each part of a day:
//!
//! ```text
//! layfigure diary 1
//! 2026-12-01 morning done 1 2 3; pain 4; settled yes
//! 2026-12-02 evening why forgot
//! 2026-12-03 morning done 1; left 2; met call You feel faint, sick or dizzy.
//! ```
//!
//! Reading never fails. A line or a piece of one that is not understood (a later version may write more) is
//! kept word for word and written back. A newer version may add to what a line says, never change what these
//! words mean. A text without its first line is no diary: [`read`] says so, and the caller sets it aside.

use super::{Diary, Met, Number, Score, Session, Urgency, When, WhyNot};
use crate::measure::Date;
use std::fmt::Write as _;

/// The version written.
pub const VERSION: u32 = 1;

const HEAD: &str = "layfigure diary ";

/// What a stored text turned out to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Read {
    Whole(Diary),
    /// Not a diary. The text is for the caller to set aside, so that nothing is lost by the next writing.
    Damaged,
}

/// Reads what was stored.
///
/// ```
/// use layfigure::diary::stored::{Read, read, write};
/// let text = "layfigure diary 1\n2026-12-01 morning done 1 2; pain 4; mood fair\nweather: rain\n";
/// let Read::Whole(diary) = read(text) else { panic!() };
/// assert_eq!(write(&diary), text);
/// assert_eq!(read("{}"), Read::Damaged);
/// ```
pub fn read(text: &str) -> Read {
    if text.trim().is_empty() {
        return Read::Whole(Diary::default());
    }
    let (head, rest) = text.split_once('\n').unwrap_or((text, ""));
    let Some(version) = head.trim().strip_prefix(HEAD).and_then(|v| v.trim().parse::<u32>().ok()) else {
        return Read::Damaged;
    };
    let mut diary = Diary { newer: (VERSION < version).then_some(version), ..Diary::default() };
    for line in rest.split('\n').filter(|line| !line.trim().is_empty()) {
        match session(line.trim()) {
            Some((day, when, pieces)) => {
                let session = diary.sessions.entry((day, when)).or_default();
                for piece in pieces.split(';').map(str::trim).filter(|p| !p.is_empty()) {
                    take(session, piece);
                }
                if session.is_empty() {
                    diary.sessions.remove(&(day, when));
                }
            }
            None => diary.others.push(line.to_string()),
        }
    }
    Read::Whole(diary)
}

/// The day, the part of it, and the pieces behind them.
fn session(line: &str) -> Option<(Date, When, &str)> {
    let (day, rest) = line.split_once(' ')?;
    let rest = rest.trim_start();
    let (when, pieces) = rest.split_once(' ').unwrap_or((rest, ""));
    Some((Date::iso(day)?, When::named(when)?, pieces))
}

/// Takes one piece into a session. A second word on the same matter does not replace the first: it is kept
/// as it is.
fn take(session: &mut Session, piece: &str) {
    let (word, value) = piece.split_once(' ').map_or((piece, ""), |(w, v)| (w, v.trim()));
    let taken = match word {
        "done" | "left" => {
            let mut strange = Vec::new();
            let numbers = if word == "done" { &mut session.done } else { &mut session.left };
            for each in value.split_whitespace() {
                match plain(each).and_then(Number::new) {
                    Some(number) => {
                        numbers.insert(number);
                    }
                    None => strange.push(each),
                }
            }
            if !strange.is_empty() {
                session.others.push(format!("{word} {}", strange.join(" ")));
            }
            true
        }
        // A sign that was met; cleared: the patient has called since.
        "met" | "cleared" => {
            let (urgency, words) = value.split_once(' ').unwrap_or((value, ""));
            let met = Urgency::named(urgency).map(|urgency| Met::new(urgency, words));
            first(&mut session.met, met.map(|met| Met { cleared: word == "cleared", ..met }))
        }
        "pain" => {
            let score = plain(value).and_then(|n| u8::try_from(n).ok()).and_then(Score::new);
            first(&mut session.pain, score)
        }
        "settled" => first(
            &mut session.settled,
            match value {
                "yes" => Some(true),
                "no" => Some(false),
                _ => None,
            },
        ),
        "why" => first(&mut session.why_not, WhyNot::named(value)),
        _ => false,
    };
    if !taken {
        session.others.push(piece.to_string());
    }
}

/// A number as we write it: no sign, no leading zero, so that what is written back is what was there.
fn plain(text: &str) -> Option<u16> {
    let number: u16 = text.parse().ok()?;
    (number.to_string() == text).then_some(number)
}

/// Sets what is not yet set; true where that says all that the piece said.
fn first<T: PartialEq>(place: &mut Option<T>, value: Option<T>) -> bool {
    match (place.as_ref(), value) {
        (None, Some(value)) => {
            *place = Some(value);
            true
        }
        (Some(known), Some(value)) => *known == value,
        (_, None) => false,
    }
}

/// Takes into a diary what another of the same plan has. Where both say something of one matter, what stands here is
/// what counts, and the other's words are kept as they are. A second time changes nothing.
///
/// ```
/// use layfigure::diary::stored::{Read, merge, read, write};
/// let whole = |text: &str| match read(text) { Read::Whole(diary) => diary, Read::Damaged => panic!() };
/// let mut diary = whole("layfigure diary 1\n2026-12-01 morning done 1; pain 3\n");
/// let other = whole("layfigure diary 1\n2026-12-01 morning done 2; pain 5\n2026-12-02 evening why forgot\n");
/// merge(&mut diary, &other);
/// merge(&mut diary, &other);
/// let both = "layfigure diary 1\n2026-12-01 morning done 1 2; pain 3; pain 5\n2026-12-02 evening why forgot\n";
/// assert_eq!(write(&diary), both);
/// ```
pub fn merge(diary: &mut Diary, other: &Diary) {
    for (at, theirs) in &other.sessions {
        let session = diary.sessions.entry(*at).or_default();
        for piece in pieces(theirs) {
            if !session.others.contains(&piece) {
                take(session, &piece);
            }
        }
    }
    for line in &other.others {
        if !diary.others.contains(line) {
            diary.others.push(line.clone());
        }
    }
    diary.newer = diary.newer.max(other.newer);
}

/// What a session says, as it is stored.
fn pieces(session: &Session) -> Vec<String> {
    let mut pieces = Vec::new();
    for (word, list) in [("done", &session.done), ("left", &session.left)] {
        if !list.is_empty() {
            let numbers: Vec<String> = list.iter().map(|n| n.get().to_string()).collect();
            pieces.push(format!("{word} {}", numbers.join(" ")));
        }
    }
    pieces.extend(session.pain.map(|p| format!("pain {}", p.get())));
    pieces.extend(session.settled.map(|s| format!("settled {}", if s { "yes" } else { "no" })));
    pieces.extend(session.why_not.map(|w| format!("why {}", w.name())));
    if let Some(met) = &session.met {
        let word = if met.cleared { "cleared" } else { "met" };
        pieces.push(format!("{word} {} {}", met.urgency.name(), met.words()).trim_end().to_string());
    }
    pieces.extend(session.others.iter().cloned());
    pieces
}

/// The diary as text; [`read`] gives it back.
pub fn write(diary: &Diary) -> String {
    let mut out = format!("{HEAD}{}\n", diary.newer.unwrap_or(VERSION));
    for ((day, when), session) in &diary.sessions {
        let _ = writeln!(out, "{day} {} {}", when.name(), pieces(session).join("; "));
    }
    for line in &diary.others {
        out.push_str(line);
        out.push('\n');
    }
    out
}
