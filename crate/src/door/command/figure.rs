//! `layfigure figure FILE [--views] [--nudge] [--clinician] [--body KIND] [--stature CM]`: the figure of an exercise file, or of the own exercises in a prescription, as
//! SVG; or a page of it as seen from the right, the front and above.

use super::figures::{Case, drawn, nudged};
use super::sheet::{self, Entry};
use super::{Fault, Given};
use crate::body::names::Side;
use crate::catalog::{Catalog, Exercise};
use crate::notice::Notice;

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "views", "nudge", "clinician", "body", "stature"])?;
    let word = format!("{}, right", given.variant.word());
    let case = Case { word, body: given.body(), side: Side::Right, look: given.look() };
    let text = given.text()?;
    let (exercises, notices) = asked(&text);
    for notice in &notices {
        eprintln!("line {}: {}", notice.place.line, notice.sentence());
    }
    let mut out = String::new();
    let mut all = Vec::new();
    for exercise in &exercises {
        if let Some(drawn) = drawn(exercise, &case, given.views) {
            eprintln!("{}\n{}", drawn.picture.figure.words.join(" "), drawn.settled.join("\n"));
            if given.nudge {
                eprintln!("{}", nudged(exercise).join("\n"));
            }
            out.push_str(drawn.picture.figure.svg.as_str());
            out.push('\n');
            all.push(Entry { exercise, drawn: vec![drawn] });
        }
    }
    if given.views && !all.is_empty() {
        return Ok(sheet::page(&all, false));
    }
    if out.is_empty() {
        return Err(Fault::Outside(
            "There is nothing to draw: write `exercise: NAME` and at least one `pose: start, from standing`."
                .into(),
        ));
    }
    Ok(out)
}

/// The own exercises of a prescription, whose lines are indented below their name; else the text is the
/// file of one exercise, which reads as a catalog of one.
fn asked(text: &str) -> (Vec<Exercise>, Vec<Notice>) {
    let (prescription, _) = crate::prescription::read(text);
    let (own, notices) = crate::programme::resolve::own(&prescription, Catalog::embedded());
    if own.iter().any(|e| !e.poses.is_empty()) {
        return (own, notices);
    }
    if !text.lines().any(|line| line.trim_start().to_lowercase().starts_with("exercise:")) {
        return (Vec::new(), Vec::new());
    }
    let (catalog, notices) = Catalog::read(&format!("@ own/exercise\n{text}"));
    (catalog.exercises().to_vec(), notices.into_iter().map(|(_, notice)| notice).collect())
}
