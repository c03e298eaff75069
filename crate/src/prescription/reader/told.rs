//! Lines that tell of the patient, gathered as they are read, and the conditions that they name together.

use super::Reading;
use super::classify::Class;
use crate::language::condition::{self, Condition, Named};
use crate::language::token::{Cursor, Sort};
use crate::language::typed::Typed;
use crate::prescription::noted::Noted;
use crate::prescription::words::Key;
use crate::prescription::{Said, plain, say};
use crate::text::Line;
use crate::text::fold::fold;

/// What a line that tells of the patient is, as far as its conditions go.
#[derive(Clone, Debug)]
pub(super) struct Told {
    said: Said,
    /// An operation or an injury.
    happened: bool,
    /// Whether its short forms are asked about.
    asks: bool,
    /// Only what is worn counts: beside a weight stand no conditions.
    worn: bool,
}

/// So many lines are looked at.
const MOST_TOLD: usize = 200;

impl Reading {
    /// Keeps a line for its conditions, if it tells of the patient.
    pub(super) fn gather(&mut self, line: &Line<'_>, class: &Class) {
        let whole = || Said { text: line.content().to_string(), place: line.place() };
        let told = |said: Said, happened, asks| Told { said, happened, asks, worn: false };
        let found = match class {
            Class::Title(said) if self.p.title.is_none() => told(said.clone(), false, true),
            Class::Key(Key::Caution | Key::Body, said) => told(said.clone(), false, true),
            Class::Key(Key::Surgery | Key::Injury, said) => told(said.clone(), true, true),
            // `PMH:` is a word for a finding, and tells that it lies back.
            Class::Key(Key::Finding | Key::Measure, _) => told(whole(), false, is_list(line.content())),
            Class::Key(Key::Weight, said) => Told { worn: true, ..told(said.clone(), false, false) },
            Class::Key(Key::Patient, said) => match said.text.split_once(',') {
                // The name is none.
                Some((name, _)) => {
                    let from = name.len() + 1;
                    let text = said.text.get(from..).unwrap_or("").to_string();
                    let place = crate::text::Place { start: said.place.start + from, ..said.place };
                    told(Said { text, place }, false, false)
                }
                None => return,
            },
            Class::Noted(Noted::Key(Key::Surgery | Key::Injury), said) => told(said.clone(), true, true),
            Class::Noted(_, said) | Class::Private(said) => {
                told(said.clone(), false, is_list(line.content()))
            }
            Class::Plain(plain::Read::Finding, said) => told(said.clone(), false, false),
            _ => return,
        };
        if self.told.len() < MOST_TOLD {
            self.told.push(found);
        }
    }

    /// The conditions of all gathered lines, and what is asked of them.
    pub(super) fn take_conditions(&mut self) {
        let year = self.p.start.map(|day| day.year());
        let told = core::mem::take(&mut self.told);
        let folded: Vec<_> = told.iter().map(|t| fold(&t.said.text)).collect();
        let lines: Vec<Typed<'_>> = told
            .iter()
            .zip(&folded)
            .map(|(t, folded)| Typed::new(&t.said.text, t.said.place, folded))
            .collect();
        let has = |word: &str| {
            let is = |sort: Sort<'_>| match sort {
                Sort::Word(w) => w == word,
                Sort::Sign(s) => word.chars().eq([s]),
                Sort::Number(_) => false,
            };
            lines.iter().any(|line| line.all.iter().any(|t| is(t.sort)))
        };
        for (t, typed) in told.iter().zip(&lines) {
            let line = condition::Line { typed, happened: t.happened, asks: t.asks };
            let read = condition::read(line, year, &has);
            let counts = |n: &Named| !t.worn || matches!(n.condition, Condition::Brace | Condition::Cast);
            self.p.conditions.extend(read.named.into_iter().filter(counts));
            self.notices
                .extend(read.asked.into_iter().map(|a| say::several_meanings(a.place, &a.typed, a.means)));
        }
    }
}

/// Whether a line is a list of what the patient has or had: `PMH: AS, T2DM`.
fn is_list(content: &str) -> bool {
    let folded = fold(content);
    let all = crate::language::token::tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    let keyed = c.word(&["finding"]).is_some() && c.sign(':');
    Cursor { at: if keyed { c.at } else { 0 }, ..c }.one_of(&[
        "pmh",
        "pmhx",
        "phx",
        "psh",
        "pshx",
        "dx",
        "diagnosis",
        "past medical history",
        "medical history",
    ])
}
