//! What the clinician wrote of the patient that rules look at: cautions and the operation as typed, with the conditions that
//! they name, and conditions named elsewhere that a rule knows. Nothing here decides anything.

use super::Caution;
use super::assemble::rule_for;
use crate::body::names::Sides;
use crate::language::condition::{Condition, Named};
use crate::prescription::Prescription;
use crate::text::Place;

/// Every caution, operation and word of the body that a rule may know, in the order of the text; then what is named
/// elsewhere.
pub fn cautions(p: &Prescription) -> Vec<Caution> {
    let mut found: Vec<Caution> = Vec::new();
    let mut seen: Vec<&Named> = Vec::new();
    let mut add = |words: &str, place: Place, always: Option<Condition>, only: &dyn Fn(&Named) -> bool| {
        let within = p.conditions.iter().filter(|n| n.touches(place) && n.is_current() && only(n));
        let named: Vec<&Named> = within.collect();
        let caution = |condition, named: Option<&Named>| Caution {
            words: words.to_string(),
            known: condition,
            side: named.and_then(|n| n.side),
            weeks_pregnant: named.and_then(Named::weeks_pregnant),
            elsewhere: false,
            place,
        };
        found.extend(named.iter().map(|n| caution(Some(n.condition), Some(n))));
        let done = named.iter().any(|n| n.condition.is_operation());
        match always {
            Some(condition) if !done => found.push(caution(Some(condition), None)),
            None if named.is_empty() => found.push(caution(None, None)),
            _ => {}
        }
        seen.extend(named);
    };
    let any = |_: &Named| true;
    for said in &p.cautions {
        add(&said.text, said.place, None, &any);
    }
    if let Some(surgery) = &p.surgery {
        add(&surgery.words, surgery.place, Some(Condition::Operation), &any);
    }
    let worn = |n: &Named| matches!(n.condition, Condition::Brace | Condition::Cast);
    for bearing in &p.bearing {
        if p.conditions.iter().any(|n| n.touches(bearing.place) && n.is_current() && worn(n)) {
            add(&bearing.words, bearing.place, None, &worn);
        }
    }
    for said in p.body.iter().flat_map(|b| &b.words) {
        if p.conditions.iter().any(|n| n.touches(said.place) && n.is_current()) {
            add(&said.text, said.place, None, &any);
        }
    }
    let elsewhere = p.conditions.iter().filter(|n| {
        n.is_current()
            && rule_for(Some(n.condition)).is_some()
            && !seen.iter().any(|known| known.place == n.place)
    });
    let elsewhere = elsewhere.map(|n| Caution {
        words: n.condition.word().to_string(),
        known: Some(n.condition),
        side: n.side,
        weeks_pregnant: n.weeks_pregnant(),
        elsewhere: true,
        place: n.place,
    });
    found.extend(elsewhere.collect::<Vec<_>>());
    found
}

impl Caution {
    /// The one side that it is of, where that is typed.
    pub fn one_side(&self) -> Option<crate::body::names::Side> {
        match self.side {
            Some(Sides::One(side)) => Some(side),
            Some(Sides::Both) | None => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known(text: &str) -> Vec<Option<&'static str>> {
        let (p, _) = crate::prescription::read(text);
        cautions(&p).iter().map(|c| c.known.map(Condition::word)).collect()
    }

    #[test]
    fn what_is_typed_is_known_and_denial_is_heard() {
        assert_eq!(known("caution: ACL reconstruction"), [Some("cruciate reconstruction")]);
        assert_eq!(known("caution: a miracle"), [None]);
        assert_eq!(known("caution: no osteoporosis"), [None]);
        assert_eq!(known("caution: Kienbock's"), [None]);
        // The approach stands behind a comma, and is no caution of its own.
        assert_eq!(known("caution: right hip replacement, posterior approach"), [Some("hip replacement"); 2]);
        assert_eq!(known("surgery: 2026-11-02, left toe"), [Some("operation")]);
        assert_eq!(known("weight: R, as tolerated in brace"), [Some("brace")]);
    }

    #[test]
    fn what_is_named_elsewhere_is_known_where_a_rule_looks_at_it() {
        assert_eq!(known("PMH: osteoporosis, gout"), [Some("osteoporosis")]);
        assert_eq!(known("FH: osteoporosis"), []);
    }
}
