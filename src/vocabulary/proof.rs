//! What shows that a setup may be trusted.

use super::define::*;
use super::{arbor, machine};

block! {
    /// What shows that the setup may be trusted; a released sheet needs it.
    Proof;

    /// When it was proven.
    DATE: Date = "date"
        .headline()
        .on_card(OnCard::Always);
    /// Who proved it.
    BY: Text = "by"
        .on_card(OnCard::Always);
    /// The revision of the sheet that was proven; another one has not been.
    REVISION: Text = "revision";
    /// The machine it was proven on; another one voids the calibration.
    MACHINE: To<machine::Block> = "machine"
        .proven("proven on");
    /// The arbor it was proven on; another one voids the calibration.
    ARBOR: To<arbor::Block> = "arbor"
        .proven("proven on");
    /// The speed it was proven at; another one voids the calibration.
    BALANCING_SPEED: Speed = "balancing speed"
        .proven("proven at");
    /// Where the belt ran; elsewhere it voids the calibration.
    BELT_RUNS_ON: Length = "belt runs on"
        .proven("proven with the belt on");
    /// The step of the pulley; another one voids the calibration.
    PULLEY: Length = "pulley"
        .proven("proven with {}");
    /// Where the supports stood; elsewhere the calibration is void.
    SUPPORTS_AT: Pair<Length> = "supports at".any_sign()
        .proven("proven with supports at");
    /// The mass of the rotor; another one voids the calibration.
    ROTOR_MASS: Mass = "rotor mass"
        .proven("proven with {}");
    /// Where a correction plane was; elsewhere it voids the calibration.
    PLANE: Length = "plane".per(Plane).any_sign()
        .proven("proven with {} at");
    /// The calibration mass of a plane; another one voids it.
    CALIBRATION_MASS: Mass = "calibration mass".per(Plane)
        .proven("proven with {}");
    /// The radius at which it stood; another one voids it.
    CALIBRATION_RADIUS: Length = "calibration radius".per(Plane)
        .proven("proven with {}");
    /// Twice that radius, where the sheet says the diameter.
    CALIBRATION_DIAMETER: Length = "calibration diameter".per(Plane)
        .proven("proven with {}");
    /// What a control was set to; another setting voids the calibration.
    SETTING: Setting = "setting".per(Control).any_sign()
        .proven("proven with {}");
    /// What one channel reads before any mass is put on.
    START_READING: Reading = "start reading".per(Channel).measured().or_zero();
    /// What one channel reads when all masses are off again.
    BACK_AT_START: Reading = "back at start".per(Channel).measured().or_zero();
    /// What one channel reads each time the rotor was taken out and put back.
    REMOUNTED: Readings = "remounted".per(Channel).measured().or_zero();
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();

    results {
        /// How far the reading without masses moved, as a share of the reading at tolerance.
        RETURN_TO_START = "return to start".of_each(Each::Channel)
            .hint(Hint::before("back within "));
        /// How far remounting moves the reading from its mean at most, as a share of the reading at tolerance.
        REPEATABILITY = "repeatability".of_each(Each::Channel)
            .hint(Hint::before("repeats within "));
    }
}
