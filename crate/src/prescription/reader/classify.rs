//! What a line is, by itself and by whether it stands below an exercise.

use super::Rules;
use super::bare::without_colon;
use super::detail::{detail, mistyped, plain_detail, when};
use super::safety::{has_restricting_clause, says_stop, says_systemic_stop, tells_finding, tells_patient};
use crate::dose::{Dose, End, Start};
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, Sort, tokens};
use crate::language::typed::{Typed, lexed};
use crate::measure::Counts;
use crate::notice::Notice;
use crate::notice::kinds::dose::Doubt;
use crate::prescription::about;
use crate::prescription::condition::{self, AboutPatient};
use crate::prescription::details::is_state;
use crate::prescription::exercise::{
    Parted, TypedLine, colon, has_work, is_dose, part_detailed, part_step, says_dose,
};
use crate::prescription::kept;
use crate::prescription::keys::Value;
use crate::prescription::later::{Later, is_instruction};
use crate::prescription::noted::{self, Noted};
use crate::prescription::plain;
use crate::prescription::problem;
use crate::prescription::tolerated;
use crate::prescription::words::{Below, Elsewhere, Key, Takes, elsewhere};
use crate::prescription::{About, Said, When, say};
use crate::text::fold::{fold, folded};
use crate::text::{Place, trim};

/// A line without a colon and longer than this, in bytes, is prose.
pub(super) const LONGEST_BARE: usize = 300;
/// A longer limit, in bytes, is not read as angles.
pub(super) const LONGEST_LIMIT: usize = 600;
/// A line without dose and with more words than this is prose, not an exercise.
const PROSE: usize = 8;

/// What a line is, by itself and by whether it stands below an exercise.
#[derive(Clone, Debug)]
pub(super) enum Class {
    Title(Said),
    Section(Said),
    Remark(Said),
    Key(Key, Said),
    Detail(About, Said),
    /// A detail without its colon.
    PlainDetail(About, Said, Notice),
    Anyway(Said),
    /// `at: morning`, `hold: 5 s`, or a dose with nothing else: belongs to the exercise above.
    DoseLine(Dose, Vec<Notice>),
    Step(When, Box<Parted>),
    /// The same in plain words, or a reason to stop.
    Later(Box<Later>),
    /// A plain line deeper than the exercise above.
    Cue(Said),
    /// What was found, without its key: kept for the clinician.
    Private(Said),
    Exercise(Box<Parted>),
    /// A plain line that restricts, permits, orders or tells a finding.
    Plain(plain::Read, Said),
    /// A plain line that tells of the patient.
    Noted(Noted, Said),
    /// A plain line below an exercise that forbids something.
    Guard(Said),
    Unread {
        notice: Option<Notice>,
        safety: bool,
        key: Option<&'static str>,
    },
}

/// `3 rounds of`, in a heading.
pub(super) fn rounds(title: &str) -> Option<Counts> {
    let folded = fold(title);
    let all = tokens(&folded);
    (0..all.len()).find_map(|at| {
        let mut c = Cursor { all: &all, at };
        let n = c.counts()?;
        c.word(&["rounds", "round"])?;
        Some(n)
    })
}

/// Words before a colon with nothing behind it that head a part of the sheet in other records.
pub(super) fn is_heading(key: &str) -> bool {
    const HEADINGS: [&str; 20] = [
        "exercises",
        "home exercises",
        "home exercise program",
        "home exercise programme",
        "hep",
        "program",
        "programme",
        "plan",
        "treatment",
        "strength",
        "strengthening",
        "strengthen",
        "stretches",
        "stretching",
        "mobility",
        "loosen",
        "support",
        "warm up",
        "warm-up",
        "cool down",
    ];
    HEADINGS.contains(&key)
}

pub(super) fn classify(
    content: &str,
    place: Place,
    deep: bool,
    below: bool,
    rules: Rules,
    own: &[String],
) -> Class {
    lexed(content, place, |typed| lexed_line(typed, deep, below, rules, own))
}

/// The line word before a line's colon.
fn colon_key(content: &str) -> Option<Key> {
    let (at, _) = colon(content)?;
    Key::of(&folded(content.get(..at)?))
}

