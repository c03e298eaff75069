//! Shorthand of the trade that needs a look around: what is written so in one country or clinic only, and what
//! must be asked because two readings are common.

use super::*;
use crate::language::token::PROPS;

/// Whether a word begins one of the forms below.
pub(super) fn may_begin(word: &str) -> bool {
    short_day(word).is_some()
        || matches!(
            word,
            "w" | "tth"
                | "mwf"
                | "fortnightly"
                | "biweekly"
                | "bi"
                | "except"
                | "bar"
                | "hrly"
                | "qh"
                | "qhr"
                | "qhs"
                | "ri"
                | "leave"
                | "leaving"
                | "aw"
                | "pd"
                | "pw"
                | "p"
                | "weeks"
                | "week"
                | "wk"
                | "wks"
                | "increase"
                | "increasing"
                | "second"
                | "then"
                | "aim"
                | "build"
                | "work"
                | "progress"
                | "nearly"
                | "almost"
                | "virtually"
                | "few"
                | "several"
                | "many"
                | "multiple"
        )
}

/// Frequencies: days left out, days on and off, every second day, fortnights.
pub(super) fn often(c: Cursor<'_>) -> Option<Hit> {
    days_off(c)
        .or_else(|| on_and_off(c))
        .or_else(|| second_daily(c))
        .or_else(|| of_seven(c))
        .or_else(|| rare(c))
        .or_else(|| most_days(c))
}

/// `except Sunday`, `no weekends`, `not on Thu`.
fn days_off(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["except", "bar", "no", "not"])?;
    c.word(&["on", "for", "at"]);
    if matches!(c.peek_word(), Some("daily" | "every" | "each")) {
        return None;
    }
    let days = weekday_set(&mut c)?;
    hit(c, Item::DaysOff(days))
}

/// `4 on 1 off`, `2 days on, 1 day off`: no days of the week say that.
fn on_and_off(mut c: Cursor<'_>) -> Option<Hit> {
    c.whole()?;
    c.word(&["day", "days", "d"]);
    c.word(&["on"])?;
    let _ = c.sign(',') || c.sign('/') || c.sign('-') || c.word(&["and", "then"]).is_some();
    c.whole()?;
    c.word(&["day", "days", "d"]);
    c.word(&["off"])?;
    ask(c, Doubt::OnAndOff)
}

/// `2nd daily`, `second daily`: every second day, as written in Australia and New Zealand.
fn second_daily(mut c: Cursor<'_>) -> Option<Hit> {
    let n = if c.word(&["second"]).is_some() {
        2
    } else {
        let n = u8::try_from(c.whole()?).ok().filter(|n| (2..=7).contains(n))?;
        c.word(&["nd", "rd", "th"])?;
        n
    };
    if c.word(&["hourly", "hrly"]).is_some() {
        awake(&mut c);
        return hit(c, Item::AllDay(Often::Hours(n)));
    }
    c.word(&["daily"])?;
    hit(c, Item::Days(Days::Every(n)))
}

/// `5 of 7 days`, `5 days/7`, `5 days out of 7`.
fn of_seven(mut c: Cursor<'_>) -> Option<Hit> {
    let n = c.whole().filter(|n| (1..=7).contains(n))?;
    let days = c.word(&["days", "day"]).is_some();
    c.word(&["out"]);
    let of = c.word(&["of"]).is_some();
    if !(of || (days && c.sign('/'))) || c.whole() != Some(7) {
        return None;
    }
    if c.word(&["days"]).is_none() && !days {
        return None;
    }
    let days = if n == 7 { Days::Daily } else { Days::PerWeek(Counts::one(n)?) };
    hit(c, Item::Days(days))
}

/// `most days`: no number says that.
fn most_days(mut c: Cursor<'_>) -> Option<Hit> {
    let most = c.words(&["most", "days"])
        || c.word(&["most"]).is_some() && c.word(&["mornings", "evenings", "nights", "afternoons"]).is_some()
        || c.word(&["nearly", "almost", "virtually"]).is_some()
            && (c.words(&["every", "day"]) || c.word(&["daily"]).is_some());
    most.then(|| ask(c, Doubt::MostDays)).flatten()
}

