//! What the tables of line words, details and words of other records say is what the reader does, and what the grammar's page
//! lists.

use std::collections::BTreeSet;

use layfigure::prescription::words::{
    Count, DETAILS, DetailWord, ELSEWHERE, Elsewhere, Key, LINE_WORDS, Takes, detail, elsewhere, is_safety,
    line,
};
use layfigure::prescription::{Prescription, print, read};
use layfigure::text::fold::folded;

fn kinds(text: &str) -> Vec<String> {
    read(text).1.iter().map(|notice| notice.kind().to_string()).collect()
}

/// What the tidy form of a text is; it must be its own tidy form.
fn tidy(text: &str) -> String {
    let once = print(&read(text).0);
    assert_eq!(print(&read(&once).0), once, "the tidy form of {text:?} is not settled");
    once
}

/// Whether anything of a text was taken, its lines aside.
fn takes(mut read: Prescription) -> bool {
    read.lines.clear();
    read != Prescription::default()
}

#[test]
fn each_spelling_of_a_line_word_is_its_rows_word() {
    for row in LINE_WORDS {
        for spelling in row.spellings() {
            let typed = format!("{spelling}: {}", row.example);
            assert_eq!(tidy(&typed), format!("{}\n", row.tidy), "{typed}");
            let (p, _) = read(&typed);
            assert!(p.unread.is_empty() && p.exercises.is_empty() && takes(p), "{typed}");
            assert_eq!(Key::of(spelling), Some(row.key));
        }
        assert!(row.tidy.starts_with(&format!("{}: ", row.word)), "{}", row.tidy);
    }
}

#[test]
fn each_spelling_of_a_detail_is_its_rows_word() {
    let above = "bridge: 2 x 8";
    for row in DETAILS {
        for head in row.heads() {
            let typed = format!("{above}\n  {head}: {}", row.example);
            assert_eq!(tidy(&typed), format!("{above}\n  {}\n", row.tidy), "{typed}");
            let (p, _) = read(&typed);
            let [exercise] = p.exercises.as_slice() else { panic!("{typed}: not one exercise") };
            let taken = match row.takes {
                Takes::About(about) => {
                    about.below() == row.below
                        && exercise.details.iter().any(|d| d.about == about && d.said.text == row.example)
                }
                Takes::Anyway => exercise.anyway.as_ref().is_some_and(|said| said.text == row.example),
                Takes::Step => exercise.steps.len() == 1,
                Takes::Dose(_) => exercise.dose != read(above).0.exercises[0].dose,
            };
            assert!(taken && p.unread.is_empty(), "{typed}: {exercise:?}");
        }
    }
}

#[test]
fn a_detail_without_its_colon_is_what_its_row_says() {
    let above = "bridge: 3 x 10";
    for row in DETAILS {
        let needing = row.before_colon.iter().map(|word| (*word, false));
        for (spelling, alone) in row.spellings().map(|word| (word, true)).chain(needing) {
            let text = format!("{above}\n  {spelling} {}", row.example);
            let kinds = kinds(&text);
            let told = |kind: &str| kinds.iter().any(|k| k == kind);
            let is_it = tidy(&text) == format!("{above}\n  {}\n", row.tidy);
            match row.bare {
                // `stop if` is what changes an exercise in plain words as well.
                detail::Bare::Read if alone => {
                    assert!(is_it && (told("read-as-detail") || told("read-as-later")), "{text}: {kinds:?}");
                }
                detail::Bare::Asked => assert!(!is_it && told("missing-colon"), "{text}: {kinds:?}"),
                detail::Bare::Read | detail::Bare::Never => {
                    assert!(!told("read-as-detail"), "{text}: {kinds:?}");
                }
            }
        }
    }
}

#[test]
fn a_line_word_without_its_colon_is_what_its_row_says() {
    // A line of each sort: a word, a sentence, a joint, a side, a day, a date, a dose.
    let tails = ["so", "so it is", "knee", "right", "Mon", "2026-12-14", "so it is 3 x 10"];
    for row in LINE_WORDS {
        let meant: &[&str] = match row.bare {
            line::Bare::Always => &tails,
            line::Bare::Undosed => &tails[..6],
            line::Bare::Sentence => &["so it is", "2026-12-14"],
            line::Bare::Number | line::Bare::Date => &["2026-12-14"],
            line::Bare::Joint => &["knee"],
            line::Bare::Bearing => &["right"],
            line::Bare::Day => &["Mon"],
            line::Bare::Never => &[],
        };
        for tail in tails {
            let text = format!("{} {tail}", row.word);
            let (p, notices) = read(&text);
            let asked = notices.iter().any(|n| n.kind() == "missing-colon");
            // What forbids is read as it stands; so is the next visit's day, and from when all below is done.
            let forbids = !p.stated.is_empty() || !p.limits.is_empty();
            let denied = notices.iter().any(|n| n.kind() == "ask-denied-exercise");
            let dated = p.review.is_some() || p.injury.is_some();
            let is_read = forbids || denied || dated || !p.sections.is_empty();
            assert_eq!(asked, meant.contains(&tail) && !is_read, "{text}: {notices:?}");
            assert!(!asked || p.unread.len() == 1 && p.unread[0].safety == row.safety.is_kept(), "{text}");
            assert!(!meant.contains(&tail) || p.exercises.is_empty(), "{text}");
        }
    }
}

