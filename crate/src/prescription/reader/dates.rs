//! Days that are known once the start is, and where each is kept.

use super::Reading;
use crate::dose::{Dose, End, Start, Yearless};
use crate::measure::Date;
use crate::prescription::day::Day;
use crate::prescription::later::Later;
use crate::prescription::words::Key;
use crate::prescription::{Prescription, Unread, When, say};

/// Where the date of a key is kept.
pub(super) fn slot(p: &mut Prescription, key: Key) -> &mut Option<crate::measure::Date> {
    match key {
        Key::Start => &mut p.start,
        Key::Review => &mut p.review,
        _ => &mut p.due,
    }
}

impl Reading {
    /// The year of a date that was typed without it, where the start tells it.
    fn dated(&mut self, day: Yearless) -> Option<Date> {
        self.undated = true;
        Day::yearless(day).from(Some(self.start?)).ok()
    }

    /// Ends of limits, weights and rules that were typed without their year.
    pub(super) fn date_ends(&mut self) {
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

    pub(super) fn date_start(&mut self, start: &mut Start) {
        if let Start::Yearless(day) = *start
            && let Some(date) = self.dated(day)
        {
            *start = Start::Date(date);
        }
    }

    pub(super) fn date(&mut self, dose: &mut Dose) {
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

    pub(super) fn date_later(&mut self, later: &mut [Later]) {
        for one in later {
            if let Later::Step(step, _) = one {
                if let When::From(start) = &mut step.when {
                    self.date_start(start);
                }
                self.date(&mut step.dose);
            }
        }
    }

    /// Days that count from the start.
    pub(super) fn count_days(&mut self) {
        for (key, day, words, at) in std::mem::take(&mut self.happened) {
            let p = &mut self.p;
            let slot = if key == Key::Surgery { &mut p.surgery } else { &mut p.injury };
            let Some(happening) = slot else { continue };
            match Day::yearless(day).last(p.start) {
                Ok(date) => {
                    let tidy = crate::prescription::keys::dated_text(Some(date), &words);
                    (happening.date, happening.words) = (Some(date), words);
                    if let Some(line) = p.lines.get_mut(at) {
                        line.tidy = format!("{}: {tidy}", key.word());
                    }
                }
                Err(fault) => self.notices.push(say::undated_day(happening.place, key.word(), fault)),
            }
        }
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
}
