//! Doses that grow: by how much, how often, and up to what.

use super::*;
use crate::language::token::Token;

/// `+ 2 min every 3 days`, `add a set each week (max 3)`, `increase 10 % per week`, `2 more reps a week`,
/// `every week add 2 min`, `add a lamp-post a week`.
pub(super) fn ramp(c: Cursor<'_>, source: &str) -> Option<Hit> {
    led(c, source).or_else(|| more(c, source)).or_else(|| rate_first(c, source))
}

/// Whether what follows the comma at `at` says up to what the ramp grows that ends there.
pub fn goes_on(all: &[Token<'_>], from: usize, at: usize) -> bool {
    let before = all.get(..at).unwrap_or(&[]);
    // A bound is short, and few pieces have one behind them.
    let mut most = Cursor { all, at: at + 1 };
    if !matches!(
        most.peek().map(|t| t.sort),
        Some(
            Sort::Sign('(')
                | Sort::Word(
                    "up" | "to"
                        | "max"
                        | "maximum"
                        | "at"
                        | "no"
                        | "until"
                        | "till"
                        | "til"
                        | "cap"
                        | "capped"
                        | "limit"
                )
        )
    ) {
        return false;
    }
    (from..at).rev().any(|start| {
        let Some(found) = ramp(Cursor { all: before, at: start }, "").filter(|hit| hit.next == at) else {
            return false;
        };
        matches!(found.items.as_slice(), [Item::Ramp(ramp)]
            if ramp.up_to.is_none() && bound(&mut most, &ramp.add, minutes(all, start, at)).is_some())
    })
}

/// A verb, then how much and how often.
fn led(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let begun = c.at;
    let mut lands = c.sign('+') || c.sign('↑');
    if !lands {
        let by = |c: &mut Cursor<'_>| {
            let up = c.words(&["go", "up"]) || c.words(&["going", "up"]);
            let build = c.words(&["build", "up"]) || c.word(&["build", "building", "raise"]).is_some();
            (up || build) && c.word(&["by"]).is_some()
        };
        let mut m = c;
        if by(&mut m) {
            c = m;
        } else {
            let verb =
                c.word(&["add", "adding", "plus", "increase", "increasing", "progress", "progressing"])?;
            lands = matches!(verb, "add" | "adding");
        }
    }
    c.word(&["the"]);
    if c.word(&["weight", "load", "resistance"]).is_some() {
        let mut grows = c;
        grows.word(&["by"]);
        return (mass(&mut grows).is_some() || percent(&mut grows).is_some())
            .then(|| {
                grows.at = grows.all.len();
                ask(grows, Doubt::LoadGrows)
            })
            .flatten();
    }
    let noun =
        c.word(&["hold", "holds", "time", "duration", "distance", "reps", "sets", "steps", "it", "this"]);
    c.word(&["by"]);
    // `increase reps by 2 each week`
    let mut m = c;
    if let Some(n) = m.counts()
        && let Some(every_days) = every(&mut m)
    {
        let add = match noun? {
            "reps" => Step::Repetitions(n),
            "sets" => Step::Sets(n),
            "steps" => Step::Amount(n, Unit::Steps),
            _ => return None,
        };
        return grown(m, begun, add, every_days);
    }
    let mut heavier = c;
    if mass(&mut heavier).is_some() {
        heavier.at = heavier.all.len();
        return ask(heavier, Doubt::LoadGrows);
    }
    whole(c, begun, lands, source)
}

/// `2 more reps each week`, `another minute a day`, `one extra set every 2 weeks`.
fn more(c: Cursor<'_>, source: &str) -> Option<Hit> {
    let mut m = c;
    let (_, said) = step(&mut m)?;
    said.then(|| whole(c, c.at, false, source)).flatten()
}

