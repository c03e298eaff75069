//! What a prescription's notices say: all sentences in one place, apart from the reading.

use super::angles::Fault;
use super::words::{Elsewhere, Key};
use crate::language::restraint::Plain;
use crate::notice::{Edit, Notice, Severity};
use crate::text::Place;

fn notice(
    severity: Severity,
    kind: &'static str,
    place: Place,
    sentence: String,
    with: Option<String>,
) -> Notice {
    Notice { severity, kind, place, sentence, edit: with.map(|with| Edit { place, with }) }
}

/// Where something is put in without taking anything away.
fn insertion(place: Place, at: usize, with: String) -> Edit {
    Edit { place: Place { line: place.line, start: at, end: at }, with }
}

pub fn line_too_long(place: Place) -> Notice {
    let most = crate::text::LONGEST_LINE;
    notice(
        Severity::Error,
        "line-too-long",
        place,
        format!(
            "This line has more than {most} characters and is kept as typed, unread. Part it into shorter lines."
        ),
        None,
    )
}

pub fn too_many_exercises(place: Place, most: usize) -> Notice {
    notice(
        Severity::Error,
        "too-many-exercises",
        place,
        format!(
            "From here on exercises are kept as typed, unread: at most {most} are read. They are not on the sheet, which says so, and no link is made. Take some out, or write a second prescription."
        ),
        None,
    )
}

pub fn too_many_lines(place: Place, most: usize) -> Notice {
    notice(
        Severity::Error,
        "too-many-lines",
        place,
        format!(
            "From here on lines are kept as typed, unread: at most {most} are read. They are not on the sheet, which says so, and no link is made. Take some out, or write a second prescription."
        ),
        None,
    )
}

pub fn too_many_notices(place: Place, left_out: usize) -> Notice {
    notice(
        Severity::Error,
        "too-many-notices",
        place,
        format!("There are {left_out} more notices. Mend the ones above first."),
        None,
    )
}

