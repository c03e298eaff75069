//! Which exercise a line is about: the one above, another one by its name, several, or none that is named.

use super::exercise::{Parted, TypedLine, has_work};
use crate::catalog::Catalog;
use crate::catalog::find::Found;
use crate::language::token::{Cursor, Sort};
use crate::language::typed::Typed;

/// Where the name of a known exercise that begins at the cursor ends: at a word that goes on otherwise, a sign or a number.
fn named(c: &mut Cursor<'_>, text: &str) -> bool {
    c.word(&["the", "your", "all", "on", "with"]);
    c.word(&["the", "your"]);
    const ENDS: [&str; 24] = [
        "x", "for", "until", "till", "til", "this", "next", "if", "when", "once", "to", "by", "with", "from",
        "after", "as", "and", "but", "today", "now", "tomorrow", "due", "because", "on",
    ];
    let begun = c.at;
    let goes_on = |t: &crate::language::token::Token<'_>| match t.sort {
        Sort::Word(w) => !ENDS.contains(&w),
        Sort::Sign(s) => s == '-' && !t.spaced,
        Sort::Number(_) => false,
    };
    while c.peek().is_some_and(goes_on) {
        c.at += 1;
    }
    // The longest that is known: behind it a side may stand.
    let most = c.at;
    (begun + 1..=most).rev().any(|to| {
        let ends = c.all.get(to.wrapping_sub(1)).map(|t| t.end);
        let name = c.all.get(begun).zip(ends).and_then(|(first, end)| text.get(first.start..end));
        let near = |name: &str| {
            name.split(' ').all(|w| 4 <= w.len()) && !matches!(Catalog::embedded().find(name), Found::None)
        };
        let known = name.is_some_and(|name| Catalog::embedded().is_named(name) || near(name));
        c.at = if known { to } else { c.at };
        known
    })
}

/// Whether a line tells to leave a known exercise off: `hold bridge x 1 wk`, `hold on lunges until next visit`.
pub fn leaves_off(typed: &Typed<'_>) -> bool {
    let mut c = typed.start();
    let letters = c.words(&["dc"]) || {
        let mut m = c;
        let said = m.word(&["d"]).is_some() && m.sign('/') && m.word(&["c"]).is_some();
        c = if said { m } else { c };
        said
    };
    if !letters && c.word(&["hold", "park", "skip", "drop", "stop"]).is_none() {
        return false;
    }
    c.word(&["off", "on"]);
    let once = matches!(c.peek_word(), Some("if" | "when"));
    !once && named(&mut c, typed.text)
}

/// Whether a line tells to change another exercise than the one it stands below, or to go on with it: `change clam to 2x15`,
/// `swap clams for side steps`, `continue bridges`.
pub fn changes(typed: &Typed<'_>) -> bool {
    let mut c = typed.start();
    const GO_ON: [&str; 5] = ["continue", "keep", "carry", "con't", "resume"];
    const TURN: [&str; 12] = [
        "change", "increase", "swap", "switch", "replace", "progress", "reduce", "decrease", "up", "drop",
        "cut", "make",
    ];
    let goes_on = c.word(&GO_ON).is_some();
    if goes_on {
        c.word(&["on", "up", "doing", "going"]);
        c.word(&["with"]);
        return named(&mut c, typed.text);
    }
    c.word(&TURN).is_some()
        && named(&mut c, typed.text)
        && c.clone().word(&["to", "for", "with", "by", "down", "up", "from"]).is_some()
}

/// Whether a name points to exercises that stand elsewhere: `all`, `as above but`, `same for flexion`, `as Monday`.
pub fn points(name: &Typed<'_>) -> bool {
    let mut c = name.start();
    if c.one_of(&[
        "as above",
        "as before",
        "as for",
        "as per",
        "as last time",
        "same as",
        "same for",
        "same but",
        "same with",
        "same again",
        "all of",
        "all the above",
        "all above",
        "ditto",
        "repeat all",
        "repeat above",
        "repeat with",
        "repeat on",
    ]) {
        return true;
    }
    // `wk1 walk 4 run 1`, `each position`, `move to eccentrics`
    let mut m = c;
    if m.word(&["week", "wk"]).is_some() && m.whole().is_some() {
        return true;
    }
    m = c;
    if m.word(&["each", "every"]).is_some()
        && matches!(
            m.peek_word(),
            Some("position" | "direction" | "way" | "one" | "movement" | "exercise" | "time" | "glide")
        )
    {
        return true;
    }
    m = c;
    if m.word(&["move", "progress", "build", "switch", "drop"]).is_some()
        && m.word(&["to", "up", "down", "on", "onto"]).is_some()
    {
        return true;
    }
    if name.all.iter().any(|t| t.sort == Sort::Word("same")) {
        return true;
    }
    let mut day = c;
    if day.word(&["as", "like"]).is_some()
        && day.peek_word().and_then(crate::dose::find::often::weekday).is_some()
    {
        return true;
    }
    const ALL: [&str; 12] = [
        "all",
        "both",
        "these",
        "those",
        "them",
        "everything",
        "ditto",
        "same",
        "repeat",
        "others",
        "each",
        "above",
    ];
    c.word(&["do"]);
    c.word(&ALL).is_some() && {
        c.word(&["exercises", "exs", "ex", "of", "these", "them", "but", "and", "above"]);
        c.is_done()
    }
}

