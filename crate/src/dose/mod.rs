//! A dose as typed and as written: sets, repetitions, holds, loads, how often. Knows no exercises.
