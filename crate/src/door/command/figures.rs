//! `layfigure figures [--out FOLDER [--apart]] [--views] [--bodies] [--sides] [--print] [--clinician] [--body KIND] [--stature CM]`: every figure of
//! the catalog with its words.

use super::sheet::{self, Entry};
use super::{Fault, Given};
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::body::{Body, Variant};
use crate::catalog::{Catalog, Exercise};
use crate::figure::{ACCENT, Figure, Look, apart, moving, still, unseen};
use crate::markup::Markup;
use crate::pose::ask::{Pose, ViewFrom};
use crate::pose::movement::{Key, Movement};
use crate::pose::nudge::{self, Nudge};
use crate::pose::settle;
use std::fmt::Write as _;
use std::path::Path;

/// A figure, and what it is of, in words: `child, left`.
pub(super) struct Picture {
    pub of: String,
    pub figure: Figure,
}

/// An exercise drawn for one body and side.
pub(super) struct Drawn {
    pub picture: Picture,
    /// The largest gap that settling left, millimetres for a 1.70 m body.
    pub gap_mm: f64,
    /// Where wished: the same from the right, from the front, and from above.
    pub views: Vec<Picture>,
    /// What settling has to say of each key pose, a line each.
    pub settled: Vec<String>,
    /// What should not be so.
    pub faults: Vec<String>,
}

/// A body with the word for it, and the side that works.
pub(super) struct Case {
    pub word: String,
    pub body: Body,
    pub side: Side,
    pub look: Look,
}

pub(super) fn drawn(exercise: &Exercise, case: &Case, views: bool) -> Option<Drawn> {
    if exercise.poses.is_empty() {
        return None;
    }
    let Case { word, body, side, look } = case;
    let movement = settle::exercise(body, &exercise.poses, *side, &Limits::none());
    let gap_mm = movement.keys.iter().map(|k| k.gap_mm).fold(0.0, f64::max);
    let view = |from, word: &str| {
        let figure = still(body, &movement, &Look { from: Some(from), ..*look });
        Picture { of: word.into(), figure }
    };
    let all = [
        (ViewFrom::Side(Some(Side::Right)), "right"),
        (ViewFrom::Front, "front"),
        (ViewFrom::Above, "above"),
    ];
    let figure = still(body, &movement, look);
    let mut faults = faults(&movement, &figure, gap_mm);
    for (show, share) in unseen(body, &movement, &Look::default(), &exercise.must_show) {
        let share = crate::measure::shown(share * 100.0, 0);
        faults.push(format!("must show {show:?}: {share} % is in sight"));
    }
    Some(Drawn {
        picture: Picture { of: word.clone(), figure },
        gap_mm,
        views: all.into_iter().filter(|_| views).map(|(from, word)| view(from, word)).collect(),
        settled: movement.keys.iter().map(settled).collect(),
        faults,
    })
}

/// Bytes of a still at most (design, 7).
const MOST_BYTES: usize = 6 * 1024;
/// The share of what works that must be in sight, and how deep an arrow may run into the body (page units): as the
/// tests of all figures hold them.
const LEAST_SEEN: f64 = 0.4;
const DEEPEST_ARROW: f64 = 20.0;