/// `several times daily`, `a few times a day`, `as often as you can`: a frequency that is no number.
pub(super) fn some_times(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let first = c.peek()?;
    let begun = c;
    c.word(&["a"]);
    let counted = c.word(&["few", "several", "many", "multiple", "couple"]).is_some() && {
        c.word(&["of"]);
        c.word(&["times", "goes"]).is_some()
    };
    let said = counted && {
        let _ = c.word(&["a", "per", "each", "every", "through", "throughout"]).is_some() || c.sign('/');
        c.word(&["the"]);
        c.word(&["day", "daily", "d", "week", "weekly", "hour"]).is_some()
    };
    if !said {
        c = begun;
        let often = c.words(&["as", "often", "as"])
            && (c.words(&["you", "can"])
                || c.word(&["possible", "able", "tolerated", "pos", "poss"]).is_some());
        often.then_some(())?;
    }
    let last = c.at.checked_sub(1).and_then(|i| c.all.get(i))?;
    ask(c, Doubt::Unread { text: source.get(first.start..last.end)?.to_string() })
}

/// `10 sec on 10 off x 10`: work and rest by turns, so many times.
pub(super) fn on_off(mut c: Cursor<'_>) -> Option<Hit> {
    let work = c.span()?;
    c.word(&["on"])?;
    let _ = c.sign(',') || c.sign('/') || c.sign('-') || c.word(&["and", "then"]).is_some();
    // Without a unit it is the one before.
    let rest = c.span().or_else(|| {
        let n = c.counts()?;
        let unit = if work.low() == work.high() && work.low().is_multiple_of(60) { 60 } else { 1 };
        Span::new(n.low().checked_mul(unit)?, n.high().checked_mul(unit)?)
    })?;
    c.word(&["off", "rest"])?;
    c.sign(',');
    c.times().then_some(())?;
    let bouts = c.counts()?;
    if is_rate(c) {
        return None;
    }
    c.word(&REPS);
    hits(c, vec![portion(None, Work::Bouts { sets: None, bouts, span: work }), Item::Rest(rest)])
}

/// `1-0-1`: morning, noon and night, as written in India.
pub(super) fn day_pattern(mut c: Cursor<'_>) -> Option<Hit> {
    let mut done = [false; 3];
    for (i, slot) in done.iter_mut().enumerate() {
        let glued = |c: &Cursor<'_>| c.peek().is_some_and(|t| !t.spaced);
        if 0 < i && !(glued(&c) && c.sign('-') && glued(&c)) {
            return None;
        }
        *slot = match c.whole()? {
            0 => false,
            1 => true,
            _ => return None,
        };
    }
    if !is_free(c) {
        return None;
    }
    let parts = [Part::Morning, Part::Midday, Part::Night];
    let said = parts.into_iter().zip(done).filter(|(_, done)| *done);
    let items: Vec<Item> = said.map(|(part, _)| Item::Moment(Moment::At(part))).collect();
    if items.is_empty() { None } else { hits(c, items) }
}

fn rare(mut c: Cursor<'_>) -> Option<Hit> {
    if c.word(&["fortnightly"]).is_some() {
        return hit(c, Item::Days(Days::Every(14)));
    }
    if c.word(&["biweekly"]).is_none() {
        c.word(&["bi"])?;
        c.sign('-');
        c.word(&["weekly"])?;
    }
    ask(c, Doubt::Biweekly)
}

/// `every 2-3 hours`, `q2-3h`, `2-3 hourly`: one number is needed. The cursor stands at the number.
pub(super) fn hours_range(mut c: Cursor<'_>) -> Option<Hit> {
    let n = c.counts().filter(|n| n.low() < n.high() && n.high() <= 12)?;
    c.sign('-');
    c.word(&["hourly", "hrly", "hours", "hrs", "h", "hr", "hour"])?;
    let before =
        c.all.iter().take(c.at).any(|t| matches!(t.sort, Sort::Word("every" | "q" | "hourly" | "hrly")));
    before.then(|| ask(c, Doubt::Hours { low: n.low() })).flatten()
}

