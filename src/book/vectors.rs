//! Vectors of the book, and results that come several at once from many inputs.

use std::sync::Arc;

use smallvec::SmallVec;

use super::derive::{Derivation, Input, Val};
use super::ellipse::Ellipse;
use super::formulas::Formula;
use super::origin::{Missing, Origin, Reason};
use crate::mechanics::DomainError;
use crate::units::{Amount, Angle, Contributions, Unit, Vector};

/// A vector of the book: known with the uncertainty of its components, or missing with the reason.
#[derive(Clone, Debug)]
pub struct VectorVal<T: Amount> {
    pub known: Result<Vector<T>, Arc<Missing>>,
    /// Of `x` and of `y`. Both may hold shares of one source.
    pub contributions: [Contributions; 2],
    pub origin: Origin,
    /// The unit in which people should read its amount.
    pub unit: Unit,
    pub derivation: Option<Arc<Derivation>>,
}

impl<T: Amount> VectorVal<T> {
    pub fn missing(origin: Origin, reason: Reason, unit: Unit) -> Self {
        let missing = Arc::new(Missing { origin: origin.clone(), reason });
        Self::lacking(origin, missing, unit)
    }

    /// Missing because something else is.
    pub fn lacking(origin: Origin, missing: Arc<Missing>, unit: Unit) -> Self {
        Self { known: Err(missing), contributions: Default::default(), origin, unit, derivation: None }
    }

    /// Widens each component to this standard uncertainty, where it is known better.
    pub fn known_no_better_than(&mut self, standard: T) {
        for contributions in &mut self.contributions {
            let own = contributions.standard();
            if standard.raw() > own {
                let beyond = contributions.beyond_first_order((standard.raw().powi(2) - own * own).sqrt());
                contributions.add(&beyond, 1.0);
            }
        }
    }

    pub fn exact(value: Vector<T>, origin: Origin, unit: Unit) -> Self {
        Self { known: Ok(value), contributions: Default::default(), origin, unit, derivation: None }
    }

    /// An amount at an angle. The unit and the origin are the amount's.
    pub fn from_polar(amount: &Val<T>, angle: &Val<Angle>) -> Self {
        let (origin, unit) = (amount.origin.clone(), amount.unit);
        let (amount_known, angle_known) = match (&amount.known, &angle.known) {
            (Ok(amount), Ok(angle)) => (*amount, *angle),
            (Err(missing), _) | (_, Err(missing)) => return Self::lacking(origin, missing.clone(), unit),
        };
        let (cos, sin) = (angle_known.cos(), angle_known.sin());
        let mut contributions: [Contributions; 2] = Default::default();
        let (along, across) = ([cos, sin], [-sin, cos]);
        // What points anywhere is off to the side by as much as its amount may be.
        let anywhere = match points_anywhere(amount_known.raw(), angle.standard_uncertainty()) {
            true => amount.contributions.beyond_first_order(amount.standard_uncertainty()),
            false => Contributions::none(),
        };
        for (n, component) in contributions.iter_mut().enumerate() {
            component.add(&amount.contributions, along[n]);
            component.add(&angle.contributions, across[n] * amount_known.raw());
            component.add(&anywhere, across[n]);
        }
        Self { contributions, ..Self::exact(Vector::from_polar(amount_known, angle_known), origin, unit) }
    }

    pub fn get(&self) -> Option<Vector<T>> {
        self.known.as_ref().ok().copied()
    }

    pub fn is_known(&self) -> bool {
        self.known.is_ok()
    }

    /// Its amount, with the uncertainty along its direction and with what the one across adds to it.
    pub fn amount(&self) -> Val<T> {
        let known = self.known.clone().map(Vector::amount);
        let contributions = self.known.as_ref().map_or_else(|_| Contributions::none(), |v| self.along(direction(*v)));
        Val { known, contributions, origin: self.origin.clone(), unit: self.unit, derivation: self.derivation.clone() }
    }

    /// Its angle, with the uncertainty across its direction and with what its shortness adds: half a turn to either side
    /// where it may point anywhere.
    pub fn angle(&self) -> Val<Angle> {
        let known = self.known.clone().map(Vector::angle);
        let contributions = self.known.as_ref().map_or_else(|_| Contributions::none(), |v| self.turning(*v));
        let (origin, derivation) = (self.origin.clone(), self.derivation.clone());
        Val { known, contributions, origin, unit: Unit::DEGREE, derivation }
    }

