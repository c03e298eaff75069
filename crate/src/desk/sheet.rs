//! The living sheet: how the prescription reads, strip by strip.

use super::{Slot, look, tune};
use crate::handout::{self, News};
use crate::markup::{Markup, Writer};
use crate::measure::shown;
use crate::programme::{Drawn, Exercise, Known, OnSide, Programme};

/// The sheet's head: whom it is for and what they must not do.
pub fn head(programme: &Programme) -> Vec<Slot> {
    let mut html = Writer::new();
    html.open("div");
    let who = &programme.who;
    if let Some(title) = &who.title {
        html.open("p").attr("class", "title").text(title).close();
    }
    let patient = who.patient.clone().map(|name| match who.age {
        Some(age) => format!("{name}, {age}"),
        None => name,
    });
    let week = match programme.weeks {
        Some(weeks) => format!("week {} of {weeks}", programme.week_number),
        None => format!("week {}", programme.week_number),
    };
    let from = programme.week_starts.map(|day| format!("from {}", day.words()));
    let review = programme.review.map(|day| format!("review {}", day.words()));
    let parts: Vec<String> =
        [patient, Some(week), from, review].into_iter().flatten().filter(|part| !part.is_empty()).collect();
    html.element("p", &parts.join(" · "));
    if !programme.aims.is_empty() {
        html.open("p").attr("class", "aim").text(&programme.aims.join("; ")).close();
    }
    if !programme.do_not.is_empty() {
        html.open("div").attr("class", "donot").element("h3", "Do not").open("ul");
        for rule in &programme.do_not {
            html.open("li").text(&rule.words);
            if let Some(day) = rule.last_day {
                html.text(&format!(" (up to and including {})", day.words()));
            }
            if !rule.computed {
                html.open("span").attr("class", "aside").text(" not checked by computation").close();
            }
            html.close();
        }
        html.close().close();
    }
    for (head, rules) in programme.rules() {
        if rules.is_empty() {
            continue;
        }
        html.open("div").attr("class", "may").element("h3", head).open("ul");
        for rule in rules {
            html.open("li").text(&rule.words);
            if let Some(day) = rule.last_day {
                html.text(&format!(" (up to and including {})", day.words()));
            }
            html.close();
        }
        html.close().close();
    }
    let is_called = who.by.as_deref().is_some_and(look::has_telephone);
    let telephone = (!programme.exercises.is_empty() && !is_called).then(|| {
        "No telephone number: the sheet tells the patient to call you. Write it on “by:”.".to_string()
    });
    let beyond = programme.beyond.words().map(|what| format!("Not on this sheet: {what}."));
    for words in telephone.iter().chain(&beyond) {
        html.open("p").attr("class", "grave lacks").text(words).close();
    }
    html.close();
    vec![Slot { key: "head".into(), html: html.finish().into_string() }]
}

/// One slot for each heading and exercise, in the order typed. Keys follow the exercise, not its line, so
/// a line put in above redraws nothing below.
pub fn strips(
    programme: &Programme,
    news: Option<&News>,
    picture: &mut dyn FnMut(&Exercise, &Drawn) -> Markup,
) -> Vec<Slot> {
    let mut slots = Vec::new();
    let mut section = None;
    for (index, exercise) in programme.exercises.iter().enumerate() {
        if exercise.section != section || index == 0 {
            section = exercise.section;
            if let Some(heading) = section.and_then(|at| programme.sections.get(at)) {
                let mut html = Writer::new();
                html.open("h3").attr("class", "section").text(&heading.title);
                if let Some(rounds) = heading.rounds {
                    html.text(&format!(", {} rounds", rounds.high()));
                }
                html.close();
                slots.push(Slot { key: format!("section {index}"), html: html.finish().into_string() });
            } else if index == 0 {
                // So that no rank of headings is left out for those who go by them.
                let mut html = Writer::new();
                html.open("h3").attr("class", "unseen").text("Exercises").close();
                slots.push(Slot { key: "section".into(), html: html.finish().into_string() });
            }
        }
        let pictures: Vec<Markup> = exercise.drawn.iter().map(|drawn| picture(exercise, drawn)).collect();
        let mark =
            news.and_then(|news| news.marks.iter().find(|(at, _)| *at == index)).map(|(_, said)| *said);
        let html = strip(exercise, index + 1, mark, &pictures).into_string();
        let before = programme.exercises.iter().take(index).filter(|e| e.name == exercise.name).count();
        slots.push(Slot { key: format!("{} {before}", exercise.name), html });
    }
    if let Some(news) = news.filter(|news| !news.stopped.is_empty()) {
        let mut html = Writer::new();
        html.open("p")
            .attr("class", "mark")
            .text(&format!("No longer: {}.", news.stopped.join(", ")))
            .close();
        slots.push(Slot { key: "stopped".into(), html: html.finish().into_string() });
    }
    slots
}

