//! Settling: from what poses ask to where a body is.
//!
//! Each key pose is settled from the one before, so that what is planted keeps its place: the patient
//! takes the start position first, and the movement has to fit it. Exercises are settled as written,
//! for the right as working side, and mirrored after.

use super::ask::{Ask, Bit, Contact, From, Held, Pose, PropKind, Spot, Surface};
use super::compile::{Compiled, compile};
use super::movement::{Key, Movement, Need, Touch};
use super::posture::{Base, base};
use super::problem::{At, Settling};
use super::room::Room;
use super::{hull, release, things};
use crate::body::dof::{self, COUNT, Dof};
use crate::body::names::{Angle, Joint, Motion, Region, Segment, Side};
use crate::body::range::{self, Limits};
use crate::body::{Body, Skin, State};
use crate::measure::{degrees, radians};
use crate::solve::{Effort, minimise};
use crate::space::Vec3;
use crate::text::Place;
use std::collections::BTreeMap;

/// A gap that counts as not touching, millimetres for a 1.70 m body.
pub const GAP_MM: f64 = 5.0;
/// An asked angle that is off by more counts as not reached, degrees.
pub const MISS: f64 = 6.0;
/// An asked relation that is off by more tolerances (3° or 10 mm) counts as not reached.
pub const UNMET: f64 = 2.5;
/// Instants of a way from one key pose to the next, both ends included.
pub const INSTANTS: usize = 16;

/// Settles an exercise for a body, a working side and a patient's limits.
///
/// `poses` are written for the right as working side; with `side` left everything comes out mirrored
/// (limits are the patient's own, never mirrored by the caller).
pub fn exercise(body: &Body, poses: &[Pose], side: Side, limits: &Limits) -> Movement {
    let as_right = if side == Side::Left { limits.mirrored() } else { limits.clone() };
    let (mut movement, touching) = settled(body, poses, &Limits::none(), None);
    if !as_right.is_none() {
        // The same exercise: what touches is what touches without the limits. Where that can't be met,
        // the gap says so, and the needs say why.
        let natural = movement;
        movement = settled(body, poses, &as_right, Some(&touching)).0;
        (movement.needs, movement.held) = compared(&movement, &natural, &as_right);
        movement.limited = !movement.needs.is_empty();
    }
    if side == Side::Left { movement.mirrored() } else { movement }
}

/// What the movement without the patient's limits would need beyond them, and which limits it met.
fn compared(limited: &Movement, natural: &Movement, limits: &Limits) -> (Vec<Need>, Vec<(Angle, f64)>) {
    let mut needs = Vec::new();
    let mut held = Vec::new();
    let reached: BTreeMap<Angle, f64> = limited.peaks.iter().copied().collect();
    for &(angle, needed) in &natural.peaks {
        let Some(limit) = limit_on(angle, limits) else { continue };
        if limit + 0.5 < needed {
            needs.push(Need { angle, needs: needed, limit });
            if limit - 1.5 < reached.get(&angle).copied().unwrap_or(0.0) {
                held.push((angle, limit));
            }
        }
    }
    // A limit that nature stays away from by its sign: an extension deficit.
    for i in 0..COUNT {
        let (plus, minus) = Dof(i).angles();
        let b = limits.bounds(Dof(i));
        if 0.0 < b.low {
            let lowest = lowest_of(natural, Dof(i));
            if lowest < b.low - 0.5 {
                needs.push(Need { angle: minus, needs: 0.0 - lowest, limit: 0.0 - b.low });
                held.push((plus, b.low));
            }
        }
    }
    (needs, held)
}

fn lowest_of(m: &Movement, d: Dof) -> f64 {
    let states = m.ways.iter().flatten().chain(m.keys.iter().map(|k| &k.state));
    degrees(states.map(|s| s.angle(d)).fold(f64::INFINITY, f64::min))
}

/// The patient's limit on a clinical angle, degrees, where it is narrower than the joint's range.
pub fn limit_on(angle: Angle, limits: &Limits) -> Option<f64> {
    let whole = range::highest(angle)?;
    if angle.joint == Joint::Shoulder && angle.motion == Motion::Elevation {
        let most = limits.elevation(angle.side.unwrap_or(Side::Right));
        return (most < whole).then_some(most);
    }
    let most: f64 = dof::parts(angle)
        .iter()
        .map(|(d, sign)| {
            let b = limits.bounds(*d);
            if *sign < 0.0 { 0.0 - b.low } else { b.high }
        })
        .sum();
    (most < whole - 1e-9).then_some(most)
}

