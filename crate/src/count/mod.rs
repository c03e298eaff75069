//! Counts with whoever exercises: sets, repetitions, holds and rests of a dose, and the pace at which its figure
//! moves. Both go by the same tempo, and begin with what the movement begins with.

pub mod along;
pub mod pace;
pub mod timer;

use crate::body::Body;
use crate::figure;
use crate::markup::Markup;
use crate::pose::movement::Movement;
use crate::programme::Exercise;
use pace::{Course, Pace};

/// A movement instant by instant, and how it goes.
#[derive(Clone, Debug)]
pub struct Moving {
    pub instants: Vec<Markup>,
    pub course: Course,
}

impl Moving {
    /// None where hardly anything moves.
    pub fn of(body: &Body, movement: &Movement, look: &figure::Look) -> Option<Moving> {
        let instants = figure::moving(body, movement, look);
        let course = Course::of(body, movement, instants.len())?;
        Some(Moving { instants, course })
    }

    /// The picture of an exercise after so many milliseconds, and whether the hold is on. `still`: key pose by key
    /// pose, nothing in between.
    pub fn at(&self, e: &Exercise, ms: u32, still: bool) -> Option<(&Markup, bool)> {
        let pace = Pace::new(&self.course, e.amount.tempo, e.amount.hold())?;
        let shown = if still { pace.step_at(ms) } else { pace.at(ms) };
        self.instants.get(shown.instant).map(|picture| (picture, shown.is_hold))
    }
}
