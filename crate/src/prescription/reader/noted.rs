//! A note of the patient with a restriction behind it, on one line: each is what it would be on a line of its own.

use super::Reading;
use super::classify::{Class, LONGEST_LIMIT, classify};
use crate::language::typed::lexed;
use crate::prescription::condition;
use crate::prescription::exercise::TypedLine;
use crate::prescription::kept::{self, Forbids};
use crate::prescription::noted::Noted;
use crate::prescription::words::Key;
use crate::prescription::{plain, say};
use crate::text::{Line, trim_end};

impl Reading {
    /// The note and the restriction behind it: `32/40 G2P1, no supine ex > 3 min`. None: the line is one thing.
    pub(super) fn note_and_ban<'a>(&self, line: &Line<'a>, deep: bool) -> Option<(Line<'a>, Line<'a>)> {
        let content = line.content();
        if !self.rules.plain || self.rules.forbids || deep || LONGEST_LIMIT < content.len() {
            return None;
        }
        let (end, start) = lexed(content, line.place(), |typed| {
            let (at, forbids) = kept::ban(&typed.all)?;
            let whole = TypedLine::new(typed);
            let contact = kept::is_of_contact(typed.all.get(at..)?);
            if contact
                || kept::begins_private(&whole)
                || kept::is_reported(&whole) && forbids != Forbids::Surely
                || condition::bounds_effort(&whole)
                || plain::counted(&typed.all, &whole.parted().dose)
            {
                return None;
            }
            let start = typed.all.get(at)?.start;
            let sign = typed.all.get(at.checked_sub(1)?)?.start;
            let note = typed.trimmed(0, sign);
            // A key governs what stands behind its colon.
            let keyed = crate::prescription::exercise::colon(note.text).is_some();
            let class = classify(note.text, note.place, false, false, self.rules, &self.own_names);
            let noted = match class {
                Class::Noted(Noted::Key(_) | Noted::Age(_), _) | Class::Private(_) => true,
                Class::Noted(Noted::Finding, _) => forbids == Forbids::Surely,
                _ => false,
            };
            (noted && !keyed).then(|| (trim_end(note.text).len(), start))
        })?;
        Some((Line { end: line.start + end, ..*line }, Line { start: line.start + start, ..*line }))
    }

    /// Tells what a line forbids that the patient will not read.
    pub(super) fn tell_hidden_ban(&mut self, line: &Line<'_>, class: &Class) {
        let is_private = matches!(class, Class::Private(_) | Class::Noted(..) | Class::Key(Key::Finding, _));
        if !self.rules.plain || !is_private || LONGEST_LIMIT < line.content().len() {
            return;
        }
        let place = lexed(line.content(), line.place(), |typed| kept::hidden_ban(&TypedLine::new(typed)));
        self.notices.extend(place.map(say::restriction_kept));
    }
}
