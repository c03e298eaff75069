//! A visit that goes on from the last: what was handed over then, and what is different now.

use super::Slot;
use crate::catalog::Catalog;
use crate::handout::News;
use crate::link::fault::{Fault, Kind};
use crate::link::written;
use crate::markup::Writer;
use crate::programme::Programme;

/// The text that was pasted: a prescription as it is, or what a link carries. An error is a sentence.
pub fn brought(pasted: &str) -> Result<String, String> {
    let pasted = pasted.trim();
    if pasted.is_empty() {
        return Err("Paste last time’s text or link into the field first.".into());
    }
    let one = !pasted.contains(char::is_whitespace);
    if !(pasted.contains('#') && pasted.contains("://")) {
        return Ok(format!("{pasted}\n"));
    }
    match written::open(pasted, Catalog::embedded()) {
        Ok(shared) => Ok(shared.text),
        Err(fault) if one => Err(refused(&fault).to_string()),
        // A text with an address in it.
        Err(_) => Ok(format!("{pasted}\n")),
    }
}

/// The patient's page says such things to the patient; this is for the clinician.
fn refused(fault: &Fault) -> &'static str {
    match fault.kind {
        Kind::Sealed => {
            "This link is sealed. Paste last time’s text, or open the link with its passphrase on the patient’s page."
        }
        Kind::Newer => {
            "This link was made by a newer version of this page. Load the page anew, then paste it again."
        }
        _ => {
            "This link is damaged or not whole, so nothing of it is shown. Copy it again, or paste last time’s text."
        }
    }
}

/// What is different, in words for the clinician: in the order of the sheet, then what has stopped.
pub fn told(news: &News, programme: &Programme) -> Vec<String> {
    let mut all: Vec<String> = news
        .marks
        .iter()
        .filter_map(|(at, said)| Some(format!("{}: {}", programme.exercises.get(*at)?.name, lower(said))))
        .collect();
    all.extend(news.stopped.iter().map(|name| format!("{name}: no longer.")));
    all
}

fn lower(said: &str) -> String {
    let mut chars = said.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

/// The panel. `news`: what differs, where a visit goes on from an earlier one.
pub fn panel(news: Option<&News>, programme: &Programme) -> Vec<Slot> {
    let mut html = Writer::new();
    html.open("section").attr("class", "panel").attr("aria-labelledby", "visit-head");
    html.open("h2").attr("id", "visit-head").attr("tabindex", "-1").text("Same as last time, but …").close();
    match news {
        Some(news) => {
            let told = told(news, programme);
            html.element(
                "p",
                if told.is_empty() { "Nothing is different yet." } else { "Different from last time:" },
            );
            html.open("ul");
            for one in &told {
                html.element("li", one);
            }
            html.close();
            html.open("p")
                .attr("class", "acts")
                .open("button")
                .attr("type", "button")
                .attr("data-do", "visit end");
            html.attr("data-focus", "visit end").text("Mark nothing").close().close();
        }
        None => {
            html.element(
                "p",
                "What you change from now on is marked on the sheet: new, more, less, no longer. Weeks, and limits that end by a week, still count from the “start:” line.",
            );
            html.open("p")
                .attr("class", "acts")
                .open("button")
                .attr("type", "button")
                .attr("data-do", "visit begin");
            html.attr("data-focus", "visit begin").attr("id", "visit-begin");
            html.text("Go on from the text on the page").close().close();
        }
    }
    html.open("p").attr("class", "acts").open("button").attr("type", "button").attr("class", "quiet");
    html.attr("data-do", "panel none").attr("data-focus", "panel none").text("Close").close().close();
    html.close();
    // Apart, so that what is being pasted stays when the list above it changes.
    let mut paste = Writer::new();
    paste.open("section").attr("class", "panel").attr("aria-label", "From a text or a link");
    paste
        .open("p")
        .open("label")
        .attr("for", "visit-text")
        .text("Or from last time’s text, or the patient’s link")
        .close();
    paste.open("textarea").attr("id", "visit-text").attr("rows", "3").attr("spellcheck", "false");
    paste.attr("autocomplete", "off").close().close();
    paste
        .open("p")
        .attr("class", "acts")
        .open("button")
        .attr("type", "button")
        .attr("data-do", "visit pasted");
    paste.attr("data-focus", "visit pasted").text("Put it on the page and go on from it").close().close();
    paste.close();
    vec![
        Slot { key: "visit".into(), html: html.finish().into_string() },
        Slot { key: "paste".into(), html: paste.finish().into_string() },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_taken_as_it_is_and_a_bad_link_says_what_to_do() {
        assert_eq!(brought("  bridge up: 3 x 10  "), Ok("bridge up: 3 x 10\n".to_string()));
        assert_eq!(
            brought("see https://a.example/#x and y"),
            Ok("see https://a.example/#x and y\n".to_string())
        );
        for link in
            ["", " \n ", "https://a.example/home.html#", "https://a.example/home.html#Zx", "http://a#Labc"]
        {
            let words = brought(link).expect_err(link);
            assert!(words.ends_with('.') && !words.contains("your clinician"), "{words}");
        }
    }
}
