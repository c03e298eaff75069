//! The list of kept prescriptions: the browser's storage, its buttons, its files.

use super::events::{Shared, on};
use super::slots::{Place, keeping_focus};
use super::store::Local;
use super::{Page, control, files};
use crate::desk::history::{History, Sort};
use crate::desk::leaving::Safe;
use crate::desk::shelf::earlier::CHOICES;
use crate::desk::shelf::gone::{self, Asked, Gone};
use crate::desk::shelf::leaf::{Leaf, Stamp};
use crate::desk::shelf::store::{Denied, Memory, Store};
use crate::desk::shelf::told::told;
use crate::desk::shelf::view::{self, Lasting, Shown};
use crate::desk::shelf::{self, Found, Open, file};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Document, Element, EventTarget, HtmlElement, HtmlInputElement, KeyboardEvent, Storage};

/// Which prescription this window has open; of this window alone.
pub const POINTER: &str = "layfigure desk open";

/// What this window holds of the shelf.
pub struct Shelf {
    /// Where nothing may be kept.
    pub memory: Memory,
    /// This window's own word.
    writer: String,
    pub open: Open,
    pub deleted: Vec<Leaf>,
    pub renaming: Option<String>,
    /// Why the text on the page is not kept; it was said.
    pub denied: Option<Denied>,
    /// That another window has gone on with the open one was said.
    told: bool,
    place: Place,
    /// Texts that would not be lost with the page.
    pub safe: Safe,
    /// Whether all of it is to be deleted, and what was.
    pub asked: Asked,
    pub gone: Option<Gone>,
    gone_place: Place,
}

impl Shelf {
    pub fn find(document: &Document, text: &str) -> Option<Shelf> {
        Some(Shelf {
            memory: Memory::default(),
            writer: word(),
            open: Open::new(word(), text),
            deleted: Vec::new(),
            renaming: None,
            denied: None,
            told: false,
            place: Place::new(document.get_element_by_id("shelf")?),
            safe: Safe::new(text),
            asked: Asked::Not,
            gone: None,
            gone_place: Place::new(document.get_element_by_id("gone")?),
        })
    }
}

/// A word that nobody else has.
pub fn word() -> String {
    // Without random numbers, the clock: two windows don't ask it in the same part of a millisecond.
    let clock =
        || web_sys::window().and_then(|w| w.performance()).map_or(0.0, |p| p.now()) + js_sys::Date::now();
    shelf::word(&super::link::random::<8>().unwrap_or_else(|| clock().to_bits().to_be_bytes()))
}

/// The day and its millisecond where the clinician sits.
pub fn now() -> Option<Stamp> {
    let clock = js_sys::Date::new_0();
    let second = (clock.get_hours() * 60 + clock.get_minutes()) * 60 + clock.get_seconds();
    super::today().map(|date| Stamp { date, milli: second * 1000 + clock.get_milliseconds() })
}

pub fn session() -> Option<Storage> {
    web_sys::window()?.session_storage().ok().flatten()
}

pub fn hear(page: &Shared) -> Result<(), JsValue> {
    let document: EventTarget = page.borrow().document.clone().into();
    let window: EventTarget = web_sys::window().ok_or("no window")?.into();
    let panel: EventTarget = page.borrow().panel().ok_or("the page has no list")?.into();
    on(&document, "click", page, |page, event| {
        let target = event.target().and_then(|t| t.dyn_into::<Element>().ok());
        let button = target.and_then(|t| t.closest("[data-shelf]").ok().flatten());
        if let Some(act) = button.and_then(|b| b.get_attribute("data-shelf")) {
            page.shelf_act(&act);
        }
    })?;
    on(&document, "keydown", page, |page, event| {
        let Some(key) = event.dyn_ref::<KeyboardEvent>() else { return };
        let field = key.target().and_then(|t| t.dyn_into::<HtmlInputElement>().ok());
        let Some(token) = field.and_then(|f| f.get_attribute("data-token")) else { return };
        let act = match key.key().as_str() {
            "Enter" if !key.is_composing() => format!("named {token}"),
            "Escape" => "unnamed".into(),
            _ => return,
        };
        // Else the same key would press the button that now gets the focus.
        key.prevent_default();
        page.shelf_act(&act);
    })?;
    on(&panel, "toggle", page, |page, _| page.redraw_shelf())?;
    on(&window, "storage", page, |page, _| page.look_elsewhere())?;
    files::hear_choice(page, "bring", |page, text| page.bring_in(&text))
}

impl Page {
    fn panel(&self) -> Option<Element> {
        self.document.get_element_by_id("shelved")
    }

