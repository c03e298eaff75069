//! Angles, lengths, durations, counts and dates; the one caller of `libm`.
//!
//! The standard library's trigonometry differs between native and wasm, so every such function
//! comes from here (clippy forbids the others).

/// Trigonometry and powers with the same bytes on every machine.
pub mod math {
    pub fn sin(x: f64) -> f64 {
        libm::sin(x)
    }
    pub fn cos(x: f64) -> f64 {
        libm::cos(x)
    }
    pub fn tan(x: f64) -> f64 {
        libm::tan(x)
    }
    /// Arc sine of `x` held to [-1, 1].
    pub fn asin(x: f64) -> f64 {
        libm::asin(x.clamp(-1.0, 1.0))
    }
    /// Arc cosine of `x` held to [-1, 1].
    pub fn acos(x: f64) -> f64 {
        libm::acos(x.clamp(-1.0, 1.0))
    }
    pub fn atan2(y: f64, x: f64) -> f64 {
        libm::atan2(y, x)
    }
    pub fn exp(x: f64) -> f64 {
        libm::exp(x)
    }
    pub fn ln(x: f64) -> f64 {
        libm::log(x)
    }
    pub fn pow(x: f64, y: f64) -> f64 {
        libm::pow(x, y)
    }
    pub fn hypot(x: f64, y: f64) -> f64 {
        libm::hypot(x, y)
    }
}

/// Degrees to radians.
pub fn radians(degrees: f64) -> f64 {
    degrees * (core::f64::consts::PI / 180.0)
}

/// Radians to degrees.
pub fn degrees(radians: f64) -> f64 {
    radians * (180.0 / core::f64::consts::PI)
}

/// `x` rounded to `decimals` places and written without trailing zeros, without -0;
/// a number that is not finite is written as 0, so nothing that breaks a reader can leave.
pub fn shown(x: f64, decimals: u32) -> String {
    let scale = (0..decimals).fold(1.0, |s, _| s * 10.0);
    let rounded = (x * scale).round() / scale;
    if !rounded.is_finite() || rounded == 0.0 {
        return "0".to_string();
    }
    let mut s = format!("{rounded:.*}", decimals as usize);
    if s.contains('.') {
        while s.ends_with('0') {
            s.pop();
        }
        if s.ends_with('.') {
            s.pop();
        }
    }
    s
}

/// A count or a range of counts, 1 to 100,000, low never above high.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Counts {
    low: u32,
    high: u32,
}

impl Counts {
    pub const ONE: Counts = Counts { low: 1, high: 1 };
    pub const MOST: u32 = 100_000;
    /// None where low is 0, above high, or high above [`Counts::MOST`].
    pub fn new(low: u32, high: u32) -> Option<Counts> {
        (1 <= low && low <= high && high <= Counts::MOST).then_some(Counts { low, high })
    }
    pub fn one(n: u32) -> Option<Counts> {
        Counts::new(n, n)
    }
    pub fn low(self) -> u32 {
        self.low
    }
    pub fn high(self) -> u32 {
        self.high
    }
}

impl core::fmt::Display for Counts {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        if self.low == self.high {
            write!(f, "{}", self.low)
        } else {
            write!(f, "{}-{}", self.low, self.high)
        }
    }
}

/// A time or a range of times in whole seconds, 1 s to 24 h, low never above high. It may be the most or the least that is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    low: u32,
    high: u32,
    bound: Option<Bound>,
}

/// Which end of a time is said alone; low and high are then the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Bound {
    /// `up to 20 min`.
    Most,
    /// `at least 20 min`.
    Least,
}

impl Bound {
    pub fn word(self) -> &'static str {
        match self {
            Bound::Most => "up to",
            Bound::Least => "at least",
        }
    }
}

impl Span {
    pub const MOST: u32 = 86_400;
    /// None where low is 0, above high, or high above a day.
    pub fn new(low: u32, high: u32) -> Option<Span> {
        (1 <= low && low <= high && high <= Span::MOST).then_some(Span { low, high, bound: None })
    }
    pub fn one(seconds: u32) -> Option<Span> {
        Span::new(seconds, seconds)
    }
    /// The time as the most or the least of what is asked; None where it is a range.
    pub fn bounded(self, bound: Option<Bound>) -> Option<Span> {
        (self.low == self.high || bound.is_none()).then_some(Span { bound, ..self })
    }
    pub fn bound(self) -> Option<Bound> {
        self.bound
    }
    /// Seconds.
    pub fn low(self) -> u32 {
        self.low
    }
    /// Seconds.
    pub fn high(self) -> u32 {
        self.high
    }
}

impl core::fmt::Display for Span {
    /// `30 s`, `8 min`, `30-45 s`, `90 s`, `5-10 min`, `2 h`, `up to 20 min`: whole minutes from two minutes up.
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let whole = |unit: u32, least: u32| {
            self.low.is_multiple_of(unit) && self.high.is_multiple_of(unit) && least * unit <= self.high
        };
        let (unit, word) = if whole(3600, 2) {
            (3600, "h")
        } else if whole(60, 2) {
            (60, "min")
        } else {
            (1, "s")
        };
        let (low, high) = (self.low / unit, self.high / unit);
        if let Some(bound) = self.bound {
            write!(f, "{} ", bound.word())?;
        }
        if low == high { write!(f, "{low} {word}") } else { write!(f, "{low}-{high} {word}") }
    }
}

