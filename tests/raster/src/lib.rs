//! What the tests of dots stand on: the figures to look at, painting them by resvg, and comparing pictures.

pub mod compare;
pub mod copy;
pub mod figures;
pub mod paint;

/// A figure on the sheet is 45 mm wide (design, 7), on a printer of 300 dots an inch.
pub const PAPER_MM: f64 = 45.0;
/// 45 mm at 300 dots an inch.
pub const WIDTH: u32 = 531;
