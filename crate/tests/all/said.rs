//! What clinicians type, and what it must become: `tests/said` (its README says how a case is written).
//!
//! `not-yet.txt` lists the cases that are not right yet. A case that is not listed must be right, and a listed one
//! must not be, so the list only gets shorter.

mod case;
mod hold;
pub mod made;
mod page;

use case::{Case, Fault, folded};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/said")
}

fn text(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Every case, class by class in the order of their names.
fn cases() -> Vec<Case> {
    let entries = std::fs::read_dir(folder()).expect("tests/said");
    let mut paths: Vec<PathBuf> = entries.map(|e| e.expect("a readable folder").path()).collect();
    paths.retain(|p| p.extension().is_some_and(|e| e == "cases"));
    paths.sort();
    let read = |p: &PathBuf| {
        let class = p.file_stem().expect("a name").to_string_lossy().into_owned();
        case::read(&class, &text(p))
    };
    paths.iter().flat_map(read).collect()
}

/// The text of every case.
pub fn texts() -> Vec<String> {
    cases().into_iter().map(|case| case.text).collect()
}

#[test]
fn what_is_typed_is_what_the_patient_gets() {
    let cases = cases();
    let listed = text(&folder().join("not-yet.txt"));
    let not_yet: Vec<&str> = listed.lines().filter(|l| !l.is_empty() && !l.starts_with('#')).collect();
    let listed: BTreeSet<&str> = not_yet.iter().copied().collect();
    assert_eq!(listed.len(), not_yet.len(), "not-yet.txt lists a case twice");
    let names: BTreeSet<&str> = cases.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(names.len(), cases.len(), "two cases have one name");
    let unknown: Vec<&&str> = listed.difference(&names).collect();
    assert!(unknown.is_empty(), "not-yet.txt lists what is no case: {unknown:?}");

    let mut cache = layfigure::programme::settled::Cache::default();
    let mut classes: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    let (mut wrong, mut mended, mut not_right) = (String::new(), Vec::new(), Vec::new());
    for case in &cases {
        let faults = hold::faults(case, &mut cache);
        let class = classes.entry(case.class()).or_default();
        class.1 += 1;
        match (faults.is_empty(), listed.contains(case.name.as_str())) {
            (true, false) => class.0 += 1,
            (true, true) => {
                class.0 += 1;
                mended.push(case.name.as_str());
            }
            (false, listed) => {
                not_right.push(case.name.as_str());
                let told = faults.iter().map(|f| format!("    {f}\n")).collect::<String>();
                println!("{}{}\n{told}", if listed { "" } else { "WRONG " }, case.name);
                if !listed {
                    wrong.push_str(&format!("{}\n{told}", case.name));
                }
            }
        }
    }
    for (class, (right, of)) in &classes {
        println!("{class}: {right} of {of}");
    }
    println!("{} of {} cases right", cases.len() - not_right.len(), cases.len());
    assert!(wrong.is_empty(), "not right, and not in not-yet.txt:\n{wrong}");
    assert!(mended.is_empty(), "right by now; take them out of not-yet.txt:\n{}", mended.join("\n"));
}

/// How much of all that is typed in the cases is the clinician's own words, and how much is not read: own words must not
/// become the way out.
#[test]
fn shares_of_own_and_unread_words_are_told() {
    let count = |text: &str| text.split_whitespace().filter(|w| w.contains(char::is_alphanumeric)).count();
    let (mut typed, mut own, mut unread) = (0, 0, 0);
    for case in cases() {
        let (p, _) = layfigure::prescription::read(&case.text);
        typed += count(&case.text);
        for exercise in &p.exercises {
            own += exercise.beside().map(|said| count(&said.text)).sum::<usize>();
            own += exercise.dose.words.iter().map(|words| count(words)).sum::<usize>();
        }
        own += p.stated.iter().map(|s| count(&s.said.text)).sum::<usize>();
        unread += p.unread.iter().map(|u| count(&u.said.text)).sum::<usize>();
    }
    let percent = |n: usize| 100.0 * n as f64 / typed as f64;
    println!("{typed} words typed: {:.1} % own words, {:.1} % not read", percent(own), percent(unread));
    assert!(0 < own && own + unread < typed / 2, "half of what is typed is made nothing of");
}

#[test]
fn every_expectation_can_fail() {
    // One text that has something of everything; each expectation below is untrue of it.
    let typed = "start: 2026-11-30\npatient: T. B., 58\nlimit: right knee flexion at most 60\n\
                 weight: left, NWB\navoid: kneeling\nreview: 2026-12-14\nbridge: 3 x 10\n  cue: Breathe.\n  from week 3: 3 x 12";
    for untrue in [
        "limit: right knee flexion at most 90",
        "limit: right knee flexion at least 60",
        "limit: left knee flexion at most 60",
        "limit: right knee flexion at most 60 until week 2",
        "limits: none",
        "weight: right leg, non-weight-bearing",
        "weight: left arm, non-weight-bearing",
        "weights: none",
        "exercise: bridge: 3 x 12",
        "exercise: bridge, right: 3 x 10",
        "exercise: bridge: 3 x 10, from week 2",
        "exercise: heel slide: 3 x 10",
        "exercises: none",
        "exercise: bridge: 3 x 10\nexercise: bridge: 3 x 10",
        "exercise: bridge: 3 x 10\nstep: from week 4: 3 x 12",
        "exercise: bridge: 3 x 10\ncue: Hop",
        "exercise: bridge: 3 x 10\nnot cue: Breathe",
        "exercise: bridge: 3 x 10\nramp: add 1 rep every week",
        "steps: none",
        "tidy: review: 2026-12-15",
        "do not: jumping",
        "not do not: kneel",
        "may: kneel",
        "rule: brace",
        "sheet: hopscotch",
        "not sheet: breathe",
        "sheet in week 2: 3 sets of 13",
        "not sheet in week 3: 3 sets of 12",
        "phone: hopscotch",
        "not phone: breathe",
        "record: hopscotch",
        "not record: breathe",
        "fact: age 59",
        "asked: bridge",
        "told: bridge",
        "notice: hopscotch",
        "not notice: no problem is named",
        "edit: hopscotch",
        "not edit: hold 3 s",
    ] {
        let case = &case::read("here", &format!("=== x\n{typed}\n---\n{untrue}\n"))[0];
        let faults = hold::faults(case, &mut layfigure::programme::settled::Cache::default());
        assert!(!faults.is_empty(), "{untrue} is held to be true");
    }
    let noisy = "limt: right knee 0-60\nbridge: 3 x 10";
    let case = &case::read("here", &format!("=== x\n{noisy}\n---\nquiet\n"))[0];
    assert!(!hold::faults(case, &mut layfigure::programme::settled::Cache::default()).is_empty());
}

#[test]
fn what_is_true_is_held_to_be_true() {
    let typed = "start: 2026-11-30\npatient: T. B., 58\nlimit: right knee flexion at most 60\n\
                 weight: left, NWB\navoid: kneeling\nreview: 2026-12-14\nbridge: 3 x 10, until week 4\n  cue: Breathe.\n  from week 3: 3 x 12";
    let wanted = "limit: right knee flexion at most 60\nweight: left leg, non-weight-bearing\n\
                  exercise: Bridging: until week 4, 3 x 10\nstep: from week 3: 3 x 12\ncue: breathe\n\
                  tidy: review: 2026-12-14 | tidy: nothing\ndo not: kneel\nsheet: 3 sets of 10\nsheet in week 3: 3 sets of 12\nphone: kneel\nnot phone: hopscotch\nrecord: breathe\nnot record: hopscotch\n\
                  fact: age 58\nquiet";
    let case = &case::read("here", &format!("=== x\n{typed}\n---\n{wanted}\n"))[0];
    let faults: Vec<Fault> = hold::faults(case, &mut layfigure::programme::settled::Cache::default());
    assert!(faults.is_empty(), "{faults:#?}");
    assert_eq!(folded("No lifting > 2 KG,  don’t"), "no lifting > 2kg, don't");
}
