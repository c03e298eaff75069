//! One last look before a sheet is printed or a link copied: what the clinician may not have meant. It asks and never
//! refuses.

use super::Slot;
use super::example::{self, Standing};
use crate::markup::Writer;
use crate::notice::{Notice, Severity};
use crate::prescription::{Prescription, Said};
use crate::programme::{Known, Programme};

/// What is about to be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doing {
    Print,
    Link,
}

/// Something to be decided first.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Concern {
    pub words: String,
    /// Where it is mended.
    pub line: Option<usize>,
}

/// Fewer digits are no telephone number: common practice, no source.
const FEWEST_DIGITS: usize = 5;

/// Whether a telephone number stands there: enough digits with nothing but signs between them, and no letter before.
///
/// ```
/// use layfigure::desk::look::has_telephone;
/// assert!(has_telephone("M. A., physiotherapist, +44 (0)1632 960-417"));
/// assert!(!has_telephone("M. A., HCPC PH123456"));
/// ```
pub fn has_telephone(by: &str) -> bool {
    let mut digits = 0;
    let mut barred = false;
    for c in by.chars() {
        if c.is_alphabetic() {
            (digits, barred) = (0, true);
        } else if c.is_numeric() {
            digits += usize::from(!barred);
            if FEWEST_DIGITS <= digits {
                return true;
            }
        } else if c.is_whitespace() || c == '+' || c == '(' {
            barred = false;
        } else if !"-./)\u{2011}\u{2013}".contains(c) {
            (digits, barred) = (0, false);
        }
    }
    false
}

/// What to look at once more, the gravest first. `notices`: all of the text.
pub fn concerns(text: &str, programme: &Programme, notices: &[Notice], doing: Doing) -> Vec<Concern> {
    let mut found = Vec::new();
    for notice in notices.iter().filter(|n| n.severity() == Severity::Contraindication) {
        let words = format!("Contraindication: {}", notice.sentence());
        found.push(Concern { words, line: Some(notice.place.line) });
    }
    let read = crate::prescription::read(text).0;
    found.extend(word_for_word(&read, programme, notices));
    let example = example::standing(text, &read);
    let by = read.by;
    let line = by.as_ref().map(|by| by.place.line);
    let said = by.map(|by| by.text).unwrap_or_default();
    if example != Standing::Nothing {
        let words = "The example’s clinician or patient still stands there. Both are made up, and nobody answers that telephone.";
        found.push(Concern { words: words.into(), line: line.or(Some(1)) });
    } else if !has_telephone(&said) {
        let shown = match (doing, said.is_empty()) {
            (Doing::Print, true) => {
                "The sheet tells the patient to call you, and has an empty line to write the number on."
            }
            (Doing::Print, false) => "The sheet tells the patient to call you, and has no number.",
            (Doing::Link, _) => "The patient’s page tells them to call you, and has no number.",
        };
        let words = format!("There is no telephone number on “by:”. {shown}");
        found.push(Concern { words, line: line.or(Some(1)) });
    }
    if let (Doing::Print, Some(what)) = (doing, programme.beyond.words()) {
        found.push(Concern { words: format!("Not on this sheet: {what}."), line: None });
    }
    let unknown = programme.exercises.iter().filter(|e| e.active && e.known == Known::Unknown);
    found.extend(unknown.map(|e| Concern {
        words: format!(
            "“{}” is not in the catalog: it is handed over with its dose, without a picture.",
            e.name
        ),
        line: Some(e.line),
    }));
    found
}

/// What prints word for word though no line word says that it should, and no rule looked at it: a plain line that was taken
/// for a restriction, and what was not understood and could be about safety.
fn word_for_word(read: &Prescription, programme: &Programme, notices: &[Notice]) -> Vec<Concern> {
    let plain = |line: usize| {
        notices
            .iter()
            .any(|n| n.place.line == line && matches!(n.kind(), "plain-restriction" | "no-exercise"))
    };
    let stated = read.stated.iter().filter(|s| plain(s.said.place.line)).map(|s| (&s.said, s.shown.clone()));
    let unread = read.unread.iter().filter(|u| u.safety).map(|u| (&u.said, u.said.text.clone()));
    let mut lines: Vec<_> = stated.chain(unread).collect();
    lines.sort_by_key(|(said, _)| (said.place.line, said.place.start));
    let under = |shown: &str| {
        let forbidden = programme.do_not.iter().find(|d| d.words == *shown);
        let forbidden = forbidden.map(|d| (!d.computed).then_some("Do not"));
        let told = || {
            programme
                .rules()
                .iter()
                .find(|(_, rules)| rules.iter().any(|r| r.words == *shown))
                .map(|found| found.0)
        };
        forbidden.unwrap_or_else(told)
    };
    let concern = |(said, shown): (&Said, String)| {
        let heading = under(&shown)?;
        let words = format!(
            "“{shown}” stands word for word under “{heading}” and is not checked. Is it what you mean?"
        );
        Some(Concern { words, line: Some(said.place.line) })
    };
    lines.into_iter().filter_map(concern).collect()
}

