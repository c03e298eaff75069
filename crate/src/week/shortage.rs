//! Why the minutes do not suffice, in words, and the smallest repairs.

use serde::Serialize;

use crate::week::model::{Limit, Problem, Week};

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Shortage {}

pub fn shortage(_problem: &Problem, _week: &Week, _limit: Limit) -> Option<Shortage> {
    None
}
