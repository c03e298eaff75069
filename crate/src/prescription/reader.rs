//! Reads a prescription line by line: what each line is, what it belongs to, and how it is written tidily.

use super::day::{self, Day};
use super::exercise::{
    Parted, TypedLine, colon, has_work, is_dose, part_detailed, part_step, says_dose, span_place,
};
use super::keys::{self, Key, Undated, Value};
use super::later::Later;
use super::limit::Purpose;
use super::noted::{self, Noted};
use super::problem;
use super::{
    About, Detail, Exercise, Own, Prescription, Said, Section, Step, Unread, When, Written, last_day, say,
    time,
};
use super::{angles, bearing, plain};
use crate::dose::{Dose, End, Start, Yearless};
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, Sort, Token, tokens};
use crate::measure::{Counts, Date};
use crate::notice::{Notice, Severity};
use crate::text::fold::{fold, folded};
use crate::text::{Line, Place, lines, near, trim};

/// At most so many exercises are read.
pub const MOST_EXERCISES: usize = 60;
/// At most so many lines that aren't blank are read: eight for each exercise, and a head.
pub const MOST_LINES: usize = 600;
/// A line without a colon and longer than this, in bytes, is prose.
const LONGEST_BARE: usize = 300;
/// A longer limit, in bytes, is not read as angles.
const LONGEST_LIMIT: usize = 600;
/// At most so many words are a key: `out of hours number`.
const LONGEST_KEY: usize = 4;
/// At most so many notices are given.
pub const MOST_NOTICES: usize = 200;
/// A longer name, in bytes, is near no other.
const LONGEST_NAME: usize = 60;
/// A line without dose and with more words than this is prose, not an exercise.
const PROSE: usize = 8;

