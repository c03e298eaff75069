//! A settled movement as SVG and as words. Knows no doses.
