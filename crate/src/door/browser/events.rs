//! Hears the page's events.

use super::control::CONTROLS;
use super::{Page, act, files, link, look, record, shelf, show};
use crate::desk::Panel;
use crate::desk::act::{Act, Which};
use crate::desk::change::Change;
use crate::desk::history::Sort;
use crate::desk::look::Doing;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, Event, EventTarget, InputEvent, KeyboardEvent};

pub type Shared = Rc<RefCell<Page>>;

pub fn listen(page: Page) -> Result<(), JsValue> {
    let document: EventTarget = page.document.clone().into();
    let window: EventTarget = web_sys::window().ok_or("no window")?.into();
    let text: EventTarget = page.text.clone().into();
    let page = Rc::new(RefCell::new(page));
    on(&text, "beforeinput", &page, |page, event| before_input(page, &event))?;
    on(&text, "input", &page, |page, event| page.typed(sort(&event)))?;
    on(&text, "compositionstart", &page, |page, _| page.composing = true)?;
    on(&text, "compositionend", &page, |page, _| page.composing = false)?;
    on(&document, "keydown", &page, |page, event| {
        if let Some(event) = event.dyn_ref::<KeyboardEvent>()
            && key(page, event)
        {
            event.prevent_default();
        }
    })?;
    on(&document, "selectionchange", &page, |page, _| {
        if page.cursor_line() != page.line {
            page.offering = false;
            page.redraw();
        }
    })?;
    act::hear(&document, &page)?;
    on(&document, "change", &page, |page, event| {
        let target = event.target().and_then(|t| t.dyn_into::<Element>().ok());
        let Some(target) = target else { return };
        if CONTROLS.contains(&target.id().as_str()) {
            page.chosen();
        } else {
            page.panel_chosen(&target);
        }
    })?;
    on(&document, "click", &page, |page, event| click(page, &event))?;
    hear_handing_over(&document, &page)?;
    on(&window, "resize", &page, |page, _| page.resized())?;
    on(&window, "beforeprint", &page, |page, _| page.lay_handout())?;
    // A page that is hidden may never be asked again.
    on(&document, "visibilitychange", &page, |page, _| {
        if page.document.hidden() {
            page.flush();
        }
    })?;
    on(&window, "pagehide", &page, |page, _| page.flush())?;
    on(&window, "beforeunload", &page, |page, event| {
        if page.would_be_lost() {
            event.prevent_default();
            // For engines that look at this instead; none shows the words.
            let _ = js_sys::Reflect::set(&event, &"returnValue".into(), &"This text is kept nowhere.".into());
        }
    })?;
    shelf::hear(&page)?;
    show::hear(&page)?;
    files::hear(&page)?;
    act::go_on(&mut page.borrow_mut(), &page);
    super::store::look_for_lost(&page);
    Ok(())
}

/// Hears one sort of event. An event that comes while another is being answered (setting the text moves the
/// selection) is let go: the answer under way sees the page as it is.
pub fn on(
    target: &EventTarget,
    name: &str,
    page: &Shared,
    answer: fn(&mut Page, Event),
) -> Result<(), JsValue> {
    let page = Rc::clone(page);
    let closure = Closure::<dyn FnMut(Event)>::new(move |event| {
        if let Ok(mut held) = page.try_borrow_mut() {
            answer(&mut held, event);
            act::go_on(&mut held, &page);
        }
    });
    target.add_event_listener_with_callback(name, closure.as_ref().unchecked_ref())?;
    // The page lives as long as its listeners.
    closure.forget();
    Ok(())
}

/// What is handed over is made outside of a borrowed page, since what it waits for comes back to the page.
fn hear_handing_over(document: &EventTarget, page: &Shared) -> Result<(), JsValue> {
    let page = Rc::clone(page);
    let closure = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
        let target = event.target().and_then(|t| t.dyn_into::<Element>().ok());
        let button = target.and_then(|t| t.closest("button").ok().flatten());
        match button.map(|b| b.id()).as_deref() {
            Some("print") => look::before(&page, Doing::Print),
            Some("copy") => look::before(&page, Doing::Link),
            Some("all-the-same") => look::all_the_same(&page),
            Some("copy-again") => link::copy(&page),
            Some("copy-record") => record::copy(&page),
            _ => {}
        }
    });
    document.add_event_listener_with_callback("click", closure.as_ref().unchecked_ref())?;
    closure.forget();
    Ok(())
}

