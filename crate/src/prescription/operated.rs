//! Operations and their days, as they stand in plain lines.

use crate::dose::find::span::{Day, day_at};
use crate::language::token::{Cursor, Sort, Token};

/// `6/52 post op R TKR`, `POD 10 L THR`, `s/p rotator cuff repair`.
pub fn is_operated(all: &[Token<'_>]) -> bool {
    let first = Cursor { all, at: 0 };
    let status = |c: Cursor<'_>| {
        let mut m = c;
        m.word(&["s"]).is_some() && m.sign('/') && m.word(&["p"]).is_some()
    };
    let mut day = first;
    if day.word(&["pod"]).is_some() && day.whole().is_some() {
        return true;
    }
    (0..all.len()).any(|at| status(Cursor { all, at }))
        || first.clone().one_of(&["status post"])
        || (0..all.len()).any(|at| {
            let mut c = Cursor { all, at };
            if c.word(&["postop"]).is_some() {
                return true;
            }
            c.word(&["post"]).is_some() && {
                c.sign('-');
                c.word(&["op", "surgery", "operation", "operative"]).is_some()
            }
        })
}

/// Operations as the trade writes them short, and their plain words.
pub const OPERATIONS: [&str; 38] = [
    "op",
    "surgery",
    "operation",
    "tkr",
    "thr",
    "tka",
    "tha",
    "ukr",
    "uka",
    "aclr",
    "arthroscopy",
    "fusion",
    "decompression",
    "repair",
    "replacement",
    "orif",
    "rcr",
    "dhs",
    "mua",
    "meniscectomy",
    "bankart",
    "latarjet",
    "discectomy",
    "microdiscectomy",
    "laminectomy",
    "hemiarthroplasty",
    "arthroplasty",
    "osteotomy",
    "bunionectomy",
    "tsr",
    "tsa",
    "rtsa",
    "rtsr",
    "acdf",
    "mpfl",
    "reconstruction",
    "repaired",
    "fixation",
];

/// Whether an operation is named.
pub fn is_operation(all: &[Token<'_>]) -> bool {
    all.iter().any(|t| matches!(t.sort, Sort::Word(w) if OPERATIONS.contains(&w)))
}

/// `DOS 16/11/26 L ACLR`, `R THR 20/11/26 post approach`: an operation with the day on which it was.
pub fn is_dated(all: &[Token<'_>]) -> bool {
    // `surgery 14 Dec` is the line word without its colon.
    let keyed = matches!(all.first().map(|t| t.sort), Some(Sort::Word("surgery" | "op" | "operation")));
    let named = all
        .iter()
        .skip(usize::from(keyed))
        .any(|t| matches!(t.sort, Sort::Word(w) if OPERATIONS.contains(&w)));
    let first = Cursor { all, at: 0 };
    let keyed = first.clone().one_of(&["dos", "date of surgery", "date of op", "op date", "doo"]) || {
        // `sx` is what is felt as well.
        let mut c = first;
        let said = c.one_of(&["sx", "surgery date", "sx date", "op'd"]);
        c.sign(':');
        said && day_at(&mut c).is_some()
    };
    let dated = (0..all.len()).any(|at| {
        let c = Cursor { all, at };
        // `16/11`: clear, though its year is not typed.
        let day = || c.peek().filter(|t| t.spaced).and_then(|_| day_at(&mut c.clone()));
        c.clone().date().is_some()
            || c.clone().month_and_day().is_some()
            || matches!(day(), Some(Day::Date(_) | Day::Yearless(_)))
    });
    (named || keyed) && dated
}

/// `Injury 19.11.26`, `DOI 19/11`, `RTA 21 Nov`: the day of an injury.
pub fn is_injury_dated(all: &[Token<'_>]) -> bool {
    let mut c = Cursor { all, at: 0 };
    let said = c.one_of(&[
        "injury",
        "injured",
        "doi",
        "date of injury",
        "injury date",
        "rta",
        "rtc",
        "mva",
        "accident",
    ]);
    c.word(&["on", "date"]);
    c.sign(':');
    said && matches!(day_at(&mut c), Some(Day::Date(_) | Day::Yearless(_)))
}

/// The day of an operation within other words: `until 6/52 post op (op 20/11/26)`.
pub fn day_within(all: &[Token<'_>]) -> Option<Day> {
    (0..all.len()).find_map(|at| {
        let mut c = Cursor { all, at };
        c.word(&["op", "surgery", "operation", "sx", "dos"])?;
        let before = at.checked_sub(1).and_then(|i| all.get(i)).map(|t| t.sort);
        if matches!(before, Some(Sort::Word("post" | "after" | "pre") | Sort::Sign('-'))) {
            return None;
        }
        c.word(&["date", "was"]);
        c.word(&["on"]);
        c.sign(':');
        day_at(&mut c)
    })
}
