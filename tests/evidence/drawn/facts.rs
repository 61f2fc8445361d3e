//! The facts of a book that are not known exactly, and the book with each of them drawn at random.

use std::sync::Arc;

use rotorbook::book::{Book, Computing, EffectiveBlock, EffectiveField, FileId, ItemId, SourceFile, effective};
use rotorbook::sheet::{Block, FieldValue, Stated, StatedReading};
use rotorbook::syntax::Kind;
use rotorbook::text::{Edit, Span, apply};
use rotorbook::units::{Indication, Unit};

use super::Draw;

/// A number in a text, with what it is known to in base units.
#[derive(Clone, Copy)]
struct Number {
    base: f64,
    unit: Unit,
    standard: f64,
}

impl Number {
    fn drawn(self, draw: &mut Draw) -> f64 {
        // Rectangular: half its width is √3 standard deviations.
        self.base + self.standard * 3f64.sqrt() * (2.0 * draw.next() - 1.0)
    }

    fn text(self, draw: &mut Draw) -> String {
        format!("{:.12} {}", self.unit.from_base(self.drawn(draw)), self.unit)
    }
}

/// A value of a fact: amounts with a scale and an angle, or with a place; or where a mark was seen, on the clock.
struct Value {
    file: FileId,
    span: Span,
    parts: Vec<Part>,
    clock: Option<Number>,
    /// The day of a reading.
    day: String,
}

impl Value {
    fn text(&self, draw: &mut Draw) -> String {
        if let Some(clock) = self.clock {
            // Twelve hours are a turn; what falls between two minutes is a quarter of a degree at most.
            let minutes = (clock.drawn(draw) / std::f64::consts::TAU * 720.0).round().rem_euclid(720.0) as u32;
            return format!("{}:{:02}", (minutes / 60 + 11) % 12 + 1, minutes % 60);
        }
        let parts: Vec<String> = self.parts.iter().map(|part| part.text(draw)).collect();
        format!("{}{}", self.day, parts.join(", "))
    }
}

struct Part {
    amount: Number,
    scale: Option<String>,
    angle: Option<Number>,
    /// Where it was weighed.
    at: Option<Number>,
}

impl Part {
    fn text(&self, draw: &mut Draw) -> String {
        let mut text = self.amount.text(draw);
        if let Some(scale) = &self.scale {
            text += &format!(" on {scale}");
        }
        if let Some(angle) = self.angle {
            text += &format!(" @ {:.12} deg", Unit::DEGREE.from_base(angle.drawn(draw)).rem_euclid(360.0));
        }
        if let Some(at) = self.at {
            text += &format!(" at {}", at.text(draw));
        }
        text
    }

    fn is_exact(&self) -> bool {
        let zero = |number: &Number| number.standard == 0.0;
        zero(&self.amount) && self.angle.as_ref().is_none_or(zero) && self.at.as_ref().is_none_or(zero)
    }
}

/// All values of a book that are not known exactly.
pub struct Uncertain<'b> {
    book: &'b Book,
    values: Vec<Value>,
}

impl<'b> Uncertain<'b> {
    pub fn of(book: &'b Book) -> Self {
        let computing = Computing::without_explanations(book);
        let mut values = Vec::new();
        for id in book.items() {
            let item = Item { computing: &computing, id, readout: readout(book, id), set: set_of(book, id) };
            item.block(&effective(book, id).0, &mut values);
        }
        values.retain(|value: &Value| value.clock.is_some() || value.parts.iter().any(|part| !part.is_exact()));
        Self { book, values }
    }

    pub fn count(&self) -> usize {
        self.values.len()
    }

    pub fn drawn(&self, draw: &mut Draw) -> Book {
        let files = self.book.files().map(|(id, file)| {
            let own = self.values.iter().filter(|value| value.file == id);
            let edits: Vec<Edit> = own.map(|value| Edit::replace(value.span, value.text(draw))).collect();
            match edits.is_empty() {
                true => self.book.shared_file(id).clone(),
                false => Arc::new(SourceFile::read(&*file.path, apply(&file.text, &edits).unwrap())),
            }
        });
        Book::new(files.collect())
    }
}

/// One item, with the readout that its readings were read off and the masses that it takes.
struct Item<'a, 'b> {
    computing: &'a Computing<'b>,
    id: ItemId,
    readout: Option<&'b Block>,
    set: Option<ItemId>,
}

fn named(book: &Book, id: ItemId, key: &str, kind: Kind) -> Option<ItemId> {
    let block = effective(book, id).0;
    let field = block.fields.iter().find(|field| field.field.key.name == key)?;
    let FieldValue::Name(name) = &field.field.value else { return None };
    book.find(kind, &name.text).ok()
}

fn setup_of(book: &Book, id: ItemId) -> Option<ItemId> {
    match book.item(id).kind {
        Kind::Setup => Some(id),
        Kind::Record => named(book, id, "setup", Kind::Setup),
        _ => None,
    }
}

fn readout(book: &Book, id: ItemId) -> Option<&Block> {
    let machine = named(book, setup_of(book, id)?, "machine", Kind::Machine)?;
    book.item(machine).inner(Kind::Readout).next()
}

fn set_of(book: &Book, id: ItemId) -> Option<ItemId> {
    named(book, setup_of(book, id)?, "masses", Kind::Masses)
}

