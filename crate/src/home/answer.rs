//! What the page says to an answer that something is wrong, and what then stands of the day. The clinician's own
//! order for the case goes before what the sheet says; nothing cheerful follows.

use super::piece::{button, capital, said, short};
use super::plan::Plan;
use super::telephone::{self, Line, Number};
use crate::diary::{Met, Session, Urgency, When, WhyNot};
use crate::handout::safety;
use crate::markup::{Slot, Writer};
use crate::measure::Date;
use crate::programme::tolerance::{self, Case, Order};
use crate::programme::{Exercise, Programme, Who};

/// Near every question.
pub const UNSEEN: &str = "Nobody sees your answers until you show them.";

/// An answer that it had not settled holds for the next session, which comes within two weeks or is a new start
/// (common practice, no source).
const HOLDS: i32 = 14;

/// What a bad answer is answered with.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reply {
    /// Ours, in order: first what was said.
    pub said: Vec<String>,
    /// The clinician's, word for word.
    pub orders: Vec<String>,
    /// Ours, what to do.
    pub does: Vec<String>,
    /// Whether the clinic is called.
    pub calls: bool,
}

impl Reply {
    /// For those who listen.
    pub fn told(&self) -> String {
        let all: Vec<&str> =
            self.said.iter().chain(&self.orders).chain(&self.does).map(String::as_str).collect();
        all.join(" ")
    }

    pub fn write(&self, w: &mut Writer, who: &Who) {
        w.open("div").attr("class", "reply");
        for line in &self.said {
            w.element("p", line);
        }
        if !self.orders.is_empty() {
            w.element("p", "Your clinician wrote:");
            for line in &self.orders {
                said(w, "p", line);
            }
        }
        for line in &self.does {
            w.open("p").element("b", line).close();
        }
        w.close();
        if self.calls {
            // When it is open again: that is soon enough.
            clinic(w, who, None);
        }
    }
}

/// To a worst pain of a session with these exercises; None: it is okay.
pub fn to_pain(p: &Programme, list: &[usize], pain: u8, is_today: bool) -> Option<Reply> {
    let okay = tolerance::okay(p).most;
    let bound = |e: &Exercise| e.amount.pain.unwrap_or(okay);
    let exercises: Vec<&Exercise> = list.iter().filter_map(|i| p.exercises.get(*i)).collect();
    let over: Vec<&Exercise> = exercises.iter().filter(|e| bound(e) < pain).copied().collect();
    // A bound that is typed for an exercise holds for it, be it more or less than the plan's.
    if over.is_empty() && (pain <= okay || !exercises.is_empty()) {
        return None;
    }
    let mut reply = Reply::default();
    reply.said.push(if okay < pain && over.len() == exercises.len() {
        format!("Pain {pain} is above {okay}.")
    } else {
        let names: Vec<String> = over.iter().map(|e| capital(&e.name)).collect();
        format!("Pain {pain} is too much for: {}.", names.join(", "))
    });
    let is_for = |order: &&Order| order.is_for(Case::TooMuch, Some(pain));
    reply.orders = orders(&over, is_for);
    // What the clinician ordered for the whole plan goes before what we would say.
    if let Some(ordered) = tolerance::ordered(p).filter(|_| okay < pain) {
        reply.orders.push(ordered);
        return Some(reply);
    }
    let decided = over.iter().filter(|e| e.orders.iter().filter(is_for).any(Order::decides)).count();
    reply.does.extend(match (decided, over.len()) {
        (0, 1) if is_today => Some("Stop this exercise for today.".to_string()),
        (0, _) if is_today => Some(format!("Which exercise hurt? {}", safety::LEAVE)),
        (0, _) => Some(format!("Does it still hurt? {}", safety::LEAVE)),
        (some, all) if some < all => Some(format!("Did another one hurt? {}", safety::LEAVE)),
        _ => None,
    });
    Some(reply)
}

/// To its not having settled by the morning after a session with these exercises.
pub fn to_unsettled(p: &Programme, list: &[usize], twice: bool) -> Reply {
    let exercises: Vec<&Exercise> = list.iter().filter_map(|i| p.exercises.get(*i)).collect();
    let mut reply =
        Reply { said: vec!["It had not settled by the next morning.".into()], ..Reply::default() };
    let is_for = |order: &&Order| order.is_for(Case::NotSettled, None);
    reply.orders = orders(&exercises, is_for);
    let decided = exercises.iter().filter(|e| e.orders.iter().any(|o| is_for(&o))).count();
    if !p.flare.is_empty() {
        reply.orders.extend(p.flare.iter().cloned());
    } else if decided == 0 {
        reply.does.push(safety::HALF.into());
    } else if decided < exercises.len() {
        reply.does.push("Do half of the others next time.".into());
    }
    if twice {
        reply.does.push(format!("That is twice running. {}", safety::TWICE));
        reply.calls = true;
    }
    reply
}

