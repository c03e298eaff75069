//! The text for the clinician's notes, called the record: all that was typed about the patient and the programme, what was
//! checked and what was not, what was decided, and the items of a published reporting template. Plain text, one fact a
//! line, in the words as typed. Nothing in it is diagnosed or inferred, and no private remark is in it.

mod exercises;
mod template;
mod typed;

use std::collections::BTreeSet;

use crate::catalog::Catalog;
use crate::notice::{Notice, Severity};
use crate::prescription::{Prescription, without_remark};
use crate::programme::settled::Cache;
use crate::programme::{Ask, Programme, assemble};
use exercises::{DECIDED, DEEPER};
use typed::{Part, Sorted, Typed};

/// What the text for the notes is made of.
#[derive(Clone, Copy, Debug)]
struct Of<'a> {
    /// As typed.
    text: &'a str,
    prescription: &'a Prescription,
    /// Of the reading.
    told: &'a [Notice],
    /// At the week shown.
    programme: &'a Programme,
    /// Of the sheet that is handed over.
    version: &'a str,
}

/// The text for the notes. Whatever line of the prescription has no other place in it stands under its last heading.
///
/// ```
/// use layfigure::{catalog::Catalog, export::record, programme::Ask};
/// let typed = "calf tender L // ring her GP\nno R knee flex >90\nstair climbing: 5 min, daily";
/// let record = record::text(typed, Catalog::embedded(), &Ask::today(None), &mut Default::default());
/// assert!(record.contains("NOTED OF THE PATIENT\n  calf tender L\n"));
/// assert!(record.contains("  no R knee flex >90\n      Read as limit: right knee flexion at most 90\n"));
/// assert!(!record.contains("GP"));
/// ```
pub fn text(typed: &str, catalog: &Catalog, ask: &Ask, cache: &mut Cache) -> String {
    let (prescription, told) = crate::prescription::read(typed);
    let programme = assemble::at(&prescription, catalog, ask, cache);
    let of = Of {
        text: typed,
        prescription: &prescription,
        told: &told,
        programme: &programme,
        version: &programme.version,
    };
    let Some(text) = without_hidden_remarks(typed, &prescription) else { return written(&of) };
    let (prescription, told) = crate::prescription::read(&text);
    let programme = assemble::at(&prescription, catalog, ask, cache);
    written(&Of { text: &text, prescription: &prescription, told: &told, programme: &programme, ..of })
}

/// The text without remarks that were not read as such (in an own exercise, in what is too much to be read), since
/// whatever is said of those lines would say the remark too. None: there are none.
fn without_hidden_remarks(text: &str, p: &Prescription) -> Option<String> {
    let known: BTreeSet<usize> = p.remarks.iter().map(|remark| remark.place.line).collect();
    let (mut out, mut found) = (String::new(), false);
    for line in crate::text::lines(text) {
        let kept = without_remark(&line);
        if known.contains(&line.number) || kept == Some(line.raw) {
            out.push_str(line.raw);
        } else {
            found = true;
            let Some(kept) = kept else { continue };
            out.push_str(kept);
        }
        out.push('\n');
    }
    found.then_some(out)
}

