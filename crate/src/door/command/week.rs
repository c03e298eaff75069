//! `layfigure week FILE`: the week's plain problem in, its best week out, for checking from outside.

use super::{Fault, Given};
use crate::week::model::{Limit, Problem, Week};
use crate::week::shortage::{Shortage, shortage};
use crate::week::solve::solve;

/// The week, and what stands in the way of the patient's minutes when that was asked for.
#[derive(serde::Serialize)]
struct Answer {
    #[serde(flatten)]
    week: Week,
    #[serde(skip_serializing_if = "Option::is_none")]
    shortage: Option<Shortage>,
}

/// One problem or a list of them; the answer has the same shape.
pub fn run(args: &[String]) -> Result<String, Fault> {
    let mut limit = Limit::USUAL;
    let mut why = false;
    let mut others = Vec::new();
    let mut words = args.iter();
    while let Some(word) = words.next() {
        match word.as_str() {
            "--limit" => {
                let steps = words.next().and_then(|steps| steps.parse().ok());
                let expected = || Fault::Words("--limit needs a whole number of steps.".into());
                limit = Limit { nodes: steps.ok_or_else(expected)? };
            }
            "--why" => why = true,
            _ => others.push(word.clone()),
        }
    }
    let text = Given::read(&others, &["FILE"])?.text()?;
    let expected = |fault: serde_json::Error| Fault::Outside(format!("This is no week's problem: {fault}."));
    let (problems, single) = match serde_json::from_str::<serde_json::Value>(&text).map_err(expected)? {
        serde_json::Value::Array(all) => (all, false),
        one => (vec![one], true),
    };
    let mut answers = Vec::new();
    for problem in problems {
        let problem: Problem = serde_json::from_value(problem).map_err(expected)?;
        let week = solve(&problem, limit).map_err(|fault| Fault::Outside(fault.0))?;
        let shortage = if why { shortage(&problem, &week, limit) } else { None };
        answers.push(Answer { week, shortage });
    }
    let written = match answers.first() {
        Some(answer) if single => serde_json::to_string(answer),
        _ => serde_json::to_string(&answers),
    };
    Ok(written.map_err(expected)? + "\n")
}
