//! Parts an exercise line into name, side, region and dose, with and without colon and commas.

use super::Said;
use super::details::split;
use super::later::{self, Later};
use crate::dose::find::sides::one_side;
use crate::dose::find::sides::sided;
use crate::dose::find::{Item, at, is_filler};
use crate::dose::parts::{Days, Ending, Load, Often};
use crate::dose::read;
use crate::dose::reader::add_side;
use crate::dose::say::Doubt;
use crate::dose::{Dose, End, Sided, Start, Tally, Work};
use crate::language::token::{Cursor, PROPS, Sort, Token, tokens};
use crate::measure::Counts;
use crate::notice::Notice;
use crate::text::Place;
use crate::text::fold::{fold, folded};

/// A line parted.
#[derive(Clone, Debug)]
pub struct Parted {
    /// None: the line is a dose alone.
    pub name: Option<Said>,
    pub side: Option<Sided>,
    pub region: Option<Said>,
    /// A limb that is named by the problem, such as `affected leg`.
    pub affected: Option<Said>,
    /// The clinician's own words on how it is done, in the order typed.
    pub details: Vec<Said>,
    pub dose: Dose,
    pub dose_place: Place,
    /// What stands behind it on its line and changes it later.
    pub later: Vec<Later>,
    pub notices: Vec<Notice>,
}

/// The canonical writing of a line: `name, side region, details: dose`.
fn line(
    name: Option<&Said>,
    side: Option<Sided>,
    region: Option<&Said>,
    details: &[&Said],
    dose: &Dose,
) -> String {
    let mut head = name.map_or(String::new(), |n| n.text.clone());
    if let Some(side) = side {
        if !head.is_empty() {
            head.push_str(", ");
        }
        head.push_str(&side.to_string());
        if let Some(region) = region {
            head.push(' ');
            head.push_str(&region.text);
        }
    }
    for detail in details {
        head.push_str(", ");
        head.push_str(&detail.text);
    }
    let dose = dose.to_string();
    match (head.is_empty(), dose.is_empty()) {
        (true, _) => dose,
        (false, true) => head,
        (false, false) if name.is_none() => format!("{head}, {dose}"),
        (false, false) => format!("{head}: {dose}"),
    }
}

impl super::Exercise {
    /// Its line in canonical writing, with the own words that stand on it.
    pub fn written(&self) -> String {
        let details: Vec<&Said> = self.beside().collect();
        line(Some(&self.name), self.side, self.region.as_ref(), &details, &self.dose)
    }

    /// Its line without own words.
    pub fn without_details(&self) -> String {
        line(Some(&self.name), self.side, self.region.as_ref(), &[], &self.dose)
    }

    /// Own words on the exercise's line.
    pub fn beside(&self) -> impl Iterator<Item = &Said> {
        let cues = self.details.iter().filter(|d| d.about == super::About::Cue);
        cues.map(|d| &d.said).filter(|said| said.place.line == self.line)
    }

    /// What changes it later or stops it and stands on its line, each as its canonical line below.
    pub fn behind(&self) -> impl Iterator<Item = String> {
        let stops =
            self.details.iter().filter(|d| d.about == super::About::StopIf && d.said.place.line == self.line);
        let stops = stops.map(|d| format!("{}: {}", d.about.word(), d.said.text));
        let steps = self.steps.iter().filter(|step| step.place.line == self.line);
        steps.map(super::Step::written).chain(stops)
    }
}

impl super::Step {
    /// Its line in canonical writing: `from week 3: 3 x 12`.
    pub fn written(&self) -> String {
        format!("{}: {}", self.when, line(self.name.as_ref(), self.side, None, &[], &self.dose))
    }
}

impl Parted {
    /// A dose without a name.
    fn nameless(side: Option<Sided>, dose: Dose, dose_place: Place, notices: Vec<Notice>) -> Parted {
        let (name, region, affected) = (None, None, None);
        let (details, later) = (Vec::new(), Vec::new());
        Parted { name, side, region, affected, details, dose, dose_place, later, notices }
    }

    /// The canonical writing: `name, side region, details: dose`.
    pub fn written(&self) -> String {
        let details: Vec<&Said> = self.affected.iter().chain(&self.details).collect();
        line(self.name.as_ref(), self.side, self.region.as_ref(), &details, &self.dose)
    }

    /// Whether two readings mean the same, wherever they stand.
    pub fn means(&self, other: &Parted) -> bool {
        let text = |s: &Option<Said>| s.as_ref().map(|s| s.text.clone());
        text(&self.name) == text(&other.name)
            && self.side == other.side
            && text(&self.region) == text(&other.region)
            && text(&self.affected) == text(&other.affected)
            && self.details.iter().map(|d| &d.text).eq(other.details.iter().map(|d| &d.text))
            && self.dose == other.dose
    }
}

/// The byte of the first colon that parts name and dose: not inside quotes, not between digits (`1:30`).
pub fn colon(text: &str) -> Option<(usize, usize)> {
    let mut quoted = false;
    let mut before: Option<char> = None;
    // Looked for once: a line of nothing but quotes stays quick.
    let last = text.rfind(['"', '”']);
    for (at, c) in text.char_indices() {
        match c {
            '"' | '“' | '”' => quoted = !quoted && last.is_some_and(|l| at < l),
            ':' | '：' if !quoted => {
                let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
                let after = text.get(at + c.len_utf8()..).and_then(|r| r.chars().next());
                if !(digit(before) && digit(after)) {
                    return Some((at, at + c.len_utf8()));
                }
            }
            _ => {}
        }
        before = Some(c);
    }
    None
}

