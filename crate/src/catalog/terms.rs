//! The closed lists of words that an exercise's fields take, each with its spellings.

use crate::text::fold::folded;
use crate::text::near::nearest;

/// A closed list of words. The first spelling is the one that is written.
pub trait Term: Copy + PartialEq + Sized + 'static {
    const ALL: &'static [(Self, &'static [&'static str])];

    /// By any of its spellings, case and hyphens aside.
    fn of(words: &str) -> Option<Self> {
        let plain = |s: &str| folded(s).replace('-', " ");
        let words = plain(words);
        Self::ALL.iter().find(|(_, all)| all.iter().any(|w| plain(w) == words)).map(|(term, _)| *term)
    }

    fn word(self) -> &'static str {
        Self::ALL.iter().find(|(t, _)| *t == self).and_then(|(_, all)| all.first()).copied().unwrap_or("")
    }

    /// All of them, as written.
    fn words() -> Vec<&'static str> {
        Self::ALL.iter().filter_map(|(_, all)| all.first().copied()).collect()
    }

    fn near(words: &str) -> Option<&'static str> {
        match nearest(words, Self::ALL.iter().flat_map(|(_, all)| all.iter().copied())).as_slice() {
            [one] => Some(one),
            _ => None,
        }
    }
}

/// What an exercise is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Purpose {
    Loosen,
    WakeUp,
    Strengthen,
    Steady,
    Stretch,
    Support,
    Advise,
}

impl Term for Purpose {
    const ALL: &'static [(Purpose, &'static [&'static str])] = &[
        (Purpose::Loosen, &["loosen", "mobilise", "mobility"]),
        (Purpose::WakeUp, &["wake up", "activate"]),
        (Purpose::Strengthen, &["strengthen", "strength"]),
        (Purpose::Steady, &["steady", "balance"]),
        (Purpose::Stretch, &["stretch"]),
        (Purpose::Support, &["support"]),
        (Purpose::Advise, &["advise", "advice"]),
    ];
}

/// The part of the body it is filed under.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Region {
    Neck,
    Shoulder,
    Elbow,
    Wrist,
    Trunk,
    Pelvis,
    Hip,
    Knee,
    Ankle,
    Whole,
}

impl Term for Region {
    const ALL: &'static [(Region, &'static [&'static str])] = &[
        (Region::Neck, &["neck", "cervical spine"]),
        (Region::Shoulder, &["shoulder"]),
        (Region::Elbow, &["elbow"]),
        (Region::Wrist, &["wrist", "hand", "wrist and hand"]),
        (Region::Trunk, &["trunk", "back", "lower back", "low back"]),
        (Region::Pelvis, &["pelvis", "pelvic floor"]),
        (Region::Hip, &["hip"]),
        (Region::Knee, &["knee"]),
        (Region::Ankle, &["ankle", "foot", "ankle and foot"]),
        (Region::Whole, &["whole body", "body", "general"]),
    ];
}

/// How the sides of a body come in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sides {
    /// One side, or one after the other.
    Each,
    /// Both at once.
    Together,
    /// One repetition on one side, the next on the other.
    Alternate,
    /// There are no sides.
    None,
}

impl Term for Sides {
    const ALL: &'static [(Sides, &'static [&'static str])] = &[
        (Sides::Each, &["each", "each side", "one"]),
        (Sides::Together, &["together", "both"]),
        (Sides::Alternate, &["alternate", "alternating"]),
        (Sides::None, &["none"]),
    ];
}

/// The position that the patient is in, in words for the patient.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Position {
    LyingOnBack,
    LyingOnFront,
    LyingOnSide,
    HandsAndKnees,
    Kneeling,
    HalfKneeling,
    SittingOnFloor,
    Sitting,
    Standing,
    Walking,
    Any,
}

impl Term for Position {
    const ALL: &'static [(Position, &'static [&'static str])] = &[
        (Position::LyingOnBack, &["lying on back", "supine", "crook lying"]),
        (Position::LyingOnFront, &["lying on front", "prone"]),
        (Position::LyingOnSide, &["lying on side", "side-lying"]),
        (
            Position::HandsAndKnees,
            &["hands and knees", "four-point kneeling", "on hands and knees", "all fours"],
        ),
        (Position::Kneeling, &["kneeling", "high kneeling", "tall kneeling"]),
        (Position::HalfKneeling, &["half-kneeling"]),
        (Position::SittingOnFloor, &["sitting on floor", "long sitting"]),
        (Position::Sitting, &["sitting", "seated"]),
        (Position::Standing, &["standing"]),
        (Position::Walking, &["walking"]),
        (Position::Any, &["any"]),
    ];
}

impl Position {
    /// Whether one gets down for it: lying, kneeling, sitting on the floor.
    pub fn is_on_floor(self) -> bool {
        !matches!(self, Position::Sitting | Position::Standing | Position::Walking | Position::Any)
    }
}

