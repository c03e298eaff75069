//! `layfigure figure FILE`: the figure of an exercise file, as SVG.

use super::figures::drawn;
use super::{Fault, Given};
use crate::catalog::Catalog;

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE"])?;
    let text = given.text()?;
    // An exercise file reads as a catalog of one; its notices go to the one who writes it.
    let (catalog, notices) = Catalog::read(&format!("@ own/exercise\n{text}"));
    for (_, notice) in &notices {
        eprintln!("line {}: {}", notice.place.line, notice.sentence);
    }
    let mut out = String::new();
    for exercise in catalog.exercises() {
        if let Some((figure, gap)) = drawn(exercise) {
            eprintln!("{}\nLargest gap left: {} mm", figure.words.join(" "), crate::measure::shown(gap, 1));
            out.push_str(figure.svg.as_str());
            out.push('\n');
        }
    }
    if out.is_empty() {
        return Err(Fault::Outside(
            "There is nothing to draw: write `exercise: NAME` and at least one `pose: start, from standing`."
                .into(),
        ));
    }
    Ok(out)
}