/// The side beside a name; on the desk also where both do the same at once.
pub fn loud(exercise: &Exercise) -> &'static str {
    if exercise.side == OnSide::Together { "BOTH TOGETHER" } else { handout::side(exercise) }
}

fn strip(exercise: &Exercise, number: usize, mark: Option<&str>, pictures: &[Markup]) -> Markup {
    let mut html = Writer::new();
    let line = exercise.line.to_string();
    html.open("article").attr("class", "strip");
    html.open("h4").open("span").attr("class", "number").text(&number.to_string()).close();
    html.text(" ").text(&exercise.name);
    let side = loud(exercise);
    if !side.is_empty() {
        html.text(" ").open("span").attr("class", "side").text(side).close();
    }
    if let Some(at) = &exercise.at {
        html.text(" ").open("span").attr("class", "side").text(at).close();
    }
    html.text(" ").open("button").attr("type", "button").attr("class", "go").attr("data-go", &line);
    html.attr("data-focus", &format!("strip {number}")).text(&format!("line {line}")).close();
    html.close();
    if let Some(mark) = mark {
        html.open("p").attr("class", "mark").text(mark).close();
    }
    html.open("div").attr("class", "shown");
    if !pictures.is_empty() {
        html.open("div").attr("class", "figures");
        for (picture, drawn) in pictures.iter().zip(&exercise.drawn) {
            html.open("figure").insert(picture);
            let held: Vec<String> = drawn
                .movement
                .held
                .iter()
                .map(|(angle, limit)| format!("{} held at {}°", angle.name(), shown(*limit, 0)))
                .collect();
            if drawn.landmark.is_some() || !held.is_empty() {
                html.open("figcaption");
                if !held.is_empty() {
                    html.open("b").attr("class", "held").text(&held.join("; ")).close().text(" ");
                }
                html.text(drawn.landmark.as_deref().unwrap_or("")).close();
            }
            html.close();
        }
        html.close();
    }
    html.open("div").attr("class", "dosed");
    html.open("p").attr("class", "dose").text(&exercise.amount.dose.to_string()).close();
    if !exercise.active {
        let when = if exercise.is_coming { "not yet in this week" } else { "no longer in this week" };
        html.open("p").attr("class", "aside").text(when).close();
    }
    let minutes = exercise.seconds.go.div_ceil(60);
    if 0 < minutes {
        html.open("p").attr("class", "aside").text(&format!("about {minutes} min each go")).close();
    }
    if exercise.known == Known::Unknown {
        html.open("p")
            .attr("class", "aside")
            .text("Not in the catalog: it is handed over with its dose, without a figure.")
            .close();
    }
    html.close().close().open("div").attr("class", "says");
    let words = &exercise.words;
    let set_up: Vec<String> = words.side.iter().chain(&words.set_up).cloned().collect();
    for (label, lines) in [
        ("Why", &words.why),
        ("Set up", &set_up),
        ("Do", &words.cues),
        ("Feel", &words.feel),
        ("If not felt", &words.if_not_felt),
        ("Easier", &words.easier),
        ("Harder", &words.harder),
        ("Note", &words.note),
        ("Stop if", &words.stop_if),
    ] {
        if !lines.is_empty() {
            html.open("p").open("b").text(label).close().text(" ").text(&lines.join(" ")).close();
        }
    }
    for later in &exercise.steps {
        html.open("p").open("b").text(&later.when).close().text(" ").text(&later.what).close();
    }
    if let Some(reason) = &exercise.anyway {
        html.open("p").attr("class", "aside").text(&format!("Kept by you: {reason}")).close();
    }
    html.close();
    tune::controls(&mut html, exercise, number);
    html.close();
    html.finish()
}

/// What was checked by computation, and what was not.
pub fn checks(programme: &Programme) -> Vec<Slot> {
    let mut html = Writer::new();
    html.open("div");
    for (title, list, none) in [
        ("Checked by computation", &programme.checked, "Nothing yet."),
        ("Not checked: yours to judge", &programme.unchecked, "Nothing is left over."),
    ] {
        html.open("section").element("h3", title);
        if list.is_empty() {
            html.element("p", none);
        } else {
            html.open("ul");
            for sentence in list {
                html.element("li", sentence);
            }
            html.close();
        }
        html.close();
    }
    html.close();
    vec![Slot { key: "checks".into(), html: html.finish().into_string() }]
}