/// Things that an exercise needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kit {
    Chair,
    Wall,
    Step,
    Stairs,
    Table,
    Worktop,
    Rail,
    Door,
    Bed,
    Bench,
    Sofa,
    Mat,
    Pillow,
    Towel,
    Strap,
    Stick,
    Ball,
    Roller,
    LoopBand,
    LongBand,
    Dumbbell,
    AnkleWeight,
    Belt,
    Frame,
    GelPack,
    HotWaterBottle,
    Brace,
}

impl Term for Kit {
    const ALL: &'static [(Kit, &'static [&'static str])] = &[
        (Kit::Chair, &["chair", "chairs", "stool"]),
        (Kit::Wall, &["wall"]),
        (Kit::Step, &["step", "bottom stair"]),
        (Kit::Stairs, &["stairs"]),
        (Kit::Table, &["table", "desk"]),
        (Kit::Worktop, &["worktop", "kitchen worktop", "counter"]),
        (Kit::Rail, &["rail", "banister"]),
        (Kit::Door, &["door", "doorway"]),
        (Kit::Bed, &["bed"]),
        (Kit::Bench, &["bench"]),
        (Kit::Sofa, &["sofa", "settee"]),
        (Kit::Mat, &["mat", "exercise mat"]),
        (Kit::Pillow, &["pillow", "cushion", "pillows"]),
        (Kit::Towel, &["towel"]),
        (Kit::Strap, &["strap"]),
        (Kit::Stick, &["stick", "broom handle"]),
        (Kit::Ball, &["ball"]),
        (Kit::Roller, &["roller", "foam roller"]),
        (Kit::LoopBand, &["loop band", "loop"]),
        (Kit::LongBand, &["long band", "band", "resistance band"]),
        (Kit::Dumbbell, &["dumbbell", "dumbbells", "hand weight", "hand weights", "weight", "weights"]),
        (Kit::AnkleWeight, &["ankle weight", "ankle weights"]),
        (Kit::Belt, &["belt", "pelvic belt"]),
        (Kit::Frame, &["frame", "walking frame"]),
        (Kit::GelPack, &["gel pack", "frozen peas"]),
        (Kit::HotWaterBottle, &["hot water bottle", "wheat bag"]),
        (Kit::Brace, &["brace", "splint"]),
    ];
}

/// Groups of muscles that recover together; words for clinicians, which the patient's sheet leaves out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Muscle {
    FrontOfNeck,
    BackOfNeck,
    ShoulderBlades,
    RotatorCuff,
    Shoulders,
    Chest,
    UpperBack,
    Biceps,
    Triceps,
    Forearms,
    Tummy,
    SideOfWaist,
    LowerBack,
    PelvicFloor,
    HipFlexors,
    Buttocks,
    SideOfHip,
    FrontOfThigh,
    Hamstrings,
    InnerThigh,
    Calf,
    Shin,
    Foot,
}

impl Term for Muscle {
    const ALL: &'static [(Muscle, &'static [&'static str])] = &[
        (Muscle::FrontOfNeck, &["front of neck", "deep neck muscles", "neck flexors"]),
        (Muscle::BackOfNeck, &["back of neck", "neck extensors"]),
        (Muscle::ShoulderBlades, &["shoulder blades", "between shoulder blades", "shoulder blade muscles"]),
        (Muscle::RotatorCuff, &["rotator cuff"]),
        (Muscle::Shoulders, &["shoulder", "shoulders", "deltoid"]),
        (Muscle::Chest, &["chest", "pectorals"]),
        (Muscle::UpperBack, &["upper back"]),
        (Muscle::Biceps, &["biceps", "front of upper arm"]),
        (Muscle::Triceps, &["triceps", "back of upper arm"]),
        (Muscle::Forearms, &["forearm", "forearms"]),
        (Muscle::Tummy, &["tummy", "abdominals", "tummy muscles", "core"]),
        (Muscle::SideOfWaist, &["side of waist", "obliques"]),
        (Muscle::LowerBack, &["lower back", "back", "back muscles", "back extensors"]),
        (Muscle::PelvicFloor, &["pelvic floor"]),
        (Muscle::HipFlexors, &["front of hip", "hip flexors"]),
        (Muscle::Buttocks, &["buttocks", "buttock", "glutes"]),
        (Muscle::SideOfHip, &["side of hip", "outer hip", "hip abductors"]),
        (Muscle::FrontOfThigh, &["front of thigh", "quadriceps", "quads", "front of thighs"]),
        (Muscle::Hamstrings, &["hamstrings", "back of thigh"]),
        (Muscle::InnerThigh, &["inner thigh", "adductors"]),
        (Muscle::Calf, &["calf", "calves", "calf muscles"]),
        (Muscle::Shin, &["shin", "shin muscles"]),
        (Muscle::Foot, &["arch of foot", "foot", "foot muscles"]),
    ];
}

/// The kinds of doing, by their words.
pub const KINDS: [(crate::dose::Kind, &str); 6] = [
    (crate::dose::Kind::Repeated, "repeated"),
    (crate::dose::Kind::Held, "held"),
    (crate::dose::Kind::Timed, "timed"),
    (crate::dose::Kind::Continuous, "continuous"),
    (crate::dose::Kind::Worn, "worn"),
    (crate::dose::Kind::Advice, "advice"),
];
