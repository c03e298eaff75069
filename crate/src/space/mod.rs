//! Points, directions, rotations and projection. Knows no joints.
