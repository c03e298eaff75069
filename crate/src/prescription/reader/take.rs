//! Takes a line for what it is: where it is kept, how it is written, and what is told of it.

use super::classify::is_again;
use super::{Class, OwnBlock, Reading};
use crate::dose::parts::Ending;
use crate::dose::{Dose, Portion, Work};
use crate::language::typed::lexed;
use crate::notice::kinds::dose::{Doubt, Once};
use crate::prescription::exercise::span_place;
use crate::prescription::keys::{self, Value};
use crate::prescription::later::Later;
use crate::prescription::noted::Noted;
use crate::prescription::plain;
use crate::prescription::words::{Below, Key};
use crate::prescription::{About, Detail, Own, Said, Step, When, say};
use crate::text::Line;

impl Reading {
    pub(super) fn take(&mut self, line: &Line<'_>, class: Class, deep: bool) {
        let content = line.content();
        match class {
            Class::Title(said) => {
                if self.p.title.is_none() {
                    self.write(line, false, &format!("# {}", said.text));
                    self.p.title = Some(said);
                } else {
                    self.section(line, said);
                }
            }
            Class::Section(said) => self.section(line, said),
            Class::Remark(said) => {
                self.write(line, deep, content);
                self.p.remarks.push(said);
            }
            Class::Key(Key::Exercise, said) if !said.text.is_empty() => {
                self.write(line, false, &format!("{}: {}", Key::Exercise.word(), said.text));
                self.p.own.push(Own { name: said, lines: Vec::new() });
                self.own = Some(OwnBlock { indent: line.indent, base: None, flat: false, goes_on: 0 });
                self.above = None;
            }
            Class::Key(key, said) => self.key(line, key, said),
            Class::Detail(about, said) => {
                self.write(line, true, &format!("{}: {}", about.word(), said.text));
                if let Some(exercise) = self.above_mut() {
                    exercise.details.push(Detail { about, said });
                }
            }
            Class::PlainDetail(about, said, notice) => {
                self.notices.push(notice);
                self.take(line, Class::Detail(about, said), deep);
            }
            Class::Anyway(said) => {
                self.write(line, true, &format!("{}: {}", Below::Anyway.row().word, said.text));
                if let Some(exercise) = self.above_mut() {
                    // Two reasons are both kept.
                    exercise.anyway = Some(match exercise.anyway.take() {
                        Some(first) => {
                            Said { text: format!("{}; {}", first.text, said.text), place: first.place }
                        }
                        None => said,
                    });
                }
            }
            Class::DoseLine(mut dose, notices) => {
                self.date(&mut dose);
                if let (Some((at, _)), Some(place)) = (self.above, lexed(content, line.place(), span_place)) {
                    self.spans.push((at, place));
                }
                let tidy = dose.to_string();
                // A plus at the start of a line may be a bullet.
                let tidy = tidy.strip_prefix("+ ").map_or(tidy.clone(), |rest| format!("add {rest}"));
                let tidy = self.same(&tidy, content, true, |again| match again {
                    Class::DoseLine(d, _) => *d == dose,
                    _ => false,
                });
                self.write(line, true, &tidy);
                self.notices.extend(notices);
                if let Some(exercise) = self.above_mut() {
                    let told: Vec<_> = said_twice(&exercise.dose, &dose)
                        .into_iter()
                        .map(|(what, first)| {
                            crate::dose::say::notice(Doubt::Twice { what, first }, content, line.place())
                        })
                        .collect();
                    self.notices.extend(told);
                }
                let mut twice = None;
                // `sets: 4` below `3 x 10` says nothing of the repetitions.
                if let Some(exercise) = self.above_mut()
                    && let Some(whole) = completed(&exercise.dose.work, &dose.work)
                {
                    dose.work = vec![whole];
                }
                if let Some(exercise) = self.above_mut() {
                    if let Some(side) = dose.sides.take() {
                        let tally = &mut exercise.dose.tally;
                        if let Err(first) = crate::dose::reader::add_side(&mut exercise.side, tally, side) {
                            dose.words.push(side.to_string());
                            twice = Some((first, side));
                        }
                    }
                    let words = core::mem::take(&mut exercise.dose.words);
                    let mut both = dose.over(&exercise.dose);
                    both.words.splice(0..0, words);
                    exercise.dose = both;
                }
                if let Some((first, said)) = twice {
                    self.notices.push(say::side_against(line.place(), first, said));
                }
            }
            Class::Step(mut when, mut parted) => {
                if let When::From(start) = &mut when {
                    self.date_start(start);
                }
                self.date(&mut parted.dose);
                let tidy = format!("{when}: {}", parted.written());
                let tidy = self.same(&tidy, content, true, |again| match again {
                    Class::Step(w, p) => *w == when && p.means(&parted),
                    _ => false,
                });
                self.write(line, true, &tidy);
                self.notices.extend(parted.notices.iter().cloned());
                if parted.name.is_none() && parted.dose == Dose::default() && parted.side.is_none() {
                    self.notices.push(say::step_unread(line.place()));
                }
                let step = Step {
                    when,
                    name: parted.name,
                    side: parted.side,
                    dose: parted.dose,
                    place: line.place(),
                };
                if let Some(exercise) = self.above_mut() {
                    exercise.steps.push(step);
                }
            }
            Class::Later(mut later) => {
                self.date_later(core::slice::from_mut(&mut later));
                let text = later.written();
                let tidy = self.same(&text, content, true, |again| is_again(again, &later));
                self.write(line, true, &tidy);
                self.take_later(*later, &text);
            }
            Class::Cue(said) => {
                self.notices.push(say::read_as_cue(line.place()));
                self.write(line, true, &format!("{}: {}", About::Cue.word(), said.text));
                if let Some(exercise) = self.above_mut() {
                    exercise.details.push(Detail { about: About::Cue, said });
                }
            }
            Class::Private(said) => {
                self.write(line, false, content);
                self.notices.push(say::kept_private(line.place()));
                self.p.findings.push(said);
            }
            Class::Exercise(parted) => self.exercise(line, *parted, deep),
            Class::Plain(read, said) => self.plain(line, read, said),
            Class::Guard(said) => {
                self.notices.push(say::read_as_guard(line.place()));
                self.write(line, true, &format!("{}: {}", About::Cue.word(), said.text));
                if let Some(exercise) = self.above_mut() {
                    exercise.details.push(Detail { about: About::Cue, said });
                }
            }
            Class::Noted(Noted::Age(age), said) => {
                self.p.age.get_or_insert(age);
                self.take(line, Class::Private(said), deep);
            }
            Class::Noted(Noted::Finding, said) => self.take(line, Class::Private(said), deep),
            // One operation and one injury have a date that limits count from: of others it is only known.
            Class::Noted(Noted::Key(key @ (Key::Surgery | Key::Injury)), said)
                if self.seen.contains(&key) =>
            {
                self.complete(key, &said);
                self.take(line, Class::Private(said), deep);
            }
            Class::Noted(Noted::Key(key), said) => {
                self.notices.push(say::noted(line.place(), key.word()));
                self.key(line, key, said);
            }
            Class::Unread { notice, safety, key } => {
                self.write(line, deep, content);
                if notice.is_some() {
                    self.unread(line, content, safety, key);
                }
                self.notices.extend(notice);
            }
        }
    }

