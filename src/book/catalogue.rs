//! The results there are: their names, where they belong, what they mean. A pin names one of these.

use crate::syntax::Kind;

/// One result by name.
#[derive(Debug, PartialEq, Eq)]
pub struct ResultSpec {
    /// As pinned in the text and shown in hints.
    pub name: &'static str,
    /// The kind of block it belongs to.
    pub block: Kind,
    pub meaning: &'static str,
}

/// How a result is worked out.
#[derive(Debug)]
pub struct Formula {
    /// `U_per = 9549.3 · G · m ÷ n`; each symbol stands for an input, in order.
    pub text: &'static str,
    pub symbols: &'static [Symbol],
    /// The published source and its standing.
    pub source: &'static str,
}

/// A symbol of a formula.
#[derive(Clone, Copy, Debug)]
pub struct Symbol {
    pub name: &'static str,
    /// The unit that the formula's constants ask for; without one, the number is shown with the unit it is written in.
    pub unit: Option<&'static str>,
}

const fn of(block: Kind, name: &'static str, meaning: &'static str) -> ResultSpec {
    ResultSpec { name, block, meaning }
}

macro_rules! results {
    ($($constant:ident = $block:ident $name:literal $meaning:literal;)*) => {
        $(pub static $constant: ResultSpec = of(Kind::$block, $name, $meaning);)*

        /// Every result there is, in the order of the reference.
        pub static RESULTS: &[&ResultSpec] = &[$(&$constant),*];
    };
}

