//! The setup: one rotor on one machine.

use super::define::*;
use super::{arbor, machine, masses, rotor};

block! {
    /// The sheet: one rotor on one machine.
    Setup named Own;

    /// The rotor that is set up.
    ROTOR: To<rotor::Block> = "rotor".must()
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// The machine it is set up on.
    MACHINE: To<machine::Block> = "machine".must()
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// The arbor that carries it.
    ARBOR: To<arbor::Block> = "arbor"
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// The set from which calibration and trial masses are taken.
    MASSES: To<masses::Block> = "masses";
    /// The setup whose facts hold here too where this one gives none.
    LIKE: To<Block> = "like";
    /// Facts and blocks of the other setup that do not hold here.
    LEAVE_OUT: LineHeads = "leave out".own();
    /// Whether the sheet may be used at the machine.
    STATUS: Status = "status".own().default("draft");
    /// Its revision.
    REVISION: Text = "revision".own();
    /// Who wrote it.
    BY: Text = "by".own();
    /// When it was written.
    DATE: Date = "date".own();
    /// The speed at which the machine measures.
    BALANCING_SPEED: Speed = "balancing speed".must()
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised)
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// The band in which a run counts as run at the same speed.
    SAME_SPEED_WITHIN: Percentage = "same speed within".default("3 %").source("common practice");
    /// How the technician finds the balancing speed.
    SPEED_FOUND_BY: SpeedFoundBy = "speed found by";
    /// The speed at which rotor and supports resound.
    RESONANCE_FOUND_AT: Speed = "resonance found at";
    /// The diameter on the rotor that the belt runs on.
    BELT_RUNS_ON: Length = "belt runs on"
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// The speed of the motor.
    MOTOR_SPEED: Speed = "motor speed".derived()
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised);
    /// The step of the motor pulley that is used.
    PULLEY: Length = "pulley"
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// The axial places of the machine's supports, left first.
    SUPPORTS_AT: Pair<Length> = "supports at".any_sign()
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// What the machine's angle points at.
    INDICATES: Indicates = "indicates";
    /// What the readout shows at the tolerance of a plane.
    TOLERANCE_READS: Divisions = "tolerance reads".demand();
    /// The reading to come below before calibration begins.
    PRE_BALANCE_TO: Reading = "pre-balance to".demand();
    /// The plane that a channel reads once the planes are separated.
    CHANNEL: Named<PlaneName> = "channel".per(Channel)
        .alert(AlertCode::CalibrationVoid, Grave::WhenChanged);
    /// Whether the trial runs were made before the dials were set, and so say nothing of readings since.
    TRIALS_MADE: TrialsMade = "trials made".default("as calibrated");
    /// How planes and supports lie to each other on hard supports.
    ARRANGEMENT: Layout = "arrangement".derived().group("dimensions");
    /// Distance from the left support to the left plane.
    A: Length = "a".derived().any_sign();
    /// Distance between the planes.
    B: Length = "b".derived();
    /// Distance from the right plane to the right support.
    C: Length = "c".derived().any_sign();
    /// Correction radius of the left plane.
    R1: Length = "r1".derived();
    /// Correction radius of the right plane.
    R2: Length = "r2".derived();
    /// Depth of hole for which the sheet's table of divisions stops.
    DRILLED_TO: Length = "drilled to";
    /// A caution of the shop's own.
    CAUTION: Text = "caution".repeats()
        .alert(AlertCode::CautionRemoved, Grave::WhenRemovedOrChanged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();

    results {
        /// The motor speed that gives the balancing speed.
        MOTOR_SPEED = "motor speed";
        /// The lowest speed that counts as the balancing speed.
        LOWEST_SAME_SPEED = "lowest same speed";
        /// The highest speed that counts as the balancing speed.
        HIGHEST_SAME_SPEED = "highest same speed";
        /// Balancing speed divided by the resonance of rotor and supports.
        RESONANCE_RATIO = "resonance ratio";
        /// Rotor and arbor together.
        MASS_ON_MACHINE = "mass on machine";
        /// How planes and supports lie to each other.
        ARRANGEMENT = "arrangement";
        /// Distance from the left support to the left plane, to key in.
        DISTANCE_A = "a";
        /// Distance between the planes, to key in.
        DISTANCE_B = "b";
        /// Distance from the right plane to the right support, to key in.
        DISTANCE_C = "c";
        /// Correction radius of the left plane, to key in.
        RADIUS_1 = "r1";
        /// Correction radius of the right plane, to key in.
        RADIUS_2 = "r2";
        /// What a channel reads for an unbalance in a plane, and by how much the reading stands ahead of it.
        INFLUENCE = "influence".of_each(Each::ChannelAndPlane);
        /// The farthest that any reading of the trials lies from what the influence coefficients explain.
        MISFIT = "misfit";
        /// Condition of the matrix of influence coefficients: by how much it may enlarge errors of the readings.
        CONDITION = "condition";
        /// How alike the two planes act on the two channels, from 0 to 1.
        LIKENESS = "likeness of planes";
        /// How to correct planes that act alike.
        SEPARATION_ADVICE = "advice";
        /// The unbalance in the plane before any correction, by the trial runs.
        UNBALANCE_FOUND = "unbalance found".of_each(Each::Plane);
        /// The mass at the plane's correction radius that the run as found calls for, with all trial masses off.
        CALLED_FOR = "correction".of_each(Each::Plane);
        /// What the channel would still read once these corrections are made: what more channels than planes leave
        /// over.
        LEFT_IN_CHANNEL = "left after correction".of_each(Each::Channel);
        /// By how much two ways to find the effect of the trial mass from amounts disagree.
        DISAGREEMENT = "disagreement of the runs";
        /// Whether the sheet still is as it was proven: holds, or void with the cause.
        CALIBRATION_HOLDS = "calibration"
            .alert(AlertCode::CalibrationVoid, Grave::WhenVoid);
    }
}

choice! {
    /// Whether a sheet may be used at the machine.
    Status {
        Draft = "draft",
        Released = "released",
    }
}

choice! {
    /// How the balancing speed is found.
    SpeedFoundBy {
        Peak = "peak",
        Tachometer = "tachometer",
    }
}

choice! {
    /// What the angle of a machine points at.
    Indicates {
        HeavySpot = "heavy spot",
        LightSpot = "light spot",
    }
}

choice! {
    /// When trial runs were made with respect to the calibration.
    TrialsMade {
        BeforeCalibration = "before calibration",
        AsCalibrated = "as calibrated",
    }
}

choice! {
    /// How planes and supports lie to each other.
    Layout {
        PlanesBetweenSupports = "planes between supports",
        LeftPlaneOutside = "left plane outside",
        RightPlaneOutside = "right plane outside",
        BothOutsideLeft = "both outside left",
        BothOutsideRight = "both outside right",
        OnePlaneOutsideEachSupport = "one plane outside each support",
    }
}
