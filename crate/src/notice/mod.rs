//! What we tell the writer: a kind with its data, its place, a suggested edit. Severity and sentence follow from the kind.
//! Told in plain text, as one would say it. Knows no HTML.

pub mod english;
pub mod kinds;

pub use self::kinds::What;

use crate::text::Place;

/// How much a notice matters, in the trade's own words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Text that was not understood.
    Error,
    /// Against a limit or precaution that the clinician wrote.
    Contraindication,
    /// Worth a second thought before it is handed over.
    Precaution,
    /// May be ignored.
    Advice,
}

/// One change of the text: what stands at `place` becomes `with`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    pub place: Place,
    pub with: String,
}

/// One thing told to the writer. Any value is legal, so the fields are public.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    pub what: What,
    pub place: Place,
    pub edit: Option<Edit>,
}

impl Notice {
    /// A notice without an edit.
    pub fn new(what: impl Into<What>, place: Place) -> Notice {
        Notice { what: what.into(), place, edit: None }
    }

    /// The same with an edit, if there is one.
    pub fn with(self, edit: impl Into<Option<Edit>>) -> Notice {
        Notice { edit: edit.into(), ..self }
    }

    /// A stable word for this sort of notice, such as `unknown-exercise`; tests and silencing key on it.
    pub fn kind(&self) -> &'static str {
        self.what.word()
    }

    pub fn severity(&self) -> Severity {
        self.what.severity()
    }

    /// One or two whole sentences: what was expected, and what to write instead.
    pub fn sentence(&self) -> String {
        english::sentence(&self.what)
    }
}

/// The notices as plain text, what can harm first: the line and its words, what is to be said of them, and the line as it
/// could be written instead.
///
/// ```
/// let text = "# Knee\nlimt: right knee 0-60";
/// let (_, notices) = layfigure::prescription::read(text);
/// assert_eq!(layfigure::notice::told(text, &notices), "\
/// Line 2, “limt”. Not understood: “limt” is not a word that starts a line here. Did you mean “limit:”?
///     Write instead: limit: right knee 0-60
/// ");
/// ```
pub fn told(text: &str, notices: &[Notice]) -> String {
    let lines = crate::text::lines(text);
    let raw = |place: Place| place.line.checked_sub(1).and_then(|i| lines.get(i)).map(|line| line.raw);
    let plain = |s: &str| -> String {
        let spaced: String = s.chars().map(|c| if crate::text::is_space(c) { ' ' } else { c }).collect();
        spaced.trim().to_string()
    };
    let mut out = String::new();
    let order = [Severity::Contraindication, Severity::Error, Severity::Precaution, Severity::Advice];
    for notice in order.iter().flat_map(|severity| notices.iter().filter(move |n| n.severity() == *severity))
    {
        let word = match notice.severity() {
            Severity::Error => "Not understood: ",
            Severity::Contraindication => "Contraindication: ",
            Severity::Precaution => "Precaution: ",
            Severity::Advice => "",
        };
        let place = notice.place;
        let words = raw(place).and_then(|raw| raw.get(place.start..place.end)).map(plain).unwrap_or_default();
        let named = if words.is_empty() { String::new() } else { format!(", “{}”", short(&words)) };
        out.push_str(&format!("Line {}{named}. {word}{}\n", place.line, notice.sentence()));
        let Some(edit) = &notice.edit else { continue };
        let changed: Option<String> = raw(edit.place).and_then(|raw| {
            let (before, after) = (raw.get(..edit.place.start)?, raw.get(edit.place.end..)?);
            let changed = format!("{before}{}{after}", edit.with);
            Some(changed.split('\n').map(plain).collect::<Vec<_>>().join("\n"))
        });
        match changed.filter(|changed| !changed.is_empty()) {
            Some(changed) => {
                let lines: Vec<&str> = changed.split('\n').collect();
                out.push_str(&format!("    Write instead: {}\n", lines.join("\n                   ")));
            }
            None => out.push_str("    Take the line out.\n"),
        }
    }
    out
}

/// So many letters of a line are repeated.
const REPEATED: usize = 60;

fn short(words: &str) -> String {
    match words.char_indices().nth(REPEATED) {
        Some((at, _)) => format!("{}…", words.get(..at).unwrap_or("").trim_end()),
        None => words.to_string(),
    }
}
