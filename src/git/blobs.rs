//! The bytes of objects, read through one process however many they are.

use std::io::{self, BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Stdio};
use std::thread;

use super::command::{GitError, not_started};
use super::repository::Repository;
use crate::disk::reason;
use crate::limits::FILE_BYTES;

/// A process that answers with bytes for the names of objects.
pub struct Blobs {
    process: Child,
    asks: Option<ChildStdin>,
    answers: BufReader<ChildStdout>,
}

/// The bytes of an object, or why there are none.
pub type Bytes = Result<Vec<u8>, String>;

impl Blobs {
    pub fn of(repository: &Repository) -> Result<Self, GitError> {
        let mut command = repository.git();
        command.args(["cat-file", "--batch"]).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut process = command.spawn().map_err(not_started)?;
        let asks = process.stdin.take();
        let Some(answers) = process.stdout.take() else {
            return Err(GitError::Refused("nothing".to_owned()));
        };
        Ok(Self { process, asks, answers: BufReader::with_capacity(1 << 16, answers) })
    }

    /// The bytes of one object.
    pub fn read(&mut self, object: &str) -> Bytes {
        let asked = self.asks.as_mut().map(|asks| writeln!(asks, "{object}").and_then(|()| asks.flush()));
        match asked {
            Some(Ok(())) => self.answer(),
            _ => Err("git no longer answers".to_owned()),
        }
    }

    /// The bytes of all objects, in their order. Ends the process.
    pub fn read_all(mut self, objects: &[&str]) -> Vec<Bytes> {
        let asks = self.asks.take();
        thread::scope(|scope| {
            // Asking and reading at once: either side's pipe may be full.
            scope.spawn(move || {
                let Some(mut asks) = asks else { return };
                for object in objects {
                    if writeln!(asks, "{object}").is_err() {
                        break;
                    }
                }
            });
            objects.iter().map(|_| self.answer()).collect()
        })
    }

    fn answer(&mut self) -> Bytes {
        let mut head = String::new();
        let failed = |error: std::io::Error| reason(&error);
        self.answers.read_line(&mut head).map_err(failed)?;
        let size = head.trim_end().rsplit_once(' ').and_then(|(_, size)| size.parse::<u64>().ok());
        let Some(size) = size else {
            return Err("git does not have it here".to_owned());
        };
        let content = content(&mut self.answers, size).map_err(failed)?;
        let mut end = [0];
        self.answers.read_exact(&mut end).map_err(failed)?;
        content.ok_or_else(|| format!("it has more than {} MiB, too much for a sheet", FILE_BYTES / (1024 * 1024)))
    }
}

/// The next bytes; `None` where they are too many for a sheet, which are passed over without being kept.
fn content(answers: &mut impl Read, size: u64) -> io::Result<Option<Vec<u8>>> {
    let mut content = answers.take(size);
    if size > FILE_BYTES {
        io::copy(&mut content, &mut io::sink())?;
        return Ok(None);
    }
    let mut bytes = Vec::with_capacity(size as usize);
    content.read_to_end(&mut bytes)?;
    Ok(Some(bytes))
}

impl Drop for Blobs {
    fn drop(&mut self) {
        // It ends when nobody asks any longer; what becomes of it is of no more interest.
        self.asks = None;
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_too_much_for_a_sheet_is_passed_over() {
        let mut zeros = io::repeat(0).take(FILE_BYTES + 1).chain(&b"next"[..]);
        assert!(content(&mut zeros, FILE_BYTES + 1).unwrap().is_none());
        assert_eq!(content(&mut zeros, 4).unwrap().unwrap(), b"next");
    }
}
