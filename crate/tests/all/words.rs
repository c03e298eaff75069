//! The words of a figure: pairs of movement and sentences, and laws over every movement that is known.

use crate::known;
use layfigure::body::Body;
use layfigure::body::names::{Angle, Joint, Motion, Region, Side};
use layfigure::body::range::Limits;
use layfigure::catalog::Catalog;
use layfigure::figure::{Figure, Look, still};
use layfigure::measure::degrees;
use layfigure::pose::ask::PropKind;
use layfigure::pose::movement::Movement;
use layfigure::pose::settle;
use layfigure::text::reading::count;
use std::collections::BTreeMap;
use std::sync::{Mutex, OnceLock};

const PAIRS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/words/movements.pairs");

/// A listener keeps no more in mind; common practice, no source.
const MOST_SENTENCES: usize = 12;
const MOST_WORDS: usize = 16;
/// Flesch-Kincaid, as all text for patients.
const GRADE: f64 = 6.0;

/// One pair: the heading says whose movement it is, `expected` what is said of it.
struct Pair {
    heading: String,
    poses: String,
    expected: Vec<String>,
}

fn pairs() -> (String, Vec<Pair>) {
    let text = std::fs::read_to_string(PAIRS).expect("tests/words/movements.pairs");
    let mut parts = text.split("\n=== ");
    let head = parts.next().unwrap_or("").to_string();
    let pair = |part: &str| {
        let (given, said) = part.split_once("---").unwrap_or((part, ""));
        let (heading, poses) = given.split_once('\n').unwrap_or((given, ""));
        Pair {
            heading: heading.trim().to_string(),
            poses: poses.trim().to_string(),
            expected: said.lines().map(str::trim).filter(|l| !l.is_empty()).map(str::to_string).collect(),
        }
    };
    let pairs = parts.map(pair).collect();
    (head, pairs)
}

/// `right knee flexion 60` as a limit.
fn limit(text: &str) -> Limits {
    let (name, degrees) = text.rsplit_once(' ').expect("a limit with its degrees");
    let motions = [
        Motion::Flexion,
        Motion::Extension,
        Motion::Abduction,
        Motion::ExternalRotation,
        Motion::InternalRotation,
        Motion::Elevation,
    ];
    let sides = [None, Some(Side::Right), Some(Side::Left)];
    let all = sides.iter().flat_map(|side| {
        Joint::ALL
            .iter()
            .flat_map(move |joint| motions.map(|motion| Angle { side: *side, joint: *joint, motion }))
    });
    let angle = all.into_iter().find(|a| a.name() == name).unwrap_or_else(|| panic!("no angle {name}"));
    let mut limits = Limits::none();
    limits.hold(angle, degrees.parse().expect("degrees"));
    limits
}

/// What a pair's movement settles to, once for all checks.
fn settled(heading: &str, poses: &str) -> &'static Movement {
    type Kept = BTreeMap<(String, String), &'static OnceLock<Movement>>;
    static KEPT: Mutex<Kept> = Mutex::new(BTreeMap::new());
    let own = {
        let mut kept = KEPT.lock().expect("nothing fails while it is held");
        let key = (heading.to_string(), poses.to_string());
        *kept.entry(key).or_insert_with(|| Box::leak(Box::new(OnceLock::new())))
    };
    own.get_or_init(|| settle_pair(heading, poses))
}

fn settle_pair(heading: &str, poses: &str) -> Movement {
    let (heading, limits) = match heading.split_once(", limit ") {
        Some((h, l)) => (h, limit(l)),
        None => (heading, Limits::none()),
    };
    let (name, side) = match heading.strip_suffix(", left") {
        Some(name) => (name, Side::Left),
        None => (heading, Side::Right),
    };
    if poses.is_empty() && limits.is_none() {
        return known::of(name, side).movement.clone();
    }
    let text = if poses.is_empty() { None } else { Some(format!("@ own/own\nexercise: own\n{poses}")) };
    let own = text.map(|t| Catalog::read(&t).0);
    let catalog = own.as_ref().unwrap_or_else(|| Catalog::embedded());
    let wanted = |id: &str| own.is_some() || id == name;
    let exercise = catalog.exercises().iter().find(|e| wanted(&e.id)).unwrap_or_else(|| panic!("no {name}"));
    assert!(!exercise.poses.is_empty(), "{name}: its poses are not understood");
    settle::exercise(&Body::usual(), &exercise.poses, side, &limits)
}

