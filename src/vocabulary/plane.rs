//! Correction planes.

use super::choices::*;
use super::define::*;
use super::{material, proven_with};

block! {
    /// A correction plane.
    Plane named Own;

    /// Its axial place.
    AT: Length = "at".must().any_sign()
        .proven_as(proven_with::PLANE.any())
        .also_called(&["position", "location", "axial position", "axial place", "distance"])
        .headline();
    /// Radius to the centre of mass of what is put on or taken off.
    RADIUS: Length = "radius".group("radius")
        .proven_as(proven_with::CORRECTION_RADIUS.any())
        .also_called(&["correction radius", "weight radius"]);
    /// Twice the radius to that centre of mass.
    DIAMETER: Length = "diameter".group("radius")
        .proven_as(proven_with::CORRECTION_DIAMETER.any())
        .also_called(&["dia", "diam"]);
    /// Whether material is taken off or put on.
    CORRECT: CorrectBy = "correct"
        .on_card(OnCard::Always)
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// How it is corrected.
    METHOD: Method = "method"
        .on_card(OnCard::Always);
    /// Diameter of the surface where the tool enters.
    SURFACE_DIAMETER: Length = "surface diameter".group("surface")
        .also_called(&["outer diameter", "outside diameter", "od", "rim diameter"]);
    /// Radius of the surface where the tool enters.
    SURFACE_RADIUS: Length = "surface radius".group("surface");
    /// Diameter of the circle on which axial holes lie.
    PITCH_DIAMETER: Length = "pitch diameter";
    /// Diameter of the drill.
    HOLE_DIAMETER: Length = "hole diameter";
    /// Included angle of the drill's point.
    POINT_ANGLE: Angle = "point angle".default("118 deg").source("common practice");
    /// How deep a hole, flat or arc may go; a hole at its full diameter.
    DEPTH: Range<Length> = "depth"
        .alert(AlertCode::LimitLoosened, Grave::WhenRaised);
    /// How holes run.
    DIRECTION: HoleDirection = "direction".default("radial");
    /// Thickness of material where the hole goes in.
    WALL: Length = "wall";
    /// The wall that must be left behind a hole.
    WALL_AT_LEAST: Length = "wall at least"
        .also_called(&["min wall", "minimum wall"])
        .alert(AlertCode::LimitLoosened, Grave::WhenReducedOrRemoved);
    /// The least distance of a hole's centre from an edge.
    EDGE_DISTANCE: Length = "edge distance"
        .alert(AlertCode::LimitLoosened, Grave::WhenReducedOrRemoved);
    /// The least distance between the centres of two holes, where they are nearest: radial ones at their bottoms.
    HOLE_SPACING_AT_LEAST: Length = "hole spacing at least"
        .also_called(&["hole spacing", "spacing", "pitch"])
        .alert(AlertCode::LimitLoosened, Grave::WhenReducedOrRemoved);
    /// How many holes may be drilled side by side for one correction.
    HOLES_AT_MOST: Count = "holes at most".default("1")
        .alert(AlertCode::LimitLoosened, Grave::WhenRaised);
    /// Axial width of the flat or arc.
    WIDTH: Length = "width";
    /// The widest arc that may be ground, from end to end.
    FULL_ARC: Angle = "full arc"
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// Mass of one washer, screw, clamp or sliding weight.
    MASS_EACH: Mass = "mass each";
    /// How many sliding weights the plane has.
    WEIGHTS: Count = "weights".default("2");
    /// The room that one sliding weight takes up along its groove.
    WEIGHT_LENGTH: Length = "weight length";
    /// The most mass that one place takes.
    MOST_PER_PLACE: Mass = "most per place"
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// Density of filler or putty once it has set.
    CURED_DENSITY: Density = "cured density";
    /// Depth of one slot that filler may take up.
    ROOM_PER_PLACE: Length = "room per place";
    /// Width of one slot.
    SLOT_WIDTH: Length = "slot width";
    /// Axial length of one slot.
    SLOT_LENGTH: Length = "slot length";
    /// What is taken off or put on.
    MATERIAL: To<material::Block> = "material";
    /// Where masses can go: how many, evenly spaced, from which angle.
    PLACES: PlacesAround = "places"
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The direction in which the places are numbered.
    PLACES_NUMBERED: Sense = "places numbered"
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The places already taken.
    PLACES_USED: Positions = "places used";
    /// Angles where nothing may be corrected; a range may pass zero.
    BARRED: Ranges<Angle> = "barred".any_sign()
        .alert(AlertCode::LimitLoosened, Grave::WhenRemovedOrChanged);
    /// The most that the drawing allows to be corrected here.
    MOST_CORRECTION: Unbalance = "most correction"
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats();

    results {
        /// Permissible unbalance of this correction plane.
        PLANE_TOLERANCE = "tolerance"
            .hint(Hint::before("tolerance "))
            .headline()
            .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
        /// Radius to the centre of mass of the correction.
        CORRECTION_RADIUS = "correction radius"
            .hint(Hint::before("radius "));
        /// The most unbalance that can be corrected in this plane by its method.
        GREATEST_CORRECTION = "greatest correction"
            .hint(Hint::before("at most "));
    }
}

choice! {
    /// Whether material is taken off or put on.
    CorrectBy {
        Remove = "remove".also_called(&["removing", "subtract", "take off"]),
        Add = "add".also_called(&["adding", "put on"]),
        Either = "either".also_called(&["both", "add or remove", "remove or add"]),
    }
}

choice! {
    /// How a plane is corrected.
    Method {
        Drilling = "drilling".also_called(&["drill", "drilled", "holes"]),
        Milling = "milling".also_called(&["mill", "milled"]),
        Grinding = "grinding".also_called(&["grind", "ground"]),
        Welding = "welding".also_called(&["weld", "welded", "weld on"]),
        Clamping = "clamping".also_called(&["clamp", "clamps", "clamped", "clips", "clip"]),
        SetScrews = "set screws".also_called(&["screws", "grub screws", "set screw"]),
        Washers = "washers",
        SlidingWeights = "sliding weights",
        SlotFiller = "slot filler",
        Putty = "putty",
    }
}

impl Method {
    /// Whether masses are put on or taken off whole: clamps, screws, washers, weld, putty.
    pub const fn is_in_pieces(self) -> bool {
        match self {
            Self::Welding | Self::Clamping | Self::SetScrews | Self::Washers | Self::Putty => true,
            Self::Drilling | Self::Milling | Self::Grinding | Self::SlidingWeights | Self::SlotFiller => false,
        }
    }
}

choice! {
    /// How holes run.
    HoleDirection {
        Radial = "radial",
        Axial = "axial",
    }
}
