//! All rules, and how they are run over a book.

use crate::vocabulary::Became;
use crate::vocabulary::severity::{self, Level};
use std::sync::OnceLock;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::context::{FileContext, ItemContext, Sink};
use super::diagnostic::{Diagnostic, Draft, Severity};
use super::rule::{Judge, Rule, Run, Say, SayOfFact};
use super::rules::{self, format_newer};
use super::slip::Slip;
use crate::book::{Book, Computed, Computing, FileId, ItemId, SourceFile, touching};
use crate::limits::{FINDINGS_WORDED, MESSAGE_BYTES};
use crate::sheet::{Block, FactProblemKind, FactProblemOf, FieldValue};
use crate::syntax::{Kind, SyntaxError, SyntaxErrorKind};
use crate::text::{Span, cut};

/// Every rule there is, by code.
pub fn rules() -> &'static [&'static Rule] {
    rules::ALL
}

/// The rule of a code.
pub fn rule(code: &str) -> Option<&'static Rule> {
    rules().iter().copied().find(|rule| rule.code == code)
}

/// Judges a whole book: every file, every item, the book itself. In the order of files and places.
///
/// A book in a newer format gets one error and no other.
pub fn check(book: &Book) -> Vec<Diagnostic> {
    let computing = Computing::for_judging(book);
    let files: Vec<FileId> = book.files().map(|(id, _)| id).collect();
    let of_file = |file: &FileId| check_file(&computing, *file, || true).unwrap_or_default();
    let mut diagnostics: Vec<Diagnostic> = files.par_iter().flat_map_iter(of_file).collect();
    computing.finish();
    diagnostics.extend(check_book(book));
    sort(&mut diagnostics);
    diagnostics
}

/// Puts diagnostics in the order in which they are told: by file and place. What is at one place has an order too, so
/// that it does not matter in which order it was found.
pub fn sort(diagnostics: &mut [Diagnostic]) {
    let order = |one: &Diagnostic, other: &Diagnostic| {
        (one.place, one.severity, one.rule.code).cmp(&(other.place, other.severity, other.rule.code))
    };
    diagnostics.sort_by(|one, other| order(one, other).then_with(|| one.message.cmp(&other.message)));
}

/// Judges one file as part of its book, in the order of places; `None` when `go_on` has said to give up.
pub fn check_file(computing: &Computing<'_>, file: FileId, go_on: impl Fn() -> bool) -> Option<Vec<Diagnostic>> {
    let book = computing.book();
    if format_newer::newer(book).is_some() {
        return Some(Vec::new());
    }
    let mut lines = check_facts(book, file);
    let mut found = Findings::default();
    for index in 0..book.file(file).sheet.items.len() as u32 {
        if !go_on() {
            return None;
        }
        check_item(computing, ItemId { file, index }).into_iter().for_each(|one| found.push(one));
    }
    lines.extend(found.all);
    sort(&mut lines);
    Some(lines)
}

/// The one error of a book in a newer format. What its shop says of ranks may mean something else there.
fn newer_format(book: &Book) -> Vec<Diagnostic> {
    let Some((rule, Run::Book(judge))) = rule("format-newer").map(|rule| (rule, &rule.run)) else { return Vec::new() };
    let mut sink = Sink::default();
    judge(book, &mut sink);
    sink.drafts.into_iter().map(|draft| diagnostic(rule, rule.severity, draft)).collect()
}

/// The format of a book that is newer than this program reads, if it is.
pub fn newer_format_of(book: &Book) -> Option<f64> {
    format_newer::newer(book).map(|(_, _, format)| format)
}

/// Judges the lines of one file, each for itself.
pub fn check_facts(book: &Book, file: FileId) -> Vec<Diagnostic> {
    let source = book.file(file);
    let context = FileContext { book, file, source };
    if let Some(problem) = &source.problem {
        let draft = rules().iter().find_map(|rule| match rule.run {
            Run::File(say) => say(&context, problem).map(|draft| (*rule, draft)),
            _ => None,
        });
        return draft.and_then(|(rule, draft)| weighed(book, rule, draft)).into_iter().collect();
    }
    let mut found = Findings::default();
    for problem in &source.sheet.problems {
        let Some((rule, say)) = fact_rule(problem.kind.of()) else { continue };
        if is_words(&problem.kind) && has_wrong_letters(source, problem.span) {
            continue;
        }
        // What would be said of one more is not worded.
        if found.count(rule) {
            continue;
        }
        if let Some(draft) = say(&context, problem) {
            found.add(book, rule, draft);
        }
    }
    let mut all = check_lines(&context);
    all.extend(found.all);
    all
}

