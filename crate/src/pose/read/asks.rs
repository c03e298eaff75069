//! Angles, directions and distances: what is said of parts.

use super::Reader;
use super::clause::{Went, sides};
use super::contacts;
use super::parts::{self, Given, Part, Role, part};
use super::vocabulary::Piece;
use super::words::{Cursor, Kind};
use crate::body::names::{Joint, Motion, Region, Side, can_move};
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::{Ask, Bit, Contact, Direction, Said, Spot, Surface};
use crate::text::Place;

/// Amounts in words: common practice, no source.
pub const RIGHT_ANGLE: f64 = 90.0;
pub const SLIGHTLY_BENT: f64 = 20.0;
pub const LEANING: f64 = 30.0;
pub const LEANING_SLIGHTLY: f64 = 15.0;
pub const TOES_OUT: f64 = 30.0;
pub const OVERHEAD: f64 = 170.0;
pub const TUCK: f64 = 15.0;
pub const TIPTOE: f64 = 30.0;
pub const PELVIS: f64 = 10.0;
/// A walking step where none is stated.
pub const STEP_CM: f64 = 40.0;

/// The pieces of the body that a part means, one for each side.
pub fn bits(part: &Part) -> Vec<Bit> {
    let mut all = Vec::new();
    for side in sides(part).each() {
        if let Some(bit) = parts::bit(part.term.piece, side)
            && !all.contains(&bit)
        {
            all.push(bit);
        }
    }
    all
}

/// `forward`, `ahead`, `to the right`, `at the ceiling`.
pub fn direction(c: &mut Cursor) -> Option<Direction> {
    const WORDS: &[(&str, Direction)] = &[
        ("each other", Direction::In),
        ("straight ahead", Direction::Forward),
        ("straight forward", Direction::Forward),
        ("forwards", Direction::Forward),
        ("forward", Direction::Forward),
        ("ahead", Direction::Forward),
        ("front", Direction::Forward),
        ("backwards", Direction::Back),
        ("backward", Direction::Back),
        ("back", Direction::Back),
        ("behind", Direction::Back),
        ("ceiling", Direction::Up),
        ("upwards", Direction::Up),
        ("up", Direction::Up),
        ("downwards", Direction::Down),
        ("down", Direction::Down),
        ("floor", Direction::Down),
        ("right", Direction::Right),
        ("left", Direction::Left),
        ("inwards", Direction::In),
        ("inward", Direction::In),
        ("in", Direction::In),
        ("body", Direction::In),
        ("outwards", Direction::Out),
        ("outward", Direction::Out),
        ("out", Direction::Out),
    ];
    let start = c.at;
    let _ = c.eat_any(&["towards", "toward", "to", "at"]);
    for (word, direction) in WORDS {
        if c.eat(word) {
            return Some(*direction);
        }
    }
    c.at = start;
    None
}

/// `slightly`, `a little`.
pub fn slightly(c: &mut Cursor) -> bool {
    c.eat_any(&["slightly", "little bit", "little", "bit", "softly", "softened"]).is_some()
}

impl Reader {
    pub fn free(&mut self, parts: &[Part], place: Place) -> Went {
        let mut any = false;
        for p in parts {
            if let Some(joint) = p.term.joint {
                self.ask(Ask::Free { sides: sides(p), joint }, place);
                // A free shoulder is no use with a stiff shoulder blade or elbow.
                any = true;
            }
            if p.term.piece == Piece::Arm {
                self.ask(Ask::Free { sides: sides(p), joint: Joint::Elbow }, place);
            }
            if p.term.piece == Piece::Leg {
                self.ask(Ask::Free { sides: sides(p), joint: Joint::Knee }, place);
            }
        }
        if any { Went::Well } else { Went::Unknown }
    }

