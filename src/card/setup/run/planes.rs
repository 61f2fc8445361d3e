//! Each plane: what is taken off or put on, where, and how much for what is read.

use super::super::Sheet;
use super::table::{amount_missing, table};
use crate::book::{self, AngleRead, Cut, EffectiveBlock, PlaneResults, RotorResults, Seen, Stands, Val};
use crate::card::depths::depth_is;
use crate::card::document::{Column, Figure, Part, Section, Value};
use crate::card::drawing::{Lookup, end_view};
use crate::card::values::{self, bare};
use crate::card::words::{Rank, Words};
use crate::mechanics::strobe::Round;
use crate::units::{Angle, Unit};
use crate::vocabulary::plane::{CorrectBy, Method};
use crate::vocabulary::{AnyFact, Choice, End, plane, readout, result, rotor};

/// Planes beside each other.
const BESIDE: usize = 2;

pub(super) fn sections(sheet: &Sheet<'_, '_>) -> Vec<Section> {
    let Some(rotor) = sheet.setup.rotor.as_deref() else { return Vec::new() };
    let mut shown = Shown::default();
    let planes: Vec<Section> = sheet
        .planes()
        .into_iter()
        .filter_map(|(name, channel)| Some(of_plane(sheet, rotor, (rotor.plane(name)?, channel), &mut shown)))
        .collect();
    let mut sections: Vec<Section> = planes
        .chunks(BESIDE)
        .map(|planes| {
            let column = |section: &Section| Column { share: 1.0, sections: vec![section.clone()] };
            Section::new("").part(Part::Columns(planes.iter().map(column).collect()))
        })
        .collect();
    if let Some(last) = sections.last_mut() {
        last.parts.push(Part::Text(seen(sheet, rotor, &shown)));
    }
    sections
}

/// What the planes have shown, as far as it has to be explained below them.
#[derive(Default)]
struct Shown {
    /// End views with what is read outside the circle, and with the rotor's own angles there.
    read: bool,
    angles: bool,
    opposite: bool,
}

