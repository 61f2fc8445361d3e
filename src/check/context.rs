//! What a rule sees.

use super::diagnostic::Draft;
use crate::book::SourceFile;
use crate::book::{
    Book, Computed, Computing, Dropped, EffectiveBlock, FileId, ItemId, RecordResults, RotorResults, SetupResults,
};
use crate::sheet::Block;
use crate::text::Span;

/// One file, for rules on its lines.
#[derive(Clone, Copy)]
pub struct FileContext<'b> {
    pub book: &'b Book,
    pub file: FileId,
    pub source: &'b SourceFile,
}

impl<'b> FileContext<'b> {
    pub fn text(&self, span: Span) -> &'b str {
        span.of(&self.source.text)
    }

    pub fn draft(&self, span: Span, message: impl Into<String>) -> Draft {
        Draft::new(self.file, span, message)
    }
}

/// One item with all that is computed of it, for rules on its meaning.
#[derive(Clone, Copy)]
pub struct ItemContext<'b, 'c> {
    pub computing: &'c Computing<'b>,
    pub id: ItemId,
    /// The item with its own facts alone.
    pub block: &'b Block,
    pub computed: &'c Computed<'b>,
}

impl<'b, 'c> ItemContext<'b, 'c> {
    pub fn book(&self) -> &'b Book {
        self.computing.book()
    }

    /// The item as it holds, facts taken over included.
    pub fn effective(&self) -> &'c EffectiveBlock<'b> {
        self.computed.effective()
    }

    pub fn dropped(&self) -> &'c [Dropped] {
        self.computed.dropped()
    }

    /// What is computed of a rotor; `None` for items of other kinds.
    pub fn rotor(&self) -> Option<&'c RotorResults<'b>> {
        match self.computed {
            Computed::Rotor(rotor) => Some(rotor),
            _ => None,
        }
    }

    /// What is computed of a setup; `None` for items of other kinds.
    pub fn setup(&self) -> Option<&'c SetupResults<'b>> {
        match self.computed {
            Computed::Setup(setup) => Some(setup),
            _ => None,
        }
    }

    /// What is computed of a record; `None` for items of other kinds.
    pub fn record(&self) -> Option<&'c RecordResults<'b>> {
        match self.computed {
            Computed::Record(record) => Some(record),
            _ => None,
        }
    }

    pub fn text(&self, file: FileId, span: Span) -> &'b str {
        span.of(&self.book().file(file).text)
    }

    /// A draft in the item's own file.
    pub fn draft(&self, span: Span, message: impl Into<String>) -> Draft {
        Draft::new(self.id.file, span, message)
    }
}

/// Collects what the rules have to say.
#[derive(Default)]
pub struct Sink {
    pub(super) drafts: Vec<Draft>,
}

impl Sink {
    pub fn report(&mut self, draft: Draft) {
        self.drafts.push(draft);
    }
}
