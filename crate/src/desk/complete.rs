//! What could stand next where the cursor is: names of exercises, keys, sides, doses. Offered, never put in unasked.

use super::{change, place};
use crate::body::names::{Side, can_move};
use crate::body::range;
use crate::catalog::terms::{Kit, Sides, Term};
use crate::catalog::{Catalog, Exercise, find};
use crate::dose::Sided;
use crate::prescription::Prescription;
use crate::prescription::words::{Below, Count, DETAILS, Key, LINE_WORDS};

/// At most so many are offered at once: a list that is read at a glance (common practice, no source).
const MOST: usize = 6;

/// One thing that could stand there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// As it is shown.
    pub words: String,
    /// What it is, beside it in small.
    pub more: String,
    /// The exercise whose small figure stands beside it, by its place in the catalog's list.
    pub figure: Option<String>,
    /// What stands between these bytes of the text becomes `with`.
    pub from: usize,
    pub to: usize,
    pub with: String,
}

/// Values that rules know; a test holds each against its rule.
pub const AVOID: [&str; 12] = [
    "kneeling",
    "lying flat",
    "lying on front",
    "lying on side",
    "floor",
    "sitting",
    "standing",
    "impact",
    "overhead",
    "twisting",
    "bending forward",
    "deep squat",
];
pub const CAUTION: [&str; 9] = [
    "raised blood pressure",
    "osteoporosis",
    "pregnancy",
    "falls",
    "hypermobility",
    "posterior hip precautions",
    "rotator cuff repair",
    "cruciate reconstruction",
    "brace",
];
pub const WEIGHT: [&str; 5] =
    ["non-weight-bearing", "touch-weight-bearing", "50 %", "as tolerated", "full weight-bearing"];
pub const BODY: [&str; 5] = ["older", "broad", "child", "pregnant", "165 cm"];

/// How a dose goes on; each is read as a dose by itself.
pub const DOSES: [&str; 10] = [
    "3 x 10",
    "2 x 10, hold 5 s",
    "3 x 30 s",
    "5 min",
    "daily",
    "2/day",
    "3/week",
    "alternate days",
    "rest 60 s",
    "as needed, at most 4/day",
];

/// The offers at a byte of the text; none where the cursor does not stand behind the last word of its line.
pub fn offers(text: &str, read: &Prescription, caret: usize) -> Vec<Offer> {
    let number = place::line_of(text, caret);
    let Some((start, line)) = place::line(text, number) else { return Vec::new() };
    let at = caret.saturating_sub(start);
    let (Some(typed), Some(rest)) = (line.get(..at), line.get(at..)) else { return Vec::new() };
    if !rest.trim().is_empty() || typed.trim_start().starts_with(['#', '/']) {
        return Vec::new();
    }
    let indent = typed.len() - typed.trim_start().len();
    let below = change::at_hand(read, number).is_some_and(|at| read.exercises[at].line < number);
    let maker = Maker { text, read, start, caret };
    let mut offers = match typed.split_once(':') {
        Some((head, value)) => maker.values(head.trim(), value),
        None if 0 < indent && below => maker.details(typed, indent),
        None => maker.names(typed, number),
    };
    offers.retain(|offer| text.get(offer.from..offer.to) != Some(offer.with.as_str()));
    offers.truncate(MOST);
    offers
}

struct Maker<'a> {
    text: &'a str,
    read: &'a Prescription,
    /// Where the line begins.
    start: usize,
    caret: usize,
}

