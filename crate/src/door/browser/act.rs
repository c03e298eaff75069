//! What the buttons of strips, panels and offers do; the figure at hand in movement.

use super::Page;
use super::events::{Shared, on};
use crate::desk::act::{Act, Which};
use crate::desk::change::{self, Change, Changed};
use crate::desk::finder::Wanted;
use crate::desk::history::Sort;
use crate::desk::limits::{Setting, Turn};
use crate::desk::{Panel, place, visit};
use crate::dose::Sided;
use crate::week::model::Day;
use std::rc::Rc;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{
    Element, Event, EventTarget, HtmlElement, HtmlInputElement, HtmlSelectElement, HtmlTextAreaElement,
    PointerEvent,
};

/// Milliseconds between two looks at the figure that moves.
const LOOK: i32 = 60;
/// Until a frame has surely been shown.
const FRAME: i32 = 30;
/// A line has to be at hand for so long before its figure moves by itself: not at every key (common practice, no
/// source).
const PAUSE: i32 = 700;

/// An exercise in the week that the pointer holds.
#[derive(Clone)]
pub struct Held {
    act: String,
    x: i32,
    y: i32,
    moves: bool,
}

impl Page {
    /// Does what a button says.
    pub fn act(&mut self, act: Act) {
        match act {
            Act::Change { line, change } => self.change(line, &change),
            Act::Panel(which) => self.open_panel(which),
            Act::Put(id) => {
                if let Some(entry) = crate::catalog::Catalog::embedded().by_id(&id) {
                    let changed = change::inserted(self.history.text(), self.line, entry);
                    self.take_change(changed);
                }
            }
            Act::Limit(turn) => self.turn(turn),
            Act::Take(index) => self.take_offer(index),
            Act::Moves(moves) => {
                self.set_moving(moves, None);
                if moves && !self.desk.is_moving() {
                    self.say("Too little of this one moves to be shown so.");
                }
            }
            Act::BeginVisit => {
                let text = self.history.text().to_string();
                self.set_before(Some(text));
                self.say("From now on the sheet marks what is different from last time.");
            }
            Act::Pasted => self.paste_visit(),
            Act::EndVisit => {
                self.set_before(None);
                self.say("Nothing is marked any more.");
            }
            Act::Carry(exercise, day) => self.carry(Some((exercise, day))),
            Act::PutDown => self.carry(None),
            Act::Drop(day) => self.drop_into(day),
            Act::Undo => self.undo(true),
            Act::Redo => self.undo(false),
        }
    }

    /// Changes the exercise that the cursor is in.
    pub fn change_here(&mut self, change: Change) {
        let (read, _) = crate::prescription::read(self.history.text());
        let at = change::at_hand(&read, self.line).and_then(|at| read.exercises.get(at));
        if let Some(line) = at.map(|exercise| exercise.line) {
            self.change(line, &change);
            let _ = self.text.focus();
        }
    }

    fn change(&mut self, line: usize, change: &Change) {
        let moved = matches!(change, Change::Up | Change::Down);
        match change::changed(self.history.text(), line, change) {
            Ok(changed) => {
                let to = changed.line;
                self.take_change(changed);
                if moved {
                    self.follow(to, change);
                }
                if *change == Change::Anyway {
                    self.go_to(to);
                }
            }
            Err(sentence) => self.say(&sentence),
        }
    }

    /// Puts the focus on the button that moved an exercise, where the exercise stands now.
    fn follow(&self, line: usize, change: &Change) {
        let selector = format!("[data-do=\"change {line} {}\"]", change.name());
        let button = self.document.query_selector(&selector).ok().flatten();
        if let Some(button) = button.and_then(|b| b.dyn_into::<HtmlElement>().ok()) {
            let _ = button.focus();
        }
    }

    /// Puts a changed text in place, as one step that can be undone, and shows where.
    pub fn take_change(&mut self, changed: Changed) {
        if self.composing {
            return;
        }
        self.place_text(&changed.text, changed.line);
        self.touched = Some(changed.line);
        self.redraw();
        let stop = if changed.said.ends_with('.') { "" } else { "." };
        self.say(&format!("{}{stop} Undo takes it back.", changed.said));
    }

