//! Writes HTML and SVG: escaping and rounding. Does not know what it writes about.
