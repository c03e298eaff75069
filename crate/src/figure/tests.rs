use super::paint::Tone;
use super::shape::{Part, Shape};
use super::view::Sight;
use super::*;
use crate::body::State;
use crate::body::dof::{COUNT, Dof};
use crate::body::names::{Segment, Side};
use crate::body::range::of;
use crate::measure::radians;
use crate::pose::ask::{Aspect, Worked};
use crate::pose::movement::Key;
use crate::space::{Rotation, Vec3, v3};
use proptest::prelude::*;

fn key(state: State, works: Vec<Worked>) -> Key {
    Key {
        name: "key".to_string(),
        state,
        things: Vec::new(),
        touches: Vec::new(),
        supports: Vec::new(),
        gap_mm: 0.0,
        pressed: Vec::new(),
        missed: Vec::new(),
        unmet: Vec::new(),
        margin_mm: None,
        centre_of_mass: Vec3::ZERO,
        converged: true,
        works,
        efforts: Vec::new(),
        view: None,
        seconds: None,
    }
}

fn movement(states: Vec<State>, works: Vec<Worked>) -> Movement {
    let keys: Vec<Key> = states.into_iter().map(|s| key(s, works.clone())).collect();
    Movement {
        side: Side::Right,
        ways: Vec::new(),
        keys,
        things: Vec::new(),
        peaks: Vec::new(),
        needs: Vec::new(),
        limited: false,
        held: Vec::new(),
    }
}

/// Every number of the path data stands inside the frame, followed command by command.
fn points_of(svg: &str) -> Vec<(f64, f64)> {
    let mut out = Vec::new();
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
fn the_face_shows_from_the_front_and_not_from_behind() {
    let body = Body::usual();
    let placed = body.place(&State::standing(&body));
    let stance = view::Stance::of(&placed);
    let all = |_: Part| true;
    let faces = |sight: Sight| {
        let lens = paint::Lens { camera: stance.camera(sight), scale: 240.0 };
        let shape = Shape { placed: &placed, grips: [false; 2] };
        let painted = paint::Painted::bare(shape, lens, &all);
        painted.strokes().iter().any(|s| s.tone == Tone::Face)
    };
    assert!(faces(Sight::Front) && faces(Sight::Side(Side::Right)) && faces(Sight::FrontQuarter(Side::Left)));
    assert!(!faces(Sight::Back));
}

#[test]
fn a_leg_that_goes_out_to_the_side_is_not_seen_from_the_side() {
    let body = Body::usual();
    let start = State::standing(&body);
    let mut end = start.clone();
    end.angles[crate::body::dof::paired(crate::body::dof::Limb::HipAbduction, Side::Right).0] = radians(30.0);
    let works = vec![Worked { segment: Segment::Thigh(Side::Right), side: None, aspect: Aspect::Whole }];
    let figure = still(&body, &movement(vec![start, end], works), &Look::default());
    assert!(matches!(figure.sight, Sight::Back | Sight::Front), "{:?}", figure.sight);
    assert!(figure.svg.as_str().contains(">RIGHT<"));
    assert!(figure.words.iter().any(|w| w.contains("right leg out to the side")), "{:?}", figure.words);
}

fn any_state() -> impl Strategy<Value = State> {
    (prop::collection::vec(0.0..1.0_f64, COUNT), -3.1..3.1_f64, -3.1..3.1_f64, 0.1..1.2_f64).prop_map(
        |(share, roll, yaw, height)| {
            let mut state = State::standing(&Body::usual());
            for (i, s) in share.iter().enumerate() {
                let range = of(Dof(i));
                state.angles[i] = radians(range.low + (range.high - range.low) * s);
            }
            state.root = v3(0.0, height, 0.0);
            state.turn = Rotation::about_z(roll) * Rotation::about_y(yaw);
            state
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn any_two_poses_give_a_sound_figure(a in any_state(), b in any_state()) {
        let works = vec![Worked { segment: Segment::Thigh(Side::Right), side: None, aspect: Aspect::Whole }];
        let figure = still(&Body::usual(), &movement(vec![a, b], works), &Look::default());
        sound("random", &figure);
        prop_assert!(figure.svg.len() <= 6 * 1024, "{} bytes", figure.svg.len());
    }
}