    /// The text and the cursor at the end of a line, without taking the focus.
    fn place_text(&mut self, text: &str, line: usize) {
        if text != self.history.text() {
            self.text.set_value(text);
            self.history.record(text, Sort::Whole);
            self.outdate_link();
        }
        self.offering = false;
        if let Some((start, words)) = place::line(text, line) {
            let caret = place::utf16(text, start + words.len());
            let _ = self.text.set_selection_range(caret, caret);
        }
    }

    fn open_panel(&mut self, which: Which) {
        let first = match which {
            Which::None => {
                self.panel = Panel::AtHand;
                "text"
            }
            Which::Finder => {
                self.panel = Panel::Finder(Wanted::default());
                "find-words"
            }
            Which::Visit => {
                self.panel = Panel::Visit;
                "visit-head"
            }
            Which::Limits => {
                let (read, _) = crate::prescription::read(self.history.text());
                let left = change::usual_side(&read) == Some(Sided::Left);
                let side =
                    if left { crate::body::names::Side::Left } else { crate::body::names::Side::Right };
                self.panel = Panel::Limits(Setting::first(side));
                "limit-joint"
            }
        };
        self.redraw();
        let first = self.document.get_element_by_id(first);
        if let Some(first) = first.and_then(|e| e.dyn_into::<HtmlElement>().ok()) {
            let _ = first.focus();
            first.scroll_into_view_with_bool(false);
        }
    }

    fn paste_visit(&mut self) {
        let field = self.document.get_element_by_id("visit-text");
        let field = field.and_then(|e| e.dyn_into::<HtmlTextAreaElement>().ok());
        let Some(field) = field else { return };
        match visit::brought(&field.value()) {
            Ok(text) => {
                field.set_value("");
                if self.begin_with(&text, false) {
                    self.set_before(Some(text));
                    self.say("Last time’s text is on the page: change what is to be different.");
                }
            }
            Err(sentence) => self.say(&sentence),
        }
    }

    fn set_before(&mut self, before: Option<String>) {
        self.shelf.open.before = before;
        self.keep();
        self.redraw();
        if let Some(head) = self.document.get_element_by_id("visit-head")
            && let Ok(head) = head.dyn_into::<HtmlElement>()
        {
            let _ = head.focus();
        }
    }

    fn carry(&mut self, what: Option<(usize, Day)>) {
        let slots = self.desk.carry(what);
        self.put_week(slots);
    }

    fn drop_into(&mut self, day: Day) {
        if let Some(changed) = self.desk.dropped(self.history.text(), day) {
            self.take_change(changed);
        }
    }

    fn put_week(&mut self, slots: Vec<crate::markup::Slot>) {
        let place = self.places.iter_mut().find(|(region, _)| *region == crate::desk::Region::Week);
        if let Some((_, place)) = place {
            super::slots::keeping_focus(&self.document, "text", || place.put(&self.document, slots));
        }
    }

    /// A pointer that drags an exercise through the week.
    fn drag_in_week(&mut self, event: &PointerEvent, kind: &str) -> bool {
        let (x, y) = (event.client_x(), event.client_y());
        let under = |sought: &str| {
            let there = self.document.element_from_point(x as f32, y as f32)?;
            there.closest(sought).ok().flatten()
        };
        if kind == "pointermove" && event.buttons() == 0 {
            // It was let go where the page could not hear it.
            self.held_in_week = None;
        }
        match (kind, self.held_in_week.clone()) {
            ("pointerdown", _) => {
                let act = under(".carry").and_then(|b| b.get_attribute("data-do"));
                self.held_in_week = act.map(|act| Held { act, x, y, moves: false });
                false
            }
            ("pointermove", Some(held)) => {
                // Some pixels, since a hand is never quite still.
                if !held.moves && 8 < (x - held.x).abs().max((y - held.y).abs()) {
                    if let Some(act @ Act::Carry(..)) = Act::named(&held.act) {
                        self.act(act);
                    }
                    self.held_in_week = Some(Held { moves: true, ..held });
                }
                true
            }
            ("pointerup", Some(held)) => {
                let day = under("[data-day]").and_then(|cell| cell.get_attribute("data-day"));
                self.held_in_week = None;
                if let (true, Some(act)) =
                    (held.moves, day.and_then(|day| Act::named(&format!("drop {day}"))))
                {
                    self.act(act);
                }
                true
            }
            _ => false,
        }
    }

