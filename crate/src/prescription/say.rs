//! What a prescription's notices are made of: the kind with its data, and what to write instead. Their sentences stand
//! in [`crate::notice::english`].

use super::angles::Fault;
use super::words::{Elsewhere, Key};
use crate::body::names::Side;
use crate::dose::Sided;
use crate::language::restraint::Plain;
use crate::measure::Date;
use crate::notice::kinds::dose::Doubt;
use crate::notice::kinds::prescription::{Held, Lacks, OfPrescription as Of};
use crate::notice::{Edit, Notice};
use crate::text::Place;

fn notice(what: Of, place: Place) -> Notice {
    Notice::new(what, place)
}

/// What stands at the notice's place becomes `with`.
fn replaced(what: Of, place: Place, with: impl Into<Option<String>>) -> Notice {
    notice(what, place).with(with.into().map(|with| Edit { place, with }))
}

/// Something is put in at a byte of the line, without taking anything away.
fn inserted(what: Of, place: Place, at: usize, with: impl Into<String>) -> Notice {
    let edit = Edit { place: Place { line: place.line, start: at, end: at }, with: with.into() };
    notice(what, place).with(edit)
}

pub fn line_too_long(place: Place) -> Notice {
    notice(Of::LineTooLong { most: crate::text::LONGEST_LINE }, place)
}

pub fn too_many_exercises(place: Place, most: usize) -> Notice {
    notice(Of::TooManyExercises { most }, place)
}

pub fn too_many_lines(place: Place, most: usize) -> Notice {
    notice(Of::TooManyLines { most }, place)
}

pub fn too_many_notices(place: Place, left_out: usize) -> Notice {
    notice(Of::TooManyNotices { more: left_out }, place)
}

