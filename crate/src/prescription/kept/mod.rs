//! Lines that are kept for the clinician by how they begin: private keys, histories, suspicions, what is told by the
//! patient or of them, notes to oneself. No sheet shows them, whatever stands behind. Abbreviations: common practice, from
//! memory.

mod ban;

pub use ban::{Forbids, ban, hidden_ban, is_of_contact, tells_where_to_go};

use super::exercise::TypedLine;
use super::words::{Elsewhere, elsewhere};
use super::{details, plain};
use crate::language::restraint::{self, Plain};
use crate::language::token::{Cursor, Sort};
use crate::text::fold::folded;

/// Keys of what is for no patient. They need no colon.
const PRIVATE: &[&str] = &[
    "private",
    "pvt",
    "confidential",
    "in confidence",
    "not for sheet",
    "not for the sheet",
    "not for handout",
    "not for the handout",
    "not for patient",
    "not for the patient",
    "not for pt",
    "not for print",
    "not for printing",
    "not to print",
    "not to be printed",
    "do not print",
    "don't print",
    "dont print",
    "staff only",
    "for staff only",
    "clinician only",
    "clinicians only",
    "for clinician only",
    "physio only",
    "physios only",
    "therapist only",
    "team only",
    "note to self",
    "nts",
    "notes to self",
    "own notes",
];
/// The same, where a colon stands behind: without it they begin something else.
const PRIVATE_KEYS: &[&str] = &[
    "internal",
    "internal note",
    "priv",
    "staff",
    "for staff",
    "staff note",
    "staff notes",
    "clinical note",
    "clinical notes",
    "own note",
    "my notes",
];

/// What a history begins with, of the patient or the family.
const HISTORIES: &[&str] = &[
    "pmh",
    "pmhx",
    "phx",
    "psh",
    "pshx",
    "shx",
    "dhx",
    "fhx",
    "hx",
    "hpc",
    "hpi",
    "history of",
    "past history",
    "past medical history",
    "medical history",
    "past surgical history",
    "surgical history",
    "social history",
    "family history",
    "drug history",
    "medication history",
];
/// Whether a word before a colon heads what lies back.
pub fn heads_history(key: &str) -> bool {
    HISTORIES.contains(&key) || key == "history"
}

/// As short and no word, unless there is work to count.
const SHORT: &[&str] = &["dx", "ax"];
/// The same in capitals alone.
const CAPITALS: [&str; 4] = ["SH", "DH", "FH", "PH"];

/// Whether a line is for the clinician alone; `deep`: it stands below an exercise.
///
/// ```
/// use layfigure::language::typed::lexed;
/// use layfigure::prescription::{exercise::TypedLine, kept};
/// use layfigure::text::Place;
/// let is_kept = |line: &str| {
///     let place = Place { line: 1, start: 0, end: line.len() };
///     lexed(line, place, |typed| kept::is_kept(&TypedLine::new(typed), false))
/// };
/// assert!(is_kept("private - on methadone"));
/// assert!(is_kept("?DVT L calf"));
/// assert!(is_kept("Pt not doing HEP"));
/// assert!(!is_kept("pt not to drive"));
/// ```
pub fn is_kept(typed: &TypedLine<'_>, deep: bool) -> bool {
    begins_private(typed) || !deep && (is_reported(typed) || is_to_do(typed))
}

/// Whether a private key, a history or a question mark stands first: it governs all of the line.
pub fn begins_private(typed: &TypedLine<'_>) -> bool {
    let TypedLine { content, all, .. } = *typed;
    let first = Cursor { all, at: 0 };
    if (0..all.len()).any(|at| is_unprinted(Cursor { all, at })) {
        return true;
    }
    let asks = first.clone().sign('?') && all.iter().any(|t| matches!(t.sort, Sort::Word(_)));
    asks || phrase(first, PRIVATE).is_some()
        || phrase(first, PRIVATE_KEYS).is_some_and(|mut c| c.sign(':'))
        || is_history(content, first, || plain::counted(all, &typed.parted().dose))
}

