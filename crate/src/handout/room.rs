//! What has room on the first page: how high its parts come out, reckoned with wide letters, so that what is said to fit
//! does in any of the sheet's typefaces. A print shows whether that holds (`tests/browser`).

use super::{Paper, Print};
use crate::markup::Markup;

/// The size of the words that matter, a class of the sheet, which the style knows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    pub class: &'static str,
    pub points: f64,
}

const fn size(class: &'static str, points: f64) -> Size {
    Size { class, points }
}

/// Clear print is 12 points at least (RNIB); what does not fit so is set smaller before it leaves the page.
pub const NORMAL: [Size; 5] =
    [size("s12", 12.0), size("s115", 11.5), size("s11", 11.0), size("s105", 10.5), size("s10", 10.0)];
/// 18 points (American Printing House for the Blind); 16 are large print still (RNIB).
pub const LARGE: [Size; 3] = [size("s18", 18.0), size("s17", 17.0), size("s16", 16.0)];

/// What the sheet is printed on, in millimetres, without its margins: those of `handout.css`.
#[derive(Clone, Copy, Debug)]
pub struct Page {
    pub width: f64,
    pub height: f64,
}

impl Page {
    pub fn of(paper: Paper) -> Page {
        let (width, height) = match paper {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
        };
        Page { width: width - 2.0 * 12.0, height: height - 2.0 * 8.0 }
    }
}

pub fn sizes(print: Print) -> &'static [Size] {
    match print {
        Print::Normal => &NORMAL,
        Print::Large => &LARGE,
    }
}

/// Millimetres of a point.
const POINT: f64 = 25.4 / 72.0;
/// Height of a line by its size, as the style has it on the front.
const LEADING: f64 = 1.25;

/// The height of so many lines.
pub fn high(lines: u32, points: f64) -> f64 {
    f64::from(lines) * points * POINT * LEADING
}

/// How many lines a text takes at a width in millimetres, broken between words.
///
/// ```
/// use layfigure::handout::room::lines;
/// assert_eq!(lines("Bend it.", 40.0, 12.0, false), 1);
/// assert_eq!(lines("Bend it as far as it goes, and no further.", 40.0, 12.0, false), 3);
/// assert_eq!(lines("", 40.0, 12.0, false), 0);
/// ```
pub fn lines(text: &str, width: f64, points: f64, bold: bool) -> u32 {
    let wide = |word: &str| wide(word, points) * if bold { 1.12 } else { 1.0 };
    let mut count: u32 = 0;
    let mut left = 0.0;
    for word in text.split_whitespace() {
        let needs = wide(word);
        if count == 0 || left < needs {
            // A word that is wider than the line is broken.
            let full = (needs / width.max(1.0)).floor();
            count = count.saturating_add(1).saturating_add(full.clamp(0.0, 1000.0) as u32);
            left = width - (needs - full * width);
        } else {
            left -= needs;
        }
        left -= wide(" ");
    }
    count
}

/// The width of a text on one line, millimetres.
pub fn wide(text: &str, points: f64) -> f64 {
    text.chars().map(letter).fold(0.0, |all, one| all + one) * points * POINT
}

/// How many lines pieces take that stand beside each other where they can, each in one piece where it can.
pub fn flow(pieces: &[String], width: f64, points: f64) -> u32 {
    let gap = 2.0;
    let mut count: u32 = 0;
    let mut left = 0.0;
    for piece in pieces {
        let needs = wide(piece, points) + gap;
        if left < needs {
            count = count.saturating_add(lines(piece, width, points, false));
            left = if needs < width { width } else { 0.0 };
        }
        left -= needs;
    }
    count
}

/// Widths of a to z in hundredths of the size, in the widest of the sheet's typefaces (DejaVu Sans, read from its file).
const SMALL: [u8; 26] =
    [61, 63, 55, 63, 62, 35, 63, 63, 28, 28, 58, 28, 97, 63, 61, 63, 63, 41, 52, 39, 63, 59, 82, 59, 59, 53];

/// The width of a letter as a share of its size; all but small letters by rough groups.
fn letter(c: char) -> f64 {
    match c {
        'a'..='z' => SMALL.get(usize::from(c as u8 - b'a')).map_or(0.7, |n| f64::from(*n) / 100.0),
        ' ' | '.' | ',' | ':' | ';' | '\'' | '’' | '|' | '!' => 0.35,
        '-' | '(' | ')' | '/' | '"' | '“' | '”' => 0.45,
        'M' | 'W' | '@' | '%' => 0.98,
        '0'..='9' | '–' => 0.64,
        'A'..='Z' => 0.71,
        c if c.is_ascii() => 0.7,
        _ => 1.0,
    }
}

/// The lines that a piece of the sheet takes: each item, paragraph or heading of it begins one.
pub fn lines_of(markup: &Markup, width: f64, points: f64, bold: bool) -> u32 {
    texts(markup.as_str()).iter().map(|text| lines(text, width, points, bold)).fold(0, u32::saturating_add)
}

/// The texts of a piece, cut where a line ends; without pictures.
pub fn texts(markup: &str) -> Vec<String> {
    const ENDS: [&str; 7] = ["/li", "/p", "/h1", "/h2", "/dd", "/div", "/caption"];
    let mut all = Vec::new();
    let mut text = String::new();
    let mut drawn = false;
    let mut end = |text: &mut String| {
        if !text.trim().is_empty() {
            all.push(text.trim().to_string());
        }
        text.clear();
    };
    for (at, piece) in markup.split('<').enumerate() {
        let (tag, said) = if at == 0 { ("", piece) } else { piece.split_once('>').unwrap_or((piece, "")) };
        let name = tag.split(' ').next().unwrap_or("");
        drawn = (drawn || name == "svg") && name != "/svg";
        if ENDS.contains(&name) {
            end(&mut text);
        }
        if !drawn {
            text.push_str(said);
        }
    }
    end(&mut text);
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_cut_where_a_line_ends() {
        let html = "<div><h2>Stop</h2><ul><li>One <b>big</b> thing.</li><li>Two</li></ul><svg><text>no</text></svg> end</div>";
        assert_eq!(texts(html), ["Stop", "One big thing.", "Two", "end"]);
    }

    #[test]
    fn a_word_wider_than_the_line_is_broken() {
        assert_eq!(lines(&"n".repeat(100), 40.0, 12.0, false), 7);
    }
}
