//! What touches what: `soles on floor`, `right ankle on left knee`, `hands hold right shin`,
//! `light touch right hand on chair back`, `right heel slides on floor`, `right foot off floor`.

use super::Reader;
use super::clause::Went;
use super::parts::{self, Given, Part, Role, Stance, part, spot};
use super::things;
use super::words::{Cursor, Kind};
use crate::body::names::{Region, Side};
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::{
    Ask, Bit, Contact, Direction, Fit, Held, Posture, Prop, PropKind, Release, Said, Spot, Surface,
};
use crate::text::Place;
use crate::text::near::nearest;

/// How something touches a surface.
pub fn role(surface: Surface) -> Role {
    match surface {
        Surface::Floor | Surface::Prop(PropKind::Mat | PropKind::Bed) => Role::OnFloor,
        Surface::Prop(_) | Surface::Edge(_) | Surface::Tread(_) => Role::OnThing,
        Surface::Body(_) => Role::OnBody,
    }
}

/// The places of skin that a part means. A singular part without side is the working side's.
pub fn spots(reader: &Reader, part: Part, role: Role) -> Vec<Spot> {
    spots_in(reader.stance(), part, role)
}

/// As [`spots`], where only the stance is known.
pub fn spots_in(stance: Stance, part: Part, role: Role) -> Vec<Spot> {
    let sides: &[Side] = match part.given {
        Given::One(Side::Right) | Given::Unsaid => &[Side::Right],
        Given::One(Side::Left) => &[Side::Left],
        Given::Both => &Side::BOTH,
    };
    let mut all = Vec::new();
    for side in sides {
        let said =
            if part.given == Given::Both && part.term.word() == "shoulder" { None } else { Some(*side) };
        let Some(region) = parts::region(part.term, said, stance, role) else { continue };
        let side = match (region, stance.posture) {
            // The side of the head that lies down.
            (Region::SideOfHead, Posture::SideLying(under)) if !matches!(part.given, Given::One(_)) => under,
            (Region::HipSide, Posture::SideLying(under)) if !part.term.is_paired() => under,
            _ => *side,
        };
        let one = spot(region, Some(side));
        if !all.contains(&one) {
            all.push(one);
        }
    }
    all
}

impl Reader {
    /// A singular part that touches something needs its side; says so, and takes the working side.
    fn side_said(&mut self, part: &Part) {
        if part.given == Given::Unsaid && part.term.is_paired() {
            let start = Place { end: part.place.start, ..part.place };
            self.tell(
                OfPose::SideNotSaid { word: part.term.word() },
                part.place,
                Some(Edit { place: start, with: "right ".to_string() }),
            );
        }
    }

    /// A part touches a surface, and nothing else with the same skin.
    pub fn touch(&mut self, part: Spot, surface: Surface, place: Place) {
        self.state.rests(part, surface);
        let what = Contact::On { part, place: surface, slides: false, light: false };
        self.pose.contacts.push(Said { what, place });
    }

    /// A part leaves whatever it touched.
    pub fn release(&mut self, part: Spot, place: Place) {
        self.state.contacts.retain(|(s, _)| *s != part);
        // `soles on floor, left foot off floor`: the later word counts.
        self.pose.contacts.retain(|c| !matches!(c.what, Contact::On { part: on, .. } if on == part));
        if !self.pose.releases.iter().any(|r| r.what.part == part) {
            self.pose.releases.push(Said { what: Release { part }, place });
        }
    }

