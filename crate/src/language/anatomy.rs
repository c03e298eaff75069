//! Sides, joints, motions and limbs as they are typed, abbreviations included.

use super::token::{Cursor, Sort, Starts, begins_with};
use crate::body::names::{Joint, Motion, Side};

/// A motion as typed, before the joint says which of its angles is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Moving {
    Plain(Motion),
    /// To which side is said apart, or not at all.
    Rotation,
    SideBend,
    /// Extension past straight.
    Hyperextension,
}

/// Phrases that name a motion, folded, hyphens as spaces. Abbreviations as clinicians in the United Kingdom, Ireland,
/// Australia, India and North America write them; common practice, no source.
pub const MOTIONS: &[(&str, Moving)] = {
    use Motion::*;
    use Moving::{Hyperextension, Plain, Rotation, SideBend};
    &[
        ("external rotation", Plain(ExternalRotation)),
        ("external rotated", Plain(ExternalRotation)),
        ("externally rotated", Plain(ExternalRotation)),
        ("external rot", Plain(ExternalRotation)),
        ("ext rotation", Plain(ExternalRotation)),
        ("ext rotn", Plain(ExternalRotation)),
        ("ext rot", Plain(ExternalRotation)),
        ("extrot", Plain(ExternalRotation)),
        ("lateral rotation", Plain(ExternalRotation)),
        ("laterally rotated", Plain(ExternalRotation)),
        ("lateral rot", Plain(ExternalRotation)),
        ("lat rotation", Plain(ExternalRotation)),
        ("lat rot", Plain(ExternalRotation)),
        ("outward rotation", Plain(ExternalRotation)),
        ("outer rotation", Plain(ExternalRotation)),
        ("rotated outwards", Plain(ExternalRotation)),
        ("rotated outward", Plain(ExternalRotation)),
        ("rotated out", Plain(ExternalRotation)),
        ("er", Plain(ExternalRotation)),
        ("internal rotation", Plain(InternalRotation)),
        ("internally rotated", Plain(InternalRotation)),
        ("internal rot", Plain(InternalRotation)),
        ("int rotation", Plain(InternalRotation)),
        ("int rotn", Plain(InternalRotation)),
        ("int rot", Plain(InternalRotation)),
        ("introt", Plain(InternalRotation)),
        ("medial rotation", Plain(InternalRotation)),
        ("medially rotated", Plain(InternalRotation)),
        ("medial rot", Plain(InternalRotation)),
        ("med rotation", Plain(InternalRotation)),
        ("med rot", Plain(InternalRotation)),
        ("inward rotation", Plain(InternalRotation)),
        ("inner rotation", Plain(InternalRotation)),
        ("rotated inwards", Plain(InternalRotation)),
        ("rotated inward", Plain(InternalRotation)),
        ("rotated in", Plain(InternalRotation)),
        ("ir", Plain(InternalRotation)),
        ("lateral flexion", SideBend),
        ("laterally flexed", SideBend),
        ("lateral flex", SideBend),
        ("lat flexion", SideBend),
        ("lat flex", SideBend),
        ("side flexion", SideBend),
        ("side flexed", SideBend),
        ("side flex", SideBend),
        ("side bending", SideBend),
        ("side bend", SideBend),
        ("side bent", SideBend),
        ("sideflexion", SideBend),
        ("sidebending", SideBend),
        ("sidebend", SideBend),
        ("plantar flexion", Plain(PlantarFlexion)),
        ("plantar flexed", Plain(PlantarFlexion)),
        ("plantar flex", Plain(PlantarFlexion)),
        ("plantarflexion", Plain(PlantarFlexion)),
        ("plantarflexed", Plain(PlantarFlexion)),
        ("plantarflex", Plain(PlantarFlexion)),
        ("pf", Plain(PlantarFlexion)),
        ("dorsi flexion", Plain(Dorsiflexion)),
        ("dorsi flexed", Plain(Dorsiflexion)),
        ("dorsi flex", Plain(Dorsiflexion)),
        ("dorsiflexion", Plain(Dorsiflexion)),
        ("dorsiflexed", Plain(Dorsiflexion)),
        ("dorsiflex", Plain(Dorsiflexion)),
        ("df", Plain(Dorsiflexion)),
        ("ulnar deviation", Plain(UlnarDeviation)),
        ("ulnar dev", Plain(UlnarDeviation)),
        ("ud", Plain(UlnarDeviation)),
        ("radial deviation", Plain(RadialDeviation)),
        ("radial dev", Plain(RadialDeviation)),
        ("rd", Plain(RadialDeviation)),
        ("hyperextension", Hyperextension),
        ("hyper extension", Hyperextension),
        ("hyperextending", Hyperextension),
        ("hyperextended", Hyperextension),
        ("hyperextend", Hyperextension),
        ("hyperext", Hyperextension),
        ("forward bending", Plain(Flexion)),
        ("forward bend", Plain(Flexion)),
        ("flexion", Plain(Flexion)),
        ("flexing", Plain(Flexion)),
        ("flexed", Plain(Flexion)),
        ("flexn", Plain(Flexion)),
        ("flex", Plain(Flexion)),
        ("flx", Plain(Flexion)),
        ("extension", Plain(Extension)),
        ("extending", Plain(Extension)),
        ("extended", Plain(Extension)),
        ("extend", Plain(Extension)),
        ("extn", Plain(Extension)),
        ("ext", Plain(Extension)),
        ("abduction", Plain(Abduction)),
        ("abducting", Plain(Abduction)),
        ("abducted", Plain(Abduction)),
        ("abdn", Plain(Abduction)),
        ("abd", Plain(Abduction)),
        ("adduction", Plain(Adduction)),
        ("adducting", Plain(Adduction)),
        ("adducted", Plain(Adduction)),
        ("addn", Plain(Adduction)),
        ("add", Plain(Adduction)),
        ("elevation", Plain(Elevation)),
        ("elevated", Plain(Elevation)),
        ("elev", Plain(Elevation)),
        ("depression", Plain(Depression)),
        ("depressed", Plain(Depression)),
        ("protraction", Plain(Protraction)),
        ("protracted", Plain(Protraction)),
        ("retraction", Plain(Retraction)),
        ("retracted", Plain(Retraction)),
        ("pronation", Plain(Pronation)),
        ("pronated", Plain(Pronation)),
        ("pron", Plain(Pronation)),
        ("supination", Plain(Supination)),
        ("supinated", Plain(Supination)),
        ("supin", Plain(Supination)),
        ("inversion", Plain(Inversion)),
        ("inverted", Plain(Inversion)),
        ("inv", Plain(Inversion)),
        ("eversion", Plain(Eversion)),
        ("everted", Plain(Eversion)),
        ("ev", Plain(Eversion)),
        ("rotation", Rotation),
        ("rotating", Rotation),
        ("rotated", Rotation),
        ("rotate", Rotation),
        ("rotn", Rotation),
        ("rot", Rotation),
        ("twisting", Rotation),
        ("twisted", Rotation),
        ("twist", Rotation),
    ]
};

