//! Whether what a figure must show is to be seen in it.

use super::compose::{Ask as Frame, Plan, plan};
use super::paint::Lens;
use super::shape::{Part, Shape};
use super::view::{self, Covers};
use super::{Look, things};
use crate::body::dof;
use crate::body::names::{Angle, Joint, Motion, Segment, Side};
use crate::body::{Body, Placed, State};
use crate::pose::ask::{Ask, Bit, Contact, Direction, Effort, Held, PropKind, Spot, Surface};
use crate::pose::movement::{Key, Movement, Shape as Form};
use crate::pose::read::shows::Show;
use crate::space::Vec3;

/// How well the figure of `movement` shows something: the share, 0 to 1, of its length or way that lies in the plane
/// of the page, in the frame that shows it best; less where a third or more of it is covered or outside the frame;
/// 0 where it isn't there.
///
/// ```
/// use layfigure::body::Body;
/// use layfigure::body::names::Side;
/// use layfigure::figure::{Look, shows};
/// use layfigure::pose::ask::PropKind;
/// use layfigure::pose::movement::Movement;
/// use layfigure::pose::read::shows::Show;
/// let empty = Movement { side: Side::Right, keys: vec![], ways: vec![], things: vec![], peaks: vec![],
///     needs: vec![], limited: false, held: vec![] };
/// assert_eq!(shows(&Body::usual(), &empty, &Look::default(), &Show::Thing(PropKind::Step)), 0.0);
/// ```
pub fn shows(body: &Body, movement: &Movement, look: &Look, show: &Show) -> f64 {
    let Some(plan) = plan(body, movement, look) else { return 0.0 };
    let frames = plan.asks.iter().filter_map(|frame| Seen::of(&plan, body, frame));
    frames.map(|seen| seen.show(show)).fold(0.0, f64::max)
}

/// What of a list is not shown well enough, with its share: below half of its length or way on the page a patient
/// can't copy it. Where both sides do the same, one that is seen is enough.
pub fn unseen<'a>(body: &Body, movement: &Movement, look: &Look, all: &'a [Show]) -> Vec<(&'a Show, f64)> {
    let shares: Vec<f64> = all.iter().map(|show| shows(body, movement, look, show)).collect();
    let twin = |show: &Show| match show {
        Show::Contact(Contact::On { part, place, slides, light }) => {
            let (part, place) = (part.mirrored(), place.mirrored());
            Some(Show::Contact(Contact::On { part, place, slides: *slides, light: *light }))
        }
        Show::Contact(Contact::Hold { hand, what: Held::Prop(kind) }) => {
            Some(Show::Contact(Contact::Hold { hand: hand.other(), what: Held::Prop(*kind) }))
        }
        Show::Angle(angle) => {
            Some(Show::Angle(Angle { side: angle.side.map(Side::other), motion: angle.motion, ..*angle }))
        }
        _ => None,
    };
    let share = |i: usize, show: &Show| {
        let own = shares.get(i).copied().unwrap_or(0.0);
        let other = twin(show).and_then(|t| all.iter().position(|s| *s == t)).and_then(|j| shares.get(j));
        other.map_or(own, |o| own.max(*o))
    };
    all.iter().enumerate().map(|(i, s)| (s, share(i, s))).filter(|(_, share)| *share < ENOUGH).collect()
}

/// Half of a length or way: 60° out of the plane of the page. Common practice, no source.
const ENOUGH: f64 = 0.5;

/// What covers more than this of a piece makes it less well seen.
const COVERED: f64 = 0.65;

/// One frame, as it is looked at.
struct Seen<'a> {
    body: &'a Body,
    frame: &'a Frame,
    key: &'a Key,
    placed: &'a Placed,
    covers: Covers,
}

