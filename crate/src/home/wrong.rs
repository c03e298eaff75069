//! Something is wrong: the sheet's own lines, by how urgent they are, each to be pressed; and what then stands.

use super::answer::{self, UNSEEN, called};
use super::piece::{button, capital, heading, said, slot};
use super::plan::Plan;
use crate::diary::{Number, Urgency, When};
use crate::handout::safety::{self, Sign};
use crate::markup::{Slot, Writer};
use crate::measure::Date;
use crate::programme::tolerance;

/// The button that leads here: from Today, or from an exercise.
pub fn way(w: &mut Writer, at: Option<(When, usize)>) {
    let place = at.map_or(String::new(), |(when, at)| format!(" {} {at}", when.name()));
    button(w, "alarm", &format!("go wrong{place}"), "Something is wrong?");
}

/// The lines to choose from. `at`: the exercise that was being done.
pub fn view(plan: &mut Plan, today: Date, at: Option<(When, usize)>) -> Vec<Slot> {
    let programme = plan.programme(today);
    let when = at.map_or(When::AllDay, |(when, _)| when);
    let mut all = vec![slot("title", |w| {
        heading(w, "What is wrong?");
        w.element("p", "Tap the line that fits.");
        w.element("p", UNSEEN);
    })];
    let signs = safety::signs(&programme);
    for urgency in [Urgency::Help, Urgency::SameDay, Urgency::Call] {
        all.push(slot(&format!("signs {}", urgency.name()), |w| {
            w.element("h2", called(urgency));
            for (index, sign) in of(&signs, urgency).enumerate() {
                line(w, &format!("sign {today} {} {} {index}", when.name(), urgency.name()), sign.line);
            }
        }));
    }
    let here = at.and_then(|(when, at)| plan.list(today, when).get(at).copied());
    let here = here.and_then(|index| Some((Number::at(index)?, programme.exercises.get(index)?)));
    let bound = tolerance::okay(&programme);
    let okay = bound.most;
    if let Some((number, e)) = here {
        all.push(slot("signs exercise", |w| {
            w.open("h2").text("Stop this exercise: ").open("bdi").text(&capital(&e.name)).close().close();
            let act = format!("leave {today} {} {}", when.name(), number.get());
            line(w, &format!("{act} pain"), &format!("Pain above {}.", e.amount.pain.unwrap_or(okay)));
            for (index, words) in e.words.stop_if.iter().enumerate() {
                line(w, &format!("{act} {index}"), words);
            }
        }));
    } else {
        all.push(slot("signs pain", |w| {
            w.element("h2", &bound.above());
            match tolerance::ordered(&programme) {
                Some(words) => said(w, "p", &words),
                None => {
                    w.element("p", safety::LEAVE);
                }
            }
        }));
    }
    if let Some((day, when)) = super::today::unsettled(plan, today) {
        all.push(slot("signs settled", |w| {
            w.element("h2", "From last time");
            line(
                w,
                &format!("settled {day} {} no", when.name()),
                "Pain that had not settled by the next morning.",
            );
        }));
    }
    all.push(slot("move", |w| back(w, at)));
    all
}

/// The signs of one urgency, in the sheet's order.
pub fn of(signs: &[Sign], urgency: Urgency) -> impl Iterator<Item = &Sign> {
    signs.iter().filter(move |sign| sign.urgency == urgency)
}

fn line(w: &mut Writer, act: &str, words: &str) {
    w.open("button").attr("type", "button").attr("class", "sign").attr("dir", "auto");
    w.attr("data-do", act).attr("data-focus", act).text(words).close();
}

fn back(w: &mut Writer, at: Option<(When, usize)>) {
    match at {
        Some((when, at)) => {
            button(w, "plain", &format!("go do {} {at}", when.name()), "Back to the exercise")
        }
        None => button(w, "plain", "go today", "Back to today"),
    }
}

/// What stands of a sign that was met.
pub fn stop(plan: &mut Plan, today: Date) -> Vec<Slot> {
    let standing = answer::standing(plan, today);
    let Some((day, when, met)) = standing.met else {
        return vec![slot("title", |w| {
            heading(w, "Nothing is wrong");
            w.element("p", "You have not said that something is wrong.");
            button(w, "plain", "go today", "Back to today");
        })];
    };
    let programme = plan.programme(today);
    let act = format!("sign {day} {}", when.name());
    vec![
        slot("title", |w| {
            heading(w, called(met.urgency));
            said(w, "p", met.words());
        }),
        slot("met", |w| answer::to_met(w, &programme.who, &met)),
        slot("after", |w| {
            let words = match met.urgency {
                Urgency::Help | Urgency::SameDay => "I have been seen. I may go on.",
                Urgency::Call | Urgency::Exercise => "I have called. I may go on.",
            };
            button(w, "plain", &format!("{act} clear"), words);
            button(w, "plain", &format!("{act} none"), "I chose that by mistake");
            button(w, "plain", "go wrong", "Something else is wrong?");
            button(w, "plain", "go today", "Back to today");
        }),
    ]
}
