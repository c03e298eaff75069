//! Things: `wall in front`, `bench 45 cm`, `loop band round thighs`, `pillow under head`,
//! `long band from door at elbow height to right hand`, `dumbbell in right hand`.

use super::contacts::{need_hint, spots};
use super::parts::{Given, Part, Role, part};
use super::words::{Cursor, singular};
use super::{Reader, clause};
use crate::body::names::Sides;
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::{Anchor, Direction, Fit, Height, Posture, Prop, PropKind, Spot, Surface};

/// Words for things; each word in the singular.
const THINGS: &[(&str, PropKind)] = &[
    ("exercise mat", PropKind::Mat),
    ("mat", PropKind::Mat),
    ("bed", PropKind::Bed),
    ("couch", PropKind::Bed),
    ("plinth", PropKind::Bed),
    ("sofa", PropKind::Sofa),
    ("settee", PropKind::Sofa),
    ("bench", PropKind::Bench),
    ("back of chair", PropKind::ChairBack),
    ("chair back", PropKind::ChairBack),
    ("backrest", PropKind::ChairBack),
    ("chair", PropKind::Chair),
    ("stool", PropKind::Chair),
    ("seat of chair", PropKind::Chair),
    ("chair seat", PropKind::Chair),
    ("bottom step", PropKind::Step),
    ("step", PropKind::Step),
    ("stair", PropKind::Stairs),
    ("staircase", PropKind::Stairs),
    ("kitchen table", PropKind::Table),
    ("table", PropKind::Table),
    ("desk", PropKind::Table),
    ("kitchen worktop", PropKind::Worktop),
    ("worktop", PropKind::Worktop),
    ("counter", PropKind::Worktop),
    ("kitchen counter", PropKind::Worktop),
    ("banister", PropKind::Rail),
    ("handrail", PropKind::Rail),
    ("grab rail", PropKind::Rail),
    ("rail", PropKind::Rail),
    ("walking frame", PropKind::Frame),
    ("frame", PropKind::Frame),
    ("walker", PropKind::Frame),
    ("wall", PropKind::Wall),
    ("doorway", PropKind::Doorway),
    ("door frame", PropKind::Doorway),
    ("gym ball", PropKind::Ball),
    ("exercise ball", PropKind::Ball),
    ("soft ball", PropKind::Ball),
    ("small ball", PropKind::Ball),
    ("ball", PropKind::Ball),
    ("foam roller", PropKind::Roller),
    ("roller", PropKind::Roller),
    ("bolster", PropKind::Roller),
    ("pillow", PropKind::Pillow),
    ("cushion", PropKind::Pillow),
    ("rolled towel", PropKind::Towel),
    ("rolled up towel", PropKind::Towel),
    ("folded towel", PropKind::Towel),
    ("towel roll", PropKind::Towel),
    ("towel", PropKind::Towel),
    ("pad", PropKind::Towel),
    ("strap", PropKind::Strap),
    ("stick", PropKind::Stick),
    ("broom handle", PropKind::Stick),
    ("broomstick", PropKind::Stick),
    ("cane", PropKind::Stick),
    ("pole", PropKind::Stick),
    ("loop band", PropKind::LoopBand),
    ("band loop", PropKind::LoopBand),
    ("looped band", PropKind::LoopBand),
    ("resistance band", PropKind::LongBand),
    ("elastic band", PropKind::LongBand),
    ("exercise band", PropKind::LongBand),
    ("long band", PropKind::LongBand),
    ("band", PropKind::LongBand),
    ("dumbbell", PropKind::Dumbbell),
    ("dumb bell", PropKind::Dumbbell),
    ("hand weight", PropKind::Dumbbell),
    ("weight", PropKind::Dumbbell),
    ("ankle weight", PropKind::AnkleWeight),
    ("cuff weight", PropKind::AnkleWeight),
    ("pelvic belt", PropKind::Belt),
    ("belt", PropKind::Belt),
];

