//! The controls for how a prescription is handed over, and keeping the text on this computer.

use super::Page;
use super::store::Local;
use crate::desk::choices::{self, Choices, Kept};
use crate::desk::shelf::earlier::{self, CHOICES, Earlier};
use crate::desk::shelf::store::{Denied, Store, set_aside};
use crate::desk::shelf::told::recovered;
use crate::link::share::Named;
use wasm_bindgen::JsCast;
use web_sys::{Document, HtmlInputElement, HtmlSelectElement, HtmlStyleElement};

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
        naming: Named::of(&value(document, "naming")),
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
    set("naming", choices.naming.word());
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

/// Sets the box that says whether anything is kept.
pub fn tick_keep(document: &Document, ticked: bool) {
    if let Some(keep) = input(document, "keep") {
        keep.set_checked(ticked);
    }
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
        let mut local = Local::new();
        let told = |set_aside: bool| {
            set_aside.then(|| "Something that was kept on this computer could not be read. It was set aside, and nothing was lost. “Delete everything stored here” deletes it.".to_string())
        };
        let mut words = match earlier::take_over(&mut local, super::shelf::now()) {
            Ok(earlier) => told(earlier == Earlier::SetAside),
            Err(_) => self.show_earlier(&local),
        };
        let stored = local.get(CHOICES).ok().flatten();
        match stored.as_deref().map(Kept::read) {
            Some(Some(kept)) => {
                self.keeping = true;
                self.by = kept.by;
                tick_keep(&self.document, true);
                write(&self.document, &kept.choices);
                self.reopen();
            }
            Some(None) => {
                // That something stands there says that keeping was chosen.
                let usual = Kept { choices: read(&self.document), ..Kept::default() };
                let is_apart = set_aside(&mut local, CHOICES).is_ok();
                let is_on = is_apart && local.set(CHOICES, &usual.write()).is_ok();
                if is_on {
                    self.keeping = true;
                    tick_keep(&self.document, true);
                    self.reopen();
                }
                words = recovered(&local, true, is_on);
            }
            None => words = words.or_else(|| recovered(&local, false, false)),
        }
        if let Some(words) = words {
            self.say(&words);
        }
    }

    /// What an earlier page kept could not be moved; it stays where it is, and is shown.
    fn show_earlier(&mut self, local: &Local) -> Option<String> {
        let kept = Kept::read(&local.get(earlier::KEY).ok().flatten()?)?;
        self.by = kept.by;
        self.text.set_value(&kept.text);
        self.history = crate::desk::history::History::new(&kept.text);
        Some(
            "What was kept here earlier is on the page, but there was no room to put it in the list of prescriptions. It stays where it was; save it to a file.".into(),
        )
    }

    /// A control was changed.
    pub fn chosen(&mut self) {
        self.choices = read(&self.document);
        let keep = is_ticked(&self.document, "keep");
        if keep && !self.keeping {
            let words = match self.begin_keeping(&self.kept_choices()) {
                Ok(()) => "From now on prescriptions and these choices are kept on this computer.",
                Err(denied) => {
                    tick_keep(&self.document, false);
                    match denied {
                        Denied::Full => {
                            "This computer’s storage is full, so nothing can be kept. Save to a file instead."
                        }
                        Denied::Forbidden => "This browser forbids keeping anything. Save to a file instead.",
                    }
                }
            };
            self.say(words);
        } else if !keep && self.keeping {
            let many = self.end_keeping();
            let stay = match many {
                0 => String::new(),
                1 => " The prescription stays in this page until you close it: save it to a file if you need it.".into(),
                n => format!(" The {n} prescriptions stay in this page until you close it: save them to a file if you need them."),
            };
            self.say(&format!("Nothing is kept on this computer any more.{stay}"));
        } else if self.keeping {
            self.keep_choices();
        }
        self.outdate_link();
        self.keep();
    }

    /// The choices and who signed last, as they are stored.
    fn kept_choices(&self) -> Kept {
        Kept { text: String::new(), by: self.by.clone(), choices: self.choices.clone() }
    }

    fn keep_choices(&self) {
        let mut local = Local::new();
        // Unless another window has just forgotten everything. Where it is denied, the text will be too, which says so.
        if local.get(CHOICES).is_ok_and(|stored| stored.is_some()) {
            let _ = local.set(CHOICES, &self.kept_choices().write());
        }
    }

    /// Keeps the text: on this computer if that was chosen, else in the page.
    pub fn keep(&mut self) {
        let by = choices::by(self.history.text()).filter(|by| *by != self.by);
        if let Some(by) = by {
            self.by = by;
            if self.keeping {
                self.keep_choices();
            }
        }
        self.keep_text();
    }

    /// One sentence on what was just done.
    pub fn say(&self, words: &str) {
        if let Some(said) = self.document.get_element_by_id("said") {
            said.set_text_content(Some(words));
        }
    }

    /// Begins an empty prescription, signed as the last one was, beside the one on the page.
    pub fn begin(&mut self) {
        let by = choices::by(self.history.text()).filter(|by| !by.is_empty());
        if let Some(by) = by {
            self.by = by;
        }
        let blank = self.blank();
        if self.begin_with(&blank, true) {
            self.say("A new prescription. The last one stands under “Prescriptions”.");
        }
    }

    /// The text that a new prescription begins with.
    pub fn blank(&self) -> String {
        choices::blank(&self.by, super::today())
    }
}
