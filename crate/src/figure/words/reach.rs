//! What each arm does by itself.

use super::arms::{around, is_arm, place};
use super::body::Told;
use super::english::{Line, merged, must, noun, surface, useful};
use super::seen::{Posture, Step, bend_words, is_hand};
use crate::body::dof::Limb;
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{Aspect, Effort, PropKind, Surface, Worked};

pub(super) fn moved(step: &Step, told: &Told) -> Vec<Line> {
    let helped = helper(step);
    let mut out = merged(step.side, |s| {
        if told.arm(s) || helped == Some(s) {
            return Vec::new();
        }
        one(step, s, helped.is_some(), told)
    });
    if let Some(s) = helped {
        out.append(&mut help(step, s));
    }
    out.append(&mut trunk_contacts(step));
    out
}

/// The hand that holds the other arm or leg and moves it.
fn helper(step: &Step) -> Option<Side> {
    [step.side.other(), step.side].into_iter().find(|s| {
        step.hand_kept(*s).is_some_and(|t| {
            t.holds
                && matches!(t.surface, Surface::Body(b) if b.side == Some(s.other()) && is_limb_end(b.region))
        }) && 0.03 < step.moved_joint(Segment::Hand(*s)).norm()
    })
}

fn is_limb_end(r: Region) -> bool {
    is_hand(r) || matches!(r, Region::WristFront | Region::Forearm | Region::Elbow)
}

fn help(step: &Step, by: Side) -> Vec<Line> {
    let s = by.other();
    let way = step.moved_joint(Segment::Hand(s));
    let chest = step.a.at.turn(Segment::Chest);
    let to = if way.y < -0.25 * way.norm() {
        "down towards the floor"
    } else if 0.7 * way.norm() < way.y {
        "up towards the ceiling"
    } else if 0.0 < way.dot(chest.x) {
        "away from you"
    } else {
        "towards you"
    };
    let part = step.hand_kept(by).map_or("arm", |t| match t.surface {
        Surface::Body(b) if b.region == Region::Elbow => "elbow",
        Surface::Body(b) if is_hand(b.region) => "hand",
        _ => "forearm",
    });
    vec![must(format!("with your {} hand, press your {} {part} {to}", by.word(), s.word()))]
}

fn one(step: &Step, s: Side, helped: bool, told: &Told) -> Vec<Line> {
    // A strap from a foot takes the hands along.
    let strap = step.hand_kept(s).is_some_and(|t| t.holds && t.surface == Surface::Prop(PropKind::Strap));
    if strap {
        return Vec::new();
    }
    let begun: Vec<Line> = began(step, s);
    if !begun.is_empty() {
        return begun;
    }
    if helped {
        return Vec::new();
    }
    if step
        .hand_kept(s)
        .is_some_and(|t| t.holds && matches!(t.surface, Surface::Body(b) if !is_arm(b.region)))
    {
        return Vec::new();
    }
    if let Some(line) = slid(step, s) {
        return line;
    }
    let planted = step.hand_kept(s).filter(|t| !t.slides && !matches!(t.surface, Surface::Body(_)));
    if planted.is_some()
        && step.hand_stays(s)
        && step.hand_kept(s).is_some_and(|t| t.part.region != Region::Forearm)
    {
        return Vec::new();
    }
    let mut out = free(step, s);
    let off = |r: Region| step.a.floor(r, Some(s)) && !step.b.floor(r, Some(s));
    if out.is_empty()
        && step.a.posture.is_lying()
        && off(Region::Palm)
        && 0.01 < step.moved_joint(Segment::Hand(s)).y
    {
        out.push(must("lift [arm] off the floor"));
    }
    if out.is_empty() && !step.b.touches_of(s).any(|t| is_hand(t.part.region) && step.kept(t)) {
        out.append(&mut wrist(step, s));
    }
    if !told.spine {
        out.append(&mut blade(step, s, out.is_empty()));
    }
    out
}

