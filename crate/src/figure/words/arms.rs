//! Where the arms are at the start: what the hands do, else where the arms point.

use super::english::{Line, detail, merged, must, noun, surface, useful};
use super::seen::{Posture, Seen, bend_words, is_hand};
use crate::body::dof::Limb;
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{PropKind, Surface};
use crate::pose::movement::{Movement, Shape, Touch};
use crate::space::Vec3;

pub(super) fn placed(movement: &Movement, seen: &Seen) -> Vec<Line> {
    if crossed(seen) {
        return vec![must("cross your arms over your chest")];
    }
    merged(movement.side, |s| arm(movement, seen, s))
}

/// Each hand at the other shoulder.
pub(super) fn crossed(seen: &Seen) -> bool {
    let across = |s: Side| {
        seen.touches_of(s).any(|t| {
            is_hand(t.part.region)
                && matches!(t.surface, Surface::Body(b) if b.side == Some(s.other())
                    && matches!(b.region, Region::ShoulderSide | Region::Chest | Region::UpperArm))
        })
    };
    across(Side::Right) && across(Side::Left)
}

fn arm(movement: &Movement, seen: &Seen, s: Side) -> Vec<Line> {
    let mut out = Vec::new();
    let mut held = false;
    for t in seen.touches_of(s).filter(|t| is_arm(t.part.region)) {
        if let Some(line) = contact(movement, seen, s, t) {
            held = held || is_hand(t.part.region) || t.part.region == Region::Forearm;
            out.push(line);
        } else if is_hand(t.part.region) {
            held = true;
        }
    }
    out.splice(0..0, shape(movement, seen, s, held));
    // Elbow and forearm on the same thing are one contact.
    if out.iter().any(|l| l.text.contains("[forearm]")) {
        out.retain(|l| {
            !l.text.starts_with("rest [elbow] on the floor")
                && !l.text.starts_with("rest [hand] on the floor")
        });
    }
    out
}

pub(super) fn is_arm(r: Region) -> bool {
    is_hand(r)
        || matches!(
            r,
            Region::Forearm | Region::Elbow | Region::UpperArm | Region::WristFront | Region::ShoulderSide
        )
}

/// A band, strap or stick that another sentence puts in the hands.
fn in_kit(movement: &Movement, kind: PropKind) -> bool {
    movement.things.iter().any(|t| {
        t.kind == kind && matches!(t.shape, Shape::Round { .. } | Shape::In { .. } | Shape::Line { .. })
    })
}