    /// Does something with the store that is in force, and what this window holds of it.
    pub fn stored<T>(&mut self, act: impl FnOnce(&mut dyn Store, &mut Shelf) -> T) -> T {
        if self.keeping {
            return act(&mut Local::new(), &mut self.shelf);
        }
        let mut memory = std::mem::take(&mut self.shelf.memory);
        let answer = act(&mut memory, &mut self.shelf);
        self.shelf.memory = memory;
        answer
    }

    /// Keeps the text, on this computer if that was chosen, else until the page is closed. False: it is not kept.
    pub fn keep_text(&mut self) -> bool {
        if self.keeping && Local::new().get(CHOICES) == Ok(None) {
            self.keeping_was_withdrawn();
        }
        let text = self.history.text().to_string();
        let kept = self.stored(|store, shelf| {
            let writer = shelf.writer.clone();
            shelf::keep(store, &mut shelf.open, &text, &writer, now())
        });
        let told = told(self.shelf.denied, &kept);
        self.shelf.denied = told.denied;
        if let Some(words) = told.said {
            self.say(&words);
            // There is the button that saves it.
            if let (Some(_), Some(panel)) = (told.denied, self.panel()) {
                let _ = panel.set_attribute("open", "");
            }
        }
        self.point();
        self.redraw_shelf();
        self.shelf.denied.is_none()
    }

    /// Notes for this window which prescription is open, so that loading the page again shows it.
    pub fn point(&self) {
        if let Some(session) = session() {
            let _ = match (self.keeping, self.shelf.open.is_kept()) {
                (true, true) => session.set_item(POINTER, &self.shelf.open.id),
                _ => session.remove_item(POINTER),
            };
        }
    }

    /// Puts back what this window had open, else what was changed last.
    pub fn reopen(&mut self) {
        let pointer = session().and_then(|s| s.get_item(POINTER).ok().flatten());
        let opened = self.stored(|store, _| -> Result<Option<(Open, String)>, Denied> {
            if let Some(opened) = pointer.map(|id| shelf::open(store, &id)).transpose()?.flatten() {
                return Ok(Some(opened));
            }
            let last = shelf::found(store)?.items.into_iter().next();
            last.map_or(Ok(None), |item| shelf::open(store, &item.token))
        });
        if let Ok(Some((open, text))) = opened {
            self.text.set_value(&text);
            self.history = History::new(&text);
            self.shelf.open = open;
        }
        self.point();
    }

    /// Puts the prescription on the page away, so that another can take its place. False: it could not be kept, so it
    /// stays.
    pub fn put_by(&mut self) -> bool {
        if self.composing {
            return false;
        }
        if !self.keep_text() {
            self.say("This text could not be kept, so it stays on the page. Save it to a file, or delete what you no longer need, first.");
        }
        self.shelf.denied.is_none()
    }

    /// Another prescription takes the page: nothing of the one before can be undone into it.
    fn turn_to(&mut self, open: Open, text: &str) {
        self.put_link_away();
        self.shelf.open = open;
        self.shelf.told = false;
        self.text.set_value(text);
        self.history = History::new(text);
        self.week = None;
        self.offering = false;
        self.touched = None;
        self.hidden.clear();
        self.decided.clear();
        self.point();
        self.go_to(1);
        self.redraw_shelf();
    }

    /// Begins a prescription with this text, beside the one on the page. `is_blank`: it is not kept as it is.
    pub fn begin_with(&mut self, text: &str, is_blank: bool) -> bool {
        let may = self.put_by();
        if may {
            self.turn_to(Open::new(word(), if is_blank { text } else { "" }), text);
            self.keep();
        }
        may
    }

    pub fn found(&mut self) -> Found {
        self.stored(|store, _| shelf::found(store)).unwrap_or_default()
    }

    pub fn redraw_shelf(&mut self) {
        let how_many = self.stored(|store, _| shelf::count(store));
        if let Some(count) = self.document.get_element_by_id("how-many") {
            let words = if how_many == 0 { String::new() } else { format!(" ({how_many})") };
            if count.text_content().as_deref() != Some(&words) {
                count.set_text_content(Some(&words));
            }
        }
        if !self.panel().is_some_and(|panel| panel.has_attribute("open")) {
            return;
        }
        let found = self.found();
        let is_changed_elsewhere =
            self.stored(|store, shelf| shelf::is_changed_elsewhere(store, &shelf.open));
        let lasting = match (self.keeping, self.shelf.denied) {
            (_, Some(Denied::Forbidden)) => Lasting::Forbidden,
            (true, Some(Denied::Full)) => Lasting::Full,
            (true, None) => Lasting::Here,
            (false, _) => Lasting::Page,
        };
        let slots = view::slots(&Shown {
            items: &found.items,
            open: &self.shelf.open,
            is_changed_elsewhere,
            deleted: &self.shelf.deleted,
            unread: found.unread.len(),
            renaming: self.shelf.renaming.as_deref(),
            lasting,
        });
        let asked = gone::slots(&self.shelf.asked, self.keeping);
        let (document, shelf) = (&self.document, &mut self.shelf);
        keeping_focus(document, "shelved-name", || {
            shelf.place.put(document, slots);
            shelf.gone_place.put(document, asked);
        });
    }

