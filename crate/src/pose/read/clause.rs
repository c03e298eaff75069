//! The clauses of a pose line, one after the other.

use super::parts::{Given, Part, part};
use super::vocabulary::TERMS;
use super::words::{BETWEEN, Cursor, Kind};
use super::{Reader, asks, contacts, motions, things, verbs};
use crate::body::names::Sides;
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::PropKind;
use crate::text::Place;

/// How the reading of a clause went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Went {
    Well,
    /// Not at all, and a notice says why.
    Told,
    /// Not at all, and nothing is said yet.
    Unknown,
}

impl Reader {
    /// Reads all clauses from the cursor to the end of the line.
    pub fn clauses(&mut self, cursor: &mut Cursor) {
        loop {
            while cursor.peek(0).is_some() && cursor.at_boundary() {
                cursor.at += 1;
            }
            if cursor.is_done() {
                break;
            }
            let start = cursor.at;
            match self.clause(cursor) {
                Went::Well => {
                    if !cursor.at_boundary() {
                        let from = cursor.at;
                        skip_clause(cursor);
                        self.not_understood(cursor, from, true);
                    }
                }
                Went::Told => skip_clause(cursor),
                Went::Unknown => {
                    cursor.at = start;
                    skip_clause(cursor);
                    self.not_understood(cursor, start, false);
                }
            }
            if cursor.at == start {
                cursor.at += 1;
            }
        }
    }

    pub fn clause(&mut self, c: &mut Cursor) -> Went {
        let start = c.at;
        if c.peek(1).is_some_and(|t| t.kind == Kind::Colon) {
            return self.keyed(c);
        }
        if c.eat("free") {
            let parts = self.subjects(c);
            return if parts.is_empty() { Went::Unknown } else { self.free(&parts, c.place_since(start)) };
        }
        if let Some(went) = self.effort(c) {
            return went;
        }
        if c.eat_any(&["eyes look", "eyes", "looking", "look", "gaze", "facing", "face"]).is_some() {
            let level = c.eat("level");
            let direction =
                asks::direction(c).or(if level { Some(crate::pose::ask::Direction::Forward) } else { None });
            if let Some(direction) = direction {
                self.ask(crate::pose::ask::Ask::Looking(direction), c.place_since(start));
                return Went::Well;
            }
            c.at = start;
        }
        if c.eat_any(&["light touch of", "light touch", "lightly touching", "fingertip support"]).is_some() {
            return contacts::light(self, c, start);
        }
        if c.eat("hands free") {
            return Went::Well;
        }
        if let Some(went) = contacts::grip(self, c) {
            return went;
        }
        if things::declare(self, c) {
            return Went::Well;
        }
        c.at = start;
        if let Some(went) = verbs::verb(self, c) {
            return went;
        }
        c.at = start;
        let parts = self.subjects(c);
        if !parts.is_empty() {
            let went = self.predicate(c, &parts, start);
            if went != Went::Unknown {
                self.last = parts;
            }
            return went;
        }
        c.at = start;
        verbs::continued(self, c, start)
    }

    /// As [`Reader::subjects`], for the end of a clause: what follows a comma belongs to it only if it
    /// stands alone.
    pub fn objects(&mut self, c: &mut Cursor) -> Vec<Part> {
        let mut parts = Vec::new();
        let stance = self.stance();
        while let Some(next) = part(c, stance) {
            parts.push(next);
            let back = c.at;
            let _ = c.peek(0).is_some_and(|t| t.kind == Kind::Stop) && {
                c.at += 1;
                true
            };
            let _ = c.eat("and");
            let mut look = c.clone();
            let alone = c.at != back && part(&mut look, stance).is_some() && look.at_boundary();
            if !alone {
                c.at = back;
                break;
            }
        }
        for i in 1..parts.len() {
            inherit(&mut parts, i, i - 1);
        }
        parts
    }

    /// One or more parts: `head, upper back and sacrum`. A part without side takes its neighbour's.
    pub fn subjects(&mut self, c: &mut Cursor) -> Vec<Part> {
        let mut parts = Vec::new();
        let stance = self.stance();
        if let Some(first) = part(c, stance) {
            parts.push(first);
            loop {
                let back = c.at;
                let stop = c.peek(0).is_some_and(|t| t.kind == Kind::Stop);
                if stop {
                    c.at += 1;
                }
                let _ = c.eat("and");
                if c.at == back {
                    break;
                }
                match part(c, stance) {
                    Some(next) => parts.push(next),
                    None => {
                        c.at = back;
                        break;
                    }
                }
            }
        }
        for i in 1..parts.len() {
            inherit(&mut parts, i, i - 1);
        }
        for i in (1..parts.len()).rev() {
            inherit(&mut parts, i - 1, i);
        }
        parts
    }

