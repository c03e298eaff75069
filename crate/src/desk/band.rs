//! The week above the sheet: seven days, and in each part of the day the exercises by their number.

use super::Slot;
use crate::markup::Writer;
use crate::programme::Programme;
use crate::week::model::Day;
use crate::week::model::{Fault, Part};
use crate::week::moved::Moved;
use crate::week::phases::{Course, What};
use crate::week::plot::plot;
use crate::week::{Laid, Shown, ShownDay, ShownSession};

/// The week as one slot. `repairable`: by repair of the shortage, whether it can be written into the text.
pub fn band(
    programme: &Programme,
    laid: Result<&Laid, &Fault>,
    repairable: &[bool],
    carried: Option<&Carried>,
) -> Vec<Slot> {
    let mut html = Writer::new();
    html.open("div");
    weeks(&mut html, programme);
    match laid {
        Ok(laid) => write(&mut html, programme, laid, repairable, carried),
        Err(Fault(words)) => {
            html.open("p").attr("class", "grave").text(words).close();
        }
    }
    html.close();
    vec![Slot { key: "week".into(), html: html.finish().into_string() }]
}

/// An exercise that was taken out of a day, and what putting it into each other day would do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    /// Its place in the programme's list.
    pub exercise: usize,
    pub from: Day,
    pub moves: Vec<(Day, Moved)>,
}

/// Which week of the course is on view, and the way to the weeks before and after it.
fn weeks(html: &mut Writer, programme: &Programme) {
    let Some(weeks) = programme.weeks.map(u32::from).filter(|weeks| 1 < *weeks) else { return };
    let week = programme.week_number;
    html.open("p").attr("class", "course");
    let go = |html: &mut Writer, to: u32, focus: &str, words: &str| {
        html.open("button").attr("type", "button").attr("class", "quiet");
        html.attr("data-week", &to.to_string()).attr("data-focus", focus).text(words).close().text(" ");
    };
    if 1 < week {
        go(html, week - 1, "week before", &format!("Week {}", week - 1));
    }
    html.open("b").text(&format!("Week {week} of {weeks}")).close();
    if let Some(day) = programme.week_starts {
        html.text(&format!(", from {}", day.words()));
    }
    html.text(" ");
    if week < weeks {
        go(html, week + 1, "week after", &format!("Week {}", week + 1));
    }
    html.close();
}

fn write(
    html: &mut Writer,
    programme: &Programme,
    laid: &Laid,
    repairable: &[bool],
    carried: Option<&Carried>,
) {
    let shown = laid.shown();
    let is_used = |part: &Part| shown.days.iter().any(|day| day.sessions.iter().any(|s| s.part == *part));
    let parts: Vec<Part> = Part::ALL.into_iter().filter(is_used).collect();
    if programme.exercises.is_empty() {
        html.open("p")
            .attr("class", "aside")
            .text("The week stands here once an exercise is prescribed.")
            .close();
    }
    // An empty grid says nothing.
    if !parts.is_empty() {
        grid(html, programme, laid, &shown, &parts, carried);
    }
    if let Some(carried) = carried {
        carrying(html, programme, carried);
    }
    if !laid.all_day.is_empty() {
        html.open("p").open("b").text("All day").close();
        let items: Vec<String> = laid
            .all_day
            .iter()
            .map(|(index, item)| {
                let cap = item.cap.map(|cap| format!(", at most {cap} a day")).unwrap_or_default();
                format!("{} {}: {}{cap}", index + 1, item.name, item.when)
            })
            .collect();
        html.text(&format!(" {}.", items.join("; "))).close();
    }
    let sentences = shown.unplaced.iter().map(|u| &u.reason).chain(&laid.week.broken);
    for sentence in sentences.chain(laid.shortage.iter().map(|s| &s.reason)) {
        html.open("p").attr("class", "grave").text(sentence).close();
    }
    let repairs = laid.shortage.iter().flat_map(|s| &s.repairs);
    let mut repairs = repairs.peekable();
    if repairs.peek().is_some() {
        html.open("ul").attr("class", "repairs");
        for (index, repair) in repairs.enumerate() {
            html.open("li").text(&repair.words);
            if repairable.get(index) == Some(&true) {
                let index = index.to_string();
                html.text(" ").open("button").attr("type", "button").attr("data-repair", &index);
                html.attr("data-focus", &format!("repair {index}")).text("Write it").close();
            }
            html.close();
        }
        html.close();
    }
    if !shown.proved {
        html.open("p").attr("class", "aside");
        html.text("This week is good, but it is not proved that there is no better one.").close();
    }
}