/// The byte behind words that say no more than that something takes the place of what stands above: `switch to`,
/// `replace with`, `progress to`.
pub fn step_verb(content: &str) -> Option<usize> {
    let folded = fold(content);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    const PAIRS: [[&str; 2]; 20] = [
        ["switch", "to"],
        ["swap", "to"],
        ["swap", "for"],
        ["change", "to"],
        ["replace", "with"],
        ["replace", "by"],
        ["replaced", "by"],
        ["replaced", "with"],
        ["progress", "to"],
        ["progressing", "to"],
        ["move", "to"],
        ["go", "to"],
        ["drop", "to"],
        ["increase", "to"],
        ["reduce", "to"],
        ["return", "to"],
        ["revert", "to"],
        ["back", "to"],
        ["cut", "to"],
        ["decrease", "to"],
    ];
    let on = c.words(&["move", "on", "to"])
        || c.words(&["replace", "it", "with"])
        || c.words(&["go", "back", "to"])
        || c.words(&["go", "down", "to"])
        || c.words(&["go", "up", "to"])
        || c.words(&["move", "up", "to"])
        || c.words(&["cut", "down", "to"])
        || c.words(&["drop", "back", "to"])
        || c.words(&["drop", "down", "to"]);
    let found = on || PAIRS.iter().any(|pair| c.words(pair)) || c.word(&["then"]).is_some();
    if found {
        c.word(&["do"]);
    }
    let found = found || just(&mut c);
    c.peek().filter(|t| found && t.spaced).map(|t| t.start)
}

/// The byte behind a first word that only says that something is to be done.
fn tried(content: &str) -> Option<usize> {
    let folded = fold(content);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    c.word(&["do", "try", "use"])?;
    c.peek().filter(|t| t.spaced).map(|t| t.start)
}

/// Passes over words that only say that something is to be done: `do 2 sets`, `try`, `only do`.
fn just(c: &mut Cursor<'_>) -> bool {
    let begun = c.at;
    c.word(&["only", "just"]);
    c.word(&["do", "try", "use"]);
    let dosed = matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_)));
    begun < c.at && dosed
}

/// Parts a step's value, where a dose may stand without a name: `3 x 12`, `2 sets, slowly`.
pub fn part_step(content: &str, place: Place) -> Parted {
    if let Some(at) = step_verb(content) {
        let inner = content.get(at..).unwrap_or("");
        let parted = part_step(inner, Place { start: place.start + at, ..place });
        let says = says_dose(&parted.dose);
        if says
            || !later::is_instruction(content)
            || parted.name.as_ref().is_some_and(|n| is_named(&n.text, &[]))
        {
            return parted;
        }
    }
    // `try single leg bridge 3 x 6`
    if let Some(at) = tried(content) {
        let parted = part_step(content.get(at..).unwrap_or(""), Place { start: place.start + at, ..place });
        if has_work(&parted.dose) || !parted.dose.loads.is_empty() {
            return parted;
        }
    }
    if later::is_instruction(content) && colon(content).is_none() && !begins_dosed(content) {
        // `halve it`: what is to be done, in words, and no other exercise.
        let dose = Dose { words: vec![content.to_string()], ..Dose::default() };
        return Parted::nameless(None, dose, place, Vec::new());
    }
    let folded = fold(content);
    let all = tokens(&folded);
    let c = Cursor { all: all.get(..piece_end(&all, 0)).unwrap_or(&[]), at: 0 };
    let dosed = at(c, content).is_some_and(|hit| hit.items.iter().any(is_strong));
    if !dosed || colon(content).is_some() {
        return part(content, place);
    }
    let (mut dose, notices) = read(content, place);
    let side = dose.sides.take();
    Parted::nameless(side, dose, place, notices)
}

/// Whether a step's value begins with a dose, such as one that grows.
fn begins_dosed(content: &str) -> bool {
    let folded = fold(content);
    let all = tokens(&folded);
    at(Cursor { all: &all, at: 0 }, content)
        .is_some_and(|hit| hit.items.iter().any(is_strong) && hit.doubt.is_none())
}

/// A start or an end before a line's colon (`start week 2: …`, `14 Dec onwards: …`), and where the line itself begins.
pub fn span_lead(content: &str) -> Option<(Option<Start>, Option<End>, usize)> {
    let (at, after) = colon(content)?;
    let head = content.get(..at)?;
    let folded = fold(head);
    let (from, until) = crate::dose::find::span::whole(&tokens(&folded), head)?;
    Some((from, until, after))
}

/// Whether the whole of a line is a start, an end or both: `From week 3`, `until 20/12`.
pub fn span_alone(content: &str) -> Option<(Option<Start>, Option<End>)> {
    let folded = fold(content);
    crate::dose::find::span::whole(&tokens(&folded), content)
}

/// Where in a line something is said of its start or end.
pub fn span_place(content: &str, place: Place) -> Option<Place> {
    let folded = fold(content);
    let (from, to) = crate::dose::find::span::place(&tokens(&folded), content)?;
    Some(Place { line: place.line, start: place.start + from, end: place.start + to })
}

