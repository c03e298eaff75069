//! The typed text as written, and its canonical forms. Does not know whether it makes sense.
