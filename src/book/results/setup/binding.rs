//! What a record is judged by: a proof of its setup, what it says of its run itself, or the sheet of today.

use std::sync::Arc;

use super::SetupResults;
use super::void::VoidCause;
use crate::book::effective::EffectiveBlock;
use crate::book::files::ItemId;
use crate::book::proofs::Day;
use crate::book::results::computing::Computing;
use crate::sheet::FieldValue;
use crate::syntax::Kind;
use crate::vocabulary::{machine, proof, record};

/// What a record is judged by.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum JudgedBy<'b> {
    /// The proof of this name, with the facts and limits of its day.
    Proof(&'b str),
    /// Its own `as run`.
    AsRun,
    /// Neither is written.
    Today,
}

/// What is amiss with the days of a record, its proofs and the services of its machine.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Untimely {
    /// It was run before what shows that its setup may be trusted.
    BeforeProof { proof: Day },
    /// The machine was serviced between its proof and itself.
    AfterService { proof: Day, service: Day },
}

/// How a record is bound to what it was run by.
#[derive(Clone, Debug)]
pub struct Binding<'b> {
    pub by: JudgedBy<'b>,
    /// The day of the record, where it says one.
    pub day: Option<Day>,
    pub untimely: Option<Untimely>,
}

impl JudgedBy<'_> {
    /// As a sentence goes on after "judged by".
    pub fn words(&self) -> String {
        match self {
            JudgedBy::Proof(name) => format!("{} \"{name}\"", Kind::Proof),
            JudgedBy::AsRun => Kind::AsRun.words().to_owned(),
            JudgedBy::Today => "the sheet of today".to_owned(),
        }
    }
}

impl Untimely {
    pub fn words(&self) -> String {
        match self {
            Self::BeforeProof { proof } => format!("it was run before its setup was proven on {proof}"),
            Self::AfterService { proof, service } => {
                format!("it was run after the machine was serviced on {service}, by a proof of {proof}")
            }
        }
    }
}

impl<'b> Binding<'b> {
    /// Of a record on a setup, with the setup as it is judged by.
    pub(in crate::book::results) fn of(
        computing: &Computing<'b>,
        block: &EffectiveBlock<'b>,
        setup: ItemId,
    ) -> Option<(Self, Arc<SetupResults<'b>>)> {
        let (by, setup) = match despite(block) {
            Some(cause) => {
                let (by, mut results) = judged_despite(computing, block, setup);
                results.void_causes.push(cause);
                (by, Arc::new(results))
            }
            None => judged_by(computing, block, setup)?,
        };
        let day = block.day(record::DATE);
        let untimely = day.and_then(|day| untimely(by, day, &setup));
        Some((Self { by, day, untimely }, setup))
    }
}

/// What a record says of its sheet voids what was read by it, whatever the sheet says today.
fn despite(block: &EffectiveBlock<'_>) -> Option<VoidCause> {
    let said = block.field(record::DESPITE)?;
    let FieldValue::Text(words) = &said.field.value else { return None };
    let place = (said.item.file, said.field.value_span);
    Some(VoidCause { what: format!("the record was run despite this: {words}"), place, proven: place })
}

/// As [`judged_by`], worked out for this record alone.
fn judged_despite<'b>(
    computing: &Computing<'b>,
    block: &EffectiveBlock<'b>,
    setup: ItemId,
) -> (JudgedBy<'b>, SetupResults<'b>) {
    match (proof_of(computing, block, setup), block.inner(Kind::AsRun).next()) {
        (Some((name, _)), _) => (JudgedBy::Proof(name), SetupResults::as_proven(computing, setup, name)),
        (None, Some(kept)) => (JudgedBy::AsRun, SetupResults::as_run(computing, setup, kept)),
        (None, None) => (JudgedBy::Today, SetupResults::of(computing, setup)),
    }
}

/// The proof that a record names, with the setup as it was proven.
fn proof_of<'b>(
    computing: &Computing<'b>,
    block: &EffectiveBlock<'b>,
    setup: ItemId,
) -> Option<(&'b str, Arc<SetupResults<'b>>)> {
    let FieldValue::Name(name) = &block.field(record::PROOF)?.field.value else { return None };
    Some((&name.text, computing.setup_as_proven(setup, &name.text)?))
}

fn judged_by<'b>(
    computing: &Computing<'b>,
    block: &EffectiveBlock<'b>,
    setup: ItemId,
) -> Option<(JudgedBy<'b>, Arc<SetupResults<'b>>)> {
    if let Some((name, proven)) = proof_of(computing, block, setup) {
        return Some((JudgedBy::Proof(name), proven));
    }
    if let Some(kept) = block.inner(Kind::AsRun).next() {
        return Some((JudgedBy::AsRun, Arc::new(SetupResults::as_run(computing, setup, kept))));
    }
    Some((JudgedBy::Today, computing.setup(setup)?))
}

/// On one day a proof comes before its records, and a service before its proof.
fn untimely(by: JudgedBy<'_>, day: Day, setup: &SetupResults<'_>) -> Option<Untimely> {
    let days = || setup.block.inner(Kind::Proof).filter_map(|one| one.day(proof::DATE));
    match by {
        JudgedBy::AsRun => None,
        // The sheet of today is as its newest proof found it.
        JudgedBy::Today => days().max().filter(|newest| day < *newest).map(|proof| Untimely::BeforeProof { proof }),
        JudgedBy::Proof(_) => {
            let proof = days().next()?;
            if day < proof {
                return Some(Untimely::BeforeProof { proof });
            }
            let machine = &setup.machine.as_ref()?.block;
            let (service, _) = machine.latest(machine::SERVICED, Some(day))?;
            (proof < service).then_some(Untimely::AfterService { proof, service })
        }
    }
}