fn words(movement: &Movement) -> Vec<String> {
    still(&Body::usual(), movement, &Look::default()).words
}

/// `UPDATE_WORDS=1 cargo test -p layfigure --test all words::` writes what is said now; read it before it is kept.
#[test]
fn movements_are_told_as_expected() {
    let (head, pairs) = pairs();
    assert!(40 <= pairs.len());
    let mut now = head;
    let mut wrong = Vec::new();
    for pair in &pairs {
        let said = words(settled(&pair.heading, &pair.poses));
        now.push_str(&format!("\n=== {}\n", pair.heading));
        if !pair.poses.is_empty() {
            now.push_str(&format!("{}\n", pair.poses));
        }
        now.push_str(&format!("---\n{}\n", said.join("\n")));
        if said != pair.expected {
            wrong.push(format!("{}\n  expected {:#?}\n  is {said:#?}", pair.heading, pair.expected));
        }
    }
    if std::env::var("UPDATE_WORDS").is_ok() {
        std::fs::write(PAIRS, now).expect("the pairs can be written");
        return;
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The everyday words by which a listener knows that a part touches or holds.
fn known_by(region: Region) -> &'static [&'static str] {
    use Region::*;
    match region {
        Sole | Heel | Forefoot | Toes | Instep | FootInner | FootOuter => &[
            "foot",
            "feet",
            "heel",
            "toes",
            "stand",
            "kneel",
            "leg",
            "calves",
            "calf",
            "hips and knees",
            "lie on your front",
        ],
        AnkleOuter | AnkleInner => &["ankle", "leg", "knee", "feet", "foot"],
        Shin | Calf => &["shin", "calf", "calves", "kneel", "leg", "knee", "feet"],
        KneeFront | KneeBack | KneeInner | KneeOuter => &["knee", "leg", "feet", "kneel", "front"],
        ThighFront | ThighBack => &["thigh", "leg", "sit", "front", "knee"],
        Seat | Sacrum | LowerBack => {
            &["sit", "seat", "bottom", "lie on your back", "lower back", "your back"]
        }
        UpperBack | WholeBack => &["back"],
        BackOfHead | SideOfHead | Forehead | Chin => &["head", "lie on your"],
        Chest | Belly | PelvisFront => &["front", "belly", "chest", "hips"],
        HipSide | ShoulderSide => &["side", "hip", "shoulder"],
        UpperArm => &["upper arm", "arm"],
        Elbow | Forearm => &["elbow", "forearm", "arm"],
        WristFront => &["wrist", "arm", "hand"],
        Palm | BackOfHand | Fist | Fingertips => &["hand", "arm", "fingertips"],
    }
}

fn word_of(kind: PropKind) -> &'static str {
    match kind {
        PropKind::ChairBack => "chair",
        PropKind::Dumbbell => "weight",
        k => k.word(),
    }
}

