//! An item as rows: aligned for people, or as CSV for spreadsheets.

use super::answer::{Answer, ShownResult};
use crate::book::PrintedResult;
use crate::cli::csv;
use crate::cli::layout::{WIDTH, columns, hanging, padded, width};
use crate::cli::terminal::{Terminal, harmless};

/// So wide are blocks and results at most, that values have room beside them.
const MOST: usize = 58;

/// The blocks and results in columns; values are broken to the width of a screen.
pub(super) fn table(terminal: &mut Terminal, answer: &Answer) {
    let mut rows = vec![(["block", "result"].map(str::to_owned).to_vec(), "value, ± (k = 2)".to_owned())];
    for result in &answer.results {
        let head = vec![harmless(&block(result)), harmless(&result.name)];
        match &result.printed {
            // The rows of a table are below each other.
            PrintedResult::Table(table) => {
                let mut heads = std::iter::once(head).chain(std::iter::repeat(vec![String::new(); 2]));
                rows.extend(table.iter().filter_map(|row| Some((heads.next()?, row.to_string()))));
            }
            other => rows.push((head, other.to_string())),
        }
    }
    let heads: Vec<Vec<String>> = rows.iter().map(|(head, _)| head.clone()).collect();
    let heads = columns(&heads);
    let widest = heads.iter().map(|head| width(head)).max().unwrap_or(0).min(MOST);
    for (n, (head, (_, value))) in heads.iter().zip(&rows).enumerate() {
        let value = harmless(value);
        let lines = match width(head) > MOST {
            true => format!("{head}\n{}", hanging(&" ".repeat(4), &value, WIDTH)),
            false => hanging(&format!("{}  ", padded(head, widest)), &value, WIDTH),
        };
        for line in lines.lines() {
            terminal.line(&if n == 0 { terminal.paint.bold(line.trim_end()) } else { line.trim_end().to_owned() });
        }
    }
}

pub(super) fn csv(answer: &Answer) -> String {
    let head = [
        "block",
        "result",
        "value",
        "unit",
        "uncertainty",
        "k",
        "angle in deg",
        "angle uncertainty in deg",
        "angle counted",
        "angle of",
        "text",
        "formula",
        "with numbers",
        "source",
    ];
    let rows = answer.results.iter().map(|result| {
        let number = |number: Option<f64>| number.map(|number| number.to_string()).unwrap_or_default();
        [
            block(result),
            result.name.clone(),
            // Of a vector its amount.
            number(result.value.as_f64().or_else(|| result.value["amount"].as_f64())),
            result.unit.as_str().unwrap_or_default().to_owned(),
            number(result.uncertainty),
            result.k.map(|k| k.to_string()).unwrap_or_default(),
            number(result.value["angle"].as_f64()),
            number(result.value["angle_uncertainty"].as_f64()),
            result.value["counted"].as_str().unwrap_or_default().to_owned(),
            result.value["meaning"].as_str().unwrap_or_default().to_owned(),
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
