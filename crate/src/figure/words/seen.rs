//! A key pose as the words see it, and the step from one to the next: what turned, what moved, what stayed.

use crate::body::Placed;
use crate::body::dof::{Dof, Limb, paired};
use crate::body::names::{Region, Segment, Side};
use crate::body::{Skin, elevation};
use crate::figure::view::Stance;
use crate::measure::{degrees, math};
use crate::pose::ask::{Spot, Surface};
use crate::pose::movement::{Key, Shape, Touch};
use crate::space::Vec3;

/// How a body is held up, as a patient would name it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Posture {
    Standing,
    Sitting,
    /// On the floor with the legs along it.
    LongSitting,
    Kneeling,
    /// That knee is down.
    HalfKneeling(Side),
    Back,
    Front,
    /// That side is down.
    Lying(Side),
    /// Face down, on knees.
    AllFours,
    /// Face down, on hands or forearms and toes.
    Plank,
}

impl Posture {
    pub fn is_upright(self) -> bool {
        matches!(self, Posture::Standing | Posture::Kneeling | Posture::HalfKneeling(_))
    }

    pub fn is_lying(self) -> bool {
        matches!(self, Posture::Back | Posture::Front | Posture::Lying(_))
    }
}

pub(super) struct Seen<'a> {
    pub key: &'a Key,
    pub at: &'a Placed,
    pub posture: Posture,
}

pub(super) fn level(v: Vec3) -> Vec3 {
    Vec3 { y: 0.0, ..v }
}

pub(super) fn apart(a: Vec3, b: Vec3) -> f64 {
    degrees(math::acos(a.dot(b).clamp(-1.0, 1.0)))
}

impl<'a> Seen<'a> {
    pub fn new(key: &'a Key, at: &'a Placed) -> Seen<'a> {
        Seen { key, at, posture: recognise(key, at) }
    }

    pub fn h(&self) -> f64 {
        self.at.stature()
    }

    pub fn deg(&self, limb: Limb, s: Side) -> f64 {
        degrees(self.key.state.angle(paired(limb, s)))
    }

    pub fn raised(&self, s: Side) -> f64 {
        degrees(elevation(&self.key.state, s))
    }

    /// The way that a segment points.
    pub fn way(&self, s: Segment) -> Vec3 {
        (self.at.far_end(s) - self.at.joint(s)).unit_or(Vec3::Y)
    }

    /// From the hips to the neck.
    pub fn trunk(&self) -> Vec3 {
        (self.at.joint(Segment::Neck) - self.at.joint(Segment::Pelvis)).unit_or(Vec3::Y)
    }

    /// Level, to where the patient faces; lying or on all fours, towards the head.
    pub fn ahead(&self) -> Vec3 {
        if self.posture.is_lying() || matches!(self.posture, Posture::AllFours | Posture::Plank) {
            return level(self.trunk()).unit_or(Vec3::X);
        }
        Vec3::Y.cross(level(self.at.turn(Segment::Pelvis).z).unit_or(Vec3::Z))
    }

    /// Away from the other side.
    pub fn outward(&self, s: Side) -> Vec3 {
        self.at.turn(Segment::Pelvis).z * if s == Side::Right { 1.0 } else { -1.0 }
    }

    pub fn touches_of(&self, s: Side) -> impl Iterator<Item = &'a Touch> {
        self.key.touches.iter().filter(move |t| t.part.side == Some(s))
    }

    pub fn touch(&self, region: Region) -> Option<&'a Touch> {
        self.key.touches.iter().find(|t| t.part.region == region)
    }

    pub fn floor(&self, region: Region, s: Option<Side>) -> bool {
        on_floor(self.at, region, s)
    }

    /// A foot that neither stands nor rests on anything.
    pub fn foot_is_free(&self, s: Side) -> bool {
        let stands = |s: Side| self.touches_of(s).any(|t| is_foot(t.part.region));
        if self.posture == Posture::Standing && stands(s.other()) {
            return !stands(s);
        }
        !self.touches_of(s).any(|t| is_foot(t.part.region))
            && ![Region::Heel, Region::Forefoot, Region::Toes].iter().any(|r| self.floor(*r, Some(s)))
    }

    pub fn flat(&self, s: Side) -> bool {
        self.floor(Region::Heel, Some(s)) && self.floor(Region::Forefoot, Some(s))
    }

    /// Level within what an eye takes as level, 15 degrees (common practice, no source).
    pub fn is_level(&self, s: Segment) -> bool {
        self.way(s).y.abs() < 0.26
    }

    /// Degrees between trunk and thigh, 0 where they are in line.
    pub fn hip_fold(&self, s: Side) -> f64 {
        apart(self.trunk(), -self.way(Segment::Thigh(s)))
    }
}

