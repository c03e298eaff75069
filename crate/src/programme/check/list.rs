//! Checks of the programme as a whole.

use super::{Scene, about};
use crate::body::names::Side;
use crate::catalog::terms::Purpose;
use crate::dose::parts::{Days, Often};
use crate::notice::kinds::programme::OfProgramme;
use crate::notice::{Edit, Notice};
use crate::prescription::Prescription;
use crate::programme::{Exercise, OnSide};

/// More than three exercises is more than many people keep up with: a soft word.
pub fn many(scene: Scene<'_>) -> Vec<Notice> {
    let work: Vec<&Exercise> =
        scene.exercises().filter(|e| !matches!(e.purpose, Purpose::Support | Purpose::Advise)).collect();
    let Some(fourth) = work.get(3) else { return Vec::new() };
    vec![about(fourth, OfProgramme::ManyExercises { count: work.len() })]
}

/// Days on which what is fixed alone takes more than the patient has. A minute or two over is no news.
pub fn minutes(scene: Scene<'_>) -> Vec<Notice> {
    let times = &scene.programme.times;
    let mut found: Vec<Notice> = Vec::new();
    for day in 0..7u8 {
        let on: Vec<_> = times.iter().filter(|t| t.days.has(day)).collect();
        let (Some(last), given) = (on.last(), on.iter().map(|t| u32::from(t.minutes)).sum::<u32>()) else {
            continue;
        };
        let fixed = |e: &&Exercise| match e.amount.often {
            Often::Calendar { days, .. } => match days {
                Days::Daily => 0 < given,
                Days::On(days) => days.has(day),
                Days::PerWeek(n) => n.high() == 7,
                Days::Every(n) => n == 1,
            },
            _ => false,
        };
        let seconds: u32 =
            scene.exercises().filter(fixed).map(|e| e.seconds.day).fold(0, u32::saturating_add);
        let needs = seconds.div_ceil(60);
        if given + 2 < needs && !found.iter().any(|n| n.place == last.place) {
            found.push(Notice::new(OfProgramme::Minutes { day, given, needs }, last.place));
        }
    }
    found
}

/// Things found in every home: their lack is noise.
pub const ALWAYS: [&str; 14] = [
    "none", "chair", "wall", "floor", "bed", "mat", "towel", "pillow", "table", "worktop", "doorway",
    "bench", "step", "stairs",
];

/// What of `kit` the patient lacks; nothing where the prescription names no kit.
pub fn lacked(p: &Prescription, kit: &[String]) -> Vec<String> {
    let Some(has) = &p.kit else { return Vec::new() };
    let has: Vec<String> = has.iter().map(|s| s.text.to_lowercase()).collect();
    // `loop band` is had by `two loop bands`, `red loop band`.
    let had =
        |thing: &str| has.iter().any(|h| h.contains(thing) || (3 < h.len() && thing.contains(h.as_str())));
    let missing = |k: &&String| !ALWAYS.contains(&k.as_str()) && !had(&k.to_lowercase());
    kit.iter().filter(missing).cloned().collect()
}

/// Things that the exercise needs and the patient was not said to have.
pub fn kit(scene: Scene<'_>) -> Vec<Notice> {
    scene
        .exercises()
        .filter_map(|e| {
            let lacks = lacked(scene.prescription, &e.kit);
            if lacks.is_empty() {
                return None;
            }
            let place = scene.prescription.kit.as_ref().and_then(|k| k.last()).map(|s| s.place);
            let edit = place.map(|p| Edit {
                place: crate::text::Place { start: p.end, ..p },
                with: format!(", {}", lacks.join(", ")),
            });
            Some(about(e, OfProgramme::Kit { lacks }).with(edit))
        })
        .collect()
}

/// One exercise for one side where all the rest of the text speaks of the other.
pub fn other_side(scene: Scene<'_>) -> Vec<Notice> {
    let of = |e: &Exercise| match e.side {
        OnSide::Left => Some(Side::Left),
        OnSide::Right => Some(Side::Right),
        _ => None,
    };
    let mut spoken: Vec<Side> = scene.programme.limits.iter().filter_map(|l| l.what.angle.side).collect();
    spoken.extend(scene.programme.bearing.iter().filter_map(|b| b.what.side));
    spoken.extend(scene.programme.who.title.iter().filter_map(|t| super::caution::side_in(t)));
    let one: Vec<(&Exercise, Side)> = scene.exercises().filter_map(|e| of(e).map(|s| (e, s))).collect();
    one.iter()
        .filter_map(|(e, side)| {
            let others = one.iter().filter(|(o, _)| o.line != e.line).map(|(_, s)| *s);
            let rest: Vec<Side> = others.chain(spoken.iter().copied()).collect();
            if rest.len() < 2 || rest.contains(side) {
                return None;
            }
            Some(about(e, OfProgramme::OtherSide { side: *side }))
        })
        .collect()
}

/// Dates that contradict each other.
pub fn dates(scene: Scene<'_>) -> Vec<Notice> {
    let p = scene.programme;
    let place = crate::text::Place { line: 1, start: 0, end: 0 };
    match (p.start, p.review) {
        (Some(start), Some(review)) if review < start => {
            vec![Notice::new(OfProgramme::ReviewBeforeStart { review, start }, place)]
        }
        _ => Vec::new(),
    }
}

/// What it is for can't be told: the advice on when to get help is then general.
pub fn problem(scene: Scene<'_>) -> Vec<Notice> {
    let (p, help) = (scene.prescription, &scene.programme.help);
    let (Some(first), false) = (p.exercises.first(), help.known) else { return Vec::new() };
    let place = p.title.as_ref().map_or(first.name.place, |t| t.place);
    vec![Notice::new(OfProgramme::ProblemUnknown { is_titled: p.title.is_some() }, place)]
}
