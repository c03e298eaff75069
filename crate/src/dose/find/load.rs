//! Loads: masses, bands, percent of the most.

use super::*;
use crate::language::unit::{Kind, Unit as Measure};

/// A mass or a range of masses: low, high in hundredths of the unit.
pub(super) fn mass(c: &mut Cursor<'_>) -> Option<(u32, u32, MassUnit)> {
    let mut m = *c;
    let (mut low, mut high) = part_of_one(&mut m).map(|n| (n, n)).or_else(|| m.range())?;
    m.sign('-');
    let pounds = m.peek().is_some_and(|t| !t.spaced && t.sort == Sort::Sign('#'));
    let unit = if pounds {
        m.at += 1;
        MassUnit::Pound
    } else {
        match unit::of(&mut m, &[Kind::Mass])? {
            Measure::Kilogram => MassUnit::Kilogram,
            Measure::Pound => MassUnit::Pound,
            Measure::Gram if low % 1000 == 0 && high % 1000 == 0 => {
                low /= 1000;
                high /= 1000;
                MassUnit::Kilogram
            }
            _ => return None,
        }
    };
    let (low, high) = (u32::try_from(low).ok()?, u32::try_from(high).ok()?);
    if low < 1 || high < low || 50_000 < high {
        return None;
    }
    *c = m;
    Some((low, high, unit))
}

/// `1/2`, `1/4`, `3/4`, in hundredths.
fn part_of_one(c: &mut Cursor<'_>) -> Option<u64> {
    let mut m = *c;
    let above = m.whole()?;
    let tight = m.peek().is_some_and(|t| !t.spaced) && m.sign('/') && m.peek().is_some_and(|t| !t.spaced);
    let n = match (above, m.whole()?) {
        (1, 2) => 50,
        (1, 4) => 25,
        (3, 4) => 75,
        _ => return None,
    };
    *c = m;
    tight.then_some(n)
}

pub(super) fn carrier(c: &mut Cursor<'_>) -> Option<Carrier> {
    for words in [["ankle", "weight"], ["ankle", "weights"], ["cuff", "weight"], ["cuff", "weights"]] {
        if c.words(&words) {
            return Some(Carrier::AnkleWeight);
        }
    }
    let found = match c.peek_word()? {
        "aw" => Carrier::AnkleWeight,
        "dumbbell" | "dumbbells" | "dumbell" | "dumbells" | "db" | "dbs" => Carrier::Dumbbell,
        "kettlebell" | "kettlebells" | "kb" => Carrier::Kettlebell,
        "barbell" => Carrier::Barbell,
        "bottle" | "bottles" => Carrier::Bottle,
        "tin" | "tins" => Carrier::Tin,
        "rucksack" | "backpack" => Carrier::Pack,
        _ => return None,
    };
    c.at += 1;
    Some(found)
}

pub(super) fn carrier_after(c: &mut Cursor<'_>) -> Option<Carrier> {
    let mut more = *c;
    let found = carrier(&mut more);
    if found.is_some() {
        *c = more;
    }
    found
}

pub(super) fn each_of(c: &mut Cursor<'_>) -> Option<Each> {
    let mut more = *c;
    more.word(&["in"]);
    let slash = more.sign('/');
    let per = !slash && more.clone().word(&["per"]).is_some();
    if !slash {
        more.word(&["each", "per", "ea", "either"])?;
    }
    let found = if more.word(&["hand", "arm"]).is_some() {
        Each::Hand
    } else if more.word(&["leg", "ankle", "foot"]).is_some() {
        Each::Leg
    } else if more.word(&["side"]).is_some() {
        Each::Side
    } else if slash
        // `per MD`: by whose order.
        || per
        || matches!(more.peek_word(), Some("day" | "d" | "week" | "wk" | "session" | "set" | "rep"))
    {
        // How often, not where.
        return None;
    } else {
        Each::Side
    };
    *c = more;
    Some(found)
}