/// One thing a part touches, skin point by skin point.
#[derive(Clone, Debug)]
pub(super) struct Touching {
    pub part: Spot,
    pub skins: Vec<Skin>,
    pub surface: Surface,
    /// Written in this pose or kept by `planted`: never given up.
    pub firm: bool,
    pub planted: bool,
    pub slides: bool,
    pub light: bool,
    pub loosely: bool,
    pub holds: bool,
    /// Where its skin points were in the pose before, if it keeps its place.
    pub anchors: Option<Vec<Vec3>>,
}

/// A settled pose with what the next one starts from.
pub(super) struct Settled {
    pub at: At,
    pub touching: Vec<Touching>,
    pub compiled: Compiled,
    pub cost: f64,
    pub converged: bool,
}

/// A movement and what touches in each of its key poses; `as_natural` is what may touch at all.
fn settled(
    body: &Body,
    poses: &[Pose],
    limits: &Limits,
    as_natural: Option<&[Vec<Touching>]>,
) -> (Movement, Vec<Vec<Touching>>) {
    let (room, done) = each(body, poses, limits, as_natural);
    let mut keys = Vec::new();
    for (pose, s) in poses.iter().zip(&done) {
        keys.push(described(body, pose, s, limits));
    }
    let ways: Vec<Vec<State>> = done.windows(2).map(|w| way(body, &w[0], &w[1], limits)).collect();
    let peaks = peaks(keys.iter().map(|k| &k.state).chain(ways.iter().flatten()));
    let places: Vec<Vec<Vec3>> = done.iter().map(|d| d.at.rolling.clone()).collect();
    let things =
        things::stand(body, poses, &room, &mut keys, &places, done.first().map(|d| &d.compiled.base));
    let movement = Movement {
        side: Side::Right,
        keys,
        ways,
        things,
        peaks,
        needs: Vec::new(),
        limited: false,
        held: Vec::new(),
    };
    (movement, done.into_iter().map(|s| s.touching).collect())
}

/// Every pose settled from the one it starts from, in the room of them all.
fn each(
    body: &Body,
    poses: &[Pose],
    limits: &Limits,
    as_natural: Option<&[Vec<Touching>]>,
) -> (Room, Vec<Settled>) {
    let room = Room::of(poses, body);
    let mut done: Vec<Settled> = Vec::new();
    for pose in poses {
        let kept = as_natural.and_then(|n| n.get(done.len())).map(Vec::as_slice);
        let settled = match pose.from {
            From::Earlier(i) if i < done.len() => {
                let before = &done[i];
                key(body, pose, &room, limits, &before.at, Some(before), &before.compiled.base, kept)
            }
            // The reader gives no such pose; what starts from nothing has nothing to show.
            From::Earlier(_) => break,
            From::Posture(posture) => {
                let b = base(posture, body, room.seat());
                let at = At { state: b.state.clone(), rolling: Vec::new(), shares: Vec::new() };
                key(body, pose, &room, limits, &at, None, &b, kept)
            }
        };
        done.push(settled);
    }
    (room, done)
}

/// The key poses of an exercise as the problems that were solved for them, for checking from outside.
pub fn problems(body: &Body, poses: &[Pose], limits: &Limits) -> Vec<Posed> {
    let done = each(body, poses, limits, None).1;
    let firsts: Vec<bool> = poses.iter().map(|p| matches!(p.from, From::Posture(_))).collect();
    let posed = |((pose, settled), first): ((&Pose, Settled), bool)| Posed {
        name: pose.name.clone(),
        settled,
        first,
    };
    poses.iter().zip(done).zip(firsts).map(posed).collect()
}

/// A key pose as the problem that was solved for it.
pub struct Posed {
    pub name: String,
    settled: Settled,
    first: bool,
}

impl Posed {
    pub fn settling(&self) -> &Settling {
        &self.settled.compiled.settling
    }

    /// Where solving started cold.
    pub fn start(&self) -> &At {
        &self.settled.compiled.start
    }

    pub fn answer(&self) -> &At {
        &self.settled.at
    }

    pub fn converged(&self) -> bool {
        self.settled.converged
    }

    /// Solves it once more, from the start.
    pub fn solve(&self) -> At {
        let s = &self.settled;
        let before = if self.first { None } else { Some(s) };
        let limits = &s.compiled.settling.limits;
        polished(solved(s.compiled.clone(), &s.touching, before, limits, STARTS)).at
    }
}

