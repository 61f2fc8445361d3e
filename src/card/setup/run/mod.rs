//! The run card: one side by which the next rotor is balanced on a proven sheet.

mod check;
mod limits;
mod numbers;
mod planes;
mod reading;
mod runs;
mod table;
mod verdict;

use super::{Sheet, mount, panel};
use crate::card::cautions;
use crate::card::document::{Column, Part, Section};
use crate::card::words::Words;

/// A panel with as many rows is as tall as what is said of a check mass.
const BESIDE_A_CHECK_MASS: usize = 7;

/// Counts what is done one after another.
struct Counter(u32);

impl Counter {
    fn next(&mut self, title: &'static str) -> Words {
        self.0 += 1;
        Words::said(format!("{}  {title}", self.0))
    }
}

pub(super) fn sections(sheet: &Sheet<'_, '_>) -> Vec<Section> {
    let mut counter = Counter(0);
    let mut sections = vec![
        Section::new("").part(Part::Numbers(numbers::of(sheet))).cautions(cautions::at_work(sheet.book, sheet.setup)),
    ];
    sections.extend(prepare(sheet, &mut counter));
    sections.push(runs::section(sheet, counter.next("Run, correct, run again")));
    sections.extend(planes::sections(sheet));
    sections.push(verdict::section(sheet));
    sections
}

/// What is laid in and set before the first run, and how the machine is read, as on the card.
pub(super) fn before_first_run(sheet: &Sheet<'_, '_>) -> Vec<Section> {
    let numbers = Section::new("Before the first run").part(Part::Numbers(numbers::of(sheet)));
    let set = panel::to_set(sheet);
    let panel = (!set.is_empty()).then(|| Section::new("Set the panel, in its order").rows(set));
    let how = reading::how(sheet).map(|words| Section::new("").text(words));
    std::iter::once(numbers).chain(lay_in(sheet)).chain(panel).chain(how).collect()
}

/// What the rotor sits on, in one line.
fn lay_in(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let rows = mount::lay_in(sheet);
    (!rows.is_empty()).then(|| Section::new("").part(Part::Fields(rows)))
}

/// The panel beside the check mass; above it where it has many rows.
fn prepare(sheet: &Sheet<'_, '_>, counter: &mut Counter) -> Vec<Section> {
    let is_long = panel::is_long(sheet);
    let has_panel = panel::short(sheet, "".into()).is_some();
    let panel = has_panel.then(|| panel::short(sheet, counter.next("Set the panel, in its order"))).flatten();
    let check = check::section(sheet, counter.next("Does the sheet still hold?"));
    let lay_in = lay_in(sheet);
    let column = |sections: Vec<Section>| Column { share: 1.0, sections };
    match (panel, is_long) {
        (Some(panel), false) => {
            let has_room = sheet.setup.check_mass.is_none() || panel::count(sheet) > BESIDE_A_CHECK_MASS;
            let (above, below) = if has_room { (None, lay_in) } else { (lay_in, None) };
            let beside = std::iter::once(check).chain(below).collect();
            let both = Section::new("").part(Part::Columns(vec![column(vec![panel]), column(beside)]));
            above.into_iter().chain([both]).collect()
        }
        (Some(panel), true) => lay_in.into_iter().chain([panel, check]).collect(),
        (None, _) => lay_in.into_iter().chain([check]).collect(),
    }
}