results! {
    MASS = Rotor "mass" "The whole mass, from weighing at two places or from the parts.";
    MASS_CENTRE = Rotor "mass centre" "Axial place of the centre of mass.";
    JOURNAL_LOAD_A = Rotor "journal load a" "The mass that bearing A carries.";
    JOURNAL_LOAD_B = Rotor "journal load b" "The mass that bearing B carries.";
    LEFT_FOR_ASSEMBLY = Rotor "left for assembly" "What the tolerance leaves for correcting the assembly once parts and fits have taken theirs, added by root of squares.";
    LEFT_AT_WORST = Rotor "left at worst" "The same when parts and fits all happen to point one way.";
    ORDER_OF_BALANCING = Rotor "order of balancing" "What is balanced first, and what last.";

    PERMISSIBLE_SPECIFIC = Tolerance "permissible specific unbalance" "Permissible unbalance divided by the mass.";
    PERMISSIBLE = Tolerance "permissible unbalance" "Permissible residual unbalance of the whole rotor.";
    GOVERNING_RULE = Tolerance "governing rule" "Which of the stated rules gives the lowest permissible unbalance.";
    EQUIVALENT_GRADE = Tolerance "equivalent grade" "The balance quality grade to which the permissible unbalance amounts at the highest service speed.";
    TOLERANCE_AT_A = Tolerance "tolerance at a" "Permissible unbalance in the plane of bearing A.";
    TOLERANCE_AT_B = Tolerance "tolerance at b" "Permissible unbalance in the plane of bearing B.";
    STATIC_LIMIT = Tolerance "static limit" "Permissible static unbalance.";
    COUPLE_LIMIT = Tolerance "couple limit" "Permissible couple unbalance.";

    PLANE_TOLERANCE = Plane "tolerance" "Permissible unbalance of this correction plane.";
    CORRECTION_RADIUS = Plane "correction radius" "Radius to the centre of mass of the correction.";
    GREATEST_CORRECTION = Plane "greatest correction" "The most unbalance that can be corrected in this plane by its method.";

    HALF_KEY_MASS = Keyway "half-key mass" "Mass of the half key.";
    WRONG_KEY_UNBALANCE = Keyway "wrong key unbalance" "Unbalance that a wrong key convention puts in.";

    FIT_UNBALANCE = MadeOf "fit unbalance" "Unbalance that the part may take up by moving in its fit.";
    RUNOUT_COUPLE = MadeOf "runout couple" "Couple unbalance from the part's face runout.";

    MOTOR_SPEED = Setup "motor speed" "The motor speed that gives the balancing speed.";
    LOWEST_SAME_SPEED = Setup "lowest same speed" "The lowest speed that counts as the balancing speed.";
    HIGHEST_SAME_SPEED = Setup "highest same speed" "The highest speed that counts as the balancing speed.";
    RESONANCE_RATIO = Setup "resonance ratio" "Balancing speed divided by the resonance of rotor and supports.";
    MASS_ON_MACHINE = Setup "mass on machine" "Rotor and arbor together.";
    ARRANGEMENT = Setup "arrangement" "How planes and supports lie to each other.";
    DISTANCE_A = Setup "a" "Distance from the left support to the left plane, to key in.";
    DISTANCE_B = Setup "b" "Distance between the planes, to key in.";
    DISTANCE_C = Setup "c" "Distance from the right plane to the right support, to key in.";
    RADIUS_1 = Setup "r1" "Correction radius of the left plane, to key in.";
    RADIUS_2 = Setup "r2" "Correction radius of the right plane, to key in.";

    CALIBRATION_UNBALANCE = Calibrate "calibration unbalance" "Mass times radius of the calibration mass.";
    TIMES_TOLERANCE = Calibrate "times tolerance" "The calibration unbalance as a multiple of the plane's tolerance.";
    CENTRIFUGAL_FORCE = Calibrate "centrifugal force" "The force that the calibration mass pulls with at balancing speed.";
    RIM_SPEED = Calibrate "rim speed" "The speed at which the calibration mass travels.";
    READING = Calibrate "reading" "The reading to set.";
    CALIBRATION_MASS = Calibrate "mass" "The calibration mass that gives the stated reading.";
    CALIBRATION_RADIUS = Calibrate "radius" "The radius that gives the stated reading.";
    SCALE = Calibrate "scale" "The scale that shows the reading best, and the reading on it.";
    RESIDUAL_ERROR = Calibrate "residual error" "The share of the reading that the rotor's own unbalance may falsify.";
    SUGGESTED_MASS = Calibrate "suggested mass" "The mass of the shop's set that suits this plane best.";
    ONE_DIVISION = Calibrate "one division" "The unbalance that one division of the readout stands for.";
    ONE_DIVISION_AS_MASS = Calibrate "one division as mass" "The same as a mass at the correction radius of the plane.";
    ONE_DIVISION_AS_DEPTH = Calibrate "one division as depth" "The same as depth of hole, flat or arc.";
    ONE_DIVISION_AS_PIECES = Calibrate "one division as pieces" "The same as washers, screws or clamps of the plane.";
    ONE_DIVISION_AS_SPREAD = Calibrate "one division as spread" "The angle between the plane's two sliding weights that makes one division.";
    DIVISION_TABLE = Calibrate "division table" "What to take off or put on for 1, 2, 5, 10 and 20 divisions: reading, unbalance, mass, depth.";
    LIMIT_TO_READ = Calibrate "limit to read" "What a readout in unbalance or mass shows at the tolerance of the plane; in divisions `tolerance reads` says it.";
    FULL_SCALE_IS = Calibrate "full scale is" "The unbalance at the end of the readout's scale.";
    PRE_BALANCE_UNBALANCE = Calibrate "pre-balance unbalance" "The unbalance to come below before calibration begins.";
    TOLERANCE_OVER_RESIDUAL = Calibrate "tolerance over residual" "The plane's tolerance divided by the smallest residual the machine can reach.";

    CHECK_READING = CheckMass "reading" "What the check mass must read in its plane.";
    CHECK_LOWEST = CheckMass "lowest reading" "The lowest reading at which the sheet may be used again.";
    CHECK_HIGHEST = CheckMass "highest reading" "The highest reading at which the sheet may be used again.";
}

/// The results that belong to a kind of block.
pub fn results_of(block: Kind) -> impl Iterator<Item = &'static ResultSpec> {
    RESULTS.iter().copied().filter(move |result| result.block == block)
}
