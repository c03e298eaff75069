//! The English of notices: all their sentences, a file for each floor that tells them. A second language is a second
//! folder. It reads kinds and their data, and decides nothing.

mod catalog;
mod dose;
mod pose;
mod prescription;
mod programme;

use super::kinds::What;

/// One or two whole sentences: what was expected, and what to write instead.
pub fn sentence(what: &What) -> String {
    match what {
        What::Pose(what) => pose::sentence(what),
        What::Dose { typed, doubt } => dose::sentence(doubt, typed),
        What::Catalog(what) => catalog::sentence(what),
        What::Prescription(what) => prescription::sentence(what),
        What::Programme(what) => programme::sentence(what),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub fn listed(words: &[String], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., end] => format!("{} {last} {end}", first.join(", ")),
    }
}

/// Each in quotation marks.
fn quoted<T: core::fmt::Display>(words: &[T]) -> Vec<String> {
    words.iter().map(|word| format!("“{word}”")).collect()
}

/// The day of the week; Monday is 0.
fn weekday(day: u8) -> &'static str {
    crate::measure::WEEKDAY_NAMES.get(usize::from(day)).copied().unwrap_or("")
}