/// The kind of thing at the cursor, by its longest words.
pub fn kind(c: &mut Cursor) -> Option<PropKind> {
    let mut best: Option<(usize, PropKind)> = None;
    for (phrase, kind) in THINGS {
        let n = phrase.split(' ').count();
        if phrase.split(' ').enumerate().all(|(k, w)| singular(c.word(k)) == w || c.word(k) == w)
            && best.is_none_or(|(most, _)| most < n)
        {
            best = Some((n, *kind));
        }
    }
    let (n, kind) = best?;
    if kind == PropKind::Ball && c.word(n) == "of" {
        // `ball of the foot` is a part.
        return None;
    }
    c.at += n;
    Some(kind)
}

/// `second stair`, `third step of the stairs`: which tread of the stairs.
pub fn tread(c: &mut Cursor) -> Option<u8> {
    let start = c.at;
    let which = c.eat_any(&["first", "bottom", "lowest", "second", "next", "third", "fourth"])?;
    let stairs = ["stair", "tread", "step of stairs", "step of staircase"].into_iter().any(|w| c.eat(w));
    let step = !stairs && !matches!(which, "bottom" | "lowest") && c.eat("step");
    if !stairs && !step {
        c.at = start;
        return None;
    }
    let _ = c.eat_any(&["of stairs", "of staircase"]);
    Some(match which {
        "second" | "next" => 2,
        "third" => 3,
        "fourth" => 4,
        _ => 1,
    })
}

/// `45 cm` before a thing: `45 cm bench`, `2 kg dumbbell`.
pub fn size_before(c: &mut Cursor) -> Option<f64> {
    let start = c.at;
    let _ = weight(c);
    let cm = c.length();
    let _ = c.eat_any(&["high", "tall", "long", "wide", "thick"]);
    let mut look = c.clone();
    if kind(&mut look).is_none() {
        c.at = start;
        return None;
    }
    cm
}

pub fn size_after(c: &mut Cursor) -> Option<f64> {
    let _ = c.eat_any(&["height", "of"]);
    let cm = c.length();
    let _ = c.eat_any(&["in diameter", "across", "high", "tall", "long", "thick", "height"]);
    cm
}

/// `2 kg`: the dose carries the load, the pose only the thing.
pub fn weight(c: &mut Cursor) -> bool {
    if c.numeral(0).is_some()
        && matches!(c.word(1), "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" | "lb" | "lbs" | "g")
    {
        c.at += 2;
        return true;
    }
    false
}

/// `in front`, `behind`, `to the right`: which way a standing thing is from the patient.
pub fn stands_where(c: &mut Cursor) -> Option<Fit> {
    let found = [
        ("in front of you", Direction::Forward),
        ("in front of body", Direction::Forward),
        ("in front", Direction::Forward),
        ("ahead", Direction::Forward),
        ("behind you", Direction::Back),
        ("behind back", Direction::Back),
        ("behind", Direction::Back),
        ("at back", Direction::Back),
        ("to right side", Direction::Right),
        ("on right side", Direction::Right),
        ("at right side", Direction::Right),
        ("at right", Direction::Right),
        ("to right", Direction::Right),
        ("on right", Direction::Right),
        ("beside right", Direction::Right),
        ("right side", Direction::Right),
        ("right", Direction::Right),
        ("to left side", Direction::Left),
        ("on left side", Direction::Left),
        ("at left side", Direction::Left),
        ("at left", Direction::Left),
        ("to left", Direction::Left),
        ("on left", Direction::Left),
        ("left side", Direction::Left),
        ("left", Direction::Left),
        ("beside you", Direction::Right),
        ("beside", Direction::Right),
        ("at side", Direction::Right),
    ];
    found.into_iter().find(|(phrase, _)| c.eat(phrase)).map(|(_, d)| Fit::At(d))
}