/// What a hand, forearm or elbow does.
pub(super) fn contact(movement: &Movement, seen: &Seen, s: Side, t: &Touch) -> Option<Line> {
    let part = noun(t.part.region);
    let on = surface(t.surface, Some(s));
    let (posture, hand) = (seen.posture, is_hand(t.part.region));
    // What both hands hold is one place, not one of each side.
    let twin = seen.touches_of(s.other()).any(|u| u.holds && t.holds && u.surface == t.surface);
    let on = match t.surface {
        Surface::Body(b) if twin => super::english::spot(b),
        _ => on,
    };
    let part = match t.part.region {
        Region::Fingertips => "fingertips",
        Region::Palm | Region::BackOfHand if hand => "hand",
        _ => part,
    };
    Some(match t.surface {
        Surface::Prop(k) if t.holds && in_kit(movement, k) => return None,
        Surface::Prop(PropKind::Chair) if t.holds => must("hold the sides of the seat with [hand]"),
        _ if t.holds => must(format!("hold {on} with [hand]")),
        Surface::Floor if !hand && matches!(posture, Posture::AllFours | Posture::Plank) => return None,
        Surface::Floor if hand && matches!(posture, Posture::AllFours | Posture::Plank) => return None,
        Surface::Floor if t.part.region == Region::ShoulderSide => return None,
        // The arm below someone lying on a side lies on the floor of itself.
        Surface::Floor if posture == Posture::Lying(s) && t.part.region != Region::Forearm => return None,
        Surface::Floor if matches!(posture, Posture::Front) && hand => {
            must(format!("put [hand] on the floor {}", along(seen, s)))
        }
        Surface::Floor if posture == Posture::Back => {
            return Some(match place(seen, s).as_str() {
                "by your (side|sides)" => useful("rest [arm] on the floor by your (side|sides)"),
                // Seen from lying, the height is along the floor.
                p if p.contains("out to the") => useful("rest [arm] on the floor, out to the (side|sides)"),
                p => useful(format!("rest [arm] on the floor, {p}")),
            });
        }
        Surface::Floor if posture == Posture::LongSitting && hand => {
            if seen.trunk().dot(seen.ahead()) < -0.2 {
                // Told as leaning back on the hands where both are.
                let other =
                    seen.touches_of(s.other()).any(|u| is_hand(u.part.region) && u.surface == Surface::Floor);
                return (!other).then(|| must("put [hand] on the floor behind you"));
            }
            must(format!("put [hand] on the floor {}", around(seen, s)))
        }
        Surface::Floor if hand && matches!(posture, Posture::Lying(_)) => {
            must(format!("put [hand] on the floor {}", around(seen, s)))
        }
        Surface::Floor if t.part.region == Region::Forearm && posture == Posture::Front => {
            must("prop yourself on [forearm]")
        }
        Surface::Floor if t.part.region == Region::Forearm && matches!(posture, Posture::Lying(_)) => {
            must("prop yourself on [forearm], with the (elbow|elbows) under <shoulder>")
        }
        Surface::Floor => useful(format!("rest [{part}] on the floor")),
        Surface::Body(b) => {
            let what = match (b.region, b.side) {
                (Region::BackOfHead, _) => return Some(must("put [hand] behind your head")),
                _ => on,
            };
            if t.light
                && !seen
                    .key
                    .touches
                    .iter()
                    .any(|u| u.part.side == Some(s.other()) && u.surface == t.surface.mirrored())
            {
                detail(format!("rest [{part}] on {what}"))
            } else {
                useful(format!("rest [{part}] on {what}"))
            }
        }
        Surface::Prop(k) | Surface::Edge(k) => {
            let over = over_edge(seen, s, t);
            if matches!(k, PropKind::Wall | PropKind::Doorway) {
                must(format!("put [{part}] against {on}{}", if hand { at_height(seen, s) } else { "" }))
            } else if t.light {
                must(format!("rest [{part}] lightly on {on}"))
            } else {
                must(format!("rest [{part}] on {on}{over}"))
            }
        }
        Surface::Tread(_) => must(format!("rest [{part}] on {on}")),
    })
}

/// A hand that hangs over what the forearm rests on.
fn over_edge(seen: &Seen, s: Side, t: &Touch) -> &'static str {
    let free = !seen.touches_of(s).any(|u| is_hand(u.part.region) && u.surface == t.surface);
    let down = seen.way(Segment::Hand(s)).y < -0.3;
    let edge = !matches!(t.surface, Surface::Prop(PropKind::Ball | PropKind::Roller | PropKind::Pillow));
    if t.part.region == Region::Forearm && free && down && edge {
        ", with the (hand|hands) over the edge"
    } else {
        ""
    }
}

/// Where a hand on a wall is.
fn at_height(seen: &Seen, s: Side) -> &'static str {
    let hand = seen.at.joint(Segment::Hand(s)).y;
    let shoulder = seen.at.joint(Segment::UpperArm(s)).y;
    let off = (hand - shoulder) / seen.h();
    if seen.posture != Posture::Standing || 0.25 < off.abs() {
        ""
    } else if off.abs() < 0.08 {
        ", as high as your (shoulder|shoulders)"
    } else if 0.0 < off {
        ", above your (shoulder|shoulders)"
    } else {
        ", below your (shoulder|shoulders)"
    }
}

