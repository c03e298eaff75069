//! The phone's storage, as the patient's page uses it; what stands in it is [`kept`]'s matter.

use crate::door::browser::store::Local;
use crate::home::kept;
use wasm_bindgen::JsValue;
use web_sys::Window;

/// None where the browser forbids it.
pub fn storage() -> Option<Local> {
    Local::of(kept::OURS)
}

/// Asks the browser not to clear away by itself what is kept. It may say no.
pub fn persist(window: &Window) {
    let navigator = window.navigator();
    if js_sys::Reflect::has(&navigator, &JsValue::from_str("storage")).unwrap_or(false)
        && let Ok(promise) = navigator.storage().persist()
    {
        super::offline::let_be(&promise);
    }
}
