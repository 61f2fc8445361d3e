use crate::check::{Draft, Slip};
use crate::syntax::is_word;
use crate::text::Edit;

pub(super) fn say(slip: &Slip<'_>) -> Draft {
    let found = slip.shown();
    let Some(kind) = slip.kind_of_heading() else {
        return slip.say(format!("`{found}` is not a name"), ADVICE);
    };
    if !kind.takes_name() {
        let draft = slip.draft(format!("a `{kind}` block has no name, and here it is `{found}`"));
        return draft.help(format!("write `{kind} {{`"));
    }
    if let Some(plain) = in_plain_quotes(slip.found()) {
        let message = format!("the name of this `{kind}` is in quotes that are not plain ones");
        return slip.say_with(message, "the quote is the plain `\"` at both ends", Edit::replace(slip.span(), plain));
    }
    if let Some(word) = without_sign(slip.found()) {
        let message = format!("`{found}` after `{kind}` is not a name");
        return slip.say_with(message, "only the name comes before the `{`", Edit::replace(slip.span(), word));
    }
    if slip.edit().is_none() {
        let draft = slip.draft(format!("`{found}` is one name too many: a block has one"));
        return draft.help(format!("write one name after `{kind}`, in quotes when it is more than one word"));
    }
    slip.say(format!("`{found}` after `{kind}` is not a name"), ADVICE)
}

const ADVICE: &str = "a name is one word that begins with a letter, or is in quotes";

/// `“fan wheel”`, `'fan wheel'`
fn in_plain_quotes(written: &str) -> Option<String> {
    let quotes = ['“', '”', '„', '‟', '«', '»', '\'', '‘', '’'];
    let inside = written.strip_prefix(quotes)?.strip_suffix(quotes)?;
    (!inside.contains('"') && !inside.contains(quotes)).then(|| format!("\"{inside}\""))
}

/// `hub =`, `= hub`
fn without_sign(written: &str) -> Option<&str> {
    let name = written.trim_matches(['=', ':', '-', '>', '(', '[', ' ', '\t']);
    (is_word(name) && name.len() < written.len()).then_some(name)
}
