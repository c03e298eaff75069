//! Several prescriptions kept, so that no crash and no second window loses or mixes any.
//!
//! A version is a key that is written once and never again. Keeping writes a new version, then deletes those before
//! the last one, oldest first; so the one before is always there whole. No window ever writes to a key that another
//! could have written, and deletes only what its own text came from. Where two windows went on from the same version,
//! both stand in the list; a window that sees another's keeps its own text as a copy.

pub mod earlier;
pub mod file;
pub mod gone;
pub mod journal;
pub mod leaf;
pub mod store;
pub mod told;
pub mod view;

use crate::sorting::{sort_by, sort_by_key};
use leaf::{Leaf, Stamp, Version, key, named};
use store::{Denied, Store};

/// The prescription on the page, and what of it is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open {
    pub id: String,
    pub name: Option<String>,
    pub before: Option<String>,
    /// The versions that its text came from and that were there when last looked, oldest first.
    line: Vec<Version>,
    /// What the last of them says; None where nothing of it is kept yet.
    kept: Option<Content>,
    /// The text that it was begun with, which is not worth keeping.
    blank: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct Content {
    name: Option<String>,
    before: Option<String>,
    text: String,
}

/// What keeping came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kept {
    /// There was nothing new to keep.
    Same,
    Kept,
    /// Another window has written since: this text is now a copy of that name, and goes on as such.
    Copied(String),
    /// Another window has deleted it since; it is kept again.
    Again,
}

/// An item of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// The name by which the page's buttons mean it.
    pub token: String,
    pub leaf: Leaf,
    /// Two windows went on from the same version, and this one is the older.
    pub is_second: bool,
}

/// All that is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// The one changed last comes first.
    pub items: Vec<Item>,
    /// Keys of what can't be read; left alone.
    pub unread: Vec<String>,
}

impl Open {
    /// One that is not kept yet. Its text is kept once it differs from `blank`.
    pub fn new(id: String, blank: &str) -> Open {
        Open { id, name: None, before: None, line: Vec::new(), kept: None, blank: blank.into() }
    }

    /// A visit begins that goes on from what `text` says now: it is kept beside what is typed from now on.
    ///
    /// ```
    /// use layfigure::desk::shelf::Open;
    /// let mut open = Open::new("a".into(), "");
    /// open.begin_visit("bridge: 2 x 10");
    /// assert_eq!(open.before.as_deref(), Some("bridge: 2 x 10"));
    /// ```
    pub fn begin_visit(&mut self, text: &str) {
        self.before = Some(text.to_string());
    }

    pub fn is_kept(&self) -> bool {
        self.kept.is_some()
    }

    pub fn called(&self, text: &str, now: Option<Stamp>) -> String {
        leaf::called(self.name.as_deref(), text, now.map(|n| n.date))
    }

    /// Another store than the one so far: nothing of it is kept there.
    pub fn moved(&mut self) {
        self.line.clear();
        self.kept = None;
    }

    /// Whether a window's item is the one that is open.
    pub fn is(&self, item: &Item) -> bool {
        item.leaf.id == self.id && (!item.is_second || self.line.last() == Some(&item.leaf.version))
    }
}

/// The versions under an identity: those that are whole, oldest first, and the highest revision of all.
fn family(store: &dyn Store, id: &str) -> Result<(Vec<Leaf>, u32), Denied> {
    let mut most = 0;
    let mut whole = Vec::new();
    for name in store.keys()? {
        let Some((of, version)) = named(&name).filter(|(of, _)| *of == id) else { continue };
        most = most.max(version.revision);
        whole.extend(store.get(&name)?.and_then(|value| Leaf::read(of, &version, &value)));
    }
    sort_by_key(&mut whole, |leaf: &Leaf| leaf.version.clone());
    Ok((whole, most))
}

/// Those that no other goes on from, the newest first.
fn heads(family: &[Leaf]) -> Vec<&Leaf> {
    let is_left = |leaf: &&Leaf| !family.iter().any(|other| other.after.as_ref() == Some(&leaf.version));
    family.iter().rev().filter(is_left).collect()
}

/// The versions that lead to one, oldest first, itself included.
fn line(family: &[Leaf], head: &Version) -> Vec<Version> {
    let mut found = Vec::new();
    let mut next = family.iter().find(|leaf| leaf.version == *head);
    while let Some(leaf) = next {
        found.insert(0, leaf.version.clone());
        // Always to an older one, so it ends.
        let after = leaf.after.as_ref().filter(|after| after.revision < leaf.version.revision);
        next = after.and_then(|after| family.iter().find(|leaf| leaf.version == *after));
    }
    found
}

/// The versions that lead to this head and to no other, oldest first.
fn alone(family: &[Leaf], head: &Version) -> Vec<Version> {
    let others: Vec<Version> = heads(family)
        .into_iter()
        .filter(|other| other.version != *head)
        .flat_map(|other| line(family, &other.version))
        .collect();
    line(family, head).into_iter().filter(|version| !others.contains(version)).collect()
}

