//! The drawn body: which spheres make which piece, and how pieces hang together.

use crate::body::flesh::*;
use crate::body::names::{Segment, Side};
use crate::body::{FOREARM, mirrored};
use crate::body::{HAND, HIP_HALF_BREADTH, HIP_HEIGHT, KNEE_HEIGHT, Placed, SHOULDER_HALF_BREADTH};
use crate::body::{SHOULDER_HEIGHT, Skin, UPPER_ARM};
use crate::pose::ask::{Aspect, Worked};
use crate::space::{Vec3, v3};

/// A ball in the room, metres.
pub(super) type Round = (Vec3, f64);

/// A piece that is sorted by depth and painted at one go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    /// Pelvis and belly.
    LowTrunk,
    /// Ribs, shoulder girdle.
    HighTrunk,
    Neck,
    Head,
    UpperArm(Side),
    Forearm(Side),
    Hand(Side),
    Thigh(Side),
    Shank(Side),
    Foot(Side),
}

/// Pieces that are one limb and are painted without a line between them where order allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Limb {
    Trunk,
    Head,
    Arm(Side),
    Leg(Side),
}

impl Part {
    pub const ALL: [Part; 16] = {
        use Part::*;
        use Side::{Left as L, Right as R};
        [
            LowTrunk,
            HighTrunk,
            Neck,
            Head,
            UpperArm(R),
            Forearm(R),
            Hand(R),
            Thigh(R),
            Shank(R),
            Foot(R),
            UpperArm(L),
            Forearm(L),
            Hand(L),
            Thigh(L),
            Shank(L),
            Foot(L),
        ]
    };

    pub fn limb(self) -> Limb {
        match self {
            Part::LowTrunk | Part::HighTrunk | Part::Neck => Limb::Trunk,
            Part::Head => Limb::Head,
            Part::UpperArm(s) | Part::Forearm(s) | Part::Hand(s) => Limb::Arm(s),
            Part::Thigh(s) | Part::Shank(s) | Part::Foot(s) => Limb::Leg(s),
        }
    }

    pub fn side(self) -> Option<Side> {
        match self.limb() {
            Limb::Arm(s) | Limb::Leg(s) => Some(s),
            Limb::Trunk | Limb::Head => None,
        }
    }

    /// The same piece of the other side.
    pub fn mirrored(self) -> Part {
        match self {
            Part::UpperArm(s) => Part::UpperArm(s.other()),
            Part::Forearm(s) => Part::Forearm(s.other()),
            Part::Hand(s) => Part::Hand(s.other()),
            Part::Thigh(s) => Part::Thigh(s.other()),
            Part::Shank(s) => Part::Shank(s.other()),
            Part::Foot(s) => Part::Foot(s.other()),
            middle => middle,
        }
    }

    /// The piece it hangs on.
    pub fn parent(self) -> Option<Part> {
        Some(match self {
            Part::LowTrunk => return None,
            Part::HighTrunk => Part::LowTrunk,
            Part::Neck => Part::HighTrunk,
            Part::Head => Part::Neck,
            Part::UpperArm(_) => Part::HighTrunk,
            Part::Forearm(s) => Part::UpperArm(s),
            Part::Hand(s) => Part::Forearm(s),
            Part::Thigh(_) => Part::LowTrunk,
            Part::Shank(s) => Part::Thigh(s),
            Part::Foot(s) => Part::Shank(s),
        })
    }

    /// The piece that shows a segment.
    pub fn of(segment: Segment) -> Part {
        match segment {
            Segment::Pelvis | Segment::Waist => Part::LowTrunk,
            Segment::Chest | Segment::Girdle(_) => Part::HighTrunk,
            Segment::Neck => Part::Neck,
            Segment::Head => Part::Head,
            Segment::UpperArm(s) => Part::UpperArm(s),
            Segment::Forearm(s) => Part::Forearm(s),
            Segment::Hand(s) => Part::Hand(s),
            Segment::Thigh(s) => Part::Thigh(s),
            Segment::Shank(s) => Part::Shank(s),
            Segment::Foot(s) | Segment::Toes(s) => Part::Foot(s),
        }
    }