#[expect(clippy::too_many_arguments, reason = "a pose, what it is settled for, and what it starts from")]
fn key(
    body: &Body,
    pose: &Pose,
    room: &Room,
    limits: &Limits,
    from: &At,
    before: Option<&Settled>,
    base: &Base,
    as_natural: Option<&[Touching]>,
) -> Settled {
    let mut first = touching(body, pose, from, before, base);
    let lying: Vec<(Spot, Surface)> = match before {
        Some(b) => b.touching.iter().map(|t| (t.part, t.surface)).collect(),
        None => base.rests.iter().map(|r| (r.part, r.surface)).collect(),
    };
    if let Some(kept) = as_natural {
        let touches = |part: Spot, skin: &Skin| kept.iter().any(|t| t.part == part && t.skins.contains(skin));
        let gone: release::Gone = first
            .iter()
            .flat_map(|t| t.skins.iter().map(move |k| (t.part, *k)))
            .filter(|(part, skin)| !touches(*part, skin))
            .collect();
        first = release::without(&first, &gone);
    }
    let was = before.map_or(&first[..], |b| &b.touching[..]);
    let attempt = |touching: &[Touching], starts: usize| {
        let compiled = compile(body, pose, room, limits, from, touching, was, &lying, base);
        solved(compiled, touching, before, limits, starts)
    };
    let mut s = attempt(&first, STARTS);
    if as_natural.is_some() {
        return polished(s);
    }
    // What touches only because it did before may have to leave. Each round takes something away.
    for _ in 0..5 {
        let carried = release::carried_off(&s, body);
        if !carried.is_empty() {
            s = attempt(&release::without(&s.touching, &carried), STARTS);
            continue;
        }
        if !release::is_at_odds(&s, body, limits) {
            break;
        }
        let supported = !s.compiled.support.is_empty();
        let mut best: Option<(Settled, f64)> = None;
        for gone in release::candidates(&s, body) {
            let trial = attempt(&release::without(&s.touching, &gone), 1);
            if supported && trial.compiled.support.is_empty() {
                continue;
            }
            // What would fall over without it stays.
            if stands(&s, body) && !stands(&trial, body) {
                continue;
            }
            // Nobody is left hanging on hands alone who stood, knelt or sat before.
            if on_hands_alone(&trial) && !on_hands_alone(&s) {
                continue;
            }
            // Fewest goodbyes among equals.
            let price = trial.cost + 0.1 * gone.len() as f64;
            if best.as_ref().is_none_or(|b| price < b.1) {
                best = Some((trial, price));
            }
        }
        match best {
            Some((trial, price)) if price + WORTH < s.cost && price < 0.75 * s.cost => s = trial,
            _ => break,
        }
    }
    polished(s)
}

/// Whether nothing but hands and arms carries.
fn on_hands_alone(s: &Settled) -> bool {
    let arm =
        |skin: &Skin| matches!(skin.segment(), Segment::Hand(_) | Segment::Forearm(_) | Segment::UpperArm(_));
    s.compiled.support.iter().all(arm)
}

/// Whether the centre of mass lies over what carries, or nearly.
fn stands(s: &Settled, body: &Body) -> bool {
    let placed = body.place(&s.at.state);
    let carrying: Vec<Vec3> = s.compiled.support.iter().map(|skin| placed.skin(*skin)).collect();
    s.compiled.walled || hull::margin(&carrying, placed.centre_of_mass()).is_none_or(|m| -0.030 < m)
}

/// Solves roughly from a few starts, contacts coming in by stages; the lowest objective wins, ties to
/// the first.
fn solved(
    compiled: Compiled,
    touching: &[Touching],
    before: Option<&Settled>,
    limits: &Limits,
    most_starts: usize,
) -> Settled {
    let mut settling = compiled.settling.clone();
    let mut best: Option<(At, f64)> = None;
    // Contacts coming in by stages find the way where a limb has far to go, contacts at once where stages lead astray:
    // the first start is tried by both.
    let stage = |weight, steps, caution| (weight, Effort { steps, promise: 1e-3, caution });
    let staged = vec![stage(0.03, 8, 0.0), stage(0.3, 6, 0.0), stage(1.0, 16, 0.0)];
    let at_once = vec![stage(1.0, 30, 1.0)];
    let mut starts = vec![(&compiled.start, &staged), (&compiled.start, &at_once)];
    if before.is_some() {
        starts.push((&compiled.gentle, &staged));
    }
    starts.push((&compiled.middle, &staged));
    for (k, (start, stages)) in starts.into_iter().take(most_starts).enumerate() {
        let mut at = start.clone();
        let mut cost = f64::INFINITY;
        for &(weight, effort) in stages {
            settling.contact_weight = weight;
            cost = minimise(&settling, &mut at, effort).cost;
        }
        if best.as_ref().is_none_or(|b| cost < b.1 - 1e-6) {
            best = Some((at, cost));
        }
        // Other starts are for when something had to give, and another way for when much had.
        let eased = 0 < k || best.as_ref().is_some_and(|b| b.1 < EASED);
        if eased && best.as_ref().is_some_and(|b| meets_all(&settling, &compiled.asked, limits, &b.0)) {
            break;
        }
    }
    let (at, cost) = best.unwrap_or((compiled.start.clone(), f64::INFINITY));
    Settled { at, cost, touching: touching.to_vec(), compiled, converged: false }
}

