//! The line that opens a pose: its name, and the posture or earlier pose that it starts from.

use super::things;
use super::words::{Cursor, Kind, Line};
use super::{Reader, State};
use crate::body::names::Side;
use crate::notice::kinds::pose::OfPose;
use crate::notice::{Edit, Notice};
use crate::pose::ask::{From, Pose, Posture};
use crate::text::Place;
use crate::text::near::nearest;

/// Words for postures; longer ones first where one starts with another. Side words are left out.
const POSTURES: &[(&str, Posture)] = &[
    ("lying on back with knees bent", Posture::CrookLying),
    ("supine with knees bent", Posture::CrookLying),
    ("supine knees bent", Posture::CrookLying),
    ("crook lying", Posture::CrookLying),
    ("hook lying", Posture::CrookLying),
    ("supine crook", Posture::CrookLying),
    ("crook", Posture::CrookLying),
    ("lying on back", Posture::Supine),
    ("lie on back", Posture::Supine),
    ("back lying", Posture::Supine),
    ("supine lying", Posture::Supine),
    ("supine", Posture::Supine),
    ("on back", Posture::Supine),
    ("lying face up", Posture::Supine),
    ("lying on front", Posture::Prone),
    ("lying on stomach", Posture::Prone),
    ("lying on tummy", Posture::Prone),
    ("lying on belly", Posture::Prone),
    ("lying face down", Posture::Prone),
    ("lie on front", Posture::Prone),
    ("lie on tummy", Posture::Prone),
    ("face down", Posture::Prone),
    ("prone lying", Posture::Prone),
    ("prone", Posture::Prone),
    ("on front", Posture::Prone),
    ("front lying", Posture::Prone),
    ("side lying on side", Posture::SideLying(Side::Left)),
    ("side lying on", Posture::SideLying(Side::Left)),
    ("side lying", Posture::SideLying(Side::Left)),
    ("sidelying on", Posture::SideLying(Side::Left)),
    ("sidelying", Posture::SideLying(Side::Left)),
    ("lying on side", Posture::SideLying(Side::Left)),
    ("lie on side", Posture::SideLying(Side::Left)),
    ("on side", Posture::SideLying(Side::Left)),
    ("four point kneeling", Posture::FourPointKneeling),
    ("4 point kneeling", Posture::FourPointKneeling),
    ("four point", Posture::FourPointKneeling),
    ("quadruped", Posture::FourPointKneeling),
    ("on all fours", Posture::FourPointKneeling),
    ("all fours", Posture::FourPointKneeling),
    ("on hands and knees", Posture::FourPointKneeling),
    ("hands and knees", Posture::FourPointKneeling),
    ("prone kneeling", Posture::FourPointKneeling),
    ("half kneeling on knee", Posture::HalfKneeling(Side::Right)),
    ("half kneeling on", Posture::HalfKneeling(Side::Right)),
    ("half kneeling with knee down", Posture::HalfKneeling(Side::Right)),
    ("half kneeling knee down", Posture::HalfKneeling(Side::Right)),
    ("half kneeling", Posture::HalfKneeling(Side::Right)),
    ("half kneel", Posture::HalfKneeling(Side::Right)),
    ("kneeling on one knee", Posture::HalfKneeling(Side::Right)),
    ("high kneeling", Posture::HighKneeling),
    ("tall kneeling", Posture::HighKneeling),
    ("upright kneeling", Posture::HighKneeling),
    ("two point kneeling", Posture::HighKneeling),
    ("kneeling upright", Posture::HighKneeling),
    ("kneeling", Posture::HighKneeling),
    ("long sitting", Posture::LongSitting),
    ("long sit", Posture::LongSitting),
    ("sitting with legs straight", Posture::LongSitting),
    ("sitting with legs out", Posture::LongSitting),
    ("sitting on floor", Posture::LongSitting),
    ("high sitting", Posture::Sitting),
    ("sitting upright", Posture::Sitting),
    ("sitting", Posture::Sitting),
    ("seated", Posture::Sitting),
    ("sit", Posture::Sitting),
    ("chair sitting", Posture::Sitting),
    ("standing upright", Posture::Standing),
    ("upright standing", Posture::Standing),
    ("standing", Posture::Standing),
    ("stand", Posture::Standing),
];

/// The trade's name, as a suggested edit writes it.
const NAMES: [&str; 10] = [
    "standing",
    "sitting",
    "long sitting",
    "lying on back",
    "crook lying",
    "lying on front",
    "lying on the left side",
    "four-point kneeling",
    "high kneeling",
    "half-kneeling",
];

