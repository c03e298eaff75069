//! The browser's door: starts the page, hears its events, puts slots in place. No rules of any floor.

mod act;
mod aside;
mod clipboard;
mod control;
mod events;
mod fault;
mod files;
mod forget;
mod home;
mod link;
mod look;
mod record;
mod shelf;
mod show;
mod slots;
mod store;

use crate::desk::choices::Choices;
use crate::desk::given::Link;
use crate::desk::history::{History, Sort};
use crate::desk::look::{Concern, Doing};
use crate::desk::{self, Answer, Ask, Panel, Region, place};
use crate::measure::Date;
use crate::notice::Edit;
use slots::{Place, keeping_focus};
use std::collections::BTreeSet;
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{Document, Element, HtmlElement, HtmlTextAreaElement};

/// Called once by the boot script.
#[wasm_bindgen]
pub fn open_desk() -> Result<(), JsValue> {
    // The text is the browser's and stays; only the drawing has stopped.
    fault::watch("state", |words| {
        format!(
            "A fault stopped the drawing. Your text is unharmed: copy it, then load the page again. {words}"
        )
    });
    let mut page = Page::find().ok_or("the page is not as it was built")?;
    page.restore();
    page.choices = control::read(&page.document);
    page.redraw();
    events::listen(page)
}

struct Page {
    document: Document,
    text: HtmlTextAreaElement,
    places: Vec<(Region, Place)>,
    history: History,
    hidden: BTreeSet<String>,
    answer: Answer,
    desk: desk::Desk,
    line: usize,
    /// The week of the course on view; None: today's.
    week: Option<u32>,
    choices: Choices,
    /// The prescriptions and the choices are kept on this computer.
    keeping: bool,
    shelf: shelf::Shelf,
    showing: show::Showing,
    /// Who signed the last prescription.
    by: String,
    /// The link on view.
    given: Link,
    given_place: Place,
    link_job: Option<aside::Job>,
    /// On view for a last look, and what was decided of such already.
    looking: Option<(Doing, Vec<Concern>)>,
    decided: BTreeSet<String>,
    look_place: Place,
    /// The week on screen is that of an earlier text.
    week_is_due: bool,
    /// Of which text and week of the course the week on screen is.
    laid: Option<(String, Option<u32>)>,
    /// An input method is composing: the text may not be set.
    composing: bool,
    /// What stands above the sheet.
    panel: Panel,
    /// Something was typed, so that what may follow is offered; not where the cursor only went.
    offering: bool,
    /// Which offer is chosen.
    chosen: Option<usize>,
    /// The line that a button has just changed.
    touched: Option<usize>,
    /// The handle of the limit's figure is held.
    dragging: bool,
    /// How high the week has been, in CSS pixels.
    week_height: i32,
    held_in_week: Option<act::Held>,
    course_place: Place,
    is_plotting: bool,
    is_drawing: bool,
    is_seeking: bool,
    is_laying: bool,
    is_waiting: bool,
    is_ticking: bool,
}

impl Page {
    fn find() -> Option<Page> {
        let document = web_sys::window()?.document()?;
        let text: HtmlTextAreaElement = document.get_element_by_id("text")?.dyn_into().ok()?;
        let places = Region::ALL
            .iter()
            .map(|region| Some((*region, Place::new(document.get_element_by_id(region.id())?))))
            .collect::<Option<Vec<_>>>()?;
        let given_place = Place::new(document.get_element_by_id("given")?);
        let look_place = Place::new(document.get_element_by_id("look")?);
        let course_place = Place::new(document.get_element_by_id("course")?);
        let history = History::new(&text.value());
        let shelf = shelf::Shelf::find(&document, &text.value())?;
        Some(Page {
            document,
            text,
            places,
            history,
            hidden: BTreeSet::new(),
            answer: Answer::default(),
            desk: desk::Desk::default(),
            line: 1,
            week: None,
            choices: Choices::default(),
            keeping: false,
            shelf,
            showing: show::Showing::default(),
            by: String::new(),
            given: Link::None,
            given_place,
            link_job: None,
            looking: None,
            decided: BTreeSet::new(),
            look_place,
            week_is_due: false,
            composing: false,
            panel: Panel::default(),
            offering: false,
            chosen: None,
            touched: None,
            dragging: false,
            week_height: 0,
            held_in_week: None,
            course_place,
            is_plotting: false,
            is_drawing: false,
            is_seeking: false,
            is_laying: false,
            laid: None,
            is_waiting: false,
            is_ticking: false,
        })
    }

