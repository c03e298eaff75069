//! Numbers, words and signs of one line, and a cursor over them.

use crate::measure::{Counts, Date, Span};
use crate::text::fold::Folded;

/// One half, in hundredths.
const HALF: u64 = 50;

/// What a token is. Numbers are in hundredths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort<'a> {
    Number(u64),
    Word(&'a str),
    Sign(char),
}

/// One token of a folded line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Token<'a> {
    pub sort: Sort<'a>,
    /// Bytes of the source.
    pub start: usize,
    pub end: usize,
    /// Whether white space stands before it.
    pub spaced: bool,
}

/// Splits a folded line. Letters and digits part (`3x10`); `b.d.` is one word; number words are numbers.
pub fn tokens(folded: &Folded) -> Vec<Token<'_>> {
    let text = folded.text.as_str();
    let mut out: Vec<Token<'_>> = Vec::new();
    let mut at = 0;
    let mut spaced = true;
    while let Some(rest) = text.get(at..).filter(|r| !r.is_empty()) {
        let Some(c) = rest.chars().next() else { break };
        if c == ' ' {
            at += 1;
            spaced = true;
            continue;
        }
        let (sort, length) = if c.is_ascii_digit() {
            number(rest)
        } else if c == '½' {
            (Sort::Number(HALF), c.len_utf8())
        } else if c.is_alphabetic() {
            barred(rest).filter(|_| spaced).unwrap_or_else(|| word(rest))
        } else {
            (Sort::Sign(c), c.len_utf8())
        };
        let source = folded.source(at..at + length);
        out.push(Token { sort, start: source.start, end: source.end, spaced });
        at += length;
        spaced = false;
    }
    out
}

fn number(rest: &str) -> (Sort<'_>, usize) {
    let digits = |s: &str| s.bytes().take_while(u8::is_ascii_digit).count();
    let whole = digits(rest);
    let value = |s: &str| s.bytes().take(9).fold(0u64, |n, d| n * 10 + u64::from(d - b'0'));
    let mut n = value(rest.get(..whole).unwrap_or("")).saturating_mul(100);
    if 9 < whole {
        n = u64::MAX;
    }
    let tail = rest.get(whole..).unwrap_or("");
    if let Some(t) = tail.strip_prefix('½') {
        return (Sort::Number(n.saturating_add(HALF)), rest.len() - t.len());
    }
    // A thousands comma is read only before steps, where it cannot part two doses.
    if let Some(t) = tail.strip_prefix(',') {
        let after = t.get(3..).unwrap_or("").trim_start();
        if whole <= 3 && digits(t) == 3 && after.starts_with("step") {
            return (
                Sort::Number(n.saturating_mul(1000).saturating_add(value(t.get(..3).unwrap_or("")) * 100)),
                whole + 4,
            );
        }
    }
    if let Some(t) = tail.strip_prefix('.') {
        let more = digits(t);
        if (1..=2).contains(&more) {
            let part = value(t.get(..more).unwrap_or(""));
            let part = if more == 1 { part * 10 } else { part };
            return (Sort::Number(n.saturating_add(part)), whole + 1 + more);
        }
    }
    (Sort::Number(n), whole)
}

/// `c/` and `s/` before a word: with and without, as the trade writes them. `30 s/ side` is a time.
fn barred(rest: &str) -> Option<(Sort<'static>, usize)> {
    let (word, behind) = match rest.strip_prefix("s/ ") {
        Some(behind) => ("without", behind),
        None => ("with", rest.strip_prefix("c/ ")?),
    };
    // `30 s/ side` and `hold 5 s/ rest 5 s` are times.
    const RATES: [&str; 22] = [
        "rest",
        "hold",
        "relax",
        "pause",
        "off",
        "on",
        "side",
        "leg",
        "arm",
        "limb",
        "hand",
        "foot",
        "knee",
        "hip",
        "day",
        "set",
        "rep",
        "way",
        "direction",
        "each",
        "week",
        "session",
    ];
    let letters = behind.find(|c: char| !c.is_alphabetic()).unwrap_or(behind.len());
    let next = behind.get(..letters).unwrap_or("");
    let rate = word == "without" && RATES.contains(&next);
    (!next.is_empty() && !rate).then_some((Sort::Word(word), 2))
}

