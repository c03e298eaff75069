//! Exercise lines against the catalog: name, side, dose at this week, words for the patient, movements.

use std::collections::BTreeMap;

use super::arithmetic::Timed;
use super::check::behind;
use super::clock::Clock;
use super::growth::Growth;
use super::settled::{Bounds, Cache, Outcome, outcome};
use super::sides::{self, Odd};
use super::tolerance::{self, Order};
use super::{Amount, Exercise, Known, Later, OnSide, Words, effective, say, usual};
use crate::body::names::Side;
use crate::catalog::find::Found;
use crate::catalog::terms::{Muscle, Position, Purpose, Term};
use crate::catalog::{self, Catalog};
use crate::dose::parts::{Days, Often, Step as Grow};
use crate::dose::{Dose, Kind, Sided, Start, Tally, Work};
use crate::measure::Counts;
use crate::notice::kinds::programme::OfProgramme;
use crate::notice::{Edit, Notice};
use crate::pose::ask::{From, Posture};
use crate::pose::read::Line;
use crate::prescription::{About, Pain, Prescription, Said, Step, When};
use crate::text::Place;
use crate::text::fold::folded;

/// What resolving needs besides the line.
pub struct Scope<'a> {
    pub prescription: &'a Prescription,
    pub catalog: &'a Catalog,
    /// Own exercises, read.
    pub own: Vec<catalog::Exercise>,
    pub clock: Clock,
    pub bounds: Bounds,
    /// Degrees by which a limit is drawn short.
    pub margin: u8,
}

/// Own exercises of the text through the catalog's reader, and what is wrong with them.
pub fn own(p: &Prescription, catalog: &Catalog) -> (Vec<catalog::Exercise>, Vec<Notice>) {
    let mut notices = Vec::new();
    // A line's place is where its first letter stands: its indent is no part of it.
    let line = |s: &'_ Said| -> (String, Place) { (crate::text::trim_start(&s.text).to_string(), s.place) };
    let mut all = Vec::new();
    for block in &p.own {
        let texts: Vec<(String, Place)> = block.lines.iter().map(line).collect();
        let lines: Vec<Line<'_>> = texts.iter().map(|(text, at)| Line { text, at: *at }).collect();
        let name = Line { text: &block.name.text, at: block.name.place };
        let (exercise, told) = catalog::reader::read(name, &lines, catalog);
        notices.extend(told);
        all.push(exercise);
    }
    (all, notices)
}

