//! What is kept on the phone: the plans as their links carry them, a diary for each, and two switches.

use crate::diary::Diary;
use crate::diary::stored::{self, Read};
use crate::home::{Keeping, Switches};
use wasm_bindgen::JsValue;
use web_sys::{DomException, Storage, Window};

/// Everything that the patient's page keeps begins with this.
const OURS: &str = "layfigure home ";
const NOW: &str = "layfigure home now";
const SWITCHES: &str = "layfigure home switches";
const PLAN: &str = "layfigure home plan ";
const DIARY: &str = "layfigure home diary ";
const UNREAD: &str = "layfigure home unread ";

/// None where the browser forbids it.
pub fn storage() -> Option<Storage> {
    web_sys::window()?.local_storage().ok().flatten()
}

fn set(storage: &Storage, key: &str, value: &str) -> Result<(), Keeping> {
    storage.set_item(key, value).map_err(|fault: JsValue| {
        let name = DomException::from(fault).name();
        if name.contains("Quota") { Keeping::Full } else { Keeping::Forbidden }
    })
}

fn get(storage: &Storage, key: &str) -> Option<String> {
    storage.get_item(key).ok().flatten()
}

/// The key of the plan that was shown last.
pub fn now(storage: &Storage) -> Option<String> {
    get(storage, NOW)
}

pub fn set_now(storage: &Storage, key: &str) -> Result<(), Keeping> {
    set(storage, NOW, key)
}

pub fn plan(storage: &Storage, key: &str, fragment: &str) -> Result<(), Keeping> {
    set(storage, &format!("{PLAN}{key}"), fragment)
}

pub fn fragment(storage: &Storage, key: &str) -> Option<String> {
    get(storage, &format!("{PLAN}{key}"))
}

/// Every plan, by key, with what its link carries.
pub fn plans(storage: &Storage) -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = keys(storage)
        .into_iter()
        .filter_map(|name| {
            let key = name.strip_prefix(PLAN)?.to_string();
            Some((key, get(storage, &name)?))
        })
        .collect();
    all.sort();
    all
}

/// What was found where a diary is kept.
pub enum Found {
    Diary(Diary),
    /// Something else, which now stands under another key.
    SetAside,
}

pub fn diary(storage: &Storage, key: &str) -> Found {
    let name = format!("{DIARY}{key}");
    let text = get(storage, &name).unwrap_or_default();
    match stored::read(&text) {
        Read::Whole(diary) => Found::Diary(diary),
        Read::Damaged => {
            // Beside whatever was set aside before.
            let free = (1..100).map(|n| format!("{UNREAD}{key} {n}")).find(|k| get(storage, k).is_none());
            if let Some(free) = free
                && set(storage, &free, &text).is_ok()
            {
                let _ = storage.remove_item(&name);
            }
            Found::SetAside
        }
    }
}

pub fn set_diary(storage: &Storage, key: &str, text: &str) -> Result<(), Keeping> {
    set(storage, &format!("{DIARY}{key}"), text)
}

pub fn switches(storage: &Storage) -> Switches {
    let words = get(storage, SWITCHES).unwrap_or_default();
    let has = |word: &str| words.split(' ').any(|w| w == word);
    Switches { sound: has("sound"), buzz: has("buzz") }
}

pub fn set_switches(storage: &Storage, switches: Switches) -> Result<(), Keeping> {
    let words: Vec<&str> =
        [switches.sound.then_some("sound"), switches.buzz.then_some("buzz")].into_iter().flatten().collect();
    set(storage, SWITCHES, &words.join(" "))
}

fn keys(storage: &Storage) -> Vec<String> {
    let count = storage.length().unwrap_or(0);
    (0..count).filter_map(|i| storage.key(i).ok().flatten()).collect()
}

/// Forgets all that the patient's page keeps, and nothing of any other.
pub fn forget(storage: &Storage) {
    for key in keys(storage).into_iter().filter(|key| key.starts_with(OURS)) {
        let _ = storage.remove_item(&key);
    }
}

/// Asks the browser not to clear away by itself what is kept. It may say no.
pub fn persist(window: &Window) {
    let navigator = window.navigator();
    if js_sys::Reflect::has(&navigator, &JsValue::from_str("storage")).unwrap_or(false)
        && let Ok(promise) = navigator.storage().persist()
    {
        super::offline::let_be(&promise);
    }
}
