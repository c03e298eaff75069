//! What is at hand: the exercise of the cursor's line or the nearest above, large and in movement, and its ladder: what
//! is easier, what comes next, and what else serves the same end.

use super::{Slot, change};
use crate::catalog::{Catalog, Neighbour};
use crate::markup::{Markup, Writer};
use crate::programme::{Exercise, Known, Programme};

/// How far the ladder is shown each way.
const RUNGS: usize = 2;

/// The names of what is easier or harder, nearest first, and then what is beyond the first of them.
fn rungs(id: &str, way: fn(&crate::catalog::Exercise) -> &Vec<Neighbour>) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut ring = vec![id.to_string()];
    for _ in 0..RUNGS {
        let next: Vec<String> = ring
            .iter()
            .filter_map(|id| Catalog::embedded().by_id(id))
            .flat_map(|e| way(e).iter().filter_map(|n| n.id.clone()))
            .filter(|next| next != id && !out.contains(next))
            .collect();
        for one in &next {
            if !out.contains(one) {
                out.push(one.clone());
            }
        }
        ring = next;
    }
    out
}

/// What is shown at hand for the cursor's line, and its place: the last exercise at the line or above it that has a
/// figure, so that what is seen stands still while the next name is half typed; else the last one above.
pub fn shown(programme: &Programme, line: usize) -> Option<(usize, &Exercise)> {
    let above = || programme.exercises.iter().enumerate().rev().filter(|(_, e)| e.line <= line);
    above().find(|(_, e)| !e.drawn.is_empty()).or_else(|| above().next())
}

/// The slot. `picture` is the exercise as it stands now, still or in movement; `moves`: whether it is in movement,
/// None where there is nothing to move.
pub fn at_hand(exercise: &Exercise, number: usize, picture: Option<&Markup>, moves: Option<bool>) -> Slot {
    let mut html = Writer::new();
    html.open("section").attr("class", "at-hand").attr("aria-labelledby", "hand-head");
    html.open("h2").attr("id", "hand-head").text(&exercise.name);
    let side = super::sheet::loud(exercise);
    if !side.is_empty() {
        html.text(" ").open("span").attr("class", "side").text(side).close();
    }
    html.close();
    html.open("div").attr("class", "hand");
    html.open("div").attr("class", "large").attr("id", "hand-figure");
    match picture {
        Some(picture) => {
            html.insert(picture);
        }
        None => {
            html.element("p", "No figure: its name is not in the catalog.");
        }
    }
    html.close();
    html.open("div").attr("class", "beside");
    html.open("p").attr("class", "acts");
    if let Some(moves) = moves {
        let (act, words) = if moves { ("moves off", "Hold still") } else { ("moves on", "Show it moving") };
        html.open("button").attr("type", "button").attr("class", "quiet").attr("data-do", act);
        html.attr("data-focus", "moves").text(words).close().text(" ");
    }
    html.open("button").attr("type", "button").attr("class", "quiet");
    html.attr("data-show", &(number - 1).to_string())
        .attr("data-focus", "show at hand")
        .text("Show large")
        .close();
    html.close();
    if let Known::Catalog { id, .. } = &exercise.known {
        ladder(&mut html, exercise, id);
    }
    html.close().close().close();
    Slot { key: "at hand".into(), html: html.finish().into_string() }
}

fn ladder(html: &mut Writer, exercise: &Exercise, id: &str) {
    let mut easier = rungs(id, |e| &e.easier);
    easier.reverse();
    let harder = rungs(id, |e| &e.harder);
    if !easier.is_empty() || !harder.is_empty() {
        html.open("ol").attr("class", "ladder").attr("aria-label", "From easier to harder");
        for other in &easier {
            rung(html, exercise.line, other, "easier");
        }
        html.open("li").attr("aria-current", "true").open("b").text(&exercise.name).close().close();
        for other in &harder {
            rung(html, exercise.line, other, "harder");
        }
        html.close();
    }
    let instead: Vec<&String> = Catalog::embedded()
        .by_id(id)
        .map(|e| e.instead.iter().filter_map(|n| n.id.as_ref()).collect())
        .unwrap_or_default();
    if !instead.is_empty() {
        html.open("p").text("Instead").close().open("ul").attr("class", "instead");
        for other in instead {
            rung(html, exercise.line, other, "instead");
        }
        html.close();
    }
}

fn rung(html: &mut Writer, line: usize, id: &str, what: &str) {
    let Some(entry) = Catalog::embedded().by_id(id) else { return };
    let name = change::prescription_name(entry);
    html.open("li").open("button").attr("type", "button").attr("class", "quiet");
    html.attr("data-do", &format!("change {line} swap {id}")).attr("data-focus", &format!("rung {id}"));
    html.attr("aria-label", &format!("Write {name}, {what}, in its place")).text(&name).close();
    html.close();
}

/// Where no exercise stands above the cursor.
pub fn nothing() -> Slot {
    let mut html = Writer::new();
    html.open("p").attr("class", "aside at-hand");
    html.text(
        "Put the cursor into an exercise’s line: it is shown here large, with what is easier and harder.",
    );
    html.close();
    Slot { key: "at hand".into(), html: html.finish().into_string() }
}
