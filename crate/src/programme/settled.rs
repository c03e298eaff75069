//! Movements settled within the patient's limits, and which of them can't be done there.
//!
//! The caller keeps a [`Cache`] from one reading to the next: an edit that touches no limit, body or prop
//! settles nothing again.

use std::sync::Arc;

use super::clock;
use super::{Drawn, Standing, say};
use crate::body::Body;
use crate::body::names::{Angle, Side};
use crate::body::range::Limits;
use crate::pose::ask::Pose;
use crate::pose::memory::Memory;
use crate::pose::movement::{Movement, Need};
use crate::pose::read::shows::Show;
use crate::pose::settle;
use crate::prescription::limit::Limit;

/// What was settled before, and how it was labelled.
#[derive(Clone, Debug, Default)]
pub struct Cache {
    memory: Memory,
    /// A settled movement, and the same with the numbers that were written: asked the same, it is the same
    /// `Arc`, so that nothing is drawn again either. Oldest first.
    labelled: Vec<(Arc<Movement>, Arc<Movement>)>,
    /// What the figures of own exercises do not show well enough: the shares. Oldest first.
    unseen: Vec<(Arc<Movement>, Vec<Show>, Shares)>,
}

/// Labelled movements that are kept.
const MOST: usize = 128;
/// Own exercises whose figure was looked at, and that are kept: common practice, no source.
const MOST_SEEN: usize = 16;

/// Which of a list is not shown well enough, with its share.
type Shares = Vec<(usize, f64)>;

impl Cache {
    /// The shares of what a figure does not show well enough, from `look` where they are not known yet.
    pub(super) fn unseen(
        &mut self,
        of: &Arc<Movement>,
        shows: &[Show],
        look: impl FnOnce() -> Shares,
    ) -> Shares {
        if let Some((_, _, shares)) = self.unseen.iter().find(|(m, s, _)| Arc::ptr_eq(m, of) && s == shows) {
            return shares.clone();
        }
        let shares = look();
        if self.unseen.len() == MOST_SEEN {
            self.unseen.remove(0);
        }
        self.unseen.push((of.clone(), shows.to_vec(), shares.clone()));
        shares
    }

    pub(super) fn movement(
        &mut self,
        poses: &[Pose],
        body: &Body,
        side: Side,
        limits: &Limits,
    ) -> Arc<Movement> {
        self.memory.movement(body, poses, side, limits, || settle::exercise(body, poses, side, limits))
    }

    /// The movement with these needs and held angles in place of its own.
    fn labelled(&mut self, of: &Arc<Movement>, needs: &[Need], held: &[(Angle, f64)]) -> Arc<Movement> {
        let same = |(plain, said): &(Arc<Movement>, Arc<Movement>)| {
            Arc::ptr_eq(plain, of) && said.needs == needs && said.held == held
        };
        if let Some(at) = self.labelled.iter().rposition(same) {
            let found = self.labelled.remove(at);
            let movement = found.1.clone();
            self.labelled.push(found);
            return movement;
        }
        let movement = Arc::new(Movement {
            limited: true,
            needs: needs.to_vec(),
            held: held.to_vec(),
            ..(**of).clone()
        });
        if self.labelled.len() == MOST {
            self.labelled.remove(0);
        }
        self.labelled.push((of.clone(), movement.clone()));
        movement
    }
}

/// The patient's limits of the week, as settling and checks need them.
#[derive(Clone, Debug)]
pub struct Bounds {
    pub body: Body,
    /// Each bound as written: the angle and the most it may reach, degrees.
    pub written: Vec<(Angle, f64)>,
    /// As written.
    pub limits: Limits,
    /// Short by the margin: what is drawn.
    pub short: Limits,
}

impl Bounds {
    pub fn of(body: Body, standing: &[Standing<Limit>], margin: u8) -> Bounds {
        let in_force = standing.iter().filter(|s| s.in_force);
        let written = in_force.flat_map(|s| clock::bounds(&s.what)).collect();
        let limits = clock::for_settling(standing, 0);
        Bounds { body, written, limits, short: clock::for_settling(standing, margin) }
    }
}

