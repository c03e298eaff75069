//! What is asked, free and touching, and its settling. Knows no drawing.

pub mod ask;
mod compile;
pub mod hull;
pub mod memory;
pub mod movement;
pub mod nudge;
pub mod posture;
pub mod problem;
pub mod read;
mod release;
pub mod room;
pub mod settle;
pub mod support;
mod things;

#[cfg(test)]
mod tests;
