//! Puts a programme together.

use super::check::{self, Scene, caution};
use super::clock::Clock;
use super::offer::Seeker;
use super::resolve::{self, Scope};
use super::settled::{Bounds, Cache};
use super::{Ask, DoNot, Known, OnSide, Programme, Rule, Section, Who, full, say};
use crate::catalog::Catalog;
use crate::catalog::find::Found;
use crate::language::condition::Condition;
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, tokens};
use crate::notice::kinds::programme::OfProgramme;
use crate::notice::{Notice, What};
use crate::prescription::words::Key;
use crate::prescription::{Prescription, bearing, problem};
use crate::text::fold::fold;

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
    let (scope, mut programme, mut notices) = made(p, catalog, ask, cache);
    offers(&scope, &mut programme, &mut notices, cache);
    told(p, programme, notices)
}

/// As [`at`], without looking for what could be offered in another's place: for who shows no notices.
pub fn without_offers(p: &Prescription, catalog: &Catalog, ask: &Ask, cache: &mut Cache) -> Programme {
    let (_, programme, notices) = made(p, catalog, ask, cache);
    told(p, programme, notices)
}

/// Those of an exercise's neighbours that may be offered in its place: all checks ran on each there.
pub fn may_follow<'c>(
    p: &Prescription,
    catalog: &Catalog,
    ask: &Ask,
    at: usize,
    candidates: &[&'c crate::catalog::Exercise],
    cache: &mut Cache,
) -> Vec<&'c crate::catalog::Exercise> {
    let (scope, programme, _) = made(p, catalog, ask, cache);
    let seeker = Seeker::of(&scope, &programme);
    candidates.iter().copied().filter(|c| seeker.may(at, c, cache)).collect()
}

