//! What the machine shows.

use super::choices::*;
use super::define::*;
use super::proven_with;
use crate::units::Dimension;

block! {
    /// What the machine shows.
    Readout;

    /// The quantity that the amount indicator shows.
    SHOWS: Shown = "shows".must()
        .headline()
        .silent(Silent::ResultsMove);
    /// The unit of what it shows; `div` needs none.
    UNIT: UnitOf<ReadoutAmount> = "unit".silent(Silent::ResultsMove);
    /// Which value of an oscillation it shows.
    VALUE: OscillationValue = "value"
        .proven_as(proven_with::READOUT_VALUE.any())
        .silent(Silent::ResultsMove);
    /// The largest amount it shows.
    FULL_SCALE: ReadoutAmount = "full scale".such_as("100 div")
        .also_called(&["fsd", "range"])
        .silent(Silent::ResultsMove);
    /// The smallest difference it shows.
    SMALLEST_STEP: ReadoutAmount = "smallest step".such_as("0.2 div").silent(Silent::ResultsMove);
    /// How far repeated readings lie from their mean at most.
    SCATTER: ReadoutAmount = "scatter".such_as("0.1 div").silent(Silent::ResultsMove);
    /// How it shows angles.
    ANGLES: AngleDisplay = "angles".must()
        .proven_as(proven_with::READOUT_ANGLES.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The smallest difference of angle it shows.
    ANGLE_STEP: Angle = "angle step".such_as("1 deg").silent(Silent::ResultsMove);
    /// The direction in which the angles that it measures grow; numbers read off the rotor are the rotor's own.
    ANGLES_COUNT: Sense = "angles count"
        .proven_as(proven_with::READOUT_COUNTS.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// What is read under the strobe.
    STROBE_SHOWS: StrobeShows = "strobe shows"
        .proven_as(proven_with::STROBE_SHOWS.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// Where the pointer stands, as seen.
    POINTER_AT: Clock = "pointer at"
        .proven_as(proven_with::POINTER_AT.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The end from which rotor and pointer are looked at.
    POINTER_SEEN_FROM: End = "pointer seen from"
        .proven_as(proven_with::POINTER_SEEN_FROM.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}

choice! {
    /// The quantity that an amount indicator shows.
    Shown {
        /// Divisions of a scale, which calibration gives a meaning.
        Divisions = "div",
        /// The unbalance itself.
        Unbalance = "unbalance".also_called(&["g·mm", "g*mm", "oz·in", "oz*in", "g·in"]),
        /// The mass at the radius that is set on the panel.
        MassAtSetRadius = "mass at set radius".also_called(&["mass", "g", "grams"]),
        /// How far the supports move.
        Displacement = "displacement".also_called(&["µm", "um", "mils", "mil"]),
        /// How fast the supports move.
        Velocity = "velocity".also_called(&["mm/s", "in/s"]),
    }
}

impl Shown {
    /// What its amounts measure.
    pub const fn dimension(self) -> Dimension {
        match self {
            Self::Divisions => Dimension::DIVISION,
            Self::Unbalance => Dimension::UNBALANCE,
            Self::MassAtSetRadius => Dimension::MASS,
            Self::Displacement => Dimension::LENGTH,
            Self::Velocity => Dimension::VELOCITY,
        }
    }
}

choice! {
    /// Which value of an oscillation is shown.
    OscillationValue {
        /// From the middle to the farthest point.
        Peak = "peak",
        /// From one farthest point to the other: twice the peak.
        PeakToPeak = "peak to peak".also_called(&["peak-peak", "pk-pk", "p-p", "pp", "peak-to-peak"]),
        /// The root mean square: the peak of a sine divided by the root of two.
        Rms = "rms".also_called(&["effective", "r.m.s."]),
    }
}

choice! {
    /// How a readout shows angles.
    AngleDisplay {
        /// No angle is shown.
        NotShown = "none",
        /// A strobe makes a mark or number on the rotor stand still.
        ByStrobe = "by strobe",
        /// The angle is shown as a number.
        Measured = "measured",
    }
}

choice! {
    /// What is read under the strobe.
    StrobeShows {
        /// The number on the rotor that is seen at the pointer.
        NumberAtPointer = "number at pointer",
        /// Where the mark on the rotor is seen, as on a clock.
        ClockPlaceOfMark = "clock place of mark",
    }
}
