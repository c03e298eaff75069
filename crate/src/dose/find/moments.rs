//! Moments of the day, and ends.

use super::*;
use crate::language::token::Token;

/// A part of the day at the cursor.
pub fn part(mut c: Cursor<'_>) -> Option<(Part, Cursor<'_>)> {
    let part = match c.peek_word()? {
        "morning" | "mornings" | "am" | "mane" => Part::Morning,
        "midday" | "noon" | "lunchtime" | "middays" => Part::Midday,
        "afternoon" | "afternoons" => Part::Afternoon,
        "evening" | "evenings" | "eve" => Part::Evening,
        "night" | "nights" | "nocte" | "noct" | "bedtime" => Part::Night,
        _ => return None,
    };
    c.at += 1;
    Some((part, c))
}

pub(super) fn moment(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    // `am & pm`: beside the morning it is the evening.
    let mut both = c;
    if both.word(&["am"]).is_some() {
        let _ = both.sign('&')
            || both.sign('+')
            || both.sign('/')
            || both.sign(',')
            || both.word(&["and"]).is_some();
        if both.word(&["pm"]).is_some() {
            return hits(
                both,
                vec![Item::Moment(Moment::At(Part::Morning)), Item::Moment(Moment::At(Part::Evening))],
            );
        }
    }
    // At the start of a line they are letters of an exercise.
    if (0 < c.at || c.all.len() == 1) && c.word(&["hs"]).is_some() {
        return hit(c, Item::Moment(Moment::At(Part::Night)));
    }
    if let Some((part, next)) = part(c) {
        return hit(next, Item::Moment(Moment::At(part)));
    }
    if c.word(&["qhs"]).is_some() {
        return hits(c, vec![Item::Days(Days::Daily), Item::Moment(Moment::At(Part::Night))]);
    }
    if c.word(&["pm"]).is_some() {
        return ask(c, Doubt::AfternoonOrEvening);
    }
    if let Some(found) = beside(c, source) {
        return Some(found);
    }
    let begun = c;
    let first = c.peek()?;
    let before = match c.word(&["before", "after"]) {
        Some(word) => word == "before",
        // `post ex prn`
        None => {
            let before = c.word(&["pre", "post"])? == "pre";
            c.sign('-');
            const WHAT: [&str; 16] = [
                "ex",
                "exs",
                "exercise",
                "exercises",
                "game",
                "match",
                "training",
                "gym",
                "session",
                "run",
                "walk",
                "work",
                "shift",
                "meal",
                "sport",
                "activity",
            ];
            c.clone().word(&WHAT)?;
            before
        }
    };
    c.word(&["the"]);
    if let Some((part, mut next)) = part(c) {
        next.word(&["session", "exercises", "set"]);
        if next.is_done() {
            return hit(next, Item::Moment(if before { Moment::Before(part) } else { Moment::After(part) }));
        }
    }
    if c.is_done() || begun.at != 0 && matches!(c.peek_word(), Some("each" | "sets" | "set")) {
        return None;
    }
    // `after painkillers daily Mon-Fri`: how often ends the moment.
    let mut to = c.all.len();
    while let Some(at) = (c.at + 1..to).find(|at| rate_to(c.all, *at, to)) {
        to = at;
    }
    c.at = to;
    let last = c.all.get(c.at.checked_sub(1)?)?;
    hit(c, Item::Moment(Moment::Words(source.get(first.start..last.end)?.to_string())))
}

