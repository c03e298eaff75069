//! Angles at joints: which joint and motion the words mean, and how far.

use super::Reader;
use super::asks::{
    LEANING_SLIGHTLY, PELVIS, RIGHT_ANGLE, SLIGHTLY_BENT, TOES_OUT, TUCK, number_of, slightly,
};
use super::clause::{Went, sides};
use super::motions::{self, joint_of, motion};
use super::parts::{Given, Part};
use super::vocabulary::Piece;
use super::words::{Cursor, Kind};
use crate::body::names::{Angle, Joint, Motion, Side, Sides, can_move};
use crate::body::range;
use crate::measure::{math, radians};
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::{Ask, Posture};
use crate::text::Place;

impl Reader {
    /// Angles at a joint, one after the other: `flexion 90 abduction 20`.
    pub fn angles(&mut self, c: &mut Cursor, parts: &[Part], start: usize) -> Went {
        let mut any = false;
        loop {
            let from = c.at;
            let slight = slightly(c);
            let _ = c.eat("in");
            let mut amount = number_of(c);
            let _ = c.eat_any(&["of", "in"]);
            let at_motion = c.at;
            let said = motion(c);
            let motion_place = c.place_since(at_motion);
            let mut toward = motions::towards(c);
            let slight = slight || slightly(c);
            if amount.is_none() {
                amount = number_of(c);
            }
            if toward.is_none() {
                toward = motions::towards(c);
            }
            if let (Some(_), "to", Some(more)) = (amount, c.word(0), c.numeral(1)) {
                let place = c.place_since(from);
                c.at += 2;
                self.tell(
                    OfPose::OneNumber,
                    c.place_since(from),
                    Some(Edit {
                        place: c.place_since(from),
                        with: format!("{} {}", phrase_at(c, at_motion, from), crate::measure::shown(more, 1)),
                    }),
                );
                let _ = place;
                amount = Some(more);
            }
            let place = c.place_since(start);
            let said = match said {
                Some(said) => said,
                None if amount.is_some() && !any => {
                    // `knees at 90`: knees and elbows bend one way only.
                    let one_way =
                        parts.iter().all(|p| matches!(p.term.joint, Some(Joint::Knee | Joint::Elbow)));
                    if !one_way {
                        let word = parts.first().map_or("joint", |p| p.term.word());
                        let can = parts.first().and_then(|p| p.term.joint).map(motions::can_do);
                        let at =
                            Place { end: c.tokens.get(from).map_or(place.end, |t| t.place.start), ..place };
                        let at = Place { start: at.end, ..at };
                        let edit = Edit { place: at, with: "flexion ".to_string() };
                        self.tell(OfPose::WhichMotion { word, can }, place, Some(edit));
                        return Went::Told;
                    }
                    motions::Said::Plain(Motion::Flexion)
                }
                None => {
                    c.at = from;
                    return if any { Went::Well } else { Went::Unknown };
                }
            };
            let from_part = |p: &Part| match p.given {
                Given::One(side) => Some(side),
                _ => None,
            };
            for p in parts {
                let toward = toward.or(if p.term.is_paired() { None } else { from_part(p) });
                self.said_angle(p, said, amount, slight, toward, motion_place, place);
            }
            any = true;
            if c.at_boundary() {
                return Went::Well;
            }
        }
    }

