//! The days by themselves: for each session of a day, the exercises that belong to it and a box on every day that has it.

use super::Print;
use super::grid::{asked, called, cell, changes, heads};
use super::plan::{Course, Line};
use crate::markup::Writer;
use crate::week::model::Part;
use std::ops::Range;

/// One list of exercises, in one part of the day.
struct Session {
    part: Part,
    /// By place among the lines, in the order in which they are done.
    list: Vec<usize>,
    /// By place in [`Course::days`].
    days: Vec<usize>,
}

pub fn calendar(w: &mut Writer, course: &Course, lines: &[Line<'_>], print: Print) {
    if !lines.iter().any(|line| line.is_laid) {
        return;
    }
    w.open("div").attr("class", "days");
    // The heading is never left behind at the foot of a page.
    w.open("div").attr("class", "whole").element("h2", "Your days");
    let tick = "Tick a box when you have done the list above it.";
    w.open("p").attr("class", "ask").text(&asked(course, tick, changes(lines))).close();
    let mut all = blocks(course.days().len(), if print == Print::Large { 7 } else { 14 }).into_iter();
    all.by_ref().take(1).for_each(|block| fortnight(w, course, lines, block));
    w.close();
    all.for_each(|block| fortnight(w, course, lines, block));
    w.close().newline();
}

/// The days in pieces of so many; one or two left over go with the piece before.
fn blocks(days: usize, of: usize) -> Vec<Range<usize>> {
    let mut all: Vec<Range<usize>> = (0..days).step_by(of).map(|from| from..(from + of).min(days)).collect();
    if let [.., before, last] = all.as_mut_slice()
        && last.len() <= 2
    {
        before.end = days;
        all.pop();
    }
    all
}

fn sessions(course: &Course, lines: &[Line<'_>], block: Range<usize>) -> Vec<Session> {
    let mut all: Vec<Session> = Vec::new();
    for at in block {
        let due = course.days().get(at).map(|day| course.due(day)).unwrap_or_default();
        let line = |index: &usize| lines.iter().position(|l| l.index == *index && l.days.contains(&at));
        for (part, exercises) in due {
            let list: Vec<usize> = exercises.iter().filter_map(line).collect();
            match all.iter_mut().find(|s| s.part == part && s.list == list) {
                Some(session) => session.days.push(at),
                None => all.push(Session { part, list, days: vec![at] }),
            }
        }
    }
    crate::sorting::sort_by_key(&mut all, |session| session.part);
    all
}

fn fortnight(w: &mut Writer, course: &Course, lines: &[Line<'_>], block: Range<usize>) {
    let days = course.days().get(block.clone()).unwrap_or_default();
    let turns = |line: &Line<'_>, at: usize| line.changes.iter().any(|change| change.day == at);
    let sessions = sessions(course, lines, block.clone());
    w.open("table").attr("class", "calendar");
    heads(w, days, 0);
    for session in sessions {
        w.open("tbody").open("tr").open("th").attr("class", "session").attr("scope", "rowgroup");
        w.attr("colspan", &days.len().to_string());
        w.element("b", &format!("{}:", called(session.part)));
        let list: Vec<&Line<'_>> = session.list.iter().filter_map(|line| lines.get(*line)).collect();
        for (at, line) in list.iter().enumerate() {
            w.text(if at == 0 { " " } else { ", " });
            w.open("span").attr("class", "one").open("span").attr("class", "number");
            w.text(&line.number.to_string()).close().text(" ");
            w.open("bdi").text(&super::capital(&line.exercise.name)).close().close();
        }
        w.text(".").close().close().open("tr");
        for (at, day) in block.clone().zip(days) {
            let changes = list.iter().any(|line| turns(line, at));
            cell(w, day, changes, session.days.contains(&at));
        }
        w.close().close().newline();
    }
    w.close().newline();
    // What changes within these days, under them.
    let within = |line: &&Line<'_>| line.is_laid && line.changes.iter().any(|c| block.contains(&c.day));
    let changing: Vec<&Line<'_>> = lines.iter().filter(within).collect();
    if !changing.is_empty() {
        w.open("ul").attr("class", "turns");
        for line in changing {
            for change in line.changes.iter().filter(|c| block.contains(&c.day)) {
                w.open("li").open("b").text(&format!("{} ", line.number));
                w.open("bdi").text(&super::capital(&line.exercise.name)).close().close();
                w.text(&format!(". {}", change.words)).close();
            }
        }
        w.close().newline();
    }
}

#[cfg(test)]
mod tests {
    use super::blocks;

    #[test]
    fn a_day_or_two_are_never_alone() {
        let ends = |days| blocks(days, 14).iter().map(|block| block.end).collect::<Vec<_>>();
        for (days, wanted) in [(15, vec![15]), (16, vec![16]), (17, vec![14, 17]), (1, vec![1]), (0, vec![])]
        {
            assert_eq!(ends(days), wanted, "{days}");
        }
    }
}
