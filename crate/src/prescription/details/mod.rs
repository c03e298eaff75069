//! A name with details: `lunge R, hold the chair`, `calf stretch L with the knee bent`.
//!
//! The longest known name that stands in the line as whole words is the exercise; side words are its side wherever they
//! stand, and all other words are the clinician's own cue, word for word. Details come after the name: behind a side, a
//! comma, a dash or in brackets, or beginning with a word that can go on with no name (`with`, `holding`, `arms crossed`).
//! Words that may make it another exercise (`reverse`, `single leg`, the opposite of a word of the name, a posture that is
//! not the exercise's own, a second exercise) leave the name as it was typed: nothing is guessed.

mod held;
mod names;
mod vocabulary;

pub use held::notices;
pub use vocabulary::{is_doing, is_start};

use crate::catalog::find::key;
use crate::catalog::{Catalog, find::Found};
use crate::dose::Sided;
use crate::dose::find::Item;
use crate::dose::find::sides::{one_side, sided};
use crate::language::anatomy;
use crate::language::token::{Cursor, Sort, Token};
use crate::language::typed::Typed;
use names::{Names, is_another, unknown_end, words};
use vocabulary::{PARTS, STARTS, WAYS};

/// A longer head of a line, in bytes, is no name with details.
const LONGEST: usize = 300;
/// At most so many words are a name.
const MOST_WORDS: usize = 9;

/// A line's head parted; all in bytes of the head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Split {
    pub name: (usize, usize),
    pub sides: Vec<Sided>,
    pub region: Option<(usize, usize)>,
    /// A limb that is named by the problem: `affected leg`.
    pub affected: Option<(usize, usize)>,
    pub details: Vec<(usize, usize)>,
}

fn word<'a>(t: Option<&Token<'a>>) -> &'a str {
    match t.map(|t| t.sort) {
        Some(Sort::Word(w)) => w,
        _ => "",
    }
}

/// Parts the head of a line; None where no known name stands in it, or where the other words may make it another
/// exercise. `own` are the folded names of exercises that the text brings itself.
pub fn split(typed: &Typed<'_>, own: &[String]) -> Option<Split> {
    let Typed { text: head, ref all, .. } = *typed;
    if LONGEST < head.len() {
        return None;
    }
    let words = words(typed);
    let names = Names {
        catalog: Catalog::embedded(),
        own: own.iter().map(|name| key(name)).collect(),
        words: &words,
        head,
    };
    let mut made =
        Split { name: (0, 0), sides: Vec::new(), region: None, affected: None, details: Vec::new() };
    let mut at = 0;
    let mut known = true;
    let name_end = loop {
        let token = all.get(at)?;
        if let Some(end) = names.end(token.start) {
            made.name = (token.start, end);
            break end;
        }
        if let Some(end) = names.abbreviation(token.start) {
            made.name = (token.start, end);
            known = false;
            break end;
        }
        // `both knees to chest` is no side of `knee to chest`.
        if word(Some(token)) == "both" {
            return None;
        }
        // `R side plank`: the limb's word may be the name's.
        let mut bare = Cursor { all, at };
        let named = one_side(&mut bare)
            .filter(|_| bare.peek().is_some_and(|t| t.spaced && names.end(t.start).is_some()));
        if let Some(side) = named {
            made.sides.push(side);
            at = bare.at;
        } else if let Some((side, next)) = side_at(all, at) {
            made.sides.push(side);
            at = next;
        } else if let Some(next) = affected_at(all, at) {
            made.affected = Some((token.start, all.get(next - 1)?.end));
            at = next;
        } else if WAYS.contains(&word(Some(token))) {
            made.details.push((token.start, token.end));
            at += 1;
        } else if matches!(word(Some(token)), "the" | "a")
            || matches!(token.sort, Sort::Sign(',' | '-' | '.'))
        {
            at += 1;
        } else {
            let end = unknown_end(all, at).filter(|_| made.details.is_empty())?;
            made.name = (token.start, end);
            known = false;
            break end;
        }
    };
    let name = head.get(made.name.0..made.name.1)?;
    let entry = match names.catalog.find(name) {
        Found::One(entry) => Some(entry),
        Found::Near(_) | Found::None => None,
    };
    let from = all.iter().position(|t| name_end <= t.start).unwrap_or(all.len());
    for piece in pieces(all, from) {
        piece_of(all, piece, known, &names, &mut made)?;
    }
    if !known && made.details.is_empty() && made.sides.is_empty() && made.affected.is_none() {
        return None;
    }
    let good = made
        .details
        .iter()
        .all(|(a, b)| head.get(*a..*b).is_some_and(|detail| !is_another(name, entry, detail, &names, *a)));
    good.then_some(made)
}