/// How hard a key pose is solved in the end.
pub const POLISH: Effort = Effort { steps: 300, promise: 1e-7, caution: 0.0 };

/// Solves to the end.
fn polished(mut s: Settled) -> Settled {
    let ended = minimise(&s.compiled.settling, &mut s.at, POLISH);
    s.cost = ended.cost;
    s.converged = ended.converged;
    s
}

/// The pose before with the asked angles put in (twice), the pose before as it was, the middle of the ranges.
const STARTS: usize = 4;

/// Half a sum of squared tolerances that is no more than soft wishes cost: from trying, no source.
const EASED: f64 = 10.0;

/// What letting go must save: an asked angle that is off by some 8°, or a contact by 4 mm.
const WORTH: f64 = 8.0;

/// Whether every contact touches and every asked angle is met, all but for what softer wishes bend.
fn meets_all(settling: &Settling, asked: &[(Angle, f64)], limits: &Limits, at: &At) -> bool {
    settling.gaps(at).iter().all(|(_, gap)| gap.abs() < 0.001)
        && asked.iter().all(|(angle, asked)| {
            let wanted = limit_on(*angle, limits).map_or(*asked, |l| asked.min(l));
            (asked_value(&at.state, *angle) - wanted).abs() < 4.0
        })
}

/// What touches in this pose: what it says, and what lasts of the pose before.
fn touching(body: &Body, pose: &Pose, from: &At, before: Option<&Settled>, base: &Base) -> Vec<Touching> {
    let mut list: Vec<Touching> = match before {
        Some(b) => b.touching.clone(),
        None => base
            .rests
            .iter()
            .map(|r| Touching {
                part: r.part,
                skins: Skin::of(r.part.region, r.part.side),
                surface: r.surface,
                firm: false,
                planted: false,
                slides: false,
                light: false,
                loosely: r.loosely,
                holds: false,
                anchors: None,
            })
            .collect(),
    };
    let placed = body.place(&from.state);
    for t in &mut list {
        t.firm = false;
        t.planted = false;
        // Toes that merely lie behind a knee stay where they lie.
        t.anchors = (before.is_some() && !t.slides && (!t.loosely || t.part.region == Region::Toes))
            .then(|| t.skins.iter().map(|s| placed.skin(*s)).collect());
    }
    let stood_before: Vec<(Spot, Surface)> = list.iter().map(|t| (t.part, t.surface)).collect();
    for release in &pose.releases {
        let gone = Skin::of(release.what.part.region, release.what.part.side);
        // A foot or hand that leaves takes all of its contacts with it, unless only a part was named.
        let whole = matches!(
            release.what.part.region,
            Region::Sole | Region::Palm | Region::KneeFront | Region::Forearm | Region::Shin
        );
        list.retain_mut(|t| {
            if let Some(anchors) = &mut t.anchors {
                let mut k = 0;
                anchors.retain(|_| {
                    k += 1;
                    !gone.contains(&t.skins[k - 1])
                });
            }
            t.skins.retain(|s| !gone.contains(s));
            let same_end = (whole || is_bottom(release.what.part.region))
                && t.part.side == release.what.part.side
                && end_of(t.part.region).is_some()
                && end_of(t.part.region) == end_of(release.what.part.region)
                || (is_bottom(release.what.part.region) && is_bottom(t.part.region));
            !t.skins.is_empty() && !same_end
        });
    }
    // With the part as it was written, and where.
    let mut said: Vec<(Touching, Spot, Place)> = Vec::new();
    for contact in &pose.contacts {
        match &contact.what {
            Contact::On { part, place, slides, light } => {
                let whole = *part;
                for part in atoms(whole) {
                    said.push((
                        Touching {
                            part,
                            skins: Skin::of(part.region, part.side),
                            surface: *place,
                            firm: true,
                            planted: false,
                            slides: *slides,
                            light: *light,
                            loosely: false,
                            holds: false,
                            anchors: None,
                        },
                        whole,
                        contact.place,
                    ));
                }
            }
            Contact::Hold { hand, what } => {
                let part = Spot { side: Some(*hand), region: Region::Palm };
                let surface = match what {
                    Held::Body(spot) => Surface::Body(*spot),
                    Held::Prop(kind) => Surface::Prop(*kind),
                };
                said.push((
                    Touching {
                        part,
                        skins: Skin::of(Region::Palm, Some(*hand)),
                        surface,
                        firm: true,
                        planted: false,
                        slides: false,
                        light: false,
                        loosely: false,
                        holds: true,
                        anchors: None,
                    },
                    part,
                    contact.place,
                ));
            }
        }
    }
    // Of a contact and its end in one pose the later word counts: `soles on floor, left foot off floor`.
    let behind = |a: &Place, b: &Place| (a.line, a.start) < (b.line, b.start);
    said.retain(|(new, whole, at)| {
        !pose
            .releases
            .iter()
            .any(|r| (new.part == r.what.part || *whole == r.what.part) && behind(at, &r.place))
    });
    let mut said: Vec<Touching> = said.into_iter().map(|(new, _, _)| new).collect();
    // What is said of a limb's end takes the place of what it touched before.
    for new in &mut said {
        // Also where the pose first says that the whole foot leaves: its ball stays where it was.
        let stood = stood_before.contains(&(new.part, new.surface));
        if stood && !new.slides {
            new.anchors = before.is_some().then(|| new.skins.iter().map(|s| placed.skin(*s)).collect());
        }
    }
    list.retain(|t| {
        !said.iter().any(|n| {
            n.part == t.part
                || (n.part.side == t.part.side
                    && end_of(n.part.region).is_some()
                    && end_of(n.part.region) == end_of(t.part.region))
        })
    });
    list.extend(said);
    for t in &mut list {
        t.planted = pose.planted.iter().any(|p| plants(&p.what, t.part));
        // A foot that is asked to stand elsewhere steps there: it lands on what it stood on.
        let foot = end_of(t.part.region) == Some(0);
        if !t.planted && foot && t.part.side.is_some_and(|side| steps(pose, side)) {
            t.anchors = None;
            t.firm |= !matches!(t.surface, Surface::Body(_));
        }
        // A foot or hand that slides here can't be planted as well.
        if t.planted && !t.slides {
            t.firm = true;
            t.loosely = false;
        }
    }
    list
}

