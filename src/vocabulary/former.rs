//! Names that are no longer in use, so that a book of an earlier version is told what to write instead.

use crate::syntax::Kind;

/// A name of an earlier version.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Former {
    pub name: &'static str,
    pub became: Became,
    /// The version of this program in which it went.
    pub since: &'static str,
}

/// What became of a name.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Became {
    /// The same is said under this name.
    Renamed(&'static str),
    /// One of these says the same; which, only the writer knows.
    Either(&'static [&'static str]),
    /// What it said comes after the value of this fact, with these words before it.
    Joined { to: &'static str, by: &'static str },
    /// Nothing is in its place, for this reason.
    Retired(&'static str),
}

/// The facts that a kind of block once had. The checks say what became of one where a sheet still states or pins it.
const FACTS: &[(Kind, Former)] = &[
    first(Kind::Readout, "seen from", Became::Renamed("pointer seen from")),
    first(Kind::Shop, "unbalance unit", Became::Renamed("show in")),
    first(Kind::Correction, "place", Became::Either(&["add place", "remove place"])),
    first(
        Kind::Tolerance,
        "split between planes",
        Became::Retired("planes that cannot use up both bearings share alike"),
    ),
    first(Kind::Rotor, "seen from", Became::Joined { to: "rotation", by: " seen from " }),
];

/// A name that went before the first release.
const fn first(kind: Kind, name: &'static str, became: Became) -> (Kind, Former) {
    (kind, Former { name, became, since: "0.1.0" })
}

/// What became of a fact of this name.
pub fn former_fact(kind: Kind, name: &str) -> Option<&'static Former> {
    former_facts(kind).find(|former| former.name == name)
}

/// The facts that blocks of this kind once had.
pub fn former_facts(kind: Kind) -> impl Iterator<Item = &'static Former> {
    FACTS.iter().filter(move |(of, _)| *of == kind).map(|(_, former)| former)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vocabulary::block;

    #[test]
    fn a_former_name_is_free_and_its_new_one_stands() {
        for (kind, former) in FACTS {
            assert!(block(*kind).key(former.name).is_none(), "{kind}: {} is still a fact", former.name);
            let now = match former.became {
                Became::Renamed(now) | Became::Joined { to: now, .. } => &[now][..],
                Became::Either(several) => several,
                Became::Retired(_) => &[],
            };
            for now in now {
                assert!(block(*kind).key(now).is_some(), "{kind}: {} became {now}, which is not a fact", former.name);
            }
        }
    }
}
