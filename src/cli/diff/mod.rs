//! `diff`: two versions of a book, compared by meaning.

mod alike;
mod cards;
mod html;
pub(super) mod human;
pub(super) mod json;
pub(super) mod lines;
mod markdown;

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::restored::Earlier;
use super::versions::{Ground, Version, warn_of_files, warn_of_parts};
use super::{Exit, Failure, Outcome, Session, write};
use crate::diff::{BookDiff, compare_and_judge};

/// Compare two versions of a book by meaning: changed facts, and the results that moved because of them
///
/// A version is a git revision, a folder, or REVISION:FOLDER for a book that lies elsewhere in the repository. With no version named, the work tree is compared with HEAD; with one, with it; OLD..NEW compares two revisions, and
/// OLD...NEW the second with the last commit that both have in common. A change of unit, order, layout or file alone does not count.
/// What a reviewer must not miss comes first.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  rotorbook diff\n  rotorbook diff main...HEAD --format markdown --pictures changes.html\n  \
    rotorbook diff --exit-code ../shop-2025 ../shop-2026"
)]
pub(super) struct DiffArguments {
    /// The version to compare with; HEAD when none is named
    #[arg(value_name = "OLD")]
    old: Option<String>,

    /// The version that is compared; the work tree when none is named
    #[arg(value_name = "NEW", conflicts_with = "staged")]
    new: Option<String>,

    /// Compare what is staged for the next commit instead of the work tree
    #[arg(long)]
    staged: bool,

    /// How to write it; markdown is ready to be posted in a merge request
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,

    /// Write the page of `--format html` to this file as well; markdown links to it
    #[arg(long, value_name = "FILE")]
    pictures: Option<PathBuf>,

    /// Where people will find the file of --pictures, if that differs from where it is written
    #[arg(long, value_name = "ADDRESS", requires = "pictures")]
    pictures_at: Option<String>,

    /// Write every result that moved; without it, at most 12 items for each cause, and 8 results of each
    #[arg(long)]
    all: bool,

    /// Exit with 1 when anything changed
    #[arg(long)]
    exit_code: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, ValueEnum)]
enum Format {
    /// For people, at a terminal
    Human,
    /// For a merge request
    Markdown,
    /// The cards before and after, side by side, in one self-contained page
    Html,
    /// For programs
    Json,
}

/// What was compared, as it is written out.
pub(super) struct Compared {
    /// Both versions as people read them.
    pub labels: (String, String),
    pub diff: BookDiff,
    /// Whether everything is written out.
    pub all: bool,
    /// Where the pictures are to be found, if there are any.
    pub pictures: Option<String>,
    /// Whether part of a version could not be read, so that nobody knows whether it has changed.
    pub unread: bool,
}

impl Compared {
    /// `2 items changed, 14 results moved`; never that nothing changed where not all was seen.
    pub fn summary(&self) -> String {
        match self.unread {
            true if self.diff.is_empty() => "no change in what could be read, and not all could".to_owned(),
            true => format!("{}, in what could be read", lines::summary(&self.diff)),
            false => lines::summary(&self.diff),
        }
    }
}

pub(super) fn run(session: &mut Session, arguments: &DiffArguments) -> Outcome {
    let ground = Ground::of(session)?;
    let (old, new) = versions(&ground, arguments)?;
    let terminal = &mut session.terminal;
    let (before, after) = ground.load(&old, &new, terminal)?;
    if before.count_files() == 0 && after.count_files() == 0 {
        return Err(Failure::new("neither version has a `.rotor` file").help("name the folder of a book with --book"));
    }
    let labels = (ground.label(&old), ground.label(&new));
    warn_of_parts(terminal, &old, &before);
    warn_of_parts(terminal, &new, &after);
    warn_of_files(terminal, &labels.0, &before);
    warn_of_files(terminal, &labels.1, &after);
    let unread = before.has_unread_files() || after.has_unread_files();
    let mut diff = compare_and_judge(&before, &after);
    Earlier::than(&ground, &old).take_out_of_diff(&after, &mut diff);
    let file = arguments.pictures.as_deref();
    let pictures = arguments.pictures_at.clone().or(file.map(super::paths::shown));
    let compared = Compared { labels, diff, all: arguments.all, pictures, unread };
    let page = (file.is_some() || arguments.format == Format::Html).then(|| html::page((&before, &after), &compared));
    before.finish();
    after.finish();
    if let (Some(file), Some(page)) = (file, &page) {
        write::output(file, page.as_bytes())
            .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", file.display())))?;
    }
    match arguments.format {
        Format::Human => human::write(terminal, &compared),
        Format::Markdown => terminal.print(&markdown::document(&compared)),
        Format::Html => terminal.print(&page.unwrap_or_default()),
        Format::Json => terminal.json(&json::document((&named(&old), &named(&new)), &compared)),
    }
    // With --exit-code, what could not be read may well have changed.
    let found = unread || !compared.diff.is_empty();
    Ok(if arguments.exit_code && found { Exit::Findings } else { Exit::Clean })
}

/// A version as programs want it: a commit in full.
fn named(version: &Version) -> String {
    match version {
        Version::Folder { root, .. } => super::paths::shown(root),
        Version::WorkTree(_) => "work tree".to_owned(),
        Version::Staged => "staged".to_owned(),
        Version::Commit { commit, .. } => commit.clone(),
    }
}

fn versions(ground: &Ground, arguments: &DiffArguments) -> Result<(Version, Version), Failure> {
    let new = match (&arguments.new, arguments.staged) {
        (Some(new), _) => Some(ground.version(new)?),
        (None, true) => Some(ground.staged()?),
        (None, false) => None,
    };
    let here = || match ground.repository() {
        Ok(repository) if repository.work_tree().is_none() => {
            Err(Failure::new("a bare repository has no work tree to compare").help("name two revisions: `OLD..NEW`"))
        }
        _ => Ok(Version::WorkTree(ground.root()?.to_owned())),
    };
    let Some(old) = &arguments.old else {
        ground.repository()?;
        return Ok((ground.version("HEAD")?, new.map_or_else(here, Ok)?));
    };
    if let (None, Some((from, to))) = (&new, range(old)) {
        return match to.strip_prefix('.') {
            Some(to) => Ok((ground.merge_base(from, or_head(to))?, ground.version(or_head(to))?)),
            None => Ok((ground.version(or_head(from))?, ground.version(or_head(to))?)),
        };
    }
    Ok((ground.version(old)?, new.map_or_else(here, Ok)?))
}

/// The two sides of `OLD..NEW`; a folder is none, whatever dots it is written with.
fn range(text: &str) -> Option<(&str, &str)> {
    if std::path::Path::new(text).is_dir() {
        return None;
    }
    let (from, to) = text.split_once("..")?;
    // `../folder` is a folder, though it is not there.
    (!to.starts_with('/')).then_some((or_head(from), to))
}

fn or_head(text: &str) -> &str {
    if text.is_empty() { "HEAD" } else { text }
}