/// All that is kept, as it stands now.
pub fn found(store: &dyn Store) -> Result<Found, Denied> {
    let (mut whole, mut unread) = (Vec::new(), Vec::new());
    for name in store.keys()? {
        if let Some((id, version)) = named(&name) {
            match store.get(&name)?.map(|value| Leaf::read(id, &version, &value)) {
                Some(Some(leaf)) => whole.push(leaf),
                Some(None) => unread.push(name),
                // Deleted between two calls.
                None => {}
            }
        } else if name.starts_with(leaf::PREFIX) || store::is_set_aside(&name) {
            unread.push(name);
        }
    }
    sort_by(&mut whole, |a: &Leaf, b: &Leaf| (&a.id, &a.version).cmp(&(&b.id, &b.version)));
    let mut items = Vec::new();
    for family in whole.chunk_by(|a, b| a.id == b.id) {
        for (i, head) in heads(family).into_iter().enumerate() {
            let second = format!("{} {} {}", head.id, head.version.revision, head.version.writer);
            let token = if i == 0 { head.id.clone() } else { second };
            items.push(Item { token, leaf: head.clone(), is_second: 0 < i });
        }
    }
    sort_by(&mut items, |a: &Item, b: &Item| {
        b.leaf.changed.cmp(&a.leaf.changed).then_with(|| a.token.cmp(&b.token))
    });
    sort_by(&mut unread, String::cmp);
    Ok(Found { items, unread })
}

/// How many prescriptions there are, counted by their keys alone.
pub fn count(store: &dyn Store) -> usize {
    let keys = store.keys().unwrap_or_default();
    let ids: std::collections::BTreeSet<&str> = keys.iter().filter_map(|k| Some(named(k)?.0)).collect();
    ids.len()
}

/// Opens an item: what is then on the page, and its text. None where it is no longer there.
pub fn open(store: &dyn Store, token: &str) -> Result<Option<(Open, String)>, Denied> {
    let words: Vec<&str> = token.split(' ').collect();
    let (family, _) = family(store, words.first().unwrap_or(&""))?;
    let wanted = match words.as_slice() {
        [_] => heads(&family).into_iter().next(),
        [_, revision, writer] => {
            family.iter().find(|l| l.version.revision.to_string() == *revision && l.version.writer == *writer)
        }
        _ => None,
    };
    Ok(wanted.map(|leaf| {
        let content =
            Content { name: leaf.name.clone(), before: leaf.before.clone(), text: leaf.text.clone() };
        let open = Open {
            id: leaf.id.clone(),
            name: leaf.name.clone(),
            before: leaf.before.clone(),
            line: line(&family, &leaf.version),
            kept: Some(content),
            blank: String::new(),
        };
        (open, leaf.text.clone())
    }))
}

/// Whether another window has gone on with the prescription that is open.
pub fn is_changed_elsewhere(store: &dyn Store, open: &Open) -> bool {
    family(store, &open.id).is_ok_and(|(family, _)| family.iter().any(|l| !open.line.contains(&l.version)))
}

/// Keeps the text of the prescription that is open. `writer` is this window's own word. Where it is denied nothing has
/// changed, neither in the store nor in `open`.
pub fn keep(
    store: &mut dyn Store,
    open: &mut Open,
    text: &str,
    writer: &str,
    now: Option<Stamp>,
) -> Result<Kept, Denied> {
    let content = Content { name: open.name.clone(), before: open.before.clone(), text: text.to_string() };
    let is_blank = open.kept.is_none() && (text.trim().is_empty() || text == open.blank);
    if open.kept.as_ref() == Some(&content) || is_blank {
        return Ok(Kept::Same);
    }
    let (here, most) = family(store, &open.id)?;
    let base = open.line.last().cloned();
    if here.iter().any(|leaf| !open.line.contains(&leaf.version)) {
        return copy(store, open, content, writer, now, &here);
    }
    let is_gone = base.is_some() && here.is_empty();
    let revision = most.max(base.as_ref().map_or(0, |v| v.revision)).saturating_add(1);
    let leaf = Leaf {
        id: open.id.clone(),
        version: Version { revision, writer: writer.into() },
        after: base,
        name: content.name.clone(),
        text: content.text.clone(),
        before: content.before.clone(),
        changed: now,
    };
    put(store, open, &leaf)?;
    open.line.push(leaf.version);
    open.kept = Some(content);
    prune(store, &open.id, &mut open.line, 2);
    Ok(if is_gone { Kept::Again } else { Kept::Kept })
}

/// Writes a version; where there is no room, first gives up the ones before the last.
fn put(store: &mut dyn Store, open: &mut Open, leaf: &Leaf) -> Result<(), Denied> {
    let value = leaf.write();
    match store.set(&leaf.key(), &value) {
        Err(Denied::Full) if 1 < open.line.len() => {
            prune(store, &open.id, &mut open.line, 1);
            store.set(&leaf.key(), &value)
        }
        done => done,
    }
}

/// Deletes all of a line but the last `most`, oldest first: so what is left still shows what went on from what.
fn prune(store: &mut dyn Store, id: &str, line: &mut Vec<Version>, most: usize) {
    while most < line.len() {
        if store.remove(&key(id, &line[0])).is_err() {
            return;
        }
        line.remove(0);
    }
}