/// Where a hand lies along the trunk of someone lying on the front.
fn along(seen: &Seen, s: Side) -> &'static str {
    let hand = seen.at.joint(Segment::Hand(s));
    let marks = [
        (seen.at.far_end(Segment::Head), "above your head"),
        (seen.at.joint(Segment::Head), "beside your head"),
        (seen.at.joint(Segment::UpperArm(s)), "beside your (shoulder|shoulders)"),
        (seen.at.joint(Segment::Chest), "beside your ribs"),
        (seen.at.joint(Segment::Pelvis), "beside your hips"),
    ];
    let off = |at: Vec3| (hand - at).dot(seen.trunk()).abs();
    let mut best = marks[0];
    for mark in marks {
        if off(mark.0) < off(best.0) {
            best = mark;
        }
    }
    best.1
}

/// Where a hand is from the hips, level.
pub(super) fn around(seen: &Seen, s: Side) -> &'static str {
    let way = seen.at.joint(Segment::Hand(s)) - seen.at.joint(Segment::Pelvis);
    let front = seen.at.turn(Segment::Pelvis).x;
    let ahead = if seen.posture == Posture::LongSitting { seen.ahead() } else { front };
    let (f, o) = (way.dot(ahead) / seen.h(), way.dot(seen.outward(s)) / seen.h());
    if 0.0 < f && o.abs() < f + 0.1 {
        "in front of you"
    } else if f < 0.0 && o.abs() < 1.5 * f.abs() {
        "behind you"
    } else {
        "beside you"
    }
}

/// How far an arm is raised, degrees: in the room for a trunk that stands or leans, else along the trunk.
pub(super) fn height(seen: &Seen, s: Side) -> f64 {
    let upright = seen.posture.is_upright() || seen.posture == Posture::Sitting;
    if upright { super::seen::apart(seen.way(Segment::UpperArm(s)), -Vec3::Y) } else { seen.raised(s) }
}

/// Where an arm points, in words.
pub(super) fn place(seen: &Seen, s: Side) -> String {
    let way = seen.way(Segment::UpperArm(s));
    let raised = height(seen, s);
    if raised < 25.0 {
        return "by your (side|sides)".to_string();
    }
    if 140.0 < raised {
        return "above your head".to_string();
    }
    if seen.posture.is_lying() && 0.9 < way.y {
        return "up towards the ceiling".to_string();
    }
    let own = seen.at.turn(Segment::Chest).inverse() * way;
    let sign = if s == Side::Right { 1.0 } else { -1.0 };
    let upright = seen.posture.is_upright() || seen.posture == Posture::Sitting;
    let (front, out) =
        if upright { (way.dot(seen.ahead()), way.dot(seen.outward(s))) } else { (own.x, own.z * sign) };
    let direction = if front.abs() < out.abs() {
        if 0.0 < out { "out to the (side|sides)" } else { "across your body" }
    } else if 0.0 < front {
        "in front of you"
    } else {
        "behind you"
    };
    let height = if raised < 60.0 {
        " a little"
    } else if raised < 112.0 {
        ", as high as your (shoulder|shoulders)"
    } else {
        ", higher than your (shoulder|shoulders)"
    };
    if raised < 60.0 { format!("a little {direction}") } else { format!("{direction}{height}") }
}

