//! The proven best week.
