//! The formulas as people read them, with their sources. The arithmetic itself is in `mechanics`.

use Basis::{Source, Stated};

/// How a result is worked out.
#[derive(Debug)]
pub struct Formula {
    /// `U_per = 9549.3 · G · m ÷ n`; each symbol means an input, in order.
    pub text: &'static str,
    pub symbols: &'static [Symbol],
    pub basis: Basis,
}

impl Formula {
    /// The published source and its standing.
    pub const fn source(&self) -> &'static str {
        match self.basis {
            Stated => "as stated in the sheet",
            Source(source) => source,
        }
    }
}

/// What a formula rests on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Basis {
    /// The sheet states it: the result is no more than a fact repeated.
    Stated,
    /// A published source and its standing.
    Source(&'static str),
}

/// A symbol of a formula.
#[derive(Clone, Copy, Debug)]
pub struct Symbol {
    pub name: &'static str,
    /// The unit that the formula's constants ask for; without one, the number is shown with the unit it is written in.
    pub unit: Option<&'static str>,
}

const fn plain(name: &'static str) -> Symbol {
    Symbol { name, unit: None }
}

const fn inside(name: &'static str, unit: &'static str) -> Symbol {
    Symbol { name, unit: Some(unit) }
}

const ISO_11: Basis = Source("ISO 21940-11:2016, clause 6 (number from memory)");
const ISO_11_SHARES: Basis =
    Source("ISO 21940-11:2016, allocation to tolerance planes with its share limits (from memory)");
const STATICS: Basis = Source("statics of a rigid body; common practice, no source");
const BEAM: Basis = Source("statics of a beam on two supports; common practice, no source");
const PRODUCT: Basis =
    Source("the largest product of all that keep every limit at the worst phase; common practice, no source");
const CENTRIFUGAL: Basis = Source("F = m·r·Ω²; mechanics");
const OWN_RULE: Basis = Source("the format's own rule");
const PRACTICE: Basis = Source("common practice, no source");
const GEOMETRY: Basis = Source("solid geometry, checked by numerical slicing; common practice, no source");
const INFLUENCE: Basis =
    Source("influence coefficients; Rotating Machinery: Practical Solutions to Unbalance and Misalignment, chapter 5");
const BY_INDEX: Basis =
    Source("ISO 21940-14, index balancing (from memory); Machinery Component Maintenance and Repair, chapter 6");
const FOUR_W_OVER_N: Basis =
    Source("form 4W/N: API 610, API 617, MIL-STD-167-1 (from memory); metric constant 6350 = 4·62.5·25.4 exactly");

macro_rules! formulas {
    ($($constant:ident = $text:literal [$($symbol:expr),*] $basis:expr;)*) => {
        $(pub static $constant: Formula = Formula { text: $text, symbols: &[$($symbol),*], basis: $basis };)*

        /// Every formula there is.
        #[cfg(feature = "internals")]
        pub static FORMULAS: &[&Formula] = &[$(&$constant),*];
    };
}

