//! How to take the position: recognised from the trunk's direction and from what touches.

use super::{Template, merged, sentence};
use crate::body::dof::{Limb, paired};
use crate::body::names::{Region, Segment, Side};
use crate::body::{Placed, Skin, elevation};
use crate::figure::things;
use crate::figure::view::Stance;
use crate::measure::degrees;
use crate::pose::ask::{PropKind, Spot, Surface};
use crate::pose::movement::{End, Key, Movement, Shape, Thing, Touch};
use crate::space::Vec3;

/// How a body is held up, as a patient would name it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Posture {
    Standing,
    Sitting,
    /// On the floor with the legs along it.
    LongSitting,
    Kneeling,
    /// That knee is down.
    HalfKneeling(Side),
    Back,
    Front,
    /// That side is down.
    Lying(Side),
    /// Face down, on knees.
    AllFours,
    /// Face down, on hands or forearms and toes.
    Plank,
}

/// Whether a region is within two centimetres of the floor.
pub(super) fn on_floor(placed: &Placed, region: Region, side: Option<Side>) -> bool {
    Skin::of(region, side).into_iter().any(|s| placed.skin(s).y - placed.radius(s) < 0.012 * placed.stature())
}

fn touches(key: &Key, region: Region) -> Option<Surface> {
    key.touches.iter().find(|t| t.part.region == region).map(|t| t.surface)
}

pub(super) fn recognise(key: &Key, placed: &Placed) -> Posture {
    let stance = Stance::of(placed);
    let sole =
        |s: Side| on_floor(placed, Region::Heel, Some(s)) || on_floor(placed, Region::Forefoot, Some(s));
    let knee = |s: Side| on_floor(placed, Region::KneeFront, Some(s));
    let hands = Side::BOTH
        .iter()
        .any(|s| on_floor(placed, Region::Palm, Some(*s)) || on_floor(placed, Region::Elbow, Some(*s)));
    let seat = placed.joint(Segment::Pelvis).y;
    if let Some(side) = stance.lies_on {
        return Posture::Lying(side);
    }
    // A trunk propped up from lying is still lying, while the pelvis is down.
    let tilt = placed.turn(Segment::Pelvis).x.y;
    if tilt < -0.5 && on_floor(placed, Region::PelvisFront, None) {
        return Posture::Front;
    }
    if stance.upright {
        let seated = matches!(touches(key, Region::Seat), Some(Surface::Prop(_) | Surface::Floor))
            || matches!(touches(key, Region::ThighBack), Some(Surface::Prop(_)));
        let thigh_level = Side::BOTH.iter().all(|s| {
            let t = *s;
            let way = placed.far_end(Segment::Thigh(t)) - placed.joint(Segment::Thigh(t));
            way.unit_or(Vec3::Y).y.abs() < 0.5
        });
        if seat < 0.12 * placed.stature() {
            return Posture::LongSitting;
        }
        if seated {
            return Posture::Sitting;
        }
        return match (knee(Side::Right), knee(Side::Left)) {
            (true, true) => Posture::Kneeling,
            (true, false) if sole(Side::Left) => Posture::HalfKneeling(Side::Right),
            (false, true) if sole(Side::Right) => Posture::HalfKneeling(Side::Left),
            // Thighs level and nothing told: sitting, unless the feet carry a squat below the hips.
            _ if thigh_level && key.touches.is_empty() && !deep(placed) => Posture::Sitting,
            _ => Posture::Standing,
        };
    }
    let up = placed.turn(Segment::Pelvis).x.y;
    if 0.0 < up {
        return Posture::Back;
    }
    let knees = Side::BOTH.iter().any(|s| knee(*s));
    if knees && 0.16 * placed.stature() < seat {
        return Posture::AllFours;
    }
    let chest = on_floor(placed, Region::Chest, None)
        || on_floor(placed, Region::PelvisFront, None)
        || on_floor(placed, Region::Belly, None);
    let on_prop =
        matches!(touches(key, Region::Chest).or(touches(key, Region::Belly)), Some(Surface::Prop(_)));
    if hands && !chest && !on_prop { Posture::Plank } else { Posture::Front }
}

