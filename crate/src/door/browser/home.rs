//! The door of the patient's page: its events, what is kept on the phone, sound. No rules of any floor.

mod history;
mod keep;
mod listen;
mod offline;
pub mod sound;

use super::slots::{Place, keeping_focus};
use super::store::Local;
use super::{aside, fault};
use crate::catalog::Catalog;
use crate::desk::shelf::store::Denied;
use crate::diary;
use crate::home::act::Act;
use crate::home::kept;
use crate::home::trail::Trail;
use crate::home::view::View;
use crate::home::{Around, Effect, Gone, Home, Keeping, Opening, Region, is_in_app};
use crate::link::Shared;
use crate::link::fault::{Fault, Kind};
use crate::link::shed::in_one_line;
use crate::link::written::{self, Opened};
use std::cell::RefCell;
use std::rc::{Rc, Weak};
use wasm_bindgen::prelude::{Closure, wasm_bindgen};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Document, HtmlElement, HtmlInputElement, HtmlStyleElement, HtmlTextAreaElement, Window};

/// Called once by the boot script of the patient's page.
#[wasm_bindgen]
pub fn open_home() -> Result<(), JsValue> {
    fault::watch("told", |_| {
        "Something went wrong on this page. What you ticked is kept. Load the page again, or use your paper sheet."
            .into()
    });
    let mut page = Page::find().ok_or("the page is not as it was built")?;
    offline::keep_page(&page.window, &page.document);
    page.begin();
    page.redraw();
    listen::listen(page)
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
    /// The key under which the plan on view was last seen kept.
    stored_as: Option<String>,
    trail: Trail,
    /// The browser is on its way to the first of the page's own entries, since everything was forgotten.
    emptying: bool,
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
            stored_as: None,
            trail: Trail::new(history::times_forgotten()),
            emptying: false,
        })
    }

    /// What is kept comes first, then what the address brings.
    fn begin(&mut self) {
        // Read before the kept plan is shown: showing one clears the address.
        let came = if self.arrive().1 { self.fragment() } else { String::new() };
        match keep::storage() {
            None => self.home.keeping = Keeping::Forbidden,
            // On a file, what is there was kept because it was wanted.
            Some(storage) if kept::now(&storage).is_some() => self.home.keeping = Keeping::Kept,
            Some(_) => {}
        }
        self.home.switches = keep::storage().map(|s| kept::switches(&s)).unwrap_or_default();
        let kept = self.kept_storage().and_then(|s| kept::now(&s));
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
    /// window may have ticked, or forgotten everything. False where the plan is closed for that.
    fn look_again(&mut self) -> bool {
        self.home.today = super::today();
        let gone = |key: &String| keep::storage().is_some_and(|s| kept::is_gone(&s, key));
        if self.stored_as.as_ref().is_some_and(gone) || self.trail.forgotten() < history::times_forgotten() {
            self.close();
            return false;
        }
        if self.home.keeping == Keeping::Kept
            && let (Some(mut storage), Some(key)) = (keep::storage(), self.home.key().map(str::to_string))
        {
            match kept::diary(&mut storage, &key) {
                kept::Found::Diary(diary) => self.home.take_diary(diary),
                kept::Found::SetAside => {
                    self.home.set_aside = true;
                    // What is on the page was not torn.
                    self.keep_diary();
                }
            }
        }
        true
    }

    /// What was kept is gone by another window's doing: nothing of it stays here, and nothing is kept anew.
    fn close(&mut self) {
        self.home.put_away(Gone::Elsewhere);
        self.leave_nothing();
    }

    /// What the page holds beside [`Home`], and where the browser has been.
    fn leave_nothing(&mut self) {
        self.came.clear();
        self.sealed = None;
        self.stored_as = None;
        self.lay_handout();
        self.forget_history();
    }

    /// The storage, where the page may keep things in it.
    fn kept_storage(&self) -> Option<Local> {
        let may = matches!(self.home.keeping, Keeping::Kept | Keeping::Full);
        keep::storage().filter(|_| may)
    }

    fn open_link(&mut self, typed: &str) {
        match opened(typed) {
            Ok(Opened { shared, fragment }) => self.offered(&fragment, shared),
            Err(fault) if fault.kind == Kind::Sealed => {
                self.sealed = Some(in_one_line(typed));
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
        let result = self.kept_storage().map(|mut s| kept::set_plan(&mut s, &key, fragment));
        self.heed(result);
        if self.home.offer(&shared) {
            self.show(shared);
        } else {
            self.list_others();
        }
    }

    fn show(&mut self, shared: Shared) {
        let key = diary::key(&shared.text);
        // That nothing had to be moved says nothing of whether there is room.
        let claimed = self.kept_storage().map(|mut s| kept::claim(&mut s, &shared.text));
        self.heed(claimed.filter(Result::is_err));
        let mut diary = diary::Diary::default();
        // What could not be kept stays on the page, also when the same link is opened again.
        if self.home.key() == Some(&key) && self.home.keeping != Keeping::Kept {
            diary = self.home.diary().cloned().unwrap_or_default();
        } else if let Some(mut storage) = self.kept_storage() {
            match kept::diary(&mut storage, &key) {
                kept::Found::Diary(kept) => diary = kept,
                kept::Found::SetAside => self.home.set_aside = true,
            }
        }
        self.home.show(shared, diary);
        self.note_stored();
        // Without its plan the key leads nowhere; another plan that is kept is better than none.
        if self.stored_as.is_some() {
            let result = self.kept_storage().map(|mut s| kept::set_now(&mut s, &key));
            self.heed(result);
        }
        self.clear_address();
        self.list_others();
    }

    /// Notes that the plan on view is kept, where it is.
    fn note_stored(&mut self) {
        let key = self.home.key().map(str::to_string);
        self.stored_as =
            key.filter(|key| self.kept_storage().is_some_and(|s| kept::fragment(&s, key).is_some()));
    }

    fn show_kept(&mut self, key: &str) {
        let came = self.came.iter().find(|(k, _)| k == key).map(|(_, fragment)| fragment.clone());
        let fragment = came.or_else(|| self.kept_storage().and_then(|s| kept::fragment(&s, key)));
        match fragment.as_deref().map(|f| (f, opened(f))) {
            Some((_, Ok(opened))) => self.show(opened.shared),
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
        let mut all = self.kept_storage().map(|s| kept::plans(&s)).unwrap_or_default();
        for (key, fragment) in &self.came {
            if !all.iter().any(|(k, _)| k == key) {
                all.push((key.clone(), fragment.clone()));
            }
        }
        all.retain(|(key, _)| Some(key) != mine.as_ref());
        self.home.others = all
            .into_iter()
            .map(|(key, fragment)| {
                let issued = opened(&fragment).ok().and_then(|opened| opened.shared.issued);
                crate::home::Other { key, issued }
            })
            .collect();
    }

    /// Notes whether keeping went well.
    fn heed(&mut self, result: Option<Result<(), Denied>>) {
        match result {
            None => {}
            Some(Ok(())) => self.home.keeping = Keeping::Kept,
            Some(Err(denied)) => self.home.keeping = denied.into(),
        }
    }

    fn act(&mut self, act: Act) {
        if !self.look_again() {
            self.redraw();
            return self.to_the_head();
        }
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
                let switches = self.home.switches;
                let result = self.kept_storage().map(|mut s| kept::set_switches(&mut s, switches));
                self.heed(result);
            }
            Effect::Keep => {
                for (key, fragment) in self.came.clone() {
                    let result = self.kept_storage().map(|mut s| kept::set_plan(&mut s, &key, &fragment));
                    self.heed(result);
                }
                if let Some(key) = self.home.key().map(str::to_string) {
                    let result = self.kept_storage().map(|mut s| kept::set_now(&mut s, &key));
                    self.heed(result);
                }
                self.keep_diary();
                self.note_stored();
                self.clear_address();
            }
            Effect::Forget => {
                if let Some(mut storage) = keep::storage() {
                    kept::forget(&mut storage);
                }
                offline::forget(&self.window);
                self.leave_nothing();
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
                self.open_link(&typed.unwrap_or_default());
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
            // Everything was forgotten meanwhile.
            if held.sealed.is_none() {
                return;
            }
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
            let result = self.kept_storage().map(|mut s| kept::set_diary(&mut s, &key, &text));
            self.heed(result);
            if self.home.keeping == Keeping::Kept && !std::mem::replace(&mut self.has_asked_to_persist, true)
            {
                keep::persist(&self.window);
            }
        }
    }

    fn moved(&mut self) {
        // A link that was offered and not taken stays in the address no longer.
        if self.home.opening == Opening::Open {
            self.clear_address();
        }
        self.remember_view();
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
fn opened(typed: &str) -> Result<Opened, Fault> {
    written::opened(typed, Catalog::embedded())
}

type Held = Rc<RefCell<Page>>;