/// Whether the tokens `at..to` say how often, and no more.
fn rate_to(all: &[Token<'_>], at: usize, to: usize) -> bool {
    let rest = Cursor { all: all.get(..to).unwrap_or(&[]), at };
    often(rest).or_else(|| as_needed(rest)).is_some_and(|hit| {
        let rate = |i: &Item| matches!(i, Item::Days(_) | Item::PerDay(_) | Item::AllDay(_));
        hit.doubt.is_none() && hit.next == to && hit.items.iter().all(rate)
    })
}

/// `in 3/52 if pain free`: when something else begins, never how long this lasts. To the end of the piece it stays as typed.
pub(super) fn later_on(mut c: Cursor<'_>) -> Option<Hit> {
    if c.at == 0 {
        return None;
    }
    c.word(&["in"])?;
    c.word(&["about", "another"]);
    let (_, unit) = stretch(&mut c)?;
    // `2 in 7 days` is how often.
    if unit == 1 && c.peek_word() != Some("time") {
        return None;
    }
    c.at = c.all.len();
    hit(c, Item::Ask)
}

/// Takes a time of day by the clock: `10am`, `6.30 pm`, `9 o'clock`.
fn oclock(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let hour = match m.hundredths() {
        Some(n) if (100..1300).contains(&n) && n % 100 < 60 => n,
        _ => return false,
    };
    if hour.is_multiple_of(100) && m.sign(':') && m.whole().is_none_or(|minutes| 59 < minutes) {
        return false;
    }
    if m.word(&["am", "pm"]).is_none() {
        return false;
    }
    // `10 am & pm`: ten, in the morning and in the evening.
    let both = m.clone().sign('&') || m.clone().sign('/') || m.clone().sign('+');
    if both || m.clone().word(&["and", "pm", "am"]).is_some() {
        return false;
    }
    *c = m;
    true
}

/// `before 10am`, `by 9 pm`, `at 7am`: a time of day counts nothing.
pub fn clock(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let first = c.peek()?;
    let said = c.word(&["before", "after", "by", "around", "at"])?;
    let tight = c.all.get(c.at + 1).is_some_and(|t| !t.spaced);
    if said == "at" && !tight || !oclock(&mut c) {
        return None;
    }
    let last = c.all.get(c.at.checked_sub(1)?)?;
    hit(c, Item::Moment(Moment::Words(source.get(first.start..last.end)?.to_string())))
}

/// `30 min before bed`, `1 hr post meal`, where it is said already how long or how often: when, never how long. Behind `do`
/// nothing else can be meant.
pub fn apart(mut c: Cursor<'_>, source: &str, dosed: bool) -> Option<Hit> {
    let begun = c;
    let first = c.peek()?;
    c.counts()?;
    let hours = c.word(&["hr", "hrs", "hour", "hours", "h"]).is_some();
    if !hours {
        c.word(&["min", "mins", "minute", "minutes"])?;
    }
    let mut m = c;
    let said = m.word(&["before", "after", "post", "pre", "prior", "following"])?;
    if said == "prior" {
        m.word(&["to"])?;
    }
    m.sign('-');
    // `30 min after each set` is a rest.
    if m.is_done() || matches!(m.peek_word(), Some("each" | "every" | "set" | "sets")) {
        return None;
    }
    let before = begun.all.get(..begun.at)?;
    let done = matches!(before, [.., t] if t.sort == Sort::Word("do"));
    let worked = || {
        (0..begun.at).any(|at| {
            let numbered = before
                .get(at)
                .is_some_and(|t| t.spaced && matches!(t.sort, Sort::Number(_) | Sort::Word("x")));
            numbered && plain_work(Cursor { all: before, at }, source).is_some()
        })
    };
    if !done && !dosed && !worked() {
        return None;
    }
    // How often may stand behind it: `30 min before bed daily`.
    let rate = (m.at + 1..m.all.len()).find(|at| {
        let rest = Cursor { all: m.all, at: *at };
        often(rest).is_some_and(|hit| hit.doubt.is_none() && hit.next == m.all.len())
    });
    m.at = rate.unwrap_or(m.all.len());
    let last = m.all.get(m.at.checked_sub(1)?)?;
    hit(m, Item::Moment(Moment::Words(source.get(first.start..last.end)?.to_string())))
}

/// Who has to be there, and what keeps apart: `with someone`, `only with daughter`, `not with lunge`, `not on the same
/// day as lunge`, `not in the first hour up`. Kept word for word to the end of the piece.
fn beside(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let first = c.peek()?;
    let alone = c.words(&["with", "someone"]) || c.words(&["with", "somebody"]);
    let starts: [&[&str]; 8] = [
        &["only", "with"],
        &["not", "with"],
        &["not", "on", "the", "same", "day", "as"],
        &["not", "the", "same", "day", "as"],
        &["not", "in", "the", "first"],
        &["not", "first", "thing"],
        &["not", "before"],
        &["not", "after"],
    ];
    let said = alone || starts.iter().any(|start| c.words(start));
    // `only with red band` is a load.
    if !said || load(c, source).is_some() {
        return None;
    }
    let thing =
        source.get(first.start..).is_some_and(|s| s.to_ascii_lowercase().starts_with("not first thing"));
    if c.is_done() && !alone && !thing {
        return None;
    }
    let last = c.all.last()?;
    c.at = c.all.len();
    hit(c, Item::Moment(Moment::Words(source.get(first.start..last.end)?.to_string())))
}

/// Weeks, days or months: `2 weeks`, `2/52`, `3/7`, `6/12`; in days and the unit's days.
pub(super) fn stretch(c: &mut Cursor<'_>) -> Option<(u32, u32)> {
    let mut m = *c;
    let n = m.whole()?;
    m.sign('-');
    let unit = if m.sign('/') {
        match m.whole()? {
            // `24/7`: day and night.
            7 if n == 24 => return None,
            7 => 1,
            52 => 7,
            12 => 30,
            _ => return None,
        }
    } else {
        match m.peek_word()? {
            "day" | "days" => 1,
            "week" | "weeks" | "wk" | "wks" => 7,
            "month" | "months" => 30,
            _ => return None,
        }
    };
    // `4/52 weeks`; but the days of `6/52 days only` and `4/52 day + night` are another matter.
    let again: &[&str] = match unit {
        1 => &["day", "days"],
        7 => &["week", "weeks", "wk", "wks"],
        _ => &["month", "months"],
    };
    m.word(again);
    // A month is a twelfth of a year: 6/12 is 183 days.
    let days = if unit == 30 { (n * 365).div_ceil(12) } else { n.checked_mul(unit)? };
    if days == 0 || 1500 < days {
        return None;
    }
    *c = m;
    Some((days, unit))
}

pub(super) fn event(c: &mut Cursor<'_>) -> Option<Event> {
    let mut m = *c;
    if m.word(&["postop"]).is_some() {
        *c = m;
        return Some(Event::Surgery);
    }
    m.word(&["after", "post", "from", "since", "following"])?;
    m.sign('-');
    m.word(&["the", "my", "date"]);
    m.word(&["of"]);
    let event = match m.peek_word()? {
        "surgery" | "op" | "operation" | "repair" | "replacement" => Event::Surgery,
        "injury" | "accident" | "fracture" => Event::Injury,
        _ => return None,
    };
    m.at += 1;
    m.sign('.');
    *c = m;
    Some(event)
}

/// `6/52`, without a word before it.
pub fn bare_stretch(c: Cursor<'_>) -> Option<Hit> {
    let mut slash = c;
    slash.whole()?;
    let sevenths = slash.peek().is_some_and(|t| !t.spaced && t.sort == Sort::Sign('/'));
    if sevenths { lasting(c) } else { None }
}

/// Weeks or days that something lasts, from the start or, where it says so, from surgery or injury.
fn lasting(mut c: Cursor<'_>) -> Option<Hit> {
    let (days, unit) = stretch(&mut c)?;
    if let Some(event) = event(&mut c)
        && days.is_multiple_of(7)
    {
        return hit(c, Item::Until(End::After { weeks: u8::try_from(days / 7).ok()?, event }));
    }
    hit(c, Item::Until(End::lasting(days, unit)?))
}

/// Until when a limit, a weight or a rule holds: also a bare stretch (`6/52`), and a day without its year.
pub fn ends(c: Cursor<'_>, source: &str) -> Option<Hit> {
    super::span::until_yearless(c)
        .or_else(|| until_visit(c, source))
        .or_else(|| until(c, source))
        .or_else(|| bare_stretch(c))
}

/// `until fracture clinic 14/12`: words up to a day, which is the end.
fn until_visit(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    c.word(&["until", "till", "til", "untill"])?;
    let first = c.peek()?;
    let mut at = c.at;
    c.word(&["the"]);
    // `until 14/12`, `until week 6`, `until 6/52 post op` have no visit.
    let opens = c.peek_word().is_none_or(|w| matches!(w, "week" | "wk" | "w" | "end"));
    if opens && !matches!(c.peek().map(|t| t.sort), Some(Sort::Sign('#'))) {
        return None;
    }
    loop {
        let token = c.all.get(at)?;
        let before = at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort);
        match token.sort {
            Sort::Sign(',' | ';' | '(') | Sort::Word("then" | "but") => return None,
            Sort::Sign('.') if !matches!(before, Some(Sort::Word(w)) if w.len() <= 4) => return None,
            _ => {}
        }
        let mut m = Cursor { at, ..c };
        if token.spaced && super::span::day_at(&mut m).is_some() {
            let last = m.at.checked_sub(1).and_then(|i| m.all.get(i))?;
            return hit(m, Item::Until(End::Words(source.get(first.start..last.end)?.to_string())));
        }
        at += 1;
    }
}