/// What came of one side.
#[derive(Clone, Debug)]
pub struct Outcome {
    pub drawn: Drawn,
    /// Whether a limit changed what is drawn.
    pub limited: bool,
    /// Why it can't be done within the limits: empty where it can.
    pub needs: Vec<Need>,
    /// The angles that a limit holds back: how far they go without it, degrees.
    pub usual: Vec<(Angle, f64)>,
    /// The share of the movement of the angle that loses most, 0 to 1.
    pub kept: f64,
}

/// Half a degree of rounding is let go.
const LET_GO: f64 = 0.5;

/// What turns by less, in degrees, rests: as far as an eye tells (see [`super::USUAL_MARGIN`]).
const MOVES: f64 = 10.0;

/// Settles one side, and compares it with what it would be without the patient's limits.
///
/// An exercise can't be done within a limit where its start position is past it, or where within it what
/// should touch no longer does (more than [`settle::GAP_MM`] away). Otherwise it is drawn within it.
pub fn outcome(cache: &mut Cache, poses: &[Pose], bounds: &Bounds, side: Side) -> Outcome {
    let natural = cache.movement(poses, &bounds.body, side, &Limits::none());
    let over: Vec<(Angle, f64, f64)> = bounds
        .written
        .iter()
        .filter_map(|(angle, most)| {
            let (_, high) = extent(&natural, *angle)?;
            (most + LET_GO < high).then_some((*angle, *most, high))
        })
        .collect();
    if over.is_empty() {
        let drawn = Drawn { side, movement: natural, landmark: None };
        return Outcome { drawn, limited: false, needs: Vec::new(), usual: Vec::new(), kept: 1.0 };
    }
    let usual: Vec<(Angle, f64)> = over.iter().map(|(a, _, high)| (*a, *high)).collect();
    let mut movement = cache.movement(poses, &bounds.body, side, &bounds.short);
    if !is_as_good(&movement, &natural) {
        movement = cache.movement(poses, &bounds.body, side, &bounds.limits);
    }
    let possible = is_as_good(&movement, &natural);
    let first = |angle: Angle| natural.keys.first().map(|k| settle::value_of(&k.state, angle));
    let needs: Vec<Need> = over
        .iter()
        .filter(|(angle, most, _)| !possible || first(*angle).is_some_and(|start| most + LET_GO < start))
        .map(|(angle, most, high)| Need { angle: *angle, needs: *high, limit: *most })
        .collect();
    let kept = over.iter().filter_map(|(angle, most, _)| {
        let (low, high) = extent(&natural, *angle)?;
        (1.0 < high - low).then(|| ((most - low) / (high - low)).clamp(0.0, 1.0))
    });
    let kept = kept.fold(1.0, f64::min);
    // What is labelled is the number that was written, not where the drawing stops short of it.
    let held: Vec<(Angle, f64)> = over.iter().map(|(angle, most, _)| (*angle, *most)).collect();
    let movement = cache.labelled(&movement, &needs, &held);
    // Where a joint only rests so, as in sitting, there is nothing to stop.
    let moves = |angle: Angle| extent(&natural, angle).is_some_and(|(low, high)| MOVES < high - low);
    let mut moved = over.iter().filter(|(angle, _, _)| moves(*angle));
    let landmark = moved.find_map(|(angle, _, _)| say::landmark(&bounds.body, &movement, *angle));
    let drawn = Drawn { side, movement, landmark };
    Outcome { drawn, limited: true, needs, usual, kept }
}

/// Whether everything that touches without the limits still touches.
fn is_as_good(movement: &Movement, natural: &Movement) -> bool {
    let gap = |m: &Movement| m.keys.iter().map(|k| k.gap_mm).fold(0.0, f64::max);
    gap(movement) <= settle::GAP_MM.max(gap(natural) + 1.0)
}

/// Lowest and highest value of an angle over the whole movement, degrees; None without poses.
pub fn extent(movement: &Movement, angle: Angle) -> Option<(f64, f64)> {
    let states = movement.keys.iter().map(|k| &k.state).chain(movement.ways.iter().flatten());
    states.map(|s| settle::value_of(s, angle)).fold(None, |so_far, v| {
        let (low, high) = so_far.unwrap_or((v, v));
        Some((f64::min(low, v), f64::max(high, v)))
    })
}
