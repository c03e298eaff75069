//! `layfigure handout FILE [--paper a4|letter] [--print normal|large] [--home ADDRESS] [--week N] [--today DATE]`

use super::{Fault, Given};
use crate::catalog::Catalog;
use crate::door::reading;
use crate::handout::plan::Course;
use crate::handout::{self, News, Paper, Print, Sheet};
use crate::programme::Ask;
use crate::programme::settled::Cache;
use crate::week::model::Limit;

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "paper", "print", "home", "week", "today"])?;
    let paper = match given.paper.as_deref() {
        None | Some("a4" | "A4") => Paper::A4,
        Some("letter" | "Letter") => Paper::Letter,
        Some(other) => return Err(Fault::Words(format!("--paper needs a4 or letter, not “{other}”."))),
    };
    let print = match given.print.as_deref() {
        None | Some("normal") => Print::Normal,
        Some("large") => Print::Large,
        Some(other) => return Err(Fault::Words(format!("--print needs normal or large, not “{other}”."))),
    };
    let text = given.text()?;
    let mut cache = Cache::default();
    let programme = reading::read(&text, given.week, given.today, &mut cache).programme;
    let link = match &given.home {
        Some(home) => Some(super::link::code(&text, home, &given)?),
        None => None,
    };
    // A sheet of a later week marks what changes; the patient had that of the week before.
    let news = match programme.week_number.checked_sub(1).filter(|before| 0 < *before && given.week.is_some())
    {
        Some(before) => {
            let before = reading::read(&text, Some(before), given.today, &mut Default::default()).programme;
            News::since(&before, &programme)
        }
        None => News::default(),
    };
    let sheet = Sheet { paper, print, link, news, ..Sheet::default() };
    let (prescription, _) = crate::prescription::read(&text);
    let ask = Ask { week: given.week, ..Ask::today(given.today) };
    let course = Course::of(&prescription, Catalog::embedded(), &ask, Limit::USUAL, &mut cache);
    Ok(handout::html(&course.map_err(|fault| Fault::Outside(fault.0))?, &sheet))
}
