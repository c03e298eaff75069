//! What is said beside a weight: aids and devices, written out, and words that say nothing by themselves.

use crate::language::token::{Cursor, Sort, Token};
use crate::text::fold::folded;

/// Aids as the trade writes them short (common practice, from memory).
fn aid(c: &mut Cursor<'_>) -> Option<&'static str> {
    let mut wheels = *c;
    if let Some(n @ (2 | 4)) = wheels.whole()
        && wheels.peek().is_some_and(|t| !t.spaced)
        && wheels.word(&["ww"]).is_some()
    {
        *c = wheels;
        return Some(if n == 2 { "a two-wheeled walker" } else { "a four-wheeled walker" });
    }
    let found = match c.peek_word()? {
        "ec" | "ecs" => "elbow crutches",
        "zf" => "a Zimmer frame",
        "wzf" => "a wheeled Zimmer frame",
        // Front-wheeled or four-wheeled: both have wheels.
        "fww" => "a wheeled walker",
        _ => return None,
    };
    c.at += 1;
    Some(found)
}

/// What is worn: a joint before one of these is no limb that bears.
const WORN: [&str; 12] = [
    "brace",
    "boot",
    "splint",
    "cast",
    "immobiliser",
    "immobilizer",
    "support",
    "sling",
    "collar",
    "strap",
    "orthosis",
    "sleeve",
];

/// Whether a word names an aid to walk with or something to wear.
fn is_thing(word: &str) -> bool {
    const AIDS: [&str; 7] = ["crutch", "stick", "frame", "walker", "cane", "rollator", "rail"];
    AIDS.iter().any(|stem| word.starts_with(stem)) || is_worn(word)
}

fn is_worn(word: &str) -> bool {
    WORN.iter().any(|worn| word == *worn || word.strip_suffix('s') == Some(*worn))
}

/// Whether an aid to walk with stands among some tokens.
pub fn names_aid(all: &[Token<'_>], (from, to): (usize, usize)) -> bool {
    (from..to).any(|at| {
        let named = matches!(all.get(at).map(|t| t.sort), Some(Sort::Word(w)) if is_thing(w));
        named || aid(&mut Cursor { all, at }).is_some()
    })
}

/// Whether the word behind the cursor makes a limb's name that of a thing: `elbow crutches`, `knee brace`.
pub fn makes_thing(c: Cursor<'_>) -> bool {
    c.all.get(c.at + 1).is_some_and(|t| matches!(t.sort, Sort::Word(w) if is_thing(w)))
}

/// Whether what is said names something to wear, without which the weight does not hold: `in boot`.
pub fn says_worn(words: &str) -> bool {
    folded(words).split(|c: char| !c.is_alphanumeric()).any(is_worn)
}

/// Whether a number in the words counts anything but aids: `ROM 0-90`.
pub fn counts_other(words: &str) -> bool {
    let words = folded(words);
    let all: Vec<&str> = words.split(' ').collect();
    all.iter().enumerate().any(|(at, word)| {
        word.contains(|c: char| c.is_numeric())
            && !all.iter().skip(at.saturating_sub(2)).take(5).any(|near| is_thing(near))
    })
}

/// Words between what is read that say nothing by themselves: `20 kg on the right leg`, `may FWB now`.
pub fn is_loose(words: &str) -> bool {
    const LOOSE: [&str; 28] = [
        "thru",
        "through",
        "on",
        "the",
        "of",
        "to",
        "onto",
        "weight",
        "wt",
        "wb",
        "bearing",
        "body",
        "bw",
        "may",
        "can",
        "now",
        "currently",
        "pt",
        "patient",
        "is",
        "be",
        "allowed",
        "ok",
        "okay",
        "status",
        "and",
        "remain",
        "remains",
    ];
    folded(words).split(|c: char| !c.is_alphanumeric()).all(|w| w.is_empty() || LOOSE.contains(&w))
}

/// The words from one token to another, with aids written out: `2 EC` becomes `with 2 elbow crutches`.
pub fn shown(text: &str, all: &[Token<'_>], from: usize, to: usize) -> String {
    let mut out = String::new();
    let mut done = all.get(from).map_or(0, |t| t.start);
    let mut at = from;
    while at < to {
        let Some(token) = all.get(at) else { break };
        let mut c = Cursor { all, at };
        // `w EC`, `w/ 2 EC`
        if at == from || token.spaced {
            let with = c.word(&["w", "with", "using"]);
            if with.is_some() {
                c.sign('/');
            }
            let counted = c;
            let many = c.whole().filter(|_| aid(&mut c.clone()).is_some() || c.clone().times());
            if many.is_some() {
                c.times();
            } else {
                c = counted;
            }
            if let Some(words) = aid(&mut c).filter(|_| c.at <= to) {
                out.push_str(text.get(done..token.start).unwrap_or(""));
                let lead = if with.is_some() || at == from { "with " } else { "" };
                let many = many.map_or(String::new(), |n| format!("{n} "));
                let words = if many.is_empty() { words } else { words.strip_prefix("a ").unwrap_or(words) };
                out.push_str(&format!("{lead}{many}{words}"));
                done = all.get(c.at - 1).map_or(done, |t| t.end);
                at = c.at;
                continue;
            }
            let c = Cursor { all, at: at + 1 };
            if token.sort == Sort::Word("w") && !matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_))) {
                out.push_str(text.get(done..token.start).unwrap_or(""));
                out.push_str("with");
                done = token.end;
                if let Some(slash) = c.peek().filter(|t| t.sort == Sort::Sign('/')) {
                    done = slash.end;
                    if all.get(at + 2).is_some_and(|t| !t.spaced) {
                        out.push(' ');
                    }
                    at += 1;
                }
            }
        }
        at += 1;
    }
    let end = to.checked_sub(1).and_then(|i| all.get(i)).map_or(done, |t| t.end);
    out.push_str(text.get(done..end.max(done)).unwrap_or(""));
    out
}
