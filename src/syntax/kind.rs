//! The kinds of blocks, and which may be in which.

/// What a block is. Items stand at the top of a file, inner blocks in the blocks that may hold them.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Kind {
    Shop,
    Material,
    Masses,
    Machine,
    Arbor,
    Rotor,
    Setup,
    Record,
    Instrument,
    Severity,
    Readout,
    Scale,
    Control,
    Plane,
    Tolerance,
    SimilarPart,
    Keyway,
    MadeOf,
    ExtraMass,
    BalanceError,
    Settings,
    Calibrate,
    Trial,
    Proof,
    ProvenWith,
    Separation,
    Linearity,
    CheckMass,
    AsRun,
    Influence,
    Run,
    Correction,
    Traverse,
}

use Kind::*;

impl Kind {
    pub const ALL: [Kind; 33] = [
        Shop,
        Material,
        Masses,
        Machine,
        Arbor,
        Rotor,
        Setup,
        Record,
        Instrument,
        Severity,
        Readout,
        Scale,
        Control,
        Plane,
        Tolerance,
        SimilarPart,
        Keyway,
        MadeOf,
        ExtraMass,
        BalanceError,
        Settings,
        Calibrate,
        Trial,
        Proof,
        ProvenWith,
        Separation,
        Linearity,
        CheckMass,
        AsRun,
        Influence,
        Run,
        Correction,
        Traverse,
    ];

    /// The words that open a block of this kind.
    pub const fn words(self) -> &'static str {
        match self {
            Shop => "shop",
            Material => "material",
            Masses => "masses",
            Machine => "machine",
            Arbor => "arbor",
            Rotor => "rotor",
            Setup => "setup",
            Record => "record",
            Instrument => "instrument",
            Severity => "severity",
            Readout => "readout",
            Scale => "scale",
            Control => "control",
            Plane => "plane",
            Tolerance => "tolerance",
            SimilarPart => "similar part",
            Keyway => "keyway",
            MadeOf => "made of",
            ExtraMass => "extra mass",
            BalanceError => "balance error",
            Settings => "settings",
            Calibrate => "calibrate",
            Trial => "trial",
            Proof => "proof",
            ProvenWith => "proven with",
            Separation => "separation",
            Linearity => "linearity",
            CheckMass => "check mass",
            AsRun => "as run",
            Influence => "influence",
            Run => "run",
            Correction => "correction",
            Traverse => "traverse",
        }
    }

    /// Items have a name that is looked up in the whole book and are outside every block.
    pub const fn is_item(self) -> bool {
        matches!(self, Shop | Material | Masses | Machine | Arbor | Rotor | Setup | Record)
    }

    /// The kinds of blocks that an inner block is in; none for items.
    pub const fn parents(self) -> &'static [Kind] {
        match self {
            Shop | Material | Masses | Machine | Arbor | Rotor | Setup | Record => &[],
            Instrument | Severity => &[Shop],
            Readout | Control => &[Machine],
            Scale => &[Readout],
            Plane | Tolerance | Keyway | MadeOf => &[Rotor],
            ExtraMass => &[Rotor, Setup],
            BalanceError => &[Machine, Arbor, Setup],
            SimilarPart => &[Tolerance],
            Settings | Calibrate | Trial | Proof | CheckMass => &[Setup],
            Separation | Linearity | ProvenWith => &[Proof],
            Influence => &[ProvenWith, AsRun],
            AsRun | Run | Correction | Traverse => &[Record],
        }
    }

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
