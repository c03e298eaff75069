//! Exercises with their days: each with a row of boxes for every part of the day that it is done in.

use super::plan::{Course, Day, Line, short};
use super::room::{self, Page};
use super::{Draw, picture};
use crate::markup::Writer;
use crate::measure::WEEKDAY_NAMES;
use crate::week::model::Part;

/// Days that still fit beside each other with boxes for a pen.
const DAYS: usize = 22;
/// Columns of the table before those of the days, millimetres: `handout.css` has the same.
const PICTURE: f64 = 27.0;
/// A row of boxes, the day's heads and the least height of a picture, millimetres.
const BOXES: f64 = 7.1;
const HEADS: f64 = 12.5;
const LEAST: f64 = 12.5;

/// Whether the days have room on one page at all.
pub fn has_room(course: &Course) -> bool {
    course.days().len() <= DAYS
}

/// How high the table comes out.
pub fn height(course: &Course, lines: &[Line<'_>], points: f64, page: Page) -> f64 {
    let rows = lines.iter().filter(|line| line.is_laid).map(|line| {
        let mut w = Writer::new();
        super::title(&mut w, course, line);
        let pieces = room::texts(w.finish().as_str());
        let words = room::flow(&pieces, page.width - PICTURE - 4.0, points + 0.5);
        let boxes = f64::from(u32::try_from(parts(course, line).len()).unwrap_or(0)) * BOXES;
        (room::high(words, points + 0.5) + boxes).max(LEAST) + 1.1
    });
    let rows = rows.fold(0.0, |all, row| all + row);
    if rows == 0.0 {
        return 0.0;
    }
    let said = room::lines(&asked(course, TICK, changes(lines)), page.width, 9.5, false);
    rows + HEADS + room::high(said, 9.5) + 2.8
}

/// The parts of the day in which an exercise is ever done, in order.
fn parts(course: &Course, line: &Line<'_>) -> Vec<Part> {
    let is_used = |part: &Part| line.days.clone().any(|at| is_due(course, line, at, *part));
    Part::ALL.into_iter().filter(is_used).collect()
}

fn is_due(course: &Course, line: &Line<'_>, at: usize, part: Part) -> bool {
    let due = course.days().get(at).map(|day| course.due(day)).unwrap_or_default();
    line.days.contains(&at) && due.iter().any(|(p, list)| *p == part && list.contains(&line.index))
}

/// The table.
pub fn table(w: &mut Writer, course: &Course, lines: &[Line<'_>], draw: Draw<'_>) {
    let laid: Vec<&Line<'_>> = lines.iter().filter(|line| line.is_laid).collect();
    if laid.is_empty() {
        return;
    }
    let days = course.days();
    let many = if 15 < days.len() { "grid many" } else { "grid" };
    w.open("table").attr("class", many);
    w.element("caption", &asked(course, TICK, changes(lines)));
    w.open("colgroup").open("col").attr("class", "picture").empty().open("col").attr("class", "part").empty();
    for _ in days {
        w.open("col").empty();
    }
    w.close();
    heads(w, days, 2);
    for line in laid {
        let parts = parts(course, line);
        w.open("tbody").open("tr");
        w.open("td").attr("class", "picture").attr("rowspan", &(parts.len() + 1).to_string());
        picture(w, line.exercise, draw);
        w.close();
        w.open("th").attr("class", "exercise").attr("scope", "rowgroup");
        w.attr("colspan", &(days.len() + 1).to_string());
        super::title(w, course, line);
        w.close().close();
        for part in parts {
            w.open("tr").open("th").attr("class", "part").attr("scope", "row").text(called(part)).close();
            for (at, day) in days.iter().enumerate() {
                let turns = line.changes.iter().any(|change| change.day == at);
                cell(w, day, turns, is_due(course, line, at, part));
            }
            w.close();
        }
        w.close().newline();
    }
    w.close().newline();
}

/// A part of the day as it is called on the sheet.
pub fn called(part: Part) -> &'static str {
    match part {
        Part::Morning => "Morning",
        Part::Midday => "Midday",
        Part::Evening => "Evening",
    }
}

const TICK: &str = "Tick a box when you have done it.";

/// Whether anything changes within the days.
pub fn changes(lines: &[Line<'_>]) -> bool {
    lines.iter().any(|line| line.is_laid && !line.changes.is_empty())
}

/// What the boxes are for, and the marks between them.
pub fn asked(course: &Course, tick: &str, changes: bool) -> String {
    let mut said = tick.to_string();
    if course.programme().review.is_some() {
        said.push_str(" Bring this sheet to your next visit.");
    }
    if changes {
        said.push_str(" A thick bar marks a change.");
    }
    said
}

/// The days above their boxes; `before` columns are left out.
pub fn heads(w: &mut Writer, days: &[Day], before: usize) {
    w.open("thead").open("tr");
    if 0 < before {
        w.open("td").attr("colspan", &before.to_string()).close();
    }
    let many = 15 < days.len();
    // Two months have no room beside each other.
    let turns = days.iter().skip(1).take(2).any(|day| day.date.is_some_and(|date| date.day() == 1));
    for (at, day) in days.iter().enumerate() {
        w.open("th").attr("scope", "col").attr("class", class(day, false));
        let weekday = WEEKDAY_NAMES.get(usize::from(day.weekday)).copied().unwrap_or("");
        let letters = if many { 2 } else { 3 };
        w.open("span").text(weekday.get(..letters).unwrap_or(weekday)).close().text(" ");
        match day.date {
            Some(date) => {
                w.element("b", &date.day().to_string());
                let words = short(date);
                let month = words.rsplit(' ').next().unwrap_or("");
                if day.is_review && !many {
                    w.text(" ").element("small", "visit");
                } else if (at == 0 && !(many && turns)) || date.day() == 1 {
                    w.text(" ").element("small", month);
                }
            }
            None => {
                w.open("b").attr("class", "blank").close();
            }
        }
        w.close();
    }
    w.close().close().newline();
}

fn class(day: &Day, turns: bool) -> &'static str {
    match (day.is_review, 4 < day.weekday, turns) {
        (true, _, false) => "visit",
        (true, _, true) => "visit turn",
        (false, true, false) => "off",
        (false, true, true) => "off turn",
        (false, false, true) => "turn",
        (false, false, false) => "",
    }
}

/// A day's place in a row: a box with its date, where something is due.
pub fn cell(w: &mut Writer, day: &Day, turns: bool, is_due: bool) {
    w.open("td").attr("class", class(day, turns));
    if is_due {
        w.open("span").attr("class", "box").attr("aria-hidden", "true");
        if let Some(date) = day.date {
            w.text(&date.day().to_string());
        }
        w.close();
    }
    w.close();
}
