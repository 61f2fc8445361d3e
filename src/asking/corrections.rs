//! What was done in each plane after a run.

use super::arbor;
use super::question::{Question, Refused, Step, Wanted, at_end};
use super::record::Begun;
use super::runs;
use super::said::{angles, are_angles, is_nothing};
use crate::book::{Book, ItemId, PlaneResults, PlaneRun, RunResults, VectorVal, display_value};
use crate::card;
use crate::check;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::units::Amount;
use crate::vocabulary::plane::{CorrectBy, Method};
use crate::vocabulary::{correction, plane};

/// What may have been done in one plane.
pub(super) struct Done<'b> {
    pub item: ItemId,
    pub record: &'b Block,
    pub plane: String,
    pub run: String,
    /// Whether mass is put on, unless the answer says otherwise.
    pub adds: bool,
    /// The lines of each block when all was done as called for.
    pub as_called_for: Vec<Vec<String>>,
    /// What one of the pieces weighs that it is made of, as it is written.
    pub piece: Option<String>,
    /// Whether a depth says what is taken off.
    pub is_cut: bool,
    /// The angles of its places, place 1 first.
    pub places: Vec<String>,
    /// What the point of the drill alone takes.
    pub point: Option<String>,
    /// Sliding weights: where they go. What was done with them is in the next run.
    pub weights_to: Option<String>,
    /// Whether the plane has sliding weights, wherever they go.
    pub has_weights: bool,
    /// What else the next run has.
    pub like_before: Vec<String>,
}

const AS_CALLED_FOR: &str = "as called for";

/// How far what is done may be from what was called for, where nobody says what it weighs. Source: common practice, no source.
const DONE_WITHIN: &str = "± 5 %";

impl Done<'_> {
    /// What was called for says nothing of what it was made to: its digits are the program's. Pieces are counted.
    fn not_weighed(&self, lines: &[String]) -> Vec<String> {
        let masses = [correction::ADD, correction::REMOVE, correction::ADD_PLACE, correction::REMOVE_PLACE];
        let is_mass = |line: &&String| self.piece.is_none() && masses.iter().any(|fact| line.starts_with(fact.words()));
        let lines = lines.iter();
        lines.map(|line| if is_mass(&line) { format!("{line} {DONE_WITHIN}") } else { line.clone() }).collect()
    }
}

/// The next plane that calls for something, where the rotor is not good as it is.
pub(super) fn next<'b>(begun: &Begun<'b, '_>, last: &RunResults<'b>) -> Option<Question<'b>> {
    let record = begun.results;
    let is_done = |plane: &str| {
        let n = record.runs.len().checked_sub(1);
        record.corrections.iter().any(|one| one.plane == plane && one.written_after == n)
    };
    let has_begun = record.last_state.is_empty();
    if !has_begun && runs::is_good(record) {
        return None;
    }
    if card::stop(record).is_some() {
        return None;
    }
    let left_out = |plane: &str| begun.left_out.iter().any(|other| other == plane);
    let called_for = card::called_for(record).into_iter().chain(not_told(begun, last));
    // What is done with weights opens the next run: what is done in the other planes comes before it.
    let (turned, others): (Vec<_>, Vec<_>) = called_for.partition(|work| work.weights_to.is_some());
    let wanted = others
        .into_iter()
        .chain(turned)
        .find(|work| !is_done(&work.plane) && !left_out(&work.plane) && (work.is_over || !has_begun))?;
    let own = begun.setup.rotor.as_deref().and_then(|rotor| rotor.plane(&wanted.plane));
    let done = Done {
        item: begun.record,
        record: begun.book().item(begun.record),
        plane: wanted.plane.clone(),
        run: last.name.to_owned(),
        adds: wanted.adds,
        as_called_for: wanted.blocks,
        piece: own.and_then(|plane| {
            let each = &plane.geometry.mass_each;
            Some(display_value(each.get()?.raw(), each.unit, 0.0))
        }),
        is_cut: own.is_some_and(PlaneResults::is_cut),
        places: own.filter(|plane| plane.has_numbers()).map(card::angles_of_places).unwrap_or_default(),
        point: own.and_then(card::mass_of_point),
        has_weights: own.is_some_and(|plane| plane.method == Some(Method::SlidingWeights)),
        weights_to: wanted.weights_to,
        like_before: runs::still_open(begun).into_iter().chain(arbor::like_before(begun)).collect(),
    };
    let is_told = !done.as_called_for.is_empty() || done.weights_to.is_some();
    let has_places = !done.places.is_empty();
    let example = match (&done.weights_to, &done.piece, done.adds) {
        (Some(to), ..) => to.clone(),
        _ if done.has_weights => {
            let to = wanted.weights_nearest.unwrap_or_else(|| "60 deg, 300 deg".to_owned());
            format!("{to}; `-` for nothing")
        }
        (None, Some(piece), _) if has_places => {
            format!("2 × {piece} at place 3, 1 × {piece} at place 4; `-` for nothing")
        }
        (None, Some(piece), _) => format!("2 × {piece} @ 290, 1 × {piece} @ 310; `-` for nothing"),
        (None, None, true) if has_places => {
            "3.2 g @ 290, or 1.5 g at place 3, 0.9 g at place 4; `-` for nothing".to_owned()
        }
        (None, None, true) => "3.2 g @ 290, or 1.5 g @ 270, 0.9 g @ 300; `-` for nothing".to_owned(),
        (None, None, false) if done.is_cut && has_places => {
            "5.0 mm deep at place 3, 2.5 mm deep at place 4, or 0.8 g at place 3; `-` for nothing".to_owned()
        }
        (None, None, false) if done.is_cut => {
            "5.0 mm deep at 307 deg, or 0.8 g @ 307, 5.0 mm deep; `-` for nothing".to_owned()
        }
        (None, None, false) => "0.8 g @ 307; `-` for nothing".to_owned(),
    };
    Some(Question {
        about: wanted.depth_is.iter().map(String::as_str).chain(wanted.counts_from).collect::<Vec<_>>().join(". "),
        asks: format!("Plane {}: {}. Done", wanted.plane, wanted.order),
        example,
        usual: match wanted.is_nothing {
            true => Some("-".to_owned()),
            false => is_told.then(|| AS_CALLED_FOR.to_owned()),
        },
        head: String::new(),
        wanted: Wanted::Work(Box::new(done)),
    })
}

