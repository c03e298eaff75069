//! What is asked, free and touching, and its settling. Knows no drawing.

pub mod ask;
pub mod memory;
pub mod movement;
pub mod read;
