//! Pairs of texts in `pairs.txt`: a posture and a pose line, and below it what is understood.
//! `LAYFIGURE_REWRITE=1 cargo test -p layfigure pose::read` writes the expectations anew: read the change.

use super::{Line, read};
use crate::notice::Notice;
use crate::pose::ask::*;
use crate::text::Place;
use proptest::prelude::*;

const PAIRS: &str = include_str!("pairs.txt");

fn lines_of(text: &str) -> Vec<Line<'_>> {
    text.lines()
        .enumerate()
        .map(|(i, text)| Line { text, at: Place { line: i + 1, start: 0, end: text.len() } })
        .collect()
}

fn spot(s: Spot) -> String {
    match s.side {
        Some(side) => format!("{} {}", side.word(), s.region.word()),
        None => s.region.word().to_string(),
    }
}

fn surface(s: Surface) -> String {
    match s {
        Surface::Floor => "floor".to_string(),
        Surface::Prop(kind) => kind.word().to_string(),
        Surface::Tread(n) => format!("stair {n}"),
        Surface::Edge(kind) => format!("edge of {}", kind.word()),
        Surface::Body(s) => spot(s),
    }
}

fn described(pose: &Pose) -> Vec<String> {
    let mut all = Vec::new();
    for ask in &pose.asks {
        all.push(match &ask.what {
            Ask::Angle { sides, joint, motion, degrees } => {
                format!("angle {sides:?} {} {} {degrees}", joint.word(), motion.words())
            }
            Ask::Beyond { part, edge_of } => format!("{} beyond the edge of {}", spot(*part), edge_of.word()),
            Ask::Distance { part, from, cm } => format!("{} {cm} cm from {}", spot(*part), surface(*from)),
            other => format!("{other:?}"),
        });
    }
    for c in &pose.contacts {
        all.push(match &c.what {
            Contact::On { part, place, slides, light } => format!(
                "{} {}{} {}",
                spot(*part),
                if *light { "lightly " } else { "" },
                if *slides { "slides on" } else { "on" },
                surface(*place)
            ),
            Contact::Hold { hand, what: Held::Body(s) } => format!("{} hand holds {}", hand.word(), spot(*s)),
            Contact::Hold { hand, what: Held::Prop(k) } => format!("{} hand holds {}", hand.word(), k.word()),
        });
    }
    let off: Vec<String> = pose.releases.iter().map(|r| spot(r.what.part)).collect();
    if !off.is_empty() {
        all.push(format!("off: {}", off.join(", ")));
    }
    for p in &pose.props {
        let size = p.what.cm.map_or(String::new(), |cm| format!(" {} cm", crate::measure::shown(cm, 1)));
        let fit = match &p.what.fit {
            Fit::Stands => "stands".to_string(),
            Fit::Round(s) => format!("round {}", s.iter().map(|s| spot(*s)).collect::<Vec<_>>().join(", ")),
            Fit::Under(s) => format!("under {}", s.iter().map(|s| spot(*s)).collect::<Vec<_>>().join(", ")),
            Fit::Between(a, b) => format!("between {} and {}", spot(*a), spot(*b)),
            Fit::Against(s) => format!("between {} and wall", spot(*s)),
            Fit::FromTo { anchor, to } => format!("from {anchor:?} to {}", spot(*to)),
            other => format!("{other:?}"),
        };
        all.push(format!("thing: {}{size} {fit}", p.what.kind.word()));
    }
    for p in &pose.planted {
        all.push(match p.what {
            Planted::Spot(s) => format!("planted {}", spot(s)),
            other => format!("planted {other:?}"),
        });
    }
    for w in &pose.works {
        all.push(format!("works {:?} {:?} {:?}", w.what.segment, w.what.side, w.what.aspect));
    }
    for e in &pose.efforts {
        all.push(match &e.what {
            Effort::Push { part, into } => format!("push {} into {}", spot(*part), surface(*into)),
            Effort::Squeeze(w) => format!("squeeze {:?} {:?} {:?}", w.segment, w.side, w.aspect),
            other => format!("{other:?}"),
        });
    }
    if let Some(v) = &pose.view {
        let near = v.what.close_up;
        let from = near.map(|n| n.1).filter(|from| *from != ViewFrom::Auto);
        let from = from.map_or(String::new(), |from| format!(" from {from:?}"));
        all.push(format!("view {:?} {:?}{from} {:?}", v.what.from, near.map(|n| spot(n.0)), v.what.inset));
    }
    if let Some(s) = pose.seconds {
        all.push(format!("over {s} s"));
    }
    all
}

