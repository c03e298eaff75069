//! What was worked out once and is asked for again.

use std::hash::Hash;

use foldhash::fast::FixedState;

/// Answers by question. It can only be asked, never gone through, so no answer can depend on an order of its own.
#[allow(clippy::disallowed_types, reason = "only looked up; nothing here goes through it")]
pub(crate) struct Memo<K, V>(std::collections::HashMap<K, V, FixedState>);

impl<K, V> Default for Memo<K, V> {
    fn default() -> Memo<K, V> {
        Memo(Default::default())
    }
}

impl<K: Hash + Eq, V> Memo<K, V> {
    pub fn get(&self, question: &K) -> Option<&V> {
        self.0.get(question)
    }

    pub fn put(&mut self, question: K, answer: V) {
        self.0.insert(question, answer);
    }
}
