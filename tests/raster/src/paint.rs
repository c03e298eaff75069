//! Dots: an SVG painted by resvg, and a picture that another program painted.

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree};

/// Rows of red, green and blue, on white paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub width: usize,
    pub height: usize,
    pub dots: Vec<[u8; 3]>,
}

impl Picture {
    /// The dot there; paper outside.
    pub fn at(&self, x: usize, y: usize) -> [u8; 3] {
        if x < self.width { self.dots.get(y * self.width + x).copied().unwrap_or([255; 3]) } else { [255; 3] }
    }

    /// From the bytes of a PNG.
    pub fn of_png(bytes: &[u8]) -> Result<Picture, String> {
        Ok(of(&Pixmap::decode_png(bytes).map_err(|e| e.to_string())?))
    }

    /// The part of it with that upper left corner and size; paper where it ends.
    pub fn part(&self, left: usize, top: usize, width: usize, height: usize) -> Picture {
        let dots = (top..top + height).flat_map(|y| (left..left + width).map(move |x| self.at(x, y)));
        Picture { width, height, dots: dots.collect() }
    }

    /// Writes it to `target/look/NAME.png`, for the eye.
    pub fn look(&self, name: &str) -> Result<(), String> {
        let folder = browser::root().join("target/look");
        std::fs::create_dir_all(&folder).map_err(|e| e.to_string())?;
        let (w, h) = (self.width as u32, self.height as u32);
        let mut map = Pixmap::new(w, h).ok_or("an empty picture")?;
        for (to, [r, g, b]) in map.data_mut().chunks_exact_mut(4).zip(&self.dots) {
            to.copy_from_slice(&[*r, *g, *b, 255]);
        }
        map.save_png(folder.join(format!("{name}.png"))).map_err(|e| e.to_string())
    }
}

fn of(map: &Pixmap) -> Picture {
    // All is opaque, so what is premultiplied is what is seen.
    let dots = map.data().chunks_exact(4).map(|p| [p[0], p[1], p[2]]).collect();
    Picture { width: map.width() as usize, height: map.height() as usize, dots }
}

/// How high a picture of these page units is, in whole dots, when it is `dots` wide.
pub fn height(width: f64, height: f64, dots: u32) -> u32 {
    (f64::from(dots) * height / width).ceil().max(1.0) as u32
}

/// Paints an SVG `dots` wide on white. Texts are left out: there are no fonts.
pub fn paint(svg: &str, dots: u32) -> Result<Picture, String> {
    let tree = Tree::from_str(svg, &Options::default()).map_err(|e| e.to_string())?;
    let size = tree.size();
    let high = height(f64::from(size.width()), f64::from(size.height()), dots);
    let mut map = Pixmap::new(dots, high).ok_or("a picture without dots")?;
    map.fill(Color::WHITE);
    let scale = dots as f32 / size.width();
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut map.as_mut());
    Ok(of(&map))
}