fn of_plane(
    sheet: &Sheet<'_, '_>,
    rotor: &RotorResults<'_>,
    (plane, channel): (&PlaneResults<'_>, Option<&str>),
    shown: &mut Shown,
) -> Section {
    let title = Words::said("Plane ").state(plane.name);
    let title = match channel {
        Some(channel) => title.say(", read on ").state(channel),
        None => title,
    };
    let spot = spots(sheet, plane.name);
    let order = order(plane, &spot);
    shown.opposite |= order.plain().contains(OPPOSITE);
    let mut section = Section::new(title).part(Part::Text(order));
    let how = method(sheet, plane);
    if !how.is_empty() {
        section = section.text(how);
    }
    let entry = sheet.results().entry(&sheet.calibration(plane.name), &result::DIVISION_TABLE);
    // Nobody corrects by a table that does not say where.
    let is_told = spot.is_ok() && !sheet.setup.reads_extra_masses();
    let table = entry.filter(|_| is_told).and_then(|entry| table(sheet, plane, entry));
    if is_told && entry.is_none() && plane.method != Some(Method::SlidingWeights) {
        section.parts.extend(amount_missing(sheet, plane));
    }
    let lookup = spot.as_ref().ok().and_then(|spot| lookup(plane, spot.from_read?));
    let view =
        if is_drawn(rotor, plane) { end_view(rotor, plane, stands_at(sheet), lookup.as_ref()).ok() } else { None };
    let places = plane.has_numbers();
    shown.read |= view.is_some() && lookup.is_some();
    shown.angles |= view.is_some() && lookup.is_none() && places;
    let figure = view.map(|drawing| Figure { title: Words::default(), drawing, below: Vec::new() });
    match (table, figure) {
        // How angles count is not worth a second side.
        (Some(table), Some(_)) if table.heads.len() > 2 && lookup.is_none() && !tells(plane) => {
            section.part(Part::Table(table))
        }
        (Some(table), Some(figure)) => section.part(Part::Beside(table, figure)),
        (Some(table), None) => section.part(Part::Table(table)),
        (None, Some(figure)) => section.part(Part::Figures(vec![figure])),
        (None, None) => section,
    }
}

/// The end from which the technician reads the angle; `None` where the machine does not say.
fn stands_at(sheet: &Sheet<'_, '_>) -> Option<End> {
    sheet.setup.machine.as_ref()?.readout.as_ref()?.block.choice(readout::POINTER_SEEN_FROM)
}

fn tells(plane: &PlaneResults<'_>) -> bool {
    plane.places.is_some() || !book::barred(&plane.block).is_empty()
}

/// Where something stands that has to be found; else once, for how angles count.
fn is_drawn(rotor: &RotorResults<'_>, plane: &PlaneResults<'_>) -> bool {
    let is_first = rotor.planes.first().is_some_and(|first| first.name == plane.name);
    tells(plane) || (is_first && !rotor.planes.iter().any(tells))
}

/// Where the heavy spot stands.
struct Spot {
    heavy: Words,
    light: Words,
    /// So far on from the angle that is read, where one is, and how that counts.
    from_read: Option<(Angle, AngleRead)>,
}

/// What is read is not the rotor's own unbalance.
const WITH_EXTRA_MASSES: &str = "as `rotorbook balance` works it out: what is read has the extra masses in it";
/// Two planes read each other's masses: only both readings together tell what to do.
const BY_TRIALS: &str = "where the record shows, from the trial runs";

fn order(plane: &PlaneResults<'_>, spot: &Result<Spot, Words>) -> Words {
    let at = |words: Words| words.about(Rank::Places);
    let spot = match spot {
        Ok(spot) => spot,
        Err(why) => return never(Words::said("where is not computed, because ").with(why).say(".")),
    };
    if plane.method == Some(Method::SlidingWeights) {
        let words = at(Words::hand("SET THE WEIGHTS, their middle ")).with(&spot.light).say(".");
        return match plane.block.field(plane::WEIGHT_LENGTH) {
            Some(_) => words.say(" Their new angles depend on their present ones: `rotorbook balance` works them out."),
            None => words.say(" Where each goes is not computed: ").stress("`weight length` is missing").say("."),
        };
    }
    match plane.block.choice(plane::CORRECT) {
        Some(CorrectBy::Remove) => at(Words::hand("TAKE OFF ")).with(&spot.heavy).say("."),
        Some(CorrectBy::Add) => at(Words::hand("PUT ON ")).with(&spot.light).say("."),
        Some(CorrectBy::Either) => {
            at(Words::hand("TAKE OFF ")).with(&spot.heavy).say(", or ").set("PUT ON ").with(&spot.light).say(".")
        }
        None => never("the sheet does not say whether this plane adds or removes.".into()),
    }
}

fn never(why: Words) -> Words {
    Words::strong("Do not correct: ").with(&why).about(Rank::Speed)
}

/// Where the heavy spot and the light spot of a plane are to be found; else why nobody knows.
fn spots(sheet: &Sheet<'_, '_>, plane: &str) -> Result<Spot, Words> {
    let both = |words: &'static str| Ok(Spot { heavy: Words::said(words), light: Words::said(words), from_read: None });
    if sheet.is_by_trials() {
        return both(BY_TRIALS);
    }
    if sheet.setup.reads_extra_masses() {
        return both(WITH_EXTRA_MASSES);
    }
    if sheet.setup.is_on_stand() {
        let [heavy, light] = ["BELOW, where it comes to rest", "OPPOSITE, what holds it anywhere"].map(Words::hand);
        return Ok(Spot { heavy, light, from_read: None });
    }
    let Some(spot) = sheet.setup.heavy_spot(plane) else { return Err("the sheet does not read this plane".into()) };
    let known =
        |turn: &Val<Angle>| turn.known.clone().map_err(|missing| Words::stated(book::why(sheet.book, &missing)));
    match &spot.stands {
        Stands::NoAngle => both("where trial and error shows: the machine shows no angle"),
        Stands::ByTrials => both(BY_TRIALS),
        Stands::FromPointer(turn, read) => {
            let turn = known(turn)?;
            let (heavy, light) = match read {
                AngleRead::OfRotor => from_place(turn, "AT ", what_is_read(sheet)),
                AngleRead::CountedBack => {
                    let read = what_is_read(sheet);
                    (less_read(turn, read), less_read(turn + Angle::degrees(180.0), read))
                }
                AngleRead::Place => from_place(turn, "", "where the machine points"),
            };
            Ok(Spot { heavy, light, from_read: Some((turn, *read)) })
        }
        Stands::FromTwelve(turn) => {
            let (heavy, light) = on_from(known(turn)?, "the angle of the rotor at twelve o'clock");
            Ok(Spot { heavy, light, from_read: None })
        }
        Stands::Contradicted => Err("`indicates` and the calibration do not agree on where the heavy spot is".into()),
        Stands::Disproved => Err("the proof shows the heavy spot half a turn from where the sheet puts it".into()),
        Stands::Unsaid => {
            Err("the sheet does not say whether the machine points at the heavy spot or the light spot".into())
        }
        Stands::Missing(missing) => Err(Words::stated(book::why(sheet.book, missing))),
    }
}

/// What tells the rotor's own unbalance: on an arbor no run does by itself, for its reading is of rotor and arbor together.
fn what_is_read(sheet: &Sheet<'_, '_>) -> &'static str {
    if sheet.setup.is_told_by_half_sums() { "half the vector sum" } else { "what is read" }
}

