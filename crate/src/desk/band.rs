//! The week above the sheet: seven days, and in each part of the day the exercises by their number.

use super::Slot;
use crate::markup::Writer;
use crate::programme::Programme;
use crate::week::model::{Fault, Part};
use crate::week::{Laid, ShownSession};

/// The week as one slot. `repairable`: by repair of the shortage, whether it can be written into the text.
pub fn band(programme: &Programme, laid: Result<&Laid, &Fault>, repairable: &[bool]) -> Vec<Slot> {
    let mut html = Writer::new();
    html.open("div");
    course(&mut html, programme);
    match laid {
        Ok(laid) => write(&mut html, laid, repairable),
        Err(Fault(words)) => {
            html.open("p").attr("class", "grave").text(words).close();
        }
    }
    html.close();
    vec![Slot { key: "week".into(), html: html.finish().into_string() }]
}

/// Which week of the course is on view, and the way to the weeks before and after it.
fn course(html: &mut Writer, programme: &Programme) {
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

fn write(html: &mut Writer, laid: &Laid, repairable: &[bool]) {
    let shown = laid.shown();
    let has = |part: Part| move |session: &&ShownSession| session.part == part;
    let parts = Part::ALL
        .into_iter()
        .filter(|part| shown.days.iter().any(|day| day.sessions.iter().any(|s| s.part == *part)));
    html.open("table").open("caption").text("The week");
    if laid.week.weeks == 2 {
        html.text(if laid.shown_week == 2 { ", an even one of two" } else { ", an odd one of two" });
    }
    html.close().open("thead").open("tr").open("td").close();
    for day in &shown.days {
        html.open("th").attr("scope", "col").text(day.day.short()).close();
    }
    html.close().close().open("tbody");
    for part in parts {
        html.open("tr").open("th").attr("scope", "row").text(part.name()).close();
        for day in &shown.days {
            html.open("td");
            if let Some(session) = day.sessions.iter().find(has(part)) {
                let mut numbers: Vec<String> = Vec::new();
                for number in session.exercises.iter().map(|index| (index + 1).to_string()) {
                    if !numbers.contains(&number) {
                        numbers.push(number);
                    }
                }
                html.open("b").text(&numbers.join(" ")).close().text(" ");
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
