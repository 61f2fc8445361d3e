//! The questions that the page asks of the sheets it holds.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, FileId, ItemId, SourceFile};
use rotorbook::card::{self, Fonts, Paper, Printed, Sides};
use rotorbook::check::{self, Diagnostic, FileEdit};
use rotorbook::diff;
use rotorbook::ide::{self, Consequences, HintsShown, TokenKind};
use rotorbook::syntax::Kind;
use rotorbook::text::{Edit, Span};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use crate::places::{Places, Range};

#[derive(Deserialize)]
pub struct Sheet {
    path: String,
    text: String,
}

/// Places are UTF-16 units from the beginning of the text at `path`.
#[derive(Deserialize)]
#[serde(tag = "ask", rename_all = "lowercase")]
pub enum Question {
    /// The sheets as they were opened, with which they are compared.
    Opened {
        sheets: Vec<Sheet>,
    },
    /// All sheets as they are now. They are only read, so that completion and hover can ask at every key.
    Sheets {
        sheets: Vec<Sheet>,
    },
    /// What a check says of them, and what has moved since they were opened.
    Judge,
    Completions {
        path: String,
        at: usize,
    },
    Hover {
        path: String,
        at: usize,
    },
    /// What can be done where the cursor is.
    Actions {
        path: String,
        at: usize,
    },
    Definition {
        path: String,
        at: usize,
    },
    /// Hints and colours of a whole sheet.
    Dress {
        path: String,
    },
    Results {
        path: String,
        at: usize,
    },
    Moved {
        path: String,
        at: usize,
    },
    /// `today` as `2026-11-30`.
    Card {
        path: String,
        at: usize,
        today: String,
    },
    Format {
        path: String,
    },
    Page {
        code: String,
    },
    /// What sheets can be begun.
    Starts,
    /// A new sheet: one of the starts by its place in the list.
    Begin {
        start: usize,
        name: String,
    },
}

#[derive(Serialize)]
struct Change {
    path: String,
    #[serde(flatten)]
    range: Range,
    text: String,
}

/// The sheets of the page and what was said of them last.
#[derive(Default)]
pub struct Desk {
    book: Book,
    opened: Book,
    said: Vec<Diagnostic>,
    moved: Option<Consequences>,
}

impl Desk {
    pub fn answer(&mut self, question: Question) -> Value {
        match question {
            Question::Opened { sheets } => {
                self.opened = self.read(sheets);
                Value::Null
            }
            Question::Sheets { sheets } => {
                self.book = self.read(sheets);
                Value::Null
            }
            Question::Judge => self.judge(),
            Question::Completions { path, at } => self.at(&path, at, Self::completions),
            Question::Hover { path, at } => self.at(&path, at, Self::hover),
            Question::Actions { path, at } => self.at(&path, at, Self::actions),
            Question::Definition { path, at } => self.at(&path, at, Self::definition),
            Question::Dress { path } => self.at(&path, 0, |desk, file, _| desk.dress(file)),
            Question::Results { path, at } => {
                self.at(&path, at, |desk, file, offset| json!(ide::show(&Computing::new(&desk.book), file, offset)))
            }
            Question::Moved { path, at } => self.at(&path, at, |desk, file, offset| {
                let moved = desk.moved.as_ref();
                json!(moved.and_then(|moved| ide::consequences(&desk.book, file, offset, moved)))
            }),
            Question::Card { path, at, today } => {
                self.at(&path, at, |desk, file, offset| json!(desk.card(file, offset, today)))
            }
            Question::Format { path } => {
                self.at(&path, 0, |desk, file, _| json!(desk.changes(file, &ide::format(desk.book.file(file)))))
            }
            Question::Page { code } => json!(ide::page(&code)),
            Question::Starts => json!(ide::starts(&self.book).map(|start| start.words()).collect::<Vec<_>>()),
            Question::Begin { start, name } => self.begin(start, &name),
        }
    }

    fn read(&self, sheets: Vec<Sheet>) -> Book {
        Book::new(sheets.into_iter().map(|sheet| self.kept(sheet)).collect())
    }

    fn judge(&mut self) -> Value {
        self.said = check::check(&self.book);
        let diff = diff::compare_and_judge(&self.opened, &self.book);
        self.moved = Some(Consequences { since: "it was opened".to_owned(), diff, mended: Vec::new() });
        json!(self.said.iter().map(|said| self.diagnostic(said)).collect::<Vec<_>>())
    }

    /// The sheet as it was read last, where its text is the same.
    fn kept(&self, sheet: Sheet) -> Arc<SourceFile> {
        let same = self.book.file_at(&sheet.path).map(|id| self.book.shared_file(id));
        match same.filter(|file| *file.text == *sheet.text) {
            Some(file) => file.clone(),
            None => Arc::new(SourceFile::read(sheet.path, sheet.text)),
        }
    }

    fn at(&self, path: &str, unit: usize, answer: impl FnOnce(&Self, FileId, u32) -> Value) -> Value {
        match self.book.file_at(path) {
            Some(file) => answer(self, file, self.places(file).byte(unit)),
            None => Value::Null,
        }
    }

