//! What can be pressed, and what comes of it.

use super::view::View;
use super::{Effect, Gone, Home, Keeping, Opening};
use crate::count::timer::{Sign, Timer};
use crate::diary::{Number, Score, When, WhyNot};
use crate::handout::{Paper, Print};
use crate::measure::Date;

/// What a button asks for, in words: `tick 2026-12-01 morning 3 yes`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Act {
    Go(View),
    Tick {
        day: Date,
        when: When,
        exercise: Number,
        done: bool,
    },
    /// Every exercise due in that part of the day.
    All {
        day: Date,
        when: When,
        done: bool,
    },
    Pain {
        day: Date,
        when: When,
        score: Option<Score>,
    },
    Settled {
        day: Date,
        when: When,
        settled: Option<bool>,
    },
    Why {
        day: Date,
        when: When,
        why_not: Option<WhyNot>,
    },
    Start,
    Pause,
    Resume,
    Skip,
    Stop,
    /// The figure moves, or stands still.
    Move(bool),
    Sound(bool),
    Buzz(bool),
    Paper(Paper),
    Large(bool),
    Print,
    Keep,
    Forget,
    ForgetNot,
    ForgetReally,
    Show(String),
    UseNew,
    UseKept,
    Renew,
    Paste,
    Unseal,
}

impl Act {
    pub fn named(words: &str) -> Option<Act> {
        let list: Vec<&str> = words.split(' ').collect();
        let yes = |word: &str| match word {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        };
        Some(match list.as_slice() {
            ["go", ..] => Act::Go(View::named(words.strip_prefix("go ")?)?),
            ["tick", day, when, number, done] => Act::Tick {
                day: Date::iso(day)?,
                when: When::named(when)?,
                exercise: number.parse().ok().and_then(Number::new)?,
                done: yes(done)?,
            },
            ["all", day, when, done] => {
                Act::All { day: Date::iso(day)?, when: When::named(when)?, done: yes(done)? }
            }
            ["pain", day, when, score] => Act::Pain {
                day: Date::iso(day)?,
                when: When::named(when)?,
                score: if *score == "none" { None } else { Some(score.parse().ok().and_then(Score::new)?) },
            },
            ["settled", day, when, value] => Act::Settled {
                day: Date::iso(day)?,
                when: When::named(when)?,
                settled: if *value == "none" { None } else { Some(yes(value)?) },
            },
            ["why", day, when, why] => Act::Why {
                day: Date::iso(day)?,
                when: When::named(when)?,
                why_not: if *why == "none" { None } else { Some(WhyNot::named(why)?) },
            },
            ["timer", "start"] => Act::Start,
            ["timer", "pause"] => Act::Pause,
            ["timer", "resume"] => Act::Resume,
            ["timer", "skip"] => Act::Skip,
            ["timer", "stop"] => Act::Stop,
            ["move", on] => Act::Move(yes(on)?),
            ["sound", on] => Act::Sound(yes(on)?),
            ["buzz", on] => Act::Buzz(yes(on)?),
            ["large", on] => Act::Large(yes(on)?),
            ["paper", "a4"] => Act::Paper(Paper::A4),
            ["paper", "letter"] => Act::Paper(Paper::Letter),
            ["print"] => Act::Print,
            ["keep"] => Act::Keep,
            ["forget"] => Act::Forget,
            ["forget", "no"] => Act::ForgetNot,
            ["forget", "yes"] => Act::ForgetReally,
            ["show", key] => Act::Show((*key).to_string()),
            ["use", "new"] => Act::UseNew,
            ["use", "kept"] => Act::UseKept,
            ["renew"] => Act::Renew,
            ["paste"] => Act::Paste,
            ["unseal"] => Act::Unseal,
            _ => return None,
        })
    }
}

