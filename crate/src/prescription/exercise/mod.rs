//! Parts an exercise line into name, side, region and dose, with and without colon and commas.

mod begin;
mod headed;
mod name;
mod step;
mod typed;
mod written;

pub use begin::strong;
pub use step::{part_step, step_verb};
pub use typed::TypedLine;

use super::Said;
use super::details::split;
use super::later::{self, Later};
use crate::dose::find::sides::one_side;
use crate::dose::parts::Ending;
use crate::dose::reader::add_side;
use crate::dose::say::Doubt;
use crate::dose::{Dose, End, Sided, Start, Tally, Work, of};
use crate::language::restraint::denial;
use crate::language::token::{Cursor, Token};
use crate::language::typed::Typed;
use crate::measure::Counts;
use crate::notice::Notice;
use crate::text::Place;
use crate::text::fold::folded;
use begin::leading;
use headed::{first_of_two, headed, names_one};
use name::{name_side, trailing_load};

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

/// The byte of the first colon that parts name and dose: not inside quotes, not between digits (`1:30`).
pub fn colon(text: &str) -> Option<(usize, usize)> {
    if !text.contains(':') && !text.contains('：') {
        return None;
    }
    let bytes = text.as_bytes();
    let mut from = 0;
    let mut quoted = false;
    // Looked for once: a line of nothing but quotes stays quick.
    let mut last_quote = None;
    loop {
        let rest = text.get(from..)?;
        let (at, c) = rest.char_indices().find(|(_, c)| matches!(c, ':' | '：' | '"' | '“' | '”'))?;
        let (at, after) = (from + at, from + at + c.len_utf8());
        from = after;
        if !matches!(c, ':' | '：') {
            let last = *last_quote.get_or_insert_with(|| text.rfind(['"', '”']));
            quoted = !quoted && last.is_some_and(|l| at < l);
            continue;
        }
        let digit = |i: Option<usize>| i.and_then(|i| bytes.get(i)).is_some_and(u8::is_ascii_digit);
        let clock = digit(at.checked_sub(1)) && digit(Some(after));
        if !quoted && !clock {
            return Some((at, after));
        }
    }
}

/// A start or an end before a line's colon (`start week 2: …`, `14 Dec onwards: …`), and where the line itself begins.
pub fn span_lead(typed: &Typed<'_>) -> Option<(Option<Start>, Option<End>, usize)> {
    let (at, after) = colon(typed.text)?;
    let (from, until) = span_alone(&typed.cut(0, at))?;
    Some((from, until, after))
}

/// Whether the whole of a line is a start, an end or both: `From week 3`, `until 20/12`.
pub fn span_alone(typed: &Typed<'_>) -> Option<(Option<Start>, Option<End>)> {
    crate::dose::find::span::whole(&typed.all, typed.text)
}

/// Where in a line something is said of its start or end.
pub fn span_place(typed: &Typed<'_>) -> Option<Place> {
    let (from, to) = crate::dose::find::span::place(&typed.all, typed.text)?;
    let place = typed.place;
    Some(Place { line: place.line, start: place.start + from, end: place.start + to })
}

/// Parts a line.
pub fn part(typed: &Typed<'_>) -> Parted {
    parted(typed, None)
}

/// Parts a line whose name may have details beside it; `own` are the folded names of the text's own exercises.
pub fn part_detailed(typed: &Typed<'_>, own: &[String]) -> Parted {
    if let Some(later::Behind { end, later, rest }) = later::behind(typed) {
        let mut first = parted(&typed.cut(0, end), Some(own));
        let both = match rest {
            None => Some(first.dose.clone()),
            Some((from, to)) => match is_dose(&typed.cut(from, to)) {
                Some((rest, told)) => {
                    first.notices.extend(told);
                    joined(&first.dose, &rest)
                }
                // `2x10 -> 3x15 wk 2, heels down`: words that go on with it.
                None => goes_on(typed, end, (from, to), own).map(|whole| {
                    first = whole;
                    first.dose.clone()
                }),
            },
        };
        let parted = first;
        // Only what is done can change.
        if let Some(dose) = both.filter(|dose| parted.name.is_some() && !dose.work.is_empty()) {
            return Parted { dose, later, ..parted };
        }
    }
    parted(typed, Some(own))
}

