//! Every figure that is looked at, with its name.

use layfigure::body::names::Side;
use layfigure::body::range::Limits;
use layfigure::body::{Body, Variant};
use layfigure::catalog::{Catalog, Exercise};
use layfigure::figure::{Figure, Look, apart, still};
use layfigure::pose::movement::Movement;
use layfigure::pose::settle;

/// A picture: what it is of, its SVG, and its size in page units.
#[derive(Clone, Debug)]
pub struct Named {
    pub name: String,
    pub svg: String,
    pub width: f64,
    pub height: f64,
}

impl Named {
    /// The size is read from the SVG itself.
    pub fn new(name: String, svg: &str) -> Named {
        let view = svg.split("viewBox=\"").nth(1).and_then(|s| s.split('"').next()).unwrap_or_default();
        let numbers: Vec<f64> = view.split(' ').filter_map(|n| n.parse().ok()).collect();
        let at = |i: usize| numbers.get(i).copied().unwrap_or(f64::NAN);
        Named { name, svg: svg.to_string(), width: at(2), height: at(3) }
    }
}

fn drawn() -> Vec<&'static Exercise> {
    Catalog::embedded().exercises().iter().filter(|e| !e.poses.is_empty()).collect()
}

fn settled(exercise: &Exercise, body: &Body) -> Movement {
    settle::exercise(body, &exercise.poses, Side::Right, &Limits::none())
}

/// What `draw` makes of every `step`th exercise for the other bodies, each kind beginning with another exercise, so that
/// all kinds together see most of the catalog.
fn others(step: usize, draw: fn(&Body, &Movement) -> Vec<Figure>) -> Vec<Named> {
    let mut all = Vec::new();
    for (i, variant) in Variant::ALL.into_iter().filter(|v| *v != Variant::Adult).enumerate() {
        let body = Body::of(variant);
        for exercise in drawn().into_iter().skip(i).step_by(step) {
            let figures = draw(&body, &settled(exercise, &body));
            let name = |n: usize| match figures.len() {
                1 => format!("{}-{}", exercise.id, variant.word()),
                _ => format!("{}-{}-frame-{}", exercise.id, variant.word(), n + 1),
            };
            all.extend(figures.iter().enumerate().map(|(n, f)| Named::new(name(n), f.svg.as_str())));
        }
    }
    all
}

/// The catalog's stills.
pub fn stills() -> Vec<Named> {
    let body = Body::usual();
    let one = |exercise: &Exercise| {
        let figure = still(&body, &settled(exercise, &body), &Look::default());
        Named::new(exercise.id.clone(), figure.svg.as_str())
    };
    drawn().into_iter().map(one).collect()
}

/// Stills of every `step`th exercise for the other bodies.
pub fn stills_of_others(step: usize) -> Vec<Named> {
    others(step, |body, movement| vec![still(body, movement, &Look::default())])
}

/// The frames, each alone, of every `step`th exercise for the other bodies.
pub fn frames_of_others(step: usize) -> Vec<Named> {
    others(step, |body, movement| apart(body, movement, &Look::default()))
}
