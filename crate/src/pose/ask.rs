//! What a pose text asks, understood: the tree between the reader of pose text and the settling.
//!
//! A pose starts from a base posture or an earlier pose and holds only what differs. Exercises are
//! written for the right as the working side. No coordinates and no root position ever.

use crate::body::names::{Joint, Motion, Region, Segment, Side, Sides};
use crate::text::Place;

/// Something asked, with the place in the text that asks it.
#[derive(Clone, Debug, PartialEq)]
pub struct Said<T> {
    pub what: T,
    pub place: Place,
}

/// One key pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Pose {
    /// `start`, `bent`: the word after `pose:`.
    pub name: String,
    pub place: Place,
    pub from: From,
    pub asks: Vec<Said<Ask>>,
    pub contacts: Vec<Said<Contact>>,
    /// Contacts that end: `right sole off floor`.
    pub releases: Vec<Said<Release>>,
    pub props: Vec<Said<Prop>>,
    /// Parts that keep the place they had in the pose this one starts from.
    pub planted: Vec<Said<Planted>>,
    pub works: Vec<Said<Worked>>,
    pub efforts: Vec<Said<Effort>>,
    pub view: Option<Said<View>>,
    /// Seconds from the pose before to this one, where the text says so.
    pub seconds: Option<f64>,
}

/// Where a pose starts from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum From {
    Posture(Posture),
    /// An earlier pose of the same exercise, by its position in the list.
    Earlier(usize),
}

/// Base postures, by the trade's names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Posture {
    Standing,
    /// On a chair or other seat of the height that the pose states (43 cm unless it does).
    Sitting,
    LongSitting,
    Supine,
    CrookLying,
    Prone,
    /// Lying on that side.
    SideLying(Side),
    FourPointKneeling,
    /// Upright on both knees.
    HighKneeling,
    /// That knee on the floor, the other foot in front.
    HalfKneeling(Side),
}

/// A wish about angles, directions or distances.
#[derive(Clone, Debug, PartialEq)]
pub enum Ask {
    /// `right knee flexion 90`; degrees, positive to the motion.
    Angle { sides: Sides, joint: Joint, motion: Motion, degrees: f64 },
    /// `ankles free`: gives way cheaply.
    Free { sides: Sides, joint: Joint },
    /// `thigh level`: the part's long axis (for the pelvis or trunk, its up axis) is horizontal.
    Level(Bit),
    /// `shin upright`: the part's long axis is vertical.
    Upright(Bit),
    /// `right thigh in line with trunk`.
    InLine { what: Bit, with: Bit },
    /// `right thigh parallel to left thigh`.
    Parallel { what: Bit, to: Bit },
    /// `trunk leaning forward 30`: tilt of the part's up axis from the vertical, degrees, to that direction.
    Leaning { what: Bit, direction: Direction, degrees: f64 },
    /// Distance between the ankle joints, sideways. Metres for a 1.70 m body.
    FeetApart(FeetApart),
    /// One foot ahead of the other: that side in front by so many centimetres (heel to heel).
    Staggered { front: Side, cm: f64 },
    /// `toes out 30`: the foot's long axis turned outwards from the pelvis' forward direction, degrees.
    ToesOut { sides: Sides, degrees: f64 },
    /// `heels 30 cm from seat`, `heels 20 cm from wall`.
    Distance { part: Spot, from: Surface, cm: f64 },
    /// `right hand over edge of table`, `heels off edge of step`: the part is beyond the edge of what its limb
    /// rests on.
    Beyond { part: Spot, edge_of: PropKind },
    /// `looking up`: the direction of the face.
    Looking(Direction),
    /// `palms facing forward`: the direction of the palm.
    PalmFacing { sides: Sides, direction: Direction },
}

/// A piece of the body with a long axis: a segment, or the whole trunk, leg, or arm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bit {
    Segment(Segment),
    /// Hip line to shoulder line.
    Trunk,
    /// Hip to ankle.
    Leg(Side),
    /// Shoulder to wrist.
    Arm(Side),
    /// Right hip to left hip: `pelvis level` seen from the front.
    PelvisAcross,
    /// Right shoulder to left shoulder.
    ShouldersAcross,
}

