//! The formula that a result is explained by says what was reckoned: it is evaluated with its inputs as they are
//! printed, and once more as it is printed with the numbers put in, and must give the result as it is printed.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::PI;
use std::path::Path;

use crate::support::books::{book_in, results};
use num_complex::Complex;
use rotorbook::book::{Book, Derivation, Entry, Outcome, PrintedResult, formula_with_numbers, printed, printed_input};
use rotorbook::units::{Printed, Unit};

type Number = Complex<f64>;

/// Formulas that are not evaluated, and why. A result of the example book explained by another one that cannot be, or
/// by one of these that could be, stops the test.
const NOT_EVALUATED: [(&str, &str); 37] = [
    ("(A₂ ÷ U₂) ÷ (A₁ ÷ U₁) − 1", LIST),
    ("Aᵢ = κ · |U + Tᵢ|, by least squares over all runs", IN_WORDS),
    ("L = (U ÷ (r · ρ) − V_k) ÷ (π · d² ÷ 4)", PARTS),
    ("U + W", LIST),
    ("U = U_J − Σ |cᵢ · Uᵢ|, at the bearing where that is less", LIST),
    ("U = U_J − √(Σ (cᵢ · Uᵢ)²), at the bearing where that is less", LIST),
    ("U = U_t · r ÷ (1 + √(1 − r²)), r = 2 · |Σ A² · e^(iθ)| ÷ Σ A²", LIST),
    ("U = m · r · |Σ cos β|, over the free ones of N places from θ within a half turn", PARTS),
    ("U = ρ · (V_c + V_k) · r, holes side by side as vectors, N at most", PARTS),
    (
        "U = ρ · (V_c · (R − L ÷ 2) + V_k · (R − L − h ÷ 4) − π · d⁴ ÷ 128), holes side by side as vectors, N at most",
        PARTS,
    ),
    ("U = ρ · w · c³ ÷ 12, c = 2 · √(2 · R · t − t²)", PARTS),
    ("U_A = Σ Uᵢ · (z_B − zᵢ) ÷ (z_B − z_A)", LIST),
    ("U_B = Σ Uᵢ · (zᵢ − z_A) ÷ (z_B − z_A)", LIST),
    ("U_per = Σ Uᵢ", LIST),
    ("U_shown ÷ (m · r) − 1", LIST),
    ("U₂ = Σ Uᵢ · (zᵢ − z₁) ÷ (z₂ − z₁), U₁ = Σ Uᵢ − U₂", LIST),
    ("angle of V − angle of V₀", IN_WORDS),
    ("depth at which the flat takes U", IN_WORDS),
    ("depth at which the hole takes U", IN_WORDS),
    ("largest ÷ smallest singular value of α", IN_WORDS),
    ("m = Σ mᵢ", LIST),
    ("mass of the flat that takes U", IN_WORDS),
    ("mass of the hole that takes U", IN_WORDS),
    ("max |V − mean| · one division ÷ U_tol", LIST),
    ("r = centre of mass of the deepest arc", IN_WORDS),
    ("r = centre of mass of the deepest flat", IN_WORDS),
    ("r = centre of mass of the deepest hole", IN_WORDS),
    ("reading × (1 ± band)", TWO),
    ("the angle of U_shown less that of the mass", IN_WORDS),
    ("the mass of the set nearest to 10 · U_tol ÷ r within the shop's range", IN_WORDS),
    (
        "the largest share of U_tol, the same in all planes and all in phase, at which each limit less its ± is kept; \
         rounded down",
        IN_WORDS,
    ),
    ("z = Σ mᵢ · zᵢ ÷ Σ mᵢ", LIST),
    ("|U₁₂ ÷ U₂₂|, each reading less the one at the start", LIST),
    ("|V − V_start| · one division ÷ U_tol", LIST),
    ("Σ Uᵢ", LIST),
    ("Σ Uᵢ · (zᵢ − z)", LIST),
    ("Σ m · r at the angles, half a turn on where material was taken off", LIST),
];

const LIST: &str = "goes over a list of inputs, which have no symbols";
const IN_WORDS: &str = "says in words what is found";
const PARTS: &str = "has symbols for parts of the cut or of the circle that are no inputs";
const TWO: &str = "gives two results";

