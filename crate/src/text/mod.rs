//! Lines, words and places of any text, and the nearest known word. Knows no domain.

/// Where something stands in a text: a line counted from 1 and a span of bytes within that line
/// (`start` included, `end` excluded, both on character boundaries of the line as typed).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    pub line: usize,
    pub start: usize,
    pub end: usize,
}
