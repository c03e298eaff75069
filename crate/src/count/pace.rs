//! When the moving figure shows which of its instants: at the tempo, hold and seconds that were asked for, else calmly.
//!
//! A cycle is a list of stretches: a stay at a key pose, or a way from one key pose to the next. A movement that ends
//! where it began goes round; any other goes to its last pose and back by the same way.

use crate::body::{Body, Skin, State};
use crate::dose::parts::Tempo;
use crate::measure::Span;
use crate::pose::movement::Movement;
use crate::programme::arithmetic::MOVE;

/// Milliseconds at the first and at the last pose where nothing is said: common practice, no source.
const STAY: u32 = 1000;
/// Milliseconds at a key pose on the way, so that a sequence is seen as its steps: common practice, no source.
const STOP: u32 = 400;
/// The longest stay that is shown, milliseconds, however long the hold: a picture that stands still for longer looks
/// as if it had stopped (common practice, no source). The words beside it say how long to hold.
const LONGEST_STAY: u32 = 5000;
/// The longest way, milliseconds: with about 16 instants each is then shown for 0.6 s, and slower is seen as a row of
/// stills (common practice, no source).
const LONGEST_WAY: u32 = 10_000;
/// A way whose tempo is 0, as quick as can be: the shortest that can be followed (common practice, no source).
const QUICKEST_WAY: u32 = 300;
/// Milliseconds of a way where nothing is said. Half a repetition, as the minutes of the week count it, goes for a
/// part of the body that moves by a quarter of the stature; further takes longer, within these bounds (common
/// practice, no source).
const USUAL_WAYS: [u32; 2] = [1500, 4000];
const USUAL_SHARE: f64 = 0.25;
/// A movement has come back where nothing is further than this from where it began, as a share of the stature; 2 cm of
/// 1.70 m, twice what skin gives (common practice, no source).
pub(super) const BACK: f64 = 0.012;
/// The body is let down where its centre of mass falls by more than this, metres: the tolerance of balance in settling.
const FALLS: f64 = 0.005;

/// Whether a hold is longer than the picture shows it.
pub fn is_cut(hold: Span) -> bool {
    LONGEST_STAY < hold.high().saturating_mul(1000)
}

/// What the pace depends on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Course {
    /// The instant of each key pose, rising.
    pub keys: Vec<usize>,
    /// Milliseconds from each key pose to the next where no tempo is typed.
    pub ways: Vec<u32>,
    /// The key pose that is held: the furthest, after which the way leads back.
    pub turn: usize,
    /// It ends where it began.
    pub is_round: bool,
    /// The way to the turn is the lowering of the tempo; else it is the lifting, which is also the way against a band.
    pub lowers_first: bool,
}

/// Milliseconds at instants of the figure. Where both ends are one instant, it stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Stretch {
    from: usize,
    to: usize,
    ms: u32,
    is_hold: bool,
}

/// What is to be seen at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    pub instant: usize,
    /// The hold of the dose is on.
    pub is_hold: bool,
}

/// The cycle of one movement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pace {
    stretches: Vec<Stretch>,
}

impl Course {
    /// The course of a movement that is shown in so many instants, evenly taken from its ways. None where there are
    /// no two of them.
    pub fn of(body: &Body, movement: &Movement, instants: usize) -> Option<Course> {
        let last = instants.checked_sub(1).filter(|last| 0 < *last)?;
        let (_, rest) = movement.keys.split_first()?;
        let lengths: Vec<usize> = movement.ways.iter().map(Vec::len).collect();
        let all = lengths.iter().sum::<usize>().checked_sub(1).filter(|all| 0 < *all)?;
        let mut keys = vec![0];
        let mut so_far = 0;
        for length in lengths.iter().take(rest.len()) {
            so_far += length;
            // The nearest instant; a way's last state and the next way's first are the same.
            keys.push(((so_far.min(all) * last * 2 + all) / (all * 2)).min(last));
        }
        let (turn, is_round) = turn(body, movement)?;
        let pairs = movement.keys.iter().zip(rest);
        let ways = pairs.map(|(from, to)| match to.seconds {
            Some(seconds) => milliseconds(seconds),
            None => usual(moved(body, &from.state, &to.state)),
        });
        Some(Course {
            keys,
            ways: ways.collect(),
            turn,
            is_round,
            lowers_first: lowers_first(body, movement)?,
        })
    }
}

/// The key pose after which the way leads back, by its index, and whether the movement ends where it began. None
/// where there are no two key poses.
pub(super) fn turn(body: &Body, movement: &Movement) -> Option<(usize, bool)> {
    let (first, rest) = movement.keys.split_first().filter(|(_, rest)| !rest.is_empty())?;
    let far: Vec<f64> = rest.iter().map(|key| moved(body, &first.state, &key.state)).collect();
    let is_round = 1 < far.len() && far.last().is_some_and(|d| *d < BACK);
    let furthest = far.iter().enumerate().max_by(|(_, a), (_, b)| a.total_cmp(b)).map_or(0, |(i, _)| i + 1);
    Some((if is_round { furthest } else { rest.len() }, is_round))
}