/// What the parser could not take, in the words of the rules.
fn check_lines(context: &FileContext<'_>) -> Vec<Diagnostic> {
    let FileContext { book, source, .. } = *context;
    if source.errors.is_empty() {
        return Vec::new();
    }
    let lines = source.line_index();
    let words = words(source);
    let mut found = Findings::default();
    let is_told = |error: &&SyntaxError| error.kind.is_of_letters() || !is_within(&words, error.span);
    for error in source.errors.iter().filter(is_told) {
        if let Some((rule, say)) = syntax_rule(error.kind)
            && !found.count(rule)
        {
            found.add(book, rule, say(&Slip::new(context, &lines, error)));
        }
    }
    found.all
}

/// Findings that are worded only as long as they are few of their code.
#[derive(Default)]
struct Findings {
    all: Vec<Diagnostic>,
    /// By code: how many are worded, and where the last of them stands. They are few.
    worded: Vec<(&'static str, usize, usize)>,
}

impl Findings {
    /// Counts one more of a code when enough are worded; `false` when this one is to be worded.
    fn count(&mut self, rule: &Rule) -> bool {
        match self.of(rule) {
            Some((_, FINDINGS_WORDED.., last)) => {
                let last = *last;
                self.all[last].more += 1;
                true
            }
            _ => false,
        }
    }

    fn of(&mut self, rule: &Rule) -> Option<&mut (&'static str, usize, usize)> {
        self.worded.iter_mut().find(|(code, ..)| *code == rule.code)
    }

    fn add(&mut self, book: &Book, rule: &'static Rule, draft: Draft) {
        if self.count(rule) {
            return;
        }
        if let Some(found) = weighed(book, rule, draft) {
            self.push(found);
        }
    }

    fn push(&mut self, found: Diagnostic) {
        if self.count(found.rule) {
            return;
        }
        let at = self.all.len();
        match self.of(found.rule) {
            Some((_, count, last)) => (*count, *last) = (*count + 1, at),
            None => self.worded.push((found.rule.code, 1, at)),
        }
        self.all.push(found);
    }
}

/// Where words stand that were taken for something else: text without its quotes, or a choice that is none. Nothing
/// else is wrong with them, however odd they look as a number.
fn words(source: &SourceFile) -> Vec<Span> {
    source.sheet.problems.iter().filter(|problem| is_words(&problem.kind)).map(|problem| problem.span).collect()
}

fn is_words(kind: &FactProblemKind) -> bool {
    use FactProblemKind as K;
    matches!(kind, K::NeedsQuotes { .. } | K::NameNeedsQuotes | K::UnknownChoice { .. })
}

/// Whether letters of some words are wrong: what is meant cannot be judged before they are right.
fn has_wrong_letters(source: &SourceFile, words: Span) -> bool {
    touching(&source.errors, |error| error.span, words).iter().any(|error| error.kind.is_of_letters())
}

/// Whether one of these spans, which come in order and apart, holds another.
fn is_within(spans: &[Span], span: Span) -> bool {
    let before = spans.partition_point(|other| other.start <= span.start);
    before.checked_sub(1).is_some_and(|last| span.end <= spans[last].end)
}

fn syntax_rule(kind: SyntaxErrorKind) -> Option<(&'static Rule, Say)> {
    static BY_KIND: OnceLock<FxHashMap<SyntaxErrorKind, (&'static Rule, Say)>> = OnceLock::new();
    let by_kind = BY_KIND.get_or_init(|| {
        let of_syntax = |rule: &&'static Rule| match rule.run {
            Run::Syntax(of, say) => Some((of, (*rule, say))),
            _ => None,
        };
        rules().iter().filter_map(of_syntax).collect()
    });
    by_kind.get(&kind).copied()
}

fn fact_rule(kind: FactProblemOf) -> Option<(&'static Rule, SayOfFact)> {
    rules().iter().find_map(|rule| match rule.run {
        Run::Fact(of, say) if of == kind => Some((*rule, say)),
        _ => None,
    })
}

/// Judges one item with what is computed of it; nothing in a file that is not text all through, and nothing of a book
/// in a newer format.
pub fn check_item(computing: &Computing<'_>, id: ItemId) -> Vec<Diagnostic> {
    match can_be_judged(computing.book(), id) {
        true => judge_item(computing, id, &computing.item(id)),
        false => Vec::new(),
    }
}

fn can_be_judged(book: &Book, id: ItemId) -> bool {
    book.file(id.file).problem.is_none() && format_newer::newer(book).is_none()
}

/// The same of what is worked out of the item already.
pub fn judge_item<'b>(computing: &Computing<'b>, id: ItemId, computed: &Computed<'b>) -> Vec<Diagnostic> {
    let book = computing.book();
    if !can_be_judged(book, id) {
        return Vec::new();
    }
    let block = book.item(id);
    let context = ItemContext { computing, id, block, computed };
    let mut found = Findings::default();
    let mut sink = Sink::default();
    for (rule, judge) in rules_on(block.kind) {
        judge(&context, &mut sink);
        sink.drafts.drain(..).for_each(|draft| found.add(book, rule, draft));
    }
    found.all
}

