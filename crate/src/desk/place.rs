//! Where a notice's place is in the whole text, in bytes and in the units that a browser counts in.

use crate::text::Place;

/// The bytes of `text` that a place covers; `None` if the place is not in the text. The line's end counts
/// as a place: an edit may add to it.
pub fn bytes(text: &str, place: Place) -> Option<(usize, usize)> {
    let (start, line) = line(text, place.line)?;
    let inside = |offset: usize| line.is_char_boundary(offset).then_some(start + offset);
    let (from, to) = (inside(place.start)?, inside(place.end)?);
    (from <= to).then_some((from, to))
}

/// Where a line (counted from 1) begins, and the line without its end.
pub fn line(text: &str, number: usize) -> Option<(usize, &str)> {
    let mut start = 0;
    for (index, line) in text.split('\n').enumerate() {
        if index + 1 == number {
            return Some((start, line.strip_suffix('\r').unwrap_or(line)));
        }
        start += line.len() + 1;
    }
    None
}

/// The line (counted from 1) that a byte stands in.
pub fn line_of(text: &str, byte: usize) -> usize {
    text.bytes().take(byte).filter(|b| *b == b'\n').count() + 1
}

/// A byte offset in UTF-16 units, as browsers count.
pub fn utf16(text: &str, byte: usize) -> u32 {
    let units =
        text.char_indices().take_while(|(at, _)| *at < byte).map(|(_, c)| c.len_utf16()).sum::<usize>();
    u32::try_from(units).unwrap_or(u32::MAX)
}

/// A browser's offset in bytes; inside a character it is that character's start.
pub fn byte(text: &str, utf16: u32) -> usize {
    let mut units = 0;
    for (at, c) in text.char_indices() {
        units += u32::try_from(c.len_utf16()).unwrap_or(2);
        if utf16 < units {
            return at;
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_and_offsets_agree() {
        let text = "eins\r\nzwei ä🙂 drei\n";
        let place = Place { line: 2, start: 5, end: 11 };
        let (from, to) = bytes(text, place).expect("in the text");
        assert_eq!(&text[from..to], "ä🙂");
        assert_eq!(line_of(text, from), 2);
        assert_eq!((utf16(text, from), utf16(text, to)), (11, 14));
        assert_eq!((byte(text, 11), byte(text, 14), byte(text, 13)), (from, to, from + 2));
        assert_eq!(bytes(text, Place { line: 2, start: 6, end: 7 }), None, "inside a character");
        assert_eq!(bytes(text, Place { line: 9, start: 0, end: 0 }), None);
        assert_eq!(bytes(text, Place { line: 3, start: 0, end: 0 }), Some((text.len(), text.len())));
    }
}
