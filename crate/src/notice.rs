//! What we tell the writer: kind, severity, place, sentence, suggested edit.
//! Drawn as carets in plain text. Knows no HTML.

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
    pub severity: Severity,
    /// A stable word for this sort of notice, such as `unknown-exercise`; tests and silencing key on it.
    pub kind: &'static str,
    pub place: Place,
    /// One or two whole sentences: what was expected, and what to write instead.
    pub sentence: String,
    pub edit: Option<Edit>,
}