/// Whether the feet stand under the hips, as in a squat.
fn deep(placed: &Placed) -> bool {
    let ankles = placed.joint(Segment::Foot(Side::Right)).lerp(placed.joint(Segment::Foot(Side::Left)), 0.5);
    let level = ankles - placed.joint(Segment::Pelvis);
    let ahead = Vec3 { y: 0.0, ..level }.norm();
    ahead < 0.16 * placed.stature()
}

pub(super) fn with_article(kind: PropKind) -> String {
    match kind {
        PropKind::Stairs => "the stairs".to_string(),
        PropKind::ChairBack => "the back of a chair".to_string(),
        k => format!(
            "{} {}",
            if k.word().starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" },
            k.word()
        ),
    }
}

pub(super) fn the(surface: Surface) -> String {
    match surface {
        Surface::Floor => "the floor".to_string(),
        Surface::Prop(PropKind::ChairBack) => "the back of the chair".to_string(),
        Surface::Prop(k) => format!("the {}", k.word()),
        Surface::Tread(1) => "the first stair".to_string(),
        Surface::Tread(2) => "the second stair".to_string(),
        Surface::Tread(3) => "the third stair".to_string(),
        Surface::Tread(n) => format!("stair {n}"),
        Surface::Edge(k) => format!("the edge of the {}", k.word()),
        Surface::Body(s) => your(s),
    }
}

pub(super) fn your(s: Spot) -> String {
    match s.side {
        Some(side) => super::filled(&format!("[{}]", s.region.word()), Some(side))
            .trim_end_matches('.')
            .replacen("Your", "your", 1)
            .replacen("The", "the", 1),
        None => format!("your {}", s.region.word()),
    }
}

fn deg(key: &Key, limb: Limb, side: Side) -> f64 {
    degrees(key.state.angle(paired(limb, side)))
}

/// The sentences that put a patient into the start.
pub(super) fn start(movement: &Movement, key: &Key, placed: &Placed) -> Vec<String> {
    let posture = recognise(key, placed);
    let mut out = Vec::new();
    // What one lies or sits on, where it is not the floor.
    let under = [
        Region::Seat,
        Region::Sacrum,
        Region::UpperBack,
        Region::Belly,
        Region::PelvisFront,
        Region::HipSide,
        Region::ThighBack,
    ]
    .into_iter()
    .find_map(|r| touches(key, r))
    .and_then(|surface| match surface {
        Surface::Prop(
            PropKind::Wall | PropKind::Ball | PropKind::Roller | PropKind::Towel | PropKind::Pillow,
        ) => None,
        Surface::Prop(k) => Some(k),
        _ => None,
    });
    let on = under.map_or(String::new(), |k| format!(" on {}", with_article(k)));
    let walls: Vec<&Thing> =
        movement.things.iter().filter(|t| matches!(t.shape, Shape::Wall { .. })).collect();
    let mut wall = String::new();
    if let Some(Thing { kind, shape: Shape::Wall { at, .. } }) = walls.first().map(|t| (*t).clone()) {
        let way = at - placed.joint(Segment::Pelvis);
        let pelvis = placed.turn(Segment::Pelvis);
        let (x, z) = (way.dot(pelvis.x), way.dot(pelvis.z));
        wall = if z.abs() < x.abs() {
            if 0.0 < x {
                format!(", facing a {}", kind.word())
            } else {
                format!(", with a {} behind you", kind.word())
            }
        } else {
            format!(", with a {} on your {}", kind.word(), if 0.0 < z { "right" } else { "left" })
        };
    }
    out.push(sentence(&match posture {
        Posture::Standing => format!("stand{wall}"),
        Posture::Sitting => {
            format!("sit{}{wall}", if on.is_empty() { " on a chair".to_string() } else { on })
        }
        Posture::LongSitting => {
            format!("sit on {}{wall}", under.map_or("the floor".to_string(), with_article))
        }
        Posture::Kneeling => format!("kneel on both knees{wall}"),
        Posture::HalfKneeling(s) => {
            format!("kneel on your {} knee, with your {} foot in front{wall}", s.word(), s.other().word())
        }
        Posture::Back => format!("lie on your back{on}{wall}"),
        Posture::Front => format!("lie on your front{on}{wall}"),
        Posture::Lying(s) => format!("lie on your {} side{on}", s.word()),
        Posture::AllFours => "kneel on your hands and knees".to_string(),
        Posture::Plank => "face the floor, on your hands or arms and your toes".to_string(),
    }));
    out.append(&mut trunk(key, placed, posture));
    let legs = |s: Side| leg(key, placed, posture, s);
    out.append(&mut merged(legs(Side::Right), legs(Side::Left)));
    let arms = |s: Side| arm(key, placed, posture, s);
    out.append(&mut merged(arms(Side::Right), arms(Side::Left)));
    out.append(&mut contacts(key, posture));
    out.append(&mut carried(movement));
    out
}

