//! Letting go: which contacts that a pose only inherited have to end for it to be possible.

use super::ask::Spot;
use super::settle::{Settled, Touching, asked_value, end_of, limit_on};
use crate::body::names::{Angle, Joint, Region, Side};
use crate::body::range::Limits;
use crate::body::{Body, Skin};

/// A skin point of a touching part.
pub(super) type Gone = Vec<(Spot, Skin)>;

/// An asked angle off by more, degrees, makes inherited contacts give way.
const HELD_BACK: f64 = 4.0;
/// A contact that pulls by more, metres for a 1.70 m body, is at odds with an asked angle; soft wishes
/// pull less than half of this.
const PULLS_HARD: f64 = 0.00006;
/// A contact that pulls by less is not what holds an asked angle back.
const PULLS: f64 = 0.00002;
/// A resting limb that is so far from what it rested on has been carried off.
const CARRIED_OFF: f64 = 0.015;
/// A contact written in this pose that is so far off is kept off by another.
const KEPT_OFF: f64 = 0.0005;

/// The touching list without some skin points.
pub(super) fn without(touching: &[Touching], gone: &Gone) -> Vec<Touching> {
    let mut list = touching.to_vec();
    for t in &mut list {
        let keep: Vec<bool> = t.skins.iter().map(|skin| !gone.contains(&(t.part, *skin))).collect();
        let mut k = keep.iter();
        t.skins.retain(|_| k.next().copied().unwrap_or(true));
        if let Some(anchors) = &mut t.anchors {
            let mut k = keep.iter();
            anchors.retain(|_| k.next().copied().unwrap_or(true));
        }
    }
    list.retain(|t| !t.skins.is_empty());
    list
}

/// Resting limbs that have been carried off what they rested on.
pub(super) fn carried_off(s: &Settled, body: &Body) -> Gone {
    let gaps = Gaps::of(s, body);
    // A shin behind a knee that is knelt on stays down.
    let knelt_on = |side| {
        s.touching.iter().any(|t| !t.loosely && t.part.region == Region::KneeFront && t.part.side == side)
    };
    let stays = |t: &Touching| t.part.region == Region::Toes && knelt_on(t.part.side);
    let resting = s.touching.iter().filter(|t| t.loosely && !t.firm && !stays(t));
    resting.filter(|t| t.skins.iter().any(|k| CARRIED_OFF < gaps.of_skin(k))).flat_map(all_of).collect()
}

/// Whether an asked angle or a contact of this pose is held back, or an inherited contact pulls hard.
pub(super) fn is_at_odds(s: &Settled, body: &Body, limits: &Limits) -> bool {
    let gaps = Gaps::of(s, body);
    let held_back = s.compiled.asked.iter().any(|(angle, asked)| {
        let wanted = limit_on(*angle, limits).map_or(*asked, |l| asked.min(l));
        HELD_BACK < (asked_value(&s.at.state, *angle) - wanted).abs()
    });
    let kept_off =
        s.touching.iter().any(|t| t.firm && t.skins.iter().any(|k| KEPT_OFF < gaps.of_skin(k).abs()));
    // A posture by itself lies as it lies: only what a pose says can be at odds with it.
    let says = !s.compiled.asked.is_empty() || s.touching.iter().any(|t| t.firm);
    let pulls = says && inherited(s).any(|t| t.skins.iter().any(|k| PULLS_HARD < gaps.of_skin(k)));
    (held_back || kept_off || pulls) && inherited(s).next().is_some()
}

