//! A limit set on a figure: a standing body whose joint is dragged or stepped to where the patient must stop, and the
//! line that says so.

use super::{Slot, place};
use crate::body::names::{Angle, Joint, Motion, Segment, Side, can_move};
use crate::body::{Body, Skin, State, dof, range};
use crate::figure::lay::{self, Laid};
use crate::figure::view::Sight;
use crate::markup::Writer;
use crate::measure::{radians, shown};
use crate::prescription::limit::Purpose;

/// Joints that a limit is set on, from the head down.
pub const JOINTS: [Joint; 8] = [
    Joint::Neck,
    Joint::Trunk,
    Joint::Shoulder,
    Joint::Elbow,
    Joint::Wrist,
    Joint::Hip,
    Joint::Knee,
    Joint::Ankle,
];

const MOTIONS: [Motion; 20] = [
    Motion::Flexion,
    Motion::Extension,
    Motion::Abduction,
    Motion::Adduction,
    Motion::ExternalRotation,
    Motion::InternalRotation,
    Motion::Dorsiflexion,
    Motion::PlantarFlexion,
    Motion::Inversion,
    Motion::Eversion,
    Motion::UlnarDeviation,
    Motion::RadialDeviation,
    Motion::SideBend(Side::Right),
    Motion::SideBend(Side::Left),
    Motion::Rotation(Side::Right),
    Motion::Rotation(Side::Left),
    Motion::Elevation,
    Motion::Depression,
    Motion::Pronation,
    Motion::Supination,
];

/// Degrees that one step makes.
pub const STEP: i16 = 5;

/// The motions of a joint that a limit can be set on and a figure shows.
pub fn motions(joint: Joint) -> impl Iterator<Item = Motion> {
    MOTIONS.into_iter().filter(move |motion| {
        let side = joint.is_paired().then_some(Side::Right);
        let known = !dof::parts(Angle { side, joint, motion: *motion }).is_empty();
        can_move(joint, *motion) && known && 0.0 < most(Angle { side, joint, motion: *motion })
    })
}

fn most(angle: Angle) -> f64 {
    range::highest(angle).unwrap_or(0.0)
}

/// What is set on the figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Setting {
    pub side: Side,
    pub joint: Joint,
    pub motion: Motion,
    /// Degrees: no further than this.
    pub to: i16,
}

/// What a control of the figure does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    Side(Side),
    Joint(Joint),
    Motion(Motion),
    To(i16),
    More,
    Less,
}

impl Turn {
    /// As a control carries it: `joint knee`, `to 60`.
    pub fn named(words: &str) -> Option<Turn> {
        let (verb, rest) = words.split_once(' ').unwrap_or((words, ""));
        Some(match verb {
            "more" => Turn::More,
            "less" => Turn::Less,
            "side" => Turn::Side(Side::BOTH.into_iter().find(|side| side.word() == rest)?),
            "joint" => Turn::Joint(JOINTS.into_iter().find(|joint| joint.word() == rest)?),
            "motion" => Turn::Motion(MOTIONS.into_iter().find(|motion| motion.words() == rest)?),
            // Never further than what was typed; below zero says nothing.
            "to" => Turn::To(rest.parse::<f64>().ok().filter(|n| 0.0 <= *n)?.floor().min(180.0) as i16),
            _ => return None,
        })
    }
}

impl Setting {
    /// The knee of this side bent as far as it goes: where one begins.
    pub fn first(side: Side) -> Setting {
        let setting = Setting { side, joint: Joint::Knee, motion: Motion::Flexion, to: 0 };
        Setting { to: setting.most(), ..setting }
    }

    pub fn angle(&self) -> Angle {
        Angle { side: self.joint.is_paired().then_some(self.side), joint: self.joint, motion: self.motion }
    }

    /// As far as the joint goes.
    pub fn most(&self) -> i16 {
        most(self.angle()).clamp(0.0, 180.0) as i16
    }

