//! How a rotor sits on its arbor: angles of the one as angles of the other.

use std::sync::Arc;

use crate::book::derive::{Derivation, Val};
use crate::book::effective::EffectiveBlock;
use crate::book::formulas as by;
use crate::book::results::measuring::Found;
use crate::book::results::values::entry::Recorder;
use crate::book::vectors::{Gathered, VectorVal, components};
use crate::units::{Amount, Angle};
use crate::vocabulary::run;
use crate::vocabulary::run::AnglesFrom;

/// Angles counted from the arbor's zero become angles of the rotor, which sits turned on it.
pub(in crate::book::results) fn in_rotor<'b>(
    recorder: &Recorder<'b>,
    block: &EffectiveBlock<'b>,
    turned: &Option<Val<Angle>>,
    found: Found,
) -> Found {
    let Found::Vector(vector) = found else { return found };
    let from_arbor = match (block.stated_choice(run::ANGLES_FROM), turned) {
        (Ok(from), _) => from == AnglesFrom::Arbor,
        (Err(_), None) => false,
        // Not turned, both zeros lie on each other.
        (Err(_), Some(turned)) if turned.get().is_some_and(|turned| !sits_turned(turned)) => false,
        // A rotor that sits turned has two zeros, and nothing says which one the angles count from.
        (Err(missing), Some(_)) => {
            return Found::Vector(VectorVal { known: Err(missing), ..vector });
        }
    };
    if !from_arbor {
        return Found::Vector(vector);
    }
    let by = match turned {
        Some(by) => by.clone(),
        None => recorder.facts.quantity(block, run::TURNED_ON_ARBOR_BY),
    };
    let mut turned_back = rotated(&vector, &by, -1.0);
    turned_back.derivation = vector.derivation.map(|derivation| {
        let inputs = derivation.inputs.iter().cloned().chain([by.input()]).collect();
        Arc::new(Derivation { formula: by::on_arbor(derivation.formula), inputs })
    });
    Found::Vector(turned_back)
}

/// Whether the zero of a rotor lies elsewhere than that of its arbor.
pub(in crate::book::results) fn sits_turned(turned: Angle) -> bool {
    turned.sin().abs() > 1e-6 || turned.cos() < 0.0
}

/// A vector turned by an angle, or back by it.
pub(in crate::book::results) fn rotated<T: Amount>(vector: &VectorVal<T>, by: &Val<Angle>, sign: f64) -> VectorVal<T> {
    let mut gathered = Gathered::new();
    let (at, turn) = (gathered.vector(vector), gathered.value(by));
    let outputs = gathered.work_out(None, |numbers| {
        Ok(components([numbers.vector::<T>(at).rotate(numbers.value::<Angle>(turn) * sign)]))
    });
    let derivation = vector.derivation.clone();
    VectorVal { derivation, ..outputs.vector(0, vector.origin.clone(), vector.unit) }
}
