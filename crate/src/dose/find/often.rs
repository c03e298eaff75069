//! How often: rates, abbreviations, weekdays, as needed.

use super::*;

pub fn often(c: Cursor<'_>) -> Option<Hit> {
    rate(c)
        .or_else(|| trade::often(c))
        .or_else(|| abbreviated(c))
        .or_else(|| sevenths(c))
        .or_else(|| every(c))
        .or_else(|| hourly(c))
        .or_else(|| per_hour(c))
        .or_else(|| weekdays(c))
        .or_else(|| as_needed(c))
}

pub(super) fn daily(n: Counts) -> Option<Vec<Item>> {
    (n.high() <= 24).then(|| vec![Item::PerDay(n)])
}

/// More than so many times a day are repetitions.
const MOST_A_DAY: u32 = 12;

/// `2/day`, `3 x a week`, `x3 daily`, `3 days a week`, `twice daily`, `daily`, `weekly`.
pub(super) fn rate(mut c: Cursor<'_>) -> Option<Hit> {
    if c.word(&["daily", "everyday"]).is_some() {
        return hit(c, Item::Days(Days::Daily));
    }
    if c.word(&["weekly", "wkly"]).is_some() {
        return hit(c, Item::Days(Days::PerWeek(Counts::ONE)));
    }
    let mut plain = c;
    if let Some(unit) = plain.word(&["pd", "pw"]) {
        return hit(plain, Item::Days(if unit == "pd" { Days::Daily } else { Days::PerWeek(Counts::ONE) }));
    }
    // `20 min/day`
    let slash = plain.sign('/');
    if slash && plain.word(&["d", "w"]).is_some_and(|_| !is_free(plain)) {
        return None;
    }
    if slash {
        plain = c;
        plain.sign('/');
        return match plain.word(&["day", "d", "week", "wk", "w"])? {
            "day" | "d" => hit(plain, Item::Days(Days::Daily)),
            _ => hit(plain, Item::Days(Days::PerWeek(Counts::ONE))),
        };
    }
    if plain.word(&["a", "per"]).is_some() {
        return match plain.word(&["day", "week", "wk"])? {
            "day" => hit(plain, Item::Days(Days::Daily)),
            _ => hit(plain, Item::Days(Days::PerWeek(Counts::ONE))),
        };
    }
    let adverb = c.word(&["once", "twice", "thrice"]);
    let lead = adverb.is_none() && c.times();
    let begun = c;
    let n = match adverb {
        Some("once") => Counts::ONE,
        Some("twice") => Counts::one(2)?,
        Some(_) => Counts::one(3)?,
        None => c.counts()?,
    };
    // `x3 day`: so many on one day.
    let mut a_day = c;
    if lead && 1 < n.low() && a_day.word(&["day"]).is_some() && is_free(a_day) {
        return hits(a_day, daily(n)?);
    }
    let times = c.times() | c.word(&["times", "time", "sessions", "goes"]).is_some();
    let days = !times && c.word(&["days", "d", "nights"]).is_some();
    c.sign('.');
    let counted = times || days || lead || adverb.is_some();
    let over = c.sign('/')
        | c.word(&["a", "per"]).is_some()
        | (counted && c.word(&["each", "every", "in"]).is_some());
    if over {
        c.word(&["a", "the"]);
    }
    let short = !over && letter_unit(&mut c);
    let unit = if short {
        c.at.checked_sub(1).and_then(|i| c.all.get(i)).map_or("", |t| match t.sort {
            Sort::Word("pw" | "w") => "week",
            _ => "day",
        })
    } else {
        c.word(&["day", "d", "daily", "week", "wk", "w", "weekly", "wkly", "fortnight"])?
    };
    c.sign('.');
    let over = over || short;
    if unit == "fortnight" {
        return (n == Counts::ONE && over).then(|| hit(c, Item::Days(Days::Every(14)))).flatten();
    }
    // `x20 daily`: nobody does it so many times a day (common practice, no source).
    if lead && !over && !times && !days && unit == "daily" && MOST_A_DAY < n.low() {
        let reps = work::portion(None, work::reps(None, Some(n), Ending::Number));
        return hits(c, vec![reps, Item::Days(Days::Daily)]);
    }
    // `10x daily` may count repetitions.
    if lead && !over && !times && !days && unit == "daily" && 6 <= n.low() {
        return ask(c, Doubt::TimesOrReps { n });
    }
    let glued = begun.at + 1 < c.at && adverb.is_none() && !lead && !over && unit == "daily" && times;
    if glued && 6 <= n.low() && c.all.get(begun.at + 1).is_some_and(|t| t.sort == Sort::Word("x")) {
        return ask(c, Doubt::TimesOrReps { n });
    }
    let week = unit.starts_with('w');
    let marked =
        adverb.is_some() || lead || times || over || (days && week) || matches!(unit, "weekly" | "wkly");
    if !marked || (days && !week) {
        return None;
    }
    // `3 x d` or `3/w` stuck to more letters is something else; a bare letter must stand free.
    if unit.len() == 1 && !is_free(c) {
        return None;
    }
    if week {
        if 7 < n.high() {
            return ask(c, Doubt::MoreThanDaily { n });
        }
        return hit(c, Item::Days(Days::PerWeek(n)));
    }
    hits(c, daily(n)?)
}

