//! What is to be done now, at the size that is read across the bench.

use super::Sheet;
use super::left::{cuts, rest, too_much_left};
use super::runs::number;
use super::stop::{half_turn, stop};
use crate::book::{Entry, MadeCut, Outcome, PlaneResults, Reason, RecordResults, WorkResults};
use crate::card::depths::depth_is;
use crate::card::document::{Part, Section};
use crate::card::values::{bare, deep, made};
use crate::card::words::Words;
use crate::check::place_as_written;
use crate::units::{Amount, Angle, Length, Mass, Typed, Unit, plainly};
use crate::vocabulary::plane::Method;
use crate::vocabulary::{Of, ResultSpec, YesNo, correction, record, result, setup, trial};

pub(super) fn section(sheet: &Sheet<'_, '_>) -> Option<Section> {
    let record = sheet.record;
    let verdict = record.verdict.as_ref()?;
    let last = record.runs.len().checked_sub(1)?;
    let half_turn = half_turn(record);
    if verdict.verdict.is_good() && half_turn.is_none() {
        return None;
    }
    let title = Words::said("Next, from run ").say(number(last)).say(" ").state(record.runs[last].name);
    if record.last_state.is_empty() && record.work.is_empty() {
        return Some(
            Section::boxed("Now do")
                .part(Part::Far(Words::strong("RUN AGAIN")))
                .text("The corrections are written; no run follows them."),
        );
    }
    if let Some(why) = stop(record) {
        return Some(Section::boxed(title).part(Part::Far(Words::strong("STOP"))).text(Words::stated(why).say(".")));
    }
    if let Some(turn) = half_turn {
        let section = Section::boxed(title).part(Part::Far(Words::strong("TURN THE ROTOR HALF A TURN ON THE ARBOR")));
        return Some(section.text(turn.why()));
    }
    let section =
        wanted(record).into_iter().fold(Section::boxed(title), |section, work| in_plane(sheet, section, work));
    match section.parts.is_empty() {
        true if !record.work.is_empty() => Some(
            section.part(Part::Far(Words::strong("NOTHING TO CORRECT"))).text(
                "Less is read in each plane than it is known to: a correction would be by chance. The verdict says what to do.",
            ),
        ),
        true => Some(section.text(format!("Where to correct is not computed: {}.", why_not_told(record)))),
        false if record.work.iter().all(|work| work.is_by_amounts) => {
            Some(section.text("The trial runs give the angle, as the rotor was then."))
        }
        false => Some(counts_from(record).into_iter().fold(section, Section::text)),
    }
}

