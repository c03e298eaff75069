//! What trunk and head do by themselves.

use super::body::Told;
use super::english::{Line, must, useful};
use super::seen::{Posture, Step, apart};
use crate::body::dof;
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{Effort, PropKind, Surface};

fn toward(v: f64) -> &'static str {
    if 0.0 < v { "right" } else { "left" }
}

pub(super) fn moved(step: &Step, told: &Told) -> Vec<Line> {
    let mut out = Vec::new();
    if told.spine {
        return out;
    }
    let (a, b) = (&step.a, &step.b);
    let bend = step.spine(dof::LUMBAR_BEND) + step.spine(dof::THORAX_BEND);
    let turn = step.spine(dof::LUMBAR_TURN) + step.spine(dof::THORAX_TURN);
    let flex = step.spine(dof::LUMBAR_FLEXION) + step.spine(dof::THORAX_FLEXION);
    let tilt = step.spine(dof::LUMBAR_FLEXION);
    let seated = matches!(a.posture, Posture::Sitting | Posture::LongSitting) && a.posture == b.posture;
    let (ta, tb) = (a.trunk(), b.trunk());
    let mut leaned = false;
    if 14.0 < turn.abs() {
        out.push(must(format!("turn your chest to the {}", toward(turn))));
        leaned = true;
    }
    if 14.0 < bend.abs() && !leaned {
        out.push(must(format!("bend your body to the {}", toward(bend))));
        leaned = true;
    }
    if seated && 10.0 < apart(ta, tb) && !leaned {
        let (f, r) = ((tb - ta).dot(a.ahead()), (tb - ta).dot(a.outward(Side::Right)));
        leaned = true;
        out.push(must(if f.abs() <= r.abs() {
            format!("lean to the {}", toward(r))
        } else if 0.0 < f && 0.97 < tb.y {
            "come forward until you sit up tall".to_string()
        } else if 0.0 < f {
            "lean forward from your hips".to_string()
        } else if 0.97 < tb.y {
            "sit up tall".to_string()
        } else {
            "lean back slowly".to_string()
        }));
        let far = tb.dot(b.ahead());
        if 0.5 < far && f.abs() > r.abs() && 0.0 < f && a.posture == Posture::Sitting {
            out.push(useful("bring your nose over your toes"));
        }
    }
    let roll = b.touch(Region::UpperBack).is_some_and(|t| {
        matches!(t.surface, Surface::Prop(PropKind::Roller | PropKind::Ball | PropKind::Towel))
    });
    if 12.0 < flex.abs() && !(leaned && seated) {
        let flat_lower = a.posture == Posture::Back && 0.0 < tilt && step.moved_joint(Segment::Neck).y < 0.03;
        let head_up = step.moved_joint(Segment::Head).y;
        out.push(must(if roll && flex < 0.0 {
            let Some(Surface::Prop(k)) = b.touch(Region::UpperBack).map(|t| t.surface) else { return out };
            format!("let your upper back bend back over {}", super::english::a(k))
        } else if flat_lower {
            "tilt your hips until your lower back is flat".to_string()
        } else if a.posture == Posture::Back && 0.0 < flex && 0.02 < head_up {
            "curl your head and shoulders up off the floor".to_string()
        } else if 0.0 < flex && 0.8 * flex < tilt {
            "round your lower back".to_string()
        } else if 0.0 < flex {
            "round your back".to_string()
        } else {
            "arch your back gently".to_string()
        }));
    } else if 4.0 < tilt.abs() && !leaned && a.posture != Posture::Standing {
        out.push(must(if 0.0 < tilt {
            "tilt your hips until your lower back is flat"
        } else {
            "tilt your hips until your lower back is a little hollow"
        }));
    }
    out
}

pub(super) fn head(step: &Step, told: &Told) -> Vec<Line> {
    let mut out = Vec::new();
    let (a, b) = (&step.a, &step.b);
    let (lower, upper) = (step.spine(dof::NECK_FLEXION), step.spine(dof::HEAD_FLEXION));
    let turned = apart(a.at.turn(Segment::Head).x, b.at.turn(Segment::Head).x);
    // A head that curls up with the shoulders is told with them.
    let curls = a.posture == Posture::Back && 0.02 < step.moved_joint(Segment::Neck).y;
    if told.head || hands_carry(step) || curls {
        return out;
    }
    let off = |r: Region| a.floor(r, None) && !b.floor(r, None);
    if a.posture.is_lying()
        && (off(Region::BackOfHead) || off(Region::Forehead))
        && 0.01 < step.moved_joint(Segment::Head).y
    {
        out.push(must("lift your head off the floor"));
        return out;
    }
    let rests = a.floor(Region::BackOfHead, None) && b.floor(Region::BackOfHead, None);
    if lower < -4.0 && 4.0 < upper {
        out.push(must("draw your chin straight back"));
        out.push(useful("keep your eyes level"));
    } else if 4.0 < lower && upper < -4.0 {
        out.push(must("slide your chin straight forward"));
    } else if 12.0 < (lower + upper).abs() && 12.0 < turned && !rests {
        out.push(must(if 0.0 < lower + upper { "bend your head forward" } else { "tip your head back" }));
    }
    let turn = step.spine(dof::NECK_TURN);
    if 8.0 < turn.abs() {
        let way = toward(turn);
        out.push(must(format!("turn your head to the {way}")));
        if 45.0 < b.key.state.angle(dof::NECK_TURN).abs().to_degrees() {
            out.push(useful(format!("look over your {way} shoulder")));
        }
    }
    let bend = step.spine(dof::NECK_BEND);
    if 8.0 < bend.abs() {
        out.push(must(format!("tilt your head to the {}", toward(bend))));
        if 25.0 < bend.abs() {
            out.push(useful(format!("bring your {0} ear towards your {0} shoulder", toward(bend))));
        }
    }
    out
}

/// A head that both hands hold goes where they go.
fn hands_carry(step: &Step) -> bool {
    let held = |s: Side| {
        step.b.touches_of(s).any(|t| matches!(t.surface, Surface::Body(p) if p.region == Region::BackOfHead))
    };
    held(Side::Right) && held(Side::Left)
}

/// Whether an effort pushes this part into what it touches, so that the touching itself need not be told.
pub(super) fn is_pushed(step: &Step, region: Region) -> bool {
    step.b.key.efforts.iter().any(|e| matches!(e, Effort::Push { part, .. } if part.region == region))
}
