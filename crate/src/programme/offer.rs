//! Which other exercise may be offered in the place of one: only what passes every check there.
//!
//! The candidate is put into the line's place as the edit would write it (same side, same dose), without any reason
//! that keeps the one before against a notice; it is settled, and all rules run over the whole. What raises a
//! contraindication or a precaution, there or elsewhere, is no offer. Nor is what the rules can't judge: where something
//! was typed that no rule knows, where the catalog's caution meets the patient's problem, or where an operated or hurt
//! limb would be loaded. A candidate looks for no others in turn.

use super::check::list::{ALWAYS, lacked};
use super::check::{self, Scene, limit};
use super::help::Problem;
use super::resolve::{self, Scope};
use super::settled::{Cache, extent};
use super::{Exercise, Known, Programme, assemble, clock};
use crate::body::names::{Joint, Region, Side};
use crate::body::range::Limits;
use crate::catalog::find::Found;
use crate::catalog::terms::{Position, Purpose, Sides};
use crate::catalog::{self, Catalog};
use crate::language::anatomy::Limb;
use crate::language::condition::Condition;
use crate::notice::{Notice, Severity};
use crate::pose::ask::Surface;
use crate::pose::movement::{Key, Movement};
use crate::prescription::Prescription;
use crate::prescription::limit::Purpose as LimitPurpose;
use crate::prescription::problem::{Fact, Told};

/// What is asked of an offer besides that it passes all checks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// In place of one that can't be done: for the same end, of the same kind, and nothing harder.
    Around,
    /// As the reader asked: a step of the ladder, or another for the same end.
    Asked,
}

/// Candidates that are settled at most, so that the writer does not wait; those that fail before are not counted.
const MOST_SETTLED: usize = 4;
/// Alternatives that are named in a notice.
const MOST_NAMED: usize = 2;

/// What a prescription says against other exercises, whatever they are.
pub struct Seeker<'a> {
    scope: &'a Scope<'a>,
    programme: &'a Programme,
    problem: Problem,
    told: Told,
    /// What was typed and no rule can judge, as typed; with it nothing is offered.
    held_back: Option<String>,
    /// Identities of what stands there already, in lines and steps.
    there: Vec<String>,
    baseline: Vec<Notice>,
}

