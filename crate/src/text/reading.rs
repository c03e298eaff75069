//! How hard a text is to read: syllables, sentences, and the published grades made of them.
//!
//! Formulas from `references/readability-and-print.md`: Flesch (1948), Kincaid et al. (1975), McLaughlin (1969).

/// What the formulas count. A line end ends a sentence too (a list item is one); numbers are no words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Count {
    pub words: u32,
    pub sentences: u32,
    pub syllables: u32,
    /// Words of three or more syllables.
    pub long_words: u32,
}

/// Counts a text.
///
/// ```
/// use layfigure::text::reading::count;
/// let text = count("Lie on your back. Bend both knees. Lift your hips off the floor.");
/// assert_eq!((text.words, text.sentences, text.syllables, text.long_words), (13, 3, 13, 0));
/// assert!((text.grade().unwrap() + 2.1).abs() < 0.001);
/// ```
pub fn count(text: &str) -> Count {
    let mut all = Count::default();
    let mut open = false;
    for line in text.lines() {
        for word in
            line.split(|c: char| c.is_whitespace() || matches!(c, '-' | '/' | '\u{2013}' | '\u{2014}'))
        {
            let letters: String =
                word.chars().filter(|c| c.is_alphabetic() || *c == '\'' || *c == '\u{2019}').collect();
            let has_word =
                letters.chars().any(char::is_alphabetic) && !word.chars().any(|c| c.is_ascii_digit());
            if has_word {
                let n = syllables(&letters);
                all.words += 1;
                all.syllables += n;
                all.long_words += u32::from(3 <= n);
                open = true;
            }
            let ends = word
                .trim_end_matches(['"', '\'', ')', '\u{201d}', '\u{2019}'])
                .ends_with(['.', '!', '?', ':']);
            if ends && open {
                all.sentences += 1;
                open = false;
            }
        }
        if open {
            all.sentences += 1;
            open = false;
        }
    }
    all
}

impl Count {
    /// Flesch reading ease; none without words.
    pub fn ease(&self) -> Option<f64> {
        let (words, sentences, syllables) = self.parts()?;
        Some(206.835 - 1.015 * words / sentences - 84.6 * syllables / words)
    }

    /// Flesch-Kincaid grade; none without words. Short plain sentences go below 0.
    pub fn grade(&self) -> Option<f64> {
        let (words, sentences, syllables) = self.parts()?;
        Some(0.39 * words / sentences + 11.8 * syllables / words - 15.59)
    }

    /// SMOG grade. Derived on 30 sentences, unreliable below.
    pub fn smog(&self) -> Option<f64> {
        let (_, sentences, _) = self.parts()?;
        Some(1.0430 * (f64::from(self.long_words) * 30.0 / sentences).sqrt() + 3.1291)
    }

    fn parts(&self) -> Option<(f64, f64, f64)> {
        if self.words == 0 || self.sentences == 0 {
            return None;
        }
        Some((f64::from(self.words), f64::from(self.sentences), f64::from(self.syllables)))
    }
}

/// Words that the rules below get wrong.
const ODD: &[(&str, u32)] = &[
    ("area", 3),
    ("being", 2),
    ("breathe", 1),
    ("clothes", 1),
    ("every", 2),
    ("everyone", 3),
    ("evening", 2),
    ("exercise", 3),
    ("exercises", 4),
    ("forearm", 2),
    ("forearms", 2),
    ("forefoot", 2),
    ("fire", 1),
    ("going", 2),
    ("idea", 3),
    ("immediately", 5),
    ("kneecap", 2),
    ("kneecaps", 2),
    ("lightheaded", 3),
    ("lying", 2),
    ("minute", 2),
    ("minutes", 2),
    ("movement", 2),
    ("movements", 2),
    ("moving", 2),
    ("people", 2),
    ("quiet", 2),
    ("sideways", 2),
    ("something", 2),
    ("someone", 2),
    ("sometimes", 2),
    ("therefore", 2),
    ("toes", 1),
    ("toward", 2),
    ("towards", 2),
    ("waist", 1),
    ("whole", 1),
];

