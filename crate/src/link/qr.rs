//! The link as a QR code (ISO/IEC 18004): the address as bytes, the packed plan as decimal digits, which take a
//! third of the room that letters do. Level M, so that a fold or a stain of 15 % does no harm.

use super::written;
use crate::markup::Markup;
use qrcodegen::{DataTooLong, QrCode, QrCodeEcc, QrSegment, Version};

/// Up to this version the code is small enough for the corner of a sheet, and phones read it from there.
pub const MOST_VERSION: u8 = 15;
/// White modules round the code.
pub const QUIET: u32 = 4;
/// Smallest side of a module on paper, millimetres: twice and a bit the dots of a 150 dpi raster.
pub const LEAST_MODULE_MM: f64 = 0.4;

/// A link to be printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// What is read from it: the whole address.
    pub address: String,
    /// 1 to [`MOST_VERSION`].
    pub version: u8,
    /// Modules a side, quiet zone included.
    pub modules: u32,
    /// The dark modules as the `d` of an SVG path, in modules from the outer corner of the quiet zone.
    pub path: String,
}

/// The code of packed bytes behind the home page's address. An error is a sentence for the patient.
pub fn code(home: &str, packed: &[u8]) -> Result<Code, String> {
    let digits = written::digits(packed);
    let (mark, number) = digits.split_at(1);
    let head = format!("{}#{mark}", home.split('#').next().unwrap_or(home));
    let segments = [QrSegment::make_bytes(head.as_bytes()), QrSegment::make_numeric(number)];
    let (least, most) = (Version::new(1), Version::new(MOST_VERSION));
    let made = QrCode::encode_segments_advanced(&segments, QrCodeEcc::Medium, least, most, None, false);
    let code = made.map_err(|_: DataTooLong| {
        "This plan is too long for a code to scan, so the code is left out. The link that you were sent has the whole plan."
            .to_owned()
    })?;
    let modules = u32::try_from(code.size()).unwrap_or(0) + 2 * QUIET;
    Ok(Code { address: head + number, version: code.version().value(), modules, path: path(&code) })
}

/// One rectangle for each run of dark modules in a row.
fn path(code: &QrCode) -> String {
    let quiet = QUIET as i32;
    let mut path = String::new();
    for y in 0..code.size() {
        let mut x = 0;
        while x < code.size() {
            let run = (x..code.size()).take_while(|x| code.get_module(*x, y)).count() as i32;
            if 0 < run {
                path.push_str(&format!("M{} {}h{run}v1h-{run}z", x + quiet, y + quiet));
            }
            x += run.max(1);
        }
    }
    path
}

impl Code {
    /// The code alone, its modules so many millimetres wide, never less than [`LEAST_MODULE_MM`].
    pub fn svg(&self, module_mm: f64) -> Markup {
        let side = f64::from(self.modules) * module_mm.max(LEAST_MODULE_MM);
        let mm = format!("{}mm", crate::measure::shown(side, 2));
        let mut w = crate::markup::Writer::new();
        w.open("svg").attr("viewBox", &format!("0 0 {0} {0}", self.modules)).attr("width", &mm);
        w.attr("height", &mm).attr("shape-rendering", "crispEdges").attr("role", "img");
        w.attr("aria-label", "Code to scan with a phone: it opens these exercises.");
        w.open("rect").attr("width", &self.modules.to_string()).attr("height", &self.modules.to_string());
        w.attr("fill", "#fff").empty();
        w.open("path").attr("d", &self.path).attr("fill", "#000").empty();
        w.close();
        w.finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_holds_the_address_and_the_digits() {
        // 290 bytes at version 13-M behind an address of 38 characters (shared/method.md 3).
        let packed: Vec<u8> = (0..280_u32).map(|n| (n * 89 % 251) as u8).collect();
        let code = code("https://exercises.example/home-page.html", &packed).expect("it fits");
        assert_eq!((code.version, code.modules), (13, 69 + 8));
        assert!(code.address.starts_with("https://exercises.example/home-page.html#N"));
        let svg = code.svg(0.1).into_string();
        assert!(svg.contains("width=\"30.8mm\""), "{}", svg.get(..200).unwrap_or(""));
    }

    #[test]
    fn what_is_too_long_says_so() {
        let sentence = code("https://exercises.example/", &[7; 600]).expect_err("too long");
        assert!(sentence.contains("left out") && sentence.contains("link"), "{sentence}");
    }
}