impl<'b> Item<'_, 'b> {
    fn block(&self, block: &EffectiveBlock<'b>, values: &mut Vec<Value>) {
        for field in block.fields.iter().filter(|field| field.item == self.id) {
            let (file, span) = (self.id.file, field.field.value_span);
            if let Some(parts) = self.parts(block, *field) {
                let day = match &field.field.value {
                    FieldValue::OfDay(one) => format!("{:04}-{:02}-{:02}, ", one.year, one.month, one.day),
                    _ => String::new(),
                };
                values.push(Value { file, span, parts, clock: None, day });
            }
            if let (FieldValue::Clock { hour, minute }, Some(readout)) = (&field.field.value, self.readout) {
                let base = (f64::from(*hour % 12) * 60.0 + f64::from(*minute)) / 720.0 * std::f64::consts::TAU;
                let standard = step_in(readout, "angle step") / 2.0 / 3f64.sqrt();
                values.push(Value {
                    file,
                    span,
                    parts: Vec::new(),
                    day: String::new(),
                    clock: Some(Number { base, unit: Unit::DEGREE, standard }),
                });
            }
        }
        for inner in &block.blocks {
            self.block(inner, values);
        }
    }

    fn parts(&self, block: &EffectiveBlock<'b>, field: EffectiveField<'b>) -> Option<Vec<Part>> {
        let number = |nth: usize, stated: &Stated| self.stated(block, field, nth, stated);
        let alone = |amount| Part { amount, scale: None, angle: None, at: None };
        // What strobe or pointer shows is read as finely as the readout shows angles.
        let is_shown = field.field.key.name == "shows";
        Some(match (&field.field.value, self.readout) {
            (FieldValue::Quantity(stated), Some(readout)) if is_shown => {
                vec![alone(self.read_off(block, field, 0, stated, step_in(readout, "angle step")))]
            }
            (value, _) => match value {
                FieldValue::Quantity(stated) if !stated.plain => vec![alone(number(0, stated))],
                FieldValue::Quantities(all) => all.iter().enumerate().map(|(n, one)| alone(number(n, one))).collect(),
                FieldValue::Weighing(both) => {
                    let part = |(n, (mass, at)): (usize, &(Stated, Stated))| Part {
                        at: Some(Number { standard: at.stated_uncertainty().unwrap_or(0.0), ..number(n, at) }),
                        ..alone(number(n, mass))
                    };
                    both.iter().enumerate().map(part).collect()
                }
                FieldValue::OfDay(one) => vec![self.reading(block, field, 0, &one.reading)],
                FieldValue::Reading(reading) => vec![self.reading(block, field, 0, reading)],
                FieldValue::Readings(all) => {
                    all.iter().enumerate().map(|(n, one)| self.reading(block, field, n, one)).collect()
                }
                _ => return None,
            },
        })
    }

    fn stated(&self, block: &EffectiveBlock<'b>, field: EffectiveField<'b>, nth: usize, stated: &Stated) -> Number {
        let facts = self.computing.facts().with_masses(self.set);
        let origin = facts.origin_of(block, field);
        let value = facts.nth_stated::<Indication>(block, field, (nth, stated), origin);
        Number { base: stated.base, unit: stated.unit, standard: value.standard_uncertainty() }
    }

    fn read_off(
        &self,
        block: &EffectiveBlock<'b>,
        field: EffectiveField<'b>,
        nth: usize,
        stated: &Stated,
        step: f64,
    ) -> Number {
        let facts = self.computing.facts();
        let value = facts.read_off::<Indication>(field, nth, stated, step, facts.origin_of(block, field));
        let is_exact = field.field.key.standing == rotorbook::vocabulary::Standing::Demand;
        Number {
            base: stated.base,
            unit: stated.unit,
            standard: if is_exact { 0.0 } else { value.standard_uncertainty() },
        }
    }

    /// Read off the readout of the setup; elsewhere an unbalance at an angle, as it is stated.
    fn reading(
        &self,
        block: &EffectiveBlock<'b>,
        field: EffectiveField<'b>,
        nth: usize,
        reading: &StatedReading,
    ) -> Part {
        let read_off = |stated: &Stated, step: f64| self.read_off(block, field, nth, stated, step);
        let scale = reading
            .scale
            .as_ref()
            .map(|scale| if scale.quoted { format!("\"{}\"", scale.text) } else { scale.text.to_string() });
        match self.readout {
            Some(readout) => Part {
                amount: read_off(&reading.amount, self.step(readout, reading)),
                scale,
                angle: reading.angle.as_ref().map(|angle| read_off(angle, step_in(readout, "angle step"))),
                at: None,
            },
            None => Part {
                amount: self.stated(block, field, nth, &reading.amount),
                scale,
                angle: reading.angle.as_ref().map(|angle| self.stated(block, field, nth, angle)),
                at: None,
            },
        }
    }

    /// In the unit of the reading: marks of a scale, or what the readout shows.
    fn step(&self, readout: &Block, reading: &StatedReading) -> f64 {
        if reading.amount.unit != Unit::parse("mark").unwrap() {
            return step_in(readout, "smallest step");
        }
        let scales: Vec<&Block> = readout.inner(Kind::Scale).collect();
        let own = match (&reading.scale, &scales[..]) {
            (Some(name), _) => scales.iter().find(|scale| scale.name_text() == &*name.text).copied(),
            (None, [only]) => Some(*only),
            _ => None,
        };
        own.map_or(0.0, |scale| step_in(scale, "smallest step"))
    }
}

fn step_in(block: &Block, key: &str) -> f64 {
    let field = block.fields.iter().find(|field| field.key.name == key);
    match field.map(|field| &field.value) {
        Some(FieldValue::Quantity(stated)) => stated.base,
        _ => 0.0,
    }
}
