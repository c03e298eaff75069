//! The moving figure over the whole catalog: nothing goes through the floor, nothing jumps, and the picture keeps its size.

use crate::known::{beside, drawn};
use layfigure::body::names::Side;
use layfigure::body::{Body, Skin, State};
use layfigure::figure::{Look, moving};
use layfigure::pose::movement::Movement;
use std::sync::OnceLock;

/// Each movement of the catalog with its pictures, and the states that they were drawn from.
fn each(mut check: impl FnMut(&str, &Body, &[State], &[String])) {
    let body = Body::usual();
    let mut checked = 0;
    for side in Side::BOTH {
        for (d, pictures) in drawn(side).iter().zip(pictures(side)) {
            if !pictures.is_empty() {
                checked += 1;
                check(d.id(), &body, &shown(&d.movement, pictures.len()), pictures);
            }
        }
    }
    assert!(80 < checked, "{checked}");
}

/// The pictures of each movement of a side, drawn once for all checks.
fn pictures(side: Side) -> &'static [Vec<String>] {
    static RIGHT: OnceLock<Vec<Vec<String>>> = OnceLock::new();
    static LEFT: OnceLock<Vec<Vec<String>>> = OnceLock::new();
    let kept = if side == Side::Right { &RIGHT } else { &LEFT };
    kept.get_or_init(|| {
        beside(drawn(side), |d| {
            let pictures = moving(&Body::usual(), &d.movement, &Look::default());
            pictures.iter().map(|p| p.as_str().to_string()).collect()
        })
    })
}

/// The states that so many pictures show, evenly taken, the last always.
fn shown(movement: &Movement, pictures: usize) -> Vec<State> {
    let all: Vec<&State> = movement.ways.iter().flatten().collect();
    let step = all.len().div_ceil(pictures);
    let last = all.len() - 1;
    let taken = all.iter().enumerate().filter(|(i, _)| i % step == 0 || *i == last);
    let states: Vec<State> = taken.map(|(_, state)| (*state).clone()).collect();
    assert_eq!(states.len(), pictures);
    states
}

#[test]
fn neighbouring_pictures_never_jump() {
    let mut furthest: f64 = 0.0;
    each(|id, body, states, pictures| {
        for (k, pair) in states.windows(2).enumerate() {
            let (a, b) = (body.place(&pair[0]), body.place(&pair[1]));
            for skin in Skin::all() {
                let moved = (b.skin(skin) - a.skin(skin)).norm() / body.stature();
                assert!(moved < 1.0 / 6.0, "{id}: {skin:?} jumps by {moved:.3} of the body at {k}");
                furthest = furthest.max(moved);
            }
        }
        // Two pictures that differ in nothing are a standstill; a movement has most of its pictures to itself.
        let different = pictures.windows(2).filter(|p| p[0] != p[1]).count();
        assert!(pictures.len() / 2 <= different, "{id}: {different} of {}", pictures.len());
    });
    assert!(0.05 < furthest, "{furthest}");
}

#[test]
fn no_picture_shows_a_body_in_the_floor() {
    each(|id, body, states, _| {
        for (k, state) in states.iter().enumerate() {
            let placed = body.place(state);
            for skin in Skin::all() {
                // As far as soft skin gives, and 3 mm of settling.
                let low = placed.skin(skin).y - body.radius(skin) + placed.gives(skin) + 0.003;
                assert!(0.0 < low, "{id}: {skin:?} is {:.1} mm too low at {k}", -low * 1000.0);
            }
        }
    });
}

#[test]
fn the_pictures_of_a_movement_have_one_size() {
    each(|id, _, _, pictures| {
        let head = |svg: &str| svg.split("<title>").next().unwrap_or("").to_string();
        assert!(pictures[0].starts_with("<svg") && head(&pictures[0]).contains("viewBox"));
        assert!(pictures.iter().all(|p| head(p) == head(&pictures[0])), "{id}");
    });
}