/// `…, don't put on HEP`, `(not for handout)`, `keep off the sheet`: what is said not to be printed is not.
fn is_unprinted(mut c: Cursor<'_>) -> bool {
    const FIRST: [&str; 9] = ["keep", "leave", "off", "pvt", "private", "not", "don't", "dont", "never"];
    if !c.peek_word().is_some_and(|w| FIRST.contains(&w)) {
        return false;
    }
    if c.one_of(&["keep off", "leave off", "off"]) {
        c.word(&["the"]);
        return c.word(&PAPERS).is_some() && c.is_done_or_parted();
    }
    if c.word(&["pvt", "private"]).is_some() {
        // `(pvt)`
        let before = c.at.checked_sub(2).and_then(|at| c.all.get(at)).map(|t| t.sort);
        return before == Some(Sort::Sign('(')) && c.sign(')');
    }
    if c.word(&["not", "don't", "dont", "never"]).is_none() {
        return false;
    }
    let mut said = false;
    loop {
        said |= c.clone().word(&["print", "printed", "printing", "share", "shared", "sharing"]).is_some();
        if c.word(&PAPERS).is_some() {
            return true;
        }
        // `not for pt`
        if c.word(&["for"]).is_some() && c.clone().word(&["pt", "px", "patient"]).is_some() {
            c.at += 1;
            return c.is_done_or_parted();
        }
        // `…, do not discuss`
        if c.word(&["discuss", "discussed", "mention", "mentioned"]).is_some() {
            return c.is_done_or_parted();
        }
        const BETWEEN: [&str; 14] = [
            "put", "it", "this", "to", "be", "the", "on", "for", "in", "go", "print", "printed", "share",
            "shared",
        ];
        if c.word(&BETWEEN).is_none() {
            return said;
        }
    }
}

/// What a patient is given.
const PAPERS: [&str; 9] =
    ["handout", "handouts", "ho", "hep", "sheet", "printout", "leaflet", "paper", "copy"];

/// The cursor behind the longest of the phrases that stands here, hyphens passed over.
fn phrase<'a>(c: Cursor<'a>, phrases: &[&str]) -> Option<Cursor<'a>> {
    let behind = |phrase: &&str| {
        let mut m = c;
        let words: Vec<&str> = phrase.split(' ').collect();
        m.words(&words).then_some(m)
    };
    // Most words begin none of them.
    let first = c.peek_word()?;
    let begins = |phrase: &&&str| crate::language::token::begins_with(phrase, first);
    phrases.iter().filter(begins).filter_map(behind).max_by_key(|m| m.at)
}

fn is_history(content: &str, first: Cursor<'_>, counted: impl Fn() -> bool) -> bool {
    // `h/o`, `p/h`, `f/hx`
    let letters = |a: &[&str], b: &[&str]| {
        let mut c = first;
        c.word(a).is_some() && c.sign('/') && c.word(b).is_some() && !c.is_done()
    };
    let of = (letters(&["h"], &["o"]) || letters(&["p", "f", "s", "d"], &["h", "hx"])) && !counted();
    let typed = first.peek().and_then(|t| content.get(t.start..t.end)).unwrap_or("");
    let spaced = first.all.get(1).is_some_and(|t| t.spaced || matches!(t.sort, Sort::Sign(':' | '-')));
    let short = || CAPITALS.contains(&typed) && spaced && !counted();
    let behind = phrase(first, HISTORIES).or_else(|| phrase(first, SHORT).filter(|_| !counted()));
    let Some(mut behind) = behind else { return of || short() };
    // Behind their colon some are keys already.
    let named = content.split(':').next().map(folded).and_then(|key| elsewhere(&key));
    !(behind.is_done() || behind.sign(':') && matches!(named, Some(Elsewhere::Key(_))))
}

