//! What to do between two key poses, from what changes.

use super::posture::{Posture, bend_words, on_floor, recognise, the, your};
use super::{Template, merged, sentence};
use crate::body::dof::{self, Dof, Limb, paired};
use crate::body::names::{Region, Segment, Side};
use crate::body::{Placed, elevation};
use crate::measure::{degrees, math};
use crate::pose::ask::{Aspect, Bit, Effort, Spot, Worked};
use crate::pose::movement::{Key, Movement, Touch};
use crate::space::Vec3;

type Pose<'a> = (&'a Key, &'a Placed);

fn level(v: Vec3) -> Vec3 {
    Vec3 { y: 0.0, ..v }
}

fn way(p: &Placed, s: Segment) -> Vec3 {
    (p.far_end(s) - p.joint(s)).unit_or(Vec3::Y)
}

fn apart(a: Vec3, b: Vec3) -> f64 {
    degrees(math::acos(a.dot(b)))
}

fn change(a: &Key, b: &Key, d: Dof) -> f64 {
    degrees(b.state.angle(d) - a.state.angle(d))
}

pub(super) fn between(movement: &Movement, a: Pose, b: Pose) -> Vec<String> {
    let mut out = Vec::new();
    let (from, to) = (recognise(a.0, a.1), recognise(b.0, b.1));
    let whole = whole_body(a, b, from, to);
    let carried = !whole.is_empty();
    out.extend(whole);
    let legs = |s: Side| leg(a, b, s, from, carried);
    out.append(&mut merged(legs(Side::Right), legs(Side::Left)));
    out.append(&mut spine(a.0, b.0, a.1, b.1, carried));
    let arms = |s: Side| arm(a, b, s, carried);
    out.append(&mut merged(arms(Side::Right), arms(Side::Left)));
    // Contacts that begin here.
    let both_hands = |t: &Touch| {
        t.holds && b.0.touches.iter().any(|u| u.holds && u.surface == t.surface && u.part.side != t.part.side)
    };
    let begun: Vec<String> =
        b.0.touches
            .iter()
            .filter(|t| !a.0.touches.iter().any(|u| u.part == t.part && u.surface == t.surface))
            .filter(|t| !matches!(t.part.region, Region::Toes | Region::Forefoot))
            .map(|t| {
                let verb = if t.holds {
                    "hold"
                } else if t.light {
                    "touch"
                } else {
                    "rest"
                };
                if both_hands(t) {
                    sentence(&format!("hold {} with both hands", the(t.surface)))
                } else if t.holds {
                    sentence(&format!("{} {} with {}", verb, the(t.surface), your(t.part)))
                } else {
                    sentence(&format!("{} {} on {}", verb, your(t.part), the(t.surface)))
                }
            })
            .collect();
    out.extend(begun);
    out.append(&mut stays(movement.side, a.0, b.0));
    out.append(&mut efforts(b.0));
    if out.is_empty() {
        // Less than the words can tell apart: say where.
        let works: Vec<String> = b.0.works.iter().map(|w| worked(*w)).collect();
        out.push(match works.first() {
            Some(w) => format!("Make a small movement with {w}."),
            None => "Make the small movement that the picture shows.".to_string(),
        });
    }
    out
}

