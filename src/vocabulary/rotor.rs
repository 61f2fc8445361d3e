//! The rotor.

use super::choices::*;
use super::define::*;
use super::proven_with;

block! {
    /// A rotor, or an assembly of rotors.
    Rotor named Own;

    /// Its drawing and issue.
    DRAWING: Text = "drawing"
        .alert(AlertCode::SourceRemoved, Grave::WhenRemoved);
    /// Its whole mass.
    MASS: Mass = "mass".such_as("4.82 kg").derived().group("mass")
        .proven_as(proven_with::ROTOR_MASS.any())
        .also_called(&[
            "weight", "test weight", "trial weight", "calibration weight", "rotor weight", "wt", "trial mass",
        ])
        .silent(Silent::ResultsMove);
    /// What scales under two places show, below zero where the rotor is held down: gives mass, mass centre and journal
    /// loads.
    WEIGHED: Weighing = "weighed".measured().any_sign().group("mass").silent(Silent::ResultsMove);
    /// Axial place of its centre of mass.
    MASS_CENTRE: Length = "mass centre".such_as("71 mm").derived().any_sign()
        .also_called(&[
            "centre of mass", "center of mass", "centre of gravity", "center of gravity", "cg", "cog", "mass center",
        ])
        .silent(Silent::ResultsMove);
    /// Where axial places count from.
    DATUM: Text = "datum".silent(Silent::Identity);
    /// The axial places of service bearings A and B.
    BEARINGS: Pair<Length> = "bearings".such_as("0 mm, 164 mm").any_sign()
        .proven_as(proven_with::BEARINGS.any())
        .also_called(&["bearing", "bearings at", "supports", "journals at"])
        .silent(Silent::ResultsMove);
    /// Whether the centre of mass is meant to lie between the bearings or outside them.
    BEARING_ARRANGEMENT: BearingArrangement = "bearing arrangement"
        .source("ISO 21940-2: inboard rotor, overhung rotor")
        .silent(Silent::Checked);
    /// The highest speed in use; it sets the tolerance.
    HIGHEST_SERVICE_SPEED: OneOrRange<Speed> = "highest service speed".such_as("3550 rpm").source("ISO 21940-11")
        .also_called(&[
            "service speed", "max service speed", "maximum service speed", "operating speed", "working speed", "rpm",
            "speed", "max speed", "maximum speed", "highest speed", "max rpm", "top speed",
        ])
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised);
    /// The speed never to be exceeded, on the machine or in use.
    HIGHEST_SAFE_SPEED: Speed = "highest safe speed".such_as("4300 rpm")
        .also_called(&[
            "safe speed", "max safe speed", "maximum safe speed", "overspeed", "burst speed", "max speed",
            "maximum speed", "highest speed", "max rpm", "top speed",
        ])
        .alert(AlertCode::SpeedRaised, Grave::WhenRaisedOrRemoved)
        .on_card(OnCard::Always);
    /// Its first bending critical speed.
    FIRST_BENDING_CRITICAL: Speed = "first bending critical".such_as("12000 rpm").silent(Silent::Checked);
    /// The mark its angles count from.
    ZERO_ANGLE: Text = "zero angle"
        .also_called(&["zero mark", "angle reference", "reference mark"])
        .on_card(OnCard::Always)
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The direction in which its angles grow.
    ANGLES_COUNT: Sense = "angles count"
        .proven_as(proven_with::ANGLES_COUNT.any())
        .on_card(OnCard::Always)
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// How it turns, and the end from which that is seen.
    ROTATION: Rotation = "rotation"
        .proven_as(proven_with::ROTATION.any())
        .on_card(OnCard::Always)
        .alert(AlertCode::ConventionChanged, Grave::WhenChanged);
    /// The diameter that must clear the bed of the machine.
    LARGEST_DIAMETER: Length = "largest diameter".such_as("315 mm")
        .also_called(&[
            "max diameter", "maximum diameter", "outer diameter", "outside diameter", "od", "dia", "diameter",
        ])
        .silent(Silent::Checked);
    /// Diameter of the journals that run in the supports.
    JOURNAL_DIAMETER: Length = "journal diameter".such_as("25 mm")
        .also_called(&["journal", "journals"])
        .silent(Silent::Checked);
    /// Moment of inertia about its axis.
    POLAR_INERTIA: Inertia = "polar inertia".such_as("0.052 kg·m²").quantity(QuantityKind::MomentOfInertia)
        .silent(Silent::ResultsMove);
    /// Moment of inertia about a diameter through its centre of mass.
    DIAMETRAL_INERTIA: Inertia = "diametral inertia".such_as("0.031 kg·m²").quantity(QuantityKind::MomentOfInertia)
        .silent(Silent::ResultsMove);
    /// The planes in which the assembly may be corrected.
    CORRECT_ONLY_IN: AllNamed<PlaneName> = "correct only in".such_as("hub, rim").silent(Silent::Checked);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);

    results {
        /// The whole mass, from weighing at two places or from the parts.
        MASS = "mass"
            .hint(Hint::before("mass ").left_out()).silent();
        /// Axial place of the centre of mass.
        MASS_CENTRE = "mass centre"
            .hint(Hint::before("centre ").left_out()).silent();
        /// The mass that bearing A carries.
        JOURNAL_LOAD_A = "journal load a"
            .quiet().silent();
        /// The mass that bearing B carries.
        JOURNAL_LOAD_B = "journal load b"
            .quiet().silent();
        /// What the tolerance leaves for correcting the assembly once parts and fits have taken theirs, added by root
        /// of squares.
        LEFT_FOR_ASSEMBLY = "left for assembly"
            .hint(Hint::before("left ")).silent();
        /// The same when parts and fits all happen to point one way.
        LEFT_AT_WORST = "left at worst"
            .quiet().silent();
        /// What is balanced first, and what last.
        ORDER_OF_BALANCING = "order of balancing"
            .quiet().silent();
        /// What the known unbalances of the parts amount to in a correction plane, as they are fitted.
        UNBALANCE_OF_PARTS = "unbalance of parts".of_each(Each::Plane)
            .quiet().silent();
        /// The mass that corrects that.
        CORRECTION_FOR_PARTS = "correction for parts".of_each(Each::Plane)
            .quiet().silent();
        /// What they amount to once the parts are turned to each other as they leave least.
        CLOCKED_UNBALANCE = "clocked unbalance".of_each(Each::Plane)
            .quiet().silent();
        /// How the positions of the parts were searched.
        CLOCKING_SEARCH = "clocking search"
            .quiet().silent();
    }
}

