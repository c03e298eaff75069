//! Figures held to the byte: six whole SVGs for the eye and for a patch, and a line for every figure of the catalog
//! as it is drawn for another side, another reader and other bodies.
//!
//! `UPDATE_FIGURES=1 cargo test -p layfigure --test all figure_files::` records them anew; look at them first.

use crate::known::{exercises, of};
use layfigure::body::names::{Angle, Joint, Motion, Side};
use layfigure::body::range::Limits;
use layfigure::body::{Body, Variant};
use layfigure::figure::{Figure, Look, Reader, still};
use layfigure::pose::settle;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The exercises whose figures are kept whole, one of each kind of picture.
const WHOLE: [(&str, &str); 6] = [
    ("lying, start as a ghost", "straight-leg-raise"),
    ("standing, seen from the front", "standing-leg-out"),
    ("on the floor, seen from three-quarter", "figure-four-stretch"),
    ("close-up", "chin-tuck"),
    ("sequence of three", "back-round-and-hollow"),
    ("band with its anchor", "band-turn-out"),
];

/// Bytes of a still at most, as the design has it.
const MOST: usize = 6 * 1024;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests")
}

fn updating() -> bool {
    std::env::var("UPDATE_FIGURES").is_ok()
}

/// The pieces of an SVG, an element or a text each.
fn pieces(svg: &str) -> Vec<&str> {
    svg.split_inclusive('>').collect()
}

/// What `now` has that `before` has not, and the other way round: `- ` and `+ ` lines in order, with the number of
/// the piece. What both have in the same order is left out (longest common subsequence).
fn changes(before: &[&str], now: &[&str]) -> Vec<String> {
    let (n, m) = (before.len(), now.len());
    let mut common = vec![vec![0_usize; m + 1]; n + 1];
    for i in (0..n).rev() {
        for j in (0..m).rev() {
            common[i][j] = if before[i] == now[j] {
                common[i + 1][j + 1] + 1
            } else {
                common[i + 1][j].max(common[i][j + 1])
            };
        }
    }
    let (mut i, mut j) = (0, 0);
    let mut said = Vec::new();
    while i < n || j < m {
        if i < n && j < m && before[i] == now[j] {
            (i, j) = (i + 1, j + 1);
        } else if j == m || (i < n && common[i][j + 1] <= common[i + 1][j]) {
            said.push(format!("- {i}: {}", before[i]));
            i += 1;
        } else {
            said.push(format!("+ {j}: {}", now[j]));
            j += 1;
        }
    }
    said
}

/// The first lines, and how many more there are.
fn first(mut lines: Vec<String>, most: usize) -> String {
    let more = lines.len().saturating_sub(most);
    lines.truncate(most);
    if 0 < more {
        lines.push(format!("… and {more} more"));
    }
    lines.join("\n")
}

#[test]
fn six_figures_are_kept_whole() {
    let folder = folder().join("figures");
    if updating() {
        std::fs::create_dir_all(&folder).expect("tests/figures can be made");
    }
    let mut faults = Vec::new();
    for (kind, id) in WHOLE {
        let figure = of(id, Side::Right).still();
        let now = format!("{}\n", figure.svg.as_str());
        let path = folder.join(format!("{id}.svg"));
        if updating() {
            std::fs::write(&path, &now).expect("tests/figures can be written");
        }
        let kept = std::fs::read_to_string(&path).unwrap_or_default();
        if kept != now {
            let new = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{id}.svg"));
            std::fs::write(&new, &now).expect("the folder for tests can be written");
            let said = first(changes(&pieces(&kept), &pieces(&now)), 12);
            faults.push(format!("{id} ({kind}) changed; it is now {}\n{said}", new.display()));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n\n"));
    let names: BTreeSet<String> = std::fs::read_dir(&folder)
        .expect("tests/figures is there")
        .flatten()
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .collect();
    let listed: BTreeSet<String> = WHOLE.iter().map(|(_, id)| format!("{id}.svg")).collect();
    assert_eq!(names, listed, "every file of tests/figures is held by this test");
}

/// As whom, and for whom, a figure is drawn.
struct Case {
    word: String,
    body: Body,
    side: Side,
    limits: Limits,
    reader: Reader,
}

/// Someone some weeks after an injury, so that limits are drawn (numbers made up: no source is needed for bytes).
fn limited() -> Limits {
    let mut limits = Limits::none();
    for (joint, motion, most) in [
        (Joint::Knee, Motion::Flexion, 60.0),
        (Joint::Hip, Motion::Flexion, 50.0),
        (Joint::Shoulder, Motion::Flexion, 60.0),
    ] {
        limits.hold(Angle { joint, motion, side: Some(Side::Right) }, most);
    }
    limits
}

fn cases() -> Vec<Case> {
    let usual = |word: &str, side, limits, reader| Case {
        word: word.into(),
        body: Body::usual(),
        side,
        limits,
        reader,
    };
    let others = Variant::ALL.into_iter().filter(|v| *v != Variant::Adult).map(|variant| Case {
        word: variant.word().into(),
        body: Body::of(variant),
        ..usual("", Side::Right, Limits::none(), Reader::Patient)
    });
    let mut all = vec![
        usual("left", Side::Left, Limits::none(), Reader::Patient),
        usual("limited", Side::Right, limited(), Reader::Patient),
        usual("limited-clinician", Side::Right, limited(), Reader::Clinician),
    ];
    all.extend(others);
    all
}

fn figures_of(case: &Case) -> Vec<(&'static str, Figure)> {
    let look = Look { reader: case.reader, ..Look::default() };
    exercises()
        .map(|e| {
            let movement = settle::exercise(&case.body, &e.poses, case.side, &case.limits);
            (e.id.as_str(), still(&case.body, &movement, &look))
        })
        .collect()
}

/// FNV-1a.
fn hash(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3))
}