    /// Tells that what stands after `on` is no surface.
    pub fn no_surface(&mut self, c: &mut Cursor, from: usize, place: Place) {
        while !c.at_boundary() {
            c.at += 1;
        }
        if from == c.at {
            self.tell(
                OfPose::TouchesNothing,
                place,
                Some(Edit { place: Place { start: place.end, ..place }, with: " floor".to_string() }),
            );
            return;
        }
        let place = c.place_since(from);
        let words: Vec<String> = c
            .tokens
            .get(from..c.at)
            .unwrap_or(&[])
            .iter()
            .filter_map(|t| match &t.kind {
                Kind::Word(w) => Some(w.clone()),
                _ => None,
            })
            .collect();
        let typed = words.join(" ");
        let last = words.last().cloned().unwrap_or_default();
        let known = || {
            ["floor"]
                .into_iter()
                .chain(PropKind::ALL.iter().map(|p| p.word()))
                .chain(super::vocabulary::TERMS.iter().flat_map(|t| t.words.iter().copied()))
        };
        let mut near = nearest(&typed, known());
        if near.is_empty() {
            near = nearest(&last, known());
        }
        let edit = match near.as_slice() {
            [one] => (*one).to_string(),
            _ => "floor".to_string(),
        };
        self.tell(
            OfPose::TouchesUnknown { typed, things: vec!["wall", "chair", "bench", "step", "ball"] },
            place,
            Some(Edit { place, with: edit }),
        );
    }

    /// Notes that a thing is touched; it may be named later in the pose.
    pub fn need(&mut self, kind: PropKind, place: Place, by: Option<Spot>) {
        self.needs.push((kind, place, by));
    }

    /// Sees to it that a thing that is touched is there, and says so where it was not named.
    pub fn provide(&mut self, kind: PropKind, place: Place, by: Option<Spot>) {
        if self.state.has(kind) || kind == PropKind::Mat {
            return;
        }
        let with_back = [PropKind::Chair];
        if kind == PropKind::ChairBack
            && let Some(chair) = self.state.props.iter().find(|p| with_back.contains(&p.kind)).cloned()
        {
            self.prop(Prop { kind, cm: None, fit: chair.fit }, place);
            return;
        }
        let fit = if matches!(kind, PropKind::Wall | PropKind::Doorway) {
            Fit::At(wall_side(by))
        } else {
            Fit::Stands
        };
        let named = match (&fit, kind.usual_cm()) {
            (Fit::At(d), _) => format!("{} {}", kind.word(), way(*d)),
            (_, Some(cm)) => format!("{} {} cm", kind.word(), crate::measure::shown(cm, 0)),
            _ => kind.word().to_string(),
        };
        self.tell(
            OfPose::ThingNotNamed { thing: kind.word(), assumed: named.clone() },
            place,
            Some(Edit { place: Place { start: place.end, ..place }, with: format!(", {named}") }),
        );
        self.prop(Prop { kind, cm: None, fit }, place);
    }
}

/// A back that leans on a seat's back touches it with the blades and the pelvis; the head is above it.
fn leaning(spots: Vec<Spot>, on: Option<Surface>) -> Vec<Spot> {
    let seat = matches!(
        on,
        Some(Surface::Prop(PropKind::Chair | PropKind::ChairBack | PropKind::Sofa | PropKind::Bench))
    );
    let each = |s: Spot| match s.region {
        Region::WholeBack if seat => vec![spot(Region::UpperBack, None), spot(Region::Sacrum, None)],
        _ => vec![s],
    };
    spots.into_iter().flat_map(each).collect()
}

/// Things that lie between a part and what carries it.
fn is_cushion(kind: PropKind) -> bool {
    matches!(kind, PropKind::Pillow | PropKind::Towel)
}

/// The side on which a wall stands that this part touches.
fn wall_side(by: Option<Spot>) -> Direction {
    use Region::*;
    match by.map(|s| (s.region, s.side)) {
        Some((
            BackOfHead | UpperBack | LowerBack | WholeBack | Sacrum | Seat | Heel | ThighBack | Calf,
            _,
        )) => Direction::Back,
        Some((HipSide | ShoulderSide | AnkleOuter | KneeOuter | FootOuter, Some(Side::Right))) => {
            Direction::Right
        }
        Some((HipSide | ShoulderSide | AnkleOuter | KneeOuter | FootOuter, Some(Side::Left))) => {
            Direction::Left
        }
        _ => Direction::Forward,
    }
}