    /// The day of an operation or an injury that was noted above without one.
    fn complete(&mut self, key: Key, said: &Said) {
        let pending = self.happened.iter().any(|(of, ..)| *of == key);
        let slot = if key == Key::Surgery { &mut self.p.surgery } else { &mut self.p.injury };
        let value = Value { text: &said.text, place: said.place };
        let Some(known) = slot.as_mut().filter(|known| known.date.is_none() && !pending) else { return };
        if let Ok(found) = keys::happening(&value) {
            known.date = found.date;
        }
    }

    /// What changes the exercise above or stops it, told as its line below would be.
    pub(super) fn take_later(&mut self, later: Later, text: &str) {
        let place = match &later {
            Later::Step(step, _) => step.place,
            Later::Stop(said) => said.place,
        };
        self.notices.push(say::read_as_later(place, text));
        let Some(exercise) = self.above.and_then(|(i, _)| self.p.exercises.get_mut(i)) else { return };
        match later {
            Later::Step(step, told) => {
                self.notices.extend(told);
                exercise.steps.push(*step);
            }
            Later::Stop(said) => exercise.details.push(Detail { about: About::StopIf, said }),
        }
    }

    fn plain(&mut self, line: &Line<'_>, read: plain::Read, said: Said) {
        let content = line.content();
        // `then FWB` behind nothing that ends.
        if let plain::Read::Weights(found) = &read
            && self.going_on(found.clone()).is_none()
        {
            self.notices.push(say::weight_without_key(said.place));
            self.unread(line, content, true, None);
            return self.write(line, false, content);
        }
        self.notices.extend(read.notices(said.place));
        let tidy = read.tidy();
        self.take_plain(line, read, said);
        self.write(line, false, tidy.as_deref().unwrap_or(content));
    }