/// Passes over `while awake`.
pub(super) fn awake(c: &mut Cursor<'_>) {
    let _ = c.words(&["while", "awake"]) || c.words(&["when", "awake"]) || c.words(&["whilst", "awake"]);
}

/// A weekday's shortest names; a single letter only where it can be no other day.
pub(super) fn short_day(word: &str) -> Option<u8> {
    Some(match word {
        "m" | "mo" => 0,
        "t" | "tu" => 1,
        "w" | "we" => 2,
        "th" => 3,
        "f" | "fr" => 4,
        "sa" => 5,
        "su" => 6,
        _ => return None,
    })
}

/// `MWF`, `M/W/F`, `M W F`, `M-F`, `Tu Th`, `T/Th`: two days or more, in the order of the week.
pub(super) fn short_days(c: Cursor<'_>) -> Option<(Weekdays, Cursor<'_>)> {
    let mut one = c;
    if one.word(&["tth"]).is_some() {
        return Some((Weekdays::new([1, 3])?, one));
    }
    let first = c.peek_word().and_then(short_day)?;
    let mut days = vec![first];
    let mut letters = c.peek_word().is_some_and(|w| w.len() == 1);
    let mut signs = 0;
    let mut next = Cursor { at: c.at + 1, ..c };
    let mut span = next;
    if span.sign('-')
        && let Some(last) = span.peek_word().and_then(short_day).filter(|d| first < *d)
    {
        span.at += 1;
        return is_free(span).then(|| Weekdays::new(first..=last).map(|d| (d, span))).flatten();
    }
    loop {
        let mut more = next;
        let sign = more.sign('/')
            || more.sign(',')
            || more.sign('&')
            || more.sign('+')
            || more.word(&["and"]).is_some();
        let Some(word) = more.peek_word() else { break };
        let Some(day) = short_day(word).or_else(|| weekday(word)).filter(|d| days.iter().all(|o| o < d))
        else {
            break;
        };
        more.at += 1;
        letters |= word.len() == 1;
        signs += usize::from(sign);
        days.push(day);
        next = more;
    }
    // Two letters without a sign between them are too few: `10 m w/ frame`.
    let enough = 3 <= days.len() || (days.len() == 2 && (!letters || signs == 1));
    (enough && is_free(next)).then(|| Weekdays::new(days).map(|d| (d, next))).flatten()
}

/// `10r x 3s`, `3s x 10r`: letters for repetitions and sets.
pub(super) fn letters(mut c: Cursor<'_>) -> Option<Hit> {
    let first = c.counts()?;
    let glued = |c: &Cursor<'_>| c.peek().is_some_and(|t| !t.spaced);
    let one = if glued(&c) { c.word(&["r", "s"])? } else { return None };
    c.times();
    let second = c.counts()?;
    let two = if glued(&c) { c.word(&["r", "s"]) } else { None };
    let (sets, number) = match (one, two) {
        ("s", Some("r")) => (first, second),
        ("r", Some("s") | None) => (second, first),
        _ => return None,
    };
    hit(c, portion(None, reps(Some(sets), Some(number), Ending::Number)))
}

/// `3 s down, 1 s up` is a tempo; half of it stays as typed, and is neither a hold nor a rest.
pub(super) fn lowered(mut c: Cursor<'_>) -> Option<Hit> {
    const DOWN: [&str; 7] = ["down", "lower", "lowering", "ecc", "eccentric", "eccentrically", "lowers"];
    const UP: [&str; 6] = ["up", "lift", "lifting", "con", "concentric", "raise"];
    let seconds = |c: &mut Cursor<'_>| {
        let span = c.span().filter(|s| s.low() == s.high())?;
        u8::try_from(span.high()).ok().filter(|n| *n <= 60)
    };
    let first = seconds(&mut c)?;
    c.word(&["on", "the", "to"]);
    let down = c.word(&DOWN).is_some();
    if !down {
        c.word(&UP)?;
    }
    let mut more = c;
    let _ = more.sign(',') || more.sign('/') || more.word(&["and"]).is_some();
    if let Some(second) = seconds(&mut more)
        && more.word(if down { &UP } else { &DOWN }).is_some()
    {
        let (low, high) = if down { (first, second) } else { (second, first) };
        return hit(more, Item::Tempo(Tempo::new([low, 0, high, 0])?));
    }
    hit(c, Item::Ask)
}

