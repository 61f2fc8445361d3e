//! What a setup was proven with.

use super::define::*;
use super::{arbor, machine};

block! {
    /// What the sheet said on the day of the proof, which does not change any more. Tools write it; records are judged by it.
    ProvenWith;

    /// The revision of the sheet that was proven; another one has not been.
    REVISION: Text = "revision".silent(Silent::Proven);
    /// The machine it was proven on; another one voids the calibration.
    MACHINE: To<machine::Block> = "machine"
        .proven("proven on")
        .silent(Silent::Proven);
    /// The arbor it was proven on; another one voids the calibration.
    ARBOR: To<arbor::Block> = "arbor"
        .proven("proven on")
        .silent(Silent::Proven);
    /// The speed it was proven at; another one voids the calibration.
    BALANCING_SPEED: Speed = "balancing speed"
        .proven("proven at")
        .silent(Silent::Proven);
    /// Where the belt ran; elsewhere it voids the calibration.
    BELT_RUNS_ON: Length = "belt runs on".such_as("120 mm")
        .proven("proven with the belt on")
        .silent(Silent::Proven);
    /// The step of the pulley; another one voids the calibration.
    PULLEY: Length = "pulley".such_as("90 mm")
        .proven("proven with {}")
        .silent(Silent::Proven);
    /// Where the supports stood; elsewhere the calibration is void.
    SUPPORTS_AT: Pair<Length> = "supports at".such_as("0 mm, 164 mm").any_sign()
        .proven("proven with supports at")
        .silent(Silent::Proven);
    /// The mass of the rotor; another one voids the calibration.
    ROTOR_MASS: Mass = "rotor mass".such_as("4.82 kg")
        .proven("proven with {}")
        .silent(Silent::Proven);
    /// Where the bearings were, by which limits and levers of the day hold.
    BEARINGS: Pair<Length> = "bearings".such_as("0 mm, 164 mm").any_sign().silent(Silent::Proven);
    /// The correction radius of a plane that day.
    CORRECTION_RADIUS: Length = "correction radius".per(Plane).silent(Silent::Proven);
    /// Twice that radius, where the rotor says the diameter.
    CORRECTION_DIAMETER: Length = "correction diameter".such_as("268.4 mm").per(Plane).silent(Silent::Proven);
    /// Where a correction plane was; elsewhere it voids the calibration.
    PLANE: Length = "plane".such_as("38 mm").per(Plane).any_sign()
        .proven("proven with {} at")
        .silent(Silent::Proven);
    /// The calibration mass of a plane; another one voids it.
    CALIBRATION_MASS: Mass = "calibration mass".per(Plane).measured()
        .proven("proven with {}")
        .silent(Silent::Proven);
    /// The radius at which it stood; another one voids it.
    CALIBRATION_RADIUS: Length = "calibration radius".per(Plane).measured()
        .proven("proven with {}")
        .silent(Silent::Proven);
    /// Twice that radius, where the sheet says the diameter.
    CALIBRATION_DIAMETER: Length = "calibration diameter".such_as("268.4 mm").per(Plane).measured()
        .proven("proven with {}")
        .silent(Silent::Proven);
    /// What a control was set to; another setting voids the calibration.
    SETTING: Setting = "setting".per(Control).any_sign()
        .proven("proven with {}")
        .silent(Silent::Proven);
    /// What bearing A was allowed that day.
    LIMIT_AT_BEARING_A: Unbalance = "limit at bearing a".silent(Silent::Proven);
    /// What bearing B was allowed that day.
    LIMIT_AT_BEARING_B: Unbalance = "limit at bearing b".silent(Silent::Proven);
    /// The static unbalance that was allowed that day.
    LIMIT_STATIC: Unbalance = "limit static".silent(Silent::Proven);
    /// The couple unbalance that was allowed that day.
    LIMIT_COUPLE: Couple = "limit couple".silent(Silent::Proven);
    /// What one plane was allowed that day.
    LIMIT_IN: Unbalance = "limit in".per(Plane).silent(Silent::Proven);
    /// What one channel was allowed to read that day.
    LIMIT_ON: ReadoutAmount = "limit on".such_as("2.8 mm/s").per(Channel).silent(Silent::Proven);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}
