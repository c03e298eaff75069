//! The clinician's page: what is typed and chosen in, named pieces of HTML out. Pure and natively tested;
//! does not know the browser.
//!
//! The page has one place for each [`Region`]; a place holds [`Slot`]s in order. The door replaces only the
//! slots whose HTML has changed, so a key pressed in one line redraws one strip.

pub mod act;
mod band;
pub mod change;
pub mod choices;
pub mod complete;
pub mod example;
pub mod finder;
pub mod given;
pub mod history;
pub mod leaving;
pub mod limits;
pub mod look;
mod manuscript;
mod notes;
mod offers;
pub mod place;
mod repair;
mod seek;
mod sheet;
pub mod shelf;
pub mod show;
mod stage;
mod tune;
pub mod visit;

use crate::body::Body;
use crate::body::names::Side;
use crate::catalog::Catalog;
use crate::count::{self, pace::Pace};
use crate::export::record;
use crate::figure;
use crate::handout;
use crate::handout::News;
use crate::handout::known::Known;
use crate::handout::plan::Course;
use crate::link::pack::pack;
use crate::link::qr::code;
use crate::link::share::{Wanted, share};
use crate::markup::{Markup, Slot};
use crate::measure::Date;
use crate::notice::Edit;
use crate::pose::movement::Movement;
use crate::prescription::Prescription;
use crate::programme::settled::{self, Bounds, Cache};
use crate::programme::{self, Drawn, Programme, assemble};
use crate::week;
use crate::week::model::{Day, Fault, Limit};
use crate::week::moved::moved;
use band::Carried;
use change::Changed;
use choices::Choices;
use complete::Offer;
use finder::Wanted as Wish;
use limits::Setting;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What the clinician has typed and chosen. All that the desk's answer depends on.
#[derive(Clone, Debug)]
pub struct Ask<'a> {
    pub text: &'a str,
    /// None: the clock says a year that nobody prescribes in.
    pub today: Option<Date>,
    /// The week of the course that is shown, counted from 1; None: the one that today falls in.
    pub week: Option<u32>,
    /// The line that the cursor is in, counted from 1: its notices are asked for, so they are always shown.
    pub line: usize,
    /// Notices put away by the reader for this visit, by [`notes::name`].
    pub hidden: &'a BTreeSet<String>,
    /// The byte that the cursor stands at, where something may be offered there.
    pub caret: Option<usize>,
    pub panel: &'a Panel,
    /// The line that a button has just changed.
    pub touched: Option<usize>,
    /// The text of last time, where this visit goes on from it.
    pub before: Option<&'a str>,
}

impl<'a> Ask<'a> {
    /// For a text with the cursor in its first line, and nothing chosen.
    pub fn of(text: &'a str) -> Ask<'a> {
        static NONE: BTreeSet<String> = BTreeSet::new();
        static AT_HAND: Panel = Panel::AtHand;
        let (hidden, panel) = (&NONE, &AT_HAND);
        Ask {
            text,
            today: None,
            week: None,
            line: 1,
            hidden,
            caret: None,
            panel,
            touched: None,
            before: None,
        }
    }
}

/// What stands beside the text, above the sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Panel {
    /// The exercise of the cursor's line.
    #[default]
    AtHand,
    Finder(Wish),
    Limits(Setting),
    /// Going on from last time.
    Visit,
}

/// A place of the page; its `id` there is [`Region::id`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Region {
    /// Behind the text: the same lines with their marks.
    Mirror,
    /// Above the text: that it is an example.
    Example,
    /// Beside the text.
    Notes,
    /// Notices that are not on view.
    Folded,
    /// Under the cursor: what could stand next.
    Offers,
    /// The exercise at hand, or what was opened in its place.
    Stage,
    /// One sentence on how things stand, also for those who listen.
    State,
    Head,
    Week,
    Strips,
    /// What was checked by computation, and what was not.
    Checks,
}

impl Region {
    pub const ALL: [Region; 11] = [
        Region::Mirror,
        Region::Example,
        Region::Notes,
        Region::Folded,
        Region::Offers,
        Region::Stage,
        Region::State,
        Region::Head,
        Region::Week,
        Region::Strips,
        Region::Checks,
    ];