/// Whether a pose asks a foot to stand somewhere else. Of feet set apart both may step.
fn steps(pose: &Pose, side: Side) -> bool {
    pose.asks.iter().any(|ask| match &ask.what {
        Ask::Staggered { front, .. } => *front == side,
        Ask::FeetApart(_) => true,
        Ask::Distance { part, .. } => part.side == Some(side) && end_of(part.region) == Some(0),
        _ => false,
    })
}

/// Regions that are made of others, taken apart so that each can lift by itself.
fn atoms(part: Spot) -> Vec<Spot> {
    let of = |regions: &[Region]| {
        regions
            .iter()
            .map(|r| Spot { side: if r.is_paired() { part.side } else { None }, region: *r })
            .collect()
    };
    match part.region {
        Region::Sole => of(&[Region::Heel, Region::Forefoot]),
        Region::WholeBack => of(&[Region::BackOfHead, Region::UpperBack, Region::Sacrum]),
        _ => vec![part],
    }
}

/// What is lifted when the hips are.
fn is_bottom(region: Region) -> bool {
    matches!(region, Region::Seat | Region::Sacrum)
}

/// The end of a limb a region belongs to: what it touches there it can't touch elsewhere.
pub(super) fn end_of(region: Region) -> Option<u8> {
    use Region::*;
    match region {
        Sole | Heel | Forefoot | Toes | AnkleOuter | AnkleInner | Instep | FootInner | FootOuter => Some(0),
        Palm | BackOfHand | Fist | Fingertips | WristFront | Elbow | Forearm => Some(1),
        BackOfHead | SideOfHead | Forehead | Chin => Some(2),
        _ => None,
    }
}

