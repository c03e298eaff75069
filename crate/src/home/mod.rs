//! The patient's page: what is open, ticked and chosen in, named pieces of HTML out. Pure and natively tested;
//! does not know the browser.
//!
//! One thing at a time: a view holds one page of it. Everything that can be pressed carries the words of an
//! [`Act`]; the door hands them back to [`Home::act`] and does what the [`Effect`]s say.

pub mod act;
mod answer;
mod days;
mod end;
mod exercise;
pub mod kept;
mod opening;
mod piece;
mod plan;
mod sheet;
mod telephone;
mod today;
pub mod trail;
pub mod view;
mod wrong;

use crate::count::timer::Timer;
use crate::diary::{Diary, When};
use crate::handout::{Paper, Print};
use crate::link::Shared;
use crate::link::fault::Fault;
use crate::markup::{Markup, Slot};
use crate::measure::Date;
use plan::Plan;
use view::View;

/// A place of the page; its `id` there is [`Region::id`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Region {
    /// What must be known before anything else.
    Top,
    View,
    /// Ways to the other views.
    Ways,
    /// One sentence on what was just done, also for those who listen.
    Told,
}

impl Region {
    pub const ALL: [Region; 4] = [Region::Top, Region::View, Region::Ways, Region::Told];

    pub fn id(self) -> &'static str {
        match self {
            Region::Top => "top",
            Region::View => "view",
            Region::Ways => "ways",
            Region::Told => "told",
        }
    }
}

/// How far the way into a plan has come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Opening {
    /// There is no link and nothing kept.
    Nothing,
    Refused(Fault),
    Sealed {
        wrong: bool,
        busy: bool,
    },
    /// Another plan than the one that is shown: the patient says which.
    Which(Box<Shared>),
    Open,
}

/// Whether plan and ticks are kept on this device.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeping {
    Kept,
    /// There is no room left.
    Full,
    /// The browser does not let pages keep anything.
    Forbidden,
    /// Opened from a file: other files could read what is kept, so it is kept only if the reader wants it.
    NotChosen,
}

/// What was here is here no more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gone {
    /// It was forgotten on this page.
    Forgotten,
    /// Another window forgot it, or the browser cleared it away.
    Elsewhere,
}

impl Gone {
    pub fn words(self) -> &'static str {
        match self {
            Gone::Forgotten => "All is gone from this phone.",
            Gone::Elsewhere => "Your plan is not kept on this phone any more. So it is closed here too.",
        }
    }
}

/// Where the page runs. Nothing of it can change while it is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Around {
    /// From a web server, not from a file.
    pub served: bool,
    /// Inside another app, which may forget what is kept.
    pub in_app: bool,
    pub can_buzz: bool,
    /// The reader wants as little movement as can be: a figure goes from key pose to key pose, nothing in between.
    pub still: bool,
}

/// What the patient has switched on. Off at first: a page that makes a noise by itself is startling.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Switches {
    pub sound: bool,
    pub buzz: bool,
}

/// Another plan kept on this device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Other {
    pub key: String,
    /// None where it is locked, or says nothing of it.
    pub issued: Option<Date>,
}

/// What the door has to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Another view: its heading comes into view and gets the focus.
    Moved,
    /// The diary has changed: keep it.
    Diary,
    Switches,
    /// Begin to keep: it was chosen.
    Keep,
    Forget,
    Print,
    /// Show the plan kept under this key.
    Show(String),
    /// Show this plan, which came by a link.
    Use(Box<Shared>),
    /// Get the newest version of the page.
    Renew,
    /// Read the field that a link was put in.
    Paste,
    /// Read the field that a passphrase was put in.
    Unseal,
}

/// The patient's page between two acts.
#[derive(Debug)]
pub struct Home {
    pub around: Around,
    /// None: the clock says a year that nobody exercises in.
    pub today: Option<Date>,
    pub opening: Opening,
    pub view: View,
    pub keeping: Keeping,
    pub switches: Switches,
    pub others: Vec<Other>,
    /// What was kept could not be read and was put aside.
    pub set_aside: bool,
    /// Until another plan is shown.
    pub gone: Option<Gone>,
    pub paper: Paper,
    pub print: Print,
    pub timer: Option<Timer>,
    /// For how long the figure has been moving, milliseconds; None: it stands still.
    pub moves: Option<u32>,
    /// Whether it is asked if really all should be forgotten.
    forgetting: bool,
    told: String,
    plan: Option<Plan>,
}

impl Home {
    pub fn new(around: Around, today: Option<Date>) -> Home {
        Home {
            around,
            today,
            opening: Opening::Nothing,
            view: View::Today,
            keeping: if around.served { Keeping::Kept } else { Keeping::NotChosen },
            switches: Switches::default(),
            others: Vec::new(),
            set_aside: false,
            gone: None,
            paper: Paper::A4,
            print: Print::Normal,
            timer: None,
            moves: None,
            forgetting: false,
            told: String::new(),
            plan: None,
        }
    }

