//! What was drawn already, so that nothing is drawn twice.

use crate::pose::movement::Movement;
use std::sync::Arc;

/// Pictures by the movement that they show and the hold that they mark, seconds. A movement is known by its place in
/// memory: settling hands out the same one for the same exercise.
///
/// ```
/// use layfigure::handout::known::Known;
/// use layfigure::body::names::Side;
/// use layfigure::pose::movement::Movement;
/// use std::sync::Arc;
/// let movement = Arc::new(Movement { side: Side::Right, keys: vec![], ways: vec![], things: vec![], peaks: vec![],
///     needs: vec![], limited: false, held: vec![] });
/// let mut known = Known::default();
/// known.keep(&movement, Some(5), "with a mark");
/// assert_eq!(known.find(&movement, Some(5)), Some(&"with a mark"));
/// assert_eq!(known.find(&movement, None), None);
/// ```
#[derive(Clone, Debug)]
pub struct Known<T> {
    all: Vec<Drawn<T>>,
}

#[derive(Clone, Debug)]
struct Drawn<T> {
    movement: Arc<Movement>,
    hold: Option<u32>,
    what: T,
}

impl<T> Default for Known<T> {
    fn default() -> Known<T> {
        Known { all: Vec::new() }
    }
}

impl<T> Known<T> {
    pub fn find(&self, movement: &Arc<Movement>, hold: Option<u32>) -> Option<&T> {
        let found = self.all.iter().find(|d| d.hold == hold && Arc::ptr_eq(&d.movement, movement));
        found.map(|d| &d.what)
    }

    pub fn keep(&mut self, movement: &Arc<Movement>, hold: Option<u32>, what: T) {
        self.all.push(Drawn { movement: Arc::clone(movement), hold, what });
    }
}
