//! What is handed over: the prescription as the patient may see it, with its week, packed into the part of an
//! address behind `#`. Does not know pages.

mod bits;
pub mod fault;
pub mod pack;
pub mod qr;
pub mod sealed;
pub mod share;
pub mod shed;
mod squeeze;
mod text;
pub mod work;
pub mod written;

use crate::catalog::Catalog;
use crate::measure::Date;
use crate::programme::settled::Cache;
use crate::programme::{self, Ask, Programme, assemble};
use crate::week::course;
pub use crate::week::course::Stretch;
use crate::week::pattern::Pattern;

/// A prescription as it is handed over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shared {
    /// A prescription in its full form, without what the patient's sheet does not show.
    pub text: String,
    /// The day on which it was made.
    pub issued: Option<Date>,
    /// The version of the sheet that it was made with: four characters. What the text alone would give differs.
    pub version: String,
    /// In the order of their weeks; the first begins with week 1, and the last has no end.
    pub course: Vec<Stretch>,
    /// By number of the catalog, ascending: what its entry looked like when the link was made.
    pub prints: Vec<(u32, u16)>,
}

impl Shared {
    /// The programme at the week asked for, under the version of the sheet that the patient has.
    pub fn programme(&self, catalog: &Catalog, ask: &Ask, cache: &mut Cache) -> Programme {
        let (prescription, _) = crate::prescription::read_shared(&self.text);
        let programme = assemble::without_offers(&prescription, catalog, ask, cache);
        Programme { version: self.version.clone(), ..programme }
    }

    /// How the days of a week of the course are laid out.
    pub fn pattern(&self, week: u32) -> Option<&Pattern> {
        course::pattern(&self.course, week)
    }

    /// Indices of the exercises that are drawn or worded otherwise than when the link was made.
    pub fn changed(&self, programme: &Programme, catalog: &Catalog) -> Vec<usize> {
        // One that is not in the list was no exercise of the catalog when the link was made.
        let differs = |number: u32| {
            let then = self.prints.iter().find(|(n, _)| *n == number).map(|(_, print)| *print);
            then.is_none() || then != catalog.by_number(number).map(|entry| entry.print)
        };
        let numbered = programme.exercises.iter().enumerate();
        numbered
            .filter(|(_, e)| matches!(e.known, programme::Known::Catalog { number, .. } if differs(number)))
            .map(|(index, _)| index)
            .collect()
    }
}
