//! What is wrong with the patient, as far as typed words tell: parts of the body, what was done or happened, conditions
//! and findings. Words only: nothing here decides what is done about it.
//!
//! Read by whole words and phrases, the longest first. What is denied (`no numbness`, `b/b NAD`) is not told; a denial
//! runs through a list of findings to its end, but for a part of the body only to the next comma, so that a part is
//! rather named too often. What is told of relatives is not the patient's. What lies back (`PMH`, a year long ago) is
//! kept apart. A query counts as told.

mod back;
mod begin;

pub use begin::{begins_with_condition, is_ahead};

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use crate::text::fold::folded;

macro_rules! facts {
    ($($name:ident $word:literal),* $(,)?) => {
        /// Something that words can tell.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Fact { $($name),* }

        impl Fact {
            pub const ALL: &[Fact] = &[$(Fact::$name),*];

            /// As the table of words has it.
            pub fn word(self) -> &'static str {
                match self { $(Fact::$name => $word),* }
            }
        }
    };
}

facts! {
    Neck "neck", UpperBack "upper back", LowBack "low back", Spine "spine", WeakLeg "weak leg", Shoulder "shoulder",
    Elbow "elbow", Wrist "wrist", Arm "arm", Hip "hip", Thigh "thigh", Knee "knee", Calf "calf", Achilles "achilles",
    Shin "shin", Ankle "ankle", Foot "foot", Leg "leg", Jaw "jaw", Head "head",
    Operation "operation", Replaced "replaced", HeartOperation "heart operation", BellyOperation "belly operation",
    Broken "broken", Torn "torn", Fell "fell", Boot "boot", Brace "brace", NotOnLeg "not on leg", Rupture "rupture",
    Whiplash "whiplash", Runner "runner", StressBone "stress bone",
    Pregnancy "pregnancy", Birth "birth", Osteoporosis "osteoporosis", Heart "heart", Stroke "stroke",
    SwollenLimb "swollen limb", Helpline "helpline", Cancer "cancer", Diabetes "diabetes", Sugar "sugar",
    PoorFeeling "poor feeling", FootSore "foot sore", Bleeding "bleeding", Clot "clot", Tendon "tendon", Wheeze "wheeze",
    Exertion "exertion", Joint "joint", Scalp "scalp", Pressure "pressure", Dizzy "dizzy", PoorFlow "poor flow",
    NarrowCanal "narrow canal", LooseShoulder "loose shoulder", Cuff "cuff", Persistent "persistent",
    RedFlag "red flag", Finding "finding",
}

impl Fact {
    /// Whether it is a part of the body.
    pub fn is_part(self) -> bool {
        self <= Fact::Head
    }

    fn is_operation(self) -> bool {
        matches!(self, Fact::Operation | Fact::Replaced | Fact::HeartOperation | Fact::BellyOperation)
    }

    /// Whether it is something that a patient has or had, or that was done to them.
    fn is_condition(self) -> bool {
        const OTHERS: [Fact; 9] = [
            Fact::Runner,
            Fact::Boot,
            Fact::Brace,
            Fact::NotOnLeg,
            Fact::Fell,
            Fact::Finding,
            Fact::RedFlag,
            Fact::Exertion,
            Fact::Pressure,
        ];
        !self.is_part() && !OTHERS.contains(&self)
    }

    pub fn is_arm(self) -> bool {
        matches!(
            self,
            Fact::Shoulder | Fact::Elbow | Fact::Wrist | Fact::Arm | Fact::Cuff | Fact::LooseShoulder
        )
    }

    pub fn is_leg(self) -> bool {
        matches!(
            self,
            Fact::Hip
                | Fact::Thigh
                | Fact::Knee
                | Fact::Calf
                | Fact::Achilles
                | Fact::Shin
                | Fact::Ankle
                | Fact::Foot
                | Fact::Leg
        )
    }
}

/// What texts tell together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// Told of the patient, of now or without a time.
    pub now: BTreeSet<Fact>,
    /// Told of long ago.
    pub past: BTreeSet<Fact>,
    /// Told to be absent.
    pub denied: BTreeSet<Fact>,
}