/// Planes of which the last run gives no angle: what is done there is still written down. Those that are not above their
/// tolerance are left out where another is.
fn not_told(begun: &Begun<'_, '_>, last: &RunResults<'_>) -> Vec<card::CalledFor> {
    let untold = last.planes.iter().filter(|plane| !plane.own_vector().is_some_and(VectorVal::is_known));
    let work = |run: &PlaneRun<'_>| {
        let plane = begun.setup.rotor.as_deref()?.plane(run.name)?;
        let limit = plane.tolerance.get();
        Some(card::CalledFor {
            plane: run.name.to_owned(),
            order: "where to correct is not computed".to_owned(),
            depth_is: None,
            counts_from: None,
            adds: plane.block.choice(plane::CORRECT) != Some(CorrectBy::Remove),
            blocks: Vec::new(),
            weights_to: None,
            weights_nearest: None,
            is_nothing: false,
            is_over: run.own().amount().get().zip(limit).is_none_or(|(amount, limit)| amount > limit),
        })
    };
    untold.filter_map(work).collect()
}

pub(super) fn write(book: &Book, done: &Done<'_>, given: &str) -> Result<Step, Refused> {
    if is_nothing(given) {
        return Ok(Step::LeavesOut(done.plane.clone()));
    }
    let turned = match (&done.weights_to, given) {
        (Some(weights_to), AS_CALLED_FOR) => Some(weights_to.clone()),
        (Some(_), _) => Some(angles(given)),
        (None, _) => Some(angles(given)).filter(|to| done.has_weights && are_angles(to)),
    };
    if let Some(to) = turned {
        let line = format!("{} {}: {to}", crate::vocabulary::run::WEIGHTS_AT, check::name_as_written(&done.plane));
        let lines: Vec<String> = done.like_before.iter().cloned().chain([line]).collect();
        return runs::open(book, done.item, done.record, "weights turned", &lines);
    }
    let blocks = match given {
        AS_CALLED_FOR => done.as_called_for.iter().map(|lines| done.not_weighed(lines)).collect(),
        _ => done.read(given)?,
    };
    let heading = format!("{} {}", Kind::Correction, check::name_as_written(&done.plane));
    let after = format!("  {}: {}", correction::AFTER, check::name_as_written(&done.run));
    let block = |lines: &Vec<String>| {
        let lines: String = lines.iter().map(|line| format!("  {line}\n")).collect();
        format!("\n{heading} {{\n{after}\n{lines}}}")
    };
    at_end(book, done.item, done.record, &blocks.iter().map(block).collect::<Vec<_>>().join("\n"))
}