    fn places(&self, file: FileId) -> Places<'_> {
        Places::of(&self.book.file(file).text)
    }

    fn range(&self, file: FileId, span: Span) -> Range {
        self.places(file).range(span)
    }

    fn change(&self, file: FileId, edit: &Edit) -> Change {
        let path = self.book.file(file).path.to_string();
        Change { path, range: self.range(file, edit.span), text: edit.text.clone() }
    }

    fn changes(&self, file: FileId, edits: &[Edit]) -> Vec<Change> {
        edits.iter().map(|edit| self.change(file, edit)).collect()
    }

    fn changes_in_book(&self, edits: &[FileEdit]) -> Vec<Change> {
        edits.iter().map(|edit| self.change(edit.file, &edit.edit)).collect()
    }

    fn diagnostic(&self, said: &Diagnostic) -> Value {
        let fixes = said.fixes.iter();
        let fixes = fixes.map(|fix| json!({ "title": fix.title, "edits": self.changes_in_book(&fix.edits) }));
        let range = self.range(said.place.file, said.place.span);
        let message = match said.more {
            0 => said.message.clone(),
            more => format!("{} (and {more} more of this code)", said.message),
        };
        json!({
            "path": *self.book.file(said.place.file).path,
            "from": range.from,
            "to": range.to,
            "severity": said.severity.word(),
            "code": said.rule.code,
            "message": message,
            "help": said.help,
            "fixes": fixes.collect::<Vec<_>>(),
        })
    }

    fn completions(&self, file: FileId, offset: u32) -> Value {
        let found = ide::completions(&Computing::new(&self.book), file, offset);
        let each = found.into_iter().enumerate().map(|(n, found)| {
            let range = self.range(file, found.replace);
            json!({
                "label": found.label,
                "kind": format!("{:?}", found.kind).to_lowercase(),
                "detail": found.detail,
                "documentation": found.documentation,
                "from": range.from,
                "to": range.to,
                "text": found.text,
                "snippet": found.snippet,
                "order": [usize::from(found.rank), n],
                "again": found.goes_on,
            })
        });
        json!(each.collect::<Vec<_>>())
    }

    fn hover(&self, file: FileId, offset: u32) -> Value {
        let found = ide::hover(&Computing::new(&self.book), file, offset);
        json!(found.map(|hover| json!({ "range": self.range(file, hover.span), "markdown": hover.markdown })))
    }

    fn actions(&self, file: FileId, offset: u32) -> Value {
        let of_file: Vec<Diagnostic> = self.said.iter().filter(|said| said.place.file == file).cloned().collect();
        let found = ide::actions(&Computing::new(&self.book), file, Span::at(offset), &of_file);
        let each = found.iter().map(|found| {
            let edits = self.changes_in_book(&found.edits);
            json!({ "title": found.title, "edits": edits, "mends": found.diagnostic.is_some() })
        });
        json!(each.collect::<Vec<_>>())
    }

    fn definition(&self, file: FileId, offset: u32) -> Value {
        let target = ide::definition(&self.book, file, offset).and_then(|found| found.targets.into_iter().next());
        json!(target.map(|target| {
            let path = self.book.file(target.file).path.to_string();
            json!({ "path": path, "range": self.range(target.file, target.name) })
        }))
    }

    fn dress(&self, file: FileId) -> Value {
        let source = self.book.file(file);
        let whole = Span::new(0, source.text.len() as u32);
        let computing = Computing::new(&self.book);
        let mut hints = ide::hints(&computing, file, whole, HintsShown::All);
        let moved = self.moved.iter().flat_map(|moved| ide::consequence_hints(&self.book, file, moved, None));
        hints.extend(moved);
        let places = self.places(file);
        let hints = hints.iter().map(|hint| {
            let kind = format!("{:?}", hint.kind).to_lowercase();
            let edits = self.changes(file, &hint.edits);
            json!({ "at": places.unit(hint.at), "label": hint.label, "kind": kind, "tooltip": hint.tooltip, "edits": edits })
        });
        let tokens = ide::tokens(source, None).into_iter().map(
            |token| json!({ "range": places.range(token.span), "class": class(token.kind), "pinned": token.pinned }),
        );
        json!({ "hints": hints.collect::<Vec<_>>(), "tokens": tokens.collect::<Vec<_>>() })
    }

    fn begin(&self, start: usize, name: &str) -> Value {
        let Some(start) = ide::starts(&self.book).nth(start) else { return Value::Null };
        match ide::begin_named(&self.book, start, Some(name)) {
            Ok(begun) => json!({ "path": begun.path, "text": begun.text }),
            Err(fault) => json!({ "fault": fault }),
        }
    }

    /// The card of the rotor, setup or record nearest to an offset, as a document of its own.
    fn card(&self, file: FileId, offset: u32, today: String) -> Option<String> {
        let has_card = |kind: Kind| matches!(kind, Kind::Rotor | Kind::Setup | Kind::Record);
        let id: ItemId = ide::item_near(&self.book, file, offset, has_card)?;
        let state = "a page in a browser, whose texts are not committed".to_owned();
        let printed = Printed { on: today, state, committed: false, preview: true };
        let card = card::card(&Computing::new(&self.book), id, &self.said, &printed, Sides::Both)?;
        Some(card::html(&card.name.clone(), &[card], &printed, Paper::A4, &Fonts::default()))
    }
}

fn class(kind: TokenKind) -> &'static str {
    match kind {
        TokenKind::Kind => "kind",
        TokenKind::Key => "key",
        TokenKind::Name => "name",
        TokenKind::Number => "number",
        TokenKind::Unit => "unit",
        TokenKind::Operator => "operator",
        TokenKind::Choice => "choice",
        TokenKind::Text => "text",
        TokenKind::Comment => "comment",
    }
}
