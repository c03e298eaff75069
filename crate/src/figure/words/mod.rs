//! The picture in words, from the same settled angles: how to take the position, what to do, where to stop, the way
//! back. Spoken to the patient, one action a sentence, so that the exercise can be done without seeing the picture.
//!
//! What differs from the posture's usual form is told, and what cannot be left out to copy it; a movement of the whole
//! body tells the limbs that go with it. Lines carry how much they would be missed, and where there are too many the
//! least needed go.

mod arms;
mod body;
mod english;
mod kit;
mod legs;
mod limit;
mod reach;
mod room;
mod seen;
mod start;
mod stay;
mod trunk;
mod upright;

use super::compose::frames_of;
use super::{Look, view};
use crate::body::Body;
use crate::pose::movement::Movement;
use english::{Line, Need, must, sentence, with_articles};
use seen::{Seen, Step};

/// More than this a listener does not keep in mind; common practice, no source.
const ENOUGH: usize = 9;
/// More than this is never said, whatever is lost.
const MOST: usize = 12;

/// As a picture's title no more than a listener wants to hear at once, letters; common practice, no source.
const TITLE: usize = 200;

/// What is said of a figure.
pub(super) struct Words {
    pub all: Vec<String>,
    /// The position and what is done, as much of it as `TITLE` holds.
    pub title: String,
}

pub(super) fn describe(body: &Body, movement: &Movement, look: &Look) -> Words {
    let placed = view::place_keys(body, movement);
    let frames = frames_of(movement, &placed);
    let seen = |k: &usize| Some(Seen::new(movement.keys.get(*k)?, placed.get(*k)?));
    let Some(first) = frames.first().and_then(seen) else {
        let nothing = "There is nothing to draw yet.".to_string();
        return Words { all: vec![nothing.clone()], title: nothing };
    };
    let mut lines = start::taken(movement, &first);
    let starts = lines.len();
    let mut back = None;
    for (step, pair) in frames.windows(2).enumerate() {
        let [a, b] = pair else { continue };
        let (Some(a), Some(b)) = (seen(a), seen(b)) else { continue };
        let (turns, begins) = (a.posture != b.posture, a.posture == first.posture);
        let mut done = body::done(&Step { a, b, side: movement.side });
        if 0 < step
            && let Some(first) = done.lines.first_mut()
        {
            first.text = format!("then {}", first.text);
            first.need = Need::Must;
        }
        lines.append(&mut done.lines);
        // After several steps only a new posture has a way back of its own.
        back = if step == 0 || turns && begins { done.back } else { None };
    }
    if frames.len() == 1 {
        lines.append(&mut stay::efforts(first.key, movement.side));
    }
    if let Some(last) = frames.last().and_then(seen) {
        lines.append(&mut limit::stops(movement, &first, &last, look));
        if 1 < frames.len() && !is_where_it_began(&first, &last) {
            lines.push(must(back.unwrap_or_else(|| "go back slowly to the start".to_string())));
        }
    }
    let missing = kit::unsaid(movement, &first, &lines);
    let starts = starts + missing.len();
    lines.splice(1.min(lines.len())..1.min(lines.len()), missing);
    let mut told: Vec<(bool, Line)> = lines.into_iter().enumerate().map(|(i, l)| (i < starts, l)).collect();
    trim(&mut told);
    Words { all: written(&told), title: title(told) }
}

/// The position, the first thing done, and of the rest what is needed most, in the order of the whole.
fn title(mut told: Vec<(bool, Line)>) -> String {
    let long = |told: &[(bool, Line)]| TITLE < written(told).join(" ").len();
    while long(&told) {
        let act = told.iter().position(|(start, l)| !start && l.need == Need::Must);
        // The start goes before the action, its end before its beginning.
        let least = (1..told.len())
            .rev()
            .filter(|i| Some(*i) != act)
            .min_by_key(|i| told.get(*i).map_or((Need::Must, false), |(start, l)| (l.need, !start)));
        let Some(at) = least else { break };
        told.remove(at);
    }
    written(&told).join(" ")
}

/// Whether the last pose is the first again, be it at another place, as after a step aside.
fn is_where_it_began(first: &Seen, last: &Seen) -> bool {
    let near = |a: &f64, b: &f64| (a - b).abs() < crate::measure::radians(4.0);
    let (a, b) = (&first.key.state.angles, &last.key.state.angles);
    a.iter().zip(b).all(|(a, b)| near(a, b))
}

/// What is said twice goes, and where there is too much the least needed.
fn trim(told: &mut Vec<(bool, Line)>) {
    let mut seen = std::collections::BTreeSet::new();
    told.retain(|(_, l)| !l.text.trim().is_empty() && seen.insert(l.text.clone()));
    for (most, need) in [(ENOUGH, Need::Detail), (ENOUGH + 1, Need::Useful), (MOST, Need::Must)] {
        while most < told.len() {
            // The way back is last and stays, and so does the position.
            let last = told.len() - 1;
            let Some(at) = (1..last).rev().find(|i| told.get(*i).is_some_and(|(_, l)| l.need == need)) else {
                break;
            };
            told.remove(at);
        }
    }
}

fn written(told: &[(bool, Line)]) -> Vec<String> {
    with_articles(told.iter().map(|(_, l)| l.text.clone()).collect()).iter().map(|t| sentence(t)).collect()
}
