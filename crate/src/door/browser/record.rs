//! Hands the text for the notes to the clipboard. Where the browser refuses, it is shown and selected, so that one key
//! copies it.

use super::events::Shared;
use super::{Page, clipboard};
use wasm_bindgen::JsCast;
use web_sys::{Document, HtmlTextAreaElement};

impl Page {
    fn record(&mut self) -> String {
        let ask = super::ask(&self.history, self.week, self.line, &self.hidden, &self.panel, None, None);
        self.desk.record(&ask)
    }

    /// What was shown is no longer what the text says.
    pub fn put_record_away(&self) {
        show(&self.document, "");
    }
}

/// Shows the text for the notes to be copied by hand; empty puts it away.
fn show(document: &Document, record: &str) {
    let Some(place) = document.get_element_by_id("record-place") else { return };
    let field = document.get_element_by_id("record").and_then(|e| e.dyn_into::<HtmlTextAreaElement>().ok());
    let Some(field) = field else { return };
    field.set_value(record);
    if record.is_empty() {
        let _ = place.set_attribute("hidden", "");
    } else {
        let _ = place.remove_attribute("hidden");
        let _ = field.focus();
        field.select();
    }
}

/// Copies the text for the notes.
pub fn copy(page: &Shared) {
    let Ok(mut held) = page.try_borrow_mut() else { return };
    held.put_record_away();
    let record = held.record();
    let document = held.document.clone();
    drop(held);
    let done = format!("The text for the notes is copied: {} lines.", record.lines().count());
    let well = {
        let document = document.clone();
        move || clipboard::say(&document, &done)
    };
    let words = record.clone();
    clipboard::write(&words, well, move || {
        show(&document, &record);
        clipboard::say(
            &document,
            "This browser did not let the text for the notes be copied. It is selected: press Ctrl C.",
        );
    });
}
