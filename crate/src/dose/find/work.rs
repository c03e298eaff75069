//! Work: sets, repetitions, bouts, times, amounts.

use super::*;
use crate::language::comparator::{Bounds, Comparator, comparator};
use crate::language::restraint::denial;
use crate::measure::Bound;

pub(super) fn portion(manner: Option<Manner>, work: Work) -> Item {
    Item::Work(Portion { manner, work })
}

pub(super) fn reps(sets: Option<Counts>, reps: Option<Counts>, ending: Ending) -> Work {
    Work::Repetitions { sets, reps, ending }
}

pub(super) const SETS: [&str; 10] =
    ["sets", "set", "rounds", "round", "series", "sx", "lots", "lot", "bouts", "bout"];
pub(super) const REPS: [&str; 9] =
    ["reps", "rep", "repetitions", "repetition", "repeats", "times", "lifts", "goes", "contractions"];
pub(super) const HOLDS: [&str; 6] = ["hold", "holds", "held", "holding", "isometric", "contraction"];

/// Work: how much, before how often.
pub fn work(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let manner = match c.word(&["slow", "quick", "fast"]) {
        Some("slow") => Some(Manner::Slow),
        Some(_) => Some(Manner::Quick),
        None => None,
    };
    let found = plain_work(c, source).or_else(|| if manner.is_some() { bare(c, source) } else { None })?;
    Some(Hit {
        items: found
            .items
            .into_iter()
            .map(|i| match i {
                Item::Work(p) => Item::Work(Portion { manner, ..p }),
                other => other,
            })
            .collect(),
        ..found
    })
}

pub(super) fn plain_work(c: Cursor<'_>, source: &str) -> Option<Hit> {
    intervals(c, source)
        .or_else(|| several_turns(c, source))
        .or_else(|| by_turns(c, source))
        .or_else(|| trade::letters(c))
        .or_else(|| trade::lowered(c))
        .or_else(|| multiplied(c))
        .or_else(|| of_sets(c))
        .or_else(|| of_reps(c))
        .or_else(|| of_time(c))
        .or_else(|| amount(c, None))
        .or_else(|| open_ended(c, None))
}

/// `6 x (1 min brisk, 2 min easy)`.
pub(super) fn intervals(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let times = c.counts()?;
    if !c.times() || !c.sign('(') {
        return None;
    }
    let mut stretches = Vec::new();
    loop {
        let span = c.span()?;
        let (from, mut to) = (c.peek()?.start, c.peek()?.start);
        while let Some(t) = c.peek() {
            if matches!(t.sort, Sort::Sign(',' | ')' | '/' | '+' | ';' | '(')) {
                break;
            }
            to = t.end;
            c.at += 1;
        }
        stretches.push(Stretch { span, how: crate::text::trim(source.get(from..to)?).to_string() });
        if c.sign(')') {
            break;
        }
        if !(c.sign(',') || c.sign('/') || c.sign('+') || c.sign(';')) {
            return None;
        }
    }
    hit(c, portion(None, Work::Intervals { times, stretches }))
}

/// Two stretches by turns, and how many times: `1 min run 2 min walk x 8`, `30 s on 30 s off x 5`, and behind a name
/// `1 min / walk 2 min x 8`.
pub(super) fn by_turns(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let how = |c: &mut Cursor<'_>| {
        let from = c.at;
        let plain = |w: &str| w.len() != 1 && !matches!(w, "then" | "and");
        while c.at < from + 3 && c.peek_word().is_some_and(plain) {
            c.at += 1;
        }
        let (first, last) = (c.all.get(from)?, c.all.get(c.at.checked_sub(1)?)?);
        (from < c.at).then(|| source.get(first.start..last.end).unwrap_or("").to_string())
    };
    let first = c.span()?;
    let first_how = how(&mut c);
    let parted = c.sign('/') || c.sign(',') || c.sign('+') || c.word(&["then", "and"]).is_some();
    let before = if parted { how(&mut c) } else { None };
    let second = c.span()?;
    let second_how = before.or_else(|| how(&mut c))?;
    if first_how.is_none() && !parted {
        return None;
    }
    c.sign(',');
    if !c.times() {
        c.word(&["repeat"])?;
        c.times();
    }
    let times = c.counts()?;
    if is_rate(c) || !(c.is_done() || is_free(c)) {
        return None;
    }
    c.word(&REPS);
    let stretch = |span, how: Option<String>| Stretch { span, how: how.unwrap_or_default() };
    let stretches = vec![stretch(first, first_how), stretch(second, Some(second_how))];
    hit(c, portion(None, Work::Intervals { times, stretches }))
}

