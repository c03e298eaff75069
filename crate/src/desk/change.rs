//! What a strip's buttons do to the text: side, dose, order, an easier or harder exercise, out with it. Each is an
//! edit of the exercise's own lines, read again before it is given out: nothing else may have changed by it.

use super::place;
use crate::catalog::{self, Catalog};
use crate::dose::parts::{Days, Often};
use crate::dose::{Dose, Portion, Sided, Work};
use crate::measure::{Counts, Span};
use crate::prescription::{self, Exercise, Prescription};

/// One change of one exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    Side(Sided),
    /// One more or one fewer of something in the dose.
    Dose(Part, Step),
    Up,
    Down,
    /// Another exercise in its place, by its catalog name's id.
    Swap(String),
    /// A second one below it, to be changed.
    Again,
    Remove,
    /// Room for the reason why it is kept against a notice.
    Anyway,
}

/// What of a dose a button counts up and down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    Sets,
    Repetitions,
    Hold,
    Time,
    Often,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    Less,
    More,
}

/// A text after a change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    pub text: String,
    /// The line where it happened, counted from 1; the cursor goes to its end.
    pub line: usize,
    /// One sentence on what was done.
    pub said: String,
}

const SIDES: [(Sided, &str); 5] = [
    (Sided::Right, "right"),
    (Sided::Left, "left"),
    (Sided::EachSide, "each"),
    (Sided::Alternating, "alternating"),
    (Sided::Together, "together"),
];

const PARTS: [(Part, &str); 5] = [
    (Part::Sets, "sets"),
    (Part::Repetitions, "reps"),
    (Part::Hold, "hold"),
    (Part::Time, "time"),
    (Part::Often, "often"),
];

impl Change {
    /// As a button carries it: `side right`, `more reps`, `swap bridge`.
    pub fn name(&self) -> String {
        let of = |step: &Step| if *step == Step::More { "more" } else { "less" };
        match self {
            Change::Side(side) => format!("side {}", word(&SIDES, side)),
            Change::Dose(part, step) => format!("{} {}", of(step), word(&PARTS, part)),
            Change::Up => "up".into(),
            Change::Down => "down".into(),
            Change::Swap(id) => format!("swap {id}"),
            Change::Again => "again".into(),
            Change::Remove => "remove".into(),
            Change::Anyway => "anyway".into(),
        }
    }

    /// The change that has this name.
    pub fn named(name: &str) -> Option<Change> {
        let (verb, rest) = name.split_once(' ').unwrap_or((name, ""));
        let step = |step: Step| Some(Change::Dose(*find(&PARTS, rest)?, step));
        match verb {
            "side" => Some(Change::Side(*find(&SIDES, rest)?)),
            "more" => step(Step::More),
            "less" => step(Step::Less),
            "swap" if !rest.is_empty() => Some(Change::Swap(rest.to_string())),
            "up" => Some(Change::Up),
            "down" => Some(Change::Down),
            "again" => Some(Change::Again),
            "remove" => Some(Change::Remove),
            "anyway" => Some(Change::Anyway),
            _ => None,
        }
    }
}

