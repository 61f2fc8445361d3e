//! The kinds of blocks, and which may be in which.

/// Makes a line of each kind: the words that open its block, and the kinds of blocks that it may be in.
macro_rules! kinds {
    (items { $($item:ident = $item_words:literal;)+ } blocks { $($block:ident = $words:literal in $($parent:ident)+;)+ }) => {
        /// What a block is. Items stand at the top of a file, inner blocks in the blocks that may hold them.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub enum Kind {
            $($item,)+
            $($block,)+
        }

        impl Kind {
            pub const ALL: [Kind; Kind::ITEMS.len() + [$($words),+].len()] = [$(Kind::$item,)+ $(Kind::$block,)+];

            /// Items have a name that is looked up in the whole book and are outside every block.
            pub const ITEMS: [Kind; [$($item_words),+].len()] = [$(Kind::$item),+];

            /// The words that open a block of this kind.
            pub const fn words(self) -> &'static str {
                match self {
                    $(Kind::$item => $item_words,)+
                    $(Kind::$block => $words,)+
                }
            }

            pub const fn is_item(self) -> bool {
                self.parents().is_empty()
            }

            /// The kinds of blocks that an inner block is in; none for items.
            pub const fn parents(self) -> &'static [Kind] {
                match self {
                    $(Kind::$item)|+ => &[],
                    $(Kind::$block => &[$(Kind::$parent),+],)+
                }
            }
        }
    };
}

kinds! {
    items {
        Shop = "shop";
        Material = "material";
        Masses = "masses";
        Machine = "machine";
        Arbor = "arbor";
        Rotor = "rotor";
        Setup = "setup";
        Record = "record";
    }
    blocks {
        Instrument = "instrument" in Shop;
        Severity = "severity" in Shop;
        Readout = "readout" in Machine;
        Scale = "scale" in Readout;
        Control = "control" in Machine;
        Plane = "plane" in Rotor;
        Tolerance = "tolerance" in Rotor;
        SimilarPart = "similar part" in Tolerance;
        Keyway = "keyway" in Rotor;
        MadeOf = "made of" in Rotor;
        ExtraMass = "extra mass" in Rotor Setup;
        BalanceError = "balance error" in Machine Arbor Setup;
        Settings = "settings" in Setup;
        Calibrate = "calibrate" in Setup;
        Trial = "trial" in Setup;
        Proof = "proof" in Setup;
        ProvenWith = "proven with" in Proof;
        Separation = "separation" in Proof;
        Linearity = "linearity" in Proof;
        CheckMass = "check mass" in Setup;
        AsRun = "as run" in Record;
        Influence = "influence" in ProvenWith AsRun;
        Run = "run" in Record;
        Correction = "correction" in Record;
        Traverse = "traverse" in Record;
    }
}

use Kind::*;

impl Kind {
    /// Whether a block of this kind may be in one of that kind; outside every block, where `None`.
    pub fn stands_in(self, parent: Option<Kind>) -> bool {
        match parent {
            Some(parent) => self.parents().contains(&parent),
            None => self.is_item(),
        }
    }

    /// The kinds of blocks that may be in one of that kind; outside every block, where `None`.
    pub fn all_in(parent: Option<Kind>) -> impl Iterator<Item = Kind> {
        Kind::ALL.into_iter().filter(move |kind| kind.stands_in(parent))
    }

    /// Whether a block of this kind takes a name after its kind.
    pub const fn takes_name(self) -> bool {
        !matches!(self, Readout | Tolerance | SimilarPart | Settings | ProvenWith | CheckMass | AsRun)
    }
}

impl std::fmt::Display for Kind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.words())
    }
}