/// Plain words for what a patient does, as restrictions use them. Apart from [`MOTIONS`], since poses give them
/// meanings of their own.
const PLAIN_MOTIONS: &[(&str, Moving)] = {
    use Motion::*;
    use Moving::Plain;
    &[
        ("turning out", Plain(ExternalRotation)),
        ("turned out", Plain(ExternalRotation)),
        ("turning in", Plain(InternalRotation)),
        ("turned in", Plain(InternalRotation)),
        ("bending", Plain(Flexion)),
        ("bend", Plain(Flexion)),
        ("bent", Plain(Flexion)),
        ("straightening", Plain(Extension)),
        ("straighten", Plain(Extension)),
    ]
};

/// Phrases that name a joint, in the singular.
const JOINTS: &[(&str, Joint)] = &[
    ("lower back", Joint::LowerBack),
    ("low back", Joint::LowerBack),
    ("lumbar spine", Joint::LowerBack),
    ("l spine", Joint::LowerBack),
    ("lsp", Joint::LowerBack),
    ("lx spine", Joint::LowerBack),
    ("lx", Joint::LowerBack),
    ("lumbar", Joint::LowerBack),
    ("upper back", Joint::UpperBack),
    ("mid back", Joint::UpperBack),
    ("thoracic spine", Joint::UpperBack),
    ("t spine", Joint::UpperBack),
    ("tsp", Joint::UpperBack),
    ("tx spine", Joint::UpperBack),
    ("thoracic", Joint::UpperBack),
    ("cervical spine", Joint::Neck),
    ("c spine", Joint::Neck),
    ("csp", Joint::Neck),
    ("cx spine", Joint::Neck),
    ("cervical", Joint::Neck),
    ("lower neck", Joint::LowerNeck),
    ("upper neck", Joint::UpperNeck),
    ("neck", Joint::Neck),
    ("head", Joint::Neck),
    ("trunk", Joint::Trunk),
    ("spine", Joint::Trunk),
    ("spinal", Joint::Trunk),
    ("back", Joint::Trunk),
    ("torso", Joint::Trunk),
    ("shoulder blade", Joint::ShoulderBlade),
    ("shoulder girdle", Joint::ShoulderBlade),
    ("scapula", Joint::ShoulderBlade),
    ("scapular", Joint::ShoulderBlade),
    ("scap", Joint::ShoulderBlade),
    ("shoulder joint", Joint::Shoulder),
    ("shoulder", Joint::Shoulder),
    ("shldr", Joint::Shoulder),
    ("sh", Joint::Shoulder),
    ("ghj", Joint::Shoulder),
    ("gh", Joint::Shoulder),
    ("glenohumeral", Joint::Shoulder),
    ("arm", Joint::Shoulder),
    ("elbow", Joint::Elbow),
    ("forearm", Joint::Forearm),
    ("wrist", Joint::Wrist),
    ("hip joint", Joint::Hip),
    ("hip", Joint::Hip),
    ("knee joint", Joint::Knee),
    ("knee", Joint::Knee),
    ("ankle joint", Joint::Ankle),
    ("ankle", Joint::Ankle),
    ("talocrural", Joint::Ankle),
    ("big toe", Joint::Toes),
    ("great toe", Joint::Toes),
    ("mtp", Joint::Toes),
    ("mtpj", Joint::Toes),
    ("toe", Joint::Toes),
];

