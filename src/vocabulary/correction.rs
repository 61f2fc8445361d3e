//! What was taken off or put on in one plane.

use super::define::*;

block! {
    /// What was taken off or put on in one plane.
    Correction named Plane;

    /// The run that called for it.
    AFTER: Named<RunName> = "after";
    /// The mass taken off.
    REMOVE: Mass = "remove".derived().measured().group("mass");
    /// The mass put on.
    ADD: Mass = "add".derived().measured().group("mass");
    /// Radius to its centre.
    RADIUS: Length = "radius".measured().group("radius");
    /// Twice that radius.
    DIAMETER: Length = "diameter".measured().group("radius");
    /// Its angle on the rotor.
    ANGLE: Angle = "angle".derived().measured().any_sign();
    /// Depth of the hole, flat or arc.
    DEPTH: Length = "depth".measured();
    /// The mass put on or taken off at one place.
    PLACE: Mass = "place".per(Place).measured();
    /// The instrument that took this block's measured facts.
    INSTRUMENT: Named<InstrumentName> = "instrument";
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();

    results {
        /// The mass to take off.
        CORRECTION_REMOVE = "remove";
        /// The mass to put on.
        CORRECTION_ADD = "add";
        /// Where to take it off or put it on.
        CORRECTION_ANGLE = "angle";
        /// How deep to drill, mill or grind.
        CORRECTION_DEPTH = "depth";
        /// How many holes side by side, where one would be too deep.
        CORRECTION_HOLES = "holes";
        /// What goes where: angle, mass and depth at each place.
        CORRECTION_PLACES = "places";
        /// The angle between the sliding weights.
        CORRECTION_SPREAD = "spread of weights";
        /// What whole pieces leave, where it is then in excess.
        LEFT_BY_ROUNDING = "left by rounding";
        /// What the plane cannot take, where it is then still in excess.
        NOT_REACHED = "not reached";
        /// What the stated correction does, as an unbalance put on.
        CORRECTION_DONE = "done";
        /// What this leaves of the unbalance in the plane, where it is then in excess.
        CORRECTION_LEFT = "left";
        /// The force that the mass pulls with at the highest service speed.
        HOLDING_FORCE = "holding force";
        /// How the stated correction stands to what the run calls for.
        CORRECTION_FIT = "fit";
    }
}
