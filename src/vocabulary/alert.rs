//! Which change of a fact or a result a reviewer must not miss.

/// Which change of what is guarded is grave. `diff` reads it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Grave {
    /// A greater amount.
    WhenRaised,
    /// A greater amount, and also that nothing says it any longer.
    WhenRaisedOrRemoved,
    /// A smaller amount, and also that nothing says it any longer.
    WhenReducedOrRemoved,
    /// A range that reaches further at one of its ends.
    WhenWidened,
    /// A choice that stands further down its list; what is not said is taken for the first of them.
    WhenLowered,
    /// Another value, or none any longer, or one for the first time.
    WhenChanged,
    /// It is gone.
    WhenRemoved,
    /// It is gone, or reads otherwise.
    WhenRemovedOrChanged,
    /// A result says that something no longer holds.
    WhenVoid,
}

/// A change that is grave, and what it is told as.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Guard {
    pub code: AlertCode,
    pub grave: Grave,
}

/// Why a change of a fact is no alert.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Silent {
    /// Who, when and which one it was, or how it is written: no result rests on it.
    Identity,
    /// `released` looks at it by itself.
    Release,
    /// What it brings or takes away is told where it is taken over.
    Inheritance,
    /// What was found or done, and no limit: the results of it move, and a verdict that is another is told.
    Finding,
    /// The `calibration` of the setup says whether what was proven still holds.
    Proven,
    /// By what a record was run: the verdict of the record moves with it, and is told.
    RecordJudged,
    /// A limit that the check judges by: what is beyond it now brings a finding, and what no longer is, none.
    Checked,
    /// Results are worked out from it: they move and are shown, and a tolerance, verdict or calibration among them is told.
    ResultsMove,
    /// A remark in the shop's own words.
    Remark,
}

/// What is alerted to, the gravest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum AlertCode {
    VerdictChanged,
    /// Errors bar the card of a released sheet or of a record, or no longer do.
    CardBarred,
    /// A sheet holds the marks of a merge that was not finished: which side holds, nobody has said.
    ConflictLeft,
    /// Sheets that passed the check no longer do.
    CheckFails,
    /// A proof says otherwise what it was made with, when or what it read, and is not another proof.
    ProofRewritten,
    /// Where and which way angles count, how the rotor turns, what the machine points at, which key is fitted.
    ConventionChanged,
    ToleranceLoosened,
    /// Without any limit, everything is within.
    ToleranceLost,
    SpeedRaised,
    /// A limit of the rotor, of the machine or of a check lets through more than before.
    LimitLoosened,
    CalibrationVoid,
    /// A check mass reads outside its band.
    CheckMassOut,
    /// What was measured and signed says something else.
    RecordAltered,
    RecordRemoved,
    ReleasedWithoutNewRevision,
    ReleasedRemoved,
    ReleaseWithdrawn,
    SheetReleased,
    /// A record whose own facts are what they were says something else.
    RecordReadsOtherwise,
    ResultLost,
    PinnedResultChanged,
    CautionRemoved,
    SourceRemoved,
    CheckWeakened,
}

impl AlertCode {
    /// Speaking, for programs: `tolerance-loosened`.
    pub const fn code(self) -> &'static str {
        match self {
            AlertCode::VerdictChanged => "verdict-changed",
            AlertCode::CardBarred => "card-barred",
            AlertCode::ConflictLeft => "conflict-left",
            AlertCode::CheckFails => "check-fails",
            AlertCode::ProofRewritten => "proof-rewritten",
            AlertCode::ConventionChanged => "convention-changed",
            AlertCode::ToleranceLoosened => "tolerance-loosened",
            AlertCode::ToleranceLost => "tolerance-lost",
            AlertCode::SpeedRaised => "speed-raised",
            AlertCode::LimitLoosened => "limit-loosened",
            AlertCode::CalibrationVoid => "calibration-void",
            AlertCode::CheckMassOut => "check-mass-out",
            AlertCode::RecordAltered => "record-altered",
            AlertCode::RecordRemoved => "record-removed",
            AlertCode::ReleasedWithoutNewRevision => "released-without-new-revision",
            AlertCode::ReleasedRemoved => "released-removed",
            AlertCode::ReleaseWithdrawn => "release-withdrawn",
            AlertCode::SheetReleased => "sheet-released",
            AlertCode::RecordReadsOtherwise => "record-reads-otherwise",
            AlertCode::ResultLost => "result-lost",
            AlertCode::PinnedResultChanged => "pinned-result-changed",
            AlertCode::CautionRemoved => "caution-removed",
            AlertCode::SourceRemoved => "source-removed",
            AlertCode::CheckWeakened => "check-weakened",
        }
    }

    /// For people.
    pub const fn title(self) -> &'static str {
        match self {
            AlertCode::VerdictChanged => "verdict changed",
            AlertCode::CardBarred => "whether the card may be used",
            AlertCode::ConflictLeft => "conflict left in the sheet",
            AlertCode::CheckFails => "the check finds new errors",
            AlertCode::ProofRewritten => "proof rewritten",
            AlertCode::ConventionChanged => "convention changed",
            AlertCode::ToleranceLoosened => "tolerance loosened",
            AlertCode::ToleranceLost => "tolerance lost",
            AlertCode::SpeedRaised => "speed raised",
            AlertCode::LimitLoosened => "limit loosened",
            AlertCode::CalibrationVoid => "calibration void",
            AlertCode::CheckMassOut => "check mass outside its band",
            AlertCode::RecordAltered => "record altered",
            AlertCode::RecordRemoved => "record removed",
            AlertCode::ReleasedWithoutNewRevision => "released sheet changed without a new revision",
            AlertCode::ReleasedRemoved => "released sheet removed",
            AlertCode::ReleaseWithdrawn => "release withdrawn",
            AlertCode::SheetReleased => "sheet released",
            AlertCode::RecordReadsOtherwise => "record reads otherwise",
            AlertCode::ResultLost => "result no longer computed",
            AlertCode::PinnedResultChanged => "pinned result changed",
            AlertCode::CautionRemoved => "caution removed",
            AlertCode::SourceRemoved => "source removed",
            AlertCode::CheckWeakened => "check weakened",
        }
    }
}