impl Told {
    /// `year`: the year in which it is read, where it is known; what is dated two years before is long ago.
    pub fn of<'a>(texts: impl IntoIterator<Item = &'a str>, year: Option<i32>) -> Told {
        let mut told = Told::default();
        for text in texts {
            told.add(text, year);
        }
        told
    }

    pub fn add(&mut self, text: &str, year: Option<i32>) {
        self.add_words(text, year, back::is_of_body);
    }

    /// The name of an exercise: `jog to the gate and back` tells nothing of the back.
    pub fn add_name(&mut self, name: &str) {
        self.add_words(name, None, |tokens, at| {
            back::is_of_body(tokens, at) && !back::stands_alone(tokens, at)
        });
    }

    fn add_words(&mut self, text: &str, year: Option<i32>, of_body: impl Fn(&[Token], usize) -> bool) {
        let tokens = tokens(text);
        let state = states(&tokens, year);
        let mut at = 0;
        while at < tokens.len() {
            let Some((length, facts)) = longest(&tokens, at) else {
                at += 1;
                continue;
            };
            let state = state.get(at).copied().unwrap_or_default();
            if length == 1
                && tokens.get(at).is_some_and(|t| is(t, &["back", "backs"]))
                && !of_body(&tokens, at)
            {
                at += 1;
                continue;
            }
            for fact in facts {
                // What is to be done has left no wound.
                if state.ahead && fact.is_operation() {
                    continue;
                }
                let denied = if fact.is_part() { state.denied_here } else { state.denied };
                // A phrase that begins with its own denial (`cannot pee`) is a finding.
                if denied {
                    self.denied.insert(fact);
                } else if state.relative && !fact.is_part() {
                    continue;
                } else if state.past {
                    self.past.insert(fact);
                } else {
                    self.now.insert(fact);
                }
            }
            at += length;
        }
        if weeks_of_forty(&tokens) {
            self.now.insert(Fact::Pregnancy);
        }
    }

    pub fn has(&self, fact: Fact) -> bool {
        self.now.contains(&fact)
    }

    pub fn has_any(&self, facts: &[Fact]) -> bool {
        facts.iter().any(|f| self.has(*f))
    }

    /// Now or long ago.
    pub fn ever(&self, fact: Fact) -> bool {
        self.now.contains(&fact) || self.past.contains(&fact)
    }

    /// Everything that the words speak of, also what is denied.
    pub fn speaks_of(&self, fact: Fact) -> bool {
        self.ever(fact) || self.denied.contains(&fact)
    }
}

/// Whether words speak of a red flag, a safeguarding matter or what is on a mind: no sheet may show them.
pub fn is_red_flag(text: &str) -> bool {
    Told::of([text], None).speaks_of(Fact::RedFlag)
}

/// Whether words tell a red flag, and whether a finding, a red flag among them.
pub fn told(text: &str) -> (bool, bool) {
    let told = Told::of([text], None);
    let red = told.speaks_of(Fact::RedFlag);
    (red, red || told.speaks_of(Fact::Finding))
}

/// Safety text without the pieces between commas that no sheet may show; None where nothing is left.
pub fn without_red_flags(text: &str) -> Option<String> {
    if !is_red_flag(text) {
        return Some(text.to_string());
    }
    let pieces = text.split([',', ';']).map(str::trim).filter(|p| !p.is_empty() && !is_red_flag(p));
    let left = pieces.collect::<Vec<_>>().join(", ");
    (!left.is_empty()).then_some(left)
}

// ---- words ----

#[derive(Clone, Debug, PartialEq, Eq)]
struct Token {
    /// Folded.
    word: String,
    /// As typed.
    typed: String,
}

/// Words, numbers and single signs; hyphens are spaces, a stop within a number belongs to it.
fn tokens(text: &str) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::new();
    let mut typed = String::new();
    let mut take = |typed: &mut String| {
        if !typed.is_empty() {
            out.push(Token { word: folded(typed), typed: core::mem::take(typed) });
        }
    };
    let mut letters = text.chars().take(8 * MOST_TOKENS).peekable();
    while let Some(c) = letters.next() {
        let within = c == '.'
            && typed.ends_with(|c: char| c.is_ascii_digit())
            && letters.peek().is_some_and(char::is_ascii_digit);
        let apostrophe = matches!(c, '\'' | '’') && !typed.is_empty();
        if c.is_alphanumeric() || within {
            typed.push(c);
        } else if apostrophe {
            typed.push('\'');
        } else {
            take(&mut typed);
            let negative = c == '-' && letters.clone().take(2).eq("ve".chars());
            if negative {
                letters.next();
                letters.next();
                typed.push_str("negative");
                take(&mut typed);
            } else if matches!(c, ',' | ';' | '.' | '\n' | ':' | '/' | '#' | '+' | '&' | '(' | ')') {
                typed.push(c);
                take(&mut typed);
            }
        }
    }
    take(&mut typed);
    out
}

