//! Runs and corrections of a record: which came first decides what they mean, so that two continuations are a question.

use super::entries::{Entry, What};
use crate::syntax::Kind;

/// How both sides went on, from where they part.
pub(super) struct Work<'t> {
    /// What the question is about.
    pub head: &'t str,
    pub ours: String,
    pub theirs: String,
    keys: Vec<(String, usize)>,
}

impl Work<'_> {
    /// Whether an entry is told with the others.
    pub fn holds(&self, key: &(String, usize)) -> bool {
        self.keys.contains(key)
    }
}

/// `None` where at most one side has other runs or corrections than before, or both have the same.
pub(super) fn appended<'t>(base: &[Entry<'_>], ours: &'t [Entry<'t>], theirs: &'t [Entry<'t>]) -> Option<Work<'t>> {
    let (before, o, t) = (steps(base), steps(ours), steps(theirs));
    let (was, is, other) = (keys(&before), keys(&o), keys(&t));
    if is == was || other == was {
        return None;
    }
    // Up to here both say the same, or go on from what stood there.
    let is_shared = |(one, other): &(&&Entry<'_>, &&Entry<'_>)| {
        one.key == other.key && (was.contains(&one.key) || one.text.trim() == other.text.trim())
    };
    let shared = o.iter().zip(&t).take_while(is_shared).count();
    let (o, t) = (&o[shared..], &t[shared..]);
    let head = o.first().or(t.first())?.key.0.as_str();
    let text = |entries: &[&Entry<'_>]| -> String {
        entries
            .iter()
            .flat_map(|entry| [entry.lead, entry.text])
            .collect::<String>()
            .trim_start_matches('\n')
            .to_owned()
    };
    // One side went on where the other stopped, and nothing that stood there is gone.
    let kept = |side: &[&Entry<'_>]| was.iter().skip(shared).all(|key| side.iter().any(|entry| entry.key == *key));
    if (o.is_empty() || t.is_empty()) && kept(o) && kept(t) {
        return None;
    }
    let left = before.iter().map(|entry| &entry.key).filter(|key| !is[..shared].contains(key));
    let keys = o.iter().chain(t).map(|entry| &entry.key).chain(left).cloned().collect();
    Some(Work { head, ours: text(o), theirs: text(t), keys })
}

fn steps<'e, 't>(entries: &'e [Entry<'t>]) -> Vec<&'e Entry<'t>> {
    let is_step = |entry: &&Entry<'_>| match &entry.what {
        What::Block(body) => body.block.is_some_and(|block| matches!(block.kind, Kind::Run | Kind::Correction)),
        _ => false,
    };
    entries.iter().filter(is_step).collect()
}

fn keys(entries: &[&Entry<'_>]) -> Vec<(String, usize)> {
    entries.iter().map(|entry| entry.key.clone()).collect()
}
