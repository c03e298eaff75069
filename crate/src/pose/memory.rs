//! Movements settled before. Settling is the costly step, and while a text is typed nearly every exercise
//! stays as it is; what is asked the same is not settled again.
//!
//! A memory changes no answer: settling is a function of what is asked alone.

use super::ask::Pose;
use super::movement::Movement;
use crate::body::Body;
use crate::body::names::Side;
use crate::body::range::Limits;
use std::sync::Arc;

/// More than a page can show: 60 exercises on both sides.
const MOST: usize = 128;

/// Remembers up to [`MOST`] movements; the ones not asked for the longest go first.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    /// Oldest first.
    settled: Vec<Settled>,
}

#[derive(Clone, Debug)]
struct Settled {
    body: Body,
    poses: Vec<Pose>,
    side: Side,
    limits: Limits,
    movement: Arc<Movement>,
}

impl Memory {
    /// The movement for these asks: the same `Arc` as last time, or what `settle` gives.
    pub fn movement(
        &mut self,
        body: &Body,
        poses: &[Pose],
        side: Side,
        limits: &Limits,
        settle: impl FnOnce() -> Movement,
    ) -> Arc<Movement> {
        let same = |s: &Settled| s.side == side && s.body == *body && s.limits == *limits && s.poses == poses;
        if let Some(at) = self.settled.iter().rposition(same) {
            let found = self.settled.remove(at);
            let movement = Arc::clone(&found.movement);
            self.settled.push(found);
            return movement;
        }
        let movement = Arc::new(settle());
        if self.settled.len() == MOST {
            self.settled.remove(0);
        }
        self.settled.push(Settled {
            body: *body,
            poses: poses.to_vec(),
            side,
            limits: limits.clone(),
            movement: Arc::clone(&movement),
        });
        movement
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn empty(side: Side) -> Movement {
        Movement {
            side,
            keys: vec![],
            ways: vec![],
            things: vec![],
            peaks: vec![],
            needs: vec![],
            limited: false,
            held: vec![],
        }
    }

    #[test]
    fn the_same_ask_is_settled_once() {
        let mut memory = Memory::default();
        let mut settled = 0;
        for side in [Side::Right, Side::Left, Side::Right, Side::Left] {
            let movement = memory.movement(&Body::usual(), &[], side, &Limits::none(), || {
                settled += 1;
                empty(side)
            });
            assert_eq!(movement.side, side);
        }
        assert_eq!(settled, 2);
    }
}