/// What the trunk does in the room while hands or feet stay.
fn whole_body(a: Pose, b: Pose, from: Posture, to: Posture) -> Vec<String> {
    let h = a.1.stature();
    let (pa, pb) = (a.1.joint(Segment::Pelvis), b.1.joint(Segment::Pelvis));
    let rise = (pb.y - pa.y) / h;
    let mut out = Vec::new();
    let spine = |p: &Placed| (p.joint(Segment::Neck) - p.joint(Segment::Pelvis)).unit_or(Vec3::Y);
    let (sa, sb) = (spine(a.1), spine(b.1));
    let feet_stay = Side::BOTH
        .iter()
        .all(|s| (a.1.joint(Segment::Foot(*s)) - b.1.joint(Segment::Foot(*s))).norm() < 0.04 * h);
    match (from, to) {
        (Posture::Sitting | Posture::LongSitting, Posture::Standing) => {
            out.push("Stand up.".to_string());
            return out;
        }
        (Posture::Standing, Posture::Sitting) => {
            out.push("Sit down slowly.".to_string());
            return out;
        }
        (Posture::Back, Posture::Back) if 0.03 < rise => out.push("Lift your hips.".to_string()),
        (Posture::Back, Posture::Back) if rise < -0.03 => out.push("Lower your hips.".to_string()),
        (Posture::Front, Posture::Front) | (Posture::Front, Posture::Plank | Posture::AllFours) => {
            let chest = (b.1.joint(Segment::Neck).y - a.1.joint(Segment::Neck).y) / h;
            if 0.03 < chest && rise.abs() < 0.03 {
                out.push("Lift your chest off the floor.".to_string());
            } else if 0.03 < chest {
                out.push("Lift your body off the floor.".to_string());
            }
        }
        (Posture::Lying(_), Posture::Lying(_)) if 0.03 < rise => out.push("Lift your hips.".to_string()),
        (Posture::AllFours, Posture::AllFours) => {
            let back = level(pb - pa).dot(level(sa)) / h;
            if back < -0.06 {
                out.push("Move your bottom back towards your heels.".to_string());
            } else if 0.06 < back {
                out.push("Move your body forward.".to_string());
            }
        }
        _ => {}
    }
    let upright = |p: Posture| matches!(p, Posture::Standing | Posture::Kneeling | Posture::HalfKneeling(_));
    if upright(from) && upright(to) {
        let heel = |p: &Placed| {
            Side::BOTH
                .iter()
                .all(|s| !on_floor(p, Region::Heel, Some(*s)) && on_floor(p, Region::Forefoot, Some(*s)))
        };
        let forward = level(pb - pa).dot(level(a.1.turn(Segment::Pelvis).x).unit_or(Vec3::X)) / h;
        if heel(b.1) && !heel(a.1) && 0.008 < rise {
            out.push("Rise onto your toes.".to_string());
        } else if heel(a.1) && !heel(b.1) && rise < -0.008 {
            out.push("Lower your heels.".to_string());
        } else if rise < -0.025 && feet_stay {
            out.push("Bend your knees and lower your body.".to_string());
        } else if 0.025 < rise && feet_stay {
            out.push("Push up until you stand tall.".to_string());
        } else if 0.05 < rise {
            out.push("Step up.".to_string());
        } else if rise < -0.05 {
            out.push("Step down.".to_string());
        } else if 0.05 < forward {
            out.push("Move your weight forward.".to_string());
        } else if forward < -0.05 {
            out.push("Move your weight back.".to_string());
        }
    }
    // Leaning of the whole trunk.
    let seated = matches!(from, Posture::Sitting | Posture::LongSitting) && from == to;
    if (seated || (upright(from) && upright(to))) && 10.0 < apart(sa, sb) {
        let ahead = level(a.1.turn(Segment::Pelvis).x).unit_or(Vec3::X);
        let right = ahead.cross(Vec3::Y);
        let (f, r) = ((sb - sa).dot(ahead), (sb - sa).dot(right));
        out.push(if f.abs() <= r.abs() {
            format!("Lean to the {}.", if 0.0 < r { "right" } else { "left" })
        } else if 0.0 < f {
            "Lean forward from your hips.".to_string()
        } else if 0.97 < sb.y {
            format!("{} up tall.", if seated { "Sit" } else { "Stand" })
        } else {
            "Lean back.".to_string()
        });
    }
    out
}

