//! The clauses of a pose line, one after the other.

use super::parts::{Given, Part, TERMS, part, worked};
use super::words::{BETWEEN, Cursor, Kind};
use super::{Reader, asks, contacts, motions, things, verbs};
use crate::body::names::{Side, Sides};
use crate::notice::Edit;
use crate::pose::ask::{Effort, Planted, PropKind, Said, Surface, View, ViewFrom};
use crate::text::Place;
use crate::text::near::nearest;

/// How the reading of a clause went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Went {
    Well,
    /// Not at all, and a notice says why.
    Told,
    /// Not at all, and nothing is said yet.
    Unknown,
}

const KEYS: [&str; 6] = ["works", "planted", "view", "support", "tempo", "pose"];

impl Reader {
    /// Reads all clauses from the cursor to the end of the line.
    pub fn clauses(&mut self, cursor: &mut Cursor) {
        loop {
            while cursor.peek(0).is_some() && cursor.at_boundary() {
                cursor.at += 1;
            }
            if cursor.is_done() {
                break;
            }
            let start = cursor.at;
            match self.clause(cursor) {
                Went::Well => {
                    if !cursor.at_boundary() {
                        let from = cursor.at;
                        skip_clause(cursor);
                        self.not_understood(cursor, from, true);
                    }
                }
                Went::Told => skip_clause(cursor),
                Went::Unknown => {
                    cursor.at = start;
                    skip_clause(cursor);
                    self.not_understood(cursor, start, false);
                }
            }
            if cursor.at == start {
                cursor.at += 1;
            }
        }
    }

    fn clause(&mut self, c: &mut Cursor) -> Went {
        let start = c.at;
        if c.peek(1).is_some_and(|t| t.kind == Kind::Colon) {
            return self.keyed(c);
        }
        if c.eat("free") {
            let parts = self.subjects(c);
            return if parts.is_empty() { Went::Unknown } else { self.free(&parts, c.place_since(start)) };
        }
        if let Some(went) = self.effort(c) {
            return went;
        }
        if c.eat_any(&["eyes look", "eyes", "looking", "look", "gaze", "facing", "face"]).is_some() {
            let level = c.eat("level");
            let direction =
                asks::direction(c).or(if level { Some(crate::pose::ask::Direction::Forward) } else { None });
            if let Some(direction) = direction {
                self.ask(crate::pose::ask::Ask::Looking(direction), c.place_since(start));
                return Went::Well;
            }
            c.at = start;
        }
        if c.eat_any(&["light touch of", "light touch", "lightly touching", "fingertip support"]).is_some() {
            return contacts::light(self, c, start);
        }
        if c.eat("hands free") {
            return Went::Well;
        }
        if let Some(went) = contacts::grip(self, c) {
            return went;
        }
        if things::declare(self, c) {
            return Went::Well;
        }
        c.at = start;
        if let Some(went) = verbs::verb(self, c) {
            return went;
        }
        c.at = start;
        let parts = self.subjects(c);
        if !parts.is_empty() {
            let went = self.predicate(c, &parts, start);
            if went != Went::Unknown {
                self.last = parts;
            }
            return went;
        }
        c.at = start;
        verbs::continued(self, c, start)
    }

    /// As [`Reader::subjects`], for the end of a clause: what follows a comma belongs to it only if it
    /// stands alone.
    pub fn objects(&mut self, c: &mut Cursor) -> Vec<Part> {
        let mut parts = Vec::new();
        let stance = self.stance();
        while let Some(next) = part(c, stance) {
            parts.push(next);
            let back = c.at;
            let _ = c.peek(0).is_some_and(|t| t.kind == Kind::Stop) && {
                c.at += 1;
                true
            };
            let _ = c.eat("and");
            let mut look = c.clone();
            let alone = c.at != back && part(&mut look, stance).is_some() && look.at_boundary();
            if !alone {
                c.at = back;
                break;
            }
        }
        for i in 1..parts.len() {
            inherit(&mut parts, i, i - 1);
        }
        parts
    }

