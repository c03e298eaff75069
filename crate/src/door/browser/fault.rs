//! What is said when the program stops by a fault of its own: the console gets the words and the stack, the page says
//! what to do. A worker has the console alone.

use web_sys::Element;

/// Has the element with this identifier say `words` of the fault from now on.
pub fn watch(id: &'static str, words: fn(&str) -> String) {
    std::panic::set_hook(Box::new(move |fault| {
        console_error_panic_hook::hook(fault);
        if let Some(place) = place(id) {
            place.set_text_content(Some(&words(&fault.to_string())));
        }
    }));
}

/// In a worker.
pub fn watch_aside() {
    console_error_panic_hook::set_once();
}

fn place(id: &str) -> Option<Element> {
    web_sys::window()?.document()?.get_element_by_id(id)
}