/// `tempo 30X1`: a letter for "as fast as you can".
pub(super) fn tempo_letter(mut c: Cursor<'_>) -> Option<Hit> {
    let from = c.at;
    while c.peek().is_some_and(|t| c.at == from || !t.spaced)
        && matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_) | Sort::Word("x") | Sort::Sign('-')))
    {
        c.at += 1;
    }
    let some = c.all.get(from..c.at)?;
    let letter = some.iter().any(|t| t.sort == Sort::Word("x"));
    let (first, last) = (some.first()?, some.last()?);
    let length = last.end.checked_sub(first.start)?;
    (letter && (4..=7).contains(&length)).then(|| ask(c, Doubt::TempoLetter)).flatten()
}

/// `10x` and nothing more: repetitions. The cursor stands behind the sign of times.
pub(super) fn counted_only(c: Cursor<'_>, n: Counts) -> Option<Hit> {
    let before = c.at.checked_sub(1).and_then(|i| c.all.get(i))?;
    let stands = before.sort == Sort::Word("x")
        && !before.spaced
        && (c.is_done() || side_words(c).is_some() || abbreviated(c).is_some() || goes_on(c));
    stands.then(|| hit(c, portion(None, reps(None, Some(n), Ending::Number)))).flatten()
}

/// `8x hold 10`, `15x every 3-4 hrs`: a hold, or how often in hours, behind the times.
fn goes_on(c: Cursor<'_>) -> bool {
    let held = matches!(c.peek_word(), Some("hold" | "holds" | "holding")) && hold(c).is_some();
    held || matches!(c.peek_word(), Some("every" | "q" | "hourly" | "hrly")) && {
        every(c).or_else(|| hourly(c)).is_some_and(|hit| {
            matches!(hit.doubt, Some(Doubt::Hours { .. }))
                || hit.items.iter().all(|i| matches!(i, Item::AllDay(_)))
        })
    }
}

/// What may follow `3 x 10` and change its meaning: `3 x 8/10`, `3 x 10RM`.
pub(super) fn after_reps(c: Cursor<'_>, begun: Cursor<'_>, sets: Counts, reps: Counts) -> Option<Hit> {
    let mut rm = c;
    if rm.word(&["rm"]).is_some() {
        let _ = begun;
        return ask(rm, Doubt::MostReps { sets, reps });
    }
    let mut slash = c;
    let tight = slash.peek().is_some_and(|t| !t.spaced);
    if tight && slash.sign('/') && reps.low() == reps.high() {
        let high = slash.whole().filter(|h| reps.high() < *h && is_free(slash))?;
        let mut more = slash;
        if more.word(&["effort", "rpe", "exertion"]).is_none() && !is_rate(slash) {
            return ask(slash, Doubt::RangeOrEffort { sets: Some(sets), low: reps.low(), high });
        }
    }
    None
}

/// `8/10` alone: a range, or effort on a scale.
pub(super) fn slashed(mut c: Cursor<'_>) -> Option<Hit> {
    let low = c.whole().filter(|n| 2 <= *n)?;
    let tight = c.peek().is_some_and(|t| !t.spaced);
    if !tight || !c.sign('/') {
        return None;
    }
    let mut third = c;
    if let Some(second) = third.whole().filter(|n| 2 <= *n)
        && third.peek().is_some_and(|t| !t.spaced)
        && third.sign('/')
        && let Some(last) = third.whole().filter(|n| 2 <= *n && *n <= 30)
        && ((low < second && second < last) || (last < second && second < low))
    {
        while third.peek().is_some_and(|t| !t.spaced) && third.sign('/') {
            third.whole()?;
        }
        return is_free(third).then(|| ask(third, Doubt::Pyramid)).flatten();
    }
    let high = c.whole().filter(|h| low < *h && *h <= 30 && !matches!(h, 7 | 12 | 24))?;
    let plain = is_free(c) && c.peek_word().is_none_or(|w| matches!(w, "reps" | "rep"));
    plain.then(|| ask(c, Doubt::RangeOrEffort { sets: None, low, high })).flatten()
}

