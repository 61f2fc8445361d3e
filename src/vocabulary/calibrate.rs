//! The calibration of one plane.

use super::define::*;
use super::proven_with;

block! {
    /// How one plane is calibrated: a known mass at a known radius, and the reading to set.
    Calibrate named Plane;

    /// The calibration mass.
    MASS: Mass = "mass".derived().measured()
        .yields(1)
        .proven_as(proven_with::CALIBRATION_MASS.any())
        .silent(Silent::Proven);
    /// Radius to the centre of the calibration mass.
    RADIUS: Length = "radius".derived().measured().group("radius")
        .yields(2)
        .proven_as(proven_with::CALIBRATION_RADIUS.any())
        .silent(Silent::Proven);
    /// Twice that radius.
    DIAMETER: Length = "diameter".such_as("268.4 mm").measured().group("radius")
        .yields(2)
        .proven_as(proven_with::CALIBRATION_DIAMETER.any())
        .silent(Silent::Proven);
    /// The angle on the rotor at which it is put.
    ANGLE: Angle = "angle".measured().any_sign()
        .proven_as(proven_with::CALIBRATION_ANGLE.any())
        .also_called(&["angular position"])
        .on_card(OnCard::Always)
        .silent(Silent::Proven);
    /// What strobe or pointer shows with the mass on.
    SHOWS: ClockOrAngle = "shows".any_sign()
        .proven_as(proven_with::CALIBRATION_SHOWS.any())
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// The reading to set.
    READING: Reading = "reading".derived().demand()
        .yields(0)
        .headline()
        .silent(Silent::ResultsMove);
    /// How the reading is taken, so that the rotor's own unbalance does not spoil it.
    TAKEN_AS: TakenAs = "taken as"
        .proven_as(proven_with::CALIBRATION_TAKEN_AS.any())
        .on_card(OnCard::Always)
        .silent(Silent::ResultsMove);
    /// The rotor's own unbalance at that time.
    RESIDUAL_AT_CALIBRATION: UnbalanceOrDivisions = "residual at calibration".such_as("0.3 div").or_zero()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// The instrument that took this block's measured facts.
    INSTRUMENT: Named<InstrumentName> = "instrument".silent(Silent::ResultsMove);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// Mass times radius of the calibration mass.
        CALIBRATION_UNBALANCE = "calibration unbalance"
            .quiet().silent();
        /// The calibration unbalance as a multiple of the plane's tolerance.
        TIMES_TOLERANCE = "times tolerance"
            .hint(Hint::behind(" × tolerance")).silent();
        /// The centrifugal force of the calibration mass at balancing speed.
        CENTRIFUGAL_FORCE = "centrifugal force"
            .quiet().silent();
        /// The circumferential speed of the calibration mass.
        RIM_SPEED = "rim speed"
            .quiet().silent();
        /// The reading to set.
        READING = "reading"
            .hint(Hint::before("reading ").left_out().with_limits())
            .headline().silent();
        /// The calibration mass that gives the stated reading.
        CALIBRATION_MASS = "mass"
            .hint(Hint::before("mass ").left_out().with_limits())
            .headline().silent();
        /// The radius that gives the stated reading.
        CALIBRATION_RADIUS = "radius"
            .hint(Hint::before("radius ").left_out().with_limits())
            .headline().silent();
        /// The scale that shows the reading best, and the reading on it.
        SCALE = "scale"
            .hint(Hint::alone()).silent();
        /// How far the rotor's own unbalance may falsify the reading, as a share of it.
        RESIDUAL_ERROR = "residual error"
            .quiet().silent();
        /// The mass of the shop's set that suits this plane best.
        SUGGESTED_MASS = "suggested mass"
            .quiet().silent();
        /// The unbalance that one division of the readout means.
        ONE_DIVISION = "one division"
            .hint(Hint::before("1 div = ")).silent();
        /// The same as a mass at the correction radius of the plane.
        ONE_DIVISION_AS_MASS = "one division as mass"
            .quiet().silent();
        /// The same as depth of hole, flat or arc.
        ONE_DIVISION_AS_DEPTH = "one division as depth"
            .quiet().silent();
        /// The same as washers, screws or clamps of the plane.
        ONE_DIVISION_AS_PIECES = "one division as pieces"
            .quiet().silent();
        /// The angle between the plane's two sliding weights that makes one division.
        ONE_DIVISION_AS_SPREAD = "one division as spread"
            .quiet().silent();
        /// What to take off or put on for 1, 2, 5, 10 and 20 divisions: reading, unbalance, mass, depth or pieces at a
        /// place, the same half-way between two places, and the most that the row leaves.
        DIVISION_TABLE = "division table"
            .quiet().silent();
        /// What a readout in unbalance or mass shows at the tolerance of the plane; in divisions `tolerance reads` says
        /// it.
        READING_AT_TOLERANCE = "reading at tolerance"
            .quiet().silent();
        /// The unbalance at the end of the readout's scale.
        FULL_SCALE_IS = "full scale is"
            .quiet().silent();
        /// The unbalance that the rotor must be below before calibration begins.
        PRE_BALANCE_UNBALANCE = "pre-balance unbalance"
            .quiet().silent();
        /// The plane's tolerance divided by the smallest residual the machine can reach.
        TOLERANCE_OVER_RESIDUAL = "tolerance over residual"
            .quiet().silent();
        /// The smallest residual unbalance that the machine reaches in this plane.
        SMALLEST_RESIDUAL = "smallest residual"
            .quiet().silent();
        /// The mass for a traverse at the correction radius: ten times that residual.
        TRAVERSE_TEST_MASS = "traverse test mass"
            .quiet().silent();
    }
}

choice! {
    /// How the calibration reading is taken.
    TakenAs {
        /// One reading with the mass on.
        OnePosition = "one position",
        /// The mean of two readings, with the mass half a turn apart.
        MeanOfTwoOppositePositions = "mean of two opposite positions",
        /// The vector difference of the readings with and without the mass.
        VectorDifference = "vector difference",
    }
}

/// Columns of the division table that are no results by themselves: pieces at a place, what is done half-way between two
/// places, and the most that a row leaves.
pub const PIECES: &str = "pieces";
pub const HALF_WAY: &str = "half-way";
pub const LEAVES: &str = "leaves";
