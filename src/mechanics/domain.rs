//! Inputs for which a formula has no answer.

use crate::units::Amount;
use std::fmt;

/// Why a formula gives nothing: which input, and what it must be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct DomainError {
    pub what: Input,
    pub must: Requirement,
}

/// What the formulas of this folder return.
pub type Computed<T> = Result<T, DomainError>;

/// The inputs that can be at fault.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Input {
    AngularPlaces,
    ArcAngle,
    BearingSpan,
    CalibrationMass,
    CalibrationUnbalance,
    Channels,
    Clearance,
    CorrectionPlanes,
    Density,
    Depth,
    Diameter,
    Direction,
    Errors,
    Force,
    Grade,
    HoleDiameter,
    HoleSpacing,
    Inertia,
    JournalLoad,
    KeySize,
    Mass,
    MassCentre,
    MinimumAchievableResidual,
    PitchRadius,
    Place,
    Places,
    PlaneDistance,
    PointAngle,
    PulleyDiameter,
    Radius,
    Reading,
    ReadingAtTolerance,
    Readings,
    ResidualUnbalance,
    Resonance,
    Result,
    Runout,
    Share,
    Slip,
    SlotLength,
    SlotSection,
    Speed,
    SpeedRatio,
    Spread,
    Stiffness,
    SurfaceRadius,
    TestUnbalance,
    Tolerance,
    TrialRuns,
    Unbalance,
    UnbalanceReductionRatio,
    WeighingPlaces,
    Width,
}

/// What the input at fault must be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Requirement {
    BeFinite,
    BePositive,
    NotBeNegative,
    BeGiven,
    NotCoincide,
    /// Within the range that the function states.
    BeWithinRange,
    /// A direction between two places less than half a turn apart.
    /// A cut that ends before the rotor's axis.
    EndBeforeTheAxis,
    /// No more than this way of correcting can give.
    BeWithinReach,
    /// At least what the drill's tip alone takes off.
    ExceedTheTip,
    /// Runs of which each adds something that the others do not.
    TellThePlanesApart,
    /// Each changes the readings, and no two of them in one proportion.
    ActApart,
    /// Not fewer than there are planes.
    BeAsManyAsThePlanes,
    /// As many as a curve round the rotor takes.
    BeAtLeastSix,
    /// Amounts that some unbalance explains.
    FitOneUnbalance,
    /// At least one limit for each plane.
    HoldEveryPlane,
}

impl fmt::Display for DomainError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.what, self.must)
    }
}

impl std::error::Error for DomainError {}

impl fmt::Display for Input {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Input::AngularPlaces => "the angular places",
            Input::ArcAngle => "the full arc",
            Input::BearingSpan => "the places of the two bearings",
            Input::CalibrationMass => "the calibration mass",
            Input::CalibrationUnbalance => "the calibration unbalance",
            Input::Channels => "the channels that are read",
            Input::Clearance => "the clearance",
            Input::CorrectionPlanes => "the places of the two correction planes",
            Input::Density => "the density",
            Input::Depth => "the depth",
            Input::Diameter => "the diameter",
            Input::Direction => "the direction",
            Input::Errors => "the errors",
            Input::Force => "the force",
            Input::Grade => "the balance quality grade",
            Input::HoleDiameter => "the hole diameter",
            Input::HoleSpacing => "the hole spacing",
            Input::Inertia => "the moment of inertia",
            Input::JournalLoad => "the journal load",
            Input::KeySize => "the size of the key",
            Input::Mass => "the mass",
            Input::MassCentre => "the mass centre",
            Input::MinimumAchievableResidual => "the minimum achievable residual unbalance",
            Input::PitchRadius => "the radius of the pitch circle",
            Input::Place => "the axial place",
            Input::Places => "the number of places",
            Input::PlaneDistance => "the distance of the planes",
            Input::PointAngle => "the point angle",
            Input::PulleyDiameter => "the pulley diameter",
            Input::Radius => "the radius",
            Input::Reading => "the reading",
            Input::ReadingAtTolerance => "the reading at tolerance",
            Input::Readings => "the readings",
            Input::ResidualUnbalance => "the residual unbalance",
            Input::Resonance => "the resonance speed",
            Input::Result => "the result",
            Input::Runout => "the runout",
            Input::Share => "the share of the first plane",
            Input::Slip => "the slip",
            Input::SlotLength => "the filled length of the slot",
            Input::SlotSection => "the section of the slot",
            Input::Speed => "the speed",
            Input::SpeedRatio => "the ratio to the resonance speed",
            Input::Spread => "the spread of the weights",
            Input::Stiffness => "the stiffness",
            Input::SurfaceRadius => "the surface radius",
            Input::TestUnbalance => "the test unbalance",
            Input::Tolerance => "the tolerance",
            Input::TrialRuns => "the trial runs",
            Input::Unbalance => "the unbalance",
            Input::UnbalanceReductionRatio => "the unbalance reduction ratio",
            Input::WeighingPlaces => "the two weighing places",
            Input::Width => "the width",
        })
    }
}

