//! What can be pressed, and what comes of it.

use super::plan::Plan;
use super::today::WORST;
use super::view::View;
use super::{Effect, Gone, Home, Keeping, Opening};
use super::{answer, wrong};
use crate::count::timer::{Sign, Timer};
use crate::diary::{Asked, Met, NotYet, Number, Score, Urgency, When, WhyNot};
use crate::handout::{Paper, Print, safety};
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
    /// A sign to stop, by its place among those of its urgency.
    Sign {
        day: Date,
        when: When,
        urgency: Urgency,
        index: usize,
    },
    /// Somebody was called: the patient may go on.
    Cleared {
        day: Date,
        when: When,
    },
    /// The sign was pressed by mistake.
    NoSign {
        day: Date,
        when: When,
    },
    /// An exercise is stopped for the day.
    Leave {
        day: Date,
        when: When,
        exercise: Number,
        why: Leave,
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

/// Why an exercise is stopped for the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leave {
    /// More pain than is okay.
    Pain,
    /// One of its own signs to stop, by its place among them.
    Sign(usize),
    /// It is not: that was pressed by mistake.
    Not,
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
            ["sign", day, when, "clear"] => Act::Cleared { day: Date::iso(day)?, when: When::named(when)? },
            ["sign", day, when, "none"] => Act::NoSign { day: Date::iso(day)?, when: When::named(when)? },
            ["sign", day, when, urgency, index] => Act::Sign {
                day: Date::iso(day)?,
                when: When::named(when)?,
                urgency: Urgency::named(urgency)?,
                index: index.parse().ok()?,
            },
            ["leave", day, when, number, why] => Act::Leave {
                day: Date::iso(day)?,
                when: When::named(when)?,
                exercise: number.parse().ok().and_then(Number::new)?,
                why: match *why {
                    "pain" => Leave::Pain,
                    "none" => Leave::Not,
                    index => Leave::Sign(index.parse().ok()?),
                },
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
            // Said among the signs, it is answered on Today.
            Act::Settled { settled: Some(false), .. } if matches!(self.view, View::Wrong { .. }) => {
                let mut effects = self.note(act);
                if !effects.is_empty() {
                    self.view = View::Today;
                    effects.push(Effect::Moved);
                }
                return effects;
            }
            Act::Tick { .. } | Act::All { .. } | Act::Pain { .. } | Act::Settled { .. } | Act::Why { .. } => {
                return self.note(act);
            }
            Act::Sign { .. } | Act::Cleared { .. } | Act::NoSign { .. } | Act::Leave { .. } => {
                return self.sign(act);
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
        self.told = "The count is over. Tick it if you did it.".into();
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
                let asked = Asked::of(plan.programme(day).ask.as_deref());
                self.told = match done {
                    true if asked.pain && when != When::AllDay => format!("All ticked. {WORST}"),
                    true => "All ticked.".into(),
                    false => "Ticks taken back.".into(),
                };
                let due: Vec<Number> = plan.list(day, when).into_iter().filter_map(Number::at).collect();
                due.into_iter().try_for_each(|n| plan.diary.tick(day, when, n, done, today))
            }
            Act::Pain { day, when, score } => {
                let noted = plan.diary.score(day, when, score, today);
                let reply = answer::of_pain(plan, today, day, when);
                let okay = || score.map_or(String::new(), |s| format!("Pain {} noted.", s.get()));
                self.told = reply.map_or_else(okay, |reply| reply.told());
                noted
            }
            Act::Settled { day, when, settled } => {
                let noted = plan.diary.settle(day, when, settled, today);
                let reply = answer::of_settled(plan, today, day, when);
                self.told = reply.map_or("Noted.".into(), |reply| reply.told());
                noted
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

    /// Notes a sign to stop, or what became of it, and shows what to do.
    fn sign(&mut self, act: Act) -> Vec<Effect> {
        let (Some(today), Some(plan)) = (self.today, self.plan.as_mut()) else { return Vec::new() };
        let programme = plan.programme(today);
        let (noted, view) = match act {
            Act::Sign { day, when, urgency, index } => {
                let signs = safety::signs(&programme);
                let Some(sign) = wrong::of(&signs, urgency).nth(index) else { return Vec::new() };
                (plan.diary.meet(day, when, Met::new(urgency, sign.line), today), View::Stop)
            }
            Act::Cleared { day, when } => (plan.diary.clear(day, when, today), View::Today),
            Act::NoSign { day, when } => (plan.diary.unmeet(day, when, today), View::Today),
            Act::Leave { day, when, exercise, why } => {
                let index = usize::from(exercise.get()) - 1;
                let at = plan.list(day, when).iter().position(|i| *i == index);
                let Some(e) = programme.exercises.get(index) else { return Vec::new() };
                let noted = match why {
                    Leave::Pain => plan.diary.leave(day, when, exercise, true, today),
                    Leave::Sign(index) => {
                        let Some(words) = e.words.stop_if.get(index) else { return Vec::new() };
                        let met = Met::new(Urgency::Exercise, words);
                        let noted = plan.diary.meet(day, when, met, today);
                        noted.and_then(|()| plan.diary.leave(day, when, exercise, true, today))
                    }
                    Leave::Not => not_left(plan, day, when, exercise, today),
                };
                (noted, at.map_or(View::Today, |at| View::Do { when, at }))
            }
            _ => return Vec::new(),
        };
        if noted.is_err() {
            self.told = "That day is still to come.".into();
            return Vec::new();
        }
        self.timer = None;
        self.moves = None;
        self.view = view;
        vec![Effect::Diary, Effect::Moved]
    }
}

/// An exercise is not stopped after all, nor is its sign met where it was the only one.
fn not_left(plan: &mut Plan, day: Date, when: When, exercise: Number, today: Date) -> Result<(), NotYet> {
    plan.diary.leave(day, when, exercise, false, today)?;
    let own = plan.diary.session(day, when).is_some_and(|s| {
        s.left.is_empty() && s.met.as_ref().is_some_and(|met| met.urgency == Urgency::Exercise)
    });
    if own { plan.diary.unmeet(day, when, today) } else { Ok(()) }
}