/// From one key pose to the next.
pub(super) struct Step<'a> {
    pub a: Seen<'a>,
    pub b: Seen<'a>,
    pub side: Side,
}

impl Step<'_> {
    /// How far a point went, as a share of stature.
    pub fn moved(&self, point: impl Fn(&Placed) -> Vec3) -> Vec3 {
        (point(self.b.at) - point(self.a.at)) * (1.0 / self.a.h())
    }

    pub fn moved_joint(&self, s: Segment) -> Vec3 {
        self.moved(|p| p.joint(s))
    }

    pub fn change(&self, limb: Limb, s: Side) -> f64 {
        self.b.deg(limb, s) - self.a.deg(limb, s)
    }

    pub fn spine(&self, d: Dof) -> f64 {
        degrees(self.b.key.state.angle(d) - self.a.key.state.angle(d))
    }

    /// Degrees that a segment turned in the room.
    pub fn swing(&self, s: Segment) -> f64 {
        apart(self.a.way(s), self.b.way(s))
    }

    /// Degrees that a segment turned as seen from another.
    pub fn swing_in(&self, s: Segment, frame: Segment) -> f64 {
        let seen = |p: &Seen| p.at.turn(frame).inverse() * p.way(s);
        apart(seen(&self.a), seen(&self.b))
    }

    pub fn foot_stays(&self, s: Side) -> bool {
        // The ball of a foot stays where only its heel lifts.
        let ball = self.moved(|p| p.far_end(Segment::Foot(s))).norm();
        self.moved_joint(Segment::Foot(s)).norm().min(ball) < 0.04
    }

    pub fn hand_stays(&self, s: Side) -> bool {
        self.moved_joint(Segment::Hand(s)).norm() < 0.04
    }

    pub fn kept(&self, t: &Touch) -> bool {
        self.a.key.touches.iter().any(|u| u.part == t.part && u.surface == t.surface)
    }

    pub fn begun(&self, s: Option<Side>) -> Vec<&Touch> {
        self.b.key.touches.iter().filter(|t| t.part.side == s && !self.kept(t)).collect()
    }

    /// Whether a hand keeps what it holds or leans on.
    pub fn hand_kept(&self, s: Side) -> Option<&Touch> {
        self.b
            .touches_of(s)
            .find(|t| (is_hand(t.part.region) || t.part.region == Region::Forearm) && self.kept(t))
    }
}

pub(super) fn is_hand(r: Region) -> bool {
    matches!(r, Region::Palm | Region::Fist | Region::Fingertips | Region::BackOfHand)
}

pub(super) fn is_foot(r: Region) -> bool {
    use Region::*;
    matches!(r, Sole | Heel | Forefoot | Toes | Instep | FootInner | FootOuter)
}

/// Whether a region is within two centimetres of the floor.
pub(super) fn on_floor(placed: &Placed, region: Region, side: Option<Side>) -> bool {
    Skin::of(region, side).into_iter().any(|s| placed.skin(s).y - placed.radius(s) < 0.012 * placed.stature())
}

