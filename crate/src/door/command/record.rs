//! `layfigure record FILE [--week N] [--today DATE]`

use super::{Fault, Given};
use crate::catalog::Catalog;
use crate::export::record;
use crate::programme::Ask;

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "week", "today"])?;
    let text = given.text()?;
    let ask = Ask { week: given.week, ..Ask::today(given.today) };
    Ok(record::text(&text, Catalog::embedded(), &ask, &mut Default::default()))
}
