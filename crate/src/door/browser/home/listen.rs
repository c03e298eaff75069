//! What the page hears, and what it does then.

use super::{Held, Page};
use crate::home::act::Act;
use crate::home::kept;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event, EventTarget, HtmlInputElement, KeyboardEvent, StorageEvent};

pub fn listen(page: Page) -> Result<(), JsValue> {
    let document: EventTarget = page.document.clone().into();
    let window: EventTarget = page.window.clone().into();
    let page = Rc::new(RefCell::new(page));
    page.borrow_mut().me = Rc::downgrade(&page);
    on(&document, "click", &page, |page, event| {
        let Some(target) = event.target().and_then(|t| t.dyn_into::<Element>().ok()) else { return };
        let button = target.closest("[data-do]").ok().flatten();
        let act = button.and_then(|b| b.get_attribute("data-do")).and_then(|words| Act::named(&words));
        if let Some(act) = act {
            page.act(act);
        }
    })?;
    on(&document, "keydown", &page, |page, event| {
        let Some(key) = event.dyn_ref::<KeyboardEvent>().filter(|k| k.key() == "Enter") else { return };
        let field = key.target().and_then(|t| t.dyn_into::<HtmlInputElement>().ok());
        let act = field.and_then(|f| f.get_attribute("data-enter")).and_then(|words| Act::named(&words));
        if let Some(act) = act {
            page.act(act);
        }
    })?;
    on(&window, "popstate", &page, |page, _| {
        let (view, _) = page.arrive();
        page.home.go(view);
        page.redraw();
        page.to_the_head();
    })?;
    on(&window, "hashchange", &page, |page, _| {
        // An entry that was emptied, or is about to be, brings nothing; one that a link was followed to has its plan.
        if page.emptying || !page.arrive().1 {
            return;
        }
        let fragment = page.fragment();
        page.open_fragment(&fragment);
        page.redraw();
    })?;
    for (target, name) in [(&document, "visibilitychange"), (&window, "pageshow")] {
        on(target, name, &page, |page, _| {
            // A page that goes leaves what is kept to the one that comes.
            if page.document.hidden() {
                page.home.out_of_sight();
            } else {
                let _ = page.look_again();
            }
            page.redraw();
        })?;
    }
    on(&window, "storage", &page, |page, event| {
        let told = event.dyn_ref::<StorageEvent>().filter(|e| e.new_value().is_some()).and_then(|e| e.key());
        // Out of sight too: nothing may be left of what another window forgot.
        if told.as_deref() == Some(kept::FORGETTING) && (page.home.key().is_some() || !page.came.is_empty()) {
            page.close();
        } else {
            let _ = page.look_again();
        }
        page.redraw();
    })?;
    on(&window, "beforeprint", &page, |page, _| page.lay_handout())
}

/// Hears one sort of event. One that comes while another is being answered is let go.
fn on(target: &EventTarget, name: &str, page: &Held, act: fn(&mut Page, Event)) -> Result<(), JsValue> {
    let page = Rc::clone(page);
    let closure = Closure::<dyn FnMut(Event)>::new(move |event| {
        if let Ok(mut held) = page.try_borrow_mut() {
            act(&mut held, event);
            look_at_the_clock(&mut held, &page);
        }
    });
    target.add_event_listener_with_callback(name, closure.as_ref().unchecked_ref())?;
    // The page lives as long as its listeners.
    closure.forget();
    Ok(())
}

/// While something is counted or moves, looks at the clock.
fn look_at_the_clock(held: &mut Page, page: &Held) {
    if !held.is_counting() || held.is_ticking {
        return;
    }
    held.is_ticking = true;
    let page = Rc::clone(page);
    let look = Closure::once_into_js(move || {
        if let Ok(mut held) = page.try_borrow_mut() {
            held.is_ticking = false;
            held.pass();
            look_at_the_clock(&mut held, &page);
        }
    });
    let wait = if held.home.moves.is_some() { 60 } else { 200 };
    let _ = held.window.set_timeout_with_callback_and_timeout_and_arguments_0(look.unchecked_ref(), wait);
}