    /// The segment whose two ends are the piece's long axis.
    pub fn segment(self) -> Segment {
        match self {
            Part::LowTrunk => Segment::Pelvis,
            Part::HighTrunk => Segment::Chest,
            Part::Neck => Segment::Neck,
            Part::Head => Segment::Head,
            Part::UpperArm(s) => Segment::UpperArm(s),
            Part::Forearm(s) => Segment::Forearm(s),
            Part::Hand(s) => Segment::Hand(s),
            Part::Thigh(s) => Segment::Thigh(s),
            Part::Shank(s) => Segment::Shank(s),
            Part::Foot(s) => Segment::Foot(s),
        }
    }
}

/// A placed body as pieces of hulls.
pub(super) struct Shape<'a> {
    pub placed: &'a Placed,
    /// Hands that grip: their fingers are drawn bent.
    pub grips: [bool; 2],
}

const R: Side = Side::Right;
const WRIST_HEIGHT: f64 = SHOULDER_HEIGHT - UPPER_ARM - FOREARM;
const ELBOW_HEIGHT: f64 = SHOULDER_HEIGHT - UPPER_ARM;

impl Shape<'_> {
    /// A point of the right (or middle) segment on `side`, with a radius; fractions of stature.
    fn at(&self, segment: Segment, side: Side, p: Vec3, r: f64) -> Round {
        let segment = if side == Side::Left { mirrored(segment) } else { segment };
        // An unpaired segment mirrors its point itself.
        let p = if side == Side::Left && mirrored(segment) == segment { p.mirrored() } else { p };
        (self.placed.point(segment, p), r * self.placed.thickness(segment) * self.placed.stature())
    }

    fn skin(&self, ball: BallId, side: Side) -> Round {
        let skin = Skin { ball, side: if TABLE[ball].paired { side } else { R } };
        (self.placed.skin(skin), self.placed.radius(skin))
    }

    fn both(&self, balls: &[BallId]) -> Vec<Round> {
        let paired = |b: &BallId| if TABLE[*b].paired { &Side::BOTH[..] } else { &Side::BOTH[..1] };
        balls.iter().flat_map(|b| paired(b).iter().map(|s| self.skin(*b, *s))).collect()
    }

    /// The hulls that make a piece.
    pub fn hulls(&self, part: Part) -> Vec<Vec<Round>> {
        match part {
            Part::LowTrunk => vec![
                self.both(&[SACRUM, BUTTOCK, HIP_SIDE, PELVIS_FRONT]),
                self.both(&[SACRUM, PELVIS_FRONT, FLANK, BELLY, HOLLOW]),
            ],
            Part::HighTrunk => {
                let root = self.neck_root();
                let mut hulls = vec![
                    self.both(&[FLANK, BELLY, HOLLOW, LOW_RIBS, RIB_SIDE]),
                    self.both(&[LOW_RIBS, RIB_SIDE, BREAST, BLADE]),
                ];
                for s in Side::BOTH {
                    hulls.push(vec![root, self.shoulder(s), self.skin(BLADE, s), self.skin(BREAST, s)]);
                }
                hulls
            }
            Part::Neck => {
                vec![vec![self.neck_root(), self.at(Segment::Head, R, v3(-0.006, 0.902, 0.0), 0.027)]]
            }
            Part::Head => vec![self.skull(), self.nose()],
            Part::UpperArm(s) => vec![vec![
                self.at(
                    Segment::UpperArm(R),
                    s,
                    v3(0.0, SHOULDER_HEIGHT - 0.004, SHOULDER_HALF_BREADTH),
                    0.028,
                ),
                self.at(Segment::UpperArm(R), s, v3(0.0, ELBOW_HEIGHT, SHOULDER_HALF_BREADTH), 0.0195),
            ]],
            Part::Forearm(s) => vec![vec![
                self.at(Segment::Forearm(R), s, v3(0.0, ELBOW_HEIGHT, SHOULDER_HALF_BREADTH), 0.0195),
                self.skin(FOREARM_MID, s),
                self.at(Segment::Forearm(R), s, v3(0.0, WRIST_HEIGHT, SHOULDER_HALF_BREADTH), 0.0135),
            ]],
            Part::Hand(s) => self.hand(s),
            Part::Thigh(s) => vec![vec![
                self.at(
                    Segment::Thigh(R),
                    s,
                    v3(-0.002, HIP_HEIGHT - 0.012, HIP_HALF_BREADTH + 0.002),
                    0.047,
                ),
                self.skin(THIGH_MID, s),
                self.at(Segment::Thigh(R), s, v3(0.001, KNEE_HEIGHT, HIP_HALF_BREADTH), 0.031),
            ]],
            Part::Shank(s) => vec![vec![
                self.at(Segment::Shank(R), s, v3(0.001, KNEE_HEIGHT, HIP_HALF_BREADTH), 0.030),
                self.skin(CALF, s),
                self.at(Segment::Shank(R), s, v3(0.0, 0.044, HIP_HALF_BREADTH), 0.0195),
            ]],
            Part::Foot(s) => vec![
                vec![
                    self.at(Segment::Foot(R), s, v3(0.0, 0.042, HIP_HALF_BREADTH), 0.0195),
                    self.skin(HEEL, s),
                    self.skin(HEEL_BACK, s),
                    self.skin(INSTEP, s),
                    self.skin(BIG_TOE_BALL, s),
                    self.skin(SMALL_TOE_BALL, s),
                ],
                vec![
                    self.at(Segment::Toes(R), s, v3(0.076, 0.012, 0.036), 0.012),
                    self.at(Segment::Toes(R), s, v3(0.064, 0.012, 0.066), 0.012),
                    self.at(Segment::Toes(R), s, v3(0.108, 0.009, 0.040), 0.009),
                    self.at(Segment::Toes(R), s, v3(0.096, 0.009, 0.061), 0.009),
                ],
            ],
        }
    }

    fn neck_root(&self) -> Round {
        self.at(Segment::Chest, R, v3(-0.012, 0.832, 0.0), 0.029)
    }

    pub fn shoulder(&self, s: Side) -> Round {
        let at = self.placed.joint(Segment::UpperArm(s));
        (at, 0.025 * self.placed.stature())
    }

    /// Skull and jaw, without nose.
    pub fn skull(&self) -> Vec<Round> {
        let mut balls = self.both(&[OCCIPUT, FOREHEAD, HEAD_SIDE]);
        balls.push(self.at(Segment::Head, R, v3(0.034, 0.892, 0.0), 0.018));
        balls.push(self.at(Segment::Head, R, v3(-0.006, 0.915, 0.0), 0.036));
        balls
    }

    pub fn nose(&self) -> Vec<Round> {
        vec![
            self.at(Segment::Head, R, v3(0.040, 0.944, 0.0), 0.010),
            self.at(Segment::Head, R, v3(0.057, 0.917, 0.0), 0.007),
            self.at(Segment::Head, R, v3(0.036, 0.906, 0.0), 0.012),
        ]
    }

    fn hand(&self, s: Side) -> Vec<Vec<Round>> {
        let grip = self.grips[usize::from(s == Side::Left)];
        let at = |x: f64, y: f64, z: f64, r: f64| {
            self.at(Segment::Hand(R), s, v3(x, WRIST_HEIGHT - y * HAND, SHOULDER_HALF_BREADTH - z), r)
        };
        // x towards the thumb, y from wrist to fingertips as a share of the hand, z to the palm's side.
        let wrist = at(0.0, 0.08, 0.0, 0.0135);
        if grip {
            let fist = vec![
                wrist,
                at(0.013, 0.50, 0.0, 0.0100),
                at(-0.013, 0.48, 0.0, 0.0100),
                at(0.011, 0.56, 0.024, 0.009),
                at(-0.011, 0.54, 0.024, 0.009),
            ];
            let thumb = vec![at(0.012, 0.25, 0.006, 0.008), at(0.018, 0.48, 0.026, 0.006)];
            return vec![fist, thumb];
        }
        let fingers = vec![
            wrist,
            at(0.013, 0.50, 0.0, 0.0095),
            at(-0.013, 0.48, 0.0, 0.0095),
            at(0.008, 0.95, 0.004, 0.0065),
            at(-0.011, 0.86, 0.004, 0.0065),
        ];
        let thumb = vec![at(0.008, 0.20, 0.004, 0.009), at(0.031, 0.52, 0.012, 0.006)];
        vec![fingers, thumb]
    }

    /// Balls for depth and overlap tests: the hulls' corners and points between them.
    pub fn samples(&self, part: Part) -> Vec<Round> {
        let mut out = Vec::new();
        for hull in self.hulls(part) {
            match hull.as_slice() {
                // A limb: along its length.
                [a, rest @ ..] if rest.len() <= 2 => {
                    let mut last = *a;
                    out.push(last);
                    for b in rest {
                        out.push((last.0.lerp(b.0, 0.5), (last.1 + b.1) * 0.5));
                        out.push(*b);
                        last = *b;
                    }
                }
                many => out.extend_from_slice(many),
            }
        }
        out
    }

    /// What joins a piece to the one it hangs on without a line between them.
    pub fn link(&self, part: Part) -> Vec<Round> {
        let h = self.placed.stature();
        // As thick as the limb there, or the line round the lower piece would stay at the edges as a notch.
        let towards = |piece: Segment, r: f64, upper: Segment, far: f64| {
            let (joint, to) = (self.placed.joint(piece), self.placed.joint(upper));
            let way = (to - joint).unit_or(Vec3::Y);
            let r = r * h * self.placed.thickness(piece);
            vec![(joint, r), (joint + way * (far * h), r)]
        };
        let p = self.placed;
        match part {
            Part::LowTrunk => Vec::new(),
            Part::HighTrunk => {
                self.both(&[FLANK, BELLY, HOLLOW]).into_iter().map(|(c, r)| (c, r * 0.9)).collect()
            }
            Part::Neck => vec![self.neck_root(), self.at(Segment::Neck, R, v3(-0.010, 0.86, 0.0), 0.026)],
            Part::Head => Vec::new(),
            Part::UpperArm(s) => {
                vec![(self.shoulder(s).0, 0.0235 * h), {
                    let root = self.neck_root();
                    (self.shoulder(s).0.lerp(root.0, 0.45), 0.020 * h)
                }]
            }
            Part::Forearm(s) => towards(Segment::Forearm(s), 0.0193, Segment::UpperArm(s), 0.02),
            // Hands are of another tone.
            Part::Hand(_) => Vec::new(),
            Part::Thigh(s) => {
                let hip = p.joint(Segment::Thigh(s));
                // No farther than the line round the thigh's head: what works at the waist stays in sight.
                vec![(hip, 0.041 * h), (hip.lerp(self.skin(FLANK, s).0, 0.5), 0.029 * h)]
            }
            Part::Shank(s) => towards(Segment::Shank(s), 0.0305, Segment::Thigh(s), 0.022),
            Part::Foot(s) => towards(Segment::Foot(s), 0.0193, Segment::Shank(s), 0.02),
        }
    }

    /// The area of a working muscle group inside its piece, where it is less than the whole piece.
    pub fn patch(&self, worked: &Worked) -> Option<Vec<Round>> {
        let sides: &[Side] = match worked.side {
            Some(Side::Right) => &Side::BOTH[..1],
            Some(Side::Left) => &Side::BOTH[1..],
            None => &Side::BOTH,
        };
        let of = |balls: &[BallId], k: f64| -> Vec<Round> {
            let mut out = Vec::new();
            for b in balls {
                for s in sides {
                    if TABLE[*b].paired || worked.side.is_none() {
                        let (c, r) = self.skin(*b, *s);
                        out.push((c, r * k));
                    }
                }
            }
            out
        };
        Some(match (worked.segment, worked.aspect) {
            (Segment::Pelvis, Aspect::Back) => of(&[BUTTOCK, SACRUM], 0.86),
            (Segment::Pelvis, Aspect::Front) => of(&[PELVIS_FRONT], 0.8),
            (Segment::Pelvis, Aspect::Outer) => of(&[HIP_SIDE], 0.86),
            (Segment::Pelvis, _) => of(&[BUTTOCK, HIP_SIDE, SACRUM, PELVIS_FRONT], 0.86),
            (Segment::Waist, Aspect::Front) if worked.side.is_none() => {
                vec![
                    self.at(Segment::Waist, R, v3(0.030, 0.640, 0.0), 0.030),
                    { self.at(Segment::Pelvis, R, v3(0.030, 0.570, 0.0), 0.022) },
                    self.at(Segment::Chest, R, v3(0.026, 0.700, 0.0), 0.022),
                ]
            }
            (Segment::Waist, Aspect::Back) if worked.side.is_none() => of(&[HOLLOW, LOW_RIBS, SACRUM], 0.7),
            (Segment::Waist, _) => of(&[FLANK, BELLY], 0.85),
            (Segment::Chest, Aspect::Front) => of(&[BREAST], 0.85),
            (Segment::Chest, Aspect::Back) => of(&[BLADE], 0.95),
            (Segment::Chest, _) => of(&[RIB_SIDE, BREAST, BLADE], 0.88),
            (Segment::Girdle(s), _) => {
                let (root, (shoulder, r)) = (self.neck_root(), self.shoulder(s));
                vec![(root.0.lerp(shoulder, 0.2), r * 0.7), (shoulder, r * 0.7), {
                    let (c, r) = self.skin(BLADE, s);
                    (c, r * 0.6)
                }]
            }
            (Segment::Head, _) => return None,
            (Segment::Neck, aspect) if aspect != Aspect::Whole => {
                let x = if aspect == Aspect::Back { -0.012 } else { 0.012 };
                vec![
                    self.at(Segment::Neck, R, v3(-0.012 + x, 0.85, 0.0), 0.014),
                    self.at(Segment::Neck, R, v3(-0.004 + x, 0.895, 0.0), 0.013),
                ]
            }
            (_, Aspect::Whole) => return None,
            (segment, aspect) => {
                let part = Part::of(segment);
                let s = part.side()?;
                let way = aspect_direction(self.placed, segment, aspect, s);
                let hull = self.hulls(part).into_iter().next()?;
                hull.into_iter().map(|(c, r)| (c + way * (r * 0.42), r * 0.5)).collect()
            }
        })
    }
}

/// Which way an aspect of a segment looks, in the room.
pub(super) fn aspect_direction(placed: &Placed, segment: Segment, aspect: Aspect, side: Side) -> Vec3 {
    let t = placed.turn(segment);
    let out = if side == Side::Right { t.z } else { -t.z };
    // With the thumb forward the front of the forearm (its palm side) looks inwards.
    let arm = matches!(segment, Segment::Forearm(_) | Segment::Hand(_));
    match aspect {
        Aspect::Front if arm => -out,
        Aspect::Back if arm => out,
        Aspect::Inner if arm => -t.x,
        Aspect::Outer if arm => t.x,
        Aspect::Whole | Aspect::Front => t.x,
        Aspect::Back => -t.x,
        Aspect::Inner => -out,
        Aspect::Outer => out,
    }
}
