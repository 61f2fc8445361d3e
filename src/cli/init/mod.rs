//! `init`: a folder becomes a book, and its repository learns about sheets.

mod attributes;
mod hook;
mod workflow;

use std::fs;
use std::path::{Path, PathBuf};

use clap::Args;

use super::new::starting_sheet;
use super::terminal::Terminal;
use super::{Exit, Failure, Outcome, Session, paths, write};
use crate::disk::{self, BOOK, book_above, reason};
use crate::git::{GitError, Repository};
use crate::syntax::Kind;
use workflow::Forge;

/// Make a folder a book, or add git support to an existing one
///
/// Writes `book.rotor` and `.gitattributes` into the folder, and with --ci a workflow that checks each merge request and the main
/// branch into the top of the repository. What belongs to one clone alone is set up too: the heading of each piece of `git diff`, the merging of
/// sheets by what they say, and hooks that check what a commit or a merge adds. A fresh clone does not have that; there, `init --git` sets it up and writes no sheet. A file that
/// is there already is left as it is.
#[derive(Args)]
#[command(
    after_help = "Examples:\n  rotorbook init --name \"Tern Quay Rotor Shop\" --ci gitlab\n  rotorbook init --git"
)]
pub(super) struct InitArguments {
    /// The folder of the book; the current one when none is named
    #[arg(value_name = "DIR")]
    folder: Option<PathBuf>,

    /// The name of the shop, for a new book
    #[arg(long)]
    name: Option<String>,

    /// Only what belongs to this clone: the settings of `git diff` and `git merge`, and the hooks
    #[arg(long)]
    git: bool,

    /// Write the workflow of a forge, which checks each merge request and the main branch
    #[arg(long, value_enum, value_name = "FORGE", default_value_t = Forge::None)]
    ci: Forge,

    /// What the workflow installs the program from: a wheel, or the address of a program or an archive of it
    #[arg(long, value_name = "WHEEL|ADDRESS")]
    program: Option<String>,

    /// Let the workflow of GitHub upload what was found for code scanning too, which not every repository has
    #[arg(long)]
    sarif: bool,

    /// Leave out the hooks
    #[arg(long)]
    no_hook: bool,

    /// Replace hooks, a workflow or a setting that is there already
    #[arg(long)]
    overwrite: bool,
}

/// What became of one thing to be written.
enum Done {
    Written(String),
    /// It is there and says what is wanted.
    There(String),
    /// What is still to be done, and is nothing to stop at.
    Told(&'static str),
    /// It is there and says something else.
    Left {
        what: String,
        help: String,
    },
}

pub(super) fn run(session: &mut Session, arguments: &InitArguments) -> Outcome {
    let folder = folder(session, arguments)?;
    let repository = match Repository::around(&folder) {
        Ok(repository) if repository.work_tree().is_some() => Ok(repository),
        Ok(_) => Err(GitError::Refused("a bare repository has no sheets to edit".to_owned())),
        Err(error) => Err(error),
    };
    let mut done = Vec::new();
    if !arguments.git {
        done.push(book(&folder, arguments)?);
        done.push(attributes::write(&folder)?);
    }
    match &repository {
        Ok(repository) => in_repository(repository, arguments, &mut done)?,
        Err(error) if arguments.git => return Err(Failure::new(error.message())),
        Err(error) => {
            let help = "once there is a repository, `rotorbook init` again adds hook, setting and workflow";
            done.push(Done::Left { what: error.message(), help: help.to_owned() });
        }
    }
    Ok(tell(&mut session.terminal, &done))
}

fn in_repository(repository: &Repository, arguments: &InitArguments, done: &mut Vec<Done>) -> Result<(), Failure> {
    done.extend(attributes::set_drivers(repository, arguments.overwrite)?);
    if !arguments.no_hook {
        done.extend(hook::write(repository, arguments.overwrite)?);
    }
    if !arguments.git {
        let InitArguments { ci, program, sarif, overwrite, .. } = arguments;
        let written = workflow::write(repository, *ci, program.as_deref(), *sarif, *overwrite)?;
        let is_open = program.is_none() && matches!(written, Some(Done::Written(_) | Done::There(_)));
        done.extend(written);
        if is_open {
            done.push(Done::Told(
                "the workflow will fail until ROTORBOOK in it names the wheel or address to install the program from",
            ));
        }
    }
    Ok(())
}

/// The folder of the book: the one named, else the book around the current folder, else the current folder.
fn folder(session: &Session, arguments: &InitArguments) -> Result<PathBuf, Failure> {
    let named = arguments.folder.as_deref().or(session.book.as_deref());
    let folder = named.unwrap_or(Path::new("."));
    if !folder.exists() && !arguments.git {
        fs::create_dir_all(folder).map_err(|error| cannot(folder, "made", &reason(&error)))?;
    }
    let real = folder.canonicalize().map_err(|error| cannot(folder, "opened", &reason(&error)))?;
    if !real.is_dir() {
        return Err(Failure::new(format!("`{}` is not a folder", folder.display())));
    }
    match named {
        Some(_) => Ok(real),
        None => Ok(book_above(&real).unwrap_or(real)),
    }
}

fn cannot(path: &Path, what: &str, why: &str) -> Failure {
    Failure::new(format!("`{}` cannot be {what}: {why}", path.display()))
}

fn book(folder: &Path, arguments: &InitArguments) -> Result<Done, Failure> {
    let path = folder.join(BOOK);
    if path.symlink_metadata().is_ok() {
        return Ok(Done::There(paths::shown(&path)));
    }
    let own = folder.file_name().map(|name| name.to_string_lossy().into_owned());
    let name = arguments.name.clone().or(own).unwrap_or_else(|| "our shop".to_owned());
    let text = starting_sheet(Kind::Shop, &name)?;
    write::create(&path, &text).map_err(|why| cannot(&path, "written", &why))?;
    Ok(Done::Written(paths::shown(&path)))
}

/// Writes a file that is not there, or one that may be replaced; one that git runs may be run.
fn write_whole(path: &Path, text: &str, runs: bool, overwrite: bool, otherwise: &str) -> Result<Done, Failure> {
    let shown = paths::shown(path);
    match disk::text_if_there(path).map_err(|why| cannot(path, "read", &why))? {
        Some(there) if there == text => return Ok(Done::There(shown)),
        Some(_) if !overwrite => {
            let what = format!("{shown} is there already, and is left as it is");
            return Ok(Done::Left { what, help: otherwise.to_owned() });
        }
        _ => {}
    }
    let written = if runs { write::script(path, text) } else { write::output(path, text.as_bytes()) };
    written.map_err(|why| cannot(path, "written", &why))?;
    Ok(Done::Written(shown))
}

fn tell(terminal: &mut Terminal, done: &[Done]) -> Exit {
    let mut exit = Exit::Clean;
    for one in done {
        match one {
            Done::Written(what) => terminal.say(&format!("{what} written")),
            Done::There(what) => terminal.say(&format!("{what} is in order")),
            Done::Told(what) => terminal.say(what),
            Done::Left { what, help } => {
                exit = Exit::Findings;
                terminal.warn(what);
                let word = terminal.messages.cyan("help:");
                terminal.say_behind(&format!("  {word}"), help);
            }
        }
    }
    exit
}
