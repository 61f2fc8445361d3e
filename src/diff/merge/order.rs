//! In which order the entries of both sides stand.

use super::entries::Entry;

type Key = (String, usize);

/// The keys of all entries, each once: in the order of the side that changed it, with what only the other has after what
/// it follows there.
pub(super) fn order(base: &[Entry<'_>], ours: &[Entry<'_>], theirs: &[Entry<'_>]) -> Vec<Key> {
    let keys = |entries: &[Entry<'_>]| -> Vec<Key> { entries.iter().map(|entry| entry.key.clone()).collect() };
    let (base, ours, theirs) = (keys(base), keys(ours), keys(theirs));
    let common = |side: &[Key]| -> Vec<Key> {
        side.iter().filter(|key| base.contains(key) && ours.contains(key) && theirs.contains(key)).cloned().collect()
    };
    let ours_moved = common(&ours) != common(&base);
    let (first, second) = if ours_moved { (&ours, &theirs) } else { (&theirs, &ours) };
    let mut all = first.clone();
    let mut before: Option<&Key> = None;
    for key in second {
        if !all.contains(key) {
            let at = before.and_then(|before| all.iter().position(|other| other == before)).map_or(0, |at| at + 1);
            all.insert(at, key.clone());
        }
        before = Some(key);
    }
    all
}
