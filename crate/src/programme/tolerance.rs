//! How much pain is okay, and what the clinician ordered for more of it: one answer for sheet and phone.

use super::Programme;
use crate::dose::find::effort::at_most;
use crate::language::token::{Cursor, Sort, Token, tokens};
use crate::prescription::Pain;
use crate::text::fold::fold;

/// The pain that is okay, of 10.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Okay {
    pub most: u8,
    /// The usual pain, low and high, where it decided.
    pub usual: Option<(u8, u8)>,
}

/// The pain that is okay: as typed for the whole plan; else 3 of 10 (the pain-monitoring model, Thomeé 1997 and
/// Silbernagel et al. 2007: "safe"), or two above the usual pain, at most 5 ("acceptable" in every version). What is typed
/// for one exercise holds for that one alone.
pub fn okay(p: &Programme) -> Okay {
    match (&p.okay_pain, &p.usual_pain) {
        (Some(typed), _) => Okay { most: typed.most, usual: None },
        (None, Some(usual)) => {
            let most = (usual.high + 2).clamp(3, 5).max(usual.high).min(10);
            Okay { most, usual: Some((usual.low, usual.high)) }
        }
        (None, None) => Okay { most: 3, usual: None },
    }
}

impl Okay {
    /// What a typed bound of one exercise is beside it, in the words of the sheet; empty: every exercise has this one.
    pub fn differs(&self, p: &Programme) -> &'static str {
        let bounds = || p.exercises.iter().filter(|e| e.active).filter_map(|e| e.amount.pain);
        match (bounds().any(|pain| pain < self.most), bounds().any(|pain| self.most < pain)) {
            (true, true) => " Less or more where an exercise says so.",
            (true, false) => " Less where an exercise says so.",
            (false, true) => " More where an exercise says so.",
            (false, false) => "",
        }
    }

    /// As it begins a line on what to do: `Pain above 4?`
    pub fn above(&self) -> String {
        match self.most {
            0 => "Any pain?".to_string(),
            most => format!("Pain above {most}?"),
        }
    }
}

/// What the clinician ordered for more pain than the plan allows, word for word.
pub fn ordered(p: &Programme) -> Option<String> {
    let beyond = p.okay_pain.as_ref().map(|typed| typed.beyond()).unwrap_or_default();
    (!beyond.is_empty()).then(|| format!("{}.", beyond.join(", ").trim_end_matches('.')))
}

/// What went wrong, that a clinician may have ordered something for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Case {
    /// More pain than is okay, while it is done.
    TooMuch,
    /// It had not settled by the next morning.
    NotSettled,
}

/// What the clinician ordered for a case, at an exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    pub case: Case,
    pub from: Above,
    /// For the patient, in the clinician's words.
    pub words: String,
}

/// From which pain on an order holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Above {
    /// From so much of 10.
    Score(u8),
    /// From more than so much above the usual pain, where that is not known.
    Usual(u8),
    /// Whenever the case is met.
    Always,
    /// Only of some kind of it, such as a sharp pain: the patient has to judge.
    Kind,
}

impl Order {
    /// An order for the patient in these words, where `condition` speaks of a case.
    pub fn of(condition: &str, words: String, usual: Option<&Pain>) -> Option<Order> {
        let (case, from) = spoken(condition)?;
        let from = match (from, usual) {
            (Above::Usual(more), Some(usual)) => Above::Score((usual.high + more + 1).min(10)),
            (from, _) => from,
        };
        Some(Order { case, from, words })
    }

    /// Whether it may hold for a case with that worst pain.
    pub fn is_for(&self, case: Case, pain: Option<u8>) -> bool {
        let enough = match (self.from, pain) {
            (Above::Score(from), Some(pain)) => from <= pain,
            _ => true,
        };
        self.case == case && enough
    }

    /// Whether it holds wherever [`Order::is_for`] says that it may, so that nothing of ours need be said.
    pub fn decides(&self) -> bool {
        self.case == Case::NotSettled || matches!(self.from, Above::Score(_) | Above::Always)
    }
}

/// The condition within a sentence: from its `if` or `when` to the next comma or full stop.
pub fn condition(sentence: &str) -> Option<&str> {
    let folded = fold(sentence);
    let all = tokens(&folded);
    let at = all.iter().position(|t| matches!(t.sort, Sort::Word("if" | "when" | "once" | "should")))?;
    let rest = all.get(at + 1..)?;
    let from = rest.first()?.start;
    let ends = |t: &&Token<'_>| matches!(t.sort, Sort::Sign(',' | ';' | ':' | '.') | Sort::Word("then"));
    let to = rest.iter().find(ends).map_or(sentence.len(), |t| t.start);
    sentence.get(from..to)
}

