//! An item block by block: each result with its formula, the numbers in it, where they come from, and the source.

use super::answer::{Answer, ShownInput, ShownItem, ShownResult};
use crate::book::{PrintedResult, PrintedRow};
use crate::cli::layout::{WIDTH, columns, hanging, padded, width};
use crate::cli::terminal::{Paint, Terminal, harmless};

/// How wide a result may be, which stands four columns in.
const ROOM: usize = WIDTH - 4;

pub(super) fn write(terminal: &mut Terminal, answer: &Answer, place: &str) {
    let paint = terminal.paint;
    let heading = harmless(&format!("{} \"{}\"", answer.item.kind, answer.item.name));
    terminal.line(&format!("{}  {}", paint.bold(&heading), paint.dim(&harmless(place))));
    if answer.results.iter().any(|result| result.uncertainty.is_some()) {
        terminal.line(&paint.dim("± is the expanded uncertainty, k = 2"));
    }
    for blocks in blocks(answer) {
        let results: Vec<&ShownResult> = answer.results.iter().filter(|result| result.blocks() == blocks).collect();
        let indent = if blocks.is_empty() { 2 } else { 4 };
        terminal.line("");
        if !blocks.is_empty() {
            terminal.line(&format!("  {}", paint.bold(&harmless(&blocks.join(" / ")))));
        }
        let names = results.iter().map(|result| width(&result.name)).max().unwrap_or(0);
        for (n, result) in results.iter().enumerate() {
            // Results with their formula need room, bare facts do not.
            if n > 0 && (result.formula.is_some() || results[n - 1].formula.is_some()) {
                terminal.line("");
            }
            for line in lines(&answer.item, result, names, paint) {
                terminal.line(
                    &format!("{}{line}", " ".repeat(indent))
                        .trim_end()
                        .replace('\n', &format!("\n{}", " ".repeat(indent))),
                );
            }
        }
    }
}

/// The blocks that hold results, in the order in which they first do.
fn blocks(answer: &Answer) -> Vec<&[String]> {
    let mut blocks: Vec<&[String]> = Vec::new();
    for result in &answer.results {
        if !blocks.contains(&result.blocks()) {
            blocks.push(result.blocks());
        }
    }
    blocks
}

fn lines(item: &ShownItem, result: &ShownResult, names: usize, paint: Paint) -> Vec<String> {
    let mut lines = Vec::new();
    let name = padded(&harmless(&result.name), names);
    match &result.printed {
        PrintedResult::Table(rows) => lines.extend(table(&name, result, rows, paint)),
        PrintedResult::Numbers { .. } | PrintedResult::Words(_) => {
            lines.push(hanging(&format!("{name}  "), &harmless(&result.spread), ROOM))
        }
    }
    if let Some(formula) = result.formula {
        lines.push(paint.dim(&hanging("    ", formula, ROOM)));
        if let Some(numbers) = &result.with_numbers {
            // Below the sign of equality of the formula, so that symbols and numbers are above each other.
            let left = formula.split_once(" = ").map_or(0, |(left, _)| width(left) + 1);
            lines.push(hanging(&format!("    {}= ", " ".repeat(left)), numbers, ROOM));
        }
    }
    lines.extend(inputs(item, &result.inputs).into_iter().map(|line| format!("    {line}")));
    if let Some(source) = result.source {
        lines.push(paint.dim(&hanging("    source: ", source, ROOM)));
    }
    lines
}

/// The rows of a table below each other, under the names of its columns.
fn table(name: &str, result: &ShownResult, rows: &[PrintedRow], paint: Paint) -> Vec<String> {
    let names = result.columns.iter().map(|name| (*name).to_owned()).collect();
    let rows: Vec<Vec<String>> = std::iter::once(names).chain(rows.iter().map(PrintedRow::columns)).collect();
    let rows = columns(&rows);
    let rows = rows.iter().enumerate().map(|(n, row)| match n {
        0 => format!("{name}  {}", paint.dim(row)),
        _ => format!("{}  {row}", " ".repeat(width(name))),
    });
    rows.collect()
}

fn inputs(item: &ShownItem, inputs: &[ShownInput]) -> Vec<String> {
    let rows: Vec<Vec<String>> = inputs
        .iter()
        .map(|input| {
            let whence = harmless(&whence(item, input));
            match input.symbol {
                Some(symbol) => vec![symbol.to_owned(), input.text.clone(), whence],
                None => vec![input.text.clone(), whence],
            }
        })
        .collect();
    // Where it comes from is broken to the width of a screen.
    let heads: Vec<Vec<String>> = rows.iter().map(|row| row[..row.len() - 1].to_vec()).collect();
    let heads = columns(&heads);
    let widest = heads.iter().map(|head| width(head)).max().unwrap_or(0);
    let lines = heads.iter().zip(&rows).map(|(head, row)| {
        hanging(&format!("{}  ", padded(head, widest)), row.last().map_or("", String::as_str), ROOM - 4)
    });
    lines.flat_map(|lines| lines.lines().map(str::to_owned).collect::<Vec<_>>()).collect()
}

/// `tolerance, plane hub, rotor "fan wheel 315"`; an item's own facts need no more than their block.
fn whence(item: &ShownItem, input: &ShownInput) -> String {
    let mut parts: Vec<String> = input.path.iter().rev().cloned().collect();
    let is_own = input.item.kind == item.kind && input.item.name == item.name;
    if !is_own {
        parts.push(format!("{} \"{}\"", input.item.kind, input.item.name));
    }
    parts.join(", ")
}
