//! What was typed on a line, with its words: lexed once, and cut as often as it is looked at in part.

use super::token::{Cursor, Token, tokens};
use crate::text::fold::{Folded, fold};
use crate::text::{Place, trim, trim_start};

/// A line or a part of it.
#[derive(Clone, Debug)]
pub struct Typed<'a> {
    pub text: &'a str,
    pub place: Place,
    /// The words; their bytes count from the start of `text`.
    pub all: Vec<Token<'a>>,
}

/// Looks at a text that stands by itself.
pub fn lexed<T>(text: &str, place: Place, look: impl FnOnce(&Typed<'_>) -> T) -> T {
    let folded = fold(text);
    look(&Typed::new(text, place, &folded))
}

impl<'a> Typed<'a> {
    /// `folded` is `text`, folded.
    pub fn new(text: &'a str, place: Place, folded: &'a Folded) -> Typed<'a> {
        Typed { text, place, all: tokens(folded) }
    }

    /// The bytes from `from` to `to`, with the words that stand wholly within them.
    pub fn cut(&self, from: usize, to: usize) -> Typed<'a> {
        let within = self.all.iter().filter(|t| from <= t.start && t.end <= to);
        let mut all: Vec<Token<'a>> =
            within.map(|t| Token { start: t.start - from, end: t.end - from, ..*t }).collect();
        if let Some(first) = all.first_mut() {
            first.spaced = true;
        }
        let place = Place { start: self.place.start + from, end: self.place.start + to, ..self.place };
        Typed { text: self.text.get(from..to).unwrap_or(""), place, all }
    }

    /// The same without white space at both ends.
    pub fn trimmed(&self, from: usize, to: usize) -> Typed<'a> {
        let text = self.text.get(from..to).unwrap_or("");
        let start = from + (text.len() - trim_start(text).len());
        self.cut(start, start + trim(text).len())
    }

    /// At the first word.
    pub fn start(&self) -> Cursor<'_> {
        Cursor { all: &self.all, at: 0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_lexed_as_if_it_stood_alone() {
        let text = "×3 lunges R:  2–3 x 10, hold 5″ (½ way)  b.d. 1,000 steps";
        let folded = fold(text);
        let whole = Typed::new(text, Place { line: 4, start: 7, end: 7 + text.len() }, &folded);
        let bounds: Vec<usize> = whole.all.iter().flat_map(|t| [t.start, t.end]).collect();
        for from in bounds.iter().copied() {
            for to in bounds.iter().copied().filter(|to| from < *to) {
                let part = whole.cut(from, to);
                assert_eq!(part.text, &text[from..to]);
                assert_eq!((part.place.line, part.place.start), (4, 7 + from));
                lexed(part.text, part.place, |alone| {
                    // What a number is worth before "steps" is known only where they are seen.
                    if !part.text.trim_end().ends_with("1,000") {
                        assert_eq!(part.all, alone.all, "{}", part.text);
                    }
                });
            }
        }
        assert_eq!(whole.trimmed(13, 25).text, "2–3 x 10");
    }
}
