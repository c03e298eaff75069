//! Pose text read into what it asks ([`Pose`]), with a notice for whatever was not understood.
//!
//! A block is a `pose: NAME, from POSTURE` line and the lines below it; clauses stand between commas,
//! full stops, `and` or `with`. Everyday and clinical words are both read: `bent` is flexion, `lateral
//! rotation` external rotation, `all fours` four-point kneeling. Sides: `right` and `left`; `working` is the
//! right and `other` the left, since exercises are written for the right; lying on the side `top` and
//! `bottom`, with one foot ahead `front` and `back`. A plural means both sides, and so does a singular joint
//! without a side (`hip flexion 80`); a singular part that touches something needs its side.
//!
//! Amounts in words (common practice, no source): `bent` alone is 90 degrees at knee, hip and elbow,
//! `slightly bent` 20; `leaning` alone 30, `slightly` 15; `toes out` alone 30; an arm `overhead` 170.
//!
//! [`parts`] says which place of the skin a word means in which posture.

mod angles;
mod asks;
mod clause;
mod contacts;
mod feet;
mod keyed;
mod motions;
pub mod parts;
mod postures;
mod relations;
pub mod shows;
mod things;
mod verbs;
pub mod vocabulary;
pub mod words;

#[cfg(test)]
mod tests;

use crate::body::names::{Region, Side};
use crate::notice::kinds::pose::OfPose;
use crate::notice::{Edit, Notice};
use crate::pose::ask::{Ask, Contact, Fit, From, Pose, Posture, Prop, PropKind, Said, Spot, Surface, Worked};
use crate::text::Place;
use parts::{Given, Part, Stance};
pub use words::Line;
use words::{Cursor, Kind};

/// At most so many poses in one exercise; more stay unread with a notice.
pub const MOST_POSES: usize = 12;
/// At most so many notices for one exercise.
const MOST_NOTICES: usize = 50;