    /// One motion of one part.
    #[expect(clippy::too_many_arguments, reason = "each is one word of the clause")]
    pub fn said_angle(
        &mut self,
        p: &Part,
        said: motions::Said,
        amount: Option<f64>,
        slight: bool,
        toward: Option<Side>,
        motion_place: Place,
        place: Place,
    ) {
        use motions::Said::*;
        let both = sides(p);
        let Some(joint) = p.term.joint else {
            self.tell(
                OfPose::NoJoint { word: p.term.word() },
                p.place,
                Some(Edit { place: p.place, with: joint_near(p).to_string() }),
            );
            return;
        };
        let spine = !joint.is_paired();
        let (joint, motion, usual) = match said {
            Plain(Motion::Retraction)
                if matches!(joint, Joint::Neck | Joint::UpperNeck | Joint::LowerNeck) =>
            {
                self.tuck_chin(amount.unwrap_or(TUCK), place);
                return;
            }
            Across { back } if joint == Joint::Shoulder => {
                let Some(amount) = amount else {
                    self.no_degrees("shoulder", "horizontal extension", motion_place, place);
                    return;
                };
                self.across(both, if back { amount } else { -amount }, place);
                return;
            }
            Across { back } => (joint, if back { Motion::Abduction } else { Motion::Adduction }, None),
            Plain(m) => (joint, m, if slight { Some(SLIGHTLY_BENT) } else { None }),
            Bent => {
                let (joint, usual) = match (p.term.piece, joint) {
                    (Piece::Leg, _) => (Joint::Knee, Some(RIGHT_ANGLE)),
                    (Piece::Arm, _) => (Joint::Elbow, Some(RIGHT_ANGLE)),
                    (_, Joint::Knee | Joint::Elbow | Joint::Hip) => (joint, Some(RIGHT_ANGLE)),
                    _ => (joint, None),
                };
                match (spine, toward) {
                    (true, Some(side)) => (joint, Motion::SideBend(side), usual),
                    _ => (joint, Motion::Flexion, if slight { Some(SLIGHTLY_BENT) } else { usual }),
                }
            }
            SideBend(side) | Rotation(side) => {
                let side = side.or(toward);
                match (spine, side) {
                    (true, Some(side)) => {
                        let m = if matches!(said, SideBend(_)) {
                            Motion::SideBend(side)
                        } else {
                            Motion::Rotation(side)
                        };
                        (if p.term.word() == "pelvis" { Joint::LowerBack } else { joint }, m, None)
                    }
                    (true, None) => {
                        self.tell(
                            OfPose::NoDirection { word: p.term.word() },
                            place,
                            Some(Edit {
                                place: Place { start: motion_place.end, end: motion_place.end, ..place },
                                with: " right".to_string(),
                            }),
                        );
                        return;
                    }
                    (false, _) => {
                        let can = motions::can_do(joint);
                        self.tell(
                            OfPose::UnclearMotion { word: p.term.word(), can },
                            motion_place,
                            Some(Edit {
                                place: motion_place,
                                with: first_motion(joint, "external rotation"),
                            }),
                        );
                        return;
                    }
                }
            }
            TurnedOut | TurnedIn => {
                let out = said == TurnedOut;
                if matches!(p.term.piece, Piece::Foot | Piece::Toes) {
                    let degrees = amount.unwrap_or(if slight { LEANING_SLIGHTLY } else { TOES_OUT });
                    self.ask(
                        Ask::ToesOut { sides: both, degrees: if out { degrees } else { -degrees } },
                        place,
                    );
                    return;
                }
                let joint = match joint {
                    Joint::Elbow => Joint::Shoulder,
                    Joint::Knee => Joint::Hip,
                    Joint::Wrist => Joint::Forearm,
                    j => j,
                };
                let m = match (joint, out) {
                    (Joint::Forearm, true) => Motion::Supination,
                    (Joint::Forearm, false) => Motion::Pronation,
                    (_, true) => Motion::ExternalRotation,
                    (_, false) => Motion::InternalRotation,
                };
                (joint, m, None)
            }
            Raised => match joint {
                Joint::Hip | Joint::Knee => {
                    let m = match self.stance().posture {
                        Posture::SideLying(_) => Motion::Abduction,
                        Posture::Prone | Posture::FourPointKneeling => Motion::Extension,
                        _ => Motion::Flexion,
                    };
                    (Joint::Hip, m, None)
                }
                Joint::Neck | Joint::Trunk | Joint::UpperBack => {
                    let m = if self.stance().posture == Posture::Prone {
                        Motion::Extension
                    } else {
                        Motion::Flexion
                    };
                    (joint, m, None)
                }
                Joint::Elbow | Joint::Wrist => (Joint::Shoulder, Motion::Elevation, None),
                _ => (joint, Motion::Elevation, None),
            },
            PelvicTiltBack | PelvicTiltForward => {
                let flexes = match joint {
                    Joint::Neck | Joint::UpperNeck | Joint::LowerNeck | Joint::UpperBack | Joint::Trunk => {
                        said == PelvicTiltForward
                    }
                    _ => said == PelvicTiltBack,
                };
                if joint.is_paired() {
                    self.tell(
                        OfPose::UnclearMotion { word: p.term.word(), can: motions::can_do(joint) },
                        motion_place,
                        Some(Edit { place: motion_place, with: first_motion(joint, "flexion") }),
                    );
                    return;
                }
                (joint, if flexes { Motion::Flexion } else { Motion::Extension }, Some(PELVIS))
            }
        };
        let joint = joint_of(p.term, joint, motion);
        let (joint, motion) = match (joint, motion) {
            // `toes pulled up` moves the ankle.
            (Joint::Toes, Motion::Dorsiflexion | Motion::PlantarFlexion) => (Joint::Ankle, motion),
            (Joint::Wrist, Motion::Dorsiflexion) => (Joint::Wrist, Motion::Extension),
            other => other,
        };
        if !can_move(joint, motion) {
            let (with, place) = better(joint, motion, p, motion_place);
            self.tell(
                OfPose::ImpossibleMotion { joint, motion, can: motions::can_do(joint) },
                motion_place,
                Some(Edit { place, with }),
            );
            return;
        }
        // `knees straight in extension` and `elbow extended`: straight.
        let straight = matches!((joint, motion), (Joint::Knee | Joint::Elbow, Motion::Extension));
        let Some(degrees) = amount.or(usual).or(if straight { Some(0.0) } else { None }) else {
            self.no_degrees(joint.word(), motion.words(), motion_place, place);
            return;
        };
        self.angle_ask(both, joint, motion, degrees, place);
    }

