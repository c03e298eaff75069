//! The browser's history of this tab: views that can be gone back to, and how all of it is emptied.

use super::Page;
use crate::home::Keeping;
use crate::home::trail::{Arrival, Entry};
use crate::home::view::View;
use wasm_bindgen::JsValue;
use web_sys::Storage;

/// How often everything was forgotten in this tab: the tab's own storage, which goes with it.
const FORGOTTEN: &str = "layfigure home forgotten";

fn session() -> Option<Storage> {
    web_sys::window()?.session_storage().ok().flatten()
}

/// Also by a page that stood in this tab before, or stands in it now while this one is put by.
pub fn times_forgotten() -> u32 {
    let times = session().and_then(|s| s.get_item(FORGOTTEN).ok().flatten());
    times.and_then(|times| times.parse().ok()).unwrap_or(0)
}

impl Page {
    /// The page stands at another entry of the history, or at its first. Gives the view that belongs there, and whether
    /// the address is to be looked at.
    pub fn arrive(&mut self) -> (View, bool) {
        let state = self.window.history().ok().and_then(|h| h.state().ok()).and_then(|s| s.as_string());
        // Unless a link was followed before the browser got there.
        if std::mem::take(&mut self.emptying) && state.as_deref().and_then(Entry::read).is_some() {
            self.empty();
            return (View::Today, false);
        }
        match self.trail.arrive(state.as_deref()) {
            Arrival::New(entry) => {
                self.write_over(entry, None);
                (entry.view, true)
            }
            Arrival::Known(entry) => (entry.view, true),
            Arrival::Bygone(entry) => {
                self.write_over(entry, self.bare_address().as_deref());
                (entry.view, false)
            }
        }
    }

    /// The address of the page, without a plan.
    fn bare_address(&self) -> Option<String> {
        self.window.location().pathname().ok()
    }

    /// Writes over the entry at which the page stands.
    fn write_over(&self, entry: Entry, address: Option<&str>) {
        if let Ok(history) = self.window.history() {
            let _ = history.replace_state_with_url(&JsValue::from_str(&entry.write()), "", address);
        }
    }

    /// Takes the plan out of the address bar once it is kept, so that it isn't passed on by accident.
    pub fn clear_address(&self) {
        let location = self.window.location();
        if self.home.keeping != Keeping::Kept || location.hash().is_ok_and(|h| h.is_empty()) {
            return;
        }
        let address = self.bare_address().map(|path| path + &location.search().unwrap_or_default());
        self.write_over(self.trail.here(self.home.view), address.as_deref());
    }

    /// Another view: the browser's own way back leads to the one before.
    pub fn remember_view(&mut self) {
        let Ok(history) = self.window.history() else { return };
        let known = history.state().ok().and_then(|s| s.as_string()).and_then(|s| Entry::read(&s));
        if self.emptying || known.is_some_and(|entry| entry.view == self.home.view) {
            return;
        }
        let entry = self.trail.further(self.home.view);
        let _ = history.push_state_with_url(&JsValue::from_str(&entry.write()), "", None);
    }

    /// Everything is forgotten: no entry of the page's own may open the plan again, in this tab, whoever goes back or
    /// ahead to it. The entry at hand comes first; then, once the browser has gone back to the first, [`Page::empty`].
    pub fn forget_history(&mut self) {
        self.trail.forget(times_forgotten());
        if let Some(session) = session() {
            let _ = session.set_item(FORGOTTEN, &self.trail.forgotten().to_string());
        }
        self.write_over(self.trail.here(View::Today), self.bare_address().as_deref());
        let back = i32::try_from(self.trail.back()).unwrap_or(0);
        if back == 0 {
            self.empty();
        } else if let Ok(history) = self.window.history() {
            self.emptying = history.go_with_delta(-back).is_ok();
        }
    }

    /// At the first entry of the page's own: writes over it, and cuts off all that came behind by one more.
    fn empty(&mut self) {
        let (address, first) = (self.bare_address(), self.trail.first());
        self.write_over(first, address.as_deref());
        let next = self.trail.further(View::Today);
        if let Ok(history) = self.window.history() {
            let _ = history.push_state_with_url(&JsValue::from_str(&next.write()), "", address.as_deref());
        }
    }
}
