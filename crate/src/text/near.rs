//! The nearest known words, never across an opposite.

use super::fold::folded;

/// Words that mean the opposite of each other, in pairs: a guess must never cross one.
/// From memory: the anatomical terms of motion and position, and plain English directions.
const OPPOSITES: [(&str, &str); 58] = [
    ("abduction", "adduction"),
    ("abductor", "adductor"),
    ("abductors", "adductors"),
    ("abduct", "adduct"),
    ("abducted", "adducted"),
    ("internal", "external"),
    ("internally", "externally"),
    ("int", "ext"),
    ("ir", "er"),
    ("flexion", "extension"),
    ("flexor", "extensor"),
    ("flexors", "extensors"),
    ("flex", "extend"),
    ("flexed", "extended"),
    ("dorsiflexion", "plantarflexion"),
    ("dorsiflexion", "plantar"),
    ("dorsi", "plantar"),
    ("pronation", "supination"),
    ("prone", "supine"),
    ("inversion", "eversion"),
    ("invert", "evert"),
    ("protraction", "retraction"),
    ("protract", "retract"),
    ("elevation", "depression"),
    ("ulnar", "radial"),
    ("medial", "lateral"),
    ("anterior", "posterior"),
    ("proximal", "distal"),
    ("concentric", "eccentric"),
    ("active", "passive"),
    ("left", "right"),
    ("l", "r"),
    ("lt", "rt"),
    ("up", "down"),
    ("upward", "downward"),
    ("upwards", "downwards"),
    ("in", "out"),
    ("inward", "outward"),
    ("inner", "outer"),
    ("open", "close"),
    ("open", "closed"),
    ("opening", "closing"),
    ("raise", "lower"),
    ("lift", "lower"),
    ("upper", "lower"),
    ("push", "pull"),
    ("forward", "backward"),
    ("forwards", "backwards"),
    ("front", "back"),
    ("high", "low"),
    ("long", "short"),
    ("straight", "bent"),
    ("single", "double"),
    ("with", "without"),
    ("on", "off"),
    ("before", "after"),
    ("tighten", "relax"),
    ("over", "under"),
];

/// All near known words, nearest first, ties in the order given. None is across an opposite of what was
/// typed. Exactly one answer may be suggested; several must all be offered, since choosing is a guess.
///
/// "Near" is a Damerau-Levenshtein distance (one letter more, less, other, or two neighbours swapped) of
/// at most 1 up to 5 letters, 2 up to 9, 3 above; nothing is near a word below 4 letters (`SLR`, `ER`).
/// Of those, only the ones within 1 of the nearest are kept.
///
/// ```
/// use layfigure::text::near::nearest;
/// let known = ["hip abduction", "hip adduction", "heel slide"];
/// assert_eq!(nearest("hip abducton", known), ["hip abduction"]);
/// assert_eq!(nearest("heal slide", known), ["heel slide"]);
/// assert_eq!(nearest("hip addction", known), ["hip adduction"]);
/// assert_eq!(nearest("hip aduction", known), ["hip abduction", "hip adduction"]);
/// ```
pub fn nearest<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    let typed = folded(typed);
    let bound = match typed.chars().count() {
        0..=3 => return Vec::new(),
        4..=5 => 1,
        6..=9 => 2,
        _ => 3,
    };
    within(&typed, known, bound)
}

/// As [`nearest`], with the greatest distance given; `typed` is folded already.
pub fn within<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>, bound: usize) -> Vec<&'a str> {
    let mut found: Vec<(usize, &str)> = Vec::new();
    let (length, letters) = (typed.chars().count(), letters(typed));
    for word in known {
        // Cheap refusals first: lengths and letters that differ too much.
        if word.is_ascii() && bound < word.len().abs_diff(length) {
            continue;
        }
        if 2 * bound < (self::letters(word) ^ letters).count_ones() as usize {
            continue;
        }
        let plain = folded(word);
        let Some(d) = distance(typed, &plain, bound) else { continue };
        if !crosses(typed, &plain) && !found.iter().any(|(_, w)| *w == word) {
            found.push((d, word));
        }
    }
    crate::sorting::sort_by_key(&mut found, |(d, _)| *d);
    let best = found.first().map_or(0, |(d, _)| *d);
    found.into_iter().filter(|(d, _)| *d <= best + 1 && (best != 0 || *d == 0)).map(|(_, w)| w).collect()
}

/// Which ASCII letters a word has, as bits; one slip changes at most two of them.
fn letters(word: &str) -> u32 {
    word.bytes().filter(u8::is_ascii_alphabetic).fold(0, |set, b| set | 1 << (b.to_ascii_lowercase() - b'a'))
}

/// Whether taking `typed` for `known` would turn a word into its opposite. Both folded.
pub fn crosses(typed: &str, known: &str) -> bool {
    let typed: Vec<&str> = words(typed).collect();
    let known: Vec<&str> = words(known).collect();
    OPPOSITES.iter().any(|(a, b)| turns(&typed, &known, a, b) || turns(&typed, &known, b, a))
}

