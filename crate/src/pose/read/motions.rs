//! Words for motions, and which joint makes them.

use super::vocabulary::Term;
use super::words::Cursor;
use crate::body::names::{Joint, Motion, Side, can_move};

/// A motion as said, before it is known which joint makes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    Plain(Motion),
    /// `bent`: flexion where nothing else is said, with the amount of a right angle.
    Bent,
    /// `bent sideways to the right`, `leaning`: needs its direction.
    SideBend(Option<Side>),
    Rotation(Option<Side>),
    /// `turned out`: rotation of a limb.
    TurnedOut,
    TurnedIn,
    /// `raised`, `lifted`: by posture.
    Raised,
    /// `horizontal extension`: how far behind the frontal plane a raised arm is; negative in front of it.
    Across {
        back: bool,
    },
    PelvicTiltBack,
    PelvicTiltForward,
}

const WORDS: &[(&str, Said)] = &[
    ("horizontal abduction", Said::Across { back: true }),
    ("horizontally abducted", Said::Across { back: true }),
    ("horizontal extension", Said::Across { back: true }),
    ("horizontally extended", Said::Across { back: true }),
    ("horizontal adduction", Said::Across { back: false }),
    ("horizontally adducted", Said::Across { back: false }),
    ("horizontal flexion", Said::Across { back: false }),
    ("horizontally flexed", Said::Across { back: false }),
    ("posterior tilt", Said::PelvicTiltBack),
    ("anterior tilt", Said::PelvicTiltForward),
    ("tilted back", Said::PelvicTiltBack),
    ("tilted backwards", Said::PelvicTiltBack),
    ("tilted forward", Said::PelvicTiltForward),
    ("tilted forwards", Said::PelvicTiltForward),
    ("tucked", Said::PelvicTiltBack),
    ("external rotation", Said::Plain(Motion::ExternalRotation)),
    ("external rotated", Said::Plain(Motion::ExternalRotation)),
    ("externally rotated", Said::Plain(Motion::ExternalRotation)),
    ("lateral rotation", Said::Plain(Motion::ExternalRotation)),
    ("laterally rotated", Said::Plain(Motion::ExternalRotation)),
    ("outward rotation", Said::Plain(Motion::ExternalRotation)),
    ("outer rotation", Said::Plain(Motion::ExternalRotation)),
    ("rotated outwards", Said::Plain(Motion::ExternalRotation)),
    ("rotated outward", Said::Plain(Motion::ExternalRotation)),
    ("rotated out", Said::Plain(Motion::ExternalRotation)),
    ("internal rotation", Said::Plain(Motion::InternalRotation)),
    ("internally rotated", Said::Plain(Motion::InternalRotation)),
    ("medial rotation", Said::Plain(Motion::InternalRotation)),
    ("medially rotated", Said::Plain(Motion::InternalRotation)),
    ("inward rotation", Said::Plain(Motion::InternalRotation)),
    ("inner rotation", Said::Plain(Motion::InternalRotation)),
    ("rotated inwards", Said::Plain(Motion::InternalRotation)),
    ("rotated inward", Said::Plain(Motion::InternalRotation)),
    ("rotated in", Said::Plain(Motion::InternalRotation)),
    ("turned outwards", Said::TurnedOut),
    ("turned outward", Said::TurnedOut),
    ("turned out", Said::TurnedOut),
    ("turning out", Said::TurnedOut),
    ("turned inwards", Said::TurnedIn),
    ("turned inward", Said::TurnedIn),
    ("turned in", Said::TurnedIn),
    ("turning in", Said::TurnedIn),
    ("lateral flexion", Said::SideBend(None)),
    ("laterally flexed", Said::SideBend(None)),
    ("side flexion", Said::SideBend(None)),
    ("side flexed", Said::SideBend(None)),
    ("side bending", Said::SideBend(None)),
    ("side bend", Said::SideBend(None)),
    ("side bent", Said::SideBend(None)),
    ("sidebend", Said::SideBend(None)),
    ("bent sideways", Said::SideBend(None)),
    ("tilted", Said::SideBend(None)),
    ("tilt", Said::SideBend(None)),
    ("bent forward", Said::Plain(Motion::Flexion)),
    ("bent forwards", Said::Plain(Motion::Flexion)),
    ("bent backwards", Said::Plain(Motion::Extension)),
    ("bent back", Said::Plain(Motion::Extension)),
    ("bent to right", Said::SideBend(Some(Side::Right))),
    ("bent to left", Said::SideBend(Some(Side::Left))),
    ("bent right", Said::SideBend(Some(Side::Right))),
    ("bent left", Said::SideBend(Some(Side::Left))),
    ("bent up", Said::Plain(Motion::Dorsiflexion)),
    ("pulled up", Said::Plain(Motion::Dorsiflexion)),
    ("plantar flexion", Said::Plain(Motion::PlantarFlexion)),
    ("plantar flexed", Said::Plain(Motion::PlantarFlexion)),
    ("plantarflexion", Said::Plain(Motion::PlantarFlexion)),
    ("plantarflexed", Said::Plain(Motion::PlantarFlexion)),
    ("pointed down", Said::Plain(Motion::PlantarFlexion)),
    ("pointed", Said::Plain(Motion::PlantarFlexion)),
    ("dorsi flexion", Said::Plain(Motion::Dorsiflexion)),
    ("dorsiflexion", Said::Plain(Motion::Dorsiflexion)),
    ("dorsiflexed", Said::Plain(Motion::Dorsiflexion)),
    ("ulnar deviation", Said::Plain(Motion::UlnarDeviation)),
    ("radial deviation", Said::Plain(Motion::RadialDeviation)),
    ("hyperextension", Said::Plain(Motion::Extension)),
    ("flexion", Said::Plain(Motion::Flexion)),
    ("flexed", Said::Plain(Motion::Flexion)),
    ("flex", Said::Plain(Motion::Flexion)),
    ("bending", Said::Bent),
    ("bends", Said::Bent),
    ("bend", Said::Bent),
    ("bent", Said::Bent),
    ("extension", Said::Plain(Motion::Extension)),
    ("extended", Said::Plain(Motion::Extension)),
    ("extend", Said::Plain(Motion::Extension)),
    ("abduction", Said::Plain(Motion::Abduction)),
    ("abducted", Said::Plain(Motion::Abduction)),
    ("out to side", Said::Plain(Motion::Abduction)),
    ("out to sides", Said::Plain(Motion::Abduction)),
    ("out sideways", Said::Plain(Motion::Abduction)),
    ("to side", Said::Plain(Motion::Abduction)),
    ("sideways", Said::Plain(Motion::Abduction)),
    ("adduction", Said::Plain(Motion::Adduction)),
    ("adducted", Said::Plain(Motion::Adduction)),
    ("elevation", Said::Plain(Motion::Elevation)),
    ("elevated", Said::Plain(Motion::Elevation)),
    ("shrugged", Said::Plain(Motion::Elevation)),
    ("shrug", Said::Plain(Motion::Elevation)),
    ("depression", Said::Plain(Motion::Depression)),
    ("depressed", Said::Plain(Motion::Depression)),
    ("protraction", Said::Plain(Motion::Protraction)),
    ("protracted", Said::Plain(Motion::Protraction)),
    ("retraction", Said::Plain(Motion::Retraction)),
    ("retracted", Said::Plain(Motion::Retraction)),
    ("pronation", Said::Plain(Motion::Pronation)),
    ("pronated", Said::Plain(Motion::Pronation)),
    ("supination", Said::Plain(Motion::Supination)),
    ("supinated", Said::Plain(Motion::Supination)),
    ("inversion", Said::Plain(Motion::Inversion)),
    ("inverted", Said::Plain(Motion::Inversion)),
    ("eversion", Said::Plain(Motion::Eversion)),
    ("everted", Said::Plain(Motion::Eversion)),
    ("raised forward", Said::Plain(Motion::Flexion)),
    ("lifted forward", Said::Plain(Motion::Flexion)),
    ("raised to side", Said::Plain(Motion::Abduction)),
    ("lifted to side", Said::Plain(Motion::Abduction)),
    ("raised sideways", Said::Plain(Motion::Abduction)),
    ("lifted sideways", Said::Plain(Motion::Abduction)),
    ("lifted back", Said::Plain(Motion::Extension)),
    ("raised", Said::Raised),
    ("raise", Said::Raised),
    ("lifted", Said::Raised),
    ("lift", Said::Raised),
    ("rotation", Said::Rotation(None)),
    ("rotated", Said::Rotation(None)),
    ("rotate", Said::Rotation(None)),
    ("turned", Said::Rotation(None)),
    ("turning", Said::Rotation(None)),
    ("turn", Said::Rotation(None)),
    ("twisted", Said::Rotation(None)),
    ("twist", Said::Rotation(None)),
    ("er", Said::Plain(Motion::ExternalRotation)),
    ("ir", Said::Plain(Motion::InternalRotation)),
];