#[test]
fn every_formula_gives_the_result_that_it_is_shown_with() {
    let book = book_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay"));
    let mut wrong = Vec::new();
    let mut not_evaluated: BTreeMap<&str, String> = BTreeMap::new();
    let mut evaluated = BTreeSet::new();
    for (path, entry) in results(&book) {
        let Some(derivation) = entry.derivation.as_deref() else { continue };
        if matches!(entry.outcome, Outcome::Missing(_)) {
            continue;
        }
        match disagreement(&book, &entry, derivation) {
            Ok(None) => drop(evaluated.insert(derivation.formula.text)),
            Ok(Some(why)) => wrong.push(format!("{path}: {}: {why}", derivation.formula.text)),
            Err(why) => drop(not_evaluated.insert(derivation.formula.text, why)),
        }
    }
    assert!(wrong.is_empty(), "{} of the formulas do not give their result:\n{}", wrong.len(), wrong.join("\n"));
    let listed: BTreeSet<&str> = NOT_EVALUATED.iter().map(|(formula, _)| *formula).collect();
    let unlisted: Vec<_> = not_evaluated.iter().filter(|(formula, _)| !listed.contains(*formula)).collect();
    assert!(unlisted.is_empty(), "not evaluated, and not listed: {unlisted:#?}");
    let idle: Vec<_> = listed.iter().filter(|formula| !not_evaluated.contains_key(*formula)).collect();
    assert!(idle.is_empty(), "listed, but evaluated or in no result: {idle:#?}");
    assert!(evaluated.len() >= 40, "only {} formulas were evaluated", evaluated.len());
}

/// What does not agree; `Err` says why the formula cannot be evaluated.
fn disagreement(book: &Book, entry: &Entry, derivation: &Derivation) -> Result<Option<String>, String> {
    let formula = derivation.formula;
    match (formula.symbols.len(), derivation.inputs.len()) {
        (0, _) => return Err("its inputs have no symbols".to_owned()),
        (symbols, inputs) if symbols != inputs => return Ok(Some(format!("{symbols} symbols for {inputs} inputs"))),
        _ => {}
    }
    let (expression, tail) = expression(formula.text);
    let mut inputs: Vec<(&str, Reading)> = Vec::new();
    for (symbol, input) in formula.symbols.iter().zip(&derivation.inputs) {
        let PrintedResult::Numbers { amount: Some(amount), angle, .. } = printed_input(input) else {
            return Err(format!("{} is missing", symbol.name));
        };
        inputs.push((symbol.name, Reading::of(&amount, angle.as_ref(), symbol.unit)));
    }
    let values = |moved: Option<(usize, usize)>| -> Vec<(&str, Number)> {
        inputs
            .iter()
            .enumerate()
            .map(|(n, (name, reading))| {
                let by = moved.filter(|(at, _)| *at == n).map(|(_, part)| part);
                (*name, reading.value(by))
            })
            .collect()
    };
    let evaluate = |text: &str, symbols: &[(&str, Number)]| {
        Reader::evaluate(text, symbols).map(|value| tail.finish(value, symbols))
    };
    let value = evaluate(expression, &values(None))?;
    // What the digits that are not printed may come to.
    let mut slack = 0.0;
    for n in 0..inputs.len() {
        for part in 0..2 {
            slack += (evaluate(expression, &values(Some((n, part))))? - value).norm();
        }
    }
    let (result, half_step) = match printed(book, entry) {
        PrintedResult::Numbers { amount: Some(amount), angle, .. } => {
            let in_unit = formula.symbols.iter().any(|symbol| symbol.unit.is_some()).then(|| result_unit(formula.text));
            let reading = Reading::of(&amount, angle.as_ref(), in_unit);
            (reading.value(None), reading.steps())
        }
        PrintedResult::Numbers { amount: None, angle: Some(angle), .. } => {
            let reading = Reading::of(&angle, None, None);
            (reading.value(None), reading.steps())
        }
        PrintedResult::Words(words) => match words.parse::<f64>() {
            Ok(count) => (Number::new(count, 0.0), 0.0),
            Err(_) => return Err("the result is told in words".to_owned()),
        },
        _ => return Err("the result is a table".to_owned()),
    };
    // A control is set to the step that is nearest to what its formula gives.
    let half_step = match entry.outcome {
        Outcome::ToSet { step, .. } => half_step + 0.5 * step,
        _ => half_step,
    };
    let has_angle = result.im != 0.0;
    let apart =
        if has_angle || value.im == 0.0 { (value - result).norm() } else { (value.norm() - result.norm()).abs() };
    let most = half_step + slack + 1e-9 * result.norm();
    if apart > most {
        return Ok(Some(format!(
            "{} by the formula, {} printed, {apart:e} apart, {most:e} allowed",
            told(value),
            told(result)
        )));
    }
    let Some(numbers) = formula_with_numbers(derivation) else { return Err("no numbers can be put in".to_owned()) };
    let (numbers_only, _) = self::expression(&numbers);
    let value = evaluate(numbers_only, &values(None)).map_err(|why| format!("{why}, in `{numbers}`"))?;
    let apart =
        if has_angle || value.im == 0.0 { (value - result).norm() } else { (value.norm() - result.norm()).abs() };
    // Its numbers may be rounded otherwise than those of the inputs.
    let most = half_step + 2.0 * slack + 1e-5 * result.norm();
    Ok((apart > most).then(|| format!("{} with numbers `{numbers}`, {} printed", told(value), told(result))))
}

