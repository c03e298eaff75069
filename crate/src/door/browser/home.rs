//! The door of the patient's page: its events, what is kept on the phone, sound. No rules of any floor.

mod keep;
mod offline;
pub mod sound;

use super::aside;
use super::slots::{Place, keeping_focus};
use crate::catalog::Catalog;
use crate::diary;
use crate::home::act::Act;
use crate::home::view::View;
use crate::home::{Around, Effect, Home, Keeping, Opening, Region, is_in_app};
use crate::link::Shared;
use crate::link::fault::{Fault, Kind};
use std::cell::RefCell;
use std::rc::{Rc, Weak};
use wasm_bindgen::prelude::{Closure, wasm_bindgen};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Document, Element, Event, EventTarget, HtmlElement, HtmlInputElement, HtmlStyleElement};
use web_sys::{HtmlTextAreaElement, KeyboardEvent, PopStateEvent, Window};

/// Called once by the boot script of the patient's page.
#[wasm_bindgen]
pub fn open_home() -> Result<(), JsValue> {
    std::panic::set_hook(Box::new(|fault| {
        let words = fault.to_string();
        web_sys::console::error_1(&JsValue::from_str(&words));
        let told = web_sys::window().and_then(|w| w.document()).and_then(|d| d.get_element_by_id("told"));
        if let Some(told) = told {
            told.set_text_content(Some(
                "Something went wrong on this page. What you ticked is kept. Load the page again, or use your paper sheet.",
            ));
        }
    }));
    let mut page = Page::find().ok_or("the page is not as it was built")?;
    offline::keep_page(&page.window, &page.document);
    page.begin();
    page.redraw();
    listen(page)
}

struct Page {
    window: Window,
    document: Document,
    places: Vec<(Region, Place)>,
    home: Home,
    /// Plans that came in this visit, by key, with the part of the address that they came by.
    came: Vec<(String, String)>,
    /// What is behind the lock that is asked about.
    sealed: Option<String>,
    /// The page itself, for what is answered later.
    me: Weak<RefCell<Page>>,
    sound: sound::Sound,
    /// When the timer was last told of the time, milliseconds since the page began.
    told_at: f64,
    /// A look at the clock is already asked for.
    is_ticking: bool,
    has_asked_to_persist: bool,
}

impl Page {
    fn find() -> Option<Page> {
        let window = web_sys::window()?;
        let document = window.document()?;
        let places = Region::ALL
            .iter()
            .map(|region| Some((*region, Place::new(document.get_element_by_id(region.id())?))))
            .collect::<Option<Vec<_>>>()?;
        let around = Around {
            served: !window.location().protocol().is_ok_and(|p| p == "file:"),
            in_app: window.navigator().user_agent().is_ok_and(|agent| is_in_app(&agent)),
            can_buzz: sound::can_buzz(&window),
            still: window
                .match_media("(prefers-reduced-motion: reduce)")
                .is_ok_and(|m| m.is_some_and(|m| m.matches())),
        };
        let home = Home::new(around, super::today());
        Some(Page {
            window,
            document,
            places,
            home,
            came: Vec::new(),
            sealed: None,
            me: Weak::new(),
            sound: sound::Sound::default(),
            told_at: 0.0,
            is_ticking: false,
            has_asked_to_persist: false,
        })
    }

    /// What is kept comes first, then what the address brings.
    fn begin(&mut self) {
        // Read before the kept plan is shown: showing one clears the address.
        let came = self.fragment();
        match keep::storage() {
            None => self.home.keeping = Keeping::Forbidden,
            // On a file, what is there was kept because it was wanted.
            Some(storage) if keep::now(&storage).is_some() => self.home.keeping = Keeping::Kept,
            Some(_) => {}
        }
        self.home.switches = keep::storage().map(|s| keep::switches(&s)).unwrap_or_default();
        let kept = self.kept_storage().and_then(|s| keep::now(&s));
        if let Some(key) = kept {
            self.show_kept(&key);
        }
        self.list_others();
        self.open_fragment(&came);
    }

    /// What stands behind the `#` of the address.
    fn fragment(&self) -> String {
        self.window.location().hash().unwrap_or_default().trim_start_matches('#').to_string()
    }

    fn open_fragment(&mut self, fragment: &str) {
        if !fragment.is_empty() {
            self.open_link(fragment);
        }
    }

