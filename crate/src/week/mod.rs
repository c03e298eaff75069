//! Days, parts of the day and the course. Does not know paper.
