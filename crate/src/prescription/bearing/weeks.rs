//! The weeks that a weight holds in: `wk 0-6`, `weeks 3 to 4`, `6-8/52`, `wk 8+`, `from week 5`.

use crate::dose::{End, Event};
use crate::language::token::{Cursor, Sort};
use crate::language::unit;

/// Weeks, both counted in; no last one where it goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Weeks {
    pub from: u8,
    pub to: Option<u8>,
}

impl Weeks {
    /// What stands at the cursor, in brackets or not, and what follows.
    pub fn at(mut c: Cursor<'_>) -> Option<(Weeks, Cursor<'_>)> {
        let bracket = c.sign('(');
        let leads = c.word(&["from", "after"]).is_some();
        let named = unit::weeks(&mut c);
        let from = u8::try_from(c.whole()?).ok()?;
        let to = if c.sign('-') || c.word(&["to"]).is_some() {
            Some(u8::try_from(c.whole()?).ok().filter(|to| from < *to)?)
        } else {
            None
        };
        let mut on = !leads && c.sign('+');
        let slash = c.peek().is_some_and(|t| !t.spaced && t.sort == Sort::Sign('/'));
        if !named {
            if slash {
                c.sign('/');
                (c.whole()? == 52).then_some(())?;
            } else if !unit::weeks(&mut c) {
                return None;
            }
        }
        on |= !leads && (c.sign('+') || c.word(&["on", "onwards", "onward"]).is_some());
        // `wk 6` alone may be that week or from then on, and `6/52` lasts so long.
        if to.is_some() == (leads || on) {
            return None;
        }
        c.sign(':');
        (!bracket || c.sign(')')).then_some((Weeks { from, to }, c))
    }

    /// A week numbered nought is one since the operation: the first week of a plan is week 1.
    pub fn end(self) -> Option<End> {
        let to = self.to?;
        Some(match self.from {
            0 => End::After { weeks: to, event: Event::Surgery },
            _ => End::Week(to),
        })
    }

    /// Whether the next begins where this ends.
    pub fn meets(self, next: Weeks) -> bool {
        self.to.is_some_and(|to| next.from == to || Some(next.from) == to.checked_add(1))
    }
}
