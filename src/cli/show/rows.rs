//! An item as rows: aligned for people, or as CSV for spreadsheets.

use super::answer::{Answer, ShownResult};
use crate::book::{PrintedResult, PrintedRow};
use crate::cli::csv;
use crate::cli::layout::columns;
use crate::cli::terminal::{Terminal, harmless};

pub(super) fn table(terminal: &mut Terminal, answer: &Answer) {
    let mut rows = vec![["block", "result", "value", "± (k = 2)", "formula"].map(str::to_owned).to_vec()];
    for result in &answer.results {
        // The rows of a table stand below each other.
        let values = match &result.printed {
            PrintedResult::Table(rows) => rows.iter().map(PrintedRow::to_string).collect(),
            other => vec![other.without_uncertainties().to_string()],
        };
        let spread = result.printed.uncertainties().join(", ");
        let formula = result.formula.unwrap_or_default().to_owned();
        let mut values = values.into_iter();
        let first = values.next().unwrap_or_default();
        rows.push(vec![block(result), result.name.clone(), first, spread, formula]);
        rows.extend(values.map(|value| vec![String::new(), String::new(), value]));
    }
    let lines = columns(&rows);
    for (n, line) in lines.iter().enumerate() {
        let line = harmless(line);
        terminal.line(&if n == 0 { terminal.paint.bold(&line) } else { line });
    }
}

pub(super) fn csv(answer: &Answer) -> String {
    let head = ["block", "result", "value", "unit", "uncertainty", "k", "text", "formula", "with numbers", "source"];
    let rows = answer.results.iter().map(|result| {
        let number = |number: Option<f64>| number.map(|number| number.to_string()).unwrap_or_default();
        [
            block(result),
            result.name.clone(),
            // Of a vector its amount; its angle stands in the text.
            result
                .value
                .as_f64()
                .or_else(|| result.value["amount"].as_f64())
                .map_or_else(String::new, |value| value.to_string()),
            result.unit.as_str().unwrap_or_default().to_owned(),
            number(result.uncertainty),
            result.k.map(|k| k.to_string()).unwrap_or_default(),
            result.text.clone(),
            result.formula.unwrap_or_default().to_owned(),
            result.with_numbers.clone().unwrap_or_default(),
            result.source.unwrap_or_default().to_owned(),
        ]
    });
    csv::document(&head, rows)
}

fn block(result: &ShownResult) -> String {
    result.blocks().join(" / ")
}
