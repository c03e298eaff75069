//! Segments, joints, ranges, masses, mirror and forward kinematics. Knows no exercises.

pub mod names;
