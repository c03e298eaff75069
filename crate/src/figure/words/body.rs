//! What to do between two key poses. A movement of the whole body is told first, and tells the limbs that go with it.

use super::english::{Line, must, useful};
use super::seen::{Posture, Seen, Step, apart, bend_words, is_foot, is_hand, level};
use super::{legs, reach, stay, trunk};
use crate::body::dof::{self, Limb};
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{PropKind, Surface};
use crate::space::Vec3;

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

    fn both_legs(mut self) -> Told {
        self.legs = [true; 2];
        self
    }

    /// The arms whose hands stay on something.
    fn leaning_arms(mut self, step: &Step) -> Told {
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
struct Whole {
    lines: Vec<Line>,
    told: Told,
    back: Option<String>,
}

impl Whole {
    fn find(&mut self, step: &Step) {
        use Posture::*;
        let (from, to) = (step.a.posture, step.b.posture);
        let rise = step.moved_joint(Segment::Pelvis).y;
        match (from, to) {
            (Sitting | LongSitting, Standing) => self.all(step, "stand up", Some("sit down again slowly")),
            (Standing, Sitting) => self.all(step, "sit down slowly", Some("stand up again")),
            (Back | LongSitting | Lying(_), _) if hips_lift(step) => self.bridge(step, 0.0 < rise),
            (Front, Front | Plank | AllFours) => self.prone(step),
            (AllFours, _) => self.on_fours(step),
            _ if from.is_upright() && to.is_upright() => self.upright(step),
            _ => {}
        }
    }

    fn say(&mut self, text: impl Into<String>) {
        self.lines.push(must(text));
    }

    fn all(&mut self, step: &Step, text: &str, back: Option<&str>) {
        self.say(text);
        self.back = back.map(str::to_string);
        self.told = Told { spine: true, head: true, ..self.told }.both_legs().leaning_arms(step);
    }

    fn bridge(&mut self, step: &Step, up: bool) {
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
                self.lines.push(useful("keep your thighs side by side"));
            }
            self.told.legs[s as usize] = goes_along || step.foot_stays(s) || !b.foot_is_free(s);
        }
        self.told = self.told.leaning_arms(step);
        for s in Side::BOTH {
            self.told.arms[s as usize] |= step.a.touches_of(s).any(|t| is_hand(t.part.region) || t.part.region == Region::Forearm);
        }
        self.told.head = true;
    }

    fn prone(&mut self, step: &Step) {
        let (chest, hips) = (step.moved_joint(Segment::Neck).y, step.moved_joint(Segment::Pelvis).y);
        if chest < 0.03 && hips < 0.03 {
            return;
        }
        let hands = Side::BOTH.iter().all(|s| step.b.floor(Region::Palm, Some(*s)) && !step.b.floor(Region::Elbow, Some(*s)));
        let forearms = Side::BOTH.iter().all(|s| step.b.floor(Region::Elbow, Some(*s)));
        let lifted = 0.03 <= hips;
        let knees = Side::BOTH.iter().all(|s| step.b.floor(Region::KneeFront, Some(*s)));
        let on = |arms: &str| format!("lift your body onto your {arms} and {}", if knees { "knees" } else { "toes" });
        match (lifted, hands, forearms) {
            (false, true, _) => self.say("push your chest up with your arms"),
            (false, _, true) => {
                self.say("prop your chest up on both forearms");
                let under = |s: &Side| {
                    let gap = level(step.b.at.joint(Segment::Forearm(*s)) - step.b.at.joint(Segment::UpperArm(*s)));
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
        self.back = Some(if lifted { "lower your body slowly" } else { "lower your chest slowly" }.to_string());
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
                self.say(format!("rest your {this} shoulder{} on the floor", if head { " and your head" } else { "" }));
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
            self.say(if close { "sit back until your bottom is close to your heels" } else { "move your bottom back towards your heels" });
            self.told = Told { spine: true, ..self.told }.both_legs();
            if palms {
                let slides = Side::BOTH.iter().all(|s| 0.03 < step.moved_joint(Segment::Hand(*s)).norm());
                self.lines.push(useful(if slides { "let your hands slide forward on the floor" } else { "keep your hands where they are" }));
                self.told.arms = [true; 2];
                self.told.head = true;
                self.lines.push(useful("let your head and chest sink between your arms"));
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
                self.told = self.told.both_legs().leaning_arms(step);
            }
        }
        for s in Side::BOTH {
            let leans = step.hand_stays(s) && step.b.floor(Region::Palm, Some(s));
            self.told.arms[s as usize] |= leans;
            self.told.legs[s as usize] |= step.b.floor(Region::KneeFront, Some(s));
        }
    }

    fn upright(&mut self, step: &Step) {
        let (a, b) = (&step.a, &step.b);
        let hips = step.moved_joint(Segment::Pelvis);
        let stay = Side::BOTH.iter().all(|s| step.foot_stays(*s));
        if self.heels(step) || self.press(step) {
            return;
        }
        if let Some(s) = stepping(step) {
            self.steps(step, s);
            return;
        }
        let bent = |s: Side| step.change(Limb::KneeFlexion, s);
        if stay && hips.y < 0.01 && Side::BOTH.iter().any(|s| 15.0 < bent(*s)) && a.posture == Posture::Standing {
            self.squat(step);
        } else if stay && 0.025 < hips.y && Side::BOTH.iter().any(|s| bent(*s) < -12.0) {
            self.say("straighten your knees and stand tall");
            self.told = Told { spine: true, ..self.told }.both_legs();
        } else if stay && a.posture == b.posture {
            self.shift(step);
        }
        for s in Side::BOTH {
            // A leg that stands goes with what the body does; so does an arm whose hand keeps its place.
            self.told.legs[s as usize] |= step.foot_stays(s) && !b.foot_is_free(s);
        }
        self.told = self.told.leaning_arms(step);
    }

    /// Up onto the toes, or the heels down.
    fn heels(&mut self, step: &Step) -> bool {
        let (a, b) = (&step.a, &step.b);
        let stands = |s: &&Side| !b.foot_is_free(**s);
        let knees = Side::BOTH.iter().filter(stands).all(|s| step.change(Limb::KneeFlexion, *s).abs() < 12.0);
        let front = |seen: &Seen, s: Side| {
            seen.touches_of(s).any(|t| matches!(t.part.region, Region::Forefoot | Region::Toes))
                || seen.floor(Region::Forefoot, Some(s))
        };
        let rise = |s: Side| step.moved(|p| heel(p, s)).y;
        let stand = Side::BOTH.iter().all(|s| front(a, *s) == front(b, *s) && (front(b, *s) || b.foot_is_free(*s)));
        let up = Side::BOTH.iter().all(|s| 0.012 < rise(*s) || b.foot_is_free(*s));
        let down = Side::BOTH.iter().all(|s| rise(*s) < -0.012 || b.foot_is_free(*s));
        let still = Side::BOTH.iter().filter(stands).all(|s| level(step.moved(|p| p.far_end(Segment::Foot(*s)))).norm() < 0.04);
        if !knees || !stand || !still || !(up || down) || !front(b, step.side) && !front(b, step.side.other()) {
            return false;
        }
        let on = step.b.key.touches.iter().find_map(|t| match t.surface {
            Surface::Prop(k @ (PropKind::Step | PropKind::Stairs)) if is_foot(t.part.region) => Some(k),
            Surface::Tread(_) if is_foot(t.part.region) => Some(PropKind::Stairs),
            _ => None,
        });
        if up {
            let one = Side::BOTH.into_iter().find(|s| b.foot_is_free(s.other()));
            self.say(match one {
                Some(s) => format!("push up onto the ball of your {} foot, heel high", s.word()),
                None => "push up onto the balls of your feet, heels high".to_string(),
            });
            let heels = if one.is_some() { "lower your heel slowly" } else { "lower your heels slowly" };
            self.back = Some(heels.to_string());
        } else {
            self.say(match on {
                Some(k) => format!("lower both heels slowly below the edge of {}", super::english::a(k)),
                None => "lower your heels to the floor".to_string(),
            });
            self.back = Some("push up onto the balls of your feet again".to_string());
        }
        let straight: Vec<Side> = Side::BOTH.into_iter().filter(|s| b.deg(Limb::KneeFlexion, *s) < 15.0).collect();
        match straight.as_slice() {
            [_, _] => self.lines.push(useful("keep your knees straight")),
            [s] if !b.foot_is_free(*s) => self.lines.push(useful(format!("keep your {} knee straight", s.word()))),
            _ => {}
        }
        self.told = Told { spine: true, ..self.told }.both_legs().leaning_arms(step);
        true
    }

    /// Elbows bend or straighten while hands and feet stay: pushing off a table or wall.
    fn press(&mut self, step: &Step) -> bool {
        let planted = |s: Side| step.hand_kept(s).filter(|t| !t.light && !t.holds && !t.slides);
        let bend = |s: Side| step.change(Limb::ElbowFlexion, s);
        let both = Side::BOTH.iter().all(|s| planted(*s).is_some() && step.foot_stays(*s) && 25.0 < bend(*s).abs());
        let Some(touch) = planted(step.side).filter(|_| both) else { return false };
        let on = super::english::surface(touch.surface, None);
        if 0.0 < bend(step.side) {
            self.say(format!("bend both elbows and bring your chest towards {on}"));
            self.back = Some("push back until your elbows are straight".to_string());
        } else {
            self.say("push until both elbows are straight");
        }
        if Side::BOTH.iter().all(|s| step.b.hip_fold(*s) < 20.0 && step.b.deg(Limb::KneeFlexion, *s) < 15.0) {
            self.say("keep your body straight from head to heels");
        }
        self.told = Told { spine: true, head: true, arms: [true; 2], ..self.told }.both_legs();
        true
    }

    /// A foot that takes a new place.
    fn steps(&mut self, step: &Step, s: Side) {
        let (a, b) = (&step.a, &step.b);
        let way = step.moved_joint(Segment::Foot(s));
        let (this, other) = (s.word(), s.other().word());
        let (f, o) = (way.dot(a.ahead()), level(way).dot(a.outward(s)));
        let beside = || {
            let gap = b.at.joint(Segment::Foot(s)) - b.at.joint(Segment::Foot(s.other()));
            level(gap).dot(b.ahead()).abs() < 0.08 * b.h() && gap.y.abs() < 0.03 * b.h()
        };
        let onto = step.begun(Some(s)).iter().find(|t| is_foot(t.part.region)).map(|t| t.surface);
        let on = onto.filter(|t| *t != Surface::Floor).map(|t| super::english::surface(t, None));
        let knee = step.change(Limb::KneeFlexion, s.other());
        match (0.04 < way.y, way.y < -0.04) {
            (true, _) => {
                self.say(format!("push through your {other} foot to stand up{}", on.as_ref().map_or(String::new(), |o| format!(" on {o}"))));
                self.say(format!("bring your {this} foot up{}", if beside() { " beside the other" } else { "" }));
                self.back = Some(format!("lower your {this} foot slowly to the floor"));
            }
            (_, true) => {
                let tip = step.b.touches_of(s).find(|t| is_foot(t.part.region));
                let part = match tip.map(|t| t.part.region) {
                    Some(Region::Heel) => "heel",
                    Some(Region::Forefoot | Region::Toes) => "toes",
                    _ => "foot",
                };
                if 12.0 < knee {
                    self.say(format!("bend your {other} knee slowly"));
                }
                let where_ = if 0.06 < f { " in front" } else if f < -0.06 { " behind you" } else { "" };
                let tap = tip.is_some_and(|t| t.light);
                self.say(if tap {
                    format!("touch the floor{where_} lightly with your {this} {part}")
                } else {
                    format!("lower your {this} {part} to the floor{where_}")
                });
                self.back = Some(format!("push back up with your {other} leg"));
            }
            _ => {
                let text = if f.abs() < o.abs() {
                    if 0.0 < o {
                        format!("step out to the side with your {this} foot")
                    } else {
                        format!("bring your {this} foot in towards the other")
                    }
                } else if beside() {
                    format!("bring your {this} foot beside the other")
                } else {
                    format!("take a step {} with your {this} foot", if 0.0 < f { "forward" } else { "back" })
                };
                self.say(text);
                let still = Side::BOTH.iter().all(|s| 25.0 < a.deg(Limb::KneeFlexion, *s) && 25.0 < b.deg(Limb::KneeFlexion, *s));
                if still {
                    self.lines.push(useful("keep both knees bent"));
                } else if 15.0 < step.change(Limb::KneeFlexion, step.side) && 15.0 < step.change(Limb::KneeFlexion, step.side.other()) {
                    self.say("bend both knees and lower your body");
                } else if let Some(lead) = Side::BOTH.into_iter().find(|s| 25.0 < step.change(Limb::KneeFlexion, *s)) {
                    self.say(format!("bend your {} knee", lead.word()));
                }
                self.back = Some(format!("step back with your {this} foot")).filter(|_| f.abs() < o.abs() || 0.0 < f);
            }
        }
        if 10.0 < apart(a.trunk(), b.trunk()) && a.trunk().dot(a.ahead()) + 0.15 < b.trunk().dot(b.ahead()) {
            self.lines.push(useful("lean your body a little forward"));
        }
        self.told = Told { spine: true, ..self.told }.both_legs().leaning_arms(step);
    }

    fn squat(&mut self, step: &Step) {
        let b = &step.b;
        let bent: Vec<Side> = [step.side, step.side.other()]
            .into_iter()
            .filter(|s| 12.0 < step.change(Limb::KneeFlexion, *s))
            .collect();
        let level_thighs = Side::BOTH.iter().all(|s| b.is_level(Segment::Thigh(*s)));
        let slides = b.key.touches.iter().any(|t| {
            t.surface == Surface::Prop(PropKind::Wall)
                && matches!(t.part.region, Region::UpperBack | Region::WholeBack | Region::LowerBack | Region::Sacrum | Region::Seat)
        });
        let ball = b.key.touches.iter().any(|t| t.part.side.is_none() && t.surface == Surface::Prop(PropKind::Ball));
        let staggered = level(b.at.joint(Segment::Foot(Side::Right)) - b.at.joint(Segment::Foot(Side::Left)));
        let split = 0.12 < staggered.dot(b.ahead()).abs() / b.h();
        let knee = bent.first().map_or(0.0, |s| b.deg(Limb::KneeFlexion, *s));
        let until = if level_thighs {
            " until your thighs are level".to_string()
        } else if 15.0 < knee && bent.len() == 2 && !split {
            format!(" until your knees are {}", bend_words(knee))
        } else {
            String::new()
        };
        let lean = apart(step.a.trunk(), b.trunk());
        let forward = step.a.trunk().dot(step.a.ahead()) < b.trunk().dot(b.ahead());
        match bent.as_slice() {
            _ if slides => self.say(format!("slide your back down the wall{until}")),
            [s] => {
                self.say(format!("bend your {} knee{}", s.word(), if split { " and move your hips forward" } else { " slowly" }));
            }
            _ if split => {
                self.say("bend both knees and lower your body straight down");
                let low = Side::BOTH.into_iter().find(|s| {
                    let gap = b.at.joint(Segment::Shank(*s)).y / b.h();
                    gap < 0.16 && !b.floor(Region::KneeFront, Some(*s))
                });
                if let Some(s) = low {
                    self.say(format!("stop before your {} knee touches the floor", s.word()));
                }
            }
            _ if knee < 40.0 && 25.0 < lean && forward => {
                self.say("bend your knees a little");
                self.say("lean forward from your hips, with your back straight");
                self.back = Some("stand up tall again".to_string());
                self.told = Told { spine: true, ..self.told }.both_legs().leaning_arms(step);
                return;
            }
            _ => {
                self.say(format!("bend your knees and lower your hips{until}"));
            }
        }
        if ball {
            self.lines.push(useful("let the ball roll up your back"));
        } else if !slides && 12.0 < lean && forward {
            self.lines.push(useful("send your hips back and lean your chest forward"));
        } else if (b.trunk().y - 1.0).abs() < 0.03 && !slides {
            self.lines.push(useful("keep your chest upright"));
        }
        self.back = Some(match bent.as_slice() {
            _ if slides => "slide back up slowly".to_string(),
            [s] => format!("straighten your {} knee slowly", s.word()),
            _ => "push through your feet to stand up again".to_string(),
        });
        self.told = Told { spine: true, ..self.told }.both_legs().leaning_arms(step);
    }

    /// The weight goes forward or back, or the trunk leans, over feet or knees that stay.
    fn shift(&mut self, step: &Step) {
        let (a, b) = (&step.a, &step.b);
        let hips = step.moved_joint(Segment::Pelvis).dot(a.ahead());
        let (ta, tb) = (a.trunk(), b.trunk());
        let lean = apart(ta, tb);
        let (f, r) = ((tb - ta).dot(a.ahead()), (tb - ta).dot(a.outward(Side::Right)));
        // Over a hand that leans on something.
        let over = [step.side, step.side.other()].into_iter().find(|s| {
            step.hand_kept(*s).is_some_and(|t| {
                is_hand(t.part.region) && !t.light && !t.holds
                    && !matches!(t.surface, Surface::Body(_) | Surface::Prop(PropKind::Wall))
            }) && 5.0 < -step.change(Limb::WristFlexion, *s)
        });
        if let Some(s) = over {
            self.say(format!("lean your weight slowly over your {} hand", s.word()));
            self.back = Some("rock back slowly".to_string());
        } else if 0.03 < hips && lean < 14.0 {
            if 4.0 < step.spine(dof::LUMBAR_FLEXION) {
                self.say("tuck your tailbone under");
            }
            self.say("move your hips forward");
            let upright = a.posture != Posture::Standing && 0.97 < tb.y;
            if upright {
                self.say("keep your chest upright");
            }
            self.back = Some("move your hips back slowly".to_string());
        } else if hips < -0.03 && lean < 14.0 {
            self.say("move your hips back");
        } else if 10.0 < lean {
            self.say(if f.abs() <= r.abs() {
                format!("lean to the {}", if 0.0 < r { "right" } else { "left" })
            } else if 0.0 < f {
                "lean forward from your hips".to_string()
            } else if 0.97 < tb.y {
                if a.posture == Posture::Standing { "stand up tall" } else { "come up tall" }.to_string()
            } else if b.hip_fold(step.side) < 20.0 && a.posture == Posture::Kneeling {
                "lean back in one straight line from knees to head".to_string()
            } else {
                "lean your body back".to_string()
            });
        } else {
            return;
        }
        self.told.spine = true;
        self.told = self.told.both_legs().leaning_arms(step);
    }
}

fn heel(p: &crate::body::Placed, s: Side) -> Vec3 {
    crate::body::Skin::of(Region::Heel, Some(s)).first().map_or(p.joint(Segment::Foot(s)), |skin| p.skin(*skin))
}

/// Hips that rise or sink between shoulders and feet that keep their places.
fn hips_lift(step: &Step) -> bool {
    let rise = step.moved_joint(Segment::Pelvis).y;
    let chest = step.moved_joint(Segment::Neck).y;
    let feet = Side::BOTH.iter().any(|s| step.foot_stays(*s) && !step.b.foot_is_free(*s));
    let ball = step.b.key.touches.iter().any(|t| is_foot(t.part.region) || t.part.region == Region::Calf);
    0.03 < rise.abs() && chest.abs() < 0.8 * rise.abs() && (feet || ball)
}

/// The foot that leaves its place and takes weight, or touches, at another.
fn stepping(step: &Step) -> Option<Side> {
    [step.side, step.side.other()].into_iter().find(|s| {
        let way = step.moved_joint(Segment::Foot(*s));
        let lands = !step.b.foot_is_free(*s) && !step.a.foot_is_free(*s) || !step.b.foot_is_free(*s) && 0.06 < way.norm();
        let planted = step.foot_stays(s.other());
        let dragged = step.b.touches_of(*s).any(|t| t.slides);
        lands && planted && !dragged && 0.06 < way.norm()
    })
}