/// A load that is not to be passed, `up to 8 kg`, `max 3 kg each hand`: which load to use is not said, so the words are kept.
pub(super) fn bounded(mut c: Cursor<'_>) -> Option<Hit> {
    crate::language::comparator::comparator(&mut c)?;
    mass(&mut c)?;
    carrier_after(&mut c);
    each_of(&mut c);
    ask(c, Doubt::BoundedLoad)
}

/// A load at the cursor: `2 kg each hand`, `ankle weight 1 kg`, `band "the red one"`, `red band`.
pub fn load(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    if let Some(found) = band(c, source) {
        return Some(found);
    }
    let mut comma = c;
    if comma.whole().is_some() && comma.sign(',') {
        let tight = comma.peek().is_some_and(|t| !t.spaced && t.end - t.start <= 2);
        if tight && mass(&mut comma).is_some() {
            return ask(comma, Doubt::DecimalComma);
        }
    }
    let before = carrier_after(&mut c);
    if before.is_some() {
        c.word(&["of"]);
        c.sign(':');
    }
    let (low, high, unit) = mass(&mut c)?;
    let mut grows = c;
    if grows.sign('/') && grows.word(&["week", "wk", "w", "day", "d", "month"]).is_some() {
        return ask(grows, Doubt::LoadGrows);
    }
    let mut each = each_of(&mut c);
    let carrier = before.or_else(|| carrier_after(&mut c));
    each = each.or_else(|| each_of(&mut c));
    c.word(&["weight", "weights", "load"]);
    hit(c, Item::Load(Load::Mass { low, high, unit, carrier, each }))
}

/// What a band is called by: its colour or its strength (common practice, no source).
const STRENGTHS: [&str; 34] = [
    "yellow",
    "red",
    "green",
    "blue",
    "black",
    "silver",
    "gold",
    "golden",
    "orange",
    "purple",
    "pink",
    "grey",
    "gray",
    "white",
    "tan",
    "beige",
    "brown",
    "peach",
    "lime",
    "light",
    "lighter",
    "lightest",
    "medium",
    "heavy",
    "heavier",
    "heaviest",
    "strong",
    "stronger",
    "strongest",
    "weak",
    "easy",
    "hard",
    "soft",
    "firm",
];

pub(super) fn band(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    if c.word(&["band"]).is_some() {
        c.sign(':');
        let quote = ['"', '\''].into_iter().find(|q| c.sign(*q))?;
        let from = c.peek()?.start;
        let mut to = from;
        loop {
            let t = c.peek()?;
            c.at += 1;
            if t.sort == Sort::Sign(quote) {
                break;
            }
            to = t.end;
        }
        let label = crate::text::trim(source.get(from..to)?);
        let good = !label.is_empty() && !crate::text::fold::folded(label).contains('"');
        return good.then(|| hit(c, Item::Load(Load::Band(label.to_string())))).flatten();
    }
    let t = c.peek()?;
    let label = c.peek_word()?;
    // As written in North America (common practice, from memory); black and blue share a letter.
    if let Some(colour) = match label {
        "rtb" => Some("red"),
        "ytb" => Some("yellow"),
        "gtb" => Some("green"),
        _ => None,
    } {
        c.at += 1;
        return hit(c, Item::Load(Load::Band(colour.to_string())));
    }
    let kit = [
        "loop",
        "long",
        "resistance",
        "elastic",
        "exercise",
        "therapy",
        "mini",
        "rubber",
        "a",
        "the",
        "with",
        "w",
        "and",
        "no",
        "of",
        "it",
        "knee",
        "ankle",
        "anchor",
        "each",
        "stretch",
        "stretchy",
    ];
    if kit.contains(&label) || is_filler(c) {
        return None;
    }
    // `inv band` is a band for inversion.
    if !STRENGTHS.contains(&label) && !label.ends_with("ish") {
        return None;
    }
    c.at += 1;
    c.word(&["resistance", "elastic", "exercise"]);
    c.word(&["band", "tb", "tubing", "tube"])?;
    hit(c, Item::Load(Load::Band(source.get(t.start..t.end)?.to_string())))
}
