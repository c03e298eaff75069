//! The week, and a day to fill in.

use super::answer;
use super::piece::{button, heading, long, name, short, slot};
use super::plan::Plan;
use super::today::{WORST, called, is_done, pain, settled, summary, ticked, why};
use crate::diary::{Asked, When};
use crate::markup::Slot;
use crate::measure::Date;

/// The week so many weeks back, Monday first.
pub fn week(plan: &mut Plan, today: Date, back: i32) -> Vec<Slot> {
    let monday = today.plus_days(-i32::from(today.weekday()) - 7 * back);
    let mut all = vec![slot("title", |w| {
        match back {
            0 => heading(w, "This week"),
            1 => heading(w, "Last week"),
            -1 => heading(w, "Next week"),
            _ => heading(w, &format!("Week of {}", short(monday))),
        }
        w.element("p", "Press a day to fill it in.");
    })];
    let days: Vec<(Date, String)> =
        (0..7).map(|n| monday.plus_days(n)).map(|day| (day, summary(plan, day))).collect();
    let begins = plan.begins();
    all.push(slot("days", |w| {
        w.open("ul");
        for (day, words) in days {
            w.open("li");
            let open = day <= today && begins.is_none_or(|first| first <= day);
            if open {
                w.open("button").attr("type", "button").attr("class", "day");
                let act = format!("go day {day}");
                w.attr("data-do", &act).attr("data-focus", &act);
            } else {
                w.open("div").attr("class", "day");
            }
            if day == today {
                w.attr("aria-current", "date");
            }
            let date = if day == today { format!("{}, today", short(day)) } else { short(day) };
            w.open("b").text(&date).close().text(" ");
            w.open("span").text(&words).close();
            w.close().close();
        }
        w.close();
    }));
    all.push(slot("move", |w| {
        if begins.is_none_or(|first| first < monday) && back < 104 {
            button(w, "plain", &format!("go week {}", back + 1), "Week before");
        }
        if -52 < back {
            button(w, "plain", &format!("go week {}", back - 1), "Week after");
        }
    }));
    all
}

/// One day to fill in.
pub fn day(plan: &mut Plan, today: Date, day: Date) -> Vec<Slot> {
    let mut all = vec![slot("title", |w| {
        heading(w, &long(day));
        if today < day {
            w.element("p", "This day is still to come.");
        } else {
            w.element("p", "Tick what you did.");
        }
    })];
    let back = |all: &mut Vec<Slot>| {
        let monday = |d: Date| d.plus_days(-i32::from(d.weekday()));
        let weeks = monday(today).days_since(monday(day)) / 7;
        all.push(slot("move", |w| button(w, "plain", &format!("go week {weeks}"), "Back to the week")));
    };
    if today < day {
        back(&mut all);
        return all;
    }
    let programme = plan.programme(day);
    let asked = Asked::of(programme.ask.as_deref());
    let is_fine = answer::standing(plan, today).is_fine();
    let due = plan.due(day);
    for (when, list) in &due {
        let (when, key) = (*when, format!("part {} {day}", when.name()));
        let hurt = answer::of_pain(plan, today, day, when);
        let unsettled = answer::of_settled(plan, today, day, when);
        all.push(slot(&key, |w| {
            w.element("h2", called(when)).open("ul");
            for index in list {
                let Some(e) = programme.exercises.get(*index) else { continue };
                w.open("li");
                ticked(w, plan, day, when, *index, |w| name(w, e));
                w.close();
            }
            w.close();
            let done = list.iter().filter(|i| is_done(plan, day, when, **i)).count();
            if done < list.len() && 1 < list.len() {
                button(w, "plain", &format!("all {day} {} yes", when.name()), "Tick all as done");
            }
            let session = plan.diary.session(day, when);
            if asked.pain && 0 < done {
                w.element("h3", WORST);
                pain(w, session, day, when);
            }
            if let Some(reply) = &hurt {
                reply.write(w, &programme.who);
            }
            if asked.settled && 0 < done && day < today {
                w.element("h3", "Had the pain settled by the next morning?");
                settled(w, session, day, when);
            }
            if let Some(reply) = &unsettled {
                reply.write(w, &programme.who);
            }
            if done == 0 {
                why(w, session, day, when, is_fine);
            }
        }));
    }
    // What was done on a day that it was not due, and what has no day.
    let in_sessions = |i: &usize| due.iter().any(|(_, list)| list.contains(i));
    let others: Vec<usize> = (0..programme.exercises.len())
        .filter(|i| !in_sessions(i) && programme.exercises.get(*i).is_some_and(|e| e.active))
        .collect();
    if !others.is_empty() {
        all.push(slot(&format!("beside {day}"), |w| {
            w.element("h2", "Did you do any of these too?");
            w.open("ul");
            for index in &others {
                let Some(e) = programme.exercises.get(*index) else { continue };
                w.open("li");
                ticked(w, plan, day, When::AllDay, *index, |w| {
                    name(w, e);
                });
                w.close();
            }
            w.close();
        }));
    }
    back(&mut all);
    all
}
