//! Limits in words: for the clinician in degrees, for the patient as something to see.

use crate::body::names::{Angle, Joint, Motion, Segment, Side};
use crate::body::{Body, State};
use crate::dose::End;
use crate::language::anatomy::Limb;
use crate::measure::{degrees, math, shown};
use crate::pose::movement::Movement;
use crate::prescription::limit::{Bearing, Limit, Purpose, Unit, Weight};

/// `RIGHT` or `LEFT`, as sheets print it.
pub fn loud(side: Side) -> &'static str {
    match side {
        Side::Right => "RIGHT",
        Side::Left => "LEFT",
    }
}

/// Degrees as a clinician writes them: whole.
pub fn whole(degrees: f64) -> String {
    shown(degrees, 0)
}

/// `right knee flexion to 60`.
pub fn bound(angle: Angle, most: f64) -> String {
    format!("{} to {}", angle.name(), whole(most))
}

/// What the patient is told: `Do not bend your RIGHT knee past 60 degrees.` Empty for `range:`, which
/// forbids nothing.
pub fn forbidden(limit: &Limit) -> Vec<String> {
    if limit.purpose == Purpose::Range {
        return Vec::new();
    }
    super::clock::bounds(limit)
        .into_iter()
        .map(|(angle, most)| {
            let n = whole(most.abs());
            match angle.joint {
                // `extension at most -10`: never quite straight.
                Joint::Knee | Joint::Elbow if most < 0.0 => {
                    format!("Do not fully {}. Keep it bent by {n} degrees.", verb(angle))
                }
                _ if most < 0.0 => format!("Stop {n} degrees before straight when you {}.", verb(angle)),
                _ if most < 1.0 => format!("Do not {} at all.", verb(angle)),
                _ => format!("Do not {} past {n} degrees.", verb(angle)),
            }
        })
        .collect()
}

/// The motion as something one does: `bend your RIGHT knee`.
fn verb(angle: Angle) -> String {
    use Motion as M;
    let side = angle.side.map(loud).map_or(String::new(), |s| format!("{s} "));
    let part = |plain: &str, name: &str, after: &str| {
        let gap = if after.is_empty() { "" } else { " " };
        format!("{plain} your {side}{name}{gap}{after}")
    };
    let toward = |s: Side| s.word();
    match (angle.joint, angle.motion) {
        (Joint::Knee | Joint::Elbow, M::Extension) => part("straighten", angle.joint.word(), ""),
        (Joint::Knee | Joint::Elbow | Joint::Hip, M::Flexion) => part("bend", angle.joint.word(), ""),
        (Joint::Hip, M::Extension) => part("take", "leg", "behind you"),
        (Joint::Hip, M::Abduction) => part("take", "leg", "out to the side"),
        (Joint::Hip, M::Adduction) => part("take", "leg", "across your body"),
        (Joint::Hip, M::ExternalRotation) => part("turn", "leg", "out"),
        (Joint::Hip, M::InternalRotation) => part("turn", "leg", "in"),
        (Joint::Shoulder, M::Flexion) => part("lift", "arm", "forwards"),
        (Joint::Shoulder, M::Extension) => part("take", "arm", "behind you"),
        (Joint::Shoulder, M::Abduction) => part("lift", "arm", "out to the side"),
        (Joint::Shoulder, M::Adduction) => part("take", "arm", "across your body"),
        (Joint::Shoulder, M::ExternalRotation) => part("turn", "arm", "out"),
        (Joint::Shoulder, M::InternalRotation) => part("turn", "arm", "in"),
        (Joint::Shoulder, _) => part("lift", "arm", ""),
        (Joint::ShoulderBlade, M::Elevation) => part("lift", "shoulder", "towards your ear"),
        (Joint::ShoulderBlade, M::Depression) => part("pull", "shoulder", "down"),
        (Joint::ShoulderBlade, M::Protraction) => part("push", "shoulder", "forwards"),
        (Joint::ShoulderBlade, _) => part("pull", "shoulder", "back"),
        (Joint::Forearm, M::Supination) => part("turn", "palm", "up"),
        (Joint::Forearm, _) => part("turn", "palm", "down"),
        (Joint::Wrist, M::Flexion) => part("bend", "wrist", "forwards"),
        (Joint::Wrist, M::Extension) => part("bend", "wrist", "back"),
        (Joint::Wrist, _) => part("bend", "wrist", "sideways"),
        (Joint::Ankle, M::Dorsiflexion) => part("pull", "foot", "up"),
        (Joint::Ankle, M::PlantarFlexion) => part("point", "foot", "down"),
        (Joint::Ankle, M::Inversion) => part("turn", "sole", "in"),
        (Joint::Ankle, _) => part("turn", "sole", "out"),
        (Joint::Toes, M::Extension) => part("lift", "toes", ""),
        (Joint::Toes, _) => part("curl", "toes", ""),
        (joint, motion) => {
            let name = match joint {
                Joint::Neck | Joint::LowerNeck | Joint::UpperNeck => "neck",
                Joint::LowerBack => "lower back",
                Joint::UpperBack => "upper back",
                _ => "back",
            };
            match motion {
                M::Extension => part("bend", name, "backwards"),
                M::SideBend(s) => part("bend", name, &format!("to the {}", toward(s))),
                M::Rotation(s) => part("turn", name, &format!("to the {}", toward(s))),
                _ => part("bend", name, "forwards"),
            }
        }
    }
}