/// The rules that look at items of a kind.
fn rules_on(kind: Kind) -> &'static [(&'static Rule, Judge)] {
    static BY_KIND: OnceLock<Vec<Vec<(&'static Rule, Judge)>>> = OnceLock::new();
    let by_kind = BY_KIND.get_or_init(|| {
        let rules_of = |kind: &Kind| {
            let of_kind = |rule: &&'static Rule| match rule.run {
                Run::Item(kinds, judge) if kinds.contains(kind) => Some((*rule, judge)),
                _ => None,
            };
            rules().iter().filter_map(of_kind).collect()
        };
        Kind::ALL.iter().map(rules_of).collect()
    });
    &by_kind[kind as usize]
}

/// Judges the book as a whole: its files, the names in it, its shop. Everything else is said of one file.
pub fn check_book(book: &Book) -> Vec<Diagnostic> {
    if format_newer::newer(book).is_some() {
        return newer_format(book);
    }
    let mut found = Findings::default();
    for rule in rules() {
        let Run::Book(judge) = rule.run else { continue };
        let mut sink = Sink::default();
        judge(book, &mut sink);
        sink.drafts.into_iter().for_each(|draft| found.add(book, rule, draft));
    }
    found.all
}

/// That a proof was rewritten between two versions of a book.
pub fn of_rewritten_proof(
    book: &Book,
    file: FileId,
    heading: Span,
    name: &str,
    (how, heads): (&rules::proof_rewritten::Rewriting, &[String]),
) -> Option<Diagnostic> {
    let draft = super::rules::proof_rewritten::say(file, heading, name, how, heads);
    weighed(book, rule("proof-rewritten")?, draft)
}

/// The revision of a released setup is earlier than in another version of the book.
pub fn of_revision_that_goes_back(
    book: &Book,
    file: FileId,
    revision: Span,
    (was, is): (&str, &str),
) -> Option<Diagnostic> {
    let draft = super::rules::revision_goes_back::say(file, revision, was, is);
    weighed(book, rule("revision-goes-back")?, draft)
}

/// The diagnostic with the weight that the shop gives it; `None` when the shop has turned it off.
fn weighed(book: &Book, rule: &'static Rule, draft: Draft) -> Option<Diagnostic> {
    let severity = match shop_level(book.shop(), rule.code) {
        Some(level) => level?,
        None => draft.severity.unwrap_or(rule.severity),
    };
    Some(diagnostic(rule, severity, draft))
}

fn diagnostic(rule: &'static Rule, severity: Severity, draft: Draft) -> Diagnostic {
    let Draft { mut message, mut help, place, mut related, mut fixes, is_obsolete, .. } = draft;
    let texts =
        related.iter_mut().map(|related| &mut related.message).chain(fixes.iter_mut().map(|fix| &mut fix.title));
    texts.chain(&mut help).chain([&mut message]).for_each(|text| cut(text, MESSAGE_BYTES));
    Diagnostic { rule, severity, message, help, place, related, fixes, is_obsolete, more: 0 }
}