/// A posture at the cursor, side words allowed anywhere within its words.
pub fn posture(cursor: &mut Cursor) -> Option<Posture> {
    let start = cursor.at;
    let mut best: Option<(usize, Posture, Option<Side>)> = None;
    for (phrase, posture) in POSTURES {
        let mut i = start;
        let mut side = None;
        let mut matched = true;
        for wanted in phrase.split(' ') {
            while let Some(s) = side_word(cursor, i) {
                side = Some(s);
                i += 1;
            }
            let here = match cursor.tokens.get(i).map(|t| &t.kind) {
                Some(Kind::Word(w)) => w.as_str(),
                Some(Kind::Number(n)) if *n == 4.0 => "4",
                _ => "",
            };
            if here != wanted {
                matched = false;
                break;
            }
            i += 1;
        }
        if matched && best.is_none_or(|(end, _, _)| end < i) {
            best = Some((i, *posture, side));
        }
    }
    let (end, posture, mut side) = best?;
    cursor.at = end;
    if matches!(posture, Posture::SideLying(_) | Posture::HalfKneeling(_)) && side.is_none() {
        let back = cursor.at;
        let _ = cursor.eat_any(&["on", "with"]);
        side = side_word(cursor, cursor.at);
        if side.is_some() {
            cursor.at += 1;
        } else {
            cursor.at = back;
        }
    }
    match posture {
        Posture::SideLying(_) => {
            let _ = cursor.eat("side");
        }
        Posture::HalfKneeling(_) => {
            // `half-kneeling, left foot forward`: the other knee is down.
            if cursor.eat_any(&["foot forward", "foot in front", "leg forward", "leg in front"]).is_some() {
                side = side.map(Side::other);
            } else {
                let _ = cursor.eat_any(&["knee down", "knee on floor", "knee"]);
            }
        }
        _ => {}
    }
    Some(match (posture, side) {
        (Posture::SideLying(_), Some(s)) => Posture::SideLying(s),
        (Posture::HalfKneeling(_), Some(s)) => Posture::HalfKneeling(s),
        (p, _) => p,
    })
}

fn side_word(cursor: &Cursor, at: usize) -> Option<Side> {
    match cursor.tokens.get(at).map(|t| &t.kind) {
        Some(Kind::Word(w)) => match w.as_str() {
            "right" | "r" | "rt" | "working" => Some(Side::Right),
            "left" | "l" | "lt" | "other" => Some(Side::Left),
            _ => None,
        },
        _ => None,
    }
}

fn same_name(a: &str, b: &str) -> bool {
    let words = |s: &str| s.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
    words(a) == words(b)
}

/// Reads the opening line and leaves the cursor at any clauses behind it.
pub fn header(
    cursor: &mut Cursor,
    line: Line<'_>,
    poses: &[Pose],
    states: &[State],
    notices: &mut Vec<Notice>,
) -> Reader {
    cursor.at += 1;
    if cursor.peek(0).is_some_and(|t| t.kind == Kind::Colon) {
        cursor.at += 1;
    }
    // The name runs to a stop or to `from`, in the letters as typed (small words may be names).
    let name_place = name_of(line);
    let named = name_place.start < name_place.end;
    let first = cursor.at;
    while cursor.peek(0).is_some_and(|t| t.place.start < name_place.end) {
        cursor.at += 1;
    }
    let mut name = if named { slice(line, name_place) } else { format!("pose {}", poses.len() + 1) };
    let mut from: Option<From> = None;
    let mut end_of_name = name_place;
    while cursor.peek(0).is_some_and(|t| t.kind == Kind::Stop) {
        cursor.at += 1;
    }
    // `pose: standing` alone names a posture.
    if named {
        let mut alone = cursor.clone();
        alone.at = first;
        if !cursor.tokens.iter().skip(first).any(|t| t.kind == Kind::Word("from".to_string()))
            && let Some(p) = posture(&mut alone)
            && alone.at_boundary()
        {
            from = Some(From::Posture(p));
            cursor.at = alone.at;
        }
    } else {
        end_of_name = Place { start: line.at.end, end: line.at.end, ..line.at };
        notices.push(Notice::new(OfPose::WithoutName, line.at));
    }
    if poses.iter().any(|p| same_name(&p.name, &name)) {
        let other =
            (2..100).map(|n| format!("{name} {n}")).find(|n| !poses.iter().any(|p| same_name(&p.name, n)));
        let other = other.unwrap_or_else(|| format!("{name} again"));
        let edit = Edit { place: name_place, with: other.clone() };
        notices.push(Notice::new(OfPose::SameName { name }, name_place).with(edit));
        name = other;
    }
    let said_from = cursor.eat("from") || cursor.eat("starting from") || cursor.eat("start from");
    let start = cursor.at;
    if from.is_none() {
        from = earlier(cursor, line, poses).map(From::Earlier).or_else(|| posture(cursor).map(From::Posture));
    }
    let fallback = |poses: &[Pose]| match poses.len() {
        0 => From::Posture(Posture::Standing),
        n => From::Earlier(n - 1),
    };
    let assumed = |from: &From| match from {
        From::Posture(_) => "standing".to_string(),
        From::Earlier(i) => poses.get(*i).map_or_else(|| "start".to_string(), |p| p.name.clone()),
    };
    let mut unknown = false;
    let from = from.unwrap_or_else(|| {
        let from = fallback(poses);
        let instead = assumed(&from);
        if said_from && !cursor.is_done() {
            unknown = true;
            while !cursor.is_done() && !cursor.peek(0).is_some_and(|t| t.kind == Kind::Stop) {
                cursor.at += 1;
            }
            let place = cursor.place_since(start);
            let typed = slice(line, place);
            let known = NAMES.iter().copied().chain(poses.iter().map(|p| p.name.as_str()));
            let near = nearest(&typed, known);
            let near = if near.len() == 1 { near.first().copied() } else { None };
            let edit = Edit { place, with: near.map_or(instead.clone(), str::to_string) };
            let (typed, postures) = (typed.to_string(), NAMES.to_vec());
            let what = OfPose::UnknownPosture { typed, assumed: instead, postures };
            notices.push(Notice::new(what, place).with(edit));
        } else {
            let place = Place { start: end_of_name.end, ..end_of_name };
            let edit = Edit { place, with: format!(", from {instead}") };
            let what = OfPose::WithoutPosture { assumed: instead };
            notices.push(Notice::new(what, end_of_name).with(edit));
        }
        from
    });
    let state = match &from {
        From::Posture(p) => State::of(*p),
        From::Earlier(i) => states.get(*i).cloned().unwrap_or_else(State::standing),
    };
    let mut reader = Reader::new(name, line.at, from, state);
    // `from sitting on chair 45 cm`, `from lying on back on bed`.
    if !unknown && cursor.eat("on") && !cursor.eat_any(&["mat", "floor", "ground"]).is_some_and(|_| true) {
        let at = cursor.at;
        if !things::declare(&mut reader, cursor) {
            cursor.at = at - 1;
        }
    }
    reader
}

