//! The controls for how a prescription is handed over, and keeping the text on this computer.

use super::Page;
use crate::desk::choices::{self, Choices, Kept};
use wasm_bindgen::JsCast;
use web_sys::{Document, HtmlInputElement, HtmlSelectElement, HtmlStyleElement, Storage};

/// The one key under which the desk keeps anything.
const KEY: &str = "layfigure desk";

/// A stored thing that could not be read is set aside here, never overwritten.
const ASIDE: &str = "layfigure desk, unread";

pub const CONTROLS: [&str; 7] = ["paper", "printed", "emergency", "home", "naming", "sealed", "keep"];

fn input(document: &Document, id: &str) -> Option<HtmlInputElement> {
    document.get_element_by_id(id)?.dyn_into().ok()
}

fn select(document: &Document, id: &str) -> Option<HtmlSelectElement> {
    document.get_element_by_id(id)?.dyn_into().ok()
}

fn value(document: &Document, id: &str) -> String {
    let typed = input(document, id).map(|e| e.value());
    typed.or_else(|| select(document, id).map(|e| e.value())).unwrap_or_default()
}

fn is_ticked(document: &Document, id: &str) -> bool {
    input(document, id).is_some_and(|e| e.checked())
}

/// What stands in the controls.
pub fn read(document: &Document) -> Choices {
    Choices {
        paper: choices::paper_of(&value(document, "paper")),
        print: choices::print_of(&value(document, "printed")),
        emergency: value(document, "emergency"),
        home: value(document, "home"),
        naming: choices::naming_of(&value(document, "naming")),
        sealed: is_ticked(document, "sealed"),
    }
}

fn write(document: &Document, choices: &Choices) {
    let set = |id: &str, value: &str| {
        if let Some(e) = input(document, id) {
            e.set_value(value);
        } else if let Some(e) = select(document, id) {
            e.set_value(value);
        }
    };
    set("paper", choices::paper_word(choices.paper));
    set("printed", choices::print_word(choices.print));
    set("emergency", &choices.emergency);
    set("home", &choices.home);
    set("naming", choices::naming_word(choices.naming));
    if let Some(e) = input(document, "sealed") {
        e.set_checked(choices.sealed);
    }
}

/// Which page box is printed on: each stands in the page as a style of its own.
pub fn set_paper(document: &Document, choices: &Choices) {
    let letter = choices.paper == crate::handout::Paper::Letter;
    for (id, other) in [("style-page-a4", letter), ("style-page-letter", !letter)] {
        let style = document.get_element_by_id(id).and_then(|e| e.dyn_into::<HtmlStyleElement>().ok());
        if let Some(style) = style {
            style.set_disabled(other);
        }
    }
}

/// None where the browser forbids it.
fn storage() -> Option<Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

fn from_disk() -> bool {
    web_sys::window().and_then(|w| w.location().protocol().ok()).is_some_and(|p| p == "file:")
}

/// Where the desk is served, the patient's page stands beside it; None from a disk.
fn own_home() -> Option<String> {
    let location = web_sys::window()?.location();
    if !location.protocol().ok()?.starts_with("http") {
        return None;
    }
    let (origin, path) = (location.origin().ok()?, location.pathname().ok()?);
    let folder = path.rfind('/').and_then(|at| path.get(..=at)).unwrap_or("/");
    Some(format!("{origin}{folder}home.html"))
}

impl Page {
    /// Puts back what was kept, if the clinician chose that.
    pub fn restore(&mut self) {
        if let (Some(home), Some(own)) = (input(&self.document, "home"), own_home()) {
            home.set_value(&own);
        }
        if from_disk()
            && let Some(says) = self.document.get_element_by_id("keep-says")
        {
            says.set_text_content(Some(
                "Nothing is kept unless you choose it. This page was opened from a disk: other pages opened from a disk could read what is kept.",
            ));
        }
        let Some(stored) = storage().and_then(|s| s.get_item(KEY).ok().flatten()) else { return };
        let Some(kept) = Kept::read(&stored) else {
            if let Some(storage) = storage()
                && storage.set_item(ASIDE, &stored).is_ok()
            {
                let _ = storage.remove_item(KEY);
            }
            self.say("What was kept on this computer could not be read. It was set aside, and nothing was lost. “Forget all” deletes it.");
            return;
        };
        self.keeping = true;
        self.by = kept.by;
        if let Some(keep) = input(&self.document, "keep") {
            keep.set_checked(true);
        }
        write(&self.document, &kept.choices);
        self.text.set_value(&kept.text);
        self.history = crate::desk::history::History::new(&kept.text);
    }

    /// A control was changed.
    pub fn chosen(&mut self) {
        self.choices = read(&self.document);
        let keep = is_ticked(&self.document, "keep");
        if keep != self.keeping {
            self.keeping = keep;
            if keep {
                self.say("From now on the text and these choices are kept on this computer.");
            } else {
                self.forget_stored();
                self.say("Nothing is kept on this computer any more.");
            }
        }
        self.outdate_link();
        self.keep();
    }

    /// Keeps the text and the choices, if that was chosen.
    pub fn keep(&mut self) {
        if !self.keeping {
            return;
        }
        let text = self.history.text().to_string();
        if let Some(by) = choices::by(&text) {
            self.by = by;
        }
        let kept = Kept { text, by: self.by.clone(), choices: self.choices.clone() };
        match storage().map(|storage| storage.set_item(KEY, &kept.write())) {
            Some(Ok(())) => self.kept_failed = false,
            // Said once, not at every key.
            failed if !self.kept_failed => {
                self.kept_failed = true;
                self.say(if failed.is_some() {
                    "This computer’s storage is full: what you type from now on is not kept. Save it to a file."
                } else {
                    "This browser forbids keeping anything: what you type is not kept. Save it to a file."
                });
            }
            _ => {}
        }
    }

    /// Deletes everything that the desk has kept, and says so.
    pub fn forget(&mut self) {
        let all = self.forget_stored();
        self.keeping = false;
        self.by = String::new();
        if let Some(keep) = input(&self.document, "keep") {
            keep.set_checked(false);
        }
        self.say(if all {
            "All that was kept on this computer is deleted. The text on the page stays until you close it."
        } else {
            "This browser did not let its storage be reached, so nothing could be deleted there."
        });
    }

    fn forget_stored(&self) -> bool {
        storage().is_some_and(|s| s.remove_item(KEY).is_ok() && s.remove_item(ASIDE).is_ok())
    }

    /// One sentence on what was just done.
    pub fn say(&self, words: &str) {
        if let Some(said) = self.document.get_element_by_id("said") {
            said.set_text_content(Some(words));
        }
    }

    /// Begins an empty prescription, signed as the last one was; undo brings the old text back.
    pub fn begin(&mut self) {
        let by = choices::by(self.history.text()).filter(|by| !by.is_empty());
        if let Some(by) = by {
            self.by = by;
        }
        let blank = choices::blank(&self.by, super::today());
        self.week = None;
        self.replace_all(&blank);
        self.go_to(1);
        self.say("A new prescription. Ctrl Z brings the last text back.");
    }
}
