//! The results there are: their names, where they belong, what they mean. A pin names one of these.

use crate::syntax::Kind;

/// What a block has several results of one name for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Each {
    Plane,
    Channel,
    ChannelAndPlane,
    /// A correction plane, or `bearing a` and `bearing b`.
    PlaneOrBearing,
    /// A part of an assembly.
    Part,
}

impl Each {
    pub const fn words(self) -> &'static str {
        match self {
            Each::Plane => "plane",
            Each::Channel => "channel",
            Each::ChannelAndPlane => "channel, plane",
            Each::PlaneOrBearing => "plane or bearing",
            Each::Part => "part",
        }
    }
}

/// One result by name.
#[derive(Debug, PartialEq, Eq)]
pub struct ResultSpec {
    /// As pinned in the text and shown in hints.
    pub name: &'static str,
    /// The kind of block it belongs to.
    pub block: Kind,
    /// What stands behind the name where the block has one such result for each: `unbalance hub`.
    pub per: Option<Each>,
    pub meaning: &'static str,
}

impl ResultSpec {
    /// Whether a pin of this name may mean this result: the name alone, or with what it is of behind it.
    pub fn answers_to(&self, pinned: &str) -> bool {
        match (self.per, pinned.strip_prefix(self.name)) {
            (None, Some(rest)) => rest.is_empty(),
            (Some(_), Some(rest)) => rest.strip_prefix(' ').is_some_and(|of| !of.is_empty()),
            (_, None) => false,
        }
    }
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

const fn of(block: Kind, name: &'static str, per: Option<Each>, meaning: &'static str) -> ResultSpec {
    ResultSpec { name, block, per, meaning }
}

macro_rules! per {
    () => {
        None
    };
    ($name:ident) => {
        Some(Each::$name)
    };
}

macro_rules! results {
    ($($constant:ident = $block:ident $name:literal $(of each $per:ident)? $meaning:literal;)*) => {
        $(pub static $constant: ResultSpec = of(Kind::$block, $name, per!($($per)?), $meaning);)*

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
    UNBALANCE_OF_PARTS = Rotor "unbalance of parts" of each Plane "What the known unbalances of the parts amount to in a correction plane, as they are fitted.";
    CORRECTION_FOR_PARTS = Rotor "correction for parts" of each Plane "The mass that corrects that.";
    CLOCKED_UNBALANCE = Rotor "clocked unbalance" of each Plane "What they amount to once the parts are turned to each other as they leave least.";
    CLOCKING_SEARCH = Rotor "clocking search" "How the positions of the parts were searched.";

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
    CLOCKING = MadeOf "clocking" "The angle in the assembly at which the part's zero mark leaves least, among its allowed positions.";

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
    SMALLEST_RESIDUAL = Calibrate "smallest residual" "The smallest residual unbalance that the machine reaches in this plane.";
    TRAVERSE_TEST_MASS = Calibrate "traverse test mass" "The mass for a traverse at the correction radius: ten times that residual.";

    TRIAL_UNBALANCE = Trial "trial unbalance" "What the trial mass puts in, at its angle.";
    CHANGE_OF_AMOUNT = Trial "change of amount" "By how much the trial mass changed the amount that is read, as a share of the amount before.";
    CHANGE_OF_ANGLE = Trial "change of angle" "By how much the trial mass turned the reading.";
    INTERFERENCE = Trial "interference" "Correction plane interference ratio: what another plane shows for the mass in this one, as a share of it.";
    INFLUENCE = Setup "influence" of each ChannelAndPlane "What a channel reads for an unbalance in a plane, and by how much the reading stands ahead of it.";
    MISFIT = Setup "misfit" "The farthest that any reading of the trials lies from what the influence coefficients explain.";
    CONDITION = Setup "condition" "Condition of the matrix of influence coefficients: by how much it may enlarge errors of the readings.";
    LIKENESS = Setup "likeness of planes" "How alike the two planes act on the two channels, from 0 to 1.";
    SEPARATION_ADVICE = Setup "advice" "How to correct planes that act alike.";
    UNBALANCE_FOUND = Setup "unbalance found" of each Plane "The unbalance in the plane before any correction, by the trial runs.";
    CALLED_FOR = Setup "correction" of each Plane "The mass at the plane's correction radius that the run as found calls for, with all trial masses off.";
    LEFT_IN_CHANNEL = Setup "left after correction" of each Channel "What the channel would still read once these corrections are made: what more channels than planes leave over.";
    DISAGREEMENT = Setup "disagreement of the runs" "By how much two ways to find the effect of the trial mass from amounts disagree.";

    RUN_UNBALANCE = Run "unbalance" of each PlaneOrBearing "Unbalance that the run shows in a plane, or as it acts at a bearing.";
    RUN_ROTOR_UNBALANCE = Run "rotor unbalance" of each Plane "The rotor's own unbalance, where runs with it turned on its arbor have told the arbor's; what is to be corrected.";
    RUN_TIMES_TOLERANCE = Run "times tolerance" of each PlaneOrBearing "That unbalance as a multiple of the tolerance there.";
    STATIC_UNBALANCE = Run "static unbalance" "The sum of the unbalances in the planes.";
    COUPLE_UNBALANCE = Run "couple unbalance" "Their moment about the mass centre; about the middle of the planes where that is not known.";
    RUN_CORRECTION = Run "correction" of each Plane "The mass at the plane's correction radius that the run calls for.";
    LEFT_AFTER_STEP = Run "left after a step" of each Plane "What one correction step leaves at the machine's unbalance reduction ratio.";
    STEPS_NEEDED = Run "steps needed" of each Plane "How many correction steps it takes to the tolerance at the machine's unbalance reduction ratio.";
    REDUCTION = Run "reduction" of each Plane "The share of the unbalance that the corrections before this run removed.";
    EFFECT = Run "effect of correction" "How the change since the run before stands to what the corrections were meant to do.";
    EFFECT_IN_PLANE = Run "effect in plane" of each Plane "The same of a plane by itself, where it shows a slip that all planes together do not.";

    CORRECTION_REMOVE = Correction "remove" "The mass to take off.";
    CORRECTION_ADD = Correction "add" "The mass to put on.";
    CORRECTION_ANGLE = Correction "angle" "Where to take it off or put it on.";
    CORRECTION_DEPTH = Correction "depth" "How deep to drill, mill or grind.";
    CORRECTION_HOLES = Correction "holes" "How many holes side by side, where one would be too deep.";
    CORRECTION_PLACES = Correction "places" "What goes where: angle, mass and depth at each place.";
    CORRECTION_SPREAD = Correction "spread of weights" "The angle between the sliding weights.";
    LEFT_BY_ROUNDING = Correction "left by rounding" "What whole pieces leave, where it is then in excess.";
    NOT_REACHED = Correction "not reached" "What the plane cannot take, where it is then still in excess.";
    CORRECTION_DONE = Correction "done" "What the stated correction does, as an unbalance put on.";
    CORRECTION_LEFT = Correction "left" "What this leaves of the unbalance in the plane, where it is then in excess.";
    HOLDING_FORCE = Correction "holding force" "The force that the mass pulls with at the highest service speed.";
    CORRECTION_FIT = Correction "fit" "How the stated correction stands to what the run calls for.";

    ARBOR_UNBALANCE = Record "arbor unbalance" of each Plane "The arbor's own unbalance, in its angles, from runs with the rotor turned on it.";
    ROTOR_UNBALANCE = Record "rotor unbalance" of each Plane "The rotor's own unbalance, without the arbor's.";
    INDEX_SCATTER = Record "index scatter" of each Plane "The farthest that an indexed run lies from what arbor and rotor together explain.";
    MEASURED = Record "measured" of each PlaneOrBearing "The unbalance that is judged.";
    COMBINED_ERROR = Record "combined error" of each PlaneOrBearing "What the measurement does not see: errors of arbor, fit and mounting, by root of squares.";
    ERRORS = Record "errors" of each PlaneOrBearing "Each of these errors.";
    ACCEPTANCE_LIMIT = Record "limit" of each PlaneOrBearing "What the measured unbalance must not exceed: the tolerance less the combined error.";
    LATER_LIMIT = Record "limit at a later check" of each PlaneOrBearing "What it must not exceed when checked elsewhere: the tolerance and the combined error.";
    VERDICT_AT = Record "verdict at" of each PlaneOrBearing "Whether the tolerance is kept there: within, not shown, over.";
    VERDICT = Record "verdict" "Whether the rotor is within its tolerance: within, not shown, over.";
    REASONS = Record "reasons" "What the verdict rests on.";

    RESIDUAL = Traverse "residual" "The residual unbalance, from all readings.";
    RESIDUAL_OF_EXTREMES = Traverse "residual by extremes" "The same from the largest and the smallest reading alone.";
    RESIDUAL_AT = Traverse "heavy spot" "Where the residual unbalance is in excess.";
    TRAVERSE_TEST = Traverse "test of the machine" "Whether the machine reaches its smallest residual, where the test mass is ten times that: passes, does not pass.";
    DEPARTURE = Traverse "departure from mean" "The largest share by which a reading departs from their mean.";

    PROOF_INTERFERENCE = Separation "interference" "Correction plane interference ratio: what another plane shows for the mass in this one, as a share of it.";
    OWN_READING_ERROR = Separation "own reading error" "How far the plane's own reading departs from what the mass should read.";
    OWN_ANGLE_ERROR = Separation "own angle error" "How far from the mass the heavy spot is shown.";
    DEPARTURE_FROM_LINE = Linearity "departure from line" "How far the reading departs from the one in proportion to the mass.";
    RETURN_TO_START = Proof "return to start" of each Channel "How far the reading without masses moved, as a share of the reading at tolerance.";
    REPEATABILITY = Proof "repeatability" of each Channel "How far remounting moves the reading from its mean at most, as a share of the reading at tolerance.";

    CALIBRATION_HOLDS = Setup "calibration" "Whether the sheet still is as it was proven: holds, or void with the cause.";

    CHECK_READING = CheckMass "reading" "What the check mass must read in its plane.";
    CHECK_LOWEST = CheckMass "lowest reading" "The lowest reading at which the sheet may be used again.";
    CHECK_HIGHEST = CheckMass "highest reading" "The highest reading at which the sheet may be used again.";
}

/// The results that belong to a kind of block.
pub fn results_of(block: Kind) -> impl Iterator<Item = &'static ResultSpec> {
    RESULTS.iter().copied().filter(move |result| result.block == block)
}
