//! Which advice on when to get help a prescription needs: by its problem (title, operation, injury, findings, cautions),
//! and by the parts of the body that are exercised. Where the problem can't be told, every part that is typed or exercised
//! counts, and the clinician is asked. Common practice, no source, where a line names none; it defers to local advice.

use std::collections::BTreeSet;

use super::{Exercise, Known, clock, say};
use crate::measure::Date;
use crate::prescription::Prescription;
use crate::prescription::net::Topic;
use crate::prescription::problem::{Fact, Told};

/// What is looked out for, and whether the problem is known.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Help {
    pub topics: BTreeSet<Topic>,
    /// Those of them that can't be told from the exercises alone: what a link has to say.
    pub typed: BTreeSet<Topic>,
    /// What is wrong could be told from the words.
    pub known: bool,
    /// Nothing typed asked for a topic: they are those of the exercises alone, whoever does them.
    pub by_exercises: bool,
}

/// Days after an operation or fracture of the leg in which a clot is looked out for: 12 weeks, as in the two-level score
/// for a clot in the leg (NICE NG158); rounded up to 90.
const CLOT_DAYS: i32 = 90;
/// Days in which a wound is looked out for: common practice, no source.
const WOUND_DAYS: i32 = 42;
/// Unread lines that are searched for the problem.
const MOST_UNREAD: usize = 60;
/// From this age on a new headache or a sore jaw may be an artery's (very rare below: from memory).
const SCALP_AGE: u8 = 50;
/// Below this age a limp with fever is looked out for: from memory.
const CHILD_AGE: u8 = 16;

/// Facts that by themselves say what the exercises are for.
const PROBLEMS: [Fact; 18] = [
    Fact::Pregnancy,
    Fact::Birth,
    Fact::Osteoporosis,
    Fact::Heart,
    Fact::Stroke,
    Fact::SwollenLimb,
    Fact::Cancer,
    Fact::FootSore,
    Fact::Wheeze,
    Fact::Exertion,
    Fact::Joint,
    Fact::Scalp,
    Fact::Dizzy,
    Fact::Fell,
    Fact::HeartOperation,
    Fact::BellyOperation,
    Fact::PoorFeeling,
    Fact::Persistent,
];

/// What the text tells of the problem, by where it stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// Title, operation, injury, findings, results, and lines that were not read.
    pub stated: Told,
    /// Cautions, the words beside weight-bearing, the body.
    pub beside: Told,
    /// The operation and the injury alone.
    pub done: Told,
}

impl Problem {
    pub fn of(p: &Prescription, on: Option<Date>) -> Problem {
        let year = on.map(Date::year);
        let mut stated: Vec<&str> = Vec::new();
        stated.extend(p.title.iter().map(|t| t.text.as_str()));
        stated.extend(p.findings.iter().chain(&p.measures).map(|s| s.text.as_str()));
        stated.extend(p.unread.iter().take(MOST_UNREAD).map(|u| u.said.text.as_str()));
        let happened = p.surgery.iter().chain(&p.injury).map(|h| h.words.as_str()).collect::<Vec<_>>();
        let body = p.body.iter().flat_map(|b| &b.words);
        let mut beside: Vec<&str> = p.cautions.iter().chain(body).map(|s| s.text.as_str()).collect();
        beside.extend(p.bearing.iter().map(|b| b.words.as_str()));
        let mut done = Told::of(happened.iter().copied(), year);
        if p.surgery.is_some() {
            done.now.insert(Fact::Operation);
        }
        let mut all = Told::of(stated, year);
        merge(&mut all, &done);
        Problem { stated: all, beside: Told::of(beside, year), done }
    }

    /// Everything together.
    pub fn whole(&self) -> Told {
        let mut all = self.stated.clone();
        merge(&mut all, &self.beside);
        all
    }
}

fn merge(into: &mut Told, from: &Told) {
    into.now.extend(&from.now);
    into.past.extend(&from.past);
    into.denied.extend(&from.denied);
}