    pub fn turned(self, turn: Turn) -> Setting {
        let next = match turn {
            Turn::Side(side) => Setting { side, ..self },
            Turn::Joint(joint) => {
                let motion = motions(joint).find(|m| *m == self.motion).or(motions(joint).next());
                let fresh = Setting { joint, motion: motion.unwrap_or(Motion::Flexion), ..self };
                Setting { to: fresh.most(), ..fresh }
            }
            Turn::Motion(motion) if can_move(self.joint, motion) => {
                let fresh = Setting { motion, ..self };
                Setting { to: fresh.most(), ..fresh }
            }
            Turn::Motion(_) => self,
            Turn::To(to) => Setting { to, ..self },
            // To the next whole step, from a number between two.
            Turn::More => Setting { to: (self.to.div_euclid(STEP) + 1) * STEP, ..self },
            Turn::Less => Setting { to: (self.to - 1).div_euclid(STEP) * STEP, ..self },
        };
        Setting { to: next.to.clamp(0, next.most()), ..next }
    }

    /// Standing, with the joint at so many degrees. For turns about a limb's own length the next joint is bent, so
    /// that they can be seen.
    fn state(&self, body: &Body, degrees: f64) -> State {
        let mut state = State::standing(body);
        let mut bend = |angle: Angle, degrees: f64| {
            let parts = dof::parts(angle);
            // A spine's motion is shared by its joints as their ranges are.
            let whole: f64 = parts.iter().map(|(d, sign)| share(*d, *sign)).sum();
            for (d, sign) in parts {
                let share = if whole <= 0.0 { 0.0 } else { share(d, sign) / whole };
                state.angles[d.0] = radians(degrees * share) * sign;
            }
        };
        let turns = matches!(self.motion, Motion::ExternalRotation | Motion::InternalRotation);
        let of = |joint: Joint, motion: Motion| Angle { side: Some(self.side), joint, motion };
        match (self.joint, self.motion) {
            (Joint::Shoulder, _) if turns => bend(of(Joint::Elbow, Motion::Flexion), 90.0),
            (Joint::Hip, _) if turns => bend(of(Joint::Knee, Motion::Flexion), 90.0),
            (Joint::Wrist, _) => bend(of(Joint::Elbow, Motion::Flexion), 90.0),
            // Across the other leg it would be hidden.
            (Joint::Hip, Motion::Adduction) => bend(of(Joint::Hip, Motion::Flexion), 20.0),
            _ => {}
        }
        bend(self.angle(), degrees);
        state
    }

    fn sight(&self) -> Sight {
        match (self.joint, self.motion) {
            (Joint::Shoulder, Motion::ExternalRotation | Motion::InternalRotation) => Sight::Above,
            (Joint::Hip, Motion::ExternalRotation | Motion::InternalRotation) => Sight::Front,
            (_, Motion::Rotation(_)) => Sight::Above,
            (Joint::Wrist, Motion::UlnarDeviation | Motion::RadialDeviation) => Sight::Side(self.side),
            (Joint::Wrist, _) => Sight::Above,
            (
                _,
                Motion::Abduction
                | Motion::Adduction
                | Motion::SideBend(_)
                | Motion::Inversion
                | Motion::Eversion,
            ) => Sight::Front,
            _ => Sight::Side(self.side),
        }
    }

    /// The piece of skin that the motion carries furthest over the page: the handle.
    fn handle(&self, body: &Body, look: &Laid) -> Option<Skin> {
        let (from, to) =
            (body.place(&self.state(body, 0.0)), body.place(&self.state(body, f64::from(self.most()))));
        let way = |skin: &Skin| {
            let (a, b) = (look.page(from.skin(*skin)), look.page(to.skin(*skin)));
            (a.0 - b.0).abs() + (a.1 - b.1).abs()
        };
        Skin::all().max_by(|a, b| way(a).total_cmp(&way(b)))
    }

