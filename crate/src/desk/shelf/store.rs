//! Where pairs of key and value are kept: the browser's storage, or the page's own memory. Any of it may fail.

use std::collections::BTreeMap;

/// Why something could not be kept, read or deleted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Denied {
    /// There is no room left.
    Full,
    /// The browser does not let pages keep anything.
    Forbidden,
}

/// A value is written whole, or by a crash in part; several windows may read and write between any two calls.
pub trait Store {
    fn get(&self, key: &str) -> Result<Option<String>, Denied>;
    fn set(&mut self, key: &str, value: &str) -> Result<(), Denied>;
    fn remove(&mut self, key: &str) -> Result<(), Denied>;
    /// In no stated order.
    fn keys(&self) -> Result<Vec<String>, Denied>;
}

/// Keeps until the page is closed: where nothing may stay on the computer.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Memory(pub BTreeMap<String, String>);

impl Store for Memory {
    fn get(&self, key: &str) -> Result<Option<String>, Denied> {
        Ok(self.0.get(key).cloned())
    }

    fn set(&mut self, key: &str, value: &str) -> Result<(), Denied> {
        self.0.insert(key.into(), value.into());
        Ok(())
    }

    fn remove(&mut self, key: &str) -> Result<(), Denied> {
        self.0.remove(key);
        Ok(())
    }

    fn keys(&self) -> Result<Vec<String>, Denied> {
        Ok(self.0.keys().cloned().collect())
    }
}

/// Moves an entry that can't be read to a key of its own, so that its place is free and nothing is lost. Where there
/// is no room for that it stays where it is.
///
/// ```
/// use layfigure::desk::shelf::store::{Memory, Store, set_aside};
/// let mut store = Memory::default();
/// store.set("of desks", "torn")?;
/// set_aside(&mut store, "of desks")?;
/// assert_eq!(store.get("of desks, unread 1")?.as_deref(), Some("torn"));
/// assert_eq!(store.get("of desks")?, None);
/// # Ok::<(), layfigure::desk::shelf::store::Denied>(())
/// ```
///
/// Its key then is one of those that [`is_set_aside`] knows.
pub fn set_aside(store: &mut dyn Store, key: &str) -> Result<(), Denied> {
    let Some(value) = store.get(key)? else { return Ok(()) };
    let taken = store.keys()?;
    let free = (1..).map(|n: u32| format!("{key}{UNREAD} {n}")).find(|name| !taken.contains(name));
    store.set(&free.ok_or(Denied::Full)?, &value)?;
    store.remove(key)
}

/// What a key has behind its name when its value is set aside.
const UNREAD: &str = ", unread";

/// Whether what stands under this key of the desk was set aside.
pub fn is_set_aside(key: &str) -> bool {
    key.starts_with("layfigure desk") && key.contains(UNREAD)
}