/// The limb that a weight is said of, as the patient is told: a hip or a knee bears through the leg.
fn borne(bearing: &Bearing) -> String {
    let limb = match bearing.limb {
        Limb::Hip | Limb::Knee => Limb::Leg,
        Limb::Shoulder => Limb::Arm,
        other => other,
    };
    match bearing.side {
        Some(side) => format!("your {} {}", loud(side), limb.word()),
        None if bearing.both => format!("your {}", limb.words()),
        // Which of the two was not typed, and is asked.
        None => format!("your {}", limb.word()),
    }
}

/// What the patient is told of weight: `Put no weight on your RIGHT leg.`
pub fn weight(bearing: &Bearing) -> String {
    let limb = borne(bearing);
    let it = if bearing.both { "them" } else { "it" };
    let what = match bearing.weight {
        Weight::None => format!("Put no weight on {limb}"),
        Weight::Touch => format!("Only touch the floor with {limb}; put no weight on {it}"),
        Weight::FlatFoot => {
            format!("Rest {limb} with the foot flat on the floor; put hardly any weight on {it}")
        }
        Weight::Amount { low, high, unit } => {
            let low = low.map_or(String::new(), |low| format!("{low} to "));
            let of = if unit == Unit::Percent { " of your weight" } else { "" };
            format!("Put no more than {low}{high} {}{of} on {limb}", unit.sign())
        }
        Weight::Partial => format!("Put only part of your weight on {limb}"),
        Weight::AsTolerated => format!("Put as much weight on {limb} as is comfortable"),
        Weight::Full => format!("You may put your full weight on {limb}"),
    };
    // What goes on from the sentence, and what is one of its own.
    const GOES_ON: [&str; 22] = [
        "in", "with", "on", "when", "for", "using", "while", "only", "if", "out", "outside", "at", "as",
        "during", "by", "under", "foot", "without", "plus", "except", "indoors", "outdoors",
    ];
    let pieces = bearing.words.split(", ").filter(|piece| !piece.is_empty());
    let goes_on = |piece: &&str| {
        let first = piece.split(|c: char| !c.is_alphanumeric()).next().unwrap_or("").to_lowercase();
        GOES_ON.contains(&first.as_str())
    };
    let (on, own): (Vec<&str>, Vec<&str>) = pieces.partition(goes_on);
    let mut said = on.iter().fold(what, |said, piece| format!("{said}, {piece}"));
    // An end that has no day stands as it was typed.
    if let Some(end) = bearing.end.as_ref().filter(|_| bearing.last_day.is_none()) {
        said = format!("{said}{} {end}", if on.is_empty() { "" } else { "," });
    }
    said.push('.');
    for piece in own {
        let mut letters = piece.chars();
        let first = letters.next().map_or(String::new(), |c| c.to_uppercase().to_string());
        said = format!("{said} {first}{}.", letters.as_str().trim_end_matches('.'));
    }
    said
}

/// A weight that is still to come: `From Mon 14 Dec 2026, put only part of your weight on your RIGHT leg.` `before`: what
/// leads up to it.
pub fn later_weight(bearing: &Bearing, before: &[&Bearing]) -> String {
    let words = weight(bearing);
    let mut letters = words.chars();
    let first = letters.next().map_or(String::new(), |c| c.to_lowercase().to_string());
    let words = format!("{first}{}", letters.as_str());
    if let Some(day) = bearing.first_day {
        return format!("From {}, {words}", day.words());
    }
    let ends = || before.iter().map(|b| b.end.as_ref());
    let days: Option<i32> = ends().map(|end| end.and_then(End::days)).sum();
    let lead = match (days, ends().next_back().flatten()) {
        (Some(_), Some(End::Months(n))) if before.len() == 1 => format!("After {n} months"),
        (Some(7), _) => "After 1 week".to_string(),
        (Some(days), _) if days % 7 == 0 => format!("After {} weeks", days / 7),
        (Some(days), _) => format!("After {days} days"),
        (None, Some(End::Review)) => "After your review".to_string(),
        (None, Some(End::Week(n))) => format!("After week {n}"),
        (None, Some(End::Yearless(day))) => format!("After {day}"),
        (None, Some(End::After { weeks, event })) => format!("From {weeks} weeks after {event}"),
        (None, _) => "Then".to_string(),
    };
    format!("{lead}, {words}")
}

