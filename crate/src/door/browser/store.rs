//! The browser's storage, as the desk uses it, and the choice whether it may.

use super::Page;
use super::shelf::{POINTER, session};
use crate::desk::choices::Kept;
use crate::desk::shelf;
use crate::desk::shelf::earlier::CHOICES;
use crate::desk::shelf::store::{Denied, Memory, Store};
use wasm_bindgen::JsValue;
use web_sys::{DomException, Storage};

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
        })
    }

    fn remove(&mut self, key: &str) -> Result<(), Denied> {
        self.reach()?.remove_item(key).map_err(|_| Denied::Forbidden)
    }

    fn keys(&self) -> Result<Vec<String>, Denied> {
        let storage = self.reach()?;
        let count = storage.length().map_err(|_| Denied::Forbidden)?;
        let keys = (0..count).filter_map(|i| storage.key(i).ok().flatten());
        Ok(keys.filter(|key| key.starts_with(self.ours)).collect())
    }
}

impl Page {
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
