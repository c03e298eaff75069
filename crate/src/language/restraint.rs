//! Words that deny, forbid, permit or order, and how a plain line that restricts begins.

use super::anatomy;
use super::token::{Cursor, Sort, Token};
use super::unit::{self, Kind};

/// What a plain line about the patient is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plain {
    /// What must not be done: `no lifting`, `hip precautions`.
    Restriction,
    /// What may be done: `may shower`.
    Permission,
    /// What must be done or worn: `sling at night`.
    Order,
    /// What is told the patient, and plainly neither forbids, permits nor orders: `sleep: on your back`.
    Advice,
    /// What was found, or not found: `no red flags`.
    Finding,
}

const DENIALS: &[&str] = &[
    "no",
    "nil",
    "not",
    "not to",
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
    "is not to",
    "without",
    "refrain from",
    "stay off",
    "keep off",
    "stay away from",
    "keep away from",
    "rest from",
    "hold off",
    "lay off",
    "steer clear of",
    "stay out of",
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

/// A denial at the cursor: `no`, `avoid`, `must not`. Not the `no` of a number such as `No. 3`, nor `not only`.
pub fn denial(c: &mut Cursor<'_>) -> bool {
    let begun = *c;
    if !c.one_of(DENIALS) {
        return false;
    }
    let number = begun.peek_word() == Some("no")
        && matches!(c.peek().map(|t| (t.sort, t.spaced)), Some((Sort::Sign('.'), false)))
        && matches!(c.all.get(c.at + 1).map(|t| t.sort), Some(Sort::Number(_)));
    let says_nothing = number || matches!(c.peek_word(), Some("only" | "just" | "necessarily"));
    if says_nothing {
        *c = begun;
    }
    !says_nothing
}

/// A denial that stands behind what it denies.
pub fn denial_behind(c: &mut Cursor<'_>) -> bool {
    c.one_of(DENIALS_BEHIND)
}

/// Words of what is looked for in an examination or said in a history. `no` before one of them tells a finding, as does
/// the loss of a function (`no control`, `no pulse`).
const FOUND: &[&str] = &[
    "periods",
    "menses",
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
    "calf",
    "bruising",
    "redness",
    "instability",
    "laxity",
    "crepitus",
    "control",
    "feeling",
    "sensation",
    "pulse",
    "pulses",
    "power",
    "reflex",
    "reflexes",
    "issue",
    "issues",
    "problem",
    "problems",
    "concern",
    "concerns",
    "complaint",
    "complaints",
    "symptom",
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
    "equipment",
    "kit",
    "need",
    "longer",
    "further questions",
    "questions",
];

/// What is restricted is no longer: `no restrictions`.
const LIFTED: &[&str] = &[
    "restriction",
    "restrictions",
    "rom restriction",
    "rom restrictions",
    "precaution",
    "precautions",
    "limitation",
    "limitations",
    "limit",
    "limits",
    "contraindication",
    "contraindications",
];

/// What a plain line, or a part of one, is, by how it begins and by the words of restriction in it. None: by these words
/// nothing.
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
    while c
        .word(&["please", "pt", "patient", "strictly", "absolutely", "definitely", "still", "also"])
        .is_some()
    {}
    whose(&mut c);
    if permission(&mut c) {
        return Some(Plain::Permission);
    }
    if calls(all) || takes_medicine(all) || leaves_out(c) {
        return Some(Plain::Order);
    }
    // Under “Do not” it would say the opposite.
    if leaves_off(c) {
        return Some(Plain::Order);
    }
    if denial(&mut c) {
        let mut m = c;
        // `no splint needed`, `no need for the brace`, `not to be afraid of bending` free from something.
        const NEEDED: &[&str] = &["needed", "required", "necessary", "need", "needs", "requirement"];
        let clause = c.all.get(c.at..).unwrap_or(&[]).split(|t| matches!(t.sort, Sort::Sign(',' | ';')));
        let mut first = clause.take(1).flatten();
        if first.any(|t| matches!(t.sort, Sort::Word(w) if NEEDED.contains(&w))) {
            return Some(Plain::Permission);
        }
        m.word(&["be", "to"]);
        if m.one_of(&[
            "afraid",
            "be afraid",
            "worry",
            "be worried",
            "worried",
            "fear",
            "panic",
            "be scared",
            "scared",
        ]) {
            return Some(Plain::Order);
        }
        // `never stop walking`, `not to be NWB`: what is denied is itself a restriction.
        m = c;
        m.word(&["to"]);
        m.word(&["be"]);
        if m.one_of(&[
            "stop",
            "cease",
            "quit",
            "give up",
            "avoid",
            "nwb",
            "non weight bearing",
            "bed bound",
            "immobilised",
        ]) {
            return Some(Plain::Order);
        }
        m = c;
        m.word(&["any", "new", "obvious", "significant", "further", "more", "current", "other", "a"]);
        if tells_absent(m) {
            return Some(Plain::Finding);
        }
        // `no sleeping on L side` is how to lie, not what was found.
        if m.clone().word(&["sleeping", "sleep"]).is_some()
            && matches!(
                m.all.get(m.at + 1).map(|t| t.sort),
                Some(Sort::Word("on" | "with" | "in" | "without" | "flat" | "face"))
            )
        {
            return Some(Plain::Restriction);
        }
        return Some(match (m.clone().one_of(FOUND), m.one_of(LIFTED)) {
            (true, _) => Plain::Finding,
            (_, true) => Plain::Permission,
            _ => Plain::Restriction,
        });
    }
    if c.words(&["do", "nothing"]) {
        return Some(Plain::Restriction);
    }
    if c.word(&["nothing"]).is_some() {
        let over = super::comparator::comparator(&mut c).is_some() || c.word(&["heavy", "heavier"]).is_some();
        return over.then_some(Plain::Restriction);
    }
    if worn(all) {
        return Some(Plain::Order);
    }
    // `he is in a sling until week 6`
    let mut told = c;
    told.word(&["he", "she", "they", "you"]);
    let is = told.word(&["is", "are"]).is_some();
    // `pt to wear the sling`
    if is || 0 < told.at {
        told.word(&["to"]);
    }
    if order(c) || order(told) {
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
        "lifting limit",
        "lift limit",
        "max lift",
        "maximum lift",
        "lift max",
        "lifting max",
        "weight limit",
        "load limit",
    ];
    let named = |at: usize| {
        let denied = at.checked_sub(1).is_some_and(|before| denial(&mut Cursor { all, at: before }));
        !denied && Cursor { all, at }.one_of(NAMED)
    };
    if (0..all.len()).any(named) {
        return Some(Plain::Restriction);
    }
    // `soreness < 3/10 next day fine`; `when fine` is a condition.
    const CONDITIONS: [&str; 12] =
        ["if", "when", "once", "until", "till", "as", "not", "be", "feel", "feels", "is", "are"];
    let word = |back: usize| {
        all.len().checked_sub(back).and_then(|i| all.get(i)).and_then(|t| match t.sort {
            Sort::Word(w) => Some(w),
            Sort::Number(_) | Sort::Sign(_) => None,
        })
    };
    let ends = word(1).is_some_and(|w| matches!(w, "ok" | "okay" | "fine" | "acceptable" | "permissible"));
    // `swimming ok`, `gym fine`; of an exercise it tells how it went.
    let activity = || word(2).is_some_and(|w| 5 < w.len() && w.ends_with("ing") || ACTIVITIES.contains(&w));
    if ends && (2 < all.len() || activity()) && word(2).is_none_or(|w| !CONDITIONS.contains(&w)) {
        return Some(Plain::Permission);
    }
    // `…, no pain allowed` allows nothing.
    let allowed = |at: usize| {
        Cursor { all, at }.word(&["allowed", "permitted"]).is_some()
            && !(0..at).any(|before| denial(&mut Cursor { all, at: before }))
    };
    (1..all.len()).any(allowed).then_some(Plain::Permission)
}

