//! The view of one exercise, large: its keys, its clock, its voice.

use super::Page;
use super::events::{Shared, on};
use super::home::sound::Sound;
use super::slots::{Place, keeping_focus};
use crate::count::timer::Sign;
use crate::desk::show::{Heard, Show};
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Element, EventTarget, HtmlDialogElement, HtmlElement, KeyboardEvent, MouseEvent};
use web_sys::{SpeechSynthesisUtterance, SpeechSynthesisVoice};

/// What the page holds of the view.
#[derive(Default)]
pub struct Showing {
    show: Option<Show>,
    place: Option<Place>,
    sound: Sound,
    /// Kept from one view to the next, until the page is closed.
    aloud: bool,
    /// When the view was last told of the time, milliseconds since the page began.
    told_at: f64,
    /// A look at the clock is already asked for.
    is_ticking: bool,
}

pub fn hear(page: &Shared) -> Result<(), JsValue> {
    let document: EventTarget = page.borrow().document.clone().into();
    let dialog: EventTarget = page.borrow().dialog().ok_or("the page has no view of one exercise")?.into();
    timed(&document, "click", page, |page, event| {
        let target = event.target().and_then(|t| t.dyn_into::<Element>().ok());
        let Some(button) = target.and_then(|t| t.closest("[data-show], [data-large]").ok().flatten()) else {
            return;
        };
        if let Some(at) = button.get_attribute("data-show") {
            page.show_large(at.parse().ok());
        } else if let Some(act) = button.get_attribute("data-large") {
            page.large_act(&act);
            // Pressed by a pointer, the next key is meant for the view; pressed by a key, the next is for the button.
            if event.dyn_ref::<MouseEvent>().is_some_and(|e| 0 < e.detail()) {
                page.to_the_name();
            }
        }
    })?;
    timed(&dialog, "keydown", page, |page, event| {
        // The desk's own keys are not meant here.
        event.stop_propagation();
        let Some(key) = event.dyn_ref::<KeyboardEvent>() else { return };
        if key.ctrl_key() || key.alt_key() || key.meta_key() {
            return;
        }
        let in_button =
            key.target().and_then(|t| t.dyn_into::<Element>().ok()).is_some_and(|e| e.tag_name() == "BUTTON");
        let act = match key.key().as_str() {
            "ArrowRight" | "PageDown" => "next",
            "ArrowLeft" | "PageUp" => "back",
            " " if !in_button => "count",
            "Enter" if !in_button => "skip",
            _ => return,
        };
        event.prevent_default();
        page.large_act(act);
    })?;
    // However it was closed, by Escape too.
    on(&dialog, "close", page, |page, _| page.shown_no_more())?;
    on(&document, "visibilitychange", page, |page, _| {
        if page.document.hidden()
            && let Some(show) = &mut page.showing.show
        {
            show.moves = None;
        }
    })
}

/// As [`on`]; and looks at the clock from then on, while anything changes with time.
fn timed(
    target: &EventTarget,
    name: &str,
    page: &Shared,
    act: fn(&mut Page, web_sys::Event),
) -> Result<(), JsValue> {
    on(target, name, page, act)?;
    let page = Rc::clone(page);
    let look = Closure::<dyn FnMut()>::new(move || look_at_the_clock(&page));
    target.add_event_listener_with_callback(name, look.as_ref().unchecked_ref())?;
    look.forget();
    Ok(())
}

fn look_at_the_clock(page: &Shared) {
    let Ok(mut held) = page.try_borrow_mut() else { return };
    let Some(show) = held.showing.show.as_ref().filter(|show| show.is_live()) else { return };
    // As smooth as a figure of some sixteen instants can be; a count alone needs less.
    let wait = if show.moves.is_some() || show.is_counting() { 60 } else { 200 };
    if std::mem::replace(&mut held.showing.is_ticking, true) {
        return;
    }
    drop(held);
    let page = Rc::clone(page);
    let tick = Closure::once_into_js(move || {
        if let Ok(mut held) = page.try_borrow_mut() {
            held.showing.is_ticking = false;
            held.let_time_pass();
        }
        look_at_the_clock(&page);
    });
    if let Some(window) = web_sys::window() {
        let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(tick.unchecked_ref(), wait);
    }
}

fn clock() -> f64 {
    web_sys::window().and_then(|w| w.performance()).map_or(0.0, |p| p.now())
}

fn still() -> bool {
    let asked =
        web_sys::window().and_then(|w| w.match_media("(prefers-reduced-motion: reduce)").ok().flatten());
    asked.is_some_and(|asked| asked.matches())
}

impl Page {
    fn dialog(&self) -> Option<HtmlDialogElement> {
        self.document.get_element_by_id("show").and_then(|e| e.dyn_into().ok())
    }