const WHO: [&str; 7] = ["pt", "px", "patient", "client", "he", "she", "they"];
const RELATIVES: [&str; 24] = [
    "daughter",
    "son",
    "wife",
    "husband",
    "partner",
    "mum",
    "mom",
    "mother",
    "dad",
    "father",
    "parent",
    "parents",
    "carer",
    "carers",
    "caregiver",
    "family",
    "sister",
    "brother",
    "niece",
    "nephew",
    "neighbour",
    "neighbor",
    "friend",
    "gran",
];

/// Whether a line tells what the patient, or somebody for them, says, does or will have done.
pub fn is_reported(typed: &TypedLine<'_>) -> bool {
    let mut c = Cursor { all: typed.all, at: 0 };
    if c.word(&["nb"]).is_some() || c.words(&["n", "b"]) {
        let _ = c.sign(':') || c.sign('-');
    }
    // `not keen on exercise`: of whom goes without saying.
    let mut mood = c;
    const MOODS: [&str; 10] = [
        "keen",
        "compliant",
        "motivated",
        "convinced",
        "impressed",
        "coping",
        "interested",
        "engaged",
        "engaging",
        "adherent",
    ];
    if mood.word(&["not", "never"]).is_some() {
        mood.word(&["v", "very", "really", "too", "that"]);
        if mood.word(&MOODS).is_some() {
            return true;
        }
    }
    let per = c.word(&["per"]).is_some();
    c.word(&["the", "her", "his"]);
    if c.word(&RELATIVES).is_some() {
        const SAYS: [&str; 29] = [
            "says",
            "said",
            "reports",
            "reported",
            "states",
            "thinks",
            "feels",
            "worried",
            "worries",
            "anxious",
            "concerned",
            "notes",
            "noted",
            "noticed",
            "tells",
            "told",
            "rang",
            "called",
            "phoned",
            "asks",
            "asked",
            "wants",
            "upset",
            "unsure",
            "struggling",
            "is",
            "has",
            "was",
            "does",
        ];
        return per || c.word(&SAYS).is_some() && c.word(&["to"]).is_none();
    }
    c.word(&WHO).is_some() && !typed.calls() && reports_behind(c)
}

/// Behind the word for the patient: `not doing HEP`, `isn't keen`, `to see ortho`.
fn reports_behind(mut c: Cursor<'_>) -> bool {
    const VERBS: [&str; 12] =
        ["does", "did", "do", "done", "has", "had", "is", "was", "been", "got", "says", "comes"];
    let verb = |mut c: Cursor<'_>| {
        c.word(&VERBS).is_some()
            || c.peek_word().is_some_and(|w| {
                // `she never uses the stick`
                4 < w.len() && (w.ends_with("ing") || w.ends_with('s'))
            })
    };
    const NEVER: [&str; 6] = ["never", "rarely", "seldom", "hardly", "only", "sometimes"];
    if c.clone().word(&NEVER).is_some() {
        c.at += 1;
        return verb(c);
    }
    const NOT: [&str; 16] = [
        "isn't", "isnt", "doesn't", "doesnt", "hasn't", "hasnt", "didn't", "didnt", "wasn't", "wasnt",
        "won't", "wont", "aren't", "arent", "haven't", "havent",
    ];
    if c.clone().word(&NOT).is_some() {
        c.at += 1;
        return !c.is_done() && c.word(&["to", "allowed"]).is_none();
    }
    let mut denied = c;
    denied.word(&["is", "was", "has", "are"]);
    if denied.word(&["not"]).is_some() {
        denied.word(&["v", "very", "really", "too", "that"]);
        const STATES: [&str; 14] = [
            "sure",
            "keen",
            "compliant",
            "happy",
            "motivated",
            "aware",
            "done",
            "yet",
            "well",
            "been",
            "seen",
            "had",
            "convinced",
            "impressed",
        ];
        return denied.word(&STATES).is_some()
            || denied.peek_word().is_some_and(|w| 4 < w.len() && w.ends_with("ing"));
    }
    if c.word(&["to", "will", "awaiting", "awaits", "due", "booked"]).is_none() {
        return false;
    }
    const DONE_TO: &[&str] =
        &["see", "be seen", "be reviewed", "attend", "await", "have", "be referred", "get", "for"];
    const VISITS: &[&str] = &[
        "ortho",
        "orthopaedics",
        "consultant",
        "surgeon",
        "rheum",
        "rheumatology",
        "neuro",
        "neurology",
        "gp",
        "dr",
        "pain clinic",
        "fracture clinic",
        "clinic",
        "podiatry",
        "ot",
        "mri",
        "scan",
        "xray",
        "x ray",
        "ct",
        "uss",
        "dexa",
        "bloods",
        "injection",
        "surgery",
        "op",
        "operation",
        "review",
        "appt",
        "appointment",
    ];
    c.one_of(DONE_TO);
    c.word(&["the", "a", "an", "his", "her", "their"]);
    phrase(c, VISITS).is_some()
}

