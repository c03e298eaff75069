//! Rules between exercises, from the words that a dose is tied to: `after heel slide`, `not with lunge`.

use super::resolve::{Scope, entry_of};
use super::{Bond, Exercise, Tie};
use crate::catalog::find::Found;
use crate::dose::parts::{Days, Moment, Often};
use crate::language::typed::lexed;
use crate::notice::Notice;
use crate::notice::kinds::programme::OfProgramme;
use crate::prescription::exercise::part;
use crate::text::Place;
use crate::text::fold::folded;

/// How words begin that name another exercise; the longer before the shorter.
const STARTS: [(&str, Bond); 5] = [
    ("not on the same day as ", Bond::NotOnDay),
    ("not the same day as ", Bond::NotOnDay),
    ("not with ", Bond::NotInSession),
    ("after ", Bond::After),
    ("before ", Bond::Before),
];

/// The bond that words begin with, and what they name.
///
/// ```
/// use layfigure::programme::{Bond, ties::said};
/// assert_eq!(said("not with the lunge"), Some((Bond::NotInSession, "lunge")));
/// assert_eq!(said("with someone"), None);
/// ```
pub fn said(words: &str) -> Option<(Bond, &str)> {
    let lower = words.to_ascii_lowercase();
    STARTS.iter().find_map(|(start, bond)| {
        let rest = lower.strip_prefix(start).and_then(|rest| words.get(words.len() - rest.len()..))?;
        let rest = rest.trim_start();
        Some((*bond, rest.strip_prefix("the ").unwrap_or(rest)))
    })
}

/// Fills in the ties of every exercise, and tells of words that name one which isn't there.
pub fn tie(scope: &Scope<'_>, exercises: &mut [Exercise], notices: &mut Vec<Notice>) {
    let mut all: Vec<Vec<Tie>> = Vec::with_capacity(exercises.len());
    for (me, e) in exercises.iter().enumerate() {
        let mut ties: Vec<Tie> = Vec::new();
        for moment in &e.amount.moments {
            let Moment::Words(words) = moment else { continue };
            if let Some(notice) = company(e, words) {
                notices.push(notice);
            }
            let Some((bond, name)) = said(words) else { continue };
            let named: Vec<usize> =
                named(scope, exercises, name).into_iter().filter(|to| *to != me).collect();
            if named.is_empty()
                && let Some(what) = missing(scope, exercises, bond, words, name)
            {
                notices.push(notice(e, what));
            }
            for to in named {
                let tie = Tie { bond, to };
                if !ties.contains(&tie) {
                    ties.push(tie);
                }
            }
        }
        all.push(ties);
    }
    for (e, ties) in exercises.iter_mut().zip(all) {
        e.ties = ties;
    }
}

/// The exercises of this prescription that the words name: as typed, by the main name, or by any name the catalog
/// knows; on the side that is said, where one is.
fn named(scope: &Scope<'_>, exercises: &[Exercise], words: &str) -> Vec<usize> {
    let parted = lexed(words, Place { line: 1, start: 0, end: words.len() }, part);
    let name = parted.name.map_or_else(|| words.to_string(), |said| said.text);
    let typed = folded(&name);
    let entry = entry_of(scope, &name).map(|entry| entry.name.as_str());
    let found: Vec<usize> = exercises
        .iter()
        .zip(&scope.prescription.exercises)
        .enumerate()
        .filter(|(_, (e, x))| {
            folded(&x.name.text) == typed || folded(&e.name) == typed || entry == Some(e.name.as_str())
        })
        .map(|(at, _)| at)
        .collect();
    let side = parted.side.map(|side| side.to_string());
    let on_side: Vec<usize> = found
        .iter()
        .copied()
        .filter(|at| exercises.get(*at).is_some_and(|e| Some(e.side.words()) == side.as_deref()))
        .collect();
    if on_side.is_empty() { found } else { on_side }
}

/// What to say of words that name no exercise here. `after breakfast` names none and needs no word.
fn missing(
    scope: &Scope<'_>,
    exercises: &[Exercise],
    bond: Bond,
    words: &str,
    name: &str,
) -> Option<OfProgramme> {
    let near = match scope.catalog.find(name) {
        Found::Near(near) => near.into_iter().find(|n| exercises.iter().any(|e| e.name == n.name)),
        Found::One(_) | Found::None => None,
    };
    let is_apart = match bond {
        Bond::After | Bond::Before => false,
        Bond::NotInSession | Bond::NotOnDay => true,
    };
    match (near, entry_of(scope, name)) {
        // Without a typo of a name that is here, `before`, `after` and a few words are a moment of the day.
        (Some(near), _) => {
            let near = super::resolve::lower_first(&near.name);
            Some(OfProgramme::TieNearName { words: words.to_string(), near, is_apart })
        }
        (None, Some(_)) => Some(OfProgramme::TieElsewhere { name: name.to_string(), is_apart }),
        (None, None) if !is_apart => None,
        (None, None) => Some(OfProgramme::TieUnknown { name: name.to_string(), is_apart }),
    }
}

/// Someone has to be there, and no days are said on which they are.
fn company(e: &Exercise, words: &str) -> Option<Notice> {
    let lower = words.to_ascii_lowercase();
    let with = lower.starts_with("only with ") || lower.starts_with("with some");
    let on_days = matches!(e.amount.often, Often::Calendar { days: Days::On(_), .. });
    (with && !on_days).then(|| notice(e, OfProgramme::DaysWithWhom { words: words.to_string() }))
}

fn notice(e: &Exercise, what: OfProgramme) -> Notice {
    let place = if e.dose_place.start < e.dose_place.end { e.dose_place } else { e.name_place };
    Notice::new(what, place)
}