impl<'a> Seeker<'a> {
    /// `programme` is what stands there, its own notices left out of account.
    pub fn of(scope: &'a Scope<'a>, programme: &'a Programme) -> Seeker<'a> {
        let p = scope.prescription;
        let problem = Problem::of(p, p.start);
        let mut told = problem.whole();
        if p.due.is_some() {
            told.now.insert(Fact::Pregnancy);
        }
        for l in programme.limits.iter().filter(|l| l.in_force && l.what.purpose == LimitPurpose::Limit) {
            told.now.insert(part(l.what.angle.joint));
        }
        let steps = p.exercises.iter().flat_map(|x| &x.steps).filter_map(|s| s.name.as_ref());
        let names = p.exercises.iter().map(|x| &x.name).chain(steps);
        let there = names.filter_map(|n| match scope.catalog.find(&n.text) {
            Found::One(e) => Some(e.id.clone()),
            Found::Near(_) | Found::None => None,
        });
        let there = there.collect();
        let baseline = check::all(Scene { programme, prescription: p });
        let held_back = held_back(p, programme, &problem);
        Seeker { scope, programme, problem, told, held_back, there, baseline }
    }

    /// Why nothing at all may be offered, in the writer's words.
    pub fn held_back(&self) -> Option<&str> {
        self.held_back.as_deref()
    }

    /// Names of exercises for the same end that may stand in the place of one, the catalog's own first.
    pub fn around(&self, at: usize, cache: &mut Cache) -> Vec<String> {
        let Some(e) = self.entry(at) else { return Vec::new() };
        let catalog = self.scope.catalog;
        let named = e.instead.iter().chain(&e.easier).filter_map(|n| catalog.by_id(n.id.as_deref()?));
        let alike = catalog.exercises().iter().filter(|c| c.region == e.region && c.purpose == e.purpose);
        let mut candidates: Vec<&catalog::Exercise> = Vec::new();
        for c in named.chain(alike) {
            if !candidates.iter().any(|known| known.id == c.id) {
                candidates.push(c);
            }
        }
        let harder = beyond(catalog, e);
        candidates.retain(|c| c.region == e.region && c.kind == e.kind && !harder.contains(&c.id.as_str()));
        let mut found = Vec::new();
        let mut settled = 0;
        for c in candidates {
            if MOST_SETTLED <= settled || MOST_NAMED <= found.len() {
                break;
            }
            match self.tried(at, c, Way::Around, cache) {
                Tried::Before => {}
                Tried::Settled(fits) => {
                    settled += 1;
                    if fits {
                        found.push(resolve::lower_first(&c.name));
                    }
                }
            }
        }
        found
    }

    /// Whether this one may be offered in the place of the exercise at `at`.
    pub fn may(&self, at: usize, candidate: &catalog::Exercise, cache: &mut Cache) -> bool {
        matches!(self.tried(at, candidate, Way::Asked, cache), Tried::Settled(true))
    }

    /// Whether a name that was mistyped on that line may be written as this one. It is what the writer means, so only
    /// what the rules find counts, and nothing of how the line is written besides.
    pub fn may_be_spelt(&self, at: usize, meant: &catalog::Exercise, cache: &mut Cache) -> bool {
        self.passes(at, meant, &["side-missing", "side-unfit", "kit"], cache)
    }

    fn entry(&self, at: usize) -> Option<&'a catalog::Exercise> {
        match &self.programme.exercises.get(at)?.known {
            Known::Catalog { id, .. } => self.scope.catalog.by_id(id),
            Known::Own | Known::Unknown => None,
        }
    }

    fn tried(&self, at: usize, c: &catalog::Exercise, way: Way, cache: &mut Cache) -> Tried {
        let (Some(e), Some(now)) = (self.entry(at), self.programme.exercises.get(at)) else {
            return Tried::Before;
        };
        let outright = self.held_back.is_some()
            || c.poses.is_empty()
            || c.id == e.id
            || self.there.contains(&c.id)
            || !self.has_kit(e, c)
            || self.is_cautioned(c)
            || self.loads_what_is_hurt(c)
            || (way == Way::Around && is_harder(e, c, self.programme.who.age));
        if outright {
            return Tried::Before;
        }
        let natural = self.natural(now, c, cache);
        let fits = natural.iter().all(|m| self.stays_within(m) && self.spares(m))
            && (way == Way::Asked || !stands_on_fewer(now, &natural))
            && self.passes(at, c, &[], cache);
        Tried::Settled(fits)
    }

    /// The candidate's movement for each side that works, without the patient's limits.
    fn natural(
        &self,
        now: &Exercise,
        c: &catalog::Exercise,
        cache: &mut Cache,
    ) -> Vec<std::sync::Arc<Movement>> {
        let (body, none) = (self.scope.bounds.body, Limits::none());
        now.side.drawn().iter().map(|side| cache.movement(&c.poses, &body, *side, &none)).collect()
    }

    /// Whether it keeps clear of every limit by the margin by which limits are drawn short: what has to be cut short, or
    /// comes so near that an eye can't tell, is no way round.
    fn stays_within(&self, movement: &Movement) -> bool {
        let short = self.programme.limits.iter().filter(|l| l.in_force).flat_map(|l| {
            let margin = f64::from(self.scope.margin);
            let strict = l.what.purpose == LimitPurpose::Limit;
            clock::bounds(&l.what).into_iter().map(move |(angle, most)| {
                (angle, if strict && 2.0 * margin < most { most - margin } else { most })
            })
        });
        short
            .into_iter()
            .all(|(angle, most)| extent(movement, angle).is_none_or(|(_, high)| high <= most + 0.5))
    }