    /// The setting whose handle is nearest to a point of the picture, in the picture's units.
    pub fn dragged(self, body: &Body, x: f64, y: f64) -> Setting {
        let look = lay::frame(body, self.sight());
        let Some(skin) = self.handle(body, &look) else { return self };
        let mut best = (f64::MAX, self.to);
        let mut to = 0;
        while to <= self.most() {
            let (a, b) = look.page(body.place(&self.state(body, f64::from(to))).skin(skin));
            let far = (a - x) * (a - x) + (b - y) * (b - y);
            if far < best.0 {
                best = (far, to);
            }
            to += 1;
        }
        // Whole steps, but the end of the range as it is.
        let to = if best.1 == self.most() { best.1 } else { (best.1 + STEP / 2) / STEP * STEP };
        Setting { to: to.clamp(0, self.most()), ..self }
    }

    /// The joint nearest to a point of the picture, if it is near enough to be meant.
    pub fn pointed(&self, body: &Body, x: f64, y: f64) -> Option<Turn> {
        let look = lay::frame(body, self.sight());
        let placed = body.place(&self.state(body, f64::from(self.to)));
        let near = spots(self.side).map(|(joint, segment)| {
            let (a, b) = look.page(placed.joint(segment));
            ((a - x) * (a - x) + (b - y) * (b - y), joint)
        });
        let near = near.min_by(|a, b| a.0.total_cmp(&b.0))?;
        (near.0 < 26.0 * 26.0 && near.1 != self.joint).then_some(Turn::Joint(near.1))
    }

    /// The line as it is written: `limit: right knee flexion 0-60`.
    pub fn line(&self) -> String {
        format!("limit: {} 0-{}", self.angle().name(), self.to)
    }

    /// The text with this limit in it: in place of one for the same motion (which keeps its end), below the last
    /// limit, or at the end of the head.
    pub fn written(&self, text: &str) -> super::change::Changed {
        let (read, _) = crate::prescription::read(text);
        let alone = |line: usize| read.limits.iter().filter(|l| l.place.line == line).count() == 1;
        let same = read
            .limits
            .iter()
            .find(|l| l.angle == self.angle() && l.purpose == Purpose::Limit && alone(l.place.line));
        if let Some(old) = same
            && let Some((start, line)) = place::line(text, old.place.line)
        {
            let until = old.end.as_ref().map(|end| format!(" {end}")).unwrap_or_default();
            let with = format!("{}{until}", self.line());
            let mut changed = text.to_string();
            changed.replace_range(start..start + line.len(), &with);
            let said = format!("Line {}: {with}", old.place.line);
            return super::change::Changed { text: changed, line: old.place.line, said };
        }
        let last = read.limits.iter().map(|l| l.place.line).max();
        let first = read.exercises.iter().map(|e| e.line);
        let first = first.chain(read.sections.iter().map(|s| s.said.place.line)).min();
        let all: Vec<&str> = place::lines(text).map(|(_, line)| line).collect();
        let end = first.map_or(all.len(), |line| line - 1);
        // Behind the last line of the head that says something.
        let head = all.iter().take(end).rposition(|l| !l.trim().is_empty()).map_or(0, |at| at + 1);
        let at = last.unwrap_or(head);
        let mut all: Vec<String> = all.into_iter().map(str::to_string).collect();
        all.insert(at.min(all.len()), self.line());
        let said = format!("Line {}: {}", at + 1, self.line());
        super::change::Changed { text: all.join("\n"), line: at + 1, said }
    }
}

fn share(d: dof::Dof, sign: f64) -> f64 {
    if sign < 0.0 { -range::of(d).low } else { range::of(d).high }
}

/// Where each joint is pointed at.
fn spots(side: Side) -> impl Iterator<Item = (Joint, Segment)> {
    JOINTS.into_iter().map(move |joint| {
        let segment = match joint {
            Joint::Neck => Segment::Head,
            Joint::Trunk => Segment::Chest,
            Joint::Shoulder => Segment::UpperArm(side),
            Joint::Elbow => Segment::Forearm(side),
            Joint::Wrist => Segment::Hand(side),
            Joint::Hip => Segment::Thigh(side),
            Joint::Knee => Segment::Shank(side),
            _ => Segment::Foot(side),
        };
        (joint, segment)
    })
}

