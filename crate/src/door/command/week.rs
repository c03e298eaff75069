//! `layfigure week FILE`: the best week of a prescription, or of the plain problem in whole numbers.

use super::{Fault, Given};
use crate::door::reading;
use crate::week::model::{Limit, Problem, Week};
use crate::week::shortage::{Shortage, shortage};
use crate::week::solve::solve;
use std::time::Instant;

/// The week, and what stands in the way of the patient's minutes when that was asked for.
#[derive(serde::Serialize)]
struct Answer {
    /// The problem of a prescription, for those who solve it again.
    #[serde(skip_serializing_if = "Option::is_none")]
    problem: Option<Problem>,
    #[serde(flatten)]
    week: Week,
    #[serde(skip_serializing_if = "Option::is_none")]
    shortage: Option<Shortage>,
    /// Milliseconds that solving took, for comparing with others in one run.
    #[serde(skip_serializing_if = "Option::is_none")]
    ms: Option<f64>,
}

/// One problem or a list of them in JSON, or the text of a prescription; the answer has the same shape.
pub fn run(args: &[String]) -> Result<String, Fault> {
    let mut limit = Limit::USUAL;
    let (mut why, mut time, mut course, mut plot) = (false, false, false, false);
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
            "--time" => time = true,
            "--course" => course = true,
            "--plot" => plot = true,
            _ => others.push(word.clone()),
        }
    }
    let given = Given::read(&others, &["FILE", "week", "today"])?;
    let text = given.text()?;
    if course || plot {
        let (prescription, _) = crate::prescription::read(&text);
        let catalog = crate::catalog::Catalog::embedded();
        let course =
            crate::week::phases::course(&prescription, catalog, given.today, &mut Default::default());
        return Ok(if plot { crate::week::plot(&course).into_string() + "\n" } else { course.text() });
    }
    let expected = |fault: serde_json::Error| Fault::Outside(format!("This is no week's problem: {fault}."));
    let answer = |problem: Problem, shown: bool| -> Result<Answer, Fault> {
        // The clock is read for contributors; nothing that is laid depends on it.
        let start = Instant::now();
        let week = solve(&problem, limit).map_err(|fault| Fault::Outside(fault.0))?;
        let ms = time.then(|| start.elapsed().as_secs_f64() * 1e3);
        let shortage = if why { shortage(&problem, &week, limit) } else { None };
        Ok(Answer { problem: shown.then_some(problem), week, shortage, ms })
    };
    if !text.trim_start().starts_with(['{', '[']) {
        let programme = reading::read(&text, given.week, given.today, &mut Default::default()).programme;
        let answer = answer(crate::week::problem(&programme), true)?;
        return Ok(serde_json::to_string(&answer).map_err(expected)? + "\n");
    }
    let (problems, single) = match serde_json::from_str::<serde_json::Value>(&text).map_err(expected)? {
        serde_json::Value::Array(all) => (all, false),
        one => (vec![one], true),
    };
    let mut answers = Vec::new();
    for problem in problems {
        answers.push(answer(serde_json::from_value(problem).map_err(expected)?, false)?);
    }
    let written = match answers.first() {
        Some(answer) if single => serde_json::to_string(answer),
        _ => serde_json::to_string(&answers),
    };
    Ok(written.map_err(expected)? + "\n")
}