/// The words that name motions, for the nearest one.
pub fn vocabulary() -> impl Iterator<Item = &'static str> {
    WORDS.iter().map(|(w, _)| *w)
}

/// A motion at the cursor; the longest of those that stand there.
pub fn motion(cursor: &mut Cursor) -> Option<Said> {
    let mut best: Option<(usize, Said)> = None;
    let start = cursor.at;
    for (phrase, said) in WORDS {
        cursor.at = start;
        if cursor.eat(phrase) && best.is_none_or(|(end, _)| end < cursor.at) {
            best = Some((cursor.at, *said));
        }
    }
    cursor.at = best.map_or(start, |(end, _)| end);
    best.map(|(_, said)| said)
}

/// `right`, `to the left`, `towards right`, `right side`.
pub fn towards(cursor: &mut Cursor) -> Option<Side> {
    let start = cursor.at;
    let _ = cursor.eat_any(&["towards", "toward", "to", "over to", "on"]);
    let side = match cursor.word(0) {
        "right" => Side::Right,
        "left" => Side::Left,
        _ => {
            cursor.at = start;
            return None;
        }
    };
    cursor.at += 1;
    let _ = cursor.eat("side");
    Some(side)
}

/// The joint that makes the motion when these words are said of that part: `foot dorsiflexion` is the
/// ankle's, `elbow pronation` the forearm's, `shoulder retraction` the shoulder blade's.
pub fn joint_of(term: &Term, joint: Joint, motion: Motion) -> Joint {
    use Motion::*;
    let other = match (joint, motion) {
        (Joint::Shoulder, Depression | Protraction | Retraction) => Joint::ShoulderBlade,
        (Joint::ShoulderBlade, Flexion | Extension | Abduction | Adduction) => Joint::Shoulder,
        (Joint::Elbow | Joint::Wrist, Pronation | Supination) => Joint::Forearm,
        (Joint::Forearm, Flexion | Extension) => Joint::Elbow,
        (Joint::UpperNeck, SideBend(_) | Rotation(_)) => Joint::Neck,
        (Joint::Knee, Abduction | Adduction | ExternalRotation | InternalRotation)
            if term.word() != "knee" && term.word() != "shin" && term.word() != "lower leg" =>
        {
            Joint::Hip
        }
        _ => joint,
    };
    if can_move(other, motion) { other } else { joint }
}

/// What a joint can do, in words, for a sentence: `flexion or extension`.
pub fn can_do(joint: Joint) -> String {
    use Motion::*;
    let all = [
        Flexion,
        Extension,
        Abduction,
        Adduction,
        ExternalRotation,
        InternalRotation,
        Elevation,
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
        SideBend(Side::Right),
        Rotation(Side::Right),
    ];
    let words: Vec<&str> = all
        .into_iter()
        .filter(|m| can_move(joint, *m))
        .map(|m| match m {
            SideBend(_) => "side bend",
            Rotation(_) => "rotation",
            m => m.words(),
        })
        .collect();
    match words.split_last() {
        Some((last, [])) => (*last).to_string(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}