const PAIN: [&str; 20] = [
    "pain",
    "pains",
    "painful",
    "hurt",
    "hurts",
    "hurting",
    "sore",
    "sorer",
    "soreness",
    "ache",
    "aches",
    "aching",
    "discomfort",
    "symptoms",
    "symptom",
    "vas",
    "nrs",
    "nprs",
    "flare",
    "flares",
];
/// By themselves they say that it is too much.
const MUCH: [&str; 9] = ["painful", "hurt", "hurts", "hurting", "sore", "sorer", "aches", "aching", "much"];
/// Of these only some kind of pain is meant, or a course of it.
const MORE: [&str; 24] = [
    "flare",
    "flares",
    "flared",
    "worse",
    "worsen",
    "worsens",
    "increase",
    "increases",
    "increased",
    "increasing",
    "rises",
    "rise",
    "up",
    "sharp",
    "severe",
    "strong",
    "bad",
    "still",
    "lasts",
    "lingers",
    "persists",
    "remains",
    "unsettled",
    "there",
];
const LESS: [&str; 24] = [
    "settle",
    "settles",
    "settled",
    "settling",
    "ease",
    "eases",
    "eased",
    "easing",
    "easy",
    "gone",
    "away",
    "better",
    "improves",
    "improved",
    "calm",
    "calms",
    "less",
    "below",
    "under",
    "free",
    "mild",
    "none",
    "down",
    "tolerable",
];
const NOT: [&str; 19] = [
    "no", "not", "never", "without", "doesn't", "isn't", "hasn't", "won't", "didn't", "don't", "doesnt",
    "isnt", "hasnt", "wont", "didnt", "aren't", "haven't", "nil", "cannot",
];

/// Whether words such as `pain > 4` or `not settled by morning` speak of a case, and from which pain on. What
/// is not sure to speak of one does not: `pain <= 3`, `pain 2/10`, `when it settles by morning` are steps onwards.
///
/// ```
/// use layfigure::programme::tolerance::{Case, Above, spoken};
/// assert_eq!(spoken("pain > 4"), Some((Case::TooMuch, Above::Score(5))));
/// assert_eq!(spoken("not settled by morning"), Some((Case::NotSettled, Above::Always)));
/// assert_eq!(spoken("pain <= 3"), None);
/// ```
pub fn spoken(words: &str) -> Option<(Case, Above)> {
    let folded = fold(words);
    let all = tokens(&folded);
    let has = |list: &[&str]| all.iter().any(|t| matches!(t.sort, Sort::Word(w) if list.contains(&w)));
    let limits = (0..all.len()).any(|at| at_most(&mut Cursor { all: &all, at }).is_some());
    let more = (0..all.len()).find_map(|at| from(&all, at));
    let settles = has(&["settle", "settles", "settled", "settling"]);
    let later = next_morning(&all);
    if limits || !(has(&PAIN) || later || settles || has(&["unsettled"])) {
        return None;
    }
    // A flare-up is pain that stays.
    let later = later || has(&["flare", "flares", "flared"]);
    let (less, not) = (has(&LESS), has(&NOT));
    // `not settled` is more of it, `not painful` is less.
    let is_more = if less { not } else { !not && (more.is_some() || has(&MUCH) || has(&MORE)) };
    if !is_more {
        return None;
    }
    let case = if later || settles || has(&["unsettled"]) { Case::NotSettled } else { Case::TooMuch };
    let from = match (case, more) {
        (Case::NotSettled, _) => Above::Always,
        (Case::TooMuch, Some(from)) => from,
        (Case::TooMuch, None) if has(&MORE) => Above::Kind,
        (Case::TooMuch, None) => Above::Always,
    };
    Some((case, from))
}

/// `> 4`, `above 4`, `at least 5`, `5 or more`, `> usual + 2`: from which pain on.
fn from(all: &[Token<'_>], at: usize) -> Option<Above> {
    let score = |n: u32| u8::try_from(n).ok().filter(|n| *n <= 10);
    let mut c = Cursor { all, at };
    let behind = |c: &mut Cursor<'_>, add: u32| {
        c.word(&["the", "your", "her", "his"]);
        if c.word(&["usual", "normal", "baseline", "resting"]).is_some() {
            c.word(&["pain"]);
            let more = if c.sign('+') || c.word(&["plus", "by"]).is_some() { c.whole()? } else { 0 };
            return score(more).map(Above::Usual);
        }
        // More than something else: the patient has to judge.
        Some(c.whole().and_then(|n| score(n.saturating_add(add))).map_or(Above::Kind, Above::Score))
    };
    if c.signs(">=") || c.signs("=>") || c.words(&["at", "least"]) {
        return behind(&mut c, 0);
    }
    if c.sign('>') || c.word(&["above", "over", "exceeds", "exceeding", "past", "beyond"]).is_some() {
        return behind(&mut c, 1);
    }
    for than in ["more", "worse", "higher", "greater"] {
        if c.words(&[than, "than"]) {
            return behind(&mut c, 1);
        }
    }
    if c.word(&["reaches", "hits"]).is_some() {
        return behind(&mut c, 0);
    }
    let n = c.whole().and_then(score)?;
    if c.sign('/') || c.word(&["of"]).is_some() || c.words(&["out", "of"]) {
        c.whole().filter(|ten| *ten == 10)?;
    }
    let up = c.sign('+') && !matches!(c.peek().map(|t| t.sort), Some(Sort::Number(_)));
    let or = c.word(&["or", "and"]).is_some()
        && c.word(&["more", "above", "higher", "over", "worse", "up", "greater"]).is_some();
    (up || or).then_some(Above::Score(n))
}

