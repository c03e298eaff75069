//! How to take the start position.

use super::english::{Line, a, detail, merged, must, useful};
use super::room;
use super::seen::{Posture, Seen, bend_words, is_foot};
use super::{arms, kit};
use crate::body::dof::Limb;
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{PropKind, Surface};
use crate::pose::movement::{Movement, Shape};
use crate::space::Vec3;

pub(super) fn taken(movement: &Movement, seen: &Seen) -> Vec<Line> {
    let mut out = vec![room::position(seen)];
    head(seen, &mut out);
    stance(movement.side, seen, &mut out);
    let kit = kit::carried(movement, seen);
    let rest = match out.first_mut() {
        Some(first) => worn(first, kit.worn),
        None => kit.worn,
    };
    out.extend(rest);
    let mut legs = merged(movement.side, |s| leg(seen, s));
    // What rests on the other leg comes after that leg has its place.
    let two = |l: &Line| l.text.contains("right") && l.text.contains("left");
    let (crossing, own): (Vec<Line>, Vec<Line>) = legs.drain(..).partition(two);
    let mut arms = arms::placed(movement, seen);
    // Hands on a table or wall come before the lean that they carry.
    let props = [Side::Right, Side::Left].into_iter().any(|s| {
        seen.touches_of(s)
            .any(|t| arms::is_arm(t.part.region) && matches!(t.surface, Surface::Prop(_)) && !t.holds)
    });
    let first = props && seen.posture == Posture::Standing;
    if first {
        let (on, off): (Vec<Line>, Vec<Line>) = arms.drain(..).partition(|l| l.text.contains('{'));
        out.extend(on);
        out.append(&mut trunk(seen));
        arms = off;
    }
    out.extend(own);
    out.extend(crossing);
    out.extend(kit.strapped);
    if !first {
        out.append(&mut trunk(seen));
    }
    out.append(&mut arms);
    out.extend(kit.held);
    out
}

/// What is worn, the first of it in one sentence with standing.
fn worn(first: &mut Line, mut lines: Vec<Line>) -> Vec<Line> {
    let plain = matches!(first.text.as_str(), "stand" | "stand tall");
    let round = lines
        .first()
        .and_then(|l| l.text.strip_prefix("put "))
        .filter(|t| t.contains(" round "))
        .map(str::to_string);
    if let (true, Some(round)) = (plain, round) {
        first.text = format!("stand with {round}");
        lines.remove(0);
    }
    lines
}

/// The head's pillow belongs to the lying itself.
fn head(seen: &Seen, out: &mut Vec<Line>) {
    let heads = [Region::BackOfHead, Region::SideOfHead, Region::Forehead, Region::Chin];
    let Some(touch) = heads.iter().find_map(|r| seen.touch(*r)) else { return };
    let Surface::Prop(kind) = touch.surface else {
        if seen.posture == Posture::Front && touch.surface == Surface::Floor {
            out.push(useful(format!("rest your {} on the floor", super::english::noun(touch.part.region))));
        }
        return;
    };
    if !matches!(kind, PropKind::Pillow | PropKind::Towel) {
        return;
    }
    let part = super::english::noun(touch.part.region);
    if let (Some(first), true) = (out.first_mut(), seen.posture != Posture::Front) {
        first.text.push_str(&format!(" with your {part} on {}", a(kind)));
    } else {
        out.push(must(format!("rest your {part} on {}", a(kind))));
    }
}