/// See [`super::read`].
pub(super) fn read(text: &str) -> (Prescription, Vec<Notice>) {
    read_by(text, Rules { plain: true, ..Rules::default() })
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

/// What a line is, by itself and by whether it stands below an exercise.
#[derive(Clone, Debug)]
enum Class {
    Title(Said),
    Section(Said),
    Remark(Said),
    Key(Key, Said),
    Detail(About, Said),
    /// A detail without its colon.
    PlainDetail(About, Said, Notice),
    Anyway(Said),
    /// `at: morning`, `hold: 5 s`, or a dose with nothing else: belongs to the exercise above.
    DoseLine(Dose, Vec<Notice>),
    Step(When, Box<Parted>),
    /// The same in plain words, or a reason to stop.
    Later(Box<Later>),
    /// A plain line deeper than the exercise above.
    Cue(Said),
    /// What was found, without its key: kept for the clinician.
    Private(Said),
    Exercise(Box<Parted>),
    /// A plain line that restricts, permits, orders or tells a finding.
    Plain(plain::Read, Said),
    /// A plain line that tells of the patient.
    Noted(Noted, Said),
    /// A plain line below an exercise that forbids something.
    Guard(Said),
    Unread {
        notice: Option<Notice>,
        safety: bool,
        key: Option<&'static str>,
    },
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
}

#[derive(Default)]
struct Reading {
    p: Prescription,
    rules: Rules,
    /// Folded names of exercises that the text brings itself.
    own_names: Vec<String>,
    /// Days to be told once the start is known: whose, as typed, and where in the lines.
    days: Vec<(Key, Day, Said, usize)>,
    /// Limbs that are named by the problem: of which exercise, in which of the lines, and the words.
    affected: Vec<(usize, usize, Said)>,
    /// What stands behind the line that is being read.
    remark: Option<String>,
    /// Whether the next line belongs to this one.
    goes_on: bool,
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
        let line = &with_plus;
        let deep = self.above.is_some_and(|(_, indent)| indent < line.indent);
        let next = after.iter().find(|l| !l.trimmed().is_empty());
        self.goes_on = false;
        let class =
            classify(line.content(), line.place(), deep, self.above.is_some(), self.rules, &self.own_names);
        // Only a name that may be none asks for what follows it.
        let asks = match &class {
            Class::Exercise(parted) => !self.is_exercise(line.content(), parted),
            _ => false,
        };
        self.goes_on = asks && next.is_some_and(|next| self.belongs(line, next));
        self.take(line, class, deep);
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

    fn take(&mut self, line: &Line<'_>, class: Class, deep: bool) {
        let content = line.content();
        match class {
            Class::Title(said) => {
                if self.p.title.is_none() {
                    self.write(line, false, &format!("# {}", said.text));
                    self.p.title = Some(said);
                } else {
                    self.section(line, said);
                }
            }
            Class::Section(said) => self.section(line, said),
            Class::Remark(said) => {
                self.write(line, deep, content);
                self.p.remarks.push(said);
            }
            Class::Key(Key::Exercise, said) if !said.text.is_empty() => {
                self.write(line, false, &format!("exercise: {}", said.text));
                self.p.own.push(Own { name: said, lines: Vec::new() });
                self.own = Some(OwnBlock { indent: line.indent, base: None, flat: false, goes_on: 0 });
                self.above = None;
            }
            Class::Key(key, said) => self.key(line, key, said),
            Class::Detail(about, said) => {
                self.write(line, true, &format!("{}: {}", about.word(), said.text));
                if let Some(exercise) = self.above_mut() {
                    exercise.details.push(Detail { about, said });
                }
            }
            Class::PlainDetail(about, said, notice) => {
                self.notices.push(notice);
                self.take(line, Class::Detail(about, said), deep);
            }
            Class::Anyway(said) => {
                self.write(line, true, &format!("anyway: {}", said.text));
                if let Some(exercise) = self.above_mut() {
                    exercise.anyway = Some(said);
                }
            }
            Class::DoseLine(mut dose, notices) => {
                self.date(&mut dose);
                if let (Some((at, _)), Some(place)) = (self.above, span_place(content, line.place())) {
                    self.spans.push((at, place));
                }
                let tidy = dose.to_string();
                // A plus at the start of a line may be a bullet.
                let tidy = tidy.strip_prefix("+ ").map_or(tidy.clone(), |rest| format!("add {rest}"));
                let tidy = self.same(&tidy, content, true, |again| match again {
                    Class::DoseLine(d, _) => *d == dose,
                    _ => false,
                });
                self.write(line, true, &tidy);
                self.notices.extend(notices);
                let mut twice = None;
                if let Some(exercise) = self.above_mut() {
                    if let Some(side) = dose.sides.take() {
                        let tally = &mut exercise.dose.tally;
                        if let Err(first) = crate::dose::reader::add_side(&mut exercise.side, tally, side) {
                            dose.words.push(side.to_string());
                            twice = Some((first, side));
                        }
                    }
                    let words = core::mem::take(&mut exercise.dose.words);
                    let mut both = dose.over(&exercise.dose);
                    both.words.splice(0..0, words);
                    exercise.dose = both;
                }
                if let Some((first, said)) = twice {
                    self.notices.push(say::side_against(line.place(), first, said));
                }
            }
            Class::Step(mut when, mut parted) => {
                if let When::From(start) = &mut when {
                    self.date_start(start);
                }
                self.date(&mut parted.dose);
                let tidy = format!("{when}: {}", parted.written());
                let tidy = self.same(&tidy, content, true, |again| match again {
                    Class::Step(w, p) => *w == when && p.means(&parted),
                    _ => false,
                });
                self.write(line, true, &tidy);
                self.notices.extend(parted.notices.iter().cloned());
                if parted.name.is_none() && parted.dose == Dose::default() && parted.side.is_none() {
                    self.notices.push(say::step_unread(line.place()));
                }
                let step = Step {
                    when,
                    name: parted.name,
                    side: parted.side,
                    dose: parted.dose,
                    place: line.place(),
                };
                if let Some(exercise) = self.above_mut() {
                    exercise.steps.push(step);
                }
            }
            Class::Later(mut later) => {
                self.date_later(core::slice::from_mut(&mut later));
                let text = later.written();
                let tidy = self.same(&text, content, true, |again| is_again(again, &later));
                self.write(line, true, &tidy);
                self.take_later(*later, &text);
            }
            Class::Cue(said) => {
                self.notices.push(say::read_as_cue(line.place()));
                self.write(line, true, &format!("cue: {}", said.text));
                if let Some(exercise) = self.above_mut() {
                    exercise.details.push(Detail { about: About::Cue, said });
                }
            }
            Class::Private(said) => {
                self.write(line, false, content);
                self.notices.push(say::kept_private(line.place()));
                self.p.findings.push(said);
            }
            Class::Exercise(parted) => self.exercise(line, *parted, deep),
            Class::Plain(read, said) => self.plain(line, read, said),
            Class::Guard(said) => {
                self.notices.push(say::read_as_guard(line.place()));
                self.write(line, true, &format!("cue: {}", said.text));
                if let Some(exercise) = self.above_mut() {
                    exercise.details.push(Detail { about: About::Cue, said });
                }
            }
            Class::Noted(Noted::Age(age), said) => {
                self.p.age.get_or_insert(age);
                self.take(line, Class::Private(said), deep);
            }
            Class::Noted(Noted::Finding, said) => self.take(line, Class::Private(said), deep),
            // One operation and one injury have a date that limits count from: of others it is only known.
            Class::Noted(Noted::Key(key @ (Key::Surgery | Key::Injury)), said)
                if self.seen.contains(&key) =>
            {
                self.take(line, Class::Private(said), deep);
            }
            Class::Noted(Noted::Key(key), said) => {
                self.notices.push(say::noted(line.place(), key.word()));
                self.key(line, key, said);
            }
            Class::Unread { notice, safety, key } => {
                self.write(line, deep, content);
                if notice.is_some() {
                    self.unread(line, content, safety, key);
                }
                self.notices.extend(notice);
            }
        }
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

    /// Whether a name without a dose is an exercise: one that is known, or nearly.
    fn is_known(&self, name: &str) -> bool {
        // Near names are searched for what may be a name: a few words of letters.
        let plain = |c: char| c.is_alphabetic() || c == ' ' || c == '-' || c == '\'' || c == '’';
        let may_be_near = name.len() <= LONGEST_NAME && name.chars().all(plain);
        self.own_names.contains(&folded(name))
            || crate::catalog::Catalog::embedded().is_named(name)
            || may_be_near
                && !matches!(
                    crate::catalog::Catalog::embedded().find(name),
                    crate::catalog::find::Found::None
                )
    }

    /// Whether a line that could name an exercise is one: it is dosed, known, lines of it follow, or it is typed as one.
    fn is_exercise(&self, content: &str, parted: &Parted) -> bool {
        // From when on alone is no dose: `driving from week 6`.
        let mut undated = parted.dose.clone();
        if undated.from.take().is_some() {
            undated.until = None;
        }
        // `R hand: keep it raised`: what is said of a part of the body is none.
        if self.rules.plain
            && !says_dose(&undated)
            && parted.name.as_ref().is_some_and(|name| is_body_part(&name.text))
        {
            return false;
        }
        // A number may be a dose that was asked about, unless it says how long something goes on.
        let numbered = || {
            content.split_whitespace().any(begins_with_digit)
                && parted.dose == undated
                && !is_lasting(content)
        };
        // What stands before a colon is a name where it says what one does.
        let named = || {
            let head = colon(content).and_then(|(at, _)| content.get(..at)).map(folded);
            head.is_some_and(|head| head.split(' ').any(super::details::is_doing))
        };
        !self.rules.plain
            || self.goes_on
            || says_dose(&undated)
            || numbered()
            || named()
            || parted.name.as_ref().is_some_and(|name| self.is_known(&name.text))
    }

    /// The year of a date that was typed without it, where the start tells it.
    fn dated(&mut self, day: Yearless) -> Option<Date> {
        self.undated = true;
        Day::yearless(day).from(Some(self.start?)).ok()
    }

    /// Ends of limits, weights and rules that were typed without their year.
    fn date_ends(&mut self) {
        let p = &mut self.p;
        let limits = p.limits.iter_mut().map(|l| &mut l.end);
        let bearing = p.bearing.iter_mut().map(|b| &mut b.end);
        let stated = p.stated.iter_mut().map(|s| &mut s.end);
        for end in limits.chain(bearing).chain(stated) {
            if let Some(End::Yearless(day)) = *end {
                self.undated = true;
                if let Some(Ok(date)) = self.start.map(|start| Day::yearless(day).from(Some(start))) {
                    *end = Some(End::Date(date));
                }
            }
        }
    }

    fn date_start(&mut self, start: &mut Start) {
        if let Start::Yearless(day) = *start
            && let Some(date) = self.dated(day)
        {
            *start = Start::Date(date);
        }
    }

    fn date(&mut self, dose: &mut Dose) {
        if let Some(start) = &mut dose.from {
            self.date_start(start);
        }
        if let Some(End::Yearless(day)) = dose.until
            && let Some(date) = self.dated(day)
        {
            // The end of a turn of the year lies behind its start.
            dose.until = Some(End::Date(date));
        }
    }

    fn exercise(&mut self, line: &Line<'_>, mut parted: Parted, deep: bool) {
        let content = line.content();
        if parted.dose.from.is_none() && parted.dose.until.is_none() && says_dose(&parted.dose) {
            (parted.dose.from, parted.dose.until) = self.heading.clone();
        }
        self.date(&mut parted.dose);
        if !self.is_exercise(content, &parted) {
            let next_to = self.p.exercises.last().is_some_and(|x| x.line + 1 == line.number);
            if next_to && self.above.is_some() && parted.side.is_none() && super::details::begins(content) {
                let said = Said { text: content.to_string(), place: line.place() };
                return self.take(line, Class::Cue(said), false);
            }
            // It would stand on the patient's sheet as something to do.
            let shown = could_matter(content);
            self.notices.push(say::no_exercise(line.place(), shown));
            self.above = None;
            if shown {
                self.p.stated.push(plain::told(&Value { text: content, place: line.place() }));
            } else {
                self.unread(line, content, false, None);
            }
            return self.write(line, false, content);
        }
        if MOST_EXERCISES <= self.p.exercises.len() {
            if !self.told_many {
                self.told_many = true;
                self.notices.push(say::too_many_exercises(line.place(), MOST_EXERCISES));
            }
            self.above = None;
            let side = parted.side.map_or_else(String::new, |side| format!(", {side}"));
            let name = parted.name.as_ref().map_or(content, |name| name.text.as_str());
            self.p.beyond.exercises.push(format!("{name}{side}"));
            self.unread(line, content, false, None);
            return self.write(line, false, content);
        }
        let below = self.above.is_some();
        let tidy = parted.written();
        let mut later = core::mem::take(&mut parted.later);
        self.date_later(&mut later);
        let plain = |text: &str| {
            let again = lines(text);
            again.len() == 1 && again.first().is_some_and(|l| l.content() == text) && !is_too_long(text)
        };
        let at = |text: &str| Place { line: 1, start: 0, end: text.len() };
        let means_it = |text: &str| {
            plain(text)
                && self.is_exercise(text, &parted)
                && matches!(classify(text, at(text), false, below, self.rules, &self.own_names), Class::Exercise(p) if p.means(&parted))
        };
        // What changes it later stands on lines of its own.
        let below_it: Vec<String> = later.iter().map(Later::written).collect();
        let each_is = || {
            later.iter().zip(&below_it).all(|(later, text)| {
                let again = classify(text, at(text), true, true, self.rules, &self.own_names);
                plain(text) && is_again(&again, later)
            })
        };
        let parts_alike = later.is_empty() || each_is() && means_it(&tidy);
        if parts_alike && (tidy == content && !deep || means_it(&tidy)) {
            let lines: Vec<String> =
                core::iter::once(tidy).chain(below_it.iter().map(|l| format!("  {l}"))).collect();
            self.write(line, false, &lines.join("\n"));
        } else {
            // Where only its indent makes it an exercise, the indent stays.
            let indent = deep && !means_it(content);
            self.write(line, indent, content);
        }
        self.notices.extend(parted.notices);
        let Some(name) = parted.name else { return };
        let mut beside = parted.details;
        match parted.affected {
            Some(said) if parted.side.is_none() => {
                self.affected.push((self.p.exercises.len(), self.p.lines.len().saturating_sub(1), said));
            }
            Some(said) => beside.insert(0, said),
            None => {}
        }
        self.above = Some((self.p.exercises.len(), line.indent));
        if let Some(place) = span_place(content, line.place()) {
            self.spans.push((self.p.exercises.len(), place));
        }
        self.p.exercises.push(Exercise {
            line: line.number,
            place: line.place(),
            section: self.p.sections.len().checked_sub(1),
            name,
            side: parted.side,
            region: parted.region,
            dose: parted.dose,
            dose_place: parted.dose_place,
            details: beside.into_iter().map(|said| Detail { about: About::Cue, said }).collect(),
            steps: Vec::new(),
            anyway: None,
        });
        for (later, text) in later.into_iter().zip(&below_it) {
            self.take_later(later, text);
        }
    }

    /// What changes the exercise above or stops it, told as its line below would be.
    fn take_later(&mut self, later: Later, text: &str) {
        let place = match &later {
            Later::Step(step, _) => step.place,
            Later::Stop(said) => said.place,
        };
        self.notices.push(say::read_as_later(place, text));
        let Some(exercise) = self.above.and_then(|(i, _)| self.p.exercises.get_mut(i)) else { return };
        match later {
            Later::Step(step, told) => {
                self.notices.extend(told);
                exercise.steps.push(*step);
            }
            Later::Stop(said) => exercise.details.push(Detail { about: About::StopIf, said }),
        }
    }

    fn date_later(&mut self, later: &mut [Later]) {
        for one in later {
            if let Later::Step(step, _) = one {
                if let When::From(start) = &mut step.when {
                    self.date_start(start);
                }
                self.date(&mut step.dose);
            }
        }
    }

    fn plain(&mut self, line: &Line<'_>, read: plain::Read, said: Said) {
        let content = line.content();
        self.notices.extend(read.notices(said.place));
        let tidy = read.tidy();
        self.take_plain(line, read, said);
        self.write(line, false, tidy.as_deref().unwrap_or(content));
    }

    fn take_plain(&mut self, line: &Line<'_>, read: plain::Read, said: Said) {
        let content = line.content();
        match read {
            plain::Read::Limits { limits, .. } => self.p.limits.extend(limits),
            plain::Read::Weights(found) => self.p.bearing.extend(found),
            plain::Read::Stated(stated) => self.p.stated.extend(stated),
            plain::Read::Finding => self.p.findings.push(said),
            plain::Read::Asked(_) => self.unread(line, content, true, None),
            // Under “Do not” it would forbid what was measured.
            plain::Read::Measured(_) => self.unread(line, content, false, None),
            plain::Read::Now { now, .. } => self.take_plain(line, *now, said),
        }
    }

    fn key(&mut self, line: &Line<'_>, key: Key, said: Said) {
        let single = !matches!(
            key,
            Key::Aim
                | Key::Limit
                | Key::Range
                | Key::Weight
                | Key::Avoid
                | Key::Cannot
                | Key::Caution
                | Key::DoNot
                | Key::May
                | Key::Rule
                | Key::Advice
                | Key::Kit
                | Key::Time
                | Key::Finding
                | Key::Measure
                | Key::Taught
                | Key::BadDay
                | Key::Flare
                | Key::Emergency
                | Key::OutOfHours
                | Key::Discharge
        );
        if said.text.is_empty() {
            self.notices.push(say::empty_key(line.place(), key.word()));
            return self.write(line, false, &format!("{}:", key.word()));
        }
        let tidy = format!("{}: {}", key.word(), said.text);
        if single && self.seen.contains(&key) {
            self.notices.push(say::key_twice(line.place(), key));
            self.unread(line, line.content(), key.is_safety(), Some(key.word()));
            return self.write(line, false, line.content());
        }
        let value = Value { text: &said.text, place: said.place };
        let taken = self.value(key, &value);
        if taken.is_ok() {
            self.seen.push(key);
        }
        match taken {
            Ok(None) => self.write(line, false, &tidy),
            Ok(Some(text)) => {
                let better = format!("{}: {text}", key.word());
                self.write(line, false, if is_too_long(&better) { &tidy } else { &better });
            }
            Err(notices) => {
                self.notices.extend(notices);
                self.p.unread.push(Unread {
                    said: said.clone(),
                    safety: key.is_safety(),
                    key: Some(key.word()),
                });
                self.write(line, false, &tidy);
            }
        }
    }

    /// Takes a value. Ok: its canonical writing, where it differs from what was typed. Err: not understood.
    fn value(&mut self, key: Key, value: &Value<'_>) -> Result<Option<String>, Vec<Notice>> {
        let undated = |u: Undated| match u {
            Undated::Unsure => vec![say::unsure_date(value.place)],
            Undated::None => vec![say::bad_date(value.place, key.word())],
        };
        let bad = || vec![say::bad_value(value.place, key)];
        let p = &mut self.p;
        match key {
            Key::By => p.by = Some(value.said()),
            Key::Patient => p.patient = Some(keys::patient(value)),
            Key::Start | Key::Review | Key::Due => {
                let day = day::read(value).map_err(undated)?;
                if !day.is_dated() {
                    // Told once all is read: the start may stand below.
                    self.days.push((key, day, value.said(), p.lines.len()));
                    return Ok(None);
                }
                let date = day.from(None).map_err(|f| vec![say::undated_day(value.place, key.word(), f)])?;
                *slot(p, key) = Some(date);
                return Ok(Some(date.to_string()));
            }
            Key::Weeks => {
                let n = keys::weeks(value).ok_or_else(bad)?;
                p.weeks = Some(n);
                return Ok(Some(n.to_string()));
            }
            Key::Surgery | Key::Injury => {
                let happening = keys::happening(value).map_err(undated)?;
                let text = keys::dated_text(happening.date, &happening.words);
                let slot = if key == Key::Surgery { &mut p.surgery } else { &mut p.injury };
                *slot = Some(happening);
                return Ok(Some(text));
            }
            Key::Screened => {
                let screened = keys::screened(value).map_err(undated)?;
                let text = keys::dated_text(screened.date, &screened.words);
                p.screened = Some(screened);
                return Ok(Some(text));
            }
            Key::Limit | Key::Range => return self.limit(key, value),
            Key::Weight => {
                let found = bearing::all(value).ok_or_else(bad)?;
                let text = bearing::written_all(&found);
                let again = bearing::all(&Value { text: &text, place: value.place });
                let same = again.as_ref() == Some(&found);
                if found.iter().any(|b| b.side.is_none() && !b.both && b.weight.is_restricted()) {
                    self.notices.push(say::weight_without_side(value.place));
                }
                p.bearing.extend(found);
                return Ok(same.then_some(text));
            }
            Key::Time => {
                let times = time::read(value).ok_or_else(bad)?;
                let text = time::text(&times);
                let again = time::read(&Value { text: &text, place: value.place });
                let same = again.is_some_and(|again| time::same(&again, &times));
                for time in times {
                    match time {
                        super::Time::Minutes(minutes) => p.times.push(minutes),
                        super::Time::Fixed(fixed) => p.fixed.push(fixed),
                    }
                }
                return Ok(same.then_some(text));
            }
            Key::UsualPain => p.usual_pain = Some(keys::usual_pain(value).ok_or_else(bad)?),
            Key::Body => p.body = Some(keys::body(value)),
            Key::Kit => {
                let list = if folded(value.text) == "none" { Vec::new() } else { value.list() };
                p.kit.get_or_insert_default().extend(list);
            }
            Key::Avoid => {
                let (limits, words) = plain::avoided(value);
                p.limits.extend(limits);
                p.avoid.extend(words);
            }
            Key::Cannot => p.cannot.extend(value.list()),
            Key::Caution => p.cautions.extend(value.list()),
            Key::Aim => p.aims.push(value.said()),
            Key::Ask => p.ask = Some(value.said()),
            Key::Irritability => p.irritability = Some(value.said()),
            Key::Finding => p.findings.push(value.said()),
            Key::Measure => p.measures.push(value.said()),
            Key::Taught => p.taught.push(value.said()),
            Key::BadDay => p.bad_day.push(value.said()),
            Key::Flare => p.flare.push(value.said()),
            Key::Emergency => p.emergency.push(value.said()),
            Key::OutOfHours => p.out_of_hours.push(value.said()),
            Key::Discharge => p.discharge.push(value.said()),
            Key::Net => {
                let net = keys::net(value).ok_or_else(bad)?;
                let text = super::net::words(&net.topics);
                p.net = Some(net);
                return Ok(Some(text));
            }
            Key::DoNot => self.stated(Plain::Restriction, value),
            Key::May => self.stated(Plain::Permission, value),
            Key::Rule => self.stated(Plain::Order, value),
            Key::Advice => self.stated(Plain::Advice, value),
            Key::Exercise => {}
        }
        Ok(None)
    }

    fn stated(&mut self, kind: Plain, value: &Value<'_>) {
        if problem::is_red_flag(value.text) {
            self.notices.push(say::red_flag_kept(value.place));
        }
        self.p.stated.push(plain::keyed(kind, value));
    }

    fn limit(&mut self, key: Key, value: &Value<'_>) -> Result<Option<String>, Vec<Notice>> {
        if key == Key::Limit
            && bearing::is_named(value.text)
            && let Some(found) = bearing::all(value)
        {
            self.p.bearing.extend(found);
            return Ok(None);
        }
        if matches!(
            folded(value.text).as_str(),
            "none" | "nil" | "no" | "no limit" | "no limits" | "nil limits"
        ) {
            return Ok(None);
        }
        if LONGEST_LIMIT < value.text.len() {
            return Err(vec![say::bad_value(value.place, key)]);
        }
        let purpose = if key == Key::Limit { Purpose::Limit } else { Purpose::Range };
        let found = angles::read(value.text, purpose, value.place);
        let notices = found.faults.iter().map(|f| say::limit(value.place, key.word(), *f));
        if found.limits.is_empty() && found.free && found.beside.is_empty() {
            // `limit: left knee, no limit` bounds nothing.
            self.notices.extend(notices.filter(|n| n.severity() == Severity::Error));
            return Ok(None);
        }
        if found.limits.is_empty() {
            return Err(notices.filter(|n| n.severity() == Severity::Error).collect());
        }
        self.notices.extend(notices);
        let mut tidy = None;
        if found.beside.is_empty()
            && !found.free
            && found.faults.iter().all(|f| *f == angles::Fault::EndForAll)
        {
            let text = angles::written(&found.limits);
            let again = angles::read(&text, purpose, value.place);
            tidy = (again.limits == found.limits && again.faults == found.faults && again.beside.is_empty())
                .then_some(text);
        }
        if !found.beside.is_empty() {
            self.notices.push(say::limit_words(value.place, &found.beside.join(", ")));
            self.p.unread.push(Unread { said: value.said(), safety: true, key: Some(key.word()) });
        }
        self.p.limits.extend(found.limits);
        Ok(tidy)
    }

    /// Days that count from the start.
    fn count_days(&mut self) {
        for (key, day, said, at) in std::mem::take(&mut self.days) {
            match day.from(self.p.start) {
                Ok(date) => {
                    *slot(&mut self.p, key) = Some(date);
                    if let Some(line) = self.p.lines.get_mut(at) {
                        line.tidy = format!("{}: {date}", key.word());
                    }
                }
                Err(fault) => {
                    self.notices.push(say::undated_day(said.place, key.word(), fault));
                    self.p.unread.push(Unread { said, safety: false, key: Some(key.word()) });
                }
            }
        }
    }

    /// Sides of limbs that are named by the problem: the one side that the head of the text speaks of, else asked.
    fn take_affected(&mut self) {
        let p = &mut self.p;
        let said = [&p.surgery, &p.injury].into_iter().flatten().flat_map(|happening| {
            let folded = fold(&happening.words);
            let all = tokens(&folded);
            (0..all.len())
                .filter_map(|at| crate::language::anatomy::side(&mut Cursor { all: &all, at }))
                .collect::<Vec<_>>()
        });
        let limits = p.limits.iter().filter(|l| l.purpose == Purpose::Limit).filter_map(|l| l.angle.side);
        let bearing = p.bearing.iter().filter_map(|b| b.side);
        let sides: Vec<crate::body::names::Side> = said.chain(limits).chain(bearing).collect();
        let one = sides.first().copied().filter(|first| sides.iter().all(|s| s == first));
        for (at, line, said) in std::mem::take(&mut self.affected) {
            let Some(exercise) = p.exercises.get_mut(at) else { continue };
            self.notices.push(say::affected(said.place, &said.text, one));
            let detail = Detail { about: About::Cue, said };
            exercise.details.insert(0, detail);
            let before = exercise.written();
            let Some(side) = one else { continue };
            exercise.details.remove(0);
            exercise.side = Some(match side {
                crate::body::names::Side::Left => crate::dose::Sided::Left,
                crate::body::names::Side::Right => crate::dose::Sided::Right,
            });
            if let Some(line) = p.lines.get_mut(line)
                && line.tidy == before
            {
                line.tidy = exercise.written();
            }
        }
    }

    fn finish(mut self) -> (Prescription, Vec<Notice>) {
        self.count_days();
        self.take_affected();
        let p = &mut self.p;
        let told = || p.cautions.iter().chain(&p.measures).chain(&p.findings).chain(p.title.iter());
        // One line's words are parted by commas: `caution: pregnant, 19 weeks`.
        let texts: Vec<&str> = told().map(|said| said.text.as_str()).collect();
        p.pregnancy = noted::pregnancy(&texts.join(", "));
        p.pressure = told().find_map(|said| noted::pressure(&said.text));
        let surgery = p.surgery.as_ref().and_then(|s| s.date);
        let injury = p.injury.as_ref().and_then(|s| s.date);
        let (start, review) = (p.start, p.review);
        let mut told: Vec<Place> = Vec::new();
        let mut tell = |end: &Option<crate::dose::End>, place: Place, notices: &mut Vec<Notice>| {
            let end = end.as_ref()?;
            let day = last_day(end, start, surgery, injury, review);
            // A week of the plan may be meant as a week after the operation.
            if let (crate::dose::End::Week(_) | crate::dose::End::For { .. }, Some(day)) = (end, day)
                && let Some(operated) = surgery.filter(|on| Some(*on) != start)
                && let Some(other) = last_day(end, Some(operated), surgery, injury, review)
                && !told.contains(&place)
            {
                notices.push(say::counted_from_start(place, &end.to_string(), day, other));
            }
            if !told.contains(&place) {
                match (day, review) {
                    (None, _) => {
                        told.push(place);
                        notices.push(say::limit_without_clock(place, &end.to_string()));
                    }
                    (Some(day), Some(review)) if day.plus_days(1) < review => {
                        told.push(place);
                        notices.push(say::ends_before_review(place, day));
                    }
                    (Some(_), _) => {}
                }
            }
            day
        };
        for limit in &mut p.limits {
            limit.last_day = tell(&limit.end, limit.place, &mut self.notices);
        }
        for bearing in &mut p.bearing {
            bearing.last_day = tell(&bearing.end, bearing.place, &mut self.notices);
        }
        for stated in p.stated.iter_mut().filter(|stated| stated.kind == Plain::Order) {
            // From when a rule holds is told by its day.
            if let Some((at, day)) = super::span::begins(&stated.shown, start, surgery, injury) {
                stated.shown.insert_str(at, &format!(" ({})", day.words()));
            }
        }
        for stated in &mut p.stated {
            stated.last_day = tell(&stated.end, stated.said.place, &mut self.notices);
        }
        let told = super::span::notices(&self.p, &self.spans);
        self.notices.extend(told);
        crate::sorting::sort_by_key(&mut self.notices, |n| (n.place.line, n.place.start));
        if MOST_NOTICES < self.notices.len() {
            let left_out = self.notices.len() - (MOST_NOTICES - 1);
            // Errors of safety must not fall behind a crowd of advice: the gravest stay.
            let mut order: Vec<usize> = (0..self.notices.len()).collect();
            crate::sorting::sort_by_key(&mut order, |i| self.notices.get(*i).map(|n| n.severity()));
            order.truncate(MOST_NOTICES - 1);
            crate::sorting::sort(&mut order);
            let kept: Vec<Notice> = order.iter().filter_map(|i| self.notices.get(*i).cloned()).collect();
            self.notices = kept;
            let place = self.notices.last().map_or(Place { line: 1, start: 0, end: 0 }, |n| n.place);
            self.notices.push(say::too_many_notices(place, left_out));
        }
        (self.p, self.notices)
    }
}

fn is_too_long(trimmed: &str) -> bool {
    crate::text::LONGEST_LINE < trimmed.len() && crate::text::LONGEST_LINE < trimmed.chars().count()
}

/// Whether an unread line begins like one about safety.
fn mentions_safety(text: &str) -> bool {
    let head = text.char_indices().nth(40).map_or(text, |(at, _)| text.get(..at).unwrap_or(""));
    colon(head)
        .and_then(|(at, _)| head.get(..at))
        .and_then(|k| Key::of(&folded(k)))
        .is_some_and(Key::is_safety)
}

/// The day of the next visit in a line of its own: `review in 2/52`, `F/U 14 Dec`, `RTC 4 wks`.
fn next_visit(typed: &TypedLine<'_>) -> Option<Said> {
    let TypedLine { content, place, all, .. } = *typed;
    let mut c = Cursor { all, at: 0 };
    let letters = |c: &mut Cursor<'_>, a, b| {
        let mut m = *c;
        let found = m.word(&[a]).is_some() && m.sign('/') && m.word(&[b]).is_some();
        if found {
            *c = m;
        }
        found
    };
    let next = c.word(&["next"]).is_some();
    let named = letters(&mut c, "r", "v")
        || c.words(&["see", "back"])
        || c.words(&["see", "again"])
        || c.words(&["back", "to", "see", "me"])
        || c.words(&["come", "back"])
        || c.words(&["return", "visit"])
        || c.word(&["recheck", "reassess", "reassessment"]).is_some()
        || letters(&mut c, "f", "u")
        || c.words(&["follow", "up"])
        || c.words(&["return", "to", "clinic"])
        || c.word(&["review", "rv", "fu", "rtc", "appt", "appointment", "visit", "followup"]).is_some();
    // `visit 2` is none of ours, `next visit` is.
    let alone = matches!(all.first().map(|t| t.sort), Some(Sort::Word("appt" | "appointment" | "visit")));
    if !named || (alone && !next) {
        return None;
    }
    let from = c.peek()?.start;
    let text = trim(content.get(from..)?).to_string();
    let place = Place { line: place.line, start: place.start + from, end: place.start + from + text.len() };
    day::read(&Value { text: &text, place }).ok()?;
    Some(Said { text, place })
}

/// Where the date of a key is kept.
fn slot(p: &mut Prescription, key: Key) -> &mut Option<crate::measure::Date> {
    match key {
        Key::Start => &mut p.start,
        Key::Review => &mut p.review,
        _ => &mut p.due,
    }
}

/// Where the remark behind a line begins that itself begins at `begins`.
fn remark_at(raw: &str, begins: usize) -> Option<usize> {
    raw.match_indices("//").map(|(at, _)| at).find(|at| {
        begins < *at
            && raw.get(..*at).and_then(|before| before.chars().next_back()).is_some_and(crate::text::is_space)
    })
}

fn has_remark(text: &str) -> bool {
    remark_at(text, text.len() - crate::text::trim_start(text).len()).is_some()
}

/// A line without the private remark behind it: `bridge 3x10 // she hates these`.
pub(super) fn without_remark<'a>(line: &Line<'a>) -> (Line<'a>, Option<Said>) {
    let raw = line.raw;
    let Some(at) = remark_at(raw, line.start) else { return (*line, None) };
    let behind = raw.get(at + 2..).unwrap_or("");
    let text = trim(behind);
    let start = at + 2 + (behind.len() - crate::text::trim_start(behind).len());
    let place = Place { line: line.number, start, end: start + text.len() };
    let kept = crate::text::trim_end(raw.get(..at).unwrap_or(""));
    (Line { raw: kept, end: kept.len(), ..*line }, Some(Said { text: text.to_string(), place }))
}

