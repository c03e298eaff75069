//! Counts an exercise's sets, holds and rests, as its dose says. Time comes in as milliseconds that have
//! passed; there is no clock here.
//!
//! Ranges count at their higher end, as the minutes of the week do; whoever has done enough goes on by hand.

use super::pace;
use crate::body::Body;
use crate::body::names::Side;
use crate::dose::Kind as Doing;
use crate::measure::{Counts, Span};
use crate::programme::arithmetic::{CHANGE_SIDES, MOVE, PAUSE, REST, REST_LOADED};
use crate::programme::{Exercise, OnSide, Portion};

/// What is done in one stretch of time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Does {
    Ready,
    Hold,
    /// Out of a hold and into the next.
    LetGo,
    /// Working for a time, in the writer's words where there are some (`brisk`).
    Work(String),
    Lower,
    Still,
    Lift,
    Rest,
    ChangeSides,
    /// A set without a time of its own: it ends when the patient says so.
    OwnPace,
}

/// One stretch of time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Phase {
    pub does: Does,
    /// 0 for [`Does::OwnPace`].
    pub seconds: u32,
    /// Counted from 1.
    pub set: u32,
    pub sets: u32,
    /// Counted from 1; 0 where repetitions are not counted by time.
    pub repetition: u32,
    pub repetitions: u32,
    /// Index of the side among those drawn: 0 the first, 1 the other.
    pub side: usize,
}

/// What the listener should hear or feel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Work begins: hold, lift, go.
    Begin,
    /// Work ends: let go, rest.
    Ease,
    /// One of the last three seconds.
    Soon,
    /// All is done.
    Finish,
}

/// Seconds to get ready before the first set: common practice, no source.
const READY: u32 = 5;

/// A dose of more phases than this is not one that anybody counts through.
const MOST_PHASES: usize = 2000;

/// Where one is in the phases of an exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Timer {
    phases: Vec<Phase>,
    at: usize,
    spent_ms: u32,
    pub running: bool,
}

impl Timer {
    /// None where there is nothing to count: steps, advice, what is worn. A tempo begins with what the movement of
    /// this body begins with; where no movement is known, with letting down, as a tempo is written.
    pub fn of(body: &Body, e: &Exercise) -> Option<Timer> {
        if matches!(e.kind, Doing::Worn | Doing::Advice) {
            return None;
        }
        let movement = e.drawn.first().map(|drawn| &drawn.movement);
        let lowers_first = movement.and_then(|m| pace::lowers_first(body, m)).unwrap_or(true);
        let sides = if e.side == OnSide::EachSide { 2 } else { 1 };
        let mut phases = vec![phase(Does::Ready, READY)];
        for side in 0..sides {
            if 0 < side {
                phases.push(Phase { side, ..phase(Does::ChangeSides, CHANGE_SIDES) });
            }
            for (i, portion) in e.amount.portions.iter().enumerate() {
                if 0 < i {
                    phases.push(Phase { side, ..phase(Does::Rest, rest(e)) });
                }
                sets(&mut phases, e, portion, side, lowers_first)?;
            }
        }
        let timed = phases.iter().skip(1).any(|p| p.does != Does::ChangeSides);
        timed.then_some(Timer { phases, at: 0, spent_ms: 0, running: true })
    }

    /// None when all is done.
    pub fn phase(&self) -> Option<&Phase> {
        self.phases.get(self.at)
    }

    /// The phase before the one that is on.
    pub fn before(&self) -> Option<&Phase> {
        self.phases.get(self.at.checked_sub(1)?)
    }

    /// The phase after the one that is on.
    pub fn next(&self) -> Option<&Phase> {
        self.phases.get(self.at + 1)
    }

    /// Milliseconds of the phase that have passed.
    pub fn spent(&self) -> u32 {
        self.spent_ms
    }

    pub fn phases(&self) -> &[Phase] {
        &self.phases
    }

    /// Seconds left of the phase, begun ones counted whole.
    pub fn left(&self) -> u32 {
        self.phase().map_or(0, |p| (p.seconds * 1000).saturating_sub(self.spent_ms).div_ceil(1000))
    }

    /// Lets so much time pass, and says what there was to hear on the way.
    pub fn pass(&mut self, ms: u32) -> Vec<Sign> {
        let mut signs = Vec::new();
        let mut ms = if self.running { ms } else { 0 };
        while 0 < ms {
            let Some(phase) = self.phase() else { break };
            if phase.does == Does::OwnPace {
                break;
            }
            let whole = phase.seconds * 1000;
            let before = self.left();
            let step = ms.min(whole.saturating_sub(self.spent_ms));
            self.spent_ms += step;
            ms -= step;
            if self.spent_ms < whole {
                let now = self.left();
                if now < before && now <= 3 {
                    signs.push(Sign::Soon);
                }
            } else {
                signs.extend(self.go_on());
            }
        }
        signs
    }

