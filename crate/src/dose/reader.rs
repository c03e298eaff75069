//! Reads a dose: pieces between commas, parts within them, and words where nothing was understood.

use super::find::moments::apart;
use super::find::{Hit, Item, at, is_filler};
use super::parts::{Days, Ending, Moment, Often};
use super::say::Doubt;
use super::{Dose, End, Portion, Sided, Start, Tally, Work};
use crate::language::token::{Cursor, Sort, Token};
use crate::language::typed::Typed;
use crate::language::unit::{self, Kind};
use crate::measure::{Counts, Weekdays};
use crate::notice::Notice;
use crate::notice::kinds::dose::Once;
use crate::text::Place;
use crate::text::near;

/// A longer text, in bytes, is no dose: it is kept as typed.
const LONGEST_DOSE: usize = 600;

/// See [`super::read`].
pub(super) fn read(typed: &Typed<'_>) -> (Dose, Vec<Notice>) {
    let Typed { text, place: at, ref all } = *typed;
    if LONGEST_DOSE < text.len() {
        let words = vec![crate::text::trim(text).to_string()];
        let notice = super::say::notice(Doubt::TooLong, "", at);
        return (Dose { words, ..Dose::default() }, vec![notice]);
    }
    // What stands first is first, whatever parts it from nothing.
    if let Some(begins) = all.iter().find(|t| !matches!(t.sort, Sort::Sign(',' | ';'))).map(|t| t.start)
        && 0 < begins
    {
        return read(&typed.cut(begins, text.len()));
    }
    let mut reader = Reader {
        source: text,
        at,
        dose: Dose::default(),
        notices: Vec::new(),
        gathered: Gathered::default(),
        refused: false,
    };
    for piece in pieces(all) {
        reader.piece(piece);
    }
    reader.finish();
    (reader.dose, reader.notices)
}

/// The pieces between commas and semicolons, brackets kept whole; commas between weekdays don't part.
fn pieces<'t, 'a>(all: &'t [Token<'a>]) -> Vec<&'t [Token<'a>]> {
    let mut out = Vec::new();
    let mut depth = 0usize;
    let mut from = 0;
    let paired = paired(all);
    for (i, t) in all.iter().enumerate() {
        match t.sort {
            Sort::Sign('(') => depth += usize::from(paired.get(i) == Some(&true)),
            Sort::Sign(')') => depth = depth.saturating_sub(usize::from(paired.get(i) == Some(&true))),
            Sort::Sign(',' | ';') if depth == 0 => {
                let day = |t: Option<&Token<'_>>| match t.map(|t| t.sort) {
                    Some(Sort::Word(w)) => super::find::often::is_day(w),
                    Some(Sort::Number(_) | Sort::Sign(_)) | None => false,
                };
                let before = i.checked_sub(1).and_then(|b| all.get(b));
                let tight_kilos = decimal_comma(all, i) || super::find::ramp_goes_on(all, from, i);
                let listed = t.sort == Sort::Sign(',') && day(before) && day(all.get(i + 1));
                if !(tight_kilos || listed) {
                    out.push(all.get(from..i).unwrap_or(&[]));
                    from = i + 1;
                }
            }
            Sort::Number(_) | Sort::Word(_) | Sort::Sign(_) => {}
        }
    }
    out.push(all.get(from..).unwrap_or(&[]));
    out.retain(|p| !p.is_empty());
    out
}

/// Whether two days or more are named from the cursor to `next`.
fn days_named(c: Cursor<'_>, next: usize) -> bool {
    let day = |t: &&Token<'_>| matches!(t.sort, Sort::Word(w) if super::find::often::is_day(w));
    2 <= c.all.get(c.at..next).unwrap_or(&[]).iter().filter(day).count()
}