/// How the feet stand to each other.
fn stance(working: Side, seen: &Seen, out: &mut Vec<Line>) {
    if seen.posture == Posture::Sitting {
        let back = |s: &Side| {
            let behind = seen.at.joint(Segment::Shank(*s)) - seen.at.joint(Segment::Foot(*s));
            0.03 < behind.dot(seen.ahead()) / seen.h() && seen.flat(*s)
        };
        if Side::BOTH.iter().all(back) {
            out.push(useful("pull your heels back behind your knees"));
        }
    }
    if seen.posture != Posture::Standing {
        return;
    }
    if room::front_of_feet(seen) {
        out.push(must(format!("put only the balls of your feet on {}", a(PropKind::Step))));
        if Side::BOTH.iter().all(|s| seen.deg(Limb::Dorsiflexion, *s) < -15.0) {
            out.push(must("lift your heels high"));
        }
    }
    let h = seen.h();
    let foot = |s: Side| seen.at.joint(Segment::Foot(s));
    let apart = foot(working) - foot(working.other());
    let ahead = apart.dot(seen.ahead()) / h;
    let same_floor = Side::BOTH.iter().all(|s| !seen.foot_is_free(*s)) && apart.y.abs() < 0.06 * h;
    if same_floor && 0.1 < ahead.abs() {
        let far = if 0.35 < ahead.abs() { "a long step" } else { "a step" };
        out.push(must(if 0.0 < ahead {
            format!("put your {} foot {far} in front of the other", working.word())
        } else {
            format!("put your {} foot {far} behind the other", working.word())
        }));
    }
    let wide = apart.dot(seen.outward(working)).abs() / h;
    let out_by = |s: Side| {
        let way = super::seen::level(seen.way(Segment::Foot(s))).unit_or(Vec3::X);
        (way.dot(seen.ahead()), way.dot(seen.outward(s)))
    };
    let turned = Side::BOTH.iter().all(|s| 0.34 < out_by(*s).1 && 0.0 < out_by(*s).0);
    // Wider than the shoulders (0.26 of stature in all).
    let how = match (same_floor && 0.22 < wide, turned) {
        (true, true) => "your feet wide apart and your toes turned out",
        (true, false) => "your feet wide apart",
        (false, true) => "your toes turned out",
        _ => "",
    };
    if let (Some(first), false) = (out.first_mut(), how.is_empty()) {
        if first.text.starts_with("stand") && !first.text.contains('{') {
            first.text = format!("stand with {how}");
        } else {
            out.push(must(format!("stand with {how}")));
        }
    }
    let leaning = room::leans_back(seen);
    let feet = foot(working).lerp(foot(working.other()), 0.5) - seen.at.joint(Segment::Pelvis);
    if leaning && 0.08 < feet.dot(seen.ahead()) / h {
        out.push(must("put your feet a step in front of you"));
    }
}

fn leg(seen: &Seen, s: Side) -> Vec<Line> {
    let (knee, hip) = (seen.deg(Limb::KneeFlexion, s), seen.deg(Limb::HipFlexion, s));
    let mut out = resting(seen, s);
    let placed = |l: &Line| ["[foot]", "[heel]", "[calf]", "[ankle]"].iter().any(|p| l.text.contains(p));
    let told = out.iter().any(placed);
    let flat = seen.flat(s);
    let heel = !flat && seen.floor(Region::Heel, Some(s));
    match seen.posture {
        Posture::Standing => {
            if seen.foot_is_free(s) {
                out.push(must(format!("lift [foot] off the floor{}", way_of_foot(seen, s))));
                if 40.0 < knee {
                    out.push(useful(format!("bend [knee] until (it is|they are) {}", bend_words(knee))));
                }
            } else if !told && !seen.floor(Region::Heel, Some(s)) && on_toes(seen, s) {
                out.push(must("lift [heel] off the floor"));
            }
            if 20.0 <= knee && !seen.foot_is_free(s) && !told {
                let little = if knee < 60.0 { " a little" } else { "" };
                let line = format!("bend [knee]{little}");
                out.push(if out.is_empty() { useful(line) } else { detail(line) });
            }
        }
        Posture::Sitting if told => {}
        Posture::Sitting => {
            if knee < 25.0 {
                out.push(must(format!(
                    "hold [leg] out straight{}",
                    if heel { ", heel on the floor" } else { "" }
                )));
            } else if knee < 60.0 {
                out.push(must("put [foot] a little forward"));
            } else if seen.foot_is_free(s) {
                out.push(useful("lift [foot] off the floor"));
            } else if flat && !room::position(seen).text.contains("flat") {
                out.push(detail("put [foot] flat on the floor"));
            }
        }
        Posture::Kneeling | Posture::HalfKneeling(_) => {}
        Posture::AllFours => {
            let down = seen.floor(Region::KneeFront, Some(s)) || seen.floor(Region::Shin, Some(s));
            if !down && knee < 25.0 {
                out.push(must("stretch [leg] out straight behind you"));
            } else if !down {
                out.push(must("lift [knee] off the floor"));
            }
        }
        Posture::Back | Posture::LongSitting => supine(seen, s, (knee, hip), told, &mut out),
        Posture::Front | Posture::Plank => {
            if 25.0 <= knee {
                out.push(must(format!("bend [knee] until (it is|they are) {}", bend_words(knee))));
            }
        }
        Posture::Lying(_) => {
            if 20.0 <= hip && 25.0 <= knee {
                out.push(must("bend [hip and knee]"));
            } else if 25.0 <= knee {
                out.push(must("bend [knee]"));
            } else if 20.0 <= hip {
                out.push(must("put [leg] out straight in front of you"));
            } else {
                out.push(must("keep [leg] straight, in line with your body"));
            }
        }
    }
    out
}

