//! Reads a prescription line by line: what each line is, what it belongs to, and how it is written tidily.

mod bare;
mod classify;
mod dates;
mod detail;
mod exercises;
mod finish;
mod line;
mod noted;
mod safety;
mod several;
mod take;
mod told;
mod values;

pub(super) use line::without_remark;

use super::day::Day;
use super::exercise::colon;
use super::order::{self, Order};
use super::words::Key;
use super::{Exercise, Prescription, Said, Section, Unread, Written, plain, say};
use crate::dose::{End, Start};
use crate::language::restraint;
use crate::language::token::tokens;
use crate::measure::Date;
use crate::notice::Notice;
use crate::text::fold::{fold, folded};
use crate::text::{Line, Place, lines, trim};
use classify::{Class, classify, heading_span, rounds};
use line::{has_remark, is_catalog_line, is_own_header, is_too_long, with_plus, with_sign};
use safety::mentions_safety;

/// At most so many exercises are read.
pub const MOST_EXERCISES: usize = 60;
/// At most so many lines that aren't blank are read: eight for each exercise, and a head.
pub const MOST_LINES: usize = 600;
/// At most so many notices are given.
pub const MOST_NOTICES: usize = 200;

/// See [`super::read`].
pub(super) fn read(text: &str) -> (Prescription, Vec<Notice>) {
    let (settled, order) = order::settled(text).unzip();
    read_by(settled.as_deref().unwrap_or(text), Rules { plain: true, order, ..Rules::default() })
}

/// See [`super::read_shared`].
pub(super) fn read_shared(text: &str) -> (Prescription, Vec<Notice>) {
    read_by(text, Rules::default())
}

fn read_by(text: &str, rules: Rules) -> (Prescription, Vec<Notice>) {
    let first = read_from(text, rules, None);
    match first.p.start {
        // Only the start tells the year of `until 20 Dec`, and it may stand below.
        Some(start) if first.undated => read_from(text, rules, Some(start)).finish(),
        _ => first.finish(),
    }
}

fn read_from(text: &str, rules: Rules, start: Option<Date>) -> Reading {
    let mut reading = Reading { rules, start, ..Reading::default() };
    let all = lines(text);
    let own = all.iter().map(Line::trimmed).filter(|line| is_own_header(line));
    reading.own_names =
        own.filter_map(|line| colon(line).and_then(|(_, after)| line.get(after..))).map(folded).collect();
    for (i, line) in all.iter().enumerate() {
        reading.line(line, all.get(i + 1..).unwrap_or(&[]));
    }
    reading.date_ends();
    reading
}

/// What a line may be read as.
#[derive(Clone, Copy, Debug, Default)]
struct Rules {
    /// Plain lines restrict, permit and order, and a name that nobody knows needs a dose.
    plain: bool,
    /// Under a heading such as "Do not".
    forbids: bool,
    /// Under a heading that says from when to when.
    spanned: bool,
    /// In which order the dates of the text are written, where one of them shows it.
    order: Option<Order>,
}

#[derive(Default)]
struct Reading {
    p: Prescription,
    rules: Rules,
    /// Folded names of exercises that the text brings itself.
    own_names: Vec<String>,
    /// Days to be told once the start is known: whose, as typed, and where in the lines.
    days: Vec<(Key, Day, Said, usize)>,
    /// The same of an operation or an injury: the words beside its day.
    happened: Vec<(Key, crate::dose::Yearless, String, usize)>,
    /// Whether the day of an operation is typed that may be meant either way.
    unsure_operation: bool,
    /// Limbs that are named by the problem: of which exercise, in which of the lines, and the words.
    affected: Vec<(usize, usize, Said)>,
    /// Lines that tell of the patient, for the conditions that they name.
    told: Vec<told::Told>,
    /// What stands behind the line that is being read.
    remark: Option<String>,
    /// Whether the next line belongs to this one.
    goes_on: bool,
    /// Whether only that makes this one an exercise.
    asks: bool,
    notices: Vec<Notice>,
    /// The exercise above, and its indent.
    above: Option<(usize, usize)>,
    own: Option<OwnBlock>,
    /// The first day, where it is known before the lines are read.
    start: Option<Date>,
    /// Whether a date still waits for its year.
    undated: bool,
    /// From when to when all below the heading is done.
    heading: (Option<Start>, Option<End>),
    /// Where starts and ends of exercises stand, by the exercise's place in the list; a step has its own.
    spans: Vec<(usize, Place)>,
    told_long: bool,
    told_many: bool,
    /// Lines read so far, blank ones not counted.
    count: usize,
    seen: Vec<Key>,
}

struct OwnBlock {
    indent: usize,
    /// The indent of its first line; None: no line yet.
    base: Option<usize>,
    /// Whether its lines have lost their indent.
    flat: bool,
    /// The number of the line up to which blank lines are known not to end it.
    goes_on: usize,
}