fn written(of: &Of<'_>) -> String {
    let typed = Typed::of(of.text, of.prescription);
    let sorted = Sorted::of(of.prescription, &typed);
    let programme = of.programme;
    let week = programme.week_number;
    let part = |part: Part| -> Vec<String> {
        let mut lines = Vec::new();
        for (line, read) in sorted.part(part) {
            lines.push(typed.words(line).to_string());
            lines.extend(read.iter().map(|words| format!("{DEEPER}{words}")));
        }
        lines
    };
    let or = |lines: Vec<String>, none: &str| if lines.is_empty() { vec![none.to_string()] } else { lines };
    let mut out = String::from("HOME EXERCISE PROGRAMME: TEXT FOR THE NOTES\n");
    let mut section = |heading: &str, lines: Vec<String>| {
        if lines.is_empty() {
            return;
        }
        out.push_str(&format!("\n{heading}\n"));
        for line in lines {
            out.push_str(&format!("  {line}\n"));
        }
    };
    section("TITLE", programme.who.title.iter().cloned().collect());
    section("DATES", [part(Part::When), dates(of)].concat());
    section("WHO", part(Part::Who));
    section("NOTED OF THE PATIENT", [part(Part::Patient), understood(of)].concat());
    section("GOALS", part(Part::Goals));
    section("LIMITS, AND WHAT MUST NOT BE DONE", part(Part::MustNot));
    section("WHAT THE PATIENT CANNOT DO", part(Part::Cannot));
    section("WHAT THE PATIENT MAY DO", part(Part::May));
    section("RULES TO KEEP TO", part(Part::KeepTo));
    section("SCREENING", or(part(Part::Screening), "not stated"));
    section("PLAN", part(Part::Plan));
    section("EXERCISES", exercises::lines(of, &typed, &sorted));
    section(&format!("CHECKED BY COMPUTATION, WEEK {week}"), or(programme.checked.clone(), "nothing"));
    section(&format!("NOT CHECKED, WEEK {week}"), programme.unchecked.clone());
    section("NOTICES", notices(of, &typed));
    section("OVERRIDDEN BY THE CLINICIAN", exercises::decisions(of));
    section("NOT UNDERSTOOD, KEPT WORD FOR WORD", part(Part::Unread));
    section("REVIEW", part(Part::Review));
    section("WHOM TO CALL, AND WHEN", part(Part::Help));
    section(
        "CONSENSUS ON EXERCISE REPORTING TEMPLATE (SLADE ET AL. 2016)",
        template::lines(of, &typed, &sorted),
    );
    section("ALSO TYPED", part(Part::Also));
    out
}

/// The day of the text, and by which letters its sheet is known.
fn dates(of: &Of<'_>) -> Vec<String> {
    let programme = of.programme;
    let mut lines = Vec::new();
    lines.extend(programme.today.map(|day| format!("Written on {}", day.words())));
    let starts = programme.week_starts.map_or(String::new(), |day| format!(", from {}", day.words()));
    lines.push(format!("Week shown: {}{starts}", programme.week_number));
    lines.push(format!("Sheet version {}", of.version));
    lines
}

/// Numbers that were read from the lines about the patient.
fn understood(of: &Of<'_>) -> Vec<String> {
    let p = of.prescription;
    let mut found = Vec::new();
    found.extend(p.age().map(|age| format!("age {age}")));
    found.extend(p.pregnancy.map(|p| match p.days {
        0 => format!("{} weeks pregnant", p.weeks),
        days => format!("{} weeks and {days} days pregnant", p.weeks),
    }));
    found.extend(p.pressure.map(|p| format!("blood pressure {}/{}", p.systolic, p.diastolic)));
    found.extend(p.usual_pain.as_ref().map(|pain| match (pain.low, pain.high) {
        (low, high) if low == high => format!("usual pain {low} of 10"),
        (low, high) => format!("usual pain {low} to {high} of 10"),
    }));
    found.into_iter().map(|words| format!("Read from what was typed: {words}")).collect()
}

/// What was raised, the gravest first. Advice, which may be ignored, is counted.
fn notices(of: &Of<'_>, typed: &Typed<'_>) -> Vec<String> {
    let all = || of.told.iter().chain(&of.programme.notices).filter(|n| n.kind() != DECIDED);
    let mut lines = Vec::new();
    for (severity, word) in [
        (Severity::Contraindication, "Contraindication"),
        (Severity::Error, "Not understood"),
        (Severity::Precaution, "Precaution"),
    ] {
        for notice in all().filter(|n| n.severity() == severity) {
            // A remark is no part of the words, so it is never quoted.
            lines.push(format!("{word} ({}): {}", notice.kind(), notice.sentence()));
            let at = typed.words(notice.place.line);
            if !at.is_empty() {
                lines.push(format!("{DEEPER}At: {at}"));
            }
        }
    }
    let advice = all().filter(|n| n.severity() == Severity::Advice).count();
    if 0 < advice {
        lines.push(format!("Advice, not listed here: {advice}"));
    }
    lines
}