/// `every week add 2 min`: how often, then the verb.
fn rate_first(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let begun = c.at;
    let every_days = every(&mut c)?;
    let _ = c.sign(':') || c.sign(',') || c.sign('-');
    let verb = c.sign('+') || c.word(&["add", "increase"]).is_some();
    c.word(&["by"]);
    let mut m = c;
    let add = match step(&mut m) {
        // `/day add 1 min every other day` has its rate behind it.
        Some((_, more)) if (verb || more) && every(&mut m.clone()).is_some() => return None,
        Some((add, more)) if verb || more => add,
        _ if !verb => return None,
        _ => {
            m = c;
            let mut end = c;
            while !end.is_done()
                && matches!(
                    end.peek().map(|t| t.sort),
                    Some(Sort::Word(_) | Sort::Number(_) | Sort::Sign('-'))
                )
            {
                // `daily add a lamp-post a week` has its rate behind it.
                if every(&mut end.clone()).is_some() {
                    return None;
                }
                end.at += 1;
            }
            m.at = end.at;
            Step::Words(landmark(c, end.at, source)?)
        }
    };
    grown(m, begun, add, every_days)
}

/// How much and how often at the cursor; `lands`: it may be something that no number tells.
fn whole(c: Cursor<'_>, begun: usize, lands: bool, source: &str) -> Option<Hit> {
    let mut m = c;
    if let Some((add, _)) = step(&mut m)
        && let Some(every_days) = every(&mut m)
    {
        return grown(m, begun, add, every_days);
    }
    let mut m = c;
    if step(&mut m).is_some() && each_time(&mut m) {
        // On which day that is, no text says: it stays as typed.
        return hit(m, Item::Ask);
    }
    if !lands {
        return None;
    }
    // A few words, then how often: `a lamp-post a week`.
    (c.at + 2..=c.at + 7).find_map(|end| {
        let mut m = Cursor { at: end, ..c };
        let every_days = every(&mut m)?;
        let words = landmark(c, end, source)?;
        grown(m, begun, Step::Words(words), every_days)
    })
}

fn grown(mut c: Cursor<'_>, begun: usize, add: Step, every_days: u32) -> Option<Hit> {
    let every_days = u8::try_from(every_days).ok().filter(|n| (1..=31).contains(n))?;
    let mut m = c;
    m.sign(',');
    let up_to = bound(&mut m, &add, minutes(c.all, begun, c.at));
    if up_to.is_some() {
        c = m;
    }
    let told = matches!(add, Step::Words(_));
    let items = vec![Item::Ramp(Ramp { add, every_days, up_to })];
    if told { noted(c, items, Doubt::Landmark) } else { hits(c, items) }
}

