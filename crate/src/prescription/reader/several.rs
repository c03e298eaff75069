//! Lines that hold several things: sentences that each say something by themselves, and several exercises.

use super::Reading;
use super::classify::{Class, LONGEST_BARE, classify, rounds};
use crate::dose::Dose;
use crate::dose::say::{Doubt, notice};
use crate::language::restraint;
use crate::language::token::{Sort, Token};
use crate::language::typed::{Typed, lexed};
use crate::notice::{Edit, Notice};
use crate::prescription::details::is_doing;
use crate::prescription::exercise::{Parted, TypedLine, colon, has_work, part_detailed};
use crate::prescription::kept;
use crate::prescription::words::Key;
use crate::text::fold::folded;
use crate::text::{Line, Place, trim, trim_end};

/// At most so many exercises of one line are written out.
const MOST: usize = 12;

/// Words that go on with the exercise before.
const JOINS: [&str; 14] = [
    "then", "when", "if", "once", "until", "progress", "to", "hold", "rest", "with", "each", "add", "build",
    "increase",
];

impl Reading {
    /// A sentence that notes, forbids or orders, and an exercise behind its full stop, or one that forbids behind what is no
    /// exercise: `O/E IR stiff. glute sets 10 x 5 s`, `log roll in bed. No twisting`. None: the line is one thing.
    pub(super) fn sentences<'a>(&self, line: &Line<'a>, deep: bool) -> Option<(Line<'a>, Line<'a>)> {
        let content = line.content();
        if !self.rules.plain
            || self.rules.forbids
            || deep
            || !content.contains(['.', ';'])
            || LONGEST_BARE < content.len()
        {
            return None;
        }
        let (end, start) = lexed(content, line.place(), |typed| {
            if kept::begins_private(&TypedLine::new(typed)) || colon(content).is_some_and(|(at, _)| at < 24) {
                return None;
            }
            stops(&typed.all).find_map(|at| {
                let (stop, next) = (typed.all.get(at)?.start, typed.all.get(at + 1)?.start);
                let (before, behind) = (typed.trimmed(0, stop), typed.trimmed(next, content.len()));
                self.says_apart(&before, &behind).then(|| (trim_end(before.text).len(), next))
            })
        })?;
        Some((Line { end: line.start + end, ..*line }, Line { start: line.start + start, ..*line }))
    }

    fn says_apart(&self, before: &Typed<'_>, behind: &Typed<'_>) -> bool {
        let class =
            |typed: &Typed<'_>| classify(typed.text, typed.place, false, false, self.rules, &self.own_names);
        // `pendulum R 2 min; no active flexion until week 4` binds beyond the exercise.
        let lasts = |typed: &Typed<'_>| {
            typed.all.iter().any(|t| matches!(t.sort, Sort::Word("until" | "till" | "til")))
                && restraint::denial(&mut typed.start())
        };
        let is_exercise = |typed: &Typed<'_>, class: &Class| match class {
            Class::Exercise(parted) => self.is_exercise(typed.text, parted),
            _ => false,
        };
        let first = class(before);
        if is_exercise(before, &first) {
            return lasts(behind) && matches!(class(behind), Class::Plain(..));
        }
        let finding = matches!(first, Class::Key(Key::Finding, _));
        // What is only told, and neither forbids nor orders by how it begins, parts nothing.
        let binds = |typed: &Typed<'_>, class: &Class| {
            matches!(class, Class::Plain(..)) && restraint::plain(&typed.all).is_some()
        };
        let notes = finding
            || binds(before, &first)
            || matches!(first, Class::Noted(..) | Class::Private(_) | Class::Exercise(_));
        let second = class(behind);
        match &second {
            Class::Exercise(parted) => {
                notes
                    && !matches!(first, Class::Exercise(_))
                    && self.is_exercise(behind.text, parted)
                    && has_work(&parted.dose)
            }
            second => binds(behind, second) && matches!(first, Class::Exercise(_)),
        }
    }

    /// What is asked where a line names several exercises, each with work of its own: with each on a line of its own as
    /// the edit.
    pub(super) fn several(&self, line: &Line<'_>, deep: bool) -> Option<Notice> {
        let content = line.content();
        let numbered = content.bytes().filter(u8::is_ascii_digit).count();
        if !self.rules.plain || deep || numbered < 2 || LONGEST_BARE < content.len() {
            return None;
        }
        let pieces = lexed(content, line.place(), |typed| self.exercises_of(typed))?;
        let second = pieces.get(1)?;
        let place =
            Place { start: line.start + second.0, end: line.start + trim_end(content).len(), ..line.place() };
        let with = pieces.iter().map(|(_, text)| text.as_str()).collect::<Vec<_>>().join("\n");
        let typed = content.get(second.0..).map_or("", trim);
        Some(notice(Doubt::Another, typed, place).with(Edit { place: line.place(), with }))
    }

    /// Where each exercise of a line begins, and how it is written alone. None: there are not several.
    fn exercises_of(&self, typed: &Typed<'_>) -> Option<Vec<(usize, String)>> {
        let content = typed.text;
        let works = |text: &Typed<'_>| self.worked(text);
        // What stands before a colon is said of each: `3x/wk gym: leg press 3x8, curl 3x10`.
        parts(&typed.all).next()?;
        let head = colon(content).map(|(at, after)| (typed.trimmed(0, at), after));
        if head.as_ref().is_some_and(|(head, _)| rounds(&folded(head.text)).is_some()) {
            return None;
        }
        let (head, from) = match &head {
            Some((head, after)) if works(head).is_none() => (Some(head), *after),
            _ => (None, 0),
        };
        let body = typed.trimmed(from, content.len());
        let begun = content.len() - typed.text.get(from..).map_or(0, |t| crate::text::trim_start(t).len());
        let mut cuts = vec![0];
        for at in parts(&body.all) {
            let start = body.all.get(at)?.start;
            // No name begins like a dose, and each has a number behind it.
            let c = crate::language::token::Cursor { all: &body.all, at };
            let named = matches!(c.peek().map(|t| t.sort), Some(Sort::Word(w)) if !JOINS.contains(&w));
            let numbered = |all: &[Token<'_>]| all.iter().any(|t| matches!(t.sort, Sort::Number(_)));
            // `…. L knee: clam 2x12`: what stands before a colon of its own is no dose.
            let headed = || {
                let rest = body.text.get(start..).unwrap_or("");
                let label = colon(rest).and_then(|(at, _)| rest.get(..at));
                label.is_some_and(|label| label.len() < 24 && !label.contains([',', ';', '.', '+']))
            };
            let dosed = || crate::dose::find::at(c, body.text).is_some();
            if !named || !numbered(body.all.get(at..)?) || dosed() && !headed() {
                continue;
            }
            let last = cuts.last().copied().unwrap_or(0);
            let (before, behind) = (body.trimmed(last, start), body.trimmed(start, body.text.len()));
            if works(&before).is_some() && works(&behind).is_some_and(|p| self.begins_other(&behind, &p)) {
                cuts.push(start);
            }
        }
        if cuts.len() < 2 || MOST < cuts.len() {
            return None;
        }
        let ends = cuts.iter().skip(1).copied().chain([body.text.len()]);
        let said = |(from, to): (usize, usize)| {
            let piece = body.text.get(from..to).unwrap_or("");
            let piece =
                piece.trim_matches(|c: char| crate::text::is_space(c) || matches!(c, ',' | ';' | '+' | '.'));
            let text = match head {
                Some(head) if colon(piece).is_none() && scheduled(head) => format!("{piece}, {}", head.text),
                Some(head) if colon(piece).is_none() => format!("{}: {piece}", head.text),
                _ => piece.to_string(),
            };
            (begun + from, text)
        };
        Some(cuts.iter().copied().zip(ends).map(said).collect())
    }

    /// A part of a line that names something done and how much of it.
    fn worked(&self, typed: &Typed<'_>) -> Option<Parted> {
        let parted = part_detailed(typed, &self.own_names);
        let counted = !parted.dose.work.is_empty() || parted.dose.hold.is_some();
        (parted.name.is_some() && counted && self.is_exercise(typed.text, &parted)).then_some(parted)
    }

    /// Whether the part begins with the name of an exercise, and not with how the one before is done.
    fn begins_other(&self, typed: &Typed<'_>, parted: &Parted) -> bool {
        let first = typed.start().peek_word();
        let Some(name) = &parted.name else { return false };
        let at_start = name.place.start <= typed.place.start + typed.text.len().min(12);
        let own_name = self.own_names.contains(&folded(&name.text));
        let known = own_name || crate::catalog::Catalog::embedded().is_named(&name.text);
        let does = || folded(&name.text).split(' ').any(is_doing);
        let denied = restraint::denial(&mut typed.start());
        let dosed = parted.dose != Dose::default();
        !denied && dosed && at_start && first.is_some_and(|w| !JOINS.contains(&w)) && (known || does())
    }
}

