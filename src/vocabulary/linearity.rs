//! Proof that readings are in proportion.

use super::define::*;

block! {
    /// Twice the mass in this plane, and what both channels read.
    Linearity named Plane;

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
        /// How far the reading departs from the one in proportion to the mass.
        DEPARTURE_FROM_LINE = "departure from line"
            .hint(Hint::before("off the line by ")).silent();
    }
}
