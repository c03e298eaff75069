//! Deletes all that is stored here, after a question, and takes it back until the page is closed.

use super::shelf::word;
use super::store::Local;
use super::{Page, control};
use crate::desk::choices::Kept;
use crate::desk::shelf::Open;
use crate::desk::shelf::earlier::CHOICES;
use crate::desk::shelf::gone::{self, Asked, Gone};
use crate::desk::shelf::store::{Denied, Memory};
use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

impl Page {
    pub fn forget(&mut self, act: &str) {
        match act {
            "yes" => self.forget_all(),
            "back" => self.take_back(),
            "no" => {
                self.shelf.asked = Asked::Not;
                self.redraw_shelf();
                self.focus("shelf forget");
                self.say("Nothing was deleted.");
            }
            _ => {
                self.flush();
                let would = self.stored(|store, _| gone::would(store));
                if would.is_nothing() {
                    return self.say("Nothing is stored here.");
                }
                self.show_asked(Asked::Asking(would));
            }
        }
    }

    fn show_asked(&mut self, asked: Asked) {
        self.shelf.asked = asked;
        self.redraw_shelf();
        let head = self.document.get_element_by_id("gone-head");
        if let Some(head) = head.and_then(|e| e.dyn_into::<HtmlElement>().ok()) {
            let _ = head.focus();
        }
    }

    fn forget_all(&mut self) {
        self.flush();
        let found = self.found();
        let mut pairs = match self.stored(|store, _| gone::take(store)) {
            Ok(pairs) => pairs,
            Err(_) => {
                return self.say("This browser did not let its storage be reached, so nothing was deleted.");
            }
        };
        let text = self.history.text().to_string();
        // They were given up after a question: leaving the page asks no more about them.
        found.items.iter().for_each(|item| self.shelf.safe.add(&item.leaf.text));
        self.shelf.safe.add(&text);
        let mut deleted = std::mem::take(&mut self.shelf.deleted);
        let mut keeping = std::mem::replace(&mut self.keeping, false);
        if let Some(before) = self.shelf.gone.take() {
            for (key, value) in before.pairs {
                pairs.entry(key).or_insert(value);
            }
            deleted.extend(before.deleted);
            keeping |= before.keeping;
        }
        // On the page stays the text, as one that is not to be kept as it is.
        let fresh = Open::new(word(), &text);
        let open = std::mem::replace(&mut self.shelf.open, fresh);
        let would = gone::would(&Memory(pairs.clone()));
        self.shelf.gone = Some(Gone { pairs, open, text, keeping, deleted });
        self.shelf.renaming = None;
        self.shelf.denied = None;
        self.by = String::new();
        control::tick_keep(&self.document, false);
        self.point();
        self.show_asked(Asked::Done(would));
        self.say("All of it is deleted. Until you close this page it can be taken back.");
    }

    fn take_back(&mut self) {
        let Some(gone) = self.shelf.gone.clone() else { return };
        let done = if gone.keeping {
            self.take_back_here(&gone)
        } else {
            self.stored(|store, _| gone::put_back(store, &gone.pairs))
        };
        if let Err(denied) = done {
            return self.say(match denied {
                Denied::Full => "This computer’s storage is full, so it could not be taken back. Make room, and try again.",
                Denied::Forbidden => "This browser forbids keeping anything, so it could not be taken back.",
            });
        }
        if self.history.text() == gone.text {
            self.shelf.open = gone.open;
        }
        self.shelf.deleted.extend(gone.deleted);
        self.shelf.gone = None;
        self.shelf.asked = Asked::Not;
        self.keep();
        self.redraw_shelf();
        self.focus("shelf forget");
        self.say("All of it is here again.");
    }

    /// Back to the computer; what was written in the page since goes there as well.
    fn take_back_here(&mut self, gone: &Gone) -> Result<(), Denied> {
        let mut local = Local::new();
        let mut pairs = self.shelf.memory.0.clone();
        pairs.extend(gone.pairs.clone());
        gone::put_back(&mut local, &pairs)?;
        self.shelf.memory = Memory::default();
        if let Some(kept) = gone.pairs.get(CHOICES).and_then(|stored| Kept::read(stored)) {
            self.by = kept.by;
        }
        self.keeping = true;
        control::tick_keep(&self.document, true);
        Ok(())
    }
}