fn lexed_line(line: &Typed<'_>, deep: bool, below: bool, rules: Rules, own: &[String]) -> Class {
    let Typed { text: content, place, .. } = *line;
    let typed = TypedLine::new(line);
    let said = |from: usize, to: usize| Said::of(&line.trimmed(from, to));
    let unread = |notice: Option<Notice>, safety: bool, key: Option<&'static str>| Class::Unread {
        notice,
        safety,
        key,
    };
    let plain_line = || {
        if !rules.plain {
            return None;
        }
        if deep {
            let guard = below && plain::is_guard(&typed) && !tells_finding(&typed, &Dose::default());
            return guard.then(|| Class::Guard(said(0, content.len())));
        }
        let whole = said(0, content.len());
        let dose = &typed.parted().dose;
        let counted = plain::counted(typed.all, dose);
        let short = content.len() <= LONGEST_LIMIT;
        if short && !rules.forbids && condition::bounds_effort(&typed) {
            let stated = plain::keyed(Plain::Advice, &Value { text: &whole.text, place: whole.place });
            return Some(Class::Plain(plain::Read::Stated(vec![stated]), whole));
        }
        let found = (short && !rules.forbids).then(|| noted::read(&typed, counted)).flatten();
        if found == Some(Noted::Key(Key::Measure)) && !typed.is_red_flag() {
            return Some(Class::Noted(Noted::Key(Key::Measure), whole));
        }
        if tells_finding(&typed, dose) {
            return Some(Class::Private(whole));
        }
        if let Some(found) = found {
            return Some(Class::Noted(found, whole));
        }
        let condition = (short && !rules.forbids).then(|| condition::read(&typed)).flatten();
        match condition {
            Some(AboutPatient::Key(key)) => return Some(Class::Noted(Noted::Key(key), whole)),
            Some(AboutPatient::Finding) => return Some(Class::Private(whole)),
            Some(AboutPatient::Order) => {
                let stated = plain::keyed(Plain::Order, &Value { text: &whole.text, place: whole.place });
                return Some(Class::Plain(plain::Read::Stated(vec![stated]), whole));
            }
            None => {}
        }
        let read = plain::read(&typed, rules.forbids, counted)?;
        Some(Class::Plain(read, said(0, content.len())))
    };
    if content.starts_with("//") {
        return Class::Remark(said(2, content.len()));
    }
    if content.starts_with('#') {
        let hashes = content.bytes().take_while(|b| *b == b'#').count();
        let text = said(hashes, content.len());
        if text.text.is_empty() || text.text.starts_with('#') {
            return unread(None, false, None);
        }
        return if hashes == 1 { Class::Title(text) } else { Class::Section(text) };
    }
    if rules.plain
        && !deep
        && !rules.forbids
        && colon_key(content).is_none()
        && tolerated::line(content).is_some()
    {
        return Class::Key(Key::OkayPain, said(0, content.len()));
    }
    if rules.plain && kept::is_kept(&typed, deep) {
        return Class::Private(said(0, content.len()));
    }
    if rules.plain && !deep && crate::prescription::time::rests(&line.all) {
        return Class::Key(Key::Time, said(0, content.len()));
    }
    if let Some((at, after)) = colon(content) {
        let (head, value) = (line.trimmed(0, at), line.trimmed(after, content.len()));
        let key = folded(head.text);
        if let Some(line_word) = Key::of(&key) {
            // A word that is a detail as well is the exercise's where it stands deeper.
            let about = Below::of(&key).map(|below| below.row().takes);
            return match about.filter(|_| deep && below) {
                Some(Takes::About(about)) => Class::Detail(about, Said::of(&value)),
                _ => Class::Key(line_word, Said::of(&value)),
            };
        }
        let spanned = crate::prescription::exercise::span_alone(&head);
        if let Some((from, until)) = &spanned
            && rules.plain
        {
            // `Weeks 1-2:` above what is done in them.
            if value.text.is_empty() && !deep {
                return Class::Section(Said::of(&head));
            }
            let again = |i: usize| {
                let behind = value
                    .text
                    .get(i + 1..)
                    .map_or(0, |t| i + 1 + (t.len() - crate::text::trim_start(t).len()));
                let label = colon(value.text.get(behind..).unwrap_or("")).map(|(at, _)| behind + at);
                label.is_some_and(|to| {
                    crate::prescription::exercise::span_alone(&value.trimmed(i + 1, to)).is_some()
                })
            };
            let several = value.text.match_indices([';', ',']).any(|(i, _)| again(i));
            if several {
                return unread(Some(say::step_with_end(place)), false, None);
            }
            let other = part_step(&value);
            let later = below && from.is_some() && until.is_none() && !is_commence(&key);
            let starts = from.filter(|_| later && !deep);
            if let Some(parted) = starts.and_then(|start| another(&value, start, own)) {
                return Class::Exercise(Box::new(parted));
            }
            if !deep && !later && other.name.is_some() {
                return Class::Exercise(Box::new(typed.parted().clone()));
            }
            if below && from.is_some() && until.is_some() {
                return unread(Some(say::step_with_end(place)), false, None);
            }
        }
        if let Some(When::From(start)) = when(&head).filter(|_| rules.plain && !deep)
            && let Some(parted) = another(&value, start, own)
        {
            return Class::Exercise(Box::new(parted));
        }
        // `after 3/7 if no leg pain: knees to chest x6`: another exercise, later, of which no day is known.
        let later = head.start().peek_word() == Some("after");
        if rules.plain && !deep && later {
            let other = part_detailed(&value, own);
            let named = other.name.as_ref().is_some_and(|name| {
                own.contains(&folded(&name.text))
                    || crate::catalog::Catalog::embedded().is_named(&name.text)
                    || folded(&name.text).split(' ').any(crate::prescription::details::is_doing)
            });
            if named && has_work(&other.dose) && head.text.contains(' ') {
                let told = plain::keyed(Plain::Advice, &Value { text: content, place });
                return Class::Plain(plain::Read::Stated(vec![told]), said(0, content.len()));
            }
        }
        if let Some(class) = detail(&key, &head, &value, below, place) {
            return class;
        }
        if rules.plain
            && !own.contains(&key)
            && let Some(label) = about::label(&head)
            && !value.text.is_empty()
        {
            if label == about::Label::Stage {
                let told = plain::keyed(Plain::Advice, &Value { text: content, place });
                return Class::Plain(plain::Read::Stated(vec![told]), said(0, content.len()));
            }
            return if below {
                Class::Cue(said(0, content.len()))
            } else {
                unread(Some(say::detail_alone(place, head.text)), false, None)
            };
        }
        if value.text.is_empty() && is_heading(&key) {
            return Class::Section(Said::of(&head));
        }
        if rounds(&key).is_some() && key.split(' ').count() <= 3 {
            if value.text.is_empty() {
                return Class::Section(Said::of(&head));
            }
            return unread(Some(say::rounds_on_one_line(place)), false, None);
        }
        if let Some(class) = mistyped(&key, &head, &value, below) {
            return class;
        }
        // What to look out for and where to go then is the patient's.
        if rules.plain && !deep && key.contains("flag") && kept::tells_where_to_go(&value.all) {
            let whole = said(0, content.len());
            let stated = plain::keyed(Plain::Order, &Value { text: &whole.text, place: whole.place });
            return Class::Plain(plain::Read::Stated(vec![stated]), whole);
        }
        let finding = |other| match other {
            Elsewhere::Private => true,
            // Nothing of it is a movement that one could leave out.
            Elsewhere::Danger => problem::without_red_flags(value.text).is_none(),
            _ => false,
        };
        if elsewhere(&key).is_some_and(finding) {
            return Class::Private(said(0, content.len()));
        }
        // `at home: bridge 3 x 10` names no things.
        let things = |same| same != Key::Kit || !value.text.is_empty() && !has_work(&part_step(&value).dose);
        if let Some(Elsewhere::Key(same)) =
            elsewhere(&key).filter(|e| !matches!(e, Elsewhere::Key(k) if !things(*k)))
        {
            // `PMH:` says of what is behind it that it lies back.
            let history = same == Key::Finding && kept::heads_history(&key) && !value.text.is_empty();
            return Class::Key(same, if history { said(0, content.len()) } else { Said::of(&value) });
        }
        if let Some(other) = elsewhere(&key).filter(|e| !matches!(e, Elsewhere::Key(Key::Kit))) {
            let notice = say::other_key(head.place, head.text, other, place);
            return unread(Some(notice), other.is_safety(), None);
        }
        if let Some(class) = plain_line() {
            return class;
        }
        // `driving: not until review`: what is denied of something that is no exercise.
        let denied = restraint::denial(&mut value.start());
        let parted = typed.parted();
        if rules.plain
            && !deep
            && denied
            && !plain::counted(typed.all, &parted.dose)
            && parted.dose.often.is_none()
            && !own.contains(&key)
            && !parted
                .name
                .as_ref()
                .is_some_and(|name| crate::catalog::Catalog::embedded().is_named(&name.text))
        {
            let whole = said(0, content.len());
            let stated = plain::keyed(Plain::Restriction, &Value { text: &whole.text, place: whole.place });
            return Class::Plain(plain::Read::Stated(vec![stated]), whole);
        }
    } else if rules.plain
        && below
        && !deep
        && crate::prescription::details::keeps(&line.all)
        && !restraint::worn(&line.all)
    {
        return Class::Cue(said(0, content.len()));
    } else if let Some(class) = span_line(&typed, deep, below, rules) {
        return class;
    } else if rules.plain
        && !deep
        && crate::prescription::wean::is_rule(&line.all)
        && condition::read(&typed).is_none()
        && !has_work(&typed.parted().dose)
    {
        let stated = plain::keyed(Plain::Order, &Value { text: content, place });
        return Class::Plain(plain::Read::Stated(vec![stated]), said(0, content.len()));
    } else if let Some(parted) = (rules.plain && !deep && below).then(|| starts_another(line, own)).flatten()
    {
        return Class::Exercise(Box::new(parted));
    } else if let Some(class) =
        (rules.plain && !deep && (about::changes(line) || about::leaves_off(line))).then(plain_line).flatten()
    {
        return class;
    } else if let Some(class) = (rules.plain && !deep && below && typed.calls()).then(plain_line).flatten() {
        // Whom to call is said of all, unless it stands deeper.
        return class;
    } else if rules.plain && !deep && says_systemic_stop(&line.all) && !typed.may_be_dose() {
        // So is when to stop for what is felt in no limb: `stop if dizzy or chest pain`.
        let stated = plain::keyed(Plain::Order, &Value { text: content, place });
        return Class::Plain(plain::Read::Stated(vec![stated]), said(0, content.len()));
    } else if let Some(later) = (rules.plain && below).then(|| later_line(&typed)).flatten() {
        return Class::Later(Box::new(later));
    } else if let Some(class) = plain_line() {
        return class;
    } else if let Some(class) = plain_detail(&typed, below) {
        return class;
    } else if rules.plain && !deep && about::begins_once(&typed) {
        let stated = plain::keyed(Plain::Advice, &Value { text: content, place });
        return Class::Plain(plain::Read::Stated(vec![stated]), said(0, content.len()));
    } else if rules.plain
        && below
        && content.len() <= LONGEST_BARE
        && crate::prescription::later::is_cue(line)
    {
        return Class::Cue(said(0, content.len()));
    } else if let Some(class) = without_colon(&typed) {
        return class;
    }
    // What could be about safety is told the patient, as it is written.
    let prose = || {
        if !rules.plain
            || deep && below
            || !(tells_patient(line) || has_restricting_clause(&line.all) || says_stop(&line.all))
        {
            return unread(Some(say::not_understood(place)), false, None);
        }
        let told = plain::told(&Value { text: content, place });
        Class::Plain(plain::Read::Stated(vec![told]), said(0, content.len()))
    };
    let plain = content.chars().all(|c| !c.is_alphanumeric());
    if plain {
        // A ruled line or a stray sign.
        return unread(None, false, None);
    }
    if LONGEST_BARE < content.len() && colon(content).is_none() {
        if tells_finding(&typed, &Dose::default()) {
            return Class::Private(said(0, content.len()));
        }
        if deep {
            return Class::Cue(said(0, content.len()));
        }
        return prose();
    }
    if rules.plain && below && about::says_of_several(line) {
        return Class::Cue(said(0, content.len()));
    }
    // `3s up 2s hold 3s down` below what is done so.
    if rules.plain && below && deep && about::tells_tempo(line) {
        return Class::Cue(said(0, content.len()));
    }
    // `hold 5 sec at end` below what is held.
    if rules.plain && below && about::begins_with_hold(line) {
        let (dose, notices) = crate::dose::of(line);
        return Class::DoseLine(dose, notices);
    }
    if let Some((dose, notices)) = typed.may_be_dose().then(|| is_dose(line)).flatten() {
        if below && (deep || says_dose(&dose)) {
            return Class::DoseLine(dose, notices);
        }
        if says_dose(&dose) {
            return unread(Some(say::dose_alone(place)), false, None);
        }
    }
    // A link has own words on lines of their own, and its names stay what they were.
    let parted = if rules.plain { part_detailed(line, own) } else { typed.parted().clone() };
    let bare = parted.dose == Dose::default();
    if tells_finding(&typed, &parted.dose) {
        return Class::Private(said(0, content.len()));
    }
    // Words of it may be another exercise.
    let names = |words: &String| words.split([',', ' ']).any(crate::prescription::details::is_doing);
    let words_only = parted.details.is_empty() && !parted.dose.words.iter().any(names);
    if parted.name.is_none() && below && has_work(&parted.dose) && words_only {
        return Class::DoseLine(Dose { sides: parted.side, ..parted.dose }, parted.notices);
    }
    if parted.name.is_none() {
        return prose();
    }
    if let Some(name) = parted.name.as_ref().filter(|_| rules.plain) {
        let points = lexed(&name.text, name.place, about::points);
        if points && !below {
            return prose();
        }
        // `higher chair if knee pain > 4` deeper than an exercise counts nothing.
        let conditional = deep && below && lexed(&name.text, name.place, about::is_conditional);
        // `heel slides - stop`, `lunges: not yet`, `bridge - same`
        let alone: Vec<&str> = parted
            .details
            .iter()
            .map(|d| d.text.as_str())
            .chain(parted.dose.words.iter().map(String::as_str))
            .collect();
        if let [words] = alone.as_slice()
            && !has_work(&parted.dose)
            && let Some(goes_on) = about::standing(words)
        {
            let kind = if goes_on { Plain::Advice } else { Plain::Order };
            let told = plain::keyed(kind, &Value { text: content, place });
            return Class::Plain(plain::Read::Stated(vec![told]), said(0, content.len()));
        }
        if !plain::counted(typed.all, &parted.dose) && about::is_refused(content) {
            let told = plain::keyed(Plain::Order, &Value { text: content, place });
            return Class::Plain(plain::Read::Stated(vec![told]), said(0, content.len()));
        }
        if points || conditional || below && about::is_manner(&parted) {
            return Class::Cue(said(0, content.len()));
        }
        // `3x15 knee straight`
        let state = below && has_work(&parted.dose) && lexed(&name.text, name.place, is_state);
        if state && colon(content).is_none() {
            let mut dose = Dose { sides: parted.side, ..parted.dose };
            dose.words.insert(0, name.text.clone());
            return Class::DoseLine(dose, parted.notices);
        }
    }
    let mut parted = parted;
    if rules.plain
        && parted.name.as_ref().is_some_and(|name| lexed(&name.text, name.place, about::numbers_several))
    {
        parted.notices.push(crate::dose::say::notice(Doubt::Another, content, place));
    }
    // `  L fwd, 3x8` below a lunge: words that name no exercise, and how much.
    let names_one = |name: &Said| {
        let words = folded(&name.text);
        own.contains(&words)
            || crate::catalog::Catalog::embedded().is_named(&name.text)
            || words.split(' ').any(crate::prescription::details::is_doing)
    };
    let apart = parted.details.is_empty() && parted.region.is_none() && parted.later.is_empty();
    if rules.plain
        && deep
        && below
        && apart
        && has_work(&parted.dose)
        && colon(content).is_none()
        && let Some(name) = parted.name.as_ref().filter(|name| !names_one(name) && !name.text.contains(' '))
    {
        let mut dose = Dose { sides: parted.side, ..parted.dose };
        dose.words.insert(0, name.text.clone());
        return Class::DoseLine(dose, parted.notices);
    }
    if deep && !has_work(&parted.dose) {
        return Class::Cue(said(0, content.len()));
    }
    if bare && colon(content).is_none() && PROSE < content.split_whitespace().count() {
        return prose();
    }
    Class::Exercise(Box::new(parted))
}

