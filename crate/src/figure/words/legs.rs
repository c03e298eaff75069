//! What each leg does by itself.

use super::body::Told;
use super::english::{Line, merged, must, useful};
use super::seen::{Posture, Step, bend_words, is_foot, level};
use crate::body::dof::Limb;
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{PropKind, Surface};

pub(super) fn moved(step: &Step, told: &Told) -> Vec<Line> {
    // The leg below someone lying on a side stays, but for what the hips do; a foot that stays goes with the trunk.
    let below = |s: Side| {
        let seated = step.a.posture == Posture::Sitting && step.b.posture == Posture::Sitting;
        if seated && step.foot_stays(s) && !step.b.foot_is_free(s) {
            return true;
        }
        step.a.posture == Posture::Lying(s)
            && step.b.posture == Posture::Lying(s)
            && step.moved_joint(Segment::Foot(s)).norm() < 0.1
    };
    let mut out = merged(step.side, |s| if told.leg(s) || below(s) { Vec::new() } else { one(step, s) });
    let high = |p: &super::seen::Seen| 0.1 * p.h() < p.at.joint(Segment::Pelvis).y;
    let hips_up = step.a.posture == Posture::Back && high(&step.a) && high(&step.b) && !told.spine;
    if hips_up
        && !out.is_empty()
        && !step.a.key.touches.iter().any(|t| matches!(t.part.region, Region::Sacrum | Region::Seat))
    {
        out.push(useful("keep your hips up"));
    }
    let lifted: Vec<Side> =
        Side::BOTH.into_iter().filter(|s| step.b.foot_is_free(*s) && !step.a.foot_is_free(*s)).collect();
    if let ([s], Posture::Standing) = (lifted.as_slice(), step.a.posture)
        && !out.is_empty()
    {
        out.insert(0, useful(format!("shift your weight onto your {} leg", s.other().word())));
    }
    out
}

fn one(step: &Step, s: Side) -> Vec<Line> {
    let mut out = Vec::new();
    let thigh = step.swing(Segment::Thigh(s)).min(step.swing_in(Segment::Thigh(s), Segment::Pelvis) + 4.0);
    let knee = step.change(Limb::KneeFlexion, s);
    let foot = step.moved_joint(Segment::Foot(s));
    if let Some(mut lines) = slides(step, s) {
        out.append(&mut lines);
    } else if thigh < 15.0 && 18.0 < knee.abs() {
        out.append(&mut knee_only(step, s));
    } else if 6.0 < thigh && 0.02 < foot.norm().max(step.moved_joint(Segment::Shank(s)).norm()) {
        out.append(&mut whole(step, s));
    } else if 10.0 < step.change(Limb::HipRotation, s).abs() {
        let way = if 0.0 < step.change(Limb::HipRotation, s) { "out" } else { "in" };
        out.push(must(format!("turn [leg] {way}")));
    }
    out.append(&mut landed(step, s));
    out.append(&mut ankle(step, s, out.is_empty()));
    out
}

/// A foot that keeps to what it slides on.
fn slides(step: &Step, s: Side) -> Option<Vec<Line>> {
    let (a, b) = (&step.a, &step.b);
    let foot = step.moved_joint(Segment::Foot(s));
    let rests = |seen: &super::seen::Seen| !seen.foot_is_free(s);
    let standing = a.posture == Posture::Standing;
    if standing || foot.y.abs() > 0.025 || level(foot).norm() < 0.05 || !rests(a) || !rests(b) {
        return None;
    }
    let part = if a.flat(s) && b.flat(s) || a.posture == Posture::Sitting { "foot" } else { "heel" };
    let end = b.deg(Limb::KneeFlexion, s);
    // The part's way from the hip, level: nearer to the seat or further.
    let to_seat = level(a.at.joint(Segment::Foot(s)) - a.at.joint(Segment::Pelvis)).norm()
        - level(b.at.joint(Segment::Foot(s)) - b.at.joint(Segment::Pelvis)).norm();
    let (near, out) = (to_seat / a.h(), foot.dot(a.outward(s)));
    let seated = a.posture == Posture::Sitting;
    let way = if near.abs() < out.abs() && !seated {
        if 0.0 < out { "out to the side" } else { "in towards the other" }
    } else if seated {
        let under = foot.dot(a.ahead()) < 0.0;
        if under { "back under {chair}" } else { "forward" }
    } else if 0.0 < near {
        "towards your bottom"
    } else {
        "away from you"
    };
    let chair = a.key.things.iter().any(|t| t.kind == PropKind::Chair);
    let way = if way.contains("{chair}") && !chair { "back under your seat" } else { way };
    let mut lines = vec![must(format!("slide [{part}] {way}"))];
    if 15.0 < step.change(Limb::KneeFlexion, s).abs() {
        lines.push(must(format!("stop when <knee> (is|are) {}", bend_words(end))));
    }
    Some(lines)
}