/// `6/52`, `1/12` alone: for so long. `2/24` alone: each so many hours, or for so many.
pub(super) fn stretch_alone(mut c: Cursor<'_>) -> Option<Hit> {
    let begun = c;
    let n = c.whole()?;
    let tight = c.peek().is_some_and(|t| !t.spaced);
    if !tight || !c.sign('/') || c.peek().is_none_or(|t| t.spaced) {
        return None;
    }
    match c.whole()? {
        24 => {
            c.word(&["ly", "hourly"]);
            (1..=12).contains(&n).then(|| ask(c, Doubt::Hours { low: n })).flatten()
        }
        52 | 12 => {
            c = begun;
            let (days, unit) = stretch(&mut c)?;
            let end = End::lasting(days, unit)?;
            noted(c, vec![Item::Until(end.clone())], Doubt::Span { text: end.to_string() })
        }
        _ => slashed(begun),
    }
}

/// The next visit, after `until`.
pub(super) fn review(c: &mut Cursor<'_>) -> bool {
    c.word(&["the", "your", "our"]);
    let next = c.word(&["next"]).is_some();
    if c.word(&["review", "reviewed"]).is_some() {
        return true;
    }
    let mut m = *c;
    let short = (m.word(&["r"]).is_some() && m.sign('/') && m.word(&["v"]).is_some()) || {
        m = *c;
        m.word(&["f"]).is_some() && m.sign('/') && m.word(&["u"]).is_some()
    };
    if short {
        *c = m;
        return true;
    }
    if c.words(&["follow", "up"]) || c.word(&["rv", "fu", "followup"]).is_some() {
        return true;
    }
    next && c.word(&["visit", "appt", "appointment", "session", "apt"]).is_some()
}

/// `/side`, `p/s`, `ea` at the end, `(B)`.
pub(super) fn each_side(c: Cursor<'_>) -> Option<(Item, Cursor<'_>)> {
    fn each(c: Cursor<'_>) -> (Item, Cursor<'_>) {
        (Item::Sided(Sided::EachSide), c)
    }
    let mut m = c;
    if m.word(&["p"]).is_some() && m.sign('/') && m.word(&["s"]).is_some() && is_free(m) {
        return Some(each(m));
    }
    m = c;
    // `10 of each` counts things, not sides.
    let of = c.at.checked_sub(1).and_then(|i| c.all.get(i)).is_some_and(|t| t.sort == Sort::Word("of"));
    if !of && m.word(&["ea", "each"]).is_some() {
        m.sign('.');
        let ends = m.is_done() || matches!(m.peek().map(|t| t.sort), Some(Sort::Sign(',' | ';' | ')')));
        // `10 each hourly`, `3 x 10 each 2/day`; `each day` says how often.
        let rate_ahead = || rate(m).or_else(|| abbreviated(m)).or_else(|| hourly(m)).or_else(|| per_hour(m));
        return (ends || rate_ahead().is_some()).then(|| each(m));
    }
    m = c;
    let bracket = m.sign('(') && m.word(&["b"]).is_some() && m.sign(')');
    if bracket {
        return Some((Item::Sided(Sided::Both), m));
    }
    m = c;
    let before = c.at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort);
    let dosed = matches!(before, Some(Sort::Number(_) | Sort::Word("reps" | "rep" | "s" | "sec" | "secs")));
    if dosed && m.peek().is_some_and(|t| t.spaced) && m.word(&["b"]).is_some() && m.is_done() {
        return Some((Item::Sided(Sided::Both), m));
    }
    None
}

