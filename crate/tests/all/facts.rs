//! Each kind of fact acts where it must and nowhere else: take the typed words away, and just those places change.

use crate::days::on_paper;
use crate::said::made::Made;
use layfigure::handout::plan::Course;
use layfigure::handout::{self, Print, Sheet};
use layfigure::measure::Date;
use layfigure::programme::settled::Cache;
use std::collections::BTreeSet;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    Figure,
    Checks,
    Week,
    Paper,
    Phone,
    Record,
}

use Place::*;

/// The letters that tell two versions of a sheet apart follow from the whole text, remarks too.
fn without_version(words: &str) -> String {
    let mut parts = words.split("ersion ");
    let first = parts.next().unwrap_or("").to_string();
    parts.fold(first, |out, part| out + part.get(4..).unwrap_or(""))
}

/// What a text says at each place; derived numbers of a version apart.
fn said(text: &str, cache: &mut Cache) -> [(Place, String); 6] {
    let today = Date::iso("2026-11-30").expect("a date");
    let due = on_paper(text, today, Print::Normal, today);
    let mut made = Made::of(text, cache);
    let reading = made.reading();
    let programme = &reading.programme;
    let of_checks: Vec<String> =
        programme.notices.iter().map(|n| format!("{} {}", n.kind(), n.sentence())).collect();
    let checks = format!("{of_checks:?} {:?} {:?}", programme.checked, programme.unchecked);
    let phone = without_version(&made.phone().expect("a link").shown);
    let paper = without_version(&made.sheet().words);
    let record = without_version(&made.record());
    let ask = layfigure::programme::Ask::today(Some(today));
    let (p, _) = layfigure::prescription::read(text);
    let limit = layfigure::week::model::Limit::USUAL;
    let course = Course::of(&p, layfigure::catalog::Catalog::embedded(), &ask, limit, cache).expect("a week");
    let html = handout::html(&course, &Sheet::default());
    let figures: String = html.split("<svg").skip(1).filter_map(|rest| rest.split("</svg>").next()).collect();
    [
        (Figure, figures),
        (Checks, checks),
        (Week, format!("{due:?}")),
        (Paper, paper),
        (Phone, phone),
        (Record, record),
    ]
}

/// The kind of fact, words of it in a text (`[…]` is what is taken away, `[…|…]` what stands there then), and where it acts.
const FACTS: [(&str, &str, &[Place]); 25] = [
    (
        "limit",
        "[limit: right knee flexion 0-60\n]heel slide, right: 2 x 10, daily",
        &[Figure, Checks, Paper, Phone, Record],
    ),
    (
        "limit in plain words",
        "[no left shoulder elevation > 90\n]pendulum, left: 2 min, daily",
        &[Checks, Paper, Phone, Record],
    ),
    (
        "weight bearing",
        "[weight: right, non-weight-bearing\n]heel slide, right: 2 x 10, daily",
        &[Checks, Paper, Phone, Record],
    ),
    ("avoid", "[avoid: kneeling\n]bridge: 2 x 10, daily", &[Checks, Paper, Phone, Record]),
    // What the patient can't do is not forbidden: under “Do not” it would be turned round.
    ("cannot", "[cannot: get up from the floor\n]bridge: 2 x 10, daily", &[Checks, Record]),
    (
        "restriction in plain words",
        "[no driving for 6 weeks\n]bridge: 2 x 10, daily",
        &[Checks, Paper, Phone, Record],
    ),
    ("permission", "[may shower\n]bridge: 2 x 10, daily", &[Checks, Paper, Phone, Record]),
    ("condition", "[caution: pregnancy\n]bridge: 2 x 10, daily", &[Checks, Paper, Phone, Record]),
    (
        "injury",
        "[injury: 2026-11-20, left calf tear\n]bridge: 2 x 10, daily",
        &[Checks, Paper, Phone, Record],
    ),
    ("finding", "[finding: stiff for ten minutes\n]bridge: 2 x 10, daily", &[Record]),
    ("result", "[measure: KOOS 45\n]bridge: 2 x 10, daily", &[Record]),
    ("step", "bridge: 2 x 10, daily[\n  from week 2: 3 x 12]", &[Paper, Phone, Record]),
    ("end", "bridge: 2 x 10, daily[, until week 1]", &[Week, Paper, Phone, Record]),
    ("review", "[review: 2026-12-13\n]bridge: 2 x 10, daily", &[Paper, Phone, Record]),
    ("whom to call", "[out of hours: 01632 960 377\n]bridge: 2 x 10, daily", &[Paper, Phone, Record]),
    ("dose", "bridge: [3 x 12|2 x 10], daily", &[Paper, Phone, Record]),
    ("side", "heel slide, [left|right]: 2 x 10, daily", &[Figure, Paper, Phone, Record]),
    ("frequency", "bridge: 2 x 10, [3/week|daily]", &[Week, Paper, Phone, Record]),
    ("condition of a dose", "bridge: 2 x 10, daily[\n  stop if: your calf cramps]", &[Paper, Phone, Record]),
    ("time", "[time: no Wed\n]bridge: 2 x 10, 5/week", &[Checks, Week, Paper, Phone, Record]),
    ("goal", "[aim: carry the shopping home\n]bridge: 2 x 10, daily", &[Paper, Phone, Record]),
    ("a dose that grows", "bridge: 2 x 10, daily[, add 2 reps every 3 days]", &[Paper, Phone, Record]),
    (
        "how far it grows",
        "walking: 5 min, daily, add 2 min every 2 days[ up to 9 min]",
        &[Paper, Phone, Record],
    ),
    // What follows by a criterion is listed as not checked until it is taken.
    ("a step on a condition", "bridge 2 x 10 daily[, if sore, halve it]", &[Checks, Paper, Phone, Record]),
    ("remark", "[// ring her daughter\n]bridge: 2 x 10, daily[ // hates these]", &[]),
];

/// The text with its marked words, or with what stands in their place.
fn marked(text: &str, with: bool) -> String {
    let mut out = String::new();
    for (at, piece) in text.split('[').enumerate() {
        let Some((words, rest)) = piece.split_once(']').filter(|_| 0 < at) else {
            out.push_str(piece);
            continue;
        };
        let (typed, instead) = words.split_once('|').unwrap_or((words, ""));
        out.push_str(if with { typed } else { instead });
        out.push_str(rest);
    }
    format!("# Exercises\nby: R. Osei, 01632 960 288\nstart: 2026-11-30\nweeks: 2\n{out}\n")
}

#[test]
fn every_fact_acts_where_it_must_and_nowhere_else() {
    let mut cache = Cache::default();
    let mut faults = Vec::new();
    for (kind, text, wanted) in FACTS {
        let with = said(&marked(text, true), &mut cache);
        let without = said(&marked(text, false), &mut cache);
        let changed: BTreeSet<Place> =
            with.iter().zip(&without).filter(|(a, b)| a.1 != b.1).map(|(a, _)| a.0).collect();
        let wanted: BTreeSet<Place> = wanted.iter().copied().collect();
        if changed != wanted {
            faults.push(format!("{kind}: changes {changed:?}, not {wanted:?}"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