    /// Shows a plan with what was ticked in it.
    pub fn show(&mut self, shared: Shared, diary: Diary) {
        self.plan = Some(Plan::new(shared, diary));
        self.gone = None;
        self.opening = Opening::Open;
        self.view = View::Today;
        self.timer = None;
        self.moves = None;
    }

    /// A plan has come by a link. True where it is the one that is shown, or nothing is: then it can be
    /// shown at once. Otherwise the patient is asked.
    pub fn offer(&mut self, shared: &Shared) -> bool {
        let same = self.plan.as_ref().is_none_or(|plan| plan.key == crate::diary::key(&shared.text));
        if !same {
            self.opening = Opening::Which(Box::new(shared.clone()));
        }
        same
    }

    /// Leaves nothing of the plan on the page.
    pub fn put_away(&mut self, gone: Gone) {
        *self = Home {
            switches: self.switches,
            gone: Some(gone),
            told: gone.words().into(),
            ..Home::new(self.around, self.today)
        };
    }

    /// The key of the plan that is shown.
    pub fn key(&self) -> Option<&str> {
        self.plan.as_ref().map(|plan| plan.key.as_str())
    }

    pub fn diary(&self) -> Option<&Diary> {
        self.plan.as_ref().map(|plan| &plan.diary)
    }

    /// The diary as it is kept now, which another window may have written.
    pub fn take_diary(&mut self, diary: Diary) {
        if let Some(plan) = &mut self.plan {
            plan.diary = diary;
        }
    }

    /// A sentence for those who listen.
    pub fn tell(&mut self, words: &str) {
        self.told = words.to_string();
    }

    /// The page as it should stand now.
    pub fn answer(&mut self) -> Vec<(Region, Vec<Slot>)> {
        let told = piece::slot("told", |w| {
            w.element("span", &self.told);
        });
        let (top, view, ways) = match (&self.opening, self.plan.take()) {
            (Opening::Open, Some(mut plan)) => {
                let top = today::top(self, &mut plan);
                let view = self.view(&mut plan);
                let ways = piece::ways(self.view);
                self.plan = Some(plan);
                (top, view, ways)
            }
            (_, plan) => {
                self.plan = plan;
                (opening::top(self), opening::view(self), Vec::new())
            }
        };
        vec![(Region::Top, top), (Region::View, view), (Region::Ways, ways), (Region::Told, vec![told])]
    }

    fn view(&self, plan: &mut Plan) -> Vec<Slot> {
        let Some(today) = self.today else { return sheet::no_date(plan) };
        match self.view {
            View::Today => today::view(self, plan, today),
            View::Do { when, at } => exercise::view(self, plan, today, when, at),
            View::End { when } => end::view(plan, today, when),
            View::Wrong { at } => wrong::view(plan, today, at),
            View::Stop => wrong::stop(plan, today),
            View::Week { back } => days::week(plan, today, back),
            View::Day { day } => days::day(plan, today, day),
            View::Sheet => sheet::whole(self, plan, today),
            View::Help => sheet::help(plan, today),
            View::Phone => sheet::phone(self, plan.key.as_str(), self.forgetting),
        }
    }

    /// What is due on a day in each part of it, exercises by their index in the plan.
    pub fn due(&mut self, day: Date) -> Vec<(When, Vec<usize>)> {
        self.plan.as_mut().map(|plan| plan.due(day)).unwrap_or_default()
    }

    /// The sheet for the printer, as it was handed over.
    pub fn handout(&mut self) -> Option<Markup> {
        let today = self.today.or_else(|| self.plan.as_ref().and_then(|p| p.shared.issued));
        self.plan.as_mut().map(|plan| plan.handout(today, self.paper, self.print))
    }
}

/// Whether a browser's own words about itself say that the page is shown inside another app: Android's web view
/// says `wv`; on an iPhone a browser says `Safari` and a view inside an app does not.
///
/// ```
/// use layfigure::home::is_in_app;
/// assert!(is_in_app("Mozilla/5.0 (Linux; Android 14; X; wv) AppleWebKit/537.36 Chrome/130.0 Mobile Safari/537.36"));
/// assert!(is_in_app("Mozilla/5.0 (iPhone; CPU iPhone OS 17_5 like Mac OS X) AppleWebKit/605.1.15 Mobile/15E148"));
/// assert!(!is_in_app("Mozilla/5.0 (X11; Linux x86_64) AppleWebKit/537.36 Chrome/130.0 Safari/537.36"));
/// ```
pub fn is_in_app(agent: &str) -> bool {
    let apple = ["iPhone", "iPad", "iPod"].iter().any(|device| agent.contains(device));
    agent.contains("; wv)") || (apple && !agent.contains("Safari/"))
}
