//! Exercises as small cards, where their days stand elsewhere.

use super::plan::{Course, Line};
use super::room::{self, Page};
use super::{Draw, Print, picture};
use crate::markup::Writer;

/// Widths of the picture and of what is left free, and the least height of a card, millimetres.
const PICTURE: (f64, f64) = (27.0, 48.0);
const GAP: f64 = 3.5;
const LEAST: (f64, f64) = (17.0, 30.0);

/// How high the cards come out, two beside each other in normal print.
pub fn height(course: &Course, lines: &[Line<'_>], print: Print, points: f64, page: Page) -> f64 {
    let (columns, picture, least) = match print {
        Print::Normal => (2usize, PICTURE.0, LEAST.0),
        Print::Large => (1, PICTURE.1, LEAST.1),
    };
    let width = (page.width - 6.0) / if columns == 2 { 2.0 } else { 1.0 };
    let laid = lines.iter().filter(|line| line.is_laid);
    let cards: Vec<f64> = laid
        .map(|line| {
            let mut w = Writer::new();
            super::title(&mut w, course, line);
            let words = room::lines_of(&w.finish(), width - picture - GAP, points + 0.5, false);
            room::high(words, points + 0.5).max(least) + 3.0
        })
        .collect();
    let rows = cards.chunks(columns).map(|row| row.iter().copied().fold(0.0, f64::max));
    rows.fold(if cards.is_empty() { 0.0 } else { 3.0 }, |all, row| all + row)
}

pub fn cards(w: &mut Writer, course: &Course, lines: &[Line<'_>], draw: Draw<'_>) {
    if !lines.iter().any(|line| line.is_laid) {
        return;
    }
    w.open("ol").attr("class", "cards");
    for line in lines.iter().filter(|line| line.is_laid) {
        w.open("li");
        picture(w, line.exercise, draw);
        w.open("div");
        super::title(w, course, line);
        w.close().close();
    }
    w.close().newline();
}
