//! The picture in words, from the same settled angles.

use super::Look;
use crate::body::Body;
use crate::pose::movement::Movement;

pub(super) fn describe(body: &Body, movement: &Movement, look: &Look) -> Vec<String> {
    let _ = (body, movement, look);
    vec!["An exercise.".to_string()]
}