    /// What is said of `parts`; the cursor stands behind them.
    pub fn predicate(&mut self, c: &mut Cursor, parts: &[Part], start: usize) -> Went {
        let _ = c
            .eat_any(&["should be", "must be", "stays", "stay", "kept", "remains", "remain", "held", "now"])
            .filter(|_| !c.at_boundary());
        if c.at_boundary() {
            if matches!(c.tokens.get(c.at.saturating_sub(1)).map(|t| &t.kind), Some(Kind::Word(w)) if w == "stay" || w == "stays")
            {
                return self.still(parts, c, start);
            }
            let place = c.place_since(start);
            let word = parts.first().map_or("part", |p| p.term.word());
            let end = Place { start: place.end, ..place };
            let with = if parts.iter().all(|p| p.term.joint.is_some_and(|j| can_move(j, Motion::Flexion))) {
                " flexion 90"
            } else {
                " on floor"
            };
            self.tell(
                OfPose::NothingSaid { word: word.to_string() },
                place,
                Some(Edit { place: end, with: with.to_string() }),
            );
            return Went::Told;
        }
        if let Some(went) = self.touching_words(c, parts, start) {
            return went;
        }
        if c.eat_any(&["free", "relaxed", "loose"]).is_some() {
            let place = c.place_since(start);
            return self.free(parts, place);
        }
        if let Some(went) = self.relation(c, parts, start) {
            return went;
        }
        self.angles(c, parts, start)
    }