fn supine(seen: &Seen, s: Side, (knee, hip): (f64, f64), told: bool, out: &mut Vec<Line>) {
    let flat = seen.flat(s);
    let lifted = seen.foot_is_free(s);
    if told {
        if knee < 15.0 {
            out.push(must("keep [leg] straight"));
        }
    } else if knee < 20.0 && seen.foot_is_free(s) && beside(seen, s) {
        out.push(must("straighten [knee], with your thighs side by side"));
    } else if knee < 20.0 {
        let up = seen.way(Segment::Thigh(s)).y;
        out.push(must(if 0.93 < up {
            "hold [leg] straight up towards the ceiling"
        } else if 0.25 < up {
            "hold [leg] up in the air, with the (knee|knees) straight"
        } else {
            "keep [leg] straight"
        }));
    } else if flat && crosses(seen, s) {
        out.push(must("bend [knee] and put the (foot|feet) flat outside <~knee>"));
    } else if flat {
        out.push(must("bend [knee] and put the (foot|feet) flat on the floor"));
    } else if 60.0 < hip && lifted {
        out.push(must("lift [knee] above the (hip|hips), with the (knee|knees) bent"));
    } else if seen.floor(Region::Heel, Some(s)) {
        out.push(must("bend [knee], with the (heel|heels) on the floor"));
    } else {
        out.push(must("bend [knee]"));
    }
}

/// A straight leg held beside the bent one.
fn beside(seen: &Seen, s: Side) -> bool {
    let thighs = super::seen::apart(seen.way(Segment::Thigh(s)), seen.way(Segment::Thigh(s.other())));
    thighs < 15.0 && 40.0 < seen.deg(Limb::KneeFlexion, s.other())
}

/// A foot beyond the other leg.
fn crosses(seen: &Seen, s: Side) -> bool {
    let gap = seen.at.joint(Segment::Foot(s)) - seen.at.joint(Segment::Shank(s.other()));
    gap.dot(seen.outward(s)) < -0.01 * seen.h() && seen.deg(Limb::KneeFlexion, s.other()) < 20.0
}

fn on_toes(seen: &Seen, s: Side) -> bool {
    seen.floor(Region::Forefoot, Some(s)) || seen.floor(Region::Toes, Some(s))
}

fn way_of_foot(seen: &Seen, s: Side) -> &'static str {
    let way = seen.at.joint(Segment::Foot(s)) - seen.at.joint(Segment::Pelvis);
    let ahead = way.dot(seen.ahead()) / seen.h();
    if ahead < -0.12 {
        " behind you"
    } else if 0.12 < ahead {
        " in front of you"
    } else {
        ""
    }
}

/// What parts of a leg rest on, where it is neither the floor nor the seat.
fn resting(seen: &Seen, s: Side) -> Vec<Line> {
    use Region::*;
    let mut out: Vec<Line> = Vec::new();
    let mut prop_said: Vec<PropKind> = Vec::new();
    let stood = room::position(seen).text;
    for t in seen.touches_of(s) {
        let r = t.part.region;
        let leg = is_foot(r)
            || matches!(
                r,
                ThighFront | ThighBack | KneeFront | KneeBack | KneeInner | KneeOuter | Shin | Calf
            )
            || matches!(r, AnkleOuter | AnkleInner);
        if !leg || seen.posture == Posture::Sitting && r == ThighBack {
            continue;
        }
        match t.surface {
            Surface::Prop(k) | Surface::Edge(k) => {
                if stood.contains(&a(k)) && seen.posture == Posture::Standing || prop_said.contains(&k) {
                    continue;
                }
                prop_said.push(k);
                out.push(on_prop(seen, s, r, k));
            }
            Surface::Tread(_) => {
                out.push(must(format!("put [foot] on {}", super::english::surface(t.surface, Some(s)))))
            }
            Surface::Body(on) => {
                let knees = on.region == r && on.side == Some(s.other());
                if knees && r == KneeInner {
                    // One knee lies on the other of itself in lying on a side.
                    if !matches!(seen.posture, Posture::Lying(_)) {
                        out.push(detail("keep your knees together"));
                    }
                } else if is_foot(r) && is_foot(on.region) {
                    // Foot on foot says itself in lying on a side with the legs alike.
                    if seen.deg(Limb::KneeFlexion, s) < 20.0 {
                        out.push(detail("put one foot on top of the other"));
                    }
                } else if !knees {
                    out.push(must(format!(
                        "rest [{}] on {}",
                        super::english::noun(r),
                        super::english::surface(t.surface, Some(s))
                    )));
                }
            }
            Surface::Floor => {}
        }
    }
    out
}

