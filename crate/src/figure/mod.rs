//! A settled movement as a picture and as words, both from the same angles. Knows no doses.
//!
//! A still is one SVG of its own: no script, no style, no identifier, no reference to anything
//! outside. Colours are presentation attributes, so a page may override them by attribute selectors
//! (see [`PAPER`], [`INK`] and the rest) and the same file still stands alone.

mod compose;
pub mod lay;
mod marks;
mod order;
mod outline;
mod paint;
mod shape;
mod things;
pub mod view;
mod visible;
mod words;
mod write;

pub use visible::{shows, unseen};

use crate::body::Body;
use crate::markup::Markup;
use crate::pose::ask::ViewFrom;
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
    /// The muscles that work inside a limb, instead of the whole limb.
    pub muscles: bool,
    /// The end is held for so many seconds: it gets a mark.
    pub hold: Option<u32>,
    /// Seen from here, whatever the poses say; close-ups and insets are left out.
    pub from: Option<ViewFrom>,
}

/// A drawn exercise.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// A whole `<svg>` element with its own namespace, good in a file and in a page.
    pub svg: Markup,
    /// The picture in words, start to end, one action a sentence. The picture's title is the shorter half of them:
    /// the position and what is done.
    pub words: Vec<String>,
    /// Page units; a body is 400 long. A frame of 45 mm is drawn about 400 wide.
    pub width: f64,
    pub height: f64,
    /// How many frames stand side by side, an inset counted.
    pub frames: usize,
    /// From where it is seen.
    pub sight: view::Sight,
    /// The share of what works that is in sight at the end, 0 to 1.
    pub seen: f64,
    /// How deep the worst arrow runs into the body, page units; above 1 it has a light line round it.
    pub arrow_on_body: f64,
    /// How deep a mark, an arrow or a word runs into the head, page units; the breath at the mouth aside.
    pub on_head: f64,
}

/// The colours, by duty. Each stays apart from the others in grey: ink 0.16, far side 0.45, accent
/// 0.68 with a dark line round it, things 0.85, paper 1 (relative brightness of the grey copy).
pub const PAPER: &str = "#fff";
pub const INK: &str = "#234";
pub const FAR: &str = "#678";
pub const ACCENT: &str = "#fa3";
pub const SIGN: &str = "#b40";
pub const FACE: &str = "#fed";
pub const GHOST: &str = "#eee";
pub const GHOST_LINE: &str = "#789";
pub const THING: &str = "#ddd";
pub const THING_LIGHT: &str = "#eee";
/// Shows what is behind it.
pub const THING_BEFORE: &str = "#ddd8";
pub const THING_LINE: &str = "#567";
pub const GROUND_LINE: &str = "#9ab";
pub const HELD: &str = "#8cb";
pub const BAND: &str = "#176";
pub const GROUND: &str = "#eee";

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
    let svg = write::svg(&scene, &words.title);
    drawn(scene, svg, words.all)
}

/// The words alone, as they stand beside the picture.
pub fn told(body: &Body, movement: &Movement, look: &Look) -> Vec<String> {
    words::describe(body, movement, look).all
}

/// The same picture with each of its frames as a picture of its own, in order, for narrow screens. All have the
/// words of the whole.
pub fn apart(body: &Body, movement: &Movement, look: &Look) -> Vec<Figure> {
    let words = words::describe(body, movement, look);
    let scene = compose::compose(body, movement, look);
    let alone = compose::apart(&scene).into_iter();
    alone
        .map(|scene| (write::svg(&scene, &words.title), scene))
        .map(|(svg, s)| drawn(s, svg, words.all.clone()))
        .collect()
}

/// The movement instant by instant, from its first pose to its last, as pictures of one size to be shown one after
/// the other. Empty where so little moves that the figure is a close-up.
pub fn moving(body: &Body, movement: &Movement, look: &Look) -> Vec<Markup> {
    let title = words::describe(body, movement, look).title;
    compose::moving(body, movement, look).iter().map(|scene| write::svg(scene, &title)).collect()
}

fn drawn(scene: compose::Scene, svg: Markup, words: Vec<String>) -> Figure {
    Figure {
        svg,
        words,
        width: scene.width,
        height: scene.height,
        frames: scene.frames.len(),
        sight: scene.sight,
        seen: scene.seen,
        arrow_on_body: scene.arrow_on_body,
        on_head: scene.on_head,
    }
}

#[cfg(test)]
mod tests;