/// As one slot; none where there is nothing to decide.
pub fn slots(concerns: &[Concern], doing: Doing) -> Vec<Slot> {
    if concerns.is_empty() {
        return Vec::new();
    }
    let (head, on) = match doing {
        Doing::Print => ("Before you print", "Print it all the same"),
        Doing::Link => ("Before you copy the link", "Copy it all the same"),
    };
    let mut html = Writer::new();
    html.open("div").attr("role", "group").attr("aria-labelledby", "look-head");
    html.open("h2").attr("id", "look-head").attr("tabindex", "-1").text(head).close();
    html.open("ul");
    for (at, concern) in concerns.iter().enumerate() {
        html.open("li").text(&concern.words);
        if let Some(line) = concern.line {
            let line = line.to_string();
            html.text(" ").open("button").attr("type", "button").attr("class", "go").attr("data-go", &line);
            html.attr("data-focus", &format!("look {at}")).text(&format!("line {line}")).close();
        }
        html.close();
    }
    html.close().open("p").attr("class", "acts");
    html.open("button").attr("type", "button").attr("id", "all-the-same").text(on).close().text(" ");
    html.open("button").attr("type", "button").attr("class", "quiet").attr("id", "look-away");
    html.text("Not yet").close().close().close();
    vec![Slot { key: "look".into(), html: html.finish().into_string() }]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::{Ask, Desk};

    fn words(text: &str, doing: Doing) -> Vec<String> {
        let ask = Ask::of(text);
        Desk::default().look(&ask, doing).into_iter().map(|concern| concern.words).collect()
    }

    const BY: &str = "by: R. O., 01632 960 123\n";

    #[test]
    fn a_telephone_is_told_from_other_numbers() {
        for by in
            ["R. O., 01632 960 123", "ring 960123", "(01632) 960-123", "R. O. +43/1/40400", "Tel.: 40400"]
        {
            assert!(has_telephone(by), "{by}");
        }
        for by in ["", "R. O.", "R. O., ward 12", "HCPC PH123456", "since 2019", "Room 3, floor 12, house 9"]
        {
            assert!(!has_telephone(by), "{by}");
        }
    }

    #[test]
    fn a_sheet_without_a_telephone_says_so_before() {
        for by in ["", "by:\n", "by: R. O., physiotherapist\n"] {
            for doing in [Doing::Print, Doing::Link] {
                let said = words(&format!("{by}bridge: 3 x 10, daily\n"), doing);
                assert_eq!(said.len(), 1, "{said:?}");
                assert!(said[0].starts_with("There is no telephone number"), "{said:?}");
            }
        }
        assert_eq!(words(&format!("{BY}bridge: 3 x 10, daily\n"), Doing::Print), [""; 0]);
    }

    #[test]
    fn the_example_is_not_handed_over_unasked() {
        let said = words(example::TEXT, Doing::Link);
        assert!(said.iter().any(|words| words.contains("made up")), "{said:?}");
    }

    #[test]
    fn a_contraindication_is_asked_about_until_it_is_decided() {
        let text = format!("{BY}avoid: kneeling\nchild pose: 3 x 30 s, daily\n");
        let (_, notices) = crate::prescription::read(&text);
        assert!(notices.iter().all(|n| n.severity() != Severity::Contraindication));
        let undecided = format!("{BY}limit: left knee flexion 0-20\nbridge: 3 x 10, daily\n");
        assert!(words(&undecided, Doing::Print).iter().any(|w| w.starts_with("Contraindication: ")));
        // An empty reason is none.
        let begun = format!("{undecided}  anyway:\n");
        assert!(words(&begun, Doing::Print).iter().any(|w| w.starts_with("Contraindication: ")));
        let decided = format!("{undecided}  anyway: in the brace, beside me\n");
        assert_eq!(words(&decided, Doing::Print), [""; 0]);
    }

    #[test]
    fn what_prints_word_for_word_is_confirmed() {
        let text = format!("{BY}no lifting the grandchild\nwight: left 20 kg\nbridge: 3 x 10, daily\n");
        let said = words(&text, Doing::Print);
        assert!(
            said.iter().any(|w| w.contains("no lifting the grandchild") && w.contains("“Do not”")),
            "{said:?}"
        );
        assert!(said.iter().any(|w| w.contains("wight: left 20 kg")), "{said:?}");
        // Behind its line word it is meant; what a rule looks at is no riddle.
        let meant = format!("{BY}do not: lift the grandchild\navoid: kneeling\nbridge: 3 x 10, daily\n");
        assert_eq!(words(&meant, Doing::Link), [""; 0]);
    }

    #[test]
    fn what_is_not_on_the_sheet_is_said_before_it_is_printed() {
        let many: String = (1..=62).map(|n| format!("own thing {n}: 3 x 10\n")).collect();
        let said = words(&format!("{BY}{many}"), Doing::Print);
        assert!(
            said.contains(&"Not on this sheet: 2 more: own thing 61; own thing 62.".to_string()),
            "{said:?}"
        );
    }
}
