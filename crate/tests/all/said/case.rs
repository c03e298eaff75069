//! Cases as they are written down, and how words are compared.

use layfigure::catalog::Catalog;
use layfigure::catalog::find::{Found, key};

/// Why an expectation does not hold.
pub type Fault = String;

pub struct Case {
    /// `class/short-name`.
    pub name: String,
    pub text: String,
    pub wants: Vec<Want>,
}

/// One expectation: its kind, and the answers that will do.
pub struct Want {
    pub kind: String,
    pub answers: Vec<String>,
}

/// All kinds of expectations; a line that has none of them is a slip of the writer's.
const KINDS: [&str; 28] = [
    "limit",
    "limits",
    "weight",
    "weights",
    "exercise",
    "exercises",
    "step",
    "steps",
    "ramp",
    "cue",
    "not cue",
    "tidy",
    "do not",
    "may",
    "rule",
    "sheet",
    "phone",
    "record",
    "not do not",
    "not may",
    "not rule",
    "not sheet",
    "not phone",
    "not record",
    "fact",
    "condition",
    "conditions",
    "not condition",
];
const OF_NOTICES: [&str; 7] = ["asked", "told", "notice", "edit", "not asked", "not notice", "not edit"];

impl Case {
    pub fn class(&self) -> &str {
        self.name.split('/').next().unwrap_or("")
    }
}

/// The cases of a file.
pub fn read(class: &str, file: &str) -> Vec<Case> {
    let mut cases = Vec::new();
    for block in file.split("\n=== ").skip(usize::from(!file.starts_with("=== "))) {
        let (name, rest) = block.trim_start_matches("=== ").split_once('\n').expect("a name and a text");
        let name = format!("{class}/{name}");
        let parted = rest.split_once("\n---\n").unwrap_or_else(|| panic!("{name} has no line ---"));
        let wants: Vec<Want> =
            parted.1.lines().filter(|l| !l.trim().is_empty()).map(|line| want(&name, line)).collect();
        assert!(!wants.is_empty(), "{name} expects nothing");
        cases.push(Case { name, text: format!("{}\n", parted.0), wants });
    }
    cases
}

fn want(case: &str, line: &str) -> Want {
    if line == "quiet" {
        return Want { kind: "quiet".into(), answers: vec![String::new()] };
    }
    let (kind, value) = line.split_once(": ").unwrap_or_else(|| panic!("{case}: no kind in {line:?}"));
    let in_week = ["sheet in week ", "not sheet in week "].iter().any(|k| kind.starts_with(k));
    let known = KINDS.contains(&kind) || OF_NOTICES.contains(&kind) || in_week;
    assert!(known, "{case}: {kind:?} is no kind of expectation");
    // An answer may repeat its kind behind the bar.
    let head = format!("{kind}: ");
    let answers = value.split(" | ").map(|a| a.strip_prefix(&head).unwrap_or(a).to_string()).collect();
    Want { kind: kind.into(), answers }
}

const UNITS: [&str; 16] =
    ["kg", "kgs", "g", "lb", "lbs", "cm", "mm", "m", "min", "mins", "s", "sec", "secs", "h", "%", "°"];

/// Words as they are compared: without capitals, with one kind of apostrophe and of space, and no space between a
/// number and its unit.
pub fn folded(words: &str) -> String {
    let plain: String = words
        .to_lowercase()
        .chars()
        .map(|c| match c {
            '’' | '‘' => '\'',
            '×' => 'x',
            c => c,
        })
        .collect();
    let mut out = String::new();
    for word in plain.split_whitespace() {
        let after_digit = out.ends_with(|c: char| c.is_ascii_digit());
        let unit = word.trim_end_matches(|c: char| c.is_ascii_punctuation() && c != '%');
        let is_unit = UNITS.contains(&unit);
        let joined = out.is_empty() || (after_digit && is_unit);
        if !joined {
            out.push(' ');
        }
        out.push_str(word);
    }
    out
}

/// Whether these words stand in a text, at the beginning of a word; a stop behind a word is no part of it.
pub fn stands_in(words: &str, text: &str) -> bool {
    let bare = |words: &str| {
        let stop = |c: char| matches!(c, ',' | '.' | ';');
        folded(words).split(' ').map(|w| w.trim_end_matches(stop).to_string()).collect::<Vec<_>>().join(" ")
    };
    let (words, text) = (bare(words), bare(text));
    let begins = words.starts_with(char::is_alphanumeric);
    text.match_indices(&words)
        .any(|(at, _)| !(begins && text.get(..at).is_some_and(|t| t.ends_with(char::is_alphanumeric))))
}

/// A name as it is compared: by what the catalog finds.
pub fn named(name: &str) -> String {
    match Catalog::embedded().find(name) {
        Found::One(exercise) => key(&exercise.name),
        Found::Near(_) | Found::None => key(name),
    }
}

/// The parts of a canonical dose, between commas outside brackets and quotes.
pub fn parts(dose: &str) -> Vec<String> {
    let (mut out, mut depth, mut quoted) = (vec![String::new()], 0_usize, false);
    for c in dose.chars() {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            '"' => quoted = !quoted,
            ',' if depth == 0 && !quoted => {
                out.push(String::new());
                continue;
            }
            _ => {}
        }
        out.last_mut().expect("one at least").push(c);
    }
    let mut out: Vec<String> = out.iter().map(|p| folded(p)).filter(|p| !p.is_empty()).collect();
    out.sort();
    out
}

/// `name, side region: dose`, parted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    pub name: String,
    pub side: String,
    pub region: String,
    pub parts: Vec<String>,
}

impl Line {
    pub fn read(line: &str) -> Line {
        let (head, dose) = line.split_once(": ").unwrap_or((line.trim_end_matches(':'), ""));
        let sides = ["left", "right", "each side", "both", "together", "alternating"];
        let found = head.rsplit_once(", ").and_then(|(name, last)| {
            let side = sides.into_iter().find(|s| last == *s || last.starts_with(&format!("{s} ")))?;
            Some((name, side, last.get(side.len()..).unwrap_or("").trim()))
        });
        let (name, side, region) = found.unwrap_or((head, "", ""));
        Line { name: named(name), side: side.into(), region: folded(region), parts: parts(dose) }
    }
}
