//! Distances between parts, and how the feet stand.

use super::Reader;
use super::asks::{LEANING_SLIGHTLY, STEP_CM, TOES_OUT, one_side, slightly};
use super::clause::{Went, sides};
use super::contacts;
use super::parts::{Part, Role};
use super::vocabulary::Piece;
use super::words::Cursor;
use crate::body::names::{Region, Segment, Side};
use crate::pose::ask::{Ask, Bit, FeetApart, Spot, Surface};
use crate::text::Place;

impl Reader {
    /// `feet hip-width apart`, `heels 30 cm from seat`, `toes out 30`, `right foot in front`.
    pub fn apart(&mut self, c: &mut Cursor, parts: &[Part], start: usize, feet: bool) -> Option<Went> {
        let first = *parts.first()?;
        let before = c.at;
        let knees = first.term.word() == "knee" || first.term.word() == "thigh";
        if let Some(how) = c.eat_any(&[
            "close together",
            "together",
            "hip width apart",
            "hip distance apart",
            "hips width apart",
            "hip width",
            "hip distance",
            "shoulder width apart",
            "shoulder distance apart",
            "shoulder width",
        ]) {
            let place = c.place_since(start);
            if knees {
                match how {
                    "together" | "close together" => self.between(Region::KneeInner, 0.0, place),
                    _ => self.ask(
                        Ask::Parallel {
                            what: Bit::Segment(Segment::Thigh(Side::Right)),
                            to: Bit::Segment(Segment::Thigh(Side::Left)),
                        },
                        place,
                    ),
                }
                return Some(Went::Well);
            }
            if matches!(first.term.piece, Piece::Hand) {
                match how {
                    "together" | "close together" => self.between(Region::Palm, 0.0, place),
                    _ => self
                        .ask(Ask::Parallel { what: Bit::Arm(Side::Right), to: Bit::Arm(Side::Left) }, place),
                }
                return Some(Went::Well);
            }
            if !feet {
                return Some(Went::Unknown);
            }
            let what = match how {
                "together" | "close together" => FeetApart::Together,
                h if h.starts_with("hip") => FeetApart::Hips,
                _ => FeetApart::Shoulders,
            };
            self.ask(Ask::FeetApart(what), place);
            return Some(Went::Well);
        }
        if feet
            && c.eat_any(&["side by side", "level with each other", "in one line", "next to each other"])
                .is_some()
        {
            let place = c.place_since(start);
            self.ask(Ask::Staggered { front: Side::Right, cm: 0.0 }, place);
            self.imply(Ask::FeetApart(FeetApart::Hips), place);
            return Some(Went::Well);
        }
        if feet && c.eat_any(&["staggered", "split", "in stride", "in step"]).is_some() {
            let cm = c.length().unwrap_or(STEP_CM);
            let front = if c
                .eat_any(&["left foot in front", "left in front", "left forward", "left foot forward"])
                .is_some()
            {
                Side::Left
            } else {
                let _ = c.eat_any(&[
                    "right foot in front",
                    "right in front",
                    "right forward",
                    "right foot forward",
                ]);
                Side::Right
            };
            self.ask(Ask::Staggered { front, cm }, c.place_since(start));
            return Some(Went::Well);
        }
        let _ = c.eat("one");
        if let Some(cm) = c.length() {
            if c.eat("apart") {
                let place = c.place_since(start);
                if feet {
                    self.ask(Ask::FeetApart(FeetApart::Cm(cm)), place);
                } else {
                    let region = contacts::spots(self, first, Role::OnBody).first().map(|s| s.region);
                    let region = match region {
                        Some(Region::KneeFront | Region::KneeBack | Region::KneeOuter) => Region::KneeInner,
                        Some(r) => r,
                        None => return Some(Went::Unknown),
                    };
                    self.between(region, cm, place);
                }
                return Some(Went::Well);
            }
            if feet && let Some(side) = one_side(&first) {
                if c.eat_any(&[
                    "in front of other",
                    "in front of left",
                    "in front of right",
                    "in front",
                    "ahead",
                    "forward",
                    "forwards",
                ])
                .is_some()
                {
                    self.ask(Ask::Staggered { front: side, cm }, c.place_since(start));
                    return Some(Went::Well);
                }
                if c.eat_any(&["behind other", "behind left", "behind right", "behind", "back"]).is_some() {
                    self.ask(Ask::Staggered { front: side.other(), cm }, c.place_since(start));
                    return Some(Went::Well);
                }
            }
            if c.eat_any(&["away from", "from", "in front of", "behind"]).is_some() {
                let at = c.at;
                let Some(from) = contacts::surface(self, c, Some(first)) else {
                    let place = c.place_since(start);
                    self.no_surface(c, at, place);
                    return Some(Went::Told);
                };
                let place = c.place_since(start);
                for p in parts {
                    for spot in contacts::spots(self, *p, Role::OnBody) {
                        let same = from.iter().find(|s| matches!(s, Surface::Body(b) if b.side == spot.side));
                        let Some(from) = same.or(from.first()).copied() else { continue };
                        self.ask(Ask::Distance { part: spot, from, cm }, place);
                    }
                }
                return Some(Went::Well);
            }
            c.at = before;
            return None;
        }
        c.at = before;
        if !feet {
            return None;
        }
        if let Some(side) = one_side(&first)
            && first.term.piece != Piece::Toes
        {
            let turned = c.word(0) == "pointing" || c.word(0) == "turned";
            if !turned
                && c.eat_any(&[
                    "step in front",
                    "step forward",
                    "in front",
                    "forward",
                    "forwards",
                    "step ahead",
                ])
                .is_some()
            {
                let cm = c.length().unwrap_or(STEP_CM);
                self.ask(Ask::Staggered { front: side, cm }, c.place_since(start));
                return Some(Went::Well);
            }
            if !turned
                && first.term.word() != "leg"
                && c.eat_any(&["step behind", "step back", "behind", "back"]).is_some()
            {
                let cm = c.length().unwrap_or(STEP_CM);
                self.ask(Ask::Staggered { front: side.other(), cm }, c.place_since(start));
                return Some(Went::Well);
            }
        }
        if first.term.word() == "leg" {
            return None;
        }
        let slight = slightly(c);
        let _ = c.eat_any(&["turned", "pointing", "point", "rotated", "facing"]);
        let slight = slight || slightly(c);
        let sign = match c.eat_any(&[
            "outwards",
            "outward",
            "out",
            "inwards",
            "inward",
            "in",
            "straight ahead",
            "straight forward",
            "forwards",
            "forward",
            "ahead",
        ]) {
            Some("outwards" | "outward" | "out") => 1.0,
            Some("inwards" | "inward" | "in") => -1.0,
            Some(_) => 0.0,
            None => {
                c.at = before;
                return None;
            }
        };
        let _ = c.eat_any(&["to", "by", "at"]);
        let amount = c.take_number().unwrap_or(if slight { LEANING_SLIGHTLY } else { TOES_OUT });
        let place = c.place_since(start);
        for p in parts {
            self.ask(Ask::ToesOut { sides: sides(p), degrees: amount * sign }, place);
        }
        Some(Went::Well)
    }

    pub fn between(&mut self, region: Region, cm: f64, place: Place) {
        let spot = |side| Spot { side: Some(side), region };
        self.ask(Ask::Distance { part: spot(Side::Right), from: Surface::Body(spot(Side::Left)), cm }, place);
    }
}
