//! Puts a programme together.

use super::check::{self, Scene};
use super::clock::Clock;
use super::resolve::{self, Scope};
use super::settled::{Bounds, Cache};
use super::{Ask, DoNot, Known, OnSide, Programme, Section, Who, condition, full, say};
use crate::catalog::Catalog;
use crate::notice::Notice;
use crate::prescription::Prescription;

/// The prescription made sense of at the week asked for. Pure but for the cache, which holds nothing that can
/// change the answer.
///
/// ```
/// use layfigure::{catalog::Catalog, prescription, programme};
/// let (p, _) = prescription::read("start: 2026-11-30\nsome exercise of our own: 3 x 10, 2/day");
/// let mut cache = programme::settled::Cache::default();
/// let programme = programme::assemble::at(&p, Catalog::embedded(), &programme::Ask::today(None), &mut cache);
/// // 3 x 10 x 4 s, two rests of 15 s, 15 s to get into place.
/// assert_eq!(programme.exercises[0].seconds.go, 165);
/// ```
pub fn at(p: &Prescription, catalog: &Catalog, ask: &Ask, cache: &mut Cache) -> Programme {
    let clock = Clock::of(p, ask);
    let limits = clock.limits(p);
    let bearing = clock.bearing(p);
    let build = p.body.clone().unwrap_or_default();
    let body = super::build::body(p, clock.starts.or(ask.today));
    let bounds = Bounds::of(body, &limits, ask.margin);
    let in_force = bounds.limits.clone();
    let (own, mut notices) = resolve::own(p, catalog);
    let scope = Scope { prescription: p, catalog, own, clock, bounds };
    let mut exercises =
        p.exercises.iter().map(|x| resolve::exercise(&scope, x, cache, &mut notices)).collect::<Vec<_>>();
    super::ties::tie(&scope, &mut exercises, &mut notices);
    let full = full::text(&scope);
    let said = |list: &[crate::prescription::Said]| list.iter().map(|s| s.text.clone()).collect::<Vec<_>>();
    let mut programme = Programme {
        week_number: clock.week,
        week_starts: clock.starts,
        weeks: p.weeks,
        today: ask.today,
        version: version(&full),
        who: Who {
            title: p.title.as_ref().map(|t| t.text.clone()),
            by: p.by.as_ref().map(|t| t.text.clone()),
            patient: p.patient.as_ref().map(|t| t.name.clone()),
            age: p.patient.as_ref().and_then(|t| t.age),
        },
        start: p.start,
        review: p.review,
        aims: said(&p.aims),
        body,
        build: said(&build.words),
        cautions: condition::cautions(p),
        usual_pain: p.usual_pain.clone(),
        ask: p.ask.as_ref().map(|a| a.text.clone()),
        sections: p
            .sections
            .iter()
            .map(|s| Section { title: s.said.text.clone(), rounds: s.rounds })
            .collect(),
        exercises,
        do_not: do_not(p, &limits, &bearing),
        limits,
        bearing,
        in_force,
        times: p.times.clone(),
        fixed: p.fixed.clone(),
        bad_day: said(&p.bad_day),
        flare: said(&p.flare),
        discharge: said(&p.discharge),
        notices: Vec::new(),
        checked: Vec::new(),
        unchecked: Vec::new(),
        full,
    };
    let scene = Scene { programme: &programme, prescription: p };
    notices.extend(check::all(scene));
    let (checked, unchecked) = lists(scene);
    crate::sorting::sort_by_key(&mut notices, |n: &Notice| (n.place.line, n.severity));
    programme.notices = notices;
    programme.checked = checked;
    programme.unchecked = unchecked;
    programme
}

fn do_not(
    p: &Prescription,
    limits: &[super::Standing<crate::prescription::limit::Limit>],
    bearing: &[super::Standing<crate::prescription::limit::Bearing>],
) -> Vec<DoNot> {
    let mut all = Vec::new();
    for limit in limits.iter().filter(|l| l.in_force) {
        for words in say::forbidden(&limit.what) {
            all.push(DoNot { words, last_day: limit.last_day, computed: true });
        }
    }
    for b in bearing.iter().filter(|b| b.in_force) {
        let computed = say::restricts(b.what.weight);
        all.push(DoNot { words: say::weight(&b.what), last_day: b.last_day, computed });
    }
    for said in &p.avoid {
        let computed = check::avoid::known(&said.text);
        all.push(DoNot {
            words: format!("Avoid {}.", said.text.trim_end_matches('.')),
            last_day: None,
            computed,
        });
    }
    // Word for word: it may be the one thing that matters.
    for unread in p.unread.iter().filter(|u| u.safety) {
        all.push(DoNot { words: unread.said.text.clone(), last_day: None, computed: false });
    }
    all
}

