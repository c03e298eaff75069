//! What is said of joints and weights keeps its direction, its limb and its number, however it is said.

use layfigure::body::names::{Joint, Motion, Side, can_move};
use layfigure::prescription::limit::{Unit, Weight};
use layfigure::prescription::{Prescription, read};

/// What a restriction must become.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Meant {
    AtMost,
    AtLeast,
    /// Both readings are met, or none makes sense: nothing is computed, the words are printed, the clinician is told.
    Asked,
}

/// Words before a number, what they mean by themselves, and what they mean behind "no" or "avoid". From the trade's
/// use of the words (DESIGN 5.2), written before any of it was run.
const COMPARED: [(&str, Meant, Meant); 19] = [
    ("at most", Meant::AtMost, Meant::Asked),
    ("<=", Meant::AtMost, Meant::Asked),
    ("≤", Meant::AtMost, Meant::Asked),
    ("max", Meant::AtMost, Meant::Asked),
    ("up to", Meant::AtMost, Meant::Asked),
    ("no more than", Meant::AtMost, Meant::Asked),
    ("not past", Meant::AtMost, Meant::Asked),
    ("not beyond", Meant::AtMost, Meant::Asked),
    ("<", Meant::AtMost, Meant::AtLeast),
    ("under", Meant::AtMost, Meant::AtLeast),
    ("below", Meant::AtMost, Meant::AtLeast),
    ("at least", Meant::AtLeast, Meant::Asked),
    ("min", Meant::AtLeast, Meant::Asked),
    (">=", Meant::AtLeast, Meant::AtMost),
    (">", Meant::Asked, Meant::AtMost),
    ("past", Meant::Asked, Meant::AtMost),
    ("beyond", Meant::Asked, Meant::AtMost),
    ("over", Meant::Asked, Meant::AtMost),
    ("more than", Meant::Asked, Meant::AtMost),
];

fn motions(joint: Joint) -> impl Iterator<Item = Motion> {
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
        SideBend(Side::Left),
        Rotation(Side::Right),
    ];
    all.into_iter().filter(move |motion| can_move(joint, *motion))
}

fn held(typed: &str, meant: Meant, name: &str, n: i16) {
    let (p, notices) = read(typed);
    let bounds: Vec<_> = p.limits.iter().map(|l| (l.angle.name(), l.low, l.high)).collect();
    assert!(p.exercises.is_empty(), "{typed} became an exercise");
    match meant {
        Meant::AtMost => assert_eq!(bounds, [(name.to_string(), None, Some(n))], "{typed}"),
        Meant::AtLeast => assert_eq!(bounds, [(name.to_string(), Some(n), None)], "{typed}"),
        Meant::Asked => {
            assert_eq!(bounds, [], "{typed}");
            assert!(!notices.is_empty(), "{typed} is not told");
            assert!(printed(&p, typed), "{typed} is printed nowhere");
        }
    }
}

/// Whether the words stand on the sheet as typed.
fn printed(p: &Prescription, typed: &str) -> bool {
    let words = typed.split_once(": ").map_or(typed, |(_, words)| words);
    p.unread.iter().any(|u| u.safety && u.said.text.contains(words))
        || p.stated.iter().any(|s| s.said.text.contains(words))
        || p.avoid.iter().any(|s| s.text.contains(words))
}

#[test]
fn no_comparator_is_turned_round_on_any_joint() {
    let mut tried = 0;
    for joint in Joint::ALL {
        for motion in motions(joint) {
            for side in if joint.is_paired() { &["right ", "left "][..] } else { &[""][..] } {
                let name = format!("{side}{} {}", joint.word(), motion.words());
                // A knee or an elbow that may extend by twenty is past straight or short of it: asked.
                let hinge = matches!(joint, Joint::Knee | Joint::Elbow) && motion == Motion::Extension;
                for (compared, alone, denied) in COMPARED {
                    for n in [-10, 0, 20, 90] {
                        let unsure = |meant| {
                            if hinge && 15 < n && meant == Meant::AtMost { Meant::Asked } else { meant }
                        };
                        let (alone, denied) = (unsure(alone), unsure(denied));
                        held(&format!("limit: {name} {compared} {n}"), alone, &name, n);
                        held(&format!("limit: no {name} {compared} {n}"), denied, &name, n);
                        held(&format!("limit: avoid {name} {compared} {n}"), denied, &name, n);
                        held(&format!("No {name} {compared} {n}"), denied, &name, n);
                        held(
                            &format!("do not take {name} {compared} {n}").replace("take ", ""),
                            denied,
                            &name,
                            n,
                        );
                        tried += 5;
                    }
                }
            }
        }
    }
    assert!(20_000 < tried, "{tried}");
}

