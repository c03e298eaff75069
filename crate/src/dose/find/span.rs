//! From when to when: weeks of the plan, dates, weeks after surgery or injury.

use super::*;
use crate::language::token::month;
use crate::measure::Date;

/// Whether a word begins one of the forms below, where numbers and weekdays do so anyway.
pub(super) fn may_begin(word: &str) -> bool {
    matches!(
        word,
        "from"
            | "start"
            | "starts"
            | "starting"
            | "commence"
            | "commences"
            | "commencing"
            | "begin"
            | "begins"
            | "beginning"
            | "not"
            | "first"
            | "stop"
            | "stops"
            | "finish"
            | "through"
            | "thru"
            | "week"
            | "weeks"
            | "wk"
            | "wks"
    ) || month(word).is_some()
}

/// No course of exercises is longer, in weeks: two years (common practice, no source). What is more counts something else.
const LAST_WEEK: u8 = 104;
/// Beside a motion so many and more are degrees: `shoulder flexion to 80, from week 3 to 120` (common practice, no source).
const DEGREES: u8 = 30;

/// A moment of a course.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Point {
    Week(u8),
    Date(Date),
    Yearless(Yearless),
    After { weeks: u8, event: Event },
}

impl Point {
    fn start(self) -> Start {
        match self {
            Point::Week(n) => Start::Week(n),
            Point::Date(date) => Start::Date(date),
            Point::Yearless(day) => Start::Yearless(day),
            Point::After { weeks, event } => Start::After { weeks, event },
        }
    }

    fn end(self) -> End {
        match self {
            Point::Week(n) => End::Week(n),
            Point::Date(date) => End::Date(date),
            Point::Yearless(day) => End::Yearless(day),
            Point::After { weeks, event } => End::After { weeks, event },
        }
    }
}

/// What stands at a place: a moment, or what must be asked about it.
type Pointed = Result<Point, Doubt>;

/// A start, an end or both at the cursor.
pub(super) fn span(c: Cursor<'_>) -> Option<Hit> {
    weeks(c)
        .or_else(|| from(c))
        .or_else(|| after(c))
        .or_else(|| first(c))
        .or_else(|| stop(c))
        .or_else(|| until_day(c))
        .or_else(|| dates(c))
        .or_else(|| onwards_alone(c))
}

