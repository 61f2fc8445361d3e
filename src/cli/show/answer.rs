//! What `show` has to say of an item, as every format writes it; `grammar/json/show.schema.json` says what each field means.

use serde::Serialize;
use serde_json::{Value, json};

use crate::book::{self, Book, Computing, Derivation, Entry, ItemId, Missing, Origin, Outcome, PrintedResult, RowHead};
use crate::units::{self, Unit};
use crate::vocabulary::Choice;

/// Rises whenever a program that reads the document would have to be changed.
const VERSION: u32 = 1;

/// Every uncertainty that is shown is expanded by this factor.
pub(super) const K: u8 = 2;

#[derive(Serialize)]
pub(super) struct Answer {
    version: u32,
    pub item: ShownItem,
    pub results: Vec<ShownResult>,
}

#[derive(Serialize, Clone, PartialEq, Debug)]
pub(super) struct ShownItem {
    pub kind: &'static str,
    pub name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
}

#[derive(Serialize, Clone, Debug)]
pub(super) struct ShownResult {
    /// The blocks that the result is in, then its name.
    pub path: Vec<String>,
    pub name: String,
    /// A number at full precision, an amount at an angle, words, rows of a table; null when it is missing.
    pub value: Value,
    /// The unit of the number, or of each column.
    pub unit: Value,
    /// The value as people read it.
    pub text: String,
    /// Expanded, in `unit`.
    pub uncertainty: Option<f64>,
    pub k: Option<u8>,
    pub formula: Option<&'static str>,
    pub with_numbers: Option<String>,
    pub source: Option<&'static str>,
    pub inputs: Vec<ShownInput>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub columns: Vec<&'static str>,
    /// What each row of a table is of.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub heads: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub missing: Vec<ShownMissing>,
    /// With the uncertainty; a fact as it is written.
    #[serde(skip)]
    pub spread: String,
    /// In its parts.
    #[serde(skip)]
    pub printed: PrintedResult,
}

#[derive(Serialize, Clone, Debug)]
pub(super) struct ShownInput {
    pub item: ShownItem,
    pub path: Vec<String>,
    /// The symbol that means it in the formula.
    #[serde(skip)]
    pub symbol: Option<&'static str>,
    #[serde(skip)]
    pub text: String,
}

#[derive(Serialize, Clone, Debug)]
pub(super) struct ShownMissing {
    pub item: ShownItem,
    pub path: Vec<String>,
    pub reason: String,
}

impl Answer {
    /// All that is computed of an item; of an item of which nothing is, its facts.
    pub fn of(computing: &Computing<'_>, id: ItemId) -> Self {
        let book = computing.book();
        let computed = computing.item(id);
        let results = match computed {
            book::Computed::Facts(ref block) => super::facts::of(book, block),
            _ => computed.entries().iter().map(|entry| result(book, entry)).collect(),
        };
        let file = Some(book.file(id.file).path.to_string());
        Self { version: VERSION, item: ShownItem { file, ..item(book, id) }, results }
    }
}

impl ShownResult {
    /// A result that has no value yet.
    pub fn new(blocks: Vec<String>, name: &str, printed: PrintedResult) -> Self {
        let text = printed.to_string();
        let mut path = blocks;
        path.push(name.to_owned());
        Self {
            path,
            name: name.to_owned(),
            value: Value::Null,
            unit: Value::Null,
            spread: text.clone(),
            printed,
            text,
            uncertainty: None,
            k: None,
            formula: None,
            with_numbers: None,
            source: None,
            inputs: Vec::new(),
            columns: Vec::new(),
            heads: Vec::new(),
            missing: Vec::new(),
        }
    }

    /// The same with an expanded uncertainty in the unit of the value.
    pub fn uncertain(self, expanded: f64) -> Self {
        let stated = expanded > 0.0;
        Self { uncertainty: stated.then_some(expanded), k: stated.then_some(K), ..self }
    }

    /// The blocks it is in.
    pub fn blocks(&self) -> &[String] {
        &self.path[..self.path.len() - 1]
    }
}

