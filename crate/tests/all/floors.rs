//! Holds what the map says: the floors, the list of modules, and that no exercise is known to the code.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// All files below a folder with this ending, in order.
fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("a readable folder").path()).collect();
    paths.sort();
    let (folders, mut found): (Vec<_>, Vec<_>) = paths.into_iter().partition(|path| path.is_dir());
    found.retain(|path| path.extension().is_some_and(|end| end == ending));
    found.extend(folders.iter().flat_map(|inner| files(inner, ending)));
    found
}

/// The modules in the order of `lib.rs`, lowest floor first.
fn floors() -> Vec<String> {
    let lib = read(&root().join("crate/src/lib.rs"));
    let module = |line: &str| Some(line.strip_prefix("pub mod ")?.strip_suffix(';')?.to_string());
    lib.lines().filter_map(module).collect()
}

/// Source without its comments: a doc link upwards is no import.
fn without_comments(source: &str) -> String {
    source.lines().map(|line| line.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n")
}

/// Source up to its own tests, without comments: what can change how the program behaves.
fn behaviour(source: &str) -> String {
    without_comments(source.split("#[cfg(test)]").next().unwrap_or(""))
}

fn leading_word(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(text.len());
    &text[..end]
}

/// The top-level names right behind a path such as `crate::`, braces included: `crate::{a::B, c}`.
fn names_behind(rest: &str) -> Vec<String> {
    let Some(group) = rest.strip_prefix('{') else { return vec![leading_word(rest).to_string()] };
    let (mut depth, mut names, mut start) = (0, Vec::new(), 0);
    for (i, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => {
                names.push(&group[start..i]);
                break;
            }
            '}' => depth -= 1,
            ',' if depth == 0 => {
                names.push(&group[start..i]);
                start = i + 1;
            }
            _ => {}
        }
    }
    names.iter().map(|name| leading_word(name.trim_start()).to_string()).filter(|n| !n.is_empty()).collect()
}

/// Every module of the crate that a source names by `crate::`, or by climbing out with `super::`.
/// `depth` is how many modules deep the file is: 1 for `week.rs` and `week/mod.rs`, 2 for `week/solve.rs`.
fn imports(source: &str, depth: usize) -> BTreeSet<String> {
    let source = without_comments(source);
    let mut found = BTreeSet::new();
    for (at, word) in source.match_indices("crate::") {
        let before = source[..at].chars().next_back();
        if !before.is_some_and(|c| c.is_ascii_alphanumeric() || c == '_') {
            found.extend(names_behind(&source[at + word.len()..]));
        }
    }
    let mut rest = source.as_str();
    while let Some(at) = rest.find("super::") {
        rest = &rest[at..];
        let mut climbs = 0;
        while let Some(further) = rest.strip_prefix("super::") {
            (rest, climbs) = (further, climbs + 1);
        }
        if depth <= climbs {
            found.extend(names_behind(rest));
        }
    }
    found
}

/// The imports that go upwards, as sentences.
fn faults(module: &str, file: &str, source: &str, depth: usize, floors: &[String]) -> Vec<String> {
    let level = |name: &str| floors.iter().position(|floor| floor == name);
    let own = level(module);
    imports(source, depth)
        .into_iter()
        .filter(|name| level(name).is_some_and(|theirs| own < Some(theirs)))
        .map(|name| format!("{file}: {module} imports {name}, which stands above it"))
        .collect()
}

#[test]
fn every_import_goes_down() {
    let (floors, source) = (floors(), root().join("crate/src"));
    assert!(10 < floors.len(), "lib.rs lists its modules as `pub mod name;`");
    let mut all = Vec::new();
    for path in files(&source, "rs") {
        let inside = path.strip_prefix(&source).expect("below crate/src");
        let parts: Vec<String> =
            inside.with_extension("").iter().map(|part| part.to_string_lossy().into_owned()).collect();
        let depth = parts.iter().filter(|part| *part != "mod").count();
        if !["lib", "main"].contains(&parts[0].as_str()) {
            assert!(floors.contains(&parts[0]), "{} is in no module of lib.rs", inside.display());
            all.extend(faults(&parts[0], &inside.display().to_string(), &read(&path), depth, &floors));
        }
    }
    assert!(all.is_empty(), "{}", all.join("\n"));
}