/// Whether the way out lets the body down, as a squat does; else it lifts, or goes against a band. None where nothing
/// moves.
pub fn lowers_first(body: &Body, movement: &Movement) -> Option<bool> {
    let (turn, _) = turn(body, movement)?;
    let (first, far) = (movement.keys.first()?, movement.keys.get(turn)?);
    Some(FALLS < first.centre_of_mass.y - far.centre_of_mass.y)
}

/// How far the part that moves most has gone, as a share of the stature.
fn moved(body: &Body, from: &State, to: &State) -> f64 {
    let (a, b) = (body.place(from), body.place(to));
    Skin::all().map(|skin| (b.skin(skin) - a.skin(skin)).norm()).fold(0.0, f64::max) / body.stature()
}

fn milliseconds(seconds: f64) -> u32 {
    ((seconds * 1000.0) as u32).clamp(QUICKEST_WAY, LONGEST_WAY)
}

fn usual(share: f64) -> u32 {
    let [least, most] = USUAL_WAYS;
    ((f64::from(MOVE) * 500.0 * share / USUAL_SHARE) as u32).clamp(least, most)
}

impl Pace {
    /// The cycle at this tempo and with this hold. None where the course has no way.
    pub fn new(course: &Course, tempo: Option<Tempo>, hold: Option<Span>) -> Option<Pace> {
        let there = course.keys.get(..=course.turn)?;
        let out = course.ways.get(..course.turn)?;
        let (back, home): (Vec<usize>, Vec<u32>) = if course.is_round {
            (course.keys.get(course.turn..)?.to_vec(), course.ways.get(course.turn..)?.to_vec())
        } else {
            (there.iter().rev().copied().collect(), out.iter().rev().copied().collect())
        };
        if out.is_empty() || home.is_empty() {
            return None;
        }
        let typed = tempo.map(|tempo| {
            let [lower, low, lift, top] = tempo.seconds().map(|s| u32::from(s) * 1000);
            // The way out, the stay at its end, the way back, the stay at the start.
            if course.lowers_first { [lower, low, lift, top] } else { [lift, top, lower, low] }
        });
        let (start, turn) = (*there.first()?, *there.last()?);
        let stay = |at, ms: u32| Stretch { from: at, to: at, ms: ms.min(LONGEST_STAY), is_hold: false };
        let hold = hold.map(|hold| Stretch { is_hold: true, ..stay(turn, hold.high().saturating_mul(1000)) });
        let usual = if hold.is_some() { 0 } else { STAY };
        let mut stretches = vec![stay(start, typed.map_or(STAY, |t| t[3]))];
        stretches.extend(ways(there, out, typed.map(|t| t[0])));
        stretches.push(stay(turn, typed.map_or(usual, |t| t[1])));
        stretches.extend(hold);
        stretches.extend(ways(&back, &home, typed.map(|t| t[2])));
        stretches.retain(|s| 0 < s.ms);
        Some(Pace { stretches })
    }

    /// Milliseconds of one cycle.
    pub fn cycle(&self) -> u32 {
        self.stretches.iter().map(|s| s.ms).fold(0, u32::saturating_add)
    }

    /// What is shown after so many milliseconds.
    pub fn at(&self, ms: u32) -> Shown {
        let Some((stretch, spent)) = self.stretch(ms) else { return Shown { instant: 0, is_hold: false } };
        let Stretch { from, to, ms, is_hold } = stretch;
        let steps = from.abs_diff(to);
        // The end of a way is shown for as long as each instant before it; its start belongs to what was before.
        let on = usize::try_from(u64::from(spent) * steps as u64 / u64::from(ms.max(1))).unwrap_or(0) + 1;
        let on = on.min(steps);
        Shown { instant: if from < to { from + on } else { from - on }, is_hold }
    }

    /// The same with nothing in between: each key pose until the next is reached.
    pub fn step_at(&self, ms: u32) -> Shown {
        let found = self.stretch(ms).map(|(s, _)| Shown { instant: s.from, is_hold: s.is_hold });
        found.unwrap_or(Shown { instant: 0, is_hold: false })
    }

    /// The stretch that is on, and how much of it is spent.
    fn stretch(&self, ms: u32) -> Option<(Stretch, u32)> {
        let mut left = ms % self.cycle().max(1);
        for stretch in &self.stretches {
            if left < stretch.ms {
                return Some((*stretch, left));
            }
            left -= stretch.ms;
        }
        None
    }
}

/// From key pose to key pose with a short stop at each between; all of it in `typed` milliseconds where a tempo says so.
fn ways(keys: &[usize], usual: &[u32], typed: Option<u32>) -> Vec<Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    for (pair, ms) in keys.windows(2).zip(usual) {
        let &[from, to] = pair else { continue };
        if !all.is_empty() {
            all.push(Stretch { from, to: from, ms: STOP, is_hold: false });
        }
        all.push(Stretch { from, to, ms: *ms, is_hold: false });
    }
    let whole: u64 = all.iter().map(|s| u64::from(s.ms)).sum();
    if let Some(typed) = typed.map(|ms| u64::from(ms.clamp(QUICKEST_WAY, LONGEST_WAY))) {
        for stretch in &mut all {
            stretch.ms = (u64::from(stretch.ms) * typed / whole.max(1)) as u32;
        }
    }
    all
}

#[cfg(test)]
mod tests;
