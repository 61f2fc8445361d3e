//! One run of the rotor.

use super::choices::*;
use super::define::*;

block! {
    /// One run of the rotor.
    Run named Own;

    /// The speed of the run.
    SPEED: Speed = "speed".measured()
        .headline()
        .silent(Silent::Finding);
    /// Whether calibration or trial masses were on the rotor; asked for where the setup has a `calibrate` block or leaves a trial
    /// mass on.
    CALIBRATION_MASSES: CalibrationMasses = "calibration masses".silent(Silent::Finding);
    /// How far the rotor was turned against its arbor.
    TURNED_ON_ARBOR_BY: Angle = "turned on arbor by".measured().any_sign().silent(Silent::Finding);
    /// Whose zero mark the angles count from.
    ANGLES_FROM: AnglesFrom = "angles from".silent(Silent::Finding);
    /// Whether the rotor was taken out and put back before this run.
    REMOUNTED: YesNo = "remounted".silent(Silent::Finding);
    /// Whether the rotor was corrected since the run before, and what was done is not written.
    CORRECTION_NOT_RECORDED: YesNo = "correction not recorded".silent(Silent::Finding);
    /// The extra masses that were off in this run. Those that the rotor has in service are then put into what was read.
    WITHOUT: AllNamed<ExtraMassName> = "without".silent(Silent::Finding);
    /// Where the sliding weights of a plane stood, weight 1 first.
    WEIGHTS_AT: List<Angle> = "weights at".such_as("30 deg, 150 deg").per(Plane).measured().any_sign()
        .silent(Silent::Finding);
    /// What one channel reads.
    READING: Reading = "reading".per(Channel).measured().or_zero().silent(Silent::Finding);
    /// What strobe or pointer shows for one channel: the clock place of the mark, or the number at the pointer.
    SHOWS: ClockOrAngle = "shows".per(Channel).measured().any_sign().silent(Silent::Finding);
    /// On a static stand: the angle of the rotor that came to rest below.
    HEAVY_SPOT: Angle = "heavy spot".measured().any_sign().silent(Silent::Finding);
    /// On a static stand: the mass at the plane's correction radius, opposite the heavy spot, that holds the rotor anywhere.
    BALANCED_BY: Mass = "balanced by".per(Plane).measured().silent(Silent::Finding);
    /// On a static stand: the least mass at the plane's correction radius that sets the rotor rolling.
    STARTS_WITH: Mass = "starts with".per(Plane).measured().silent(Silent::Finding);
    /// On a static stand: whether the rotor stays wherever it is turned to.
    RESTS_ANYWHERE: YesNo = "rests anywhere".silent(Silent::Finding);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// Unbalance that the run shows in a plane, or as it acts at a bearing.
        RUN_UNBALANCE = "unbalance".of_each(Each::PlaneOrBearing)
            .hint(Hint::alone().says_of()).silent();
        /// The rotor's own unbalance, where runs with it turned on its arbor have told the arbor's; what is to be
        /// corrected.
        RUN_ROTOR_UNBALANCE = "rotor unbalance".of_each(Each::Plane)
            .quiet().silent();
        /// That unbalance as a multiple of the tolerance there.
        RUN_TIMES_TOLERANCE = "times tolerance".of_each(Each::PlaneOrBearing)
            .hint(Hint::behind(" × tolerance").in_row(" ×")).silent();
        /// The sum of the unbalances in the planes.
        STATIC_UNBALANCE = "static unbalance"
            .quiet().silent();
        /// Their moment about the mass centre; about the middle of the planes where that is not known.
        COUPLE_UNBALANCE = "couple unbalance"
            .quiet().silent();
        /// The mass that the run calls for: what the plane's cuts weigh, of other methods at its correction radius.
        RUN_CORRECTION = "correction".of_each(Each::Plane)
            .hint(Hint::before("correct by ").vector(Instruction).says_of()).silent();
        /// Where to turn the sliding weights of the plane, weight 1 first.
        WEIGHTS_TO = "weights to".of_each(Each::Plane)
            .hint(Hint::before("turn weights to ").says_of()).silent();
        /// What one correction step leaves at the machine's unbalance reduction ratio.
        LEFT_AFTER_STEP = "left after a step".of_each(Each::Plane)
            .quiet().silent();
        /// How many correction steps it takes to reach the tolerance at the machine's unbalance reduction ratio.
        STEPS_NEEDED = "steps needed".of_each(Each::Plane)
            .quiet().silent();
        /// The share of the unbalance that the corrections before this run removed.
        REDUCTION = "reduction".of_each(Each::Plane)
            .hint(Hint::before("reduced by ").says_of()).silent();
        /// How the change since the run before compares with what the corrections were meant to do.
        EFFECT = "effect of correction"
            .quiet().silent();
        /// The same of a plane by itself, where it shows a slip that all planes together do not.
        EFFECT_IN_PLANE = "effect in plane".of_each(Each::Plane)
            .quiet().silent();
    }
}

choice! {
    /// Whether calibration or trial masses are on the rotor.
    CalibrationMasses {
        /// No calibration or trial mass is on the rotor.
        Off = "off",
        /// Calibration or trial masses are on the rotor.
        On = "on",
    }
}

choice! {
    /// Whose zero mark angles count from.
    AnglesFrom {
        /// Angles count from the zero mark of the rotor.
        Rotor = "rotor",
        /// Angles count from the zero mark of the arbor.
        Arbor = "arbor",
    }
}
