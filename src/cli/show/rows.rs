//! An item as rows: aligned for people, or as CSV for spreadsheets.

use super::answer::{Answer, ShownResult};
use crate::cli::csv;
use crate::cli::layout::columns;
use crate::cli::terminal::{Terminal, harmless};

pub(super) fn table(terminal: &mut Terminal, answer: &Answer) {
    let mut rows = vec![["block", "result", "value", "± (k = 2)", "formula"].map(str::to_owned).to_vec()];
    for result in &answer.results {
        let (value, spread) = apart(result);
        let formula = result.formula.unwrap_or_default().to_owned();
        // The rows of a table stand below each other.
        for (n, text) in result.text.split("; ").enumerate().filter(|(n, _)| *n == 0 || !result.columns.is_empty()) {
            let text = if result.columns.is_empty() { &value } else { text };
            rows.push(match n {
                0 => vec![block(result), result.name.clone(), text.to_owned(), spread.clone(), formula.clone()],
                _ => vec![String::new(), String::new(), text.to_owned()],
            });
        }
    }
    let lines = columns(&rows);
    for (n, line) in lines.iter().enumerate() {
        let line = harmless(line);
        terminal.line(&if n == 0 { terminal.paint.bold(&line) } else { line });
    }
}

/// A value, and what stands behind each `±`: `802 g·mm @ 40.0 deg with rotation` and `29 g·mm, 0.58 deg`.
fn apart(result: &ShownResult) -> (String, String) {
    let in_words = result.value.is_string() || !result.columns.is_empty();
    let mut parts = result.spread.split(" ± ");
    let mut value = parts.next().unwrap_or_default().to_owned();
    if in_words || result.uncertainty.is_none() && !result.spread.contains(" ± ") {
        return (result.text.clone(), String::new());
    }
    let mut spreads = Vec::new();
    for part in parts {
        // A number and its unit, then what else the result says.
        let end = part.match_indices(' ').nth(1).map_or(part.len(), |(at, _)| at);
        let end = part[..end].find(',').unwrap_or(end);
        spreads.push(&part[..end]);
        value.push_str(&part[end..]);
    }
    (value, spreads.join(", "))
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