fn result(book: &Book, entry: &Entry) -> ShownResult {
    let blocks = entry.path.headings().collect();
    let mut shown = ShownResult::new(blocks, &entry.name(), book::printed(book, entry));
    if let Some(derivation) = &entry.derivation {
        shown.formula = Some(derivation.formula.text);
        shown.with_numbers = book::formula_with_numbers(derivation);
        shown.source = Some(derivation.formula.source());
        shown.inputs = inputs(book, derivation);
    }
    match &entry.outcome {
        Outcome::Amount { base, unit, standard } => amount(shown, *base, *unit, *standard),
        Outcome::Words(words) | Outcome::Void(words) => ShownResult { value: json!(words), ..shown },
        Outcome::Vector { base, angle, unit, standard, angle_standard, meaning, sense } => {
            let value = json!({
                "amount": unit.from_base(*base),
                "angle": degrees(*angle),
                "angle_uncertainty": known_to(*angle_standard),
                "counted": sense.words(),
                "meaning": meaning.words(),
            });
            let expanded = f64::from(K) * standard / unit.factor();
            ShownResult { value, unit: json!(unit.to_string()), ..shown }.uncertain(expanded)
        }
        Outcome::Direction { angle, standard, meaning, sense } => {
            let value = json!({
                "angle": degrees(*angle),
                "angle_uncertainty": known_to(*standard),
                "counted": sense.words(),
                "meaning": meaning.words(),
            });
            let unit = Unit::DEGREE;
            let expanded = f64::from(K) * standard / unit.factor();
            ShownResult { value, unit: json!(unit.to_string()), ..shown }.uncertain(expanded)
        }
        Outcome::ToSet { base, unit, .. } => {
            ShownResult { value: json!(unit.from_base(*base)), unit: json!(unit.to_string()), ..shown }
        }
        Outcome::Count(count) => ShownResult { value: json!(count), ..shown },
        Outcome::Table { heads, columns, rows } => {
            let heads = heads.iter().map(RowHead::to_string).collect();
            let rows = rows.iter().map(|row| {
                let cells = row.iter().zip(columns).map(|(cell, column)| cell.map(|base| column.unit.from_base(base)));
                cells.collect::<Vec<_>>()
            });
            ShownResult {
                value: json!(rows.collect::<Vec<_>>()),
                unit: columns.iter().map(|column| column.unit.to_string()).collect(),
                columns: columns.iter().map(|column| column.name).collect(),
                heads,
                ..shown
            }
        }
        Outcome::Missing(missing) => ShownResult { missing: vec![what_is_missing(book, missing)], ..shown },
    }
}

/// In degrees, expanded; nothing for an angle that is exact.
fn known_to(standard: f64) -> Option<f64> {
    (standard > 0.0).then(|| f64::from(K) * standard / Unit::DEGREE.factor())
}

/// From 0 to 360.
fn degrees(angle: f64) -> f64 {
    Unit::DEGREE.from_base(angle).rem_euclid(360.0)
}

/// A number in the unit in which it is best read.
pub(super) fn amount(shown: ShownResult, base: f64, unit: Unit, standard: f64) -> ShownResult {
    let unit = book::display_unit(base, unit);
    let value = unit.from_base(base);
    let expanded = f64::from(K) * standard / unit.factor();
    let digits = units::number(value, Some(expanded));
    let text = if unit == Unit::ONE { digits } else { format!("{digits} {unit}") };
    ShownResult { value: json!(value), unit: json!(unit.to_string()), text, ..shown }.uncertain(expanded)
}

fn inputs(book: &Book, derivation: &Derivation) -> Vec<ShownInput> {
    let symbols = derivation.formula.symbols;
    let each_has_one = symbols.len() == derivation.inputs.len();
    let shown = derivation.inputs.iter().enumerate().map(|(n, input)| ShownInput {
        item: item(book, input.origin.item),
        path: path(&input.origin),
        symbol: each_has_one.then(|| symbols[n].name),
        text: book::printed_input(input).to_string(),
    });
    shown.collect()
}

fn what_is_missing(book: &Book, missing: &Missing) -> ShownMissing {
    ShownMissing {
        item: item(book, missing.origin.item),
        path: path(&missing.origin),
        reason: book::why(book, missing),
    }
}

fn item(book: &Book, id: ItemId) -> ShownItem {
    let item = book.item(id);
    ShownItem { kind: item.kind.words(), name: item.name_text().to_owned(), file: None }
}

fn path(origin: &Origin) -> Vec<String> {
    origin.path.headings().chain([origin.name.to_string()]).collect()
}
