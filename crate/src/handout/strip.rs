//! Each exercise as a strip, and what the sheet is not.

use super::plan::{Course, Line};
use super::{Draw, News, Wanted, dose, doses, name, said};
use crate::markup::Writer;
use crate::programme::Exercise;

/// `notes`: there is still no space to write. `apart`: what the sheet is not stands behind the last strip, not with it, since a
/// strip in large print may fill its page.
pub fn strips(
    w: &mut Writer,
    course: &Course,
    lines: &[Line<'_>],
    news: &News,
    (notes, apart): (bool, bool),
    draw: Draw<'_>,
) {
    if !news.stopped.is_empty() {
        said(w, "p", "later", &format!("No longer: {}.", news.stopped.join(", ")));
    }
    w.open("div").attr("class", "strips");
    let coming = course.coming();
    let told: Vec<&Line<'_>> =
        lines.iter().filter(|line| line.is_laid || !line.exercise.words_are_empty()).chain(&coming).collect();
    let mut section = None;
    for (at, line) in told.iter().enumerate() {
        let e = line.exercise;
        let sections = &line.programme.sections;
        let rounds = e.section.and_then(|s| sections.get(s)).filter(|s| s.rounds.is_some());
        let opens = rounds.filter(|_| e.section != section);
        section = e.section;
        let mark = news.marks.iter().find(|(at, _)| *at == line.index).map(|(_, said)| *said);
        w.open("article").attr("class", if e.drawn.is_empty() { "strip plain" } else { "strip" });
        strip(w, course, line, mark, opens.and_then(|s| s.rounds), draw);
        // With the last of them, so that no sheet holds the last sentence alone.
        if !apart && at + 1 == told.len() {
            end(w, notes);
        }
        w.close().newline();
    }
    w.close().newline();
    if apart || told.is_empty() {
        end(w, notes);
    }
}

fn strip(
    w: &mut Writer,
    course: &Course,
    line: &Line<'_>,
    mark: Option<&str>,
    rounds: Option<crate::measure::Counts>,
    draw: Draw<'_>,
) {
    let e = line.exercise;
    w.open("div").attr("class", "title");
    name(w, "h2", line.number, e);
    w.text(" ");
    doses(w, e);
    super::changes(w, "p", course, line);
    w.close();
    if let Some(mark) = mark {
        w.open("p").attr("class", "later").element("strong", mark).close();
    }
    if let Some(rounds) = rounds {
        let most = rounds.to_string();
        w.open("p")
            .attr("class", "rounds")
            .text(&format!("Do this and those after it {most} times in turn."))
            .close();
    }
    if let Some(drawn) = e.drawn.first() {
        let frames = draw(e, drawn, Wanted::Strip);
        if !frames.is_empty() {
            w.open("div").attr("class", if 1 < frames.len() { "frames two" } else { "frames" });
            for frame in frames {
                w.open("div").attr("class", "figure").attr("role", "img").attr("aria-label", &frame.words);
                w.insert(&frame.svg).close();
            }
            w.close();
        }
    }
    w.open("div").attr("class", "says");
    let extras = dose::extras(&e.amount);
    if !extras.is_empty() {
        said(w, "p", "extras", &extras.join(" "));
    }
    let words = &e.words;
    for why in &words.why {
        said(w, "p", "why", why);
    }
    let steps = e.told();
    if !steps.is_empty() {
        w.open("ol").attr("class", "steps");
        for step in steps {
            // A space parts them where the style runs them on.
            said(w, "li", "", step);
            w.text(" ");
        }
        w.close();
    }
    w.open("dl");
    pair(w, "Stop if", &words.stop_if);
    pair(w, "Feel", &words.feel);
    pair(w, "Not felt?", &words.if_not_felt);
    pair(w, "Easier", &words.easier);
    pair(w, "Harder", &words.harder);
    pair(w, "Note", &words.note);
    w.close();
    // What begins within the days of the sheet is told by its date.
    let last = course.days().last().map_or(0, |day| day.week);
    for later in e.steps.iter().filter(|later| later.from.is_none_or(|week| last < week)) {
        said(w, "p", "later", &format!("{}: {}.", later.when, later.what));
    }
    w.close();
}

fn pair(w: &mut Writer, term: &str, lines: &[String]) {
    if !lines.is_empty() {
        w.element("dt", term).text(" ");
        said(w, "dd", "", &lines.join(" "));
        w.text(" ");
    }
}

fn end(w: &mut Writer, notes: bool) {
    w.open("div").attr("class", "end");
    if notes {
        super::front::notes(w);
    }
    w.open("p").attr("class", "isnot");
    w.text("This sheet is for you alone. It was made for you after a check-up; do not lend it. ");
    w.text("It does not take the place of seeing a doctor or a physiotherapist when you are unwell.").close();
    w.close();
}

impl Exercise {
    /// Whether there is nothing to say beyond the dose.
    fn words_are_empty(&self) -> bool {
        let w = &self.words;
        let lists =
            [&w.set_up, &w.cues, &w.feel, &w.if_not_felt, &w.easier, &w.harder, &w.why, &w.note, &w.stop_if];
        let later = !self.steps.is_empty() || !dose::extras(&self.amount).is_empty();
        lists.iter().all(|l| l.is_empty()) && self.drawn.is_empty() && !later
    }
}
