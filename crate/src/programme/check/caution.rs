//! Precautions. Each is a prompt that defers to the local protocol, the surgeon's orders and the clinician.

use super::avoid::{on_back, peak};
use super::{Scene, about};
use crate::body::names::Side;
use crate::catalog::terms::Purpose;
use crate::dose::{Effort, Kind};
use crate::language::condition::{Approach, Bone, Condition};
use crate::measure::{Date, Span};
use crate::notice::Notice;
use crate::notice::kinds::programme::OfProgramme;
use crate::programme::say::whole;
use crate::programme::{Caution, Exercise};

/// The first caution that names such a condition.
fn stands(scene: Scene<'_>, is: impl Fn(Condition) -> bool) -> Option<&Caution> {
    scene.programme.cautions.iter().find(|c| c.known.is_some_and(&is))
}

/// Bones that bending and turning may break.
pub fn is_thin_bone(c: Condition) -> bool {
    matches!(c, Condition::Osteoporosis | Condition::Osteopenia | Condition::Fracture(Bone::Vertebra, _))
}

/// After hip replacement from behind; of precautions that don't say from where, those are meant.
pub fn is_posterior_hip(c: Condition) -> bool {
    use Condition::{HipHemiarthroplasty, HipPrecautions, HipReplacement};
    matches!(
        c,
        HipReplacement(Some(Approach::Posterior))
            | HipHemiarthroplasty(Some(Approach::Posterior))
            | HipPrecautions(Some(Approach::Posterior) | None)
    )
}

/// After hip replacement from the front.
pub fn is_anterior_hip(c: Condition) -> bool {
    use Condition::{HipHemiarthroplasty, HipPrecautions, HipReplacement};
    matches!(
        c,
        HipReplacement(Some(Approach::Anterior))
            | HipHemiarthroplasty(Some(Approach::Anterior))
            | HipPrecautions(Some(Approach::Anterior))
    )
}

pub fn is_cuff_repair(c: Condition) -> bool {
    matches!(c, Condition::CuffRepair(_))
}

/// `ACL` alone, behind an operation, is its reconstruction.
pub fn is_cruciate(c: Condition) -> bool {
    matches!(c, Condition::CruciateReconstruction(_) | Condition::CruciateInjury)
}

/// The day that the week shown is judged by: its first, or today where no start is given.
fn day(scene: Scene<'_>) -> Option<Date> {
    scene.programme.week_starts.or(scene.programme.today)
}

/// Whole weeks since the operation.
fn weeks_since_surgery(scene: Scene<'_>) -> Option<i32> {
    let date = scene.prescription.surgery.as_ref()?.date?;
    Some(day(scene)?.days_since(date).div_euclid(7))
}

/// Weeks of pregnancy on that day: from the date due (40 weeks), or as typed.
pub fn weeks_pregnant(due: Option<Date>, on: Option<Date>, typed: Option<u8>) -> Option<i32> {
    if let (Some(due), Some(on)) = (due, on) {
        return Some((280 - due.days_since(on)).div_euclid(7)).filter(|w| (0..=43).contains(w));
    }
    typed.map(i32::from)
}

/// After the first trimester, lying on the back is a matter of position, not a refusal.
pub fn pregnancy(scene: Scene<'_>) -> Vec<Notice> {
    let said = stands(scene, |c| c == Condition::Pregnancy);
    let due = scene.prescription.due;
    if said.is_none() && due.is_none() {
        return Vec::new();
    }
    let weeks = weeks_pregnant(due, day(scene), said.and_then(|c| c.weeks_pregnant));
    if weeks.is_some_and(|w| w < 14) {
        return Vec::new();
    }
    scene.exercises().filter(|e| on_back(e)).map(|e| about(e, OfProgramme::LyingFlat { weeks })).collect()
}

/// Bending or twisting of the back far, often or under load. 30 and 20 degrees: common practice, no source.
pub fn osteoporosis(scene: Scene<'_>) -> Vec<Notice> {
    if stands(scene, is_thin_bone).is_none() {
        return Vec::new();
    }
    let bends = |e: &Exercise| {
        let past = peak(e, &["trunk flexion"]).filter(|p| 30.0 < *p)?;
        Some(OfProgramme::BendsBack { degrees: whole(past) })
    };
    let turns = |e: &Exercise| {
        let past = peak(e, &["trunk rotation"]).filter(|p| 20.0 < *p)?;
        Some(OfProgramme::TurnsBack { degrees: whole(past) })
    };
    scene.exercises().filter_map(|e| Some(about(e, bends(e).or_else(|| turns(e))?))).collect()
}

/// What is past a usual precaution after hip replacement from behind: flexion past 90, adduction past the
/// midline, inward rotation. Two degrees of rounding in settling are let go.
pub fn past_posterior_hip(name: &str, degrees: f64) -> bool {
    let past = |what: &str, most: f64| name.ends_with(what) && most < degrees;
    past("hip flexion", 90.5) || past("hip adduction", 2.0) || past("hip internal rotation", 2.0)
}