fn on_prop(seen: &Seen, s: Side, r: Region, k: PropKind) -> Line {
    let part = super::english::noun(r);
    // Between the knees: told with what is laid there.
    if r == Region::KneeInner {
        return detail("");
    }
    let feet_too = seen.touches_of(s).any(|t| t.part.region == Region::Calf && t.surface == Surface::Prop(k));
    let part = if part == "heel" && feet_too { "calf" } else { part };
    must(match k {
        PropKind::Wall => format!("put [{part}] against {}", a(k)),
        PropKind::Towel | PropKind::Pillow if matches!(r, Region::KneeFront | Region::KneeBack) => {
            format!("put {} under <knee>", a(k))
        }
        PropKind::Step | PropKind::Stairs if seen.posture == Posture::Standing => {
            format!("put [{part}] on {} in front of you", a(k))
        }
        PropKind::Ball | PropKind::Pillow | PropKind::Chair | PropKind::Roller
            if seen.posture != Posture::Standing =>
        {
            format!("rest [{part}] on {}", a(k))
        }
        _ => format!("put [{part}] on {}", a(k)),
    })
}

/// How the trunk is held, where it isn't as the posture has it.
fn trunk(seen: &Seen) -> Vec<Line> {
    let mut out = Vec::new();
    let t = seen.trunk();
    let ahead = t.dot(seen.ahead());
    let off = super::seen::apart(t, Vec3::Y);
    let legs = Side::BOTH.iter().all(|s| seen.hip_fold(*s) < 18.0);
    match seen.posture {
        Posture::Standing if 15.0 < off && legs && 0.0 < ahead => {
            out.push(must("lean your whole body forward in one straight line"));
        }
        Posture::Standing if room::leans_back(seen) => {}
        Posture::Standing | Posture::Sitting | Posture::Kneeling | Posture::HalfKneeling(_) if 14.0 < off => {
            let side = t.dot(seen.outward(Side::Right));
            if ahead.abs() < side.abs() {
                out.push(must(format!(
                    "lean your body to the {}",
                    if 0.0 < side { "right" } else { "left" }
                )));
            } else {
                let way = if 0.0 < ahead { "forward" } else { "back" };
                let far = if 50.0 < off {
                    ", until your back is nearly level"
                } else if off < 25.0 {
                    " a little"
                } else {
                    ""
                };
                out.push(must(format!("lean your body {way}{far}")));
            }
        }
        Posture::LongSitting if 14.0 < off && ahead < 0.0 => {
            let hands = Side::BOTH.iter().all(|s| seen.floor(Region::Palm, Some(*s)));
            if hands {
                out.push(must("lean back on both hands"));
            } else if !room::position(seen).text.contains("against") {
                out.push(must("lean your body back a little"));
            }
        }
        _ => {}
    }
    for (r, word) in [(Region::UpperBack, "upper back"), (Region::LowerBack, "lower back")] {
        if seen.posture == Posture::Back
            && let Some(k) = seen.touch(r).and_then(|t| match t.surface {
                Surface::Prop(k) => Some(k),
                _ => None,
            })
            && matches!(
                k,
                PropKind::Roller | PropKind::Ball | PropKind::Towel | PropKind::Bench | PropKind::Pillow
            )
        {
            let fits = seen.key.things.iter().any(|t| t.kind == k && !matches!(t.shape, Shape::Under { .. }));
            if fits {
                out.push(must(format!("rest your {word} on {}", a(k))));
            }
        }
    }
    out
}
