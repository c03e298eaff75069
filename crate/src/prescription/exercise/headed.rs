//! What stands before a colon, and before a dose, and is no name.

use super::{Parted, begin, colon, has_work, is_dose, is_named, part_line};
use crate::dose::Sided;
use crate::dose::find::sides::one_side;
use crate::dose::parts::{Days, Often};
use crate::language::anatomy;
use crate::language::token::Sort;
use crate::language::typed::Typed;
use crate::measure::Counts;
use crate::prescription::Said;
use crate::text::fold::folded;

/// What stands before a colon and is no name: how the patient is (`sat on chair: heel slide R 2x10`), on which days
/// (`Tue/Thu: wall sit 3 x 20 s`), or what it is a part of (`heavy slow resistance: calf raise R 4x6`). The first and the last
/// are a detail.
pub(super) fn headed(typed: &Typed<'_>, own: &[String]) -> Option<Parted> {
    let (at, after) = colon(typed.text)?;
    let before = typed.trimmed(0, at);
    if before.all.is_empty() || is_named(before.text, own) {
        return None;
    }
    let posture = crate::prescription::details::is_posture(&before);
    let mut c = before.start();
    let days = crate::dose::find::often::weekday_set(&mut c).filter(|_| c.is_done());
    let does = |text: &str| text.split(' ').any(|w| crate::prescription::details::is_doing(&folded(w)));
    let numbered = before.all.iter().any(|t| matches!(t.sort, Sort::Number(_)));
    if !posture && days.is_none() && (numbered || does(before.text)) {
        return None;
    }
    let mut parted = part_line(&typed.trimmed(after, typed.text.len()), Some(own));
    let name = parted.name.as_ref()?;
    let worked = has_work(&parted.dose);
    // `standing: 3 x 10` names it by the posture.
    let known = is_named(&name.text, own);
    // A condition heads what is done for it: `L hip OA: …`, `tennis elbow R: …`.
    let placed = placed(&before);
    let condition = || {
        let told = crate::prescription::problem::Told::of([before.text], None);
        told.now.iter().any(|fact| !fact.is_part())
    };
    let leads = is_lead_word(&folded(before.text)) || placed.is_some() || condition();
    let good = if posture {
        known || worked && does(&name.text)
    } else {
        worked && (known || leads || days.is_some() || does(&name.text))
    };
    if !good {
        return None;
    }
    match days {
        Some(days) if parted.dose.often.is_none() => {
            parted.dose.often = Some(Often::Calendar { days: Days::On(days), per_day: Counts::ONE });
        }
        Some(_) => parted.dose.words.push(before.text.to_string()),
        None if placed.is_some() && parted.side.is_none() && parted.region.is_none() => {
            let (side, part) = placed?;
            (parted.side, parted.region) = (Some(side), part.map(|part| Said::of(&part)));
        }
        None => {
            parted.notices.extend(crate::prescription::details::notices(&before));
            parted.details.insert(0, Said::of(&before));
        }
    }
    Some(parted)
}

/// The first of two exercises with a side each before a colon, with all behind it as words: `heel slide 3x10. L knee: clam
/// 2x12`. Whose the second side is stays plain.
pub(super) fn first_of_two(typed: &Typed<'_>, own: &[String]) -> Option<Parted> {
    let (at, _) = colon(typed.text)?;
    let head = typed.trimmed(0, at);
    let stop = head.all.iter().rposition(|t| matches!(t.sort, Sort::Sign('.' | ';' | ',')))?;
    let (stops, label) = (head.all.get(stop)?.start, head.all.get(stop + 1)?.start);
    placed(&head.trimmed(label, head.text.len()))?;
    let before = typed.trimmed(0, stops);
    let mut first = part_line(&before, Some(own));
    if first.name.is_none() || !crate::prescription::plain::counted(&before.all, &first.dose) {
        return None;
    }
    first.dose.words.push(typed.text.get(label..)?.to_string());
    Some(first)
}

/// A side with or without a part of the body, and nothing else: `R knee`, `left`.
fn placed<'a>(head: &Typed<'a>) -> Option<(Sided, Option<Typed<'a>>)> {
    let mut c = head.start();
    let side = one_side(&mut c)?;
    let Some(first) = c.peek() else { return Some((side, None)) };
    let part = c.at;
    let whole = anatomy::joint(&mut c).is_some() || {
        c.at = part;
        anatomy::limb(&mut c).is_some()
    };
    (whole && c.is_done()).then(|| (side, Some(head.cut(first.start, head.text.len()))))
}

/// Whether words before a dose can be a name: `3 x 12, slowly` and `5 lb each hand, 10 times` are doses with words.
pub(super) fn names_one(head: &Typed<'_>) -> bool {
    let counts = |c: char| c.is_ascii_digit() || matches!(c, ' ' | 'x' | 'X' | '×' | ',' | '"' | '\'');
    !head.text.chars().all(counts)
        && !begin::is_lead(head)
        && is_dose(head).is_none_or(|(dose, _)| !has_work(&dose))
}

/// Words before a colon that head what is done and name nothing.
fn is_lead_word(head: &str) -> bool {
    const LEADS: [&str; 23] = [
        "then",
        "p",
        "first",
        "next",
        "also",
        "plus",
        "and",
        "warm up",
        "warm-up",
        "cool down",
        "finish",
        "finish with",
        "start with",
        "exercise",
        "ex",
        "exs",
        "hep",
        "rx",
        "tx",
        "plan",
        "home",
        "add",
        "today",
    ];
    LEADS.contains(&head)
}