    pub fn id(self) -> &'static str {
        match self {
            Region::Mirror => "mirror",
            Region::Example => "example",
            Region::Notes => "notes",
            Region::Folded => "folded",
            Region::Offers => "offers",
            Region::Stage => "stage",
            Region::State => "state",
            Region::Head => "head",
            Region::Week => "week",
            Region::Strips => "strips",
            Region::Checks => "checks",
        }
    }
}

/// The whole page as it should stand now.
#[derive(Clone, Debug, Default)]
pub struct Answer {
    pub regions: Vec<(Region, Vec<Slot>)>,
    /// The suggested edits that buttons and keys name by their index.
    pub edits: Vec<Edit>,
    /// The notices on view, in order: the line of each, its edit's index and its name for hiding.
    pub shown: Vec<Shown>,
    /// What could stand next under the cursor.
    pub offers: Vec<Offer>,
}

/// What a key can do about a notice on view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    pub line: usize,
    pub edit: Option<usize>,
    /// It can be put away.
    pub may_hide: bool,
    pub name: String,
}

/// The desk between two asks. It remembers what was settled and drawn, and nothing else: what it answers
/// depends on the ask alone.
#[derive(Debug, Default)]
pub struct Desk {
    settled: Cache,
    drawn: Known<Markup>,
    /// Small figures of the catalog, as far as they are drawn.
    small: BTreeMap<String, Markup>,
    /// Those that are on view and not drawn yet, the first one next.
    wanted: Vec<String>,
    /// The catalog's figures are of the usual body, without limits: settled apart from the patient's.
    small_settled: Cache,
    moving: Option<Moving>,
    /// Last time's text and programme.
    before: Option<(String, Programme)>,
    /// What was at hand at the last answer.
    last_at_hand: Option<Arc<Movement>>,
    is_fresh: bool,
    /// It was tried to set this in movement, and too little of it moves.
    stands: Option<Arc<Movement>>,
    /// The neighbours of the exercise at hand, as far as the checks have run on them.
    sought: seek::Sought,
    /// Of the last answer.
    programme: Option<Programme>,
    /// Of the last week: the text with each repair made.
    repairs: Vec<Option<String>>,
    laid: Option<Result<week::Laid, Fault>>,
    carried: Option<Carried>,
}

/// The figure at hand in movement.
#[derive(Debug)]
struct Moving {
    movement: Arc<Movement>,
    frames: Vec<Markup>,
    pace: Pace,
    ms: u32,
    /// Milliseconds until it stops by itself.
    left: Option<u32>,
}

impl Desk {
    /// Answers an ask.
    pub fn answer(&mut self, ask: &Ask<'_>) -> Answer {
        let (read, mut notices) = crate::prescription::read(ask.text);
        let programme = self.programme(&read, ask);
        notices.extend(programme.notices.iter().cloned());
        crate::sorting::sort_by_key(&mut notices, |n| (n.place, n.severity()));
        let offers = ask.caret.map(|caret| complete::offers(ask.text, &read, caret)).unwrap_or_default();
        // Half a name is no fault while it is being written.
        if !offers.is_empty() {
            notices.retain(|n| n.place.line != ask.line);
        }
        let notes = notes::lay(ask, &notices);
        let news = self.news(ask, &programme);
        let before = std::mem::take(&mut self.drawn);
        let strips = sheet::strips(&programme, news.as_ref(), &mut |exercise, drawn| {
            let hold = exercise.amount.marked_hold();
            let known = before.find(&drawn.movement, hold).cloned();
            let picture = known.unwrap_or_else(|| draw(&programme, drawn, hold));
            self.drawn.keep(&drawn.movement, hold, picture.clone());
            picture
        });
        self.wanted.clear();
        let list = offers::list(&offers, &mut |id| self.small(id));
        self.seek_anew(ask, &read, &programme);
        let stage = self.stage(ask, &programme, news.as_ref());
        let regions = vec![
            (Region::Mirror, manuscript::rows(ask.text, &notices, ask.touched)),
            (Region::Example, example::slots(ask.text, &read)),
            (Region::Notes, notes.shown),
            (Region::Folded, notes.folded),
            (Region::Offers, list),
            (Region::Stage, stage),
            (Region::State, notes.state),
            (Region::Head, sheet::head(&programme)),
            (Region::Strips, strips),
            (Region::Checks, sheet::checks(&programme)),
        ];
        self.programme = Some(programme);
        Answer { regions, edits: notes.edits, shown: notes.keys, offers }
    }

