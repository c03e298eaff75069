//! Clauses behind a key (`works:`, `planted:`, `view:`) and efforts that show no movement.

use super::clause::{Went, skip_clause};
use super::parts::{Part, part, worked};
use super::words::{Cursor, Kind};
use super::{Reader, asks, contacts, verbs};
use crate::body::names::Side;
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::{Effort, Planted, Said, Surface, View, ViewFrom};
use crate::text::Place;
use crate::text::near::nearest;

const KEYS: [&str; 6] = ["works", "planted", "view", "support", "tempo", "pose"];

impl Reader {
    /// `works: …`, `planted: …`, `view: …`.
    pub fn keyed(&mut self, c: &mut Cursor) -> Went {
        let start = c.at;
        let key = c.word(0).to_string();
        c.at += 2;
        match key.as_str() {
            "works" | "working" | "work" => self.list(c, start, |reader, part, place| {
                for what in worked(part) {
                    reader.pose.works.push(Said { what, place });
                }
            }),
            "planted" | "plant" | "fixed" => {
                if c.eat_any(&["everything else", "everything", "all contacts", "all", "rest"]).is_some() {
                    self.pose.planted.push(Said { what: Planted::All, place: c.place_since(start) });
                    return Went::Well;
                }
                self.list(c, start, |reader, part, place| {
                    for what in planted(reader, part) {
                        reader.pose.planted.push(Said { what, place });
                    }
                })
            }
            "view" => self.view(c, start),
            "tempo" | "time" | "over" => verbs::seconds(self, c, start),
            "support" | "supports" | "prop" | "props" | "contact" | "contacts" | "asks" | "effort"
            | "kit" => {
                if c.is_done() {
                    Went::Well
                } else {
                    self.clause(c)
                }
            }
            _ => {
                let place = c.place_since(start);
                let near = nearest(&key, KEYS);
                let key_place = c.tokens.get(start).map_or(place, |t| t.place);
                let edit = match near.as_slice() {
                    [one] => Some(Edit { place: key_place, with: (*one).to_string() }),
                    _ => None,
                };
                self.tell(OfPose::UnknownKey { key: key.to_string() }, place, edit);
                // What stands behind the key may still be a clause.
                while !c.is_done() && !c.peek(0).is_some_and(|t| t.kind == Kind::Stop) {
                    c.at += 1;
                }
                Went::Told
            }
        }
    }

    /// Parts after a key, between commas, as long as each stands alone.
    fn list(&mut self, c: &mut Cursor, start: usize, add: impl Fn(&mut Reader, Part, Place)) -> Went {
        let stance = self.stance();
        let mut any = false;
        loop {
            let back = c.at;
            if any {
                while c.peek(0).is_some_and(|t| t.kind == Kind::Stop) || c.word(0) == "and" {
                    c.at += 1;
                }
                if c.at == back {
                    break;
                }
            }
            let from = c.at;
            match part(c, stance) {
                Some(found) if c.at_boundary() => {
                    let place = c.place_since(from);
                    add(self, found, place);
                    any = true;
                }
                _ => {
                    c.at = back;
                    break;
                }
            }
        }
        if any {
            return Went::Well;
        }
        let from = c.at;
        skip_clause(c);
        if from == c.at {
            self.tell(OfPose::NoPart, c.place_since(start), None);
        } else {
            self.not_understood(c, from, false);
        }
        Went::Told
    }

    fn view(&mut self, c: &mut Cursor, start: usize) -> Went {
        let mut view = View { from: ViewFrom::Auto, close_up: None, inset: None };
        let mut any = false;
        loop {
            while c.peek(0).is_some_and(|t| t.kind == Kind::Stop) || matches!(c.word(0), "and" | "with") {
                c.at += 1;
            }
            if c.eat_any(&["close up of", "close up", "closeup of", "closeup", "zoom on"]).is_some() {
                let Some(p) = part(c, self.stance()) else { return self.no_view(c, start) };
                let from = own_view(c);
                view.close_up = self.seen(p).map(|s| (s, from));
            } else if c.eat_any(&["inset of", "inset"]).is_some() {
                let Some(p) = part(c, self.stance()) else { return self.no_view(c, start) };
                let from = own_view(c);
                view.inset = self.seen(p).map(|s| (s, from));
            } else if let Some(from) = view_from(c) {
                view.from = from;
            } else {
                break;
            }
            any = true;
        }
        if !any {
            return self.no_view(c, start);
        }
        if c.word(0) == "from" {
            let from = c.at;
            c.at += 1;
            let place = c.place_since(from);
            skip_clause(c);
            let edit = Some(Edit { place, with: "from above".to_string() });
            self.tell(OfPose::FromNowhere, place, edit);
            return Went::Told;
        }
        self.pose.view = Some(Said { what: view, place: c.place_since(start) });
        Went::Well
    }

    /// Where a picture of a part looks.
    fn seen(&self, part: Part) -> Option<crate::pose::ask::Spot> {
        use crate::body::names::Region;
        let spot = |region| crate::pose::ask::Spot { side: None, region };
        contacts::spots(self, part, super::parts::Role::OnBody).first().copied().or(match part.term.piece {
            super::vocabulary::Piece::Neck => Some(spot(Region::Chin)),
            super::vocabulary::Piece::Pelvis => Some(spot(Region::Sacrum)),
            _ => None,
        })
    }