/// Whether a `planted:` word speaks of that part.
fn plants(planted: &super::ask::Planted, part: Spot) -> bool {
    use super::ask::Planted;
    let leg = |s: Side| {
        part.side == Some(s)
            && (end_of(part.region) == Some(0)
                || matches!(
                    part.region,
                    Region::KneeFront
                        | Region::KneeBack
                        | Region::KneeInner
                        | Region::KneeOuter
                        | Region::Shin
                        | Region::Calf
                        | Region::ThighBack
                        | Region::ThighFront
                ))
    };
    let arm = |s: Side| part.side == Some(s) && end_of(part.region) == Some(1);
    let trunk = matches!(
        part.region,
        Region::UpperBack
            | Region::LowerBack
            | Region::Sacrum
            | Region::Chest
            | Region::Belly
            | Region::PelvisFront
            | Region::Seat
            | Region::HipSide
    );
    match planted {
        Planted::All => true,
        Planted::Spot(spot) => atoms(*spot).iter().any(|a| {
            a.region == part.region && (a.side == part.side || a.side.is_none() || part.side.is_none())
        }),
        Planted::Bit(bit) => match bit {
            Bit::Leg(s) => leg(*s),
            Bit::Arm(s) => arm(*s),
            Bit::Trunk | Bit::PelvisAcross | Bit::ShouldersAcross => trunk,
            Bit::Segment(segment) => {
                crate::body::ALL_SEGMENTS.contains(segment)
                    && Skin::of(part.region, part.side).iter().any(|s| s.segment() == *segment)
            }
        },
    }
}

fn described(body: &Body, pose: &Pose, s: &Settled, limits: &Limits) -> Key {
    let placed = body.place(&s.at.state);
    let scale = body.stature() / Body::USUAL_STATURE;
    let gaps = s.compiled.settling.gaps(&s.at);
    let loose = |skin: &Skin| s.touching.iter().any(|t| t.loosely && t.skins.contains(skin));
    let pressed = s.compiled.settling.pressed(&s.at);
    let held = gaps.iter().filter(|(skin, _)| !loose(skin));
    let gap = held.chain(&pressed).map(|(_, g)| g.abs()).fold(0.0, f64::max);
    let mut unmet = Vec::new();
    for (i, rows) in &s.compiled.relations {
        let off = s.compiled.settling.off(&s.at, rows.clone());
        if let (true, Some(ask)) = (UNMET < off, pose.asks.get(*i)) {
            unmet.push((ask.what.clone(), off));
        }
    }
    let mut missed = Vec::new();
    for (angle, asked) in &s.compiled.asked {
        let came = asked_value(&s.at.state, *angle);
        let wanted = limit_on(*angle, limits).map_or(*asked, |l| asked.min(l));
        if MISS < (came - wanted).abs() {
            missed.push((*angle, *asked, came));
        }
    }
    let com = placed.centre_of_mass();
    let carrying: Vec<Vec3> = s.compiled.support.iter().map(|skin| placed.skin(*skin)).collect();
    Key {
        name: pose.name.clone(),
        state: s.at.state.clone(),
        touches: touches(body, s),
        supports: super::support::supports(body, s),
        things: Vec::new(),
        gap_mm: gap * 1000.0 / scale,
        pressed: pressed
            .iter()
            .filter(|(_, g)| GAP_MM < g.abs() * 1000.0 / scale)
            .map(|(skin, _)| *skin)
            .collect(),
        missed,
        unmet,
        margin_mm: hull::margin(&carrying, com)
            .filter(|_| !s.compiled.walled)
            .map(|m| m * 1000.0 / scale + hull::BREADTH_MM),
        centre_of_mass: com,
        converged: s.converged,
        works: pose.works.iter().map(|w| w.what).collect(),
        efforts: pose.efforts.iter().map(|e| e.what).collect(),
        view: pose.view.as_ref().map(|v| v.what),
        seconds: pose.seconds,
    }
}

fn touches(body: &Body, s: &Settled) -> Vec<Touch> {
    let placed = body.place(&s.at.state);
    let mut list: Vec<Touch> = Vec::new();
    for t in &s.touching {
        let mut middle = Vec3::ZERO;
        for skin in &t.skins {
            middle += placed.skin(*skin) * (1.0 / t.skins.len() as f64);
        }
        let radius = t.skins.first().map_or(0.0, |k| body.radius(*k));
        let out = s.compiled.outward(t.surface, t.part, &s.at).unwrap_or(Vec3::Y);
        let touch = Touch {
            part: t.part,
            surface: t.surface,
            at: middle - out * radius,
            planted: t.planted,
            slides: t.slides,
            light: t.light || t.loosely,
            holds: t.holds,
        };
        // Heel and ball of one foot on one thing are its sole.
        let pair = [Region::Heel, Region::Forefoot];
        if pair.contains(&t.part.region)
            && let Some(other) = list.iter_mut().find(|o| {
                pair.contains(&o.part.region)
                    && o.part.region != t.part.region
                    && o.part.side == t.part.side
                    && o.surface == t.surface
            })
        {
            other.part.region = Region::Sole;
            other.at = (other.at + touch.at) * 0.5;
            other.planted |= touch.planted;
            other.slides |= touch.slides;
            continue;
        }
        list.push(touch);
    }
    list
}

