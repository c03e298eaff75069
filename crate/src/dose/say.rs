//! What a dose's notices say: all sentences in one place, apart from the reading.

use crate::measure::{Counts, shown};
use crate::notice::Severity;

/// Something to ask or mention about a dose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// `2 x 4 kg`.
    TwoWeights {
        count: Counts,
    },
    /// `2 x 5 x 10`.
    ThreeNumbers {
        sets: Counts,
        reps: Counts,
    },
    /// `10 x 3`, read as three sets of ten.
    Swapped {
        sets: Counts,
        reps: Counts,
    },
    /// `10 x 3 daily`.
    TimesDaily {
        reps: Counts,
        other: Counts,
    },
    /// `RPE 6`; in hundredths.
    WhichScale {
        low: u64,
        high: u64,
    },
    /// `50 %` of what.
    PercentOfWhat {
        low: u8,
        high: u8,
    },
    /// `10 m`.
    MinuteOrMetre,
    /// `2,5 kg`.
    DecimalComma,
    /// `5/7`.
    Sevenths {
        n: u32,
    },
    EveryOtherOrEndOfDay,
    /// `10/week`.
    MoreThanDaily {
        n: Counts,
    },
    AfternoonOrEvening,
    WhichDate,
    /// `3 x 10, 5 s`: a hold or a rest.
    TimeBesideReps {
        time: String,
    },
    /// `20 alternating`.
    InAllOrEach {
        n: Counts,
    },
    NoDailyCap,
    NoCap,
    /// A second value for what was said already.
    Twice {
        what: &'static str,
        first: String,
    },
    /// Text with numbers that was not understood.
    Unread {
        text: String,
    },
    TooLong,
    /// A near word of the dose language.
    Misspelt {
        typed: String,
        near: Vec<&'static str>,
    },
}

/// What a notice needs: severity, kind, sentence and what to write instead of the place.
pub struct Saying {
    pub severity: Severity,
    pub kind: &'static str,
    pub sentence: String,
    pub edit: Option<String>,
}

