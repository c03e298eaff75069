//! What is said of a dose, a date or a day.

use super::{quoted, weekday};
use crate::measure::shown;
use crate::notice::kinds::dose::{Doubt, Once, behind_times, last_number, without_metre};

/// `raw` is what was typed.
pub(super) fn sentence(doubt: &Doubt, raw: &str) -> String {
    use Doubt::*;
    match doubt {
        TwoWeights { count } => {
            let weight = behind_times(raw);
            format!(
                "“{raw}” may mean {count} sets with {weight}, or {weight} in each of two hands. \
                 Write “{count} sets, {weight}” or “{weight} each hand”."
            )
        }
        ThreeNumbers { sets, reps } => {
            let last = last_number(raw);
            format!(
                "In “{raw}” the last number may be a hold in seconds or a load. \
                 Write “{sets} x {reps} x {last} s” or “{sets} x {reps} x {last} kg”."
            )
        }
        Swapped { sets, reps } => format!("“{raw}” was read as {sets} sets of {reps}."),
        TimesDaily { reps, other } => format!(
            "“{raw}” was read as {other} sets of {reps}, once a day. \
             If you mean {reps} repetitions {other} times a day, write “{reps} reps, {other}/day”."
        ),
        WhichScale { low, high } => {
            let n = |n: u64| shown(n as f64 / 100.0, 2);
            let text = if low == high { n(*low) } else { format!("{}-{}", n(*low), n(*high)) };
            format!(
                "“{raw}” may be on the scale of 0 to 10 or of 6 to 20. \
                 Write “effort {text} of 10” or “effort {text} of 20”."
            )
        }
        PercentOfWhat { low, high } => {
            let n = if low == high { low.to_string() } else { format!("{low}-{high}") };
            format!("“{raw}” may be effort or load. Write “{n} % effort” or “{n} % of 1RM”.")
        }
        MinuteOrMetre => {
            let n = without_metre(raw);
            format!("The m in “{raw}” may be minutes or metres. Write “{n} min” or “{n} metres”.")
        }
        DecimalComma => {
            format!("The comma in “{raw}” may part two doses or stand for a decimal point. Write a point.")
        }
        Sevenths { n: 7 } => format!("“{raw}” was read as every day."),
        Sevenths { n: 1 } => format!("“{raw}” was read as one day a week."),
        Sevenths { n } => format!("“{raw}” was read as {n} days a week."),
        EveryOtherOrEndOfDay => format!(
            "“{raw}” is every other day to most and the end of the day to some. \
             Write “alternate days” or “evening”."
        ),
        MoreThanDaily { n } => format!(
            "{n} times a week is more than once a day. Say how often on each day, for example “2/day”."
        ),
        AfternoonOrEvening => format!("“{raw}” may be the afternoon or the evening. Write which."),
        WhichDate => format!(
            "The day and month in “{raw}” may be meant either way. Write the date as 2026-12-31."
        ),
        DateEitherWay => {
            "The day and month of this date may be meant either way. Write the date as 2026-12-31.".to_string()
        }
        TimeBesideReps { time } => format!(
            "“{raw}” beside repetitions may be a hold or a rest. Write “hold {time}” or “rest {time}”."
        ),
        InAllOrEach { n } => format!(
            "{n} alternating may be {n} in all or {n} on each side. \
             Write “{n} in all, alternating” or “{n} each side, alternating”."
        ),
        NoDailyCap => {
            "As needed has no maximum here. Write for example “as needed, at most 4/day”.".to_string()
        }
        NoCap => format!("“{raw}” has no upper end. Add one, for example “at most 20”."),
        Twice { what, first } => {
            let what = once(*what);
            format!("“{raw}” is a second {what}: “{first}” was said already. Keep one of the two.")
        }
        Unread { text } => format!(
            "“{text}” was not understood as a dose and is kept as typed. \
             A dose is written like “3 x 10, hold 5 s, 2/day”."
        ),
        TimesOrReps { n } => format!(
            "“{raw}” may be {n} repetitions once a day, or {n} times a day. \
             Write “{n} reps, daily” or “{n}/day”."
        ),
        RangeOrEffort { sets, low, high } => {
            let lead = sets.map_or(String::new(), |s| format!("{s} x "));
            let reps = if sets.is_some() { "" } else { " reps" };
            let effort = match sets {
                Some(sets) => format!("{sets} x {low}, effort {low} of {high}"),
                None => format!("effort {low} of {high}"),
            };
            // Only the common scale has ten steps.
            let or = if *high == 10 { format!(" or “{effort}”") } else { String::new() };
            format!(
                "The “{low}/{high}” in “{raw}” may be a range or a score. \
                 Write “{lead}{low}-{high}{reps}”{or}."
            )
        }
        Hours { low } => {
            let text = if *low == 1 { "hourly".to_string() } else { format!("every {low} hours") };
            format!("“{raw}” does not say one number of hours between goes. Write it like “{text}”.")
        }
        Span { text } => format!("“{raw}” was read as {text}."),
        OnAndOff => format!(
            "“{raw}” falls on other days each week and is kept as typed. \
             Write the days (“Mon Tue Thu Fri”), “alternate days” or “5/week”."
        ),
        Biweekly => {
            format!("“{raw}” may be twice a week or every two weeks. Write “2/week” or “every 14 days”.")
        }
        SetsADay { sets } => format!(
            "“{raw}” was read as {sets} sets, once a day. If the sets are spread over the day, write “{sets}/day” and how many each time."
        ),
        Pyramid => format!(
            "“{raw}” may be sets with a number each. It prints as typed and is not counted. Write one number for \
             all sets, such as “3 x 10”, or say each set below the line."
        ),
        MostDays => {
            format!("“{raw}” prints as typed, but the week can’t lay it. Write a number, such as “5/week”.")
        }
        EveryMinutes => format!(
            "“{raw}” prints as typed, but is laid on no day: how often is counted in hours. Write “hourly”, or “little and often”."
        ),
        Many { reps } => {
            format!("{reps} repetitions in a set are unusual. Is a figure too many in “{raw}”?")
        }
        UntilWeeks { weeks } => format!(
            "“{raw}” does not say from when. Write “until week {weeks}” (from the start date), \
             or “until {weeks} weeks after surgery”."
        ),
        AfterWeek { from } => format!("Read as from week {from}, counted from the start date."),
        WeekAlone { week } => format!(
            "“{raw}” may be that week alone, or from then on. Write “week {week} only” or “from week {week}”."
        ),
        StopAt { week } => format!(
            "“{raw}” may be with that week or before it. Write “until week {week}”, or the week before."
        ),
        Backwards => {
            format!("“{raw}” ends before it begins. Write the first week first, like “weeks 2-4”.")
        }
        WhichDay => format!(
            "“{raw}” depends on the day on which it is read. Write the date, like “from 2026-12-31”."
        ),
        DayWithoutStart { key } => format!(
            "This day counts from the start, which isn't given. Write “start:” with a date, or the date itself behind \
             “{key}:”, such as 2026-12-31."
        ),
        OtherWeekday { date } => format!(
            "{} is a {}. Which of the two is meant? Write the date as {date}.",
            date.words(),
            weekday(date.weekday())
        ),
        NoSuchDay => "There is no such day. Write the date as 2026-12-31.".to_string(),
        MoreOnOneSide => format!(
            "“{raw}” says more on one side, but not how much. Write each side on a line of its own, \
             with its own dose."
        ),
        Next => format!(
            "“{raw}” says what comes later: it prints as typed, and no week changes by it. Write it on a line below, \
             as “from week 3: …” or “when easy: …”."
        ),
        Another => format!(
            "“{raw}” may be another exercise, and stands here as words. Write each exercise on a line of its own."
        ),
        BoundedLoad => format!(
            "“{raw}” prints as you typed it: which load to start with isn't said. Write it if it matters, like “2 kg”."
        ),
        Landmark => {
            format!("“{raw}” is told to the patient in these words. No figures are worked out from it.")
        }
        LoadGrows => format!(
            "“{raw}” is kept as typed: a load that grows is written in steps. \
             Write them below, like “from week 2: 3 kg”."
        ),
        MostReps { sets, reps } => format!(
            "“{raw}” is a weight that can be lifted {reps} times at most. \
             Write how far to go: “{sets} x {reps}, 0 in reserve” or “{sets} x {reps}, 2 in reserve”."
        ),
        TempoLetter => format!(
            "The letter in “{raw}” was not understood. Write four numbers of seconds: \
             lowering, pause, lifting, pause, as in “tempo 3-0-1-1”."
        ),
        Inches { cm, foot, .. } => {
            let unit = if *foot { "feet" } else { "inches" };
            format!("“{raw}” was taken for {unit} and is kept as typed; {cm} cm is the same.")
        }
        TooLong => {
            "This is too long for a dose and is kept as typed. Put what is to be said to the patient below, after “cue:”."
                .to_string()
        }
        Misspelt { typed, near } => {
            format!("“{typed}” is not known in a dose. Did you mean {}?", quoted(near).join(" or "))
        }
    }
}

fn once(what: Once) -> &'static str {
    match what {
        Once::Hold => "hold",
        Once::Rest => "rest",
        Once::Tempo => "tempo",
        Once::Effort => "effort",
        Once::Reserve => "number in reserve",
        Once::Pain => "pain bound",
        Once::Ramp => "ramp",
        Once::Start => "start",
        Once::End => "end",
        Once::Tally => "count of sides",
        Once::Side => "side",
        Once::Often => "frequency",
        Once::PerDay => "number of times a day",
        Once::Work => "amount of work",
    }
}
