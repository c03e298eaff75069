//! What carries the body in a key pose, how hard, and what that asks of the joints.
//!
//! Floor and things carry straight up (a ball or roller too, since what rolls can't push sideways); a wall, or what is held
//! off a wall, pushes along its normal, and then what stands may also push sideways by friction. Whether it would slip
//! is not judged. Parts of the body that touch each other, and what an exercise has the patient push or squeeze, are left
//! out: these are the forces of holding the pose.

use super::ask::{PropKind, Spot, Surface};
use super::hull;
use super::movement::{End, Key, Shape, Thing};
use super::problem::palm;
use super::settle::Settled;
use crate::body::dof::{self, COUNT};
use crate::body::names::{Angle, Region, Segment, Side};
use crate::body::statics::{self, Force, Push};
use crate::body::{Body, Placed, Skin};
use crate::space::Vec3;

/// A skin point at which something outside can push the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Support {
    pub part: Spot,
    pub surface: Surface,
    pub skin: Skin,
    /// Where the push goes through: the skin's surface, away from where it comes from.
    pub at: Vec3,
    /// The direction in which it can push.
    pub along: Vec3,
    /// What is firmly stood, sat or lain on, or leant against; else it merely rests there or touches lightly.
    pub firm: bool,
}

impl Support {
    pub fn mirrored(self) -> Support {
        let side = if crate::body::flesh::TABLE[self.skin.ball].paired {
            self.skin.side.other()
        } else {
            self.skin.side
        };
        Support {
            part: self.part.mirrored(),
            surface: self.surface.mirrored(),
            skin: Skin { side, ..self.skin },
            at: self.at.mirrored(),
            along: self.along.mirrored(),
            firm: self.firm,
        }
    }

    fn carries_up(&self) -> bool {
        0.5 < self.along.y
    }
}

/// A weight or a pull that the patient works against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// A weight in the palm: fraction of body weight.
    Held { hand: Side, weight: f64 },
    /// A weight round a part: fraction of body weight.
    Hung { on: Spot, weight: f64 },
    /// A band: its pull as a fraction of body weight, and where it comes from. From another part it pulls at that as well.
    Pull { on: Spot, from: End, force: f64 },
}

impl Load {
    /// Where things of that kind load the body, `share` of body weight at each place (a stick's is shared by the hands
    /// that hold it). Bands and straps pull between their ends; a loop band pulls the parts that it is round together.
    pub fn of_things(things: &[Thing], kind: PropKind, share: f64) -> Vec<Load> {
        let mut loads = Vec::new();
        for thing in things.iter().filter(|t| t.kind == kind) {
            match &thing.shape {
                Shape::In { hands, .. } => {
                    let weight =
                        if kind == PropKind::Stick { share / hands.len().max(1) as f64 } else { share };
                    loads.extend(hands.iter().map(|&hand| Load::Held { hand, weight }));
                }
                Shape::Round { spots } => match (kind, &spots[..]) {
                    (PropKind::LoopBand | PropKind::Belt, [a, b]) => {
                        loads.push(Load::Pull { on: *a, from: End::Body(*b), force: share });
                    }
                    (PropKind::LoopBand | PropKind::Belt | PropKind::Strap | PropKind::LongBand, _) => {}
                    _ => loads.extend(spots.iter().map(|&on| Load::Hung { on, weight: share })),
                },
                Shape::Line { from, to } => loads.push(Load::Pull { on: *to, from: *from, force: share }),
                _ => {}
            }
        }
        loads
    }

    fn forces(self, placed: &Placed) -> Vec<Force> {
        match self {
            Load::Held { hand, weight } => {
                vec![Force { segment: Segment::Hand(hand), at: palm(placed, hand), force: -Vec3::Y * weight }]
            }
            Load::Hung { on, weight } => place(placed, on)
                .map(|(segment, at)| Force { segment, at, force: -Vec3::Y * weight })
                .into_iter()
                .collect(),
            Load::Pull { on, from, force } => {
                let Some((segment, at)) = place(placed, on) else { return Vec::new() };
                match from {
                    End::Room(anchor) => {
                        vec![Force { segment, at, force: (anchor - at).unit_or(Vec3::ZERO) * force }]
                    }
                    End::Body(spot) => {
                        let Some((other, there)) = place(placed, spot) else { return Vec::new() };
                        let force = (there - at).unit_or(Vec3::ZERO) * force;
                        vec![Force { segment, at, force }, Force { segment: other, at: there, force: -force }]
                    }
                }
            }
        }
    }
}

/// The middle of a part's skin points, and the segment that they belong to; the palm's middle for a hand.
fn place(placed: &Placed, spot: Spot) -> Option<(Segment, Vec3)> {
    if let (Region::Palm | Region::Fist, Some(side)) = (spot.region, spot.side) {
        return Some((Segment::Hand(side), palm(placed, side)));
    }
    let skins = Skin::of(spot.region, spot.side);
    let segment = skins.first()?.segment();
    let own: Vec<Vec3> = skins.iter().filter(|s| s.segment() == segment).map(|s| placed.skin(*s)).collect();
    let share = 1.0 / own.len() as f64;
    Some((segment, own.iter().fold(Vec3::ZERO, |sum, at| sum + *at * share)))
}

