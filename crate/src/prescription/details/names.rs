//! The names that a head may have.

use super::vocabulary::{OTHERS, OTHERS_FIRST, POSTURES, is_doing};
use super::{MOST_WORDS, side_at};
use crate::catalog::find::key;
use crate::catalog::terms::Term;
use crate::catalog::{Catalog, Exercise};
use crate::language::token::{Sort, Token};
use crate::language::typed::Typed;
use crate::text::fold::folded;
use crate::text::near::opposes;

/// Words of a text as names are compared, with their bytes; letters and digits that touch are one word.
pub(super) fn words(typed: &Typed<'_>) -> Vec<(String, usize, usize)> {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    let mut open = false;
    for token in &typed.all {
        let inner = !matches!(token.sort, Sort::Sign(_));
        match runs.last_mut().filter(|_| open && inner && !token.spaced) {
            Some(run) => run.1 = token.end,
            None if inner => runs.push((token.start, token.end)),
            None => {}
        }
        open = inner;
    }
    runs.into_iter().map(|(from, to)| (key(typed.text.get(from..to).unwrap_or("")), from, to)).collect()
}

/// The names that a head may have.
pub(super) struct Names<'a> {
    pub(super) catalog: &'static Catalog,
    pub(super) own: Vec<String>,
    pub(super) words: &'a [(String, usize, usize)],
    pub(super) head: &'a str,
}

impl Names<'_> {
    /// The end of the longest name that begins at the byte.
    pub(super) fn end(&self, start: usize) -> Option<usize> {
        let first = self.words.iter().position(|(_, from, _)| *from == start)?;
        let mut joined = String::new();
        let mut best = None;
        let mut before: Option<usize> = None;
        for (word, from, to) in self.words.iter().skip(first).take(MOST_WORDS) {
            let gap = before.map_or("", |b| self.head.get(b..*from).unwrap_or(","));
            let joins = |c: char| crate::text::is_space(c) || matches!(c, '-' | '‐' | '‑');
            if !gap.chars().all(joins) || 1 < gap.chars().filter(|c| !crate::text::is_space(*c)).count() {
                break;
            }
            before = Some(*to);
            // Articles are no part of a name.
            if word.is_empty() {
                continue;
            }
            if !joined.is_empty() {
                joined.push(' ');
            }
            joined.push_str(word);
            if self.catalog.is_name(&joined) || self.own.contains(&joined) {
                best = Some(*to);
            }
        }
        best
    }

    /// An abbreviation in capitals is a name by itself: `SLR`, `STS`.
    pub(super) fn abbreviation(&self, start: usize) -> Option<usize> {
        let (_, _, end) = self.words.iter().find(|(_, from, _)| *from == start)?;
        let typed = self.head.get(start..*end)?;
        let capitals = (3..=5).contains(&typed.len()) && typed.bytes().all(|b| b.is_ascii_uppercase());
        let side = ["RLE", "LLE", "RUE", "LUE", "RHS", "LHS", "BILAT"].contains(&typed);
        (capitals && !side).then_some(*end)
    }
}

/// Where a name that nobody knows ends, in bytes: before a side, a comma, a dash or a bracket, which part it from words
/// that can begin no name.
pub(super) fn unknown_end(all: &[Token<'_>], at: usize) -> Option<usize> {
    let end = (at + 1..all.len().min(at + MOST_WORDS)).find(|i| {
        let Some(token) = all.get(*i) else { return false };
        let next_spaced = all.get(i + 1).is_none_or(|t| t.spaced);
        match token.sort {
            Sort::Sign(',' | ';' | '[' | '(') => true,
            Sort::Sign('-') => token.spaced && next_spaced,
            Sort::Sign(_) | Sort::Number(_) => false,
            Sort::Word(w) => token.spaced && w.len() <= 2 && side_at(all, *i).is_some(),
        }
    })?;
    let some = all.get(at..end)?;
    let words = some.iter().all(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign('-' | '/')));
    words.then(|| some.last().map(|t| t.end)).flatten()
}

/// Whether a detail may make it another exercise than the one named.
pub(super) fn is_another(
    name: &str,
    entry: Option<&Exercise>,
    detail: &str,
    names: &Names<'_>,
    start: usize,
) -> bool {
    let text = folded(detail);
    let said: Vec<&str> =
        text.split(|c: char| !c.is_alphanumeric() && c != '\'').filter(|w| !w.is_empty()).collect();
    let first = said.first().copied().unwrap_or("");
    if said.iter().any(|w| OTHERS.contains(w))
        || OTHERS_FIRST.contains(&first)
        || opposes(&folded(name), &text)
    {
        return true;
    }
    let limb = |w: &str| matches!(w, "leg" | "legs" | "legged" | "arm" | "arms" | "armed" | "limb");
    let single = |w: &str| matches!(w, "single" | "one" | "1" | "double" | "straight");
    let on_one = said.windows(2).any(|w| matches!(w, [a, b] if single(a) && *a != "straight" && limb(b)));
    if on_one {
        return true;
    }
    // A posture that the exercise is not in.
    let lead = said
        .iter()
        .take_while(|w| {
            matches!(
                **w,
                "in" | "from"
                    | "while"
                    | "whilst"
                    | "the"
                    | "half"
                    | "high"
                    | "long"
                    | "side"
                    | "four"
                    | "point"
                    | "on"
            )
        })
        .count();
    let own = entry.and_then(|e| e.position).map(|p| p.word());
    if let Some((posture, position)) = POSTURES.iter().find(|(w, _)| said.get(lead) == Some(w))
        && (lead == 0 || first != "on")
    {
        let same = own.is_some_and(|own| own.starts_with(position) && (*posture != "kneeling" || lead < 3));
        let alone = lead + 2 < said.len();
        // `standing tall`, `sitting upright` is how; what goes on for longer says where.
        let how = matches!(said.get(lead + 1), Some(&("tall" | "upright" | "straight")));
        if !(same || lead == 0 && !alone && how) {
            return true;
        }
    }
    // A second exercise.
    let joins = said
        .iter()
        .take_while(|w| matches!(**w, "with" | "and" | "into" | "plus" | "then" | "to" | "a" | "the"))
        .count();
    let skipped = names.words.iter().filter(|(_, from, _)| start <= *from).nth(joins);
    if skipped.is_some_and(|(_, from, _)| names.end(*from).is_some()) {
        return true;
    }
    let with = matches!(first, "with" | "and" | "into" | "plus" | "then");
    with && said.iter().skip(joins).take(3).any(|w| is_doing(w))
}
