//! All prescriptions as one file, and back. JSON, so that they can be read without this page.

use super::leaf::{Leaf, Stamp};
use super::{Found, fresh};
use serde::{Deserialize, Serialize};

/// A neutral name: a file's name is seen by whoever passes by.
pub const NAME: &str = "prescriptions.json";

const SORT: &str = "layfigure prescriptions";

#[derive(Deserialize, Serialize)]
struct File {
    file: String,
    version: u32,
    prescriptions: Vec<One>,
    /// What stood there and could not be read, word for word.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    unread: Vec<String>,
}

#[derive(Deserialize, Serialize)]
struct One {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    changed: Option<String>,
    text: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    before: Option<String>,
}

/// What was brought in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Brought {
    /// To be added, in the order of the list.
    pub leaves: Vec<Leaf>,
    /// How many were here already, word for word.
    pub known: usize,
}

/// Everything, the one changed last first. `unread`: the values that can't be read.
pub fn write(found: &Found, unread: Vec<String>) -> String {
    let one = |leaf: &Leaf| One {
        name: leaf.name.clone(),
        changed: leaf.changed.map(|stamp| stamp.to_string()),
        text: leaf.text.clone(),
        before: leaf.before.clone(),
    };
    let prescriptions = found.items.iter().map(|item| one(&item.leaf)).collect();
    let file = File { file: SORT.into(), version: 1, prescriptions, unread };
    serde_json::to_string_pretty(&file).unwrap_or_default()
}

/// Reads a file: one that [`write`] wrote, else any text as one prescription. Whose text is `known` or comes twice is
/// left out. `word` gives a new identity each time. None where there is nothing in it, or it is of a later version.
pub fn read(
    text: &str,
    known: &Found,
    writer: &str,
    now: Option<Stamp>,
    mut word: impl FnMut() -> String,
) -> Option<Brought> {
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    let ones = if text.trim_start().starts_with('{') {
        let file: File = serde_json::from_str(&text).ok()?;
        (file.file == SORT && file.version == 1).then_some(file.prescriptions)?
    } else {
        vec![One { name: None, changed: None, text, before: None }]
    };
    let mut brought = Brought { leaves: Vec::new(), known: 0 };
    for one in ones.into_iter().filter(|one| !one.text.trim().is_empty()) {
        let is_here = known.items.iter().any(|item| item.leaf.text == one.text);
        if is_here || brought.leaves.iter().any(|leaf| leaf.text == one.text) {
            brought.known += 1;
        } else {
            let changed = one.changed.as_deref().and_then(Stamp::iso).or(now);
            let name = one.name.as_deref().and_then(super::own_name);
            brought.leaves.push(fresh(word(), writer, name, one.text, one.before, changed));
        }
    }
    (!brought.leaves.is_empty() || 0 < brought.known).then_some(brought)
}
