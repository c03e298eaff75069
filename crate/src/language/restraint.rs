//! Words that deny, forbid, permit or order, and how a plain line that restricts begins.

use super::anatomy;
use super::token::{Cursor, Sort, Token};

/// What a plain line about the patient is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plain {
    /// What must not be done: `no lifting`, `hip precautions`.
    Restriction,
    /// What may be done: `may shower`.
    Permission,
    /// What must be done or worn: `sling at night`.
    Order,
    /// What was found, or not found: `no red flags`.
    Finding,
}

const DENIALS: &[&str] = &[
    "no",
    "nil",
    "not",
    "never",
    "avoid",
    "avoiding",
    "don't",
    "dont",
    "do not",
    "must not",
    "mustn't",
    "mustnt",
    "should not",
    "shouldn't",
    "may not",
    "can not",
    "cannot",
    "can't",
    "cant",
    "without",
    "refrain from",
    "nor",
];

/// What can stand behind what is denied: `flexion nil`, `flexion not allowed`.
const DENIALS_BEHIND: &[&str] = &[
    "nil",
    "none",
    "not allowed",
    "not permitted",
    "forbidden",
    "prohibited",
    "contraindicated",
    "to be avoided",
];

fn one_of(c: &mut Cursor<'_>, phrases: &[&str]) -> bool {
    let mut best = c.at;
    for phrase in phrases {
        let mut m = *c;
        if phrase.split(' ').all(|word| m.word(&[word]).is_some()) && best < m.at {
            best = m.at;
        }
    }
    let found = c.at < best;
    c.at = best;
    found
}

/// A denial at the cursor: `no`, `avoid`, `must not`. Not the `not` of a number such as `No. 3`.
pub fn denial(c: &mut Cursor<'_>) -> bool {
    let begun = *c;
    if !one_of(c, DENIALS) {
        return false;
    }
    let number = begun.peek_word() == Some("no")
        && matches!(c.peek().map(|t| (t.sort, t.spaced)), Some((Sort::Sign('.'), false)))
        && matches!(c.all.get(c.at + 1).map(|t| t.sort), Some(Sort::Number(_)));
    if number {
        *c = begun;
    }
    !number
}

/// A denial that stands behind what it denies.
pub fn denial_behind(c: &mut Cursor<'_>) -> bool {
    one_of(c, DENIALS_BEHIND)
}

/// Words of what is looked for in an examination or said in a history. `no` before one of them tells a finding.
const FOUND: &[&str] = &[
    "pain",
    "painful",
    "aches",
    "ache",
    "swelling",
    "swollen",
    "effusion",
    "numbness",
    "numb",
    "tingling",
    "pins",
    "pn",
    "paraesthesia",
    "paresthesia",
    "red flags",
    "red flag",
    "flags",
    "neuro",
    "neurological",
    "neurology",
    "deficit",
    "deficits",
    "weakness",
    "weak",
    "fever",
    "trauma",
    "falls",
    "dizziness",
    "dizzy",
    "locking",
    "locks",
    "giving way",
    "night",
    "saddle",
    "bladder",
    "bowel",
    "incontinence",
    "retention",
    "bleeding",
    "tenderness",
    "tender",
    "bruising",
    "redness",
    "instability",
    "laxity",
    "crepitus",
    "issues",
    "problems",
    "concerns",
    "complaints",
    "symptoms",
    "change",
    "changes",
    "improvement",
    "worse",
    "better",
    "allergies",
    "history",
    "hx",
    "pmh",
    "previous",
    "meds",
    "medication",
    "comorbidities",
    "known",
    "evidence",
    "sign",
    "signs",
    "sleeping",
    "sleep",
    "equipment",
    "kit",
];