/// A line that begins with a plus that adds and is no bullet: `+ 2 min every 3 days`.
fn with_plus(line: Line<'_>) -> Line<'_> {
    let whole = Line { start: line.raw.len() - crate::text::trim_start(line.raw).len(), ..line };
    if !whole.content().starts_with('+') || LONGEST_BARE < whole.content().len() {
        return line;
    }
    let (dose, _) = crate::dose::read(whole.content(), whole.place());
    let adds = dose.ramp.is_some() && dose.work.is_empty() && dose.words.is_empty();
    if adds { whole } else { line }
}

/// Whether words name a part of the body and nothing else.
fn is_body_part(name: &str) -> bool {
    use crate::language::anatomy;
    let folded = fold(name);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    while !c.is_done() {
        let part = c.word(&["the", "your"]).is_some()
            || anatomy::side(&mut c).is_some()
            || anatomy::joint(&mut c).is_some()
            || anatomy::limb(&mut c).is_some();
        if !part {
            return false;
        }
    }
    !all.is_empty()
}

fn begins_with_digit(word: &str) -> bool {
    word.chars().next().is_some_and(char::is_numeric)
}

fn is_own_header(trimmed: &str) -> bool {
    colon(trimmed).is_some_and(|(at, _)| folded(trimmed.get(..at).unwrap_or("")) == "exercise")
}

/// Whether a line is one of the catalog's own keys (or, after a blank line, the start of a pose).
fn is_catalog_line(trimmed: &str, pose_only: bool) -> bool {
    const CATALOG: [&str; 24] = [
        "like",
        "also",
        "region",
        "purpose",
        "kind",
        "side",
        "sides",
        "position",
        "kit",
        "works",
        "loaded",
        "dose",
        "set up",
        "do",
        "feel",
        "if not felt",
        "fault",
        "stop if",
        "easier",
        "harder",
        "must show",
        "caution",
        "source",
        "pose",
    ];
    let Some((at, _)) = colon(trimmed) else { return false };
    let key = folded(trimmed.get(..at).unwrap_or(""));
    if pose_only { key == "pose" } else { CATALOG.contains(&key.as_str()) }
}

impl About {
    /// The key of the detail line.
    pub fn word(self) -> &'static str {
        match self {
            About::Cue => "cue",
            About::Feel => "feel",
            About::IfNotFelt => "if not felt",
            About::Easier => "easier",
            About::Harder => "harder",
            About::Why => "why",
            About::Note => "note",
            About::StopIf => "stop if",
            About::Taught => "taught",
        }
    }

    fn of(key: &str) -> Option<About> {
        Some(match key {
            "cue" | "cues" => About::Cue,
            "feel" | "you should feel" => About::Feel,
            "if not felt" | "not felt" | "if you don't feel it" => About::IfNotFelt,
            "easier" | "regression" => About::Easier,
            "harder" | "progression" => About::Harder,
            "why" => About::Why,
            "note" | "notes" | "nb" => About::Note,
            "stop if" | "stop" => About::StopIf,
            _ => return None,
        })
    }
}

