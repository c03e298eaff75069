//! The checks of a programme: plain named rules in one list, each with its source.
//!
//! A rule looks and tells; it changes nothing and refuses nothing. "Contraindication" is kept for what the
//! clinician wrote: a limit, a weight, something to avoid. The rest are prompts that defer to local protocols
//! and to the clinician.

pub mod avoid;
pub mod caution;
pub mod dose;
pub mod limit;
pub mod list;

use super::{Exercise, Programme};
use crate::notice::kinds::programme::OfProgramme;
use crate::notice::{Edit, Notice};
use crate::prescription::Prescription;
use crate::text::Place;

/// What a rule may look at.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    pub programme: &'a Programme,
    pub prescription: &'a Prescription,
}

impl<'a> Scene<'a> {
    /// The exercises of this week.
    pub fn exercises(self) -> impl Iterator<Item = &'a Exercise> {
        self.programme.exercises.iter().filter(|e| e.active)
    }

    /// The bounds of this week as written: each angle and the most that it may reach, degrees.
    pub fn bounds(self) -> impl Iterator<Item = (crate::body::names::Angle, f64)> + 'a {
        let in_force = self.programme.limits.iter().filter(|l| l.in_force);
        in_force.flat_map(|l| super::clock::bounds(&l.what))
    }
}

/// A named check.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// The kind of the notices it gives.
    pub name: &'static str,
    /// A published source, "common practice, no source", or "from memory".
    pub source: &'static str,
    pub find: fn(Scene<'_>) -> Vec<Notice>,
}

const PRACTICE: &str = "common practice, no source";

/// All checks, in the order in which their notices stand beside one line.
pub const RULES: [Rule; 23] = [
    Rule { name: "limit-exceeded", source: "the clinician's limit", find: limit::exceeded },
    Rule { name: "limit-drawn", source: "the clinician's limit", find: limit::drawn },
    Rule { name: "body-in-the-way", source: "the body as said, by computation", find: limit::in_the_way },
    Rule { name: "weight", source: "the clinician's limit", find: limit::weight },
    Rule { name: "avoided", source: "the clinician's limit", find: avoid::avoided },
    Rule {
        name: "pregnancy-lying-flat",
        source: "Mottola 2018; older ACOG text (references/screening.md 4)",
        find: caution::pregnancy,
    },
    Rule {
        name: "osteoporosis-bending",
        source: "Sinaki and Mikkelsen 1984; Giangregorio 2014, from memory (references/screening.md 5)",
        find: caution::osteoporosis,
    },
    Rule {
        name: "hip-precautions",
        source: "usual precautions as in Eannucci 2019 (references/screening.md 6)",
        find: caution::hip,
    },
    Rule {
        name: "cuff-repair-early",
        source: "Thigpen 2016 (references/screening.md 8)",
        find: caution::cuff,
    },
    Rule {
        name: "cruciate-open-chain",
        source: "van Melick 2016, from memory (references/screening.md 7)",
        find: caution::cruciate,
    },
    Rule {
        name: "pressure-long-hold",
        source: "Williams 2007, from memory (references/screening.md 10)",
        find: caution::pressure,
    },
    Rule { name: "falls", source: PRACTICE, find: caution::falls },
    Rule { name: "dose-slip", source: PRACTICE, find: dose::slip },
    Rule {
        name: "dose-unusual",
        source: "ACSM 2011; Bandy 1994 and 1997 (references/dosing.md 1 and 8)",
        find: dose::unusual,
    },
    Rule { name: "stretch-short", source: "ACSM 2011 (references/dosing.md 1)", find: dose::stretch },
    Rule { name: "no-maximum", source: PRACTICE, find: dose::uncapped },
    Rule { name: "recovery", source: "ACSM 2011: 48 h (references/dosing.md 1)", find: dose::recovery },
    Rule { name: "minutes", source: PRACTICE, find: list::minutes },
    Rule { name: "kit", source: PRACTICE, find: list::kit },
    Rule { name: "other-side", source: PRACTICE, find: list::other_side },
    Rule {
        name: "many-exercises",
        source: "Henry 1999, Eckard 2015: small and mixed (references/progression-and-pain.md 5)",
        find: list::many,
    },
    Rule { name: "dates", source: PRACTICE, find: list::dates },
    Rule { name: "problem-unknown", source: PRACTICE, find: list::problem },
];

/// Every notice of every rule, by line, then in the order of the rules.
pub fn all(scene: Scene<'_>) -> Vec<Notice> {
    let mut found: Vec<Notice> = RULES.iter().flat_map(|rule| (rule.find)(scene)).collect();
    crate::sorting::sort_by_key(&mut found, |n| n.place.line);
    found
}

/// A notice about an exercise's line.
fn about(e: &Exercise, what: OfProgramme) -> Notice {
    Notice::new(what, e.name_place)
}

/// Text put in behind `place`.
pub fn behind(place: Place, with: String) -> Edit {
    Edit { place: Place { start: place.end, ..place }, with }
}
