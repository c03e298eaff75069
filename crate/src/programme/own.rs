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
use crate::notice::Notice;
use crate::notice::kinds::programme::{Lead, OfProgramme};
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
        typed.map_or(Lead::Unsaid, |t| Lead::Typed(t.to_string()))
    };
    // A pose that was copied from the catalog has no place in this text.
    let here = |place: Place| block.lines.iter().any(|l| l.place.line == place.line);
    let mut all = Vec::new();
    for (pose, key) in e.poses.iter().zip(&movement.keys) {
        let about = if here(pose.place) { pose.place } else { block.name.place };
        all.extend(not_met(pose, key).into_iter().map(|(place, what)| {
            let place = place.filter(|p| here(*p));
            let lead = place.map_or_else(|| Lead::Pose(pose.name.clone()), words);
            Notice::new(what(lead), place.unwrap_or(about))
        }));
    }
    all.extend(unseen(scope, e, &movement, cache, block));
    all
}

/// What is missing, once it is said of what.
type Missing = Box<dyn FnOnce(Lead) -> OfProgramme>;

/// What one key pose doesn't meet: where it was asked, if that is known, and how much is missing.
fn not_met(pose: &Pose, key: &Key) -> Vec<(Option<Place>, Missing)> {
    let mut all = Vec::new();
    for (angle, asked, came) in &key.missed {
        let said = pose.asks.iter().find(|a| {
            matches!(&a.what, Ask::Angle { joint, motion, .. } if *joint == angle.joint && *motion == angle.motion)
        });
        let (asked, came) = (shown(*asked, 0), shown(*came, 0));
        let angle = *angle;
        let what = move |lead| OfProgramme::AngleNotReached { lead, angle, asked, came };
        all.push((said.map(|s| s.place), Box::new(what) as Missing));
    }
    for (ask, off) in &key.unmet {
        let said = pose.asks.iter().find(|a| a.what == *ask);
        let degrees = shown(off * RELATION, 0);
        let what = move |lead| OfProgramme::RelationOff { lead, degrees };
        all.push((said.map(|s| s.place), Box::new(what)));
    }
    if settle::GAP_MM < key.gap_mm {
        let mm = shown(key.gap_mm, 0);
        all.push((None, Box::new(move |lead| OfProgramme::Gap { lead, mm })));
    }
    if key.margin_mm.is_some_and(|m| m < 0.0) {
        all.push((None, Box::new(|lead| OfProgramme::Falls { lead })));
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
) -> Vec<Notice> {
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
        Notice::new(OfProgramme::Unseen { typed: own.map(|own| own.to_string()), percent }, place)
    };
    shares.iter().map(told).collect()
}