/// Usual precautions after hip replacement.
pub fn hip(scene: Scene<'_>) -> Vec<Notice> {
    let mut found = Vec::new();
    if let Some(caution) = stands(scene, is_posterior_hip) {
        let side = side_of(scene, caution);
        for e in scene.exercises() {
            let past: Vec<String> = e
                .peaks
                .iter()
                .filter(|(name, p)| past_posterior_hip(name, **p))
                .filter(|(name, _)| side.is_none_or(|s| name.starts_with(s.word())))
                .map(|(name, p)| format!("{name} {}", whole(*p)))
                .collect();
            if !past.is_empty() {
                found.push(about(e, OfProgramme::PosteriorHip { past }));
            }
        }
    }
    if let Some(caution) = stands(scene, is_anterior_hip) {
        let side = side_of(scene, caution);
        for e in scene.exercises() {
            let of = |what: &str| {
                let mine = |n: &str| n.ends_with(what) && side.is_none_or(|s| n.starts_with(s.word()));
                e.peaks.iter().filter(|(n, _)| mine(n)).map(|(_, p)| *p).fold(0.0, f64::max)
            };
            // "Extreme": past 10 in extension together with 20 of turning out; common practice, no source.
            let (extension, turned) = (of("hip extension"), of("hip external rotation"));
            if 10.0 < extension && 20.0 < turned {
                let what = OfProgramme::AnteriorHip { extension: whole(extension), turned: whole(turned) };
                found.push(about(e, what));
            }
        }
    }
    found
}

/// The side of a caution: by its own words, else by all cautions and the operation together (a comma parts
/// `right hip replacement, posterior approach` in two).
fn side_of(scene: Scene<'_>, caution: &Caution) -> Option<Side> {
    let all: Vec<&str> = scene.programme.cautions.iter().map(|c| c.words.as_str()).collect();
    caution.one_side().or_else(|| side_in(&caution.words)).or_else(|| side_in(&all.join(" ")))
}

/// The side that words name, where they name one.
pub fn side_in(words: &str) -> Option<Side> {
    let words = words.to_lowercase();
    let has = |w: &str| words.split(|c: char| !c.is_alphanumeric()).any(|x| x == w);
    match (has("right"), has("left")) {
        (true, false) => Some(Side::Right),
        (false, true) => Some(Side::Left),
        _ => None,
    }
}

/// Strengthening after cuff repair: from week 12 (ASSET phase 3); active motion from week 6.
pub fn cuff(scene: Scene<'_>) -> Vec<Notice> {
    let Some(caution) = stands(scene, is_cuff_repair) else { return Vec::new() };
    let Some(weeks) = weeks_since_surgery(scene).filter(|w| *w < 12) else { return Vec::new() };
    let side = side_of(scene, caution);
    let other = |e: &Exercise| {
        use crate::programme::OnSide;
        matches!((side, e.side), (Some(Side::Right), OnSide::Left) | (Some(Side::Left), OnSide::Right))
    };
    let arm = |e: &Exercise| e.region == "shoulder" || e.region == "elbow";
    scene
        .exercises()
        .filter(|e| arm(e) && e.purpose == Purpose::Strengthen && !other(e))
        .map(|e| about(e, OfProgramme::CuffEarly { weeks }))
        .collect()
}

/// Loaded straightening of a free leg, 90 to 45 only at first.
pub fn cruciate(scene: Scene<'_>) -> Vec<Notice> {
    if stands(scene, is_cruciate).is_none() {
        return Vec::new();
    }
    let Some(weeks) = weeks_since_surgery(scene).filter(|w| *w < 12) else { return Vec::new() };
    scene
        .exercises()
        .filter(|e| e.region == "knee" && e.position.contains("sitting") && !e.amount.loads.is_empty())
        .filter(|e| e.purpose == Purpose::Strengthen)
        .map(|e| about(e, OfProgramme::OpenChain { weeks }))
        .collect()
}

/// Long hard holds with raised blood pressure; ordinary isometric work is not worth a word.
pub fn pressure(scene: Scene<'_>) -> Vec<Notice> {
    if stands(scene, |c| c == Condition::RaisedBloodPressure).is_none() {
        return Vec::new();
    }
    let hard = |e: &Exercise| match e.amount.dose.effort {
        Some(Effort::OfTen { high_halves, .. }) => 14 <= high_halves,
        Some(Effort::OfTwenty { high, .. }) => 15 <= high,
        Some(Effort::Percent { high, .. }) => 70 <= high,
        None => false,
    };
    let longest =
        |e: &Exercise| e.amount.portions.iter().filter_map(|p| p.hold).map(Span::high).max().unwrap_or(0);
    scene
        .exercises()
        // 30 s of loaded holding, or 10 s at a hard effort: common practice, no source.
        .filter(|e| (e.loaded && 30 <= longest(e)) || (hard(e) && 10 <= longest(e)))
        .filter(|e| e.purpose != Purpose::Stretch)
        .map(|e| about(e, OfProgramme::LongHold { seconds: longest(e) }))
        .collect()
}

/// Unsupported standing, or floor work, in someone who falls.
pub fn falls(scene: Scene<'_>) -> Vec<Notice> {
    if stands(scene, |c| c == Condition::Falls).is_none() {
        return Vec::new();
    }
    let held = |e: &Exercise| {
        let keys = e.drawn.iter().flat_map(|d| d.movement.keys.iter());
        keys.flat_map(|k| k.touches.iter()).any(|t| {
            use crate::body::names::Region as R;
            let hand = matches!(t.part.region, R::Palm | R::Fingertips | R::Fist | R::Forearm);
            hand && matches!(
                t.surface,
                crate::pose::ask::Surface::Prop(_)
                    | crate::pose::ask::Surface::Edge(_)
                    | crate::pose::ask::Surface::Tread(_)
            )
        })
    };
    let mut found = Vec::new();
    for e in scene.exercises().filter(|e| !matches!(e.kind, Kind::Advice | Kind::Worn)) {
        if e.position.contains("standing") && !e.drawn.is_empty() && !held(e) {
            found.push(about(e, OfProgramme::Unsupported));
        } else if e.floor {
            found.push(about(e, OfProgramme::OnFloor));
        }
    }
    found
}