/// A run of tokens, and whether something parts it from the name.
#[derive(Clone, Copy)]
struct Piece {
    from: usize,
    to: usize,
    parted: bool,
    last: bool,
}

/// What stands behind the name, between commas, dashes, full stops and brackets.
fn pieces(all: &[Token<'_>], from: usize) -> Vec<Piece> {
    let mut out = Vec::new();
    let mut start = from;
    let mut parted = false;
    let mut depth = 0_usize;
    for i in from..=all.len() {
        let Some(token) = all.get(i) else {
            out.push(Piece { from: start, to: i, parted, last: true });
            break;
        };
        let next_spaced = all.get(i + 1).is_none_or(|t| t.spaced);
        let ends = match token.sort {
            Sort::Sign(',' | ';' | '|' | '–' | '—') => true,
            Sort::Sign('-') => token.spaced && next_spaced,
            Sort::Sign('.' | ':') => {
                next_spaced && !matches!(word(all.get(i.wrapping_sub(1))), "r" | "l" | "rt" | "lt")
            }
            Sort::Sign('(' | '[') => {
                depth += 1;
                true
            }
            Sort::Sign(')' | ']') => {
                let open = 0 < depth;
                depth = depth.saturating_sub(1);
                open
            }
            _ => false,
        };
        if ends {
            out.push(Piece { from: start, to: i, parted, last: false });
            start = i + 1;
            parted = true;
        }
    }
    out.retain(|p| p.from < p.to);
    if let Some(last) = out.last_mut() {
        last.last = true;
    }
    out
}

/// Takes one piece; None: its words may belong to the name.
fn piece_of(all: &[Token<'_>], piece: Piece, known: bool, names: &Names<'_>, made: &mut Split) -> Option<()> {
    let Piece { mut from, mut to, mut parted, last } = piece;
    let mine = all.get(..to)?;
    // `R pulls`: which arm helps, not which one works.
    const HELPS: [&str; 10] =
        ["pulls", "pushes", "helps", "assists", "supports", "holds", "lifts", "presses", "guides", "resists"];
    let helped = side_at(mine, from).is_some_and(|(_, next)| {
        let mut at = next;
        while matches!(word(mine.get(at)), "arm" | "hand" | "leg" | "foot") {
            at += 1;
        }
        HELPS.contains(&word(mine.get(at)))
    });
    if piece.parted && helped {
        made.details.push((mine.get(from)?.start, mine.last()?.end));
        return Some(());
    }
    // Sides, one behind the other: `R only`, `on the right`, `both legs together`.
    while let Some((side, next)) = side_at(mine, from) {
        let ends = next == to;
        let one = matches!(side, Sided::Left | Sided::Right);
        let mut c = Cursor { all: mine, at: next };
        let joint = mine.get(next).filter(|t| t.spaced).map(|t| t.start);
        if one
            && made.sides.is_empty()
            && made.region.is_none()
            && anatomy::joint(&mut c).is_some()
            && c.is_done()
        {
            made.sides.push(side);
            made.region = Some((joint?, mine.last()?.end));
            return Some(());
        }
        // Of a piece of its own that goes on, the side belongs to its words: `L hand on table`.
        let bare = mine.get(from).is_some_and(|t| t.end - t.start <= 2) || !one;
        let limb = 1 < next - from && one;
        if !ends && (piece.parted && one && (!bare || limb) || !made.sides.is_empty()) {
            break;
        }
        // `both feet turned out`, `alternating arms crossed` say how the limbs are held, not which side works.
        let together =
            |t: &Token<'_>| matches!(t.sort, Sort::Word("together" | "at" | "only" | "slowly" | "in"));
        let limbs =
            1 < next - from && !matches!(word(mine.get(from)), "each" | "per" | "ea" | "every" | "either");
        if !ends
            && !one
            && limbs
            && PARTS.contains(&word(mine.get(next - 1)))
            && mine.get(next).is_some_and(|t| matches!(t.sort, Sort::Word(_)) && !together(t))
        {
            break;
        }
        made.sides.push(side);
        // `left foot turned out`: the limb is what the words behind it are about.
        let goes_on =
            |t: &Token<'_>| matches!(t.sort, Sort::Word(w) if !STARTS.contains(&w) && !WAYS.contains(&w));
        if limb && mine.get(next).is_some_and(goes_on) && PARTS.contains(&word(mine.get(next - 1))) {
            from = next - 1;
            parted = true;
            break;
        }
        from = next;
        parted = true;
        if ends {
            return Some(());
        }
    }
    if let Some(next) = affected_at(mine, from)
        && made.sides.is_empty()
        && made.affected.is_none()
        && (next == to || !piece.parted)
    {
        made.affected = Some((all.get(from)?.start, all.get(next - 1)?.end));
        from = next;
        parted = true;
    }
    // A side at the very end: `feet wide R`.
    if last && made.sides.is_empty() {
        let end = (from + 1..to).find_map(|i| {
            let (side, next) = side_at(mine, i)?;
            let before = word(mine.get(i - 1));
            let held = matches!(
                before,
                "the"
                    | "to"
                    | "on"
                    | "with"
                    | "from"
                    | "towards"
                    | "of"
                    | "and"
                    | "over"
                    | "your"
                    | "in"
                    | "or"
                    | "by"
            );
            let whole = word(mine.get(i)) == "on";
            let limb = matches!(side, Sided::Left | Sided::Right) && i + 1 < next && !whole;
            (next == to && !limb && (whole || !held)).then_some((i, side))
        });
        if let Some((i, side)) = end {
            made.sides.push(side);
            to = i;
        }
    }
    let loose = |t: Option<&Token<'_>>| matches!(t.map(|t| t.sort), Some(Sort::Sign('-' | '.' | ':' | ',')));
    // The minus of `-5 deg` is none of the signs between.
    let minus = |at: usize| {
        all.get(at).is_some_and(|t| t.sort == Sort::Sign('-'))
            && all.get(at + 1).is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Number(_)))
    };
    while from < to && loose(all.get(from)) && !minus(from) {
        from += 1;
    }
    while from < to && loose(all.get(to - 1)) {
        to -= 1;
    }
    if from == to {
        return Some(());
    }
    // `prone knee bend (R) AAROM`: behind its side a name goes on with no other movement.
    let behind_side = || {
        let words = mine.iter().skip(from).map(|t| word(Some(t)));
        !known
            && piece.parted
            && !made.sides.is_empty()
            && words.clone().next().is_some()
            && !words.clone().any(is_doing)
    };
    // `step-ups 6in`: how high.
    let height = known
        && all.get(from).is_some_and(|t| matches!(t.sort, Sort::Number(_)))
        && matches!(word(all.get(from + 1)), "in" | "inch" | "inches" | "cm" | "mm");
    let loose = parted && known || height || behind_side();
    if !(loose || starts(all.get(..to)?, from)) {
        return None;
    }
    let (start, end) = (all.get(from)?.start, all.get(to - 1)?.end);
    // What begins with a figure alone says nothing.
    let says = names.head.get(start..end)?.chars().any(char::is_alphabetic);
    if !says {
        return None;
    }
    made.details.push((start, end));
    Some(())
}