fn told(typed: &[&str], notices: &[Notice]) -> Vec<String> {
    notices
        .iter()
        .map(|n| {
            let at = |p: Place| {
                typed.get(p.line - 1).and_then(|l| l.get(p.start..p.end)).unwrap_or("(no place)").to_string()
            };
            let edit =
                n.edit.as_ref().map_or("none".to_string(), |e| format!("`{}` -> `{}`", at(e.place), e.with));
            format!("! {} at `{}`: {} [{edit}]", n.kind(), at(n.place), n.sentence())
        })
        .collect()
}

fn answer(posture: &str, line: &str) -> Vec<String> {
    let header = format!("pose: p, from {posture}");
    let text = format!("{header}\n{line}");
    let (poses, notices) = read(&lines_of(&text));
    let mut out: Vec<String> = poses.iter().flat_map(described).collect();
    out.extend(told(&[&header, line], &notices));
    out
}

#[test]
fn pairs() {
    let mut fresh = String::new();
    let mut wrong = Vec::new();
    let mut seen = 0;
    let mut lines = PAIRS.lines().peekable();
    while let Some(line) = lines.next() {
        if line.is_empty() || line.starts_with('#') {
            fresh.push_str(line);
            fresh.push('\n');
            continue;
        }
        let (posture, asked) = line.split_once(" | ").expect("POSTURE | POSE LINE");
        let mut wanted = Vec::new();
        while let Some(next) = lines.peek().and_then(|l| l.strip_prefix("    ")) {
            wanted.push(next.to_string());
            lines.next();
        }
        let got = answer(posture, asked);
        seen += 1;
        fresh.push_str(line);
        fresh.push('\n');
        for g in &got {
            fresh.push_str("    ");
            fresh.push_str(g);
            fresh.push('\n');
        }
        if got != wanted {
            wrong.push(format!("{line}\n  wanted {wanted:#?}\n  got {got:#?}"));
        }
    }
    if std::env::var_os("LAYFIGURE_REWRITE").is_some() {
        std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/src/pose/read/pairs.txt"), fresh)
            .expect("the pairs can be written");
        return;
    }
    assert!(100 <= seen, "only {seen} pairs");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The tuple of a pose's name and where it starts from.
fn opened(text: &str) -> (Vec<(String, From)>, Vec<&'static str>) {
    let (poses, notices) = read(&lines_of(text));
    (poses.into_iter().map(|p| (p.name, p.from)).collect(), notices.iter().map(|n| n.kind()).collect())
}

#[test]
fn poses_open_with_a_name_and_a_posture() {
    use crate::body::names::Side::*;
    for (text, from) in [
        ("standing", Posture::Standing),
        ("sitting", Posture::Sitting),
        ("sitting on a chair", Posture::Sitting),
        ("Long sitting", Posture::LongSitting),
        ("lying on back", Posture::Supine),
        ("lying on your back", Posture::Supine),
        ("supine", Posture::Supine),
        ("crook lying", Posture::CrookLying),
        ("crook-lying", Posture::CrookLying),
        ("lying on your back with knees bent", Posture::CrookLying),
        ("prone", Posture::Prone),
        ("lying on your front", Posture::Prone),
        ("lying on the left side", Posture::SideLying(Left)),
        ("side-lying on the left", Posture::SideLying(Left)),
        ("right side-lying", Posture::SideLying(Right)),
        ("side lying", Posture::SideLying(Left)),
        ("quadruped", Posture::FourPointKneeling),
        ("four-point kneeling", Posture::FourPointKneeling),
        ("4-point kneeling", Posture::FourPointKneeling),
        ("on all fours", Posture::FourPointKneeling),
        ("tall kneeling", Posture::HighKneeling),
        ("kneeling", Posture::HighKneeling),
        ("half-kneeling", Posture::HalfKneeling(Right)),
        ("half-kneeling on the left knee", Posture::HalfKneeling(Left)),
        ("half kneeling right knee down", Posture::HalfKneeling(Right)),
    ] {
        assert_eq!(
            opened(&format!("pose: start, from {text}")),
            (vec![("start".to_string(), From::Posture(from))], vec![]),
            "{text}"
        );
    }
}

#[test]
fn poses_start_from_earlier_ones() {
    let (poses, notices) =
        opened("pose: start, from supine\npose: pulled in, from start\npose: back, from Pulled In");
    assert_eq!(notices, Vec::<&str>::new());
    let from: Vec<From> = poses.into_iter().map(|(_, f)| f).collect();
    assert_eq!(from, [From::Posture(Posture::Supine), From::Earlier(0), From::Earlier(1)]);
}

#[test]
fn a_header_that_is_not_clear_is_told() {
    for (text, kinds) in [
        ("pose: start, from standng", vec!["unknown-posture"]),
        ("pose: start", vec!["pose-without-posture"]),
        ("pose:", vec!["pose-without-name", "pose-without-posture"]),
        ("right knee straight", vec!["pose-without-header"]),
        ("pose: a, from standing\npose: a, from standing", vec!["same-pose-name"]),
        ("pose: a, from the moon", vec!["unknown-posture"]),
    ] {
        assert_eq!(opened(text).1, kinds, "{text}");
    }
}

#[test]
fn an_overlay_replaces_what_it_speaks_of() {
    let base = "pose: start, from crook lying\nsoles on floor, right knee flexion 100\nworks: buttocks";
    let (mut poses, _) = read(&lines_of(base));
    let pose = poses.first_mut().expect("one pose");
    let notices = super::overlay(pose, &lines_of("soles on ball 65 cm, right knee flexion 90"));
    assert!(notices.is_empty(), "{notices:?}");
    let got = described(pose);
    assert_eq!(
        got,
        [
            "angle One(Right) knee flexion 90",
            "right sole on ball",
            "left sole on ball",
            "thing: ball 65 cm stands",
            "works Pelvis None Back"
        ]
    );
}

proptest! {
    /// No text panics or hangs, and every notice points into its line.
    #[test]
    fn any_text_is_read(text in "[\\PC\\n]{0,200}") {
        let lines = lines_of(&text);
        let (poses, notices) = read(&lines);
        prop_assert!(poses.len() <= super::MOST_POSES);
        check_places(&lines, &notices)?;
    }

    /// Neither does a shuffle of the grammar's own words.
    #[test]
    fn any_words_are_read(words in proptest::collection::vec(
        prop_oneof![
            Just("right"), Just("left"), Just("both"), Just("knee"), Just("knees"), Just("back"), Just("top"),
            Just("of"), Just("flexion"), Just("bent"), Just("straight"), Just("90"), Just("-400"), Just("on"),
            Just("floor"), Just("wall"), Just("band"), Just("round"), Just("from"), Just("to"), Just("until"),
            Just("slides"), Just("hands"), Just("hold"), Just("holds"), Just("off"), Just("works:"), Just("view:"),
            Just("planted:"), Just("pose:"), Just("start"), Just("cm"), Just(","), Just("and"), Just("with"),
            Just("feet"), Just("apart"), Just("between"), Just("level"), Just("in"), Just("line"), Just("push"),
            Just("into"), Just("squeeze"), Just("lift"), Just("keep"), Just("light"), Just("touch"), Just("\n"),
            Just("leaning"), Just("close-up"), Just("inset"), Just("under"), Just("head"), Just("chin"), Just("tucked")
        ], 0..60)) {
        let text = words.join(" ");
        let lines = lines_of(&text);
        let (_, notices) = read(&lines);
        check_places(&lines, &notices)?;
    }
}

fn check_places(lines: &[Line<'_>], notices: &[Notice]) -> Result<(), TestCaseError> {
    for n in notices {
        for place in [Some(n.place), n.edit.as_ref().map(|e| e.place)].into_iter().flatten() {
            let line = lines.get(place.line - 1);
            prop_assert!(line.is_some_and(|l| l.text.get(place.start..place.end).is_some()), "{n:?}");
        }
        prop_assert!(!n.sentence().is_empty());
    }
    Ok(())
}

#[test]
fn plain_words_read_without_a_notice() {
    let mut told = Vec::new();
    let mut count = 0;
    for block in include_str!("plain.txt").split("\n\n").filter(|b| !b.starts_with('#')) {
        let (title, body) = block.split_once('\n').expect("a title and its poses");
        let (poses, notices) = read(&lines_of(body));
        count += 1;
        assert!(!poses.is_empty(), "{title}");
        let typed: Vec<&str> = body.lines().collect();
        told.extend(super::tests::told(&typed, &notices).into_iter().map(|n| format!("{title}\n   {n}")));
    }
    assert!(40 <= count, "{count} movements");
    assert!(told.is_empty(), "{}", told.join("\n"));
}
