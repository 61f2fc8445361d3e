use crate::check::{Draft, Slip, wording};
use crate::sheet::nearest;
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::vocabulary::KeySpec;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let shown = slip.shown();
    if let Some((kind, rest)) = heading(slip) {
        let draft = slip.draft(format!("`{shown}` names a block but opens none"));
        return draft
            .help(format!("write `{} {{`, its facts below and `}}` on a line of its own", heading_of(kind, rest)));
    }
    if let Some(edit) = wrong_sign(slip) {
        return slip.say_with(format!("`{shown}` has no colon after its name"), "", edit);
    }
    if slip.found().split(' ').next() == Some("end") && slip.block().is_some() {
        let draft = slip.draft(format!("`{shown}` closes no block"));
        return draft.help("a block ends with `}`: write it in place of this line, or take the line out");
    }
    if slip.edit().is_some() {
        return slip.say(format!("`{shown}` has no colon after its name"), "");
    }
    if let Some(colon) = colon_behind_key(slip) {
        return slip.say_with(format!("`{shown}` has no colon after its name"), "", colon);
    }
    let draft = slip.draft(format!("`{shown}` is the beginning of a line"));
    if let Some(key) = whole_key(slip) {
        return draft.help(format!("write `{}: ` and {}", key.name, wording::expected_of(key)));
    }
    draft.help(match meant(slip) {
        Some(meant) => format!("did you mean `{meant}`? A fact goes on with `:` and its value, a block with `{{`"),
        None => "a fact goes on with `:` and its value, a block with `{`; a remark begins with `#`".to_owned(),
    })
}

/// The key or kind that the line may become.
fn meant(slip: &Slip<'_>) -> Option<&'static str> {
    let block = slip.block();
    let keys = block.map_or(&[][..], |block| block.spec().keys).iter().map(|key| key.name);
    let kinds = Kind::all_in(block.map(|block| block.kind)).map(Kind::words);
    let words: Vec<&'static str> = kinds.chain(keys).collect();
    let found = slip.found();
    let begun = words.iter().copied().find(|word| found.len() > 2 && word.starts_with(found));
    begun.or_else(|| nearest(found, words))
}

/// The kind that the line begins with, when a block of it may stand here, and what follows.
fn heading<'a>(slip: &Slip<'a>) -> Option<(Kind, &'a str)> {
    let parent = slip.block().map(|block| block.kind);
    Kind::all_in(parent).find_map(|kind| {
        let rest = slip.found().strip_prefix(kind.words())?;
        (rest.is_empty() || rest.starts_with([' ', '\t', '"'])).then_some((kind, rest.trim()))
    })
}

fn heading_of(kind: Kind, rest: &str) -> String {
    let name = rest.trim_end_matches(['(', '[', '<', ' ']);
    format!("{} {}", kind.words(), if name.is_empty() && kind.takes_name() { "\"…\"" } else { name })
        .trim_end()
        .to_owned()
}

/// `mass - 3 g`, `mass -> 3 g`: another sign in place of the colon.
fn wrong_sign(slip: &Slip<'_>) -> Option<Edit> {
    let found = slip.found();
    let (at, sign) = [" -> ", " == ", " - ", " – ", " — ", " … ", " ... "]
        .into_iter()
        .find_map(|sign| Some((found.find(sign)?, sign)))?;
    let name = found[..at].trim_end();
    let place = Span::new(slip.span().start + name.len() as u32, slip.span().start + (at + sign.len() - 1) as u32);
    is_key(slip, name).then(|| Edit::replace(place, ":"))
}

/// `status draft`, `channel left hub`: where the colon belongs.
fn colon_behind_key(slip: &Slip<'_>) -> Option<Edit> {
    let found = slip.found();
    let keys = slip.block()?.spec().keys.iter();
    let behind = |key: &KeySpec| {
        let rest = found.strip_prefix(key.name)?.strip_prefix(' ')?;
        let name = if key.head_name.is_some() { rest.find(' ')? + 1 } else { 0 };
        rest[name..].starts_with(|c: char| c.is_alphanumeric() || c == '"').then_some(key.name.len() + name)
    };
    let at = keys.filter_map(behind).max()?;
    Some(Edit::insert(slip.span().start + at as u32, ":"))
}

/// The key that the line is, without anything after it.
fn whole_key(slip: &Slip<'_>) -> Option<&'static KeySpec> {
    slip.block()?.spec().key(slip.found())
}

/// Whether the block has a key of these words, or one that these words name with a name after it.
fn is_key(slip: &Slip<'_>, words: &str) -> bool {
    let Some(block) = slip.block() else { return false };
    let key = |words: &str| block.spec().key(words);
    key(words).is_some()
        || words.rsplit_once(' ').is_some_and(|(words, _)| key(words).is_some_and(|k| k.head_name.is_some()))
}
