//! `new KIND --from-csv`: sheets from an old table, a row each. A cell that cannot be read in one way only is left open, with
//! what stood in it, and is said with its line and the reason; every fact that is taken says which line and column it came
//! from. Sums, headings within the table and blank rows are no sheets; of rows with one name none is taken.

mod cell;
mod column;
mod decimals;
mod read;
mod row;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use crate::book::{self, Computed, Computing};
use crate::card::{self, BARRED};
use crate::check;
use crate::cli::find;
use crate::cli::terminal::harmless;
use crate::cli::{Exit, Failure, Outcome, Session, write};
use crate::format;
use crate::starting::{file_name, plain_file_name};
use crate::syntax::Kind;
use crate::text::{self, Edit};
use column::Column;
pub(super) use decimals::Mark;
use row::{Became, Sheets};

/// What the command line says of a table.
pub(super) struct Asked<'a> {
    pub kind: Kind,
    pub table: &'a Path,
    /// Fact and header.
    pub columns: &'a [(String, String)],
    /// Fact and unit, for columns whose numbers have none.
    pub units: &'a [(String, String)],
    /// Facts that hold for every row.
    pub set: &'a [(String, String)],
    /// What all its numbers have before their decimals; by each column itself where it is not said.
    pub decimals: Option<Mark>,
    pub output: Option<&'a Path>,
}

pub(super) fn run(session: &mut Session, asked: &Asked<'_>, taken_names: BTreeSet<String>) -> Outcome {
    let table = read::table(asked.table, &column::wanted(asked))?;
    if table.is_guessed {
        let why = "it is not UTF-8, and is read as Windows-1252: look at letters that are not ASCII";
        session.terminal.warn(&format!("`{}`: {why}", asked.table.display()));
    }
    for row in &table.above {
        session.terminal.say(&format!("line {} is not a sheet: it comes before the headings", row.line));
    }
    let columns = column::columns(asked, &table)?;
    if !columns.iter().any(Column::is_name) {
        return Err(Failure::new("no column says what each item is called")
            .help(format!("name it: --column name=HEADER; the table has {}", column::list(&table.heads, "`"))));
    }
    for column in columns.iter().filter(|column| column.always.is_some()) {
        row::stated_once(asked, column)?;
    }
    for column in &columns {
        if let Some(number) = column.decimals.is_told_by(Mark::Comma) {
            session.terminal.say(&format!("`{}` has decimal commas, by {number}", harmless(&column.header)));
        }
    }
    let twice = Sheets::twice(&columns, &table);
    let mut sheets = Sheets { asked, columns: &columns, names: taken_names, twice };
    let (mut texts, mut refused): (Vec<(String, String)>, usize) = (Vec::new(), 0);
    let (mut open, mut nothing) = (0, 0);
    for row in &table.rows {
        match sheets.sheet(&table, row) {
            Became::Sheet { name, text, left, silent } => {
                texts.push((name, text));
                open += left.len();
                left.iter().for_each(|why| session.terminal.warn(&format!("line {}, left open: {why}", row.line)));
                silent.iter().for_each(|what| session.terminal.say(&format!("line {}, not taken: {what}", row.line)));
            }
            Became::Nothing(what) => {
                nothing += 1;
                session.terminal.say(&format!("line {} is not a sheet: {what}", row.line));
            }
            Became::Refused(why) => {
                refused += 1;
                session.terminal.warn(&format!("line {} not taken: {why}", row.line));
            }
        }
    }
    let (written, files) = match asked.output {
        Some(folder) if folder.is_dir() || folder.extension().is_none() && !folder.exists() => {
            let files = into_folder(session, folder, &texts, &mut refused);
            (files.len(), files)
        }
        Some(file) => (into_file(file, &texts)?, vec![file.display().to_string()]),
        None => {
            session.terminal.print(&joined(&texts));
            (texts.len(), Vec::new())
        }
    };
    let ignored: Vec<&str> =
        table.heads.iter().map(String::as_str).filter(|head| !column::is_used(&columns, head)).collect();
    if !ignored.is_empty() {
        session.terminal.warn(&format!("columns not read: {}", column::list(&ignored, "")));
    }
    let mut summary = format!(
        "{} read, {} written{}, {} not taken",
        counted(table.rows.len(), "row"),
        counted(written, "sheet"),
        named(&files),
        counted(refused, "row")
    );
    if nothing > 0 {
        summary.push_str(&format!(", {nothing} not sheets"));
    }
    if open > 0 {
        summary.push_str(&format!("; {} left open, as `?` with what the table has", counted(open, "cell")));
    }
    session.terminal.say(&summary);
    if asked.kind == Kind::Record && asked.output.is_some() {
        bind(session, &texts)?;
        verdicts(session, &texts)?;
    }
    Ok(if refused + open == 0 { Exit::Clean } else { Exit::Findings })
}