/// The condition of a step, from the words before its colon.
fn when(head: &str) -> Option<When> {
    let folded = fold(head);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    let from = c.word(&["from"]).is_some();
    if c.word(&["week", "wk", "weeks"]).is_some() {
        let n = c.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| 1 <= *n);
        c.sign('+');
        if let (Some(n), true) = (n, c.is_done()) {
            return Some(When::From(Start::Week(n)));
        }
    }
    if let Some((Some(start), None)) = crate::dose::find::span::whole(&all, head) {
        return Some(When::From(start));
    }
    if from {
        return None;
    }
    c.at = 0;
    let word = c.word(&["when", "if", "once"])?;
    let rest = c.peek().and_then(|t| head.get(t.start..))?;
    let rest = trim(rest).to_string();
    Some(if word == "if" { When::If(rest) } else { When::When(rest) })
}

/// `3 rounds of`, in a heading.
fn rounds(title: &str) -> Option<Counts> {
    let folded = fold(title);
    let all = tokens(&folded);
    (0..all.len()).find_map(|at| {
        let mut c = Cursor { all: &all, at };
        let n = c.counts()?;
        c.word(&["rounds", "round"])?;
        Some(n)
    })
}

/// Words before a colon with nothing behind it that head a part of the sheet in other records.
fn is_heading(key: &str) -> bool {
    const HEADINGS: [&str; 20] = [
        "exercises",
        "home exercises",
        "home exercise program",
        "home exercise programme",
        "hep",
        "program",
        "programme",
        "plan",
        "treatment",
        "strength",
        "strengthening",
        "strengthen",
        "stretches",
        "stretching",
        "mobility",
        "loosen",
        "support",
        "warm up",
        "warm-up",
        "cool down",
    ];
    HEADINGS.contains(&key)
}