/// A part of a limb as a weight is said of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limb {
    Leg,
    Hip,
    Knee,
    Ankle,
    Foot,
    Arm,
    Shoulder,
    Elbow,
    Wrist,
    Hand,
}

impl Limb {
    pub fn word(self) -> &'static str {
        match self {
            Limb::Leg => "leg",
            Limb::Hip => "hip",
            Limb::Knee => "knee",
            Limb::Ankle => "ankle",
            Limb::Foot => "foot",
            Limb::Arm => "arm",
            Limb::Shoulder => "shoulder",
            Limb::Elbow => "elbow",
            Limb::Wrist => "wrist",
            Limb::Hand => "hand",
        }
    }

    /// Both of them.
    pub fn words(self) -> String {
        match self {
            Limb::Foot => "feet".to_string(),
            other => format!("{}s", other.word()),
        }
    }

    pub fn is_arm(self) -> bool {
        matches!(self, Limb::Arm | Limb::Shoulder | Limb::Elbow | Limb::Wrist | Limb::Hand)
    }
}

const LIMBS: &[(&str, Limb)] = &[
    ("lower extremity", Limb::Leg),
    ("lower limb", Limb::Leg),
    ("le", Limb::Leg),
    ("ll", Limb::Leg),
    ("leg", Limb::Leg),
    ("hip", Limb::Hip),
    ("knee", Limb::Knee),
    ("ankle", Limb::Ankle),
    ("foot", Limb::Foot),
    ("feet", Limb::Foot),
    ("upper extremity", Limb::Arm),
    ("upper limb", Limb::Arm),
    ("ue", Limb::Arm),
    ("ul", Limb::Arm),
    ("arm", Limb::Arm),
    ("shoulder", Limb::Shoulder),
    ("elbow", Limb::Elbow),
    ("forearm", Limb::Arm),
    ("wrist", Limb::Wrist),
    ("hand", Limb::Hand),
];

