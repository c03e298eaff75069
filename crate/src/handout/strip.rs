//! Each exercise as a strip, and what the sheet is not.

use super::plan;
use super::{Draw, News, Wanted, dose, line, name, said, tick};
use crate::catalog::terms::Purpose;
use crate::markup::Writer;
use crate::programme::{Exercise, Programme};

/// `notes`: there is still no space to write.
pub fn pages(w: &mut Writer, p: &Programme, draw: Draw<'_>, news: &News, notes: bool) {
    w.open("section").attr("class", "sheet detail").newline();
    if !news.stopped.is_empty() {
        said(w, "p", "later", &format!("No longer: {}.", news.stopped.join(", ")));
    }
    w.open("div").attr("class", "strips");
    // Numbers follow the front page: what is on the calendar first.
    let active = || p.exercises.iter().enumerate().filter(|(_, e)| e.active);
    let laid = active().filter(|(_, e)| !plan::is_all_day(e));
    let beside = active().filter(|(_, e)| plan::is_all_day(e) && !e.words_are_empty());
    let mut section = None;
    for (number, (index, e)) in laid.chain(beside).enumerate() {
        let rounds = e.section.and_then(|s| p.sections.get(s)).filter(|s| s.rounds.is_some());
        let opens = rounds.filter(|_| e.section != section);
        section = e.section;
        let mark = news.marks.iter().find(|(at, _)| *at == index).map(|(_, said)| *said);
        strip(w, number + 1, e, mark, opens.and_then(|s| s.rounds), draw);
    }
    w.close().newline();
    // Together, so that no sheet holds the last sentence alone.
    w.open("div").attr("class", "end");
    if notes {
        super::front::notes(w);
    }
    end(w);
    w.close().close().newline();
}

fn strip(
    w: &mut Writer,
    number: usize,
    e: &Exercise,
    mark: Option<&str>,
    rounds: Option<crate::measure::Counts>,
    draw: Draw<'_>,
) {
    w.open("article").attr("class", if e.drawn.is_empty() { "strip plain" } else { "strip" });
    w.open("div").attr("class", "title");
    name(w, "h2", number, e);
    for work in dose::work(e) {
        line(w, "dose", &work);
    }
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
    pair(w, "Feel", &words.feel);
    pair(w, "Not felt?", &words.if_not_felt);
    pair(w, "Easier", &words.easier);
    pair(w, "Harder", &words.harder);
    pair(w, "Note", &words.note);
    pair(w, "Stop if", &words.stop_if);
    w.close();
    for later in e.steps.iter() {
        said(w, "p", "later", &format!("{}: {}", later.when, later.what));
    }
    if !plan::is_all_day(e) && !matches!(e.purpose, Purpose::Advise) {
        w.open("div").attr("class", "ticks");
        for day in crate::measure::WEEKDAY_NAMES {
            w.open("span").text(day.get(..1).unwrap_or("")).text(" ");
            tick(w);
            w.close();
        }
        w.close();
    }
    w.close().close().newline();
}

fn pair(w: &mut Writer, term: &str, lines: &[String]) {
    if !lines.is_empty() {
        w.element("dt", term).text(" ");
        said(w, "dd", "", &lines.join(" "));
        w.text(" ");
    }
}

fn end(w: &mut Writer) {
    w.open("p").attr("class", "isnot");
    w.text("This sheet is for you alone. It was made for you after a check-up; do not lend it. ");
    w.text("It does not take the place of seeing a doctor or a physiotherapist when you are unwell.").close();
}

impl Exercise {
    /// Whether there is nothing to say beyond the dose.
    fn words_are_empty(&self) -> bool {
        let w = &self.words;
        let lists =
            [&w.set_up, &w.cues, &w.feel, &w.if_not_felt, &w.easier, &w.harder, &w.why, &w.note, &w.stop_if];
        lists.iter().all(|l| l.is_empty()) && self.drawn.is_empty()
    }
}