impl Maker<'_> {
    fn offer(&self, from: usize, words: &str, more: &str, with: String) -> Offer {
        let from = self.start + from;
        Offer { words: words.into(), more: more.into(), figure: None, from, to: self.caret, with }
    }

    /// Names of exercises and keys, then sides and the usual dose behind a name that is known.
    fn names(&self, typed: &str, number: usize) -> Vec<Offer> {
        let bullet = bullet(typed);
        let words = typed.get(bullet..).unwrap_or("");
        if let Some((name, side)) = words.split_once(',')
            && let Some(entry) = change::entry(self.read, name)
        {
            return self.sides(entry, side, bullet + name.len() + 1);
        }
        if let Some(entry) = change::entry(self.read, words)
            && (words.ends_with(' ') || find::key(&entry.name) == find::key(words))
        {
            let mut after = self.behind_name(entry, bullet, words);
            after.extend(self.begun(words, bullet, Some(&entry.id)));
            return after;
        }
        let mut offers = self.begun(words, bullet, None);
        // Keys stand in the head, or wherever nothing else begins so.
        let typed = words.trim().to_lowercase();
        if bullet == 0 && !typed.is_empty() {
            let rows = LINE_WORDS.iter().filter(|row| row.word.starts_with(&typed));
            let free = rows.filter(|row| row.count == Count::Many || !self.says(row.word, number));
            let keys =
                free.map(|row| self.offer(0, &format!("{}:", row.word), row.says, format!("{}: ", row.word)));
            let head = self.read.exercises.iter().all(|e| number <= e.line);
            let at = if head { 0 } else { offers.len() };
            offers.splice(at..at, keys);
        }
        offers
    }

    /// Whether another line begins with this key.
    fn says(&self, key: &str, number: usize) -> bool {
        let line = |written: &crate::prescription::Written| {
            written.number != number && written.tidy.split_once(':').is_some_and(|(head, _)| head == key)
        };
        self.read.lines.iter().any(line)
    }

    /// Exercises whose name begins so, then those with a word that does, then by their synonyms.
    fn begun(&self, words: &str, from: usize, but: Option<&str>) -> Vec<Offer> {
        let typed = find::key(words);
        if typed.chars().count() < 2 {
            return Vec::new();
        }
        let all = Catalog::embedded().exercises();
        let rank = |e: &Exercise| -> Option<u8> {
            let of = |name: &str| {
                let key = find::key(name);
                if key.starts_with(&typed) {
                    Some(0)
                } else if key.split(' ').any(|w| w.starts_with(&typed)) || has_all(&key, &typed) {
                    Some(1)
                } else {
                    None
                }
            };
            let also = e.also.iter().filter_map(|name| of(name)).min().map(|rank| rank + 2);
            of(&e.name).or(also)
        };
        let mut found: Vec<(u8, &Exercise)> =
            all.iter().filter(|e| Some(e.id.as_str()) != but).filter_map(|e| Some((rank(e)?, e))).collect();
        crate::sorting::sort_by_key(&mut found, |(rank, e)| (*rank, e.name.len(), e.name.clone()));
        found
            .into_iter()
            .take(MOST)
            .map(|(_, e)| {
                let name = change::prescription_name(e);
                let next = if e.sides == Sides::Each { ", " } else { ": " };
                let region = e.region.map(Term::word).unwrap_or("");
                let more = format!("{region}, {}", e.purpose.word());
                Offer {
                    figure: Some(e.id.clone()),
                    ..self.offer(from, &name, more.trim_start_matches(", "), format!("{name}{next}"))
                }
            })
            .collect()
    }

    /// A name stands there whole: its sides, or its usual dose.
    fn behind_name(&self, entry: &Exercise, from: usize, words: &str) -> Vec<Offer> {
        let end = from + words.trim_end().len();
        if entry.sides == Sides::Each {
            return self.side_offers(entry, end, ", ");
        }
        self.usual(entry, end, ": ")
    }

    fn sides(&self, entry: &Exercise, typed: &str, at: usize) -> Vec<Offer> {
        let word = typed.trim().to_lowercase();
        let sided = ["left", "right", "each side"].contains(&word.as_str());
        if sided {
            return self.usual(entry, at + typed.trim_end().len(), ": ");
        }
        let from = at + (typed.len() - typed.trim_start().len());
        let lead = if typed.is_empty() { " " } else { "" };
        let mut offers = self.side_offers(entry, from, lead);
        offers.retain(|offer| offer.words.starts_with(&word));
        offers
    }

    /// The side that the other exercises have comes first; each with the usual dose behind it.
    fn side_offers(&self, entry: &Exercise, from: usize, lead: &str) -> Vec<Offer> {
        let usual = change::usual_side(self.read);
        let mut sides = vec!["right", "left", "each side"];
        if usual == Some(Sided::Left) {
            sides.swap(0, 1);
        }
        sides.into_iter().map(|side| self.offer(from, side, &entry.side, format!("{lead}{side}: "))).collect()
    }

    fn usual(&self, entry: &Exercise, from: usize, lead: &str) -> Vec<Offer> {
        let dose = entry.dose.to_string();
        if dose.is_empty() {
            return Vec::new();
        }
        vec![self.offer(from, &dose, "the usual dose", format!("{lead}{dose}"))]
    }

    fn details(&self, typed: &str, indent: usize) -> Vec<Offer> {
        let word = typed.trim().to_lowercase();
        let number = place::line_of(self.text, self.caret);
        DETAILS
            .iter()
            .filter(|row| row.head.starts_with(&word))
            .filter(|row| row.count == Count::Many || !self.stands_below(row.below, number))
            .map(|row| self.offer(indent, &format!("{}:", row.head), row.says, format!("{}: ", row.head)))
            .collect()
    }

    /// Whether another line below the same exercise begins with this detail.
    fn stands_below(&self, below: Below, number: usize) -> bool {
        let here = change::at_hand(self.read, number);
        let begins = |number: usize| {
            let (head, _) = place::line(self.text, number)?.1.split_once(':')?;
            Below::of(&head.trim().to_lowercase())
        };
        self.read.lines.iter().map(|line| line.number).any(|other| {
            other != number && begins(other) == Some(below) && change::at_hand(self.read, other) == here
        })
    }

    /// What may stand behind a colon.
    fn values(&self, head: &str, value: &str) -> Vec<Offer> {
        let at = head_end(self.text, self.start, self.caret);
        let key = Key::of(&head.to_lowercase());
        // The piece that is being typed: behind the last comma.
        let piece = value.rfind(',').map_or(0, |comma| comma + 1);
        let word = value.get(piece..).unwrap_or("");
        let from = at + piece + (word.len() - word.trim_start().len());
        let lead = if word.is_empty() { " " } else { "" };
        let typed = word.trim().to_lowercase();
        let list = |all: Vec<String>, more: &str| -> Vec<Offer> {
            let begun = all.iter().filter(|w| w.to_lowercase().starts_with(&typed));
            begun.map(|w| self.offer(from, w, more, format!("{lead}{w}"))).collect()
        };
        let own = |all: &[&str]| all.iter().map(|w| (*w).to_string()).collect::<Vec<String>>();
        match key {
            Some(Key::Limit | Key::Range) => self.angles(value, at),
            Some(Key::Kit) => list(own(&Kit::words()), ""),
            Some(Key::Avoid | Key::Cannot) => list(own(&AVOID), "checked by computation"),
            Some(Key::Caution) => list(own(&CAUTION), "a rule knows it"),
            Some(Key::Weight) if value.contains(',') => list(own(&WEIGHT), ""),
            Some(Key::Weight) => list(own(&["right,", "left,", "both,"]), ""),
            Some(Key::Body) => list(own(&BODY), ""),
            Some(Key::Ask) => list(own(&["done", "pain", "settled by morning"]), ""),
            Some(_) => Vec::new(),
            None => {
                let Some(entry) = change::entry(self.read, head.split(',').next().unwrap_or("")) else {
                    return Vec::new();
                };
                let mut offers =
                    if value.trim().is_empty() { self.usual(entry, at, " ") } else { Vec::new() };
                offers.extend(list(own(&DOSES), ""));
                offers
            }
        }
    }

    /// Joints with the motions that they make, and how far each goes.
    fn angles(&self, value: &str, at: usize) -> Vec<Offer> {
        let typed = value.trim_start().to_lowercase();
        let from = at + (value.len() - value.trim_start().len());
        let lead = if value.is_empty() { " " } else { "" };
        let side = match change::usual_side(self.read) {
            Some(Sided::Left) => [Side::Left, Side::Right],
            _ => [Side::Right, Side::Left],
        };
        let mut offers = Vec::new();
        for joint in super::limits::JOINTS {
            for motion in super::limits::motions(joint) {
                let sides: Vec<Option<Side>> =
                    if joint.is_paired() { side.iter().map(|s| Some(*s)).collect() } else { vec![None] };
                for side in sides {
                    let angle = crate::body::names::Angle { side, joint, motion };
                    let name = angle.name();
                    let most = range::highest(angle).unwrap_or(0.0);
                    if can_move(joint, motion) && begins(&name, &typed) {
                        let with = format!("{lead}{name} 0-");
                        let more = format!("goes to {}", crate::measure::shown(most, 0));
                        offers.push(self.offer(from, &name, &more, with));
                    }
                }
            }
        }
        // The side that this patient's exercises have first.
        offers.sort_by_key(|offer: &Offer| {
            !offer.words.starts_with(side[0].word()) && self.is_sided(&offer.words)
        });
        offers
    }

    fn is_sided(&self, words: &str) -> bool {
        Side::BOTH.iter().any(|side| words.starts_with(side.word()))
    }
}