/// The same with how many times in front: `6 x 2 min jog / 1 min walk`. What says how often or bounds it ends the words.
fn several_turns(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let times = c.counts()?;
    c.times().then_some(())?;
    let how = |c: &mut Cursor<'_>| {
        let from = c.at;
        let plain = |c: &Cursor<'_>| {
            c.peek_word().is_some_and(|w| {
                w.len() != 1 && !HOLDS.contains(&w) && !matches!(w, "then" | "and" | "rest" | "on" | "off")
            }) && super::at(*c, source).is_none()
        };
        while c.at < from + 3 && plain(c) {
            c.at += 1;
        }
        let (first, last) = (c.all.get(from)?, c.all.get(c.at.checked_sub(1)?)?);
        (from < c.at).then(|| source.get(first.start..last.end).unwrap_or("").to_string())
    };
    let first = Stretch { span: c.span()?, how: how(&mut c)? };
    (c.sign('/') || c.sign('+') || c.word(&["then"]).is_some()).then_some(())?;
    let second = Stretch { span: c.span()?, how: how(&mut c)? };
    hit(c, portion(None, Work::Intervals { times, stretches: vec![first, second] }))
}

/// `3 x 10`, `3 x 30 s`, `2 x 5 x 10 s`, `3 x 10 x 5 kg`, `10 x 3`, `x 10`.
pub(super) fn multiplied(mut c: Cursor<'_>) -> Option<Hit> {
    let begun = c;
    // `VOR x1`: which of the two gaze exercises.
    let gaze = c.at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort);
    if matches!(gaze, Some(Sort::Word("vor" | "gaze" | "viewing" | "vorx"))) && c.peek_word() == Some("x") {
        return None;
    }
    if c.times() {
        if let Some(span) = c.span() {
            return hit(c, portion(None, Work::Time(span)));
        }
        let n = c.counts()?;
        if c.word(&SETS).is_some() {
            return hit(c, portion(None, reps(Some(n), None, Ending::Number)));
        }
        if is_rate(c) || stretch(&mut begun_after_times(begun)).is_some() {
            return None;
        }
        c.word(&REPS);
        // `x10 x3`
        let mut more = c;
        if more.times()
            && !is_rate_ahead(more)
            && let Some(second) = more.counts()
        {
            if 6 <= n.low() && second.high() <= 5 {
                let doubt = Doubt::Swapped { sets: second, reps: n };
                return noted(more, vec![portion(None, reps(Some(second), Some(n), Ending::Number))], doubt);
            }
            return hit(more, portion(None, reps(Some(n), Some(second), Ending::Number)));
        }
        return hit(c, portion(None, reps(None, Some(n), Ending::Number)));
    }
    let first = c.counts()?;
    // `turn 360 x3`: how far.
    let turned = begun.at.checked_sub(1).and_then(|i| begun.all.get(i)).map(|t| t.sort);
    if matches!(
        turned,
        Some(Sort::Word("turn" | "turns" | "turning" | "spin" | "spins" | "rotate" | "pivot" | "pivots"))
    ) && [90, 180, 270, 360].contains(&first.high())
    {
        return None;
    }
    let by = !c.times();
    if by {
        c.word(&["by"])?;
        c.peek().filter(|t| matches!(t.sort, Sort::Number(_)))?;
        // `90 by 2/52`: by when.
        if stretch(&mut c.clone()).is_some() {
            return None;
        }
    }
    // `10x 2 hrly`: ten, every two hours.
    let mut hours = c;
    if !by
        && 5 <= first.low()
        && hours.whole().is_some_and(|n| matches!(n, 2 | 3 | 4 | 6))
        && hours.word(&["hrly", "hourly"]).is_some()
        && !hours.clone().times()
    {
        return hit(c, portion(None, reps(None, Some(first), Ending::Number)));
    }
    // `20 x hourly`, `10 x bd`
    if !by
        && matches!(
            c.peek_word(),
            Some(
                "hourly"
                    | "hrly"
                    | "bd"
                    | "bid"
                    | "tds"
                    | "tid"
                    | "qds"
                    | "qid"
                    | "od"
                    | "am"
                    | "pm"
                    | "mane"
                    | "nocte"
                    | "noct"
            )
        )
    {
        return hit(c, portion(None, reps(None, Some(first), Ending::Number)));
    }
    if let Some(found) = trade::counted_only(c, first) {
        return Some(found);
    }
    if let Some(found) = open_ended(c, Some(first)) {
        return Some(found);
    }
    if let Some(found) = amount(c, Some(first)) {
        return Some(found);
    }
    let mut able = c;
    let up_to = able.words(&["up", "to"]);
    if up_to {
        c = able;
        let mut long = c;
        if let Some(span) = long.span().and_then(|span| span.bounded(Some(Bound::Most))) {
            return hit(long, portion(None, Work::Bouts { sets: None, bouts: first, span }));
        }
    }
    if let Some(span) = c.span() {
        if c.word(&HOLDS).is_some() {
            return hits(c, vec![portion(None, reps(None, Some(first), Ending::Number)), Item::Hold(span)]);
        }
        return hit(c, portion(None, Work::Bouts { sets: None, bouts: first, span }));
    }
    let mut weight = c;
    if mass(&mut weight).is_some() {
        return ask(weight, Doubt::TwoWeights { count: first });
    }
    let mut metre = c;
    if metre.counts().is_some() && trade::short_days(metre).is_none() && metre.word(&["m"]).is_some() {
        return ask(metre, Doubt::MinuteOrMetre);
    }
    let second = c.counts()?;
    // Feet and yards are no repetitions, and no unit of a dose.
    let mut far = c;
    if let Some(unit) = far.word(&["ft", "feet", "foot", "yd", "yds", "yard", "yards"]) {
        return ask(far, Doubt::Unread { text: format!("{first} x {second} {unit}") });
    }
    let ending = if up_to { Ending::AsAble } else { Ending::Number };
    if let Some(found) = trade::after_reps(c, begun, first, second) {
        return Some(found);
    }
    let mut third = c;
    if third.times() && !is_rate_ahead(third) && stretch(&mut third.clone()).is_none() {
        if let Some(span) = third.span() {
            if third.word(&HOLDS).is_some() {
                return hits(
                    third,
                    vec![portion(None, reps(Some(first), Some(second), ending)), Item::Hold(span)],
                );
            }
            return hit(third, portion(None, Work::Bouts { sets: Some(first), bouts: second, span }));
        }
        if let Some((low, high, unit)) = mass(&mut third) {
            let (low, high, carrier, each) = (low, high, carrier_after(&mut third), each_of(&mut third));
            let load = Load::Mass { low, high, unit, carrier, each };
            return hits(
                third,
                vec![portion(None, reps(Some(first), Some(second), ending)), Item::Load(load)],
            );
        }
        if third.counts().is_some() {
            return ask(third, Doubt::ThreeNumbers { sets: first, reps: second });
        }
    }
    // 10 x 3/day, 10 x 3 times a day: the second number says how often; 3 x 10/day is no ten times a day.
    let seldom = second.high() <= 6 || matches!(c.peek_word(), Some("times" | "time" | "x"));
    if is_rate(c) && seldom {
        let mut back = begun;
        back.counts();
        return hit(back, portion(None, reps(None, Some(first), Ending::Number)));
    }
    let said_sets = c.word(&SETS).is_some();
    let said_reps = !said_sets && c.word(&REPS).is_some();
    if said_sets {
        return hit(c, portion(None, reps(Some(second), Some(first), ending)));
    }
    if 6 <= first.low() && second.high() <= 5 && !said_reps {
        let doubt = if daily_ahead(c) {
            Doubt::TimesDaily { reps: first, other: second }
        } else {
            Doubt::Swapped { sets: second, reps: first }
        };
        return noted(c, vec![portion(None, reps(Some(second), Some(first), ending))], doubt);
    }
    // Nobody counts so far in one set (common practice, no source).
    if 100 <= second.low() && !said_reps {
        return noted(
            c,
            vec![portion(None, reps(Some(first), Some(second), ending))],
            Doubt::Many { reps: second },
        );
    }
    hit(c, portion(None, reps(Some(first), Some(second), ending)))
}