/// Whether the whole of a text is a start, an end or both, such as a heading: `Weeks 3-4`, `From 14 Dec`.
pub fn whole(
    all: &[crate::language::token::Token<'_>],
    source: &str,
) -> Option<(Option<Start>, Option<End>)> {
    let mut c = Cursor { all, at: 0 };
    let (mut begins, mut ends) = (None, None);
    while !c.is_done() {
        let hit = span(c).or_else(|| until(c, source))?;
        if hit.doubt.as_ref().is_some_and(|d| !matches!(d, Doubt::AfterWeek { .. })) {
            return None;
        }
        for item in hit.items {
            match item {
                Item::From(start) if begins.is_none() => begins = Some(start),
                Item::Until(End::Words(_)) => return None,
                Item::Until(end) if ends.is_none() => ends = Some(end),
                _ => return None,
            }
        }
        c.at = hit.next;
        while c.sign(',') || c.sign(';') {}
    }
    (begins.is_some() || ends.is_some()).then_some((begins, ends))
}

/// A start at the front of a text that something else follows, and the token behind it: `week 3 - …`, `from 14 Dec …`.
pub fn start(all: &[crate::language::token::Token<'_>]) -> Option<(Start, usize)> {
    let c = Cursor { all, at: 0 };
    let mut alone = c;
    if let Some(n) = week(&mut alone, false)
        && !alone.is_done()
    {
        return Some((Start::Week(n), alone.at));
    }
    let hit = from(c)?;
    match hit.items.as_slice() {
        [Item::From(start)] if hit.next < all.len() => Some((*start, hit.next)),
        _ => None,
    }
}

/// Where in a text something is said of its start or end, as bytes.
/// A start behind an exercise that is to begin: `start pulleys wk 4 R 3 min`, `add in lunges 21/12`. Where the first words
/// end, where the start stands, in bytes, and the start.
pub fn begun(all: &[crate::language::token::Token<'_>]) -> Option<(usize, (usize, usize), Start)> {
    let mut c = Cursor { all, at: 0 };
    let verb = c.word(&["start", "commence", "begin", "introduce", "resume", "restart", "add"])?;
    if verb == "add" {
        c.word(&["in"]);
    }
    c.word(&["with"]);
    let first = c.at;
    // `start week 2: …` has its own form.
    let named =
        c.peek().is_some_and(|t| t.spaced) && c.peek_word().is_some() && point(&mut c.clone()).is_none();
    if !named || c.clone().word(&["from", "on", "in", "at", "after"]).is_some() {
        return None;
    }
    const BEFORE: [&str; 9] = ["until", "till", "til", "to", "for", "from", "by", "x", "every"];
    (first + 1..all.len()).find_map(|at| {
        let before = all.get(at - 1)?;
        let mut m = Cursor { all, at };
        let apart = m.peek()?.spaced && !matches!(before.sort, Sort::Word(w) if BEFORE.contains(&w));
        // `7/12` behind a verb is a day in December, not months.
        let december = |m: &mut Cursor<'_>| {
            let day = m.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| (1..=31).contains(n))?;
            let tight = m.sign('/') && m.peek().is_some_and(|t| !t.spaced) && m.whole() == Some(12);
            tight.then_some(Point::Yearless(Yearless { month: 12, day, weekday: None }))
        };
        let found = apart.then(|| point(&mut m).and_then(Result::ok)).flatten();
        let found = match found {
            Some(found) => found,
            None => {
                m = Cursor { all, at };
                december(&mut m).filter(|_| apart)?
            }
        };
        onwards(&mut m);
        let verb_end = all.get(first.checked_sub(1)?)?.end;
        Some((verb_end, (all.get(at)?.start, all.get(m.at.checked_sub(1)?)?.end), found.start()))
    })
}

pub fn place(all: &[crate::language::token::Token<'_>], source: &str) -> Option<(usize, usize)> {
    (0..all.len()).find_map(|at| {
        let c = Cursor { all, at };
        let hit = span(c).or_else(|| until(c, source))?;
        let said = hit.items.iter().any(|i| matches!(i, Item::From(_) | Item::Until(_)));
        let last = hit.next.checked_sub(1).and_then(|i| all.get(i))?;
        said.then_some((c.peek()?.start, last.end))
    })
}

/// A start anywhere in a text, and the byte behind it.
pub fn begins(all: &[crate::language::token::Token<'_>]) -> Option<(usize, Start)> {
    (0..all.len()).find_map(|at| {
        let c = Cursor { all, at };
        let hit = from(c).or_else(|| weeks(c)).or_else(|| after(c))?;
        let start = hit.items.iter().find_map(|i| match i {
            Item::From(start) => Some(*start),
            _ => None,
        })?;
        Some((hit.next.checked_sub(1).and_then(|i| all.get(i))?.end, start))
    })
}

/// A week's number behind `week`, or alone where `bare`.
fn week(c: &mut Cursor<'_>, bare: bool) -> Option<u8> {
    let mut m = *c;
    // `2nd wk`
    if let Some(n) = m.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| (1..=LAST_WEEK).contains(n))
        && m.word(&["st", "nd", "rd", "th"]).is_some()
        && m.word(&["week", "wk"]).is_some()
    {
        *c = m;
        return Some(n);
    }
    let mut m = *c;
    let named = m.word(&["week", "weeks", "wk", "wks"]).is_some()
        || (m.peek_word() == Some("w") && m.word(&["w"]).is_some());
    if !named && !bare {
        return None;
    }
    m.sign('.');
    let n = m.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| (1..=LAST_WEEK).contains(n))?;
    // A length, a share or a count is no week: `4 weeks`, `4/52`, `4 x 10`.
    let counted = m.peek().is_some_and(|t| !t.spaced && t.sort == Sort::Sign('/'))
        || m.clone().times()
        || matches!(
            m.peek_word(),
            Some(
                "week"
                    | "weeks"
                    | "wk"
                    | "wks"
                    | "day"
                    | "days"
                    | "sets"
                    | "set"
                    | "reps"
                    | "rep"
                    | "s"
                    | "sec"
                    | "secs"
                    | "min"
                    | "mins"
                    | "minutes"
                    | "seconds"
                    | "kg"
            )
        );
    if !named && counted {
        return None;
    }
    *c = m;
    Some(n)
}

/// `onwards`, `on`, `+`, `and after`.
fn onwards(c: &mut Cursor<'_>) -> bool {
    if c.sign('+') || c.word(&["onward", "onwards"]).is_some() {
        return true;
    }
    if c.words(&["and", "after"]) || c.words(&["and", "beyond"]) {
        return true;
    }
    let mut m = *c;
    if m.word(&["on"]).is_some() && m.is_done() {
        *c = m;
        return true;
    }
    false
}

/// What joins the two ends of a stretch.
fn joins(c: &mut Cursor<'_>) -> bool {
    if c.sign('-') || c.sign('~') {
        return true;
    }
    c.word(&["to", "until", "till", "til", "through", "thru"]).is_some() && {
        c.word(&["the"]);
        c.words(&["end", "of"]);
        true
    }
}

/// From one week to another; from week 1 on goes without saying.
fn between(c: Cursor<'_>, low: u8, high: u8) -> Option<Hit> {
    match (low, high) {
        (low, high) if high < low => ask(c, Doubt::Backwards),
        (1, high) => hit(c, Item::Until(End::Week(high))),
        (low, high) => hits(c, vec![Item::From(Start::Week(low)), Item::Until(End::Week(high))]),
    }
}

/// `weeks 2-4`, `wk 3 to wk 6`, `week 4 onwards`, `week 3 only`.
fn weeks(mut c: Cursor<'_>) -> Option<Hit> {
    let low = week(&mut c, false)?;
    if let Some(event) = event(&mut c.clone()) {
        event_of(&mut c);
        return onwards(&mut c).then(|| hit(c, Item::From(Start::After { weeks: low, event }))).flatten();
    }
    if onwards(&mut c) {
        return hit(c, Item::From(Start::Week(low)));
    }
    let mut m = c;
    if joins(&mut m)
        && let Some(high) = week(&mut m, true)
        // `week 3 - 3 x 12`: a week, then a dose.
        && (m.is_done() || is_free(m) && !m.clone().times())
    {
        let _ = m.only() || m.word(&["inclusive"]).is_some();
        return between(m, low, high);
    }
    m = c;
    if m.word(&["and"]).is_some() || m.sign('&') || m.sign('+') {
        let high = week(&mut m, true).filter(|high| low.checked_add(1) == Some(*high))?;
        return between(m, low, high);
    }
    if c.only() {
        return if low == 1 { hit(c, Item::Until(End::Week(1))) } else { between(c, low, low) };
    }
    c.is_done().then(|| ask(c, Doubt::WeekAlone { week: low })).flatten()
}

fn event_of(c: &mut Cursor<'_>) {
    event(c);
}

/// A date without its year, by numbers: clear where only one of the two can be a month.
fn slashed_day(c: &mut Cursor<'_>) -> Option<Result<(u8, u8), ()>> {
    let mut m = *c;
    let first = m.whole().and_then(|n| u8::try_from(n).ok())?;
    if !m.sign('/') || m.peek().is_some_and(|t| t.spaced) {
        return None;
    }
    let second = m.whole().and_then(|n| u8::try_from(n).ok())?;
    // `14/12/2026` is read whole, or not at all.
    if m.peek().is_some_and(|t| !t.spaced && t.sort == Sort::Sign('/')) {
        return None;
    }
    let found = match (first, second) {
        (13..=31, 1..=12) => Ok((second, first)),
        (1..=12, 13..=31) => Ok((first, second)),
        (1..=12, 1..=12) => Err(()),
        _ => return None,
    };
    *c = m;
    Some(found)
}

/// A date, with or without its year, and the day of the week where it stands before it.
fn day(c: &mut Cursor<'_>) -> Option<Pointed> {
    let mut m = *c;
    let named = m.peek_word().and_then(weekday);
    if named.is_some() {
        m.at += 1;
        m.sign(',');
        m.sign('.');
        m.word(&["the"]);
    }
    if let Some(found) = m.date() {
        *c = m;
        return Some(match found {
            Ok(date) if named.is_some_and(|day| day != date.weekday()) => Err(Doubt::WhichDate),
            Ok(date) => Ok(Point::Date(date)),
            Err(()) => Err(Doubt::WhichDate),
        });
    }
    let found = match m.month_and_day() {
        Some(found) => Ok(found),
        None => slashed_day(&mut m)?,
    };
    *c = m;
    Some(match found {
        Ok((month, day)) => Ok(Point::Yearless(Yearless { month, day, weekday: named })),
        Err(()) => Err(Doubt::WhichDate),
    })
}

/// A day within other words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Day {
    Date(Date),
    /// `14/12`, `20 Dec`: the year is not typed.
    Yearless(Yearless),
    /// `9/12`: day and month may be meant either way, or months.
    EitherWay,
}

