//! The pieces of the view.

use super::{Show, Slot};
use crate::count::Moving;
use crate::count::timer::{Does, Phase, Timer, side};
use crate::figure::{self, Look};
use crate::handout;
use crate::markup::{Markup, Writer};
use crate::programme::{Amount, Drawn, Exercise, OnSide, Programme};

pub fn slot(key: &str, inside: impl FnOnce(&mut Writer)) -> Slot {
    let mut w = Writer::new();
    w.open("div").attr("class", key);
    inside(&mut w);
    w.close();
    Slot { key: key.into(), html: w.finish().into_string() }
}

/// The dose without the clinician's own words in it, and without what pain is allowed.
pub fn bare(e: &Exercise) -> Amount {
    let mut amount = Amount { pain: None, ..e.amount.clone() };
    amount.dose.words.clear();
    amount
}

pub fn called(e: &Exercise) -> String {
    let mut letters = e.name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

pub fn name(w: &mut Writer, e: &Exercise, phase: Option<&Phase>) {
    w.open("h2").attr("id", "show-name").attr("tabindex", "-1").open("bdi").text(&called(e)).close();
    let now = phase.and_then(|phase| side(e, phase)).map(|side| side.word().to_uppercase());
    let words = now.as_deref().unwrap_or(match e.side {
        OnSide::Together => "BOTH TOGETHER",
        _ => handout::side(e),
    });
    if !words.is_empty() {
        w.text(" ").open("span").attr("class", "side").text(words).close();
    }
    w.close();
}

/// The figure as the patient sees it; its words are the pose's.
pub fn picture(
    w: &mut Writer,
    show: &Show,
    programme: &Programme,
    e: &Exercise,
    drawn: &Drawn,
    moving: Option<&Moving>,
) {
    let now = moving.and_then(|moving| {
        let along =
            show.timer.as_ref().filter(|t| t.running).and_then(|timer| moving.along(timer, show.still));
        along.or_else(|| moving.at(e, show.moves?, show.still).map(|(picture, _)| picture))
    });
    let still: Vec<Markup>;
    let pictures: &[Markup] = match now {
        Some(picture) => std::slice::from_ref(picture),
        None => {
            let look = Look { hold: e.amount.marked_hold(), ..Look::default() };
            still =
                figure::apart(&programme.body, &drawn.movement, &look).into_iter().map(|f| f.svg).collect();
            &still
        }
    };
    // The figure's own words may tell of a limit; here it has the exercise's name.
    w.open("div").attr("class", "frames").attr("role", "img").attr("aria-label", &called(e));
    pictures.iter().for_each(|picture| {
        w.insert(picture);
    });
    w.close();
}

pub fn clock(w: &mut Writer, word: &str, timer: &Timer, phase: &Phase) {
    let is_rest = matches!(phase.does, Does::Rest | Does::Ready | Does::ChangeSides);
    w.open("p").attr("class", if is_rest { "now easy" } else { "now" }).text(word).close();
    if 0 < phase.seconds {
        let left = timer.left();
        let words = if left < 100 { left.to_string() } else { format!("{}:{:02}", left / 60, left % 60) };
        w.open("p").attr("class", "left").text(&words).close();
    } else {
        w.open("p").attr("class", "own").text("at your own pace").close();
    }
    let mut parts = Vec::new();
    if 1 < phase.sets {
        parts.push(format!("Set {} of {}", phase.set, phase.sets));
    }
    if 0 < phase.repetition {
        parts.push(format!("{} of {}", phase.repetition, phase.repetitions));
    }
    if !parts.is_empty() {
        w.element("p", &parts.join(", "));
    }
}

pub fn bar(
    w: &mut Writer,
    show: &Show,
    can_count: bool,
    can_move: bool,
    phase: Option<&Phase>,
    is_last: bool,
) {
    let mut button = |act: &'static str, class: &'static str, words: &str, key: &str, off: bool| {
        w.open("button").attr("type", "button").attr("class", class).attr("data-large", act);
        w.attr("data-focus", &format!("large {act}"));
        if off {
            w.attr("aria-disabled", "true");
        }
        w.text(words);
        if !key.is_empty() {
            w.text(" ").element("kbd", key);
        }
        w.close().text(" ");
    };
    button("back", "", "Before", "←", show.at == 0);
    button("next", "", "Next", "→", is_last);
    if can_count {
        let words = if show.timer.is_some() { "Stop counting" } else { "Count" };
        button("count", "main", words, "Space", false);
    }
    if phase.is_some_and(|phase| phase.does == Does::OwnPace) {
        button("skip", "", "This set is done", "Enter", false);
    }
    if can_count {
        button("aloud", "", if show.aloud { "Count in silence" } else { "Count aloud" }, "", false);
    }
    if can_move && !show.is_counting() {
        let words = match (show.moves.is_some(), show.still) {
            (true, _) => "Stop the picture",
            (false, false) => "Move the picture",
            (false, true) => "Show it step by step",
        };
        button("move", "", words, "", false);
    }
    button("close", "", "Leave", "Esc", false);
}