fn made<'a>(
    p: &'a Prescription,
    catalog: &'a Catalog,
    ask: &Ask,
    cache: &mut Cache,
) -> (Scope<'a>, Programme, Vec<Notice>) {
    let clock = Clock::of(p, ask);
    let limits = clock.limits(p);
    let bearing = clock.bearing(p);
    let build = p.body.clone().unwrap_or_default();
    let body = super::build::body(p, clock.starts.or(ask.today));
    let bounds = Bounds::of(body, &limits, ask.margin);
    let in_force = bounds.limits.clone();
    let (own, mut notices) = resolve::own(p, catalog);
    let scope = Scope { prescription: p, catalog, own, clock, bounds, margin: ask.margin };
    let mut exercises =
        p.exercises.iter().map(|x| resolve::exercise(&scope, x, cache, &mut notices)).collect::<Vec<_>>();
    super::ties::tie(&scope, &mut exercises, &mut notices);
    let full = full::text(&scope);
    // One advice for the whole course, so that paper and phone agree in every week.
    let day = p.start.or(ask.today);
    let said = |list: &[crate::prescription::Said]| list.iter().map(|s| s.text.clone()).collect::<Vec<_>>();
    let programme = Programme {
        week_number: scope.clock.week,
        week_starts: scope.clock.starts,
        weeks: p.weeks,
        today: ask.today,
        version: version(&full),
        who: Who {
            title: p.title.as_ref().map(|t| t.text.clone()),
            by: p.by.as_ref().map(|t| t.text.clone()),
            patient: p.patient.as_ref().map(|t| t.name.clone()),
            age: p.age(),
            emergency: joined(&p.emergency),
            out_of_hours: joined(&p.out_of_hours),
        },
        start: p.start,
        review: p.review,
        aims: said(&p.aims),
        body,
        build: said(&build.words),
        cautions: super::cautions::cautions(p),
        usual_pain: p.usual_pain.clone(),
        okay_pain: p.okay_pain.clone(),
        ask: p.ask.as_ref().map(|a| a.text.clone()),
        sections: p
            .sections
            .iter()
            .map(|s| Section { title: s.said.text.clone(), rounds: s.rounds })
            .collect(),
        help: super::help::of(p, &exercises, day),
        no_offers: None,
        exercises,
        beyond: p.beyond.clone(),
        do_not: do_not(&scope.clock, p, &limits, &bearing),
        may_do: may_do(&scope.clock, p, &bearing),
        keep_to: keep_to(&scope.clock, p, &bearing),
        as_written: as_written(&scope.clock, p),
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
    (scope, programme, notices)
}

/// Looks for what may stand in the place of what can't be done, and takes back the spelling of a name that would be
/// against what is written.
fn offers(scope: &Scope<'_>, programme: &mut Programme, notices: &mut [Notice], cache: &mut Cache) {
    let barred =
        |e: &super::Exercise| e.active && e.anyway.is_none() && (!e.needs.is_empty() || e.kept < 0.5);
    let barred: Vec<usize> =
        programme.exercises.iter().enumerate().filter(|(_, e)| barred(e)).map(|(at, _)| at).collect();
    let misspelt =
        |n: &Notice| matches!(n.what, What::Programme(OfProgramme::NearName { .. })) && n.edit.is_some();
    if barred.is_empty() && !notices.iter().any(misspelt) {
        return;
    }
    let seeker = Seeker::of(scope, programme);
    let found: Vec<(usize, Vec<String>)> = barred.iter().map(|at| (*at, seeker.around(*at, cache))).collect();
    for notice in notices.iter_mut().filter(|n| misspelt(n)) {
        let at = programme.exercises.iter().position(|e| e.line == notice.place.line);
        let with = notice.edit.as_ref().map_or("", |edit| edit.with.as_str());
        let meant = match scope.catalog.find(with) {
            Found::One(meant) => Some(meant),
            Found::Near(_) | Found::None => None,
        };
        let may = at.zip(meant).is_some_and(|(at, meant)| seeker.may_be_spelt(at, meant, cache));
        if !may {
            notice.edit = None;
            if let What::Programme(OfProgramme::NearName { is_against, .. }) = &mut notice.what {
                *is_against = true;
            }
        }
    }
    programme.no_offers = seeker.held_back().map(str::to_string);
    for (at, names) in found {
        if let Some(e) = programme.exercises.get_mut(at) {
            e.instead = names;
        }
    }
}

/// The programme with what the rules find.
fn told(p: &Prescription, mut programme: Programme, mut notices: Vec<Notice>) -> Programme {
    let scene = Scene { programme: &programme, prescription: p };
    notices.extend(check::all(scene));
    let (checked, unchecked) = lists(scene);
    crate::sorting::sort_by_key(&mut notices, |n: &Notice| (n.place.line, n.severity()));
    programme.notices = notices;
    programme.checked = checked;
    programme.unchecked = unchecked;
    programme
}

/// What several lines say, as one; None: nothing was said.
fn joined(lines: &[crate::prescription::Said]) -> Option<String> {
    let lines: Vec<&str> = lines.iter().map(|said| said.text.as_str()).collect();
    (!lines.is_empty()).then(|| lines.join("; "))
}

fn do_not(
    clock: &super::clock::Clock,
    p: &Prescription,
    limits: &[super::Standing<crate::prescription::limit::Limit>],
    bearing: &[Bears],
) -> Vec<DoNot> {
    let mut all = Vec::new();
    for limit in limits.iter().filter(|l| l.in_force) {
        for words in say::forbidden(&limit.what) {
            let words = say::until(&limit.what).map_or(words.clone(), |end| format!("{words} {end}"));
            all.push(DoNot { words, last_day: limit.last_day, computed: true });
        }
    }
    let borne = weights(clock, bearing, Under::DoNot);
    all.extend(borne.map(|Rule { words, last_day }| DoNot { words, last_day, computed: true }));
    for said in &p.avoid {
        // What no sheet may show is no movement that one could leave out.
        let Some(text) = problem::without_red_flags(&said.text) else { continue };
        let computed = check::avoid::known(&said.text);
        all.push(DoNot { words: format!("Avoid {}.", text.trim_end_matches('.')), last_day: None, computed });
    }
    for (s, last_day) in clock.stated(p, Plain::Restriction) {
        let Some(words) = problem::without_red_flags(&s.shown) else { continue };
        all.push(DoNot { words, last_day, computed: check::avoid::wholly(&s.what.text) });
    }
    // Word for word: it may be the one thing that matters.
    for unread in p.unread.iter().filter(|u| u.safety && under(u) == Under::DoNot) {
        if let Some(words) = problem::without_red_flags(&unread.said.text) {
            all.push(DoNot { words, last_day: None, computed: false });
        }
    }
    all
}

type Bears = super::Standing<crate::prescription::limit::Bearing>;

/// Weights that stand there: those that hold, and those that are still to come.
fn weights(clock: &super::clock::Clock, bearing: &[Bears], part: Under) -> impl Iterator<Item = Rule> {
    let starts = clock.starts;
    let over = move |b: &Bears| b.last_day.zip(starts).is_some_and(|(last, starts)| last < starts);
    bearing.chunk_by(|_, next| next.what.follows).flat_map(move |stages| {
        stages.iter().enumerate().filter_map(move |(at, b)| {
            let weight = b.what.weight;
            let own = match weight {
                _ if weight.forbids() => Under::DoNot,
                _ if weight.is_restricted() || bearing::beside::says_worn(&b.what.words) => Under::KeepTo,
                _ => Under::May,
            };
            if own != part || over(b) {
                return None;
            }
            let before = || stages.iter().take(at).map(|b| &b.what).collect::<Vec<_>>();
            let words = match b.in_force {
                true => say::weight(&b.what),
                false if b.what.follows => say::later_weight(&b.what, &before()),
                false => return None,
            };
            Some(Rule { words, last_day: b.last_day })
        })
    })
}

/// What to keep to: so much weight and no more, and rules.
fn keep_to(clock: &super::clock::Clock, p: &Prescription, bearing: &[Bears]) -> Vec<Rule> {
    weights(clock, bearing, Under::KeepTo).chain(stated(clock, p, Plain::Order)).collect()
}

/// What is allowed never stands among what is forbidden.
fn may_do(clock: &super::clock::Clock, p: &Prescription, bearing: &[Bears]) -> Vec<Rule> {
    let mut all: Vec<Rule> = weights(clock, bearing, Under::May).collect();
    all.extend(stated(clock, p, Plain::Permission));
    for unread in p.unread.iter().filter(|u| u.safety && under(u) == Under::May) {
        all.push(Rule { words: unread.said.text.clone(), last_day: None });
    }
    all
}

/// What was not understood and plainly neither forbids nor permits.
fn as_written(clock: &super::clock::Clock, p: &Prescription) -> Vec<Rule> {
    let mut all = stated(clock, p, Plain::Advice);
    let written = p.unread.iter().filter(|u| u.safety && under(u) == Under::AsWritten);
    let shown = written.filter_map(|u| problem::without_red_flags(&u.said.text));
    all.extend(shown.map(|words| Rule { words, last_day: None }));
    all
}

/// Where unread text about safety stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Under {
    DoNot,
    May,
    KeepTo,
    AsWritten,
}