fn word(rest: &str) -> (Sort<'_>, usize) {
    // b.d., t.d.s, p.r.n.
    let mut dotted = 0;
    let bytes = rest.as_bytes();
    while bytes.get(dotted).is_some_and(u8::is_ascii_lowercase) && bytes.get(dotted + 1) == Some(&b'.') {
        dotted += 2;
    }
    if 4 <= dotted || (dotted == 2 && bytes.get(2).is_some_and(u8::is_ascii_lowercase)) {
        let last = usize::from(
            bytes.get(dotted).is_some_and(u8::is_ascii_lowercase)
                && !bytes.get(dotted + 1).is_some_and(u8::is_ascii_alphanumeric),
        );
        let known = match rest.get(..dotted + last).unwrap_or("") {
            "o.d" | "o.d." => "od",
            "b.d" | "b.d." => "bd",
            "b.i.d" | "b.i.d." => "bid",
            "t.d.s" | "t.d.s." => "tds",
            "t.i.d" | "t.i.d." => "tid",
            "q.d.s" | "q.d.s." => "qds",
            "q.i.d" | "q.i.d." => "qid",
            "p.r.n" | "p.r.n." => "prn",
            "e.o.d" | "e.o.d." => "eod",
            "q.o.d" | "q.o.d." => "qod",
            "q.d" | "q.d." => "qd",
            "a.m" | "a.m." => "am",
            "p.m" | "p.m." => "pm",
            _ => "",
        };
        if !known.is_empty() {
            return (Sort::Word(known), dotted + last);
        }
    }
    let mut length = 0;
    for (at, c) in rest.char_indices() {
        let inner =
            c == '\'' && rest.get(at + 1..).and_then(|r| r.chars().next()).is_some_and(char::is_alphabetic);
        if !c.is_alphabetic() && !inner {
            break;
        }
        length = at + c.len_utf8();
    }
    let w = rest.get(..length).unwrap_or("");
    let n = match w {
        "one" => 1,
        "two" => 2,
        "three" => 3,
        "four" => 4,
        "five" => 5,
        "six" => 6,
        "seven" => 7,
        "eight" => 8,
        "nine" => 9,
        "ten" => 10,
        "twelve" => 12,
        "fifteen" => 15,
        "twenty" => 20,
        "thirty" => 30,
        "forty" => 40,
        "sixty" => 60,
        // A run of letters such as x10 starts the next token itself: 3xbridge is x, bridge.
        _ => {
            let split = matches!(w, "xper" | "xday" | "xdaily" | "xwk" | "xweek" | "xweekly");
            return (Sort::Word(if split { "x" } else { spelt_out(w) }), if split { 1 } else { length });
        }
    };
    (Sort::Number(n * 100), length)
}

/// Short writings of verbs that say how a programme changes, as the trade has them (common practice, from memory). `dec`
/// is a month.
fn spelt_out(word: &str) -> &str {
    match word {
        "inc" | "incr" => "increase",
        "prog" | "progr" => "progress",
        "decr" => "decrease",
        "cont" => "continue",
        other => other,
    }
}

/// Things whose height, size or distance is said.
pub const PROPS: [&str; 17] = [
    "step", "steps", "stepper", "box", "block", "blocks", "stool", "bench", "chair", "stair", "stairs",
    "riser", "platform", "plinth", "ball", "wall", "pole",
];

/// A place in the tokens of one chunk. Copied freely to look ahead.
#[derive(Clone, Copy, Debug)]
pub struct Cursor<'a> {
    pub all: &'a [Token<'a>],
    pub at: usize,
}

/// Whether a phrase begins with a word's letters; most differ in the first.
pub fn begins_with(phrase: &str, word: &str) -> bool {
    phrase.as_bytes().first() == word.as_bytes().first() && phrase.starts_with(word)
}

/// With which two letters the phrases of a table begin: most words of a text begin none of them.
pub struct Starts([u32; 26]);

