//! The prescription made sense of at a given week: dose arithmetic and checks.
