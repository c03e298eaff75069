//! One exercise at a time.

use super::piece::{amount, button, heading, name, slot};
use super::plan::Plan;
use super::today::{called, ticked};
use super::{Home, answer, sheet, wrong};
use crate::count::pace;
use crate::count::timer::{self, Does, Phase, Timer};
use crate::diary::{Number, When};
use crate::markup::{Slot, Writer};
use crate::measure::Date;
use crate::programme::tolerance::{self, Case};
use crate::programme::{Exercise, OnSide, Programme};

pub fn view(home: &Home, plan: &mut Plan, today: Date, when: When, at: usize) -> Vec<Slot> {
    let list = plan.list(today, when);
    let programme = plan.programme(today);
    let at = at.min(list.len().saturating_sub(1));
    let found = list.get(at).and_then(|i| programme.exercises.get(*i).map(|e| (*i, e)));
    let Some((index, e)) = found else {
        return vec![slot("title", |w| {
            heading(w, "Nothing here today");
            button(w, "main", "go today", "Back to today");
        })];
    };
    let changed = plan.changed(today).contains(&index);
    let standing = answer::standing(plan, today);
    let left = Number::at(index)
        .filter(|n| plan.diary.session(today, when).is_some_and(|session| session.left.contains(n)));
    let key = |part: &str| format!("{part} {index}");
    let mut all = vec![slot(&key("title"), |w| {
        w.open("h1").attr("id", "head").attr("tabindex", "-1");
        name(w, e);
        w.close();
        w.element("p", &format!("{}: {} of {}", called(when), at + 1, list.len()));
        if changed {
            w.open("p").attr("class", "box");
            w.text("The picture or the words have changed since your plan was made. If it looks new to you, ask before you do it.");
            w.close();
        }
    })];
    if let Some(number) = left {
        all.push(slot(&key("answered"), |w| {
            w.open("p").element("b", answer::called(crate::diary::Urgency::Exercise)).close();
            let act = format!("leave {today} {} {} none", when.name(), number.get());
            button(w, "small", &act, "I chose that by mistake");
        }));
    } else if !standing.halts() {
        let lines = eased(plan, today, &programme, index, &standing);
        if !lines.is_empty() {
            all.push(slot(&key("answered"), |w| {
                for line in &lines {
                    super::piece::said(w, "p", line);
                }
            }));
        }
    }
    let phase = home.timer.as_ref().and_then(Timer::phase);
    let side = phase.map_or(0, |p| p.side);
    if let Some(drawn) = e.drawn.get(side).or(e.drawn.first()) {
        let moving = plan.moving(&programme, drawn);
        let pictures = plan.pictures(&programme, e, drawn);
        let shown = home.moves.zip(moving.as_ref()).and_then(|(ms, m)| m.at(e, ms, home.around.still));
        if moving.is_some() {
            // Above the picture: it stays where it is when the picture changes its height.
            all.push(slot(&key("moving"), |w| mover(w, home.moves.is_some(), home.around.still)));
        }
        all.push(slot(&key("figure"), |w| {
            match shown {
                Some((instant, is_hold)) => {
                    let words = pictures.first().map_or("", |p| p.words.as_str());
                    w.open("div").attr("class", "frames").attr("role", "img").attr("aria-label", words);
                    w.insert(instant).close();
                    holding(w, e, is_hold);
                }
                None => sheet::frames(w, &pictures),
            }
            if e.side == OnSide::EachSide {
                let other = drawn.side.other().word();
                w.element("p", &format!("This is the {} side. Do the {other} side too.", drawn.side.word()));
            }
        }));
    }
    let stages = plan.stages(e, today).join(" ");
    all.push(slot(&key("doses"), |w| {
        rounds(w, &programme, e);
        amount(w, e);
        if !stages.is_empty() {
            super::piece::said(w, "p", &stages);
        }
        sheet::extras(w, e);
        sheet::kit(w, e);
    }));
    if let Some(phase) = phase {
        all.push(slot("clock", |w| clock(w, home, e, phase)));
        all.push(slot("timing", |w| {
            timing(w, home, phase);
        }));
    } else if left.is_none() && !standing.halts() && Timer::of(&programme.body, e).is_some() {
        all.push(slot("timing", |w| {
            button(w, "plain", "timer start", "Count with me");
        }));
    }
    all.push(slot(&key("wrong"), |w| wrong::way(w, Some((when, at)))));
    all.push(slot(&key("steps"), |w| sheet::steps(w, e)));
    all.push(slot(&key("done"), |w| {
        ticked(w, plan, today, when, index, |w| {
            w.text("Done");
        });
    }));
    all.push(slot(&key("move"), |w| {
        if 0 < at {
            button(w, "plain", &format!("go do {} {}", when.name(), at - 1), "Back");
        } else {
            button(w, "plain", "go today", "Back to today");
        }
        let class = if standing.is_fine() { "main" } else { "plain" };
        match (standing.halts(), at + 1 < list.len()) {
            // Nothing leads on from here until somebody is called.
            (true, _) if 0 < at => button(w, "plain", "go today", "Back to today"),
            (true, _) => {}
            (false, true) => button(w, class, &format!("go do {} {}", when.name(), at + 1), "Next"),
            (false, false) => button(w, class, &format!("go end {}", when.name()), "Finish"),
        }
    }));
    let words = [&e.words.easier, &e.words.harder, &e.words.note];
    if !e.steps.is_empty() || words.iter().any(|lines| !lines.is_empty()) {
        all.push(slot(&key("more"), |w| sheet::more(w, e)));
    }
    all
}

