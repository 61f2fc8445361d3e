//! What the proof of a setup found, as unbalances in the planes.

use super::line::{Proven, Sources};
use crate::book::derive::Val;
use crate::book::results::bench::readings::{self, ReadingResults};
use crate::book::results::measuring::{Found, Read};
use crate::book::results::setup::proof::{ProofResults, SeparationResults};
use crate::book::results::values::entry::{Recorder, Spot};
use crate::mechanics::limits::Row;
use crate::units::{Ratio, Unbalance, Vector};
use crate::vocabulary::{proof, result};

impl<'b> Sources<'_, 'b> {
    pub(super) fn proven(&self, recorder: &Recorder<'b>) -> &Proven {
        self.proven.get_or_init(|| Proven {
            mountings: self.proof_mountings(recorder),
            start_and_back: self.start_and_back(recorder),
        })
    }

    pub(super) fn proof(&self) -> Option<&ProofResults<'b>> {
        self.runner.setup.proof.as_ref().filter(|_| !self.before_proof)
    }

    pub(super) fn separation(&self, plane: usize) -> Option<&SeparationResults<'b>> {
        let name = self.state.planes[plane].name;
        self.proof()?.separations.iter().find(|separation| separation.plane == name)
    }

    pub(super) fn own_error(&self, plane: usize) -> Option<&Val<Ratio>> {
        self.separation(plane)?.own_error.as_ref().filter(|error| error.is_known())
    }

    fn proof_mountings(&self, recorder: &Recorder<'b>) -> Vec<Vec<Found>> {
        let Some(proof) = self.proof() else { return Vec::new() };
        let angles = self.runner.measuring.sheet.angles();
        let channels: Vec<Vec<ReadingResults<'b>>> = proof
            .block
            .named(proof::REMOUNTED)
            .map(|(channel, field)| readings::several(recorder, &angles, &proof.block, &channel.text, field))
            .collect();
        let count = channels.iter().map(Vec::len).min().unwrap_or(0);
        let mounting = |n: usize| channels.iter().map(|channel| channel[n].clone()).collect::<Vec<_>>();
        (0..count).map(|n| self.in_planes(recorder, proof, &mounting(n))).collect()
    }

    fn start_and_back(&self, recorder: &Recorder<'b>) -> Option<[Vec<Found>; 2]> {
        let proof = self.proof()?;
        let angles = self.runner.measuring.sheet.angles();
        let read = |fact| {
            let read = readings::readings(recorder, &angles, &proof.block, fact);
            (!read.is_empty()).then(|| self.in_planes(recorder, proof, &read))
        };
        Some([read(proof::START_READING)?, read(proof::BACK_AT_START)?])
    }

    fn in_planes(&self, recorder: &Recorder<'b>, proof: &ProofResults<'b>, read: &[ReadingResults<'b>]) -> Vec<Found> {
        let heading = Spot::heading(&proof.block, self.runner.setup.id);
        let planes = &self.runner.measuring.planes;
        let spots: Vec<Spot> = planes.iter().map(|plane| heading.of_plane(plane)).collect();
        let origin = recorder.facts.origin(&proof.block, proof::REMOUNTED, None);
        let speed = self.runner.setup.balancing_speed.get();
        let read = Read { readings: read, origin, speed, is_as_tried: false };
        self.runner.measuring.unbalances(recorder, &spots, &result::MEASURED, &read)
    }
}

/// What planes do at a row; amounts alone as if all were in phase. `None` when one of them is not known.
pub(super) fn acting(row: &Row, planes: &[Found]) -> Option<Vector<Unbalance>> {
    let vectors: Option<Vec<Vector<Unbalance>>> = planes.iter().map(|found| found.vector()?.get()).collect();
    match vectors {
        Some(vectors) => Some(row.acting(&vectors)),
        None => {
            let amounts: Option<Vec<Unbalance>> = planes.iter().map(|found| found.amount().get()).collect();
            Some(Vector { x: row.worst(&amounts?), y: Unbalance::ZERO })
        }
    }
}
