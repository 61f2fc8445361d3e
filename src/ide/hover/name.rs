//! What a name names, in short.

use std::fmt::Write as _;

use crate::book::{self, Book, BuiltIn, Computing, ItemId};
use crate::check;
use crate::ide::explain::called;
use crate::ide::headline::headline_by_sheets;
use crate::ide::markdown::{code, plain};
use crate::ide::names::{self, Mention, What};
use crate::ide::results::{self, ByBlock};
use crate::sheet::Block;
use crate::syntax::Kind;

/// The lines of a block that a summary shows at most.
const MOST_LINES: usize = 16;

/// The summary of what a name names; `None` when it leads nowhere.
pub(super) fn summary(computing: &Computing<'_>, mention: &Mention) -> Option<String> {
    let book = computing.book();
    match mention.of.what {
        What::Block(kind) if kind.is_item() => match book.named(kind, &mention.of.name) {
            [] => built_in(kind, &mention.of.name),
            [id] => Some(item(computing, *id)),
            several => {
                let listed = several.iter().map(|id| format!("\n- {}", code(&book.file(id.file).path)));
                Some(format!("{} {kind}s have this name:\n{}", several.len(), listed.collect::<String>()))
            }
        },
        What::Block(kind) => block(computing, kind, mention),
        What::Channel => {
            let owner = mention.of.owner?;
            let is_there = !names::descriptions(book, &mention.of).is_empty();
            is_there.then(|| format!("**channel {}** of {}", plain(&mention.of.name), code(&called(book, owner))))
        }
        What::Code => {
            let rule = check::rule(&mention.of.name)?;
            let page = rule.page.trim_start_matches('#').trim_start();
            let page = page.split_once('\n').map_or("", |(_, rest)| rest.trim());
            Some(format!("**{}**: {}\n\n{page}", rule.code, rule.title))
        }
    }
}

fn item(computing: &Computing<'_>, id: ItemId) -> String {
    let book = computing.book();
    let headline = headline_by_sheets(computing, id);
    let mut text = format!("**{}**", plain(&called(book, id)));
    if !headline.is_empty() {
        let _ = write!(text, "  \n{}", plain(&headline));
    }
    text.push_str(&lines(book, id, book.item(id)));
    let _ = write!(text, "\n\n{}", code(&book.file(id.file).path));
    text
}

fn block(computing: &Computing<'_>, kind: Kind, mention: &Mention) -> Option<String> {
    let book = computing.book();
    let owner = mention.of.owner?;
    let item = book.item(owner);
    let block = find(item, kind, &mention.of.name)?;
    let mut text = format!("**{}** of {}", plain(&book::heading(block)), code(&called(book, owner)));
    let computed = computing.item(owner);
    for entry in ByBlock::of(owner, item, &computed).entries(block) {
        if results::pin_value(book, entry).is_some() && !results::is_as_stated(entry) {
            let _ = write!(text, "  \n{} {}", plain(&entry.name()), plain(&crate::ide::explain::value(book, entry)));
        }
    }
    text.push_str(&lines(book, owner, block));
    Some(text)
}

fn find<'b>(block: &'b Block, kind: Kind, name: &str) -> Option<&'b Block> {
    let here = block.inner(kind).find(|inner| inner.name_text() == name);
    here.or_else(|| block.blocks.iter().find_map(|inner| find(inner, kind, name)))
}

/// The facts of a block as they are written, and the headings of the blocks in it.
fn lines(book: &Book, id: ItemId, block: &Block) -> String {
    let text = &book.file(id.file).text;
    let facts =
        block.fields.iter().map(|field| (field.head.start, field.head.to(field.value_span).of(text).to_owned()));
    let blocks = block.blocks.iter().map(|inner| (inner.span.start, format!("{} {{ … }}", inner.heading.of(text))));
    let mut lines: Vec<(u32, String)> = facts.chain(blocks).collect();
    lines.sort_by_key(|(at, _)| *at);
    if lines.is_empty() {
        return String::new();
    }
    let more = if lines.len() > MOST_LINES { "\n…" } else { "" };
    let lines: Vec<String> = lines.into_iter().take(MOST_LINES).map(|(_, line)| line).collect();
    format!("\n\n```rotor\n{}{more}\n```", lines.join("\n"))
}

/// A metal that every book knows without stating it.
fn built_in(kind: Kind, name: &str) -> Option<String> {
    let metal = BuiltIn::named(name).filter(|_| kind == Kind::Material)?;
    let density = book::display_value(
        crate::units::Amount::raw(metal.value()),
        crate::units::Unit::KILOGRAM_PER_CUBIC_METRE,
        0.0,
    );
    Some(format!(
        "**{}**, known without a `material` block\n\ndensity {density}, spread ± {} kg/m³\n\n*Source: {}*",
        metal.name, metal.spread, metal.source
    ))
}
