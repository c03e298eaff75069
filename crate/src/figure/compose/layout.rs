//! Frames side by side or below each other.

use super::{Frame, Label, MARGIN, Scene, TEXT_BESIDE};
use crate::figure::marks;
use crate::measure::shown;

/// Room between frames.
const BETWEEN: f64 = 26.0;
/// Breadth to height of the room that a figure gets on a sheet: 45 by 28 mm, common practice, no source.
const ROOM: f64 = 1.6;

pub(super) fn bounds(frame: &Frame) -> [f64; 4] {
    if let Some(crop) = frame.crop {
        return crop;
    }
    let mut b = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
    for g in frame.strokes.iter().flat_map(|s| &s.geos) {
        let o = g.bounds();
        b = [b[0].min(o[0]), b[1].min(o[1]), b[2].max(o[2]), b[3].max(o[3])];
    }
    for l in &frame.labels {
        let w = marks::text_width(&l.text, l.size) * 0.5;
        b = [
            b[0].min(l.x - w),
            b[1].min(l.y - l.size * 0.8),
            b[2].max(l.x + w),
            b[3].max(l.y + l.size * 0.2),
        ];
    }
    if b[0] < b[2] { b } else { [0.0, 0.0, 1.0, 1.0] }
}

/// Moves the frames to their places, in reading order, and answers breadth and height of the whole. Upright bodies
/// stand in a row; lying ones below each other, where they are larger than in a row. `numbered`: a sequence.
pub(super) fn arranged(frames: &mut [Frame], numbered: bool) -> (f64, f64) {
    let boxes: Vec<[f64; 4]> = frames.iter().map(bounds).collect();
    let n = frames.len();
    let mut best: Option<(f64, Rows)> = None;
    for columns in (1..=n).rev() {
        // An even number in each row, or a row would look forgotten.
        if n.is_multiple_of(columns) {
            let rows = Rows::of(frames, &boxes, columns);
            let scale = (ROOM / rows.width).min(1.0 / rows.height);
            // A row is read most easily: it must be clearly smaller to be given up.
            if best.as_ref().is_none_or(|(s, _)| *s * 1.05 < scale) {
                best = Some((scale, rows));
            }
        }
    }
    let Some((_, rows)) = best else { return (120.0, 120.0) };
    let spare = ((120.0 - rows.width).max(0.0) * 0.5, (120.0 - rows.height).max(0.0) * 0.5);
    for (i, (f, (b, at))) in frames.iter_mut().zip(boxes.iter().zip(&rows.at)).enumerate() {
        (f.dx, f.dy) = (at.0 + spare.0, at.1 + spare.1);
        if numbered && f.crop.is_none() {
            // Its number, in the top left corner of its frame.
            let y = rows.top.get(i).copied().unwrap_or(0.0) + TEXT_BESIDE * 0.74 - at.1;
            let x = b[0] + TEXT_BESIDE * 0.35;
            f.labels.push(Label { text: shown((i + 1) as f64, 0), x, y, size: TEXT_BESIDE });
        }
    }
    (rows.width.max(120.0).ceil(), rows.height.max(120.0).ceil())
}

/// Frames in rows of so many.
struct Rows {
    width: f64,
    height: f64,
    /// How far each frame is moved.
    at: Vec<(f64, f64)>,
    /// The top of each frame's row.
    top: Vec<f64>,
}

impl Rows {
    fn of(frames: &[Frame], boxes: &[[f64; 4]], columns: usize) -> Rows {
        let mut out = Rows { width: 0.0, height: MARGIN, at: Vec::new(), top: Vec::new() };
        let mut y = MARGIN;
        for (row, own) in frames.chunks(columns).zip(boxes.chunks(columns)) {
            // In a row the same ground where they have one.
            let first = row.iter().find_map(|f| f.ground);
            let grounded = |i: usize| row.get(i).is_some_and(|f| f.ground.is_some() && f.ground == first);
            let on_ground = || own.iter().enumerate().filter(|(i, _)| grounded(*i)).map(|(_, b)| b);
            let low = on_ground().map(|b| b[3]).fold(f64::MIN, f64::max);
            let high = on_ground().map(|b| b[1]).fold(f64::MAX, f64::min);
            let tallest = own.iter().map(|b| b[3] - b[1]).fold(low - high, f64::max);
            let mut x = MARGIN;
            for (i, b) in own.iter().enumerate() {
                let dy =
                    if grounded(i) { y + tallest - low } else { y + (tallest - (b[3] - b[1])) * 0.5 - b[1] };
                out.at.push((x - b[0], dy));
                out.top.push(y);
                x += b[2] - b[0] + BETWEEN;
            }
            out.width = out.width.max(x - BETWEEN + MARGIN);
            y += tallest + BETWEEN;
        }
        out.height = y - BETWEEN + MARGIN;
        out
    }
}

/// Each frame as a scene of its own.
pub(in crate::figure) fn apart(scene: &Scene) -> Vec<Scene> {
    let alone = |frame: &Frame| {
        let b = bounds(frame);
        let frame = Frame { dx: MARGIN - b[0], dy: MARGIN - b[1], ..frame.clone() };
        Scene {
            width: (b[2] - b[0] + 2.0 * MARGIN).max(120.0).ceil(),
            height: (b[3] - b[1] + 2.0 * MARGIN).max(120.0).ceil(),
            frames: vec![frame],
            ..scene.clone()
        }
    };
    scene.frames.iter().map(alone).collect()
}
