//! `layfigure link FILE [--without-name | --initials] [--home ADDRESS] [--passphrase FILE|new] [--today DATE]`

use super::{Fault, Given};
use crate::catalog::Catalog;
use crate::link::share::{Named, Wanted, share};
use crate::link::{pack, qr, sealed, written};
use crate::week::model::Limit;
use std::io::Read;

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "without-name", "initials", "home", "passphrase", "today"])?;
    let packed = packed(&given.text()?, &given)?;
    let behind = |fragment: String| match &given.home {
        Some(home) => format!("{}#{fragment}\n", home.split('#').next().unwrap_or(home)),
        None => format!("#{fragment}\n"),
    };
    let Some(from) = &given.passphrase else { return Ok(behind(written::letters(&packed))) };
    let (passphrase, told) = match from.as_str() {
        "new" => {
            let proposed = sealed::propose(&random()?);
            let told = format!("passphrase: {proposed}\n");
            (proposed, told)
        }
        file => (super::words_of(file)?, String::new()),
    };
    let fragment = sealed::seal(&packed, &passphrase, &random()?).map_err(Fault::Outside)?;
    Ok(behind(fragment) + &told)
}

/// The packed link of a text.
fn packed(text: &str, given: &Given) -> Result<Vec<u8>, Fault> {
    let named = match (given.without_name, given.initials) {
        (true, _) => Named::Not,
        (false, true) => Named::Initials,
        (false, false) => Named::Written,
    };
    let (prescription, _) = crate::prescription::read(text);
    let wanted = Wanted { named, emergency: None, today: given.today, limit: Limit::USUAL };
    let catalog = Catalog::embedded();
    let shared = share(&prescription, catalog, &wanted, &mut Default::default()).map_err(Fault::Outside)?;
    pack::pack(&shared, catalog).map_err(Fault::Outside)
}

/// The code for the sheet: a text too long for one has a sentence in its place.
pub(super) fn code(text: &str, home: &str, given: &Given) -> Result<Result<qr::Code, String>, Fault> {
    Ok(qr::code(home, &packed(text, given)?))
}

/// Bytes that nobody can guess, from the system.
fn random<const N: usize>() -> Result<[u8; N], Fault> {
    let mut bytes = [0; N];
    let source = std::fs::File::open("/dev/urandom").and_then(|mut file| file.read_exact(&mut bytes));
    source.map_err(|fault| {
        Fault::Outside(format!("A locked link needs random bytes, and /dev/urandom gives none: {fault}"))
    })?;
    Ok(bytes)
}
