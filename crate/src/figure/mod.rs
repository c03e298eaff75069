//! A settled movement as a picture and as words, both from the same angles. Knows no doses.
//!
//! A still is one SVG of its own: no script, no style, no identifier, no reference to anything
//! outside. Colours are presentation attributes, so a page may override them by attribute selectors
//! (see [`PAPER`], [`INK`] and the rest) and the same file still stands alone.

mod compose;
mod marks;
mod order;
mod outline;
mod paint;
mod shape;
mod things;
pub mod view;
mod words;
mod write;

use crate::body::Body;
use crate::markup::Markup;
use crate::pose::movement::Movement;

/// Whom the figure is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Reader {
    /// Landmarks in words.
    #[default]
    Patient,
    /// Limits in degrees.
    Clinician,
}

/// What may be wished of a figure beyond its movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Look {
    pub reader: Reader,
    /// There and back again without a stop: the arrow gets two heads.
    pub back_and_forth: bool,
}

/// A drawn exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// A whole `<svg>` element with its own namespace, good in a file and in a page.
    pub svg: Markup,
    /// The picture in words, start to end, one action a sentence; also the picture's title.
    pub words: Vec<String>,
    /// Page units; a body is 400 long. A frame of 45 mm is drawn about 400 wide.
    pub width: f64,
    pub height: f64,
    /// How many frames stand side by side, an inset counted.
    pub frames: usize,
    /// From where it is seen.
    pub sight: view::Sight,
}

/// The colours, by duty. Each stays apart from the others in grey: ink 0.16, far side 0.45, accent
/// 0.68 with a dark line round it, things 0.85, paper 1 (relative brightness of the grey copy).
pub const PAPER: &str = "#fff";
pub const INK: &str = "#22303c";
pub const FAR: &str = "#677682";
pub const ACCENT: &str = "#f2a73b";
pub const SIGN: &str = "#b3400f";
pub const FACE: &str = "#f3eee6";
pub const GHOST: &str = "#eef1f4";
pub const GHOST_LINE: &str = "#75838e";
pub const THING: &str = "#d3dbe1";
pub const THING_LIGHT: &str = "#e9eef1";
pub const THING_LINE: &str = "#5d6b76";
pub const HELD: &str = "#8fc7bd";
pub const BAND: &str = "#1d7a6d";
pub const GROUND: &str = "#eef2f4";

/// Draws `movement` of `body`.
///
/// ```
/// use layfigure::body::{Body, State};
/// use layfigure::body::names::Side;
/// use layfigure::figure::{Look, still};
/// use layfigure::pose::movement::Movement;
/// let empty = Movement { side: Side::Right, keys: vec![], ways: vec![], things: vec![], peaks: vec![],
///     needs: vec![], limited: false, held: vec![] };
/// assert!(still(&Body::usual(), &empty, &Look::default()).svg.as_str().starts_with("<svg"));
/// ```
pub fn still(body: &Body, movement: &Movement, look: &Look) -> Figure {
    let words = words::describe(body, movement, look);
    let scene = compose::compose(body, movement, look);
    let svg = write::svg(&scene, &words.join(" "));
    Figure {
        svg,
        words,
        width: scene.width,
        height: scene.height,
        frames: scene.frames.len(),
        sight: scene.sight,
    }
}