/// The days and their parts, with the exercises by their numbers.
fn grid(
    html: &mut Writer,
    programme: &Programme,
    laid: &Laid,
    shown: &Shown,
    parts: &[Part],
    carried: Option<&Carried>,
) {
    let has = |part: Part| move |session: &&ShownSession| session.part == part;
    html.open("table").open("caption").text("The week");
    if laid.week.weeks == 2 {
        html.text(", one of two that take turns");
    }
    html.close().open("thead").open("tr").open("td").close();
    // From the first day of the week on, which need not be a Monday: so the days stand as they do on the sheet.
    let order = laid.view.order();
    let days: Vec<&ShownDay> = order.iter().filter_map(|day| shown.days.get(*day as usize)).collect();
    for day in &days {
        html.open("th").attr("scope", "col").attr("data-day", day.day.short());
        let to =
            carried.and_then(|c| c.moves.iter().find(|(to, _)| *to == day.day).map(|(_, moved)| (c, moved)));
        match to {
            Some((carried, moved)) => {
                let name = programme.exercises.get(carried.exercise).map_or("", |e| e.name.as_str());
                let said =
                    if moved.breaks.is_empty() { "nothing breaks".into() } else { moved.breaks.join(" ") };
                html.open("button")
                    .attr("type", "button")
                    .attr("data-do", &format!("drop {}", day.day.short()));
                html.attr("data-focus", &format!("drop {}", day.day.short()));
                html.attr(
                    "aria-label",
                    &format!("to {}, {}, with {name}: {said}", day.day.short(), day.day.name()),
                );
                html.text(&format!("to {}", day.day.short())).close();
            }
            None => {
                html.text(day.day.short());
            }
        }
        if let Some(date) = laid.view.dates.get(day.day as usize).copied().flatten() {
            let words = date.words();
            let short = words.rsplit_once(' ').map_or(words.as_str(), |(day, _)| day);
            html.text(" ").open("small").text(short).close();
        }
        html.close();
    }
    html.close().close().open("tbody");
    for part in parts.iter().copied() {
        html.open("tr").open("th").attr("scope", "row").text(part.name()).close();
        for day in &days {
            html.open("td").attr("data-day", day.day.short());
            if let Some(session) = day.sessions.iter().find(has(part)) {
                let mut put: Vec<usize> = Vec::new();
                for index in &session.exercises {
                    if !put.contains(index) {
                        put.push(*index);
                        number(html, programme, *index, day.day, carried);
                    }
                }
                html.open("span").text(&format!("{} min", session.minutes)).close();
            }
            let over = shown.overtime.iter().find(|o| o.day == day.day && o.part == Some(part));
            if let Some(over) = over {
                html.text(" ").open("span").attr("class", "over");
                html.text(&format!("{} over", over.minutes)).close();
            }
            html.close();
        }
        html.close();
    }
    html.close().close();
}

/// An exercise in a day, as a button that takes it out.
fn number(html: &mut Writer, programme: &Programme, index: usize, day: Day, carried: Option<&Carried>) {
    let name = programme.exercises.get(index).map_or("", |e| e.name.as_str());
    let is_carried = carried.is_some_and(|c| c.exercise == index && c.from == day);
    let act = if is_carried { "carry none".into() } else { format!("carry {index} {}", day.short()) };
    html.open("button").attr("type", "button").attr("class", "carry").attr("data-do", &act);
    html.attr("data-focus", &format!("carry {index} {}", day.short()));
    html.attr("aria-pressed", if is_carried { "true" } else { "false" });
    html.attr("aria-label", &format!("{}, {name}: move from {}", index + 1, day.name())).attr("title", name);
    html.text(&(index + 1).to_string()).close().text(" ");
}

/// What each day would mean for what is carried.
fn carrying(html: &mut Writer, programme: &Programme, carried: &Carried) {
    let name = programme.exercises.get(carried.exercise).map_or("", |e| e.name.as_str());
    html.open("div").attr("class", "carrying").attr("role", "status");
    html.open("p").open("b").text(&format!("{name}, from {}", carried.from.name())).close();
    html.text(". Choose its day above, or drag it there. ");
    html.open("button").attr("type", "button").attr("class", "quiet").attr("data-do", "carry none");
    html.attr("data-focus", "carry none").text("Leave it").close().close();
    let good: Vec<&str> =
        carried.moves.iter().filter(|(_, m)| m.breaks.is_empty()).map(|(day, _)| day.short()).collect();
    html.open("ul");
    if !good.is_empty() {
        html.element("li", &format!("{}: nothing breaks.", good.join(", ")));
    }
    for (day, moved) in carried.moves.iter().filter(|(_, m)| !m.breaks.is_empty()) {
        html.element("li", &format!("{}: {}", day.short(), moved.breaks.join(" ")));
    }
    if carried.moves.is_empty() {
        html.element("li", "There is no other day for it.");
    }
    html.close().close();
}

/// The course: what changes when, and the sets a week of each muscle group.
pub fn course(course: &Course) -> Slot {
    let mut html = Writer::new();
    html.open("details").attr("class", "course-plot").open("summary").attr("data-focus", "course");
    html.text("The course, week by week");
    let later = course.later.len() + course.large_steps.len();
    if 0 < later {
        // What is found only in a later week must not hide in the fold.
        let words = if later == 1 { "1 thing to note".into() } else { format!("{later} things to note") };
        html.text(" ").open("b").attr("class", "grave").text(&format!("{words} in later weeks")).close();
    }
    html.close();
    html.open("div").attr("class", "courses").open("div");
    for week in &course.weeks {
        if week.changes.is_empty() && 1 < week.number {
            continue;
        }
        html.open("p").open("b").text(&format!("Week {}", week.number)).close();
        html.text(&format!(", about {} min", week.minutes));
        let changes: Vec<String> = week
            .changes
            .iter()
            .map(|change| match change.what {
                // A dose says itself what is more or less.
                What::More | What::Less | What::Different | What::Instead | What::Side => {
                    change.words.clone()
                }
                What::New | What::Stopped | What::LimitEnded | What::LimitBegins => {
                    format!("{} {}", change.what.word(), change.words)
                }
            })
            .collect();
        if !changes.is_empty() {
            html.text(&format!(": {}", changes.join("; ")));
        }
        html.text(".").close();
    }
    for step in &course.large_steps {
        html.open("p").attr("class", "grave").text(&step.words).close();
    }
    for (week, notice) in &course.later {
        html.open("p")
            .attr("class", "grave")
            .text(&format!("From week {week}: {}", notice.sentence()))
            .close();
    }
    html.close();
    let plot = plot(course);
    if !plot.is_empty() {
        html.open("div").open("p").open("b").text("Sets a week by muscle group").close().close();
        html.insert(&plot).close();
    }
    html.close().close();
    Slot { key: "course".into(), html: html.finish().into_string() }
}
