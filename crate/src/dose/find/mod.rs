//! What the pieces of a dose look like: one function for each part, tried in order at a place in the line.

pub mod effort;
mod hold;
pub mod load;
pub mod moments;
pub mod often;
mod ramp;
pub mod sides;
pub mod span;
mod trade;
pub mod vague;
mod work;

use super::parts::{
    Carrier, Days, Each, Ending, Load, MassUnit, Moment, Often, Part, Ramp, Step, Tempo, Unit,
};
use super::say::Doubt;
use super::{Effort, End, Event, Manner, Portion, Sided, Start, Stretch, Tally, Work, Yearless};
use crate::language::token::{Cursor, Sort};
use crate::language::unit;
use crate::measure::{Counts, Span, Weekdays};

use effort::*;
use hold::*;
use load::*;
use moments::*;
use often::*;
pub use ramp::goes_on as ramp_goes_on;
use ramp::ramp;
use sides::*;
use work::*;

/// One part found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    Work(Portion),
    Hold(Span),
    Rest(Span),
    Tempo(Tempo),
    Load(Load),
    Effort(Effort),
    Reserve(u8, u8),
    Pain(u8),
    Sided(Sided),
    Tally(Tally),
    Ending(Ending),
    Days(Days),
    /// `except Sunday`, `weekends off`.
    DaysOff(Weekdays),
    PerDay(Counts),
    AllDay(Often),
    /// `at most 4/day`.
    DayCap(u8),
    /// `at most 20`.
    Cap(Counts),
    Moment(Moment),
    Ramp(Ramp),
    From(Start),
    Until(End),
    /// To be asked about; what was typed stays as words.
    Ask,
    /// Understood, and adds nothing.
    Nothing,
}

/// What was found at a place: the parts, where reading goes on, and what to tell the writer.
#[derive(Clone, Debug)]
pub struct Hit {
    pub items: Vec<Item>,
    pub next: usize,
    pub doubt: Option<Doubt>,
}

fn hit(c: Cursor<'_>, item: Item) -> Option<Hit> {
    Some(Hit { items: vec![item], next: c.at, doubt: None })
}

fn hits(c: Cursor<'_>, items: Vec<Item>) -> Option<Hit> {
    Some(Hit { items, next: c.at, doubt: None })
}

fn ask(c: Cursor<'_>, doubt: Doubt) -> Option<Hit> {
    Some(Hit { items: vec![Item::Ask], next: c.at, doubt: Some(doubt) })
}

fn noted(c: Cursor<'_>, items: Vec<Item>, doubt: Doubt) -> Option<Hit> {
    Some(Hit { items, next: c.at, doubt: Some(doubt) })
}

/// Whether a token can begin a part at all: most words of a text cannot, and are passed over quickly.
fn may_begin(c: Cursor<'_>) -> bool {
    let word = match c.peek().map(|t| t.sort) {
        Some(Sort::Word(w)) => w,
        Some(Sort::Sign('-')) => return matches!(c.all.get(c.at + 1).map(|t| t.sort), Some(Sort::Sign('>'))),
        Some(Sort::Sign(s)) => return matches!(s, '(' | '+' | '*' | '/' | '<' | '=' | '↑' | '±'),
        Some(Sort::Number(_)) => return true,
        None => return false,
    };
    let mut next = c;
    next.at += 1;
    matches!(
        next.peek_word(),
        Some("band" | "tb" | "tubing" | "tube" | "resistance" | "elastic" | "exercise")
    ) || weekday(word).is_some()
        || trade::may_begin(word)
        || span::may_begin(word)
        || matches!(
            word,
            "x" | "post"
                | "pre"
                | "noct"
                | "slow"
                | "quick"
                | "fast"
                | "amrap"
                | "amap"
                | "as"
                | "if"
                | "max"
                | "to"
                | "until"
                | "till"
                | "til"
                | "untill"
                | "hold"
                | "holds"
                | "held"
                | "holding"
                | "rest"
                | "rests"
                | "resting"
                | "pause"
                | "tempo"
                | "half"
                | "effort"
                | "rpe"
                | "borg"
                | "exertion"
                | "rir"
                | "keep"
                | "pain"
                | "vas"
                | "nrs"
                | "nprs"
                | "at"
                | "no"
                | "not"
                | "maximum"
                | "min"
                | "minimum"
                | "up"
                | "below"
                | "under"
                | "less"
                | "ankle"
                | "cuff"
                | "dumbbell"
                | "dumbbells"
                | "dumbell"
                | "dumbells"
                | "db"
                | "dbs"
                | "kettlebell"
                | "kettlebells"
                | "kb"
                | "barbell"
                | "bottle"
                | "bottles"
                | "tin"
                | "tins"
                | "rucksack"
                | "backpack"
                | "band"
                | "rtb"
                | "ytb"
                | "gtb"
                | "in"
                | "total"
                | "altogether"
                | "e"
                | "b"
                | "each"
                | "per"
                | "ea"
                | "every"
                | "ev"
                | "either"
                | "bilat"
                | "bilateral"
                | "bilaterally"
                | "together"
                | "alternating"
                | "alternately"
                | "alt"
                | "alternate"
                | "both"
                | "r"
                | "rt"
                | "right"
                | "rhs"
                | "l"
                | "lt"
                | "left"
                | "lhs"
                | "daily"
                | "everyday"
                | "weekly"
                | "wkly"
                | "a"
                | "once"
                | "twice"
                | "thrice"
                | "od"
                | "qd"
                | "bd"
                | "bid"
                | "tds"
                | "tid"
                | "qds"
                | "qid"
                | "eod"
                | "qod"
                | "mwf"
                | "nightly"
                | "q"
                | "little"
                | "hourly"
                | "hrly"
                | "on"
                | "weekdays"
                | "weekends"
                | "weekend"
                | "m"
                | "when"
                | "prn"
                | "sos"
                | "hs"
                | "most"
                | "morning"
                | "mornings"
                | "am"
                | "mane"
                | "midday"
                | "middays"
                | "noon"
                | "lunchtime"
                | "afternoon"
                | "afternoons"
                | "evening"
                | "evenings"
                | "eve"
                | "night"
                | "nights"
                | "nocte"
                | "bedtime"
                | "pm"
                | "before"
                | "by"
                | "around"
                | "after"
                | "only"
                | "with"
                | "add"
                | "adding"
                | "plus"
                | "go"
                | "going"
                | "another"
                | "an"
                | "extra"
                | "raise"
                | "for"
        )
}

