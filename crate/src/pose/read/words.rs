//! Pose text cut into words, numbers and stops, each with its place; small words that say nothing are left out.

use crate::text::Place;
use crate::text::fold::fold;

/// One line of pose text: a piece of a typed line, and where that piece stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line<'a> {
    pub text: &'a str,
    pub at: Place,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// A word in small letters.
    Word(String),
    Number(f64),
    /// Comma, semicolon or full stop.
    Stop,
    Colon,
    /// Something else, such as a symbol.
    Other,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Token {
    pub kind: Kind,
    pub place: Place,
}

/// Words that change nothing in a pose.
const SILENT: [&str; 27] = [
    "the",
    "a",
    "an",
    "your",
    "his",
    "her",
    "their",
    "my",
    "is",
    "are",
    "gently",
    "slowly",
    "comfortably",
    "about",
    "approx",
    "approximately",
    "roughly",
    "circa",
    "degrees",
    "degree",
    "deg",
    "just",
    "simply",
    "very",
    "please",
    "fully",
    "completely",
];

/// Cuts a line into tokens, without the silent words.
pub fn cut(line: Line<'_>) -> Vec<Token> {
    let folded = fold(line.text);
    let chars: Vec<(usize, char)> = folded.text.char_indices().collect();
    let get = |i: usize| chars.get(i).map_or(' ', |(_, c)| *c);
    let byte = |i: usize| chars.get(i).map_or(folded.text.len(), |(b, _)| *b);
    let place = |from: usize, to: usize| {
        let typed = folded.source(byte(from)..byte(to));
        Place { line: line.at.line, start: line.at.start + typed.start, end: line.at.start + typed.end }
    };
    let mut tokens = Vec::new();
    let mut i = 0;
    while i < chars.len() {
        let c = get(i);
        let start = i;
        let negative = c == '-'
            && get(i + 1).is_ascii_digit()
            && (i == 0 || matches!(get(i - 1), ' ' | '(' | ',' | ':'));
        if c.is_ascii_digit() || negative {
            i += 1;
            while get(i).is_ascii_digit() || (get(i) == '.' && get(i + 1).is_ascii_digit()) {
                i += 1;
            }
            let digits: String = chars.get(start..i).unwrap_or(&[]).iter().map(|(_, c)| *c).collect();
            match digits.parse::<f64>() {
                Ok(n) if n.abs() < 1e6 => {
                    tokens.push(Token { kind: Kind::Number(n), place: place(start, i) })
                }
                _ => tokens.push(Token { kind: Kind::Other, place: place(start, i) }),
            }
            // 18" and 0-90
            if get(i) == '"' {
                tokens.push(Token { kind: Kind::Word("inches".to_string()), place: place(i, i + 1) });
                i += 1;
            } else if get(i) == '-' && get(i + 1).is_ascii_digit() {
                tokens.push(Token { kind: Kind::Word("to".to_string()), place: place(i, i + 1) });
                i += 1;
            }
        } else if c.is_alphabetic() {
            while get(i).is_alphanumeric() || (get(i) == '\'' && get(i + 1).is_alphabetic()) {
                i += 1;
                if chars.len() <= i {
                    break;
                }
            }
            let word: String = chars.get(start..i).unwrap_or(&[]).iter().map(|(_, c)| *c).collect();
            tokens.push(Token { kind: Kind::Word(word), place: place(start, i) });
        } else {
            i += 1;
            let kind = match c {
                ',' | ';' | '.' | '!' => Some(Kind::Stop),
                ':' => Some(Kind::Colon),
                '&' | '+' => Some(Kind::Word("and".to_string())),
                ' ' | '-' | '(' | ')' | '"' | '\'' | '\u{00B0}' | '\u{00BA}' | '~' | '*' | '\u{2022}' => None,
                _ => Some(Kind::Other),
            };
            if let Some(kind) = kind {
                tokens.push(Token { kind, place: place(start, i) });
            }
        }
    }
    tokens.retain(|t| !matches!(&t.kind, Kind::Word(w) if SILENT.contains(&w.as_str())));
    tokens
}

