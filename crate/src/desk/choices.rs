//! What the clinician has chosen besides the text, and how it is kept on their own computer if they ask for
//! that. Nothing is kept unasked.

use super::example;
use crate::handout::{Paper, Print};
use crate::link::share::Named;
use serde::{Deserialize, Serialize};

/// The choices on the page. All are about how it is handed over; none changes what is prescribed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choices {
    pub paper: Paper,
    pub print: Print,
    /// The number for help at once of a text that gives none, on the sheet and in the link; empty: none.
    pub emergency: String,
    /// Where the patient's page is published; empty: no link is offered.
    pub home: String,
    /// How the patient is named in a link.
    pub naming: Named,
    /// The link is sealed with a passphrase.
    pub sealed: bool,
}

impl Choices {
    pub fn emergency(&self) -> Option<&str> {
        Some(self.emergency.trim()).filter(|number| !number.is_empty())
    }
}

/// All that stands in the computer's storage.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    pub text: String,
    /// The last `by:` line's value, for the next prescription.
    pub by: String,
    pub choices: Choices,
}

/// As written to storage. Words, not numbers, so that a later page can read an earlier one's.
#[derive(Deserialize, Serialize)]
struct Stored {
    text: String,
    #[serde(default)]
    by: String,
    #[serde(default)]
    paper: String,
    #[serde(default)]
    print: String,
    #[serde(default)]
    emergency: String,
    #[serde(default)]
    home: String,
    #[serde(default)]
    naming: String,
    #[serde(default)]
    sealed: bool,
}

/// The word on the page's control and in storage.
pub fn paper_word(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "a4",
        Paper::Letter => "letter",
    }
}

/// The paper of that word; anything else is A4.
pub fn paper_of(word: &str) -> Paper {
    if word == paper_word(Paper::Letter) { Paper::Letter } else { Paper::A4 }
}

/// The word on the page's control and in storage.
pub fn print_word(print: Print) -> &'static str {
    match print {
        Print::Normal => "normal",
        Print::Large => "large",
    }
}

/// The print of that word; anything else is normal.
pub fn print_of(word: &str) -> Print {
    if word == print_word(Print::Large) { Print::Large } else { Print::Normal }
}

impl Kept {
    pub fn write(&self) -> String {
        let c = &self.choices;
        let stored = Stored {
            text: self.text.clone(),
            by: self.by.clone(),
            paper: paper_word(c.paper).into(),
            print: print_word(c.print).into(),
            emergency: c.emergency.clone(),
            home: c.home.clone(),
            naming: c.naming.word().into(),
            sealed: c.sealed,
        };
        serde_json::to_string(&stored).unwrap_or_default()
    }

    /// None if this was not written by [`Kept::write`]: the caller says so and leaves it where it is.
    pub fn read(stored: &str) -> Option<Kept> {
        let s: Stored = serde_json::from_str(stored).ok()?;
        let choices = Choices {
            paper: paper_of(&s.paper),
            print: print_of(&s.print),
            emergency: s.emergency,
            home: s.home,
            naming: Named::of(&s.naming),
            sealed: s.sealed,
        };
        // An earlier page took the example's for the clinician's own.
        let by = if example::is_by(&s.by) { String::new() } else { s.by };
        Some(Kept { text: s.text, by, choices })
    }
}

/// What stands behind `by:` in a text; None where there is no such line, or it is the example's.
pub fn by(text: &str) -> Option<String> {
    crate::prescription::read(text).0.by.map(|said| said.text).filter(|by| !example::is_by(by))
}

/// An empty prescription to begin with, with the lines that are asked for first.
pub fn blank(by: &str, start: Option<crate::measure::Date>) -> String {
    let by = if example::is_by(by) { "" } else { by };
    let start = start.map(|date| date.to_string()).unwrap_or_default();
    format!("# \nby: {by}\npatient: \nstart: {start}\naim: \n\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_was_never_kept_is_not_read() {
        for stored in ["", "null", "[]", "{\"text\":3}", "{\"text\":\"a\"", "\u{0}"] {
            assert_eq!(Kept::read(stored), None, "{stored}");
        }
    }

    #[test]
    fn words_that_a_later_page_wrote_fall_back() {
        let kept = Kept::read("{\"text\":\"bridge\",\"paper\":\"A5\",\"more\":[1]}");
        assert_eq!(kept, Some(Kept { text: "bridge".into(), ..Kept::default() }));
    }

    #[test]
    fn a_new_prescription_begins_with_who_wrote_the_last() {
        let by = by("# Knee\nby: M. A., physiotherapist\nbridge: 3 x 10").unwrap_or_default();
        assert_eq!(by, "M. A., physiotherapist");
        let text = blank(&by, crate::measure::Date::new(2026, 11, 25));
        let (prescription, _) = crate::prescription::read(&text);
        assert_eq!(prescription.by.map(|said| said.text), Some(by));
        assert_eq!(prescription.start, crate::measure::Date::new(2026, 11, 25));
    }

    proptest! {
        #[test]
        fn what_is_kept_is_read_again(
            text in "\\PC{0,40}", by in "\\PC{0,20}", emergency in "[0-9 ]{0,6}", home in "\\PC{0,30}",
            letter: bool, large: bool, sealed: bool, naming in 0usize..3,
        ) {
            let choices = Choices {
                paper: if letter { Paper::Letter } else { Paper::A4 },
                print: if large { Print::Large } else { Print::Normal },
                emergency, home, sealed,
                naming: [Named::Written, Named::Initials, Named::Not][naming],
            };
            let kept = Kept { text, by, choices };
            prop_assert_eq!(Kept::read(&kept.write()), Some(kept));
        }
    }
}