fn knee_only(step: &Step, s: Side) -> Vec<Line> {
    let b = &step.b;
    let (knee, end) = (step.change(Limb::KneeFlexion, s), b.deg(Limb::KneeFlexion, s));
    if b.posture == Posture::Standing && b.foot_is_free(s) && 0.0 < knee {
        return vec![
            must(format!("lift [foot] off the floor{}", behind(step, s))),
            useful(format!("stop when <knee> (is|are) {}", bend_words(end))),
        ];
    }
    if b.posture == Posture::Front && 0.0 < knee {
        return vec![
            must("bend [knee] and bring <heel> towards your bottom"),
            useful(format!("stop when <knee> (is|are) {}", bend_words(end))),
        ];
    }
    let verb = if 0.0 < knee { "bend" } else { "straighten" };
    if end < 15.0 {
        let leg = if b.foot_is_free(s) { " and lift <foot>" } else { "" };
        return vec![must(format!("straighten [knee]{leg}"))];
    }
    vec![must(format!("{verb} [knee] until (it is|they are) {}", bend_words(end)))]
}

fn behind(step: &Step, s: Side) -> &'static str {
    let way = step.b.at.joint(Segment::Foot(s)) - step.b.at.joint(Segment::Shank(s));
    let back = way.dot(step.b.ahead()) / step.b.h();
    if back < -0.1 {
        " behind you"
    } else if 0.1 < back {
        " in front of you"
    } else {
        ""
    }
}

/// The thigh moves, and with it the leg.
fn whole(step: &Step, s: Side) -> Vec<Line> {
    let (a, b) = (&step.a, &step.b);
    let (was, now) = (a.deg(Limb::KneeFlexion, s), b.deg(Limb::KneeFlexion, s));
    let straight = now < 20.0;
    let lead = |p: &crate::body::Placed| {
        if straight { p.joint(Segment::Foot(s)) } else { p.joint(Segment::Shank(s)) }
    };
    let way = step.moved(lead);
    let up = way.y;
    // As seen from the hips, wherever these go.
    let hips = step.moved_joint(Segment::Pelvis);
    let front = if a.posture.is_lying() { a.at.turn(Segment::Pelvis).x } else { a.ahead() };
    let (f, o) = ((way - hips).dot(front), (way - hips).dot(a.outward(s)));
    let to_side = f.abs() < o.abs();
    let hip = step.change(Limb::HipFlexion, s);
    let upright = matches!(
        a.posture,
        Posture::Standing | Posture::Sitting | Posture::Kneeling | Posture::HalfKneeling(_)
    );
    let mut out = Vec::new();
    // Held to the chest.
    if !straight && a.posture == Posture::Back && 15.0 < hip && 75.0 < b.deg(Limb::HipFlexion, s) {
        out.push(must("bring [knee] towards your chest"));
        return out;
    }
    if a.posture == Posture::AllFours && straight && 25.0 < was {
        out.push(must("stretch [leg] out straight behind you"));
        if b.is_level(Segment::Thigh(s)) {
            out.push(must("lift it until it is level with your back"));
        }
        return out;
    }
    if straight && 30.0 < was && up < 0.04 {
        let foot = b.at.joint(Segment::Foot(s)).y / b.h();
        out.push(must(if a.posture == Posture::Back && foot < 0.25 {
            "straighten [leg] and lower it towards the floor"
        } else if a.posture == Posture::Back && 0.8 < b.way(Segment::Thigh(s)).y {
            "straighten [leg] up towards the ceiling"
        } else {
            "straighten [leg]"
        }));
        return out;
    }
    let noun = if straight { "leg" } else { "knee" };
    let knee_straight = if straight { ", with the (knee|knees) straight" } else { "" };
    let verb = if 0.03 < up && (0.45 * way.norm() < up || upright) {
        "lift"
    } else if up < -0.03 && (up < -0.45 * way.norm() || upright) {
        "lower"
    } else {
        "move"
    };
    let direction = if to_side {
        if 0.0 < o { "out to the (side|sides)" } else { "in across the other" }
    } else if 0.0 < f {
        if a.posture.is_lying() { "forward" } else { "in front of you" }
    } else if a.posture.is_lying() {
        "back"
    } else {
        "behind you"
    };
    let direction =
        if !straight && verb == "lift" && f.abs().max(o.abs()) < 0.5 * up { "high" } else { direction };
    if upright {
        out.push(must(format!("{verb} [{noun}] {direction}{knee_straight}")));
        if !straight && verb == "lift" && b.is_level(Segment::Thigh(s)) {
            out.push(must("stop when <thigh> (is|are) level"));
        } else if !straight && 20.0 < now - was && verb != "lower" {
            out.push(useful(format!("bend <knee> until (it is|they are) {}", bend_words(now))));
        }
        return out;
    }
    if verb == "lift" {
        out.push(must(format!("lift [{noun}] towards the ceiling{knee_straight}")));
        out.extend(high_enough(step, s, straight));
    } else if verb == "lower" {
        let aside = if to_side && 0.0 < o {
            format!("let [{noun}] sink out to the (side|sides)")
        } else {
            format!("lower [{noun}]{knee_straight}")
        };
        out.push(must(aside));
    } else {
        out.push(must(format!("move [{noun}] {direction}{knee_straight}")));
    }
    out
}

