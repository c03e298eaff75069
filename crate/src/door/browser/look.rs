//! The last look before something is printed or a link is copied.

use super::events::Shared;
use super::slots::keeping_focus;
use super::{Page, link};
use crate::desk::look::{self, Concern, Doing};
use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::HtmlElement;

impl Page {
    /// What is on view for a last look goes: it was decided, or the text has changed.
    pub fn look_away(&mut self) {
        if self.looking.take().is_some() {
            self.show_look();
        }
    }

    fn show_look(&mut self) {
        let slots = self.looking.as_ref().map_or_else(Vec::new, |(doing, list)| look::slots(list, *doing));
        let (document, place) = (&self.document, &mut self.look_place);
        keeping_focus(document, "text", || place.put(document, slots));
    }

    /// What is still to be decided; each is asked about once.
    fn concerns(&mut self, doing: Doing) -> Vec<Concern> {
        let ask = super::ask(&self.history, self.week, self.line, &self.hidden, &self.panel, None, None);
        let mut concerns = self.desk.look(&ask, doing);
        concerns.retain(|concern| !self.decided.contains(&concern.words));
        concerns
    }
}

/// Does it, or first shows what to look at once more.
pub fn before(page: &Shared, doing: Doing) {
    let Ok(mut held) = page.try_borrow_mut() else { return };
    let concerns = held.concerns(doing);
    if concerns.is_empty() {
        held.look_away();
        drop(held);
        return go(page, doing);
    }
    held.looking = Some((doing, concerns));
    held.show_look();
    let head = held.document.get_element_by_id("look-head");
    if let Some(head) = head.and_then(|e| e.dyn_into::<HtmlElement>().ok()) {
        let _ = head.focus();
    }
}

/// It is to be done all the same.
pub fn all_the_same(page: &Shared) {
    let Ok(mut held) = page.try_borrow_mut() else { return };
    let Some((doing, concerns)) = held.looking.take() else { return };
    held.decided.extend(concerns.into_iter().map(|concern| concern.words));
    held.show_look();
    drop(held);
    go(page, doing);
}

fn go(page: &Shared, doing: Doing) {
    match doing {
        Doing::Link => link::make(page),
        Doing::Print => print(page),
    }
}

fn print(page: &Shared) {
    let Ok(mut held) = page.try_borrow_mut() else { return };
    held.lay_handout();
    if let Some(window) = web_sys::window() {
        // Printing waits in some browsers; the listeners must be free by then.
        let print = Closure::once_into_js(move || window.print());
        if let Some(window) = web_sys::window() {
            let _ = window.set_timeout_with_callback(print.unchecked_ref());
        }
    }
}
