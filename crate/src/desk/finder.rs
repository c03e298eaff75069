//! Finds an exercise by what it is for, and puts it into the text.

use super::{Slot, change};
use crate::catalog::terms::{Kit, Muscle, Position, Purpose, Region, Term};
use crate::catalog::{Catalog, Exercise, find};
use crate::markup::{Markup, Writer};

/// At most so many are shown at once; more are said.
pub const MOST: usize = 12;

/// What is looked for; what is not said does not matter.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wanted {
    pub words: String,
    pub region: Option<Region>,
    pub purpose: Option<Purpose>,
    pub position: Option<Position>,
    /// Needs this; `Some(None)` would be nothing at all: see `bare`.
    pub kit: Option<Kit>,
    /// Needs nothing.
    pub bare: bool,
    pub works: Option<Muscle>,
}

impl Wanted {
    /// With one of the controls set to a word; an unknown word takes the wish away.
    pub fn with(mut self, control: &str, word: &str) -> Wanted {
        match control {
            "words" => self.words = word.to_string(),
            "region" => self.region = Region::of(word),
            "purpose" => self.purpose = Purpose::of(word),
            "position" => self.position = Position::of(word),
            "kit" => {
                self.bare = word == "nothing";
                self.kit = Kit::of(word);
            }
            "works" => self.works = Muscle::of(word),
            _ => {}
        }
        self
    }

    fn takes(&self, e: &Exercise) -> bool {
        let typed = find::key(&self.words);
        let names = core::iter::once(&e.name).chain(&e.also);
        let named = typed.is_empty()
            || names.into_iter().any(|name| {
                let key = find::key(name);
                typed.split(' ').all(|part| key.split(' ').any(|word| word.starts_with(part)))
            });
        named
            && self.region.is_none_or(|region| e.region == Some(region))
            && self.purpose.is_none_or(|purpose| e.purpose == purpose)
            && self.position.is_none_or(|position| e.position == Some(position))
            && self.kit.is_none_or(|kit| e.kit.contains(&kit))
            && (!self.bare || e.kit.is_empty())
            && self.works.is_none_or(|muscle| e.works.contains(&muscle))
    }
}

/// All that fit, in the order of the body and then of purpose and name.
pub fn found(wanted: &Wanted) -> Vec<&'static Exercise> {
    let mut found: Vec<&Exercise> =
        Catalog::embedded().exercises().iter().filter(|e| wanted.takes(e)).collect();
    crate::sorting::sort_by_key(&mut found, |e| (e.region, e.purpose, e.name.clone()));
    found
}

/// The panel. `figure` gives the small picture of an exercise, where it is drawn already.
pub fn panel(wanted: &Wanted, figure: &mut dyn FnMut(&str) -> Option<Markup>) -> Vec<Slot> {
    vec![controls(), list(wanted, figure)]
}

/// The controls, always the same HTML: what was typed and chosen is the browser's.
fn controls() -> Slot {
    let mut html = Writer::new();
    html.open("section").attr("class", "panel").attr("aria-labelledby", "find-head");
    html.open("h2").attr("id", "find-head").attr("tabindex", "-1").text("Find an exercise").close();
    html.open("div").attr("class", "wishes");
    html.open("p").open("label").attr("for", "find-words").text("Words of its name").close();
    html.open("input").attr("id", "find-words").attr("type", "text").attr("autocomplete", "off");
    html.attr("data-find", "words").attr("data-focus", "find words").empty();
    html.close();
    choice::<Region>(&mut html, "Region", "region");
    choice::<Purpose>(&mut html, "Purpose", "purpose");
    choice::<Position>(&mut html, "Position", "position");
    kit(&mut html);
    choice::<Muscle>(&mut html, "Muscle that works", "works");
    html.close();
    html.open("p").attr("class", "acts").open("button").attr("type", "button").attr("class", "quiet");
    html.attr("data-do", "panel none").attr("data-focus", "panel none").text("Close").close().close();
    html.close();
    Slot { key: "finder".into(), html: html.finish().into_string() }
}

