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
    /// `10x daily`.
    TimesOrReps {
        n: Counts,
    },
    /// `8/10`, `3 x 8/10`.
    RangeOrEffort {
        sets: Option<Counts>,
        low: u32,
        high: u32,
    },
    /// `every 2-3 hours`, `2/24`.
    Hours {
        low: u32,
    },
    /// `6/52` alone, read as a time to go on for.
    Span {
        text: String,
    },
    /// `4 on 1 off`.
    OnAndOff,
    Biweekly,
    /// `3 sets/day`.
    SetsADay {
        sets: Counts,
    },
    /// `12/10/8`.
    Pyramid,
    /// `most days`.
    MostDays,
    /// `every 30 mins`.
    EveryMinutes,
    /// `3 x 100`.
    Many {
        reps: Counts,
    },
    /// `until 4 weeks`.
    UntilWeeks {
        weeks: u32,
    },
    /// `after week 2`: from the next one on.
    AfterWeek {
        from: u8,
    },
    /// `week 3` alone: from then on, or in that week only.
    WeekAlone {
        week: u8,
    },
    /// `stop week 3`: with that week, or before it.
    StopAt {
        week: u8,
    },
    /// `weeks 4-2`.
    Backwards,
    /// `from tomorrow`.
    WhichDay,
    /// `L > R`.
    MoreOnOneSide,
    /// `-> 3 x 12`.
    Next,
    /// `+ 1 kg a week`.
    LoadGrows,
    /// `up to 8 kg`.
    BoundedLoad,
    /// `bridge 3x10, clam R 3x10`.
    Another,
    /// `add a lamp-post a week`: no figure can be worked out.
    Landmark,
    /// `3 x 10RM`.
    MostReps {
        sets: Counts,
        reps: Counts,
    },
    /// `tempo 30X1`.
    TempoLetter,
    /// `6" step`.
    Inches {
        cm: u32,
        prop: String,
        foot: bool,
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
            Doubt::TimesOrReps { n } => say(
                Error,
                "ask-times-daily",
                format!(
                    "“{raw}” may be {n} repetitions once a day, or {n} times a day. \
                     Write “{n} reps, daily” or “{n}/day”."
                ),
                Some(format!("{n} reps, daily")),
            ),
            Doubt::RangeOrEffort { sets, low, high } => {
                let lead = sets.map_or(String::new(), |s| format!("{s} x "));
                let reps = if sets.is_some() { "" } else { " reps" };
                let effort = match sets {
                    Some(sets) => format!("{sets} x {low}, effort {low} of {high}"),
                    None => format!("effort {low} of {high}"),
                };
                // Only the common scale has ten steps.
                let or = if *high == 10 { format!(" or “{effort}”") } else { String::new() };
                say(
                    Error,
                    "ask-slash",
                    format!(
                        "The “{low}/{high}” in “{raw}” may be a range or a score. \
                         Write “{lead}{low}-{high}{reps}”{or}."
                    ),
                    Some(format!("{lead}{low}-{high}{reps}")),
                )
            }
            Doubt::Hours { low } => {
                let (n, text) = match low {
                    1 => ("hourly".to_string(), "hourly".to_string()),
                    n => (format!("every {n} hours"), format!("every {n} hours")),
                };
                say(
                    Error,
                    "ask-hours",
                    format!("“{raw}” does not say one number of hours between goes. Write it like “{text}”."),
                    Some(n),
                )
            }
            Doubt::Span { text } => {
                say(Advice, "dose-span", format!("“{raw}” was read as {text}."), Some(text.clone()))
            }
            Doubt::OnAndOff => say(
                Error,
                "ask-on-and-off",
                format!(
                    "“{raw}” falls on other days each week and is kept as typed. \
                     Write the days (“Mon Tue Thu Fri”), “alternate days” or “5/week”."
                ),
                None,
            ),
            Doubt::Biweekly => say(
                Error,
                "ask-biweekly",
                format!("“{raw}” may be twice a week or every two weeks. Write “2/week” or “every 14 days”."),
                Some("2/week".to_string()),
            ),
            Doubt::SetsADay { sets } => say(
                Precaution,
                "dose-sets-a-day",
                format!(
                    "“{raw}” was read as {sets} sets, once a day. If the sets are spread over the day, write                      “{sets}/day” and how many each time."
                ),
                None,
            ),
            Doubt::Pyramid => say(
                Error,
                "ask-pyramid",
                format!(
                    "“{raw}” may be sets with a number each. It prints as typed and is not counted. Write one number for \
                     all sets, such as “3 x 10”, or say each set below the line."
                ),
                None,
            ),
            Doubt::MostDays => say(
                Precaution,
                "ask-most-days",
                format!("“{raw}” prints as typed, but the week can’t lay it. Write a number, such as “5/week”."),
                Some("5/week".to_string()),
            ),
            Doubt::EveryMinutes => say(
                Error,
                "ask-every-minutes",
                format!(
                    "“{raw}” prints as typed, but is laid on no day: how often is counted in hours. Write “hourly”, or                      “little and often”."
                ),
                None,
            ),
            Doubt::Many { reps } => say(
                Precaution,
                "dose-many",
                format!("{reps} repetitions in a set are unusual. Is a figure too many in “{raw}”?"),
                None,
            ),
            Doubt::UntilWeeks { weeks } => say(
                Error,
                "ask-until-weeks",
                format!(
                    "“{raw}” does not say from when. Write “until week {weeks}” (from the start date), \
                     or “until {weeks} weeks after surgery”."
                ),
                Some(format!("until week {weeks}")),
            ),
            Doubt::AfterWeek { from } => say(
                Advice,
                "start-after",
                format!("Read as from week {from}, counted from the start date."),
                Some(format!("from week {from}")),
            ),
            Doubt::WeekAlone { week } => say(
                Error,
                "ask-week",
                format!(
                    "“{raw}” may be that week alone, or from then on. Write “week {week} only” or “from week {week}”."
                ),
                Some(format!("from week {week}")),
            ),
            Doubt::StopAt { week } => say(
                Error,
                "ask-week",
                format!("“{raw}” may be with that week or before it. Write “until week {week}”, or the week before."),
                Some(format!("until week {week}")),
            ),
            Doubt::Backwards => say(
                Error,
                "ask-week",
                format!("“{raw}” ends before it begins. Write the first week first, like “weeks 2-4”."),
                None,
            ),
            Doubt::WhichDay => say(
                Error,
                "ask-day",
                format!("“{raw}” depends on the day on which it is read. Write the date, like “from 2026-12-31”."),
                None,
            ),
            Doubt::MoreOnOneSide => say(
                Error,
                "ask-more-side",
                format!(
                    "“{raw}” says more on one side, but not how much. Write each side on a line of its own, \
                     with its own dose."
                ),
                None,
            ),
            Doubt::Next => say(
                Error,
                "ask-next",
                format!(
                    "“{raw}” says what comes later, but not when. Write it on a line below, \
                     as “from week 3: …” or “when easy: …”."
                ),
                None,
            ),
            Doubt::Another => say(
                Error,
                "ask-another-exercise",
                format!(
                    "“{raw}” may be another exercise, and stands here as words. Write each exercise on a line of its own."
                ),
                None,
            ),
            Doubt::BoundedLoad => say(
                Advice,
                "bounded-load",
                format!(
                    "“{raw}” prints as you typed it: which load to start with isn't said. Write it if it matters, like “2 kg”."
                ),
                None,
            ),
            Doubt::Landmark => say(
                Advice,
                "ramp-in-words",
                format!("“{raw}” is told to the patient in these words. No figures are worked out from it."),
                None,
            ),
            Doubt::LoadGrows => say(
                Error,
                "ask-load-grows",
                format!(
                    "“{raw}” is kept as typed: a load that grows is written in steps. \
                     Write them below, like “from week 2: 3 kg”."
                ),
                None,
            ),
            Doubt::MostReps { sets, reps } => say(
                Error,
                "ask-repetition-maximum",
                format!(
                    "“{raw}” is a weight that can be lifted {reps} times at most. \
                     Write how far to go: “{sets} x {reps}, 0 in reserve” or “{sets} x {reps}, 2 in reserve”."
                ),
                Some(format!("{sets} x {reps}, 0 in reserve")),
            ),
            Doubt::TempoLetter => {
                let digits = raw.to_lowercase().replace("tempo", "").replace(['-', ' ', ':'], "").replace('x', "1");
                let parts: Vec<String> = digits.chars().map(String::from).collect();
                say(
                    Error,
                    "ask-tempo",
                    format!(
                        "The letter in “{raw}” was not understood. Write four numbers of seconds: \
                         lowering, pause, lifting, pause, as in “tempo 3-0-1-1”."
                    ),
                    (parts.len() == 4).then(|| format!("tempo {}", parts.join("-"))),
                )
            }
            Doubt::Inches { cm, prop, foot } => {
                let unit = if *foot { "feet" } else { "inches" };
                say(
                    Advice,
                    "dose-inches",
                    format!("“{raw}” was taken for {unit} and is kept as typed; {cm} cm is the same."),
                    Some(format!("{cm} cm {prop}")),
                )
            }
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