pub fn mistyped_key(place: Place, typed: &str, near: &[&'static str]) -> Notice {
    // Which week is not guessed.
    let shown = |n: &str| if n == "from week" { "“from week 3:”".into() } else { format!("“{n}:”") };
    let list: Vec<String> = near.iter().map(|n| shown(n)).collect();
    let with = match near {
        ["from week"] => None,
        [one] => Some((*one).to_string()),
        _ => None,
    };
    notice(
        Severity::Error,
        "mistyped-key",
        place,
        format!("“{typed}” is not a word that starts a line here. Did you mean {}?", list.join(" or ")),
        with,
    )
}

pub fn missing_colon(line: Place, word: Place, key: &str) -> Notice {
    Notice {
        edit: Some(insertion(line, word.end, ":".to_string())),
        ..notice(
            Severity::Error,
            "missing-colon",
            line,
            format!("This was not taken for an exercise. If it is your {key}, write a colon after “{key}”."),
            None,
        )
    }
}

/// A step whose condition is followed by its dose without a colon between them; `head` is the condition.
pub fn missing_step_colon(line: Place, head: Place) -> Notice {
    Notice {
        edit: Some(insertion(line, head.end, ":".to_string())),
        ..notice(
            Severity::Error,
            "missing-colon",
            line,
            "This was not taken for an exercise. If it says what to do instead, write a colon before the dose, \
             as in “when easy: 3 x 12”."
                .to_string(),
            None,
        )
    }
}

/// A detail without its colon, read as one; `head` is its word.
pub fn read_as_detail(line: Place, head: Place, word: &str) -> Notice {
    Notice {
        edit: Some(insertion(line, head.end, ":".to_string())),
        ..notice(
            Severity::Advice,
            "read-as-detail",
            line,
            format!(
                "This was read as “{word}:” for the exercise above. Write the colon, or start the line otherwise."
            ),
            None,
        )
    }
}

/// A word before a colon that other records use, and what it is called here.
pub fn other_key(place: Place, typed: &str, other: Elsewhere, line: Place) -> Notice {
    let told = |sentence: String, edit: Option<Edit>| Notice {
        edit,
        ..notice(Severity::Error, "other-key", place, sentence, None)
    };
    let instead = |key: Key| Some(Edit { place, with: key.word().to_string() });
    match other {
        Elsewhere::Patient => told(
            format!(
                "“{typed}:” is no key here. Name or initials, and age, stand after “patient:”, as in “patient: T. B., 58”."
            ),
            instead(Key::Patient),
        ),
        Elsewhere::Key(key) => {
            told(format!("“{typed}:” is no key here. Write “{}:” for that.", key.word()), instead(key))
        }
        Elsewhere::Record => told(
            format!(
                "“{typed}:” is not needed here and was not taken for an exercise. Keep it in your own record, or as a private remark after “//”."
            ),
            Some(insertion(line, line.start, "// ".to_string())),
        ),
        Elsewhere::Date => told(
            format!(
                "“{typed}:” does not say which date it is. Write “start:” for the first day, “review:” or “screened:”."
            ),
            instead(Key::Start),
        ),
        Elsewhere::Private => kept_private(line),
        Elsewhere::Danger => told(
            format!(
                "“{typed}:” was not read and is not checked. Write movements to leave out after “avoid:”, conditions after “caution:”."
            ),
            instead(Key::Avoid),
        ),
    }
}

/// A line that tells what was found, kept for the clinician.
/// A plain line that was read as the value of a line word.
pub fn noted(line: Place, key: &str) -> Notice {
    Notice {
        edit: Some(insertion(line, line.start, format!("{key}: "))),
        ..notice(
            Severity::Advice,
            "read-as-noted",
            line,
            format!("This is read as “{key}:”: a note of the patient, no exercise."),
            None,
        )
    }
}

/// A line below an exercise that forbids something: it is said there, and no rule looks at it.
pub fn read_as_guard(line: Place) -> Notice {
    notice(
        Severity::Advice,
        "read-as-guard",
        line,
        "This prints below the exercise above, word for word, and is not checked. What holds for all exercises goes \
         on a line of its own without an indent."
            .to_string(),
        None,
    )
}

/// A red flag behind a key whose words are printed.
pub fn red_flag_kept(place: Place) -> Notice {
    notice(
        Severity::Precaution,
        "red-flag-kept",
        place,
        "What names a red flag is neither printed nor handed over: it would read as something that the patient can \
         avoid. Begin a line of its own with “finding:”."
            .to_string(),
        None,
    )
}

pub fn kept_private(line: Place) -> Notice {
    Notice {
        edit: Some(insertion(line, line.start, "finding: ".to_string())),
        ..notice(
            Severity::Advice,
            "kept-private",
            line,
            "This is kept for you: findings, results and red flags are neither printed nor handed over. \
             Begin it with “finding:”."
                .to_string(),
            None,
        )
    }
}

pub fn weight_without_key(line: Place) -> Notice {
    Notice {
        edit: Some(insertion(line, line.start, "weight: ".to_string())),
        ..notice(
            Severity::Error,
            "missing-colon",
            line,
            "This was not taken for an exercise. Write how much weight a leg may take as “weight: right, …”."
                .to_string(),
            None,
        )
    }
}

pub fn not_understood(place: Place) -> Notice {
    notice(
        Severity::Error,
        "line-unread",
        place,
        "This line was not understood and is kept as typed. Write an exercise as “name, side: 3 x 10”, \
         or start a private remark with “//”."
            .to_string(),
        Some(String::new()),
    )
}

pub fn dose_alone(place: Place) -> Notice {
    notice(
        Severity::Error,
        "dose-alone",
        place,
        "This dose stands below no exercise. Write the exercise's name before it.".to_string(),
        None,
    )
}

pub fn detail_alone(place: Place, word: &str) -> Notice {
    notice(
        Severity::Error,
        "detail-alone",
        place,
        format!("“{word}” stands below no exercise. Move it under the exercise it belongs to."),
        None,
    )
}

pub fn read_as_cue(place: Place) -> Notice {
    Notice {
        edit: Some(insertion(place, place.start, "cue: ".to_string())),
        ..notice(
            Severity::Advice,
            "read-as-cue",
            place,
            "This was read as a cue for the exercise above.".to_string(),
            None,
        )
    }
}

/// What stands behind an exercise, or below it in plain words, and changes it or stops it.
pub fn read_as_later(place: Place, text: &str) -> Notice {
    let sentence = format!("This was read as “{text}” for this exercise.");
    notice(Severity::Advice, "read-as-later", place, sentence, None)
}

pub fn empty_key(place: Place, key: &str) -> Notice {
    notice(Severity::Advice, "key-empty", place, format!("Nothing is said after “{key}:”."), None)
}

pub fn key_twice(place: Place, key: Key) -> Notice {
    let word = key.word();
    notice(
        Severity::Error,
        "key-twice",
        place,
        format!("“{word}:” was said above already; the first one stands. Keep one of the two."),
        None,
    )
}

pub fn bad_date(place: Place, key: &str) -> Notice {
    notice(
        Severity::Error,
        "date-unread",
        place,
        format!("The date after “{key}:” was not understood. Write it as 2026-12-31."),
        None,
    )
}

pub fn undated_day(place: Place, key: &str, fault: super::day::Fault) -> Notice {
    use super::day::Fault;
    let sentence = match fault {
        Fault::NoStart => format!(
            "This day counts from the start, which isn't given. Write “start:” with a date, or the date itself behind \
             “{key}:”, such as 2026-12-31."
        ),
        Fault::Weekday(date) => {
            let day = crate::measure::WEEKDAY_NAMES.get(usize::from(date.weekday())).copied().unwrap_or("");
            format!("{} is a {day}. Which of the two is meant? Write the date as {date}.", date.words())
        }
        Fault::NoSuchDay => "There is no such day. Write the date as 2026-12-31.".to_string(),
    };
    notice(Severity::Error, "ask-day", place, sentence, None)
}

pub fn unsure_date(place: Place) -> Notice {
    notice(
        Severity::Error,
        "ask-date",
        place,
        "The day and month of this date may be meant either way. Write the date as 2026-12-31.".to_string(),
        None,
    )
}

pub fn bad_value(place: Place, key: Key) -> Notice {
    let (expected, example) = (key.row().value, key.row().tidy);
    let safety = if key.is_safety() { " It will be printed word for word and is not checked." } else { "" };
    notice(
        Severity::Error,
        "value-unread",
        place,
        format!(
            "What stands after “{}:” was not understood: expected {expected}, as in “{example}”.{safety}",
            key.word()
        ),
        None,
    )
}

pub fn limit(place: Place, key: &str, fault: Fault) -> Notice {
    let example = "right knee flexion 0-90 until 6 weeks after surgery";
    let unread = |why: String| {
        notice(
            Severity::Error,
            "limit-unread",
            place,
            format!(
                "{why} It will be printed word for word and is not checked. Write it like “{key}: {example}”."
            ),
            None,
        )
    };
    match fault {
        Fault::NoJoint => unread(format!("This {key} names no joint that is known.")),
        Fault::NoMotion(joint) => {
            unread(format!("This {key} does not say which motion of the {} is meant.", joint.word()))
        }
        Fault::CannotMove(joint, motion) => {
            unread(format!("The {} has no {}.", joint.word(), motion.words()))
        }
        Fault::NoBound(joint) => unread(format!("This {key} gives no number of degrees for the {}.", joint.word())),
        Fault::BadNumbers => {
            unread(format!("The degrees in this {key} were not understood: give the lower one first, within 180."))
        }
        Fault::BadEnd => unread(format!(
            "The end of this {key} was not understood: give a week, a date, or weeks after surgery."
        )),
        Fault::EitherWay(n) => notice(
            Severity::Error,
            "ask-limit-comparator",
            place,
            format!("This {key} may mean no further than {n}, or at least {n}. Write “at most {n}” or “at least {n}”."),
            None,
        ),
        Fault::PastStraight(n) => notice(
            Severity::Error,
            "ask-limit-straight",
            place,
            format!(
                "This {key} may mean {n} degrees past straight, or {n} short of it. Write “extension at most -{n}” if the \
                 joint must stay bent by {n}."
            ),
            None,
        ),
        Fault::Arc => unread(format!(
            "This {key} forbids an arc between two numbers, which is not checked: write what is allowed, such as “0-60”."
        )),
        Fault::TurnedRound => unread(format!("Words in this {key} may change its meaning and were not understood.")),
        Fault::NoSide(joint) => notice(
            Severity::Precaution,
            "limit-side",
            place,
            format!("No side is said for the {0}: it holds for both. Write right, left or both {0}s.", joint.word()),
            None,
        ),
        Fault::BareNumber(n) => notice(
            Severity::Advice,
            "limit-bare-number",
            place,
            format!("{n} alone was read as “at most {n}”."),
            None,
        ),
        Fault::Forbidden(motion) => notice(
            Severity::Advice,
            "limit-forbidden",
            place,
            format!("No {0} was read as “{0} at most 0”.", motion.words()),
            None,
        ),
        Fault::Posterior => notice(
            Severity::Precaution,
            "limit-precautions",
            place,
            "This was read as hip flexion at most 90, adduction at most 0, internal rotation at most 0. \
             What the team that operated wrote decides."
                .to_string(),
            None,
        ),
        Fault::EndForAll => notice(
            Severity::Precaution,
            "limit-end-for-all",
            place,
            "The end was read for every limit on this line. If it is only for the last, write them on two lines."
                .to_string(),
            None,
        ),
    }
}

pub fn limit_words(place: Place, words: &str) -> Notice {
    notice(
        Severity::Precaution,
        "limit-words",
        place,
        format!("The angle is checked; “{words}” is not, and the whole line is printed word for word."),
        None,
    )
}

pub fn limit_without_clock(place: Place, end: &str) -> Notice {
    notice(
        Severity::Precaution,
        "end-without-clock",
        place,
        format!(
            "“{end}” has no date to count from, so this holds without end. Add “start:” or “surgery:” with a date, or write the end as “until 2026-12-31”."
        ),
        None,
    )
}

pub fn counted_from_start(place: Place, end: &str, day: &str, other: &str) -> Notice {
    notice(
        Severity::Precaution,
        "counted-from-start",
        place,
        format!(
            "“{end}” counts from the start, so the last day is {day}. Counted from surgery it would be {other}: write “until … weeks after surgery” if that is meant."
        ),
        None,
    )
}

pub fn ends_before_review(place: Place, day: &str) -> Notice {
    notice(
        Severity::Advice,
        "ends-before-review",
        place,
        format!("This holds up to and including {day}, which is before the review."),
        None,
    )
}

pub fn step_with_end(place: Place) -> Notice {
    notice(
        Severity::Error,
        "step-unread",
        place,
        "A change holds until the next one. Write it as “from week 3: 3 x 12”, and what follows as a step of its own."
            .to_string(),
        None,
    )
}

pub fn step_unread(place: Place) -> Notice {
    notice(
        Severity::Error,
        "step-unread",
        place,
        "This step says nothing that can be done. Write a dose, or an exercise and its dose.".to_string(),
        None,
    )
}

pub fn rounds_on_one_line(place: Place) -> Notice {
    notice(
        Severity::Error,
        "rounds-unread",
        place,
        "Rounds are written as a heading, “## 3 rounds”, with each exercise on a line below it.".to_string(),
        None,
    )
}

pub fn plain_limit(place: Place, written: &str) -> Notice {
    notice(
        Severity::Advice,
        "plain-limit",
        place,
        format!("Read as a limit: {written}."),
        Some(format!("limit: {written}")),
    )
}

pub fn plain_weight(place: Place, written: &str) -> Notice {
    notice(
        Severity::Advice,
        "plain-weight",
        place,
        format!("Read as weight-bearing: {written}."),
        Some(format!("weight: {written}")),
    )
}

/// Where a plain line stands on the sheet, or that it doesn't.
/// What held before what holds now.
pub fn held_before(place: Place) -> Notice {
    notice(
        Severity::Advice,
        "held-before",
        place,
        "This held before; only what stands behind “now” is kept to.".to_string(),
        None,
    )
}

pub fn stated(place: Place, kind: Plain) -> Notice {
    let (severity, name, sentence) = match kind {
        Plain::Finding => return kept_private(place),
        Plain::Restriction => (
            Severity::Precaution,
            "plain-restriction",
            "This line is printed word for word under “Do not”. Is that what you mean?",
        ),
        Plain::Permission => (
            Severity::Advice,
            "plain-permission",
            "This line is printed word for word under “What you may do”.",
        ),
        Plain::Advice => (
            Severity::Advice,
            "plain-advice",
            "This line is printed word for word under “As your clinician wrote”.",
        ),
        Plain::Order => {
            (Severity::Advice, "plain-order", "This line is printed word for word as something to do.")
        }
    };
    notice(severity, name, place, sentence.to_string(), None)
}

/// A limb that is named by the problem: on the one side that the text speaks of, or asked.
pub fn affected(place: Place, typed: &str, side: Option<&str>) -> Notice {
    match side {
        Some(side) => notice(
            Severity::Advice,
            "affected-side",
            place,
            format!("“{typed}” was read as {side}, the side of the operation, injury or limit above."),
            None,
        ),
        None => notice(
            Severity::Error,
            "ask-affected-side",
            place,
            format!("Which side is “{typed}”? Write right or left."),
            None,
        ),
    }
}

pub fn denied_exercise(place: Place, name: &str) -> Notice {
    notice(
        Severity::Error,
        "ask-denied-exercise",
        place,
        format!(
            "“{name}” begins like a restriction and has a dose. Until you say which it is, the line is printed under \
             “Do not”. For an exercise write the name without “no”; for a restriction leave the dose out."
        ),
        None,
    )
}

/// A range of motion without a word of what it is.
pub fn measured_or_ordered(place: Place, limit: &str) -> Notice {
    Notice {
        edit: Some(Edit { place, with: format!("limit: {limit}") }),
        ..notice(
            Severity::Error,
            "ask-measured",
            place,
            "Was this range measured, or may the patient not leave it? Until you say so it is kept for you alone and \
             limits nothing. Begin the line with “measure:” or with “limit:”."
                .to_string(),
            None,
        )
    }
}

pub fn no_exercise(place: Place, printed: bool) -> Notice {
    let fate =
        if printed { "prints word for word, not as an exercise" } else { "is kept for you and not printed" };
    notice(
        Severity::Error,
        "no-exercise",
        place,
        format!(
            "This line has no dose and is no exercise of the catalog, so it {fate}. For an exercise add how much, such \
             as “3 x 10”; for something the patient should know write “advice:”, “rule:”, “may:” or “do not:” before it."
        ),
        None,
    )
}

pub fn weight_without_side(place: Place) -> Notice {
    notice(
        Severity::Error,
        "ask-weight-side",
        place,
        "No side is said for this weight: until you say it, it holds for both. Write right, left or both."
            .to_string(),
        None,
    )
}