    fn no_view(&mut self, c: &mut Cursor, start: usize) -> Went {
        let from = c.at;
        skip_clause(c);
        let place = if from == c.at { c.place_since(start) } else { c.place_since(from) };
        self.tell(OfPose::UnknownView, place, Some(Edit { place, with: "auto".to_string() }));
        Went::Told
    }

    /// Efforts that show no movement.
    pub fn effort(&mut self, c: &mut Cursor) -> Option<Went> {
        let start = c.at;
        if c.eat_any(&["breathe out", "breathing out", "exhale", "breath out"]).is_some() {
            let place = c.place_since(start);
            self.pose.efforts.push(Said { what: Effort::BreatheOut, place });
            return Some(Went::Well);
        }
        if c.eat_any(&[
            "squeeze",
            "squeezing",
            "tighten",
            "tightening",
            "contract",
            "clench",
            "tense",
            "draw in",
        ])
        .is_some()
        {
            let parts = self.objects(c);
            let _ = c.eat_any(&["together", "tight", "muscles", "muscle"]);
            if parts.is_empty() {
                c.at = start;
                return None;
            }
            let place = c.place_since(start);
            for p in parts {
                for what in worked(p) {
                    self.pose.efforts.push(Said { what: Effort::Squeeze(what), place });
                }
            }
            return Some(Went::Well);
        }
        if c.eat_any(&["stay still", "keep still"]).is_some() {
            let parts = self.subjects(c);
            return Some(self.still(&parts, c, start));
        }
        if c.eat("keep") {
            let parts = self.subjects(c);
            if !parts.is_empty() && c.eat("still") {
                return Some(self.still(&parts, c, start));
            }
            c.at = start;
            return None;
        }
        if c.eat_any(&["push", "pushing", "press", "pressing", "drive"]).is_some() {
            let parts = self.subjects(c);
            let _ = c.eat_any(&["back", "down", "firmly", "hard", "flat"]);
            let into = c.eat_any(&["into", "against", "onto", "on", "in", "to", "towards"]);
            if parts.is_empty() || into.is_none() {
                c.at = start;
                return None;
            }
            let from = c.at;
            let Some(surface) = contacts::surface(self, c, parts.first().copied()) else {
                let place = if c.at == from { c.place_since(from) } else { c.place_since(start) };
                self.no_surface(c, from, place);
                return Some(Went::Told);
            };
            let place = c.place_since(start);
            for p in parts {
                let role = contacts::role(surface.first().copied().unwrap_or(Surface::Floor));
                for (i, spot) in contacts::spots(self, p, role).into_iter().enumerate() {
                    let into = surface.get(i).or(surface.first()).copied().unwrap_or(Surface::Floor);
                    self.pose.efforts.push(Said { what: Effort::Push { part: spot, into }, place });
                }
            }
            return Some(Went::Well);
        }
        None
    }

    pub fn still(&mut self, parts: &[Part], c: &Cursor, start: usize) -> Went {
        let place = c.place_since(start);
        for p in parts {
            for bit in asks::bits(p) {
                self.pose.efforts.push(Said { what: Effort::StayStill(bit), place });
            }
        }
        if parts.is_empty() { Went::Unknown } else { Went::Well }
    }
}

fn planted(reader: &Reader, part: Part) -> Vec<Planted> {
    use super::parts::Role;
    use super::vocabulary::{Piece, Where};
    let limb = matches!(part.term.piece, Piece::Leg | Piece::Arm)
        || matches!(
            part.term.word(),
            "trunk" | "pelvis" | "thigh" | "upper arm" | "forearm" | "lower leg" | "neck"
        );
    if limb || matches!(part.term.skin, Where::Nowhere) {
        return asks::bits(&part).into_iter().map(Planted::Bit).collect();
    }
    contacts::spots(reader, part, Role::OnFloor).into_iter().map(Planted::Spot).collect()
}

/// A detail's own view, `from above`; else as the rest.
fn own_view(c: &mut Cursor) -> ViewFrom {
    let start = c.at;
    if c.eat("from")
        && let Some(from) = view_from(c)
    {
        return from;
    }
    // A `from` without its direction stays, and is told.
    c.at = start;
    ViewFrom::Auto
}

fn view_from(c: &mut Cursor) -> Option<ViewFrom> {
    let start = c.at;
    let _ = c.eat("from");
    let which = c.eat_any(&[
        "three quarter",
        "threequarter",
        "3 quarter",
        "right side",
        "left side",
        "side",
        "front",
        "back",
        "behind",
        "above",
        "top",
        "foot end",
        "feet",
        "auto",
        "right",
        "left",
    ]);
    let Some(which) = which else {
        c.at = start;
        return None;
    };
    let side = match which {
        "right side" | "right" => Some(Side::Right),
        "left side" | "left" => Some(Side::Left),
        "three quarter" | "threequarter" | "3 quarter" | "side" => {
            let _ = c.eat("view");
            let back = c.at;
            let _ = c.eat("from");
            let side = match c.word(0) {
                "right" => Some(Side::Right),
                "left" => Some(Side::Left),
                _ => None,
            };
            c.at = if side.is_some() { c.at + 1 } else { back };
            let _ = side.is_some() && c.eat("side");
            side
        }
        _ => None,
    };
    Some(match which {
        "front" => ViewFrom::Front,
        "back" | "behind" => ViewFrom::Back,
        "above" | "top" => ViewFrom::Above,
        "foot end" | "feet" => ViewFrom::FootEnd,
        "auto" => ViewFrom::Auto,
        "three quarter" | "threequarter" | "3 quarter" => ViewFrom::ThreeQuarter(side),
        _ => ViewFrom::Side(side),
    })
}
