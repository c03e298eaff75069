//! Lines, words and places of any text, and the nearest known word. Knows no domain.

pub mod fold;
pub mod near;
pub mod reading;

/// Where something stands in a text: a line counted from 1 and a span of bytes within that line
/// (`start` included, `end` excluded, both on character boundaries of the line as typed).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    pub line: usize,
    pub start: usize,
    pub end: usize,
}

/// The longest line that is read, in characters; a longer one stays as typed.
pub const LONGEST_LINE: usize = 2_000;

/// One line of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line<'a> {
    /// Counted from 1.
    pub number: usize,
    /// Columns before the first visible character; a tab goes to the next multiple of four.
    pub indent: usize,
    /// As typed, without the line's end.
    pub raw: &'a str,
    /// Bytes of `raw` where the content starts: after indent, bullets and numbering.
    pub start: usize,
    /// Bytes of `raw` where the content ends: before trailing space.
    pub end: usize,
}

impl<'a> Line<'a> {
    /// The content: without indent, bullets, numbering and trailing space.
    pub fn content(&self) -> &'a str {
        self.raw.get(self.start..self.end).unwrap_or("")
    }

    /// The line without the space around it, with its bullets.
    pub fn trimmed(&self) -> &'a str {
        trim(self.raw)
    }

    pub fn place(&self) -> Place {
        Place { line: self.number, start: self.start, end: self.end }
    }

    pub fn is_too_long(&self) -> bool {
        LONGEST_LINE < self.raw.len() && LONGEST_LINE < self.raw.chars().count()
    }
}

/// Splits any text into lines at LF, CRLF, a lone CR, and Unicode's line and paragraph separators.
///
/// ```
/// let lines = layfigure::text::lines("# Knee\r\n  - bridge 3x10\r3) squat");
/// assert_eq!(lines.iter().map(|l| l.content()).collect::<Vec<_>>(), ["# Knee", "bridge 3x10", "squat"]);
/// assert_eq!(lines[1].indent, 2);
/// ```
pub fn lines(text: &str) -> Vec<Line<'_>> {
    let mut out = Vec::new();
    let mut rest = text;
    while !rest.is_empty() {
        let end = rest.find(['\n', '\r', '\u{2028}', '\u{2029}']);
        let (raw, after) = match end {
            None => (rest, ""),
            Some(at) => {
                let (raw, tail) = rest.split_at(at);
                let one = tail.chars().next().map_or(0, char::len_utf8);
                let skip = if tail.starts_with("\r\n") { 2 } else { one };
                (raw, tail.get(skip..).unwrap_or(""))
            }
        };
        out.push(line(out.len() + 1, raw));
        rest = after;
    }
    out
}

fn line(number: usize, raw: &str) -> Line<'_> {
    let mut indent = 0;
    let mut start = raw.len();
    for (at, c) in raw.char_indices() {
        match c {
            '\t' => indent = (indent / 4 + 1) * 4,
            c if is_invisible(c) => {}
            c if is_space(c) => indent += 1,
            _ => {
                start = at;
                break;
            }
        }
    }
    while let Some(skip) = raw.get(start..).and_then(bullet) {
        start += skip;
    }
    let end = raw.get(start..).map_or(start, |tail| start + trim_end(tail).len());
    Line { number, indent, raw, start, end }
}

/// Bytes of `No. 3`, `Ex 3.` with the space after it, where words follow.
fn numbered(text: &str) -> Option<usize> {
    let starts = |word: &str| text.get(..word.len()).is_some_and(|t| t.eq_ignore_ascii_case(word));
    let word = ["no.", "nr.", "ex.", "ex "].into_iter().find(|word| starts(word))?;
    let rest = trim_start(text.get(word.len()..)?);
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let behind = rest.get(digits..).filter(|_| (1..=2).contains(&digits))?;
    let behind = behind.strip_prefix([')', '.', ':']).unwrap_or(behind);
    let name = trim_start(behind);
    (name.len() < behind.len() && name.starts_with(char::is_alphabetic)).then_some(text.len() - name.len())
}

