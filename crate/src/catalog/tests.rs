//! The catalog's own files pass every check; and the reader, by pairs of texts.

use super::checks::faults;
use super::find::Found;
use super::*;
use crate::notice::Severity;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../catalog")
}

#[test]
fn every_file_reads_without_notices() {
    let (_, notices) = Catalog::read(EMBEDDED);
    let told: Vec<String> = notices
        .iter()
        .map(|(file, n)| format!("{file}:{}: {} {}", n.place.line, n.kind(), n.sentence()))
        .collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
}

#[test]
fn every_file_passes_every_check() {
    let all: Vec<String> = faults(Catalog::embedded())
        .into_iter()
        .map(|f| format!("{}: {}: {}", f.id, f.check, f.sentence))
        .collect();
    assert!(all.is_empty(), "{}", all.join("\n"));
}

#[test]
fn every_file_has_its_number_in_the_list_that_only_grows() {
    let text = std::fs::read_to_string(folder().join("numbers.txt")).expect("catalog/numbers.txt");
    let listed: Vec<(u32, &str)> = text
        .lines()
        .filter(|l| !l.trim().is_empty())
        .map(|l| l.split_once(' ').expect("NUMBER NAME"))
        .map(|(n, name)| (n.parse().expect("a number"), name.trim()))
        .collect();
    assert!(listed.windows(2).all(|w| w[0].0 < w[1].0), "numbers go up, one a line");
    let names: BTreeSet<&str> = listed.iter().map(|(_, name)| *name).collect();
    assert_eq!(names.len(), listed.len(), "a name has one number");
    for exercise in Catalog::embedded().exercises() {
        let own = exercise.number.unwrap_or(0);
        assert!(listed.contains(&(own, exercise.id.as_str())), "{own} {} is not listed", exercise.id);
    }
}

#[test]
fn the_catalog_covers_regions_positions_and_things() {
    use terms::{Kit, Position, Region, Term};
    let all = Catalog::embedded().exercises();
    for region in [Region::Neck, Region::Shoulder, Region::Trunk, Region::Hip, Region::Knee, Region::Ankle] {
        assert!(all.iter().any(|e| e.region == Some(region)), "{}", region.word());
    }
    for position in [
        Position::Standing,
        Position::Sitting,
        Position::LyingOnBack,
        Position::LyingOnFront,
        Position::LyingOnSide,
        Position::HandsAndKnees,
    ] {
        assert!(all.iter().any(|e| e.position == Some(position)), "{}", position.word());
    }
    for kit in [Kit::Chair, Kit::Wall, Kit::Step, Kit::LoopBand] {
        assert!(all.iter().any(|e| e.kit.contains(&kit)), "{}", kit.word());
    }
}

fn read_lines(text: &str) -> Vec<Line<'_>> {
    text.lines()
        .enumerate()
        .map(|(i, l)| {
            let t = l.trim();
            let start = l.len() - l.trim_start().len();
            Line { text: t, at: Place { line: i + 1, start, end: start + t.len() } }
        })
        .collect()
}

/// A small catalog of invented exercises, so that these tests hold whatever the files say.
const SMALL: &str = "@ knee/toe-drum
exercise: Toe drum
number: 9001
also: foot drum, toe drums seated
region: knee
purpose: wake up
kind: repeated
sides: each
side: the foot that drums
position: sitting
kit: chair
works: shin, calf
dose: 2 x 12, 2/day ; common practice, no source
set up: Sit tall.
do: Drum your toes.
if not felt: Go faster. -> Hip abduction sway
easier: Drum slower.
harder: hip abduction sway
must show: right ankle dorsiflexion
caution: none

pose: start, from sitting
feet hip-width apart

pose: up, from start
right ankle dorsiflexion 10
planted: right heel
@ hip/hip-abduction-sway
exercise: Hip abduction sway
number: 9002
region: hip
kind: timed
sides: none
dose: 3 x 30 s, daily ; common practice, no source
@ hip/hip-adduction-sway
exercise: Hip adduction sway
number: 9003
region: hip
dose: 10 reps, daily ; common practice, no source
";

