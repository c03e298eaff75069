//! The example that a new page shows: what of it still stands in a text. What it says of people is made up, so it may
//! not get into a prescription that someone is given.

use super::Slot;
use crate::markup::Writer;
use crate::prescription::Prescription;

/// The example, word for word.
pub const TEXT: &str = include_str!("../../../www/demo.txt");

/// What of the example stands in a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    Nothing,
    /// Its clinician or its patient.
    People,
    All,
}

pub fn standing(text: &str, read: &Prescription) -> Standing {
    if text.trim_end() == TEXT.trim_end() {
        return Standing::All;
    }
    let (_, patient) = people();
    let patient = read.patient.as_ref().is_some_and(|known| known.name == *patient);
    if patient || read.by.as_ref().is_some_and(|by| is_by(&by.text)) {
        Standing::People
    } else {
        Standing::Nothing
    }
}

/// Whether a `by:` is the example's, or has its telephone number.
///
/// ```
/// use layfigure::desk::example::is_by;
/// assert!(is_by("R. Osei, physiotherapist, 01632-960417"));
/// assert!(!is_by("R. Osei, physiotherapist, 01632 960 123"));
/// ```
pub fn is_by(by: &str) -> bool {
    let (own, _) = people();
    let name = |by: &str| by.split(',').next().unwrap_or("").trim().to_string();
    let called = digits(own);
    name(by) == name(own) || (!called.is_empty() && digits(by).contains(&called))
}

/// The example's `by:` and the name of its patient.
fn people() -> &'static (String, String) {
    static PEOPLE: std::sync::OnceLock<(String, String)> = std::sync::OnceLock::new();
    PEOPLE.get_or_init(|| {
        let (read, _) = crate::prescription::read(TEXT);
        (read.by.map(|by| by.text).unwrap_or_default(), read.patient.map(|p| p.name).unwrap_or_default())
    })
}

fn digits(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

/// One sentence above the text, where it is needed.
pub fn slots(text: &str, read: &Prescription) -> Vec<Slot> {
    let words = match standing(text, read) {
        Standing::Nothing => return Vec::new(),
        Standing::All => {
            "This is an example; its people are made up. Change it to see what happens. “New” begins your own."
        }
        Standing::People => {
            "The example’s clinician or patient still stands here, and would be on sheet and link. Write your own, or press “New”."
        }
    };
    let mut html = Writer::new();
    html.open("p").text(words).close();
    vec![Slot { key: "example".into(), html: html.finish().into_string() }]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::choices;

    fn stands(text: &str) -> Standing {
        standing(text, &crate::prescription::read(text).0)
    }

    /// Whoever sees the sheet or the phone sees it too: both show the clinician, and the sheet the patient.
    #[test]
    fn its_people_say_that_they_are_an_example() {
        let (by, patient) = people();
        for said in [by, patient] {
            assert!(said.to_lowercase().contains("example"), "{said}");
        }
        assert!(TEXT.starts_with("# Example"), "so that it is called so in the list");
    }

    #[test]
    fn nothing_of_it_gets_into_a_new_prescription() {
        // As it is, as an earlier page kept it, and with another name to the number.
        let (by, _) = people();
        for by in [by.as_str(), "M. Adeyemi, physiotherapist, 01632 960 417", "R. O., 01632960417"] {
            assert_eq!(choices::by(&format!("by: {by}\nbridge: 3 x 10")), None, "{by}");
            let blank = choices::blank(by, None);
            let kept = choices::Kept { by: by.into(), ..Default::default() };
            assert_eq!(choices::Kept::read(&kept.write()).map(|kept| kept.by), Some(String::new()));
            for word in TEXT.split_whitespace().filter(|word| 5 < word.len() && !word.ends_with(':')) {
                assert!(!blank.contains(word), "{word} in {blank}");
            }
        }
        assert_eq!(choices::by("by: R. O., 01632 960 123").as_deref(), Some("R. O., 01632 960 123"));
    }

    #[test]
    fn it_is_said_as_long_as_one_of_its_people_stands_there() {
        let (by, patient) = people();
        assert_eq!(stands(TEXT), Standing::All);
        assert_eq!(stands(TEXT.trim_end()), Standing::All);
        assert_eq!(stands(&TEXT.replace("bridge", "squat")), Standing::People);
        assert_eq!(stands(&TEXT.replace(by, "R. O., 01632 960 123")), Standing::People);
        let own = TEXT.replace(by, "R. O., 01632 960 123").replace(patient, "T. B.");
        assert_eq!(stands(&own), Standing::Nothing);
        assert_eq!(stands(""), Standing::Nothing);
    }
}