/// `pd`, `pw`, `p/d`, `p/w` behind a number.
fn letter_unit(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let hit = m.word(&["pd", "pw"]).is_some()
        || (m.word(&["p"]).is_some() && m.sign('/') && m.word(&["d", "w"]).is_some() && is_free(m));
    if hit {
        *c = m;
    }
    hit
}

pub(super) fn abbreviated(mut c: Cursor<'_>) -> Option<Hit> {
    let n = match c.peek_word()? {
        "od" | "qd" => 1,
        "bd" | "bid" => 2,
        "tds" | "tid" => 3,
        "qds" | "qid" => 4,
        "eod" | "qod" => {
            c.at += 1;
            return ask(c, Doubt::EveryOtherOrEndOfDay);
        }
        "mwf" => {
            c.at += 1;
            return hit(c, Item::Days(Days::On(Weekdays::new([0, 2, 4])?)));
        }
        "nightly" => {
            c.at += 1;
            return hits(c, vec![Item::Days(Days::Daily), Item::Moment(Moment::At(Part::Night))]);
        }
        _ => return None,
    };
    c.at += 1;
    if n == 1 {
        return hit(c, Item::Days(Days::Daily));
    }
    hits(c, daily(Counts::one(n)?)?)
}

/// `5/7`: five days a week.
pub(super) fn sevenths(mut c: Cursor<'_>) -> Option<Hit> {
    let n = c.whole()?;
    let tight = c.peek().is_some_and(|t| !t.spaced);
    if !tight || !c.sign('/') || c.whole() != Some(7) || !(1..=7).contains(&n) {
        return None;
    }
    let days = if n == 7 { Days::Daily } else { Days::PerWeek(Counts::one(n)?) };
    c.word(&["days"]);
    noted(c, vec![Item::Days(days)], Doubt::Sevenths { n })
}

pub fn every(mut c: Cursor<'_>) -> Option<Hit> {
    if c.word(&["alternate", "alternating", "alt"]).is_some() {
        c.sign('.');
        c.word(&["days", "day", "daily"])?;
        return hit(c, Item::Days(Days::Every(2)));
    }
    // `e/o day`
    let mut other = c;
    let letters = other.word(&["e"]).is_some() && other.sign('/') && other.word(&["o"]).is_some();
    if letters && other.word(&["day", "d"]).is_some() {
        return hit(other, Item::Days(Days::Every(2)));
    }
    if c.word(&["qh", "qhr"]).is_some() {
        return hit(c, Item::AllDay(Often::Hours(1)));
    }
    c.word(&["every", "each", "q", "ev"])?;
    // Work is never so many minutes for being done every so many.
    let mut minutes = c;
    if minutes.whole().is_some()
        && minutes.word(&["min", "mins", "minute", "minutes"]).is_some()
        && matches!(
            c.at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort),
            Some(Sort::Word("every" | "ev"))
        )
    {
        return ask(minutes, Doubt::EveryMinutes);
    }
    // `q 30` has no unit, and is no number of repetitions.
    let mut bare = c;
    let q = c.at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort) == Some(Sort::Word("q"));
    if q && bare.whole().is_some_and(|n| 12 < n) && bare.is_done_or_parted() {
        return ask(bare, Doubt::EveryMinutes);
    }
    if let Some(found) = trade::hours_range(c) {
        return Some(found);
    }
    // `every couple of hours`
    let mut couple = c;
    if couple.word(&["couple"]).is_some() {
        couple.word(&["of"]);
        couple.word(&["hours", "hrs", "hour"])?;
        return hit(couple, Item::AllDay(Often::Hours(2)));
    }
    let mut other = c;
    let nth = match other.word(&["other", "second", "third", "fourth", "day", "hour", "hr", "waking", "week"])
    {
        Some("other" | "second") => Some(2),
        Some("third") => Some(3),
        Some("fourth") => Some(4),
        Some("day") => return hit(other, Item::Days(Days::Daily)),
        Some("week") => return hit(other, Item::Days(Days::PerWeek(Counts::ONE))),
        Some("hour" | "hr") => {
            trade::awake(&mut other);
            return hit(other, Item::AllDay(Often::Hours(1)));
        }
        Some("waking") => {
            other.word(&["hour", "hr", "hours", "hrs"])?;
            return hit(other, Item::AllDay(Often::Hours(1)));
        }
        _ => None,
    };
    if let Some(n) = nth {
        if other.word(&["day", "days"]).is_some() {
            return hit(other, Item::Days(Days::Every(n)));
        }
        if other.word(&["hour", "hours"]).is_some() {
            return hit(other, Item::AllDay(Often::Hours(n)));
        }
        return None;
    }
    if c.word(&["fortnight"]).is_some() {
        return hit(c, Item::Days(Days::Every(14)));
    }
    let mut number = c;
    if let Some(n) = number.whole() {
        let n = u8::try_from(n).ok()?;
        let mut weeks = number;
        if (1..=4).contains(&n) && weeks.word(&["weeks", "wks", "week", "wk"]).is_some() {
            let days = if n == 1 { Days::PerWeek(Counts::ONE) } else { Days::Every(7 * n) };
            return hit(weeks, Item::Days(days));
        }
        number.word(&["st", "nd", "rd", "th"]);
        let (hours, days) = if number.sign('/') {
            match number.whole()? {
                24 => (true, false),
                7 => (false, true),
                _ => return None,
            }
        } else {
            number.sign('-');
            let w =
                number.word(&["day", "days", "d", "hour", "hours", "hr", "hrs", "h", "hourly", "waking"])?;
            if w == "waking" {
                number.word(&["hours"])?;
            }
            trade::awake(&mut number);
            (!w.starts_with('d'), w.starts_with('d'))
        };
        if days && (1..=31).contains(&n) {
            return hit(number, Item::Days(if n == 1 { Days::Daily } else { Days::Every(n) }));
        }
        if hours && (1..=12).contains(&n) {
            return hit(number, Item::AllDay(Often::Hours(n)));
        }
        return None;
    }
    if let Some((part, next)) = part(c) {
        return hits(next, vec![Item::Days(Days::Daily), Item::Moment(Moment::At(part))]);
    }
    weekdays(c)
}