    /// Shows an exercise over the whole page: this one, else the one that the cursor is in.
    fn show_large(&mut self, at: Option<usize>) {
        let at = at.unwrap_or_else(|| self.desk.exercise_of(self.line));
        if !self.desk.can_show(at) {
            return self.say("There is no exercise in the text yet, so there is nothing to show.");
        }
        let Some(dialog) = self.dialog() else { return };
        self.showing.show = Some(Show::new(at, still(), self.showing.aloud));
        self.showing.told_at = clock();
        self.redraw_large();
        if !dialog.has_attribute("open") {
            let _ = dialog.show_modal();
        }
        self.to_the_name();
    }

    fn large_act(&mut self, act: &str) {
        let (now, Some(show)) = (clock(), self.showing.show.as_mut()) else { return };
        if !show.is_live() {
            self.showing.told_at = now;
        }
        let mut sign = None;
        match act {
            "next" => self.desk.show_beside(show, false),
            "back" => self.desk.show_beside(show, true),
            "count" => self.desk.count_or_stop(show),
            "skip" => sign = show.skip(),
            "aloud" => show.aloud_or_not(),
            "move" => show.move_or_stop(),
            _ => {
                if let Some(dialog) = self.dialog() {
                    dialog.close();
                }
                return;
            }
        }
        self.showing.aloud = show.aloud;
        // Browsers let a page sound only after something was pressed.
        self.showing.sound.wake(show.aloud);
        if show.aloud {
            let word = (act == "count" && show.is_counting()).then(|| "Get ready".to_string());
            utter(&self.showing.sound, &Heard { signs: sign.into_iter().collect(), word });
        }
        if !show.is_counting() {
            hush();
        }
        self.redraw_large();
    }

    fn let_time_pass(&mut self) {
        let now = clock();
        let ms = (now - self.showing.told_at).clamp(0.0, 3.6e6);
        let Some(show) = self.showing.show.as_mut() else { return };
        self.showing.told_at = now;
        let heard = self.desk.show_for(show, ms as u32);
        if show.aloud {
            utter(&self.showing.sound, &heard);
        }
        self.redraw_large();
    }

    fn redraw_large(&mut self) {
        let Some(show) = self.showing.show.as_mut() else { return };
        let slots = self.desk.shown(show);
        if self.showing.place.is_none() {
            self.showing.place = self.document.get_element_by_id("show-view").map(Place::new);
        }
        let (document, place) = (&self.document, self.showing.place.as_mut());
        if let Some(place) = place {
            keeping_focus(document, "show-name", || place.put(document, slots));
        }
        // The name is drawn anew with each exercise, and has no name of its own to be found by.
        let is_lost =
            self.document.active_element().is_none_or(|e| e.tag_name() == "BODY" || e.tag_name() == "DIALOG");
        if is_lost && self.dialog().is_some_and(|dialog| dialog.has_attribute("open")) {
            self.to_the_name();
        }
    }

    fn to_the_name(&self) {
        let name =
            self.document.get_element_by_id("show-name").and_then(|e| e.dyn_into::<HtmlElement>().ok());
        if let Some(name) = name {
            let _ = name.focus();
        }
    }

    fn shown_no_more(&mut self) {
        self.showing.show = None;
        hush();
        if let Some(place) = &mut self.showing.place {
            place.put(&self.document, Vec::new());
        }
    }
}

/// The browser's voices. Not there in every browser.
fn voices() -> Option<web_sys::SpeechSynthesis> {
    let window = web_sys::window()?;
    js_sys::Reflect::has(&window, &JsValue::from_str("speechSynthesis")).ok().filter(|has| *has)?;
    window.speech_synthesis().ok()
}

/// A voice on this very device that speaks our words' language. A voice elsewhere would be sent them.
fn own_voice(speech: &web_sys::SpeechSynthesis) -> Option<SpeechSynthesisVoice> {
    let all = speech.get_voices();
    let mut all = all.iter().map(JsCast::unchecked_into::<SpeechSynthesisVoice>);
    all.find(|voice| voice.local_service() && voice.lang().to_lowercase().starts_with("en"))
}

/// Says the word by a voice of the device; without one, sounds tones.
fn utter(sound: &Sound, heard: &Heard) {
    let spoken = heard.word.as_ref().and_then(|word| {
        let speech = voices()?;
        let voice = own_voice(&speech)?;
        let words = SpeechSynthesisUtterance::new_with_text(word).ok()?;
        words.set_voice(Some(&voice));
        words.set_lang(&voice.lang());
        // What is late is of no use.
        speech.cancel();
        speech.speak(&words);
        Some(())
    });
    if spoken.is_none() {
        heard.signs.iter().for_each(|sign: &Sign| sound.give(*sign));
        if heard.signs.is_empty() && heard.word.is_some() {
            sound.give(Sign::Soon);
        }
    }
}

fn hush() {
    if let Some(speech) = voices() {
        speech.cancel();
    }
}