    fn turn(&mut self, turn: Turn) {
        let Panel::Limits(setting) = self.panel else { return };
        let setting = setting.turned(turn);
        self.panel = Panel::Limits(setting);
        if matches!(turn, Turn::To(_) | Turn::More | Turn::Less) {
            self.take_change(setting.written(self.history.text()));
        } else {
            self.redraw();
        }
    }

    /// A control of a panel was changed.
    pub fn panel_chosen(&mut self, control: &Element) -> bool {
        let typed = control.dyn_ref::<HtmlInputElement>().map(|e| e.value());
        let value = typed.or_else(|| control.dyn_ref::<HtmlSelectElement>().map(|e| e.value()));
        let value = value.unwrap_or_default();
        if let Some(name) = control.get_attribute("data-find") {
            if let Panel::Finder(wanted) = &self.panel {
                self.panel = Panel::Finder(wanted.clone().with(&name, &value));
                self.redraw();
            }
            return true;
        }
        if let Some(verb) = control.get_attribute("data-turn") {
            if let Some(turn) = Turn::named(&format!("{verb} {}", value.trim())) {
                self.turn(turn);
            }
            return true;
        }
        false
    }

    /// A key in the text while something is offered there. True: it was for the list.
    pub fn offer_key(&mut self, key: &str, shift: bool) -> bool {
        let count = self.answer.offers.len();
        if count == 0 {
            return false;
        }
        match key {
            "ArrowDown" => self.choose(self.chosen.map_or(0, |at| (at + 1) % count)),
            "ArrowUp" => self.choose(self.chosen.map_or(count - 1, |at| (at + count - 1) % count)),
            "Tab" if !shift => self.take_offer(self.chosen.unwrap_or(0)),
            "Enter" if self.chosen.is_some() => self.take_offer(self.chosen.unwrap_or(0)),
            "Escape" => self.offer_no_more(),
            _ => return false,
        }
        true
    }

    fn offer_no_more(&mut self) {
        if std::mem::take(&mut self.offering) && !self.answer.offers.is_empty() {
            self.redraw();
        }
    }

    fn choose(&mut self, at: usize) {
        self.chosen = Some(at);
        self.mark_chosen();
    }

    /// Shows which offer is chosen, for the eye and for those who listen.
    pub fn mark_chosen(&self) {
        let options = self.document.query_selector_all("#offer-list > [role=option]");
        if let Ok(options) = options {
            for index in 0..options.length() {
                if let Some(option) = options.item(index).and_then(|n| n.dyn_into::<Element>().ok()) {
                    let chosen = self.chosen == Some(index as usize);
                    let _ = option.set_attribute("aria-selected", if chosen { "true" } else { "false" });
                }
            }
        }
        let _ = match self.chosen {
            Some(at) => self.text.set_attribute("aria-activedescendant", &format!("offer-{at}")),
            None => self.text.remove_attribute("aria-activedescendant"),
        };
    }

    fn take_offer(&mut self, index: usize) {
        if self.composing {
            return;
        }
        let Some(offer) = self.answer.offers.get(index).cloned() else { return };
        let text = self.history.text().to_string();
        let (from, to) = (place::utf16(&text, offer.from), place::utf16(&text, offer.to));
        let _ = self.text.set_range_text_with_start_and_end_and_mode(&offer.with, from, to, "end");
        let _ = self.text.focus();
        // One step of its own, and what may follow is offered at once.
        self.history.record(&self.text.value(), Sort::Whole);
        self.outdate_link();
        self.offering = true;
        self.touched = None;
        self.redraw();
    }

