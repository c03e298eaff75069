//! What a vector comes out as: one pure function that tests call natively and in wasm, so that a text put
//! below `tests/vectors` is compared on both without more ado.

use crate::measure::math;
use std::fmt::Write;

/// Vectors that need no file.
pub const BUILT_IN: [&str; 1] = ["math"];

/// All that the crate makes of one text. `name` is the vector's path below `tests/vectors`.
pub fn output(name: &str, input: &str) -> String {
    match name {
        "math" => arithmetic(),
        // Every typed side of a file of pairs is a text of its own.
        _ if name.ends_with(".pairs") => {
            input.lines().filter_map(|line| line.split_once(" => ")).map(|(typed, _)| text(typed)).collect()
        }
        _ => text(input),
    }
}

/// Any text is a prescription, if only a bad one.
fn text(input: &str) -> String {
    let (prescription, notices) = crate::prescription::read(input);
    let mut listing = crate::prescription::print(&prescription);
    for notice in &notices {
        let _ = writeln!(listing, "{notice:?}");
    }
    let _ = writeln!(listing, "{prescription:#?}");
    listing
}

/// The bits of every function of `measure::math` over a few thousand arguments.
fn arithmetic() -> String {
    let mut listing = String::new();
    for step in -2000_i32..=2000 {
        let x = f64::from(step) * 0.013_7;
        let y = f64::from(step % 37) * 0.31 - 2.0;
        let bits = [
            math::sin(x),
            math::cos(x),
            math::tan(x),
            math::asin(x),
            math::acos(x),
            math::atan2(x, y),
            math::exp(y),
            math::ln(x.abs()),
            math::pow(x.abs(), y),
            math::hypot(x, y),
            x.abs().sqrt(),
        ]
        .map(f64::to_bits);
        let _ = writeln!(listing, "{step} {bits:x?}");
    }
    listing
}
