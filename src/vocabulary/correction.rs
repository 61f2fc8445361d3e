//! What was taken off or put on in one plane.

use super::define::*;

/// The column of [`result::CORRECTION_PLACES`](super::result::CORRECTION_PLACES) that says by how much a cut gets deeper.
pub const DEEPER: &str = "deeper";

block! {
    /// What was taken off or put on in one plane.
    Correction named Plane;

    /// The run that called for it.
    AFTER: Named<RunName> = "after".silent(Silent::Finding);
    /// The mass taken off.
    REMOVE: Mass = "remove".derived().measured().group("mass")
        .headline()
        .silent(Silent::Finding);
    /// The mass put on.
    ADD: Mass = "add".derived().measured().group("mass")
        .headline()
        .silent(Silent::Finding);
    /// Radius to its centre.
    RADIUS: Length = "radius".measured().group("radius").silent(Silent::Finding);
    /// Twice that radius.
    DIAMETER: Length = "diameter".such_as("268.4 mm").measured().group("radius").silent(Silent::Finding);
    /// Its angle on the rotor.
    ANGLE: Angle = "angle".derived().measured().any_sign().silent(Silent::Finding);
    /// Depth of the hole, flat or arc, from the crown of a round surface. Of a cut that is made deeper, its whole depth: what
    /// it took before is not taken again.
    DEPTH: Length = "depth".such_as("4.4 mm").measured().silent(Silent::Finding);
    /// The mass put on at one place.
    ADD_PLACE: Mass = "add place".per(Place).measured().silent(Silent::Finding);
    /// The mass taken off at one place.
    REMOVE_PLACE: Mass = "remove place".per(Place).measured().silent(Silent::Finding);
    /// The instrument that took this block's measured facts.
    INSTRUMENT: Named<InstrumentName> = "instrument".silent(Silent::Finding);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// The mass to take off; what the chips of cuts weigh.
        CORRECTION_REMOVE = "remove"
            .hint(Hint::before("remove ").left_out().with_limits()).silent();
        /// The mass to put on.
        CORRECTION_ADD = "add"
            .hint(Hint::before("add ").left_out().with_limits()).silent();
        /// Where to take it off or put it on.
        CORRECTION_ANGLE = "angle"
            .hint(Hint::before("at ").left_out()).silent();
        /// How deep to drill, mill or grind.
        CORRECTION_DEPTH = "depth"
            .hint(Hint::before("depth ").left_out().with_limits()).silent();
        /// How many equal holes side by side, where one would be too deep.
        CORRECTION_HOLES = "holes"
            .hint(Hint::before("holes ")).silent();
        /// What goes where: angle, mass and depth at each place. A mass below zero is the other way: one that is on comes off.
        /// A cut that is there may go deeper: by how much, and its whole depth.
        CORRECTION_PLACES = "places"
            .quiet().silent();
        /// What the proposed pieces, or the point of a drill, leave, where it is then in excess.
        LEFT_BY_ROUNDING = "left by rounding"
            .hint(Hint::before("rounding leaves ")).silent();
        /// What the plane cannot take, where it is then still in excess.
        NOT_REACHED = "not reached"
            .hint(Hint::before("not reached ")).silent();
        /// What the stated correction does, as an unbalance put on.
        CORRECTION_DONE = "done"
            .quiet().silent();
        /// What this leaves of the unbalance in the plane, where it is then in excess.
        CORRECTION_LEFT = "left"
            .hint(Hint::before("leaves ").vector(BeyondUncertainty)).silent();
        /// The centrifugal force of the mass at the highest service speed.
        HOLDING_FORCE = "holding force"
            .quiet().silent();
        /// How the stated correction compares with what the run calls for.
        CORRECTION_FIT = "fit"
            .quiet().silent();
    }
}
