//! What to do between two key poses. A movement of the whole body is told first, and tells the limbs that go with it.

use super::english::{Line, detail, must, useful};
use super::seen::{Posture, Seen, Step, apart, is_foot, is_hand, level};
use super::{legs, reach, stay, trunk};
use crate::body::dof::{self, Limb};
use crate::body::names::{Region, Segment, Side};

/// The sentences of a step, and its way back where that has a plain name.
#[derive(Default)]
pub(super) struct Done {
    pub lines: Vec<Line>,
    pub back: Option<String>,
}

/// What a movement of the whole body has told already.
#[derive(Clone, Copy, Default)]
pub(super) struct Told {
    pub legs: [bool; 2],
    pub arms: [bool; 2],
    pub spine: bool,
    pub head: bool,
}

impl Told {
    pub fn leg(&self, s: Side) -> bool {
        self.legs[s as usize]
    }

    pub fn arm(&self, s: Side) -> bool {
        self.arms[s as usize]
    }

    pub fn both_legs(mut self) -> Told {
        self.legs = [true; 2];
        self
    }

    /// The arms whose hands stay on something.
    pub fn leaning_arms(mut self, step: &Step) -> Told {
        for s in Side::BOTH {
            let rests = step.hand_kept(s).is_some_and(|t| !t.slides) || super::arms::crossed(&step.b);
            self.arms[s as usize] |= rests;
        }
        self
    }
}

pub(super) fn done(step: &Step) -> Done {
    let mut whole = Whole::default();
    whole.find(step);
    let Whole { mut lines, told, back } = whole;
    let main = !lines.is_empty();
    let mut moves = legs::moved(step, &told);
    moves.append(&mut trunk::moved(step, &told));
    moves.append(&mut reach::moved(step, &told));
    moves.append(&mut trunk::head(step, &told));
    lines.append(&mut moves);
    let efforts = stay::efforts_of(step);
    // What is tightened is tightened before a part is lifted; what is pushed comes with it.
    let mut out = efforts.before;
    out.append(&mut lines);
    out.extend(efforts.with);
    out.append(&mut stay::kept(step, &told));
    out.extend(efforts.after);
    if out.is_empty() {
        out.push(must(small(step)));
    }
    Done { lines: out, back: back.filter(|_| main) }
}

/// Less than the words can tell apart: where it is.
fn small(step: &Step) -> String {
    match step.b.key.works.first() {
        Some(w) => format!("move just a little, so that you feel {} work", stay::worked(*w)),
        None => "move just a little".to_string(),
    }
}

#[derive(Default)]
pub(super) struct Whole {
    pub lines: Vec<Line>,
    pub told: Told,
    pub back: Option<String>,
}

impl Whole {
    fn find(&mut self, step: &Step) {
        use Posture::*;
        let (from, to) = (step.a.posture, step.b.posture);
        let rise = step.moved_joint(Segment::Pelvis).y;
        match (from, to) {
            (Sitting | LongSitting, Standing) => self.all(step, "stand up", Some("sit down again slowly")),
            (Standing, Sitting) => self.all(step, "sit down slowly", Some("stand up again")),
            (Back | LongSitting | Lying(_), _) if hips_lift(step) => self.hips(step, 0.0 < rise),
            (Front, Front | Plank | AllFours) => self.prone(step),
            (AllFours, _) => self.on_fours(step),
            _ if from.is_upright() && to.is_upright() => self.upright(step),
            _ => {}
        }
    }

    pub fn say(&mut self, text: impl Into<String>) {
        self.lines.push(must(text));
    }

    fn all(&mut self, step: &Step, text: &str, back: Option<&str>) {
        self.say(text);
        self.back = back.map(str::to_string);
        self.told = Told { spine: true, head: true, ..self.told }.both_legs().leaning_arms(step);
    }

