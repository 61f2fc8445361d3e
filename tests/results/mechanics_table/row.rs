//! One row of the table: reading its values, and comparing.

use rotorbook::units::{Amount, Angle, Dimension, Indication, Quantity, Typed, Unit, Vector};
use std::collections::BTreeMap;

#[derive(serde::Deserialize)]
pub struct Row {
    pub id: String,
    pub source: String,
    pub standing: String,
    pub what: String,
    inputs: String,
    expected: String,
    tolerance: String,
    pub note: String,
}

/// What was computed, by name, in base units or as a yes or no.
#[derive(Default)]
pub struct Outcome(BTreeMap<&'static str, Vec<Computed>>);

#[derive(Debug)]
enum Computed {
    Amount(Dimension, f64),
    Answer(bool),
}

impl Outcome {
    pub fn with<T: Typed>(self, name: &'static str, value: T) -> Self {
        self.list(name, &[value])
    }

    pub fn list<T: Typed>(mut self, name: &'static str, values: &[T]) -> Self {
        let amounts = values.iter().map(|value| Computed::Amount(T::DIMENSION, value.base()));
        self.0.insert(name, amounts.collect());
        self
    }

    pub fn reading(mut self, name: &'static str, value: Indication) -> Self {
        self.0.insert(name, vec![Computed::Amount(Dimension::DIVISION, value.value())]);
        self
    }

    pub fn quantity(mut self, name: &'static str, value: Quantity) -> Self {
        self.0.insert(name, vec![Computed::Amount(value.dimension(), value.base())]);
        self
    }

    pub fn answer(mut self, name: &'static str, answer: bool) -> Self {
        self.0.insert(name, vec![Computed::Answer(answer)]);
        self
    }

    /// A vector as an amount and an angle.
    pub fn vector<T: Typed>(self, name: &'static str, angle: &'static str, vector: Vector<T>) -> Self {
        self.with(name, vector.amount()).with(angle, vector.angle())
    }
}

fn facts(text: &str) -> impl Iterator<Item = (&str, &str)> {
    text.split("; ").map(|fact| fact.split_once('=').unwrap_or_else(|| panic!("`{fact}` is no `name=value`")))
}

fn quantity(text: &str) -> Quantity {
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let number = number.parse().unwrap_or_else(|_| panic!("`{text}` begins with no number"));
    let unit = if unit.is_empty() { Ok(Unit::ONE) } else { Unit::parse(unit) };
    Quantity::new(number, unit.unwrap_or_else(|error| panic!("`{text}`: {error}")))
}

fn typed<T: Typed>(text: &str) -> T {
    let quantity = quantity(text);
    assert_eq!(quantity.dimension(), T::DIMENSION, "`{text}` is a {}", quantity.dimension().name());
    T::from_base(quantity.base())
}

impl Row {
    fn input(&self, name: &str) -> Option<&str> {
        facts(&self.inputs).find(|(key, _)| *key == name).map(|(_, value)| value)
    }

    fn must(&self, name: &str) -> &str {
        self.input(name).unwrap_or_else(|| panic!("{}: no input `{name}`", self.id))
    }

    pub fn get<T: Typed>(&self, name: &str) -> T {
        typed(self.must(name))
    }

    pub fn optional<T: Typed>(&self, name: &str) -> Option<T> {
        self.input(name).map(typed)
    }

    pub fn list<T: Typed>(&self, name: &str) -> Vec<T> {
        self.must(name).split(", ").map(typed).collect()
    }

    pub fn number(&self, name: &str) -> f64 {
        self.get::<rotorbook::units::Ratio>(name).value()
    }

    pub fn reading(&self, name: &str) -> Indication {
        self.readings(name)[0]
    }

    pub fn readings(&self, name: &str) -> Vec<Indication> {
        let readings = self.must(name).split(", ").map(quantity);
        readings.inspect(|reading| assert_eq!(reading.unit, Unit::DIVISION)).map(|r| Indication::new(r.value)).collect()
    }

    pub fn vectors<T: Typed + Amount>(&self, name: &str) -> Vec<Vector<T>> {
        let vectors = self.must(name).split(", ").map(|text| text.split_once(" @ ").expect("an amount @ an angle"));
        vectors.map(|(amount, angle)| Vector::from_polar(typed(amount), typed::<Angle>(angle))).collect()
    }

    pub fn quantity(&self, name: &str) -> Quantity {
        quantity(self.must(name))
    }

    /// What is expected and was not computed so, in words.
    pub fn disagreements(&self, outcome: &Outcome) -> Vec<String> {
        let mut wrong = Vec::new();
        for (name, expected) in facts(&self.expected) {
            let computed = outcome.0.get(name).unwrap_or_else(|| panic!("{}: `{name}` is not computed", self.id));
            let expected: Vec<&str> = expected.split(", ").collect();
            assert_eq!(expected.len(), computed.len(), "{}: `{name}` differs in number", self.id);
            for (expected, computed) in expected.into_iter().zip(computed) {
                if !self.agrees(name, expected, computed) {
                    wrong.push(format!("{}: {name} is {}, not {expected}", self.id, shown(expected, computed)));
                }
            }
        }
        wrong
    }

    fn agrees(&self, name: &str, expected: &str, computed: &Computed) -> bool {
        let (dimension, base) = match computed {
            Computed::Answer(answer) => return expected == if *answer { "yes" } else { "no" },
            Computed::Amount(dimension, base) => (*dimension, *base),
        };
        let quantity = quantity(expected);
        assert_eq!(quantity.dimension(), dimension, "{}: {name}", self.id);
        let mut difference = (quantity.unit.from_base(base) - quantity.value).abs();
        if dimension == Dimension::ANGLE {
            let turn = quantity.unit.from_base(std::f64::consts::TAU);
            difference = (difference % turn).min(turn - difference % turn);
        }
        difference <= self.allowed(name, quantity)
    }

    /// The allowed difference in the unit of the expected value.
    fn allowed(&self, name: &str, expected: Quantity) -> f64 {
        let tolerance = facts(&self.tolerance).find(|(key, _)| *key == name || *key == "*");
        let (_, text) = tolerance.unwrap_or_else(|| panic!("{}: no tolerance for `{name}`", self.id));
        match text.strip_suffix(" of value") {
            Some(share) => quantity(share).base() * expected.value.abs(),
            None => {
                let tolerance = quantity(text);
                let converted = tolerance.unit.convert_difference(tolerance.value, expected.unit);
                // The last digit of a binary fraction is nobody's disagreement.
                converted.unwrap_or_else(|| panic!("{}: {text} for {name}", self.id)) + 1e-15 * expected.value.abs()
            }
        }
    }
}

fn shown(expected: &str, computed: &Computed) -> String {
    match computed {
        Computed::Answer(answer) => answer.to_string(),
        Computed::Amount(_, base) => {
            let unit = quantity(expected).unit;
            format!("{} {unit}", unit.from_base(*base))
        }
    }
}
