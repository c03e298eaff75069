//! The clinician's page: what is typed and chosen in, named pieces of HTML out. Pure and natively tested;
//! does not know the browser.
//!
//! The page has one place for each [`Region`]; a place holds [`Slot`]s in order. The door replaces only the
//! slots whose HTML has changed, so a key pressed in one line redraws one strip.

mod band;
pub mod choices;
pub mod given;
pub mod history;
mod manuscript;
mod notes;
pub mod place;
mod repair;
mod sheet;
pub mod shelf;
pub mod show;

use crate::catalog::Catalog;
use crate::figure;
use crate::handout;
use crate::handout::known::Known;
use crate::handout::plan::Due;
use crate::link::pack::pack;
use crate::link::qr::code;
use crate::link::share::{Wanted, share};
use crate::markup::{Markup, Slot};
use crate::measure::Date;
use crate::notice::{Edit, Notice};
use crate::prescription::Prescription;
use crate::programme::settled::Cache;
use crate::programme::{self, Drawn, Programme, assemble};
use crate::week;
use crate::week::model::Limit;
use choices::Choices;
use std::collections::BTreeSet;

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
}

/// A place of the page; its `id` there is [`Region::id`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Region {
    /// Behind the text: the same lines with their marks.
    Mirror,
    /// Beside the text.
    Notes,
    /// Notices that are not on view.
    Folded,
    /// One sentence on how things stand, also for those who listen.
    State,
    Head,
    Week,
    Strips,
    /// What was checked by computation, and what was not.
    Checks,
}

impl Region {
    pub const ALL: [Region; 8] = [
        Region::Mirror,
        Region::Notes,
        Region::Folded,
        Region::State,
        Region::Head,
        Region::Week,
        Region::Strips,
        Region::Checks,
    ];

    pub fn id(self) -> &'static str {
        match self {
            Region::Mirror => "mirror",
            Region::Notes => "notes",
            Region::Folded => "folded",
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
}

/// What a key can do about a notice on view.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    pub line: usize,
    pub edit: Option<usize>,
    pub name: String,
}

/// The desk between two asks. It remembers what was settled and drawn, and nothing else: what it answers
/// depends on the ask alone.
#[derive(Debug, Default)]
pub struct Desk {
    settled: Cache,
    drawn: Known<Markup>,
    /// Of the last answer.
    programme: Option<Programme>,
    /// Of the last week: the text with each repair made.
    repairs: Vec<Option<String>>,
}

impl Desk {
    /// Answers an ask.
    pub fn answer(&mut self, ask: &Ask<'_>) -> Answer {
        let (programme, notices) = self.understood(ask);
        let notes = notes::lay(ask, &notices);
        let before = std::mem::take(&mut self.drawn);
        let strips = sheet::strips(&programme, &mut |exercise, drawn| {
            let hold = exercise.amount.marked_hold();
            let known = before.find(&drawn.movement, hold).cloned();
            let picture = known.unwrap_or_else(|| draw(&programme, drawn, hold));
            self.drawn.keep(&drawn.movement, hold, picture.clone());
            picture
        });
        let regions = vec![
            (Region::Mirror, manuscript::rows(ask.text, &notices)),
            (Region::Notes, notes.shown),
            (Region::Folded, notes.folded),
            (Region::State, notes.state),
            (Region::Head, sheet::head(&programme)),
            (Region::Strips, strips),
            (Region::Checks, sheet::checks(&programme)),
        ];
        self.programme = Some(programme);
        Answer { regions, edits: notes.edits, shown: notes.keys }
    }

    /// The week of the last answer, for the region above the sheet. Apart from [`Desk::answer`], since it
    /// may come a frame later.
    pub fn week(&mut self, text: &str) -> Vec<Slot> {
        self.repairs.clear();
        let Some(programme) = &self.programme else { return Vec::new() };
        let laid = week::lay(programme, Limit::USUAL);
        if let Ok(laid) = &laid {
            let repairs = laid.shortage.iter().flat_map(|s| &s.repairs);
            self.repairs = repairs.map(|r| repair::written(text, programme, laid, &r.what)).collect();
        }
        let repairable: Vec<bool> = self.repairs.iter().map(Option::is_some).collect();
        band::band(programme, laid.as_ref(), &repairable)
    }

    /// The text with a repair of the last [`Desk::week`] made, by its index there.
    pub fn repaired(&self, index: usize) -> Option<&str> {
        self.repairs.get(index)?.as_deref()
    }

    /// The handout's body for a page that has its style, from the same text. A code to scan is on it where the
    /// patient's page is published (elsewhere than on this computer) and the link is not to be sealed: what is sealed must not lie open on paper.
    pub fn handout(&mut self, ask: &Ask<'_>, choices: &Choices) -> Markup {
        let (programme, _) = self.understood(ask);
        let home = given::home_address(&choices.home).ok();
        let home = home.filter(|home| !choices.sealed && !given::only_here(home));
        let link = home.and_then(|home| {
            let (prescription, _) = crate::prescription::read(ask.text);
            let wanted = Wanted { named: choices.naming, today: ask.today, limit: Limit::USUAL };
            let packed = self.packed(&prescription, &wanted).ok()?;
            Some(code(&home, &packed))
        });
        let emergency = choices.emergency.trim();
        let sheet = handout::Sheet {
            paper: choices.paper,
            print: choices.print,
            emergency: (!emergency.is_empty()).then(|| emergency.to_string()),
            link,
            ..handout::Sheet::default()
        };
        let laid = match week::lay(&programme, Limit::USUAL) {
            Ok(laid) => Due::of(&laid, programme.exercises.len()),
            // Its sentence stands on the desk; the sheet has the doses without days.
            Err(_) => Due::default(),
        };
        handout::body(&programme, &laid, &sheet, &mut handout::drawn(&programme))
    }

    /// The packed link of a prescription; an error is a sentence why there is none.
    pub fn packed(&mut self, prescription: &Prescription, wanted: &Wanted) -> Result<Vec<u8>, String> {
        if prescription.exercises.is_empty() {
            return Err("There is no exercise in the text yet, so there is nothing to hand over.".to_string());
        }
        let catalog = Catalog::embedded();
        pack(&share(prescription, catalog, wanted, &mut self.settled)?, catalog)
    }

    /// The programme, and the notices of reader and checks by line.
    fn understood(&mut self, ask: &Ask<'_>) -> (Programme, Vec<Notice>) {
        let (prescription, mut notices) = crate::prescription::read(ask.text);
        let wanted = programme::Ask { week: ask.week, ..programme::Ask::today(ask.today) };
        let programme = assemble::at(&prescription, Catalog::embedded(), &wanted, &mut self.settled);
        notices.extend(programme.notices.iter().cloned());
        crate::sorting::sort_by_key(&mut notices, |n| (n.place, n.severity));
        (programme, notices)
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
