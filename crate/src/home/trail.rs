//! The page's own entries in the browser's history. A browser lets a page write over an entry only while it stands
//! there, so each entry says how many of the page's own come before it: from anywhere, one step leads to the first, and
//! one more entry behind it cuts off all the others. It also says how often this tab had forgotten everything when it
//! was made: one from before opens nothing any more.
//!
//! An entry says nothing of the plan.

use super::view::View;

/// What the browser keeps with an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// How many entries of the page's own come before it.
    pub at: u32,
    /// How often everything had been forgotten in this tab.
    pub forgotten: u32,
    pub view: View,
}

impl Entry {
    pub fn write(self) -> String {
        format!("{} {} {}", self.at, self.forgotten, self.view.name())
    }

    /// Earlier pages wrote the name of the view alone; those entries are as old as can be.
    pub fn read(state: &str) -> Option<Entry> {
        if let Some(view) = View::named(state) {
            return Some(Entry { at: 0, forgotten: 0, view });
        }
        let (at, rest) = state.split_once(' ')?;
        let (forgotten, view) = rest.split_once(' ')?;
        Some(Entry { at: at.parse().ok()?, forgotten: forgotten.parse().ok()?, view: View::named(view)? })
    }
}

/// What comes of standing at an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrival {
    /// The reader followed a link to it: it is to be written as this, and what it carries is opened.
    New(Entry),
    Known(Entry),
    /// From before all was forgotten: it is to be written as this, and what it carries is not looked at.
    Bygone(Entry),
}

/// Where in its history the page stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Trail {
    at: u32,
    forgotten: u32,
    begun: bool,
}

impl Trail {
    /// `forgotten`: how often everything was forgotten in this tab.
    pub fn new(forgotten: u32) -> Trail {
        Trail { at: 0, forgotten, begun: false }
    }

    pub fn forgotten(&self) -> u32 {
        self.forgotten
    }

    /// How many entries back the first of the page's own is.
    pub fn back(&self) -> u32 {
        self.at
    }

    /// The page stands at the entry with this state: it was loaded there, or the browser went there.
    pub fn arrive(&mut self, state: Option<&str>) -> Arrival {
        let begun = std::mem::replace(&mut self.begun, true);
        match state.and_then(Entry::read) {
            // A browser puts a link that is followed behind where the page stood.
            None => {
                self.at = if begun { self.at.saturating_add(1) } else { 0 };
                Arrival::New(self.here(View::Today))
            }
            Some(entry) if entry.forgotten < self.forgotten => {
                self.at = entry.at;
                Arrival::Bygone(self.here(View::Today))
            }
            Some(entry) => {
                self.at = entry.at;
                Arrival::Known(entry)
            }
        }
    }

    /// The entry at which the page stands, with this view.
    pub fn here(&self, view: View) -> Entry {
        Entry { at: self.at, forgotten: self.forgotten, view }
    }

    /// A further entry, for this view.
    pub fn further(&mut self, view: View) -> Entry {
        self.at = self.at.saturating_add(1);
        self.here(view)
    }

    /// Everything is forgotten, once more than so many times: entries up to now are of before.
    pub fn forget(&mut self, times: u32) {
        self.forgotten = self.forgotten.max(times).saturating_add(1);
    }

    /// The first entry of the page's own, once more the only one.
    pub fn first(&mut self) -> Entry {
        self.at = 0;
        self.here(View::Today)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diary::When;

    const WEEK: View = View::Week { back: -1 };

    #[test]
    fn entries_come_back_as_they_were_written() {
        for view in [View::Today, WEEK, View::Do { when: When::Evening, at: 3 }, View::Phone] {
            let entry = Entry { at: 12, forgotten: 2, view };
            assert_eq!(Entry::read(&entry.write()), Some(entry));
            assert_eq!(Entry::read(&view.name()), Some(Entry { at: 0, forgotten: 0, view }));
        }
        for bad in ["", "1", "1 2", "-1 0 today", "1 2 3", "1 2 nowhere", "x 0 today"] {
            assert_eq!(Entry::read(bad), None, "{bad}");
        }
    }

    /// A browser's history of one tab: states, and where it stands.
    struct Tab(Vec<Option<String>>, usize);

    impl Tab {
        fn push(&mut self, state: Option<String>) {
            self.0.truncate(self.1 + 1);
            self.0.push(state);
            self.1 += 1;
        }
        fn write(&mut self, entry: Entry) {
            self.0[self.1] = Some(entry.write());
        }
        fn go(&mut self, trail: &mut Trail, to: usize) -> Arrival {
            self.1 = to;
            self.arrive(trail)
        }
        fn arrive(&mut self, trail: &mut Trail) -> Arrival {
            let arrival = trail.arrive(self.0[self.1].as_deref());
            if let Arrival::New(entry) | Arrival::Bygone(entry) = arrival {
                self.write(entry);
            }
            arrival
        }
    }

    #[test]
    fn from_anywhere_the_way_to_the_first_entry_is_known() {
        // Another site, then the page by its link.
        let mut tab = Tab(vec![Some("theirs".into()), None], 1);
        let mut trail = Trail::new(0);
        assert!(matches!(tab.arrive(&mut trail), Arrival::New(_)));
        tab.push(Some(trail.further(WEEK).write()));
        tab.push(Some(trail.further(View::Sheet).write()));
        assert_eq!(trail.back(), 2);
        assert!(matches!(tab.go(&mut trail, 2), Arrival::Known(Entry { view: WEEK, .. })));
        assert_eq!(trail.back(), 1);
        // A second link is followed from there.
        tab.push(None);
        assert!(matches!(tab.arrive(&mut trail), Arrival::New(_)));
        assert_eq!((trail.back(), tab.0.len()), (2, 4));
        // The page is loaded anew there, by a reload or when it comes back from elsewhere.
        trail = Trail::new(0);
        assert!(matches!(tab.arrive(&mut trail), Arrival::Known(_)));
        assert_eq!(trail.back(), 2);
    }

    #[test]
    fn an_entry_from_before_all_was_forgotten_opens_nothing() {
        let mut tab = Tab(vec![None], 0);
        let mut trail = Trail::new(0);
        tab.arrive(&mut trail);
        tab.push(Some(trail.further(WEEK).write()));
        trail.forget(0);
        assert!(matches!(
            tab.go(&mut trail, 0),
            Arrival::Bygone(Entry { at: 0, forgotten: 1, view: View::Today })
        ));
        // Once written over it is like any other; the one ahead is still of before, also to a page loaded anew.
        assert!(matches!(tab.go(&mut trail, 0), Arrival::Known(_)));
        trail = Trail::new(1);
        assert!(matches!(tab.go(&mut trail, 1), Arrival::Bygone(_)));
        // A link that the reader follows again is opened.
        tab.push(None);
        assert!(matches!(tab.arrive(&mut trail), Arrival::New(Entry { at: 2, forgotten: 1, .. })));
    }
}