/// The arm itself, where the hand's contact leaves it open.
fn shape(movement: &Movement, seen: &Seen, s: Side, held: bool) -> Vec<Line> {
    let (raised, elbow) = (height(seen, s), seen.deg(Limb::ElbowFlexion, s));
    let carries = movement.things.iter().any(|t| match &t.shape {
        Shape::In { hands, .. } => hands.contains(&s),
        _ => false,
    });
    if matches!(seen.posture, Posture::AllFours | Posture::Plank) {
        let up = !seen.floor(Region::Palm, Some(s)) && !seen.floor(Region::Elbow, Some(s));
        return if up && !held { vec![must(format!("hold [arm] {}", place(seen, s)))] } else { Vec::new() };
    }
    let on_floor_front = seen.posture == Posture::Front && seen.floor(Region::Palm, Some(s));
    if on_floor_front && !held {
        return if raised < 25.0 && elbow < 25.0 {
            vec![detail("rest [arm] by your (side|sides)")]
        } else {
            vec![must(format!("put [hand] on the floor {}", along(seen, s)))]
        };
    }
    let on_thing =
        seen.touches_of(s).any(|t| t.part.region == Region::Forearm || t.part.region == Region::UpperArm);
    let free = !held && !on_thing;
    if on_thing && seen.posture == Posture::Front {
        return Vec::new();
    }
    if raised < 25.0 && 40.0 < seen.raised(s) && elbow < 25.0 && free {
        return vec![must("let [arm] hang straight down")];
    }
    if raised < 25.0 && elbow < 25.0 {
        let palm = seen.deg(Limb::Supination, s);
        if carries && matches!(seen.posture, Posture::Standing | Posture::Sitting) && 45.0 < palm.abs() {
            return vec![must(format!("turn [palm] to the {}", if 0.0 < palm { "front" } else { "back" }))];
        }
        if seen.posture == Posture::Lying(s.other()) && free {
            return vec![detail("rest [arm] along your side")];
        }
        let said = seen.posture.is_lying() && free && seen.posture != Posture::Lying(s);
        return if said { vec![detail("rest [arm] by your (side|sides)")] } else { Vec::new() };
    }
    if raised < 30.0 && 25.0 <= elbow && !held {
        let turn = seen.deg(Limb::ShoulderRotation, s);
        let aim = if elbow < 60.0 {
            ""
        } else if turn < -25.0 {
            ", with the (forearm|forearms) across your belly"
        } else if 25.0 < turn {
            ", with the (hand|hands) out to the (side|sides)"
        } else {
            ", with the (hand|hands) in front of you"
        };
        return vec![must(format!("bend [elbow] by your (side|sides){aim}"))];
    }
    // A hand that leans or holds tells its arm, unless the arm is what is set up with a forearm or a stick.
    if held && !carries && !on_thing && !against(seen, s) {
        return Vec::new();
    }
    if held && !on_thing && against(seen, s) {
        return Vec::new();
    }
    if seen.posture == Posture::Lying(s) && raised < 120.0 {
        if seen.touches_of(s).any(|t| t.part.region == Region::Forearm) {
            return Vec::new();
        }
        let up = 0.85 < seen.way(Segment::Forearm(s)).y;
        let steered = seen
            .touches_of(s.other())
            .any(|t| matches!(t.surface, Surface::Body(b) if is_arm(b.region) && b.side == Some(s)));
        return if elbow < 60.0 || !(up || steered) {
            vec![detail("rest [arm] on the floor in front of you")]
        } else {
            vec![
                must("rest [upper arm] on the floor, level with <shoulder>"),
                must(if up {
                    "bend [elbow] so that the (hand points|hands point) to the ceiling".to_string()
                } else {
                    format!("bend [elbow] until (it is|they are) {}", bend_words(elbow))
                }),
            ]
        };
    }
    if seen.posture == Posture::Lying(s.other()) && raised < 120.0 {
        let down = seen.floor(Region::Palm, Some(s)) || seen.floor(Region::Fingertips, Some(s));
        return vec![detail(if down {
            "put [hand] on the floor in front of you"
        } else {
            "rest [arm] in front of you"
        })];
    }
    let bent = if 60.0 < elbow && !seen.touches_of(s).any(|t| is_hand(t.part.region)) {
        vec![must(format!("bend [elbow] until (it is|they are) {}", bend_words(elbow)))]
    } else {
        Vec::new()
    };
    let mut out = vec![must(format!("hold [arm] {}", place(seen, s)))];
    if seen
        .touches_of(s)
        .any(|t| t.part.region == Region::Forearm && matches!(t.surface, Surface::Prop(PropKind::Table)))
    {
        out.clear();
        return out;
    }
    out.extend(bent);
    out
}

fn against(seen: &Seen, s: Side) -> bool {
    seen.touches_of(s).any(|t| matches!(t.surface, Surface::Prop(PropKind::Wall)))
}
