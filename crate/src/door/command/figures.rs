//! `layfigure figures [--out FOLDER] [--views] [--body KIND] [--stature CM]`: every figure of the catalog with its words.

use super::{Fault, Given};
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::body::{Body, Variant};
use crate::catalog::{Catalog, Exercise};
use crate::figure::{Figure, Look, still};
use crate::markup::Writer;
use crate::pose::ask::{Pose, ViewFrom};
use crate::pose::movement::Key;
use crate::pose::nudge::{self, Nudge};
use crate::pose::settle;
use std::fmt::Write as _;
use std::path::Path;

/// An exercise drawn for the right side.
pub(super) struct Drawn {
    pub figure: Figure,
    /// The largest gap that settling left, millimetres for a 1.70 m body.
    pub gap_mm: f64,
    /// Where wished: the same from the right, from the front, and from above.
    pub views: Vec<Figure>,
    /// What settling has to say of each key pose, a line each.
    pub settled: Vec<String>,
}

pub(super) fn drawn(exercise: &Exercise, body: &Body, views: bool) -> Option<Drawn> {
    if exercise.poses.is_empty() {
        return None;
    }
    let movement = settle::exercise(body, &exercise.poses, Side::Right, &Limits::none());
    let gap_mm = movement.keys.iter().map(|k| k.gap_mm).fold(0.0, f64::max);
    let from = |from| still(body, &movement, &Look { from: Some(from), ..Look::default() });
    let all = [ViewFrom::Side(Some(Side::Right)), ViewFrom::Front, ViewFrom::Above];
    Some(Drawn {
        figure: still(body, &movement, &Look::default()),
        gap_mm,
        views: all.into_iter().filter(|_| views).map(from).collect(),
        settled: movement.keys.iter().map(settled).collect(),
    })
}

/// How an exercise settles when its numbers and its body are others, a line for each that is asked.
pub(super) fn nudged(exercise: &Exercise) -> Vec<String> {
    let mut said = Vec::new();
    let mut one = |name: String, body: &Body, poses: &[Pose]| {
        let movement = settle::exercise(body, poses, Side::Right, &Limits::none());
        let worst = movement.keys.iter().max_by(|a, b| a.gap_mm.total_cmp(&b.gap_mm));
        let Some(worst) = worst else { return };
        let shy = movement.keys.iter().filter_map(|k| k.margin_mm).fold(f64::INFINITY, f64::min);
        let mut line = format!("{name}: gap {} mm in {}", crate::measure::shown(worst.gap_mm, 1), worst.name);
        if shy.is_finite() {
            let _ = write!(line, ", balance {} mm", crate::measure::shown(shy, 0));
        }
        if settle::GAP_MM < worst.gap_mm {
            line.push_str(" TOO MUCH");
        }
        if movement.keys.iter().any(|k| !k.converged) {
            line.push_str(" NOT CONVERGED");
        }
        said.push(line);
    };
    let usual = Body::usual();
    for by in Nudge::ALL {
        one(format!("{by:?}"), &usual, &nudge::nudged(&exercise.poses, by));
    }
    for metres in [1.50, 1.95] {
        one(format!("{metres} m"), &Body::of_stature(metres), &exercise.poses);
    }
    for variant in Variant::ALL {
        one(variant.word().to_string(), &Body::of(variant), &exercise.poses);
    }
    said
}

/// A key pose's gap, balance and misses in a line.
fn settled(key: &Key) -> String {
    let mut said = format!("{}: gap {} mm", key.name, crate::measure::shown(key.gap_mm, 1));
    if let Some(margin) = key.margin_mm {
        let _ = write!(said, ", balance {} mm inside", crate::measure::shown(margin, 0));
    }
    for (angle, asked, came) in &key.missed {
        let (asked, came) = (crate::measure::shown(*asked, 0), crate::measure::shown(*came, 0));
        let _ = write!(said, ", MISSED {}: asked {asked}, came {came}", angle.name());
    }
    for (ask, off) in &key.unmet {
        let _ = write!(said, ", UNMET {ask:?}: off by {} tolerances", crate::measure::shown(*off, 1));
    }
    if !key.converged {
        said.push_str(", NOT CONVERGED");
    }
    said
}

const STYLE: &str = "body{font:14px/1.4 sans-serif;margin:1rem;display:grid;\
grid-template-columns:repeat(auto-fill,minmax(26rem,1fr));gap:1.5rem;align-items:end}\
figure{margin:0}svg{max-height:15rem;max-width:100%;margin-right:1rem}figcaption small{color:#555}\
body:has(svg+svg){display:block}";

/// The contact sheet: one page of all figures, their words, their size and what settling left.
pub(super) fn sheet(drawn: &[(&Exercise, Drawn)]) -> String {
    let mut w = Writer::new();
    w.doctype().open("html").attr("lang", "en").open("head");
    w.open("meta").attr("charset", "utf-8").empty();
    w.element("title", "Contact sheet of all figures");
    w.open("style").own(STYLE).close().close().open("body").newline();
    for (exercise, drawn) in drawn {
        let figure = &drawn.figure;
        w.open("figure").insert(&figure.svg);
        for view in &drawn.views {
            w.insert(&view.svg);
        }
        w.open("figcaption").element("strong", &exercise.name).text(" ");
        let facts = format!(
            "{} bytes, {:?}, {} frames, gap {} mm",
            figure.svg.len(),
            figure.sight,
            figure.frames,
            crate::measure::shown(drawn.gap_mm, 1)
        );
        w.element("small", &facts).open("br").empty().text(&figure.words.join(" "));
        for line in &drawn.settled {
            w.open("br").empty().element("small", line);
        }
        w.close().close().newline();
    }
    w.finish().into_string()
}

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["out", "views", "body", "stature"])?;
    let body = given.body();
    let exercises = Catalog::embedded().exercises().iter();
    let drawn: Vec<(&Exercise, Drawn)> =
        exercises.filter_map(|e| drawn(e, &body, given.views).map(|d| (e, d))).collect();
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
    for (exercise, drawn) in &drawn {
        let (figure, gap) = (&drawn.figure, drawn.gap_mm);
        written(&folder.join(format!("{}.svg", exercise.id)), figure.svg.as_str())?;
        let _ = writeln!(
            said,
            "{}\t{} bytes\tgap {} mm",
            exercise.id,
            figure.svg.len(),
            crate::measure::shown(gap, 1)
        );
    }
    Ok(said)
}
