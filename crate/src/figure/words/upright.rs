//! What the body does over feet or knees that carry it: rising, sinking, stepping, leaning, pressing.

use super::body::{Told, Whole};
use super::english::useful;
use super::seen::{Posture, Seen, Step, apart, bend_words, is_foot, is_hand, level};
use crate::body::dof::{self, Limb};
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{PropKind, Surface};
use crate::space::Vec3;

impl Whole {
    pub fn upright(&mut self, step: &Step) {
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
        if stay
            && hips.y < 0.01
            && Side::BOTH.iter().any(|s| 15.0 < bent(*s))
            && a.posture == Posture::Standing
        {
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
        let stand =
            Side::BOTH.iter().all(|s| front(a, *s) == front(b, *s) && (front(b, *s) || b.foot_is_free(*s)));
        let up = Side::BOTH.iter().all(|s| 0.012 < rise(*s) || b.foot_is_free(*s));
        let down = Side::BOTH.iter().all(|s| rise(*s) < -0.012 || b.foot_is_free(*s));
        let still = Side::BOTH
            .iter()
            .filter(stands)
            .all(|s| level(step.moved(|p| p.far_end(Segment::Foot(*s)))).norm() < 0.04);
        if !knees || !stand || !still || !(up || down) || !front(b, step.side) && !front(b, step.side.other())
        {
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
        let straight: Vec<Side> =
            Side::BOTH.into_iter().filter(|s| b.deg(Limb::KneeFlexion, *s) < 15.0).collect();
        match straight.as_slice() {
            [_, _] => self.lines.push(useful("keep your knees straight")),
            [s] if !b.foot_is_free(*s) => {
                self.lines.push(useful(format!("keep your {} knee straight", s.word())))
            }
            _ => {}
        }
        self.told = Told { spine: true, ..self.told }.both_legs().leaning_arms(step);
        true
    }

    /// Elbows bend or straighten while hands and feet stay: pushing off a table or wall.
    fn press(&mut self, step: &Step) -> bool {
        let planted = |s: Side| step.hand_kept(s).filter(|t| !t.light && !t.holds && !t.slides);
        let bend = |s: Side| step.change(Limb::ElbowFlexion, s);
        let both =
            Side::BOTH.iter().all(|s| planted(*s).is_some() && step.foot_stays(*s) && 25.0 < bend(*s).abs());
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
            // Only the foot goes up; the body stays where it is.
            (true, _) if step.moved_joint(Segment::Pelvis).y < 0.04 => {
                let on = on.as_ref().map_or(String::new(), |o| format!(" on {o}"));
                self.say(format!("put your {this} foot up{on}"));
                self.back = Some(format!("bring your {this} foot down again"));
            }
            (true, _) => {
                self.say(format!(
                    "push through your {other} foot to stand up{}",
                    on.as_ref().map_or(String::new(), |o| format!(" on {o}"))
                ));
                self.say(format!(
                    "bring your {this} foot up{}",
                    if beside() { " beside the other" } else { "" }
                ));
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
                let where_ = if 0.06 < f {
                    " in front"
                } else if f < -0.06 {
                    " behind you"
                } else {
                    ""
                };
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
                let still = Side::BOTH
                    .iter()
                    .all(|s| 25.0 < a.deg(Limb::KneeFlexion, *s) && 25.0 < b.deg(Limb::KneeFlexion, *s));
                if still {
                    self.lines.push(useful("keep both knees bent"));
                } else if 15.0 < step.change(Limb::KneeFlexion, step.side)
                    && 15.0 < step.change(Limb::KneeFlexion, step.side.other())
                {
                    self.say("bend both knees and lower your body");
                } else if let Some(lead) =
                    Side::BOTH.into_iter().find(|s| 25.0 < step.change(Limb::KneeFlexion, *s))
                {
                    self.say(format!("bend your {} knee", lead.word()));
                }
                self.back =
                    Some(format!("step back with your {this} foot")).filter(|_| f.abs() < o.abs() || 0.0 < f);
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
                && matches!(
                    t.part.region,
                    Region::UpperBack | Region::WholeBack | Region::LowerBack | Region::Sacrum | Region::Seat
                )
        });
        let ball =
            b.key.touches.iter().any(|t| t.part.side.is_none() && t.surface == Surface::Prop(PropKind::Ball));
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
                self.say(format!(
                    "bend your {} knee{}",
                    s.word(),
                    if split { " and move your hips forward" } else { " slowly" }
                ));
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
        } else if !slides && 12.0 < lean && forward && bent.len() == 1 {
            self.lines.push(useful("lean your body a little forward"));
        } else if !slides && 12.0 < lean && forward {
            self.lines.push(useful("send your hips back and lean your chest forward"));
        } else if (b.trunk().y - 1.0).abs() < 0.03 && !slides {
            self.lines.push(useful("keep your chest up"));
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
                is_hand(t.part.region)
                    && !t.light
                    && !t.holds
                    && !matches!(t.surface, Surface::Body(_) | Surface::Prop(PropKind::Wall))
            }) && 5.0 < -step.change(Limb::WristFlexion, *s)
        });
        let over = over.filter(|_| a.posture == Posture::Standing);
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
                self.say("keep your chest up");
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
    crate::body::Skin::of(Region::Heel, Some(s))
        .first()
        .map_or(p.joint(Segment::Foot(s)), |skin| p.skin(*skin))
}

/// The foot that leaves its place and takes weight, or touches, at another.
fn stepping(step: &Step) -> Option<Side> {
    [step.side, step.side.other()].into_iter().find(|s| {
        let way = step.moved_joint(Segment::Foot(*s));
        let lands = !step.b.foot_is_free(*s) && !step.a.foot_is_free(*s)
            || !step.b.foot_is_free(*s) && 0.06 < way.norm();
        let planted = step.foot_stays(s.other());
        let dragged = step.b.touches_of(*s).any(|t| t.slides);
        lands && planted && !dragged && 0.06 < way.norm()
    })
}
