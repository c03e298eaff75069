//! What of a prescription is handed over: its full form without anything that the patient's sheet does not show.
//!
//! Left out: title, remarks, age, findings, irritability, measures, screening, what was taught, reasons for
//! overriding a notice, kit, minutes, what the patient cannot do, when to discharge, and the words of an operation,
//! injury or caution. What the sheet says on when to get help is named by its topics, and not by the problem behind it.
//! Ends of limits are written as dates, so that nothing has to be counted from an operation.

use super::Shared;
use crate::body::Variant;
use crate::catalog::Catalog;
use crate::catalog::find::Found;
use crate::dose::{End, Event, Start};
use crate::language::restraint::Plain;
use crate::measure::Date;
use crate::prescription::limit::{Bearing, Limit, Purpose};
use crate::prescription::{About, Prescription, When, angles, bearing, keys, problem, read, read_shared};
use crate::programme::settled::Cache;
use crate::programme::{Ask, Known, Programme, USUAL_MARGIN, assemble};
use crate::text::fold::folded;
use crate::week;
use crate::week::course::{course, weeks};
use std::collections::BTreeSet;

/// How the patient is named.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Named {
    /// As written.
    #[default]
    Written,
    /// By the first letter of each word.
    Initials,
    Not,
}

impl Named {
    /// In storage, on the page's control and in what a worker is asked.
    pub fn word(self) -> &'static str {
        match self {
            Named::Written => "written",
            Named::Initials => "initials",
            Named::Not => "nobody",
        }
    }

    /// The naming of that word; anything else is as written.
    pub fn of(word: &str) -> Named {
        let known = [Named::Initials, Named::Not].into_iter().find(|naming| naming.word() == word);
        known.unwrap_or_default()
    }
}

/// How the link is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted<'a> {
    pub named: Named,
    /// The emergency number that stands on the sheet where the text gives none: the phone must give the same.
    pub emergency: Option<&'a str>,
    /// The day of issue.
    pub today: Option<Date>,
    /// Steps that the search for each week may take.
    pub limit: week::model::Limit,
}

/// Makes what is handed over of a prescription. An error is a sentence for the clinician: there is then no link.
pub fn share(
    prescription: &Prescription,
    catalog: &Catalog,
    wanted: &Wanted<'_>,
    cache: &mut Cache,
) -> Result<Shared, String> {
    if let Some(what) = prescription.beyond.words() {
        return Err(format!(
            "There is no link for this prescription, since it is longer than what is read, and a part of it would not be \
             in the link. {what}. Take some out, or write a second prescription with a link of its own."
        ));
    }
    let at = |week| Ask { today: wanted.today, week: Some(week), margin: USUAL_MARGIN };
    let first = assemble::without_offers(prescription, catalog, &at(1), cache);
    let text = written(&first, wanted);
    let (again, _) = read_shared(&text);
    let weeks = weeks(prescription, &first);
    let mut differs = None;
    let stretches = course(1..=weeks, wanted.limit, |week| {
        let original = assemble::without_offers(prescription, catalog, &at(week), cache);
        let shared = assemble::without_offers(&again, catalog, &at(week), cache);
        if differs.is_none() {
            differs = difference(&original, &shared, wanted);
        }
        original
    });
    let course = stretches.map_err(|fault| fault.0)?;
    if let Some(what) = differs {
        return Err(format!(
            "There is no link for this prescription, since {what} would not be the same in it as on the sheet. \
             Mend the lines that are marked as not understood, or hand over the sheet on paper."
        ));
    }
    let prints = prints(&text, &again, catalog);
    Ok(Shared { text, issued: wanted.today, version: first.version, course, prints })
}

/// What the entries look like that the text names, on its exercise lines and in its steps, by whatever words.
fn prints(text: &str, p: &Prescription, catalog: &Catalog) -> Vec<(u32, u16)> {
    let own = |name: &str| p.own.iter().any(|block| folded(&block.name.text) == folded(name));
    let steps = p.exercises.iter().flat_map(|x| &x.steps).filter_map(|s| s.name.as_ref());
    let said = p.exercises.iter().map(|x| &x.name).chain(steps).filter(|n| !own(&n.text));
    let found = said.filter_map(|name| match catalog.find(&name.text) {
        Found::One(entry) => entry.number,
        Found::Near(_) | Found::None => None,
    });
    let numbers: BTreeSet<u32> = found.chain(names(text, catalog)).collect();
    let print = |number: &u32| Some((*number, catalog.by_number(*number)?.print));
    numbers.iter().filter_map(print).collect()
}

/// Numbers of the exercises of the catalog whose names are packed as such, ascending.
pub fn names(text: &str, catalog: &Catalog) -> Vec<u32> {
    let numbers: BTreeSet<u32> = super::text::without_names(text, catalog).1.into_iter().collect();
    numbers.into_iter().collect()
}