#[test]
fn a_forbidden_arc_and_a_number_on_both_sides_are_asked() {
    for typed in [
        "limit: no left shoulder abduction 60-120",
        "limit: right hip flexion max 90 min 20",
        "limit: no right hip internal rotation or flexion past 90",
        "limit: no full right knee flexion",
        "limit: right hip flexion max 90 not with adduction",
    ] {
        let (p, notices) = read(typed);
        assert_eq!(p.limits, [], "{typed}");
        assert!(!notices.is_empty() && printed(&p, typed), "{typed}");
    }
}

#[test]
fn a_denial_runs_on_until_a_part_says_how_far() {
    let bounds = |typed: &str| -> Vec<String> {
        let limits = read(typed).0.limits;
        limits.iter().map(|l| format!("{} {:?} {:?}", l.angle.name(), l.low, l.high)).collect()
    };
    assert_eq!(
        bounds("limit: no right hip flexion > 90, adduction past midline, internal rotation past neutral"),
        [
            "right hip flexion None Some(90)",
            "right hip adduction None Some(0)",
            "right hip internal rotation None Some(0)"
        ]
    );
    assert_eq!(
        bounds("limit: no right hip flexion past 90, abduction at most 30"),
        ["right hip flexion None Some(90)", "right hip abduction None Some(30)"]
    );
    assert_eq!(bounds("No hyperextension R knee"), ["right knee extension None Some(0)"]);
    assert_eq!(bounds("limit: lumbar flexion nil"), ["lower back flexion None Some(0)"]);
    assert_eq!(
        bounds("avoid: left shoulder ER > 30, kneeling"),
        ["left shoulder external rotation None Some(30)"]
    );
    assert_eq!(bounds("limit: elbow flex no more than 90 (L)"), ["left elbow flexion None Some(90)"]);
}

#[test]
fn the_limb_that_is_typed_bears_the_limit() {
    for (typed, limb, weight) in [
        ("weight: left arm, NWB", "arm", Weight::None),
        ("weight: left wrist NWB", "wrist", Weight::None),
        ("NWB L UL 6/52", "arm", Weight::None),
        ("weight: left hand, PWB 5 kg", "hand", Weight::Amount { low: None, high: 5, unit: Unit::Kilograms }),
        ("weight: left foot, 50 %", "foot", Weight::Amount { low: None, high: 50, unit: Unit::Percent }),
        ("weight: left, NWB", "leg", Weight::None),
        ("left leg non weight bearing until 20 Dec 2026", "leg", Weight::None),
        ("weight: left leg no > 20 kg", "leg", Weight::Amount { low: None, high: 20, unit: Unit::Kilograms }),
        ("weight: left elbow, no weight", "elbow", Weight::None),
    ] {
        let p = read(typed).0;
        let found: Vec<_> = p.bearing.iter().map(|b| (b.side, b.limb.word(), b.weight)).collect();
        assert_eq!(found, [(Some(Side::Left), limb, weight)], "{typed}");
        assert!(p.exercises.is_empty(), "{typed}");
    }
}

#[test]
fn a_plain_restriction_is_no_exercise_and_stays_word_for_word() {
    for typed in [
        "No lifting > 2kg",
        "Hip precautions 12/52",
        "Don't kneel",
        "no driving",
        "nil overhead",
        "must not cross legs",
        "never sleep on the right side",
        "nothing heavier than a kettle",
        "not to twist",
        "Sternal precautions until review",
        "avoid sitting > 30 min",
    ] {
        let (p, notices) = read(typed);
        assert!(p.exercises.is_empty(), "{typed} became an exercise");
        assert!(p.stated.iter().any(|s| s.said.text == typed) && !notices.is_empty(), "{typed}");
    }
}

#[test]
fn what_was_found_or_not_found_is_the_clinicians() {
    for typed in ["no red flags", "nil neuro deficit", "No swelling", "no pain at night", "not painful"] {
        let p = read(typed).0;
        assert!(p.exercises.is_empty() && p.stated.is_empty() && p.unread.is_empty(), "{typed}");
        assert_eq!(p.findings.len(), 1, "{typed}");
    }
}

