//! The words of a figure: pairs of movement and sentences, and laws over every movement that is known.

use layfigure::body::Body;
use layfigure::body::names::{Angle, Joint, Motion, Side};
use layfigure::body::range::Limits;
use layfigure::catalog::Catalog;
use layfigure::figure::{Look, still};
use layfigure::pose::movement::Movement;
use layfigure::pose::settle;

const PAIRS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/vectors/words/movements.pairs");

/// One pair: the heading says whose movement it is, `expected` what is said of it.
struct Pair {
    heading: String,
    poses: String,
    expected: Vec<String>,
}

fn pairs() -> (String, Vec<Pair>) {
    let text = std::fs::read_to_string(PAIRS).expect("tests/vectors/words/movements.pairs");
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
        Joint::ALL.iter().flat_map(move |joint| motions.map(|motion| Angle { side: *side, joint: *joint, motion }))
    });
    let angle = all.into_iter().find(|a| a.name() == name).unwrap_or_else(|| panic!("no angle {name}"));
    let mut limits = Limits::none();
    limits.hold(angle, degrees.parse().expect("degrees"));
    limits
}

fn settled(heading: &str, poses: &str) -> Movement {
    let (heading, limits) = match heading.split_once(", limit ") {
        Some((h, l)) => (h, limit(l)),
        None => (heading, Limits::none()),
    };
    let (name, side) = match heading.strip_suffix(", left") {
        Some(name) => (name, Side::Left),
        None => (heading, Side::Right),
    };
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

/// `UPDATE_WORDS=1 cargo test -p layfigure --test words` writes what is said now; read it before it is kept.
#[test]
fn movements_are_told_as_expected() {
    let (head, pairs) = pairs();
    assert!(40 <= pairs.len());
    let mut now = head;
    let mut wrong = Vec::new();
    for pair in &pairs {
        let said = words(&settled(&pair.heading, &pair.poses));
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
