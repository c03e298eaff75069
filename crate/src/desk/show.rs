//! One exercise, large: for a screen that is shared, and to rehearse with the count. What a patient may see in a room
//! with others: name, side, dose, figure and cues of the exercise. Nothing of who it is for, why, or since when.

mod view;

use super::{Desk, Slot};
use crate::count::Moving;
use crate::count::along::ways;
use crate::count::timer::{Does, Phase, Sign, Timer};
use crate::figure::Look;
use crate::handout::known::Known;
use crate::handout::{self, dose};
use crate::programme::{Drawn, Exercise, Programme};
use std::sync::Arc;
use view::{bar, bare, called, clock, name, picture, slot};

/// Longer phases are not counted second by second aloud: common practice, no source.
const COUNTED: u32 = 10;

/// The view between two keys.
#[derive(Clone, Debug, Default)]
pub struct Show {
    /// Index of the exercise.
    pub at: usize,
    /// The reader wants as little movement as can be.
    pub still: bool,
    /// It is counted aloud. Off until the clinician asks for it.
    pub aloud: bool,
    /// For how long the figure has been moving, milliseconds; None: it stands still.
    pub moves: Option<u32>,
    timer: Option<Timer>,
    moving: Known<Option<Arc<Moving>>>,
    /// One sentence on what was just done.
    told: String,
}

/// What there is to hear after some time has passed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Heard {
    pub signs: Vec<Sign>,
    /// A word or a number to say.
    pub word: Option<String>,
}

impl Show {
    /// Of the exercise at this index. The figure moves at once, since it was asked to be seen; not where the reader
    /// wants little of it.
    pub fn new(at: usize, still: bool, aloud: bool) -> Show {
        Show { at, still, aloud, moves: (!still).then_some(0), ..Show::default() }
    }

    pub fn is_counting(&self) -> bool {
        self.timer.as_ref().is_some_and(|timer| timer.running)
    }

    /// Whether anything changes with time.
    pub fn is_live(&self) -> bool {
        self.moves.is_some() || self.is_counting()
    }

    fn turn_to(&mut self, at: usize) {
        let moving = std::mem::take(&mut self.moving);
        *self = Show { moving, ..Show::new(at, self.still, self.aloud) };
    }

    /// The figure moves, or stands still.
    pub fn move_or_stop(&mut self) {
        self.moves = if self.moves.is_some() { None } else { Some(0) };
        self.told =
            if self.moves.is_some() { "The picture moves." } else { "The picture stands still." }.into();
    }

    pub fn aloud_or_not(&mut self) {
        self.aloud = !self.aloud;
        self.told = if self.aloud { "It is counted aloud." } else { "It is counted in silence." }.into();
    }

    /// Goes on to the next phase: for a set at one's own pace.
    pub fn skip(&mut self) -> Option<Sign> {
        let sign = self.timer.as_mut().and_then(Timer::go_on);
        self.heed(sign == Some(Sign::Finish));
        sign
    }

    fn heed(&mut self, is_done: bool) {
        if is_done {
            self.timer = None;
            self.told = "That is all of it.".into();
        }
    }
}

impl Desk {
    fn exercises(&self) -> &[Exercise] {
        self.programme.as_ref().map_or(&[], |programme| &programme.exercises)
    }

    /// Whether there is an exercise of that index to show.
    pub fn can_show(&self, at: usize) -> bool {
        at < self.exercises().len()
    }

    /// The index of the exercise that a line of the text belongs to, else of the first.
    pub fn exercise_of(&self, line: usize) -> usize {
        self.exercises().iter().rposition(|e| e.line <= line).unwrap_or(0)
    }

    /// The next exercise, or the one before; at either end it stays.
    pub fn show_beside(&self, show: &mut Show, back: bool) {
        let at = if back { show.at.checked_sub(1) } else { Some(show.at + 1) };
        if let Some(e) = at.and_then(|at| self.exercises().get(at)) {
            show.turn_to(at.unwrap_or(0));
            show.told = called(e);
        }
    }

    /// Starts to count, or stops.
    pub fn count_or_stop(&self, show: &mut Show) {
        let found = self.programme.as_ref().and_then(|p| Some((p, p.exercises.get(show.at)?)));
        show.told = if show.timer.take().is_some() {
            "The count has stopped.".into()
        } else {
            show.timer = found.and_then(|(p, e)| Timer::of(&p.body, e));
            if show.timer.is_some() { "Get ready." } else { "There is nothing to count here." }.into()
        };
    }