fn classify(content: &str, place: Place, deep: bool, below: bool, rules: Rules, own: &[String]) -> Class {
    let folded_line = fold(content);
    let all_tokens = tokens(&folded_line);
    let typed = TypedLine::new(content, place, &all_tokens);
    let said = |from: usize, to: usize| {
        let piece = content.get(from..to).unwrap_or("");
        let text = trim(piece);
        let start = place.start + from + (piece.len() - crate::text::trim_start(piece).len());
        Said { text: text.to_string(), place: Place { line: place.line, start, end: start + text.len() } }
    };
    let unread = |notice: Option<Notice>, safety: bool, key: Option<&'static str>| Class::Unread {
        notice,
        safety,
        key,
    };
    let plain_line = || {
        if !rules.plain {
            return None;
        }
        if deep {
            let guard = below && plain::is_guard(&typed) && !tells_finding(&typed, &Dose::default());
            return guard.then(|| Class::Guard(said(0, content.len())));
        }
        let whole = said(0, content.len());
        let dose = &typed.parted().dose;
        let counted = plain::counted(typed.all, dose);
        let short = content.len() <= LONGEST_LIMIT;
        let found = (short && !rules.forbids).then(|| noted::read(&typed, counted)).flatten();
        if found == Some(Noted::Key(Key::Measure)) && !typed.is_red_flag() {
            return Some(Class::Noted(Noted::Key(Key::Measure), whole));
        }
        if tells_finding(&typed, dose) {
            return Some(Class::Private(whole));
        }
        if let Some(found) = found {
            return Some(Class::Noted(found, whole));
        }
        let read = plain::read(&typed, rules.forbids, counted)?;
        Some(Class::Plain(read, said(0, content.len())))
    };
    if content.starts_with("//") {
        return Class::Remark(said(2, content.len()));
    }
    if content.starts_with('#') {
        let hashes = content.bytes().take_while(|b| *b == b'#').count();
        let text = said(hashes, content.len());
        if text.text.is_empty() || text.text.starts_with('#') {
            return unread(None, false, None);
        }
        return if hashes == 1 { Class::Title(text) } else { Class::Section(text) };
    }
    if let Some((at, after)) = colon(content) {
        let head = said(0, at);
        let key = folded(&head.text);
        let value = said(after, content.len());
        if key == "taught" && deep && below {
            return Class::Detail(About::Taught, value);
        }
        if let Some(key) = Key::of(&key) {
            return Class::Key(key, value);
        }
        let spanned = super::exercise::span_alone(&head.text);
        if let Some((from, until)) = &spanned
            && rules.plain
        {
            // `Weeks 1-2:` above what is done in them.
            if value.text.is_empty() && !deep {
                return Class::Section(head);
            }
            let other = part_step(&value.text, value.place);
            let later = below && from.is_some() && until.is_none() && !is_commence(&key);
            if !deep && !later && other.name.is_some() {
                return Class::Exercise(Box::new(typed.parted().clone()));
            }
            if below && from.is_some() && until.is_some() {
                return unread(Some(say::step_with_end(place)), false, None);
            }
        }
        if let Some(class) = detail(&key, &head, &value, below, place) {
            return class;
        }
        if value.text.is_empty() && is_heading(&key) {
            return Class::Section(head);
        }
        if rounds(&key).is_some() && key.split(' ').count() <= 3 {
            if value.text.is_empty() {
                return Class::Section(head);
            }
            return unread(Some(say::rounds_on_one_line(place)), false, None);
        }
        if let Some(class) = mistyped(&key, &head, &value, below) {
            return class;
        }
        let finding = |other| match other {
            keys::Elsewhere::Private => true,
            // Nothing of it is a movement that one could leave out.
            keys::Elsewhere::Danger => problem::without_red_flags(&value.text).is_none(),
            _ => false,
        };
        if keys::elsewhere(&key).is_some_and(finding) {
            return Class::Private(said(0, content.len()));
        }
        if let Some(keys::Elsewhere::Key(same)) = keys::elsewhere(&key) {
            return Class::Key(same, value);
        }
        if let Some(other) = keys::elsewhere(&key) {
            let notice = say::other_key(head.place, &head.text, other, place);
            return unread(Some(notice), other.is_safety(), None);
        }
        if let Some(class) = plain_line() {
            return class;
        }
        // `driving: not until review`: what is denied of something that is no exercise.
        let after = fold(&value.text);
        let denied = restraint::denial(&mut Cursor { all: &tokens(&after), at: 0 });
        let parted = typed.parted();
        if rules.plain
            && !deep
            && denied
            && !has_work(&parted.dose)
            && !own.contains(&key)
            && !parted
                .name
                .as_ref()
                .is_some_and(|name| crate::catalog::Catalog::embedded().is_named(&name.text))
        {
            let whole = said(0, content.len());
            let stated = plain::keyed(Plain::Restriction, &Value { text: &whole.text, place: whole.place });
            return Class::Plain(plain::Read::Stated(vec![stated]), whole);
        }
    } else if let Some(class) = span_line(&typed, deep, below, rules) {
        return class;
    } else if rules.plain && !deep && super::wean::is_rule(content) && !has_work(&typed.parted().dose) {
        let stated = plain::keyed(Plain::Order, &Value { text: content, place });
        return Class::Plain(plain::Read::Stated(vec![stated]), said(0, content.len()));
    } else if let Some(later) = (rules.plain && below).then(|| later_line(&typed)).flatten() {
        return Class::Later(Box::new(later));
    } else if let Some(class) = plain_line() {
        return class;
    } else if let Some(class) = plain_detail(&typed, below) {
        return class;
    } else if rules.plain && below && content.len() <= LONGEST_BARE && super::later::is_cue(content) {
        return Class::Cue(said(0, content.len()));
    } else if let Some(class) = without_colon(&typed) {
        return class;
    }
    let plain = content.chars().all(|c| !c.is_alphanumeric());
    if plain {
        // A ruled line or a stray sign.
        return unread(None, false, None);
    }
    if LONGEST_BARE < content.len() && colon(content).is_none() {
        if tells_finding(&typed, &Dose::default()) {
            return Class::Private(said(0, content.len()));
        }
        if deep {
            return Class::Cue(said(0, content.len()));
        }
        return unread(Some(say::not_understood(place)), false, None);
    }
    if let Some((dose, notices)) = typed.may_be_dose().then(|| is_dose(content, place)).flatten() {
        if below && (deep || says_dose(&dose)) {
            return Class::DoseLine(dose, notices);
        }
        if says_dose(&dose) {
            return unread(Some(say::dose_alone(place)), false, None);
        }
    }
    // A link has own words on lines of their own, and its names stay what they were.
    let parted = if rules.plain { part_detailed(content, place, own) } else { typed.parted().clone() };
    let bare = parted.dose == Dose::default();
    if tells_finding(&typed, &parted.dose) {
        return Class::Private(said(0, content.len()));
    }
    // Words of it may be another exercise.
    let names = |words: &String| words.split([',', ' ']).any(super::details::is_doing);
    let words_only = parted.details.is_empty() && !parted.dose.words.iter().any(names);
    if parted.name.is_none() && below && has_work(&parted.dose) && words_only {
        return Class::DoseLine(Dose { sides: parted.side, ..parted.dose }, parted.notices);
    }
    if parted.name.is_none() {
        return unread(Some(say::not_understood(place)), false, None);
    }
    if deep && !has_work(&parted.dose) {
        return Class::Cue(said(0, content.len()));
    }
    if bare && colon(content).is_none() && PROSE < content.split_whitespace().count() {
        return unread(Some(say::not_understood(place)), false, None);
    }
    Class::Exercise(Box::new(parted))
}

