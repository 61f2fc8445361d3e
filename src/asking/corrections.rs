//! What was done in each plane after a run.

use super::arbor;
use super::forms::{angle_of_a_turn, is_number, with_unit};
use super::question::{Question, Refused, Step, Wanted, at_end};
use super::record::Begun;
use super::runs;
use crate::book::{Book, ItemId, PlaneResults, PlaneRun, RunResults, VectorVal, display_value};
use crate::card;
use crate::check;
use crate::sheet::Block;
use crate::syntax::Kind;
use crate::units::{Amount, Unit};
use crate::vocabulary::plane::CorrectBy;
use crate::vocabulary::{Choice, YesNo, correction, plane};

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
    /// What one of the pieces weighs that it is made of, as it is written.
    piece: Option<String>,
    /// Whether a depth says what is taken off.
    is_cut: bool,
    /// The numbers of its places.
    places: usize,
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
        places: own.and_then(|plane| plane.places.as_ref()).map_or(0, |places| places.angles.len()),
        weights_to: wanted.weights_to,
        like_before: runs::still_open(begun.setup).into_iter().chain(arbor::like_before(last)).collect(),
    };
    let is_told = !done.as_called_for.is_empty() || done.weights_to.is_some();
    let example = match (&done.weights_to, &done.piece, done.adds) {
        (Some(to), ..) => to.clone(),
        (None, Some(piece), _) => format!("2 × {piece} at place 3, 1 × {piece} at place 4; `-` for nothing"),
        (None, None, true) => "3.2 g @ 290, or 1.5 g at place 3, 0.9 g at place 4; `-` for nothing".to_owned(),
        (None, None, false) if done.is_cut => {
            "5.0 mm deep at 307 deg, or 0.8 g @ 307, 5.0 mm deep; `-` for nothing".to_owned()
        }
        (None, None, false) => "0.8 g @ 307; `-` for nothing".to_owned(),
    };
    Some(Question {
        about: wanted.depth_is.unwrap_or_default(),
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
            depth_is: None,
            adds: plane.block.choice(plane::CORRECT) != Some(CorrectBy::Remove),
            blocks: Vec::new(),
            weights_to: None,
            is_over: run.own().amount().get().zip(limit).is_none_or(|(amount, limit)| amount > limit),
        })
    };
    untold.filter_map(work).collect()
}

