//! The composed picture as SVG.

use super::compose::{Label, Scene};
use super::outline::{Reach, covers, reach};
use super::paint::{Geo, Stroke, Tone};
use super::*;
use crate::markup::Writer;
use crate::markup::path::Path;

/// How broad lines are, page units, where nothing else is said: half of it lies outside what is filled. 0.5 mm where
/// a body is 40 mm long.
const LINE: &str = "5";

/// Fill, line, width of the line; `None` for what the root says already.
type Dress = (Option<&'static str>, Option<&'static str>, Option<&'static str>);

/// How a tone is dressed. The root fills with ink and draws a line of paper, [`LINE`] wide, under the fill.
fn dress(tone: Tone) -> Dress {
    match tone {
        Tone::Near => (None, None, None),
        Tone::Far => (Some(FAR), None, None),
        Tone::Works => (Some(ACCENT), Some(INK), None),
        // A dark rim, or on a bare copy the patch would bite a piece out of the limb.
        Tone::Patch => (Some(ACCENT), Some(INK), None),
        Tone::Skin => (Some(FACE), Some(INK), None),
        Tone::JoinNear => (None, Some("none"), None),
        Tone::JoinFar => (Some(FAR), Some("none"), None),
        Tone::Face => (Some(FACE), Some(INK), None),
        Tone::Ghost => (Some(GHOST), Some(GHOST_LINE), None),
        Tone::Ground => (Some(GROUND), Some("none"), None),
        Tone::GroundLine => (Some("none"), Some(GROUND_LINE), None),
        Tone::Thing => (Some(THING), Some(THING_LINE), None),
        Tone::ThingLight => (Some(THING_LIGHT), Some("none"), None),
        Tone::ThingBefore => (Some(THING_BEFORE), Some(THING_LINE), None),
        Tone::Held => (Some(HELD), Some(INK), None),
        Tone::Band => (Some("none"), Some(BAND), None),
        Tone::Halo => (Some("none"), None, Some("12")),
        Tone::Arrow => (Some("none"), Some(SIGN), None),
        Tone::Mark => (Some(SIGN), Some(PAPER), None),
        Tone::Arc => (Some("none"), Some(INK), None),
        Tone::Guide => (Some("none"), Some(INK), Some("2")),
    }
}

/// What is larger is never left out, page units: a finger may go, a head may not.
const MOST_LOST: f64 = 20.0;

fn path(w: &mut Writer, stroke: &Stroke, dx: f64, dy: f64, short: f64) {
    let mut path = Path::new();
    let body = matches!(stroke.tone, Tone::Near | Tone::Far | Tone::Works | Tone::Skin);
    let reaches: Vec<Option<Reach>> =
        stroke.geos.iter().map(|g| if let Geo::Hull(d) = g { Some(reach(d)) } else { None }).collect();
    // Which hulls lost an end since which other covers it: never each for the other, or there would be a gap.
    let mut lost: Vec<(usize, usize)> = Vec::new();
    let size = |g: &Geo| {
        let b = g.bounds();
        (b[2] - b[0]).max(b[3] - b[1])
    };
    let largest = stroke.geos.iter().map(size).fold(0.0, f64::max);
    for (i, geo) in stroke.geos.iter().enumerate() {
        // Where detail has to go, fingers go first; of a hand seen end on the largest piece stays.
        if body && 10.0 < short && size(geo) < short.min(MOST_LOST).min(largest) {
            continue;
        }
        let mut hidden = |points: &[(f64, f64)]| {
            let over = reaches.iter().enumerate().position(|(j, r)| {
                j != i && !lost.contains(&(j, i)) && r.is_some_and(|r| covers(&r, points, 0.3))
            });
            lost.extend(over.map(|j| (i, j)));
            over.is_some()
        };
        geo.write(&mut path, (dx, dy), short, &mut hidden);
    }
    if path.is_empty() {
        return;
    }
    let (fill, line, width) = dress(stroke.tone);
    w.open("path");
    for (name, value) in [("fill", fill), ("stroke", line), ("stroke-width", width)] {
        if let Some(value) = value {
            w.attr(name, value);
        }
    }
    w.attr("d", path.data()).empty();
}

/// Strokes that follow each other with the same tone and no line of their own between them, as one.
fn gathered(strokes: &[Stroke]) -> Vec<Stroke> {
    let mut out: Vec<Stroke> = Vec::with_capacity(strokes.len());
    for s in strokes {
        let plain =
            matches!(s.tone, Tone::JoinNear | Tone::JoinFar | Tone::Patch | Tone::Thing | Tone::ThingLight);
        match out.last_mut() {
            Some(last) if plain && last.tone == s.tone => last.geos.extend(s.geos.iter().cloned()),
            _ => out.push(s.clone()),
        }
    }
    out
}

fn label(w: &mut Writer, l: &Label, dx: f64, dy: f64) {
    w.open("text").num("x", l.x + dx, 0).num("y", l.y + dy, 0).num("font-size", l.size, 0);
    w.text(&l.text).close();
}

/// A picture in the picture, which shows nothing outside its own box, and the box's edge.
fn detail(w: &mut Writer, crop: [f64; 4], dx: f64, dy: f64) {
    let whole = |v: f64| crate::measure::shown(v, 0);
    let (x, y) = (whole(crop[0] + dx), whole(crop[1] + dy));
    let (width, height) = (whole(crop[2] - crop[0]), whole(crop[3] - crop[1]));
    let place = |w: &mut Writer| {
        w.attr("x", &x).attr("y", &y).attr("width", &width).attr("height", &height);
    };
    w.open("rect");
    place(w);
    w.attr("fill", "none").attr("stroke", THING_LINE).empty();
    w.open("svg");
    place(w);
    w.attr("viewBox", &format!("{x} {y} {width} {height}"));
}

/// Bytes that a still may have.
const MOST: usize = 6000;

/// Arcs shorter than this are corners, page units: 0.6 mm where a body is 40 mm long.
const FINE: f64 = 6.0;

/// The whole picture, as finely drawn as fits; `alt` becomes its title.
pub(super) fn svg(scene: &Scene, alt: &str) -> Markup {
    let mut drawn = drawn(scene, alt, FINE);
    for short in [7.0, 11.0, 16.0, 24.0] {
        if drawn.len() <= MOST {
            break;
        }
        drawn = self::drawn(scene, alt, short);
    }
    drawn
}

/// The root element, open, with what holds for all that stands in it.
fn root((width, height): (f64, f64), alt: &str) -> Writer {
    let mut w = Writer::new();
    let size = |v: f64| crate::measure::shown(v, 0);
    w.open("svg")
        .attr("xmlns", "http://www.w3.org/2000/svg")
        .attr("viewBox", &format!("0 0 {} {}", size(width), size(height)))
        .attr("role", "img")
        .attr("fill", INK)
        .attr("stroke", PAPER)
        .attr("stroke-width", LINE)
        .attr("stroke-linejoin", "round")
        .attr("stroke-linecap", "round")
        .attr("paint-order", "stroke");
    w.element("title", alt);
    w
}

/// A picture of strokes alone. `more` writes what stands behind them (true) and before them (false).
pub(super) fn bare(
    strokes: &[Stroke],
    size: (f64, f64),
    origin: (f64, f64),
    alt: &str,
    more: &mut dyn FnMut(&mut Writer, bool),
) -> Markup {
    let mut w = root(size, alt);
    more(&mut w, true);
    for s in gathered(strokes) {
        path(&mut w, &s, origin.0, origin.1, FINE);
    }
    more(&mut w, false);
    w.finish()
}

fn drawn(scene: &Scene, alt: &str, short: f64) -> Markup {
    let mut w = root((scene.width, scene.height), alt);
    for frame in &scene.frames {
        if let Some(crop) = frame.crop {
            detail(&mut w, crop, frame.dx, frame.dy);
        }
        for s in gathered(&frame.strokes) {
            // At the coarsest, limbs keep the line where they meet.
            if 15.0 < short && matches!(s.tone, Tone::JoinNear | Tone::JoinFar) {
                continue;
            }
            path(&mut w, &s, frame.dx, frame.dy, short);
        }
        if frame.crop.is_some() {
            w.close();
        }
    }
    if scene.frames.iter().any(|f| !f.labels.is_empty()) {
        w.open("g")
            .attr("font-family", "sans-serif")
            .attr("font-weight", "700")
            .attr("text-anchor", "middle");
        for frame in &scene.frames {
            for l in &frame.labels {
                label(&mut w, l, frame.dx, frame.dy);
            }
        }
        w.close();
    }
    w.finish()
}
