//! Which extra masses were left off in a run.

use super::forms::Form;
use super::record::Begun;
use super::runs::{Asked, fact_as_written, is_read};
use crate::sheet::Block;
use crate::vocabulary::{extra_mass, run};

/// Of extra masses: no line says that all are on.
const ALL_ON: &str = "none, all are on";

/// Whether an answer is that, in whole or in part.
pub(super) fn is_all_on(given: &str) -> bool {
    given == ALL_ON || ALL_ON.split(", ").any(|part| part == given)
}

/// Which extra masses are not on, before anything is read in a run.
pub(super) fn masses(begun: &Begun<'_, '_>, block: Option<&Block>) -> Option<Asked> {
    block.filter(|block| !is_read(block))?;
    let to_put_on: Vec<_> = begun.setup.extra_masses_to_put_on().collect();
    let names: Vec<String> = to_put_on.iter().map(|mass| mass.name_text().to_owned()).collect();
    let told = to_put_on.iter().map(|mass| match fact_as_written(begun.book(), mass, extra_mass::MASS) {
        Some(weighs) => format!("{}, {weighs}", mass.name_text()),
        None => mass.name_text().to_owned(),
    });
    Some(Asked {
        head: run::WITHOUT.to_string(),
        asks: format!("Extra masses: {}. Not on are", told.collect::<Vec<_>>().join("; ")),
        example: names.first()?.clone(),
        usual: Some(ALL_ON.to_owned()),
        form: Form::Names(names),
        may_be_unknown: true,
    })
}
