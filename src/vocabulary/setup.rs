//! The setup: one rotor on one machine.

use super::define::*;
use super::{arbor, machine, masses, proven_with, rotor};

/// What settings, calibrations and whatever else was found on a machine were found with, in the order in which a
/// difference is told: the facts of a setup that void a proof. Read by `book::effective`.
pub const VOIDING: &[AnyFact] = &[
    MACHINE.any(),
    ROTOR.any(),
    BALANCING_SPEED.any(),
    SUPPORTS_AT.any(),
    BELT_RUNS_ON.any(),
    ARBOR.any(),
    PULLEY.any(),
    CHANNEL.any(),
    INDICATES.any(),
];

/// What gives the distances between supports and planes.
const DISTANCES: &[AnyFact] = &[MACHINE.any(), ROTOR.any(), SUPPORTS_AT.any(), ARBOR.any(), CHANNEL.any()];

block! {
    /// The sheet: one rotor on one machine.
    Setup named Own;

    /// The rotor that is set up.
    ROTOR: To<rotor::Block> = "rotor".must()
        .proven_as(proven_with::ROTOR.any())
        .silent(Silent::Proven);
    /// The machine it is set up on.
    MACHINE: To<machine::Block> = "machine".must()
        .proven_as(proven_with::MACHINE.any())
        .silent(Silent::Proven);
    /// The arbor that carries it.
    ARBOR: To<arbor::Block> = "arbor"
        .proven_as(proven_with::ARBOR.any())
        .silent(Silent::Proven);
    /// The set from which calibration and trial masses are taken.
    MASSES: To<masses::Block> = "masses"
        .proven_as(proven_with::MASSES.any())
        .silent(Silent::ResultsMove);
    /// The setup whose facts hold here too where this one gives none.
    LIKE: To<Block> = "like".silent(Silent::Inheritance);
    /// Facts and blocks of the other setup that do not hold here.
    LEAVE_OUT: LineHeads = "leave out".own().silent(Silent::Inheritance);
    /// Whether the sheet may be used at the machine.
    STATUS: Status = "status".own().default("draft").silent(Silent::Release);
    /// Its revision.
    REVISION: Text = "revision".own()
        .proven_as(proven_with::REVISION.any())
        .silent(Silent::Release);
    /// Who wrote it.
    BY: Text = "by".own()
        .also_called(&["operator", "author", "engineer", "technician", "name"])
        .on_card(OnCard::Always)
        .silent(Silent::Identity);
    /// When it was written.
    DATE: Date = "date".own()
        .on_card(OnCard::Always)
        .silent(Silent::Identity);
    /// The speed at which the machine measures.
    BALANCING_SPEED: Speed = "balancing speed".must()
        .proven_as(proven_with::BALANCING_SPEED.any())
        .also_called(&[
            "speed", "rpm", "test speed", "run speed", "balance speed", "balancing rpm", "measuring speed",
        ])
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised);
    /// The band of speed within which a run counts as made at the balancing speed.
    SAME_SPEED_WITHIN: Percentage = "same speed within".such_as("3 %").default("3 %").source("common practice")
        .alert(AlertCode::LimitLoosened, Grave::WhenRaised);
    /// How the technician finds the balancing speed.
    SPEED_FOUND_BY: SpeedFoundBy = "speed found by".silent(Silent::ResultsMove);
    /// The speed at which rotor and supports are in resonance.
    RESONANCE_FOUND_AT: Speed = "resonance found at".such_as("310 rpm")
        .found_with(&[MACHINE.any(), ROTOR.any(), SUPPORTS_AT.any(), ARBOR.any()])
        .silent(Silent::ResultsMove);
    /// The diameter on the rotor that the belt runs on.
    BELT_RUNS_ON: Length = "belt runs on".such_as("120 mm").derived()
        .found_with(VOIDING)
        .proven_as(proven_with::BELT_RUNS_ON.any())
        .also_called(&["belt diameter", "belt on", "belt"])
        .silent(Silent::Proven);
    /// The speed of the motor.
    MOTOR_SPEED: Speed = "motor speed".such_as("1450 rpm").derived()
        .found_with(&[MACHINE.any(), ROTOR.any(), BALANCING_SPEED.any(), BELT_RUNS_ON.any(), PULLEY.any()])
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised);
    /// The step of the motor pulley that is used.
    PULLEY: Length = "pulley".such_as("90 mm").derived()
        .proven_as(proven_with::PULLEY.any())
        .silent(Silent::Proven);
    /// The axial places of the machine's supports, left first.
    SUPPORTS_AT: Pair<Length> = "supports at".such_as("0 mm, 164 mm").any_sign()
        .found_with(&[MACHINE.any(), ROTOR.any(), ARBOR.any()])
        .proven_as(proven_with::SUPPORTS_AT.any())
        .silent(Silent::Proven);
    /// What holds the rotor down where it lifts off a support.
    HELD_DOWN_BY: Text = "held down by".such_as("\"hold-down roller over the left journal\"")
        .found_with(&[MACHINE.any(), ROTOR.any(), SUPPORTS_AT.any(), ARBOR.any()])
        .alert(AlertCode::CautionRemoved, Grave::WhenRemovedOrChanged);
    /// What the machine's angle points at.
    INDICATES: Indicates = "indicates"
        .proven_as(proven_with::INDICATES.any())
        .also_called(&["shows", "points at"])
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The highest reading that a channel may show with the rotor in place, in the value and with the filter of its readout.
    VIBRATION_LIMIT: ReadoutAmount = "vibration limit".such_as("2.8 mm/s").per(Channel).demand()
        .found_with(&[ROTOR.any(), BALANCING_SPEED.any()])
        .alert(AlertCode::ToleranceLoosened, Grave::WhenRaisedOrRemoved);
    /// What the readout shows at the tolerance of a plane.
    TOLERANCE_READS: Divisions = "tolerance reads".such_as("1 div").demand()
        .found_with(VOIDING)
        .also_called(&["tolerance reading", "tolerance is"])
        .silent(Silent::ResultsMove);
    /// The reading that the rotor must be below before calibration begins.
    PRE_BALANCE_TO: Reading = "pre-balance to".demand()
        .found_with(VOIDING)
        .silent(Silent::ResultsMove);
    /// The plane that a channel reads once the planes are separated.
    CHANNEL: Named<PlaneName> = "channel".per(Channel)
        .proven_as(proven_with::CHANNEL.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// Whether the trial runs were made before the dials were set, and so say nothing of readings since.
    TRIALS_MADE: TrialsMade = "trials made".default("as calibrated").silent(Silent::ResultsMove);
    /// How the planes and the supports are arranged on hard supports.
    LAYOUT: Layout = "layout".derived()
        .found_with(DISTANCES)
        .silent(Silent::ResultsMove);
    /// Distance from the left support to the left plane; positive towards the right support.
    LEFT_SUPPORT_TO_LEFT_PLANE: Length = "left support to left plane".such_as("40 mm").derived().any_sign()
        .found_with(DISTANCES)
        .silent(Silent::ResultsMove);
    /// Distance from the left plane to the right plane.
    BETWEEN_PLANES: Length = "between planes".such_as("84 mm").derived()
        .found_with(DISTANCES)
        .silent(Silent::ResultsMove);
    /// Distance from the right plane to the right support; positive towards the right support.
    RIGHT_PLANE_TO_RIGHT_SUPPORT: Length = "right plane to right support".such_as("40 mm").derived().any_sign()
        .found_with(DISTANCES)
        .silent(Silent::ResultsMove);
    /// Correction radius of the left plane.
    LEFT_RADIUS: Length = "left radius".derived()
        .found_with(DISTANCES)
        .silent(Silent::ResultsMove);
    /// Correction radius of the right plane.
    RIGHT_RADIUS: Length = "right radius".derived()
        .found_with(DISTANCES)
        .silent(Silent::ResultsMove);
    /// A caution of the shop's own.
    CAUTION: Text = "caution".repeats()
        .alert(AlertCode::CautionRemoved, Grave::WhenRemovedOrChanged);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// The motor speed that gives the balancing speed.
        MOTOR_SPEED = "motor speed"
            .hint(Hint::before("motor ").left_out()).silent();
        /// The lowest speed that counts as the balancing speed.
        LOWEST_SAME_SPEED = "lowest same speed"
            .hint(Hint::from()).silent();
        /// The highest speed that counts as the balancing speed.
        HIGHEST_SAME_SPEED = "highest same speed"
            .hint(Hint::to()).silent();
        /// Balancing speed divided by the resonance of rotor and supports.
        RESONANCE_RATIO = "resonance ratio"
            .hint(Hint::behind(" × resonance")).silent();
        /// How many times larger the supports make the reading than it is far from their resonance.
        AMPLIFICATION = "amplification"
            .quiet().silent();
        /// The pulley step that gives the balancing speed at this motor speed.
        PULLEY = "pulley"
            .hint(Hint::before("pulley ").left_out()).silent();
        /// The diameter on the rotor that the belt runs on at these speeds.
        BELT_RUNS_ON = "belt runs on"
            .hint(Hint::before("belt on ").left_out()).silent();
        /// Rotor, arbor and the extra masses that are put on, together.
        MASS_ON_MACHINE = "mass on machine"
            .quiet().silent();
        /// What the left support carries at standstill; below zero where the rotor lifts off it.
        LOAD_ON_LEFT_SUPPORT = "load on left support"
            .quiet().silent();
        /// What the right support carries at standstill; below zero where the rotor lifts off it.
        LOAD_ON_RIGHT_SUPPORT = "load on right support"
            .quiet().silent();
        /// How planes and supports lie to each other.
        LAYOUT = "layout"
            .hint(Hint::alone().left_out()).silent();
        /// Distance from the left support to the left plane; positive towards the right support.
        LEFT_SUPPORT_TO_LEFT_PLANE = "left support to left plane"
            .hint(Hint::before("left support to left plane ").left_out()).silent();
        /// Distance from the left plane to the right plane.
        BETWEEN_PLANES = "between planes"
            .hint(Hint::before("between planes ").left_out()).silent();
        /// Distance from the right plane to the right support; positive towards the right support.
        RIGHT_PLANE_TO_RIGHT_SUPPORT = "right plane to right support"
            .hint(Hint::before("right plane to right support ").left_out()).silent();
        /// Correction radius of the left plane.
        LEFT_RADIUS = "left radius"
            .hint(Hint::before("left radius ").left_out()).silent();
        /// Correction radius of the right plane.
        RIGHT_RADIUS = "right radius"
            .hint(Hint::before("right radius ").left_out()).silent();
        /// What a channel reads for an unbalance in a plane, and by how much the reading stands ahead of it.
        INFLUENCE = "influence".of_each(Each::ChannelAndPlane)
            .quiet().silent();
        /// The farthest that any reading of the trials lies from what the influence coefficients explain.
        MISFIT = "misfit"
            .quiet().silent();
        /// Condition of the matrix of influence coefficients: by how much it may enlarge errors of the readings.
        CONDITION = "condition"
            .quiet().silent();
        /// How alike the two planes act on the two channels, from 0 to 1.
        LIKENESS = "likeness of planes"
            .quiet().silent();
        /// How to correct planes that act alike.
        SEPARATION_ADVICE = "advice"
            .quiet().silent();
        /// The unbalance in the plane before any correction, by the trial runs.
        UNBALANCE_FOUND = "unbalance found".of_each(Each::Plane)
            .hint(Hint::alone().says_of()).silent();
        /// The mass that the run as found calls for, with all trial masses off: what the plane's cuts weigh, of other methods at its
        /// correction radius.
        CALLED_FOR = "correction".of_each(Each::Plane)
            .hint(Hint::before("correct by ").says_of().vector(Instruction)).silent();
        /// What the channel would still read once these corrections are made: what more channels than planes leave
        /// over.
        LEFT_IN_CHANNEL = "left after correction".of_each(Each::Channel)
            .quiet().silent();
        /// By how much two ways to find the effect of the trial mass from amounts disagree.
        DISAGREEMENT = "disagreement of the runs"
            .quiet().silent();
        /// What may be read in a plane at most, so that the setup's own budget shows every limit kept at any angles; as an
        /// unbalance, where channels together tell the planes.
        LIMIT_TO_READ = "limit to read".of_each(Each::Plane)
            .hint(Hint::before("read at most ").says_of()).silent();
        /// Whether the sheet still is as it was proven: holds, or void with the cause.
        CALIBRATION_HOLDS = "calibration"
            .hint(Hint::before("calibration "))
            .alert(AlertCode::CalibrationVoid, Grave::WhenVoid);
    }
}

