//! Which neighbours of the exercise at hand may be offered in its place: those on which the checks have run there.

use super::{Ask, Desk, Panel, stage};
use crate::catalog::Catalog;
use crate::prescription::{self, Prescription};
use crate::programme::{self, Known, Programme, assemble};
use std::collections::BTreeSet;

/// Which neighbours of the exercise at hand may be offered in its place. The checks run on one at a time, so that the
/// writer does not wait, and on all anew where anything that they look at has changed.
#[derive(Debug, Default)]
pub struct Sought {
    /// What the checks look at, as a number.
    of: u64,
    at: usize,
    left: Vec<String>,
    may: Vec<String>,
}

/// What the checks look at in a prescription, at a day and a week: all lines but what is said to the patient beside the
/// exercises. FNV-1a.
fn looked_at(read: &Prescription, ask: &Ask<'_>) -> u64 {
    let said = read.exercises.iter().flat_map(|e| &e.details).map(|d| d.said.place.line);
    let said: BTreeSet<usize> = said.chain(read.remarks.iter().map(|r| r.place.line)).collect();
    let lines = read.lines.iter().filter(|line| !said.contains(&line.number));
    let day = ask.today.map_or(String::new(), |day| day.to_string());
    let week = ask.week.unwrap_or(0).to_le_bytes();
    let all = lines.flat_map(|line| line.tidy.bytes().chain([b'\n'])).chain(day.bytes()).chain(week);
    all.fold(0xcbf2_9ce4_8422_2325, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3))
}

impl Sought {
    /// Of the neighbours those that may be offered, once the checks have run on all.
    pub fn offered(&self) -> stage::Offered<'_> {
        if self.left.is_empty() { stage::Offered::Only(&self.may) } else { stage::Offered::NotYet }
    }
}

impl Desk {
    /// Has the neighbours of the exercise at hand checked anew, where they are not the ones of last time.
    pub(super) fn seek_anew(&mut self, ask: &Ask<'_>, read: &Prescription, programme: &Programme) {
        let shown = stage::shown(programme, ask.line).filter(|_| *ask.panel == Panel::AtHand);
        let id = |e: &programme::Exercise| match &e.known {
            Known::Catalog { id, .. } => Some(id.clone()),
            Known::Own | Known::Unknown => None,
        };
        let Some((at, id)) = shown.and_then(|(at, e)| Some((at, id(e)?))) else {
            self.sought = Sought::default();
            return;
        };
        let of = looked_at(read, ask);
        if (self.sought.of, self.sought.at) != (of, at) {
            self.sought = Sought { of, at, left: stage::neighbours(&id), may: Vec::new() };
        }
    }

    /// Whether neighbours of the exercise at hand still have to be checked.
    pub fn wants_offers(&self) -> bool {
        !self.sought.left.is_empty()
    }

    /// Runs the checks on one neighbour of the exercise at hand in its place. False: none was left.
    pub fn seek(&mut self, ask: &Ask<'_>) -> bool {
        let (read, _) = prescription::read(ask.text);
        if self.sought.left.is_empty() || self.sought.of != looked_at(&read, ask) {
            return false;
        }
        let id = self.sought.left.remove(0);
        let catalog = Catalog::embedded();
        let wanted = programme::Ask { week: ask.week, ..programme::Ask::today(ask.today) };
        if let Some(entry) = catalog.by_id(&id) {
            let at = self.sought.at;
            let may = assemble::may_follow(&read, catalog, &wanted, at, &[entry], &mut self.settled);
            self.sought.may.extend(may.into_iter().map(|e| e.id.clone()));
        }
        true
    }
}
