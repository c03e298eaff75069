//! Reads, checks and finds exercises. Does not know the typed prescription.