/// Contacts of hand, forearm or elbow that begin here.
fn began(step: &Step, s: Side) -> Vec<Line> {
    let begun = step.begun(Some(s));
    let mut out = Vec::new();
    for t in begun.iter().filter(|t| is_arm(t.part.region)) {
        // Forearm and elbow are one contact, as hand and forearm are.
        let wider = |r: Region| begun.iter().any(|u| u.part.region == r && u.surface == t.surface);
        if t.part.region == Region::Elbow && wider(Region::Forearm) {
            continue;
        }
        let part = if is_hand(t.part.region) { "hand" } else { noun(t.part.region) };
        let on = surface(t.surface, Some(s));
        if let Surface::Body(b) = t.surface
            && t.holds
        {
            // What both hands hold is one place, not one of each side.
            let both = step.b.touches_of(s.other()).any(|u| u.holds && u.surface == t.surface);
            let on = if both { super::english::spot(b) } else { on };
            out.push(must(match b.region {
                Region::ThighBack => format!(
                    "hold behind {} with [hand]",
                    on.replace("the back of ", "").replace("back of the ", "")
                ),
                _ => format!("hold {on} with [hand]"),
            }));
        } else if t.holds {
            out.push(must(format!("hold {on} with [hand]")));
        } else if t.surface == Surface::Floor
            && is_hand(t.part.region)
            && step.b.posture == Posture::LongSitting
        {
            out.push(must(format!("put [hand] on the floor {}", around(&step.b, s))));
        } else if let Surface::Body(b) = t.surface
            && b.region == Region::KneeOuter
        {
            out.push(must(format!("press [{part}] against {on}")));
        } else if t.light {
            out.push(useful(format!("touch {on} lightly with [{part}]")));
        } else {
            out.push(must(format!("rest [{part}] on {on}")));
        }
    }
    out
}

/// A hand that slides along what it touches.
fn slid(step: &Step, s: Side) -> Option<Vec<Line>> {
    let touch = step.b.touches_of(s).find(|t| is_hand(t.part.region) && step.kept(t))?;
    let way = step.moved_joint(Segment::Hand(s));
    if way.norm() < 0.04 || touch.holds || matches!(touch.surface, Surface::Body(_)) {
        return None;
    }
    let on = surface(touch.surface, Some(s));
    let dir = if 0.7 * way.norm() < way.y {
        format!("up {on}")
    } else if way.y < -0.7 * way.norm() {
        format!("down {on}")
    } else {
        let (f, o) = (way.dot(step.a.ahead()), way.dot(step.a.outward(s)));
        let to = if o.abs() < f.abs() {
            if 0.0 < f { "forward" } else { "back" }
        } else if 0.0 < o {
            "out"
        } else {
            "in"
        };
        format!("{to} on {on}")
    };
    let elbow = step.b.deg(Limb::ElbowFlexion, s);
    let straight = if elbow < 20.0 && 20.0 < step.change(Limb::ElbowFlexion, s).abs() {
        " until <elbow> (is|are) straight"
    } else {
        ""
    };
    Some(vec![must(format!("slide [hand] {dir}{straight}"))])
}

/// An arm in the air.
fn free(step: &Step, s: Side) -> Vec<Line> {
    let (a, b) = (&step.a, &step.b);
    let mut out = Vec::new();
    let swing = step.swing_in(Segment::UpperArm(s), Segment::Chest);
    let (elbow, now) = (step.change(Limb::ElbowFlexion, s), b.deg(Limb::ElbowFlexion, s));
    let (was_up, up) = (a.raised(s), b.raised(s));
    let hand = step.moved(|p| p.far_end(Segment::Hand(s))).norm();
    if hand < 0.03 && swing < 8.0 {
        return out;
    }
    let turn = step.change(Limb::ShoulderRotation, s);
    if 12.0 < swing {
        let to = place(b, s);
        let verb = if was_up + 8.0 < up {
            "raise"
        } else if up + 8.0 < was_up {
            "lower"
        } else {
            "move"
        };
        let bent = 40.0 < now;
        let back = step.moved_joint(Segment::Forearm(s)).dot(a.at.turn(Segment::Chest).x) < -0.02;
        out.push(must(match verb {
            _ if up < 35.0 && bent && back => "draw [elbow] back beside your body".to_string(),
            "lower" if up < 25.0 => "lower [arm] to your (side|sides)".to_string(),
            "raise" if 140.0 < up => "raise [arm] up above your head".to_string(),
            _ if a.posture == Posture::Standing && a.trunk().y < 0.75 => swung(step, s),
            verb => format!("{verb} [arm] until (it is|they are) {to}"),
        }));
        if now < 15.0
            && a.deg(Limb::ElbowFlexion, s) < 20.0
            && 60.0 < up
            && !(a.trunk().y < 0.75 && a.posture == Posture::Standing)
        {
            out.push(useful("keep <elbow> straight"));
        }
        if b.posture == Posture::AllFours && 140.0 < up {
            out.clear();
            out.push(must("reach [arm] out straight in front of you"));
        }
    }
    if 20.0 < elbow.abs()
        && !out.iter().any(|l| l.text.contains("out straight") || l.text.contains("draw [elbow]"))
    {
        out.push(must(if now < 15.0 {
            "straighten [elbow]".to_string()
        } else if 112.0 < now && 0.0 < elbow {
            "bend [elbow] and bring the (hand|hands) towards the (shoulder|shoulders)".to_string()
        } else {
            format!(
                "{} [elbow] until (it is|they are) {}",
                if 0.0 < elbow { "bend" } else { "straighten" },
                bend_words(now)
            )
        }));
        if up < 20.0 && swing < 12.0 {
            out.push(useful("keep <elbow> by your (side|sides)"));
        }
    }
    if 15.0 < turn.abs() && swing < 20.0 && 45.0 < now {
        out.push(must(format!(
            "turn [forearm] {}",
            if 0.0 < turn { "out, away from your body" } else { "in, across your body" }
        )));
        if up < 25.0 {
            out.push(must("keep <elbow> by your (side|sides)"));
        }
    }
    out
}

