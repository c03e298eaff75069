//! The body that figures and limits are settled for, from what is said of the patient.

use super::cautions;
use super::check::caution::weeks_pregnant;
use crate::body::{Body, Variant};
use crate::language::condition::Condition;
use crate::measure::Date;
use crate::prescription::Prescription;

/// A belly shows in lying and bending from about the 20th week: from memory.
const SHOWS_FROM: i32 = 20;
/// The last year of age that is drawn as a child: from memory.
const CHILD_TO: u16 = 11;

/// The patient's body: its stature where one is given, and its kind by the words of `body:`, a pregnancy that
/// shows on that day, or a child's age.
pub fn body(p: &Prescription, on: Option<Date>) -> Body {
    let variant = variant(p, on);
    match p.body.as_ref().and_then(|b| b.stature_mm) {
        Some(mm) => Body::of_stature(f64::from(mm) / 1000.0).with(variant),
        None => Body::of(variant),
    }
}

fn variant(p: &Prescription, on: Option<Date>) -> Variant {
    let words = p.body.iter().flat_map(|b| &b.words);
    if let Some(said) = words.map(|w| w.text.to_lowercase()).find_map(|w| spoken(&w)) {
        return said;
    }
    let carries =
        cautions::cautions(p).into_iter().find(|c| c.known == Some(Condition::Pregnancy) && !c.elsewhere);
    let weeks = weeks_pregnant(p.due, on, carries.and_then(|c| c.weeks_pregnant));
    if weeks.is_some_and(|w| SHOWS_FROM <= w) {
        return Variant::Pregnant;
    }
    match p.age() {
        Some(age) if u16::from(age) <= CHILD_TO => Variant::Child,
        _ => Variant::Adult,
    }
}

/// The kind of body that a word of `body:` names, as clinicians say it.
fn spoken(words: &str) -> Option<Variant> {
    let has =
        |any: &[&str]| any.iter().any(|w| words.split(|c: char| !c.is_alphabetic()).any(|have| have == *w));
    if has(&["no", "not"]) {
        None
    } else if has(&["pregnant"]) {
        Some(Variant::Pregnant)
    } else if has(&["child", "boy", "girl"]) {
        Some(Variant::Child)
    } else if has(&["older", "elderly", "stooped", "kyphotic", "kyphosis"]) {
        Some(Variant::Older)
    } else if has(&["broad", "heavy", "obese", "large"]) {
        Some(Variant::Broad)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_of_the_patient_decides_the_body() {
        let day = Date::iso("2026-11-30");
        for (text, variant, stature) in [
            ("body: 158 cm, stooped", Variant::Older, 1.58),
            ("body: broad", Variant::Broad, 1.70),
            ("body: not heavy", Variant::Adult, 1.70),
            ("patient: A. B., 7", Variant::Child, 1.22),
            ("patient: A. B., 71", Variant::Adult, 1.70),
            ("due: 2027-02-01", Variant::Pregnant, 1.70),
            ("due: 2027-07-01", Variant::Adult, 1.70),
            ("caution: 28 weeks pregnant", Variant::Pregnant, 1.70),
            ("caution: 12 weeks pregnant", Variant::Adult, 1.70),
            ("body: pregnant, 1.65 m", Variant::Pregnant, 1.65),
        ] {
            let (p, _) = crate::prescription::read(text);
            let body = body(&p, day);
            assert_eq!((body.variant(), body.stature()), (variant, stature), "{text}");
        }
    }
}
