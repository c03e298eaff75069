//! After the last exercise of a part of the day.

use super::answer;
use super::piece::{button, heading, slot};
use super::plan::Plan;
use super::today::{LATER, WORST, is_done, pain};
use super::wrong;
use crate::diary::{Asked, When};
use crate::markup::Slot;
use crate::measure::Date;

pub fn view(plan: &mut Plan, today: Date, when: When) -> Vec<Slot> {
    let list = plan.list(today, when);
    let programme = plan.programme(today);
    let done = list.iter().filter(|i| is_done(plan, today, when, **i)).count();
    let asked = Asked::of(programme.ask.as_deref());
    let standing = answer::standing(plan, today);
    let mut all = vec![slot("title", |w| match (standing.is_fine(), done == list.len()) {
        (true, true) => heading(w, "Well done. That is all."),
        (true, false) => {
            heading(w, "That was the last one.");
            w.element("p", &format!("{done} of {} ticked. What you did is enough.", list.len()));
        }
        // After a bad answer nobody is praised.
        (false, _) => {
            heading(w, "The session is over");
            w.element("p", &format!("{done} of {} ticked.", list.len()));
        }
    })];
    if done < list.len() && !standing.halts() {
        all.push(slot("rest", |w| {
            button(w, "plain", &format!("all {today} {} yes", when.name()), "Tick all as done");
        }));
    }
    if asked.pain && when != When::AllDay {
        let reply = answer::of_pain(plan, today, today, when);
        all.push(slot("pain", |w| {
            w.element("h2", WORST);
            pain(w, plan.diary.session(today, when), today, when);
            if let Some(reply) = reply {
                reply.write(w, &programme.who);
            }
        }));
    }
    if asked.settled && when != When::AllDay {
        all.push(slot("later", |w| {
            w.element("p", LATER);
        }));
    }
    all.push(slot("wrong", |w| wrong::way(w, None)));
    all.push(slot("move", |w| {
        button(w, if standing.is_fine() { "main" } else { "plain" }, "go today", "Back to today");
    }));
    all
}