    /// Lets time pass, milliseconds.
    pub fn show_for(&self, show: &mut Show, ms: u32) -> Heard {
        show.moves = show.moves.map(|so_far| so_far.wrapping_add(ms));
        let Some(timer) = &mut show.timer else { return Heard::default() };
        let before = timer.left();
        let signs = timer.pass(ms);
        let is_new = signs.iter().any(|sign| *sign != Sign::Soon);
        let (phase, left) = (timer.phase().cloned(), timer.left());
        let word = match phase {
            None => Some("Done".into()),
            Some(phase) if is_new => Some(self.said(show.at, timer, &phase)),
            Some(phase) if left < before => number(&phase, left),
            Some(_) => None,
        };
        show.heed(signs.contains(&Sign::Finish));
        Heard { signs, word }
    }

    /// The word that a phase begins with.
    fn said(&self, at: usize, timer: &Timer, phase: &Phase) -> String {
        let programme = self.programme.as_ref();
        let movement = self.exercises().get(at).and_then(|e| e.drawn.first()).map(|drawn| &drawn.movement);
        let ways = programme
            .zip(movement)
            .map(|(p, m)| (ways(&p.body, m), crate::count::pace::lowers_first(&p.body, m)));
        let ([out, back], lowers_first) = ways.unwrap_or((["Down", "Up"], Some(true)));
        let lowers_first = lowers_first.unwrap_or(true);
        match &phase.does {
            Does::Ready => "Get ready",
            // Back where it began.
            Does::Still if timer.before().is_none_or(|b| (b.does == Does::Lower) != lowers_first) => "Rest",
            Does::Hold | Does::Still => "Hold",
            Does::LetGo => "Let go",
            Does::Work(_) | Does::OwnPace => "Go",
            Does::Lower => {
                if lowers_first {
                    out
                } else {
                    back
                }
            }
            Does::Lift => {
                if lowers_first {
                    back
                } else {
                    out
                }
            }
            Does::Rest => "Rest",
            Does::ChangeSides => "Change sides",
        }
        .into()
    }

    /// The view as it should stand now.
    pub fn shown(&self, show: &mut Show) -> Vec<Slot> {
        let Some((programme, e)) = self.programme.as_ref().and_then(|p| Some((p, p.exercises.get(show.at)?)))
        else {
            return Vec::new();
        };
        let phase = show.timer.as_ref().and_then(Timer::phase).cloned();
        let drawn = e.drawn.get(phase.as_ref().map_or(0, |p| p.side)).or(e.drawn.first());
        let moving = drawn.and_then(|drawn| show.moving(programme, drawn));
        let mut all = vec![slot("of", |w| {
            w.element("p", &format!("{} of {}", show.at + 1, programme.exercises.len()));
        })];
        all.push(slot("name", |w| name(w, e, phase.as_ref())));
        if let Some(drawn) = drawn {
            all.push(slot("picture", |w| picture(w, show, programme, e, drawn, moving.as_deref())));
        }
        all.push(slot("doses", |w| {
            dose::work(e).iter().for_each(|line| handout::line(w, "dose", line));
            dose::extras(&bare(e)).iter().for_each(|words| {
                w.element("p", words);
            });
        }));
        if let (Some(phase), Some(timer)) = (&phase, &show.timer) {
            all.push(slot("clock", |w| clock(w, &self.said(show.at, timer, phase), timer, phase)));
        }
        if !e.words.cues.is_empty() {
            all.push(slot("cues", |w| {
                w.open("ul");
                e.words.cues.iter().for_each(|cue| {
                    w.open("li").attr("dir", "auto").text(cue).close();
                });
                w.close();
            }));
        }
        let can_count = Timer::of(&programme.body, e).is_some();
        let is_last = show.at + 1 == programme.exercises.len();
        all.push(slot("bar", |w| bar(w, show, can_count, moving.is_some(), phase.as_ref(), is_last)));
        all.push(slot("told", |w| {
            w.open("p").attr("class", "unseen").attr("role", "status").text(&show.told).close();
        }));
        all
    }
}

impl Show {
    fn moving(&mut self, programme: &Programme, drawn: &Drawn) -> Option<Arc<Moving>> {
        if let Some(known) = self.moving.find(&drawn.movement, None) {
            return known.clone();
        }
        let made = Moving::of(&programme.body, &drawn.movement, &Look::default()).map(Arc::new);
        self.moving.keep(&drawn.movement, None, made.clone());
        made
    }
}

