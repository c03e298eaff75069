//! How conditions are spelt. Names and abbreviations of records in the United Kingdom, Ireland, Australia, India and North
//! America: common practice, from memory, after `references/conditions-and-red-flags.md` and
//! `references/operations-and-injuries.md`.
//!
//! A word in capitals is meant in capitals alone. A number stands apart from letters (`t 2 dm`), as the lexer parts them.
//! The longest phrase wins, so that what holds a name and means something else is a row of its own.

mod body;
mod limbs;
mod operated;

use super::sorts::{Condition, Detail, Fixation};
use std::sync::OnceLock;

/// One row: phrases between commas.
pub(super) enum Row {
    Is(Condition, &'static str),
    /// Each of the words in front of each of the phrases, and behind it: `wrist fracture`, `fracture of the wrist`.
    Of(Condition, &'static str, &'static str),
    /// Tells a condition more closely, wherever it stands in the line.
    Detail(Detail, &'static str),
    /// The same, only right beside it.
    Beside(Detail, &'static str),
    /// Means nothing here.
    Nothing(&'static str),
}

pub(super) const FRACTURE: &str = "# fx frx fract fracture fractured broken break broke orif";
pub(super) const REPLACED: &str = "replacement replaced arthroplasty";
pub(super) const REPAIRED: &str = "repair repaired refixation reattachment";
pub(super) const REBUILT: &str = "reconstruction reconstructed recon reconst";
pub(super) const TORN: &str = "tear torn rupture ruptured avulsion avulsed";
/// Of a muscle a strain is a tear.
pub(super) const STRAINED: &str = "tear torn rupture ruptured avulsion avulsed strain strained pull pulled";
pub(super) const TENDON: &str =
    "tendinopathy tendinitis tendonitis tendinosis tendonopathy tendinopathies tendon pain";
pub(super) const PAIN: &str = "pain sore ache aching painful";
pub(super) const DISLOCATED: &str = "dislocation dislocated subluxation subluxed sublux";
pub(super) const FUSED: &str = "fusion fused arthrodesis";

/// What a phrase means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Means {
    Condition(Condition),
    Detail {
        detail: Detail,
        beside: bool,
    },
    /// One of several; an index into [`super::asked::SEVERAL`].
    Several(usize),
    Nothing,
}

/// A phrase in two parts, either of which may be empty.
#[derive(Clone, Copy, Debug)]
pub(super) struct Phrase {
    front: &'static str,
    back: &'static str,
    pub(super) means: Means,
}

impl Phrase {
    pub(super) fn words(&self) -> impl Iterator<Item = &'static str> {
        self.front.split(' ').chain(self.back.split(' ')).filter(|w| !w.is_empty())
    }
}

/// All phrases, by their first word in small letters.
pub(super) struct Table {
    rows: Vec<(&'static str, Phrase)>,
    /// The first two letters of those words, a bit for each second letter; the last for signs and single letters.
    starts: [u32; 26],
}

impl Table {
    /// The phrases that begin with a word as it is lexed, and with its singular.
    pub(super) fn of(&self, word: &str) -> impl Iterator<Item = &Phrase> {
        let may_be = may_begin(&self.starts, word);
        let singular = word.strip_suffix('s').filter(|one| 3 <= one.len());
        let keys = [Some(word), singular].into_iter().flatten().filter(move |_| may_be);
        keys.flat_map(|key| {
            let from = self.rows.partition_point(|(first, _)| less(first, key));
            let row = self.rows.get(from..).unwrap_or(&[]);
            row.iter().take_while(move |(first, _)| first.eq_ignore_ascii_case(key)).map(|(_, phrase)| phrase)
        })
    }
}

/// Whether a word of the table, whatever its capitals, comes before a folded word.
fn less(first: &str, key: &str) -> bool {
    first.bytes().map(|b| b.to_ascii_lowercase()).lt(key.bytes())
}

fn letters(word: &str) -> Option<(usize, u32)> {
    let mut bytes = word.bytes().map(|b| b.to_ascii_lowercase());
    let first = bytes.next().filter(u8::is_ascii_lowercase)? - b'a';
    let second = bytes.next().filter(u8::is_ascii_lowercase).map_or(26, |b| b - b'a');
    Some((usize::from(first), 1 << second))
}

fn may_begin(starts: &[u32; 26], word: &str) -> bool {
    letters(word).is_none_or(|(first, bit)| starts.get(first).is_some_and(|bits| bits & bit != 0))
}

pub(super) fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut rows: Vec<(&'static str, Phrase)> = Vec::new();
        let mut starts = [0; 26];
        let mut add = |front: &'static str, back: &'static str, means: Means| {
            let phrase = Phrase { front, back, means };
            let Some(first) = phrase.words().next() else { return };
            if let Some((letter, bit)) = letters(first)
                && let Some(bits) = starts.get_mut(letter)
            {
                *bits |= bit;
            }
            rows.push((first, phrase));
        };
        for row in [body::ROWS, limbs::ROWS, operated::ROWS].into_iter().flatten() {
            let (means, phrases) = match *row {
                Row::Of(condition, events, parts) => {
                    for part in parts.split(", ") {
                        for event in events.split(' ') {
                            // `ORIF R clavicle`: what is fixed was broken.
                            let fixed = condition.with(Detail::Fixation(Fixation::Fixed));
                            let condition = fixed.filter(|_| event == "orif").unwrap_or(condition);
                            add(part, event, Means::Condition(condition));
                            add(event, part, Means::Condition(condition));
                        }
                    }
                    continue;
                }
                Row::Is(condition, phrases) => (Means::Condition(condition), phrases),
                Row::Detail(detail, phrases) => (Means::Detail { detail, beside: false }, phrases),
                Row::Beside(detail, phrases) => (Means::Detail { detail, beside: true }, phrases),
                Row::Nothing(phrases) => (Means::Nothing, phrases),
            };
            phrases.split(", ").for_each(|phrase| add(phrase, "", means));
        }
        for (at, several) in super::asked::SEVERAL.iter().enumerate() {
            several.typed.split(", ").for_each(|phrase| add(phrase, "", Means::Several(at)));
        }
        crate::sorting::sort_by(&mut rows, |(a, _), (b, _)| {
            let small = |word: &'static str| word.bytes().map(|b| b.to_ascii_lowercase());
            small(a).cmp(small(b))
        });
        Table { rows, starts }
    })
}

#[cfg(test)]
pub(super) fn phrases() -> impl Iterator<Item = &'static Phrase> {
    table().rows.iter().map(|(_, phrase)| phrase)
}
