//! What is said of keeping: once when it fails, once when it can be done again.

use super::store::Denied;
use super::store::Store;
use super::{Kept, found, leaf};

/// What keeping came to, for who sees the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// Why the text on the page is not kept.
    pub denied: Option<Denied>,
    /// A sentence, where there is something to say.
    pub said: Option<String>,
}

/// `before`: why the text was not kept until now.
pub fn told(before: Option<Denied>, kept: &Result<Kept, Denied>) -> Told {
    let said = match kept {
        Ok(Kept::Copied(name)) => Some(format!(
            "Another window has written to this prescription since. Nothing was overwritten: what you type here is now “{name}”."
        )),
        Ok(Kept::Again) => {
            Some("Another window has deleted this prescription. What is on this page is kept again.".into())
        }
        Ok(Kept::Kept | Kept::Same) if before.is_some() => {
            Some("It can be kept again: what is on this page is kept now.".into())
        }
        Ok(Kept::Kept | Kept::Same) => None,
        // Said once, not at every key.
        Err(denied) if before == Some(*denied) => None,
        Err(Denied::Full) => Some(
            "This computer’s storage is full: what you type from now on is not kept. Save it to a file."
                .into(),
        ),
        Err(Denied::Forbidden) => Some(
            "This browser forbids keeping anything: what you type is not kept. Save it to a file.".into(),
        ),
    };
    Told { denied: kept.as_ref().err().copied(), said }
}

/// What is said when the choices that were kept can't be read, or are not there while prescriptions are. None: all is
/// well. `is_on`: keeping goes on, with the usual choices.
pub fn recovered(store: &dyn Store, is_torn: bool, is_on: bool) -> Option<String> {
    let keys = store.keys().unwrap_or_default();
    let is_any = keys.iter().any(|key| key.starts_with(leaf::PREFIX));
    let many = match found(store).map_or(0, |found| found.items.len()) {
        1 => "One prescription is".to_string(),
        n => format!("{n} prescriptions are"),
    };
    match (is_torn, is_on) {
        (true, true) => Some(format!(
            "Your choices kept on this computer could not be read, and were set aside. {many} kept as before and stand under “Prescriptions”. Look at paper, emergency number, address and naming again, under “Paper, link, this computer”."
        )),
        (true, false) => Some(format!(
            "Your choices kept on this computer could not be read. {many} still on it: choose “This is my own computer” under “Paper, link, this computer”, and they stand under “Prescriptions” again."
        )),
        (false, _) if is_any => Some(format!(
            "{many} on this computer from an earlier visit, though keeping is not chosen. Choose “This is my own computer” under “Paper, link, this computer” to have them under “Prescriptions”; then they can be deleted there as well."
        )),
        (false, _) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::store::Memory;
    use super::super::{Open, keep};
    use super::*;

    #[test]
    fn it_is_said_once_and_unsaid_once() {
        let full = Err(Denied::Full);
        let first = told(None, &full);
        assert!(first.said.as_deref().is_some_and(|said| said.contains("storage is full")));
        let second = told(first.denied, &full);
        assert_eq!(second, Told { denied: Some(Denied::Full), said: None });
        // Also where the text has become again what was kept last.
        for kept in [Kept::Kept, Kept::Same] {
            let third = told(second.denied, &Ok(kept));
            assert_eq!(third.denied, None);
            assert!(third.said.as_deref().is_some_and(|said| said.contains("is kept now")));
            assert_eq!(told(third.denied, &Ok(Kept::Kept)).said, None);
        }
        let forbidden = told(Some(Denied::Full), &Err(Denied::Forbidden));
        assert!(forbidden.said.as_deref().is_some_and(|said| said.contains("forbids")));
    }

    #[test]
    fn torn_choices_say_where_the_prescriptions_are() {
        let mut store = Memory::default();
        assert_eq!(recovered(&store, false, false), None);
        for (n, text) in ["# Knee\n", "# Hip\n"].iter().enumerate() {
            keep(&mut store, &mut Open::new(format!("a{n}"), ""), text, "w", None).expect("memory");
        }
        for (is_torn, is_on, wanted) in [
            (true, true, "2 prescriptions are kept as before and stand under “Prescriptions”"),
            (true, false, "choose “This is my own computer”"),
            (false, false, "2 prescriptions are on this computer"),
        ] {
            let said = recovered(&store, is_torn, is_on).unwrap_or_default();
            assert!(said.contains(wanted), "{said}");
        }
    }
}