impl<'a> Seen<'a> {
    fn of(plan: &'a Plan<'a>, body: &'a Body, frame: &'a Frame) -> Option<Seen<'a>> {
        let (key, placed) = plan.maker.key(frame.key)?;
        Some(Seen { body, frame, key, placed, covers: Covers::of(placed, frame.lens) })
    }

    fn lens(&self) -> Lens {
        self.frame.lens
    }

    fn show(&self, show: &Show) -> f64 {
        match show {
            Show::Angle(angle) => self.angle(*angle),
            Show::Part(spot) => self.spot(*spot),
            Show::Relation(ask) => self.relation(ask),
            Show::Contact(Contact::On { part, place, .. }) => self.spot(*part).min(self.surface(*place)),
            Show::Contact(Contact::Hold { hand, what }) => self.part(Part::Hand(*hand)).min(match what {
                Held::Body(spot) => self.spot(*spot),
                Held::Prop(kind) => self.thing(*kind),
            }),
            Show::Effort(effort) if self.key.efforts.contains(effort) => self.effort(*effort),
            Show::Effort(_) => 0.0,
            Show::Thing(kind) => self.thing(*kind),
        }
    }

    /// How well balls in the room are seen; those of a piece are not hidden by themselves.
    fn balls(&self, balls: &[(Vec3, f64)], own: Option<Part>) -> f64 {
        let lens = self.lens();
        let discs: Vec<_> = balls.iter().map(|b| (lens.disc(*b), lens.point(b.0).2)).collect();
        let inside = discs.iter().filter(|(d, _)| {
            self.frame.crop.is_none_or(|c| c[0] <= d.x && d.x <= c[2] && c[1] <= d.y && d.y <= c[3])
        });
        let inside = inside.count() as f64 / discs.len().max(1) as f64;
        let open = inside * (1.0 - self.covers.share(&discs, own, true));
        (open / COVERED).min(1.0)
    }

    fn part(&self, part: Part) -> f64 {
        let shape = Shape { placed: self.placed, grips: [false; 2] };
        self.balls(&shape.samples(part), Some(part))
    }

    fn spot(&self, spot: Spot) -> f64 {
        self.part(Part::of(things::spot(self.placed, spot).1))
    }

    fn surface(&self, surface: Surface) -> f64 {
        match surface {
            // Floor and mat are drawn in every whole frame, and in a detail where it reaches down to them.
            Surface::Floor => {
                let floor = self.lens().point(Vec3::ZERO).1;
                f64::from(u8::from(self.frame.crop.is_none_or(|c| self.frame.level() && floor < c[3])))
            }
            Surface::Prop(kind) | Surface::Edge(kind) => self.thing(kind),
            Surface::Tread(_) => self.thing(PropKind::Stairs),
            Surface::Body(spot) => self.spot(spot),
        }
    }

    /// A thing of that kind is there and not behind the body.
    fn thing(&self, kind: PropKind) -> f64 {
        let of_kind = self.key.things.iter().filter(|t| t.kind == kind);
        of_kind
            .map(|t| {
                let carried = things::carried(t, self.placed, self.lens());
                let lifted = carried.iter().map(|e| self.balls(&e.samples, e.on)).fold(0.0, f64::max);
                // A long thing in both hands is recognised by its length.
                let length = match &t.shape {
                    Form::In { hands, length } if 1 < hands.len() && 0.3 < *length => {
                        let grip = |s: Side| self.placed.far_end(Segment::Hand(s));
                        self.flat(grip(Side::Left) - grip(Side::Right))
                    }
                    _ => 1.0,
                };
                let lifted = lifted * length;
                // A standing thing that the body covered would be painted over it, and let it show through.
                let stands = !things::standing(t, self.lens(), 1.0).is_empty();
                if stands { 1.0 } else { lifted }
            })
            .fold(0.0, f64::max)
    }

    fn effort(&self, effort: Effort) -> f64 {
        match effort {
            Effort::Squeeze(w) => self.part(Part::of(w.segment)),
            Effort::Push { part, .. } => self.spot(part),
            Effort::BreatheOut => self.part(Part::Head),
            Effort::StayStill(bit) => self.bit(bit),
        }
    }

    /// The share of a direction that lies in the plane of the page.
    fn flat(&self, v: Vec3) -> f64 {
        let towards = self.lens().camera.towards;
        (v - towards * towards.dot(v)).norm() / v.norm().max(1e-9)
    }

    fn bit(&self, bit: Bit) -> f64 {
        let pieces: Vec<Part> = match bit {
            Bit::Segment(s) => vec![Part::of(s)],
            Bit::Trunk => vec![Part::LowTrunk, Part::HighTrunk],
            Bit::Leg(s) => vec![Part::Thigh(s), Part::Shank(s)],
            Bit::Arm(s) => vec![Part::UpperArm(s), Part::Forearm(s)],
            Bit::PelvisAcross => vec![Part::LowTrunk],
            Bit::ShouldersAcross => vec![Part::HighTrunk],
        };
        pieces.iter().map(|p| self.part(*p)).sum::<f64>() / pieces.len().max(1) as f64
    }

    /// How much of the bit's axis is in the plane of the page, times how much of it is uncovered.
    fn axis(&self, bit: Bit) -> f64 {
        let p = self.placed;
        let v = match bit {
            Bit::Segment(s @ (Segment::Pelvis | Segment::Chest | Segment::Waist)) => p.turn(s).y,
            Bit::Segment(s @ (Segment::Foot(_) | Segment::Head)) => p.turn(s).x,
            Bit::Segment(s) => p.far_end(s) - p.joint(s),
            Bit::Trunk => p.joint(Segment::Neck) - p.joint(Segment::Pelvis),
            Bit::Leg(s) => p.joint(Segment::Foot(s)) - p.joint(Segment::Thigh(s)),
            Bit::Arm(s) => p.joint(Segment::Hand(s)) - p.joint(Segment::UpperArm(s)),
            Bit::PelvisAcross => p.turn(Segment::Pelvis).z,
            Bit::ShouldersAcross => p.turn(Segment::Chest).z,
        };
        self.flat(v) * self.bit(bit)
    }

    fn relation(&self, ask: &Ask) -> f64 {
        let both = |f: &dyn Fn(Side) -> f64| Side::BOTH.into_iter().map(f).fold(0.0, f64::max);
        let pelvis = self.placed.turn(Segment::Pelvis);
        match ask {
            Ask::Angle { sides, joint, motion, .. } => {
                let side = |side: Side| Angle {
                    side: joint.is_paired().then_some(side),
                    joint: *joint,
                    motion: *motion,
                };
                sides.each().map(|s| self.angle(side(s))).fold(1.0, f64::min)
            }
            Ask::Free { .. } => 1.0,
            Ask::Level(bit) | Ask::Upright(bit) | Ask::Leaning { what: bit, .. } => self.axis(*bit),
            Ask::InLine { what, with } | Ask::Parallel { what, to: with } => {
                self.axis(*what).min(self.axis(*with))
            }
            Ask::FeetApart(_) => self.flat(pelvis.z) * both(&|s| self.part(Part::Foot(s))),
            Ask::Staggered { .. } => self.flat(pelvis.x) * both(&|s| self.part(Part::Foot(s))),
            Ask::ToesOut { sides, .. } => {
                // What a turn about the upright does to the toes.
                let way = |s: Side| Vec3::Y.cross(self.placed.turn(Segment::Foot(s)).x);
                sides.each().map(|s| self.flat(way(s)) * self.part(Part::Foot(s))).fold(1.0, f64::min)
            }
            Ask::Distance { part, from, .. } => self.spot(*part).min(self.surface(*from)),
            Ask::Beyond { part, edge_of } => self.spot(*part).min(self.thing(*edge_of)),
            Ask::Looking(direction) => {
                let face = self.placed.turn(Segment::Head).x;
                let at_reader = match direction {
                    Direction::Forward => face.dot(self.lens().camera.towards),
                    _ => 0.0,
                };
                self.part(Part::Head) * self.flat(face).max(at_reader)
            }
            Ask::PalmFacing { sides, .. } => {
                sides.each().map(|s| self.part(Part::Hand(s))).fold(1.0, f64::min)
            }
        }
    }

    /// A bend is seen along its axis; of a turn about a piece's own length, the way that it makes on the page counts.
    /// Times how well the piece that moves is seen.
    fn angle(&self, angle: Angle) -> f64 {
        let parts = match (angle.joint, angle.motion) {
            // Elevation has no one plane: forwards or sideways, whichever is seen.
            (Joint::Shoulder, Motion::Elevation) => {
                let one = |motion| self.angle(Angle { motion, ..angle });
                return one(Motion::Flexion).max(one(Motion::Abduction));
            }
            _ => dof::parts(angle),
        };
        let mut nudged: State = self.key.state.clone();
        for (dof, k) in &parts {
            nudged.angles[dof.0] += NUDGE * k;
        }
        let other = self.body.place(&nudged);
        let ends = |p: &Placed, part: Part| (p.joint(part.segment()), p.far_end(part.segment()));
        let turns = matches!(
            angle.motion,
            Motion::ExternalRotation
                | Motion::InternalRotation
                | Motion::Rotation(_)
                | Motion::Supination
                | Motion::Pronation
        );
        let mut best: f64 = 0.0;
        let mut nearest = f64::MAX;
        for part in Part::ALL {
            let pairs = view::tracked(self.placed, part).into_iter().zip(view::tracked(&other, part));
            let ways: Vec<Vec3> = pairs.map(|(a, b)| b - a).collect();
            let whole: f64 = ways.iter().map(|w| w.norm()).sum();
            if whole < 0.001 * self.placed.stature() {
                continue;
            }
            if turns {
                let flat = ways.iter().map(|w| self.flat(*w) * w.norm()).sum::<f64>() / whole;
                best = best.max(flat * self.part(part));
                continue;
            }
            // The piece next to the joint: its near end goes along least.
            let ((joint, end), (joint_then, end_then)) = (ends(self.placed, part), ends(&other, part));
            let goes = (joint_then - joint).norm();
            let axis = (end - joint).cross(end_then - joint_then);
            if goes < nearest && 1e-9 < axis.norm() {
                nearest = goes;
                // The trunk bends where either end of the bend is seen.
                let beside = if part.side().is_none() { part.parent() } else { None };
                let open = self.part(part).max(beside.map_or(0.0, |p| self.part(p)));
                best = axis.unit_or(Vec3::ZERO).dot(self.lens().camera.towards).abs() * open;
            }
        }
        best
    }
}

/// The change by which an angle is tried, radians.
const NUDGE: f64 = -0.1;
