//! The results that a name means: with their block, `calibrate hub / reading`, or all that are called so.

use super::answer::{Answer, ShownResult};
use super::screen;
use crate::cli::Failure;
use crate::sheet::nearest;
use crate::vocabulary::{ResultSpec, result};

/// An answer with these results alone; beside what was measured stands its budget.
pub(super) fn only(mut answer: Answer, asked: &str) -> Result<Answer, Failure> {
    let asked = asked.split('/').map(str::trim).collect::<Vec<_>>().join(" / ");
    let whole = |result: &ShownResult| result.path.join(" / ");
    let is_it = |result: &ShownResult| {
        let path = whole(result);
        let is_of = |spec: &ResultSpec| {
            result.name.strip_prefix(spec.name).is_some_and(|of| of.is_empty() || of.starts_with(' '))
        };
        path == asked
            || path.ends_with(&format!(" / {asked}"))
            || result.name == asked
            || screen::under_head(&asked).is_some_and(is_of)
    };
    let found: Vec<&ShownResult> = answer.results.iter().filter(|result| is_it(result)).collect();
    if found.is_empty() {
        let names: Vec<String> =
            answer.results.iter().flat_map(|result| [result.name.clone(), whole(result)]).collect();
        let failure = Failure::new(format!("{} \"{}\" has no result `{asked}`", answer.item.kind, answer.item.name));
        return Err(match nearest(&asked, names.iter().map(String::as_str)) {
            Some(near) => failure.help(format!("did you mean `{near}`?")),
            None => failure.help("`--all` shows what it has"),
        });
    }
    let budgets: Vec<String> = found.iter().flat_map(|result| budget_of(result)).collect();
    let wanted: Vec<bool> =
        answer.results.iter().map(|result| is_it(result) || budgets.contains(&whole(result))).collect();
    let mut wanted = wanted.into_iter();
    answer.results.retain(|_| wanted.next().unwrap_or(false));
    Ok(answer)
}

/// The path of the budget after a measured unbalance, its uncertainty and its verdict.
fn budget_of(found: &ShownResult) -> Option<String> {
    let behind: [&'static ResultSpec; 3] = [&result::MEASURED, &result::UNCERTAINTY, &result::VERDICT_AT];
    let of = behind.iter().find_map(|spec| found.name.strip_prefix(spec.name))?;
    let budget = format!("{}{of}", result::BUDGET.name);
    let path: Vec<&str> = found.blocks().iter().map(String::as_str).chain([&*budget]).collect();
    Some(path.join(" / "))
}
