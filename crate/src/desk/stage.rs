//! What is at hand: the exercise of the cursor's line or the nearest above, large and in movement, and its ladder: what
//! is easier, what comes next, and what else serves the same end.

use super::{Slot, change};
use crate::catalog::{Catalog, Neighbour};
use crate::markup::{Markup, Writer};
use crate::programme::{Exercise, Known, Programme};

/// How far the ladder is shown each way.
const RUNGS: usize = 2;

/// What is known of the neighbours of the exercise at hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offered<'a> {
    /// The checks have not run on them yet.
    NotYet,
    /// The checks ran on each in its place; those that passed.
    Only(&'a [String]),
}

/// The neighbours that may be offered, once the checks have run on them: the ladder, and others for the same end.
pub fn neighbours(id: &str) -> Vec<String> {
    let mut all = rungs(id, |e| &e.easier);
    all.extend(rungs(id, |e| &e.harder));
    all.extend(others(id));
    let mut once: Vec<String> = Vec::new();
    for id in all {
        if !once.contains(&id) {
            once.push(id);
        }
    }
    once
}

/// Others for the same end.
fn others(id: &str) -> Vec<String> {
    let entry = Catalog::embedded().by_id(id);
    entry.map(|e| e.instead.iter().filter_map(|n| n.id.clone()).collect()).unwrap_or_default()
}

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
pub fn at_hand(
    exercise: &Exercise,
    number: usize,
    picture: Option<&Markup>,
    moves: Option<bool>,
    offered: Offered<'_>,
) -> Slot {
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
        ladder(&mut html, exercise, id, offered);
    }
    html.close().close().close();
    Slot { key: "at hand".into(), html: html.finish().into_string() }
}

fn ladder(html: &mut Writer, exercise: &Exercise, id: &str, offered: Offered<'_>) {
    let all = neighbours(id);
    if all.is_empty() {
        return;
    }
    let may = match offered {
        Offered::NotYet => {
            html.open("p").attr("class", "aside").text("Easier and harder ones are being checked.").close();
            return;
        }
        Offered::Only(may) => may,
    };
    let pass = |ids: Vec<String>| ids.into_iter().filter(|id| may.contains(id)).collect::<Vec<_>>();
    let mut easier = pass(rungs(id, |e| &e.easier));
    easier.reverse();
    let harder = pass(rungs(id, |e| &e.harder));
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
    let instead = pass(others(id));
    if !instead.is_empty() {
        html.open("p").text("Instead").close().open("ul").attr("class", "instead");
        for other in &instead {
            rung(html, exercise.line, other, "instead");
        }
        html.close();
    }
    if all.iter().any(|id| !may.contains(id)) {
        let words = match may.len() {
            0 => {
                "No other is offered: each stands there already, or would raise a notice or can’t be checked here."
            }
            _ => {
                "Those are left out that stand there already, would raise a notice, or can’t be checked here."
            }
        };
        html.open("p").attr("class", "aside").text(words).close();
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
