//! Points, directions, rotations and projection. Knows no joints.
//!
//! The frame is right-handed: x forward, y up, z to the right (as the ISB recommends). Lengths are
//! metres, angles radians.

use crate::measure::math;
use core::ops::{Add, AddAssign, Mul, Neg, Sub};

/// A point or a direction.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Vec3 {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

/// Shorthand for a [`Vec3`].
pub const fn v3(x: f64, y: f64, z: f64) -> Vec3 {
    Vec3 { x, y, z }
}

impl Vec3 {
    pub const ZERO: Vec3 = v3(0.0, 0.0, 0.0);
    pub const X: Vec3 = v3(1.0, 0.0, 0.0);
    pub const Y: Vec3 = v3(0.0, 1.0, 0.0);
    pub const Z: Vec3 = v3(0.0, 0.0, 1.0);

    pub fn dot(self, o: Vec3) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    pub fn cross(self, o: Vec3) -> Vec3 {
        v3(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }

    pub fn norm(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The same direction with length 1; `fallback` where there is no direction.
    pub fn unit_or(self, fallback: Vec3) -> Vec3 {
        let n = self.norm();
        if n < 1e-12 { fallback } else { self * (1.0 / n) }
    }

    /// Across the body's own midplane: right becomes left.
    pub fn mirrored(self) -> Vec3 {
        v3(self.x, self.y, -self.z)
    }

    pub fn lerp(self, to: Vec3, t: f64) -> Vec3 {
        self + (to - self) * t
    }

    pub fn at(self, axis: usize) -> f64 {
        match axis {
            0 => self.x,
            1 => self.y,
            _ => self.z,
        }
    }
}

impl Add for Vec3 {
    type Output = Vec3;
    fn add(self, o: Vec3) -> Vec3 {
        v3(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}

impl AddAssign for Vec3 {
    fn add_assign(&mut self, o: Vec3) {
        *self = *self + o;
    }
}

impl Sub for Vec3 {
    type Output = Vec3;
    fn sub(self, o: Vec3) -> Vec3 {
        v3(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}

impl Neg for Vec3 {
    type Output = Vec3;
    fn neg(self) -> Vec3 {
        v3(-self.x, -self.y, -self.z)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Vec3;
    fn mul(self, k: f64) -> Vec3 {
        v3(self.x * k, self.y * k, self.z * k)
    }
}

/// A rotation, as the matrix whose columns are the turned axes. `r * v` turns `v`;
/// `a * b` turns by `b` first, then by `a`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rotation {
    pub x: Vec3,
    pub y: Vec3,
    pub z: Vec3,
}

impl Rotation {
    pub const NONE: Rotation = Rotation { x: Vec3::X, y: Vec3::Y, z: Vec3::Z };

    pub fn about_x(a: f64) -> Rotation {
        let (s, c) = (math::sin(a), math::cos(a));
        Rotation { x: Vec3::X, y: v3(0.0, c, s), z: v3(0.0, -s, c) }
    }

    pub fn about_y(a: f64) -> Rotation {
        let (s, c) = (math::sin(a), math::cos(a));
        Rotation { x: v3(c, 0.0, -s), y: Vec3::Y, z: v3(s, 0.0, c) }
    }

    pub fn about_z(a: f64) -> Rotation {
        let (s, c) = (math::sin(a), math::cos(a));
        Rotation { x: v3(c, s, 0.0), y: v3(-s, c, 0.0), z: Vec3::Z }
    }

    /// By the length of `w` (radians) about its direction.
    pub fn exp(w: Vec3) -> Rotation {
        let a = w.norm();
        let (k1, k2) = if a < 1e-6 {
            (1.0 - a * a / 6.0, 0.5 - a * a / 24.0)
        } else {
            (math::sin(a) / a, (1.0 - math::cos(a)) / (a * a))
        };
        let col = |e: Vec3| {
            let we = w.cross(e);
            e + we * k1 + w.cross(we) * k2
        };
        Rotation { x: col(Vec3::X), y: col(Vec3::Y), z: col(Vec3::Z) }
    }

    /// The rotation vector whose [`exp`](Rotation::exp) this is, of length at most π.
    pub fn log(self) -> Vec3 {
        let trace = self.x.x + self.y.y + self.z.z;
        let axis = v3(self.y.z - self.z.y, self.z.x - self.x.z, self.x.y - self.y.x) * 0.5;
        let s = axis.norm();
        let a = math::atan2(s, (trace - 1.0) * 0.5);
        if s > 1e-9 {
            return axis * (a / s);
        }
        if trace > 0.0 {
            return axis;
        }
        // Half a turn: the axis is the largest column of (R + 1).
        let cols = [self.x + Vec3::X, self.y + Vec3::Y, self.z + Vec3::Z];
        let mut best = cols[0];
        for c in cols {
            if best.dot(best) < c.dot(c) {
                best = c;
            }
        }
        best.unit_or(Vec3::X) * core::f64::consts::PI
    }

    pub fn inverse(self) -> Rotation {
        Rotation {
            x: v3(self.x.x, self.y.x, self.z.x),
            y: v3(self.x.y, self.y.y, self.z.y),
            z: v3(self.x.z, self.y.z, self.z.z),
        }
    }

    /// Columns made orthogonal and of length 1 again, against drift.
    pub fn cleaned(self) -> Rotation {
        let x = self.x.unit_or(Vec3::X);
        let y = (self.y - x * x.dot(self.y)).unit_or(Vec3::Y);
        Rotation { x, y, z: x.cross(y) }
    }

    /// The rotation seen in the mirror across the x-y plane.
    pub fn mirrored(self) -> Rotation {
        Rotation { x: self.x.mirrored(), y: self.y.mirrored(), z: -self.z.mirrored() }
    }
}

impl Mul<Vec3> for Rotation {
    type Output = Vec3;
    fn mul(self, v: Vec3) -> Vec3 {
        self.x * v.x + self.y * v.y + self.z * v.z
    }
}

impl Mul for Rotation {
    type Output = Rotation;
    fn mul(self, o: Rotation) -> Rotation {
        Rotation { x: self * o.x, y: self * o.y, z: self * o.z }
    }
}

/// The left Jacobian of the rotation group at `w`, applied to `e`: the world axis about which
/// `exp(w)` turns when `w` grows along `e`.
pub fn turning_axis(w: Vec3, e: Vec3) -> Vec3 {
    let a = w.norm();
    let (k1, k2) = if a < 1e-4 {
        (0.5 - a * a / 24.0, 1.0 / 6.0 - a * a / 120.0)
    } else {
        ((1.0 - math::cos(a)) / (a * a), (a - math::sin(a)) / (a * a * a))
    };
    let we = w.cross(e);
    e + we * k1 + w.cross(we) * k2
}

/// A parallel projection onto paper: `right` and `up` span the page, `towards` points at the reader.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    pub right: Vec3,
    pub up: Vec3,
    pub towards: Vec3,
}

impl Camera {
    /// Looking from the direction `from` (a point far off that way) with world up drawn upwards;
    /// looking straight down, `top` is drawn upwards instead.
    pub fn from(from: Vec3, top: Vec3) -> Camera {
        let towards = from.unit_or(Vec3::Z);
        let up = Vec3::Y - towards * towards.y;
        let up = if up.norm() < 1e-6 { top - towards * towards.dot(top) } else { up }.unit_or(Vec3::X);
        Camera { right: up.cross(towards), up, towards }
    }

    /// Page coordinates of `p` (x to the right, y up) and its nearness to the reader.
    pub fn project(&self, p: Vec3) -> (f64, f64, f64) {
        (self.right.dot(p), self.up.dot(p), self.towards.dot(p))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::radians;

    #[test]
    fn turns_as_the_joint_range_reference_says() {
        // references/joint-ranges.md, worked checks 7 and 8.
        let a = Rotation::about_z(radians(90.0)) * v3(0.0, -1.0, 0.0);
        assert!((a - v3(1.0, 0.0, 0.0)).norm() < 1e-9);
        let b = Rotation::about_x(radians(20.0)) * v3(0.0, -1.0, 0.0);
        assert!((b - v3(0.0, -0.9397, -0.3420)).norm() < 1e-4);
    }

    #[test]
    fn log_undoes_exp() {
        for w in [v3(0.3, -1.2, 0.7), v3(1e-9, 0.0, 0.0), v3(0.0, 3.1, 0.0), v3(2.0, 1.0, -1.5)] {
            assert!((Rotation::exp(w).log() - w).norm() < 1e-7, "{w:?}");
        }
    }

    #[test]
    fn turning_axis_is_the_derivative_of_exp() {
        let (w, e, h) = (v3(0.4, 0.9, -1.1), v3(0.0, 0.0, 1.0), 1e-6);
        let turned = (Rotation::exp(w + e * h) * Rotation::exp(w - e * h).inverse()).log() * (0.5 / h);
        assert!((turned - turning_axis(w, e)).norm() < 1e-8);
    }
}
