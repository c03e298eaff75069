//! A dose in the patient's words, with the numbers that are printed big.

use crate::dose::Kind;
use crate::dose::Manner;
use crate::dose::Start;
use crate::dose::parts::{
    Carrier, Days, Each, Ending, Load, MassUnit, Moment, Often, Part, Ramp, Step, Unit,
};
use crate::dose::{Effort, Stretch};
use crate::measure::{Counts, Span, WEEKDAY_NAMES, Weekdays, shown};
use crate::programme::growth::Growth;
use crate::programme::{Amount, Exercise, OnSide, Portion};

/// A piece of a line: a number to print big, or words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    Big(String),
    Words(String),
}

/// A line as plain text.
pub fn plain(line: &[Piece]) -> String {
    let words: Vec<&str> = line
        .iter()
        .map(|p| match p {
            Piece::Big(s) | Piece::Words(s) => s.as_str(),
        })
        .collect();
    words.join(" ").replace(" ,", ",")
}

fn big(n: impl ToString) -> Piece {
    Piece::Big(n.to_string().replace('-', "–"))
}

fn words(s: &str) -> Piece {
    Piece::Words(s.to_string())
}

/// How much: `3 sets of 10 , hold 5 seconds`. One line a portion.
pub fn work(e: &Exercise) -> Vec<Vec<Piece>> {
    work_of(e, &e.amount)
}

/// The same of another amount of that exercise.
pub fn work_of(e: &Exercise, amount: &Amount) -> Vec<Vec<Piece>> {
    let mut lines: Vec<Vec<Piece>> = amount.portions.iter().map(|p| portion(p, e.kind)).collect();
    if let Some(last) = lines.last_mut() {
        match e.side {
            OnSide::Alternating if amount.dose.tally == Some(crate::dose::Tally::InAll) => {
                last.push(words(", counting both sides together"));
            }
            OnSide::Alternating => last.push(words("on each side, in turn")),
            _ if amount.dose.tally == Some(crate::dose::Tally::InAll) => last.push(words("in all")),
            // The side stands beside the name.
            _ => {}
        }
    }
    lines
}

fn portion(p: &Portion, kind: Kind) -> Vec<Piece> {
    let mut line = Vec::new();
    match p.manner {
        Some(Manner::Slow) => line.push(words("Slow:")),
        Some(Manner::Quick) => line.push(words("Quick:")),
        None => {}
    }
    let many = Counts::ONE < p.sets;
    if let Some((amount, unit)) = p.amount {
        if many {
            line.extend([big(p.sets), words("goes of")]);
        }
        line.extend([big(amount), words(unit_word(unit, amount))]);
        return line;
    }
    if !p.stretches.is_empty() {
        line.extend([big(p.sets), words("times:")]);
        line.push(Piece::Words(stretches(&p.stretches)));
        return line;
    }
    if let (Some(bout), None) = (p.bout, p.reps) {
        if many {
            line.extend([big(p.sets), words("goes of")]);
        }
        line.extend(span(bout));
        return line;
    }
    if many {
        line.extend([big(p.sets), words("sets of")]);
    }
    match (p.ending, p.reps) {
        (Ending::Number, Some(reps)) => line.push(big(reps)),
        (Ending::AsAble, Some(reps)) => line.extend([words("up to"), big(reps)]),
        (Ending::Fatigue, Some(reps)) => line.extend([words("as many as you can do well, up to"), big(reps)]),
        (Ending::AsMany, Some(reps)) => line.extend([words("as many as you can, up to"), big(reps)]),
        (Ending::Fatigue, None) => line.push(words("as many as you can do well")),
        (_, None) => line.push(words("as many as you can")),
    }
    match (kind, p.hold) {
        (Kind::Held, Some(hold)) => {
            line.push(words(if p.reps == Some(Counts::ONE) { "hold of" } else { "holds of" }));
            line.extend(span(hold));
        }
        (_, Some(hold)) => {
            if !many && p.reps.is_some() {
                line.push(words(if p.reps == Some(Counts::ONE) { "time" } else { "times" }));
            }
            line.push(words(", hold"));
            line.extend(span(hold));
        }
        (_, None) => {
            if !many && p.reps.is_some() {
                line.push(words(if p.reps == Some(Counts::ONE) { "time" } else { "times" }));
            }
        }
    }
    line
}