    /// The line that the cursor is in.
    fn cursor_line(&self) -> usize {
        place::line_of(self.history.text(), self.caret())
    }

    /// The byte that the cursor stands at.
    fn caret(&self) -> usize {
        let units = self.text.selection_start().ok().flatten().unwrap_or(0);
        place::byte(self.history.text(), units)
    }

    fn typed(&mut self, sort: Sort) {
        self.offering = sort != Sort::Whole;
        self.touched = None;
        self.history.record(&self.text.value(), sort);
        self.outdate_link();
        self.redraw();
    }

    fn redraw(&mut self) {
        self.line = self.cursor_line();
        let caret = (self.offering && !self.composing).then(|| self.caret());
        let (hidden, panel) = (&self.hidden, &self.panel);
        let ask = Ask {
            before: self.shelf.open.before.as_deref(),
            ..ask(&self.history, self.week, self.line, hidden, panel, caret, self.touched)
        };
        let mut answer = self.desk.answer(&ask);
        let regions = std::mem::take(&mut answer.regions);
        if answer.offers != self.answer.offers {
            self.chosen = None;
        }
        self.answer = answer;
        let (document, places) = (&self.document, &mut self.places);
        keeping_focus(document, "text", || {
            for (region, slots) in regions {
                if let Some((_, place)) = places.iter_mut().find(|(r, _)| *r == region) {
                    place.put(document, slots);
                }
            }
        });
        self.place_notes();
        self.place_offers();
        self.mark_chosen();
        let now = (self.history.text(), self.week);
        self.week_is_due = self.laid.as_ref().is_none_or(|(text, week)| (text.as_str(), *week) != now);
    }

    /// Draws the lists that have small figures in them again; nothing else has changed.
    fn redraw_lists(&mut self) {
        let slots = self.desk.lists(&self.answer.offers, &self.panel);
        for (region, slots) in slots {
            if let Some((_, place)) = self.places.iter_mut().find(|(r, _)| *r == region) {
                keeping_focus(&self.document, "text", || place.put(&self.document, slots));
            }
        }
        self.mark_chosen();
    }

    /// Lays the week, if the text has changed since, and keeps the text.
    fn redraw_week(&mut self) {
        if std::mem::take(&mut self.week_is_due) {
            self.laid = Some((self.history.text().to_string(), self.week));
            self.keep();
            let slots = self.desk.week(self.history.text());
            let place = self.places.iter_mut().find(|(region, _)| *region == Region::Week);
            if let Some((_, place)) = place {
                keeping_focus(&self.document, "text", || place.put(&self.document, slots));
            }
            self.hold_week();
        }
    }

    /// Keeps the week as high as it has been, so that the text below it stands still while an exercise is half
    /// typed and what is about to be clicked does not move away. An empty text lets it go.
    fn hold_week(&mut self) {
        let height = |e: &Element| e.dyn_ref::<HtmlElement>().map_or(0, HtmlElement::offset_height);
        let now = self.nodes(Region::Week).iter().map(height).sum::<i32>();
        let is_empty = self.history.text().trim().is_empty();
        self.week_height = if is_empty { 0 } else { self.week_height.max(now) };
        if let Some(week) = self.document.get_element_by_id(Region::Week.id()) {
            set_pixels(&week, "--least", self.week_height);
        }
    }

    /// What stands beside lines is placed anew where the page has another width.
    fn resized(&mut self) {
        self.week_height = 0;
        self.hold_week();
        self.place_notes();
    }

    /// Shows another week of the course.
    fn show_week(&mut self, week: u32) {
        self.week = Some(week);
        self.redraw();
    }

    /// Writes a repair of the week into the text.
    fn repair(&mut self, index: usize) {
        if let Some(text) = self.desk.repaired(index).map(str::to_string) {
            self.replace_all(&text);
        }
    }

    fn nodes(&self, region: Region) -> &[Element] {
        self.places.iter().find(|(r, _)| *r == region).map_or(&[], |(_, place)| place.nodes())
    }