/// The line without what changes it later, where words stand behind that.
fn goes_on(typed: &Typed<'_>, end: usize, (from, to): (usize, usize), own: &[String]) -> Option<Parted> {
    let comma = typed.text.get(..from)?.rfind([',', ';']).filter(|comma| end <= *comma)?;
    let rest = format!("{}{}{}", typed.text.get(..end)?, " ".repeat(comma - end), typed.text.get(comma..to)?);
    let all = typed.all.iter().filter(|t| t.end <= end || comma <= t.start && t.end <= to).copied().collect();
    Some(parted(&Typed { text: &rest, place: typed.place, all }, Some(own)))
}

/// Whether a name is an exercise's as it stands.
fn is_named(name: &str, own: &[String]) -> bool {
    own.contains(&folded(name)) || crate::catalog::Catalog::embedded().is_named(name)
}

/// The line without the words that say when it begins, as long as before, its other words, and when: `start lunges wk 6
/// 2x8`.
fn begun<'a>(typed: &Typed<'a>) -> Option<(String, Vec<Token<'a>>, Start)> {
    let (verb, (from, to), start) = crate::dose::find::span::begun(&typed.all)?;
    let mut rest = " ".repeat(verb);
    rest.push_str(typed.text.get(verb..from)?);
    rest.push_str(&" ".repeat(to.checked_sub(from)?));
    rest.push_str(typed.text.get(to..)?);
    let left = |t: &&Token<'_>| verb <= t.start && !(from <= t.start && t.end <= to);
    Some((rest, typed.all.iter().filter(left).copied().collect(), start))
}