/// Whether a line says how several exercises are done: `do both with someone home`.
pub fn says_of_several(typed: &Typed<'_>) -> bool {
    let mut c = typed.start();
    // `both 3 x day`, `all once a day`
    let mut rate = c;
    if rate.word(&["both", "all"]).is_some()
        && (rate.word(&["once", "twice", "daily"]).is_some()
            || rate.at < rate.all.len() && {
                let number = matches!(rate.peek().map(|t| t.sort), Some(Sort::Number(_)));
                let over = rate.all.iter().any(|t| {
                    matches!(
                        t.sort,
                        Sort::Word("day" | "week" | "wk" | "d" | "daily" | "hourly" | "bd" | "tds")
                    )
                });
                number && over
            })
    {
        return true;
    }
    c.word(&["do", "repeat", "keep"]).is_some()
        && c.word(&["both", "all", "these", "those", "them", "everything"]).is_some()
        && matches!(c.peek().map(|t| t.sort), Some(Sort::Word(w)) if !matches!(w, "sides" | "legs" | "arms" | "feet" | "hands" | "knees"))
}

/// Whether a name holds several in a numbered row: `Clams 2. Bridges 3. Calf raises`.
pub fn numbers_several(name: &Typed<'_>) -> bool {
    name.all.windows(3).any(|t| {
        matches!(t, [a, dot, b] if matches!(a.sort, Sort::Number(_))
            && dot.sort == Sort::Sign('.') && !dot.spaced
            && matches!(b.sort, Sort::Word(_)) && b.spaced)
    })
}

/// Words before a colon that say when or instead of what something is done, and are no name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Label {
    /// Not now, and not said from when: `Later: step-down 2x10`.
    Later,
    /// In place of the exercise above: `do instead: wall sit`.
    Instead,
    /// A part of the plan with what is done in it: `Phase 2 (wk 2-6): …`.
    Stage,
}

pub fn label(head: &Typed<'_>) -> Option<Label> {
    let mut c = head.start();
    // `Phase 1 (wk 0-2): quad sets, heel slides`
    if c.word(&["phase", "stage", "block", "level", "circuit", "round", "superset"]).is_some()
        && c.whole().is_some()
    {
        return Some(Label::Stage);
    }
    c.at = 0;
    let found = if c.one_of(&[
        "later",
        "later on",
        "eventually",
        "in time",
        "down the line",
        "next stage",
        "future",
        "soon",
    ]) {
        Label::Later
    } else if c.one_of(&[
        "instead",
        "do instead",
        "or instead",
        "or do",
        "or",
        "alternatively",
        "alternative",
        "otherwise",
        "if not able",
        "swap",
        "swap for",
        "substitute",
    ]) {
        Label::Instead
    } else {
        return None;
    };
    c.is_done().then_some(found)
}

/// Whether a line says that an exercise is done once something is so, and no dose: `bike when flex 110`.
pub fn begins_once(typed: &TypedLine<'_>) -> bool {
    let all = typed.all;
    let when = all
        .iter()
        .skip(1)
        .position(|t| matches!(t.sort, Sort::Word("when" | "once" | "if" | "unless")))
        .map(|i| i + 1);
    let Some(when) = when else { return false };
    let (before, behind) = (all.get(..when).unwrap_or(&[]), all.get(when + 1..).unwrap_or(&[]));
    let plain = before.iter().all(|t| matches!(t.sort, Sort::Word(_) | Sort::Sign('-')));
    let counted = behind
        .iter()
        .any(|t| matches!(t.sort, Sort::Word("x" | "sets" | "reps" | "min" | "mins" | "sec" | "s")));
    let numbered = behind.iter().any(|t| matches!(t.sort, Sort::Number(_)));
    let often =
        |i: usize| matches!(all.get(i).map(|t| t.sort), Some(Sort::Word("a" | "daily" | "week" | "day")));
    plain && numbered && !counted && !often(when + 1)
}

