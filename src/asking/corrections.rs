//! What was done in each plane after a run.

use super::forms::{is_number, with_unit};
use super::question::{Question, Refused, Step, Wanted, at_end};
use super::record::Begun;
use super::runs;
use crate::book::{Book, ItemId, PlaneRun, RunResults, VectorVal};
use crate::card;
use crate::check;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::units::Unit;
use crate::vocabulary::plane::CorrectBy;
use crate::vocabulary::{correction, plane};

/// What may have been done in one plane.
pub(super) struct Done<'b> {
    item: ItemId,
    record: &'b Block,
    plane: String,
    run: String,
    /// Whether mass is put on, unless the answer says otherwise.
    adds: bool,
    /// The lines of each block when all was done as called for.
    as_called_for: Vec<Vec<String>>,
    /// Whether it is made of whole pieces of one mass.
    in_pieces: bool,
    /// Sliding weights: where they go. What was done with them is in the next run.
    weights_to: Option<String>,
    /// What else the next run has.
    like_before: Vec<String>,
}

const AS_CALLED_FOR: &str = "as called for";

/// How far what is done may be from what was called for, where nobody says what it weighs. Source: common practice, no source.
const DONE_WITHIN: &str = "± 5 %";

impl Done<'_> {
    /// What was called for says nothing of what it was made to: its digits are the program's. Pieces are counted.
    fn not_weighed(&self, lines: &[String]) -> Vec<String> {
        let masses = [correction::ADD, correction::REMOVE, correction::ADD_PLACE, correction::REMOVE_PLACE];
        let is_mass = |line: &&String| !self.in_pieces && masses.iter().any(|fact| line.starts_with(fact.words()));
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
        in_pieces: own.is_some_and(|plane| plane.geometry.mass_each.is_known()),
        weights_to: wanted.weights_to,
        like_before: runs::still_open(begun.setup).into_iter().chain(runs::as_it_sits(last)).collect(),
    };
    let is_told = !done.as_called_for.is_empty() || done.weights_to.is_some();
    let example = match (&done.weights_to, done.adds) {
        (Some(to), _) => to.clone(),
        (None, true) => "3.2 g @ 290, or 1.5 g at place 3, 0.9 g at place 4; `-` for nothing".to_owned(),
        (None, false) => "0.8 g @ 307, 5.0 mm deep; `-` for nothing".to_owned(),
    };
    Some(Question {
        about: String::new(),
        asks: format!("Plane {}: {}. Done", wanted.plane, wanted.order),
        example,
        usual: is_told.then(|| AS_CALLED_FOR.to_owned()),
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
            adds: plane.block.choice(plane::CORRECT) != Some(CorrectBy::Remove),
            blocks: Vec::new(),
            weights_to: None,
            is_over: run.own().amount().get().zip(limit).is_none_or(|(amount, limit)| amount > limit),
        })
    };
    untold.filter_map(work).collect()
}

pub(super) fn write(book: &Book, done: &Done<'_>, given: &str) -> Result<Step, Refused> {
    if given == "-" {
        return Ok(Step::LeavesOut(done.plane.clone()));
    }
    if let Some(weights_to) = &done.weights_to {
        let to = if given == AS_CALLED_FOR { weights_to.clone() } else { angles(given) };
        let line = format!("{} {}: {to}", crate::vocabulary::run::WEIGHTS_AT, check::name_as_written(&done.plane));
        let lines: Vec<String> = done.like_before.iter().cloned().chain([line]).collect();
        return runs::open(book, done.item, done.record, "weights turned", &lines);
    }
    let blocks = match given {
        AS_CALLED_FOR => done.as_called_for.iter().map(|lines| done.not_weighed(lines)).collect(),
        _ => read(given, done.adds)?,
    };
    let heading = format!("{} {}", Kind::Correction, check::name_as_written(&done.plane));
    let after = format!("  {}: {}", correction::AFTER, check::name_as_written(&done.run));
    let block = |lines: &Vec<String>| {
        let lines: String = lines.iter().map(|line| format!("  {line}\n")).collect();
        format!("\n{heading} {{\n{after}\n{lines}}}")
    };
    at_end(book, done.item, done.record, &blocks.iter().map(block).collect::<Vec<_>>().join("\n"))
}