/// From when to when, where it is typed: `From week 4 (Mon 21 Dec).`, `Last day: Sun 20 Dec.`
pub fn when(amount: &Amount) -> Vec<String> {
    let mut said = Vec::new();
    match (amount.dose.from, amount.first_day) {
        (Some(Start::Week(week)), Some(first)) => {
            said.push(format!("From week {week} ({}).", super::plan::short(first)));
        }
        (_, Some(first)) => said.push(format!("From {}.", super::plan::short(first))),
        (Some(from), None) => said.push(sentence(&from.to_string())),
        (None, None) => {}
    }
    match (&amount.dose.until, amount.last_day) {
        (_, Some(last)) => said.push(format!("Last day: {}.", super::plan::short(last))),
        (Some(end), None) => said.push(sentence(&end.to_string())),
        (None, None) => {}
    }
    said
}

/// By how much a dose grows: `2 minutes more every 3 days, up to 20 minutes`.
pub fn growth(ramp: &Ramp) -> String {
    let many = |n: Counts, one: &str, more: &str| {
        let number = if n.low() == n.high() { n.to_string() } else { format!("{}–{}", n.low(), n.high()) };
        format!("{number} more {}", if n == Counts::ONE { one } else { more })
    };
    let every = match ramp.every_days {
        1 => "every day".to_string(),
        2 => "every other day".to_string(),
        7 => "every week".to_string(),
        n if n.is_multiple_of(7) => format!("every {} weeks", n / 7),
        n => format!("every {n} days"),
    };
    let add = match &ramp.add {
        Step::Time(span) => format!("{} more", time(*span)),
        Step::Sets(n) => many(*n, "set", "sets"),
        Step::Repetitions(n) => many(*n, "time", "times"),
        Step::Amount(n, unit) => many(*n, unit_word(*unit, Counts::ONE), unit_word(*unit, *n)),
        Step::Percent(n) => format!("{n} % more"),
        Step::Words(words) => {
            // In the clinician's words, as near as can be.
            let every = match ramp.every_days {
                1 => "a day",
                7 => "a week",
                _ => every.as_str(),
            };
            return format!("add {words} {every}");
        }
    };
    let most = ramp.up_to.as_ref().map(|most| match most {
        Step::Time(span) => time(*span),
        Step::Sets(n) => format!("{n} {}", if *n == Counts::ONE { "set" } else { "sets" }),
        Step::Repetitions(n) => format!("{n} {}", if *n == Counts::ONE { "time" } else { "times" }),
        Step::Amount(n, unit) => format!("{n} {}", unit_word(*unit, *n)),
        Step::Percent(_) | Step::Words(_) => most.to_string(),
    });
    format!("{add} {every}{}", most.map_or(String::new(), |most| format!(", up to {most}")))
}

/// How an exercise's dose grows after a day of the course, up to the day `last`: its figures, each with the day from
/// which it stands; where these are many, the first of them and then the rule, which has none.
pub fn stages(e: &Exercise, after: u32, last: Option<u32>) -> Vec<(Option<u32>, String)> {
    let Some(growth) = &e.grows else { return Vec::new() };
    let mut days: Vec<u32> = Vec::new();
    let next = |day: u32| growth.next(day).filter(|next| last.is_none_or(|last| *next <= last));
    while let Some(day) = next(days.last().copied().unwrap_or(after)).filter(|_| days.len() <= MOST_STAGES) {
        days.push(day);
    }
    let figures = |day: u32| {
        let now = e.amount_on(Some(day));
        let lines: Vec<String> = work_of(e, &now).iter().map(|line| format!("{}.", plain(line))).collect();
        (Some(day), lines.join(" "))
    };
    first_of(days.into_iter().map(figures).collect(), 0, |_| (None, and_so_on(growth.ramp())))
}

/// So many figures of a dose that grows stand with their dates; of more, the first of them and the rule.
const MOST_STAGES: usize = 6;
const FIRST_STAGES: usize = 4;

/// Of many stages the first, and the one behind them as the rule; `before` have been told.
pub fn first_of<T>(all: Vec<T>, before: usize, rule: impl Fn(T) -> T) -> Vec<T> {
    let is_more = MOST_STAGES < before + all.len();
    let shown = if is_more { FIRST_STAGES - before.min(FIRST_STAGES) } else { all.len() };
    let kept = all.into_iter().take(shown + usize::from(is_more));
    kept.enumerate().map(|(at, one)| if at < shown { one } else { rule(one) }).collect()
}

/// The rule behind the first figures.
pub fn and_so_on(ramp: &Ramp) -> String {
    format!("Then {}.", growth(ramp))
}

/// With a capital and a full stop.
pub fn sentence(words: &str) -> String {
    format!("{}.", capital(words))
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    format!("{first}{}", letters.as_str())
}