/// What the shop says of a code: nothing, a severity, or `Some(None)` for off. A level without a reason does not count.
fn shop_level(shop: Option<&Block>, code: &'static str) -> Option<Option<Severity>> {
    let names = |named: &str| {
        named == code || rules::former_code(named).is_some_and(|former| former.became == Became::Renamed(code))
    };
    let block = shop?.inner(Kind::Severity).find(|block| names(block.name_text()))?;
    let Some(FieldValue::Text(_)) = block.field(severity::BECAUSE).map(|field| &field.value) else { return None };
    Some(match block.choice(severity::LEVEL)? {
        Level::Error => Some(Severity::Error),
        Level::Warning => Some(Severity::Warning),
        Level::Note => Some(Severity::Note),
        Level::Off => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_syntax_error_has_one_rule() {
        for kind in SyntaxErrorKind::ALL {
            let of_kind = rules().iter().filter(|rule| matches!(rule.run, Run::Syntax(of, _) if of == kind));
            let codes: Vec<&str> = of_kind.map(|rule| rule.code).collect();
            assert_eq!(codes.len(), 1, "{kind:?} has the rules {codes:?}");
        }
    }

    #[test]
    fn every_kind_of_problem_of_a_fact_has_one_rule() {
        for kind in FactProblemOf::ALL {
            let of_kind = rules().iter().filter(|rule| matches!(rule.run, Run::Fact(of, _) if of == *kind));
            let codes: Vec<&str> = of_kind.map(|rule| rule.code).collect();
            assert_eq!(codes.len(), 1, "{kind:?} has the rules {codes:?}");
        }
    }

    #[test]
    fn every_code_has_a_version_and_no_former_one_is_in_use() {
        let number = |version: &str| version.split('.').map(|part| part.parse().unwrap()).collect::<Vec<u32>>();
        let this = number(env!("CARGO_PKG_VERSION"));
        for rule in rules() {
            assert!(number(rule.since) <= this, "{} is of {}, a version to come", rule.code, rule.since);
        }
        for former in rules::FORMER {
            assert!(number(former.since) <= this && rule(former.name).is_none(), "{} is in use", former.name);
            if let Became::Renamed(now) = former.became {
                assert!(rule(now).is_some(), "{} became {now}, which is not a code", former.name);
            }
        }
    }

    fn found_in(text: &str) -> Vec<Diagnostic> {
        check(&Book::new(vec![std::sync::Arc::new(SourceFile::read("sheet.rotor", text))]))
    }

    fn shop_ranking(code: &str) -> String {
        format!("shop s {{\n  format: 1\n  severity {code} {{\n    level: off\n    because: \"told\"\n  }}\n}}\n")
    }

    #[test]
    fn a_renamed_code_is_a_note_with_its_new_name_and_still_ranks() {
        let text = shop_ranking("two-planes-alike");
        let [found] = &found_in(&text)[..] else { panic!("one note is expected") };
        assert_eq!((found.severity, found.rule.code), (Severity::Note, "unknown-code"));
        assert_eq!(found.message, "`two-planes-alike` is called `planes-alike` since version 0.1.0");
        let [fix] = &found.fixes[..] else { panic!("one fix is expected") };
        let edits: Vec<_> = fix.edits.iter().map(|edit| edit.edit.clone()).collect();
        assert_eq!(crate::text::apply(&text, &edits).unwrap(), shop_ranking("planes-alike"));
        let alike = "rotor r {\n  mass: 1 kg\n  plane a {\n    at: 1 mm\n  }\n  plane b {\n    at: 1 mm\n  }\n}\n";
        let is_told = |text: &str| found_in(text).iter().any(|found| found.rule.code == "planes-alike");
        assert!(is_told(alike) && !is_told(&(text + alike)));
    }

    #[test]
    fn a_retired_code_is_a_note_that_says_why() {
        let [found] = &found_in(&shop_ranking("sheet-too-long"))[..] else { panic!("one note is expected") };
        assert_eq!(found.severity, Severity::Note);
        assert_eq!(found.message, "there is no `sheet-too-long` since version 0.1.0: no sheet is too long");
    }

    #[test]
    fn a_former_fact_is_told_by_what_became_of_it() {
        let said = |line: &str| {
            let found = found_in(&format!("rotor r {{\n  rotation: clockwise\n  {line}\n}}\n"));
            let one = found.into_iter().find(|found| found.rule.code == "unknown-key").unwrap();
            (one.help.unwrap(), one.fixes.into_iter().map(|fix| fix.title).collect::<Vec<_>>())
        };
        let joined = "it belongs in `rotation` since version 0.1.0: `rotation: … seen from …`".to_owned();
        assert_eq!(said("seen from: tail end"), (joined, vec!["Write it after `rotation`".to_owned()]));
    }

    #[test]
    fn rules_stand_in_the_order_of_their_codes() {
        assert!(rules().is_sorted_by_key(|rule| rule.code.replace('-', "_")));
    }
}
