//! The clinician's page: what is typed and chosen in, named pieces of HTML out. Pure and natively tested;
//! does not know the browser.
//!
//! The page has one place for each [`Region`]; a place holds [`Slot`]s in order. The door replaces only the
//! slots whose HTML has changed, so a key pressed in one line redraws one strip.

pub mod history;
mod manuscript;
mod notes;
pub mod place;
mod sheet;

use crate::measure::Date;
use crate::notice::Edit;
use crate::pose::movement::Movement;
use crate::prescription::Prescription;
use crate::programme::{Drawn, Exercise, Programme};
use sheet::Picture;
use std::collections::BTreeSet;
use std::sync::Arc;

/// What the clinician has typed and chosen. All that the desk's answer depends on.
#[derive(Clone, Debug)]
pub struct Ask<'a> {
    pub text: &'a str,
    /// None: the clock says a year that nobody prescribes in.
    pub today: Option<Date>,
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
    Strips,
    /// What was checked by computation, and what was not.
    Checks,
}

impl Region {
    pub const ALL: [Region; 7] = [
        Region::Mirror,
        Region::Notes,
        Region::Folded,
        Region::State,
        Region::Head,
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
            Region::Strips => "strips",
            Region::Checks => "checks",
        }
    }
}

/// One element of a region. Two slots of a region with the same key and HTML are the same thing on screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    pub key: String,
    /// One whole element.
    pub html: String,
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

/// The desk between two asks. It remembers figures already drawn and nothing else: what it answers depends
/// on the ask alone.
#[derive(Debug, Default)]
pub struct Desk {
    drawn: Vec<(Arc<Movement>, Picture)>,
}

impl Desk {
    /// Answers an ask.
    pub fn answer(&mut self, ask: &Ask<'_>) -> Answer {
        let (prescription, mut notices) = crate::prescription::read(ask.text);
        let programme = understood(&prescription, ask);
        if let Some(programme) = &programme {
            notices.extend(programme.notices.iter().cloned());
        }
        let notes = notes::lay(ask, &notices);
        let mut regions = vec![
            (Region::Mirror, manuscript::rows(ask.text, &notices)),
            (Region::Notes, notes.shown),
            (Region::Folded, notes.folded),
            (Region::State, notes.state),
        ];
        if let Some(programme) = &programme {
            let before = std::mem::take(&mut self.drawn);
            let strips = sheet::strips(programme, &mut |exercise, drawn| {
                let known = before.iter().find(|(movement, _)| Arc::ptr_eq(movement, &drawn.movement));
                let picture = known.map_or_else(|| draw(exercise, drawn), |(_, picture)| picture.clone());
                self.drawn.push((Arc::clone(&drawn.movement), picture.clone()));
                picture
            });
            regions.push((Region::Head, sheet::head(programme)));
            regions.push((Region::Strips, strips));
            regions.push((Region::Checks, sheet::checks(programme)));
        }
        Answer { regions, edits: notes.edits, shown: notes.keys }
    }
}

fn understood(_: &Prescription, _: &Ask<'_>) -> Option<Programme> {
    None
}

fn draw(_: &Exercise, _: &Drawn) -> Picture {
    Picture::default()
}
