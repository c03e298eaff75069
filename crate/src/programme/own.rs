//! What an own exercise asks of the body and doesn't get: the catalog's files are tested for it, these can only
//! be told of it.

use std::sync::Arc;

use super::resolve::Scope;
use super::settled::Cache;
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::catalog::Exercise;
use crate::figure::Look;
use crate::measure::shown;
use crate::notice::{Notice, Severity};
use crate::pose::ask::{Ask, Pose};
use crate::pose::movement::{Key, Movement};
use crate::pose::read::shows::Show;
use crate::pose::settle;
use crate::text::Place;
use crate::text::fold::folded;

/// Degrees of one tolerance of a relation, as settling weighs it.
const RELATION: f64 = 3.0;

/// Everything that the poses of an own exercise ask and that settling can't meet, and what its figure should show
/// and doesn't. Without the patient's limits: what those change is told elsewhere.
pub fn faults(scope: &Scope<'_>, e: &Exercise, cache: &mut Cache) -> Vec<Notice> {
    if e.poses.is_empty() || !scope.own.iter().any(|o| core::ptr::eq(o, e)) {
        return Vec::new();
    }
    // As written, the right side works.
    let movement = cache.movement(&e.poses, &scope.bounds.body, Side::Right, &Limits::none());
    let block = scope.prescription.own.iter().find(|o| folded(&o.name.text) == folded(&e.name));
    let Some(block) = block else { return Vec::new() };
    let words = |place: Place| {
        let line = block.lines.iter().find(|l| l.place.line == place.line);
        let typed = line.and_then(|l| {
            let from = place.start.checked_sub(l.place.start)?;
            crate::text::trim_start(&l.text).get(from..from + place.end.checked_sub(place.start)?)
        });
        typed.map_or(String::new(), |t| format!("“{t}”: "))
    };
    // A pose that was copied from the catalog has no place in this text.
    let here = |place: Place| block.lines.iter().any(|l| l.place.line == place.line);
    let mut all = Vec::new();
    for (pose, key) in e.poses.iter().zip(&movement.keys) {
        let about = if here(pose.place) { pose.place } else { block.name.place };
        all.extend(not_met(pose, key).into_iter().map(|(place, what, kind)| {
            let place = place.filter(|p| here(*p));
            let lead = place.map_or(format!("Pose “{}”: ", pose.name), words);
            told(kind, place.unwrap_or(about), format!("{lead}{what}"))
        }));
    }
    for (place, what) in unseen(scope, e, &movement, cache, block) {
        all.push(told("own-unseen", place, what));
    }
    all
}

fn told(kind: &'static str, place: Place, sentence: String) -> Notice {
    Notice { severity: Severity::Precaution, kind, place, sentence, edit: None }
}

/// What one key pose doesn't meet: where it was asked, if that is known, and how much is missing.
fn not_met(pose: &Pose, key: &Key) -> Vec<(Option<Place>, String, &'static str)> {
    let mut all = Vec::new();
    for (angle, asked, came) in &key.missed {
        let said = pose.asks.iter().find(|a| {
            matches!(&a.what, Ask::Angle { joint, motion, .. } if *joint == angle.joint && *motion == angle.motion)
        });
        let (asked, came) = (shown(*asked, 0), shown(*came, 0));
        let what = format!(
            "{} of {asked} degrees is asked, and {came} is reached with all else that is asked. Ask for {came}, or take something away.",
            angle.name()
        );
        all.push((said.map(|s| s.place), what, "own-not-reached"));
    }
    for (ask, off) in &key.unmet {
        let said = pose.asks.iter().find(|a| a.what == *ask);
        let off = shown(off * RELATION, 0);
        let what = format!(
            "this is off by about {off} degrees with all else that is asked. Take one of the two away."
        );
        all.push((said.map(|s| s.place), what, "own-not-reached"));
    }
    if settle::GAP_MM < key.gap_mm {
        let gap = shown(key.gap_mm, 0);
        let what = format!("what should touch stays {gap} mm apart. Move it nearer, or take a contact away.");
        all.push((None, what, "own-gap"));
    }
    if key.margin_mm.is_some_and(|m| m < 0.0) {
        let what = "the body would fall here. Add a support, or write a smaller movement.".to_string();
        all.push((None, what, "own-falls"));
    }
    all
}

/// What `must show` names and the figure doesn't show well enough.
fn unseen(
    scope: &Scope<'_>,
    e: &Exercise,
    movement: &Arc<Movement>,
    cache: &mut Cache,
    block: &crate::prescription::Own,
) -> Vec<(Place, String)> {
    let lines = || block.lines.iter().filter(|l| folded(&l.text).starts_with("must show"));
    let Some(place) = lines().next().map(|l| l.place) else { return Vec::new() };
    let body = &scope.bounds.body;
    let shares = cache.unseen(movement, &e.must_show, || {
        let unseen = crate::figure::unseen(body, movement, &Look::default(), &e.must_show);
        let at = |show: &Show| e.must_show.iter().position(|s| s == show).unwrap_or(0);
        unseen.iter().map(|(show, share)| (at(show), *share)).collect()
    });
    // By its own words, where each piece of the list is one thing.
    let text = lines().next().and_then(|l| l.text.split_once(':')).map_or("", |(_, list)| list);
    let pieces: Vec<&str> = text.split(',').map(str::trim).collect();
    let told = |(at, share): &(usize, f64)| {
        let percent = shown(share * 100.0, 0);
        let own = pieces.get(*at).filter(|_| pieces.len() == e.must_show.len());
        let which =
            own.map_or("Something that must show".to_string(), |own| format!("“{own}” must show, and"));
        let what = format!(
            "{which} is seen only to {percent} % of its length or way. Write another `view:`, or take it from the list."
        );
        (place, what)
    };
    shares.iter().map(told).collect()
}
