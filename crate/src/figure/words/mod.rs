//! The picture in words, from the same settled angles: how to take the position, what to do, when to
//! stop. Spoken to the patient, one action a sentence.

mod action;
mod posture;

use super::compose::frames_of;
use super::{Look, Reader, view};
use crate::body::names::{Joint, Motion, Segment, Side};
use crate::body::{Body, Placed};
use crate::pose::movement::Movement;
use crate::space::Vec3;

/// A sentence about one or both sides: `[knee]` becomes `your right knee` or `both knees`, and
/// `(is|are)` its first or second half.
pub(super) type Template = String;

pub(super) fn describe(body: &Body, movement: &Movement, look: &Look) -> Vec<String> {
    let placed = view::place_keys(body, movement);
    let keys = frames_of(movement, &placed);
    let mut out = Vec::new();
    let Some(first) = keys.first().and_then(|k| Some((movement.keys.get(*k)?, placed.get(*k)?))) else {
        return vec!["There is nothing to draw yet.".to_string()];
    };
    out.append(&mut posture::start(movement, first.0, first.1));
    for (step, pair) in keys.windows(2).enumerate() {
        let [a, b] = pair else { continue };
        let (Some(from), Some(to)) = (placed.get(*a), placed.get(*b)) else { continue };
        let (Some(k0), Some(k1)) = (movement.keys.get(*a), movement.keys.get(*b)) else { continue };
        let mut said = action::between(movement, (k0, from), (k1, to));
        if 0 < step
            && let Some(s) = said.first_mut()
        {
            let mut rest = s.chars();
            if let Some(c) = rest.next() {
                *s = format!("Then {}{}", c.to_lowercase(), rest.as_str());
            }
        }
        out.append(&mut said);
    }
    if let [only] = keys.as_slice()
        && let Some(k) = movement.keys.get(*only)
    {
        out.append(&mut action::efforts(k));
    }
    if let Some((key, placed)) = keys.last().and_then(|k| Some((movement.keys.get(*k)?, placed.get(*k)?))) {
        let _ = key;
        out.append(&mut limits(movement, placed, look));
    }
    if 1 < keys.len() {
        out.push("Go back slowly to the start.".to_string());
    }
    // The same said twice, as by two bands, is said once.
    let mut seen = std::collections::BTreeSet::new();
    out.retain(|s| seen.insert(s.clone()));
    out
}

/// Where to stop, for each limit that was reached.
fn limits(movement: &Movement, placed: &Placed, look: &Look) -> Vec<String> {
    let mut out = Vec::new();
    for (angle, limit) in &movement.held {
        let side = angle.side.unwrap_or(Side::Right);
        if look.reader == Reader::Clinician {
            out.push(format!("Limit: {} {} degrees.", angle.name(), crate::measure::shown(*limit, 0)));
            continue;
        }
        let dir = |s: Segment| (placed.far_end(s) - placed.joint(s)).unit_or(Vec3::Y);
        let (part, way) = match angle.joint {
            Joint::Knee => ("shin", dir(Segment::Shank(side))),
            Joint::Hip => ("thigh", dir(Segment::Thigh(side))),
            Joint::Shoulder => ("upper arm", dir(Segment::UpperArm(side))),
            Joint::Elbow => ("forearm", dir(Segment::Forearm(side))),
            _ => ("", Vec3::ZERO),
        };
        let s = side.word();
        // Within 12 degrees of level or upright an eye takes it as such (common practice, no source).
        if part.is_empty() {
            out.push(format!("Stop where the picture stops: move your {} no further.", angle.joint.word()));
        } else if way.y.abs() < 0.21 {
            out.push(format!("Stop when your {s} {part} is level."));
        } else if 0.978 < way.y.abs() {
            let to = if way.y < 0.0 { "straight down" } else { "straight up" };
            out.push(format!("Stop when your {s} {part} points {to}."));
        } else {
            let verb = match angle.motion {
                Motion::Flexion => format!("bend your {s} {}", angle.joint.word()),
                Motion::Extension => format!("straighten your {s} {}", angle.joint.word()),
                _ => format!("move your {s} {}", angle.joint.word()),
            };
            out.push(format!("Stop where the picture stops: {verb} no further."));
        }
    }
    out
}

/// Sentences of both sides, said together where they are the same.
fn merged(right: Vec<Template>, left: Vec<Template>) -> Vec<String> {
    let mut out = Vec::new();
    let mut left = left;
    for r in right {
        if let Some(i) = left.iter().position(|l| *l == r) {
            left.remove(i);
            out.push(filled(&r, None));
        } else {
            out.push(filled(&r, Some(Side::Right)));
        }
    }
    out.extend(left.iter().map(|l| filled(l, Some(Side::Left))));
    out
}

fn plural(noun: &str) -> String {
    match noun {
        "foot" => "feet".to_string(),
        "calf" => "calves".to_string(),
        n => {
            if n.ends_with('s') {
                n.to_string()
            } else {
                format!("{n}s")
            }
        }
    }
}

fn filled(template: &str, side: Option<Side>) -> String {
    let mut out = String::with_capacity(template.len() + 16);
    let mut rest = template;
    while let Some(at) = rest.find(['[', '(']) {
        let (before, from) = rest.split_at(at);
        out.push_str(before);
        let bracket = from.starts_with('[');
        let end = from.find(if bracket { ']' } else { ')' }).unwrap_or(from.len() - 1);
        let inner = from.get(1..end).unwrap_or("");
        if bracket {
            // `the back of your right knee`, not `your right back of the knee`.
            let (of, noun) = match inner.split_once(" of the ") {
                Some((face, noun)) => (Some(face), noun),
                None => (None, inner),
            };
            match (side, of) {
                // There is one head.
                (_, Some(face)) if noun == "head" => out.push_str(&format!("the {face} of your head")),
                (Some(s), None) => out.push_str(&format!("your {} {noun}", s.word())),
                (Some(s), Some(face)) => out.push_str(&format!("the {face} of your {} {noun}", s.word())),
                (None, None) => out.push_str(&format!("both {}", plural(noun))),
                (None, Some(face)) => out.push_str(&format!("the {} of both {}", plural(face), plural(noun))),
            }
        } else {
            let (one, many) = inner.split_once('|').unwrap_or((inner, inner));
            out.push_str(if side.is_some() { one } else { many });
        }
        rest = from.get(end + 1..).unwrap_or("");
    }
    out.push_str(rest);
    sentence(&out)
}

/// With a capital and a full stop.
fn sentence(text: &str) -> String {
    let mut chars = text.trim().chars();
    let mut s: String = match chars.next() {
        Some(c) => c.to_uppercase().chain(chars).collect(),
        None => String::new(),
    };
    if !s.is_empty() && !s.ends_with('.') {
        s.push('.');
    }
    s
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_sides_are_said_together_only_where_they_are_the_same() {
        let t = |s: &str| s.to_string();
        assert_eq!(
            merged(vec![t("bend [knee]"), t("[foot] (is|are) flat")], vec![t("[foot] (is|are) flat")]),
            ["Bend your right knee.", "Both feet are flat."]
        );
    }
}