/// What is worn is a rule to keep to, and the patient reads no shorthand.
#[test]
fn shorthand_of_plain_lines_is_written_out_for_the_patient() {
    for (line, shown) in [
        ("sling nocte", "sling at night"),
        ("boot L nocte 2/52", "boot LEFT at night for 2 weeks"),
        ("no gripping with R hand", "no gripping with RIGHT hand"),
        ("No R/V of L4/5", "No R/V of L4/5"),
    ] {
        let (p, _) = read(line);
        let all: Vec<&str> = p.stated.iter().map(|s| s.shown.as_str()).collect();
        assert_eq!(all, [shown], "{line}");
        assert_eq!(p.stated[0].said.text, line);
        assert!(p.exercises.is_empty(), "{line}");
    }
}

/// However a restriction or a rule begins, it is no exercise.
#[test]
fn nothing_that_restricts_becomes_an_exercise() {
    use layfigure::language::restraint::Plain;
    for (line, kind) in [
        ("max 3 lb R arm", Plain::Restriction),
        ("under 5 kg for 6/52", Plain::Restriction),
        ("weight limit 2 kg", Plain::Restriction),
        ("R arm max 1 kg until 6/52 post op", Plain::Restriction),
        ("lifting < 3 kg both hands", Plain::Restriction),
        ("L arm max 2 kg until 6/52 post op, then as able", Plain::Restriction),
        ("carry up to 4 lb only", Plain::Restriction),
        ("absolutely no running", Plain::Restriction),
        ("swimming: not until the wound is dry", Plain::Restriction),
        ("bath: no soaking", Plain::Restriction),
        ("still no driving", Plain::Restriction),
        ("must wear the collar in the car", Plain::Order),
        ("should keep L foot raised", Plain::Order),
        ("passive only L elbow 3/52", Plain::Order),
        ("isometrics only R wrist", Plain::Order),
    ] {
        let (p, _) = read(line);
        let kinds: Vec<Plain> = p.stated.iter().map(|s| s.kind).collect();
        assert!(p.exercises.is_empty(), "{line}");
        assert_eq!(kinds, [kind], "{line}");
        assert_eq!(layfigure::prescription::print(&p).trim(), line);
    }
    for line in ["R hand: keep it raised", "L hand: nothing hot", "left knee: sore", "shoulders"] {
        assert!(read(line).0.exercises.is_empty(), "{line}");
    }
    // A load that work is done with belongs to it.
    for line in ["biceps curl R max 3 kg 2x10", "farmer's walk up to 8 kg, 2 min"] {
        assert_eq!(read(line).0.exercises.len(), 1, "{line}");
    }
    // What is dosed is an exercise, whatever its name.
    assert_eq!(read("shoulders 3x10").0.exercises.len(), 1);
    let b = read("PWB L 25 kg").0.bearing;
    assert_eq!(
        b.iter().map(|b| (b.side, b.weight)).collect::<Vec<_>>(),
        [(Some(Side::Left), Weight::Amount { low: None, high: 25, unit: Unit::Kilograms })]
    );
    let b = read("Right wrist - no weight bearing 6/52").0.bearing;
    assert_eq!(b.iter().map(|b| b.words.as_str()).collect::<Vec<_>>(), [""]);
}

/// A line that stands on the sheet in its own words stands on the phone in the same, and makes no link impossible.
#[test]
fn what_is_told_in_plain_words_travels() {
    use layfigure::programme::settled::Cache;
    let mut cache = Cache::default();
    for line in [
        "sleep: on your back, no pillow under the knee",
        "work: light duties",
        "back to sport 3/12",
        "shower: ok from Thursday",
        "kneeling: ok when comfortable",
        "ring the ward if the wound weeps",
        "no splint needed",
        "skip it if sore",
        "swimming: not until the wound is dry",
        "advice: keep the L foot up",
    ] {
        let text = format!("start: 2026-11-30\n{line}\nbridge: 2 x 10, daily\n");
        let mut made = crate::said::made::Made::of(&text, &mut cache);
        let words = line.strip_prefix("advice: keep the L").unwrap_or(line).trim();
        assert!(made.sheet().words.contains(words), "{line}: {}", made.sheet().words);
        let phone = made.phone().unwrap_or_else(|fault| panic!("{line}: {fault:?}"));
        assert!(phone.shown.contains(words), "{line}: {}", phone.shown);
    }
}
