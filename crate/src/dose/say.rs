//! What a dose's notices offer to write instead. Their kinds stand with all others, and their sentences too.

pub use crate::notice::kinds::dose::Doubt;

use crate::measure::shown;
use crate::notice::kinds::dose::{behind_times, last_number, without_metre};
use crate::notice::{Edit, Notice, What};
use crate::text::Place;

/// The notice of a doubt about `typed`, which stands at `place`.
pub fn notice(doubt: Doubt, typed: &str, place: Place) -> Notice {
    let edit = instead(&doubt, typed).map(|with| Edit { place, with });
    Notice { what: What::Dose { typed: typed.to_string(), doubt }, place, edit }
}

/// What to write in its place, where one reading is the likeliest.
fn instead(doubt: &Doubt, typed: &str) -> Option<String> {
    let or_range = |low: &dyn core::fmt::Display, high: &dyn core::fmt::Display, one: bool| {
        if one { low.to_string() } else { format!("{low}-{high}") }
    };
    match doubt {
        Doubt::TwoWeights { .. } => Some(format!("{} each hand", behind_times(typed))),
        Doubt::ThreeNumbers { sets, reps } => Some(format!("{sets} x {reps} x {} s", last_number(typed))),
        Doubt::Swapped { sets, reps } => Some(format!("{sets} x {reps}")),
        Doubt::TimesDaily { reps, other } => Some(format!("{reps} reps, {other}/day")),
        Doubt::WhichScale { low, high } => {
            let n = |n: u64| shown(n as f64 / 100.0, 2);
            let text = or_range(&n(*low), &n(*high), low == high);
            (*high <= 1000).then(|| format!("effort {text} of 10"))
        }
        Doubt::PercentOfWhat { low, high } => {
            (*high <= 100).then(|| format!("{} % effort", or_range(low, high, low == high)))
        }
        // `4 x 30 m` is more likely metres, and isn't made minutes by one key.
        Doubt::MinuteOrMetre => {
            (!typed.contains(['x', '×', 'X'])).then(|| format!("{} min", without_metre(typed)))
        }
        Doubt::DecimalComma => Some(typed.replacen(',', ".", 1)),
        Doubt::Sevenths { n: 7 } => Some("daily".to_string()),
        Doubt::Sevenths { n } => Some(format!("{n}/week")),
        Doubt::EveryOtherOrEndOfDay => Some("alternate days".to_string()),
        Doubt::AfternoonOrEvening => Some("evening".to_string()),
        Doubt::TimeBesideReps { time } => Some(format!("hold {time}")),
        Doubt::TimesOrReps { n } => Some(format!("{n} reps, daily")),
        Doubt::RangeOrEffort { sets: Some(sets), low, high } => Some(format!("{sets} x {low}-{high}")),
        Doubt::RangeOrEffort { sets: None, low, high } => Some(format!("{low}-{high} reps")),
        Doubt::Hours { low: 1 } => Some("hourly".to_string()),
        Doubt::Hours { low } => Some(format!("every {low} hours")),
        Doubt::Span { text } => Some(text.clone()),
        Doubt::Biweekly => Some("2/week".to_string()),
        Doubt::MostDays => Some("5/week".to_string()),
        Doubt::UntilWeeks { weeks } => Some(format!("until week {weeks}")),
        Doubt::AfterWeek { from } => Some(format!("from week {from}")),
        Doubt::WeekAlone { week } => Some(format!("from week {week}")),
        Doubt::StopAt { week } => Some(format!("until week {week}")),
        Doubt::MostReps { sets, reps } => Some(format!("{sets} x {reps}, 0 in reserve")),
        Doubt::TempoLetter => {
            let digits =
                typed.to_lowercase().replace("tempo", "").replace(['-', ' ', ':'], "").replace('x', "1");
            let parts: Vec<String> = digits.chars().map(String::from).collect();
            (parts.len() == 4).then(|| format!("tempo {}", parts.join("-")))
        }
        Doubt::Inches { cm, prop, .. } => Some(format!("{cm} cm {prop}")),
        Doubt::Misspelt { near, .. } => match near.as_slice() {
            [one] => Some((*one).to_string()),
            _ => None,
        },
        // What was typed is neither taken away nor made up by one key.
        Doubt::NoDailyCap
        | Doubt::Twice { .. }
        | Doubt::MoreThanDaily { .. }
        | Doubt::WhichDate
        | Doubt::DateEitherWay
        | Doubt::InAllOrEach { .. }
        | Doubt::NoCap
        | Doubt::Unread { .. }
        | Doubt::OnAndOff
        | Doubt::SetsADay { .. }
        | Doubt::Pyramid
        | Doubt::EveryMinutes
        | Doubt::Many { .. }
        | Doubt::Backwards
        | Doubt::WhichDay
        | Doubt::DayWithoutStart { .. }
        | Doubt::OtherWeekday { .. }
        | Doubt::NoSuchDay
        | Doubt::MoreOnOneSide
        | Doubt::Next
        | Doubt::LoadGrows
        | Doubt::BoundedLoad
        | Doubt::Another
        | Doubt::Landmark
        | Doubt::TooLong => None,
    }
}