/// Writes into each record what it was run by, where its day allows no doubt: what becomes of the sheet later does not move
/// it.
fn bind(session: &mut Session, texts: &[(String, String)]) -> Result<(), Failure> {
    let books = find::books(session)?;
    let (mut edits, mut unbound): (BTreeMap<PathBuf, (&str, Vec<Edit>)>, usize) = (BTreeMap::new(), 0);
    for loaded in &books {
        let computing = Computing::without_explanations(&loaded.book);
        let records = texts.iter().filter_map(|(name, _)| loaded.book.find(Kind::Record, name).ok());
        for record in records {
            let own = check::edits_that_bind(&computing, record);
            let is_bound = matches!(
                computing.item(record),
                Computed::Record(results) if results.bound_to().is_some() || results.runs.is_empty()
            );
            unbound += usize::from(own.is_empty() && !is_bound);
            let text = &*loaded.book.file(record.file).text;
            edits.entry(loaded.path(record.file).to_owned()).or_insert((text, Vec::new())).1.extend(own);
        }
    }
    for (path, (text, own)) in edits.into_iter().filter(|(_, (_, own))| !own.is_empty()) {
        let new = text::apply(text, &own).map_err(|_| Failure::new("two edits of a record meet"))?;
        let new = format::format(&new).unwrap_or(new);
        write::replace(&path, text, &new)
            .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", path.display())))?;
    }
    if unbound > 0 {
        let what = counted(unbound, Kind::Record.words());
        session.terminal.say(&format!("{what} not bound to what the rotor was run by: `rotorbook check` says which"));
    }
    Ok(())
}

const NOT_TO_BE_USED: &str = "not to be used";

/// How many of the records that were written come to each verdict.
fn verdicts(session: &mut Session, texts: &[(String, String)]) -> Result<(), Failure> {
    let books = find::books(session)?;
    let mut counts: Vec<(&str, usize)> = Vec::new();
    let computings: Vec<Computing<'_>> = books.iter().map(|loaded| Computing::for_judging(&loaded.book)).collect();
    for (name, _) in texts {
        let found = computings.iter().find_map(|one| Some((one, one.book().find(Kind::Record, name).ok()?)));
        let Some((computing, id)) = found else { continue };
        let computed = computing.item(id);
        let Computed::Record(record) = &computed else { continue };
        let standing = card::standing_once_committed(computing, &computed, id);
        let word = match &record.verdict {
            _ if standing.is_some_and(|standing| standing.word() == BARRED) => NOT_TO_BE_USED,
            Some(verdict) => book::word_of(verdict.verdict),
            None => "without a verdict",
        };
        match counts.iter_mut().find(|(own, _)| *own == word) {
            Some((_, count)) => *count += 1,
            None => counts.push((word, 1)),
        }
    }
    let is_barred = counts.iter().any(|(word, _)| *word == NOT_TO_BE_USED);
    let counts: Vec<String> = counts.iter().map(|(word, count)| format!("{count} {word}")).collect();
    if !counts.is_empty() {
        let why = if is_barred { "; `rotorbook check` says what bars them" } else { "" };
        session.terminal.say(&format!("verdicts: {}{why}", counts.join(", ")));
    }
    Ok(())
}

fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// The files that were written, the first of many.
fn named(files: &[String]) -> String {
    const NAMED: usize = 10;
    let first = files.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
    match files.len() {
        0 => String::new(),
        count if count > NAMED => format!(" ({first} and {} more)", count - NAMED),
        _ => format!(" ({first})"),
    }
}

fn joined(texts: &[(String, String)]) -> String {
    texts.iter().map(|(_, text)| text.as_str()).collect::<Vec<_>>().join("\n")
}

fn into_file(file: &Path, texts: &[(String, String)]) -> Result<usize, Failure> {
    if !crate::disk::is_rotor(file) {
        return Err(Failure::new(format!("`{}` is neither a folder nor a `.rotor` file", file.display()))
            .help("end the name of a file with .rotor"));
    }
    write::create(file, &joined(texts))
        .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", file.display())))?;
    Ok(texts.len())
}

/// A file a sheet, named after it; none that is there already is replaced.
fn into_folder(session: &mut Session, folder: &Path, texts: &[(String, String)], refused: &mut usize) -> Vec<String> {
    let mut written = Vec::new();
    let mut taken = BTreeSet::new();
    for (name, text) in texts {
        let own = file_name(name);
        let free = |name: &String| !taken.contains(name);
        let numbered = (2..).map(|n| format!("{own}-{n}")).find(free).filter(|_| !free(&own));
        let path: PathBuf = folder.join(format!("{}.rotor", numbered.as_deref().unwrap_or(&own)));
        let why = match (&numbered, own == plain_file_name(name)) {
            (Some(_), _) => Some("another row has that name for a file"),
            (None, false) => Some("a file of its own name would be the book's, or no file on Windows"),
            (None, true) => None,
        };
        if let Some(why) = why {
            session.terminal.warn(&format!("\"{}\" is written to `{}`: {why}", harmless(name), path.display()));
        }
        taken.insert(numbered.unwrap_or(own));
        match write::create(&path, text) {
            Ok(()) => written.push(path.display().to_string()),
            Err(why) => {
                *refused += 1;
                session.terminal.warn(&format!("\"{}\" not written: `{}`: {why}", harmless(name), path.display()));
            }
        }
    }
    written
}