/// A day at the cursor.
pub fn day_at(c: &mut Cursor<'_>) -> Option<Day> {
    Some(match day(c)? {
        Ok(Point::Date(date)) => Day::Date(date),
        Ok(Point::Yearless(day)) => Day::Yearless(day),
        Ok(Point::Week(_) | Point::After { .. }) => return None,
        Err(_) => Day::EitherWay,
    })
}

/// The first day within words.
pub fn day_in(text: &str) -> Option<Day> {
    let folded = crate::text::fold::fold(text);
    let all = crate::language::token::tokens(&folded);
    (0..all.len()).find_map(|at| {
        let mut c = Cursor { all: &all, at };
        c.peek().filter(|t| t.spaced).and_then(|_| day_at(&mut c))
    })
}

/// `6 weeks after surgery`, `6/52 post op`, `week 6 post op`.
fn after_event(c: &mut Cursor<'_>) -> Option<Point> {
    let mut m = *c;
    let weeks = match week(&mut m, false) {
        Some(n) => n,
        None => {
            let (days, _) = stretch(&mut m)?;
            u8::try_from(days / 7).ok().filter(|_| days.is_multiple_of(7))?
        }
    };
    let event = event(&mut m)?;
    *c = m;
    Some(Point::After { weeks, event })
}

