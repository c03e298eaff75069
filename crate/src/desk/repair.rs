//! A repair of a week that is short of minutes, written into the text.

use super::place;
use crate::prescription::{self, Prescription};
use crate::programme::Programme;
use crate::text::Place;
use crate::week::shortage::Change;
use crate::week::{Laid, Write};

/// The text with this repair made. None where the text has no place for it.
pub fn written(text: &str, programme: &Programme, laid: &Laid, change: &Change) -> Option<String> {
    write(text, programme, laid.written(change))
}

/// The text with these things written into it. None where it has no place for one.
pub fn write(text: &str, programme: &Programme, writes: Vec<Write>) -> Option<String> {
    let (prescription, _) = prescription::read(text);
    let mut edits: Vec<(usize, usize, String)> = Vec::new();
    for write in writes {
        edits.push(match write {
            Write::Line(line) => {
                let at = after_times(text, &prescription);
                (at, at, format!("{line}\n"))
            }
            Write::Often { exercise, dose } => {
                let line = programme.exercises.get(exercise)?.line;
                let typed = prescription.exercises.iter().find(|e| e.line == line)?;
                oftener(text, typed, &dose)?
            }
        });
    }
    // From the back, so that places stay true; what goes to one place keeps its order.
    crate::sorting::sort_by_key(&mut edits, |(from, _, _)| *from);
    let mut repaired = text.to_string();
    for (from, to, with) in edits.into_iter().rev() {
        let with = if repaired.get(..from)?.ends_with('\n') || from == 0 || from < to || !with.ends_with('\n')
        {
            with
        } else {
            format!("\n{with}")
        };
        repaired.replace_range(from..to, &with);
    }
    (repaired != text).then_some(repaired)
}

/// The byte at which another `time:` line belongs: below the last one, else above the first section or exercise.
fn after_times(text: &str, prescription: &Prescription) -> usize {
    let start = |number: usize| place::line(text, number).map_or(text.len(), |(start, _)| start);
    // Of two lines on one part of the day the later stands: below appointments too.
    let times = prescription.times.iter().map(|time| time.place.line);
    let fixed = prescription.fixed.iter().map(|fixed| fixed.place.line);
    if let Some(last) = times.chain(fixed).max() {
        return start(last + 1);
    }
    let sections = prescription.sections.iter().map(|section| section.said.place.line);
    let exercises = prescription.exercises.iter().map(|exercise| exercise.line);
    sections.chain(exercises).min().map_or(text.len(), start)
}

/// The dose of an exercise's line with another frequency.
fn oftener(text: &str, typed: &prescription::Exercise, often: &str) -> Option<(usize, usize, String)> {
    let (from, to) = place::bytes(text, typed.dose_place)?;
    let said = text.get(from..to)?;
    let here = Place { line: 1, start: 0, end: said.len() };
    let (mut dose, _) = crate::dose::read(said, here);
    dose.often = crate::dose::read(often, Place { end: often.len(), ..here }).0.often;
    if said.trim().is_empty() {
        let (_, end) = place::bytes(text, typed.place)?;
        return Some((end, end, format!(": {dose}")));
    }
    // The blanks round it stay as typed.
    let (lead, tail) = (said.len() - said.trim_start().len(), said.len() - said.trim_end().len());
    Some((from + lead, to - tail, dose.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::measure::Date;
    use crate::programme::settled::Cache;
    use crate::programme::{Ask, assemble};
    use crate::week::model::Limit;

    fn laid(text: &str) -> (Programme, Laid) {
        let (prescription, _) = prescription::read(text);
        let ask = Ask::today(Date::new(2026, 11, 25));
        let programme = assemble::at(&prescription, Catalog::embedded(), &ask, &mut Cache::default());
        let laid = crate::week::lay(&programme, Limit::USUAL).expect("a small problem");
        (programme, laid)
    }

    /// Every repair that is offered, once written, leaves the week without a shortage of minutes.
    #[test]
    fn a_repair_that_is_taken_repairs() {
        let heads = [
            "time: Mon-Fri morning 6 min\n",
            "time: Mon-Sun morning 7 min, evening 3 min\n",
            "time: daily 5 min",
        ];
        let bodies = [
            "\nbridge: 3 x 10, hold 3 s, 3/week\nheel slide, left: 2 x 10, hold 5 s, 2/day\nsit to stand: 3 x 8, 3/week\n",
            "\n## Stretch\n- calf stretch, both: 3 x 30 s daily\n  cue: Keep your heel down.\nbridge 3x10 daily",
        ];
        let mut tried = 0;
        for text in heads.iter().flat_map(|head| bodies.iter().map(move |body| format!("{head}{body}"))) {
            let (programme, before) = laid(&text);
            let Some(shortage) = &before.shortage else { continue };
            for repair in &shortage.repairs {
                let repaired = written(&text, &programme, &before, &repair.what);
                let repaired = repaired.unwrap_or_else(|| panic!("{text}\n{}", repair.words));
                let (_, after) = laid(&repaired);
                assert!(after.shortage.is_none(), "{repaired}\n{}\n{:?}", repair.words, after.shortage);
                tried += 1;
            }
        }
        assert!(3 < tried, "{tried}");
    }
}