    fn take_plain(&mut self, line: &Line<'_>, read: plain::Read, said: Said) {
        let content = line.content();
        match read {
            plain::Read::Limits { limits, .. } => self.p.limits.extend(limits),
            plain::Read::Weights(found) => match self.going_on(found) {
                Some(found) => self.p.bearing.extend(found),
                None => self.unread(line, content, true, None),
            },
            plain::Read::Braced { limits, stated, .. } => {
                self.p.limits.extend(limits);
                self.p.stated.extend(stated);
            }
            plain::Read::Stated(stated) => self.p.stated.extend(stated),
            plain::Read::Finding => self.p.findings.push(said),
            plain::Read::Asked(_) => self.unread(line, content, true, None),
            // Under “Do not” it would forbid what was measured.
            plain::Read::Measured(_) => self.unread(line, content, false, None),
            plain::Read::Now { now, .. } => self.take_plain(line, *now, said),
        }
    }
}

/// What a dose line says otherwise than the lines above it. What stands lower holds, and it is told.
fn said_twice(above: &Dose, below: &Dose) -> Vec<(Once, String)> {
    fn other<T: PartialEq>(
        what: Once,
        a: Option<&T>,
        b: Option<&T>,
        shown: impl Fn(&T) -> String,
    ) -> Option<(Once, String)> {
        a.zip(b).filter(|(a, b)| a != b).map(|(a, _)| (what, shown(a)))
    }
    // A part of the work is another only where that part was said.
    let whole = completed(&above.work, &below.work).map(|whole| vec![whole]);
    let partly = whole.as_ref() == Some(&above.work)
        || whole.is_some() && matches!(above.work.first().map(|p| &p.work), Some(w) if lacks(w, below));
    let worked = |dose: &Dose| (!partly && !dose.work.is_empty()).then(|| dose.work.clone());
    let work = |work: &Vec<crate::dose::Portion>| Dose { work: work.clone(), ..Dose::default() }.to_string();
    let all = [
        other(Once::Hold, above.hold.as_ref(), below.hold.as_ref(), |span| format!("hold {span}")),
        other(Once::Rest, above.rest.as_ref(), below.rest.as_ref(), |span| format!("rest {span}")),
        other(Once::Tempo, above.tempo.as_ref(), below.tempo.as_ref(), |tempo| tempo.to_string()),
        other(Once::Effort, above.effort.as_ref(), below.effort.as_ref(), |effort| effort.to_string()),
        other(Once::Often, above.often.as_ref(), below.often.as_ref(), |often| often.to_string()),
        other(Once::Work, worked(above).as_ref(), worked(below).as_ref(), work),
    ];
    all.into_iter().flatten().collect()
}

/// Whether work lacks what a dose line below it says: its sets, or its repetitions.
fn lacks(work: &Work, below: &Dose) -> bool {
    let sets = matches!(below.work.first().map(|p| &p.work), Some(Work::Repetitions { reps: None, .. }));
    match work {
        Work::Repetitions { sets: said, reps, .. } => {
            if sets {
                said.is_none()
            } else {
                reps.is_none()
            }
        }
        Work::Bouts { sets: said, .. } | Work::Amount { sets: said, .. } => sets && said.is_none(),
        Work::Time(_) => sets,
        Work::Intervals { .. } => false,
    }
}

/// The work above with the sets or the repetitions that a line below says alone. None where that line says more.
fn completed(above: &[Portion], below: &[Portion]) -> Option<Portion> {
    let ([above], [below]) = (above, below) else { return None };
    let Work::Repetitions { sets: sets_below, reps: reps_below, ending: Ending::Number } = &below.work else {
        return None;
    };
    let work = match (&above.work, sets_below, reps_below) {
        (Work::Repetitions { reps, ending, .. }, Some(n), None) => {
            Work::Repetitions { sets: Some(*n), reps: *reps, ending: *ending }
        }
        (Work::Bouts { bouts, span, .. }, Some(n), None) => {
            Work::Bouts { sets: Some(*n), bouts: *bouts, span: *span }
        }
        (Work::Amount { amount, unit, .. }, Some(n), None) => {
            Work::Amount { sets: Some(*n), amount: *amount, unit: *unit }
        }
        (Work::Time(span), Some(n), None) => Work::Bouts { sets: None, bouts: *n, span: *span },
        (Work::Repetitions { sets: Some(sets), .. }, None, Some(n)) => {
            Work::Repetitions { sets: Some(*sets), reps: Some(*n), ending: Ending::Number }
        }
        _ => return None,
    };
    Some(Portion { manner: below.manner.or(above.manner), work })
}