fn leg(a: Pose, b: Pose, s: Side, posture: Posture, carried: bool) -> Vec<Template> {
    let h = a.1.stature();
    let mut out = Vec::new();
    let d = |l: Limb| change(a.0, b.0, paired(l, s));
    let (fa, fb) = (a.1.joint(Segment::Foot(s)), b.1.joint(Segment::Foot(s)));
    let foot = (fb - fa) * (1.0 / h);
    let knee_now = degrees(b.0.state.angle(paired(Limb::KneeFlexion, s)));
    let knee_was = degrees(a.0.state.angle(paired(Limb::KneeFlexion, s)));
    let thigh = apart(way(a.1, Segment::Thigh(s)), way(b.1, Segment::Thigh(s)));
    let stays = foot.norm() < 0.03;
    let ankle = d(Limb::Dorsiflexion);
    let pelvis = a.1.turn(Segment::Pelvis);
    let out_way = pelvis.z * if s == Side::Right { 1.0 } else { -1.0 };
    if !stays || (!carried && 8.0 < thigh) {
        let glides = foot.y.abs() < 0.025
            && on_floor(a.1, Region::Heel, Some(s))
            && on_floor(b.1, Region::Heel, Some(s))
            && 0.05 < level(foot).norm();
        let trunk = (a.1.joint(Segment::Neck) - a.1.joint(Segment::Pelvis)).unit_or(Vec3::Y);
        if glides && !matches!(posture, Posture::Standing) {
            let toward = -level(foot)
                .dot(level(way(a.1, Segment::Thigh(s)) + way(a.1, Segment::Shank(s))).unit_or(-trunk));
            let side = foot.dot(out_way);
            if toward.abs() < side.abs() {
                out.push(format!("slide [heel] {}", if 0.0 < side { "out to the side" } else { "in" }));
            } else if 0.0 < toward {
                out.push("slide [heel] towards your bottom".to_string());
            } else {
                out.push("slide [heel] away from you".to_string());
            }
            out.push(format!("stop with the (knee|knees) {}", bend_words(knee_now)));
        } else if thigh < 15.0 && 20.0 < (knee_now - knee_was).abs() {
            let verb = if knee_now < knee_was { "straighten" } else { "bend" };
            out.push(if knee_now < 12.0 {
                "straighten [knee]".to_string()
            } else {
                format!("{verb} [knee] until (it is|they are) {}", bend_words(knee_now))
            });
        } else if 6.0 < thigh && !(carried && stays) {
            let lead = if knee_now < 20.0 {
                b.1.joint(Segment::Foot(s)) - a.1.joint(Segment::Foot(s))
            } else {
                b.1.joint(Segment::Shank(s)) - a.1.joint(Segment::Shank(s))
            };
            let noun = if knee_now < 20.0 { "leg" } else { "knee" };
            let up = lead.y / h;
            // Where it goes as seen from the patient.
            let (f, o) = (lead.dot(pelvis.x), lead.dot(out_way));
            let lying = !matches!(posture, Posture::Standing | Posture::Sitting);
            let to_side = f.abs() < o.abs();
            let direction = if to_side {
                if 0.0 < o { " out to the side" } else { " in, across the other" }
            } else if 0.0 < f {
                " in front of you"
            } else {
                " behind you"
            };
            let straight =
                if noun == "leg" && knee_now < 12.0 { ", with the (knee|knees) straight" } else { "" };
            let goes = if 0.04 < up {
                "lift"
            } else if up < -0.04 {
                "lower"
            } else {
                "move"
            };
            if lying && 0.04 < up.abs() {
                out.push(format!("{goes} [{noun}]{straight}"));
                if noun == "knee" && goes == "lift" {
                    out.push(if to_side {
                        "open (it|them) out to the side".to_string()
                    } else {
                        "bring (it|them) towards your chest".to_string()
                    });
                }
            } else {
                out.push(format!("{goes} [{noun}]{direction}{straight}"));
            }
            if goes == "lift" && noun == "leg" {
                if let Some(mark) = landmark(b.1, b.1.joint(Segment::Foot(s)).y, s) {
                    out.push(format!("stop when the (foot is|feet are) as high as {mark}"));
                }
            } else if noun == "knee" && 15.0 < (knee_now - knee_was).abs() && !to_side {
                out.push(format!("the (knee is|knees are) now {}", bend_words(knee_now)));
            }
        } else if !carried && 12.0 < d(Limb::HipRotation).abs() {
            let turn = if 0.0 < d(Limb::HipRotation) { "out" } else { "in" };
            out.push(format!("turn [leg] {turn}"));
        }
    } else if !carried && 12.0 < d(Limb::HipRotation).abs() {
        out.push(format!("turn [leg] {}", if 0.0 < d(Limb::HipRotation) { "out" } else { "in" }));
    }
    // The ankle by itself, where nothing else explains it.
    if out.is_empty() && !carried && 8.0 < ankle.abs() {
        out.push(if 0.0 < ankle {
            "pull the toes of [foot] up towards you".to_string()
        } else {
            "point [foot] away from you".to_string()
        });
    }
    if out.is_empty() && !carried && 8.0 < d(Limb::Inversion).abs() {
        out.push(format!("turn the sole of [foot] {}", if 0.0 < d(Limb::Inversion) { "in" } else { "out" }));
    }
    if out.is_empty() && !carried && 10.0 < d(Limb::ToeExtension).abs() {
        out.push(format!("{} the toes of [foot]", if 0.0 < d(Limb::ToeExtension) { "lift" } else { "curl" }));
    }
    out
}

