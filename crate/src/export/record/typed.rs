//! The text line by line as typed, without private remarks, and under which heading of the record each line stands.

use std::collections::{BTreeMap, BTreeSet};

use crate::language::restraint::Plain;
use crate::measure::Date;
use crate::prescription::exercise::colon;
use crate::prescription::limit::Bearing;
use crate::prescription::limit::Purpose;
use crate::prescription::words::Key;
use crate::prescription::{Prescription, angles, bearing, without_remark};
use crate::text::fold::folded;
use crate::text::{is_space, lines};

/// A part of the record that holds typed lines, in the order of the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    When,
    Who,
    Patient,
    Goals,
    /// Limits, and what must not be done.
    MustNot,
    Cannot,
    May,
    KeepTo,
    Screening,
    Plan,
    Unread,
    Review,
    Help,
    Also,
}

/// One typed line.
#[derive(Clone, Debug, Default)]
struct Row<'a> {
    /// As typed, bullets included; empty where it has no words.
    words: String,
    /// Without bullets.
    content: String,
    /// In canonical writing.
    tidy: &'a str,
}

/// The lines of a text.
#[derive(Debug)]
pub struct Typed<'a> {
    rows: Vec<Row<'a>>,
}

impl<'a> Typed<'a> {
    pub fn of(text: &str, p: &'a Prescription) -> Typed<'a> {
        let tidy: BTreeMap<usize, &str> = p.lines.iter().map(|l| (l.number, l.tidy.as_str())).collect();
        let all = lines(text);
        let rows = all.iter().map(|line| {
            let words = plain(without_remark(line).unwrap_or(""));
            // A ruled line has no words.
            if words.chars().all(|c| "-–—=_*~#·•.".contains(c)) {
                return Row::default();
            }
            let bullets = plain(line.content()).len();
            let whole = plain(line.trimmed()).len();
            let content = words.get(whole.saturating_sub(bullets)..).unwrap_or(&words).to_string();
            Row { content, words, tidy: tidy.get(&line.number).copied().unwrap_or("") }
        });
        Typed { rows: rows.collect() }
    }

    fn row(&self, line: usize) -> Option<&Row<'a>> {
        line.checked_sub(1).and_then(|at| self.rows.get(at))
    }

    /// The words of a line as typed, without a remark; empty where it has none.
    pub fn words(&self, line: usize) -> &str {
        self.row(line).map_or("", |row| row.words.as_str())
    }

    /// What a line was read as, where that is written otherwise than it was typed.
    pub fn read_as(&self, line: usize) -> Option<String> {
        let row = self.row(line)?;
        self.otherwise(line, row.tidy)
    }

    /// These words, where the line was typed otherwise.
    pub fn otherwise(&self, line: usize, words: &str) -> Option<String> {
        let row = self.row(line)?;
        (folded(words) != folded(&row.content)).then(|| words.trim().to_string())
    }

    /// The numbers of the lines that have words.
    pub fn numbers(&self) -> impl Iterator<Item = usize> {
        self.rows.iter().enumerate().filter(|(_, row)| !row.words.is_empty()).map(|(at, _)| at + 1)
    }

    /// Whether the tidy form puts a line under what stands above it.
    fn is_below(&self, line: usize) -> bool {
        self.row(line).is_some_and(|row| row.tidy.starts_with(' '))
    }

    fn key(&self, line: usize) -> Option<Key> {
        let tidy = self.row(line)?.tidy;
        let (at, _) = colon(tidy)?;
        Key::of(tidy.get(..at)?)
    }
}

/// White space of any kind as blanks, and nothing that a clinical system could take for a command.
fn plain(words: &str) -> String {
    let spaced = words.chars().map(|c| if c.is_whitespace() { ' ' } else { c });
    let shown: String = spaced.filter(|c| !c.is_control()).collect();
    shown.trim_matches(is_space).to_string()
}

/// The lines that belong to exercises.
#[derive(Debug, Default)]
pub struct Blocks {
    /// Below each exercise, by its index.
    pub below: BTreeMap<usize, BTreeSet<usize>>,
    /// Of own exercises.
    pub own: BTreeSet<usize>,
}

/// Where each line stands, with what it was read as.
#[derive(Debug)]
pub struct Sorted {
    parts: BTreeMap<Part, BTreeMap<usize, Vec<String>>>,
    pub blocks: Blocks,
}

impl Sorted {
    pub fn of(p: &Prescription, typed: &Typed<'_>) -> Sorted {
        let mut sorted = Sorted { parts: BTreeMap::new(), blocks: Blocks::default() };
        let mut taken: BTreeSet<usize> = p.title.iter().map(|title| title.place.line).collect();
        taken.extend(sorted.exercises(p));
        sorted.facts(p, typed);
        taken.extend(sorted.parts.values().flat_map(|part| part.keys().copied()));
        for line in typed.numbers().filter(|line| !taken.contains(line)) {
            if let Some(part) = typed.key(line).and_then(part_of) {
                sorted.add(part, line, typed.read_as(line).map(read_as));
                continue;
            }
            let above = p.exercises.iter().rposition(|x| x.line < line).filter(|_| typed.is_below(line));
            match above {
                Some(above) => {
                    sorted.blocks.below.entry(above).or_default().insert(line);
                }
                None => sorted.add(Part::Also, line, None),
            }
        }
        sorted
    }