/// Whether a head says how often what is behind it is done, and not only on which days.
fn scheduled(head: &Typed<'_>) -> bool {
    let (dose, _) = crate::dose::of(head);
    let days = crate::dose::find::often::weekday_set(&mut head.start()).is_some();
    dose.often.is_some() && !days
}

/// Full stops that end a sentence: words stand on both sides, and the one before is no short form.
fn stops<'t>(all: &'t [Token<'_>]) -> impl Iterator<Item = usize> + 't {
    (1..all.len()).filter(|at| {
        let stop = all.get(*at).is_some_and(|t| matches!(t.sort, Sort::Sign('.' | ';')) && !t.spaced);
        const SHORT: [&str; 24] = [
            "lt", "rt", "bilat", "bil", "alt", "wt", "reps", "dr", "mr", "mrs", "ms", "approx", "st", "no",
            "vs", "wk", "wks", "min", "mins", "sec", "secs", "hr", "hrs", "ext",
        ];
        let before = at.checked_sub(1).and_then(|at| all.get(at));
        let whole = before.is_some_and(|t| match t.sort {
            Sort::Word(w) => 1 < w.len() && !SHORT.contains(&w),
            Sort::Number(_) => true,
            Sort::Sign(s) => matches!(s, ')' | '%' | '°'),
        });
        let next =
            all.get(at + 1).is_some_and(|t| t.spaced && matches!(t.sort, Sort::Word(_) | Sort::Number(_)));
        stop && whole && next
    })
}

/// The tokens behind what parts a line, outside brackets.
fn parts<'t>(all: &'t [Token<'_>]) -> impl Iterator<Item = usize> + 't {
    let mut depth = 0usize;
    let inside: Vec<bool> = all
        .iter()
        .map(|t| {
            match t.sort {
                Sort::Sign('(') => depth += 1,
                Sort::Sign(')') => depth = depth.saturating_sub(1),
                _ => {}
            }
            0 < depth
        })
        .collect();
    let parted = move |at: &usize| {
        let sign = matches!(all.get(at - 1).map(|t| t.sort), Some(Sort::Sign(',' | ';' | '+' | '.')));
        let spaced = all.get(*at).is_some_and(|t| t.spaced);
        sign && spaced && !inside.get(*at).copied().unwrap_or(true)
    };
    (1..all.len()).filter(parted)
}
