//! `layfigure open LINK [--week N] [--today DATE] [--passphrase FILE]`

use super::{Fault, Given};
use crate::catalog::Catalog;
use crate::link::{Shared, fault, pack, sealed, written};
use crate::programme::{Ask, Programme, USUAL_MARGIN};
use crate::week::Shown;
use crate::week::pattern::all_day;
use std::fmt::Write;

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["LINK", "week", "today", "passphrase"])?;
    let Some(word) = &given.file else { return Err(Fault::Words("A link was expected.".into())) };
    let link = if word == "-" { given.text()? } else { word.clone() };
    let catalog = Catalog::embedded();
    let told = |fault: fault::Fault| Fault::Outside(fault.sentence);
    let shared = match written::open(&link, catalog) {
        Err(fault) if fault.kind == fault::Kind::Sealed && given.passphrase.is_some() => {
            let passphrase = super::words_of(given.passphrase.as_deref().unwrap_or_default())?;
            let packed = sealed::unseal(&link, &passphrase).map_err(told)?;
            pack::unpack(&packed, catalog).map_err(told)?
        }
        other => other.map_err(told)?,
    };
    let ask = Ask { today: given.today, week: given.week, margin: USUAL_MARGIN };
    let programme = shared.programme(catalog, &ask, &mut Default::default());
    Ok(listing(&shared, &programme, catalog))
}

/// The text that was handed over, and the week.
fn listing(shared: &Shared, programme: &Programme, catalog: &Catalog) -> String {
    let mut out = shared.text.clone();
    let issued = shared.issued.map_or(String::new(), |day| format!("issued {}, ", day.words()));
    let _ = writeln!(out, "\n{issued}version {}", shared.version);
    let name = |index: &usize| programme.exercises.get(*index).map_or("", |e| e.name.as_str());
    let changed = shared.changed(programme, catalog);
    if !changed.is_empty() {
        let names: Vec<&str> = changed.iter().map(name).collect();
        let _ = writeln!(out, "drawn or worded otherwise since then: {}", names.join(", "));
    }
    let _ = writeln!(out, "week {}", programme.week_number);
    if let Some(pattern) = shared.pattern(programme.week_number) {
        let Shown { days, .. } = pattern.shown(programme);
        for day in &days {
            for session in &day.sessions {
                let names: Vec<&str> = session.exercises.iter().map(name).collect();
                let (part, minutes) = (session.part.name(), session.minutes);
                let _ = writeln!(out, "{} {part}, {minutes} min: {}", day.day.short(), names.join(", "));
            }
        }
    }
    for (index, entry) in all_day(programme) {
        let _ = writeln!(out, "all day: {}, {}", name(&index), entry.when);
    }
    out
}