/// So many an hour: `20/hr`, `10 reps per hour`. Once or twice an hour says how often and no number of repetitions.
pub(super) fn per_hour(mut c: Cursor<'_>) -> Option<Hit> {
    let n = c.counts()?;
    c.times();
    c.word(&["reps", "rep", "repetitions", "times"]);
    if c.word(&["hourly", "hrly"]).is_none() {
        if !c.sign('/') {
            c.word(&["per", "an", "a", "each", "every"])?;
        }
        c.word(&["hr", "hour", "hrs"])?;
    }
    trade::awake(&mut c);
    if n == Counts::ONE {
        return hit(c, Item::AllDay(Often::Hours(1)));
    }
    let reps = Work::Repetitions { sets: None, reps: Some(n), ending: Ending::Number };
    let work = Portion { manner: None, work: reps };
    (2 < n.low()).then(|| hits(c, vec![Item::Work(work), Item::AllDay(Often::Hours(1))])).flatten()
}

pub(super) fn hourly(mut c: Cursor<'_>) -> Option<Hit> {
    if c.words(&["little", "and", "often"]) || c.words(&["little", "often"]) {
        return hit(c, Item::AllDay(Often::LittleAndOften));
    }
    let mut amp = c;
    if amp.word(&["little"]).is_some()
        && (amp.sign('&') || amp.sign('+') || amp.sign('/'))
        && amp.word(&["often"]).is_some()
    {
        return hit(amp, Item::AllDay(Often::LittleAndOften));
    }
    if c.word(&["hourly", "hrly"]).is_some() {
        trade::awake(&mut c);
        return hit(c, Item::AllDay(Often::Hours(1)));
    }
    if let Some(found) = trade::hours_range(c) {
        return Some(found);
    }
    let n = u8::try_from(c.whole()?).ok().filter(|n| (1..=12).contains(n))?;
    // `10 hourly` counts what is done each hour; nothing is done every ten hours.
    let joined = c.sign('-') || c.peek().is_some_and(|t| !t.spaced) || n <= 6;
    c.word(&["hourly", "hrly"]).filter(|_| joined)?;
    trade::awake(&mut c);
    hit(c, Item::AllDay(Often::Hours(n)))
}

/// The number of a weekday's name; Monday is 0.
pub fn weekday(word: &str) -> Option<u8> {
    Some(match word {
        "mon" | "monday" | "mondays" | "mons" => 0,
        "tue" | "tues" | "tuesday" | "tuesdays" => 1,
        "wed" | "weds" | "wednesday" | "wednesdays" => 2,
        "thu" | "thur" | "thurs" | "thursday" | "thursdays" => 3,
        "fri" | "friday" | "fridays" => 4,
        "sat" | "saturday" | "saturdays" => 5,
        "sun" | "sunday" | "sundays" => 6,
        _ => return None,
    })
}