/// Whether a line that was not understood is told the patient, or could be about more than the clinician's own notes: what
/// stands behind a colon, a bound, a denial, a load, or how long something goes on.
fn could_matter(content: &str) -> bool {
    let folded = fold(content);
    let all = tokens(&folded);
    let told = colon(content).is_some_and(|(at, after)| {
        let behind = content.get(after..).is_some_and(|text| text.chars().any(char::is_alphabetic));
        behind && !is_body_part(content.get(..at).unwrap_or(""))
    });
    let loaded = (0..all.len()).any(|at| {
        let mut load = Cursor { all: &all, at };
        load.hundredths().is_some()
            && load.word(&["kg", "kgs", "kilos", "lb", "lbs", "st", "stone"]).is_some()
    });
    let denies = (0..all.len()).any(|at| restraint::denial(&mut Cursor { all: &all, at }));
    told || loaded || denies || restraint::restricts(&all) || is_lasting(content)
}

/// Whether a line says how long something goes on, or from when to when: `6/52`, `until 20 Dec`.
fn is_lasting(content: &str) -> bool {
    let folded = fold(content);
    let all = tokens(&folded);
    // `3/12`: weeks, months and days as the trade writes them.
    let sevenths = all.windows(3).any(|t| {
        matches!(
            t,
            [
                Token { sort: Sort::Number(_), .. },
                Token { sort: Sort::Sign('/'), .. },
                Token { sort: Sort::Number(5200 | 1200), .. }
            ]
        )
    });
    sevenths || crate::dose::find::span::place(&all, content).is_some()
}

