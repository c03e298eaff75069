//! Sets a week by muscle group over the course, as a small plot for the clinician.

use super::phases::Course;
use crate::markup::{Markup, Writer};

/// Groups that are drawn; the others are told in the words.
const MOST_ROWS: usize = 8;
/// Units of the plot: names to the left, a row for each group, a bar for each week. One unit is one CSS pixel.
const NAMES: u32 = 120;
const WIDTH: u32 = 340;
const ROW: u32 = 26;
const BAR: u32 = 18;
/// The desk's accent (`www/desk.css`); dark in grey, and the numbers say the same.
const ACCENT: &str = "#8a3414";
const INK: &str = "#1c1917";

/// The plot: a row of bars for each group, first and last number written, a thin line where a phase begins.
/// Empty where nothing is loaded. At most 6 KB up to 52 weeks.
pub fn plot(course: &Course) -> Markup {
    let mut w = Writer::new();
    let rows = rows(course);
    if rows.is_empty() {
        return w.finish();
    }
    let weeks = course.weeks.len().max(1) as u32;
    let most = rows.iter().flat_map(|(_, sets)| sets).copied().max().unwrap_or(1).max(1);
    let left = |week: u32| NAMES + 30 + (WIDTH - NAMES - 60) * week / weeks;
    let height = rows.len() as u32 * ROW + 22;
    w.open("svg")
        .attr("xmlns", "http://www.w3.org/2000/svg")
        .attr("viewBox", &format!("0 0 {WIDTH} {height}"));
    w.attr("class", "volume").attr("role", "img").attr("aria-label", &words(course));
    w.attr("font-size", "11").attr("fill", INK);
    let mut lines = String::new();
    for first in course.phases().into_iter().skip(1) {
        lines.push_str(&format!("M{} 0V{}", left(first - 1), rows.len() as u32 * ROW));
    }
    if !lines.is_empty() {
        w.open("path").attr("d", &lines).attr("stroke", INK).attr("stroke-width", ".5");
        w.attr("stroke-dasharray", "2 2").attr("fill", "none").empty();
    }
    for (at, (group, sets)) in rows.iter().enumerate() {
        let foot = (at as u32 + 1) * ROW - 3;
        let mut bars = String::new();
        // Weeks with as many sets stand as one bar.
        let mut week = 0_u32;
        for run in sets.chunk_by(|a, b| a == b) {
            let (x, next) = (left(week), left(week + run.len() as u32));
            week += run.len() as u32;
            let tall = (BAR * run.first().copied().unwrap_or_default()).div_ceil(most);
            if 0 < tall {
                bars.push_str(&format!(
                    "M{x} {foot}v-{tall}h{}v{tall}z",
                    (next - x).saturating_sub(1).max(1)
                ));
            }
        }
        w.open("path").attr("d", &bars).attr("fill", ACCENT).empty();
        let first = sets.first().copied().unwrap_or_default();
        let last = sets.last().copied().unwrap_or_default();
        text(&mut w, NAMES, foot - 2, "end", group);
        text(&mut w, NAMES + 26, foot - 2, "end", &first.to_string());
        text(&mut w, WIDTH - 26, foot - 2, "start", &last.to_string());
    }
    let base = rows.len() as u32 * ROW + 14;
    text(&mut w, left(0), base, "start", "week 1");
    if 1 < weeks {
        text(&mut w, WIDTH - 30, base, "end", &weeks.to_string());
    }
    w.finish()
}

fn text(w: &mut Writer, x: u32, y: u32, anchor: &str, said: &str) {
    w.open("text").attr("x", &x.to_string()).attr("y", &y.to_string());
    w.attr("text-anchor", anchor).text(said).close();
}

/// The groups that are drawn, those with most sets first, in the order of the course where they have as many.
fn rows(course: &Course) -> Vec<(&str, Vec<u32>)> {
    let mut rows: Vec<(&str, Vec<u32>)> = course
        .groups
        .iter()
        .enumerate()
        .map(|(at, group)| {
            let sets = course.weeks.iter().map(|w| w.sets.get(at).copied().unwrap_or_default()).collect();
            (group.as_str(), sets)
        })
        .collect();
    crate::sorting::sort_by_key(&mut rows, |(_, sets)| {
        u32::MAX - sets.iter().copied().fold(0, u32::saturating_add)
    });
    rows.retain(|(_, sets)| sets.iter().any(|sets| 0 < *sets));
    rows.truncate(MOST_ROWS);
    rows
}

/// The plot in words: each group's sets in week 1 and wherever they change.
fn words(course: &Course) -> String {
    let rows = rows(course);
    let mut out = format!("Sets a week by muscle group over {} weeks.", course.weeks.len());
    for (group, sets) in &rows {
        let mut told: Vec<String> = Vec::new();
        let mut last = None;
        for (week, sets) in sets.iter().enumerate() {
            if last != Some(*sets) {
                told.push(format!("week {} {sets}", week + 1));
                last = Some(*sets);
            }
        }
        // A dose that grows every week: beginning, middle and end tell it.
        if 4 < told.len() {
            let keep = [0, told.len() / 2, told.len() - 1];
            told = keep.iter().filter_map(|at| told.get(*at).cloned()).collect();
        }
        out.push_str(&format!(" {group}: {}.", told.join(", ")));
    }
    out
}