    /// Lays the list of offers below the cursor's line, and says how many there are.
    pub fn place_offers(&self) {
        let Some(list) =
            self.document.get_element_by_id("offers").and_then(|e| e.dyn_into::<HtmlElement>().ok())
        else {
            return;
        };
        let rows = self.nodes(crate::desk::Region::Mirror);
        let row = rows.get(self.line.saturating_sub(1)).and_then(|r| r.dyn_ref::<HtmlElement>());
        if let Some(row) = row {
            super::set_pixels(&list, "--top", row.offset_top() + row.offset_height() + 2);
        }
        let words = match self.answer.offers.as_slice() {
            [] => String::new(),
            [one] => format!("Tab writes {}.", one.words),
            [first, rest @ ..] => format!("Tab writes {}; {} more by arrow keys.", first.words, rest.len()),
        };
        if let Some(said) = self.document.get_element_by_id("offered")
            && said.text_content().as_deref() != Some(words.as_str())
        {
            said.set_text_content(Some(&words));
        }
    }

    fn wants_stillness(&self) -> bool {
        let query =
            web_sys::window().and_then(|w| w.match_media("(prefers-reduced-motion: reduce)").ok().flatten());
        query.is_some_and(|query| query.matches())
    }

    fn set_moving(&mut self, moves: bool, cycles: Option<u32>) {
        let (history, hidden, panel) = (&self.history, &self.hidden, &self.panel);
        let ask = super::ask(history, self.week, self.line, hidden, panel, None, self.touched);
        self.desk.set_moving(&ask, moves, cycles);
        self.redraw();
    }

    /// Shows the next instant of the figure at hand.
    fn step_figure(&mut self) {
        let (picture, goes_on) = self.desk.pass(LOOK as u32);
        if let Some(picture) = picture
            && let Some(place) = self.document.get_element_by_id("hand-figure")
        {
            place.set_inner_html(picture.as_str());
        }
        if !goes_on {
            self.set_moving(false, None);
        }
    }

    fn in_picture(&self, event: &PointerEvent) -> Option<(f64, f64)> {
        let picture = self.document.query_selector("[data-drag] svg").ok().flatten()?;
        let view = picture.get_attribute("viewBox")?;
        let size: Vec<f64> = view.split(' ').filter_map(|n| n.parse().ok()).collect();
        let (width, height) = (*size.get(2)?, *size.get(3)?);
        let held = picture.get_bounding_client_rect();
        if held.width() <= 0.0 || held.height() <= 0.0 {
            return None;
        }
        let x = (f64::from(event.client_x()) - held.left()) / held.width() * width;
        let y = (f64::from(event.client_y()) - held.top()) / held.height() * height;
        Some((x, y))
    }

    fn drag(&mut self, event: &PointerEvent, kind: &str) {
        let Panel::Limits(setting) = self.panel else { return };
        let Some((x, y)) = self.in_picture(event) else { return };
        if kind == "pointermove" && event.buttons() == 0 {
            self.dragging = false;
        }
        let body = self.desk.body();
        match kind {
            "pointerdown" => match setting.pointed(&body, x, y) {
                Some(turn) => self.turn(turn),
                None => self.dragging = true,
            },
            "pointermove" if self.dragging => {}
            "pointerup" if self.dragging => {
                self.dragging = false;
                return self.turn(Turn::To(setting.dragged(&body, x, y).to));
            }
            _ => return,
        }
        if self.dragging {
            self.panel = Panel::Limits(setting.dragged(&body, x, y));
            self.redraw();
        }
    }
}

/// Hears what the panels and offers need beyond clicks and keys.
pub fn hear(document: &EventTarget, page: &Shared) -> Result<(), JsValue> {
    for kind in ["pointerdown", "pointermove", "pointerup"] {
        on(document, kind, page, |page, event| {
            let Some(pointer) = event.dyn_ref::<PointerEvent>() else { return };
            if page.drag_in_week(pointer, &event.type_()) {
                return;
            }
            let on_figure = event
                .target()
                .and_then(|t| t.dyn_into::<Element>().ok())
                .and_then(|e| e.closest("[data-drag]").ok().flatten());
            if on_figure.is_some() || page.dragging {
                let kind = event.type_();
                if kind == "pointerdown" {
                    event.prevent_default();
                }
                page.drag(pointer, &kind);
            }
        })?;
    }
    on(document, "pointercancel", page, |page, _| {
        page.dragging = false;
        page.held_in_week = None;
    })?;
    // Whoever leaves the text is offered nothing any more, and sees again what is to be noted on its line. The click
    // as well, since not every engine gives the focus to what is pressed.
    for kind in ["focusin", "click"] {
        on(document, kind, page, |page, event| {
            let inside = target(&event).is_some_and(|e| e.closest("#page").ok().flatten().is_some());
            if !inside {
                page.offer_no_more();
            }
        })?;
    }
    on(document, "input", page, |page, event| {
        if let Some(field) = target(&event)
            && field.get_attribute("data-find").as_deref() == Some("words")
        {
            page.panel_chosen(&field);
        }
    })
}

