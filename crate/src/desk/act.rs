//! What the buttons of the desk ask for, as each carries it in words.

use super::change::Change;
use super::limits::Turn;
use crate::week::model::Day;

/// A panel beside the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    None,
    Finder,
    Limits,
    Visit,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Act {
    /// Changes the exercise of a line.
    Change {
        line: usize,
        change: Change,
    },
    Panel(Which),
    /// Puts an exercise of the catalog into the text, by its id.
    Put(String),
    Limit(Turn),
    /// Takes an offer of the list under the cursor, by its place there.
    Take(usize),
    /// The figure at hand in movement or still.
    Moves(bool),
    Undo,
    Redo,
    /// What is on the page now was handed over last time.
    BeginVisit,
    /// What was pasted was.
    Pasted,
    EndVisit,
    /// Takes an exercise (by its place in the list) out of a day, to be put into another.
    Carry(usize, Day),
    /// Puts it there.
    Drop(Day),
    PutDown,
}

impl Act {
    pub fn named(words: &str) -> Option<Act> {
        let (verb, rest) = words.split_once(' ').unwrap_or((words, ""));
        Some(match (verb, rest) {
            ("change", rest) => {
                let (line, change) = rest.split_once(' ')?;
                Act::Change { line: line.parse().ok()?, change: Change::named(change)? }
            }
            ("panel", "none") => Act::Panel(Which::None),
            ("panel", "finder") => Act::Panel(Which::Finder),
            ("panel", "limits") => Act::Panel(Which::Limits),
            ("panel", "visit") => Act::Panel(Which::Visit),
            ("put", id) if !id.is_empty() => Act::Put(id.to_string()),
            ("limit", turn) => Act::Limit(Turn::named(turn)?),
            ("take", index) => Act::Take(index.parse().ok()?),
            ("moves", "on") => Act::Moves(true),
            ("moves", "off") => Act::Moves(false),
            ("visit", "begin") => Act::BeginVisit,
            ("visit", "pasted") => Act::Pasted,
            ("visit", "end") => Act::EndVisit,
            ("carry", "none") => Act::PutDown,
            ("carry", rest) => {
                let (exercise, day) = rest.split_once(' ')?;
                Act::Carry(exercise.parse().ok()?, short(day)?)
            }
            ("drop", rest) => Act::Drop(short(rest)?),
            ("undo", _) => Act::Undo,
            ("redo", _) => Act::Redo,
            _ => return None,
        })
    }
}

fn short(word: &str) -> Option<Day> {
    Day::ALL.into_iter().find(|day| day.short() == word)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dose::Sided;

    #[test]
    fn buttons_say_what_they_do() {
        let change = |change: Change| Some(Act::Change { line: 7, change });
        for c in [
            Change::Side(Sided::Left),
            Change::Up,
            Change::Remove,
            Change::Swap("some-name".into()),
            Change::Dose(super::super::change::Part::Hold, super::super::change::Step::Less),
        ] {
            assert_eq!(Act::named(&format!("change 7 {}", c.name())), change(c));
        }
        assert_eq!(Act::named("limit to 45"), Some(Act::Limit(Turn::To(45))));
        for none in
            ["", "change", "change x up", "change 7 sideways", "put ", "take -1", "panel", "limit to far"]
        {
            assert_eq!(Act::named(none), None, "{none}");
        }
    }
}