/// A direction as it stands behind a thing: `wall in front`.
pub fn way(direction: Direction) -> &'static str {
    match direction {
        Direction::Forward => "in front",
        Direction::Back => "behind",
        Direction::Up => "above",
        Direction::Down => "below",
        Direction::Right => "right",
        Direction::Left => "left",
        Direction::In => "on the inside",
        Direction::Out => "on the outside",
    }
}

/// What follows `on`: one surface for all, or one for each side. Declares a thing that has its size or place.
pub fn surface(reader: &mut Reader, c: &mut Cursor, what: Option<Part>) -> Option<Vec<Surface>> {
    let start = c.at;
    if c.eat_any(&["floor", "ground", "carpet"]).is_some() {
        return Some(vec![Surface::Floor]);
    }
    if c.eat("mat") {
        reader.prop(Prop { kind: PropKind::Mat, cm: None, fit: Fit::Stands }, c.place_since(start));
        return Some(vec![Surface::Floor]);
    }
    if let Some(tread) = things::tread(c) {
        let kind = PropKind::Stairs;
        let cm = things::size_after(c);
        let fit = things::stands_where(c);
        let place = c.place_since(start);
        if cm.is_some() || fit.is_some() {
            reader.prop(Prop { kind, cm, fit: fit.unwrap_or(Fit::Stands) }, place);
        } else {
            reader.need(kind, place, None);
        }
        return Some(vec![Surface::Tread(tread)]);
    }
    let named = c.eat_any(&["front edge of", "near edge of", "edge of", "top of", "end of", "side of"]);
    let edge = usize::from(named.is_some());
    let at_thing = c.at;
    let size = things::size_before(c);
    if let Some(kind) = things::kind(c).map(|kind| reader.band_there(kind)) {
        let after = c.eat_any(&["edge", "seat", "top"]);
        let at_edge = after == Some("edge") || named.is_some_and(|n| n.ends_with("edge of"));
        let cm = size.or_else(|| things::size_after(c));
        let fit = things::stands_where(c);
        let place = c.place_since(start);
        if is_cushion(kind) {
            // A pillow or towel is under whatever lies on it.
            let under: Vec<Spot> = what.map(|p| spots(reader, p, Role::OnThing)).unwrap_or_default();
            let there =
                reader.state.props.iter().any(|p| p.kind == kind && p.fit == Fit::Under(under.clone()));
            if !there && !under.is_empty() {
                reader.prop(Prop { kind, cm, fit: Fit::Under(under) }, place);
            }
        } else if cm.is_some() || fit.is_some() {
            reader.prop(Prop { kind, cm, fit: fit.unwrap_or(Fit::Stands) }, place);
        } else {
            let by = what.and_then(|p| spots(reader, p, Role::OnThing).first().copied());
            reader.need(kind, place, by);
        }
        // Who sits or stands on an edge is carried by the top.
        let back = what.is_some_and(|p| {
            spots(reader, p, Role::OnThing)
                .iter()
                .any(|s| matches!(s.region, Region::UpperBack | Region::LowerBack | Region::BackOfHead))
        });
        return Some(vec![if at_edge && back { Surface::Edge(kind) } else { Surface::Prop(kind) }]);
    }
    c.at = if edge == 1 && size.is_none() { start } else { at_thing.min(start) };
    let touched = part(c, reader.stance())?;
    let stance = reader.stance();
    if touched.given == Given::Unsaid && touched.term.is_paired() {
        // `right ankle on knee`: legs cross, a hand goes to its own side.
        let crosses = what.is_some_and(|p| p.term.is_leg() && touched.term.is_leg());
        return match what.map(|p| p.given) {
            Some(Given::One(side)) => {
                let side = if crosses { side.other() } else { side };
                let all = spots_in(stance, Part { given: Given::One(side), ..touched }, Role::Under);
                Some(all.into_iter().map(Surface::Body).collect())
            }
            _ => Some(
                spots_in(stance, Part { given: Given::Both, ..touched }, Role::Under)
                    .into_iter()
                    .map(Surface::Body)
                    .collect(),
            ),
        };
    }
    let all = spots_in(stance, touched, Role::Under);
    if all.is_empty() { None } else { Some(all.into_iter().map(Surface::Body).collect()) }
}