/// For every token, whether it is a bracket with its other half in the line.
fn paired(all: &[Token<'_>]) -> Vec<bool> {
    let mut out = vec![false; all.len()];
    let mut open: Vec<usize> = Vec::new();
    for (i, t) in all.iter().enumerate() {
        match t.sort {
            Sort::Sign('(') => open.push(i),
            Sort::Sign(')') => {
                if let Some(at) = open.pop() {
                    for i in [at, i] {
                        if let Some(slot) = out.get_mut(i) {
                            *slot = true;
                        }
                    }
                }
            }
            Sort::Number(_) | Sort::Word(_) | Sort::Sign(_) => {}
        }
    }
    out
}

/// Whether what stands at the token is bounded behind `when`: `supine when pain < 4` is a condition.
fn at_bound(all: &[Token<'_>], at: usize) -> bool {
    let word = |back: usize| at.checked_sub(back).and_then(|at| all.get(at)).map(|t| t.sort);
    let when = matches!(word(1), Some(Sort::Word("when" | "once" | "while")));
    when && matches!(all.get(at).map(|t| t.sort), Some(Sort::Word("pain")))
}

/// `2,5 kg`: a comma that may be a decimal point.
fn decimal_comma(all: &[Token<'_>], comma: usize) -> bool {
    let number = |t: Option<&Token<'_>>| matches!(t.map(|t| t.sort), Some(Sort::Number(_)));
    let before = comma.checked_sub(1).and_then(|b| all.get(b));
    let (after, unit) = (all.get(comma + 1), all.get(comma + 2));
    let tight =
        all.get(comma).is_some_and(|t| !t.spaced) && after.is_some_and(|t| !t.spaced && t.end - t.start <= 2);
    let weighs = matches!(unit.map(|t| t.sort), Some(Sort::Word(word))
        if unit::named(word).is_some_and(|unit| unit.kind() == Kind::Mass));
    number(before) && number(after) && tight && weighs
}

#[derive(Default)]
struct Gathered {
    days: Option<Days>,
    per_day: Option<Counts>,
    all_day: Option<Often>,
    /// Where the first side stands.
    side: Option<(usize, usize)>,
    /// Where the first repetitions stand, for what is said about them.
    work: Option<(usize, usize)>,
    as_needed: Option<(usize, usize)>,
}

struct Reader<'a> {
    source: &'a str,
    at: Place,
    dose: Dose,
    notices: Vec<Notice>,
    gathered: Gathered,
    /// Work of this piece was a second one, and stays words.
    refused: bool,
}

impl Reader<'_> {
    fn raw(&self, from: usize, to: usize) -> &str {
        self.source.get(from..to).unwrap_or("")
    }

    fn tell(&mut self, doubt: Doubt, from: usize, to: usize) {
        let place = Place { line: self.at.line, start: self.at.start + from, end: self.at.start + to };
        let notice = super::say::notice(doubt, self.raw(from, to), place);
        self.notices.push(notice);
    }

    fn piece(&mut self, all: &[Token<'_>]) {
        let mut c = Cursor { all, at: 0 };
        // `…, aim 100 by 3/52`: what is hoped for, and by when, is no dose beside one.
        self.refused = false;
        let aims = matches!(c.peek_word(), Some("aim" | "aiming" | "goal" | "target"));
        let numbered = || all.iter().any(|t| matches!(t.sort, Sort::Word("by")));
        if aims && !self.dose.work.is_empty() && numbered() {
            return self.words(all, Some(0), all.len());
        }
        let mut unknown: Option<usize> = None;
        let pairs = paired(all);
        while let Some(token) = c.peek() {
            // What sticks to an unknown word is part of it (`L4/5`); what a slip introduced stays with it.
            let before = c.at.checked_sub(1).and_then(|i| all.get(i));
            let slip = matches!((unknown, before.map(|t| t.sort)),
                (Some(from), Some(Sort::Word(w))) if misspelt(w, all.get(from..=c.at).unwrap_or(&[]), c.at - 1 - from).is_some());
            if unknown.is_some() && slip {
                break;
            }
            if unknown.is_some() && !token.spaced {
                // A bracket that sticks to it is kept whole.
                let opens = token.sort == Sort::Sign('(') && pairs.get(c.at) == Some(&true);
                c.at = closing(all, c.at).filter(|_| opens).map_or(c.at, |close| close) + 1;
                continue;
            }
            if let Some(found) = self.part(c, unknown.is_some()) {
                // `not past half way until week 4`: when it ends belongs to what is denied.
                let ends = found.items.iter().all(|i| matches!(i, Item::Until(_) | Item::Moment(_)));
                let denied = |at: usize| {
                    let mut said = Cursor { all, at };
                    while said.sign('-') || said.sign(',') {}
                    crate::language::restraint::denial(&mut said)
                };
                // `not daily` is no frequency and `never from week 3` no start; `no seat high from week 3` is one.
                let at_once = |from: usize| {
                    let mut said = Cursor { all, at: from };
                    crate::language::restraint::denial(&mut said) && said.at == c.at
                };
                if unknown.is_some_and(|from| ends && denied(from) || at_once(from)) {
                    if !ends {
                        let from = unknown.and_then(|from| all.get(from)).map_or(token.start, |t| t.start);
                        let to =
                            found.next.checked_sub(1).and_then(|i| all.get(i)).map_or(token.end, |t| t.end);
                        self.tell(Doubt::Unread { text: self.raw(from, to).to_string() }, from, to);
                    }
                    c.at = found.next;
                    continue;
                }
                // `keep going if pain < 5`: behind such a word all belongs to the condition.
                let conditional = |from: usize| {
                    all.get(from..c.at)
                        .unwrap_or(&[])
                        .iter()
                        .any(|t| matches!(t.sort, Sort::Word("if" | "unless")))
                        || at_bound(all, c.at)
                };
                if unknown.is_some_and(conditional) {
                    c.at = found.next;
                    continue;
                }
                // What is asked behind unknown words stays with them, as it was typed.
                if unknown.is_some()
                    && let ([Item::Ask], Some(doubt)) = (found.items.as_slice(), &found.doubt)
                {
                    let last = found.next.checked_sub(1).and_then(|i| all.get(i)).unwrap_or(token);
                    self.tell(doubt.clone(), token.start, last.end);
                    c.at = found.next;
                    continue;
                }
                // `1 kg cuff when pain free`: a load on a condition is none yet.
                let loads = found.items.iter().all(|i| matches!(i, Item::Load(_)));
                let once = |t: &Token<'_>| matches!(t.sort, Sort::Word("when" | "if" | "once"));
                if loads && all.get(found.next..).unwrap_or(&[]).iter().any(once) {
                    unknown.get_or_insert(c.at);
                    c.at = found.next;
                    while all.get(c.at).is_some_and(|t| !once(t)) {
                        c.at += 1;
                    }
                    continue;
                }
                // `1x5 wk 1, 3x6 wk 3-4`: when belongs to the work beside it, which is not taken.
                let spans = found.items.iter().all(|i| matches!(i, Item::From(_) | Item::Until(_)));
                if self.refused && spans {
                    self.dose.words.push(
                        self.raw(token.start, all.get(found.next - 1).map_or(token.end, |t| t.end))
                            .to_string(),
                    );
                    c.at = found.next;
                    continue;
                }
                // `bridge 3x10, clam R 3x10`: words with work of their own, behind work, are another exercise.
                let works = found.items.iter().any(|i| matches!(i, Item::Work(_)));
                let named = |from: usize| matches!(all.get(from).map(|t| t.sort), Some(Sort::Word(_)));
                if works && !self.dose.work.is_empty() && unknown.is_some_and(named) {
                    let start = unknown.and_then(|from| all.get(from)).map_or(token.start, |t| t.start);
                    let end = all.last().map_or(token.end, |t| t.end);
                    self.tell(Doubt::Another, start, end);
                    self.dose.words.push(self.raw(start, end).to_string());
                    return;
                }
                self.words(all, unknown.take(), c.at);
                let last = found.next.checked_sub(1).and_then(|i| all.get(i)).unwrap_or(token);
                self.take(&found, token.start, last.end);
                c.at = found.next;
                continue;
            }
            let mut next = c;
            next.at += 1;
            let joins = is_filler(c)
                && (next.is_done() || self.part(next, unknown.is_some()).is_some() || is_filler(next));
            if unknown.is_none() && joins && self.fillers_lead_somewhere(next) {
                c = next;
                continue;
            }
            // A quotation stays whole: nothing in it is a dose.
            if token.sort == Sort::Sign('"')
                && (token.spaced || c.at == 0)
                && let Some(close) = all.iter().skip(c.at + 1).position(|t| t.sort == Sort::Sign('"'))
            {
                unknown.get_or_insert(c.at);
                c.at += close + 2;
                continue;
            }
            // A bracket is read as a piece of its own, and kept whole where it isn't wholly understood.
            if token.sort == Sort::Sign('(')
                && pairs.get(c.at) == Some(&true)
                && let Some(close) = closing(all, c.at)
            {
                let inner = all.get(c.at + 1..close).unwrap_or(&[]);
                // `with a son on his weak (L) side`: what stands among unknown words is about them.
                let among = unknown.is_some()
                    && matches!(all.get(close + 1).map(|t| t.sort),
                        Some(Sort::Word(w)) if super::find::sides::LIMBS.contains(&w));
                if let Some(items) = self.whole(inner).filter(|_| !among) {
                    self.words(all, unknown.take(), c.at);
                    for (found, start, end) in &items {
                        self.take(found, *start, *end);
                    }
                } else {
                    unknown.get_or_insert(c.at);
                }
                c.at = close + 1;
                continue;
            }
            unknown.get_or_insert(c.at);
            c.at += 1;
        }
        self.words(all, unknown, all.len());
    }

    /// Whether a run of joining words ends in something understood, or in the end of the piece.
    fn fillers_lead_somewhere(&self, mut c: Cursor<'_>) -> bool {
        while !c.is_done() {
            if self.part(c, false).is_some() {
                return true;
            }
            if !is_filler(c) {
                return false;
            }
            c.at += 1;
        }
        true
    }

    /// All parts of a bracket, where everything in it is understood.
    fn whole(&self, inner: &[Token<'_>]) -> Option<Vec<(Hit, usize, usize)>> {
        let mut c = Cursor { all: inner, at: 0 };
        let mut out = Vec::new();
        while let Some(token) = c.peek() {
            if let Some(found) = self.part(c, false) {
                let last = found.next.checked_sub(1).and_then(|i| inner.get(i)).unwrap_or(token);
                c.at = found.next;
                if found.doubt.is_some() {
                    return None;
                }
                out.push((found, token.start, last.end));
            } else if is_filler(c) || c.sign(',') {
                c.at += usize::from(is_filler(c));
            } else {
                return None;
            }
        }
        (!out.is_empty()).then_some(out)
    }

    /// The part at the cursor, unless it is a single word of side, day or need that belongs to the unknown
    /// words around it (`hands PRN`, `Sat only with daughter`, `down with right`).
    fn part(&self, c: Cursor<'_>, after_unknown: bool) -> Option<Hit> {
        // Behind work, `30 min before bed` says when.
        let when = (!self.dose.work.is_empty()).then(|| apart(c, self.source, true)).flatten();
        let found = when.or_else(|| at(c, self.source))?;
        // `from week 4Mon`: what sticks to a number makes it another word.
        let spans = found.items.iter().any(|i| matches!(i, Item::From(_) | Item::Until(_)));
        if spans && c.all.get(found.next).is_some_and(|t| !t.spaced && !matches!(t.sort, Sort::Sign(_))) {
            return None;
        }
        // `20 week 4`: of which of the two the week is, isn't known.
        let before = c.at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort);
        if after_unknown
            && matches!(found.doubt, Some(Doubt::WeekAlone { .. }))
            && matches!(before, Some(Sort::Number(_)))
        {
            return None;
        }
        // A number alone after unknown words belongs to them (`past 90`), unless sides follow it.
        let number_alone = matches!(
            found.items.as_slice(),
            [Item::Work(Portion { manner: None, work: Work::Repetitions { sets: None, reps: Some(_), .. } })]
        ) && found
            .next
            .checked_sub(1)
            .and_then(|i| c.all.get(i))
            .is_some_and(|t| matches!(t.sort, Sort::Number(_)))
            && matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_)));
        if after_unknown && number_alone {
            let next = Cursor { all: c.all, at: found.next };
            return super::find::sides::sided(next).is_some().then_some(found);
        }
        let loose = found.items.iter().all(|i| match i {
            Item::Sided(s) => {
                matches!(s, Sided::Left | Sided::Right | Sided::Both | Sided::Together | Sided::Alternating)
            }
            // `flat Tu Fr Sun`: two days or more are of no word before them.
            Item::Days(Days::On(_))
                if self.gathered.days.is_none()
                    && self.gathered.all_day.is_none()
                    && c.peek().is_some_and(|t| t.spaced)
                    && c.at + 2 <= found.next
                    && days_named(c, found.next) =>
            {
                false
            }
            Item::Days(Days::On(_)) | Item::Moment(Moment::At(_)) | Item::AllDay(Often::AsNeeded { .. }) => {
                true
            }
            Item::Ask => found.doubt == Some(Doubt::AfternoonOrEvening),
            // `↑ weight as able`
            Item::Ending(Ending::AsAble) => after_unknown,
            Item::Days(Days::Daily | Days::PerWeek(_)) => matches!(c.peek_word(), Some("a" | "per")),
            _ => false,
        });
        if !loose {
            return Some(found);
        }
        // `in the shower am`: letters that mean the time of day behind words, and nothing behind them.
        let letters = matches!(c.peek_word(), Some("am" | "mane" | "nocte" | "noct"));
        let behind = c.at.checked_sub(1).and_then(|i| c.all.get(i)).map(|t| t.sort);
        // `heat prn nocte` behind a comma is another thing, and when that is done.
        let goes_on = c.all.get(..c.at).unwrap_or(&[]).iter().any(|t| {
            matches!(
                t.sort,
                Sort::Number(_)
                    | Sort::Word(
                        "in" | "at" | "with" | "after" | "before" | "on" | "from" | "while" | "during"
                    )
            )
        });
        if letters
            && after_unknown
            && goes_on
            && found.next == c.all.len()
            && matches!(behind, Some(Sort::Word(_)))
        {
            return Some(found);
        }
        let mut next = Cursor { all: c.all, at: found.next };
        while is_filler(next) && at(next, self.source).is_none() {
            next.at += 1;
        }
        let known_next = next.is_done()
            || at(next, self.source).is_some()
            || matches!(next.peek_word(), Some("from" | "until" | "till" | "if" | "when" | "once"))
            || matches!(next.peek().map(|t| t.sort), Some(Sort::Sign('(' | ')')));
        // Words such as "knee" after a side are where on that side.
        (known_next && !after_unknown).then_some(found)
    }

    /// Keeps unknown tokens `from..to` as words, and says so where they look like a dose.
    fn words(&mut self, all: &[Token<'_>], from: Option<usize>, to: usize) {
        let Some(from) = from else { return };
        // Joining words before an understood part belong to that part.
        let mut to = to;
        let joins = |i: usize| {
            is_filler(Cursor { all, at: i }) && matches!(all.get(i).map(|t| t.sort), Some(Sort::Word(_)))
        };
        while from + 1 < to && to < all.len() && joins(to - 1) {
            to -= 1;
        }
        let sort = |i: usize| all.get(i).map(|t| t.sort);
        // A comma parts what stands behind it.
        if from + 1 < to && sort(to - 1) == Some(Sort::Sign(',')) {
            to -= 1;
        }
        // A full stop behind a number ends nothing: read again, it would be gone.
        if from + 1 < to
            && sort(to - 1) == Some(Sort::Sign('.'))
            && matches!(sort(to - 2), Some(Sort::Number(_)))
        {
            to -= 1;
        }
        let (Some(first), Some(last)) = (all.get(from), to.checked_sub(1).and_then(|i| all.get(i))) else {
            return;
        };
        let (start, end) = (first.start, last.end);
        // A dash before words parts them from what stands before.
        let dashed = all.get(from).is_some_and(|t| t.sort == Sort::Sign('-')) && from + 1 < to;
        let (from, start) = match all.get(from + 1) {
            Some(next) if dashed && next.spaced && matches!(next.sort, Sort::Word(_)) => {
                (from + 1, next.start)
            }
            _ => (from, start),
        };
        let some = all.get(from..to).unwrap_or(&[]);
        if some.iter().all(|t| matches!(t.sort, Sort::Sign(_))) && some.len() == 1 && is_noise(some) {
            return;
        }
        let raw = self.raw(start, end).to_string();
        let mut kept = raw.clone();
        // Read, never written: the word before it says what is needed.
        if let Some(Token { sort: Sort::Word("prn"), start: at, spaced: true, .. }) = some.last()
            && let Some(head) = self.source.get(start..*at)
        {
            kept = format!("{}as needed", head);
        }
        self.dose.words.push(kept);
        let mut told = false;
        for (i, token) in some.iter().enumerate() {
            let Sort::Word(word) = token.sort else { continue };
            if let Some(near) = misspelt(word, some, i) {
                told = true;
                self.tell(Doubt::Misspelt { typed: word.to_string(), near }, token.start, token.end);
            }
        }
        // `never at night` says when, and the week is not laid by it.
        let denies = crate::language::restraint::denial(&mut Cursor { all: some, at: 0 });
        let timed = |at| super::find::moments::part(Cursor { all: some, at }).is_some();
        let when = denies && (0..some.len()).any(timed);
        let numbered = some.iter().any(|t| matches!(t.sort, Sort::Number(_))) && looks_like_dose(some);
        // `little and often (every hour at the desk)` says how often once more.
        let hourly = |at| super::find::often::every(Cursor { all: some, at }).is_some();
        let latin = |t: &Token<'_>| matches!(t.sort, Sort::Word("nocte" | "noct" | "mane"));
        // `from d7`, `wk 4 if no pain`: when it begins, where that was not understood.
        let digits = some.iter().any(|t| {
            matches!(t.sort, Sort::Number(_))
                || matches!(t.sort, Sort::Word(w) if w.ends_with(|c: char| c.is_ascii_digit()))
        });
        let begins = matches!(
            some.first().map(|t| t.sort),
            Some(Sort::Word("from" | "until" | "till" | "after" | "wk" | "week" | "starting" | "start"))
        );
        let when = when || begins && digits || (0..some.len()).any(hourly) || some.iter().any(latin);
        // `1 kg + wall push off`: another one, of which the numbers are too?
        let joined = matches!(some.first().map(|t| t.sort), Some(Sort::Sign('+')))
            && 2 < some.len()
            && some.iter().skip(1).all(|t| matches!(t.sort, Sort::Word(_)));
        if joined && !told {
            self.tell(Doubt::Another, start, end);
            return;
        }
        if !told && (when || numbered) {
            self.tell(Doubt::Unread { text: raw }, start, end);
        }
    }

    fn take(&mut self, found: &Hit, start: usize, end: usize) {
        if let Some(doubt) = &found.doubt {
            self.tell(doubt.clone(), start, end);
        }
        for item in &found.items {
            if matches!(item, Item::Sided(_)) {
                self.gathered.side.get_or_insert((start, end));
            }
            if let Err(what) = self.put(item, start, end) {
                self.refused |= matches!(item, Item::Work(_));
                let raw = self.raw(start, end).to_string();
                if let Some(doubt) = what {
                    self.tell(doubt, start, end);
                }
                if self.dose.words.last() != Some(&raw) || found.items.len() == 1 {
                    self.dose.words.push(raw);
                }
            }
        }
    }

    /// Puts one part into the dose. Err: it doesn't fit; what was typed stays as words.
    fn put(&mut self, item: &Item, start: usize, end: usize) -> Result<(), Option<Doubt>> {
        let dose = &mut self.dose;
        match item {
            Item::Nothing => Ok(()),
            Item::Ask => Err(None),
            Item::Work(portion) => {
                self.gathered.work.get_or_insert((start, end));
                work(&mut dose.work, portion)
            }
            Item::Hold(span) => one(&mut dose.hold, *span, Once::Hold, |h| format!("hold {h}")),
            Item::Rest(span) => one(&mut dose.rest, *span, Once::Rest, |r| format!("rest {r}")),
            Item::Tempo(tempo) => one(&mut dose.tempo, *tempo, Once::Tempo, |t| t.to_string()),
            Item::Effort(effort) => one(&mut dose.effort, *effort, Once::Effort, |e| e.to_string()),
            Item::Reserve(low, high) => {
                one(&mut dose.reserve, (*low, *high), Once::Reserve, |r| format!("{}-{}", r.0, r.1))
            }
            Item::Pain(n) => one(&mut dose.pain, *n, Once::Pain, |p| format!("pain at most {p}")),
            Item::Ramp(ramp) => one(&mut dose.ramp, ramp.clone(), Once::Ramp, |r| r.to_string()),
            // `wk 1-2, single leg wk 3+`: two spans are no span.
            Item::From(Start::Week(n)) if matches!(dose.until, Some(End::Week(last)) if last < *n) => {
                let first = dose.until.as_ref().map_or(String::new(), |end| end.to_string());
                Err(Some(Doubt::Twice { what: Once::End, first }))
            }
            Item::From(start) => one(&mut dose.from, *start, Once::Start, |s| s.to_string()),
            Item::Until(end) => one(&mut dose.until, end.clone(), Once::End, |u| u.to_string()),
            Item::Load(load) => {
                if !dose.loads.contains(load) {
                    dose.loads.push(load.clone());
                }
                Ok(())
            }
            Item::Tally(tally) => one(&mut dose.tally, *tally, Once::Tally, |t| t.to_string()),
            // `10 each way L`: the side that is named works, and what was said of both is about the movement.
            Item::Sided(side @ (Sided::Left | Sided::Right)) if dose.sides == Some(Sided::EachSide) => {
                let first = self.gathered.side.map(|(from, to)| self.raw(from, to).to_string());
                let first = first.unwrap_or_else(|| Sided::EachSide.to_string());
                self.dose.sides = Some(*side);
                self.dose.words.push(first.clone());
                let (from, to) = self.gathered.side.unwrap_or((start, end));
                self.tell(Doubt::Twice { what: Once::Side, first: side.to_string() }, from, to);
                Ok(())
            }
            Item::Sided(side) => add_side(&mut dose.sides, &mut dose.tally, *side)
                .map_err(|first| Some(Doubt::Twice { what: Once::Side, first })),
            Item::Moment(moment) => {
                if !dose.moments.contains(moment) {
                    dose.moments.push(moment.clone());
                }
                Ok(())
            }
            Item::Ending(ending) => end_work(&mut dose.work, *ending),
            Item::Cap(cap) => cap_work(&mut dose.work, *cap),
            Item::Days(days) => {
                let given = &mut self.gathered;
                if given.all_day.is_some() {
                    return Err(Some(Doubt::Twice {
                        what: Once::Often,
                        first: "as needed or by the hour".to_string(),
                    }));
                }
                match (given.days, days) {
                    (Some(Days::On(a)), Days::On(b)) => {
                        given.days = Some(Days::On(a.and(*b)));
                        Ok(())
                    }
                    (Some(Days::Daily), Days::Daily) => Ok(()),
                    // `o.d. 6/7`: once a day, on so many days.
                    (Some(Days::Daily), Days::PerWeek(n)) if 5 <= n.low() => {
                        given.days = Some(*days);
                        Ok(())
                    }
                    (Some(Days::PerWeek(n)), Days::Daily) if 5 <= n.low() => Ok(()),
                    _ => one(&mut given.days, *days, Once::Often, |d| d.to_string()),
                }
            }
            Item::DaysOff(off) => {
                let given = &mut self.gathered;
                let on = match given.days {
                    None | Some(Days::Daily) => off.others(),
                    Some(Days::On(on)) => Weekdays::new((0..7).filter(|d| on.has(*d) && !off.has(*d))),
                    Some(Days::PerWeek(_) | Days::Every(_)) => None,
                };
                let unread =
                    || Some(Doubt::Unread { text: self.source.get(start..end).unwrap_or("").to_string() });
                given.days = Some(Days::On(on.filter(|_| given.all_day.is_none()).ok_or_else(unread)?));
                Ok(())
            }
            Item::PerDay(n) => {
                if self.gathered.all_day.is_some() {
                    return Err(Some(Doubt::Twice {
                        what: Once::Often,
                        first: "as needed or by the hour".to_string(),
                    }));
                }
                one(&mut self.gathered.per_day, *n, Once::PerDay, |n| format!("{n}/day"))
            }
            Item::AllDay(often) => {
                let given = &mut self.gathered;
                if let Some(first) =
                    given.days.map(|d| d.to_string()).or(given.per_day.map(|n| format!("{n}/day")))
                {
                    return Err(Some(Doubt::Twice { what: Once::Often, first }));
                }
                if matches!(often, Often::AsNeeded { .. }) {
                    given.as_needed = Some((start, end));
                }
                one(&mut given.all_day, *often, Once::Often, |o| o.to_string())
            }
            Item::DayCap(n) => match &mut self.gathered.all_day {
                Some(Often::AsNeeded { at_most: at_most @ None }) => {
                    *at_most = Some(*n);
                    Ok(())
                }
                Some(Often::AsNeeded { at_most: Some(m) }) if m == n => Ok(()),
                // `post gym prn, max 3x/d`: the need stands at the end of the words before.
                None if self.gathered.days.is_none()
                    && self.gathered.per_day.is_none()
                    && take_need(&mut dose.words) =>
                {
                    self.gathered.all_day = Some(Often::AsNeeded { at_most: Some(*n) });
                    Ok(())
                }
                _ => Err(Some(Doubt::Unread { text: self.raw(start, end).to_string() })),
            },
        }
    }

    fn finish(&mut self) {
        let Gathered { days, per_day, all_day, work, as_needed, side: _ } =
            core::mem::take(&mut self.gathered);
        self.dose.often = all_day.or_else(|| {
            (days.is_some() || per_day.is_some()).then(|| Often::Calendar {
                days: days.unwrap_or(Days::Daily),
                per_day: per_day.unwrap_or(Counts::ONE),
            })
        });
        if let (Some(Often::AsNeeded { at_most: None }), Some((start, end))) = (self.dose.often, as_needed) {
            self.tell(Doubt::NoDailyCap, start, end);
        }
        let open = self.dose.work.iter().any(|p| {
            matches!(p.work, Work::Repetitions { reps: None, ending: Ending::AsMany | Ending::Fatigue, .. })
        });
        if let (true, Some((start, end))) = (open, work) {
            self.tell(Doubt::NoCap, start, end);
        }
    }
}