/// A moment at the cursor.
fn point(c: &mut Cursor<'_>) -> Option<Pointed> {
    let begun = *c;
    c.word(&["the"]);
    let _ = c.words(&["start", "of"]) || c.words(&["beginning", "of"]);
    if let Some(point) = after_event(c) {
        return Some(Ok(point));
    }
    if let Some(n) = week(c, false) {
        return Some(Ok(Point::Week(n)));
    }
    if let Some(found) = day(c) {
        return Some(found);
    }
    *c = begun;
    None
}

/// `tomorrow`, `Monday`, `next week`: told only by who reads it on the day it was written.
fn relative(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let found = m.word(&["tomorrow", "tmrw", "today", "tonight"]).is_some() || {
        let next = m.word(&["next", "this", "coming"]).is_some();
        let day = m.peek_word().is_some_and(|w| weekday(w).is_some());
        let named =
            day || (next && matches!(m.peek_word(), Some("week" | "wk" | "month" | "weekend" | "visit")));
        m.at += usize::from(named);
        named
    };
    let found = found && (m.is_done() || m.peek().is_some_and(|t| matches!(t.sort, Sort::Sign(_))));
    if found {
        *c = m;
    }
    found
}

/// Whether a motion is named before the cursor.
fn moves(c: Cursor<'_>) -> bool {
    const SHORT: [&str; 8] = ["rom", "arom", "prom", "aarom", "er", "ir", "df", "pf"];
    (0..c.at).any(|at| {
        let mut m = Cursor { at, ..c };
        m.clone().word(&SHORT).is_some() || crate::language::anatomy::motion(&mut m).is_some()
    })
}

/// Whether the number before the cursor counts or weighs something: `from week 3 - 5 lb each hand`.
fn counts(mut c: Cursor<'_>) -> bool {
    c.times() || unit::unit(&mut c).is_some()
}