/// Pairs that say where something goes or how it lies: of how an exercise is done they say nothing against its name.
const EVERYDAY: [&str; 34] = [
    "up",
    "upward",
    "upwards",
    "in",
    "inward",
    "inner",
    "open",
    "opening",
    "raise",
    "lift",
    "upper",
    "forward",
    "forwards",
    "front",
    "high",
    "long",
    "straight",
    "with",
    "on",
    "before",
    "tighten",
    "over",
    "push",
    "left",
    "l",
    "lt",
    "single",
    "down",
    "proximal",
    "elevation",
    "medial",
    "anterior",
    "out",
    "off",
];

/// Whether words say the opposite of a word of a name: `external` beside a name with `internal`. Both folded.
///
/// ```
/// use layfigure::text::near::opposes;
/// assert!(opposes("hip abduction", "then adduction"));
/// assert!(!opposes("step up", "lower down slowly"));
/// ```
pub fn opposes(name: &str, said: &str) -> bool {
    let (name, said): (Vec<&str>, Vec<&str>) = (words(name).collect(), words(said).collect());
    let turned = |a: &str, b: &str| name.contains(&a) && !name.contains(&b) && said.contains(&b);
    OPPOSITES.iter().filter(|(a, _)| !EVERYDAY.contains(a)).any(|(a, b)| turned(a, b) || turned(b, a))
}

/// Whether `typed` says `a` (or is nearer to it) where `known` says its opposite `b`.
fn turns(typed: &[&str], known: &[&str], a: &str, b: &str) -> bool {
    if !known.contains(&b) || known.contains(&a) || typed.contains(&b) {
        return false;
    }
    typed.iter().any(|word| {
        if *word == a {
            return true;
        }
        let bound = if a.len() < 4 { 0 } else { 2 };
        match (distance(word, a, bound), distance(word, b, 12)) {
            (Some(to_a), Some(to_b)) => to_a < to_b,
            (Some(_), None) => true,
            (None, _) => false,
        }
    })
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty())
}

/// The Damerau-Levenshtein distance (optimal string alignment) of two words in characters, where it is at
/// most `bound`.
pub fn distance(a: &str, b: &str, bound: usize) -> Option<usize> {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    if bound < a.len().abs_diff(b.len()) {
        return None;
    }
    let width = b.len() + 1;
    let mut before: Vec<usize> = vec![0; width];
    let mut last: Vec<usize> = (0..width).collect();
    let mut row: Vec<usize> = vec![0; width];
    for (i, ca) in a.iter().enumerate() {
        let get = |row: &[usize], j: usize| row.get(j).copied().unwrap_or(usize::MAX / 2);
        let mut least = i + 1;
        let mut left = i + 1;
        let mut next = vec![left];
        for (j, cb) in b.iter().enumerate() {
            let mut d = (get(&last, j) + usize::from(ca != cb)).min(get(&last, j + 1) + 1).min(left + 1);
            let swapped = 0 < i && 0 < j && a.get(i - 1) == Some(cb) && b.get(j - 1) == Some(ca);
            if swapped {
                d = d.min(get(&before, j - 1) + 1);
            }
            next.push(d);
            left = d;
            least = least.min(d);
        }
        if bound < least && bound < last.iter().copied().min().unwrap_or(0) {
            return None;
        }
        row.clone_from(&next);
        core::mem::swap(&mut before, &mut last);
        core::mem::swap(&mut last, &mut row);
    }
    last.last().copied().filter(|d| *d <= bound)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances() {
        for (a, b, d) in [
            ("limit", "limit", 0),
            ("limt", "limit", 1),
            ("lmiit", "limit", 1),
            ("kitten", "sitting", 3),
            ("", "abc", 3),
            ("ca", "abc", 3),
        ] {
            assert_eq!(distance(a, b, 9), Some(d), "{a} {b}");
            assert_eq!(distance(b, a, 9), Some(d), "{b} {a}");
        }
        assert_eq!(distance("limt", "limit", 0), None);
        assert_eq!(distance("kitten", "sitting", 2), None);
    }

    #[test]
    fn never_across_an_opposite() {
        for (a, b) in OPPOSITES {
            for (typed, other) in [(a, b), (b, a)] {
                let known = format!("lying {other} ten");
                let near = within(&format!("lying {typed} ten"), [known.as_str()], 12);
                assert!(near.is_empty(), "{typed} was taken for {near:?}");
            }
        }
        assert!(nearest("shoulder external rotaton", ["shoulder internal rotation"]).is_empty());
        assert_eq!(
            nearest(
                "shoulder external rotaton",
                ["shoulder external rotation", "shoulder internal rotation"]
            ),
            ["shoulder external rotation"]
        );
        assert!(nearest("SLS", ["SLR"]).is_empty());
    }

    #[test]
    fn two_close_names_are_both_offered() {
        assert_eq!(nearest("wall sits", ["wall sit", "wall slide", "ball sits"]), ["wall sit", "ball sits"]);
    }
}
