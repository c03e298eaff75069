//! The clinical vocabulary of the body: sides, joints, motions, segments and skin regions.
//!
//! Signs: an angle is positive to the motion it is named by, counted from the zero starting position
//! (standing upright, arms at the sides, thumbs forward), the same sign on both sides.

/// A side of the body, as the patient has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    Right,
    Left,
}

impl Side {
    pub const BOTH: [Side; 2] = [Side::Right, Side::Left];

    pub fn other(self) -> Side {
        match self {
            Side::Right => Side::Left,
            Side::Left => Side::Right,
        }
    }

    pub fn word(self) -> &'static str {
        match self {
            Side::Right => "right",
            Side::Left => "left",
        }
    }
}

/// Which sides a word in a text speaks of: `right`, `left`, or both (`knees`, `both hands`).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sides {
    One(Side),
    Both,
}

impl Sides {
    pub fn each(self) -> impl Iterator<Item = Side> {
        let (right, left) = match self {
            Sides::One(s) => (s == Side::Right, s == Side::Left),
            Sides::Both => (true, true),
        };
        Side::BOTH.into_iter().filter(move |s| if *s == Side::Right { right } else { left })
    }

    pub fn mirrored(self) -> Sides {
        match self {
            Sides::One(s) => Sides::One(s.other()),
            Sides::Both => Sides::Both,
        }
    }
}

/// A joint by its everyday or clinical name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Joint {
    /// Lumbar and thoracic spine together.
    Trunk,
    /// Lumbar spine.
    LowerBack,
    /// Thoracic spine.
    UpperBack,
    /// Lower and upper cervical spine together.
    Neck,
    /// C7-T1 upwards to C2.
    LowerNeck,
    /// Head on the neck: nodding.
    UpperNeck,
    /// Shoulder girdle: the shoulder blade on the chest.
    ShoulderBlade,
    /// Upper arm against the chest (thoraco-humeral).
    Shoulder,
    Elbow,
    Forearm,
    Wrist,
    Hip,
    Knee,
    Ankle,
    /// Metatarsophalangeal joints.
    Toes,
}

impl Joint {
    pub const ALL: [Joint; 15] = [
        Joint::Trunk,
        Joint::LowerBack,
        Joint::UpperBack,
        Joint::Neck,
        Joint::LowerNeck,
        Joint::UpperNeck,
        Joint::ShoulderBlade,
        Joint::Shoulder,
        Joint::Elbow,
        Joint::Forearm,
        Joint::Wrist,
        Joint::Hip,
        Joint::Knee,
        Joint::Ankle,
        Joint::Toes,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Joint::Trunk => "trunk",
            Joint::LowerBack => "lower back",
            Joint::UpperBack => "upper back",
            Joint::Neck => "neck",
            Joint::LowerNeck => "lower neck",
            Joint::UpperNeck => "upper neck",
            Joint::ShoulderBlade => "shoulder blade",
            Joint::Shoulder => "shoulder",
            Joint::Elbow => "elbow",
            Joint::Forearm => "forearm",
            Joint::Wrist => "wrist",
            Joint::Hip => "hip",
            Joint::Knee => "knee",
            Joint::Ankle => "ankle",
            Joint::Toes => "toe",
        }
    }

    /// Whether there is one on each side.
    pub fn is_paired(self) -> bool {
        !matches!(
            self,
            Joint::Trunk
                | Joint::LowerBack
                | Joint::UpperBack
                | Joint::Neck
                | Joint::LowerNeck
                | Joint::UpperNeck
        )
    }
}

/// A motion of a joint. For spine joints `SideBend` and `Rotation` carry the side moved to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Motion {
    Flexion,
    Extension,
    Abduction,
    Adduction,
    ExternalRotation,
    InternalRotation,
    /// Raising the arm in any plane; as an ask, in the plane of the shoulder blade (30° before the frontal).
    Elevation,
    /// The shoulder blade sinking.
    Depression,
    Protraction,
    Retraction,
    Pronation,
    Supination,
    UlnarDeviation,
    RadialDeviation,
    Dorsiflexion,
    PlantarFlexion,
    Inversion,
    Eversion,
    SideBend(Side),
    Rotation(Side),
}

