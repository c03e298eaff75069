//! Where to stop, for each limit of the patient that was reached.

use super::english::{Line, merged, must};
use super::seen::Seen;
use crate::body::dof;
use crate::body::names::{Angle, Joint, Motion, Segment, Side};
use crate::figure::{Look, Reader};
use crate::measure::degrees;
use crate::pose::movement::Movement;

pub(super) fn stops(movement: &Movement, first: &Seen, last: &Seen, look: &Look) -> Vec<Line> {
    if look.reader == Reader::Clinician {
        let told = |(angle, limit): &(Angle, f64)| {
            must(format!("limit: {} {} degrees", angle.name(), crate::measure::shown(*limit, 0)))
        };
        return movement.held.iter().map(told).collect();
    }
    let of = |side: Option<Side>| -> Vec<Line> {
        let held = movement.held.iter().filter(|(a, _)| a.side == side && moves(*a, first, last));
        held.map(|(angle, _)| must(stop(*angle, last))).collect()
    };
    let mut out = merged(movement.side, |s| of(Some(s)));
    out.append(&mut of(None));
    out
}

/// Whether the joint moves at all; a limit that the position itself keeps is no place to stop.
fn moves(angle: Angle, first: &Seen, last: &Seen) -> bool {
    let value = |seen: &Seen| -> f64 {
        let elevation =
            angle.joint == Joint::Shoulder && matches!(angle.motion, Motion::Elevation | Motion::Flexion);
        match angle.side {
            Some(side) if elevation => seen.raised(side),
            _ => dof::parts(angle).iter().map(|(d, share)| share * degrees(seen.key.state.angle(*d))).sum(),
        }
    };
    5.0 < (value(last) - value(first)).abs()
}

/// A landmark where the limb points level or straight up or down, else no further than it went.
fn stop(angle: Angle, last: &Seen) -> String {
    let side = angle.side.unwrap_or(Side::Right);
    let (part, segment) = match angle.joint {
        Joint::Knee => ("shin", Segment::Shank(side)),
        Joint::Hip => ("thigh", Segment::Thigh(side)),
        Joint::Shoulder => ("upper arm", Segment::UpperArm(side)),
        Joint::Elbow => ("forearm", Segment::Forearm(side)),
        _ => ("", Segment::Pelvis),
    };
    let up = last.way(segment).y;
    // Within 12 degrees of level or upright an eye takes it as such (common practice, no source).
    if !part.is_empty() && up.abs() < 0.21 {
        return format!("stop when <{part}> (is|are) level");
    }
    if !part.is_empty() && 0.978 < up.abs() {
        return format!(
            "stop when <{part}> (points|point) straight {}",
            if up < 0.0 { "down" } else { "up" }
        );
    }
    let joint = angle.joint.word();
    let whose = if angle.side.is_some() { format!("<{joint}>") } else { format!("your {joint}") };
    match angle.motion {
        Motion::Flexion | Motion::Dorsiflexion => format!("do not bend {whose} further than that"),
        Motion::Extension => format!("do not straighten {whose} further than that"),
        Motion::Abduction => format!("do not take {whose} further out than that"),
        Motion::Elevation => format!("do not lift {whose} higher than that"),
        Motion::ExternalRotation | Motion::InternalRotation | Motion::Rotation(_) => {
            format!("do not turn {whose} further than that")
        }
        _ => format!("do not move {whose} further than that"),
    }
}