fn trunk(key: &Key, placed: &Placed, posture: Posture) -> Vec<String> {
    let upright = matches!(
        posture,
        Posture::Standing
            | Posture::Sitting
            | Posture::Kneeling
            | Posture::HalfKneeling(_)
            | Posture::LongSitting
    );
    let mut out = Vec::new();
    let spine = (placed.joint(Segment::Neck) - placed.joint(Segment::Pelvis)).unit_or(Vec3::Y);
    let lean = spine.dot(placed.turn(Segment::Pelvis).x.unit_or(Vec3::X));
    if upright && spine.y < 0.91 {
        let forward = 0.0 < spine.dot(Vec3 { y: 0.0, ..placed.turn(Segment::Pelvis).x }) || 0.0 < lean;
        out.push(format!("Lean your body {}.", if forward { "forward" } else { "back" }));
    }
    let _ = key;
    out
}

/// How far a knee or elbow is bent, in words.
pub(super) fn bend_words(degrees: f64) -> &'static str {
    if degrees < 15.0 {
        "straight"
    } else if degrees < 40.0 {
        "slightly bent"
    } else if degrees < 72.0 {
        "half bent"
    } else if degrees < 108.0 {
        "bent like the letter L"
    } else {
        "fully bent"
    }
}

fn leg(key: &Key, placed: &Placed, posture: Posture, s: Side) -> Vec<Template> {
    let knee = deg(key, Limb::KneeFlexion, s);
    let hip = deg(key, Limb::HipFlexion, s);
    let flat = on_floor(placed, Region::Heel, Some(s)) && on_floor(placed, Region::Forefoot, Some(s));
    let heel = on_floor(placed, Region::Heel, Some(s)) && !flat;
    let mut out = Vec::new();
    match posture {
        Posture::Standing => {
            if 15.0 <= knee {
                out.push(format!("[knee] (is|are) {}", bend_words(knee)));
            }
            let rests = key.touches.iter().any(|t| {
                t.part.side == Some(s)
                    && matches!(
                        t.part.region,
                        Region::Sole | Region::Heel | Region::Forefoot | Region::Instep
                    )
            });
            if !flat && !rests && !on_floor(placed, Region::Forefoot, Some(s)) {
                out.push(lifted(placed, s));
            }
            let out_by = deg(key, Limb::HipAbduction, s);
            if 18.0 < out_by {
                out.push("[foot] (is|are) out to the side".to_string());
            }
        }
        Posture::Sitting => {
            if knee < 60.0 {
                out.push(format!("[knee] (is|are) {}", bend_words(knee)));
            }
            if flat {
                out.push("[foot] (is|are) flat on the floor".to_string());
            }
        }
        Posture::Kneeling | Posture::HalfKneeling(_) | Posture::AllFours => {
            if posture == Posture::AllFours && (hip < 60.0 || knee < 60.0) {
                out.push(format!("[knee] (is|are) {}", bend_words(knee)));
                if !on_floor(placed, Region::KneeFront, Some(s)) {
                    out.push(lifted(placed, s));
                }
            }
        }
        Posture::Back | Posture::LongSitting => {
            let where_ = if flat {
                ", with the (foot|feet) flat on the floor"
            } else if heel && 15.0 <= knee {
                ", with the (heel|heels) on the floor"
            } else {
                ""
            };
            if knee < 15.0 && 25.0 < hip && posture == Posture::Back {
                out.push("[leg] (is|are) straight and up in the air".to_string());
            } else if knee < 15.0 {
                out.push("[leg] (is|are) straight".to_string());
            } else {
                out.push(format!("[knee] (is|are) {}{where_}", bend_words(knee)));
                if where_.is_empty() && 60.0 < hip {
                    out.push("[foot] (is|are) off the floor".to_string());
                }
            }
        }
        Posture::Front | Posture::Plank => {
            if 15.0 <= knee {
                out.push(format!("[knee] (is|are) {}", bend_words(knee)));
            } else {
                out.push("[leg] (is|are) straight".to_string());
            }
        }
        Posture::Lying(_) => {
            out.push(format!("[knee] (is|are) {}", bend_words(knee)));
            if 20.0 <= hip && knee < 15.0 {
                out.push("[leg] (is|are) in front of you".to_string());
            } else if 20.0 <= hip {
                out.push("[hip] (is|are) bent too".to_string());
            }
        }
    }
    out
}

