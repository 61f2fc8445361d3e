//! A line through amounts, with a direction or without.

use std::collections::BTreeSet;

use num_complex::Complex64;

use super::line::{Change, FEWEST, ends};
use super::otherwise::{Course, Through, Value};

/// A line through amounts.
#[derive(Clone, Copy, Debug)]
pub struct Straight {
    pub change: Change,
    pub middle: f64,
    /// On the middle day, and a day.
    pub value: f64,
    pub slope: f64,
}

/// Weighted least squares: a level for each group, one slope.
pub fn straight(samples: &[Value]) -> Option<Straight> {
    one_of(samples, 1)
}

/// A line through one of so many components.
fn one_of(samples: &[Value], components: usize) -> Option<Straight> {
    if samples.len() < FEWEST {
        return None;
    }
    let (first, last) = ends(samples.iter().map(|one| one.at)).filter(|(first, last)| last > first)?;
    let groups: BTreeSet<usize> = samples.iter().map(|one| one.group).collect();
    let through = Through::of(samples, 1.0 + groups.len() as f64)?;
    let span = last - first;
    let by = through.slope * span;
    let standard = through.scatter / through.spread.sqrt() * span;
    let change = Change::of(by, standard, &through, components);
    let (middle, value) = through.middle;
    Some(Straight { change, middle, value, slope: through.slope })
}

/// A value that has a direction, with the standard uncertainty of each component.
#[derive(Clone, Copy, Debug)]
pub struct Directed {
    pub at: f64,
    pub group: usize,
    pub value: Complex64,
    pub standard: f64,
}

/// The component in which values with a direction change most.
#[derive(Clone, Copy, Debug)]
pub struct Component {
    /// Whether it is the one at 90 deg.
    pub is_across: bool,
    pub line: Straight,
}

impl Component {
    pub fn of(&self, value: Complex64) -> f64 {
        if self.is_across { value.im } else { value.re }
    }
}

/// A line through each component; of two that change, the one that changes more.
pub fn directed(samples: &[Directed]) -> Option<Component> {
    let component = |is_across: bool| {
        let value = |one: &Directed| Value {
            at: one.at,
            group: one.group,
            value: if is_across { one.value.im } else { one.value.re },
            standard: one.standard,
        };
        let line = one_of(&samples.iter().map(value).collect::<Vec<_>>(), 2)?;
        Some(Component { is_across, line })
    };
    let (along, across) = (component(false)?, component(true)?);
    let size = |one: &Component| (one.line.change.course != Course::Steady, one.line.change.by.abs());
    Some(if size(&across) > size(&along) { across } else { along })
}