/// Orders with the name of their exercise.
fn orders(exercises: &[&Exercise], is_for: impl Fn(&&Order) -> bool) -> Vec<String> {
    let named = |e: &Exercise, order: &Order| format!("{}. {}", capital(&e.name), order.words);
    exercises.iter().flat_map(|e| e.orders.iter().filter(&is_for).map(|o| named(e, o))).collect()
}

/// Pain that had not settled, of the last day that counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unsettled {
    pub day: Date,
    pub when: When,
    pub twice: bool,
}

/// What stands of bad answers on a day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// The gravest sign that was met and of which nobody has been called yet.
    pub met: Option<(Date, When, Met)>,
    pub unsettled: Option<Unsettled>,
    /// The sessions of the day with more pain than is okay.
    pub pains: Vec<(When, u8)>,
    /// Whether an exercise was stopped, or left out for pain or illness.
    pub eased: bool,
}

impl Standing {
    /// Whether nothing is wrong.
    pub fn is_fine(&self) -> bool {
        *self == Standing::default()
    }

    /// Whether nothing more is done until somebody is called.
    pub fn halts(&self) -> bool {
        self.met.as_ref().is_some_and(|(_, _, met)| Urgency::Exercise < met.urgency)
    }
}

pub fn standing(plan: &mut Plan, today: Date) -> Standing {
    let open =
        plan.diary.sessions().filter(|(day, ..)| *day <= today).filter_map(|(day, when, s)| {
            s.met.clone().filter(|met| !met.cleared).map(|met| (day, when, met))
        });
    let met = open.max_by_key(|(_, _, met)| met.urgency);
    let now: Vec<(When, Session)> = plan
        .diary
        .sessions()
        .filter(|(day, ..)| *day == today)
        .map(|(_, when, session)| (when, session.clone()))
        .collect();
    let programme = plan.programme(today);
    let mut pains = Vec::new();
    for (when, session) in &now {
        let list = plan.list(today, *when);
        if let Some(pain) = session.pain
            && to_pain(&programme, &list, pain.get(), true).is_some()
        {
            pains.push((*when, pain.get()));
        }
    }
    let why = |s: &Session| matches!(s.why_not, Some(WhyNot::Pain | WhyNot::Ill));
    let eased = now.iter().any(|(_, s)| !s.left.is_empty() || why(s));
    Standing { met, unsettled: unsettled(plan, today), pains, eased }
}

/// Whether the last day on which something was done is one after which it had not settled.
fn unsettled(plan: &Plan, today: Date) -> Option<Unsettled> {
    // Each day with what was said of it: sessions of one day have one next morning.
    let mut days: Vec<(Date, When, Option<bool>)> = Vec::new();
    for (day, when, session) in plan.diary.sessions() {
        if today <= day || when == When::AllDay || (session.done.is_empty() && session.settled.is_none()) {
            continue;
        }
        match days.last_mut().filter(|(last, ..)| *last == day) {
            Some(last) if session.settled == Some(false) => *last = (day, when, Some(false)),
            Some(last) => last.2 = last.2.or(session.settled),
            None => days.push((day, when, session.settled)),
        }
    }
    let (day, when, settled) = days.pop()?;
    if settled != Some(false) || HOLDS < today.days_since(day) {
        return None;
    }
    let before = days.iter().rev().find(|(_, _, settled)| settled.is_some());
    let twice = before.is_some_and(|(b, _, settled)| *settled == Some(false) && day.days_since(*b) <= HOLDS);
    Some(Unsettled { day, when, twice })
}

/// What is answered to a session's pain.
pub fn of_pain(plan: &mut Plan, today: Date, day: Date, when: When) -> Option<Reply> {
    let pain = plan.diary.session(day, when)?.pain?.get();
    let list = plan.list(day, when);
    to_pain(&plan.programme(day), &list, pain, day == today)
}

