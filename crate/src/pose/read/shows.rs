//! What must be visible in a figure: `right knee flexion, right sole on floor, pelvis level`.

use super::clause::sides;
use super::motions::{self, joint_of, motion};
use super::parts::{Part, Role, Stance, part};
use super::words::{Cursor, Kind, Line};
use super::{Reader, State};
use crate::body::names::{Angle, Motion, can_move};
use crate::notice::kinds::pose::OfPose;
use crate::notice::{Edit, Notice, Severity};
use crate::pose::ask::{Ask, Contact, Effort, From, Posture, PropKind, Spot};

/// One thing that the chosen view must show.
#[derive(Clone, Debug, PartialEq)]
pub enum Show {
    /// This angle's change or size.
    Angle(Angle),
    /// This part.
    Part(Spot),
    /// A relation, such as `right leg in line with trunk`.
    Relation(Ask),
    Contact(Contact),
    Effort(Effort),
    Thing(PropKind),
}

/// Reads a list of things to show, commas between them. `posture` decides where ambiguous words point.
pub fn shows(line: Line<'_>, posture: Posture) -> (Vec<Show>, Vec<Notice>) {
    let mut all = Vec::new();
    let mut notices = Vec::new();
    let mut c = Cursor::new(line);
    let stance = Stance { posture, front: None };
    while !c.is_done() {
        if c.at_boundary() {
            c.at += 1;
            continue;
        }
        let start = c.at;
        if let Some(found) = bare(&mut c, stance) {
            all.extend(found);
            continue;
        }
        c.at = start;
        if let Some(kind) = super::things::kind(&mut c)
            && c.at_boundary()
        {
            all.push(Show::Thing(kind));
            continue;
        }
        c.at = start;
        let end = (start..c.tokens.len())
            .find(|i| c.tokens.get(*i).is_some_and(|t| t.kind == Kind::Stop))
            .unwrap_or(c.tokens.len());
        let mut one = c.clone();
        one.tokens.truncate(end);
        let mut reader =
            Reader::new("shown".to_string(), line.at, From::Posture(posture), State::of(posture));
        reader.clauses(&mut one);
        c.at = end;
        let before = all.len();
        all.extend(reader.pose.asks.iter().chain(&reader.implied).map(|a| match &a.what {
            Ask::Angle { sides, joint, motion, .. } => {
                let side = sides.each().next().filter(|_| joint.is_paired());
                Show::Angle(Angle { side, joint: *joint, motion: *motion })
            }
            other => Show::Relation(other.clone()),
        }));
        all.extend(reader.pose.contacts.iter().map(|x| Show::Contact(x.what.clone())));
        all.extend(reader.pose.efforts.iter().map(|x| Show::Effort(x.what)));
        all.extend(reader.pose.props.iter().map(|x| Show::Thing(x.what.kind)));
        all.extend(reader.pose.releases.iter().map(|x| Show::Part(x.what.part)));
        let told = reader.notices.into_iter().filter(|n| n.severity() == Severity::Error);
        let had = notices.len();
        notices.extend(told);
        if all.len() == before && notices.len() == had {
            let place = {
                let mut here = c.clone();
                here.at = end;
                here.place_since(start)
            };
            let edit = Edit { place, with: String::new() };
            notices.push(Notice::new(OfPose::UnknownShow, place).with(edit));
        }
    }
    (all, notices)
}

/// A part alone, or an angle without its number.
fn bare(c: &mut Cursor, stance: Stance) -> Option<Vec<Show>> {
    let found: Part = part(c, stance)?;
    if c.at_boundary() {
        let spots = super::contacts::spots_in(stance, found, Role::OnBody);
        return if spots.is_empty() { None } else { Some(spots.into_iter().map(Show::Part).collect()) };
    }
    let said = motion(c)?;
    let toward = motions::towards(c);
    if !c.at_boundary() {
        return None;
    }
    let joint = found.term.joint?;
    let motion = match (said, toward) {
        (motions::Said::Plain(m), _) => m,
        (motions::Said::Bent, _) => Motion::Flexion,
        (motions::Said::SideBend(Some(s)), _) | (motions::Said::SideBend(None), Some(s)) => {
            Motion::SideBend(s)
        }
        (motions::Said::Rotation(Some(s)), _) | (motions::Said::Rotation(None), Some(s)) => {
            Motion::Rotation(s)
        }
        (motions::Said::Raised, _) => Motion::Elevation,
        _ => return None,
    };
    let joint = joint_of(found.term, joint, motion);
    if !can_move(joint, motion) {
        return None;
    }
    let all = sides(&found).each().map(|side| {
        Show::Angle(Angle { side: if joint.is_paired() { Some(side) } else { None }, joint, motion })
    });
    let mut shown: Vec<Show> = Vec::new();
    for show in all {
        if !shown.contains(&show) {
            shown.push(show);
        }
    }
    Some(shown)
}