/// The advice for a prescription that begins on that day.
pub fn of(p: &Prescription, exercises: &[Exercise], on: Option<Date>) -> Help {
    let problem = Problem::of(p, on);
    let mut told = problem.whole();
    if p.due.is_some() {
        told.now.insert(Fact::Pregnancy);
    }
    let restricts = |b: &crate::prescription::limit::Bearing| {
        let holds = b.last_day.or_else(|| b.end.as_ref().and_then(|e| clock::last_of(p, e)));
        !b.limb.is_arm()
            && say::restricts(b.weight)
            && !matches!((holds, on), (Some(last), Some(on)) if last < on)
    };
    if p.bearing.iter().any(restricts) {
        told.now.insert(Fact::NotOnLeg);
    }
    let mut topics: BTreeSet<Topic> = p.net.iter().flat_map(|n| &n.topics).copied().collect();
    by_problem(p, &told, on, &mut topics);
    let known = p.net.is_some()
        || problem.stated.now.iter().any(|f| f.is_part() || PROBLEMS.contains(f))
        || problem.beside.now.iter().any(|f| f.is_part());
    let by_exercises = !known && topics.is_empty();
    let mut typed = topics.clone();
    let mut exercised = Told::default();
    for e in exercises.iter().filter(|e| e.active) {
        match e.region.as_str() {
            "trunk" | "pelvis" => _ = topics.insert(Topic::Back),
            "neck" => neck(&mut topics),
            "ankle" if !known => _ = exercised.now.insert(Fact::Calf),
            _ => {}
        }
        if !matches!(e.known, Known::Catalog { .. }) {
            exercised.add_name(&e.name);
        }
    }
    let named = [Fact::LowBack, Fact::UpperBack, Fact::Neck, Fact::Calf];
    let parts = named.into_iter().filter(|f| exercised.has(*f)).filter(|f| !known || *f != Fact::Calf);
    for fact in parts {
        match fact {
            Fact::LowBack | Fact::UpperBack => _ = topics.insert(Topic::Back),
            Fact::Neck => neck(&mut topics),
            _ => _ = topics.insert(Topic::Calf),
        }
    }
    // Where the problem is known, as it is once a link says its topics, an exercise of the ankle asks for none.
    typed.extend(topics.iter().filter(|topic| !known && **topic == Topic::Calf));
    Help { topics, typed, known, by_exercises }
}

fn neck(topics: &mut BTreeSet<Topic>) {
    topics.extend([Topic::Neck, Topic::Cord]);
}