/// Directions as the patient would say them; forward, back, right and left are the pelvis' in the base
/// posture, up and down are gravity's.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    Forward,
    Back,
    Up,
    Down,
    Right,
    Left,
    /// Towards the other side of the body.
    In,
    Out,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FeetApart {
    Together,
    Hips,
    Shoulders,
    Cm(f64),
}

/// A skin region with its side (`None` for the unpaired).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    pub side: Option<Side>,
    pub region: Region,
}

/// Touching.
#[derive(Clone, Debug, PartialEq)]
pub enum Contact {
    /// `soles on floor`, `upper back on bench`, `right ankle on left knee`.
    On {
        part: Spot,
        place: Surface,
        /// `slides on`: keeps touching, may travel.
        slides: bool,
        /// `light touch`: steadies, carries next to no weight.
        light: bool,
    },
    /// `hands hold right shin`, `right hand holds stick`.
    Hold { hand: Side, what: Held },
}

/// What ends: the part leaves whatever it touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Release {
    pub part: Spot,
}

/// What a part rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Surface {
    Floor,
    /// A thing that stands in the room, by its kind (the pose's props give its size).
    Prop(PropKind),
    /// The near top edge of a block, such as a bench's.
    Edge(PropKind),
    /// A tread of the stairs, the lowest being 1.
    Tread(u8),
    Body(Spot),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Held {
    Body(Spot),
    Prop(PropKind),
}

/// Things.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PropKind {
    Mat,
    Bed,
    Bench,
    Sofa,
    Chair,
    ChairBack,
    Step,
    Stairs,
    Table,
    Worktop,
    Rail,
    Frame,
    Wall,
    Doorway,
    Ball,
    Roller,
    Pillow,
    Towel,
    Strap,
    Stick,
    LoopBand,
    LongBand,
    Dumbbell,
    AnkleWeight,
    Belt,
}

impl PropKind {
    pub const ALL: [PropKind; 25] = [
        PropKind::Mat,
        PropKind::Bed,
        PropKind::Bench,
        PropKind::Sofa,
        PropKind::Chair,
        PropKind::ChairBack,
        PropKind::Step,
        PropKind::Stairs,
        PropKind::Table,
        PropKind::Worktop,
        PropKind::Rail,
        PropKind::Frame,
        PropKind::Wall,
        PropKind::Doorway,
        PropKind::Ball,
        PropKind::Roller,
        PropKind::Pillow,
        PropKind::Towel,
        PropKind::Strap,
        PropKind::Stick,
        PropKind::LoopBand,
        PropKind::LongBand,
        PropKind::Dumbbell,
        PropKind::AnkleWeight,
        PropKind::Belt,
    ];

    pub fn word(self) -> &'static str {
        match self {
            PropKind::Mat => "mat",
            PropKind::Bed => "bed",
            PropKind::Bench => "bench",
            PropKind::Sofa => "sofa",
            PropKind::Chair => "chair",
            PropKind::ChairBack => "chair back",
            PropKind::Step => "step",
            PropKind::Stairs => "stairs",
            PropKind::Table => "table",
            PropKind::Worktop => "worktop",
            PropKind::Rail => "rail",
            PropKind::Frame => "frame",
            PropKind::Wall => "wall",
            PropKind::Doorway => "doorway",
            PropKind::Ball => "ball",
            PropKind::Roller => "roller",
            PropKind::Pillow => "pillow",
            PropKind::Towel => "towel",
            PropKind::Strap => "strap",
            PropKind::Stick => "stick",
            PropKind::LoopBand => "loop band",
            PropKind::LongBand => "long band",
            PropKind::Dumbbell => "dumbbell",
            PropKind::AnkleWeight => "ankle weight",
            PropKind::Belt => "belt",
        }
    }

    /// The height of the top, the diameter, or the length, in cm, when the text states none.
    /// Chair seat 43 cm: CDC STEADI chair stand (`references/functional-tests.md`); the rest common practice, no source.
    pub fn usual_cm(self) -> Option<f64> {
        match self {
            PropKind::Chair => Some(43.0),
            PropKind::Bench | PropKind::Sofa | PropKind::Bed => Some(45.0),
            PropKind::Step => Some(15.0),
            PropKind::Stairs => Some(17.0),
            PropKind::Table => Some(72.0),
            PropKind::Worktop => Some(90.0),
            PropKind::Rail | PropKind::ChairBack | PropKind::Frame => Some(88.0),
            PropKind::Ball => Some(65.0),
            PropKind::Roller => Some(15.0),
            PropKind::Pillow => Some(12.0),
            PropKind::Towel => Some(6.0),
            PropKind::Stick => Some(100.0),
            _ => None,
        }
    }
}

