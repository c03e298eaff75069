//! Takes an exercise line, or says why it is none.

use super::MOST_EXERCISES;
use super::classify::{classify, is_again};
use super::line::is_too_long;
use super::safety::{could_matter, is_lasting};
use super::{Class, Reading};
use crate::dose::{Dose, Work};
use crate::language::token::Sort;
use crate::language::typed::{Typed, lexed};
use crate::prescription::exercise::{Parted, colon, says_dose, span_place};
use crate::prescription::keys::Value;
use crate::prescription::later::Later;
use crate::prescription::noted::MOST_REPETITIONS;
use crate::prescription::plain;
use crate::prescription::{About, Detail, Exercise, Said, say};
use crate::text::fold::folded;
use crate::text::{Line, Place, lines};

/// A longer name, in bytes, is near no other.
const LONGEST_NAME: usize = 60;

/// Whether words name a part of the body and nothing else.
pub(super) fn is_body_part(name: &Typed<'_>) -> bool {
    use crate::language::anatomy;
    let mut c = name.start();
    while !c.is_done() {
        let part = c.word(&["the", "your"]).is_some()
            || anatomy::side(&mut c).is_some()
            || anatomy::joint(&mut c).is_some()
            || anatomy::limb(&mut c).is_some();
        if !part {
            return false;
        }
    }
    !name.all.is_empty()
}

/// Whether a name begins with what a patient feels: `pain`, `soreness next day`; not `pain-free squat`.
fn is_felt(name: &Typed<'_>) -> bool {
    let mut c = name.start();
    const ADJECTIVES: &[&str] = &["mild", "slight", "some", "a little", "moderate", "muscle", "any"];
    c.one_of(ADJECTIVES);
    const FELT: [&str; 14] = [
        "pain",
        "soreness",
        "discomfort",
        "ache",
        "aches",
        "aching",
        "achiness",
        "swelling",
        "stiffness",
        "numbness",
        "tingling",
        "tightness",
        "fatigue",
        "dizziness",
    ];
    c.word(&FELT).is_some() && !c.sign('-') && c.word(&["free", "relief", "gate"]).is_none()
}

/// Whether a word names something that one does, for exercise or for relief.
fn is_moving(word: &str) -> bool {
    const DONE: [&str; 47] = [
        "arom",
        "prom",
        "aarom",
        "rom",
        "acbt",
        "daroff",
        "nordics",
        "stand",
        "stands",
        "bike",
        "class",
        "board",
        "balance",
        "glide",
        "glides",
        "massage",
        "heat",
        "ice",
        "hydro",
        "rower",
        "elliptical",
        "stepper",
        "trainer",
        "breathing",
        "breaths",
        "mobs",
        "mobilisation",
        "mobilisations",
        "mobilization",
        "mobilizations",
        "desensitisation",
        "tapping",
        "relaxation",
        "mirror",
        "traction",
        "chi",
        "nods",
        "nod",
        "pumps",
        "twists",
        "bridges",
        "hold",
        "holds",
        "steam",
        "soak",
        "bath",
        "putty",
    ];
    // What is a habit or a trouble and no exercise.
    const LIFE: [&str; 14] = [
        "smoking",
        "vaping",
        "drinking",
        "working",
        "sleeping",
        "waking",
        "driving",
        "commuting",
        "morning",
        "evening",
        "having",
        "feeling",
        "during",
        "nothing",
    ];
    !word.is_empty()
        && (crate::prescription::details::is_doing(word)
            || crate::language::restraint::is_activity(word)
            || DONE.contains(&word)
            || 5 < word.len() && word.ends_with("ing") && !LIFE.contains(&word))
}

fn at_start(content: &str) -> Place {
    Place { line: 1, start: 0, end: content.len() }
}

fn begins_with_digit(word: &str) -> bool {
    word.strip_prefix(['x', 'X', '×']).unwrap_or(word).chars().next().is_some_and(char::is_numeric)
}

/// Whether a line says that it is no exercise: `(not ex)`.
fn is_disclaimed(content: &str) -> bool {
    let words = folded(content);
    let words: Vec<&str> = words.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    words.windows(2).any(|w| matches!(w, ["not", "ex" | "exercise" | "exs"]))
}

/// Whether a name begins with what is done with the whole plan: `deload wk 4`, `start Mon`.
fn is_change(name: &Typed<'_>) -> bool {
    let mut c = name.start();
    if c.word(&["deload", "taper"]).is_some() {
        return true;
    }
    c.word(&["start", "starts", "starting", "begin"]).is_some()
        && crate::dose::find::often::weekday_set(&mut c).is_some()
        && c.is_done()
}

