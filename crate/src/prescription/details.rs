//! A name with details: `lunge R, hold the chair`, `calf stretch L with the knee bent`.
//!
//! The longest known name that stands in the line as whole words is the exercise; side words are its side wherever they
//! stand, and all other words are the clinician's own cue, word for word. Details come after the name: behind a side, a
//! comma, a dash or in brackets, or beginning with a word that can go on with no name (`with`, `holding`, `arms crossed`).
//! Words that may make it another exercise (`reverse`, `single leg`, the opposite of a word of the name, a posture that is
//! not the exercise's own, a second exercise) leave the name as it was typed: nothing is guessed.

use crate::catalog::find::key;
use crate::catalog::terms::Term;
use crate::catalog::{Catalog, Exercise, find::Found};
use crate::dose::Sided;
use crate::dose::find::Item;
use crate::dose::find::sides::{one_side, sided};
use crate::language::anatomy;
use crate::language::comparator;
use crate::language::restraint;
use crate::language::token::{Cursor, Sort, Token, tokens};
use crate::notice::Notice;
use crate::notice::kinds::prescription::Held;
use crate::text::Place;
use crate::text::fold::{fold, folded};
use crate::text::near::opposes;

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

/// Words that no name goes on with: what follows is how it is done.
const STARTS: [&str; 63] = [
    "with",
    "without",
    "on",
    "in",
    "to",
    "into",
    "against",
    "over",
    "from",
    "at",
    "off",
    "using",
    "for",
    "near",
    "under",
    "between",
    "behind",
    "beside",
    "through",
    "towards",
    "by",
    "via",
    "while",
    "whilst",
    "as",
    "until",
    "only",
    "holding",
    "hold",
    "keeping",
    "keep",
    "keeps",
    "don't",
    "dont",
    "pushing",
    "push",
    "squeezing",
    "squeeze",
    "leaning",
    "lean",
    "leading",
    "lead",
    "focusing",
    "focus",
    "driving",
    "drive",
    "breathing",
    "breathe",
    "letting",
    "let",
    "slow",
    "slowly",
    "gentle",
    "gently",
    "smooth",
    "smoothly",
    "controlled",
    "small",
    "mid",
    "midrange",
    "supported",
    "not",
    "no",
];

/// Ways of doing it that may stand before a name as well.
const WAYS: [&str; 9] =
    ["slow", "slowly", "gentle", "gently", "easy", "small", "controlled", "smooth", "careful"];

/// Parts of the body, as they begin a detail: `arms crossed`, `feet turned out`.
const PARTS: [&str; 44] = [
    "foot",
    "feet",
    "knee",
    "knees",
    "heel",
    "heels",
    "toe",
    "toes",
    "arm",
    "arms",
    "hand",
    "hands",
    "elbow",
    "elbows",
    "back",
    "head",
    "chin",
    "shoulder",
    "shoulders",
    "eye",
    "eyes",
    "thigh",
    "thighs",
    "leg",
    "legs",
    "trunk",
    "palm",
    "palms",
    "thumb",
    "thumbs",
    "finger",
    "fingers",
    "fingertips",
    "hip",
    "hips",
    "pelvis",
    "chest",
    "ankle",
    "ankles",
    "shin",
    "wrist",
    "wrists",
    "weight",
    "body",
];

/// What many exercises are: behind a part of the body these are a name again.
const DOINGS: [&str; 40] = [
    "stretch",
    "raise",
    "lift",
    "slide",
    "press",
    "curl",
    "drop",
    "set",
    "tuck",
    "rotation",
    "extension",
    "flexion",
    "abduction",
    "adduction",
    "tilt",
    "hinge",
    "march",
    "marching",
    "kick",
    "kickback",
    "tap",
    "circle",
    "hop",
    "jump",
    "walk",
    "roll",
    "rock",
    "twist",
    "swing",
    "pump",
    "bend",
    "fly",
    "row",
    "crunch",
    "plank",
    "squat",
    "drive",
    "reach",
    "pulse",
    "dip",
];

/// Whether a word is something one does: one of those, or an exercise's whole name.
pub fn is_doing(word: &str) -> bool {
    let one = crate::pose::read::words::singular(word);
    DOINGS.contains(&word) || DOINGS.contains(&one) || crate::catalog::Catalog::embedded().is_named(one)
}

/// Words that make another exercise of it wherever they stand.
const OTHERS: [&str; 13] = [
    "reverse",
    "reversed",
    "passive",
    "passively",
    "assisted",
    "unilateral",
    "isometric",
    "isometrically",
    "eccentric",
    "eccentrically",
    "concentric",
    "nordic",
    "plyometric",
];

/// Words that make another exercise of it where they begin a detail.
const OTHERS_FIRST: [&str; 24] = [
    "active",
    "backward",
    "backwards",
    "sideways",
    "lateral",
    "laterally",
    "walking",
    "marching",
    "jumping",
    "hopping",
    "jump",
    "hop",
    "banded",
    "weighted",
    "resisted",
    "dynamic",
    "advanced",
    "modified",
    "double",
    "single",
    "side",
    "progression",
    "regression",
    "explosive",
];

/// Postures, and how the catalog's words for a position begin that agree with them.
const POSTURES: [(&str, &str); 14] = [
    ("prone", "lying on front"),
    ("supine", "lying on back"),
    ("sidelying", "lying on side"),
    ("seated", "sitting"),
    ("sitting", "sitting"),
    ("sit", "sitting"),
    ("standing", "standing"),
    ("stand", "standing"),
    ("kneeling", "kneeling"),
    ("lying", "lying"),
    ("crook", "lying on back"),
    ("quadruped", "hands and knees"),
    ("inclined", "-"),
    ("decline", "-"),
];

