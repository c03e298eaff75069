//! Numbers to call, found in what a clinician typed. A wrong number may cost more than none: what may be something
//! else (a registration, a postcode, a time, an ending of another number) gets no button. It is read on the page all
//! the same.

use crate::measure::Date;

/// A number to call.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Number {
    /// As typed: `01632 960 123`.
    pub shown: String,
    /// For a `tel:` address: digits, with `+` before those of a country.
    pub dialled: String,
    pub extension: Option<String>,
}

/// What a text holds numbers for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// A person or clinic with name, profession and more: a number is long, or said to be one.
    Clinic,
    /// Numbers by meaning, which may be as short as 111.
    OutOfHours,
    Emergency,
}

impl Line {
    /// Digits below which it is no number. Whole numbers are seven digits or more nearly everywhere (common
    /// practice, no source); numbers for emergencies begin at two (`15`, `112`).
    fn fewest(self) -> usize {
        match self {
            Line::Clinic => 7,
            Line::OutOfHours => 3,
            Line::Emergency => 2,
        }
    }
}

/// The most digits of a number with its country (ITU-T E.164).
const MOST: usize = 15;

/// Digits in one piece.
#[derive(Clone, Copy, Debug)]
struct Group<'a> {
    digits: &'a str,
    start: usize,
    end: usize,
}

/// All numbers of a text, in its order.
pub fn numbers(text: &str, line: Line) -> Vec<Number> {
    let groups = groups(text);
    let mut found: Vec<Number> = Vec::new();
    let mut from = 0;
    let mut before = 0;
    while from < groups.len() {
        let mut to = from + 1;
        while to < groups.len() && joins(text, &groups, from, to) {
            to += 1;
        }
        let cluster = groups.get(from..to).unwrap_or(&[]);
        let words = cluster.first().and_then(|g| text.get(before..g.start)).unwrap_or("");
        take(text, line, words, cluster, &mut found);
        before = cluster.last().map_or(before, |g| g.end);
        from = to;
    }
    found
}

fn groups(text: &str) -> Vec<Group<'_>> {
    let mut all = Vec::new();
    let mut start = None;
    for (at, c) in text.char_indices().chain([(text.len(), ' ')]) {
        match (c.is_ascii_digit(), start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                all.push(Group { digits: text.get(from..at).unwrap_or(""), start: from, end: at });
                start = None;
            }
            _ => {}
        }
    }
    all
}

fn gap<'a>(text: &'a str, a: &Group<'_>, b: &Group<'_>) -> &'a str {
    text.get(a.end..b.start).unwrap_or("x")
}

