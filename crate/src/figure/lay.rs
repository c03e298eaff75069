//! A bare body in any state, standing in a frame of a fixed size, with joints to point at: for setting a limit by hand.
//! Where a point of the body stands on the page can be asked, so that a drag can be understood.

use super::compose::UNITS;
use super::paint::{Lens, Painted, without_hidden};
use super::shape::{Limb, Part, Shape};
use super::view::{Sight, Stance};
use super::{ACCENT, GROUND_LINE, INK, PAPER, SIGN, write};
use crate::body::{Body, Placed, State};
use crate::markup::{Markup, Writer};
use crate::space::Vec3;

/// A frame in which the body stands, whatever it does with its arms.
pub struct Laid {
    lens: Lens,
    sight: Sight,
    /// Page units; the body is 400 tall.
    pub width: f64,
    pub height: f64,
    origin: (f64, f64),
}

/// Page points of what is marked.
#[derive(Clone, Debug, Default)]
pub struct Marks {
    /// Where the limb is taken hold of.
    pub handle: Option<(f64, f64)>,
    /// The joint that moves.
    pub joint: Option<(f64, f64)>,
    /// Joints that can be chosen.
    pub others: Vec<(f64, f64)>,
}

/// Room at each side of the middle, page units: an arm held out and its hand (0.19 + 0.44 of the stature, Winter).
const HALF: f64 = 275.0;
/// From the floor to the fingertips overhead: the stature and a third, and room below for toes that point down.
const TALL: f64 = 575.0;
const BELOW: f64 = 40.0;

/// The frame for a body seen from there.
pub fn frame(body: &Body, sight: Sight) -> Laid {
    let placed = body.place(&State::standing(body));
    let camera = Stance::of(&placed).camera(sight);
    let lens = Lens { camera, scale: UNITS / body.stature() };
    let above = sight == Sight::Above;
    let height = if above { 2.0 * HALF } else { TALL };
    let origin = (HALF, if above { HALF } else { TALL - BELOW });
    Laid { lens, sight, width: 2.0 * HALF, height, origin }
}

impl Laid {
    /// Where a point of the room stands on the page, y down.
    pub fn page(&self, p: Vec3) -> (f64, f64) {
        let (x, y, _) = self.lens.point(p);
        (x + self.origin.0, y + self.origin.1)
    }

    /// The picture of a state, with `alt` as its words.
    pub fn svg(&self, body: &Body, state: &State, marks: &Marks, alt: &str) -> Markup {
        let placed: Placed = body.place(state);
        let shape = Shape { placed: &placed, grips: [false; 2] };
        let far: Vec<Limb> = match self.sight {
            Sight::Side(side) => vec![Limb::Arm(side.other()), Limb::Leg(side.other())],
            _ => Vec::new(),
        };
        let painted = Painted { far: &far, ..Painted::bare(shape, self.lens, &|_: Part| true) };
        let strokes = without_hidden(painted.strokes());
        let (left, right) = (-0.5 * self.width, 0.5 * self.width);
        let floor = self.sight != Sight::Above;
        write::bare(&strokes, (self.width, self.height), self.origin, alt, &mut |w: &mut Writer, before| {
            if before {
                if floor {
                    line(w, (left + self.origin.0, self.origin.1), (right + self.origin.0, self.origin.1));
                }
                return;
            }
            for (x, y) in &marks.others {
                circle(w, (*x, *y), 7.0, PAPER, INK, "3");
            }
            if let Some((x, y)) = marks.joint {
                circle(w, (x, y), 9.0, SIGN, PAPER, "3");
            }
            if let Some((x, y)) = marks.handle {
                circle(w, (x, y), 17.0, ACCENT, INK, "5");
            }
        })
    }
}

fn line(w: &mut Writer, from: (f64, f64), to: (f64, f64)) {
    w.open("path").attr("stroke", GROUND_LINE);
    let number = |v: f64| crate::measure::shown(v, 0);
    w.attr("d", &format!("M{} {}L{} {}", number(from.0), number(from.1), number(to.0), number(to.1))).empty();
}

fn circle(w: &mut Writer, (x, y): (f64, f64), r: f64, fill: &str, stroke: &str, width: &str) {
    w.open("circle").num("cx", x, 0).num("cy", y, 0).num("r", r, 0);
    w.attr("fill", fill).attr("stroke", stroke).attr("stroke-width", width).empty();
}
