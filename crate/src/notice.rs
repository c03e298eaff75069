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

/// The notices as plain text: the line, carets under the place, the sentence, and what to write instead.
///
/// ```
/// let text = "# Knee\nlimt: right knee 0-60";
/// let (_, notices) = layfigure::prescription::read(text);
/// let drawn = layfigure::notice::drawn(text, &notices);
/// assert_eq!(drawn, "\
/// error: “limt” is not a word that starts a line here. Did you mean “limit:”?
///   2 | limt: right knee 0-60
///     | ^^^^ write: limit
/// ");
/// ```
pub fn drawn(text: &str, notices: &[Notice]) -> String {
    let lines = crate::text::lines(text);
    let mut out = String::new();
    for notice in notices {
        let word = match notice.severity {
            Severity::Error => "error",
            Severity::Contraindication => "contraindication",
            Severity::Precaution => "precaution",
            Severity::Advice => "advice",
        };
        out.push_str(&format!("{word}: {}\n", notice.sentence));
        let Some(line) = notice.place.line.checked_sub(1).and_then(|i| lines.get(i)) else { continue };
        let number = notice.place.line.to_string();
        let gutter = " ".repeat(number.len());
        // What can't be seen or would move the carets is shown as a plain space.
        let shown = |s: &str| -> String {
            s.chars().map(|c| if crate::text::is_space(c) { ' ' } else { c }).collect()
        };
        let before = shown(line.raw.get(..notice.place.start).unwrap_or(""));
        let under = shown(line.raw.get(notice.place.start..notice.place.end).unwrap_or(""));
        let lead: String = before.chars().map(|_| ' ').collect();
        let carets = "^".repeat(under.chars().count().max(1));
        out.push_str(&format!("  {number} | {}\n  {gutter} | {lead}{carets}", shown(line.raw)));
        match &notice.edit {
            Some(edit) if !edit.with.is_empty() => out.push_str(&format!(" write: {}", edit.with)),
            Some(_) | None => {}
        }
        out.push('\n');
    }
    out
}
