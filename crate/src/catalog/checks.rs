//! Named checks that every file of the catalog passes. All run; every fault is reported.

use super::find::{Found, key};
use super::terms::{Kit, Position, Sides, Term};
use super::{Catalog, Exercise};
use crate::body::Body;
use crate::body::names::Side;
use crate::body::range::Limits;
use crate::dose::Kind;
use crate::measure::shown;
use crate::pose::ask::{Contact, Held, PropKind};
use crate::pose::settle;
use crate::text::reading::count;

/// What a check finds wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    pub check: &'static str,
    /// The exercise's id.
    pub id: String,
    pub sentence: String,
}

/// One check of one exercise within its catalog; each text is one fault.
pub type Check = fn(&Catalog, &Exercise) -> Vec<String>;

/// All of them, by name.
pub const CHECKS: &[(&str, Check)] = &[
    ("fields are present", fields_are_present),
    ("names are unique", names_are_unique),
    ("numbers are unique", numbers_are_unique),
    ("lines are sentences", lines_are_sentences),
    ("one action a sentence", one_action_a_sentence),
    ("reading grade is 6 or lower", reading_grade),
    ("words speak to the patient", words_speak_to_the_patient),
    ("neighbours exist or are plain words", neighbours_exist),
    ("dose is read", dose_is_read),
    ("dose names its source", dose_names_its_source),
    ("sides fit", sides_fit),
    ("position fits the pose", position_fits),
    ("kit fits the pose", kit_fits),
    ("work is drawn", work_is_drawn),
    ("poses settle", poses_settle),
];

/// The highest reading grade of an exercise's words (American Medical Association; see
/// `references/readability-and-print.md`).
pub const HIGHEST_GRADE: f64 = 6.0;

/// The longest sentence, in words: common practice, no source.
const LONGEST_SENTENCE: u32 = 16;

/// Runs every check over every exercise.
pub fn faults(catalog: &Catalog) -> Vec<Fault> {
    let mut all = Vec::new();
    for exercise in catalog.exercises() {
        for (check, run) in CHECKS {
            for sentence in run(catalog, exercise) {
                all.push(Fault { check, id: exercise.id.clone(), sentence });
            }
        }
    }
    all
}