/// Whether words make a condition somewhere.
pub fn is_conditional(name: &Typed<'_>) -> bool {
    name.all.iter().skip(1).any(|t| matches!(t.sort, Sort::Word("if" | "when" | "unless" | "once")))
}

/// Whether a line begins with a hold or a rest and how long.
pub fn begins_with_hold(typed: &Typed<'_>) -> bool {
    use crate::dose::find::{Item, at};
    let word = typed.start().peek_word();
    matches!(word, Some("hold" | "holds" | "rest" | "tempo" | "pause"))
        && at(typed.start(), typed.text).is_some_and(|hit| {
            hit.items.iter().all(|i| matches!(i, Item::Hold(_) | Item::Rest(_) | Item::Tempo(_)))
        })
}

const LEFT_OFF: [&str; 23] = [
    "no",
    "skip",
    "skip it",
    "leave out",
    "leave it out",
    "drop",
    "not this week",
    "stop",
    "stopped",
    "not yet",
    "hold",
    "on hold",
    "hold off",
    "ceased",
    "cease",
    "no more",
    "discontinue",
    "discontinued",
    "d/c",
    "leave",
    "omit",
    "withheld",
    "not now",
];

/// What a name is told to be, where it is not to be done or is to go on as it was, and nothing else is said of it:
/// `heel slides - stop`, `lunges: not yet`, `bridge - same`. True: it goes on.
pub fn standing(words: &str) -> Option<bool> {
    let plain = crate::text::fold::folded(words);
    let plain = plain.trim_matches(|c: char| !c.is_alphanumeric());
    const GO_ON: [&str; 8] =
        ["same", "as before", "unchanged", "continue", "as is", "carry on", "no change", "same as before"];
    if GO_ON.contains(&plain) {
        return Some(true);
    }
    let gated = [
        "only once ",
        "only when ",
        "only if ",
        "not until ",
        "not for ",
        "stop ",
        "hold until ",
        "not yet ",
        "no, ",
        "skip ",
        "leave out ",
    ];
    (LEFT_OFF.contains(&plain) || gated.iter().any(|lead| plain.starts_with(lead))).then_some(false)
}

/// `squat jumps 10 - NO, leave out`: what stands behind a dash or a comma takes all of it back.
pub fn is_refused(content: &str) -> bool {
    let tails =
        content.match_indices([',', '-', '–', ';']).filter_map(|(at, sign)| content.get(at + sign.len()..));
    tails.into_iter().any(|tail| {
        let words = crate::text::trim(tail);
        words.split([',', ';']).all(|clause| {
            let plain = crate::text::fold::folded(clause);
            LEFT_OFF.contains(&plain.trim_matches(|c: char| !c.is_alphanumeric()))
        })
    })
}

/// Whether a line that is parted as an exercise below another one says how that is done: `slow down 4 sec`.
pub fn is_manner(parted: &Parted) -> bool {
    const MANNER: [&str; 22] = [
        "slow",
        "slowly",
        "down",
        "up",
        "lower",
        "lowering",
        "raise",
        "control",
        "controlled",
        "pause",
        "top",
        "bottom",
        "at",
        "the",
        "on",
        "way",
        "both",
        "ways",
        "steady",
        "smooth",
        "return",
        "ease",
    ];
    let manner = parted.name.as_ref().is_some_and(|name| {
        let plain = crate::text::fold::folded(&name.text);
        plain.split(' ').all(|w| MANNER.contains(&w))
            && plain.split(' ').any(|w| !matches!(w, "raise" | "lower" | "both"))
    });
    manner && parted.dose.often.is_none() && has_work(&parted.dose)
}

/// Whether a line tells how long each way takes: `3 s up 2 s hold 3 s down`.
pub fn tells_tempo(typed: &Typed<'_>) -> bool {
    let mut c = typed.start();
    let mut ways = 0;
    while c.span().is_some() {
        if c.word(&["up", "down", "in", "out", "lift", "lower", "lowering", "lifting"]).is_some() {
            ways += 1;
        } else if c.word(&["hold", "pause", "at"]).is_none() {
            return false;
        }
        c.word(&["top", "bottom", "end"]);
        let _ = c.sign(',') || c.sign('/') || c.sign('-');
    }
    c.is_done() && 1 < ways
}