    /// Looks at the day and at what is kept again: a page that was put by overnight wakes on another day, and another
    /// window may have ticked.
    fn look_again(&mut self) {
        self.home.today = super::today();
        if self.home.keeping == Keeping::Kept
            && let (Some(storage), Some(key)) = (keep::storage(), self.home.key().map(str::to_string))
        {
            match keep::diary(&storage, &key) {
                keep::Found::Diary(diary) => self.home.take_diary(diary),
                keep::Found::SetAside => {
                    self.home.set_aside = true;
                    // What is on the page was not torn.
                    self.keep_diary();
                }
            }
        }
    }

    /// The storage, where the page may keep things in it.
    fn kept_storage(&self) -> Option<web_sys::Storage> {
        let may = matches!(self.home.keeping, Keeping::Kept | Keeping::Full);
        keep::storage().filter(|_| may)
    }

    fn open_link(&mut self, fragment: &str) {
        match opened(fragment) {
            Ok(shared) => self.offered(fragment, shared),
            Err(fault) if fault.kind == Kind::Sealed => {
                self.sealed = Some(fragment.to_string());
                self.home.opening = Opening::Sealed { wrong: false, busy: false };
            }
            Err(fault) => self.home.opening = Opening::Refused(fault),
        }
    }

    /// A plan came. It is kept before anything is asked, so that it can't be lost.
    fn offered(&mut self, fragment: &str, shared: Shared) {
        let key = diary::key(&shared.text);
        self.came.retain(|(k, _)| *k != key);
        self.came.push((key.clone(), fragment.to_string()));
        let result = self.kept_storage().map(|s| keep::plan(&s, &key, fragment));
        self.heed(result);
        if self.home.offer(&shared) {
            self.show(shared);
        } else {
            self.list_others();
        }
    }

    fn show(&mut self, shared: Shared) {
        let key = diary::key(&shared.text);
        let mut diary = diary::Diary::default();
        // What could not be kept stays on the page, also when the same link is opened again.
        if self.home.key() == Some(&key) && self.home.keeping != Keeping::Kept {
            diary = self.home.diary().cloned().unwrap_or_default();
        } else if let Some(storage) = self.kept_storage() {
            match keep::diary(&storage, &key) {
                keep::Found::Diary(kept) => diary = kept,
                keep::Found::SetAside => self.home.set_aside = true,
            }
        }
        self.home.show(shared, diary);
        let result = self.kept_storage().map(|s| keep::set_now(&s, &key));
        self.heed(result);
        self.clear_address();
        self.list_others();
    }

    fn show_kept(&mut self, key: &str) {
        let came = self.came.iter().find(|(k, _)| k == key).map(|(_, fragment)| fragment.clone());
        let fragment = came.or_else(|| self.kept_storage().and_then(|s| keep::fragment(&s, key)));
        match fragment.as_deref().map(|f| (f, opened(f))) {
            Some((_, Ok(shared))) => self.show(shared),
            Some((fragment, Err(fault))) if fault.kind == Kind::Sealed => {
                self.sealed = Some(fragment.to_string());
                self.home.opening = Opening::Sealed { wrong: false, busy: false };
            }
            Some((_, Err(fault))) => self.home.opening = Opening::Refused(fault),
            None => {}
        }
    }

    /// Plans kept here besides the one that is shown.
    fn list_others(&mut self) {
        let mine = self.home.key().map(str::to_string);
        let mut all = self.kept_storage().map(|s| keep::plans(&s)).unwrap_or_default();
        for (key, fragment) in &self.came {
            if !all.iter().any(|(k, _)| k == key) {
                all.push((key.clone(), fragment.clone()));
            }
        }
        all.retain(|(key, _)| Some(key) != mine.as_ref());
        self.home.others = all
            .into_iter()
            .map(|(key, fragment)| {
                let issued = opened(&fragment).ok().and_then(|shared| shared.issued);
                crate::home::Other { key, issued }
            })
            .collect();
    }

    /// Takes the plan out of the address bar once it is kept, so that it isn't passed on by accident.
    fn clear_address(&self) {
        let location = self.window.location();
        if self.home.keeping != Keeping::Kept || location.hash().is_ok_and(|h| h.is_empty()) {
            return;
        }
        let Ok(path) = location.pathname() else { return };
        let path = path + &location.search().unwrap_or_default();
        if let Ok(history) = self.window.history() {
            let state = JsValue::from_str(&self.home.view.name());
            let _ = history.replace_state_with_url(&state, "", Some(&path));
        }
    }