    fn stage(&mut self, ask: &Ask<'_>, programme: &Programme, news: Option<&News>) -> Vec<Slot> {
        match ask.panel {
            Panel::Finder(wish) => return finder::panel(wish, &mut |id| self.small(id)),
            Panel::Limits(setting) => return vec![limits::panel(setting, &programme.body, ask.text)],
            Panel::Visit => return visit::panel(news, programme),
            Panel::AtHand => {}
        }
        let Some((at, exercise)) = stage::shown(programme, ask.line) else {
            self.moving = None;
            self.last_at_hand = None;
            return vec![stage::nothing()];
        };
        let drawn = exercise.drawn.first();
        let same = |a: &Arc<Movement>| drawn.is_some_and(|d| Arc::ptr_eq(&d.movement, a) || d.movement == *a);
        if !self.moving.as_ref().is_some_and(|m| same(&m.movement)) {
            self.moving = None;
        }
        if !self.last_at_hand.as_ref().is_some_and(same) {
            self.last_at_hand = drawn.map(|d| Arc::clone(&d.movement));
            self.is_fresh = self.last_at_hand.is_some();
        }
        let hold = exercise.amount.marked_hold();
        let still = drawn.and_then(|d| self.drawn.find(&d.movement, hold).cloned());
        let moving = self.moving.as_ref().and_then(Moving::picture);
        let stands = self.stands.as_ref().is_some_and(same);
        let can_move = !stands && drawn.is_some_and(|d| 1 < d.movement.keys.len());
        let moves = can_move.then_some(moving.is_some());
        vec![stage::at_hand(exercise, at + 1, moving.or(still.as_ref()), moves, self.sought.offered())]
    }

    /// What differs from last time, where this visit goes on from one.
    fn news(&mut self, ask: &Ask<'_>, now: &Programme) -> Option<News> {
        let text = ask.before?;
        if self.before.as_ref().is_none_or(|(known, _)| known != text) {
            let (read, _) = crate::prescription::read(text);
            let wanted = programme::Ask::today(ask.today);
            let old = assemble::at(&read, Catalog::embedded(), &wanted, &mut Cache::default());
            self.before = Some((text.to_string(), old));
        }
        self.before.as_ref().map(|(_, old)| News::since_visit(old, now))
    }

    /// Sets the figure at hand in movement, for so many cycles or until it is told to stop; or has it stand still.
    pub fn set_moving(&mut self, ask: &Ask<'_>, moves: bool, cycles: Option<u32>) {
        self.moving = None;
        let (Some(programme), true) = (&self.programme, moves) else { return };
        let shown = stage::shown(programme, ask.line);
        let Some((exercise, drawn)) = shown.and_then(|(_, e)| Some((e, e.drawn.first()?))) else { return };
        let look =
            figure::Look { reader: figure::Reader::Clinician, muscles: true, ..figure::Look::default() };
        let found = count::Moving::of(&programme.body, &drawn.movement, &look).and_then(|all| {
            let pace = Pace::new(&all.course, exercise.amount.tempo, exercise.amount.hold())?;
            Some((all, pace))
        });
        let Some((all, pace)) = found else {
            self.stands = Some(Arc::clone(&drawn.movement));
            return;
        };
        let left = cycles.map(|cycles| cycles * pace.cycle());
        self.moving =
            Some(Moving { movement: Arc::clone(&drawn.movement), frames: all.instants, pace, ms: 0, left });
    }

    /// So many milliseconds later: the picture to be shown at hand now, none where it is the same; and whether it goes
    /// on after that.
    pub fn pass(&mut self, ms: u32) -> (Option<&Markup>, bool) {
        let Some(moving) = self.moving.as_mut() else { return (None, true) };
        let before = moving.pace.at(moving.ms).instant;
        moving.ms = (moving.ms + ms) % moving.pace.cycle().max(1);
        moving.left = moving.left.map(|left| left.saturating_sub(ms));
        let now = moving.pace.at(moving.ms).instant;
        let picture = if now == before { None } else { moving.frames.get(now) };
        (picture, moving.left != Some(0))
    }

    /// Whether another figure has come to hand since it was last [`Desk::seen`].
    pub fn is_fresh(&self) -> bool {
        self.is_fresh
    }

    pub fn seen(&mut self) {
        self.is_fresh = false;
    }

    /// The patient's body.
    pub fn body(&self) -> Body {
        self.programme.as_ref().map_or_else(Body::usual, |programme| programme.body)
    }