/// A set of weekdays that is never empty; Monday is 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Weekdays(u8);

/// The names as written, Monday first.
pub const WEEKDAY_NAMES: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
/// Three letters for each month, January first.
pub const MONTH_NAMES: [&str; 12] =
    ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

impl Weekdays {
    pub const ALL: Weekdays = Weekdays(0x7f);
    /// From numbers of weekdays (Monday is 0); numbers above 6 are left out. None where nothing is left.
    pub fn new(days: impl IntoIterator<Item = u8>) -> Option<Weekdays> {
        let set = days.into_iter().filter(|d| *d < 7).fold(0u8, |s, d| s | (1 << d));
        (set != 0).then_some(Weekdays(set))
    }
    /// Whether weekday `day` (Monday is 0) is in it.
    pub fn has(self, day: u8) -> bool {
        day < 7 && self.0 & (1 << day) != 0
    }
    pub fn days(self) -> impl Iterator<Item = u8> {
        (0..7).filter(move |d| self.has(*d))
    }
    pub fn count(self) -> u32 {
        self.0.count_ones()
    }
    /// The other days of the week; None where this is all of them.
    pub fn others(self) -> Option<Weekdays> {
        Weekdays::new((0..7).filter(|d| !self.has(*d)))
    }
    pub fn and(self, other: Weekdays) -> Weekdays {
        Weekdays(self.0 | other.0)
    }
}

impl core::fmt::Display for Weekdays {
    /// `Mon Wed Fri`; three or more in a row as `Mon-Fri`.
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let name = |d: u8| WEEKDAY_NAMES.get(usize::from(d)).copied().unwrap_or("");
        let mut pieces: Vec<String> = Vec::new();
        let mut day = 0u8;
        while day < 7 {
            let run = (day..7).take_while(|d| self.has(*d)).count() as u8;
            if 3 <= run {
                pieces.push(format!("{}-{}", name(day), name(day + run - 1)));
            } else {
                pieces.extend((day..day + run).map(|d| name(d).to_string()));
            }
            day += run.max(1);
        }
        write!(f, "{}", pieces.join(" "))
    }
}

/// A day of the calendar, 1900 to 2200.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date(time::Date);

impl Date {
    /// None where there is no such day.
    pub fn new(year: i32, month: u8, day: u8) -> Option<Date> {
        if !(1900..=2200).contains(&year) {
            return None;
        }
        let month = time::Month::try_from(month).ok()?;
        time::Date::from_calendar_date(year, month, day).ok().map(Date)
    }
    /// From ISO 8601 `2026-11-30`, and nothing else.
    pub fn iso(text: &str) -> Option<Date> {
        let b = text.as_bytes();
        let digits = |from: usize, to: usize| -> Option<u32> {
            let part = b.get(from..to)?;
            if !part.iter().all(u8::is_ascii_digit) {
                return None;
            }
            Some(part.iter().fold(0, |n, d| n * 10 + u32::from(*d - b'0')))
        };
        if b.len() != 10 || b.get(4) != Some(&b'-') || b.get(7) != Some(&b'-') {
            return None;
        }
        Date::new(digits(0, 4)? as i32, digits(5, 7)? as u8, digits(8, 10)? as u8)
    }
    pub fn year(self) -> i32 {
        self.0.year()
    }
    pub fn month(self) -> u8 {
        self.0.month() as u8
    }
    pub fn day(self) -> u8 {
        self.0.day()
    }
    /// Monday is 0.
    pub fn weekday(self) -> u8 {
        self.0.weekday().number_days_from_monday()
    }
    /// So many days later (or earlier); held to 1900 to 2200.
    pub fn plus_days(self, days: i32) -> Date {
        let least = Date::new(1900, 1, 1).unwrap_or(self);
        let most = Date::new(2200, 12, 31).unwrap_or(self);
        let moved = self.0.checked_add(time::Duration::days(i64::from(days))).map(Date);
        moved.unwrap_or(if days < 0 { least } else { most }).clamp(least, most)
    }
    /// Days from `earlier` to this date; negative where `earlier` is later.
    pub fn days_since(self, earlier: Date) -> i32 {
        self.0.to_julian_day() - earlier.0.to_julian_day()
    }
    /// For readers: `30 Nov 2026`.
    pub fn words(self) -> String {
        let month = MONTH_NAMES.get(usize::from(self.month()).saturating_sub(1)).copied().unwrap_or("");
        format!("{} {} {}", self.day(), month, self.year())
    }
}

impl core::fmt::Display for Date {
    /// ISO 8601: `2026-11-30`.
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year(), self.month(), self.day())
    }
}