    fn add(&mut self, part: Part, line: usize, read: impl IntoIterator<Item = String>) {
        self.parts.entry(part).or_default().entry(line).or_default().extend(read);
    }

    /// Lines of exercises, of what belongs to them, and of the headings that they stand under.
    fn exercises(&mut self, p: &Prescription) -> BTreeSet<usize> {
        let mut taken = BTreeSet::new();
        for (at, x) in p.exercises.iter().enumerate() {
            taken.insert(x.line);
            let heading = x.section.and_then(|section| p.sections.get(section));
            taken.extend(heading.map(|section| section.said.place.line));
            let details = x.details.iter().map(|detail| detail.said.place.line);
            let steps = x.steps.iter().map(|step| step.place.line);
            let below = details.chain(steps).chain(x.anyway.as_ref().map(|reason| reason.place.line));
            self.blocks.below.entry(at).or_default().extend(below.filter(|line| *line != x.line));
        }
        taken.extend(self.blocks.below.values().flatten());
        for own in &p.own {
            self.blocks.own.insert(own.name.place.line);
            self.blocks.own.extend(own.lines.iter().map(|said| said.place.line));
        }
        taken.extend(&self.blocks.own);
        taken
    }

    /// What may stand on any line, with its key or without.
    fn facts(&mut self, p: &Prescription, typed: &Typed<'_>) {
        let mut lines: Vec<usize> = p.limits.iter().map(|l| l.place.line).collect();
        lines.dedup();
        for line in lines {
            let here = || p.limits.iter().filter(|l| l.place.line == line);
            for (purpose, part, key) in
                [(Purpose::Limit, Part::MustNot, "limit"), (Purpose::Range, Part::Patient, "range")]
            {
                let all: Vec<_> = here().filter(|l| l.purpose == purpose).cloned().collect();
                if !all.is_empty() {
                    let written = format!("{key}: {}", angles::written(&all));
                    let ends = all.iter().map(|l| (l.end.is_some(), l.last_day));
                    self.add(part, line, typed.otherwise(line, &written).map(read_as));
                    self.add(part, line, last_days(ends));
                }
            }
        }
        for stages in bearing::groups(&p.bearing) {
            let Some(first) = stages.first() else { continue };
            let part = |b: &Bearing| match b.weight {
                weight if weight.forbids() => Part::MustNot,
                weight if weight.is_restricted() => Part::KeepTo,
                _ => Part::May,
            };
            let (line, written) = (first.place.line, format!("weight: {}", bearing::written_all(stages)));
            self.add(part(first), line, typed.otherwise(line, &written).map(read_as));
            for b in stages {
                self.add(part(b), b.place.line, last_days([(b.end.is_some(), b.last_day)]));
            }
        }
        for s in &p.stated {
            let line = s.said.place.line;
            let part = match s.kind {
                Plain::Restriction => Part::MustNot,
                Plain::Permission => Part::May,
                Plain::Order | Plain::Advice => Part::KeepTo,
                Plain::Finding => Part::Patient,
            };
            let is_said = folded(typed.words(line)).contains(&folded(&s.shown));
            self.add(part, line, (!is_said).then(|| read_as(s.shown.clone())));
            self.add(part, line, last_days([(s.end.is_some(), s.last_day)]));
        }
        p.avoid.iter().for_each(|said| self.add(Part::MustNot, said.place.line, None));
        p.findings.iter().for_each(|said| self.add(Part::Patient, said.place.line, None));
        p.unread.iter().for_each(|unread| self.add(Part::Unread, unread.said.place.line, None));
    }

    /// The lines of a part in the order typed, each with what is to be said of it.
    pub fn part(&self, part: Part) -> impl Iterator<Item = (usize, &Vec<String>)> {
        self.parts.get(&part).into_iter().flatten().map(|(line, read)| (*line, read))
    }
}

fn read_as(words: String) -> String {
    format!("Read as {words}")
}

/// Until when something holds: whether an end was typed, and its day where that is known.
fn last_days(ends: impl IntoIterator<Item = (bool, Option<Date>)>) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for end in ends {
        let words = match end {
            (_, Some(day)) => format!("Last day: {}", day.words()),
            (true, None) => "Last day: no date follows from the text".to_string(),
            (false, None) => continue,
        };
        if !said.contains(&words) {
            said.push(words);
        }
    }
    said
}

/// Where a line stands by its key alone.
fn part_of(key: Key) -> Option<Part> {
    Some(match key {
        Key::By | Key::Patient => Part::Who,
        Key::Start | Key::Weeks => Part::When,
        Key::Surgery
        | Key::Injury
        | Key::Due
        | Key::Caution
        | Key::Body
        | Key::UsualPain
        | Key::Irritability
        | Key::Finding
        | Key::Measure
        | Key::Range => Part::Patient,
        Key::Aim | Key::Discharge => Part::Goals,
        Key::Limit | Key::Weight | Key::Avoid | Key::DoNot => Part::MustNot,
        Key::Cannot => Part::Cannot,
        Key::May => Part::May,
        Key::Rule | Key::Advice => Part::KeepTo,
        Key::Screened => Part::Screening,
        Key::Kit | Key::Time | Key::Ask | Key::OkayPain | Key::Taught | Key::BadDay | Key::Flare => {
            Part::Plan
        }
        Key::Review => Part::Review,
        Key::Emergency | Key::OutOfHours | Key::Net => Part::Help,
        Key::Exercise => return None,
    })
}