/// Syllables of one English word, at least one: groups of vowels, less the silent ones.
pub fn syllables(word: &str) -> u32 {
    let word: Vec<char> =
        word.chars().flat_map(char::to_lowercase).filter(char::is_ascii_alphabetic).collect();
    let spelled: String = word.iter().collect();
    if let Some((_, n)) = ODD.iter().find(|(w, _)| *w == spelled) {
        return *n;
    }
    let get = |i: usize| word.get(i).copied().unwrap_or(' ');
    let is_vowel = |c: char| matches!(c, 'a' | 'e' | 'i' | 'o' | 'u' | 'y');
    let end = word.len();
    let mut count: u32 = 0;
    for i in 0..end {
        let opens = is_vowel(get(i)) && (i == 0 || !is_vowel(get(i - 1)));
        // A new syllable within a group of vowels: lying, doing, previous, create, manual.
        let splits = 0 < i
            && is_vowel(get(i))
            && is_vowel(get(i - 1))
            && matches!(
                (get(i - 1), get(i)),
                ('y', 'i') | ('i', 'a') | ('i', 'o') | ('u', 'a') | ('i', 'u') | ('e', 'o') | ('u', 'o')
            )
            // -tion, -cious, -cial: one sound.
            && !(matches!((get(i.wrapping_sub(2)), get(i - 1)), ('t' | 'c' | 's' | 'g' | 'x', 'i'))
                && matches!(get(i + 1), 'n' | 'u' | 'l'))
            && !matches!((get(i.wrapping_sub(2)), get(i - 1)), ('q' | 'g', 'u'))
            && !(get(i - 1) == 'e' && get(i) == 'o' && get(i + 1) == 'p');
        let ing = 0 < i
            && matches!(get(i - 1), 'o' | 'e')
            && get(i) == 'i'
            && get(i + 1) == 'n'
            && get(i + 2) == 'g';
        count += u32::from(opens) + u32::from(splits || ing);
    }
    // A closing e is silent, but not in -le after a consonant or where it is the only vowel.
    let last = |n: usize| if n <= end { get(end - n) } else { ' ' };
    let silent_e = |from_end: usize| {
        last(from_end) == 'e'
            && !is_vowel(last(from_end + 1))
            && last(from_end + 1) != ' '
            && !(last(from_end + 1) == 'l' && !is_vowel(last(from_end + 2)) && last(from_end + 2) != ' ')
    };
    // raised, moves; but lifted, bridges.
    let hisses =
        matches!(last(3), 's' | 'c' | 'x' | 'z' | 'g') || (last(3) == 'h' && matches!(last(4), 's' | 'c'));
    let is_silent = (2 < end && silent_e(1))
        || (3 < end && last(1) == 'd' && silent_e(2) && !matches!(last(3), 't' | 'd'))
        || (3 < end && last(1) == 's' && silent_e(2) && !hisses);
    if is_silent {
        count = count.saturating_sub(1);
    }
    // A silent e before -ly, -ful, -less, -ment: safely, careful, movement.
    for tail in ["ly", "ful", "less", "ment", "ments", "ness"] {
        if let Some(stem) = spelled.strip_suffix(tail)
            && 2 < stem.len()
            && stem.ends_with('e')
            && !stem.ends_with("ee")
            && stem.chars().rev().nth(1).is_some_and(|c| !is_vowel(c))
        {
            count = count.saturating_sub(1);
        }
    }
    count.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Option<f64>, b: f64) {
        assert!(a.is_some_and(|a| (a - b).abs() <= 0.001), "{a:?} is not {b}");
    }

    /// Worked checks 1 to 5 of `references/readability-and-print.md`.
    #[test]
    fn worked_checks() {
        let a = count("Lie on your back. Bend both knees. Lift your hips off the floor.");
        assert_eq!(a, Count { words: 13, sentences: 3, syllables: 13, long_words: 0 });
        near(a.ease(), 117.837);
        near(a.grade(), -2.100);
        let b = count(
            "Perform the exercise slowly. Avoid excessive lumbar extension. Discontinue immediately if symptoms deteriorate.",
        );
        assert_eq!(b, Count { words: 13, sentences: 3, syllables: 35, long_words: 6 });
        near(b.ease(), -25.333);
        near(b.grade(), 17.869);
        near(b.smog(), 11.208);
        let c = Count { words: 100, sentences: 8, syllables: 130, long_words: 0 };
        near(c.ease(), 84.168);
        near(c.grade(), 4.625);
        near(Count { words: 300, sentences: 30, syllables: 400, long_words: 9 }.smog(), 6.258);
        near(Count { words: 300, sentences: 30, syllables: 400, long_words: 16 }.smog(), 7.301);
        for nothing in ["", "12 3", "...", "\n\n"] {
            let none = count(nothing);
            assert_eq!((none.ease(), none.grade(), none.smog()), (None, None, None), "{nothing:?}");
        }
    }

    /// Counted by ear.
    #[test]
    fn syllables_of_words_that_handouts_use() {
        let lists = [
            "a lie back bend knees lift hips floor hold stretch heel slide toes thigh calf breathe raised locked \
             moved stopped straight strength squeezed worse chest leaned whole bridge",
            "slowly buttocks muscle gently towards lying doing feeling ankle elbow forward sideways bottom careful \
             safely movement minutes raises bridges pushes squeezes lifted pointed muscles little table symptoms \
             kneeling numbness tingling dizzy swelling circle shoulder's being seeing quiet waiting",
            "exercise position excessive extension previous opposite gradual",
            "immediate medication exercises",
            "immediately",
            "physiotherapist",
        ];
        let mut wrong = Vec::new();
        for (i, words) in lists.iter().enumerate() {
            for word in words.split_whitespace() {
                let got = syllables(word) as usize;
                if got != i + 1 {
                    wrong.push(format!("{word}: {got}"));
                }
            }
        }
        assert!(wrong.is_empty(), "{wrong:?}");
        assert_eq!(syllables(""), 1);
    }
}