/// A thing in the pose: its kind, size, and where it goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Prop {
    pub kind: PropKind,
    /// Height of the top (chair, step, table…), diameter (ball, roller), thickness (pillow, towel) or length (stick, band).
    pub cm: Option<f64>,
    pub fit: Fit,
}

/// Where a thing goes.
#[derive(Clone, Debug, PartialEq)]
pub enum Fit {
    /// Where the contacts put it.
    Stands,
    /// `wall in front`, `wall behind`, `rail right`: which way it is from the patient.
    At(Direction),
    /// `loop band round thighs`, `ankle weight round right ankle`.
    Round(Vec<Spot>),
    /// `dumbbell in right hand`.
    In(Sides),
    /// `pillow under head`, `towel under right knee`, `pillow between knees`.
    Under(Vec<Spot>),
    Between(Spot, Spot),
    /// `ball between lower back and wall`.
    Against(Spot),
    /// `long band from door at elbow height to right hand`.
    FromTo {
        anchor: Anchor,
        to: Spot,
    },
}

/// Where a band or strap is fixed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Anchor {
    Body(Spot),
    /// A door, wall or post: which way it is from the patient, and at what height.
    Fixed {
        direction: Direction,
        height: Height,
    },
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Height {
    Cm(f64),
    /// The height of that part in this pose.
    Of(Spot),
}

/// `planted: back, left leg`: everything (`All`), or regions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Planted {
    /// All contacts that last from the pose before.
    All,
    Spot(Spot),
    /// A whole limb or the trunk: keeps its joint angles as well as its place.
    Bit(Bit),
}

/// `works: right buttock`: drawn in the accent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Worked {
    pub segment: Segment,
    /// The half of an unpaired segment (`right buttock` is the pelvis' right back); `None` for both halves
    /// and for limbs, whose segment has its side already.
    pub side: Option<Side>,
    /// The aspect of the segment that works, where one is named.
    pub aspect: Aspect,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Aspect {
    Whole,
    Front,
    Back,
    Inner,
    Outer,
}

/// An effort that shows no movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Effort {
    Squeeze(Worked),
    /// `push heels into floor`.
    Push {
        part: Spot,
        into: Surface,
    },
    BreatheOut,
    StayStill(Bit),
}

/// How the figure is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct View {
    pub from: ViewFrom,
    /// What is shown large, and from where if not as the rest.
    pub close_up: Option<(Spot, ViewFrom)>,
    pub inset: Option<(Spot, ViewFrom)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ViewFrom {
    Auto,
    Side(Option<Side>),
    Front,
    Back,
    Above,
    /// From the front and that side.
    ThreeQuarter(Option<Side>),
    /// From the feet, along the body of someone lying.
    FootEnd,
}

impl Spot {
    pub fn mirrored(self) -> Spot {
        Spot { side: self.side.map(Side::other), region: self.region }
    }
}

impl Surface {
    pub fn mirrored(self) -> Surface {
        match self {
            Surface::Body(spot) => Surface::Body(spot.mirrored()),
            s => s,
        }
    }
}

impl Bit {
    pub fn mirrored(self) -> Bit {
        match self {
            Bit::Segment(s) => Bit::Segment(crate::body::mirrored(s)),
            Bit::Leg(s) => Bit::Leg(s.other()),
            Bit::Arm(s) => Bit::Arm(s.other()),
            b => b,
        }
    }
}

impl Direction {
    pub fn mirrored(self) -> Direction {
        match self {
            Direction::Right => Direction::Left,
            Direction::Left => Direction::Right,
            d => d,
        }
    }
}

