//! Long output on a terminal goes through a pager: what PAGER names, else `less`.

use std::io::{self, IsTerminal};
use std::process::{Child, ChildStdin, Command, Stdio};

/// The names by which a person says that nothing is to be paged.
const NONE: [&str; 2] = ["", "cat"];

/// Starts the pager that this person wants; `None` where results go to no terminal, no pager is wanted, or it does not start.
pub(super) fn start() -> Option<(Child, ChildStdin)> {
    if !io::stdout().is_terminal() || !io::stdin().is_terminal() {
        return None;
    }
    let wanted = ["ROTORBOOK_PAGER", "PAGER"].into_iter().find_map(|name| std::env::var(name).ok());
    // A terminal that cannot move its cursor makes less complain.
    let usual = if std::env::var("TERM").is_ok_and(|term| term == "dumb") { "" } else { "less" };
    let wanted = wanted.unwrap_or_else(|| usual.to_owned());
    if NONE.contains(&wanted.trim()) {
        return None;
    }
    let mut command = by_shell(&wanted);
    // As git does it: less ends by itself where all fits on one screen, shows colours, and leaves the text on the screen.
    if std::env::var_os("LESS").is_none() {
        command.env("LESS", "FRX");
    }
    let mut child = command.stdin(Stdio::piped()).spawn().ok()?;
    let input = child.stdin.take()?;
    Some((child, input))
}

/// PAGER may hold arguments, which a shell takes apart.
#[cfg(unix)]
fn by_shell(wanted: &str) -> Command {
    let mut command = Command::new("sh");
    command.args(["-c", wanted]);
    command
}

#[cfg(not(unix))]
fn by_shell(wanted: &str) -> Command {
    let mut words = wanted.split_whitespace();
    let mut command = Command::new(words.next().unwrap_or_default());
    command.args(words);
    command
}