/// Whether a group goes on with the number that began at `from`.
fn joins(text: &str, groups: &[Group<'_>], from: usize, to: usize) -> bool {
    let (Some(first), Some(last), Some(next)) = (groups.get(from), groups.get(to - 1), groups.get(to)) else {
        return false;
    };
    let between = gap(text, last, next);
    if 3 < between.chars().count() || glued(text, last) || glued(text, next) {
        return false;
    }
    if clocked(text, last) || clocked(text, next) {
        return false;
    }
    match between.trim() {
        "" | "-" | "‐" | "‑" | "–" | "(" | ")" | ")-" => {}
        // A full stop ends a sentence where a space is behind it.
        "." if between == "." => {}
        // `0163/296 0123` has its area so; elsewhere it parts two numbers.
        "/" if to == from + 1 && first.digits.starts_with('0') && first.digits.len() <= 5 => {}
        _ => return false,
    }
    // `24/7 01632 960 123`: a short number does not go on with a 0.
    let short = to == from + 1 && first.digits.len() <= 2 && !first.digits.starts_with('0');
    !(short && next.digits.starts_with('0') && !plus(text, first) && between.trim().is_empty())
}

/// Whether a letter stands right at a group: `PH123456`, `24h`. The `x` of an extension is none.
fn glued(text: &str, group: &Group<'_>) -> bool {
    let left = text.get(..group.start).and_then(|t| t.chars().next_back());
    let right = text.get(group.end..).unwrap_or("");
    let mut right = right.chars();
    let (next, then) = (right.next(), right.next());
    let extension = matches!(next, Some('x' | 'X')) && then.is_some_and(|c| c.is_ascii_digit() || c == ' ');
    left.is_some_and(char::is_alphabetic) || (next.is_some_and(char::is_alphabetic) && !extension)
}

/// One half of `8:30`.
fn clocked(text: &str, group: &Group<'_>) -> bool {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let mut left = text.get(..group.start).unwrap_or("").chars().rev();
    let mut right = text.get(group.end..).unwrap_or("").chars();
    (left.next() == Some(':') && digit(left.next())) || (right.next() == Some(':') && digit(right.next()))
}

fn plus(text: &str, group: &Group<'_>) -> bool {
    text.get(..group.start).is_some_and(|t| t.trim_end_matches([' ', '(']).ends_with('+'))
}

/// The last word before a number, without `no.` and signs.
fn said_before(words: &str) -> String {
    let parts = words.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty());
    let fillers = ["no", "nr", "num", "number", "on", "is", "us", "or", "at", "and"];
    let mut said: Vec<String> = parts.map(str::to_lowercase).collect();
    while said.last().is_some_and(|w| fillers.contains(&w.as_str())) {
        said.pop();
    }
    said.pop().unwrap_or_default()
}

const CALLED: [&str; 14] = [
    "tel",
    "telephone",
    "phone",
    "ph",
    "call",
    "ring",
    "mobile",
    "mob",
    "cell",
    "t",
    "m",
    "dial",
    "text",
    "landline",
];
const EXTENSION: [&str; 5] = ["ext", "extension", "extn", "x", "xtn"];
/// Before these digits are something else.
const OTHER: [&str; 26] = [
    "fax",
    "f",
    "bleep",
    "pager",
    "reg",
    "registration",
    "registered",
    "hcpc",
    "gmc",
    "nmc",
    "csp",
    "ahpra",
    "npi",
    "licence",
    "license",
    "lic",
    "id",
    "pin",
    "nhs",
    "mrn",
    "ref",
    "room",
    "box",
    "suite",
    "zip",
    "postcode",
];
/// Behind these a short number is a time.
const TIMES: [&str; 18] = [
    "am", "pm", "h", "hr", "hrs", "hour", "hours", "day", "days", "week", "weeks", "min", "mins", "minutes",
    "o", "oclock", "years", "yrs",
];

