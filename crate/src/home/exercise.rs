//! One exercise at a time.

use super::piece::{amount, button, heading, name, slot, toggle};
use super::plan::Plan;
use super::timer::{Does, Phase, Timer};
use super::today::{called, ticked};
use super::{Home, sheet};
use crate::diary::When;
use crate::markup::{Markup, Slot, Writer};
use crate::measure::Date;
use crate::programme::{Exercise, OnSide};

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
    let phase = home.timer.as_ref().and_then(Timer::phase);
    let side = phase.map_or(0, |p| p.side);
    if let Some(drawn) = e.drawn.get(side).or(e.drawn.first()) {
        let pictures = plan.pictures(&programme, drawn);
        let instants = plan.moving(&programme, drawn);
        let instant = home.moves.filter(|_| !home.around.still).and_then(|ms| instant(&instants, ms));
        all.push(slot(&key("figure"), |w| {
            match instant {
                Some(instant) => {
                    let words = pictures.first().map_or("", |p| p.words.as_str());
                    w.open("div").attr("class", "frames").attr("role", "img").attr("aria-label", words);
                    w.insert(instant).close();
                }
                None => sheet::frames(w, &pictures),
            }
            if e.side == OnSide::EachSide {
                let other = drawn.side.other().word();
                w.element("p", &format!("This is the {} side. Do the {other} side too.", drawn.side.word()));
            }
        }));
    }
    let can_move = e.drawn.first().is_some_and(|d| !plan.moving(&programme, d).is_empty());
    if can_move && !home.around.still {
        all.push(slot(&key("moving"), |w| {
            let moves = home.moves.is_some();
            let words = if moves { "Stop the picture" } else { "Show how it moves" };
            toggle(w, "small", "move", moves, words);
        }));
    }
    all.push(slot(&key("doses"), |w| {
        rounds(w, &programme, e);
        amount(w, e);
        sheet::extras(w, e);
    }));
    if let Some(phase) = phase {
        all.push(slot("clock", |w| clock(w, home, e, phase)));
        all.push(slot("timing", |w| {
            timing(w, home, phase);
        }));
    } else if Timer::of(e).is_some() {
        all.push(slot("timing", |w| {
            button(w, "plain", "timer start", "Count with me");
        }));
    }
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
        if at + 1 < list.len() {
            button(w, "main", &format!("go do {} {}", when.name(), at + 1), "Next");
        } else {
            button(w, "main", &format!("go end {}", when.name()), "Finish");
        }
    }));
    if !(e.words.easier.is_empty() && e.words.harder.is_empty() && e.words.note.is_empty()) {
        all.push(slot(&key("more"), |w| sheet::more(w, e)));
    }
    all
}

/// Milliseconds that an instant is shown, and that the first and the last pose are: slow enough to follow (common
/// practice, no source).
const INSTANT: u32 = 120;
const STAY: u32 = 900;

/// The instant to show: there, and back again.
fn instant(instants: &[Markup], ms: u32) -> Option<&Markup> {
    let way = u32::try_from(instants.len()).ok()?.checked_sub(1)? * INSTANT;
    let at = ms % (2 * (way + STAY));
    let (at, back) = if at < way + STAY { (at, false) } else { (at - way - STAY, true) };
    let index = usize::try_from(at.saturating_sub(STAY) / INSTANT).ok()?;
    instants.get(if back { (instants.len() - 1).checked_sub(index)? } else { index })
}

fn rounds(w: &mut Writer, programme: &crate::programme::Programme, e: &Exercise) {
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
    if let Some(side) = super::timer::side(e, phase) {
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
