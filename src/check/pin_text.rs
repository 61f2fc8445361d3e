//! A pin as it is written: which digits it has, and the same with other digits.

use super::pins::Computed;
use crate::book::{self, Outcome};
use crate::syntax::{self, Amount, Expr, Number, Reading, Shape};
use crate::text::Span;
use crate::units::{self, Unit};

/// The pieces of a pin's text that a refresh replaces; everything between them stays as it is.
pub struct Written<'t> {
    text: &'t str,
    span: Span,
    /// `None` when it is arithmetic or nothing with a number: then it is written again as a whole.
    number: Option<(Span, Digits)>,
    limits: Option<(Span, Span, LimitsText)>,
    angle: Option<(Span, Digits, Unit)>,
}

/// `± …` of a pin, in the unit it is written in.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct LimitsText {
    pub value: f64,
    pub half_step: f64,
    pub unit: Option<Unit>,
    digits: Digits,
}

impl LimitsText {
    /// The computed expanded uncertainty (k = 2) as these limits put it: in their unit, or as a share of the value.
    pub fn expanded(&self, unit: Unit, computed: &Computed) -> f64 {
        let expanded = 2.0 * computed.standard;
        match self.unit {
            Some(own) if own == Unit::PERCENT && unit != Unit::PERCENT => 100.0 * expanded / computed.base.abs(),
            own => expanded / own.unwrap_or(unit).factor(),
        }
    }
}

/// How a number is written: the power of ten of its last digit, and its exponent where it has one.
#[derive(Clone, Copy, PartialEq, Debug)]
struct Digits {
    last: i32,
    exponent: Option<i32>,
}

impl<'t> Written<'t> {
    /// The pin whose value is at `span` of `text`.
    pub fn of(text: &'t str, span: Span) -> Self {
        let (value, _) = syntax::parse_value(text, span);
        let mut written = Self { text, span: value.span, number: None, limits: None, angle: None };
        let amount = match &value.shape {
            Shape::Amount(amount) => Some(amount),
            Shape::Reading(reading) => {
                let Reading { amount, angle, .. } = &**reading;
                written.angle = angle.as_ref().and_then(|angle| {
                    let (at, digits, unit) = literal(text, &angle.expr)?;
                    Some((at, digits, Unit::parse(unit?.of(text)).ok()?))
                });
                Some(amount)
            }
            Shape::Grade { number, .. } => {
                written.number = Some((number.span, Digits::of(text, number)));
                None
            }
            _ => None,
        };
        if let Some(amount) = amount {
            written.number = literal(text, &amount.expr).map(|(at, digits, _)| (at, digits));
            written.limits = limits(text, amount);
        }
        written
    }

    pub fn limits(&self) -> Option<LimitsText> {
        self.limits.map(|(_, _, limits)| limits)
    }

    /// The same with the digits of what is computed: its unit, its decimals and all its words as written.
    pub(super) fn refreshed(&self, unit: Unit, computed: &Computed) -> String {
        let value = unit.from_base(computed.base);
        let Some((number, digits)) = self.number else {
            let angle = computed.angle.map(|angle| format!(" @ {}", units::quantity(degrees(angle), "deg", None)));
            return units::quantity(value, &unit.to_string(), None) + angle.as_deref().unwrap_or("");
        };
        let mut edits = vec![(number, digits.write(value))];
        if let Some((whole, number, limits)) = self.limits {
            let expanded = limits.expanded(unit, computed);
            // A result that has become exact has no limits to write.
            if expanded > 0.0 && expanded.is_finite() {
                edits.push((number, limits.digits.write(expanded)));
            } else {
                edits.push((whole, String::new()));
            }
        }
        if let (Some((at, digits, unit)), Some(angle)) = (self.angle, computed.angle) {
            edits.push((at, digits.write(unit.from_base(angle.rem_euclid(std::f64::consts::TAU)))));
        }
        self.edited(edits)
    }

    fn edited(&self, mut edits: Vec<(Span, String)>) -> String {
        edits.sort_by_key(|(span, _)| *span);
        let mut out = String::new();
        let mut done = self.span.start;
        for (span, text) in edits {
            out.push_str(Span::new(done, span.start).of(self.text));
            out.push_str(&text);
            done = span.end;
        }
        out.push_str(Span::new(done, self.span.end).of(self.text));
        out.trim_end().to_owned()
    }
}