/// What a reviewer should not have to look for.
fn faults(movement: &Movement, figure: &Figure, gap_mm: f64) -> Vec<String> {
    let mut said = Vec::new();
    let mut fault = |bad: bool, words: &dyn Fn() -> String| {
        if bad {
            said.push(words());
        }
    };
    let svg = &figure.svg;
    fault(MOST_BYTES < svg.len(), &|| format!("{} bytes are too many", svg.len()));
    fault(figure.seen <= LEAST_SEEN, &|| "what works is hardly in sight".into());
    fault(DEEPEST_ARROW <= figure.arrow_on_body, &|| "an arrow runs over the body".into());
    let works = movement.keys.iter().any(|k| !k.works.is_empty());
    fault(works && !svg.as_str().contains(ACCENT), &|| "nothing is in the colour of what works".into());
    fault(settle::GAP_MM < gap_mm, &|| format!("a gap of {} mm is left", crate::measure::shown(gap_mm, 1)));
    for key in &movement.keys {
        for (angle, asked, came) in &key.missed {
            let (asked, came) = (crate::measure::shown(*asked, 0), crate::measure::shown(*came, 0));
            fault(true, &|| format!("{}: {} is {came} degrees, not {asked}", key.name, angle.name()));
        }
        for (ask, off) in &key.unmet {
            let off = crate::measure::shown(*off, 1);
            fault(true, &|| format!("{}: {ask:?} is off by {off} tolerances", key.name));
        }
        fault(!key.converged, &|| format!("{}: settling has not converged", key.name));
    }
    said
}

/// The frames of a figure each alone, and the instants of its movement, each with what its file's name ends in.
fn parts(exercise: &Exercise, Case { body, side, .. }: &Case) -> Vec<(String, Markup)> {
    let movement = settle::exercise(body, &exercise.poses, *side, &Limits::none());
    let frames = apart(body, &movement, &Look::default()).into_iter().map(|f| f.svg);
    let instants = moving(body, &movement, &Look::default());
    let frames = frames.enumerate().map(|(i, svg)| (format!("frame-{}", i + 1), svg));
    let instants = instants.into_iter().enumerate().map(|(i, svg)| (format!("instant-{}", i + 1), svg));
    frames.chain(instants).collect()
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

/// As whom the catalog is drawn: the body that was asked for, or all of them; the right side, or both.
fn cases(given: &Given) -> Vec<Case> {
    let bodies: Vec<(&str, Body)> = if given.bodies {
        Variant::ALL.into_iter().map(|v| (v.word(), Body::of(v))).collect()
    } else {
        vec![(given.variant.word(), given.body())]
    };
    let sides: &[(&str, Side)] =
        if given.sides { &[("right", Side::Right), ("left", Side::Left)] } else { &[("right", Side::Right)] };
    let case = |(kind, body): &(&str, Body), (word, side): &(&str, Side)| Case {
        word: format!("{kind}, {word}"),
        body: *body,
        side: *side,
        look: given.look(),
    };
    bodies.iter().flat_map(|body| sides.iter().map(move |side| case(body, side))).collect()
}

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(
        args,
        &["out", "apart", "views", "bodies", "sides", "print", "clinician", "body", "stature"],
    )?;
    let cases = cases(&given);
    let entry = |exercise| {
        let drawn: Vec<Drawn> = cases.iter().filter_map(|c| drawn(exercise, c, given.views)).collect();
        (!drawn.is_empty()).then_some(Entry { exercise, drawn })
    };
    let entries: Vec<Entry> = Catalog::embedded().exercises().iter().filter_map(entry).collect();
    let page = sheet::page(&entries, given.print.is_some());
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
    for Entry { exercise, drawn } in &entries {
        for (i, drawn) in drawn.iter().enumerate() {
            let Picture { of, figure } = &drawn.picture;
            // The first keeps the plain name; the others are told apart.
            let name = if i == 0 {
                exercise.id.clone()
            } else {
                format!("{}-{}", exercise.id, of.replace(", ", "-"))
            };
            written(&folder.join(format!("{name}.svg")), figure.svg.as_str())?;
            let gap = crate::measure::shown(drawn.gap_mm, 1);
            let _ = writeln!(said, "{name}\t{} bytes\tgap {gap} mm", figure.svg.len());
            for fault in &drawn.faults {
                let _ = writeln!(said, "{name}\tFAULT {fault}");
            }
        }
    }
    if let (true, Some(first)) = (given.apart, cases.first()) {
        for Entry { exercise, .. } in &entries {
            for (end, svg) in parts(exercise, first) {
                written(&folder.join(format!("{}-{end}.svg", exercise.id)), svg.as_str())?;
            }
        }
    }
    Ok(said)
}
