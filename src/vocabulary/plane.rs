//! Correction planes.

use super::choices::*;
use super::define::*;
use super::{material, proven_with};

block! {
    /// A correction plane.
    Plane named Own;

    /// Its axial place.
    AT: Length = "at".such_as("38 mm").must().any_sign()
        .proven_as(proven_with::PLANE.any())
        .also_called(&["position", "location", "axial position", "axial place", "distance"])
        .headline()
        .silent(Silent::Proven);
    /// Radius to the centre of mass of what is put on or taken off.
    RADIUS: Length = "radius".group("radius")
        .proven_as(proven_with::CORRECTION_RADIUS.any())
        .also_called(&["correction radius", "weight radius"])
        .silent(Silent::Proven);
    /// Twice the radius to that centre of mass.
    DIAMETER: Length = "diameter".such_as("268.4 mm").group("radius")
        .proven_as(proven_with::CORRECTION_DIAMETER.any())
        .also_called(&["dia", "diam"])
        .silent(Silent::Proven);
    /// Whether material is taken off or put on.
    CORRECT: CorrectBy = "correct"
        .on_card(OnCard::Always)
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// How it is corrected.
    METHOD: Method = "method"
        .on_card(OnCard::Always)
        .silent(Silent::ResultsMove);
    /// Diameter of the surface where the tool enters.
    SURFACE_DIAMETER: Length = "surface diameter".such_as("280 mm").group("surface")
        .also_called(&["outer diameter", "outside diameter", "od", "rim diameter"])
        .silent(Silent::Proven);
    /// Radius of the surface where the tool enters.
    SURFACE_RADIUS: Length = "surface radius".such_as("140 mm").group("surface").silent(Silent::Proven);
    /// Diameter of the circle on which axial holes lie.
    PITCH_DIAMETER: Length = "pitch diameter".such_as("260 mm").silent(Silent::Proven);
    /// Diameter of the drill.
    HOLE_DIAMETER: Length = "hole diameter".such_as("6 mm").silent(Silent::ResultsMove);
    /// Included angle of the drill's point.
    POINT_ANGLE: Angle = "point angle".such_as("118 deg").default("118 deg").source("common practice")
        .silent(Silent::ResultsMove);
    /// How deep a hole, flat or arc may go, from the crown of a round surface; a hole at its full diameter.
    DEPTH: Range<Length> = "depth"
        .alert(AlertCode::LimitLoosened, Grave::WhenRaised);
    /// How holes run.
    DIRECTION: HoleDirection = "direction".default("radial").silent(Silent::ResultsMove);
    /// Thickness of material where the hole goes in.
    WALL: Length = "wall".such_as("12 mm").silent(Silent::Checked);
    /// The least wall thickness to leave after a hole.
    WALL_AT_LEAST: Length = "wall at least".such_as("4 mm")
        .also_called(&["min wall", "minimum wall"])
        .alert(AlertCode::LimitLoosened, Grave::WhenReducedOrRemoved);
    /// The least distance of a hole's centre from an edge.
    EDGE_DISTANCE: Length = "edge distance".such_as("10 mm")
        .alert(AlertCode::LimitLoosened, Grave::WhenReducedOrRemoved);
    /// The least distance between the centres of two holes, where they are nearest: radial ones at their bottoms.
    HOLE_SPACING_AT_LEAST: Length = "hole spacing at least".such_as("8 mm")
        .also_called(&["hole spacing", "spacing", "pitch"])
        .alert(AlertCode::LimitLoosened, Grave::WhenReducedOrRemoved);
    /// How many holes may be drilled side by side for one correction.
    HOLES_AT_MOST: Count = "holes at most".default("1")
        .alert(AlertCode::LimitLoosened, Grave::WhenRaised);
    /// Axial width of the flat or arc.
    WIDTH: Length = "width".such_as("14 mm").silent(Silent::ResultsMove);
    /// The widest arc that may be ground, from end to end.
    FULL_ARC: Angle = "full arc".such_as("90 deg")
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// Mass of one washer, screw, clamp or sliding weight.
    MASS_EACH: Mass = "mass each".such_as("2.5 g").silent(Silent::ResultsMove);
    /// How many sliding weights the plane has.
    WEIGHTS: Count = "weights".default("2").silent(Silent::Checked);
    /// The room that one weight takes up along its groove, or round the ring that masses are put on. Where a ring without places
    /// does not state it, 10 degrees to either side of a mass are one place: common practice, no source.
    WEIGHT_LENGTH: Length = "weight length".such_as("10 mm").silent(Silent::ResultsMove);
    /// The most mass that one place takes: a numbered one, or as much of a ring as `weight length` says.
    MOST_PER_PLACE: Mass = "most per place".such_as("8 g")
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// Density of filler or putty once it has set.
    CURED_DENSITY: Density = "cured density".such_as("1.8 g/cm³").silent(Silent::ResultsMove);
    /// Depth of one slot that filler may take up.
    ROOM_PER_PLACE: Length = "room per place".such_as("12 mm").silent(Silent::ResultsMove);
    /// Width of one slot.
    SLOT_WIDTH: Length = "slot width".such_as("6 mm").silent(Silent::ResultsMove);
    /// Axial length of one slot.
    SLOT_LENGTH: Length = "slot length".such_as("20 mm").silent(Silent::ResultsMove);
    /// What is taken off or put on.
    MATERIAL: To<material::Block> = "material".silent(Silent::ResultsMove);
    /// Where masses can go: how many, evenly spaced, from which angle.
    PLACES: PlacesAround = "places"
        .proven_as(proven_with::PLACES_IN.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The direction in which the places are numbered.
    PLACES_NUMBERED: Sense = "places numbered"
        .proven_as(proven_with::PLACES_NUMBERED_IN.any())
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The places already taken.
    PLACES_USED: Positions = "places used"
        .proven_as(proven_with::PLACES_USED_IN.any())
        .silent(Silent::Checked);
    /// Angles where nothing may be corrected; a range may pass zero.
    BARRED: Ranges<Angle> = "barred".any_sign()
        .alert(AlertCode::LimitLoosened, Grave::WhenFreed);
    /// The most that the drawing allows to be corrected here.
    MOST_CORRECTION: Unbalance = "most correction".such_as("800 g·mm")
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// Permissible unbalance of this correction plane.
        PLANE_TOLERANCE = "tolerance"
            .hint(Hint::before("tolerance "))
            .headline()
            .alert(AlertCode::ToleranceLoosened, Grave::WhenRaised);
        /// Radius to the centre of mass of the correction.
        CORRECTION_RADIUS = "correction radius"
            .hint(Hint::before("radius ")).silent();
        /// The most unbalance that can be corrected in this plane by its method.
        GREATEST_CORRECTION = "greatest correction"
            .hint(Hint::before("at most ")).silent();
    }
}