fn next_morning(all: &[Token<'_>]) -> bool {
    (0..all.len()).any(|at| {
        let mut c = Cursor { all, at };
        if c.word(&["morning", "overnight", "tomorrow", "night"]).is_some()
            || c.words(&["next", "day"])
            || c.words(&["following", "day"])
            || c.words(&["day", "after"])
        {
            return true;
        }
        c.whole() == Some(24) && {
            c.sign('-');
            c.word(&["h", "hr", "hrs", "hour", "hours"]).is_some()
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Place;

    #[test]
    fn conditions_that_speak_of_a_case_are_told_from_steps_onwards() {
        use Above::{Always, Kind, Score, Usual};
        use Case::{NotSettled, TooMuch};
        for (words, wanted) in [
            ("pain > 4", Some((TooMuch, Score(5)))),
            ("pain >4/10", Some((TooMuch, Score(5)))),
            ("pain ≥ 5", Some((TooMuch, Score(5)))),
            ("pain is above 4", Some((TooMuch, Score(5)))),
            ("pain goes over four", Some((TooMuch, Score(5)))),
            ("pain more than 4 out of 10", Some((TooMuch, Score(5)))),
            ("pain is 5 or more", Some((TooMuch, Score(5)))),
            ("pain 5/10 or above", Some((TooMuch, Score(5)))),
            ("pain 5+", Some((TooMuch, Score(5)))),
            ("pain reaches 6", Some((TooMuch, Score(6)))),
            ("VAS >= 6", Some((TooMuch, Score(6)))),
            ("pain > usual + 2", Some((TooMuch, Usual(2)))),
            ("it hurts", Some((TooMuch, Always))),
            ("too much pain", Some((TooMuch, Always))),
            ("sharp pain", Some((TooMuch, Kind))),
            ("24 h pain > usual + 2", Some((NotSettled, Always))),
            ("24-hour pain > 4", Some((NotSettled, Always))),
            ("sore the next day", Some((NotSettled, Always))),
            ("still sore next morning", Some((NotSettled, Always))),
            ("not settled by morning", Some((NotSettled, Always))),
            ("pain has not settled", Some((NotSettled, Always))),
            ("it doesn't settle overnight", Some((NotSettled, Always))),
            ("pain worse the day after", Some((NotSettled, Always))),
            ("it flares up", Some((NotSettled, Always))),
            // Onwards, or of nothing that is known: never shown as an order for a bad answer.
            ("pain <= 3", None),
            ("pain < 4", None),
            ("pain below 4", None),
            ("pain no more than 4", None),
            ("pain not above 4", None),
            ("pain at most 3", None),
            ("pain 2/10", None),
            ("pain 2", None),
            ("pain-free", None),
            ("no pain", None),
            ("not painful", None),
            ("pain is gone", None),
            ("pain settles by morning", None),
            ("settled by morning", None),
            ("easy", None),
            ("two weeks without pain", None),
            ("4 or more sessions done", None),
            ("you can do 12 or more", None),
            ("", None),
        ] {
            assert_eq!(spoken(words), wanted, "{words}");
        }
    }

    #[test]
    fn a_condition_is_found_within_its_sentence() {
        for (sentence, wanted) in [
            ("If pain goes above 4, do two sets.", Some("pain goes above 4")),
            ("two sets if pain > 4", Some("pain > 4")),
            ("Stop when it hurts. Then rest.", Some("it hurts")),
            ("Some pain is fine. Keep going up.", None),
        ] {
            assert_eq!(condition(sentence), wanted, "{sentence}");
        }
    }

    #[test]
    fn an_order_above_the_usual_pain_counts_from_it() {
        let usual =
            Pain { low: 2, high: 3, words: String::new(), place: Place { line: 1, start: 0, end: 0 } };
        let order = Order::of("pain > usual + 2", "two sets".into(), Some(&usual)).expect("an order");
        assert_eq!(order.from, Above::Score(6));
        assert!(order.is_for(Case::TooMuch, Some(6)) && !order.is_for(Case::TooMuch, Some(5)));
        assert!(order.decides());
        let order = Order::of("pain > usual + 2", "two sets".into(), None).expect("an order");
        assert!(order.is_for(Case::TooMuch, Some(6)) && !order.decides());
    }
}
