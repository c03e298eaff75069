//! What changes an exercise later or on a condition, in plain words: on a line below it, or behind a comma in its own.
//!
//! `if pain >4/10 drop to 2 sets`, `add weight when easy`, `once pain free 3 x 15`, `if limping, stop`,
//! `then 3 x 15 from week 4`, `stop if it gives way`.

use super::exercise::{Parted, has_work, is_dose, part_step, says_dose};
use super::{About, Said, Step, When};
use crate::dose::find::span;
use crate::dose::find::{Hit, Item, at};
use crate::dose::{Dose, Start, of};
use crate::language::token::{Cursor, Sort, Token};
use crate::language::typed::Typed;
use crate::notice::Notice;

/// What was found.
#[derive(Clone, Debug)]
pub enum Later {
    Step(Box<Step>, Vec<Notice>),
    Stop(Said),
}

impl Later {
    /// The canonical line below the exercise, without its indent.
    pub fn written(&self) -> String {
        match self {
            Later::Step(step, _) => step.written(),
            Later::Stop(said) => format!("{}: {}", About::StopIf.word(), said.text),
        }
    }

    /// Whether it says what is added by the day, and nothing else.
    fn grows(&self) -> bool {
        match self {
            Later::Step(step, _) => {
                !matches!(step.when, When::From(_)) && step.dose.ramp.is_some() && step.dose.work.is_empty()
            }
            Later::Stop(_) => false,
        }
    }
}

/// A longer line, in bytes, has its dose alone looked at.
const LONGEST: usize = 600;
/// More words than these before what is to be done are prose.
const LONGEST_CONDITION: usize = 16;

/// Verbs with which no exercise begins.
const VERBS: [&str; 22] = [
    "deload", "add", "increase", "reduce", "decrease", "halve", "skip", "miss", "omit", "stop", "wait",
    "repeat", "return", "revert", "continue", "progress", "ring", "call", "contact", "do", "try", "use",
];
/// Verbs that exercises begin with too: only with one of [`BEHIND`] or a number behind them.
const SOME: [&str; 15] = [
    "drop", "go", "back", "ease", "cut", "rest", "half", "take", "move", "keep", "slow", "double", "leave",
    "build", "just",
];
const BEHIND: [&str; 20] = [
    "it",
    "them",
    "this",
    "that",
    "the",
    "to",
    "by",
    "off",
    "down",
    "back",
    "on",
    "a",
    "all",
    "everything",
    "for",
    "out",
    "do",
    "up",
    "slowly",
    "gently",
];
/// Of these the words alone say a change: what they change needs no figure.
const CHANGES: [&str; 13] = [
    "deload", "add", "increase", "reduce", "decrease", "halve", "half", "double", "drop", "progress", "cut",
    "skip", "miss",
];
/// Behind one of these a verb is part of the condition: `if able to do 12`.
const LEADS: [&str; 13] =
    ["to", "can", "could", "you", "he", "she", "they", "cannot", "can't", "not", "will", "when", "if"];

/// What hurts is found, not told to be changed: `increase in pain`.
const COMPLAINTS: [&str; 12] = [
    "pain",
    "pains",
    "ache",
    "swelling",
    "numbness",
    "tingling",
    "weakness",
    "stiffness",
    "symptoms",
    "spasm",
    "in",
    "of",
];

