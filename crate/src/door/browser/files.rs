//! Saves the text to a file of the clinician's choice, and opens one. Neither leaves the computer.

use super::Page;
use super::events::{Shared, on};
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, FileReader, HtmlAnchorElement, HtmlInputElement, Url};

/// A neutral name: a file's name is seen by whoever passes by.
const NAME: &str = "prescription.txt";

/// A longer file is no prescription; it could fill the memory before anyone could say so.
const MOST_BYTES: f64 = 4e6;

/// Hands the text to the browser as a file to save.
pub fn save(page: &Page) {
    let parts = js_sys::Array::of1(&JsValue::from_str(page.history.text()));
    let address =
        Blob::new_with_str_sequence(&parts).and_then(|blob| Url::create_object_url_with_blob(&blob));
    let anchor = page.document.create_element("a").ok().and_then(|e| e.dyn_into::<HtmlAnchorElement>().ok());
    let (Ok(address), Some(anchor)) = (address, anchor) else { return };
    anchor.set_href(&address);
    anchor.set_download(NAME);
    anchor.click();
    let _ = Url::revoke_object_url(&address);
}

/// Listens for a file that is chosen, and puts its text in place of the whole; undo brings the old one back.
pub fn hear(page: &Shared) -> Result<(), JsValue> {
    let input: HtmlInputElement = page
        .borrow()
        .document
        .get_element_by_id("file")
        .and_then(|e| e.dyn_into().ok())
        .ok_or("the page has no place to choose a file")?;
    let reader = FileReader::new()?;
    let read = reader.clone();
    let chosen = input.clone();
    let choose = Closure::<dyn FnMut()>::new(move || {
        let file = chosen.files().and_then(|files| files.get(0));
        if let Some(file) = file.as_ref().filter(|file| MOST_BYTES < file.size()) {
            let words = format!(
                "{} is larger than 4 MB: that can be no prescription, and it was not opened.",
                file.name()
            );
            if let Some(state) = chosen.owner_document().and_then(|d| d.get_element_by_id("state")) {
                state.set_text_content(Some(&words));
            }
        } else if let Some(file) = file {
            // A reader that is busy with another file refuses; the choice can be made again.
            let _ = read.read_as_text(&file);
        }
        // So that the same file can be chosen twice.
        chosen.set_value("");
    });
    input.add_event_listener_with_callback("change", choose.as_ref().unchecked_ref())?;
    choose.forget();
    on(&reader.into(), "load", &Rc::clone(page), |page, event| {
        let reader = event.target().and_then(|t| t.dyn_into::<FileReader>().ok());
        let text = reader.and_then(|r| r.result().ok()).and_then(|result| result.as_string());
        if let Some(text) = text {
            page.replace_all(&text.replace("\r\n", "\n"));
        }
    })
}
