//! What a worker does that is made for one job: text in, text out.

use super::share::{Named, Wanted, share};
use super::{pack, sealed, written};
use crate::catalog::Catalog;
use crate::measure::Date;
use crate::week::model::Limit;

/// A link is asked for: the day of issue, how the patient is named, the emergency number where the text has none, and the
/// text.
///
/// ```
/// use layfigure::link::{share::{Named, Wanted}, work};
/// use layfigure::week::model::Limit;
/// let wanted = Wanted { named: Named::Initials, emergency: None, today: None, limit: Limit::USUAL };
/// let answer = work::work(&work::link("start: 2026-11-30\nsome exercise of ours: 3 x 10", &wanted));
/// assert!(work::answered(&answer).is_ok_and(|fragment| fragment.starts_with('L')));
/// ```
pub fn link(text: &str, wanted: &Wanted) -> String {
    let today = wanted.today.map(|day| day.to_string()).unwrap_or_default();
    let emergency = wanted.emergency.unwrap_or_default().replace(['\n', '\r'], " ");
    format!("link\n{today}\n{}\n{emergency}\n{text}", wanted.named.word())
}

/// Does what is asked: [`link`], or what [`sealed::work`] knows. The answer is `good` and a fragment, or `bad` and a
/// sentence, on two lines.
pub fn work(ask: &str) -> String {
    let mut lines = ask.splitn(5, '\n');
    match (lines.next(), lines.next(), lines.next(), lines.next(), lines.next()) {
        (Some("link"), Some(today), Some(named), Some(emergency), Some(text)) => {
            let wanted = Wanted {
                named: Named::of(named),
                emergency: Some(emergency).filter(|number| !number.is_empty()),
                today: Date::iso(today),
                limit: Limit::USUAL,
            };
            match made(text, &wanted) {
                Ok(packed) => format!("good\n{}", written::letters(&packed)),
                Err(sentence) => format!("bad\n{sentence}"),
            }
        }
        _ => sealed::work(ask),
    }
}

/// The fragment of an answer, or its sentence.
pub fn answered(answer: &str) -> Result<&str, &str> {
    match answer.split_once('\n') {
        Some(("good", fragment)) => Ok(fragment),
        Some((_, sentence)) => Err(sentence),
        None => Err(answer),
    }
}

fn made(text: &str, wanted: &Wanted) -> Result<Vec<u8>, String> {
    let (prescription, _) = crate::prescription::read(text);
    if prescription.exercises.is_empty() {
        return Err("There is no exercise in the text yet, so there is nothing to hand over.".to_string());
    }
    let catalog = Catalog::embedded();
    pack::pack(&share(&prescription, catalog, wanted, &mut Default::default())?, catalog)
}