/// What a note to oneself begins with.
const TO_DO: &[&str] = &[
    "chase",
    "chasing",
    "query",
    "await",
    "awaiting",
    "discuss with",
    "liaise with",
    "confirm with",
    "check with",
    "check op",
    "check notes",
    "check referral",
    "check records",
    "check imaging",
    "check xray",
    "check mri",
    "check scan",
    "check bloods",
    "check meds",
    "check protocol",
    "check surgeon",
    "refer to",
    "refer back",
    "re refer",
    "referred to",
    "write to",
    "letter to",
    "letter sent",
    "gp letter",
    "gp informed",
    "gp aware",
    "ask gp",
    "ask surgeon",
    "ask consultant",
    "ask ortho",
    "ask dr",
    "ask ward",
    "ask referrer",
    "email gp",
    "email surgeon",
    "email consultant",
    "ring gp",
    "ring surgeon",
    "ring ward",
    "ring consultant",
    "phone gp",
    "phone surgeon",
    "phone ward",
    "call gp",
    "call surgeon",
    "call ward",
];

/// Whether it is for the clinician to do. What names the reader (`check with your GP`) or a condition is the patient's.
fn is_to_do(typed: &TypedLine<'_>) -> bool {
    const READER: [&str; 15] = [
        "your", "you", "if", "when", "before", "leaflet", "sheet", "video", "diagram", "picture", "handout",
        "booklet", "app", "page", "pictures",
    ];
    let has =
        |words: &[&str]| typed.all.iter().any(|t| matches!(t.sort, Sort::Word(w) if words.contains(&w)));
    if has(&READER) {
        return false;
    }
    let to_do = |at: usize| {
        let c = Cursor { all: typed.all, at };
        let mut discussed = c;
        let short =
            discussed.word(&["d"]).is_some() && discussed.sign('/') && discussed.word(&["w"]).is_some();
        short || phrase(c, TO_DO).is_some()
    };
    if to_do(0) {
        return true;
    }
    const STATUS: [&str; 8] = ["nwb", "ttwb", "tdwb", "fewb", "pwb", "wbat", "wbtt", "fwb"];
    const UNCLEAR: [&str; 6] = ["unclear", "unknown", "tbc", "unconfirmed", "undocumented", "unsure"];
    let kind = restraint::plain(typed.all);
    let binds = kind.is_some_and(|kind| kind != Plain::Finding) || has(&STATUS);
    let dosed = || !typed.parted().dose.work.is_empty();
    if binds || dosed() {
        return false;
    }
    let doing = || typed.all.iter().any(|t| matches!(t.sort, Sort::Word(w) if details::is_doing(w)));
    has(&UNCLEAR) || !doing() && ban::clauses(typed.all).any(to_do)
}
