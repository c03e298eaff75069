//! Relations to gravity, to other parts, and between the feet.

use super::Reader;
use super::asks::{
    LEANING, LEANING_SLIGHTLY, OVERHEAD, RIGHT_ANGLE, TUCK, bits, direction, number_of, slightly,
};
use super::clause::{Went, sides};
use super::parts::{self, Part, is_limb, part};
use super::vocabulary::Piece;
use super::words::{Cursor, Kind};
use crate::body::names::{Joint, Motion, Sides, can_move};
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::{Ask, Bit, Direction, Posture};
use crate::text::Place;

impl Reader {
    /// Relations to gravity, to other parts, and between the feet.
    pub fn relation(&mut self, c: &mut Cursor, parts: &[Part], start: usize) -> Option<Went> {
        let first = *parts.first()?;
        let word = first.term.word();
        let before = c.at;
        let feet =
            parts.iter().all(|p| matches!(p.term.piece, Piece::Foot | Piece::Toes) || p.term.word() == "leg");
        if c.eat_any(&["still"]).is_some() {
            return Some(self.still(parts, c, start));
        }
        if matches!(word, "chin" | "neck" | "head")
            && c.eat_any(&[
                "tucked in",
                "tucked",
                "tuck",
                "drawn back",
                "pulled straight back",
                "retraction",
                "retracted",
            ])
            .is_some()
        {
            let _ = c.eat_any(&["to", "by"]);
            let amount = c.take_number().unwrap_or(TUCK);
            self.tuck_chin(amount, c.place_since(start));
            return Some(Went::Well);
        }
        if c.eat_any(&["parallel to", "parallel with"]).is_some() {
            if c.eat_any(&["floor", "ground"]).is_some() {
                return Some(self.bitwise(parts, c.place_since(start), Ask::Level));
            }
            let Some(with) = part(c, self.stance()) else { return Some(Went::Unknown) };
            return Some(
                self.pairwise(parts, with, c.place_since(start), |what, to| Ask::Parallel { what, to }),
            );
        }
        if c.eat_any(&[
            "in line with",
            "in one line with",
            "in straight line with",
            "aligned with",
            "lined up with",
        ])
        .is_some()
        {
            let Some(with) = part(c, self.stance()) else { return Some(Went::Unknown) };
            return Some(
                self.pairwise(parts, with, c.place_since(start), |what, with| Ask::InLine { what, with }),
            );
        }
        // `horizontal extension` is a motion.
        let across = c.word(0) == "horizontal" && super::motions::motion(&mut c.clone()).is_some();
        if !across
            && c.eat_any(&[
                "level with floor",
                "level",
                "horizontal",
                "at shoulder height",
                "at shoulder level",
            ])
            .is_some()
        {
            let place = c.place_since(start);
            let across = match word {
                "pelvis"
                    if !matches!(
                        self.stance().posture,
                        Posture::Supine | Posture::CrookLying | Posture::Prone
                    ) =>
                {
                    Some(Bit::PelvisAcross)
                }
                "hip" => Some(Bit::PelvisAcross),
                "shoulder" => Some(Bit::ShouldersAcross),
                _ => None,
            };
            if let Some(bit) = across {
                self.ask(Ask::Level(bit), place);
                return Some(Went::Well);
            }
            let up = match word {
                "hand" | "elbow" if c.tokens.get(c.at.saturating_sub(1)).is_some() && word == "hand" => {
                    Some(Piece::Arm)
                }
                "elbow" => Some(Piece::UpperArm),
                _ => None,
            };
            if let Some(piece) = up {
                for side in sides(&first).each() {
                    if let Some(bit) = parts::bit(piece, side) {
                        self.ask(Ask::Level(bit), place);
                    }
                }
                return Some(Went::Well);
            }
            if matches!(word, "head" | "chin" | "forehead") {
                self.ask(Ask::Looking(Direction::Forward), place);
                return Some(Went::Well);
            }
            return Some(self.bitwise(parts, place, Ask::Level));
        }
        if c.eat_any(&["straight up", "upright", "vertical", "tall", "plumb"]).is_some() {
            return Some(self.bitwise(parts, c.place_since(start), Ask::Upright));
        }
        // `hands under shoulders`, `knees over ankles`.
        if let Some(over) = c.eat_any(&[
            "directly under",
            "directly over",
            "directly above",
            "directly below",
            "under",
            "over",
            "above",
            "below",
            "beneath",
        ]) {
            let Some(other) = part(c, self.stance()) else {
                c.at = before;
                return None;
            };
            let _ = over;
            let pieces = plumb(first.term.word(), other.term.word());
            let Some(piece) = pieces else {
                c.at = before;
                return None;
            };
            let place = c.place_since(start);
            let mut done: Vec<Bit> = Vec::new();
            for side in sides(&first).each() {
                if let Some(bit) = parts::bit(piece, side)
                    && !done.contains(&bit)
                {
                    done.push(bit);
                    self.ask(Ask::Upright(bit), place);
                }
            }
            return Some(Went::Well);
        }
        let slight = slightly(c);
        if c.eat_any(&["leaning", "leans", "lean", "inclined", "tipped"]).is_some() {
            let slight = slight || slightly(c);
            let mut amount = number_of(c);
            let towards = direction(c).unwrap_or(Direction::Forward);
            let slight = slight || slightly(c);
            let _ = c.eat_any(&["to", "by", "at"]);
            amount = amount.or_else(|| c.take_number());
            let degrees = amount.unwrap_or(if slight { LEANING_SLIGHTLY } else { LEANING });
            let place = c.place_since(start);
            return Some(self.bitwise(parts, place, |what| Ask::Leaning {
                what,
                direction: towards,
                degrees,
            }));
        }
        if first.term.piece == Piece::Trunk
            && c.eat_any(&["tilted forward", "tilted forwards", "bent forward from hips"]).is_some()
        {
            let _ = c.eat_any(&["to", "by", "at"]);
            let degrees = c.take_number().unwrap_or(LEANING);
            let place = c.place_since(start);
            return Some(self.bitwise(parts, place, |what| Ask::Leaning {
                what,
                direction: Direction::Forward,
                degrees,
            }));
        }
        c.at = if slight { before } else { c.at };
        if c.eat_any(&["straight", "straightened", "locked", "in full extension", "out straight", "flat"])
            .is_some()
        {
            let place = c.place_since(start);
            for p in parts {
                self.straight(p, place);
            }
            // `right leg straight forward`, `arms straight overhead`.
            if !c.at_boundary() && parts.iter().all(|p| matches!(p.term.piece, Piece::Arm)) {
                let back = c.at;
                if self.arm_way(c, parts, start).is_none() {
                    c.at = back;
                }
            }
            return Some(Went::Well);
        }
        if let Some(went) = self.arm_way(c, parts, start) {
            return Some(went);
        }
        if word == "elbow"
            && c.eat_any(&[
                "by side",
                "by sides",
                "at side",
                "at sides",
                "at waist",
                "tucked in",
                "tucked",
                "close to body",
                "close to side",
            ])
            .is_some()
        {
            let place = c.place_since(start);
            self.at_side(&first, place);
            return Some(Went::Well);
        }
        if c.eat_any(&["facing", "face"]).is_some() {
            let Some(d) = direction(c) else { return Some(Went::Unknown) };
            let place = c.place_since(start);
            if matches!(first.term.piece, Piece::Hand) {
                for p in parts {
                    self.ask(Ask::PalmFacing { sides: sides(p), direction: d }, place);
                }
                return Some(Went::Well);
            }
            if matches!(first.term.piece, Piece::Head) {
                self.ask(Ask::Looking(d), place);
                return Some(Went::Well);
            }
            return Some(Went::Unknown);
        }
        if matches!(first.term.piece, Piece::Hand) && (word == "hand") {
            let back = c.at;
            if let Some(d) = direction(c)
                && c.at_boundary()
            {
                self.ask(Ask::PalmFacing { sides: sides(&first), direction: d }, c.place_since(start));
                return Some(Went::Well);
            }
            c.at = back;
        }
        if first.term.piece == Piece::Head && c.eat_any(&["looking", "looks", "up", "down"]).is_some() {
            c.at -= usize::from(
                matches!(c.tokens.get(c.at - 1).map(|t| &t.kind), Some(Kind::Word(w)) if w == "up" || w == "down"),
            );
            let Some(d) = direction(c) else { return Some(Went::Unknown) };
            self.ask(Ask::Looking(d), c.place_since(start));
            return Some(Went::Well);
        }
        if let Some(went) = self.apart(c, parts, start, feet) {
            return Some(went);
        }
        None
    }

