//! `layfigure week FILE.json`: the week's plain problem in, its best week out, for checking from outside.

use crate::week::model::{Limit, Problem};
use crate::week::{shortage, solve};

/// One problem or a list of them; the answer has the same shape. The words are for people: each sentence says what
/// was expected.
pub fn run(args: &[String]) -> Result<String, String> {
    let usage = "Expected: layfigure week FILE.json [--limit STEPS] [--why]";
    let mut file = None;
    let mut limit = Limit::USUAL;
    let mut why = false;
    let mut rest = args.iter();
    while let Some(word) = rest.next() {
        match word.as_str() {
            "--limit" => {
                let steps = rest.next().and_then(|steps| steps.parse().ok());
                limit = Limit { nodes: steps.ok_or("--limit needs a whole number of steps.")? };
            }
            "--why" => why = true,
            other if other.starts_with("--") => return Err(format!("{other} is not known. {usage}")),
            _ => file = Some(word),
        }
    }
    let path = file.ok_or(usage)?;
    let text = std::fs::read_to_string(path).map_err(|fault| format!("{path} cannot be read: {fault}."))?;
    let value: serde_json::Value =
        serde_json::from_str(&text).map_err(|fault| format!("{path} is not JSON: {fault}."))?;
    let one = |value: serde_json::Value| -> Result<serde_json::Value, String> {
        let problem: Problem = serde_json::from_value(value)
            .map_err(|fault| format!("{path} is not a week's problem: {fault}."))?;
        let week = solve::solve(&problem, limit).map_err(|fault| fault.0)?;
        let mut answer = serde_json::to_value(&week).map_err(|fault| fault.to_string())?;
        if why {
            if let Some(map) = answer.as_object_mut() {
                let shortage = shortage::shortage(&problem, &week, limit);
                map.insert(
                    "shortage".to_owned(),
                    serde_json::to_value(shortage).map_err(|fault| fault.to_string())?,
                );
            }
        }
        Ok(answer)
    };
    let answer = match value {
        serde_json::Value::Array(all) => {
            serde_json::Value::Array(all.into_iter().map(one).collect::<Result<Vec<_>, String>>()?)
        }
        single => one(single)?,
    };
    serde_json::to_string(&answer).map_err(|fault| fault.to_string())
}
