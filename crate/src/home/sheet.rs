//! All exercises to read or print, when to stop, and what is kept on this phone.

use super::piece::{amount, button, heading, long, name, often, said, slot, toggle};
use super::plan::Plan;
use super::{Home, Keeping, answer, wrong};
use crate::diary::Urgency;
use crate::handout::{self, Paper, Picture, Print};
use crate::markup::{Slot, Writer};
use crate::measure::Date;
use crate::programme::{Exercise, Programme};

/// Set-up and movement as steps, what to feel, and when to stop.
pub fn steps(w: &mut Writer, e: &Exercise) {
    let words = &e.words;
    for why in &words.why {
        w.open("p").attr("class", "why").attr("dir", "auto").text(why).close();
    }
    let steps = e.told();
    if !steps.is_empty() {
        w.open("ol");
        for step in steps {
            said(w, "li", step);
        }
        w.close();
    }
    w.open("dl");
    pair(w, "You should feel", &words.feel);
    pair(w, "Not felt?", &words.if_not_felt);
    w.close();
    if !words.stop_if.is_empty() {
        w.open("div").attr("class", "stop");
        w.element("b", "Stop if").text(" ");
        said(w, "span", &words.stop_if.join(" "));
        w.close();
    }
}

/// Rest, load and the like, where something is said of them.
pub fn extras(w: &mut Writer, e: &Exercise) {
    let words = handout::dose::extras(&e.amount);
    if !words.is_empty() {
        said(w, "p", &words.join(" "));
    }
}

/// What is needed for it, where something is.
pub fn kit(w: &mut Writer, e: &Exercise) {
    if !e.kit.is_empty() {
        said(w, "p", &format!("You need: {}.", e.kit.join(", ")));
    }
}

/// Easier, harder, and what comes later.
pub fn more(w: &mut Writer, e: &Exercise) {
    w.open("dl");
    pair(w, "Too hard?", &e.words.easier);
    pair(w, "Too easy?", &e.words.harder);
    pair(w, "Note", &e.words.note);
    w.close();
    for later in &e.steps {
        said(w, "p", &format!("{}: {}", later.when, later.what));
    }
}

fn pair(w: &mut Writer, term: &str, lines: &[String]) {
    if !lines.is_empty() {
        w.element("dt", term).text(" ");
        said(w, "dd", &lines.join(" "));
        w.text(" ");
    }
}

/// The frames of a figure, side by side or below each other; to those who listen they are one picture.
pub fn frames(w: &mut Writer, pictures: &[Picture]) {
    let words = pictures.first().map_or("", |p| p.words.as_str());
    w.open("div").attr("class", "frames").attr("role", "img").attr("aria-label", words);
    for picture in pictures {
        w.insert(&picture.svg);
    }
    w.close();
}

/// The whole sheet, to read on the screen and to print.
pub fn whole(home: &Home, plan: &mut Plan, today: Date) -> Vec<Slot> {
    let programme = plan.programme(today);
    let changed = plan.changed(today);
    let mut all = vec![slot("title", |w| {
        heading(w, "All exercises");
        if !programme.aims.is_empty() {
            w.open("p").text("Your goal: ").open("bdi").text(&programme.aims.join("; ")).close().close();
        }
    })];
    all.push(slot("printing", |w| {
        button(w, "main", "print", "Print");
        w.open("div").attr("class", "row").attr("role", "group").attr("aria-label", "Paper");
        for (paper, act, words) in [(Paper::A4, "paper a4", "A4"), (Paper::Letter, "paper letter", "Letter")]
        {
            w.open("button").attr("type", "button").attr("class", "plain").attr("data-do", act);
            w.attr("data-focus", act);
            w.attr("aria-pressed", if home.paper == paper { "true" } else { "false" }).text(words).close();
        }
        toggle(w, "plain", "large", home.print == Print::Large, "Large print");
        w.close();
    }));
    if !programme.do_not.is_empty() {
        all.push(slot("donot", |w| handout::do_not(w, &programme)));
    }
    if programme.has_rules() {
        all.push(slot("may", |w| handout::may_do(w, &programme)));
    }
    for (index, e) in programme.exercises.iter().enumerate().filter(|(_, e)| e.active || e.is_coming) {
        let stages = plan.stages(e, today).join(" ");
        let pictures = e.drawn.first().map(|drawn| plan.pictures(&programme, e, drawn));
        all.push(slot(&format!("whole {index}"), |w| {
            w.open("h2");
            name(w, e);
            w.close();
            if let Some(pictures) = &pictures {
                w.open("div").attr("class", "figure");
                frames(w, pictures);
                w.close();
            }
            if changed.contains(&index) {
                w.element("p", "The picture or the words have changed since your plan was made. If it looks new to you, ask before you do it.");
            }
            amount(w, e);
            often(w, e);
            for words in handout::dose::when(&e.amount) {
                said(w, "p", &words);
            }
            if !stages.is_empty() {
                said(w, "p", &stages);
            }
            extras(w, e);
            kit(w, e);
            steps(w, e);
            more(w, e);
        }));
    }
    all.push(issue(&programme, plan));
    all
}