/// A part of the body about as high as `height`.
fn landmark(placed: &Placed, height: f64, side: Side) -> Option<String> {
    let other = side.other();
    let marks = [
        (placed.joint(Segment::Shank(other)).y, format!("your {} knee", other.word())),
        (placed.joint(Segment::Pelvis).y, "your hips".to_string()),
        (placed.joint(Segment::Neck).y, "your shoulders".to_string()),
    ];
    let mut best: Option<(f64, String)> = None;
    for (y, name) in marks {
        let off = (y - height).abs() / placed.stature();
        if off < 0.06 && best.as_ref().is_none_or(|(b, _)| off < *b) {
            best = Some((off, name));
        }
    }
    best.map(|(_, n)| n)
}

fn arm(a: Pose, b: Pose, s: Side, carried: bool) -> Vec<Template> {
    let h = a.1.stature();
    let mut out = Vec::new();
    let d = |l: Limb| change(a.0, b.0, paired(l, s));
    let hand_at = |p: &Placed| p.far_end(Segment::Hand(s));
    let hand = (hand_at(b.1) - hand_at(a.1)).norm() / h;
    let (up_was, up_now) = (degrees(elevation(&a.0.state, s)), degrees(elevation(&b.0.state, s)));
    let chest = |p: &Placed, v: Vec3| p.turn(Segment::Chest).inverse() * v;
    let swing = apart(chest(a.1, way(a.1, Segment::UpperArm(s))), chest(b.1, way(b.1, Segment::UpperArm(s))));
    let elbow = d(Limb::ElbowFlexion);
    let elbow_now = degrees(b.0.state.angle(paired(Limb::ElbowFlexion, s)));
    let turn = d(Limb::ShoulderRotation);
    let rests = carried
        && recognise(a.0, a.1) == Posture::Back
        && on_floor(a.1, Region::Palm, Some(s))
        && on_floor(b.1, Region::Palm, Some(s));
    if (hand < 0.03 || rests) && 8.0 < swing.max(elbow.abs()) {
        // The hand stays and the body moves over it: told with the body, but for pushing up.
        if on_floor(b.1, Region::Palm, Some(s)) && 20.0 < elbow.abs() && !rests {
            let verb = if elbow < 0.0 { "straighten" } else { "bend" };
            out.push(if elbow_now < 15.0 {
                "straighten [elbow]".to_string()
            } else {
                format!("{verb} [elbow] until (it is|they are) {}", bend_words(elbow_now))
            });
        }
        return out;
    }
    if 0.03 <= hand || 8.0 < swing {
        let place = super::posture::arm_place(b.1, up_now, s);
        if 12.0 < swing {
            let verb = if up_was + 8.0 < up_now {
                "raise"
            } else if up_now + 8.0 < up_was {
                "lower"
            } else {
                "move"
            };
            out.push(match (verb, place.as_str()) {
                ("lower", "by your side") if 40.0 < elbow => "draw [elbow] back beside your body".to_string(),
                ("lower", "by your side") => "lower [arm] to your (side|sides)".to_string(),
                (_, place) => format!("{verb} [arm] until (it is|they are) {place}"),
            });
        }
        if 20.0 < elbow.abs() {
            out.push(if elbow_now < 15.0 {
                "straighten [elbow]".to_string()
            } else {
                format!(
                    "{} [elbow] until (it is|they are) {}",
                    if 0.0 < elbow { "bend" } else { "straighten" },
                    bend_words(elbow_now)
                )
            });
        }
        if 15.0 < turn.abs() && swing < 20.0 && 45.0 < elbow_now {
            out.push(format!(
                "turn [forearm] {}",
                if 0.0 < turn { "out, away from your body" } else { "in, across your body" }
            ));
            if up_now < 25.0 {
                out.push("keep [elbow] by your (side|sides)".to_string());
            }
        }
    }
    if out.is_empty() && 12.0 < d(Limb::WristFlexion).abs() {
        out.push(format!(
            "bend [wrist] {}",
            if 0.0 < d(Limb::WristFlexion) { "towards the palm" } else { "back" }
        ));
    }
    if out.is_empty() && 20.0 < d(Limb::Supination).abs() {
        out.push(format!("turn [palm] {}", if 0.0 < d(Limb::Supination) { "up" } else { "down" }));
    }
    let (lift, reach) = (d(Limb::BladeElevation), d(Limb::BladeProtraction));
    if 5.0 < lift.abs() && out.is_empty() {
        out.push(format!("{} [shoulder]", if 0.0 < lift { "lift" } else { "lower" }));
    }
    if 5.0 < reach.abs() {
        out.push(if 0.0 < reach {
            "reach [shoulder] forward".to_string()
        } else {
            "draw [shoulder blade] back".to_string()
        });
    }
    out
}

