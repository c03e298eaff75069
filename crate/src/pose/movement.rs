//! What settling gives: the movement of one exercise for one body, side and set of limits.

use super::ask::{Ask, Effort, PropKind, Spot, Surface, View, Worked};
use super::support::Support;
use crate::body::names::{Angle, Side};
use crate::body::{Skin, State};
use crate::space::Vec3;

/// Key poses joined by the way between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Movement {
    /// The side that works, as drawn.
    pub side: Side,
    pub keys: Vec<Key>,
    /// For each neighbouring pair of key poses the instants on the way, both ends included.
    pub ways: Vec<Vec<State>>,
    /// Things in the room, where the poses put them; they don't move unless held.
    /// All things, each once.
    pub things: Vec<Thing>,
    /// The highest value that each clinical angle reaches over the whole movement, degrees;
    /// angles that stay below a tenth of a degree are left out.
    pub peaks: Vec<(Angle, f64)>,
    /// Joints that would need more than the patient's limits allow for the contacts and asked angles.
    pub needs: Vec<Need>,
    /// Whether a limit of the patient changed what is drawn.
    pub limited: bool,
    /// Angles that the limits held, with the limit in degrees.
    pub held: Vec<(Angle, f64)>,
}

/// One settled key pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Key {
    pub name: String,
    pub state: State,
    pub touches: Vec<Touch>,
    /// What can push the body from outside ([`super::support::statics`] says how hard).
    pub supports: Vec<Support>,
    /// The things as they are in this pose.
    pub things: Vec<Thing>,
    /// The largest contact gap or sinking left over, millimetres for a 1.70 m body.
    pub gap_mm: f64,
    /// Skin that would have to go through floor, wall or another thing by more than that is let pass: it is in
    /// the way of this pose.
    pub pressed: Vec<Skin>,
    /// Asked angles that were not reached, with what was asked and what came, degrees.
    pub missed: Vec<(Angle, f64, f64)>,
    /// Asked relations (all but angles) that were not reached, with how far off they are, in tolerances.
    pub unmet: Vec<(Ask, f64)>,
    /// How far inside the base of support the centre of mass is (negative: outside), millimetres for a
    /// 1.70 m body; `None` where nothing carries.
    pub margin_mm: Option<f64>,
    pub centre_of_mass: Vec3,
    pub converged: bool,
    pub works: Vec<Worked>,
    pub efforts: Vec<Effort>,
    pub view: Option<View>,
    /// Seconds from the pose before to this one, where the text says so.
    pub seconds: Option<f64>,
}

/// A part that touches something in a key pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Touch {
    pub part: Spot,
    pub surface: Surface,
    /// Where, on the surface of the thing touched.
    pub at: Vec3,
    pub planted: bool,
    pub slides: bool,
    pub light: bool,
    /// A hand that grips rather than rests.
    pub holds: bool,
}

/// A joint that would need more than its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    pub angle: Angle,
    /// Degrees.
    pub needs: f64,
    /// Degrees.
    pub limit: f64,
}

/// A thing in the room.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    pub kind: PropKind,
    pub shape: Shape,
}

/// Where a thing is. Metres; boxes stand upright along the room's axes.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A block, bench, step, table top: its lowest and highest corner.
    Block {
        low: Vec3,
        high: Vec3,
    },
    /// A wall or doorway: a point on it and the direction it faces.
    Wall {
        at: Vec3,
        faces: Vec3,
    },
    /// A chair: the seat's block, and on which side its back stands (`None`: a stool).
    Chair {
        low: Vec3,
        high: Vec3,
        back: Option<Vec3>,
    },
    /// A rail, chair back or frame to hold: a horizontal bar from end to end.
    Bar {
        from: Vec3,
        to: Vec3,
    },
    Ball {
        centre: Vec3,
        radius: f64,
    },
    /// A foam roller: its axis and radius.
    Roller {
        from: Vec3,
        to: Vec3,
        radius: f64,
    },
    /// Moves with the body: a pillow or towel under or between parts, a band, belt or weight round
    /// parts, a weight in a hand. Its place follows from the parts' places at each instant.
    Round {
        spots: Vec<Spot>,
    },
    Under {
        spots: Vec<Spot>,
        thickness: f64,
    },
    Between {
        spots: [Spot; 2],
        thickness: f64,
    },
    In {
        hands: Vec<Side>,
        length: f64,
    },
    /// A band or strap from a fixed point or part to a part.
    Line {
        from: End,
        to: Spot,
    },
}

