//! Trial runs.

use super::define::*;

block! {
    /// One run with a known mass in one plane, or the run as found without any.
    Trial named Own;

    /// The plane that carries the trial mass.
    MASS_IN: Named<PlaneName> = "mass in"
        .headline()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// The trial mass.
    MASS: Mass = "mass".measured()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// Radius to its centre.
    RADIUS: Length = "radius".measured().group("radius")
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// Twice that radius.
    DIAMETER: Length = "diameter".such_as("268.4 mm").measured().group("radius")
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// Its angle on the rotor.
    ANGLE: Angle = "angle".measured().any_sign()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// What happens to it before the next run.
    TRIAL_MASS: TrialMassAfter = "trial mass".silent(Silent::Finding);
    /// The speed of the run.
    SPEED: Speed = "speed".measured()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// What one channel reads.
    READING: Reading = "reading".per(Channel).measured().or_zero()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// What strobe or pointer shows for one channel: the clock place of the mark, or the number at the pointer.
    SHOWS: ClockOrAngle = "shows".per(Channel).measured().any_sign()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// The instrument that took this block's measured facts.
    INSTRUMENT: Named<InstrumentName> = "instrument".silent(Silent::Finding);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// What the trial mass puts in, at its angle.
        TRIAL_UNBALANCE = "trial unbalance"
            .hint(Hint::alone()).silent();
        /// By how much the trial mass changed the amount that is read, as a share of the amount before.
        CHANGE_OF_AMOUNT = "change of amount"
            .quiet().silent();
        /// By how much the trial mass turned the reading.
        CHANGE_OF_ANGLE = "change of angle"
            .quiet().silent();
        /// Correction plane interference ratio: what another plane shows for the mass in this one, as a share of it.
        INTERFERENCE = "interference"
            .hint(Hint::before("interference ")).silent();
        /// What one channel reads of unbalance in a plane at the speed of these trials, where that is another than the
        /// balancing speed; beside their run as found.
        SET_INFLUENCE = "influence".of_each(Each::ChannelAndPlane)
            .quiet().silent();
        /// The unbalance that trials at such a speed find in a plane.
        SET_FOUND = "unbalance found".of_each(Each::Plane)
            .quiet().silent();
        /// The mass that they call for.
        SET_CORRECTION = "correction".of_each(Each::Plane)
            .quiet().silent();
    }
}

choice! {
    /// What happens to a trial mass before the next run.
    TrialMassAfter {
        /// It comes off before the next run.
        TakenOff = "taken off",
        /// It stays on in the runs that follow.
        LeftOn = "left on",
    }
}
