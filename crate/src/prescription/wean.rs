//! Rules on how a support or a walking aid is given up: `sling wean off from week 4`, `reduce to one stick`.

use crate::language::token::{Cursor, Sort, Token};

const THINGS: [&str; 26] = [
    "sling",
    "slings",
    "brace",
    "splint",
    "boot",
    "collar",
    "corset",
    "cast",
    "strapping",
    "bandage",
    "orthosis",
    "immobiliser",
    "immobilizer",
    "crutch",
    "crutches",
    "stick",
    "sticks",
    "cane",
    "canes",
    "frame",
    "zimmer",
    "rollator",
    "walker",
    "wheelchair",
    "aid",
    "aids",
];

/// Whether a line tells the patient to give up a support or an aid, at once or by steps. What was done already is none.
pub fn is_rule(all: &[Token<'_>]) -> bool {
    let has = |list: &[&str]| all.iter().any(|t| matches!(t.sort, Sort::Word(w) if list.contains(&w)));
    if !has(&THINGS)
        || has(&[
            "no", "not", "don't", "dont", "never", "avoid", "was", "has", "had", "been", "can", "may",
            "allowed",
        ])
    {
        return false;
    }
    let at = |i: usize| Cursor { all, at: i };
    // Behind these it is when something else is done.
    let when = all
        .iter()
        .position(|t| matches!(t.sort, Sort::Word("when" | "if" | "once" | "until" | "till" | "while")));
    (0..when.unwrap_or(all.len())).any(|i| {
        let mut c = at(i);
        // `wean off crutches`, `sling: wean from week 3`.
        if c.word(&["wean", "weaning"]).is_some() {
            return true;
        }
        // `come out of the boot`, `out of sling from week 4`.
        if c.words(&["out", "of"]) || c.words(&["come", "off"]) || c.words(&["get", "off"]) {
            c.word(&["the", "your", "a"]);
            return c.word(&THINGS).is_some();
        }
        // `reduce to one stick`, `down to 1 crutch`, `progress to a stick`.
        c = at(i);
        let verb = c.word(&[
            "reduce",
            "reducing",
            "drop",
            "down",
            "progress",
            "progressing",
            "go",
            "move",
            "change",
            "cut",
            "switch",
        ]);
        if verb.is_some() {
            c.word(&["down"]);
            if c.word(&["to"]).is_none() {
                return false;
            }
            let _ = c.word(&["a", "the", "single", "elbow"]).is_some() || c.whole().is_some();
            c.word(&["elbow", "walking", "single"]);
            return c.word(&THINGS).is_some();
        }
        // `discard brace week 6`, `remove splint at night from week 4`.
        if c.word(&["discard", "remove", "ditch", "lose", "discontinue"]).is_some() {
            c.word(&["the", "your"]);
            return c.word(&THINGS).is_some();
        }
        // `sling off from week 4`.
        c = at(i);
        c.word(&THINGS).is_some()
            && c.word(&["off"]).is_some()
            && (c.is_done() || c.word(&["from", "after", "at", "in"]).is_some())
    })
}

#[cfg(test)]
mod tests {
    use crate::language::token::tokens;
    use crate::text::fold::fold;

    fn is_rule(line: &str) -> bool {
        super::is_rule(&tokens(&fold(line)))
    }

    #[test]
    fn giving_up_an_aid_is_told_from_what_was_done_and_what_is_forbidden() {
        for rule in [
            "sling wean off from week 4",
            "wean off crutches",
            "reduce to one stick",
            "down to 1 elbow crutch from wk 3",
            "progress to a stick when steady",
            "out of the boot at night",
            "collar off from week 2",
            "discard splint week 6",
        ] {
            assert!(is_rule(rule), "{rule}");
        }
        for other in [
            "weaned off crutches",
            "do not wean off the brace",
            "step up to box",
            "stick flexion 3 x 10",
            "go to the gym",
            "out of breath on stairs",
            "was down to one stick",
            "can drive when out of sling",
            "bath once out of the boot",
        ] {
            assert!(!is_rule(other), "{other}");
        }
    }
}