/// The value of a clinical angle in a state as an ask counts it, degrees: an arm's turn by where the arm is.
pub fn asked_value(state: &State, angle: Angle) -> f64 {
    let side = angle.side.unwrap_or(Side::Right);
    match (angle.joint, angle.motion) {
        (Joint::Shoulder, Motion::ExternalRotation) => degrees(crate::body::turned_out(state, side).value),
        (Joint::Shoulder, Motion::InternalRotation) => {
            degrees(0.0 - crate::body::turned_out(state, side).value)
        }
        _ => value_of(state, angle),
    }
}

/// The value of a clinical angle in a state, degrees.
pub fn value_of(state: &State, angle: Angle) -> f64 {
    if angle.joint == Joint::Shoulder && angle.motion == Motion::Elevation {
        return degrees(crate::body::elevation(state, angle.side.unwrap_or(Side::Right)));
    }
    degrees(dof::parts(angle).iter().map(|(d, k)| k * state.angle(*d)).sum())
}

/// Instants from one settled key pose to the next: minimum-jerk targets, with what touches at both ends
/// kept touching, planted things in place, and nothing through the floor. Where the sweep jumps, it is tried
/// from the other end, and the smoother one is taken.
fn way(body: &Body, a: &Settled, b: &Settled, limits: &Limits) -> Vec<State> {
    let there = sweep(body, a, b, limits, false);
    let rough = roughness(&there);
    if rough <= SMOOTH {
        return there;
    }
    let back = sweep(body, a, b, limits, true);
    if roughness(&back) < rough { back } else { there }
}

/// The state a share of the way from one to another; past it above 1.
fn between(a: &State, b: &State, share: f64) -> State {
    let mut mid = a.clone();
    mid.root = a.root.lerp(b.root, share);
    mid.turn = (crate::space::Rotation::exp((b.turn * a.turn.inverse()).log() * share) * a.turn).cleaned();
    for i in 0..COUNT {
        mid.angles[i] = a.angles[i] + (b.angles[i] - a.angles[i]) * share;
    }
    mid
}

/// No joint departs further from its share of the way in one instant, degrees (`method.md` 1).
const SMOOTH: f64 = 8.0;

/// The largest step of a joint between instants beyond what a minimum-jerk movement of its whole way makes (an eighth),
/// degrees.
fn roughness(states: &[State]) -> f64 {
    let (Some(first), Some(last)) = (states.first(), states.last()) else { return 0.0 };
    let mut worst: f64 = 0.0;
    for pair in states.windows(2) {
        for i in 0..COUNT {
            let whole = (last.angles[i] - first.angles[i]).abs();
            worst = worst.max(degrees((pair[1].angles[i] - pair[0].angles[i]).abs() - 0.13 * whole));
        }
    }
    worst
}

/// Settles the instants one from the other, from the start or from the end.
fn sweep(body: &Body, a: &Settled, b: &Settled, limits: &Limits, from_end: bool) -> Vec<State> {
    let wanted_at = |k: usize| {
        let t = k as f64 / (INSTANTS - 1) as f64;
        // Minimum jerk: Flash and Hogan 1985, from memory.
        let s = t * t * t * (10.0 + t * (-15.0 + t * 6.0));
        (between(&a.at.state, &b.at.state, s), s)
    };
    let first = if from_end { &b.at.state } else { &a.at.state };
    let (mut here, mut before) = (first.clone(), first.clone());
    let mut states = vec![first.clone()];
    for n in 1..INSTANTS - 1 {
        let (wanted, s) = wanted_at(if from_end { INSTANTS - 1 - n } else { n });
        // From where the body is, on by as much as is wanted: a start of its own could land elsewhere.
        let start = went_on(&here, &before, &wanted, limits);
        let mut at = At { state: start, rolling: b.at.rolling.clone(), shares: Vec::new() };
        for (i, r) in at.rolling.iter_mut().enumerate() {
            if let Some(from) = a.at.rolling.get(i) {
                // What nothing touched before stands already where it will.
                if a.compiled.stands.get(i).copied().unwrap_or(true) {
                    *r = from.lerp(b.at.rolling[i], s);
                }
            }
        }
        let settling = super::compile::between(body, limits, &wanted, &at.rolling, a_to_b(a, b), &b.compiled);
        minimise(&settling, &mut at, Effort { steps: 24, promise: 1e-4, caution: 0.0 });
        states.push(at.state.clone());
        (here, before) = (at.state, wanted);
    }
    states.push(if from_end { a.at.state.clone() } else { b.at.state.clone() });
    if from_end {
        states.reverse();
    }
    states
}