/// `30 seconds`, `5 to 10 minutes`.
fn span(s: Span) -> [Piece; 2] {
    let whole = |unit: u32| s.low().is_multiple_of(unit) && s.high().is_multiple_of(unit);
    let (unit, one, more) = if whole(3600) {
        (3600, "hour", "hours")
    } else if whole(60) {
        (60, "minute", "minutes")
    } else {
        (1, "second", "seconds")
    };
    let (low, high) = (s.low() / unit, s.high() / unit);
    let number = if low == high { low.to_string() } else { format!("{low}–{high}") };
    let number = s.bound().map_or(number.clone(), |bound| format!("{} {number}", bound.word()));
    [Piece::Big(number), words(if high == 1 { one } else { more })]
}

/// A span in words: `60 seconds`.
pub fn time(s: Span) -> String {
    plain(&span(s))
}

fn stretches(all: &[Stretch]) -> String {
    let each = all.iter().map(|s| format!("{} {}", time(s.span), s.how).trim().to_string());
    each.collect::<Vec<_>>().join(", then ")
}

fn unit_word(unit: Unit, n: Counts) -> &'static str {
    let one = n == Counts::ONE;
    match unit {
        Unit::Steps => "steps",
        Unit::Metres => "metres",
        Unit::Kilometres => "kilometres",
        Unit::Lengths if one => "length",
        Unit::Lengths => "lengths",
        Unit::Flights if one => "flight of stairs",
        Unit::Flights => "flights of stairs",
        Unit::Breaths if one => "slow breath",
        Unit::Breaths => "slow breaths",
        Unit::Miles if one => "mile",
        Unit::Miles => "miles",
    }
}

/// How often: `Every day`, `Do it 2 times a day`, `On 3 days a week`, and the part of the day.
pub fn often(amount: &Amount) -> Vec<Piece> {
    let mut line = match amount.often {
        _ if !amount.as_typed.is_empty() => {
            vec![Piece::Words(capital(&amount.as_typed.join(", ")))]
        }
        Often::Calendar { days, per_day } => {
            let mut line = Vec::new();
            let once = per_day == Counts::ONE;
            if !once {
                // Never a number first: it would run on from the number of the dose before.
                line.extend([
                    words("Do it"),
                    big(per_day),
                    words(if days == Days::Daily { "times a day" } else { "times a day," }),
                ]);
            }
            match days {
                Days::Daily if once => line.push(words("Every day")),
                Days::Daily => {}
                Days::PerWeek(n) if n == Counts::ONE => {
                    line.push(words(if once { "Once a week" } else { "one day a week" }))
                }
                Days::PerWeek(n) => {
                    line.extend([words(if once { "On" } else { "on" }), big(n), words("days a week")])
                }
                Days::Every(2) => line.push(words(if once { "Every other day" } else { "every other day" })),
                Days::Every(n) => {
                    line.extend([words(if once { "Every" } else { "every" }), big(n), words("days")])
                }
                Days::On(days) => line.push(Piece::Words(weekdays(days))),
            }
            line
        }
        Often::Hours(1) => vec![words("Every hour that you are awake")],
        Often::Hours(n) => vec![words("Every"), big(n), words("hours that you are awake")],
        Often::LittleAndOften => vec![words("Do"), big("4–6"), words("short goes a day")],
        Often::AsNeeded { at_most: Some(n) } => {
            vec![words("When you need it, at most"), big(n), words("times a day")]
        }
        Often::AsNeeded { at_most: None } => vec![words("When you need it")],
    };
    let is_told =
        |moment: &&Moment| !matches!(moment, Moment::Words(words) if amount.as_typed.contains(words));
    for moment in amount.moments.iter().filter(is_told) {
        line.push(Piece::Words(match moment {
            Moment::At(part) => format!(", {}", at(*part)),
            Moment::Before(part) => format!(", before {}", session(*part)),
            Moment::After(part) => format!(", after {}", session(*part)),
            Moment::Words(words) => format!(", {words}"),
        }));
    }
    line
}

fn at(part: Part) -> &'static str {
    match part {
        Part::Morning => "in the morning",
        Part::Midday => "at midday",
        Part::Afternoon => "in the afternoon",
        Part::Evening => "in the evening",
        Part::Night => "at night",
    }
}

fn session(part: Part) -> &'static str {
    match part {
        Part::Morning => "the morning session",
        Part::Midday => "the midday session",
        Part::Afternoon => "the afternoon session",
        Part::Evening => "the evening session",
        Part::Night => "bed",
    }
}