fn told(value: Number) -> String {
    if value.im == 0.0 { value.re.to_string() } else { format!("{} @ {}°", value.norm(), value.arg().to_degrees()) }
}

/// The unit of what a formula gives whose constants ask for units of their own.
fn result_unit(formula: &str) -> &'static str {
    match formula.split(' ').next() {
        Some("G") => "mm/s",
        Some("F") => "N",
        Some("v") => "m/s",
        _ => "g·mm",
    }
}

/// What the words after a formula say of its value.
#[derive(Clone, Copy)]
enum Tail {
    Nothing,
    HalfATurn,
    /// Turned by the angle `δ`, and back by `θ`, where they stand.
    Turned,
    WholeNumber,
}

impl Tail {
    fn finish(self, value: Number, symbols: &[(&str, Number)]) -> Number {
        match self {
            Tail::Nothing => value,
            Tail::HalfATurn => -value,
            Tail::Turned => {
                let angle =
                    |name: &str| symbols.iter().find(|(own, _)| *own == name).map_or(0.0, |(_, angle)| angle.re);
                value * Number::from_polar(1.0, angle("δ") - angle("θ"))
            }
            Tail::WholeNumber => Number::new(value.re.ceil().max(0.0), 0.0),
        }
    }
}

/// The part of a formula after its sign of equality that can be evaluated, and what its words ask for.
fn expression(formula: &str) -> (&str, Tail) {
    let right =
        formula.split_once(" = ").filter(|(left, _)| !left.contains([',', '÷'])).map_or(formula, |(_, right)| right);
    let mut depth = 0;
    let comma = right.char_indices().find(|(_, letter)| {
        depth += i32::from(*letter == '(') - i32::from(*letter == ')');
        *letter == ',' && depth == 0
    });
    let Some((comma, _)) = comma else { return (right, Tail::Nothing) };
    let words = &right[comma..];
    let tail = match () {
        () if words.contains("half a turn from the heavy spot") => Tail::HalfATurn,
        () if words.contains("turned by") || words.contains("turned back by") => Tail::Turned,
        () if words.contains("next whole number") => Tail::WholeNumber,
        () => Tail::Nothing,
    };
    (&right[..comma], tail)
}

/// A printed amount, with or without an angle, in base units, and half a step of the last digit of each.
struct Reading {
    amount: f64,
    step: f64,
    angle: Option<(f64, f64)>,
}

impl Reading {
    /// `in_unit` is the unit in which a formula wants the bare number.
    fn of(amount: &Printed, angle: Option<&Printed>, in_unit: Option<&str>) -> Self {
        let (value, step) = base(&amount.value);
        let bare = in_unit.map(|unit| Unit::parse(unit).unwrap());
        let scale = |base: f64| bare.map_or(base, |unit| base / in_base(1.0, unit));
        Self { amount: scale(value), step: scale(step), angle: angle.map(|angle| base(&angle.value)) }
    }

    /// With its amount or angle moved by half a step.
    fn value(&self, moved: Option<usize>) -> Number {
        let amount = self.amount + if moved == Some(0) { self.step } else { 0.0 };
        match self.angle {
            None => Number::new(amount, 0.0),
            Some((angle, step)) => Number::from_polar(amount, angle + if moved == Some(1) { step } else { 0.0 }),
        }
    }

    fn steps(&self) -> f64 {
        self.step + self.angle.map_or(0.0, |(_, step)| step * self.amount.abs())
    }
}

/// `19.5 g` in base units, with half a step of its last digit.
fn base(text: &str) -> (f64, f64) {
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let unit = if unit.is_empty() { Unit::ONE } else { Unit::parse(unit).unwrap() };
    let (mantissa, exponent) = number.split_once('e').map_or((number, 0), |(m, e)| (m, e.parse().unwrap()));
    let decimals = mantissa.split_once('.').map_or(0, |(_, decimals)| decimals.len() as i32);
    let value: f64 = number.parse().unwrap();
    // Digits before the point are never rounded away.
    (in_base(value, unit), in_base(0.5 * 10f64.powi(exponent - decimals), unit))
}

fn in_base(value: f64, unit: Unit) -> f64 {
    value * unit.factor()
}

/// Reads and evaluates a formula as it is written for people.
struct Reader<'t> {
    rest: &'t str,
    symbols: &'t [(&'t str, Number)],
}

