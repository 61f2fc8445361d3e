//! Blocks that are in another order than before, where that says something.

use super::facts::{FactChange, FactChangeKind, Facts};
use crate::book::EffectiveBlock;
use crate::syntax::Kind;

/// Blocks whose order says something: a panel is set as its controls stand, and a record was worked as it goes on.
const ORDERED: [(Kind, &[Kind], &str); 2] = [
    (Kind::Machine, &[Kind::Control], "order of controls"),
    (Kind::Record, &[Kind::Run, Kind::Correction], "order of runs and corrections"),
];

/// A fact for the order of such blocks, where it is another; those that are new or gone are facts by themselves.
pub(super) fn reordered<'b>(
    path: &[String],
    within: Kind,
    olds: &[&EffectiveBlock<'_>],
    both: &[(Option<&&EffectiveBlock<'_>>, Option<&&EffectiveBlock<'b>>)],
    found: &mut Facts,
) {
    let Some((_, kinds, head)) = ORDERED.iter().find(|(kind, ..)| *kind == within) else { return };
    let stays = |(o, n): &(Option<&&EffectiveBlock<'_>>, Option<&&EffectiveBlock<'b>>)| {
        let (o, n) = (*(*o)?, *(*n)?);
        let at = olds.iter().position(|old| std::ptr::eq(*old, o))?;
        kinds.contains(&n.kind).then(|| (at, crate::book::heading(n.written)))
    };
    let now: Vec<(usize, String)> = both.iter().filter_map(stays).collect();
    let mut then = now.clone();
    then.sort();
    if now == then {
        return;
    }
    let listed = |all: Vec<(usize, String)>| all.into_iter().map(|(_, heading)| heading).collect::<Vec<_>>().join(", ");
    found.facts.push(FactChange {
        path: path.iter().cloned().chain([(*head).to_owned()]).collect(),
        change: FactChangeKind::Changed,
        old: Some(listed(then)),
        new: Some(listed(now)),
        within,
        key: None,
        values: (None, None),
        places: (None, None),
    });
}
