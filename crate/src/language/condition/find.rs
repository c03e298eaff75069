//! Finds the conditions that a line names, over its words.

use super::asked::Sense;
use super::beside::{grades, leave_general, merged, pregnant, sides, target, times};
use super::certain::{self, Past, Piece};
use super::sorts::{Condition, Detail};
use super::table::{Means, Phrase, table};
use super::when::When;
use super::{Certainty, Named};
use crate::body::names::Sides;
use crate::language::anatomy;
use crate::language::token::{Cursor, Sort, Token};
use crate::language::typed::{Typed, lexed};
use crate::text::Place;

/// So many words of a line are looked at: what is wrong is said in fewer.
const MOST_WORDS: usize = 400;

/// A line that may name conditions.
#[derive(Clone, Copy, Debug)]
pub struct Line<'a> {
    pub typed: &'a Typed<'a>,
    /// It tells what was done or happened: a fall in it is how, and no habit.
    pub happened: bool,
    /// Whether short forms with several meanings are asked about.
    pub asks: bool,
}

/// A short form with several meanings that nothing in the text decides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    pub typed: String,
    pub means: Vec<&'static str>,
    pub place: Place,
}

/// What a line names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Read {
    /// In the order typed.
    pub named: Vec<Named>,
    pub asked: Vec<Asked>,
}

/// A phrase that was found: tokens from `from` to before `to`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hit {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) side: Option<Sides>,
    pub(super) condition: Option<Condition>,
    pub(super) detail: Option<(Detail, bool)>,
}

/// The conditions that words name by themselves, whoever has them.
pub fn knows(words: &str) -> Vec<Condition> {
    let place = Place { line: 1, start: 0, end: words.len() };
    lexed(words, place, |typed| {
        let line = Line { typed, happened: false, asks: false };
        let has = |word: &str| typed.all.iter().any(|t| t.sort == Sort::Word(word));
        read(line, None, &has).named.iter().filter(|n| n.is_of_patient()).map(|n| n.condition).collect()
    })
}

/// What a line names. `year`: in which it is read, where that is known; `has`: whether a word stands anywhere in what is
/// told of the patient.
pub fn read(line: Line<'_>, year: Option<i32>, has: &dyn Fn(&str) -> bool) -> Read {
    let all = line.typed.all.get(..MOST_WORDS).unwrap_or(&line.typed.all);
    let place = |from: usize, to: usize| {
        let start = all.get(from).map_or(0, |t| t.start);
        let end = to.checked_sub(1).and_then(|i| all.get(i)).map_or(start, |t| t.end);
        let whole = line.typed.place;
        Place { start: whole.start + start, end: whole.start + end, ..whole }
    };
    let mut asked = Vec::new();
    let pieces = certain::pieces(all);
    let hits = hits(line, all, &pieces, has, |from, to, senses| {
        let typed = line.typed.text.get(all.get(from).map_or(0, |t| t.start)..).unwrap_or("");
        let length = place(from, to).end - place(from, to).start;
        let typed = typed.get(..length).unwrap_or(typed).to_string();
        asked.push(Asked { typed, means: senses.iter().map(|s| s.word).collect(), place: place(from, to) });
    });
    if hits.is_empty() {
        return Read { named: Vec::new(), asked };
    }
    let mut found: Vec<Found> = Vec::new();
    for hit in hits.iter() {
        if let (Some(condition), None) = (hit.condition, hit.detail) {
            found.push(Found::new(*hit, condition));
        }
    }
    // What tells one of them more closely tells nothing by itself.
    for hit in hits.iter().filter(|hit| hit.detail.is_some()) {
        match hit.detail.and_then(|(detail, beside)| target(&found, all, &pieces, hit, detail, beside)) {
            Some((at, better)) => {
                if let Some(known) = found.get_mut(at) {
                    known.condition = better;
                    known.beside.push((hit.from, hit.to));
                }
            }
            // The approach to a spine is none to a hip.
            None if matches!(hit.condition, Some(Condition::HipPrecautions(_))) && !found.is_empty() => {}
            None => found.extend(hit.condition.map(|condition| Found::new(*hit, condition))),
        }
    }
    crate::sorting::sort_by_key(&mut found, |f| f.hit.from);
    pregnant(all, &mut found);
    leave_general(&mut found);
    grades(all, &pieces, &mut found);
    times(all, &pieces, &mut found);
    sides(all, &pieces, &mut found);
    let named = found.iter().map(|f| Named {
        condition: f.condition,
        certainty: f.certainty(line, all, &pieces, year),
        side: f.side,
        grade: f.grade,
        when: f.when,
        place: place(f.hit.from, f.hit.to),
        beside: f.beside.iter().map(|(from, to)| place(*from, *to)).collect(),
    });
    Read { named: merged(named.collect()), asked }
}

