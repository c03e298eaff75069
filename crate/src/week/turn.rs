//! Weeks that are alike: turned or mirrored.

use crate::week::hunt::{Domain, Hunt};

/// The days moved on by `shift`, mirrored before that or not, round the end.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Turn {
    shift: usize,
    mirrored: bool,
    horizon: usize,
}

impl Turn {
    fn day(self, day: usize) -> usize {
        let day = if self.mirrored { self.horizon - day } else { day };
        (day + self.shift) % self.horizon
    }

    pub fn set(self, days: u16) -> u16 {
        (0..self.horizon).filter(|day| days & (1 << day) != 0).fold(0, |set, day| set | 1 << self.day(day))
    }
}

impl Hunt<'_> {
    /// The ways to turn or mirror the week that change nothing: the same minutes, the same fixed items and appointments,
    /// the same choices. Every level is the same for a week and the week so turned, so only one of them is looked at.
    pub fn turns(&self, domains: &[Domain]) -> Vec<Turn> {
        let horizon = self.ready.horizon;
        let all =
            (0..horizon).flat_map(|shift| [false, true].map(|mirrored| Turn { shift, mirrored, horizon }));
        all.filter(|turn| turn.shift != 0 || turn.mirrored)
            .filter(|turn| {
                (0..horizon).all(|day| {
                    let there = turn.day(day);
                    self.ready.kind_of.get(day) == self.ready.kind_of.get(there)
                        && self.lists.get(day) == self.lists.get(there)
                }) && self.loaded.iter().all(|&days| turn.set(days) == days)
                    && domains
                        .iter()
                        .filter_map(|domain| self.ready.choices.get(domain.item))
                        .all(|choice| choice.sets.iter().all(|&set| choice.sets.contains(&turn.set(set))))
            })
            .collect()
    }
}
