//! Makes the patient's link aside, locks it if that was chosen, and hands it to the clipboard.

use super::events::Shared;
use super::{Page, aside, clipboard, today};
use crate::desk::choices::Choices;
use crate::desk::given::{self, Given, Link};
use crate::link::{sealed, share, work};
use crate::week::model::Limit;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, HtmlInputElement};

/// What a link is made of. If any of it has changed when the link is there, the link is old.
struct From {
    text: String,
    choices: Choices,
    home: String,
    /// The words that will lock it, and the salt.
    lock: Option<(String, String)>,
}

impl Page {
    /// Shows what is wrong with the address, and leads to it.
    fn ask_for_home(&self, sentence: &str) {
        self.say(sentence);
        if let Some(how) = self.document.get_element_by_id("how") {
            let _ = how.set_attribute("open", "");
        }
        if let Some(home) = self.document.get_element_by_id("home")
            && let Ok(home) = home.dyn_into::<HtmlElement>()
        {
            let _ = home.focus();
        }
    }

    /// What was made is no longer what the text says; nor is what was to be looked at once more.
    pub fn outdate_link(&mut self) {
        self.look_away();
        self.put_record_away();
        if let Link::Made(given) = &mut self.given
            && !given.old
        {
            given.old = true;
            self.show_given();
        }
    }

    pub fn put_link_away(&mut self) {
        self.look_away();
        self.stop_link();
        self.say("");
    }

    /// Gives up what is being made, and takes away what was.
    pub fn stop_link(&mut self) {
        if let Some(job) = self.link_job.take() {
            job.stop();
        }
        self.give(Link::None);
    }

    fn give(&mut self, link: Link) {
        self.given = link;
        self.show_given();
    }

    fn show_given(&mut self) {
        let slots = given::slots(&self.given);
        let document = self.document.clone();
        super::slots::keeping_focus(&document, "copy", || self.given_place.put(&document, slots));
    }

    fn from(&self, home: String) -> Result<From, String> {
        let lock = if self.choices.sealed {
            let (Some(random), Some(salt)) = (random::<{ sealed::RANDOM }>(), random::<{ sealed::SALT }>())
            else {
                return Err("This browser gives no random numbers, so nothing can be sealed in it.".into());
            };
            Some((sealed::propose(&random), salt.iter().map(|byte| format!("{byte:02x}")).collect()))
        } else {
            None
        };
        Ok(From { text: self.history.text().to_string(), choices: self.choices.clone(), home, lock })
    }

    /// The link is there: the fragment of its address.
    fn made(&mut self, from: &From, fragment: &str) {
        let (read, _) = crate::prescription::read(&from.text);
        let named = read.patient.is_some() && from.choices.naming != share::Named::Not;
        self.give(Link::Made(Given {
            address: format!("{}#{fragment}", from.home),
            passphrase: from.lock.as_ref().map(|(words, _)| words.clone()),
            named,
            old: self.history.text() != from.text || self.choices != from.choices,
        }));
    }
}

/// Makes the link and copies it. It is made aside, since its weeks may take seconds; what is to be locked then goes
/// aside once more.
pub fn make(page: &Shared) {
    let Ok(mut held) = page.try_borrow_mut() else { return };
    let home = match given::home_address(&held.choices.home) {
        Ok(home) => home,
        Err(sentence) => return held.ask_for_home(&sentence),
    };
    held.stop_link();
    let from = match held.from(home) {
        Ok(from) => from,
        Err(sentence) => return held.say(&sentence),
    };
    let wanted = share::Wanted {
        named: from.choices.naming,
        emergency: from.choices.emergency(),
        today: today(),
        limit: Limit::USUAL,
    };
    let ask = work::link(&from.text, &wanted);
    held.give(Link::Making);
    held.say("The link is being made…");
    do_aside(&mut held, page, ask, move |held, page, fragment| match &from.lock {
        None => {
            held.made(&from, fragment);
            held.say("The link is made. Press “Copy it”.");
            true
        }
        Some((words, salt)) => {
            let ask = format!("seal\n{fragment}\n{words}\n{salt}");
            held.say("Sealing the link. This takes a moment.");
            do_aside(held, page, ask, move |held, _, fragment| {
                held.made(&from, fragment);
                held.say("The link is sealed. Copy it, and tell the passphrase by another way.");
                false
            });
            false
        }
    });
}

/// Has something done aside; then `done` with the fragment that came of it. True: the link is to be copied at once.
fn do_aside(
    held: &mut Page,
    page: &Shared,
    ask: String,
    done: impl FnOnce(&mut Page, &Shared, &str) -> bool + 'static,
) {
    let page = Rc::clone(page);
    held.link_job = aside::run(ask, move |answer| {
        let Ok(mut held) = page.try_borrow_mut() else { return };
        held.link_job = None;
        let is_to_copy = match work::answered(&answer) {
            Ok(fragment) => done(&mut held, &page, fragment),
            Err(sentence) => {
                held.give(Link::None);
                held.say(sentence);
                false
            }
        };
        drop(held);
        if is_to_copy {
            copy(&page);
        }
    });
}

/// Copies the link on view. Where the browser refuses, the link is selected, so that one key copies it. A browser may
/// let only a click copy, and some time after one no more: then “Copy it” does.
pub fn copy(page: &Shared) {
    let Ok(held) = page.try_borrow() else { return };
    let Link::Made(given) = held.given.clone() else { return };
    let field = held.document.get_element_by_id("link").and_then(|e| e.dyn_into::<HtmlInputElement>().ok());
    let document = held.document.clone();
    let here = if given::only_here(&given.address) {
        " Its address is this computer’s own, so it opens nowhere else."
    } else {
        ""
    };
    let done = format!("The link is copied: {} characters.{here}", given.address.len());
    // Whoever writes on meanwhile keeps the cursor.
    let is_writing = held.document.active_element().is_some_and(|e| e.id() == "text");
    let by_hand = {
        let document = document.clone();
        move || {
            if is_writing {
                return clipboard::say(&document, "The link is made. Press “Copy it”.");
            }
            if let Some(field) = &field {
                field.select();
            }
            clipboard::say(
                &document,
                "This browser did not let the link be copied. It is selected: press Ctrl C.",
            );
        }
    };
    clipboard::write(&given.address, move || clipboard::say(&document, &done), by_hand);
}

pub fn random<const N: usize>() -> Option<[u8; N]> {
    let mut bytes = [0; N];
    web_sys::window()?.crypto().ok()?.get_random_values_with_u8_array(&mut bytes).ok()?;
    Some(bytes)
}