    pub fn tuck_chin(&mut self, degrees: f64, place: Place) {
        self.ask(
            Ask::Angle { sides: Sides::Both, joint: Joint::UpperNeck, motion: Motion::Flexion, degrees },
            place,
        );
        self.ask(
            Ask::Angle { sides: Sides::Both, joint: Joint::LowerNeck, motion: Motion::Extension, degrees },
            place,
        );
    }

    pub fn bitwise(&mut self, parts: &[Part], place: Place, ask: impl Fn(Bit) -> Ask) -> Went {
        let mut any = false;
        for p in parts {
            for bit in bits(p) {
                self.ask(ask(bit), place);
                any = true;
            }
        }
        if any { Went::Well } else { Went::Unknown }
    }

    pub fn pairwise(
        &mut self,
        parts: &[Part],
        with: Part,
        place: Place,
        ask: impl Fn(Bit, Bit) -> Ask,
    ) -> Went {
        let others = bits(&with);
        let mut any = false;
        for p in parts {
            for side in sides(p).each() {
                let Some(bit) = parts::bit(p.term.piece, side) else { continue };
                let same = parts::bit(with.term.piece, side);
                let other = same.filter(|b| others.contains(b)).or(others.first().copied());
                if let Some(other) = other
                    && other != bit
                {
                    self.ask(ask(bit, other), place);
                    any = true;
                }
                if !is_limb(p.term.piece) {
                    break;
                }
            }
        }
        if any { Went::Well } else { Went::Unknown }
    }