/// Adds `parts on surfaces`; the cursor stands after `on`.
pub fn on(
    reader: &mut Reader,
    c: &mut Cursor,
    parts: &[Part],
    start: usize,
    slides: bool,
    light: bool,
) -> Went {
    let from = c.at;
    let Some(surfaces) = surface(reader, c, parts.first().copied()) else {
        let place = c.place_since(start);
        reader.no_surface(c, from, place);
        return Went::Told;
    };
    // `towards seat`, `for balance`, `lightly`: the way of a slide is known from where it ends.
    let mut light = light;
    loop {
        let back = c.at;
        if c.eat_any(&["towards", "toward", "up towards", "away from"]).is_some() {
            if part(c, reader.stance()).is_none() && super::asks::direction(c).is_none() {
                c.at = back;
            }
        } else if c.eat_any(&["at shoulder height", "at shoulder level"]).is_some() {
            // The arm's axis runs from shoulder to wrist.
            let place = c.place_since(start);
            for p in parts.iter().filter(|p| {
                matches!(p.term.piece, super::vocabulary::Piece::Hand | super::vocabulary::Piece::Forearm)
            }) {
                for side in super::clause::sides(p).each() {
                    reader.ask(Ask::Level(Bit::Arm(side)), place);
                }
            }
        } else if c.eat_any(&["for balance", "for support", "lightly", "light touch"]).is_some() {
            light = true;
        } else if slides
            && c.eat_any(&["upwards", "downwards", "forwards", "backwards", "up", "down", "forward", "back"])
                .is_some()
        {
        }
        if c.at == back {
            break;
        }
    }
    let place = c.place_since(start);
    for p in parts {
        reader.side_said(p);
        let role = surfaces.first().map_or(Role::OnFloor, |s| role(*s));
        let mine = leaning(spots(reader, *p, role), surfaces.first().copied());
        if mine.is_empty() {
            reader.tell(
                OfPose::NoSkin { word: p.term.word() },
                p.place,
                Some(Edit { place: p.place, with: "back".to_string() }),
            );
            continue;
        }
        for spot in mine {
            // The surface of the same side, where there is one for each.
            let surface = surfaces
                .iter()
                .find(|s| matches!(s, Surface::Body(b) if b.side == spot.side && 1 < surfaces.len()))
                .or(surfaces.first());
            let Some(surface) = surface.copied() else { continue };
            if surface == Surface::Body(spot) {
                reader.tell(OfPose::TouchesItself, place, Some(Edit { place, with: String::new() }));
                continue;
            }
            reader.state.rests(spot, surface);
            reader
                .pose
                .contacts
                .push(Said { what: Contact::On { part: spot, place: surface, slides, light }, place });
        }
    }
    Went::Well
}

