//! Words for motions, and which joint makes them.

use super::vocabulary::Term;
use super::words::Cursor;
use crate::body::names::{Joint, Motion, Side, can_move};
use crate::language::anatomy::{MOTIONS, Moving};

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

/// Words that poses use beside those of the trade ([`MOTIONS`]).
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
    ("turned outwards", Said::TurnedOut),
    ("turned outward", Said::TurnedOut),
    ("turned out", Said::TurnedOut),
    ("turning out", Said::TurnedOut),
    ("turned inwards", Said::TurnedIn),
    ("turned inward", Said::TurnedIn),
    ("turned in", Said::TurnedIn),
    ("turning in", Said::TurnedIn),
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
    ("pointed down", Said::Plain(Motion::PlantarFlexion)),
    ("pointed", Said::Plain(Motion::PlantarFlexion)),
    ("bending", Said::Bent),
    ("bends", Said::Bent),
    ("bend", Said::Bent),
    ("bent", Said::Bent),
    ("out to side", Said::Plain(Motion::Abduction)),
    ("out to sides", Said::Plain(Motion::Abduction)),
    ("out sideways", Said::Plain(Motion::Abduction)),
    ("to side", Said::Plain(Motion::Abduction)),
    ("sideways", Said::Plain(Motion::Abduction)),
    ("shrugged", Said::Plain(Motion::Elevation)),
    ("shrug", Said::Plain(Motion::Elevation)),
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
    ("turned", Said::Rotation(None)),
    ("turning", Said::Rotation(None)),
    ("turn", Said::Rotation(None)),
];

/// The words that name motions, for the nearest one.
pub fn vocabulary() -> impl Iterator<Item = &'static str> {
    all().map(|(w, _)| w)
}

fn all() -> impl Iterator<Item = (&'static str, Said)> {
    let trade = MOTIONS.iter().map(|(words, moving)| {
        let said = match moving {
            Moving::Plain(motion) => Said::Plain(*motion),
            Moving::Hyperextension => Said::Plain(Motion::Extension),
            Moving::Rotation => Said::Rotation(None),
            Moving::SideBend => Said::SideBend(None),
        };
        (*words, said)
    });
    WORDS.iter().copied().chain(trade)
}

/// A motion at the cursor; the longest of those that stand there.
pub fn motion(cursor: &mut Cursor) -> Option<Said> {
    let mut best: Option<(usize, Said)> = None;
    let start = cursor.at;
    for (phrase, said) in all() {
        cursor.at = start;
        if cursor.eat(phrase) && best.is_none_or(|(end, _)| end < cursor.at) {
            best = Some((cursor.at, said));
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