    /// Sets each note beside its line, below the note before it. Where the page is narrow, its style
    /// ignores this and lists them.
    fn place_notes(&self) {
        let rows = self.nodes(Region::Mirror);
        let height = |e: &Element| e.dyn_ref::<HtmlElement>().map_or(0, HtmlElement::offset_height);
        let tops: Vec<(i32, i32)> = self
            .nodes(Region::Notes)
            .iter()
            .zip(&self.answer.shown)
            .map(|(note, shown)| {
                let row = rows.get(shown.line.saturating_sub(1)).or(rows.last());
                let top = row.and_then(|r| r.dyn_ref::<HtmlElement>()).map_or(0, HtmlElement::offset_top);
                (top, height(note))
            })
            .collect();
        // In the margin they stand by their lines, whatever their order.
        let mut by_line: Vec<(&Element, (i32, i32))> = self.nodes(Region::Notes).iter().zip(tops).collect();
        crate::sorting::sort_by_key(&mut by_line, |(_, (top, _))| *top);
        let mut free = 0;
        for (note, (top, height)) in by_line {
            let top = top.max(free);
            set_pixels(note, "--top", top);
            free = top + height + 10;
        }
        if let Some(notes) = self.document.get_element_by_id(Region::Notes.id()) {
            set_pixels(&notes, "--height", free);
        }
    }

    /// Puts a suggested edit into the text.
    fn apply(&mut self, edit: &Edit) {
        let text = self.history.text().to_string();
        if let Some((from, to)) = place::bytes(&text, edit.place) {
            self.replace(&text, from, to, &edit.with);
        }
    }

    fn replace(&mut self, text: &str, from: usize, to: usize, with: &str) {
        if self.composing {
            return;
        }
        let (from, to) = (place::utf16(text, from), place::utf16(text, to));
        let _ = self.text.set_range_text_with_start_and_end_and_mode(with, from, to, "end");
        self.typed(Sort::Whole);
    }

    /// Puts another text in place of the whole, as one step that can be undone.
    fn replace_all(&mut self, with: &str) {
        let text = self.history.text().to_string();
        if text != with {
            self.replace(&text, 0, text.len(), with);
        }
    }

    /// Writes the text in its canonical form.
    fn tidy(&mut self) {
        let line = self.line;
        let tidy = desk::tidy(self.history.text());
        self.replace_all(&tidy);
        self.go_to(line);
    }

    fn undo(&mut self, back: bool) {
        if self.composing {
            return;
        }
        let step = if back { self.history.undo() } else { self.history.redo() };
        let Some((text, caret)) = step.map(|(text, caret)| (text.to_string(), caret)) else { return };
        self.offering = false;
        self.touched = Some(place::line_of(&text, caret));
        self.text.set_value(&text);
        let caret = place::utf16(&text, caret);
        let _ = self.text.set_selection_range(caret, caret);
        self.outdate_link();
        self.redraw();
    }

    /// Puts the cursor at the end of a line and brings it into view.
    fn go_to(&mut self, line: usize) {
        let text = self.history.text();
        let Some((start, words)) = place::line(text, line) else { return };
        let caret = place::utf16(text, start + words.len());
        let _ = self.text.set_selection_range(caret, caret);
        let _ = self.text.focus();
        if let Some(row) = self.nodes(Region::Mirror).get(line.saturating_sub(1)) {
            row.scroll_into_view_with_bool(false);
        }
        self.redraw();
    }

    /// Lays the handout in the part of the page that is printed, on the paper chosen.
    fn lay_handout(&mut self) {
        control::set_paper(&self.document, &self.choices);
        let ask = ask(&self.history, self.week, self.line, &self.hidden, &self.panel, None, None);
        let ask = Ask { before: self.shelf.open.before.as_deref(), ..ask };
        let html = self.desk.handout(&ask, &self.choices);
        if let Some(handout) = self.document.get_element_by_id("handout") {
            handout.set_inner_html(html.as_str());
        }
    }

    fn hide(&mut self, index: usize) {
        let Some(shown) = self.answer.shown.get(index) else { return };
        if shown.may_hide {
            self.hidden.insert(shown.name.clone());
            return self.redraw();
        }
        self.say("A contraindication stays in view: change the exercise, or keep it and write why.");
    }
}

fn ask<'a>(
    history: &'a History,
    week: Option<u32>,
    line: usize,
    hidden: &'a BTreeSet<String>,
    panel: &'a Panel,
    caret: Option<usize>,
    touched: Option<usize>,
) -> Ask<'a> {
    Ask { text: history.text(), today: today(), week, line, hidden, caret, panel, touched, before: None }
}

fn set_pixels(element: &Element, property: &str, pixels: i32) {
    if let Some(element) = element.dyn_ref::<HtmlElement>() {
        let _ = element.style().set_property(property, &format!("{pixels}px"));
    }
}

/// Today's date where the clinician sits.
fn today() -> Option<Date> {
    let now = js_sys::Date::new_0();
    let small = |n: u32| u8::try_from(n).unwrap_or(1);
    let year = i32::try_from(now.get_full_year()).unwrap_or(2000);
    Date::new(year, small(now.get_month() + 1), small(now.get_date()))
}
