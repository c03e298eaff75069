//! What the exercise's usual dose adds to a typed one, and how a typed number is meant for its kind.

use crate::dose::find::vague;
use crate::dose::parts::{Days, Ending, Moment, Often};
use crate::dose::{Dose, Kind, Sided, Tally, Work};
use crate::measure::{Counts, Span};
use crate::notice::kinds::programme::OfProgramme;
use crate::notice::{Edit, Notice};
use crate::text::Place;

/// As many holds in a row as this are none: nobody counts them, and the number is their seconds (common practice, no
/// source).
const SECONDS: u32 = 15;

/// The dose with what was typed as a bare number meant as seconds, where the exercise is held: `calf stretch 3x30`.
/// None: it stands as typed.
pub fn as_seconds(dose: &Dose, kind: Kind) -> Option<Dose> {
    if kind != Kind::Held || dose.hold.is_some() {
        return None;
    }
    let mut meant = dose.clone();
    let [portion] = meant.work.as_mut_slice() else { return None };
    let Work::Repetitions { sets: Some(sets), reps: Some(n), ending: Ending::Number } = portion.work else {
        return None;
    };
    let span = Span::new(n.low(), n.high()).filter(|_| SECONDS <= n.low())?;
    portion.work = Work::Bouts { sets: None, bouts: sets, span };
    Some(meant)
}

/// The dose over the exercise's usual one. A count of both sides in all is the usual numbers' own: it never halves a
/// number that was typed for each side. Parts of the day without a number say how often: `mane + nocte` is twice.
pub fn over(typed: &Dose, side: Option<Sided>, usual: &Dose) -> Dose {
    let mut dose = typed.over(usual);
    let in_all = typed.tally.is_none() && usual.tally == Some(Tally::InAll);
    if in_all && side == Some(Sided::EachSide) && !typed.work.is_empty() {
        dose.tally = Some(Tally::EachSide);
    }
    let parts = typed.moments.iter().filter(|m| matches!(m, Moment::At(_))).count();
    if typed.often.is_none()
        && let Some(times) = u32::try_from(parts).ok().and_then(Counts::one)
    {
        let days = match dose.often {
            Some(Often::Calendar { days, .. }) if times == Counts::ONE => days,
            _ => Days::Daily,
        };
        dose.often = Some(Often::Calendar { days, per_day: times });
    }
    dose
}

/// Whether parts of the day say how often: `am & pm` is twice a day.
pub fn is_counted_by_parts(typed: &Dose) -> bool {
    1 < typed.moments.iter().filter(|m| matches!(m, Moment::At(_))).count()
}

/// The words of a dose and beside its name that say how often or when, where no frequency was read.
pub fn often_typed<'a>(typed: &'a Dose, beside: impl Iterator<Item = &'a str>) -> Vec<String> {
    if typed.often.is_some() {
        return Vec::new();
    }
    let moments = typed.moments.iter().filter_map(|moment| match moment {
        Moment::Words(words) => Some(words.as_str()),
        Moment::At(_) | Moment::Before(_) | Moment::After(_) => None,
    });
    let said = typed.words.iter().map(String::as_str).chain(moments).chain(beside);
    said.filter(|words| vague::says_how_often(words))
        .map(|words| words.trim_end_matches('.').to_string())
        .collect()
}

/// What of a dose was not typed: the parts that the typed one leaves open.
pub fn added(typed: &Dose, dose: &Dose) -> Dose {
    Dose {
        work: if typed.work.is_empty() { dose.work.clone() } else { Vec::new() },
        hold: dose.hold.filter(|_| typed.hold.is_none()),
        tempo: dose.tempo.filter(|_| typed.tempo.is_none()),
        loads: if typed.loads.is_empty() { dose.loads.clone() } else { Vec::new() },
        effort: dose.effort.filter(|_| typed.effort.is_none()),
        reserve: dose.reserve.filter(|_| typed.reserve.is_none()),
        rest: dose.rest.filter(|_| typed.rest.is_none()),
        pain: dose.pain.filter(|_| typed.pain.is_none()),
        sides: None,
        tally: dose.tally.filter(|_| typed.tally.is_none()),
        often: dose.often.filter(|_| typed.often.is_none()),
        moments: if typed.moments.is_empty() { dose.moments.clone() } else { Vec::new() },
        ramp: dose.ramp.clone().filter(|_| typed.ramp.is_none()),
        from: dose.from.filter(|_| typed.from.is_none()),
        until: dose.until.clone().filter(|_| typed.until.is_none()),
        words: if typed.words.is_empty() { dose.words.clone() } else { Vec::new() },
    }
}

/// What is told of a typed dose: what was read as seconds, and what the usual dose added.
pub fn notices(typed: &Dose, dose: &Dose, side: Option<Sided>, meant: bool, place: Place) -> Vec<Notice> {
    let mut out = Vec::new();
    if typed.work.is_empty() || place.start >= place.end {
        return out;
    }
    if meant {
        let shown = Dose { work: dose.work.clone(), ..Dose::default() };
        out.push(Notice::new(OfProgramme::ReadAsSeconds { shown: shown.to_string() }, place));
    }
    let tally =
        (typed.tally.is_none() && !matches!(side, Some(Sided::EachSide))).then_some(dose.tally).flatten();
    let added = Dose {
        hold: typed.hold.is_none().then_some(dose.hold).flatten(),
        tempo: typed.tempo.is_none().then_some(dose.tempo).flatten(),
        loads: if typed.loads.is_empty() { dose.loads.clone() } else { Vec::new() },
        tally,
        ..Dose::default()
    };
    if added != Dose::default() {
        let end = Place { start: place.end, ..place };
        let edit = Edit { place: end, with: format!(", {added}") };
        out.push(Notice::new(OfProgramme::UsualDose { added: added.to_string() }, place).with(edit));
    }
    out
}
