//! Wishes that a pose has without saying them: both sides alike where nothing tells them apart, feet as far apart
//! as they were, what is lifted clearly off.

use super::Writer;
use crate::body::dof::{self, Dof, LIMB_ALL, paired};
use crate::body::names::{Region, Segment, Side};
use crate::body::{Skin, State};
use crate::measure::radians;
use crate::pose::ask::{Ask, Fit, Pose, Said, Spot, Surface};
use crate::pose::problem::{Face, Point, Row, Way};
use crate::pose::room::Room;
use crate::pose::settle::{Touching, end_of};
use crate::space::{Vec3, v3};

/// How alike two sides that are asked alike stay, radians: far stiffer than any soft wish.
const ALIKE: f64 = 0.5;
/// What is lifted is this clear of what it lay on, metres: from memory, enough to be seen.
const LIFTED: f64 = 0.020;

/// Whether nothing in the pose, in what it starts from or in what touches tells right from left.
pub(super) fn is_symmetrical(pose: &Pose, from: &State, touching: &[Touching], room: &Room) -> bool {
    fn closed<T: PartialEq>(list: &[Said<T>], mirrored: impl Fn(&T) -> T) -> bool {
        list.iter().all(|one| {
            let twin = mirrored(&one.what);
            list.iter().any(|other| other.what == twin)
        })
    }
    let other = from.mirrored();
    let near = |a: f64, b: f64| (a - b).abs() < 0.02;
    near(from.root.z, other.root.z)
        && (from.turn.x - other.turn.x).norm() < 0.02
        && (from.turn.y - other.turn.y).norm() < 0.02
        && from.angles.iter().zip(&other.angles).all(|(a, b)| near(*a, *b))
        && closed(&pose.asks, Ask::mirrored)
        && closed(&pose.planted, |p| p.mirrored())
        && touching.iter().all(|t| {
            let (part, surface) = (t.part.mirrored(), t.surface.mirrored());
            touching.iter().any(|o| o.part == part && o.surface == surface && o.holds == t.holds)
        })
        && room.props.iter().all(|p| {
            let twin = p.mirrored();
            room.props.iter().any(|o| {
                o.kind == twin.kind
                    && match (&o.fit, &twin.fit) {
                        (Fit::Between(a, b), Fit::Between(c, d)) => (a == c && b == d) || (a == d && b == c),
                        (Fit::Round(a), Fit::Round(b)) | (Fit::Under(a), Fit::Under(b)) => {
                            b.iter().all(|s| a.contains(s))
                        }
                        (a, b) => a == b,
                    }
            })
        })
}

impl Writer<'_> {
    /// Both sides alike, about the plane between them.
    pub(super) fn alike(&mut self) {
        let tolerance = radians(ALIKE);
        for limb in LIMB_ALL {
            let parts = vec![(paired(limb, Side::Right), 1.0), (paired(limb, Side::Left), -1.0)];
            self.rows.push(Row::Sum { parts, target: 0.0, tolerance });
        }
        for i in 0..dof::SPINE {
            if Dof(i).mirror_sign() < 0.0 {
                self.rows.push(Row::Near { dof: Dof(i), target: 0.0, tolerance });
            }
        }
        self.rows.push(Row::Along { way: Way::In(Segment::Pelvis, Vec3::Z), target: Vec3::Z, tolerance });
        let target = v3(self.from.root.x, self.from.root.y, 0.0);
        self.rows.push(Row::RootNear { target, tolerance: [1e3, 1e3, 0.002] });
    }

    /// Feet that step keep their width unless the pose asks for another.
    pub(super) fn keep_width(&mut self, pose: &Pose, touching: &[Touching]) {
        let asks = |f: &dyn Fn(&Ask) -> bool| pose.asks.iter().any(|a| f(&a.what));
        let steps = asks(&|a| matches!(a, Ask::Staggered { .. } | Ask::Distance { .. }));
        let says = asks(&|a| matches!(a, Ask::FeetApart(_)));
        let stands = |side: Side| {
            touching.iter().any(|t| {
                t.part.side == Some(side)
                    && end_of(t.part.region) == Some(0)
                    && !matches!(t.surface, Surface::Body(_))
            })
        };
        if self.base.low
            || self.base.forward.y.abs() > 0.5
            || !steps
            || says
            || !stands(Side::Right)
            || !stands(Side::Left)
        {
            return;
        }
        let placed = self.body.place(self.from);
        let (a, b) = (Segment::Foot(Side::Left), Segment::Foot(Side::Right));
        let distance = (placed.joint(b) - placed.joint(a)).dot(self.base.right);
        self.rows.push(Row::Apart {
            a: Point::Joint(a),
            b: Point::Joint(b),
            along: self.base.right,
            distance,
            tolerance: 0.020,
        });
    }

    /// A part that is said to leave is clear of what it lay on, but for what of it still touches.
    pub(super) fn lift(&mut self, pose: &Pose, touching: &[Touching], was: &[(Spot, Surface)]) {
        let stays: Vec<Skin> = touching.iter().flat_map(|t| t.skins.iter().copied()).collect();
        for release in &pose.releases {
            let part = release.what.part;
            let gone = Skin::of(part.region, part.side);
            let lay = was.iter().find(|(spot, _)| {
                Skin::of(spot.region, spot.side).iter().any(|s| gone.contains(s)) || *spot == part
            });
            let Some((spot, surface)) = lay else { continue };
            let Some(Face::Plane { at, out }) =
                self.room.face(*surface, *spot, self.base, self.body.stature())
            else {
                continue;
            };
            // A wall or a thing under part of the body only holds what lies over it.
            if out.y < 0.5 {
                continue;
            }
            let heel = part.region == Region::Heel;
            for skin in gone.into_iter().filter(|s| !stays.contains(s)) {
                let least = if heel { 2.0 * LIFTED } else { LIFTED };
                self.rows.push(Row::Clear { skin, at, out, least, tolerance: 0.005 });
            }
        }
    }
}