/// Whether a time between two places is typed in minutes.
fn minutes(all: &[Token<'_>], from: usize, to: usize) -> bool {
    let said = all.get(from..to).unwrap_or(&[]);
    said.iter()
        .any(|t| matches!(t.sort, Sort::Word("min" | "mins" | "minute" | "minutes") | Sort::Sign('\'')))
}

/// What is added, and whether a word such as `more` stands by it.
fn step(c: &mut Cursor<'_>) -> Option<(Step, bool)> {
    const MORE: [&str; 5] = ["more", "extra", "additional", "further", "longer"];
    let mut m = *c;
    if let Some(add) = percent(&mut m) {
        let said = m.word(&MORE).is_some();
        *c = m;
        return Some((add, said));
    }
    let mut said = m.word(&["another"]).is_some();
    if !said && let Some(span) = m.span() {
        said = m.word(&MORE).is_some();
        *c = m;
        return Some((Step::Time(span), said));
    }
    let counted = match m.counts() {
        Some(n) => Some(n),
        None if said => Some(Counts::ONE),
        None => m.word(&["a", "an"]).map(|_| Counts::ONE),
    };
    said |= m.word(&MORE).is_some();
    let n = counted.or(said.then_some(Counts::ONE))?;
    let seconds = |unit: u32| {
        let long = |n: u32| n.checked_mul(unit);
        Span::new(long(n.low())?, long(n.high())?).map(Step::Time)
    };
    let add = match m.peek_word()? {
        "rep" | "reps" | "repetition" | "repetitions" => Step::Repetitions(n),
        "set" | "sets" => Step::Sets(n),
        "step" | "steps" => Step::Amount(n, Unit::Steps),
        "metre" | "metres" | "meter" | "meters" => Step::Amount(n, Unit::Metres),
        "km" | "kilometre" | "kilometres" => Step::Amount(n, Unit::Kilometres),
        "mile" | "miles" => Step::Amount(n, Unit::Miles),
        "length" | "lengths" => Step::Amount(n, Unit::Lengths),
        "flight" | "flights" => Step::Amount(n, Unit::Flights),
        "breath" | "breaths" => Step::Amount(n, Unit::Breaths),
        "s" | "sec" | "secs" | "second" | "seconds" => seconds(1)?,
        "min" | "mins" | "minute" | "minutes" => seconds(60)?,
        "hour" | "hours" | "hr" | "hrs" => seconds(3600)?,
        _ => return None,
    };
    m.at += 1;
    said |= m.word(&MORE).is_some();
    *c = m;
    Some((add, said))
}

/// `10 %`, `10 percent`, `10 per cent`.
fn percent(c: &mut Cursor<'_>) -> Option<Step> {
    let mut m = *c;
    let n = m.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| (1..=100).contains(n))?;
    let said = m.sign('%') || m.word(&["percent"]).is_some() || m.words(&["per", "cent"]);
    said.then(|| *c = m)?;
    Some(Step::Percent(n))
}

/// Days from one growth to the next: `every 3 days`, `a week`, `/week`, `each fortnight`, `weekly`.
fn every(c: &mut Cursor<'_>) -> Option<u32> {
    let mut m = *c;
    let one = match m.peek_word() {
        Some("daily") => Some(1),
        Some("weekly") => Some(7),
        Some("fortnightly") => Some(14),
        _ => None,
    };
    if let Some(days) = one {
        c.at += 1;
        return Some(days);
    }
    if !m.sign('/') {
        m.word(&["every", "each", "a", "per"])?;
    }
    let mut number = m;
    let days = if let Some(n) = number.whole() {
        m = number;
        number.word(&["nd", "rd", "th"]);
        let unit = if m.sign('/') {
            match m.whole()? {
                7 => 1,
                52 => 7,
                _ => return None,
            }
        } else {
            m = number;
            unit(&mut m)?
        };
        n.checked_mul(unit)?
    } else {
        let other = m.word(&["other", "second", "alternate"]).is_some();
        let unit = unit(&mut m)?;
        if other { unit.checked_mul(2)? } else { unit }
    };
    *c = m;
    Some(days)
}

/// `each session`, `every time`: counted by goes, not by days.
fn each_time(c: &mut Cursor<'_>) -> bool {
    c.word(&["each", "every", "per"]).is_some()
        && c.word(&["session", "time", "go", "visit", "walk", "outing", "workout", "round"]).is_some()
}

fn unit(c: &mut Cursor<'_>) -> Option<u32> {
    let days = match c.peek_word()? {
        "day" | "days" | "d" => 1,
        "week" | "weeks" | "wk" | "wks" => 7,
        "fortnight" | "fortnights" => 14,
        _ => return None,
    };
    c.at += 1;
    Some(days)
}