/// A condition with what is found beside it.
pub(super) struct Found {
    pub(super) hit: Hit,
    pub(super) condition: Condition,
    pub(super) side: Option<Sides>,
    pub(super) grade: Option<u8>,
    pub(super) when: Option<When>,
    pub(super) beside: Vec<(usize, usize)>,
}

impl Found {
    pub(super) fn new(hit: Hit, condition: Condition) -> Found {
        Found { hit, condition, side: hit.side, grade: None, when: None, beside: Vec::new() }
    }

    fn certainty(&self, line: Line<'_>, all: &[Token<'_>], pieces: &[Piece], year: Option<i32>) -> Certainty {
        let (from, to) = (self.hit.from, self.hit.to);
        let Some(piece) = piece_of(pieces, from) else { return Certainty::Now };
        if certain::is_of_another(all, piece, from) {
            return Certainty::OtherPerson;
        }
        if certain::is_denied(all, piece, from, to) {
            return Certainty::Denied;
        }
        let past = certain::past(all, piece, from, to);
        if certain::is_queried(all, piece, from, to) && past != Past::Over {
            return Certainty::Queried;
        }
        let recent = self.when.is_some_and(When::is_recent);
        let lasts = self.condition.lasts();
        // Years after which what is dated is long ago: 2, as in the worked checks ("over 2 years").
        let long_ago = match (self.when, year) {
            (Some(When::Years(years)), _) => 2 <= years,
            (Some(when), Some(now)) => when.year().is_some_and(|then| then + 2 <= now),
            (Some(When::Year(_)), None) => !line.happened,
            _ => false,
        };
        let over = match past {
            Past::Over => !recent,
            Past::History => !recent && !lasts,
            Past::No => long_ago && !lasts,
        };
        if over { Certainty::Before } else { Certainty::Now }
    }
}

pub(super) fn piece_of(pieces: &[Piece], at: usize) -> Option<Piece> {
    pieces.iter().copied().find(|p| p.from <= at && at < p.to)
}

// ---- phrases ----