    fn no_degrees(&mut self, joint: &str, motion: &str, motion_place: Place, place: Place) {
        let end = Place { start: motion_place.end, end: motion_place.end, ..place };
        self.tell(
            OfPose::NoDegrees { joint: joint.to_string(), motion: motion.to_string() },
            place,
            Some(Edit { place: end, with: " 30".to_string() }),
        );
    }

    /// Turns the plane of a raised arm `degrees` behind the frontal one. The arm is as high as the pose says,
    /// or else level: horizontal motion is counted from abduction, as is common practice (no source).
    fn across(&mut self, sides: Sides, degrees: f64, place: Place) {
        let raised = |a: &Ask| match a {
            Ask::Angle { sides: s, joint: Joint::Shoulder, motion, degrees } if *s == sides => {
                matches!(motion, Motion::Abduction | Motion::Flexion | Motion::Elevation).then_some(*degrees)
            }
            _ => None,
        };
        let height = self.pose.asks.iter().find_map(|a| raised(&a.what)).unwrap_or(RIGHT_ANGLE);
        self.pose.asks.retain(|a| raised(&a.what).is_none());
        let turned = radians(degrees);
        let whole = |x: f64| (x * 10.0).round() / 10.0;
        let abduction = whole(height * math::cos(turned));
        let flexion = whole(-height * math::sin(turned));
        self.angle_ask(sides, Joint::Shoulder, Motion::Abduction, abduction, place);
        let (motion, amount) =
            if flexion < 0.0 { (Motion::Extension, -flexion) } else { (Motion::Flexion, flexion) };
        self.angle_ask(sides, Joint::Shoulder, motion, amount, place);
    }

    pub fn angle_ask(&mut self, sides: Sides, joint: Joint, motion: Motion, degrees: f64, place: Place) {
        let side = sides.each().next().filter(|_| joint.is_paired());
        let (named, amount) = match motion.opposite() {
            Some(other) if degrees < 0.0 && can_move(joint, other) => (other, -degrees),
            _ => (motion, degrees),
        };
        let most = range::highest(Angle { side, joint, motion: named }).unwrap_or(0.0);
        let mut degrees = degrees;
        if most + 0.5 < amount || amount < -180.0 {
            let shown = crate::measure::shown(most, 0);
            let edit = Edit { place, with: Angle { side, joint, motion: named }.name() + " " + &shown };
            let asked = crate::measure::shown(amount, 1);
            self.tell(OfPose::BeyondRange { joint, motion: named, most: shown, asked }, place, Some(edit));
            degrees = if named == motion { most } else { -most };
        }
        let sides = if joint.is_paired() { sides } else { Sides::Both };
        self.ask(Ask::Angle { sides, joint, motion, degrees }, place);
    }
}

fn phrase_at(c: &Cursor, motion: usize, from: usize) -> String {
    let words: Vec<&str> = c
        .tokens
        .get(from.max(motion.min(c.at))..c.at)
        .unwrap_or(&[])
        .iter()
        .filter_map(|t| match &t.kind {
            Kind::Word(w) if w != "to" && w != "until" => Some(w.as_str()),
            _ => None,
        })
        .collect();
    words.join(" ")
}

fn joint_near(p: &Part) -> &'static str {
    match p.term.piece {
        Piece::Head => "neck",
        Piece::Pelvis => "hip",
        Piece::Thigh => "hip",
        Piece::Shank => "knee",
        Piece::Foot => "ankle",
        Piece::Hand => "wrist",
        Piece::UpperArm | Piece::Girdle => "shoulder",
        _ => "trunk",
    }
}

fn first_motion(joint: Joint, wish: &'static str) -> String {
    let can = motions::can_do(joint);
    if can.contains(wish) {
        wish.to_string()
    } else {
        can.split([',', ' ']).next().unwrap_or("flexion").to_string()
    }
}

/// What was probably meant by a motion that the joint can't make: the neighbour joint that can, or the
/// joint's first motion.
fn better(joint: Joint, motion: Motion, p: &Part, motion_place: Place) -> (String, Place) {
    let neighbours: &[Joint] = match joint {
        Joint::Knee | Joint::Ankle | Joint::Toes => &[Joint::Hip, Joint::Ankle],
        Joint::Elbow | Joint::Wrist | Joint::Forearm | Joint::ShoulderBlade => {
            &[Joint::Shoulder, Joint::Forearm, Joint::Wrist]
        }
        Joint::Hip => &[Joint::Ankle],
        Joint::Shoulder => &[Joint::ShoulderBlade, Joint::Forearm],
        _ => &[],
    };
    if joint == Joint::Ankle && matches!(motion, Motion::Flexion | Motion::Extension) {
        return ("dorsiflexion".to_string(), motion_place);
    }
    match neighbours.iter().find(|j| can_move(**j, motion)) {
        Some(other) => {
            let side = match p.given {
                Given::One(s) => format!("{} {}", s.word(), other.word()),
                Given::Both => format!("{}s", other.word()),
                Given::Unsaid => other.word().to_string(),
            };
            (side, p.place)
        }
        None => (first_motion(joint, "flexion"), motion_place),
    }
}
