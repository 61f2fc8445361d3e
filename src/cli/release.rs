//! `release` and `withdraw`: whether technicians may work by a sheet, as an act that leaves a trace.

use std::cmp::Ordering;

use clap::Args;

use super::find::{self, ItemKind};
use super::history::{Release, releases};
use super::load::Loaded;
use super::stated::stated;
use super::terminal::harmless;
use super::versions::{Ground, Version};
use super::{Exit, Failure, Outcome, Session, diff, write};
use crate::book::{Book, Computing, ItemId, next_revision, plain_revision, revision_order};
use crate::card::{self, CardChange};
use crate::check::{self, Diagnostic, Severity};
use crate::diff::{BookDiff, ItemName, compare_and_judge, rewritten_proofs};
use crate::disk;
use crate::sheet::{Block, FieldValue};
use crate::syntax::Kind;
use crate::text::{self, Edit, Span, in_a_line};
use crate::vocabulary::setup::{self, Status};
use crate::vocabulary::{AnyFact, Choice};

/// Release a setup for work at the machine, under a new revision
///
/// Writes `status: released`, the next revision, the day, and who released it. Then it lists how the new card differs from the
/// card of the last released revision, as it was when that revision was first committed.
///
/// A sheet is not released while a value is missing or is still the example's, while it has errors, while its calibration is
/// void, or when one of its proofs was rewritten since the last release. A revision that was used before, or that comes
/// before the last one, is refused.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook release \"fan wheel 400 on the soft bench\" --by \"fan bay\"\n  \
    rotorbook release \"fan wheel 400 on the soft bench\" --revision F --dry-run")]
pub(super) struct ReleaseArguments {
    /// The setup
    #[arg(value_name = "SETUP")]
    name: String,

    /// The new revision; the one after the present one, or after the last one released, when none is given
    #[arg(long)]
    revision: Option<String>,

    /// Who releases it; as the sheet says when nobody is named
    #[arg(long, value_parser = stated)]
    by: Option<String>,

    /// Write nothing; tell what would be written and what the card would say otherwise
    #[arg(long)]
    dry_run: bool,
}

/// Take a setup out of use
///
/// Writes `status: withdrawn`. A sheet that is withdrawn is kept with its revision, and its card says that it is not to be
/// used.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  rotorbook withdraw \"fan wheel 400 on the soft bench\"\n  rotorbook withdraw --void"
)]
pub(super) struct WithdrawArguments {
    /// The setup
    #[arg(value_name = "SETUP", required_unless_present = "void", conflicts_with = "void")]
    name: Option<String>,

    /// Every released setup whose calibration is void
    #[arg(long)]
    void: bool,
}

pub(super) fn release(session: &mut Session, arguments: &ReleaseArguments) -> Outcome {
    let books = find::books(session)?;
    let (loaded, id) = find::item(&books, &arguments.name, Some(ItemKind(Kind::Setup)))?;
    let item = loaded.book.item(id);
    let ground = Ground::of(session)?;
    let mut releases = releases(&ground, &arguments.name)?;
    // A commit that releases the sheet without a revision is not a release: its card cannot be identified.
    let is_there = |revision: &String| !revision.trim().is_empty();
    releases.retain(|one| one.revision.as_ref().is_some_and(is_there));
    let now = text_of(item, setup::REVISION.any()).filter(is_there);
    let now = releases.iter().fold(now, |now, one| later(now, one.revision.clone()));
    let is_draft = item.choice(setup::STATUS) != Some(Status::Released);
    let revision = match &arguments.revision {
        Some(revision) => is_plain(revision).map(|()| revision.clone())?,
        // Under a revision that no commit has released, no card can have been printed.
        None if releases.is_empty() && is_draft && now.is_some() && ground.version("HEAD").is_ok() => {
            now.clone().unwrap_or_default()
        }
        None => next_revision(now.as_deref()).ok_or_else(|| {
            let now = now.as_deref().unwrap_or_default();
            Failure::new(format!("what comes after revision \"{now}\" is not known")).help("say it with --revision")
        })?,
    };
    is_new(&revision, &releases)?;
    let by = arguments.by.clone().or_else(|| text_of(item, setup::BY.any()));
    let Some(by) = by else {
        return Err(Failure::new("nobody is named as releasing the sheet").help("say it with --by NAME"));
    };
    let facts = [
        (setup::STATUS.any(), Status::Released.words().to_owned()),
        (setup::REVISION.any(), check::quoted(&revision)),
        (setup::BY.any(), check::quoted(&by)),
        (setup::DATE.any(), disk::today()),
    ];
    let text = written(&loaded.book, id, &facts)?;
    let after = loaded.book.with_file(std::sync::Arc::new(loaded.book.file(id.file).changed(&*text)));
    let mut errors = errors(&after, id);
    let last = releases.first();
    let mut load = |version: Option<Version>| ground.load_one(&version?, &mut session.terminal).ok();
    let (first, before) = (load(last.map(Release::first)), load(last.map(Release::last)));
    let head = load(ground.version("HEAD").ok());
    errors.extend(first.iter().chain(&head).flat_map(|before| rewritten(before, &after, id)));
    check::sort(&mut errors);
    errors.dedup_by(|one, other| (one.place, one.rule.code) == (other.place, other.rule.code));
    if !errors.is_empty() {
        return refuse(session, &after, &arguments.name, &errors);
    }
    // The card at the machine was printed when the revision was released.
    tell_card(session, last.zip(first.as_ref()), before.as_ref(), (&after, id));
    let name = harmless(&arguments.name);
    if arguments.dry_run {
        session.terminal.say(&format!("\"{name}\" would be released as revision \"{}\"", harmless(&revision)));
        return Ok(Exit::Clean);
    }
    save(loaded, id, &text)?;
    session.terminal.say(&format!("\"{name}\" is released as revision \"{}\"; commit it", harmless(&revision)));
    Ok(Exit::Clean)
}