/// Whether a line without a key tells a finding or a red flag: no exercise, and for no sheet. What is dosed is an
/// exercise, whatever its name; a red flag that lasted some minutes or days is none.
fn tells_finding(typed: &TypedLine<'_>, dose: &Dose) -> bool {
    // What is forbidden until something is found is forbidden: `no active SLR until quads lag < 10`.
    let until = || typed.all.iter().any(|t| matches!(t.sort, Sort::Word("until" | "till" | "til")));
    if typed.calls() || until() && restraint::plain(typed.all) == Some(Plain::Restriction) {
        return false;
    }
    use crate::dose::Work;
    let counted = |w: &crate::dose::Portion| matches!(w.work, Work::Repetitions { .. } | Work::Bouts { .. });
    let dosed = !dose.work.is_empty() || dose.hold.is_some();
    let is_exercise = if typed.is_red_flag() { dose.work.iter().any(counted) } else { dosed };
    !is_exercise && typed.is_finding()
}

/// A line that says from when to when and nothing else: of the exercise above, or the heading of what is below.
fn span_line(typed: &TypedLine<'_>, deep: bool, below: bool, rules: Rules) -> Option<Class> {
    let TypedLine { content, place, all, .. } = *typed;
    crate::dose::find::span::whole(all, content)?;
    if below && (deep || !rules.spanned) {
        let (dose, notices) = crate::dose::read(content, place);
        return Some(Class::DoseLine(dose, notices));
    }
    let said = Said { text: content.to_string(), place };
    (rules.plain && !deep).then_some(Class::Section(said))
}

/// Whether a line below says just this.
fn is_again(again: &Class, later: &Later) -> bool {
    match (again, later) {
        (Class::Step(when, p), Later::Step(step, _)) => {
            *when == step.when
                && (&p.dose, p.side) == (&step.dose, step.side)
                && p.name.as_ref().map(|n| &n.text) == step.name.as_ref().map(|n| &n.text)
        }
        (Class::Detail(About::StopIf, again), Later::Stop(said)) => again.text == said.text,
        _ => false,
    }
}

/// What changes the exercise above, in plain words; what tells a finding changes none.
fn later_line(typed: &TypedLine<'_>) -> Option<Later> {
    if LONGEST_BARE < typed.content.len() {
        return None;
    }
    super::later::line(typed.content, typed.place).filter(|_| !tells_finding(typed, &typed.parted().dose))
}

/// Whether a head says that something begins, so that a name behind it is no change of what stands above.
fn is_commence(key: &str) -> bool {
    ["start", "commenc", "begin"].iter().any(|word| key.starts_with(word))
}

/// When all below a heading is done: `From week 3`, `Strength (weeks 3-6)`, `Phase 2: weeks 3-6`.
fn heading_span(title: &str) -> Option<(Option<Start>, Option<End>)> {
    let bracket = || {
        let inner = title.trim_end().strip_suffix(')')?;
        inner.rsplit_once('(').map(|(_, inner)| inner)
    };
    let behind = || title.rsplit_once([':', ',', '–', '—']).map(|(_, tail)| tail);
    let spaced = || title.rsplit_once(" - ").map(|(_, tail)| tail);
    let parts = [Some(title), bracket(), behind(), spaced()];
    parts.into_iter().flatten().find_map(|text| super::exercise::span_alone(trim(text)))
}

/// A detail, step or dose line by its key.
fn detail(key: &str, head: &Said, value: &Said, below: bool, place: Place) -> Option<Class> {
    let alone = || Class::Unread {
        notice: Some(say::detail_alone(place, &head.text)),
        safety: key == "stop if",
        key: None,
    };
    let found = if let Some(about) = About::of(key) {
        Class::Detail(about, value.clone())
    } else if key == "anyway" {
        Class::Anyway(value.clone())
    } else if let Some(when) = when(&head.text) {
        Class::Step(when, Box::new(part_step(&value.text, value.place)))
    } else {
        let text = match key {
            "at" | "dose" | "how often" | "frequency" => value.text.clone(),
            "hold" | "rest" | "tempo" | "effort" | "rpe" | "rir" => format!("{key} {}", value.text),
            "load" => value.text.clone(),
            "band" => format!("band \"{}\"", value.text.trim_matches(['"', '“', '”'])),
            "sets" | "reps" => format!("{} {key}", value.text),
            _ => return None,
        };
        if !below {
            return Some(alone());
        }
        let (dose, notices) = crate::dose::read(&text, value.place);
        Class::DoseLine(dose, notices)
    };
    Some(if below { found } else { alone() })
}

/// A detail or a step without its colon, below an exercise.
fn plain_detail(typed: &TypedLine<'_>, below: bool) -> Option<Class> {
    let TypedLine { content, place, all, .. } = *typed;
    const WORDS: [&str; 14] = [
        "if not felt",
        "stop if",
        "cues",
        "cue",
        "feel",
        "easier",
        "harder",
        "why",
        "notes",
        "note",
        "nb",
        "anyway",
        "regression",
        "progression",
    ];
    let first = all.first()?;
    if !matches!(first.sort, Sort::Word(_)) {
        return None;
    }
    let c = Cursor { all, at: 0 };
    let rest = |from: &Cursor<'_>| -> Option<Said> {
        let token = from.peek().filter(|t| t.spaced)?;
        let text = trim(content.get(token.start..)?).to_string();
        let start = place.start + token.start;
        Some(Said { place: Place { line: place.line, start, end: start + text.len() }, text })
    };
    for word in WORDS {
        let mut m = c;
        let parts: Vec<&str> = word.split(' ').collect();
        if !m.words(&parts) {
            continue;
        }
        let Some(said) = rest(&m) else { continue };
        let head = Place { end: place.start + all.get(m.at - 1)?.end, ..place };
        if !below {
            // Of the rest nothing is about safety, and it may be prose.
            let alone = (word == "stop if").then(|| Class::Unread {
                notice: Some(say::detail_alone(place, word)),
                safety: true,
                key: None,
            });
            return alone;
        }
        let notice = say::read_as_detail(place, head, word);
        return Some(match About::of(word) {
            Some(about) => Class::PlainDetail(about, said, notice),
            None => Class::Unread {
                notice: Some(say::missing_colon(place, head, word)),
                safety: false,
                key: None,
            },
        });
    }
    if !below {
        return None;
    }
    let mut m = c;
    if m.word(&["from"]).is_some() && m.word(&["week", "wk"]).is_some() {
        let n = m.whole().and_then(|n| u8::try_from(n).ok()).filter(|n| 1 <= *n)?;
        m.sign(',');
        if let Some(said) = rest(&m) {
            return Some(Class::Step(
                When::From(Start::Week(n)),
                Box::new(part_step(&said.text, said.place)),
            ));
        }
        return None;
    }
    // `progress to 3 x 12 when easy`, `then lunge R 2 x 8 from week 3`: what, and then when.
    if let Some(at) = super::exercise::step_verb(content) {
        return step_behind(content, at, place);
    }
    // `week 3 - 3 x 12`, `from 14 Dec 3 x 12`: a start, then what changes.
    if let Some((start, at)) = crate::dose::find::span::start(all) {
        m.at = at;
        let dashed = m.sign('-') || m.sign(',');
        let said = rest(&m)?;
        let parted = part_step(&said.text, said.place);
        let dosed = has_work(&parted.dose) || !parted.dose.loads.is_empty();
        let verb = super::exercise::step_verb(&said.text).is_some();
        if dosed && (dashed || verb || parted.name.is_none()) {
            return Some(Class::Step(When::From(start), Box::new(parted)));
        }
        return None;
    }
    // Where the condition ends is not guessed: the colon is asked for.
    m = c;
    m.word(&["when", "if", "once"])?;
    let work = |at: usize| {
        let hit = crate::dose::find::at(Cursor { all, at }, content);
        hit.is_some_and(|h| h.items.iter().any(|i| matches!(i, crate::dose::find::Item::Work(_))))
    };
    let dose = (m.at + 1..all.len()).find(|at| all.get(*at).is_some_and(|t| t.spaced) && work(*at))?;
    let head = Place { end: place.start + all.get(dose.checked_sub(1)?)?.end, ..place };
    let notice = say::missing_step_colon(place, head);
    Some(Class::Unread { notice: Some(notice), safety: false, key: None })
}

