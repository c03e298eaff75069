//! What the pieces of a dose look like: one function for each part, tried in order at a place in the line.

use super::parts::{
    Carrier, Days, Each, Ending, Load, MassUnit, Moment, Often, Part, Ramp, Step, Tempo, Unit,
};
use super::say::Doubt;
use super::tokens::{Cursor, Sort};
use super::{Effort, End, Event, Manner, Portion, Sided, Stretch, Tally, Work};
use crate::measure::{Counts, Span, Weekdays};

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
    PerDay(Counts),
    AllDay(Often),
    /// `at most 4/day`.
    DayCap(u8),
    /// `at most 20`.
    Cap(Counts),
    Moment(Moment),
    Ramp(Ramp),
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
        Some(Sort::Sign(s)) => return matches!(s, '(' | '+' | '*' | '/' | '<' | '='),
        Some(Sort::Number(_)) => return true,
        None => return false,
    };
    let mut next = c;
    next.at += 1;
    matches!(next.peek_word(), Some("band" | "resistance" | "elastic" | "exercise"))
        || weekday(word).is_some()
        || matches!(
            word,
            "x" | "slow"
                | "quick"
                | "fast"
                | "amrap"
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
                | "in"
                | "total"
                | "altogether"
                | "e"
                | "b"
                | "each"
                | "per"
                | "ea"
                | "every"
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
                | "on"
                | "weekdays"
                | "weekends"
                | "weekend"
                | "m"
                | "when"
                | "prn"
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
                | "after"
                | "add"
                | "plus"
                | "for"
        )
}

/// The part that starts at the cursor. `source` is the line, for words kept as typed.
pub fn at(c: Cursor<'_>, source: &str) -> Option<Hit> {
    if !may_begin(c) {
        return None;
    }
    ramp(c)
        .or_else(|| until(c, source))
        .or_else(|| often(c))
        .or_else(|| hold(c))
        .or_else(|| tempo(c))
        .or_else(|| effort(c))
        .or_else(|| load(c, source))
        .or_else(|| work(c, source))
        .or_else(|| sided(c))
        .or_else(|| moment(c, source))
        .or_else(|| bare(c, source))
}

/// Words that join parts and mean nothing of their own.
pub fn is_filler(c: Cursor<'_>) -> bool {
    match c.peek().map(|t| t.sort) {
        Some(Sort::Word(w)) => matches!(
            w,
            "with"
                | "w"
                | "and"
                | "at"
                | "for"
                | "of"
                | "then"
                | "do"
                | "in"
                | "the"
                | "a"
                | "approx"
                | "about"
                | "keep"
        ),
        Some(Sort::Sign(s)) => matches!(s, '@' | '&' | '+' | '.' | '/' | '-' | ':' | '=' | '|'),
        Some(Sort::Number(_)) | None => false,
    }
}

// ---- work ----

fn portion(manner: Option<Manner>, work: Work) -> Item {
    Item::Work(Portion { manner, work })
}

fn reps(sets: Option<Counts>, reps: Option<Counts>, ending: Ending) -> Work {
    Work::Repetitions { sets, reps, ending }
}

const SETS: [&str; 5] = ["sets", "set", "rounds", "round", "series"];
const REPS: [&str; 9] =
    ["reps", "rep", "repetitions", "repetition", "repeats", "times", "lifts", "goes", "contractions"];
const HOLDS: [&str; 6] = ["hold", "holds", "held", "holding", "isometric", "contraction"];

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

fn plain_work(c: Cursor<'_>, source: &str) -> Option<Hit> {
    intervals(c, source)
        .or_else(|| multiplied(c))
        .or_else(|| of_sets(c))
        .or_else(|| of_reps(c))
        .or_else(|| of_time(c))
        .or_else(|| amount(c, None))
        .or_else(|| open_ended(c, None))
}

