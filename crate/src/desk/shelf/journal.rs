//! What a killed browser had not written yet: each version is noted once more, where it is on the disk at once.
//!
//! A note has the version's key on its first line, and its value below.

use super::leaf::{Leaf, named};
use super::store::{Denied, Store};
use super::{add, family, heads};
use crate::desk::shelf::leaf::Version;

/// The identity under which a version is noted; None: that key is no version.
pub fn id(key: &str) -> Option<&str> {
    named(key).map(|(id, _)| id)
}

/// Puts into the store what only the notes have. Gives the identities of those that came back.
pub fn recover(store: &mut dyn Store, notes: &[String]) -> Result<Vec<String>, Denied> {
    let mut back = Vec::new();
    for note in notes {
        let read = note.split_once('\n').and_then(|(key, value)| {
            let (id, version) = named(key)?;
            Leaf::read(id, &version, value)
        });
        let Some(mut leaf) = read else { continue };
        let (here, most) = family(store, &leaf.id)?;
        if leaf.version.revision < most || here.iter().any(|other| other.version == leaf.version) {
            continue;
        }
        if most < leaf.version.revision {
            // Those between are lost, and nobody misses them.
            let before: Option<Version> = heads(&here).first().map(|head| head.version.clone());
            leaf.after = before.or(leaf.after);
        }
        add(store, &leaf)?;
        back.push(leaf.id);
    }
    Ok(back)
}

#[cfg(test)]
mod tests {
    use super::super::store::Memory;
    use super::super::{Open, delete, found, keep, open};
    use super::*;
    use std::collections::BTreeMap;

    /// A store whose writes are noted, as the browser's are.
    #[derive(Default)]
    struct Noted(Memory, BTreeMap<String, String>);

    impl Noted {
        fn notes(&self) -> Vec<String> {
            self.1.values().cloned().collect()
        }
    }

    impl Store for Noted {
        fn get(&self, key: &str) -> Result<Option<String>, Denied> {
            self.0.get(key)
        }
        fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
            if let Some(id) = id(key) {
                self.1.insert(id.into(), format!("{key}\n{value}"));
            }
            self.0.set(key, value)
        }
        fn remove(&mut self, key: &str) -> Result<(), Denied> {
            self.1.retain(|_, note| !note.starts_with(&format!("{key}\n")));
            self.0.remove(key)
        }
        fn keys(&self) -> Result<Vec<String>, Denied> {
            self.0.keys()
        }
    }

    fn texts(store: &Memory) -> Vec<String> {
        found(store).expect("memory").items.into_iter().map(|item| item.leaf.text).collect()
    }

    /// Whatever the engine had written when it was killed, the last words are there, once.
    #[test]
    fn a_killed_browser_loses_no_word() {
        for killed_at in 0..8 {
            let mut store = Noted::default();
            let mut page = Open::new("a".into(), "");
            let mut written = Memory::default();
            for n in 0..8 {
                if n == killed_at {
                    written = store.0.clone();
                }
                keep(&mut store, &mut page, &format!("# Knee {n}\n"), "w", None).expect("kept");
            }
            let back = recover(&mut written, &store.notes()).expect("memory");
            assert_eq!(back, ["a"], "killed at {killed_at}");
            assert_eq!(texts(&written), ["# Knee 7\n"], "killed at {killed_at}");
            // It goes on from there as if nothing had been.
            let (mut page, text) = open(&written, "a").expect("memory").expect("there");
            assert_eq!(text, "# Knee 7\n");
            keep(&mut written, &mut page, "# Knee 8\n", "x", None).expect("kept");
            assert_eq!(texts(&written), ["# Knee 8\n"]);
            assert_eq!(
                recover(&mut written, &store.notes()).expect("memory"),
                [""; 0],
                "an old note is nothing"
            );
        }
    }

    #[test]
    fn what_was_deleted_does_not_come_back() {
        let mut store = Noted::default();
        for id in ["a", "b"] {
            let mut page = Open::new(id.into(), "");
            keep(&mut store, &mut page, "# Knee\n", "w", None).expect("kept");
            keep(&mut store, &mut page, &format!("# {id}\n"), "w", None).expect("kept");
        }
        delete(&mut store, "a").expect("memory");
        assert_eq!(store.notes().len(), 1);
        let notes = store.notes();
        let mut lost = Memory::default();
        recover(&mut lost, &notes).expect("memory");
        assert_eq!(texts(&lost), ["# b\n"]);
    }

    #[test]
    fn a_note_that_is_none_of_ours_is_nothing() {
        let mut store = Memory::default();
        let odd =
            ["", "\n", "layfigure desk prescription a 1 w", "layfigure desk prescription a 1 w\n{}", "x\ny"];
        let odd: Vec<String> = odd.iter().map(|note| (*note).to_string()).collect();
        assert_eq!(recover(&mut store, &odd), Ok(Vec::new()));
        assert_eq!(store, Memory::default());
    }
}
