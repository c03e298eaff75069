//! Joint limits by computed peaks, and weight on a limb by contacts.

use super::{Scene, about};
use crate::body::names::{Region, Side};
use crate::language::anatomy::Limb;
use crate::notice::kinds::programme::{Against, Bears, OfProgramme, Offer, Past, Shorter};
use crate::notice::{Edit, Notice};
use crate::pose::ask::Surface;
use crate::pose::movement::{Key, Movement};
use crate::prescription::limit::{Unit, Weight};
use crate::programme::say::{self, whole};
use crate::programme::{Exercise, Need};

/// "You wrote right knee flexion to 60. This needs 105."
pub fn exceeded(scene: Scene<'_>) -> Vec<Notice> {
    let mut found = Vec::new();
    for e in scene.exercises().filter(|e| !e.needs.is_empty()) {
        let past = |n: &Need| Past { angle: n.angle, limit: whole(n.limit), needs: whole(n.needs) };
        let past: Vec<Past> = e.needs.iter().map(past).collect();
        found.push(match &e.anyway {
            Some(reason) => decided(e, Against::Past(past), reason),
            None => refused(e, OfProgramme::LimitExceeded { past, offer: offer(scene, e) }),
        });
    }
    found
}

/// Kept for a reason that the clinician gave.
pub(super) fn decided(e: &Exercise, against: Against, reason: &str) -> Notice {
    about(e, OfProgramme::Decided { against, reason: reason.to_string() })
}

/// With the first that may stand in its place.
fn refused(e: &Exercise, what: OfProgramme) -> Notice {
    let edit = e.instead.first().map(|with| Edit { place: e.name_place, with: with.clone() });
    about(e, what).with(edit)
}

/// What may stand in its place, once all checks have run on it there.
fn offer(scene: Scene<'_>, e: &Exercise) -> Offer {
    match (e.instead.is_empty(), &scene.programme.no_offers) {
        (false, _) => Offer::Instead(e.instead.clone()),
        (true, Some(words)) => Offer::HeldBack(words.clone()),
        (true, None) => Offer::None,
    }
}

/// A movement that is drawn shorter because of a limit; against the limit where less than half of it is left.
pub fn drawn(scene: Scene<'_>) -> Vec<Notice> {
    let mut found = Vec::new();
    for e in scene.exercises().filter(|e| e.limited && e.needs.is_empty()) {
        let shorter = |(name, usual): (&String, &f64)| {
            let most = scene.bounds().find(|(a, _)| a.name() == *name).map(|(_, most)| most)?;
            let now = e.peaks.get(name).copied().unwrap_or(0.0);
            let (limit, usual, now) = (whole(most), whole(*usual), whole(now));
            Some(Shorter { angle: name.clone(), limit, usual, now })
        };
        let drawn: Vec<Shorter> = e.usual_peaks.iter().filter_map(shorter).collect();
        found.push(match &e.anyway {
            _ if 0.5 <= e.kept => about(e, OfProgramme::LimitDrawn { drawn }),
            Some(reason) => decided(e, Against::Shorter(drawn), reason),
            None => refused(e, OfProgramme::HardlyLeft { drawn, offer: offer(scene, e) }),
        });
    }
    found
}

/// A position that this body can't take: some of it would have to go through the floor or a thing.
pub fn in_the_way(scene: Scene<'_>) -> Vec<Notice> {
    let mut found = Vec::new();
    for e in scene.exercises().filter(|e| e.needs.is_empty()) {
        let keys = e.drawn.iter().flat_map(|d| &d.movement.keys);
        let Some((key, skin)) = keys.filter_map(|k| Some((k, k.pressed.first()?))).next() else { continue };
        let (position, part) = (key.name.clone(), skin.region());
        found.push(match &e.anyway {
            Some(reason) => decided(e, Against::Way { position, part }, reason),
            None => about(e, OfProgramme::BodyInTheWay { position, part }),
        });
    }
    found
}

/// How a side's leg or arm stands in a key pose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Carries {
    Nothing,
    /// Shares with the other leg, or with hands in kneeling.
    Shared,
    /// Alone.
    Alone,
}