/// Everything that is wrong with what is said of `movement`, by the law that it breaks.
fn faults(movement: &Movement, said: &[String]) -> Vec<String> {
    let mut out = Vec::new();
    let whole = said.join(" ");
    let low = whole.to_lowercase();
    if said.is_empty() || MOST_SENTENCES < said.len() {
        out.push(format!("length: {} sentences", said.len()));
    }
    for (i, s) in said.iter().enumerate() {
        if !s.ends_with('.')
            || s.trim_end_matches('.').contains('.')
            || !s.starts_with(|c: char| c.is_uppercase())
        {
            out.push(format!("sentence: {s}"));
        }
        if s.contains(['[', ']', '(', ')', '|', '<', '>', '{', '}', '~', '+']) || s.contains("  ") {
            out.push(format!("marks: {s}"));
        }
        if MOST_WORDS < s.split_whitespace().count() {
            out.push(format!("long: {s}"));
        }
        if said.iter().take(i).any(|t| t == s) {
            out.push(format!("twice: {s}"));
        }
    }
    if count(&whole).grade().is_none_or(|g| GRADE < g) {
        out.push(format!("grade: {:?}", count(&whole).grade()));
    }
    let first = said.first().map_or("", String::as_str);
    if !["Stand", "Sit", "Lie", "Kneel", "Face"].iter().any(|p| first.starts_with(p)) {
        out.push(format!("position: {first}"));
    }
    for thing in &movement.things {
        if !low.contains(word_of(thing.kind)) {
            out.push(format!("thing: {}", word_of(thing.kind)));
        }
    }
    for key in &movement.keys {
        for t in key.touches.iter().filter(|t| !t.light) {
            if !known_by(t.part.region).iter().any(|w| low.contains(w)) {
                out.push(format!("contact: {:?} in {}", t.part, key.name));
            }
            if t.holds && !["hold", "with your"].iter().any(|w| low.contains(w)) {
                out.push(format!("hold: {:?} in {}", t.part, key.name));
            }
        }
    }
    out.extend(sides(movement, &low).into_iter().map(|s| format!("side: {}", s.word())));
    out
}

/// Sides that move alone, or more than the other, and are not named.
fn sides(movement: &Movement, low: &str) -> Vec<Side> {
    use layfigure::body::dof::{Limb, paired};
    let limbs =
        [Limb::KneeFlexion, Limb::HipFlexion, Limb::HipAbduction, Limb::ElbowFlexion, Limb::ShoulderFlexion];
    let swing = |s: Side, l: Limb| {
        movement.keys.windows(2).filter_map(|w| Some((w.first()?, w.get(1)?))).fold(
            0.0_f64,
            |most, (a, b)| {
                let d = paired(l, s);
                most.max((degrees(b.state.angle(d)) - degrees(a.state.angle(d))).abs())
            },
        )
    };
    let alone = |s: &Side| limbs.iter().any(|l| 25.0 < swing(*s, *l) && swing(s.other(), *l) < 8.0);
    Side::BOTH.into_iter().filter(alone).filter(|s| !low.contains(s.word())).collect()
}

/// Movements of the catalog and of the pairs, of both sides, free and with limits, each with its figure.
fn all() -> &'static [(String, Movement, Figure)] {
    static ALL: OnceLock<Vec<(String, Movement, Figure)>> = OnceLock::new();
    ALL.get_or_init(|| {
        known::beside(&asked(), |(name, settle)| {
            let movement = settle();
            let figure = still(&Body::usual(), &movement, &Look::default());
            (name.clone(), movement, figure)
        })
    })
}

/// How each is called, and how it is settled.
type Asked = (String, Box<dyn Fn() -> Movement + Sync>);

fn asked() -> Vec<Asked> {
    let mut out: Vec<Asked> = Vec::new();
    let mut tight = Limits::none();
    for side in Side::BOTH {
        for (joint, motion, most) in [
            (Joint::Knee, Motion::Flexion, 60.0),
            (Joint::Hip, Motion::Flexion, 70.0),
            (Joint::Shoulder, Motion::Elevation, 80.0),
            (Joint::Ankle, Motion::Dorsiflexion, 5.0),
            (Joint::Elbow, Motion::Flexion, 70.0),
        ] {
            tight.hold(Angle { side: Some(side), joint, motion }, most);
        }
    }
    for e in known::exercises() {
        for side in Side::BOTH {
            let name = |how: &str| format!("{}, {}, {how}", e.id, side.word());
            let tight = tight.clone();
            out.push((name("free"), Box::new(move || known::of(&e.id, side).movement.clone())));
            let limited = move || settle::exercise(&Body::usual(), &e.poses, side, &tight);
            out.push((name("limited"), Box::new(limited)));
        }
    }
    for pair in pairs().1 {
        let own = pair.heading.clone();
        out.push((own, Box::new(move || settled(&pair.heading, &pair.poses).clone())));
    }
    out
}