    fn hips(&mut self, step: &Step, up: bool) {
        let b = &step.b;
        if !up {
            self.say("lower your hips");
        } else {
            let carrying = |s: &Side| !b.foot_is_free(*s);
            let legs: Vec<Side> = Side::BOTH.into_iter().filter(carrying).collect();
            let straight = !legs.is_empty() && legs.iter().all(|s| b.hip_fold(*s) < 22.0);
            let bent = legs.iter().any(|s| 25.0 < b.deg(Limb::KneeFlexion, *s));
            let flat = b.trunk().y.abs() < 0.2 && legs.iter().all(|s| b.is_level(Segment::Thigh(*s)));
            let side = matches!(step.a.posture, Posture::Lying(_));
            self.say(match (straight, bent) {
                (true, true) if !side => format!(
                    "lift your hips until your body is {} from shoulders to {}",
                    if flat { "level" } else { "straight" },
                    match legs.as_slice() {
                        [s] => format!("your {} knee", s.word()),
                        _ => "knees".to_string(),
                    }
                ),
                (true, _) => "lift your hips until your body is straight from head to heels".to_string(),
                _ => "lift your hips".to_string(),
            });
        }
        self.back = Some(if up { "lower your hips slowly" } else { "lift your hips again" }.to_string());
        self.told.spine = true;
        for s in Side::BOTH {
            let with = |p: &Seen| apart(p.way(Segment::Thigh(s)), p.way(Segment::Thigh(s.other()))) < 20.0;
            let goes_along = b.foot_is_free(s) && with(&step.a) && with(b);
            if goes_along {
                self.lines.push(detail("keep your thighs side by side"));
            }
            self.told.legs[s as usize] = goes_along || step.foot_stays(s) || !b.foot_is_free(s);
        }
        self.told = self.told.leaning_arms(step);
        for s in Side::BOTH {
            self.told.arms[s as usize] |=
                step.a.touches_of(s).any(|t| is_hand(t.part.region) || t.part.region == Region::Forearm);
        }
        self.told.head = true;
    }

    fn prone(&mut self, step: &Step) {
        let (chest, hips) = (step.moved_joint(Segment::Neck).y, step.moved_joint(Segment::Pelvis).y);
        if chest < 0.03 && hips < 0.03 {
            return;
        }
        let hands = Side::BOTH
            .iter()
            .all(|s| step.b.floor(Region::Palm, Some(*s)) && !step.b.floor(Region::Elbow, Some(*s)));
        let forearms = Side::BOTH.iter().all(|s| step.b.floor(Region::Elbow, Some(*s)));
        let lifted = 0.03 <= hips;
        let knees = Side::BOTH.iter().all(|s| step.b.floor(Region::KneeFront, Some(*s)));
        let on = |arms: &str| {
            format!("lift your body onto your {arms} and {}", if knees { "knees" } else { "toes" })
        };
        match (lifted, hands, forearms) {
            (false, true, _) => self.say("push your chest up with your arms"),
            (false, _, true) => {
                self.say("prop your chest up on both forearms");
                let under = |s: &Side| {
                    let gap =
                        level(step.b.at.joint(Segment::Forearm(*s)) - step.b.at.joint(Segment::UpperArm(*s)));
                    gap.norm() < 0.06 * step.b.h()
                };
                if Side::BOTH.iter().all(under) {
                    self.say("put your elbows under your shoulders");
                }
            }
            (false, ..) => self.say("lift your head and chest off the floor"),
            (true, true, _) => self.say(on("hands")),
            (true, _, true) => self.say(on("forearms")),
            _ => self.say("lift your body off the floor"),
        }
        let bent = step.b.deg(Limb::ElbowFlexion, step.side);
        if !lifted && hands && bent < 100.0 {
            let text = if bent < 15.0 {
                "straighten both elbows".to_string()
            } else if bent < 40.0 {
                "stop when both elbows are nearly straight".to_string()
            } else {
                "keep both elbows half bent".to_string()
            };
            self.lines.push(useful(text));
        }
        self.back =
            Some(if lifted { "lower your body slowly" } else { "lower your chest slowly" }.to_string());
        let arms = hands || forearms;
        self.told = Told { spine: true, head: true, arms: [arms; 2], ..self.told };
        if lifted {
            self.told = self.told.both_legs();
        }
    }

