//! `layfigure read FILE [--json] [--week N] [--today DATE]`

use super::{Fault, Given};
use crate::door::reading;

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "json", "week", "today"])?;
    let text = given.text()?;
    let reading = reading::read(&text, given.week, given.today, &mut Default::default());
    if given.json {
        return Ok(format!("{}\n", reading.json()));
    }
    let mut out = reading.tidy.clone();
    if !reading.notices.is_empty() {
        out.push('\n');
        out.push_str(&crate::notice::told(&text, &reading.notices));
    }
    Ok(out)
}
