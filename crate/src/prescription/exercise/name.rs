//! What stands in or beside a name: its side with a place on the body, and a load.

use crate::dose::Sided;
use crate::dose::find::sides::one_side;
use crate::dose::find::sides::sided;
use crate::dose::find::{Item, is_filler};
use crate::dose::parts::Load;
use crate::language::token::{Cursor, Sort};
use crate::language::typed::Typed;

/// A load at the end of a name: `… with ankle weight 1 kg`, `… with red band`. What is left, in bytes.
pub(super) fn trailing_load(typed: &Typed<'_>) -> Option<(usize, Load)> {
    let Typed { text: name, ref all, .. } = *typed;
    const COLOURS: [&str; 18] = [
        "rtb", "ytb", "gtb", "red", "yellow", "green", "blue", "black", "silver", "gold", "grey", "gray",
        "white", "orange", "purple", "pink", "light", "heavy",
    ];
    for (i, token) in all.iter().enumerate().skip(1) {
        let with = matches!(
            all.get(i - 1).map(|t| t.sort),
            Some(Sort::Word("with" | "w" | "and" | "a" | "the") | Sort::Sign('/' | '+'))
        );
        let colour = matches!(token.sort, Sort::Word(w) if COLOURS.contains(&w));
        let c = Cursor { all, at: i };
        let Some(hit) = crate::dose::find::load::load(c, name) else { continue };
        let [Item::Load(load)] = hit.items.as_slice() else { continue };
        if hit.next != all.len() || !(with || colour || matches!(load, Load::Mass { .. })) {
            continue;
        }
        let mut from = i;
        while 1 < from && is_filler(Cursor { all, at: from - 1 }) {
            from -= 1;
        }
        let kept = all.get(from)?.start;
        return Some((kept, load.clone()));
    }
    None
}

pub(super) struct NameSide {
    pub(super) side: Sided,
    pub(super) region: Option<(usize, usize)>,
    /// What is left of the name, in bytes.
    pub(super) from: usize,
    pub(super) to: usize,
}

/// Whether the word before a side makes it part of what is said there: `over the right`.
fn is_held(before: Option<Sort<'_>>) -> bool {
    const BEFORE: [&str; 12] =
        ["the", "to", "on", "with", "from", "towards", "of", "and", "over", "your", "in", "or"];
    matches!(before, Some(Sort::Word(word)) if BEFORE.contains(&word))
}

/// A side at either end of a name, or in its last comma piece with a place on the body after it.
pub(super) fn name_side(typed: &Typed<'_>, with_details: bool) -> Option<NameSide> {
    let Typed { text: name, ref all, .. } = *typed;
    let whole = name.len();
    // The last piece: `, right`, `, right knee`, `, each side`.
    let comma = all.iter().rposition(|t| matches!(t.sort, Sort::Sign(',' | ';'))).filter(|i| 0 < *i);
    if let Some(comma) = comma {
        let piece = Cursor { all, at: comma + 1 };
        if let Some(hit) = sided(piece)
            && let [Item::Sided(side)] = hit.items.as_slice()
        {
            let rest = all.get(hit.next..).unwrap_or(&[]);
            let limb = all.get(hit.next.wrapping_sub(1)).is_some_and(
                |t| matches!(t.sort, Sort::Word(w) if crate::dose::find::sides::LIMBS.contains(&w)),
            );
            // `left foot turned out`, of a name with details: the limb is what the words are about.
            let words = !(with_details && limb) && rest.iter().all(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign('-' | '\'')))
                && rest.len() <= 4
                // `left foot in front` is no place on the body.
                && !(with_details && rest.iter().any(crate::prescription::details::is_start))
                // `right side plank` names an exercise.
                && !rest.iter().any(|t| matches!(t.sort, Sort::Word(w) if crate::prescription::details::is_doing(w)));
            let to = all.get(comma)?.start;
            match (rest.first(), rest.last()) {
                (None, None) => return Some(NameSide { side: *side, region: None, from: 0, to }),
                (Some(a), Some(b)) if words && a.spaced => {
                    return Some(NameSide { side: *side, region: Some((a.start, b.end)), from: 0, to });
                }
                _ => {}
            }
        }
    }
    // At the end with a place on the body: `cold pack right knee`.
    if let Some(i) = all.len().checked_sub(2).filter(|i| 0 < *i) {
        let mut c = Cursor { all, at: i };
        let held = is_held(all.get(i - 1).map(|t| t.sort));
        let whose = one_side(&mut c);
        let (place, start) = (c.peek(), all.get(i));
        let body = crate::language::anatomy::joint(&mut c).is_some() && c.is_done();
        if let (Some(side), Some(place), Some(start), true, false) = (whose, place, start, body, held) {
            return Some(NameSide { side, region: Some((place.start, place.end)), from: 0, to: start.start });
        }
    }
    // At the end: `bridge R`, `bridge (R)`, `bridge each leg`.
    for (i, token) in all.iter().enumerate().skip(all.len().saturating_sub(5).max(1)) {
        let Some(hit) = sided(Cursor { all, at: i }) else { continue };
        let [Item::Sided(side)] = hit.items.as_slice() else { continue };
        let before = all.get(i - 1).map(|t| t.sort);
        let held = is_held(before);
        if hit.next == all.len()
            && !held
            && *side != Sided::Together
            && (token.spaced || token.sort == Sort::Sign('(') || token.sort == Sort::Sign('/'))
        {
            return Some(NameSide { side: *side, region: None, from: 0, to: token.start });
        }
    }
    // `clams B`: a capital that is no letter of a row.
    if let [.., before, last] = all.as_slice()
        && last.spaced
        && name.get(last.start..last.end) == Some("B")
        && !matches!(
            before.sort,
            Sort::Word(
                "option"
                    | "part"
                    | "group"
                    | "plan"
                    | "type"
                    | "vitamin"
                    | "level"
                    | "phase"
                    | "set"
                    | "hepatitis"
                    | "grade"
            )
        )
    {
        return Some(NameSide { side: Sided::Both, region: None, from: 0, to: last.start });
    }
    // At the start: `R straight leg raise`, `(R) bridge`, `right bridge`.
    let mut c = Cursor { all, at: 0 };
    let bracket = c.sign('(');
    let side = one_side(&mut c)?;
    if bracket && !c.sign(')') {
        return None;
    }
    let joined = matches!(
        c.peek().map(|t| t.sort),
        Some(Sort::Sign('/' | '+' | '&' | '-') | Sort::Word("and" | "or" | "to"))
    );
    let next = c.peek().filter(|t| matches!(t.sort, Sort::Word(_) | Sort::Number(_)))?;
    (!joined && (bracket || next.spaced)).then_some(NameSide {
        side,
        region: None,
        from: next.start,
        to: whole,
    })
}
