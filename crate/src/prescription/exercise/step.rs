//! Parts what a step says, where a dose may stand without a name.

use super::begin::{is_strong, piece_end};
use super::{Parted, colon, has_work, is_named, part, says_dose};
use crate::dose::Dose;
use crate::dose::find::{Hit, Item, at};
use crate::dose::of;
use crate::language::token::{Cursor, Sort};
use crate::language::typed::Typed;
use crate::prescription::later;

/// The byte behind words that say no more than that something takes the place of what stands above: `switch to`,
/// `replace with`, `progress to`.
pub fn step_verb(typed: &Typed<'_>) -> Option<usize> {
    let mut c = typed.start();
    const PAIRS: [[&str; 2]; 20] = [
        ["switch", "to"],
        ["swap", "to"],
        ["swap", "for"],
        ["change", "to"],
        ["replace", "with"],
        ["replace", "by"],
        ["replaced", "by"],
        ["replaced", "with"],
        ["progress", "to"],
        ["progressing", "to"],
        ["move", "to"],
        ["go", "to"],
        ["drop", "to"],
        ["increase", "to"],
        ["reduce", "to"],
        ["return", "to"],
        ["revert", "to"],
        ["back", "to"],
        ["cut", "to"],
        ["decrease", "to"],
    ];
    let on = c.words(&["move", "on", "to"])
        || c.words(&["replace", "it", "with"])
        || c.words(&["go", "back", "to"])
        || c.words(&["go", "down", "to"])
        || c.words(&["go", "up", "to"])
        || c.words(&["move", "up", "to"])
        || c.words(&["cut", "down", "to"])
        || c.words(&["drop", "back", "to"])
        || c.words(&["drop", "down", "to"]);
    let found = on || PAIRS.iter().any(|pair| c.words(pair)) || c.word(&["then"]).is_some();
    if found {
        c.word(&["do"]);
    }
    let found = found || just(&mut c);
    c.peek().filter(|t| found && t.spaced).map(|t| t.start)
}

/// The byte behind a first word that only says that something is to be done.
fn tried(typed: &Typed<'_>) -> Option<usize> {
    let mut c = typed.start();
    c.word(&["do", "try", "use"])?;
    c.peek().filter(|t| t.spaced).map(|t| t.start)
}

/// Passes over words that only say that something is to be done: `do 2 sets`, `try`, `only do`.
fn just(c: &mut Cursor<'_>) -> bool {
    let begun = c.at;
    c.word(&["only", "just"]);
    c.word(&["do", "try", "use"]);
    let dosed = matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_)));
    begun < c.at && dosed
}

/// Parts a step's value, where a dose may stand without a name: `3 x 12`, `2 sets, slowly`.
pub fn part_step(typed: &Typed<'_>) -> Parted {
    let mut parted = stepped(typed);
    // A step has a name, a side and a dose: what else was typed stays as words of its dose.
    let beside = parted.region.take().into_iter().chain(parted.affected.take());
    let beside: Vec<String> =
        beside.chain(core::mem::take(&mut parted.details)).map(|said| said.text).collect();
    parted.dose.words.splice(0..0, beside);
    parted
}

fn stepped(typed: &Typed<'_>) -> Parted {
    let Typed { text: content, place, ref all } = *typed;
    if let Some(at) = step_verb(typed) {
        let parted = part_step(&typed.cut(at, content.len()));
        let says = says_dose(&parted.dose);
        if says
            || !later::is_instruction(typed)
            || parted.name.as_ref().is_some_and(|n| is_named(&n.text, &[]))
        {
            return parted;
        }
    }
    // `try single leg bridge 3 x 6`
    if let Some(at) = tried(typed) {
        let parted = part_step(&typed.cut(at, content.len()));
        if has_work(&parted.dose) || !parted.dose.loads.is_empty() {
            return parted;
        }
    }
    if later::is_instruction(typed) && colon(content).is_none() && !begins_dosed(typed) {
        // `halve it`: what is to be done, in words, and no other exercise.
        let dose = Dose { words: vec![content.to_string()], ..Dose::default() };
        return Parted::nameless(None, dose, place, Vec::new());
    }
    let c = Cursor { all: all.get(..piece_end(all, 0)).unwrap_or(&[]), at: 0 };
    // `until review, 2 x 8` names nothing either.
    let whole = |hit: &Hit| hit.next == c.all.len() && !hit.items.iter().any(|i| matches!(i, Item::Sided(_)));
    let dosed = at(c, content).is_some_and(|hit| hit.items.iter().any(is_strong) || whole(&hit));
    if !dosed || colon(content).is_some() {
        return part(typed);
    }
    let (mut dose, notices) = of(typed);
    let side = dose.sides.take();
    Parted::nameless(side, dose, place, notices)
}

/// Whether a step's value begins with a dose, such as one that grows.
fn begins_dosed(typed: &Typed<'_>) -> bool {
    at(typed.start(), typed.text).is_some_and(|hit| hit.items.iter().any(is_strong) && hit.doubt.is_none())
}