fn small() -> Catalog {
    let (catalog, notices) = Catalog::read(SMALL);
    assert!(notices.is_empty(), "{notices:?}");
    catalog
}

#[test]
fn fields_are_typed() {
    use terms::*;
    let catalog = small();
    let e = catalog.by_id("toe-drum").expect("toe drum");
    assert_eq!(
        (e.number, e.name.as_str(), e.region, e.purpose),
        (Some(9001), "Toe drum", Some(Region::Knee), Purpose::WakeUp)
    );
    assert_eq!((e.sides, e.position, e.loaded), (Sides::Each, Some(Position::Sitting), false));
    assert_eq!(e.works, [Muscle::Shin, Muscle::Calf]);
    assert_eq!(e.kit, [Kit::Chair]);
    assert_eq!(e.dose.to_string(), "2 x 12, 2/day");
    assert_eq!(e.dose_source, "common practice, no source");
    assert_eq!(
        e.if_not_felt,
        [Hint { text: "Go faster.".to_string(), to: Some("Hip abduction sway".to_string()) }]
    );
    assert_eq!(e.harder.first().and_then(|n| n.id.as_deref()), Some("hip-abduction-sway"));
    assert_eq!(e.easier.first().and_then(|n| n.id.as_deref()), None);
    assert_eq!(e.poses.len(), 2);
    assert!(e.poses.iter().all(|p| !p.works.is_empty()), "what works is drawn");
    assert!(!e.is_on_floor());
}

#[test]
fn names_are_found_exactly_or_offered_never_guessed() {
    let catalog = small();
    for (typed, wanted) in [
        ("toe drum", "= toe-drum"),
        ("Toe Drums", "= toe-drum"),
        ("toe-drum", "= toe-drum"),
        ("toedrum", "= toe-drum"),
        ("foot drums", "= toe-drum"),
        ("ｔｏｅ drum", "= toe-drum"),
        ("toe drun", "? toe-drum"),
        ("seated toe drum", "? toe-drum"),
        ("hip abduction sway", "= hip-abduction-sway"),
        ("hip abducton sway", "? hip-abduction-sway"),
        ("hip aduction sway", "? hip-abduction-sway hip-adduction-sway"),
        ("hip sway", "? hip-abduction-sway hip-adduction-sway"),
        ("juggling", "none"),
        ("", "none"),
        ("###", "none"),
    ] {
        let got = match catalog.find(typed) {
            Found::One(e) => format!("= {}", e.id),
            Found::Near(all) => {
                format!("? {}", all.iter().map(|e| e.id.clone()).collect::<Vec<_>>().join(" "))
            }
            Found::None => "none".to_string(),
        };
        assert_eq!(got, wanted, "{typed}");
    }
}