/// The phrases of the line, the longest first, with short forms of several meanings decided or told.
fn hits(
    line: Line<'_>,
    all: &[Token<'_>],
    pieces: &[Piece],
    has: &dyn Fn(&str) -> bool,
    mut ask: impl FnMut(usize, usize, &'static [Sense]),
) -> Vec<Hit> {
    let text = line.typed.text;
    // Where all is in capitals, they mean nothing: `AS ABOVE`.
    let shouted = !text.contains(|c: char| c.is_lowercase())
        && all.iter().any(|t| matches!(t.sort, Sort::Word(w) if 6 <= w.len()));
    let mut out: Vec<Hit> = Vec::new();
    let mut at = 0;
    while at < all.len() {
        if let Some(to) = gravida(all, at) {
            out.push(Hit { from: at, to, side: None, condition: Some(Condition::Pregnancy), detail: None });
            at = to;
            continue;
        }
        let mut best: Option<Hit> = None;
        let mut several = None;
        let mut nothing = false;
        let letters = all.get(at).and_then(key);
        for phrase in letters.into_iter().flat_map(|word| table().of(word)) {
            let Some((to, side)) = fits(text, all, at, phrase) else { continue };
            if best.is_some_and(|best| to < best.to) {
                continue;
            }
            if best.is_none_or(|best| best.to < to) {
                best = Some(Hit { from: at, to, side, condition: None, detail: None });
                (several, nothing) = (None, false);
            }
            let Some(hit) = &mut best else { continue };
            match phrase.means {
                Means::Condition(condition) => _ = hit.condition.get_or_insert(condition),
                Means::Detail { detail, beside } => _ = hit.detail.get_or_insert((detail, beside)),
                Means::Several(which) => several = Some(which),
                Means::Nothing => nothing = true,
            }
        }
        let Some(mut hit) = best else {
            at += 1;
            continue;
        };
        at = hit.to;
        let of_effort = || {
            // `5 METs`
            let number = hit.from.checked_sub(1).and_then(|i| all.get(i)).map(|t| t.sort);
            hit.condition == Some(Condition::BoneMetastases) && matches!(number, Some(Sort::Number(_)))
        };
        if nothing || of_effort() || line.happened && is_how(all, &hit) {
            continue;
        }
        if let Some(of) = several.and_then(|which| super::asked::SEVERAL.get(which)) {
            match of.told(has) {
                Some(sense) => hit.condition = sense.condition,
                None => {
                    let piece = piece_of(pieces, hit.from);
                    let alone = piece.is_some_and(|p| certain::stands_alone(all, p, hit.from, hit.to));
                    let denied = piece.is_some_and(|p| certain::is_denied(all, p, hit.from, hit.to));
                    if line.asks && alone && !denied && !shouted {
                        ask(hit.from, hit.to, of.senses);
                    }
                }
            }
        }
        if hit.condition.is_some() || hit.detail.is_some() {
            out.push(hit);
        }
    }
    out
}

/// A single fall in the story of an injury.
fn is_how(all: &[Token<'_>], hit: &Hit) -> bool {
    let last = hit.to.checked_sub(1).and_then(|i| all.get(i)).map(|t| t.sort);
    hit.condition == Some(Condition::Falls)
        && matches!(last, Some(Sort::Word("fall" | "fell" | "fallen" | "falling")))
}

/// A token as it is looked up.
fn key<'a>(token: &Token<'a>) -> Option<&'a str> {
    const DIGITS: [&str; 10] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
    match token.sort {
        Sort::Word(word) => Some(word),
        Sort::Number(n) if n.is_multiple_of(100) => {
            usize::try_from(n / 100).ok().and_then(|n| DIGITS.get(n)).copied()
        }
        Sort::Sign('#') => Some("#"),
        Sort::Sign('↓') => Some("↓"),
        Sort::Sign('↑') => Some("↑"),
        Sort::Number(_) | Sort::Sign(_) => None,
    }
}

/// Where a phrase that begins at a token ends, and the side that stands within it. Hyphens, sides and small words are
/// passed over: `fracture of the L distal radius`.
fn fits(text: &str, all: &[Token<'_>], at: usize, phrase: &Phrase) -> Option<(usize, Option<Sides>)> {
    let mut c = Cursor { all, at };
    let mut side = None;
    for (i, part) in phrase.words().enumerate() {
        while !is_part(text, c.peek()?, part) {
            if i == 0 {
                return None;
            }
            let dot = c.peek().is_some_and(|t| !t.spaced) && c.clone().sign('.');
            let mut bracket = c;
            if c.sign('-') || dot && c.sign('.') {
                continue;
            }
            if bracket.sign('(')
                && let Some(one) = anatomy::side(&mut bracket)
                && bracket.sign(')')
            {
                side = Some(Sides::One(one));
                c = bracket;
            } else if anatomy::both_sides(&mut c) {
                side = Some(Sides::Both);
            } else if let Some(one) = anatomy::side(&mut c) {
                side = Some(Sides::One(one));
            } else if c.word(&["of", "the", "her", "his", "my", "their", "in", "to"]).is_none() {
                return None;
            }
        }
        c.at += 1;
    }
    Some((c.at, side))
}

/// Whether a token is a word of a phrase, or its plural.
fn is_part(text: &str, token: &Token<'_>, part: &str) -> bool {
    match token.sort {
        Sort::Word(word) if part.contains(|c: char| c.is_uppercase()) => {
            word.eq_ignore_ascii_case(part) && text.get(token.start..token.end) == Some(part)
        }
        Sort::Word(word) => word == part || 3 <= part.len() && word.strip_suffix('s') == Some(part),
        Sort::Number(n) => part.parse::<u64>().is_ok_and(|number| number.saturating_mul(100) == n),
        Sort::Sign(sign) => part.chars().eq([sign]),
    }
}

/// `G2P1`: pregnancies and births, as they are counted while one is pregnant.
fn gravida(all: &[Token<'_>], at: usize) -> Option<usize> {
    let mut c = Cursor { all, at };
    c.word(&["g"])?;
    let glued = |c: &Cursor<'_>| c.peek().is_some_and(|t| !t.spaced);
    (glued(&c) && c.whole().is_some_and(|n| n < 15)).then_some(())?;
    c.word(&["p"])?;
    (glued(&c) && c.whole().is_some_and(|n| n < 15)).then_some(c.at)
}