/// Whether words that follow a name without a sign between can be no part of it.
fn starts(all: &[Token<'_>], at: usize) -> bool {
    let first = word(all.get(at));
    let parted = at.checked_sub(1).and_then(|i| all.get(i)).is_none_or(|t| matches!(t.sort, Sort::Sign(_)));
    if !parted && !all.get(at).is_some_and(|t| t.spaced) {
        return false;
    }
    let next = word(all.get(at + 1));
    if STARTS.contains(&first) {
        // `push up`, `lead leg raise`: a name goes on.
        return !(matches!(first, "push" | "drive" | "hold" | "squeeze") && next.is_empty());
    }
    let doing = is_doing;
    let named = (at + 1..all.len().min(at + 3)).any(|i| doing(word(all.get(i))));
    // `shoulder flex`, `hip abd`: a movement's short name goes on.
    let moved = matches!(
        next,
        "flex"
            | "ext"
            | "abd"
            | "add"
            | "er"
            | "ir"
            | "df"
            | "pf"
            | "elevation"
            | "depression"
            | "retraction"
            | "protraction"
            | "inversion"
            | "eversion"
            | "pronation"
            | "supination"
    );
    PARTS.contains(&first) && !next.is_empty() && !named && !moved
}

/// Whether a line by itself says how something is done, and nothing else: `heels together`.
pub fn begins(typed: &Typed<'_>) -> bool {
    let all = &typed.all;
    let plain = all.iter().all(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign(',' | '-' | '\'' | '.')));
    plain && PARTS.contains(&word(all.first())) && 1 < all.len() && starts(all, 0)
}

