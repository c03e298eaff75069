//! Which exercise some words name.

use std::collections::BTreeMap;

use super::Exercise;
use super::near::{Known, Nearness, Typed};
use crate::pose::read::words::singular;
use crate::text::fold::folded;

/// What the words name.
#[derive(Clone, Debug, PartialEq)]
pub enum Found<'a> {
    One(&'a Exercise),
    /// No exercise has this name; these have one near it. Choosing among them is the writer's.
    Near(Vec<&'a Exercise>),
    None,
}

/// Folded names to exercises, by position in the catalog.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Index {
    names: BTreeMap<String, usize>,
    /// The names without spaces: `heelslide`.
    tight: BTreeMap<String, usize>,
    known: Known,
}

/// How many near ones are offered at most.
const MOST_NEAR: usize = 4;

impl Index {
    pub fn of(exercises: &[Exercise]) -> Index {
        let mut names = BTreeMap::new();
        for (i, exercise) in exercises.iter().enumerate() {
            for name in core::iter::once(&exercise.name).chain(&exercise.also) {
                names.entry(key(name)).or_insert(i);
            }
        }
        // A name outranks a synonym of another.
        for (i, exercise) in exercises.iter().enumerate() {
            names.insert(key(&exercise.name), i);
        }
        let known = Known::of(names.keys().map(String::as_str));
        let mut tight = BTreeMap::new();
        for (name, i) in &names {
            tight.entry(name.split(' ').collect()).or_insert(*i);
        }
        Index { names, tight, known }
    }

    /// Whether words are a name as they stand.
    pub fn is_named(&self, words: &str) -> bool {
        let typed = key(words);
        self.names.contains_key(&typed) || self.tight.contains_key(&typed.split(' ').collect::<String>())
    }

    /// Whether a name, as [`key`] writes it, is known.
    pub fn has(&self, key: &str) -> bool {
        self.names.contains_key(key)
    }

    pub fn find<'a>(&self, words: &str, exercises: &'a [Exercise]) -> Found<'a> {
        let typed = key(words);
        if typed.is_empty() {
            return Found::None;
        }
        if let Some(exercise) = self.names.get(&typed).and_then(|i| exercises.get(*i)) {
            return Found::One(exercise);
        }
        // `heelslide` and `sittostand` are typed as often as not.
        if let Some(i) = self.tight.get(&typed.split(' ').collect::<String>()) {
            return exercises.get(*i).map_or(Found::None, Found::One);
        }
        let typed = Typed::of(&typed, &self.known);
        let mut found: Vec<(Nearness, usize)> = Vec::new();
        for (name, at) in &self.names {
            if let Some(nearness) = typed.to(name) {
                match found.iter_mut().find(|(_, known)| known == at) {
                    Some((best, _)) => *best = nearness.min(*best),
                    None => found.push((nearness, *at)),
                }
            }
        }
        crate::sorting::sort_by_key(&mut found, |(nearness, at)| (*nearness, *at));
        let best = found.first().map(|(nearness, _)| *nearness);
        let mut near: Vec<usize> =
            found.into_iter().filter(|(nearness, _)| Some(*nearness) == best).map(|(_, at)| at).collect();
        // One that says more than was typed is not taken to be meant because it stands alone in the catalog.
        if best == Some(Nearness::Wider) && near.len() < 2 {
            near.clear();
        }
        near.truncate(MOST_NEAR);
        let near: Vec<&Exercise> = near.into_iter().filter_map(|i| exercises.get(i)).collect();
        if near.is_empty() { Found::None } else { Found::Near(near) }
    }
}

/// A name as it is compared: folded, hyphens as spaces, each word in the singular, without articles.
pub fn key(name: &str) -> String {
    folded(name)
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .filter(|w| !w.is_empty() && !matches!(*w, "the" | "a" | "an" | "your"))
        .map(|w| singular(w).to_string())
        .collect::<Vec<_>>()
        .join(" ")
}
