//! All of it deleted at once: asked before, and taken back until the page is closed.

use super::earlier::CHOICES;
use super::leaf::Leaf;
use super::store::{Denied, Store};
use super::{Open, found};
use crate::desk::Slot;
use crate::markup::Writer;
use std::collections::BTreeMap;

/// What was deleted, word for word, and what the page was like.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gone {
    pub pairs: BTreeMap<String, String>,
    /// The prescription that was on the page, and its text.
    pub open: Open,
    pub text: String,
    /// It lay on the computer, not in the page alone.
    pub keeping: bool,
    /// What had been deleted one by one.
    pub deleted: Vec<Leaf>,
}

/// What would go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Would {
    pub prescriptions: usize,
    pub unread: usize,
    pub choices: bool,
}

/// Where it stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Asked {
    #[default]
    Not,
    Asking(Would),
    Done(Would),
}

pub fn would(store: &dyn Store) -> Would {
    let all = found(store).unwrap_or_default();
    let choices = store.get(CHOICES).is_ok_and(|choices| choices.is_some());
    Would { prescriptions: all.items.len(), unread: all.unread.len(), choices }
}

impl Would {
    pub fn is_nothing(self) -> bool {
        self == Would::default()
    }

    /// `2 prescriptions and your choices (paper, address, emergency number)`
    pub fn words(self) -> String {
        let many = |n: usize, one: &str, more: &str| match n {
            0 => None,
            1 => Some(format!("1 {one}")),
            n => Some(format!("{n} {more}")),
        };
        let choices = "your choices (paper, print, emergency number, address, naming, who you are)";
        let parts: Vec<String> = [
            many(self.prescriptions, "prescription", "prescriptions"),
            many(self.unread, "thing that can’t be read", "things that can’t be read"),
            self.choices.then(|| choices.to_string()),
        ]
        .into_iter()
        .flatten()
        .collect();
        match parts.split_last() {
            None => "nothing".into(),
            Some((last, [])) => last.clone(),
            Some((last, before)) => format!("{} and {last}", before.join(", ")),
        }
    }
}

/// Takes everything out of the store. Where one of it can't be, what is out is put back: all or nothing goes.
pub fn take(store: &mut dyn Store) -> Result<BTreeMap<String, String>, Denied> {
    let mut pairs = BTreeMap::new();
    for key in store.keys()? {
        if let Some(value) = store.get(&key)? {
            pairs.insert(key, value);
        }
    }
    for key in pairs.keys() {
        if let Err(denied) = store.remove(key) {
            let _ = put_back(store, &pairs);
            return Err(denied);
        }
    }
    Ok(pairs)
}

/// Puts it back beside what stands there now; nothing is overwritten.
pub fn put_back(store: &mut dyn Store, pairs: &BTreeMap<String, String>) -> Result<(), Denied> {
    let mut done: Vec<&String> = Vec::new();
    for (key, value) in pairs {
        let is_there = store.get(key)?.is_some();
        if is_there {
            continue;
        }
        if let Err(denied) = store.set(key, value) {
            for key in done {
                let _ = store.remove(key);
            }
            return Err(denied);
        }
        done.push(key);
    }
    Ok(())
}

/// The question, or the way back; `keeping`: it lies on the computer.
pub fn slots(asked: &Asked, keeping: bool) -> Vec<Slot> {
    let place = if keeping { "from this computer" } else { "from this page" };
    let mut w = Writer::new();
    w.open("div");
    match asked {
        Asked::Not => return Vec::new(),
        Asked::Asking(would) => {
            w.open("p").attr("id", "gone-head").attr("tabindex", "-1").open("b");
            w.text(&format!("This deletes {} {place}.", would.words())).close();
            w.text(" The text on the page stays until you close it, and until then it can be taken back.")
                .close();
            w.open("p").attr("class", "acts");
            button(&mut w, "forget yes", "Delete all of it");
            button(&mut w, "all", "Save all to a file first");
            button(&mut w, "forget no", "Cancel");
            w.close();
        }
        Asked::Done(would) => {
            w.open("p").attr("id", "gone-head").attr("tabindex", "-1");
            w.text(&format!("Deleted: {}. It can be taken back until you close this page.", would.words()))
                .close();
            w.open("p").attr("class", "acts");
            button(&mut w, "forget back", "Take it back");
            w.close();
        }
    }
    w.close();
    vec![Slot { key: "gone".into(), html: w.finish().into_string() }]
}

fn button(w: &mut Writer, act: &str, word: &str) {
    w.open("button").attr("type", "button").attr("data-shelf", act);
    w.attr("data-focus", &format!("shelf {act}")).text(word).close().text(" ");
}

#[cfg(test)]
mod tests {
    use super::super::store::Memory;
    use super::super::{Open, keep};
    use super::*;

    fn store(texts: &[&str]) -> Memory {
        let mut store = Memory::default();
        for (n, text) in texts.iter().enumerate() {
            keep(&mut store, &mut Open::new(format!("a{n}"), ""), text, "w", None).expect("memory");
        }
        store
    }

    #[test]
    fn the_question_names_what_goes() {
        let mut all = store(&["# Knee\n", "# Hip\n"]);
        assert_eq!(would(&all).words(), "2 prescriptions");
        all.set(CHOICES, "{\"text\":\"\"}").expect("memory");
        all.set("layfigure desk, unread 1", "{").expect("memory");
        let words = would(&all).words();
        assert!(
            words.starts_with("2 prescriptions, 1 thing that can’t be read and your choices ("),
            "{words}"
        );
        let html = slots(&Asked::Asking(would(&all)), true)[0].html.clone();
        assert!(
            html.contains("This deletes 2 prescriptions, 1 thing") && html.contains("forget no"),
            "{html}"
        );
        assert!(would(&Memory::default()).is_nothing());
        assert_eq!(slots(&Asked::Not, true), []);
    }

    #[test]
    fn what_is_deleted_comes_back_word_for_word() {
        let mut all = store(&["# Knee\n", "# Hip\n"]);
        all.set(CHOICES, "torn").expect("memory");
        let before = all.clone();
        let gone = take(&mut all).expect("memory");
        assert_eq!(all, Memory::default());
        put_back(&mut all, &gone).expect("memory");
        assert_eq!(all, before);
        // What was written since stands beside it.
        take(&mut all).expect("memory");
        keep(&mut all, &mut Open::new("b".into(), ""), "# Elbow\n", "w", None).expect("memory");
        put_back(&mut all, &gone).expect("memory");
        assert_eq!(found(&all).expect("memory").items.len(), 3);
    }

    /// Lets so many removals or writes through.
    struct Failing(Memory, usize);

    impl Failing {
        fn spend(&mut self) -> Result<(), Denied> {
            self.1 = self.1.checked_sub(1).ok_or(Denied::Full)?;
            Ok(())
        }
    }

    impl Store for Failing {
        fn get(&self, key: &str) -> Result<Option<String>, Denied> {
            self.0.get(key)
        }
        fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
            self.spend()?;
            self.0.set(key, value)
        }
        fn remove(&mut self, key: &str) -> Result<(), Denied> {
            self.0.remove(key)
        }
        fn keys(&self) -> Result<Vec<String>, Denied> {
            self.0.keys()
        }
    }

    #[test]
    fn without_room_it_does_not_come_back_by_halves() {
        let mut all = store(&["# Knee\n", "# Hip\n", "# Elbow\n"]);
        let gone = take(&mut all).expect("memory");
        let mut failing = Failing(all, 2);
        assert_eq!(put_back(&mut failing, &gone), Err(Denied::Full));
        assert_eq!(failing.0, Memory::default());
    }
}
