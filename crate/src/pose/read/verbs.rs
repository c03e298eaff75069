//! Clauses that open with what to do, and those that go on about the parts before.

use super::Reader;
use super::asks::{LEANING, LEANING_SLIGHTLY, PELVIS, TIPTOE, TUCK, direction, number_of, slightly};
use super::clause::Went;
use super::contacts;
use super::motions::{self, motion};
use super::parts::{Given, Part};
use super::vocabulary::{Piece, TERMS};
use super::words::Cursor;
use crate::body::names::{Joint, Motion, Region, Side, Sides};
use crate::notice::Edit;
use crate::notice::kinds::pose::OfPose;
use crate::pose::ask::{Ask, Bit, Direction, PropKind, Release, Said, Spot, Surface};

/// A clause that opens with what to do: `bend right knee 90`, `lift left leg off floor`, `turn trunk right 30`.
pub fn verb(reader: &mut Reader, c: &mut Cursor) -> Option<Went> {
    let start = c.at;
    if c.eat_any(&["lean", "leaning"]).is_some() {
        let term = TERMS.iter().find(|t| t.word() == "trunk")?;
        let trunk = Part { term, given: Given::Both, place: c.place_since(start) };
        let slight = slightly(c);
        let towards = direction(c).unwrap_or(Direction::Forward);
        let slight = slight || slightly(c);
        let _ = c.eat_any(&["to", "by", "at"]);
        let degrees = c.take_number().unwrap_or(if slight { LEANING_SLIGHTLY } else { LEANING });
        let place = c.place_since(start);
        return Some(reader.bitwise(&[trunk], place, |what| Ask::Leaning {
            what,
            direction: towards,
            degrees,
        }));
    }
    if c.eat_any(&["on tiptoe", "on tiptoes", "up on toes", "on toes", "rise onto toes"]).is_some() {
        let place = c.place_since(start);
        for side in Side::BOTH {
            contacts::raise_heel(reader, side, place);
            for region in [Region::Heel, Region::Sole] {
                let part = Spot { side: Some(side), region };
                reader.pose.releases.push(Said { what: Release { part }, place });
            }
        }
        reader.imply(
            Ask::Angle {
                sides: Sides::Both,
                joint: Joint::Ankle,
                motion: Motion::PlantarFlexion,
                degrees: TIPTOE,
            },
            place,
        );
        return Some(Went::Well);
    }
    if c.eat_any(&["tuck chin in", "tuck chin"]).is_some() {
        let amount = number_of(c).unwrap_or(TUCK);
        reader.tuck_chin(amount, c.place_since(start));
        return Some(Went::Well);
    }
    if let Some(motion) = pelvis(c) {
        let degrees = number_of(c).unwrap_or(PELVIS);
        let place = c.place_since(start);
        reader.ask(Ask::Angle { sides: Sides::Both, joint: Joint::LowerBack, motion, degrees }, place);
        return Some(Went::Well);
    }
    if (c.numeral(0).is_some() && matches!(c.word(1), "s" | "sec" | "secs" | "second" | "seconds"))
        || matches!(c.word(0), "over" | "takes" | "in")
            && c.numeral(1).is_some()
            && matches!(c.word(2), "s" | "sec" | "secs" | "second" | "seconds")
    {
        return Some(seconds(reader, c, start));
    }
    if c.eat_any(&[
        "sit back in",
        "sit back on",
        "sitting back in",
        "sitting back on",
        "sit back",
        "sitting back",
    ])
    .is_some()
    {
        let named = super::things::kind(c);
        let there = [PropKind::Sofa, PropKind::Chair].into_iter().find(|k| reader.state.has(*k));
        let kind = named.or(there).unwrap_or(PropKind::Chair);
        let place = c.place_since(start);
        for region in [Region::UpperBack, Region::Sacrum] {
            reader.touch(Spot { side: None, region }, Surface::Prop(kind), place);
        }
        reader.need(kind, place, None);
        return Some(Went::Well);
    }
    if c.eat_any(&["stand tall", "sit tall", "sit upright", "stand upright"]).is_some() {
        reader.ask(Ask::Upright(Bit::Trunk), c.place_since(start));
        return Some(Went::Well);
    }
    // `30 degrees of right hip abduction`
    if c.numeral(0).is_some() && !matches!(c.word(1), "cm" | "mm" | "m") {
        let amount = c.take_number();
        let _ = c.eat_any(&["of", "in"]);
        let parts = reader.subjects(c);
        if let (false, Some(said), Some(amount)) = (parts.is_empty(), motion(c), amount) {
            let toward = motions::towards(c);
            let place = c.place_since(start);
            for p in &parts {
                reader.said_angle(p, said, Some(amount), false, toward, place, place);
            }
            reader.last = parts;
            return Some(Went::Well);
        }
        c.at = start;
        return None;
    }
    let verb = c.eat_any(&[
        "slide",
        "sliding",
        "bend",
        "bending",
        "flex",
        "straighten",
        "lift",
        "lifting",
        "raise",
        "raising",
        "turn",
        "turning",
        "rotate",
        "twist",
        "rest",
        "place",
        "put",
        "keep",
        "keeping",
        "bring",
        "touch",
        "drop",
        "let",
        "hang",
        "reach",
        "stretch",
        "extend",
        "point",
        "move",
        "press",
        "rock",
        "shift",
    ])?;
    let parts = reader.subjects(c);
    if parts.is_empty() {
        c.at = start;
        return None;
    }
    let went = match verb {
        "slide" | "sliding" => {
            let _ = c.eat_any(&["up", "down", "back", "forward"]);
            let _ = c.eat_any(&["along", "on", "over", "across", "against"]);
            contacts::on(reader, c, &parts, start, true, false)
        }
        "straighten" | "extend" | "stretch" if c.at_boundary() => {
            let place = c.place_since(start);
            for p in &parts {
                reader.straight(p, place);
            }
            Went::Well
        }
        "bend" | "bending" | "flex" => with_motion(reader, c, &parts, start, motions::Said::Bent),
        "turn" | "turning" | "rotate" | "twist" => {
            if matches!(c.word(0), "out" | "outwards" | "outward") {
                c.at += 1;
                with_motion(reader, c, &parts, start, motions::Said::TurnedOut)
            } else if matches!(c.word(0), "in" | "inwards" | "inward") {
                c.at += 1;
                with_motion(reader, c, &parts, start, motions::Said::TurnedIn)
            } else {
                with_motion(reader, c, &parts, start, motions::Said::Rotation(None))
            }
        }
        "lift" | "lifting" | "raise" | "raising" => {
            if c.eat_any(&["clear of", "off", "from"]).is_some() || c.at_boundary() {
                contacts::off(reader, c, &parts, start)
            } else {
                let back = c.at;
                let said = motion(c);
                match said {
                    Some(said) => with_motion(reader, c, &parts, start, said),
                    None => {
                        c.at = back;
                        if c.eat_any(&["forward", "forwards"]).is_some() {
                            with_motion(reader, c, &parts, start, motions::Said::Plain(Motion::Flexion))
                        } else if c.word(0) == "overhead"
                            || c.word(0) == "up" && parts.iter().all(|p| p.term.piece == Piece::Arm)
                        {
                            reader.arm_way(c, &parts, start).unwrap_or(Went::Unknown)
                        } else {
                            with_motion(reader, c, &parts, start, motions::Said::Raised)
                        }
                    }
                }
            }
        }
        "press" => {
            c.at = start;
            return None;
        }
        _ => {
            let _ = c.eat_any(&["to rest"]);
            reader.predicate(c, &parts, start)
        }
    };
    if went == Went::Well {
        reader.last = parts;
    }
    Some(went)
}