#[test]
fn an_import_upwards_is_found() {
    let floors: Vec<String> = ["low", "middle", "high"].map(String::from).to_vec();
    let found = |module: &str, source: &str, depth| faults(module, "x.rs", source, depth, &floors);
    assert_eq!(found("low", "use crate::high::Thing;", 1), ["x.rs: low imports high, which stands above it"]);
    assert_eq!(found("low", "use crate::{low::A, middle::{B, C}, high};", 1).len(), 2);
    assert_eq!(found("low", "let y = crate::middle::f();", 1).len(), 1);
    assert_eq!(found("low", "use super::high;", 1).len(), 1);
    assert_eq!(found("low", "use super::super::{high, middle};", 2).len(), 2);
    assert_eq!(found("low", "use super::high;", 2).len(), 0, "low::high is its own");
    assert_eq!(found("middle", "use crate::low; // not crate::high\n/// [crate::high]", 1).len(), 0);
    assert_eq!(found("high", "use crate::{low, middle};", 1).len(), 0);
}

/// Every name, synonym and number of the catalog.
fn catalog() -> (Vec<String>, Vec<String>) {
    let (mut names, mut numbers) = (Vec::new(), Vec::new());
    for path in files(&root().join("catalog"), "txt") {
        for line in read(&path).lines() {
            let Some((key, value)) = line.split_once(':') else { continue };
            let value = value.split(';').next().unwrap_or("").trim();
            match key.trim() {
                "exercise" => names.push(value.to_lowercase()),
                "also" => names.extend(value.split(',').map(|name| name.trim().to_lowercase())),
                "number" => numbers.push(value.to_string()),
                _ => {}
            }
        }
    }
    names.retain(|name| !name.is_empty());
    (names, numbers)
}

/// Whether `text` has `phrase` as whole words. Underscores count as spaces, so `wall_slide` is found too.
fn has_phrase(text: &str, phrase: &str) -> bool {
    let text = text.to_lowercase().replace('_', " ");
    let part = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    text.match_indices(phrase).any(|(at, word)| {
        !part(text[..at].chars().next_back()) && !part(text[at + word.len()..].chars().next())
    })
}

/// Whether a source compares or makes an exercise's number as a literal: `number == 17`, `number: 17`.
fn has_number(text: &str, number: &str) -> bool {
    let tight: String = text.to_lowercase().chars().filter(|c| !c.is_whitespace()).collect();
    ["number==", "number!=", "number:", "number(", "number="].iter().any(|lead| {
        tight.match_indices(lead).any(|(at, _)| leading_word(&tight[at + lead.len()..]) == number)
    })
}

#[test]
fn the_code_knows_no_exercise() {
    let (mut names, numbers) = catalog();
    assert!(10 < names.len() && 10 < numbers.len(), "the catalog's files are found and read");
    // Letters of clinical tests as well, whose results are told from exercises.
    names.retain(|name| !["sts", "slr"].contains(&name.as_str()));
    let mut found = Vec::new();
    for path in files(&root().join("crate/src"), "rs") {
        let source = behaviour(&read(&path));
        let named = names.iter().filter(|name| has_phrase(&source, name)).map(String::clone);
        let numbered = numbers.iter().filter(|n| has_number(&source, n)).map(|n| format!("number {n}"));
        found.extend(named.chain(numbered).map(|what| format!("{}: {what}", path.display())));
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn a_known_exercise_is_found() {
    assert!(has_phrase("if name == \"Wall slide\" {", "wall slide"));
    assert!(has_phrase("fn wall_slide()", "wall slide"));
    assert!(!has_phrase("the wall slides", "wall slide"));
    assert!(has_number("if exercise.number == 17 {", "17"));
    assert!(!has_number("if exercise.number == 170 {", "17"));
}

#[test]
fn the_map_lists_exactly_the_modules() {
    let text = read(&root().join("DEVELOPERS.md"));
    let map =
        text.split("\n## ").find(|part| part.starts_with("Map")).expect("DEVELOPERS.md has a part `## Map`");
    let cell = |line: &str| Some(line.strip_prefix("| `")?.split('`').next()?.to_string());
    let listed: Vec<String> = map.lines().filter_map(cell).collect();
    assert_eq!(listed, floors(), "the map in DEVELOPERS.md and lib.rs, in the same order");
}