formulas! {
    WEIGHED_MASS = "m = m₁ + m₂" [plain("m₁"), plain("m₂")] STATICS;
    MASS_OF_PARTS = "m = Σ mᵢ" [] STATICS;
    WEIGHED_CENTRE = "z = (m₁ · z₁ + m₂ · z₂) ÷ (m₁ + m₂)" [plain("m₁"), plain("z₁"), plain("m₂"), plain("z₂")] STATICS;
    CENTRE_OF_PARTS = "z = Σ mᵢ · zᵢ ÷ Σ mᵢ" [] STATICS;
    LOAD_AT_A = "m_A = m · (z_B − z) ÷ (z_B − z_A)" [plain("m"), plain("z"), plain("z_A"), plain("z_B")] STATICS;
    LOAD_AT_B = "m_B = m · (z − z_A) ÷ (z_B − z_A)" [plain("m"), plain("z"), plain("z_A"), plain("z_B")] STATICS;

    BY_GRADE = "U_per = 9549.3 · G · m ÷ n" [inside("G", "mm/s"), inside("m", "kg"), inside("n", "r/min")] ISO_11;
    AS_GIVEN = "U_per = U_total" [plain("U_total")] Stated;
    BY_JOURNAL_LOAD = "U_per = 6350 · (m_A + m_B) ÷ n" [inside("m_A", "kg"), inside("m_B", "kg"), inside("n", "r/min")] FOUR_W_OVER_N;
    BY_JOURNAL_LOAD_AT_ONE = "U = 6350 · m_J ÷ n" [inside("m_J", "kg"), inside("n", "r/min")] FOUR_W_OVER_N;
    BY_WHOLE_WEIGHT = "U_per = 2 · 6350 · m ÷ n" [inside("m", "kg"), inside("n", "r/min")] FOUR_W_OVER_N;
    BY_WHOLE_WEIGHT_AT_ONE = "U = 6350 · m ÷ n" [inside("m", "kg"), inside("n", "r/min")] FOUR_W_OVER_N;
    BY_SCALING = "U_per = U₁ · (m ÷ m₁) · (n₁ ÷ n)" [plain("U₁"), plain("m"), plain("m₁"), plain("n₁"), plain("n")] Source("ISO 21940-11, similar rotors: same specific unbalance times speed (from memory)");
    SUM_OF_BEARINGS = "U_per = U_A + U_B" [plain("U_A"), plain("U_B")] STATICS;
    SUM_OF_PLANES = "U_per = Σ Uᵢ" [] STATICS;
    STATIC_AS_TOTAL = "U_per = U_static" [plain("U_static")] Stated;
    SPECIFIC = "e_per = U_per ÷ m" [plain("U_per"), plain("m")] Source("ISO 21940-2");
    GRADE_OF = "G = U_per · n ÷ (9549.3 · m)" [inside("U_per", "g·mm"), inside("m", "kg"), inside("n", "r/min")] ISO_11;
    SHARE_AT_A = "U_A = U_per · |z_B − z| ÷ |z_B − z_A|, raised or lowered to the share limits where it lies outside them" [plain("U_per"), plain("z"), plain("z_A"), plain("z_B")] ISO_11_SHARES;
    SHARE_AT_B = "U_B = U_per · |z − z_A| ÷ |z_B − z_A|, raised or lowered to the share limits where it lies outside them" [plain("U_per"), plain("z"), plain("z_A"), plain("z_B")] ISO_11_SHARES;
    HALF_EACH = "U = U_per ÷ 2" [plain("U_per")] ISO_11_SHARES;
    BEARING_AS_GIVEN = "U = U_stated" [plain("U_stated")] Stated;

    PLANE_AS_GIVEN = "U_tol = U_stated" [plain("U_stated")] Stated;
    PLANE_BY_TWO_EQUATIONS = "U_tol = |z_B − z_A| · (U_A · |z₂ − z_A| − U_B · |z_B − z₂|) ÷ (|z_B − z₁| · |z₂ − z_A| − |z_B − z₂| · |z₁ − z_A|)" [plain("U_A"), plain("U_B"), plain("z_A"), plain("z_B"), plain("z₁"), plain("z₂")] STATICS;
    HALF_OF_ONE_BEARING = "U_tol = U_A · |z_B − z_A| ÷ (2 · |z_B − z₁|)" [plain("U_A"), plain("z_A"), plain("z_B"), plain("z₁")] PRODUCT;
    PLANE_BY_ONE_BEARING = "U_tol = U_A · |z_B − z_A| ÷ |z_B − z₁|" [plain("U_A"), plain("z_A"), plain("z_B"), plain("z₁")] STATICS;
    LARGEST_PRODUCT = "U_tol of the largest Π Uᵢ that keeps every Σ |cᵢ| · Uᵢ ≤ L" [] PRODUCT;
    SHARE_OF_FIRST_PLANE = "U_tol = U_per · |z₂ − z| ÷ |z₂ − z₁|, raised or lowered to the share limits where it lies outside them" [plain("U_per"), plain("z"), plain("z₁"), plain("z₂")] ISO_11_SHARES;
    SHARE_OF_SECOND_PLANE = "U_tol = U_per · |z − z₁| ÷ |z₂ − z₁|, raised or lowered to the share limits where it lies outside them" [plain("U_per"), plain("z"), plain("z₁"), plain("z₂")] ISO_11_SHARES;
    WHOLE_IN_ONE_PLANE = "U_tol = U_per" [plain("U_per")] ISO_11;
    HALF_WITHOUT_BEARINGS = "U_tol = U_per ÷ 2" [plain("U_per")] PRACTICE;

    RADIUS_AS_GIVEN = "r = r_stated" [plain("r_stated")] Stated;
    RADIUS_OF_DEEPEST_HOLE = "r = centre of mass of the deepest hole" [plain("R"), plain("d"), plain("L"), plain("τ"), plain("ρ")] GEOMETRY;
    RADIUS_OF_FLAT = "r = centre of mass of the deepest flat" [plain("R"), plain("t"), plain("w"), plain("ρ")] GEOMETRY;
    RADIUS_OF_ARC = "r = centre of mass of the deepest arc" [plain("R"), plain("t"), plain("w"), plain("2α"), plain("ρ")] GEOMETRY;
    MOST_BY_DRILLING_RADIALLY = "U = ρ · (V_c · (R − L ÷ 2) + V_k · (R − L − h ÷ 4) − π · d⁴ ÷ 128), holes side by side as vectors, N at most" [plain("R"), plain("d"), plain("L"), plain("τ"), plain("ρ"), plain("N"), plain("s")] GEOMETRY;
    MOST_BY_DRILLING_AXIALLY = "U = ρ · (V_c + V_k) · r, holes side by side as vectors, N at most" [plain("r"), plain("d"), plain("L"), plain("τ"), plain("ρ"), plain("N"), plain("s")] GEOMETRY;
    MOST_BY_DRILLING_RADIALLY_AT_PLACES = "U = ρ · (V_c · (R − L ÷ 2) + V_k · (R − L − h ÷ 4) − π · d⁴ ÷ 128) · |Σ cos β|, a hole at each of the free ones of N places from θ within a half turn" [plain("R"), plain("d"), plain("L"), plain("τ"), plain("ρ"), plain("N"), plain("θ")] GEOMETRY;
    MOST_BY_DRILLING_AXIALLY_AT_PLACES = "U = ρ · (V_c + V_k) · r · |Σ cos β|, a hole at each of the free ones of N places from θ within a half turn" [plain("r"), plain("d"), plain("L"), plain("τ"), plain("ρ"), plain("N"), plain("θ")] GEOMETRY;
    TAKEN_BY_RADIAL_HOLE = "U = ρ · (V_c · (R − L ÷ 2) + V_k · (R − L − h ÷ 4) − π · d⁴ ÷ 128)" [plain("R"), plain("L"), plain("d"), plain("τ"), plain("ρ")] GEOMETRY;
    TAKEN_BY_AXIAL_HOLE = "U = ρ · (V_c + V_k) · r" [plain("r"), plain("L"), plain("d"), plain("τ"), plain("ρ")] GEOMETRY;
    TAKEN_BY_GOING_DEEPER = "U = U_now − U_before" [plain("U_now"), plain("U_before")] GEOMETRY;
    MOST_BY_MILLING = "U = ρ · w · c³ ÷ 12, c = 2 · √(2 · R · t − t²)" [plain("R"), plain("t"), plain("w"), plain("ρ")] GEOMETRY;
    MOST_BY_GRINDING = "U = ⅔ · ρ · w · sin(2α ÷ 2) · (R³ − (R − t)³)" [plain("R"), plain("t"), plain("w"), plain("2α"), plain("ρ")] GEOMETRY;
    MOST_BY_SLIDING = "U = m · r · N" [plain("m"), plain("r"), plain("N")] GEOMETRY;
    MOST_OF_TWO_SIDE_BY_SIDE = "U = 2 · m · r · cos(l ÷ (2 · r))" [plain("m"), plain("r"), plain("l")] GEOMETRY;
    MOST_OF_THREE_SIDE_BY_SIDE = "U = m · r · (1 + 2 · cos(l ÷ r))" [plain("m"), plain("r"), plain("l")] GEOMETRY;
    MOST_AT_PLACES = "U = m · r · |Σ cos β|, over the free ones of N places from θ within a half turn" [plain("m"), plain("r"), plain("N"), plain("θ")] GEOMETRY;
    MOST_AT_ONE_PLACE = "U = m · r" [plain("m"), plain("r")] GEOMETRY;
    MOST_OF_FILLER = "m = ρ · w · l · h" [plain("ρ"), plain("w"), plain("l"), plain("h")] GEOMETRY;
    MOST_AS_GIVEN = "U = U_stated" [plain("U_stated")] Stated;

    HALF_KEY = "m = ρ · b · h · l ÷ 2" [plain("ρ"), plain("b"), plain("h"), plain("l")] Source("ISO 21940-32, half-key principle; simple halving of the height (from memory)");
    WRONG_KEY = "U = m_half · r" [plain("m_half"), plain("r")] Source("ISO 21940-32 (from memory)");
    FIT = "U = m · c ÷ 2" [plain("m"), plain("c")] Source("Machinery Component Maintenance and Repair, p. 282");
    FACE_RUNOUT = "U_c = (I_p − I_d) · TIR ÷ D" [plain("I_p"), plain("I_d"), plain("TIR"), plain("D")] Source("mechanics of a tilted rigid body; common practice, no source");
    LEFT_BY_SQUARES = "U = U_per − √(Σ Uᵢ²)" [] Source("root of squares as in ISO 21940-14 (from memory)");
    LEFT_BY_SQUARES_AT_BEARINGS = "U = U_J − √(Σ (cᵢ · Uᵢ)²), at the bearing where that is less" [] Source("root of squares as in ISO 21940-14 (from memory)");
    LEFT_BY_SUM_AT_BEARINGS = "U = U_J − Σ |cᵢ · Uᵢ|, at the bearing where that is less" [] Source("worst case; common practice, no source");
    LEFT_BY_SUM = "U = U_per − Σ Uᵢ" [] Source("worst case; common practice, no source");

    MOTOR_BY_BELT = "n_motor = n · D ÷ (D_pulley · (1 − s))" [plain("n"), plain("D"), plain("D_pulley"), plain("s")] Source("belt drive; from memory");
    SPEED_BAND_LOW = "n_low = n · (1 − band)" [plain("n"), plain("band")] PRACTICE;
    SPEED_BAND_HIGH = "n_high = n · (1 + band)" [plain("n"), plain("band")] PRACTICE;
    PULLEY_BY_BELT = "D_pulley = n · D ÷ (n_motor · (1 − s))" [plain("n"), plain("D"), plain("n_motor"), plain("s")] Source("belt drive; from memory");
    BELT_BY_PULLEY = "D = n_motor · D_pulley · (1 − s) ÷ n" [plain("n_motor"), plain("D_pulley"), plain("s"), plain("n")] Source("belt drive; from memory");
    SOFT_AMPLIFICATION = "r² ÷ (r² − 1)" [plain("r")] Source("undamped oscillator under unbalance, textbook; from memory");
    HARD_AMPLIFICATION = "1 ÷ (1 − r²)" [plain("r")] Source("undamped oscillator under unbalance, textbook; from memory");
    OVER_RESONANCE = "n ÷ n_res" [plain("n"), plain("n_res")] PRACTICE;
    WITH_ARBOR = "m = m_rotor + m_arbor" [plain("m_rotor"), plain("m_arbor")] STATICS;
    WITH_EXTRA = "m = m_rotor + m_extra" [plain("m_rotor"), plain("m_extra")] STATICS;
    WITH_ARBOR_AND_EXTRA_MASSES = "m = m_rotor + m_arbor + m_extra" [plain("m_rotor"), plain("m_arbor"), plain("m_extra")] STATICS;
    LOAD_ON_LEFT_SUPPORT = "m_L = m · (z_R − z) ÷ (z_R − z_L)" [plain("m"), plain("z"), plain("z_L"), plain("z_R")] BEAM;
    LOAD_ON_RIGHT_SUPPORT = "m_R = m · (z − z_L) ÷ (z_R − z_L)" [plain("m"), plain("z"), plain("z_L"), plain("z_R")] BEAM;
    LOADS_ON_LEFT_SUPPORT = "m_L = Σ mᵢ · (z_R − zᵢ) ÷ (z_R − z_L)" [] BEAM;
    LOADS_ON_RIGHT_SUPPORT = "m_R = Σ mᵢ · (zᵢ − z_L) ÷ (z_R − z_L)" [] BEAM;
    ROTOR_ALONE = "m = m_rotor" [plain("m_rotor")] STATICS;
    LEFT_SUPPORT_TO_LEFT_PLANE = "d₁ = z₁ − z_L, counted towards the right support" [plain("z_L"), plain("z₁")] STATICS;
    BETWEEN_PLANES = "d = z₂ − z₁, counted towards the right support" [plain("z₁"), plain("z₂")] STATICS;
    RIGHT_PLANE_TO_RIGHT_SUPPORT = "d₂ = z_R − z₂, counted towards the right support" [plain("z₂"), plain("z_R")] STATICS;
    SET_TO = "x, to the step of the control" [plain("x")] OWN_RULE;
    SET_TO_AMOUNT = "|x|, to the step of the control" [plain("x")] OWN_RULE;
    SET_TO_TWICE = "2 · r, to the step of the control" [plain("r")] GEOMETRY;
    LEFT_SUPPORT_TO_RIGHT_PLANE = "d₁ + d, to the step of the control" [plain("d₁"), plain("d")] STATICS;
    LEFT_SUPPORT_TO_RIGHT_PLANE_AMOUNT = "|d₁ + d|, to the step of the control" [plain("d₁"), plain("d")] STATICS;
    LEFT_PLANE_TO_RIGHT_SUPPORT = "d + d₂, to the step of the control" [plain("d"), plain("d₂")] STATICS;
    LEFT_PLANE_TO_RIGHT_SUPPORT_AMOUNT = "|d + d₂|, to the step of the control" [plain("d"), plain("d₂")] STATICS;
    BETWEEN_SUPPORTS = "d₁ + d + d₂, to the step of the control" [plain("d₁"), plain("d"), plain("d₂")] STATICS;
    BETWEEN_SUPPORTS_BY_PLACES = "|z_R − z_L|, to the step of the control" [plain("z_L"), plain("z_R")] STATICS;
    LEFT_RADIUS = "r_L = r_stated" [plain("r_stated")] Stated;
    RIGHT_RADIUS = "r_R = r_stated" [plain("r_stated")] Stated;

    MASS_TIMES_RADIUS = "U_cal = m · r" [plain("m"), plain("r")] Source("ISO 21940-2");
    OVER_TOLERANCE = "U_cal ÷ U_tol" [plain("U_cal"), plain("U_tol")] PRACTICE;
    FORCE = "F = m · r · (2π · n ÷ 60)²" [inside("m", "kg"), inside("r", "m"), inside("n", "r/min")] CENTRIFUGAL;
    RIM = "v = r · 2π · n ÷ 60" [inside("r", "m"), inside("n", "r/min")] Source("kinematics");
    READING_TO_SET = "m · r ÷ U_tol × reading at tolerance" [plain("m"), plain("r"), plain("U_tol"), plain("reading at tolerance")] PRACTICE;
    READING_AS_UNBALANCE = "m · r" [plain("m"), plain("r")] Source("the readout shows unbalance");
    READING_AS_MASS = "m · r ÷ r_plane" [plain("m"), plain("r"), plain("r_plane")] Source("the readout shows mass at the radius keyed in");
    MASS_FOR_READING = "m = reading ÷ reading at tolerance × U_tol ÷ r" [plain("reading"), plain("reading at tolerance"), plain("U_tol"), plain("r")] PRACTICE;
    RADIUS_FOR_READING = "r = reading ÷ reading at tolerance × U_tol ÷ m" [plain("reading"), plain("reading at tolerance"), plain("U_tol"), plain("m")] PRACTICE;
    MASS_FOR_UNBALANCE = "m = U ÷ r" [plain("U"), plain("r")] Source("ISO 21940-2");
    RADIUS_FOR_UNBALANCE = "r = U ÷ m" [plain("U"), plain("m")] Source("ISO 21940-2");
    MASS_FOR_SHOWN_MASS = "m = reading × r_plane ÷ r" [plain("reading"), plain("r_plane"), plain("r")] Source("the readout shows mass at the radius keyed in");
    RADIUS_FOR_SHOWN_MASS = "r = reading × r_plane ÷ m" [plain("reading"), plain("r_plane"), plain("m")] Source("the readout shows mass at the radius keyed in");
    ERROR_ONE_POSITION = "U_res ÷ U_cal" [plain("U_res"), plain("U_cal")] Source("vector geometry; common practice, no source");
    ERROR_MEAN_OF_TWO = "U_res² ÷ (2 · U_cal²)" [plain("U_res"), plain("U_cal")] Source("vector geometry; common practice, no source");
    SET_MASS = "the mass of the set nearest to 10 · U_tol ÷ r within the shop's range" [plain("U_tol"), plain("r")] PRACTICE;
    READING_BY_DIVISION = "m · r ÷ U_div" [plain("m"), plain("r"), plain("U_div")] PRACTICE;
    AS_SET = "reading set" [plain("reading set")] Stated;
    DIVISION_AS_SET = "U_cal ÷ reading set" [plain("U_cal"), plain("reading set")] PRACTICE;
    LIMIT_IN_DIVISIONS = "U_tol ÷ U_div" [plain("U_tol"), plain("U_div")] PRACTICE;
    DIVISION_OF_TOLERANCE = "U_tol ÷ reading at tolerance" [plain("U_tol"), plain("reading at tolerance")] PRACTICE;
    MASS_AT_PLANE = "U ÷ r" [plain("U"), plain("r")] Source("ISO 21940-2");
    MASS_OF_HOLE = "mass of the hole that takes U" [plain("U"), plain("R"), plain("d"), plain("τ")] GEOMETRY;
    MASS_OF_FLAT = "mass of the flat that takes U" [plain("U"), plain("R"), plain("w")] GEOMETRY;
    MASS_OF_ARC = "mass of the arc that takes U" [plain("U"), plain("R"), plain("w"), plain("2α")] GEOMETRY;
    DEPTH_BY_DRILLING_RADIALLY = "depth at which the hole takes U" [plain("U"), plain("R"), plain("d"), plain("τ"), plain("ρ")] GEOMETRY;
    DEPTH_BY_DRILLING_AXIALLY = "L = (U ÷ (r · ρ) − V_k) ÷ (π · d² ÷ 4)" [plain("U"), plain("r"), plain("d"), plain("τ"), plain("ρ")] GEOMETRY;
    DEPTH_BY_MILLING = "depth at which the flat takes U" [plain("U"), plain("R"), plain("w"), plain("ρ")] GEOMETRY;
    DEPTH_BY_GRINDING = "depth at which the arc takes U" [plain("U"), plain("R"), plain("w"), plain("2α"), plain("ρ")] GEOMETRY;
    PIECES = "U ÷ (m_each · r)" [plain("U"), plain("m_each"), plain("r")] PRACTICE;
    SPREAD = "2 · arccos(U ÷ (2 · m_each · r))" [plain("U"), plain("m_each"), plain("r")] GEOMETRY;
    LIMIT_AS_UNBALANCE = "U_tol" [plain("U_tol")] Source("the readout shows unbalance");
    LIMIT_AS_MASS = "U_tol ÷ r_plane" [plain("U_tol"), plain("r_plane")] Source("the readout shows mass at the radius keyed in");
    END_OF_SCALE = "full scale × one division" [plain("full scale"), plain("one division")] PRACTICE;
    PRE_BALANCE = "reading × one division" [plain("reading"), plain("one division")] PRACTICE;
    OVER_RESIDUAL = "U_tol ÷ U_mar" [plain("U_tol"), plain("U_mar")] Source("ISO 21940-21: minimum achievable residual unbalance (from memory)");
    OVER_SPECIFIC_RESIDUAL = "U_tol ÷ (e_mar · m ÷ 2)" [plain("U_tol"), plain("e_mar"), plain("m")] Source("ISO 21940-21: minimum achievable residual unbalance, half a plane (from memory)");
    SPECIFIC_RESIDUAL = "U_mar = e_mar · m ÷ 2" [plain("e_mar"), plain("m")] Source("ISO 21940-21: minimum achievable residual unbalance, half a plane (from memory)");
    WHOLE_SPECIFIC_RESIDUAL = "U_mar = e_mar · m" [plain("e_mar"), plain("m")] Source("ISO 21940-21: minimum achievable residual unbalance, all of it in the one plane (from memory)");
    OVER_WHOLE_SPECIFIC_RESIDUAL = "U_tol ÷ (e_mar · m)" [plain("U_tol"), plain("e_mar"), plain("m")] Source("ISO 21940-21: minimum achievable residual unbalance, all of it in the one plane (from memory)");
    TRIAL_PUT = "T = m · r at θ" [plain("m"), plain("r"), plain("θ")] Source("ISO 21940-2");
    CHANGE_AMOUNT = "|A − A₀| ÷ A₀" [plain("A₀"), plain("A")] PRACTICE;
    CHANGE_ANGLE = "angle of V − angle of V₀" [plain("V₀"), plain("V")] PRACTICE;
    COEFFICIENT = "α = (V − V₀) ÷ T" [plain("V₀"), plain("V"), plain("T")] INFLUENCE;
    COEFFICIENTS = "α by least squares over all runs: V = V₀ + α · T" [] INFLUENCE;
    INTERFERENCE_OF_COEFFICIENTS = "|α₁₂ ÷ α₁₁|" [plain("α₁₂"), plain("α₁₁")] Source("ISO 21940-2: what plane 1 shows for an unbalance in plane 2 (from memory)");
    INTERFERENCE_OF_AMOUNTS = "(A₁₂ ÷ T₂) ÷ (A₁₁ ÷ T₁)" [plain("A₁₂"), plain("T₂"), plain("A₁₁"), plain("T₁")] Source("ISO 21940-2, of amounts, as the rotor was pre-balanced (from memory)");
    CONDITION_NUMBER = "largest ÷ smallest singular value of α" [] Source("numerical linear algebra");
    ALIKE = "|α₁₂ · α₂₁ ÷ (α₁₁ · α₂₂)|" [plain("α₁₁"), plain("α₁₂"), plain("α₂₁"), plain("α₂₂")] PRACTICE;
    FOUND_IN_ONE = "U = V₀ ÷ α" [plain("V₀"), plain("α")] INFLUENCE;
    FOUND_IN_FIRST = "U₁ = (α₂₂ · V₁ − α₁₂ · V₂) ÷ (α₁₁ · α₂₂ − α₁₂ · α₂₁)" [plain("α₁₁"), plain("α₁₂"), plain("α₂₁"), plain("α₂₂"), plain("V₁"), plain("V₂")] INFLUENCE;
    FOUND_IN_SECOND = "U₂ = (α₁₁ · V₂ − α₂₁ · V₁) ÷ (α₁₁ · α₂₂ − α₁₂ · α₂₁)" [plain("α₁₁"), plain("α₁₂"), plain("α₂₁"), plain("α₂₂"), plain("V₁"), plain("V₂")] INFLUENCE;
    FOUND_IN_ONE_ON_ARBOR = "U = V₀ ÷ α, turned back by θ, as the rotor sits turned on the arbor" [plain("V₀"), plain("α"), plain("θ")] INFLUENCE;
    FOUND_IN_FIRST_ON_ARBOR = "U₁ = (α₂₂ · V₁ − α₁₂ · V₂) ÷ (α₁₁ · α₂₂ − α₁₂ · α₂₁), turned back by θ, as the rotor sits turned on the arbor" [plain("α₁₁"), plain("α₁₂"), plain("α₂₁"), plain("α₂₂"), plain("V₁"), plain("V₂"), plain("θ")] INFLUENCE;
    FOUND_IN_SECOND_ON_ARBOR = "U₂ = (α₁₁ · V₂ − α₂₁ · V₁) ÷ (α₁₁ · α₂₂ − α₁₂ · α₂₁), turned back by θ, as the rotor sits turned on the arbor" [plain("α₁₁"), plain("α₁₂"), plain("α₂₁"), plain("α₂₂"), plain("V₁"), plain("V₂"), plain("θ")] INFLUENCE;
    FOUND_IN_PLANES = "U by least squares: V = α · U" [] INFLUENCE;
    LEFT_OVER = "|V − α · U|" [] INFLUENCE;
    FOUR_RUNS = "Aᵢ = κ · |U + Tᵢ|, by least squares over all runs" [] Source("Rotating Machinery: Practical Solutions to Unbalance and Misalignment, chapter 6");
    MASS_TO_ADD = "m = U ÷ r, half a turn from the heavy spot" [plain("U"), plain("r")] Source("ISO 21940-2");
    MASS_TO_REMOVE = "m = U ÷ r, at the heavy spot" [plain("U"), plain("r")] Source("ISO 21940-2");
    UNBALANCE_BY_DIVISION = "U = V · one division, turned by δ to the heavy spot" [plain("V"), plain("one division"), plain("δ")] PRACTICE;
    UNBALANCE_AS_SHOWN = "U = V, turned by δ to the heavy spot" [plain("V"), plain("δ")] Source("the readout shows unbalance");
    UNBALANCE_BY_SHOWN_MASS = "U = V · r, turned by δ to the heavy spot" [plain("V"), plain("r"), plain("δ")] Source("the readout shows mass at the radius keyed in");
    UNBALANCE_BY_DIVISION_ON_ARBOR = "U = V · one division, turned by δ to the heavy spot and back by θ, as the rotor sits turned on the arbor" [plain("V"), plain("one division"), plain("δ"), plain("θ")] PRACTICE;
    UNBALANCE_AS_SHOWN_ON_ARBOR = "U = V, turned by δ to the heavy spot and back by θ, as the rotor sits turned on the arbor" [plain("V"), plain("δ"), plain("θ")] Source("the readout shows unbalance");
    UNBALANCE_BY_SHOWN_MASS_ON_ARBOR = "U = V · r, turned by δ to the heavy spot and back by θ, as the rotor sits turned on the arbor" [plain("V"), plain("r"), plain("δ"), plain("θ")] Source("the readout shows mass at the radius keyed in");
    AMOUNT_BY_DIVISION = "U = A · one division" [plain("A"), plain("one division")] PRACTICE;
    AMOUNT_AS_SHOWN = "U = A" [plain("A")] Source("the readout shows unbalance");
    AMOUNT_BY_SHOWN_MASS = "U = A · r" [plain("A"), plain("r")] Source("the readout shows mass at the radius keyed in");
    AMOUNT_BY_TRIALS = "U = A · U₀ ÷ A₀" [plain("A"), plain("U₀ ÷ A₀")] Source("Rotating Machinery: Practical Solutions to Unbalance and Misalignment, chapter 6");
    LEFT_PLANE_BY_DIMENSIONS = "U₁ = (U_L · (d₁ + d) − U_R · d₂) ÷ d" [] Source("statics of a rigid rotor on two supports that measure force");
    RIGHT_PLANE_BY_DIMENSIONS = "U₂ = (U_R · (d + d₂) − U_L · d₁) ÷ d" [] Source("statics of a rigid rotor on two supports that measure force");
    TIMES_ITS_TOLERANCE = "U ÷ U_tol" [plain("U"), plain("U_tol")] Source("ISO 21940-11 (from memory)");
    ACTING_AT_A = "U_A = Σ Uᵢ · (z_B − zᵢ) ÷ (z_B − z_A)" [] STATICS;
    ACTING_AT_B = "U_B = Σ Uᵢ · (zᵢ − z_A) ÷ (z_B − z_A)" [] STATICS;
    ACTING_WITH_MASSES_ELSEWHERE = "Σ Uᵢ · cᵢ + Σ mⱼ · rⱼ · (cⱼ − c₁), by the levers of the plane and of extra masses at other places" [] STATICS;
    STATIC_SUM = "Σ Uᵢ" [] STATICS;
    COUPLE_SUM = "Σ Uᵢ · (zᵢ − z)" [] STATICS;
    MASS_ALONE = "m = U ÷ r" [plain("U"), plain("r")] Source("ISO 21940-2");
    AFTER_ONE_STEP = "U · (1 − URR)" [plain("U"), plain("URR")] Source("ISO 21940-2: unbalance reduction ratio (from memory)");
    STEPS = "ln(U_tol ÷ U) ÷ ln(1 − URR), to the next whole number" [plain("U_tol"), plain("U"), plain("URR")] Source("ISO 21940-2: unbalance reduction ratio (from memory)");
    REDUCED_BY = "1 − |U₂| ÷ |U₁|" [plain("U₂"), plain("U₁")] Source("ISO 21940-2: unbalance reduction ratio (from memory)");
    REDUCED_BY_AMOUNTS = "1 − A₂ ÷ A₁, of amounts alone, as no angles were read" [plain("A₂"), plain("A₁")] Source("ISO 21940-2: unbalance reduction ratio (from memory)");
    DONE_BY_MASSES = "Σ m · r at the angles, half a turn on where material was taken off" [] Source("ISO 21940-2");
    WITH_EXTRA_MASSES = "U = V − Σ mᵢ · rᵢ on only while balancing + Σ mᵢ · rᵢ on only in service, by the levers of the planes" [] STATICS;
    BALANCED_ON_STAND = "U = m · r at the heavy spot" [plain("m"), plain("r")] Source("statics of a rotor on level edges");
    RESTS_ANYWHERE = "U = 0, known to m · r" [plain("m"), plain("r")] Source("statics of a rotor on level edges");
    LEFT_OF = "U + W" [] Source("sum of vectors");
    HOLD = "F = U · (2π · n ÷ 60)²" [inside("U", "kg·m"), inside("n", "r/min")] CENTRIFUGAL;
    INDEXED = "M_k = arbor + rotor turned by θ_k, by least squares" [] BY_INDEX;
    ARBOR_OF_HALF_A_TURN = "arbor = (M₀ + M₁₈₀) ÷ 2" [plain("M₀"), plain("M₁₈₀")] BY_INDEX;
    ROTOR_OF_HALF_A_TURN = "rotor = (M₀ − M₁₈₀) ÷ 2" [plain("M₀"), plain("M₁₈₀")] BY_INDEX;
    WITHOUT_ARBOR = "U = M − arbor, turned back by θ" [plain("M"), plain("arbor"), plain("θ")] Source("ISO 21940-14, index balancing (from memory)");
    MEAN_OF_RUNS = "U = Σ Uᵢ ÷ N" [] PRACTICE;
    READ_AT_MOST = "the largest share of U_tol, the same in all planes and all in phase, at which each limit less its ± is kept; rounded down" [] PRACTICE;
    WORST_PHASE = "U = Σ |cᵢ| · Uᵢ" [] STATICS;
    OF_TRAVERSE = "U = U_t · r ÷ (1 + √(1 − r²)), r = 2 · |Σ A² · e^(iθ)| ÷ Σ A²" [] Source("law of cosines: the squared readings are linear in cos θ and sin θ");
    PROOF_RATIO = "|U₁₂ ÷ U₂₂|, each reading less the one at the start" [] Source("ISO 21940-2: correction plane interference ratio (from memory)");
    OWN_ANGLE = "the angle of U_shown less that of the mass" [] Source("definition; common practice, no source");
    OWN_ERROR = "U_shown ÷ (m · r) − 1" [] PRACTICE;
    OFF_THE_LINE = "(A₂ ÷ U₂) ÷ (A₁ ÷ U₁) − 1" [] PRACTICE;
    MOVED = "|V − V_start| · one division ÷ U_tol" [] PRACTICE;
    SCATTERED = "max |V − mean| · one division ÷ U_tol" [] Source("ISO 21940-14, experimental assessment (from memory)");
    TEST_MASS = "10 · U_mar ÷ r" [plain("U_mar"), plain("r")] Source("ISO 21940-21, traverse test (seen in Machinery Component Maintenance and Repair, p. 296)");
    SUM_OF_PARTS = "Σ Uᵢ" [] STATICS;
    PARTS_IN_PLANES = "U₂ = Σ Uᵢ · (zᵢ − z₁) ÷ (z₂ − z₁), U₁ = Σ Uᵢ − U₂" [] STATICS;
    DRIFT_OF_CHECK = "read ÷ reading − 1" [plain("read"), plain("reading")] PRACTICE;
    CHECK_BAND = "reading × (1 ± band)" [plain("reading"), plain("band")] PRACTICE;
}