impl fmt::Display for Requirement {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Requirement::BeFinite => "must be finite",
            Requirement::BePositive => "must be above zero",
            Requirement::NotBeNegative => "must not be below zero",
            Requirement::BeGiven => "must be given",
            Requirement::NotCoincide => "must not coincide",
            Requirement::BeWithinRange => "must be within its range",
            Requirement::EndBeforeTheAxis => "must end before the rotor's axis",
            Requirement::BeWithinReach => "must not exceed what can be corrected this way",
            Requirement::ExceedTheTip => "must be at least what the tip of the drill takes off",
            Requirement::TellThePlanesApart => {
                "must be one more than the planes, each with a mass, place or angle of its own"
            }
            Requirement::ActApart => "must each change the readings, and not in one proportion in all channels",
            Requirement::BeAsManyAsThePlanes => "must be at least as many as the planes",
            Requirement::BeAtLeastSix => "must be at least six, at equal steps round the rotor",
            Requirement::FitOneUnbalance => "must fit one unbalance",
            Requirement::HoldEveryPlane => "must limit every plane",
        })
    }
}

pub(super) fn demand(holds: bool, what: Input, must: Requirement) -> Computed<()> {
    if holds { Ok(()) } else { Err(DomainError { what, must }) }
}

pub(super) fn finite<T: Amount>(value: T, what: Input) -> Computed<T> {
    demand(value.raw().is_finite(), what, Requirement::BeFinite).map(|()| value)
}

pub(super) fn positive<T: Amount>(value: T, what: Input) -> Computed<T> {
    demand(finite(value, what)?.raw() > 0.0, what, Requirement::BePositive).map(|()| value)
}

pub(super) fn not_negative<T: Amount>(value: T, what: Input) -> Computed<T> {
    demand(finite(value, what)?.raw() >= 0.0, what, Requirement::NotBeNegative).map(|()| value)
}

/// A result, unless inputs beyond any rotor made it overflow.
pub(super) fn settled<T: Amount>(value: T) -> Computed<T> {
    finite(value, Input::Result)
}

#[cfg(test)]
mod tests {
    use super::super::tolerance::permissible_unbalance;
    use super::super::weighing::{Placed, journal_loads};
    use crate::units::{Length, Mass, Speed, Velocity};

    #[test]
    fn an_error_names_the_input_and_what_it_must_be() {
        let grade = Velocity::millimetres_per_second(6.3);
        let error = permissible_unbalance(grade, Mass::kilograms(4.0), Speed::ZERO).unwrap_err();
        assert_eq!(error.to_string(), "the speed must be above zero");
        let error = permissible_unbalance(grade, Mass::kilograms(f64::NAN), Speed::rpm(100.0)).unwrap_err();
        assert_eq!(error.to_string(), "the mass must be finite");
        let rotor = Placed { mass: Mass::kilograms(4.0), at: Length::ZERO };
        let error = journal_loads(rotor, Length::ZERO, Length::ZERO).unwrap_err();
        assert_eq!(error.to_string(), "the places of the two bearings must not coincide");
    }
}
