//! A poor copy in grey: what a worn copier makes of a printed figure.
//!
//! The figure is printed 45 mm wide at 300 dots an inch; the copier sees brightness alone, out of focus, with noise, and
//! makes dark darker and light lighter. How much of each: common practice, no source.

use crate::paint::{Picture, paint};
use layfigure::figure::{ACCENT, FACE, FAR, GHOST, GHOST_LINE, INK, PAPER, SIGN, THING, THING_LINE};

/// What a dot belongs to, told by the colour in the SVG.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tone {
    Near,
    Far,
    Works,
    /// What is palest: the start as a ghost, and ground.
    Pale,
    GhostLine,
    Sign,
    Thing,
    ThingLine,
    Face,
    Paper,
}

impl Tone {
    pub const ALL: [Tone; 10] = [
        Tone::Near,
        Tone::Far,
        Tone::Works,
        Tone::Pale,
        Tone::GhostLine,
        Tone::Sign,
        Tone::Thing,
        Tone::ThingLine,
        Tone::Face,
        Tone::Paper,
    ];

    /// As the figures have it.
    pub fn colour(self) -> &'static str {
        match self {
            Tone::Near => INK,
            Tone::Far => FAR,
            Tone::Works => ACCENT,
            Tone::Pale => GHOST,
            Tone::GhostLine => GHOST_LINE,
            Tone::Sign => SIGN,
            Tone::Thing => THING,
            Tone::ThingLine => THING_LINE,
            Tone::Face => FACE,
            Tone::Paper => PAPER,
        }
    }
}

/// `#234` and `#223344` as bytes.
pub fn bytes_of(colour: &str) -> Option<[u8; 3]> {
    let digits: Vec<u8> =
        colour.strip_prefix('#')?.chars().map(|c| c.to_digit(16).map(|d| d as u8)).collect::<Option<_>>()?;
    match digits.as_slice() {
        [r, g, b] => Some([r * 17, g * 17, b * 17]),
        [r, s, g, h, b, c] => Some([r * 16 + s, g * 16 + h, b * 16 + c]),
        _ => None,
    }
}

/// How bright a dot is to a copier, 0 black to 1 white: Rec. 601 weights, as for grey television (from memory).
pub fn grey(dot: [u8; 3]) -> f32 {
    (0.299 * f32::from(dot[0]) + 0.587 * f32::from(dot[1]) + 0.114 * f32::from(dot[2])) / 255.0
}

/// A printed figure, dot by dot: how bright, and what it belongs to.
pub struct Print {
    pub width: usize,
    pub height: usize,
    pub greys: Vec<f32>,
    pub tones: Vec<Option<Tone>>,
}

/// Dots that each printed dot is painted from, across and down.
const FINE: usize = 3;

impl Print {
    /// Printed `dots` wide, with these colours for the tones. A dot belongs to a tone if most of it has its colour.
    pub fn new(svg: &str, dots: u32, colours: &[(Tone, &str)]) -> Result<Print, String> {
        let fine = paint(svg, dots * FINE as u32)?;
        let colours: Vec<(Tone, [u8; 3])> =
            colours.iter().filter_map(|(t, colour)| Some((*t, bytes_of(colour)?))).collect();
        let (width, height) = (fine.width / FINE, fine.height.div_ceil(FINE));
        let (mut greys, mut tones) = (Vec::new(), Vec::new());
        for y in 0..height {
            for x in 0..width {
                let (sum, tone) = gathered(&fine, x, y, &colours);
                greys.push(sum);
                tones.push(tone);
            }
        }
        Ok(Print { width, height, greys, tones })
    }

    /// The dots of a tone.
    pub fn of(&self, tone: Tone) -> impl Iterator<Item = usize> + '_ {
        self.tones.iter().enumerate().filter(move |(_, t)| **t == Some(tone)).map(|(i, _)| i)
    }

    /// The tones of the dots around one; beyond the edge nothing.
    fn around(&self, i: usize) -> impl Iterator<Item = Option<Tone>> + '_ {
        let (x, y) = ((i % self.width) as isize, (i / self.width) as isize);
        let inside = move |x: isize, y: isize| (0..self.width as isize).contains(&x) && 0 <= y;
        let places = (-1..=1).flat_map(move |dy| (-1..=1).map(move |dx| (x + dx, y + dy)));
        places.map(move |(x, y)| {
            inside(x, y)
                .then(|| self.tones.get(y as usize * self.width + x as usize).copied().flatten())
                .flatten()
        })
    }

    /// How bright a tone is on average in a copy; none if the figure has hardly any of it. Of what is filled only dots
    /// count that have their own tone all around: a sliver between light lines is told by the lines.
    pub fn mean(&self, tone: Tone, copy: &[f32]) -> Option<f32> {
        let line = matches!(tone, Tone::GhostLine | Tone::Sign | Tone::ThingLine);
        let whole = |i: &usize| line || self.around(*i).all(|t| t == Some(tone));
        let dots: Vec<f32> = self.of(tone).filter(whole).filter_map(|i| copy.get(i).copied()).collect();
        (ENOUGH <= dots.len()).then(|| dots.iter().sum::<f32>() / dots.len() as f32)
    }

    pub fn picture(&self, copy: &[f32]) -> Picture {
        let dots = copy.iter().map(|g| [(g * 255.0).round() as u8; 3]).collect();
        Picture { width: self.width, height: self.height, dots }
    }
}