/// A step whose time stands behind it, from byte `at` on.
fn step_behind(content: &str, at: usize, place: Place) -> Option<Class> {
    let folded = fold(content);
    let all = tokens(&folded);
    let begins = all.iter().position(|t| t.start == at)?;
    let condition = (begins + 1..all.len()).find(|i| {
        all.get(*i).is_some_and(|t| t.spaced && matches!(t.sort, Sort::Word("when" | "once" | "if")))
    });
    let piece = |from: usize, to: usize| {
        let raw = content.get(from..to).unwrap_or("");
        let text = raw.trim_end_matches(|c: char| crate::text::is_space(c) || c == ',');
        (text, Place { line: place.line, start: place.start + from, end: place.start + from + text.len() })
    };
    if let Some(i) = condition {
        let when = all.get(i)?;
        let (what, place) = piece(at, when.start);
        let words = trim(content.get(all.get(i + 1)?.start..)?).to_string();
        let parted = part_step(what, place);
        let dosed = has_work(&parted.dose) || !parted.dose.loads.is_empty();
        let when = if when.sort == Sort::Word("if") { When::If(words) } else { When::When(words) };
        return dosed.then(|| Class::Step(when, Box::new(parted)));
    }
    let (what, place) = piece(at, content.len());
    let mut parted = part_step(what, place);
    let start = parted.dose.from.take()?;
    let dosed = has_work(&parted.dose) || !parted.dose.loads.is_empty();
    dosed.then(|| Class::Step(When::From(start), Box::new(parted)))
}

/// A near-miss of a reserved key or a detail's key before a colon.
fn mistyped(key: &str, head: &Said, value: &Said, below: bool) -> Option<Class> {
    if 3 < key.split(' ').count() {
        return None;
    }
    let near = keys::near_keys(key);
    let (dose, _) = crate::dose::read(&value.text, value.place);
    let safety = near.iter().any(|w| Key::of(w).is_some_and(Key::is_safety));
    let exact = ["limit", "range", "weight"];
    let limit = near.iter().any(|w| exact.contains(w))
        && !angles::read(&value.text, Purpose::Limit, value.place).limits.is_empty();
    if !near.is_empty() && (limit || !has_work(&dose)) {
        let notice = say::mistyped_key(head.place, &head.text, &near);
        return Some(Class::Unread { notice: Some(notice), safety, key: None });
    }
    const DETAILS: [&str; 10] = [
        "feel",
        "if not felt",
        "easier",
        "harder",
        "note",
        "stop if",
        "anyway",
        "taught",
        "from week",
        "when easy",
    ];
    if below && !has_work(&dose) && 4 <= key.chars().count() {
        let near = near::within(key, DETAILS, if key.len() < 6 { 1 } else { 2 });
        if !near.is_empty() {
            let safety = near.contains(&"stop if");
            let notice = say::mistyped_key(head.place, &head.text, &near);
            return Some(Class::Unread { notice: Some(notice), safety, key: None });
        }
    }
    None
}

/// Lines without a colon that must not be swallowed as exercises: a reserved key without its colon,
/// weight-bearing by itself, and the trade's abbreviations.
fn without_colon(typed: &TypedLine<'_>) -> Option<Class> {
    let TypedLine { content, place, .. } = *typed;
    let head: &str =
        content.char_indices().nth(LONGEST_BARE).map_or(content, |(at, _)| content.get(..at).unwrap_or(""));
    let folded = fold(head);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    for (letters, key) in [(["c", "o"], Key::Finding), (["o", "e"], Key::Finding), (["r", "v"], Key::Review)]
    {
        let mut m = c;
        let [a, b] = letters;
        if m.word(&[a]).is_some()
            && m.sign('/')
            && m.word(&[b]).is_some()
            && m.peek().is_none_or(|t| t.spaced)
        {
            let from = if key == Key::Review { m.peek().map_or(content.len(), |t| t.start) } else { 0 };
            let text = trim(content.get(from..).unwrap_or("")).to_string();
            let place =
                Place { line: place.line, start: place.start + from, end: place.start + from + text.len() };
            return Some(Class::Key(key, Said { text, place }));
        }
    }
    if let Some(value) = next_visit(typed) {
        return Some(Class::Key(Key::Review, value));
    }
    let first = c.peek()?;
    let unread =
        |notice: Notice, safety: bool| Some(Class::Unread { notice: Some(notice), safety, key: None });
    let word = match first.sort {
        Sort::Word(w) => w,
        Sort::Number(_) | Sort::Sign(_) => return None,
    };
    if matches!(word, "nwb" | "ttwb" | "pwb" | "wbat" | "fwb")
        || (bearing::is_named(content) && !content.contains(" x "))
    {
        let dosed = has_work(&typed.parted().dose);
        if !dosed || word.ends_with("wb") {
            return unread(say::weight_without_key(place), true);
        }
    }
    // The longest of the first words that is a key: `out of hours` before `out`.
    let words = all.iter().enumerate().map_while(|(i, t)| match t.sort {
        Sort::Word(w) if i == 0 || t.spaced => Some(w),
        Sort::Word(_) | Sort::Number(_) | Sort::Sign(_) => None,
    });
    let words: Vec<&str> = words.take(LONGEST_KEY).collect();
    let begins = |n: usize| words.get(..n).and_then(|first| Key::of(&first.join(" ")));
    let (key, taken) =
        (1..=words.len()).rev().find_map(|n| begins(n).map(|key| (Some(key), n))).unwrap_or((None, 1));
    let word_end = all.get(taken - 1).map_or(first.end, |t| t.end);
    c.at = taken;
    let joint =
        (c.at..all.len()).any(|at| crate::language::anatomy::joint(&mut Cursor { all: &all, at }).is_some());
    let number = all.iter().skip(c.at).any(|t| matches!(t.sort, Sort::Number(_)));
    let Some(key) = key else {
        // `limt right knee 0-60`: no key, no colon.
        let near =
            near::within(word, ["limit", "limits", "range", "weight", "avoid", "cannot", "caution"], 1);
        if 4 <= word.len() && !near.is_empty() && joint && number && !has_work(&typed.parted().dose) {
            let typed =
                Place { line: place.line, start: place.start + first.start, end: place.start + first.end };
            return unread(say::mistyped_key(typed, word, &near), true);
        }
        return None;
    };
    if c.is_done() {
        // A key alone, half typed.
        return unread(
            say::missing_colon(place, Place { end: place.start + word_end, ..place }, key.word()),
            false,
        );
    }
    // `goal - back to gardening`: a dash that stands apart is a colon.
    let dash = c.peek().filter(|t| t.spaced && matches!(t.sort, Sort::Sign('-')));
    if let (Some(dash), Some(behind)) = (dash, all.get(c.at + 1))
        && behind.spaced
        && matches!(behind.sort, Sort::Word(_))
    {
        let text = trim(content.get(dash.end..).unwrap_or("")).to_string();
        let start = place.start + behind.start;
        return Some(Class::Key(
            key,
            Said { place: Place { start, end: start + text.len(), ..place }, text },
        ));
    }
    let dosed = has_work(&typed.parted().dose);
    let next = c.peek_word();
    let many = 3 <= all.len();
    let meant = match key {
        Key::Limit
        | Key::Cannot
        | Key::Irritability
        | Key::Screened
        | Key::Surgery
        | Key::Injury
        | Key::Caution
        | Key::UsualPain
        | Key::BadDay
        | Key::Avoid
        | Key::Finding
        | Key::Due => true,
        Key::Net => true,
        Key::Discharge | Key::Review | Key::Flare | Key::Taught | Key::Patient | Key::Ask | Key::Aim => {
            !dosed
        }
        Key::Range => joint && !dosed,
        Key::Weight => {
            matches!(
                next,
                Some(
                    "right"
                        | "left"
                        | "r"
                        | "l"
                        | "rt"
                        | "lt"
                        | "both"
                        | "as"
                        | "partial"
                        | "non"
                        | "toe"
                        | "full"
                        | "touch"
                )
            ) && (!dosed || bearing::is_named(content))
        }
        Key::Time => next.is_some_and(|w| {
            crate::dose::find::often::weekday(w).is_some()
                || matches!(w, "morning" | "evening" | "mornings" | "evenings" | "weekdays")
        }),
        Key::Emergency | Key::OutOfHours => number && !dosed,
        Key::Start | Key::Weeks => number && !dosed || key == Key::Start && c.date().is_some(),
        Key::Kit | Key::By | Key::Measure => !dosed && many,
        Key::Body => number && !dosed,
        Key::Exercise | Key::DoNot | Key::May | Key::Rule | Key::Advice => false,
    };
    if !meant {
        return None;
    }
    unread(
        say::missing_colon(place, Place { end: place.start + word_end, ..place }, key.word()),
        key.is_safety(),
    )
}
