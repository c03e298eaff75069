//! The weeks of a course: where the way in which the days are laid out changes.

use super::lay::{self, Adapted};
use super::model::{Fault, Limit};
use super::pattern::Pattern;
use super::{Laid, laid};
use crate::programme::Programme;

/// The pattern of each week from the first on, told where it changes: `(first week, pattern)`. The last goes
/// on without end. `at` gives the programme of a week, counted from 1; equal problems are solved once.
pub fn course(
    weeks: u32,
    limit: Limit,
    mut at: impl FnMut(u32) -> Programme,
) -> Result<Vec<(u32, Pattern)>, Fault> {
    let mut solved: Vec<Laid> = Vec::new();
    let mut stretches: Vec<(u32, Pattern)> = Vec::new();
    for week in 1..=weeks.max(1) {
        let programme = at(week);
        let adapted: Adapted = lay::adapt(&programme);
        let known = solved.iter().find(|l| l.problem == adapted.problem && l.items == adapted.items);
        let pattern = match known {
            Some(known) => known.pattern(),
            None => {
                let laid = laid(adapted, programme.week_number, limit)?;
                let pattern = laid.pattern();
                solved.push(laid);
                pattern
            }
        };
        if stretches.last().is_none_or(|(_, last)| *last != pattern) {
            stretches.push((week, pattern));
        }
    }
    Ok(stretches)
}
