//! Fixes that the diagnostics carry: one at a time, or all of a kind.

use super::{Action, ActionKind};
use crate::book::FileId;
use crate::check::{Diagnostic, FileEdit};
use crate::text::Span;

/// Fixes that rest on a suspicion, choose between facts or state one for the reader, or take out what somebody pinned:
/// each is for a person to look at, and none is made with others.
pub(super) const FOR_A_PERSON: [&str; 17] = [
    "angles-from-unsaid",
    "bearing-shares-swapped",
    "density-implausible",
    "diameter-as-radius",
    "diameter-as-radius-in-calibration",
    "given-twice",
    "hole-direction-unsaid",
    "mass-centre-outside-bearings",
    "pin-not-computed",
    "proof-leaves-facts-out",
    "range-reversed",
    "readout-sense-unsaid",
    "tolerance-reads-not-wanted",
    "trial-mass-left-unsaid",
    "verdict-not-shown",
    "verdict-over",
    "wrong-dimension",
];

/// Fixes that write results. They were worked out from the facts as they are, and hold no longer once another fix has
/// changed one of these.
pub(super) const OF_RESULTS: [&str; 4] =
    ["not-known", "pin-of-other-dimension", "pinned-result-stale", "released-without-pins"];

/// The fixes of the diagnostics at a range; with each, the fix of all that are like it in the file.
pub(super) fn at(file: FileId, range: Span, diagnostics: &[Diagnostic]) -> Vec<Action> {
    let mut found = Vec::new();
    let mut codes: Vec<&str> = Vec::new();
    for (index, diagnostic) in diagnostics.iter().enumerate() {
        if diagnostic.place.file != file || !diagnostic.place.span.touches(range) {
            continue;
        }
        let only = diagnostic.fixes.len() == 1;
        found.extend(diagnostic.fixes.iter().map(|fix| Action {
            title: fix.title.clone(),
            kind: ActionKind::QuickFix,
            edits: fix.edits.clone(),
            diagnostic: Some(index),
            preferred: only && !fix.is_for_a_person,
        }));
        if only && diagnostic.fixes.iter().all(|fix| !fix.is_for_a_person) && !codes.contains(&diagnostic.rule.code) {
            codes.push(diagnostic.rule.code);
        }
    }
    found.extend(codes.into_iter().filter_map(|code| all_of(file, diagnostics, code)));
    found
}

/// The fix of everything of one code, where the file has it more than once.
fn all_of(file: FileId, diagnostics: &[Diagnostic], code: &str) -> Option<Action> {
    let count = fixable(diagnostics, file, Some(code)).count();
    (count > 1).then(|| Action {
        title: format!("Fix all {count} of `{code}` in this file"),
        kind: ActionKind::FixAll,
        edits: fix_all(diagnostics, file, Some(code)),
        diagnostic: None,
        preferred: false,
    })
}

fn fixable<'d>(
    diagnostics: &'d [Diagnostic],
    file: FileId,
    code: Option<&'d str>,
) -> impl Iterator<Item = &'d Diagnostic> {
    let of_file = diagnostics.iter().filter(move |found| found.place.file == file);
    let of_file = of_file.filter(|found| matches!(&found.fixes[..], [fix] if !fix.is_for_a_person));
    let at_once = of_file.filter(|found| !FOR_A_PERSON.contains(&found.rule.code));
    at_once.filter(move |found| match code {
        Some(code) => code == found.rule.code,
        None => !OF_RESULTS.contains(&found.rule.code),
    })
}

/// The edits that put right every diagnostic of the file that has one obvious fix; of one code alone where it is given.
/// Fixes that would touch the same text as one before them are left for the next time; pinned results are refreshed by
/// themselves, and what only a person can tell is left alone.
pub fn fix_all(diagnostics: &[Diagnostic], file: FileId, code: Option<&str>) -> Vec<FileEdit> {
    let mut edits: Vec<FileEdit> = Vec::new();
    for diagnostic in fixable(diagnostics, file, code) {
        let [fix] = &diagnostic.fixes[..] else { continue };
        let free =
            |new: &FileEdit| edits.iter().all(|old| old.file != new.file || !old.edit.span.touches(new.edit.span));
        if fix.edits.iter().all(free) {
            edits.extend(fix.edits.iter().cloned());
        }
    }
    edits
}