/// `L > R`, `(L)>(R)`: more on one side, but not how much.
pub(super) fn more_on_one(mut c: Cursor<'_>) -> Option<Hit> {
    fn side(c: &mut Cursor<'_>) -> Option<bool> {
        let bracket = c.sign('(');
        let word = c.word(&["r", "rt", "right", "l", "lt", "left"])?;
        if bracket && !c.sign(')') {
            return None;
        }
        Some(word.starts_with('r'))
    }
    let first = side(&mut c)?;
    if !c.sign('>') && !c.sign('<') {
        return None;
    }
    let second = side(&mut c)?;
    (first != second).then(|| ask(c, Doubt::MoreOnOneSide)).flatten()
}

/// `-> 3 x 12` behind a dose: what comes later, without saying when.
pub(super) fn next(mut c: Cursor<'_>) -> Option<Hit> {
    let numbered = |c: Cursor<'_>| c.all.iter().skip(c.at).any(|t| matches!(t.sort, Sort::Number(_)));
    // `then 3/week`, `aim for 3 x 8`: another amount in a piece of its own, after what is done now.
    let first = c.all.first().is_some_and(|t| 0 < t.start);
    let mut m = c;
    if m.at == 0
        && first
        && (m.word(&["then"]).is_some()
            || m.words(&["aim", "for"])
            || m.words(&["build", "up", "to"])
            || m.words(&["work", "up", "to"])
            || m.words(&["progress", "to"]))
        && numbered(m)
    {
        m.at = m.all.len();
        return ask(m, Doubt::Next);
    }
    let later =
        0 < c.at && c.signs("->") && c.all.iter().skip(c.at).any(|t| matches!(t.sort, Sort::Number(_)));
    later.then_some(())?;
    let dosed = c.all.iter().take(c.at).any(|t| matches!(t.sort, Sort::Number(_)));
    c.at = c.all.len();
    dosed.then(|| ask(c, Doubt::Next)).flatten()
}

/// `+/- 2 kg`: with or without, as the writer typed it.
pub(super) fn perhaps(mut c: Cursor<'_>) -> Option<Hit> {
    if !c.signs("+/-") && !c.sign('±') {
        return None;
    }
    c.at = c.all.len();
    hit(c, Item::Ask)
}

/// `6" step`: inches, not seconds.
pub(super) fn inches(mut c: Cursor<'_>) -> Option<Hit> {
    let behind = c.at.checked_sub(1).and_then(|at| c.all.get(at)).map(|t| t.sort);
    let n = c.hundredths()?;
    // `step ups 6 in R lead`
    let mut worded = c;
    let stepped =
        matches!(behind, Some(Sort::Word("ups" | "downs" | "up" | "down" | "step" | "box" | "stair")));
    let inches = worded.word(&["in"]).is_some();
    let leads = || {
        let mut m = worded;
        sides::one_side(&mut m);
        m.word(&["lead", "leading", "high", "height"]).is_some() || m.prop()
    };
    if inches && (stepped || leads()) {
        let cm = u32::try_from(n.checked_mul(254)? / 10_000).ok().filter(|cm| (1..=500).contains(cm))?;
        worded.word(&PROPS);
        return ask(worded, Doubt::Inches { cm, prop: "step".to_string(), foot: false });
    }
    let inch = c.sign('"') || c.signs("''");
    let foot = !inch && c.sign('\'');
    if !(inch || foot) || !c.prop() {
        return None;
    }
    c.word(&["high", "low", "from"]);
    c.word(&["the", "a"]);
    let prop = c.word(&PROPS)?;
    // An inch is 2.54 cm by definition.
    let cm = n.checked_mul(if inch { 254 } else { 254 * 12 })? / 10_000;
    let cm = u32::try_from(cm).ok().filter(|cm| (1..=500).contains(cm))?;
    ask(c, Doubt::Inches { cm, prop: prop.to_string(), foot })
}