    /// Goes on to the next phase.
    pub fn go_on(&mut self) -> Option<Sign> {
        self.phase()?;
        self.at += 1;
        self.spent_ms = 0;
        Some(match self.phase().map(|p| &p.does) {
            None => Sign::Finish,
            Some(Does::Rest | Does::LetGo | Does::ChangeSides | Does::Ready) => Sign::Ease,
            Some(_) => Sign::Begin,
        })
    }
}

fn phase(does: Does, seconds: u32) -> Phase {
    Phase { does, seconds, set: 1, sets: 1, repetition: 0, repetitions: 0, side: 0 }
}

fn rest(e: &Exercise) -> u32 {
    e.amount.rest.map_or(if e.loaded { REST_LOADED } else { REST }, Span::high)
}

/// None where they are too many to count.
fn sets(
    phases: &mut Vec<Phase>,
    e: &Exercise,
    portion: &Portion,
    side: usize,
    lowers_first: bool,
) -> Option<()> {
    // Steps and metres have no time of their own.
    if portion.amount.is_some() {
        return Some(());
    }
    let sets = portion.sets.high();
    for set in 1..=sets {
        let here = |does, seconds| Phase { set, sets, side, ..phase(does, seconds) };
        if 1 < set && portion.stretches.is_empty() {
            phases.push(here(Does::Rest, rest(e)));
        }
        for stretch in &portion.stretches {
            phases.push(here(Does::Work(stretch.how.clone()), stretch.span.high()));
        }
        if portion.stretches.is_empty() {
            repetitions(phases, e, portion, lowers_first, &here)?;
        }
        if MOST_PHASES < phases.len() {
            return None;
        }
    }
    Some(())
}

fn repetitions(
    phases: &mut Vec<Phase>,
    e: &Exercise,
    portion: &Portion,
    lowers_first: bool,
    here: &dyn Fn(Does, u32) -> Phase,
) -> Option<()> {
    if let (Some(bout), None) = (portion.bout, portion.reps) {
        phases.push(here(Does::Work(String::new()), bout.high()));
        return Some(());
    }
    // Sides in turn: each has its own, unless the number is written for both in all.
    let in_all = e.amount.dose.tally == Some(crate::dose::Tally::InAll);
    let turns = if e.side == OnSide::Alternating && !in_all { 2 } else { 1 };
    let counted = portion.reps.map(Counts::high).and_then(|n| n.checked_mul(turns));
    let Some(many) = counted.filter(|_| portion.hold.is_some() || e.amount.tempo.is_some()) else {
        phases.push(here(Does::OwnPace, 0));
        return Some(());
    };
    if MOST_PHASES < many as usize {
        return None;
    }
    let between = match e.kind {
        // One set of holds: what is written as rest stands between them.
        Doing::Held if portion.sets == Counts::ONE => e.amount.rest.map_or(PAUSE, Span::high),
        Doing::Held => PAUSE,
        _ => MOVE,
    };
    for repetition in 1..=many {
        let counted = |does, seconds| Phase { repetition, repetitions: many, ..here(does, seconds) };
        match (e.amount.tempo, portion.hold) {
            (Some(tempo), hold) => {
                let [lower, low, lift, top] = tempo.seconds().map(u32::from);
                let (down, up) =
                    ([(Does::Lower, lower), (Does::Still, low)], [(Does::Lift, lift), (Does::Still, top)]);
                let (out, back) = if lowers_first { (down, up) } else { (up, down) };
                // The hold is where the movement turns, as the figure shows it.
                let hold = hold.map(|h| (Does::Hold, h.high()));
                let parts = out.into_iter().chain(hold).chain(back);
                phases.extend(parts.filter(|(_, s)| 0 < *s).map(|(does, s)| counted(does, s)));
            }
            (None, Some(hold)) => {
                if 1 < repetition {
                    phases.push(counted(Does::LetGo, between));
                }
                phases.push(counted(Does::Hold, hold.high()));
            }
            (None, None) => {}
        }
    }
    Some(())
}

/// Which side the phase is for, where one side is done after the other.
pub fn side(e: &Exercise, phase: &Phase) -> Option<Side> {
    (e.side == OnSide::EachSide).then(|| e.side.drawn().get(phase.side).copied()).flatten()
}