impl<'t> Reader<'t> {
    fn evaluate(text: &'t str, symbols: &'t [(&'t str, Number)]) -> Result<Number, String> {
        let mut reader = Self { rest: text.trim(), symbols };
        let mut value = reader.sum()?;
        if reader.eat(" at ") {
            value *= Number::from_polar(1.0, reader.atom()?.re);
        }
        if reader.rest.is_empty() { Ok(value) } else { Err(format!("`{}` is not arithmetic", reader.rest)) }
    }

    fn eat(&mut self, token: &str) -> bool {
        let rest = self.rest.strip_prefix(token);
        self.rest = rest.unwrap_or(self.rest);
        rest.is_some()
    }

    fn sum(&mut self) -> Result<Number, String> {
        let mut value = self.product()?;
        loop {
            if self.eat(" + ") {
                value += self.product()?;
            } else if self.eat(" − ") {
                value -= self.product()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn product(&mut self) -> Result<Number, String> {
        let mut value = self.power()?;
        loop {
            if self.eat(" · ") || self.eat(" × ") {
                value *= self.power()?;
            } else if self.eat(" ÷ ") {
                value /= self.power()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn power(&mut self) -> Result<Number, String> {
        let value = self.atom()?;
        Ok(match () {
            () if self.eat("²") => value * value,
            () if self.eat("³") => value * value * value,
            () => value,
        })
    }

    fn arguments(&mut self) -> Result<Vec<Number>, String> {
        let mut arguments = vec![self.sum()?];
        while self.eat(", ") {
            arguments.push(self.sum()?);
        }
        if self.eat(")") { Ok(arguments) } else { Err(format!("a bracket is not closed before `{}`", self.rest)) }
    }

    fn atom(&mut self) -> Result<Number, String> {
        let real = |value: f64| Number::new(value, 0.0);
        let symbol = self
            .symbols
            .iter()
            .filter(|(name, _)| self.rest.strip_prefix(name).is_some_and(ends_word))
            .max_by_key(|(name, _)| name.len());
        if let Some((name, value)) = symbol {
            self.rest = &self.rest[name.len()..];
            return Ok(*value);
        }
        for (function, apply) in FUNCTIONS {
            if self.eat(function) {
                return Ok(real(apply(&self.arguments()?)));
            }
        }
        if self.eat("(") {
            return Ok(self.arguments()?[0]);
        }
        if self.eat("|") {
            let value = self.sum()?;
            return if self.eat("|") { Ok(real(value.norm())) } else { Err(format!("`{}` for |", self.rest)) };
        }
        for (constant, value) in [("2π", 2.0 * PI), ("π", PI), ("⅔", 2.0 / 3.0)] {
            if self.eat(constant) {
                return Ok(real(value));
            }
        }
        self.number()
    }

    /// A number, with its unit and its angle where they stand.
    fn number(&mut self) -> Result<Number, String> {
        let end = self.rest.find(|c: char| !(c.is_ascii_digit() || ".e-".contains(c))).unwrap_or(self.rest.len());
        let value: f64 = self.rest[..end].parse().map_err(|_| format!("`{}` means no input", self.rest))?;
        self.rest = &self.rest[end..];
        let Some(unit) = self.unit() else { return Ok(Number::new(value, 0.0)) };
        let value = in_base(value, unit);
        if !self.eat(" @ ") {
            return Ok(Number::new(value, 0.0));
        }
        let angle = self.number()?;
        Ok(Number::from_polar(value, angle.re))
    }

    fn unit(&mut self) -> Option<Unit> {
        let behind = self.rest.strip_prefix(' ')?;
        let ends = |from: usize| behind[from..].find([' ', ')', ',', '|']).map_or(behind.len(), |at| from + at);
        let end = ends(0);
        // `mm/s per kg·mm`
        let end = if behind[end..].starts_with(" per ") { ends(end + " per ".len()) } else { end };
        let unit = Unit::parse(&behind[..end]).ok()?;
        self.rest = &behind[end..];
        Some(unit)
    }
}

type Function = fn(&[Number]) -> f64;

const FUNCTIONS: [(&str, Function); 6] = [
    ("min(", |values| values.iter().map(|value| value.re).fold(f64::INFINITY, f64::min)),
    ("√(", |values| values[0].re.sqrt()),
    ("sin(", |values| values[0].re.sin()),
    ("cos(", |values| values[0].re.cos()),
    ("arccos(", |values| values[0].re.acos()),
    ("ln(", |values| values[0].re.ln()),
];

fn ends_word(rest: &str) -> bool {
    !rest.starts_with(|c: char| c.is_alphabetic() || c.is_ascii_digit() || c == '_' || ('₀'..='₉').contains(&c))
}
