//! What is kept on the phone: the plans as their links carry them, a diary for each, and two switches. Pure: the store
//! is the caller's.
//!
//! | key | value |
//! | --- | --- |
//! | `layfigure home now` | the key of the plan that was shown last |
//! | `layfigure home plan KEY` | what its link carries |
//! | `layfigure home diary KEY` | its diary, see [`stored`] |
//! | `layfigure home unread KEY N` | what stood in a diary's place and could not be read |
//! | `layfigure home switches` | `sound`, `buzz` |
//!
//! A key is [`diary::key`] of the plan's text. One that was kept under another name, by an earlier page or before an
//! exercise got a better name, is known by its text and moved ([`claim`]).

use super::{Keeping, Switches};
use crate::catalog::Catalog;
use crate::desk::shelf::store::{Denied, Store};
use crate::diary::stored::{self, Read};
use crate::diary::{self, Diary};
use crate::link::written;

/// Everything that the patient's page keeps begins with this.
pub const OURS: &str = "layfigure home ";
const NOW: &str = "layfigure home now";
const SWITCHES: &str = "layfigure home switches";
const PLAN: &str = "layfigure home plan ";
const DIARY: &str = "layfigure home diary ";
const UNREAD: &str = "layfigure home unread ";
/// Set and removed at once: the browser tells every other window of it.
pub const FORGETTING: &str = "layfigure home forgetting";

impl From<Denied> for Keeping {
    fn from(denied: Denied) -> Keeping {
        match denied {
            Denied::Full => Keeping::Full,
            Denied::Forbidden => Keeping::Forbidden,
        }
    }
}

fn get(store: &dyn Store, key: &str) -> Option<String> {
    store.get(key).ok().flatten()
}

/// The key of the plan that was shown last.
pub fn now(store: &dyn Store) -> Option<String> {
    get(store, NOW)
}

pub fn set_now(store: &mut dyn Store, key: &str) -> Result<(), Denied> {
    store.set(NOW, key)
}

pub fn set_plan(store: &mut dyn Store, key: &str, fragment: &str) -> Result<(), Denied> {
    store.set(&format!("{PLAN}{key}"), fragment)
}

pub fn fragment(store: &dyn Store, key: &str) -> Option<String> {
    get(store, &format!("{PLAN}{key}"))
}

/// Whether the plan is gone that was kept under this key: it was forgotten by another window, or cleared away by the
/// browser. Where the store can't be read, nobody knows.
pub fn is_gone(store: &dyn Store, key: &str) -> bool {
    store.get(&format!("{PLAN}{key}")) == Ok(None)
}

/// Every plan, by key, with what its link carries.
pub fn plans(store: &dyn Store) -> Vec<(String, String)> {
    let names = store.keys().unwrap_or_default();
    let plan = |name: String| Some((name.strip_prefix(PLAN)?.to_string(), get(store, &name)?));
    let mut all: Vec<(String, String)> = names.into_iter().filter_map(plan).collect();
    all.sort();
    all
}

/// What was found where a diary is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    Diary(Diary),
    /// Something else, which now stands under another key.
    SetAside,
}

pub fn diary(store: &mut dyn Store, key: &str) -> Found {
    let name = format!("{DIARY}{key}");
    match stored::read(&get(store, &name).unwrap_or_default()) {
        Read::Whole(diary) => Found::Diary(diary),
        Read::Damaged => {
            // Where there is no room it stays until something is written over it.
            let _ = set_aside(store, &name, key);
            Found::SetAside
        }
    }
}

/// Moves what can't be read beside whatever was set aside before.
fn set_aside(store: &mut dyn Store, name: &str, key: &str) -> Result<(), Denied> {
    let Some(text) = store.get(name)? else { return Ok(()) };
    let free = (1..100).map(|n| format!("{UNREAD}{key} {n}")).find(|k| store.get(k) == Ok(None));
    store.set(&free.ok_or(Denied::Full)?, &text)?;
    store.remove(name)
}

pub fn set_diary(store: &mut dyn Store, key: &str, text: &str) -> Result<(), Denied> {
    store.set(&format!("{DIARY}{key}"), text)
}

pub fn switches(store: &dyn Store) -> Switches {
    let words = get(store, SWITCHES).unwrap_or_default();
    let has = |word: &str| words.split(' ').any(|w| w == word);
    Switches { sound: has("sound"), buzz: has("buzz") }
}

pub fn set_switches(store: &mut dyn Store, switches: Switches) -> Result<(), Denied> {
    let words: Vec<&str> =
        [switches.sound.then_some("sound"), switches.buzz.then_some("buzz")].into_iter().flatten().collect();
    store.set(SWITCHES, &words.join(" "))
}

/// Forgets all that the patient's page keeps, and nothing of any other.
pub fn forget(store: &mut dyn Store) {
    for key in store.keys().unwrap_or_default().into_iter().filter(|key| key.starts_with(OURS)) {
        let _ = store.remove(&key);
    }
    // With room again, tell it to windows that keep nothing and so miss nothing.
    if store.set(FORGETTING, "now").is_ok() {
        let _ = store.remove(FORGETTING);
    }
}

/// Brings under its key what is kept of the plan with this text under any other. Texts are compared, since two plans may
/// share one of the keys that earlier pages gave. An error leaves what is not yet moved where it was.
pub fn claim(store: &mut dyn Store, text: &str) -> Result<(), Denied> {
    let key = diary::key(text);
    let known = plans(store);
    for (other, fragment) in known.iter().filter(|(other, _)| *other != key) {
        let same = written::open(fragment, Catalog::embedded()).is_ok_and(|shared| shared.text == text);
        if same {
            move_to(store, &key, other, Some(fragment))?;
        }
    }
    // Ticks may have been kept where there was no room for their plan.
    let earlier = diary::earlier_key(text);
    if known.iter().all(|(other, _)| *other != earlier) {
        move_to(store, &key, &earlier, None)?;
    }
    Ok(())
}

/// Everything new is written before anything old is removed: whenever this ends, nothing is lost, and done again it
/// comes to the same.
fn move_to(store: &mut dyn Store, key: &str, from: &str, plan: Option<&str>) -> Result<(), Denied> {
    // A link that came later says the same.
    if let Some(fragment) = plan.filter(|_| is_gone(store, key)) {
        set_plan(store, key, fragment)?;
    }
    let (theirs, mine) = (format!("{DIARY}{from}"), format!("{DIARY}{key}"));
    if let Some(text) = store.get(&theirs)? {
        match (stored::read(&text), store.get(&mine)?.map(|mine| stored::read(&mine))) {
            (Read::Damaged, _) => set_aside(store, &theirs, from)?,
            (Read::Whole(_), None) => store.set(&mine, &text)?,
            (Read::Whole(_), Some(Read::Damaged)) => {
                set_aside(store, &mine, key)?;
                store.set(&mine, &text)?;
            }
            (Read::Whole(theirs), Some(Read::Whole(mut both))) => {
                stored::merge(&mut both, &theirs);
                store.set(&mine, &stored::write(&both))?;
            }
        }
    }
    if now(store).as_deref() == Some(from) {
        set_now(store, key)?;
    }
    store.remove(&theirs)?;
    match plan {
        Some(_) => store.remove(&format!("{PLAN}{from}")),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests;