/// What a plain line is, by how it begins and by the words of restriction in it. None: by these words nothing.
/// `all` are the tokens of the whole line.
///
/// ```
/// use layfigure::language::{restraint::{plain, Plain}, token::tokens};
/// use layfigure::text::fold::fold;
/// let kind = |line: &str| plain(&tokens(&fold(line)));
/// assert_eq!(kind("No lifting > 2kg"), Some(Plain::Restriction));
/// assert_eq!(kind("hip precautions 12/52"), Some(Plain::Restriction));
/// assert_eq!(kind("may shower"), Some(Plain::Permission));
/// assert_eq!(kind("sling at night 4/52"), Some(Plain::Order));
/// assert_eq!(kind("no red flags"), Some(Plain::Finding));
/// assert_eq!(kind("bridge 3x10"), None);
/// ```
pub fn plain(all: &[Token<'_>]) -> Option<Plain> {
    let mut c = Cursor { all, at: 0 };
    let has = |words: &[&str]| (0..all.len()).any(|at| one_of(&mut Cursor { all, at }, words));
    if permission(&mut c) {
        return Some(Plain::Permission);
    }
    if denial(&mut c) {
        let mut m = c;
        m.word(&["any", "new", "obvious", "significant", "further", "more", "current", "other"]);
        let found = one_of(&mut m, FOUND);
        return Some(if found { Plain::Finding } else { Plain::Restriction });
    }
    if c.word(&["nothing"]).is_some() {
        let over = super::comparator::comparator(&mut c).is_some() || c.word(&["heavy", "heavier"]).is_some();
        return over.then_some(Plain::Restriction);
    }
    if order(c) {
        return Some(Plain::Order);
    }
    const NAMED: &[&str] = &[
        "precautions",
        "restriction",
        "restrictions",
        "contraindicated",
        "forbidden",
        "prohibited",
        "not allowed",
        "not permitted",
        "to be avoided",
    ];
    has(NAMED).then_some(Plain::Restriction)
}

/// `may`, `can`, `ok to`, `allowed to`, `is allowed`, at the start of a line.
fn permission(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    m.word(&["pt", "patient", "he", "she", "they", "you"]);
    const MAY: &[&str] = &[
        "may",
        "can",
        "ok to",
        "okay to",
        "allowed to",
        "free to",
        "able to",
        "safe to",
        "fine to",
        "permitted to",
    ];
    if !one_of(&mut m, MAY) || m.word(&["not"]).is_some() || m.peek_word().is_none() {
        return false;
    }
    *c = m;
    true
}

/// A thing that is worn or used by order, at the start of a line: `sling`, `boot on`, `brace locked`, `wear the collar`.
fn order(mut c: Cursor<'_>) -> bool {
    let told = one_of(
        &mut c,
        &[
            "wear",
            "keep",
            "use",
            "continue with",
            "must wear",
            "must use",
            "always wear",
            "remain in",
            "stay in",
            "in",
        ],
    );
    c.word(&["the", "a", "his", "her", "your"]);
    anatomy::side(&mut c);
    const WORN: &[&str] = &[
        "sling",
        "boot",
        "walking boot",
        "moon boot",
        "air boot",
        "cam boot",
        "brace",
        "knee brace",
        "hinged brace",
        "splint",
        "night splint",
        "cast",
        "collar",
        "soft collar",
        "hard collar",
        "corset",
        "abduction pillow",
        "abduction wedge",
        "compression stocking",
        "compression stockings",
        "ted stockings",
        "crutches",
        "elbow crutches",
        "two crutches",
        "walking frame",
        "frame",
        "stick",
        "two sticks",
    ];
    if !one_of(&mut c, WORN) {
        return false;
    }
    const WHEN: &[&str] = &[
        "on",
        "off",
        "at",
        "for",
        "until",
        "till",
        "to",
        "locked",
        "unlocked",
        "day",
        "night",
        "when",
        "in",
        "all",
        "full",
        "always",
        "day and night",
        "set",
        "worn",
        "only",
        "outdoors",
        "indoors",
        "while",
    ];
    told && c.is_done() || one_of(&mut c, WHEN) || matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_)))
}