    /// What the patient is not said to have: with a `kit:` line, what it does not name; without one, whatever no line
    /// asks for yet and is not found in every home.
    fn has_kit(&self, e: &catalog::Exercise, c: &catalog::Exercise) -> bool {
        let needs = resolve::kit_words(c);
        if self.scope.prescription.kit.is_some() {
            return lacked(self.scope.prescription, &needs).is_empty();
        }
        let asked: Vec<&String> = self.programme.exercises.iter().flat_map(|x| &x.kit).collect();
        let own = resolve::kit_words(e);
        needs.iter().all(|k| ALWAYS.contains(&k.as_str()) || own.contains(k) || asked.contains(&k))
    }

    /// Whether the catalog's own words of caution meet what is said of the patient.
    fn is_cautioned(&self, c: &catalog::Exercise) -> bool {
        let avoided = self.scope.prescription.avoid.iter().chain(&self.scope.prescription.cannot);
        let avoided: Vec<String> = avoided.map(|s| s.text.to_lowercase()).collect();
        c.cautions.iter().any(|words| {
            let caution = Told::of([words.as_str()], None);
            // An operation is told by its part: the hip's does not meet the knee's.
            let by_part = |f: &&Fact| !f.is_part() && !DONE.contains(f);
            let met = |f: &Fact| self.told.ever(*f);
            caution.now.iter().filter(|f| f.is_part()).any(met)
                || caution.now.iter().filter(by_part).any(met)
                || avoided
                    .iter()
                    .any(|a| words.to_lowercase().contains(a) || a.contains(&words.to_lowercase()))
        })
    }

    /// Whether it is heavy work for the region of an operation, injury or support, before it is settled.
    fn loads_what_is_hurt(&self, c: &catalog::Exercise) -> bool {
        let hurt = self.hurt();
        hurt.iter().any(|part| {
            let here = c.region.is_some_and(|r| regions(*part).contains(&r));
            here && (c.loaded || c.purpose == Purpose::Strengthen || !self.is_limited(*part))
        })
    }

    /// Whether it leaves alone what is hurt: no weight on a hurt leg, none on the hands with a hurt arm.
    fn spares(&self, movement: &Movement) -> bool {
        let hurt = self.hurt();
        let leg = hurt.iter().any(|f| f.is_leg());
        let arm = hurt.iter().any(|f| f.is_arm());
        let on_leg =
            || Side::BOTH.iter().any(|s| limit::carried(movement, Limb::Leg, *s) != limit::Carries::Nothing);
        let on_hands = || movement.keys.iter().any(leans_on_hands);
        let loads_what_is_hurt = (leg && on_leg()) || (arm && on_hands());
        !loads_what_is_hurt
    }

    /// Parts that were operated on or hurt, or are held by something, as far as words tell.
    fn hurt(&self) -> Vec<Fact> {
        let whole = &self.told;
        if !HURT.iter().any(|f| whole.has(*f)) && self.problem.done == Told::default() {
            return Vec::new();
        }
        whole.now.iter().copied().filter(|f| f.is_part()).collect()
    }

    /// Whether the clinician wrote a limit for a joint of that part.
    fn is_limited(&self, of: Fact) -> bool {
        let limits = self.programme.limits.iter().filter(|l| l.in_force);
        limits.into_iter().any(|l| part(l.what.angle.joint) == of)
    }