    /// One or more parts: `head, upper back and sacrum`. A part without side takes its neighbour's.
    pub fn subjects(&mut self, c: &mut Cursor) -> Vec<Part> {
        let mut parts = Vec::new();
        let stance = self.stance();
        if let Some(first) = part(c, stance) {
            parts.push(first);
            loop {
                let back = c.at;
                let stop = c.peek(0).is_some_and(|t| t.kind == Kind::Stop);
                if stop {
                    c.at += 1;
                }
                let _ = c.eat("and");
                if c.at == back {
                    break;
                }
                match part(c, stance) {
                    Some(next) => parts.push(next),
                    None => {
                        c.at = back;
                        break;
                    }
                }
            }
        }
        for i in 1..parts.len() {
            inherit(&mut parts, i, i - 1);
        }
        for i in (1..parts.len()).rev() {
            inherit(&mut parts, i - 1, i);
        }
        parts
    }

    /// `works: …`, `planted: …`, `view: …`.
    fn keyed(&mut self, c: &mut Cursor) -> Went {
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
                self.tell(
                    "unknown-pose-key",
                    place,
                    format!(
                        "`{key}:` is not a key of a pose. Its keys are `works:`, `planted:`, `view:` and `support:`."
                    ),
                    edit,
                );
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
            self.tell(
                "no-part",
                c.place_since(start),
                "A part of the body should follow the colon, such as `right buttock`.".to_string(),
                None,
            );
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
                match part(c, self.stance()) {
                    Some(p) => view.close_up = self.seen(p),
                    None => return self.no_view(c, start),
                }
            } else if c.eat_any(&["inset of", "inset"]).is_some() {
                let Some(p) = part(c, self.stance()) else { return self.no_view(c, start) };
                let from =
                    if c.eat("from") { view_from(c).unwrap_or(ViewFrom::Auto) } else { ViewFrom::Auto };
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
        self.pose.view = Some(Said { what: view, place: c.place_since(start) });
        Went::Well
    }

    /// Where a picture of a part looks.
    fn seen(&self, part: Part) -> Option<crate::pose::ask::Spot> {
        use crate::body::names::Region;
        let spot = |region| crate::pose::ask::Spot { side: None, region };
        contacts::spots(self, part, super::parts::Role::OnBody).first().copied().or(match part.term.piece {
            super::parts::Piece::Neck => Some(spot(Region::Chin)),
            super::parts::Piece::Pelvis => Some(spot(Region::Sacrum)),
            _ => None,
        })
    }

    fn no_view(&mut self, c: &mut Cursor, start: usize) -> Went {
        let from = c.at;
        skip_clause(c);
        let place = if from == c.at { c.place_since(start) } else { c.place_since(from) };
        self.tell(
            "unknown-view",
            place,
            "A view is side, front, back, above, three-quarter, foot end or auto, such as \
             `view: three-quarter from the right`, with `close-up PART` or `inset PART from above` if need be."
                .to_string(),
            Some(Edit { place, with: "auto".to_string() }),
        );
        Went::Told
    }