pub(super) fn write(book: &Book, done: &Done<'_>, given: &str) -> Result<Step, Refused> {
    if is_nothing(given) {
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

/// `-`, `no`, `none`, `nothing`
fn is_nothing(given: &str) -> bool {
    let given = given.to_lowercase();
    given == "-" || given.strip_prefix(YesNo::No.words()).is_some_and(|rest| ["", "ne", "thing"].contains(&rest))
}

fn angles(given: &str) -> String {
    given.split(',').map(|one| with_unit(one.trim(), Unit::DEGREE)).collect::<Vec<_>>().join(", ")
}

/// One mass at an angle, as far as it is said.
#[derive(Default)]
struct Said {
    mass: Option<String>,
    angle: Option<String>,
    depth: Option<String>,
    radius: Option<String>,
}

impl Said {
    /// Whether something else of one mass may be said of it too.
    fn takes(&self, other: &Said) -> bool {
        let both = |one: &Option<String>, other: &Option<String>| one.is_some() && other.is_some();
        !both(&self.mass, &other.mass)
            && !both(&self.angle, &other.angle)
            && !both(&self.depth, &other.depth)
            && !both(&self.radius, &other.radius)
    }

    fn take(&mut self, other: Said) {
        self.mass = self.mass.take().or(other.mass);
        self.angle = self.angle.take().or(other.angle);
        self.depth = self.depth.take().or(other.depth);
        self.radius = self.radius.take().or(other.radius);
    }
}

impl Done<'_> {
    /// The blocks of `5.1 mm deep at 40 deg`, of `0.8 g @ 307, 5.0 mm deep`, of `1.5 g at place 3, 2 × 0.9 g at place 4`, one for each
    /// mass at an angle.
    fn read(&self, given: &str) -> Result<Vec<Vec<String>>, Refused> {
        let letters: Vec<char> = given.chars().collect();
        if letters.windows(3).any(|three| matches!(three, [a, ',', b] if a.is_ascii_digit() && b.is_ascii_digit())) {
            let why =
                "has a comma between two digits: write a point for decimals, and a space after a comma that parts";
            return Err(Refused(format!("`{given}` {why}")));
        }
        let (adds, given) = sense(given, self.adds);
        let at_place = if adds { correction::ADD_PLACE } else { correction::REMOVE_PLACE };
        let mut all: Vec<Said> = Vec::new();
        let mut places: Vec<String> = Vec::new();
        for part in given.split(',').map(str::trim).filter(|part| !part.is_empty()) {
            if let Some((mass, place)) = place(part) {
                self.has_place(mass, place)?;
                places.push(format!("{at_place} {}: {}", check::place_as_written(place), self.mass(mass)?));
                continue;
            }
            let said = self.said(part)?;
            match all.last_mut().filter(|last| last.takes(&said)) {
                Some(last) => last.take(said),
                None => all.push(said),
            }
        }
        let mut blocks = all.into_iter().map(|said| self.block(said, adds)).collect::<Result<Vec<_>, _>>()?;
        if !places.is_empty() {
            blocks.push(places);
        }
        match blocks.is_empty() {
            true => Err(Refused("no mass is given".to_owned())),
            false => Ok(blocks),
        }
    }

    /// `0.8 g @ 307`, `5.1 mm deep at 40 deg`, `40 deg`, `5.1 mm deep`, `radius 60 mm`
    fn said(&self, part: &str) -> Result<Said, Refused> {
        let (what, angle) = match part.split_once('@').or_else(|| part.split_once(" at ")) {
            Some((what, angle)) => (what.trim(), Some(angle_of_a_turn(angle.trim())?)),
            None => (part, None),
        };
        let mut said = Said { angle, ..Said::default() };
        let lengths = |number: &str| Some(with_unit(number.trim(), Unit::MILLIMETRE));
        if let Some(depth) = what.strip_suffix("deep") {
            said.depth = lengths(depth);
        } else if let Some(radius) = what.strip_prefix(correction::RADIUS.words()) {
            said.radius = lengths(radius);
        } else if said.angle.is_none() && is_angle(what) {
            said.angle = Some(angle_of_a_turn(what)?);
        } else if what.starts_with(|c: char| c.is_ascii_digit()) {
            said.mass = Some(self.mass(what)?);
        } else {
            return Err(Refused(format!("`{part}` is not a mass at an angle or a place, a depth or a radius")));
        }
        Ok(said)
    }

    /// `0.8 g`, of `2 × 0.4 g` what it comes to as arithmetic. Where masses are pieces, a number alone may count them.
    fn mass(&self, given: &str) -> Result<String, Refused> {
        let times = given.split_once(['×', '*']).or_else(|| given.split_once(" x "));
        match (times, &self.piece) {
            (Some((count, each)), _) if is_number(count.trim()) => {
                Ok(format!("{} * {}", count.trim(), with_unit(each.trim(), Unit::GRAM)))
            }
            (None, Some(piece)) if is_number(given) => {
                Err(Refused(format!("`{given}` may be pieces or grams: write `{given} × {piece}`, or `{given} g`")))
            }
            _ => Ok(with_unit(given, Unit::GRAM)),
        }
    }

    fn has_place(&self, mass: &str, place: &str) -> Result<(), Refused> {
        match self.places {
            0 => Err(Refused(format!("plane {} has no numbered places: write `{mass} @ 40`", self.plane))),
            all if place.parse::<usize>().is_ok_and(|place| (1..=all).contains(&place)) => Ok(()),
            all => Err(Refused(format!("plane {} has places 1 to {all}, and no place {place}", self.plane))),
        }
    }

    fn block(&self, said: Said, adds: bool) -> Result<Vec<String>, Refused> {
        let does = if adds { correction::ADD } else { correction::REMOVE };
        let Said { mass, angle, depth, radius } = said;
        let what = mass.as_deref().map(str::to_owned).or_else(|| depth.as_ref().map(|depth| format!("{depth} deep")));
        let Some(angle) = angle else {
            let what = what.unwrap_or_else(|| "the radius".to_owned());
            return Err(Refused(format!("the angle of {what} is missing: write `{what} @ 40`")));
        };
        if mass.is_none() && (depth.is_none() || adds || !self.is_cut) {
            return Err(Refused(format!("what was done at {angle} is missing: write its mass, `0.8 g @ {angle}`")));
        }
        let lines = [
            mass.map(|mass| format!("{does}: {mass}")),
            Some(format!("{}: {angle}", correction::ANGLE)),
            depth.map(|depth| format!("{}: {depth}", correction::DEPTH)),
            radius.map(|radius| format!("{}: {radius}", correction::RADIUS)),
        ];
        Ok(lines.into_iter().flatten().collect())
    }
}

/// `40 deg`
fn is_angle(text: &str) -> bool {
    text.split_once(' ').is_some_and(|(number, unit)| is_number(number) && Unit::parse(unit) == Ok(Unit::DEGREE))
}

/// What the first words say of adding or removing.
fn sense(given: &str, adds: bool) -> (bool, &str) {
    let (add, remove) = (correction::ADD.words(), correction::REMOVE.words());
    let takes_off = ["take off", "drill", "mill", "grind"].map(|word| (word, false));
    let mut words = [(add, true), ("put on", true), (remove, false)].into_iter().chain(takes_off);
    let rest = |word: &str| {
        let (head, rest) = given.split_at_checked(word.len())?;
        head.eq_ignore_ascii_case(word).then_some(rest)
    };
    words.find_map(|(word, adds)| Some((adds, rest(word)?))).unwrap_or((adds, given))
}

/// `0.27 g at place 6`, `place 6: 0.27 g`
fn place(part: &str) -> Option<(&str, &str)> {
    if let Some((place, mass)) = part.strip_prefix("place ").and_then(|rest| rest.split_once(':')) {
        return Some((mass.trim(), place.trim()));
    }
    let (mass, place) = part.split_once("at place ").or_else(|| part.split_once("place "))?;
    let mass = mass.trim();
    mass.starts_with(|c: char| c.is_ascii_digit()).then_some((mass, place.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Block;

    fn with_done<R>(adds: bool, piece: Option<&str>, f: impl FnOnce(&Done<'_>) -> R) -> R {
        let file = crate::book::SourceFile::read("job.rotor", "record job {\n  setup: sheet\n}\n");
        let book = Book::new(vec![std::sync::Arc::new(file)]);
        let item = book.named(Kind::Record, "job")[0];
        let record: &Block = book.item(item);
        f(&Done {
            item,
            record,
            plane: "rim".to_owned(),
            run: "as found".to_owned(),
            adds,
            as_called_for: Vec::new(),
            piece: piece.map(str::to_owned),
            is_cut: piece.is_none(),
            places: 8,
            weights_to: None,
            like_before: Vec::new(),
        })
    }

    fn read(given: &str, adds: bool) -> Vec<Vec<String>> {
        with_done(adds, None, |done| done.read(given).unwrap())
    }

    fn refused(given: &str, piece: Option<&str>) -> String {
        with_done(false, piece, |done| done.read(given).unwrap_err().0)
    }

    #[test]
    fn what_was_done_is_read_as_it_is_said() {
        assert_eq!(read("0.78 @ 307, 5 mm deep", false), [["remove: 0.78 g", "angle: 307 deg", "depth: 5 mm"]]);
        let two = [["add: 1.2 g", "angle: 10 deg"], ["add: 0.8 g", "angle: 20 deg"]];
        assert_eq!(read("1.2 g @ 10, 0.8 g @ 20 deg", true), two);
        assert_eq!(read("remove 1.2 g @ 10", true), [["remove: 1.2 g", "angle: 10 deg"]]);
        let places = [["add place 6: 0.27 g", "add place 7: 1.95 g"]];
        assert_eq!(read("0.27 g at place 6, place 7: 1.95 g", true), places);
    }

    #[test]
    fn what_was_done_is_read_in_the_words_of_the_order() {
        let hole = [["angle: 40 deg", "depth: 5.1 mm"]];
        for given in ["5.1 mm deep at 40 deg", "DRILL 5.1 mm deep at 40 deg", "5.1 deep @ 40", "40 deg, 5.1 mm deep"] {
            assert_eq!(read(given, false), hole, "{given}");
        }
        let two = [["angle: 18 deg", "depth: 0.2 mm"], ["angle: 347 deg", "depth: 1 mm"]];
        assert_eq!(read("0.2 mm deep at 18 deg, 1 mm deep at 347 deg", false), two);
        for given in ["2 × 1.6 g at place 5", "2*1.6 g at place 5", "2 x 1.6 g at place 5", "place 5: 2 × 1.6 g"] {
            assert_eq!(read(given, true), [["add place 5: 2 * 1.6 g"]], "{given}");
        }
    }

    #[test]
    fn what_may_mean_two_things_is_asked_back() {
        let said = refused("2 at place 6", Some("1.60 g"));
        assert_eq!(said, "`2` may be pieces or grams: write `2 × 1.60 g`, or `2 g`");
        assert_eq!(refused("3 g at place 9", None), "plane rim has places 1 to 8, and no place 9");
        assert_eq!(refused("5 mm deep", None), "the angle of 5 mm deep is missing: write `5 mm deep @ 40`");
        assert_eq!(refused("3 g @ 400", None), "400 deg is not an angle of one turn: write it from 0 to 360 deg");
        assert_eq!(refused("40 deg", None), "what was done at 40 deg is missing: write its mass, `0.8 g @ 40 deg`");
        for given in ["5,1 mm deep at 40 deg", "4,6 g @ 45", "3.2 g @ 290,5 mm deep"] {
            let said = refused(given, None);
            assert!(said.contains("has a comma between two digits"), "{said}");
        }
        let washers = refused("5 mm deep @ 40", Some("1.60 g"));
        assert_eq!(washers, "what was done at 40 deg is missing: write its mass, `0.8 g @ 40 deg`");
    }
}
