//! What was done, as it is said: masses and cuts, at angles and places, in the words of the order.

use super::corrections::Done;
use super::forms::{angle_of_a_turn, has_decimal_comma, is_number, with_unit, without_head, without_order};
use super::question::Refused;
use crate::card::POINT_ONLY;
use crate::check;
use crate::units::Unit;
use crate::vocabulary::correction;

/// What is answered where nothing was done.
const NOTHING: &str = "- no none nothing";

/// `-`, `nothing`; `DRILL NOTHING: the point of the drill alone takes more than twice as much`
pub(super) fn is_nothing(given: &str) -> bool {
    let (_, what) = sense(given).unwrap_or((false, given));
    let what = what.split(':').next().unwrap_or_default().trim().to_lowercase();
    !what.is_empty() && NOTHING.split(' ').any(|word| word == what)
}

/// `60, 300`, `TURN WEIGHT 1 TO 60 deg, WEIGHT 2 TO 300 deg`
pub(super) fn angles(given: &str) -> String {
    without_order(given).split(',').map(|one| with_unit(one.trim(), Unit::DEGREE)).collect::<Vec<_>>().join(", ")
}

/// Whether all of them are: `60 deg, 300 deg`.
pub(super) fn are_angles(given: &str) -> bool {
    given.split(", ").all(is_angle)
}

/// One mass or cut at an angle or a place, as far as it is said.
#[derive(Default)]
struct Said {
    adds: bool,
    mass: Option<String>,
    /// Whether it is a cut that is told by what it weighs: the point of the drill alone.
    is_point: bool,
    angle: Option<String>,
    place: Option<String>,
    depth: Option<String>,
    radius: Option<String>,
}

impl Said {
    /// Whether something else of one mass may be said of it too.
    fn takes(&self, other: &Said) -> bool {
        let both = |one: &Option<String>, other: &Option<String>| one.is_some() && other.is_some();
        let where_ = |said: &Said| said.angle.is_some() || said.place.is_some();
        let twice = [
            both(&self.mass, &other.mass),
            where_(self) && where_(other),
            both(&self.depth, &other.depth),
            both(&self.radius, &other.radius),
        ];
        self.adds == other.adds && !twice.contains(&true)
    }

    fn take(&mut self, other: Said) {
        self.mass = self.mass.take().or(other.mass);
        self.is_point |= other.is_point;
        self.angle = self.angle.take().or(other.angle);
        self.place = self.place.take().or(other.place);
        self.depth = self.depth.take().or(other.depth);
        self.radius = self.radius.take().or(other.radius);
    }
}