/// `Mon, Wed and Fri`.
pub fn weekdays(days: Weekdays) -> String {
    let names: Vec<&str> = days.days().filter_map(|d| WEEKDAY_NAMES.get(usize::from(d)).copied()).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).to_string(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The rest of the dose as short sentences: load, rest, speed, effort, pain.
pub fn extras(amount: &Amount) -> Vec<String> {
    let mut all = Vec::new();
    for load in &amount.loads {
        all.push(match load {
            Load::Mass { low, high, unit, carrier, each } => {
                let number = |n: u32| shown(f64::from(n) / 100.0, 2);
                let range =
                    if low == high { number(*low) } else { format!("{}–{}", number(*low), number(*high)) };
                let unit = if *unit == MassUnit::Kilogram { "kg" } else { "lb" };
                let by = carrier.map_or(String::new(), |c| format!(" {}", carried(c)));
                let each = match each {
                    Some(Each::Hand) => " in each hand",
                    Some(Each::Leg) => " on each leg",
                    Some(Each::Side) => " each side",
                    None => "",
                };
                format!("Use {range} {unit}{by}{each}.")
            }
            Load::Band(label) => format!("Use your band: {label}."),
            Load::OfMaximum { low, high } if low == high => {
                format!("Use {low} % of the most you can lift once.")
            }
            Load::OfMaximum { low, high } => format!("Use {low}–{high} % of the most you can lift once."),
        });
    }
    if let Some(tempo) = amount.tempo {
        let [down, low, up, top] = tempo.seconds();
        let part = |n: u8, what: &str| (0 < n).then(|| format!("{what} {n}"));
        let parts: Vec<String> =
            [part(down, "lower for"), part(low, "pause"), part(up, "lift for"), part(top, "pause")]
                .into_iter()
                .flatten()
                .collect();
        all.push(format!("Count: {}.", parts.join(", ")));
    }
    if let Some(rest) = amount.rest {
        let many = amount.portions.iter().any(|p| Counts::ONE < p.sets);
        all.push(format!("Rest {} between {}.", time(rest), if many { "sets" } else { "goes" }));
    }
    match amount.dose.effort {
        Some(Effort::OfTen { low_halves, high_halves }) => {
            let half = |n: u8| shown(f64::from(n) / 2.0, 1);
            let (low, high) = (half(low_halves), half(high_halves));
            let range = if low == high { low } else { format!("{low}–{high}") };
            all.push(format!("How hard: {range} out of 10."));
        }
        Some(Effort::OfTwenty { low, high }) if low == high => {
            all.push(format!("How hard: {low} on a scale of 6 to 20."))
        }
        Some(Effort::OfTwenty { low, high }) => {
            all.push(format!("How hard: {low}–{high} on a scale of 6 to 20."))
        }
        Some(Effort::Percent { low, high }) if low == high => {
            all.push(format!("Use {low} % of your full effort."))
        }
        Some(Effort::Percent { low, high }) => all.push(format!("Use {low}–{high} % of your full effort.")),
        None => {}
    }
    if let Some((low, high)) = amount.dose.reserve {
        let n = if low == high { low.to_string() } else { format!("{low} or {high}") };
        all.push(format!("Stop while you could still do {n} more."));
    }
    if let Some(pain) = amount.pain {
        all.push(if pain == 0 {
            "Keep it free of pain.".into()
        } else {
            format!("Pain up to {pain} out of 10 is okay.")
        });
    }
    // What no figures tell is told in words.
    let uncounted = Growth::of(&amount.dose, Kind::Repeated, 0).filter(|growth| !growth.is_counted());
    all.extend(uncounted.map(|told| sentence(&growth(told.ramp()))));
    all.extend(
        amount
            .dose
            .words
            .iter()
            .filter(|w| !w.trim().is_empty())
            // It stands where the frequency stands.
            .filter(|w| !amount.as_typed.iter().any(|told| told == w.trim_end_matches('.')))
            .map(|w| format!("{}.", w.trim_end_matches('.'))),
    );
    all
}

fn carried(carrier: Carrier) -> &'static str {
    match carrier {
        Carrier::AnkleWeight => "as an ankle weight",
        Carrier::Dumbbell => "as a hand weight",
        Carrier::Kettlebell => "as a kettlebell",
        Carrier::Barbell => "on a bar",
        Carrier::Bottle => "as a bottle",
        Carrier::Tin => "as a tin",
        Carrier::Pack => "in a pack",
    }
}
