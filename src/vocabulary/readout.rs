//! What the machine shows.

use super::choices::*;
use super::define::*;
use crate::units::Dimension;

block! {
    /// What the machine shows.
    Readout;

    /// The quantity that the amount indicator shows.
    SHOWS: Shown = "shows".must()
        .headline();
    /// The unit of what it shows; `div` needs none.
    UNIT: UnitOf<ReadoutAmount> = "unit";
    /// Which value of an oscillation it shows.
    VALUE: OscillationValue = "value";
    /// The largest amount it shows.
    FULL_SCALE: ReadoutAmount = "full scale"
        .also_called(&["fsd", "range"]);
    /// The smallest difference it shows.
    SMALLEST_STEP: ReadoutAmount = "smallest step";
    /// How far repeated readings lie from their mean at most.
    SCATTER: ReadoutAmount = "scatter";
    /// How it shows angles.
    ANGLES: AngleDisplay = "angles".must()
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The smallest difference of angle it shows.
    ANGLE_STEP: Angle = "angle step";
    /// The direction in which the angles that it measures grow; numbers read off the rotor are the rotor's own.
    ANGLES_COUNT: Sense = "angles count"
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// What is read under the strobe.
    STROBE_SHOWS: StrobeShows = "strobe shows"
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// Where the pointer stands, as seen.
    POINTER_AT: Clock = "pointer at"
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The end from which rotor and pointer are looked at.
    POINTER_SEEN_FROM: End = "pointer seen from"
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();
}

choice! {
    /// The quantity that an amount indicator shows.
    Shown {
        Divisions = "div",
        Unbalance = "unbalance".also_called(&["g·mm", "g*mm", "oz·in", "oz*in", "g·in"]),
        MassAtSetRadius = "mass at set radius".also_called(&["mass", "g", "grams"]),
        Displacement = "displacement".also_called(&["µm", "um", "mils", "mil"]),
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
        Peak = "peak",
        PeakToPeak = "peak to peak".also_called(&["peak-peak", "pk-pk", "p-p", "pp", "peak-to-peak"]),
        Rms = "rms".also_called(&["effective", "r.m.s."]),
    }
}

choice! {
    /// How a readout shows angles.
    AngleDisplay {
        NotShown = "none",
        ByStrobe = "by strobe",
        Measured = "measured",
    }
}

choice! {
    /// What is read under the strobe.
    StrobeShows {
        NumberAtPointer = "number at pointer",
        ClockPlaceOfMark = "clock place of mark",
    }
}
