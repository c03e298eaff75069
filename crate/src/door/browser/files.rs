//! Saves the text to a file of the clinician's choice, and opens one. Neither leaves the computer.

use super::Page;
use super::events::Shared;
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Blob, BlobPropertyBag, Document, Event, FileReader, HtmlAnchorElement, HtmlInputElement, Url};

/// A neutral name: a file's name is seen by whoever passes by.
const NAME: &str = "prescription.txt";

/// A longer file is none of ours; it could fill the memory before anyone could say so.
const MOST_BYTES: f64 = 20e6;

/// Hands the text to the browser as a file to save.
pub fn save(page: &mut Page) {
    hand_over(&page.document, NAME, "text/plain", page.history.text());
    page.shelf.safe.add(page.history.text());
}

/// Hands a file to the browser to save.
pub fn hand_over(document: &Document, name: &str, sort: &str, text: &str) {
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let options = BlobPropertyBag::new();
    options.set_type(sort);
    let address = Blob::new_with_str_sequence_and_options(&parts, &options)
        .and_then(|blob| Url::create_object_url_with_blob(&blob));
    let anchor = document.create_element("a").ok().and_then(|e| e.dyn_into::<HtmlAnchorElement>().ok());
    let (Ok(address), Some(anchor)) = (address, anchor) else { return };
    anchor.set_href(&address);
    anchor.set_download(name);
    anchor.click();
    let _ = Url::revoke_object_url(&address);
}

/// Listens for a file that is chosen to be opened: it is begun beside the one on the page, which it does not touch. A
/// file with several is brought in.
pub fn hear(page: &Shared) -> Result<(), JsValue> {
    hear_choice(page, "file", |page, text| {
        if text.trim_start().starts_with('{') {
            return page.bring_in(&text);
        }
        page.shelf.safe.add(&text);
        if page.begin_with(&text.replace("\r\n", "\n"), false) {
            page.say("The file is on the page. The last prescription stands under “Prescriptions”.");
        }
    })
}

/// Listens for a file that is chosen by the control of that name, and hands on its text.
pub fn hear_choice(page: &Shared, id: &str, act: fn(&mut Page, String)) -> Result<(), JsValue> {
    let input: HtmlInputElement = page
        .borrow()
        .document
        .get_element_by_id(id)
        .and_then(|e| e.dyn_into().ok())
        .ok_or("the page has no place to choose a file")?;
    let reader = FileReader::new()?;
    let read = reader.clone();
    let chosen = input.clone();
    let choose = Closure::<dyn FnMut()>::new(move || {
        let file = chosen.files().and_then(|files| files.get(0));
        if let Some(file) = file.as_ref().filter(|file| MOST_BYTES < file.size()) {
            let words = format!(
                "{} is larger than 20 MB: that can be no prescription, and it was not opened.",
                file.name()
            );
            if let Some(said) = chosen.owner_document().and_then(|d| d.get_element_by_id("said")) {
                said.set_text_content(Some(&words));
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
    let loaded = Rc::clone(page);
    let hand = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
        let reader = event.target().and_then(|t| t.dyn_into::<FileReader>().ok());
        let text = reader.and_then(|r| r.result().ok()).and_then(|result| result.as_string());
        if let (Some(text), Ok(mut page)) = (text, loaded.try_borrow_mut()) {
            act(&mut page, text);
        }
    });
    reader.add_event_listener_with_callback("load", hand.as_ref().unchecked_ref())?;
    hand.forget();
    Ok(())
}
