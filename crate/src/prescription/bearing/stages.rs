//! Several weights on one line: of two sides, or one after another.

use super::{Bearing, Cursor, End, Value, Weeks, fold, read, staged, tokens, what, written};

/// Reads one limb's weight, or several: `right NWB, left WBAT`; `NWB R 2/52 then PWB`. A line that begins with `then` goes
/// on from the line before it: the first of what it gives follows.
pub fn all(value: &Value<'_>) -> Option<Vec<Bearing>> {
    if let Some(one) = read(value) {
        return Some(vec![one]);
    }
    if let Some(stages) = stages(value).or_else(|| by_week(value)) {
        return Some(stages);
    }
    let pieces = value.list();
    let found: Option<Vec<Bearing>> =
        pieces.iter().map(|piece| read(&Value { text: &piece.text, place: piece.place })).collect();
    let found = found.filter(|found| 1 < found.len())?;
    let found: Vec<Bearing> = found.into_iter().map(|b| Bearing { place: value.place, ..b }).collect();
    if found.iter().all(|b| b.side.is_some()) { Some(found) } else { in_turn(found, false) }
}

/// What `then` parts.
fn stages(value: &Value<'_>) -> Option<Vec<Bearing>> {
    let folded = fold(value.text);
    let all = tokens(&folded);
    let mut cuts: Vec<(usize, usize)> = Vec::new();
    for at in 0..all.len() {
        let mut c = Cursor { all: &all, at };
        let _ = c.word(&["and"]).is_some() || c.sign(',');
        let arrow = c.sign('→') || c.signs("->");
        if (arrow || c.word(&["then"]).is_some()) && cuts.last().is_none_or(|(_, to)| *to <= at) {
            c.sign(',');
            cuts.push((at, c.at));
        }
    }
    let leads = cuts.first().is_some_and(|(at, _)| *at == 0);
    let starts = (!leads).then_some(0).into_iter().chain(cuts.iter().map(|(_, to)| *to));
    let ends = cuts.iter().map(|(at, _)| *at).filter(|at| 0 < *at).chain([all.len()]);
    let piece = |(from, to): (usize, usize)| {
        let from = all.get(from)?.start;
        let to = all.get(to.checked_sub(1)?)?.end;
        read(&Value { text: value.text.get(from..to)?, place: value.place })
    };
    if cuts.is_empty() {
        return None;
    }
    let found: Option<Vec<Bearing>> = starts.zip(ends).map(piece).collect();
    in_turn(found?, leads)
}

/// `wk 0-6 NWB L, wk 6-8 PWB 50%, wk 8+ FWB`: each stage goes on where the one before ends.
fn by_week(value: &Value<'_>) -> Option<Vec<Bearing>> {
    let mut found: Vec<Bearing> = Vec::new();
    let mut reached: Option<Weeks> = None;
    for piece in value.list() {
        let (bearing, weeks) = staged(&Value { text: &piece.text, place: value.place })?;
        let weeks = weeks?;
        if !reached.map_or(weeks.from <= 1, |before| before.meets(weeks)) {
            return None;
        }
        // A stage that says `week 7` where the first began at 0 counts from the same day.
        let end = match (&found.first().and_then(|b| b.end.clone()), weeks.to) {
            (Some(End::After { event, .. }), Some(weeks)) => Some(End::After { weeks, event: *event }),
            _ => bearing.end.clone(),
        };
        reached = Some(weeks);
        found.push(Bearing { end, ..bearing });
    }
    in_turn(found, false)
}

/// Weights of one limb, each from where the one before ends; so all but the last must end.
fn in_turn(mut found: Vec<Bearing>, leads: bool) -> Option<Vec<Bearing>> {
    let (last, before) = found.split_last()?;
    let ends = |b: &Bearing| b.end.as_ref().is_some_and(|end| !matches!(end, End::Words(_)));
    if !before.iter().all(ends) || last.end.is_some() && !ends(last) {
        return None;
    }
    let first = found.first()?.clone();
    for (at, stage) in found.iter_mut().enumerate() {
        if at == 0 && !leads {
            continue;
        }
        let said = stage.side.is_some() || stage.both;
        if at != 0 && said && (stage.side, stage.both) != (first.side, first.both) {
            return None;
        }
        stage.follows = true;
        if at != 0 {
            (stage.side, stage.both, stage.limb) = (first.side, first.both, first.limb);
        }
    }
    Some(found)
}

/// Weights in groups: each one that stands for itself with those that follow it.
pub fn groups(all: &[Bearing]) -> impl Iterator<Item = &[Bearing]> {
    all.chunk_by(|_, next| next.follows)
}

/// The canonical writing of what stands on one line. Several sides are told apart by their names.
pub fn written_all(all: &[Bearing]) -> String {
    let group = |stages: &[Bearing]| {
        let mut pieces = Vec::new();
        for (at, stage) in stages.iter().enumerate() {
            pieces.push(match (at, stage.follows) {
                (0, false) => written(stage),
                (0, true) => format!("then {}", written(stage)),
                (_, _) => format!("then {}", what(stage).join(", ")),
            });
        }
        pieces.join(", ")
    };
    let texts: Vec<String> = groups(all).map(group).collect();
    match texts.as_slice() {
        [one] => one.clone(),
        many => many.iter().map(|text| text.replace(", ", " ")).collect::<Vec<_>>().join(", "),
    }
}