choice! {
    /// Whether material is taken off or put on.
    CorrectBy {
        /// Material is taken off.
        Remove = "remove".also_called(&["removing", "subtract", "take off"]),
        /// Material is put on.
        Add = "add".also_called(&["adding", "put on"]),
        /// Material is taken off or put on, whichever is handier.
        Either = "either".also_called(&["both", "add or remove", "remove or add"]),
    }
}

choice! {
    /// How a plane is corrected.
    Method {
        /// Holes take material off.
        Drilling = "drilling".also_called(&["drill", "drilled", "holes"]),
        /// Milled flats take material off.
        Milling = "milling".also_called(&["mill", "milled"]),
        /// Grinding an arc takes material off.
        Grinding = "grinding".also_called(&["grind", "ground"]),
        /// Pieces are welded on.
        Welding = "welding".also_called(&["weld", "welded", "weld on"]),
        /// Clips are clamped on.
        Clamping = "clamping".also_called(&["clamp", "clamps", "clamped", "clips", "clip"]),
        /// Screws are put into threaded holes.
        SetScrews = "set screws".also_called(&["screws", "grub screws", "set screw"]),
        /// Washers are put under screws.
        Washers = "washers",
        /// Weights slide in a groove and are fixed at an angle.
        SlidingWeights = "sliding weights",
        /// Slots are filled with a compound that cures.
        SlotFiller = "slot filler",
        /// Balancing putty is pressed on.
        Putty = "putty",
    }
}

impl Method {
    /// What it does to the material, where it cannot do the other.
    pub const fn does(self) -> CorrectBy {
        match self {
            Self::Drilling | Self::Milling | Self::Grinding => CorrectBy::Remove,
            Self::Welding | Self::SlotFiller | Self::Putty => CorrectBy::Add,
            Self::Clamping | Self::SetScrews | Self::Washers | Self::SlidingWeights => CorrectBy::Either,
        }
    }

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
        /// Towards the axis, from the surface.
        Radial = "radial",
        /// Parallel to the axis, from a face.
        Axial = "axial",
    }
}