/// A part of the body about as high as what is lifted.
fn high_enough(step: &Step, s: Side, straight: bool) -> Option<Line> {
    let b = &step.b;
    let other = s.other();
    let thighs = super::seen::apart(b.way(Segment::Thigh(s)), b.way(Segment::Thigh(other)));
    // Beside a bent knee.
    if straight && thighs < 12.0 && 40.0 < b.deg(Limb::KneeFlexion, other) {
        return Some(must("stop when <thigh> (is|are) level with [~thigh]"));
    }
    let height = b.at.joint(Segment::Foot(s)).y;
    let lift = step.moved_joint(Segment::Foot(s)).y;
    let pelvis = b.at.joint(Segment::Pelvis).y;
    if straight && (height - pelvis).abs() < 0.05 * b.h() && 0.1 < lift {
        return Some(useful("stop when <foot> (is|are) as high as your hips"));
    }
    if straight && lift < 0.16 && 0.0 < lift {
        return Some(useful("lift it only a little"));
    }
    None
}

/// A foot or knee that comes to rest on something.
fn landed(step: &Step, s: Side) -> Vec<Line> {
    let leg = |r: Region| {
        is_foot(r) || matches!(r, Region::AnkleOuter | Region::AnkleInner | Region::KneeFront | Region::Calf)
    };
    let mut out = Vec::new();
    for t in step.begun(Some(s)) {
        if !leg(t.part.region)
            || matches!(t.part.region, Region::Toes | Region::Forefoot)
            || t.surface == Surface::Floor && t.slides
        {
            continue;
        }
        // The same contact by another part of the foot began no contact.
        if is_foot(t.part.region)
            && step.a.touches_of(s).any(|u| is_foot(u.part.region) && u.surface == t.surface)
        {
            continue;
        }
        // A towel below a foot that slides goes along.
        if is_foot(t.part.region) && t.slides {
            continue;
        }
        let on = super::english::surface(t.surface, Some(s));
        out.push(must(format!("rest [{}] on {on}", super::english::noun(t.part.region))));
        break;
    }
    out
}

/// The ankle, where the foot is free or nothing else tells.
fn ankle(step: &Step, s: Side, alone: bool) -> Vec<Line> {
    let (up, turn) = (step.change(Limb::Dorsiflexion, s), step.change(Limb::Inversion, s));
    let toes = step.change(Limb::ToeExtension, s);
    let free = step.b.foot_is_free(s);
    // A foot that rests goes along with what leans over it.
    let still = super::seen::apart(step.a.trunk(), step.b.trunk()) < 8.0;
    let alone = alone && (still || 25.0 < up.abs());
    if 8.0 < up.abs() && (alone || free && 0.0 < up && 4.0 < step.b.deg(Limb::Dorsiflexion, s)) {
        return vec![must(if 0.0 < up {
            "pull <foot> up towards you"
        } else {
            "point <foot> away from you"
        })];
    }
    if alone && 8.0 < turn.abs() {
        return vec![must(format!("turn the sole of <foot> {}", if 0.0 < turn { "in" } else { "out" }))];
    }
    if alone && 10.0 < toes.abs() {
        return vec![must(format!("{} the toes of <foot>", if 0.0 < toes { "lift" } else { "curl" }))];
    }
    Vec::new()
}