pub(super) fn withdraw(session: &mut Session, arguments: &WithdrawArguments) -> Outcome {
    let books = find::books(session)?;
    let mut withdrawn = 0;
    // A file is read again for each sheet in it.
    let names: Vec<String> = match &arguments.name {
        Some(name) => vec![name.clone()],
        None => books.iter().flat_map(void_ones).collect(),
    };
    for name in names {
        let books = find::books(session)?;
        let (loaded, id) = find::item(&books, &name, Some(ItemKind(Kind::Setup)))?;
        if loaded.book.item(id).choice(setup::STATUS) == Some(Status::Withdrawn) {
            session.terminal.say(&format!("\"{}\" is withdrawn already", harmless(&name)));
            continue;
        }
        let text = written(&loaded.book, id, &[(setup::STATUS.any(), Status::Withdrawn.words().to_owned())])?;
        save(loaded, id, &text)?;
        session.terminal.say(&format!("\"{}\" is withdrawn; commit it", harmless(&name)));
        withdrawn += 1;
    }
    if arguments.void && withdrawn == 0 {
        session.terminal.say("no released setup has a void calibration");
    }
    Ok(Exit::Clean)
}

fn void_ones(loaded: &Loaded) -> Vec<String> {
    let computing = Computing::without_explanations(&loaded.book);
    let is_void = |id: &ItemId| {
        let setup = computing.setup(*id);
        setup.is_some_and(|setup| setup.is_released() && !setup.void_causes.is_empty())
    };
    loaded.book.items().filter(is_void).map(|id| loaded.book.item(id).name_text().to_owned()).collect()
}

/// What a check says against a sheet that is released: what would bar its card.
fn errors(book: &Book, id: ItemId) -> Vec<Diagnostic> {
    let scope = card::Scope::of_item(book, id);
    let concerns = |found: &Diagnostic| found.severity == Severity::Error && scope.holds(book, found.place);
    check::check(book).into_iter().filter(concerns).collect()
}

fn refuse(session: &mut Session, book: &Book, name: &str, errors: &[Diagnostic]) -> Outcome {
    for error in errors {
        let file = book.file(error.place.file);
        let line = file.line_index().line_of(error.place.span.start) + 1;
        session.terminal.line(&harmless(&format!("{}:{line}: {} [{}]", file.path, error.message, error.rule.code)));
    }
    let what = super::report::counted(errors.len(), Severity::Error.word());
    session.terminal.warn(&format!("\"{}\" is not released: {what} as a released sheet", harmless(name)));
    Ok(Exit::Findings)
}

/// Proofs of the setup that say something else than they did, and read the same.
fn rewritten(before: &Book, after: &Book, id: ItemId) -> Vec<Diagnostic> {
    let span = after.item(id).span;
    let is_own = |found: &Diagnostic| {
        let place = found.place;
        place.file == id.file && span.start <= place.span.start && place.span.start < span.end
    };
    let found = rewritten_proofs(before, after).into_iter();
    found.filter(|one| one.severity == Severity::Error && is_own(one)).collect()
}

