//! What stands beside a condition: what tells it more closely, its grade, since when, which side.

use super::Named;
use super::certain::{self, Piece};
use super::find::{Found, Hit, piece_of};
use super::sorts::{Bone, Condition, Detail};
use super::when::{self, When};
use crate::body::names::{Side, Sides};
use crate::language::anatomy;
use crate::language::token::{Cursor, Sort, Token};

/// The condition that a detail tells more closely, and what it is then.
pub(super) fn target(
    found: &[Found],
    all: &[Token<'_>],
    pieces: &[Piece],
    hit: &Hit,
    detail: Detail,
    beside: bool,
) -> Option<(usize, Condition)> {
    let gap = |f: &Found| {
        if f.hit.to <= hit.from { hit.from - f.hit.to } else { f.hit.from.saturating_sub(hit.to) }
    };
    let signs = |from: usize, to: usize| {
        (from..to).all(|at| matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign('(' | '-' | '/' | ':'))))
    };
    let fits = |f: &Found| {
        let near = !beside || f.hit.to <= hit.from && signs(f.hit.to, hit.from);
        near && f.condition.detail().is_none()
    };
    let apart = |f: &Found| piece_of(pieces, f.hit.from) != piece_of(pieces, hit.from);
    let better = |f: &Found| f.condition.with(detail).filter(|_| fits(f));
    let all_of = found.iter().enumerate().filter_map(|(at, f)| Some((at, f, better(f)?)));
    all_of.min_by_key(|(_, f, _)| (apart(f), gap(f))).map(|(at, _, better)| (at, better))
}

