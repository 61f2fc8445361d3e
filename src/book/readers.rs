//! Facts of a block as typed values, with the uncertainty that their standing gives them.

use std::borrow::Cow;

use super::derive::Val;
use super::effective::{EffectiveBlock, EffectiveField};
use super::files::{Book, ItemId};
use super::materials::BuiltIn;
use super::origin::{Origin, Reason};
use super::shop::ShopRules;
use crate::sheet::{FieldValue, Stated};
use crate::syntax::Kind;
use crate::units::{
    self, Amount, Contributions, Density, Dimension, Length, Mass, Part, Ratio, Source, Typed, Unit, Velocity,
};
use crate::vocabulary::{
    Fact, Grade, NameOf, OneQuantity, PlainNumber, QuantityRange, SeveralQuantities, Standing, To, ValueType, masses,
    material, run,
};

/// Reads facts with what the book knows about instruments and masses.
#[derive(Clone, Copy)]
pub struct Facts<'b> {
    pub book: &'b Book,
    pub shop: &'b ShopRules,
    /// The set that this setup takes its masses from.
    pub masses: Option<MassSet<'b>>,
    /// Whether results keep what went into them, for people to read. Judging a book does not need it.
    pub explains: bool,
    /// Whether results that are neither judged nor pinned are left out.
    pub only_judged: bool,
}

/// A set of masses with what each is known to.
#[derive(Clone, Copy)]
pub struct MassSet<'b> {
    pub values: &'b [Stated],
    /// Standard uncertainty of each.
    pub standard: Option<Mass>,
}

impl<'b> Facts<'b> {
    pub fn new(book: &'b Book, shop: &'b ShopRules) -> Self {
        Self { book, shop, masses: None, explains: true, only_judged: false }
    }

    /// The same reader with the masses of a set, whose values carry the set's uncertainty.
    pub fn with_masses(self, set: Option<ItemId>) -> Self {
        let masses = set.and_then(|item| {
            let block = self.book.item(item);
            let FieldValue::Quantities(values) = &block.field(masses::VALUES)?.value else { return None };
            let standard = match block.field(masses::UNCERTAINTY).map(|field| &field.value) {
                Some(FieldValue::Quantity(stated)) => Some(Mass::from_base(stated.base / 2.0)),
                _ => None,
            };
            Some(MassSet { values, standard })
        });
        Self { masses, ..self }
    }

    pub fn origin<F: ?Sized>(
        &self,
        block: &EffectiveBlock<'b>,
        fact: Fact<F>,
        field: Option<EffectiveField<'b>>,
    ) -> Origin {
        Origin {
            item: field.map_or(block.item, |field| field.item),
            path: block.path.clone(),
            name: Cow::Borrowed(fact.words()),
            place: field.map(|field| (field.item.file, field.field.value_span)),
        }
    }

    /// Where a fact of the block is written.
    pub fn origin_of(&self, block: &EffectiveBlock<'b>, field: EffectiveField<'b>) -> Origin {
        Origin {
            item: field.item,
            path: block.path.clone(),
            name: Cow::Borrowed(field.field.key.name),
            place: Some((field.item.file, field.field.value_span)),
        }
    }

    /// A fact that is one quantity.
    pub fn quantity<F: OneQuantity>(&self, block: &EffectiveBlock<'b>, fact: Fact<F>) -> Val<F::Quantity> {
        self.quantity_in(block, fact)
    }

    /// A fact that is one quantity of several dimensions, of which the caller knows which it is.
    pub fn quantity_in<T: Amount, F: ?Sized>(&self, block: &EffectiveBlock<'b>, fact: Fact<F>) -> Val<T> {
        let field = block.field(fact);
        let origin = self.origin(block, fact, field);
        match field {
            None => Val::missing(origin, Reason::NotGiven, Unit::ONE),
            Some(field) => self.quantity_of(block, field, origin),
        }
    }

    /// The quantity of one field, which is open or could not be read where it has none.
    pub fn quantity_of<T: Amount>(
        &self,
        block: &EffectiveBlock<'b>,
        field: EffectiveField<'b>,
        origin: Origin,
    ) -> Val<T> {
        match &field.field.value {
            FieldValue::Quantity(stated) => self.stated(block, field, stated, origin),
            _ => Val::missing(origin, Reason::Unreadable, Unit::ONE),
        }
    }

