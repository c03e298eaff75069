//! Every word of a line is accounted for: take it away, and what was read changes; or it is told at its place.

use layfigure::notice::Notice;
use layfigure::prescription::{Prescription, Written, read};

/// What stands above and below the line that is looked at.
const ABOVE: &str =
    "start: 2026-11-30\nsurgery: 2026-11-02, left knee replacement\nbridge: 7 x 17, every 3 days\n";
const NUMBER: usize = 4;

/// Words that join two others, count them or are kind: `3 sets of 10 reps, please` is `3 x 10`.
const JOINING: [&str; 18] = [
    "a", "an", "of", "for", "the", "with", "at", "in", "and", "or", "reps", "times", "secs", "s", "x",
    "please", "sets", "rounds",
];

/// What a phrase says without one of its words as well.
const SAID_BESIDE: [(&str, &str); 44] = [
    ("from week", "from"),
    ("knee flexion", "flexion"),
    ("on the left", "on"),
    ("elbow flexion", "flexion"),
    ("from week 3:", "from"),
    ("from 14 Dec", "from"),
    ("start week", "start"),
    ("wk 2 onwards", "onwards"),
    ("flexion max 90", "max"),
    ("knee flexion > 90", "flexion"),
    ("limit:", "limit"),
    ("not above 100", "above"),
    ("past midline", "past"),
    ("limit R ankle DF to 10", "limit"),
    ("left leg", "leg"),
    ("weight: left arm NWB", "weight"),
    ("partial 50 %", "partial"),
    ("each side", "side"),
    ("each side", "each"),
    ("each leg", "leg"),
    ("each leg", "each"),
    ("each hand", "hand"),
    ("first week only", "only"),
    ("hold each", "each"),
    ("30 sec break", "sec"),
    ("rest between sets", "rest"),
    ("tempo 3-1-1-0", "tempo"),
    ("15 min morning", "min"),
    ("20 min evening", "min"),
    ("once a week", "once"),
    ("up to 10", "up"),
    ("> 90 only", "only"),
    ("pain <= 3 only", "only"),
    ("weeks 2-4 only", "only"),
    ("Mon Wed Fri only", "only"),
    ("each Mon Wed Fri", "each"),
    ("each nocte", "each"),
    ("each am", "each"),
    ("R lead", "lead"),
    ("L lead", "lead"),
    ("each mane", "each"),
    ("each morning", "each"),
    ("each evening", "each"),
    ("to fatigue", "to"),
];

fn is_said_beside(line: &str, (from, to): (usize, usize)) -> bool {
    let word = line.get(from..to).unwrap_or("");
    let before = line.get(..from).unwrap_or("").trim_end();
    if word == "only" && (before.ends_with("weeks") || before.ends_with("only")) {
        return true;
    }
    // What is done each night is done daily.
    let each = ["each nocte", "each mane", "each am", "each morning", "each evening"];
    if word == "daily" && each.iter().any(|each| line.contains(each)) {
        return true;
    }
    if word == "only"
        && crate::typed::SIDES.iter().any(|side| before.ends_with(side.trim_end_matches(" only")))
    {
        return true;
    }
    SAID_BESIDE.iter().any(|(phrase, one)| {
        *one == word && line.match_indices(phrase).any(|(at, _)| at <= from && to <= at + phrase.len())
    })
}

fn text(line: &str, deep: bool) -> String {
    format!("{ABOVE}{}{line}\n", if deep { "  " } else { "" })
}

/// What was read, without places and without the lines as written.
fn facts(p: &Prescription) -> String {
    let lines: Vec<Written> = Vec::new();
    let told = format!("{:?}", Prescription { lines, ..p.clone() });
    let mut out = String::new();
    let mut rest = told.as_str();
    while let Some(at) = rest.find("Place {") {
        let (before, after) = rest.split_at(at);
        out.push_str(before);
        rest = after.find('}').and_then(|end| after.get(end + 1..)).unwrap_or("");
    }
    out.push_str(rest);
    out
}

/// Where the words of a line stand, in bytes; commas are no part of them.
fn words(line: &str) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut at = 0;
    for word in line.split(' ') {
        let bare = word.trim_end_matches([',', ':']);
        if bare.chars().any(char::is_alphanumeric) {
            out.push((at, at + bare.len()));
        }
        at += word.len() + 1;
    }
    out
}

/// The line without the word: its comma goes with it where one stands before as well.
fn without(line: &str, (from, to): (usize, usize)) -> String {
    let before = line.get(..from).unwrap_or("").trim_end();
    let after = line.get(to..).unwrap_or("");
    let parted = before.is_empty() || before.ends_with([',', ':', '-']);
    let after = if parted { after.trim_start_matches([',', ' ']) } else { after };
    let space =
        if before.is_empty() || after.starts_with([',', ' ', ':']) || after.is_empty() { "" } else { " " };
    format!("{before}{space}{after}")
}

fn is_told(notices: &[Notice], indent: usize, line: &str, (from, to): (usize, usize)) -> bool {
    notices.iter().any(|n| {
        let whole = n.place.end - n.place.start == line.len();
        n.place.line == NUMBER && n.place.start <= indent + from && indent + to <= n.place.end && !whole
    })
}

/// See the module.
pub fn law(line: &str, deep: bool) -> Result<(), String> {
    let lost = lost(line, deep);
    if lost.is_empty() { Ok(()) } else { Err(format!("lost without a word: {lost:?} of {line:?}")) }
}

/// The words of a line that nothing is made of and that are not told.
fn lost(line: &str, deep: bool) -> Vec<String> {
    let (read_of, notices) = read(&text(line, deep));
    let known = facts(&read_of);
    let indent = if deep { 2 } else { 0 };
    let lost = words(line).into_iter().filter(|word| {
        let typed = line.get(word.0..word.1).unwrap_or("");
        !JOINING.contains(&typed.to_lowercase().as_str())
            && !is_said_beside(line, *word)
            && !is_told(&notices, indent, line, *word)
            && facts(&read(&text(&without(line, *word), deep)).0) == known
    });
    lost.map(|(from, to)| line.get(from..to).unwrap_or("").to_string()).collect()
}
