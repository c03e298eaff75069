//! Which names are near to one that was typed: those that it is a slip of, and those that it says less exactly.
//!
//! A name is near by its words, one by one. A word that the trade or the catalog knows means itself: `prop` is no slip of
//! `drop`, `rotation` none of `retraction`, `table` none of `wall`, however few letters part them. Only a word that
//! nobody knows may be a slip, and only of the known words nearest to it. A word that the typed name has and another lacks
//! (a part, a posture, a motion, a way) makes it another exercise. A name that says more than what was typed is offered
//! beside others that do, as a choice, and never alone, as if it were meant.

use std::collections::BTreeSet;

use crate::pose::read::words::singular;
use crate::text::near::{crosses, distance};

/// Words that say how others belong together, and name nothing by themselves.
const LIGHT: [&str; 12] =
    ["of", "at", "to", "for", "from", "and", "it", "both", "with", "on", "in", "exercise"];

/// What many exercises are: sharing one of these is no nearness.
const COMMON: [&str; 41] = [
    "stretch",
    "raise",
    "lift",
    "slide",
    "hold",
    "press",
    "push",
    "pull",
    "turn",
    "lean",
    "reach",
    "rock",
    "roll",
    "drop",
    "squeeze",
    "set",
    "bend",
    "extension",
    "flexion",
    "rotation",
    "abduction",
    "adduction",
    "internal",
    "external",
    "lying",
    "standing",
    "sitting",
    "seated",
    "kneeling",
    "prone",
    "supine",
    "side",
    "front",
    "back",
    "band",
    "ball",
    "wall",
    "step",
    "up",
    "down",
    "out",
];

/// Parts of the body, as names of exercises say them.
const PARTS: [&str; 28] = [
    "neck",
    "chin",
    "head",
    "shoulder",
    "arm",
    "elbow",
    "forearm",
    "wrist",
    "hand",
    "finger",
    "thumb",
    "trunk",
    "chest",
    "spine",
    "pelvic",
    "pelvis",
    "hip",
    "buttock",
    "groin",
    "thigh",
    "quad",
    "hamstring",
    "knee",
    "leg",
    "calf",
    "ankle",
    "heel",
    "foot",
];

/// All words that mean themselves: the trade's, and those of the catalog's names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Known {
    words: BTreeSet<String>,
}

const TRADE: &str = include_str!("trade.txt");

impl Known {
    pub fn of<'a>(names: impl Iterator<Item = &'a str>) -> Known {
        let trade = TRADE.lines().filter(|line| !line.starts_with('#'));
        let all = trade.chain(names).flat_map(|line| line.split_whitespace());
        Known { words: all.map(|word| singular(word).to_string()).collect() }
    }

    /// The known words that an unknown one is a slip of: the nearest, and those as near.
    fn meant(&self, typed: &str) -> Vec<&str> {
        if typed.chars().count() < 3 || self.words.contains(typed) || !typed.chars().all(char::is_alphabetic)
        {
            return Vec::new();
        }
        let near = self.words.iter().filter_map(|word| Some((slip(typed, word)?, word.as_str())));
        let near: Vec<(usize, &str)> = near.collect();
        let least = near.iter().map(|(d, _)| *d).min();
        near.into_iter().filter(|(d, _)| Some(*d) == least).map(|(_, word)| word).collect()
    }
}

/// How far a slip of a word is from it: one slip up to five letters, two above. It begins with the same letter, or with
/// its first two swapped: few slips are there (common practice, no source).
fn slip(typed: &str, word: &str) -> Option<usize> {
    let letters = word.chars().count();
    if letters < 4 {
        // Of so few letters another one makes another word: only one that is doubled by mistake.
        return (single(typed) == single(word)).then_some(1);
    }
    let first = |s: &str, at: usize| s.chars().nth(at);
    let swapped = first(typed, 0) == first(word, 1) && first(typed, 1) == first(word, 0);
    if first(typed, 0) != first(word, 0) && !swapped {
        return None;
    }
    distance(typed, word, if letters < 6 { 1 } else { 2 })
}

/// A word with its doubled letters written once.
fn single(word: &str) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    letters.dedup();
    letters.into_iter().collect()
}

/// How a name stands to the typed one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Nearness {
    /// The same words, but for slips of spelling, order and light words: so many slips.
    Slip(usize),
    /// All of the typed words, and more.
    Wider,
}

/// A typed name ready to be compared with many.
pub struct Typed<'a> {
    whole: &'a str,
    words: Vec<(&'a str, Vec<&'a str>)>,
}

impl<'a> Typed<'a> {
    /// `typed` as [`super::find::key`] writes it.
    pub fn of(typed: &'a str, known: &'a Known) -> Typed<'a> {
        let words = typed.split(' ').filter(|w| !LIGHT.contains(w));
        Typed { whole: typed, words: words.map(|w| (w, known.meant(w))).collect() }
    }

    /// Whether the words alone tell which exercise it may be: more than `stretch`, and more than `calf`.
    fn tells(&self) -> bool {
        let is = |list: &[&str]| self.words.iter().any(|(w, _)| list.contains(w));
        let own = |w: &str| !COMMON.contains(&w) && !PARTS.contains(&w);
        self.words.iter().any(|(w, _)| own(w)) || (is(&PARTS) && is(&COMMON))
    }

    /// How a name of the catalog (as [`super::find::key`] writes it) stands to this; None: it is another exercise's.
    pub fn to(&self, name: &str) -> Option<Nearness> {
        // Opposites are looked for last: few names come so near.
        self.nearness(name).filter(|_| !crosses(self.whole, name))
    }

    fn nearness(&self, name: &str) -> Option<Nearness> {
        let mut left: Vec<&str> = name.split(' ').filter(|w| !LIGHT.contains(w)).collect();
        let mut slips = 0;
        for (word, meant) in &self.words {
            let same = left.iter().position(|w| w == word);
            let at = same.or_else(|| left.iter().position(|w| meant.contains(w)));
            slips += usize::from(same.is_none());
            left.remove(at?);
        }
        match (left.is_empty(), slips) {
            (true, 0..=2) => Some(Nearness::Slip(slips)),
            (false, 0) if self.tells() => Some(Nearness::Wider),
            _ => None,
        }
    }
}
