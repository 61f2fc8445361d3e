//! Where results and messages go, and in which colours.

use std::io::{self, BufWriter, IsTerminal, Write};
use std::process::Child;

use clap::ColorChoice;
use clap::builder::styling::{AnsiColor, Style};

use super::{Exit, Failure, Outcome, pager};
pub(super) use crate::text::{harmless, is_harmful};

/// stdout for results, stderr for messages.
pub(super) struct Terminal {
    results: BufWriter<Box<dyn Write>>,
    /// What shows the results, with the messages that wait until it has ended.
    pager: Option<(Child, Vec<String>)>,
    /// Whether there is anything to flush: what serves an editor has standard output to itself and may hold it for ever.
    has_written: bool,
    /// Whoever read the results has gone, or they can be written nowhere; nothing more is written.
    broken: Option<io::Error>,
    /// How results are painted.
    pub paint: Paint,
    /// How messages are painted.
    pub messages: Paint,
    /// Whether only warnings and errors are said.
    quiet: bool,
}

impl Terminal {
    pub fn new(color: ColorChoice, quiet: bool) -> Self {
        let wanted = |is_terminal: bool| match color {
            ColorChoice::Always => true,
            ColorChoice::Never => false,
            ColorChoice::Auto => match () {
                () if anstyle_query::no_color() => false,
                () if anstyle_query::clicolor_force() => true,
                () if anstyle_query::clicolor() == Some(false) => false,
                () => is_terminal && anstyle_query::term_supports_color(),
            },
        };
        Self {
            results: BufWriter::new(Box::new(io::stdout())),
            pager: None,
            has_written: false,
            broken: None,
            paint: Paint(wanted(io::stdout().is_terminal())),
            messages: Paint(wanted(io::stderr().is_terminal())),
            quiet,
        }
    }

    /// Sends the results through a pager, where somebody sits at a terminal and wants one.
    pub fn page(&mut self) {
        if let Some((child, input)) = pager::start() {
            self.results = BufWriter::new(Box::new(input));
            self.pager = Some((child, Vec::new()));
        }
    }

    /// Whether nobody reads the results any more.
    pub fn is_broken(&self) -> bool {
        self.broken.is_some()
    }

    /// An empty screen for what follows; on paper, an empty line.
    pub fn clear(&mut self) {
        self.show(if io::stdout().is_terminal() { "\x1b[2J\x1b[H" } else { "" });
    }

    /// Writes a piece of the results as it stands.
    pub fn print(&mut self, text: &str) {
        self.print_bytes(text.as_bytes());
    }

    /// Writes what has been handed in, whatever it is.
    pub fn print_bytes(&mut self, bytes: &[u8]) {
        self.has_written = true;
        if self.broken.is_none() {
            self.broken = self.results.write_all(bytes).err();
        }
    }

    /// Writes one line of the results.
    pub fn line(&mut self, text: &str) {
        self.print(text);
        self.print("\n");
    }

    /// Writes one line of the results at once, for somebody who waits for it.
    pub fn show(&mut self, text: &str) {
        self.line(text);
        self.flush();
    }

    /// Writes a document for programs on a line of its own.
    pub fn json(&mut self, document: &impl serde::Serialize) {
        match serde_json::to_string(document) {
            Ok(text) => self.line(&text),
            Err(error) => self.broken = Some(error.into()),
        }
    }

    /// Writes one line of message. What has been written of the results comes before it. Whatever it repeats of names,
    /// paths and arguments, the terminal is not driven by it.
    pub fn say(&mut self, text: &str) {
        let text = harmless(text);
        self.say_in_colours(&text);
    }

    /// The same of a line that names nothing, and so may be painted.
    pub fn say_in_colours(&mut self, text: &str) {
        if !self.quiet {
            self.write_message(text);
        }
    }

    fn write_message(&mut self, text: &str) {
        if let Some((_, waiting)) = &mut self.pager {
            waiting.push(text.to_owned());
            return;
        }
        self.flush();
        // Nobody is left to tell when even this cannot be written.
        let _ = writeln!(io::stderr(), "{text}");
    }

    /// A line after a word in its colour.
    pub fn say_behind(&mut self, word: &str, text: &str) {
        let text = harmless(text);
        self.write_message(&format!("{word} {text}"));
    }

    pub fn warn(&mut self, text: &str) {
        let word = self.messages.yellow("warning:");
        self.say_behind(&word, text);
    }

    pub fn complain(&mut self, failure: &Failure) {
        let word = self.messages.red("error:");
        self.say_behind(&word, &failure.message);
        if let Some(help) = &failure.help {
            let word = self.messages.cyan("help:");
            self.say_behind(&format!("  {word}"), help);
        }
    }

    /// Writes what is left and says how the program ends. A reader that has had enough is no failure.
    pub fn finish(mut self, outcome: Outcome) -> Exit {
        let mut exit = match outcome {
            Ok(exit) => exit,
            Err(failure) => {
                self.complain(&failure);
                Exit::Misuse
            }
        };
        self.flush();
        self.end_pager();
        if let Some(error) = self.broken.take()
            && error.kind() != io::ErrorKind::BrokenPipe
        {
            self.complain(&Failure::new(format!("the results cannot be written: {}", crate::disk::reason(&error))));
            exit = Exit::Misuse;
        }
        exit
    }

    /// Waits until the pager has been left, then says what there was to say.
    fn end_pager(&mut self) {
        let Some((mut child, waiting)) = self.pager.take() else { return };
        self.results = BufWriter::new(Box::new(io::stdout()));
        // How a pager ends is its own affair.
        let _ = child.wait();
        waiting.iter().for_each(|text| self.write_message(text));
    }

    fn flush(&mut self) {
        if self.broken.is_none() && self.has_written {
            self.broken = self.results.flush().err();
        }
    }
}

/// Puts text in colours, or leaves it as it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Paint(pub bool);

impl Paint {
    pub fn bold(self, text: &str) -> String {
        self.with(Style::new().bold(), text)
    }

    pub fn dim(self, text: &str) -> String {
        self.with(Style::new().dimmed(), text)
    }

    pub fn red(self, text: &str) -> String {
        self.with(AnsiColor::Red.on_default().bold(), text)
    }

    pub fn yellow(self, text: &str) -> String {
        self.with(AnsiColor::Yellow.on_default().bold(), text)
    }

    pub fn green(self, text: &str) -> String {
        self.with(AnsiColor::Green.on_default(), text)
    }

    pub fn cyan(self, text: &str) -> String {
        self.with(AnsiColor::Cyan.on_default(), text)
    }

    fn with(self, style: Style, text: &str) -> String {
        if self.0 && !text.is_empty() { format!("{style}{text}{style:#}") } else { text.to_owned() }
    }
}