/// One side at the cursor: `R`, `Rt`, `right`, `L`, `Lt`, `left`. A single letter must stand free: `L3`, `L4/5` and
/// `R2` are no sides.
pub fn side(c: &mut Cursor<'_>) -> Option<Side> {
    let of = |word: Option<&str>| match word? {
        "r" | "rt" | "right" | "rhs" => Some(Side::Right),
        "l" | "lt" | "left" | "lhs" => Some(Side::Left),
        _ => None,
    };
    let mut more = *c;
    let side = of(more.peek_word())?;
    more.at += 1;
    let other_follows = || {
        let next = Cursor { at: more.at + 1, ..more };
        of(next.peek_word()).is_some()
    };
    let stuck = more.peek().is_some_and(|t| {
        !t.spaced
            && match t.sort {
                Sort::Number(_) | Sort::Word(_) => true,
                Sort::Sign(s) => matches!(s, '\'' | '-' | '/') && !other_follows(),
            }
    });
    let own = more.all.get(c.at);
    let before = c.at.checked_sub(1).and_then(|i| more.all.get(i));
    let glued = own.zip(before).is_some_and(|(own, before)| {
        !own.spaced
            && own.end - own.start == 1
            && matches!(before.sort, Sort::Number(_) | Sort::Sign('-' | '\''))
    });
    // Letters joined to a slash are an abbreviation: `s/l`, `c/l`; of `R/L` each is a side.
    let apart = c.at.checked_sub(2).and_then(|i| more.all.get(i));
    let joined = own.zip(before).zip(apart).is_some_and(|((own, before), apart)| {
        !own.spaced
            && !before.spaced
            && own.end - own.start == 1
            && before.sort == Sort::Sign('/')
            && matches!(apart.sort, Sort::Word(w) if w.len() == 1 && of(Some(w)).is_none())
    });
    if joined {
        return None;
    }
    // `3 x 10R`, `week 4R`: the number counts something else.
    let two_before = c.at.checked_sub(2).and_then(|i| more.all.get(i)).map(|t| t.sort);
    let counted =
        matches!(two_before, Some(Sort::Word("x" | "week" | "wk" | "weeks" | "wks") | Sort::Sign('×' | '*')));
    if stuck || glued && !counted {
        return None;
    }
    *c = more;
    Some(side)
}

/// A side and a limb in one word at the cursor: `RLE`, `LUE`; both sides give none: `BLE`.
pub fn sided_limb(c: &mut Cursor<'_>) -> Option<(Option<Side>, Limb)> {
    let word = c.peek_word()?;
    let (side, limb) = word.split_at_checked(1)?;
    let side = match side {
        "r" => Some(Side::Right),
        "l" => Some(Side::Left),
        "b" => None,
        _ => return None,
    };
    let limb = match limb {
        "le" | "ll" => Limb::Leg,
        "ue" | "ul" => Limb::Arm,
        _ => return None,
    };
    c.at += 1;
    Some((side, limb))
}

/// Both sides at the cursor: `both`, `bilateral`, `B/L`, `L+R`, `right and left`.
pub fn both_sides(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let letters = m.word(&["b"]).is_some() && m.sign('/') && m.word(&["l"]).is_some();
    if letters || m.word(&["both", "bilateral", "bilat", "bilaterally"]).is_some() {
        *c = m;
        return true;
    }
    let Some(first) = side(&mut m) else { return false };
    let joined = m.sign('+') || m.sign('&') || m.sign('/') || m.word(&["and"]).is_some();
    let both = joined && side(&mut m).is_some_and(|second| second != first);
    if both {
        *c = m;
    }
    both
}

/// A joint at the cursor, and whether it was in the plural.
pub fn joint(c: &mut Cursor<'_>) -> Option<(Joint, bool)> {
    if c.word(&["scapulae"]).is_some() {
        return Some((Joint::ShoulderBlade, true));
    }
    const STARTS: Starts = Starts::of(JOINTS);
    longest(c, JOINTS, &STARTS, true)
}