/// Takes `as needed` off the end of the last words; false: they have none.
fn take_need(words: &mut Vec<String>) -> bool {
    let Some(last) = words.last_mut() else { return false };
    let Some(head) = last.strip_suffix("as needed") else { return false };
    *last = crate::text::trim(head).to_string();
    if last.is_empty() {
        words.pop();
    }
    true
}

/// Sets what was not said before; Err where something else was.
fn one<T: PartialEq>(
    slot: &mut Option<T>,
    value: T,
    what: Once,
    shown: impl Fn(&T) -> String,
) -> Result<(), Option<Doubt>> {
    match slot {
        Some(first) if *first != value => Err(Some(Doubt::Twice { what, first: shown(first) })),
        _ => {
            *slot = Some(value);
            Ok(())
        }
    }
}

/// Adds a word of side to what was said of sides; Err: what was said first, where the two disagree.
/// `each side` beside `alternating` says what is counted.
pub fn add_side(sides: &mut Option<Sided>, tally: &mut Option<Tally>, side: Sided) -> Result<(), String> {
    match (*sides, side) {
        (None, side) => *sides = Some(side),
        (Some(first), second) if first == second => {}
        (Some(Sided::Alternating), Sided::EachSide) | (Some(Sided::EachSide), Sided::Alternating)
            if *tally != Some(Tally::InAll) =>
        {
            *sides = Some(Sided::Alternating);
            *tally = Some(Tally::EachSide);
        }
        (Some(Sided::Both), second @ (Sided::EachSide | Sided::Together | Sided::Alternating)) => {
            *sides = Some(second);
        }
        (Some(Sided::EachSide | Sided::Together | Sided::Alternating), Sided::Both) => {}
        (Some(first), _) => return Err(first.to_string()),
    }
    Ok(())
}