#[test]
fn whatever_moves_is_told_by_the_laws() {
    let all = all();
    assert!(200 < all.len());
    let mut wrong = Vec::new();
    for (name, movement, figure) in all {
        let said = &figure.words;
        wrong.extend(
            faults(movement, said).into_iter().map(|f| format!("{name}: {f}\n    {}", said.join(" "))),
        );
    }
    assert!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
}

/// Each law can fail: what is said of a bridge, a calf raise and others is spoilt, one law at a time.
#[test]
fn each_law_finds_its_fault() {
    let found = |id: &str, law: &str, spoil: &dyn Fn(Vec<String>) -> Vec<String>| {
        let movement = settled(id, "");
        let good = words(movement);
        assert_eq!(faults(movement, &good), Vec::<String>::new(), "{id}");
        let bad = faults(movement, &spoil(good));
        assert!(bad.iter().any(|f| f.starts_with(law)), "{id}: {law} is not among {bad:?}");
    };
    let edit = |from: &'static str, to: &'static str| {
        move |said: Vec<String>| said.iter().map(|s| s.replace(from, to)).collect::<Vec<String>>()
    };
    let more = |line: &'static str| {
        move |mut said: Vec<String>| {
            said.push(line.to_string());
            said
        }
    };
    found("bridge", "sentence", &more("Breathe in"));
    found("bridge", "marks", &more("Bend (it|them)."));
    found("bridge", "twice", &|said| said.iter().chain(said.first()).cloned().collect());
    found("bridge", "length", &|said| {
        (0..13).map(|i| said.get(i % 2).cloned().unwrap_or_default()).collect()
    });
    found("bridge", "long", &more("Lift it up and up and up and up and up and up and up and up and up."));
    found("bridge", "grade", &|said| {
        said.iter()
            .map(|_| "Considerable elevation necessitates supervised physiotherapeutic preparation.".into())
            .collect()
    });
    found("bridge", "position", &|said| said.into_iter().skip(1).collect());
    found("calf-raise", "thing", &edit("worktop", "top"));
    found("quad-set", "contact", &edit("hand", "limb"));
    found("knee-to-chest", "hold", &edit("old", "ake"));
    found("heel-slide", "side", &edit("right", "one"));
}

#[test]
fn the_other_side_is_told_the_same_way() {
    let swap = |s: &String| s.replace("right", "RR").replace("left", "right").replace("RR", "left");
    let own = pairs().1.into_iter().filter(|p| !p.heading.contains(", l")).map(|p| (p.heading, p.poses));
    for (name, poses) in own.chain(known::exercises().map(|e| (e.id.clone(), String::new()))) {
        let right = words(settled(&name, &poses));
        let left = words(settled(&format!("{name}, left"), &poses));
        assert_eq!(right.iter().map(swap).collect::<Vec<_>>(), left, "{name}");
    }
}

/// A picture's title is short, begins with the position and has something that is done.
#[test]
fn a_title_has_the_position_and_the_movement() {
    for (name, movement, figure) in all() {
        let svg = figure.svg.as_str();
        let title =
            svg.split_once("<title>").and_then(|(_, t)| t.split_once("</title>")).map_or("", |(t, _)| t);
        assert!(!title.is_empty() && title.len() <= 200, "{name}: {title}");
        assert!(title.starts_with(figure.words.first().map_or("", String::as_str)), "{name}: {title}");
        if movement.keys.len() < 2 {
            continue;
        }
        let start = Movement {
            keys: movement.keys.iter().take(1).cloned().collect(),
            ways: vec![],
            held: vec![],
            ..movement.clone()
        };
        let taken = words(&start);
        let done = figure.words.iter().find(|s| !taken.contains(s));
        let told = title.split_inclusive(". ").any(|s| !taken.iter().any(|t| t == s.trim()));
        assert!(done.is_none() || told, "{name}: {title}");
    }
}