enum Named<'a> {
    Entry(&'a catalog::Exercise),
    Near(Vec<&'a catalog::Exercise>),
    Nothing,
}

fn named<'a>(scope: &'a Scope<'_>, words: &str) -> Named<'a> {
    let typed = folded(words);
    if let Some(own) = scope.own.iter().find(|o| folded(&o.name) == typed) {
        return Named::Entry(own);
    }
    match scope.catalog.find(words) {
        Found::One(e) => Named::Entry(e),
        Found::Near(near) => Named::Near(near),
        Found::None => Named::Nothing,
    }
}

/// The exercise that words name, exactly.
pub fn entry_of<'a>(scope: &'a Scope<'_>, words: &str) -> Option<&'a catalog::Exercise> {
    match named(scope, words) {
        Named::Entry(entry) => Some(entry),
        Named::Near(_) | Named::Nothing => None,
    }
}

/// Supports and advice are for a place on the body, not done on a side.
pub fn is_placed(e: &catalog::Exercise) -> bool {
    matches!(e.purpose, Purpose::Support | Purpose::Advise)
}

/// One exercise line.
pub fn exercise(
    scope: &Scope<'_>,
    x: &crate::prescription::Exercise,
    cache: &mut Cache,
    notices: &mut Vec<Notice>,
) -> Exercise {
    let week = scope.clock.week;
    let standing = effective::standing(scope.prescription, x, week, |a, b| {
        folded(&a.text) == folded(&b.text)
            || matches!((entry_of(scope, &a.text), entry_of(scope, &b.text)), (Some(a), Some(b)) if a.name == b.name)
    });
    let entry = match named(scope, &standing.name.text) {
        Named::Entry(entry) => Some(entry),
        Named::Near(near) => {
            notices.push(near_name(standing.name, &near));
            None
        }
        Named::Nothing => {
            notices.push(unknown_name(standing.name));
            None
        }
    };
    let unknown;
    let e = match entry {
        Some(entry) => entry,
        None => {
            unknown = nameless(&standing.name.text, &standing.dose.work.first().map(|p| &p.work));
            &unknown
        }
    };

    let allows = entry.map(|e| e.sides);
    // The side of the exercise before it says nothing of one that works both, or has none.
    let one_sided = matches!(allows, Some(catalog::terms::Sides::Each | catalog::terms::Sides::Alternate));
    let kept = standing.other.is_none_or(|other| !other.is_side_kept || one_sided);
    let typed_side = standing.side.filter(|_| kept).or(standing.dose.sides);
    let placed = (x.region.is_some() && standing.other.is_none()) || is_placed(e);
    let (side, odd) = match (allows, typed_side) {
        // `cold pack, right knee`: a place on the body, not a working side.
        (Some(catalog::terms::Sides::None), Some(_)) if placed => (OnSide::None, None),
        _ => sides::resolved(typed_side, allows),
    };
    if let Some(odd) = odd {
        notices.push(odd_side(scope, x, e, odd));
    }

    let meant = usual::as_seconds(&standing.dose, e.kind);
    let merged = usual::over(meant.as_ref().unwrap_or(&standing.dose), typed_side, &e.dose);
    notices.extend(usual::notices(&standing.dose, &merged, typed_side, meant.is_some(), x.dose_place));
    let as_typed = usual::often_typed(&standing.dose, x.beside().map(|said| said.text.as_str()));
    if !as_typed.is_empty() {
        let is_asked = |words: &String| {
            let place = Place { line: x.line, start: 0, end: words.len() };
            !crate::dose::read(words, place).1.is_empty()
        };
        if !as_typed.iter().all(is_asked) {
            notices.push(Notice::new(OfProgramme::OftenTyped { words: as_typed.join(", ") }, x.dose_place));
        }
    } else if standing.dose.often.is_none()
        && e.kind != Kind::Advice
        && !usual::is_counted_by_parts(&standing.dose)
    {
        notices.push(usual_often(x, merged.often, entry.is_some(), standing.other.map(|other| other.step)));
    }
    let often = merged.often.unwrap_or(ONCE_DAILY);
    let grows = Growth::of(&merged, e.kind, standing.ramp_from);
    notices.extend(grows.as_ref().and_then(|grows| uncounted(x, grows)));
    let told = Some(often).filter(|_| as_typed.is_empty());
    let added = usual::added(&standing.dose, &Dose { often: told, ..merged.clone() });
    let mut dose = grows.as_ref().map_or(merged, |grows| grows.at(7 * week.saturating_sub(1)));
    dose.often = told;
    dose.sides = None;
    let portions = effective::portions(&dose, e.kind);
    let p = scope.prescription;
    let first_day = dose.from.as_ref().and_then(|from| super::clock::first_of(p, from));
    let stepped = standing.stepped.and_then(|week| super::clock::first_of(p, &of_week(week)));
    let last_day = super::clock::last_of_dose(p, &dose, stepped);
    let begun = scope.clock.begun(dose.from.as_ref(), first_day);
    let backwards = matches!((first_day, last_day), (Some(first), Some(last)) if last < first);
    let active = begun && scope.clock.holds(dose.until.as_ref(), last_day) && !backwards;
    let rounds = x.section.and_then(|s| scope.prescription.sections.get(s)).and_then(|s| s.rounds);
    let seconds = Timed {
        portions: &portions,
        kind: e.kind,
        side,
        in_all: dose.tally == Some(Tally::InAll),
        tempo: dose.tempo,
        rest: dose.rest,
        loaded: e.loaded,
        rounds: rounds.map_or(1, Counts::high),
        often,
    }
    .seconds();

    let mut outcomes: Vec<Outcome> = Vec::new();
    if !e.poses.is_empty() && active {
        for s in side.drawn() {
            outcomes.push(outcome(cache, &e.poses, &scope.bounds, *s));
        }
    }
    if active && let Some(own) = entry {
        for fault in super::own::faults(scope, own, cache) {
            if !notices.contains(&fault) {
                notices.push(fault);
            }
        }
    }
    let limited = outcomes.iter().any(|o| o.limited);
    let mut needs: Vec<crate::pose::movement::Need> = Vec::new();
    for need in outcomes.iter().flat_map(|o| &o.needs) {
        match needs.iter_mut().find(|n| n.angle == need.angle) {
            Some(n) => n.needs = n.needs.max(need.needs),
            None => needs.push(*need),
        }
    }
    let kept = outcomes.iter().map(|o| o.kept).fold(1.0, f64::min);
    let mut peaks = BTreeMap::new();
    let mut usual_peaks = BTreeMap::new();
    for o in &outcomes {
        for (angle, value) in &o.drawn.movement.peaks {
            raise(&mut peaks, angle.name(), *value);
        }
        for (angle, value) in &o.usual {
            raise(&mut usual_peaks, angle.name(), *value);
        }
    }
    let orders = orders(x, &dose.words, scope.prescription.usual_pain.as_ref());
    Exercise {
        line: x.line,
        place: x.place,
        name_place: x.name.place,
        dose_place: x.dose_place,
        active,
        is_coming: !begun && !backwards,
        section: x.section,
        known: known(entry),
        name: e.name.clone(),
        side,
        region: e.region.map_or(String::new(), |r| r.word().to_string()),
        at: at(x, side, typed_side, standing.other.is_some()),
        kind: e.kind,
        purpose: e.purpose,
        position: e.position.map_or(String::new(), |p| p.word().to_string()),
        floor: e.position.is_some_and(Position::is_on_floor),
        kit: kit_words(e),
        works: e.works.iter().map(|m: &Muscle| m.word().to_string()).collect(),
        loaded: e.loaded,
        precautions: e.cautions.clone(),
        typed: x.dose.clone(),
        usual: added,
        grows,
        amount: Amount {
            portions,
            tempo: dose.tempo,
            loads: dose.loads.clone(),
            rest: dose.rest,
            often,
            as_typed,
            moments: dose.moments.clone(),
            pain: dose.pain,
            first_day,
            last_day,
            dose,
        },
        seconds,
        words: words(x, e, side, standing.other.map(|other| other.step)),
        steps: later(scope, x),
        orders,
        limited,
        kept,
        drawn: outcomes.into_iter().map(|o| o.drawn).collect(),
        peaks,
        needs,
        instead: Vec::new(),
        usual_peaks,
        // Without a reason it is no decision yet.
        // It was given for the exercise of its line, not for what a step brings.
        anyway: x
            .anyway
            .as_ref()
            .filter(|_| standing.other.is_none())
            .map(|a| a.text.clone())
            .filter(|reason| !reason.is_empty()),
        ties: Vec::new(),
    }
}

/// Told where a dose is said to grow by what it can't.
fn uncounted(x: &crate::prescription::Exercise, grows: &Growth) -> Option<Notice> {
    let ramp = grows.ramp();
    // A landmark is told where it is read.
    if grows.is_counted() || matches!(ramp.add, Grow::Words(_)) {
        return None;
    }
    let is_either = matches!(ramp.add, Grow::Percent(_)) && grows.is_loaded();
    Some(Notice::new(OfProgramme::RampUncounted { ramp: ramp.to_string(), is_either }, x.dose_place))
}

fn of_week(week: u32) -> Start {
    Start::Week(u8::try_from(week).unwrap_or(u8::MAX))
}

pub const ONCE_DAILY: Often = Often::Calendar { days: Days::Daily, per_day: Counts::ONE };

fn raise(peaks: &mut BTreeMap<String, f64>, name: String, value: f64) {
    let peak = peaks.entry(name).or_insert(value);
    *peak = peak.max(value);
}

fn known(entry: Option<&catalog::Exercise>) -> Known {
    match entry {
        None => Known::Unknown,
        Some(e) => match e.number {
            Some(number) if !e.id.is_empty() => Known::Catalog { id: e.id.clone(), number },
            _ if !e.id.is_empty() => Known::Catalog { id: e.id.clone(), number: 0 },
            _ => Known::Own,
        },
    }
}

/// An exercise of which only the line is known: its kind by the shape of its dose.
fn nameless(name: &str, work: &Option<&Work>) -> catalog::Exercise {
    let mut e = catalog::Exercise::named(name);
    e.kind = match work {
        Some(Work::Bouts { span, .. }) if span.high() < 60 => Kind::Held,
        Some(Work::Bouts { .. } | Work::Intervals { .. }) => Kind::Timed,
        Some(Work::Time(_) | Work::Amount { .. }) => Kind::Continuous,
        Some(Work::Repetitions { .. }) | None => Kind::Repeated,
    };
    e
}

pub fn lower_first(name: &str) -> String {
    let mut chars = name.chars();
    match chars.next() {
        Some(first) => first.to_lowercase().chain(chars).collect(),
        None => String::new(),
    }
}

fn near_name(name: &Said, near: &[&catalog::Exercise]) -> Notice {
    let near: Vec<String> = near.iter().map(|e| lower_first(&e.name)).collect();
    let edit = match near.as_slice() {
        [one] => Some(Edit { place: name.place, with: one.clone() }),
        _ => None,
    };
    let what = OfProgramme::NearName { typed: name.text.clone(), near, is_against: false };
    Notice::new(what, name.place).with(edit)
}

fn unknown_name(name: &Said) -> Notice {
    Notice::new(OfProgramme::UnknownName { typed: name.text.clone() }, name.place)
}

fn odd_side(scope: &Scope<'_>, x: &crate::prescription::Exercise, e: &catalog::Exercise, odd: Odd) -> Notice {
    let (place, exercise) = (x.name.place, e.name.clone());
    match odd {
        Odd::Missing => {
            let with = likely_side(scope, x).map_or("each side", Side::word);
            let means = e.side.trim_end_matches('.').to_string();
            Notice::new(OfProgramme::SideMissing { means }, place).with(behind(place, format!(", {with}")))
        }
        Odd::OnlyTogether => Notice::new(OfProgramme::OnlyTogether { exercise }, place),
        Odd::NeverTogether => Notice::new(OfProgramme::NeverTogether { exercise }, place),
        Odd::NoSides => Notice::new(OfProgramme::NoSides { exercise }, place),
    }
}

/// The side that everything else in the text speaks of, where it is one.
fn likely_side(scope: &Scope<'_>, x: &crate::prescription::Exercise) -> Option<Side> {
    let p = scope.prescription;
    let mut sides: Vec<Side> = p.limits.iter().filter_map(|l| l.angle.side).collect();
    sides.extend(p.bearing.iter().filter_map(|b| b.side));
    sides.extend(p.title.iter().filter_map(|t| super::check::caution::side_in(&t.text)));
    let others = p.exercises.iter().filter(|o| o.line != x.line).filter_map(|o| o.side);
    sides.extend(others.filter_map(crate::prescription::one_side));
    let first = *sides.first()?;
    sides.iter().all(|s| *s == first).then_some(first)
}

/// `step`: the one that brought this exercise, where the line above it says nothing of it.
fn usual_often(
    x: &crate::prescription::Exercise,
    often: Option<Often>,
    known: bool,
    step: Option<&Step>,
) -> Notice {
    let usual = often.unwrap_or(ONCE_DAILY);
    let written = crate::dose::Dose { often: Some(usual), ..Default::default() }.to_string();
    let place = step.map_or(x.dose_place, |step| step.place);
    // A line without a dose has no place for one: it goes behind the name.
    let end = if place.start < place.end { place } else { Place { start: x.name.place.end, ..x.place } };
    let is_typed = place.start < place.end;
    let edit = is_typed.then(|| behind(end, format!(", {written}")));
    let what =
        if known && often.is_some() { OfProgramme::OftenUsual { written } } else { OfProgramme::OftenUnsaid };
    Notice::new(what, if is_typed { place } else { x.name.place }).with(edit)
}

/// Where on the body a support goes: `right knee`.
fn at(
    x: &crate::prescription::Exercise,
    side: OnSide,
    typed: Option<Sided>,
    is_other: bool,
) -> Option<String> {
    let region = x.region.as_ref().filter(|_| !is_other).map(|r| r.text.clone());
    let one = typed.and_then(crate::prescription::one_side).map(|s| s.word().to_string());
    let both = match (side, typed) {
        (OnSide::Together, Some(Sided::EachSide)) => Some("each side"),
        (OnSide::Together, Some(Sided::Alternating)) => Some("sides in turn"),
        _ => None,
    };
    if let Some(both) = both {
        return Some(region.map_or_else(|| both.to_string(), |region| format!("{both} {region}")));
    }
    match (side, one, region) {
        (OnSide::None | OnSide::Together, Some(side), Some(region)) => Some(format!("{side} {region}")),
        (OnSide::None, Some(side), None) => Some(side),
        // Typed of what both sides do at once, it is told and stands on the sheet all the same.
        (OnSide::Together, Some(side), None) => Some(format!("{side} side")),
        (_, _, region) => region,
    }
}

/// `step`: the one that brought this exercise. What is typed above it is about the exercise before; a sign to stop is
/// the patient's, and stays.
fn words(
    x: &crate::prescription::Exercise,
    e: &catalog::Exercise,
    side: OnSide,
    step: Option<&Step>,
) -> Words {
    let is_of = |d: &crate::prescription::Detail| {
        d.about == About::StopIf || step.is_none_or(|step| step.place.line < d.said.place.line)
    };
    let of = |about: About| -> Vec<String> {
        let own = x.details.iter().filter(|d| d.about == about && is_of(d));
        own.map(|d| sentence(&d.said.text)).collect()
    };
    // The clinician's own words come first; for feel and neighbours they stand in place of the catalog's.
    let or = |about: About, usual: Vec<String>| {
        let own = of(about);
        if own.is_empty() { usual } else { own }
    };
    let both = |about: About, usual: &[String]| [of(about), usual.to_vec()].concat();
    // Another exercise's name alone tells the patient nothing: it has no picture on the sheet.
    let neighbours = |all: &[catalog::Neighbour]| {
        all.iter().filter(|n| n.id.is_none()).map(|n| sentence(&n.words)).collect::<Vec<_>>()
    };
    Words {
        side: side_words(e, side),
        set_up: e.set_up.clone(),
        cues: both(About::Cue, &e.steps),
        feel: or(About::Feel, e.feel.clone()),
        if_not_felt: or(About::IfNotFelt, e.if_not_felt.iter().map(|h| sentence(&h.text)).collect()),
        easier: or(About::Easier, neighbours(&e.easier)),
        harder: or(About::Harder, neighbours(&e.harder)),
        why: of(About::Why),
        note: of(About::Note),
        stop_if: both(About::StopIf, &e.stop_if),
    }
}

/// Trimmed, with a capital and a full stop.
fn sentence(text: &str) -> String {
    let text = text.trim();
    let mut chars = text.chars();
    let Some(first) = chars.next() else { return String::new() };
    let end = if text.ends_with(['.', '!', '?', '…']) { "" } else { "." };
    format!("{}{}{end}", first.to_uppercase(), chars.as_str())
}

/// The side written out, where it decides how to lie or kneel, or what it means.
fn side_words(e: &catalog::Exercise, side: OnSide) -> Option<String> {
    let first = match side {
        OnSide::Right | OnSide::EachSide | OnSide::Alternating => Side::Right,
        OnSide::Left => Side::Left,
        OnSide::Together | OnSide::None => return None,
    };
    let on = |s: Side| say::loud(if first == Side::Left { s.other() } else { s });
    let posture = e.poses.first().and_then(|p| match p.from {
        From::Posture(posture) => Some(posture),
        From::Earlier(_) => None,
    });
    let set = match posture {
        Some(Posture::SideLying(s)) => Some(format!("Lie on your {} side.", on(s))),
        Some(Posture::HalfKneeling(s)) => Some(format!("Kneel on your {} knee.", on(s))),
        _ => None,
    };
    let one = matches!(side, OnSide::Left | OnSide::Right);
    match (set, one) {
        (Some(set), true) => Some(set),
        (Some(set), false) => Some(format!("{set} Do it all. Then change sides.")),
        (None, true) => {
            let meant = e.side.split([':', ';', '.']).next().unwrap_or("").trim();
            let part = meant.strip_prefix("the ").and_then(|m| m.split_once(" that "));
            match part {
                Some((part, does)) => {
                    Some(format!("Your {} {part} is the one that {does}.", say::loud(first)))
                }
                None => (!meant.is_empty()).then(|| format!("{}: {meant}.", say::loud(first))),
            }
        }
        (None, false) => None,
    }
}

pub fn kit_words(e: &catalog::Exercise) -> Vec<String> {
    e.kit.iter().map(|k| k.word().to_string()).collect()
}

/// What a step changes, in words.
fn what(s: &Step) -> String {
    let dose = s.dose.to_string();
    let side = s.side.map(|side| match crate::prescription::one_side(side) {
        Some(one) => say::loud(one).to_string(),
        None => side.to_string(),
    });
    let parts = [s.name.as_ref().map(|n| n.text.clone()), side, (!dose.is_empty()).then_some(dose)];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What the clinician wrote for too much pain, and for pain that does not settle: steps, pieces of the dose
/// that stay words, and what is said below the line, each as the sheet has it.
fn orders(x: &crate::prescription::Exercise, dose: &[String], usual: Option<&Pain>) -> Vec<Order> {
    let steps = x.steps.iter().filter_map(|s| match &s.when {
        When::From(_) => None,
        When::When(words) => Order::of(words, format!("When {words}: {}", what(s)), usual),
        When::If(words) => Order::of(words, format!("If {words}: {}", what(s)), usual),
    });
    let within = |words: &str| Order::of(tolerance::condition(words)?, sentence(words), usual);
    let dose = dose.iter().filter_map(|words| within(words));
    let said = x.details.iter().filter_map(|d| match d.about {
        About::StopIf => Order::of(&d.said.text, format!("Stop if: {}", sentence(&d.said.text)), usual),
        About::Cue | About::Note => within(&d.said.text),
        // How to go on, not what to do when it goes wrong.
        About::Feel | About::IfNotFelt | About::Easier | About::Harder | About::Why | About::Taught => None,
    });
    steps.chain(dose).chain(said).collect()
}

/// Steps that are not taken yet: by date, then by criterion.
fn later(scope: &Scope<'_>, x: &crate::prescription::Exercise) -> Vec<Later> {
    let mut all = Vec::new();
    for (week, step) in effective::by_date(scope.prescription, x) {
        if scope.clock.week < week {
            let days = i32::try_from(7 * (week - 1)).unwrap_or(0);
            let when = match scope.prescription.start {
                Some(start) => format!("From {}", start.plus_days(days).words()),
                None => format!("From week {week}"),
            };
            all.push(Later { from: Some(week), when, what: what(step) });
        }
    }
    for step in &x.steps {
        let when = match &step.when {
            When::From(_) => continue,
            When::When(words) => format!("When {words}"),
            When::If(words) => format!("If {words}"),
        };
        all.push(Later { from: None, when, what: what(step) });
    }
    all
}