/// Every line that the patient reads, with its field.
pub fn patient_lines(exercise: &Exercise) -> Vec<(&'static str, &str)> {
    let mut all: Vec<(&'static str, &str)> = Vec::new();
    all.extend(exercise.set_up.iter().map(|l| ("set up", l.as_str())));
    all.extend(exercise.steps.iter().map(|l| ("do", l.as_str())));
    all.extend(exercise.feel.iter().map(|l| ("feel", l.as_str())));
    all.extend(exercise.if_not_felt.iter().map(|l| ("if not felt", l.text.as_str())));
    all.extend(exercise.faults.iter().map(|l| ("fault", l.as_str())));
    all.extend(exercise.stop_if.iter().map(|l| ("stop if", l.as_str())));
    for neighbour in exercise.easier.iter().chain(&exercise.harder).filter(|n| is_sentence(&n.words)) {
        all.push(("easier or harder", &neighbour.words));
    }
    all
}

fn is_sentence(text: &str) -> bool {
    text.starts_with(char::is_uppercase) && text.ends_with(['.', '!', '?'])
}

fn fields_are_present(_: &Catalog, e: &Exercise) -> Vec<String> {
    let advice = matches!(e.kind, Kind::Advice | Kind::Worn) || e.position == Some(Position::Any);
    let lacking = [
        (e.name.is_empty(), "exercise"),
        (e.number.is_none(), "number"),
        (e.region.is_none(), "region"),
        (e.position.is_none(), "position"),
        (e.set_up.is_empty(), "set up"),
        (e.steps.is_empty(), "do"),
        (e.feel.is_empty(), "feel"),
        (e.faults.is_empty() && !advice, "fault"),
        (e.if_not_felt.is_empty() && !advice, "if not felt"),
        (e.stop_if.is_empty(), "stop if"),
        (e.source.is_empty(), "source"),
        (e.works.is_empty() && !advice, "works"),
        (e.must_show.is_empty() && !e.poses.is_empty(), "must show"),
        (e.easier.is_empty() && !advice, "easier"),
        (e.harder.is_empty() && !advice, "harder"),
        (e.poses.len() < 2 && !advice, "pose, at least two"),
    ];
    lacking.into_iter().filter(|(missing, _)| *missing).map(|(_, f)| format!("`{f}:` is missing")).collect()
}

fn names_are_unique(catalog: &Catalog, e: &Exercise) -> Vec<String> {
    let mut faults = Vec::new();
    for name in core::iter::once(&e.name).chain(&e.also) {
        let mine = key(name);
        let same = |n: &String| key(n) == mine;
        let others = catalog.exercises().iter().filter(|o| o.id != e.id);
        for other in others.filter(|o| same(&o.name) || o.also.iter().any(same)) {
            faults.push(format!("`{name}` also names `{}`", other.id));
        }
        let times = core::iter::once(&e.name).chain(&e.also).filter(|n| same(n)).count();
        if 1 < times {
            faults.push(format!("`{name}` stands {times} times"));
        }
    }
    faults
}

fn numbers_are_unique(catalog: &Catalog, e: &Exercise) -> Vec<String> {
    let others = catalog.exercises().iter().filter(|o| o.id != e.id && o.number == e.number);
    others.map(|o| format!("has the number of `{}`", o.id)).collect()
}

fn lines_are_sentences(_: &Catalog, e: &Exercise) -> Vec<String> {
    let mut faults = Vec::new();
    for (field, line) in patient_lines(e) {
        if !is_sentence(line) {
            faults.push(format!("`{field}: {line}` is not a sentence"));
        }
    }
    faults
}

fn one_action_a_sentence(_: &Catalog, e: &Exercise) -> Vec<String> {
    let mut faults = Vec::new();
    for (field, line) in patient_lines(e) {
        let counted = count(line);
        if 1 < counted.sentences {
            faults.push(format!(
                "`{field}: {line}` has {} sentences; give each its own line",
                counted.sentences
            ));
        }
        if LONGEST_SENTENCE < counted.words {
            faults.push(format!("`{field}: {line}` has {} words, over {LONGEST_SENTENCE}", counted.words));
        }
        let low = line.to_lowercase();
        if low.contains("and then") || low.contains(';') || 1 < low.matches(" and ").count() {
            faults.push(format!("`{field}: {line}` asks for more than one action"));
        }
    }
    faults
}

fn reading_grade(_: &Catalog, e: &Exercise) -> Vec<String> {
    let text: Vec<&str> = patient_lines(e).into_iter().map(|(_, line)| line).collect();
    match count(&text.join("\n")).grade() {
        Some(grade) if HIGHEST_GRADE < grade => {
            vec![format!("reading grade {}", shown(grade, 1))]
        }
        _ => Vec::new(),
    }
}

fn words_speak_to_the_patient(_: &Catalog, e: &Exercise) -> Vec<String> {
    let mut faults = Vec::new();
    for (field, line) in patient_lines(e) {
        let words: Vec<String> =
            line.to_lowercase().split(|c: char| !c.is_alphanumeric()).map(str::to_string).collect();
        // Sides are written out when the exercise is prescribed.
        for word in [
            "right",
            "left",
            "patient",
            "client",
            "flexion",
            "extension",
            "abduction",
            "contract",
            "supine",
            "prone",
        ] {
            if words.iter().any(|w| w == word) {
                faults.push(format!("`{field}: {line}` has the word `{word}`"));
            }
        }
    }
    faults
}

fn neighbours_exist(catalog: &Catalog, e: &Exercise) -> Vec<String> {
    let mut faults = Vec::new();
    let leads = e.if_not_felt.iter().filter_map(|h| h.to.as_ref());
    let all = e.easier.iter().chain(&e.harder).chain(&e.instead).map(|n| &n.words);
    for words in all.chain(leads) {
        match catalog.find(words) {
            Found::One(other) if other.id == e.id => faults.push(format!("`{words}` is the exercise itself")),
            Found::One(_) => {}
            Found::Near(_) | Found::None if is_sentence(words) => {}
            Found::Near(_) | Found::None => faults.push(format!("`{words}` is no exercise and no sentence")),
        }
    }
    faults
}

fn dose_is_read(_: &Catalog, e: &Exercise) -> Vec<String> {
    let mut faults: Vec<String> =
        e.dose.words.iter().map(|w| format!("`{w}` is not read as a dose")).collect();
    if e.kind != Kind::Advice && e.dose.work.is_empty() {
        faults.push("the dose says no work".to_string());
    }
    if e.kind != Kind::Advice && e.dose.often.is_none() {
        faults.push("the dose does not say how often".to_string());
    }
    faults
}

fn dose_names_its_source(_: &Catalog, e: &Exercise) -> Vec<String> {
    let source = &e.dose_source;
    let dated = source.split(|c: char| !c.is_ascii_digit()).any(|n| n.len() == 4);
    if dated || source.contains("no source") || source.contains("from memory") {
        return Vec::new();
    }
    vec![format!(
        "the dose's source `{source}` is neither a publication with its year nor `common practice, no source`"
    )]
}

fn sides_fit(_: &Catalog, e: &Exercise) -> Vec<String> {
    let sided = matches!(e.sides, Sides::Each | Sides::Alternate);
    if sided && e.side.is_empty() {
        return vec!["`side:` does not say what a side means".to_string()];
    }
    if !sided && !e.side.is_empty() {
        return vec![format!("`side: {}` but the sides work {}", e.side, e.sides.word())];
    }
    Vec::new()
}

fn position_fits(_: &Catalog, e: &Exercise) -> Vec<String> {
    let Some(first) = e.poses.first() else { return Vec::new() };
    let crate::pose::ask::From::Posture(posture) = first.from else { return Vec::new() };
    let drawn = super::reader::position(posture);
    match e.position {
        Some(position) if position != drawn && position != Position::Any => {
            vec![format!("`position: {}` but drawn {}", position.word(), drawn.word())]
        }
        _ => Vec::new(),
    }
}

fn kit_of(kind: PropKind) -> Option<Kit> {
    Some(match kind {
        PropKind::Mat => return None,
        PropKind::Bed => Kit::Bed,
        PropKind::Bench => Kit::Bench,
        PropKind::Sofa => Kit::Sofa,
        PropKind::Chair | PropKind::ChairBack => Kit::Chair,
        PropKind::Step => Kit::Step,
        PropKind::Stairs => Kit::Stairs,
        PropKind::Table => Kit::Table,
        PropKind::Worktop => Kit::Worktop,
        PropKind::Rail => Kit::Rail,
        PropKind::Frame => Kit::Frame,
        PropKind::Wall => Kit::Wall,
        PropKind::Doorway => Kit::Door,
        PropKind::Ball => Kit::Ball,
        PropKind::Roller => Kit::Roller,
        PropKind::Pillow => Kit::Pillow,
        PropKind::Towel => Kit::Towel,
        PropKind::Strap => Kit::Strap,
        PropKind::Stick => Kit::Stick,
        PropKind::LoopBand => Kit::LoopBand,
        PropKind::LongBand => Kit::LongBand,
        PropKind::Dumbbell => Kit::Dumbbell,
        PropKind::AnkleWeight => Kit::AnkleWeight,
        PropKind::Belt => Kit::Belt,
    })
}

fn kit_fits(_: &Catalog, e: &Exercise) -> Vec<String> {
    let mut drawn: Vec<Kit> = Vec::new();
    for pose in &e.poses {
        drawn.extend(pose.props.iter().filter_map(|p| kit_of(p.what.kind)));
        drawn.extend(pose.contacts.iter().filter_map(|c| match c.what {
            Contact::Hold { what: Held::Prop(kind), .. } => kit_of(kind),
            _ => None,
        }));
        if pose.from == crate::pose::ask::From::Posture(crate::pose::ask::Posture::Sitting)
            && !drawn.iter().any(|k| matches!(k, Kit::Bed | Kit::Bench | Kit::Sofa))
        {
            drawn.push(Kit::Chair);
        }
    }
    let mut faults = Vec::new();
    for kit in &drawn {
        if !e.kit.contains(kit) {
            faults.push(format!("a {} is drawn but not in `kit:`", kit.word()));
        }
    }
    for kit in e.kit.iter().filter(|k| !e.poses.is_empty() && !drawn.contains(k)) {
        faults.push(format!("`kit: {}` is not drawn", kit.word()));
    }
    faults.dedup();
    faults
}

fn work_is_drawn(_: &Catalog, e: &Exercise) -> Vec<String> {
    if !e.poses.is_empty() && !e.works.is_empty() && e.poses.iter().all(|p| p.works.is_empty()) {
        return vec!["`works:` names no part that can be drawn".to_string()];
    }
    Vec::new()
}

/// Every key pose of the usual body touches what it should, reaches what it asks, and stands.
fn poses_settle(_: &Catalog, e: &Exercise) -> Vec<String> {
    if e.poses.is_empty() {
        return Vec::new();
    }
    let movement = settle::exercise(&Body::usual(), &e.poses, Side::Right, &Limits::none());
    let mut faults = Vec::new();
    for key in &movement.keys {
        if settle::GAP_MM < key.gap_mm {
            faults.push(format!("pose `{}` leaves a gap of {} mm", key.name, shown(key.gap_mm, 1)));
        }
        for (angle, asked, came) in &key.missed {
            let (asked, came) = (shown(*asked, 0), shown(*came, 0));
            faults.push(format!("pose `{}` asks {} {asked} and gets {came}", key.name, angle.name()));
        }
        if !key.converged {
            faults.push(format!("pose `{}` does not come to rest", key.name));
        }
        if key.margin_mm.is_some_and(|m| m < 0.0) {
            faults.push(format!("pose `{}` topples", key.name));
        }
    }
    faults
}