/// The text that is handed over.
fn written(programme: &Programme, wanted: &Wanted<'_>) -> String {
    // The full form's exercise lines have every default in them.
    let (p, _) = read(&programme.full);
    let mut out = Out::default();
    let mut body = Out::default();
    exercises(&p, &mut body);
    own(&p, &mut body);
    let mut limits = Out::default();
    rules(&p, &mut limits);

    if let Some(by) = &p.by {
        out.key("by", &by.text);
    }
    if let Some(emergency) = emergency(programme, wanted) {
        out.key("emergency", &emergency);
    }
    if let Some(closed) = &programme.who.out_of_hours {
        out.key("out of hours", closed);
    }
    if let Some(patient) = p.patient.as_ref().and_then(|patient| name(&patient.name, wanted.named)) {
        out.key("patient", &patient);
    }
    for (key, date) in [("start", p.start), ("review", p.review)] {
        if let Some(date) = date {
            out.key(key, &date.to_string());
        }
    }
    if let Some(weeks) = p.weeks {
        out.key("weeks", &weeks.to_string());
    }
    for aim in &p.aims {
        out.key("aim", &aim.text);
    }
    // What is still counted from an operation or injury needs its date, and nothing else of it.
    let events = limits.events.iter().chain(&body.events).copied().collect::<Vec<_>>();
    for (event, happening) in [(Event::Surgery, &p.surgery), (Event::Injury, &p.injury)] {
        let date = happening.as_ref().and_then(|h| h.date);
        if let Some(date) = date.filter(|_| events.contains(&event)) {
            out.key(&event.to_string(), &date.to_string());
        }
    }
    out.text.push_str(&limits.text);
    // What the sheet says on when to get help, by its topics: the problem that asks for them stays here.
    // What goes by the exercises alone needs no word: they are in the link.
    if !programme.help.by_exercises {
        out.key("safety net", &crate::prescription::net::words(&programme.help.typed));
    }
    // The kind of body is on the sheet for all to see: it is drawn so.
    let mut build = Vec::new();
    if let Some(mm) = p.body.as_ref().and_then(|b| b.stature_mm) {
        build.push(if mm % 10 == 0 { format!("{} cm", mm / 10) } else { format!("{mm} mm") });
    }
    if programme.body.variant() != Variant::Adult {
        build.push(programme.body.variant().word().to_string());
    }
    if !build.is_empty() {
        out.key("body", &build.join(", "));
    }
    if let Some(ask) = &p.ask {
        out.key("ask", &ask.text);
    }
    if let Some(pain) = &p.usual_pain {
        let range =
            if pain.low == pain.high { pain.low.to_string() } else { format!("{}-{}", pain.low, pain.high) };
        out.key("usual pain", &format!("{range} of 10"));
    }
    if let Some(okay) = &p.okay_pain {
        out.key("okay pain", &okay.written());
    }
    for (key, lines) in [("bad day", &p.bad_day), ("flare", &p.flare)] {
        for line in lines {
            out.key(key, &line.text);
        }
    }
    out.text.push_str(&body.text);
    out.text
}

/// The number for help at once: as typed, else the one that the sheet falls back on.
fn emergency(programme: &Programme, wanted: &Wanted<'_>) -> Option<String> {
    let usual = || {
        let words: Vec<&str> = wanted.emergency?.split_whitespace().collect();
        (!words.is_empty()).then(|| words.join(" "))
    };
    programme.who.emergency.clone().or_else(usual)
}

/// A part of the text, and what it still counts from.
#[derive(Default)]
struct Out {
    text: String,
    events: Vec<Event>,
}

impl Out {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn key(&mut self, key: &str, value: &str) {
        self.line(&format!("{key}: {value}"));
    }

    fn counts_from(&mut self, end: Option<&End>) {
        if let Some(End::After { event, .. }) = end {
            self.events.push(*event);
        }
    }
}

impl Out {
    fn begins_from(&mut self, start: Option<&Start>) {
        if let Some(Start::After { event, .. }) = start {
            self.events.push(*event);
        }
    }
}

/// The patient's name as it is wanted.
fn name(name: &str, named: Named) -> Option<String> {
    let initial = |word: &str| {
        let first = word.chars().find(|c| c.is_alphanumeric())?;
        Some(format!("{}.", first.to_uppercase()))
    };
    let name = match named {
        Named::Written => name.to_owned(),
        // `T.B.` and `Tom-Ben` are two words each.
        Named::Initials => {
            let words = name.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '’');
            words.filter_map(initial).collect::<Vec<_>>().join(" ")
        }
        Named::Not => return None,
    };
    (!name.is_empty()).then_some(name)
}

