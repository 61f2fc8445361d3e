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
    /// Of the amounts of a list, one is gone; what is only added is no change of the others.
    WhenOneIsGone,
    /// Of angles that were barred, some no longer are.
    WhenFreed,
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

/// Makes a line of each alert: what it is called in Rust, for programs, and for people.
macro_rules! alerts {
    ($($(#[doc = $meaning:literal])* $alert:ident = $code:literal, $title:literal;)+) => {
        /// What is alerted to, the gravest first.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub enum AlertCode {
            $($(#[doc = $meaning])* $alert),+
        }

        impl AlertCode {
            /// Speaking, for programs: `tolerance-loosened`.
            pub const fn code(self) -> &'static str {
                match self {
                    $(Self::$alert => $code),+
                }
            }

            /// For people.
            pub const fn title(self) -> &'static str {
                match self {
                    $(Self::$alert => $title),+
                }
            }
        }
    };
}

alerts! {
    VerdictChanged = "verdict-changed", "verdict changed";
    /// Errors bar the card of a released sheet or of a record, or no longer do.
    CardBarred = "card-barred", "whether the card may be used";
    /// A sheet holds the marks of a merge that was not finished: which side holds, nobody has said.
    ConflictLeft = "conflict-left", "conflict left in the sheet";
    /// Sheets that passed the check no longer do.
    CheckFails = "check-fails", "the check finds new errors";
    /// A proof says otherwise what it was made with, when or what it read, and is not another proof.
    ProofRewritten = "proof-rewritten", "proof rewritten";
    /// A sheet or record repeats the readings of another.
    ReadingsCopied = "readings-copied", "readings copied";
    /// Where and which way angles count, how the rotor turns, what the machine points at, which key is fitted.
    ConventionChanged = "convention-changed", "convention changed";
    ToleranceLoosened = "tolerance-loosened", "tolerance loosened";
    /// Without any limit, everything is within.
    ToleranceLost = "tolerance-lost", "tolerance lost";
    SpeedRaised = "speed-raised", "speed raised";
    /// A limit of the rotor, of the machine or of a check lets through more than before.
    LimitLoosened = "limit-loosened", "limit loosened";
    CalibrationVoid = "calibration-void", "calibration void";
    /// A check mass reads outside its band.
    CheckMassOut = "check-mass-out", "check mass outside its band";
    /// What was measured and signed says something else.
    RecordAltered = "record-altered", "record altered";
    /// What was measured on a day, and is in a sheet, says something else or is gone.
    MeasurementAltered = "measurement-altered", "measurement altered";
    RecordRemoved = "record-removed", "record removed";
    ReleasedWithoutNewRevision = "released-without-new-revision", "released sheet changed without a new revision";
    ReleasedRemoved = "released-removed", "released sheet removed";
    ReleaseWithdrawn = "release-withdrawn", "release withdrawn";
    SheetReleased = "sheet-released", "sheet released";
    /// A released sheet has an earlier revision than before: two cards may have the same one.
    RevisionGoesBack = "revision-goes-back", "revision goes back";
    /// A record whose own facts are what they were says something else.
    RecordReadsOtherwise = "record-reads-otherwise", "record reads otherwise";
    ResultLost = "result-lost", "result no longer computed";
    PinnedResultChanged = "pinned-result-changed", "pinned result changed";
    /// The check has warnings of a sheet that was released without them.
    ReleasedWarned = "released-warned", "released sheet gains warnings";
    CautionRemoved = "caution-removed", "caution removed";
    SourceRemoved = "source-removed", "source removed";
    CheckWeakened = "check-weakened", "check weakened";
    /// A record goes on after what it said, which is as it was.
    RecordContinued = "record-continued", "record continued";
}
