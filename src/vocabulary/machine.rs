//! The balancing machine.

use super::define::*;

block! {
    /// A balancing machine of the shop: what it takes and what it shows.
    Machine named Own;

    /// What carries the rotor: soft supports sense motion, hard ones force; knife edges and rollers let it roll; or its own
    /// bearings.
    SUPPORTS: Supports = "supports".must().source("ISO 21940-2").silent(Silent::Checked);
    /// Where it works with respect to the resonance of rotor and supports.
    WORKS: Works = "works".silent(Silent::Checked);
    /// What turns the rotor.
    DRIVE: Drive = "drive".silent(Silent::Checked);
    /// The masses it takes, arbor included.
    ROTOR_MASS: Range<Mass> = "rotor mass"
        .alert(AlertCode::LimitLoosened, Grave::WhenWidened);
    /// The largest diameter that clears the bed.
    SWING: Length = "swing".such_as("800 mm")
        .alert(AlertCode::LimitLoosened, Grave::WhenRaisedOrRemoved);
    /// The journal diameters its supports take.
    JOURNALS: Range<Length> = "journals".such_as("10 mm to 60 mm")
        .alert(AlertCode::LimitLoosened, Grave::WhenWidened);
    /// The distances its supports can be set to.
    BETWEEN_SUPPORTS: Range<Length> = "between supports".such_as("80 mm to 900 mm")
        .alert(AlertCode::LimitLoosened, Grave::WhenWidened);
    /// The speeds at which it can measure.
    BALANCING_SPEED: Ranges<Speed> = "balancing speed"
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised);
    /// The speeds of its motor.
    MOTOR_SPEED: Ranges<Speed> = "motor speed".such_as("700 rpm to 2800 rpm")
        .alert(AlertCode::SpeedRaised, Grave::WhenRaised);
    /// Diameter of the motor pulley, or of each step of it.
    PULLEY: List<Length> = "pulley".such_as("60 mm, 90 mm, 120 mm").silent(Silent::Checked);
    /// The share of speed lost between pulley and rotor.
    BELT_SLIP: Percentage = "belt slip".such_as("2 %").or_zero().default("0 %").silent(Silent::ResultsMove);
    /// The least residual unbalance per plane that it can reach.
    MINIMUM_ACHIEVABLE_RESIDUAL_UNBALANCE: Unbalance = "minimum achievable residual unbalance".such_as("5 g·mm")
        .group("smallest residual")
        .source("ISO 21940-2; tested as in ISO 21940-21")
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// The least residual unbalance divided by the mass on the machine.
    MINIMUM_ACHIEVABLE_RESIDUAL_SPECIFIC_UNBALANCE: SpecificUnbalance = "minimum achievable residual specific unbalance".such_as("0.5 g·mm/kg")
        .quantity(QuantityKind::SpecificUnbalance).group("smallest residual").source("ISO 21940-2")
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// The share of an unbalance that one correction step removes.
    UNBALANCE_REDUCTION_RATIO: Percentage = "unbalance reduction ratio".such_as("85 %")
        .source("ISO 21940-2; tested as in ISO 21940-21")
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// When the smallest residual and the reduction ratio were last tested.
    TESTED: Date = "tested".silent(Silent::Identity);
    /// How long such a test holds; `list --where overdue` finds what is past it.
    TESTED_EVERY: Time = "tested every".such_as("180 d")
        .alert(AlertCode::CheckWeakened, Grave::WhenRaisedOrRemoved);
    /// When it was moved, repaired or opened; calibrations from before are void.
    SERVICED: Date = "serviced".repeats()
        .alert(AlertCode::MeasurementAltered, Grave::WhenRemovedOrChanged);
    /// How long the machine runs between services; `list --where overdue` finds what is past it.
    SERVICED_EVERY: Time = "serviced every".such_as("365 d")
        .alert(AlertCode::CheckWeakened, Grave::WhenRaisedOrRemoved);
    /// The names of its measuring channels, left first.
    CHANNELS: AllNamed<ChannelName> = "channels".such_as("left, right").silent(Silent::ResultsMove);
    /// A remark in the shop's own words.
    NOTE: Text = "note".repeats().silent(Silent::Remark);
}

choice! {
    /// What carries the rotor.
    Supports {
        /// Supports that give way, so that motion is measured, above their resonance.
        Soft = "soft".also_called(&["soft-bearing", "soft bearing", "soft bearings", "flexible"]),
        /// Supports that hardly move, so that force is measured, below their resonance.
        Hard = "hard".also_called(&["hard-bearing", "hard bearing", "hard bearings", "rigid", "stiff"]),
        /// Level edges on which the rotor rolls to rest by its own weight.
        KnifeEdges = "knife edges".also_called(&["knives", "parallel bars", "ways"]),
        /// Freely turning discs on which the rotor turns to rest by its own weight.
        Rollers = "rollers".also_called(&["discs", "disks"]),
        /// The rotor runs in the bearings of its own machine.
        InPlace = "in place".also_called(&["in situ", "own bearings", "field"]),
    }
}

impl Supports {
    /// Whether the rotor rolls to rest by its own weight, and nothing is read at a speed.
    pub const fn is_stand(self) -> bool {
        matches!(self, Self::KnifeEdges | Self::Rollers)
    }
}

choice! {
    /// Where a machine works with respect to the resonance of rotor and supports.
    Works {
        /// Faster than the resonance of rotor and supports.
        AboveResonance = "above resonance",
        /// At the resonance of rotor and supports, where readings are largest.
        AtResonance = "at resonance",
        /// Slower than the resonance of rotor and supports.
        BelowResonance = "below resonance",
    }
}

choice! {
    /// What turns the rotor.
    Drive {
        /// A belt around the rotor.
        Belt = "belt",
        /// A shaft that is coupled to an end of the rotor.
        End = "end",
        /// A jet of air.
        Air = "air",
        /// The drive that the rotor has of its own.
        Own = "own".also_called(&["own drive", "self", "self-drive"]),
    }
}
