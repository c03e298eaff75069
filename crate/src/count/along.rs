//! The figure that goes along with the counter: down while it counts down, still while it holds.

use super::Moving;
use super::pace::{BACK, turn};
use super::timer::{Does, Phase, Timer};
use crate::body::{Body, Skin};
use crate::markup::Markup;
use crate::pose::movement::Movement;

/// Before a hold the figure begins to move so long ahead, milliseconds, so that it is there when the hold begins:
/// common practice, no source.
const AHEAD: u32 = 1500;

/// What the way out of a movement and its way back are called: `Down` and `Up` where what moves most goes so by more
/// than half of its way, else `Go` and `Back`.
pub fn ways(body: &Body, movement: &Movement) -> [&'static str; 2] {
    let ends =
        turn(body, movement).and_then(|(turn, _)| Some((movement.keys.first()?, movement.keys.get(turn)?)));
    let Some((from, to)) = ends else { return ["Go", "Back"] };
    let (a, b) = (body.place(&from.state), body.place(&to.state));
    let steps = Skin::all().map(|skin| b.skin(skin) - a.skin(skin));
    let Some(most) = steps.max_by(|x, y| x.norm().total_cmp(&y.norm())) else { return ["Go", "Back"] };
    if most.norm() < BACK * body.stature() || most.y.abs() * 2.0 < most.norm() {
        ["Go", "Back"]
    } else if most.y < 0.0 {
        ["Down", "Up"]
    } else {
        ["Up", "Down"]
    }
}

impl Moving {
    /// The picture at the counter's moment. None where the phase has no pace of its own: then it goes by
    /// [`Moving::at`]. `still`: where each phase leads to, nothing in between.
    pub fn along(&self, timer: &Timer, still: bool) -> Option<&Markup> {
        let phase = timer.phase()?;
        let whole = phase.seconds.saturating_mul(1000).max(1);
        let spent = if still { whole } else { timer.spent().min(whole) };
        let share = f64::from(spent) / f64::from(whole);
        // How far on the way out, 0 to 1; or how far on the way back.
        let (out, way) = match phase.does {
            Does::Lower | Does::Lift => (self.is_out(phase), share),
            Does::Still => (timer.before().is_some_and(|before| self.is_out(before)), 1.0),
            Does::Hold => (true, 1.0),
            Does::LetGo if share < 0.5 => (false, share * 2.0),
            Does::LetGo => (true, share * 2.0 - 1.0),
            Does::Ready | Does::Rest | Does::ChangeSides => {
                let holds = timer.next().is_some_and(|next| next.does == Does::Hold);
                let ahead = f64::from(AHEAD.saturating_sub(whole - spent)) / f64::from(AHEAD);
                (true, if holds && !still { ahead } else { 0.0 })
            }
            Does::Work(_) | Does::OwnPace => return None,
        };
        self.instants.get(self.instant(out, way))
    }

    /// Whether a phase leads from the start to where the movement turns.
    fn is_out(&self, phase: &Phase) -> bool {
        (phase.does == Does::Lower) == self.course.lowers_first
    }

    fn instant(&self, out: bool, way: f64) -> usize {
        let course = &self.course;
        let at = |key: Option<&usize>| key.map_or(0.0, |instant| *instant as f64);
        let (start, far) = (at(course.keys.first()), at(course.keys.get(course.turn)));
        let home = if course.is_round { at(course.keys.last()) } else { start };
        let (from, to) = if out { (start, far) } else { (far, home) };
        (from + (to - from) * way.clamp(0.0, 1.0) + 0.5) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::names::Side;
    use crate::body::range::Limits;
    use crate::catalog::Catalog;
    use crate::figure::Look;
    use crate::pose::settle;
    use crate::programme::{Ask, assemble, settled::Cache};

    #[test]
    fn the_words_of_the_ways_are_what_is_seen() {
        let body = Body::usual();
        let all = Catalog::embedded().exercises().iter().filter(|e| 1 < e.poses.len());
        let told: Vec<[&str; 2]> = all
            .map(|e| ways(&body, &settle::exercise(&body, &e.poses, Side::Right, &Limits::none())))
            .collect();
        for wanted in [["Go", "Back"], ["Down", "Up"], ["Up", "Down"]] {
            assert!(told.contains(&wanted), "{wanted:?}");
        }
    }

    /// Over a whole count the figure is at the turn in every hold, and at the start in every rest.
    #[test]
    fn the_figure_is_where_the_count_is() {
        for text in ["bridge: 2 x 2, hold 5 s, rest 20 s, daily", "bridge: 1 x 2, tempo 3-1-2-1, daily"] {
            let (prescription, _) = crate::prescription::read(text);
            let programme =
                assemble::at(&prescription, Catalog::embedded(), &Ask::today(None), &mut Cache::default());
            let e = &programme.exercises[0];
            let moving =
                Moving::of(&programme.body, &e.drawn[0].movement, &Look::default()).expect("it moves");
            let mut timer = Timer::of(&programme.body, e).expect("a timer");
            let (first, far) =
                (&moving.instants[0], &moving.instants[moving.course.keys[moving.course.turn]]);
            let mut seen = std::collections::BTreeSet::new();
            while let Some(phase) = timer.phase().cloned() {
                let picture = moving.along(&timer, false).expect("a picture");
                seen.insert(picture.as_str().to_string());
                match phase.does {
                    Does::Hold => assert_eq!(picture, far, "{text}"),
                    Does::Rest | Does::Ready if AHEAD + 1000 < timer.left() * 1000 => {
                        assert_eq!(picture, first, "{text}")
                    }
                    _ => {}
                }
                timer.pass(100);
            }
            assert_eq!(seen.len(), moving.instants.len(), "every instant is shown: {text}");
        }
    }
}