/// The panel: the figure, the controls for the keyboard, and the line that comes of it.
pub fn panel(setting: &Setting, body: &Body, text: &str) -> Slot {
    let mut html = Writer::new();
    html.open("section").attr("class", "panel").attr("aria-labelledby", "limit-head");
    html.open("h2").attr("id", "limit-head").attr("tabindex", "-1").text("A limit on the figure").close();
    html.open("div").attr("class", "limit");
    let look = lay::frame(body, setting.sight());
    let placed = body.place(&setting.state(body, f64::from(setting.to)));
    let handle = setting.handle(body, &look).map(|skin| look.page(placed.skin(skin)));
    let joint = spots(setting.side).find(|(joint, _)| *joint == setting.joint);
    let joint = joint.map(|(_, segment)| look.page(placed.joint(segment)));
    let others = spots(setting.side).filter(|(joint, _)| *joint != setting.joint);
    let others: Vec<(f64, f64)> = others.map(|(_, segment)| look.page(placed.joint(segment))).collect();
    let words = format!("A body standing: {} at {} degrees.", setting.angle().name(), setting.to);
    let marks = lay::Marks { handle, joint, others };
    html.open("div").attr("class", "lay").attr("data-drag", "limit");
    html.insert(&look.svg(body, &setting.state(body, f64::from(setting.to)), &marks, &words)).close();
    html.open("div").attr("class", "turns");
    choice(
        &mut html,
        "Joint",
        "limit-joint",
        JOINTS.iter().map(|j| (j.word(), "joint", *j == setting.joint)),
    );
    if setting.joint.is_paired() {
        let sides = Side::BOTH.iter().map(|s| (s.word(), "side", *s == setting.side));
        choice(&mut html, "Side", "limit-side", sides);
    }
    let all: Vec<Motion> = motions(setting.joint).collect();
    let motions = all.iter().map(|m| (m.words(), "motion", *m == setting.motion));
    choice(&mut html, "Motion", "limit-motion", motions);
    html.open("p").open("label").attr("for", "limit-to").text("No further than, degrees").close();
    html.open("span").attr("class", "stepper");
    button(&mut html, "less", "limit less", "−", &format!("{STEP} degrees less"));
    html.open("input").attr("id", "limit-to").attr("type", "number").attr("inputmode", "numeric");
    html.attr("min", "0").attr("max", &setting.most().to_string()).attr("step", &STEP.to_string());
    html.attr("value", &setting.to.to_string())
        .attr("data-turn", "to")
        .attr("data-focus", "limit to")
        .empty();
    button(&mut html, "more", "limit more", "+", &format!("{STEP} degrees more"));
    html.close().close();
    let usual = format!(
        "This joint goes to about {}°. Drag the round handle, or step.",
        shown(most(setting.angle()), 0)
    );
    html.open("p").attr("class", "aside").text(&usual).close();
    let (read, _) = crate::prescription::read(text);
    let there = read.limits.iter().find(|l| l.angle == setting.angle() && l.purpose == Purpose::Limit);
    let line = there.and_then(|l| place::line(text, l.place.line)).map(|(_, line)| line.trim().to_string());
    html.open("p").attr("class", "line");
    html.text(line.as_deref().unwrap_or("Not in the text yet: it is written as soon as it is moved."))
        .close();
    html.open("p").attr("class", "acts");
    html.open("button").attr("type", "button").attr("class", "quiet").attr("data-do", "panel none");
    html.attr("data-focus", "panel none").text("Close").close().close();
    html.close().close().close();
    Slot { key: "limits".into(), html: html.finish().into_string() }
}

fn choice<'a>(
    html: &mut Writer,
    label: &str,
    id: &'static str,
    options: impl Iterator<Item = (&'a str, &'static str, bool)>,
) {
    html.open("p").open("label").attr("for", id).text(label).close();
    let options: Vec<(&str, &str, bool)> = options.collect();
    let verb = options.first().map_or("", |(_, verb, _)| *verb);
    html.open("select").attr("id", id).attr("data-turn", verb).attr("data-focus", id);
    for (word, _, chosen) in options {
        html.open("option").attr("value", word);
        if chosen {
            html.flag("selected");
        }
        html.text(word).close();
    }
    html.close().close();
}