/// What stands over a token.
#[derive(Clone, Copy, Debug, Default)]
struct State {
    /// In a list of what is denied.
    denied: bool,
    /// In the piece between commas that is denied.
    denied_here: bool,
    relative: bool,
    past: bool,
    /// It is to come.
    ahead: bool,
}

const DENIES: [&str; 14] = [
    "no", "nil", "not", "denies", "denied", "denying", "without", "neg", "negative", "never", "excluded",
    "deny", "nad", "absent",
];
/// Said behind what is denied: `b/b NAD`, `DVT ruled out`.
const DENIES_BEFORE: [&str; 9] =
    ["nad", "neg", "negative", "nil", "excluded", "absent", "normal", "intact", "clear"];
const RELATIVES: [&str; 24] = [
    "mother",
    "mum",
    "mom",
    "father",
    "dad",
    "brother",
    "sister",
    "wife",
    "husband",
    "partner",
    "son",
    "daughter",
    "carer",
    "grandmother",
    "grandfather",
    "uncle",
    "aunt",
    "fh",
    "fhx",
    "family",
    "parent",
    "parents",
    "wife's",
    "mother's",
];
const PAST: [&str; 10] =
    ["pmh", "pmhx", "phx", "psh", "pshx", "previous", "previously", "old", "resolved", "childhood"];
/// Years after which what is dated is long ago.
const LONG_AGO: i32 = 2;

fn is(token: &Token, words: &[&str]) -> bool {
    words.contains(&token.word.as_str())
}

fn ends_sentence(token: &Token) -> bool {
    is(token, &[".", ";", "\n", "but", "has", "however", "reports", "having"])
}

fn ends_piece(token: &Token) -> bool {
    ends_sentence(token) || is(token, &[","])
}

/// What stands over each token.
fn states(tokens: &[Token], year: Option<i32>) -> Vec<State> {
    let mut out: Vec<State> = vec![State::default(); tokens.len()];
    let mut state = State::default();
    for (at, token) in tokens.iter().enumerate() {
        if ends_piece(token) {
            state.denied_here = false;
            state.relative = false;
            if ends_sentence(token) {
                state.denied = false;
            }
            continue;
        }
        if is(token, &["and", "with"]) {
            state.denied_here = false;
        }
        if let Some(slot) = out.get_mut(at) {
            *slot = state;
        }
        let next = |n: usize, words: &[&str]| tokens.get(at + n).is_some_and(|t| is(t, words));
        let ruled_out = is(token, &["ruled"]) && next(1, &["out"]);
        let ruled_out = ruled_out || (is(token, &["r"]) && next(1, &["/"]) && next(2, &["o'd"]));
        if is(token, &DENIES) || ruled_out {
            state.denied = true;
            state.denied_here = true;
        }
        if is(token, &RELATIVES) {
            state.relative = true;
        }
    }
    // What is said behind: a denial, or that it lies back, holds for its own piece.
    let mut from = 0;
    while from < tokens.len() {
        let to = tokens.iter().skip(from).position(ends_piece).map_or(tokens.len(), |n| from + n);
        let piece = tokens.get(from..to).unwrap_or(&[]);
        let long_ago = |t: &Token| {
            let typed: Option<i32> = (t.word.len() == 4).then(|| t.word.parse().ok()).flatten();
            matches!((typed, year), (Some(then), Some(now)) if 1900 < then && then + LONG_AGO <= now)
        };
        let past = piece.iter().any(|t| is(t, &PAST) || long_ago(t));
        let ahead = is_ahead(piece.iter().map(|t| t.word.as_str()));
        let last = piece.iter().rposition(|t| is(t, &DENIES_BEFORE));
        let out_at =
            piece.windows(2).rposition(|w| matches!(w, [a, b] if is(a, &["ruled"]) && is(b, &["out"])));
        let denied_to = last.max(out_at);
        for (i, slot) in out.iter_mut().enumerate().take(to).skip(from) {
            slot.past |= past;
            slot.ahead |= ahead;
            if denied_to.is_some_and(|last| i < from + last) {
                slot.denied = true;
                slot.denied_here = true;
            }
        }
        from = to + 1;
    }
    out
}

