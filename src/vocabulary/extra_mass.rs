//! Masses out of centre that are not corrections.

use super::define::*;

block! {
    /// A mass out of centre that is not a correction: a ring that cannot come off, a key, a bob weight.
    ExtraMass named Own;

    /// What it weighs.
    MASS: Mass = "mass".such_as("12.0 g").must().measured()
        .headline()
        .silent(Silent::Finding);
    /// Radius to its centre.
    RADIUS: Length = "radius".such_as("60 mm").measured().group("radius").silent(Silent::Finding);
    /// Twice that radius.
    DIAMETER: Length = "diameter".such_as("120 mm").measured().group("radius").silent(Silent::Finding);
    /// Its angle on the rotor.
    ANGLE: Angle = "angle".measured().any_sign().silent(Silent::Finding);
    /// Its axial place.
    AT: Length = "at".such_as("40 mm").any_sign().silent(Silent::Finding);
    /// The plane that it is in; instead of `at`.
    PLANE: Named<PlaneName> = "plane".silent(Silent::Finding);
    /// The numbered place of that plane; instead of `angle`.
    PLACE: Count = "place".silent(Silent::Finding);
    /// When it is on, and what that means for readings.
    ON: On = "on".must().silent(Silent::Finding);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}

choice! {
    /// When an extra mass is on: taken out of readings, put into what is judged, a part as in service, or part of the rotor.
    On {
        /// It is on at the machine and comes off; it is taken out of readings.
        OnlyWhileBalancing = "only while balancing",
        /// It goes on after balancing; it is added to what is judged.
        OnlyInService = "only in service",
        /// It is on at the machine as it is in service; only what its mass is known to counts.
        AsInService = "as in service",
        /// It never comes off: it is part of the rotor.
        Always = "always",
    }
}

impl On {
    /// Whether it is put on for the run: it can be left off, and it weighs on the machine beside the rotor.
    pub fn is_put_on(self) -> bool {
        matches!(self, On::OnlyWhileBalancing | On::AsInService)
    }

    /// Whether what is read is not what the rotor has in service: of a mass that comes or goes with the run.
    pub fn is_read_beside(self) -> bool {
        matches!(self, On::OnlyWhileBalancing | On::OnlyInService)
    }
}