fn button(html: &mut Writer, turn: &str, focus: &str, sign: &str, label: &str) {
    html.open("button").attr("type", "button").attr("data-do", &format!("limit {turn}"));
    html.attr("data-focus", focus).attr("aria-label", label).text(sign).close();
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all() -> impl Iterator<Item = Setting> {
        JOINTS.into_iter().flat_map(|joint| {
            motions(joint).flat_map(move |motion| {
                Side::BOTH.into_iter().map(move |side| Setting { side, joint, motion, to: 0 })
            })
        })
    }

    #[test]
    fn every_limit_that_can_be_set_is_read_as_it_was_meant() {
        for setting in all() {
            let setting = Setting { to: setting.most() / 2, ..setting };
            let (read, notices) = crate::prescription::read(&setting.written("# A\nbridge: 3 x 10").text);
            assert!(notices.is_empty(), "{}: {notices:?}", setting.line());
            let limit = read.limits.first().unwrap_or_else(|| panic!("{}", setting.line()));
            assert_eq!((limit.angle, limit.high), (setting.angle(), Some(setting.to)), "{}", setting.line());
        }
    }

    /// Whoever drags the handle to where the figure shows it gets the angle that is shown.
    #[test]
    fn the_handle_is_where_its_angle_is() {
        let body = Body::usual();
        let mut tried = 0;
        for setting in all() {
            let look = lay::frame(&body, setting.sight());
            let skin = setting.handle(&body, &look).expect("a handle");
            let mut to = 0;
            while to <= setting.most() {
                let (x, y) = look.page(body.place(&setting.state(&body, f64::from(to))).skin(skin));
                let got = setting.dragged(&body, x, y).to;
                assert!((got - to).abs() <= STEP / 2, "{} at {to}: {got}", setting.line());
                let inside = 0.0 <= x && x <= look.width && 0.0 <= y && y <= look.height;
                assert!(inside, "{} at {to}: {x} {y}", setting.line());
                to += 5;
                tried += 1;
            }
        }
        assert!(300 < tried, "{tried}");
    }

    #[test]
    fn a_limit_takes_the_place_of_its_like_and_keeps_its_end() {
        let setting = Setting { to: 60, ..Setting::first(Side::Left) };
        let text = "# A\nlimit: left knee flexion 0-90 until week 3\naim: b\n\nbridge";
        let changed = setting.written(text);
        assert_eq!(changed.line, 2);
        assert_eq!(changed.text, text.replace("0-90", "0-60"));
        let other = "# A\nlimit: right knee flexion 0-90\n\n## B\nbridge";
        assert_eq!(setting.written(other).line, 3);
        assert_eq!(setting.written("").text, "limit: left knee flexion 0-60\n");
        assert_eq!(setting.written("# A\naim: b\n\nbridge").line, 3);
    }

    #[test]
    fn steps_and_turns_stay_within_the_joint() {
        let mut setting = Setting::first(Side::Right);
        for words in
            ["less", "less", "to 999", "more", "to 0", "less", "joint elbow", "motion extension", "side left"]
        {
            setting = setting.turned(Turn::named(words).expect(words));
            assert!((0..=setting.most()).contains(&setting.to), "{words}: {setting:?}");
        }
        assert_eq!(Setting { to: 62, ..Setting::first(Side::Right) }.turned(Turn::Less).to, 60);
        assert_eq!(Setting { to: 62, ..Setting::first(Side::Right) }.turned(Turn::More).to, 65);
    }

    #[test]
    fn what_is_typed_is_never_passed() {
        assert_eq!(Turn::named("to 62.9"), Some(Turn::To(62)));
        assert_eq!(Turn::named("to 1e9"), Some(Turn::To(180)));
        for none in ["to -5", "to far", "to ", "to NaN", "joint head", "side"] {
            assert_eq!(Turn::named(none), None, "{none}");
        }
    }
}