    /// Keeps what was typed last, which else is kept a frame later.
    pub fn flush(&mut self) {
        self.history.record(&self.text.value(), Sort::Typing);
        self.keep();
    }

    /// Whether leaving the page now would lose something that stands nowhere else.
    pub fn would_be_lost(&mut self) -> bool {
        self.flush();
        if self.keeping {
            let unkept = self.shelf.denied.map(|_| self.history.text());
            return self.shelf.safe.asks(&Found::default(), unkept);
        }
        let found = self.found();
        self.shelf.safe.asks(&found, None)
    }

    /// Another window has kept, deleted or forgotten something.
    fn look_elsewhere(&mut self) {
        if self.keeping && Local::new().get(CHOICES) == Ok(None) {
            self.keeping_was_withdrawn();
        }
        let is_changed = self.stored(|store, shelf| shelf::is_changed_elsewhere(store, &shelf.open));
        if is_changed && !std::mem::replace(&mut self.shelf.told, true) {
            self.say("Another window has written to this prescription. What you type here will be kept as a copy; “Prescriptions” opens what the other wrote.");
        }
        if self.shelf.denied.is_some() {
            // It may have made room.
            self.keep_text();
        }
        self.redraw_shelf();
    }

    /// Another window has forgotten everything: this one may not keep it anew.
    fn keeping_was_withdrawn(&mut self) {
        self.keeping = false;
        self.shelf.open.moved();
        control::tick_keep(&self.document, false);
        self.point();
        self.say("Another window has switched off keeping on this computer. The text on this page stays until you close it.");
    }

    fn shelf_act(&mut self, act: &str) {
        let (verb, token) = act.split_once(' ').unwrap_or((act, ""));
        match verb {
            "open" => self.open_kept(token),
            "name" => {
                self.shelf.renaming = Some(token.into());
                self.redraw_shelf();
                if let Some(field) = self.field() {
                    let _ = field.focus();
                    field.select();
                }
            }
            "named" => self.name(token),
            "unnamed" => self.name_no_more("Its name stays as it was."),
            "twice" => self.duplicate(token),
            "delete" => self.delete(token),
            "back" => self.bring_back(token.parse().unwrap_or(usize::MAX)),
            "forget" => self.forget(token),
            "save" => files::save(self),
            "all" => self.save_all(),
            _ => {}
        }
    }

    fn open_kept(&mut self, token: &str) {
        if !self.put_by() {
            return;
        }
        match self.stored(|store, _| shelf::open(store, token)) {
            Ok(Some((open, text))) => {
                let called = open.called(&text, now());
                self.turn_to(open, &text);
                self.say(&format!("“{called}” is on the page."));
            }
            _ => self.is_gone(),
        }
    }

    fn is_gone(&mut self) {
        self.redraw_shelf();
        self.say("That one is no longer kept: another window has deleted or changed it.");
    }

    fn field(&self) -> Option<HtmlInputElement> {
        self.document.get_element_by_id("name-of").and_then(|e| e.dyn_into().ok())
    }

    fn name(&mut self, token: &str) {
        let Some(name) = self.field().map(|field| field.value()) else { return };
        let item = self.found().items.into_iter().find(|item| item.token == token);
        let Some(item) = item else {
            self.shelf.renaming = None;
            return self.is_gone();
        };
        // Left as it was proposed, it stays the title's.
        let name = if item.leaf.name.is_none() && name == item.leaf.called() { "" } else { name.as_str() };
        if self.shelf.open.is(&item) {
            self.shelf.open.name = shelf::own_name(name);
            self.keep_text();
        } else if let Err(denied) =
            self.stored(|store, shelf| shelf::rename(store, token, name, &shelf.writer, now()))
        {
            return self.was_denied(denied);
        }
        let called =
            shelf::leaf::called(shelf::own_name(name).as_deref(), &item.leaf.text, now().map(|n| n.date));
        self.name_no_more(&format!("It is called “{called}” now."));
    }

    fn name_no_more(&mut self, words: &str) {
        let token = self.shelf.renaming.take().unwrap_or_default();
        self.redraw_shelf();
        self.focus(&format!("shelf name {token}"));
        self.say(words);
    }