    /// To first order the tip turns by what is uncertain across, over the length. A short vector turns farther, as the tip
    /// may lie nearer to the origin too: by the ellipse of its expanded uncertainty as the origin sees it.
    fn turning(&self, vector: Vector<T>) -> Contributions {
        let (amount, [x, y]) = (vector.amount().raw(), direction(vector));
        let mut across = match amount > 0.0 {
            true => self.in_direction([-y / amount, x / amount]),
            false => Contributions::none(),
        };
        let first = across.standard();
        let ellipse = Ellipse::of(&self.contributions);
        let widest = ellipse.widest_turn(vector).map_or(ANYWHERE, |turn| turn / 2.0).raw();
        if widest.max(first) >= ANYWHERE.raw() {
            return self.in_direction(ellipse.longest()).beyond_first_order(ANYWHERE.raw());
        }
        if widest > first * (1.0 + NEGLIGIBLE) {
            across.add(&across.beyond_first_order((widest.powi(2) - first.powi(2)).sqrt()), 1.0);
        }
        across
    }

    /// The same vector with another origin and derivation: what is recorded under a name of its own.
    pub fn under(&self, origin: Origin) -> Self {
        Self { origin, ..self.clone() }
    }

    /// The uncertainty along a direction; of a vector shorter than its own uncertainty, along the worst direction.
    ///
    /// A tip that lies off to the side lies farther out too: √(U² + (2·u)²) with an expanded uncertainty 2·u across. To
    /// first order that is nothing, and with a poor angle it is most of what there is (GUM 5.1.2, note, from memory).
    fn along(&self, direction: [f64; 2]) -> Contributions {
        let [x, y] = &self.contributions;
        let own = self.known.as_ref().map_or(0.0, |vector| vector.amount().raw());
        let is_long = own > x.standard().hypot(y.standard());
        let direction = if is_long { direction } else { Ellipse::of(&self.contributions).longest() };
        let mut along = self.in_direction(direction);
        let across = self.in_direction([-direction[1], direction[0]]);
        // A vector of nothing that is known alike in all directions is off by 2.45·u in one of twenty (Rayleigh).
        let farther = match is_long {
            true => (own.hypot(across.expanded()) - own) / 2.0,
            false => across.standard() / 2f64.sqrt(),
        };
        if farther > NEGLIGIBLE * own {
            along.add(&across.beyond_first_order(farther), 1.0);
        }
        along
    }

    fn in_direction(&self, [x, y]: [f64; 2]) -> Contributions {
        let mut sum = Contributions::none();
        sum.add(&self.contributions[0], x);
        sum.add(&self.contributions[1], y);
        sum
    }

    fn input(&self) -> Input {
        let amount = self.amount();
        Input {
            origin: self.origin.clone(),
            base: amount.get().map(Amount::raw),
            angle: self.get().map(|vector| vector.angle().in_radians()),
            unit: self.unit,
            standard_uncertainty: amount.standard_uncertainty(),
            derivation: self.derivation.clone(),
        }
    }
}

/// What an uncertain angle adds to an amount is left out below this share of it.
const NEGLIGIBLE: f64 = 1e-3;

/// The standard uncertainty of an angle of which nothing is known: expanded it is half a turn.
const ANYWHERE: Angle = Angle::degrees(90.0);

/// Whether an amount, in base units, has no direction: it is nothing, or of its angle nothing is known.
pub fn points_anywhere(amount: f64, standard_of_angle: f64) -> bool {
    amount == 0.0 || standard_of_angle >= ANYWHERE.raw() * (1.0 - 1e-9)
}

fn direction<T: Amount>(vector: Vector<T>) -> [f64; 2] {
    [vector.angle().cos(), vector.angle().sin()]
}

/// Inputs of many kinds on their way into one computation, each as its numbers in base units.
#[derive(Default)]
pub struct Gathered {
    known: Vec<Result<f64, Arc<Missing>>>,
    contributions: Vec<Contributions>,
    inputs: SmallVec<[Input; 4]>,
    steepest: bool,
    curved: bool,
}