    /// Notes whether keeping went well.
    fn heed(&mut self, result: Option<Result<(), Keeping>>) {
        match result {
            None => {}
            Some(Ok(())) => self.home.keeping = Keeping::Kept,
            Some(Err(fault)) => self.home.keeping = fault,
        }
    }

    fn act(&mut self, act: Act) {
        self.look_again();
        self.sound.wake(self.home.switches.sound || act == Act::Sound(true));
        self.told_at = self.clock();
        let was_still = self.home.timer.is_none();
        for effect in self.home.act(act) {
            self.effect(effect);
        }
        self.redraw();
        if was_still && self.home.timer.is_some() {
            self.to_the_counter();
        }
    }

    /// On a phone the counter begins below what was in view when it was started.
    fn to_the_counter(&self) {
        let buttons = self.document.query_selector("#view .timing").ok().flatten();
        if let Some(buttons) = buttons {
            buttons.scroll_into_view_with_bool(false);
        }
    }

    fn effect(&mut self, effect: Effect) {
        match effect {
            Effect::Moved => self.moved(),
            Effect::Diary => self.keep_diary(),
            Effect::Switches => {
                let result = self.kept_storage().map(|s| keep::set_switches(&s, self.home.switches));
                self.heed(result);
            }
            Effect::Keep => {
                for (key, fragment) in self.came.clone() {
                    let result = self.kept_storage().map(|s| keep::plan(&s, &key, &fragment));
                    self.heed(result);
                }
                if let Some(key) = self.home.key().map(str::to_string) {
                    let result = self.kept_storage().map(|s| keep::set_now(&s, &key));
                    self.heed(result);
                }
                self.keep_diary();
                self.clear_address();
            }
            Effect::Forget => {
                if let Some(storage) = keep::storage() {
                    keep::forget(&storage);
                }
                offline::forget(&self.window);
                self.came.clear();
                self.sealed = None;
                self.lay_handout();
                if let (Ok(history), Ok(path)) = (self.window.history(), self.window.location().pathname()) {
                    let _ = history.replace_state_with_url(&JsValue::from_str("today"), "", Some(&path));
                }
            }
            Effect::Print => {
                self.lay_handout();
                let window = self.window.clone();
                // Printing waits in some browsers; the listeners must be free by then.
                let print = Closure::once_into_js(move || window.print());
                let _ = self.window.set_timeout_with_callback(print.unchecked_ref());
            }
            Effect::Show(key) => self.show_kept(&key),
            Effect::Use(shared) => self.show(*shared),
            Effect::Renew => offline::renew(&self.window),
            Effect::Paste => {
                let field = self.document.get_element_by_id("link");
                let typed = field.and_then(|e| e.dyn_into::<HtmlTextAreaElement>().ok()).map(|e| e.value());
                let typed: String = typed.unwrap_or_default().split_whitespace().collect();
                let fragment = typed.split_once('#').map_or(typed.as_str(), |(_, f)| f).to_string();
                self.open_link(&fragment);
                self.home.view = View::Today;
            }
            Effect::Unseal => self.unseal(),
        }
    }

    /// Opens a sealed link with the words that were typed. What is kept from then on is the open plan: the words
    /// are asked for once.
    fn unseal(&mut self) {
        let Some(sealed) = self.sealed.clone() else { return };
        let field = self.document.get_element_by_id("phrase");
        let typed = field.and_then(|e| e.dyn_into::<HtmlInputElement>().ok()).map(|e| e.value());
        let typed = typed.unwrap_or_default().replace(['\n', '\r'], " ");
        self.home.opening = Opening::Sealed { wrong: false, busy: true };
        let page = self.me.clone();
        aside::run(format!("unseal\n{sealed}\n{typed}"), move |answer| {
            let Some(page) = page.upgrade() else { return };
            let Ok(mut held) = page.try_borrow_mut() else { return };
            match answer.split_once('\n') {
                Some(("good", fragment)) => {
                    held.sealed = None;
                    held.open_link(fragment);
                    held.home.view = View::Today;
                }
                Some((_, sentence)) if sentence != Fault::of(Kind::Passphrase).sentence => {
                    let fault = Fault { sentence: sentence.to_string(), ..Fault::of(Kind::Sealed) };
                    held.home.opening = Opening::Refused(fault);
                }
                _ => held.home.opening = Opening::Sealed { wrong: true, busy: false },
            }
            held.redraw();
            if held.sealed.is_none() {
                held.to_the_head();
            }
        });
    }

