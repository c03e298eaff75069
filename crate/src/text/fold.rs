//! A text folded for comparison: case, quotes, dashes, spaces, full-width letters and accents are made
//! one, and every folded byte knows where it came from.

use super::{is_invisible, is_space};
use std::ops::Range;

/// A folded text with the way back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Folded {
    pub text: String,
    /// For every byte of `text`: the bytes of the source it came from.
    from: Vec<(u32, u32)>,
}

impl Folded {
    /// The bytes of the source that the folded bytes `range` came from.
    pub fn source(&self, range: Range<usize>) -> Range<usize> {
        let last = self.from.last().map_or(0, |f| f.1 as usize);
        let start = self.from.get(range.start).map_or(last, |f| f.0 as usize);
        let end = match range.end.checked_sub(1).and_then(|i| self.from.get(i)) {
            Some(f) if range.start < range.end => f.1 as usize,
            _ => start,
        };
        start..end.max(start)
    }
}

/// Folds `source`: lower case, one kind of quote, dash and space, `×` as `x`, `≤` as `<=`, full-width
/// forms as plain ones, accents and invisible characters left out.
///
/// ```
/// let f = layfigure::text::fold::fold("“Ünter”\u{a0}3×10");
/// assert_eq!(f.text, "\"unter\" 3x10");
/// assert_eq!(f.source(9..10), 15..17); // the ×
/// ```
pub fn fold(source: &str) -> Folded {
    let mut text = String::with_capacity(source.len());
    let mut from = Vec::with_capacity(source.len());
    for (at, c) in source.char_indices() {
        let before = text.len();
        if let Some(word) = barred(source, at, c) {
            text.push_str(word);
        } else if c.is_ascii() && !c.is_ascii_control() {
            text.push(c.to_ascii_lowercase());
        } else {
            fold_char(c, &mut text);
        }
        for _ in before..text.len() {
            from.push((at as u32, (at + c.len_utf8()) as u32));
        }
    }
    Folded { text, from }
}

/// Only the folded text, with runs of spaces as one and none at the ends: for comparing names.
pub fn folded(source: &str) -> String {
    // Most words are plain letters.
    if source.bytes().all(|b| b.is_ascii_graphic()) {
        return source.to_ascii_lowercase();
    }
    let text = fold(source).text;
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The trade's barred letters, standing alone: c with a bar is "with", s with a bar "without". Left to the
/// folding of accents, the second would be seconds.
fn barred(source: &str, at: usize, c: char) -> Option<&'static str> {
    let word = match c {
        'c' => "with",
        's' => "without",
        _ => return None,
    };
    let bar = |c: char| matches!(c, '\u{304}' | '\u{305}');
    let rest = source.get(at + 1..)?.strip_prefix(bar)?;
    let before = source.get(..at)?.chars().next_back();
    let alone = !before.is_some_and(char::is_alphanumeric) && !rest.starts_with(char::is_alphanumeric);
    alone.then_some(word)
}

fn fold_char(c: char, out: &mut String) {
    match c {
        '\t' => out.push(' '),
        c if is_invisible(c) => {}
        c if is_space(c) => out.push(' '),
        '\u{300}'..='\u{36f}' => {}
        '‘' | '’' | '‚' | '‛' | '′' | '´' | '＇' | 'ʼ' => out.push('\''),
        '“' | '”' | '„' | '‟' | '″' | '＂' | '«' | '»' => out.push('"'),
        '‐' | '‑' | '‒' | '–' | '—' | '―' | '−' | '﹣' | '－' => out.push('-'),
        '×' | '✕' | '✖' | '╳' => out.push('x'),
        '≤' | '⩽' => out.push_str("<="),
        '≥' | '⩾' => out.push_str(">="),
        '→' | '⇒' | '➔' => out.push_str("->"),
        '…' => out.push_str("..."),
        '⁄' | '∕' => out.push('/'),
        '、' | '،' => out.push(','),
        '。' => out.push('.'),
        '～' | '〜' | '∼' => out.push('~'),
        'Ⓡ' | 'ⓡ' => out.push_str("(r)"),
        'Ⓛ' | 'ⓛ' => out.push_str("(l)"),
        'Ⓑ' | 'ⓑ' => out.push_str("(b)"),
        // Arabic, Persian and Devanagari digits.
        '٠'..='٩' => digit(c, '٠', out),
        '۰'..='۹' => digit(c, '۰', out),
        '०'..='९' => digit(c, '०', out),
        'ß' => out.push_str("ss"),
        'æ' | 'Æ' => out.push_str("ae"),
        'ø' | 'Ø' => out.push('o'),
        '\u{ff01}'..='\u{ff5e}' => {
            let plain = char::from_u32(u32::from(c) - 0xfee0).unwrap_or(c);
            out.push(plain.to_ascii_lowercase());
        }
        _ => {
            for low in c.to_lowercase() {
                if !matches!(low, '\u{300}'..='\u{36f}') {
                    out.push(plain_letter(low));
                }
            }
        }
    }
}

fn digit(c: char, zero: char, out: &mut String) {
    out.extend(char::from_digit(u32::from(c) - u32::from(zero), 10));
}

/// A Latin letter without its accent.
fn plain_letter(c: char) -> char {
    match c {
        'à'..='å' | 'ā' | 'ă' | 'ą' => 'a',
        'ç' | 'ć' | 'č' => 'c',
        'ď' | 'đ' => 'd',
        'è'..='ë' | 'ē' | 'ė' | 'ę' | 'ě' => 'e',
        'ì'..='ï' | 'ī' | 'į' => 'i',
        'ł' => 'l',
        'ñ' | 'ń' | 'ň' => 'n',
        'ò'..='ö' | 'ō' | 'ő' => 'o',
        'ř' => 'r',
        'ś' | 'ş' | 'š' | 'ș' => 's',
        'ť' | 'ţ' | 'ț' => 't',
        'ù'..='ü' | 'ū' | 'ů' | 'ű' => 'u',
        'ý' | 'ÿ' => 'y',
        'ź' | 'ż' | 'ž' => 'z',
        _ => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_lead_back() {
        let source = "É\u{301} ≤3\u{200b}x";
        let f = fold(source);
        assert_eq!(f.text, "e <=3x");
        assert_eq!(source.get(f.source(2..4)), Some("≤"));
        assert_eq!(source.get(f.source(5..6)), Some("x"));
        assert_eq!(f.source(6..6), source.len()..source.len());
        assert_eq!(f.source(99..120), source.len()..source.len());
    }

    #[test]
    fn spellings_of_one_name_fold_alike() {
        for typed in ["Sit–to–stand", "ＳＩＴ-to-stand", "sit‑to‑STAND", " sit-to-stand\u{a0}"] {
            assert_eq!(folded(typed), "sit-to-stand", "{typed:?}");
        }
    }
}
