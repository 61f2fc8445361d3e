//! What is told of many findings: the first of each code in each file, and how many more there are.

use rustc_hash::FxHashMap;

use super::diagnostic::Diagnostic;
use super::rule::Rule;
use crate::book::FileId;

/// The findings that are told, in their order.
pub struct Told<'d> {
    pub shown: Vec<&'d Diagnostic>,
    pub more: Vec<More>,
}

/// Findings of one code in one file that are only counted.
#[derive(Clone, Copy, Debug)]
pub struct More {
    pub file: FileId,
    pub rule: &'static Rule,
    pub count: usize,
}

/// At most so many findings of each code in each file.
pub fn told(found: &[Diagnostic], most: usize) -> Told<'_> {
    let mut told = Told { shown: Vec::new(), more: Vec::new() };
    let mut counts: FxHashMap<(FileId, &str), (usize, Option<usize>)> = FxHashMap::default();
    for one in found {
        let (shown, place) = counts.entry((one.place.file, one.rule.code)).or_default();
        let is_shown = *shown < most;
        if is_shown {
            *shown += 1;
            told.shown.push(one);
        }
        let count = one.more + usize::from(!is_shown);
        if count > 0 {
            let at = *place.get_or_insert_with(|| {
                told.more.push(More { file: one.place.file, rule: one.rule, count: 0 });
                told.more.len() - 1
            });
            told.more[at].count += count;
        }
    }
    told.more.sort_by_key(|more| (more.file, more.rule.code));
    told
}