/// Adds work: sets alone join repetitions alone, a count joins a time; anything else is a second work.
fn work(all: &mut Vec<Portion>, new: &Portion) -> Result<(), Option<Doubt>> {
    let several = new.manner.is_some() || all.iter().any(|p| p.manner.is_some());
    let Some(last) = all.last_mut() else {
        all.push(new.clone());
        return Ok(());
    };
    if several && last.manner != new.manner {
        all.push(new.clone());
        return Ok(());
    }
    let first = last.to_string();
    let joined = match (&last.work, &new.work) {
        (a, b) if a == b => Some(a.clone()),
        (
            Work::Repetitions { sets: Some(sets), reps: None, ending: Ending::Number },
            Work::Repetitions { sets: None, reps, ending },
        ) => Some(Work::Repetitions { sets: Some(*sets), reps: *reps, ending: *ending }),
        // `as many as comfortable, up to 12`
        (
            Work::Repetitions { sets, reps: None, ending: Ending::AsAble },
            Work::Repetitions { sets: None, reps: Some(reps), ending: Ending::AsAble },
        ) => Some(Work::Repetitions { sets: *sets, reps: Some(*reps), ending: Ending::AsAble }),
        (
            Work::Repetitions { sets: None, reps: Some(reps), ending },
            Work::Repetitions { sets: Some(sets), reps: None, ending: Ending::Number },
        ) => Some(Work::Repetitions { sets: Some(*sets), reps: Some(*reps), ending: *ending }),
        (Work::Repetitions { sets: Some(n), reps: None, ending: Ending::Number }, Work::Time(span))
        | (
            Work::Time(span),
            Work::Repetitions { sets: Some(n), reps: None, ending: Ending::Number }
            | Work::Repetitions { sets: None, reps: Some(n), ending: Ending::Number },
        ) => Some(Work::Bouts { sets: None, bouts: *n, span: *span }),
        (
            Work::Repetitions { sets: Some(n), reps: None, ending: Ending::Number },
            Work::Bouts { sets: None, bouts, span },
        )
        | (
            Work::Bouts { sets: None, bouts, span },
            Work::Repetitions { sets: Some(n), reps: None, ending: Ending::Number },
        ) => Some(Work::Bouts { sets: Some(*n), bouts: *bouts, span: *span }),
        (
            Work::Amount { sets: None, amount, unit },
            Work::Repetitions { sets: Some(n), reps: None, ending: Ending::Number }
            | Work::Repetitions { sets: None, reps: Some(n), ending: Ending::Number },
        ) => Some(Work::Amount { sets: Some(*n), amount: *amount, unit: *unit }),
        (Work::Repetitions { .. }, Work::Time(span)) => {
            return Err(Some(Doubt::TimeBesideReps { time: span.to_string() }));
        }
        _ => None,
    };
    match joined {
        Some(work) => {
            last.work = work;
            Ok(())
        }
        None => Err(Some(Doubt::Twice { what: Once::Work, first })),
    }
}