/// Where the name stands: behind the colon, up to a comma or ` from `.
fn name_of(line: Line<'_>) -> Place {
    let folded = crate::text::fold::fold(line.text);
    let text = folded.text.as_str();
    let colon = text.find(':').map(|i| i + 1);
    let open = colon.or_else(|| text.find(' ')).unwrap_or(text.len());
    let rest = text.get(open..).unwrap_or("");
    let ends = [
        rest.find(','),
        rest.find(';'),
        rest.find(" from ").filter(|i| !rest.get(..*i).unwrap_or("").trim().is_empty()),
    ];
    let end = ends.into_iter().flatten().min().unwrap_or(rest.len());
    let said = rest.get(..end).unwrap_or("");
    let said = if said.trim().starts_with("from ") { "" } else { said };
    let from = open + said.len() - said.trim_start().len();
    let to = (open + said.trim_end().len()).max(from);
    let typed = folded.source(from..to);
    Place {
        line: line.at.line,
        start: line.at.start + typed.start,
        end: line.at.start + typed.end.max(typed.start),
    }
}

/// An earlier pose by its name.
fn earlier(cursor: &mut Cursor, line: Line<'_>, poses: &[Pose]) -> Option<usize> {
    let start = cursor.at;
    // The letters as typed first, up to a stop: small words may be names.
    let open = start.checked_sub(1).and_then(|i| cursor.tokens.get(i)).map_or(line.at.start, |t| t.place.end);
    let rest = line.text.get(open.saturating_sub(line.at.start)..).unwrap_or("");
    let said = rest.split([',', ';']).next().unwrap_or("").trim();
    if let Some(i) = poses.iter().position(|p| same_name(&p.name, said)) {
        let end = open + rest.find([',', ';']).unwrap_or(rest.len());
        while cursor.peek(0).is_some_and(|t| t.place.start < end) {
            cursor.at += 1;
        }
        return Some(i);
    }
    let mut best = None;
    let mut end = start;
    while !cursor.is_done() && !cursor.peek(0).is_some_and(|t| t.kind == Kind::Stop) {
        cursor.at += 1;
        let said = slice(line, cursor.place_since(start));
        if let Some(i) = poses.iter().position(|p| same_name(&p.name, &said)) {
            best = Some(i);
            end = cursor.at;
        }
    }
    cursor.at = end;
    if best.is_none() && (cursor.word(0), cursor.word(1)) == ("previous", "pose") && !poses.is_empty() {
        cursor.at += 2;
        return Some(poses.len() - 1);
    }
    best
}

/// What the line says at `place`.
pub fn slice(line: Line<'_>, place: Place) -> String {
    let from = place.start.saturating_sub(line.at.start);
    let to = place.end.saturating_sub(line.at.start);
    line.text.get(from..to).unwrap_or(line.text).trim().to_string()
}