/// A second that is counted: up in a short phase, the last three down in a long one.
fn number(phase: &Phase, left: u32) -> Option<String> {
    let second = phase.seconds.saturating_sub(left) + 1;
    let is_work = !matches!(phase.does, Does::Rest | Does::Ready | Does::ChangeSides | Does::LetGo);
    if is_work && phase.seconds <= COUNTED {
        Some(second.to_string())
    } else {
        (1..=3).contains(&left).then(|| left.to_string())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Ask, Desk};
    use super::*;
    use std::collections::BTreeSet;

    const TEXT: &str = "# Secret title
by: M. Adeyemi, 01632 960 417
patient: Quentin Zeller, 61
start: 2026-11-30
aim: private wish
surgery: 2026-11-02, right meniscus repair
limit: right knee flexion 0-60
avoid: private kneeling
caution: raised blood pressure
finding: private finding
// private remark
## Private heading
heel slide, right: 2 x 2, tempo 3-1-2-0, daily
  why: so private you
  note: private note
  // private line
calf stretch, both: 2 x 5 s, rest 4 s, daily
sit to stand: 2 x 10, rest 30 s, 3/week, pain <= 3, with private words
bad day: private day
";

    fn desk() -> Desk {
        let mut desk = Desk::default();
        let ask = Ask { today: crate::measure::Date::iso("2026-12-01"), ..Ask::of(TEXT) };
        desk.answer(&ask);
        desk
    }

    fn html(desk: &Desk, show: &mut Show) -> String {
        desk.shown(show).into_iter().map(|slot| slot.html).collect()
    }

    #[test]
    fn nothing_of_the_patient_is_shown() {
        let desk = desk();
        for at in 0..3 {
            for counts in [false, true] {
                let mut show = Show::new(at, false, true);
                if counts {
                    desk.count_or_stop(&mut show);
                    desk.show_for(&mut show, 7000);
                }
                let all = html(&desk, &mut show).to_lowercase();
                assert!(all.contains("<svg") && all.contains("class=\"dose\""), "{at}");
                for private in [
                    "secret", "private", "quentin", "zeller", "adeyemi", "01632", "2026", "dec", "nov",
                    "meniscus", "pressure", "60°", "limit", "week", "pain up",
                ] {
                    assert!(!all.contains(private), "{private} is in {all}");
                }
            }
        }
        assert!(html(&desk, &mut Show::new(0, true, false)).contains(">RIGHT<"));
    }

    #[test]
    fn next_and_back_stay_within_the_list() {
        let desk = desk();
        let mut show = Show::new(desk.exercise_of(1), false, false);
        let mut seen = Vec::new();
        for back in [true, false, false, false, true] {
            desk.show_beside(&mut show, back);
            seen.push(show.at);
        }
        assert_eq!(seen, [0, 1, 2, 2, 1]);
        assert!(desk.can_show(2) && !desk.can_show(3));
        assert_eq!([desk.exercise_of(13), desk.exercise_of(15), desk.exercise_of(17)], [0, 0, 1]);
        let nothing = Desk::default();
        desk.count_or_stop(&mut show);
        nothing.show_beside(&mut show, false);
        nothing.count_or_stop(&mut show);
        assert_eq!(nothing.shown(&mut show), []);
    }

    /// What is heard, second by second.
    fn heard(desk: &Desk, at: usize, seconds: u32) -> String {
        let mut show = Show::new(at, false, true);
        desk.count_or_stop(&mut show);
        let mut words = Vec::new();
        for _ in 0..seconds * 4 {
            words.extend(desk.show_for(&mut show, 250).word);
        }
        words.join(" ")
    }

    #[test]
    fn the_tempo_is_counted_aloud() {
        let desk = desk();
        // The knee goes up in 2 s, is held for the catalog's 5 s, comes down in 3 s and rests for one.
        let once = "Up 2 Hold 2 3 4 5 Down 2 3 Rest";
        assert_eq!(heard(&desk, 0, 30), format!("3 2 1 {once} {once} Rest"));
        assert_eq!(
            heard(&desk, 1, 60),
            "3 2 1 Hold 2 3 4 5 Let go 3 2 1 Hold 2 3 4 5 Change sides 3 2 1 Hold 2 3 4 5 Let go 3 2 1 Hold 2 3 4 5 Done"
        );
        // At one's own pace it waits to be told.
        let mut show = Show::new(2, false, true);
        desk.count_or_stop(&mut show);
        desk.show_for(&mut show, 60_000);
        assert!(html(&desk, &mut show).contains("at your own pace"));
        assert_eq!(show.skip(), Some(Sign::Ease));
        assert!(html(&desk, &mut show).contains("Set 2 of 2"));
        desk.show_for(&mut show, 60_000);
        assert_eq!(show.skip(), Some(Sign::Finish));
        assert!(!show.is_counting() && html(&desk, &mut show).contains("That is all of it."));
    }

    #[test]
    fn where_little_motion_is_wanted_nothing_moves_unasked() {
        let desk = desk();
        let mut show = Show::new(0, true, false);
        assert!(!show.is_live());
        let before = html(&desk, &mut show);
        desk.show_for(&mut show, 4000);
        assert_eq!(html(&desk, &mut show), before);
        show.move_or_stop();
        let mut seen = BTreeSet::new();
        for _ in 0..100 {
            desk.show_for(&mut show, 100);
            seen.extend(desk.shown(&mut show).into_iter().filter(|s| s.key == "picture").map(|s| s.html));
        }
        assert_eq!(seen.len(), 2, "key pose after key pose");
    }
}