    /// The lists with small figures in them, as they stand now.
    pub fn lists(&mut self, offers: &[Offer], panel: &Panel) -> Vec<(Region, Vec<Slot>)> {
        let mut lists = vec![(Region::Offers, offers::list(offers, &mut |id| self.small(id)))];
        if let Panel::Finder(wish) = panel {
            lists.push((Region::Stage, finder::panel(wish, &mut |id| self.small(id))));
        }
        lists
    }

    /// Whether the figure at hand is in movement.
    pub fn is_moving(&self) -> bool {
        self.moving.is_some()
    }

    /// A small figure, where it is drawn; else it is noted as wanted.
    fn small(&mut self, id: &str) -> Option<Markup> {
        if !self.small.contains_key(id) && !self.wanted.iter().any(|w| w == id) {
            self.wanted.push(id.to_string());
        }
        self.small.get(id).cloned()
    }

    /// Draws one of the small figures that are on view and wanted. False: none is.
    pub fn draw_small(&mut self) -> bool {
        let Some(id) = self.wanted.first().cloned() else { return false };
        self.wanted.remove(0);
        let Some(entry) = Catalog::embedded().by_id(&id) else { return true };
        let bounds = Bounds::of(Body::usual(), &[], 0);
        let outcome = settled::outcome(&mut self.small_settled, &entry.poses, &bounds, Side::Right);
        let picture = figure::still(&Body::usual(), &outcome.drawn.movement, &figure::Look::default()).svg;
        self.small.insert(id, picture);
        true
    }

    /// Whether a small figure on view still has to be drawn.
    pub fn wants_small(&self) -> bool {
        !self.wanted.is_empty()
    }

    /// The week of the last answer, for the region above the sheet. Apart from [`Desk::answer`], since it
    /// may come a frame later.
    pub fn week(&mut self, text: &str) -> Vec<Slot> {
        self.repairs.clear();
        self.carried = None;
        self.laid = None;
        let Some(programme) = &self.programme else { return Vec::new() };
        let laid = week::lay(programme, Limit::USUAL);
        if let Ok(laid) = &laid {
            let repairs = laid.shortage.iter().flat_map(|s| &s.repairs);
            self.repairs = repairs.map(|r| repair::written(text, programme, laid, &r.what)).collect();
        }
        self.laid = Some(laid);
        self.band()
    }

    fn band(&self) -> Vec<Slot> {
        let (Some(programme), Some(laid)) = (&self.programme, &self.laid) else { return Vec::new() };
        let repairable: Vec<bool> = self.repairs.iter().map(Option::is_some).collect();
        band::band(programme, laid.as_ref(), &repairable, self.carried.as_ref())
    }

    /// Takes an exercise out of a day of the last week, to be put into another; None puts it down. Gives the week
    /// anew, with what each day would mean.
    pub fn carry(&mut self, what: Option<(usize, Day)>) -> Vec<Slot> {
        self.carried = None;
        if let (Some(programme), Some(Ok(laid)), Some((exercise, from))) = (&self.programme, &self.laid, what)
        {
            let to = |day: Day| Some((day, moved(programme, laid, exercise, from, day)?));
            let moves = Day::ALL.into_iter().filter_map(to).collect();
            self.carried = Some(Carried { exercise, from, moves });
        }
        self.band()
    }

    /// The text with what is carried put into a day, and one sentence on it.
    pub fn dropped(&self, text: &str, to: Day) -> Option<Changed> {
        let (programme, carried) = (self.programme.as_ref()?, self.carried.as_ref()?);
        let (_, moved) = carried.moves.iter().find(|(day, _)| *day == to)?;
        let exercise = programme.exercises.get(carried.exercise)?;
        let text = repair::write(text, programme, vec![moved.write.clone()])?;
        let said = format!("{} is on {} now. {}", exercise.name, to.name(), moved.breaks.join(" "));
        Some(Changed { text, line: exercise.line, said: said.trim().to_string() })
    }

    /// The course of a text, for the region below the week; nothing where it has but one week.
    pub fn course(&mut self, ask: &Ask<'_>) -> Vec<Slot> {
        let (read, _) = crate::prescription::read(ask.text);
        if read.weeks.is_none_or(|weeks| weeks < 2) || read.exercises.is_empty() {
            return Vec::new();
        }
        let course = week::phases::course(&read, Catalog::embedded(), ask.today, &mut self.settled);
        vec![band::course(&course)]
    }