/// An arm that hangs from a trunk that leans.
fn swung(step: &Step, s: Side) -> String {
    let way = step.moved_joint(Segment::Hand(s));
    let (f, o) = (way.dot(step.a.ahead()), way.dot(step.a.outward(s)));
    let straight =
        if step.b.deg(Limb::ElbowFlexion, s) < 20.0 { ", with the (elbow|elbows) straight" } else { "" };
    let to = if o.abs() < f.abs() {
        if 0.0 < f { "forward" } else { "back" }
    } else if 0.0 < o {
        "out to the (side|sides)"
    } else {
        "in across your body"
    };
    format!("swing [arm] {to}{straight}")
}

fn wrist(step: &Step, s: Side) -> Vec<Line> {
    let bend = step.change(Limb::WristFlexion, s);
    let turn = step.change(Limb::Supination, s);
    if 12.0 < bend.abs() {
        let tips = step.moved(|p| p.far_end(Segment::Hand(s)));
        let rests = step.b.touches_of(s).any(|t| t.part.region == Region::Forearm);
        return vec![must(if rests && 0.6 * tips.norm() < tips.y {
            "lift [hand] towards the ceiling, moving only the (wrist|wrists)"
        } else if rests && tips.y < -0.6 * tips.norm() {
            "lower [hand], moving only the (wrist|wrists)"
        } else if 0.0 < bend {
            "bend [wrist] towards the (palm|palms)"
        } else {
            "bend [wrist] back"
        })];
    }
    if 20.0 < turn.abs() {
        return vec![must(format!("turn [palm] {}", if 0.0 < turn { "up" } else { "down" }))];
    }
    Vec::new()
}

fn blade(step: &Step, s: Side, alone: bool) -> Vec<Line> {
    let squeezed = step.b.key.efforts.iter().any(|e| {
        matches!(
            e,
            Effort::Squeeze(Worked { segment: Segment::Girdle(_), aspect: Aspect::Back | Aspect::Whole, .. })
        )
    });
    let (lift, reach) = (step.change(Limb::BladeElevation, s), step.change(Limb::BladeProtraction, s));
    // Where the arm reaches far, its shoulder goes along.
    let back = step.b.key.touches.iter().any(|t| {
        matches!(t.part.region, Region::UpperBack | Region::WholeBack)
            && matches!(t.surface, Surface::Prop(_))
    });
    let carried = back || 25.0 < step.swing_in(Segment::UpperArm(s), Segment::Chest) || !alone;
    if squeezed || carried {
        return Vec::new();
    }
    if 5.0 < lift.abs() {
        return vec![must(if 0.0 < lift { "lift [shoulder] towards <ear>" } else { "draw [shoulder] down" })];
    }
    if 5.0 < reach.abs() {
        return vec![must(if 0.0 < reach {
            "reach [shoulder] forward"
        } else {
            "draw [shoulder blade] back"
        })];
    }
    Vec::new()
}

/// What else comes to rest: head, chest, back.
fn trunk_contacts(step: &Step) -> Vec<Line> {
    let mut out = Vec::new();
    for t in step.begun(None) {
        let against = matches!(t.surface, Surface::Prop(PropKind::Wall | PropKind::Doorway));
        if super::trunk::is_pushed(step, t.part.region) || step.a.posture != step.b.posture {
            continue;
        }
        if step.moved_joint(Segment::Pelvis).norm() < 0.2 {
            out.push(useful(format!(
                "rest your {} {} {}",
                noun(t.part.region),
                if against { "against" } else { "on" },
                surface(t.surface, None)
            )));
        }
    }
    out
}