/// What one does besides exercises.
const ACTIVITIES: [&str; 33] = [
    "trampoline",
    "scooter",
    "swim",
    "jog",
    "run",
    "cycle",
    "drive",
    "walk",
    "treadmill",
    "gym",
    "golf",
    "pool",
    "barre",
    "yoga",
    "pilates",
    "tennis",
    "bath",
    "baths",
    "shower",
    "hydro",
    "school",
    "work",
    "pe",
    "sport",
    "sports",
    "stairs",
    "travel",
    "football",
    "netball",
    "dance",
    "bike",
    "sauna",
    "intercourse",
];

/// Whether a motion is named that may only go so far or so long: `flexion 0-90 only`, `ER until week 6`.
pub fn bounds_a_motion(all: &[Token<'_>]) -> bool {
    let bounds = |t: &Token<'_>| matches!(t.sort, Sort::Word("only" | "until" | "till" | "til" | "max"));
    all.iter().any(bounds) && (0..all.len()).any(|at| anatomy::motion(&mut Cursor { all, at }).is_some())
}

/// Whether a clause behind a ban begins with what to do instead: `no lifting, carry close`, `…, sit to dress`. Words that may
/// go on with what is forbidden (`…, sleep on the right`, `…, use of the arm`) are none of them: turned round they would
/// harm.
pub fn begins_with_order(all: &[Token<'_>]) -> bool {
    const BEGINS: &[&str] = &[
        "keep",
        "wear",
        "elevate",
        "raise toilet",
        "raise the toilet",
        "raise seat",
        "raise chair",
        "raise bed",
        "raised toilet",
        "sit max",
        "sit to dress",
        "carry close",
        "carry c elbow",
        "carry w elbow",
        "carry with elbow",
        "carry c both",
        "carry with both",
        "support on",
        "log roll",
        "get help",
        "ask for",
        "cough pillow",
    ];
    // `stairs one at a time`
    let mut steps = Cursor { all, at: 0 };
    let one = steps.word(&["stairs", "steps"]).is_some()
        && matches!(steps.peek().map(|t| t.sort), Some(Sort::Number(_)));
    one || Cursor { all, at: 0 }.one_of(BEGINS)
}

/// Whether a clause behind a ban may go on with what is forbidden, though alone it would order: `no driving, sleep on op
/// side`, `no lifting, use of the arm`.
pub fn goes_on_forbidding(all: &[Token<'_>]) -> bool {
    const SIDES: [&str; 13] = [
        "op", "operated", "affected", "sore", "bad", "painful", "r", "l", "right", "left", "stomach",
        "front", "side",
    ];
    const THINGS: [&str; 18] = [
        "crutch", "crutches", "stick", "sticks", "frame", "walker", "sling", "brace", "splint", "boot",
        "rail", "collar", "pillow", "ice", "heat", "belt", "support", "stocking",
    ];
    let has = |these: &[&str]| all.iter().any(|t| matches!(t.sort, Sort::Word(w) if these.contains(&w)));
    let mut c = Cursor { all, at: 0 };
    if c.word(&["sleep", "lie"]).is_some() {
        return has(&SIDES);
    }
    c.word(&["use", "eat", "continue"]).is_some() && !has(&THINGS)
}

/// Whether a word names what one does besides exercises: `stairs`, `work`.
pub fn is_activity(word: &str) -> bool {
    ACTIVITIES.contains(&word)
}

/// Whether what is denied is a complaint, behind a few words of what brings it on: `p+n`, `cough/sneeze pain`.
fn tells_absent(c: Cursor<'_>) -> bool {
    let mut pins = c;
    let joined = pins.word(&["p"]).is_some()
        && (pins.sign('+') || pins.sign('&') || pins.word(&["and"]).is_some())
        && pins.word(&["n"]).is_some();
    if joined {
        return true;
    }
    const COMPLAINTS: [&str; 9] =
        ["pain", "pains", "ache", "symptoms", "numbness", "tingling", "weakness", "spasm", "stiffness"];
    const BRINGS: [&str; 19] = [
        "cough",
        "sneeze",
        "coughing",
        "sneezing",
        "strain",
        "straining",
        "night",
        "rest",
        "morning",
        "resting",
        "radicular",
        "referred",
        "leg",
        "arm",
        "calf",
        "nocturnal",
        "or",
        "and",
        "pn",
    ];
    let clause = c.all.get(c.at..).unwrap_or(&[]).split(|t| matches!(t.sort, Sort::Sign(',' | ';'))).next();
    let Some((last, before)) = clause.and_then(<[Token<'_>]>::split_last) else { return false };
    matches!(last.sort, Sort::Word(w) if COMPLAINTS.contains(&w))
        && before.iter().all(|t| match t.sort {
            Sort::Word(w) => BRINGS.contains(&w),
            Sort::Sign(s) => matches!(s, '/' | '+' | '&'),
            Sort::Number(_) => false,
        })
}

/// Whose joint or limb a restriction is about, where that is said first: `R shoulder: no …`.
fn whose(c: &mut Cursor<'_>) {
    let mut m = *c;
    let side = anatomy::side(&mut m).is_some();
    let part = anatomy::joint(&mut m).is_some() || anatomy::limb(&mut m).is_some();
    if !side && !part {
        return;
    }
    let _ = m.sign(':') || m.sign(',') || m.sign('-');
    let begins = denial(&mut m.clone()) || permission(&mut m.clone()) || m.peek_word() == Some("nothing");
    if begins {
        *c = m;
    }
}

/// `may`, `can`, `ok to`, `allowed to`, at the start of a line.
fn permission(c: &mut Cursor<'_>) -> bool {
    let mut m = *c;
    m.word(&["pt", "patient", "he", "she", "they", "you"]);
    m.word(&["is", "are"]);
    const MAY: &[&str] = &[
        "may",
        "can",
        "ok to",
        "okay to",
        "allowed to",
        "allowed",
        "free to",
        "able to",
        "safe to",
        "fine to",
        "permitted to",
    ];
    if !m.one_of(MAY) || m.word(&["not", "need"]).is_some() || m.peek_word().is_none() {
        return false;
    }
    *c = m;
    true
}

/// Whether a line begins with a medicine: when to take it is no exercise.
fn takes_medicine(all: &[Token<'_>]) -> bool {
    const MEDICINES: [&str; 34] = [
        "alendronate",
        "alendronic",
        "risedronate",
        "gabapentin",
        "pregabalin",
        "amitriptyline",
        "celecoxib",
        "methotrexate",
        "prednisolone",
        "steroids",
        "inhaler",
        "puffer",
        "panadol",
        "paracetamol",
        "acetaminophen",
        "tylenol",
        "ibuprofen",
        "advil",
        "nurofen",
        "naproxen",
        "diclofenac",
        "codeine",
        "tramadol",
        "aspirin",
        "analgesia",
        "analgesic",
        "analgesics",
        "painkiller",
        "painkillers",
        "nsaid",
        "nsaids",
        "meds",
        "medication",
        "tablets",
    ];
    all.iter().take(3).any(|t| matches!(t.sort, Sort::Word(w) if MEDICINES.contains(&w)))
}

/// Whether a line says whom to call when something happens: `ring the clinic if the calf swells`, `A&E if numb`.
pub fn calls(all: &[Token<'_>]) -> bool {
    const CALLS: &[&str] = &[
        "call",
        "ring",
        "phone",
        "telephone",
        "contact",
        "tell",
        "text",
        "email",
        "see",
        "go to",
        "attend",
        "get to",
        "seek",
        "get",
        "let",
    ];
    const WHOM: &[&str] = &[
        "doctor",
        "dr",
        "help",
        "medical help",
        "ward",
        "clinic",
        "us",
        "me",
        "physio",
        "surgeon",
        "nurse",
        "helpline",
        "maternity",
        "midwife",
        "unit",
        "team",
    ];
    const URGENT: &[&str] = &["gp", "hospital", "ambulance", "emergency", "ed", "er", "casualty"];
    let urgent = |mut c: Cursor<'_>| {
        let number = matches!(c.peek().map(|t| t.sort), Some(Sort::Number(11100 | 99900 | 91100 | 11200)));
        let sort = |n: usize| c.all.get(c.at + n).map(|t| t.sort);
        let accident = sort(0) == Some(Sort::Word("a"))
            && matches!(sort(1), Some(Sort::Sign('&' | '+')))
            && sort(2) == Some(Sort::Word("e"));
        number || accident || c.one_of(URGENT)
    };
    let whom = |mut c: Cursor<'_>| {
        // The `a` of `A&E` is no article.
        let now = urgent(c);
        c.word(&["the", "your", "his", "her", "a", "an"]);
        now || urgent(c) || c.one_of(WHOM)
    };
    const WHEN: [&str; 5] = ["if", "when", "should", "once", "unless"];
    let conditional = all.iter().any(|t| matches!(t.sort, Sort::Word(w) if WHEN.contains(&w)));
    let told = |at: usize| {
        let mut c = Cursor { all, at };
        // `ring GP re calf` is for the clinician to do; with what happened before it, or a condition, it is the patient's.
        let first = all.iter().take(at).all(|t| {
            matches!(
                t.sort,
                Sort::Word("please" | "to" | "pt" | "patient" | "need" | "must" | "should" | "i" | "will")
                    | Sort::Sign(_)
            )
        });
        c.one_of(CALLS) && if first { conditional } else { whom(c) }
    };
    // `to ED if the leg goes numb`
    let mut sent_to = Cursor { all, at: 0 };
    sent_to.word(&["go", "straight", "direct"]);
    if sent_to.word(&["to"]).is_some() && conditional && whom(sent_to) {
        return true;
    }
    // `numb between the legs - A&E now`
    let arrow =
        |at: usize| matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign('-' | '>' | '→' | ':' | ',')));
    // `…, GP aware` is told by the clinician.
    let knows = |at: usize| {
        let mut c = Cursor { all, at: at + 1 };
        const KNOWS: &[&str] =
            &["aware", "informed", "letter", "knows", "notified", "emailed", "wrote", "happy", "to", "will"];
        c.word(&["gp"]).is_some() && c.word(KNOWS).is_some()
    };
    let sent = |at: usize| {
        // `if the finger won't bend -> clinic same day`
        let signed = matches!(all.get(at).map(|t| t.sort), Some(Sort::Sign('>' | '→')));
        arrow(at) && !knows(at) && urgent(Cursor { all, at: at + 1 })
            || signed && conditional && whom(Cursor { all, at: at + 1 })
    };
    (0..all.len()).any(|at| told(at) || sent(at)) || conditional && whom(Cursor { all, at: 0 })
}

/// When something that is worn is on or off: `compression garment on in am, off nocte`, `splint at night only`.
pub fn worn(all: &[Token<'_>]) -> bool {
    const WORN: [&str; 23] = [
        "splint",
        "afo",
        "lso",
        "tlso",
        "splints",
        "garment",
        "stocking",
        "stockings",
        "sleeve",
        "brace",
        "collar",
        "orthosis",
        "orthotics",
        "insoles",
        "strapping",
        "bandage",
        "sling",
        "boot",
        "glove",
        "belt",
        "corset",
        "cast",
        "support",
    ];
    let word = |t: &Token<'_>, these: &[&str]| matches!(t.sort, Sort::Word(w) if these.contains(&w));
    let Some(at) = all.iter().take(4).position(|t| word(t, &WORN)) else { return false };
    let numbered = all.iter().take(at).any(|t| matches!(t.sort, Sort::Number(_)));
    // `boot w/ 3 wedges, remove 1 wedge q wk`
    let behind = all.get(at + 1).is_some_and(|t| word(t, &["with", "w", "without"])) && at < 2;
    if behind && !numbered {
        return true;
    }
    let on = all.iter().skip(at + 1).any(|t| word(t, &["on", "off", "when", "while"]));
    !numbered
        && on
        && all.iter().skip(at + 1).any(|t| {
            word(
                t,
                &[
                    "off", "only", "night", "nocte", "day", "am", "always", "when", "while", "before", "for",
                    "during", "except",
                ],
            )
        })
}

/// Something is left off, for now or for good: `stop driving until 14 Dec`, `pause step-ups this week`, `bin the squats`,
/// `hold off running`. What goes on is no such thing: `pause 2 s at the top`.
fn leaves_off(mut c: Cursor<'_>) -> bool {
    let mut stops = c;
    if stops.word(&["stop"]).is_some() {
        return stops.peek_word().is_some_and(|w| 5 < w.len() && w.ends_with("ing"));
    }
    let said = c.one_of(&[
        "pause",
        "bin",
        "ditch",
        "cease",
        "discontinue",
        "dc",
        "withhold",
        "suspend",
        "hold off",
        "drop out",
        "leave off",
        "take out",
    ]) || c.words(&["d", "c"]);
    let goes_on = ["at", "for", "in", "between", "when", "with", "and", "then", "briefly", "if", "on"];
    said && matches!(c.peek().map(|t| t.sort), Some(Sort::Word(w)) if !goes_on.contains(&w))
}

/// `skip it if sore`, `rest day if pain > 5`: what to do then is neither forbidden nor an exercise.
fn leaves_out(mut c: Cursor<'_>) -> bool {
    // `stop if it hurts` is of the exercise above, and alone of none.
    let next = c.all.get(c.at + 1).map(|t| t.sort);
    if c.peek_word() == Some("stop") && matches!(next, Some(Sort::Word("if" | "when"))) {
        return false;
    }
    c.one_of(&[
        "skip",
        "omit",
        "miss",
        "stop",
        "leave out",
        "rest day",
        "day off",
        "leave",
        "miss a day",
        "have a day off",
        "take a day off",
    ]) && (c.at..c.all.len())
        .any(|at| matches!(c.all.get(at).map(|t| t.sort), Some(Sort::Word("if" | "when"))))
}

/// Whether a line begins by restricting, or a number in it is bounded. A denial further on denies only its own clause:
/// `on your back, no pillow under the knee`.
pub fn restricts(all: &[Token<'_>]) -> bool {
    use super::comparator::{behind, comparator};
    let number = |c: &Cursor<'_>| matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_) | Sort::Sign('-')));
    let most = |found: super::comparator::Comparator| found.bounds(false) == super::comparator::Bounds::Most;
    // `stop if pain > 5`, `if HR > 110 call us` and `pain up to 5 is fine` have a bound and forbid nothing.
    let word = |t: &Token<'_>, these: &[&str]| matches!(t.sort, Sort::Word(w) if these.contains(&w));
    let orders = all.first().is_some_and(|t| {
        word(
            t,
            &[
                "stop", "if", "when", "once", "rest", "ease", "call", "ring", "skip", "slow", "go", "back",
                "wait",
            ],
        )
    }) || all.iter().any(|t| word(t, &["should", "settle", "settles"]));
    // `+ 0.5 kg each wk if pain <= 3`
    let behind_condition =
        |at: usize| all.iter().take(at).any(|t| word(t, &["if", "when", "once", "unless"]));
    let allows = all.iter().any(|t| word(t, &["ok", "okay", "fine", "acceptable", "allowed", "may", "can"]));
    plain(all) == Some(Plain::Restriction)
        || !orders
            && !allows
            && (0..all.len()).any(|at| {
                let mut bound = Cursor { all, at };
                let mut after = bound;
                !behind_condition(at) && comparator(&mut bound).is_some_and(most) && number(&bound)
                    || after.whole().is_some() && behind(&mut after).is_some_and(most)
            })
}

/// Whether a load is bounded above somewhere: `max 2 kg`, `nothing over 3 kg`.
pub fn bounds_load(all: &[Token<'_>]) -> bool {
    use super::comparator::{Bounds, comparator};
    let denied = |at: usize| (0..at).any(|i| denial(&mut Cursor { all, at: i }));
    (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        let most = comparator(&mut c).is_some_and(|found| found.bounds(denied(at)) == Bounds::Most);
        most && c.hundredths().is_some() && unit::of(&mut c, &[Kind::Mass]).is_some()
    })
}

/// Something to wear, to use or to keep to, at the start of a line: `sling`, `boot on`, `brace locked`, `wear the collar`,
/// `keep wound dry`, `off work`.
fn order(mut c: Cursor<'_>) -> bool {
    const ONLY: &[&str] = &[
        "passive only",
        "passive rom only",
        "passive movement only",
        "prom only",
        "aarom only",
        "active assisted only",
        "assisted only",
        "isometric only",
        "isometrics only",
    ];
    if c.clone().one_of(ONLY) {
        return true;
    }
    c.one_of(&["must", "should", "has to", "needs to", "always"]);
    const TOLD: &[&str] = &[
        "wear",
        "keep",
        "use",
        "continue with",
        "remain in",
        "stay in",
        "sleep with",
        "sleep w",
        "sleep",
        "eat",
        "soft diet",
        "soft food",
        "soft foods",
        "liquid diet",
        "log roll",
        "sleep on",
        "sleep in",
        "elevate",
    ];
    if c.one_of(TOLD) {
        // `sleep: on your back, no pillow` is one thing.
        return !c.is_done() && !c.sign(':');
    }
    if c.word(&["off"]).is_some() {
        return c.word(&["work", "school", "sport", "duty", "duties", "pe", "games", "running"]).is_some();
    }
    c.word(&["in"]);
    c.word(&["the", "a", "his", "her", "your"]);
    anatomy::side(&mut c);
    const WORN: &[&str] = &[
        "sling",
        "polysling",
        "poly sling",
        "collar and cuff",
        "collar n cuff",
        "collar & cuff",
        "shoulder immobiliser",
        "shoulder immobilizer",
        "immobiliser",
        "immobilizer",
        "thumb spica",
        "wrist splint",
        "resting splint",
        "tubigrip",
        "boot",
        "walking boot",
        "moon boot",
        "air boot",
        "cam boot",
        "brace",
        "knee brace",
        "hinged brace",
        "rom brace",
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
    if !c.one_of(WORN) {
        return false;
    }
    anatomy::side(&mut c);
    let _ = anatomy::joint(&mut c).is_some() || anatomy::limb(&mut c).is_some();
    const WHEN: &[&str] = &[
        "on", "off", "at", "for", "until", "till", "to", "locked", "unlocked", "day", "night", "when", "in",
        "all", "full", "always", "nocte", "mane", "prn", "nights", "days", "set", "worn", "only", "outdoors",
        "indoors", "while", "x",
    ];
    c.one_of(WHEN) || matches!(c.peek().map(|t| t.sort), None | Some(Sort::Number(_) | Sort::Sign(',')))
}

/// Whether a line tells the patient how to do something of the day, in the imperative: `lift with bent knees`, `stairs one
/// foot at a time`, `sit tall at the desk`. From memory.
pub fn instructs(all: &[Token<'_>]) -> bool {
    const VERBS: [&str; 47] = [
        "lift",
        "carry",
        "sit",
        "stand",
        "lie",
        "roll",
        "turn",
        "bend",
        "reach",
        "push",
        "pull",
        "put",
        "place",
        "walk",
        "climb",
        "stairs",
        "step",
        "stay",
        "rest",
        "ice",
        "heat",
        "raise",
        "prop",
        "support",
        "pace",
        "split",
        "spread",
        "break",
        "breathe",
        "relax",
        "let",
        "alternate",
        "swap",
        "hug",
        "kneel",
        "squat",
        "stretch",
        "drink",
        "remember",
        "try",
        "get",
        "go",
        "take",
        "move",
        "change",
        "hold",
        "pain",
    ];
    const HOW: [&str; 43] = [
        "this",
        "with",
        "your",
        "before",
        "after",
        "when",
        "while",
        "whilst",
        "on",
        "onto",
        "into",
        "at",
        "up",
        "down",
        "over",
        "every",
        "each",
        "both",
        "one",
        "close",
        "off",
        "through",
        "between",
        "under",
        "as",
        "only",
        "little",
        "tall",
        "breaks",
        "position",
        "positions",
        "often",
        "in",
        "out",
        "by",
        "from",
        "to",
        "during",
        "sideways",
        "again",
        "first",
        "more",
        "less",
    ];
    let word = |i: usize| match all.get(i).map(|t| t.sort) {
        Some(Sort::Word(w)) => Some(w),
        _ => None,
    };
    let tells = |w: &str| HOW.contains(&w) || 4 < w.len() && w.ends_with("ly");
    let first = word(0).filter(|w| VERBS.contains(w));
    let Some(first) = first else { return false };
    // `pain is ok if it goes by morning`
    if first == "pain" {
        let mut c = Cursor { all, at: 1 };
        c.word(&["is", "are"]);
        return c.word(&["ok", "okay", "fine", "allowed", "acceptable", "normal", "expected"]).is_some();
    }
    // `walk with limp on L` is found.
    const FOUND: [&str; 16] = [
        "limp",
        "limping",
        "antalgic",
        "pain",
        "painful",
        "unable",
        "difficulty",
        "poor",
        "reduced",
        "hurts",
        "slow",
        "stiff",
        "sore",
        "independent",
        "unsteady",
        "wobbly",
    ];
    let found = all.iter().any(|t| matches!(t.sort, Sort::Word(w) if FOUND.contains(&w)));
    // `stairs one at a time`
    let counted = first == "stairs" && matches!(all.get(1).map(|t| t.sort), Some(Sort::Number(100)));
    !found && 2 < all.len() && (counted || [1, 2].into_iter().any(|i| word(i).is_some_and(tells)))
}

/// Whether words head a part of the text in which every line forbids: `## Do not`.
pub fn heads_restrictions(all: &[Token<'_>]) -> bool {
    let mut c = Cursor { all, at: 0 };
    const HEADS: &[&str] = &[
        "do not",
        "don't",
        "dont",
        "avoid",
        "not to do",
        "precautions",
        "restrictions",
        "contraindications",
        "must not",
        "not allowed",
        "forbidden",
    ];
    c.one_of(HEADS) && (c.is_done() || c.sign(':'))
}