/// Whether a word is a weekday's name, short ones and letters included.
pub fn is_day(word: &str) -> bool {
    weekday(word).is_some() || trade::short_day(word).is_some()
}

/// Weekdays at the cursor, with ranges; commas within it are passed over.
pub fn weekday_set(c: &mut Cursor<'_>) -> Option<Weekdays> {
    if c.word(&["weekdays"]).is_some() {
        return Weekdays::new(0..5);
    }
    if c.word(&["weekends", "weekend"]).is_some() {
        return Weekdays::new([5, 6]);
    }
    if c.word(&["daily"]).is_some() || c.words(&["every", "day"]) || c.words(&["each", "day"]) {
        return Some(Weekdays::ALL);
    }
    if let Some((days, next)) = trade::short_days(*c) {
        *c = next;
        return Some(days);
    }
    let mut all: Vec<u8> = Vec::new();
    let mut more = *c;
    while let Some(first) = more.peek_word().and_then(weekday) {
        more.at += 1;
        let mut to = more;
        let dash = to.sign('-') || to.word(&["to", "till", "until"]).is_some();
        match to.peek_word().and_then(weekday).filter(|_| dash) {
            Some(last) => {
                to.at += 1;
                more = to;
                let count = (last + 7 - first) % 7;
                all.extend((0..=count).map(|i| (first + i) % 7));
            }
            None => all.push(first),
        }
        // `Mon-Fri1`, `Mon-holiday`: what sticks to it makes it another word.
        let goes_on =
            |c: &Cursor<'_>| matches!(c.peek(), Some(t) if !t.spaced && !matches!(t.sort, Sort::Sign(_)));
        let mut dash = more;
        if goes_on(&more) || (more.peek().is_some_and(|t| !t.spaced) && dash.sign('-') && goes_on(&dash)) {
            return None;
        }
        *c = more;
        let joined =
            more.sign(',') | more.sign('/') | more.sign('&') | more.sign('+') | more.word(&["and"]).is_some();
        let _ = joined;
    }
    Weekdays::new(all)
}

pub fn weekdays(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["on"]);
    if matches!(c.peek_word(), Some("daily" | "every" | "each")) {
        return None;
    }
    let days = weekday_set(&mut c)?;
    if c.word(&["off"]).is_some() {
        return hit(c, Item::DaysOff(days));
    }
    // `Sat only with daughter` says more than the day.
    c.only();
    hit(c, Item::Days(Days::On(days)))
}

/// `as needed`, `PRN`, with its cap; and a cap alone.
pub fn as_needed(mut c: Cursor<'_>) -> Option<Hit> {
    let phrases: [&[&str]; 10] = [
        &["as", "needed"],
        &["as", "required"],
        &["when", "needed"],
        &["when", "required"],
        &["if", "needed"],
        &["if", "required"],
        &["as", "and", "when", "needed"],
        &["as", "and", "when"],
        &["prn"],
        &["sos"],
    ];
    if phrases.iter().any(|p| c.words(p)) {
        let mut cap = c;
        cap.sign('(');
        if let Some(n) = day_cap(&mut cap) {
            cap.sign(')');
            return hit(cap, Item::AllDay(Often::AsNeeded { at_most: Some(n) }));
        }
        return hit(c, Item::AllDay(Often::AsNeeded { at_most: None }));
    }
    if let Some(n) = day_cap(&mut c) {
        return hit(c, Item::DayCap(n));
    }
    // `up to 20` is work of its own: the patient chooses.
    if c.peek_word() != Some("up") && at_most(&mut c) == Some(false) {
        let n = c.counts()?;
        c.word(&REPS);
        let signed = c.peek().is_some_and(|t| matches!(t.sort, Sort::Sign('"' | '\'' | '/')));
        let measured = signed || unit::of(&mut c.clone(), &unit::MEASURES).is_some();
        return (!measured).then(|| hit(c, Item::Cap(n))).flatten();
    }
    None
}

pub(super) fn day_cap(c: &mut Cursor<'_>) -> Option<u8> {
    let mut m = *c;
    if at_most(&mut m)? {
        return None;
    }
    let n = u8::try_from(m.whole()?).ok().filter(|n| (1..=48).contains(n))?;
    let _ = m.times() | m.word(&["times", "doses", "goes"]).is_some();
    let over = m.sign('/') | m.word(&["a", "per", "in", "each"]).is_some();
    let unit = m.word(&["day", "daily", "d"]).is_some() || {
        let mut hours = m;
        let full = hours.whole() == Some(24) && hours.word(&["h", "hours", "hrs"]).is_some();
        if full {
            m = hours;
        }
        full
    };
    let _ = over;
    unit.then_some(())?;
    *c = m;
    Some(n)
}