/// Lines by the name and the case that they begin with.
fn by_name(text: &str) -> BTreeMap<String, String> {
    let halves = |line: &str| {
        let mut words = line.splitn(3, ' ');
        Some((format!("{} {}", words.next()?, words.next()?), words.next()?.to_string()))
    };
    text.lines().filter_map(halves).collect()
}

#[test]
fn figures_of_other_sides_readers_and_bodies_are_as_recorded() {
    let cases = cases();
    let found: Vec<Vec<(&str, Figure)>> = std::thread::scope(|scope| {
        let runs: Vec<_> = cases.iter().map(|case| scope.spawn(move || figures_of(case))).collect();
        runs.into_iter().map(|run| run.join().expect("every case is drawn")).collect()
    });
    let mut lines = Vec::new();
    for (case, figures) in cases.iter().zip(&found) {
        for (id, figure) in figures {
            let svg = figure.svg.as_str();
            assert!(svg.len() <= MOST, "{id} for {}: {} bytes", case.word, svg.len());
            lines.push(format!("{id} {} {:016x} {} bytes", case.word, hash(svg), svg.len()));
        }
    }
    let of = |word: &str| cases.iter().zip(&found).find(|(c, _)| c.word == word).map(|(_, f)| f);
    let differ = of("limited").into_iter().flatten().zip(of("limited-clinician").into_iter().flatten());
    let differ = differ.filter(|((_, patient), (_, clinician))| patient.svg != clinician.svg).count();
    assert!(5 <= differ, "only {differ} figures differ for the clinician: the limits are not drawn");
    lines.sort();
    let now = lines.join("\n") + "\n";
    let path = folder().join("figures-bodies.txt");
    if updating() {
        std::fs::write(&path, &now).expect("tests/figures-bodies.txt can be written");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    let (old, new) = (by_name(&kept), by_name(&now));
    let names: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    let said = |name: &String| {
        let line = |of: &BTreeMap<String, String>| of.get(name).cloned().unwrap_or_else(|| "nothing".into());
        format!("{name}: {}, was {}", line(&new), line(&old))
    };
    let changed: Vec<String> =
        names.into_iter().filter(|name| old.get(*name) != new.get(*name)).map(said).collect();
    let count = changed.len();
    assert!(
        kept == now,
        "{count} of {} figures changed; look at them (layfigure figures --bodies), and record them anew if they \
         are right:\n{}",
        new.len(),
        first(changed, 20)
    );
}

#[test]
fn what_changed_is_named() {
    let before = "<svg><title>Bend.</title><path d=\"M1 1h9\"/><path d=\"M2 2h9\"/></svg>";
    let now = before.replace("M2 2h9", "M2 3h9");
    assert_eq!(
        changes(&pieces(before), &pieces(&now)),
        ["- 4: <path d=\"M2 2h9\"/>", "+ 4: <path d=\"M2 3h9\"/>"]
    );
    let less = before.replace("<path d=\"M1 1h9\"/>", "");
    assert_eq!(changes(&pieces(before), &pieces(&less)), ["- 3: <path d=\"M1 1h9\"/>"]);
    assert!(changes(&pieces(before), &pieces(before)).is_empty());
}