/// Whether a line below an exercise says how a part of the body is kept while it is done: `keep the pelvis level`. What is
/// worn is a rule.
pub fn keeps(all: &[Token<'_>]) -> bool {
    let mut c = Cursor { all, at: 0 };
    const MORE: [&str; 14] = [
        "pelvis", "hips", "hip", "trunk", "spine", "tummy", "core", "neck", "weight", "waist", "ribs",
        "shin", "bottom", "heel",
    ];
    const HOW: [&str; 24] = [
        "level", "still", "straight", "flat", "down", "up", "in", "tucked", "bent", "relaxed", "together",
        "apart", "back", "forward", "forwards", "neutral", "long", "tall", "over", "in line", "parallel",
        "soft", "steady", "wide",
    ];
    let keeps = c.word(&["keep", "keeping"]).is_some();
    c.word(&["the", "your", "both", "his", "her"]);
    crate::language::anatomy::side(&mut c);
    let part = c.word(&PARTS).is_some() || c.word(&MORE).is_some();
    let how = c.word(&HOW).is_some();
    let held = ["sling", "boot", "brace", "splint", "cast", "collar", "dressing", "wound", "elevated", "dry"];
    let worn = all.iter().any(|t| matches!(t.sort, Sort::Word(w) if held.contains(&w)));
    keeps && part && how && !worn && all.iter().all(|t| !matches!(t.sort, Sort::Number(_)))
}

/// Whether words say how a part of the body is, and nothing else: `knee straight`, `with the elbow bent`.
pub fn is_state(typed: &Typed<'_>) -> bool {
    let mut c = typed.start();
    const HOW: [&str; 18] = [
        "straight", "bent", "out", "in", "up", "down", "flat", "apart", "together", "wide", "level",
        "forward", "forwards", "back", "crossed", "relaxed", "locked", "soft",
    ];
    c.word(&["with", "keeping"]);
    c.word(&["the", "your", "both"]);
    anatomy::side(&mut c);
    let part = c.word(&PARTS).is_some();
    c.word(&["turned", "slightly", "held"]);
    part && c.word(&HOW).is_some() && c.is_done()
}

/// Whether words say how the patient is placed, and nothing else: `in sitting`, `sat on chair`, `standing at the sink`.
pub fn is_posture(typed: &Typed<'_>) -> bool {
    let mut c = typed.start();
    c.word(&["in", "from", "when", "while"]);
    c.word(&["half", "high", "long", "crook", "side", "tall", "four", "2", "4", "two"]);
    c.sign('-');
    c.word(&["point"]);
    const POSTURES: [&str; 15] = [
        "sitting",
        "sat",
        "seated",
        "standing",
        "stood",
        "lying",
        "laying",
        "supine",
        "prone",
        "kneeling",
        "stand",
        "sit",
        "lie",
        "kneel",
        "quadruped",
    ];
    let plain = |t: &Token<'_>| matches!(t.sort, Sort::Word(w) if !is_doing(w)) || t.sort == Sort::Sign('-');
    c.word(&POSTURES).is_some() && c.all.len() <= c.at + 6 && c.all.iter().skip(c.at).all(plain)
}

/// A side at the token: in brackets, with `on the` before it or `only` behind it, by its limb's letters.
fn side_at(all: &[Token<'_>], at: usize) -> Option<(Sided, usize)> {
    let mut c = Cursor { all, at };
    let open = c.sign('[');
    let limb = match c.peek_word() {
        Some("rle" | "rue") => Some(Sided::Right),
        Some("lle" | "lue") => Some(Sided::Left),
        _ => None,
    };
    let mut on = c;
    // `to L only`
    let mut to = c;
    let only = to.word(&["to"]).is_some() && {
        to.word(&["the", "your"]);
        one_side(&mut to).is_some() && to.peek_word() == Some("only")
    };
    let phrase = on.word(&["on", "for"]).is_some() || only && on.word(&["to"]).is_some();
    if phrase {
        on.word(&["the", "your"]);
        c = on;
    }
    let side = if let Some(side) = limb {
        c.at += 1;
        side
    } else {
        let hit = sided(c)?;
        let [Item::Sided(side)] = hit.items.as_slice() else { return None };
        c.at = hit.next;
        *side
    };
    if c.peek().is_some_and(|t| !t.spaced) {
        c.sign('.');
    }
    if open && !c.sign(']') {
        return None;
    }
    // A bracket whose other half was lost.
    let before = at.checked_sub(1).and_then(|i| all.get(i)).map(|t| t.sort);
    if before != Some(Sort::Sign('(')) {
        c.sign(')');
    }
    c.only();
    if phrase {
        let goes_on = c.peek_word().is_some_and(|w| !STARTS.contains(&w));
        let one = matches!(side, Sided::Left | Sided::Right);
        if goes_on || !one && c.at == at + 1 {
            return None;
        }
    }
    Some((side, c.at))
}

/// A limb that is named by the problem: `affected leg`, `op side`.
fn affected_at(all: &[Token<'_>], at: usize) -> Option<usize> {
    let mut c = Cursor { all, at };
    c.word(&["on", "the"]);
    c.word(&["the"]);
    c.word(&["affected", "op", "operated", "operative", "surgical", "injured", "involved", "sore", "bad"])?;
    c.sign('.');
    c.word(&[
        "side", "leg", "arm", "limb", "knee", "hip", "shoulder", "ankle", "foot", "hand", "wrist", "elbow",
    ])?;
    c.only();
    Some(c.at)
}