/// Whose mark the angles of an order count from, where there are two.
fn counts_from(record: &RecordResults<'_>) -> Option<&'static str> {
    let arbor = record.setup.as_deref()?.block.field(setup::ARBOR);
    arbor.map(|_| "Angles count from the zero mark of the rotor, not of the arbor.")
}

/// Why the last run does not give the unbalance of its planes with an angle.
fn why_not_told(record: &RecordResults<'_>) -> String {
    let trials = record.setup.as_deref().and_then(|setup| setup.trials.as_ref());
    let Some(as_found) = trials.and_then(|trials| trials.found.amount_as_found.as_ref()) else {
        return "the run does not give the unbalance of the planes with an angle".to_owned();
    };
    if record.block.choice(record::TRIAL_RUNS_OF_THIS_ROTOR) != Some(YesNo::Yes) {
        return format!(
            "trial runs without angles give it only for the rotor they were made with. Make them with this rotor; if they \
             were, write `{}: {}` in the record",
            record::TRIAL_RUNS_OF_THIS_ROTOR,
            YesNo::Yes
        );
    }
    let read = &as_found.read;
    let read = read.get().map_or_else(String::new, |amount| format!(" ({})", bare(amount.value(), read.unit)));
    format!(
        "the trial runs give it only while the rotor reads as in their run as found{read}; make them again with the \
         rotor as it is"
    )
}

/// What is to be done in one plane, in the words of the card and as the facts that a `correction` has when it was done so.
#[derive(Clone, Debug)]
pub struct CalledFor {
    pub plane: String,
    /// `DRILL 4.4 mm deep at 307 deg`
    pub order: String,
    /// What its depth is measured to, where it has one: `Depth at full diameter; the point goes 2.4 mm farther`
    pub depth_is: Option<String>,
    /// Whose mark its angles count from, where there are two.
    pub counts_from: Option<&'static str>,
    /// Whether mass is put on.
    pub adds: bool,
    /// The lines of each block that it takes; empty where they are not computed, and for weights that are turned.
    pub blocks: Vec<Vec<String>>,
    /// Where sliding weights go, weight 1 first.
    pub weights_to: Option<String>,
    /// Where they make the most of what they cannot reach.
    pub weights_nearest: Option<String>,
    /// Whether the order is to do nothing there.
    pub is_nothing: bool,
    /// Whether the plane is above its tolerance.
    pub is_over: bool,
}

/// What the last run of a record calls for, in the planes above their tolerance; in all planes where none is.
pub fn called_for(record: &RecordResults<'_>) -> Vec<CalledFor> {
    let works = wanted(record);
    works.into_iter().filter_map(|work| Some(of_work(record, plane_of(record, work)?, work))).collect()
}

fn of_work(record: &RecordResults<'_>, plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> CalledFor {
    CalledFor {
        plane: work.plane.to_owned(),
        order: order(plane, work),
        counts_from: counts_from(record),
        depth_is: if cuts(plane, work).is_empty() { None } else { depth_is(plane) },
        adds: work.adds,
        blocks: if work.weights_to.is_some() { Vec::new() } else { facts(plane, work) },
        weights_to: work.weights_to.clone().and_then(Result::ok),
        weights_nearest: work.weights_nearest.clone(),
        is_nothing: is_nothing(plane, work),
        is_over: is_over(record, work),
    }
}

/// Whether there is nothing to do in the plane that would be better than how it is.
fn is_nothing(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> bool {
    is_full(work) || is_left_as_it_is(work) || is_less_than_a_step(plane, work)
}

fn plane_of<'r, 'b>(record: &'r RecordResults<'b>, work: &WorkResults<'_>) -> Option<&'r PlaneResults<'b>> {
    record.setup.as_deref()?.rotor.as_deref()?.plane(work.plane)
}

fn is_over(record: &RecordResults<'_>, work: &WorkResults<'_>) -> bool {
    let tolerance = plane_of(record, work).and_then(|plane| plane.tolerance.get());
    let amount = work.unbalance.get().map(|unbalance| unbalance.amount());
    amount.zip(tolerance).is_none_or(|(amount, tolerance)| amount > tolerance)
}

/// Planes above their tolerance; where none is, all of them in which more is read than the verdict knows it to.
fn wanted<'s, 'b>(record: &'s RecordResults<'b>) -> Vec<&'s WorkResults<'b>> {
    let over: Vec<&WorkResults<'b>> = record.work.iter().filter(|work| is_over(record, work)).collect();
    if !over.is_empty() {
        return over;
    }
    let judged = record.verdict.iter().flat_map(|verdict| &verdict.judged);
    let known_to = judged.filter(|judged| judged.of != Of::Couple).filter_map(|judged| Some(judged.uncertainty?.raw()));
    let known_to = known_to.reduce(f64::min).unwrap_or(0.0);
    let is_known = |work: &&WorkResults<'b>| work.unbalance.get().is_none_or(|found| found.amount().base() > known_to);
    record.work.iter().filter(is_known).collect()
}

fn in_plane(sheet: &Sheet<'_, '_>, section: Section, work: &WorkResults<'_>) -> Section {
    let Some(plane) = plane_of(sheet.record, work) else { return section };
    let section = section.text(Words::said("Plane ").state(work.plane));
    let section = section.part(Part::Far(Words::strong(order(plane, work))));
    let why = work.unbalance.known.as_ref().err().map(|missing| &missing.reason);
    let section = match why {
        Some(Reason::Impossible(why) | Reason::Ambiguous(why)) => {
            section.text(Words::said("Because ").state(&**why).say("."))
        }
        _ => section,
    };
    let section = match too_much_left(plane, work) {
        Some(words) => section.part(Part::Text(words)),
        None => section,
    };
    match rest(plane, work) {
        words if words.is_empty() => section,
        words => section.text(words),
    }
}

/// Whether no cut of the order is as deep as a step, and none has a point.
fn is_less_than_a_step(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> bool {
    let cuts = cuts(plane, work);
    !cuts.is_empty() && cuts.iter().all(|one| one.cut.is_nothing())
}

/// Nobody does an order that leaves more than this share of what there is. Source: common practice, no source.
const FUTILE: f64 = 0.95;

/// Whether the plane takes nothing more of what is called for, or next to nothing.
pub(super) fn is_full(work: &WorkResults<'_>) -> bool {
    let has = |spec: &'static ResultSpec| work.made.iter().any(|entry| entry.is(spec));
    let left = work.not_reached.as_ref().and_then(|left| left.get()).zip(work.unbalance.get());
    let is_futile = left.is_some_and(|(left, found)| left.amount() > found.amount() * FUTILE);
    is_futile || has(&result::NOT_REACHED) && !has(&result::CORRECTION_PLACES) && !has(&result::CORRECTION_DEPTH)
}

const DRILL: &str = "DRILL";

/// `DRILL 4.4 mm deep at 307 deg`
fn order(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> String {
    let verb = match plane.method {
        Some(Method::Drilling) if !work.adds => DRILL,
        Some(Method::Milling) if !work.adds => "MILL",
        Some(Method::Grinding) if !work.adds => "GRIND",
        _ if work.adds => "PUT ON",
        _ => "TAKE OFF",
    };
    let (Some(mass), angle) = (work.mass.get(), angle_of(work)) else {
        return format!("{verb}: not computed");
    };
    let entry = |spec: &'static ResultSpec| work.made.iter().find(|entry| entry.is(spec));
    let mass_at = || format!("{} at {angle}", mass_text(mass.amount(), work.mass.unit));
    match &work.weights_to {
        Some(Ok(to)) => return turn_weights(to),
        Some(Err(why)) => {
            return format!(
                "TURN THE WEIGHTS to make {} more: where each goes is not computed, because {why}",
                mass_at()
            );
        }
        None => {}
    }
    if is_full(work) {
        return format!("{verb} NOTHING: the plane takes no more");
    }
    if is_less_than_a_step(plane, work) {
        return format!("{verb} NOTHING: it is less than a step of the depth");
    }
    if let Some(shares) = entry(&result::CORRECTION_PLACES).and_then(|entry| shares(plane, entry)) {
        return as_words(verb, &shares, (work.adds, each_of(plane)));
    }
    let depth = entry(&result::CORRECTION_DEPTH).map(|entry| match made_cut(plane, entry) {
        Some((cut, unit)) => deep(&cut, unit),
        None => "________ deep".to_owned(),
    });
    if depth.is_none() && is_left_as_it_is(work) {
        let why = match plane.method.is_some_and(Method::is_in_pieces) {
            true => "it is less than half a piece",
            false => "the point of the drill alone takes more than twice as much",
        };
        return format!("{verb} NOTHING: {why}");
    }
    let holes = entry(&result::CORRECTION_HOLES).and_then(|entry| match entry.outcome {
        Outcome::Count(holes) => Some(holes),
        _ => None,
    });
    match (holes, depth) {
        (Some(holes), Some(depth)) => format!("{verb} {holes} holes side by side, each {depth}, about {angle}"),
        (None, Some(depth)) => format!("{verb} {depth} at {angle}"),
        _ => format!("{} {}", if work.adds { "PUT ON" } else { "TAKE OFF" }, mass_at()),
    }
}

/// Whether no cut and no piece leaves less than there is: all of it is left.
fn is_left_as_it_is(work: &WorkResults<'_>) -> bool {
    let has = |spec: &'static ResultSpec| work.made.iter().any(|entry| entry.is(spec));
    let is_cut = has(&result::CORRECTION_DEPTH) || has(&result::CORRECTION_PLACES);
    has(&result::LEFT_BY_ROUNDING) && !is_cut
}

/// `TURN WEIGHT 1 TO 60 deg, WEIGHT 2 TO 300 deg` for `60 deg, 300 deg`
pub fn turn_weights(to: &str) -> String {
    let each: Vec<String> = (1..).zip(to.split(", ")).map(|(n, to)| format!("WEIGHT {n} TO {to}")).collect();
    format!("TURN {}", each.join(", "))
}

/// The sliding weights of which the run before the last one calls for others to be turned too, and where they go.
pub fn weights_called_for(record: &RecordResults<'_>) -> Vec<(String, String)> {
    let Some(before) = record.runs.len().checked_sub(2).and_then(|n| record.runs.get(n)) else { return Vec::new() };
    let Some(rotor) = record.setup.as_deref().and_then(|setup| setup.rotor.as_deref()) else { return Vec::new() };
    let is_over = |name: &str| {
        let tolerance = rotor.plane(name).and_then(|plane| plane.tolerance.get());
        let amount = before.plane(name).and_then(|found| found.own().amount().get());
        amount.zip(tolerance).is_none_or(|(amount, tolerance)| amount > tolerance)
    };
    let of_run = record.entries.iter().filter(|entry| entry.is(&result::WEIGHTS_TO) && entry.path == before.block.path);
    let words = |entry: &Entry| match (&entry.outcome, entry.of.as_ref().and_then(Of::plane)) {
        (Outcome::Words(to), Some(plane)) if is_over(plane) => Some((plane.to_owned(), to.to_string())),
        _ => None,
    };
    of_run.filter_map(words).collect()
}

/// `307 deg`
fn degrees(angle: Angle) -> String {
    format!("{:.0} {}", angle.to_whole_degree().in_degrees(), Unit::DEGREE)
}

pub(super) fn angle_of(work: &WorkResults<'_>) -> String {
    work.mass.get().map_or_else(String::new, |mass| degrees(mass.angle()))
}

/// In the unit that the shop shows masses in.
pub(super) fn mass_text(mass: Mass, unit: Unit) -> String {
    bare(mass.raw(), unit)
}

/// The one cut of a correction, with the unit of its depth.
pub(super) fn made_cut(plane: &PlaneResults<'_>, entry: &Entry) -> Option<(MadeCut, Unit)> {
    let Outcome::Amount { base, unit, .. } = entry.outcome else { return None };
    Some((plane.made(Length::from_base(base), unit, 1), unit))
}

/// What goes to one place or angle.
pub(super) struct Share<'e> {
    /// `place 7`, without a name an angle: `120 deg`
    place: String,
    /// The name of a place that has one.
    name: Option<&'e str>,
    angle: String,
    /// In radians.
    pub turn: f64,
    /// In base units; below zero one that is on comes off.
    mass: Option<f64>,
    unit: Unit,
    pub cut: Option<(MadeCut, Unit)>,
    /// How deep the cut is that gets deeper.
    from: Option<Length>,
}

impl Share<'_> {
    /// A place is where it is; an angle is set to a whole degree.
    pub fn said_at(&self) -> Angle {
        let angle = Angle::radians(self.turn);
        if self.name.is_some() { angle } else { angle.to_whole_degree() }
    }

    /// Whether the plane does there what it does, rather than undoing it.
    pub fn is_done(&self) -> bool {
        self.mass.is_none_or(|mass| mass > 0.0)
    }

    /// What is done there, in base units: a cut weighs what it does when it is made.
    fn done(&self) -> Option<f64> {
        let of_cut = self.cut.and_then(|(cut, _)| cut.mass).filter(|mass| *mass > Mass::ZERO);
        of_cut.map(Mass::raw).or(self.mass)
    }
}

pub(super) fn shares<'e>(plane: &PlaneResults<'_>, entry: &'e Entry) -> Option<Vec<Share<'e>>> {
    let Outcome::Table { heads, columns, rows } = &entry.outcome else { return None };
    let column = |name: &str| columns.iter().position(|column| column.name == name);
    let (turn, mass) = (column(correction::ANGLE.words())?, column(trial::MASS.words())?);
    let (depth, deeper) = (column(correction::DEPTH.words()), column(correction::DEEPER));
    let share = |(n, row): (usize, &Vec<Option<f64>>)| {
        let name = heads.get(n).map(|head| &*head.name);
        let angle = row[turn].map(|angle| degrees(Angle::from_base(angle)));
        let from = deeper.and_then(|n| Some(Length::from_base(row[depth?]? - row[n]?)));
        Some(Share {
            place: match name {
                Some(name) => format!("place {name}"),
                None => angle.clone()?,
            },
            name,
            angle: angle.unwrap_or_default(),
            turn: row[turn].unwrap_or_default(),
            mass: row[mass],
            unit: columns[mass].unit,
            cut: depth.and_then(|n| {
                let unit = columns[n].unit;
                let deep = Length::from_base(row[n]?);
                let made = match from {
                    Some(from) => plane.made_deeper(from, deep, unit, rows.len()),
                    None => plane.made(deep, unit, rows.len()),
                };
                Some((made, unit))
            }),
            from,
        })
    };
    let mut shares: Vec<Share<'_>> = rows.iter().enumerate().filter_map(share).collect();
    // Beside others, nobody mills what is less than a step of the depth; the point of a drill is more.
    let is_made = |share: &Share<'_>| share.cut.is_none_or(|(cut, _)| !cut.is_nothing());
    if shares.iter().any(is_made) {
        shares.retain(is_made);
    }
    (!shares.is_empty()).then_some(shares)
}

/// `GRIND 0.4 mm deeper at 332 deg, to 0.66 mm`, `DRILL the hole at 40 deg deeper, to 5.2 mm`,
/// `PUT ON 3.48 g at place 7, 2.82 g at place 8, TAKE OFF 1.66 g at place 3`
fn as_words(verb: &str, shares: &[Share<'_>], (adds, each): (bool, Option<(Mass, Unit)>)) -> String {
    let words = |share: &&Share<'_>| {
        if let (Some(from), Some((cut, unit))) = (share.from, share.cut) {
            let to = made(&cut, unit);
            return match verb {
                DRILL => format!("the hole at {} deeper, to {to}", share.place),
                _ => {
                    let by = made(&MadeCut { depth: cut.depth - from, ..cut }, unit);
                    format!("{by} deeper at {}, to {to}", share.place)
                }
            };
        }
        let mass = share.mass.map(f64::abs);
        let what = share.cut.map(|(cut, unit)| deep(&cut, unit));
        let what = what.or_else(|| pieces(mass, each)).unwrap_or_else(|| bare(mass.unwrap_or(0.0), share.unit));
        format!("{what} at {}", share.place)
    };
    let is_undone = |share: &&Share<'_>| share.mass.is_some_and(|mass| mass < 0.0);
    let (undone, done): (Vec<&Share<'_>>, Vec<&Share<'_>>) = shares.iter().partition(is_undone);
    let of = |verb: &str, shares: Vec<&Share<'_>>| {
        let words = shares.iter().map(words).collect::<Vec<_>>().join(", ");
        (!words.is_empty()).then(|| format!("{verb} {words}"))
    };
    let other = if adds { "TAKE OFF" } else { "PUT BACK" };
    [of(verb, done), of(other, undone)].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// The lines of each `correction` block by which it is written down once it is done.
fn facts(plane: &PlaneResults<'_>, work: &WorkResults<'_>) -> Vec<Vec<String>> {
    let entry = |spec: &'static ResultSpec| work.made.iter().find(|entry| entry.is(spec));
    let does = |adds: bool| if adds { correction::ADD.words() } else { correction::REMOVE.words() };
    let Some(mass) = work.mass.get().filter(|_| !is_nothing(plane, work)) else { return Vec::new() };
    let each = plane.geometry.mass_each.get();
    let whole = |mass: f64| each.map_or(mass, |each| (mass / each.raw()).round() * each.raw());
    if let Some(shares) = entry(&result::CORRECTION_PLACES).and_then(|entry| shares(plane, entry)) {
        let done =
            shares.iter().filter_map(|share| Some((share, whole(share.done()?)))).filter(|(_, mass)| *mass != 0.0);
        let adds = |mass: f64| work.adds == (mass > 0.0);
        // A cut has a depth of its own, which no line of a place holds.
        let (at_places, others): (Vec<_>, Vec<_>) =
            done.partition(|(share, _)| share.name.is_some() && share.cut.is_none());
        let line = |(share, mass): (&Share<'_>, f64)| {
            let name = place_as_written(share.name.unwrap_or_default());
            let fact = if adds(mass) { correction::ADD_PLACE } else { correction::REMOVE_PLACE };
            format!("{fact} {name}: {}", bare(mass.abs(), share.unit))
        };
        let block = |(share, mass): (&Share<'_>, f64)| {
            let angle =
                if share.name.is_some() { angle_of_place(Angle::radians(share.turn)) } else { share.angle.clone() };
            let mut lines = vec![
                format!("{}: {}", does(adds(mass)), bare(mass.abs(), share.unit)),
                format!("{}: {angle}", correction::ANGLE),
            ];
            lines.extend(share.cut.as_ref().and_then(depth_line));
            lines
        };
        let at_places: Vec<String> = at_places.into_iter().map(line).collect();
        let blocks = others.into_iter().map(block).chain([at_places]);
        return blocks.filter(|lines| !lines.is_empty()).collect();
    }
    let cut = entry(&result::CORRECTION_DEPTH).and_then(|entry| made_cut(plane, entry));
    let of_cut = cut.and_then(|(cut, _)| cut.mass).filter(|mass| *mass > Mass::ZERO);
    let mut lines = vec![
        format!("{}: {}", does(work.adds), mass_text(of_cut.unwrap_or(mass.amount()), work.mass.unit)),
        format!("{}: {}", correction::ANGLE, angle_of(work)),
    ];
    lines.extend(cut.as_ref().and_then(depth_line));
    vec![lines]
}

/// The angles of the numbered places of a plane, place 1 first: `22.5 deg`
pub fn angles_of_places(plane: &PlaneResults<'_>) -> Vec<String> {
    let places = plane.places.as_ref().map_or(&[][..], |places| &places.angles);
    places.iter().map(|angle| angle_of_place(*angle)).collect()
}

fn angle_of_place(angle: Angle) -> String {
    let degrees = Unit::DEGREE.from_base(angle.raw()).rem_euclid(360.0);
    format!("{} {}", plainly((degrees * 100.0).round() / 100.0), Unit::DEGREE)
}

/// `depth: 5.0 mm`; nothing where it is less than a step.
fn depth_line((cut, unit): &(MadeCut, Unit)) -> Option<String> {
    (!cut.is_point() && !cut.is_nothing()).then(|| format!("{}: {}", correction::DEPTH, made(cut, *unit)))
}

/// One of the pieces that a plane takes.
fn each_of(plane: &PlaneResults<'_>) -> Option<(Mass, Unit)> {
    let each = &plane.geometry.mass_each;
    Some((each.get()?, each.unit))
}

/// `3 × 1.35 g`
fn pieces(mass: Option<f64>, each: Option<(Mass, Unit)>) -> Option<String> {
    let (each, unit) = each?;
    let count = (mass? / each.raw()).round();
    (count >= 1.0).then(|| format!("{count:.0} × {}", mass_text(each, unit)))
}
