//! Bounded damped least squares. Knows no bodies.
