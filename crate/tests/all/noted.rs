//! Plain lines that tell of the patient are facts for the clinician: none becomes an exercise, and the patient sees none.

use layfigure::catalog::Catalog;
use layfigure::measure::Date;
use layfigure::prescription::{print, read};
use layfigure::programme::settled::Cache;
use layfigure::programme::{Ask, assemble};

/// The words of the sheet of a text.
fn sheet(text: &str) -> String {
    let (p, _) = read(text);
    let ask = Ask::today(Date::iso("2026-11-30"));
    let programme = assemble::at(&p, Catalog::embedded(), &ask, &mut Cache::default());
    let course = layfigure::handout::plan::Course::without_days(programme);
    layfigure::handout::html(&course, &layfigure::handout::Sheet::default())
}

/// Lines as they stand between exercises in a record, with a word that the patient must not meet, and where the line is
/// kept. What they mean is common practice.
const LINES: [(&str, &str, &str); 22] = [
    ("VAS 7/10 today", "VAS", "measure"),
    ("6MWT 340 m", "MWT", "measure"),
    ("ODI 38 %", "ODI", "measure"),
    ("grip strength 24 kg R", "grip strength", "measure"),
    ("Lachman +ve L", "Lachman", "measure"),
    ("hams 3+/5 L", "hams", "measure"),
    ("PROM L elbow 20-130", "PROM", "measure"),
    ("10 m walk test 9 s", "walk test", "measure"),
    ("blood pressure 138/84", "138/84", "measure"),
    ("quads lag 15 L", "lag", "finding"),
    ("45 y/o, plasterer", "plasterer", "finding"),
    ("aged 67, retired", "retired", "finding"),
    ("adherent most days", "adherent", "finding"),
    ("didn't do the evening ones", "evening ones", "finding"),
    ("tolerated well, 2x8 by the end", "tolerated", "finding"),
    ("fell in the garden", "garden", "finding"),
    ("sore after gardening", "gardening", "finding"),
    ("MRN 55120", "55120", "finding"),
    ("hamstring strain L 5/7 ago", "ago", "injury"),
    ("hip arthroscopy R 3/12 ago", "ago", "surgery"),
    ("12/7 post-op L ACLR", "12/7", "surgery"),
    ("24+3/40", "24+3", "caution"),
];

#[test]
fn what_is_noted_is_no_exercise_and_on_no_sheet() {
    for (line, word, kept) in LINES {
        let text = format!("# Knee\nby: R. Osei, 01632 960 288\n{line}\nbridge: 3 x 10, daily");
        let (p, notices) = read(&text);
        let names: Vec<&str> = p.exercises.iter().map(|e| e.name.text.as_str()).collect();
        assert_eq!(names, ["bridge"], "{line}");
        let said = match kept {
            "measure" => p.measures.iter().map(|s| s.text.clone()).collect(),
            "finding" => p.findings.iter().map(|s| s.text.clone()).collect(),
            "caution" => p.cautions.iter().map(|s| s.text.clone()).collect(),
            "injury" => p.injury.iter().map(|h| h.words.clone()).collect(),
            "surgery" => p.surgery.iter().map(|h| h.words.clone()).collect::<Vec<_>>(),
            _ => Vec::new(),
        };
        assert_eq!(said, [line], "{line} is a {kept}");
        assert!(notices.iter().any(|n| n.place.line == 3), "{line}: nothing is told");
        assert!(!sheet(&text).to_lowercase().contains(&word.to_lowercase()), "{line} is printed");
        let tidy = print(&p);
        assert!(tidy.contains(line), "{line}: {tidy}");
        assert_eq!(print(&read(&tidy).0), tidy, "{line}");
    }
}