/// Whether words without a dose could be a name that the lines below go on with.
fn may_be_name(words: &str) -> bool {
    let plain = |c: char| {
        c.is_alphanumeric()
            || matches!(c, ' ' | '-' | '–' | '\'' | '’' | '(' | ')' | '/' | ',' | '.' | '+' | '"')
    };
    words.chars().all(plain)
}

impl Reading {
    fn write(&mut self, line: &Line<'_>, deep: bool, text: &str) {
        // What stands behind two strokes on its own is a remark: words that only look so stay as typed.
        let text = if self.own.is_none() && has_remark(text) { line.content() } else { text };
        let tidy = if deep && !text.is_empty() { format!("  {text}") } else { text.to_string() };
        self.p.lines.push(Written { number: line.number, tidy, remark: self.remark.take() });
    }

    fn line(&mut self, line: &Line<'_>, after: &[Line<'_>]) {
        // First of all, so that no remark is handed over, whatever becomes of its line.
        let (line, remark) = without_remark(line);
        if let Some(remark) = remark {
            self.remark = Some(remark.text.clone());
            self.p.remarks.push(remark);
        }
        let line = &line;
        let trimmed = line.trimmed();
        self.count += usize::from(!trimmed.is_empty());
        if MOST_LINES < self.count {
            if self.count == MOST_LINES + 1 && !trimmed.is_empty() {
                self.notices.push(say::too_many_lines(line.place(), MOST_LINES));
            }
            if mentions_safety(trimmed) {
                self.unread(line, trimmed, true, None);
            } else {
                self.p.beyond.lines += usize::from(!trimmed.is_empty());
            }
            return self.write(line, false, trimmed);
        }
        if is_too_long(trimmed) {
            if !self.told_long {
                self.told_long = true;
                self.notices.push(say::line_too_long(line.place()));
            }
            self.own = None;
            self.unread(line, trimmed, mentions_safety(trimmed), None);
            return self.write(line, false, trimmed);
        }
        if self.own_line(line, trimmed, after) {
            return;
        }
        if trimmed.is_empty() {
            return self.write(line, false, "");
        }
        let with_plus = if self.above.is_some() { with_plus(*line) } else { *line };
        let line = &if self.rules.plain { with_sign(with_plus) } else { with_plus };
        let deep = self.above.is_some_and(|(_, indent)| indent < line.indent);
        let next = after.iter().find(|l| !l.trimmed().is_empty());
        self.whole(line, deep, next);
    }

    /// Takes a line; of what says two things, each as if it stood alone.
    fn whole(&mut self, line: &Line<'_>, deep: bool, next: Option<&Line<'_>>) {
        let Some((first, second)) = self.note_and_ban(line, deep).or_else(|| self.sentences(line, deep))
        else {
            return self.one(line, deep, next);
        };
        let (told, written) = (self.notices.len(), self.p.lines.len());
        self.one(&first, false, None);
        // A word before the first would take the second with it.
        self.notices.iter_mut().skip(told).for_each(|notice| notice.edit = None);
        self.whole(&second, false, next);
        // Both were typed on one line.
        let behind: Vec<String> = self.p.lines.drain(written + 1..).map(|line| line.tidy).collect();
        if let Some(first) = self.p.lines.get_mut(written) {
            first.tidy = core::iter::once(core::mem::take(&mut first.tidy))
                .chain(behind)
                .collect::<Vec<_>>()
                .join("\n");
        }
    }

    /// Takes a line, or a part of one that says something by itself.
    fn one(&mut self, line: &Line<'_>, deep: bool, next: Option<&Line<'_>>) {
        self.goes_on = false;
        let class =
            classify(line.content(), line.place(), deep, self.above.is_some(), self.rules, &self.own_names);
        let class = match class {
            Class::Exercise(parted) if !deep && self.goes_on_with(&parted) => {
                let again = classify(line.content(), line.place(), true, true, self.rules, &self.own_names);
                if matches!(again, Class::Step(..)) { again } else { Class::Exercise(parted) }
            }
            other => other,
        };
        // Only a name that may be none asks for what follows it.
        let (asks, named) = match &class {
            Class::Exercise(parted) => (
                !self.is_exercise(line.content(), parted),
                parted.name.as_ref().is_some_and(|name| may_be_name(&name.text)),
            ),
            _ => (false, false),
        };
        self.asks = asks;
        self.goes_on = asks && named && next.is_some_and(|next| self.belongs(line, next));
        self.tell_hidden_ban(line, &class);
        let mut class = class;
        let may_hold = match &class {
            Class::Exercise(parted) => parted.later.is_empty(),
            Class::Unread { .. } | Class::Plain(plain::Read::Stated(_), _) | Class::Cue(_) => true,
            _ => false,
        };
        if let Some(notice) = self.several(line, deep).filter(|_| may_hold) {
            // It says of all at once what is told of each.
            if let Class::Exercise(parted) = &mut class {
                parted.notices.retain(|told| told.kind() != notice.kind());
            }
            self.notices.push(notice);
        }
        self.gather(line, &class);
        self.take(line, class, deep);
    }

    /// Whether what starts later is the exercise above by the same name: then it is a change of it.
    fn goes_on_with(&self, parted: &super::exercise::Parted) -> bool {
        let above = self.above.and_then(|(i, _)| self.p.exercises.get(i));
        let (Some(above), Some(name)) = (above, &parted.name) else { return false };
        let later = parted.dose.from.is_some() && parted.dose.until.is_none();
        later && above.dose.from.is_none() && folded(&above.name.text) == folded(&name.text)
    }

    /// Whether a line belongs to the one above it, were that an exercise.
    fn belongs(&self, above: &Line<'_>, next: &Line<'_>) -> bool {
        let deep = above.indent < next.indent;
        let (next, _) = without_remark(next);
        matches!(
            classify(next.content(), next.place(), deep, true, self.rules, &self.own_names),
            Class::Detail(..)
                | Class::PlainDetail(..)
                | Class::Anyway(_)
                | Class::DoseLine(..)
                | Class::Step(..)
                | Class::Later(_)
                | Class::Cue(_)
                | Class::Guard(_)
        )
    }

    fn unread(&mut self, line: &Line<'_>, text: &str, safety: bool, key: Option<&'static str>) {
        self.p.unread.push(Unread {
            said: Said { text: text.to_string(), place: line.place() },
            safety,
            key,
        });
    }

    /// Takes a line of an own exercise's block; false: it is none.
    fn own_line(&mut self, line: &Line<'_>, trimmed: &str, after: &[Line<'_>]) -> bool {
        let Some(block) = &mut self.own else { return false };
        let inside = if trimmed.is_empty() {
            // Blank lines don't end a block, but one without indent goes on only with its next pose.
            if block.flat && block.goes_on < line.number {
                let next = after.iter().find(|l| !l.trimmed().is_empty());
                if !next.is_some_and(|l| is_catalog_line(l.trimmed(), true)) {
                    self.own = None;
                    return false;
                }
                block.goes_on = next.map_or(0, |l| l.number);
            }
            self.write(line, false, "");
            return true;
        } else if block.base.is_none() && line.indent <= block.indent {
            block.flat = is_catalog_line(trimmed, false);
            block.flat
        } else if block.flat {
            !trimmed.starts_with('#') && !is_own_header(trimmed)
        } else {
            block.indent < line.indent
        };
        if !inside {
            self.own = None;
            return false;
        }
        if let Some(said) = trimmed.strip_prefix("//") {
            let start = line.raw.len() - crate::text::trim_start(line.raw).len();
            let place = Place { line: line.number, start, end: start + trimmed.len() };
            self.p.remarks.push(Said { text: trim(said).to_string(), place });
            self.write(line, true, trimmed);
            return true;
        }
        let base = *block.base.get_or_insert(line.indent);
        let relative = if block.flat { 0 } else { line.indent.saturating_sub(base).min(40) };
        let start = line.raw.len() - crate::text::trim_start(line.raw).len();
        let place = Place { line: line.number, start, end: start + trimmed.len() };
        if let Some(own) = self.p.own.last_mut() {
            own.lines.push(Said { text: format!("{}{trimmed}", " ".repeat(relative)), place });
        }
        let tidy = format!("{}{trimmed}", " ".repeat(relative));
        self.write(line, true, &tidy);
        true
    }

    fn above_mut(&mut self) -> Option<&mut Exercise> {
        let (i, _) = self.above?;
        self.p.exercises.get_mut(i)
    }

    /// The tidy form, where it is read as the very same thing; else what was typed.
    fn same(&self, tidy: &str, content: &str, deep: bool, is_same: impl Fn(&Class) -> bool) -> String {
        if tidy == content {
            return tidy.to_string();
        }
        let again = lines(tidy);
        let plain =
            again.len() == 1 && again.first().is_some_and(|l| l.content() == tidy) && !is_too_long(tidy);
        let place = Place { line: 1, start: 0, end: tidy.len() };
        let same = plain
            && is_same(&classify(
                tidy,
                place,
                deep,
                deep || self.above.is_some(),
                self.rules,
                &self.own_names,
            ));
        if same { tidy.to_string() } else { content.to_string() }
    }

    fn section(&mut self, line: &Line<'_>, said: Said) {
        self.above = None;
        self.rules.forbids = self.rules.plain && restraint::heads_restrictions(&tokens(&fold(&said.text)));
        self.write(line, false, &format!("## {}", said.text));
        self.heading = heading_span(&said.text).filter(|_| self.rules.plain).unwrap_or((None, None));
        self.rules.spanned = self.heading != (None, None);
        let rounds = rounds(&said.text);
        self.p.sections.push(Section { said, rounds });
    }
}