    pub fn straight(&mut self, p: &Part, place: Place) {
        let both = sides(p);
        let mut zero = |joint, sides| {
            self.ask(Ask::Angle { sides, joint, motion: Motion::Flexion, degrees: 0.0 }, place);
        };
        match p.term.piece {
            Piece::Leg => zero(Joint::Knee, both),
            Piece::Arm => zero(Joint::Elbow, both),
            _ => match p.term.joint {
                Some(Joint::Forearm) => zero(Joint::Elbow, both),
                Some(joint) if can_move(joint, Motion::Flexion) => zero(joint, both),
                Some(Joint::Ankle) => {
                    self.ask(
                        Ask::Angle {
                            sides: both,
                            joint: Joint::Ankle,
                            motion: Motion::Dorsiflexion,
                            degrees: 0.0,
                        },
                        place,
                    );
                }
                _ => {
                    let end = Place { start: place.end, ..place };
                    self.tell(
                        OfPose::CannotStraighten { word: p.term.word() },
                        place,
                        Some(Edit {
                            place: Place { start: place.start, ..end },
                            with: "knees straight".to_string(),
                        }),
                    );
                }
            },
        }
    }

    pub fn at_side(&mut self, p: &Part, place: Place) {
        for motion in [Motion::Flexion, Motion::Abduction] {
            self.ask(Ask::Angle { sides: sides(p), joint: Joint::Shoulder, motion, degrees: 0.0 }, place);
        }
    }

    /// Arms said to point somewhere: `arms by sides`, `right arm overhead`, `arms out to the sides`.
    pub fn arm_way(&mut self, c: &mut Cursor, parts: &[Part], start: usize) -> Option<Went> {
        if !parts.iter().all(|p| matches!(p.term.piece, Piece::Arm) || p.term.word() == "hand") {
            return None;
        }
        let before = c.at;
        let said = c.eat_any(&[
            "by sides",
            "by side",
            "at sides",
            "at side",
            "alongside body",
            "alongside",
            "beside body",
            "hanging down",
            "hanging",
            "hang down",
            "down by sides",
            "raised overhead",
            "lifted overhead",
            "reaching overhead",
            "stretched overhead",
            "overhead",
            "over head",
            "raised above head",
            "above head",
            "straight up",
            "up",
            "out to sides",
            "out to side",
            "out sideways",
            "reaching forwards",
            "reaching forward",
            "stretched forward",
            "stretched out forward",
            "out in front",
            "in front",
            "forwards",
            "forward",
        ])?;
        let only_arms = parts.iter().all(|p| matches!(p.term.piece, Piece::Arm));
        let (motion, degrees) = match said {
            "raised overhead" | "lifted overhead" | "reaching overhead" | "stretched overhead"
            | "raised above head" | "overhead" | "over head" | "above head" | "straight up" | "up" => {
                (Motion::Flexion, OVERHEAD)
            }
            "out to sides" | "out to side" | "out sideways" => (Motion::Abduction, RIGHT_ANGLE),
            "reaching forwards"
            | "reaching forward"
            | "stretched forward"
            | "stretched out forward"
            | "out in front"
            | "in front"
            | "forwards"
            | "forward" => (Motion::Flexion, RIGHT_ANGLE),
            _ => {
                for p in parts {
                    let place = c.place_since(start);
                    self.at_side(p, place);
                    self.imply(
                        Ask::Angle {
                            sides: sides(p),
                            joint: Joint::Elbow,
                            motion: Motion::Flexion,
                            degrees: 0.0,
                        },
                        place,
                    );
                }
                return Some(Went::Well);
            }
        };
        if !only_arms && matches!(said, "forward" | "forwards" | "in front" | "up") {
            c.at = before;
            return None;
        }
        let _ = c.eat_any(&["to", "at", "by"]);
        let degrees = c.take_number().unwrap_or(degrees);
        let place = c.place_since(start);
        for p in parts {
            self.angle_ask(sides(p), Joint::Shoulder, motion, degrees, place);
            self.imply(
                Ask::Angle { sides: sides(p), joint: Joint::Elbow, motion: Motion::Flexion, degrees: 0.0 },
                place,
            );
        }
        Some(Went::Well)
    }
}

/// What is vertical when one part is under the other.
fn plumb(a: &str, b: &str) -> Option<Piece> {
    let either = |x: &str, y: &str| (a == x && b == y) || (a == y && b == x);
    Some(if either("hand", "shoulder") || either("wrist", "shoulder") {
        Piece::Arm
    } else if either("elbow", "shoulder") {
        Piece::UpperArm
    } else if either("hand", "elbow") || either("wrist", "elbow") {
        Piece::Forearm
    } else if either("knee", "hip") {
        Piece::Thigh
    } else if either("knee", "ankle")
        || either("knee", "foot")
        || either("knee", "heel")
        || either("knee", "toe")
    {
        Piece::Shank
    } else if either("shoulder", "hip") || either("shoulder", "pelvis") {
        Piece::Trunk
    } else if either("foot", "hip") || either("heel", "hip") || either("ankle", "hip") {
        Piece::Leg
    } else {
        return None;
    })
}