impl Starts {
    /// A phrase that begins with no small letter may begin with anything.
    pub const fn of<T>(rows: &[(&str, T)]) -> Starts {
        let mut letters = [0; 26];
        let mut row = 0;
        while row < rows.len() {
            let phrase = rows[row].0.as_bytes();
            let first = (phrase[0] - b'a') as usize;
            let second = if phrase.len() == 1 { 26 } else { Starts::second(phrase[1]) };
            letters[first] |= 1 << second;
            row += 1;
        }
        Starts(letters)
    }

    const fn second(byte: u8) -> u8 {
        if byte.is_ascii_lowercase() { byte - b'a' } else { 26 }
    }

    /// Whether a phrase may begin with the word.
    pub fn may_be(&self, word: &str) -> bool {
        let mut bytes = word.bytes();
        let Some(first) = bytes.next().filter(u8::is_ascii_lowercase) else { return false };
        let second = Starts::second(bytes.next().unwrap_or(b' '));
        self.0.get(usize::from(first - b'a')).is_some_and(|seconds| seconds & (1 << second) != 0)
    }
}

impl<'a> Cursor<'a> {
    pub fn peek(&self) -> Option<&'a Token<'a>> {
        self.all.get(self.at)
    }

    pub fn is_done(&self) -> bool {
        self.all.len() <= self.at
    }

    /// Whether the line, or the part of it before a comma, a stop, a dash or a bracket, ends here.
    pub fn is_done_or_parted(&self) -> bool {
        self.peek().is_none_or(|t| matches!(t.sort, Sort::Sign(',' | ';' | '.' | ')' | '-' | ':')))
    }