/// What stands behind a start at the margin and is an exercise of its own; a change of the one above, or a dose without a
/// name, is none.
fn another(value: &Typed<'_>, start: Start, own: &[String]) -> Option<Parted> {
    use crate::prescription::exercise::step_verb;
    const CHANGES: [&str; 12] = [
        "swap", "change", "switch", "replace", "progress", "instead", "with", "on", "add", "same", "move",
        "no",
    ];
    let mut c = value.start();
    let arrow = value.text.starts_with(['-', '>', '=', '→', '↑', '+']);
    if arrow || c.word(&CHANGES).is_some() || step_verb(value).is_some() || is_instruction(value) {
        return None;
    }
    // `lunge 2x8 instead`
    if value.all.iter().any(|t| t.sort == Sort::Word("instead")) {
        return None;
    }
    let mut parted = part_detailed(value, own);
    let name = parted.name.as_ref()?;
    // `4 x 10 with a rucksack` names nothing.
    let dosed_first = matches!(value.all.first().map(|t| t.sort), Some(Sort::Number(_)));
    let words = folded(&name.text);
    let does = || own.contains(&words) || words.split(' ').any(crate::prescription::details::is_doing);
    // `wk1 walk 4 run 1 x5`: which number is what is asked, not guessed.
    let numbered = name.text.contains(|c: char| c.is_ascii_digit());
    if dosed_first && !does() || numbered && !own.contains(&words) {
        return None;
    }
    let state = lexed(&name.text, name.place, is_state);
    if !has_work(&parted.dose) || state || parted.dose.from.is_some() {
        return None;
    }
    // From the first week on goes without saying.
    parted.dose.from = (start != Start::Week(1)).then_some(start);
    Some(parted)
}