/// Whether words tell of a complaint rather than of what to do; behind `as`, `if` or `when` it is a condition.
fn complains(all: &[Token<'_>]) -> bool {
    let words = all.iter().filter_map(|t| match t.sort {
        Sort::Word(word) => Some(word),
        Sort::Number(_) | Sort::Sign(_) => None,
    });
    words
        .take_while(|w| !matches!(*w, "as" | "if" | "when" | "once" | "unless" | "until"))
        .any(|w| COMPLAINTS.contains(&w))
}

/// Words of how it goes, by which a moment of the day is told from a condition.
const STATES: [&str; 30] = [
    "easy",
    "easier",
    "easily",
    "easyish",
    "able",
    "pain",
    "painful",
    "sore",
    "free",
    "comfortable",
    "comfortably",
    "settled",
    "settles",
    "better",
    "stronger",
    "strong",
    "steady",
    "stable",
    "confident",
    "ready",
    "ok",
    "okay",
    "well",
    "good",
    "swelling",
    "swollen",
    "without",
    "light",
    "tired",
    "manageable",
];

/// Whether words say at what moment something is done, not on what condition: `sitting`, `at the sink`, `a day`.
fn is_moment(first: &str, condition: &[Token<'_>]) -> bool {
    let begins = word(condition, 0).unwrap_or("");
    let state = condition.iter().any(|t| matches!(t.sort, Sort::Word(w) if STATES.contains(&w)));
    match first {
        "once" => matches!(
            begins,
            "a" | "an" | "per" | "daily" | "every" | "each" | "weekly" | "in" | "hourly" | "more"
        ),
        "when" => {
            !state && (begins.ends_with("ing") || matches!(begins, "at" | "in" | "on" | "you" | "out" | "up"))
        }
        _ => false,
    }
}

/// Whether words begin with an instruction, so that they name no exercise.
pub fn is_instruction(typed: &Typed<'_>) -> bool {
    verb(&typed.all, 0) && !crate::catalog::Catalog::embedded().is_named(typed.text)
}

/// Whether a name is no more than the verb of a change: `increase by`, `reduce to`, `add`.
pub fn is_verb(name: &Typed<'_>) -> bool {
    let mut c = name.start();
    c.word(&CHANGES).is_some() && {
        c.word(&["it", "this", "the"]);
        c.word(&["by", "to", "time", "reps", "sets", "hold"]);
        c.word(&["by", "to"]);
        c.is_done()
    }
}

fn word<'a>(all: &[Token<'a>], i: usize) -> Option<&'a str> {
    match all.get(i)?.sort {
        Sort::Word(word) => Some(word),
        Sort::Number(_) | Sort::Sign(_) => None,
    }
}

fn verb(all: &[Token<'_>], i: usize) -> bool {
    let Some(first) = word(all, i) else { return false };
    let number = matches!(all.get(i + 1).map(|t| t.sort), Some(Sort::Number(_)));
    VERBS.contains(&first)
        || (SOME.contains(&first)
            && (number
                || i + 1 == all.len() && matches!(first, "rest" | "half")
                || word(all, i + 1).is_some_and(|w| BEHIND.contains(&w))))
}

/// A whole line below an exercise.
pub fn line(typed: &Typed<'_>) -> Option<Later> {
    let text = Text::of(typed);
    let last = typed.all.len();
    text.condition_first(0, last).or_else(|| text.action_first(0, last))
}

/// Whether a line below an exercise tells in words alone how it goes on: `progress with weight as able`.
pub fn is_cue(typed: &Typed<'_>) -> bool {
    const SLOW: [&str; 3] = ["build", "ease", "slow"];
    let all = &typed.all;
    let first = word(all, 0).is_some_and(|w| CHANGES.contains(&w) || SLOW.contains(&w));
    first
        && 1 < all.len()
        && !complains(all)
        && verb(all, 0)
        && !says_dose(&super::exercise::part(typed).dose)
        && is_dose(typed).is_none()
}

/// What stands behind an exercise and its dose on its own line.
pub struct Behind {
    /// The byte at which the line itself ends.
    pub end: usize,
    pub later: Vec<Later>,
    /// The bytes of what goes on with the dose behind it: `…, progress to 1 kg when able, daily`.
    pub rest: Option<(usize, usize)>,
}

/// Looks for it; None: there is nothing such, or it is not understood to its end.
pub fn behind(typed: &Typed<'_>) -> Option<Behind> {
    let Typed { text: content, ref all, .. } = *typed;
    if LONGEST < content.len() {
        return None;
    }
    let text = Text::of(typed);
    let heads: Vec<usize> = (2..all.len()).filter(|i| text.is_head(*i)).collect();
    let ends = || heads.iter().copied().chain([all.len()]);
    let mut begun = None;
    let mut found = Vec::new();
    let mut rest = None;
    let mut done = 0;
    for from in heads.iter().copied() {
        if from < done {
            continue;
        }
        let whole = |to: usize| {
            // What stands behind a comma goes on with the dose.
            let last = (from..to).find(|i| text.is_comma(*i)).unwrap_or(to);
            if let Some(later) = text.arrowed(from, last) {
                return Some((last, later));
            }
            let later = text
                .condition_first(from, to)
                .or_else(|| text.stage(from, to))
                .or_else(|| text.stop(from, to));
            later.map(|later| (to, later))
        };
        // A comma may stand before what is to be done.
        let until = if text.arrow(from).is_some() { 1 } else { 2 };
        let next = ends().filter(|to| from < *to).take(until).find_map(whole);
        let comma = || (from..all.len()).find(|i| text.is_comma(*i)).unwrap_or(all.len());
        let here = next.or_else(|| text.action_first(from, comma()).map(|later| (comma(), later)));
        // What is added by the day, whatever is said beside it, is part of the dose.
        let Some((to, later)) = here.filter(|(_, later)| !later.grows()) else {
            if begun.is_none() {
                continue;
            }
            return None;
        };
        begun.get_or_insert(from);
        found.push(later);
        done = to;
        let next = ends().find(|head| to <= *head).unwrap_or(all.len());
        if to < next && (to..next).any(|i| !text.is_comma(i)) {
            if rest.replace(text.bytes(to, next)?).is_some() {
                return None;
            }
            done = next;
        }
    }
    let (end, _) = text.bytes(begun?, all.len())?;
    let before =
        content.get(..end)?.trim_end_matches(|c: char| crate::text::is_space(c) || matches!(c, ',' | ';'));
    Some(Behind { end: before.len(), later: found, rest })
}

/// A line with its tokens.
struct Text<'a> {
    typed: &'a Typed<'a>,
    content: &'a str,
    all: &'a [Token<'a>],
}

