//! Where the cursor is, as far as typing goes: read from the text before it, so that a half-typed line has a place too.

use std::cell::OnceCell;

use crate::book::{Book, Computed, Computing, FileId, ItemId};
use crate::ide::place::{self, Blocks, Place, collapsed};
use crate::sheet::Expected;
use crate::syntax::{Head, Kind, LineKind, is_word_part};
use crate::text::Span;
use crate::vocabulary::{self, BlockSpec, NameOf};

/// The line up to the cursor, and the blocks around it.
pub(super) struct Context<'c, 'b> {
    pub book: &'b Book,
    computing: &'c Computing<'b>,
    computed: OnceCell<Computed<'b>>,
    pub place: Place<'b>,
    pub offset: u32,
    /// The kinds of the blocks around the line, outermost first; empty at the top of the file.
    pub around: Vec<Kind>,
    /// The item and its blocks as the sheet has them; `None` at the top of the file.
    pub blocks: Option<Blocks<'b>>,
    /// Where the string that the cursor is in begins.
    string: Option<u32>,
    sign: Option<(u32, Sign)>,
    /// The first character of the line that is no blank.
    pub start: u32,
}

/// What a line turns on.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Sign {
    Colon,
    Arrow,
    Brace,
}

/// What may be typed at the cursor.
pub(super) enum Where {
    /// A key, a name, a kind or a result at the start of a line.
    Head {
        typed: Span,
    },
    /// The name after a kind.
    BlockName {
        kind: Kind,
        of: NameOf,
        name: Span,
    },
    /// The name after the words of a key.
    HeadName {
        key: &'static vocabulary::KeySpec,
        name: Span,
    },
    /// A value; `item` is the one of its list that the cursor is in, from its first character to the cursor.
    Value {
        expected: Expected,
        item: Span,
    },
    /// What comes after `=>`.
    Pin {
        name: String,
        value: Span,
    },
    Nothing,
}

impl<'c, 'b> Context<'c, 'b> {
    /// `None` in comments, and in blocks of no known kind.
    pub fn at(computing: &'c Computing<'b>, file: FileId, offset: u32) -> Option<Self> {
        let book = computing.book();
        let place = Place::at(book, file, offset)?;
        if place.in_comment(offset) || place.line.kind == LineKind::Conflict {
            return None;
        }
        let around = place.around()?;
        let kinds = around.iter().map(|open| open.kind).collect();
        let blocks = (!around.is_empty()).then(|| inside(&place)).flatten();
        let line = place.line.span;
        let before = Span::new(line.start, offset.min(line.end)).of(&place.source.text);
        let blank = before.len() - before.trim_start_matches([' ', '\t']).len();
        let (string, sign) = scan(before, line.start);
        let start = line.start + blank as u32;
        Some(Self {
            book,
            computing,
            computed: OnceCell::new(),
            place,
            offset: offset.min(line.end),
            around: kinds,
            blocks,
            string,
            sign,
            start,
        })
    }

