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
    /// Nothing stands in its place, for this reason.
    Retired(&'static str),
}

/// The facts that a kind of block once had. The checks say what became of one where a sheet still states or pins it.
const FACTS: &[(Kind, Former)] = &[
    (Kind::Setup, renamed("arrangement", "layout")),
    (Kind::Setup, renamed("a", "left support to left plane")),
    (Kind::Setup, renamed("b", "between planes")),
    (Kind::Setup, renamed("c", "right plane to right support")),
    (Kind::Setup, renamed("r1", "left radius")),
    (Kind::Setup, renamed("r2", "right radius")),
    (Kind::Machine, retired("dimensions in", "a control that `takes` a distance has a `step`, and is set in its unit")),
];

/// The same, made up for tests.
#[cfg(test)]
const MADE_UP: &[(Kind, Former)] =
    &[(Kind::Rotor, renamed("heft", "mass")), (Kind::Rotor, retired("hue", "no result depends on it"))];

#[cfg(not(test))]
const MADE_UP: &[(Kind, Former)] = &[];

const fn renamed(name: &'static str, now: &'static str) -> Former {
    Former { name, became: Became::Renamed(now), since: "0.1.0" }
}

const fn retired(name: &'static str, why: &'static str) -> Former {
    Former { name, became: Became::Retired(why), since: "0.1.0" }
}

/// What became of a fact of this name.
pub fn former_fact(kind: Kind, name: &str) -> Option<&'static Former> {
    let mut all = FACTS.iter().chain(MADE_UP);
    all.find(|(of, former)| *of == kind && former.name == name).map(|(_, former)| former)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vocabulary::block;

    #[test]
    fn a_former_name_is_free_and_its_new_one_stands() {
        for (kind, former) in FACTS.iter().chain(MADE_UP) {
            assert!(block(*kind).key(former.name).is_none(), "{kind}: {} is still a fact", former.name);
            if let Became::Renamed(now) = former.became {
                assert!(block(*kind).key(now).is_some(), "{kind}: {} became {now}, which is no fact", former.name);
            }
        }
    }
}
