//! The shared text with the names of catalog exercises taken out, as numbers.
//!
//! A name at the start of a line, or at the start of a step, becomes one sign; its number goes to a list. So a
//! link is short, and one that was made before an exercise got a better name opens with the better one.

use crate::catalog::Catalog;
use crate::programme::resolve::lower_first;
use crate::text::fold::folded;

/// Stands for a name.
pub(super) const NAME: u8 = 1;
/// Stands before a sign that is meant as itself.
const ITSELF: u8 = 2;

/// Text without catalog names, and the numbers of those names in their order.
pub(super) fn without_names(text: &str, catalog: &Catalog) -> (Vec<u8>, Vec<u32>) {
    // A name of the text's own stays, whatever the catalog says.
    let own: Vec<String> = text.lines().filter_map(|l| l.strip_prefix("exercise: ")).map(folded).collect();
    let mut bytes = Vec::with_capacity(text.len());
    let mut numbers = Vec::new();
    for line in text.split_inclusive('\n') {
        let start = start_of_name(line);
        let (head, rest) = line.split_at(start);
        escape(head, &mut bytes);
        let end = rest.find([',', ':', '\n']).unwrap_or(rest.len());
        let (name, tail) = rest.split_at(end);
        match number(name, catalog).filter(|_| !own.contains(&folded(name))) {
            Some(number) => {
                bytes.push(NAME);
                numbers.push(number);
                escape(tail, &mut bytes);
            }
            None => escape(rest, &mut bytes),
        }
    }
    (bytes, numbers)
}

/// Where the name of an exercise may stand in a line: at its start, or behind the colon of a step.
fn start_of_name(line: &str) -> usize {
    let content = line.trim_start_matches(' ');
    let indent = line.len() - content.len();
    let is_step = 0 < indent && ["from ", "when ", "if "].iter().any(|word| content.starts_with(word));
    match content.find(": ").filter(|_| is_step) {
        Some(colon) => indent + colon + 2,
        None => indent,
    }
}

fn number(name: &str, catalog: &Catalog) -> Option<u32> {
    if name.is_empty() {
        return None;
    }
    catalog.exercises().iter().find(|e| lower_first(&e.name) == name).and_then(|e| e.number)
}

fn escape(text: &str, bytes: &mut Vec<u8>) {
    for byte in text.bytes() {
        if byte == NAME || byte == ITSELF {
            bytes.push(ITSELF);
        }
        bytes.push(byte);
    }
}

/// Why names can't be put back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unnamed {
    /// A number that this catalog does not have yet.
    Newer,
    Damaged,
}

/// The text with its names; at most `most` bytes.
pub(super) fn with_names(
    bytes: &[u8],
    numbers: &[u32],
    catalog: &Catalog,
    most: usize,
) -> Result<String, Unnamed> {
    let mut numbers = numbers.iter();
    let mut text = Vec::with_capacity(bytes.len());
    let mut all = bytes.iter();
    while let Some(byte) = all.next() {
        match *byte {
            NAME => {
                let number = numbers.next().ok_or(Unnamed::Damaged)?;
                let entry = catalog.by_number(*number).ok_or(Unnamed::Newer)?;
                text.extend_from_slice(lower_first(&entry.name).as_bytes());
            }
            ITSELF => match all.next() {
                Some(byte @ (&NAME | &ITSELF)) => text.push(*byte),
                _ => return Err(Unnamed::Damaged),
            },
            byte => text.push(byte),
        }
        if most < text.len() {
            return Err(Unnamed::Damaged);
        }
    }
    if numbers.next().is_some() {
        return Err(Unnamed::Damaged);
    }
    String::from_utf8(text).map_err(|_| Unnamed::Damaged)
}