/// Nobody sets a correction off finer, in degrees. Source: common practice, no source.
const SAME_SPOT: f64 = 5.0;

/// Both spots, seen from a place: at it, opposite, or so far on.
fn from_place(turn: Angle, at: &'static str, place: &'static str) -> (Words, Words) {
    let near = |angle: f64| (turn.in_degrees().abs() - angle).abs() <= SAME_SPOT;
    let [at, opposite] = [format!("{at}{place}"), format!("{OPPOSITE} {place}")].map(Words::hand);
    match (near(0.0), near(180.0)) {
        (true, _) => (at, opposite),
        (_, true) => (opposite, at),
        _ => on_from(turn, place),
    }
}

/// The readout counts against the rotor: what is read is taken from an angle of the rotor.
fn less_read(turn: Angle, read: &'static str) -> Words {
    let degrees = turn.within_one_turn().in_degrees().round();
    let degrees = if degrees == 0.0 { 360.0 } else { degrees };
    Words::hand(format!("AT {degrees} {} less {read}", Unit::DEGREE)).say(", because the readout counts the other way")
}

/// Both spots, so far on from a place.
fn on_from(turn: Angle, place: &'static str) -> (Words, Words) {
    let at = |turn: Angle| {
        let degrees = bare(turn.within_one_turn().in_radians(), Unit::DEGREE);
        Words::hand(degrees).say(" on from ").say(place).say(", as the angles of the rotor count")
    };
    (at(turn), at(turn + Angle::degrees(180.0)))
}

/// What is read where a place of the plane is the one to correct at.
fn lookup(plane: &PlaneResults<'_>, (turn, counts): (Angle, AngleRead)) -> Option<Lookup> {
    let places = plane.places.as_ref().filter(|places| places.numbered)?;
    let half = match plane.correct()? {
        CorrectBy::Remove => 0.0,
        CorrectBy::Add | CorrectBy::Either => 180.0,
    };
    let read = |angle: &Angle| counts.of(*angle - turn - Angle::degrees(half));
    let degrees = |read: Angle| format!("{:.0}", read.to_whole_degree().in_degrees());
    Some(Lookup(places.angles.iter().map(|angle| read(angle).map(degrees)).collect::<Option<_>>()?))
}