/// Looks at words that were kept apart from their line.
fn said_so(said: &Said, look: impl FnOnce(&Typed<'_>) -> bool) -> bool {
    lexed(&said.text, said.place, look)
}

impl Reading {
    /// Whether a name without a dose is an exercise: one that is known, or nearly.
    fn is_known(&self, name: &str) -> bool {
        // Near names are searched for what may be a name: a few words of letters.
        let plain = |c: char| c.is_alphabetic() || c == ' ' || c == '-' || c == '\'' || c == '’';
        let may_be_near = name.len() <= LONGEST_NAME && name.chars().all(plain);
        self.own_names.contains(&folded(name))
            || crate::catalog::Catalog::embedded().is_named(name)
            || may_be_near
                && !matches!(
                    crate::catalog::Catalog::embedded().find(name),
                    crate::catalog::find::Found::None
                )
    }

    /// Whether a line that could name an exercise is one: it is dosed, known, lines of it follow, or it is typed as one.
    pub(super) fn is_exercise(&self, content: &str, parted: &Parted) -> bool {
        // From when on alone is no dose: `driving from week 6`.
        let mut undated = parted.dose.clone();
        if undated.from.take().is_some() {
            undated.until = None;
        }
        // `R shoulder, frozen, 6/12`: how long alone is no dose of a part of the body.
        if self.rules.plain && parted.name.as_ref().is_some_and(|name| said_so(name, is_body_part)) {
            undated.until = None;
        }
        // `R hand: keep it raised`: what is said of a part of the body is none.
        if self.rules.plain
            && !says_dose(&undated)
            && parted.name.as_ref().is_some_and(|name| said_so(name, is_body_part))
        {
            return false;
        }
        // `pain up to 4/10 ok`, `HEP x 4/7 only`: what is felt and the programme itself are none, whatever stands beside.
        if self.rules.plain
            && parted.name.as_ref().is_some_and(|name| {
                !self.is_known(&name.text)
                    && (super::classify::is_heading(&folded(&name.text))
                        || said_so(name, is_felt)
                        || said_so(name, crate::prescription::later::is_verb))
            })
        {
            return false;
        }
        // `heel raise in shoes (not ex)` says itself what it is.
        if self.rules.plain
            && (is_disclaimed(content) || parted.name.as_ref().is_some_and(|name| said_so(name, is_change)))
        {
            return false;
        }
        // `↑`: a sign names nothing.
        if self.rules.plain
            && parted.name.as_ref().is_some_and(|name| !name.text.chars().any(char::is_alphanumeric))
        {
            return false;
        }
        // A number may be a dose that was asked about, unless it says how long something goes on.
        let does = || {
            let name = parted.name.as_ref().map(|name| folded(&name.text)).unwrap_or_default();
            name.split(' ')
                .any(|w| crate::prescription::details::is_doing(w) || matches!(w, "stand" | "stands"))
        };
        let numbered = || {
            // `held 2/2 dizziness` counts nothing.
            let stroke = |w: &str| {
                w.split_once('/').is_some_and(|(a, b)| begins_with_digit(a) && begins_with_digit(b))
            };
            content.split_whitespace().any(|w| begins_with_digit(w) && !stroke(w))
                && !self.bounds_alone(content, &undated)
                && parted.dose == undated
                && !lexed(content, at_start(content), is_lasting)
                && does()
        };
        // What stands before a colon is a name where it says what one does.
        let named = || {
            let head = colon(content).and_then(|(at, _)| content.get(..at)).map(folded);
            head.is_some_and(|head| head.split(' ').any(crate::prescription::details::is_doing))
        };
        !self.rules.plain
            || self.goes_on
            || says_dose(&undated) && self.convinces(content, parted, &undated)
            || numbered()
            || named()
            || parted.name.as_ref().is_some_and(|name| self.is_known(&name.text))
    }

    /// Whether a dose shows that what it stands beside is done. A bare number, a load or a day beside words that name nothing
    /// one does is a score, a bound or a plan: `VISA 52`, `6 kg max shopping bag`, `collar and cuff until 30 Nov`.
    fn convinces(&self, content: &str, parted: &Parted, dose: &Dose) -> bool {
        let Some(name) = parted.name.as_ref() else { return true };
        let folded_name = folded(&name.text);
        let does = || {
            let words = folded_name.split(|c: char| !c.is_alphanumeric());
            words.filter(|w| !w.is_empty()).any(|w| {
                crate::prescription::details::is_doing(w)
                    || matches!(w, "stand" | "stands")
                    || dose.loads.is_empty() && 5 < w.len() && w.ends_with("ing")
            })
        };
        // `2 sessions /day` is said of all; `sit max 30 min` bounds.
        let first = folded_name.split(' ').next().unwrap_or("");
        let lasts = matches!(
            first,
            "sit" | "sitting" | "stand" | "standing" | "drive" | "driving" | "typing" | "desk"
        );
        let most = || {
            let words = folded(content);
            words.split(' ').any(|w| matches!(w, "max" | "maximum"))
        };
        let sessions = matches!(folded_name.rsplit(' ').next(), Some("session" | "sessions"));
        // `soccer 2x/wk max` is a bound.
        let bounded = dose.work.is_empty() && dose.hold.is_none() && most() && !self.is_known(&name.text);
        if sessions || lasts && most() || bounded {
            return false;
        }
        // A complaint or a rule about it is none: `traffic light pain: green 0-3`.
        if folded_name.split(' ').any(|w| w == "pain") && !self.is_known(&name.text) && dose.work.is_empty() {
            return false;
        }
        if self.is_known(&name.text) || lexed(content, at_start(content), |t| plain::counted(&t.all, dose)) {
            return true;
        }
        if self.bounds_alone(content, dose) {
            return false;
        }
        // Hours on end are work and no exercise.
        let long = |work: &Work| matches!(work, Work::Time(span) if 7200 < span.low());
        // A diagnosis is no exercise, whatever number stands beside it.
        if !does() && !crate::language::condition::knows(&name.text).is_empty() {
            return false;
        }
        let often = dose.often.is_some() && !dose.work.iter().any(|p| long(&p.work));
        // How often alone shows nothing where the words name nothing one does: `still smoking 5/d`.
        let moves = || folded_name.split(|c: char| !c.is_alphanumeric()).any(is_moving);
        let alone =
            dose.work.is_empty() && dose.hold.is_none() && dose.tempo.is_none() && dose.ramp.is_none();
        // `shake of ours: hourly` is written as an exercise is.
        let written = colon(content).is_some() && dose.words.is_empty() && !does();
        if alone && !written && !moves() {
            return false;
        }
        let worked = |work: &Work| match work {
            Work::Bouts { .. } | Work::Intervals { .. } => true,
            // More in a bare number is a score or an angle.
            Work::Repetitions { reps, .. } => {
                dose.hold.is_some() || often || reps.is_none_or(|n| u64::from(n.high()) <= MOST_REPETITIONS)
            }
            Work::Time(span) => span.low() <= 7200,
            Work::Amount { unit, .. } => often || !matches!(unit, crate::dose::parts::Unit::Metres),
        };
        dose.work.iter().any(|p| worked(&p.work))
            || dose.hold.is_some()
            || often
            || dose.ramp.is_some()
            || dose.tempo.is_some()
            || does() && !(dose.until.is_some() && dose.loads.is_empty() && dose.moments.is_empty())
    }

    /// Whether the numbers beside a name are bounds and nothing else: `no gripping > 10 min`.
    fn bounds_alone(&self, content: &str, dose: &Dose) -> bool {
        dose.often.is_none()
            && lexed(content, at_start(content), |t| {
                (0..t.all.len()).any(|at| {
                    let mut c = t.start();
                    c.at = at;
                    // `cycle min 5 min max 15 min` is how long.
                    if !matches!(c.peek().map(|t| t.sort), Some(Sort::Sign('<' | '>' | '≤' | '≥'))) {
                        return false;
                    }
                    crate::language::comparator::comparator(&mut c).is_some() && c.whole().is_some()
                })
            })
    }

    pub(super) fn exercise(&mut self, line: &Line<'_>, mut parted: Parted, deep: bool) {
        let content = line.content();
        if parted.dose.from.is_none() && parted.dose.until.is_none() && says_dose(&parted.dose) {
            (parted.dose.from, parted.dose.until) = self.heading.clone();
        }
        self.date(&mut parted.dose);
        if self.asks && !self.goes_on {
            let next_to = self.p.exercises.last().is_some_and(|x| x.line + 1 == line.number);
            let goes_on = lexed(content, line.place(), crate::prescription::details::begins)
                || parted
                    .name
                    .as_ref()
                    .is_some_and(|name| said_so(name, crate::prescription::later::is_verb));
            if next_to && self.above.is_some() && parted.side.is_none() && goes_on {
                let said = Said { text: content.to_string(), place: line.place() };
                return self.take(line, Class::Cue(said), false);
            }
            // It would stand on the patient's sheet as something to do.
            let shown = lexed(content, line.place(), could_matter);
            self.notices.push(say::no_exercise(line.place(), shown));
            self.above = None;
            if shown {
                self.p.stated.extend(plain::told_by_clause(&Value { text: content, place: line.place() }));
            } else {
                self.unread(line, content, false, None);
            }
            // Its indent is part of what it could be.
            return self.write(line, deep, content);
        }
        if MOST_EXERCISES <= self.p.exercises.len() {
            if !self.told_many {
                self.told_many = true;
                self.notices.push(say::too_many_exercises(line.place(), MOST_EXERCISES));
            }
            self.above = None;
            let side = parted.side.map_or_else(String::new, |side| format!(", {side}"));
            let name = parted.name.as_ref().map_or(content, |name| name.text.as_str());
            self.p.beyond.exercises.push(format!("{name}{side}"));
            self.unread(line, content, false, None);
            return self.write(line, false, content);
        }
        let below = self.above.is_some();
        let tidy = parted.written();
        let mut later = core::mem::take(&mut parted.later);
        self.date_later(&mut later);
        let plain = |text: &str| {
            let again = lines(text);
            again.len() == 1 && again.first().is_some_and(|l| l.content() == text) && !is_too_long(text)
        };
        let means_it = |text: &str| {
            let again = || classify(text, at_start(text), false, below, self.rules, &self.own_names);
            let one_thing = || lines(text).first().is_none_or(|line| self.sentences(line, false).is_none());
            plain(text)
                && one_thing()
                && matches!(again(), Class::Exercise(p) if p.means(&parted) && self.is_exercise(text, &p))
        };
        // What changes it later stands on lines of its own.
        let below_it: Vec<String> = later.iter().map(Later::written).collect();
        let each_is = || {
            later.iter().zip(&below_it).all(|(later, text)| {
                let again = classify(text, at_start(text), true, true, self.rules, &self.own_names);
                plain(text) && is_again(&again, later)
            })
        };
        let parts_alike = later.is_empty() || each_is() && means_it(&tidy);
        if parts_alike && (tidy == content && !deep || means_it(&tidy)) {
            let lines: Vec<String> =
                core::iter::once(tidy).chain(below_it.iter().map(|l| format!("  {l}"))).collect();
            self.write(line, false, &lines.join("\n"));
        } else {
            // Where only its indent makes it an exercise, the indent stays.
            let indent = deep && !means_it(content);
            self.write(line, indent, content);
        }
        self.notices.extend(parted.notices);
        let Some(name) = parted.name else { return };
        let mut beside = parted.details;
        // `then calf raise`: after what, and when, isn't said.
        if self.rules.plain && folded(&name.text).starts_with("then ") {
            let place = Place { end: name.place.start + 4, ..name.place };
            let doubt = crate::dose::say::Doubt::Next;
            self.notices.push(crate::dose::say::notice(doubt, name.text.get(..4).unwrap_or(""), place));
        }
        // `bridging DL wk 4`: when it begins, within its name.
        if self.rules.plain {
            let weeks = lexed(&name.text, name.place, |typed| {
                let at = typed.all.windows(2).position(|t| {
                    matches!(t[0].sort, Sort::Word("wk" | "week" | "wks" | "weeks"))
                        && matches!(t[1].sort, Sort::Number(_))
                })?;
                let (from, to) = (typed.all.get(at)?.start, typed.all.get(at + 1)?.end);
                let place =
                    Place { start: name.place.start + from, end: name.place.start + to, ..name.place };
                Some((place, typed.text.get(from..to)?.to_string()))
            });
            if let Some((place, text)) = weeks {
                let doubt = crate::dose::say::Doubt::Unread { text: text.clone() };
                self.notices.push(crate::dose::say::notice(doubt, &text, place));
            }
        }
        match parted.affected {
            Some(said) if parted.side.is_none() => {
                self.affected.push((self.p.exercises.len(), self.p.lines.len().saturating_sub(1), said));
            }
            Some(said) => beside.insert(0, said),
            None => {}
        }
        self.above = Some((self.p.exercises.len(), line.indent));
        if let Some(place) = lexed(content, line.place(), span_place) {
            self.spans.push((self.p.exercises.len(), place));
        }
        self.p.exercises.push(Exercise {
            line: line.number,
            place: line.place(),
            section: self.p.sections.len().checked_sub(1),
            name,
            side: parted.side,
            region: parted.region,
            dose: parted.dose,
            dose_place: parted.dose_place,
            details: beside.into_iter().map(|said| Detail { about: About::Cue, said }).collect(),
            steps: Vec::new(),
            anyway: None,
        });
        for (later, text) in later.into_iter().zip(&below_it) {
            self.take_later(later, text);
        }
    }
}