    fn on_fours(&mut self, step: &Step) {
        let a = &step.a;
        let hips = step.moved_joint(Segment::Pelvis);
        let along = hips.dot(a.ahead());
        // An arm that goes below the chest until its shoulder rests.
        for s in [step.side, step.side.other()] {
            let rests = step.begun(Some(s)).iter().any(|t| t.part.region == Region::ShoulderSide);
            if rests {
                let (this, other) = (s.word(), s.other().word());
                self.say(format!("slide your {this} arm under your chest, to the {other}"));
                if 20.0 < step.change(Limb::ElbowFlexion, s.other()) {
                    self.lines.push(useful(format!("bend your {other} elbow as you go down")));
                }
                let head = step.begun(Some(s)).iter().any(|t| t.part.region == Region::SideOfHead);
                self.say(format!(
                    "rest your {this} shoulder{} on the floor",
                    if head { " and your head" } else { "" }
                ));
                self.told = Told { spine: true, head: true, arms: [true; 2], ..self.told }.both_legs();
                self.back = Some("slide your arm back the same way".to_string());
                return;
            }
        }
        let palms = Side::BOTH.iter().all(|s| step.b.floor(Region::Palm, Some(*s)));
        if along < -0.06 {
            let close = Side::BOTH.iter().all(|s| {
                let gap = step.b.at.joint(Segment::Foot(*s)) - step.b.at.joint(Segment::Pelvis);
                gap.norm() < 0.22 * step.b.h()
            });
            self.say(if close {
                "sit back until your bottom is close to your heels"
            } else {
                "move your bottom back towards your heels"
            });
            self.told = Told { spine: true, ..self.told }.both_legs();
            if palms {
                let slides = Side::BOTH.iter().all(|s| 0.03 < step.moved_joint(Segment::Hand(*s)).norm());
                self.lines.push(useful(if slides {
                    "let your hands slide forward on the floor"
                } else {
                    "keep your hands where they are"
                }));
                self.told.arms = [true; 2];
                self.told.head = true;
                self.lines.push(useful("let your head and chest sink between your arms"));
            }
            if !palms && Side::BOTH.iter().all(|s| step.b.floor(Region::Elbow, Some(*s))) {
                self.lines.push(useful("keep your forearms on the floor"));
                self.told.arms = [true; 2];
                self.told.head = true;
            }
            self.back = Some("come back up slowly".to_string());
        } else if 0.06 < along {
            self.say("move your body forward over your hands");
            self.told = Told { spine: true, ..self.told }.both_legs().leaning_arms(step);
        } else {
            let flex = step.spine(dof::LUMBAR_FLEXION) + step.spine(dof::THORAX_FLEXION);
            if 12.0 < flex.abs() {
                let head = step.spine(dof::NECK_FLEXION) + step.spine(dof::HEAD_FLEXION);
                let (text, head_text) = if 0.0 < flex {
                    ("round your back up towards the ceiling", "let your head hang down")
                } else {
                    ("let your belly sink and your back go hollow", "lift your head")
                };
                self.say(text);
                if 8.0 < head.abs() && (0.0 < head) == (0.0 < flex) {
                    self.lines.push(useful(head_text));
                    self.told.head = true;
                }
                self.told.spine = true;
                self.told = self.told.leaning_arms(step);
            }
        }
        for s in Side::BOTH {
            let leans = step.hand_stays(s) && step.b.floor(Region::Palm, Some(s));
            self.told.arms[s as usize] |= leans;
            self.told.legs[s as usize] |= step.b.floor(Region::KneeFront, Some(s));
        }
    }
}

/// Hips that rise or sink between shoulders and feet that keep their places.
fn hips_lift(step: &Step) -> bool {
    let rise = step.moved_joint(Segment::Pelvis).y;
    let chest = step.moved_joint(Segment::Neck).y;
    let feet = Side::BOTH.iter().any(|s| step.foot_stays(*s) && !step.b.foot_is_free(*s));
    let ball = step.b.key.touches.iter().any(|t| is_foot(t.part.region) || t.part.region == Region::Calf);
    0.03 < rise.abs() && chest.abs() < 0.8 * rise.abs() && (feet || ball)
}