/// `state` moved by what lies between two others, held to the limits.
fn went_on(state: &State, from: &State, to: &State, limits: &Limits) -> State {
    let mut next = state.clone();
    next.root += to.root - from.root;
    next.turn = (to.turn * from.turn.inverse() * state.turn).cleaned();
    for i in 0..COUNT {
        next.angles[i] += to.angles[i] - from.angles[i];
    }
    with_angles(&next, &[], limits)
}

/// What touches the same thing at both ends of a way.
fn a_to_b<'a>(a: &Settled, b: &'a Settled) -> Vec<&'a Touching> {
    b.touching
        .iter()
        .filter(|t| {
            !t.loosely
                && a.touching.iter().any(|o| o.part == t.part && o.surface == t.surface && o.skins == t.skins)
        })
        .collect()
}

/// The highest value of each clinical angle over states, degrees; below a tenth they are left out.
fn peaks<'a>(states: impl Iterator<Item = &'a State>) -> Vec<(Angle, f64)> {
    let mut highest: BTreeMap<Angle, f64> = BTreeMap::new();
    let mut sums = Vec::new();
    for joint in [Joint::Trunk, Joint::Neck] {
        for motion in [
            Motion::Flexion,
            Motion::Extension,
            Motion::SideBend(Side::Right),
            Motion::SideBend(Side::Left),
            Motion::Rotation(Side::Right),
            Motion::Rotation(Side::Left),
        ] {
            sums.push(Angle { side: None, joint, motion });
        }
    }
    for side in Side::BOTH {
        sums.push(Angle { side: Some(side), joint: Joint::Shoulder, motion: Motion::Elevation });
    }
    for state in states {
        let mut note = |angle: Angle, value: f64| {
            let h = highest.entry(angle).or_insert(f64::NEG_INFINITY);
            *h = h.max(value);
        };
        for i in 0..COUNT {
            let (plus, minus) = Dof(i).angles();
            let value = degrees(state.angle(Dof(i)));
            note(plus, value);
            note(minus, 0.0 - value);
        }
        for angle in &sums {
            note(*angle, value_of(state, *angle));
        }
    }
    highest.into_iter().filter(|(_, v)| 0.1 <= *v).collect()
}

/// Whether a fixed thing of that kind stands in the room and can carry.
pub(super) fn carries(kind: PropKind) -> bool {
    matches!(
        kind,
        PropKind::Bed
            | PropKind::Bench
            | PropKind::Sofa
            | PropKind::Chair
            | PropKind::ChairBack
            | PropKind::Step
            | PropKind::Stairs
            | PropKind::Table
            | PropKind::Worktop
            | PropKind::Rail
            | PropKind::Frame
            | PropKind::Mat
            | PropKind::Pillow
            | PropKind::Towel
            | PropKind::Ball
            | PropKind::Roller
    )
}

/// Asked coordinates set at once, held to the limits: a start nearer the answer.
pub(super) fn with_angles(state: &State, asked: &[(Dof, f64)], limits: &Limits) -> State {
    let mut s = state.clone();
    for (d, target) in asked {
        s.angles[d.0] = *target;
    }
    for i in 0..COUNT {
        let b = limits.bounds(Dof(i));
        s.angles[i] = s.angles[i].clamp(radians(b.low), radians(b.high));
    }
    s
}

/// The joints' middle: where a limb is that has lost its way.
pub(super) fn middle(state: &State, asked: &[(Dof, f64)], limits: &Limits) -> State {
    let mut s = state.clone();
    for i in dof::SPINE..COUNT {
        let b = limits.bounds(Dof(i));
        s.angles[i] = 0.6 * s.angles[i] + 0.4 * radians(0.5 * (b.low + b.high));
    }
    with_angles(&s, asked, limits)
}