/// The near end of a band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum End {
    Room(Vec3),
    Body(Spot),
}

impl Movement {
    /// The same exercise of the mirrored patient: right becomes left throughout.
    pub fn mirrored(&self) -> Movement {
        Movement {
            side: self.side.other(),
            keys: self.keys.iter().map(Key::mirrored).collect(),
            ways: self.ways.iter().map(|w| w.iter().map(State::mirrored).collect()).collect(),
            things: self.things.iter().map(Thing::mirrored).collect(),
            peaks: sorted(self.peaks.iter().map(|(a, v)| (a.mirrored(), *v)).collect()),
            needs: self.needs.iter().map(|n| Need { angle: n.angle.mirrored(), ..*n }).collect(),
            limited: self.limited,
            held: sorted(self.held.iter().map(|(a, v)| (a.mirrored(), *v)).collect()),
        }
    }
}

fn sorted(mut list: Vec<(Angle, f64)>) -> Vec<(Angle, f64)> {
    crate::sorting::sort_by_key(&mut list, |(a, _)| *a);
    list
}

impl Key {
    fn mirrored(&self) -> Key {
        let mut key = self.clone();
        key.state = self.state.mirrored();
        key.centre_of_mass = self.centre_of_mass.mirrored();
        for t in &mut key.touches {
            t.part = t.part.mirrored();
            t.surface = t.surface.mirrored();
            t.at = t.at.mirrored();
        }
        for s in &mut key.supports {
            *s = s.mirrored();
        }
        for skin in &mut key.pressed {
            *skin = skin.mirrored();
        }
        key.things = self.things.iter().map(Thing::mirrored).collect();
        for (angle, _, _) in &mut key.missed {
            *angle = angle.mirrored();
        }
        for (ask, _) in &mut key.unmet {
            *ask = ask.mirrored();
        }
        for w in &mut key.works {
            *w = w.mirrored();
        }
        for e in &mut key.efforts {
            *e = e.mirrored();
        }
        key.view = self.view.map(View::mirrored);
        key
    }
}

impl Thing {
    fn mirrored(&self) -> Thing {
        let block = |low: &Vec3, high: &Vec3| (Vec3 { z: -high.z, ..*low }, Vec3 { z: -low.z, ..*high });
        let spots = |s: &[Spot]| s.iter().map(|s| s.mirrored()).collect();
        let shape = match &self.shape {
            Shape::Block { low, high } => {
                let (low, high) = block(low, high);
                Shape::Block { low, high }
            }
            Shape::Wall { at, faces } => Shape::Wall { at: at.mirrored(), faces: faces.mirrored() },
            Shape::Chair { low, high, back } => {
                let (low, high) = block(low, high);
                Shape::Chair { low, high, back: back.map(Vec3::mirrored) }
            }
            Shape::Bar { from, to } => Shape::Bar { from: to.mirrored(), to: from.mirrored() },
            Shape::Ball { centre, radius } => Shape::Ball { centre: centre.mirrored(), radius: *radius },
            Shape::Roller { from, to, radius } => {
                Shape::Roller { from: to.mirrored(), to: from.mirrored(), radius: *radius }
            }
            Shape::Round { spots: s } => Shape::Round { spots: spots(s) },
            Shape::Under { spots: s, thickness } => Shape::Under { spots: spots(s), thickness: *thickness },
            Shape::Between { spots: [a, b], thickness } => {
                Shape::Between { spots: [a.mirrored(), b.mirrored()], thickness: *thickness }
            }
            Shape::In { hands, length } => {
                Shape::In { hands: hands.iter().map(|h| h.other()).collect(), length: *length }
            }
            Shape::Line { from, to } => Shape::Line {
                from: match from {
                    End::Room(at) => End::Room(at.mirrored()),
                    End::Body(spot) => End::Body(spot.mirrored()),
                },
                to: to.mirrored(),
            },
        };
        Thing { kind: self.kind, shape }
    }
}
