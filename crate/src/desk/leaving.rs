//! Whether the page may be left without a question: what stands on it and nowhere else.

use super::shelf::Found;
use std::collections::BTreeSet;

/// Texts that are somewhere else too: in a file, or made up by the page itself. And those that were given up after a
/// question.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Safe(BTreeSet<String>);

impl Safe {
    /// With the text that a page begins with.
    pub fn new(example: &str) -> Safe {
        Safe(BTreeSet::from([plain(example)]))
    }

    pub fn add(&mut self, text: &str) {
        self.0.insert(plain(text));
    }

    /// Whether nothing would be lost with it.
    pub fn has(&self, text: &str) -> bool {
        text.trim().is_empty() || self.0.contains(&plain(text))
    }

    /// Whether leaving loses something. `list`: the prescriptions that last as long as the page; `unkept`: the text on
    /// the page, where it could not be kept.
    pub fn asks(&self, list: &Found, unkept: Option<&str>) -> bool {
        let texts = list.items.iter().map(|item| item.leaf.text.as_str());
        texts.chain(unkept).any(|text| !self.has(text))
    }
}

/// A file may end its last line, or not.
fn plain(text: &str) -> String {
    text.replace("\r\n", "\n").trim_end().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::shelf::store::Memory;
    use crate::desk::shelf::{Open, found, keep};

    const EXAMPLE: &str = "# Example\nbridge: 3 x 10\n";

    /// A page that keeps nothing on the computer, after these texts were typed one after another.
    fn typed(texts: &[&str]) -> Found {
        let mut store = Memory::default();
        let mut open = Open::new("a".into(), EXAMPLE);
        for text in texts {
            keep(&mut store, &mut open, text, "w", None).expect("memory");
        }
        found(&store).expect("memory")
    }

    #[test]
    fn only_what_stands_nowhere_else_is_asked_about() {
        let mut safe = Safe::new(EXAMPLE);
        for untouched in
            [&[][..], &[EXAMPLE], &["# Knee\n", EXAMPLE], &["# Knee\n", ""], &["# Knee\n", " \n "]]
        {
            assert!(!safe.asks(&typed(untouched), None), "{untouched:?}");
        }
        assert!(safe.asks(&typed(&["# Knee\n"]), None));
        safe.add("# Knee\r\n");
        assert!(!safe.asks(&typed(&["# Knee\n"]), None), "it is in a file");
        assert!(safe.asks(&typed(&["# Knee\n", "# Knees\n"]), None), "changed since");
    }

    #[test]
    fn one_that_is_not_on_the_page_counts_as_well() {
        let mut store = Memory::default();
        let mut safe = Safe::new(EXAMPLE);
        for (id, text) in [("a", "# Knee\n"), ("b", "# Hip\n")] {
            keep(&mut store, &mut Open::new(id.into(), EXAMPLE), text, "w", None).expect("memory");
        }
        safe.add("# Hip\n");
        assert!(safe.asks(&found(&store).expect("memory"), None), "the knee is in no file");
    }

    #[test]
    fn with_keeping_on_only_what_could_not_be_kept() {
        let safe = Safe::new(EXAMPLE);
        let nothing = Found::default();
        assert!(!safe.asks(&nothing, None));
        assert!(safe.asks(&nothing, Some("# Knee\n")));
        assert!(!safe.asks(&nothing, Some(EXAMPLE)));
    }
}