/// The end of a limit that has no day, as it was typed.
pub fn until(limit: &Limit) -> Option<String> {
    let end = limit.end.as_ref().filter(|_| limit.last_day.is_none())?;
    Some(format!("This holds {end}."))
}

/// Whether this weight-bearing forbids something.
pub fn restricts(weight: Weight) -> bool {
    weight.is_restricted()
}

/// Where to stop, as the patient can see it, at the instant when `angle` is greatest: the direction of the
/// part against gravity where it is near a plain one, else, lying or sitting, the height of knee or elbow in
/// hands. None where nothing plain can be said.
pub fn landmark(body: &Body, movement: &Movement, angle: Angle) -> Option<String> {
    let side = angle.side?;
    let (segment, part) = match angle.joint {
        Joint::Knee => (Segment::Shank(side), "shin"),
        Joint::Hip => (Segment::Thigh(side), "thigh"),
        Joint::Shoulder => (Segment::UpperArm(side), "upper arm"),
        Joint::Elbow => (Segment::Forearm(side), "forearm"),
        _ => return None,
    };
    let state = greatest(movement, angle)?;
    let placed = body.place(state);
    let along = (placed.far_end(segment) - placed.joint(segment)).unit_or(crate::space::Vec3::Y);
    let from_down = degrees(math::acos(-along.y));
    let stop = format!("Stop when your {} {part}", loud(side));
    let near = |at: f64| (from_down - at).abs() < 12.0;
    if near(0.0) {
        return Some(format!("{stop} points straight down."));
    }
    if near(90.0) {
        return Some(format!("{stop} is level with the floor."));
    }
    if near(180.0) {
        return Some(format!("{stop} points straight up."));
    }
    let end = match angle.joint {
        Joint::Knee => Some((placed.joint(Segment::Shank(side)).y, "knee")),
        Joint::Hip => Some((placed.joint(Segment::Shank(side)).y, "knee")),
        Joint::Shoulder => Some((placed.joint(Segment::Forearm(side)).y, "elbow")),
        _ => None,
    };
    let hand = crate::body::HAND * body.stature();
    let (height, joint) = end?;
    let halves = (2.0 * height / hand).round();
    let (low, high) = ((halves / 2.0).floor(), (halves / 2.0).ceil());
    if low < 1.0 || 4.0 < high {
        return None;
    }
    let count = match (low == high, high == 1.0) {
        (true, true) => "one hand".to_string(),
        (true, false) => format!("{} hands", whole(high)),
        (false, _) => format!("{} to {} hands", whole(low), whole(high)),
    };
    Some(format!("Stop when your {} {joint} is about {count} above the floor.", loud(side)))
}

/// The state of the whole movement in which the angle is greatest.
fn greatest(movement: &Movement, angle: Angle) -> Option<&State> {
    let value = |s: &State| -> f64 {
        if angle.joint == Joint::Shoulder && angle.motion == Motion::Elevation {
            return crate::body::elevation(s, angle.side.unwrap_or(Side::Right));
        }
        crate::body::dof::parts(angle).iter().map(|(d, sign)| s.angle(*d) * sign).sum()
    };
    let keys = movement.keys.iter().map(|k| &k.state);
    let states = keys.chain(movement.ways.iter().flatten());
    let mut best: Option<(f64, &State)> = None;
    for state in states {
        let v = value(state);
        if best.is_none_or(|(b, _)| b < v) {
            best = Some((v, state));
        }
    }
    best.map(|(_, s)| s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Place;

    fn limit(joint: Joint, motion: Motion, low: Option<i16>, high: Option<i16>) -> Limit {
        Limit {
            purpose: Purpose::Limit,
            angle: Angle { side: Some(Side::Right), joint, motion },
            low,
            high,
            end: None,
            last_day: None,
            place: Place { line: 1, start: 0, end: 0 },
        }
    }

    #[test]
    fn limits_read_as_plain_words() {
        let said = |j, m, low, high| forbidden(&limit(j, m, low, high)).join(" ");
        assert_eq!(
            said(Joint::Knee, Motion::Flexion, Some(0), Some(60)),
            "Do not bend your RIGHT knee past 60 degrees."
        );
        assert_eq!(
            said(Joint::Knee, Motion::Flexion, Some(20), Some(90)),
            "Do not bend your RIGHT knee past 90 degrees. Do not fully straighten your RIGHT knee. \
             Keep it bent by 20 degrees."
        );
        assert_eq!(
            said(Joint::Hip, Motion::Adduction, None, Some(0)),
            "Do not take your RIGHT leg across your body at all."
        );
    }
}