impl<'a> Text<'a> {
    fn of(typed: &'a Typed<'a>) -> Text<'a> {
        Text { typed, content: typed.text, all: &typed.all }
    }

    /// Some tokens as a part of the line.
    fn part(&self, from: usize, to: usize) -> Option<Typed<'a>> {
        let (start, end) = self.bytes(from, to)?;
        Some(self.typed.cut(start, end))
    }

    fn is_comma(&self, i: usize) -> bool {
        matches!(self.all.get(i).map(|t| t.sort), Some(Sort::Sign(',' | ';')))
    }

    fn cursor(&self, from: usize, to: usize) -> Cursor<'_> {
        Cursor { all: self.all.get(..to).unwrap_or(&[]), at: from }
    }

    /// The bytes of some tokens, without commas at their ends.
    fn bytes(&self, mut from: usize, mut to: usize) -> Option<(usize, usize)> {
        while from < to && self.is_comma(from) {
            from += 1;
        }
        while from < to && self.is_comma(to.checked_sub(1)?) {
            to -= 1;
        }
        let (first, last) = (self.all.get(from)?, self.all.get(to.checked_sub(1)?)?);
        (from < to).then_some((first.start, last.end))
    }

    fn said(&self, from: usize, to: usize) -> Option<Said> {
        self.part(from, to).map(|part| Said::of(&part))
    }

    /// Whether something may begin here that is no part of the dose: a condition, an instruction, a stage.
    fn is_head(&self, i: usize) -> bool {
        let comma = i.checked_sub(1).is_some_and(|before| self.is_comma(before));
        let Some(token) = self.all.get(i) else { return false };
        if !(comma || token.spaced) || self.depth(i) != 0 {
            return false;
        }
        let first = word(self.all, i);
        if comma {
            return matches!(first, Some("when" | "if" | "once" | "then"))
                || verb(self.all, i)
                || self.begins(i, self.all.len()).is_some();
        }
        if self.arrow(i).is_some() && self.is_dosed_before(i) {
            return true;
        }
        // Without a comma only where nothing else can be meant.
        let to =
            |verbs: &[&str]| first.is_some_and(|w| verbs.contains(&w)) && word(self.all, i + 1) == Some("to");
        (first == Some("then") || to(&["progress", "drop", "increase", "reduce"])) && self.is_dosed_before(i)
    }

    /// A start at a place, and the token behind it; `weeks 3-6` says more than a start.
    fn begins(&self, from: usize, to: usize) -> Option<(Start, usize)> {
        let (start, behind) = span::start(self.all.get(from..to)?)?;
        let ends = |hit: Hit| hit.items.iter().any(|i| matches!(i, Item::Until(_)));
        (!at(self.cursor(from, to), self.content).is_some_and(ends)).then_some((start, from + behind))
    }

    fn is_dosed_before(&self, i: usize) -> bool {
        self.all.get(..i).unwrap_or(&[]).iter().any(|t| matches!(t.sort, Sort::Number(_)))
    }

    /// How many brackets are open.
    fn depth(&self, i: usize) -> usize {
        self.all.get(..i).unwrap_or(&[]).iter().fold(0usize, |depth, t| match t.sort {
            Sort::Sign('(') => depth + 1,
            Sort::Sign(')') => depth.saturating_sub(1),
            Sort::Number(_) | Sort::Word(_) | Sort::Sign(_) => depth,
        })
    }

    /// `if sore next day, 2 sets`, `when 12 are easy add weight`, `if limping, stop`.
    fn condition_first(&self, from: usize, to: usize) -> Option<Later> {
        let first = word(self.all, from).filter(|w| matches!(*w, "when" | "if" | "once"))?;
        let begins = from + 1;
        let last = to.min(begins + LONGEST_CONDITION);
        let spaced = |i: &usize| self.all.get(*i).is_some_and(|t| t.spaced);
        // An instruction, or what stands behind a sign or a word that parts.
        let found = (begins + 1..last).filter(spaced).find_map(|i| {
            let before = i.checked_sub(1)?;
            let parted = self.is_comma(before)
                || matches!(
                    self.all.get(before).map(|t| t.sort),
                    Some(Sort::Sign(':' | '=' | '>') | Sort::Word("then"))
                ) && self.parts(before);
            let instructs = verb(self.all, i) && !word(self.all, before).is_some_and(|w| LEADS.contains(&w));
            if !parted && !instructs {
                return None;
            }
            let ends = if parted { self.before_sign(before) } else { i };
            self.action(i, to).map(|act| (ends, act))
        });
        // A dose to the end of the line: `once pain free 3 x 15`.
        let (ends, act) = found.or_else(|| {
            (begins + 1..last).filter(spaced).find_map(|i| {
                let before = i.checked_sub(1)?;
                word(self.all, before)?;
                if word(self.all, before).is_some_and(|w| COMPARES.contains(&w) || LEADS.contains(&w)) {
                    return None;
                }
                self.dosed(i, to).map(|parted| (i, Act::Dose(Box::new(parted))))
            })
        })?;
        if is_moment(first, self.all.get(begins..ends)?) {
            return None;
        }
        let condition = self.condition(begins, ends)?;
        self.later(first == "if", condition, act, from, to)
    }

    /// Whether a sign between a condition and what is to be done parts the two: `then`, a colon, an arrow.
    fn parts(&self, at: usize) -> bool {
        match self.all.get(at).map(|t| t.sort) {
            // `pain > 4` compares, `-> 2 sets` parts.
            Some(Sort::Sign('>')) => at
                .checked_sub(1)
                .is_some_and(|b| matches!(self.all.get(b).map(|t| t.sort), Some(Sort::Sign('-' | '=')))),
            _ => true,
        }
    }

    fn before_sign(&self, at: usize) -> usize {
        let arrow = matches!(self.all.get(at).map(|t| t.sort), Some(Sort::Sign('>')));
        if arrow { at.saturating_sub(1) } else { at }
    }

    /// `add weight when easy`, `progress to 3 x 12 when easy`, `drop to 2 min if limping`.
    fn action_first(&self, from: usize, to: usize) -> Option<Later> {
        let then = word(self.all, from) == Some("then");
        if !then && !verb(self.all, from) {
            return None;
        }
        let when = (from + 1..to).find(|i| {
            self.all.get(*i).is_some_and(|t| t.spaced)
                && (matches!(word(self.all, *i), Some("when" | "if" | "once")) || self.as_able(*i, to))
        })?;
        let act = self.action(from, to.min(when))?;
        let first = word(self.all, from)?;
        if matches!(act, Act::Stop) {
            return self.said(when + 1, to).map(Later::Stop);
        }
        if is_moment(word(self.all, when)?, self.all.get(when + 1..to)?) {
            return None;
        }
        let by_words = matches!(act, Act::Words(_));
        if by_words && complains(self.all.get(from..when)?) {
            return None;
        }
        // `reduce as swelling settles`, `use the rail if wobbly`: said best as it is typed.
        if by_words && (word(self.all, when) == Some("as") || !CHANGES.contains(&first)) {
            return None;
        }
        // `progress to 3x12 when 3x8 is easy, then add 5 kg`: what comes after that is no part of the condition.
        let comma = (when + 1..to).find(|i| self.is_comma(*i) && word(self.all, i + 1) == Some("then"));
        let condition = self.condition(when + 1, comma.unwrap_or(to))?;
        let act = match (act, comma.and_then(|comma| self.said(comma + 1, to))) {
            (Act::Dose(mut parted), Some(then)) => {
                parted.dose.words.push(then.text);
                Act::Dose(parted)
            }
            (Act::Words(mut parted), Some(then)) => {
                parted.dose.words.push(then.text);
                Act::Words(parted)
            }
            (act, _) => act,
        };
        self.later(word(self.all, when) == Some("if"), condition, act, from, to)
    }

    /// `as able`, `as tolerated`, `as pain allows`: to the end.
    fn as_able(&self, i: usize, to: usize) -> bool {
        let mut c = self.cursor(i, to);
        c.word(&["as"]).is_some()
            && (c.word(&["able", "tolerated", "comfortable"]).is_some()
                || c.word(&["pain", "comfort", "symptoms"]).is_some()
                    && c.word(&["allows", "allow", "permits"]).is_some())
            && c.is_done()
    }

    /// `then 3 x 15 from week 4`, `from 14 Dec 3 x 8`: a stage by date.
    fn stage(&self, from: usize, to: usize) -> Option<Later> {
        if let Some((start, mut at)) = self.begins(from, to) {
            while matches!(self.all.get(at).map(|t| t.sort), Some(Sort::Sign(':' | '-' | ','))) {
                at += 1;
            }
            if let Some(parted) = self.reach(at, to) {
                return self.step(When::From(start), parted, from, to);
            }
            let parted = self.parted(at, to)?;
            return (!parted.dose.work.is_empty() && parted.dose.from.is_none())
                .then(|| self.step(When::From(start), parted, from, to))
                .flatten();
        }
        (word(self.all, from) == Some("then") || verb(self.all, from)).then_some(())?;
        let mut parted = self.parted(from, to)?;
        let start = parted.dose.from.take()?;
        let dosed = has_work(&parted.dose) || !parted.dose.loads.is_empty();
        dosed.then(|| self.step(When::From(start), parted, from, to)).flatten()
    }

    /// The token behind an arrow at a place: `->`, `→`.
    fn arrow(&self, i: usize) -> Option<usize> {
        let mut c = self.cursor(i, self.all.len());
        (c.signs("->") || c.signs("=>") || c.sign('→')).then_some(c.at)
    }

    /// `-> 3x12 wk 3`, `-> single leg when easy`: what comes later and says when.
    fn arrowed(&self, from: usize, to: usize) -> Option<Later> {
        let mut begins = self.arrow(from)?;
        if word(self.all, begins) == Some("then") {
            begins += 1;
        }
        let known = |name: &Said| crate::catalog::Catalog::embedded().is_named(&name.text);
        // Behind an arrow a week is when it begins: `3x12 wk 3`.
        let weeks = (begins + 1..to).find_map(|at| {
            let mut c = self.cursor(at, to);
            c.word(&["in", "from", "at", "by"]);
            c.word(&["week", "wk", "w"])?;
            let week = u8::try_from(c.whole()?).ok().filter(|week| (1..=104).contains(week))?;
            Some((at, c.at, week))
        });
        if let Some((at, behind, week)) = weeks {
            let mut parted = self.parted(begins, at)?;
            parted.dose.words.extend(self.said(behind, to).map(|said| said.text));
            let does = |name: &Said| {
                name.text.split(' ').any(|w| super::details::is_doing(&crate::text::fold::folded(w)))
            };
            let says = has_work(&parted.dose) || parted.name.as_ref().is_some_and(does);
            return says.then(|| self.step(When::From(Start::Week(week)), parted, from, to)).flatten();
        }
        let mut parted = self.parted(begins, to)?;
        let says =
            |p: &Parted| has_work(&p.dose) || !p.dose.loads.is_empty() || p.name.as_ref().is_some_and(known);
        if let Some(start) = parted.dose.from.take() {
            return says(&parted).then(|| self.step(When::From(start), parted, from, to)).flatten();
        }
        let when = (begins + 1..to).find(|i| matches!(word(self.all, *i), Some("when" | "if" | "once")))?;
        let first = word(self.all, when)?;
        if is_moment(first, self.all.get(when + 1..to)?) {
            return None;
        }
        let act = self.action(begins, when).filter(|act| matches!(act, Act::Dose(_)))?;
        let condition = self.condition(when + 1, to)?;
        self.later(first == "if", condition, act, from, to)
    }

    /// How far the motion goes from then on: `to 120`, `to 90 deg`.
    fn reach(&self, from: usize, to: usize) -> Option<Parted> {
        let mut c = self.cursor(from, to);
        c.word(&["to"])?;
        c.whole().filter(|degrees| (1..=180).contains(degrees))?;
        let _ = c.sign('°') || c.word(&["deg", "degs", "degree", "degrees"]).is_some();
        let said = self.part(from, c.at)?;
        let words = Dose { words: vec![said.text.to_string()], ..Dose::default() };
        c.is_done().then(|| Parted {
            name: None,
            side: None,
            region: None,
            affected: None,
            details: Vec::new(),
            dose: words,
            dose_place: said.place,
            later: Vec::new(),
            notices: Vec::new(),
        })
    }

    /// `stop if it gives way`, `stop when dizzy`.
    fn stop(&self, from: usize, to: usize) -> Option<Later> {
        let mut c = self.cursor(from, to);
        c.word(&["stop"])?;
        c.word(&["if", "when"])?;
        self.said(c.at, to).map(Later::Stop)
    }

    fn parted(&self, from: usize, to: usize) -> Option<Parted> {
        Some(part_step(&self.part(from, to)?))
    }

    /// A dose and nothing else.
    fn dosed(&self, from: usize, to: usize) -> Option<Parted> {
        let hit = at(self.cursor(from, to), self.content)?;
        hit.items.iter().any(|i| matches!(i, Item::Work(_))).then_some(())?;
        let said = self.part(from, to)?;
        let (dose, _) = of(&said);
        (dose.words.is_empty() && !dose.work.is_empty()).then(|| part_step(&said))
    }

    /// What is to be done; None: it is nothing that one does.
    fn action(&self, from: usize, to: usize) -> Option<Act> {
        let said = self.part(from, to)?;
        let mut c = self.cursor(from, to);
        if c.word(&["stop"]).is_some() {
            c.word(&["it", "there", "this", "exercise", "that"]);
            c.word(&["exercise", "one"]);
            if c.is_done() {
                return Some(Act::Stop);
            }
        }
        let parted = part_step(&said);
        let known = |name: &Said| crate::catalog::Catalog::embedded().is_named(&name.text);
        let says = has_work(&parted.dose) || !parted.dose.loads.is_empty() || parted.dose.ramp.is_some();
        if says || parted.name.as_ref().is_some_and(known) {
            return Some(Act::Dose(Box::new(parted)));
        }
        let words = Dose { words: vec![said.text.to_string()], ..Dose::default() };
        verb(self.all, from).then(|| {
            Act::Words(Box::new(Parted {
                name: None,
                side: None,
                details: Vec::new(),
                dose: words,
                notices: Vec::new(),
                ..parted
            }))
        })
    }

    /// The words of a condition; a sign that compares stands apart.
    fn condition(&self, from: usize, to: usize) -> Option<String> {
        let said = self.said(from, to)?;
        let text = crate::text::trim(said.text.trim_end_matches(['-', '=', ':']));
        let mut out = String::new();
        for c in text.chars() {
            let sign = matches!(c, '>' | '<' | '≥' | '≤');
            let before = out.chars().next_back();
            if sign && before.is_some_and(|b| !crate::text::is_space(b)) {
                out.push(' ');
            }
            let compared = matches!(before, Some('>' | '<' | '≥' | '≤')) && c.is_alphanumeric();
            if compared || (before == Some('=') && c.is_alphanumeric()) {
                out.push(' ');
            }
            out.push(c);
        }
        (!out.is_empty()).then_some(out)
    }

    fn later(&self, is_if: bool, condition: String, act: Act, from: usize, to: usize) -> Option<Later> {
        let parted = match act {
            Act::Stop => {
                let said = self.said(from, to)?;
                return Some(Later::Stop(Said { text: condition, place: said.place }));
            }
            Act::Dose(parted) | Act::Words(parted) => parted,
        };
        let when = if is_if { When::If(condition) } else { When::When(condition) };
        self.step(when, *parted, from, to)
    }

    fn step(&self, when: When, parted: Parted, from: usize, to: usize) -> Option<Later> {
        let place = self.said(from, to)?.place;
        let Parted { name, side, dose, notices, .. } = parted;
        Some(Later::Step(Box::new(Step { when, name, side, dose, place }), notices))
    }
}

/// Behind one of these a number is part of the condition.
const COMPARES: [&str; 12] =
    ["over", "above", "below", "under", "than", "least", "most", "to", "of", "past", "beyond", "about"];

/// What is to be done.
enum Act {
    Stop,
    Dose(Box<Parted>),
    /// In words.
    Words(Box<Parted>),
}