/// Lists how the card differs from the card as first released; `since` is the last book with that revision.
fn tell_card(
    session: &mut Session,
    before: Option<(&Release, &Book)>,
    since: Option<&Book>,
    (after, id): (&Book, ItemId),
) {
    let terminal = &mut session.terminal;
    let Some((released, before)) = before else {
        let revision = text_of(after.item(id), setup::REVISION.any()).unwrap_or_default();
        let text = format!(
            "This is its first release: no commit has an earlier one, and revision \"{revision}\" is its first card."
        );
        terminal.line(&harmless(&text));
        return;
    };
    let is_it = ItemName::of(after, id);
    let compared = |before: &Book| -> BookDiff {
        let mut found = compare_and_judge(before, after);
        found.items.iter_mut().for_each(|item| item.cards.retain(|card| card.item == is_it));
        found
    };
    let lines = |found: &BookDiff| -> Vec<CardChange> {
        let cards = found.items.iter().flat_map(|item| &item.cards);
        cards.filter(|card| card.is_done_otherwise()).flat_map(|card| card.changes.clone()).collect()
    };
    let found = compared(before);
    let tells_more = diff::human::cards(terminal, &found, false);
    let text = match tells_more {
        true => format!("Compared with {}.", released.words()),
        false => format!("Its card is the same for the technician as {}.", released.words()),
    };
    terminal.line(&harmless(&text));
    if since.is_some_and(|since| lines(&compared(since)) != lines(&found)) {
        let which =
            released.revision.as_ref().map_or_else(String::new, |is| format!(", still under revision \"{is}\""));
        terminal.line(&harmless(&format!(
            "The card has changed since then{which}: prints made before that are out of date."
        )));
    }
}

/// The later of what the sheet says and of what was released last.
fn later(sheet: Option<String>, released: Option<String>) -> Option<String> {
    match (sheet, released) {
        (Some(sheet), Some(released)) => {
            Some(if revision_order(&sheet, &released) == Some(Ordering::Less) { released } else { sheet })
        }
        (sheet, released) => sheet.or(released),
    }
}

/// A card writes the word before it.
fn is_plain(revision: &str) -> Result<(), Failure> {
    let failure = || Failure::new(format!("\"{}\" is not a revision", in_a_line(revision)));
    match plain_revision(revision) {
        Some(plain) if plain == revision => Ok(()),
        Some(plain) => Err(failure().help(format!("give it as a card writes it: --revision {plain}"))),
        None => Err(failure().help("give letters A to Z or digits, such as --revision D or --revision 12")),
    }
}

/// Whoever holds a card must be able to tell it from every other by its revision.
fn is_new(revision: &str, releases: &[Release]) -> Result<(), Failure> {
    let is_it = |one: &&Release| {
        let before = one.revision.as_deref();
        before.is_some_and(|before| revision_order(revision, before) == Some(Ordering::Equal))
    };
    let used = releases.iter().find(is_it);
    let why = match releases.first().and_then(|last| last.revision.as_deref()) {
        _ if let Some(used) = used => format!("the sheet was released before under {}", used.words()),
        Some(last) if revision_order(revision, last) == Some(Ordering::Less) => {
            format!("revision \"{revision}\" is earlier than the last one released, \"{last}\"")
        }
        _ => return Ok(()),
    };
    // Never one that was used, also where it was taken back.
    let last = releases
        .iter()
        .filter_map(|one| one.revision.as_deref())
        .reduce(|last, other| if revision_order(last, other) == Some(Ordering::Less) { other } else { last });
    let failure = Failure::new(harmless(&why));
    match next_revision(last) {
        Some(next) => Err(failure.help(format!("release it as \"{}\"", harmless(&next)))),
        None => Err(failure),
    }
}

/// The text of the file with these facts in the item: in the place of those that stand there, else after the last of its
/// own facts at the top.
fn written(book: &Book, id: ItemId, facts: &[(AnyFact, String)]) -> Result<String, Failure> {
    let (item, text) = (book.item(id), &book.file(id.file).text);
    let first = |fact: AnyFact| item.fields.iter().find(|field| field.key.is(fact));
    let beside = [
        setup::ROTOR.any(),
        setup::MACHINE.any(),
        setup::MASSES.any(),
        setup::LIKE.any(),
        setup::STATUS.any(),
        setup::REVISION.any(),
        setup::BY.any(),
    ];
    let behind = beside.into_iter().filter_map(first).map(|field| field.value_span.end).max();
    let at = behind.map_or(item.body, |end| {
        text[end as usize..].find('\n').map_or(text.len() as u32, |line| end + line as u32 + 1)
    });
    let mut edits = Vec::new();
    let mut lines = String::new();
    for (fact, value) in facts {
        match first(*fact) {
            Some(field) => edits.push(Edit::replace(field.value_span, value.clone())),
            None => lines.push_str(&format!("  {}: {value}\n", fact.words())),
        }
    }
    if !lines.is_empty() {
        edits.push(Edit::replace(Span::new(at, at), lines));
    }
    text::apply(text, &edits).map_err(|_| Failure::new("two facts of the sheet are in one place"))
}

fn save(loaded: &Loaded, id: ItemId, text: &str) -> Result<(), Failure> {
    let cannot = |why: String| Failure::new(format!("{} is left as it is: {why}", loaded.shown(id.file)));
    write::replace(loaded.path(id.file), &loaded.book.file(id.file).text, text).map_err(cannot)
}

fn text_of(item: &Block, fact: AnyFact) -> Option<String> {
    match &item.fields.iter().find(|field| field.key.is(fact))?.value {
        FieldValue::Text(text) => Some(text.to_string()),
        _ => None,
    }
}
