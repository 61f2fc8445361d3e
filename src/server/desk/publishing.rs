//! Diagnostics on their way to the client.

use std::path::PathBuf;

use rustc_hash::FxHashMap;

use super::Desk;
use crate::book::FileId;
use crate::check;
use crate::limits::FINDINGS_FOR_PROGRAMS;
use crate::server::convert::{self, Elsewhere};
use crate::server::protocol::{self as lsp, PublishDiagnosticsParams, Url};
use crate::server::snapshot::{BookKey, FileView, View};
use crate::server::voice::{Say, Voice};

/// What the client has been told of each file.
#[derive(Default)]
pub(super) struct Published {
    files: FxHashMap<BookKey, FxHashMap<Box<str>, Told>>,
}

/// What it has been told of one file that is not clean or is open.
struct Told {
    url: Url,
    version: Option<i32>,
    items: Vec<lsp::Diagnostic>,
}

impl Published {
    /// Notes what is told of a file now; `false` when that is what the client knows.
    fn note(&mut self, key: &BookKey, path: &str, told: Told) -> bool {
        let of_book = self.files.entry(key.clone()).or_default();
        let clean = told.items.is_empty() && told.version.is_none();
        match of_book.get(path) {
            Some(known) if known.version == told.version && known.items == told.items => return false,
            None if clean => return false,
            _ => {}
        }
        match clean {
            true => _ = of_book.remove(path),
            false => _ = of_book.insert(path.into(), told),
        }
        true
    }

    /// The file is gone.
    pub fn clear(&mut self, key: &BookKey, path: &str, voice: &Voice) {
        if let Some(told) = self.files.get_mut(key).and_then(|of_book| of_book.remove(path)) {
            clean(told.url, voice);
        }
    }

    pub fn clear_book(&mut self, key: &BookKey, voice: &Voice) {
        for told in self.files.remove(key).unwrap_or_default().into_values() {
            clean(told.url, voice);
        }
    }
}

fn clean(url: Url, voice: &Voice) {
    voice.say(Say::Diagnostics(PublishDiagnosticsParams::new(url, Vec::new(), None)));
}

impl Desk {
    /// Tells the client what is said of a file, if it does not know it. An open document is told again for each version.
    pub(super) fn publish(&mut self, key: &BookKey, file: FileId, at_once: bool) {
        if self.client.pulls_diagnostics {
            // Clients that ask are told that there is something to ask for; of what they change themselves they know.
            self.outdated.diagnostics |= !at_once && self.client.refreshes.diagnostics;
            self.has_changed = true;
            return;
        }
        let Some(open) = self.books.get(key) else { return };
        let path: Box<str> = open.book().file(file).path.clone();
        let of_book = self.published.files.get(key);
        let known_clean = of_book.is_none_or(|files| !files.contains_key(&path));
        let is_open = self.documents.contains_key(&self.path_of(key, &path));
        if known_clean && !is_open && !open.judged.has_diagnostics(file) {
            return;
        }
        let view = self.view();
        let Some(items) = self.items(&view, key, file) else { return };
        let Some(in_view) = file_view(&view, key, file) else { return };
        let Some(url) = in_view.url(file) else { return };
        let version = in_view.version(file);
        let told = Told { url: url.clone(), version, items: items.clone() };
        if self.published.note(key, &path, told) {
            self.voice.say(Say::Diagnostics(PublishDiagnosticsParams::new(url, items, version)));
        }
    }

    /// What is said of a file, as the client reads it.
    pub(super) fn items(&self, view: &View, key: &BookKey, file: FileId) -> Option<Vec<lsp::Diagnostic>> {
        let open = self.books.get(key)?;
        let mut found = open.judged.diagnostics(file);
        let source = open.book().file(file);
        if !found.is_empty() {
            self.hold_back(&self.path_of(key, &source.path), source, &mut found);
        }
        // A file that a sparse checkout leaves out cannot be opened.
        let is_there = || {
            let path = self.path_of(key, &source.path);
            self.documents.contains_key(&path) || matches!(key, BookKey::Unsaved(_)) || path.exists()
        };
        if found.is_empty() || !is_there() {
            return Some(Vec::new());
        }
        let in_view = file_view(view, key, file)?;
        let places = in_view.places();
        let locator = in_view.locator();
        let related = self.client.related_information.then_some(&locator as &dyn Elsewhere);
        let told = check::told(&found, FINDINGS_FOR_PROGRAMS);
        let mut items: Vec<lsp::Diagnostic> =
            told.shown.into_iter().map(|found| convert::diagnostic(found, &places, &self.client, related)).collect();
        for more in told.more {
            let of_code = |item: &&mut lsp::Diagnostic| matches!(&item.code, Some(lsp::NumberOrString::String(code)) if code == more.rule.code);
            if let Some(last) = items.iter_mut().rev().find(of_code) {
                last.message.push_str(&format!("\nand {} more of these in the file", more.count));
            }
        }
        Some(items)
    }

    pub(super) fn path_of(&self, key: &BookKey, path: &str) -> PathBuf {
        match key {
            BookKey::Unsaved(url) => PathBuf::from(url.as_str()),
            key => key.root().join(path),
        }
    }
}

pub(super) fn file_view<'v>(view: &'v View, key: &BookKey, file: FileId) -> Option<FileView<'v>> {
    let in_book = view.books.iter().find(|book| book.key == *key)?;
    Some(FileView { view, in_book, file })
}