/// Words from the cursor up to token `end`, where they may name something to go as far as: an article or a number first.
fn landmark(c: Cursor<'_>, end: usize, source: &str) -> Option<String> {
    let some = c.all.get(c.at..end)?;
    let (first, rest) = some.split_first()?;
    let counts = matches!(first.sort, Sort::Number(_) | Sort::Word("a" | "an" | "another" | "the"));
    let words = rest.iter().filter(|t| matches!(t.sort, Sort::Word(_))).count();
    let plain = rest.iter().all(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign('-' | '\'')));
    // What is held or pulled grows in steps.
    let load = |t: &Token<'_>| {
        matches!(
            t.sort,
            Sort::Word("weight" | "load" | "resistance" | "x" | "add" | "increase" | "s" | "min" | "sec")
        )
    };
    if !counts || !plain || !(1..=5).contains(&words) || rest.iter().any(load) {
        return None;
    }
    let last = rest.last()?;
    // Only whether it is one is asked, where no source is given.
    Some(source.get(first.start..last.end).unwrap_or("").to_string())
}

/// Up to what it grows: `up to 20 min`, `(max 3)`, `to a max of 4 sets`. A bare number is of what is added.
fn bound(c: &mut Cursor<'_>, add: &Step, minutes: bool) -> Option<Step> {
    let mut m = *c;
    let bracket = m.sign('(');
    let max = |m: &mut Cursor<'_>| {
        let said = m.word(&["max", "maximum", "limit", "cap", "capped"]).is_some();
        if said {
            let _ = m.sign('.') || m.sign(':') || m.sign('=');
            m.word(&["of", "at", "is"]);
        }
        said
    };
    let said = max(&mut m)
        || m.words(&["at", "most"])
        || m.words(&["no", "more", "than"])
        || m.words(&["up", "to"])
        || m.word(&["to", "until", "till", "til"]).is_some();
    if !said {
        return None;
    }
    m.word(&["a", "the"]);
    max(&mut m);
    let found = most(&mut m, add, minutes)?;
    if bracket && !m.sign(')') {
        return None;
    }
    *c = m;
    Some(found)
}

fn most(c: &mut Cursor<'_>, add: &Step, minutes: bool) -> Option<Step> {
    let mut m = *c;
    let found = if let Some(span) = m.span() {
        matches!(add, Step::Time(_) | Step::Percent(_)).then_some(Step::Time(span))?
    } else {
        let n = Counts::one(m.whole()?)?;
        let mut named = *c;
        match (step(&mut named).map(|(named, _)| named), add) {
            (Some(named @ Step::Sets(_)), Step::Sets(_))
            | (Some(named @ Step::Repetitions(_)), Step::Repetitions(_) | Step::Percent(_))
            | (Some(named @ Step::Amount(..)), Step::Percent(_)) => {
                m = behind(*c)?;
                named
            }
            (Some(Step::Amount(n, of)), Step::Amount(_, unit)) if of == *unit => {
                m = behind(*c)?;
                Step::Amount(n, of)
            }
            // `until 14 Dec`, `to week 6` and other units are no bound.
            (None, _) if !ends(m) => return None,
            (None, Step::Sets(_)) => Step::Sets(n),
            (None, Step::Repetitions(_)) => Step::Repetitions(n),
            (None, Step::Amount(_, unit)) => Step::Amount(n, *unit),
            (None, Step::Time(_)) => {
                let seconds = n.high().checked_mul(if minutes { 60 } else { 1 })?;
                Step::Time(Span::one(seconds)?)
            }
            _ => return None,
        }
    };
    if let Step::Time(span) = &found
        && span.low() != span.high()
    {
        return None;
    }
    *c = m;
    Some(found)
}

/// The cursor behind a step that is known to stand there.
fn behind<'a>(mut c: Cursor<'a>) -> Option<Cursor<'a>> {
    step(&mut c)?;
    Some(c)
}

/// Whether nothing follows that a number would belong to.
fn ends(c: Cursor<'_>) -> bool {
    match c.peek().map(|t| (t.sort, t.spaced)) {
        None | Some((Sort::Sign(',' | ';' | ')' | '.'), _)) => true,
        Some((Sort::Word(word), true)) => matches!(word, "as" | "if" | "when" | "unless" | "only"),
        Some(_) => false,
    }
}