fn issue(programme: &Programme, plan: &Plan) -> Slot {
    slot("issue", |w| {
        let made = plan.shared.issued.map_or(String::new(), |d| format!("Made on {}. ", d.words()));
        w.element("p", &format!("{made}Version {}. Bin older sheets.", programme.version));
        if let Some(start) = programme.start {
            w.element("p", &format!("From {}.", long(start)));
        }
        if let Some(review) = programme.review {
            w.element("p", &format!("Next visit: {} {}.", long(review), review.year()));
        }
        w.element(
            "p",
            "This plan is for you alone. It was made after a check-up. It does not take the place of a doctor or a \
             physiotherapist when you are unwell.",
        );
    })
}

/// When to stop and whom to call.
pub fn help(plan: &mut Plan, today: Date) -> Vec<Slot> {
    let programme = plan.programme(today);
    let mut all = vec![slot("title", |w| heading(w, "When to stop, and who to call"))];
    all.push(slot("wrong", |w| wrong::way(w, None)));
    if programme.who.emergency.is_some() {
        all.push(slot("ring", |w| {
            w.element("h2", answer::called(Urgency::Help));
            answer::emergency(w, &programme.who);
        }));
    }
    all.push(slot("ring clinic", |w| {
        w.element("h2", "Call us");
        answer::clinic(w, &programme.who, programme.who.out_of_hours.as_ref());
    }));
    if !programme.do_not.is_empty() {
        all.push(slot("donot", |w| handout::do_not(w, &programme)));
    }
    if programme.has_rules() {
        all.push(slot("may", |w| handout::may_do(w, &programme)));
    }
    all.push(slot("help", |w| handout::help(w, &programme, &handout::Sheet::default())));
    all.push(issue(&programme, plan));
    all
}

/// Switches, and what is kept.
pub fn phone(home: &Home, key: &str, forgetting: bool) -> Vec<Slot> {
    let mut all = vec![slot("title", |w| heading(w, "Sound, and what is kept here"))];
    all.push(slot("switches", |w| {
        w.element("p", "While it counts with you, the page can make a sound or buzz.");
        let on = |on: bool| if on { "on" } else { "off" };
        toggle(w, "switch", "sound", home.switches.sound, &format!("Sound is {}", on(home.switches.sound)));
        if home.around.can_buzz {
            toggle(
                w,
                "switch",
                "buzz",
                home.switches.buzz,
                &format!("Buzzing is {}", on(home.switches.buzz)),
            );
        }
    }));
    all.push(slot("kept", |w| {
        w.element("h2", "What is kept on this phone");
        w.element(
            "p",
            match home.keeping {
                Keeping::Kept => {
                    "Your plan and your ticks are kept on this phone. Nothing is sent to anyone. Whoever holds \
                     this phone unlocked can read them."
                }
                Keeping::Full => "The phone has no room left. New ticks are not kept.",
                Keeping::Forbidden => "This browser does not let the page keep anything.",
                Keeping::NotChosen => "So far nothing is kept.",
            },
        );
        if home.keeping == Keeping::NotChosen {
            button(w, "plain", "keep", "Keep my plan and ticks here");
        }
        let others: Vec<_> = home.others.iter().filter(|o| o.key != key).collect();
        if !others.is_empty() {
            w.element("h3", "Other plans kept here");
            for other in others {
                let words = other.issued.map_or("Show a plan without a date".to_string(), |d| {
                    format!("Show the plan of {}", d.words())
                });
                button(w, "plain", &format!("show {}", other.key), &words);
            }
        }
        w.element("h3", "Forget everything");
        if forgetting {
            w.element("p", "This takes away every plan and every tick from this phone. It can not be undone.");
            super::opening::history(w);
            w.open("div").attr("class", "row");
            button(w, "main", "forget no", "No, keep them");
            button(w, "plain", "forget yes", "Yes, forget everything");
            w.close();
        } else {
            button(w, "plain", "forget", "Forget everything on this phone");
        }
    }));
    all
}

/// The clock gives no day.
pub fn no_date(_plan: &mut Plan) -> Vec<Slot> {
    vec![slot("title", |w| {
        heading(w, "What day is it?");
        w.element(
            "p",
            "The clock of this phone can not be right. Please set the date, then load this page again.",
        );
    })]
}
