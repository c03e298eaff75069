//! All figures of the catalog: sound, small, what works in sight, arrows clear, left the mirror of right.

use crate::known::{drawn, of};
use layfigure::body::Body;
use layfigure::body::names::Side;
use layfigure::figure::{ACCENT, Figure, Look, Reader, still, unseen};
use layfigure::pose::ask::ViewFrom;

/// Every number of the path data stands inside the frame, followed command by command.
fn points_of(svg: &str) -> Vec<(f64, f64)> {
    let mut out = Vec::new();
    // A detail shows nothing outside its own box: the box counts.
    let svg = &without_details(svg, &mut out);
    for d in svg.split(" d=\"").skip(1).filter_map(|s| s.split('"').next()) {
        let (mut x, mut y, mut from) = (0.0, 0.0, (0.0, 0.0));
        let mut chars = d.chars().peekable();
        let mut command = ' ';
        let number = |chars: &mut std::iter::Peekable<std::str::Chars>, flag: bool| -> f64 {
            while chars.peek().is_some_and(|c| *c == ' ') {
                chars.next();
            }
            let mut s = String::new();
            if chars.peek() == Some(&'-') {
                s.push(chars.next().expect("a sign"));
            }
            while chars.peek().is_some_and(char::is_ascii_digit) && (!flag || s.is_empty()) {
                s.push(chars.next().expect("a digit"));
            }
            s.parse().unwrap_or_else(|_| panic!("no number in {d:?}"))
        };
        while let Some(c) = chars.peek().copied() {
            if c == ' ' {
                chars.next();
                continue;
            }
            if c.is_ascii_alphabetic() {
                command = c;
                chars.next();
            }
            match command {
                'M' => {
                    (x, y) = (number(&mut chars, false), number(&mut chars, false));
                    from = (x, y);
                    command = 'l';
                }
                'm' => {
                    x += number(&mut chars, false);
                    y += number(&mut chars, false);
                    from = (x, y);
                    command = 'l';
                }
                'l' => {
                    x += number(&mut chars, false);
                    y += number(&mut chars, false);
                }
                'h' => x += number(&mut chars, false),
                'v' => y += number(&mut chars, false),
                'a' => {
                    for _ in 0..3 {
                        number(&mut chars, false);
                    }
                    for _ in 0..2 {
                        let f = number(&mut chars, true);
                        assert!(f == 0.0 || f == 1.0, "a flag is 0 or 1 in {d:?}");
                    }
                    x += number(&mut chars, false);
                    y += number(&mut chars, false);
                }
                'q' => {
                    let (hx, hy) = (x + number(&mut chars, false), y + number(&mut chars, false));
                    out.push((hx, hy));
                    x += number(&mut chars, false);
                    y += number(&mut chars, false);
                }
                'z' => (x, y) = from,
                other => panic!("unknown command {other} in {d:?}"),
            }
            out.push((x, y));
        }
    }
    out
}

/// The picture without its details, whose corners are added to `out`.
fn without_details(svg: &str, out: &mut Vec<(f64, f64)>) -> String {
    let mut pieces = svg.split("<svg x=");
    let mut rest = pieces.next().unwrap_or("").to_string();
    for piece in pieces {
        let (inner, after) = piece.split_once("</svg>").expect("a detail ends");
        let number = |name: &str| {
            let whole = format!(" x={inner}");
            let at = whole
                .split(&format!(" {name}=\""))
                .nth(1)
                .and_then(|s| s.split('"').next().map(String::from));
            at.and_then(|s| s.parse::<f64>().ok()).unwrap_or_else(|| panic!("no {name} in a detail"))
        };
        let (x, y) = (number("x"), number("y"));
        out.extend([(x, y), (x + number("width"), y + number("height"))]);
        rest.push_str(after);
    }
    rest
}

fn well_formed(svg: &str) {
    let mut open: Vec<&str> = Vec::new();
    for piece in svg.split('<').skip(1) {
        let (tag, _) = piece.split_once('>').expect("every tag ends");
        assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.ends_with('/') {
            open.push(tag.split(' ').next().unwrap_or(""));
        }
    }
    assert!(open.is_empty(), "{open:?} stay open");
    for never in ["<script", "style=", " id=", "href", "<style", "NaN", "inf"] {
        assert!(!svg.contains(never), "{never} in {svg}");
    }
}

fn sound(name: &str, figure: &Figure) {
    let svg = figure.svg.as_str();
    well_formed(svg);
    for (x, y) in points_of(svg) {
        assert!(
            -1.0 <= x && x <= figure.width + 1.0 && -1.0 <= y && y <= figure.height + 1.0,
            "{name}: ({x}, {y}) is outside {} x {}",
            figure.width,
            figure.height
        );
    }
    assert!(!figure.words.is_empty(), "{name}");
    for s in &figure.words {
        assert!(s.ends_with('.') && !s.contains(['[', ']', '(', ')', '|']), "{name}: {s}");
        assert!(s.split(' ').count() <= 20, "{name}: {s}");
    }
}