/// This window's text goes on as a prescription of its own.
fn copy(
    store: &mut dyn Store,
    open: &mut Open,
    content: Content,
    writer: &str,
    now: Option<Stamp>,
    here: &[Leaf],
) -> Result<Kept, Denied> {
    let base = open.line.last().cloned();
    let called = open.called(&content.text, now);
    let at = now.map_or_else(String::new, |now| format!(", {}", now.clock()));
    let name = format!("{called} (this window{at})");
    let leaf = Leaf {
        id: child(&open.id, base.as_ref(), writer),
        version: Version { revision: 1, writer: writer.into() },
        after: None,
        name: Some(name.clone()),
        text: content.text.clone(),
        before: content.before.clone(),
        changed: now,
    };
    put(store, open, &leaf)?;
    // What it came from stays only where another window went on from it too.
    if let Some(base) = base.filter(|base| heads(here).iter().any(|head| head.version == *base)) {
        for version in alone(here, &base) {
            if store.remove(&key(&open.id, &version)).is_err() {
                break;
            }
        }
    }
    *open = Open {
        id: leaf.id,
        name: Some(name.clone()),
        before: content.before.clone(),
        line: vec![leaf.version],
        kept: Some(Content { name: Some(name.clone()), ..content }),
        blank: String::new(),
    };
    Ok(Kept::Copied(name))
}

/// An identity that only this window can make of this version.
fn child(id: &str, base: Option<&Version>, writer: &str) -> String {
    let base = base.map_or_else(String::new, |v| format!("{} {}", v.revision, v.writer));
    let words = format!("{id} {base} {writer}");
    format!(
        "{:08x}{:08x}",
        crc32fast::hash(words.as_bytes()),
        crc32fast::hash(format!("{words} ").as_bytes())
    )
}

/// Puts a text on the shelf beside the others, under an identity that is new. Gives its key there.
pub fn add(store: &mut dyn Store, leaf: &Leaf) -> Result<(), Denied> {
    store.set(&leaf.key(), &leaf.write())
}

/// A leaf that stands for itself.
pub fn fresh(
    id: String,
    writer: &str,
    name: Option<String>,
    text: String,
    before: Option<String>,
    changed: Option<Stamp>,
) -> Leaf {
    let version = Version { revision: 1, writer: writer.into() };
    Leaf { id, version, after: None, name, text, before, changed }
}

/// Gives another name to an item that is not open; an empty one takes its own name away. None where it is gone.
pub fn rename(
    store: &mut dyn Store,
    token: &str,
    name: &str,
    writer: &str,
    now: Option<Stamp>,
) -> Result<Option<Kept>, Denied> {
    let Some((mut open, text)) = open(store, token)? else { return Ok(None) };
    open.name = own_name(name);
    keep(store, &mut open, &text, writer, now).map(Some)
}

/// A name as it is typed; none where nothing is typed.
pub fn own_name(typed: &str) -> Option<String> {
    let name: String = typed.trim().chars().take(LONGEST_NAME).collect();
    (!name.is_empty()).then_some(name)
}

/// Longer names break the list; common practice, no source.
const LONGEST_NAME: usize = 120;

/// Deletes an item: what it was. What another window goes on from stays.
pub fn delete(store: &mut dyn Store, token: &str) -> Result<Option<Leaf>, Denied> {
    let Some((open, _)) = open(store, token)? else { return Ok(None) };
    let (family, _) = family(store, &open.id)?;
    let Some(head) = open.line.last() else { return Ok(None) };
    let Some(leaf) = family.iter().find(|leaf| leaf.version == *head).cloned() else { return Ok(None) };
    for version in alone(&family, head) {
        store.remove(&key(&open.id, &version))?;
    }
    // Where another window's stands under the same identity, so may its torn ones.
    if heads(&family).iter().all(|other| other.version == *head) {
        remove_torn(store, &open.id)?;
    }
    Ok(Some(leaf))
}

/// Torn versions of a prescription that is deleted hold parts of its text.
fn remove_torn(store: &mut dyn Store, id: &str) -> Result<(), Denied> {
    for name in store.keys()?.iter().filter(|name| named(name).is_some_and(|(of, _)| of == id)) {
        let Some((_, version)) = named(name) else { continue };
        let value = store.get(name)?.unwrap_or_default();
        if Leaf::read(id, &version, &value).is_none() && leaf::is_torn(&value) {
            store.remove(name)?;
        }
    }
    Ok(())
}

/// Puts back what was deleted.
pub fn put_back(store: &mut dyn Store, leaf: &Leaf, writer: &str) -> Result<(), Denied> {
    let (_, most) = family(store, &leaf.id)?;
    let revision = most.max(leaf.version.revision).saturating_add(1);
    let version = Version { revision, writer: writer.into() };
    add(store, &Leaf { version, after: None, ..leaf.clone() })
}

/// An identity from random bytes.
///
/// ```
/// assert_eq!(layfigure::desk::shelf::word(&[0, 255, 7]), "00ff07");
/// ```
pub fn word(random: &[u8]) -> String {
    random.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests;