choice! {
    /// Where the centre of mass is meant to lie with respect to the bearings.
    BearingArrangement {
        /// The centre of mass lies between the bearings.
        Inboard = "inboard",
        /// The centre of mass lies outside the bearings.
        Overhung = "overhung",
    }
}

choice! {
    /// How a rotor turns, and from which end that is seen.
    Rotation {
        /// It turns clockwise for somebody who looks at the drive end.
        ClockwiseFromDriveEnd = "clockwise seen from drive end"
            .also_called(&["clockwise from drive end", "cw from drive end", "cw seen from drive end"]),
        /// It turns anticlockwise for somebody who looks at the drive end.
        AnticlockwiseFromDriveEnd = "anticlockwise seen from drive end"
            .also_called(&["anticlockwise from drive end", "ccw from drive end", "ccw seen from drive end"]),
        /// It turns clockwise for somebody who looks at the tail end.
        ClockwiseFromTailEnd = "clockwise seen from tail end"
            .also_called(&["clockwise from tail end", "cw from tail end", "cw seen from tail end"]),
        /// It turns anticlockwise for somebody who looks at the tail end.
        AnticlockwiseFromTailEnd = "anticlockwise seen from tail end"
            .also_called(&["anticlockwise from tail end", "ccw from tail end", "ccw seen from tail end"]),
    }
}

impl Rotation {
    /// Whether it turns clockwise, seen from the end that it names.
    pub const fn is_clockwise(self) -> bool {
        matches!(self, Self::ClockwiseFromDriveEnd | Self::ClockwiseFromTailEnd)
    }

    /// Whether another one is the same rotation, from whichever end either is seen.
    pub fn is_same_as(self, other: Self) -> bool {
        (self.is_clockwise() == other.is_clockwise()) == (self.seen_from() == other.seen_from())
    }

    /// The end from which that is seen.
    pub const fn seen_from(self) -> End {
        match self {
            Self::ClockwiseFromDriveEnd | Self::AnticlockwiseFromDriveEnd => End::DriveEnd,
            Self::ClockwiseFromTailEnd | Self::AnticlockwiseFromTailEnd => End::TailEnd,
        }
    }
}