/// The formula of an unbalance whose angle counts from the arbor, for the rotor's own angle: the angle `θ` by which it
/// sits turned comes to the inputs, as the last. Formulas that have no symbols stay.
pub fn on_arbor(formula: &'static Formula) -> &'static Formula {
    let with = [
        (&UNBALANCE_BY_DIVISION, &UNBALANCE_BY_DIVISION_ON_ARBOR),
        (&UNBALANCE_AS_SHOWN, &UNBALANCE_AS_SHOWN_ON_ARBOR),
        (&UNBALANCE_BY_SHOWN_MASS, &UNBALANCE_BY_SHOWN_MASS_ON_ARBOR),
        (&FOUND_IN_ONE, &FOUND_IN_ONE_ON_ARBOR),
        (&FOUND_IN_FIRST, &FOUND_IN_FIRST_ON_ARBOR),
        (&FOUND_IN_SECOND, &FOUND_IN_SECOND_ON_ARBOR),
    ];
    let found = with.into_iter().find(|(plain, _)| std::ptr::eq(*plain, formula));
    found.map_or(formula, |(_, turned)| turned)
}

#[cfg(test)]
mod tests {
    use super::FORMULAS;

    #[test]
    fn no_symbol_is_a_word_of_what_a_formula_says() {
        for formula in FORMULAS {
            // Outside brackets, what follows a comma is said in words.
            let mut depth = 0;
            let comma = formula.text.char_indices().find(|(_, letter)| {
                depth += i32::from(*letter == '(') - i32::from(*letter == ')');
                *letter == ',' && depth == 0
            });
            let Some((comma, _)) = comma else { continue };
            let said: Vec<&str> = formula.text[comma..].split(|letter: char| !letter.is_alphanumeric()).collect();
            for symbol in formula.symbols {
                let is_word = symbol.name.len() > 2 && symbol.name.chars().all(|letter| letter.is_ascii_lowercase());
                assert!(!is_word || !said.contains(&symbol.name), "{} in {}", symbol.name, formula.text);
            }
        }
    }
}
