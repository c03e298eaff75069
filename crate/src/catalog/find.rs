//! Which exercise some words name.

use std::collections::BTreeMap;

use super::Exercise;
use crate::pose::read::words::singular;
use crate::text::fold::folded;
use crate::text::near::{crosses, nearest};

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
        Index { names }
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
        let tight = |s: &str| s.split(' ').collect::<String>();
        if let Some((_, i)) = self.names.iter().find(|(name, _)| tight(name) == tight(&typed)) {
            return exercises.get(*i).map_or(Found::None, Found::One);
        }
        let mut near: Vec<usize> = Vec::new();
        for name in nearest(&typed, self.names.keys().map(String::as_str)) {
            near.extend(self.names.get(name).filter(|i| !near.contains(i)));
        }
        if near.is_empty() {
            // All words of one within the other, in any order: `calf stretch wall`, `slide heel`.
            for (name, i) in &self.names {
                let inside = |a: &str, b: &str| a.split(' ').all(|w| b.split(' ').any(|v| v == w));
                let shares = inside(name, &typed) || (typed.contains(' ') && inside(&typed, name));
                if shares && !crosses(&typed, name) && !near.contains(i) {
                    near.push(*i);
                }
            }
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