fn end_work(all: &mut Vec<Portion>, new: Ending) -> Result<(), Option<Doubt>> {
    match all.last_mut().map(|p| &mut p.work) {
        None => {
            all.push(Portion {
                manner: None,
                work: Work::Repetitions { sets: None, reps: None, ending: new },
            });
            Ok(())
        }
        Some(Work::Repetitions { ending, .. }) if *ending == Ending::Number || *ending == new => {
            *ending = new;
            Ok(())
        }
        Some(
            Work::Repetitions { .. }
            | Work::Bouts { .. }
            | Work::Time(_)
            | Work::Intervals { .. }
            | Work::Amount { .. },
        ) => Err(None),
    }
}

fn cap_work(all: &mut [Portion], cap: Counts) -> Result<(), Option<Doubt>> {
    match all.last_mut().map(|p| &mut p.work) {
        Some(Work::Repetitions {
            reps: reps @ None,
            ending: Ending::AsMany | Ending::Fatigue | Ending::AsAble,
            ..
        }) => {
            *reps = Some(cap);
            Ok(())
        }
        Some(Work::Repetitions { reps: Some(r), .. }) if *r == cap => Ok(()),
        _ => Err(Some(Doubt::Unread { text: format!("at most {cap}") })),
    }
}

fn closing(all: &[Token<'_>], open: usize) -> Option<usize> {
    let mut depth = 0usize;
    for (i, t) in all.iter().enumerate().skip(open) {
        match t.sort {
            Sort::Sign('(') => depth += 1,
            Sort::Sign(')') => {
                depth = depth.checked_sub(1)?;
                if depth == 0 {
                    return Some(i);
                }
            }
            Sort::Number(_) | Sort::Word(_) | Sort::Sign(_) => {}
        }
    }
    None
}

/// Signs that nobody misses: a full stop or a dash left over.
fn is_noise(some: &[Token<'_>]) -> bool {
    matches!(some.first().map(|t| t.sort), Some(Sort::Sign('.' | '-' | ':' | '|')))
}

/// Words of the dose language that a slip is looked for against, each at least five letters.
const KNOWN: [&str; 26] = [
    "daily",
    "weekly",
    "hourly",
    "alternate",
    "alternating",
    "together",
    "tempo",
    "effort",
    "morning",
    "evening",
    "afternoon",
    "midday",
    "minutes",
    "seconds",
    "fatigue",
    "reserve",
    "between",
    "twice",
    "little",
    "often",
    "until",
    "monday",
    "wednesday",
    "thursday",
    "saturday",
    "needed",
];

/// Near words of the dose language for an unknown word; short words only beside a number.
fn misspelt(word: &str, some: &[Token<'_>], i: usize) -> Option<Vec<&'static str>> {
    const SHORT: [&str; 6] = ["hold", "rest", "sets", "reps", "week", "each"];
    let number =
        |at: Option<usize>| at.and_then(|at| some.get(at)).is_some_and(|t| matches!(t.sort, Sort::Number(_)));
    let beside = number(i.checked_sub(1)) || number(Some(i + 1));
    if KNOWN.contains(&word) || SHORT.contains(&word) {
        return None;
    }
    let mut found = if 5 <= word.len() { near::within(word, KNOWN, 1) } else { Vec::new() };
    if found.is_empty() && beside && word.len() == 4 {
        found = near::within(word, SHORT, 1);
        // A hint is for swapped letters and the like, not for every word of four letters.
        found.retain(|k| k.bytes().next() == word.bytes().next());
    }
    (!found.is_empty()).then_some(found)
}

/// Whether unknown words with numbers look like they were meant as a dose: a number with a unit or sign
/// beside it, or nothing but numbers and signs.
fn looks_like_dose(some: &[Token<'_>]) -> bool {
    // Heights, sizes and speeds are nothing of a dose.
    const SIZES: [&str; 20] = [
        "cm", "mm", "inch", "inches", "ft", "foot", "feet", "ml", "bottle", "litre", "litres", "rpm", "mph",
        "kph", "bpm", "watts", "degrees", "degree", "deg", "level",
    ];
    let sized = |t: &Token<'_>| matches!(t.sort, Sort::Word(w) if SIZES.contains(&w));
    let quoted = some.first().is_some_and(|t| t.sort == Sort::Sign('"'));
    if quoted || some.iter().any(sized) {
        return false;
    }
    let words = some.iter().filter(|t| matches!(t.sort, Sort::Word(_))).count();
    let numbers = some.iter().filter(|t| matches!(t.sort, Sort::Number(_))).count();
    words <= numbers + 1
}
