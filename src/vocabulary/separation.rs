//! Proof that the planes are separated.

use super::define::*;

block! {
    /// A mass in this plane, and what both channels read.
    Separation named Plane;

    /// The mass put in this plane.
    MASS: Mass = "mass".must().measured()
        .headline()
        .silent(Silent::Finding);
    /// Radius to its centre.
    RADIUS: Length = "radius".measured().group("radius").silent(Silent::Finding);
    /// Twice that radius.
    DIAMETER: Length = "diameter".such_as("268.4 mm").measured().group("radius").silent(Silent::Finding);
    /// Its angle on the rotor.
    ANGLE: Angle = "angle".measured().any_sign().silent(Silent::Finding);
    /// What one channel reads.
    READING: Reading = "reading".per(Channel).measured().or_zero().silent(Silent::Finding);
    /// What strobe or pointer shows for one channel: the clock place of the mark, or the number at the pointer.
    SHOWS: ClockOrAngle = "shows".per(Channel).measured().any_sign().silent(Silent::Finding);
    /// The instrument that took this block's measured facts.
    INSTRUMENT: Named<InstrumentName> = "instrument".silent(Silent::Finding);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// Correction plane interference ratio: what another plane shows for the mass in this one, as a share of it.
        PROOF_INTERFERENCE = "interference"
            .hint(Hint::before("interference ")).silent();
        /// How far the plane's own reading departs from what the mass should read.
        OWN_READING_ERROR = "own reading error"
            .hint(Hint::before("off by ")).silent();
        /// How far from the mass the heavy spot is shown.
        OWN_ANGLE_ERROR = "own angle error"
            .quiet().silent();
    }
}