/// Weeks of a pregnancy name it by themselves: `30/40`. What is told of a birth may be how early it was.
pub(super) fn pregnant(all: &[Token<'_>], found: &mut Vec<Found>) {
    let weeks = (0..all.len()).find_map(|at| {
        let (to, when) = when::at(all, at)?;
        matches!(when, When::Pregnant { .. }).then_some((at, to, when))
    });
    let born = found.iter().any(|f| matches!(f.condition, Condition::AfterBirth | Condition::Caesarean));
    let named = found.iter_mut().find(|f| f.condition == Condition::Pregnancy);
    match (named, weeks) {
        (Some(named), Some((from, to, when))) => {
            named.when = Some(when);
            named.beside.push((from, to));
        }
        (Some(named), None) => {
            // `30 weeks pregnant`, `pregnant, 30 weeks`
            let before = (2..=3).find_map(|back| when::weeks(all, named.hit.from.checked_sub(back)?));
            let before = before.filter(|(to, _)| *to == named.hit.from);
            let behind = when::weeks(all, named.hit.to);
            if let Some((to, when)) = before.or(behind) {
                let from = if to <= named.hit.from { to.saturating_sub(2) } else { named.hit.to };
                let comma = all.get(from).is_some_and(|t| matches!(t.sort, Sort::Sign(',')));
                named.when = Some(when);
                named.beside.push((from + usize::from(comma), to));
            }
        }
        (None, Some((from, to, when))) if !born => {
            let hit = Hit { from, to, side: None, condition: Some(Condition::Pregnancy), detail: None };
            let mut named = Found::new(hit, Condition::Pregnancy);
            named.when = Some(when);
            let at = found.iter().position(|f| from < f.hit.from).unwrap_or(found.len());
            found.insert(at, named);
        }
        (None, _) => {}
    }
}

/// `surgery` and `fracture` say nothing more where the one that was done or broken is named.
pub(super) fn leave_general(found: &mut Vec<Found>) {
    let operated = found.iter().any(|f| f.condition.is_operation() && f.condition != Condition::Operation);
    let unsaid = |c: Condition| matches!(c, Condition::Fracture(Bone::Unsaid, _));
    let broken = found.iter().any(|f| {
        matches!(f.condition, Condition::Fracture(..) | Condition::StressFracture) && !unsaid(f.condition)
    });
    found.retain(|f| !(operated && f.condition == Condition::Operation || broken && unsaid(f.condition)));
}

/// `gd 2`, `grade II`, `stage 2`; `WAD II`.
pub(super) fn grades(all: &[Token<'_>], pieces: &[Piece], found: &mut [Found]) {
    let number = |at: usize| match all.get(at)?.sort {
        Sort::Number(n) if n.is_multiple_of(100) => u8::try_from(n / 100).ok().filter(|n| *n <= 5),
        Sort::Word("i") => Some(1),
        Sort::Word("ii") => Some(2),
        Sort::Word("iii") => Some(3),
        Sort::Word("iv") => Some(4),
        _ => None,
    };
    let graded = |c: Condition| {
        c.has_day() && !c.is_operation()
            || matches!(
                c,
                Condition::Spondylolisthesis | Condition::FrozenShoulder | Condition::PelvicProlapse
            )
    };
    for f in found.iter_mut().filter(|f| f.condition == Condition::Whiplash) {
        f.grade = number(f.hit.to);
    }
    for at in 0..all.len() {
        let word = matches!(
            all.get(at).map(|t| t.sort),
            Some(Sort::Word("gd" | "gr" | "grd" | "grade" | "stage" | "phase" | "g"))
        );
        let Some(grade) = number(at + 1).filter(|_| word) else { continue };
        let piece = piece_of(pieces, at);
        let near = |f: &&mut Found| (piece_of(pieces, f.hit.from) != piece, f.hit.from.abs_diff(at));
        let fits = found.iter_mut().filter(|f| graded(f.condition) && f.grade.is_none());
        if let Some(f) = fits.min_by_key(near) {
            f.grade = Some(grade);
        }
    }
}

/// Each time belongs to the nearest name of its piece; one that stands alone in its piece to the name before it.
pub(super) fn times(all: &[Token<'_>], pieces: &[Piece], found: &mut [Found]) {
    let mut at = 0;
    while at < all.len() {
        let begun = at;
        at += 1;
        // A number within a name is no time.
        if found.iter().any(|f| f.hit.from <= begun && begun < f.hit.to) {
            continue;
        }
        let Some((to, when)) = when::at(all, begun) else { continue };
        at = to;
        if matches!(when, When::Pregnant { .. }) {
            continue;
        }
        let piece = piece_of(pieces, begun);
        // A name reaches to what tells it more closely: `DRF, VLP 2/52`.
        let spans = |f: &Found| [(f.hit.from, f.hit.to)].into_iter().chain(f.beside.clone());
        let away = |(start, end): (usize, usize)| {
            if end <= begun { begun - end } else { start.saturating_sub(to) }
        };
        let gap = |f: &Found| spans(f).map(away).min();
        let free = |f: &Found| f.when.is_none() && f.condition != Condition::Pregnancy;
        let within =
            |f: &Found| piece.is_some() && spans(f).any(|(start, _)| piece_of(pieces, start) == piece);
        let near = found.iter().enumerate().filter(|(_, f)| within(f)).min_by_key(|(_, f)| gap(f));
        let alone = piece.is_some_and(|p| certain::stands_alone(all, p, begun, to));
        let before = || found.iter().enumerate().rfind(|(_, f)| f.hit.to <= begun && free(f));
        let behind = || found.iter().enumerate().find(|(_, f)| to <= f.hit.from && free(f));
        let words = || piece.is_none_or(|p| told_by_itself(all, p, begun, to));
        let chosen = near.or_else(|| if alone || words() { before().or_else(behind) } else { None });
        let chosen = chosen.filter(|(_, f)| free(f)).map(|(i, _)| i);
        if let Some(f) = chosen.and_then(|i| found.get_mut(i)) {
            f.when = Some(when);
        }
    }
}

/// Whether nothing but words of an operation's day stand around a time: `8 wks post-op`.
pub(super) fn told_by_itself(all: &[Token<'_>], piece: Piece, from: usize, to: usize) -> bool {
    let outside = (piece.from..from).chain(to..piece.to);
    outside.into_iter().all(|at| match all.get(at).map(|t| t.sort) {
        Some(Sort::Word(w)) => matches!(
            w,
            "post"
                | "op"
                | "postop"
                | "po"
                | "ago"
                | "s"
                | "p"
                | "out"
                | "after"
                | "surgery"
                | "since"
                | "on"
                | "dos"
                | "doi"
                | "now"
        ),
        Some(Sort::Sign(_)) => true,
        Some(Sort::Number(_)) | None => false,
    })
}

/// The side within a name, else the nearest of its piece with no other name between, else the only one of the line.
pub(super) fn sides(all: &[Token<'_>], pieces: &[Piece], found: &mut [Found]) {
    let mut typed: Vec<(usize, Sides)> = Vec::new();
    let mut c = Cursor { all, at: 0 };
    while !c.is_done() {
        let at = c.at;
        if anatomy::both_sides(&mut c) {
            typed.push((at, Sides::Both));
        } else if let Some(side) = anatomy::side(&mut c) {
            typed.push((at, Sides::One(side)));
        } else {
            c.at += 1;
        }
    }
    let hits: Vec<(usize, usize)> = found.iter().map(|f| (f.hit.from, f.hit.to)).collect();
    let clear = |from: usize, to: usize| !hits.iter().any(|(start, end)| from <= *start && *end <= to);
    let whole: Vec<Side> = typed.iter().flat_map(|(_, s)| s.each()).collect();
    let one = whole.first().filter(|first| whole.iter().all(|s| s == *first)).map(|s| Sides::One(*s));
    let both = typed.first().filter(|_| typed.iter().all(|(_, s)| *s == Sides::Both)).map(|(_, s)| *s);
    for f in found.iter_mut() {
        if !f.condition.is_sided() {
            f.side = None;
            continue;
        }
        let Some(piece) = piece_of(pieces, f.hit.from) else { continue };
        let before = || {
            let near = typed.iter().rev().find(|(at, _)| piece.from <= *at && *at < f.hit.from)?;
            clear(near.0, f.hit.from).then_some(near.1)
        };
        let behind = || {
            let near = typed.iter().find(|(at, _)| f.hit.to <= *at && *at < piece.to)?;
            clear(f.hit.to, near.0).then_some(near.1)
        };
        f.side = f.side.or_else(before).or_else(behind).or(one).or(both);
    }
}

/// The same thing named twice is one: `#NOF, DHS`; `CAD, stent`.
pub(super) fn merged(named: Vec<Named>) -> Vec<Named> {
    let mut out: Vec<Named> = Vec::new();
    for one in named {
        let same = |known: &&mut Named| {
            let alike = match (known.condition, one.condition) {
                (Condition::Fracture(a, x), Condition::Fracture(b, y)) => {
                    a == b && (x.is_none() || y.is_none() || x == y)
                }
                (a, b) => a == b,
            };
            let sides = known.side.is_none() || one.side.is_none() || known.side == one.side;
            alike && sides && known.certainty == one.certainty
        };
        match out.iter_mut().find(same) {
            Some(known) => {
                if known.condition.detail().is_none() {
                    known.condition = one.condition;
                }
                known.side = known.side.or(one.side);
                known.grade = known.grade.or(one.grade);
                known.when = known.when.or(one.when);
                known.beside.push(one.place);
                known.beside.extend(one.beside);
            }
            None => out.push(one),
        }
    }
    out
}
