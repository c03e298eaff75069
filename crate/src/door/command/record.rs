//! `layfigure record FILE [--week N] [--today DATE]`

use super::{Fault, Given};
use crate::catalog::Catalog;
use crate::export::record::{self, Of};
use crate::programme::{Ask, assemble};

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "week", "today"])?;
    let text = given.text()?;
    let (prescription, told) = crate::prescription::read(&text);
    let ask = Ask { week: given.week, ..Ask::today(given.today) };
    let programme = assemble::at(&prescription, Catalog::embedded(), &ask, &mut Default::default());
    Ok(record::text(&Of { text: &text, prescription: &prescription, told: &told, programme: &programme }))
}