/// Reads the poses of one exercise. Blank lines and lines that start with `//` are passed over.
///
/// Any text gives poses and notices; what was understood of a line counts even where the rest did not.
pub fn read(lines: &[Line<'_>]) -> (Vec<Pose>, Vec<Notice>) {
    let mut poses: Vec<Pose> = Vec::new();
    let mut states: Vec<State> = Vec::new();
    let mut notices: Vec<Notice> = Vec::new();
    let mut current: Option<Reader> = None;
    let mut full = false;
    for line in lines {
        if line.text.trim().is_empty() || line.text.trim_start().starts_with("//") {
            continue;
        }
        let mut cursor = Cursor::new(*line);
        let is_header = matches!(cursor.word(0), "pose" | "poses" | "position")
            && (cursor.peek(1).is_some_and(|t| t.kind == Kind::Colon)
                || current.is_none()
                || cursor.tokens.iter().any(|t| t.kind == Kind::Word("from".to_string())));
        if is_header {
            if let Some(done) = current.take() {
                done.finish(&mut poses, &mut states, &mut notices);
            }
            if MOST_POSES <= poses.len() {
                if !full {
                    notices.push(Notice::new(OfPose::TooManyPoses { most: MOST_POSES }, line.at));
                }
                full = true;
                continue;
            }
            full = false;
            current = Some(postures::header(&mut cursor, *line, &poses, &states, &mut notices));
        } else if full {
            continue;
        }
        let reader = current.get_or_insert_with(|| {
            notices.push(Notice::new(OfPose::WithoutHeader, line.at).with(Edit {
                place: Place { end: line.at.start, ..line.at },
                with: "pose: start, from standing\n".to_string(),
            }));
            Reader::new("start".to_string(), line.at, From::Posture(Posture::Standing), State::standing())
        });
        reader.clauses(&mut cursor);
        if MOST_NOTICES < reader.notices.len() {
            reader.notices.truncate(MOST_NOTICES);
        }
    }
    if let Some(done) = current.take() {
        done.finish(&mut poses, &mut states, &mut notices);
    }
    notices.truncate(MOST_NOTICES);
    (poses, notices)
}

/// Lays lines without a header over a pose, as an own exercise written `like:` another does:
/// what they say of a part or a thing replaces what `pose` said of it.
pub fn overlay(pose: &mut Pose, lines: &[Line<'_>]) -> Vec<Notice> {
    let mut state = State::standing();
    if let From::Posture(p) = pose.from {
        state = State::of(p);
    }
    state.take(pose);
    let mut reader = Reader::new(pose.name.clone(), pose.place, pose.from.clone(), state);
    for line in lines {
        reader.clauses(&mut Cursor::new(*line));
    }
    reader.settle_words();
    let extra = reader.pose;
    for contact in &extra.contacts {
        let part = touching(&contact.what);
        pose.contacts.retain(|c| touching(&c.what) != part);
    }
    for prop in &extra.props {
        pose.props.retain(|p| p.what.kind != prop.what.kind);
    }
    for ask in &extra.asks {
        pose.asks.retain(|a| !same_subject(&a.what, &ask.what));
    }
    pose.contacts.extend(extra.contacts);
    pose.props.extend(extra.props);
    pose.asks.extend(extra.asks);
    pose.releases.extend(extra.releases);
    pose.planted.extend(extra.planted);
    if !extra.works.is_empty() {
        pose.works = extra.works;
    }
    pose.efforts.extend(extra.efforts);
    if extra.view.is_some() {
        pose.view = extra.view;
    }
    if extra.seconds.is_some() {
        pose.seconds = extra.seconds;
    }
    // A thing that nothing touches or fits any more has no place.
    let kept: Vec<PropKind> = pose
        .contacts
        .iter()
        .filter_map(|c| match &c.what {
            Contact::On { place: Surface::Prop(kind), .. } => Some(*kind),
            _ => None,
        })
        .collect();
    pose.props.retain(|p| p.what.fit != Fit::Stands || kept.contains(&p.what.kind));
    reader.notices
}

/// The working parts that words such as `right buttock, hamstrings` name, and the words not known.
/// A part without a side is the working side's, the right, if `one_side`, otherwise both.
pub fn working_parts(line: Line<'_>, one_side: bool) -> (Vec<Worked>, Vec<Place>) {
    let mut cursor = Cursor::new(line);
    let stance = Stance { posture: Posture::Standing, front: None };
    let mut all = Vec::new();
    let mut unknown = Vec::new();
    while !cursor.is_done() {
        let start = cursor.at;
        if let Some(part) = parts::part(&mut cursor, stance) {
            // `hamstrings` of one working leg is plural by name only.
            let named_side = matches!(part.given, Given::One(_));
            let part =
                if one_side && !named_side { Part { given: Given::One(Side::Right), ..part } } else { part };
            for worked in parts::worked(part) {
                if !all.contains(&worked) {
                    all.push(worked);
                }
            }
        } else if !cursor.at_boundary() {
            while !cursor.at_boundary() && !cursor.is_done() {
                cursor.at += 1;
            }
            unknown.push(cursor.place_since(start));
        } else {
            cursor.at += 1;
        }
    }
    (all, unknown)
}

/// What earlier poses leave behind for the reading of a later one.
#[derive(Clone, Debug)]
struct State {
    stance: Stance,
    contacts: Vec<(Spot, Surface)>,
    props: Vec<Prop>,
}

impl State {
    fn standing() -> State {
        State::of(Posture::Standing)
    }

    fn of(posture: Posture) -> State {
        let mut state =
            State { stance: Stance { posture, front: None }, contacts: Vec::new(), props: Vec::new() };
        if matches!(posture, Posture::Standing | Posture::Sitting | Posture::CrookLying) {
            for side in Side::BOTH {
                state.contacts.push((Spot { side: Some(side), region: Region::Sole }, Surface::Floor));
            }
        }
        if posture == Posture::Sitting {
            state.props.push(Prop { kind: PropKind::Chair, cm: None, fit: Fit::Stands });
        }
        state
    }

    fn take(&mut self, pose: &Pose) {
        for release in &pose.releases {
            self.contacts.retain(|(s, _)| *s != release.what.part);
        }
        for contact in &pose.contacts {
            if let Contact::On { part, place, .. } = &contact.what {
                self.rests(*part, *place);
            }
        }
        for prop in &pose.props {
            self.props.retain(|p| p.kind != prop.what.kind || !fits_alike(&p.fit, &prop.what.fit));
            self.props.push(prop.what.clone());
        }
        for ask in &pose.asks {
            if let Ask::Staggered { front, .. } = ask.what {
                self.stance.front = Some(front);
            }
        }
    }

    /// Notes that a part rests on a surface; a foot on something new leaves what it stood on.
    fn rests(&mut self, part: Spot, surface: Surface) {
        let foot = [Region::Sole, Region::Heel, Region::Forefoot];
        self.contacts.retain(|(s, on)| {
            let same_foot = foot.contains(&part.region) && foot.contains(&s.region) && s.side == part.side;
            *s != part && !(same_foot && *on != surface)
        });
        self.contacts.push((part, surface));
    }

    fn has(&self, kind: PropKind) -> bool {
        self.props.iter().any(|p| p.kind == kind)
    }
}

fn fits_alike(a: &Fit, b: &Fit) -> bool {
    matches!(
        (a, b),
        (Fit::Stands | Fit::At(_), Fit::Stands | Fit::At(_)) | (Fit::FromTo { .. }, Fit::FromTo { .. })
    ) || a == b
}

/// A pose being read.
struct Reader {
    pose: Pose,
    state: State,
    notices: Vec<Notice>,
    /// The joint parts of the clause before, for `right hip flexion 90, abduction 20`.
    last: Vec<Part>,
    /// Things that are touched: named in this pose, before or after, or else told of.
    needs: Vec<(PropKind, Place, Option<Spot>)>,
    /// Asks that hold only if the text says nothing of that angle.
    implied: Vec<Said<Ask>>,
}

impl Reader {
    fn new(name: String, place: Place, from: From, state: State) -> Reader {
        Reader {
            pose: Pose {
                name,
                place,
                from,
                asks: Vec::new(),
                contacts: Vec::new(),
                releases: Vec::new(),
                props: Vec::new(),
                planted: Vec::new(),
                works: Vec::new(),
                efforts: Vec::new(),
                view: None,
                seconds: None,
            },
            state,
            notices: Vec::new(),
            last: Vec::new(),
            needs: Vec::new(),
            implied: Vec::new(),
        }
    }

    fn stance(&self) -> Stance {
        self.state.stance
    }

    fn ask(&mut self, what: Ask, place: Place) {
        if let Ask::Staggered { front, .. } = what {
            self.state.stance.front = Some(front);
        }
        self.pose.asks.push(Said { what, place });
    }

    /// `band` where only a loop band is there is that one.
    fn band_there(&self, kind: PropKind) -> PropKind {
        if kind == PropKind::LongBand && !self.state.has(kind) && self.state.has(PropKind::LoopBand) {
            return PropKind::LoopBand;
        }
        kind
    }

    fn imply(&mut self, what: Ask, place: Place) {
        self.implied.push(Said { what, place });
    }

    fn prop(&mut self, prop: Prop, place: Place) {
        self.state.props.push(prop.clone());
        self.pose.props.retain(|p| p.what.kind != prop.kind || !fits_alike(&p.what.fit, &prop.fit));
        self.pose.props.push(Said { what: prop, place });
    }

    fn tell(&mut self, what: OfPose, place: Place, edit: Option<Edit>) {
        self.notices.push(Notice::new(what, place).with(edit));
    }

    /// Sees to it that of two words about the same thing one counts, and says so.
    fn settle_words(&mut self) {
        for (kind, place, by) in core::mem::take(&mut self.needs) {
            self.provide(kind, place, by);
        }
        let mut asks: Vec<Said<Ask>> = Vec::new();
        for ask in core::mem::take(&mut self.pose.asks) {
            if let Some(i) = asks.iter().position(|a| same_subject(&a.what, &ask.what)) {
                if asks.get(i).is_some_and(|a| a.what != ask.what) {
                    self.tell(
                        OfPose::AskedTwice,
                        ask.place,
                        asks.get(i).map(|a| Edit { place: a.place, with: String::new() }),
                    );
                }
                asks.remove(i);
            }
            asks.push(ask);
        }
        for ask in core::mem::take(&mut self.implied) {
            if !asks.iter().any(|a| same_subject(&a.what, &ask.what)) {
                asks.push(ask);
            }
        }
        self.pose.asks = asks;
        let mut contacts: Vec<Said<Contact>> = Vec::new();
        for contact in core::mem::take(&mut self.pose.contacts) {
            if let Some(i) = contacts.iter().position(|c| touching(&c.what) == touching(&contact.what)) {
                if contacts.get(i).is_some_and(|c| c.what != contact.what) {
                    self.tell(
                        OfPose::TouchesTwice,
                        contact.place,
                        contacts.get(i).map(|c| Edit { place: c.place, with: String::new() }),
                    );
                }
                contacts.remove(i);
            }
            contacts.push(contact);
        }
        let released: Vec<Spot> = self.pose.releases.iter().map(|r| r.what.part).collect();
        for contact in &contacts {
            let (spot, held) = touching(&contact.what);
            if !held && released.contains(&spot) {
                self.pose.releases.retain(|r| r.what.part != spot);
            }
        }
        self.pose.contacts = contacts;
    }

    fn finish(mut self, poses: &mut Vec<Pose>, states: &mut Vec<State>, notices: &mut Vec<Notice>) {
        self.settle_words();
        self.state.take(&self.pose);
        notices.append(&mut self.notices);
        poses.push(self.pose);
        states.push(self.state);
    }
}

/// The part that a contact is about, and whether it is a grip.
fn touching(contact: &Contact) -> (Spot, bool) {
    match contact {
        Contact::On { part, .. } => (*part, false),
        Contact::Hold { hand, .. } => (Spot { side: Some(*hand), region: Region::Palm }, true),
    }
}

/// Whether two asks speak of the same angle or relation, so that only one can hold.
fn same_subject(a: &Ask, b: &Ask) -> bool {
    match (a, b) {
        (
            Ask::Angle { sides: s1, joint: j1, motion: m1, .. },
            Ask::Angle { sides: s2, joint: j2, motion: m2, .. },
        ) => j1 == j2 && (m1 == m2 || m1.opposite() == Some(*m2)) && s1 == s2,
        (Ask::FeetApart(_), Ask::FeetApart(_))
        | (Ask::Staggered { .. }, Ask::Staggered { .. })
        | (Ask::Looking(_), Ask::Looking(_)) => true,
        (Ask::ToesOut { sides: s1, .. }, Ask::ToesOut { sides: s2, .. })
        | (Ask::PalmFacing { sides: s1, .. }, Ask::PalmFacing { sides: s2, .. }) => s1 == s2,
        (Ask::Leaning { what: w1, direction: d1, .. }, Ask::Leaning { what: w2, direction: d2, .. }) => {
            w1 == w2 && d1 == d2
        }
        (Ask::Distance { part: p1, from: f1, .. }, Ask::Distance { part: p2, from: f2, .. }) => {
            p1 == p2 && f1 == f2
        }
        _ => a == b,
    }
}