fn sort(event: &Event) -> Sort {
    match event.dyn_ref::<InputEvent>().map(InputEvent::input_type).as_deref() {
        Some("insertText" | "insertCompositionText" | "insertLineBreak") => Sort::Typing,
        Some(other) if other.starts_with("deleteContent") => Sort::Deleting,
        _ => Sort::Whole,
    }
}

/// The browser's own undo, from its menu or a gesture, is answered by ours.
fn before_input(page: &mut Page, event: &Event) {
    let back = match event.dyn_ref::<InputEvent>().map(InputEvent::input_type).as_deref() {
        Some("historyUndo") => true,
        Some("historyRedo") => false,
        _ => return,
    };
    event.prevent_default();
    page.undo(back);
}

/// Whether the key was ours.
fn key(page: &mut Page, event: &KeyboardEvent) -> bool {
    let control = event.ctrl_key() || event.meta_key();
    if control && !event.alt_key() {
        let in_text = page.document.active_element().is_some_and(|e| e.id() == "text");
        match event.key().to_lowercase().as_str() {
            "z" if in_text => page.undo(!event.shift_key()),
            "y" if in_text => page.undo(false),
            _ => return false,
        }
        return true;
    }
    if control {
        return false;
    }
    let in_text = page.document.active_element().is_some_and(|e| e.id() == "text");
    if in_text && !event.alt_key() && !event.is_composing() && page.offer_key(&event.key(), event.shift_key())
    {
        return true;
    }
    if event.key() == "Escape" && page.panel != Panel::AtHand {
        page.act(Act::Panel(Which::None));
        return true;
    }
    if !event.alt_key() {
        return false;
    }
    let change = match event.key().as_str() {
        "ArrowUp" => Some(Change::Up),
        "ArrowDown" => Some(Change::Down),
        _ => None,
    };
    if let (true, Some(change)) = (in_text, change) {
        page.change_here(change);
        return true;
    }
    // By the key's place, since Alt and Shift change what it writes.
    let digit = event.code().strip_prefix("Digit").and_then(|d| d.parse::<usize>().ok());
    let Some(index) = digit.and_then(|d| d.checked_sub(1)) else { return false };
    let Some(shown) = page.answer.shown.get(index).cloned() else { return false };
    match shown.edit.and_then(|edit| page.answer.edits.get(edit).cloned()) {
        _ if event.shift_key() => page.hide(index),
        Some(edit) => page.apply(&edit),
        None => page.go_to(shown.line),
    }
    true
}

fn click(page: &mut Page, event: &Event) {
    let Some(target) = event.target().and_then(|t| t.dyn_into::<Element>().ok()) else { return };
    let doing = target.closest("[data-do]").ok().flatten();
    if let Some(words) = doing.and_then(|e| e.get_attribute("data-do")) {
        if let Some(act) = Act::named(&words) {
            page.act(act);
        }
        return;
    }
    let Some(button) = target.closest("button").ok().flatten() else { return };
    let number = |name: &str| button.get_attribute(name).and_then(|n| n.parse::<usize>().ok());
    if let Some(edit) = number("data-edit").and_then(|index| page.answer.edits.get(index).cloned()) {
        page.apply(&edit);
    } else if let Some(index) = number("data-hide") {
        page.hide(index);
    } else if let Some(line) = number("data-go") {
        page.go_to(line);
    } else if let Some(week) = number("data-week").and_then(|week| u32::try_from(week).ok()) {
        page.show_week(week);
    } else if let Some(index) = number("data-repair") {
        page.repair(index);
    } else if button.id() == "new" {
        page.begin();
    } else if button.id() == "put-away" {
        page.put_link_away();
    } else if button.id() == "stop-link" {
        page.stop_link();
        page.say("The link was not made.");
    } else if button.id() == "look-away" {
        page.look_away();
    } else if button.id() == "save" {
        files::save(page);
    } else if button.id() == "tidy" {
        page.tidy();
    }
}