impl Home {
    /// Does what was pressed, and says what is left to the door.
    pub fn act(&mut self, act: Act) -> Vec<Effect> {
        self.told.clear();
        match act {
            Act::Go(view) => return self.go(view),
            Act::Tick { .. } | Act::All { .. } | Act::Pain { .. } | Act::Settled { .. } | Act::Why { .. } => {
                return self.note(act);
            }
            Act::Start => {
                // Two rhythms at once would be one too many.
                self.moves = None;
                self.timer = self.exercise_at_hand();
                self.told = if self.timer.is_some() { "Get ready.".into() } else { String::new() };
            }
            Act::Pause => self.run(false, "Paused."),
            Act::Resume => self.run(true, "Going on."),
            Act::Skip => {
                let sign = self.timer.as_mut().and_then(Timer::go_on);
                if sign == Some(Sign::Finish) {
                    self.finished();
                }
            }
            Act::Stop => self.timer = None,
            Act::Move(on) => {
                self.moves = on.then_some(0);
                self.told = match (on, self.around.still) {
                    (true, false) => "The picture moves.".into(),
                    (true, true) => "The picture shows one step at a time.".into(),
                    (false, _) => "The picture stands still.".into(),
                };
            }
            Act::Sound(on) => {
                self.switches.sound = on;
                self.told = format!("Sound is {}.", if on { "on" } else { "off" });
                return vec![Effect::Switches];
            }
            Act::Buzz(on) => {
                self.switches.buzz = on;
                self.told = format!("Buzzing is {}.", if on { "on" } else { "off" });
                return vec![Effect::Switches];
            }
            Act::Paper(paper) => self.paper = paper,
            Act::Large(on) => self.print = if on { Print::Large } else { Print::Normal },
            Act::Print => return vec![Effect::Print],
            Act::Keep => {
                self.keeping = Keeping::Kept;
                return vec![Effect::Keep];
            }
            Act::Forget => self.forgetting = true,
            Act::ForgetNot => self.forgetting = false,
            Act::ForgetReally => {
                self.put_away(Gone::Forgotten);
                return vec![Effect::Forget, Effect::Moved];
            }
            Act::Show(key) => return vec![Effect::Show(key), Effect::Moved],
            Act::UseNew => {
                if let Opening::Which(shared) = std::mem::replace(&mut self.opening, Opening::Open) {
                    return vec![Effect::Use(shared), Effect::Moved];
                }
            }
            Act::UseKept => {
                self.opening = Opening::Open;
                return vec![Effect::Moved];
            }
            Act::Renew => {
                self.told = "Asking for the newest page.".into();
                return vec![Effect::Renew];
            }
            Act::Paste => return vec![Effect::Paste],
            Act::Unseal => return vec![Effect::Unseal],
        }
        Vec::new()
    }

    /// Lets time pass for the timer, and says what there is to hear.
    pub fn pass(&mut self, ms: u32) -> Vec<Sign> {
        self.moves = self.moves.map(|so_far| so_far.wrapping_add(ms));
        let signs = self.timer.as_mut().map(|timer| timer.pass(ms)).unwrap_or_default();
        if signs.contains(&Sign::Finish) {
            self.finished();
        } else if signs.iter().any(|s| matches!(s, Sign::Begin | Sign::Ease))
            && let Some(phase) = self.timer.as_ref().and_then(Timer::phase)
        {
            self.told = super::exercise::doing(phase);
        }
        signs
    }

    /// The page is out of sight: nothing moves there, nor when it comes back. What is counted goes on.
    pub fn out_of_sight(&mut self) {
        self.moves = None;
    }

    fn finished(&mut self) {
        self.timer = None;
        self.told = "That is all of it. Tick it off when you are happy.".into();
    }

    /// Another view. A timer belongs to the exercise that it was started for.
    pub fn go(&mut self, view: View) -> Vec<Effect> {
        if view != self.view {
            self.timer = None;
            self.moves = None;
        }
        self.view = view;
        self.forgetting = false;
        vec![Effect::Moved]
    }

    fn run(&mut self, running: bool, words: &str) {
        if let Some(timer) = &mut self.timer {
            timer.running = running;
            self.told = words.into();
        }
    }

    /// A timer for the exercise that is on view.
    fn exercise_at_hand(&mut self) -> Option<Timer> {
        let (View::Do { when, at }, Some(today)) = (self.view, self.today) else { return None };
        let plan = self.plan.as_mut()?;
        let index = plan.list(today, when).get(at).copied()?;
        let programme = plan.programme(today);
        programme.exercises.get(index).and_then(|e| Timer::of(&programme.body, e))
    }

    fn note(&mut self, act: Act) -> Vec<Effect> {
        let (Some(today), Some(plan)) = (self.today, self.plan.as_mut()) else { return Vec::new() };
        let noted = match act {
            Act::Tick { day, when, exercise, done } => {
                self.told = if done { "Ticked.".into() } else { "Tick taken back.".into() };
                plan.diary.tick(day, when, exercise, done, today)
            }
            Act::All { day, when, done } => {
                self.told = if done { "All ticked.".into() } else { "Ticks taken back.".into() };
                let due: Vec<Number> = plan.list(day, when).into_iter().filter_map(Number::at).collect();
                due.into_iter().try_for_each(|n| plan.diary.tick(day, when, n, done, today))
            }
            Act::Pain { day, when, score } => {
                self.told = score.map_or(String::new(), |s| format!("Pain {} noted.", s.get()));
                plan.diary.score(day, when, score, today)
            }
            Act::Settled { day, when, settled } => {
                self.told = "Noted.".into();
                plan.diary.settle(day, when, settled, today)
            }
            Act::Why { day, when, why_not } => {
                self.told = "Noted.".into();
                plan.diary.excuse(day, when, why_not, today)
            }
            _ => return Vec::new(),
        };
        if noted.is_err() {
            self.told = "That day is still to come.".into();
            return Vec::new();
        }
        vec![Effect::Diary]
    }
}