/// Names as they are typed against the catalog as it is: what may be offered, what must be, what may not.
#[test]
fn no_name_is_offered_for_another_exercise() {
    let (mut pairs, mut wrong) = (0, Vec::new());
    for line in include_str!("../../../tests/words/names.pairs").lines() {
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        let (typed, sort, names) = match (line.split_once(" ! "), line.split_once(" ? ")) {
            (Some((typed, names)), _) => (typed, '!', names),
            (_, Some((typed, names))) => (typed, '?', names),
            (None, None) => (line, '-', ""),
        };
        let got = match Catalog::embedded().find(typed) {
            Found::One(e) => vec![e.id.as_str()],
            Found::Near(all) => all.iter().map(|e| e.id.as_str()).collect(),
            Found::None => vec![],
        };
        let names: Vec<&str> = names.split(' ').collect();
        let allowed = got.iter().all(|id| names.contains(id));
        if !allowed || (sort == '!' && got.is_empty()) {
            wrong.push(format!("{line}: {got:?}"));
        }
        pairs += 1;
    }
    assert!(60 <= pairs, "{pairs}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

type Told = (&'static str, Severity, Option<String>);

fn own(text: &str) -> (Exercise, Vec<Told>) {
    let lines = read_lines(text);
    let name = Line { text: "My own", at: Place { line: 1, start: 0, end: 6 } };
    let (exercise, notices) = reader::read(name, &lines, &small());
    let told = notices.into_iter().map(|n| (n.kind(), n.severity(), n.edit.map(|e| e.with))).collect();
    (exercise, told)
}

#[test]
fn an_own_exercise_copies_and_overrides() {
    let (e, told) = own("like: toe drum\ndo: Drum to a tune.\nworks: calf\nsoles on ball 65 cm");
    assert!(told.is_empty(), "{told:?}");
    assert_eq!((e.id.as_str(), e.number, e.name.as_str()), ("", None, "My own"));
    assert_eq!(e.steps, ["Drum to a tune."]);
    assert_eq!(e.set_up, ["Sit tall."]);
    assert_eq!(e.dose.to_string(), "2 x 12, 2/day");
    assert_eq!(e.poses.len(), 2);
    let first = e.poses.first().expect("a pose");
    assert_eq!(first.props.len(), 1);
    assert_eq!(first.contacts.len(), 2);
}

#[test]
fn an_own_exercise_stands_alone() {
    let (e, told) = own(
        "set up: Stand.\npose: start, from standing\nknees slightly bent\nworks: right calf\npose: up, from start\nheels raised",
    );
    assert!(told.is_empty(), "{told:?}");
    assert_eq!(e.poses.len(), 2);
    assert_eq!(e.position, Some(terms::Position::Standing));
    assert!(e.works.is_empty());
    assert_eq!(e.poses.first().map(|p| p.works.len()), Some(1));
}

#[test]
fn what_is_wrong_is_told_with_an_edit() {
    for (text, kind, edit) in [
        ("purpse: loosen", "unknown-field", Some("purpose")),
        ("zzz: loosen", "unknown-field", Some("// ")),
        ("purpose: stretchh", "bad-value", Some("stretch")),
        ("kind: helt", "bad-value", Some("held")),
        ("loaded: maybe", "bad-value", Some("no")),
        ("works: callf", "bad-value", Some("calf")),
        ("like: toe drun", "unknown-like", Some("toe drum")),
        ("like: juggling", "unknown-like", None),
        ("number: many", "bad-number", None),
        ("region:", "empty-field", None),
        ("must show: right kne flexion", "unknown-pose-word", Some("knee")),
        ("pose: start, from standing\nright knee flexon 20", "unknown-pose-word", Some("flexion")),
    ] {
        let (_, told) = own(text);
        let first = told.first().unwrap_or_else(|| panic!("{text}: nothing told"));
        assert_eq!((first.0, first.1, first.2.as_deref()), (kind, Severity::Error, edit), "{text}");
    }
}

#[test]
fn checks_find_faults() {
    let bad = "@ knee/bad
exercise: Bad
number: 9009
region: knee
dose: wobble ; someone said so
do: sit down and then get up and go
do: The patient should extend the right knee.
harder: no such thing
sides: each
@ knee/worse
exercise: bad
number: 9009
";
    let (catalog, _) = Catalog::read(bad);
    let found: BTreeSet<&str> =
        faults(&catalog).into_iter().filter(|f| f.id == "bad").map(|f| f.check).collect();
    for check in [
        "fields are present",
        "names are unique",
        "numbers are unique",
        "lines are sentences",
        "one action a sentence",
        "words speak to the patient",
        "neighbours exist or are plain words",
        "dose is read",
        "dose names its source",
        "sides fit",
    ] {
        assert!(found.contains(check), "{check} found nothing in {found:?}");
    }
}

proptest::proptest! {
    /// Any block is read, and every notice points into it.
    #[test]
    fn any_block_is_read(text in "([a-z ]{0,9}:?[\\PC]{0,30}\\n){0,12}") {
        let lines = read_lines(&text);
        let name = Line { text: "x", at: Place { line: 1, start: 0, end: 0 } };
        let (_, notices) = reader::read(name, &lines, &small());
        for n in notices {
            let line = text.lines().nth(n.place.line - 1);
            proptest::prop_assert!(line.is_some_and(|l| l.get(n.place.start..n.place.end).is_some()), "{n:?}");
        }
    }
}