choice! {
    /// Whether a sheet may be used at the machine.
    Status {
        /// It is being written and is not for use.
        Draft = "draft",
        /// It may be used at the machine.
        Released = "released",
        /// It was released once and may not be used any more.
        Withdrawn = "withdrawn",
    }
}

choice! {
    /// How the balancing speed is found.
    SpeedFoundBy {
        /// By the peak of the amount, at resonance.
        Peak = "peak",
        /// By a tachometer.
        Tachometer = "tachometer",
    }
}

choice! {
    /// What the angle of a machine points at.
    Indicates {
        /// The angle points at where material is to be taken off.
        HeavySpot = "heavy spot".also_called(&["heavy", "heavy side"]),
        /// The angle points at where material is to be put on.
        LightSpot = "light spot".also_called(&["light", "light side"]),
    }
}

choice! {
    /// When trial runs were made with respect to the calibration.
    TrialsMade {
        /// The dials were set afterwards, so the trials do not apply to later readings.
        BeforeCalibration = "before calibration",
        /// The dials stood as they do now.
        AsCalibrated = "as calibrated",
    }
}

choice! {
    /// How planes and supports lie to each other.
    Layout {
        /// Both planes lie between the supports.
        PlanesBetweenSupports = "planes between supports",
        /// The left plane lies left of the left support, the right one between both.
        LeftPlaneOutside = "left plane outside",
        /// The right plane lies right of the right support, the left one between both.
        RightPlaneOutside = "right plane outside",
        /// Both planes lie left of the left support.
        BothOutsideLeft = "both outside left",
        /// Both planes lie right of the right support.
        BothOutsideRight = "both outside right",
        /// Each plane lies outside the support on its side.
        OnePlaneOutsideEachSupport = "one plane outside each support",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_found_on_a_machine_is_found_with_what_voids_a_proof() {
        let voids = |key: &&KeySpec| {
            let kept = key.proven_as.and_then(|kept| proven_with::BLOCK.key(kept.words()));
            kept.is_some_and(|kept| kept.proven.is_some())
        };
        let mut declared: Vec<&str> = BLOCK.keys.iter().filter(voids).map(|key| key.name).collect();
        let mut listed: Vec<&str> = VOIDING.iter().map(|fact| fact.words()).collect();
        declared.sort_unstable();
        listed.sort_unstable();
        assert_eq!(declared, listed);
    }
}
