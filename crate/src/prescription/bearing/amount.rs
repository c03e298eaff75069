//! How much a limb may bear, as it is typed.

use crate::language::comparator::{Bounds, comparator};
use crate::language::restraint::denial;
use crate::language::token::Cursor;
use crate::language::unit::{self, Kind};
use crate::prescription::limit::{Unit, Weight};

const HALF: Weight = Weight::Amount { low: None, high: 50, unit: Unit::Percent };

const PHRASES: &[(&[&str], Weight)] = &[
    (&["nwb"], Weight::None),
    (&["non", "weight", "bearing"], Weight::None),
    (&["non", "wb"], Weight::None),
    (&["no", "weight", "bearing"], Weight::None),
    (&["not", "weight", "bearing"], Weight::None),
    (&["no", "wb"], Weight::None),
    (&["no", "weight"], Weight::None),
    (&["not", "to", "weight", "bear"], Weight::None),
    (&["not", "to", "take", "weight"], Weight::None),
    (&["none"], Weight::None),
    (&["half", "body", "weight"], HALF),
    (&["half", "weight"], HALF),
    (&["flat", "foot", "weight", "bearing"], Weight::FlatFoot),
    (&["flat", "foot", "wb"], Weight::FlatFoot),
    (&["flat", "foot"], Weight::FlatFoot),
    (&["foot", "flat", "weight", "bearing"], Weight::FlatFoot),
    (&["foot", "flat", "wb"], Weight::FlatFoot),
    (&["ffwb"], Weight::FlatFoot),
    (&["twb"], Weight::Touch),
    (&["touch", "wb"], Weight::Touch),
    (&["fewb"], Weight::Touch),
    (&["feather", "weight", "bearing"], Weight::Touch),
    (&["ttwb"], Weight::Touch),
    (&["tdwb"], Weight::Touch),
    (&["toe", "touch", "weight", "bearing"], Weight::Touch),
    (&["toe", "touch"], Weight::Touch),
    (&["touch", "down", "weight", "bearing"], Weight::Touch),
    (&["touch", "weight", "bearing"], Weight::Touch),
    (&["touch", "only"], Weight::Touch),
    (&["wbat"], Weight::AsTolerated),
    (&["wbtt"], Weight::AsTolerated),
    (&["wt", "bearing", "as", "tol"], Weight::AsTolerated),
    (&["weight", "bearing", "as", "tol"], Weight::AsTolerated),
    (&["weight", "bear", "to", "tolerance"], Weight::AsTolerated),
    (&["weight", "bearing", "to", "tolerance"], Weight::AsTolerated),
    (&["weight", "bearing", "as", "tolerated"], Weight::AsTolerated),
    (&["weight", "bear", "as", "tolerated"], Weight::AsTolerated),
    (&["wb", "as", "tolerated"], Weight::AsTolerated),
    (&["wb", "as", "able"], Weight::AsTolerated),
    (&["wb", "as", "comfortable"], Weight::AsTolerated),
    (&["wb", "as", "pain", "allows"], Weight::AsTolerated),
    (&["as", "tolerated"], Weight::AsTolerated),
    (&["as", "comfortable"], Weight::AsTolerated),
    (&["as", "comfort", "allows"], Weight::AsTolerated),
    (&["as", "pain", "allows"], Weight::AsTolerated),
    (&["fwb"], Weight::Full),
    (&["full", "weight", "bearing"], Weight::Full),
    (&["full", "wb"], Weight::Full),
    (&["full", "weight"], Weight::Full),
    (&["full"], Weight::Full),
    (&["pwb"], Weight::Partial),
    (&["partial", "weight", "bearing"], Weight::Partial),
    (&["partial", "wb"], Weight::Partial),
    (&["partial"], Weight::Partial),
];

/// The abbreviations that name how much a limb may bear.
pub const NAMES: [&str; 10] = ["nwb", "ttwb", "tdwb", "twb", "fewb", "ffwb", "pwb", "wbat", "wbtt", "fwb"];

pub fn weight(c: &mut Cursor<'_>) -> Option<Weight> {
    let mut m = *c;
    for (words, weight) in PHRASES {
        if m.words(words) {
            let weight = *weight;
            m.sign('.');
            if weight == Weight::Partial {
                let mut more = m;
                more.word(&["of", "at"]);
                more.sign(',');
                if let Some(exact) = amount(&mut more) {
                    *c = more;
                    return Some(exact);
                }
            }
            *c = m;
            return Some(weight);
        }
    }
    m.words(&["weight", "bearing"]);
    m.word(&["wb", "at"]);
    let exact = amount(&mut m)?;
    m.word(&["of"]);
    m.word(&["pwb"]);
    let _ = m.words(&["body", "weight"]) || m.word(&["bw", "bodyweight"]).is_some();
    *c = m;
    Some(exact)
}

/// `20 kg`, `20-30 kg`, `20#`, `at most 50 %`, `no > 20 kg`. None for what would be a least amount.
fn amount(c: &mut Cursor<'_>) -> Option<Weight> {
    let mut m = *c;
    let denied = comparator(&mut m.clone()).is_none() && denial(&mut m);
    match comparator(&mut m) {
        Some(found) if found.bounds(denied) != Bounds::Most => return None,
        None if denied => return None,
        Some(_) | None => {}
    }
    let (low, high) = m.range()?;
    let whole = |n: u64| u8::try_from(n.checked_div(100).filter(|_| n.is_multiple_of(100))?).ok();
    let (low, high) = (whole(low)?, whole(high)?);
    // A pound sign stands right behind its number: `# 16/11` is a fracture.
    let tight = m.peek().is_some_and(|t| !t.spaced);
    let unit = if tight && m.sign('#') {
        Unit::Pounds
    } else {
        match unit::of(&mut m, &[Kind::Share, Kind::Mass])? {
            unit::Unit::Percent => Unit::Percent,
            unit::Unit::Kilogram => Unit::Kilograms,
            unit::Unit::Pound => Unit::Pounds,
            _ => return None,
        }
    };
    let most = match unit {
        Unit::Percent => 100,
        Unit::Kilograms => 200,
        Unit::Pounds => 250,
    };
    if low < 1 || high < low || most < high {
        return None;
    }
    *c = m;
    let low = (low < high).then_some(low);
    // All of the weight is no part of it.
    Some(match (unit, low, high) {
        (Unit::Percent, None, 100) => Weight::Full,
        _ => Weight::Amount { low, high, unit },
    })
}

/// The canonical writing: `non-weight-bearing`, `20-30 kg`.
pub fn written(weight: Weight) -> String {
    match weight {
        Weight::None => "non-weight-bearing".to_string(),
        Weight::Touch => "toe-touch".to_string(),
        Weight::FlatFoot => "flat-foot".to_string(),
        Weight::Amount { low: None, high, unit } => format!("{high} {}", unit.sign()),
        Weight::Amount { low: Some(low), high, unit } => format!("{low}-{high} {}", unit.sign()),
        Weight::Partial => "partial".to_string(),
        Weight::AsTolerated => "as tolerated".to_string(),
        Weight::Full => "full".to_string(),
    }
}
