//! The canonical writing of a dose.

use super::parts::{
    Carrier, Days, Each, Ending, Load, MassUnit, Moment, Often, Part, Ramp, Step, Tempo, Unit,
};
use super::{Dose, Effort, End, Event, Manner, Portion, Sided, Start, Tally, Work, Yearless};
use crate::measure::{Counts, MONTH_NAMES, WEEKDAY_NAMES, shown};
use core::fmt::{Display, Formatter, Result};

impl Display for Dose {
    /// The canonical writing: `2 x 10, hold 5 s, 2/day`. Each part is read back from its own piece.
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let mut pieces: Vec<String> = self.work.iter().map(Portion::to_string).collect();
        let mut add = |piece: Option<String>| pieces.extend(piece);
        add(self.tally.map(|t| t.to_string()));
        add(self.hold.map(|h| format!("hold {h}")));
        add(self.tempo.map(|t| t.to_string()));
        for load in &self.loads {
            add(Some(load.to_string()));
        }
        add(self.effort.map(|e| e.to_string()));
        add(self.reserve.map(|(low, high)| format!("{} in reserve", range(low.into(), high.into()))));
        add(self.rest.map(|r| format!("rest {r}")));
        add(self.pain.map(|p| format!("pain at most {p}")));
        add(self.sides.map(|s| s.to_string()));
        add(self.often.map(|o| o.to_string()));
        for moment in &self.moments {
            add(Some(moment.to_string()));
        }
        add(self.ramp.as_ref().map(|r| r.to_string()));
        match (self.from, &self.until) {
            (Some(Start::Week(first)), Some(End::Week(last))) if first == *last => {
                add(Some(format!("week {first} only")));
            }
            (Some(Start::Week(first)), Some(End::Week(last))) if first < *last => {
                add(Some(format!("weeks {first}-{last}")));
            }
            (from, until) => {
                add(from.map(|from| from.to_string()));
                add(until.as_ref().map(End::to_string));
            }
        }
        write!(f, "{}", pieces.join(", "))?;
        // A semicolon parts words that begin with a day from the days before them, where a comma would join them.
        let mut last = pieces.last().map(String::as_str);
        for words in &self.words {
            let days = last.is_some_and(|last| is_day(last.rsplit(APART).next()))
                && is_day(words.split(APART).next());
            write!(
                f,
                "{}{words}",
                if days {
                    "; "
                } else if last.is_some() {
                    ", "
                } else {
                    ""
                }
            )?;
            last = Some(words);
        }
        Ok(())
    }
}

const APART: fn(char) -> bool = |c| !c.is_ascii_alphabetic();

fn is_day(word: Option<&str>) -> bool {
    word.is_some_and(|word| 1 < word.len() && super::find::often::is_day(&word.to_ascii_lowercase()))
}

fn range(low: u32, high: u32) -> String {
    if low == high { low.to_string() } else { format!("{low}-{high}") }
}

fn many(counts: Counts, one: &str, more: &str) -> String {
    format!("{counts} {}", if counts.high() == 1 { one } else { more })
}

impl Display for Portion {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self.manner {
            Some(Manner::Slow) => write!(f, "slow {}", self.work),
            Some(Manner::Quick) => write!(f, "quick {}", self.work),
            None => write!(f, "{}", self.work),
        }
    }
}

impl Display for Work {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Work::Repetitions { sets, reps, ending } => {
                let tail = match ending {
                    Ending::Number | Ending::AsMany => "",
                    Ending::AsAble => " as able",
                    Ending::Fatigue => " to fatigue",
                };
                match (sets, reps, ending) {
                    (sets, cap, Ending::AsMany) => {
                        if let Some(s) = sets {
                            write!(f, "{s} x ")?;
                        }
                        write!(f, "as many as possible")?;
                        cap.map_or(Ok(()), |c| write!(f, ", at most {c}"))
                    }
                    // `10 x 3` would be read as three sets of ten.
                    (Some(s), Some(r), _) if 6 <= s.low() && r.high() <= 5 => {
                        write!(f, "{s} sets of {r}{tail}")
                    }
                    (Some(s), Some(r), _) => write!(f, "{s} x {r}{tail}"),
                    (Some(s), None, _) => write!(f, "{}{tail}", many(*s, "set", "sets")),
                    (None, Some(r), _) => write!(f, "{}{tail}", many(*r, "rep", "reps")),
                    (None, None, _) => write!(f, "{}", tail.trim_start()),
                }
            }
            Work::Bouts { sets: Some(s), bouts, span } => write!(f, "{s} x {bouts} x {span}"),
            Work::Bouts { sets: None, bouts, span } => write!(f, "{bouts} x {span}"),
            Work::Time(span) => write!(f, "{span}"),
            Work::Intervals { times, stretches } => {
                let inner: Vec<String> = stretches
                    .iter()
                    .map(|s| format!("{} {}", s.span, s.how).trim_end().to_string())
                    .collect();
                write!(f, "{times} x ({})", inner.join(", "))
            }
            Work::Amount { sets, amount, unit } => {
                if let Some(s) = sets {
                    write!(f, "{s} x ")?;
                }
                write!(f, "{amount} {}", unit_word(*unit, amount.high() == 1))
            }
        }
    }
}