/// A line as typed, looked at by one recogniser after the other: what several of them need is made once.
pub struct TypedLine<'a> {
    pub content: &'a str,
    pub place: Place,
    pub all: &'a [Token<'a>],
    parted: core::cell::OnceCell<Parted>,
    calls: core::cell::OnceCell<bool>,
    told: core::cell::OnceCell<(bool, bool)>,
}

impl<'a> TypedLine<'a> {
    /// `all` are the line's tokens.
    pub fn new(content: &'a str, place: Place, all: &'a [Token<'a>]) -> TypedLine<'a> {
        let (parted, calls, told) = Default::default();
        TypedLine { content, place, all, parted, calls, told }
    }

    /// The line parted, without details.
    pub fn parted(&self) -> &Parted {
        self.parted.get_or_init(|| part(self.content, self.place))
    }

    /// Whether it could be a dose and nothing else: no dose begins with a word that is none of its own.
    pub fn may_be_dose(&self) -> bool {
        let c = Cursor { all: self.all, at: 0 };
        !matches!(c.peek().map(|t| t.sort), Some(Sort::Word(_)))
            || is_filler(c)
            || at(c, self.content).is_some()
    }

    /// Whether it says when to call whom.
    pub fn calls(&self) -> bool {
        *self.calls.get_or_init(|| crate::language::restraint::calls(self.all))
    }

    fn told(&self) -> (bool, bool) {
        *self.told.get_or_init(|| super::problem::told(self.content))
    }

    /// Whether it tells a red flag.
    pub fn is_red_flag(&self) -> bool {
        self.told().0
    }

    /// Whether it tells a finding or a red flag.
    pub fn is_finding(&self) -> bool {
        self.told().1
    }
}

/// Parts a line; `place` is where `content` stands.
pub fn part(content: &str, place: Place) -> Parted {
    parted(content, place, None)
}

/// Parts a line whose name may have details beside it; `own` are the folded names of the text's own exercises.
pub fn part_detailed(content: &str, place: Place, own: &[String]) -> Parted {
    if let Some(later::Behind { end, later, rest }) = later::behind(content, place) {
        let main = content.get(..end).unwrap_or("");
        let mut parted = parted(main, Place { end: place.start + end, ..place }, Some(own));
        let both = match rest {
            None => Some(parted.dose.clone()),
            Some((from, to)) => {
                let sub = Place { start: place.start + from, end: place.start + to, ..place };
                let rest = is_dose(content.get(from..to).unwrap_or(""), sub);
                rest.and_then(|(rest, told)| {
                    parted.notices.extend(told);
                    joined(&parted.dose, &rest)
                })
            }
        };
        // Only what is done can change.
        if let Some(dose) = both.filter(|dose| parted.name.is_some() && !dose.work.is_empty()) {
            return Parted { dose, later, ..parted };
        }
    }
    parted(content, place, Some(own))
}

/// Whether a name is an exercise's as it stands.
fn is_named(name: &str, own: &[String]) -> bool {
    own.contains(&folded(name)) || crate::catalog::Catalog::embedded().is_named(name)
}

/// The line without the words that say when it begins, as long as before, and when: `start lunges wk 6 2x8`.
fn begun(content: &str) -> Option<(String, Start)> {
    let folded = fold(content);
    let (verb, (from, to), start) = crate::dose::find::span::begun(&tokens(&folded))?;
    let mut rest = " ".repeat(verb);
    rest.push_str(content.get(verb..from)?);
    rest.push_str(&" ".repeat(to.checked_sub(from)?));
    rest.push_str(content.get(to..)?);
    Some((rest, start))
}

fn parted(content: &str, place: Place, own: Option<&[String]>) -> Parted {
    if colon(content).is_none()
        && let Some((rest, start)) = begun(content)
    {
        let mut parted = part_line(&rest, place, own);
        if parted.dose.from.is_none() {
            parted.dose.from = Some(start);
            // Where the start stood is no gap: `start cycling wk 3 unless wound open`.
            let close = |text: &mut String| *text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            let said = parted.name.iter_mut().chain(&mut parted.region).chain(&mut parted.details);
            said.for_each(|said| close(&mut said.text));
            parted.dose.words.iter_mut().for_each(close);
            return parted;
        }
    }
    if let Some((from, until, after)) = span_lead(content) {
        let rest = content.get(after..).unwrap_or("");
        let inner = crate::text::trim(rest);
        let start = place.start + after + (rest.len() - crate::text::trim_start(rest).len());
        let mut parted = parted(inner, Place { line: place.line, start, end: start + inner.len() }, own);
        let said = &mut parted.dose;
        // Said twice, the line itself is nearer; what stands before it is kept as words.
        let twice = (from.is_some() && said.from.is_some()) || (until.is_some() && said.until.is_some());
        if twice {
            said.words.push(content.get(..after).unwrap_or("").trim_end_matches(':').to_string());
        } else {
            said.from = said.from.or(from);
            said.until = said.until.take().or(until);
        }
        return parted;
    }
    part_line(content, place, own)
}

fn part_line(content: &str, place: Place, own: Option<&[String]>) -> Parted {
    let sub =
        |from: usize, to: usize| Place { line: place.line, start: place.start + from, end: place.start + to };
    let dose_of = |from: usize, to: usize| read(content.get(from..to).unwrap_or(""), sub(from, to));
    let (mut from, mut to) = (0, content.len());
    let (dose, mut notices, dose_place);
    if let Some((at, after)) = colon(content) {
        to = at;
        let (mut tail, mut told) = dose_of(after, content.len());
        if tail.work.is_empty()
            && let Some(i) = strong(content.get(..at).unwrap_or(""))
        {
            let (head, more) = dose_of(i, at);
            if let Some(both) = joined(&head, &tail) {
                to = i;
                tail = both;
                told.splice(0..0, more);
            }
        }
        let before = content.get(..at).unwrap_or("");
        let turned = (tail.work.is_empty() && !tail.words.is_empty())
            .then(|| is_dose(before, sub(0, at)).filter(|(dose, _)| !dose.work.is_empty()))
            .flatten();
        if let Some((lead, more)) = turned {
            // `1x10, 3 sessions/day: chin tuck`
            (from, to) = (after, content.len());
            (dose, notices) = (lead, more);
            dose_place = sub(0, at);
        } else {
            (dose, notices) = (tail, told);
            dose_place = sub(after, content.len());
        }
    } else if let Some((name_at, lead_end)) = leading(content) {
        let rest = content.get(name_at..).unwrap_or("");
        let end = strong(rest).map_or(content.len(), |i| name_at + i);
        let (head, told) = dose_of(0, lead_end);
        let (tail, more) = dose_of(end, content.len());
        match joined(&head, &tail) {
            Some(both) if tail.work.is_empty() || head.work.is_empty() => {
                (from, to) = (name_at, end);
                dose = both;
                notices = told;
                notices.extend(more);
                dose_place = if end < content.len() { sub(end, content.len()) } else { sub(0, lead_end) };
            }
            _ => {
                (dose, notices) = (Dose::default(), Vec::new());
                dose_place = sub(content.len(), content.len());
            }
        }
    } else if let Some(i) = strong(content) {
        // `3 x 12, slowly` is a dose with words: a number is no name.
        let counts = |c: char| c.is_ascii_digit() || matches!(c, ' ' | 'x' | 'X' | '×' | ',');
        let named = content.get(..i).is_none_or(|head| !head.chars().all(counts));
        let i = if named { i } else { 0 };
        to = i;
        (dose, notices) = dose_of(i, content.len());
        dose_place = sub(i, content.len());
    } else {
        (dose, notices) = (Dose::default(), Vec::new());
        dose_place = sub(content.len(), content.len());
    }
    let mut dose = dose;
    let mut head = content.get(from..to).unwrap_or("");
    let (mut start, mut end) = trimmed(head, 0, head.len());
    let mut side = None;
    let mut tally = dose.tally;
    let mut region = None;
    let (plain, loads) = (head, dose.loads.clone());
    // Sides and loads may stand at either end of the name, one after the other.
    for _ in 0..4 {
        let name = head.get(start..end).unwrap_or("");
        if let Some((kept, load)) = trailing_load(name) {
            if !dose.loads.contains(&load) {
                dose.loads.insert(0, load);
            }
            (start, end) = trimmed(head, start, start + kept);
            continue;
        }
        let Some(found) = name_side(name, own.is_some()) else { break };
        let mut both = side;
        if add_side(&mut both, &mut tally, found.side).is_err() {
            break;
        }
        side = both;
        if let Some((a, b)) = found.region {
            let (a, b) = (start + a, start + b);
            region =
                Some(Said { text: head.get(a..b).unwrap_or("").to_string(), place: sub(from + a, from + b) });
        }
        (start, end) = trimmed(head, start + found.from, start + found.to);
    }
    let mut details: Vec<Said> = Vec::new();
    let mut affected = None;
    let name = head.get(start..end).unwrap_or("");
    if let Some(own) = own
        && !name.is_empty()
        && !is_named(name, own)
    {
        let mut end_of = plain.len();
        let mut kept = loads.clone();
        while let Some((at, load)) = trailing_load(plain.get(..end_of).unwrap_or("")) {
            if !kept.contains(&load) {
                kept.insert(0, load);
            }
            end_of = at;
        }
        // `elbows tucked in 3x10`: the last word is theirs, where words stand before it.
        let tail = content.get(to..).unwrap_or("");
        let tail = tail.len() - crate::text::trim_start(tail).len();
        let inward = content.get(to + tail..).is_some_and(|t| {
            t.get(..3).is_some_and(|t| t.eq_ignore_ascii_case("in ")) && end_of == plain.len()
        });
        let whole = content.get(from..to + tail + 2).filter(|_| inward);
        let longer = whole.filter(|whole| {
            split(whole, own)
                .is_some_and(|s| s.details.last().is_some_and(|d| d.1 == whole.len() && d.0 + 3 < d.1))
        });
        let taken = longer.unwrap_or_else(|| plain.get(..end_of).unwrap_or(""));
        if let Some(found) = split(taken, own)
            && let Some((both, counted)) = sides_of(&found.sides, dose.tally)
        {
            head = taken;
            (start, end) = found.name;
            (side, tally) = (both, counted);
            dose.loads = kept;
            let said = |(a, b): (usize, usize)| Said {
                text: head.get(a..b).unwrap_or("").to_string(),
                place: sub(from + a, from + b),
            };
            region = found.region.map(said);
            affected = found.affected.map(said);
            details = found.details.into_iter().map(said).collect();
            for detail in &details {
                notices.extend(super::details::notices(&detail.text, detail.place));
            }
        }
    }
    if let Some(said) = dose.sides.take() {
        let mut both = side;
        match add_side(&mut both, &mut tally, said) {
            Ok(()) => side = both,
            Err(first) => {
                dose.words.push(said.to_string());
                notices.push(super::say::side_twice(dose_place, first, said));
            }
        }
    }
    dose.tally = tally;
    // `heel slides 3x10 R knee`: where, after the dose.
    if side.is_none()
        && region.is_none()
        && let Some((i, found, at)) = placed_words(&dose.words)
        && let Some(byte) = content.find(dose.words.get(i).map_or("", String::as_str))
    {
        let words = dose.words.remove(i);
        side = Some(found);
        let (a, b) = (byte + at, byte + words.len());
        region = Some(Said { text: content.get(a..b).unwrap_or("").to_string(), place: sub(a, b) });
    }
    if let (Some(Sided::Alternating), None, Some(n)) = (side, tally, counted(&dose)) {
        notices.push(crate::dose::say::notice(Doubt::InAllOrEach { n }, "", dose_place));
    }
    let text = head.get(start..end).unwrap_or("");
    let name =
        (!text.is_empty()).then(|| Said { text: text.to_string(), place: sub(from + start, from + end) });
    Parted { name, side, region, affected, details, dose, dose_place, later: Vec::new(), notices }
}

/// Several words of side as one; None where they contradict each other.
fn sides_of(all: &[Sided], mut tally: Option<Tally>) -> Option<(Option<Sided>, Option<Tally>)> {
    let mut side = None;
    for said in all {
        add_side(&mut side, &mut tally, *said).ok()?;
    }
    Some((side, tally))
}

/// Words of a dose that are a side and a joint and nothing else: which, the side, and the byte of the joint.
fn placed_words(words: &[String]) -> Option<(usize, Sided, usize)> {
    words.iter().enumerate().find_map(|(i, text)| {
        let folded = fold(text);
        let all = tokens(&folded);
        let mut c = Cursor { all: &all, at: 0 };
        let side = one_side(&mut c)?;
        let at = c.peek()?.start;
        (crate::language::anatomy::joint(&mut c).is_some() && c.is_done()).then_some((i, side, at))
    })
}

fn counted(dose: &Dose) -> Option<Counts> {
    match dose.work.first().map(|p| &p.work) {
        Some(Work::Repetitions { reps: Some(n), ending: Ending::Number | Ending::AsAble, .. })
            if 1 < n.high() =>
        {
            Some(*n)
        }
        _ => None,
    }
}

/// Both doses as one, where they don't contradict each other.
fn joined(a: &Dose, b: &Dose) -> Option<Dose> {
    fn either<T: Clone + PartialEq>(a: &Option<T>, b: &Option<T>) -> Option<Option<T>> {
        match (a, b) {
            (Some(x), Some(y)) if x != y => None,
            (x, y) => Some(x.clone().or_else(|| y.clone())),
        }
    }
    if !a.work.is_empty() && !b.work.is_empty() {
        return None;
    }
    let lists = |x: &[String], y: &[String]| x.iter().chain(y).cloned().collect();
    Some(Dose {
        work: a.work.iter().chain(&b.work).cloned().collect(),
        hold: either(&a.hold, &b.hold)?,
        tempo: either(&a.tempo, &b.tempo)?,
        loads: a.loads.iter().chain(&b.loads).cloned().collect(),
        effort: either(&a.effort, &b.effort)?,
        reserve: either(&a.reserve, &b.reserve)?,
        rest: either(&a.rest, &b.rest)?,
        pain: either(&a.pain, &b.pain)?,
        sides: either(&a.sides, &b.sides)?,
        tally: either(&a.tally, &b.tally)?,
        often: either(&a.often, &b.often)?,
        moments: a.moments.iter().chain(&b.moments).cloned().collect(),
        ramp: either(&a.ramp, &b.ramp)?,
        from: either(&a.from, &b.from)?,
        until: either(&a.until, &b.until)?,
        words: lists(&a.words, &b.words),
    })
}

/// Without spaces, commas and joining signs at both ends.
fn trimmed(text: &str, from: usize, to: usize) -> (usize, usize) {
    let inner = text.get(from..to).unwrap_or("");
    let loose =
        |c: char| crate::text::is_space(c) || matches!(c, ',' | ';' | '-' | '–' | '—' | '=' | '→' | '|');
    let mut end = inner.trim_end_matches(loose).len();
    // An arrow before the dose is a joining sign; a lone > is part of the name.
    while inner.get(..end).is_some_and(|i| i.ends_with("->") || i.ends_with("=>")) {
        end = inner.get(..end - 1).unwrap_or("").trim_end_matches(loose).len();
    }
    let kept = inner.get(..end).unwrap_or("");
    let front = |c: char| crate::text::is_space(c) || matches!(c, ',' | ';');
    let start = kept.len() - kept.trim_start_matches(front).len();
    (from + start, from + end)
}

/// The end of the piece (up to the next comma outside brackets) that starts at token `i`.
fn piece_end(all: &[Token<'_>], i: usize) -> usize {
    let mut depth = 0usize;
    for (at, t) in all.iter().enumerate().skip(i) {
        match t.sort {
            Sort::Sign('(') => depth += 1,
            Sort::Sign(')') => depth = depth.saturating_sub(1),
            Sort::Sign(',' | ';') if depth == 0 => return at,
            Sort::Number(_) | Sort::Word(_) | Sort::Sign(_) => {}
        }
    }
    all.len()
}

/// Whether an item by itself shows that a dose has begun.
fn is_strong(item: &Item) -> bool {
    match item {
        Item::Work(_)
        | Item::Hold(_)
        | Item::Rest(_)
        | Item::Tempo(_)
        | Item::Effort(_)
        | Item::Reserve(..)
        | Item::Pain(_)
        | Item::PerDay(_)
        | Item::AllDay(_)
        | Item::DayCap(_)
        | Item::Ramp(_)
        | Item::Load(Load::Mass { .. } | Load::OfMaximum { .. })
        | Item::Days(Days::Daily | Days::PerWeek(_) | Days::Every(_))
        | Item::DaysOff(_)
        | Item::From(_)
        | Item::Ask => true,
        Item::Load(Load::Band(_))
        | Item::Days(Days::On(_))
        | Item::Sided(_)
        | Item::Tally(_)
        | Item::Ending(_)
        | Item::Cap(_)
        | Item::Moment(_)
        | Item::Until(_)
        | Item::Nothing => false,
    }
}

/// The byte where the dose begins in a line without a colon; never at the line's start.
pub fn strong(text: &str) -> Option<usize> {
    let folded = fold(text);
    let all = tokens(&folded);
    for (i, token) in all.iter().enumerate().skip(1) {
        let before = all.get(i - 1);
        let comma = matches!(before.map(|t| t.sort), Some(Sort::Sign(',' | ';')));
        let opened = token.sort == Sort::Sign('(');
        if !(token.spaced || comma) {
            continue;
        }
        let inside = if opened { i + 1 } else { i };
        let c = Cursor { all: all.get(..piece_end(&all, inside)).unwrap_or(&[]), at: inside };
        let c = if opened { Cursor { all: until_close(c.all, inside), ..c } } else { c };
        let Some(hit) = at(c, text) else { continue };
        let prn = hit.items.iter().any(|i| matches!(i, Item::AllDay(Often::AsNeeded { .. })));
        // `add a lamp-post a week`: a rate without a number begins no dose.
        let article = matches!(token.sort, Sort::Word("a" | "per"));
        // `step up 6" 3x10`: a height, where the work comes later.
        let height = matches!(all.get(i + 1).map(|t| t.sort), Some(Sort::Sign('"' | '\'')))
            && !matches!(
                all.get(i + 2).map(|t| t.sort),
                Some(Sort::Word("hold" | "holds" | "held" | "rest"))
            )
            && named_height(&all, i, hit.next)
            && later_work(&all, hit.next, text);
        if article || height {
            continue;
        }
        // `flexion to 90 x 10`: how far, not how many.
        let far = matches!(before.map(|t| t.sort), Some(Sort::Word("to" | "past" | "beyond")))
            && !matches!(
                i.checked_sub(2).and_then(|i| all.get(i)).map(|t| t.sort),
                Some(Sort::Word("up") | Sort::Number(_))
            )
            && matches!(token.sort, Sort::Number(_))
            && matches!(all.get(i + 1).map(|t| t.sort), Some(Sort::Word("x") | Sort::Sign('°' | '×' | '*')))
            && all.get(i + 1).is_some_and(|t| t.spaced || t.sort == Sort::Sign('°'));
        if far {
            continue;
        }
        let latin = matches!(token.sort, Sort::Word("mane" | "nocte"));
        let lasting = matches!(token.sort, Sort::Word("for" | "until" | "till" | "x"))
            && hit.items.iter().any(|i| matches!(i, Item::Until(e) if !matches!(e, End::Words(_))));
        let starts = (latin || lasting || hit.items.iter().any(is_strong))
            && !(prn && !comma && i == 1 && token.sort != Sort::Word("prn"));
        let after_comma = comma
            && hit.items.iter().any(|i| {
                matches!(
                    i,
                    Item::Days(_)
                        | Item::Moment(_)
                        | Item::Until(_)
                        | Item::Ending(_)
                        | Item::Load(_)
                        | Item::Cap(_)
                )
            });
        if !starts && !after_comma {
            continue;
        }
        // Joining words before the dose belong to neither.
        let mut from = i;
        while 1 < from && is_filler(Cursor { all: &all, at: from - 1 }) {
            from -= 1;
        }
        return all.get(from).map(|t| t.start);
    }
    None
}

/// Whether a thing that has a height or a distance is named before or behind.
fn named_height(all: &[Token<'_>], at: usize, next: usize) -> bool {
    let prop = |t: &Token<'_>| matches!(t.sort, Sort::Word(w) if PROPS.contains(&w));
    all.get(..at).unwrap_or(&[]).iter().any(|t| prop(t) || matches!(t.sort, Sort::Word("ups" | "downs")))
        || Cursor { all, at: next }.prop()
}

/// Whether work stands at `from` or behind it.
fn later_work(all: &[Token<'_>], from: usize, text: &str) -> bool {
    (from..all.len().min(from + 12)).any(|at_token| {
        at(Cursor { all, at: at_token }, text)
            .is_some_and(|hit| hit.items.iter().any(|i| matches!(i, Item::Work(_))))
    })
}

fn until_close<'t, 'a>(all: &'t [Token<'a>], from: usize) -> &'t [Token<'a>] {
    let close = all.iter().enumerate().skip(from).find(|(_, t)| t.sort == Sort::Sign(')')).map(|(i, _)| i);
    all.get(..close.unwrap_or(all.len())).unwrap_or(&[])
}

/// A dose before the name (`3 x 10 bridge`): where the name begins, and where that dose ends.
fn leading(text: &str) -> Option<(usize, usize)> {
    let folded = fold(text);
    let all = tokens(&folded);
    let spanned = |c: Cursor<'_>| {
        at(c, text).is_some_and(|hit| {
            hit.items.iter().any(|i| matches!(i, Item::From(_)))
                && hit.items.iter().all(|i| matches!(i, Item::From(_) | Item::Until(_)))
        })
    };
    let begun = Cursor { all: all.get(..piece_end(&all, 0))?, at: 0 };
    if !matches!(all.first()?.sort, Sort::Number(_) | Sort::Word("x")) && !spanned(begun) {
        return None;
    }
    let mut c = Cursor { all: all.get(..piece_end(&all, 0))?, at: 0 };
    let plain = c;
    let next = match at(c, text) {
        Some(hit) => {
            let good = hit.items.iter().any(|i| match i {
                Item::Work(p) => match &p.work {
                    // `30 s chair stand` is a name; `5 min walk` is a dose and a name.
                    Work::Time(span) => 60 <= span.low(),
                    Work::Repetitions { .. }
                    | Work::Bouts { .. }
                    | Work::Intervals { .. }
                    | Work::Amount { .. } => true,
                },
                Item::From(_) => true,
                _ => false,
            });
            good.then_some(hit.next)?
        }
        // `10 x bridge`
        None => {
            c.counts()?;
            if !c.times() || c.peek_word().is_none() {
                return None;
            }
            c = Cursor { at: c.at - 1, ..c };
            c.at
        }
    };
    let mut name = Cursor { at: next, ..plain };
    let lead_end = all.get(next.checked_sub(1)?)?.end;
    if c.at == next && c.at != 0 {
        name.times();
    }
    // `keep the hips level` begins with a word of its own.
    let joins =
        |c: Cursor<'_>| is_filler(c) && !matches!(c.peek_word(), Some("keep" | "do" | "repeat" | "at"));
    while joins(name) || name.sign(',') {
        name.at += usize::from(joins(name));
    }
    // `3 x 20 s R side plank`: the side may lead the name.
    let named =
        |c: Cursor<'_>| matches!(c.peek().map(|t| t.sort), Some(Sort::Word(_))) && at(c, text).is_none();
    let whole = Cursor { all: &all, ..name };
    if !name.is_done() && (named(whole) || behind_side(whole).is_some_and(named)) {
        return Some((name.peek()?.start, lead_end));
    }
    // Behind a comma stands a name only where it is known: `3 x 10, slowly` has none.
    let known = |c: Cursor<'_>| {
        let end = piece_end(&all, c.at);
        let words = c.peek().zip(all.get(end.wrapping_sub(1))).and_then(|(a, b)| text.get(a.start..b.end));
        words.is_some_and(|words| crate::catalog::Catalog::embedded().is_named(words))
    };
    let mut comma = piece_end(&all, 0);
    while let (Some(before), Some(token)) = (all.get(comma.checked_sub(1)?), all.get(comma + 1)) {
        let piece = Cursor { all: &all, at: comma + 1 };
        if known(piece) || behind_side(piece).is_some_and(known) {
            return Some((token.start, before.end));
        }
        comma = piece_end(&all, comma + 1);
    }
    None
}

/// Behind a side, in brackets or not.
fn behind_side<'t>(mut c: Cursor<'t>) -> Option<Cursor<'t>> {
    let bracket = c.sign('(');
    (one_side(&mut c).is_some() && (!bracket || c.sign(')'))).then_some(c)
}