impl Motion {
    pub fn words(self) -> &'static str {
        match self {
            Motion::Flexion => "flexion",
            Motion::Extension => "extension",
            Motion::Abduction => "abduction",
            Motion::Adduction => "adduction",
            Motion::ExternalRotation => "external rotation",
            Motion::InternalRotation => "internal rotation",
            Motion::Elevation => "elevation",
            Motion::Depression => "depression",
            Motion::Protraction => "protraction",
            Motion::Retraction => "retraction",
            Motion::Pronation => "pronation",
            Motion::Supination => "supination",
            Motion::UlnarDeviation => "ulnar deviation",
            Motion::RadialDeviation => "radial deviation",
            Motion::Dorsiflexion => "dorsiflexion",
            Motion::PlantarFlexion => "plantar flexion",
            Motion::Inversion => "inversion",
            Motion::Eversion => "eversion",
            Motion::SideBend(Side::Right) => "side bend right",
            Motion::SideBend(Side::Left) => "side bend left",
            Motion::Rotation(Side::Right) => "rotation right",
            Motion::Rotation(Side::Left) => "rotation left",
        }
    }

    /// The motion the other way: a negative flexion is an extension.
    pub fn opposite(self) -> Option<Motion> {
        Some(match self {
            Motion::Flexion => Motion::Extension,
            Motion::Extension => Motion::Flexion,
            Motion::Abduction => Motion::Adduction,
            Motion::Adduction => Motion::Abduction,
            Motion::ExternalRotation => Motion::InternalRotation,
            Motion::InternalRotation => Motion::ExternalRotation,
            Motion::Elevation => Motion::Depression,
            Motion::Depression => Motion::Elevation,
            Motion::Protraction => Motion::Retraction,
            Motion::Retraction => Motion::Protraction,
            Motion::Pronation => Motion::Supination,
            Motion::Supination => Motion::Pronation,
            Motion::UlnarDeviation => Motion::RadialDeviation,
            Motion::RadialDeviation => Motion::UlnarDeviation,
            Motion::Dorsiflexion => Motion::PlantarFlexion,
            Motion::PlantarFlexion => Motion::Dorsiflexion,
            Motion::Inversion => Motion::Eversion,
            Motion::Eversion => Motion::Inversion,
            Motion::SideBend(s) => Motion::SideBend(s.other()),
            Motion::Rotation(s) => Motion::Rotation(s.other()),
        })
    }

    pub fn mirrored(self) -> Motion {
        match self {
            Motion::SideBend(s) => Motion::SideBend(s.other()),
            Motion::Rotation(s) => Motion::Rotation(s.other()),
            m => m,
        }
    }
}

/// Whether `joint` can make `motion`.
pub fn can_move(joint: Joint, motion: Motion) -> bool {
    use Motion::*;
    match joint {
        Joint::Trunk | Joint::LowerBack | Joint::UpperBack | Joint::Neck | Joint::LowerNeck => {
            matches!(motion, Flexion | Extension | SideBend(_) | Rotation(_))
        }
        Joint::UpperNeck | Joint::Elbow | Joint::Knee | Joint::Toes => matches!(motion, Flexion | Extension),
        Joint::ShoulderBlade => matches!(motion, Elevation | Depression | Protraction | Retraction),
        Joint::Shoulder => matches!(
            motion,
            Flexion | Extension | Abduction | Adduction | ExternalRotation | InternalRotation | Elevation
        ),
        Joint::Forearm => matches!(motion, Pronation | Supination),
        Joint::Wrist => matches!(motion, Flexion | Extension | UlnarDeviation | RadialDeviation),
        Joint::Hip => matches!(
            motion,
            Flexion | Extension | Abduction | Adduction | ExternalRotation | InternalRotation
        ),
        Joint::Ankle => matches!(motion, Dorsiflexion | PlantarFlexion | Inversion | Eversion),
    }
}

/// A clinical angle: the joint, its side where there are two, and the motion it is positive to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Angle {
    pub side: Option<Side>,
    pub joint: Joint,
    pub motion: Motion,
}

impl Angle {
    /// `right knee flexion`, `trunk side bend left`.
    pub fn name(self) -> String {
        match self.side {
            Some(s) => format!("{} {} {}", s.word(), self.joint.word(), self.motion.words()),
            None => format!("{} {}", self.joint.word(), self.motion.words()),
        }
    }

    pub fn mirrored(self) -> Angle {
        Angle { side: self.side.map(Side::other), joint: self.joint, motion: self.motion.mirrored() }
    }
}

/// A rigid piece of the body; limbs have one on each side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Segment {
    Pelvis,
    /// The lumbar spine and belly, between pelvis and chest.
    Waist,
    Chest,
    Neck,
    Head,
    /// Shoulder girdle: from the chest's midline to the shoulder joint.
    Girdle(Side),
    UpperArm(Side),
    Forearm(Side),
    Hand(Side),
    Thigh(Side),
    Shank(Side),
    Foot(Side),
    /// Forefoot beyond the metatarsal heads.
    Toes(Side),
}

impl Segment {
    /// `chest`, `right thigh`: for lists and messages to contributors.
    pub fn name(self) -> String {
        let of = |side: Side, word: &str| format!("{} {word}", side.word());
        match self {
            Segment::Pelvis => "pelvis".into(),
            Segment::Waist => "waist".into(),
            Segment::Chest => "chest".into(),
            Segment::Neck => "neck".into(),
            Segment::Head => "head".into(),
            Segment::Girdle(s) => of(s, "shoulder girdle"),
            Segment::UpperArm(s) => of(s, "upper arm"),
            Segment::Forearm(s) => of(s, "forearm"),
            Segment::Hand(s) => of(s, "hand"),
            Segment::Thigh(s) => of(s, "thigh"),
            Segment::Shank(s) => of(s, "shank"),
            Segment::Foot(s) => of(s, "foot"),
            Segment::Toes(s) => of(s, "toes"),
        }
    }
}