/// What to write where a `?` stands: decimals by the step of the readout where it is a reading, and never so few that
/// more than half of the uncertainty is hidden. `None` for a table.
pub(super) fn filled(outcome: &Outcome, step: Option<f64>) -> Option<String> {
    let amount = |base: f64, unit: Unit, standard: f64, step: Option<f64>| {
        let unit = book::display_unit(base, unit);
        let (value, expanded) = (unit.from_base(base), 2.0 * standard / unit.factor());
        let known = Some(expanded).filter(|expanded| *expanded > 0.0);
        let decimals = match step {
            Some(step) => decimals_of_step(step / unit.factor()).max(known.map_or(0, decimals_that_tell)),
            None => units::decimals(value, known),
        };
        let number = units::with_decimals(value, decimals);
        let joiner = if unit == Unit::ONE { "" } else { " " };
        format!("{number}{joiner}{unit}")
    };
    let direction =
        |angle: f64, standard: f64| amount(angle.rem_euclid(std::f64::consts::TAU), Unit::DEGREE, standard, None);
    Some(match outcome {
        Outcome::Amount { base, unit, standard } => amount(*base, *unit, *standard, step),
        Outcome::Vector { base, angle, unit, standard, angle_standard, .. } => {
            format!("{} @ {}", amount(*base, *unit, *standard, step), direction(*angle, *angle_standard))
        }
        Outcome::Direction { angle, standard, .. } => direction(*angle, *standard),
        Outcome::ToSet { base, unit, decimals, .. } => book::to_set_text(*base, *unit, *decimals),
        Outcome::Count(count) => count.to_string(),
        Outcome::Words(said) => words(said, false),
        Outcome::Void(_) | Outcome::Table { .. } | Outcome::Missing(_) => return None,
    })
}

/// Decimals of a step: one for 0.1 and 0.5, two for 0.25.
fn decimals_of_step(step: f64) -> i32 {
    let whole = |decimals: i32| {
        let scaled = step * 10f64.powi(decimals);
        scaled >= 0.5 && (scaled - scaled.round()).abs() < 1e-6 * scaled
    };
    (0..6).find(|decimals| whole(*decimals)).unwrap_or(6)
}

/// The fewest decimals with which half a step of the last is no more than half of the uncertainty.
fn decimals_that_tell(expanded: f64) -> i32 {
    (-expanded.log10()).ceil().max(0.0) as i32
}

fn degrees(angle: f64) -> f64 {
    angle.to_degrees().rem_euclid(360.0)
}

/// The number of an amount that is no arithmetic, with its sign.
fn literal(text: &str, expr: &Expr) -> Option<(Span, Digits, Option<Span>)> {
    match expr {
        Expr::Literal(literal) => Some((literal.number.span, Digits::of(text, &literal.number), literal.unit)),
        Expr::Negative { span, inner } => match &**inner {
            Expr::Literal(literal) => {
                let signed = Span::new(span.start, literal.number.span.end);
                Some((signed, Digits::of(text, &literal.number), literal.unit))
            }
            _ => None,
        },
        _ => None,
    }
}

fn limits(text: &str, amount: &Amount) -> Option<(Span, Span, LimitsText)> {
    let limits = amount.limits.as_ref()?;
    let unit = limits.unit.and_then(|unit| Unit::parse(unit.of(text)).ok());
    let digits = Digits::of(text, &limits.number);
    let half_step = 0.5 * 10f64.powi(digits.last);
    let whole = Span::new(amount.expr.span().end, limits.span.end);
    Some((whole, limits.number.span, LimitsText { value: limits.number.value, half_step, unit, digits }))
}

impl Digits {
    fn of(text: &str, number: &Number) -> Self {
        let written = number.span.of(text);
        let exponent = written.find(['e', 'E']).and_then(|at| written[at + 1..].parse().ok());
        Self { last: i32::from(number.last_digit), exponent }
    }

    /// A value with these decimals, and with more where fewer than two significant digits would stand.
    fn write(self, value: f64) -> String {
        let exponent = self.exponent.unwrap_or(0);
        let mantissa = value / 10f64.powi(exponent);
        let decimals = enough(mantissa, exponent - self.last);
        let number = units::with_decimals(mantissa, decimals);
        match self.exponent {
            Some(exponent) => format!("{number}e{exponent}"),
            None => number,
        }
    }
}

/// Decimals that leave at least two significant digits.
fn enough(value: f64, decimals: i32) -> i32 {
    if value == 0.0 || !value.is_finite() {
        return decimals;
    }
    let leading = |value: f64| value.abs().log10().floor() as i32;
    let scale = 10f64.powi(decimals);
    let rounded = (value * scale).round() / scale;
    // 9.9 written without decimals is 10: two digits stand.
    if rounded != 0.0 && leading(rounded) + decimals >= 1 { decimals } else { decimals.max(1 - leading(value)) }
}

/// Words as a pin: bare where they were bare and can be read so, else in quotes.
pub(super) fn words(words: &str, quoted: bool) -> String {
    let (value, errors) = syntax::parse_value(words, Span::new(0, words.len() as u32));
    // A position of a switch may be a number.
    let is_number = words.bytes().all(|byte| byte.is_ascii_digit());
    let bare = !quoted && errors.is_empty() && (value.shape == Shape::Words || is_number);
    if bare { words.to_owned() } else { format!("\"{}\"", words.replace('"', "\"\"")) }
}
