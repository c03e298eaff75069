//! A line before it is read: remarks behind it, its length, and the block of an own exercise.

use super::classify::LONGEST_BARE;
use crate::language::typed::{Typed, lexed};
use crate::prescription::Said;
use crate::prescription::condition;
use crate::prescription::exercise::colon;
use crate::prescription::words::Key;
use crate::text::fold::folded;
use crate::text::{Line, Place, trim};

pub(super) fn is_too_long(trimmed: &str) -> bool {
    crate::text::LONGEST_LINE < trimmed.len() && crate::text::LONGEST_LINE < trimmed.chars().count()
}

/// Where the remark behind a line begins that itself begins at `begins`.
fn remark_at(raw: &str, begins: usize) -> Option<usize> {
    raw.match_indices("//").map(|(at, _)| at).find(|at| {
        // `wt shift in // bars`: the trade's sign for parallel.
        let behind = raw.get(at + 2..).map_or("", crate::text::trim_start);
        let bars = behind.get(..3).is_some_and(|word| word.eq_ignore_ascii_case("bar"));
        begins < *at
            && !bars
            && raw.get(..*at).and_then(|before| before.chars().next_back()).is_some_and(crate::text::is_space)
    })
}

pub(super) fn has_remark(text: &str) -> bool {
    remark_at(text, text.len() - crate::text::trim_start(text).len()).is_some()
}

/// A line without the private remark behind it: `bridge 3x10 // she hates these`.
pub(in crate::prescription) fn without_remark<'a>(line: &Line<'a>) -> (Line<'a>, Option<Said>) {
    let raw = line.raw;
    let Some(at) = remark_at(raw, line.start) else { return (*line, None) };
    let behind = raw.get(at + 2..).unwrap_or("");
    let text = trim(behind);
    let start = at + 2 + (behind.len() - crate::text::trim_start(behind).len());
    let place = Place { line: line.number, start, end: start + text.len() };
    let kept = crate::text::trim_end(raw.get(..at).unwrap_or(""));
    (Line { raw: kept, end: kept.len(), ..*line }, Some(Said { text: text.to_string(), place }))
}

/// A line that begins with a plus that adds and is no bullet: `+ 2 min every 3 days`.
pub(super) fn with_plus(line: Line<'_>) -> Line<'_> {
    let whole = Line { start: line.raw.len() - crate::text::trim_start(line.raw).len(), ..line };
    if !whole.content().starts_with('+') || LONGEST_BARE < whole.content().len() {
        return line;
    }
    let (dose, _) = crate::dose::read(whole.content(), whole.place());
    // `+ 0.5 kg each wk if pain <= 3`
    let conditional = |words: &String| words.starts_with("if ") || words.starts_with("when ");
    let adds = dose.ramp.is_some() && dose.work.is_empty() && dose.words.iter().all(conditional);
    if adds { whole } else { line }
}

/// A line that begins with the sign of a result and no bullet: `+ Lachman, - pivot shift`.
pub(super) fn with_sign(line: Line<'_>) -> Line<'_> {
    let whole = Line { start: line.raw.len() - crate::text::trim_start(line.raw).len(), ..line };
    let signed = whole.start < line.start && whole.content().starts_with(['+', '-', '–', '−']);
    if !signed || LONGEST_BARE < whole.content().len() {
        return line;
    }
    let is_result = |typed: &Typed<'_>| condition::begins_with_sign(&typed.all);
    if lexed(whole.content(), whole.place(), is_result) { whole } else { line }
}

pub(super) fn is_own_header(trimmed: &str) -> bool {
    let word = Key::Exercise.word();
    let may_be = trimmed.starts_with(|c: char| !c.is_ascii() || word.starts_with(c.to_ascii_lowercase()));
    may_be
        && colon(trimmed)
            .is_some_and(|(at, _)| Key::of(&folded(trimmed.get(..at).unwrap_or(""))) == Some(Key::Exercise))
}

/// Whether a line is one of the catalog's own keys (or, after a blank line, the start of a pose).
pub(super) fn is_catalog_line(trimmed: &str, pose_only: bool) -> bool {
    const CATALOG: [&str; 24] = [
        "like",
        "also",
        "region",
        "purpose",
        "kind",
        "side",
        "sides",
        "position",
        "kit",
        "works",
        "loaded",
        "dose",
        "set up",
        "do",
        "feel",
        "if not felt",
        "fault",
        "stop if",
        "easier",
        "harder",
        "must show",
        "caution",
        "source",
        "pose",
    ];
    let Some((at, _)) = colon(trimmed) else { return false };
    let key = folded(trimmed.get(..at).unwrap_or(""));
    if pose_only { key == "pose" } else { CATALOG.contains(&key.as_str()) }
}