fn recognise(key: &Key, placed: &Placed) -> Posture {
    let stance = Stance::of(placed);
    let h = placed.stature();
    let carries = |region: Region| key.touches.iter().find(|t| t.part.region == region).map(|t| t.surface);
    let sole =
        |s: Side| on_floor(placed, Region::Heel, Some(s)) || on_floor(placed, Region::Forefoot, Some(s));
    // A knee may rest on something folded, up to about 8 cm thick.
    let knee = |s: Side| {
        let low = Skin::of(Region::KneeFront, Some(s))
            .into_iter()
            .any(|skin| placed.skin(skin).y - placed.radius(skin) < 0.05 * h);
        let shank = placed.far_end(Segment::Shank(s)) - placed.joint(Segment::Shank(s));
        low && shank.unit_or(Vec3::Y).y.abs() < 0.5
    };
    let hands = Side::BOTH
        .iter()
        .any(|s| on_floor(placed, Region::Palm, Some(*s)) || on_floor(placed, Region::Elbow, Some(*s)));
    let pelvis = placed.turn(Segment::Pelvis);
    let seat = placed.joint(Segment::Pelvis).y;
    if let Some(side) = stance.lies_on {
        return Posture::Lying(side);
    }
    // Propped on an elbow, the hip still down.
    for s in Side::BOTH {
        let down = pelvis.z.y * if s == Side::Right { -1.0 } else { 1.0 };
        if 0.6 < down && on_floor(placed, Region::HipSide, Some(s)) {
            return Posture::Lying(s);
        }
    }
    // A trunk propped up from lying is still lying, while the pelvis is down.
    if pelvis.x.y < -0.5 && on_floor(placed, Region::PelvisFront, None) {
        return Posture::Front;
    }
    // A pillow that carries the trunk.
    let trunk = |s: &Spot| matches!(s.region, Region::Chest | Region::Belly | Region::PelvisFront);
    let pillowed =
        key.things.iter().any(|t| matches!(&t.shape, Shape::Under { spots, .. } if spots.iter().any(trunk)));
    if pillowed && pelvis.x.y < -0.5 {
        return Posture::Front;
    }
    // Face down on the hands, the trunk rising towards the shoulders.
    if pelvis.x.y < -0.6 && hands && seat < 0.35 * h {
        let knees = Side::BOTH.iter().any(|s| knee(*s)) && 0.16 * h < seat;
        return if knees { Posture::AllFours } else { Posture::Plank };
    }
    if stance.upright {
        let thing =
            |s: Option<Surface>| matches!(s, Some(Surface::Prop(_) | Surface::Edge(_) | Surface::Floor));
        let leans = matches!(carries(Region::Seat), Some(Surface::Prop(crate::pose::ask::PropKind::Wall)));
        let seated = (thing(carries(Region::Seat)) && !leans) || thing(carries(Region::ThighBack));
        let thigh_level = Side::BOTH.iter().all(|s| {
            let way = placed.far_end(Segment::Thigh(*s)) - placed.joint(Segment::Thigh(*s));
            way.unit_or(Vec3::Y).y.abs() < 0.5
        });
        if seat < 0.12 * h {
            return Posture::LongSitting;
        }
        if seated {
            return Posture::Sitting;
        }
        return match (knee(Side::Right), knee(Side::Left)) {
            (true, true) => Posture::Kneeling,
            (true, false) if sole(Side::Left) => Posture::HalfKneeling(Side::Right),
            (false, true) if sole(Side::Right) => Posture::HalfKneeling(Side::Left),
            // Thighs level and nothing told: sitting, unless the feet carry a squat below the hips.
            _ if thigh_level && key.touches.is_empty() && !deep(placed) => Posture::Sitting,
            _ => Posture::Standing,
        };
    }
    if 0.0 < pelvis.x.y {
        return Posture::Back;
    }
    if Side::BOTH.iter().any(|s| knee(*s)) && 0.16 * h < seat {
        return Posture::AllFours;
    }
    // Bent over from the feet, as with a hand on a table.
    if Side::BOTH.iter().any(|s| sole(*s)) && 0.35 * h < seat {
        return Posture::Standing;
    }
    let chest = on_floor(placed, Region::Chest, None)
        || on_floor(placed, Region::PelvisFront, None)
        || on_floor(placed, Region::Belly, None);
    let on_prop = matches!(carries(Region::Chest).or(carries(Region::Belly)), Some(Surface::Prop(_)));
    if hands && !chest && !on_prop { Posture::Plank } else { Posture::Front }
}

/// Whether the feet stand under the hips, as in a squat.
fn deep(placed: &Placed) -> bool {
    let ankles = placed.joint(Segment::Foot(Side::Right)).lerp(placed.joint(Segment::Foot(Side::Left)), 0.5);
    level(ankles - placed.joint(Segment::Pelvis)).norm() < 0.16 * placed.stature()
}

/// How far a knee or elbow is bent, in words.
pub(super) fn bend_words(degrees: f64) -> &'static str {
    if degrees < 15.0 {
        "straight"
    } else if degrees < 40.0 {
        "slightly bent"
    } else if degrees < 75.0 {
        "half bent"
    } else if degrees < 108.0 {
        "bent like the letter L"
    } else {
        "well bent"
    }
}