/// What could let go: of the limbs that are asked to move the heels, the rest of the foot or hand, all of
/// one side, all of both; whatever pulls most elsewhere; and both together.
pub(super) fn candidates(s: &Settled, body: &Body) -> Vec<Gone> {
    let gaps = Gaps::of(s, body);
    let asked = |t: &Touching| {
        s.compiled.asked.iter().any(|(a, _)| on_limb(*a, t.part)) || kept_off_limb(s, &gaps, t)
    };
    let gather = |keep: &dyn Fn(&Touching) -> bool| -> Gone {
        inherited(s).filter(|t| keep(t)).flat_map(all_of).collect()
    };
    let heels = gather(&|t| asked(t) && t.part.region == Region::Heel);
    let fronts = gather(&|t| asked(t) && t.part.region == Region::Forefoot);
    let right = gather(&|t| asked(t) && t.part.side == Some(Side::Right));
    let left = gather(&|t| asked(t) && t.part.side == Some(Side::Left));
    let limbs = gather(&asked);
    let most = inherited(s)
        .filter(|t| !asked(t) && !is_hand(t))
        .flat_map(|t| t.skins.iter().map(move |k| (t, *k)))
        .map(|(t, k)| (t.part, gaps.of_skin(&k)))
        .filter(|(_, g)| PULLS < *g)
        .max_by(|a, b| a.1.total_cmp(&b.1));
    // Both buttocks, both blades: what pulls on one side leaves on both.
    let elsewhere = match most {
        Some((worst, _)) => gather(&|t| {
            !asked(t)
                && (t.part.region == worst.region
                    || (t.part.side == worst.side
                        && end_of(t.part.region).is_some()
                        && end_of(t.part.region) == end_of(worst.region)))
        }),
        None => Vec::new(),
    };
    let all_pulling =
        gather(&|t| !asked(t) && !is_hand(t) && t.skins.iter().any(|k| PULLS < gaps.of_skin(k)));
    let mut together = limbs.clone();
    together.extend(elsewhere.iter().copied());
    let mut list: Vec<Gone> = Vec::new();
    for gone in [heels, fronts, right, left, elsewhere, limbs, together, all_pulling] {
        if !gone.is_empty() && !list.contains(&gone) {
            list.push(gone);
        }
    }
    list
}

/// A hand that rests on something is asked for by name before it lets go.
fn is_hand(t: &Touching) -> bool {
    limb_of(t.part.region) == 1
}

fn inherited(s: &Settled) -> impl Iterator<Item = &Touching> {
    s.touching.iter().filter(|t| !t.firm && !t.loosely)
}

fn all_of(t: &Touching) -> impl Iterator<Item = (Spot, Skin)> {
    t.skins.iter().map(|k| (t.part, *k))
}

/// Whether a part's limb has a contact of this pose that is kept off.
fn kept_off_limb(s: &Settled, gaps: &Gaps, part: &Touching) -> bool {
    s.touching.iter().any(|t| {
        t.firm
            && t.part.side == part.part.side
            && limb_of(t.part.region) == limb_of(part.part.region)
            && t.skins.iter().any(|k| KEPT_OFF < gaps.of_skin(k).abs())
    })
}

struct Gaps(Vec<(Skin, f64)>);

impl Gaps {
    /// Gaps as of a 1.70 m body, metres.
    fn of(s: &Settled, body: &Body) -> Gaps {
        let scale = Body::USUAL_STATURE / body.stature();
        Gaps(s.compiled.settling.gaps(&s.at).into_iter().map(|(k, g)| (k, g * scale)).collect())
    }

    /// The widest gap of a skin point.
    fn of_skin(&self, skin: &Skin) -> f64 {
        self.0.iter().filter(|(have, _)| have == skin).map(|(_, g)| *g).fold(0.0, f64::max)
    }
}

/// Whether a part belongs to the limb that an angle bends.
fn on_limb(angle: Angle, part: Spot) -> bool {
    let leg = matches!(angle.joint, Joint::Hip | Joint::Knee | Joint::Ankle | Joint::Toes);
    let arm = matches!(angle.joint, Joint::Shoulder | Joint::Elbow | Joint::Forearm | Joint::Wrist);
    let head = matches!(angle.joint, Joint::Neck | Joint::LowerNeck | Joint::UpperNeck);
    match limb_of(part.region) {
        0 => leg && part.side == angle.side,
        1 => arm && part.side == angle.side,
        2 => head,
        _ => false,
    }
}

/// Leg, arm, head or trunk.
fn limb_of(region: Region) -> u8 {
    use Region::*;
    match region {
        KneeFront | KneeBack | KneeInner | KneeOuter | Shin | Calf | ThighBack | ThighFront => 0,
        UpperArm => 1,
        r => end_of(r).unwrap_or(3),
    }
}