    /// Puts the candidate in its place and runs every rule; notices of the kinds `let_go` don't count.
    fn passes(&self, at: usize, c: &catalog::Exercise, let_go: &[&str], cache: &mut Cache) -> bool {
        let mut p: Prescription = self.scope.prescription.clone();
        let Some(line) = p.exercises.get_mut(at) else { return false };
        line.name.text = resolve::lower_first(&c.name);
        line.anyway = None;
        line.steps.clear();
        line.side = line.side.filter(|_| c.sides != Sides::None);
        let mut notices = Vec::new();
        let tried = resolve::exercise(self.scope, line, cache, &mut notices);
        let number = line.line;
        let mut programme = self.programme.clone();
        let Some(place) = programme.exercises.get_mut(at) else { return false };
        *place = tried;
        notices.extend(check::all(Scene { programme: &programme, prescription: &p }));
        let grave = |n: &&Notice| n.severity() <= Severity::Precaution && !let_go.contains(&n.kind());
        !notices.iter().filter(grave).any(|n| {
            let known = |old: &Notice| (&old.what, old.place) == (&n.what, n.place);
            n.place.line == number || !self.baseline.iter().any(known)
        })
    }
}

enum Tried {
    /// It fell before anything was settled.
    Before,
    Settled(bool),
}

/// What was done, rather than to what.
const DONE: [Fact; 5] = [Fact::Operation, Fact::Replaced, Fact::Broken, Fact::Torn, Fact::Rupture];

/// Facts by which a part is hurt or held, and not only sore.
const HURT: [Fact; 8] = [
    Fact::Operation,
    Fact::Replaced,
    Fact::Broken,
    Fact::Torn,
    Fact::Rupture,
    Fact::Boot,
    Fact::Brace,
    Fact::StressBone,
];

/// The first thing typed that may forbid any exercise and that no rule can judge.
fn held_back(p: &Prescription, programme: &Programme, problem: &Problem) -> Option<String> {
    let unread = p.unread.iter().filter(|u| u.safety).map(|u| u.said.text.clone());
    let unknown = p.avoid.iter().chain(&p.cannot).filter(|s| !check::avoid::known(&s.text));
    let caution = |c: &&super::Caution| {
        let about_a_part = Told::of([c.words.as_str()], None).now.iter().any(|f| f.is_part());
        assemble::rule_for(c.known).is_none()
            && !about_a_part
            && !c.known.is_some_and(Condition::is_operation)
    };
    let cautions = programme.cautions.iter().filter(caution).map(|c| c.words.clone());
    let first = unread.chain(unknown.map(|s| s.text.clone())).chain(cautions).find(|words| !words.is_empty());
    // An operation or injury on no known part.
    let whole = problem.whole();
    let parts = whole.now.iter().any(|f| f.is_part());
    let happened = p.surgery.iter().chain(&p.injury).next();
    let happened = happened.map(|h| crate::prescription::keys::dated_text(h.date, &h.words));
    let titled = p.title.as_ref().filter(|_| HURT.iter().any(|f| whole.has(*f))).map(|t| t.text.clone());
    let red = p.findings.iter().find(|s| Told::of([s.text.as_str()], None).has(Fact::RedFlag));
    first.or_else(|| happened.or(titled).filter(|_| !parts)).or_else(|| red.map(|s| s.text.clone()))
}

/// The part that a joint belongs to.
fn part(joint: Joint) -> Fact {
    match joint {
        Joint::Hip => Fact::Hip,
        Joint::Knee => Fact::Knee,
        Joint::Ankle | Joint::Toes => Fact::Ankle,
        Joint::Shoulder | Joint::ShoulderBlade => Fact::Shoulder,
        Joint::Elbow | Joint::Forearm => Fact::Elbow,
        Joint::Wrist => Fact::Wrist,
        Joint::Neck | Joint::LowerNeck | Joint::UpperNeck => Fact::Neck,
        Joint::LowerBack | Joint::Trunk => Fact::LowBack,
        Joint::UpperBack => Fact::UpperBack,
    }
}