/// Dots of a tone below which nothing is said of it: a square of 0.7 mm.
const ENOUGH: usize = 64;

fn gathered(fine: &Picture, x: usize, y: usize, colours: &[(Tone, [u8; 3])]) -> (f32, Option<Tone>) {
    let mut sum = 0.0;
    let mut counts = [0_usize; Tone::ALL.len()];
    for dy in 0..FINE {
        for dx in 0..FINE {
            let dot = fine.at(x * FINE + dx, y * FINE + dy);
            sum += grey(dot);
            for (count, (_, colour)) in counts.iter_mut().zip(colours) {
                *count += usize::from(*colour == dot);
            }
        }
    }
    let most = counts.iter().zip(colours).max_by_key(|(count, _)| **count);
    let tone = most.filter(|(count, _)| FINE * FINE / 2 < **count).map(|(_, (tone, _))| *tone);
    (sum / (FINE * FINE) as f32, tone)
}

/// What a copier does.
#[derive(Clone, Copy, Debug)]
pub struct Copier {
    /// Out of focus by so many dots (the deviation of a bell curve).
    pub blur: f32,
    /// How much steeper than it should be.
    pub gain: f32,
    /// Up to so much brighter or darker, dot by dot.
    pub noise: f32,
    /// What comes out half dark.
    pub middle: f32,
}

impl Copier {
    /// 0.1 mm out of focus, a third too steep, noise of an eighth.
    pub const POOR: Copier = Copier { blur: 1.2, gain: 1.33, noise: 0.125, middle: 0.5 };

    pub fn copy(self, print: &Print) -> Vec<f32> {
        let mut noise = 0x2545_f491_4f6c_dd1d_u64;
        let soft = blurred(&print.greys, print.width, print.height, self.blur);
        let dot = |g: f32| {
            // Marsaglia's xorshift: the same noise each time.
            noise ^= noise << 13;
            noise ^= noise >> 7;
            noise ^= noise << 17;
            let by = (noise >> 40) as f32 / (1_u64 << 23) as f32 - 1.0;
            ((g - self.middle) * self.gain + 0.5 + by * self.noise).clamp(0.0, 1.0)
        };
        soft.into_iter().map(dot).collect()
    }
}

/// Black and white alone: darker than `level` is black.
pub fn bare(copy: &[f32], level: f32) -> Vec<f32> {
    copy.iter().map(|g| if *g < level { 0.0 } else { 1.0 }).collect()
}

/// By a bell curve, across and then down; beyond the edge is paper.
fn blurred(greys: &[f32], width: usize, height: usize, deviation: f32) -> Vec<f32> {
    let reach = (deviation * 3.0).ceil() as isize;
    let weights: Vec<f32> = (-reach..=reach).map(|d| bell(d as f32 / deviation)).collect();
    let whole: f32 = weights.iter().sum();
    let pass = |from: &[f32], across: bool| -> Vec<f32> {
        let at = |x: isize, y: isize| {
            let inside = 0 <= x && x < width as isize && 0 <= y && y < height as isize;
            if inside { from[y as usize * width + x as usize] } else { 1.0 }
        };
        let mut to = Vec::with_capacity(from.len());
        for y in 0..height as isize {
            for x in 0..width as isize {
                let one = |(d, w): (isize, &f32)| w * if across { at(x + d, y) } else { at(x, y + d) };
                to.push((-reach..=reach).zip(&weights).map(one).sum::<f32>() / whole);
            }
        }
        to
    };
    pass(&pass(greys, true), false)
}

/// e^(−x²/2) by its series for e^(−t) = 1/e^t, good to a hundredth where it counts.
fn bell(x: f32) -> f32 {
    let t = x * x / 2.0;
    let mut term = 1.0;
    let mut sum = 1.0;
    for i in 1..24 {
        term *= t / i as f32;
        sum += term;
    }
    1.0 / sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_copy_blurs_and_keeps_how_bright_it_is() {
        let mut greys = vec![1.0; 41 * 41];
        greys[20 * 41 + 20] = 0.0;
        let soft = blurred(&greys, 41, 41, 1.2);
        let lost: f32 = soft.iter().map(|g| 1.0 - g).sum();
        assert!((lost - 1.0).abs() < 0.01, "{lost}");
        // The middle of a bell curve over an area: 1 / (2π deviation²).
        let middle = 1.0 - soft[20 * 41 + 20];
        assert!((middle - 1.0 / (2.0 * std::f32::consts::PI * 1.44)).abs() < 0.005, "{middle}");
    }

    #[test]
    fn colours_are_read() {
        assert_eq!(bytes_of("#234"), Some([0x22, 0x33, 0x44]));
        assert_eq!(bytes_of("#b40102"), Some([0xb4, 0x01, 0x02]));
        assert_eq!(bytes_of("red"), None);
        assert!((grey([255; 3]) - 1.0).abs() < 1e-6 && grey([0; 3]) == 0.0);
    }
}