/// Facts of the method that a technician sets a tool by, with what is said before and after each.
const METHOD: [(AnyFact, &str, &str); 11] = [
    (plane::HOLE_DIAMETER.any(), "drill ", ""),
    (plane::DEPTH.any(), "", " deep"),
    (plane::DIRECTION.any(), "", ""),
    (plane::HOLE_SPACING_AT_LEAST.any(), "holes ", " apart"),
    (plane::HOLES_AT_MOST.any(), "at most ", ""),
    (plane::WIDTH.any(), "width ", ""),
    (plane::FULL_ARC.any(), "arc of ", ""),
    (plane::MASS_EACH.any(), "each piece ", ""),
    (plane::MOST_PER_PLACE.any(), "at most ", " a place"),
    (plane::BARRED.any(), "barred: ", ""),
    (plane::NOTE.any(), "", ""),
];

/// `drilling: drill 8 mm, up to 6 mm deep`
fn method(sheet: &Sheet<'_, '_>, plane: &PlaneResults<'_>) -> Words {
    let text = |block: &EffectiveBlock<'_>, fact: AnyFact| {
        block.field(fact).and_then(|field| values::text_of_fact(sheet.book, field))
    };
    let block = &plane.block;
    let further = |words: Words| if words.is_empty() { words } else { words.say("; ") };
    let mut words = plane.method.map_or_else(Words::default, |method| Words::said(method.words()));
    // Radial holes are as far apart at their bottoms, where no rule reaches: the table has the angle.
    let is_radial = plane.method.and_then(|method| plane.geometry.cut(method)) == Some(Cut::RadialHole);
    for (fact, before, after) in METHOD {
        if is_radial && fact == plane::HOLE_SPACING_AT_LEAST.any() {
            continue;
        }
        if let Some(value) = text(block, fact) {
            words = further(words).say(before).state(value).say(after);
            // A drill of another size is another tool in the hand.
            if fact == plane::HOLE_DIAMETER.any() {
                words = words.about(Rank::Places);
            }
        }
    }
    let words = match values::at_the_machine(sheet.book, &plane.radius) {
        Value::Text(radius) => further(words).say("radius ").state(radius.plain()).say("."),
        _ => words,
    };
    // Width and arc are said among the facts.
    match depth_is(plane).filter(|_| plane.method == Some(Method::Drilling)) {
        Some(depth) => words.say(" ").say(depth).say("."),
        None => words,
    }
}

const OPPOSITE: &str = "OPPOSITE";

/// What all end views have in common, and what their labels are.
fn seen(sheet: &Sheet<'_, '_>, rotor: &RotorResults<'_>, shown: &Shown) -> Words {
    let text = |fact: AnyFact| rotor.block.field(fact).and_then(|field| values::text_of_fact(sheet.book, field));
    let Ok(seen) = Seen::of(&rotor.block) else { return Words::default() };
    let seen = stands_at(sheet).map_or(seen, |from| seen.from_end(from));
    let way = if seen.turns == Round::Clockwise { "clockwise" } else { "anticlockwise" };
    let words = Words::said("Seen from the ").say(seen.from.words()).say(", turning ").say(way).about(Rank::Places);
    let words = words.say("; angles count ").state(text(rotor::ANGLES_COUNT.any()).unwrap_or_default());
    let words = words.say(" from the zero mark.");
    let words = if shown.opposite { words.say(" OPPOSITE is half a turn away.") } else { words };
    let may_be_either = |plane: &PlaneResults<'_>| plane.has_numbers() && plane.correct() == Some(CorrectBy::Either);
    let words = match (shown.read, shown.angles) {
        (true, false) => {
            let words = words.say(" Outside the circle: ").say(what_is_read(sheet));
            // Half a turn from the right place doubles what is to be corrected.
            match rotor.planes.iter().any(may_be_either) {
                false => words.say("; inside: its place."),
                true => words.say("; inside: the place to PUT ON at. To TAKE OFF, go half a turn on."),
            }
        }
        (false, true) => words.say(" Outside the circle: angles of the rotor, not what is read; inside: places."),
        _ => words,
    };
    match rotor.planes.iter().any(|plane| plane.places.is_some()) {
        true => {
            words.say(" Half-way: between two places. Fill from the middle out; other angles: `rotorbook balance`.")
        }
        false => words,
    }
}
