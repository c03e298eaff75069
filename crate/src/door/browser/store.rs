//! The browser's storage, as the desk uses it, and the choice whether it may.

use super::Page;
use super::events::Shared;
use super::shelf::{POINTER, session};
use crate::desk::choices::Kept;
use crate::desk::shelf;
use crate::desk::shelf::earlier::CHOICES;
use crate::desk::shelf::journal;
use crate::desk::shelf::store::{Denied, Memory, Store};
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::{Closure, wasm_bindgen};
use web_sys::{DomException, Storage};

#[wasm_bindgen]
extern "C" {
    // `www/journal.js`.
    fn journal_put(id: &str, key: &str, value: &str);
    fn journal_drop(id: &str, key: &str);
    fn journal_clear();
    /// Calls `done` with a list of all notes.
    fn journal_all(done: &JsValue);
}

/// Looks for what a killed browser had noted and not yet written, and puts it in place.
pub fn look_for_lost(page: &Shared) {
    let page = Rc::clone(page);
    let answered = Closure::once_into_js(move |notes: js_sys::Array| {
        let notes: Vec<String> = notes.iter().filter_map(|note| note.as_string()).collect();
        if let (false, Ok(mut held)) = (notes.is_empty(), page.try_borrow_mut()) {
            held.recover(&notes);
            super::act::go_on(&mut held, &page);
        }
    });
    journal_all(&answered);
}

/// All that the desk keeps begins with this.
const OURS: &str = "layfigure desk";

/// The browser's storage, as far as one page's keys go; without one, everything is forbidden.
pub struct Local {
    storage: Option<Storage>,
    ours: &'static str,
}

impl Local {
    pub fn new() -> Local {
        Local::of(OURS).unwrap_or(Local { storage: None, ours: OURS })
    }

    /// The keys that begin with this; None where the browser forbids storage.
    pub fn of(ours: &'static str) -> Option<Local> {
        let storage = web_sys::window()?.local_storage().ok().flatten()?;
        Some(Local { storage: Some(storage), ours })
    }

    fn reach(&self) -> Result<&Storage, Denied> {
        self.storage.as_ref().ok_or(Denied::Forbidden)
    }
}

impl Store for Local {
    fn get(&self, key: &str) -> Result<Option<String>, Denied> {
        self.reach()?.get_item(key).map_err(|_| Denied::Forbidden)
    }

    fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
        self.reach()?.set_item(key, value).map_err(|fault: JsValue| {
            let name = DomException::from(fault).name();
            if name.contains("Quota") { Denied::Full } else { Denied::Forbidden }
        })?;
        if let Some(id) = journal::id(key) {
            journal_put(id, key, value);
        }
        Ok(())
    }

    fn remove(&mut self, key: &str) -> Result<(), Denied> {
        self.reach()?.remove_item(key).map_err(|_| Denied::Forbidden)?;
        if let Some(id) = journal::id(key) {
            journal_drop(id, key);
        }
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, Denied> {
        let storage = self.reach()?;
        let count = storage.length().map_err(|_| Denied::Forbidden)?;
        let keys = (0..count).filter_map(|i| storage.key(i).ok().flatten());
        Ok(keys.filter(|key| key.starts_with(self.ours)).collect())
    }
}

impl Page {
    fn recover(&mut self, notes: &[String]) {
        if !self.keeping {
            // Nothing is to be kept here any more: notes of it neither.
            return journal_clear();
        }
        let text = self.history.text().to_string();
        let is_untouched = self.text.value() == text && !self.history.can_undo();
        match journal::recover(&mut Local::new(), notes) {
            Ok(back) if back.is_empty() => {}
            Ok(_) => {
                if is_untouched {
                    self.reopen();
                    self.redraw();
                }
                self.redraw_shelf();
                self.say("The browser had ended before all was written. What was typed last is here again.");
            }
            Err(_) => self.say("What was typed before the browser ended could not be put back: this computer’s storage is full. Delete what you no longer need, and load the page again."),
        }
    }

    /// Keeping was chosen: what the page holds goes to the computer. An error leaves all as it was.
    pub fn begin_keeping(&mut self, choices: &Kept) -> Result<(), Denied> {
        let mut local = Local::new();
        local.set(CHOICES, &choices.write())?;
        let moved = self.shelf.memory.0.iter().try_for_each(|(key, value)| local.set(key, value));
        if moved.is_err() {
            for key in self.shelf.memory.0.keys() {
                let _ = local.remove(key);
            }
            let _ = local.remove(CHOICES);
            return moved;
        }
        self.shelf.memory = Memory::default();
        self.keeping = true;
        Ok(())
    }

    /// Keeping is no longer wanted: everything leaves the computer, and stays in the page until it is closed. Gives how
    /// many prescriptions do.
    pub fn end_keeping(&mut self) -> usize {
        let local = Local::new();
        for key in local.keys().unwrap_or_default() {
            if let (Ok(Some(value)), true) = (local.get(&key), key != CHOICES) {
                self.shelf.memory.0.insert(key, value);
            }
        }
        self.forget_stored();
        self.keeping = false;
        self.point();
        shelf::count(&self.shelf.memory)
    }

    /// Deletes every key of the desk. False where the storage can't be reached.
    pub fn forget_stored(&self) -> bool {
        let mut local = Local::new();
        let gone = local.keys().is_ok_and(|keys| keys.iter().all(|key| local.remove(key).is_ok()));
        if let Some(session) = session() {
            let _ = session.remove_item(POINTER);
        }
        gone
    }
}