/// The part that starts at the cursor. `source` is the line, for words kept as typed.
pub fn at(c: Cursor<'_>, source: &str) -> Option<Hit> {
    if !may_begin(c) {
        return None;
    }
    trade::perhaps(c)
        .or_else(|| trade::day_pattern(c))
        .or_else(|| later_on(c))
        .or_else(|| clock(c, source))
        .or_else(|| apart(c, source, false))
        .or_else(|| span::span(c))
        .or_else(|| ramp(c, source))
        .or_else(|| trade::next(c))
        .or_else(|| trade::inches(c))
        .or_else(|| trade::stretch_alone(c))
        .or_else(|| until(c, source))
        .or_else(|| trade::on_off(c))
        .or_else(|| trade::some_times(c, source))
        .or_else(|| often(c))
        .or_else(|| hold(c))
        .or_else(|| tempo(c))
        .or_else(|| bounded(c))
        .or_else(|| effort(c))
        .or_else(|| load(c, source))
        .or_else(|| work(c, source))
        .or_else(|| sided(c))
        .or_else(|| moment(c, source))
        .or_else(|| bare(c, source))
}

/// Whether a single letter stands before the cursor that is no side.
fn behind_a_letter(c: Cursor<'_>) -> bool {
    let before = c.at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort);
    matches!(before, Some(Sort::Word(w)) if w.len() == 1 && !matches!(w, "l" | "r" | "x" | "b" | "d" | "s" | "m" | "a"))
}

/// Words that join parts and mean nothing of their own.
pub fn is_filler(c: Cursor<'_>) -> bool {
    match c.peek().map(|t| t.sort) {
        Some(Sort::Word("c")) => {
            // c 2 kg, c/ band
            c.all.get(c.at + 1).is_some_and(|t| match t.sort {
                Sort::Number(_) => t.spaced,
                Sort::Sign(s) => s == '/',
                Sort::Word(_) => false,
            })
        }
        // `6in` is a height.
        Some(Sort::Word("in")) => c.peek().is_some_and(|t| t.spaced),
        // `++` says how much.
        Some(Sort::Sign('+')) => {
            let plus = |at: Option<usize>| {
                at.and_then(|at| c.all.get(at)).is_some_and(|t| t.sort == Sort::Sign('+'))
            };
            !plus(Some(c.at + 1)) && !plus(c.at.checked_sub(1))
        }
        // `Y T W`: the letters of a shape.
        Some(Sort::Word("w")) if behind_a_letter(c) => false,
        Some(Sort::Word(w)) => matches!(
            w,
            "repeat"
                | "with"
                | "w"
                | "and"
                | "at"
                | "for"
                | "of"
                | "then"
                | "do"
                | "the"
                | "a"
                | "approx"
                | "about"
                | "keep"
        ),
        Some(Sort::Sign(s)) => matches!(s, '@' | '&' | '.' | '/' | '-' | ':' | '=' | '|'),
        Some(Sort::Number(_)) | None => false,
    }
}
