//! The shop and its rules.

use super::Choice;
use super::define::*;
use super::value_type::{NameOf, ValueType};

block! {
    /// The shop and its rules; one a book, in `book.rotor`, which marks the root of the book.
    Shop named Own;

    /// The version of this format that the book is written in.
    FORMAT: Count = "format".must().silent(Silent::Identity);
    /// The units of what is worked out, one of each dimension; what is written or pinned in a unit keeps it.
    SHOW_IN: OutputUnits = "show in".default("g·mm, mm").silent(Silent::Identity);
    /// How many times the tolerance of a plane its calibration unbalance should be.
    CALIBRATION_UNBALANCE: NumberRange = "calibration unbalance".default("5 to 20").source("common practice")
        .alert(AlertCode::CheckWeakened, Grave::WhenWidened);
    /// The highest accepted uncertainty of a reading to set, as k = 2.
    CALIBRATION_UNCERTAINTY: Percentage = "calibration uncertainty".default("5 %").source("common practice")
        .alert(AlertCode::CheckWeakened, Grave::WhenRaised);
    /// The highest accepted correction plane interference ratio.
    INTERFERENCE: Percentage = "interference".default("5 %").source("term: ISO 21940-2")
        .alert(AlertCode::CheckWeakened, Grave::WhenRaised);
    /// Lines of the budget without which nothing is within: these, or stated balance errors by their names in quotes.
    VERDICT_NEEDS: BudgetLines = "verdict needs"
        .alert(AlertCode::CheckWeakened, Grave::WhenRemovedOrChanged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats()
        .also_called(&["remark", "remarks", "comment", "comments", "notes"])
        .silent(Silent::Remark);
}

/// Several lines of the budget.
#[derive(Debug)]
pub enum BudgetLines {}

impl Takes for BudgetLines {
    const VALUE: ValueType = ValueType::Names(NameOf::Listed(<BudgetLine as Choice>::CHOICES));
}

choice! {
    /// A line of the budget behind a verdict.
    BudgetLine {
        /// How finely and how steadily the amount is read.
        Reading = "reading",
        /// How finely the dials were set.
        DialSetting = "dial setting",
        /// What the proof found of gain, linearity and return to the start.
        Calibration = "calibration",
        /// What unbalance in the other planes adds to a reading.
        Interference = "interference",
        /// How well the angle is known.
        Angle = "angle",
        /// The couple that one plane alone does not show.
        Couple = "couple",
        /// How far readings differ when the rotor is taken out and put back.
        Mounting = "mounting",
        /// The arbor's own unbalance, and its fit.
        Arbor = "arbor",
        /// Unbalance of keys and half keys.
        Keys = "keys",
        /// How well the masses that calibrated are known.
        Masses = "masses",
        /// Unbalance of the drive.
        Drive = "drive",
        /// How far a run may be from the balancing speed.
        Speed = "speed",
        /// How far the rotor may bend at its service speed.
        Bending = "bending",
        /// How well trial runs determine the influence of a mass.
        Trials = "trials",
        /// How well the distances between planes and bearings are known.
        Levers = "levers",
    }
}

impl BudgetLine {
    /// The lines that a shop does well to ask for. Source: the errors that ISO 21940-14 has assessed (from memory).
    pub const ASKED_FOR: [Self; 4] = [Self::Calibration, Self::Mounting, Self::Arbor, Self::Drive];
}