#[test]
fn numbers_of_the_patient_are_typed_facts() {
    let p = |text: &str| read(text).0;
    assert_eq!(p("45 y/o, plasterer").age(), Some(45));
    assert_eq!(p("patient: K. D., F 33").age(), Some(33));
    let who = p("patient: Mrs Ade aged 77").patient.expect("a patient");
    assert_eq!((who.name.as_str(), who.age), ("Mrs Ade", Some(77)));
    let pregnancy = p("caution: 24+3/40, dizzy at times").pregnancy.expect("a pregnancy");
    assert_eq!((pregnancy.weeks, pregnancy.days), (24, 3));
    assert_eq!(p("caution: pregnant, 19 weeks").pregnancy.map(|p| p.weeks), Some(19));
    assert_eq!(
        p("6/40 walking group").pregnancy.map(|p| p.weeks),
        p("caution: 6/40").pregnancy.map(|p| p.weeks)
    );
    let pressure = p("caution: BP 166/94 sitting").pressure.expect("a pressure");
    assert_eq!((pressure.systolic, pressure.diastolic), (166, 94));
    assert_eq!(p("bridge: 3 x 10").pressure, None);
}

/// What looks like it and is something to do stays an exercise, with its dose.
#[test]
fn what_is_to_be_done_stays_an_exercise() {
    for (line, name) in [
        ("SLR R 3x10", "SLR"),
        ("AROM elbow 2 x 12", "AROM elbow"),
        ("PROM L wrist 10 reps", "PROM"),
        ("pain-free squat 2x10", "pain-free squat"),
        ("10 m walk x 4", "10 m walk"),
        ("L4/5 ext 10 reps", "L4/5 ext"),
        ("post-op knee bends 2x10", "post-op knee bends"),
    ] {
        let (p, _) = read(line);
        assert_eq!(p.exercises.len(), 1, "{line}: {:?} {:?}", p.measures, p.findings);
        assert!(p.exercises[0].name.text.starts_with(name), "{line}: {}", p.exercises[0].name.text);
        assert!(!p.exercises[0].dose.work.is_empty(), "{line}");
    }
}

/// Below an exercise, what not to do is said there and limits nothing else.
#[test]
fn what_is_forbidden_below_an_exercise_is_its_guard() {
    for guard in ["don't let the heel lift", "no elbow flexion > 70", "avoid shrugging", "not past the toes"]
    {
        let text = format!("# Knee\nstep up R: 2 x 8, daily\n  {guard}\nbridge: 3 x 10, daily");
        let (p, notices) = read(&text);
        assert_eq!(p.exercises.len(), 2, "{guard}");
        assert!(p.limits.is_empty() && p.stated.is_empty() && p.unread.is_empty(), "{guard}");
        let below: Vec<&str> = p.exercises[0].details.iter().map(|d| d.said.text.as_str()).collect();
        assert_eq!(below, [guard]);
        assert!(notices.iter().any(|n| n.place.line == 3 && n.kind() == "read-as-guard"), "{guard}");
        let printed =
            sheet(&text).replace('’', "'").replace("&#39;", "'").replace("&gt;", ">").to_lowercase();
        assert!(printed.contains(guard), "{guard} is not printed");
    }
}

/// A range without a word of what it is limits nothing until it is said.
#[test]
fn a_range_is_measured_or_ordered() {
    for (line, limit) in [
        ("L elbow flexion 20-130", "limit: left elbow flexion 20-130"),
        ("shoulder abduction R 0-60", "limit: right shoulder abduction 0-60"),
    ] {
        let (p, notices) = read(line);
        assert!(
            p.exercises.is_empty() && p.limits.is_empty() && p.unread.iter().all(|u| !u.safety),
            "{line}"
        );
        let asked = notices.iter().find(|n| n.kind() == "ask-measured").expect(line);
        assert_eq!(asked.edit.as_ref().map(|e| e.with.as_str()), Some(limit));
        assert_eq!(print(&p).trim(), line);
    }
    // A few of a motion are repetitions.
    assert_eq!(read("elbow flexion R 10-15").0.exercises.len(), 1);
}
