//! Undo and redo of the text: kept here, since a suggested edit put in by the page would otherwise be lost
//! to the browser's own undo, or break it.

/// At most so many steps are remembered.
const MOST: usize = 1000;

/// What sort of change was made; runs of the same sort of typing are undone together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    Typing,
    Deleting,
    /// Pasting, cutting, dropping, a suggested edit: a step of its own.
    Whole,
}

/// One change: at byte `at`, `removed` became `inserted`.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Change {
    at: usize,
    removed: String,
    inserted: String,
    sort: Sort,
}

/// The text as last seen, and how it came about.
#[derive(Clone, Debug, Default)]
pub struct History {
    text: String,
    past: Vec<Change>,
    future: Vec<Change>,
}

impl History {
    pub fn new(text: &str) -> History {
        History { text: text.to_string(), ..History::default() }
    }

    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether anything was changed that can be taken back.
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Takes note of a text that has become another.
    pub fn record(&mut self, text: &str, sort: Sort) {
        let Some(change) = difference(&self.text, text, sort) else { return };
        self.text = text.to_string();
        self.future.clear();
        if !self.past.last_mut().is_some_and(|last| joined(last, &change)) {
            self.past.push(change);
        }
        if MOST < self.past.len() {
            self.past.remove(0);
        }
    }

    /// Takes the last change back: the text now, and the byte that the cursor belongs at.
    pub fn undo(&mut self) -> Option<(&str, usize)> {
        let change = self.past.pop()?;
        let caret = change.at + change.removed.len();
        self.text.replace_range(change.at..change.at + change.inserted.len(), &change.removed);
        self.future.push(change);
        Some((&self.text, caret))
    }

    /// Makes the change again that was last taken back.
    pub fn redo(&mut self) -> Option<(&str, usize)> {
        let change = self.future.pop()?;
        let caret = change.at + change.inserted.len();
        self.text.replace_range(change.at..change.at + change.removed.len(), &change.inserted);
        self.past.push(change);
        Some((&self.text, caret))
    }
}

/// What changed between two texts: everything between what they share at the front and at the back.
fn difference(old: &str, new: &str, sort: Sort) -> Option<Change> {
    let same = |(a, b): &((usize, char), (usize, char))| a.1 == b.1;
    let front: usize =
        old.char_indices().zip(new.char_indices()).take_while(same).map(|((_, c), _)| c.len_utf8()).sum();
    let (old_rest, new_rest) = (&old[front..], &new[front..]);
    let back: usize = old_rest
        .chars()
        .rev()
        .zip(new_rest.chars().rev())
        .take_while(|(a, b)| a == b)
        .map(|(c, _)| c.len_utf8())
        .sum();
    let removed = old_rest[..old_rest.len() - back].to_string();
    let inserted = new_rest[..new_rest.len() - back].to_string();
    let nothing = removed.is_empty() && inserted.is_empty();
    (!nothing).then_some(Change { at: front, removed, inserted, sort })
}

/// Joins a change to the last one if both are one run of typing or deleting, within a line.
fn joined(last: &mut Change, next: &Change) -> bool {
    let (grown, gone) = (last.at + last.inserted.len(), next.at + next.removed.len());
    let run = last.sort == next.sort && !next.inserted.contains('\n') && !next.removed.contains('\n');
    match next.sort {
        // A word once begun after a space is a step of its own.
        Sort::Typing if run && next.removed.is_empty() && next.at == grown => {
            let new_word = last.inserted.ends_with(char::is_whitespace) && !next.inserted.starts_with(' ');
            if new_word {
                return false;
            }
            last.inserted.push_str(&next.inserted);
            true
        }
        Sort::Deleting if run && next.inserted.is_empty() && last.inserted.is_empty() && gone == last.at => {
            last.removed.insert_str(0, &next.removed);
            last.at = next.at;
            true
        }
        Sort::Typing | Sort::Deleting | Sort::Whole => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn typed(history: &mut History, more: &str) {
        for c in more.chars() {
            let text = format!("{}{c}", history.text());
            history.record(&text, Sort::Typing);
        }
    }

    #[test]
    fn typing_is_undone_by_words() {
        let mut history = History::new("");
        typed(&mut history, "bridge 3");
        assert_eq!(history.undo(), Some(("bridge ", 7)));
        assert_eq!(history.undo(), Some(("", 0)));
        assert_eq!(history.undo(), None);
        assert_eq!(history.redo(), Some(("bridge ", 7)));
        history.record("bridge x", Sort::Whole);
        assert_eq!(history.redo(), None, "a new change ends what could be made again");
    }

    #[test]
    fn deleting_backwards_is_one_step() {
        let mut history = History::new("abcd");
        for text in ["abc", "ab", "a"] {
            history.record(text, Sort::Deleting);
        }
        assert_eq!(history.undo(), Some(("abcd", 4)));
    }

    proptest! {
        #[test]
        fn undo_and_redo_give_back_every_text(texts in prop::collection::vec("[aä🙂\n ]{0,6}", 1..12)) {
            let mut history = History::new("");
            for text in &texts {
                history.record(text, Sort::Whole);
            }
            let last = history.text().to_string();
            while history.undo().is_some() {}
            prop_assert_eq!(history.text(), "");
            while history.redo().is_some() {}
            prop_assert_eq!(history.text(), last);
        }
    }
}
