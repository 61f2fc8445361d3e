//! The budget after one row of a verdict: what may put a measured unbalance wrong, each line with its standing.

mod arbor;
mod calibration;
pub(super) mod classes;
mod line;
mod machine;
mod mounting;
mod plain;
mod proven;
mod reading;
mod stated_errors;
mod trials;

use super::rows::JudgedRow;
use crate::book::results::values::entry::Recorder;
use crate::units::Unbalance;
use line::At;
pub use line::MountingsApart;
pub(super) use line::group;
pub use line::{Budget, Known, Line};
pub(in crate::book::results) use line::{Indexing, Sources};
pub(super) use machine::speed_line;
pub(super) use stated_errors::{FIRST, share_of_reading, state_error, stating_errors};

impl<'b> Sources<'_, 'b> {
    /// The budget of a row; empty while its numbers are not known.
    pub fn budget(&self, recorder: &Recorder<'b>, judged: &JudgedRow<'b>) -> Budget {
        let (Some(row), Some(amounts)) = (&judged.row, self.state.amounts()) else { return Budget::default() };
        let at = At { judged, row, amounts };
        let mounting = self.mounting(recorder, &at);
        let reading = self.reading(recorder, &at, &mounting);
        let machine = self.machine(&at, &[&mounting, &reading]);
        let mut lines = vec![mounting, reading, machine];
        lines.extend(self.calibration(recorder, &at));
        lines.extend([self.interference(&at), self.angle(recorder, &at), self.trials(recorder, &at)]);
        lines.extend([
            self.arbor(recorder, &at),
            self.keys(),
            self.masses(),
            self.drive(),
            self.speed(&at),
            self.bending(recorder),
        ]);
        lines.extend([self.couple(&at), self.levers(recorder, &at), self.limit(&at)]);
        lines.extend(self.extra_masses(recorder, &at));
        self.state_errors(recorder, &at, &mut lines);
        Budget { mountings_apart: self.apart(recorder, &at), ..Budget::of(lines) }
    }

    /// What stated vectors come to in a row that are taken out of every reading; nothing while its numbers are not known.
    pub fn taken_out(&self, recorder: &Recorder<'b>, judged: &JudgedRow<'b>) -> Unbalance {
        let (Some(row), Some(amounts)) = (&judged.row, self.state.amounts()) else { return Unbalance::ZERO };
        self.taken_out_at(recorder, &At { judged, row, amounts })
    }
}