fn spine(a: &Key, b: &Key, pa: &Placed, pb: &Placed, carried: bool) -> Vec<String> {
    let mut out = Vec::new();
    let d = |dof: Dof| change(a, b, dof);
    let side = |v: f64| if 0.0 < v { "right" } else { "left" };
    let bend = d(dof::LUMBAR_BEND) + d(dof::THORAX_BEND);
    let turn = d(dof::LUMBAR_TURN) + d(dof::THORAX_TURN);
    let flex = d(dof::LUMBAR_FLEXION) + d(dof::THORAX_FLEXION);
    if 14.0 < turn.abs() {
        out.push(format!("Turn your upper body to the {}.", side(turn)));
    }
    if 14.0 < bend.abs() {
        out.push(format!("Bend your upper body to the {}.", side(bend)));
    }
    if 12.0 < flex.abs() {
        out.push(if 0.0 < flex { "Round your back." } else { "Arch your back gently." }.to_string());
    } else if 4.0 < d(dof::LUMBAR_FLEXION).abs() && !carried {
        let tilt = d(dof::LUMBAR_FLEXION);
        out.push(
            if 0.0 < tilt {
                "Tilt your pelvis so that your lower back goes flat."
            } else {
                "Tilt your pelvis so that your lower back hollows a little."
            }
            .to_string(),
        );
    }
    let (lower, upper) = (d(dof::NECK_FLEXION), d(dof::HEAD_FLEXION));
    let head_turn = apart(pa.turn(Segment::Head).x, pb.turn(Segment::Head).x);
    if lower < -4.0 && 4.0 < upper {
        out.push("Draw your chin straight back.".to_string());
        out.push("Keep your eyes level.".to_string());
    } else if 4.0 < lower && upper < -4.0 {
        out.push("Slide your chin straight forward.".to_string());
    } else if 8.0 < (lower + upper).abs()
        && 8.0 < head_turn
        && !(on_floor(pa, Region::BackOfHead, None) && on_floor(pb, Region::BackOfHead, None))
    {
        out.push(
            if 0.0 < lower + upper { "Bend your head forward." } else { "Tip your head back." }.to_string(),
        );
    }
    if 8.0 < d(dof::NECK_TURN).abs() {
        out.push(format!("Turn your head to the {}.", side(d(dof::NECK_TURN))));
    }
    if 8.0 < d(dof::NECK_BEND).abs() {
        out.push(format!("Tilt your head to the {}.", side(d(dof::NECK_BEND))));
    }
    out
}