fn begun_after_times(mut c: Cursor<'_>) -> Cursor<'_> {
    c.times();
    c
}

/// Whether what follows a number makes it a rate: `/day`, `times a day`, `x a week`, `per day`.
pub(super) fn is_rate(mut c: Cursor<'_>) -> bool {
    let mut weekly = c;
    if weekly.word(&["weekly"]).is_some() {
        return true;
    }
    // `10 reps x 2 days a week`
    let mut days = c;
    if days.word(&["days", "day"]).is_some() {
        let over = days.sign('/') || days.word(&["a", "per", "each"]).is_some();
        return over && days.word(&["week", "wk", "w"]).is_some();
    }
    let times = c.times() | c.word(&["times", "time"]).is_some();
    let over =
        c.sign('/') | c.word(&["a", "per"]).is_some() | (times && c.word(&["each", "every"]).is_some());
    let short = c.word(&["pd", "pw"]).is_some()
        || (times && c.word(&["p"]).is_some() && c.sign('/') && c.word(&["d", "w"]).is_some());
    short || (over || times) && c.word(&["day", "d", "week", "wk", "w", "daily", "weekly"]).is_some()
}

/// Whether a number with a rate after it stands here: `3 daily`, `2/day`.
pub(super) fn is_rate_ahead(mut c: Cursor<'_>) -> bool {
    c.counts().is_some() && (is_rate(c) || c.word(&["daily", "day", "week", "wk"]).is_some())
}

pub(super) fn daily_ahead(mut c: Cursor<'_>) -> bool {
    c.sign(',');
    c.word(&["daily"]).is_some()
        || c.words(&["every", "day"])
        || c.words(&["each", "day"])
        || c.words(&["a", "day"])
}

/// `3 sets of 10`, `3 sets`, `3 rounds of 30 s`.
pub(super) fn of_sets(mut c: Cursor<'_>) -> Option<Hit> {
    let sets = c.counts()?;
    c.word(&SETS)?;
    let alone = c;
    if !c.times() {
        c.word(&["of"]);
    }
    if let Some(found) = open_ended(c, Some(sets)) {
        return Some(found);
    }
    if let Some(found) = amount(c, Some(sets)) {
        return Some(found);
    }
    if let Some(span) = c.span() {
        if c.word(&HOLDS).is_some() {
            return hits(c, vec![portion(None, reps(None, Some(sets), Ending::Number)), Item::Hold(span)]);
        }
        return hit(c, portion(None, Work::Bouts { sets: None, bouts: sets, span }));
    }
    if c.words(&["up", "to"])
        && let Some(n) = c.counts()
    {
        c.word(&REPS);
        return hit(c, portion(None, reps(Some(sets), Some(n), Ending::AsAble)));
    }
    // `3 sets/day`: together, or spread over the day.
    let mut day = c;
    let over = day.sign('/') || day.word(&["a", "per"]).is_some();
    if over && day.word(&["day", "d"]).is_some() && Counts::ONE < sets {
        let items = vec![portion(None, reps(Some(sets), None, Ending::Number)), Item::Days(Days::Daily)];
        return noted(day, items, Doubt::SetsADay { sets });
    }
    let Some(n) = c.counts().filter(|_| !is_rate(c)) else {
        return hit(alone, portion(None, reps(Some(sets), None, Ending::Number)));
    };
    let mut more = c;
    if more.times() {
        if let Some(span) = more.span() {
            if more.word(&HOLDS).is_some() {
                return hits(
                    more,
                    vec![portion(None, reps(Some(sets), Some(n), Ending::Number)), Item::Hold(span)],
                );
            }
            return hit(more, portion(None, Work::Bouts { sets: Some(sets), bouts: n, span }));
        }
        if let Some((low, high, unit)) = mass(&mut more) {
            let (carrier, each) = (carrier_after(&mut more), each_of(&mut more));
            let load = Load::Mass { low, high, unit, carrier, each };
            return hits(
                more,
                vec![portion(None, reps(Some(sets), Some(n), Ending::Number)), Item::Load(load)],
            );
        }
    }
    let mut weight = c;
    weight.at = weight.at.saturating_sub(1);
    if c.word(&REPS).is_none() && (mass(&mut weight).is_some() || c.sign('%')) {
        return hit(alone, portion(None, reps(Some(sets), None, Ending::Number)));
    }
    hit(c, portion(None, reps(Some(sets), Some(n), Ending::Number)))
}

/// `10 reps`, `10 reps x 3`, `5 holds of 10 s`, `up to 10 reps`.
pub(super) fn of_reps(mut c: Cursor<'_>) -> Option<Hit> {
    let able = c.words(&["up", "to"]);
    if able && c.clone().span().is_some() {
        return None;
    }
    let ending = if able { Ending::AsAble } else { Ending::Number };
    let n = c.counts()?;
    // `up to 3x12`: of the sets.
    let mut sets = c;
    if able && sets.times() && sets.counts().is_some() {
        return None;
    }
    // `10 long holds 10 s`
    let mut long = c;
    if long.word(&["long", "slow", "sustained", "max", "full", "strong"]).is_some()
        && long.word(&HOLDS).is_some()
    {
        let _ = long.word(&["of", "for"]).is_some() || long.times() || long.sign('@');
        if let Some(span) = long.span() {
            return hit(long, portion(None, Work::Bouts { sets: None, bouts: n, span }));
        }
    }
    let word = c.word(&REPS).or_else(|| c.word(&HOLDS));
    let Some(word) = word else {
        // `up to 8 kg` counts nothing.
        let measured = unit::of(&mut c.clone(), &unit::MEASURES).is_some();
        return (able && !measured)
            .then(|| hit(c, portion(None, reps(None, Some(n), Ending::AsAble))))
            .flatten();
    };
    // `2 reps in reserve` is effort; `3 times a day` is a rate.
    if c.words(&["in", "reserve"]) || c.words(&["left"]) {
        return None;
    }
    if word == "times" && (c.sign('/') || c.word(&["a", "per", "daily", "weekly", "each", "every"]).is_some())
    {
        return None;
    }
    let mut more = c;
    if (more.word(&["of"]).is_some() || more.times())
        && let Some(span) = more.span()
    {
        more.word(&HOLDS);
        return hit(more, portion(None, Work::Bouts { sets: None, bouts: n, span }));
    }
    // `10 times 5 s`
    let mut more = c;
    if word == "times"
        && let Some(span) = more.span()
        && more.clone().word(&["rest", "rests", "break", "recovery"]).is_none()
    {
        if more.word(&HOLDS).is_some() {
            return hits(more, vec![portion(None, reps(None, Some(n), ending)), Item::Hold(span)]);
        }
        return hit(more, portion(None, Work::Bouts { sets: None, bouts: n, span }));
    }
    // `3 times 10`; `10 times 5 lb` weighs.
    let mut more = c;
    if word == "times"
        && !is_rate_ahead(more)
        && mass(&mut more.clone()).is_none()
        && more.clone().span().is_none()
        && let Some(second) = more.counts()
    {
        more.word(&REPS);
        return hit(more, portion(None, reps(Some(n), Some(second), ending)));
    }
    let mut more = c;
    let joined = more.times() | more.word(&["for"]).is_some();
    if joined
        && !is_rate_ahead(more)
        && let Some(sets) = more.counts()
    {
        let said = more.word(&SETS).is_some() | more.word(&["times"]).is_some();
        if said || !matches!(more.peek().map(|t| t.sort), Some(Sort::Word("s" | "sec" | "min"))) {
            return hit(more, portion(None, reps(Some(sets), Some(n), ending)));
        }
    }
    let mut more = c;
    if let Some(sets) = more.counts()
        && more.word(&SETS).is_some()
    {
        return hit(more, portion(None, reps(Some(sets), Some(n), ending)));
    }
    hit(c, portion(None, reps(None, Some(n), ending)))
}

/// `8 min`, `10 s x 5`, `up to 20 min`.
pub(super) fn of_time(mut c: Cursor<'_>) -> Option<Hit> {
    let mut bounded = c;
    if let Some(comparator) = crate::language::comparator::comparator(&mut bounded)
        && let Some(span) = bounded.span()
    {
        let bound = bound_of(comparator);
        if let Some(both) = other_end(&mut bounded, span, bound) {
            return hit(bounded, portion(None, Work::Time(both)));
        }
        return hit(bounded, portion(None, Work::Time(span.bounded(bound)?)));
    }
    let span = c.span()?;
    let mut more = c;
    if more.times()
        && !is_rate_ahead(more)
        && let Some(n) = more.counts()
    {
        let mut third = more;
        if third.times()
            && !is_rate_ahead(third)
            && let Some(sets) = third.counts()
        {
            if third.word(&SETS).is_some() {
                return hit(third, portion(None, Work::Bouts { sets: Some(sets), bouts: n, span }));
            }
            return ask(third, Doubt::ThreeNumbers { sets, reps: n });
        }
        more.word(&REPS);
        more.word(&SETS);
        return hit(more, portion(None, Work::Bouts { sets: None, bouts: n, span }));
    }
    hit(c, portion(None, Work::Time(span)))
}

/// The other end of a time whose least or most was said: `at least 10 min but not over 20 min`.
fn other_end(c: &mut Cursor<'_>, first: Span, bound: Option<Bound>) -> Option<Span> {
    let mut m = *c;
    m.sign(',');
    m.word(&["but", "and", "to"]);
    let denied = comparator(&mut m.clone()).is_none() && denial(&mut m);
    let bounds = comparator(&mut m)?.bounds(denied);
    let second = m.span()?;
    let span = match (bound?, bounds) {
        (Bound::Least, Bounds::Most) => Span::new(first.low(), second.high()),
        (Bound::Most, Bounds::Least) => Span::new(second.low(), first.high()),
        _ => None,
    }?;
    *c = m;
    Some(span)
}

/// What a comparator makes of a time that is to be done.
pub(super) fn bound_of(comparator: Comparator) -> Option<Bound> {
    Some(match comparator {
        Comparator::AtMost | Comparator::Under => Bound::Most,
        Comparator::AtLeast | Comparator::From | Comparator::Over => Bound::Least,
    })
}

/// `6000 steps`, `20 metres`, `10 breaths`.
pub(super) fn amount(mut c: Cursor<'_>, sets: Option<Counts>) -> Option<Hit> {
    let (mut low, mut high) = c.range()?;
    // 4k steps
    let mut thousands = c;
    if thousands.word(&["k"]).is_some() && matches!(thousands.peek_word(), Some("step" | "steps")) {
        (low, high) = (low.checked_mul(1000)?, high.checked_mul(1000)?);
        c = thousands;
    }
    if trade::short_days(c).is_some() {
        return None;
    }
    let (unit, hundredths) = match c.peek_word()? {
        "step" | "steps" => (Unit::Steps, 100),
        "metre" | "metres" | "meter" | "meters" => (Unit::Metres, 100),
        "km" | "kms" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => (Unit::Kilometres, 100),
        "length" | "lengths" => (Unit::Lengths, 100),
        "flight" | "flights" => (Unit::Flights, 100),
        "breath" | "breaths" => (Unit::Breaths, 100),
        "mile" | "miles" => (Unit::Miles, 100),
        // Nobody does an exercise for 200 minutes.
        "m" if 20_000 <= low => (Unit::Metres, 100),
        "m" if sets.is_none() => {
            c.at += 1;
            return ask(c, Doubt::MinuteOrMetre);
        }
        _ => return None,
    };
    c.at += 1;
    if unit == Unit::Miles && (low % 100 != 0 || high % 100 != 0) {
        return None;
    }
    let (low, high, unit) = if unit == Unit::Kilometres && (low % 100 != 0 || high % 100 != 0) {
        (low * 10, high * 10, Unit::Metres)
    } else {
        (low / hundredths, high / hundredths, unit)
    };
    if unit == Unit::Flights {
        c.words(&["of", "stairs"]);
    }
    let amount = Counts::new(u32::try_from(low).ok()?, u32::try_from(high).ok()?)?;
    hit(c, portion(None, Work::Amount { sets, amount, unit }))
}

/// `as many as possible`, `to fatigue`, with the sets before it.
pub(super) fn open_ended(mut c: Cursor<'_>, sets: Option<Counts>) -> Option<Hit> {
    let bare = sets.is_some().then(|| one_word_ending(&mut c)).flatten();
    let ending = match bare {
        Some(ending) => ending,
        None => ending(&mut c)?,
    };
    match (ending, sets) {
        (Ending::AsMany, _) | (_, Some(_)) => hit(c, portion(None, reps(sets, None, ending))),
        (_, None) => hit(c, Item::Ending(ending)),
    }
}

/// `3 x max`, `3 x failure`.
fn one_word_ending(c: &mut Cursor<'_>) -> Option<Ending> {
    let mut m = *c;
    let ending = match m.word(&["max", "maximum", "failure", "fatigue"])? {
        "failure" | "fatigue" => Ending::Fatigue,
        _ => Ending::AsMany,
    };
    let ends = m.is_done();
    if ends {
        *c = m;
    }
    ends.then_some(ending)
}

pub(super) fn ending(c: &mut Cursor<'_>) -> Option<Ending> {
    if c.word(&["amrap", "amap"]).is_some()
        || c.words(&["as", "many", "as", "you", "can"])
        || c.words(&["as", "many", "as", "able"])
        || c.words(&["as", "many", "as", "possible"])
        || c.words(&["as", "many", "as", "poss"])
        || c.words(&["as", "many", "as", "pos"])
        || c.words(&["as", "many", "reps", "as", "possible"])
        || c.words(&["max", "reps"])
    {
        return Some(Ending::AsMany);
    }
    if c.words(&["as", "many", "as", "comfortable"]) || c.words(&["as", "many", "as", "tolerated"]) {
        return Some(Ending::AsAble);
    }
    for able in [["as", "able"], ["as", "comfortable"], ["as", "tolerated"], ["if", "able"]] {
        if c.words(&able) {
            return Some(Ending::AsAble);
        }
    }
    let mut more = *c;
    let joined = more.word(&["to", "until", "till"]).is_some();
    if joined && more.word(&["fatigue", "failure", "exhaustion", "fatigued", "tired"]).is_some() {
        *c = more;
        return Some(Ending::Fatigue);
    }
    None
}

/// A number alone is repetitions where nothing unknown follows it.
pub(super) fn bare(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let n = c.counts()?;
    let follows = |mut rest: Cursor<'_>| {
        // A full stop after the number ends nothing.
        let mut stop = rest;
        if stop.sign('.') && stop.peek().is_none_or(|t| t.spaced) {
            rest = stop;
        }
        let next = ramp(rest, source)
            .or_else(|| until(rest, source))
            .or_else(|| often(rest))
            .or_else(|| hold(rest))
            .or_else(|| tempo(rest))
            .or_else(|| effort(rest))
            .or_else(|| load(rest, source))
            .or_else(|| sided(rest))
            .or_else(|| moment(rest, source))
            .or_else(|| open_ended(rest, None));
        // `10 of each`
        let each = rest.clone().words(&["of", "each"]);
        rest.is_done() || next.is_some() || each
    };
    let mut rest = c;
    let mut known = follows(rest);
    while !known
        && is_filler(rest)
        && !matches!(rest.peek().map(|t| t.sort), Some(Sort::Sign('/' | '-' | ':' | '.')))
    {
        rest.at += 1;
        known = follows(rest);
    }
    // `to a count of 4`: how slowly, not how many.
    let before = |back: usize| c.at.checked_sub(back).and_then(|i| c.all.get(i)).map(|t| t.sort);
    if before(2) == Some(Sort::Word("of")) && matches!(before(3), Some(Sort::Word("count" | "counts"))) {
        return None;
    }
    // `2pm pool`: a time of day.
    if c.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Word("am" | "pm"))) {
        return None;
    }
    // `DIP flex to 20, +10 deg/wk`: how far a joint goes.
    let far = matches!(before(2), Some(Sort::Word("to" | "past" | "beyond")));
    let moved = || {
        let at = c.at.checked_sub(3)?;
        crate::language::anatomy::motion(&mut Cursor { all: c.all, at })
    };
    if far && moved().is_some() {
        return None;
    }
    // `from day 3`, `sprain gr 2`: which one, not how many.
    let counted = c.at.checked_sub(2).and_then(|i| c.all.get(i)).map(|t| t.sort);
    if matches!(
        counted,
        Some(Sort::Word(
            "day"
                | "days"
                | "phase"
                | "level"
                | "stage"
                | "grade"
                | "gr"
                | "type"
                | "part"
                | "no"
                | "number"
                | "visit"
                | "session"
                | "size"
                | "setting"
        ))
    ) {
        return None;
    }
    // `2 nights`: on so many, not so many times.
    if matches!(c.peek_word(), Some("nights" | "mornings" | "evenings" | "afternoons")) {
        return None;
    }
    let bottle = matches!(c.peek_word(), Some("l" | "litre" | "liter" | "ml"))
        && matches!(
            c.all.get(c.at + 1).map(|t| t.sort),
            Some(Sort::Word("bottle" | "bottles" | "jug" | "carton"))
        );
    if bottle {
        return None;
    }
    if !known || (c.is_done() && 1000 <= n.low()) {
        return None;
    }
    hit(c, portion(None, reps(None, Some(n), Ending::Number)))
}
