//! What a printed page holds, as poppler's programs read it: its words and where they stand, and how it looks.

use std::path::{Path, PathBuf};
use std::process::Command;

/// A PDF that was written to `target/look`.
pub struct Pdf {
    path: PathBuf,
    pub sheets: Vec<Sheet>,
}

/// One sheet of paper, measured in points from its upper left corner.
#[derive(Clone, Debug, Default)]
pub struct Sheet {
    pub width: f64,
    pub height: f64,
    /// In the order in which they were printed, without any white space: words are broken differently by every
    /// printer of pages.
    pub text: String,
    pub words: Vec<Word>,
}

#[derive(Clone, Debug)]
pub struct Word {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
    pub text: String,
}

/// A picture of a sheet; one or three bytes a dot.
pub struct Raster {
    pub width: usize,
    pub height: usize,
    pub channels: usize,
    pub dots: Vec<u8>,
}

impl Pdf {
    /// Writes the PDF to `target/look/NAME.pdf` and reads it.
    pub fn read(bytes: &[u8], name: &str) -> Result<Pdf, String> {
        let folder = crate::root().join("target/look");
        std::fs::create_dir_all(&folder).map_err(|e| e.to_string())?;
        let path = folder.join(format!("{name}.pdf"));
        std::fs::write(&path, bytes).map_err(|e| e.to_string())?;
        let text = said(Command::new("pdftotext").args(["-raw", "-enc", "UTF-8"]).arg(&path).arg("-"))?;
        let boxes = said(Command::new("pdftotext").args(["-bbox", "-enc", "UTF-8"]).arg(&path).arg("-"))?;
        let mut sheets = boxed(&boxes);
        // A form feed ends each page.
        for (sheet, text) in sheets.iter_mut().zip(text.split('\u{c}')) {
            sheet.text = solid(text);
        }
        Ok(Pdf { path, sheets })
    }

    /// All sheets as pictures; written beside the PDF too, for the eye.
    pub fn rasters(&self, dots_per_inch: u32, grey: bool) -> Result<Vec<Raster>, String> {
        let stem = self.path.with_extension(if grey { "grey" } else { "colour" });
        let mut command = Command::new("pdftoppm");
        command.args(["-r", &dots_per_inch.to_string()]);
        if grey {
            command.arg("-gray");
        }
        said(command.arg(&self.path).arg(&stem))?;
        let end = if grey { "pgm" } else { "ppm" };
        let digits = self.sheets.len().to_string().len();
        (1..=self.sheets.len())
            .map(|n| {
                let file = PathBuf::from(format!("{}-{n:0digits$}.{end}", stem.display()));
                let bytes = std::fs::read(&file).map_err(|e| format!("{}: {e}", file.display()))?;
                raster(&bytes).ok_or_else(|| format!("{} is no picture that is known", file.display()))
            })
            .collect()
    }

    pub fn path(&self) -> &Path {
        &self.path
    }
}

/// Text as it is compared: without white space and marks of direction, ligatures taken apart.
pub fn solid(text: &str) -> String {
    let is_mark = |c: char| matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{ad}');
    let mut out = String::with_capacity(text.len());
    for c in text.chars().filter(|c| !c.is_whitespace() && !is_mark(*c)) {
        match c {
            'ﬀ' => out.push_str("ff"),
            'ﬁ' => out.push_str("fi"),
            'ﬂ' => out.push_str("fl"),
            'ﬃ' => out.push_str("ffi"),
            'ﬄ' => out.push_str("ffl"),
            c => out.push(c),
        }
    }
    out
}

/// `<page width="…" height="…">` and `<word xMin="…" …>text</word>`, one a line.
fn boxed(listing: &str) -> Vec<Sheet> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for line in listing.lines().map(str::trim) {
        let number = |name: &str| -> f64 {
            let after = line.split_once(&format!("{name}=\"")).map_or("", |(_, after)| after);
            after.split('"').next().and_then(|n| n.parse().ok()).unwrap_or(f64::NAN)
        };
        if line.starts_with("<page ") {
            sheets.push(Sheet { width: number("width"), height: number("height"), ..Sheet::default() });
        } else if line.starts_with("<word ")
            && let Some(sheet) = sheets.last_mut()
        {
            let text = line.split_once('>').and_then(|(_, rest)| rest.strip_suffix("</word>")).unwrap_or("");
            sheet.words.push(Word {
                left: number("xMin"),
                top: number("yMin"),
                right: number("xMax"),
                bottom: number("yMax"),
                text: text
                    .replace("&lt;", "<")
                    .replace("&gt;", ">")
                    .replace("&quot;", "\"")
                    .replace("&amp;", "&"),
            });
        }
    }
    sheets
}

/// A binary PNM of eight bits: `P5` or `P6`, width, height, 255, then the dots.
fn raster(bytes: &[u8]) -> Option<Raster> {
    let channels = match bytes.get(..2)? {
        b"P5" => 1,
        b"P6" => 3,
        _ => return None,
    };
    let mut at = 2;
    let mut number = || -> Option<usize> {
        while bytes.get(at)?.is_ascii_whitespace() {
            at += 1;
        }
        let start = at;
        while bytes.get(at)?.is_ascii_digit() {
            at += 1;
        }
        std::str::from_utf8(bytes.get(start..at)?).ok()?.parse().ok()
    };
    let (width, height, most) = (number()?, number()?, number()?);
    let dots = bytes.get(at + 1..)?.to_vec();
    (most == 255 && dots.len() == width * height * channels).then_some(Raster {
        width,
        height,
        channels,
        dots,
    })
}

fn said(command: &mut Command) -> Result<String, String> {
    let output = command.output().map_err(|e| format!("{}: {e}", command.get_program().to_string_lossy()))?;
    if !output.status.success() {
        return Err(String::from_utf8_lossy(&output.stderr).into_owned());
    }
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_of_words_are_read() {
        let listing = "<doc>\n  <page width=\"595.0\" height=\"842.0\">\n\
                       <word xMin=\"1.5\" yMin=\"2\" xMax=\"3\" yMax=\"4\">a&amp;b</word>\n</page>\n\
                       <page width=\"1\" height=\"2\">\n</page></doc>";
        let sheets = boxed(listing);
        assert_eq!(sheets.len(), 2);
        assert_eq!((sheets[0].words[0].left, sheets[0].words[0].bottom), (1.5, 4.0));
        assert_eq!(sheets[0].words[0].text, "a&b");
        assert!(sheets[1].words.is_empty());
    }

    #[test]
    fn pictures_are_read() {
        let grey = raster(b"P5\n2 1\n255\nab").expect("grey");
        assert_eq!((grey.width, grey.height, grey.channels), (2, 1, 1));
        assert!(raster(b"P6\n2 1\n255\nab").is_none(), "too short");
    }

    #[test]
    fn text_is_compared_without_spaces_and_marks() {
        assert_eq!(solid("\u{200f}ﬁrst \n\u{202b}two"), "firsttwo");
    }
}
