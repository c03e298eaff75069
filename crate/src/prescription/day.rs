//! A day as it stands behind `review:` or `start:`: a date, a date without its year, or so long after the start.

use super::keys::{Undated, Value};
use super::order::Order;
use crate::dose::Yearless;
use crate::dose::find::often::weekday;
use crate::language::token::{Cursor, tokens};
use crate::measure::Date;
use crate::text::fold::fold;

/// A day as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day {
    what: What,
    /// The day of the week beside it, Monday 0.
    weekday: Option<u8>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    Date(Date),
    /// `14 Dec`.
    Yearless {
        month: u8,
        day: u8,
    },
    /// `in 2/52`: days after the start.
    After(u16),
}

/// Why a day can't be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It counts from the start, which isn't given.
    NoStart,
    /// The date falls on another day of the week: Monday 0.
    Weekday(Date),
    /// There is no such day: 31 Nov.
    NoSuchDay,
}

impl Day {
    /// The day; one without its year is the first such one from the start on.
    pub fn from(self, start: Option<Date>) -> Result<Date, Fault> {
        let date = match (self.what, start) {
            (What::Date(date), _) => date,
            (_, None) => return Err(Fault::NoStart),
            (What::After(days), Some(start)) => start.plus_days(i32::from(days)),
            (What::Yearless { month, day }, Some(start)) => {
                // The 29th of February is there within eight years.
                let years = start.year()..=start.year() + 8;
                let found = years.filter_map(|year| Date::new(year, month, day)).find(|date| start <= *date);
                found.ok_or(Fault::NoSuchDay)?
            }
        };
        match self.weekday {
            Some(day) if day != date.weekday() => Err(Fault::Weekday(date)),
            _ => Ok(date),
        }
    }

    /// What has been: the last such day up to the start. One that needs no start is what it is.
    pub fn last(self, start: Option<Date>) -> Result<Date, Fault> {
        let (What::Yearless { month, day }, Some(start)) = (self.what, start) else {
            return self.from(start);
        };
        let years = (0..=8).map(|n| start.year() - n);
        let mut days = years.filter_map(|year| Date::new(year, month, day));
        let date = days.find(|date| *date <= start).ok_or(Fault::NoSuchDay)?;
        match self.weekday {
            Some(day) if day != date.weekday() => Err(Fault::Weekday(date)),
            _ => Ok(date),
        }
    }

    /// A date whose year was not typed.
    pub fn yearless(day: Yearless) -> Day {
        Day { what: What::Yearless { month: day.month, day: day.day }, weekday: day.weekday }
    }

    /// A whole date, which needs no start.
    pub fn is_dated(self) -> bool {
        matches!(self.what, What::Date(_))
    }
}

/// Reads a day that stands alone; `order`: of the dates of its text, where they show it.
pub fn read(value: &Value<'_>, order: Option<Order>) -> Result<Day, Undated> {
    let folded = fold(value.text);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    let counted = c.word(&["in", "after"]).is_some();
    if !counted {
        c.word(&["on", "by"]);
    }
    let named = c.peek_word().and_then(weekday);
    if named.is_some() {
        c.at += 1;
        c.sign(',');
        c.sign('.');
    }
    let day = |what| Ok(Day { what, weekday: named });
    let mut m = c;
    if let (Some(found), true) = (m.date(), m.is_done()) {
        return found.map_or(Err(Undated::Unsure), |date| day(What::Date(date)));
    }
    let mut m = c;
    if let (Some((month, d)), true) = (m.month_and_day(), m.is_done()) {
        return day(What::Yearless { month, day: d });
    }
    let mut m = c;
    if !counted
        && let (Some(first), true, Some(second), true) = (m.whole(), m.sign('/'), m.whole(), m.is_done())
        && let (Ok(first), Ok(second)) = (u8::try_from(first), u8::try_from(second))
    {
        let day_first = day(What::Yearless { month: second, day: first });
        let month_first = day(What::Yearless { month: first, day: second });
        // `3/12` is three months as well, and `14/7` a fortnight; beside its weekday neither is.
        let months = named.is_none() && second == 12 && matches!(first, 1..=4 | 6);
        let days = named.is_none() && second == 7;
        match (first, second, order) {
            (13..=31, 1..=12, _) if !days => return day_first,
            (1..=12, 13..=31, _) => return month_first,
            (1..=12, 1..=12, _) if first == second && !days => return day_first,
            (1..=12, 1..=12, Some(Order::DayFirst)) if !months && !days => return day_first,
            (1..=12, 1..=12, Some(Order::MonthFirst)) if !months && !days => return month_first,
            (1..=12, 1..=12, _) if named.is_some() => return Err(Undated::Unsure),
            _ => {}
        }
    }
    let mut m = c;
    match (named, stretch(&mut m), m.is_done()) {
        // `3/12` may be three months or a date; `10/7` too, where nothing says that it is counted.
        (None, Some((_, unit)), true) if unit == 12 || (unit == 7 && !counted) => Err(Undated::Unsure),
        (None, Some((n, unit)), true) => {
            let days = if unit == 52 { n.checked_mul(7) } else { Some(n) };
            days.map_or(Err(Undated::None), |days| day(What::After(days)))
        }
        _ => Err(Undated::None),
    }
}

/// So many days or weeks: the number, and 1 for days in words, 7 for `n/7`, 52 for weeks, 12 for `n/12`.
fn stretch(c: &mut Cursor<'_>) -> Option<(u16, u16)> {
    c.word(&["about", "approx"]);
    let n = u16::try_from(c.whole()?).ok().filter(|n| (1..=730).contains(n))?;
    let unit = if c.sign('/') {
        u16::try_from(c.whole()?).ok().filter(|unit| [7, 52, 12].contains(unit))?
    } else if c.word(&["d", "day", "days"]).is_some() {
        1
    } else {
        c.word(&["w", "wk", "wks", "week", "weeks", "weeks'", "week's"])?;
        52
    };
    c.words(&["time"]);
    Some((n, unit))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Place;

    fn day(text: &str) -> Result<String, String> {
        let start = Date::iso("2026-11-30");
        let read = read(&Value { text, place: Place { line: 1, start: 0, end: text.len() } }, None);
        let read = read.map_err(|undated| format!("{undated:?}"))?;
        read.from(start).map(|date| date.to_string()).map_err(|fault| format!("{fault:?}"))
    }

    #[test]
    fn days_are_told_from_the_start() {
        for (typed, meant) in [
            ("2026-12-14", "2026-12-14"),
            ("13/12/26", "2026-12-13"),
            ("12/13/26", "2026-12-13"),
            ("21.12.26", "2026-12-21"),
            ("13 Dec 26", "2026-12-13"),
            ("Mon 14 Dec", "2026-12-14"),
            ("December 14th", "2026-12-14"),
            ("4 Jan", "2027-01-04"),
            ("14/12", "2026-12-14"),
            ("12/14", "2026-12-14"),
            ("30 Nov", "2026-11-30"),
            ("29 Feb", "2028-02-29"),
            ("in 10/7", "2026-12-10"),
            ("2/52", "2026-12-14"),
            ("6 weeks", "2027-01-11"),
            ("in 10 days", "2026-12-10"),
        ] {
            assert_eq!(day(typed).as_deref(), Ok(meant), "{typed}");
        }
        for typed in ["3/12", "10/7", "4/1/27", "Tue 14 Dec", "31 Nov", "soon", "in 0 weeks", "2 x 10", "14"]
        {
            assert!(day(typed).is_err(), "{typed}: {:?}", day(typed));
        }
    }
}