/// A key pose as forces.
#[derive(Clone, Debug, PartialEq)]
pub struct Statics {
    /// Of the body alone, metres.
    pub centre_of_mass: Vec3,
    /// Corners of the base of support on the ground plan ([`hull::polygon`]): of what carries firmly and upwards.
    pub base: Vec<Vec3>,
    /// How far inside the base the centre of mass is, with the weights that the body carries, metres; negative outside.
    /// `None` where nothing carries upwards, or where a wall carries too.
    pub margin: Option<f64>,
    /// How each support pushes the body, fractions of body weight, in the order of [`Key::supports`].
    pub pushes: Vec<Vec3>,
    /// The loads.
    pub loads: Vec<Force>,
    /// How much of force (fractions of body weight) and moment (of body weight × stature) nothing balances: next to zero
    /// where the supports can hold the pose.
    pub unbalanced: (f64, f64),
    /// What each joint coordinate has to do, fractions of body weight × stature; signs as in [`statics`].
    pub moments: [f64; COUNT],
}

impl Statics {
    /// How much muscles must work towards a motion (negative: against it), fraction of body weight × stature; for a
    /// motion that several joints share (trunk, neck) at the one nearest the pelvis. `None` if the joint can't make it.
    pub fn moment(&self, angle: Angle) -> Option<f64> {
        let (dof, sign) = *dof::parts(angle).first()?;
        Some(self.moments[dof.0] * sign)
    }
}

/// Pushing costs next to nothing: it only makes the answer one.
const FIRM: f64 = 1e-3;
/// A light touch carries where nothing else can; a tenth of body weight costs as much as a hard joint moment.
const LIGHT: f64 = 1.0;
/// Friction comes in where a wall is leant on.
const FRICTION: f64 = 1e-2;

/// What could push the body, with the number of the support that does: each support's own push and, where something
/// pushes or pulls sideways, what friction may add to it.
pub fn could_push(key: &Key, loads: &[Force]) -> Vec<(usize, Push)> {
    let sideways = key.supports.iter().any(|s| !s.carries_up())
        || loads.iter().any(|f| 1e-9 < f.force.x.abs() + f.force.z.abs());
    let mut pushes = Vec::new();
    for (i, s) in key.supports.iter().enumerate() {
        let mut push = |along: Vec3, price: f64| {
            pushes.push((i, Push { segment: s.skin.segment(), at: s.at, along, price }));
        };
        push(s.along, if s.firm { FIRM } else { LIGHT });
        if sideways && s.firm && s.carries_up() {
            for along in [Vec3::X, -Vec3::X, Vec3::Z, -Vec3::Z] {
                push(along, FRICTION);
            }
        }
    }
    pushes
}

/// The forces and moments of holding a key pose with these loads. From nothing but its arguments, so call it for what is
/// shown.
pub fn statics(body: &Body, key: &Key, loads: &[Load]) -> Statics {
    let placed = body.place(&key.state);
    let loads_of = |load: &Load| load.forces(&placed);
    let forces: Vec<Force> = loads.iter().flat_map(loads_of).collect();
    let (owner, pushes): (Vec<usize>, Vec<Push>) = could_push(key, &forces).into_iter().unzip();
    let hard = statics::pushes(&placed, &pushes, &forces);
    let mut held = vec![Vec3::ZERO; key.supports.len()];
    for ((push, i), how) in pushes.iter().zip(&owner).zip(&hard) {
        held[*i] += push.along * *how;
    }
    let mut outer = forces.clone();
    outer.extend(key.supports.iter().zip(&held).map(|(s, force)| Force {
        segment: s.skin.segment(),
        at: s.at,
        force: *force,
    }));
    let (force, moment) = statics::unbalanced(&placed, &outer);
    let up: Vec<Vec3> = key.supports.iter().filter(|s| s.firm && s.carries_up()).map(|s| s.at).collect();
    let leant = key.supports.iter().any(|s| s.firm && !s.carries_up());
    let com = placed.centre_of_mass();
    let scale = body.stature() / Body::USUAL_STATURE;
    let (mut weight, mut centre) = (1.0, com);
    for (load, force) in loads.iter().flat_map(|l| l.forces(&placed).into_iter().map(move |f| (l, f))) {
        if !matches!(load, Load::Pull { .. }) {
            weight -= force.force.y;
            centre += (force.at - centre) * (-force.force.y / weight);
        }
    }
    Statics {
        centre_of_mass: com,
        base: hull::polygon(&up),
        margin: hull::margin(&up, centre).filter(|_| !leant).map(|m| m + hull::BREADTH_MM * 1e-3 * scale),
        pushes: held,
        unbalanced: (force.norm(), moment.norm()),
        moments: statics::moments(&placed, &outer),
        loads: forces,
    }
}

/// The supports of a settled pose.
pub(super) fn supports(body: &Body, s: &Settled) -> Vec<Support> {
    let placed = body.place(&s.at.state);
    let mut found = Vec::new();
    for t in &s.touching {
        let stands = match t.surface {
            Surface::Floor => true,
            Surface::Prop(PropKind::Wall | PropKind::Doorway) => true,
            Surface::Tread(_) => true,
            Surface::Prop(kind) | Surface::Edge(kind) => super::settle::carries(kind),
            Surface::Body(_) => false,
        };
        let Some(out) = s.compiled.outward(t.surface, t.part, &s.at).filter(|_| stands) else { continue };
        for skin in &t.skins {
            let leant = out.y.abs() < 1e-9;
            let firm = s.compiled.support.contains(skin) || (leant && !t.light && !t.loosely);
            let along = if leant { out } else { Vec3::Y };
            found.push(Support {
                part: t.part,
                surface: t.surface,
                skin: *skin,
                // On a ball or an edge too the force goes through the skin's middle, as settling balances it.
                at: placed.skin(*skin) - along * placed.radius(*skin),
                along,
                firm,
            });
        }
    }
    found
}