    fn keep_diary(&mut self) {
        let text = self.home.diary().map(diary::stored::write);
        if let (Some(key), Some(text)) = (self.home.key().map(str::to_string), text) {
            let result = self.kept_storage().map(|s| keep::set_diary(&s, &key, &text));
            self.heed(result);
            if self.home.keeping == Keeping::Kept && !std::mem::replace(&mut self.has_asked_to_persist, true)
            {
                keep::persist(&self.window);
            }
        }
    }

    /// Another view: the browser's own way back leads to the one before.
    fn moved(&mut self) {
        let name = self.home.view.name();
        let history = self.window.history();
        if let Ok(history) = history {
            let known = history.state().ok().and_then(|s| s.as_string());
            if known.as_deref() != Some(name.as_str()) {
                let _ = history.push_state_with_url(&JsValue::from_str(&name), "", None);
            }
        }
        self.redraw();
        self.to_the_head();
    }

    fn to_the_head(&self) {
        self.window.scroll_to_with_x_and_y(0.0, 0.0);
        let head = self.document.get_element_by_id("head").and_then(|e| e.dyn_into::<HtmlElement>().ok());
        if let Some(head) = head {
            let _ = head.focus();
        }
    }

    fn redraw(&mut self) {
        let (document, places, home) = (&self.document, &mut self.places, &mut self.home);
        let answer = home.answer();
        keeping_focus(document, "head", || {
            for (region, slots) in answer {
                if let Some((_, place)) = places.iter_mut().find(|(r, _)| *r == region) {
                    place.put(document, slots);
                }
            }
        });
    }

    /// Milliseconds since the page began.
    fn clock(&self) -> f64 {
        self.window.performance().map_or(0.0, |p| p.now())
    }

    /// Tells the timer how much time has passed.
    fn pass(&mut self) {
        let now = self.clock();
        let ms = (now - self.told_at).clamp(0.0, 3.6e6);
        self.told_at = now;
        let signs = self.home.pass(ms as u32);
        for sign in signs {
            if self.home.switches.sound {
                self.sound.give(sign);
            }
            if self.home.switches.buzz {
                sound::buzz(&self.window, sign);
            }
        }
        self.redraw();
    }

    fn is_counting(&self) -> bool {
        self.home.moves.is_some() || self.home.timer.as_ref().is_some_and(|t| t.running)
    }

    /// Lays the sheet in the part of the page that is printed.
    fn lay_handout(&mut self) {
        let html = self.home.handout();
        let letter = self.home.paper == crate::handout::Paper::Letter;
        for (id, other) in [("style-page-a4", letter), ("style-page-letter", !letter)] {
            let style = self.document.get_element_by_id(id);
            if let Some(style) = style.and_then(|e| e.dyn_into::<HtmlStyleElement>().ok()) {
                style.set_disabled(other);
            }
        }
        if let (Some(handout), Some(body)) =
            (self.document.get_element_by_id("handout"), self.document.body())
        {
            handout.set_inner_html(html.as_ref().map_or("", |h| h.as_str()));
            body.set_class_name(if html.is_some() { "has-sheet" } else { "" });
        }
    }
}

/// Opens what a link carries.
fn opened(fragment: &str) -> Result<Shared, Fault> {
    crate::link::written::open(fragment, Catalog::embedded())
}

type Held = Rc<RefCell<Page>>;

fn listen(page: Page) -> Result<(), JsValue> {
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
    on(&window, "popstate", &page, |page, event| {
        let state = event.dyn_ref::<PopStateEvent>().and_then(|e| e.state().as_string());
        page.home.go(state.and_then(|name| View::named(&name)).unwrap_or_default());
        page.redraw();
        page.to_the_head();
    })?;
    on(&window, "hashchange", &page, |page, _| {
        let fragment = page.fragment();
        page.open_fragment(&fragment);
        page.redraw();
    })?;
    for (target, name) in [(&document, "visibilitychange"), (&window, "pageshow"), (&window, "storage")] {
        on(target, name, &page, |page, _| {
            // A page that goes leaves what is kept to the one that comes.
            if page.document.hidden() {
                page.home.out_of_sight();
            } else {
                page.look_again();
            }
            page.redraw();
        })?;
    }
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