/// Whether a token begins how it is done.
pub fn is_start(token: &Token<'_>) -> bool {
    STARTS.contains(&word(Some(token)))
}

fn word<'a>(t: Option<&Token<'a>>) -> &'a str {
    match t.map(|t| t.sort) {
        Some(Sort::Word(w)) => w,
        _ => "",
    }
}

/// Words of a text as names are compared, with their bytes.
fn words(text: &str) -> Vec<(String, usize, usize)> {
    let folded = fold(text);
    let mut out: Vec<(String, usize, usize)> = Vec::new();
    let mut open: Option<usize> = None;
    let ends = folded.text.char_indices().chain([(folded.text.len(), ' ')]);
    for (at, c) in ends {
        let inner = c.is_alphanumeric() || c == '\'';
        match (open, inner) {
            (None, true) => open = Some(at),
            (Some(from), false) => {
                let bytes = folded.source(from..at);
                out.push((key(folded.text.get(from..at).unwrap_or("")), bytes.start, bytes.end));
                open = None;
            }
            _ => {}
        }
    }
    out
}

/// The names that a head may have.
struct Names<'a> {
    catalog: &'static Catalog,
    own: Vec<String>,
    words: &'a [(String, usize, usize)],
    head: &'a str,
}

impl Names<'_> {
    /// The end of the longest name that begins at the byte.
    fn end(&self, start: usize) -> Option<usize> {
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
    fn abbreviation(&self, start: usize) -> Option<usize> {
        let (_, _, end) = self.words.iter().find(|(_, from, _)| *from == start)?;
        let typed = self.head.get(start..*end)?;
        let capitals = (3..=5).contains(&typed.len()) && typed.bytes().all(|b| b.is_ascii_uppercase());
        let side = ["RLE", "LLE", "RUE", "LUE", "RHS", "LHS", "BILAT"].contains(&typed);
        (capitals && !side).then_some(*end)
    }
}

/// Parts the head of a line; None where no known name stands in it, or where the other words may make it another
/// exercise. `own` are the folded names of exercises that the text brings itself.
pub fn split(head: &str, own: &[String]) -> Option<Split> {
    if LONGEST < head.len() {
        return None;
    }
    let folded = fold(head);
    let all = tokens(&folded);
    let words = words(head);
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
        let mut bare = Cursor { all: &all, at };
        let named = one_side(&mut bare)
            .filter(|_| bare.peek().is_some_and(|t| t.spaced && names.end(t.start).is_some()));
        if let Some(side) = named {
            made.sides.push(side);
            at = bare.at;
        } else if let Some((side, next)) = side_at(&all, at) {
            made.sides.push(side);
            at = next;
        } else if let Some(next) = affected_at(&all, at) {
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
            let end = unknown_end(&all, at).filter(|_| made.details.is_empty())?;
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
    for piece in pieces(&all, from) {
        piece_of(&all, piece, known, &names, &mut made)?;
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
    let loose = parted && known;
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
pub fn begins(text: &str) -> bool {
    let folded = fold(text);
    let all = tokens(&folded);
    let plain = all.iter().all(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign(',' | '-' | '\'' | '.')));
    plain && PARTS.contains(&word(all.first())) && 1 < all.len() && starts(&all, 0)
}

/// Where a name that nobody knows ends, in bytes: before a side, a comma, a dash or a bracket, which part it from words
/// that can begin no name.
fn unknown_end(all: &[Token<'_>], at: usize) -> Option<usize> {
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
    let phrase = on.word(&["on", "for"]).is_some();
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

/// Whether a detail may make it another exercise than the one named.
fn is_another(name: &str, entry: Option<&Exercise>, detail: &str, names: &Names<'_>, start: usize) -> bool {
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

/// What is told of a detail: that it prints, and each word of it that a check could have been for.
pub fn notices(detail: &str, place: Place) -> Vec<Notice> {
    let mut out = vec![super::say::own_words(place)];
    let folded = fold(detail);
    let all = tokens(&folded);
    let mut at = 0;
    while let Some(token) = all.get(at) {
        let Some((what, next)) = held(&all, at) else {
            at += 1;
            continue;
        };
        let end = next.checked_sub(1).and_then(|i| all.get(i)).map_or(token.end, |t| t.end);
        let typed = detail.get(token.start..end).unwrap_or("");
        let at_words = Place { line: place.line, start: place.start + token.start, end: place.start + end };
        out.push(super::say::own_words_hold(at_words, typed, what));
        at = next.max(at + 1);
    }
    out
}

/// What stands at a token that could be about more than how it looks, and where it ends.
fn held(all: &[Token<'_>], at: usize) -> Option<(Held, usize)> {
    let begun = Cursor { all, at };
    let mut c = begun;
    if restraint::denial(&mut c) || restraint::denial_behind(&mut c) {
        return Some((Held::Denial, c.at));
    }
    c = begun;
    if comparator::comparator(&mut c).is_some() || comparator::behind(&mut c).is_some() {
        return Some((Held::Bound, c.at));
    }
    c = begun;
    if c.span().is_some() {
        return Some((Held::Time, c.at));
    }
    c = begun;
    if c.hundredths().is_some() {
        c.sign('%');
        c.sign('°');
        c.word(&[
            "kg", "lb", "lbs", "cm", "mm", "m", "deg", "degs", "degree", "degrees", "inch", "inches",
            "percent",
        ]);
        return Some((Held::Number, c.at));
    }
    if anatomy::side(&mut c).is_some() || anatomy::both_sides(&mut c) {
        return Some((Held::Side, c.at));
    }
    c = begun;
    if anatomy::motion(&mut c).is_some() {
        return Some((Held::Motion, c.at));
    }
    c = begun;
    anatomy::joint(&mut c).is_some().then_some((Held::Joint, c.at))
}