fn lifted(placed: &Placed, s: Side) -> Template {
    let (foot, hip) = (placed.joint(Segment::Foot(s)), placed.joint(Segment::Pelvis));
    let ahead = (foot - hip).dot(placed.turn(Segment::Pelvis).x);
    if ahead < -0.12 * placed.stature() {
        "[foot] (is|are) off the floor, behind you".to_string()
    } else if 0.12 * placed.stature() < ahead {
        "[foot] (is|are) off the floor, in front of you".to_string()
    } else {
        "[foot] (is|are) off the floor".to_string()
    }
}

/// Where an arm points, in words.
pub(super) fn arm_place(placed: &Placed, elevation_degrees: f64, s: Side) -> String {
    let chest = placed.turn(Segment::Chest);
    let way = (placed.far_end(Segment::UpperArm(s)) - placed.joint(Segment::UpperArm(s))).unit_or(-Vec3::Y);
    let (front, out) = (way.dot(chest.x), way.dot(chest.z) * if s == Side::Right { 1.0 } else { -1.0 });
    if elevation_degrees < 25.0 {
        return "by your side".to_string();
    }
    if 145.0 < elevation_degrees {
        return "above your head".to_string();
    }
    let direction = if front.abs() < out.abs() {
        if 0.0 < out { "out to the side" } else { "across your body" }
    } else if 0.0 < front {
        "in front of you"
    } else {
        "behind you"
    };
    let height = if elevation_degrees < 65.0 {
        ", low"
    } else if elevation_degrees < 110.0 {
        ", level with your shoulder"
    } else {
        ", raised high"
    };
    format!("{direction}{height}")
}

fn arm(key: &Key, placed: &Placed, posture: Posture, s: Side) -> Vec<Template> {
    let busy = key.touches.iter().any(|t| t.part.side == Some(s) && is_hand(t.part.region));
    let elbow = deg(key, Limb::ElbowFlexion, s);
    let up = degrees(elevation(&key.state, s));
    let mut out = Vec::new();
    if matches!(posture, Posture::AllFours) && on_floor(placed, Region::Palm, Some(s)) {
        return out;
    }
    if posture == Posture::Front && on_floor(placed, Region::Palm, Some(s)) {
        // Where the hand lies along the trunk tells the arm.
        let hand = placed.joint(Segment::Hand(s));
        let marks = [
            (placed.far_end(Segment::Head), "above your head"),
            (placed.joint(Segment::Head), "beside your head"),
            (placed.joint(Segment::UpperArm(s)), "beside your (shoulder|shoulders)"),
            (placed.joint(Segment::Chest), "beside your ribs"),
            (placed.joint(Segment::Pelvis), "beside your hips"),
        ];
        let spine = (placed.joint(Segment::Neck) - placed.joint(Segment::Pelvis)).unit_or(Vec3::Y);
        let off = |at: Vec3| (hand - at).dot(spine).abs();
        let nearest = marks.iter().fold(None, |best: Option<&(Vec3, &str)>, m| match best {
            Some(b) if off(b.0) <= off(m.0) => best,
            _ => Some(m),
        });
        out.push(format!("[hand] (is|are) on the floor, {}", nearest.map_or("", |m| m.1)));
        return out;
    }
    if busy && up < 25.0 {
        return out;
    }
    let place = arm_place(placed, up, s);
    // Arms that hang or lie as arms do need no word when standing or sitting.
    let resting = up < 25.0 && elbow < 25.0;
    if resting {
        if !matches!(posture, Posture::Standing | Posture::Sitting) {
            out.push("[arm] (rests|rest) by your (side|sides)".to_string());
        }
        return out;
    }
    if up < 25.0 {
        out.push(format!("[elbow] (is|are) by your (side|sides) and {}", bend_words(elbow)));
        if 60.0 < elbow {
            let turn = deg(key, Limb::ShoulderRotation, s);
            if turn < -25.0 {
                out.push("[forearm] (lies|lie) across your belly".to_string());
            } else if 25.0 < turn {
                out.push("[hand] (points|point) out to the side".to_string());
            } else {
                out.push("[hand] (points|point) forward".to_string());
            }
        }
    } else {
        out.push(format!("[arm] (is|are) {place}"));
        if 25.0 <= elbow && !busy {
            out.push(format!("[elbow] (is|are) {}", bend_words(elbow)));
        }
    }
    out
}