impl Ask {
    /// The same wish of the mirrored patient.
    pub fn mirrored(&self) -> Ask {
        let mut ask = self.clone();
        match &mut ask {
            Ask::Angle { sides, motion, .. } => {
                *sides = sides.mirrored();
                *motion = motion.mirrored();
            }
            Ask::Free { sides, .. } | Ask::ToesOut { sides, .. } => *sides = sides.mirrored(),
            Ask::PalmFacing { sides, direction } => {
                *sides = sides.mirrored();
                *direction = direction.mirrored();
            }
            Ask::Level(bit) | Ask::Upright(bit) => *bit = bit.mirrored(),
            Ask::InLine { what, with: other } | Ask::Parallel { what, to: other } => {
                *what = what.mirrored();
                *other = other.mirrored();
            }
            Ask::Leaning { what, direction, .. } => {
                *what = what.mirrored();
                *direction = direction.mirrored();
            }
            Ask::Staggered { front, .. } => *front = front.other(),
            Ask::Distance { part, from, .. } => {
                *part = part.mirrored();
                *from = from.mirrored();
            }
            Ask::Beyond { part, .. } => *part = part.mirrored(),
            Ask::Looking(direction) => *direction = direction.mirrored(),
            Ask::FeetApart(_) => {}
        }
        ask
    }
}

impl Prop {
    /// The same thing of the mirrored patient.
    pub fn mirrored(&self) -> Prop {
        let spots = |s: &[Spot]| s.iter().map(|s| s.mirrored()).collect();
        let fit = match &self.fit {
            Fit::Stands => Fit::Stands,
            Fit::At(d) => Fit::At(d.mirrored()),
            Fit::Against(spot) => Fit::Against(spot.mirrored()),
            Fit::Round(s) => Fit::Round(spots(s)),
            Fit::In(sides) => Fit::In(sides.mirrored()),
            Fit::Under(s) => Fit::Under(spots(s)),
            Fit::Between(a, b) => Fit::Between(a.mirrored(), b.mirrored()),
            Fit::FromTo { anchor, to } => Fit::FromTo {
                anchor: match anchor {
                    Anchor::Body(spot) => Anchor::Body(spot.mirrored()),
                    Anchor::Fixed { direction, height } => Anchor::Fixed {
                        direction: direction.mirrored(),
                        height: match height {
                            Height::Cm(cm) => Height::Cm(*cm),
                            Height::Of(spot) => Height::Of(spot.mirrored()),
                        },
                    },
                },
                to: to.mirrored(),
            },
        };
        Prop { kind: self.kind, cm: self.cm, fit }
    }
}

impl Worked {
    pub fn mirrored(self) -> Worked {
        Worked {
            segment: crate::body::mirrored(self.segment),
            side: self.side.map(Side::other),
            aspect: self.aspect,
        }
    }
}

impl Planted {
    pub fn mirrored(self) -> Planted {
        match self {
            Planted::All => Planted::All,
            Planted::Spot(spot) => Planted::Spot(spot.mirrored()),
            Planted::Bit(bit) => Planted::Bit(bit.mirrored()),
        }
    }
}

impl Effort {
    pub fn mirrored(self) -> Effort {
        match self {
            Effort::Squeeze(w) => Effort::Squeeze(w.mirrored()),
            Effort::Push { part, into } => Effort::Push { part: part.mirrored(), into: into.mirrored() },
            Effort::BreatheOut => Effort::BreatheOut,
            Effort::StayStill(bit) => Effort::StayStill(bit.mirrored()),
        }
    }
}

impl ViewFrom {
    pub fn mirrored(self) -> ViewFrom {
        match self {
            ViewFrom::Side(s) => ViewFrom::Side(s.map(Side::other)),
            ViewFrom::ThreeQuarter(s) => ViewFrom::ThreeQuarter(s.map(Side::other)),
            v => v,
        }
    }
}

impl View {
    pub fn mirrored(self) -> View {
        View {
            from: self.from.mirrored(),
            close_up: self.close_up.map(|(s, v)| (s.mirrored(), v.mirrored())),
            inset: self.inset.map(|(s, v)| (s.mirrored(), v.mirrored())),
        }
    }
}