    pub fn spec(&self) -> Option<&'static BlockSpec> {
        self.around.last().map(|kind| vocabulary::block(*kind))
    }

    pub fn item(&self) -> Option<ItemId> {
        self.blocks.as_ref().map(|blocks| blocks.item)
    }

    /// What is computed of the item that the line is in, worked out once for all who ask.
    pub fn computed(&self) -> Option<&Computed<'b>> {
        let id = self.item()?;
        Some(self.computed.get_or_init(|| self.computing.item(id)))
    }

    pub fn text(&self, span: Span) -> &'b str {
        span.of(&self.place.source.text)
    }

    pub fn in_string(&self) -> bool {
        self.string.is_some()
    }

    pub fn what(&self) -> Where {
        match self.sign {
            None => self.head(),
            Some((at, Sign::Colon)) => self.value(at),
            Some((at, Sign::Arrow)) => {
                let name = collapsed(&self.text(Span::new(self.start, at)).replace('"', ""));
                let end = self.end_of_code();
                Where::Pin { name, value: self.trimmed(Span::new(at + 2, end.max(at + 2))) }
            }
            Some((_, Sign::Brace)) => Where::Nothing,
        }
    }

    fn head(&self) -> Where {
        let typed = self.text(Span::new(self.start, self.offset));
        let kinds = Kind::all_in(self.around.last().copied());
        for kind in kinds {
            if let (Some(rest), Some(of)) = (behind_words(typed, kind.words()), vocabulary::block(kind).name) {
                let start = self.offset - rest.len() as u32;
                return Where::BlockName { kind, of, name: self.name_from(start) };
            }
        }
        let keys = self.spec().into_iter().flat_map(|spec| spec.keys).filter(|key| key.head_name.is_some());
        let longest = keys.filter(|key| behind_words(typed, key.name).is_some()).max_by_key(|key| key.name.len());
        if let Some(key) = longest {
            let rest = behind_words(typed, key.name).unwrap_or_default();
            let start = self.offset - rest.len() as u32;
            return Where::HeadName { key, name: self.name_from(start) };
        }
        // A string at the start of a line can only be a name.
        let named = self.spec().is_some_and(|spec| spec.named_facts.is_some());
        if self.in_string() && !named {
            return Where::Nothing;
        }
        Where::Head { typed: Span::new(self.start, self.end_of_head()) }
    }

    fn value(&self, colon: u32) -> Where {
        let LineKind::Fact(fact) = &self.place.line.kind else { return Where::Nothing };
        let Some(expected) = self.spec().and_then(|spec| self.expected(spec, &fact.head)) else {
            return Where::Nothing;
        };
        let value = Span::new(colon + 1, self.offset);
        let last = last_item(self.text(value));
        Where::Value { expected, item: self.trimmed(Span::new(self.offset - last as u32, self.offset)) }
    }

    fn expected(&self, spec: &'static BlockSpec, head: &Head) -> Option<Expected> {
        place::expected(self.place.source, spec, head)
    }

    /// A name that is being typed from `start` on: with its quotes, or the word that the cursor is in.
    pub fn name_from(&self, start: u32) -> Span {
        match self.string {
            Some(string) => Span::new(string, self.end_of_string()),
            None => Span::new(start, self.end_of_word()),
        }
    }

    /// From the quote before the cursor to the one after it, or to the cursor.
    fn end_of_string(&self) -> u32 {
        let rest = self.text(Span::new(self.offset, self.place.line.span.end));
        let closing = rest.find('"').filter(|at| !rest[..*at].contains([':', '{', ',']));
        closing.map_or(self.offset, |at| self.offset + at as u32 + 1)
    }

    /// The end of the word that the cursor is in.
    pub fn end_of_word(&self) -> u32 {
        let rest = self.text(Span::new(self.offset, self.place.line.span.end));
        let part = |c: &char| is_word_part(*c);
        self.offset + rest.chars().take_while(part).map(|c| c.len_utf8() as u32).sum::<u32>()
    }

    /// The end of the unit that the cursor is in.
    pub fn end_of_unit(&self) -> u32 {
        let rest = self.text(Span::new(self.offset, self.place.line.span.end));
        let part = |c: &char| !c.is_whitespace() && !matches!(c, ',' | '#' | ')' | '@' | '±');
        self.offset + rest.chars().take_while(part).map(|c| c.len_utf8() as u32).sum::<u32>()
    }

    /// Where the head ends that the cursor is in: before its sign where it has one, else with the word.
    fn end_of_head(&self) -> u32 {
        let rest = self.text(Span::new(self.offset, self.place.line.span.end));
        if self.in_string() {
            return self.end_of_string();
        }
        match scan(rest, 0).1 {
            Some((sign, Sign::Colon | Sign::Arrow)) => self.offset + rest[..sign as usize].trim_end().len() as u32,
            _ => self.end_of_word(),
        }
    }

    /// The `:`, `=>` or `{` that the line has after the cursor already.
    pub fn sign_behind(&self) -> Option<Sign> {
        let rest = self.text(Span::new(self.offset, self.place.line.span.end));
        scan(rest, 0).1.map(|(_, sign)| sign)
    }

    fn end_of_code(&self) -> u32 {
        let line = self.place.line;
        line.comment.map_or(line.span.end, |comment| comment.start)
    }

    /// A span without blanks at its ends.
    fn trimmed(&self, span: Span) -> Span {
        let written = self.text(span);
        let start = span.start + (written.len() - written.trim_start().len()) as u32;
        Span::new(start, (span.start + written.trim_end().len() as u32).max(start))
    }
}

/// The blocks around the line, not the one that it opens.
fn inside<'b>(place: &Place<'b>) -> Option<Blocks<'b>> {
    let mut blocks = place.blocks()?;
    if matches!(place.line.kind, LineKind::Open(_)) {
        blocks.path.pop();
    }
    (!blocks.path.is_empty()).then_some(blocks)
}

/// Where an open string begins, and the first sign outside strings; offsets count from `base`.
fn scan(before: &str, base: u32) -> (Option<u32>, Option<(u32, Sign)>) {
    let bytes = before.as_bytes();
    let (mut string, mut sign) = (None, None);
    for (at, byte) in bytes.iter().enumerate() {
        let here = base + at as u32;
        match byte {
            b'"' => string = if string.is_some() { None } else { Some(here) },
            _ if string.is_some() || sign.is_some() => {}
            b':' => sign = Some((here, Sign::Colon)),
            b'{' => sign = Some((here, Sign::Brace)),
            b'=' if bytes.get(at + 1) == Some(&b'>') => sign = Some((here, Sign::Arrow)),
            _ => {}
        }
    }
    (string, sign)
}

/// What comes after words that begin a line, if a blank parts them from it.
fn behind_words<'t>(typed: &'t str, words: &str) -> Option<&'t str> {
    let rest = typed.strip_prefix(words)?;
    rest.starts_with([' ', '\t']).then(|| rest.trim_start())
}

/// The length of the last item of a list.
fn last_item(value: &str) -> usize {
    let bytes = value.as_bytes();
    let mut quoted = false;
    let mut start = 0;
    for (at, byte) in bytes.iter().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b',' if !quoted && matches!(bytes.get(at + 1), Some(b' ' | b'\t')) => start = at + 1,
            _ => {}
        }
    }
    value.len() - start
}
