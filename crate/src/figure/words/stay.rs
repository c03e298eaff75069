//! What stays still while the rest moves, and what is tightened, pushed or breathed.

use super::body::Told;
use super::english::{Line, filled, merged, must, noun, spot, surface, useful};
use super::seen::{Posture, Step, is_foot};
use crate::body::dof::Limb;
use crate::body::names::{Region, Segment, Side};
use crate::body::side_of;
use crate::pose::ask::{Aspect, Bit, Effort, PropKind, Surface, Worked};
use crate::pose::movement::{Key, Shape};

/// A planted part is worth a word where the movement would tempt it away.
pub(super) fn kept(step: &Step, told: &Told) -> Vec<Line> {
    let mut out = merged(step.side, |s| {
        let mut lines = heel_stays(step, s);
        lines.append(&mut limb_stays(step, s, told));
        lines
    });
    out.append(&mut front_leg(step));
    let lifts = step.a.posture == Posture::Front && 0.03 < step.moved_joint(Segment::Neck).y;
    if lifts
        && step.b.floor(Region::PelvisFront, None)
        && !step.b.key.efforts.iter().any(|e| matches!(e, Effort::StayStill(_)))
    {
        out.push(useful("keep your hips on the floor"));
    }
    out
}

/// The heel of a foot whose ankle bends far under the body.
fn heel_stays(step: &Step, s: Side) -> Vec<Line> {
    let b = &step.b;
    let far = 8.0 < b.deg(Limb::Dorsiflexion, s) && 3.0 < step.change(Limb::Dorsiflexion, s);
    let down = b.posture == Posture::Standing && b.flat(s) && step.foot_stays(s);
    let settled = Side::BOTH.iter().all(|s| step.foot_stays(*s));
    if far && down && settled && step.b.hip_fold(s) < 130.0 {
        return vec![useful("keep [heel] on the floor")];
    }
    Vec::new()
}

/// A leg behind that stays straight while the other bends.
fn front_leg(step: &Step) -> Vec<Line> {
    let b = &step.b;
    let bent = |s: Side| 20.0 < step.change(Limb::KneeFlexion, s);
    let straight = |s: Side| b.deg(Limb::KneeFlexion, s) < 15.0 && step.foot_stays(s) && !b.foot_is_free(s);
    Side::BOTH
        .into_iter()
        .filter(|s| {
            b.posture == Posture::Standing
                && straight(*s)
                && bent(s.other())
                && b.touches_of(*s).all(|t| !is_foot(t.part.region) || t.surface == Surface::Floor)
        })
        .map(|s| {
            let gap = b.at.joint(Segment::Foot(s)) - b.at.joint(Segment::Foot(s.other()));
            let heel = b.flat(s) && gap.dot(b.ahead()) < -0.1 * b.h();
            let heel = if heel { " and the heel down" } else { "" };
            useful(format!("keep your {} knee straight{heel}", s.word()))
        })
        .collect()
}

/// A contact of the limb that moves: what the movement turns about.
fn limb_stays(step: &Step, s: Side, told: &Told) -> Vec<Line> {
    let b = &step.b;
    let mut out = Vec::new();
    for t in b.touches_of(s).filter(|t| step.kept(t) && !t.slides && !t.holds) {
        let r = t.part.region;
        // One foot or knee on the other, while the leg moves.
        if let Surface::Body(on) = t.surface
            && is_foot(r)
            && is_foot(on.region)
            && on.side == Some(s.other())
        {
            if 10.0 < step.swing(Segment::Thigh(s)) && b.posture != Posture::Standing && !told.leg(s) {
                out.push(must("keep your feet together"));
            }
            continue;
        }
        if let Surface::Body(on) = t.surface
            && matches!(r, Region::AnkleOuter | Region::Calf)
            && on.side == Some(s.other())
            && 0.05 < step.moved_joint(Segment::Foot(s)).norm()
        {
            out.push(useful(format!("keep [{}] on {}", noun(r), surface(t.surface, Some(s)))));
            continue;
        }
        let hand =
            step.moved_joint(Segment::Hand(s)).norm().max(step.change(Limb::WristFlexion, s).abs() / 100.0);
        if matches!(r, Region::Forearm | Region::UpperArm)
            && matches!(t.surface, Surface::Prop(k) if k != PropKind::Doorway)
            && 0.1 < hand
            && step.swing(Segment::Forearm(s)) < 10.0
        {
            out.push(useful(format!("keep [{}] on {}", noun(r), surface(t.surface, Some(s)))));
        }
        if r == Region::Forearm
            && matches!(t.surface, Surface::Prop(PropKind::Doorway))
            && 0.03 < step.moved_joint(Segment::Pelvis).norm()
        {
            out.push(useful(format!("keep [forearm] against {}", surface(t.surface, Some(s)))));
        }
    }
    out
}