/// What bad answers ask of this exercise today, in the clinician's words or in ours.
fn eased(
    plan: &mut Plan,
    today: Date,
    programme: &Programme,
    index: usize,
    standing: &answer::Standing,
) -> Vec<String> {
    let Some(e) = programme.exercises.get(index) else { return Vec::new() };
    let mut lines = Vec::new();
    if standing.unsettled.is_some() {
        let own: Vec<String> =
            e.orders.iter().filter(|o| o.is_for(Case::NotSettled, None)).map(|o| o.words.clone()).collect();
        if own.is_empty() && programme.flare.is_empty() {
            lines.push("Do half of it today.".into());
        }
        lines.extend(own);
        lines.extend(programme.flare.iter().cloned());
    }
    let okay = tolerance::okay(programme).most;
    for (when, pain) in &standing.pains {
        if !plan.list(today, *when).contains(&index) || *pain <= e.amount.pain.unwrap_or(okay) {
            continue;
        }
        let orders = e.orders.iter().filter(|o| o.is_for(Case::TooMuch, Some(*pain)));
        let decided = orders.clone().any(|o| o.decides());
        lines.extend(orders.map(|o| o.words.clone()));
        if !decided {
            lines.push(format!("Pain {pain} today. Was it here? Stop this exercise for today."));
        }
    }
    lines
}

/// The button that starts and stops the picture. Its words say what it will do; what it did is told.
fn mover(w: &mut Writer, moves: bool, still: bool) {
    match (moves, still) {
        (true, _) => button(w, "stopper", "move no", "Stop the picture"),
        (false, false) => button(w, "starter", "move yes", "Show how it moves"),
        (false, true) => button(w, "starter", "move yes", "Show it step by step"),
    }
}

/// How long to hold, while the picture holds. It keeps its room all the time, so that nothing moves but the picture.
/// Those who listen hear it with the dose.
fn holding(w: &mut Writer, e: &Exercise, is_hold: bool) {
    let Some(hold) = e.amount.hold() else { return };
    w.open("p").attr("class", if is_hold { "holding" } else { "holding away" }).attr("aria-hidden", "true");
    w.element("b", &format!("Hold {}", hold.to_string().replace('-', "–")));
    if pace::is_cut(hold) {
        w.text(". The picture moves on sooner.");
    }
    w.close();
}

fn rounds(w: &mut Writer, programme: &Programme, e: &Exercise) {
    let section = e.section.and_then(|s| programme.sections.get(s));
    if let Some(rounds) = section.and_then(|s| s.rounds) {
        let title = section.map_or("", |s| s.title.as_str());
        w.element("p", &format!("Do all of “{title}” {rounds} times in turn."));
    }
}

/// What is done now, in a word or two.
pub fn doing(phase: &Phase) -> String {
    match &phase.does {
        Does::Ready => "Get ready".into(),
        Does::Hold => "Hold".into(),
        Does::LetGo => "Let go slowly".into(),
        Does::Work(how) if how.is_empty() => "Go".into(),
        Does::Work(how) => super::piece::capital(how),
        Does::Lower => "Lower".into(),
        Does::Still => "Stay".into(),
        Does::Lift => "Lift".into(),
        Does::Rest => "Rest".into(),
        Does::ChangeSides => "Change sides".into(),
        Does::OwnPace => "Go, at your own pace".into(),
    }
}

fn clock(w: &mut Writer, home: &Home, e: &Exercise, phase: &Phase) {
    let at_rest = matches!(phase.does, Does::Rest | Does::LetGo | Does::Ready | Does::ChangeSides);
    w.open("p").attr("class", if at_rest { "now easy" } else { "now" }).text(&doing(phase)).close();
    if phase.does != Does::OwnPace {
        let left = home.timer.as_ref().map_or(0, Timer::left);
        let words = if left < 100 { left.to_string() } else { format!("{}:{:02}", left / 60, left % 60) };
        w.open("p").attr("class", "left").open("b").text(&words).close();
        w.text(match left {
            1 => " second",
            ..100 => " seconds",
            _ => " minutes",
        })
        .close();
    }
    let mut parts = Vec::new();
    if let Some(side) = timer::side(e, phase) {
        parts.push(format!("{} side", super::piece::capital(side.word())));
    }
    if 1 < phase.sets {
        parts.push(format!("set {} of {}", phase.set, phase.sets));
    }
    if 0 < phase.repetition {
        parts.push(format!("{} of {}", phase.repetition, phase.repetitions));
    }
    if !parts.is_empty() {
        w.element("p", &super::piece::capital(&parts.join(", ")));
    }
}

fn timing(w: &mut Writer, home: &Home, phase: &Phase) {
    let running = home.timer.as_ref().is_some_and(|t| t.running);
    match (&phase.does, running) {
        (Does::OwnPace, _) => button(w, "main", "timer skip", "This set is done"),
        (_, true) => {
            button(w, "main", "timer pause", "Pause");
            button(w, "plain", "timer skip", "Skip");
        }
        (_, false) => {
            button(w, "main", "timer resume", "Go on");
            button(w, "plain", "timer skip", "Skip");
        }
    }
    button(w, "plain", "timer stop", "Stop counting");
    if !home.switches.sound {
        button(w, "plain", "sound yes", "Sound on");
    } else {
        button(w, "plain", "sound no", "Sound off");
    }
}
