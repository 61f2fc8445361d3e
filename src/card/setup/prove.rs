//! Room for the readings of a proof.

use super::Sheet;
use crate::card::cautions;
use crate::card::document::{Part, Section, Table, Value};
use crate::card::words::Words;
use crate::vocabulary::machine::Supports;
use crate::vocabulary::readout::AngleDisplay;

/// Three remountings tell how well the seat repeats. Source: common practice, no source.
const REMOUNTED: [&str; 3] = ["mounted again", "mounted again, 2", "mounted again, 3"];

pub(super) fn proof(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let planes = sheet.planes();
    // A static stand has no setting to prove.
    if planes.is_empty() || sheet.setup.supports().is_some_and(Supports::is_stand) {
        return None;
    }
    let angles = cautions::angle_display(sheet.setup) != Some(AngleDisplay::NotShown);
    let mut heads = vec![Words::said("Reading")];
    for channel in sheet.channels() {
        heads.push(Words::stated(channel));
        if angles {
            heads.push("at".into());
        }
    }
    let mut names: Vec<Words> = vec!["at the start".into()];
    names.extend(planes.iter().map(|(plane, _)| Words::said("a mass in ").state(*plane)));
    names.extend(planes.iter().map(|(plane, _)| Words::said("twice that mass in ").state(*plane)));
    names.push("back at the start, all masses off".into());
    // What turns in its own bearings is not taken out.
    if sheet.setup.supports() != Some(Supports::InPlace) {
        names.extend(REMOUNTED.map(Words::from));
    }
    let blanks = heads.len() - 1;
    let row = |name: Words| {
        let mut row = vec![Value::Text(name)];
        row.extend(std::iter::repeat_n(Value::Blank(""), blanks));
        row
    };
    let rows = names.into_iter().map(row).collect();
    let words = "The sheet is proven when its `proof` holds these readings and they are within the shop's limits.";
    Some(Section::new("Prove it").part(Part::Table(Table::new(heads, rows).roomy())).text(words))
}
