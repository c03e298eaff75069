//! Reads how much weight a limb may take: `right, PWB 20 kg in brace until week 6`, `left wrist NWB`.

use super::keys::Value;
use super::limit::{Bearing, Weight};
use crate::body::names::Side;
use crate::dose::End;
use crate::dose::find::Item;
use crate::dose::find::moments::ends;
use crate::language::anatomy::{self, Limb};
use crate::language::comparator::{Bounds, comparator};
use crate::language::restraint::denial;
use crate::language::token::{Cursor, Sort, tokens};
use crate::text::fold::{fold, folded};

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
    (&["half", "body", "weight"], Weight::Percent(50)),
    (&["half", "weight"], Weight::Percent(50)),
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

fn weight(c: &mut Cursor<'_>) -> Option<Weight> {
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

/// `20 kg`, `at most 50 %`, `no > 20 kg`. None for what would be a least amount, and for a range: of `20-30 kg` the
/// lower number is the safe one to keep, but it isn't what was typed.
fn amount(c: &mut Cursor<'_>) -> Option<Weight> {
    let mut m = *c;
    let denied = comparator(&mut m.clone()).is_none() && denial(&mut m);
    match comparator(&mut m) {
        Some(found) if found.bounds(denied) != Bounds::Most => return None,
        None if denied => return None,
        Some(_) | None => {}
    }
    let n = m.whole()?;
    if m.peek().is_some_and(|t| t.sort == Sort::Sign('-')) {
        return None;
    }
    let n = u8::try_from(n).ok()?;
    let found = if m.sign('%') || m.word(&["percent", "pc"]).is_some() {
        (1..=99).contains(&n).then_some(Weight::Percent(n)).or((n == 100).then_some(Weight::Full))
    } else {
        m.word(&["kg", "kgs", "kilo", "kilos"])?;
        (1..=200).contains(&n).then_some(Weight::Kilograms(n))
    };
    *c = m;
    found
}

/// Whether a line holds an abbreviation of weight-bearing.
pub fn is_named(text: &str) -> bool {
    let folded = fold(text);
    tokens(&folded)
        .iter()
        .any(|t| matches!(t.sort, Sort::Word("nwb" | "ttwb" | "tdwb" | "pwb" | "wbat" | "fwb")))
}

/// Reads a value. None where amount, side, limb or end are not clear.
pub fn read(value: &Value<'_>) -> Option<Bearing> {
    let line = fold(value.text);
    let all = tokens(&line);
    let mut c = Cursor { all: &all, at: 0 };
    let mut side: Option<Side> = None;
    let mut limb: Option<Limb> = None;
    let mut both = false;
    let mut amount: Option<Weight> = None;
    let mut end: Option<End> = None;
    let mut words: Vec<(usize, usize)> = Vec::new();
    let mut gap = true;
    while let Some(token) = c.peek() {
        if let Some(hit) = ends(c, value.text) {
            let (Some(Item::Until(found)), None) = (hit.items.first(), &end) else { return None };
            end = Some(found.clone());
            c.at = hit.next;
            gap = true;
            continue;
        }
        if amount.is_none() {
            if let Some(found) = weight(&mut c) {
                amount = Some(found);
                gap = true;
                continue;
            }
        } else if let Some(found) = weight(&mut c.clone()) {
            // `PWB L 25 kg`: how much of it. Of two other amounts which holds is not guessed.
            let exact = matches!(found, Weight::Kilograms(_) | Weight::Percent(_));
            // Of `20-30 kg` neither number is what was typed.
            let dash =
                c.at.checked_sub(1).and_then(|i| all.get(i)).is_some_and(|t| t.sort == Sort::Sign('-'));
            if amount != Some(Weight::Partial) || !exact || dash {
                return None;
            }
            weight(&mut c);
            amount = Some(found);
            gap = true;
            continue;
        }
        if anatomy::both_sides(&mut c) {
            both = true;
            gap = true;
            continue;
        }
        let bracket = c.sign('(');
        if let Some(found) = anatomy::side(&mut c) {
            if bracket {
                c.sign(')');
            }
            if side.is_some_and(|s| s != found) {
                return None;
            }
            side = Some(found);
            c.word(&["side"]);
            gap = true;
            continue;
        }
        if bracket {
            c.at -= 1;
        }
        // `elbow crutches` are no elbow.
        let aid =
            all.get(c.at + 1).is_some_and(|t| matches!(t.sort, Sort::Word(w) if w.starts_with("crutch")));
        if let Some((found, many)) = (!aid).then(|| anatomy::limb(&mut c)).flatten() {
            if limb.is_some_and(|l| l != found) {
                return None;
            }
            limb = Some(found);
            both |= many;
            gap = true;
            continue;
        }
        c.at += 1;
        if matches!(token.sort, Sort::Sign(',' | ';' | ':' | '.')) {
            gap = true;
        } else if let (false, Some(last)) = (gap, words.last_mut()) {
            last.1 = token.end;
        } else {
            words.push((token.start, token.end));
            gap = false;
        }
    }
    // Words between what was read say nothing by themselves: `20 kg on the right leg`.
    const LOOSE: [&str; 15] = [
        "thru",
        "thru the",
        "on",
        "on the",
        "through",
        "through the",
        "the",
        "of",
        "to",
        "onto",
        "weight through",
        "weight",
        "wt",
        "wb",
        "weight bearing",
    ];
    let texts = words.iter().map(|(a, b)| value.text.get(*a..*b).unwrap_or(""));
    let says = |w: &&str| w.contains(char::is_alphanumeric) && !LOOSE.contains(&folded(w).as_str());
    let texts: Vec<&str> = texts.filter(says).collect();
    let words = texts.join(", ");
    const TURNS: [&str; 10] =
        ["not", "no", "never", "unless", "except", "then", "or", "progress", "increase", "if"];
    if folded(&words).split(|c: char| !c.is_alphanumeric()).any(|w| TURNS.contains(&w)) {
        return None;
    }
    if both && side.is_some() {
        return None;
    }
    let limb = limb.unwrap_or(Limb::Leg);
    Some(Bearing { side, both, limb, weight: amount?, words, end, last_day: None, place: value.place })
}

/// Reads one limb's weight, or several: `right NWB, left WBAT`.
pub fn all(value: &Value<'_>) -> Option<Vec<Bearing>> {
    if let Some(one) = read(value) {
        return Some(vec![one]);
    }
    let pieces = value.list();
    let found: Option<Vec<Bearing>> =
        pieces.iter().map(|piece| read(&Value { text: &piece.text, place: piece.place })).collect();
    let found = found.filter(|found| 1 < found.len() && found.iter().all(|b| b.side.is_some()))?;
    Some(found.into_iter().map(|b| Bearing { place: value.place, ..b }).collect())
}

/// The canonical writing of what stands on one line. Several are told apart by their sides.
pub fn written_all(all: &[Bearing]) -> String {
    match all {
        [one] => written(one),
        many => many.iter().map(written).map(|text| text.replace(", ", " ")).collect::<Vec<_>>().join(", "),
    }
}

/// `right, as tolerated, in brace, until 6 weeks after surgery`; `left wrist, non-weight-bearing`.
pub fn written(bearing: &Bearing) -> String {
    let mut pieces: Vec<String> = Vec::new();
    let head = match (bearing.side, bearing.limb) {
        (None, Limb::Leg) if bearing.both => Some("both".to_string()),
        (None, Limb::Leg) => None,
        (Some(side), Limb::Leg) => Some(side.word().to_string()),
        (Some(side), limb) => Some(format!("{} {}", side.word(), limb.word())),
        (None, limb) if bearing.both => Some(limb.words()),
        (None, limb) => Some(limb.word().to_string()),
    };
    pieces.extend(head);
    pieces.push(match bearing.weight {
        Weight::None => "non-weight-bearing".to_string(),
        Weight::Touch => "toe-touch".to_string(),
        Weight::Percent(n) => format!("{n} %"),
        Weight::Kilograms(n) => format!("{n} kg"),
        Weight::Partial => "partial".to_string(),
        Weight::AsTolerated => "as tolerated".to_string(),
        Weight::Full => "full".to_string(),
    });
    if !bearing.words.is_empty() {
        pieces.push(bearing.words.clone());
    }
    pieces.extend(bearing.end.as_ref().map(End::to_string));
    pieces.join(", ")
}
