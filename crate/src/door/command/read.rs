//! `layfigure read FILE [--json] [--week N] [--today DATE]`

use super::{Fault, Given};

pub fn run(args: &[String]) -> Result<String, Fault> {
    let given = Given::read(args, &["FILE", "json", "week", "today"])?;
    let text = given.text()?;
    let (prescription, notices) = crate::prescription::read(&text);
    if given.json {
        let object = serde_json::json!({
            "tidy": crate::prescription::print(&prescription),
            "notices": notices.iter().map(|n| serde_json::json!({
                "severity": n.severity, "kind": n.kind, "line": n.place.line, "sentence": n.sentence,
                "edit": n.edit.as_ref().map(|e| &e.with),
            })).collect::<Vec<_>>(),
        });
        return Ok(format!("{object:#}\n"));
    }
    let mut out = crate::prescription::print(&prescription);
    for notice in &notices {
        out.push_str(&format!("line {}: {}\n", notice.place.line, notice.sentence));
    }
    Ok(out)
}