    /// One quantity of a field that holds no other.
    pub fn stated<T: Amount>(
        &self,
        block: &EffectiveBlock<'b>,
        field: EffectiveField<'b>,
        stated: &Stated,
        origin: Origin,
    ) -> Val<T> {
        self.nth_stated(block, field, (0, stated), origin)
    }

    /// The n-th quantity of a field.
    pub fn nth_stated<T: Amount>(
        &self,
        block: &EffectiveBlock<'b>,
        field: EffectiveField<'b>,
        (nth, stated): (usize, &Stated),
        origin: Origin,
    ) -> Val<T> {
        let standard = self.standard_uncertainty(block, field, stated);
        let contributions = Contributions::of(source(field, nth, Part::Amount), standard);
        Val { contributions, ..Val::exact(stated.typed(), origin, stated.unit) }
    }

    /// An amount or an angle read off a readout: `±` as written, else the coarser of half a step of the last digit
    /// and half a step of the readout. Instruments of the shop do not come in: they took other facts.
    ///
    /// `nth` tells apart readings that are in one fact.
    pub fn read_off<T: Amount>(
        &self,
        field: EffectiveField<'b>,
        nth: usize,
        stated: &Stated,
        readout_step: f64,
        origin: Origin,
    ) -> Val<T> {
        let coarser = || stated.half_step.max(readout_step / 2.0) / 3f64.sqrt();
        let standard = stated.stated_uncertainty().unwrap_or_else(coarser);
        let part = if stated.dimension() == Dimension::ANGLE { Part::Angle } else { Part::Amount };
        let source = source(field, nth, part);
        Val { contributions: Contributions::of(source, standard), ..Val::exact(stated.typed(), origin, stated.unit) }
    }

    /// The upper end of a fact that is a quantity or a range.
    pub fn upper_end<F: QuantityRange>(&self, block: &EffectiveBlock<'b>, fact: Fact<F>) -> Val<F::Quantity> {
        let field = block.field(fact);
        let origin = self.origin(block, fact, field);
        match field.map(|field| (field, &field.field.value)) {
            None => Val::missing(origin, Reason::NotGiven, Unit::ONE),
            Some((field, FieldValue::Range(range))) => match range.high.or(range.low) {
                Some(stated) => self.stated(block, field, &stated, origin),
                None => Val::missing(origin, Reason::Unreadable, Unit::ONE),
            },
            Some(_) => Val::missing(origin, Reason::Unreadable, Unit::ONE),
        }
    }

    /// The n-th of a fact that is a list of quantities.
    pub fn nth<F: SeveralQuantities>(&self, block: &EffectiveBlock<'b>, fact: Fact<F>, n: usize) -> Val<F::Quantity> {
        let field = block.field(fact);
        let origin = self.origin(block, fact, field);
        match field.map(|field| (field, &field.field.value)) {
            None => Val::missing(origin, Reason::NotGiven, Unit::ONE),
            Some((field, FieldValue::Quantities(list))) if n < list.len() => {
                self.nth_stated(block, field, (n, &list[n]), origin)
            }
            Some(_) => Val::missing(origin, Reason::Unreadable, Unit::ONE),
        }
    }

    /// A plain number.
    pub fn number<F: PlainNumber>(&self, block: &EffectiveBlock<'b>, fact: Fact<F>) -> Val<Ratio> {
        let field = block.field(fact);
        let origin = self.origin(block, fact, field);
        match field.map(|field| &field.field.value) {
            None => Val::missing(origin, Reason::NotGiven, Unit::ONE),
            Some(FieldValue::Number(number) | FieldValue::Grade(number)) => {
                Val::exact(Ratio::new(*number), origin, Unit::ONE)
            }
            Some(_) => Val::missing(origin, Reason::Unreadable, Unit::ONE),
        }
    }

