//! How much pain the whole plan allows, as clinicians put it: `pain up to 4/10 ok`, `keep pain under 5`, `pain 0-2 carry on,
//! 3-4 ease back, 5+ stop`. What was found is none: `pain 6/10 at worst`, `NPRS 4/10`.

use crate::dose::find::effort::at_most;
use crate::language::token::{Cursor, Sort, tokens};
use crate::text::fold::fold;

/// The pain that the plan allows, of 10.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tolerated {
    pub most: u8,
    /// What else the clinician says of it, word for word: `settles overnight`.
    pub words: String,
}

impl Tolerated {
    /// As the tidy form has it: `up to 4 of 10, settles overnight`, `none`.
    pub fn written(&self) -> String {
        let most = match self.most {
            0 => "none".to_string(),
            most => format!("up to {most} of 10"),
        };
        if self.words.is_empty() { most } else { format!("{most}, {}", self.words) }
    }

    /// What the clinician says of pain that is more, in the words of its bands: `3-4 ease back, 5+ stop`.
    pub fn beyond(&self) -> Vec<&str> {
        self.pieces().filter(|piece| is_beyond(piece, self.most)).collect()
    }

    /// The other words.
    pub fn within(&self) -> Vec<&str> {
        self.pieces().filter(|piece| !is_beyond(piece, self.most)).collect()
    }

    /// Whether the words say how soon the pain has to go.
    pub fn settles(&self) -> bool {
        const GONE: [&str; 12] = [
            "settle", "settles", "settled", "settling", "gone", "goes", "eases", "eased", "back", "down",
            "calms", "resolves",
        ];
        let folded = fold(&self.words);
        tokens(&folded).iter().any(|t| matches!(t.sort, Sort::Word(w) if GONE.contains(&w)))
    }

    fn pieces(&self) -> impl Iterator<Item = &str> {
        self.words.split([',', ';']).map(str::trim).filter(|piece| !piece.is_empty())
    }
}

/// Whether a piece speaks of more than so much: `4-5 cut down`, `6+ stop`, `>5 stop`.
fn is_beyond(piece: &str, most: u8) -> bool {
    let folded = fold(piece);
    let all = tokens(&folded);
    band(&mut Cursor { all: &all, at: 0 }).is_some_and(|(low, _)| most < low)
}

const PAIN: [&str; 8] = ["pain", "discomfort", "soreness", "sore", "ache", "vas", "nrs", "nprs"];
/// They allow, or bound, by themselves.
const ALLOWS: [&str; 15] = [
    "ok",
    "okay",
    "fine",
    "acceptable",
    "allowed",
    "allow",
    "accept",
    "tolerable",
    "tolerate",
    "permitted",
    "keep",
    "max",
    "maximum",
    "only",
    "tops",
];
/// They tell what was found.
const FOUND: [&str; 22] = [
    "today",
    "now",
    "currently",
    "presently",
    "worst",
    "best",
    "was",
    "were",
    "had",
    "has",
    "reports",
    "reported",
    "yesterday",
    "average",
    "usually",
    "ago",
    "since",
    "previously",
    "still",
    "remains",
    "initially",
    "baseline",
];

/// What stands behind its key. None: no number of 10 in it.
pub fn keyed(text: &str) -> Option<Tolerated> {
    let folded = fold(text);
    let all = tokens(&folded);
    let mut c = Cursor { all: &all, at: 0 };
    if c.word(&["none", "nil"]).is_some() || c.words(&["no", "pain"]) {
        return Some(Tolerated { most: 0, words: rest(text, c) });
    }
    read(text, true)
}

/// A line of its own that says how much pain the plan allows.
///
/// ```
/// use layfigure::prescription::tolerated::line;
/// assert_eq!(line("pain up to 4/10 ok").map(|t| t.written()).as_deref(), Some("up to 4 of 10"));
/// assert_eq!(line("keep pain under 4, settles by am").map(|t| t.written()).as_deref(), Some("up to 3 of 10, settles by am"));
/// assert_eq!(line("pain 6/10 at worst"), None);
/// assert_eq!(line("NPRS 4/10"), None);
/// ```
pub fn line(text: &str) -> Option<Tolerated> {
    (text.len() <= 200).then(|| read(text, false)).flatten()
}

