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

/// Where each line begins, and the line without its end, by the ends that [`crate::text::lines`] knows. Unlike there, a
/// text that ends with a line's end has an empty last line: the cursor can stand in it.
pub fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut rest = Some(0);
    std::iter::from_fn(move || {
        let start = rest?;
        let tail = text.get(start..)?;
        let end = tail.find(['\n', '\r', '\u{2028}', '\u{2029}']);
        rest = end.and_then(|at| {
            let behind = tail.get(at..)?;
            let one = behind.chars().next()?.len_utf8();
            Some(start + at + if behind.starts_with("\r\n") { 2 } else { one })
        });
        Some((start, tail.get(..end.unwrap_or(tail.len()))?))
    })
}

/// Where a line (counted from 1) begins, and the line without its end.
pub fn line(text: &str, number: usize) -> Option<(usize, &str)> {
    lines(text).nth(number.checked_sub(1)?)
}

/// The line (counted from 1) that a byte stands in.
pub fn line_of(text: &str, byte: usize) -> usize {
    lines(text).take_while(|(start, _)| *start <= byte).count()
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

    #[test]
    fn lines_end_where_they_end_for_the_reader() {
        for text in ["", "a", "a\n", "a\r\nb\rc\n\nd\u{2028}e\u{2029}f"] {
            let read: Vec<&str> = crate::text::lines(text).iter().map(|l| l.raw).collect();
            let here: Vec<&str> = lines(text).map(|(_, line)| line).collect();
            assert_eq!(here.get(..read.len()), Some(read.as_slice()), "{text:?}");
            assert_eq!(line_of(text, text.len()), here.len());
        }
        assert_eq!(line("a\u{2028}b", 2), Some((4, "b")));
        assert_eq!((line("a\n", 2), line("a\n", 3), line("a", 0)), (Some((2, "")), None, None));
    }
}