impl Gathered {
    pub fn new() -> Self {
        Self::default()
    }

    /// For a formula with kinks, where the two sides differ: by the steeper of both.
    pub fn steepest(self) -> Self {
        Self { steepest: true, ..self }
    }

    /// For a formula that takes the amount of a difference: where that is next to nothing its slope says little, and how much
    /// both sides lie above it counts too.
    pub fn curved(self) -> Self {
        Self { curved: true, ..self }
    }

    /// Takes a value in, and says where its number will stand.
    pub fn value<T: Amount>(&mut self, value: &Val<T>) -> usize {
        self.known.push(value.known.clone().map(Amount::raw));
        self.contributions.push(value.contributions.clone());
        self.inputs.push(value.input());
        self.known.len() - 1
    }

    /// Takes a value in that the formula does not name: what only its uncertainty matters of.
    pub fn silently<T: Amount>(&mut self, value: &Val<T>) -> usize {
        self.known.push(value.known.clone().map(Amount::raw));
        self.contributions.push(value.contributions.clone());
        self.known.len() - 1
    }

    /// Takes a vector in, and says where its `x` will stand; `y` comes after it.
    pub fn vector<T: Amount>(&mut self, vector: &VectorVal<T>) -> usize {
        for n in [0, 1] {
            let component = |vector: Vector<T>| if n == 0 { vector.x.raw() } else { vector.y.raw() };
            self.known.push(vector.known.clone().map(component));
            self.contributions.push(vector.contributions[n].clone());
        }
        self.inputs.push(vector.input());
        self.known.len() - 2
    }

    /// The numbers as they stand, without what follows from them; `None` when one is missing.
    pub fn numbers(&self) -> Option<Numbers> {
        self.known.iter().map(|known| known.as_ref().ok().copied()).collect::<Option<Vec<f64>>>().map(Numbers)
    }

    /// Works out several numbers at once, each with its uncertainty to first order (GUM 5.1.2, from memory).
    pub fn work_out<P: Into<Produced>>(
        self,
        explained_by: Option<&'static Formula>,
        f: impl Fn(&Numbers) -> Result<P, DomainError>,
    ) -> Outputs {
        let f = |numbers: &Numbers| f(numbers).map(|produced| produced.into().0);
        let (inputs, steepest, curved) = (self.inputs, self.steepest, self.curved);
        let derivation = explained_by.map(|formula| Arc::new(Derivation { formula, inputs }));
        let values: Result<Vec<f64>, Arc<Missing>> = self.known.into_iter().collect();
        let values = match values {
            Ok(values) => Numbers(values),
            Err(missing) => return Outputs { found: Err(Lack::Missing(missing)), derivation },
        };
        let outputs = match f(&values) {
            Ok(outputs) => outputs,
            Err(error) => return Outputs { found: Err(Lack::Domain(error)), derivation },
        };
        let mut found: Vec<(f64, Contributions)> =
            outputs.into_iter().map(|value| (value, Contributions::none())).collect();
        for (n, of_input) in self.contributions.iter().enumerate().filter(|(_, of_input)| !of_input.is_exact()) {
            let step = of_input.standard();
            let moved = |by: f64| {
                let mut moved = values.0.clone();
                moved[n] += by;
                f(&Numbers(moved)).ok()
            };
            let (up, down) = (moved(step), moved(-step));
            for (m, (at, contributions)) in found.iter_mut().enumerate() {
                let slope = match (up.as_ref().map(|up| up[m]), down.as_ref().map(|down| down[m])) {
                    (Some(up), Some(down)) if steepest && (up - *at).abs() > (*at - down).abs() => (up - *at) / step,
                    (Some(_), Some(down)) if steepest => (*at - down) / step,
                    (Some(up), Some(down)) => (up - down) / (2.0 * step),
                    (Some(up), None) => (up - *at) / step,
                    (None, Some(down)) => (*at - down) / step,
                    (None, None) => 0.0,
                };
                contributions.add(of_input, slope);
                if let (true, Some(up), Some(down)) = (curved, &up, &down) {
                    let above = (up[m] + down[m] - 2.0 * *at).abs();
                    if above > NEGLIGIBLE * (slope * step).abs() {
                        contributions.add(&of_input.beyond_first_order(above), 1.0);
                    }
                }
            }
        }
        Outputs { found: Ok(found), derivation }
    }