/// What was checked by computation, and what was not, in plain sentences.
fn lists(scene: Scene<'_>) -> (Vec<String>, Vec<String>) {
    let (programme, p) = (scene.programme, scene.prescription);
    let mut checked = Vec::new();
    let mut not = Vec::new();
    let day = |d: Option<crate::measure::Date>| {
        d.map_or(String::new(), |d| format!(", up to and including {}", d.words()))
    };
    let figures = scene.exercises().filter(|e| !e.drawn.is_empty()).count();
    for limit in &programme.limits {
        let bounds: Vec<String> =
            super::clock::bounds(&limit.what).iter().map(|(angle, most)| say::bound(*angle, *most)).collect();
        let what = check::listed(&bounds, "and");
        if !limit.in_force {
            let ended =
                limit.last_day.map_or("before this week".to_string(), |d| format!("on {}", d.words()));
            not.push(format!("The limit {what} ended {ended}; it isn’t checked in this week."));
        } else if figures == 0 {
            not.push(format!("The limit {what}: no exercise of this week has a figure to check."));
        } else {
            let word = if figures == 1 { "exercise" } else { "exercises" };
            checked.push(format!(
                "The limit {what}{}: over the whole movement of {figures} {word} with a figure.",
                day(limit.last_day)
            ));
        }
    }
    for b in programme.bearing.iter() {
        let limb = b.what.limb;
        let both = || format!("both {}", limb.words());
        let side = b.what.side.map_or_else(both, |s| format!("the {} {}", s.word(), limb.word()));
        if b.in_force && say::restricts(b.what.weight) {
            checked.push(format!(
                "Weight on {side}{}: by what touches the ground in each figure.",
                day(b.last_day)
            ));
        } else if b.in_force {
            not.push(format!(
                "Weight on {side} as tolerated or full: how much is put on it is not computed."
            ));
        }
        if !b.what.words.is_empty() {
            not.push(format!("“{}” beside the weight on {side}.", b.what.words));
        }
    }
    for said in p.avoid.iter().chain(&p.cannot) {
        if check::avoid::known(&said.text) {
            checked
                .push(format!("“{}”: against positions, contacts and angles of each exercise.", said.text));
        } else {
            not.push(format!("“{}”: no rule knows it.", said.text));
        }
    }
    let mut seen: Vec<&str> = Vec::new();
    for caution in &programme.cautions {
        match rule_for(caution.known) {
            Some(rule) => checked.push(format!("{}: {rule}", capital(&caution.words))),
            None if !seen.contains(&caution.words.as_str()) && !caution.words.is_empty() => {
                not.push(format!("“{}”: no rule knows it.", caution.words));
            }
            None => {}
        }
        seen.push(&caution.words);
    }
    for unread in p.unread.iter().filter(|u| u.safety) {
        not.push(format!(
            "“{}” was not understood; it is printed word for word under “Do not”.",
            unread.said.text
        ));
    }
    for e in scene.exercises() {
        if e.drawn.is_empty() && !matches!(e.kind, crate::dose::Kind::Advice | crate::dose::Kind::Worn) {
            let why = if e.known == Known::Unknown { " (not in the catalog)" } else { "" };
            not.push(format!(
                "{}{why}: it has no figure, so no angle, contact or position was checked.",
                capital(&e.name)
            ));
        }
        if !e.needs.is_empty() && e.anyway.is_some() {
            not.push(format!("{}: kept against a limit by your decision.", capital(&e.name)));
        }
        for words in &e.amount.dose.words {
            not.push(format!("“{words}” in the dose of {}.", e.name));
        }
        let waiting = e.steps.iter().filter(|s| !s.when.starts_with("From ")).count();
        if 0 < waiting {
            not.push(format!(
                "{}: what is to follow by a criterion is checked when it is taken.",
                capital(&e.name)
            ));
        }
    }
    if !p.exercises.is_empty() {
        checked.push("Doses: seconds of work and rest, slips, and the published ranges.".to_string());
        if p.kit.is_some() {
            checked.push("Kit: what each exercise needs against what the patient has.".to_string());
        }
        if !p.times.is_empty() {
            checked.push("Minutes: what is done every day against the minutes given.".to_string());
        }
        if scene.exercises().any(|e| e.side == OnSide::None && e.at.is_some()) {
            not.push("Where supports go on the body.".to_string());
        }
        not.push("Load, effort, pain and how well it is done.".to_string());
    }
    (checked, not)
}

/// What is looked for under a caution.
fn rule_for(known: Option<super::Condition>) -> Option<&'static str> {
    use super::Condition as C;
    Some(match known? {
        C::Pregnancy => "lying on the back.",
        C::Osteoporosis => "far bending and turning of the back.",
        C::RaisedBloodPressure => "long or hard holds under load.",
        C::PosteriorHip => "hip flexion past 90, crossing the midline, turning in.",
        C::AnteriorHip => "taking the hip back together with turning out.",
        C::CuffRepair => "strengthening of the shoulder before week 12.",
        C::CruciateReconstruction => "loaded straightening of a free leg before week 12.",
        C::Falls => "standing without support and getting down to the floor.",
        C::MeniscusRepair | C::Hypermobility | C::Surgery | C::Brace => return None,
    })
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

/// The letters and digits of a version: none that are easily taken for others.
pub const VERSION_LETTERS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";

/// Four characters that depend on the full text alone: FNV-1a folded to 20 bits.
pub fn version(full: &str) -> String {
    let hash = full
        .bytes()
        .fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3));
    let folded = hash ^ (hash >> 20) ^ (hash >> 40);
    (0..4u32)
        .map(|i| VERSION_LETTERS.get(((folded >> (5 * i)) & 31) as usize).copied().map_or('2', char::from))
        .collect()
}