fn parted(typed: &Typed<'_>, own: Option<&[String]>) -> Parted {
    if colon(typed.text).is_none()
        && let Some((rest, all, start)) = begun(typed)
    {
        let mut parted = part_line(&Typed { text: &rest, place: typed.place, all }, own);
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
    if let Some(own) = own
        && let Some((from, to)) = by_sides(typed)
        && let (Some(before), Some(behind)) = (typed.text.get(..from), typed.text.get(to..))
    {
        let rest = format!("{before}{}{behind}", " ".repeat(to - from));
        let all = typed.all.iter().filter(|t| t.end <= from || to <= t.start).copied().collect();
        let mut parted = part_line(&Typed { text: &rest, place: typed.place, all }, Some(own));
        let said = typed.cut(from, to);
        parted.notices.extend(super::details::notices(&said));
        parted.details.push(Said::of(&said));
        return parted;
    }
    if let Some((from, until, after)) = span_lead(typed) {
        let mut parted = parted(&typed.trimmed(after, typed.text.len()), own);
        let said = &mut parted.dose;
        // Said twice, the line itself is nearer; what stands before it is kept as words.
        let twice = (from.is_some() && said.from.is_some()) || (until.is_some() && said.until.is_some());
        if twice {
            said.words.push(typed.text.get(..after).unwrap_or("").trim_end_matches(':').to_string());
        } else {
            said.from = said.from.or(from);
            said.until = said.until.take().or(until);
        }
        return parted;
    }
    part_line(typed, own)
}

fn part_line(typed: &Typed<'_>, own: Option<&[String]>) -> Parted {
    let Typed { text: content, place, .. } = *typed;
    let sub =
        |from: usize, to: usize| Place { line: place.line, start: place.start + from, end: place.start + to };
    let dose_of = |from: usize, to: usize| of(&typed.cut(from, to));
    let (mut from, mut to) = (0, content.len());
    let (dose, mut notices, dose_place);
    if let Some(parted) = own.and_then(|own| first_of_two(typed, own).or_else(|| headed(typed, own))) {
        return parted;
    }
    if let Some((at, after)) = colon(content) {
        to = at;
        let (mut tail, mut told) = dose_of(after, content.len());
        // `heel slide, once a week: 3x10`
        let headed = typed.cut(0, at);
        let whole = |i: usize| is_dose(&typed.cut(i, at)).is_some();
        if let Some(i) = strong(&headed)
            && names_one(&typed.cut(0, i))
            && (tail.work.is_empty() || whole(i))
        {
            let (head, more) = dose_of(i, at);
            if let Some(both) = joined(&head, &tail) {
                to = i;
                tail = both;
                told.splice(0..0, more);
            }
        }
        // `3: no overhead reaching` is no exercise done three times.
        let denied = || denial(&mut typed.cut(after, content.len()).start());
        let turned = (tail.work.is_empty() && !tail.words.is_empty() && !denied())
            .then(|| is_dose(&headed).filter(|(dose, _)| !dose.work.is_empty()))
            .flatten();
        if let Some((lead, more)) = turned {
            // `1x10, 3 sessions/day: chin tuck`
            (from, to) = (after, content.len());
            (dose, notices) = (lead, more);
            dose_place = sub(0, at);
        } else if own.is_some() && begin::is_lead(&headed) {
            // `5 lb each hand: 3 x 10` names nothing.
            to = 0;
            (dose, notices) = of(typed);
            dose_place = place;
        } else {
            (dose, notices) = (tail, told);
            dose_place = sub(after, content.len());
        }
    } else if let Some((name_at, lead_end)) = leading(typed) {
        let end = strong(&typed.cut(name_at, content.len())).map_or(content.len(), |i| name_at + i);
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
    } else if let Some(i) = strong(typed) {
        let named = names_one(&typed.cut(0, i));
        let i = if named { i } else { 0 };
        to = i;
        (dose, notices) = dose_of(i, content.len());
        dose_place = sub(i, content.len());
    } else {
        (dose, notices) = (Dose::default(), Vec::new());
        dose_place = sub(content.len(), content.len());
    }
    let mut dose = dose;
    let plain = typed.cut(from, to);
    let mut head = plain.text;
    let (mut start, mut end) = trimmed(head, 0, head.len());
    let mut side = None;
    let mut tally = dose.tally;
    let mut region = None;
    let loads = dose.loads.clone();
    // Sides and loads may stand at either end of the name, one after the other.
    for _ in 0..4 {
        let name = plain.cut(start, end);
        if let Some((kept, load)) = trailing_load(&name) {
            if !dose.loads.contains(&load) {
                dose.loads.insert(0, load);
            }
            (start, end) = trimmed(head, start, start + kept);
            continue;
        }
        let Some(found) = name_side(&name, own.is_some()) else { break };
        // `ankle circles R each way`
        let behind = name.text.get(found.to..).map_or("", crate::text::trim);
        let ways = |w: &str| matches!(w, "way" | "ways" | "direction" | "directions");
        if found.side == Sided::EachSide && turns_a_limb(&name) && folded(behind).split(' ').any(ways) {
            let doubt = Doubt::Unread { text: behind.to_string() };
            notices.push(crate::dose::say::notice(doubt, behind, dose_place));
            dose.words.push(behind.to_string());
            (start, end) = trimmed(head, start + found.from, start + found.to);
            continue;
        }
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
        let mut end_of = head.len();
        let mut kept = loads.clone();
        while let Some((at, load)) = trailing_load(&plain.cut(0, end_of)) {
            if !kept.contains(&load) {
                kept.insert(0, load);
            }
            end_of = at;
        }
        // `elbows tucked in 3x10`: the last word is theirs, where words stand before it.
        let tail = content.get(to..).unwrap_or("");
        let tail = tail.len() - crate::text::trim_start(tail).len();
        let inward = content.get(to + tail..).is_some_and(|t| {
            t.get(..3).is_some_and(|t| t.eq_ignore_ascii_case("in ")) && end_of == head.len()
        });
        let longer = inward.then(|| typed.cut(from, to + tail + 2)).filter(|whole| {
            split(whole, own)
                .is_some_and(|s| s.details.last().is_some_and(|d| d.1 == whole.text.len() && d.0 + 3 < d.1))
        });
        let taken = longer.unwrap_or_else(|| plain.cut(0, end_of));
        if let Some(found) = split(&taken, own)
            && let Some((both, counted)) = sides_of(&found.sides, dose.tally)
        {
            head = taken.text;
            (start, end) = found.name;
            (side, tally) = (both, counted);
            dose.loads = kept;
            let said = |(a, b): (usize, usize)| Said {
                text: head.get(a..b).unwrap_or("").to_string(),
                place: sub(from + a, from + b),
            };
            region = found.region.map(said);
            affected = found.affected.map(said);
            for (a, b) in &found.details {
                notices.extend(super::details::notices(&taken.cut(*a, *b)));
            }
            details = found.details.into_iter().map(said).collect();
        }
    }
    // `ankle circles 10 each way`: of a joint of a limb each way is each direction, and `flex/ext 10 each` of several
    // movements is each of them: no side.
    let counted_at =
        typed.all.iter().find(|t| t.spaced && matches!(t.sort, crate::language::token::Sort::Number(_)));
    let head_of = typed.cut(0, counted_at.map_or(content.len(), |t| t.start));
    let said_once = dose.sides == Some(Sided::EachSide) && side.is_none()
        || side == Some(Sided::EachSide) && dose.sides.is_none();
    if said_once
        && let Some(words) = (0..typed.all.len()).rev().find_map(|i| words_of(typed, i, Sided::EachSide))
        && (turns_a_limb(&head_of)
            && ["way", "ways", "direction", "directions"].iter().any(|end| folded(&words).ends_with(end))
            || names_several(&head_of) && matches!(folded(&words).as_str(), "each" | "ea"))
    {
        (dose.sides, side) = (None, None);
        notices.push(crate::dose::say::notice(Doubt::Unread { text: words.clone() }, &words, dose_place));
        dose.words.push(words);
    }
    if let Some(said) = dose.sides.take() {
        let mut both = side;
        match add_side(&mut both, &mut tally, said) {
            Ok(()) => side = both,
            Err(first) => {
                // As it was typed: `x 15 ea` of one wrist may be each movement.
                let each = said == Sided::EachSide;
                let typed_so =
                    (0..typed.all.len()).rev().filter(|_| each).find_map(|i| words_of(typed, i, said));
                let words = typed_so.unwrap_or_else(|| said.to_string());
                notices.push(super::say::side_twice(dose_place, first, words.clone()));
                dose.words.push(words);
            }
        }
    }
    dose.tally = tally;
    // `heel slides 3x10 R knee`: where, after the dose.
    if side.is_none()
        && region.is_none()
        && let Some((i, found, (a, b))) = placed_words(&dose.words, typed)
    {
        dose.words.remove(i);
        side = Some(found);
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

/// The bytes of what one side does and what the other: `(B) up, (L) down`. No side of them is the exercise's.
fn by_sides(typed: &Typed<'_>) -> Option<(usize, usize)> {
    use crate::language::token::Sort;
    const WAYS: [&str; 10] =
        ["up", "down", "lowers", "lower", "lifts", "raise", "lead", "leads", "lowering", "return"];
    let way = |at: usize| {
        let mut c = Cursor { all: &typed.all, at };
        let bracket = c.sign('(');
        let side = match c.peek_word()? {
            "both" | "b" | "two" | "bilat" => {
                c.at += 1;
                None
            }
            _ => Some(one_side(&mut c)?),
        };
        if bracket {
            c.sign(')');
        }
        c.word(&["leg", "legs", "foot", "feet"]);
        c.word(&WAYS)?;
        Some((side, c.at))
    };
    (1..typed.all.len()).find_map(|at| {
        let (first, mut next) = way(at)?;
        while matches!(
            typed.all.get(next).map(|t| t.sort),
            Some(Sort::Sign(',' | '/' | '+' | '&') | Sort::Word("and" | "then"))
        ) {
            next += 1;
        }
        let (second, end) = way(next)?;
        let (from, to) = (typed.all.get(at)?.start, typed.all.get(end.checked_sub(1)?)?.end);
        (first != second).then_some((from, to))
    })
}

/// Whether a name is of several movements or directions: `flex/ext`, `smile, brow, snarl`, `mobs all directions`.
fn names_several(name: &Typed<'_>) -> bool {
    use crate::language::token::Sort;
    let is_side = |t: Option<&Token<'_>>| matches!(t.map(|t| t.sort), Some(Sort::Word(w)) if matches!(w, "r" | "l" | "rt" | "lt" | "right" | "left" | "w" | "c"));
    let plural = |t: &Token<'_>| {
        matches!(
            t.sort,
            Sort::Word("directions" | "movements" | "positions" | "planes" | "exercises" | "stretches")
        )
    };
    let parted = (1..name.all.len()).any(|at| {
        let joins = matches!(
            name.all.get(at).map(|t| t.sort),
            Some(Sort::Sign('/' | ',' | '+' | '&') | Sort::Word("and"))
        );
        joins
            && !is_side(name.all.get(at - 1))
            && name.all.get(at + 1).is_some_and(|t| matches!(t.sort, Sort::Word(_)))
            && !is_side(name.all.get(at + 1))
    });
    parted || name.all.iter().any(plural)
}

/// Whether a name is of a joint that goes round in two directions on one side.
fn turns_a_limb(name: &Typed<'_>) -> bool {
    const LIMBS: [&str; 13] = [
        "ankle",
        "ankles",
        "wrist",
        "wrists",
        "shoulder",
        "shoulders",
        "elbow",
        "thumb",
        "thumbs",
        "finger",
        "fingers",
        "toe",
        "arm",
    ];
    name.all.iter().any(|t| matches!(t.sort, crate::language::token::Sort::Word(w) if LIMBS.contains(&w)))
}

/// The words at a token that say this side.
fn words_of(typed: &Typed<'_>, at: usize, side: Sided) -> Option<String> {
    let hit = crate::dose::find::sides::sided(Cursor { all: &typed.all, at })?;
    let (first, last) = (typed.all.get(at)?, typed.all.get(hit.next.checked_sub(1)?)?);
    let same = hit.items.as_slice() == [crate::dose::find::Item::Sided(side)];
    same.then(|| typed.text.get(first.start..last.end).map(str::to_string)).flatten()
}

/// Words of a dose that are a side and a joint and nothing else: which, the side, and the bytes of the joint in the line.
fn placed_words(words: &[String], typed: &Typed<'_>) -> Option<(usize, Sided, (usize, usize))> {
    words.iter().enumerate().find_map(|(i, text)| {
        let from = typed.text.find(text)?;
        let said = typed.cut(from, from + text.len());
        let mut c = said.start();
        let side = one_side(&mut c)?;
        let at = c.peek()?.start;
        let placed = crate::language::anatomy::joint(&mut c).is_some() && c.is_done();
        placed.then_some((i, side, (from + at, from + text.len())))
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

/// Whether a text is a dose and nothing else.
pub fn is_dose(typed: &Typed<'_>) -> Option<(Dose, Vec<Notice>)> {
    // `from week 3: 3 x 12` is a step.
    if span_lead(typed).is_some() {
        return None;
    }
    let (dose, notices) = of(typed);
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
