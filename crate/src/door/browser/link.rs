//! Makes the patient's link, seals it if that was chosen, and hands it to the clipboard.

use super::events::Shared;
use super::{Page, aside, today};
use crate::desk::given::{self, Given};
use crate::link::{sealed, share, written};
use crate::week::model::Limit;
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{HtmlElement, HtmlInputElement};

impl Page {
    /// The packed link of the text, or a sentence why there is none.
    fn packed(&mut self) -> Result<(Vec<u8>, bool), String> {
        let (prescription, _) = crate::prescription::read(self.history.text());
        let wanted = share::Wanted {
            named: self.choices.naming,
            emergency: self.choices.emergency(),
            today: today(),
            limit: Limit::USUAL,
        };
        let named = prescription.patient.is_some() && self.choices.naming != share::Named::Not;
        Ok((self.desk.packed(&prescription, &wanted)?, named))
    }

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

    /// What was made is no longer what the text says.
    pub fn outdate_link(&mut self) {
        if let Some(given) = &mut self.given
            && !given.old
        {
            given.old = true;
            self.show_given();
        }
    }

    pub fn put_link_away(&mut self) {
        self.given = None;
        self.show_given();
        self.say("");
    }

    fn show_given(&mut self) {
        let slots = given::slots(self.given.as_ref());
        let document = self.document.clone();
        super::slots::keeping_focus(&document, "copy", || self.given_place.put(&document, slots));
    }
}

/// Makes the link and copies it; a sealed one first goes aside.
pub fn make(page: &Shared) {
    let Ok(mut held) = page.try_borrow_mut() else { return };
    let home = match given::home_address(&held.choices.home) {
        Ok(home) => home,
        Err(sentence) => return held.ask_for_home(&sentence),
    };
    let (packed, named) = match held.packed() {
        Ok(packed) => packed,
        Err(sentence) => return held.say(&sentence),
    };
    if !held.choices.sealed {
        held.given = Some(Given {
            address: format!("{home}#{}", written::letters(&packed)),
            passphrase: None,
            named,
            old: false,
        });
        held.show_given();
        drop(held);
        return copy(page);
    }
    held.given = None;
    held.show_given();
    let (Some(random), Some(salt)) = (random::<{ sealed::RANDOM }>(), random::<{ sealed::SALT }>()) else {
        return held.say("This browser gives no random numbers, so nothing can be sealed in it.");
    };
    let passphrase = sealed::propose(&random);
    let salt: String = salt.iter().map(|byte| format!("{byte:02x}")).collect();
    let input = format!("seal\n{}\n{passphrase}\n{salt}", written::letters(&packed));
    held.say("Sealing the link. This takes a moment.");
    drop(held);
    let page = Rc::clone(page);
    aside::run(input, move |answer| {
        let Ok(mut held) = page.try_borrow_mut() else { return };
        match answer.split_once('\n') {
            Some(("good", fragment)) => {
                let address = format!("{home}#{fragment}");
                held.given = Some(Given { address, passphrase: Some(passphrase), named, old: false });
                held.show_given();
                // A browser lets only a click copy, and this comes too long after one.
                held.say("The link is sealed. Copy it, and tell the passphrase by another way.");
            }
            other => held
                .say(other.map_or("The link could not be sealed in this browser.", |(_, sentence)| sentence)),
        }
    });
}

/// Copies the link on view. Where the browser refuses, the link is selected, so that one key copies it.
pub fn copy(page: &Shared) {
    let Ok(held) = page.try_borrow() else { return };
    let Some(given) = held.given.clone() else { return };
    let field = held.document.get_element_by_id("link").and_then(|e| e.dyn_into::<HtmlInputElement>().ok());
    let said = {
        let document = held.document.clone();
        move |words: &str| {
            if let Some(said) = document.get_element_by_id("said") {
                said.set_text_content(Some(words));
            }
        }
    };
    let here = if given::only_here(&given.address) {
        " Its address is this computer’s own, so it opens nowhere else."
    } else {
        ""
    };
    let done = format!("The link is copied: {} characters.{here}", given.address.len());
    let by_hand = move |said: &dyn Fn(&str)| {
        if let Some(field) = &field {
            field.select();
        }
        said("This browser did not let the link be copied. It is selected: press Ctrl C.");
    };
    let clipboard = web_sys::window().map(|w| w.navigator().clipboard());
    // Missing where the page is not served safely.
    let Some(clipboard) = clipboard.filter(|c| !c.is_undefined()) else { return by_hand(&said) };
    let promise = clipboard.write_text(&given.address);
    let well = {
        let said = said.clone();
        Closure::once(move |_: JsValue| said(&done))
    };
    let ill = Closure::once(move |_: JsValue| by_hand(&said));
    let _ = promise.then2(&well, &ill);
    // The browser calls one of them once, long after this.
    well.forget();
    ill.forget();
}

pub fn random<const N: usize>() -> Option<[u8; N]> {
    let mut bytes = [0; N];
    web_sys::window()?.crypto().ok()?.get_random_values_with_u8_array(&mut bytes).ok()?;
    Some(bytes)
}
