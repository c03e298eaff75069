//! The contact sheet: one page on which all figures are looked at side by side, with their words and whatever there is
//! to find fault with.

use super::figures::{Drawn, Picture};
use crate::body::names::Side;
use crate::catalog::Exercise;
use crate::catalog::terms::{Region, Term};
use crate::figure::view::Sight;
use crate::markup::Writer;
use crate::measure::shown;

/// An exercise with its pictures; the first is the usual body's, or the one that was asked for.
pub(super) struct Entry<'a> {
    pub exercise: &'a Exercise,
    pub drawn: Vec<Drawn>,
}

const STYLE: &str = "
:root{font:15px/1.4 system-ui,sans-serif;color:#111;background:#fff;--soft:#555;--rule:#ccc;--bad:#a00}
body{margin:1rem auto;max-width:120rem;padding:0 1rem}
h1{font-size:1.5rem;margin:0 0 .3rem}
h2{font-size:1.25rem;margin:1.8rem 0 .6rem;padding-bottom:.2rem;border-bottom:2px solid #111;break-after:avoid}
h3{font-size:1.05rem;margin:0}
nav a{margin-right:1rem;color:inherit}
.grid{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,26rem),1fr));gap:1.2rem 1.6rem}
.many .grid{grid-template-columns:1fr}
article{border-top:1px solid var(--rule);padding-top:.5rem;break-inside:avoid;min-width:0}
.pictures{display:flex;flex-wrap:wrap;gap:.8rem 1.2rem;align-items:flex-end}
figure{margin:0;min-width:0;flex:1 1 16rem;max-width:34rem}
figure svg{display:block;width:100%;height:auto;max-height:17rem}
.many .pictures{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,16rem),1fr))}
nav ul{columns:15rem;max-width:75rem}nav li{break-inside:avoid}
.many figure svg{max-height:13rem}
figcaption,.facts{color:var(--soft);font-size:.85rem}
figcaption b{color:#111}
p{margin:.35rem 0;max-width:75ch}
ul{margin:.3rem 0;padding-left:1.2rem;font-size:.85rem;color:var(--soft)}
.faults{color:var(--bad);font-weight:600;list-style:'\\2717\\00a0'}
.paper .grid{grid-template-columns:repeat(auto-fill,minmax(56mm,1fr));gap:4mm 5mm}
.paper.many .grid{grid-template-columns:1fr}
.paper.many .pictures{grid-template-columns:repeat(auto-fill,45mm)}
.paper figure{flex:0 0 45mm;width:45mm}
.paper figure svg{width:45mm;height:auto;max-height:none;filter:grayscale(1)}
.paper,.paper figcaption,.paper ul,.paper .facts{font-size:8pt;line-height:1.25}
@media print{@page{margin:12mm}body{margin:0;padding:0;max-width:none;font-size:9pt}nav{display:none}
.grid{grid-template-columns:1fr 1fr;gap:5mm}.paper .grid{grid-template-columns:repeat(3,1fr)}
.many .grid{grid-template-columns:1fr}figure svg{max-height:50mm}}
";

/// The page. With `paper` every picture is 45 mm wide and grey, as on a photocopy of the sheet.
pub(super) fn page(entries: &[Entry], paper: bool) -> String {
    let mut w = Writer::new();
    w.doctype().open("html").attr("lang", "en").open("head");
    w.open("meta").attr("charset", "utf-8").empty();
    w.open("meta").attr("name", "viewport").attr("content", "width=device-width").empty();
    w.element("title", "Contact sheet of figures").open("style").own(STYLE).close().close().newline();
    let many = entries.iter().any(|e| 1 < e.drawn.iter().map(|d| 1 + d.views.len()).sum::<usize>());
    let class = [(paper, "paper"), (many, "many")];
    let class: Vec<&str> = class.into_iter().filter(|(on, _)| *on).map(|(_, word)| word).collect();
    w.open("body");
    if !class.is_empty() {
        w.attr("class", &class.join(" "));
    }
    w.newline();
    head(&mut w, entries);
    let mut regions: Vec<Option<Region>> = entries.iter().map(|e| e.exercise.region).collect();
    crate::sorting::sort(&mut regions);
    regions.dedup();
    for region in regions {
        let of: Vec<&Entry> = entries.iter().filter(|e| e.exercise.region == region).collect();
        w.open("section").open("h2").attr("id", anchor(region)).text(&heading(region)).close();
        w.open("div").attr("class", "grid").newline();
        of.iter().for_each(|entry| article(&mut w, entry));
        w.close().close().newline();
    }
    w.finish().into_string()
}

fn anchor(region: Option<Region>) -> &'static str {
    region.map_or("own", Term::word)
}

fn heading(region: Option<Region>) -> String {
    match region {
        None => "Own exercises".into(),
        Some(Region::Whole) => "Whole body".into(),
        Some(region) => {
            let word = region.word();
            let mut letters = word.chars();
            letters.next().map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
        }
    }
}

