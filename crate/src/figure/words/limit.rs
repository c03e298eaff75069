//! Where to stop, for each limit of the patient that was reached.

use super::english::{Line, must};
use super::seen::Seen;
use crate::body::names::{Joint, Motion, Segment, Side};
use crate::figure::{Look, Reader};
use crate::pose::movement::Movement;

pub(super) fn stops(movement: &Movement, last: &Seen, look: &Look) -> Vec<Line> {
    movement
        .held
        .iter()
        .map(|(angle, limit)| {
            if look.reader == Reader::Clinician {
                return must(format!("limit: {} {} degrees", angle.name(), crate::measure::shown(*limit, 0)));
            }
            let side = angle.side.unwrap_or(Side::Right);
            let (part, segment) = match angle.joint {
                Joint::Knee => ("shin", Segment::Shank(side)),
                Joint::Hip => ("thigh", Segment::Thigh(side)),
                Joint::Shoulder => ("upper arm", Segment::UpperArm(side)),
                Joint::Elbow => ("forearm", Segment::Forearm(side)),
                _ => ("", Segment::Pelvis),
            };
            let s = side.word();
            let up = last.way(segment).y;
            // Within 12 degrees of level or upright an eye takes it as such (common practice, no source).
            if !part.is_empty() && up.abs() < 0.21 {
                return must(format!("stop when your {s} {part} is level"));
            }
            if !part.is_empty() && 0.978 < up.abs() {
                return must(format!("stop when your {s} {part} points straight {}", if up < 0.0 { "down" } else { "up" }));
            }
            let joint = angle.joint.word();
            let whose = if angle.side.is_some() { format!("your {s} {joint}") } else { format!("your {joint}") };
            must(match angle.motion {
                Motion::Flexion | Motion::Dorsiflexion => format!("do not bend {whose} further than that"),
                Motion::Extension => format!("do not straighten {whose} further than that"),
                Motion::Abduction => format!("do not take {whose} further out than that"),
                Motion::Elevation => format!("do not lift {whose} higher than that"),
                Motion::ExternalRotation | Motion::InternalRotation | Motion::Rotation(_) => {
                    format!("do not turn {whose} further than that")
                }
                _ => format!("do not move {whose} further than that"),
            })
        })
        .collect()
}
