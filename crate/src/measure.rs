//! Angles, lengths, durations, counts and dates; the one caller of `libm`.
//!
//! The standard library's trigonometry differs between native and wasm, so every such function
//! comes from here (clippy forbids the others).

/// Trigonometry and powers with the same bytes on every machine.
pub mod math {
    pub fn sin(x: f64) -> f64 {
        libm::sin(x)
    }
    pub fn cos(x: f64) -> f64 {
        libm::cos(x)
    }
    pub fn tan(x: f64) -> f64 {
        libm::tan(x)
    }
    /// Arc sine of `x` held to [-1, 1].
    pub fn asin(x: f64) -> f64 {
        libm::asin(x.clamp(-1.0, 1.0))
    }
    /// Arc cosine of `x` held to [-1, 1].
    pub fn acos(x: f64) -> f64 {
        libm::acos(x.clamp(-1.0, 1.0))
    }
    pub fn atan2(y: f64, x: f64) -> f64 {
        libm::atan2(y, x)
    }
    pub fn exp(x: f64) -> f64 {
        libm::exp(x)
    }
    pub fn ln(x: f64) -> f64 {
        libm::log(x)
    }
    pub fn pow(x: f64, y: f64) -> f64 {
        libm::pow(x, y)
    }
    pub fn hypot(x: f64, y: f64) -> f64 {
        libm::hypot(x, y)
    }
}

/// Degrees to radians.
pub fn radians(degrees: f64) -> f64 {
    degrees * (core::f64::consts::PI / 180.0)
}

/// Radians to degrees.
pub fn degrees(radians: f64) -> f64 {
    radians * (180.0 / core::f64::consts::PI)
}

/// `x` rounded to `decimals` places and written without trailing zeros, without -0;
/// a number that is not finite is written as 0, so nothing that breaks a reader can leave.
pub fn shown(x: f64, decimals: u32) -> String {
    let scale = (0..decimals).fold(1.0, |s, _| s * 10.0);
    let rounded = (x * scale).round() / scale;
    if !rounded.is_finite() || rounded == 0.0 {
        return "0".to_string();
    }
    let mut s = format!("{rounded:.*}", decimals as usize);
    if s.contains('.') {
        while s.ends_with('0') {
            s.pop();
        }
        if s.ends_with('.') {
            s.pop();
        }
    }
    s
}