fn target(event: &Event) -> Option<Element> {
    event.target().and_then(|t| t.dyn_into::<Element>().ok())
}

/// Asks to be called again after so many milliseconds, outside of what is being answered.
fn after(page: &Shared, ms: i32, act: fn(&mut Page, &Shared)) {
    let page = Rc::clone(page);
    let later = Closure::once_into_js(move || {
        if let Ok(mut held) = page.try_borrow_mut() {
            act(&mut held, &page);
        } else {
            after(&page, LOOK, act);
        }
    });
    if let Some(window) = web_sys::window() {
        let _ = window.set_timeout_with_callback_and_timeout_and_arguments_0(later.unchecked_ref(), ms);
    }
}

/// What is left to do once an event is answered: small figures to be drawn, the figure at hand to be moved.
pub fn go_on(held: &mut Page, page: &Shared) {
    if held.week_is_due && !held.is_laying {
        held.is_laying = true;
        after(page, FRAME, lay_week);
    }
    if held.desk.wants_small() && !held.is_drawing {
        held.is_drawing = true;
        after(page, 20, draw_small);
    }
    if held.desk.wants_offers() && !held.is_seeking {
        held.is_seeking = true;
        after(page, FRAME, seek);
    }
    if held.desk.is_fresh() && !held.is_waiting && !held.wants_stillness() {
        held.is_waiting = true;
        after(page, PAUSE, begin_to_move);
    }
    if held.desk.is_moving() && !held.is_ticking {
        held.is_ticking = true;
        after(page, LOOK, tick);
    }
}

/// Has the week laid once the frame at hand has been shown: what is typed comes first. Keys struck until then share
/// one laying.
fn lay_week(held: &mut Page, page: &Shared) {
    held.is_laying = false;
    held.redraw_week();
    if !held.is_plotting {
        held.is_plotting = true;
        after(page, PAUSE, lay_course);
    }
    go_on(held, page);
}

/// The course takes longer than a frame: it waits for a pause in the typing.
fn lay_course(held: &mut Page, page: &Shared) {
    held.is_plotting = false;
    if held.week_is_due {
        return go_on(held, page);
    }
    let ask = super::ask(&held.history, held.week, held.line, &held.hidden, &held.panel, None, None);
    let slots = held.desk.course(&ask);
    super::slots::keeping_focus(&held.document, "text", || held.course_place.put(&held.document, slots));
}

/// A few at a time, so that the page stays answerable.
fn draw_small(held: &mut Page, page: &Shared) {
    held.is_drawing = false;
    for _ in 0..2 {
        held.desk.draw_small();
    }
    held.redraw_lists();
    go_on(held, page);
}

/// Runs the checks on one neighbour of the exercise at hand: what passes is offered once all are through.
fn seek(held: &mut Page, page: &Shared) {
    held.is_seeking = false;
    let ask = super::ask(&held.history, held.week, held.line, &held.hidden, &held.panel, None, held.touched);
    let ran = held.desk.seek(&ask);
    if ran && !held.desk.wants_offers() {
        held.redraw();
    }
    go_on(held, page);
}

fn begin_to_move(held: &mut Page, page: &Shared) {
    held.is_waiting = false;
    if held.desk.is_fresh() {
        held.desk.seen();
        if held.panel == Panel::AtHand {
            held.set_moving(true, Some(2));
        }
    }
    go_on(held, page);
}

fn tick(held: &mut Page, page: &Shared) {
    held.is_ticking = false;
    held.step_figure();
    go_on(held, page);
}