/// Reads a thing with its size and place; leaves the cursor and says false where there is none.
pub fn declare(reader: &mut Reader, c: &mut Cursor) -> bool {
    let start = c.at;
    let _ = c.eat_any(&["put", "place", "have", "using", "use"]);
    let size = size_before(c);
    let Some(kind) = kind(c) else {
        c.at = start;
        return false;
    };
    let mut cm = size.or_else(|| size_after(c));
    weight(c);
    if c.eat("of") {
        cm = cm.or_else(|| c.length());
    }
    let _ = c.eat_any(&[
        "stands", "standing", "lies", "goes", "tied", "looped", "placed", "fixed", "anchored", "held",
        "folded",
    ]);
    let fit = fit(reader, c, kind);
    cm = cm.or_else(|| size_after(c));
    let place = c.place_since(start);
    if let Some(n) = cm
        && !(0.5..=400.0).contains(&n)
    {
        let usual = kind.usual_cm().unwrap_or(100.0);
        reader.tell(
            OfPose::OddSize { thing: kind.word(), usual: crate::measure::shown(usual, 0) },
            place,
            Some(Edit { place, with: format!("{} {} cm", kind.word(), crate::measure::shown(usual, 0)) }),
        );
        cm = None;
    }
    match fit {
        Ok(fit) => reader.prop(Prop { kind, cm, fit }, place),
        Err(from) => {
            while !c.at_boundary() {
                c.at += 1;
            }
            let place = c.place_since(from);
            reader.tell(
                OfPose::UnknownPlacing { thing: kind.word(), places: need_hint(kind).to_string() },
                place,
                Some(Edit { place, with: String::new() }),
            );
            reader.prop(Prop { kind, cm, fit: Fit::Stands }, place);
        }
    }
    true
}

/// Where a thing goes; the error is the token from which it was not clear.
fn fit(reader: &mut Reader, c: &mut Cursor, kind: PropKind) -> Result<Fit, usize> {
    if c.at_boundary() && c.word(0) != "with" {
        return Ok(Fit::Stands);
    }
    if let Some(fit) = stands_where(c) {
        return Ok(fit);
    }
    let from = c.at;
    if c.eat_any(&["round", "around", "over", "looped round", "on", "across", "about"]).is_some() {
        let over_ground = c.eat_any(&["floor", "ground"]).is_some();
        if over_ground {
            return Ok(Fit::Stands);
        }
        // Straps and bands go round the sole, not over the top of the foot alone.
        let all = several(reader, c, Role::Under).into_iter().map(under_sole).collect::<Vec<_>>();
        return if all.is_empty() { Err(from) } else { Ok(Fit::Round(all)) };
    }
    if c.eat_any(&["in", "held in"]).is_some() {
        let parts = reader.objects(c);
        return match parts.as_slice() {
            [] => Err(from),
            [one] => Ok(Fit::In(match one.given {
                Given::Unsaid => Sides::One(crate::body::names::Side::Right),
                _ => clause::sides(one),
            })),
            _ => Ok(Fit::In(Sides::Both)),
        };
    }
    if c.eat_any(&["under", "underneath", "beneath", "below"]).is_some() {
        let role =
            if matches!(kind, PropKind::Strap | PropKind::LongBand) { Role::OnThing } else { Role::OnFloor };
        let place = c.place_since(from);
        let all = several(reader, c, role);
        for spot in &all {
            if lies_on_it(reader, kind, *spot) {
                reader.touch(*spot, Surface::Prop(kind), place);
            }
        }
        return if all.is_empty() { Err(from) } else { Ok(Fit::Under(all)) };
    }
    if c.eat("between") {
        if let Some(fit) = against_wall(reader, c, kind) {
            return Ok(fit);
        }
        let parts = reader.objects(c);
        let spots: Vec<Spot> = match parts.as_slice() {
            [one] if matches!(one.given, Given::Both | Given::Unsaid) => {
                let inner = Part { given: Given::Both, ..*one };
                spots(reader, inner, Role::OnBody).into_iter().map(facing).collect()
            }
            many => many.iter().flat_map(|p| spots(reader, *p, Role::OnBody)).collect(),
        };
        return match spots.as_slice() {
            [a, b, ..] => Ok(Fit::Between(*a, *b)),
            _ => Err(from),
        };
    }
    if c.eat("from") {
        let anchor = anchor(reader, c).ok_or(from)?;
        if c.eat_any(&["to", "into", "in"]).is_none() {
            return Err(from);
        }
        let Some(to) = part(c, reader.stance()) else { return Err(from) };
        let to = spots(reader, to, Role::OnBody).first().copied().ok_or(from)?;
        return Ok(Fit::FromTo { anchor, to });
    }
    Err(from)
}

