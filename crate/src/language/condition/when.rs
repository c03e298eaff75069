//! Since when, as it stands beside a condition.

use crate::language::token::{Cursor, Sort, Token, month};
use crate::measure::Date;

/// Since when a condition is there, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    Day(Date),
    Month {
        year: u16,
        month: u8,
    },
    Year(u16),
    /// So many days before the text was written.
    Days(u16),
    Weeks(u16),
    Months(u16),
    Years(u16),
    /// How far a pregnancy is.
    Pregnant {
        weeks: u8,
        days: u8,
    },
}

impl When {
    /// Days, weeks or months: not long ago.
    pub fn is_recent(self) -> bool {
        matches!(self, When::Days(_) | When::Weeks(_) | When::Months(_))
    }

    pub fn year(self) -> Option<i32> {
        match self {
            When::Day(date) => Some(date.year()),
            When::Month { year, .. } | When::Year(year) => Some(i32::from(year)),
            _ => None,
        }
    }
}

impl core::fmt::Display for When {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let many = |f: &mut core::fmt::Formatter<'_>, n: u16, one: &str| {
            write!(f, "{n} {one}{}", if n == 1 { "" } else { "s" })
        };
        match *self {
            When::Day(date) => write!(f, "{date}"),
            When::Month { year, month } => write!(f, "{year}-{month:02}"),
            When::Year(year) => write!(f, "{year}"),
            When::Days(n) => many(f, n, "day"),
            When::Weeks(n) => many(f, n, "week"),
            When::Months(n) => many(f, n, "month"),
            When::Years(n) => many(f, n, "year"),
            When::Pregnant { weeks, days: 0 } => write!(f, "{weeks} weeks"),
            When::Pregnant { weeks, days } => write!(f, "{weeks}+{days} weeks"),
        }
    }
}

fn whole16(c: &mut Cursor<'_>) -> Option<u16> {
    u16::try_from(c.whole()?).ok().filter(|n| *n < 1000)
}

/// The time at a token, and where it ends. Days since an operation count from it: `POD 10`, `6/52`, `8 wks post-op`.
pub(super) fn at(all: &[Token<'_>], at: usize) -> Option<(usize, When)> {
    let begun = Cursor { all, at };
    let glued = |c: &Cursor<'_>| c.peek().is_some_and(|t| !t.spaced);
    let mut c = begun;
    if let Some(Ok(date)) = c.date() {
        return Some((c.at, When::Day(date)));
    }
    c = begun;
    if let Some(first) = c.peek_word() {
        if c.word(&["pod"]).is_some() || c.word(&["day"]).is_some() {
            return Some((c.at + 1, When::Days(whole16(&mut c)?)));
        }
        if c.word(&["pow"]).is_some() {
            return Some((c.at + 1, When::Weeks(whole16(&mut c)?)));
        }
        let month = month(first)?;
        c.at += 1;
        let year = year(&mut c)?;
        return Some((c.at, When::Month { year, month }));
    }
    // The second half of a fraction, and the number in `L4`, are no times.
    let before = at.checked_sub(1).and_then(|i| all.get(i));
    let stuck = begun.peek().is_some_and(|t| !t.spaced)
        && before.is_some_and(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign('/')));
    if stuck {
        return None;
    }
    if let Some(year) = year(&mut c) {
        return Some((c.at, When::Year(year)));
    }
    let n = whole16(&mut c)?;
    let mut plus = c;
    let mut days = 0;
    if plus.sign('+')
        && let Some(more) = plus.whole().and_then(|d| u8::try_from(d).ok()).filter(|d| *d < 7)
    {
        (days, c) = (more, plus);
    }
    if glued(&c) && c.sign('/') {
        if !glued(&c) {
            return None;
        }
        let found = match c.whole()? {
            40 => {
                let weeks = u8::try_from(n).ok().filter(|w| (4..=42).contains(w))?;
                When::Pregnant { weeks, days }
            }
            7 => When::Days(n),
            52 => When::Weeks(n),
            12 => When::Months(n),
            _ => return None,
        };
        let dated = c.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('/')));
        return (!dated && (days == 0 || matches!(found, When::Pregnant { .. }))).then_some((c.at, found));
    }
    c.sign('-');
    let unit = |c: &mut Cursor<'_>| {
        let w = c.peek_word()?;
        c.at += 1;
        Some(match w {
            "day" | "days" | "d" => When::Days(n),
            "week" | "weeks" | "wk" | "wks" | "w" => When::Weeks(n),
            "month" | "months" | "mth" | "mths" | "mo" => When::Months(n),
            "year" | "years" | "yr" | "yrs" | "y" => When::Years(n),
            _ => return None,
        })
    };
    let found = unit(&mut c)?;
    let end = c.at;
    c.sign('.');
    let back = c.word(&[
        "ago",
        "post",
        "postop",
        "po",
        "after",
        "since",
        "out",
        "pp",
        "pn",
        "postpartum",
        "postnatal",
        "old",
    ]);
    let status = || {
        let mut m = c;
        m.word(&["s"]).is_some() && m.sign('/') && m.word(&["p"]).is_some()
    };
    (back.is_some() || status()).then_some((end, found))
}

/// `2019`; a number of four digits by itself.
fn year(c: &mut Cursor<'_>) -> Option<u16> {
    let mut m = *c;
    let year = u16::try_from(m.whole()?).ok().filter(|y| (1920..=2099).contains(y))?;
    let unit = m.peek().is_some_and(|t| matches!(t.sort, Sort::Word("m" | "steps" | "kcal" | "ml" | "mg")));
    let joined = m.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('-' | '/')));
    if unit || joined {
        return None;
    }
    *c = m;
    Some(year)
}

/// So many weeks as they stand beside a word for a pregnancy: `30 weeks`.
pub(super) fn weeks(all: &[Token<'_>], at: usize) -> Option<(usize, When)> {
    let mut c = Cursor { all, at };
    c.sign(',');
    c.word(&["at"]);
    let weeks = u8::try_from(c.whole()?).ok().filter(|w| (4..=42).contains(w))?;
    c.word(&["weeks", "week", "wks", "wk"])?;
    Some((c.at, When::Pregnant { weeks, days: 0 }))
}
