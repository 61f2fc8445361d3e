//! Values with their uncertainty and their origin, and the one way results are made from them.

use std::sync::Arc;

use rustc_hash::FxHashSet;
use smallvec::SmallVec;

use super::files::FileId;
use super::formulas::Formula;
use super::origin::{Missing, Origin, Reason};
use crate::mechanics::DomainError;
use crate::text::Span;
use crate::units::{Amount, Contributions, Unit, sensitivity};

/// A value of the book: known with its uncertainty, or missing with the reason.
#[derive(Clone, Debug)]
pub struct Val<T> {
    pub known: Result<T, Arc<Missing>>,
    pub contributions: Contributions,
    pub origin: Origin,
    /// The unit in which people should read it.
    pub unit: Unit,
    /// How it was worked out; `None` for a fact.
    pub derivation: Option<Arc<Derivation>>,
}

#[derive(Debug)]
pub struct Derivation {
    pub formula: &'static Formula,
    pub inputs: SmallVec<[Input; 4]>,
}

impl Derivation {
    /// Where the facts are written that it was worked out from, however far back.
    pub fn facts(self: &Arc<Self>) -> Vec<(FileId, Span)> {
        let mut found = Vec::new();
        let mut seen: FxHashSet<*const Self> = FxHashSet::default();
        let mut open = vec![self];
        while let Some(next) = open.pop() {
            if !seen.insert(Arc::as_ptr(next)) {
                continue;
            }
            found.extend(next.inputs.iter().filter_map(|input| input.origin.place));
            open.extend(next.inputs.iter().filter_map(|input| input.derivation.as_ref()));
        }
        found
    }
}

/// What went into a result, as it stood.
#[derive(Clone, Debug)]
pub struct Input {
    pub origin: Origin,
    /// In base units of `unit`'s dimension.
    pub base: Option<f64>,
    /// The angle of a vector, in radians.
    pub angle: Option<f64>,
    pub unit: Unit,
    pub standard_uncertainty: f64,
    /// How it was worked out in turn; `None` for a fact.
    pub derivation: Option<Arc<Derivation>>,
}

impl<T: Amount> Val<T> {
    pub fn missing(origin: Origin, reason: Reason, unit: Unit) -> Self {
        let missing = Missing { origin: origin.clone(), reason };
        Self { known: Err(Arc::new(missing)), contributions: Contributions::none(), origin, unit, derivation: None }
    }

    pub fn exact(value: T, origin: Origin, unit: Unit) -> Self {
        Self { known: Ok(value), contributions: Contributions::none(), origin, unit, derivation: None }
    }

    pub fn get(&self) -> Option<T> {
        self.known.as_ref().ok().copied()
    }

    pub fn is_known(&self) -> bool {
        self.known.is_ok()
    }

    /// The fact was left out, which is different from standing there unreadable.
    pub fn is_left_out(&self) -> bool {
        matches!(&self.known, Err(missing) if missing.reason == Reason::NotGiven)
    }

    pub fn standard_uncertainty(&self) -> f64 {
        self.contributions.standard()
    }

    pub fn expanded_uncertainty(&self) -> f64 {
        self.contributions.expanded()
    }

    pub fn or(self, other: impl FnOnce() -> Val<T>) -> Val<T> {
        if self.is_left_out() { other() } else { self }
    }

    pub(super) fn input(&self) -> Input {
        Input {
            origin: self.origin.clone(),
            base: self.get().map(|value| value.shown_in(self.unit)),
            angle: None,
            unit: self.unit,
            standard_uncertainty: T::from_raw(self.standard_uncertainty()).shown_in(self.unit),
            derivation: self.derivation.clone(),
        }
    }
}

/// The inputs of a formula: a tuple of values, or a list of values of one type.
pub trait Inputs {
    type Values: Clone;
    fn values(&self) -> Result<Self::Values, Arc<Missing>>;
    fn count(&self) -> usize;
    fn contributions(&self, index: usize) -> &Contributions;
    /// The values with one of them moved by `by`, in base units.
    fn moved(values: &Self::Values, index: usize, by: f64) -> Self::Values;
    fn inputs(&self) -> SmallVec<[Input; 4]>;
}

macro_rules! tuple_inputs {
    ($($type:ident $index:tt),+) => {
        impl<$($type: Amount),+> Inputs for ($(&Val<$type>,)+) {
            type Values = ($($type,)+);
            fn values(&self) -> Result<Self::Values, Arc<Missing>> {
                Ok(($(self.$index.known.clone()?,)+))
            }
            fn count(&self) -> usize {
                [$($index),+].len()
            }
            fn contributions(&self, index: usize) -> &Contributions {
                [$(&self.$index.contributions),+][index]
            }
            fn moved(values: &Self::Values, index: usize, by: f64) -> Self::Values {
                ($(values.$index.moved(if index == $index { by } else { 0.0 }),)+)
            }
            fn inputs(&self) -> SmallVec<[Input; 4]> {
                SmallVec::from_iter([$(self.$index.input()),+])
            }
        }
    };
}

tuple_inputs!(A 0);
tuple_inputs!(A 0, B 1);
tuple_inputs!(A 0, B 1, C 2);
tuple_inputs!(A 0, B 1, C 2, D 3);
tuple_inputs!(A 0, B 1, C 2, D 3, E 4);
tuple_inputs!(A 0, B 1, C 2, D 3, E 4, F 5);
tuple_inputs!(A 0, B 1, C 2, D 3, E 4, F 5, G 6);
tuple_inputs!(A 0, B 1, C 2, D 3, E 4, F 5, G 6, H 7);

impl<T: Amount> Inputs for &[Val<T>] {
    type Values = Vec<T>;

    fn values(&self) -> Result<Vec<T>, Arc<Missing>> {
        self.iter().map(|value| value.known.clone()).collect()
    }

    fn count(&self) -> usize {
        self.len()
    }

    fn contributions(&self, index: usize) -> &Contributions {
        &self[index].contributions
    }

    fn moved(values: &Vec<T>, index: usize, by: f64) -> Vec<T> {
        let mut values = values.clone();
        values[index] = values[index].moved(by);
        values
    }

    fn inputs(&self) -> SmallVec<[Input; 4]> {
        self.iter().map(Val::input).collect()
    }
}

/// Works out one value from others, with its uncertainty to first order (GUM 5.1.2, from memory).
///
/// A missing input makes the result missing, for the input's reason; so does a value outside the formula's domain.
/// With a formula to explain it by, the result keeps what went into it.
pub fn derive<I: Inputs, T: Amount>(
    origin: Origin,
    unit: Unit,
    explained_by: Option<&'static Formula>,
    inputs: I,
    f: impl Fn(I::Values) -> Result<T, DomainError>,
) -> Val<T> {
    let derivation = explained_by.map(|formula| Arc::new(Derivation { formula, inputs: inputs.inputs() }));
    let values = match inputs.values() {
        Ok(values) => values,
        Err(missing) => {
            return Val { known: Err(missing), contributions: Contributions::none(), origin, unit, derivation };
        }
    };
    let value = match f(values.clone()) {
        Ok(value) => value,
        Err(error) => {
            let missing = Val { derivation, ..Val::missing(origin, Reason::Domain(error), unit) };
            return missing;
        }
    };
    let mut contributions = Contributions::none();
    for index in 0..inputs.count() {
        let of_input = inputs.contributions(index);
        if of_input.is_exact() {
            continue;
        }
        let moved = |by| f(I::moved(&values, index, by)).ok();
        contributions.add(of_input, sensitivity(of_input.standard(), value, moved));
    }
    Val { known: Ok(value), contributions, origin, unit, derivation }
}
