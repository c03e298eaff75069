//! What earlier pages kept: one text, beside the choices, under one key.

use super::leaf::{Leaf, Stamp, Version};
use super::store::{Denied, Store, set_aside};
use super::{add, found};
use crate::desk::choices::Kept;

/// Where earlier pages kept the text with the choices.
pub const KEY: &str = "layfigure desk";

/// Where the choices are kept. That it is there says that keeping was chosen.
pub const CHOICES: &str = "layfigure desk choices";

/// What an earlier page had left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Earlier {
    Nothing,
    /// It stands in the list now.
    Taken,
    /// It can't be read, and stands under another key.
    SetAside,
}

/// Takes over what an earlier page kept. Every step can be done again, and the old key goes last: so a crash loses
/// nothing. An earlier page that is still open in another window may write it anew; then it is taken over again.
pub fn take_over(store: &mut dyn Store, now: Option<Stamp>) -> Result<Earlier, Denied> {
    let Some(value) = store.get(KEY)? else { return Ok(Earlier::Nothing) };
    let Some(kept) = Kept::read(&value) else {
        set_aside(store, KEY)?;
        return Ok(Earlier::SetAside);
    };
    let is_listed = found(store)?.items.iter().any(|item| item.leaf.text == kept.text);
    if !is_listed && !kept.text.trim().is_empty() {
        add(store, &leaf(&kept.text, now))?;
    }
    if store.get(CHOICES)?.is_none() {
        store.set(CHOICES, &Kept { text: String::new(), ..kept }.write())?;
    }
    // Unless an earlier page has just written more.
    if store.get(KEY)?.as_ref() == Some(&value) {
        store.remove(KEY)?;
    }
    Ok(Earlier::Taken)
}

/// Under an identity that depends on the text alone, so that it is never taken over twice.
fn leaf(text: &str, now: Option<Stamp>) -> Leaf {
    let version = Version { revision: 1, writer: "earlier".into() };
    let id = format!("earlier{:08x}", crc32fast::hash(text.as_bytes()));
    Leaf { id, version, after: None, name: None, text: text.into(), before: None, changed: now }
}

#[cfg(test)]
mod tests {
    use super::super::store::Memory;
    use super::*;

    /// Lets so many calls through that write; the next one writes a part and is the last.
    struct Crashing(Memory, usize);

    impl Store for Crashing {
        fn get(&self, key: &str) -> Result<Option<String>, Denied> {
            self.0.get(key)
        }
        fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
            match self.1 {
                0 => return Err(Denied::Forbidden),
                1 => self.0.set(key, &value[..value.len() / 2])?,
                _ => self.0.set(key, value)?,
            }
            self.1 -= 1;
            if self.1 == 0 { Err(Denied::Forbidden) } else { Ok(()) }
        }
        fn remove(&mut self, key: &str) -> Result<(), Denied> {
            match self.1 {
                0 => return Err(Denied::Forbidden),
                _ => self.0.remove(key)?,
            }
            self.1 -= 1;
            if self.1 == 0 { Err(Denied::Forbidden) } else { Ok(()) }
        }
        fn keys(&self) -> Result<Vec<String>, Denied> {
            self.0.keys()
        }
    }

    #[test]
    fn a_crash_at_any_step_loses_nothing_of_it() {
        let kept = Kept { text: "# Knee\nbridge: 3 x 10\n".into(), by: "M. A.".into(), ..Kept::default() };
        for calls in 0..6 {
            let mut first = Crashing(Memory::default(), calls);
            first.0.set(KEY, &kept.write()).expect("set");
            let _ = take_over(&mut first, None);
            let mut store = first.0;
            take_over(&mut store, None).expect("taken over");
            let items = found(&store).expect("read").items;
            let texts: Vec<&str> = items.iter().map(|item| item.leaf.text.as_str()).collect();
            assert_eq!(texts, [kept.text.as_str()], "{calls} calls");
            assert_eq!(store.get(KEY), Ok(None));
            let choices = store.get(CHOICES).expect("read").expect("choices");
            // Torn in the middle it is for the page to set aside; the text was not in it.
            let by = Kept::read(&choices).map(|k| k.by);
            assert!(by.as_deref() == Some("M. A.") || calls == 2, "{calls} calls: {choices}");
            assert_eq!(take_over(&mut store, None), Ok(Earlier::Nothing));
        }
    }

    #[test]
    fn what_can_not_be_read_is_set_aside() {
        let mut store = Memory::default();
        store.set(KEY, "{\"text\":").expect("set");
        assert_eq!(take_over(&mut store, None), Ok(Earlier::SetAside));
        assert_eq!(found(&store).expect("read").unread, ["layfigure desk, unread 1"]);
        assert_eq!(store.get("layfigure desk, unread 1").expect("read").as_deref(), Some("{\"text\":"));
    }
}