    /// The text with a repair of the last [`Desk::week`] made, by its index there.
    pub fn repaired(&self, index: usize) -> Option<&str> {
        self.repairs.get(index)?.as_deref()
    }

    /// The handout's body for a page that has its style, from the same text. A code to scan is on it where the
    /// patient's page is published (elsewhere than on this computer) and the link is not to be sealed: what is sealed must not lie open on paper.
    pub fn handout(&mut self, ask: &Ask<'_>, choices: &Choices) -> Markup {
        let (prescription, _) = crate::prescription::read(ask.text);
        let programme = self.programme(&prescription, ask);
        let news = self.marks(ask, &prescription, &programme);
        let home = given::home_address(&choices.home).ok();
        let home = home.filter(|home| !choices.sealed && !given::only_here(home));
        let link = home.and_then(|home| {
            let wanted = Wanted {
                named: choices.naming,
                emergency: choices.emergency(),
                today: ask.today,
                limit: Limit::USUAL,
            };
            let packed = self.packed(&prescription, &wanted).ok()?;
            Some(code(&home, &packed))
        });
        let sheet = handout::Sheet {
            paper: choices.paper,
            print: choices.print,
            emergency: choices.emergency().map(str::to_string),
            link,
            news,
            ..handout::Sheet::default()
        };
        let wanted = programme::Ask { week: ask.week, ..programme::Ask::today(ask.today) };
        let catalog = Catalog::embedded();
        let course = Course::of(&prescription, catalog, &wanted, Limit::USUAL, &mut self.settled);
        // Its sentence stands on the desk; the sheet has the doses without days.
        let course = course.unwrap_or_else(|_| Course::without_days(programme));
        handout::body(&course, &sheet, &mut handout::drawn(course.programme()))
    }

    /// What the sheet marks: since last time, or since the week before.
    fn marks(&mut self, ask: &Ask<'_>, prescription: &Prescription, now: &Programme) -> News {
        if let Some(news) = self.news(ask, now) {
            return news;
        }
        let Some(week) = now.week_number.checked_sub(1).filter(|week| 0 < *week) else {
            return News::default();
        };
        let before = self.programme(prescription, &Ask { week: Some(week), ..ask.clone() });
        News::since(&before, now)
    }

    /// The text for the clinician's notes, at the week shown.
    pub fn record(&mut self, ask: &Ask<'_>) -> String {
        let wanted = programme::Ask { week: ask.week, ..programme::Ask::today(ask.today) };
        record::text(ask.text, Catalog::embedded(), &wanted, &mut self.settled)
    }

    /// What to decide before a text is handed over.
    pub fn look(&mut self, ask: &Ask<'_>, doing: look::Doing) -> Vec<look::Concern> {
        let (read, mut notices) = crate::prescription::read(ask.text);
        let programme = self.programme(&read, ask);
        notices.extend(programme.notices.iter().cloned());
        look::concerns(ask.text, &programme, &notices, doing)
    }

    /// The packed link of a prescription; an error is a sentence why there is none.
    pub fn packed(&mut self, prescription: &Prescription, wanted: &Wanted<'_>) -> Result<Vec<u8>, String> {
        if prescription.exercises.is_empty() {
            return Err("There is no exercise in the text yet, so there is nothing to hand over.".to_string());
        }
        let catalog = Catalog::embedded();
        pack(&share(prescription, catalog, wanted, &mut self.settled)?, catalog)
    }

    /// The programme of the week asked for.
    fn programme(&mut self, prescription: &Prescription, ask: &Ask<'_>) -> Programme {
        let wanted = programme::Ask { week: ask.week, ..programme::Ask::today(ask.today) };
        assemble::at(prescription, Catalog::embedded(), &wanted, &mut self.settled)
    }
}

impl Moving {
    fn picture(&self) -> Option<&Markup> {
        self.frames.get(self.pace.at(self.ms).instant)
    }
}

/// The text in canonical spelling; what was not understood stays word for word.
pub fn tidy(text: &str) -> String {
    crate::prescription::print(&crate::prescription::read(text).0)
}

/// A figure as the clinician sees it, with the muscles that work, degrees and the seconds of a hold.
fn draw(programme: &Programme, drawn: &Drawn, hold: Option<u32>) -> Markup {
    let look =
        figure::Look { reader: figure::Reader::Clinician, muscles: true, hold, ..figure::Look::default() };
    figure::still(&programme.body, &drawn.movement, &look).svg
}