fn unit_word(unit: Unit, one: bool) -> &'static str {
    match (unit, one) {
        (Unit::Steps, true) => "step",
        (Unit::Steps, false) => "steps",
        (Unit::Metres, true) => "metre",
        (Unit::Metres, false) => "metres",
        (Unit::Kilometres, _) => "km",
        (Unit::Lengths, true) => "length",
        (Unit::Lengths, false) => "lengths",
        (Unit::Flights, true) => "flight",
        (Unit::Flights, false) => "flights",
        (Unit::Breaths, true) => "breath",
        (Unit::Breaths, false) => "breaths",
        (Unit::Miles, true) => "mile",
        (Unit::Miles, false) => "miles",
    }
}

impl Display for Tally {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        write!(
            f,
            "{}",
            match self {
                Tally::InAll => "in all",
                Tally::EachSide => "each side",
            }
        )
    }
}

impl Display for Sided {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        write!(
            f,
            "{}",
            match self {
                Sided::Left => "left",
                Sided::Right => "right",
                Sided::EachSide => "each side",
                Sided::Both => "both",
                Sided::Together => "together",
                Sided::Alternating => "alternating",
            }
        )
    }
}

impl Display for Tempo {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let [a, b, c, d] = self.seconds();
        write!(f, "tempo {a}-{b}-{c}-{d}")
    }
}

impl Display for Effort {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match *self {
            Effort::OfTen { low_halves, high_halves } => {
                let halves = |n: u8| shown(f64::from(n) / 2.0, 1);
                if low_halves == high_halves {
                    write!(f, "effort {} of 10", halves(low_halves))
                } else {
                    write!(f, "effort {}-{} of 10", halves(low_halves), halves(high_halves))
                }
            }
            Effort::OfTwenty { low, high } => write!(f, "effort {} of 20", range(low.into(), high.into())),
            Effort::Percent { low, high } => write!(f, "{} % effort", range(low.into(), high.into())),
        }
    }
}

impl Display for Load {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Load::Mass { low, high, unit, carrier, each } => {
                if let Some(c) = carrier {
                    write!(f, "{} ", carrier_word(*c))?;
                }
                let number = |n: u32| shown(f64::from(n) / 100.0, 2);
                write!(f, "{}", number(*low))?;
                if low != high {
                    write!(f, "-{}", number(*high))?;
                }
                write!(f, " {}", if *unit == MassUnit::Kilogram { "kg" } else { "lb" })?;
                match each {
                    Some(Each::Hand) => write!(f, " each hand"),
                    Some(Each::Leg) => write!(f, " each leg"),
                    Some(Each::Side) => write!(f, " each"),
                    None => Ok(()),
                }
            }
            Load::Band(label) => write!(f, "band \"{label}\""),
            Load::OfMaximum { low, high } => write!(f, "{} % of 1RM", range((*low).into(), (*high).into())),
        }
    }
}

/// The word for what carries a weight.
pub fn carrier_word(carrier: Carrier) -> &'static str {
    match carrier {
        Carrier::AnkleWeight => "ankle weight",
        Carrier::Dumbbell => "dumbbell",
        Carrier::Kettlebell => "kettlebell",
        Carrier::Barbell => "barbell",
        Carrier::Bottle => "bottle",
        Carrier::Tin => "tin",
        Carrier::Pack => "rucksack",
    }
}