    /// A balance quality grade: e·Ω.
    pub fn grade(&self, block: &EffectiveBlock<'b>, fact: Fact<Grade>) -> Val<Velocity> {
        let number = self.number(block, fact);
        let known = number.known.map(|grade| Velocity::millimetres_per_second(grade.value()));
        Val { known, unit: Unit::MILLIMETRE_PER_SECOND, ..Val::exact(Velocity::ZERO, number.origin, Unit::ONE) }
    }

    /// A radius, given as such or as a diameter.
    pub fn radius(&self, block: &EffectiveBlock<'b>, radius: Fact<Length>, diameter: Fact<Length>) -> Val<Length> {
        if block.field(radius).is_none() && block.field(diameter).is_some() {
            return halved(self.quantity(block, diameter));
        }
        self.quantity(block, radius)
    }

    /// The density of the material that a fact names: of the book, or one that every book knows.
    pub fn density(&self, block: &EffectiveBlock<'b>, fact: Fact<To<material::Block>>) -> Val<Density> {
        let field = block.field(fact);
        let origin = self.origin(block, fact, field);
        match field.map(|field| &field.field.value) {
            None => Val::missing(origin, Reason::NotGiven, Unit::ONE),
            Some(FieldValue::Name(name)) => self.material(&name.text, origin),
            Some(_) => Val::missing(origin, Reason::Unreadable, Unit::ONE),
        }
    }

    /// The density of a material by name.
    pub fn material(&self, name: &str, origin: Origin) -> Val<Density> {
        if let Ok(item) = self.book.find(Kind::Material, name) {
            let block = super::effective::effective(self.book, item).0;
            return self.quantity(&block, material::DENSITY);
        }
        match BuiltIn::named(name) {
            Some(metal) => {
                let standard = metal.spread / 3f64.sqrt();
                let source = Source::Material(metal.name);
                let unit = Unit::KILOGRAM_PER_CUBIC_METRE;
                Val { contributions: Contributions::of(source, standard), ..Val::exact(metal.value(), origin, unit) }
            }
            None => Val::missing(origin, Reason::NoSuchItem, Unit::ONE),
        }
    }

    /// See `Precision` in the language reference: `±` as written; a mass of the set; else the coarser of half a step
    /// of the last digit and half the resolution of the instrument. Facts that are not measured carry `±` alone.
    fn standard_uncertainty(&self, block: &EffectiveBlock<'b>, field: EffectiveField<'b>, stated: &Stated) -> f64 {
        if let Some(standard) = stated.stated_uncertainty() {
            return standard;
        }
        // Nothing on, nothing read and not turned is nothing; any other angle of nought is known as well as a whole turn.
        let key = field.field.key;
        let is_nothing =
            stated.base == 0.0 && (stated.dimension() != Dimension::ANGLE || key.is(run::TURNED_ON_ARBOR_BY));
        if key.standing != Standing::Measured || is_nothing {
            return 0.0;
        }
        if let Some(standard) = self.of_the_set(stated) {
            return standard;
        }
        let named =
            block.fields.iter().find(|other| matches!(other.field.key.value, ValueType::Name(NameOf::Instrument)));
        let named = named.and_then(|field| match &field.field.value {
            FieldValue::Name(name) => Some(&*name.text),
            _ => None,
        });
        let instrument = self.shop.instrument(named, stated.dimension(), stated.base);
        let half_resolution = instrument.map_or(0.0, |instrument| instrument.resolution / 2.0);
        stated.half_step.max(half_resolution) / 3f64.sqrt()
    }

    fn of_the_set(&self, stated: &Stated) -> Option<f64> {
        let set = self.masses.filter(|_| stated.dimension() == Dimension::MASS)?;
        let standard = set.standard?;
        let is_one = set.values.iter().any(|value| units::is_same(value.base, stated.base));
        is_one.then_some(standard.base())
    }
}

/// Half of a value, with half of its uncertainty.
fn halved<T: Amount>(whole: Val<T>) -> Val<T> {
    let mut contributions = Contributions::none();
    contributions.add(&whole.contributions, 0.5);
    Val { known: whole.known.map(|value| value.scaled(0.5)), contributions, ..whole }
}

/// Every written value is a source of its own.
pub(super) fn source(field: EffectiveField<'_>, nth: usize, part: Part) -> Source {
    Source::Written { at: field.item.file.place(field.field.value_span), nth, part }
}