    pub fn touching_words(&mut self, c: &mut Cursor, parts: &[Part], start: usize) -> Option<Went> {
        let before = c.at;
        if c.eat_any(&[
            "lightly touching",
            "touching lightly",
            "lightly on",
            "light touch on",
            "resting lightly on",
            "lightly against",
        ])
        .is_some()
        {
            return Some(contacts::on(self, c, parts, start, false, true));
        }
        let slides = c.eat_any(&["slides", "slide", "sliding", "glides", "glide"]).is_some();
        if slides {
            let way = c.eat_any(&[
                "up and down",
                "upwards",
                "downwards",
                "up",
                "down",
                "along",
                "over",
                "back along",
                "out along",
                "forward on",
                "back on",
                "across",
            ]);
            let _ = c.eat_any(&["on", "along", "over", "onto", "against"]);
            if c.at_boundary() || matches!(c.word(0), "towards" | "toward") {
                // `right heel slides towards seat`: on what it touches already.
                let there = parts
                    .first()
                    .and_then(|p| contacts::spots(self, *p, Role::OnFloor).first().copied())
                    .and_then(|s| {
                        self.state.contacts.iter().find(|(k, _)| *k == s).map(|(_, surface)| *surface)
                    })
                    .unwrap_or(Surface::Floor);
                if c.eat_any(&["towards", "toward"]).is_some() {
                    let _ = part(c, self.stance());
                }
                let place = c.place_since(start);
                for p in parts {
                    for spot in contacts::spots(self, *p, contacts::role(there)) {
                        self.pose.contacts.push(Said {
                            what: Contact::On { part: spot, place: there, slides: true, light: false },
                            place,
                        });
                    }
                }
                return Some(Went::Well);
            }
            let _ = way;
            return Some(contacts::on(self, c, parts, start, true, false));
        }
        if c.eat_any(&[
            "rests on",
            "rest on",
            "resting on",
            "resting against",
            "rests against",
            "flat on",
            "flat against",
            "lies on",
            "lie on",
            "lying on",
            "placed on",
            "planted on",
            "sits on",
            "pressing on",
            "presses on",
            "touching",
            "touches",
            "touch",
            "onto",
            "on to",
            "on",
            "against",
            "in contact with",
        ])
        .is_some()
        {
            return Some(contacts::on(self, c, parts, start, false, false));
        }
        // `arms crossed over the chest`: each hand on the other shoulder.
        if c.eat_any(&[
            "crossed over chest",
            "crossed on chest",
            "crossed in front of chest",
            "folded across chest",
            "folded over chest",
            "folded",
            "crossed",
        ])
        .is_some()
        {
            if parts.iter().all(|p| p.term.is_leg()) {
                c.at = before;
                return None;
            }
            let place = c.place_since(start);
            for side in Side::BOTH {
                let hand = Spot { side: Some(side), region: Region::Palm };
                let shoulder = Spot { side: Some(side.other()), region: Region::ShoulderSide };
                self.pose.contacts.push(Said {
                    what: Contact::On {
                        part: hand,
                        place: Surface::Body(shoulder),
                        slides: false,
                        light: false,
                    },
                    place,
                });
            }
            return Some(Went::Well);
        }
        if matches!(parts.first().map(|p| p.term.word()), Some("hand" | "fingertip" | "arm"))
            && c.eat_any(&["behind head", "behind neck", "clasped behind head", "behind ears"]).is_some()
        {
            return Some(self.hand_to(
                parts,
                Spot { side: None, region: Region::BackOfHead },
                c.place_since(start),
            ));
        }
        if matches!(parts.first().map(|p| p.term.word()), Some("hand" | "arm"))
            && c.eat_any(&["behind back", "behind waist"]).is_some()
        {
            return Some(self.hand_to(
                parts,
                Spot { side: None, region: Region::LowerBack },
                c.place_since(start),
            ));
        }
        if c.eat_any(&[
            "hanging over edge of",
            "hangs over edge of",
            "over edge of",
            "beyond edge of",
            "past edge of",
            "off edge of",
            "over end of",
            "off end of",
            "hanging over edge",
            "hangs over edge",
            "over edge",
            "beyond edge",
            "past edge",
            "off edge",
        ])
        .is_some()
        {
            return Some(contacts::beyond(self, c, parts, start));
        }
        if let Some(word) = c.eat_any(&[
            "lifted clear of",
            "lifted off",
            "lift off",
            "raised off",
            "lifts off",
            "hovering off",
            "clear of",
            "off",
            "leaves",
            "leave",
        ]) {
            let _ = word;
            return Some(contacts::off(self, c, parts, start));
        }
        let heel = parts.iter().all(|p| p.term.word() == "heel");
        if heel && c.eat_any(&["raised", "raise", "lifted", "lift", "up"]).is_some() && c.numeral(0).is_none()
        {
            let place = c.place_since(start);
            let went = contacts::off(self, c, parts, start);
            for p in parts {
                self.imply(
                    Ask::Angle {
                        sides: sides(p),
                        joint: Joint::Ankle,
                        motion: Motion::PlantarFlexion,
                        degrees: TIPTOE,
                    },
                    place,
                );
            }
            return Some(went);
        }
        c.at = if heel { before } else { c.at };
        let hands = parts.iter().all(|p| matches!(p.term.piece, Piece::Hand | Piece::Arm));
        if hands
            && c.eat_any(&[
                "hold",
                "holds",
                "holding",
                "grip",
                "grips",
                "gripping",
                "clasped round",
                "clasped around",
                "clasp",
                "clasping",
                "hug",
                "hugging",
                "round",
                "around",
                "behind",
            ])
            .is_some()
        {
            return Some(contacts::hold(self, c, parts, start));
        }
        None
    }

    pub fn hand_to(&mut self, parts: &[Part], to: Spot, place: Place) -> Went {
        for p in parts {
            for side in sides(p).each() {
                let hand = Spot { side: Some(side), region: Region::Palm };
                self.pose.contacts.push(Said {
                    what: Contact::On { part: hand, place: Surface::Body(to), slides: false, light: false },
                    place,
                });
            }
        }
        Went::Well
    }
}

/// A number of degrees, with `to` or `at` before it or not; never a length or a time.
pub fn number_of(c: &mut Cursor) -> Option<f64> {
    let start = c.at;
    let _ = c.eat_any(&["up to", "to", "at", "by", "of", "until"]);
    // A length is not an angle.
    if matches!(c.word(1), "cm" | "mm" | "m" | "s" | "sec" | "seconds" | "kg") {
        c.at = start;
        return None;
    }
    let number = c.take_number();
    if number.is_none() {
        c.at = start;
    }
    number
}

/// The one side that a part has; a singular part without side is the working side's.
pub fn one_side(part: &Part) -> Option<Side> {
    match part.given {
        Given::One(side) => Some(side),
        Given::Unsaid => Some(Side::Right),
        Given::Both => None,
    }
}