pub(super) fn is_hand(r: Region) -> bool {
    matches!(r, Region::Palm | Region::Fist | Region::Fingertips | Region::BackOfHand)
}

/// What else touches, where the posture doesn't say it already.
fn contacts(key: &Key, posture: Posture) -> Vec<String> {
    let said = |part: Spot, surface: Surface| -> bool {
        use Region::*;
        let ground = surface == Surface::Floor;
        match posture {
            Posture::Standing => ground && matches!(part.region, Sole | Heel | Forefoot | Toes),
            Posture::Sitting => {
                matches!(part.region, Seat | ThighBack)
                    || (ground && matches!(part.region, Sole | Heel | Forefoot))
            }
            Posture::AllFours => ground && matches!(part.region, Palm | KneeFront | Shin | Instep | Toes),
            Posture::Kneeling | Posture::HalfKneeling(_) => {
                ground && matches!(part.region, KneeFront | Shin | Sole | Instep | Toes)
            }
            Posture::Back => {
                matches!(part.region, Sacrum | UpperBack | BackOfHead | WholeBack | LowerBack)
                    || (ground
                        && matches!(
                            part.region,
                            Sole | Heel | Calf | Elbow | Palm | ThighBack | Forearm | UpperArm | BackOfHand
                        ))
            }
            Posture::Front => {
                matches!(part.region, Chest | Belly | PelvisFront)
                    || (ground
                        && matches!(
                            part.region,
                            Palm | ThighFront | Shin | KneeFront | Instep | Toes | Elbow
                        ))
            }
            Posture::Lying(_) => {
                matches!(part.region, HipSide | ShoulderSide | SideOfHead)
                    || (ground && matches!(part.region, KneeOuter | AnkleOuter | FootOuter))
            }
            Posture::LongSitting => matches!(part.region, Seat | ThighBack | Calf | Heel),
            Posture::Plank => ground && matches!(part.region, Toes | Forefoot),
        }
    };
    let both_hands = |t: &Touch| {
        t.holds && key.touches.iter().any(|u| u.holds && u.surface == t.surface && u.part.side != t.part.side)
    };
    let foot_on_foot = |t: &Touch| {
        use Region::*;
        let foot = |r: Region| {
            matches!(r, Sole | Heel | Forefoot | Toes | Instep | FootInner | FootOuter | AnkleInner)
        };
        foot(t.part.region) && matches!(t.surface, Surface::Body(s) if foot(s.region))
    };
    let of = |s: Side| -> Vec<Template> {
        key.touches
            .iter()
            .filter(|t| t.part.side == Some(s) && !said(t.part, t.surface))
            // Both hands on one thing are said below; a light touch on the floor, or foot on foot, says little.
            .filter(|t| !((t.light && t.surface == Surface::Floor) || both_hands(t) || foot_on_foot(t)))
            .map(|t| {
                let noun = t.part.region.word();
                let knees = t.part.region == Region::KneeInner
                    && matches!(t.surface, Surface::Body(s) if s.region == Region::KneeInner);
                if knees {
                    return "your knees are together".to_string();
                }
                if t.holds {
                    format!("[{noun}] (holds|hold) {}", the(t.surface))
                } else if t.light {
                    format!("[{noun}] (touches|touch) {} lightly", the(t.surface))
                } else if matches!(t.surface, Surface::Prop(PropKind::Wall | PropKind::Doorway)) {
                    format!("[{noun}] (is|are) against {}", the(t.surface))
                } else {
                    format!("[{noun}] (is|are) on {}", the(t.surface))
                }
            })
            .collect()
    };
    let mut out = merged(of(Side::Right), of(Side::Left));
    if let Some(t) = key.touches.iter().find(|t| both_hands(t)) {
        out.push(sentence(&format!("hold {} with both hands", the(t.surface))));
    }
    for t in key.touches.iter().filter(|t| t.part.side.is_none() && !said(t.part, t.surface)) {
        let against = matches!(t.surface, Surface::Prop(PropKind::Wall | PropKind::Doorway));
        out.push(sentence(&format!(
            "your {} is {} {}",
            t.part.region.word(),
            if against { "against" } else { "on" },
            the(t.surface)
        )));
    }
    out.dedup();
    out
}