fn take(text: &str, line: Line, words: &str, cluster: &[Group<'_>], found: &mut Vec<Number>) {
    let (Some(first), Some(last)) = (cluster.first(), cluster.last()) else { return };
    let said = said_before(words);
    let hash = words.trim_end().ends_with('#');
    if EXTENSION.contains(&said.as_str()) || (hash && !found.is_empty()) {
        // An extension of a number that was not taken is nothing.
        if let Some(number) = found.last_mut()
            && words.chars().count() <= 14
        {
            number.extension.get_or_insert(first.digits.to_string());
        }
        return;
    }
    let after: String = text.get(last.end..).unwrap_or("").to_lowercase();
    let next = after.trim_start().split(|c: char| !c.is_alphanumeric()).next().unwrap_or("");
    // `1-800-CALL`: the rest of it is letters.
    let lettered = after.strip_prefix('-').is_some_and(|rest| rest.starts_with(char::is_alphabetic));
    if OTHER.contains(&said.as_str()) || cluster.iter().any(|g| glued(text, g)) || lettered {
        return;
    }
    if is_time(text, cluster) || is_date(text, cluster) {
        return;
    }
    let mut cluster = cluster;
    if TIMES.contains(&next) && last.digits.len() <= 2 {
        // `999 24 hours`: the time behind a short number is no part of it.
        let rest = cluster.split_last().map_or(&[][..], |(_, rest)| rest);
        let digits: usize = rest.iter().map(|g| g.digits.len()).sum();
        if digits <= 4 {
            cluster = rest;
        }
    }
    let called = CALLED.contains(&said.as_str());
    for part in parts(cluster) {
        if let Some(number) = number(text, line, called, part, found.first()) {
            found.push(number);
        }
    }
}

/// Two numbers of one length with nothing but a space between them; else all as one.
fn parts<'a, 'b>(cluster: &'b [Group<'a>]) -> Vec<&'b [Group<'a>]> {
    let digits = |part: &[Group<'_>]| part.iter().map(|g| g.digits.len()).sum::<usize>();
    if MOST < digits(cluster) {
        for at in 1..cluster.len() {
            let (a, b) = cluster.split_at(at);
            let zero = |part: &[Group<'_>]| part.first().is_some_and(|g| g.digits.starts_with('0'));
            if zero(a) && zero(b) && digits(a) == digits(b) && 7 <= digits(a) {
                return vec![a, b];
            }
        }
    }
    vec![cluster]
}

fn number(
    text: &str,
    line: Line,
    called: bool,
    part: &[Group<'_>],
    earlier: Option<&Number>,
) -> Option<Number> {
    let (first, last) = (part.first()?, part.last()?);
    let plus = plus(text, first);
    let mut digits = String::new();
    for (i, group) in part.iter().enumerate() {
        // `+44 (0)1632`: not dialled behind a country, but in Italy's numbers.
        let trunk = plus && i == 1 && group.digits.starts_with('0') && first.digits != "39";
        let bracketed = text.get(group.end..).is_some_and(|t| t.starts_with(')'));
        match (trunk, bracketed, group.digits) {
            (false, ..) => digits.push_str(group.digits),
            (true, true, "0") => {}
            (true, ..) => return None,
        }
    }
    let fewest = if called { 3 } else { line.fewest() };
    if !(fewest.min(line.fewest())..=MOST).contains(&digits.len()) {
        return None;
    }
    let whole = plus || digits.starts_with('0');
    let lengths: Vec<usize> = part.iter().map(|g| g.digits.len()).collect();
    let unclear = match lengths.as_slice() {
        // A postcode of the United States; two short numbers; two local ones.
        [5, 4] => !called,
        [2..=4, 2..=4] if !whole && line != Line::Clinic => true,
        [6..=MOST, 6..=MOST] => !whole,
        _ => false,
    };
    // An ending of the number before it, or a number of its own that is no whole one.
    let ending = earlier.is_some_and(|earlier| {
        let before = earlier.dialled.trim_start_matches('+').len();
        let full = earlier.dialled.starts_with(['+', '0']);
        full && !whole && 4 < digits.len() && digits.len() + 2 <= before
    });
    if unclear || ending {
        return None;
    }
    let opened = text.get(..first.start).is_some_and(|t| t.ends_with('(')) && !plus;
    let start = if plus {
        text.get(..first.start).and_then(|t| t.rfind('+')).unwrap_or(first.start)
    } else {
        first.start - usize::from(opened)
    };
    let shown = text.get(start..last.end)?.to_string();
    let dialled = if plus { format!("+{digits}") } else { digits };
    Some(Number { shown, dialled, extension: None })
}

/// `9-17`, `0900-1700`, `18.00`, `18:00`, `24/7`.
fn is_time(text: &str, cluster: &[Group<'_>]) -> bool {
    let (Some(first), Some(last)) = (cluster.first(), cluster.last()) else { return false };
    let clock = |g: &Group<'_>| {
        let (hour, minute) = g.digits.split_at(g.digits.len().saturating_sub(2));
        let at_most = |part: &str, most: u32| part.parse::<u32>().is_ok_and(|n| n <= most);
        g.digits.len() == 4 && at_most(hour, 24) && at_most(minute, 59)
    };
    let short = |g: &Group<'_>| g.digits.len() <= 2;
    let sign =
        |at: Option<&str>, signs: [char; 2]| at.is_some_and(|t| t.starts_with(signs) || t.ends_with(signs));
    // A colon or a slash at its edge: one half of a time or a day.
    let left = text.get(..first.start).map(|t| t.trim_end());
    let right = text.get(last.end..).map(|t| t.trim_start());
    if cluster.iter().all(short) && cluster.len() <= 2 {
        let digit = |t: Option<&str>, back: bool| {
            let mut rest = t.unwrap_or("").trim_matches([':', '/']).chars();
            let c = if back { rest.next_back() } else { rest.next() };
            c.is_some_and(|c| c.is_ascii_digit())
        };
        let half = (left.is_some_and(|t| t.ends_with([':', '/'])) && digit(left, true))
            || (right.is_some_and(|t| t.starts_with([':', '/'])) && digit(right, false));
        if half {
            return true;
        }
    }
    match cluster {
        [a, b] => {
            let between = gap(text, a, b);
            let dashed = sign(Some(between.trim()), ['-', '–']);
            (dashed && ((clock(a) && clock(b)) || (short(a) && short(b))))
                || (between == "." && short(a) && short(b))
        }
        _ => false,
    }
}

/// `30/11/2026` never joins; `2026-11-30`, `30-11-2026`, `30.11.2026` would.
fn is_date(text: &str, cluster: &[Group<'_>]) -> bool {
    let [a, b, c] = cluster else { return false };
    if gap(text, a, b) != gap(text, b, c) || gap(text, a, b).trim().is_empty() {
        return false;
    }
    let iso =
        |year: &str, month: &str, day: &str| Date::iso(&format!("{year}-{month:0>2}-{day:0>2}")).is_some();
    match (a.digits.len(), b.digits.len(), c.digits.len()) {
        (4, 1..=2, 1..=2) => iso(a.digits, b.digits, c.digits),
        (1..=2, 1..=2, 4) => iso(c.digits, b.digits, a.digits) || iso(c.digits, a.digits, b.digits),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str, line: Line) -> Vec<String> {
        let all = numbers(text, line).into_iter();
        all.map(|n| format!("{}{}", n.dialled, n.extension.map_or(String::new(), |e| format!(" then {e}"))))
            .collect()
    }

    #[test]
    fn whole_numbers_are_found_and_nothing_that_is_none() {
        for (text, wanted) in [
            ("R. O., physiotherapist, 01632 960 123", vec!["01632960123"]),
            ("01632 960 123 or 07700 900 123", vec!["01632960123", "07700900123"]),
            ("01632 960 123, 07700 900 123", vec!["01632960123", "07700900123"]),
            ("01632 960 123/07700 900 123", vec!["01632960123", "07700900123"]),
            ("01632 960 123 / 07700 900 123", vec!["01632960123", "07700900123"]),
            ("01632 960 123 07700 900 123", vec!["01632960123", "07700900123"]),
            ("T: 01632 960 123 M: 07700 900 123", vec!["01632960123", "07700900123"]),
            ("01632 960 123 (mobile 07700 900 123)", vec!["01632960123", "07700900123"]),
            ("(01632) 960123", vec!["01632960123"]),
            ("0163/296 0123", vec!["01632960123"]),
            ("+44 1632 960123", vec!["+441632960123"]),
            ("+44 (0)1632 960 123", vec!["+441632960123"]),
            ("+44 (0) 1632 960 123", vec!["+441632960123"]),
            ("+39 06 1234 5678", vec!["+390612345678"]),
            ("+44 1632 960123 +44 7700 900123", vec!["+441632960123", "+447700900123"]),
            ("01632-960-123", vec!["01632960123"]),
            ("206.555.0123", vec!["2065550123"]),
            ("(206) 555-0123", vec!["2065550123"]),
            ("+1 (206) 555-0123", vec!["+12065550123"]),
            ("1-206-555-0123", vec!["12065550123"]),
            ("01 99 00 12 34", vec!["0199001234"]),
            ("020 7946 0123", vec!["02079460123"]),
            // Extensions are said, never dialled with it, and never a number of their own.
            ("01632 960 123 ext 45", vec!["01632960123 then 45"]),
            ("01632 960 123 ext. 45678", vec!["01632960123 then 45678"]),
            ("01632 960 123, extension 4567890", vec!["01632960123 then 4567890"]),
            ("01632 960 123 x45", vec!["01632960123 then 45"]),
            ("01632 960 123x45", vec!["01632960123 then 45"]),
            ("01632 960 123 #45", vec!["01632960123 then 45"]),
            ("ext 4567890", vec![]),
            // What else stands in such a line.
            ("R. O., HCPC PH123456", vec![]),
            ("R. O., HCPC PH1234567, 01632 960 123", vec!["01632960123"]),
            ("01632 960 123, HCPC PH1234567", vec!["01632960123"]),
            ("01632 960 123, reg. no. 1234567", vec!["01632960123"]),
            ("GMC 1234567", vec![]),
            ("01632 960 123, fax 01632 960 124", vec!["01632960123"]),
            ("Springfield IL 62704", vec![]),
            ("Springfield IL 62704-1234", vec![]),
            ("open 0900-1700", vec![]),
            ("01632 960 123, Mon-Fri 9-17", vec!["01632960123"]),
            ("01632 960 123 (8:30-16:30)", vec!["01632960123"]),
            ("01632 960 123. 24 hours", vec!["01632960123"]),
            ("24/7 01632 960 123", vec!["01632960123"]),
            ("since 2026-11-30", vec![]),
            ("30.11.2026 and 30/11/2026 and 30-11-2026", vec![]),
            // Endings of a number are no numbers.
            ("01632 960 123/4", vec!["01632960123"]),
            ("01632 960 123, 960 124", vec!["01632960123"]),
            ("020 7946 0123, 7946 0124", vec!["02079460123"]),
            ("960123 960124", vec![]),
            ("1-800-FLOWERS", vec![]),
            ("123456789012345678", vec![]),
            ("12 34", vec![]),
            ("", vec![]),
        ] {
            assert_eq!(found(text, Line::Clinic), wanted, "{text}");
        }
    }

    #[test]
    fn short_numbers_are_found_where_numbers_stand() {
        for (text, wanted) in [
            ("999", vec!["999"]),
            ("112 or 999", vec!["112", "999"]),
            ("112 / 999", vec!["112", "999"]),
            ("112/999", vec!["112", "999"]),
            ("112, 999", vec!["112", "999"]),
            ("999 (24 hours)", vec!["999"]),
            ("999 24 hours", vec!["999"]),
            ("999 24h", vec!["999"]),
            ("999, 24/7", vec!["999"]),
            ("call 15", vec!["15"]),
            ("15 (SAMU) or 112", vec!["15", "112"]),
            ("999 or the ward, 01632 960 123", vec!["999", "01632960123"]),
            // Two numbers, or one?
            ("112 999", vec![]),
            ("at 18:00 ask next door", vec![]),
            ("the ward", vec![]),
        ] {
            assert_eq!(found(text, Line::Emergency), wanted, "{text}");
        }
        for (text, wanted) in [
            ("111", vec!["111"]),
            ("18:00-08:00 call 111", vec!["111"]),
            ("after 6 pm: 111", vec!["111"]),
            ("18.00 to 8.00: 01632 960 124", vec!["01632960124"]),
            ("01632 960 124 or 111", vec!["01632960124", "111"]),
        ] {
            assert_eq!(found(text, Line::OutOfHours), wanted, "{text}");
        }
    }

    #[test]
    fn a_number_is_shown_as_it_was_typed() {
        let shown = |text| numbers(text, Line::Clinic).into_iter().map(|n| n.shown).collect::<Vec<_>>();
        assert_eq!(shown("call +44 (0)1632 960 123."), ["+44 (0)1632 960 123"]);
        assert_eq!(shown("(01632) 960 123"), ["(01632) 960 123"]);
    }
}
