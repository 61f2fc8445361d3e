//! The test mass put at each of several places in turn.

use super::define::*;

block! {
    /// A test mass put at each of several places in turn; gives the residual unbalance without trusting angles.
    Traverse named Plane;

    /// The test mass.
    MASS: Mass = "mass".must().measured()
        .headline()
        .silent(Silent::Finding);
    /// Radius to its centre.
    RADIUS: Length = "radius".measured().group("radius").silent(Silent::Finding);
    /// Twice that radius.
    DIAMETER: Length = "diameter".such_as("268.4 mm").measured().group("radius").silent(Silent::Finding);
    /// Where it was put in turn.
    PLACES: PlacesAround = "places".must().silent(Silent::Finding);
    /// The channel that was read.
    CHANNEL: Named<ChannelName> = "channel".silent(Silent::Finding);
    /// One reading a place, in order.
    READINGS: Readings = "readings".must().measured().or_zero().silent(Silent::Finding);
    /// The instrument that took this block's measured facts.
    INSTRUMENT: Named<InstrumentName> = "instrument".silent(Silent::Finding);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// The residual unbalance, from all readings.
        RESIDUAL = "residual"
            .hint(Hint::before("residual ")).silent();
        /// The same from the largest and the smallest reading alone.
        RESIDUAL_OF_EXTREMES = "residual by extremes"
            .quiet().silent();
        /// Where the residual unbalance is in excess.
        RESIDUAL_AT = "heavy spot"
            .hint(Hint::before("heavy spot at ")).silent();
        /// Whether the machine reaches its smallest residual, where the test mass is ten times that: passes, does not
        /// pass.
        TRAVERSE_TEST = "test of the machine"
            .quiet().silent();
        /// The largest share by which a reading departs from their mean.
        DEPARTURE = "departure from mean"
            .quiet().silent();
    }
}