    /// Works out one amount.
    pub fn work_out_one<T: Amount>(
        self,
        (origin, unit): (Origin, Unit),
        explained_by: Option<&'static Formula>,
        f: impl Fn(&Numbers) -> Result<T, DomainError>,
    ) -> Val<T> {
        self.work_out(explained_by, |numbers| Ok(amounts([f(numbers)?]))).value(0, origin, unit)
    }
}

/// The numbers of what was gathered, in base units.
pub struct Numbers(Vec<f64>);

impl Numbers {
    pub fn value<T: Amount>(&self, at: usize) -> T {
        T::from_raw(self.0[at])
    }

    pub fn vector<T: Amount>(&self, at: usize) -> Vector<T> {
        Vector { x: T::from_raw(self.0[at]), y: T::from_raw(self.0[at + 1]) }
    }
}

/// What one computation produces: the numbers of its amounts and vectors one after another, in base units.
#[derive(Default)]
pub struct Produced(Vec<f64>);

impl Produced {
    /// One amount alone.
    pub fn amount<T: Amount>(amount: T) -> Self {
        Self::default().and(amount)
    }

    /// One vector alone.
    pub fn vector<T: Amount>(vector: Vector<T>) -> Self {
        Self::default().and_vector(vector)
    }

    pub fn and<T: Amount>(mut self, amount: T) -> Self {
        self.0.push(amount.raw());
        self
    }

    pub fn and_vector<T: Amount>(self, vector: Vector<T>) -> Self {
        self.and(vector.x).and(vector.y)
    }
}

impl From<Vec<f64>> for Produced {
    fn from(numbers: Vec<f64>) -> Self {
        Self(numbers)
    }
}

/// Several results of one computation.
pub struct Outputs {
    found: Result<Vec<(f64, Contributions)>, Lack>,
    derivation: Option<Arc<Derivation>>,
}

enum Lack {
    Missing(Arc<Missing>),
    Domain(DomainError),
}

impl Lack {
    fn of(&self, origin: &Origin) -> Arc<Missing> {
        match self {
            Lack::Missing(missing) => missing.clone(),
            Lack::Domain(error) => {
                let reason = Reason::Domain(*error);
                Arc::new(Missing { origin: origin.clone(), reason })
            }
        }
    }
}

impl Outputs {
    pub fn is_known(&self) -> bool {
        self.found.is_ok()
    }

    /// The number at a place, as a value of its own.
    pub fn value<T: Amount>(&self, at: usize, origin: Origin, unit: Unit) -> Val<T> {
        let (known, contributions) = match &self.found {
            Ok(found) => (Ok(T::from_raw(found[at].0)), found[at].1.clone()),
            Err(lack) => (Err(lack.of(&origin)), Contributions::none()),
        };
        Val { known, contributions, origin, unit, derivation: self.derivation.clone() }
    }

    /// The numbers at a place and after it, as a vector.
    pub fn vector<T: Amount>(&self, at: usize, origin: Origin, unit: Unit) -> VectorVal<T> {
        let derivation = self.derivation.clone();
        match &self.found {
            Ok(found) => VectorVal {
                known: Ok(Vector { x: T::from_raw(found[at].0), y: T::from_raw(found[at + 1].0) }),
                contributions: [found[at].1.clone(), found[at + 1].1.clone()],
                origin,
                unit,
                derivation,
            },
            Err(lack) => {
                let missing = lack.of(&origin);
                VectorVal { derivation, ..VectorVal::lacking(origin, missing, unit) }
            }
        }
    }
}

/// Amounts one after another, as [`Gathered::work_out`] wants them.
pub fn amounts<T: Amount>(amounts: impl IntoIterator<Item = T>) -> Vec<f64> {
    amounts.into_iter().map(Amount::raw).collect()
}

/// The components of vectors one after another, as [`Gathered::work_out`] wants them.
pub fn components<T: Amount>(vectors: impl IntoIterator<Item = Vector<T>>) -> Vec<f64> {
    vectors.into_iter().fold(Produced::default(), Produced::and_vector).0
}