fn list(wanted: &Wanted, figure: &mut dyn FnMut(&str) -> Option<Markup>) -> Slot {
    let mut html = Writer::new();
    html.open("section").attr("class", "panel").attr("aria-label", "Exercises that fit");
    let found = found(wanted);
    let said = match found.len() {
        0 => "None fits. Take a wish away.".to_string(),
        1 => "One fits.".to_string(),
        n if n <= MOST => format!("{n} fit."),
        n => format!("{n} fit; the first {MOST} are shown."),
    };
    html.open("p").attr("role", "status").attr("class", "aside").text(&said).close();
    html.open("ul").attr("class", "found");
    for entry in found.iter().take(MOST) {
        html.open("li");
        html.open("div").attr("class", "small").attr("aria-hidden", "true");
        if let Some(picture) = figure(&entry.id) {
            html.insert(&picture);
        }
        html.close().open("div");
        html.element("b", &change::prescription_name(entry));
        let dose = entry.dose.to_string();
        html.open("span").attr("class", "aside").text(&format!(" {}", entry.purpose.word())).close();
        html.element("p", &dose);
        html.open("button").attr("type", "button").attr("data-do", &format!("put {}", entry.id));
        html.attr("data-focus", &format!("put {}", entry.id));
        html.attr("aria-label", &format!("Put in {}", change::prescription_name(entry)));
        html.text("Put in").close().close().close();
    }
    html.close().close();
    Slot { key: "found".into(), html: html.finish().into_string() }
}

fn head(html: &mut Writer, label: &str, control: &str) {
    let id = format!("find-{control}");
    html.open("p").open("label").attr("for", &id).text(label).close();
    html.open("select").attr("id", &id).attr("data-find", control).attr("data-focus", &id);
}

fn option(html: &mut Writer, value: &str, words: &str) {
    html.open("option").attr("value", value).text(words).close();
}

fn choice<T: Term>(html: &mut Writer, label: &str, control: &str) {
    head(html, label, control);
    option(html, "", "any");
    // Only what some exercise has: a wish that nothing fulfils is no use.
    for word in T::words() {
        if found(&Wanted::default().with(control, word)).is_empty() {
            continue;
        }
        option(html, word, word);
    }
    html.close().close();
}

fn kit(html: &mut Writer) {
    head(html, "Kit", "kit");
    option(html, "", "any");
    option(html, "nothing", "nothing");
    for word in Kit::words() {
        if !found(&Wanted::default().with("kit", word)).is_empty() {
            option(html, word, word);
        }
    }
    html.close().close();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_exercise_is_found_by_what_its_file_says() {
        for e in Catalog::embedded().exercises() {
            let mut wanted = Wanted::default().with("words", &e.name).with("purpose", e.purpose.word());
            if let Some(region) = e.region {
                wanted = wanted.with("region", region.word());
            }
            if let Some(position) = e.position {
                wanted = wanted.with("position", position.word());
            }
            if let Some(muscle) = e.works.first() {
                wanted = wanted.with("works", muscle.word());
            }
            wanted = match e.kit.first() {
                Some(kit) => wanted.with("kit", kit.word()),
                None => wanted.with("kit", "nothing"),
            };
            assert!(found(&wanted).iter().any(|f| f.id == e.id), "{wanted:?}");
        }
    }

    #[test]
    fn a_wish_leaves_out_what_does_not_fit_and_can_be_taken_back() {
        let all = found(&Wanted::default()).len();
        let knees = found(&Wanted::default().with("region", "knee"));
        assert!(!knees.is_empty() && knees.len() < all);
        assert!(knees.iter().all(|e| e.region == Some(Region::Knee)));
        assert_eq!(found(&Wanted::default().with("region", "knee").with("region", "")).len(), all);
        assert!(found(&Wanted::default().with("words", "zzzz")).is_empty());
    }
}