/// A word without its plural: `calves` is `calf`, `thighs` is `thigh`.
pub fn singular(word: &str) -> &str {
    match word {
        "feet" => "foot",
        "calves" => "calf",
        "pelvis" | "gluteus" | "uterus" | "as" | "us" | "gas" | "this" => word,
        "bodies" => "body",
        "tummies" => "tummy",
        _ if 3 < word.len() && word.ends_with('s') && !word.ends_with("ss") => {
            word.get(..word.len() - 1).unwrap_or(word)
        }
        _ => word,
    }
}

/// A reader's position in the tokens of a line.
#[derive(Clone, Debug)]
pub struct Cursor {
    pub tokens: Vec<Token>,
    pub at: usize,
    /// Where the line stands, for notices about its end.
    pub whole: Place,
}

impl Cursor {
    pub fn new(line: Line<'_>) -> Cursor {
        Cursor { tokens: cut(line), at: 0, whole: line.at }
    }

    pub fn peek(&self, ahead: usize) -> Option<&Token> {
        self.tokens.get(self.at + ahead)
    }

    /// The word `ahead` tokens on, or the empty word.
    pub fn word(&self, ahead: usize) -> &str {
        match self.peek(ahead).map(|t| &t.kind) {
            Some(Kind::Word(w)) => w,
            _ => "",
        }
    }

    pub fn numeral(&self, ahead: usize) -> Option<f64> {
        match self.peek(ahead).map(|t| &t.kind) {
            Some(Kind::Number(n)) => Some(*n),
            _ => None,
        }
    }

    pub fn is_done(&self) -> bool {
        self.tokens.len() <= self.at
    }

    /// Whether a clause can end here.
    pub fn at_boundary(&self) -> bool {
        match self.peek(0).map(|t| &t.kind) {
            None | Some(Kind::Stop) => true,
            Some(Kind::Word(w)) => BETWEEN.contains(&w.as_str()),
            _ => false,
        }
    }

    /// Takes `phrase` (words with single spaces) if it stands here.
    pub fn eat(&mut self, phrase: &str) -> bool {
        let n = phrase.split(' ').count();
        if phrase.split(' ').enumerate().all(|(k, w)| self.word(k) == w) {
            self.at += n;
            return true;
        }
        false
    }

    /// Takes the first of `phrases` that stands here; longer ones must come first.
    pub fn eat_any(&mut self, phrases: &[&'static str]) -> Option<&'static str> {
        phrases.iter().copied().find(|p| self.eat(p))
    }

    pub fn take_number(&mut self) -> Option<f64> {
        let n = self.numeral(0)?;
        self.at += 1;
        Some(n)
    }

    /// From token `from` to the one before the cursor.
    pub fn place_since(&self, from: usize) -> Place {
        let last = self.at.max(from + 1).min(self.tokens.len()).saturating_sub(1);
        match (self.tokens.get(from.min(last)), self.tokens.get(last)) {
            (Some(a), Some(b)) => Place { line: a.place.line, start: a.place.start, end: b.place.end },
            _ => Place { line: self.whole.line, start: self.whole.end, end: self.whole.end },
        }
    }

    /// A length in cm: `45 cm`, `450 mm`, `0.5 m`, `18 in`. The cursor stays where there is none.
    pub fn length(&mut self) -> Option<f64> {
        let n = self.numeral(0)?;
        let scale = match self.word(1) {
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => 1.0,
            "mm" | "millimetre" | "millimetres" | "millimeters" => 0.1,
            "m" | "metre" | "metres" | "meter" | "meters" => 100.0,
            "in" | "inch" | "inches" => 2.54,
            "ft" => 30.48,
            _ => return None,
        };
        self.at += 2;
        Some(n * scale)
    }
}

/// Words that end one clause and open the next.
pub const BETWEEN: [&str; 10] =
    ["and", "with", "while", "then", "until", "till", "whilst", "keeping", "but", "as"];