/// `from week 4`, `starting 14 Dec`, `not before 6 weeks post-op`, `from 7 Dec to 20 Dec`.
fn from(mut c: Cursor<'_>) -> Option<Hit> {
    let verb = [
        "start",
        "starts",
        "starting",
        "commence",
        "commences",
        "commencing",
        "begin",
        "begins",
        "beginning",
    ];
    if c.words(&["not", "before"]) || c.words(&["not", "until"]) || c.words(&["not", "till"]) {
    } else if c.word(&verb).is_some() {
        c.word(&["from", "on", "in", "at", "by"]);
    } else {
        c.word(&["from"])?;
    }
    let mut m = c;
    if relative(&mut m) {
        return ask(m, Doubt::WhichDay);
    }
    // `from 6/52`, `starting in 2 weeks`: behind so many whole weeks.
    let mut m = c;
    m.word(&["in"]);
    if point(&mut c.clone()).is_none()
        && let Some((days, unit)) = stretch(&mut m)
        && (unit == 7 || days.is_multiple_of(7))
        && event(&mut m.clone()).is_none()
    {
        let from = u8::try_from(days / 7).ok()?.checked_add(1)?;
        return noted(m, vec![Item::From(Start::Week(from))], Doubt::AfterWeek { from });
    }
    let pointed = point(&mut c)?;
    let Ok(begins) = pointed else { return ask(c, Doubt::WhichDate) };
    // `from week 3 3x12`, `from week 3: 3x12`: a step says more behind it.
    onwards(&mut c);
    let mut m = c;
    if joins(&mut m) {
        let ends = match begins {
            Point::Week(_) => {
                let bare = matches!(m.peek().map(|t| t.sort), Some(Sort::Number(_)));
                let moved = bare && moves(c);
                week(&mut m, true).filter(|n| !(counts(m) || moved && DEGREES <= *n)).map(Point::Week)
            }
            _ => point(&mut m).and_then(Result::ok).or_else(|| same_order(begins, &mut m)),
        };
        match (begins, ends) {
            (Point::Week(low), Some(Point::Week(high))) => return between(m, low, high),
            (_, Some(ends)) => {
                return hits(m, vec![Item::From(begins.start()), Item::Until(ends.end())]);
            }
            _ => {}
        }
    }
    // The first week is where everything begins.
    if begins == Point::Week(1) {
        return hit(c, Item::Nothing);
    }
    hit(c, Item::From(begins.start()))
}

/// `14/12 - 3/1`: the second date by numbers is written in the order of the first.
fn same_order(first: Point, c: &mut Cursor<'_>) -> Option<Point> {
    let before = c.all.get(..c.at)?;
    let numbers: Vec<u64> = before
        .iter()
        .filter_map(|t| match t.sort {
            Sort::Number(n) => Some(n / 100),
            Sort::Word(_) | Sort::Sign(_) => None,
        })
        .collect();
    let Point::Yearless(day) = first else { return None };
    let [.., a, b] = numbers.as_slice() else { return None };
    let day_first = (*a, *b) == (u64::from(day.day), u64::from(day.month));
    if !day_first && (*a, *b) != (u64::from(day.month), u64::from(day.day)) {
        return None;
    }
    let mut m = *c;
    let one = m.whole().and_then(|n| u8::try_from(n).ok())?;
    if !m.sign('/') {
        return None;
    }
    let two = m.whole().and_then(|n| u8::try_from(n).ok())?;
    let (day, month) = if day_first { (one, two) } else { (two, one) };
    let good = (1..=31).contains(&day) && (1..=12).contains(&month);
    *c = m;
    good.then_some(Point::Yearless(Yearless { month, day, weekday: None }))
}

/// `after week 2`: from the week behind it; `after 2 weeks`.
fn after(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["after"])?;
    c.words(&["the", "first"]);
    c.word(&["the"]);
    c.words(&["end", "of"]);
    let mut m = c;
    if let Some(point) = after_event(&mut m) {
        return hit(m, Item::From(point.start()));
    }
    m = c;
    let over = match week(&mut m, false) {
        Some(n) => n,
        None => {
            m = c;
            let (days, 7) = stretch(&mut m)? else { return None };
            u8::try_from(days / 7).ok()?
        }
    };
    if !(m.is_done() || is_free(m)) || joins(&mut m.clone()) {
        return None;
    }
    let from = over.checked_add(1)?;
    noted(m, vec![Item::From(Start::Week(from))], Doubt::AfterWeek { from })
}

/// `first 2 weeks only`, `for the first 3 days`.
fn first(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["for", "in", "during"]);
    c.word(&["the"]);
    c.word(&["first"])?;
    let mut one = c;
    let (days, unit) = match stretch(&mut c) {
        Some(found) => found,
        None => {
            let unit = match one.word(&["week", "fortnight"])? {
                "fortnight" => 14,
                _ => 7,
            };
            c = one;
            (unit, 7)
        }
    };
    c.only();
    if event(&mut c.clone()).is_some() {
        return None;
    }
    match unit {
        7 => hit(c, Item::Until(End::Week(u8::try_from(days / 7).ok()?))),
        _ => hit(c, Item::Until(End::lasting(days, unit)?)),
    }
}