/// The same without a colon: `from 14 Dec lunge L 2x8`.
fn starts_another(line: &Typed<'_>, own: &[String]) -> Option<Parted> {
    let (start, mut at) = crate::dose::find::span::start(&line.all)?;
    while matches!(line.all.get(at).map(|t| t.sort), Some(Sort::Sign('-' | ','))) {
        at += 1;
    }
    let from = line.all.get(at).filter(|t| t.spaced)?.start;
    another(&line.trimmed(from, line.text.len()), start, own)
}

/// A line that says from when to when and nothing else: of the exercise above, or the heading of what is below.
fn span_line(typed: &TypedLine<'_>, deep: bool, below: bool, rules: Rules) -> Option<Class> {
    let TypedLine { content, place, all, .. } = *typed;
    crate::dose::find::span::whole(all, content)?;
    if below && (deep || !rules.spanned) {
        let (dose, notices) = crate::dose::of(typed.typed);
        return Some(Class::DoseLine(dose, notices));
    }
    let said = Said { text: content.to_string(), place };
    (rules.plain && !deep).then_some(Class::Section(said))
}

/// Whether a line below says just this.
pub(super) fn is_again(again: &Class, later: &Later) -> bool {
    match (again, later) {
        (Class::Step(when, p), Later::Step(step, _)) => {
            *when == step.when
                && (&p.dose, p.side) == (&step.dose, step.side)
                && p.name.as_ref().map(|n| &n.text) == step.name.as_ref().map(|n| &n.text)
        }
        (Class::Detail(About::StopIf, again), Later::Stop(said)) => again.text == said.text,
        _ => false,
    }
}