/// Limits, weight, what to avoid, and safety text that was not understood, in the order of the text.
fn rules(p: &Prescription, out: &mut Out) {
    for line in &p.lines {
        let here = |n: usize| n == line.number;
        if p.unread.iter().any(|u| u.safety && here(u.said.place.line)) {
            // Word for word, since the sheet shows it so.
            let limits = p.limits.iter().filter(|l| here(l.place.line)).map(|l| l.end.as_ref());
            limits.for_each(|end| out.counts_from(end));
            // Findings neither print nor travel, wherever they were typed.
            if let Some(said) = problem::without_red_flags(&line.tidy) {
                out.line(&said);
            }
            continue;
        }
        let limits: Vec<Limit> = p.limits.iter().filter(|l| here(l.place.line)).map(dated).collect();
        if let Some(first) = limits.first() {
            let key = if first.purpose == Purpose::Limit { "limit" } else { "range" };
            let text = angles::written(&limits);
            let again = angles::read(&text, first.purpose, first.place);
            if again.limits == limits && again.beside.is_empty() {
                out.key(key, &text);
            } else {
                limits.iter().for_each(|l| out.counts_from(l.end.as_ref()));
                out.line(&line.tidy);
            }
        }
        for stages in bearing::groups(&p.bearing) {
            let Some(first) = stages.first().filter(|b| here(b.place.line)) else { continue };
            let wanted = |b: &Bearing| {
                let end = b.last_day.map(End::Date).or_else(|| b.end.clone());
                Bearing { end, last_day: None, first_day: None, place: first.place, ..b.clone() }
            };
            let wanted: Vec<Bearing> = stages.iter().map(wanted).collect();
            let text = bearing::written_all(&wanted);
            let again = bearing::all(&keys::Value { text: &text, place: first.place });
            stages.iter().for_each(|b| {
                if b.last_day.is_none() || again.as_ref() != Some(&wanted) {
                    out.counts_from(b.end.as_ref());
                }
            });
            if again.as_ref() == Some(&wanted) {
                out.key("weight", &text);
            } else {
                out.line(&line.tidy);
            }
        }
        let avoid = p.avoid.iter().filter(|a| here(a.place.line));
        let avoid: Vec<String> = avoid.filter_map(|a| problem::without_red_flags(&a.text)).collect();
        if !avoid.is_empty() {
            out.key("avoid", &avoid.join(", "));
        }
        for stated in p.stated.iter().filter(|s| here(s.said.place.line)) {
            let key = match stated.kind {
                Plain::Restriction => "do not",
                Plain::Permission => "may",
                Plain::Order => "rule",
                Plain::Advice => "advice",
                Plain::Finding => continue,
            };
            let Some(words) = stated.for_patient(&stated.said.text) else { continue };
            out.counts_from(stated.end.as_ref());
            out.key(key, &words);
        }
    }
}

/// The limit with its end as a date, where one is known; as it is read again.
fn dated(limit: &Limit) -> Limit {
    let end = limit.last_day.map(End::Date).or_else(|| limit.end.clone());
    Limit { end, last_day: None, ..limit.clone() }
}

/// Exercise lines with what is said below them for the patient; headings only where they have rounds.
fn exercises(p: &Prescription, out: &mut Out) {
    let mut rounds_of: Option<usize> = None;
    for x in &p.exercises {
        let rounds = x.section.filter(|s| p.sections.get(*s).is_some_and(|s| s.rounds.is_some()));
        if rounds != rounds_of {
            match rounds.and_then(|s| p.sections.get(s)).and_then(|s| s.rounds) {
                Some(rounds) => out.line(&format!("## {rounds} rounds")),
                None => out.line("## then"),
            }
            rounds_of = rounds;
        }
        let below = |line: usize| {
            let detail = x.details.iter().find(|d| d.said.place.line == line);
            let dose = p.lines.iter().find(|l| l.number == line);
            detail.is_some_and(|d| d.about != About::Taught)
                || x.steps.iter().any(|s| s.place.line == line)
                || (x.line < line && dose.is_some_and(|l| is_dose(&l.tidy)))
        };
        let next = p.exercises.iter().map(|o| o.line).find(|line| x.line < *line).unwrap_or(usize::MAX);
        let lines = p.lines.iter().filter(|l| x.line <= l.number && l.number < next);
        // A heading ends what is above it.
        let ends = |tidy: &str| tidy.starts_with('#');
        for line in lines.take_while(|l| l.number == x.line || !ends(&l.tidy)) {
            if line.number == x.line && x.beside().next().is_some() {
                // Own words on a line of their own, as every page reads them.
                out.line(&x.without_details());
                x.beside().for_each(|said| out.line(&format!("  cue: {}", said.text)));
            } else if line.number == x.line || below(line.number) {
                out.line(&line.tidy);
            }
        }
        out.counts_from(x.dose.until.as_ref());
        out.begins_from(x.dose.from.as_ref());
        for step in &x.steps {
            out.counts_from(step.dose.until.as_ref());
            if let When::From(start) = &step.when {
                out.begins_from(Some(start));
            }
        }
    }
}