/// A load at the end of a name: `… with ankle weight 1 kg`, `… with red band`. What is left, in bytes.
fn trailing_load(name: &str) -> Option<(usize, Load)> {
    let folded = fold(name);
    let all = tokens(&folded);
    const COLOURS: [&str; 15] = [
        "red", "yellow", "green", "blue", "black", "silver", "gold", "grey", "gray", "white", "orange",
        "purple", "pink", "light", "heavy",
    ];
    for (i, token) in all.iter().enumerate().skip(1) {
        let with = matches!(
            all.get(i - 1).map(|t| t.sort),
            Some(Sort::Word("with" | "w" | "and" | "a" | "the") | Sort::Sign('/' | '+'))
        );
        let colour = matches!(token.sort, Sort::Word(w) if COLOURS.contains(&w));
        let c = Cursor { all: &all, at: i };
        let Some(hit) = crate::dose::find::load::load(c, name) else { continue };
        let [Item::Load(load)] = hit.items.as_slice() else { continue };
        if hit.next != all.len() || !(with || colour || matches!(load, Load::Mass { .. })) {
            continue;
        }
        let mut from = i;
        while 1 < from && is_filler(Cursor { all: &all, at: from - 1 }) {
            from -= 1;
        }
        let kept = all.get(from)?.start;
        return Some((kept, load.clone()));
    }
    None
}