/// What is answered to its not having settled after a session.
pub fn of_settled(plan: &mut Plan, today: Date, day: Date, when: When) -> Option<Reply> {
    if plan.diary.session(day, when)?.settled != Some(false) {
        return None;
    }
    let twice = unsettled(plan, today).is_some_and(|u| u.day == day && u.twice);
    let list = plan.list(day, when);
    Some(to_unsettled(&plan.programme(today), &list, twice))
}

// ---- whom to call ----

/// A button for each number.
fn calls(w: &mut Writer, class: &str, numbers: &[Number]) {
    for number in numbers {
        let extension = number.extension.as_ref().map_or(String::new(), |e| format!(", extension {e}"));
        w.open("a").attr("class", class).attr("href", &format!("tel:{}", number.dialled));
        w.text(&format!("Call {}{extension}", number.shown)).close();
    }
}

/// The clinic, and whom to call when it is closed.
pub fn clinic(w: &mut Writer, who: &Who, closed: Option<&String>) {
    w.open("div").attr("class", "calls");
    match who.by.as_ref().filter(|by| !by.is_empty()) {
        Some(by) => {
            said(w, "p", by);
            calls(w, "main", &telephone::numbers(by, Line::Clinic));
        }
        None => {
            w.element("p", "Call your clinician.");
        }
    }
    if let Some(closed) = closed {
        w.open("p").text("When we are closed: ").open("bdi").text(closed).close().close();
        calls(w, "second", &telephone::numbers(closed, Line::OutOfHours));
    }
    w.close();
}

/// Help at once.
pub fn emergency(w: &mut Writer, who: &Who) {
    w.open("div").attr("class", "calls");
    match &who.emergency {
        Some(typed) => {
            let numbers = telephone::numbers(typed, Line::Emergency);
            // What the buttons say is not said twice.
            if !matches!(numbers.as_slice(), [one] if one.shown == *typed) {
                w.open("p").text("Call: ").open("bdi").text(typed).close().close();
            }
            calls(w, "main", &numbers);
        }
        None => {
            w.open("p").element("b", &format!("Call {}.", safety::LOCAL)).close();
        }
    }
    w.close();
}

/// What is to be done about a sign.
pub fn to_met(w: &mut Writer, who: &Who, met: &Met) {
    match met.urgency {
        Urgency::Help => emergency(w, who),
        Urgency::SameDay => {
            w.element("p", "Do no more exercises.");
            w.element("p", "Call today. If nobody answers, go where you get help on the same day.");
            clinic(w, who, who.out_of_hours.as_ref());
            w.element("p", "If it gets worse, get help now:");
            emergency(w, who);
        }
        Urgency::Call => {
            w.element("p", "Do no more exercises until you have called.");
            clinic(w, who, who.out_of_hours.as_ref());
        }
        Urgency::Exercise => {
            w.element("p", "Call us before you do it again.");
            clinic(w, who, who.out_of_hours.as_ref());
        }
    }
}

/// What an urgency is called, as on the sheet.
pub fn called(urgency: Urgency) -> &'static str {
    match urgency {
        Urgency::Help => "Get help now",
        Urgency::SameDay => "Get help the same day",
        Urgency::Call => "Stop, and call us",
        Urgency::Exercise => "Stop this exercise for today.",
    }
}

/// A sign that was met and of which nobody has been called yet, before all else.
pub fn note(plan: &mut Plan, today: Date, standing: &Standing) -> Option<Slot> {
    let (day, when, met) = standing.met.as_ref()?;
    let programme = plan.programme(today);
    let names: Vec<String> = match (met.urgency, plan.diary.session(*day, *when)) {
        (Urgency::Exercise, Some(session)) => {
            let index = session.left.iter().map(|n| usize::from(n.get()) - 1);
            index.filter_map(|i| programme.exercises.get(i)).map(|e| capital(&e.name)).collect()
        }
        _ => Vec::new(),
    };
    Some(super::piece::slot("note met", |w| {
        w.open("h2").text(called(met.urgency)).close();
        let on = if *day == today { "today".to_string() } else { format!("on {}", short(*day)) };
        w.open("p").text(&format!("You said {on}: ")).open("bdi").text(met.words()).close();
        if !names.is_empty() {
            w.text(" ").open("bdi").text(&format!("({})", names.join(", "))).close();
        }
        w.close();
        to_met(w, &programme.who, met);
        button(w, "small", "go stop", "Change this");
    }))
}