/// Adds `parts over the edge of a thing`; the cursor stands after `edge` or `edge of`.
pub fn beyond(reader: &mut Reader, c: &mut Cursor, parts: &[Part], start: usize) -> Went {
    let from = c.at;
    let size = things::size_before(c);
    let named = things::kind(c);
    if let (Some(kind), Some(cm)) = (named, size.or_else(|| things::size_after(c))) {
        reader.prop(Prop { kind, cm: Some(cm), fit: Fit::Stands }, c.place_since(from));
    }
    let place = c.place_since(start);
    for p in parts {
        reader.side_said(p);
        for one in spots(reader, *p, Role::OnThing) {
            // The edge is that of what the rest of the limb lies on.
            let end = |s: Spot| crate::pose::settle::end_of(s.region);
            let lies_on = reader.state.contacts.iter().rev().find_map(|(s, surface)| match surface {
                Surface::Prop(kind) if s.side == one.side && end(*s) == end(one) => Some(*kind),
                _ => None,
            });
            let Some(kind) = named.or(lies_on) else {
                reader.tell(
                    OfPose::EdgeOfWhat,
                    place,
                    Some(Edit { place: Place { start: place.end, ..place }, with: " of table".to_string() }),
                );
                return Went::Well;
            };
            reader.ask(Ask::Beyond { part: one, edge_of: kind }, place);
            if let (Region::Heel | Region::Sole, Some(side)) = (one.region, one.side) {
                raise_heel(reader, side, place);
            }
            for region in parts::family(p.term, one.side, reader.stance()) {
                reader.release(spot(region, one.side), place);
            }
        }
    }
    Went::Well
}

/// `light touch right hand on chair back`; the cursor stands after `light touch`.
pub fn light(reader: &mut Reader, c: &mut Cursor, start: usize) -> Went {
    let _ = c.eat_any(&["with", "of", "from"]);
    let mut parts = reader.subjects(c);
    if c.eat_any(&["on", "to", "against", "at"]).is_none() {
        return Went::Unknown;
    }
    if parts.is_empty() {
        let hand = super::vocabulary::TERMS.iter().find(|t| t.word() == "hand");
        let place = c.place_since(start);
        parts = hand.map(|term| Part { term, given: Given::Both, place }).into_iter().collect();
    }
    on(reader, c, &parts, start, false, true)
}

/// Adds `hands hold X`; the cursor stands after `hold`.
pub fn hold(reader: &mut Reader, c: &mut Cursor, hands: &[Part], start: usize) -> Went {
    let _ = c.eat_any(&["on to", "onto", "round", "around", "behind", "under", "of"]);
    let from = c.at;
    let size = things::size_before(c);
    if let Some(kind) = things::kind(c) {
        let cm = size.or_else(|| things::size_after(c));
        things::weight(c);
        let place = c.place_since(start);
        let mut hands: Vec<Part> = hands.to_vec();
        // `hold dumbbell in right hand`.
        if c.eat_any(&["in", "with"]).is_some()
            && let Some(p) = part(c, reader.stance())
        {
            hands = vec![p];
        }
        let sides: Vec<Side> = hands.iter().flat_map(|p| super::clause::sides(p).each()).collect();
        if !reader.state.has(kind) {
            let fit = match (sides.as_slice(), stands_alone(kind)) {
                (_, true) => Fit::Stands,
                ([one], _) => Fit::In(crate::body::names::Sides::One(*one)),
                _ => Fit::In(crate::body::names::Sides::Both),
            };
            reader.prop(Prop { kind, cm, fit }, place);
        }
        for hand in sides {
            reader.pose.contacts.push(Said { what: Contact::Hold { hand, what: Held::Prop(kind) }, place });
        }
        return Went::Well;
    }
    c.at = from;
    let Some(held) = part(c, reader.stance()) else {
        let place = c.place_since(start);
        reader.no_surface(c, from, place);
        return Went::Told;
    };
    let place = c.place_since(start);
    let sides: Vec<Side> = hands.iter().flat_map(|p| super::clause::sides(p).each()).collect();
    if !matches!(hands.first().map(|p| p.given), Some(Given::One(_))) {
        reader.side_said(&held);
    }
    for hand in sides {
        let given = match held.given {
            Given::Both => Given::One(hand),
            Given::Unsaid if matches!(hands.first().map(|p| p.given), Some(Given::One(_))) => {
                Given::One(hand)
            }
            g => g,
        };
        let Some(spot) = spots(reader, Part { given, ..held }, Role::Held).first().copied() else { continue };
        if spot.region == Region::Palm && spot.side == Some(hand) {
            continue;
        }
        reader.pose.contacts.push(Said { what: Contact::Hold { hand, what: Held::Body(spot) }, place });
    }
    Went::Well
}

