//! `layfigure figures [--out FOLDER]`: every figure of the catalog with its words.

use super::{Fault, Given};
use crate::body::Body;
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::catalog::{Catalog, Exercise};
use crate::figure::{Figure, Look, still};
use crate::markup::Writer;
use crate::pose::settle;
use std::fmt::Write as _;
use std::path::Path;

/// An exercise drawn for the right side, with the largest gap that settling left, millimetres.
pub(super) fn drawn(exercise: &Exercise) -> Option<(Figure, f64)> {
    if exercise.poses.is_empty() {
        return None;
    }
    let body = Body::usual();
    let movement = settle::exercise(&body, &exercise.poses, Side::Right, &Limits::none());
    let gap = movement.keys.iter().map(|k| k.gap_mm).fold(0.0, f64::max);
    Some((still(&body, &movement, &Look::default()), gap))
}

const STYLE: &str = "body{font:14px/1.4 sans-serif;margin:1rem;display:grid;\
grid-template-columns:repeat(auto-fill,minmax(26rem,1fr));gap:1.5rem;align-items:end}\
figure{margin:0}svg{display:block;max-height:15rem;max-width:100%}figcaption small{color:#555}";

/// The contact sheet: one page of all figures, their words, their size and what settling left.
fn sheet(drawn: &[(&Exercise, Figure, f64)]) -> String {
    let mut w = Writer::new();
    w.doctype().open("html").attr("lang", "en").open("head");
    w.open("meta").attr("charset", "utf-8").empty();
    w.element("title", "Contact sheet of all figures");
    w.open("style").own(STYLE).close().close().open("body").newline();
    for (exercise, figure, gap) in drawn {
        w.open("figure").insert(&figure.svg).open("figcaption").element("strong", &exercise.name).text(" ");
        let facts = format!(
            "{} bytes, {:?}, {} frames, gap {} mm",
            figure.svg.len(),
            figure.sight,
            figure.frames,
            crate::measure::shown(*gap, 1)
        );
        w.element("small", &facts).open("br").empty().text(&figure.words.join(" "));
        w.close().close().newline();
    }
    w.finish().into_string()
}

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["out"])?;
    let drawn: Vec<(&Exercise, Figure, f64)> = Catalog::embedded()
        .exercises()
        .iter()
        .filter_map(|e| drawn(e).map(|(figure, gap)| (e, figure, gap)))
        .collect();
    let page = sheet(&drawn);
    let Some(folder) = given.out else { return Ok(page) };
    let folder = Path::new(&folder);
    let written = |path: &Path, text: &str| {
        std::fs::write(path, text)
            .map_err(|e| Fault::Outside(format!("{} could not be written: {e}", path.display())))
    };
    std::fs::create_dir_all(folder)
        .map_err(|e| Fault::Outside(format!("{} could not be made: {e}", folder.display())))?;
    written(&folder.join("figures.html"), &page)?;
    let mut said = String::new();
    for (exercise, figure, gap) in &drawn {
        written(&folder.join(format!("{}.svg", exercise.id)), figure.svg.as_str())?;
        let _ = writeln!(
            said,
            "{}\t{} bytes\tgap {} mm",
            exercise.id,
            figure.svg.len(),
            crate::measure::shown(*gap, 1)
        );
    }
    Ok(said)
}