#[test]
fn a_word_that_may_stand_once_is_told_when_it_stands_again() {
    for row in LINE_WORDS {
        let twice = format!("{}: {}\n{}: {}", row.word, row.example, row.word, row.example);
        let told = kinds(&twice).contains(&"key-twice".to_string());
        assert_eq!(told, row.count == Count::Once, "{twice}");
        if told {
            let (p, _) = read(&twice);
            let unread: Vec<bool> = p.unread.iter().map(|unread| unread.safety).collect();
            assert_eq!(unread, [row.safety.is_kept()], "{twice}");
        }
    }
}

#[test]
fn what_is_about_safety_and_cannot_be_read_is_listed_as_not_checked() {
    // Too long to be read, whatever the word takes.
    let long = "x".repeat(3_000);
    let is_listed = |word: &str| {
        let (p, _) = read(&format!("bridge: 3 x 10\n  {word}: {long}"));
        p.unread.len() == 1 && p.unread[0].safety && p.unread[0].said.text.starts_with(word)
    };
    for row in LINE_WORDS {
        for spelling in row.spellings() {
            assert_eq!(is_listed(spelling), row.safety.is_kept(), "{spelling}");
        }
    }
    for row in DETAILS {
        for head in row.heads() {
            assert_eq!(is_listed(head), row.safety.is_kept(), "{head}");
        }
    }
    for (means, words) in ELSEWHERE {
        for word in *words {
            assert_eq!(elsewhere(word), Some(*means), "{word}");
            assert_eq!(is_listed(word), means.is_safety(), "{word}");
        }
    }
    // A detail with no exercise above it.
    for row in DETAILS.iter().filter(|row| row.safety.is_kept()) {
        for head in row.heads() {
            let (p, _) = read(&format!("{head}: {}", row.example));
            assert!(p.unread.len() == 1 && p.unread[0].safety, "{head}: {:?}", p.unread);
        }
    }
}

#[test]
fn a_mistyped_word_about_safety_is_asked_for_and_listed() {
    for row in LINE_WORDS.iter().filter(|row| row.safety.is_kept() && 5 <= row.word.len()) {
        let typed = row.word.get(..row.word.len() - 1).expect("letters");
        let text = format!("{typed}: zu");
        let (p, notices) = read(&text);
        let asked = notices.iter().any(|n| n.kind() == "mistyped-key" && n.sentence().contains(row.word));
        assert!(asked && p.unread.len() == 1 && p.unread[0].safety, "{text}: {notices:?}");
    }
}

#[test]
fn no_word_stands_in_two_rows() {
    let mut seen = BTreeSet::new();
    let mut once = |word: &'static str| {
        assert!(seen.insert(word), "{word} stands twice");
        assert_eq!(folded(word), word, "not as words are compared");
        assert!(word.split(' ').count() <= 5, "{word}");
    };
    LINE_WORDS.iter().flat_map(|row| row.spellings()).for_each(&mut once);
    ELSEWHERE.iter().flat_map(|(_, words)| words.iter().copied()).for_each(&mut once);
    let details = DETAILS.iter().flat_map(|row| row.heads());
    // One word is both: above an exercise it is a line word.
    details.filter(|head| *head != "taught").for_each(&mut once);
    assert!(LINE_WORDS.iter().flat_map(|row| row.spellings()).all(|word| word.split(' ').count() <= 4));
    assert!(is_safety("limit") && is_safety("stop if") && is_safety("ci") && !is_safety("aim"));
    assert!(!Elsewhere::Record.is_safety());
}

/// A row of the page: typed, tidy, what it is.
fn page_row(typed: &str, tidy: &str, says: &str) -> String {
    let cell = |text: &str| text.replace('\n', " ⏎ ");
    format!("| `{}` | `{}` | {says} |\n", cell(typed), cell(tidy))
}

fn listed(says: &str, also: &[&str], before_colon: &[&str], count: Count) -> String {
    let mut out = says.to_string();
    for (lead, words) in [("also", also), ("before a colon also", before_colon)] {
        if !words.is_empty() {
            out.push_str(&format!("; {lead} {}", words.join(", ")));
        }
    }
    if count == Count::Many {
        out.push_str("; may come again");
    }
    out
}

const HEAD: &str = "| typed | tidy | |\n| --- | --- | --- |\n";

fn line_words() -> String {
    let row = |row: &&line::LineWord| {
        page_row(
            &format!("{}: {}", row.word, row.example),
            row.tidy,
            &listed(row.says, row.also, &[], row.count),
        )
    };
    HEAD.to_string() + &LINE_WORDS.iter().map(row).collect::<String>()
}

fn details() -> String {
    let row = |row: &&DetailWord| {
        // A word that is a line word too needs its indent.
        let indent = if Key::of(row.word).is_some() { "  " } else { "" };
        page_row(
            &format!("bridge 3x10\n{indent}{}: {}", row.head, row.example),
            &format!("bridge: 3 x 10\n  {}", row.tidy),
            &listed(row.says, row.also, row.before_colon, row.count),
        )
    };
    HEAD.to_string() + &DETAILS.iter().map(row).collect::<String>()
}

#[test]
fn the_grammars_page_lists_the_tables() {
    let page = include_str!("../../src/prescription/grammar.md");
    for (heading, wanted) in
        [("## Keys\n", line_words()), ("## Details, below an exercise at any indent\n", details())]
    {
        let section = page.split(heading).nth(1).unwrap_or_else(|| panic!("no {heading}"));
        let from = section.find("| typed").unwrap_or(section.len());
        let table = section.get(from..).unwrap_or("").split("\n\n").next().unwrap_or("");
        let listed = format!("{}\n", table.trim_end());
        assert!(listed == wanted, "below {heading}write:\n{wanted}");
    }
}
