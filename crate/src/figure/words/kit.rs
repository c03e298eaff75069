//! Things that go with the body: worn, held, laid under or between parts, or fixed at one end.

use super::english::{self, Line, a, kind_word, must, plural, useful};
use super::room;
use super::seen::Seen;
use crate::body::names::{Region, Side};
use crate::pose::ask::{PropKind, Spot, Surface};
use crate::pose::movement::{End, Movement, Shape, Thing};

/// What a band goes round, by the word for the whole.
fn round_word(r: Region) -> &'static str {
    match r {
        Region::ThighFront | Region::ThighBack => "thigh",
        Region::KneeFront | Region::KneeBack | Region::KneeInner | Region::KneeOuter => "knee",
        Region::PelvisFront | Region::HipSide | Region::Sacrum => "hips",
        Region::Sole | Region::Forefoot | Region::Instep => "foot",
        Region::Shin | Region::Calf => "shin",
        r => english::noun(r),
    }
}

/// `both thighs`, `your right foot`, `your belly`.
fn parts(spots: &[Spot]) -> String {
    match spots {
        [x, y] if round_word(x.region) == round_word(y.region) && x.side != y.side => {
            format!("both {}", plural(round_word(x.region)))
        }
        many => {
            let mut names: Vec<String> = many
                .iter()
                .map(|s| match s.side {
                    Some(side) if !english::one_only(s.region) && round_word(s.region) != "hips" => {
                        format!("your {} {}", side.word(), round_word(s.region))
                    }
                    _ => format!("your {}", round_word(s.region)),
                })
                .collect();
            names.dedup();
            names.join(" and ")
        }
    }
}

fn holds(seen: &Seen, kind: PropKind) -> Vec<Side> {
    let held = |s: &Side| seen.touches_of(*s).any(|t| t.holds && t.surface == Surface::Prop(kind));
    Side::BOTH.into_iter().filter(held).collect()
}

fn in_hands(hands: &[Side]) -> String {
    match hands {
        [s] => format!("in your {} hand", s.word()),
        _ => "with both hands".to_string(),
    }
}

/// What goes with the body: put on or laid before limbs take their places, and taken in the hands after.
#[derive(Default)]
pub(super) struct Kit {
    pub worn: Vec<Line>,
    pub strapped: Vec<Line>,
    pub held: Vec<Line>,
}

pub(super) fn carried(movement: &Movement, seen: &Seen) -> Kit {
    let mut out = Kit::default();
    let mut done: Vec<usize> = Vec::new();
    for (i, thing) in movement.things.iter().enumerate() {
        if done.contains(&i) {
            continue;
        }
        let twin = movement
            .things
            .iter()
            .enumerate()
            .skip(i + 1)
            .find(|(j, o)| !done.contains(j) && twins(thing, o));
        if let Some((j, _)) = twin {
            done.push(j);
        }
        let lines = one(movement, seen, thing, twin.is_some());
        // A towel under an elbow comes when the arm has its place, a strap when the leg has.
        let late = lines.iter().any(|l| ["elbow", "arm"].iter().any(|w| l.text.contains(w)));
        match &thing.shape {
            Shape::Round { .. } if thing.kind == PropKind::Strap => out.strapped.extend(lines),
            Shape::Round { .. } | Shape::In { .. } => out.worn.extend(lines),
            Shape::Under { .. } if !late => out.worn.extend(lines),
            _ => out.held.extend(lines),
        }
    }
    out
}

/// The same thing at the other side of the body.
fn twins(x: &Thing, y: &Thing) -> bool {
    let across = |p: &Spot, q: &Spot| p.region == q.region && p.side != q.side;
    x.kind == y.kind
        && match (&x.shape, &y.shape) {
            (Shape::Line { from: End::Room(p), to: a }, Shape::Line { from: End::Room(q), to: b }) => {
                across(a, b) && (*q - *p).norm() < 0.6
            }
            (Shape::Line { from: End::Body(p), to: a }, Shape::Line { from: End::Body(q), to: b }) => {
                across(a, b) && (across(p, q) || p == q)
            }
            (Shape::Round { spots: p }, Shape::Round { spots: q })
            | (Shape::Under { spots: p, .. }, Shape::Under { spots: q, .. }) => {
                matches!((p.as_slice(), q.as_slice()), ([a], [b]) if across(a, b))
            }
            (Shape::In { hands: p, .. }, Shape::In { hands: q, .. }) => {
                matches!((p.as_slice(), q.as_slice()), ([a], [b]) if a != b)
            }
            _ => false,
        }
}