/// Bytes of a leading bullet or number with the space after it; None where there is none.
fn bullet(text: &str) -> Option<usize> {
    if let Some(skip) = numbered(text) {
        return Some(skip);
    }
    let mut chars = text.char_indices().peekable();
    let (_, first) = chars.next()?;
    // `- ve slump`: a sign of a result.
    if matches!(first, '-' | '+' | '–' | '−') {
        let rest = trim_start(text.get(first.len_utf8()..)?);
        let sign = rest.get(..2).is_some_and(|ve| ve.eq_ignore_ascii_case("ve"));
        if sign && !rest.get(2..)?.starts_with(char::is_alphanumeric) {
            return None;
        }
    }
    let mark = match first {
        '-' | '*' | '+' | '•' | '–' | '—' | '·' | '▪' | '▫' | '‣' | '◦' | '●' | '○' | '■' | '□' | '☐'
        | '☑' | '➢' | '✓' | '→' | '\u{f0b7}' => first.len_utf8(),
        '[' => {
            let close = text.find(']')?;
            if !matches!(text.get(1..close)?, "" | " " | "x" | "X") {
                return None;
            }
            close + 1
        }
        // a) b) c): neither a right nor a left side.
        'a'..='h' | 'A'..='H' if text.as_bytes().get(1) == Some(&b')') => 2,
        '(' | '0'..='9' => {
            let open = usize::from(first == '(');
            let digits = text.get(open..)?.bytes().take_while(u8::is_ascii_digit).count();
            if digits == 0 || 2 < digits {
                return None;
            }
            match text.as_bytes().get(open + digits)? {
                b')' => open + digits + 1,
                b'.' if open == 0 => digits + 1,
                b'/' if open == 0 && text.as_bytes().get(digits + 1) == Some(&b' ') => digits + 1,
                _ => return None,
            }
        }
        _ => return None,
    };
    let tail = text.get(mark..)?;
    let spaces = tail.len() - trim_start(tail).len();
    // Glued to a word: `-bridge`, `1.Bridge`; not `-5`, `2.5`, `*bold*`.
    let glues = matches!(first, '-' | '–' | '—' | '•' | '·' | '▪' | '●')
        || text.as_bytes().get(mark - 1) == Some(&b'.');
    let second = tail.chars().nth(1).is_some_and(char::is_alphabetic);
    if spaces == 0 && glues && second && tail.starts_with(char::is_alphabetic) {
        return Some(mark);
    }
    (0 < spaces && spaces < tail.len()).then_some(mark + spaces)
}

/// White space of any kind.
pub fn is_space(c: char) -> bool {
    c.is_whitespace() || is_invisible(c)
}

/// Characters that show nothing: zero-width, direction marks, the byte order mark, control characters.
pub fn is_invisible(c: char) -> bool {
    matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}' | '\u{ad}')
        || (c.is_control() && !matches!(c, '\t' | '\n' | '\r'))
}

/// Without white space at both ends, zero-width characters included.
pub fn trim(text: &str) -> &str {
    text.trim_matches(is_space)
}

/// Without white space at the end.
pub fn trim_end(text: &str) -> &str {
    text.trim_end_matches(is_space)
}

/// Without white space at the start.
pub fn trim_start(text: &str) -> &str {
    text.trim_start_matches(is_space)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_any_kind() {
        let all: Vec<_> = lines("a\r\nb\rc\n\nd\u{2028}e").iter().map(|l| (l.number, l.raw)).collect();
        assert_eq!(all, [(1, "a"), (2, "b"), (3, "c"), (4, ""), (5, "d"), (6, "e")]);
        assert!(lines("").is_empty());
        assert_eq!(lines("\n").len(), 1);
    }

    #[test]
    fn bullets_and_numbers_are_not_content() {
        for (typed, content) in [
            ("- heel slide", "heel slide"),
            ("\t•\u{a0}heel slide  ", "heel slide"),
            ("1. heel slide", "heel slide"),
            ("12) heel slide", "heel slide"),
            ("(3) heel slide", "heel slide"),
            ("- [ ] heel slide", "heel slide"),
            ("\u{feff}\u{200f}heel slide\u{202c}", "heel slide"),
            ("2.5 kg", "2.5 kg"),
            ("-", "-"),
            ("1.", "1."),
            ("(R) squat", "(R) squat"),
            ("-heel slide", "heel slide"),
            ("1.Heel slide", "Heel slide"),
            ("a) heel slide", "heel slide"),
            ("1/ heel slide", "heel slide"),
            ("R) heel slide", "R) heel slide"),
            ("-5 degrees", "-5 degrees"),
        ] {
            let all = lines(typed);
            assert_eq!(all.first().map(Line::content), Some(content), "{typed:?}");
        }
    }
}