fn stands_alone(kind: PropKind) -> bool {
    use PropKind::*;
    matches!(kind, Chair | ChairBack | Worktop | Rail | Frame | Table | Bed | Bench | Doorway | Step | Stairs)
}

/// `hold right shin with both hands`, `holding a stick`: a grip that starts with its verb.
pub fn grip(reader: &mut Reader, c: &mut Cursor) -> Option<Went> {
    let start = c.at;
    c.eat_any(&[
        "hold on to",
        "hold onto",
        "holding on to",
        "hold",
        "holding",
        "grip",
        "gripping",
        "hug",
        "hugging",
        "clasp",
    ])?;
    if c.numeral(0).is_some() && !matches!(c.word(1), "cm" | "mm" | "m" | "kg" | "in" | "inch" | "inches") {
        // `hold 5 s` belongs to the dose.
        c.at = start;
        return None;
    }
    // The hands may be named behind.
    let mut look = c.clone();
    let mut hands = None;
    while !look.is_done() && !look.peek(0).is_some_and(|t| t.kind == Kind::Stop) {
        if look.eat("with") || look.eat("in") {
            hands = part(&mut look, reader.stance()).filter(|p| p.term.word() == "hand");
            break;
        }
        look.at += 1;
    }
    let term = super::vocabulary::TERMS.iter().find(|t| t.word() == "hand")?;
    let both = Part { term, given: Given::Both, place: c.place_since(start) };
    let went = hold(reader, c, &[hands.unwrap_or(both)], start);
    if hands.is_some() && (c.eat("with") || c.eat("in")) {
        let _ = part(c, reader.stance());
    }
    Some(went)
}

/// Adds `parts off surface`; the cursor stands after `off`.
pub fn off(reader: &mut Reader, c: &mut Cursor, parts: &[Part], start: usize) -> Went {
    let from = c.at;
    if c.eat_any(&["floor", "ground", "mat"]).is_none() {
        if things::kind(c).is_some() {
            let _ = c.eat_any(&["seat", "top", "edge"]);
        } else if part(c, reader.stance()).is_none() && !c.at_boundary() {
            c.at = from;
        }
    }
    let place = c.place_since(start);
    let stance = reader.stance();
    for p in parts {
        reader.side_said(p);
        let sides: Vec<Side> = match p.given {
            Given::One(side) => vec![side],
            Given::Unsaid => vec![Side::Right],
            Given::Both => Side::BOTH.to_vec(),
        };
        for side in sides {
            let heel = p.term.word() == "heel";
            if heel {
                raise_heel(reader, side, place);
            }
            for region in parts::family(p.term, Some(side), stance) {
                reader.release(spot(region, Some(side)), place);
            }
        }
    }
    Went::Well
}

/// Where the whole sole was down, the ball of the foot stays when the heel leaves.
pub fn raise_heel(reader: &mut Reader, side: Side, place: Place) {
    let sole = spot(Region::Sole, Some(side));
    let ball = spot(Region::Forefoot, Some(side));
    let on = |part: Spot| reader.state.contacts.iter().find(|(s, _)| *s == part).map(|(_, surface)| *surface);
    // What the ball stands on already it goes on standing on.
    if let (Some(surface), None) = (on(sole), on(ball)) {
        reader.touch(ball, surface, place);
    }
}

/// How the place of a thing is written.
pub fn need_hint(kind: PropKind) -> &'static str {
    use PropKind::*;
    match kind {
        LoopBand | AnkleWeight | Belt => "`round` and a part of the body, such as `round thighs`",
        LongBand | Strap => {
            "`round` a part, or `from` where `to` where, such as `from door at elbow height to right hand`"
        }
        Dumbbell | Stick => "`in` a hand, such as `in right hand`",
        Pillow | Towel | Roller => "`under` or `between` parts of the body, such as `under head`",
        _ => "`in front`, `behind`, `right` or `left`",
    }
}