fn angles(given: &str) -> String {
    given.split(',').map(|one| with_unit(one.trim(), Unit::DEGREE)).collect::<Vec<_>>().join(", ")
}

/// The blocks of `0.8 g @ 307, 5.0 mm deep`, of `1.5 g at place 3, 0.9 g at place 4`, one for each mass at an angle.
fn read(given: &str, adds: bool) -> Result<Vec<Vec<String>>, Refused> {
    let (adds, given) = sense(given, adds);
    let does = if adds { correction::ADD } else { correction::REMOVE };
    let at_place = if adds { correction::ADD_PLACE } else { correction::REMOVE_PLACE };
    let mut blocks: Vec<Vec<String>> = Vec::new();
    let mut places: Vec<String> = Vec::new();
    for part in given.split(',').map(str::trim).filter(|part| !part.is_empty()) {
        if let Some((mass, place)) = place(part) {
            places.push(format!("{at_place} {}: {}", check::place_as_written(place), with_unit(mass, Unit::GRAM)));
        } else if let Some((mass, angle)) = part.split_once('@') {
            let (mass, angle) = (with_unit(mass.trim(), Unit::GRAM), with_unit(angle.trim(), Unit::DEGREE));
            blocks.push(vec![format!("{does}: {mass}"), format!("{}: {angle}", correction::ANGLE)]);
        } else {
            let line = match (part.strip_suffix("deep"), part.strip_prefix(correction::RADIUS.words())) {
                (Some(depth), _) => format!("{}: {}", correction::DEPTH, with_unit(depth.trim(), Unit::MILLIMETRE)),
                (_, Some(radius)) => format!("{}: {}", correction::RADIUS, with_unit(radius.trim(), Unit::MILLIMETRE)),
                _ => {
                    return Err(Refused(format!("`{part}` is not a mass at an angle or a place, a depth or a radius")));
                }
            };
            match blocks.last_mut() {
                Some(block) => block.push(line),
                None => return Err(Refused(format!("`{part}` comes after the mass that it is of"))),
            }
        }
    }
    if !places.is_empty() {
        blocks.push(places);
    }
    match blocks.is_empty() {
        true => Err(Refused("no mass is given".to_owned())),
        false => Ok(blocks),
    }
}

/// What the first words say of adding or removing.
fn sense(given: &str, adds: bool) -> (bool, &str) {
    let (add, remove) = (correction::ADD.words(), correction::REMOVE.words());
    let words = [(add, true), ("put on", true), (remove, false), ("take off", false), ("drill", false)];
    let said = words.into_iter().find_map(|(word, adds)| Some((adds, given.strip_prefix(word)?)));
    said.unwrap_or((adds, given))
}

/// `0.27 g at place 6`, `place 6: 0.27 g`
fn place(part: &str) -> Option<(&str, &str)> {
    if let Some((place, mass)) = part.strip_prefix("place ").and_then(|rest| rest.split_once(':')) {
        return Some((mass.trim(), place.trim()));
    }
    let (mass, place) = part.split_once("at place ").or_else(|| part.split_once("place "))?;
    let mass = mass.trim();
    (is_number(mass) || mass.contains(' ')).then_some((mass, place.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_done_is_read_as_it_is_said() {
        let read = |given: &str, adds: bool| read(given, adds).unwrap();
        assert_eq!(read("0.78 @ 307, 5 mm deep", false), [["remove: 0.78 g", "angle: 307 deg", "depth: 5 mm"]]);
        let two = [["add: 1.2 g", "angle: 10 deg"], ["add: 0.8 g", "angle: 20 deg"]];
        assert_eq!(read("1.2 g @ 10, 0.8 g @ 20 deg", true), two);
        assert_eq!(read("remove 1.2 g @ 10", true), [["remove: 1.2 g", "angle: 10 deg"]]);
        let places = [["add place 6: 0.27 g", "add place 7: 1.95 g"]];
        assert_eq!(read("0.27 g at place 6, place 7: 1.95 g", true), places);
        let refused = super::read("5 mm deep", false).unwrap_err().0;
        assert!(refused.contains("comes after the mass"), "{refused}");
    }
}