    /// Tells of the tokens from `from` to the cursor.
    pub fn not_understood(&mut self, c: &Cursor, from: usize, rest: bool) {
        let place = c.place_since(from);
        let words: Vec<(&str, Place)> = c
            .tokens
            .get(from..c.at)
            .unwrap_or(&[])
            .iter()
            .filter_map(|t| match &t.kind {
                Kind::Word(w) => Some((w.as_str(), t.place)),
                _ => None,
            })
            .collect();
        if let [(word, at), (next, _), ..] = words.as_slice()
            && matches!(
                *word,
                "front" | "back" | "rear" | "top" | "bottom" | "leading" | "trailing" | "under"
            )
            && TERMS.iter().any(|t| t.is_paired() && t.words.contains(&super::words::singular(next)))
        {
            self.tell(
                OfPose::SideNotClear { word: word.to_string() },
                *at,
                Some(Edit { place: *at, with: "right".to_string() }),
            );
            return;
        }
        // The first word that nobody knows is the likeliest slip.
        let mut edit = None;
        let odd = words.iter().find(|(word, _)| !is_known(word)).copied();
        if let Some((word, at)) = odd {
            match nearest_word(word).as_slice() {
                [one] => edit = Some(Edit { place: at, with: (*one).to_string() }),
                [one, two, ..] => {
                    let (one, two) = (one.to_string(), two.to_string());
                    self.tell(OfPose::UnclearWord { typed: word.to_string(), one, two }, at, None);
                    return;
                }
                [] => {}
            }
        }
        let odd = odd.map(|(word, _)| word);
        let what = match (odd, rest) {
            (Some(word), _) => OfPose::UnknownWord { typed: word.to_string() },
            (None, true) => OfPose::UnreadEnd,
            (None, false) => OfPose::UnreadClause,
        };
        let edit = edit.or(Some(Edit { place, with: String::new() }));
        self.tell(what, place, edit);
    }
}

fn inherit(parts: &mut [Part], to: usize, from: usize) {
    let source = parts.get(from).map(|p| (p.given, p.term.is_paired()));
    if let (Some((Given::One(side), true)), Some(target)) = (source, parts.get_mut(to))
        && target.given == Given::Unsaid
    {
        target.given = Given::One(side);
    }
}

pub fn skip_clause(c: &mut Cursor) {
    while !c.is_done() && !c.at_boundary() {
        c.at += 1;
    }
}

/// Words that stand in clauses beside parts, motions and things.
const GRAMMAR: [&str; 76] = [
    "right",
    "left",
    "both",
    "each",
    "working",
    "other",
    "top",
    "bottom",
    "front",
    "back",
    "on",
    "off",
    "under",
    "over",
    "slides",
    "holds",
    "hold",
    "straight",
    "level",
    "upright",
    "parallel",
    "line",
    "leaning",
    "forward",
    "backward",
    "together",
    "apart",
    "hip",
    "width",
    "shoulder",
    "staggered",
    "out",
    "in",
    "from",
    "towards",
    "until",
    "free",
    "looking",
    "facing",
    "up",
    "down",
    "light",
    "touch",
    "planted",
    "works",
    "view",
    "squeeze",
    "push",
    "into",
    "breathe",
    "stay",
    "still",
    "round",
    "between",
    "behind",
    "close",
    "side",
    "above",
    "quarter",
    "three",
    "bent",
    "slightly",
    "horizontal",
    "vertical",
    "cm",
    "floor",
    "of",
    "to",
    "at",
    "by",
    "against",
    "height",
    "overhead",
    "crossed",
    "ahead",
    "inset",
];

fn vocabulary() -> impl Iterator<Item = &'static str> {
    TERMS
        .iter()
        .flat_map(|t| t.words.iter().flat_map(|w| w.split(' ')))
        .chain(motions::vocabulary().flat_map(|w| w.split(' ')))
        .chain(PropKind::ALL.iter().flat_map(|p| p.word().split(' ')))
        .chain(GRAMMAR)
}

/// The known words nearest to one that isn't; names of muscles are no help here.
fn nearest_word(word: &str) -> Vec<&'static str> {
    // Nor are shortened words, `flexn`.
    let short = |w: &str| ["xn", "tn", "dn"].iter().any(|end| w.ends_with(end));
    let muscle = |w: &str| (w.ends_with("or") || w.ends_with("al")) && w != "lateral";
    let known = || vocabulary().filter(|w| !short(w) && !muscle(w));
    let most = match word.chars().count() {
        0..=2 => return Vec::new(),
        3..=5 => 1,
        6..=9 => 2,
        _ => 3,
    };
    // The nearest alone: of two equally near ones neither is chosen.
    (1..=most)
        .map(|bound| crate::text::near::within(word, known().filter(|w| 3 < w.len()), bound))
        .find(|near| !near.is_empty())
        .unwrap_or_default()
}

fn is_known(word: &str) -> bool {
    let one = super::words::singular(word);
    BETWEEN.contains(&word) || vocabulary().any(|w| w == word || w == one)
}

/// All sides that a part means as a joint: a singular joint without side means both.
pub fn sides(part: &Part) -> Sides {
    match part.given {
        Given::One(side) if part.term.is_paired() => Sides::One(side),
        _ => Sides::Both,
    }
}