struct NameSide {
    side: Sided,
    region: Option<(usize, usize)>,
    /// What is left of the name, in bytes.
    from: usize,
    to: usize,
}

/// A side at either end of a name, or in its last comma piece with a place on the body after it.
fn name_side(name: &str, with_details: bool) -> Option<NameSide> {
    let folded = fold(name);
    let all = tokens(&folded);
    let whole = name.len();
    // The last piece: `, right`, `, right knee`, `, each side`.
    let comma = all.iter().rposition(|t| matches!(t.sort, Sort::Sign(',' | ';'))).filter(|i| 0 < *i);
    if let Some(comma) = comma {
        let piece = Cursor { all: &all, at: comma + 1 };
        if let Some(hit) = sided(piece)
            && let [Item::Sided(side)] = hit.items.as_slice()
        {
            let rest = all.get(hit.next..).unwrap_or(&[]);
            let limb = all.get(hit.next.wrapping_sub(1)).is_some_and(
                |t| matches!(t.sort, Sort::Word(w) if crate::dose::find::sides::LIMBS.contains(&w)),
            );
            // `left foot turned out`, of a name with details: the limb is what the words are about.
            let words = !(with_details && limb) && rest.iter().all(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign('-' | '\'')))
                && rest.len() <= 4
                // `left foot in front` is no place on the body.
                && !(with_details && rest.iter().any(super::details::is_start))
                // `right side plank` names an exercise.
                && !rest.iter().any(|t| matches!(t.sort, Sort::Word(w) if super::details::is_doing(w)));
            let to = all.get(comma)?.start;
            match (rest.first(), rest.last()) {
                (None, None) => return Some(NameSide { side: *side, region: None, from: 0, to }),
                (Some(a), Some(b)) if words && a.spaced => {
                    return Some(NameSide { side: *side, region: Some((a.start, b.end)), from: 0, to });
                }
                _ => {}
            }
        }
    }
    // At the end with a place on the body: `cold pack right knee`.
    if let Some(i) = all.len().checked_sub(2).filter(|i| 0 < *i) {
        let mut c = Cursor { all: &all, at: i };
        let held = matches!(
            all.get(i - 1).map(|t| t.sort),
            Some(Sort::Word(
                "the"
                    | "to"
                    | "on"
                    | "with"
                    | "from"
                    | "towards"
                    | "of"
                    | "and"
                    | "over"
                    | "your"
                    | "in"
                    | "or"
            ))
        );
        let whose = one_side(&mut c);
        let (place, start) = (c.peek(), all.get(i));
        let body = crate::language::anatomy::joint(&mut c).is_some() && c.is_done();
        if let (Some(side), Some(place), Some(start), true, false) = (whose, place, start, body, held) {
            return Some(NameSide { side, region: Some((place.start, place.end)), from: 0, to: start.start });
        }
    }
    // At the end: `bridge R`, `bridge (R)`, `bridge each leg`.
    for (i, token) in all.iter().enumerate().skip(all.len().saturating_sub(5).max(1)) {
        let Some(hit) = sided(Cursor { all: &all, at: i }) else { continue };
        let [Item::Sided(side)] = hit.items.as_slice() else { continue };
        let before = all.get(i - 1).map(|t| t.sort);
        let held = matches!(
            before,
            Some(Sort::Word(
                "the"
                    | "to"
                    | "on"
                    | "with"
                    | "from"
                    | "towards"
                    | "of"
                    | "and"
                    | "over"
                    | "your"
                    | "in"
                    | "or"
            ))
        );
        if hit.next == all.len()
            && !held
            && *side != Sided::Together
            && (token.spaced || token.sort == Sort::Sign('(') || token.sort == Sort::Sign('/'))
        {
            return Some(NameSide { side: *side, region: None, from: 0, to: token.start });
        }
    }
    // At the start: `R straight leg raise`, `(R) bridge`, `right bridge`.
    let mut c = Cursor { all: &all, at: 0 };
    let bracket = c.sign('(');
    let side = one_side(&mut c)?;
    if bracket && !c.sign(')') {
        return None;
    }
    let joined = matches!(
        c.peek().map(|t| t.sort),
        Some(Sort::Sign('/' | '+' | '&' | '-') | Sort::Word("and" | "or" | "to"))
    );
    let next = c.peek().filter(|t| matches!(t.sort, Sort::Word(_) | Sort::Number(_)))?;
    (!joined && (bracket || next.spaced)).then_some(NameSide {
        side,
        region: None,
        from: next.start,
        to: whole,
    })
}

/// Whether a text is a dose and nothing else.
pub fn is_dose(text: &str, place: Place) -> Option<(Dose, Vec<Notice>)> {
    // `from week 3: 3 x 12` is a step.
    if span_lead(text).is_some() {
        return None;
    }
    let (dose, notices) = read(text, place);
    // What is asked stays as words, but for this one, which is read as an end.
    let asked =
        notices.iter().filter(|n| n.kind().starts_with("ask-") && n.kind() != "ask-until-weeks").count();
    let known = dose.words.len() <= asked;
    (known && dose != Dose::default()).then_some((dose, notices))
}

/// Whether a dose says how much or how often in numbers.
pub fn has_work(dose: &Dose) -> bool {
    !dose.work.is_empty()
        || dose.often.is_some()
        || dose.hold.is_some()
        || dose.tally == Some(Tally::EachSide)
}

/// Whether a dose says anything at all besides sides and words.
pub fn says_dose(dose: &Dose) -> bool {
    let plain = Dose { sides: dose.sides, tally: dose.tally, words: dose.words.clone(), ..Dose::default() };
    has_work(dose) || *dose != plain
}