pub(super) fn worked(w: Worked) -> String {
    let side = w.side.or(side_of(w.segment));
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
        (Segment::Thigh(_), Aspect::Inner) => "inside of the thigh",
        (Segment::Thigh(_), _) => "thigh",
        (Segment::Shank(_), Aspect::Back) => "calf",
        (Segment::Shank(_), _) => "lower leg",
        (Segment::Foot(_) | Segment::Toes(_), _) => "foot",
    };
    match side {
        Some(s) => filled(&format!("<{noun}>"), Some(s)),
        None => format!("your {noun}"),
    }
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

/// Efforts by when they are told.
#[derive(Default)]
pub(super) struct Efforts {
    pub before: Vec<Line>,
    pub with: Vec<Line>,
    pub after: Vec<Line>,
}

pub(super) fn efforts_of(step: &Step) -> Efforts {
    let mut out = Efforts { before: squeezes(step.b.key, step.side), ..Efforts::default() };
    let lifted = 0.03 < step.moved_joint(Segment::Pelvis).y && step.a.posture != Posture::Standing;
    let pushes = pushes(step.b.key, step.side);
    if lifted {
        out.before.extend(pushes)
    } else {
        out.with = pushes
    }
    out.after = others(step.b.key);
    out
}

/// All efforts of one key.
pub(super) fn efforts(key: &Key, working: Side) -> Vec<Line> {
    let mut out = squeezes(key, working);
    out.append(&mut pushes(key, working));
    out.append(&mut others(key));
    out
}

fn squeezes(key: &Key, working: Side) -> Vec<Line> {
    let mut girdles = 0;
    for e in &key.efforts {
        girdles += usize::from(matches!(e, Effort::Squeeze(Worked { segment: Segment::Girdle(_), .. })));
    }
    if 2 <= girdles {
        return vec![must("squeeze your shoulder blades together")];
    }
    let of = |s: Option<Side>| -> Vec<Line> {
        key.efforts
            .iter()
            .filter_map(|e| match e {
                Effort::Squeeze(w) if w.side.or(side_of(w.segment)) == s => Some(*w),
                _ => None,
            })
            .map(|w| match s {
                Some(_) => must(format!(
                    "tighten [{}]",
                    worked(w)
                        .replace("your right ", "")
                        .replace("your left ", "")
                        .trim_start_matches("the ")
                        .replace(" of ", " of the ")
                )),
                None => must(format!("tighten {}", worked(w))),
            })
            .collect()
    };
    let mut out = of(None);
    out.append(&mut merged(working, |s| of(Some(s))));
    out
}

fn pushes(key: &Key, working: Side) -> Vec<Line> {
    let of = |s: Side| -> Vec<Line> {
        key.efforts
            .iter()
            .filter_map(|e| match e {
                Effort::Push { part, into } if part.side == Some(s) => {
                    let word = match part.region {
                        Region::KneeBack | Region::ThighBack => part.region.word(),
                        r => noun(r),
                    };
                    let into_what = surface(*into, Some(s));
                    let out = matches!(into, Surface::Prop(PropKind::LoopBand | PropKind::Belt));
                    Some(must(if out {
                        format!("push [{word}] out against {into_what}")
                    } else {
                        format!("push [{word}] into {into_what}")
                    }))
                }
                _ => None,
            })
            .collect()
    };
    if let Some(line) = squeezed(key) {
        return vec![line];
    }
    let mut out = merged(working, of);
    for e in &key.efforts {
        if let Effort::Push { part, into } = e
            && part.side.is_none()
        {
            out.push(must(format!("push {} into {}", spot(*part), surface(*into, None))));
        }
    }
    out
}

/// What both knees or hands push together.
fn squeezed(key: &Key) -> Option<Line> {
    key.things.iter().find_map(|t| {
        let Shape::Between { spots: [x, y], .. } = &t.shape else { return None };
        let pushed = |s: Side| {
            key.efforts.iter().any(|e| {
                matches!(e, Effort::Push { part, into } if part.side == Some(s) && *into == Surface::Prop(t.kind))
            })
        };
        let both = x.region == y.region && pushed(Side::Right) && pushed(Side::Left);
        let noun = if x.region == Region::KneeInner { "knee" } else { noun(x.region) };
        both.then(|| must(format!("squeeze {} between your {}", super::english::a(t.kind), super::english::plural(noun))))
    })
}

fn others(key: &Key) -> Vec<Line> {
    key.efforts
        .iter()
        .filter_map(|e| match e {
            Effort::BreatheOut => Some(useful("breathe out as you do it")),
            Effort::StayStill(b) => {
                let floor = key
                    .touches
                    .iter()
                    .any(|t| t.part.region == Region::PelvisFront && t.surface == Surface::Floor);
                let hips = matches!(b, Bit::PelvisAcross | Bit::Segment(Segment::Pelvis));
                Some(useful(format!(
                    "keep {} still{}",
                    bit(*b),
                    if floor && hips { " on the floor" } else { "" }
                )))
            }
            _ => None,
        })
        .collect()
}