/// All typed words begin words of the name, in order: `r knee fl` begins `right knee flexion`.
fn begins(name: &str, typed: &str) -> bool {
    let mut words = name.split(' ');
    typed.split_whitespace().all(|part| words.any(|word| word.starts_with(part)))
}

fn has_all(key: &str, typed: &str) -> bool {
    typed.contains(' ') && typed.split(' ').all(|part| key.split(' ').any(|w| w.starts_with(part)))
}

/// How much of a line is indent and bullet.
fn bullet(line: &str) -> usize {
    let rest = line.trim_start();
    let signs = rest.trim_start_matches(['-', '*', '•', '–']);
    let signs = if signs.len() < rest.len() { signs.trim_start() } else { rest };
    line.len() - signs.len()
}

/// The byte in the line behind its first colon.
fn head_end(text: &str, start: usize, caret: usize) -> usize {
    text.get(start..caret).and_then(|typed| typed.find(':')).map_or(0, |colon| colon + 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prescription;
    use crate::text::Place;

    fn at_end(text: &str) -> Vec<Offer> {
        let (read, _) = prescription::read(text);
        offers(text, &read, text.len())
    }

    fn words(text: &str) -> Vec<String> {
        at_end(text).into_iter().map(|offer| offer.words).collect()
    }

    /// Takes the first offer again and again, as one key does.
    fn taken(text: &str, times: usize) -> String {
        let mut text = text.to_string();
        for _ in 0..times {
            if let Some(first) = at_end(&text).first() {
                text.replace_range(first.from..first.to, &first.with);
            }
        }
        text
    }

    #[test]
    fn a_line_is_made_of_offers_alone() {
        for entry in Catalog::embedded().exercises() {
            let name = change::prescription_name(entry);
            let start: String = name.chars().take(name.chars().count().saturating_sub(1)).collect();
            let text = taken(&start, 4);
            let (read, notices) = prescription::read(&text);
            let line = read.exercises.first().unwrap_or_else(|| panic!("{text}"));
            assert_eq!(Catalog::embedded().find(&line.name.text), find::Found::One(entry), "{start}: {text}");
            assert_eq!(
                line.side.is_some(),
                entry.sides == Sides::Each || entry.dose.sides.is_some(),
                "{text}"
            );
            assert_eq!(line.dose, crate::dose::Dose { sides: None, ..entry.dose.clone() }, "{text}");
            assert!(
                notices.iter().all(|n| n.severity() != crate::notice::Severity::Error),
                "{text}: {notices:?}"
            );
        }
    }

    #[test]
    fn the_side_of_the_others_comes_first() {
        let name = change::prescription_name(
            Catalog::embedded().exercises().iter().find(|e| e.sides == Sides::Each).expect("one with sides"),
        );
        assert_eq!(words(&format!("{name}, "))[0], "right");
        assert_eq!(words(&format!("{name}, left: 2 x 10\n{name}, "))[0], "left");
        assert_eq!(words(&format!("# Left knee\n{name}, "))[0], "left");
        assert_eq!(words(&format!("{name}, e")), ["each side"]);
    }

    #[test]
    fn keys_values_and_details_are_offered_where_they_belong() {
        assert_eq!(words("li")[0], "limit:");
        assert_eq!(words("limit: knee fl")[0], "right knee flexion");
        assert_eq!(words("# Left knee\nlimit: knee fl")[0], "left knee flexion");
        assert_eq!(words("kit: chair, loo"), ["loop band"]);
        assert_eq!(words("avoid: kn"), ["kneeling"]);
        assert!(words("abcd: 3 x 10\n  st").contains(&"stop if:".to_string()));
        assert_eq!(words("st")[0], "start:");
        assert!(words("bridge: 3 x 10 // l").is_empty());
        assert!(words("# li").is_empty() && words("// li").is_empty());
        assert!(words("").is_empty());
    }

    #[test]
    fn what_is_offered_is_understood() {
        for word in AVOID {
            assert!(crate::programme::check::avoid::known(word), "{word}");
        }
        for word in CAUTION {
            assert!(!crate::language::condition::knows(word).is_empty(), "{word}");
        }
        for word in WEIGHT {
            let (read, notices) = prescription::read(&format!("weight: right, {word}"));
            assert!(read.bearing.len() == 1 && notices.is_empty(), "{word}: {notices:?}");
        }
        for dose in DOSES {
            let (read, notices) = crate::dose::read(dose, Place { line: 1, start: 0, end: dose.len() });
            assert!(read.words.is_empty() && notices.is_empty(), "{dose}: {read:?}");
        }
        for row in DETAILS {
            let (_, notices) =
                prescription::read(&format!("bridge: 3 x 10\n  {}: {}", row.head, row.example));
            assert!(
                notices.iter().all(|n| n.severity() != crate::notice::Severity::Error),
                "{}: {notices:?}",
                row.head
            );
        }
    }

    #[test]
    fn a_word_is_offered_as_often_as_it_may_stand() {
        let begun = |word: &str| word.chars().take(word.chars().count() - 1).collect::<String>();
        for row in LINE_WORDS {
            let (offered, begun) = (format!("{}:", row.word), begun(row.word));
            assert!(words(&begun).contains(&offered), "{offered}");
            let again =
                words(&format!("{}: {}\n{begun}", row.word, row.example.lines().next().unwrap_or("")));
            assert_eq!(again.contains(&offered), row.count == Count::Many, "{offered} once more");
        }
        for row in DETAILS {
            let (offered, begun) = (format!("{}:", row.head), begun(row.head));
            assert!(words(&format!("bridge: 3 x 10\n  {begun}")).contains(&offered), "{offered}");
            let again = words(&format!("bridge: 3 x 10\n  {}: {}\n  {begun}", row.head, row.example));
            let other =
                words(&format!("bridge: 3 x 10\n  {}: {}\nsquat: 3 x 8\n  {begun}", row.head, row.example));
            assert_eq!(again.contains(&offered), row.count == Count::Many, "{offered} once more");
            assert!(other.contains(&offered), "{offered} below another exercise");
        }
    }

    #[test]
    fn any_cursor_in_any_text_is_answered() {
        let text = "# ä\nlimit: right knee fl\n- heel sl\n  cu\nheel slide, r\n\n👍: 3\n";
        let (read, _) = prescription::read(text);
        for caret in 0..=text.len() + 3 {
            for offer in offers(text, &read, caret) {
                assert!(text.get(offer.from..offer.to).is_some(), "{caret}: {offer:?}");
            }
        }
    }
}