    /// Efforts that show no movement.
    fn effort(&mut self, c: &mut Cursor) -> Option<Went> {
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

    /// Tells of the tokens from `from` to the cursor.
    pub fn not_understood(&mut self, c: &Cursor, from: usize, rest: bool) {
        let place = c.place_since(from);
        let words: Vec<(&str, Place)> = c
            .tokens
            .get(from..c.at)
            .unwrap_or(&[])
            .iter()
            .filter_map(|t| match &t.kind {
                Kind::Word(w) => Some((w.as_str(), t.place)),
                _ => None,
            })
            .collect();
        if let [(word, at), (next, _), ..] = words.as_slice()
            && matches!(
                *word,
                "front" | "back" | "rear" | "top" | "bottom" | "leading" | "trailing" | "under"
            )
            && TERMS.iter().any(|t| t.is_paired() && t.words.contains(&super::words::singular(next)))
        {
            self.tell(
                "side-not-clear",
                *at,
                format!(
                    "Which side is the {word} one? `top` and `bottom` are for lying on the side, `front` and `back` \
                     for one foot ahead of the other."
                ),
                Some(Edit { place: *at, with: "right".to_string() }),
            );
            return;
        }
        // The first word that nobody knows is the likeliest slip.
        let mut edit = None;
        let odd = words.iter().find(|(word, _)| !is_known(word)).copied();
        if let Some((word, at)) = odd {
            match nearest_word(word).as_slice() {
                [one] => edit = Some(Edit { place: at, with: (*one).to_string() }),
                [one, two, ..] => {
                    let sentence =
                        format!("`{word}` could be `{one}` or `{two}`; write the one that you mean.");
                    self.tell("unclear-word", at, sentence, None);
                    return;
                }
                [] => {}
            }
        }
        let odd = odd.map(|(word, _)| word);
        let sentence = match (odd, rest) {
            (Some(word), _) => format!(
                "`{word}` is not known in a pose. A clause says a joint's angle (`right knee flexion 90`), what \
                 touches what (`soles on floor`), a thing (`chair 43 cm`) or a relation (`shins upright`)."
            ),
            (None, true) => "The end of this clause was not understood; the part before it counts.".to_string(),
            (None, false) => "This clause was not understood. A clause says a joint's angle \
                 (`right knee flexion 90`), what touches what (`soles on floor`), a thing (`chair 43 cm`) or a \
                 relation (`shins upright`)."
                .to_string(),
        };
        let edit = edit.or(Some(Edit { place, with: String::new() }));
        self.tell(if odd.is_some() { "unknown-pose-word" } else { "unread-clause" }, place, sentence, edit);
    }
}

fn inherit(parts: &mut [Part], to: usize, from: usize) {
    let source = parts.get(from).map(|p| (p.given, p.term.is_paired()));
    if let (Some((Given::One(side), true)), Some(target)) = (source, parts.get_mut(to))
        && target.given == Given::Unsaid
    {
        target.given = Given::One(side);
    }
}

fn skip_clause(c: &mut Cursor) {
    while !c.is_done() && !c.at_boundary() {
        c.at += 1;
    }
}

fn planted(reader: &Reader, part: Part) -> Vec<Planted> {
    use super::parts::{Piece, Role, Where};
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

/// Words that stand in clauses beside parts, motions and things.
const GRAMMAR: [&str; 76] = [
    "right",
    "left",
    "both",
    "each",
    "working",
    "other",
    "top",
    "bottom",
    "front",
    "back",
    "on",
    "off",
    "under",
    "over",
    "slides",
    "holds",
    "hold",
    "straight",
    "level",
    "upright",
    "parallel",
    "line",
    "leaning",
    "forward",
    "backward",
    "together",
    "apart",
    "hip",
    "width",
    "shoulder",
    "staggered",
    "out",
    "in",
    "from",
    "towards",
    "until",
    "free",
    "looking",
    "facing",
    "up",
    "down",
    "light",
    "touch",
    "planted",
    "works",
    "view",
    "squeeze",
    "push",
    "into",
    "breathe",
    "stay",
    "still",
    "round",
    "between",
    "behind",
    "close",
    "side",
    "above",
    "quarter",
    "three",
    "bent",
    "slightly",
    "horizontal",
    "vertical",
    "cm",
    "floor",
    "of",
    "to",
    "at",
    "by",
    "against",
    "height",
    "overhead",
    "crossed",
    "ahead",
    "inset",
];

fn vocabulary() -> impl Iterator<Item = &'static str> {
    TERMS
        .iter()
        .flat_map(|t| t.words.iter().flat_map(|w| w.split(' ')))
        .chain(motions::vocabulary().flat_map(|w| w.split(' ')))
        .chain(PropKind::ALL.iter().flat_map(|p| p.word().split(' ')))
        .chain(GRAMMAR)
}

/// The known words nearest to one that isn't; names of muscles are no help here.
fn nearest_word(word: &str) -> Vec<&'static str> {
    let known = || vocabulary().filter(|w| !w.ends_with("or") && !w.ends_with("al") || *w == "lateral");
    let most = match word.chars().count() {
        0..=2 => return Vec::new(),
        3..=5 => 1,
        6..=9 => 2,
        _ => 3,
    };
    // The nearest alone: of two equally near ones neither is chosen.
    (1..=most)
        .map(|bound| crate::text::near::within(word, known().filter(|w| 3 < w.len()), bound))
        .find(|near| !near.is_empty())
        .unwrap_or_default()
}

fn is_known(word: &str) -> bool {
    let one = super::words::singular(word);
    BETWEEN.contains(&word) || vocabulary().any(|w| w == word || w == one)
}

/// All sides that a part means as a joint: a singular joint without side means both.
pub fn sides(part: &Part) -> Sides {
    match part.given {
        Given::One(side) if part.term.is_paired() => Sides::One(side),
        _ => Sides::Both,
    }
}