/// How many there are, where they stand, and which have faults.
fn head(w: &mut Writer, entries: &[Entry]) {
    let pictures: usize = entries.iter().map(|e| e.drawn.len()).sum();
    let mut bytes: Vec<usize> =
        entries.iter().flat_map(|e| &e.drawn).map(|d| d.picture.figure.svg.len()).collect();
    crate::sorting::sort(&mut bytes);
    let at = |i: usize| bytes.get(i).copied().unwrap_or(0);
    w.element("h1", "Contact sheet of figures").open("p").attr("class", "facts");
    w.text(&format!(
        "{} exercises, {pictures} pictures; bytes {} at least, {} median, {} at most",
        entries.len(),
        at(0),
        at(bytes.len() / 2),
        at(bytes.len().saturating_sub(1))
    ));
    w.close().open("nav").open("p");
    let mut before = None;
    let mut regions: Vec<Option<Region>> = entries.iter().map(|e| e.exercise.region).collect();
    crate::sorting::sort(&mut regions);
    for region in regions {
        if before != Some(region) {
            w.open("a")
                .attr("href", &format!("#{}", anchor(region)))
                .text(&heading(region))
                .close()
                .text(" ");
        }
        before = Some(region);
    }
    w.close().open("ul").attr("class", "faults");
    for entry in entries.iter().filter(|e| e.drawn.iter().any(|d| !d.faults.is_empty())) {
        let count: usize = entry.drawn.iter().map(|d| d.faults.len()).sum();
        w.open("li").open("a").attr("href", &format!("#{}", entry.exercise.id)).text(&entry.exercise.name);
        w.close().text(&format!(" {count}")).close();
    }
    w.close().close().newline();
}

fn article(w: &mut Writer, entry: &Entry) {
    let Some(first) = entry.drawn.first() else { return };
    w.open("article").attr("id", &entry.exercise.id).element("h3", &entry.exercise.name);
    w.open("div").attr("class", "pictures");
    for drawn in &entry.drawn {
        picture(w, &drawn.picture);
        drawn.views.iter().for_each(|view| picture(w, view));
    }
    w.close().element("p", &first.picture.figure.words.join(" "));
    // Words of the others only where they say something else.
    for drawn in entry.drawn.iter().skip(1).filter(|d| d.picture.figure.words != first.picture.figure.words) {
        w.open("p").attr("class", "facts").element("b", &format!("{}: ", drawn.picture.of));
        w.text(&drawn.picture.figure.words.join(" ")).close();
    }
    w.open("ul").attr("class", "faults");
    for drawn in &entry.drawn {
        for fault in &drawn.faults {
            w.element("li", &format!("{}: {fault}", drawn.picture.of));
        }
    }
    w.close().open("ul");
    first.settled.iter().for_each(|line| {
        w.element("li", line);
    });
    w.close().close().newline();
}

fn picture(w: &mut Writer, picture: &Picture) {
    let figure = &picture.figure;
    w.open("figure").insert(&figure.svg).open("figcaption").element("b", &picture.of);
    let frames = if figure.frames == 1 { "1 frame".into() } else { format!("{} frames", figure.frames) };
    w.text(&format!(
        ", seen {}, {frames}, {} % of what works in sight, {} bytes",
        seen_from(figure.sight),
        shown(figure.seen * 100.0, 0),
        figure.svg.len()
    ));
    w.close().close().newline();
}

fn seen_from(sight: Sight) -> String {
    let side = |side| if side == Side::Right { "right" } else { "left" };
    match sight {
        Sight::Side(s) => format!("from the {}", side(s)),
        Sight::Front => "from the front".into(),
        Sight::Back => "from the back".into(),
        Sight::Above => "from above".into(),
        Sight::FootEnd => "from the feet".into(),
        Sight::FrontQuarter(s) => format!("from the front and {}", side(s)),
        Sight::BackQuarter(s) => format!("from the back and {}", side(s)),
    }
}

#[cfg(test)]
mod tests {
    use super::super::figures::{Case, drawn};
    use super::*;
    use crate::body::{Body, Variant};
    use crate::catalog::Catalog;
    use crate::figure::Look;

    #[test]
    fn every_picture_stands_below_its_region_and_tells_whose_it_is() {
        let cases =
            [(Variant::Adult, Side::Right), (Variant::Child, Side::Left)].map(|(variant, side)| Case {
                word: format!("{}, {side:?}", variant.word()),
                body: Body::of(variant),
                side,
                look: Look::default(),
            });
        let last: Vec<&Exercise> = Catalog::embedded().exercises().iter().rev().take(2).collect();
        let entry = |exercise: &&'static Exercise| {
            let drawn = cases.iter().filter_map(|c| drawn(exercise, c, false)).collect();
            Entry { exercise, drawn }
        };
        let mut entries: Vec<Entry> = last.iter().map(entry).collect();
        let page = page(&entries, true);
        assert_eq!(page.matches("<svg xmlns").count(), 4);
        assert_eq!(page.matches("<b>adult, Right</b>").count(), 2);
        assert_eq!(page.matches("<b>child, Left</b>").count(), 2);
        for Entry { exercise, .. } in &entries {
            let at = page.find(&format!("<h2 id=\"{}\"", anchor(exercise.region)));
            let below = page.find(&format!("<article id=\"{}\"", exercise.id));
            assert!(at.is_some() && at < below, "{} stands below its region", exercise.name);
        }
        // A fault is told at the head and at the picture.
        assert_eq!(page.matches("An arrow is wrong").count(), 0);
        if let Some(drawn) = entries.first_mut().and_then(|e| e.drawn.last_mut()) {
            drawn.faults.push("An arrow is wrong".into());
        }
        let page = super::page(&entries, false);
        assert!(page.contains("child, Left: An arrow is wrong"));
        assert!(page.contains(&format!("<a href=\"#{}\">", last[0].id)));
    }
}
