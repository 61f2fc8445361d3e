//! The check mass.

use super::define::*;

block! {
    /// The mass that shows, before a kept sheet is used again, that it still holds.
    CheckMass;

    /// The plane it is put in.
    PLANE: Named<PlaneName> = "plane".must()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// The check mass.
    MASS: Mass = "mass".must().measured()
        .headline()
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
    /// What it must read.
    READING: Reading = "reading".derived().demand()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// How far the reading may be off before the sheet is not to be used.
    WITHIN: PercentageOrAmount = "within"
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// A day on which it was put on, and what it read.
    CHECKED: ReadingOfDay = "checked".repeats().measured().or_zero()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// How long a check holds, the proof being the first; `list --where overdue` finds what is past it.
    CHECKED_EVERY: Time = "checked every".such_as("7 d")
        .alert(AlertCode::CheckWeakened, Grave::WhenRaisedOrRemoved);
    /// The instrument that took this block's measured facts.
    INSTRUMENT: Named<InstrumentName> = "instrument".silent(Silent::Finding);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// What the check mass must read in its plane.
        CHECK_READING = "reading"
            .hint(Hint::before("reading ").left_out().with_limits())
            .headline().silent();
        /// The lowest reading at which the sheet may be used again.
        CHECK_LOWEST = "lowest reading"
            .hint(Hint::from()).silent();
        /// The highest reading at which the sheet may be used again.
        CHECK_HIGHEST = "highest reading"
            .hint(Hint::to()).silent();
        /// How far the latest check reads from what the check mass must read: the drift since the proof.
        DRIFT = "drift"
            .hint(Hint::before("drift ")).silent();
    }
}
