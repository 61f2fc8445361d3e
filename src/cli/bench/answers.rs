//! Where answers come from: somebody at the terminal, the command line, a file, or standard input.

use std::collections::VecDeque;
use std::io::{self, BufRead, BufReader, IsTerminal};
use std::path::PathBuf;

use clap::Args;
use dialoguer::Input;
use dialoguer::theme::SimpleTheme;

use crate::asking::{self, Question};
use crate::cli::terminal::harmless;
use crate::cli::{Failure, Session};
use crate::disk::{self, reason};
use crate::vocabulary::record;

#[derive(Args)]
pub(super) struct AnswerArguments {
    /// An answer, in the order of the questions; may be given several times
    #[arg(short, long = "answer", value_name = "TEXT", help_heading = "Options for scripts")]
    answers: Vec<String>,

    /// A file with one answer per line, `-` for standard input; text after `#` is ignored. A line may name its question, as
    /// the sheet does: `reading left: 8.8 @ 310`; it is refused if another question is asked
    #[arg(long = "answers", value_name = "FILE", help_heading = "Options for scripts")]
    file: Option<PathBuf>,
}

pub(super) struct Answers {
    given: VecDeque<String>,
    lines: Option<Box<dyn BufRead>>,
    asks_a_person: bool,
    /// The serial number, where it was given with the command; it answers nothing else, whenever that is asked.
    serial: Option<String>,
}

impl Answers {
    pub fn of(arguments: &AnswerArguments) -> Result<Self, Failure> {
        let mut given: VecDeque<String> = arguments.answers.iter().cloned().collect();
        let mut lines: Option<Box<dyn BufRead>> = None;
        let stated = !given.is_empty() || arguments.file.is_some();
        match &arguments.file {
            Some(path) if path.as_os_str() != "-" => {
                let cannot = |why: String| Failure::new(format!("`{}` cannot be read: {why}", path.display()));
                let bytes = disk::bytes(path).map_err(cannot)?;
                given.extend(String::from_utf8_lossy(&bytes).lines().map(str::to_owned));
            }
            Some(_) => lines = Some(Box::new(BufReader::new(io::stdin()))),
            None if !stated && !io::stdin().is_terminal() => lines = Some(Box::new(BufReader::new(io::stdin()))),
            None => {}
        }
        let asks_a_person = lines.is_none() && !stated;
        Ok(Self { given, lines, asks_a_person, serial: None })
    }

    pub fn with_serial(self, serial: Option<&str>) -> Self {
        Self { serial: serial.map(str::to_owned), ..self }
    }

    /// The answer to a question; `None` when there are no more.
    pub fn ask(&mut self, session: &mut Session, question: &Question<'_>) -> Result<Option<String>, Failure> {
        let or_none = if question.may_be_left_out() { "; `-` leaves it out" } else { "" };
        let prompt = harmless(&match &question.usual {
            Some(usual) if question.is_one_of() => {
                format!("{} ({}) [{usual}{or_none}]", question.asks, question.example)
            }
            Some(usual) => format!("{} [{usual}{or_none}]", question.asks),
            None if question.is_one_of() => format!("{} ({}{or_none})", question.asks, question.example),
            None => format!("{} (e.g. {}{or_none})", question.asks, question.example),
        });
        if let Some(serial) = self.serial.take_if(|_| question.head == record::SERIAL.words()) {
            session.terminal.show(&format!("{prompt}: {}", harmless(&serial)));
            return Ok(Some(serial));
        }
        if self.asks_a_person && self.given.is_empty() {
            let typed = Input::<String>::with_theme(&SimpleTheme).with_prompt(prompt).allow_empty(true).interact_text();
            return match typed {
                Ok(answer) => Ok(Some(answer)),
                Err(dialoguer::Error::IO(error)) if error.kind() == io::ErrorKind::Interrupted => Ok(None),
                Err(error) => Err(Failure::new(format!("the terminal cannot be asked: {error}"))),
            };
        }
        let answer = self.next()?.map(|answer| unnamed(question, answer)).transpose()?;
        if let Some(answer) = &answer {
            session.terminal.show(&format!("{prompt}: {}", harmless(answer)));
        }
        Ok(answer)
    }

    fn next(&mut self) -> Result<Option<String>, Failure> {
        loop {
            let line = match (self.given.pop_front(), &mut self.lines) {
                (Some(line), _) => line,
                (None, None) => return Ok(None),
                (None, Some(lines)) => {
                    let mut line = String::new();
                    let read = lines.read_line(&mut line);
                    if read.map_err(|error| Failure::new(format!("no answer can be read: {}", reason(&error))))? == 0 {
                        return Ok(None);
                    }
                    line
                }
            };
            let answer = line.split('#').next().unwrap_or_default().trim();
            // A line that is a remark alone answers nothing.
            if !answer.is_empty() || !line.contains('#') {
                return Ok(Some(answer.to_owned()));
            }
        }
    }
}

/// The answer without the name of what it answers; refused where that is not what is asked.
fn unnamed(question: &Question<'_>, answer: String) -> Result<String, Failure> {
    let Some((head, rest)) = answer.split_once(':') else { return Ok(answer) };
    let head = head.trim();
    if !head.is_empty() && head == question.head {
        return Ok(rest.trim().to_owned());
    }
    if !asking::is_head(head) {
        return Ok(answer);
    }
    let asked = if question.head.is_empty() { &question.asks } else { &question.head };
    Err(Failure::new(format!("the next answer is of `{}`, but what is asked is: {}", harmless(head), harmless(asked)))
        .help("put the answers in the order of the questions, or leave the line out"))
}
