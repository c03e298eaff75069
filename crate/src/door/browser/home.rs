//! The door of the patient's page. No rules of any floor.

mod offline;

use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

/// Called once by the boot script of the patient's page.
#[wasm_bindgen]
pub fn open_home() -> Result<(), JsValue> {
    let window = web_sys::window().ok_or("no window")?;
    let document = window.document().ok_or("no document")?;
    offline::keep_page(&window, &document);
    Ok(())
}
