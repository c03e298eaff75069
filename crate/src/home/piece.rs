//! Small pieces that every view is made of.

use super::view::View;
use crate::handout::dose;
use crate::markup::{Slot, Writer};
use crate::measure::Date;
use crate::programme::Exercise;

/// One element of the page, written by `inside` in a `div` of its own.
pub fn slot(key: &str, inside: impl FnOnce(&mut Writer)) -> Slot {
    slot_of("div", key, inside)
}

pub fn slot_of(element: &'static str, key: &str, inside: impl FnOnce(&mut Writer)) -> Slot {
    let mut w = Writer::new();
    w.open(element).attr("class", key.split(' ').next().unwrap_or(key));
    inside(&mut w);
    w.close();
    Slot { key: key.into(), html: w.finish().into_string() }
}

/// A view's heading, which gets the focus when the view is opened.
pub fn heading(w: &mut Writer, words: &str) {
    w.open("h1").attr("id", "head").attr("tabindex", "-1").text(words).close();
}

/// A button that asks for an act.
pub fn button(w: &mut Writer, class: &str, act: &str, words: &str) {
    w.open("button").attr("type", "button").attr("class", class).attr("data-do", act);
    // What it is about stays when what it does turns round.
    w.attr("data-focus", stem(act)).text(words).close();
}

/// A button that is either on or off; `act` without its last word.
pub fn toggle(w: &mut Writer, class: &str, act: &str, on: bool, words: &str) {
    let wanted = format!("{act} {}", if on { "no" } else { "yes" });
    w.open("button").attr("type", "button").attr("class", class).attr("data-do", &wanted);
    w.attr("data-focus", act).attr("aria-pressed", if on { "true" } else { "false" }).text(words).close();
}

/// One of several answers; pressed again it is taken back.
pub fn choice(w: &mut Writer, class: &str, act: &str, value: &str, chosen: bool, words: &str) {
    let wanted = format!("{act} {}", if chosen { "none" } else { value });
    let focus = format!("{act} {value}");
    w.open("button").attr("type", "button").attr("class", class).attr("data-do", &wanted);
    w.attr("data-focus", &focus).attr("aria-pressed", if chosen { "true" } else { "false" });
    w.text(words).close();
}

/// A box to tick with its words; all of it can be pressed.
pub fn tick(w: &mut Writer, act: &str, on: bool, words: impl FnOnce(&mut Writer)) {
    let wanted = format!("{act} {}", if on { "no" } else { "yes" });
    w.open("button").attr("type", "button").attr("class", "tick").attr("role", "checkbox");
    w.attr("aria-checked", if on { "true" } else { "false" });
    w.attr("data-do", &wanted).attr("data-focus", act);
    w.open("span").attr("class", "mark").attr("aria-hidden", "true").close();
    w.open("span").attr("class", "what");
    words(w);
    w.close().close();
}

/// An act without what turns round.
fn stem(act: &str) -> &str {
    act.strip_suffix(" yes").or(act.strip_suffix(" no")).unwrap_or(act)
}

/// A name as it begins a line.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

/// The exercise's name, its side and where it goes.
pub fn name(w: &mut Writer, e: &Exercise) {
    w.open("bdi").text(&capital(&e.name)).close();
    let side = crate::handout::side(e);
    if !side.is_empty() {
        w.text(" ").open("span").attr("class", "side").text(side).close();
    }
    if let Some(at) = &e.at {
        w.text(" ").open("bdi").text(at).close();
    }
}

/// How much, with its numbers big.
pub fn amount(w: &mut Writer, e: &Exercise) {
    for line in dose::work(e) {
        crate::handout::line(w, "dose", &line);
    }
}

pub fn often(w: &mut Writer, e: &Exercise) {
    crate::handout::line(w, "often", &dose::often(&e.amount));
}

/// An element with words from outside, which may run from right to left.
pub fn said(w: &mut Writer, element: &'static str, words: &str) {
    w.open(element).attr("dir", "auto").text(words).close();
}

/// `Tue 1 Dec`.
pub fn short(day: Date) -> String {
    let words = day.words();
    let without_year = words.rsplit_once(' ').map_or(words.as_str(), |(day, _)| day);
    let weekday = crate::measure::WEEKDAY_NAMES.get(usize::from(day.weekday())).copied().unwrap_or("");
    format!("{weekday} {without_year}")
}

/// `Tuesday 1 Dec`.
pub fn long(day: Date) -> String {
    let words = short(day);
    let rest = words.split_once(' ').map_or("", |(_, rest)| rest);
    let weekday = crate::week::model::Day::ALL.get(usize::from(day.weekday())).map_or("", |d| d.name());
    format!("{weekday} {rest}")
}

/// The ways to the other views, as a list of plain rows.
pub fn ways(here: View) -> Vec<Slot> {
    let all = [
        (View::Today, "Today"),
        (View::Week { back: 0 }, "The week"),
        (View::Sheet, "All exercises, to read or print"),
        (View::Help, "When to stop, and who to call"),
        (View::Phone, "Sound, and what is kept here"),
    ];
    let same = |view: View| std::mem::discriminant(&view) == std::mem::discriminant(&here);
    vec![slot_of("ul", "ways", |w| {
        for (view, words) in all {
            w.open("li").open("button").attr("type", "button").attr("class", "way");
            let act = format!("go {}", view.name());
            w.attr("data-do", &act).attr("data-focus", &act);
            if same(view) {
                w.attr("aria-current", "page");
            }
            w.text(words).close().close();
        }
    })]
}