fn place_of(spots: &[Spot]) -> String {
    match spots {
        [a, b] if a.region == b.region && a.side != b.side => {
            format!("both {}", super::plural(round_word(a.region)))
        }
        many => {
            let mut names: Vec<String> = many
                .iter()
                .map(|s| match s.side {
                    // There is one head.
                    Some(side) if s.region != Region::SideOfHead => {
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

/// What a band goes round, by the word for the whole rather than for one face of it.
fn round_word(r: Region) -> &'static str {
    match r {
        Region::ThighFront | Region::ThighBack => "thigh",
        Region::AnkleOuter | Region::AnkleInner => "ankle",
        Region::KneeFront | Region::KneeBack | Region::KneeInner | Region::KneeOuter => "knee",
        Region::PelvisFront | Region::HipSide | Region::Sacrum => "hips",
        Region::Palm => "hand",
        Region::BackOfHead | Region::SideOfHead => "head",
        Region::Sole | Region::Forefoot | Region::Instep => "foot",
        Region::Shin | Region::Calf => "shin",
        r => r.word(),
    }
}

/// What the patient holds, wears, or has under or between parts.
fn carried(movement: &Movement) -> Vec<String> {
    let mut out = Vec::new();
    for t in &movement.things {
        let a = with_article(t.kind);
        // A band to both hands, or a thing round each leg, is said once.
        if let Shape::Line { from: End::Room(p), to } = &t.shape {
            let twin = movement.things.iter().any(|o| {
                matches!(&o.shape, Shape::Line { from: End::Room(q), to: other }
                    if o.kind == t.kind && other.region == to.region && other.side != to.side && (*q - *p).norm() < 0.6)
            });
            if twin {
                let what = super::plural(round_word(to.region));
                out.push(sentence(&format!(
                    "{a} is fixed {} and goes to both {what}",
                    things::height_word(*p)
                )));
                continue;
            }
        }
        let text = match &t.shape {
            Shape::Round { spots } => format!("{a} is round {}", place_of(spots)),
            Shape::Under { spots, .. } => format!("{a} is under {}", place_of(spots)),
            Shape::Between { spots: [x, y], .. } => {
                let both = x.region == y.region && x.side != y.side;
                if both {
                    format!("{a} is between your {}", super::plural(round_word(x.region)))
                } else {
                    format!("{a} is between {} and {}", place_of(&[*x]), place_of(&[*y]))
                }
            }
            Shape::In { hands, .. } => match hands.as_slice() {
                [s] => format!("hold {a} in your {} hand", s.word()),
                _ if t.kind == PropKind::Dumbbell => format!("hold {a} in each hand"),
                _ => format!("hold {a} in both hands"),
            },
            Shape::Line { from: End::Room(p), to } => {
                let height = things::height_word(*p);
                format!("{a} is fixed {height} and goes to {}", place_of(&[*to]))
            }
            // From a foot to the hands that hold it.
            Shape::Line { .. }
                if movement
                    .things
                    .iter()
                    .any(|o| o.kind == t.kind && matches!(o.shape, Shape::Round { .. })) =>
            {
                continue;
            }
            Shape::Line { from: End::Body(s), to } => {
                format!("{a} goes from {} to {}", place_of(&[*s]), place_of(&[*to]))
            }
            Shape::Ball { .. }
            | Shape::Roller { .. }
            | Shape::Block { .. }
            | Shape::Chair { .. }
            | Shape::Wall { .. }
            | Shape::Bar { .. } => continue,
        };
        out.push(sentence(&text));
    }
    out.dedup();
    out
}