impl Done<'_> {
    /// The blocks of `5.1 mm deep at 40 deg`, of `0.8 g @ 307, 5.0 mm deep`, of `PUT ON 1.5 g at place 3, TAKE OFF 2 × 0.9 g at place
    /// 4`: one for each mass or cut at an angle, and one for all masses at places.
    pub fn read(&self, given: &str) -> Result<Vec<Vec<String>>, Refused> {
        if has_decimal_comma(given) {
            let why =
                "has a comma between two digits: write a point for decimals, and a comma and a space between values";
            return Err(Refused(format!("`{given}` {why}")));
        }
        let mut adds = self.adds;
        let mut all: Vec<Said> = Vec::new();
        for part in given.split(',').map(str::trim).filter(|part| !part.is_empty()) {
            let (of_part, part) = sense(part).unwrap_or((adds, part));
            adds = of_part;
            let said = Said { adds, ..self.said(part)? };
            match all.last_mut().filter(|last| last.takes(&said)) {
                Some(last) => last.take(said),
                None => all.push(said),
            }
        }
        let (mut blocks, mut places) = (Vec::new(), Vec::new());
        for said in all {
            match (&said.place, &said.mass) {
                (Some(place), Some(mass)) if said.depth.is_none() && said.radius.is_none() && !said.is_point => {
                    let at_place = if said.adds { correction::ADD_PLACE } else { correction::REMOVE_PLACE };
                    places.push(format!("{at_place} {}: {mass}", check::place_as_written(place)));
                }
                _ => blocks.push(self.block(said)?),
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

    /// `0.8 g @ 307`, `5.1 mm deep at place 3`, `the point only at 19 deg`, `40 deg`, `5.1 mm deep`, `radius 60 mm`
    fn said(&self, part: &str) -> Result<Said, Refused> {
        let mut said = Said::default();
        let what = match (place(part), part.split_once('@').or_else(|| part.split_once(" at "))) {
            (Some((what, place)), _) => {
                self.has_place(what, place)?;
                said.place = Some(place.to_owned());
                what
            }
            (None, Some((what, angle))) => {
                said.angle = Some(angle_of_a_turn(angle.trim())?);
                what.trim()
            }
            (None, None) => part,
        };
        if let Some(depth) = what.strip_suffix("deep") {
            said.depth = Some(self.depth(depth.trim())?);
        } else if what.eq_ignore_ascii_case(POINT_ONLY) {
            let unknown = || Refused("what the point of the drill takes is not known: write its mass".to_owned());
            said.mass = Some(self.point.clone().ok_or_else(unknown)?);
            said.is_point = true;
        } else if let Some(radius) = without_head(what, correction::RADIUS.words()) {
            said.radius = Some(with_unit(radius, Unit::MILLIMETRE));
        } else if said.angle.is_none() && said.place.is_none() && is_angle(what) {
            said.angle = Some(angle_of_a_turn(what)?);
        } else if self.is_cut && is_length(what) {
            said.depth = Some(self.depth(what)?);
        } else if what.starts_with(|c: char| c.is_ascii_digit()) {
            said.mass = Some(self.mass(what)?);
        } else {
            return Err(Refused(format!("`{part}` is not a mass at an angle or a place, a depth or a radius")));
        }
        Ok(said)
    }

    /// `5.1 mm` of one cut.
    fn depth(&self, given: &str) -> Result<String, Refused> {
        if given.contains(['×', '*']) {
            return Err(Refused(format!("`{given} deep` is of several cuts: write each with its own angle or place")));
        }
        let number = given.split_whitespace().next().unwrap_or_default();
        match is_number(number) {
            true => Ok(with_unit(given, Unit::MILLIMETRE)),
            false => Err(Refused(format!("`{given} deep` is not a depth: write `5.1 mm deep`"))),
        }
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

    fn has_place(&self, what: &str, place: &str) -> Result<(), Refused> {
        match self.places.len() {
            0 => Err(Refused(format!("plane {} has no numbered places: write `{what} @ 40`", self.plane))),
            all if place.parse::<usize>().is_ok_and(|place| (1..=all).contains(&place)) => Ok(()),
            all => Err(Refused(format!("plane {} has places 1 to {all}, and no place {place}", self.plane))),
        }
    }

    /// A cut at a place has the angle of the place, for its depth is its own.
    fn block(&self, said: Said) -> Result<Vec<String>, Refused> {
        let does = if said.adds { correction::ADD } else { correction::REMOVE };
        let Said { adds, mass, angle, place, depth, radius, .. } = said;
        let what = mass.as_deref().map(str::to_owned).or_else(|| depth.as_ref().map(|depth| format!("{depth} deep")));
        let of_place = place.and_then(|place| self.places.get(place.parse::<usize>().ok()?.checked_sub(1)?).cloned());
        let Some(angle) = angle.or(of_place) else {
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

/// `0.255 in`
fn is_length(text: &str) -> bool {
    let dimension = |unit: &str| Unit::parse(unit).ok().map(Unit::dimension);
    let is_of_length = |unit: &str| dimension(unit) == Some(Unit::MILLIMETRE.dimension());
    text.split_once(' ').is_some_and(|(number, unit)| is_number(number) && is_of_length(unit.trim()))
}

/// What the first words say of adding or removing, and the rest; `None` where they say nothing of it.
fn sense(given: &str) -> Option<(bool, &str)> {
    const ADDS: [&str; 5] = [correction::ADD.words(), "added", "put on", "put back", "put"];
    const TAKES_OFF: [&str; 10] = [
        correction::REMOVE.words(),
        "removed",
        "take off",
        "took off",
        "drill",
        "drilled",
        "mill",
        "milled",
        "grind",
        "ground",
    ];
    let mut words = ADDS.map(|word| (word, true)).into_iter().chain(TAKES_OFF.map(|word| (word, false)));
    words.find_map(|(word, adds)| Some((adds, without_head(given, word)?)))
}

/// `0.27 g at place 6`, `place 6: 0.27 g`, `5 mm deep at place 3`
fn place(part: &str) -> Option<(&str, &str)> {
    if let Some((place, what)) = part.strip_prefix("place ").and_then(|rest| rest.split_once(':')) {
        return Some((what.trim(), place.trim()));
    }
    let (what, place) = part.split_once("at place ").or_else(|| part.split_once("place "))?;
    Some((what.trim(), place.trim())).filter(|(what, _)| !what.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::Book;
    use crate::sheet::Block;
    use crate::syntax::Kind;

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
            places: ["0 deg", "45 deg", "90 deg", "135 deg", "180 deg", "225 deg", "270 deg", "315 deg"]
                .map(str::to_owned)
                .to_vec(),
            point: piece.is_none().then(|| "0.35 g".to_owned()),
            weights_to: None,
            has_weights: false,
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
        for given in [
            "5.1 mm deep at 40 deg",
            "DRILL 5.1 mm deep at 40 deg",
            "drilled 5.1 mm deep at 40",
            "5.1 deep @ 40",
            "5.1 mm at 40",
            "40 deg, 5.1 mm deep",
        ] {
            assert_eq!(read(given, false), hole, "{given}");
        }
        assert_eq!(read("0.255 in at 100", false), [["angle: 100 deg", "depth: 0.255 in"]]);
        assert_eq!(read("put 1.2 g at 10", true), [["add: 1.2 g", "angle: 10 deg"]]);
        assert_eq!(read("removed 1.2 g at 10", true), [["remove: 1.2 g", "angle: 10 deg"]]);
        let two = [["angle: 18 deg", "depth: 0.2 mm"], ["angle: 347 deg", "depth: 1 mm"]];
        assert_eq!(read("0.2 mm deep at 18 deg, 1 mm deep at 347 deg", false), two);
        for given in ["2 × 1.6 g at place 5", "2*1.6 g at place 5", "2 x 1.6 g at place 5", "place 5: 2 × 1.6 g"] {
            assert_eq!(read(given, true), [["add place 5: 2 * 1.6 g"]], "{given}");
        }
    }

    /// Eight places from 0 deg: place 4 is at 135 deg.
    #[test]
    fn each_part_of_an_order_has_its_own_sense_place_and_depth() {
        let both = [["add place 7: 3.48 g", "add place 8: 2.82 g", "remove place 3: 1.66 g"]];
        assert_eq!(read("PUT ON 3.48 g at place 7, 2.82 g at place 8, TAKE OFF 1.66 g at place 3", true), both);
        let holes = [["angle: 90 deg", "depth: 5 mm"], ["angle: 135 deg", "depth: 2.5 mm"]];
        assert_eq!(read("DRILL 5 mm deep at place 3, 2.5 mm deep at place 4", false), holes);
        let weighed = [["remove: 2.8 g", "angle: 135 deg", "depth: 2.5 mm"]];
        assert_eq!(read("2.8 g at place 4, 2.5 mm deep", false), weighed);
        assert_eq!(read("DRILL the point only at 19 deg", false), [["remove: 0.35 g", "angle: 19 deg"]]);
        assert_eq!(read("the point only at place 2", false), [["remove: 0.35 g", "angle: 45 deg"]]);
        assert_eq!(
            read("TAKE OFF 1.2 g at place 1, PUT BACK 0.4 g at place 2", false),
            [["remove place 1: 1.2 g", "add place 2: 0.4 g"]]
        );
        for nothing in ["-", "no", "None", "nothing", "DRILL NOTHING: the point takes more"] {
            assert!(is_nothing(nothing), "{nothing}");
        }
        assert!(!is_nothing("thing") && !is_nothing("ne") && !is_nothing("1.2 g @ 40"));
        assert_eq!(angles("TURN WEIGHT 1 TO 60 deg, WEIGHT 2 TO 300 deg"), "60 deg, 300 deg");
        assert!(refused("2 × 5 mm deep at 40", None).contains("write each with its own angle or place"));
        assert!(refused("<0.05 mm deep at 40", None).contains("is not a depth"));
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