/// The catalog's regions that work a part.
fn regions(of: Fact) -> &'static [catalog::terms::Region] {
    use catalog::terms::Region as R;
    match of {
        Fact::Neck | Fact::Head | Fact::Jaw => &[R::Neck],
        Fact::UpperBack | Fact::LowBack | Fact::Spine | Fact::WeakLeg => &[R::Trunk, R::Pelvis, R::Neck],
        Fact::Shoulder => &[R::Shoulder],
        Fact::Elbow => &[R::Elbow],
        Fact::Wrist => &[R::Wrist],
        Fact::Arm => &[R::Shoulder, R::Elbow, R::Wrist],
        Fact::Hip | Fact::Thigh => &[R::Hip, R::Pelvis],
        Fact::Knee => &[R::Knee],
        Fact::Calf | Fact::Achilles | Fact::Shin | Fact::Ankle | Fact::Foot => &[R::Ankle],
        Fact::Leg => &[R::Hip, R::Knee, R::Ankle],
        _ => &[],
    }
}

/// All that is harder than an exercise, and harder than that, by the catalog's ladders read either way.
fn beyond<'a>(catalog: &'a Catalog, e: &'a catalog::Exercise) -> Vec<&'a str> {
    let mut found: Vec<&str> = Vec::new();
    let mut next = vec![e.id.as_str()];
    while let Some(id) = next.pop() {
        let up = catalog.by_id(id).into_iter().flat_map(|e| e.harder.iter().filter_map(|n| n.id.as_deref()));
        let easier = |c: &&catalog::Exercise| c.easier.iter().any(|n| n.id.as_deref() == Some(id));
        let down = catalog.exercises().iter().filter(easier).map(|c| c.id.as_str());
        for id in up.chain(down).filter(|id| *id != e.id) {
            if !found.contains(&id) {
                found.push(id);
                next.push(id);
            }
        }
    }
    found
}

/// From this age on getting down to the floor and up again counts as harder: from memory.
const FLOOR_AGE: u8 = 65;

/// Whether one asks more of the patient than the other by what its file says: load where there was none, more balance,
/// or, of who is older, getting down to the floor.
fn is_harder(e: &catalog::Exercise, c: &catalog::Exercise, age: Option<u8>) -> bool {
    let floor = |x: &catalog::Exercise| x.position.is_some_and(Position::is_on_floor);
    let is_older = age.is_some_and(|age| FLOOR_AGE <= age);
    (c.loaded && !e.loaded) || balance(e) < balance(c) || (is_older && floor(c) && !floor(e))
}

/// How much balance a position asks for: common practice, no source.
fn balance(e: &catalog::Exercise) -> u8 {
    match e.position {
        Some(Position::LyingOnBack | Position::LyingOnFront | Position::LyingOnSide) => 0,
        Some(Position::Sitting | Position::SittingOnFloor) => 1,
        Some(Position::Standing) => 3,
        Some(Position::Any) | None => 0,
        Some(_) => 2,
    }
}

/// Whether some key pose of the candidate stands on fewer feet than any of the exercise that was written.
fn stands_on_fewer(now: &Exercise, natural: &[std::sync::Arc<Movement>]) -> bool {
    let fewest = |movements: &mut dyn Iterator<Item = &Movement>| {
        movements.flat_map(|m| m.keys.iter()).filter_map(feet).min()
    };
    let before = fewest(&mut now.drawn.iter().map(|d| &*d.movement));
    let after = fewest(&mut natural.iter().map(|m| &**m));
    matches!((before, after), (Some(before), Some(after)) if after < before)
        || (before.is_none() && after.is_some())
}

/// How many feet (or knees) carry in a key pose; None where whoever lies or sits has the weight elsewhere.
fn feet(key: &Key) -> Option<usize> {
    let standing = Side::BOTH.iter().filter(|s| limit::carries(key, **s) != limit::Carries::Nothing).count();
    (0 < standing).then_some(standing)
}

fn leans_on_hands(key: &Key) -> bool {
    key.touches.iter().any(|t| {
        let hand =
            matches!(t.part.region, Region::Palm | Region::Fist | Region::Fingertips | Region::Forearm);
        hand && !t.light && matches!(t.surface, Surface::Floor | Surface::Prop(_) | Surface::Edge(_))
    })
}