/// What changes the exercise above, in plain words; what tells a finding changes none.
fn later_line(typed: &TypedLine<'_>) -> Option<Later> {
    if LONGEST_BARE < typed.content.len() {
        return None;
    }
    crate::prescription::later::line(typed.typed).filter(|_| !tells_finding(typed, &typed.parted().dose))
}

/// Whether a head says that something begins, so that a name behind it is no change of what stands above.
fn is_commence(key: &str) -> bool {
    ["start", "commenc", "begin"].iter().any(|word| key.starts_with(word))
}

/// When all below a heading is done: `From week 3`, `Strength (weeks 3-6)`, `Phase 2: weeks 3-6`.
pub(super) fn heading_span(title: &str) -> Option<(Option<Start>, Option<End>)> {
    let bracket = || {
        let inner = title.trim_end().strip_suffix(')')?;
        inner.rsplit_once('(').map(|(_, inner)| inner)
    };
    let behind = || title.rsplit_once([':', ',', '–', '—']).map(|(_, tail)| tail);
    let spaced = || title.rsplit_once(" - ").map(|(_, tail)| tail);
    let parts = [Some(title), bracket(), behind(), spaced()];
    parts.into_iter().flatten().find_map(|text| {
        let text = trim(text);
        lexed(text, Place { line: 1, start: 0, end: text.len() }, crate::prescription::exercise::span_alone)
    })
}