impl Doubt {
    /// The sentence for what was typed as `raw`.
    pub fn saying(&self, raw: &str) -> Saying {
        use Severity::{Advice, Error, Precaution};
        let say = |severity, kind, sentence: String, edit: Option<String>| Saying {
            severity,
            kind,
            sentence,
            edit,
        };
        match self {
            Doubt::TwoWeights { count } => {
                let weight = raw.split_once(['x', 'X', '×', '*']).map_or(raw, |(_, w)| w).trim();
                say(
                    Error,
                    "ask-two-weights",
                    format!(
                        "“{raw}” may mean {count} sets with {weight}, or {weight} in each of two hands. \
                         Write “{count} sets, {weight}” or “{weight} each hand”."
                    ),
                    Some(format!("{weight} each hand")),
                )
            }
            Doubt::ThreeNumbers { sets, reps } => {
                let last = raw.rsplit(['x', 'X', '×', '*']).next().unwrap_or("").trim();
                say(
                    Error,
                    "ask-three-numbers",
                    format!(
                        "In “{raw}” the last number may be a hold in seconds or a load. \
                         Write “{sets} x {reps} x {last} s” or “{sets} x {reps} x {last} kg”."
                    ),
                    Some(format!("{sets} x {reps} x {last} s")),
                )
            }
            Doubt::Swapped { sets, reps } => say(
                Advice,
                "dose-swapped",
                format!("“{raw}” was read as {sets} sets of {reps}."),
                Some(format!("{sets} x {reps}")),
            ),
            Doubt::TimesDaily { reps, other } => say(
                Precaution,
                "dose-times-daily",
                format!(
                    "“{raw}” was read as {other} sets of {reps}, once a day. \
                     If you mean {reps} repetitions {other} times a day, write “{reps} reps, {other}/day”."
                ),
                Some(format!("{reps} reps, {other}/day")),
            ),
            Doubt::WhichScale { low, high } => {
                let n = |n: u64| shown(n as f64 / 100.0, 2);
                let text = if low == high { n(*low) } else { format!("{}-{}", n(*low), n(*high)) };
                say(
                    Error,
                    "ask-effort-scale",
                    format!(
                        "“{raw}” may be on the scale of 0 to 10 or of 6 to 20. \
                         Write “effort {text} of 10” or “effort {text} of 20”."
                    ),
                    (*high <= 1000).then(|| format!("effort {text} of 10")),
                )
            }
            Doubt::PercentOfWhat { low, high } => {
                let n = if low == high { low.to_string() } else { format!("{low}-{high}") };
                say(
                    Error,
                    "ask-percent",
                    format!("“{raw}” may be effort or load. Write “{n} % effort” or “{n} % of 1RM”."),
                    (*high <= 100).then(|| format!("{n} % effort")),
                )
            }
            Doubt::MinuteOrMetre => {
                let n = raw.trim_end_matches(['m', 'M', ' ']);
                say(
                    Error,
                    "ask-minute-metre",
                    format!("The m in “{raw}” may be minutes or metres. Write “{n} min” or “{n} metres”."),
                    Some(format!("{n} min")),
                )
            }
            Doubt::DecimalComma => say(
                Error,
                "ask-decimal-comma",
                format!(
                    "The comma in “{raw}” may part two doses or stand for a decimal point. Write a point."
                ),
                Some(raw.replacen(',', ".", 1)),
            ),
            Doubt::Sevenths { n } => {
                let (text, edit) = match n {
                    7 => ("every day".to_string(), "daily".to_string()),
                    1 => ("one day a week".to_string(), "1/week".to_string()),
                    n => (format!("{n} days a week"), format!("{n}/week")),
                };
                say(Advice, "dose-sevenths", format!("“{raw}” was read as {text}."), Some(edit))
            }
            Doubt::EveryOtherOrEndOfDay => say(
                Error,
                "ask-eod",
                format!(
                    "“{raw}” is every other day to most and the end of the day to some. \
                     Write “alternate days” or “evening”."
                ),
                Some("alternate days".to_string()),
            ),
            Doubt::MoreThanDaily { n } => say(
                Error,
                "ask-per-week",
                format!(
                    "{n} times a week is more than once a day. Say how often on each day, for example “2/day”."
                ),
                None,
            ),
            Doubt::AfternoonOrEvening => say(
                Error,
                "ask-pm",
                format!("“{raw}” may be the afternoon or the evening. Write which."),
                Some("evening".to_string()),
            ),
            Doubt::WhichDate => say(
                Error,
                "ask-date",
                format!(
                    "The day and month in “{raw}” may be meant either way. Write the date as 2026-12-31."
                ),
                None,
            ),
            Doubt::TimeBesideReps { time } => say(
                Error,
                "ask-time-beside-reps",
                format!(
                    "“{raw}” beside repetitions may be a hold or a rest. Write “hold {time}” or “rest {time}”."
                ),
                Some(format!("hold {time}")),
            ),
            Doubt::InAllOrEach { n } => say(
                Error,
                "ask-tally",
                format!(
                    "{n} alternating may be {n} in all or {n} on each side. \
                     Write “{n} in all, alternating” or “{n} each side, alternating”."
                ),
                None,
            ),
            Doubt::NoDailyCap => say(
                Precaution,
                "dose-no-daily-cap",
                "As needed has no maximum here. Write for example “as needed, at most 4/day”.".to_string(),
                Some("as needed, at most 4/day".to_string()),
            ),
            Doubt::NoCap => say(
                Advice,
                "dose-no-cap",
                format!("“{raw}” has no upper end. Add one, for example “at most 20”."),
                None,
            ),
            Doubt::Twice { what, first } => say(
                Error,
                "dose-twice",
                format!("“{raw}” is a second {what}: “{first}” was said already. Keep one of the two."),
                Some(String::new()),
            ),
            Doubt::Unread { text } => say(
                Error,
                "dose-unread",
                format!(
                    "“{text}” was not understood as a dose and is kept as typed. \
                     A dose is written like “3 x 10, hold 5 s, 2/day”."
                ),
                None,
            ),
            Doubt::TooLong => say(
                Error,
                "dose-too-long",
                "This is too long for a dose and is kept as typed. Put what is to be said to the patient below, after “cue:”."
                    .to_string(),
                None,
            ),
            Doubt::Misspelt { typed, near } => {
                let list: Vec<String> = near.iter().map(|n| format!("“{n}”")).collect();
                say(
                    Error,
                    "dose-misspelt",
                    format!("“{typed}” is not known in a dose. Did you mean {}?", list.join(" or ")),
                    match near.as_slice() {
                        [one] => Some((*one).to_string()),
                        _ => None,
                    },
                )
            }
        }
    }
}