impl Display for Days {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Days::Daily => write!(f, "daily"),
            Days::PerWeek(n) => write!(f, "{n}/week"),
            Days::Every(2) => write!(f, "alternate days"),
            Days::Every(n) => write!(f, "every {n} days"),
            Days::On(days) => write!(f, "{days}"),
        }
    }
}

impl Display for Often {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Often::Calendar { days, per_day } if *per_day == Counts::ONE => write!(f, "{days}"),
            Often::Calendar { days: Days::Daily, per_day } => write!(f, "{per_day}/day"),
            Often::Calendar { days, per_day } => write!(f, "{per_day}/day, {days}"),
            Often::Hours(1) => write!(f, "hourly"),
            Often::Hours(n) => write!(f, "every {n} hours"),
            Often::LittleAndOften => write!(f, "little and often"),
            Often::AsNeeded { at_most: None } => write!(f, "as needed"),
            Often::AsNeeded { at_most: Some(n) } => write!(f, "as needed, at most {n}/day"),
        }
    }
}

impl Display for Part {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        write!(
            f,
            "{}",
            match self {
                Part::Morning => "morning",
                Part::Midday => "midday",
                Part::Afternoon => "afternoon",
                Part::Evening => "evening",
                Part::Night => "night",
            }
        )
    }
}

impl Display for Moment {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Moment::At(part) => write!(f, "{part}"),
            Moment::Before(part) => write!(f, "before {part}"),
            Moment::After(part) => write!(f, "after {part}"),
            Moment::Words(words) => write!(f, "{words}"),
        }
    }
}

impl Display for Ramp {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        write!(f, "+ {}", self.add)?;
        match self.every_days {
            1 => write!(f, " every day")?,
            7 => write!(f, " every week")?,
            n => write!(f, " every {n} days")?,
        }
        self.up_to.as_ref().map_or(Ok(()), |most| write!(f, " up to {most}"))
    }
}

impl Display for Step {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Step::Time(span) => write!(f, "{span}"),
            Step::Sets(n) => write!(f, "{}", many(*n, "set", "sets")),
            Step::Repetitions(n) => write!(f, "{}", many(*n, "rep", "reps")),
            Step::Amount(n, unit) => write!(f, "{n} {}", unit_word(*unit, n.high() == 1)),
            Step::Percent(n) => write!(f, "{n} %"),
            Step::Words(words) => write!(f, "{words}"),
        }
    }
}

impl Display for Event {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        write!(
            f,
            "{}",
            match self {
                Event::Surgery => "surgery",
                Event::Injury => "injury",
            }
        )
    }
}

impl Display for Yearless {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        if let Some(weekday) = self.weekday.and_then(|day| WEEKDAY_NAMES.get(usize::from(day))) {
            write!(f, "{weekday} ")?;
        }
        let month = usize::from(self.month).checked_sub(1).and_then(|at| MONTH_NAMES.get(at)).unwrap_or(&"");
        write!(f, "{} {month}", self.day)
    }
}

impl Display for Start {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Start::Week(n) => write!(f, "from week {n}"),
            Start::Date(date) => write!(f, "from {date}"),
            Start::Yearless(day) => write!(f, "from {day}"),
            Start::After { weeks: 1, event } => write!(f, "from 1 week after {event}"),
            Start::After { weeks, event } => write!(f, "from {weeks} weeks after {event}"),
        }
    }
}

impl Display for End {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            End::Week(n) => write!(f, "until week {n}"),
            End::Date(date) => write!(f, "until {date}"),
            End::Yearless(day) => write!(f, "until {day}"),
            End::After { weeks: 1, event } => write!(f, "until 1 week after {event}"),
            End::After { weeks, event } => write!(f, "until {weeks} weeks after {event}"),
            End::For { days } if days.is_multiple_of(7) => {
                write!(
                    f,
                    "for {}",
                    if *days == 7 { "1 week".to_string() } else { format!("{} weeks", days / 7) }
                )
            }
            End::For { days: 1 } => write!(f, "for 1 day"),
            End::For { days } => write!(f, "for {days} days"),
            End::Months(1) => write!(f, "for 1 month"),
            End::Months(n) => write!(f, "for {n} months"),
            End::Review => write!(f, "until review"),
            End::Words(words) => write!(f, "until {words}"),
        }
    }
}