    pub fn focus(&self, name: &str) {
        let found = self.document.query_selector(&format!("[data-focus=\"{name}\"]")).ok().flatten();
        if let Some(element) = found.and_then(|e| e.dyn_into::<HtmlElement>().ok()) {
            let _ = element.focus();
        }
    }

    fn was_denied(&mut self, denied: Denied) {
        self.redraw_shelf();
        self.say(match denied {
            Denied::Full => "This computer’s storage is full, so nothing was changed. Delete what you no longer need, or save it to a file.",
            Denied::Forbidden => "This browser forbids that: nothing was changed.",
        });
    }

    fn duplicate(&mut self, token: &str) {
        self.keep_text();
        let Some(item) = self.found().items.into_iter().find(|item| item.token == token) else {
            return self.is_gone();
        };
        let name = format!("{} (copy)", item.leaf.called());
        let added = self.stored(|store, shelf| {
            let (text, before) = (item.leaf.text.clone(), item.leaf.before.clone());
            let leaf = shelf::fresh(word(), &shelf.writer, Some(name.clone()), text, before, now());
            shelf::add(store, &leaf)
        });
        match added {
            Ok(()) => {
                self.redraw_shelf();
                self.say(&format!("“{name}” stands in the list."));
            }
            Err(denied) => self.was_denied(denied),
        }
    }

    fn delete(&mut self, token: &str) {
        let is_open = self.found().items.iter().any(|item| item.token == token && self.shelf.open.is(item));
        // What was typed last is deleted with it, and comes back with it.
        if is_open {
            self.keep_text();
        }
        match self.stored(|store, _| shelf::delete(store, token)) {
            Ok(Some(mut leaf)) => {
                let called = leaf.called();
                if is_open {
                    // Also what there was no room for.
                    leaf.text = self.history.text().to_string();
                }
                self.shelf.deleted.push(leaf);
                if is_open {
                    let blank = self.blank();
                    self.turn_to(Open::new(word(), &blank), &blank);
                }
                // There may be room now.
                self.keep_text();
                self.redraw_shelf();
                self.focus(&format!("shelf back {}", self.shelf.deleted.len().saturating_sub(1)));
                self.say(&format!(
                    "“{called}” is deleted. Until you close this page it can be brought back."
                ));
            }
            Ok(None) => self.is_gone(),
            Err(denied) => self.was_denied(denied),
        }
    }

    fn bring_back(&mut self, index: usize) {
        let Some(leaf) = self.shelf.deleted.get(index).cloned() else { return };
        match self.stored(|store, shelf| shelf::put_back(store, &leaf, &shelf.writer)) {
            Ok(()) => {
                self.shelf.deleted.remove(index);
                self.redraw_shelf();
                self.focus(&format!("shelf open {}", leaf.id));
                self.say(&format!("“{}” stands in the list again.", leaf.called()));
            }
            Err(denied) => self.was_denied(denied),
        }
    }

    fn save_all(&mut self) {
        self.keep_text();
        let found = self.found();
        let unread = self.stored(|store, _| {
            found.unread.iter().filter_map(|key| store.get(key).ok().flatten()).collect::<Vec<String>>()
        });
        let json = file::write(&found, unread);
        files::hand_over(&self.document, file::NAME, "application/json", &json);
        found.items.iter().for_each(|item| self.shelf.safe.add(&item.leaf.text));
        let many = match found.items.len() {
            1 => "One prescription is".to_string(),
            n => format!("{n} prescriptions are"),
        };
        self.say(&format!("{many} in the file that your browser saves now. It is not sealed: whoever has the file can read it."));
    }

    /// Adds what is in a file, and overwrites nothing.
    pub fn bring_in(&mut self, text: &str) {
        self.keep_text();
        let found = self.found();
        let writer = self.shelf.writer.clone();
        let Some(brought) = file::read(text, &found, &writer, now(), word) else {
            return self.say("There is nothing in that file that could be brought in.");
        };
        let mut added = 0;
        let mut denied = None;
        for leaf in &brought.leaves {
            self.shelf.safe.add(&leaf.text);
            match self.stored(|store, _| shelf::add(store, leaf)) {
                Ok(()) => added += 1,
                Err(fault) => {
                    denied = Some(fault);
                    break;
                }
            }
        }
        self.redraw_shelf();
        let known = match brought.known {
            0 => String::new(),
            n => format!(" {n} of the file stood here already, word for word."),
        };
        let left = match denied {
            None => String::new(),
            Some(_) => format!(
                " There was no room for the other {}: the file still has them.",
                brought.leaves.len() - added
            ),
        };
        self.say(&format!("{added} brought in.{known}{left}"));
    }
}