impl Under {
    fn heading(self) -> &'static str {
        match self {
            Under::DoNot => "Do not",
            Under::May => "What you may do",
            Under::KeepTo => "Keep to this",
            Under::AsWritten => "As your clinician wrote",
        }
    }
}

/// Under “Do not” only what stands behind a word that restricts, or has one.
fn under(unread: &crate::prescription::Unread) -> Under {
    let restricts = || restraint::restricts(&tokens(&fold(&unread.said.text)));
    if permits(unread) {
        Under::May
    } else if unread.key.and_then(Key::of) == Some(Key::Weight) && eases(&unread.said.text) && !restricts() {
        Under::AsWritten
    } else if unread.key.and_then(Key::of).is_some_and(Key::restricts) || restricts() {
        Under::DoNot
    } else {
        Under::AsWritten
    }
}

/// Plain lines, word for word; what no sheet may show is left out.
fn stated(clock: &super::clock::Clock, p: &Prescription, kind: Plain) -> Vec<Rule> {
    clock
        .stated(p, kind)
        .filter_map(|(s, last_day)| s.for_patient(&s.shown).map(|words| Rule { words, last_day }))
        .collect()
}

/// Whether a weight that was not understood lets the limb bear some.
fn eases(text: &str) -> bool {
    let folded = fold(text);
    let all = tokens(&folded);
    let has = |words: &[&str]| (0..all.len()).any(|at| Cursor { all: &all, at }.word(words).is_some());
    has(&["pwb", "partial", "wbat", "wbtt", "tolerated", "comfortable", "fwb", "full"])
        && !has(&["nwb", "non", "no", "not", "none", "ttwb", "tdwb", "twb", "touch"])
}

/// Whether unread text plainly permits.
fn permits(unread: &crate::prescription::Unread) -> bool {
    let key =
        unread.key.is_none_or(|key| matches!(Key::of(key), Some(Key::Limit | Key::Range | Key::Weight)));
    key && crate::prescription::permits(&unread.said.text)
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
        let what = crate::notice::english::listed(&bounds, "and");
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
    // Words that are no angle and no weight reach the patient as typed, and no rule.
    for stated in p.stated.iter().filter(|s| s.for_patient(&s.said.text).is_some()) {
        not.push(format!("“{}”: printed word for word; no rule looks at it.", stated.said.text));
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
        let under = under(unread).heading();
        not.push(match problem::without_red_flags(&unread.said.text) {
            Some(_) => format!(
                "“{}” was not understood; it is printed word for word under “{under}”.",
                unread.said.text
            ),
            None => format!("“{}” was not understood; it is kept for you and not printed.", unread.said.text),
        });
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
        let waiting = e.steps.iter().filter(|s| s.from.is_none()).count();
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
pub fn rule_for(known: Option<Condition>) -> Option<&'static str> {
    type Of = (fn(Condition) -> bool, &'static str);
    const RULES: [Of; 8] = [
        (|c| c == Condition::Pregnancy, "lying on the back."),
        (caution::is_thin_bone, "far bending and turning of the back."),
        (|c| c == Condition::RaisedBloodPressure, "long or hard holds under load."),
        (caution::is_posterior_hip, "hip flexion past 90, crossing the midline, turning in."),
        (caution::is_anterior_hip, "taking the hip back together with turning out."),
        (caution::is_cuff_repair, "strengthening of the shoulder before week 12."),
        (caution::is_cruciate, "loaded straightening of a free leg before week 12."),
        (|c| c == Condition::Falls, "standing without support and getting down to the floor."),
    ];
    let known = known?;
    RULES.iter().find(|(is, _)| is(known)).map(|(_, rule)| *rule)
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
