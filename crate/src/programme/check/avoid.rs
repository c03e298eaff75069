//! What the clinician wrote to avoid, or that the patient cannot do, against positions, contacts and peaks.

use super::{Scene, about};
use crate::body::names::Region;
use crate::language::restraint::Plain;
use crate::notice::Notice;
use crate::notice::kinds::programme::{Against, OfProgramme};
use crate::pose::ask::Surface;
use crate::programme::Exercise;
use crate::programme::clock::Clock;

/// One thing that can be avoided: words for it, and how it is seen in an exercise. The thresholds in
/// degrees are common practice, no source.
struct Avoidable {
    words: &'static [&'static str],
    seen: fn(&Exercise) -> bool,
}

const AVOIDABLE: [Avoidable; 12] = [
    Avoidable { words: &["kneel"], seen: |e| touches(e, Region::KneeFront) || says(e, "kneel") },
    Avoidable { words: &["lying flat", "lying on back", "lying on the back", "supine"], seen: on_back },
    Avoidable {
        words: &["prone", "lying on front", "lying on the front", "lying on stomach"],
        seen: |e| says(e, "prone") || says(e, "lying on front"),
    },
    Avoidable {
        words: &["lying on side", "lying on the side", "side-lying", "side lying"],
        seen: |e| says(e, "side"),
    },
    Avoidable { words: &["floor", "down to the ground"], seen: |e| e.floor },
    Avoidable { words: &["sitting"], seen: |e| says(e, "sitting") },
    Avoidable { words: &["standing"], seen: |e| says(e, "standing") },
    Avoidable { words: &["impact", "jumping", "hopping", "landing"], seen: |e| cautioned(e, "impact") },
    Avoidable {
        words: &["overhead", "above shoulder", "arm above", "arms above"],
        seen: |e| any_peak(e, &["shoulder flexion", "shoulder elevation", "shoulder abduction"], 90.0),
    },
    Avoidable {
        words: &["twist", "trunk rotation"],
        seen: |e| any_peak(e, &["trunk rotation", "lower back rotation", "upper back rotation"], 15.0),
    },
    Avoidable {
        words: &["bending forward", "bending the back", "trunk flexion", "forward bending"],
        seen: |e| any_peak(e, &["trunk flexion"], 30.0),
    },
    Avoidable {
        words: &["deep squat", "squatting", "deep knee bend"],
        seen: |e| says(e, "standing") && any_peak(e, &["knee flexion"], 90.0),
    },
];

/// Whether a rule knows what these words speak of.
pub fn known(words: &str) -> bool {
    named(words).next().is_some()
}

/// Whether a rule knows what these words speak of, and they say nothing more: `kneeling`, not `sitting in low chairs`.
pub fn wholly(words: &str) -> bool {
    let count = |text: &str| text.split_whitespace().filter(|w| !["the", "any", "a"].contains(w)).count();
    let words = words.to_lowercase();
    named(&words).any(|a| a.words.iter().any(|w| words.contains(w) && count(&words) <= count(w)))
}

fn named(words: &str) -> impl Iterator<Item = &'static Avoidable> {
    let words = words.to_lowercase();
    AVOIDABLE.iter().filter(move |a| a.words.iter().any(|w| words.contains(w)))
}

/// Positions and loads that the clinician wrote to avoid.
pub fn avoided(scene: Scene<'_>) -> Vec<Notice> {
    let p = scene.prescription;
    let avoid = p.avoid.iter().map(|s| (s, false));
    let cannot = p.cannot.iter().map(|s| (s, true));
    let clock = Clock {
        week: scene.programme.week_number,
        starts: scene.programme.week_starts,
        review: scene.programme.review,
    };
    let stated = clock.stated(p, Plain::Restriction).map(|(s, _)| &s.what);
    let stated = stated.filter(|what| wholly(&what.text)).map(|what| (what, false));
    let mut found = Vec::new();
    for (said, is_cannot) in avoid.chain(cannot).chain(stated) {
        for e in scene.exercises() {
            // The catalog's own words of caution count too, whatever they are.
            let cautioned = !said.text.trim().is_empty() && cautioned(e, &said.text.to_lowercase());
            if !(cautioned || named(&said.text).any(|a| (a.seen)(e))) {
                continue;
            }
            let words = said.text.trim_end_matches('.').to_string();
            found.push(match &e.anyway {
                Some(reason) => super::limit::decided(e, Against::Avoided { is_cannot, words }, reason),
                None => about(e, OfProgramme::Avoided { is_cannot, words }),
            });
        }
    }
    found
}

fn says(e: &Exercise, word: &str) -> bool {
    e.position.contains(word)
}

/// Lying on the back, with or without bent knees.
pub fn on_back(e: &Exercise) -> bool {
    says(e, "on back") || says(e, "supine") || says(e, "crook")
}

fn cautioned(e: &Exercise, word: &str) -> bool {
    e.precautions.iter().any(|p| p.to_lowercase().contains(word))
}

/// The region rests on the floor or on a thing in some key pose.
fn touches(e: &Exercise, region: Region) -> bool {
    let keys = e.drawn.iter().flat_map(|d| d.movement.keys.iter());
    let ground =
        |s: &Surface| matches!(s, Surface::Floor | Surface::Prop(_) | Surface::Edge(_) | Surface::Tread(_));
    keys.flat_map(|k| k.touches.iter()).any(|t| t.part.region == region && ground(&t.surface))
}

/// Some angle with one of these names, on any side, goes past so many degrees.
pub fn any_peak(e: &Exercise, names: &[&str], degrees: f64) -> bool {
    peak(e, names).is_some_and(|p| degrees < p)
}

/// The greatest of the angles whose name holds one of these.
pub fn peak(e: &Exercise, names: &[&str]) -> Option<f64> {
    let held = |name: &str| names.iter().any(|n| name.contains(n));
    e.peaks.iter().filter(|(name, _)| held(name)).map(|(_, p)| *p).reduce(f64::max)
}