/// Standing or kneeling on a leg, or leaning on an arm, that may not take it.
pub fn weight(scene: Scene<'_>) -> Vec<Notice> {
    let mut found = Vec::new();
    for bearing in scene.programme.bearing.iter().filter(|b| b.in_force && say::restricts(b.what.weight)) {
        let b = &bearing.what;
        let sides: &[Side] = match &b.side {
            Some(side) => std::slice::from_ref(side),
            None => &Side::BOTH,
        };
        for e in scene.exercises() {
            let load = sides.iter().filter_map(|side| {
                let most = e.drawn.iter().map(|d| carried(&d.movement, b.limb, *side)).max()?;
                Some((*side, most))
            });
            let Some((side, load)) = load.max_by_key(|(_, load)| *load) else { continue };
            let breaks = match (b.weight, load) {
                (_, Carries::Nothing) => false,
                (Weight::None | Weight::Touch | Weight::FlatFoot, _) => true,
                // Of a range the lower number is safe.
                (Weight::Amount { low, high, unit: Unit::Percent }, Carries::Shared) => {
                    low.unwrap_or(high) < 50
                }
                (Weight::Amount { .. } | Weight::Partial, Carries::Alone) => true,
                (Weight::Amount { .. } | Weight::Partial, Carries::Shared) => false,
                (Weight::AsTolerated | Weight::Full, _) => false,
            };
            if !breaks {
                continue;
            }
            let bears = Bears { side, is_arm: b.limb.is_arm(), is_alone: load == Carries::Alone };
            found.push(match &e.anyway {
                Some(reason) => decided(e, Against::Weight(bears), reason),
                None => about(e, OfProgramme::Weight { bears }),
            });
        }
    }
    found
}

/// The most that a side's leg or arm carries in any key pose.
pub fn carried(movement: &Movement, limb: Limb, side: Side) -> Carries {
    let of = |key: &Key| if limb.is_arm() { leans(key, side) } else { carries(key, side) };
    movement.keys.iter().map(of).max().unwrap_or(Carries::Nothing)
}

/// An arm that the body leans on, whatever else carries: hands and forearms on the floor, on a wall, on a thing that stands.
/// One that only steadies is not counted.
fn leans(key: &Key, side: Side) -> Carries {
    let leaning = key.touches.iter().any(|t| {
        let ground = !matches!(t.surface, Surface::Body(_));
        ground && !t.light && t.part.side == Some(side) && arm_end(t.part.region)
    });
    if leaning { Carries::Shared } else { Carries::Nothing }
}

fn arm_end(region: Region) -> bool {
    matches!(
        region,
        Region::Palm
            | Region::Fist
            | Region::Fingertips
            | Region::Forearm
            | Region::Elbow
            | Region::BackOfHand
    )
}

pub fn carries(key: &Key, side: Side) -> Carries {
    // Whoever lies or sits has the weight elsewhere; with the pelvis lifted off, the feet share it.
    if key.touches.iter().any(|t| lies_on(t.part.region) && t.surface != Surface::Body(t.part)) {
        return Carries::Nothing;
    }
    let stands = |s: Side| {
        key.touches.iter().any(|t| {
            let ground =
                matches!(t.surface, Surface::Floor | Surface::Prop(_) | Surface::Edge(_) | Surface::Tread(_));
            ground && !t.light && t.part.side == Some(s) && leg_end(t.part.region) && !on_wall(key, t.at)
        })
    };
    let others = key.touches.iter().any(|t| {
        let rests =
            matches!(t.part.region, Region::Palm | Region::Fist | Region::Forearm | Region::UpperBack);
        rests && t.surface == Surface::Floor
    });
    match (stands(side), stands(side.other()) || others) {
        (false, _) => Carries::Nothing,
        (true, true) => Carries::Shared,
        (true, false) => Carries::Alone,
    }
}

/// A foot on a wall carries nothing: it stands above the hips.
fn on_wall(key: &Key, at: crate::space::Vec3) -> bool {
    key.state.root.y < at.y
}

fn leg_end(region: Region) -> bool {
    matches!(
        region,
        Region::Sole
            | Region::Heel
            | Region::Forefoot
            | Region::Toes
            | Region::KneeFront
            | Region::Shin
            | Region::FootInner
            | Region::FootOuter
    )
}

fn lies_on(region: Region) -> bool {
    matches!(
        region,
        Region::Seat
            | Region::ThighBack
            | Region::Sacrum
            | Region::WholeBack
            | Region::LowerBack
            | Region::Belly
            | Region::Chest
            | Region::HipSide
            | Region::ThighFront
            | Region::PelvisFront
    )
}
