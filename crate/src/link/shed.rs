//! Takes off what a mail program, a chat or copying by hand put round a link or into it: a full stop, brackets, quotes,
//! words before and behind, line breaks with their quote marks, signs that show nothing.
//!
//! Nothing is mended: letters are left out only where they are not of those that links are written in, and what is left
//! must open whole, by its length, checksum and canonical form or by its seal. A letter lost, changed or added stays a
//! fault.

use super::written::{DIGITS, LETTERS, SEALED};
use crate::text::is_invisible;

/// The most places behind a `#` that are looked at, last first.
const MOST_STARTS: usize = 8;
/// The most white space behind which a link is tried to end; one on lines of 76 is 5,000 letters long.
const MOST_SEAMS: usize = 64;
/// The most hyphens and low lines at the end that are tried to be no part of the link.
const MOST_DASHES: usize = 4;

/// What may be a link in a text, without what is foreign to one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Candidate {
    /// Mark and letters.
    letters: String,
    /// Where the link may end, likeliest first.
    ends: Vec<usize>,
}

impl Candidate {
    /// What the link may be, likeliest first: all of it comes first.
    pub fn readings(&self) -> impl Iterator<Item = &str> {
        self.ends.iter().filter_map(|end| self.letters.get(..*end))
    }
}

/// Every part of the text that may be a link, likeliest first.
pub(super) fn candidates(typed: &str) -> Vec<Candidate> {
    let text: String = decoded(typed).chars().filter(|c| !is_invisible(*c)).collect();
    let mut behind: Vec<&str> =
        text.rmatch_indices('#').filter_map(|(at, sign)| text.get(at + sign.len()..)).collect();
    behind.truncate(MOST_STARTS);
    if behind.is_empty() {
        behind.push(&text);
    }
    behind.into_iter().filter_map(candidate).collect()
}

/// In one line, and still the same to [`candidates`].
pub fn in_one_line(typed: &str) -> String {
    typed.trim().replace('\r', "%0D").replace('\n', "%0A")
}

fn candidate(text: &str) -> Option<Candidate> {
    // A percent sign that stands for nothing was once part of something: that is damage.
    let text = text.trim_start_matches(|c: char| !c.is_ascii_alphanumeric() && c != '%');
    if !text.starts_with([LETTERS, DIGITS, SEALED]) {
        return None;
    }
    let (mut letters, mut seams) = (String::new(), Vec::new());
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if is_letter(c) {
            letters.push(c);
            rest = rest.get(c.len_utf8()..).unwrap_or("");
            continue;
        }
        match seam(rest) {
            Some(behind) => {
                seams.push(letters.len());
                rest = behind;
            }
            None => break,
        }
    }
    // base64's own signs for filling up: the same bytes written in another way, which no link ever was.
    if rest.starts_with("==") {
        return None;
    }
    seams.dedup();
    seams.retain(|end| *end < letters.len());
    seams.truncate(MOST_SEAMS);
    let whole = [letters.len()].into_iter().chain(seams.into_iter().rev());
    let ends = whole.flat_map(|end| dashes(&letters, end)).collect();
    Some(Candidate { letters, ends })
}

/// Letters that links are written in (RFC 4648, 5).
fn is_letter(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '-' || c == '_'
}

/// What is behind a place where the letters may go on: white space, a line break with the quote marks of an answered
/// mail, or the `=` by which mails break long lines (RFC 2045, 6.7), with its line break or without.
fn seam(text: &str) -> Option<&str> {
    let soft = text.strip_prefix('=').filter(|rest| rest.starts_with(|c| is_letter(c) || is_space(c)));
    let rest = soft.unwrap_or(text);
    let behind = rest.trim_start_matches(is_space);
    let space = rest.get(..rest.len() - behind.len()).unwrap_or("");
    if soft.is_none() && space.is_empty() {
        return None;
    }
    let is_line = space.contains(['\n', '\r', '\u{2028}']);
    Some(if is_line { behind.trim_start_matches(|c| is_space(c) || matches!(c, '>' | '|')) } else { behind })
}

fn is_space(c: char) -> bool {
    c.is_whitespace()
}

/// The end, and those before it where a hyphen or a low line may be a dash or the mark of slanted letters.
fn dashes(letters: &str, end: usize) -> impl Iterator<Item = usize> {
    let dashes = letters.get(..end).unwrap_or("").bytes().rev().take_while(|b| matches!(b, b'-' | b'_'));
    let most = dashes.take(MOST_DASHES).count();
    (0..=most).map(move |less| end.saturating_sub(less))
}

/// Signs that are written as `%3E` for what they stand for.
fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((first, behind)) = rest.split_first() {
        let code = behind.get(..2).filter(|_| *first == b'%').and_then(hexadecimal);
        bytes.push(code.unwrap_or(*first));
        rest = behind.get(if code.is_some() { 2 } else { 0 }..).unwrap_or(&[]);
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn hexadecimal(digits: &[u8]) -> Option<u8> {
    digits.iter().try_fold(0, |n, digit| Some(n << 4 | char::from(*digit).to_digit(16)? as u8))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first(typed: &str) -> Option<String> {
        candidates(typed).first().and_then(|c| c.readings().next().map(str::to_string))
    }

    #[test]
    fn what_is_round_a_link_is_left_out() {
        for typed in [
            "https://home.example/h.html#Labc-d_9",
            "Labc-d_9.",
            "<Labc-d_9>,",
            "\u{201c}Labc-d_9\u{201d}",
            "#Labc-d_9%3E%2e",
            "%3CLabc-d_9%3e",
            "home.example%23Labc-d_9&sent=1",
            "Lab\u{200b}c-d\u{ad}_9\u{feff}",
            "Labc%E2%80%8B-d_9",
            "Labc\r\n-d_9\n",
            "Lab=\r\nc-d=\n_9=\r\n",
            "Lab=c-d_9=",
            "> see\n> h#Labc\n>> -d\n> | _9",
        ] {
            assert_eq!(first(typed).as_deref(), Some("Labc-d_9"), "{typed}");
        }
    }

    #[test]
    fn a_link_may_end_before_words_and_dashes() {
        let all = |typed: &str| -> Vec<String> {
            candidates(typed).iter().flat_map(Candidate::readings).map(str::to_string).collect()
        };
        assert_eq!(all("#Lab cd ef. gh"), ["Labcdef", "Labcd", "Lab"]);
        assert_eq!(all("_Lab__ c"), ["Lab__c", "Lab__", "Lab_", "Lab"]);
        assert_eq!(all("x#Lab y#Scd"), ["Scd", "Laby", "Lab"]);
        assert_eq!(all("#Lab =41"), ["Lab41", "Lab"]);
    }

    #[test]
    fn what_is_no_link_gives_none() {
        for typed in ["", "#", "?123", "Q123.", "%LAbc", "%", "%0", "LAbc==", "LAbc==.", "\u{0}"] {
            assert_eq!(candidates(typed), [], "{typed}");
        }
    }

    #[test]
    fn one_line_says_the_same() {
        for typed in ["Lab=\r\ncd", "> h#Lab\n> cd.", "Lab%\ncd", " L\rab\n\n"] {
            let line = in_one_line(typed);
            assert!(!line.contains(['\n', '\r']), "{line}");
            assert_eq!(candidates(&line), candidates(typed), "{typed}");
        }
    }
}