#[test]
fn every_catalog_figure_is_sound_and_small() {
    let mut sizes = Vec::new();
    for d in drawn(Side::Right) {
        let (name, figure) = (d.id(), d.still());
        sound(name, figure);
        assert!(figure.svg.len() <= 6 * 1024, "{name}: {} bytes", figure.svg.len());
        sizes.push(figure.svg.len());
    }
    assert!(12 <= sizes.len());
}

#[test]
fn what_works_is_seen_in_every_catalog_figure() {
    for d in drawn(Side::Right) {
        let (name, figure) = (d.id(), d.still());
        if d.movement.keys.iter().any(|k| !k.works.is_empty()) {
            assert!(figure.svg.as_str().contains(ACCENT), "{name}: nothing in the accent");
        }
        assert!(
            0.4 < figure.seen,
            "{name}: {} of what works is in sight from {:?}",
            figure.seen,
            figure.sight
        );
    }
}

#[test]
fn arrows_keep_clear_of_the_body_or_have_a_light_line_round_them() {
    for d in drawn(Side::Right) {
        let (name, figure) = (d.id(), d.still());
        assert!(
            figure.arrow_on_body < 20.0,
            "{name}: an arrow runs {} deep into the body",
            figure.arrow_on_body
        );
    }
}

#[test]
fn nothing_is_drawn_over_a_head() {
    for d in drawn(Side::Right) {
        let look = Look { hold: Some(10), reader: Reader::Clinician, muscles: true, ..Look::default() };
        for (look, figure) in [("usual", d.still()), ("rich", &still(&Body::usual(), &d.movement, &look))] {
            // The line round a head is 2.5 wide.
            assert!(figure.on_head < 3.0, "{}: {} over the head, {look}", d.id(), figure.on_head);
        }
    }
}

#[test]
fn the_left_is_the_mirror_of_the_right() {
    for (r, l) in drawn(Side::Right).iter().zip(drawn(Side::Left)) {
        let (name, fr, fl) = (r.id(), r.still(), l.still());
        assert_eq!(fr.frames, fl.frames, "{name}");
        let swap = |s: &str| s.replace("right", "RR").replace("left", "right").replace("RR", "left");
        // Sentences of the two sides are listed right before left: compared as sets.
        let set = |w: &[String]| {
            w.iter().map(|s| swap(s).to_lowercase()).collect::<std::collections::BTreeSet<_>>()
        };
        let own: std::collections::BTreeSet<String> = fl.words.iter().map(|s| s.to_lowercase()).collect();
        let then = |s: std::collections::BTreeSet<String>| {
            s.into_iter()
                .map(|x| x.trim_start_matches("then ").to_string())
                .collect::<std::collections::BTreeSet<_>>()
        };
        assert_eq!(then(set(&fr.words)), then(own), "{name}");
        assert!((fr.width - fl.width).abs() <= 40.0, "{name}: {} and {} wide", fr.width, fl.width);
        if fr.svg.as_str().contains(">RIGHT<") {
            assert!(fl.svg.as_str().contains(">LEFT<"), "{name}");
        }
    }
}

/// One line a figure, sorted: `UPDATE_FIGURES=1 cargo test -p layfigure --test all figures_are_as_recorded` writes it anew.
#[test]
fn figures_are_as_recorded() {
    let mut lines: Vec<String> = drawn(Side::Right)
        .iter()
        .map(|d| {
            let (name, figure) = (d.id(), d.still());
            let hash = figure.svg.as_str().bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| {
                (h ^ u64::from(b)).wrapping_mul(0x0000_0100_0000_01b3)
            });
            format!("{name} {hash:016x} {} bytes", figure.svg.len())
        })
        .collect();
    lines.sort();
    let now = lines.join("\n") + "\n";
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/figures.txt");
    if std::env::var("UPDATE_FIGURES").is_ok() {
        std::fs::write(path, &now).expect("tests/figures.txt can be written");
    }
    let recorded = std::fs::read_to_string(path).unwrap_or_default();
    assert_eq!(now, recorded, "look at the figures (layfigure figures); if they are right, record them anew");
}

#[test]
fn what_must_be_shown_is_shown_in_the_chosen_view() {
    let mut missing = Vec::new();
    for d in drawn(Side::Right) {
        let e = d.exercise;
        assert!(!e.must_show.is_empty(), "{}: nothing must be shown", e.id);
        let unseen = unseen(&Body::usual(), &d.movement, &Look::default(), &e.must_show);
        missing.extend(unseen.iter().map(|(show, share)| format!("{}: {share:.2} of {show:?}", e.id)));
    }
    assert!(missing.is_empty(), "{} not seen:\n{}", missing.len(), missing.join("\n"));
}

#[test]
fn a_wrong_view_hides_what_must_be_shown() {
    // From the feet the bend of a knee is not seen; nor, from the side, a leg lifted sideways.
    let hides = |id: &str, from: ViewFrom| {
        let (d, look) = (of(id, Side::Right), Look { from: Some(from), ..Look::default() });
        unseen(&Body::usual(), &d.movement, &look, &d.exercise.must_show).len()
    };
    assert!(0 < hides("heel-slide", ViewFrom::FootEnd));
    assert!(0 < hides("standing-leg-out", ViewFrom::Side(None)));
    assert!(0 < hides("chin-tuck", ViewFrom::Front));
}
