//! Makes inputs nobody would type of what somebody did.

use crate::random::Random;
use crate::seeds::Seeds;

/// Characters that readers stumble over: widths, directions, marks, separators, and numbers that are none.
const ODD: [&str; 40] = [
    "\u{0}",
    "\t",
    "\r",
    "\r\n",
    "\n",
    "\u{b}",
    "\u{c}",
    "\u{85}",
    "\u{a0}",
    "\u{ad}",
    "\u{200b}",
    "\u{200f}",
    "\u{202e}",
    "\u{2028}",
    "\u{2029}",
    "\u{2060}",
    "\u{feff}",
    "\u{301}",
    "e\u{301}",
    "é",
    "ß",
    "İ",
    "ſ",
    "K",
    "ﬁ",
    "½",
    "²",
    "٣",
    "३",
    "×",
    "–",
    "—",
    "−",
    "≤",
    "“",
    "”",
    "’",
    "𝟑",
    "👩‍⚕️",
    "\u{10ffff}",
];

/// Words that mean something, at places where they do not.
const WORDS: [&str; 56] = [
    ":",
    "::",
    ",",
    ";",
    "/",
    "//",
    "#",
    "##",
    "(",
    ")",
    "()",
    "-",
    "->",
    "<=",
    ">",
    "+",
    "%",
    "\"",
    "'",
    "@",
    "0",
    "00",
    "1.",
    "-1",
    "255",
    "256",
    "65535",
    "65536",
    "4294967296",
    "99999999999999999999",
    "1e308",
    "0.1",
    "2,5",
    "1/2",
    "3x10",
    "10 x 10 x 10",
    "right",
    "left",
    "each side",
    "both",
    "hold",
    "until",
    "week 0",
    "week 300",
    "2026-02-30",
    "31 Dec 9999",
    "limit:",
    "weight:",
    "exercise:",
    "pose: start",
    "  ",
    "\n  ",
    "\n\n",
    "from week 3:",
    "if",
    "anyway:",
];

/// A place on a character boundary.
fn place(random: &mut Random, text: &str) -> usize {
    let mut at = random.below(text.len() + 1);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// Two places, mostly near each other.
fn span(random: &mut Random, text: &str) -> (usize, usize) {
    let a = place(random, text);
    let mut b = if random.one_in(4) { place(random, text) } else { text.len().min(a + random.below(24)) };
    while !text.is_char_boundary(b) {
        b -= 1;
    }
    (a.min(b), a.max(b))
}

/// One change of a text; `other` is spliced in now and then.
fn change(random: &mut Random, text: &mut String, other: &str) {
    let (from, to) = span(random, text);
    match random.below(9) {
        0 => {
            let (a, b) = span(random, other);
            text.replace_range(from..to, &other[a..b]);
        }
        1 => text.replace_range(from..to, ""),
        2 => {
            let many = if random.one_in(40) { 300 } else { 1 + random.below(6) };
            let piece = text[from..to].repeat(many);
            text.insert_str(to, &piece);
        }
        3 => {
            let mut lines: Vec<&str> = text.split('\n').collect();
            let (a, b) = (random.below(lines.len()), random.below(lines.len()));
            lines.swap(a, b);
            *text = lines.join("\n");
        }
        4 => text.insert_str(from, random.pick(&ODD, "")),
        5 => text.truncate(from),
        6 => text.replace_range(from..to, random.pick(&WORDS, "")),
        7 => text.insert_str(from, &format!(" {} ", random.pick(&WORDS, ""))),
        _ => {
            let upper = text[from..to].to_uppercase();
            text.replace_range(from..to, &upper);
        }
    }
}

fn changed(random: &mut Random, text: &mut String, other: &str) {
    for _ in 0..random.below(7) {
        change(random, text, other);
        // Longer ones are cut: what is found in them is found in short ones, sooner.
        if 6_000 < text.len() && !random.one_in(300) {
            let mut end = 6_000;
            while !text.is_char_boundary(end) {
                end -= 1;
            }
            text.truncate(end);
        }
    }
}

/// A prescription.
pub fn text(random: &mut Random, seeds: &Seeds) -> String {
    let mut text = String::new();
    if random.one_in(4) {
        text.push_str(random.of_list(&seeds.texts).unwrap_or_default());
    }
    let lines = if random.one_in(400) { 700 } else { random.below(7) };
    for _ in 0..lines {
        text.push_str(if random.one_in(3) { "\n  " } else { "\n" });
        text.push_str(random.of_list(&seeds.lines).unwrap_or_default());
    }
    let other = random.of_list(&seeds.lines).unwrap_or_default();
    changed(random, &mut text, other);
    text
}

/// Any of these, changed.
pub fn one_of(random: &mut Random, seeds: &[Box<str>]) -> String {
    let mut text = random.of_list(seeds).unwrap_or_default().to_owned();
    let other = random.of_list(seeds).unwrap_or_default();
    changed(random, &mut text, other);
    text
}

/// Packed bytes, changed; the length that they tell is mostly made true again, so that the rest is looked at.
pub fn bytes(random: &mut Random, seeds: &[Box<[u8]>]) -> Vec<u8> {
    let mut bytes = random.of_list(seeds).unwrap_or_default().to_vec();
    for _ in 0..1 + random.below(4) {
        let at = random.below(bytes.len());
        match random.below(5) {
            0 => bytes.truncate(at),
            1 => bytes.insert(at, random.next() as u8),
            2 if at < bytes.len() => drop(bytes.remove(at)),
            3 => bytes.extend_from_within(at..),
            _ => bytes.iter_mut().skip(at).take(1).for_each(|b| *b ^= 1 << random.below(8)),
        }
    }
    let length = bytes.len() as u8;
    if !random.one_in(8) {
        bytes.iter_mut().skip(4).take(1).for_each(|told| *told = length);
    }
    bytes
}