/// A region of skin that can touch, be held, or be asked about. Paired ones have a side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Region {
    BackOfHead,
    SideOfHead,
    Forehead,
    Chin,
    /// Shoulder blades.
    UpperBack,
    /// Hollow of the lumbar spine.
    LowerBack,
    /// Upper back, sacrum and back of the head together.
    WholeBack,
    Sacrum,
    Chest,
    Belly,
    /// Front of the pelvis.
    PelvisFront,
    /// Outer side of the hip.
    HipSide,
    /// Outer side of the shoulder.
    ShoulderSide,
    /// Buttock: what one sits on.
    Seat,
    UpperArm,
    Elbow,
    Forearm,
    WristFront,
    /// The whole palm, heel of the hand and fingers.
    Palm,
    BackOfHand,
    Fist,
    Fingertips,
    ThighFront,
    ThighBack,
    KneeFront,
    /// Hollow of the knee.
    KneeBack,
    KneeInner,
    KneeOuter,
    Shin,
    Calf,
    /// Outer ankle bone.
    AnkleOuter,
    AnkleInner,
    /// Top of the foot.
    Instep,
    Heel,
    /// Ball of the foot: heads of the metatarsals.
    Forefoot,
    Toes,
    /// Heel and ball of the foot.
    Sole,
    /// Inner border of the foot.
    FootInner,
    FootOuter,
}

impl Region {
    pub const ALL: [Region; 39] = [
        Region::BackOfHead,
        Region::SideOfHead,
        Region::Forehead,
        Region::Chin,
        Region::UpperBack,
        Region::LowerBack,
        Region::WholeBack,
        Region::Sacrum,
        Region::Chest,
        Region::Belly,
        Region::PelvisFront,
        Region::HipSide,
        Region::ShoulderSide,
        Region::Seat,
        Region::UpperArm,
        Region::Elbow,
        Region::Forearm,
        Region::WristFront,
        Region::Palm,
        Region::BackOfHand,
        Region::Fist,
        Region::Fingertips,
        Region::ThighFront,
        Region::ThighBack,
        Region::KneeFront,
        Region::KneeBack,
        Region::KneeInner,
        Region::KneeOuter,
        Region::Shin,
        Region::Calf,
        Region::AnkleOuter,
        Region::AnkleInner,
        Region::Instep,
        Region::Heel,
        Region::Forefoot,
        Region::Toes,
        Region::Sole,
        Region::FootInner,
        Region::FootOuter,
    ];

    /// Whether there is one on each side of the body.
    pub fn is_paired(self) -> bool {
        !matches!(
            self,
            Region::BackOfHead
                | Region::Forehead
                | Region::Chin
                | Region::UpperBack
                | Region::LowerBack
                | Region::WholeBack
                | Region::Sacrum
                | Region::Chest
                | Region::Belly
                | Region::PelvisFront
        )
    }

    /// The everyday word for it, singular: `sole`, `back of the head`.
    pub fn word(self) -> &'static str {
        match self {
            Region::BackOfHead => "back of the head",
            Region::SideOfHead => "side of the head",
            Region::Forehead => "forehead",
            Region::Chin => "chin",
            Region::UpperBack => "upper back",
            Region::LowerBack => "lower back",
            Region::WholeBack => "back",
            Region::Sacrum => "sacrum",
            Region::Chest => "chest",
            Region::Belly => "belly",
            Region::PelvisFront => "front of the pelvis",
            Region::HipSide => "side of the hip",
            Region::ShoulderSide => "side of the shoulder",
            Region::Seat => "seat",
            Region::UpperArm => "upper arm",
            Region::Elbow => "elbow",
            Region::Forearm => "forearm",
            Region::WristFront => "front of the wrist",
            Region::Palm => "hand",
            Region::BackOfHand => "back of the hand",
            Region::Fist => "fist",
            Region::Fingertips => "fingertips",
            Region::ThighFront => "front of the thigh",
            Region::ThighBack => "back of the thigh",
            Region::KneeFront => "knee",
            Region::KneeBack => "back of the knee",
            Region::KneeInner => "inner knee",
            Region::KneeOuter => "outer knee",
            Region::Shin => "shin",
            Region::Calf => "calf",
            Region::AnkleOuter => "ankle",
            Region::AnkleInner => "inner ankle",
            Region::Instep => "top of the foot",
            Region::Heel => "heel",
            Region::Forefoot => "ball of the foot",
            Region::Toes => "toes",
            Region::Sole => "sole",
            Region::FootInner => "inner edge of the foot",
            Region::FootOuter => "outer edge of the foot",
        }
    }
}