/// `stop after week 3`, `stop after 3 weeks`, `stop on 20 Dec`.
fn stop(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["stop", "stops", "finish"])?;
    let after = c.word(&["after"]).is_some();
    let ended = c.words(&["at", "end", "of"]) || c.words(&["at", "the", "end", "of"]);
    let _ = ended || after || c.word(&["on", "at", "in", "by"]).is_some();
    if let Some(n) = week(&mut c, false) {
        return if after || ended {
            hit(c, Item::Until(End::Week(n)))
        } else {
            ask(c, Doubt::StopAt { week: n })
        };
    }
    let mut m = c;
    if after
        && let Some((days, unit)) = stretch(&mut m)
        && event(&mut m.clone()).is_none()
    {
        return hit(m, Item::Until(End::lasting(days, unit)?));
    }
    match day(&mut c)? {
        Ok(point) => hit(c, Item::Until(point.end())),
        Err(doubt) => ask(c, doubt),
    }
}

/// `until Sun 20 Dec`, `until 20/12`: a date whose year was not typed.
fn until_day(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["until", "till", "til", "untill", "through", "thru"])?;
    c.word(&["the"]);
    c.words(&["end", "of"]);
    let begun = c;
    match day(&mut c)? {
        Ok(point) => hit(c, Item::Until(point.end())),
        // Weeks and days in the trade's writing: `until 6/52`.
        Err(_) if stretch(&mut begun.clone()).is_some_and(|(_, unit)| unit != 30) => None,
        Err(doubt) => ask(c, doubt),
    }
}

/// `until 20 Dec`, where the year follows from the start.
pub fn until_yearless(c: Cursor<'_>) -> Option<Hit> {
    let found = until_day(c)?;
    let whole = found.doubt.is_none() && matches!(found.items.as_slice(), [Item::Until(End::Yearless(_))]);
    whole.then_some(found)
}

/// `7 Dec - 20 Dec`, `7-20 Dec`, `14/12 - 3/1`.
fn dates(mut c: Cursor<'_>) -> Option<Hit> {
    let begun = c;
    // One month for both: `7-20 Dec`.
    let mut m = c;
    if let Some(low) = m.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| (1..=31).contains(n)) {
        m.word(&["st", "nd", "rd", "th"]);
        if joins(&mut m)
            && let Some((month, high)) = m.month_and_day()
            && low < high
        {
            let at = |day| Yearless { month, day, weekday: None };
            return hits(m, vec![Item::From(Start::Yearless(at(low))), Item::Until(End::Yearless(at(high)))]);
        }
    }
    let first = day(&mut c)?;
    if !joins(&mut c) {
        return None;
    }
    let mut m = c;
    match (first, day(&mut m)) {
        (Ok(from), Some(Ok(to))) => hits(m, vec![Item::From(from.start()), Item::Until(to.end())]),
        (Ok(from), _) => {
            let to = same_order(from, &mut c)?;
            hits(c, vec![Item::From(from.start()), Item::Until(to.end())])
        }
        // `7/12 - 20/12`: the second tells the order of the first.
        (Err(_), Some(Ok(to))) => {
            let Point::Yearless(last) = to else { return None };
            let mut one = begun;
            let a = one.whole().and_then(|n| u8::try_from(n).ok())?;
            if !one.sign('/') {
                return None;
            }
            let b = one.whole().and_then(|n| u8::try_from(n).ok())?;
            let day_first = slashed_first(c) == Some(u32::from(last.day));
            let (day, month) = if day_first { (a, b) } else { (b, a) };
            let from = Start::Yearless(Yearless { month, day, weekday: None });
            hits(m, vec![Item::From(from), Item::Until(to.end())])
        }
        (Err(_), _) => None,
    }
}

fn slashed_first(mut c: Cursor<'_>) -> Option<u32> {
    c.whole()
}

/// `14 Dec onwards`, `6 weeks post-op onwards`.
fn onwards_alone(mut c: Cursor<'_>) -> Option<Hit> {
    let point = match after_event(&mut c) {
        Some(point) => point,
        None => day(&mut c)?.ok()?,
    };
    onwards(&mut c).then(|| hit(c, Item::From(point.start()))).flatten()
}
