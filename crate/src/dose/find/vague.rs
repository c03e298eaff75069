//! Words that say how often or when, and are no number: `EOD`, `throughout the day`, `every kettle boil`, `on gym days`. No
//! frequency is made up beside them.

use crate::language::token::{Cursor, Sort, Token, tokens};
use crate::text::fold::fold;

/// By themselves they say how often.
const ALONE: [&str; 27] = [
    "eod",
    "qod",
    "od",
    "bd",
    "bid",
    "tds",
    "tid",
    "qds",
    "qid",
    "daily",
    "weekly",
    "hourly",
    "hrly",
    "fortnightly",
    "biweekly",
    "nightly",
    "whenever",
    "throughout",
    "frequently",
    "regularly",
    "occasionally",
    "sporadically",
    "often",
    "prn",
    "alternate",
    "intermittently",
    "mwf",
];
/// Behind `every` or `each` they are parts of the work, not of the day.
const OF_THE_WORK: [&str; 30] = [
    "rep",
    "reps",
    "set",
    "sets",
    "side",
    "way",
    "direction",
    "leg",
    "arm",
    "foot",
    "hand",
    "finger",
    "toe",
    "time",
    "position",
    "movement",
    "lift",
    "hold",
    "one",
    "of",
    "step",
    "stride",
    "limb",
    "knee",
    "hip",
    "ankle",
    "shoulder",
    "round",
    "breath",
    "other",
];
/// They are times of day or week, or come again and again within it.
const TIMES: [&str; 24] = [
    "day",
    "days",
    "morning",
    "mornings",
    "evening",
    "evenings",
    "night",
    "nights",
    "afternoon",
    "hour",
    "hours",
    "hr",
    "hrs",
    "week",
    "wk",
    "meal",
    "meals",
    "weekend",
    "waking",
    "min",
    "mins",
    "minutes",
    "shift",
    "visit",
];

/// Whether typed words say how often or when something is done.
///
/// ```
/// use layfigure::dose::find::vague::says_how_often;
/// assert!(says_how_often("throughout the day") && says_how_often("every kettle boil") && says_how_often("EOD"));
/// assert!(!says_how_often("hold the rail") && !says_how_often("breathe out each rep"));
/// ```
pub fn says_how_often(words: &str) -> bool {
    let folded = fold(words);
    let all = tokens(&folded);
    (0..all.len()).any(|at| says(&all, at))
}

fn says(all: &[Token<'_>], at: usize) -> bool {
    let mut c = Cursor { all, at };
    let Some(word) = c.peek_word() else { return false };
    let alone = ALONE.contains(&word);
    c.at += 1;
    let next = c.peek_word();
    match word {
        // `alternate legs` says nothing of the days.
        "alternate" | "alt" => matches!(next, Some("day" | "days" | "nights" | "mornings" | "evenings")),
        "throughout" => next.is_some_and(|w| !is_work(w)) && !behind_article(c, is_work),
        "regularly" | "frequently" | "often" | "intermittently" => true,
        "every" => !c.is_done() && next.is_none_or(|w| !OF_THE_WORK.contains(&w) || other(c)),
        "each" => next.is_some_and(|w| TIMES.contains(&w)),
        "during" => at == 0 && !behind_article(c, is_work) && next.is_some_and(|w| !is_work(w)),
        "while" | "whilst" | "when" => {
            matches!(next, Some("watching" | "waiting" | "travelling" | "driving")) && at == 0
        }
        "most" | "some" | "same" | "other" | "gym" | "rest" | "work" | "training" | "non" => {
            matches!(next, Some("days" | "mornings" | "evenings" | "nights" | "afternoons"))
        }
        // `on dialysis days`
        "on" => {
            (c.at..all.len().min(c.at + 4)).any(|i| all.get(i).is_some_and(|t| t.sort == Sort::Word("days")))
        }
        "times" | "x" | "goes" | "per" | "a" => {
            c.word(&["a", "per", "each", "every"]);
            c.sign('/');
            matches!(c.peek_word(), Some("day" | "d" | "week" | "wk" | "hour"))
        }
        _ => alone,
    }
}

/// `every other day`
fn other(mut c: Cursor<'_>) -> bool {
    c.word(&["other"]).is_some() && c.peek_word().is_some_and(|w| TIMES.contains(&w))
}

fn is_work(word: &str) -> bool {
    const WORK: [&str; 16] = [
        "exercise",
        "exercises",
        "movement",
        "movements",
        "lift",
        "hold",
        "rep",
        "reps",
        "set",
        "sets",
        "range",
        "motion",
        "stretch",
        "walk",
        "it",
        "task",
    ];
    WORK.contains(&word)
}

fn behind_article(mut c: Cursor<'_>, fits: fn(&str) -> bool) -> bool {
    c.word(&["the", "your", "a", "each", "full", "whole"]);
    c.peek_word().is_some_and(fits)
}
