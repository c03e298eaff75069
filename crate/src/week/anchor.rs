//! Which parts of the day an anchor speaks of: `after brushing teeth`, `before bed`, `not in the first hour up`.
//!
//! The words are printed as they are; here they only choose the part. Common practice, no source.

use crate::week::model::{Part, PartSet};

/// A word of an anchor and the parts of the day that it belongs to.
const WORDS: [(&str, &[Part]); 27] = [
    ("teeth", &[Part::Morning, Part::Evening]),
    ("breakfast", &[Part::Morning]),
    ("waking", &[Part::Morning]),
    ("rising", &[Part::Morning]),
    ("getting up", &[Part::Morning]),
    ("get up", &[Part::Morning]),
    ("getting out of bed", &[Part::Morning]),
    ("first hour", &[Part::Morning]),
    ("first thing", &[Part::Morning]),
    ("school run", &[Part::Morning]),
    ("before work", &[Part::Morning]),
    ("lunch", &[Part::Midday]),
    ("noon", &[Part::Midday]),
    ("after work", &[Part::Evening]),
    ("coming home", &[Part::Evening]),
    ("dinner", &[Part::Evening]),
    ("supper", &[Part::Evening]),
    ("evening meal", &[Part::Evening]),
    ("television", &[Part::Evening]),
    ("the news", &[Part::Evening]),
    ("bed", &[Part::Evening]),
    ("bedtime", &[Part::Evening]),
    ("sleep", &[Part::Evening]),
    ("going to sleep", &[Part::Evening]),
    ("last thing", &[Part::Evening]),
    ("meal", &[Part::Morning, Part::Midday, Part::Evening]),
    ("meals", &[Part::Morning, Part::Midday, Part::Evening]),
];

/// The parts in which something with these words may be done; None where they speak of no part.
///
/// ```
/// use layfigure::week::{anchor::parts, model::{Part, PartSet}};
/// assert_eq!(parts("after brushing teeth"), Some([Part::Morning, Part::Evening].into_iter().collect()));
/// assert_eq!(parts("not in the first hour up"), Some([Part::Midday, Part::Evening].into_iter().collect()));
/// assert_eq!(parts("after the dog"), None);
/// ```
pub fn parts(words: &str) -> Option<PartSet> {
    let plain: String =
        words.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let plain = format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "));
    // The longest words say most: `getting out of bed` is no bedtime.
    let named = WORDS.iter().filter(|(word, _)| plain.contains(&format!(" {word} ")));
    let parts: PartSet = named.max_by_key(|(word, _)| word.len())?.1.iter().copied().collect();
    // `not before breakfast` leaves the morning open, later on.
    if plain.starts_with(" not before ") {
        return None;
    }
    Some(if plain.starts_with(" not ") { PartSet::ALL.without(parts) } else { parts })
}