/// What is planted through the movement, and sliding parts.
fn stays(working: Side, a: &Key, b: &Key) -> Vec<String> {
    let kept = |s: Side| -> Vec<Template> {
        b.touches
            .iter()
            .filter(|t| t.planted && t.part.side == Some(s) && !t.light)
            .filter(|t| a.touches.iter().any(|u| u.part == t.part && u.surface == t.surface))
            .filter(|t| !matches!(t.part.region, Region::Toes | Region::Forefoot))
            .map(|t| format!("keep [{}] on {}", t.part.region.word(), the(t.surface)))
            .collect()
    };
    // One such sentence is enough: the feet before the rest.
    let mut all = merged(kept(Side::Right), kept(Side::Left));
    // Ordered by the working side and not by right and left, so that the mirrored exercise says the same.
    let plain = |s: &str| s.replace("right ", "").replace("left ", "");
    crate::sorting::sort_by_key(&mut all, |s| {
        let foot = s.contains("sole") || s.contains("heel");
        (!foot, plain(s), s.contains(working.word()))
    });
    all.truncate(1);
    all
}

pub(super) fn worked(w: Worked) -> String {
    let side = w.side.or(crate::body::side_of(w.segment));
    let s = side.map_or(String::new(), |s| format!("{} ", s.word()));
    let noun = match (w.segment, w.aspect) {
        (Segment::Pelvis, Aspect::Back) if side.is_some() => "buttock",
        (Segment::Pelvis, Aspect::Back) => "buttocks",
        (Segment::Pelvis, _) => "hips",
        (Segment::Waist, Aspect::Back) => "lower back",
        (Segment::Waist, _) => "belly",
        (Segment::Chest, Aspect::Back) => "upper back",
        (Segment::Chest, _) => "chest",
        (Segment::Neck, _) => "neck",
        (Segment::Head, _) => "head",
        (Segment::Girdle(_), _) => "shoulder",
        (Segment::UpperArm(_), _) => "upper arm",
        (Segment::Forearm(_), _) => "forearm",
        (Segment::Hand(_), _) => "hand",
        (Segment::Thigh(_), Aspect::Front) => "front of the thigh",
        (Segment::Thigh(_), Aspect::Back) => "back of the thigh",
        (Segment::Thigh(_), _) => "thigh",
        (Segment::Shank(_), Aspect::Back) => "calf",
        (Segment::Shank(_), _) => "lower leg",
        (Segment::Foot(_) | Segment::Toes(_), _) => "foot",
    };
    format!("your {s}{noun}")
}

fn bit(b: Bit) -> String {
    match b {
        Bit::Segment(segment) => worked(Worked { segment, side: None, aspect: Aspect::Whole }),
        Bit::Trunk => "your body".to_string(),
        Bit::Leg(s) => format!("your {} leg", s.word()),
        Bit::Arm(s) => format!("your {} arm", s.word()),
        Bit::PelvisAcross => "your hips".to_string(),
        Bit::ShouldersAcross => "your shoulders".to_string(),
    }
}

pub(super) fn efforts(key: &Key) -> Vec<String> {
    let mut out = Vec::new();
    // The same push of both sides is one sentence.
    let pushes = |s: Side| -> Vec<Template> {
        key.efforts
            .iter()
            .filter_map(|e| match e {
                Effort::Push { part: Spot { side: Some(side), region }, into } if *side == s => {
                    Some(format!("push [{}] into {}", region.word(), the(*into)))
                }
                _ => None,
            })
            .collect()
    };
    out.append(&mut merged(pushes(Side::Right), pushes(Side::Left)));
    for e in &key.efforts {
        match e {
            Effort::Squeeze(w) => out.push(sentence(&format!("tighten {}", worked(*w)))),
            Effort::Push { part, into } if part.side.is_none() => {
                out.push(sentence(&format!("push {} into {}", your(*part), the(*into))));
            }
            Effort::Push { .. } => {}
            Effort::BreatheOut => out.push("Breathe out as you do it.".to_string()),
            Effort::StayStill(b) => out.push(sentence(&format!("keep {} still", bit(*b)))),
        }
    }
    out.dedup();
    out
}