/// What each problem asks to look out for.
fn by_problem(p: &Prescription, told: &Told, on: Option<Date>, topics: &mut BTreeSet<Topic>) {
    use Fact as F;
    let has = |any: &[Fact]| told.has_any(any);
    let days = |of: &Option<crate::prescription::Happening>| {
        let date = of.as_ref().and_then(|h| h.date)?;
        on.map(|on| on.days_since(date))
    };
    let age = p.age();
    let mut add = |when: bool, more: &[Topic]| {
        if when {
            topics.extend(more);
        }
    };

    // Back and neck. A disc, a nerve root or a fusion is the back's unless only the neck is named.
    let neck_named = told.ever(F::Neck);
    let back = told.ever(F::LowBack) || (told.ever(F::Spine) && !neck_named && !told.ever(F::UpperBack));
    let wholly_neck = neck_named && !told.ever(F::LowBack);
    add(back, &[Topic::Back]);
    add(has(&[F::WeakLeg]) && !wholly_neck, &[Topic::Back, Topic::WeakLeg]);
    add(back && has(&[F::Leg]), &[Topic::WeakLeg]);
    add(neck_named, &[Topic::Neck, Topic::Cord]);
    add(told.ever(F::UpperBack), &[Topic::Cord]);
    let any_spine = back || neck_named || told.ever(F::UpperBack) || told.ever(F::Spine);
    add(any_spine && told.ever(F::Cancer), &[Topic::Cord]);
    add((has(&[F::Head]) && neck_named) || has(&[F::Whiplash]), &[Topic::Headache]);
    let old_enough = age.is_none_or(|a| SCALP_AGE <= a);
    add(has(&[F::Scalp, F::Head, F::Jaw]) && old_enough, &[Topic::Sight]);

    // After an operation: what isn't wholly an arm's may clot in the leg.
    let since = days(&p.surgery);
    // A date without a word is all that older links tell of an operation: they keep what they said.
    let bare = p.surgery.as_ref().is_some_and(|h| h.words.is_empty()) && p.net.is_none();
    let within = |most: i32| bare || since.is_none_or(|days| days <= most);
    let leg = told.now.iter().any(|f| f.is_leg());
    let arm_alone = told.now.iter().any(|f| f.is_arm())
        && !leg
        && !any_spine
        && !has(&[F::HeartOperation, F::BellyOperation]);
    let operated = has(&[F::Operation, F::HeartOperation, F::BellyOperation]);
    add(operated && within(WOUND_DAYS), &[Topic::Wound, Topic::Fever]);
    add(operated && within(CLOT_DAYS) && !arm_alone, &[Topic::Calf, Topic::Lungs]);
    add(told.ever(F::Replaced), &[Topic::HotJoint]);
    add(has(&[F::Brace]) && !arm_alone, &[Topic::Wound, Topic::Fever, Topic::Calf, Topic::Lungs]);
    add((has(&[F::Boot, F::NotOnLeg])) && !arm_alone, &[Topic::Calf, Topic::Lungs, Topic::TightLimb]);
    add(has(&[F::Boot]) && arm_alone, &[Topic::TightLimb]);

    // Injuries.
    let injured = days(&p.injury);
    let fresh = injured.is_none_or(|days| days <= WOUND_DAYS);
    add(has(&[F::Broken, F::Torn, F::Fell]) && fresh, &[Topic::Broken]);
    add(has(&[F::Broken, F::StressBone]) && leg && !arm_alone, &[Topic::Calf, Topic::Lungs]);
    add(has(&[F::StressBone]), &[Topic::Broken]);
    add(has(&[F::Calf]), &[Topic::Calf, Topic::HeelSnap]);
    add(has(&[F::Achilles]), &[Topic::HeelSnap]);
    add(has(&[F::Achilles]) && has(&[F::Rupture]), &[Topic::Calf, Topic::Lungs]);
    add(has(&[F::Hip]) && has(&[F::Runner, F::Fell, F::Osteoporosis, F::StressBone]), &[Topic::Hip]);

    // Conditions.
    add(has(&[F::Pregnancy]), &[Topic::Pregnancy, Topic::Calf]);
    add(has(&[F::Birth]), &[Topic::Birth, Topic::Calf, Topic::Lungs]);
    add(told.ever(F::Osteoporosis), &[Topic::NewBackPain]);
    add(told.ever(F::Heart) || has(&[F::HeartOperation]), &[Topic::Heart]);
    add(told.ever(F::Stroke), &[Topic::Face]);
    add(told.ever(F::SwollenLimb), &[Topic::SwollenLimb]);
    add(has(&[F::Helpline]), &[Topic::Helpline]);
    add(has(&[F::PoorFeeling, F::FootSore]) || (told.ever(F::Diabetes) && has(&[F::Foot])), &[Topic::Feet]);
    add(told.ever(F::Sugar), &[Topic::Sugar]);
    add(has(&[F::Bleeding]), &[Topic::Bleeding]);
    add(told.ever(F::Clot), &[Topic::Calf, Topic::Lungs]);
    add(has(&[F::Tendon]), &[Topic::Tendon]);
    add(told.ever(F::Wheeze), &[Topic::Wheeze]);
    add(told.ever(F::Exertion), &[Topic::Exertion]);
    add(told.ever(F::Joint), &[Topic::HotJoint]);
    add(
        age.is_some_and(|a| a < CHILD_AGE) && (leg || !told.now.iter().any(|f| f.is_part())),
        &[Topic::Child],
    );
}