/// `30/40`, `24+3/40`: weeks of pregnancy.
fn weeks_of_forty(tokens: &[Token]) -> bool {
    tokens.windows(3).any(|w| match w {
        [weeks, slash, forty] => {
            let weeks: Option<u32> = weeks.word.parse().ok();
            slash.word == "/" && forty.word == "40" && weeks.is_some_and(|n| (4..=42).contains(&n))
        }
        _ => false,
    })
}

// ---- table ----

/// One word of a phrase.
#[derive(Clone, Debug)]
enum Part {
    Word(String),
    /// Written in capitals, and meant so.
    Exact(String),
    Start(String),
    End(String),
}

impl Part {
    fn of(word: &str) -> Part {
        if let Some(start) = word.strip_suffix('*') {
            Part::Start(folded(start))
        } else if let Some(end) = word.strip_prefix('*') {
            Part::End(folded(end))
        } else if word.chars().any(char::is_uppercase) {
            Part::Exact(word.to_string())
        } else {
            Part::Word(folded(word))
        }
    }

    fn is(&self, token: &Token) -> bool {
        match self {
            Part::Word(word) => token.word == *word,
            Part::Exact(word) => token.typed == *word,
            Part::Start(start) => token.word.starts_with(start.as_str()),
            Part::End(end) => token.word.len() > end.len() && token.word.ends_with(end.as_str()),
        }
    }
}

/// Phrases by the first two letters of their first word; those of which only the end is given stand under none.
struct Table {
    rows: BTreeMap<[Option<char>; 2], Vec<Phrase>>,
}

#[derive(Clone, Debug)]
struct Phrase {
    parts: Vec<Part>,
    /// None: it means nothing here.
    fact: Option<Fact>,
    /// What the phrases within it tell does not count.
    alone: bool,
}

const WORDS: &str = include_str!("words.txt");

/// Words of a text that are read: what is wrong is said in fewer.
const MOST_TOKENS: usize = 400;

fn begin(word: &str) -> [Option<char>; 2] {
    let mut letters = word.chars();
    [letters.next(), letters.next()]
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut rows: BTreeMap<[Option<char>; 2], Vec<Phrase>> = BTreeMap::new();
        for line in WORDS.lines().filter(|l| !l.starts_with('#')) {
            let Some((word, phrases)) = line.split_once(": ") else { continue };
            let fact = Fact::ALL.iter().copied().find(|f| f.word() == word);
            for phrase in phrases.split(',') {
                // The signs within a phrase are words of it, as they are where it is typed.
                let whole = phrase.trim();
                let alone = fact.is_none() || whole.starts_with('=');
                let spaced = whole.trim_start_matches('=').replace('-', " ");
                let spaced =
                    ["/", "#", "+", "&"].iter().fold(spaced, |s, sign| s.replace(sign, &format!(" {sign} ")));
                let parts: Vec<Part> = spaced.split_whitespace().map(Part::of).collect();
                let begin = match parts.first() {
                    Some(Part::Word(w) | Part::Start(w)) => begin(w),
                    Some(Part::Exact(w)) => begin(&folded(w)),
                    Some(Part::End(_)) => [None, None],
                    None => continue,
                };
                rows.entry(begin).or_default().push(Phrase { parts, fact, alone });
            }
        }
        Table { rows }
    })
}

/// The phrases that begin at a token.
fn phrases(tokens: &[Token], at: usize) -> impl Iterator<Item = &'static Phrase> + '_ {
    let row = |key: [Option<char>; 2]| table().rows.get(&key).into_iter().flatten();
    let here = tokens.get(at).map(|t| begin(&t.word));
    here.into_iter().flat_map(move |key| row(key).chain(row([None, None]))).filter(move |phrase| {
        let here = tokens.get(at..at + phrase.parts.len());
        here.is_some_and(|here| here.iter().zip(&phrase.parts).all(|(token, part)| part.is(token)))
    })
}

/// The longest phrase that begins at a token, and all that it tells.
fn longest(tokens: &[Token], at: usize) -> Option<(usize, BTreeSet<Fact>)> {
    let length = phrases(tokens, at).map(|p| p.parts.len()).max()?;
    let whole = || phrases(tokens, at).filter(move |p| p.parts.len() == length);
    let mut facts: BTreeSet<Fact> = whole().filter_map(|p| p.fact).collect();
    if !whole().any(|p| p.alone) {
        let end = at + length;
        for from in at..end {
            facts
                .extend(phrases(tokens, from).filter(|p| from + p.parts.len() <= end).filter_map(|p| p.fact));
        }
    }
    Some((length, facts))
}

#[cfg(test)]
mod tests;