/// Whether a line below an exercise is a dose by itself, as the full form leaves it where it must.
fn is_dose(tidy: &str) -> bool {
    let content = tidy.trim();
    let place = crate::text::Place { line: 1, start: 0, end: content.len() };
    tidy.starts_with(' ')
        && crate::language::typed::lexed(content, place, |typed| {
            crate::prescription::exercise::is_dose(typed).is_some()
        })
}

/// Fields of an own exercise that the patient never sees.
const UNSEEN: [&str; 6] = ["number", "source", "must show", "caution", "instead", "works"];

/// Own exercises that are named, without remarks and what the patient never sees.
fn own(p: &Prescription, out: &mut Out) {
    let steps = p.exercises.iter().flat_map(|x| &x.steps).filter_map(|s| s.name.as_ref());
    let names: Vec<String> =
        p.exercises.iter().map(|x| &x.name).chain(steps).map(|n| folded(&n.text)).collect();
    for block in p.own.iter().filter(|block| names.contains(&folded(&block.name.text))) {
        out.key("exercise", &block.name.text);
        let mut posed = false;
        for line in &block.lines {
            let key = folded(line.text.split_once(':').map_or("", |(key, _)| key));
            posed |= key == "pose";
            let unseen = !posed && UNSEEN.contains(&key.as_str());
            if !unseen && !line.text.trim_start().starts_with("//") {
                out.line(&format!("  {}", line.text));
            }
        }
    }
}

/// What the sheet would show otherwise, in words; None: the same sheet.
fn difference(original: &Programme, shared: &Programme, wanted: &Wanted<'_>) -> Option<String> {
    let pain = |p: &Programme| p.usual_pain.as_ref().map(|p| (p.low, p.high));
    let patient = original.who.patient.as_deref().and_then(|n| name(n, wanted.named));
    let ends = |p: &Programme| {
        p.do_not.iter().map(|d| (d.words.clone(), d.last_day, d.computed)).collect::<Vec<_>>()
    };
    let may = |p: &Programme| (p.may_do.clone(), p.keep_to.clone(), p.as_written.clone());
    let checks: [(&str, bool); 10] = [
        ("who it is from or for", original.who.by == shared.who.by && patient == shared.who.patient),
        (
            "whom to call",
            emergency(original, wanted) == shared.who.emergency
                && original.who.out_of_hours == shared.who.out_of_hours,
        ),
        (
            "a date",
            (original.start, original.review, original.week_starts, original.weeks)
                == (shared.start, shared.review, shared.week_starts, shared.weeks),
        ),
        ("the goal", original.aims == shared.aims),
        (
            "a limit",
            ends(original) == ends(shared)
                && may(original) == may(shared)
                && original.in_force == shared.in_force,
        ),
        // What a later week needs no longer may stay; nothing may be missing.
        ("when to get help", original.help.topics.is_subset(&shared.help.topics)),
        ("the body", original.body == shared.body),
        ("the pain that is okay", pain(original) == pain(shared) && original.ask == shared.ask),
        ("what to do on a bad day", original.bad_day == shared.bad_day && original.flare == shared.flare),
        ("the number of exercises", original.exercises.len() == shared.exercises.len()),
    ];
    if let Some((what, _)) = checks.iter().find(|(_, same)| !same) {
        return Some((*what).to_owned());
    }
    let rounds = |p: &Programme, e: &crate::programme::Exercise| {
        e.section.and_then(|s| p.sections.get(s)).and_then(|s| s.rounds)
    };
    let pairs = original.exercises.iter().zip(&shared.exercises);
    let odd = pairs.into_iter().find(|(a, b)| {
        let same = (&a.name, a.side, &a.at, a.kind, a.purpose, a.active, &a.region)
            == (&b.name, b.side, &b.at, b.kind, b.purpose, b.active, &b.region)
            && (&a.known, &a.amount, a.seconds, &a.words, &a.steps)
                == (&b.known, &b.amount, b.seconds, &b.words, &b.steps)
            && (&a.position, &a.kit, a.limited, &a.drawn) == (&b.position, &b.kit, b.limited, &b.drawn)
            && rounds(original, a) == rounds(shared, b);
        !same
    });
    odd.map(|(a, _)| match a.known {
        Known::Own => format!("your own exercise “{}”", a.name),
        Known::Catalog { .. } | Known::Unknown => format!("“{}”", a.name),
    })
}