    pub fn peek_word(&self) -> Option<&'a str> {
        match self.peek()?.sort {
            Sort::Word(w) => Some(w),
            Sort::Number(_) | Sort::Sign(_) => None,
        }
    }

    /// Takes one word out of `these`.
    pub fn word(&mut self, these: &[&str]) -> Option<&'a str> {
        let w = self.peek_word()?;
        // Most words differ in their first letter.
        let first = w.as_bytes().first();
        if !these.iter().any(|this| this.as_bytes().first() == first && *this == w) {
            return None;
        }
        self.at += 1;
        Some(w)
    }

    /// Takes an `only` or `alone` that ends what it stands behind: in `R only if it is calm` it begins what follows.
    pub fn only(&mut self) -> bool {
        let mut c = *self;
        let conditions = [
            "if", "when", "once", "after", "until", "till", "with", "on", "to", "as", "while", "during",
            "for", "unless",
        ];
        let ends = c.word(&["only", "alone"]).is_some() && c.word(&conditions).is_none();
        if ends {
            self.at += 1;
        }
        ends
    }

    /// Takes the longest of the phrases that stands here.
    pub fn one_of(&mut self, phrases: &[&str]) -> bool {
        let mut best = self.at;
        let Some(first) = self.peek_word() else { return false };
        for phrase in phrases.iter().filter(|phrase| begins_with(phrase, first)) {
            let mut m = *self;
            if phrase.split(' ').all(|word| m.word(&[word]).is_some()) && best < m.at {
                best = m.at;
            }
        }
        let found = self.at < best;
        self.at = best;
        found
    }

    /// Takes all of these words in a row, or nothing. A hyphen between them is passed over.
    pub fn words(&mut self, these: &[&str]) -> bool {
        let mut c = *self;
        for (i, w) in these.iter().enumerate() {
            if 0 < i {
                c.sign('-');
            }
            if c.word(&[w]).is_none() {
                return false;
            }
        }
        *self = c;
        true
    }

    pub fn sign(&mut self, sign: char) -> bool {
        let hit = self.peek().is_some_and(|t| t.sort == Sort::Sign(sign));
        self.at += usize::from(hit);
        hit
    }

    pub fn signs(&mut self, these: &str) -> bool {
        let mut c = *self;
        let hit = these.chars().all(|s| c.sign(s));
        if hit {
            *self = c;
        }
        hit
    }

    /// Whether a thing with a height or a distance stands here: `step`, `high step`, `from wall`.
    pub fn prop(&self) -> bool {
        let mut c = *self;
        c.word(&["high", "low", "from"]);
        c.word(&["the", "a"]);
        c.word(&PROPS).is_some()
    }

    /// The sign of "times": `x` or `*`.
    pub fn times(&mut self) -> bool {
        self.word(&["x"]).is_some() || self.sign('*')
    }

    /// A number in hundredths.
    pub fn hundredths(&mut self) -> Option<u64> {
        match self.peek()?.sort {
            Sort::Number(n) if n < 1_000_000_000 => {
                self.at += 1;
                Some(n)
            }
            Sort::Number(_) | Sort::Word(_) | Sort::Sign(_) => None,
        }
    }

    pub fn whole(&mut self) -> Option<u32> {
        let mut c = *self;
        let n = c.hundredths()?;
        if !n.is_multiple_of(100) {
            return None;
        }
        *self = c;
        u32::try_from(n / 100).ok()
    }

    /// A second number of a range: `-10`, `to 10`, `or 10`, `(or 10)`; in hundredths.
    fn upper(&mut self) -> Option<u64> {
        let mut c = *self;
        if c.sign('(') {
            c.word(&["or"])?;
            let n = c.hundredths()?;
            if !c.sign(')') {
                return None;
            }
            *self = c;
            return Some(n);
        }
        let dash = c.peek().is_some_and(|t| t.spaced && t.sort == Sort::Sign('-'));
        if !c.sign('-') && !c.sign('~') {
            c.word(&["to", "or"])?;
        }
        let worded = matches!(self.peek().map(|t| t.sort), Some(Sort::Word(_)));
        let apart = dash && c.peek().is_some_and(|t| t.spaced);
        let n = c.hundredths()?;
        if apart && self.is_parted_from(n, c) {
            return None;
        }
        // `3x10 to 90 max`: how far, not how many.
        if worded
            && matches!(
                c.peek().map(|t| t.sort),
                Some(Sort::Sign('°') | Sort::Word("max" | "deg" | "degs" | "degrees" | "flex" | "flexion"))
            )
        {
            return None;
        }
        *self = c;
        Some(n)
    }

    /// Whether a dash with space on both sides parts the number before the cursor from `high` rather than makes a range of
    /// both: the same number again, or a time behind what is counted, as in `2 x 5 - 10 s hold`.
    fn is_parted_from(&self, high: u64, mut behind: Cursor<'_>) -> bool {
        let before = |n: usize| self.at.checked_sub(n).and_then(|at| self.all.get(at)).map(|t| t.sort);
        let counted = matches!(before(2), Some(Sort::Word("x") | Sort::Sign('*' | '×')));
        before(1) == Some(Sort::Number(high)) || counted && behind.time_unit().is_some()
    }

    /// A number or a range of numbers in hundredths; the range as written, low first or not.
    pub fn range(&mut self) -> Option<(u64, u64)> {
        let low = self.hundredths()?;
        let high = self.upper().unwrap_or(low);
        Some((low, high))
    }

    /// A count or a range of counts.
    pub fn counts(&mut self) -> Option<Counts> {
        let mut c = *self;
        let (low, high) = c.range()?;
        if !low.is_multiple_of(100) || !high.is_multiple_of(100) {
            return None;
        }
        let found = Counts::new(u32::try_from(low / 100).ok()?, u32::try_from(high / 100).ok()?)?;
        *self = c;
        Some(found)
    }

    /// Seconds in a unit of time, after an optional hyphen (`10-sec`).
    fn time_unit(&mut self) -> Option<u64> {
        let mut c = *self;
        c.sign('-');
        let seconds = if let Some(word) = c.word(&["s", "sec", "secs", "second", "seconds"]) {
            // `second daily` is every other day.
            if word == "second" && matches!(c.peek_word(), Some("daily" | "day")) {
                return None;
            }
            c.sign('.');
            1
        } else if c.word(&["min", "mins", "minute", "minutes"]).is_some() {
            c.sign('.');
            60
        } else if c.word(&["h", "hr", "hrs", "hour", "hours"]).is_some() {
            3600
        } else {
            c = *self;
            // A quote that opens (`3 x 10 "the red one"`) is no unit.
            let opens = c.peek().is_some_and(|t| t.spaced)
                && c.all.iter().skip(c.at + 1).any(|t| matches!(t.sort, Sort::Sign('"' | '\'')));
            let unit = if opens {
                return None;
            } else if c.sign('"') || c.signs("''") {
                1
            } else if c.sign('\'') {
                60
            } else {
                return None;
            };
            // Beside a thing to stand on or by it is inches or feet.
            if c.prop() {
                return None;
            }
            unit
        };
        *self = c;
        Some(seconds)
    }

    /// A time: `30 s`, `30-45 s`, `30 s to 45 s`, `2 min 30 s`, `1:30`, `1/2 min`, `half a minute`.
    pub fn span(&mut self) -> Option<Span> {
        let mut c = *self;
        let found = c.span_parts();
        if found.is_some() {
            *self = c;
        }
        found
    }

    fn span_parts(&mut self) -> Option<Span> {
        let mut half = *self;
        if half.words(&["half", "a", "minute"]) {
            *self = half;
            return Span::one(30);
        }
        if half.words(&["half", "an", "hour"]) {
            *self = half;
            return Span::one(1800);
        }
        let mut c = *self;
        let first = c.hundredths()?;
        // 1:30
        let mut clock = c;
        if clock.sign(':') {
            let short = clock.peek().is_some_and(|t| t.end - t.start == 2 && !t.spaced);
            if let (true, Some(s)) = (short, clock.whole())
                && first.is_multiple_of(100)
                && s < 60
            {
                clock.word(&["min", "mins", "minutes"]);
                *self = clock;
                return Span::one(u32::try_from(first / 100 * 60).ok()? + s);
            }
            return None;
        }
        // 1/2 min
        let mut part = c;
        if part.sign('/') {
            let below = part.hundredths()?;
            // `15/60`: minutes as the trade writes them.
            let tight = self.all.get(self.at + 1..self.at + 3)?.iter().all(|t| !t.spaced);
            if below == 6000
                && tight
                && first.is_multiple_of(100)
                && part.peek().is_none_or(|t| t.spaced || matches!(t.sort, Sort::Sign(_)))
            {
                part.word(&["min", "mins", "minutes"]);
                *self = part;
                return Span::one(u32::try_from(first / 100 * 60).ok()?);
            }
            let unit = part.time_unit()?;
            if first != 100 || !matches!(below, 200 | 400) {
                return None;
            }
            *self = part;
            return Span::one(u32::try_from(unit * 100 / below).ok()?);
        }
        let mut low = first;
        let mut c_unit = c;
        let mut unit = c_unit.time_unit();
        let mut high = first;
        if let Some(u) = unit {
            // 30 s to 45 s; 2 min 30 s
            let mut more = c_unit;
            if (more.sign('-') || more.word(&["to"]).is_some())
                && let (Some(n), Some(u2)) = (more.hundredths(), more.time_unit())
            {
                *self = more;
                let seconds = |n: u64, u: u64| u32::try_from(n.saturating_mul(u) / 100).ok();
                return Span::new(seconds(low, u)?, seconds(n, u2)?);
            }
            let mut more = c_unit;
            if let (60, Some(n)) = (u, more.whole())
                && let (Some(1), true) = (more.time_unit(), n < 60)
            {
                *self = more;
                return Span::one(u32::try_from(low * 60 / 100).ok()? + n);
            }
        } else {
            let mut more = c;
            high = more.upper()?;
            unit = more.time_unit();
            c_unit = more;
        }
        let unit = unit?;
        if !(low * unit).is_multiple_of(100) || !(high * unit).is_multiple_of(100) {
            return None;
        }
        low = low * unit / 100;
        high = high * unit / 100;
        *self = c_unit;
        Span::new(u32::try_from(low).ok()?, u32::try_from(high).ok()?)
    }

    /// A date. Err: a day and month that may be meant either way, or a year of two digits.
    pub fn date(&mut self) -> Option<Result<Date, ()>> {
        let mut c = *self;
        let found = c.date_parts()?;
        *self = c;
        Some(found)
    }

    /// `2026`; `26` is of this century.
    fn year(&mut self) -> Option<u32> {
        let year = self.whole()?;
        Some(if (10..100).contains(&year) { 2000 + year } else { year })
    }

    /// A date without its year: month and day. `14 Dec`, `14th of December`, `Dec 14`.
    pub fn month_and_day(&mut self) -> Option<(u8, u8)> {
        let mut c = *self;
        let ordinal = |c: &mut Self| {
            let day = u8::try_from(c.whole()?).ok().filter(|day| (1..=31).contains(day))?;
            c.word(&["st", "nd", "rd", "th"]);
            Some(day)
        };
        let found = if let Some(month) = c.peek_word().and_then(month) {
            c.at += 1;
            c.sign('.');
            (month, ordinal(&mut c)?)
        } else {
            let day = ordinal(&mut c)?;
            c.word(&["of"]);
            let month = c.peek_word().and_then(month)?;
            c.at += 1;
            c.sign('.');
            (month, day)
        };
        *self = c;
        Some(found)
    }

    fn date_parts(&mut self) -> Option<Result<Date, ()>> {
        if let Some(month) = self.peek_word().and_then(month) {
            self.at += 1;
            self.sign('.');
            let day = self.whole()?;
            self.word(&["st", "nd", "rd", "th"]);
            self.sign(',');
            let year = self.year()?;
            return Date::new(i32::try_from(year).ok()?, month, u8::try_from(day).ok()?).map(Ok);
        }
        // A dotted date such as 30.11.2026 begins with a number of two decimals.
        let (first, dotted) = match self.hundredths()? {
            n if n.is_multiple_of(100) => (u32::try_from(n / 100).ok()?, None),
            n => (u32::try_from(n / 100).ok()?, u32::try_from(n % 100).ok()),
        };
        if let Some(second) = dotted {
            if !self.sign('.') {
                return None;
            }
            let year = self.whole().filter(|y| 1900 <= *y || (10..100).contains(y))?;
            return day_month(first, second, year);
        }
        let mut words = *self;
        words.word(&["st", "nd", "rd", "th"]);
        words.word(&["of"]);
        if let Some(month) = words.peek_word().and_then(month) {
            words.at += 1;
            words.sign('.');
            words.sign(',');
            let year = words.year()?;
            *self = words;
            return Date::new(i32::try_from(year).ok()?, month, u8::try_from(first).ok()?).map(Ok);
        }
        let sign = ['-', '/', '.'].into_iter().find(|s| self.sign(*s))?;
        let second = self.whole()?;
        if !self.sign(sign) {
            return None;
        }
        let third = self.whole()?;
        if 1900 <= first {
            return Date::new(
                i32::try_from(first).ok()?,
                u8::try_from(second).ok()?,
                u8::try_from(third).ok()?,
            )
            .map(Ok);
        }
        day_month(first, second, third)
    }
}

/// `30/11/2026`: clear only where one of the two cannot be a month.
fn day_month(first: u32, second: u32, year: u32) -> Option<Result<Date, ()>> {
    // `26`: of this century. Of `4/1/27` day and month are as unclear as ever.
    let year = if year < 100 { 2000 + year } else { year };
    let (first8, second8) = (u8::try_from(first).ok()?, u8::try_from(second).ok()?);
    let year = i32::try_from(year).ok()?;
    match (first <= 12, second <= 12) {
        (true, true) if first != second => Some(Err(())),
        (_, true) => Date::new(year, second8, first8).map(Ok),
        (true, false) => Date::new(year, first8, second8).map(Ok),
        (false, false) => None,
    }
}

/// The number of a month's name, 1 to 12.
pub fn month(word: &str) -> Option<u8> {
    const NAMES: [&str; 12] = [
        "january",
        "february",
        "march",
        "april",
        "may",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ];
    let at = NAMES
        .iter()
        .position(|n| *n == word || n.get(..3) == Some(word) || (word == "sept" && *n == "september"))?;
    u8::try_from(at + 1).ok()
}