/// `lower back and wall`: held between a part and the wall; the cursor stands after `between`.
fn against_wall(reader: &mut Reader, c: &mut Cursor, held: PropKind) -> Option<Fit> {
    let start = c.at;
    let wall = |c: &mut Cursor| kind(c) == Some(PropKind::Wall);
    let first = wall(c) && c.eat("and");
    if !first {
        c.at = start;
    }
    let found = part(c, reader.stance());
    let Some(p) = found.filter(|_| first || (c.eat("and") && wall(c))) else {
        c.at = start;
        return None;
    };
    let place = c.place_since(start);
    let touching = spots(reader, p, Role::OnThing);
    let on = if held == PropKind::Ball { PropKind::Ball } else { PropKind::Wall };
    for spot in &touching {
        reader.touch(*spot, Surface::Prop(on), place);
    }
    let by = touching.first().copied()?;
    reader.need(PropKind::Wall, place, Some(by));
    Some(Fit::Against(by))
}

/// Whether a part that may hang in the air lies on the cushion under it: legs and trunk of someone lying. Heads, arms
/// and feet rest where they are, and the cushion raises them.
fn lies_on_it(reader: &Reader, kind: PropKind, spot: Spot) -> bool {
    let cushion = matches!(kind, PropKind::Pillow | PropKind::Towel);
    let lies = matches!(
        reader.stance().posture,
        Posture::Supine | Posture::CrookLying | Posture::LongSitting | Posture::Prone | Posture::SideLying(_)
    );
    cushion && lies && crate::pose::settle::end_of(spot.region).is_none()
}

fn under_sole(spot: Spot) -> Spot {
    use crate::body::names::Region;
    if spot.region == Region::Instep { Spot { region: Region::Sole, ..spot } } else { spot }
}

/// Two parts that face each other touch with their inner sides.
fn facing(spot: Spot) -> Spot {
    use crate::body::names::Region::*;
    let region = match spot.region {
        KneeFront | KneeBack | KneeOuter | KneeInner | ThighFront | ThighBack => KneeInner,
        AnkleOuter | AnkleInner | Calf | Shin => AnkleInner,
        Sole | Heel | Instep | FootOuter => FootInner,
        r => r,
    };
    Spot { region, ..spot }
}

fn several(reader: &mut Reader, c: &mut Cursor, role: Role) -> Vec<Spot> {
    let parts = reader.objects(c);
    parts.into_iter().flat_map(|p| spots(reader, p, role)).collect()
}

/// `door at elbow height`, `left foot`, `above right`, `door behind at shoulder height`.
fn anchor(reader: &mut Reader, c: &mut Cursor) -> Option<Anchor> {
    let start = c.at;
    let fixed = c.eat_any(&[
        "door handle",
        "door",
        "post",
        "wall",
        "hook",
        "anchor",
        "rail",
        "table leg",
        "chair leg",
        "bed post",
    ]);
    if fixed.is_none() {
        let body = part(c, reader.stance());
        if let Some(p) = body {
            return spots(reader, p, Role::OnThing).first().map(|s| Anchor::Body(*s));
        }
    }
    let at = c.at;
    let mut direction = stands_where(c);
    if direction.is_some() && !matches!(c.word(0), "at" | "to" | "into") {
        direction = None;
        c.at = at;
    }
    let mut height = None;
    if c.eat("at") || c.word(1) == "height" {
        height = c.length().map(Height::Cm).or_else(|| {
            let p = part(c, reader.stance())?;
            let p = if p.given == Given::Unsaid {
                Part { given: Given::One(crate::body::names::Side::Right), ..p }
            } else {
                p
            };
            spots(reader, p, Role::OnBody).first().map(|s| Height::Of(*s))
        });
        let _ = c.eat_any(&["height", "level"]);
    }
    if direction.is_none() {
        let back = c.at;
        direction = stands_where(c);
        // `to right hand` is where the band goes, not where the door is.
        if direction.is_some() && !c.at_boundary() && !matches!(c.word(0), "to" | "into") {
            direction = None;
            c.at = back;
        }
    }
    if fixed.is_none() && direction.is_none() && height.is_none() {
        c.at = start;
        return None;
    }
    let direction = match direction {
        Some(Fit::At(d)) => d,
        _ => Direction::Forward,
    };
    let waist =
        Spot { side: Some(crate::body::names::Side::Right), region: crate::body::names::Region::Elbow };
    Some(Anchor::Fixed { direction, height: height.unwrap_or(Height::Of(waist)) })
}