/// `6 x (1 min brisk, 2 min easy)`.
fn intervals(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
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

/// `3 x 10`, `3 x 30 s`, `2 x 5 x 10 s`, `3 x 10 x 5 kg`, `10 x 3`, `x 10`.
fn multiplied(mut c: Cursor<'_>) -> Option<Hit> {
    let begun = c;
    if c.times() {
        if let Some(span) = c.span() {
            return hit(c, portion(None, Work::Time(span)));
        }
        let n = c.counts()?;
        if c.word(&SETS).is_some() {
            return hit(c, portion(None, reps(Some(n), None, Ending::Number)));
        }
        if is_rate(c) {
            return None;
        }
        c.word(&REPS);
        return hit(c, portion(None, reps(None, Some(n), Ending::Number)));
    }
    let first = c.counts()?;
    if !c.times() {
        return None;
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
    if metre.counts().is_some() && metre.word(&["m"]).is_some() {
        return ask(metre, Doubt::MinuteOrMetre);
    }
    let second = c.counts()?;
    let ending = if up_to { Ending::AsAble } else { Ending::Number };
    let mut third = c;
    if third.times() && !is_rate_ahead(third) {
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
    // 10 x 3/day, 10 x 3 times a day: the second number says how often.
    if is_rate(c) {
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
    hit(c, portion(None, reps(Some(first), Some(second), ending)))
}

/// Whether what follows a number makes it a rate: `/day`, `times a day`, `x a week`, `per day`.
fn is_rate(mut c: Cursor<'_>) -> bool {
    let mut weekly = c;
    if weekly.word(&["weekly"]).is_some() {
        return true;
    }
    let times = c.times() | c.word(&["times", "time"]).is_some();
    let over =
        c.sign('/') | c.word(&["a", "per"]).is_some() | (times && c.word(&["each", "every"]).is_some());
    (over || times) && c.word(&["day", "d", "week", "wk", "w", "daily", "weekly"]).is_some()
}

/// Whether a number with a rate after it stands here: `3 daily`, `2/day`.
fn is_rate_ahead(mut c: Cursor<'_>) -> bool {
    c.counts().is_some() && (is_rate(c) || c.word(&["daily", "day", "week", "wk"]).is_some())
}

fn daily_ahead(mut c: Cursor<'_>) -> bool {
    c.sign(',');
    c.word(&["daily"]).is_some()
        || c.words(&["every", "day"])
        || c.words(&["each", "day"])
        || c.words(&["a", "day"])
}

/// `3 sets of 10`, `3 sets`, `3 rounds of 30 s`.
fn of_sets(mut c: Cursor<'_>) -> Option<Hit> {
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
    if c.words(&["up", "to"]) {
        if let Some(n) = c.counts() {
            c.word(&REPS);
            return hit(c, portion(None, reps(Some(sets), Some(n), Ending::AsAble)));
        }
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
fn of_reps(mut c: Cursor<'_>) -> Option<Hit> {
    let able = c.words(&["up", "to"]);
    let ending = if able { Ending::AsAble } else { Ending::Number };
    let n = c.counts()?;
    let word = c.word(&REPS).or_else(|| c.word(&HOLDS));
    let Some(word) = word else {
        return able.then(|| hit(c, portion(None, reps(None, Some(n), Ending::AsAble)))).flatten();
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
    if more.word(&["of"]).is_some() || more.times() {
        if let Some(span) = more.span() {
            more.word(&HOLDS);
            return hit(more, portion(None, Work::Bouts { sets: None, bouts: n, span }));
        }
    }
    let mut more = c;
    let joined = more.times() | more.word(&["for"]).is_some();
    if joined && !is_rate_ahead(more) {
        if let Some(sets) = more.counts() {
            let said = more.word(&SETS).is_some() | more.word(&["times"]).is_some();
            if said || !matches!(more.peek().map(|t| t.sort), Some(Sort::Word("s" | "sec" | "min"))) {
                return hit(more, portion(None, reps(Some(sets), Some(n), ending)));
            }
        }
    }
    let mut more = c;
    if let Some(sets) = more.counts() {
        if more.word(&SETS).is_some() {
            return hit(more, portion(None, reps(Some(sets), Some(n), ending)));
        }
    }
    hit(c, portion(None, reps(None, Some(n), ending)))
}

/// `8 min`, `10 s x 5`.
fn of_time(mut c: Cursor<'_>) -> Option<Hit> {
    let span = c.span()?;
    let mut more = c;
    if more.times() && !is_rate_ahead(more) {
        if let Some(n) = more.counts() {
            let mut third = more;
            if third.times() && !is_rate_ahead(third) {
                if let Some(sets) = third.counts() {
                    if third.word(&SETS).is_some() {
                        return hit(third, portion(None, Work::Bouts { sets: Some(sets), bouts: n, span }));
                    }
                    return ask(third, Doubt::ThreeNumbers { sets, reps: n });
                }
            }
            more.word(&REPS);
            more.word(&SETS);
            return hit(more, portion(None, Work::Bouts { sets: None, bouts: n, span }));
        }
    }
    hit(c, portion(None, Work::Time(span)))
}

/// `6000 steps`, `20 metres`, `10 breaths`.
fn amount(mut c: Cursor<'_>, sets: Option<Counts>) -> Option<Hit> {
    let (low, high) = c.range()?;
    let (unit, hundredths) = match c.peek_word()? {
        "step" | "steps" => (Unit::Steps, 100),
        "metre" | "metres" | "meter" | "meters" => (Unit::Metres, 100),
        "km" | "kms" | "kilometre" | "kilometres" | "kilometer" | "kilometers" => (Unit::Kilometres, 100),
        "length" | "lengths" => (Unit::Lengths, 100),
        "flight" | "flights" => (Unit::Flights, 100),
        "breath" | "breaths" => (Unit::Breaths, 100),
        "m" if sets.is_none() => {
            c.at += 1;
            return ask(c, Doubt::MinuteOrMetre);
        }
        _ => return None,
    };
    c.at += 1;
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
fn open_ended(mut c: Cursor<'_>, sets: Option<Counts>) -> Option<Hit> {
    let ending = ending(&mut c)?;
    match (ending, sets) {
        (Ending::AsMany, _) | (_, Some(_)) => hit(c, portion(None, reps(sets, None, ending))),
        (_, None) => hit(c, Item::Ending(ending)),
    }
}

fn ending(c: &mut Cursor<'_>) -> Option<Ending> {
    if c.word(&["amrap"]).is_some()
        || c.words(&["as", "many", "as", "possible"])
        || c.words(&["as", "many", "reps", "as", "possible"])
        || c.words(&["max", "reps"])
    {
        return Some(Ending::AsMany);
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
fn bare(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let n = c.counts()?;
    let follows = |mut rest: Cursor<'_>| {
        // A full stop after the number ends nothing.
        let mut stop = rest;
        if stop.sign('.') && stop.peek().is_none_or(|t| t.spaced) {
            rest = stop;
        }
        let next = ramp(rest)
            .or_else(|| until(rest, source))
            .or_else(|| often(rest))
            .or_else(|| hold(rest))
            .or_else(|| tempo(rest))
            .or_else(|| effort(rest))
            .or_else(|| load(rest, source))
            .or_else(|| sided(rest))
            .or_else(|| moment(rest, source))
            .or_else(|| open_ended(rest, None));
        rest.is_done() || next.is_some()
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
    if !known || (c.is_done() && 1000 <= n.low()) {
        return None;
    }
    hit(c, portion(None, reps(None, Some(n), Ending::Number)))
}

// ---- hold, rest, tempo ----

fn hold(mut c: Cursor<'_>) -> Option<Hit> {
    let begun = c;
    if c.word(&["hold", "holds", "held", "holding"]).is_some() {
        c.word(&["for", "each", "of"]);
        c.sign(':');
        let span = c.span().or_else(|| {
            // `hold 5` has no unit; a hold is counted in seconds.
            let n = c.counts()?;
            Span::new(n.low(), n.high()).filter(|s| s.high() <= 300)
        })?;
        let mut more = c;
        if more.times() && !is_rate_ahead(more) {
            if let Some(n) = more.counts() {
                more.word(&REPS);
                return hits(
                    more,
                    vec![portion(None, reps(None, Some(n), Ending::Number)), Item::Hold(span)],
                );
            }
        }
        return hit(c, Item::Hold(span));
    }
    if c.word(&["rest", "rests", "resting", "pause"]).is_some() {
        c.word(&["for", "of"]);
        c.sign(':');
        let span = c.span()?;
        between(&mut c);
        return hit(c, Item::Rest(span));
    }
    c = begun;
    let span = c.span()?;
    if c.word(&["hold", "holds", "held", "isometric"]).is_some() {
        let mut more = c;
        if more.times() && !is_rate_ahead(more) {
            if let Some(n) = more.counts() {
                more.word(&REPS);
                return hits(
                    more,
                    vec![portion(None, reps(None, Some(n), Ending::Number)), Item::Hold(span)],
                );
            }
        }
        c.words(&["each"]);
        return hit(c, Item::Hold(span));
    }
    if c.word(&["rest", "rests", "break", "recovery"]).is_some() {
        between(&mut c);
        return hit(c, Item::Rest(span));
    }
    if c.word(&["between", "b"]).is_some() {
        c.sign('/');
        c.word(&["w"]);
        c.word(&["sets", "each", "holds", "reps"])?;
        c.word(&["set"]);
        return hit(c, Item::Rest(span));
    }
    None
}

fn between(c: &mut Cursor<'_>) {
    let mut more = *c;
    if more.word(&["between", "after"]).is_some() {
        more.word(&["each", "every"]);
        if more.word(&["sets", "set", "holds", "hold", "reps", "rounds"]).is_some() {
            *c = more;
        }
    }
}

fn tempo(mut c: Cursor<'_>) -> Option<Hit> {
    let said = c.word(&["tempo"]).is_some();
    if said {
        c.sign(':');
        let mut packed = c;
        if let Some(t) = packed.peek() {
            if let (4, Some(n)) = (t.end - t.start, packed.whole()) {
                let digit = |d: u32| u8::try_from(n / d % 10).unwrap_or(0);
                let tempo = Tempo::new([digit(1000), digit(100), digit(10), digit(1)])?;
                return hit(packed, Item::Tempo(tempo));
            }
        }
    }
    let mut seconds = [0u8; 4];
    let mut count = 0;
    let mut sign = None;
    for slot in &mut seconds {
        let mut more = c;
        if 0 < count {
            let found = ['-', '/', ':'].into_iter().find(|s| more.sign(*s));
            if found.is_none() || (sign.is_some() && sign != found) {
                break;
            }
            sign = found;
        }
        let Some(n) = more.whole().and_then(|n| u8::try_from(n).ok()) else { break };
        *slot = n;
        count += 1;
        c = more;
    }
    let enough = if said { 3 <= count } else { count == 4 && sign == Some('-') };
    let more = c.peek().is_some_and(|t| !t.spaced && matches!(t.sort, Sort::Sign('-' | '/')));
    if !enough || more {
        return None;
    }
    c.word(&["tempo"]);
    hit(c, Item::Tempo(Tempo::new(seconds)?))
}

// ---- effort and pain ----

fn effort(c: Cursor<'_>) -> Option<Hit> {
    rated(c).or_else(|| percent(c)).or_else(|| reserve(c)).or_else(|| pain(c))
}

/// The scale after a number: `of 10`, `/10`, `out of 10`.
fn scale(c: &mut Cursor<'_>) -> Option<u32> {
    let mut more = *c;
    more.word(&["out"]);
    if !more.sign('/') {
        more.word(&["of"])?;
    }
    let n = more.whole()?;
    *c = more;
    Some(n)
}

fn of_ten(low: u64, high: u64) -> Option<Effort> {
    if low % 50 != 0 || high % 50 != 0 || high < low || 1000 < high {
        return None;
    }
    Some(Effort::OfTen {
        low_halves: u8::try_from(low / 50).ok()?,
        high_halves: u8::try_from(high / 50).ok()?,
    })
}

fn rated(mut c: Cursor<'_>) -> Option<Hit> {
    let before = c.word(&["effort", "rpe", "borg", "exertion"]);
    if before.is_some() {
        c.sign(':');
        c.sign('@');
        c.word(&["of", "at", "about"]);
    }
    let (low, high) = c.range()?;
    let scale = scale(&mut c);
    if before.is_none() {
        scale?;
        c.word(&["effort", "rpe", "exertion"])?;
    }
    match scale {
        Some(10) => hit(c, Item::Effort(of_ten(low, high)?)),
        Some(20) => {
            let good = low <= high && 600 <= low && high <= 2000 && low % 100 == 0 && high % 100 == 0;
            let part = |n: u64| u8::try_from(n / 100).ok();
            good.then_some(())?;
            hit(c, Item::Effort(Effort::OfTwenty { low: part(low)?, high: part(high)? }))
        }
        Some(_) => None,
        None if c.sign('%') => {
            let part = |n: u64| u8::try_from(n / 100).ok().filter(|p| (1..=100).contains(p));
            hit(
                c,
                Item::Effort(Effort::Percent {
                    low: part(low)?,
                    high: part(high).filter(|h| low / 100 <= u64::from(*h))?,
                }),
            )
        }
        // Below 6 only one scale has the number; above 10 only the other.
        None if high < 600 => hit(c, Item::Effort(of_ten(low, high)?)),
        None if 1000 < low && low <= high && high <= 2000 && low % 100 == 0 && high % 100 == 0 => {
            let part = |n: u64| u8::try_from(n / 100).ok();
            hit(c, Item::Effort(Effort::OfTwenty { low: part(low)?, high: part(high)? }))
        }
        None if low <= high && high <= 2000 => ask(c, Doubt::WhichScale { low, high }),
        None => None,
    }
}

fn percent(mut c: Cursor<'_>) -> Option<Hit> {
    let (low, high) = c.range()?;
    if !c.sign('%') {
        c.word(&["percent", "pct"])?;
    }
    let (low, high) = (u8::try_from(low / 100).ok()?, u8::try_from(high / 100).ok()?);
    if low < 1 || high < low || 150 < high {
        return None;
    }
    let mut more = c;
    more.word(&["of"]);
    let mut rm = more;
    if rm.whole() == Some(1) && rm.word(&["rm"]).is_some() {
        return hit(rm, Item::Load(Load::OfMaximum { low, high }));
    }
    more.word(&["max", "maximum", "maximal"]);
    let said = more.word(&["effort", "mvc", "mvic", "intensity", "contraction", "squeeze"]).is_some();
    if said && high <= 100 {
        return hit(more, Item::Effort(Effort::Percent { low, high }));
    }
    ask(c, Doubt::PercentOfWhat { low, high })
}

fn reserve(mut c: Cursor<'_>) -> Option<Hit> {
    let before = c.word(&["rir"]).is_some();
    let (low, high) = c.range()?;
    if !before {
        let mut more = c;
        if more.word(&["rir"]).is_some() {
            c = more;
        } else {
            c.word(&["reps", "rep"]);
            let left = c.words(&["in", "reserve"])
                || c.words(&["left", "in", "the", "tank"])
                || c.words(&["in", "the", "tank"]);
            left.then_some(())?;
        }
    }
    if low % 100 != 0 || high % 100 != 0 || high < low || 2000 < high {
        return None;
    }
    hit(c, Item::Reserve(u8::try_from(low / 100).ok()?, u8::try_from(high / 100).ok()?))
}

/// Takes "at most" in any of its spellings; Some(true) where the number itself is left out (`below 4`).
pub fn at_most(c: &mut Cursor<'_>) -> Option<bool> {
    if c.signs("<=") || c.signs("=<") {
        return Some(false);
    }
    if c.sign('<') {
        return Some(true);
    }
    for open in [&["below"][..], &["under"], &["less", "than"]] {
        if c.words(open) {
            return Some(true);
        }
    }
    let closed: [&[&str]; 14] = [
        &["at", "most"],
        &["no", "more", "than"],
        &["not", "more", "than"],
        &["no", "worse", "than"],
        &["not", "above"],
        &["not", "over"],
        &["not", "past"],
        &["not", "beyond"],
        &["no", "further", "than"],
        &["maximum", "of"],
        &["maximum"],
        &["max"],
        &["up", "to"],
        &["not", "exceeding"],
    ];
    for words in closed {
        if c.words(words) {
            c.sign('.');
            return Some(false);
        }
    }
    None
}

fn pain(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["keep"]);
    c.word(&["pain", "vas", "nrs", "nprs"])?;
    c.sign(':');
    let open = at_most(&mut c)?;
    let n = c.whole()?;
    if c.word(&["out"]).is_some() | c.sign('/') | c.word(&["of"]).is_some() && c.whole() != Some(10) {
        return None;
    }
    let n = if open { n.checked_sub(1)? } else { n };
    hit(c, Item::Pain(u8::try_from(n).ok().filter(|n| *n <= 10)?))
}

// ---- loads ----

/// A mass or a range of masses: low, high in hundredths of the unit.
fn mass(c: &mut Cursor<'_>) -> Option<(u32, u32, MassUnit)> {
    let mut m = *c;
    let (mut low, mut high) = m.range()?;
    m.sign('-');
    let unit = if m.word(&["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"]).is_some() {
        MassUnit::Kilogram
    } else if m.word(&["lb", "lbs", "pound", "pounds"]).is_some() {
        MassUnit::Pound
    } else {
        m.word(&["g", "gram", "grams"])?;
        if low % 1000 != 0 || high % 1000 != 0 {
            return None;
        }
        low /= 1000;
        high /= 1000;
        MassUnit::Kilogram
    };
    let (low, high) = (u32::try_from(low).ok()?, u32::try_from(high).ok()?);
    if low < 1 || high < low || 50_000 < high {
        return None;
    }
    *c = m;
    Some((low, high, unit))
}

fn carrier(c: &mut Cursor<'_>) -> Option<Carrier> {
    for words in [["ankle", "weight"], ["ankle", "weights"], ["cuff", "weight"], ["cuff", "weights"]] {
        if c.words(&words) {
            return Some(Carrier::AnkleWeight);
        }
    }
    let found = match c.peek_word()? {
        "dumbbell" | "dumbbells" | "dumbell" | "dumbells" | "db" | "dbs" => Carrier::Dumbbell,
        "kettlebell" | "kettlebells" | "kb" => Carrier::Kettlebell,
        "barbell" => Carrier::Barbell,
        "bottle" | "bottles" => Carrier::Bottle,
        "tin" | "tins" => Carrier::Tin,
        "rucksack" | "backpack" => Carrier::Pack,
        _ => return None,
    };
    c.at += 1;
    Some(found)
}

fn carrier_after(c: &mut Cursor<'_>) -> Option<Carrier> {
    let mut more = *c;
    let found = carrier(&mut more);
    if found.is_some() {
        *c = more;
    }
    found
}

fn each_of(c: &mut Cursor<'_>) -> Option<Each> {
    let mut more = *c;
    more.word(&["in"]);
    if !more.sign('/') {
        more.word(&["each", "per", "ea", "either"])?;
    }
    let found = if more.word(&["hand", "arm"]).is_some() {
        Each::Hand
    } else if more.word(&["leg", "ankle", "foot"]).is_some() {
        Each::Leg
    } else {
        more.word(&["side"]);
        Each::Side
    };
    *c = more;
    Some(found)
}

/// A load at the cursor: `2 kg each hand`, `ankle weight 1 kg`, `band "the red one"`, `red band`.
pub fn load(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    if let Some(found) = band(c, source) {
        return Some(found);
    }
    let mut comma = c;
    if comma.whole().is_some() && comma.sign(',') {
        let tight = comma.peek().is_some_and(|t| !t.spaced && t.end - t.start <= 2);
        if tight && mass(&mut comma).is_some() {
            return ask(comma, Doubt::DecimalComma);
        }
    }
    let before = carrier_after(&mut c);
    if before.is_some() {
        c.word(&["of"]);
        c.sign(':');
    }
    let (low, high, unit) = mass(&mut c)?;
    let mut each = each_of(&mut c);
    let carrier = before.or_else(|| carrier_after(&mut c));
    each = each.or_else(|| each_of(&mut c));
    c.word(&["weight", "weights", "load"]);
    hit(c, Item::Load(Load::Mass { low, high, unit, carrier, each }))
}

fn band(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    if c.word(&["band"]).is_some() {
        c.sign(':');
        let quote = ['"', '\''].into_iter().find(|q| c.sign(*q))?;
        let from = c.peek()?.start;
        let mut to = from;
        loop {
            let t = c.peek()?;
            c.at += 1;
            if t.sort == Sort::Sign(quote) {
                break;
            }
            to = t.end;
        }
        let label = crate::text::trim(source.get(from..to)?);
        let good = !label.is_empty() && !crate::text::fold::folded(label).contains('"');
        return good.then(|| hit(c, Item::Load(Load::Band(label.to_string())))).flatten();
    }
    let t = c.peek()?;
    let label = c.peek_word()?;
    let kit = [
        "loop",
        "long",
        "resistance",
        "elastic",
        "exercise",
        "therapy",
        "mini",
        "rubber",
        "a",
        "the",
        "with",
        "w",
        "and",
        "no",
        "of",
        "it",
        "knee",
        "ankle",
        "anchor",
        "each",
        "stretch",
        "stretchy",
    ];
    if kit.contains(&label) || is_filler(c) {
        return None;
    }
    c.at += 1;
    c.word(&["resistance", "elastic", "exercise"]);
    c.word(&["band"])?;
    hit(c, Item::Load(Load::Band(source.get(t.start..t.end)?.to_string())))
}

// ---- sides ----

const LIMBS: [&str; 16] = [
    "side",
    "sides",
    "leg",
    "legs",
    "arm",
    "arms",
    "foot",
    "feet",
    "hand",
    "hands",
    "way",
    "ways",
    "direction",
    "directions",
    "limb",
    "limbs",
];

/// Words of side at the cursor. `L3`, `L4/5`, `R2` are not sides: nothing may stick to a single letter.
pub fn sided(c: Cursor<'_>) -> Option<Hit> {
    let (side, next) = side_words(c)?;
    hit(next, side)
}

fn side_words(mut c: Cursor<'_>) -> Option<(Item, Cursor<'_>)> {
    let mut bracket = c;
    if bracket.sign('(') {
        if let Some((item, mut after)) = side_words(bracket) {
            if after.sign(')') {
                return Some((item, after));
            }
        }
        return None;
    }
    if c.words(&["in", "all"]) || c.words(&["in", "total"]) || c.word(&["total", "altogether"]).is_some() {
        return Some((Item::Tally(Tally::InAll), c));
    }
    // E/S, B/L
    for (letters, side) in [(["e", "s"], Sided::EachSide), (["b", "l"], Sided::EachSide)] {
        let mut more = c;
        if more.word(&letters[..1]).is_some()
            && more.sign('/')
            && more.word(&letters[1..]).is_some()
            && is_free(more)
        {
            return Some((Item::Sided(side), more));
        }
    }
    let mut slash = c;
    if slash.sign('/') && slash.word(&["side", "leg", "arm", "foot", "hand"]).is_some() {
        return Some((Item::Sided(Sided::EachSide), slash));
    }
    let mut each = c;
    if each.word(&["each", "per", "ea", "every", "either"]).is_some() && each.word(&LIMBS).is_some() {
        return Some((Item::Sided(Sided::EachSide), each));
    }
    if c.word(&["bilat", "bilateral", "bilaterally"]).is_some() {
        return Some((Item::Sided(Sided::EachSide), c));
    }
    if c.word(&["together"]).is_some() {
        return Some((Item::Sided(Sided::Together), c));
    }
    if c.word(&["alternating", "alternately", "alt", "alternate"]).is_some() {
        if c.word(&["days", "day"]).is_some() {
            return None;
        }
        c.word(&LIMBS);
        return Some((Item::Sided(Sided::Alternating), c));
    }
    if c.word(&["both"]).is_some() {
        let mut more = c;
        more.word(&LIMBS);
        let mut joined = more;
        if joined.word(&["together"]).is_some() {
            return Some((Item::Sided(Sided::Together), joined));
        }
        return Some((Item::Sided(Sided::Both), more));
    }
    let first = one_side(&mut c)?;
    let mut more = c;
    let joined = more.sign('+') || more.sign('&') || more.sign('/') || more.word(&["and", "then"]).is_some();
    if joined {
        if let Some(second) = one_side(&mut more) {
            if first != second {
                return Some((Item::Sided(Sided::EachSide), more));
            }
        }
    }
    c.word(&LIMBS);
    Some((Item::Sided(first), c))
}

/// One side: `R`, `Rt`, `right`, `L`, `Lt`, `left`. A single letter must stand free.
pub fn one_side(c: &mut Cursor<'_>) -> Option<Sided> {
    let mut more = *c;
    let side = match more.peek_word()? {
        "r" | "rt" | "right" | "rhs" => Sided::Right,
        "l" | "lt" | "left" | "lhs" => Sided::Left,
        _ => return None,
    };
    more.at += 1;
    let stuck = match more.peek() {
        Some(t) if !t.spaced => match t.sort {
            Sort::Number(_) | Sort::Word(_) => true,
            Sort::Sign(s) => matches!(s, '\'' | '-' | '/') && !side_follows(more),
        },
        Some(_) | None => false,
    };
    let glued =
        more.at.checked_sub(2).and_then(|i| more.all.get(i)).zip(more.all.get(more.at - 1)).is_some_and(
            |(before, t)| {
                !t.spaced
                    && matches!(before.sort, Sort::Number(_) | Sort::Sign('-' | '\''))
                    && t.end - t.start == 1
            },
        );
    if stuck || glued {
        return None;
    }
    *c = more;
    Some(side)
}

fn side_follows(mut c: Cursor<'_>) -> bool {
    c.at += 1;
    matches!(c.peek_word(), Some("r" | "l" | "rt" | "lt" | "right" | "left"))
}

fn is_free(c: Cursor<'_>) -> bool {
    c.peek().is_none_or(|t| t.spaced || matches!(t.sort, Sort::Sign(',' | ';' | ')' | '.' | ':')))
}

// ---- how often ----

fn often(c: Cursor<'_>) -> Option<Hit> {
    rate(c)
        .or_else(|| abbreviated(c))
        .or_else(|| sevenths(c))
        .or_else(|| every(c))
        .or_else(|| hourly(c))
        .or_else(|| weekdays(c))
        .or_else(|| as_needed(c))
}

fn daily(n: Counts) -> Option<Vec<Item>> {
    (n.high() <= 24).then(|| vec![Item::PerDay(n)])
}

/// `2/day`, `3 x a week`, `x3 daily`, `3 days a week`, `twice daily`, `daily`, `weekly`.
fn rate(mut c: Cursor<'_>) -> Option<Hit> {
    if c.word(&["daily", "everyday"]).is_some() {
        return hit(c, Item::Days(Days::Daily));
    }
    if c.word(&["weekly"]).is_some() {
        return hit(c, Item::Days(Days::PerWeek(Counts::ONE)));
    }
    let mut plain = c;
    if plain.word(&["a", "per"]).is_some() {
        return match plain.word(&["day", "week", "wk"])? {
            "day" => hit(plain, Item::Days(Days::Daily)),
            _ => hit(plain, Item::Days(Days::PerWeek(Counts::ONE))),
        };
    }
    let adverb = c.word(&["once", "twice", "thrice"]);
    let lead = adverb.is_none() && c.times();
    let n = match adverb {
        Some("once") => Counts::ONE,
        Some("twice") => Counts::one(2)?,
        Some(_) => Counts::one(3)?,
        None => c.counts()?,
    };
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
    let unit = c.word(&["day", "d", "daily", "week", "wk", "w", "weekly"])?;
    c.sign('.');
    let week = unit.starts_with('w');
    let marked = adverb.is_some() || lead || times || over || (days && week) || unit == "weekly";
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

fn abbreviated(mut c: Cursor<'_>) -> Option<Hit> {
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
fn sevenths(mut c: Cursor<'_>) -> Option<Hit> {
    let n = c.whole()?;
    let tight = c.peek().is_some_and(|t| !t.spaced);
    if !tight || !c.sign('/') || c.whole() != Some(7) || !(1..=7).contains(&n) {
        return None;
    }
    let days = if n == 7 { Days::Daily } else { Days::PerWeek(Counts::one(n)?) };
    noted(c, vec![Item::Days(days)], Doubt::Sevenths { n })
}

fn every(mut c: Cursor<'_>) -> Option<Hit> {
    if c.word(&["alternate", "alternating", "alt"]).is_some() {
        c.word(&["days", "day"])?;
        return hit(c, Item::Days(Days::Every(2)));
    }
    c.word(&["every", "each", "q"])?;
    let mut other = c;
    let nth = match other.word(&["other", "second", "third", "fourth", "day", "hour", "waking", "week"]) {
        Some("other" | "second") => Some(2),
        Some("third") => Some(3),
        Some("fourth") => Some(4),
        Some("day") => return hit(other, Item::Days(Days::Daily)),
        Some("week") => return hit(other, Item::Days(Days::PerWeek(Counts::ONE))),
        Some("hour") => return hit(other, Item::AllDay(Often::Hours(1))),
        Some("waking") => {
            other.word(&["hour"])?;
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
    let mut number = c;
    if let Some(n) = number.whole() {
        let n = u8::try_from(n).ok()?;
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

fn hourly(mut c: Cursor<'_>) -> Option<Hit> {
    if c.words(&["little", "and", "often"]) || c.words(&["little", "often"]) {
        return hit(c, Item::AllDay(Often::LittleAndOften));
    }
    let mut amp = c;
    if amp.word(&["little"]).is_some() && amp.sign('&') && amp.word(&["often"]).is_some() {
        return hit(amp, Item::AllDay(Often::LittleAndOften));
    }
    if c.word(&["hourly"]).is_some() {
        return hit(c, Item::AllDay(Often::Hours(1)));
    }
    let n = u8::try_from(c.whole()?).ok().filter(|n| (1..=12).contains(n))?;
    c.sign('-');
    c.word(&["hourly"])?;
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
    let mut letters = *c;
    if letters.word(&["m"]).is_some() {
        let sep = |l: &mut Cursor<'_>| {
            l.sign('/');
            l.sign(',');
        };
        sep(&mut letters);
        if letters.word(&["w"]).is_some() {
            sep(&mut letters);
            if letters.word(&["f"]).is_some() {
                *c = letters;
                return Weekdays::new([0, 2, 4]);
            }
        }
    }
    let mut all: Vec<u8> = Vec::new();
    let mut more = *c;
    loop {
        let Some(first) = more.peek_word().and_then(weekday) else { break };
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
        *c = more;
        let joined =
            more.sign(',') | more.sign('/') | more.sign('&') | more.sign('+') | more.word(&["and"]).is_some();
        let _ = joined;
    }
    Weekdays::new(all)
}

fn weekdays(mut c: Cursor<'_>) -> Option<Hit> {
    c.word(&["on"]);
    if matches!(c.peek_word(), Some("daily" | "every" | "each")) {
        return None;
    }
    let days = weekday_set(&mut c)?;
    c.word(&["only"]);
    hit(c, Item::Days(Days::On(days)))
}

/// `as needed`, `PRN`, with its cap; and a cap alone.
fn as_needed(mut c: Cursor<'_>) -> Option<Hit> {
    let phrases: [&[&str]; 9] = [
        &["as", "needed"],
        &["as", "required"],
        &["when", "needed"],
        &["when", "required"],
        &["if", "needed"],
        &["if", "required"],
        &["as", "and", "when", "needed"],
        &["as", "and", "when"],
        &["prn"],
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
        let time = c.peek().is_some_and(|t| matches!(t.sort, Sort::Sign('"' | '\'' | '/' | '%')))
            || matches!(c.peek_word(), Some("s" | "sec" | "min" | "kg" | "mins" | "secs"));
        return (!time).then(|| hit(c, Item::Cap(n))).flatten();
    }
    None
}

fn day_cap(c: &mut Cursor<'_>) -> Option<u8> {
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

// ---- moments, ramps, ends ----

/// A part of the day at the cursor.
pub fn part(mut c: Cursor<'_>) -> Option<(Part, Cursor<'_>)> {
    let part = match c.peek_word()? {
        "morning" | "mornings" | "am" | "mane" => Part::Morning,
        "midday" | "noon" | "lunchtime" | "middays" => Part::Midday,
        "afternoon" | "afternoons" => Part::Afternoon,
        "evening" | "evenings" | "eve" => Part::Evening,
        "night" | "nights" | "nocte" | "bedtime" => Part::Night,
        _ => return None,
    };
    c.at += 1;
    Some((part, c))
}

fn moment(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    if let Some((part, next)) = part(c) {
        return hit(next, Item::Moment(Moment::At(part)));
    }
    if c.word(&["pm"]).is_some() {
        return ask(c, Doubt::AfternoonOrEvening);
    }
    let begun = c;
    let first = c.peek()?;
    let before = c.word(&["before", "after"])? == "before";
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
    let last = c.all.last()?;
    c.at = c.all.len();
    hit(c, Item::Moment(Moment::Words(source.get(first.start..last.end)?.to_string())))
}

/// `+ 2 min every 3 days`, `add 1 rep a week`.
fn ramp(mut c: Cursor<'_>) -> Option<Hit> {
    if !c.sign('+') {
        c.word(&["add", "plus"])?;
    }
    let add = if let Some(span) = c.span() {
        Step::Time(span)
    } else {
        let n = c.counts()?;
        match c.peek_word()? {
            "rep" | "reps" | "repetition" | "repetitions" => Step::Repetitions(n),
            "step" | "steps" => Step::Amount(n, Unit::Steps),
            "metre" | "metres" => Step::Amount(n, Unit::Metres),
            "length" | "lengths" => Step::Amount(n, Unit::Lengths),
            "flight" | "flights" => Step::Amount(n, Unit::Flights),
            "breath" | "breaths" => Step::Amount(n, Unit::Breaths),
            _ => return None,
        }
    };
    if matches!(add, Step::Repetitions(_) | Step::Amount(..)) {
        c.at += 1;
    }
    let over = c.sign('/') | c.word(&["every", "each", "a", "per"]).is_some();
    let mut number = c;
    let every_days = match number.whole() {
        Some(n) if over => {
            c = number;
            let slash = c.sign('/');
            let unit = if slash {
                match c.whole()? {
                    7 => 1,
                    52 => 7,
                    _ => return None,
                }
            } else if c.word(&["day", "days", "d"]).is_some() {
                1
            } else {
                c.word(&["week", "weeks", "wk", "wks"])?;
                7
            };
            n.checked_mul(unit)?
        }
        _ if over && c.words(&["other", "day"]) => 2,
        _ if over && c.word(&["day"]).is_some() => 1,
        _ if c.word(&["daily"]).is_some() => 1,
        _ if c.word(&["weekly"]).is_some() => 7,
        _ if over => {
            c.word(&["week", "wk"])?;
            7
        }
        _ => return None,
    };
    let every_days = u8::try_from(every_days).ok().filter(|n| (1..=31).contains(n))?;
    hit(c, Item::Ramp(Ramp { add, every_days }))
}

/// Weeks, days or months: `2 weeks`, `2/52`, `3/7`, `6/12`; in days and the unit's days.
fn stretch(c: &mut Cursor<'_>) -> Option<(u32, u32)> {
    let mut m = *c;
    let n = m.whole()?;
    m.sign('-');
    let unit = if m.sign('/') {
        match m.whole()? {
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
    if m.peek_word()
        .is_some_and(|w| matches!(w, "day" | "days" | "week" | "weeks" | "wk" | "wks" | "month" | "months"))
    {
        m.at += 1;
    }
    // A month is a twelfth of a year: 6/12 is 183 days.
    let days = if unit == 30 { (n * 365).div_ceil(12) } else { n.checked_mul(unit)? };
    if days == 0 || 1500 < days {
        return None;
    }
    *c = m;
    Some((days, unit))
}

fn event(c: &mut Cursor<'_>) -> Option<Event> {
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

/// An end at the cursor; words that are not understood take the rest of the piece.
pub fn until(mut c: Cursor<'_>, source: &str) -> Option<Hit> {
    let begun = c;
    if c.word(&["for"]).is_some() {
        let (days, _) = stretch(&mut c)?;
        return hit(c, Item::Until(End::For { days: u16::try_from(days).ok()? }));
    }
    if ending(&mut begun.clone()).is_some() {
        return None;
    }
    let said = c.word(&["until", "till", "til", "untill"]).is_some();
    if !said {
        c.word(&["to"])?;
    }
    let tail = c;
    c.word(&["the"]);
    c.words(&["end", "of"]);
    let mut week = c;
    if week.word(&["week", "wk", "w"]).is_some() {
        if let Some(n) = week.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| 1 <= *n) {
            if let Some(event) = event(&mut week) {
                return hit(week, Item::Until(End::After { weeks: n, event }));
            }
            return hit(week, Item::Until(End::Week(n)));
        }
    }
    let mut after = c;
    if let Some((days, _)) = stretch(&mut after) {
        if let (Some(event), true) = (event(&mut after), days.is_multiple_of(7)) {
            return hit(after, Item::Until(End::After { weeks: u8::try_from(days / 7).ok()?, event }));
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
    let is_review = review.word(&["review"]).is_some()
        || (review.word(&["r"]).is_some() && review.sign('/') && review.word(&["v"]).is_some())
        || review.words(&["next", "visit"]);
    if is_review && (review.is_done() || is_free(review)) {
        return hit(review, Item::Until(End::Review));
    }
    let first = tail.peek()?;
    let last = c.all.last()?;
    c.at = c.all.len();
    hit(c, Item::Until(End::Words(source.get(first.start..last.end)?.to_string())))
}