/// A motion at the cursor.
pub fn motion(c: &mut Cursor<'_>) -> Option<Moving> {
    const STARTS: [Starts; 2] = [Starts::of(MOTIONS), Starts::of(PLAIN_MOTIONS)];
    let [trade, plain] = &STARTS;
    longest(c, MOTIONS, trade, false)
        .or_else(|| longest(c, PLAIN_MOTIONS, plain, false))
        .map(|(moving, _)| moving)
}

/// A limb at the cursor, and whether it was in the plural.
pub fn limb(c: &mut Cursor<'_>) -> Option<(Limb, bool)> {
    let plural = matches!(c.peek_word(), Some("feet"));
    const STARTS: Starts = Starts::of(LIMBS);
    longest(c, LIMBS, &STARTS, true).map(|(limb, many)| (limb, many || plural))
}

/// The longest phrase that stands at the cursor, its last word in the singular or, where `plurals`, in the plural.
/// Hyphens between words are passed over.
fn longest<T: Copy>(
    c: &mut Cursor<'_>,
    table: &[(&str, T)],
    starts: &Starts,
    plurals: bool,
) -> Option<(T, bool)> {
    let first = c.peek_word().filter(|word| starts.may_be(word))?;
    let mut best: Option<(usize, T, bool)> = None;
    for (phrase, what) in table {
        let begins = begins_with(phrase, first);
        if !(begins || plurals && first.strip_suffix('s') == Some(*phrase)) {
            continue;
        }
        let mut m = *c;
        let mut words = phrase.split(' ').peekable();
        let mut begun = false;
        let mut many = false;
        let fits = loop {
            let Some(word) = words.next() else { break true };
            // `c-spine`, `ext. rot.`
            if begun && !m.sign('-') && m.peek().is_some_and(|t| !t.spaced) {
                m.sign('.');
            }
            begun = true;
            let Some(typed) = m.peek_word() else { break false };
            let plural = plurals && words.peek().is_none() && typed.strip_suffix('s') == Some(word);
            if typed != word && !plural {
                break false;
            }
            many |= plural;
            m.at += 1;
        };
        if fits && best.is_none_or(|(end, ..)| end < m.at) {
            best = Some((m.at, *what, many));
        }
    }
    let (end, what, many) = best?;
    c.at = end;
    Some((what, many))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::token::tokens;
    use crate::text::fold::fold;

    fn read<T>(text: &str, with: fn(&mut Cursor<'_>) -> Option<T>) -> (Option<T>, usize) {
        let folded = fold(text);
        let all = tokens(&folded);
        let mut c = Cursor { all: &all, at: 0 };
        let found = with(&mut c);
        (found, all.len() - c.at)
    }

    #[test]
    fn the_longest_phrase_is_meant() {
        assert_eq!(read("ext rot", motion), (Some(Moving::Plain(Motion::ExternalRotation)), 0));
        assert_eq!(read("ext", motion), (Some(Moving::Plain(Motion::Extension)), 0));
        assert_eq!(read("hyper-extension", motion), (Some(Moving::Hyperextension), 0));
        assert_eq!(read("lower back", joint), (Some((Joint::LowerBack, false)), 0));
        assert_eq!(read("C-spine", joint), (Some((Joint::Neck, false)), 0));
        assert_eq!(read("knees", joint), (Some((Joint::Knee, true)), 0));
        assert_eq!(read("feet", limb), (Some((Limb::Foot, true)), 0));
        assert_eq!(read("UL", limb), (Some((Limb::Arm, false)), 0));
    }

    #[test]
    fn a_spinal_level_is_no_side() {
        for (text, found) in [
            ("L3", None),
            ("L4/5", None),
            ("R2", None),
            ("L", Some(Side::Left)),
            ("Rt knee", Some(Side::Right)),
        ] {
            assert_eq!(read(text, side).0, found, "{text}");
        }
    }
}