fn with_motion(
    reader: &mut Reader,
    c: &mut Cursor,
    parts: &[Part],
    start: usize,
    said: motions::Said,
) -> Went {
    let slight = slightly(c);
    let before = c.at;
    let mut toward = motions::towards(c);
    if toward.is_some() && c.at_boundary() && before == c.at {
        toward = None;
    }
    let amount = number_of(c);
    let toward = toward.or_else(|| motions::towards(c));
    let place = c.place_since(start);
    for p in parts {
        let side = if p.term.is_paired() {
            toward
        } else {
            toward.or(match p.given {
                Given::One(s) => Some(s),
                _ => None,
            })
        };
        reader.said_angle(p, said, amount, slight, side, place, place);
    }
    Went::Well
}

/// `3 s`, `over 3 seconds`: how long the way to this pose takes.
pub fn seconds(reader: &mut Reader, c: &mut Cursor, start: usize) -> Went {
    let _ = c.eat_any(&["over", "takes", "in"]);
    match c.take_number() {
        Some(n)
            if c.eat_any(&["seconds", "second", "secs", "sec", "s"]).is_some()
                && (0.2..=60.0).contains(&n) =>
        {
            reader.pose.seconds = Some(n);
            Went::Well
        }
        _ => {
            while !c.at_boundary() {
                c.at += 1;
            }
            let place = c.place_since(start);
            reader.tell(OfPose::OddSeconds, place, Some(Edit { place, with: "over 3 s".to_string() }));
            Went::Told
        }
    }
}

/// A motion without a subject goes on about the parts before: `right hip flexion 90, abduction 20`.
pub fn continued(reader: &mut Reader, c: &mut Cursor, start: usize) -> Went {
    let last = reader.last.clone();
    if last.is_empty() {
        return Went::Unknown;
    }
    let back = c.at;
    if motion(c).is_none() {
        c.at = back;
        let relation = matches!(c.word(0), "straight" | "level" | "upright" | "on" | "off" | "in" | "flat");
        if !relation {
            return Went::Unknown;
        }
    }
    c.at = back;
    reader.predicate(c, &last, start)
}

/// The tilt of the pelvis as the motion of the lower back: `posterior pelvic tilt` rounds it.
fn pelvis(c: &mut Cursor) -> Option<Motion> {
    let start = c.at;
    if c.eat_any(&["tilt pelvis back", "tuck pelvis", "tuck tailbone under"]).is_some() {
        return Some(Motion::Flexion);
    }
    if c.eat("tilt pelvis forward") {
        return Some(Motion::Extension);
    }
    let before = c.eat_any(&["posterior", "anterior"]);
    if c.eat("pelvic") && c.eat("tilt") {
        let behind = c.eat_any(&["backwards", "back", "forwards", "forward"]);
        match before.or(behind) {
            Some("posterior" | "back" | "backwards") => return Some(Motion::Flexion),
            Some(_) => return Some(Motion::Extension),
            None => {}
        }
    }
    c.at = start;
    None
}
