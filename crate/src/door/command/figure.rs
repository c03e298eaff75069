//! `layfigure figure …`

use super::{Fault, Given};

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "paper", "week", "today", "out"])?;
    let _ = (given.paper.as_ref(), given.week, given.today, given.out.as_ref());
    Err(Fault::Outside("This command is being built.".into()))
}
