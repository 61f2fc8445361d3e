//! What shows that a setup may be trusted, one day.

use super::define::*;
use super::run;

block! {
    /// Evidence, from one day, that the setup can be trusted; a released sheet needs one. Its name is free.
    Proof named Own;

    /// The day on which it was proven. The latest proof with a `proven with` is compared with the sheet; older ones serve
    /// their records.
    DATE: Date = "date".must()
        .headline()
        .on_card(OnCard::Always)
        .silent(Silent::Identity);
    /// Who proved it.
    BY: Text = "by"
        .on_card(OnCard::Always)
        .silent(Silent::Identity);
    /// What was set with the calibration mass of a plane, taken as `taken as` of its calibration says: one reading, the mean
    /// of two, or their vector difference. It gives the value of one division.
    CALIBRATION_READING: Reading = "calibration reading".per(Plane).measured().silent(Silent::Proven);
    /// What one channel reads before any mass is put on.
    START_READING: Reading = "start reading".per(Channel).measured().or_zero().silent(Silent::Proven);
    /// What strobe or pointer shows for one channel before any mass is put on.
    START_SHOWS: ClockOrAngle = "start shows".per(Channel).measured().any_sign().silent(Silent::Proven);
    /// What one channel reads when all masses are off again.
    BACK_AT_START: Reading = "back at start".per(Channel).measured().or_zero().silent(Silent::Proven);
    /// What strobe or pointer then shows for it.
    BACK_SHOWS: ClockOrAngle = "back shows".per(Channel).measured().any_sign().silent(Silent::Proven);
    /// What one channel reads each time the rotor was taken out and put back.
    REMOUNTED: Readings = "remounted".per(Channel).measured().or_zero().silent(Silent::Proven);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// How far the reading without masses moved, as a share of the reading at tolerance.
        RETURN_TO_START = "return to start".of_each(Each::Channel)
            .hint(Hint::before("back within ")).silent();
        /// The most that remounting moves the reading from its mean, as a share of the reading at tolerance.
        REPEATABILITY = "repeatability".of_each(Each::Channel)
            .hint(Hint::before("repeats within ")).silent();
    }
}

/// The fact that holds what strobe or pointer shows beside a reading.
pub fn shows_beside(reading: Fact<Reading>) -> Fact<ClockOrAngle> {
    match () {
        () if reading.words() == START_READING.words() => START_SHOWS,
        () if reading.words() == BACK_AT_START.words() => BACK_SHOWS,
        () => run::SHOWS,
    }
}