fn word<T: PartialEq>(table: &[(T, &'static str)], of: &T) -> &'static str {
    table.iter().find(|(t, _)| t == of).map_or("", |(_, word)| word)
}

fn find<'a, T>(table: &'a [(T, &'static str)], word: &str) -> Option<&'a T> {
    table.iter().find(|(_, w)| *w == word).map(|(t, _)| t)
}

/// The text with the exercise of that line changed; an error is a sentence for the writer.
pub fn changed(text: &str, line: usize, change: &Change) -> Result<Changed, String> {
    let (read, _) = prescription::read(text);
    let Some(at) = read.exercises.iter().position(|e| e.line == line) else {
        return Err("The text has changed since: there is no exercise on that line any more.".into());
    };
    let exercise = &read.exercises[at];
    let entry = entry(&read, &exercise.name.text);
    let default = entry.map(|e| e.dose.clone()).unwrap_or_default();
    match change {
        Change::Side(side) => {
            let mut wanted = exercise.clone();
            wanted.side = Some(*side);
            rewritten(text, &read, at, &wanted)
        }
        Change::Dose(part, step) => {
            let mut wanted = exercise.clone();
            wanted.dose = counted(&exercise.dose, &default, *part, *step)?;
            rewritten(text, &read, at, &wanted)
        }
        Change::Swap(id) => {
            let other = Catalog::embedded().by_id(id);
            let other = other.ok_or("That exercise is not in the catalog.")?;
            let mut wanted = exercise.clone();
            wanted.name.text = prescription_name(other);
            let mut dose = exercise.dose.clone();
            if entry.is_none_or(|entry| entry.kind != other.kind) || dose.work.is_empty() {
                // Another kind of work: the numbers mean something else there.
                dose = Dose { often: dose.often, moments: dose.moments, ..other.dose.clone() };
            }
            wanted.dose = dose;
            wanted.side = exercise.side.filter(|_| other.sides != catalog::terms::Sides::None);
            rewritten(text, &read, at, &wanted)
        }
        Change::Up => alone(&read, moved(text, &read, at, true)?, &[], &[]),
        Change::Down => alone(&read, moved(text, &read, at, false)?, &[], &[]),
        Change::Again => {
            let (from, to) = block(&read, at);
            let copy = lines(text, from, to);
            let twice = Changed {
                text: with_lines(text, to, 0, &copy),
                line: to,
                said: format!("“{}” stands there twice now. Change the second.", exercise.name.text),
            };
            alone(&read, twice, &[exercise], &[])
        }
        Change::Remove => {
            let (from, to) = block(&read, at);
            let without = Changed {
                text: with_lines(text, from, to - from, &[]),
                line: from.saturating_sub(1).max(1),
                said: format!("“{}” is taken out.", exercise.name.text),
            };
            alone(&read, without, &[], &[exercise])
        }
        Change::Anyway => {
            let line = exercise.anyway.as_ref().map(|said| said.place.line);
            let after = block(&read, at).1;
            Ok(match line {
                Some(line) => Changed { text: text.into(), line, said: "The reason stands there.".into() },
                None => Changed {
                    text: with_lines(text, after, 0, &["  anyway: ".to_string()]),
                    line: after,
                    said: "Write why it is kept: the reason stands in the record.".into(),
                },
            })
        }
    }
}

/// The catalog's entry, or the own exercise, of that name; none where the name is not known.
pub fn entry(read: &Prescription, name: &str) -> Option<&'static catalog::Exercise> {
    if read.own.iter().any(|own| own.name.text == name) {
        return None;
    }
    match Catalog::embedded().find(name) {
        catalog::find::Found::One(entry) => Some(entry),
        catalog::find::Found::Near(_) | catalog::find::Found::None => None,
    }
}

/// The name as it is written in a text: without a capital, as one types.
pub fn prescription_name(entry: &catalog::Exercise) -> String {
    crate::programme::resolve::lower_first(&entry.name)
}

/// The dose with one part of it counted on. What is counted is said from then on, and nothing else.
fn counted(dose: &Dose, default: &Dose, part: Part, step: Step) -> Result<Dose, String> {
    let shown = dose.over(default);
    let mut wanted = dose.clone();
    if dose.work.is_empty() && !matches!(part, Part::Often | Part::Hold) {
        wanted.work = default.work.clone();
        wanted.hold = dose.hold.or(default.hold);
    }
    let nothing = || "This dose has no such number. Write it in the line.".to_string();
    match part {
        Part::Often => wanted.often = Some(oftener(shown.often, step)),
        Part::Hold if shown.hold.is_some() => wanted.hold = shown.hold.and_then(|hold| longer(hold, step)),
        Part::Hold if shown.work.iter().all(|p| matches!(p.work, Work::Repetitions { .. })) => {
            wanted.hold = if step == Step::More { Span::one(5) } else { None };
        }
        Part::Sets | Part::Repetitions | Part::Hold | Part::Time => {
            let mut any = false;
            for Portion { work, .. } in &mut wanted.work {
                any |= grown(work, part, step);
            }
            if !any {
                return Err(nothing());
            }
        }
    }
    Ok(wanted)
}

/// Counts one number of a piece of work; false where it has no such number.
fn grown(work: &mut Work, part: Part, step: Step) -> bool {
    match (work, part) {
        (
            Work::Repetitions { sets, .. } | Work::Bouts { sets, .. } | Work::Amount { sets, .. },
            Part::Sets,
        ) => {
            let now = sets.unwrap_or(Counts::ONE);
            let next = more(now, 1, step);
            *sets = if next == Counts::ONE && sets.is_none() { None } else { Some(next) };
            true
        }
        (Work::Repetitions { reps: Some(n), .. }, Part::Repetitions)
        | (Work::Bouts { bouts: n, .. }, Part::Repetitions) => {
            *n = more(*n, 1, step);
            true
        }
        (Work::Intervals { times, .. }, Part::Repetitions) => {
            *times = more(*times, 1, step);
            true
        }
        (Work::Bouts { span, .. }, Part::Hold | Part::Time) | (Work::Time(span), Part::Time | Part::Hold) => {
            *span = longer(*span, step).unwrap_or(*span);
            true
        }
        (Work::Amount { amount, .. }, Part::Repetitions) => {
            let by = (amount.low() / 10).max(1);
            *amount = more(*amount, by, step);
            true
        }
        _ => false,
    }
}

fn more(counts: Counts, by: u32, step: Step) -> Counts {
    let (low, high) = match step {
        Step::More => (counts.low() + by, counts.high() + by),
        Step::Less => (counts.low().saturating_sub(by), counts.high().saturating_sub(by)),
    };
    Counts::new(low.max(1), high.max(1)).unwrap_or(counts)
}

/// By a second below 5, by 5 below a minute, by 15 below five minutes, then by a minute: steps as they are typed
/// (common practice, no source). None: no hold is left.
fn longer(span: Span, step: Step) -> Option<Span> {
    let by = |seconds: u32| match (seconds, step) {
        (0..5, _) | (5, Step::Less) => 1,
        (5..60, _) | (60, Step::Less) => 5,
        (60..300, _) | (300, Step::Less) => 15,
        _ => 60,
    };
    let next = |seconds: u32| match step {
        Step::More => seconds + by(seconds),
        Step::Less => seconds.saturating_sub(by(seconds)),
    };
    Span::new(next(span.low()), next(span.high()))?.bounded(span.bound())
}

/// How often, from seldom to often.
fn ladder() -> Vec<Often> {
    let week = (1..=6).filter_map(|n| Some(Days::PerWeek(Counts::one(n)?))).map(|days| (days, 1));
    let day = (1..=6).map(|n| (Days::Daily, n));
    week.chain(day).filter_map(|(days, n)| Some(Often::Calendar { days, per_day: Counts::one(n)? })).collect()
}

/// The next on the ladder; where it is not said, or said another way, the nearest step of it.
fn oftener(often: Option<Often>, step: Step) -> Often {
    let ladder = ladder();
    let per_week = |often: &Often| match often {
        Often::Calendar { days, per_day } => {
            let days = match days {
                Days::Daily => 70,
                Days::PerWeek(n) => 10 * n.high(),
                Days::Every(n) => 70 / u32::from(*n).max(1),
                Days::On(days) => 10 * days.days().count() as u32,
            };
            days * per_day.high()
        }
        Often::Hours(hours) => 70 * (15 / u32::from(*hours).max(1)).max(1),
        Often::LittleAndOften => 350,
        Often::AsNeeded { .. } => 70,
    };
    let daily = Often::Calendar { days: Days::Daily, per_day: Counts::ONE };
    let now = often.map_or(per_week(&daily), |often| per_week(&often));
    let next = match step {
        Step::More => ladder.iter().find(|often| now < per_week(often)),
        Step::Less => ladder.iter().rev().find(|often| per_week(often) < now),
    };
    next.or(if step == Step::More { ladder.last() } else { ladder.first() }).copied().unwrap_or(daily)
}

/// The text with an exercise's line written as `wanted` says.
fn rewritten(text: &str, read: &Prescription, at: usize, wanted: &Exercise) -> Result<Changed, String> {
    let exercise = &read.exercises[at];
    let by_hand = || {
        format!(
            "Line {} is written in a way that a button can’t change. Change it in the text.",
            exercise.line
        )
    };
    let line = wanted.written();
    let (from, to) = place::bytes(text, exercise.place).ok_or_else(by_hand)?;
    let mut changed = text.to_string();
    changed.replace_range(from..to, &line);
    let (again, _) = prescription::read(&changed);
    let same =
        |a: &Exercise, b: &Exercise| a.name.text == b.name.text && a.side == b.side && a.dose == b.dose;
    let good = again.exercises.len() == read.exercises.len()
        && again
            .exercises
            .iter()
            .zip(&read.exercises)
            .enumerate()
            .all(|(i, (new, old))| same(new, if i == at { wanted } else { old }));
    if !good {
        return Err(by_hand());
    }
    Ok(Changed { text: changed, line: exercise.line, said: format!("Line {}: {line}", exercise.line) })
}

/// The change, where all other exercises are read as before: a block that moves may leave a line behind it that then
/// belongs to something else.
fn alone(
    before: &Prescription,
    changed: Changed,
    more: &[&Exercise],
    fewer: &[&Exercise],
) -> Result<Changed, String> {
    let brief = |e: &Exercise| format!("{}\n{:?}\n{}", e.name.text, e.side, e.dose);
    let all = |list: &[Exercise], more: &[&Exercise]| {
        let mut all: Vec<String> = list.iter().chain(more.iter().copied()).map(brief).collect();
        crate::sorting::sort(&mut all);
        all
    };
    let (after, _) = prescription::read(&changed.text);
    if all(&after.exercises, fewer) == all(&before.exercises, more) {
        return Ok(changed);
    }
    Err("The lines round it would be read otherwise then. Change it in the text.".into())
}

/// The lines of an exercise with all that belongs to it: the first, counted from 1, and the one after the last.
pub fn block(read: &Prescription, at: usize) -> (usize, usize) {
    let first = read.exercises.get(at).map_or(1, |e| e.line);
    let mut end = first + 1;
    // What belongs to an exercise is written deeper; blank lines between two such belong to it as well.
    for written in read.lines.iter().filter(|w| first < w.number) {
        let remark = written.tidy.starts_with("//");
        if written.tidy.starts_with("  ") || remark {
            end = written.number + 1;
        } else if !written.tidy.is_empty() {
            break;
        }
    }
    (first, end)
}

/// Lines `from..to`, counted from 1, without their ends.
fn lines(text: &str, from: usize, to: usize) -> Vec<String> {
    let own = place::lines(text).skip(from.saturating_sub(1)).take(to.saturating_sub(from));
    own.map(|(_, line)| line.to_string()).collect()
}

/// The text with `gone` lines from line `at` on (counted from 1) replaced.
fn with_lines(text: &str, at: usize, gone: usize, with: &[String]) -> String {
    // Whatever parted them, they are parted by line feeds from then on.
    let mut all: Vec<&str> = place::lines(text).map(|(_, line)| line).collect();
    let at = at.saturating_sub(1).min(all.len());
    let end = (at + gone).min(all.len());
    let with: Vec<&str> = with.iter().map(String::as_str).collect();
    all.splice(at..end, with);
    all.join("\n")
}

/// One place up or down; over a heading it goes into the section before or after.
fn moved(text: &str, read: &Prescription, at: usize, up: bool) -> Result<Changed, String> {
    let name = &read.exercises[at].name.text;
    let (from, to) = block(read, at);
    let own = lines(text, from, to);
    let heading = |a: usize, b: usize| {
        read.sections.iter().map(|s| s.said.place.line).find(|line| a <= *line && *line < b)
    };
    let said = |line: usize| format!("“{name}” stands on line {line} now.");
    let without = with_lines(text, from, to - from, &[]);
    if up {
        let Some(before) = at.checked_sub(1) else {
            // The first of all goes above its heading only where another section stands there.
            return Err(format!("“{name}” is the first already."));
        };
        let (c, d) = block(read, before);
        let line = if heading(d, from).is_some() { d } else { c };
        return Ok(Changed { text: with_lines(&without, line, 0, &own), line, said: said(line) });
    }
    let size = to - from;
    let total = place::lines(text).count();
    let (line, _) = match read.exercises.get(at + 1) {
        Some(next) => match heading(to, next.line) {
            Some(section) => (section + 1 - size, 0),
            None => (block(read, at + 1).1 - size, 0),
        },
        None => match heading(to, total + 1) {
            Some(section) => (section + 1 - size, 0),
            None => return Err(format!("“{name}” is the last already.")),
        },
    };
    Ok(Changed { text: with_lines(&without, line, 0, &own), line, said: said(line) })
}

/// Where a new exercise goes: below the exercise of the cursor's line or of the section it stands in, else at the end.
/// The line (counted from 1) before which it is put in.
pub fn room(text: &str, line: usize) -> usize {
    let (read, _) = prescription::read(text);
    let mut best = None;
    for (at, exercise) in read.exercises.iter().enumerate() {
        if exercise.line <= line {
            best = Some(block(&read, at).1);
        }
    }
    let section = read.sections.iter().map(|s| s.said.place.line).rfind(|at| *at <= line);
    let all: Vec<&str> = place::lines(text).map(|(_, line)| line).collect();
    let end = all.len() - all.iter().rev().take_while(|l| l.trim().is_empty()).count() + 1;
    match (best, section) {
        (Some(after), Some(section)) if after <= section => section + 1,
        (None, Some(section)) => section + 1,
        (Some(after), _) => after,
        (None, None) => read.exercises.first().map_or(end, |first| first.line),
    }
}

/// The text with an exercise of the catalog put in at [`room`].
pub fn inserted(text: &str, line: usize, entry: &catalog::Exercise) -> Changed {
    let (read, _) = prescription::read(text);
    let name = prescription_name(entry);
    let side = if entry.sides == catalog::terms::Sides::Each { usual_side(&read) } else { None };
    let side = side.map(|side| format!(", {side}")).unwrap_or_default();
    let dose = entry.dose.to_string();
    let written = if dose.is_empty() { format!("{name}{side}") } else { format!("{name}{side}: {dose}") };
    let at = room(text, line);
    let mut put = vec![written.clone()];
    // Below the keys of the head, a blank line.
    let before = place::line(text, at.saturating_sub(1)).map_or("", |(_, line)| line);
    let mut at_line = at;
    if 1 < at
        && !before.trim().is_empty()
        && read.exercises.is_empty()
        && !before.trim_start().starts_with('#')
    {
        put.insert(0, String::new());
        at_line += 1;
    }
    let text = with_lines(text, at, 0, &put);
    Changed { text, line: at_line, said: format!("Put in on line {at_line}: {written}") }
}

/// The one side that all exercises with a side have, else the side in the title: shown in the text at once, so that a
/// wrong one is seen.
pub fn usual_side(read: &Prescription) -> Option<Sided> {
    let one = |side: &Option<Sided>| side.filter(|s| matches!(s, Sided::Left | Sided::Right));
    let mut sides = read.exercises.iter().filter_map(|e| one(&e.side));
    if let Some(first) = sides.next() {
        return sides.all(|side| side == first).then_some(first);
    }
    let title = read.title.as_ref().map(|t| t.text.to_lowercase()).unwrap_or_default();
    let limits = read.limits.iter().filter_map(|l| l.angle.side).map(|side| match side {
        crate::body::names::Side::Left => Sided::Left,
        crate::body::names::Side::Right => Sided::Right,
    });
    let words: Vec<&str> = title.split(|c: char| !c.is_alphanumeric()).collect();
    let said = |word: &str, side: Sided| words.contains(&word).then_some(side);
    let mut all = said("left", Sided::Left).into_iter().chain(said("right", Sided::Right)).chain(limits);
    let first = all.next()?;
    all.all(|side| side == first).then_some(first)
}

/// Where the cursor's line belongs to an exercise: its place in the prescription.
pub fn at_hand(read: &Prescription, line: usize) -> Option<usize> {
    let at = read.exercises.iter().rposition(|e| e.line <= line)?;
    let (_, end) = block(read, at);
    (line < end).then_some(at)
}

#[cfg(test)]
mod tests;
