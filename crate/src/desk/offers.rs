//! The list of offers under the cursor: chosen by arrow keys or pointer, taken by one key.

use super::Slot;
use super::complete::Offer;
use crate::markup::{Markup, Writer};

/// One slot, none where nothing is offered. `figure` gives the small picture of an exercise, where it is drawn.
pub fn list(offers: &[Offer], figure: &mut dyn FnMut(&str) -> Option<Markup>) -> Vec<Slot> {
    if offers.is_empty() {
        return Vec::new();
    }
    let mut html = Writer::new();
    html.open("ul")
        .attr("id", "offer-list")
        .attr("role", "listbox")
        .attr("aria-label", "What could stand here");
    for (index, offer) in offers.iter().enumerate() {
        html.open("li").attr("role", "option").attr("id", &format!("offer-{index}"));
        html.attr("aria-selected", "false").attr("data-do", &format!("take {index}"));
        if let Some(id) = &offer.figure {
            html.open("span").attr("class", "small").attr("aria-hidden", "true");
            if let Some(picture) = figure(id) {
                html.insert(&picture);
            }
            html.close();
        }
        html.open("span").element("b", &offer.words);
        if !offer.more.is_empty() {
            html.text(" ").open("span").attr("class", "aside").text(&offer.more).close();
        }
        html.close().close();
    }
    html.close();
    vec![Slot { key: "offers".into(), html: html.finish().into_string() }]
}
