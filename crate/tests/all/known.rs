//! The catalog settled once for every check that looks at it: for the usual body, without limits, for either side; and
//! the still that is drawn of it.

use layfigure::body::Body;
use layfigure::body::names::Side;
use layfigure::body::range::Limits;
use layfigure::catalog::{Catalog, Exercise};
use layfigure::figure::{Figure, Look, still};
use layfigure::pose::movement::Movement;
use layfigure::pose::settle;
use std::sync::OnceLock;

/// An exercise that has poses, with what they settle to.
pub struct Drawn {
    pub exercise: &'static Exercise,
    pub movement: Movement,
    still: OnceLock<Figure>,
}

impl Drawn {
    pub fn id(&self) -> &'static str {
        &self.exercise.id
    }

    /// As it is drawn for nobody in particular.
    pub fn still(&self) -> &Figure {
        self.still.get_or_init(|| still(&Body::usual(), &self.movement, &Look::default()))
    }
}

/// Every exercise of the catalog that has poses, in its order.
pub fn exercises() -> impl Iterator<Item = &'static Exercise> {
    Catalog::embedded().exercises().iter().filter(|e| !e.poses.is_empty())
}

pub fn drawn(side: Side) -> &'static [Drawn] {
    static RIGHT: OnceLock<Vec<Drawn>> = OnceLock::new();
    static LEFT: OnceLock<Vec<Drawn>> = OnceLock::new();
    let kept = if side == Side::Right { &RIGHT } else { &LEFT };
    kept.get_or_init(|| {
        let all: Vec<&'static Exercise> = exercises().collect();
        beside(&all, |exercise| Drawn {
            exercise,
            movement: settle::exercise(&Body::usual(), &exercise.poses, side, &Limits::none()),
            still: OnceLock::new(),
        })
    })
}

pub fn of(id: &str, side: Side) -> &'static Drawn {
    drawn(side).iter().find(|d| d.id() == id).unwrap_or_else(|| panic!("{id} is in the catalog"))
}

/// Does `each` for all, on as many cores as there are, and gives what came of them in order.
pub fn beside<T: Sync, R: Send>(all: &[T], each: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let next = std::sync::atomic::AtomicUsize::new(0);
    let one_after_another = || {
        let take = || {
            let at = next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
            all.get(at).map(|one| (at, each(one)))
        };
        std::iter::from_fn(take).collect::<Vec<_>>()
    };
    let mut found: Vec<(usize, R)> = std::thread::scope(|scope| {
        let hands: Vec<_> = (0..cores).map(|_| scope.spawn(one_after_another)).collect();
        hands.into_iter().flat_map(|hand| hand.join().expect("a check fails in its own words")).collect()
    });
    found.sort_by_key(|(at, _)| *at);
    found.into_iter().map(|(_, one)| one).collect()
}
