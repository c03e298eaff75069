//! When to stop and when to get help, by region and caution. Plain words at a low reading grade; the
//! clinician may put other lines in their place. The lists follow common practice; the conditions behind
//! them are those of `references/screening.md` 1, 4 and 9. They defer to local advice.

use crate::diary::Urgency;
use crate::programme::{Condition, Exercise, Programme};

/// When to stop and ring, for everyone; what is too much pain comes before.
pub const STOP: [&str; 4] = [
    "A new, sharp pain.",
    "Pain, numbness or tingling that spreads down an arm or leg.",
    "A joint that swells, locks or gives way.",
    "You feel faint, sick or dizzy.",
];

/// When to get help at once: for everyone, then by region and caution, each line once.
pub fn net(programme: &Programme) -> Vec<&'static str> {
    let mut lines = vec!["You have chest pain or cannot get your breath."];
    let mut add = |more: &[&'static str]| {
        for line in more {
            if !lines.contains(line) {
                lines.push(line);
            }
        }
    };
    let has = |regions: &[&str]| {
        programme.exercises.iter().any(|e: &Exercise| regions.contains(&e.region.as_str()))
    };
    let known = |c: Condition| programme.cautions.iter().any(|x| x.known == Some(c));
    if has(&["trunk", "back", "lower back", "upper back", "pelvis"]) {
        add(&[
            "You go numb between your legs or round your bottom.",
            "You cannot pee, or you leak pee or poo.",
            "Sex feels numb or different.",
            "Both your legs feel weak.",
        ]);
    }
    if has(&["neck"]) {
        add(&[
            "You see double or lose your sight.",
            "Your speech is slurred, or you find it hard to swallow.",
            "You are suddenly unsteady on your feet.",
        ]);
    }
    if [Condition::Surgery, Condition::Brace, Condition::CuffRepair, Condition::CruciateReconstruction]
        .into_iter()
        .chain([Condition::MeniscusRepair, Condition::PosteriorHip, Condition::AnteriorHip])
        .any(known)
    {
        add(&[
            "Your calf is swollen, hot or sore.",
            "Your wound is red, hot, wet or smells.",
            "You have a fever or feel very unwell.",
        ]);
    }
    if known(Condition::Pregnancy) {
        add(&[
            "You bleed, or fluid leaks.",
            "You have tight pains that keep coming back.",
            "Your baby moves less than usual.",
        ]);
    }
    if known(Condition::Osteoporosis) {
        add(&["You get a sudden new pain in your back."]);
    }
    lines
}

/// One thing that may go wrong, and how urgent it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sign {
    pub line: &'static str,
    pub urgency: Urgency,
}

/// All that stands on the sheet under "Stop, and call us" and "Get help now", in its order.
pub fn signs(programme: &Programme) -> Vec<Sign> {
    let sign = |urgency| move |line| Sign { line, urgency };
    let call = STOP.into_iter().map(sign(Urgency::Call));
    call.chain(net(programme).into_iter().map(sign(Urgency::Help))).collect()
}

/// What is done of an exercise that hurt more than is okay.
pub const LEAVE: &str = "Stop that exercise for today.";
/// What is done after pain that has not settled by the next morning.
pub const HALF: &str = "Do half next time.";
/// What is done when it has not settled twice running.
pub const TWICE: &str = "Call us when we are open.";
/// Whom to call for help at once, where the prescription gives no number: which it is, is never guessed.
pub const LOCAL: &str = "your local emergency number";