fn one(movement: &Movement, seen: &Seen, thing: &Thing, twin: bool) -> Vec<Line> {
    let kind = thing.kind;
    let it = a(kind);
    let new = format!("{{+{}}}", kind_word(kind));
    let both = |s: &Spot| format!("both {}", plural(round_word(s.region)));
    match &thing.shape {
        Shape::Round { spots } => {
            let verb = if kind == PropKind::AnkleWeight { "wear" } else { "put" };
            let place = match spots.as_slice() {
                [s] if twin => both(s),
                many => parts(many),
            };
            let it = if twin && !matches!(kind, PropKind::LoopBand) { many_of(kind) } else { it };
            let hands = holds(seen, kind);
            let grip =
                if hands.is_empty() { String::new() } else { format!(" and hold it {}", in_hands(&hands)) };
            vec![must(format!("{verb} {it} round {place}{grip}"))]
        }
        Shape::Under { spots, .. } => {
            let rests = spots
                .iter()
                .all(|s| seen.key.touches.iter().any(|t| t.part == *s && t.surface == Surface::Prop(kind)));
            // Told where the part is told that rests on it.
            let told = |r: Region| {
                use Region::*;
                super::seen::is_foot(r)
                    || matches!(r, BackOfHead | SideOfHead | Forehead | Chin | KneeFront | KneeBack)
            };
            if rests && spots.iter().all(|s| told(s.region)) {
                return Vec::new();
            }
            match spots.as_slice() {
                [s] if twin => vec![must(format!("put {it} under {}", both(s)))],
                many => vec![must(format!("put {new} under {}", parts(many)))],
            }
        }
        Shape::Between { spots: [x, y], .. } => vec![must(if x.region == y.region && x.side != y.side {
            format!("put {new} between your {}", plural(round_word(x.region)))
        } else {
            format!("put {new} between {} and {}", parts(&[*x]), parts(&[*y]))
        })],
        Shape::In { hands, .. } => vec![must(match hands.as_slice() {
            [_] if twin => format!("hold {it} in each hand"),
            [s] => format!("hold {it} in your {} hand", s.word()),
            _ if kind == PropKind::Dumbbell => format!("hold {it} in each hand"),
            _ => format!("hold {it} in both hands"),
        })],
        Shape::Line { from: End::Room(p), to } => {
            let place = room::place_of(seen, *p).words();
            let hand = super::seen::is_hand(to.region);
            let grip = match (hand, twin) {
                (true, true) => "hold one end in each hand".to_string(),
                (true, false) => {
                    format!("hold its end {}", in_hands(&to.side.into_iter().collect::<Vec<_>>()))
                }
                (false, true) => format!("put its ends round {}", both(to)),
                (false, false) => format!("put its end round {}", parts(&[*to])),
            };
            vec![must(format!("fix {it} {place}, {}", room::height(*p))), must(grip)]
        }
        // From a foot to the hands that hold it: told with what goes round the foot.
        Shape::Line { .. }
            if movement.things.iter().any(|o| o.kind == kind && matches!(o.shape, Shape::Round { .. })) =>
        {
            Vec::new()
        }
        Shape::Line { from: End::Body(s), to } if twin => vec![must(if super::seen::is_hand(to.region) {
            format!("hold {it} in both hands, round {}", parts(&[*s]))
        } else {
            format!("put {it} from {} to {}", parts(&[*s]), both(to))
        })],
        Shape::Line { from: End::Body(s), to }
            if super::seen::is_hand(to.region) && super::seen::is_hand(s.region) =>
        {
            vec![must(format!("hold {it} in both hands"))]
        }
        Shape::Line { from: End::Body(s), to } => {
            vec![must(format!("put {it} from {} to {}", parts(&[*s]), parts(&[*to])))]
        }
        _ => Vec::new(),
    }
}

fn many_of(kind: PropKind) -> String {
    format!("{{{}}}", kind_word(kind))
}

/// Things that no sentence named.
pub(super) fn unsaid(movement: &Movement, seen: &Seen, lines: &[Line]) -> Vec<Line> {
    let mut out: Vec<Line> = Vec::new();
    for thing in &movement.things {
        let word = kind_word(thing.kind);
        let names =
            |l: &Line| l.text.contains(&format!("{{{word}}}")) || l.text.contains(&format!("{{+{word}}}"));
        if lines.iter().chain(&out).any(names) {
            continue;
        }
        let place = room::standing_place(seen, thing).unwrap_or(room::Place::Here);
        out.push(useful(format!("have {} {}", a(thing.kind), place.words())));
        if let Some(l) = out.last_mut() {
            l.need = english::Need::Must;
        }
    }
    out
}