fn read(text: &str, named: bool) -> Option<Tolerated> {
    let folded = fold(text);
    let all = tokens(&folded);
    let first = all.split(|t| matches!(t.sort, Sort::Sign(',' | ';'))).next().unwrap_or(&[]);
    if !named && first.iter().any(|t| matches!(t.sort, Sort::Word(w) if FOUND.contains(&w))) {
        return None;
    }
    let mut c = Cursor { all: &all, at: 0 };
    let mut allowed = named;
    let mut denied = false;
    let mut felt = false;
    // What leads to the number.
    let (strict, bounded) = loop {
        // `max pain 4/10`
        let mut most = c;
        if most.word(&["max", "maximum"]).is_some() && most.word(&PAIN).is_some() {
            (felt, c) = (true, most);
            break (false, true);
        }
        if let Some(open) = at_most(&mut c) {
            // `no pain <= 3` says the opposite of itself.
            if denied {
                return None;
            }
            break (open, true);
        }
        if denied && over(&mut c) {
            break (false, true);
        }
        if c.words(&["at", "or", "below"]) || c.words(&["at", "or", "under"]) {
            break (false, true);
        }
        if matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_))) {
            break (false, false);
        }
        if c.word(&ALLOWS).is_some() {
            allowed = true;
        } else if c.word(&["no", "not", "never"]).is_some() {
            denied = true;
        } else if c.word(&PAIN).is_some() {
            felt = true;
        } else if c.sign(':')
            || c.word(&[
                "the", "your", "any", "some", "level", "levels", "score", "scale", "rule", "limit", "is",
            ])
            .is_some()
            || c.word(&[
                "of", "to", "be", "should", "stay", "stays", "staying", "can", "during", "feel", "have",
            ])
            .is_some()
        {
        } else {
            return None;
        }
    };
    if denied && !bounded {
        return None;
    }
    let begun = c;
    // `0-3 carry on, 4-5 cut down, 6+ stop`
    if felt
        && !bounded
        && let Some(most) = bands(begun)
    {
        return Some(Tolerated { most, words: rest(text, begun) });
    }
    let low = number(&mut c)?;
    let mut range = c;
    let high = (range.sign('-') || range.word(&["to"]).is_some()).then(|| number(&mut range)).flatten();
    if high.is_some() {
        c = range;
    }
    out_of_ten(&mut c)?;
    let most = high.unwrap_or(low).checked_sub(u8::from(strict)).filter(|most| *most <= 10)?;
    if high.is_some_and(|high| high <= low) {
        return None;
    }
    // What stands behind the number and allows it.
    loop {
        if c.word(&ALLOWS).is_some()
            || c.words(&["or", "less"])
            || c.words(&["or", "below"])
            || c.words(&["or", "under"])
            || c.words(&["or", "lower"])
            || c.words(&["at", "most"])
        {
            allowed = true;
        } else if c.word(&PAIN).is_some() {
            felt = true;
        } else if !copula(&mut c) && !during(&mut c) {
            break;
        }
    }
    let ends = c.is_done()
        || matches!(c.peek().map(|t| t.sort), Some(Sort::Sign(',' | ';' | '.' | '(' | '-')))
        || matches!(
            c.peek_word(),
            Some(
                "in" | "during"
                    | "while"
                    | "whilst"
                    | "if"
                    | "as"
                    | "provided"
                    | "then"
                    | "but"
                    | "and"
                    | "settle"
            ) | Some("settles" | "settled" | "settling" | "back" | "throughout" | "always" | "please")
        );
    // Bounded alone it might be a result with more behind: `pain up to 7 on stairs`.
    if !(allowed || bounded && ends) || !(felt || named) {
        return None;
    }
    // `pain 3 max on stairs 3 x 10` is a dose's.
    let dosed =
        all.get(c.at..).unwrap_or(&[]).iter().any(|t| matches!(t.sort, Sort::Word("x") | Sort::Sign('×')));
    (!dosed || named).then(|| Tolerated { most, words: rest(text, c) })
}

/// `during`, where a word that allows follows: `pain 0-5/10 during ok`.
fn during(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    let said = m.word(&["during"]).is_some();
    m.word(&["ex", "exercise", "exercises", "it"]);
    if !said || m.peek_word().is_none_or(|w| !ALLOWS.contains(&w)) {
        return false;
    }
    *c = m;
    true
}

/// `is ok`, `should be fine`, where a word that allows follows.
fn copula(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    m.word(&["is", "are", "would", "should"]);
    m.word(&["be"]);
    if m.at == c.at || m.peek_word().is_none_or(|w| !ALLOWS.contains(&w)) {
        return false;
    }
    *c = m;
    true
}

fn over(c: &mut Cursor<'_>) -> bool {
    c.sign('>')
        || c.word(&["above", "over", "past", "beyond"]).is_some()
        || c.words(&["more", "than"])
        || c.words(&["greater", "than"])
        || c.words(&["higher", "than"])
}

/// A number of the scale, with or without its ten.
fn number(c: &mut Cursor<'_>) -> Option<u8> {
    let n = u8::try_from(c.whole()?).ok().filter(|n| *n <= 10)?;
    out_of_ten(c)?;
    Some(n)
}

/// Passes over `/10`, `of 10`, `out of 10`; None: it is out of something else.
fn out_of_ten(c: &mut Cursor<'_>) -> Option<()> {
    let mut m = *c;
    m.word(&["out"]);
    if !(m.sign('/') || m.word(&["of"]).is_some()) {
        return Some(());
    }
    (m.whole() == Some(10)).then(|| *c = m)
}

/// `0-3`, `6+`, `>5`, `5 or more`, with a word behind: low and high.
fn band(c: &mut Cursor<'_>) -> Option<(u8, u8)> {
    let found = if over(c) {
        (number(c)?.checked_add(1)?, 10)
    } else {
        let low = number(c)?;
        let mut m = *c;
        if (m.sign('-') || m.word(&["to"]).is_some())
            && let Some(high) = number(&mut m)
        {
            *c = m;
            (low, high)
        } else if c.sign('+')
            || c.words(&["or", "more"])
            || c.words(&["or", "above"])
            || c.words(&["and", "above"])
        {
            (low, 10)
        } else {
            (low, low)
        }
    };
    let _ = c.sign('=') || c.sign(':') || c.sign('-');
    (found.0 <= found.1 && c.peek_word().is_some()).then_some(found)
}

/// Bands from 0 upwards, each with what to do: the pain of the first.
fn bands(mut c: Cursor<'_>) -> Option<u8> {
    let (0, most) = band(&mut c)? else { return None };
    let mut last = most;
    let mut more = false;
    while !c.is_done() {
        let mut next = c;
        match band(&mut next) {
            Some((low, high)) if low == last + 1 => {
                (c, last, more) = (next, high, true);
            }
            _ => c.at += 1,
        }
    }
    more.then_some(most)
}

/// What is typed from the cursor on, without the signs that part it.
fn rest(text: &str, c: Cursor<'_>) -> String {
    let words = c.peek().map_or("", |t| text.get(t.start..).unwrap_or(""));
    let part = |c: char| matches!(c, ',' | ';' | '.' | ':' | '-' | '–') || c.is_whitespace();
    words.trim_start_matches(part).trim_end().to_string()
}