pub fn mistyped_key(place: Place, typed: &str, near: &[&'static str]) -> Notice {
    // Which week is not guessed.
    let with = match near {
        ["from week"] => None,
        [one] => Some((*one).to_string()),
        _ => None,
    };
    replaced(Of::MistypedKey { typed: typed.to_string(), near: near.to_vec() }, place, with)
}

pub fn missing_colon(line: Place, word: Place, key: &str) -> Notice {
    inserted(Of::MissingColon { key: key.to_string() }, line, word.end, ":")
}

/// A step whose condition is followed by its dose without a colon between them; `head` is the condition.
pub fn missing_step_colon(line: Place, head: Place) -> Notice {
    inserted(Of::MissingStepColon, line, head.end, ":")
}

/// A detail without its colon, read as one; `head` is its word.
pub fn read_as_detail(line: Place, head: Place, word: &str) -> Notice {
    inserted(Of::ReadAsDetail { key: word.to_string() }, line, head.end, ":")
}

/// A word before a colon that other records use, and what it is called here.
pub fn other_key(place: Place, typed: &str, other: Elsewhere, line: Place) -> Notice {
    let typed = typed.to_string();
    let instead = |what: Of, key: Key| replaced(what, place, key.word().to_string());
    match other {
        Elsewhere::Patient => instead(Of::KeyOfPatient { typed }, Key::Patient),
        Elsewhere::Key(key) => instead(Of::KeyNamed { typed, key: key.word() }, key),
        Elsewhere::Record => Notice { place, ..inserted(Of::KeyOfRecord { typed }, line, line.start, "// ") },
        Elsewhere::Date => instead(Of::KeyOfDate { typed }, Key::Start),
        Elsewhere::Private => kept_private(line),
        Elsewhere::Danger => instead(Of::KeyOfDanger { typed }, Key::Avoid),
    }
}

/// A plain line that was read as the value of a line word.
pub fn noted(line: Place, key: &str) -> Notice {
    inserted(Of::Noted { key: key.to_string() }, line, line.start, format!("{key}: "))
}

/// A line below an exercise that forbids something: it is said there, and no rule looks at it.
pub fn read_as_guard(line: Place) -> Notice {
    notice(Of::ReadAsGuard, line)
}

/// A red flag behind a key whose words are printed.
pub fn red_flag_kept(place: Place) -> Notice {
    notice(Of::RedFlagKept, place)
}

/// A line that tells what was found, kept for the clinician.
pub fn kept_private(line: Place) -> Notice {
    inserted(Of::KeptPrivate, line, line.start, "finding: ")
}

/// A short form that may mean several conditions.
pub fn several_meanings(place: Place, typed: &str, means: Vec<&'static str>) -> Notice {
    notice(Of::SeveralMeanings { typed: typed.to_string(), means }, place)
}

/// What a kept line forbids.
pub fn restriction_kept(place: Place) -> Notice {
    notice(Of::RestrictionKept, place)
}

pub fn weight_without_key(line: Place) -> Notice {
    inserted(Of::WeightWithoutKey, line, line.start, "weight: ")
}

pub fn not_understood(place: Place) -> Notice {
    notice(Of::NotUnderstood, place)
}

pub fn dose_alone(place: Place) -> Notice {
    notice(Of::DoseAlone, place)
}

pub fn detail_alone(place: Place, word: &str) -> Notice {
    notice(Of::DetailAlone { key: word.to_string() }, place)
}

pub fn read_as_cue(place: Place) -> Notice {
    inserted(Of::ReadAsCue, place, place.start, "cue: ")
}

/// What stands behind an exercise, or below it in plain words, and changes it or stops it.
pub fn read_as_later(place: Place, text: &str) -> Notice {
    notice(Of::ReadAsLater { text: text.to_string() }, place)
}

pub fn empty_key(place: Place, key: &str) -> Notice {
    notice(Of::KeyEmpty { key: key.to_string() }, place)
}

pub fn key_twice(place: Place, key: Key) -> Notice {
    notice(Of::KeyTwice { key: key.word() }, place)
}

pub fn bad_date(place: Place, key: &str) -> Notice {
    notice(Of::DateUnread { key: key.to_string() }, place)
}

pub fn undated_day(place: Place, key: &'static str, fault: super::day::Fault) -> Notice {
    use super::day::Fault;
    let doubt = match fault {
        Fault::NoStart => Doubt::DayWithoutStart { key },
        Fault::Weekday(date) => Doubt::OtherWeekday { date },
        Fault::NoSuchDay => Doubt::NoSuchDay,
    };
    crate::dose::say::notice(doubt, "", place)
}

pub fn unsure_date(place: Place) -> Notice {
    crate::dose::say::notice(Doubt::DateEitherWay, "", place)
}

pub fn bad_value(place: Place, key: Key) -> Notice {
    let row = key.row();
    let (expected, is_printed) = (row.value, key.is_safety());
    notice(Of::ValueUnread { key: row.word, expected, example: row.tidy, is_printed }, place)
}

pub fn limit(place: Place, key: &str, fault: Fault) -> Notice {
    let key = key.to_string();
    let what = match fault {
        Fault::NoJoint => Of::LimitNoJoint { key },
        Fault::NoMotion(joint) => Of::LimitNoMotion { key, joint },
        Fault::CannotMove(joint, motion) => Of::LimitCannotMove { key, joint, motion },
        Fault::NoBound(joint) => Of::LimitNoBound { key, joint },
        Fault::BadNumbers => Of::LimitNumbers { key },
        Fault::BadEnd => Of::LimitEnd { key },
        Fault::EitherWay(n) => Of::LimitEitherWay { key, n },
        Fault::PastStraight(n) => Of::LimitPastStraight { key, n },
        Fault::Arc => Of::LimitArc { key },
        Fault::TurnedRound => Of::LimitTurnedRound { key },
        Fault::NoSide(joint) => Of::LimitNoSide { joint },
        Fault::BareNumber(n) => Of::LimitBareNumber { n },
        Fault::Forbidden(motion) => Of::LimitForbidden { motion },
        Fault::Posterior => Of::LimitPrecautions,
        Fault::EndForAll => Of::LimitEndForAll,
    };
    notice(what, place)
}

pub fn limit_words(place: Place, words: &str) -> Notice {
    notice(Of::LimitWords { words: words.to_string() }, place)
}

pub fn limit_without_clock(place: Place, end: &str, lacks: Lacks) -> Notice {
    notice(Of::LimitWithoutClock { end: end.to_string(), lacks }, place)
}

pub fn counted_from_surgery(place: Place, end: &str, day: Date) -> Notice {
    notice(Of::CountedFromSurgery { end: end.to_string(), day }, place)
}

pub fn weight_stages(place: Place) -> Notice {
    notice(Of::WeightStages, place)
}

pub fn several_ends(place: Place) -> Notice {
    notice(Of::SeveralEnds, place)
}

pub fn counted_from_start(place: Place, end: &str, day: Date, from_surgery: Date) -> Notice {
    notice(Of::CountedFromStart { end: end.to_string(), day, from_surgery }, place)
}

pub fn ends_before_review(place: Place, day: Date) -> Notice {
    notice(Of::EndsBeforeReview { day }, place)
}

pub fn step_with_end(place: Place) -> Notice {
    notice(Of::StepWithEnd, place)
}

pub fn step_unread(place: Place) -> Notice {
    notice(Of::StepSaysNothing, place)
}

pub fn rounds_on_one_line(place: Place) -> Notice {
    notice(Of::RoundsOnOneLine, place)
}

pub fn plain_limit(place: Place, written: &str) -> Notice {
    replaced(Of::PlainLimit { written: written.to_string() }, place, format!("limit: {written}"))
}

pub fn plain_weight(place: Place, written: &str) -> Notice {
    replaced(Of::PlainWeight { written: written.to_string() }, place, format!("weight: {written}"))
}

/// What held before what holds now.
pub fn held_before(place: Place) -> Notice {
    notice(Of::HeldBefore, place)
}

/// Where a plain line stands on the sheet, or that it doesn't.
pub fn stated(place: Place, kind: Plain) -> Notice {
    let what = match kind {
        Plain::Finding => return kept_private(place),
        Plain::Restriction => Of::PlainRestriction,
        Plain::Permission => Of::PlainPermission,
        Plain::Advice => Of::PlainAdvice,
        Plain::Order => Of::PlainOrder,
    };
    notice(what, place)
}

/// A limb that is named by the problem: on the one side that the text speaks of, or asked.
pub fn affected(place: Place, typed: &str, side: Option<Side>) -> Notice {
    let typed = typed.to_string();
    let what = match side {
        Some(side) => Of::AffectedSide { typed, side },
        None => Of::WhichAffectedSide { typed },
    };
    notice(what, place)
}

pub fn denied_exercise(place: Place, name: &str) -> Notice {
    notice(Of::DeniedExercise { name: name.to_string() }, place)
}

/// A range of motion without a word of what it is.
pub fn measured_or_ordered(place: Place, limit: &str) -> Notice {
    replaced(Of::MeasuredOrOrdered, place, format!("limit: {limit}"))
}

pub fn no_exercise(place: Place, printed: bool) -> Notice {
    notice(Of::NoExercise { is_printed: printed }, place)
}

pub fn weight_without_side(place: Place) -> Notice {
    notice(Of::WeightWithoutSide, place)
}

/// Two sides on one line.
pub fn side_twice(place: Place, first: String, said: String) -> Notice {
    notice(Of::SideTwice { first, said }, place)
}

/// A side that the lines above contradict.
pub fn side_against(place: Place, first: String, said: Sided) -> Notice {
    notice(Of::SideAgainst { first, said: said.to_string() }, place)
}

pub fn own_words(place: Place) -> Notice {
    notice(Of::OwnWords, place)
}

pub fn own_words_hold(place: Place, typed: &str, held: Held) -> Notice {
    notice(Of::OwnWordsHold { typed: typed.to_string(), held }, place)
}