/// An end at the cursor; words that are not understood take the rest of the piece.
pub fn until(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let begun = c;
    // `x 6/52` is for six weeks.
    if c.times() || c.word(&["for"]).is_some() {
        // `x3 day`: so many on one day.
        let mut days = c;
        let weekly = days.counts().is_some() && days.word(&["days", "day"]).is_some() && {
            let over = days.sign('/') || days.word(&["a", "per", "each"]).is_some();
            over && days.word(&["week", "wk", "w"]).is_some()
        };
        if weekly {
            return None;
        }
        let mut a_day = c;
        let many = a_day.whole().is_some_and(|n| 1 < n);
        return if many && a_day.word(&["day"]).is_some() { None } else { lasting(c) };
    }
    if ending(&mut begun.clone()).is_some() {
        return None;
    }
    let said = c.word(&["until", "till", "til", "untill"]).is_some();
    if !said {
        let mut up = c;
        if up.word(&["up"]).is_some() {
            c = up;
        }
        c.word(&["to"])?;
    }
    let tail = c;
    c.word(&["the"]);
    c.words(&["end", "of"]);
    let mut week = c;
    if week.word(&["week", "wk", "w"]).is_some()
        && let Some(n) = week.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| (1..=104).contains(n))
    {
        if let Some(event) = event(&mut week) {
            return hit(week, Item::Until(End::After { weeks: n, event }));
        }
        return hit(week, Item::Until(End::Week(n)));
    }
    let mut after = c;
    if let Some((days, _)) = stretch(&mut after)
        && let (Some(event), true) = (event(&mut after), days.is_multiple_of(7))
    {
        return hit(after, Item::Until(End::After { weeks: u8::try_from(days / 7).ok()?, event }));
    }
    if said && let Some((days, 7)) = stretch(&mut c.clone()) {
        let mut alone = c;
        stretch(&mut alone);
        if alone.is_done() || is_free(alone) {
            let from = c.peek()?.start;
            let to = alone.at.checked_sub(1).and_then(|i| alone.all.get(i))?.end;
            let words = End::Words(source.get(from..to)?.to_string());
            return noted(alone, vec![Item::Until(words)], Doubt::UntilWeeks { weeks: days / 7 });
        }
    }
    let mut date = c;
    match date.date() {
        Some(Ok(day)) => return hit(date, Item::Until(End::Date(day))),
        Some(Err(())) => return ask(date, Doubt::WhichDate),
        None => {}
    }
    if !said {
        return None;
    }
    let mut review = c;
    let is_review = trade::review(&mut review);
    if is_review && (review.is_done() || is_free(review)) {
        return hit(review, Item::Until(End::Review));
    }
    let first = tail.peek()?;
    let last = c.all.last()?;
    c.at = c.all.len();
    hit(c, Item::Until(End::Words(source.get(first.start..last.end)?.to_string())))
}
